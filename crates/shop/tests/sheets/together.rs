//! Sheets held against each other.

use shop::sheet::{Mistake, Sheet, check_together};

use crate::texts::has_text;
use crate::{demo_sheets, listed};

/// The mistakes when one sheet is changed.
fn changed(id: &str, change: impl Fn(&mut Sheet)) -> Vec<Mistake> {
    let mut sheets = demo_sheets();
    let sheet = sheets.iter_mut().find(|(_, sheet)| sheet.id() == id);
    change(&mut sheet.expect("a demo sheet").1);
    check_together(&sheets)
}

fn ids(mistakes: &[Mistake]) -> Vec<&str> {
    mistakes.iter().for_each(has_text);
    mistakes.iter().map(|m| m.problem.id).collect()
}

/// The mistakes without the sheet `id`.
fn without(id: &str) -> Vec<Mistake> {
    let mut sheets = demo_sheets();
    sheets.retain(|(_, sheet)| sheet.id() != id);
    check_together(&sheets)
}

#[test]
fn the_demo_sheets_go_together() {
    let mistakes = check_together(&demo_sheets());
    assert!(mistakes.is_empty(), "{}", listed(&mistakes));
}

#[test]
fn what_a_fault_model_names_of_tools_must_be_on_one() {
    let changed = |change: fn(&mut shop::sheet::FaultModel)| {
        changed("workshop", |sheet| {
            if let Sheet::FaultModel(faults) = sheet {
                change(faults);
            }
        })
    };
    let told = |mistakes: Vec<Mistake>| {
        assert_eq!(mistakes.len(), 1, "{}", listed(&mistakes));
        format!("{} {}", ids(&mistakes)[0], mistakes[0].key)
    };
    let worn = changed(|faults| faults.causes[0].worn = Some("colet".to_owned()));
    assert_eq!(
        told(worn),
        "sheet-together-part cause[collet-teeth-worn].worn"
    );
    let stripped = changed(|faults| faults.checks[0].stripped_to = Some("colet".to_owned()));
    assert!(told(stripped).starts_with("sheet-together-part check["));
    let fitted = changed(|faults| faults.checks[0].parts = vec!["colet".to_owned()]);
    let told_of = told(fitted);
    assert!(
        told_of.starts_with("sheet-together-part check[") && told_of.ends_with("].parts"),
        "{told_of}"
    );
    let rated = changed(|faults| {
        let rates = &mut faults.causes[0].per_1000_on;
        rates.insert("tulvane-tb-23".to_owned(), 40.0);
    });
    assert_eq!(
        told(rated),
        "sheet-together-model cause[collet-teeth-worn].per_1000_on"
    );
}

#[test]
fn what_a_setting_names_must_be_there() {
    let mistakes = without("n8");
    assert_eq!(ids(&mistakes), ["sheet-together-no-nose-set"]);
    let m = &mistakes[0];
    assert_eq!(m.file, "models/tulvane-tb-32.toml");
    assert_eq!(
        (m.line, m.key.as_str(), m.value.as_str()),
        (1, "setting[1].nose_set", "n8")
    );
    // The setting, and each limit of a recorded pull.
    let mistakes = without("marlstead-m8");
    assert_eq!(mistakes[0].key, "setting[1].fastener");
    assert!(
        mistakes[1..]
            .iter()
            .all(|m| m.key.starts_with("pull_limit["))
    );
    assert!(
        ids(&mistakes)
            .iter()
            .all(|id| *id == "sheet-together-no-fastener")
    );
}

#[test]
fn two_sheets_with_one_id() {
    let mut sheets = demo_sheets();
    let again = sheets
        .iter()
        .find(|(_, s)| s.id() == "c-3")
        .expect("C-3")
        .1
        .clone();
    sheets.push(("copy.toml".to_owned(), again));
    let mistakes = check_together(&sheets);
    assert_eq!(ids(&mistakes), ["sheet-together-twice"]);
    assert_eq!(mistakes[0].file, "copy.toml");
}

#[test]
fn a_nose_set_that_does_not_fit() {
    let nose = |change: &dyn Fn(&mut shop::sheet::NoseSet)| {
        changed("n8", |sheet| {
            if let Sheet::NoseSet(nose) = sheet {
                change(nose);
            }
        })
    };
    assert_eq!(
        ids(&nose(&|n| n.thread.size = "M28x1.5".into())),
        ["sheet-together-thread"]
    );
    assert_eq!(
        ids(&nose(&|n| n.collet.pitch_mm = Some(1.27))),
        ["sheet-together-groove"]
    );
    assert_eq!(
        ids(&nose(&|n| n.anvil.takes_mm = (6.3, 6.5))),
        ["sheet-together-diameter"]
    );
    assert_eq!(
        ids(&nose(&|n| n.max_pull_kn = Some(25.9))),
        ["sheet-together-nose-pull"]
    );
}

#[test]
fn one_part_has_one_price_and_one_count() {
    use rust_decimal::Decimal;
    // The anvil of both HP-90 sets; its price stands in the model's sheet, too.
    let anvil = |change: &dyn Fn(&mut shop::sheet::Counter)| {
        changed("n48-b12n", |sheet| {
            if let Sheet::NoseSet(nose) = sheet {
                change(&mut nose.anvil.counter);
            }
        })
    };
    let mistakes = anvil(&|c| c.price = Some(Decimal::new(8601, 2)));
    assert_eq!(ids(&mistakes), ["sheet-together-price"]);
    assert_eq!(
        (mistakes[0].key.as_str(), mistakes[0].value.as_str()),
        ("anvil.price", "86.01")
    );
    let mistakes = anvil(&|c| c.on_hand = Some(4));
    assert_eq!(ids(&mistakes), ["sheet-together-on-hand"]);
    assert!(anvil(&|c| *c = shop::sheet::Counter::default()).is_empty());
}

#[test]
fn a_fastener_that_does_not_suit_the_setting() {
    let fastener = |id: &str, change: &dyn Fn(&mut shop::sheet::FastenerFamily)| {
        changed(id, |sheet| {
            if let Sheet::Fastener(fastener) = sheet {
                change(fastener);
            }
        })
    };
    let m8 = |change: &dyn Fn(&mut shop::sheet::FastenerFamily)| fastener("marlstead-m8", change);
    assert_eq!(
        ids(&m8(&|f| f.force_kn = (20.0, 33.0))),
        ["sheet-together-pull"]
    );
    assert_eq!(
        ids(&m8(&|f| f.stick_out_mm = None)),
        ["sheet-together-stick-out"]
    );
    let wide = calc::decision::Limits::new(Some(23.9), Some(26.8)).expect("limits");
    assert_eq!(
        ids(&m8(&|f| f.stick_out_mm = Some(wide))),
        ["sheet-together-cover"]
    );
    assert_eq!(
        ids(&fastener("drumhale-rn6", &|f| f.stroke_mm = None)),
        ["sheet-together-stroke"]
    );
    let non_break = |f: &mut shop::sheet::FastenerFamily| f.ending = shop::sheet::Ending::NonBreak;
    assert_eq!(
        ids(&fastener("brackwell-b12", &non_break)),
        ["sheet-together-full-stroke"]
    );
    let pin = |f: &mut shop::sheet::FastenerFamily| f.kind = shop::sheet::FastenerKind::Lockbolt;
    assert_eq!(
        ids(&fastener("drumhale-rn5", &pin)),
        ["sheet-together-force"]
    );
    assert_eq!(
        ids(&fastener("drumhale-rn5", &|f| f.force_kn = (9.0, 9.1))),
        ["pressure-between-steps"]
    );
}

#[test]
fn a_test_that_no_gauge_can_take() {
    let mistakes = without("fm-1");
    assert_eq!(ids(&mistakes), ["sheet-together-no-gauge"]);
    assert_eq!(mistakes[0].key, "bench_test[air-use].gauges");
    let no_gauges: Vec<_> = demo_sheets()
        .into_iter()
        .filter(|(_, sheet)| !matches!(sheet, Sheet::Gauge(_)))
        .collect();
    assert!(
        check_together(&no_gauges).is_empty(),
        "gauges may be elsewhere"
    );
}
