//! The page of the documentation that says what the loop is worth.

use std::fmt::Write as _;

use calc::Message;
use calc::trial_loop::{Task, World};

use super::{Summary, WORLD, by_eye, standard, summary};
use crate::failure::Failure;
use crate::print::say;

/// A row: its name, and how it changes the standard.
type Row = (&'static str, fn(&mut Task, &mut World));

/// A section: title, what varies, rows.
struct Section {
    title: &'static str,
    column: &'static str,
    rows: &'static [Row],
}

const SECTIONS: [Section; 7] = [
    Section {
        title: "simulate-page-standard",
        column: "simulate-page-rule",
        rows: &[("–", |_, _| {})],
    },
    Section {
        title: "simulate-page-target",
        column: "simulate-page-target-column",
        rows: &[
            ("98 %", |t, _| t.target = 0.98),
            ("99 %", |t, _| t.target = 0.99),
            ("99.5 %", |t, _| t.target = 0.995),
            ("99.8 %", |t, _| t.target = 0.998),
            ("99.9 %", |t, _| t.target = 0.999),
            ("99.95 %", |t, _| t.target = 0.9995),
        ],
    },
    Section {
        title: "simulate-page-cost",
        column: "simulate-page-cost-column",
        rows: &[
            ("200", |t, _| t.joints_between = 200.0),
            ("600", |t, _| t.joints_between = 600.0),
            ("1200", |t, _| t.joints_between = 1200.0),
            ("2000", |t, _| t.joints_between = 2000.0),
            ("4000", |t, _| t.joints_between = 4000.0),
            ("10000", |t, _| t.joints_between = 10_000.0),
        ],
    },
    Section {
        title: "simulate-page-window",
        column: "simulate-page-window-column",
        rows: &[
            ("± 0.30 mm", |t, _| half_width(t, 0.30)),
            ("± 0.35 mm", |t, _| half_width(t, 0.35)),
            ("± 0.40 mm", |t, _| half_width(t, 0.40)),
            ("± 0.50 mm", |t, _| half_width(t, 0.50)),
            ("± 0.60 mm", |t, _| half_width(t, 0.60)),
        ],
    },
    Section {
        title: "simulate-page-tools",
        column: "simulate-page-tools-column",
        rows: &[
            ("0.35 mm", |_, w| w.offset_sd_mm = 0.35),
            ("0.70 mm", |_, _| {}),
            ("1.40 mm", |_, w| w.offset_sd_mm = 1.4),
            ("2.80 mm", |_, w| w.offset_sd_mm = 2.8),
        ],
    },
    Section {
        title: "simulate-page-spread",
        column: "simulate-page-spread-column",
        rows: &[
            ("0.05 mm", |_, w| w.spread_mm = 0.05),
            ("0.10 mm", |_, _| {}),
            ("0.13 mm", |_, w| w.spread_mm = 0.13),
            ("0.16 mm", |_, w| w.spread_mm = 0.16),
        ],
    },
    Section {
        title: "simulate-page-eye",
        column: "simulate-page-rule",
        rows: &[("–", by_eye)],
    },
];

fn half_width(task: &mut Task, mm: f64) {
    task.window.lower_mm = -mm;
    task.window.upper_mm = mm;
}

/// The whole page, each row from so many set-ups.
pub fn markdown(set_ups: u32, seed: u64) -> Result<String, Failure> {
    let text = |id: &'static str| say(&Message::new(id));
    let made = Message::new("simulate-page-made")
        .with("n", set_ups.to_string())
        .with("seed", seed.to_string());
    let mut page = format!(
        "# {}\n\n{}\n\n{}\n",
        text("simulate-page-title"),
        text("simulate-page-about"),
        say(&made)
    );
    let head: Vec<String> = [
        "simulate-page-step",
        "simulate-joints",
        "simulate-p95",
        "simulate-rejects",
        "simulate-floor",
        "simulate-reached",
    ]
    .map(text)
    .into();
    for section in &SECTIONS {
        write!(page, "\n## {}\n\n", text(section.title)).ok();
        let columns = head.len() + 1;
        writeln!(page, "| {} | {} |", text(section.column), head.join(" | ")).ok();
        writeln!(page, "|{}", "---|".repeat(columns)).ok();
        for (name, change) in section.rows {
            for step_mm in [0.25, 0.125] {
                let (mut task, mut world) = (standard(step_mm), WORLD);
                change(&mut task, &mut world);
                let s: Summary = summary(task, &world, set_ups, seed)?;
                writeln!(
                    page,
                    "| {name} | {step_mm} mm | {:.2} | {} | {:.2} | {:.2} | {:.1} |",
                    s.joints_mean,
                    s.joints_p95,
                    s.rejects_per_1000,
                    s.floor_per_1000,
                    100.0 * s.reached
                )
                .ok();
            }
        }
    }
    write!(page, "\n{}\n", text("simulate-page-end")).ok();
    Ok(page)
}
