//! One mistake in a sheet file.

use calc::Message;
use calc::message::Arg;

/// A mistake in a sheet: where it stands, what is written there, what is allowed instead.
#[derive(Clone, Debug, PartialEq)]
pub struct Mistake {
    /// The file, as the reader was told.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// Dotted path of the key, such as `joint[adapter].torque_Nm`; empty for the whole file.
    pub key: String,
    /// The value as written, shortened; empty where nothing is written.
    pub value: String,
    /// What is allowed and what to do.
    pub problem: Message,
}

/// A number for a message, with no more decimals than it needs.
pub(super) fn plain(value: f64) -> Arg {
    let decimals = (0..4)
        .find(|d| {
            let scaled = value * 10f64.powi(*d);
            (scaled - scaled.round()).abs() < 1e-6
        })
        .unwrap_or(4);
    Arg::Number(value, decimals.unsigned_abs() as usize)
}
