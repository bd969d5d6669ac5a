//! What lets the numbers of a pull decide nothing, however it is hidden among other faults.

use super::*;

/// The file's faults and the only pull of it.
fn only(text: &str, rig: &Rig) -> (Vec<Fault>, RecordedPull) {
    match read(text.as_bytes(), rig) {
        Recorded::Doubtful { faults, mut pulls } => {
            assert_eq!(pulls.len(), 1);
            (faults, pulls.remove(0))
        }
        other => panic!("{:?}", faults_of(&other)),
    }
}

fn spoils(pull: &RecordedPull) -> bool {
    pull.faults.iter().any(Fault::spoils)
}

/// The plain pull with what `change` makes of its rows, and `broken` lines put in at line 151.
fn pull(broken: usize, change: impl Fn(&mut [f64; 3])) -> String {
    let mut rows = rows(1);
    rows.iter_mut().for_each(change);
    let text = file(&PLAIN, &rows);
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    // Two kinds in turn, so that they do not run on.
    lines.splice(
        150..150,
        (0..broken).map(|i| ["1", "x,y,z"][i % 2].to_owned()),
    );
    lines.join("\n") + "\n"
}

#[test]
fn a_force_that_is_cut_off_spoils_its_pull() {
    let (_, whole) = only(&pull(1, |_| ()), &Rig::default());
    assert!(!spoils(&whole), "{:?}", whole.faults);
    let rig = Rig {
        cell_end_kn: Some(18.0),
        ..Rig::default()
    };
    // At the end that the rig names, and at one that only shows.
    for rig in [rig, Rig::default()] {
        let (faults, cut) = only(&pull(0, |row| row[0] = row[0].min(18.0)), &rig);
        let saturated = |f: &&Fault| matches!(f.what, What::Saturated { .. });
        let fault = cut.faults.iter().find(saturated).expect("named");
        assert!(fault.spoils() && spoils(&cut) && faults.contains(fault));
    }
}

/// More faults than are named hide none that spoils.
#[test]
fn a_force_that_is_cut_off_spoils_its_pull_behind_a_thousand_faults() {
    let rig = Rig {
        cell_end_kn: Some(18.0),
        ..Rig::default()
    };
    for broken in [1, 999, 1000, 1001, 1200, 5000] {
        let (faults, cut) = only(&pull(broken, |row| row[0] = row[0].min(18.0)), &rig);
        let saturated = |f: &Fault| matches!(f.what, What::Saturated { .. });
        assert!(cut.faults.iter().any(saturated), "{broken}");
        assert!(faults.iter().any(saturated), "{broken}");
        assert!(spoils(&cut) && cut.faults.len() <= 1001, "{broken}");
    }
}

#[test]
fn what_cuts_a_pull_spoils_it_behind_a_thousand_faults() {
    // In the middle of the load.
    let text = pull(1200, |_| ());
    let broken_off: Vec<&str> = text.lines().take(1440).collect();
    let (_, cut) = only(&(broken_off.join("\n") + "\n"), &Rig::default());
    assert!(cut.faults.iter().any(|f| f.what == What::Truncated));
    // From there on.
    let mut from_there: Vec<&str> = text.lines().collect();
    from_there.drain(1..140);
    let (_, cut) = only(&(from_there.join("\n") + "\n"), &Rig::default());
    assert!(cut.faults.iter().any(|f| f.what == What::StartsLoaded));
}

/// Every other row left out hides as much as one long run, and is told as one.
#[test]
fn many_short_runs_of_rows_left_out_spoil_like_a_long_one() {
    let without = |left_out: &[usize]| {
        let mut lines: Vec<String> = plain(1).lines().map(str::to_owned).collect();
        left_out
            .iter()
            .for_each(|i| lines[*i] = "0.2,NaN,5".to_owned());
        only(&(lines.join("\n") + "\n"), &Rig::default()).1
    };
    for three in [[160, 161, 162], [160, 200, 240]] {
        assert!(!spoils(&without(&three)), "{three:?}");
    }
    assert!(spoils(&without(&[160, 161, 162, 163])));
    let short = without(&[160, 200, 201, 240]);
    let wanted = Fault {
        line: 161,
        last_line: 241,
        what: What::LeftOut(4),
    };
    assert!(short.faults.contains(&wanted), "{:?}", short.faults);
    assert_eq!(wanted.message().id, "recording-left-out");
    let every_other: Vec<usize> = (150..250).step_by(2).collect();
    assert!(spoils(&without(&every_other)));
}

#[test]
fn samples_that_the_clock_misses_count_with_the_rows_left_out() {
    let mut rows = rows(1);
    // Two here, two there.
    rows.drain(240..242);
    rows.drain(200..202);
    let (faults, pull) = only(&file(&PLAIN, &rows), &Rig::default());
    let whats: Vec<&What> = faults.iter().map(|f| &f.what).collect();
    assert!(whats.contains(&&What::LeftOut(4)), "{whats:?}");
    assert!(spoils(&pull));
}

#[test]
fn rows_left_out_of_one_pull_do_not_spoil_another() {
    let mut lines: Vec<String> = plain(2).lines().map(str::to_owned).collect();
    for i in [160, 200, 660, 700] {
        lines[i] = "0.2,NaN,5".to_owned();
    }
    let Recorded::Doubtful { pulls, .. } = read(lines.join("\n").as_bytes(), &Rig::default())
    else {
        panic!("doubtful");
    };
    assert_eq!(
        pulls
            .iter()
            .map(|pull| pull.faults.len())
            .collect::<Vec<_>>(),
        [2, 2]
    );
    assert!(!pulls.iter().any(spoils));
}

/// A clock that stands still is named with its rows and spoils the pull; that it jumps after is not told as missing rows.
#[test]
fn a_clock_that_stands_still_is_named() {
    let standing = |from: usize, to: usize| {
        let mut rows = rows(1);
        let time = rows[from][2];
        rows[from..to].iter_mut().for_each(|row| row[2] = time);
        only(&file(&PLAIN, &rows), &Rig::default())
    };
    for (from, to) in [(150, 190), (250, 400), (120, 500)] {
        let (faults, pull) = standing(from, to);
        let whats: Vec<&What> = faults.iter().map(|f| &f.what).collect();
        assert_eq!(whats, [&What::TimeStands], "{from} to {to}");
        // A heading stands before the rows.
        assert_eq!(
            (faults[0].line, faults[0].last_line),
            (from as u64 + 2, to as u64 + 1)
        );
        assert!(pull.faults == faults && spoils(&pull));
        assert_eq!(faults[0].message().id, "recording-time-stands");
    }
    // It stands from the first row on.
    let mut all = rows(1);
    all.iter_mut().for_each(|row| row[2] = 7.0);
    let (faults, pull) = only(&file(&PLAIN, &all), &Rig::default());
    assert!(faults.iter().any(|f| f.what == What::TimeStands) && spoils(&pull));
}

#[test]
fn a_clock_that_is_rounded_does_not_stand_still() {
    // To 5 ms at 1 kHz.
    let mut all = rows(2);
    all.iter_mut()
        .for_each(|row| row[2] = (row[2] / 0.005).floor() * 0.005);
    assert_pulls(&sound(&file(&PLAIN, &all), &Rig::default()), 2);
}
