//! The quote: sums to the cent, options, revisions, what an answer holds for.

use jiff::ToSpan;
use jiff::civil::{Time, time};
use proptest::prelude::*;
use rust_decimal::Decimal;
use shop::entry::{
    AnswerWay, Body, Cover, Discount, EstimateMade, LineJudged, OptionKind, PriceLine, QuoteOption,
    TaxRule, WarrantyJudged,
};
use shop::job::{AnswerIn, Command, QuoteIn, decide};
use shop::labour::Times;
use shop::quote::{
    accepted, bill, changes, proposed, route_minutes, sum_of, sum_of_option, tax_changed,
};
use shop::sheet::{self, Kind};

use crate::bench::{Bench, TODAY, arg, faults, model, person, shelf, strike};
use crate::walk::{answer, estimate, warranty};

const TB: &str = "tulvane-tb-32";

pub fn cents(amount: i64) -> Decimal {
    Decimal::new(amount, 2)
}

fn line(what: &str, count: Decimal, each: i64) -> PriceLine {
    PriceLine {
        what: what.to_owned(),
        count,
        each: cents(each),
        ..PriceLine::default()
    }
}

fn of_option(option: usize, line: PriceLine) -> PriceLine {
    PriceLine { option, ..line }
}

fn options() -> Vec<QuoteOption> {
    let named = |name: &str, kind| QuoteOption {
        name: name.to_owned(),
        kind,
    };
    vec![
        named("Repair", OptionKind::Work),
        named("Renew the wear parts too", OptionKind::AddOn),
        named("New tool", OptionKind::Instead),
    ]
}

/// Repair 100.00, wear parts 40.00, new tool 900.00.
pub fn three() -> QuoteIn {
    QuoteIn {
        lines: vec![
            line("Collet", Decimal::ONE, 10_000),
            of_option(1, line("Anvil", Decimal::ONE, 4000)),
            of_option(2, line("New tool", Decimal::ONE, 90_000)),
        ],
        options: options(),
        ..QuoteIn::default()
    }
}

fn found() -> Bench {
    let mut bench = Bench::received(TB, &["jaws-slip"]).found("collet-teeth-worn");
    bench.does(warranty());
    bench
}

pub fn quoted(quote: QuoteIn) -> Bench {
    let mut bench = found();
    bench.does(Command::Estimate(quote));
    bench
}

pub fn said(yes: bool, others: &[bool]) -> AnswerIn {
    AnswerIn {
        yes: Some(yes),
        others: others.iter().map(|yes| Some(*yes)).collect(),
        name: Some(person("customer")),
        on: Some(TODAY),
        received: TODAY,
        ..AnswerIn::default()
    }
}

fn made(lines: Vec<PriceLine>, tax: i64, discount: i64) -> EstimateMade {
    EstimateMade {
        lines,
        tax_percent: cents(tax),
        currency: "USD".to_owned(),
        tax_rule: TaxRule::PerLine,
        discount: (discount > 0).then(|| Discount {
            percent: cents(discount),
            reason: "returning customer".to_owned(),
        }),
        ..EstimateMade::default()
    }
}

#[test]
fn sums_by_hand() {
    // Worked by hand. 76.00, 103.74 and 10.00 less 10 % each: 7.60, 10.374 so 10.37, 1.00.
    // Tax: 19 % of 68.40 is 12.996 so 13.00; of 93.37 is 17.7403 so 17.74; 7 % of 9.00 is 0.63.
    let handbook = PriceLine {
        tax_percent: Some(Decimal::from(7)),
        ..line("Handbook", Decimal::ONE, 1000)
    };
    let quote = made(
        vec![
            line("Anvil", Decimal::TWO, 3800),
            line("Labour", cents(133), 7800),
            handbook,
        ],
        1900,
        1000,
    );
    let t = sum_of(&quote, |_| true);
    assert_eq!(
        (t.lines, t.discount, t.net, t.tax, t.gross),
        (
            cents(18_974),
            cents(1897),
            cents(17_077),
            cents(3137),
            cents(20_214)
        )
    );
}

#[test]
fn tax_is_rounded_line_by_line_half_a_cent_up() {
    // 7 % of 0.50 is 0.035, so 0.04 on each of two lines: 1.08, not the 1.07 of one sum.
    let half = || line("Washer", Decimal::ONE, 50);
    let t = sum_of(&made(vec![half(), half()], 700, 0), |_| true);
    assert_eq!((t.tax, t.gross), (cents(8), cents(108)));
}

fn any_line() -> impl Strategy<Value = PriceLine> {
    let tax = prop::option::of(0i64..10_000);
    (1i64..100_000, 0i64..100_000_000, tax, 0usize..3).prop_map(|(count, each, tax, option)| {
        PriceLine {
            number: format!("P{}", each % 4),
            tax_percent: tax.map(cents),
            ..of_option(option, line("x", cents(count), each))
        }
    })
}

fn any_quote() -> impl Strategy<Value = EstimateMade> {
    let lines = prop::collection::vec(any_line(), 0..12);
    (lines, 0i64..10_000, 0i64..=10_000).prop_map(|(lines, tax, off)| EstimateMade {
        options: options(),
        ..made(lines, tax, off)
    })
}

proptest! {
    #[test]
    fn lines_less_discount_and_tax_are_the_total_to_the_cent(quote in any_quote()) {
        let whole = |d: Decimal| (d * Decimal::ONE_HUNDRED).fract().is_zero();
        let all = sum_of(&quote, |_| true);
        prop_assert_eq!(all.lines - all.discount + all.tax, all.gross);
        prop_assert!([all.lines, all.discount, all.tax, all.gross].into_iter().all(whole));
        // What stands on paper: each line by itself, each option by itself.
        let alone = |i: usize| sum_of(&EstimateMade { lines: vec![quote.lines[i].clone()], ..quote.clone() }, |_| true).gross;
        prop_assert_eq!((0..quote.lines.len()).map(alone).sum::<Decimal>(), all.gross);
        prop_assert_eq!((0..3).map(|o| sum_of_option(&quote, o).gross).sum::<Decimal>(), all.gross);
        prop_assert!(all.discount <= all.lines && !all.gross.is_sign_negative());
    }

    #[test]
    fn what_the_warranty_and_the_customer_pay_is_the_whole(
        quote in any_quote(), covers in prop::collection::vec(0usize..3, 4), takes in 0usize..8,
    ) {
        let cover = |i: usize| [Cover::Covered, Cover::NotCovered, Cover::CannotTell][i];
        let lines = covers.iter().enumerate().map(|(i, c)| judged(&format!("P{i}"), cover(*c)));
        let verdict = verdict(lines.collect());
        let taken: Vec<usize> = (0..3).filter(|o| takes >> o & 1 == 1).collect();
        let bill = bill(&quote, Some(&verdict), &taken);
        prop_assert_eq!(bill.covered + bill.to_pay, bill.totals.gross);
        prop_assert_eq!(bill.totals.gross, taken.iter().map(|o| sum_of_option(&quote, *o).gross).sum::<Decimal>());
        prop_assert!(!bill.covered.is_sign_negative() && !bill.to_pay.is_sign_negative());
    }

    #[test]
    fn a_revision_differs_where_something_was_said_to_change(a in any_quote(), b in any_quote()) {
        prop_assert!(changes(&a, &a).is_empty());
        let moved = EstimateMade { lines: a.lines.iter().rev().cloned().collect(), ..a.clone() };
        prop_assert!(changes(&a, &moved).is_empty(), "the order of lines is no change");
        let mut sorted = [a.lines.clone(), b.lines.clone()];
        for lines in &mut sorted {
            lines.sort_by_key(|l| format!("{l:?}"));
        }
        let same = sorted[0] == sorted[1] && a.tax_percent == b.tax_percent && a.discount == b.discount;
        prop_assert_eq!(changes(&a, &b).is_empty(), same);
    }
}

fn judged(number: &str, cover: Cover) -> LineJudged {
    LineJudged {
        part: number.to_lowercase(),
        number: number.to_owned(),
        cover,
        own: false,
        term: String::new(),
        evidence: String::new(),
        entry: None,
    }
}

fn verdict(lines: Vec<LineJudged>) -> WarrantyJudged {
    WarrantyJudged {
        cover: Cover::InPart,
        term: String::new(),
        evidence: String::new(),
        entry: None,
        lines,
        voided: Vec::new(),
        at_hand: Vec::new(),
        without: Vec::new(),
        without_reason: String::new(),
    }
}

#[test]
fn the_warranty_pays_its_lines_and_the_customer_the_others() {
    let part = |number: &str, each| PriceLine {
        number: number.to_owned(),
        ..line(number, Decimal::ONE, each)
    };
    let quote = EstimateMade {
        options: options(),
        ..made(
            vec![
                part("TB32-174", 2400),
                part("CR8", 6400),
                line("Labour", Decimal::ONE, 7800),
                of_option(1, part("TB32-174", 2400)),
                of_option(1, line("Labour", Decimal::ONE, 1000)),
            ],
            0,
            0,
        )
    };
    let verdict = verdict(vec![
        judged("tb32-174", Cover::Covered),
        judged("CR8", Cover::NotCovered),
        judged("", Cover::Covered),
    ]);
    // Switch and labour of the repair; the add-on is nobody's claim.
    let bill = bill(&quote, Some(&verdict), &[0, 1]);
    assert_eq!((bill.covered, bill.to_pay), (cents(10_200), cents(9800)));
}

#[test]
fn each_option_is_answered() {
    let mut bench = quoted(three());
    let refused = |bench: &Bench, answer| bench.refused(Command::Answer(answer));
    let silent = AnswerIn {
        others: vec![Some(true)],
        ..said(true, &[])
    };
    assert_eq!(refused(&bench, silent), ["yes-3: refuse-yes-or-no"]);
    assert_eq!(
        refused(&bench, said(false, &[true, false])),
        ["yes-2: refuse-add-on-alone"]
    );
    assert_eq!(
        refused(&bench, said(true, &[false, true])),
        ["yes-3: refuse-both"]
    );
    bench.does(Command::Answer(said(true, &[true, false])));
    let job = bench.job();
    let (quote, answer) = (job.estimate.expect("made").body, job.answer.expect("given"));
    assert_eq!(answer.body.options, [true, true, false]);
    let taken = accepted(&quote, Some(&answer.body));
    assert_eq!(bill(&quote, None, &taken).to_pay, cents(14_000));
}

#[test]
fn a_new_tool_instead_leaves_the_old_one_as_it_came() {
    let mut bench = quoted(three());
    bench.does(Command::Answer(said(false, &[false, true])));
    let job = bench.job();
    assert!(job.declined());
    let (quote, answer) = (job.estimate.expect("made").body, job.answer.expect("given"));
    let taken = accepted(&quote, Some(&answer.body));
    assert_eq!(bill(&quote, None, &taken).to_pay, cents(90_000));
}

#[test]
fn an_answer_holds_for_its_revision_only() {
    let mut bench = quoted(three());
    let first = AnswerIn {
        revision: Some(1),
        ..said(true, &[false, false])
    };
    bench.does(Command::Answer(first.clone()));
    let second = bench.does(estimate(120));
    let job = bench.job();
    assert_eq!(job.estimate.as_ref().map(|e| e.body.revision), Some(2));
    assert_eq!(job.answer, None);
    let refused = bench.refused(Command::Answer(first));
    assert_eq!(refused, [": refuse-answer-revision"]);
    // The revision that was struck keeps its number, and the answer to the one before it holds again.
    bench.does(strike(second));
    let job = bench.job();
    assert_eq!(job.answer.map(|a| a.body.revision), Some(1));
    bench.does(estimate(130));
    assert_eq!(bench.job().estimate.map(|e| e.body.revision), Some(3));
    bench.does(answer(true));
    assert_eq!(bench.job().answer.map(|a| a.body.revision), Some(3));
}

#[test]
fn a_revision_says_what_changed() {
    let mut bench = quoted(three());
    let mut next = three();
    next.lines[0].each = cents(11_000);
    next.lines.remove(1);
    next.lines
        .push(of_option(2, line("Training", Decimal::ONE, 5000)));
    next.lines[1].option = 1;
    next.lines[2].option = 1;
    next.options.remove(1);
    next.discount_percent = Some(Decimal::TEN);
    next.discount_reason = "late".to_owned();
    bench.does(Command::Estimate(next));
    let job = bench.job();
    let before = job.quote_before().expect("a first revision");
    let told = changes(before, &job.estimate.as_ref().expect("a second").body);
    let ids: Vec<&str> = told.iter().map(|m| m.id).collect();
    assert!(
        ids.contains(&"change-line-each") && ids.contains(&"change-option-gone"),
        "{ids:?}"
    );
    assert!(
        ids.contains(&"change-line-added") && ids.contains(&"change-discount"),
        "{ids:?}"
    );
    let each = told
        .iter()
        .find(|m| m.id == "change-line-each")
        .expect("told");
    assert_eq!([arg(each, "was"), arg(each, "is")], ["100.00", "110.00"]);
}

#[test]
fn what_was_said_by_telephone_has_a_hearer_and_a_time() {
    let mut bench = quoted(three());
    let by_phone = |to: Option<&str>, at: Option<Time>| {
        Command::Answer(AnswerIn {
            way: Some(AnswerWay::Telephone),
            to: to.map(person),
            at,
            ..said(true, &[false, false])
        })
    };
    assert_eq!(
        bench.refused(by_phone(None, None)),
        ["heard: refuse-answer-heard", "at: refuse-answer-time"]
    );
    bench.does(by_phone(Some("bench"), Some(time(8, 20, 0, 0))));
    let told = bench.job().answer.expect("given").body;
    assert_eq!(told.to, Some(person("bench")));
    assert_eq!(told.at, Some(time(8, 20, 0, 0)));
}

#[test]
fn a_quote_that_ran_out_takes_no_yes() {
    let mut bench = quoted(QuoteIn {
        valid_until: Some(TODAY),
        ..three()
    });
    let tomorrow = TODAY.tomorrow().expect("a day");
    bench.desk.today = tomorrow;
    let late = |yes, others: &[bool]| {
        Command::Answer(AnswerIn {
            on: Some(tomorrow),
            ..said(yes, others)
        })
    };
    bench.refuses(late(true, &[false, false]), "on: refuse-quote-ran-out");
    bench.refuses(late(false, &[false, true]), "on: refuse-quote-ran-out");
    // Said in time, written down a day later.
    let mut other = quoted(QuoteIn {
        valid_until: Some(TODAY),
        ..three()
    });
    other.desk.today = tomorrow;
    other.does(Command::Answer(said(true, &[false, false])));
    bench.does(late(false, &[false, false]));
    bench.refuses(
        Command::Estimate(QuoteIn {
            valid_until: Some(TODAY),
            ..three()
        }),
        "valid_until: refuse-valid-past",
    );
}

#[test]
fn the_shop_card_says_how_long_a_quote_holds() {
    let quote = quoted(three()).job().estimate.expect("made").body;
    let thirty = TODAY.checked_add(30.days()).expect("a day");
    assert_eq!(
        quote.valid_until,
        Some(thirty),
        "30 days where the card is silent"
    );
    let text = format!("{}\nquote_days = 10", shop_text());
    let mut newer = shelf().clone();
    newer.put(sheet::read("shop.toml", &text).expect("a good card"), text);
    let mut bench = found();
    bench.desk.shelf = Box::leak(Box::new(newer));
    let until = |bench: &mut Bench| {
        bench.does(estimate(1));
        bench.job().estimate.expect("made").body.valid_until
    };
    assert_eq!(
        until(&mut bench),
        Some(thirty),
        "the card that the job was taken in under"
    );
    let Body::Received(received) = &mut bench.entries[0].body else {
        panic!("a job begins with its receipt");
    };
    received.shop.revision = 2;
    assert_eq!(until(&mut bench), TODAY.checked_add(10.days()).ok());
}

fn shop_text() -> String {
    let newest = shelf().newest(Kind::Shop, "tarnwick").expect("the demo's");
    shelf()
        .pinned(Kind::Shop, &newest)
        .expect("there")
        .text
        .clone()
}

#[test]
fn a_quote_keeps_its_tax_and_the_next_revision_takes_the_new_one() {
    let mut bench = quoted(three());
    let text = shop_text().replace("tax_percent = \"0\"", "tax_percent = \"19\"");
    let mut newer = shelf().clone();
    newer.put(sheet::read("shop.toml", &text).expect("a good card"), text);
    let job = bench.job();
    let quote = &job.estimate.as_ref().expect("made").body;
    assert_eq!(tax_changed(quote, job.card_now(&bench.desk)), None);
    bench.desk.shelf = Box::leak(Box::new(newer));
    let said = tax_changed(quote, job.card_now(&bench.desk)).expect("it changed");
    assert_eq!([arg(&said, "kept"), arg(&said, "now")], ["0", "19"]);
    assert_eq!(sum_of_option(quote, 0).gross, cents(10_000));
    bench.does(Command::Estimate(three()));
    let quote = bench.job().estimate.expect("made").body;
    assert_eq!(sum_of_option(&quote, 0).gross, cents(11_900));
}

#[test]
fn a_part_number_that_no_sheet_has_is_refused_at_its_line() {
    let bench = found();
    let numbered = |number: &str| {
        let mut quote = three();
        quote.lines[1].number = number.to_owned();
        Command::Estimate(quote)
    };
    bench.refuses(numbered("TB32-999"), "number-2: refuse-line-number");
    for known in ["tb32-110", " CR8 ", ""] {
        let said = decide(&bench.job(), numbered(known), &bench.desk);
        assert!(said.is_ok(), "{known}: {said:?}");
    }
}

#[test]
fn options_are_named_and_have_lines() {
    let bench = found();
    let changed = |change: fn(&mut QuoteIn)| {
        let mut quote = three();
        change(&mut quote);
        Command::Estimate(quote)
    };
    for (change, refusal) in [
        (
            (|q| q.options[1].name.clear()) as fn(&mut QuoteIn),
            "option_name-2: refuse-option-name",
        ),
        (
            |q| q.options[2].kind = OptionKind::AddOn,
            "option_name-2: refuse-option-kind",
        ),
        (
            |q| q.options[0].kind = OptionKind::AddOn,
            "option_name-2: refuse-option-kind",
        ),
        (
            |q| drop(q.lines.remove(2)),
            "option_name-3: refuse-option-empty",
        ),
        (|q| q.lines[0].option = 1, "what: refuse-no-lines"),
        (
            |q| q.lines[0].tax_percent = Some(Decimal::from(101)),
            "tax: refuse-line-tax",
        ),
        (
            |q| q.discount_percent = Some(Decimal::TEN),
            "discount_reason: refuse-discount-reason",
        ),
        (
            |q| q.discount_reason = "old friend".to_owned(),
            "discount: refuse-discount-percent",
        ),
    ] {
        let refused = bench.refused(changed(change));
        assert!(
            refused.iter().any(|r| r == refusal),
            "{refusal}: {refused:?}"
        );
    }
}

#[test]
fn a_quote_of_before_there_were_revisions_is_the_first() {
    let older = r#"{"lines":[{"what":"Collet","number":"CR8","count":"1","each":"64.00"}],"tax_percent":"7","currency":"USD","note":""}"#;
    let body = Body::from_json("estimate-made", 1, older).expect("it reads");
    let mut bench = found();
    bench.write([body]);
    let quote = bench.job().estimate.expect("made").body;
    assert_eq!((quote.revision, quote.tax_rule), (1, TaxRule::OnTheSum));
    assert_eq!(sum_of_option(&quote, 0).gross, cents(6848));
    bench.does(answer(true));
    bench.does(estimate(1));
    assert_eq!(bench.job().estimate.map(|e| e.body.revision), Some(2));
}

#[test]
fn the_sheets_propose_parts_labour_and_a_new_tool() {
    let job = found().job();
    let lines = |kind| {
        let hour = Decimal::from(78);
        proposed(
            &job,
            model(TB),
            faults(),
            hour,
            kind,
            None,
            &Times::default(),
        )
    };
    let work = lines(OptionKind::Work);
    assert_eq!(work[0].line.number, "CR8");
    assert!(work[0].priced);
    // Collet, housing and anvil come off in 13 minutes, and 40 at the bench: 0.89 h.
    assert_eq!(work[1].line.count, cents(89));
    let add_on: Vec<String> = lines(OptionKind::AddOn)
        .into_iter()
        .map(|p| p.line.number)
        .collect();
    assert_eq!(
        add_on,
        ["TB32-110", "TB32-119", "TB32-140", ""],
        "what wears and is not renewed anyway"
    );
    let new = lines(OptionKind::Instead);
    assert_eq!(new[0].priced, model(TB).price_new.is_some());
}

#[test]
fn each_part_on_the_way_is_taken_off_once() {
    let model = model(TB);
    let part = |id: &str| model.part(id).expect("a part");
    let minutes = |ids: &[&str]| {
        let parts: Vec<_> = ids.iter().map(|id| part(id)).collect();
        route_minutes(model, &parts)
    };
    let (collet, switch) = (minutes(&["collet"]), minutes(&["trigger-switch"]));
    assert_eq!(
        minutes(&["collet", "anvil"]),
        collet,
        "the anvil is on the way"
    );
    assert_eq!(minutes(&["collet", "trigger-switch"]), collet + switch);
    assert_eq!(minutes(&[]), 0.0);
}
