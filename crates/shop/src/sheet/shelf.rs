//! The shelf: every revision of every sheet, and which one is in force.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::entry::Body;
use crate::gauge::History;

use super::{FastenerFamily, FastenerKind, FaultModel, Gauge, NoseSet, Rig, ShopCard, ToolModel};

/// Kind of sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Tool model.
    ToolModel,
    /// Fastener family.
    Fastener,
    /// Nose set.
    NoseSet,
    /// Gauge.
    Gauge,
    /// Fault model.
    FaultModel,
    /// The shop's card.
    Shop,
    /// Bench rig with a logger.
    Rig,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Kind; 7] = [
        Kind::ToolModel,
        Kind::Fastener,
        Kind::NoseSet,
        Kind::Gauge,
        Kind::FaultModel,
        Kind::Shop,
        Kind::Rig,
    ];

    /// As written in the first line of a sheet.
    pub fn key(self) -> &'static str {
        match self {
            Kind::ToolModel => "tool-model",
            Kind::Fastener => "fastener",
            Kind::NoseSet => "nose-set",
            Kind::Gauge => "gauge",
            Kind::FaultModel => "fault-model",
            Kind::Shop => "shop",
            Kind::Rig => "rig",
        }
    }

    /// The kind written `key`.
    pub fn parse(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.key() == key)
    }
}

/// One sheet, read.
#[derive(Clone, Debug, PartialEq)]
#[expect(
    clippy::large_enum_variant,
    reason = "there are a few hundred at most, and the shelf holds each behind a pointer"
)]
pub enum Sheet {
    /// Tool model.
    ToolModel(ToolModel),
    /// Fastener family.
    Fastener(FastenerFamily),
    /// Nose set.
    NoseSet(NoseSet),
    /// Gauge.
    Gauge(Gauge),
    /// Fault model.
    FaultModel(FaultModel),
    /// The shop's card.
    Shop(ShopCard),
    /// Bench rig with a logger.
    Rig(Rig),
}

impl Sheet {
    /// Its kind.
    pub fn kind(&self) -> Kind {
        match self {
            Self::ToolModel(_) => Kind::ToolModel,
            Self::Fastener(_) => Kind::Fastener,
            Self::NoseSet(_) => Kind::NoseSet,
            Self::Gauge(_) => Kind::Gauge,
            Self::FaultModel(_) => Kind::FaultModel,
            Self::Shop(_) => Kind::Shop,
            Self::Rig(_) => Kind::Rig,
        }
    }

    /// Its id.
    pub fn id(&self) -> &str {
        match self {
            Self::ToolModel(s) => &s.id,
            Self::Fastener(s) => &s.id,
            Self::NoseSet(s) => &s.id,
            Self::Gauge(s) => &s.id,
            Self::FaultModel(s) => &s.id,
            Self::Shop(s) => &s.id,
            Self::Rig(s) => &s.id,
        }
    }

    /// Its name.
    pub fn name(&self) -> &str {
        match self {
            Self::ToolModel(s) => &s.name,
            Self::Fastener(s) => &s.name,
            Self::NoseSet(s) => &s.name,
            Self::Gauge(s) => &s.name,
            Self::FaultModel(s) => &s.id,
            Self::Shop(s) => &s.name,
            Self::Rig(s) => &s.name,
        }
    }
}

/// One revision of a sheet: a job keeps the one that it was worked to.
#[derive(Clone, Debug, PartialEq)]
pub struct Revision {
    /// Number, from 1.
    pub number: u32,
    /// What it says.
    pub sheet: Sheet,
    /// The file as loaded.
    pub text: String,
}

/// A revision by its name: which sheet, which number.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Pin {
    /// Sheet id.
    pub id: String,
    /// Revision number.
    pub revision: u32,
}

/// Every revision that was ever loaded.
#[derive(Clone, Debug, Default)]
pub struct Shelf {
    revisions: BTreeMap<(Kind, String), Vec<Arc<Revision>>>,
    withdrawn: std::collections::BTreeSet<(Kind, String)>,
    lost: BTreeMap<(Kind, String), u32>,
    histories: BTreeMap<String, Arc<History>>,
}

macro_rules! getters {
    ($($one:ident $all:ident $variant:ident $type:ty;)*) => {
        impl Shelf {
            $(
                /// The pinned revision, also of a sheet that was withdrawn since.
                pub fn $one(&self, pin: &Pin) -> Option<&$type> {
                    match &self.pinned(Kind::$variant, pin)?.sheet {
                        Sheet::$variant(sheet) => Some(sheet),
                        _ => None,
                    }
                }

                /// The sheets in force, in order of id.
                pub fn $all(&self) -> impl Iterator<Item = (Pin, &$type)> {
                    self.in_force(Kind::$variant).filter_map(|revision| match &revision.sheet {
                        Sheet::$variant(sheet) => Some((
                            Pin { id: sheet.id.clone(), revision: revision.number },
                            sheet,
                        )),
                        _ => None,
                    })
                }
            )*
        }
    };
}

getters! {
    model models ToolModel ToolModel;
    fastener fasteners Fastener FastenerFamily;
    nose_set nose_sets NoseSet NoseSet;
    gauge gauges Gauge Gauge;
    fault_model fault_models FaultModel FaultModel;
    shop shops Shop ShopCard;
    rig rigs Rig Rig;
}

impl Shelf {
    /// Puts a revision on the shelf; a sheet that was withdrawn is in force again.
    pub fn put(&mut self, sheet: Sheet, text: String) -> u32 {
        let key = (sheet.kind(), sheet.id().to_owned());
        self.withdrawn.remove(&key);
        let lost = self.lost.get(&key).copied().unwrap_or(0);
        let revisions = self.revisions.entry(key).or_default();
        let number = revisions.last().map_or(0, |last| last.number).max(lost) + 1;
        revisions.push(Arc::new(Revision {
            number,
            sheet,
            text,
        }));
        number
    }

    /// Notes a revision whose text no longer reads: its number is taken, no job can be worked to it,
    /// and the sheet is out of force until a revision is put that reads.
    pub fn lose(&mut self, kind: Kind, id: &str, number: u32) {
        self.lost.insert((kind, id.to_owned()), number);
        self.withdraw(kind, id);
    }

    /// The last revision of each sheet that no longer reads.
    pub fn lost(&self) -> impl Iterator<Item = (Kind, Pin)> {
        self.lost.iter().map(|((kind, id), revision)| {
            let pin = Pin {
                id: id.clone(),
                revision: *revision,
            };
            (*kind, pin)
        })
    }

    /// Adds what `body` says of the gauge `id` to its history; `false` if it does not follow on what is there.
    pub fn note_gauge(&mut self, id: &str, body: &Body) -> bool {
        let history = self.histories.entry(id.to_owned()).or_default();
        Arc::make_mut(history).put(body)
    }

    /// What was written of the gauge with this id; `None` if nothing was.
    pub fn gauge_history(&self, id: &str) -> Option<&History> {
        self.histories.get(id).map(Arc::as_ref)
    }

    /// The id of every sheet of `kind` that was ever loaded, also of those that no longer read.
    pub fn ids(&self, kind: Kind) -> impl Iterator<Item = &str> {
        let read = self.revisions.keys();
        let all = read.chain(self.lost.keys());
        all.filter(move |(k, _)| *k == kind)
            .map(|(_, id)| id.as_str())
    }

    /// The fasteners that a tool of `model` sets, by the sheets in force, each once.
    pub fn settable<'a>(
        &'a self,
        model: &'a ToolModel,
    ) -> impl Iterator<Item = (Pin, &'a FastenerFamily)> {
        let settings = model.settings.iter().enumerate();
        settings
            .filter(|(i, s)| {
                let before = &model.settings[..*i];
                before.iter().all(|b| b.fastener != s.fastener)
            })
            .filter_map(|(_, s)| {
                let pin = self.newest(Kind::Fastener, &s.fastener)?;
                let family = self.fastener(&pin)?;
                Some((pin, family))
            })
    }

    /// The kinds of fastener that a tool of `model` sets.
    pub fn settable_kinds(&self, model: &ToolModel) -> Vec<FastenerKind> {
        self.settable(model)
            .map(|(_, family)| family.kind)
            .collect()
    }

    /// Takes a sheet out of force. Jobs that pinned it keep it.
    pub fn withdraw(&mut self, kind: Kind, id: &str) {
        self.withdrawn.insert((kind, id.to_owned()));
    }

    /// Whether the sheet was withdrawn.
    pub fn is_withdrawn(&self, kind: Kind, id: &str) -> bool {
        self.withdrawn.contains(&(kind, id.to_owned()))
    }

    /// The newest revision of each sheet in force.
    pub fn in_force(&self, kind: Kind) -> impl Iterator<Item = &Revision> {
        self.revisions
            .range((kind, String::new())..)
            .take_while(move |((k, _), _)| *k == kind)
            .filter(|(key, _)| !self.withdrawn.contains(key))
            .filter_map(|(_, revisions)| revisions.last().map(Arc::as_ref))
    }

    /// All revisions of one sheet, oldest first.
    pub fn history(&self, kind: Kind, id: &str) -> &[Arc<Revision>] {
        self.revisions
            .get(&(kind, id.to_owned()))
            .map_or(&[], Vec::as_slice)
    }

    /// The pinned revision.
    pub fn pinned(&self, kind: Kind, pin: &Pin) -> Option<&Revision> {
        let history = self.history(kind, &pin.id);
        history
            .iter()
            .find(|revision| revision.number == pin.revision)
            .map(Arc::as_ref)
    }

    /// The pin of the newest revision of a sheet in force.
    pub fn newest(&self, kind: Kind, id: &str) -> Option<Pin> {
        if self.is_withdrawn(kind, id) {
            return None;
        }
        let revision = self.history(kind, id).last()?;
        Some(Pin {
            id: id.to_owned(),
            revision: revision.number,
        })
    }
}
