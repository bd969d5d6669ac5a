//! Simulated jobs on every core; the same for the same seed on any number of them.

use calc::Message;
use rayon::prelude::*;
use shop::diagnosis::Costs;
use shop::diagnosis::plan::EFFORT;
use shop::diagnosis::simulate::{Bench, Drawn, Followed, Until, Way, follow, learn, other_shop};
use shop::sheet::{Drive, FaultModel, Sheet, Shelf, ShopCard, ToolModel};

use crate::draws::uniforms;
use crate::failure::Failure;
use crate::print::say;
use crate::sheets::File;

/// Jobs that share one stream of random numbers.
const IN_A_STREAM: u32 = 50;

/// More checks than any job takes.
const TO_THE_END: usize = 40;

/// How jobs come to the fault-finder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Job {
    /// With what the crew reports.
    Reported,
    /// The crew was asked for every sign, and the tests as found were made.
    Prepared,
    /// The same, and pulls were recorded as found.
    Recorded,
    /// The same, and what the hands hold already is looked at in one go, as the page offers it.
    InOneGo,
}

impl Job {
    /// Every row of the table.
    pub const ALL: [Self; 4] = [
        Self::Reported,
        Self::Prepared,
        Self::Recorded,
        Self::InOneGo,
    ];

    /// In words.
    pub fn name(self) -> Message {
        Message::new(match self {
            Self::Reported => "follow-reported",
            Self::Prepared => "follow-prepared",
            Self::Recorded => "follow-recorded",
            Self::InOneGo => "follow-in-one-go",
        })
    }

    fn way(self) -> Way {
        Way {
            most_checks: TO_THE_END,
            until: Until::Plan,
            asked: self != Self::Reported,
            as_found: self != Self::Reported,
            recorded: matches!(self, Self::Recorded | Self::InOneGo),
            in_one_go: self == Self::InOneGo,
            effort: EFFORT,
        }
    }
}

/// Sheets that jobs are drawn from.
pub struct Shop {
    faults: FaultModel,
    card: ShopCard,
    tools: Vec<ToolModel>,
    shelf: Shelf,
}

impl Shop {
    /// The first fault model and shop card of `sheets`, and the first tool of each drive.
    pub fn of(sheets: Vec<(String, Sheet)>, files: &[File]) -> Result<Self, Failure> {
        let mut shelf = Shelf::default();
        let (mut faults, mut card, mut tools) = (None, None, Vec::<ToolModel>::new());
        for ((_, sheet), file) in sheets.into_iter().zip(files) {
            match &sheet {
                Sheet::FaultModel(model) => faults = faults.or_else(|| Some(model.clone())),
                Sheet::Shop(shop) => card = card.or_else(|| Some(shop.clone())),
                Sheet::ToolModel(tool) if tools.iter().all(|t| t.drive != tool.drive) => {
                    tools.push(tool.clone());
                }
                _ => {}
            }
            shelf.put(sheet, file.text.clone());
        }
        let missing = |what: &'static str| {
            let text = Message::new("follow-no-sheet").with("kind", what);
            Failure::refused(say(&text))
        };
        if tools.is_empty() {
            return Err(missing("tool-model"));
        }
        Ok(Self {
            faults: faults.ok_or_else(|| missing("fault-model"))?,
            card: card.ok_or_else(|| missing("shop"))?,
            tools,
            shelf,
        })
    }

    /// Drives that there is a tool of.
    pub fn drives(&self) -> impl Iterator<Item = Drive> {
        let drives = Drive::ALL.into_iter();
        drives.filter(|drive| self.tools.iter().any(|t| t.drive == *drive))
    }

    fn tool(&self, drive: Drive) -> &ToolModel {
        let mut tools = self.tools.iter();
        tools.find(|t| t.drive == drive).unwrap_or(&self.tools[0])
    }

    /// `jobs` jobs on `drive`.
    pub fn follow(&self, drive: Drive, job: Job, jobs: u32, seed: u64) -> Followed {
        let tool = self.tool(drive);
        let costs = Costs::of(&self.card, tool);
        let bench = Bench {
            truth: &self.faults,
            tool,
            shelf: &self.shelf,
            costs: &costs,
            way: job.way(),
        };
        let streams: Vec<u32> = (0..jobs.div_ceil(IN_A_STREAM)).collect();
        let followed: Vec<Followed> = streams
            .par_iter()
            .map(|stream| {
                let count = IN_A_STREAM.min(jobs - stream * IN_A_STREAM) as usize;
                follow(&bench, &self.faults, count, &mut uniforms(seed, *stream))
            })
            .collect();
        // Added up in the order of the streams, so that the sum is the same on any machine.
        followed
            .into_iter()
            .fold(Followed::default(), Followed::and)
    }

    /// Shops of `drive` that learn. In each of them every cause is up to `most` times as frequent, or as rare, as the
    /// sheet says. What came of its measured jobs, which are the same, with the sheet alone and after each of the lots.
    pub fn learn(
        &self,
        drive: Drive,
        (shops, most): (u32, f64),
        (lots, measured): (&[usize], usize),
        seed: u64,
    ) -> Vec<Vec<Followed>> {
        let tool = self.tool(drive);
        let costs = Costs::of(&self.card, tool);
        let way = Way {
            until: Until::Right,
            ..Job::Reported.way()
        };
        let streams: Vec<u32> = (0..shops).collect();
        let of_shop = |stream: &u32| {
            let mut uniform = uniforms(seed, *stream);
            let truth = other_shop(&self.faults, most, &mut uniform);
            let bench = Bench {
                truth: &truth,
                tool,
                shelf: &self.shelf,
                costs: &costs,
                way,
            };
            let measured: Vec<Drawn> = (0..measured).map(|_| bench.drawn(&mut uniform)).collect();
            learn(&bench, &self.faults, lots, &measured, &mut uniform).0
        };
        streams.par_iter().map(of_shop).collect()
    }
}
