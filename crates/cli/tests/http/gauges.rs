//! Gauges over HTTP: a certificate is entered, readings are corrected by it, what failed takes its readings along.

use crate::client::{Answer, Client, receive};
use crate::program::{Program, run, text};
use crate::suspect::words_of;

pub const CELL: &str = "/gauges/lc-50";

/// Today as the forms take it.
pub fn today() -> String {
    let zone = jiff::tz::TimeZone::system();
    jiff::Timestamp::now()
        .to_zoned_datetime(zone)
        .date()
        .to_string()
}

/// A calibration with these deviations as found at 0, 25 and 50 kN.
pub fn calibrate(client: &mut Client, found: [&str; 3], fields: &[(&str, &str)]) -> Answer {
    let page = client.get(CELL);
    let date = today();
    let plain = [
        ("date", date.as_str()),
        ("limit", "0.50"),
        ("shape", "points"),
        ("months", "12"),
        ("by", "Vantry Works"),
        ("certificate", "VW-1"),
        ("nominal", "0"),
        ("expanded", "0.1"),
        ("k", "2"),
        ("found", found[0]),
        ("nominal-2", "25"),
        ("expanded-2", "0.1"),
        ("k-2", "2"),
        ("found-2", found[1]),
        ("nominal-3", "50"),
        ("expanded-3", "0.1"),
        ("k-3", "2"),
        ("found-3", found[2]),
    ];
    let others = plain
        .iter()
        .filter(|(n, _)| fields.iter().all(|(m, _)| n != m));
    let all: Vec<(&str, &str)> = others.chain(fields).copied().collect();
    let files: [(&str, &str, &[u8]); 1] =
        [("file", "VW-1.pdf", b"%PDF-1.4\n1 0 obj\nendobj\n%%EOF\n")];
    let (action, ours) = crate::client::ready(&page, "calibrate");
    // What the server put into boxes that are typed into here is typed over.
    let ours = ours.iter().map(|(n, v)| (n.as_str(), v.as_str()));
    let ours = ours.filter(|(n, _)| all.iter().all(|(m, _)| n != m));
    let all: Vec<(&str, &str)> = ours.chain(all.iter().copied()).collect();
    client.post_files(&action, &all, &files)
}

fn pull(client: &mut Client, job: &str) -> Answer {
    let page = client.get(job);
    let fields = [
        ("gauge", "lc-50"),
        ("reading", "31.10"),
        ("reading", "31.20"),
        ("reading", "31.10"),
        ("reading", "31.20"),
        ("reading", "31.10"),
    ];
    client.send(&page, "bench-test-as-found-pull-force", &fields)
}

#[test]
fn a_certificate_corrects_readings_and_a_bad_one_takes_them_back() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let stored = calibrate(&mut client, ["0.00", "0.20", "0.40"], &[]);
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
    let page = client.get(CELL);
    assert!(page.body.contains("VW-1") && page.body.contains("+0.200"));
    let (_, link) = page
        .body
        .split_once("href=\"/gauges/lc-50/files/")
        .expect("the certificate");
    let hash = link.split('"').next().expect("a hash");
    let file = client.get(&format!("{CELL}/files/{hash}"));
    assert!(file.bytes.starts_with(b"%PDF-1.4"), "{}", file.head);
    assert_eq!(
        client
            .get(&format!("{CELL}/files/{}", "0".repeat(64)))
            .status,
        404
    );

    // 31.14 on the mean lies a quarter past 25: deviation 0.2 + 0.2 · (31.14 − 25.2) / 25.2 = 0.247 by hand.
    let job = receive(&mut client, "7K-1");
    let read = pull(&mut client, &job);
    assert_eq!(read.status, 303, "{:?}", read.errors());
    let page = client.get(&job);
    assert!(page.body.contains("30.89 kN"), "the corrected mean");
    assert!(page.body.contains("read 31.14, corrected by -0.247 kN"));
    assert!(page.body.contains("Uncertainty budget"));
    assert!(page.body.contains("effective degrees of freedom"));
    assert!(!page.body.contains("found outside its limits"));

    // The next certificate finds it 2 kN off: the job is named there, and says so itself.
    let stored = calibrate(
        &mut client,
        ["0.00", "2.00", "2.00"],
        &[
            ("left", "0.00"),
            ("left-2", "0.01"),
            ("left-3", "0.01"),
            ("certificate", "VW-2"),
        ],
    );
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
    let page = client.get(CELL);
    assert!(page.body.contains("Found outside its limits"));
    assert!(page.body.contains("1 job used it"), "{}", page.body);
    assert!(page.body.contains("7K-1"));
    assert!(
        client
            .get(&job)
            .body
            .contains("It took 5 readings of this job")
    );

    // The paper for whoever decides: from the page, and at the prompt.
    assert!(page.body.contains("href=\"/gauges/lc-50/failures/2.pdf\""));
    let paper = client.get(&format!("{CELL}/failures/2.pdf"));
    assert_eq!(paper.status, 200);
    let words = words_of(&paper.bytes);
    for said in [
        "Readings in doubt",
        "Vantry Works, VW-2",
        "25.00 kN +2.000 kN ± 0.500 kN",
        "when it was put right",
        "1 job, 1 entry",
        "7K-1",
        "as found",
        "31.10 kN, 31.20 kN",
        "reckoned: NO",
        "Reckoned is not measured",
        "ISO/IEC 17025:2017, 6.4.9",
    ] {
        assert!(words.contains(said), "{said}: {words}");
    }
    for none in ["1.pdf", "2", "x.pdf"] {
        let address = format!("{CELL}/failures/{none}");
        assert_eq!(client.get(&address).status, 404, "{none}");
    }
    let file = program.store.with_file_name("failed.pdf");
    let path = file.to_str().expect("a path");
    let told = run(&["gauges", "--failed", "lc-50", path], &program.store);
    assert!(told.status.success(), "{}", text(&told));
    assert!(std::fs::read(&file).expect("printed") == paper.bytes);
    let told = run(&["gauges", "--failed", "c-3", path], &program.store);
    assert!(!told.status.success() && text(&told).contains("never found outside"));
    // 30.89 kN was above 30.4; 31.14 less the 2 kN that were found is 29.14, below it.
    assert!(page.body.contains("VERDICT WOULD NOT STAND"));
    // What it moved since, 1.8 kN at 25, is the drift from now on.
    assert!(page.body.contains("± 1.800 kN") && page.body.contains("as found against the"));

    // Struck, it takes nothing along.
    let struck = client.send(&page, "strike-2", &[("reason", "another cell")]);
    assert_eq!(struck.status, 303, "{:?}", struck.errors());
    assert!(!client.get(CELL).body.contains("Found outside its limits"));
    assert!(!client.get(&job).body.contains("It took 5 readings"));
    let told = run(&["gauges", "--json"], &program.store);
    assert!(text(&told).contains("VW-1"), "{}", text(&told));

    // The calibration that corrected the job's readings is struck: they are listed, and the job says so.
    let page = client.get(CELL);
    let struck = client.send(&page, "strike-1", &[("reason", "points of another cell")]);
    assert_eq!(struck.status, 303, "{:?}", struck.errors());
    let page = client.get(CELL);
    assert!(
        page.body.contains("Calibration 1 was struck"),
        "{}",
        page.body
    );
    assert!(page.body.contains("7K-1"));
    let says = "calibration 1 was struck after it corrected 5 readings of this job";
    assert!(client.get(&job).body.contains(says));
}

#[test]
fn what_the_gauge_showed_is_taken_as_that_and_refused_as_a_deviation() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let showed = ["0.00", "25.45", "50.00"];
    let refused = calibrate(&mut client, showed, &[]);
    assert_eq!(refused.status, 422);
    let errors = refused.errors();
    let named = |e: &&str| e.contains("Row 2, as found, deviation: 25.450");
    assert!(errors.iter().any(named), "{errors:?}");
    let stored = calibrate(&mut client, showed, &[("given", "indication")]);
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
    let page = client.get(CELL);
    assert!(page.body.contains("+0.450") && !page.body.contains("+25.450"));
}

#[test]
fn a_row_that_is_wrong_is_named_and_what_was_typed_stays() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let refused = calibrate(&mut client, ["0.00", "abc", "0.40"], &[("k-3", "9")]);
    assert_eq!(refused.status, 422);
    assert!(
        refused
            .errors()
            .iter()
            .any(|e| e.contains("Row 2, As found")),
        "{:?}",
        refused.errors()
    );
    assert!(refused.body.contains("value=\"abc\"") && refused.body.contains("value=\"VW-1\""));
    assert!(
        refused.body.contains("VW-1.pdf"),
        "the file need not be sent again"
    );
    let refused = calibrate(
        &mut client,
        ["0.00", "0.2", "0.40"],
        &[("k-3", "9"), ("nominal-2", "70")],
    );
    let errors = refused.errors();
    assert!(
        errors.iter().any(|e| e.contains("Row 2, nominal: 70.000")),
        "{errors:?}"
    );
    assert!(
        errors.iter().any(|e| e.contains("Row 3, k: 9.000")),
        "{errors:?}"
    );
    // Two columns of a row are wrong: each says which it is.
    let refused = calibrate(
        &mut client,
        ["0.00", "99", "0.40"],
        &[("k-3", "9"), ("left-2", "98")],
    );
    let errors = refused.errors();
    for begin in [
        "Row 2, as found, deviation: 99.0",
        "Row 2, as left, deviation: 98.0",
    ] {
        assert!(errors.iter().any(|e| e.contains(begin)), "{errors:?}");
    }
    assert!(
        client
            .get(CELL)
            .body
            .contains("Nothing was written down yet")
    );
}

/// Checks the wrench clockwise at 5, 15 and 25 N·m, five times each, with what the tester read.
pub fn check_wrench(client: &mut Client, read: [&str; 3]) {
    let page = client.get("/gauges/tw-25");
    let date = today();
    let mut fields = vec![
        ("date", date.as_str()),
        ("way", "clockwise"),
        ("reference", "TT-1"),
    ];
    let points = [
        ("nominal", "5", "at-1"),
        ("nominal-2", "15", "at-2"),
        ("nominal-3", "25", "at-3"),
    ];
    for ((nominal, set, name), read) in points.into_iter().zip(read) {
        fields.push((nominal, set));
        fields.extend([(name, read); 5]);
    }
    let stored = client.send(&page, "check", &fields);
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
}

#[test]
fn a_wrench_is_checked_and_a_study_pasted() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let date = today();
    check_wrench(&mut client, ["5.05", "15.1", "26.5"]);
    let page = client.get("/gauges/tw-25");
    assert!(page.body.contains("failed: do not use"));
    // (25 − 26.5) / 26.5 · 100.
    assert!(page.body.contains("-5.66 %"));

    let page = client.get("/gauges/c-3");
    let table = "Ansa 10.00 12.00\nAnsa 10.01 12.01\nMirel 10.02 12.00\nMirel 10.01";
    let study = [
        ("date", date.as_str()),
        ("what", "collars"),
        ("table", table),
    ];
    let refused = client.send(&page, "study", &study);
    assert!(
        refused
            .errors()
            .iter()
            .any(|e| e.contains("Line 4 has 1 readings")),
        "{:?}",
        refused.errors()
    );
    assert!(refused.body.contains("Mirel 10.02 12.00"), "typed stays");
    let table = format!("{table} 12.02");
    let study = [
        ("date", date.as_str()),
        ("what", "collars"),
        ("table", table.as_str()),
    ];
    let stored = client.send(&page, "study", &study);
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
    let page = client.get("/gauges/c-3");
    assert!(page.body.contains("of all spread: good"));
    assert!(page.body.contains("2 parts × Ansa, Mirel × 2 trials"));
    assert_eq!(client.get("/gauges/none").status, 404);
}

#[test]
fn a_study_is_typed_box_by_box() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let page = client.get("/gauges/c-3?parts=2&people=9&trials=2");
    assert_eq!(page.status, 422);
    assert!(
        page.errors()
            .iter()
            .any(|e| e.contains("People: 9 is not 2 to 3")),
        "{:?}",
        page.errors()
    );
    let page = client.get("/gauges/c-3?parts=2&people=2&trials=2");
    assert_eq!(page.status, 200);
    assert_eq!(page.body.matches("name=\"cell-").count(), 8);
    let date = today();
    let with = |cells: [&'static str; 8]| {
        let rows = ["cell-1-1", "cell-1-2", "cell-2-1", "cell-2-2"];
        let names = rows.into_iter().flat_map(|row| [row, row]);
        let others = [
            ("date", date.as_str()),
            ("what", "collars"),
            ("person-1", "Ansa"),
            ("person-2", "Mirel"),
        ];
        let all: Vec<(&str, &str)> = others.into_iter().chain(names.zip(cells)).collect();
        all
    };
    let wrong = [
        "10.00", "12.00", "10,01", "12.01", "10.02", "12.00", "10.01", "12.O2",
    ];
    let refused = client.send(&page, "study-grid", &with(wrong));
    assert_eq!(refused.status, 422);
    let errors = refused.errors();
    assert!(
        errors.len() == 1 && errors[0].starts_with("Part 2, Mirel, trial 2"),
        "{errors:?}"
    );
    for stays in ["12.O2", "10,01", "Mirel", "collars"] {
        let stays = format!("value=\"{stays}\"");
        assert!(refused.body.contains(&stays), "{stays}");
    }
    // Readings that are all alike say nothing; that stands at the first box.
    let told = client.send(&refused, "study-grid", &with(["10"; 8]));
    assert!(
        told.body.contains("id=\"study-grid-cell-1-1-error\""),
        "{:?}",
        told.errors()
    );
    let right = [
        "10.00", "12.00", "10,01", "12.01", "10.02", "12.00", "10.01", "12.02",
    ];
    let stored = client.send(&told, "study-grid", &with(right));
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
    let page = client.get("/gauges/c-3");
    assert!(page.body.contains("2 parts × Ansa, Mirel × 2 trials"));
    assert!(page.body.contains("of all spread: good"));
    // Weighed, too: a scale stands on the list and takes a calibration.
    assert!(client.get("/gauges").body.contains("scale"));
    assert!(client.get("/gauges/s-6").body.contains("6000 g"));
}

#[test]
fn a_reading_by_the_sheet_alone_shows_its_budget_too() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let job = receive(&mut client, "7K-1");
    let read = pull(&mut client, &job);
    assert_eq!(read.status, 303, "{:?}", read.errors());
    let page = client.get(&job).body;
    let budget = page.split("Uncertainty budget").nth(1).expect("a budget");
    let budget = budget.split("</details>").next().expect("its end");
    for name in ["mean", "certificate", "resolution"] {
        let row = format!("standard uncertainty of the {name}");
        assert!(budget.contains(&row), "{row}: {budget}");
    }
    assert!(budget.contains("Welch–Satterthwaite") && !budget.contains("of the curve"));
}
