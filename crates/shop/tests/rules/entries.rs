//! Entries as stored: every kind reads back, old lines stay readable, what is new is refused.

use std::collections::BTreeSet;

use proptest::prelude::*;
use rust_decimal::Decimal;
use serde_json::Value;
use shop::entry::{
    Body, CalibrationUsed, Discount, EstimateMade, Outcome, OwnAdjuster, PastSetUp, PinRecord,
    PriceLine, Reading, Seen, StepDone, StickOutRead, SymptomsNoted, TrialJointRead,
};

const STORED: &str = include_str!("entries.txt");

pub fn stored() -> impl Iterator<Item = (&'static str, &'static str)> {
    STORED
        .lines()
        .filter(|line| !line.starts_with('#'))
        .map(|line| line.split_once(' ').expect("kind and body"))
}

#[test]
fn a_stored_line_of_each_kind_reads_and_is_written_the_same() {
    let kinds: BTreeSet<&str> = stored().map(|(kind, _)| kind).collect();
    assert_eq!(kinds, Body::KINDS.iter().copied().collect());
    for (kind, json) in stored() {
        let body = Body::from_json(kind, 1, json).unwrap_or_else(|e| panic!("{e}"));
        assert_eq!(body.kind(), kind);
        let value = |json: &str| serde_json::from_str::<Value>(json).expect("JSON");
        assert_eq!(
            as_today(kind, value(json)),
            value(&body.to_json()),
            "{kind}"
        );
        assert_eq!(
            Body::from_json(kind, body.schema(), &body.to_json()),
            Ok(body)
        );
    }
}

/// A stored body with the fields that this program writes and older ones did not.
fn as_today(kind: &str, mut body: Value) -> Value {
    let ticked = [
        "fitted",
        "trial-joint-read",
        "set-up-signed-off",
        "check-answered",
    ];
    if let (true, Value::Object(fields)) = (ticked.contains(&kind), &mut body) {
        fields
            .entry("made_safe")
            .or_insert_with(|| Value::Array(Vec::new()));
    }
    if let Value::Object(fields) = &mut body {
        if kind == "set-up-signed-off" {
            fields.entry("inside").or_insert(Value::Null);
            fields.entry("method").or_insert_with(|| "".into());
        }
        if kind == "stick-out-read" {
            fields.entry("own").or_insert(Value::Null);
            fields.entry("clamped").or_insert(Value::Bool(false));
        }
        if kind == "crew-joints-sent" {
            fields.entry("bad").or_insert(Value::Bool(false));
            fields.entry("seen").or_insert(Value::Null);
        }
    }
    body
}

/// Objects in `json` that are readings: with a gauge and what was typed.
fn readings_in(json: &Value) -> usize {
    match json {
        Value::Object(fields) if fields.contains_key("gauge") && fields.contains_key("raw") => 1,
        Value::Object(fields) => fields.values().map(readings_in).sum(),
        Value::Array(all) => all.iter().map(readings_in).sum(),
        _ => 0,
    }
}

#[test]
fn every_reading_of_an_entry_is_found_when_its_gauge_fails() {
    let (mut found, mut found_of_rigs) = (0, 0);
    for (kind, json) in stored() {
        // What a crew sent names no gauge of the shop's own.
        if kind == "crew-joints-sent" {
            continue;
        }
        let body = Body::from_json(kind, 1, json).unwrap_or_else(|e| panic!("{e}"));
        let value: Value = serde_json::from_str(json).expect("JSON");
        assert_eq!(body.readings().len(), readings_in(&value), "{kind} {json}");
        found += body.readings().len();
        // What a rig recorded falls with its load cell, or its displacement sensor.
        let named = value.get("gauges").and_then(Value::as_array);
        for gauge in named.into_iter().flatten() {
            let taken = body.taken();
            let by = taken.iter().filter(|t| gauge["id"] == *t.gauge.id);
            assert!(by.count() > 0, "{gauge} of {json}");
            found_of_rigs += 1;
        }
        let behind_readings = body.readings().len();
        assert!(body.taken().len() >= behind_readings, "{kind} {json}");
    }
    assert!(found > 5 && found_of_rigs > 1);
}

#[test]
fn a_field_that_is_missing_is_told() {
    for (kind, json) in stored() {
        let Ok(Value::Object(fields)) = serde_json::from_str(json) else {
            panic!("{json}");
        };
        for name in fields.keys() {
            let mut without = fields.clone();
            // What may be empty may be left out.
            if without.remove(name).is_none_or(|v| v.is_null()) || optional(kind, name) {
                continue;
            }
            let json = Value::Object(without).to_string();
            let told = Body::from_json(kind, 1, &json).expect_err(name);
            assert!(
                told.contains(kind) && told.contains(name.as_str()),
                "{told}"
            );
        }
    }
}

/// Fields that hold nothing in some entries.
fn optional(kind: &str, name: &str) -> bool {
    matches!(
        (kind, name),
        (
            _,
            "counter"
                | "sold"
                | "first_used"
                | "due"
                | "probability"
                | "value"
                | "expanded"
                | "turns"
        ) | (
            "step-done",
            "reading" | "outcome" | "adapter" | "redone" | "overridden" | "minutes"
        ) | ("route-planned", "also")
            | ("cause-confirmed", "handed")
            | ("counts-reset", "number")
            | ("energy-cleared", "signs")
            | ("file-attached", "step")
            | ("pulls-read", "rig" | "fastener" | "band" | "outcome")
            | (
                "stick-out-read",
                "stroke_mm" | "set_turns" | "expanded_turns" | "own" | "clamped"
            )
            | ("set-up-signed-off", "inside" | "method")
            | ("crew-joints-sent", "measured_mm" | "bad" | "seen" | "given")
            | (
                "estimate-made",
                "revision" | "tax_rule" | "options" | "discount" | "valid_until"
            )
            | (
                "warranty-judged",
                "entry" | "lines" | "voided" | "at_hand" | "without" | "without_reason"
            )
            | ("returned", "end")
            | ("gauge-calibrated", "found" | "ways" | "file")
            | ("gauge-studied", "range_pct" | "categories")
            | (
                "certificate-issued",
                "approver"
                    | "replaces"
                    | "changed"
                    | "pulls"
                    | "prepared"
                    | "paper"
                    | "in_doubt"
                    | "doubt_reason"
            )
            | (
                "customer-answered",
                "revision" | "options" | "way" | "to" | "at"
            )
            | (
                "fitted" | "trial-joint-read" | "set-up-signed-off" | "check-answered",
                "made_safe"
            )
    )
}

#[test]
fn what_this_program_does_not_know_is_refused() {
    for (kind, json) in stored() {
        for schema in [0, 2, u32::MAX] {
            let told = Body::from_json(kind, schema, json).expect_err("a schema not known");
            assert!(told.contains("schema"), "{told}");
        }
    }
    assert!(Body::from_json("sung", 1, "{}").is_err());
    for broken in ["", "{", "[]", "null", "{\"down_to\":3}"] {
        assert!(
            Body::from_json("route-planned", 1, broken).is_err(),
            "{broken}"
        );
    }
}

fn reading() -> impl Strategy<Value = Reading> {
    (-1e4..1e4f64, ".{0,12}", 1..9u32, any::<bool>()).prop_map(|(value, raw, revision, in_date)| {
        Reading {
            value,
            unit: "mm".to_owned(),
            raw,
            gauge: PinRecord {
                id: "c-3".to_owned(),
                revision,
            },
            expanded: None,
            in_date,
            calibration: in_date.then_some(CalibrationUsed {
                number: revision,
                indicated: value,
                deviation: (value > 0.0).then_some(value),
            }),
            way: None,
            difference: false,
            from_rest: false,
            beyond: false,
        }
    })
}

fn body() -> impl Strategy<Value = Body> {
    let text = || ".{0,20}";
    let lines = prop::collection::vec((text(), 1..1_000_000i64, 0..1_000_000_000i64), 0..4);
    prop_oneof![
        (prop::option::of(reading()), text()).prop_map(|(reading, reason)| {
            StepDone {
                others: Vec::new(),
                step: "tighten-nose".to_owned(),
                outcome: reading.as_ref().map(|_| Outcome::Undecided),
                reading,
                reason,
                note: String::new(),
                adapter: None,
                redone: String::new(),
                overridden: None,
                mended: Vec::new(),
                minutes: None,
            }
            .into()
        }),
        (prop::collection::vec(reading(), 0..5), any::<f64>()).prop_map(|(readings, x)| {
            let finite = Some(x).filter(|x| x.is_finite());
            StickOutRead {
                readings,
                stroke_mm: None,
                mean_mm: finite,
                expanded_mm: finite,
                turns: finite,
                set_turns: None,
                expanded_turns: finite,
                own: finite.map(|x| OwnAdjuster {
                    offset_mm: x,
                    offset_sd_mm: 0.2,
                    turns: x,
                    set_turns: 6.5,
                    expanded_turns: 0.3,
                    past: vec![PastSetUp {
                        turns_off: x,
                        value_off_mm: 0.1,
                        joints: 3,
                    }],
                    method: String::new(),
                }),
                past_left_out: usize::from(finite.is_some()),
                past_not_in_table: usize::from(finite.is_some()),
                past_odd: 0,
                in_band: false,
                stack: None,
                clamped: true,
                method: String::new(),
            }
            .into()
        }),
        (0.0..20.0f64, text()).prop_map(|(turns, note)| {
            TrialJointRead {
                turns: Some(turns),
                pressure_bar: (turns > 10.0).then_some(turns),
                pressure: None,
                made_safe: vec!["pack-out".to_owned()],
                readings: Vec::new(),
                seen: Seen::Good,
                outcome: Outcome::Accept,
                method: String::new(),
                note,
            }
            .into()
        }),
        lines.prop_map(|lines| {
            EstimateMade {
                lines: lines
                    .into_iter()
                    .map(|(what, count, each)| PriceLine {
                        what,
                        count: Decimal::new(count, 2),
                        each: Decimal::new(each, 2),
                        tax_percent: (count % 2 == 0).then(|| Decimal::new(count % 1000, 1)),
                        option: (count % 3) as usize,
                        ..PriceLine::default()
                    })
                    .collect(),
                tax_percent: Decimal::from(19),
                currency: "USD".to_owned(),
                revision: 2,
                discount: Some(Discount {
                    percent: Decimal::TEN,
                    reason: "returning customer".to_owned(),
                }),
                ..EstimateMade::default()
            }
            .into()
        }),
        prop::collection::vec(text(), 0..4).prop_map(|present| {
            SymptomsNoted {
                present,
                absent: Vec::new(),
            }
            .into()
        }),
    ]
}

proptest! {
    #[test]
    fn what_is_written_reads_back_to_the_last_digit(body in body()) {
        let json = body.to_json();
        prop_assert_eq!(Body::from_json(body.kind(), body.schema(), &json), Ok(body));
    }

    #[test]
    fn no_text_makes_the_reader_panic(kind in 0..26usize, json in ".{0,80}") {
        let _ = Body::from_json(Body::KINDS[kind % Body::KINDS.len()], 1, &json);
    }
}
