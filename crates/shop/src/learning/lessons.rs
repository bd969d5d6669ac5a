//! The lessons of a shop, and which of them are come-backs.

use std::collections::{BTreeMap, BTreeSet};

use calc::learned_share::Cases;
use jiff::Timestamp;
use uuid::Uuid;

use super::Lesson;
use crate::sheet::{FastenerKind, FaultModel, Shelf};

/// What closed jobs teach of one fault model.
#[derive(Clone, Debug, Default)]
pub struct Lessons<'a> {
    /// With the drive of its tool's model and whether the tool came back.
    pub(super) all: Vec<Taught<'a>>,
}

/// One of them.
#[derive(Clone, Debug)]
pub(super) struct Taught<'a> {
    pub lesson: &'a Lesson,
    /// Key of the drive.
    pub drive: &'static str,
    /// The tool came back: the cause that was confirmed is in doubt.
    pub came_back: bool,
    /// Kinds of fastener that the tool sets: a cause of others cannot occur on it.
    pub kinds: Vec<FastenerKind>,
}

impl<'a> Lessons<'a> {
    /// Those among `closed` that were over by `until` and were worked to `faults`, without that of `job` itself. A
    /// job whose model sheet is not on the shelf teaches nothing: nobody knows its drive.
    pub fn of(
        faults: &FaultModel,
        closed: &'a [Lesson],
        (job, until): (Option<Uuid>, Timestamp),
        shelf: &Shelf,
    ) -> Self {
        let mut all: Vec<Taught> = closed
            .iter()
            .filter(|l| l.faults == faults.id && l.closed <= until && Some(l.job) != job)
            .filter_map(|lesson| {
                let model = shelf.model(&(&lesson.model).into())?;
                Some(Taught {
                    lesson,
                    drive: model.drive.key(),
                    came_back: false,
                    kinds: shelf.settable_kinds(model),
                })
            })
            .collect();
        all.sort_by_key(|taught| (taught.lesson.opened, taught.lesson.job));
        let mut of_tool: BTreeMap<Uuid, Vec<usize>> = BTreeMap::new();
        for place in 0..all.len() {
            let lesson = all[place].lesson;
            let before = of_tool.entry(lesson.tool).or_default();
            for earlier in before.iter() {
                let taught = &mut all[*earlier];
                taught.came_back |= taught.lesson.is_near(lesson, &faults.learning)
                    && is_related(taught.lesson, lesson, faults);
            }
            before.push(place);
        }
        Self { all }
    }

    /// Mended jobs that were over after `since` (all of them without it), and after how many of them the tool came back.
    pub fn come_backs(&self, since: Option<Timestamp>) -> Cases {
        let mended = self.all.iter().filter(|taught| taught.lesson.mended);
        let counted = mended.filter(|t| since.is_none_or(|since| t.lesson.closed > since));
        counted.fold(Cases::default(), |cases, taught| Cases {
            yes: cases.yes + u32::from(taught.came_back),
            all: cases.all + 1,
        })
    }

    /// Whether none of them counts.
    pub fn is_empty(&self) -> bool {
        self.all.iter().all(|taught| !taught.lesson.mended)
    }
}

/// Whether `later` says that the mending of `earlier` did not hold: the same cause again, or a complaint of then
/// again with a cause that shows it.
fn is_related(earlier: &Lesson, later: &Lesson, faults: &FaultModel) -> bool {
    if earlier.causes.is_empty() || later.causes.is_empty() {
        return false;
    }
    let there = |lesson: &'_ Lesson| -> BTreeSet<String> {
        let there = lesson.symptoms.iter().filter(|(_, there)| *there);
        there.map(|(id, _)| id.clone()).collect()
    };
    let again: BTreeSet<String> = there(earlier)
        .intersection(&there(later))
        .cloned()
        .collect();
    later.causes.iter().any(|cause| {
        let shows = faults.cause(cause).map_or(&[][..], |c| &c.shows);
        earlier.causes.contains(cause) || shows.iter().any(|(id, _)| again.contains(id))
    })
}
