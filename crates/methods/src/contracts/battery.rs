//! `battery-energy`, `battery-pulls`

use calc::battery::{self, CARRIAGE_LIMIT_WH, ENERGY, PULLS, Use};
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{Positive, Share, contract};

contract! {
    /// A battery pack.
    struct EnergyInput {
        /// Nominal voltage.
        voltage_V: Positive,
        /// Capacity.
        capacity_Ah: Positive,
    }
}

contract! {
    /// What it holds.
    struct EnergyOutput {
        /// Energy.
        energy_Wh: f64,
        /// Whether it is over 100 Wh, from where other carriage rules hold.
        over_100_Wh: bool,
    }
}

/// The contract.
pub(crate) struct BatteryEnergy;

impl Contract for BatteryEnergy {
    const METHOD: Method = ENERGY;
    const SUMMARY: &'static str = "method-battery-energy";
    const FORMULA: &'static str = "E = U · C";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("U", "voltage_V"), ("C", "capacity_Ah")];
    type In = EnergyInput;
    type Out = EnergyOutput;

    fn compute(input: &EnergyInput) -> Result<(EnergyOutput, Option<Working>), MethodError> {
        let energy = battery::energy_wh(input.voltage_V.0, input.capacity_Ah.0)?;
        let out = EnergyOutput {
            energy_Wh: energy,
            over_100_Wh: energy > CARRIAGE_LIMIT_WH,
        };
        Ok((out, None))
    }
}

contract! {
    /// A battery pack and how its charge is spent.
    struct PullsInput {
        /// Nominal voltage.
        voltage_V: Positive,
        /// Capacity.
        capacity_Ah: Positive,
        /// Share of the charge that the tool takes out.
        usable: Share,
        /// Share of that which reaches the fastener.
        efficiency: Share,
        /// Energy of one pull.
        pull_J: Positive,
    }
}

contract! {
    /// What a charge is good for.
    struct PullsOutput {
        /// Whole pulls.
        pulls: u64,
    }
}

/// The contract.
pub(crate) struct BatteryPulls;

impl Contract for BatteryPulls {
    const METHOD: Method = PULLS;
    const SUMMARY: &'static str = "method-battery-pulls";
    const FORMULA: &'static str = "n = ⌊U · C · a · 3600 · η / W⌋";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("U", "voltage_V"),
        ("C", "capacity_Ah"),
        // A pack's energy out of bounds comes from a capacity that no pack has.
        ("E", "capacity_Ah"),
        ("a", "usable"),
        ("η", "efficiency"),
        ("W", "pull_J"),
    ];
    type In = PullsInput;
    type Out = PullsOutput;

    fn compute(input: &PullsInput) -> Result<(PullsOutput, Option<Working>), MethodError> {
        let (voltage, capacity) = (input.voltage_V.0, input.capacity_Ah.0);
        let spent = Use {
            usable: input.usable.0,
            efficiency: input.efficiency.0,
            pull_j: input.pull_J.0,
        };
        let pulls = battery::pulls(battery::energy_wh(voltage, capacity)?, spent)?;
        let working = battery::working(voltage, capacity, spent)?;
        Ok((PullsOutput { pulls }, Some(working)))
    }
}
