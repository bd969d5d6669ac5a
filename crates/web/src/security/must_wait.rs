//! That an address has sent too much of late.

use std::time::Duration;

/// How long the sender must wait; `None` if it need not.
#[derive(Clone, Copy, Debug)]
pub(crate) struct MustWait(pub(crate) Option<Duration>);
