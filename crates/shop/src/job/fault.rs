//! Finding the fault: symptoms, checks, cause.

use calc::Message;
use calc::learned_share::Cases;
use jiff::Timestamp;

use super::made_safe::{hands_at_risk, known_ticks};
use super::refusal::{Refusals, needed, refuse, refuse_all};
use super::{Desk, Job};
use crate::diagnosis::{Seen, diagnose};
use crate::entry::{
    Body, CauseConfirmed, CheckAnswered, EnergyCleared, Entry, NotSafeToRun, Outcome, Phase, Said,
    SymptomsNoted,
};
use crate::learning::{Counted, Lesson, Lessons, Rulings};
use crate::route::LAST_STEP;
use crate::sheet::{Cause, Check, FaultModel, Shelf, Symptom, ToolModel, ToolState, UNLISTED};

/// Words that it takes to say what was looked at, and by what. Common practice, no source.
const CLEAR_WORDS: usize = 3;

impl Job {
    /// The model sheet that the job is worked to.
    pub fn model<'a>(&self, desk: &Desk<'a>) -> Option<&'a ToolModel> {
        desk.shelf.model(&self.model_pin())
    }

    /// The fault model that the job is worked to, with the shop's own counts in it where they are known.
    pub fn faults<'a>(&self, desk: &Desk<'a>) -> Option<&'a FaultModel> {
        desk.learned
            .or_else(|| desk.shelf.fault_model(&self.faults_pin()))
    }

    /// What the shop's closed jobs make of the fault model of this job: what was known when its cause was
    /// confirmed, or is known at `now`. `None` where a sheet is missing, or they make nothing of it.
    pub fn learned_faults(
        &self,
        closed: &[Lesson],
        said: &[Entry],
        now: Timestamp,
        shelf: &Shelf,
    ) -> Option<FaultModel> {
        let faults = shelf.fault_model(&self.faults_pin())?;
        let model = shelf.model(&self.model_pin())?;
        let until = self.cause.as_ref().map_or(now, |cause| cause.at);
        let rulings = Rulings::fold(&faults.id, said, until);
        let lessons = Lessons::of(faults, closed, (Some(self.id), until), shelf);
        let own = |cause: &Cause| cause.per_1000_on.contains_key(&model.id);
        if lessons.is_empty() && rulings.is_empty() && !faults.causes.iter().any(own) {
            return None;
        }
        let counted = Counted::of(faults, model.drive, &lessons, &rulings, shelf);
        Some(counted.faults_for(&model.id))
    }

    /// Mended jobs of the shop that were closed when the quote was made, and after how many of them the tool came
    /// back: those that were worked to the same fault model, this one left aside.
    pub fn come_backs(
        &self,
        closed: &[Lesson],
        said: &[Entry],
        now: Timestamp,
        shelf: &Shelf,
    ) -> Cases {
        let Some(faults) = shelf.fault_model(&self.faults_pin()) else {
            return Cases::default();
        };
        let until = self.estimate.as_ref().map_or(now, |quote| quote.at);
        let rulings = Rulings::fold(&faults.id, said, until);
        let lessons = Lessons::of(faults, closed, (Some(self.id), until), shelf);
        lessons.come_backs(rulings.all_since())
    }

    pub(super) fn model_or_refuse<'a>(&self, desk: &Desk<'a>) -> Result<&'a ToolModel, Refusals> {
        self.model(desk)
            .map_or_else(|| refuse_all(Message::new("refuse-no-sheet")), Ok)
    }

    pub(super) fn faults_or_refuse<'a>(&self, desk: &Desk<'a>) -> Result<&'a FaultModel, Refusals> {
        self.faults(desk)
            .map_or_else(|| refuse_all(Message::new("refuse-no-sheet")), Ok)
    }

    pub(super) fn note_symptoms(
        &self,
        present: Vec<String>,
        absent: Vec<String>,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        let faults = self.faults_or_refuse(desk)?;
        for symptom in present.iter().chain(&absent) {
            if faults.symptom(symptom).is_none() {
                let message = Message::new("refuse-symptom").with("symptom", symptom.as_str());
                return Err(vec![refuse("symptoms", message)]);
            }
        }
        if present.is_empty() && absent.is_empty() {
            return Err(vec![refuse("symptoms", Message::new("refuse-no-symptom"))]);
        }
        if let Some(both) = present.iter().find(|s| absent.contains(s)) {
            let named = faults
                .symptom(both)
                .map_or(both.as_str(), |s| s.text.as_str());
            let message = Message::new("refuse-symptom-both").with("symptom", named);
            return Err(vec![refuse("symptoms", message)]);
        }
        Ok(vec![SymptomsNoted { present, absent }.into()])
    }

    pub(super) fn not_safe(&self, reason: &str) -> Result<Vec<Body>, Refusals> {
        if self.opened() {
            return refuse_all(Message::new("refuse-as-found-late"));
        }
        let reason = needed("reason", reason, "refuse-reason").map_err(|r| vec![r])?;
        Ok(vec![NotSafeToRun { reason }.into()])
    }

    pub(super) fn clear_energy(
        &self,
        reason: &str,
        mut signs: Vec<String>,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        if !self.energised_looks_forbidden(desk) {
            return refuse_all(Message::new("refuse-nothing-to-clear"));
        }
        let reason = needed("reason", reason, "refuse-clear-reason").map_err(|r| vec![r])?;
        // A tick of the keyboard says nothing of what was looked at.
        if reason.split_whitespace().count() < CLEAR_WORDS {
            return Err(vec![refuse("reason", Message::new("refuse-clear-reason"))]);
        }
        // What was looked at for one sign says nothing of another.
        if let Some(sign) = self.signs_open(desk).find(|s| !signs.contains(&s.id)) {
            let message = Message::new("refuse-sign-not-cleared").with("sign", sign.text.as_str());
            return Err(vec![refuse("signs", message)]);
        }
        signs.retain(|id| self.signs_open(desk).any(|sign| sign.id == *id));
        Ok(vec![EnergyCleared { reason, signs }.into()])
    }

    pub(super) fn answer_check(
        &self,
        (check, answer): (String, Said),
        beside: Vec<(String, Said)>,
        note: &str,
        made_safe: &[String],
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        let faults = self.faults_or_refuse(desk)?;
        let model = self.model_or_refuse(desk)?;
        let Some(known) = faults.check(&check) else {
            return refuse_all(Message::new("refuse-no-check").with("check", check));
        };
        // Checks of one visit ask for one state of the tool: what forbids the one forbids them all.
        let strange = beside.iter().enumerate().find(|(place, (id, _))| {
            let again = beside[..*place].iter().any(|(before, _)| before == id);
            let visit = faults.check(id).and_then(|other| other.visit.as_ref());
            again || *id == check || visit.is_none() || visit != known.visit.as_ref()
        });
        if let Some((_, (id, _))) = strange {
            return refuse_all(Message::new("refuse-check-beside").with("check", id.as_str()));
        }
        if known.state.energised() && self.energised_looks_forbidden(desk) {
            return refuse_all(Message::new("refuse-no-energy"));
        }
        if known.state == ToolState::EnergisedLoaded && self.energy_forbidden(desk) {
            return refuse_all(Message::new("refuse-no-load"));
        }
        if known.state.energised() && self.opened() && !self.powered_up() {
            return refuse_all(Message::new("refuse-check-opened"));
        }
        let hands = self.asks_made_safe(known);
        if let Some(refusal) = hands_at_risk(model, made_safe).filter(|_| hands) {
            return Err(vec![refusal]);
        }
        let made_safe = match hands {
            true => known_ticks(model, made_safe),
            false => Vec::new(),
        };
        let all: Vec<(String, Said)> = [(check, answer)].into_iter().chain(beside).collect();
        // What was seen belongs to what was found; where nothing was, to what was asked for.
        let found = all.iter().position(|(_, said)| *said == Said::Yes);
        let noted = found.unwrap_or(0);
        let answered = |(place, (check, answer))| {
            let note = if place == noted { note } else { "" };
            Body::from(CheckAnswered {
                check,
                answer,
                note: note.to_owned(),
                made_safe: made_safe.clone(),
            })
        };
        Ok(all.into_iter().enumerate().map(answered).collect())
    }

    /// Whether `check` asks for the make-safe ticks: it puts hands to the tool, and the energy was
    /// not taken away for a strip already.
    pub fn asks_made_safe(&self, check: &Check) -> bool {
        (check.state.hands_near() || check.hands_first) && !self.safe_in_strip()
    }

    pub(super) fn confirm_cause(
        &self,
        causes: Vec<String>,
        note: &str,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        let faults = self.faults_or_refuse(desk)?;
        let model = self.model_or_refuse(desk)?;
        if let Some(unknown) = causes.iter().find(|c| !faults.knows_cause(c)) {
            let message = Message::new("refuse-no-cause").with("cause", unknown.as_str());
            return Err(vec![refuse("causes", message)]);
        }
        let unlisted = causes.iter().any(|c| c == UNLISTED);
        let note = match causes.is_empty() {
            true => needed("note", note, "refuse-no-fault-note").map_err(|r| vec![r])?,
            false if unlisted => {
                needed("note", note, "refuse-unlisted-note").map_err(|r| vec![r])?
            }
            false => note.trim().to_owned(),
        };
        if !self.as_found_seen(model) && self.not_safe.is_none() && !self.opened() {
            return refuse_all(Message::new("refuse-as-found-first"));
        }
        let seen = Seen::of(self, faults, model, desk);
        let diagnosis = diagnose(faults, model.drive, &seen);
        let probability = causes.first().and_then(|first| {
            let ranked = diagnosis?.ranked;
            let of_first = |r: &&crate::diagnosis::Ranked| {
                r.cause.map_or(UNLISTED, |c| c.id.as_str()) == first
            };
            ranked.iter().find(of_first).map(|r| r.probability)
        });
        let confirmed = CauseConfirmed {
            set_up_only: false,
            causes,
            probability,
            handed: seen.handed_over(),
            note,
        };
        Ok(vec![confirmed.into()])
    }

    /// Something was seen as found, or the model has no test for it.
    pub fn as_found_seen(&self, model: &ToolModel) -> bool {
        !model.bench_tests.iter().any(|t| t.as_found) || self.seen_as_found().next().is_some()
    }

    /// Versions of the tests as found, and of the joints and recorded pulls as found that tell something.
    pub(super) fn seen_as_found(&self) -> impl Iterator<Item = u32> {
        let tests = self.tests.iter();
        let as_found = tests.filter(|t| t.body.phase == Phase::AsFound);
        let joints = self.found_joints.iter();
        let joints = joints.filter(|j| j.body.outcome != Outcome::Undecided);
        let joints = joints.map(|j| j.version);
        let pulls = self.pulls_in(Phase::AsFound);
        let pulls = pulls.filter(|p| p.body.outcome.is_some_and(|o| o != Outcome::Undecided));
        let pulls = pulls.map(|p| p.version);
        as_found.map(|t| t.version).chain(joints).chain(pulls)
    }

    /// Nothing may put energy on the tool: it was found not safe to run, or shows a symptom that
    /// forbids it. The first power-up after the mending lifts it, for what was seen until then.
    pub fn energy_forbidden(&self, desk: &Desk) -> bool {
        // Without the sheets nobody knows what forbids it.
        let sheets = self.faults(desk).zip(self.model(desk));
        sheets.is_none_or(|(faults, model)| Seen::of(self, faults, model, desk).no_energy(faults))
    }

    /// Nothing may put energy on the tool even to find its fault: it is forbidden, and nobody cleared it since.
    pub fn energised_looks_forbidden(&self, desk: &Desk) -> bool {
        let sheets = self.faults(desk).zip(self.model(desk));
        sheets.is_none_or(|(faults, model)| {
            Seen::of(self, faults, model, desk).no_energised_look(faults)
        })
    }

    /// Whether somebody ticked at a step that the sign is mended, after it was seen last.
    fn said_mended(&self, sign: &str) -> bool {
        let seen = self.seen_at.get(sign).copied().unwrap_or(0);
        let mut after = self.steps.iter().filter(|s| s.version > seen);
        after.any(|s| s.body.mended.iter().any(|id| id == sign))
    }

    /// Signs that forbid energy and that nobody has said to be mended: before the tool runs again each is looked at.
    pub fn signs_open<'a>(&'a self, desk: &Desk<'a>) -> impl Iterator<Item = &'a Symptom> {
        let symptoms = self.faults(desk).map_or(&[][..], |faults| &faults.symptoms);
        let is_there = |symptom: &&Symptom| self.symptoms.get(&symptom.id) == Some(&true);
        let forbids = symptoms.iter().filter(|symptom| symptom.forbids_energy);
        forbids
            .filter(is_there)
            .filter(|symptom| !self.mended_since(&symptom.id) && !self.said_mended(&symptom.id))
    }

    /// Whether a named person cleared the tool after the entry of this version.
    pub fn cleared_after(&self, version: u32) -> bool {
        let cleared = self.energy_cleared.as_ref();
        cleared.is_some_and(|cleared| cleared.version > version)
    }

    /// The same of symptom `id`.
    pub fn cleared_since(&self, id: &str) -> bool {
        let of_it = self.energy_cleared.as_ref();
        self.cleared_after(self.seen_at.get(id).copied().unwrap_or(0))
            && of_it.is_some_and(|cleared| cleared.body.signs.iter().any(|sign| sign == id))
    }

    /// Whether symptom `id` was seen before the tool passed its first power-up.
    pub fn mended_since(&self, id: &str) -> bool {
        self.mended_after(self.seen_at.get(id).copied().unwrap_or(0))
    }

    /// Whether the tool passed its first power-up after the entry of this version.
    pub fn mended_after(&self, version: u32) -> bool {
        self.powered_up() && self.step(LAST_STEP).is_some_and(|s| s.version > version)
    }
}
