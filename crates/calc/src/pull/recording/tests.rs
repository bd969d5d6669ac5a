//! Files as loggers write them, good and bad.

use super::*;
use crate::units::Unit;
use proptest::prelude::*;

mod doubtful;
mod spoiling;

/// How a file is written.
struct Style {
    head: &'static str,
    delimiter: &'static str,
    comma: bool,
    /// What stands in the columns: f, s, t or - for something else.
    order: &'static str,
    /// Factors from kN, mm and s.
    factors: [f64; 3],
}

const PLAIN: Style = Style {
    head: "time [s],force [kN],stroke [mm]",
    delimiter: ",",
    comma: false,
    order: "tfs",
    factors: [1.0; 3],
};

/// Rows of `count` pulls of 20 kN over 10 mm: rest, out under load, break, back without load, rest.
fn rows(count: usize) -> Vec<[f64; 3]> {
    let mut rows = Vec::new();
    for _ in 0..count {
        for i in 0..500 {
            let (force, stroke) = match i {
                0..100 => (0.0, 0.0),
                100..300 => (f64::from(i - 100) * 0.1, f64::from(i - 100) * 0.05),
                300..400 => (0.0, 10.0 - f64::from(i - 300) * 0.1),
                _ => (0.0, 0.0),
            };
            let wiggle = f64::from(i * 7919 % 13 - 6) * 0.002;
            rows.push([force + wiggle, stroke, rows.len() as f64 * 0.001]);
        }
    }
    rows
}

fn file(style: &Style, rows: &[[f64; 3]]) -> String {
    let mut text = style.head.to_owned();
    if !text.is_empty() {
        text.push('\n');
    }
    for row in rows {
        let cell = |c: char| {
            let (k, places) = match c {
                'f' => (0, 6),
                's' => (1, 5),
                't' => (2, 6),
                _ => return "7".to_owned(),
            };
            let text = format!("{:.places$}", row[k] * style.factors[k]);
            if style.comma {
                text.replace('.', ",")
            } else {
                text
            }
        };
        let cells: Vec<String> = style.order.chars().map(cell).collect();
        text.push_str(&cells.join(style.delimiter));
        text.push('\n');
    }
    text
}

fn plain(count: usize) -> String {
    file(&PLAIN, &rows(count))
}

fn sound(text: &str, rig: &Rig) -> Vec<RecordedPull> {
    match read(text.as_bytes(), rig) {
        Recorded::Sound(pulls) => pulls,
        other => panic!("{:?}", faults_of(&other)),
    }
}

fn faults_of(recorded: &Recorded) -> Vec<Fault> {
    match recorded {
        Recorded::Sound(_) => Vec::new(),
        Recorded::Doubtful { faults, .. } | Recorded::Unreadable(faults) => faults.clone(),
    }
}

fn assert_pulls(pulls: &[RecordedPull], count: usize) {
    assert_eq!(pulls.len(), count);
    for pull in pulls {
        let most = |v: &[f64]| v.iter().copied().fold(f64::MIN, f64::max);
        assert!(
            (most(&pull.force_kn) - 19.9).abs() < 0.02,
            "{}",
            most(&pull.force_kn)
        );
        assert!((most(&pull.stroke_mm) - 10.0).abs() < 0.06);
        let span = pull.time_s[pull.time_s.len() - 1] - pull.time_s[0];
        assert!((0.3..0.5).contains(&span), "{span}");
    }
}

#[test]
fn any_logger_s_style_is_read() {
    let styles = [
        PLAIN,
        Style {
            head: "Logger 5\nOperator;A\n\nZeit;Kraft;Weg\ns;kN;mm",
            delimiter: ";",
            comma: true,
            order: "tfs",
            ..PLAIN
        },
        Style {
            head: "# run 1\nstroke_mm\tforce_N\tchannel\ttime_ms",
            delimiter: "\t",
            order: "sf-t",
            factors: [1000.0, 1.0, 1000.0],
            ..PLAIN
        },
        Style {
            head: "\u{feff}\"Elapsed (s)\",\"Load (lbf)\",\"Travel (in)\"",
            factors: [1000.0 / 4.448_221_615_260_5, 1.0 / 25.4, 1.0],
            ..PLAIN
        },
        Style {
            head: "t / s;F / N;s / mm",
            delimiter: ";",
            factors: [1000.0, 1.0, 1.0],
            ..PLAIN
        },
        Style {
            head: "a,b,c\ns,kN,mm",
            ..PLAIN
        },
    ];
    for style in &styles[..5] {
        let text = file(style, &rows(3));
        assert_pulls(&sound(&text, &Rig::default()), 3);
        assert_pulls(&sound(&text.replace('\n', "\r\n"), &Rig::default()), 3);
    }
    // Headings that say nothing: the rig says it.
    let rig = Rig {
        force: Column {
            place: Some(Place::Number(2)),
            unit: Some(LoggedUnit::Of(Unit::Kilonewton)),
            ..Column::default()
        },
        stroke: Column {
            place: Some(Place::Number(3)),
            unit: Some(LoggedUnit::Volt),
            scale: Some(5.0),
            offset: 1.0,
        },
        time: Column {
            place: Some(Place::Number(1)),
            unit: Some(LoggedUnit::Of(Unit::Second)),
            ..Column::default()
        },
        ..Rig::default()
    };
    let volts: Vec<[f64; 3]> = rows(2)
        .iter()
        .map(|r| [r[0], r[1] / 5.0 + 1.0, r[2]])
        .collect();
    for head in ["a,b,c", ""] {
        let text = file(&Style { head, ..PLAIN }, &volts);
        assert_pulls(&sound(&text, &rig), 2);
    }
}

#[test]
fn without_time_the_rate_tells_it() {
    let rig = Rig {
        rate_hz: Some(1000.0),
        ..Rig::default()
    };
    let text = file(
        &Style {
            head: "force [kN],stroke [mm]",
            order: "fs",
            ..PLAIN
        },
        &rows(2),
    );
    assert_pulls(&sound(&text, &rig), 2);
    let faults = faults_of(&read(text.as_bytes(), &Rig::default()));
    assert_eq!(faults[0].what, What::NoColumn(Role::Time));
}

#[test]
fn pieces_of_any_length_give_the_same() {
    let text = plain(3);
    let whole = sound(&text, &Rig::default());
    for size in [1, 7, 100, 4096] {
        let mut pulls = Vec::new();
        let mut reader = Reader::new(Rig::default(), Bounds::default());
        for piece in text.as_bytes().chunks(size) {
            reader.feed(piece, &mut pulls);
        }
        let told = reader.finish(&mut pulls);
        assert_eq!((told.rows, told.faults.len()), (1500, 0));
        assert_eq!(pulls, whole, "{size}");
    }
}

#[test]
fn rest_between_pulls_is_not_kept() {
    let mut all = rows(1);
    let rest = vec![[0.0, 0.0, 0.0]; 200_000];
    all.extend(rest);
    all.extend(rows(1));
    for (i, row) in all.iter_mut().enumerate() {
        row[2] = i as f64 * 0.001;
    }
    let pulls = sound(&file(&PLAIN, &all), &Rig::default());
    assert_eq!(pulls.len(), 2);
    assert!(pulls[1].time_s.len() < 3000, "{}", pulls[1].time_s.len());
    // The line told is the row's: a heading, then the rows.
    let first = pulls[1].first_line as usize;
    assert!((pulls[1].time_s[0] - (first - 2) as f64 * 0.001).abs() < 1e-9);
}

#[test]
fn a_zero_that_jumps_at_rest_is_no_pull() {
    let mut all = rows(3);
    all[480..].iter_mut().for_each(|r| r[0] += 0.8);
    all[980..].iter_mut().for_each(|r| r[0] -= 1.5);
    let pulls = sound(&file(&PLAIN, &all), &Rig::default());
    assert_eq!(pulls.len(), 3);
    let most = pulls[1].force_kn.iter().copied().fold(f64::MIN, f64::max);
    assert!((most - 20.7).abs() < 0.02, "{most}");
}

/// The faults of the plain file of two pulls with its rows changed.
fn faulty(change: impl FnOnce(&mut Vec<[f64; 3]>)) -> (Vec<Fault>, usize) {
    let mut all = rows(2);
    change(&mut all);
    told(&file(&PLAIN, &all))
}

fn told(text: &str) -> (Vec<Fault>, usize) {
    let recorded = read(text.as_bytes(), &Rig::default());
    let pulls = match &recorded {
        Recorded::Sound(pulls) | Recorded::Doubtful { pulls, .. } => pulls.len(),
        Recorded::Unreadable(_) => 0,
    };
    (faults_of(&recorded), pulls)
}

#[test]
fn time_that_goes_backwards_is_named() {
    let (faults, _) = faulty(|rows| rows[200][2] -= 0.05);
    let told = faults.iter().find(|f| f.line == 202).expect("told");
    assert!(matches!(told.what, What::TimeBackwards(by) if (by - 0.049).abs() < 1e-9));
    // It cuts the pull.
    assert!(faults.contains(&Fault::at(201, What::Truncated)));
}

#[test]
fn a_clock_that_begins_anew_is_another_recording() {
    let one = rows(1);
    let two: Vec<_> = one.iter().chain(&one).copied().collect();
    assert_pulls(&sound(&file(&PLAIN, &two), &Rig::default()), 2);
}

#[test]
fn dropped_samples_are_counted_within_a_pull_only() {
    let (faults, pulls) = faulty(|rows| {
        rows.drain(200..210);
    });
    assert_eq!((faults.len(), pulls), (1, 2));
    assert_eq!(faults[0], Fault::at(202, What::Dropped(10)));
    let (faults, _) = faulty(|rows| {
        rows.drain(460..480);
    });
    assert_eq!(faults, []);
}

#[test]
fn a_saturated_cell_is_named() {
    let (faults, pulls) = faulty(|rows| rows.iter_mut().for_each(|r| r[0] = r[0].min(15.0)));
    assert_eq!((faults.len(), pulls), (2, 2));
    assert!(
        matches!(faults[0].what, What::Saturated { at_kn, samples } if at_kn == 15.0 && samples > 40)
    );
    assert!((251..255).contains(&faults[0].line), "{faults:?}");
}

#[test]
fn signs_that_are_turned_are_named_and_mended() {
    let (faults, pulls) = faulty(|rows| rows.iter_mut().for_each(|r| r[0] = -r[0]));
    assert_eq!((faults.len(), pulls), (2, 2));
    assert!(faults.iter().all(|f| f.what == What::ForceInverted));
    let mut all = rows(2);
    all.iter_mut().for_each(|r| r[1] = 50.0 - r[1]);
    let Recorded::Doubtful { faults, pulls } = read(file(&PLAIN, &all).as_bytes(), &Rig::default())
    else {
        panic!("sound");
    };
    assert!(faults.iter().all(|f| f.what == What::StrokeInverted));
    let stroke = &pulls[0].stroke_mm;
    let most = stroke.iter().copied().fold(f64::MIN, f64::max);
    assert!((most - 60.0).abs() < 0.1, "{most}");
}

#[test]
fn nothing_to_read_is_named() {
    let still = vec![[0.001, 0.0, 0.0]; 300];
    let mut still: Vec<[f64; 3]> = still;
    still
        .iter_mut()
        .enumerate()
        .for_each(|(i, r)| r[2] = i as f64 * 0.001);
    let (faults, pulls) = told(&file(&PLAIN, &still));
    assert_eq!((faults.len(), pulls), (1, 0));
    assert_eq!(faults[0].what, What::NoPull);
    for (text, what) in [
        ("", What::NoPull),
        ("Dear all,\nthe tool is fine.\n", What::NoNumbers),
        ("PK\u{3}\u{4}\u{14}\n", What::NotText(Some("zip"))),
        ("%PDF-1.7\n", What::NotText(Some("pdf"))),
        ("a\u{0}b\n", What::NotText(None)),
    ] {
        let (faults, pulls) = told(text);
        assert_eq!((faults[0].what.clone(), pulls), (what, 0), "{text:?}");
    }
    let letter = "word ".repeat(40_000);
    assert_eq!(told(&letter).0[0].what, What::NotText(None));
}

#[test]
fn a_heading_that_does_not_say_enough_is_refused() {
    let text = |head| file(&Style { head, ..PLAIN }, &rows(1));
    assert_eq!(told(&text("time,force,stroke")).0.len(), 3);
    assert_eq!(
        told(&text("time [s],force [V],stroke [mm]")).0[0].what,
        What::NoUnit(Role::Force)
    );
    let two = told(&text("time [s],force A [kN],force B [kN]")).0;
    assert_eq!(two[0].what, What::SeveralColumns(Role::Force, vec![2, 3]));
    assert_eq!(two[1].what, What::NoColumn(Role::Stroke));
}

#[test]
fn what_is_no_number_is_named_with_its_line() {
    let text = plain(2);
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    lines[200] = "0.199000,NaN,5.0".to_owned();
    lines[210] = "0.209000".to_owned();
    lines[220] = "0.219000,12.0 N,5.95".to_owned();
    lines[2] = "0.001,,0".to_owned();
    let (faults, pulls) = told(&lines.join("\n"));
    assert_eq!(pulls, 2);
    assert_eq!(
        faults[0],
        Fault::at(3, What::NotANumber(Role::Force, String::new()))
    );
    assert!(
        faults.contains(&Fault::at(201, What::NotANumber(Role::Force, "NaN".into()))),
        "{faults:?}"
    );
    assert!(faults.contains(&Fault::at(211, What::ShortRow)));
    let mixed = faults.iter().find(|f| f.line == 221).expect("named");
    assert!(matches!(
        mixed.what,
        What::MixedUnits {
            role: Role::Force,
            ..
        }
    ));
}

#[test]
fn other_units_in_the_middle_are_named_and_read() {
    let newton = file(
        &Style {
            head: "time [s],force [N],stroke [mm]",
            factors: [1000.0, 1.0, 1.0],
            ..PLAIN
        },
        &rows(1),
    );
    let both = plain(1) + &newton;
    let Recorded::Doubtful { faults, pulls } = read(both.as_bytes(), &Rig::default()) else {
        panic!("not doubtful");
    };
    assert_eq!(faults.len(), 1);
    assert_eq!(faults[0].line, 502);
    assert!(matches!(
        faults[0].what,
        What::MixedUnits {
            role: Role::Force,
            ..
        }
    ));
    assert_pulls(&pulls, 2);
}

#[test]
fn files_that_begin_or_end_in_a_pull_are_named() {
    let (faults, pulls) = faulty(|rows| rows.truncate(700));
    assert_eq!((faults.len(), pulls), (1, 2));
    assert_eq!(faults[0], Fault::at(701, What::Truncated));
    let (faults, _) = faulty(|rows| {
        rows.drain(..200);
    });
    assert!(
        faults.iter().any(|f| f.what == What::StartsLoaded),
        "{faults:?}"
    );
    // A row broken off.
    let text = plain(1);
    let (faults, _) = told(&text[..text.len() - 12]);
    assert_eq!(faults, [Fault::at(501, What::Truncated)]);
}

#[test]
fn two_pulls_without_rest_between_them_are_named() {
    // The tool goes back half way only, and pulls again.
    let (faults, pulls) = faulty(|rows| {
        rows.drain(370..690);
        rows.iter_mut()
            .enumerate()
            .for_each(|(i, r)| r[2] = i as f64 * 0.001);
    });
    assert!(faults.iter().any(|f| f.what == What::Merged), "{faults:?}");
    assert_eq!(pulls, 2);
    // The second recording begins while the first is loaded.
    let (faults, pulls) = faulty(|rows| {
        rows.drain(290..600);
        rows.iter_mut()
            .enumerate()
            .for_each(|(i, r)| r[2] = i as f64 * 0.001);
    });
    assert!(faults.iter().any(|f| f.what == What::Merged), "{faults:?}");
    assert_eq!(pulls, 2);
}

/// Half a minute under load and then out without load for long: fewer rows than a fast logger has of rest alone.
#[test]
fn a_slow_logger_s_pull_that_stays_out_ends() {
    let row = |i: u32| match i {
        0..20 => (0.0, 0.0),
        20..34 => (f64::from(i - 19), 8.0),
        _ => (14.0, 0.0),
    };
    let head = String::from("Time (s),Stroke (mm),Force (kN)\n");
    let text = (0..50).fold(head, |text, i| {
        let (stroke, force) = row(i);
        text + &format!("{}.0,{stroke},{force}\n", 2 * i)
    });
    let (faults, pulls) = told(&text);
    assert_eq!((faults, pulls), (vec![], 1));
}

#[test]
fn too_many_rows_are_named_and_memory_stays_bounded() {
    let mut pulls = Vec::new();
    let bounds = Bounds {
        pull_rows: 150,
        file_rows: 900,
        faults: 10,
    };
    let mut reader = Reader::new(Rig::default(), bounds);
    reader.feed(plain(2).as_bytes(), &mut pulls);
    let told = reader.finish(&mut pulls);
    let rows: Vec<_> = told.faults.iter().map(|f| f.what.clone()).collect();
    assert!(
        rows.contains(&What::TooManyRows(150)) && rows.contains(&What::TooManyRows(900)),
        "{rows:?}"
    );
    assert!(pulls.iter().all(|p| p.time_s.len() <= 150));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn no_bytes_make_it_panic(bytes in prop::collection::vec(any::<u8>(), 0..600), at in 0usize..20_000) {
        read(&bytes, &Rig::default());
        let mut text = plain(1).into_bytes();
        let at = at % text.len();
        text.splice(at..at, bytes);
        read(&text, &Rig::default());
    }

    #[test]
    fn no_changed_byte_makes_it_panic(at in 40usize..13_000, byte in any::<u8>()) {
        let mut text = plain(1).into_bytes();
        let at = at % text.len();
        text[at] = byte;
        read(&text, &Rig::default());
    }
}

#[test]
fn headings_that_only_the_rig_knows_are_found() {
    let style = Style {
        head: "Bench logger 2, 400 Hz\nt;Ch1;Ch2\nms;V;mm",
        delimiter: ";",
        comma: true,
        factors: [0.2, 1.0, 1000.0],
        ..PLAIN
    };
    let text = file(&style, &rows(2));
    let named = |heading: &str| Some(Place::Heading(heading.to_owned()));
    let rig = Rig {
        force: Column {
            place: named("Ch1"),
            scale: Some(5.0),
            ..Column::default()
        },
        stroke: Column {
            place: named("ch2"),
            ..Column::default()
        },
        ..Rig::default()
    };
    assert_pulls(&sound(&text, &rig), 2);
    // Without the rig nobody knows which channel is which.
    assert!(matches!(
        read(text.as_bytes(), &Rig::default()),
        Recorded::Unreadable(_)
    ));
}
