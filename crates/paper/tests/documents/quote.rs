//! The quote.

use paper::model::{Quote, QuoteLine, QuoteOption};
use paper::quote;
use words::Words;

use crate::{pdf, sample};

fn line(what: &str, number: &str, count: &str, each: &str, sum: &str) -> QuoteLine {
    QuoteLine {
        what: what.to_owned(),
        number: number.to_owned(),
        count: count.to_owned(),
        each: each.to_owned(),
        tax: "20 %".to_owned(),
        sum: sum.to_owned(),
        covered: false,
    }
}

fn option(letter: &str, name: &str, lines: Vec<QuoteLine>) -> QuoteOption {
    QuoteOption {
        letter: letter.to_owned(),
        name: name.to_owned(),
        means: String::new(),
        lines,
        discount: (String::new(), String::new()),
        net: "136.50".to_owned(),
        tax: "27.30".to_owned(),
        total: "163.80 GBP".to_owned(),
        answer: None,
    }
}

fn full() -> Quote {
    let report = sample::report();
    let repair = QuoteOption {
        discount: (
            "Discount 10 %: returning customer".to_owned(),
            "-13.65".to_owned(),
        ),
        answer: Some(true),
        ..option(
            "A",
            "Repair",
            vec![
                line("Collet", "CR8", "1", "64.00", "64.00"),
                QuoteLine {
                    covered: true,
                    ..line("Labour, hours", "", "1.25", "58.00", "72.50")
                },
            ],
        )
    };
    let wear = QuoteOption {
        means: "Along with the repair, never without it.".to_owned(),
        answer: Some(false),
        ..option(
            "B",
            "Renew the wear parts too",
            vec![line("Anvil", "TB32-110", "1", "38.00", "38.00")],
        )
    };
    let new = option(
        "C",
        "New tool",
        vec![line("Tulvane TB-32", "", "1", "1480.00", "1480.00")],
    );
    Quote {
        shop: sample::shop(),
        number: "1047-Q2".to_owned(),
        revision: "2".to_owned(),
        replaced: String::new(),
        job: report.job,
        customer: report.customer,
        tool: sample::tool(),
        complaint: report.complaint,
        found: vec!["Collet worn".to_owned()],
        issued_on: "24 Nov 2026".to_owned(),
        valid_until: "24 Dec 2026".to_owned(),
        changed: vec!["Added: Anvil".to_owned()],
        options: vec![repair, wear, new],
        warranty: "The warranty pays 78.30 GBP of the repair.".to_owned(),
        to_pay: "69.12 GBP".to_owned(),
        compared: vec!["Repair and wear: 240.00 GBP in the year to come.".to_owned()],
        note: "Collets are in stock.".to_owned(),
        answer: "M. Orr, 25 Nov 2026 14:20, by telephone, to R. Hale".to_owned(),
        record: sample::record(),
        issued: report.issued,
    }
}

fn set(name: &str, model: &Quote) -> pdf::Read {
    let bytes = quote(model, Words::english()).expect("the quote sets");
    pdf::read(name, &bytes)
}

#[test]
fn it_says_what_each_option_costs_and_how_long_it_holds() {
    let read = set("quote", &full());
    read.says(&[
        "Quote",
        "No. 1047-Q2",
        "Revision 2",
        "Holds until 24 Dec 2026",
        "Fennholt Glasshouse Frames",
        "Collet worn",
        "Changed against the revision before",
        "Added: Anvil",
        "A. Repair",
        "CR8 1 64.00 20 % 64.00",
        "Labour, hours under warranty",
        "Discount 10 %: returning customer -13.65",
        "163.80 GBP",
        "B. Renew the wear parts too",
        "Along with the repair, never without it.",
        "C. New tool",
        "Yes",
        "No",
        "The warranty pays 78.30 GBP of the repair.",
        "69.12 GBP",
        "Repair or replace",
        "240.00 GBP in the year to come",
        "Collets are in stock.",
        "This quote holds until 24 Dec 2026.",
        "Each line is rounded to the cent, half a cent up",
        "M. Orr, 25 Nov 2026 14:20, by telephone, to R. Hale",
        "Customer: name, day, signature",
        "9f2c41d7a0be63f5",
    ]);
    // One cross at the yes of A, one at the no of B, none at C.
    assert_eq!(read.text.matches('✗').count(), 2, "{}", read.text);
}

#[test]
fn a_first_quote_for_the_repair_alone_has_no_empty_sections() {
    let mut bare = full();
    bare.changed.clear();
    bare.compared.clear();
    bare.options.truncate(1);
    bare.options[0].answer = None;
    bare.warranty.clear();
    bare.note.clear();
    bare.answer.clear();
    let read = set("quote-bare", &bare);
    assert_eq!(read.pages.len(), 1);
    for absent in [
        "Changed against",
        "Repair or replace",
        "Warranty",
        "Answer on record",
        "✗",
    ] {
        assert!(!read.text.contains(absent), "{absent}\n{}", read.text);
    }
}

#[test]
fn a_revision_that_was_replaced_says_by_which_and_asks_for_no_signature() {
    let old = Quote {
        replaced: "Replaced by revision 3 on 26 Nov 2026.".to_owned(),
        ..full()
    };
    let read = set("quote-replaced", &old);
    read.says(&[
        "Replaced by revision 3 on 26 Nov 2026.",
        "do not sign it",
        "No. 1047-Q2",
        "M. Orr, 25 Nov 2026 14:20, by telephone, to R. Hale",
    ]);
    let asks = ["This quote holds until", "Customer: name, day, signature"];
    for absent in asks {
        assert!(!read.text.contains(absent), "{absent}\n{}", read.text);
        assert!(set("quote", &full()).text.contains(absent), "{absent}");
    }
    // What was said to A and B stays; C was never answered, so there is nothing to tick.
    assert_eq!(read.text.matches('✗').count(), 2, "{}", read.text);
    assert_eq!(read.text.matches("Yes").count(), 2, "{}", read.text);
}

#[test]
fn sixty_lines_and_long_names_go_on_on_further_pages() {
    let mut long = full();
    for n in 1..=60 {
        let what = format!("Part {n}: {}", "bush and ring ".repeat(6));
        long.options[0].lines.push(line(
            &what,
            "TB32-110-".repeat(5).trim_end_matches('-'),
            "1",
            "1.00",
            "1.00",
        ));
    }
    let read = set("quote-long", &long);
    assert!(read.pages.len() > 2);
    for n in 1..=60 {
        assert!(read.text.contains(&format!("Part {n}:")), "{n}");
    }
    assert!(read.pages[1].contains("1047-Q2"), "{}", read.pages[1]);
}

#[test]
fn same_input_same_bytes() {
    let set = || quote(&full(), Words::english()).expect("the quote sets");
    assert!(set() == set());
}
