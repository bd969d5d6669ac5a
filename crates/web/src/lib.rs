//! The pages of the program and their guard.
//!
//! Handlers are thin: read the form, call the shop, save, show. Pages work without JavaScript.

pub mod assets;
pub mod forms;
pub mod security;
pub mod shell;
