//! `torque-adapter`

use calc::torque_adapter::{Adapter, METHOD, setting, working};
use calc::working::{Method, Working};

use crate::MethodError;
use crate::card::Contract;
use crate::shape::{NotNegative, Positive, contract};

contract! {
    /// A wrench with an adapter.
    struct Input {
        /// Torque that the fastener must get.
        torque_Nm: Positive,
        /// Wrench, middle of its drive to middle of the grip.
        wrench_mm: Positive,
        /// Adapter, middle of the wrench's drive to middle of the fastener.
        adapter_mm: NotNegative,
        /// Angle between adapter and wrench: 0 in line, 180 folded back.
        angle_deg: f64 = 0.0,
    }
}

contract! {
    /// What to set.
    struct Output {
        /// Setting of the wrench.
        setting_Nm: f64,
    }
}

/// The contract.
pub(crate) struct TorqueAdapter;

impl Contract for TorqueAdapter {
    const METHOD: Method = METHOD;
    const SUMMARY: &'static str = "method-torque-adapter";
    const FORMULA: &'static str = "T_set = T · L / (L + E · cos φ)";
    const NAMES: &'static [(&'static str, &'static str)] = &[
        ("T", "torque_Nm"),
        ("L", "wrench_mm"),
        ("E", "adapter_mm"),
        ("φ", "angle_deg"),
    ];
    type In = Input;
    type Out = Output;

    fn compute(input: &Input) -> Result<(Output, Option<Working>), MethodError> {
        let torque = input.torque_Nm.0;
        let adapter = Adapter {
            arm_mm: input.wrench_mm.0,
            offset_mm: input.adapter_mm.0,
            angle_deg: input.angle_deg,
        };
        let out = Output {
            setting_Nm: setting(torque, adapter)?,
        };
        Ok((out, Some(working(torque, adapter)?)))
    }
}
