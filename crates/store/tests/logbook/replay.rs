//! Replay equals tables, whatever the sequence of entries.

use proptest::prelude::*;
use proptest::test_runner::Config;
use shop::entry::{Body, PersonKey};
use store::{JobFilter, Request, ToolFilter, Which};
use uuid::Uuid;

use crate::Bench;
use crate::sample::{receive, register, request, returned, work};

/// One thing that happens in the shop.
#[derive(Clone, Debug)]
enum Act {
    /// A tool is taken in; a tool that was not there before is registered with it.
    TakeIn { tool: u8, owner: u8 },
    /// Entries to one job, in one submission.
    Work { job: u8, choices: Vec<u64> },
    /// A job ends.
    HandBack { job: u8 },
    /// An entry to a tool of its own.
    Note { tool: u8 },
    /// One submission that writes to two jobs.
    Both { first: u8, second: u8, choice: u64 },
    /// The record is closed and opened.
    Reopen,
}

fn acts() -> impl Strategy<Value = Vec<Act>> {
    let act = prop_oneof![
        4 => (0..4u8, 0..3u8).prop_map(|(tool, owner)| Act::TakeIn { tool, owner }),
        6 => (0..6u8, prop::collection::vec(0..1000u64, 0..4))
            .prop_map(|(job, choices)| Act::Work { job, choices }),
        2 => (0..6u8).prop_map(|job| Act::HandBack { job }),
        1 => (0..4u8).prop_map(|tool| Act::Note { tool }),
        2 => (0..6u8, 0..6u8, 0..1000u64)
            .prop_map(|(first, second, choice)| Act::Both { first, second, choice }),
        1 => Just(Act::Reopen),
    ];
    prop::collection::vec(act, 1..25)
}

/// The record under test, with what has been written to it.
struct Shop {
    bench: Bench,
    people: Vec<PersonKey>,
    jobs: Vec<Uuid>,
    tools: Vec<u8>,
    written: usize,
}

fn tool_id(tool: u8) -> Uuid {
    Uuid::from_u128(0x7001 + u128::from(tool))
}

impl Shop {
    async fn new() -> Self {
        let bench = Bench::new().await;
        let mut people = Vec::new();
        for name in ["Ansa", "Joren", "Mirel"] {
            people.push(bench.store.person(name).await.expect("a key"));
        }
        Self {
            bench,
            people,
            jobs: Vec::new(),
            tools: Vec::new(),
            written: 0,
        }
    }

    fn job(&self, pick: u8) -> Option<Uuid> {
        let pick = usize::from(pick).checked_rem(self.jobs.len())?;
        self.jobs.get(pick).copied()
    }

    async fn version(&self, subject: Uuid) -> u32 {
        let entries = self.bench.store.entries(subject).await.expect("entries");
        entries.last().map_or(0, |last| last.entry.version)
    }

    async fn write(&mut self, subject: Uuid, drafts: Vec<(Uuid, Body)>) {
        self.written += 1;
        let version = self.version(subject).await;
        let key = self.written.to_string();
        let request: Request = request(&key, subject, version, &self.people[0]);
        let written = self.bench.store.append::<()>(request, |_| Ok(drafts)).await;
        written.expect("stored");
    }

    async fn act(mut self, act: Act) -> Self {
        match act {
            Act::TakeIn { tool, owner } => {
                let job = Uuid::from_u128(0x1_0000 + self.jobs.len() as u128);
                let number = u32::try_from(self.jobs.len()).expect("few") + 1001;
                let customer = self.people[usize::from(owner)].clone();
                let serial = format!("TB-{tool}");
                let mut drafts = Vec::new();
                if !self.tools.contains(&tool) {
                    drafts.push((tool_id(tool), register(&serial, &customer)));
                    self.tools.push(tool);
                }
                drafts.push((job, receive(number, tool_id(tool), &serial, &customer)));
                self.jobs.push(job);
                self.write(job, drafts).await;
            }
            Act::Work { job, choices } => {
                if let Some(job) = self.job(job) {
                    let drafts = choices.iter().map(|c| (job, work(*c))).collect();
                    self.write(job, drafts).await;
                }
            }
            Act::HandBack { job } => {
                if let Some(job) = self.job(job) {
                    let body = returned(&self.people[1]);
                    self.write(job, vec![(job, body)]).await;
                }
            }
            Act::Note { tool } => {
                self.write(tool_id(tool), vec![(tool_id(tool), work(2))])
                    .await
            }
            Act::Both {
                first,
                second,
                choice,
            } => {
                if let (Some(first), Some(second)) = (self.job(first), self.job(second)) {
                    let drafts = vec![(second, work(choice)), (first, work(choice + 1))];
                    self.write(first, drafts).await;
                }
            }
            Act::Reopen => self.bench = self.bench.reopened().await,
        }
        self
    }
}

async fn replay_equals_tables(acts: Vec<Act>) {
    let mut shop = Shop::new().await;
    for act in acts {
        shop = shop.act(act).await;
    }
    let store = &shop.bench.store;
    let report = store.verify().await.expect("report");
    assert!(report.is_clean(), "{:#?}", report.differences);
    let all = JobFilter {
        which: Which::All,
        ..JobFilter::default()
    };
    let jobs = store.jobs(&all).await.expect("jobs");
    let tools = store.tools(&ToolFilter::default()).await.expect("tools");
    assert_eq!(jobs.len(), shop.jobs.len(), "every job has its row");
    let lessons = store.lessons();
    let rebuilt = store.rebuild().await.expect("rebuilt");
    let by_job = |mut lessons: Vec<shop::learning::Lesson>| {
        lessons.sort_by_key(|lesson| lesson.job);
        lessons
    };
    assert_eq!(by_job(store.lessons().to_vec()), by_job(lessons.to_vec()));
    assert_eq!(rebuilt.jobs, jobs.len() as u64);
    assert_eq!(store.jobs(&all).await.expect("jobs"), jobs);
    assert_eq!(
        store.tools(&ToolFilter::default()).await.expect("tools"),
        tools
    );
}

#[test]
fn replay_equals_tables_for_any_sequence() {
    // `PROPTEST_CASES` asks for more; a failure prints the sequence and its seed.
    let cases = std::env::var("PROPTEST_CASES")
        .ok()
        .and_then(|n| n.parse().ok());
    let config = Config {
        cases: cases.unwrap_or(24),
        failure_persistence: None,
        ..Config::default()
    };
    let runtime = tokio::runtime::Runtime::new().expect("a runtime");
    proptest!(config, |(acts in acts())| {
        runtime.block_on(replay_equals_tables(acts));
    });
}
