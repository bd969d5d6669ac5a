//! The warranty verdict: line by line or one for everything, each with the term and the evidence.

use calc::Message;

use super::refusal::{Refusals, needed, nth, refuse};
use super::{Desk, Job, Stage};
use crate::entry::{Body, Cover, LineJudged, WarrantyJudged};
use crate::warranty::{self, offered};

/// The verdict, as typed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct JudgeIn {
    /// One verdict for all there is; with lines it follows from them.
    pub cover: Option<Cover>,
    /// Term.
    pub term: String,
    /// Evidence in words.
    pub evidence: String,
    /// The entry of the job that is the evidence.
    pub entry: Option<u32>,
    /// Verdict line by line.
    pub lines: Vec<LineJudged>,
    /// Conditions that void the maker's warranty and were found, as the model sheet words them.
    pub voided: Vec<String>,
    /// What was seen of them.
    pub void_evidence: String,
    /// The entry of the job that shows it.
    pub void_entry: Option<u32>,
    /// Evidence that the terms require and that is at hand, as the model sheet words it.
    pub at_hand: Vec<String>,
    /// Why it is covered although not all of it is.
    pub without_reason: String,
}

impl Job {
    pub(super) fn judge_warranty(
        &self,
        judge: JudgeIn,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        self.open_or_refuse(Stage::Agreed)?;
        let mut refusals = self.voids(&judge, desk);
        let mut lines = judge.lines.clone();
        if !judge.voided.is_empty() && refusals.is_empty() {
            let seen = judge.void_evidence.trim();
            void(&mut lines, &judge.voided, seen, judge.void_entry);
        }
        for (i, line) in lines.iter().enumerate() {
            refusals.extend(self.rests_on(
                ("line_term", "line_evidence", "line_entry"),
                i,
                (&line.term, &line.evidence, line.entry),
            ));
            if line.cover == Cover::InPart {
                refusals.push(refuse(nth("line_cover", i), Message::new("refuse-cover")));
            }
        }
        let deciding = match (judge.cover, warranty::over_all(&lines)) {
            (None | Some(Cover::InPart), None) => {
                refusals.push(refuse("cover", Message::new("refuse-cover")));
                None
            }
            (Some(Cover::Covered), None) if !judge.voided.is_empty() => {
                refusals.push(refuse("cover", Message::new("refuse-cover-voided")));
                None
            }
            (Some(cover), Some(deciding)) if cover != deciding.cover => {
                refusals.push(refuse("cover", Message::new("refuse-cover-lines")));
                None
            }
            (Some(cover), None) => {
                let (term, evidence) = (judge.term.trim(), judge.evidence.trim());
                refusals.extend(self.rests_on(
                    ("term", "evidence", "entry"),
                    0,
                    (term, evidence, judge.entry),
                ));
                Some((cover, term.to_owned(), evidence.to_owned(), judge.entry))
            }
            (_, Some(line)) => Some((line.cover, line.term, line.evidence, line.entry)),
        };
        let claims = match lines.as_slice() {
            [] => judge.cover == Some(Cover::Covered),
            lines => lines.iter().any(|l| l.cover == Cover::Covered && !l.own),
        };
        let without = self.without(&judge, claims, desk);
        let without = without.map_err(|mut r| refusals.append(&mut r));
        let (Some((cover, term, evidence, entry)), Ok((without, without_reason)), true) =
            (deciding, without, refusals.is_empty())
        else {
            return Err(refusals);
        };
        let judged = WarrantyJudged {
            cover,
            term,
            evidence,
            entry,
            lines,
            voided: judge.voided,
            at_hand: judge.at_hand,
            without,
            without_reason,
        };
        Ok(vec![judged.into()])
    }

    /// What the terms require and is not there where the maker is to pay, and why it is claimed all the same.
    fn without(
        &self,
        judge: &JudgeIn,
        claims: bool,
        desk: &Desk,
    ) -> Result<(Vec<String>, String), Refusals> {
        let asked = self.model(desk).map(|model| &model.warranty.evidence);
        let asked = asked.map_or(&[][..], Vec::as_slice);
        if !judge.at_hand.iter().all(|item| asked.contains(item)) {
            return Err(vec![refuse("at_hand", Message::new("refuse-at-hand"))]);
        }
        if !claims {
            return Ok(Default::default());
        }
        let missing = warranty::missing_internal(self).map(|c| &c.item);
        let not_here = asked.iter().filter(|item| !judge.at_hand.contains(item));
        let without: Vec<String> = missing.chain(not_here).cloned().collect();
        if without.is_empty() {
            return Ok(Default::default());
        }
        let reason = judge.without_reason.trim();
        if reason.is_empty() {
            let ask = Message::new("refuse-without").with("items", without.join("; "));
            return Err(vec![refuse("without_reason", ask)]);
        }
        Ok((without, reason.to_owned()))
    }

    /// What is wrong with the conditions that void it.
    fn voids(&self, judge: &JudgeIn, desk: &Desk) -> Refusals {
        let mut refusals = Refusals::new();
        let terms = self.model(desk).map(|model| &model.warranty);
        let is_term = |text: &String| terms.is_some_and(|terms| terms.voided_by.contains(text));
        if !judge.voided.iter().all(is_term) {
            refusals.push(refuse("voided", Message::new("refuse-voided-unknown")));
        }
        if judge.voided.is_empty() {
            return refusals;
        }
        if judge.void_entry.is_none() {
            let seen = needed(
                "void_evidence",
                &judge.void_evidence,
                "refuse-void-evidence",
            );
            refusals.extend(seen.err());
        }
        refusals.extend(self.unknown_entry("void_entry".to_owned(), judge.void_entry));
        refusals
    }

    /// What is wrong with the term and the evidence of the `i`-th verdict, whose fields have these names.
    fn rests_on(
        &self,
        (term_field, evidence_field, entry_field): (&str, &str, &str),
        i: usize,
        (term, evidence, entry): (&str, &str, Option<u32>),
    ) -> Refusals {
        let mut refusals = Refusals::new();
        refusals.extend(needed(&nth(term_field, i), term, "refuse-term").err());
        // An entry says what was seen; words beside it are a help.
        if entry.is_none() {
            refusals.extend(needed(&nth(evidence_field, i), evidence, "refuse-evidence").err());
        }
        refusals.extend(self.unknown_entry(nth(entry_field, i), entry));
        refusals
    }

    fn unknown_entry(&self, field: String, entry: Option<u32>) -> Refusals {
        let is_known = |version: &u32| offered(self).iter().any(|e| e.version == *version);
        let unknown = entry.filter(|version| !is_known(version));
        let say = |_| refuse(field.clone(), Message::new("refuse-evidence-entry"));
        unknown.map(say).into_iter().collect()
    }
}

/// What voids the maker's warranty voids each line that rests on it.
fn void(lines: &mut [LineJudged], voided: &[String], seen: &str, entry: Option<u32>) {
    for line in lines.iter_mut().filter(|line| !line.own) {
        line.cover = Cover::NotCovered;
        line.term = voided.join("; ");
        seen.clone_into(&mut line.evidence);
        line.entry = entry;
    }
}
