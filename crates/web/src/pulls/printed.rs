//! Recorded pulls on papers: the service report, and the certificate, which keeps their drawing.

use axum::response::Response;
use calc::Message;
use calc::decision::Verdict;
use paper::model::PullsPrinted;
use shop::entry::{Phase, PullsDrawn, PullsRead};
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
pub(crate) fn certified(v: &View, drawn: &[PullsDrawn]) -> Vec<PullsPrinted> {
    let each = drawn.iter().filter_map(|drawn| {
        let read = v.job.pulls.iter().find(|p| p.version == drawn.entry)?;
        let drawing = drawn.drawing.as_ref();
        Some(PullsPrinted {
            plot: drawing.map(|drawing| plot::of(v.p, drawing, &read.body.name)),
            ..of(v, &read.body)
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

/// The recorded pulls of the job that count, without their drawings yet.
pub(crate) fn printed(v: &View) -> Vec<PullsPrinted> {
    let phases = [Phase::AsFound, Phase::AsLeft].into_iter();
    let all = phases.flat_map(|phase| v.job.pulls_in(phase));
    all.map(|read| of(v, &read.body)).collect()
}

fn of(v: &View, read: &PullsRead) -> PullsPrinted {
    let title = Message::new("pulls-printed")
        .with("phase", v.t(names::phase(read.phase)))
        .with("what", what(v, read));
    let mut lines: Vec<String> = [Feature::Peak, Feature::Stroke]
        .into_iter()
        .filter_map(|feature| summed(v, read, feature))
        .collect();
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
        let read = v.job.pulls.iter().find(|p| p.body.sha256 == printed.hash);
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
