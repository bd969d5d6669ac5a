//! Price lines: what is refused, what is proposed, what adds up.

use jiff::civil::Date;
use rust_decimal::Decimal;
use shop::entry::{EstimateMade, PriceLine};
use shop::estimate::{hours, line_total, parts_for, totals};
use shop::job::{AnswerIn, Command, QuoteIn};

use crate::bench::{Bench, TODAY, faults, model, person};
use crate::walk::{answer, estimate, warranty};

fn line(what: &str, count: Decimal, each: Decimal) -> PriceLine {
    PriceLine {
        what: what.to_owned(),
        number: String::new(),
        count,
        each,
        ..PriceLine::default()
    }
}

fn with(lines: Vec<PriceLine>) -> Command {
    Command::Estimate(QuoteIn {
        lines,
        ..QuoteIn::default()
    })
}

fn found() -> Bench {
    Bench::received("tulvane-tb-32", &["jaws-slip"]).found("collet-teeth-worn")
}

#[test]
fn every_line_says_what_how_many_and_how_much() {
    let bench = found();
    bench.refuses(with(Vec::new()), "what: refuse-no-lines");
    let refused = bench.refused(with(vec![
        line("Collet", Decimal::ONE, Decimal::ZERO),
        line(" ", Decimal::ONE, Decimal::ONE),
        line("Labour", Decimal::ZERO, Decimal::NEGATIVE_ONE),
    ]));
    assert_eq!(
        refused,
        [
            "what-2: refuse-line-what",
            "count-3: refuse-line-count",
            "each-3: refuse-line-each"
        ]
    );
}

#[test]
fn the_estimate_takes_currency_and_tax_from_the_shop_card() {
    let mut bench = found();
    bench.does(warranty());
    bench.does(estimate(64));
    let made = bench.job().estimate.expect("made").body;
    assert_eq!(
        (made.currency.as_str(), made.tax_percent),
        ("USD", Decimal::ZERO)
    );
}

#[test]
fn an_answer_has_a_name_a_day_and_a_yes_or_no() {
    let mut bench = found();
    bench.does(warranty());
    bench.does(estimate(64));
    let empty = AnswerIn {
        received: TODAY,
        ..AnswerIn::default()
    };
    assert_eq!(
        bench.refused(Command::Answer(empty)),
        [
            "yes: refuse-yes-or-no",
            "name: refuse-answer-name",
            "on: refuse-answer-date"
        ]
    );
    let on = |day: Option<Date>| {
        Command::Answer(AnswerIn {
            yes: Some(true),
            name: Some(person("customer")),
            on: day,
            received: TODAY,
            ..AnswerIn::default()
        })
    };
    bench.refuses(on(TODAY.tomorrow().ok()), "on: refuse-answer-day");
    // Nobody says yes to the repair of a tool that is not here yet.
    bench.refuses(on(TODAY.yesterday().ok()), "on: refuse-answer-day");
    bench.does(answer(true));
}

#[test]
fn sums_by_hand() {
    // 2 x 38.00 = 76.00; 1.33 h x 78.00 = 103.74; net 179.74; 19 % = 34.1506, to the cent 34.15.
    let made = EstimateMade {
        lines: vec![
            line("Anvil", Decimal::TWO, Decimal::new(3800, 2)),
            line("Labour", Decimal::new(133, 2), Decimal::new(7800, 2)),
        ],
        tax_percent: Decimal::from(19),
        currency: "USD".to_owned(),
        ..EstimateMade::default()
    };
    let sums = totals(&made);
    assert_eq!(sums.net, Decimal::new(17974, 2));
    assert_eq!(sums.tax, Decimal::new(3415, 2));
    assert_eq!(sums.gross, Decimal::new(21389, 2));
}

#[test]
fn absurd_amounts_do_not_break_the_page() {
    let huge = line("Moon", Decimal::MAX, Decimal::MAX);
    assert!(line_total(&huge) > Decimal::ZERO);
    let made = EstimateMade {
        lines: vec![huge.clone(), huge],
        tax_percent: Decimal::from(19),
        currency: "USD".to_owned(),
        ..EstimateMade::default()
    };
    assert!(totals(&made).gross > Decimal::ZERO);
}

#[test]
fn labour_is_rounded_up_to_the_hundredth() {
    // 53 minutes = 0.8833 h, so 0.89 h; 30 minutes is half an hour.
    assert_eq!(hours(53.0), Decimal::new(89, 2));
    assert_eq!(hours(30.0), Decimal::new(5, 1));
    assert_eq!(hours(f64::NAN), Decimal::ZERO);
}

#[test]
fn the_cause_calls_for_its_parts() {
    let parts = |id: &str, cause: &str| -> Vec<&str> {
        let bench = Bench::received(id, &["jaws-slip"]).found(cause);
        let parts = parts_for(&bench.job(), model(id), faults());
        parts.iter().map(|p| p.number.as_str()).collect()
    };
    assert_eq!(parts("tulvane-tb-32", "collet-teeth-worn"), ["CR8"]);
    assert_eq!(parts("orrinbeck-ah-21", "collet-teeth-worn"), ["AH21-15"]);
    assert!(parts("tulvane-tb-32", "trigger-released-early").is_empty());
    let open = Bench::received("tulvane-tb-32", &["jaws-slip"]).job();
    assert!(parts_for(&open, model("tulvane-tb-32"), faults()).is_empty());
}

#[test]
fn a_covered_repair_costs_the_customer_nothing() {
    use shop::entry::Cover;
    let made = EstimateMade {
        lines: vec![PriceLine {
            what: "spool".to_owned(),
            count: Decimal::ONE,
            each: Decimal::new(3600, 2),
            ..PriceLine::default()
        }],
        tax_percent: Decimal::ZERO,
        currency: "USD".to_owned(),
        ..EstimateMade::default()
    };
    let pays = |cover: Option<Cover>| {
        let verdict = cover.map(|cover| shop::entry::WarrantyJudged {
            cover,
            term: String::new(),
            evidence: String::new(),
            entry: None,
            lines: Vec::new(),
            voided: Vec::new(),
            at_hand: Vec::new(),
            without: Vec::new(),
            without_reason: String::new(),
        });
        shop::quote::bill(&made, verdict.as_ref(), &[0]).to_pay
    };
    assert_eq!(pays(Some(Cover::Covered)), Decimal::ZERO);
    for cover in [None, Some(Cover::NotCovered), Some(Cover::CannotTell)] {
        assert_eq!(pays(cover), Decimal::new(3600, 2));
    }
}

/// A quote that was stored before lines had their own tax keeps the sum that was printed then.
#[test]
fn tax_is_rounded_once_on_the_net_sum_of_an_older_quote() {
    // 2 x 0.50 = 1.00 at 7 % is 0.07; line by line it would be 2 x 0.035, so 0.08.
    let half = line("Washer", Decimal::ONE, Decimal::new(50, 2));
    let made = EstimateMade {
        lines: vec![half.clone(), half],
        tax_percent: Decimal::from(7),
        currency: "USD".to_owned(),
        ..EstimateMade::default()
    };
    assert_eq!(totals(&made).tax, Decimal::new(7, 2));
}
