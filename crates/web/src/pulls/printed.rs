//! Recorded pulls on papers: the service report, and the certificate, which keeps their drawing.

use std::collections::BTreeSet;

use axum::response::Response;
use calc::Message;
use calc::decision::Verdict;
use paper::model::PullsPrinted;
use shop::entry::{Phase, PullsDrawn, PullsRead};
use shop::job::Stamped;
use shop::pulls::PRINTED;
use shop::sheet::Feature;

use super::answer::{against, band_text, gauges_text, one, summed, value_text, what};
use super::plot::{self, plot};
use super::recording;
use crate::app::App;
use crate::job::names;
use crate::job::view::View;

/// What was pulled and how it came out, in a line.
pub(crate) fn in_a_line(v: &View, read: &PullsRead) -> String {
    let verdict = read.outcome.map(Verdict::from);
    let verdict = verdict.map(|verdict| v.p.words.term(verdict));
    let result = std::iter::once(what(v, read)).chain(verdict);
    let said = Message::new("certificate-result").with("phase", v.t(names::phase(read.phase)));
    v.say(&said.with("result", result.collect::<Vec<_>>().join(", ")))
}

/// The recorded pulls that stand on a certificate, as it keeps them.
pub(crate) fn certified(
    v: &View,
    drawn: &[PullsDrawn],
    doubted: &BTreeSet<u32>,
) -> Vec<PullsPrinted> {
    let each = drawn.iter().filter_map(|drawn| {
        let read = v.job.pulls.iter().find(|p| p.version == drawn.entry)?;
        let drawing = drawn.drawing.as_ref();
        Some(PullsPrinted {
            plot: drawing.map(|drawing| plot::of(v.p, drawing, &read.body.name)),
            ..of(v, read, doubted)
        })
    });
    each.collect()
}

/// The drawings that a certificate issued now would keep, read from the recordings.
///
/// # Errors
/// The disk or the record fails.
pub(crate) async fn drawn(app: &App, v: &View<'_>) -> Result<Vec<PullsDrawn>, Response> {
    let mut all = Vec::new();
    for read in v.job.certified_pulls() {
        let recording = recording::of_entry(app, v.job, &read.body).await?;
        let drawing = recording.map(|recording| plot::drawing(&recording, Some(&read.body)));
        all.push(PullsDrawn {
            entry: read.version,
            drawing,
        });
    }
    Ok(all)
}

/// The recorded pulls of the job that count, without their drawings yet; marked those of the entries `doubted`.
pub(crate) fn printed(v: &View, doubted: &BTreeSet<u32>) -> Vec<PullsPrinted> {
    let phases = [Phase::AsFound, Phase::AsLeft].into_iter();
    let all = phases.flat_map(|phase| v.job.pulls_in(phase));
    all.map(|read| of(v, read, doubted)).collect()
}

fn of(v: &View, stamped: &Stamped<PullsRead>, doubted: &BTreeSet<u32>) -> PullsPrinted {
    let read = &stamped.body;
    let title = Message::new("pulls-printed")
        .with("phase", v.t(names::phase(read.phase)))
        .with("what", what(v, read));
    let is_doubted = doubted.contains(&stamped.version);
    let mut lines: Vec<String> = is_doubted
        .then(|| v.t("pulls-in-doubt"))
        .into_iter()
        .collect();
    lines.extend(
        PRINTED
            .iter()
            .filter_map(|feature| summed(v, read, *feature)),
    );
    lines.extend(against(v, read));
    lines.push(band_text(v, read));
    lines.extend(gauges_text(v, read));
    let rows = read.pulls.iter().map(|pull| {
        let shown = |feature| {
            let found = one(pull, feature);
            found.map_or(String::new(), |f| value_text(feature, f.value, f.expanded))
        };
        let features = pull.features.iter().filter_map(|f| f.outcome);
        let worst = features.chain(pull.like).map(Verdict::from).max();
        let verdict = worst.map(|w| v.p.words.term(w)).unwrap_or_default();
        [
            pull.number.to_string(),
            shown(Feature::Peak),
            shown(Feature::Stroke),
            verdict,
        ]
    });
    PullsPrinted {
        entry: stamped.version,
        title: v.say(&title),
        outcome: read.outcome.map(Into::into),
        lines,
        rows: rows.collect(),
        file: read.name.clone(),
        hash: read.sha256.clone(),
        plot: None,
    }
}

/// The same with their drawings, read from the recordings again. One that is lost has none: the figures stand.
///
/// # Errors
/// The disk or the record fails.
pub(crate) async fn with_plots(
    app: &App,
    v: &View<'_>,
    pulls: Vec<PullsPrinted>,
) -> Result<Vec<PullsPrinted>, Response> {
    let mut drawn = Vec::new();
    for printed in pulls {
        let read = read_of(&v.job.pulls, &printed);
        let recording = match read {
            Some(read) => recording::of_entry(app, v.job, &read.body).await?,
            None => None,
        };
        let plot = recording
            .zip(read)
            .map(|(recording, read)| plot(v.p, &recording, Some(&read.body)));
        drawn.push(PullsPrinted { plot, ..printed });
    }
    Ok(drawn)
}

/// The entry that `printed` was made of: one recording can stand in several, as found and as left.
fn read_of<'a>(
    reads: &'a [Stamped<PullsRead>],
    printed: &PullsPrinted,
) -> Option<&'a Stamped<PullsRead>> {
    reads.iter().find(|read| read.version == printed.entry)
}

#[cfg(test)]
mod tests {
    use jiff::Timestamp;
    use paper::model::PullsPrinted;
    use shop::entry::{Body, PersonKey, Phase, PullsRead};
    use shop::job::Stamped;

    use super::read_of;

    fn read(version: u32, phase: &str) -> Stamped<PullsRead> {
        let json = r#"{"phase":"PHASE","sha256":"ba78","name":"d6.csv","rig":null,"fastener":null,"gauges":[],
            "in_date":false,"found":1,"faults":0,"pulls":[],"band":null,"outcome":null,"methods":[],"note":""}"#;
        let json = json.replace("PHASE", phase);
        let Ok(Body::PullsRead(body)) = Body::from_json("pulls-read", 1, &json) else {
            panic!("recorded pulls");
        };
        Stamped {
            version,
            at: Timestamp::UNIX_EPOCH,
            by: PersonKey(String::new()),
            body,
        }
    }

    #[test]
    fn a_recording_brought_as_found_and_as_left_is_drawn_in_each_as_it_counts_there() {
        let reads = [read(4, "as-found"), read(9, "as-left")];
        let drawn = reads.each_ref().map(|read| {
            let printed = PullsPrinted {
                entry: read.version,
                title: String::new(),
                outcome: None,
                lines: Vec::new(),
                rows: Vec::new(),
                file: read.body.name.clone(),
                hash: read.body.sha256.clone(),
                plot: None,
            };
            read_of(&reads, &printed).map(|read| read.body.phase)
        });
        assert_eq!(drawn, [Some(Phase::AsFound), Some(Phase::AsLeft)]);
    }
}
