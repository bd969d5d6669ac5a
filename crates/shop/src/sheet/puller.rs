//! What turns the pressure of a model's supply into pull, as far as its sheet says.

/// Keys under `[supply]` that may be left out: without them no pressure is reckoned.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PullerFacts {
    /// Area that the oil pulls on, mm².
    pub area_mm2: Option<f64>,
    /// Oil pressure over air pressure, air-hydraulic only.
    pub ratio: Option<f64>,
    /// Share of the force lost to friction.
    pub friction: Option<f64>,
    /// Expanded uncertainty of that share.
    pub friction_expanded: Option<f64>,
    /// Where area and friction come from.
    pub source: Option<String>,
    /// Step to which hands set the pressure on its gauge, bar.
    pub gauge_step_bar: Option<f64>,
    /// Expanded uncertainty of that gauge, bar; left out, its step.
    pub gauge_expanded_bar: Option<f64>,
}
