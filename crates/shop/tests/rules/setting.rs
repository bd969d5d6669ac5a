//! From stick-out, or wanted stroke, to turns of the adjuster.

use calc::decision::Limits;
use calc::repeated::Estimate;
use calc::screw_stop::{Effect, Hand, Rotation, ScrewStop, View, Zero};
use calc::working::fixed;
use proptest::prelude::*;
use shop::setting::{NoSetting, SettingAnswer, turns};
use shop::sheet::{Adjuster, FastenerFamily, SettingBasis, ToolModel};

use crate::arithmetic::holds;
use crate::bench::{model, shelf};

fn exact(value: f64) -> Estimate {
    within(value, 0.0)
}

fn within(value: f64, expanded: f64) -> Estimate {
    Estimate {
        value,
        standard: expanded / 2.0,
        dof: f64::INFINITY,
        expanded,
        spread: 0.0,
    }
}

fn family(id: &str) -> &'static FastenerFamily {
    let found = shelf().fasteners().find(|(pin, _)| pin.id == id);
    found.expect("a demo fastener").1
}

fn set(
    model: &ToolModel,
    fastener: &str,
    code: &str,
    measured: &Estimate,
) -> Result<SettingAnswer, NoSetting> {
    let rule = model.settings.iter().find(|s| s.fastener == fastener);
    let family = family(fastener);
    turns(
        model,
        rule.expect("a rule"),
        family,
        family.code(code),
        measured,
    )
}

/// Holds a worked example: measured mm, exact turns to two decimals, turns set.
#[track_caller]
fn worked(id: &str, fastener: &str, code: &str, rows: &[(f64, f64, f64)]) {
    for &(mm, to_two_decimals, by_hand) in rows {
        let answer = set(model(id), fastener, code, &exact(mm)).expect("inside");
        assert!(
            (answer.turns - to_two_decimals).abs() <= 0.005,
            "{mm}: {}",
            answer.turns
        );
        assert_eq!(answer.set_turns, by_hand, "{mm}");
    }
}

#[test]
fn tb_32_by_stick_out() {
    // Demo tool, arithmetic: turns = (36.0 - L) / 1.5, set to quarter turns; band 25.2 to 26.8 mm.
    let rows = [(25.5, 7.0, 7.0), (26.0, 6.67, 6.75), (26.5, 6.33, 6.25)];
    worked("tulvane-tb-32", "marlstead-m8", "06", &rows);
    let answer = set(model("tulvane-tb-32"), "marlstead-m8", "06", &exact(26.2));
    let turn = answer.expect("inside").turn;
    // Zero fully open, clockwise shortens.
    assert_eq!(
        (turn.rotation, turn.effect),
        (Rotation::Clockwise, Effect::Shortens)
    );
    assert_eq!((turn.zero, turn.view), (Zero::Open, View::AdjusterEnd));
}

#[test]
fn ah_21_by_stroke() {
    // Demo tool, arithmetic: turns = S / 1.25, set to quarter turns; 3.125 mm is 2 1/2 turns.
    let rows = [
        (2.0, 1.6, 1.5),
        (2.5, 2.0, 2.0),
        (3.0, 2.4, 2.5),
        (3.125, 2.5, 2.5),
        (4.0, 3.2, 3.25),
        (5.0, 4.0, 4.0),
    ];
    worked("orrinbeck-ah-21", "drumhale-rn6", "10-30", &rows);
    let answer = set(
        model("orrinbeck-ah-21"),
        "drumhale-rn6",
        "10-30",
        &exact(3.0),
    );
    let turn = answer.expect("inside").turn;
    // A left-hand stop, zero screwed in: clockwise backs it out and lengthens.
    assert_eq!(
        (turn.rotation, turn.effect),
        (Rotation::Clockwise, Effect::Lengthens)
    );
    assert_eq!(turn.zero, Zero::Closed);
}

#[test]
fn hp_90_by_stick_out() {
    // Demo tool, arithmetic: turns = (52.0 - L) / 2; band 37.2 to 38.8 mm.
    let rows = [(38.0, 7.0, 7.0), (37.5, 7.25, 7.25), (38.5, 6.75, 6.75)];
    worked("skarnholt-hp-90", "brackwell-b12n", "12", &rows);
}

/// The model with the settings by table taken off, so that the relation stands alone.
fn by_relation_alone(file: &str, id: &str) -> ToolModel {
    let mut files = crate::demo_sheets::demo_files().into_iter();
    let (_, text) = files.find(|(name, _)| name == file).expect("a demo sheet");
    let from = text.find("mm_to_turns = [").expect("a table");
    let to = text.find("relation = {").expect("a relation");
    let text = format!("{}{}", &text[..from], &text[to..]);
    match shop::sheet::read(file, &text) {
        Ok(shop::sheet::Sheet::ToolModel(model)) if model.id == id => model,
        other => panic!("{other:?}"),
    }
}

#[test]
fn the_relation_alone_gives_the_same_turns() {
    // Demo tools, arithmetic: S = L − 12, turns = (24 − S) / 1.5; S = L − 20, turns = (32 − S) / 2.
    // Doubt: √(0.05² + 0.1² + 0.2²) = 0.2291 mm, over the pitch.
    for (file, id, fastener, code, mm, turns, step, doubt) in [
        (
            "models/tulvane-tb-32.toml",
            "tulvane-tb-32",
            "marlstead-m8",
            "06",
            26.0,
            6.6667,
            6.75,
            0.1528,
        ),
        (
            "models/skarnholt-hp-90.toml",
            "skarnholt-hp-90",
            "brackwell-b12n",
            "12",
            38.5,
            6.75,
            6.75,
            0.1146,
        ),
    ] {
        let model = by_relation_alone(file, id);
        let answer = set(&model, fastener, code, &exact(mm)).expect("inside");
        assert!((answer.turns - turns).abs() < 1e-4, "{}", answer.turns);
        assert_eq!(answer.set_turns, step);
        assert!(
            (answer.expanded_turns - doubt).abs() < 1e-4,
            "{}",
            answer.expanded_turns
        );
        assert_eq!(answer.working.method.name, "stroke-from-stick-out");
        assert!(answer.working.steps.iter().any(|s| s.symbol == "S"));
        holds(&answer.working);
        // Out of band it gives no setting either.
        let beyond = set(&model, fastener, code, &exact(mm + 3.0));
        assert!(matches!(beyond, Err(NoSetting::OutOfBand { .. })));
    }
}

#[test]
fn a_stick_out_of_another_code_gives_no_setting_but_names_the_code() {
    // Demo story, arithmetic: code 08 is 26.0 mm over a stack of 12.7, so 29.2 mm speaks for
    // 12.7 + 26.0 - 29.2 = 9.5 mm, which is code 06 (8.7 to 10.3).
    let why = set(model("tulvane-tb-32"), "marlstead-m8", "08", &exact(29.2));
    let Err(NoSetting::OutOfBand {
        long,
        stack_mm,
        suits,
    }) = why
    else {
        panic!("{why:?}");
    };
    assert!(long);
    assert!((stack_mm.expect("a stack") - 9.5).abs() < 1e-9);
    assert_eq!(suits.as_deref(), Some("06"));
    // Too short: the stack is thicker than the code is for. 7.9 + 26.0 - 24.0 = 9.9: code 06.
    let why = set(model("tulvane-tb-32"), "marlstead-m8", "05", &exact(24.0));
    let Err(NoSetting::OutOfBand { long, suits, .. }) = why else {
        panic!("{why:?}");
    };
    assert_eq!((long, suits.as_deref()), (false, Some("06")));
    // 12.7 + 26.0 - 35.0 = 3.7: no code is made for that.
    let why = set(model("tulvane-tb-32"), "marlstead-m8", "08", &exact(35.0));
    assert!(
        matches!(why, Err(NoSetting::OutOfBand { suits: None, .. })),
        "{why:?}"
    );
}

#[test]
fn the_band_ends_where_the_sheet_says() {
    let at = |mm| set(model("tulvane-tb-32"), "marlstead-m8", "06", &exact(mm));
    for inside in [25.2, 26.8] {
        assert!(at(inside).is_ok(), "{inside}");
    }
    for outside in [25.19, 26.81] {
        assert!(
            matches!(at(outside), Err(NoSetting::OutOfBand { .. })),
            "{outside}"
        );
    }
}

#[test]
fn outside_the_table_there_is_no_setting() {
    let at = |mm| {
        set(
            model("orrinbeck-ah-21"),
            "drumhale-rn6",
            "10-30",
            &exact(mm),
        )
    };
    assert!(at(f64::NAN).is_err());
    for outside in [1.99, 5.01] {
        assert_eq!(
            at(outside).err(),
            Some(NoSetting::OutOfTable {
                min_mm: 2.0,
                max_mm: 5.0
            })
        );
    }
    // At full stroke there is no table.
    let why = set(
        model("skarnholt-hp-90"),
        "brackwell-b12",
        "12",
        &exact(62.0),
    );
    assert_eq!(why.err(), Some(NoSetting::NotInSheet));
}

#[test]
fn the_working_ends_in_the_setting() {
    let answer = set(
        model("tulvane-tb-32"),
        "marlstead-m8",
        "06",
        &within(26.2, 0.05),
    );
    let answer = answer.expect("inside");
    let step = |symbol: &str| {
        let found = answer.working.steps.iter().find(|s| s.symbol == symbol);
        found.expect("a step").value.clone()
    };
    assert_eq!(step("t"), fixed(answer.turns, 2));
    assert_eq!(step("t_set"), fixed(answer.set_turns, 3));
    assert_eq!(step("w"), fixed(answer.expanded_turns, 2));
    // Slope 1/1.5 turns a millimetre, table known to 0.1 turns: √((0.05/1.5)² + 0.1²) = 0.1054.
    assert!(
        (answer.expanded_turns - 0.1054).abs() < 5e-4,
        "{}",
        answer.expanded_turns
    );
}

/// The demo TB-32 with another adjuster and a table that follows from it: the stroke needed grows
/// with the stick-out, one millimetre for one.
fn with_adjuster(hand: Hand, screwing_in: Effect, zero: Zero, view: View) -> ToolModel {
    let mut model = model("tulvane-tb-32").clone();
    let stop = ScrewStop {
        pitch_mm: 1.5,
        hand,
        screwing_in,
        zero,
        view,
    };
    // From the four facts, by hand: away from zero the screw goes in if zero is fully out.
    let goes_in = zero == Zero::Open;
    let lengthens = (screwing_in == Effect::Lengthens) == goes_in;
    let rule = model
        .settings
        .iter_mut()
        .find(|s| s.fastener == "marlstead-m8");
    let rule = rule.expect("a rule");
    assert_eq!(rule.basis, SettingBasis::StickOut);
    for (mm, turns) in &mut rule.rows {
        let stroke = *mm - 12.0;
        *turns = if lengthens {
            stroke / 1.5
        } else {
            (24.0 - stroke) / 1.5
        };
    }
    model.adjuster = Adjuster {
        stop,
        ..model.adjuster
    };
    model
}

proptest! {
    #[test]
    fn a_longer_stick_out_always_turns_towards_more_stroke(
        right in any::<bool>(), shortens in any::<bool>(), open in any::<bool>(), own_end in any::<bool>(),
        low in 25.2..26.0f64, more in 0.1..0.8f64,
    ) {
        let model = with_adjuster(
            if right { Hand::Right } else { Hand::Left },
            if shortens { Effect::Shortens } else { Effect::Lengthens },
            if open { Zero::Open } else { Zero::Closed },
            if own_end { View::AdjusterEnd } else { View::NoseEnd },
        );
        let at = |mm| set(&model, "marlstead-m8", "06", &exact(mm)).expect("inside");
        let (short, long) = (at(low), at(low + more));
        // Turning on from the shorter to the longer, away from zero or back.
        let on = long.turns > short.turns;
        let clockwise = (long.turn.rotation == Rotation::Clockwise) == on;
        // A right-hand screw seen from its own head goes in clockwise; each reversal reverses it.
        let goes_in = clockwise == (right == own_end);
        let effect = if goes_in == shortens { Effect::Shortens } else { Effect::Lengthens };
        prop_assert_eq!(effect, Effect::Lengthens);
        prop_assert_eq!(long.turn.effect == Effect::Lengthens, on);
    }

    #[test]
    fn more_doubt_widens_the_interval_and_moves_nothing(
        // The band is 25.2 to 26.8 mm: the doubt does not reach over its ends.
        mm in 25.8..26.2f64, w in 0.0..0.3f64, more in 0.001..0.29f64,
    ) {
        let at = |w| set(model("tulvane-tb-32"), "marlstead-m8", "06", &within(mm, w)).expect("inside");
        let (sure, unsure) = (at(w), at(w + more));
        prop_assert_eq!(sure.turns, unsure.turns);
        prop_assert!(sure.expanded_turns < unsure.expanded_turns);
        prop_assert!(sure.expanded_turns >= 0.1);
    }

    #[test]
    fn what_is_set_by_hand_is_within_half_a_step(mm in 25.2..26.8f64) {
        let answer = set(model("tulvane-tb-32"), "marlstead-m8", "06", &exact(mm)).expect("inside");
        prop_assert!((answer.set_turns - answer.turns).abs() <= 0.125 + 1e-9);
    }
}

/// The rivet nut's rule on the AH-21 (turns = mm / 1.25, quarter turns) with other stroke limits.
fn nut_within(lower: f64, upper: f64, wish: f64) -> Option<f64> {
    let tool = model("orrinbeck-ah-21");
    let rule = tool.settings.iter().find(|s| s.fastener == "drumhale-rn6");
    let mut nut = family("drumhale-rn6").clone();
    nut.stroke_mm = Limits::new(Some(lower), Some(upper)).ok();
    let code = nut.code("10-30");
    let answer = turns(tool, rule.expect("a rule"), &nut, code, &exact(wish)).ok()?;
    // Also where the nearest step is not the one that is set.
    assert!(holds(&answer.working) > 3);
    Some(answer.set_turns)
}

#[test]
fn rounding_keeps_to_the_stroke_limits_to_the_last_step() {
    // 3.70 mm is 2.96 turns; 3 turns are 3.75 mm and too far, 2 3/4 are 3.4375 mm.
    assert_eq!(nut_within(2.8, 3.7, 3.70), Some(2.75));
    // The 0.04 turns between are 0.05 mm of stroke: over 3.74 mm, too.
    assert_eq!(nut_within(2.8, 3.74, 3.70), Some(2.75));
    // 3.76 mm is 3.008 turns; 3 turns are 3.75 mm and inside.
    assert_eq!(nut_within(2.8, 3.8, 3.76), Some(3.0));
    // 2.53 mm is 2.024 turns; 2 turns are 2.5 mm, the limit itself.
    for wish in [2.53, 2.55, 2.59, 2.61] {
        assert_eq!(nut_within(2.5, 3.6, wish), Some(2.0), "{wish}");
    }
    // No quarter turn lies between 2.55 and 2.60 mm (2 turns are 2.5 mm, 2 1/4 are 2.8125 mm).
    assert_eq!(nut_within(2.55, 2.60, 2.57), None);
}

#[test]
fn no_setting_lies_beyond_the_adjuster_s_travel() {
    // 9.99 mm of travel at 1.5 mm a turn are 6.66 turns. Stick-out 26.035: (36 - 26.035) / 1.5 = 6.643
    // turns, to the quarter 6.75: beyond, so 6 1/2.
    let short = ToolModel {
        stroke_mm: 9.99,
        ..model("tulvane-tb-32").clone()
    };
    let answer = set(&short, "marlstead-m8", "06", &exact(26.035)).expect("inside");
    assert!((answer.turns - 6.643).abs() < 0.001, "{}", answer.turns);
    assert_eq!(answer.set_turns, 6.5);
    assert!(holds(&answer.working) > 3);
    let whole = set(model("tulvane-tb-32"), "marlstead-m8", "06", &exact(26.035));
    assert_eq!(whole.expect("inside").set_turns, 6.75);
}

#[test]
fn pins_that_differ_by_a_quarter_of_the_band_give_no_setting() {
    // Band 25.2 to 26.8 mm: a quarter is 0.4 mm. The spread of 25.7 and 26.3 is 0.6/√2 = 0.4243 mm, of
    // 25.75 and 26.25 it is 0.5/√2 = 0.3536 mm.
    let pins = |spread: f64| Estimate {
        spread,
        ..within(26.0, 0.05)
    };
    let tb = model("tulvane-tb-32");
    let said = |spread| set(tb, "marlstead-m8", "06", &pins(spread)).map(|a| a.set_turns);
    assert_eq!(said(0.6 / 2f64.sqrt()), Err(NoSetting::PinsDiffer));
    assert_eq!(said(0.5 / 2f64.sqrt()), Ok(6.75));
}
