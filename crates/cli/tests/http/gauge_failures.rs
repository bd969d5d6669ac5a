//! What falls with a gauge, over HTTP: on its page, on the paper for whoever decides, on the job.

use crate::client::{Client, ready};
use crate::gauges::{CELL, calibrate, check_wrench, today};
use crate::program::Program;
use crate::pulls::stalled;
use crate::suspect::words_of;

#[test]
fn recorded_pulls_fall_with_the_cell_that_failed_and_with_the_calibration_that_was_struck() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let stored = calibrate(&mut client, ["0.00", "0.20", "0.40"], &[]);
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
    let job = stalled(&mut client);
    let taken = client.get(&job).body;
    let (before, _) = taken.split_once("/plot.svg").expect("they are drawn");
    let pulls = before[before.rfind("/jobs/").expect("a path")..].to_owned();
    let drawn = client.get(&format!("{pulls}/plot.svg")).bytes;

    let left = [
        ("left", "0.00"),
        ("left-2", "0.01"),
        ("left-3", "0.01"),
        ("certificate", "VW-2"),
    ];
    let stored = calibrate(&mut client, ["0.00", "2.00", "2.00"], &left);
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
    let page = client.get(CELL);
    // Of slips nobody can reckon what they would be, nor of peaks that lay too far apart for their mean to decide.
    for said in [
        "5 pulls of stall.csv · Peak 2",
        "Reckoned is not measured",
        "not known: look again",
    ] {
        assert!(page.body.contains(said), "{said}: {}", page.body);
    }
    // Five pulls, and the five readings of the bench test that they answer.
    let says = "It took 10 readings of this job";
    assert!(client.get(&job).body.contains(says));
    let paper = client.get(&format!("{CELL}/failures/2.pdf"));
    let words = words_of(&paper.bytes);
    for said in ["1 job, 2 entries", "5 pulls of stall.csv", "Peak 2"] {
        assert!(words.contains(said), "{said}: {words}");
    }
    assert!(!words.contains("reckoned: "), "left for the hand: {words}");

    // What found it struck, the pulls stand again; struck what corrected them, they do not.
    for (form, falls) in [("strike-2", false), ("strike-1", true)] {
        let page = client.get(CELL);
        let struck = client.send(&page, form, &[("reason", "another cell")]);
        assert_eq!(struck.status, 303, "{:?}", struck.errors());
        let page = client.get(CELL);
        assert_eq!(page.body.contains("5 pulls of stall.csv"), falls, "{form}");
    }
    let says = "calibration 1 was struck after it corrected 10 readings of this job";
    assert!(client.get(&job).body.contains(says));
    // What was read by it stays as it was read, and says that it is in doubt.
    assert_eq!(client.get(&format!("{pulls}/plot.svg")).bytes, drawn);
    let says = "calibration 1 was struck after it corrected 5 readings of this job";
    let page = client.get(&pulls).body;
    assert!(page.contains(says), "{page}");
}

#[test]
fn the_paper_of_a_wrench_says_for_each_direction_until_when_it_was_good() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let date = today();
    let as_set = ["5", "15", "25"];
    check_wrench(&mut client, as_set);

    let page = client.get("/gauges/tw-25");
    let typed = [
        ("date", date.as_str()),
        ("limit", "0.50"),
        ("shape", "points"),
        ("months", "12"),
        ("by", "Vantry Works"),
        ("certificate", "VW-9"),
        ("ways", "clockwise"),
        ("ways", "counter-clockwise"),
        ("nominal", "5"),
        ("expanded", "0.1"),
        ("k", "2"),
        ("found", "1.00"),
        ("nominal-2", "25"),
        ("expanded-2", "0.1"),
        ("k-2", "2"),
        ("found-2", "2.00"),
    ];
    let (action, ours) = ready(&page, "calibrate");
    let ours = ours.iter().map(|(n, v)| (n.as_str(), v.as_str()));
    let ours = ours.filter(|(n, _)| typed.iter().all(|(m, _)| n != m));
    let all: Vec<(&str, &str)> = ours.chain(typed).collect();
    let stored = client.post_files(&action, &all, &[]);
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
    let paper = client.get("/gauges/tw-25/failures/2.pdf");
    assert_eq!(paper.status, 200);
    // Clockwise by today's check, the other way only by its sheet.
    let words = words_of(&paper.bytes);
    let good = words.split("Last known good").nth(1).expect("it says when");
    let good = good.split("In doubt until").next().expect("it says when");
    assert!(good.contains("counter-clockwise: 19 Aug 2026"), "{words}");
    assert!(good.trim_start().starts_with("clockwise: "), "{words}");
    assert_eq!(good.matches("19 Aug 2026").count(), 1, "{words}");
    assert!(
        words.contains("counter-clockwise: not known good again yet"),
        "{words}"
    );
}

#[test]
fn pulls_beyond_the_calibration_say_why_they_are_undecided() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    // The points end at 15 kN, the pulls at about 21 kN.
    let short = [("nominal-2", "10"), ("nominal-3", "15")];
    let stored = calibrate(&mut client, ["0.00", "0.10", "0.10"], &short);
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
    let job = stalled(&mut client);
    let says = "Pull 1, 2, 3, 4, 5 went further than LC-50 is known";
    let page = client.get(&job).body;
    assert!(page.contains(says), "{page}");
}

#[test]
fn points_that_do_not_rise_say_that_no_verdict_is_reckoned() {
    let program = Program::start();
    let mut client = Client::at(&program.address);
    let stored = calibrate(&mut client, ["0.00", "0.00", "0.00"], &[]);
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
    stalled(&mut client);
    // 20 kN shows 20.1, 24 kN 19.9.
    let bad = [
        ("nominal-2", "20"),
        ("nominal-3", "24"),
        ("left", "0.00"),
        ("left-2", "0.01"),
        ("left-3", "0.01"),
        ("certificate", "VW-2"),
    ];
    let stored = calibrate(&mut client, ["0.00", "0.10", "-4.10"], &bad);
    assert_eq!(stored.status, 303, "{:?}", stored.errors());
    let page = client.get(CELL).body;
    assert!(page.contains("does not rise from point to point"), "{page}");
    assert!(!page.contains("verdict would stand<"), "{page}");
}
