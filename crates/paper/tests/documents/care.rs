//! The care sheet.

use paper::care_sheet;
use paper::model::{CareCaution, CareLubricant, CareSheet, CareTask, LubricantUse};
use words::Words;

use crate::{pdf, sample, tool};

fn task(what: &str, pulls: Option<u64>, days: Option<u32>) -> CareTask {
    CareTask {
        what: what.to_owned(),
        every_pulls: pulls,
        every_days: days,
        ..CareTask::default()
    }
}

/// The demo shop's battery tool after a service at 61 480 pulls.
fn sheet() -> CareSheet {
    let shift = CareTask {
        every_shift: true,
        ..task(
            "Brush the collet, renew the dry film, empty the collector, look at the contacts, set one trial joint",
            None,
            None,
        )
    };
    let wash = CareTask {
        last_pulls: Some(61_480),
        next_on: "1 Dec 2026".to_owned(),
        ..task(
            "Take the collet out, wash, dry and film it; check the nose torque",
            Some(5000),
            Some(7),
        )
    };
    let collet = CareTask {
        last_pulls: Some(61_480),
        ..task(
            "Replace the collet, gauge the anvil, measure the ejector spring",
            Some(20_000),
            None,
        )
    };
    let year = CareTask {
        next_on: "24 Nov 2027".to_owned(),
        ..task(
            "Full bench proof, electrical safety test, pack test",
            None,
            Some(365),
        )
    };
    let place = |part: &str, name: &str, amount: &str| LubricantUse {
        part: part.to_owned(),
        name: name.to_owned(),
        amount: amount.to_owned(),
    };
    let caution = |text: &str, source: &str| CareCaution {
        text: text.to_owned(),
        source: source.to_owned(),
    };
    let report = sample::report();
    CareSheet {
        shop: sample::shop(),
        job: report.job,
        customer: report.customer,
        tool: sample::tool(),
        counter: Some(61_480),
        tasks: vec![
            shift,
            year,
            wash,
            collet,
            CareTask {
                last_pulls: Some(61_480),
                ..task(
                    "Wash the screw and regrease it with 6 g",
                    Some(60_000),
                    None,
                )
            },
            task(
                "Inspect screw and thrust bearing, replace by play and feel",
                Some(150_000),
                None,
            ),
        ],
        axis: tool::axis(),
        lubricants: vec![
            CareLubricant {
                name: "Dry film (graphite or MoS2, solvent-borne)".to_owned(),
                uses: vec![place(
                    "collet",
                    "Collet CR8, four fingers",
                    "thin coat on backs and cone, none on the teeth; let it dry",
                )],
            },
            CareLubricant {
                name: "Grease NLGI 2 EP, lithium complex".to_owned(),
                uses: vec![
                    place(
                        "ball-screw",
                        "Ball screw 16x4 with nut",
                        "6 g over screw and nut",
                    ),
                    place("gears", "Gear stage 17:1 with clutch", "3 g on the teeth"),
                    place("wheel", "Hand wheel", "1 g"),
                ],
            },
        ],
        cautions: vec![
            caution(
                "Eye protection, collector fitted, nobody behind the tool or in line with the pin.",
                "ANSI Z87.1 or EN ISO 16321-1; common practice",
            ),
            caution(
                "Compressed air for cleaning: below 30 psi (2 bar), chip guard, never on people.",
                "29 CFR 1910.242(b)",
            ),
        ],
        issued_on: "24 Nov 2026".to_owned(),
        record: sample::record(),
        issued: report.issued,
    }
}

fn set(name: &str, sheet: &CareSheet) -> pdf::Read {
    let bytes = care_sheet(sheet, Words::english()).expect("the sheet sets");
    pdf::read(name, &bytes)
}

#[test]
fn it_says_what_to_do_and_when() {
    let care = set("care", &sheet());
    assert_eq!(care.pages.len(), 2, "one sheet, two sides");
    care.says(&[
        "Tulvane TB-32",
        "serial 7K-0412",
        "Fennholt Glasshouse Frames",
        "Counter at issue 61 480",
        "Before a key or a finger enters the nose: pack out, trigger pressed once.",
        "At the start of each shift Brush the collet",
        "5000 pulls or 7 days, whichever comes first",
        "at 66 480 or 1 Dec 2026",
        "at 81 480",
        "at 121 480",
        "at 150 000",
        "365 days",
        "24 Nov 2027",
        "Source: 29 CFR 1910.242(b)",
        "stop and call. Tarnwick Tool Bench · Unit 4, Mill Row, Tarnwick · bench 2",
        "The maker's instructions come first.",
        "does not say that any structure is safe",
        "3 Collet CR8, four fingers CR8",
        "16 Tail tube",
        "3 Collet CR8, four fingers: thin coat on backs and cone",
        "12 Gear stage 17:1 with clutch: 3 g on the teeth",
        "Hand wheel: 1 g",
        "Issued 24 Nov 2026 for job 1047",
        "9f2c41d7a0be63f5",
        "Page 1 of 2",
    ]);
    let front = &care.pages[0];
    let at = |text: &str| {
        front
            .find(text)
            .unwrap_or_else(|| panic!("{text}\n{front}"))
    };
    assert!(
        at("wash, dry") < at("gauge the anvil"),
        "the most frequent first"
    );
    assert!(
        at("gauge the anvil") < at("Full bench proof"),
        "by calendar last"
    );
}

#[test]
fn what_is_due_is_due_now() {
    let mut sheet = sheet();
    sheet.tasks = vec![CareTask {
        last_pulls: Some(40_000),
        ..task("Gauge the anvil", Some(20_000), None)
    }];
    set("care-now", &sheet).says(&["20 000 pulls now: due at 60 000"]);
    // Nobody knows that it was done when the counter came to 60 000: it is due, not next at 120 000.
    sheet.tasks = vec![task("Wash the screw", Some(60_000), Some(30))];
    let care = set("care-passed", &sheet);
    care.says(&["now: due at 60 000"]);
    assert!(!care.text.contains("120 000"), "{}", care.text);
}

/// The newest multiple that the counter has come to when the last time is not known; without a counter there is none.
#[test]
fn next_counts() {
    let every = |last_pulls| CareTask {
        last_pulls,
        ..task("", Some(5000), None)
    };
    for (last, counter, next) in [
        (None, Some(0), Some(5000)),
        (None, Some(4999), Some(5000)),
        (None, Some(5000), Some(5000)),
        (None, Some(12_999), Some(10_000)),
        (Some(61_480), Some(61_480), Some(66_480)),
        (Some(61_480), None, Some(66_480)),
        (None, None, None),
        (Some(u64::MAX), None, Some(u64::MAX)),
    ] {
        assert_eq!(
            every(last).next_pulls(counter),
            next,
            "{last:?} {counter:?}"
        );
    }
    assert_eq!(task("", Some(0), None).next_pulls(Some(9)), None);
}

#[test]
fn a_bare_tool_has_no_empty_sections() {
    let sheet = CareSheet {
        counter: None,
        tasks: Vec::new(),
        axis: paper::axis::Axis {
            label: String::new(),
            parts: Vec::new(),
            turn: None,
        },
        lubricants: Vec::new(),
        cautions: Vec::new(),
        ..sheet()
    };
    let care = set("care-bare", &sheet);
    assert_eq!(care.pages.len(), 1);
    for absent in [
        "each shift",
        "By counter",
        "Cautions",
        "inside",
        "Lubricants",
    ] {
        assert!(!care.text.contains(absent), "{absent}\n{}", care.text);
    }
}

#[test]
fn forty_tasks_and_long_names_go_on_on_further_pages() {
    let mut sheet = sheet();
    for number in 1..=40 {
        let what = format!("Task {number}: {}", "look, wipe, measure ".repeat(9));
        sheet.tasks.push(task(&what, Some(1000 * number), None));
    }
    sheet.tool.model = "Tulvane TB-32 long-nose extended-reach cold-weather edition".to_owned();
    sheet.tool.serial = "7K-0412-".repeat(12);
    let more = sheet.axis.parts.clone();
    sheet.axis.parts.extend(more.clone());
    sheet.axis.parts.extend(more);
    let care = set("care-long", &sheet);
    for number in 1..=40 {
        assert!(care.text.contains(&format!("Task {number}:")), "{number}");
    }
    care.says(&["48 Tail tube", "stop and call"]);
}

#[test]
fn same_input_same_bytes() {
    let set = || care_sheet(&sheet(), Words::english()).expect("the sheet sets");
    assert!(set() == set());
}
