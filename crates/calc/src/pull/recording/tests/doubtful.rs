//! What must not pass for sound, and what of it stays with its pull.

use super::*;
use crate::pull::reading::{Fastener, Setup, read_pull};

/// Lines of the plain file of `count` pulls, heading first.
fn lines(count: usize) -> Vec<String> {
    plain(count).lines().map(str::to_owned).collect()
}

fn both(text: &str, rig: &Rig) -> (Vec<Fault>, Vec<RecordedPull>) {
    match read(text.as_bytes(), rig) {
        Recorded::Sound(pulls) => (Vec::new(), pulls),
        Recorded::Doubtful { faults, pulls } => (faults, pulls),
        Recorded::Unreadable(faults) => (faults, Vec::new()),
    }
}

fn more(count: u64) -> What {
    let spoils = false;
    What::More { count, spoils }
}

#[test]
fn faults_beyond_the_named_ones_stay_with_their_pull() {
    let mut lines = lines(2);
    // Far more broken lines at rest than are named: the next one is of another kind, so that they do not run on.
    let broken = (0..2200).map(|i| ["x,y,z", "1"][i % 2].to_owned());
    let end = lines.len();
    lines[end - 300] = "0.78,NaN,5.0".to_owned();
    lines[end - 299] = "0.781,9.9".to_owned();
    lines.splice(21..21, broken);
    let (faults, pulls) = both(&(lines.join("\n") + "\n"), &Rig::default());
    assert_eq!((faults.len(), pulls.len()), (1001, 2));
    // One more than lines are broken: that in all so many are left out of the first pull.
    assert_eq!(faults[1000].what, more(1203));
    assert!(!pulls[0].faults.is_empty());
    let last: Vec<u64> = pulls[1].faults.iter().map(|f| f.line).collect();
    assert_eq!(last, [2902, 2903]);
    // Lines that are no rows count as lines all the same.
    assert_eq!(pulls[0].first_line, 2);
    let row = (pulls[1].last_line - 2202) as f64;
    let end = pulls[1].time_s[pulls[1].time_s.len() - 1];
    assert!((end - row * 0.001).abs() < 1e-9, "{row} {end}");
}

#[test]
fn a_pull_s_own_faults_are_bounded_too() {
    let mut pulls = Vec::new();
    let bounds = Bounds {
        faults: 10,
        ..Bounds::default()
    };
    let mut text = lines(1);
    text.splice(200..200, (0..50).map(|i| ["1", "x,y,z"][i % 2].to_owned()));
    let mut reader = Reader::new(Rig::default(), bounds);
    reader.feed((text.join("\n") + "\n").as_bytes(), &mut pulls);
    let told = reader.finish(&mut pulls);
    assert_eq!((told.faults.len(), pulls[0].faults.len()), (11, 11));
    assert_eq!(told.faults[10].what, more(41));
    assert_eq!(pulls[0].faults[10].what, more(41));
}

#[test]
fn merged_pulls_are_named_up_to_the_bound_and_all_are_marked() {
    // Each goes back half way only.
    let mut all: Vec<[f64; 3]> = rows(1);
    let turn: Vec<[f64; 3]> = all[190..360].to_vec();
    let end = all.split_off(360);
    (0..60).for_each(|_| all.extend(&turn));
    all.extend(end);
    let times = all.iter_mut().enumerate();
    times.for_each(|(i, row)| row[2] = i as f64 * 0.001);
    let mut pulls = Vec::new();
    let bounds = Bounds {
        faults: 20,
        ..Bounds::default()
    };
    let mut reader = Reader::new(Rig::default(), bounds);
    reader.feed(file(&PLAIN, &all).as_bytes(), &mut pulls);
    let told = reader.finish(&mut pulls);
    assert!(pulls.len() > 50, "{}", pulls.len());
    assert_eq!(told.faults.len(), 21);
    assert!(matches!(told.faults[20].what, What::More { count, .. } if count > 30));
    let of_pulls = pulls.iter().map(|pull| pull.faults.len());
    assert!(of_pulls.clone().all(|n| (1..=3).contains(&n)), "{pulls:?}");
}

#[test]
fn a_pull_that_a_new_clock_or_heading_cuts_is_told() {
    let (one, head) = (lines(1), &lines(1)[0]);
    for between in ["", &format!("{head}\n")] {
        let cut = one[1..251].join("\n");
        let whole = one[1..].join("\n");
        let text = format!("{head}\n{cut}\n{between}{whole}\n");
        let (faults, pulls) = both(&text, &Rig::default());
        assert_eq!(faults, [Fault::at(251, What::Truncated)], "{between}");
        assert_eq!(pulls.len(), 2);
        assert_eq!((pulls[0].faults.len(), pulls[1].faults.len()), (1, 0));
    }
    // The recording behind the first begins under load.
    let text = format!("{}\n{}\n", one.join("\n"), one[200..].join("\n"));
    let (faults, _) = both(&text.replace("0.199000,", "0.000000,"), &Rig::default());
    let told = faults.iter().any(|f| f.what == What::StartsLoaded);
    assert!(told, "{faults:?}");
}

#[test]
fn a_second_heading_that_says_less_counts_only_for_the_same_columns() {
    let turned = rows(1)
        .iter()
        .map(|r| format!("{:.6},{:.6},{:.6}\n", r[2] + 0.5, r[1], r[0]))
        .collect::<String>();
    let text = format!("{}time,stroke,force\n{turned}", plain(1));
    let (faults, pulls) = both(&text, &Rig::default());
    let units: Vec<What> = faults.into_iter().map(|f| f.what).collect();
    assert_eq!(units, Role::ALL.map(What::NoUnit));
    assert_pulls(&pulls, 1);
    let alike = lines(1)[1..].join("\n");
    let text = format!("{}time,force,stroke\n{alike}\n", plain(1));
    assert_pulls(&sound(&text, &Rig::default()), 2);
    // With its units it may name the columns in another order.
    let text = format!("{}time [s],stroke [mm],force [kN]\n{turned}", plain(1));
    assert_pulls(&sound(&text, &Rig::default()), 2);
}

#[test]
fn decimal_commas_between_commas_are_named() {
    let comma = |x: f64| format!("{x:.3}").replace('.', ",");
    let row = |r: &[f64; 3]| format!("{},{},{}\n", comma(r[2]), comma(r[0]), comma(r[1]));
    let rows: String = rows(2).iter().map(row).collect();
    let text = format!("time [s],force [kN],stroke [mm]\n{rows}");
    let (faults, pulls) = both(&text, &Rig::default());
    let what = What::MoreNumbers {
        numbers: 6,
        headings: 3,
    };
    assert_eq!((faults, pulls), (vec![Fault::at(2, what)], Vec::new()));
    // Whole numbers first, then such rows.
    let mut lines = lines(1);
    lines.splice(101..105, ["0,1,0,2,0,1", "0,1,0,2,0,1"].map(String::from));
    let (faults, _) = both(&(lines.join("\n") + "\n"), &Rig::default());
    let named = faults.iter().find(|f| f.line == 102).expect("named");
    assert!(matches!(named.what, What::MoreNumbers { numbers: 6, .. }));
    assert_eq!(named.last_line, 103);
}

#[test]
fn an_empty_cell_or_a_remark_behind_the_numbers_is_no_fault() {
    for (behind, head) in [(",", ""), (",,", ""), (", ok", ",remark"), (",7", ",n")] {
        let mut lines = lines(1);
        lines.iter_mut().for_each(|line| line.push_str(behind));
        lines[0] = format!("{}{head}", PLAIN.head);
        assert_pulls(&sound(&lines.join("\n"), &Rig::default()), 1);
    }
}

#[test]
fn a_cell_at_its_end_is_told_with_its_zero_still_in_it() {
    let rig = Rig {
        cell_end_kn: Some(20.0),
        ..Rig::default()
    };
    for zero in [0.5, -0.5] {
        let cut = |[f, s, t]: [f64; 3]| [(f + zero).min(20.0), s, t];
        let cut: Vec<[f64; 3]> = rows(1).into_iter().map(cut).collect();
        let (faults, _) = both(&file(&PLAIN, &cut), &rig);
        // 19.9 kN and 0.5 kN are beyond the end, 19.9 kN less 0.5 kN are not.
        let wanted = zero > 0.0;
        let told = |f: &Fault| matches!(f.what, What::Saturated { at_kn, .. } if at_kn == 20.0);
        assert_eq!(faults.iter().any(told), wanted, "{zero}: {faults:?}");
    }
    // Wired the wrong way round it ends at the same reading.
    let cut = |[f, s, t]: [f64; 3]| [(-f - 0.5).max(-20.0), s, t];
    let cut: Vec<[f64; 3]> = rows(1).into_iter().map(cut).collect();
    let (faults, _) = both(&file(&PLAIN, &cut), &rig);
    let told = |f: &Fault| matches!(f.what, What::Saturated { .. });
    assert!(faults.iter().any(told), "{faults:?}");
}

#[test]
fn a_force_that_no_tool_has_is_left_out() {
    for force in ["5e11", "-5e11", "1.1e9"] {
        let mut lines = lines(1);
        lines[250] = format!("0.249,{force},7.45");
        let (faults, pulls) = both(&(lines.join("\n") + "\n"), &Rig::default());
        let what = What::NotANumber(Role::Force, force.to_owned());
        assert_eq!(faults, [Fault::at(251, what)]);
        assert_pulls(&pulls, 1);
    }
}

#[test]
fn a_run_of_rows_with_the_same_fault_is_one() {
    let mut lines = lines(1);
    for (i, line) in lines[170..230].iter_mut().enumerate() {
        let text = ["NaN", "nan"][i / 30];
        *line = format!("0.2,{text},{}", i / 20);
    }
    lines[230] = "0.229".to_owned();
    lines[232] = "0.231".to_owned();
    let (faults, pulls) = both(&(lines.join("\n") + "\n"), &Rig::default());
    assert_eq!(faults[0].what, What::NotANumber(Role::Force, "NaN".into()));
    let ends: Vec<(u64, u64)> = faults.iter().map(|f| (f.line, f.last_line)).collect();
    assert_eq!(ends, [(171, 230), (231, 231), (233, 233)]);
    assert_eq!(pulls[0].faults, faults);
    let ids = faults.iter().map(|fault| fault.message().id);
    let wanted = [
        "recording-not-a-number-rows",
        "recording-short-row",
        "recording-short-row",
    ];
    assert!(ids.eq(wanted));
}

#[test]
fn rows_left_out_and_samples_missing_besides_are_told_apart() {
    let mut lines = lines(1);
    lines[200] = "0.199,NaN,5".to_owned();
    lines.drain(201..206);
    let (faults, _) = both(&(lines.join("\n") + "\n"), &Rig::default());
    assert_eq!(faults[1..], [Fault::at(202, What::Dropped(5))]);
}

#[test]
fn a_force_far_beyond_the_cell_or_any_tool_is_asked_about() {
    let beyond = |factor: f64, rig: &Rig, cell: Option<f64>| {
        let rows: Vec<[f64; 3]> = rows(1)
            .iter()
            .map(|r| [r[0] * factor, r[1], r[2]])
            .collect();
        let mut pulls = Vec::new();
        let rig = Rig {
            cell_bears_kn: cell,
            ..rig.clone()
        };
        let mut reader = Reader::new(rig, Bounds::default());
        reader.feed(file(&PLAIN, &rows).as_bytes(), &mut pulls);
        let told = reader.finish(&mut pulls);
        assert_eq!(pulls[0].faults, told.faults);
        let each = told.faults.into_iter().map(|fault| fault.what);
        each.collect::<Vec<_>>()
    };
    let any = Rig::default();
    let with_end = Rig {
        cell_end_kn: Some(25.0),
        ..Rig::default()
    };
    // Pounds under a heading of kN: 4.45 times the force.
    for (rig, cell) in [
        (&any, Some(25.0)),
        (&with_end, None),
        (&with_end, Some(90.0)),
    ] {
        assert_eq!(beyond(1.0, rig, cell), []);
        let found = beyond(4.45, rig, cell);
        let [What::Implausible { force_kn, cell_kn }] = found[..] else {
            panic!("{found:?}");
        };
        assert!((force_kn - 19.9 * 4.45).abs() < 0.1 && cell_kn == Some(25.0));
    }
    // A little beyond its end it stands there; the unit is right.
    let little = beyond(1.4, &with_end, None);
    assert!(matches!(little[..], [What::Saturated { .. }]), "{little:?}");
    assert_eq!(beyond(4.45, &any, None), []);
    assert_eq!(beyond(24.0, &any, None), []);
    let newtons = beyond(1000.0, &any, None);
    let none = |what: &What| matches!(what, What::Implausible { cell_kn: None, .. });
    assert!(newtons.len() == 1 && none(&newtons[0]), "{newtons:?}");
    let pushed = beyond(-1000.0, &any, None);
    assert!(pushed.iter().any(none), "{pushed:?}");
}

#[test]
fn a_known_zero_counts_for_a_clip_that_begins_loaded_and_that_is_told() {
    let zero = 0.4;
    let clip = |from: usize| -> Vec<[f64; 3]> {
        let rows = rows(1).into_iter().skip(from);
        rows.map(|[f, s, t]| [f + zero, s, t]).collect()
    };
    let rig = Rig {
        zero_kn: Some(zero),
        ..Rig::default()
    };
    let whats = |faults: Vec<Fault>| faults.into_iter().map(|f| f.what).collect::<Vec<_>>();
    let (faults, pulls) = both(&file(&PLAIN, &clip(150)), &rig);
    assert_eq!(whats(faults), [What::StartsOut]);
    assert_eq!(pulls[0].zero_kn, Some(zero));
    let setup = Setup::of(Fastener::StopLockbolt);
    let reading = read_pull(&pulls[0], &setup).expect("reads");
    assert!((reading.features.peak_raw_kn - 19.9).abs() < 0.02);
    assert_eq!(reading.told.zero_kn, zero);
    // From rest on there is nothing to tell.
    assert_eq!(both(&file(&PLAIN, &clip(0)), &rig).0, []);
    // Without the rig's word the zero is not known.
    let (faults, pulls) = both(&file(&PLAIN, &clip(150)), &Rig::default());
    assert_eq!(whats(faults), [What::StartsLoaded]);
    assert_eq!(pulls[0].zero_kn, None);
}

#[test]
fn a_cell_wired_the_wrong_way_round_keeps_its_known_zero() {
    let rig = Rig {
        zero_kn: Some(0.4),
        ..Rig::default()
    };
    // At rest it shows 0.4, and less under load.
    let turned = rows(1).into_iter().map(|[f, s, t]| [0.4 - f, s, t]);
    let turned: Vec<[f64; 3]> = turned.collect();
    let (faults, pulls) = both(&file(&PLAIN, &turned), &rig);
    assert!(faults.iter().all(|f| f.what == What::ForceInverted) && faults.len() == 1);
    assert_eq!(pulls[0].zero_kn, Some(0.4));
    let right = rows(1).into_iter().map(|[f, s, t]| [0.4 + f, s, t]);
    let right: Vec<[f64; 3]> = right.collect();
    let (_, as_wired_right) = both(&file(&PLAIN, &right), &rig);
    for (a, b) in pulls[0].force_kn.iter().zip(&as_wired_right[0].force_kn) {
        assert!((a - b).abs() < 1e-5, "{a} {b}");
    }
    let reading = read_pull(&pulls[0], &Setup::of(Fastener::StopLockbolt)).expect("reads");
    assert!((reading.features.peak_raw_kn - 19.9).abs() < 0.02);
}
