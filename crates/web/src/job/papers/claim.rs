//! The warranty claim, and the note of a tool that left the shop other than mended.

use paper::model::{Claim, ClaimLine, Cover as PaperCover, ReturnNote};
use shop::entry::{Cover, End, PackState};

use crate::job::view::View;
use crate::job::{Loaded, agreed, ends, names, received};
use crate::show;

/// A verdict as papers word it.
pub(super) fn cover(cover: Cover) -> PaperCover {
    match cover {
        Cover::Covered => PaperCover::Covered,
        Cover::NotCovered => PaperCover::NotCovered,
        Cover::CannotTell => PaperCover::CannotTell,
        Cover::InPart => PaperCover::InPart,
    }
}

/// The claim; `None` before the warranty was judged.
pub fn claim(v: &View, loaded: &Loaded) -> Option<Claim> {
    let judged = v.job.warranty.as_ref()?;
    let r = &v.job.received.body;
    let terms = &v.model.warranty;
    let whole = ClaimLine {
        what: v.model.name.clone(),
        number: String::new(),
        cover: cover(judged.body.cover),
        term: judged.body.term.clone(),
        evidence: agreed::evidence_text(v, &judged.body.evidence, judged.body.entry),
    };
    let lines = judged.body.lines.iter().map(|line| ClaimLine {
        what: agreed::part_name(v, line),
        number: line.number.clone(),
        cover: cover(line.cover),
        term: line.term.clone(),
        evidence: agreed::evidence_text(v, &line.evidence, line.entry),
    });
    let mut lines: Vec<ClaimLine> = lines.collect();
    if lines.is_empty() {
        lines.push(whole);
    }
    Some(Claim {
        shop: super::shop(v),
        number: format!("{}-C", r.number),
        job: r.number.to_string(),
        customer: v.person(&r.customer),
        tool: super::tool(v),
        sold: r.sold.map_or_else(|| v.t("evidence-no-sale"), show::day),
        first_used: first_used(v),
        received: super::printed(v, v.job.received.at),
        complaint: r.complaint.clone(),
        found: found(v),
        cover: cover(judged.body.cover),
        lines,
        voided: judged.body.voided.clone(),
        without: agreed::without(v).unwrap_or_default(),
        send: terms.evidence.clone(),
        missing: agreed::missing_texts(v),
        decided_by: terms.decided_by.clone().unwrap_or_default(),
        source: terms.source.clone(),
        judged_by: v.stamp(judged.at, &judged.by),
        record: super::head(loaded),
        issued: super::issued(v, judged.at),
    })
}

/// The day of first use, or that no paper shows it; empty where the terms do not ask.
fn first_used(v: &View) -> String {
    let day = v.job.received.body.first_used.map(show::day);
    match day {
        Some(day) => day,
        None if received::asks_first_use(v) => v.t("evidence-no-first-use"),
        None => String::new(),
    }
}

fn found(v: &View) -> Vec<String> {
    let cause = v.job.cause.as_ref().map(|c| &c.body);
    match cause {
        Some(cause) if cause.set_up_only => vec![v.causes_text(cause)],
        Some(cause) if cause.causes.is_empty() => vec![v.t("cause-none"), cause.note.clone()],
        Some(cause) => vec![v.causes_text(cause)],
        None => Vec::new(),
    }
}

/// The note; `None` for a mended tool, and before a job has ended.
pub fn note(v: &View, loaded: &Loaded) -> Option<ReturnNote> {
    let back = v.job.returned.as_ref()?;
    let end = back.body.end.as_ref()?;
    let r = &v.job.received.body;
    let mut facts = Vec::new();
    let mut fact = |label: &str, value: String| facts.push((v.t(label), value));
    let (mut went, mut missing) = (back.body.with.clone(), Vec::new());
    let mut cautions = Vec::new();
    let said = |text: &str, source: &str| (v.t(text), v.t(source));
    let means = match end {
        End::NoFaultFound => {
            fact("note-to", v.person(&back.body.to));
            "means-no-fault"
        }
        End::Unrepaired | End::NewTool => {
            fact("note-to", v.person(&back.body.to));
            cautions.push(said("note-not-mended", "source-maker"));
            "means-unrepaired"
        }
        End::Scrapped { witness, pack } => {
            fact("note-agreed", v.person(&back.body.to));
            fact("note-witness", v.person(witness));
            if let Some(gone) = pack {
                fact("note-pack", v.t(names::pack_gone(*gone)));
            }
            "means-scrapped"
        }
        End::SentToMaker {
            parcel,
            sent,
            missing: left,
        } => {
            fact("note-to", v.person(&back.body.to));
            fact("note-parcel", parcel.clone());
            went.clone_from(sent);
            missing.clone_from(left);
            "means-sent"
        }
    };
    match r.pack {
        PackState::None => {}
        PackState::Sound if matches!(end, End::Scrapped { .. }) => {
            cautions.push(said("scrap-lithium", "scrap-lithium-source"));
        }
        PackState::Sound => {}
        PackState::Damaged => cautions.push(said("lithium-damaged", "lithium-damaged-source")),
    }
    Some(ReturnNote {
        shop: super::shop(v),
        number: back.body.report.clone(),
        job: r.number.to_string(),
        customer: v.person(&r.customer),
        tool: super::tool(v),
        received: super::printed(v, v.job.received.at),
        ended: super::printed(v, back.at),
        how: v.t(names::ended(end.key())),
        means: v.t(means),
        found: found(v),
        facts,
        went,
        missing,
        cautions,
        note: back.body.note.clone(),
        authorised_by: v.person(&back.body.authorised),
        record: super::head(loaded),
        issued: super::issued(v, back.at),
    })
}

/// What the report says where the tool was not mended: how it ended, in words.
pub(super) fn unrepaired(v: &View) -> Option<(String, String)> {
    let back = &v.job.returned.as_ref()?.body;
    match &back.end {
        Some(end) => Some((v.t(names::ended(end.key())), ends::told(v, back))),
        // From before the end was asked for.
        None => v
            .job
            .declined()
            .then(|| (v.t("end-unrepaired"), v.t("report-declined"))),
    }
}
