//! Lists and the find box.

use jiff::civil::date;
use shop::entry::{Body, ReceiptAmended, StepTimed};
use store::{Found, JobFilter, ToolFilter, Which};
use uuid::Uuid;

use crate::Bench;
use crate::sample::{Chance, request, returned, take_in, write};

/// Three jobs of three tools; 1001 handed back, 1003 promised before 1002.
async fn sample() -> (Bench, Vec<Uuid>) {
    let bench = Bench::new().await;
    let mut chance = Chance(1);
    let mut jobs = Vec::new();
    let by = bench.store.person("Ansa").await.expect("a key");
    for (serial, customer) in [
        ("TB-041", "Brennow Rigging"),
        ("tb-042", "Östvik 100% Works"),
        ("AH_7", "Brennow Rigging"),
    ] {
        let customer = bench.store.person(customer).await.expect("a key");
        let (job, tool) = (chance.uuid(), chance.uuid());
        let taken = take_in(&bench.store, serial, job, tool, serial, &customer).await;
        taken.expect("stored");
        jobs.push(job);
    }
    let written = write(&bench.store, request("r", jobs[0], 1, &by), returned(&by)).await;
    written.expect("stored");
    let sooner = ReceiptAmended {
        version: 1,
        counter: None,
        counter_anew: None,
        sold: None,
        first_used: None,
        complaint: "Stalls; slips_now".to_owned(),
        due: Some(date(2026, 11, 26)),
        reason: "asked for sooner".to_owned(),
    };
    let written = write(&bench.store, request("d", jobs[2], 1, &by), sooner.into()).await;
    written.expect("stored");
    (bench, jobs)
}

async fn numbers(bench: &Bench, which: Which, text: &str) -> Vec<u32> {
    let filter = JobFilter {
        which,
        text: text.to_owned(),
        ..JobFilter::default()
    };
    let jobs = bench.store.jobs(&filter).await.expect("jobs");
    jobs.iter().map(|job| job.number).collect()
}

#[tokio::test]
async fn ended_jobs_with_a_timed_step_are_found_by_their_model() {
    let (bench, jobs) = sample().await;
    let store = &bench.store;
    let by = store.person("Ansa").await.expect("a key");
    let timed = |on| -> Body {
        StepTimed {
            step: "off-nose".to_owned(),
            on,
        }
        .into()
    };
    let found = async || store.timed_jobs("tulvane-tb-32", 9).await.expect("jobs");
    // 1001 has ended without a time, 1002 is timed and open.
    let written = write(store, request("t", jobs[1], 1, &by), timed(true)).await;
    written.expect("stored");
    assert!(found().await.is_empty());
    for (at, key) in [(1, "e2"), (2, "e3")] {
        let version = if at == 1 { 2 } else { 3 };
        if at == 2 {
            let written = write(store, request("t3", jobs[2], 2, &by), timed(true)).await;
            written.expect("stored");
        }
        let written = write(store, request(key, jobs[at], version, &by), returned(&by)).await;
        written.expect("stored");
    }
    assert_eq!(found().await, [jobs[2], jobs[1]], "the newest first");
    assert_eq!(
        store.timed_jobs("tulvane-tb-32", 1).await.expect("jobs"),
        [jobs[2]]
    );
    let others = store.timed_jobs("orrinbeck-ah-21", 9).await.expect("jobs");
    assert!(others.is_empty());
}

#[tokio::test]
async fn open_jobs_come_in_the_order_of_their_promise() {
    let (bench, _) = sample().await;
    assert_eq!(numbers(&bench, Which::Open, "").await, [1003, 1002]);
    assert_eq!(numbers(&bench, Which::All, "").await, [1003, 1002, 1001]);
    let page = JobFilter {
        which: Which::All,
        limit: 1,
        offset: 1,
        ..JobFilter::default()
    };
    let page = bench.store.jobs(&page).await.expect("jobs");
    assert_eq!(page.iter().map(|j| j.number).collect::<Vec<_>>(), [1002]);
}

#[tokio::test]
async fn text_is_searched_literally_and_in_any_case() {
    let (bench, _) = sample().await;
    assert_eq!(numbers(&bench, Which::All, "TB-04").await, [1002, 1001]);
    assert_eq!(numbers(&bench, Which::All, "brennow").await, [1003, 1001]);
    assert_eq!(numbers(&bench, Which::All, "östVIK").await, [1002]);
    assert_eq!(numbers(&bench, Which::All, "1003").await, [1003]);
    assert_eq!(numbers(&bench, Which::All, "slips_").await, [1003]);
    assert_eq!(numbers(&bench, Which::All, "slips%now").await, [0; 0]);
    assert_eq!(numbers(&bench, Which::All, "' OR 1=1 --").await, [0; 0]);
    assert_eq!(numbers(&bench, Which::Open, "TB-041").await, [0; 0]);
}

#[tokio::test]
async fn a_job_is_found_by_number_and_by_tool() {
    let (bench, jobs) = sample().await;
    let job = bench.store.job_by_number(1002).await.expect("jobs");
    let job = job.expect("the job");
    assert_eq!((job.job, job.serial.as_str()), (jobs[1], "tb-042"));
    assert_eq!(job.due, Some(date(2026, 12, 1)));
    assert_eq!(
        bench.store.job(jobs[1]).await.expect("jobs"),
        Some(job.clone())
    );
    let of_tool = bench.store.jobs_of_tool(job.tool).await.expect("jobs");
    assert_eq!(of_tool, [job]);
    assert_eq!(bench.store.job_by_number(7).await.expect("jobs"), None);
    let closed = bench.store.job_by_number(1001).await.expect("jobs");
    let closed = closed.expect("the job").closed.expect("when");
    assert_eq!(closed.to_string(), "2026-11-25T09:30:00.123456Z");
}

#[tokio::test]
async fn tools_are_listed_and_found_by_serial() {
    let (bench, _) = sample().await;
    let all = bench
        .store
        .tools(&ToolFilter::default())
        .await
        .expect("tools");
    let serials: Vec<_> = all.iter().map(|t| t.serial.as_str()).collect();
    assert_eq!(serials, ["AH_7", "TB-041", "tb-042"]);
    let found = bench.store.tools_by_serial(" TB-042").await.expect("tools");
    assert_eq!(found, [all[2].clone()]);
    let found = bench.store.tool(all[0].tool).await.expect("tools");
    assert_eq!(found, Some(all[0].clone()));
    let of_owner = ToolFilter {
        text: "brennow".to_owned(),
        ..ToolFilter::default()
    };
    assert_eq!(bench.store.tools(&of_owner).await.expect("tools").len(), 2);
}

#[tokio::test]
async fn the_find_box_takes_number_serial_or_name() {
    let (bench, _) = sample().await;
    let found = |text: &'static str| {
        let store = bench.store.clone();
        async move {
            let found = store.find(text).await.expect("found");
            let name = |one: &Found| match one {
                Found::Job(job) => format!("job {}", job.number),
                Found::Tool(tool) => format!("tool {}", tool.serial),
            };
            found.iter().map(name).collect::<Vec<_>>()
        }
    };
    assert_eq!(found("1002").await, ["job 1002"]);
    assert_eq!(found(" #1001 ").await, ["job 1001"]);
    assert_eq!(found("tb-0").await, ["tool TB-041", "tool tb-042"]);
    assert_eq!(found("ah_").await, ["tool AH_7"]);
    assert_eq!(found("Rigg").await, ["job 1003", "job 1001"]);
    assert_eq!(found("  ").await, [""; 0]);
    assert_eq!(found("%").await, ["job 1002"], "the sign itself, in a name");
}
