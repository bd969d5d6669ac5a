//! The guard, tested from outside: through the router that it stands before.

mod assets;
mod forms;
mod headers;
mod hosts;
mod lan;
mod panics;
mod posts;
mod shop;
mod uploads;
mod who;
