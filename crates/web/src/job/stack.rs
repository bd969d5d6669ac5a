//! The stack under a fastener: its part of the forms, and how it is shown.

use calc::Message;
use calc::units::Unit;
use calc::working::fixed;
use maud::{Markup, html};
use shop::diagnosis::percent;
use shop::entry::{LayerKind, StackRead, ThicknessRead};
use shop::grip::{LayerIn, StackIn, Suits, code_for_stack, thickness, thickness_working};
use shop::job::TypedValue;
use shop::sheet::{FastenerFamily, GaugeKind};

use super::view::View;
use crate::forms::errors::reading_key;
use crate::forms::{FieldErrors, Typed, parse_number};
use crate::shell::{Choice, Field, Form};
use crate::show;

/// Layers that a form takes.
const LAYERS: usize = 4;
const GAUGES: [GaugeKind; 4] = [
    GaugeKind::Caliper,
    GaugeKind::Micrometer,
    GaugeKind::DepthGauge,
    GaugeKind::Feeler,
];
const KINDS: [(&str, LayerKind, &str); 5] = [
    ("plate", LayerKind::Plate, "layer-plate"),
    ("washer", LayerKind::Washer, "layer-washer"),
    ("coating", LayerKind::Coating, "layer-coating"),
    ("seal", LayerKind::Seal, "layer-seal"),
    ("gap", LayerKind::Gap, "layer-gap"),
];

/// The part of a form that takes a stack; it may stay closed.
pub fn fields(v: &View, form: &Form, name: &str) -> Markup {
    html! {
        details open[v.is_refused(name)] {
            summary { (v.t("stack-summary")) }
            p.hint { (v.t("stack-hint")) }
            @for i in 0..LAYERS {
                @let (kind, thick, tolerance) = (reading_key("layer_kind", i), reading_key("layer", i), reading_key("layer_tolerance", i));
                div.line {
                    (form.select(&Field::new(&kind, of_layer(v, "field-layer", i)), &kinds(v)))
                    (form.number(&Field::new(&thick, of_layer(v, "field-layer-thickness", i)).unit("mm").short()))
                    (form.number(&Field::new(&tolerance, of_layer(v, "field-layer-tolerance", i)).unit("mm").short()))
                }
            }
            (form.select(&Field::new("stack_gauge", v.t("field-stack-gauge")), &v.gauges(Unit::Millimetre, &GAUGES, None)))
        }
    }
}

/// The label of a field of layer `i`, from 0.
fn of_layer(v: &View, label: &'static str, i: usize) -> String {
    let label = Message {
        id: label,
        args: Vec::new(),
    };
    v.say(&label.with("n", i + 1))
}

fn kinds(v: &View) -> Vec<Choice> {
    let choice = |(key, _, text): &(&str, LayerKind, &str)| Choice::new(*key, v.t(text));
    KINDS.iter().map(choice).collect()
}

/// The stack that was typed.
pub fn parse(typed: &Typed, v: &View, errors: &mut FieldErrors) -> StackIn {
    let mut layers = Vec::new();
    for i in 0..LAYERS {
        let key = |name| reading_key(name, i);
        let (kind, thick, tolerance) = (key("layer_kind"), key("layer"), key("layer_tolerance"));
        if typed.filled(&thick).is_none() {
            if typed.filled(&kind).is_some() || typed.filled(&tolerance).is_some() {
                errors.add(thick, Message::new("refuse-layer-thickness"));
            }
            continue;
        }
        let mut value = |field: String, label: &'static str| {
            let raw = typed.raw(&field).to_owned();
            let value = errors.keep(
                &field,
                of_layer(v, label, i),
                parse_number(&raw, Unit::Millimetre),
            )?;
            Some(TypedValue { field, raw, value })
        };
        let thickness = value(thick, "field-layer-thickness");
        let has_tolerance = typed.filled(&tolerance).is_some();
        let tolerance = has_tolerance
            .then(|| value(tolerance, "field-layer-tolerance"))
            .flatten();
        let picked = KINDS.iter().find(|k| k.0 == typed.get(&kind));
        layers.extend(thickness.map(|thickness| LayerIn {
            kind: picked.map_or(LayerKind::Plate, |k| k.1),
            thickness,
            tolerance,
        }));
    }
    StackIn {
        layers,
        gauge: typed.get("stack_gauge").to_owned(),
        gauge_field: "stack_gauge".to_owned(),
    }
}

/// A stack as entered: its thickness, its layers, what it asks for.
pub fn shown(v: &View, stack: &StackRead, fastener: &FastenerFamily) -> Markup {
    let Some(sum) = thickness(stack) else {
        return html! {};
    };
    html! {
        p {
            (v.say(&Message::new("stack-is").number("mm", sum.value_mm, 2).number("doubt", sum.expanded_mm(), 2)))
            @if let Some(Suits::Code(code, p)) = code_for_stack(fastener, sum) {
                " " (v.say(&Message::new("stack-code").with("code", code.code.as_str()).with("chance", percent(p))))
            }
            " " small { (layers(v, stack)) }
        }
        @if let Some(working) = thickness_working(stack) { (show::working(v.p, &working)) }
    }
}

/// `plate 4.75 ± 0.20, washer 1.60 mm`.
fn layers(v: &View, stack: &StackRead) -> String {
    let layer = |kind: LayerKind, thickness: &ThicknessRead| {
        let name = KINDS.iter().find(|k| k.1 == kind);
        let name = name.map(|k| v.t(k.2)).unwrap_or_default();
        let (mm, doubt) = match thickness {
            ThicknessRead::Nominal {
                thickness_mm,
                tolerance_mm,
            } => (*thickness_mm, *tolerance_mm),
            ThicknessRead::Measured(r) => (r.value, r.expanded.unwrap_or(0.0)),
        };
        format!("{name} {} ± {} mm", fixed(mm, 2), fixed(doubt, 2))
    };
    let layers = stack.layers.iter().map(|l| layer(l.kind, &l.thickness));
    layers.collect::<Vec<_>>().join(", ")
}
