//! Nose sets with missing sizes, all sets in order, and what a tool can set.

use calc::message::Arg;
use proptest::prelude::*;
use shop::nose_match::{Fit, Reason, compare, rank, settable};
use shop::sheet::{FastenerFamily, NoseSet, ToolModel};

use crate::bench::{model, shelf};

pub fn noses() -> Vec<&'static NoseSet> {
    shelf().nose_sets().map(|(_, nose)| nose).collect()
}

pub fn nose(id: &str) -> &'static NoseSet {
    let found = noses().into_iter().find(|n| n.id == id);
    found.expect("a demo nose set")
}

pub fn families() -> Vec<&'static FastenerFamily> {
    shelf().fasteners().map(|(_, f)| f).collect()
}

pub fn family(id: &str) -> &'static FastenerFamily {
    let found = families().into_iter().find(|f| f.id == id);
    found.expect("a demo fastener")
}

/// What fits in the demo, without a doubt.
const FITTING: [(&str, &str, &str); 6] = [
    ("tulvane-tb-32", "marlstead-m8", "n8"),
    ("tulvane-tb-32", "drumhale-d6", "n30-d6"),
    ("orrinbeck-ah-21", "drumhale-d6", "n26-d6"),
    ("orrinbeck-ah-21", "drumhale-rn6", "n26-rn6"),
    ("skarnholt-hp-90", "brackwell-b12", "n48-b12"),
    ("skarnholt-hp-90", "brackwell-b12n", "n48-b12n"),
];

fn fitting() -> impl Iterator<Item = (&'static ToolModel, &'static FastenerFamily, NoseSet)> {
    FITTING
        .iter()
        .map(|(tool, fastener, set)| (model(tool), family(fastener), nose(set).clone()))
}

type Change<T> = (&'static str, fn(&mut T));

/// Every size of a nose set that its sheet may leave out, and the criterion that rests on it.
const OF_NOSE: [Change<NoseSet>; 7] = [
    ("match-teeth", |n| n.collet.teeth = None),
    ("match-grip", |n| n.collet.length_mm = None),
    ("match-grip", |n| n.collet.grip_mm = None),
    ("match-housing", |n| n.collet.outside_mm = None),
    ("match-housing", |n| n.housing.bore_mm = None),
    ("match-throat", |n| n.anvil.throat_mm = None),
    ("match-force", |n| n.max_pull_kn = None),
];

#[test]
fn a_nose_set_with_a_missing_size_is_undecided_and_says_what_to_measure() {
    for (tool, fastener, whole) in fitting() {
        assert_eq!(
            compare(tool, fastener, &whole).fit(),
            Fit::Yes,
            "{}",
            whole.id
        );
        for (name, forget) in OF_NOSE {
            let mut set = whole.clone();
            forget(&mut set);
            let found = compare(tool, fastener, &set);
            assert_eq!(found.fit(), Fit::Unknown, "{} {name}", set.id);
            let open: Vec<_> = found
                .reasons
                .iter()
                .filter(|r| r.fit == Fit::Unknown)
                .collect();
            assert_eq!(open.len(), 1, "{} {name}", set.id);
            assert_eq!(open[0].name.id, name);
            assert_eq!(found.missing().len(), 1, "one thing to measure");
            // The pull that a set bears is looked up; the rest is measured on its parts.
            assert_eq!(found.hands_near(), name != "match-force", "{name}");
        }
    }
}

#[test]
fn a_fastener_with_a_missing_size_is_undecided_too() {
    // Lockbolts: no length of the tail and no count of grooves, no outside, no swaged diameter.
    let of_fastener: [Change<FastenerFamily>; 3] = [
        ("match-teeth match-grip", |f| {
            f.tail_mm = None;
            f.pull_grooves = None;
        }),
        ("match-housing", |f| f.tail_outside_mm = None),
        ("match-throat", |f| f.criteria.clear()),
    ];
    for (tool, fastener, set) in fitting().filter(|(_, f, _)| f.stick_out_mm.is_some()) {
        for (names, forget) in of_fastener {
            let mut unsure = fastener.clone();
            forget(&mut unsure);
            let found = compare(tool, &unsure, &set);
            let open: Vec<&str> = found
                .reasons
                .iter()
                .filter(|r| r.fit == Fit::Unknown)
                .map(|r| r.name.id)
                .collect();
            assert_eq!(open.join(" "), names, "{} {}", fastener.id, set.id);
            assert_eq!(found.fit(), Fit::Unknown);
        }
    }
    // A flange that nobody measured may go through the nosepiece.
    let mut nut = family("drumhale-rn6").clone();
    nut.collar_mm = None;
    let found = compare(model("orrinbeck-ah-21"), &nut, nose("n26-rn6"));
    assert_eq!(found.fit(), Fit::Unknown);
    assert_eq!(found.missing()[0].id, "measure-collar");
    assert!(!found.hands_near(), "it is measured on the nut");
}

#[test]
fn a_stroke_that_no_sheet_states_is_open_unless_the_maker_gives_a_setting() {
    let (tool, m8, n8) = (model("tulvane-tb-32"), family("marlstead-m8"), nose("n8"));
    let stroke = |tool: &ToolModel, fastener: &FastenerFamily| {
        let found = compare(tool, fastener, n8);
        let reason = found.reasons.iter().find(|r| r.name.id == "match-stroke");
        reason.expect("a criterion").fit
    };
    assert_eq!(stroke(tool, m8), Fit::Yes);
    let mut long = m8.clone();
    long.needs_stroke_mm = Some(24.1);
    assert_eq!(stroke(tool, &long), Fit::No, "the tool has 24.0 mm");
    let mut silent = m8.clone();
    silent.needs_stroke_mm = None;
    assert_eq!(
        stroke(tool, &silent),
        Fit::Yes,
        "a table lies inside the stroke"
    );
    let mut without = tool.clone();
    without.settings.clear();
    assert_eq!(stroke(&without, &silent), Fit::Unknown);
    // Nothing else speaks against the set: nobody has said how to set it.
    let found = compare(&without, m8, n8);
    assert_eq!(found.fit(), Fit::Unknown);
    assert_eq!(found.missing()[0].id, "measure-setting");
}

fn count(reason: &Reason, name: &str) -> Option<i64> {
    let found = reason.detail.args.iter().find(|(n, _)| *n == name);
    found.and_then(|(_, arg)| match arg {
        Arg::Count(count) => Some(*count),
        _ => None,
    })
}

#[test]
fn too_few_grooves_say_how_many_teeth_engage() {
    // 6 teeth of the B12N collet on a tail of 4 grooves at 2.4 mm.
    let mut short = family("brackwell-b12n").clone();
    short.pull_grooves = Some(4);
    short.grip_teeth = None;
    let found = compare(model("skarnholt-hp-90"), &short, nose("n48-b12n"));
    let teeth = found.reasons.iter().find(|r| r.name.id == "match-teeth");
    let teeth = teeth.expect("a criterion");
    assert_eq!(teeth.fit, Fit::No);
    assert_eq!(count(teeth, "engaged"), Some(4));
    assert_eq!(count(teeth, "teeth"), Some(6));
    // Without a count the length of the tail says it: 18 mm at 2.4 mm are 7 grooves.
    short.pull_grooves = None;
    let found = compare(model("skarnholt-hp-90"), &short, nose("n48-b12n"));
    let teeth = found.reasons.iter().find(|r| r.name.id == "match-teeth");
    let teeth = teeth.expect("a criterion");
    assert_eq!(count(teeth, "grooves"), Some(7));
    assert_eq!(teeth.fit, Fit::Yes);
}

#[test]
fn what_is_known_to_jam_is_no_open_question() {
    let (tool, m8) = (model("tulvane-tb-32"), family("marlstead-m8"));
    let fit = |fastener: &FastenerFamily, set: &NoseSet, name: &str| {
        let found = compare(tool, fastener, set);
        let reason = found.reasons.iter().find(|r| r.name.id == name);
        reason.expect("a criterion").fit
    };
    // The collet fills the bore, whatever the tail measures.
    let mut set = nose("n8").clone();
    set.housing.bore_mm = set.collet.outside_mm;
    let mut unsure = m8.clone();
    unsure.tail_outside_mm = None;
    assert_eq!(fit(&unsure, &set, "match-housing"), Fit::No);
    // The gripping section is longer than the tail, whatever the collet measures.
    set.collet.grip_mm = Some(14.1);
    set.collet.length_mm = None;
    assert_eq!(fit(m8, &set, "match-grip"), Fit::No);
    // The tool is too weak, whatever the set bears.
    set.max_pull_kn = None;
    unsure.force_kn.1 = 32.1;
    assert_eq!(fit(&unsure, &set, "match-force"), Fit::No);
    // Four teeth are fewer than five, however many grooves there are.
    set.collet.teeth = Some(4);
    unsure.tail_mm = None;
    unsure.pull_grooves = None;
    assert_eq!(fit(&unsure, &set, "match-teeth"), Fit::No);
}

#[test]
fn a_mandrel_must_reach_through_the_nut() {
    let tool = model("orrinbeck-ah-21");
    let mut short = nose("n26-rn6").clone();
    short.collet.grip_mm = Some(8.9);
    short.collet.teeth = Some(8);
    let found = compare(tool, family("drumhale-rn6"), &short);
    let failed: Vec<&str> = found
        .reasons
        .iter()
        .filter(|r| r.fit == Fit::No)
        .map(|r| r.name.id)
        .collect();
    assert_eq!(failed, ["match-teeth", "match-grip"], "9 turns on 9.0 mm");
}

#[test]
fn the_throat_lets_through_what_pulls_and_holds_what_is_set() {
    let tool = model("orrinbeck-ah-21");
    let throat = |mm: f64| {
        let mut set = nose("n26-db4").clone();
        set.anvil.throat_mm = Some(mm);
        let found = compare(tool, family("drumhale-db4"), &set);
        let reason = found.reasons.iter().find(|r| r.name.id == "match-throat");
        reason.expect("a criterion").fit
    };
    // The mandrel is 2.7 mm, the head 9.5 mm.
    for (mm, expected) in [
        (2.7, Fit::No),
        (2.71, Fit::Yes),
        (9.49, Fit::Yes),
        (9.5, Fit::No),
    ] {
        assert_eq!(throat(mm), expected, "{mm}");
    }
}

#[test]
fn what_fits_comes_first_then_what_is_undecided() {
    let tool = model("tulvane-tb-32");
    let ranked = rank(tool, family("marlstead-m8"), noses());
    assert_eq!(ranked[0].nose.id, "n8");
    assert_eq!(ranked[0].margin_kn, Some(6.0), "32 kN of tool less 26 kN");
    assert_eq!(ranked.len(), noses().len(), "all of them");
    let order = |f| match f {
        Fit::Yes => 0,
        Fit::Unknown => 1,
        Fit::No => 2,
    };
    for pair in ranked.windows(2) {
        let place = |r: &shop::nose_match::Ranked| {
            (
                order(r.found.fit()),
                r.found.of(Fit::No),
                r.found.of(Fit::Unknown),
            )
        };
        assert!(place(&pair[0]) <= place(&pair[1]));
    }
    // Two that fit: the stronger one first, whatever its id; one of unknown strength is undecided.
    let mut strong = nose("n8").clone();
    strong.id = "z-strong".to_owned();
    let mut weak = nose("n8").clone();
    weak.id = "a-weak".to_owned();
    weak.max_pull_kn = Some(27.0);
    let mut silent = nose("n8").clone();
    silent.id = "b-silent".to_owned();
    silent.max_pull_kn = None;
    let mut tool = tool.clone();
    for id in ["z-strong", "a-weak", "b-silent"] {
        let mut setting = tool.settings[0].clone();
        setting.nose_set = id.to_owned();
        tool.settings.push(setting);
    }
    let ranked = rank(&tool, family("marlstead-m8"), [&weak, &silent, &strong]);
    let ids: Vec<&str> = ranked.iter().map(|r| r.nose.id.as_str()).collect();
    assert_eq!(ids, ["z-strong", "a-weak", "b-silent"]);
}

#[test]
fn what_a_tool_can_set_with_the_sets_at_hand() {
    // By hand, from the demo sheets.
    let ah = model("orrinbeck-ah-21");
    let can = |sets: &[&'static NoseSet]| -> Vec<(String, String, Fit)> {
        settable(ah, families(), sets)
            .into_iter()
            .map(|s| {
                (
                    s.fastener.id.clone(),
                    s.best.nose.id.clone(),
                    s.best.found.fit(),
                )
            })
            .collect()
    };
    let row = |f: &str, n: &str, fit| (f.to_owned(), n.to_owned(), fit);
    assert_eq!(
        can(&noses()),
        [
            row("drumhale-d6", "n26-d6", Fit::Yes),
            row("drumhale-rn5", "n26-rn5", Fit::Yes),
            row("drumhale-rn6", "n26-rn6", Fit::Yes),
            row("drumhale-db4", "n26-db4", Fit::Unknown),
        ]
    );
    assert_eq!(
        can(&[nose("n26-d6")]),
        [row("drumhale-d6", "n26-d6", Fit::Yes)]
    );
    assert!(can(&[nose("n8")]).is_empty(), "another thread");
    assert!(can(&[]).is_empty());
}

/// A nose set of the shelf with sizes left out.
fn gaps() -> impl Strategy<Value = Vec<bool>> {
    prop::collection::vec(any::<bool>(), OF_NOSE.len())
}

proptest! {
    /// Whatever is left out, nothing that was open or failed becomes a fit, and no criterion either.
    #[test]
    fn a_missing_value_never_makes_a_fit(
        gaps in gaps(), t in 0..3usize, f in 0..6usize, n in 0..10usize,
        no_tail: bool, no_outside: bool, no_collar: bool,
    ) {
        let tools: Vec<_> = shelf().models().map(|(_, m)| m).collect();
        let (tool, fastener, whole) = (tools[t], families()[f], noses()[n]);
        let (mut set, mut unsure) = (whole.clone(), fastener.clone());
        for ((_, forget), gone) in OF_NOSE.iter().zip(&gaps) {
            if *gone { forget(&mut set) }
        }
        if no_tail { unsure.tail_mm = None; unsure.pull_grooves = None }
        if no_outside { unsure.tail_outside_mm = None }
        if no_collar { unsure.collar_mm = None }
        let before = compare(tool, fastener, whole);
        let after = compare(tool, &unsure, &set);
        for (then, now) in before.reasons.iter().zip(&after.reasons) {
            prop_assert!(now.fit != Fit::Yes || then.fit == Fit::Yes, "{now:?}");
        }
        let any_gone = gaps.iter().any(|g| *g);
        prop_assert!(!(any_gone && after.fit() == Fit::Yes));
        prop_assert_eq!(after.fit() == Fit::Unknown, after.of(Fit::No) == 0 && !after.missing().is_empty());
    }

    /// A set that is made worse in one size is nowhere better than it was.
    #[test]
    fn a_worse_set_never_fits_better(
        t in 0..3usize, f in 0..6usize, n in 0..10usize, which in 0..4usize, by in 0.0..30.0f64,
    ) {
        let tools: Vec<_> = shelf().models().map(|(_, m)| m).collect();
        let (tool, fastener, whole) = (tools[t], families()[f], noses()[n]);
        let mut worse = whole.clone();
        match which {
            0 => worse.max_pull_kn = whole.max_pull_kn.map(|p| p - by),
            1 => worse.housing.bore_mm = whole.housing.bore_mm.map(|b| (b - by).max(0.01)),
            2 => worse.collet.outside_mm = whole.collet.outside_mm.map(|o| o + by),
            _ => worse.thread.size = "M99x9".to_owned(),
        }
        let (before, after) = (compare(tool, fastener, whole), compare(tool, fastener, &worse));
        for (then, now) in before.reasons.iter().zip(&after.reasons) {
            prop_assert!(!(then.fit == Fit::No && now.fit == Fit::Yes), "{now:?}");
        }
        prop_assert!(!(before.fit() == Fit::No && after.fit() == Fit::Yes));
    }

    /// The order in which sheets are loaded changes nothing.
    #[test]
    fn the_order_of_sheets_changes_nothing(
        shuffled in Just(noses()).prop_shuffle(), fasteners in Just(families()).prop_shuffle(), t in 0..3usize,
    ) {
        let tools: Vec<_> = shelf().models().map(|(_, m)| m).collect();
        let tool = tools[t];
        prop_assert_eq!(settable(tool, families(), &noses()), settable(tool, fasteners, &shuffled));
        for fastener in families() {
            prop_assert_eq!(rank(tool, fastener, noses()), rank(tool, fastener, shuffled.clone()));
        }
    }
}
