//! A test bench: the demo sheets on a shelf, one job, commands decided and folded.

use std::sync::OnceLock;

use jiff::civil::{Date, date};
use jiff::tz::TimeZone;
use jiff::{Timestamp, ToSpan};
use shop::counter::AnewIn;
use shop::diagnosis::Seen;
use shop::entry::{Body, Entry, PackState, PersonKey, Said};
use shop::job::{
    Command, Desk, Job, Measured, ReceiveIn, SetUpSheets, TypedValue, decide, make_safe_ticks,
    receive,
};
use shop::setting;
use shop::sheet::{self, FaultModel, Pin, Shelf, ToolModel};
use uuid::Uuid;

use crate::demo_sheets::demo_files;

/// The day of every test.
pub const TODAY: Date = date(2026, 11, 25);

static ZONE: TimeZone = TimeZone::UTC;

/// The demo sheets.
pub fn shelf() -> &'static Shelf {
    static SHELF: OnceLock<Shelf> = OnceLock::new();
    SHELF.get_or_init(|| {
        let mut shelf = Shelf::default();
        for (name, text) in demo_files() {
            let sheet = sheet::read(&name, &text);
            shelf.put(sheet.expect("a demo sheet without mistakes"), text);
        }
        shelf
    })
}

fn first(id: &str) -> Pin {
    Pin {
        id: id.to_owned(),
        revision: 1,
    }
}

pub fn model(id: &str) -> &'static ToolModel {
    shelf().model(&first(id)).expect("a demo model")
}

pub fn faults() -> &'static FaultModel {
    shelf().fault_model(&first("workshop")).expect("the demo's")
}

pub fn desk() -> Desk<'static> {
    Desk {
        shelf: shelf(),
        now: "2026-11-25T09:00:00Z".parse().expect("a time"),
        today: TODAY,
        zone: &ZONE,
        learned: None,
        worn: &[],
    }
}

/// The sheets in force of a set-up with this model.
pub fn sheets<'a>(model: &'a ToolModel, nose: &str, fastener: &str) -> SetUpSheets<'a> {
    let shelf = shelf();
    let nose = shelf.nose_sets().find(|(_, n)| n.id == nose);
    let fastener = shelf.fasteners().find(|(_, f)| f.id == fastener);
    let (nose, fastener) = (nose.expect("a demo set").1, fastener.expect("a demo pin").1);
    let rule = setting::rule(model, nose, fastener);
    SetUpSheets {
        model,
        fastener,
        code: None,
        nose,
        rule,
    }
}

pub fn person(name: &str) -> PersonKey {
    PersonKey(name.to_owned())
}

/// Values typed from a gauge.
pub fn measured(gauge: &str, values: &[f64]) -> Measured {
    let typed = |(i, value): (usize, &f64)| TypedValue {
        field: format!("reading-{}", i + 1),
        raw: value.to_string(),
        value: *value,
    };
    Measured {
        gauge: gauge.to_owned(),
        gauge_field: "gauge".to_owned(),
        values: values.iter().enumerate().map(typed).collect(),
    }
}

/// What a complete tool of `model` is received with.
pub fn receipt(model: &ToolModel, symptoms: &[&str]) -> ReceiveIn {
    ReceiveIn {
        customer: Some(person("customer")),
        model: model.id.clone(),
        serial: "T-1".to_owned(),
        new_tool: true,
        counter: Some(12_000),
        anew: AnewIn::default(),
        sold: Some(date(2026, 2, 1)),
        first_used: None,
        complaint: "It does not do as it should".to_owned(),
        symptoms: symptoms.iter().map(|s| (*s).to_owned()).collect(),
        came: model.kit.iter().map(|k| k.count).collect(),
        // A pack comes with every complete tool that has one.
        pack: match model.pack {
            Some(_) => PackState::Sound,
            None => PackState::None,
        },
        made_safe: make_safe_ticks(model.drive)
            .iter()
            .map(|t| (*t).to_owned())
            .collect(),
        due: None,
    }
}

/// One job on the bench.
pub struct Bench {
    pub entries: Vec<Entry>,
    pub desk: Desk<'static>,
}

impl Bench {
    /// A complete tool just taken in.
    pub fn received(model_id: &str, symptoms: &[&str]) -> Self {
        Self::taken_in(&receipt(model(model_id), symptoms))
    }

    /// A tool just taken in as `input` says.
    pub fn taken_in(input: &ReceiveIn) -> Self {
        let id = Uuid::from_u128(7);
        let bodies = receive(input, &[], id, 1, Uuid::from_u128(8), &desk());
        let bodies = bodies.expect("taken in");
        let mut bench = Self {
            entries: Vec::new(),
            desk: desk(),
        };
        bench.write(bodies.into_iter().filter(|b| b.0 == id).map(|b| b.1));
        bench
    }

    /// Writes `bodies` down as they come.
    pub fn write(&mut self, bodies: impl IntoIterator<Item = Body>) {
        // What is written in one go is written at one time.
        let at = self.now() + 1.minute();
        for body in bodies {
            let version = u32::try_from(self.entries.len()).expect("few") + 1;
            self.entries.push(Entry {
                subject: Uuid::from_u128(7),
                version,
                at,
                by: person("bench"),
                body,
            });
        }
    }

    fn now(&self) -> Timestamp {
        self.entries.last().map_or(self.desk.now, |e| e.at)
    }

    /// The job as its entries tell it.
    pub fn job(&self) -> Job {
        Job::fold(&self.entries).expect("a job")
    }

    /// What the fault-finder is told.
    pub fn seen(&self) -> Seen {
        Seen::of(&self.job(), faults(), self.model(), &self.desk)
    }

    pub fn model(&self) -> &'static ToolModel {
        model(&self.job().received.body.model.id)
    }

    /// Does `command`; gives the version of the last entry that it wrote.
    #[track_caller]
    pub fn does(&mut self, command: Command) -> u32 {
        match decide(&self.job(), command.clone(), &self.desk) {
            Ok(bodies) => {
                self.write(bodies);
                self.job().version
            }
            Err(refusals) => panic!("{command:?} is refused: {refusals:?}"),
        }
    }

    /// Why `command` is refused: `field: text`, of each refusal.
    #[track_caller]
    pub fn refused(&self, command: Command) -> Vec<String> {
        match decide(&self.job(), command.clone(), &self.desk) {
            Ok(_) => panic!("{command:?} is not refused"),
            Err(refusals) => refusals
                .iter()
                .map(|r| format!("{}: {}", r.field, r.message.id))
                .collect(),
        }
    }

    /// Holds that `command` is refused for this reason alone.
    #[track_caller]
    pub fn refuses(&self, command: Command, why: &str) {
        assert_eq!(self.refused(command), [why]);
    }
}

/// A check, answered.
pub fn check(id: &str, answer: Said) -> Command {
    Command::AnswerCheck {
        check: id.to_owned(),
        answer,
        note: String::new(),
        made_safe: crate::walk::safe(),
        beside: Vec::new(),
    }
}

/// An entry, struck.
pub fn strike(version: u32) -> Command {
    Command::Strike {
        version,
        reason: "misread".to_owned(),
    }
}

/// A message's values as text, for a look at one of them.
pub fn arg(message: &calc::Message, name: &str) -> String {
    let found = message.args.iter().find(|(n, _)| *n == name);
    match found.map(|(_, value)| value) {
        Some(calc::message::Arg::Text(text)) => text.clone(),
        other => format!("{other:?}"),
    }
}
