//! The stack that a fastener joins, layer by layer.

use serde::{Deserialize, Serialize};

use super::Reading;

/// What a layer is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LayerKind {
    /// A plate or sheet.
    Plate,
    /// A washer.
    Washer,
    /// Paint, zinc, film.
    Coating,
    /// Seal or sealant.
    Seal,
    /// A gap that stays when clamped.
    Gap,
}

/// How a layer's thickness is known.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ThicknessRead {
    /// From the drawing, mm.
    Nominal {
        /// Thickness.
        thickness_mm: f64,
        /// Tolerance either side.
        tolerance_mm: f64,
    },
    /// Measured.
    Measured(Reading),
}

/// A layer of a stack.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct StackLayer {
    /// What it is.
    pub kind: LayerKind,
    /// How thick.
    pub thickness: ThicknessRead,
}

/// A stack as entered.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct StackRead {
    /// Layers, head side first.
    pub layers: Vec<StackLayer>,
    /// Whether the sheets were clamped tight while the pins were measured.
    #[serde(default)]
    pub clamped: bool,
}
