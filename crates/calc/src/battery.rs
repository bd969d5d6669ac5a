//! The energy in a battery pack, and how many pulls it is good for.
//!
//! # Formula
//! E = U · C, in Wh. Pulls = ⌊E · usable share · 3600 · efficiency / energy of a pull⌋.
//!
//! # Validity
//! Nominal voltage and capacity of a sound pack at room temperature.
//!
//! # Source
//! Definition of the watt-hour; threshold of 100 Wh for packs: UN Model Regulations, special provision 188.

use crate::Message;
use crate::error::{CalcError, within};
use crate::working::{Method, Working};

/// Energy.
pub const ENERGY: Method = Method {
    name: "battery-energy",
    version: 1,
    source: "definition of the watt-hour; UN Model Regulations, special provision 188 (100 Wh)",
};

/// Pulls per charge.
pub const PULLS: Method = Method {
    name: "battery-pulls",
    version: 1,
    source: "balance of energy",
};

/// Packs of more than this are carried under other rules.
pub const CARRIAGE_LIMIT_WH: f64 = 100.0;

/// The energy of a pack, Wh.
///
/// # Errors
/// A voltage or capacity that is not above 0.
pub fn energy_wh(voltage_v: f64, capacity_ah: f64) -> Result<f64, CalcError> {
    let voltage = within("U", voltage_v, 1e-6, 1e6)?;
    let capacity = within("C", capacity_ah, 1e-6, 1e6)?;
    Ok(voltage * capacity)
}

/// How a charge is spent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Use {
    /// Share of the charge that the tool takes out.
    pub usable: f64,
    /// Share that reaches the fastener.
    pub efficiency: f64,
    /// Energy of one pull, J.
    pub pull_j: f64,
}

/// Whole pulls out of `energy_wh`.
///
/// # Errors
/// An energy that is not above 0, a share outside 0 to 1.
pub fn pulls(energy_wh: f64, spent: Use) -> Result<u64, CalcError> {
    let energy = within("E", energy_wh, 1e-6, 1e12)?;
    let usable = within("a", spent.usable, 0.0, 1.0)?;
    let efficiency = within("η", spent.efficiency, 0.0, 1.0)?;
    let pull = within("W", spent.pull_j, 1e-6, 1e12)?;
    Ok((energy * usable * 3600.0 * efficiency / pull * (1.0 + 1e-12)).floor() as u64)
}

/// The working of [`pulls`].
///
/// # Errors
/// As [`energy_wh`] and [`pulls`].
pub fn working(voltage_v: f64, capacity_ah: f64, spent: Use) -> Result<Working, CalcError> {
    let energy = energy_wh(voltage_v, capacity_ah)?;
    let n = pulls(energy, spent)?;
    Ok(Working::new(PULLS)
        .given("U", Message::new("given-voltage"), voltage_v, 1, "V")
        .given("C", Message::new("given-capacity"), capacity_ah, 2, "Ah")
        .given("a", Message::new("given-usable"), spent.usable, 2, "")
        .given(
            "η",
            Message::new("given-efficiency"),
            spent.efficiency,
            2,
            "",
        )
        .given("W", Message::new("given-pull-energy"), spent.pull_j, 0, "J")
        .step("E", "U · C", energy, 1, "Wh")
        .step("n", "⌊E · a · 3600 · η / W⌋", n as f64, 0, ""))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn packs_and_pulls() {
        // Wh = V · Ah; 18 V 5 Ah is 90 Wh. Pulls: balance of energy, recomputed.
        let energy = energy_wh(18.0, 5.0).expect("good");
        assert_eq!(energy, 90.0);
        let spent = Use {
            usable: 0.85,
            efficiency: 0.55,
            pull_j: 520.0,
        };
        assert_eq!(pulls(energy, spent), Ok(291));
    }

    #[test]
    fn refusals() {
        let spent = Use {
            usable: 0.85,
            efficiency: 0.55,
            pull_j: 520.0,
        };
        assert!(energy_wh(0.0, 5.0).is_err());
        assert!(energy_wh(18.0, f64::NAN).is_err());
        assert!(pulls(f64::INFINITY, spent).is_err());
        for bad in [
            Use {
                usable: 1.1,
                ..spent
            },
            Use {
                efficiency: -0.1,
                ..spent
            },
            Use {
                pull_j: 0.0,
                ..spent
            },
        ] {
            assert!(pulls(90.0, bad).is_err(), "{bad:?}");
            assert!(working(18.0, 5.0, bad).is_err());
        }
    }
}
