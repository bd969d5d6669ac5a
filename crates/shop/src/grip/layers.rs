//! A stack as typed, read into what is recorded.

use calc::Message;
use calc::decision::Limits;
use calc::units::Unit;

use crate::entry::{LayerKind, StackLayer, StackRead, ThicknessRead};
use crate::inches::{self, EXACT};
use crate::job::{Desk, Measured, Refusal, Refusals, TypedValue, refuse};
use crate::sheet::{FastenerFamily, GaugeKind};

/// Gauges that measure a thickness.
const THICKNESS_GAUGES: [GaugeKind; 4] = [
    GaugeKind::Caliper,
    GaugeKind::Micrometer,
    GaugeKind::DepthGauge,
    GaugeKind::Feeler,
];
/// No layer under a hand-held tool is thicker, mm.
const THICKEST_MM: f64 = 200.0;

/// A layer, as typed.
#[derive(Clone, Debug, PartialEq)]
pub struct LayerIn {
    /// What it is.
    pub kind: LayerKind,
    /// Thickness, mm.
    pub thickness: TypedValue,
    /// Tolerance either side, where it comes from a drawing; else it was measured.
    pub tolerance: Option<TypedValue>,
}

/// A stack, as typed; without layers where none was entered.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StackIn {
    /// Layers.
    pub layers: Vec<LayerIn>,
    /// Gauge sheet id, for those that were measured.
    pub gauge: String,
    /// Name of the gauge field.
    pub gauge_field: String,
}

impl StackIn {
    /// The stack as recorded; `None` where none was entered.
    ///
    /// # Errors
    /// Each layer that cannot be, at its field; a stack that no code of `fastener` is made for.
    pub(crate) fn read(
        &self,
        fastener: &FastenerFamily,
        desk: &Desk,
    ) -> Result<Option<StackRead>, Refusals> {
        let mut refusals = Refusals::new();
        let mut layers = Vec::new();
        for layer in &self.layers {
            match self.layer(layer, desk) {
                Ok(thickness) => layers.push(StackLayer {
                    kind: layer.kind,
                    thickness,
                }),
                Err(more) => {
                    for refusal in more {
                        if !refusals.contains(&refusal) {
                            refusals.push(refusal);
                        }
                    }
                }
            }
        }
        let (Some(first), true) = (self.layers.first(), refusals.is_empty()) else {
            return if refusals.is_empty() {
                Ok(None)
            } else {
                Err(refusals)
            };
        };
        let stack = StackRead {
            layers,
            clamped: false,
        };
        match self.no_code(first, &stack, fastener) {
            Some(refusal) => Err(vec![refusal]),
            None => Ok(Some(stack)),
        }
    }

    fn layer(&self, layer: &LayerIn, desk: &Desk) -> Result<ThicknessRead, Refusals> {
        let typed = &layer.thickness;
        if !(typed.value > 0.0 && typed.value <= THICKEST_MM) {
            let message = Message::new("refuse-layer-range")
                .number("value", typed.value, 2)
                .number("max", THICKEST_MM, 0);
            return Err(vec![refuse(&typed.field, message)]);
        }
        let Some(tolerance) = &layer.tolerance else {
            return self.measured(typed, desk);
        };
        if !(0.0..typed.value).contains(&tolerance.value) {
            let message = Message::new("refuse-layer-tolerance")
                .number("value", tolerance.value, 2)
                .number("max", typed.value, 2);
            return Err(vec![refuse(&tolerance.field, message)]);
        }
        Ok(ThicknessRead::Nominal {
            thickness_mm: typed.value,
            tolerance_mm: tolerance.value,
        })
    }

    fn measured(&self, typed: &TypedValue, desk: &Desk) -> Result<ThicknessRead, Refusals> {
        if self.gauge.is_empty() {
            let message = Message::new("refuse-layer-source");
            return Err(vec![refuse(&self.gauge_field, message)]);
        }
        let measured = Measured {
            gauge: self.gauge.clone(),
            gauge_field: self.gauge_field.clone(),
            values: vec![typed.clone()],
        };
        let readings = desk.readings(&measured, Unit::Millimetre, &THICKNESS_GAUGES)?;
        let reading = readings.into_iter().next();
        match reading {
            Some(reading) if reading.is_evidence() => Ok(ThicknessRead::Measured(reading)),
            stale => {
                let gauge = stale.as_ref().and_then(|r| desk.gauge_of(r));
                let name = gauge.map_or(self.gauge.as_str(), |g| g.name.as_str());
                let message = Message::new("refuse-stack-gauge-stale").with("gauge", name);
                Err(vec![refuse(&self.gauge_field, message)])
            }
        }
    }

    /// A refusal of a stack that no code is made for, inches typed as millimetres among them.
    fn no_code(
        &self,
        first: &LayerIn,
        stack: &StackRead,
        fastener: &FastenerFamily,
    ) -> Option<Refusal> {
        let thickness = super::thickness(stack)?;
        let suits = super::code_for_stack(fastener, thickness)?;
        let super::Suits::NoCode(..) = suits else {
            return None;
        };
        let (thinnest, thickest) = (fastener.codes.first()?, fastener.codes.last()?);
        let whole = TypedValue {
            value: thickness.value_mm,
            ..first.thickness.clone()
        };
        let grips = Limits::new(Some(thinnest.min_mm), Some(thickest.max_mm)).ok();
        let in_inches = grips.and_then(|grips| inches::refused(&whole, &grips, EXACT));
        Some(in_inches.unwrap_or_else(|| {
            let message = super::suits::no_answer(Some(&suits), thickness);
            refuse(&whole.field, message)
        }))
    }
}
