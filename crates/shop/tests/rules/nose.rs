//! Which nose set fits which fastener on which tool, criterion by criterion.

use shop::job::Command;
use shop::nose_match::{Fit, MEASURABLE, Sizes, compare};
use shop::sheet::{self, FastenerFamily, NoseSet, Sheet, Shelf, ToolModel};

use crate::bench::{Bench, arg, measured, model, shelf};
use crate::demo_sheets::demo_files;
use crate::walk::fit;

/// What fits, written by hand from the demo tools: everything else does not. The blind rivet has no
/// mandrel length in its sheet, so whether the jaws suit it stays open.
const FITS: [(&str, &str, &str, Fit); 8] = [
    ("tulvane-tb-32", "marlstead-m8", "n8", Fit::Yes),
    ("tulvane-tb-32", "drumhale-d6", "n30-d6", Fit::Yes),
    ("orrinbeck-ah-21", "drumhale-d6", "n26-d6", Fit::Yes),
    ("orrinbeck-ah-21", "drumhale-db4", "n26-db4", Fit::Unknown),
    ("orrinbeck-ah-21", "drumhale-rn5", "n26-rn5", Fit::Yes),
    ("orrinbeck-ah-21", "drumhale-rn6", "n26-rn6", Fit::Yes),
    ("skarnholt-hp-90", "brackwell-b12", "n48-b12", Fit::Yes),
    ("skarnholt-hp-90", "brackwell-b12n", "n48-b12n", Fit::Yes),
];

fn nose(id: &str) -> NoseSet {
    let found = shelf().nose_sets().find(|(pin, _)| pin.id == id);
    found.expect("a demo nose set").1.clone()
}

fn family(id: &str) -> FastenerFamily {
    let found = shelf().fasteners().find(|(pin, _)| pin.id == id);
    found.expect("a demo fastener").1.clone()
}

#[test]
fn every_tool_fastener_and_nose_set() {
    let mut seen = 0;
    for (_, tool) in shelf().models() {
        for (_, fastener) in shelf().fasteners() {
            for (_, nose) in shelf().nose_sets() {
                let ids = (tool.id.as_str(), fastener.id.as_str(), nose.id.as_str());
                let listed = FITS.iter().find(|f| (f.0, f.1, f.2) == ids);
                let expected = listed.map_or(Fit::No, |f| f.3);
                let found = compare(tool, fastener, nose);
                assert_eq!(found.fit(), expected, "{ids:?}: {:?}", found.reasons);
                seen += usize::from(listed.is_some());
            }
        }
    }
    assert_eq!(seen, FITS.len(), "every listed set is on the shelf");
}

/// What the criterion `name` says.
fn criterion(fastener: &FastenerFamily, nose: &NoseSet, name: &str) -> Fit {
    let found = compare(model("tulvane-tb-32"), fastener, nose);
    let reason = found.reasons.iter().find(|r| r.name.id == name);
    reason.expect("a criterion").fit
}

#[test]
fn each_size_that_differs_fails_at_its_own_criterion() {
    type Spoil = fn(&mut NoseSet);
    let spoilt: [(&str, Spoil); 9] = [
        ("match-thread", |n| {
            n.thread.hand = calc::screw_stop::Hand::Left
        }),
        ("match-groove", |n| {
            n.collet.form = shop::sheet::GrooveForm::Buttress
        }),
        ("match-pitch", |n| n.collet.pitch_mm = Some(1.8)),
        // The tail is 14 mm long.
        ("match-grip", |n| n.collet.grip_mm = Some(14.1)),
        // The tail has 8 grooves, and 5 teeth must hold.
        ("match-teeth", |n| n.collet.teeth = Some(4)),
        ("match-size", |n| n.anvil.takes_mm = (8.0, 8.4)),
        // The collar is to measure 12.90 to 13.12 mm.
        ("match-throat", |n| n.anvil.throat_mm = Some(13.2)),
        // The collet is 21.8 mm outside.
        ("match-housing", |n| n.housing.bore_mm = Some(21.8)),
        // 26 kN at most.
        ("match-force", |n| n.max_pull_kn = Some(25.0)),
    ];
    for (name, spoil) in spoilt {
        let mut nose = nose("n8");
        spoil(&mut nose);
        let found = compare(model("tulvane-tb-32"), &family("marlstead-m8"), &nose);
        let failed: Vec<&str> = found
            .reasons
            .iter()
            .filter(|r| r.fit == Fit::No)
            .map(|r| r.name.id)
            .collect();
        assert_eq!(failed, [name]);
        assert_eq!(found.fit(), Fit::No);
        assert_eq!(found.count(), (10, 11));
    }
}

#[test]
fn a_missing_size_is_never_a_fit() {
    let (nose, m8) = (nose("n8"), family("marlstead-m8"));
    let mut no_tail = m8.clone();
    no_tail.tail_mm = None;
    assert_eq!(criterion(&no_tail, &nose, "match-grip"), Fit::Unknown);
    let mut no_pitch = m8.clone();
    no_pitch.groove.pitch_mm = None;
    assert_eq!(criterion(&no_pitch, &nose, "match-pitch"), Fit::Unknown);
    let mut no_teeth = nose.clone();
    no_teeth.collet.pitch_mm = None;
    assert_eq!(criterion(&m8, &no_teeth, "match-pitch"), Fit::Unknown);
    assert_eq!(criterion(&no_pitch, &no_teeth, "match-pitch"), Fit::Unknown);
    for (fastener, nose) in [(&no_tail, &nose), (&no_pitch, &nose), (&m8, &no_teeth)] {
        let found = compare(model("tulvane-tb-32"), fastener, nose);
        assert_eq!(found.fit(), Fit::Unknown);
    }
}

#[test]
fn a_nose_set_that_does_not_fit_cannot_be_chosen() {
    let bench = Bench::ready("tulvane-tb-32").rebuilt("collet");
    for nose_set in ["n30-m6", "n26-d6", "n48-b12n"] {
        bench.refuses(fit("marlstead-m8", "06", nose_set), "nose_set: refuse-nose");
    }
    bench.refuses(fit("marlstead-m8", "12", "n8"), "code: refuse-code");
    bench.refuses(fit("marlstead-m8", "", "n8"), "code: refuse-code-pick");
    assert_eq!(
        bench.refused(fit("bolt", "06", "nose")),
        [
            "fastener: refuse-pick-fastener",
            "nose_set: refuse-pick-nose"
        ]
    );
}

#[test]
fn a_set_that_no_setting_is_known_for_cannot_be_chosen() {
    let mut bench = Bench::ready("orrinbeck-ah-21").rebuilt("jaws");
    let mut shelf = Shelf::default();
    for (name, text) in demo_files() {
        let mut sheet = sheet::read(&name, &text).expect("a demo sheet");
        if let Sheet::ToolModel(tool) = &mut sheet {
            tool.settings.retain(|s| s.fastener != "drumhale-rn6");
        }
        shelf.put(sheet, text);
    }
    bench.desk.shelf = Box::leak(Box::new(shelf));
    // Nothing else speaks against it.
    let tool = bench
        .desk
        .shelf
        .models()
        .find(|(pin, _)| pin.id == "orrinbeck-ah-21");
    let found = compare(
        tool.expect("the tool").1,
        &family("drumhale-rn6"),
        &nose("n26-rn6"),
    );
    assert_eq!((found.fit(), found.count()), (Fit::Unknown, (10, 11)));
    bench.refuses(
        fit("drumhale-rn6", "10-30", "n26-rn6"),
        "nose_set: refuse-no-setting",
    );
}

fn with_collet(fastener: &str, code: &str, nose_set: &str, mm: &[f64]) -> Command {
    Command::Fit {
        fastener: fastener.to_owned(),
        code: code.to_owned(),
        nose_set: nose_set.to_owned(),
        collet: Some(measured("c-3", mm)),
        made_safe: crate::walk::safe(),
        stack: shop::grip::StackIn::default(),
    }
}

#[test]
fn a_look_alike_collet_is_named_by_its_length() {
    // Demo sheets: CR8 is 42.0 mm long, CR8-S 38.8 mm; HP90-11 is 68.0 mm, HP90-11B 74.0 mm.
    let tb = Bench::ready("tulvane-tb-32").rebuilt("collet");
    let hp = Bench::ready("skarnholt-hp-90").rebuilt("collet");
    for (bench, command, wrong, right) in [
        (
            &tb,
            with_collet("marlstead-m8", "06", "n8", &[38.8]),
            "CR8-S",
            "CR8",
        ),
        (
            &tb,
            with_collet("marlstead-m8", "06", "n8", &[39.9]),
            "CR8-S",
            "CR8",
        ),
        // One of two measurements is enough.
        (
            &tb,
            with_collet("marlstead-m8", "06", "n8", &[42.0, 38.8]),
            "CR8-S",
            "CR8",
        ),
        (
            &hp,
            with_collet("brackwell-b12n", "12", "n48-b12n", &[74.0]),
            "HP90-11B",
            "HP90-11",
        ),
        (
            &hp,
            with_collet("brackwell-b12", "12", "n48-b12", &[68.1]),
            "HP90-11",
            "HP90-11B",
        ),
    ] {
        let refusals = shop::job::decide(&bench.job(), command, &bench.desk);
        let refusals = refusals.expect_err("a look-alike");
        let [only] = refusals.as_slice() else {
            panic!("{refusals:?}");
        };
        assert_eq!(
            (only.field.as_str(), only.message.id),
            ("collet", "refuse-look-alike")
        );
        assert_eq!(arg(&only.message, "wrong"), wrong);
        assert_eq!(arg(&only.message, "right"), right);
    }
    // Nobody's length: not named, and not taken either.
    tb.refuses(
        with_collet("marlstead-m8", "06", "n8", &[45.0]),
        "collet: refuse-collet-length",
    );
    // 68.0 is the other one of this nose, 64.2 is neither it nor the right 74.0.
    hp.refuses(
        with_collet("brackwell-b12", "12", "n48-b12", &[64.2]),
        "collet: refuse-collet-length",
    );
    let mut tb = tb;
    tb.does(with_collet("marlstead-m8", "06", "n8", &[41.98]));
    let job = tb.job();
    let collet = &job.set_up().expect("fitted").fitted.body.collet_mm;
    assert_eq!(collet.as_ref().map(|r| r.value), Some(41.98));
}

#[test]
fn what_just_fits_fits() {
    let (d6, set) = (family("drumhale-d6"), nose("n30-d6"));
    let tool = model("tulvane-tb-32");
    let fit = |tool: &ToolModel, fastener: &FastenerFamily, nose: &NoseSet, name: &str| {
        let found = compare(tool, fastener, nose);
        let reason = found.reasons.iter().find(|r| r.name.id == name);
        reason.expect("a criterion").fit
    };
    let pitch = set.collet.pitch_mm.expect("a pitch");
    let mut other = set.clone();
    for (off, expected) in [(0.005, Fit::Yes), (0.05, Fit::No), (-0.05, Fit::No)] {
        other.collet.pitch_mm = Some(pitch + off);
        assert_eq!(fit(tool, &d6, &other, "match-pitch"), expected, "{off}");
    }
    let tail = d6.tail_mm.expect("a tail");
    let mut other = set.clone();
    for (grip, expected) in [(tail, Fit::Yes), (tail + 0.1, Fit::No)] {
        other.collet.grip_mm = Some(grip);
        assert_eq!(fit(tool, &d6, &other, "match-grip"), expected, "{grip}");
    }
    let needs = d6.force_kn.1;
    // The weaker of tool and nose set bears the pull.
    for (rated, nose_bears, expected) in [
        (needs, needs, Fit::Yes),
        (needs - 0.1, needs + 5.0, Fit::No),
        (needs + 5.0, needs - 0.1, Fit::No),
    ] {
        let mut tool = tool.clone();
        tool.rated_pull_kn = rated;
        let mut other = set.clone();
        other.max_pull_kn = Some(nose_bears);
        assert_eq!(fit(&tool, &d6, &other, "match-force"), expected, "{rated}");
    }
}

#[test]
fn a_size_that_was_measured_decides_what_the_sheet_leaves_open() {
    let (rivet, jaws) = (family("drumhale-db4"), nose("n26-db4"));
    let tool = model("orrinbeck-ah-21");
    let found = compare(tool, &rivet, &jaws);
    let asked: Vec<&str> = found.missing().iter().map(|m| m.id).collect();
    assert_eq!(asked, ["measure-tail"]);
    let with = |mm: f64| {
        let sizes = Sizes {
            values: vec![("tail", mm)],
        };
        let filled = sizes.fill_fastener(&rivet);
        compare(tool, &filled, &jaws).fit()
    };
    let grip = jaws.collet.grip_mm.expect("the sheet states it");
    assert_eq!(with(grip + 0.1), Fit::Yes);
    assert_eq!(
        with(grip - 0.1),
        Fit::No,
        "the jaws find too little to hold"
    );
    // What the sheet states is not measured over.
    let sizes = Sizes {
        values: vec![("tail_outside", 99.0), ("throat", 99.0)],
    };
    assert_eq!(sizes.fill_fastener(&rivet), rivet);
    assert_eq!(sizes.fill_nose(&jaws), jaws);
}

#[test]
fn every_size_that_is_measured_fills_the_place_that_asks_for_it() {
    let mut bare = family("marlstead-m8");
    bare.groove.pitch_mm = None;
    (bare.pull_grooves, bare.tail_mm) = (None, None);
    (bare.tail_outside_mm, bare.collar_mm, bare.needs_stroke_mm) = (None, None, None);
    let mut hollow = nose("n8");
    (hollow.collet.pitch_mm, hollow.collet.teeth) = (None, None);
    (hollow.collet.grip_mm, hollow.collet.length_mm) = (None, None);
    (hollow.collet.outside_mm, hollow.anvil.throat_mm) = (None, None);
    (hollow.housing.bore_mm, hollow.max_pull_kn) = (None, None);
    for size in &MEASURABLE {
        let sizes = Sizes {
            values: vec![(size.name, 7.0)],
        };
        let (fastener, set) = (sizes.fill_fastener(&bare), sizes.fill_nose(&hollow));
        assert_eq!(fastener != bare, !size.on_nose, "{}", size.name);
        assert_eq!(set != hollow, size.on_nose, "{}", size.name);
        let missing = |f: &FastenerFamily, n: &NoseSet| {
            let found = compare(model("tulvane-tb-32"), f, n);
            found.missing().iter().any(|m| m.id == size.ask)
        };
        assert!(!missing(&fastener, &set), "{}", size.ask);
    }
}
