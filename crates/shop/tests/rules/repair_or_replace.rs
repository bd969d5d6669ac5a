//! Repair or replace: what the year costs, from the counter's history and the sheet.

use jiff::Timestamp;
use jiff::civil::{Date, date};
use jiff::tz::TimeZone;
use proptest::prelude::*;
use rust_decimal::Decimal;
use shop::entry::{EstimateMade, PriceLine, TaxRule};
use shop::job::Job;
use shop::labour::Times;
use shop::repair_or_replace::{Compared, compare};
use shop::sheet::ToolModel;

use crate::bench::{Bench, model};

const TB: &str = "tulvane-tb-32";

fn day_of(at: Timestamp) -> Date {
    at.to_zoned_datetime(TimeZone::UTC).date()
}

fn priced() -> ToolModel {
    ToolModel {
        price_new: Some(Decimal::from(1500)),
        life_years: Some(6.0),
        ..model(TB).clone()
    }
}

fn quote(each: i64) -> EstimateMade {
    EstimateMade {
        lines: vec![PriceLine {
            what: "Collet".to_owned(),
            number: "CR8".to_owned(),
            count: Decimal::ONE,
            each: Decimal::from(each),
            ..PriceLine::default()
        }],
        tax_percent: Decimal::from(20),
        tax_rule: TaxRule::PerLine,
        ..EstimateMade::default()
    }
}

/// Sold a year before the test's day, now at `counter`.
fn job(counter: Option<u64>, sold: Option<Date>) -> Job {
    let mut job = Bench::received(TB, &["jaws-slip"])
        .found("collet-teeth-worn")
        .job();
    job.received.body.counter = counter;
    job.received.body.sold = sold;
    job
}

fn year(counter: u64) -> Job {
    job(Some(counter), Some(date(2025, 11, 25)))
}

fn of(job: &Job, each: i64) -> Compared {
    let hour = Decimal::from(60);
    let found = compare(job, &priced(), &quote(each), &[], hour, day_of);
    found.expect("the sheet knows").expect("the history tells")
}

#[test]
fn by_hand() {
    // 50 000 pulls in 365 days. The throat of the anvil lasts 60 000: 10 000 are left, so it is renewed
    // once (the second would come 60 000 later). The spring's 100 000 end with the year: renewed once.
    // The screw's 300 000 do not. The collet is in the quote.
    let found = of(&year(50_000), 200);
    assert_eq!(found.pulls_a_year, 50_000);
    let told: Vec<(&str, u64, u64)> = found
        .renewals
        .iter()
        .map(|r| (r.part.as_str(), r.left, r.times))
        .collect();
    let name = |id: &str| priced().part(id).expect("a part").name.clone();
    assert_eq!(
        told,
        [
            (name("anvil").as_str(), 10_000, 1),
            (name("ejector-spring").as_str(), 50_000, 1)
        ]
    );
    let wear: Decimal = found.renewals.iter().map(|r| r.cost).sum();
    // 200 before tax, and 5 % of it for a come-back.
    assert_eq!(found.repair, Decimal::from(210) + wear);
    assert_eq!(found.new, Decimal::from(250), "1500 over 6 years");
}

#[test]
fn a_part_that_lasts_half_a_year_is_renewed_twice() {
    // 130 000 in the year, 130 000 on the anvil: 0 left, now and after 60 000 and 120 000 more.
    let found = of(&year(130_000), 0);
    assert_eq!((found.renewals[0].left, found.renewals[0].times), (0, 3));
}

#[test]
fn without_the_sheet_s_word_nothing_is_said_and_without_history_why_not() {
    let hour = Decimal::from(60);
    let with = |model: &ToolModel, job: &Job| compare(job, model, &quote(1), &[], hour, day_of);
    for (price_new, life_years) in [(None, Some(6.0)), (Some(Decimal::ONE), None)] {
        let model = ToolModel {
            price_new,
            life_years,
            ..priced()
        };
        assert_eq!(with(&model, &year(50_000)), None);
    }
    for job in [
        job(None, Some(date(2025, 11, 25))),
        job(Some(50_000), None),
        // 29 days tell nothing of a year.
        job(Some(50_000), Some(date(2026, 10, 27))),
    ] {
        let told = with(&priced(), &job)
            .expect("the sheet knows")
            .expect_err("no history");
        assert_eq!(told.id, "compare-no-history");
    }
    assert!(
        with(&priced(), &job(Some(50_000), Some(date(2026, 10, 26)))).is_some_and(|c| c.is_ok())
    );
}

#[test]
fn an_earlier_visit_gives_the_history_and_says_what_was_renewed() {
    let mut earlier = job(Some(40_000), None);
    earlier.received.at = "2025-11-25T09:00:00Z".parse().expect("a time");
    let now = job(Some(50_000), None);
    let hour = Decimal::from(60);
    let found = compare(&now, &priced(), &quote(1), &[earlier], hour, day_of);
    let found = found.expect("the sheet knows").expect("two readings");
    assert_eq!(found.pulls_a_year, 10_000);
    // 60 000 − 50 000 are just used up within the year.
    assert_eq!(found.renewals.len(), 1);
}

#[test]
fn what_is_due_within_the_year_is_offered_and_no_more() {
    use shop::entry::OptionKind;
    use shop::repair_or_replace::due_within_a_year;
    let job = year(50_000);
    let due = due_within_a_year(&job, model(TB), &[], day_of).expect("a history");
    // The collet's 20 000 are long over; it is in the repair, so it is not offered twice.
    assert_eq!(due, ["anvil", "collet", "ejector-spring"]);
    let hour = Decimal::from(60);
    let faults = crate::bench::faults();
    let offered = |due: Option<&[String]>| -> Vec<String> {
        let (kind, times) = (OptionKind::AddOn, Times::default());
        let lines = shop::quote::proposed(&job, model(TB), faults, hour, kind, due, &times);
        lines.into_iter().filter_map(|line| line.part).collect()
    };
    assert_eq!(offered(Some(&due)), ["anvil", "ejector-spring"]);
    assert_eq!(offered(None), ["anvil", "ejector-spring", "ball-screw"]);
    assert_eq!(
        due_within_a_year(&self::job(None, None), model(TB), &[], day_of),
        None
    );
}

proptest! {
    #[test]
    fn a_dearer_repair_or_more_pulls_never_make_the_year_cheaper(
        counter in 1_000u64..400_000, more in 0u64..100_000, each in 0i64..1_000, dearer in 0i64..1_000,
    ) {
        let base = of(&year(counter), each);
        prop_assert!(of(&year(counter), each + dearer).repair >= base.repair);
        prop_assert!(of(&year(counter + more), each).repair >= base.repair);
        prop_assert_eq!(of(&year(counter), each).new, base.new);
    }
}
