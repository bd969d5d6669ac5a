//! The demo sheets hold, and say what their worked examples say.

use calc::interpolation::linear;
use calc::screw_stop::{Effect, Hand, Rotation, to_step};
use shop::sheet::{self, Direction, Sheet, ToolModel};

use crate::{demo_files, demo_sheets, listed};

#[test]
fn every_demo_sheet_reads_without_a_mistake() {
    let files = demo_files();
    assert!(files.len() > 30, "the demo folder was found");
    let mut all = String::new();
    for (file, text) in files {
        if let Err(mistakes) = sheet::read(&file, &text) {
            all += &listed(&mistakes);
        }
    }
    assert!(all.is_empty(), "{all}");
}

fn model(id: &str) -> ToolModel {
    let found = demo_sheets()
        .into_iter()
        .find_map(|(_, sheet)| match sheet {
            Sheet::ToolModel(model) if model.id == id => Some(model),
            _ => None,
        });
    found.expect("a demo model")
}

/// Holds a worked example (measured mm, exact turns to 2 decimals, turns set) against the table.
fn worked_example(id: &str, fastener: &str, rows: &[(f64, f64, f64)]) {
    let model = model(id);
    let setting = model.settings.iter().find(|s| s.fastener == fastener);
    let setting = setting.expect("a setting for the fastener");
    let away = model.adjuster.stop.away_from_zero();
    for &(mm, exact, set) in rows {
        let turns = linear(&setting.rows, mm).expect("inside the table").value;
        assert!((turns - exact).abs() <= 0.005, "{mm}: {turns}");
        let step = model.adjuster.step_turns;
        assert_eq!(to_step(turns, step, away), Ok(set), "{mm}: {turns}");
    }
}

#[test]
fn tb_32_worked_example_of_the_demo_sheet() {
    // Worked example of the demo sheet, arithmetic: turns = (36.0 - L) / 1.5, to quarter turns.
    let rows = [
        (24.0, 8.00, 8.0),
        (25.0, 7.33, 7.25),
        (25.5, 7.00, 7.0),
        (26.0, 6.67, 6.75),
        (26.5, 6.33, 6.25),
        (27.0, 6.00, 6.0),
        (28.0, 5.33, 5.25),
    ];
    worked_example("tulvane-tb-32", "marlstead-m8", &rows);
    let stop = model("tulvane-tb-32").adjuster.stop;
    assert_eq!(stop.away_from_zero(), Effect::Shortens);
    assert_eq!(stop.rotation_for(Effect::Shortens), Rotation::Clockwise);
}

#[test]
fn ah_21_worked_example_of_the_demo_sheet() {
    // Worked example of the demo sheet, arithmetic: turns = S / 1.25, to quarter turns.
    let rows = [
        (2.0, 1.60, 1.5),
        (2.5, 2.00, 2.0),
        (3.0, 2.40, 2.5),
        (4.0, 3.20, 3.25),
        (5.0, 4.00, 4.0),
    ];
    worked_example("orrinbeck-ah-21", "drumhale-rn6", &rows);
    let stop = model("orrinbeck-ah-21").adjuster.stop;
    assert_eq!(stop.away_from_zero(), Effect::Lengthens);
    assert_eq!(stop.rotation_for(Effect::Lengthens), Rotation::Clockwise);
}

#[test]
fn hp_90_worked_example_of_the_demo_sheet() {
    // Worked example of the demo sheet, arithmetic: turns = (52.0 - L) / 2.
    let rows = [
        (36.0, 8.0, 8.0),
        (37.0, 7.5, 7.5),
        (38.0, 7.0, 7.0),
        (39.0, 6.5, 6.5),
        (40.0, 6.0, 6.0),
    ];
    worked_example("skarnholt-hp-90", "brackwell-b12n", &rows);
}

#[test]
fn every_joint_has_a_wrench_calibrated_its_way() {
    let sheets = demo_sheets();
    for (file, sheet) in &sheets {
        let Sheet::ToolModel(model) = sheet else {
            continue;
        };
        for joint in &model.joints {
            let limits = joint.limits().expect("torque limits");
            let way = match joint.thread.hand {
                Hand::Right => Direction::Clockwise,
                Hand::Left => Direction::CounterClockwise,
            };
            let served = sheets.iter().any(|(_, sheet)| match sheet {
                Sheet::Gauge(gauge) => {
                    gauge.directions.contains(&way)
                        && limits.lower().is_some_and(|l| gauge.range.0 <= l)
                        && limits.upper().is_some_and(|u| u <= gauge.range.1)
                        && gauge.expanded < joint.tolerance_nm
                }
                _ => false,
            });
            assert!(served, "{file}: {}", joint.id);
        }
    }
}

#[test]
fn the_fault_model_names_parts_that_some_model_has() {
    let sheets = demo_sheets();
    let parts: Vec<&str> = sheets
        .iter()
        .filter_map(|(_, sheet)| match sheet {
            Sheet::ToolModel(model) => Some(model),
            _ => None,
        })
        .flat_map(|model| &model.parts)
        .flat_map(|part| &part.also_called)
        .map(String::as_str)
        .collect();
    let faults = sheets.iter().find_map(|(_, sheet)| match sheet {
        Sheet::FaultModel(faults) => Some(faults),
        _ => None,
    });
    let faults = faults.expect("a fault model");
    assert_eq!((faults.causes.len(), faults.checks.len()), (71, 85));
    for cause in &faults.causes {
        for part in &cause.parts {
            assert!(parts.contains(&part.as_str()), "{}: {part}", cause.id);
        }
    }
    let stops: Vec<&str> = faults
        .symptoms
        .iter()
        .filter(|symptom| symptom.forbids_energy)
        .map(|symptom| symptom.id.as_str())
        .collect();
    assert!(stops.contains(&"runs-on") && stops.contains(&"visible-damage"));
}

#[test]
fn one_caliper_is_out_of_date_and_the_others_are_not() {
    let day = jiff::civil::date(2026, 11, 25);
    let out: Vec<String> = demo_sheets()
        .into_iter()
        .filter_map(|(_, sheet)| match sheet {
            Sheet::Gauge(gauge) if !(gauge.calibrated..gauge.due).contains(&day) => Some(gauge.id),
            _ => None,
        })
        .collect();
    assert_eq!(out, ["c-5"]);
}
