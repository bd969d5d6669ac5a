//! A part that is renewed without the customer's yes: who agreed to it, or why the shop pays.

use rust_decimal::Decimal;
use shop::entry::{Cover, LineJudged, OptionKind, PriceLine, QuoteOption};
use shop::job::{AnswerIn, Command, JudgeIn, QuoteIn};

use crate::bench::{Bench, TODAY, person};
use crate::walk;

const TB: &str = "tulvane-tb-32";
const UNAGREED: &str = "unagreed: refuse-part-unagreed";

fn renew(part: &str, unagreed: &str) -> Command {
    Command::ReplacePart {
        part: part.to_owned(),
        number: String::new(),
        reason: "beyond its limit".to_owned(),
        counter: None,
        unagreed: unagreed.to_owned(),
    }
}

/// Opened down to `down_to`: the collet accepted, the anvil offered along with it and answered so.
fn open(judge: Command, anvil: bool, down_to: &str) -> Bench {
    let mut bench = Bench::received(TB, &["jaws-slip"]).found("collet-teeth-worn");
    bench.does(judge);
    let line = |number: &str, option| PriceLine {
        what: number.to_owned(),
        number: number.to_owned(),
        count: Decimal::ONE,
        each: Decimal::TEN,
        option,
        ..PriceLine::default()
    };
    let option = |name: &str, kind| QuoteOption {
        name: name.to_owned(),
        kind,
    };
    bench.does(Command::Estimate(QuoteIn {
        lines: vec![line("CR8", 0), line("tb32-110", 1)],
        options: vec![
            option("Repair", OptionKind::Work),
            option("Wear parts", OptionKind::AddOn),
        ],
        ..QuoteIn::default()
    }));
    bench.does(Command::Answer(AnswerIn {
        yes: Some(true),
        others: vec![Some(anvil)],
        name: Some(person("customer")),
        on: Some(TODAY),
        received: TODAY,
        ..AnswerIn::default()
    }));
    bench.does(walk::plan(down_to));
    bench.does(walk::look("make-safe", true));
    bench
}

#[test]
fn a_part_that_was_refused_is_renewed_with_a_word_on_who_agreed_only() {
    let mut bench = open(walk::warranty(), false, "ejector-spring");
    bench.does(renew("collet", ""));
    bench.refuses(renew("anvil", ""), UNAGREED);
    bench.refuses(renew("anvil", "  "), UNAGREED);
    bench.refuses(renew("ejector-spring", ""), UNAGREED);
    bench.does(renew("anvil", " Maro Fenn, by telephone at 11:05 "));
    let kept = &bench.job().replaced[1].body;
    assert_eq!(kept.unagreed, "Maro Fenn, by telephone at 11:05");
    // Accepted, nobody is asked.
    open(walk::warranty(), true, "collet").does(renew("anvil", ""));
}

#[test]
fn what_must_be_renewed_and_what_the_warranty_pays_is_not_asked_about() {
    let mut bench = open(walk::warranty(), false, "adjuster-lock");
    bench.does(renew("adjuster-lock", ""));
    let line = |part: &str, number: &str, cover| LineJudged {
        part: part.to_owned(),
        number: number.to_owned(),
        cover,
        own: true,
        term: "the shop's own repair".to_owned(),
        evidence: "the report of then".to_owned(),
        entry: None,
    };
    let judge = Command::JudgeWarranty(JudgeIn {
        lines: vec![
            line("collet", "CR8", Cover::NotCovered),
            line("anvil", "TB32-110", Cover::Covered),
        ],
        ..JudgeIn::default()
    });
    let mut bench = open(judge, false, "ejector-spring");
    bench.does(renew("anvil", ""));
    bench.refuses(renew("ejector-spring", ""), UNAGREED);
}

#[test]
fn without_a_quote_nobody_is_asked() {
    let bench = Bench::received(TB, &["jaws-slip"]);
    let model = bench.model();
    for part in &model.parts {
        assert!(!bench.job().is_unagreed(part, &part.number), "{}", part.id);
    }
    // What went in before this was asked reads as it was.
    let stored = r#"{"part":"anvil","number":"TB32-110","reason":"worn","counter":null}"#;
    let read: shop::entry::PartReplaced = serde_json::from_str(stored).expect("reads");
    assert_eq!(read.unagreed, "");
    assert_eq!(serde_json::to_string(&read).expect("writes"), stored);
}
