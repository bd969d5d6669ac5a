//! Repair or replace: what a year costs, from the counter's history, the readings and the sheet.

use calc::learned_share::Cases;
use jiff::civil::{Date, date};
use proptest::prelude::*;
use rust_decimal::Decimal;
use shop::entry::{
    Body, CompareRule, Cover, Discount, EstimateMade, OptionKind, PriceLine, QuoteOption, TaxRule,
    WarrantyJudged,
};
use shop::job::{Desk, Job, ReceiveIn};
use shop::labour::Times;
use shop::quote::{as_issued, as_it_stood};
use shop::repair_or_replace::{Compared, Known, Renewals, compare, of_a_year};
use shop::sheet::ToolModel;

use crate::bench::{Bench, desk, model, receipt};
use crate::walk;

const TB: &str = "tulvane-tb-32";

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

/// What is known at the bench: 60 an hour.
fn known<'a>(model: &'a ToolModel, earlier: &'a [Job], desk: &'a Desk) -> Known<'a> {
    Known {
        model,
        earlier,
        per_hour: Decimal::from(60),
        come_backs: Cases::default(),
        desk,
    }
}

fn of(job: &Job, each: i64) -> Compared {
    let (priced, desk) = (priced(), desk());
    let found = compare(job, &quote(each), &known(&priced, &[], &desk));
    found.expect("the sheet knows").expect("the history tells")
}

/// Part, pulls left, renewals in the repaired tool and in a new one.
fn told(found: &Compared) -> Vec<(&str, u64, u64, u64)> {
    let renewals = found.renewals.iter();
    renewals
        .map(|r| (r.part.as_str(), r.left, r.times, r.times_new))
        .collect()
}

fn name(id: &str) -> String {
    priced().part(id).expect("a part").name.clone()
}

#[test]
fn by_hand() {
    // 50 000 pulls in 365 days: 300 000 in the 6 years that a new tool lasts. The throat of the anvil lasts 60 000:
    // 10 000 are left, 1 + ⌊290 000 / 60 000⌋ = 5, and 5 in a new one. The spring's 100 000: 50 000 are left, 3 in
    // either. The screw's 300 000 end with the horizon in a new one, sooner here: once in either. The collet is in the
    // quote, so it begins new here, too: 20 000, 15 in either.
    let found = of(&year(50_000), 200);
    assert_eq!((found.pulls_a_year, found.years), (50_000, 6.0));
    let by_name = |id: &str| {
        let name = name(id);
        let of = told(&found).into_iter().find(|(part, ..)| *part == name);
        let (_, left, times, times_new) = of.expect("renewed");
        (left, times, times_new)
    };
    assert_eq!(by_name("anvil"), (10_000, 5, 5));
    assert_eq!(by_name("ejector-spring"), (50_000, 3, 3));
    assert_eq!(by_name("ball-screw"), (250_000, 1, 1));
    assert_eq!(by_name("collet"), (20_000, 15, 15));
    assert_eq!(found.renewals.len(), 4);
    // The same wear in both: they differ by 200 and 5 % of it for a come-back against 1500, over 6 years.
    let wear: Decimal = found.renewals.iter().map(|r| r.cost).sum();
    let a_year = |sum: Decimal| (sum / Decimal::from(6)).round_dp(2);
    assert_eq!(found.repair, a_year(Decimal::from(210) + wear));
    assert_eq!(found.new, a_year(Decimal::from(1500) + wear));
    // 210 of 1500, of 6 years.
    let even = found.even_years.expect("it pays");
    assert!((even - 0.84).abs() < 1e-9, "{even}");
}

#[test]
fn the_wear_of_an_old_tool_alone_never_speaks_for_a_new_one_with_the_same_parts() {
    // Ten years at the counter: all is worn out, and much is renewed. A new tool wears alike.
    let found = of(&year(300_000), 0);
    assert!(found.renewals.iter().all(|r| r.times_new > 0));
    assert!(found.repair < found.new, "{found:?}");
    // As quotes of before compared it: the wear of the old tool alone.
    let (priced, desk) = (priced(), desk());
    let before = of_a_year::compare(&year(300_000), &quote(0), &known(&priced, &[], &desk));
    let before = before.expect("the sheet knows").expect("the history tells");
    assert!(before.repair > before.new, "{before:?}");
}

#[test]
fn a_quote_of_before_keeps_what_it_says() {
    // 50 000 in the year. 10 000 of the anvil's and 50 000 of the spring's are left: renewed once each.
    let (priced, desk) = (priced(), desk());
    let found = of_a_year::compare(&year(50_000), &quote(200), &known(&priced, &[], &desk));
    let found = found.expect("the sheet knows").expect("the history tells");
    let told: Vec<(&str, u64, u64)> = found
        .renewals
        .iter()
        .map(|r| (r.part.as_str(), r.left, r.times))
        .collect();
    let (anvil, spring) = (name("anvil"), name("ejector-spring"));
    assert_eq!(
        told,
        [(anvil.as_str(), 10_000, 1), (spring.as_str(), 50_000, 1)]
    );
    let wear: Decimal = found.renewals.iter().map(|r| r.cost).sum();
    assert_eq!(found.repair, Decimal::from(210) + wear);
    assert_eq!(found.new, Decimal::from(250), "1500 over 6 years");
    let stored = r#"{"lines":[],"tax_percent":"0","currency":"USD","note":""}"#;
    let of_before: EstimateMade = serde_json::from_str(stored).expect("reads");
    assert_eq!(of_before.compare_rule, CompareRule::OfAYear);
}

/// The quote of `each`, with 10 % off: the anvil along with it for 40, and a new tool for 1400.
fn three(each: i64) -> EstimateMade {
    let option = |kind| QuoteOption {
        name: String::new(),
        kind,
    };
    let line = |number: &str, each: i64, option| PriceLine {
        number: number.to_owned(),
        count: Decimal::ONE,
        each: Decimal::from(each),
        option,
        ..PriceLine::default()
    };
    EstimateMade {
        lines: vec![
            line("CR8", each, 0),
            line("TB32-110", 40, 1),
            line("", 1400, 2),
        ],
        options: vec![
            option(OptionKind::Work),
            option(OptionKind::AddOn),
            option(OptionKind::Instead),
        ],
        discount: Some(Discount {
            percent: Decimal::TEN,
            reason: "old friend".to_owned(),
        }),
        compare_rule: CompareRule::AsOffered,
        ..quote(each)
    }
}

fn compared(job: &Job, quote: &EstimateMade, model: &ToolModel) -> Option<Compared> {
    let desk = desk();
    let found = compare(job, quote, &known(model, &[], &desk))?;
    Some(found.expect("the history tells"))
}

#[test]
fn a_new_tool_counts_at_the_price_at_which_the_quote_offers_it() {
    let dec = Decimal::from;
    let by_hand = |quote: &EstimateMade| {
        let found = compared(&year(50_000), quote, &priced()).expect("compared");
        (found.paid, found.price, found.is_offered)
    };
    // 200 less 10 %, 1400 less 10 %.
    assert_eq!(by_hand(&three(200)), (dec(180), dec(1260), true));
    // A quote of before keeps the price of the sheet, and one that offers no new tool has no other.
    let before = EstimateMade {
        compare_rule: CompareRule::OverALife,
        ..three(200)
    };
    assert_eq!(by_hand(&before), (dec(180), dec(1500), false));
    let mut without = three(200);
    without.options.pop();
    without.lines.pop();
    assert_eq!(by_hand(&without), (dec(180), dec(1500), false));
    // The quote knows a price where the sheet does not.
    let listless = ToolModel {
        price_new: None,
        ..priced()
    };
    assert!(compared(&year(50_000), &three(200), &listless).is_some());
    assert!(compared(&year(50_000), &before, &listless).is_none());
}

#[test]
fn what_both_cost_alike_is_told_apart_from_what_differs() {
    let found = compared(&year(60_000), &three(200), &priced()).expect("compared");
    // 360 000 pulls in 6 years. Anvil: 0 of 60 000 left, 1 + ⌊360 000 / 60 000⌋ = 7, new 6. Collet 18, spring
    // ⌊(360 000 − 40 000) / 100 000⌋ + 1 = 4 and 3, screw 1 in either: alike is what the new tool pays.
    let times = |id: &str| {
        let name = name(id);
        let of = told(&found).into_iter().find(|(part, ..)| *part == name);
        of.map(|(_, _, times, times_new)| (times, times_new))
    };
    assert_eq!(times("anvil"), Some((7, 6)));
    assert_eq!(times("ejector-spring"), Some((4, 3)));
    let sum = |of: fn(&Renewals) -> Decimal| found.renewals.iter().map(of).sum::<Decimal>();
    let (wear, alike) = (sum(|r| r.cost), sum(|r| r.cost_new));
    assert!(wear > alike);
    let a_year = |sum: Decimal| (sum / Decimal::from(6)).round_dp(2);
    // 180 and 5 % of it, and the two renewals more; 1260 for the new tool.
    assert_eq!(
        found.repair_beside,
        a_year(Decimal::from(189) + wear - alike)
    );
    assert_eq!(found.new_beside, Decimal::from(210));
    let off = found.alike - a_year(alike);
    assert!(off.abs() <= Decimal::new(1, 2), "{off}");
}

#[test]
fn a_repair_that_costs_nothing_is_told_no_time_that_it_must_last() {
    let paid = compared(&year(50_000), &three(200), &priced()).expect("compared");
    assert!(paid.even_years.is_some_and(|years| years > 0.0));
    let mut job = year(50_000);
    let mut bench = Bench::received(TB, &["jaws-slip"]).found("collet-teeth-worn");
    bench.does(walk::warranty());
    job.warranty = bench.job().warranty;
    let judged = job.warranty.as_mut().expect("judged");
    judged.body.cover = Cover::Covered;
    let free = compared(&job, &three(200), &priced()).expect("compared");
    assert_eq!((free.paid, free.even_years), (Decimal::ZERO, None));
    assert!(free.working.steps.iter().all(|step| step.symbol != "H"));
}

#[test]
fn what_was_renewed_already_along_with_the_repair_is_paid_for() {
    let mut bench = Bench::received(TB, &["jaws-slip"]).found("collet-teeth-worn");
    bench.does(walk::warranty());
    bench.does(walk::estimate(200));
    bench.does(walk::answer(true));
    bench.does(walk::plan("collet"));
    bench.does(walk::look("make-safe", true));
    let told = |bench: &Bench, quote: &EstimateMade| {
        let found = compared(&bench.job(), quote, &priced()).expect("compared");
        let anvil = name("anvil");
        let of = found.renewals.iter().find(|r| r.part == anvil);
        (found.paid, of.map(|of| of.left))
    };
    let dec = Decimal::from;
    assert_eq!(told(&bench, &three(200)), (dec(180), Some(48_000)));
    bench.does(walk::renew("anvil"));
    // 36 for the anvil that is in by now; where no line names it, nobody pays for it.
    assert_eq!(told(&bench, &three(200)), (dec(216), Some(60_000)));
    let alone = EstimateMade {
        compare_rule: CompareRule::AsOffered,
        ..quote(200)
    };
    assert_eq!(told(&bench, &alone), (dec(200), Some(60_000)));
}

#[test]
fn an_issued_quote_says_what_it_said_whatever_is_done_since() {
    let (priced, desk) = (priced(), desk());
    let mut bench = Bench::taken_in(&ReceiveIn {
        counter: Some(50_000),
        sold: Some(date(2025, 11, 25)),
        ..receipt(&priced, &["jaws-slip"])
    })
    .found("collet-teeth-worn");
    bench.does(walk::warranty());
    bench.does(walk::estimate(200));
    let told = |job: &Job| {
        let quote = &job.estimate.as_ref().expect("a quote").body;
        let found = compare(job, quote, &known(&priced, &[], &desk));
        found.expect("the sheet knows").expect("the history tells")
    };
    let issued = |bench: &Bench| as_issued(&bench.entries, &bench.job()).expect("a quote");
    let before = told(&issued(&bench));
    let (anvil, collet) = (name("anvil"), name("collet"));
    let of = |found: &Compared, part: &str| {
        let all = found.renewals.iter();
        all.clone().find(|r| r.part == part).expect("wears").left
    };
    assert_eq!(
        (of(&before, &anvil), of(&before, &collet)),
        (10_000, 20_000)
    );

    bench.does(walk::answer(true));
    bench.does(walk::plan("collet"));
    bench.does(walk::look("make-safe", true));
    bench.does(walk::reading("gauge-anvil-throat", "p-1", 12.97));
    bench.does(walk::renew("anvil"));
    assert_eq!(of(&told(&bench.job()), &anvil), 60_000, "new in the tool");
    assert_eq!(told(&issued(&bench)), before);
    // A revision made now stands on what is so now, and the first one still on what was.
    bench.does(walk::estimate(300));
    assert_eq!(of(&told(&issued(&bench)), &anvil), 60_000);
    let first = as_it_stood(&bench.entries, 1).expect("the first").job;
    let first = as_issued(&bench.entries, &first).expect("a quote");
    assert_eq!(told(&first), before);
}

#[test]
fn who_pays_goes_by_the_verdict_in_force() {
    let mut bench = Bench::received(TB, &["jaws-slip"]).found("collet-teeth-worn");
    bench.does(walk::warranty());
    bench.does(walk::estimate(200));
    let judged = bench.job().warranty.expect("judged").body;
    bench.write([Body::from(WarrantyJudged {
        cover: Cover::Covered,
        ..judged
    })]);
    let issued = as_issued(&bench.entries, &bench.job()).expect("a quote");
    assert_eq!(
        issued.warranty.map(|w| w.body.cover),
        Some(Cover::Covered),
        "as the sum to pay on the same page"
    );
    assert_eq!(as_issued(&bench.entries[..3], &bench.job()), None);
}

#[test]
fn come_backs_are_the_shop_s_own_where_enough_jobs_tell() {
    let (priced, desk) = (priced(), desk());
    let with = |yes, all| {
        let known = Known {
            come_backs: Cases { yes, all },
            ..known(&priced, &[], &desk)
        };
        let found = compare(&year(50_000), &quote(600), &known);
        let found = found.expect("the sheet knows").expect("the history tells");
        let wear: Decimal = found.renewals.iter().map(|r| r.cost).sum();
        let came_back = found
            .working
            .given
            .iter()
            .find(|g| g.symbol == "a")
            .map(|g| g.what.id);
        (
            found.repair * Decimal::from(6) - wear,
            came_back.expect("shown"),
        )
    };
    let near = |(sum, said): (Decimal, &'static str), known: i64, text| {
        // A year's amount is rounded to the cent.
        assert!(
            (sum - Decimal::from(known)).abs() <= Decimal::new(3, 2),
            "{sum}"
        );
        assert_eq!(said, text);
    };
    near(with(19, 19), 630, "given-come-backs-stated");
    near(with(4, 20), 720, "given-come-backs-own");
    near(with(0, 20), 600, "given-come-backs-own");
}

#[test]
fn without_the_sheet_s_word_nothing_is_said_and_without_history_why_not() {
    let desk = desk();
    let with = |model: &ToolModel, job: &Job| compare(job, &quote(1), &known(model, &[], &desk));
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
    let (priced, desk, earlier) = (priced(), desk(), [earlier]);
    let found = compare(&now, &quote(1), &known(&priced, &earlier, &desk));
    let found = found.expect("the sheet knows").expect("two readings");
    assert_eq!(found.pulls_a_year, 10_000);
    // 60 000 − 50 000 are used up within the year: 1 + ⌊50 000 / 60 000⌋; a new one ends with the horizon.
    let anvil = name("anvil");
    assert!(told(&found).contains(&(anvil.as_str(), 10_000, 1, 1)));
}

#[test]
fn what_is_due_within_the_year_is_offered_and_no_more() {
    use shop::repair_or_replace::due_within_a_year;
    let job = year(50_000);
    let desk = desk();
    let known = known(model(TB), &[], &desk);
    let due = due_within_a_year(&job, &known).expect("a history");
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
    assert_eq!(due_within_a_year(&self::job(None, None), &known), None);
}

proptest! {
    #[test]
    fn a_dearer_repair_or_more_pulls_never_make_the_year_cheaper(
        counter in 1_000u64..400_000, more in 0u64..100_000, each in 0i64..1_000, dearer in 0i64..1_000,
    ) {
        let base = of(&year(counter), each);
        prop_assert!(of(&year(counter), each + dearer).repair >= base.repair);
        let used_more = of(&year(counter + more), each);
        prop_assert!(used_more.repair >= base.repair && used_more.new >= base.new);
        prop_assert_eq!(of(&year(counter), each + dearer).new, base.new);
    }
}
