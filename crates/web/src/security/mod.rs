//! Who may ask for what: every request passes here first, every answer last.

mod attempts;
mod cookies;
mod door;
mod guard;
mod headers;
mod hosts;
mod last_setup;
mod login;
mod must_wait;
mod posts;
mod protect;
mod token;
mod upload;
mod visitor;
mod who;

pub use door::{PassphraseError, hash_passphrase};
pub use guard::Guard;
pub(crate) use last_setup::{keep_setup, last_setup};
pub(crate) use must_wait::MustWait;
pub use protect::protect;
pub use token::fresh_secret;
pub(crate) use upload::UPLOAD_LIMIT;
pub use visitor::Visitor;
