//! What a certificate says, as one number that a later program finds again.

use serde_json::{Value, json};
use sha2::{Digest, Sha256};

use super::Job;
use crate::entry::{CertificateIssued, PinRecord, PullDrawing, PullRead, PullsDrawn, PullsRead};

/// The form of what a certificate says. A new one is added for what came to be said; those before stay as they are.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Form {
    /// Nothing of recorded pulls.
    WithoutPulls = 1,
    /// Recorded pulls, with nothing of the calibrations behind them and of faults that spoil them.
    WithPulls = 2,
    /// The calibrations that were used, what is spoiled, what is in doubt.
    WithCalibrations = 3,
}

impl Form {
    fn of(method: &str) -> Self {
        match method {
            "bench-proof 1" => Self::WithoutPulls,
            "bench-proof 2" | "bench-proof 3" => Self::WithPulls,
            _ => Self::WithCalibrations,
        }
    }
}

impl Job {
    /// SHA-256 of what `issued` says of this job: a JSON array whose form, fixed by its first item, never
    /// changes, so that a later program finds the same. Names stand in it as keys: one that is erased changes nothing.
    pub fn certificate_content(&self, issued: &CertificateIssued) -> String {
        let received = &self.received.body;
        let form = Form::of(&issued.method);
        let pin = |pin: &PinRecord| json!([pin.id, pin.revision]);
        let tests = self.tests.iter().map(|t| {
            let b = &t.body;
            let readings = b.readings.iter().map(|r| {
                let said = json!([r.value, r.unit, r.raw, pin(&r.gauge), r.expanded, r.in_date]);
                let calibration = r
                    .calibration
                    .map(|c| json!([c.number, c.indicated, c.deviation]));
                let used = || json!([calibration, r.way, r.difference, r.from_rest, r.beyond]);
                and(said, (form >= Form::WithCalibrations).then(used))
            });
            json!([
                t.version,
                b.phase,
                b.test,
                b.value,
                b.expanded,
                b.spread_percent,
                b.outcome,
                readings.collect::<Vec<Value>>(),
                b.note
            ])
        });
        let set_up = self.set_up().map(|s| {
            let fitted = &s.fitted.body;
            let signed = s.signed_off.as_ref().map(|s| &s.body);
            json!([
                s.fitted.version,
                pin(&fitted.fastener),
                fitted.code,
                pin(&fitted.nose_set),
                signed.map(|s| json!([s.turns, s.pressure_bar])),
            ])
        });
        let mut content = vec![json!(format!("setwright certificate {}", form as u8))];
        let said = json!([
            issued.number,
            issued.method,
            issued.replaces,
            issued.changed,
            [json!(received.number), json!(received.serial)],
            received.counter,
            received.customer,
            issued.sheets.iter().map(pin).collect::<Vec<_>>(),
            issued.rests_on,
            self.not_safe.as_ref().map(|n| n.body.reason.as_str()),
            tests.collect::<Vec<Value>>(),
            set_up,
            self.proof
                .as_ref()
                .map(|p| json!([p.version, p.body.reason])),
            [json!(issued.temperature_c), json!(issued.conditions)],
            issued.remarks,
            issued.author,
            issued.approver,
        ]);
        content.extend(said.as_array().cloned().unwrap_or_default());
        if form >= Form::WithPulls {
            let drawn = issued.pulls.iter();
            let drawn = drawn.map(|drawn| self.pulls_said(drawn, form));
            content.push(json!(drawn.collect::<Vec<Value>>()));
            // Pulls that count and do not stand on it, or the other way round, are another content.
            let counting = self.certified_pulls().map(|read| read.version);
            content.push(json!(counting.collect::<Vec<u32>>()));
        }
        if form >= Form::WithCalibrations {
            let doubts = issued.in_doubt.iter();
            let doubts = doubts.map(|d| json!([d.entry, d.gauge, d.number, d.struck]));
            content.push(json!(doubts.collect::<Vec<Value>>()));
            content.push(json!(issued.doubt_reason));
        }
        let content = Value::Array(content);
        let digest = Sha256::digest(content.to_string().as_bytes());
        digest.iter().map(|byte| format!("{byte:02x}")).collect()
    }

    /// What `drawn` and the entry behind it say; that entry is nothing where it was struck.
    fn pulls_said(&self, drawn: &PullsDrawn, form: Form) -> Value {
        let read = self.certified_pulls().find(|p| p.version == drawn.entry);
        json!([
            drawn.entry,
            read.map(|read| pulls(&read.body, form)),
            drawn.drawing.as_ref().map(drawing),
        ])
    }
}

/// `said` with what a later form adds to it.
fn and(said: Value, more: Option<Value>) -> Value {
    match (said, more) {
        (Value::Array(mut said), Some(Value::Array(more))) => {
            said.extend(more);
            Value::Array(said)
        }
        (said, _) => said,
    }
}

fn pulls(read: &PullsRead, form: Form) -> Value {
    let pin = |pin: &PinRecord| json!([pin.id, pin.revision]);
    let band = read.band.as_ref();
    let of_each = |one: &PullRead| pull(one, form);
    let said = json!([
        read.phase,
        read.sha256,
        read.name,
        read.rig.as_ref().map(pin),
        read.fastener.as_ref().map(pin),
        read.gauges.iter().map(pin).collect::<Vec<_>>(),
        read.in_date,
        read.found,
        read.pulls.iter().map(of_each).collect::<Vec<_>>(),
        band.map(|band| json!([band.pulls, band.share, band.recordings])),
        read.outcome,
        read.methods,
        read.note,
    ]);
    let used = || {
        let used = read.calibrations.iter();
        let used = used.map(|c| json!([c.gauge, c.number]));
        let counts_gauges = band.is_some_and(|band| band.counts_gauges);
        json!([
            used.collect::<Vec<_>>(),
            read.no_curve,
            read.faults,
            counts_gauges
        ])
    };
    and(said, (form >= Form::WithCalibrations).then(used))
}

fn pull(pull: &PullRead, form: Form) -> Value {
    let features = pull.features.iter();
    let features =
        features.map(|f| json!([f.feature, f.value, f.expanded, f.lower, f.upper, f.outcome]));
    let said = json!([pull.number, features.collect::<Vec<_>>(), pull.like]);
    let spoiled = || json!([pull.spoiled]);
    and(said, (form >= Form::WithCalibrations).then(spoiled))
}

fn drawing(drawn: &PullDrawing) -> Value {
    let curves = drawn
        .curves
        .iter()
        .map(|c| json!([c.pull, c.counts, c.points]));
    let phases = drawn
        .phases
        .iter()
        .map(|p| json!([p.phase, p.from_um, p.to_um]));
    let slips = drawn
        .slips
        .iter()
        .map(|s| json!([s.pull, s.stroke_um, s.force_n, s.drop_n]));
    json!([
        curves.collect::<Vec<_>>(),
        phases.collect::<Vec<_>>(),
        slips.collect::<Vec<_>>(),
        drawn.band,
    ])
}
