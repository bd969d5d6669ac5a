//! `torque-tool-deviation`

use calc::torque_tool::{Convention, METHOD, deviation_pct, limit_pct, working};
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{Positive, choices, contract};

choices! {
    /// What a deviation is a share of.
    enum Base of Convention {
        "reference" => Convention::Reference,
        "nominal" => Convention::Nominal,
    }
}

contract! {
    /// A torque tool and readings of it.
    struct Input {
        /// What the tool was set to, or its nominal torque.
        set_Nm: Positive,
        /// What the reference read at that setting, or what was measured.
        readings_Nm: Vec<Positive>,
        /// (set − reference) / reference, as for setting tools, or (measured − nominal) / nominal.
        base: Base = Base(Convention::Reference),
        /// Largest deviation allowed; without it 6 % up to 10 N·m and 4 % above.
        limit_pct: Option<Positive>,
    }
}

contract! {
    /// How far off it is.
    struct Output {
        /// Deviation of each reading.
        deviations_pct: Vec<f64>,
        /// Largest deviation allowed.
        limit_pct: f64,
        /// Whether each reading keeps it.
        within: Vec<bool>,
    }
}

/// The contract.
pub(crate) struct TorqueToolDeviation;

impl Contract for TorqueToolDeviation {
    const METHOD: Method = METHOD;
    const SUMMARY: &'static str = "method-torque-tool-deviation";
    const FORMULA: &'static str = "a = (X_a − X_r) / X_r · 100, or (x − N) / N · 100";
    const NAMES: &'static [(&'static str, &'static str)] =
        &[("X_a", "set_Nm"), ("X_r", "readings_Nm")];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let set = input.set_Nm.0;
        let limit = input.limit_pct.map_or(limit_pct(set), |l| l.0);
        let of = |r: &Positive| deviation_pct(set, r.0, input.base.0);
        let deviations = input.readings_Nm.iter().map(of);
        let deviations_pct = deviations.collect::<Result<Vec<f64>, _>>()?;
        let out = Output {
            within: deviations_pct.iter().map(|d| d.abs() <= limit).collect(),
            deviations_pct,
            limit_pct: limit,
        };
        let readings: Vec<f64> = input.readings_Nm.iter().map(|r| r.0).collect();
        Ok((out, working(set, &readings, input.base.0, limit)))
    }
}
