//! `setup simulate`: what the trial loop of the job page is worth, measured on simulated tools.

mod page;
mod run;

use std::time::Instant;

use calc::Message;
use calc::trial_loop::{Prior, Task, TrialLoop, Window, World};
use serde_json::json;

use crate::args::SimulateArgs;
use crate::failure::Failure;
use crate::print::{print_json, print_text, say, table};
use run::{Summary, many};

/// Runs the simulation that the arguments describe, or all that stand in the documentation.
pub fn simulate(args: &SimulateArgs) -> Result<(), Failure> {
    if args.page {
        print_text(&page::markdown(args.set_ups, args.seed)?);
        return Ok(());
    }
    let (task, world) = asked(args);
    let started = Instant::now();
    let summary = summary(task, &world, args.set_ups, args.seed)?;
    let seconds = started.elapsed().as_secs_f64();
    if args.json {
        return print_json(&json!({
            "set_ups": args.set_ups,
            "seed": args.seed,
            "joints_mean": summary.joints_mean,
            "joints_p95": summary.joints_p95,
            "rejects_per_1000": summary.rejects_per_1000,
            "rejects_per_1000_knowing_the_tool": summary.floor_per_1000,
            "reached_share": summary.reached,
            "seconds": seconds,
        }));
    }
    table(&["simulate-what", ""], rows(&summary, seconds).into_iter());
    Ok(())
}

fn rows(summary: &Summary, seconds: f64) -> Vec<Vec<String>> {
    let row = |id, value: f64, decimals: usize| {
        vec![say(&Message::new(id)), format!("{value:.decimals$}")]
    };
    vec![
        row("simulate-joints", summary.joints_mean, 2),
        row("simulate-p95", f64::from(summary.joints_p95), 0),
        row("simulate-rejects", summary.rejects_per_1000, 2),
        row("simulate-floor", summary.floor_per_1000, 2),
        row("simulate-reached", 100.0 * summary.reached, 1),
        row("simulate-seconds", seconds, 1),
    ]
}

fn asked(args: &SimulateArgs) -> (Task, World) {
    let mut task = standard(args.step_mm);
    task.window = Window {
        lower_mm: -args.window_mm,
        upper_mm: args.window_mm,
    };
    task.target = args.target;
    task.joints_between = args.joints_between;
    let mut world = WORLD;
    world.offset_sd_mm = args.tools_differ_mm;
    world.spread_mm = args.spread_mm;
    if args.by_eye {
        by_eye(&mut task, &mut world);
    }
    (task, world)
}

/// The world of the requirement: tools differ by 0.7 mm, joints by 0.10 mm, readings by 0.03 mm.
const WORLD: World = World {
    offset_sd_mm: 0.7,
    spread_mm: 0.10,
    reading_mm: 0.03,
    by_eye: false,
};

/// The task of the requirement, with the rule of the job page.
fn standard(step_mm: f64) -> Task {
    Task {
        window: Window {
            lower_mm: -0.4,
            upper_mm: 0.4,
        },
        step_mm,
        reading_mm: WORLD.reading_mm,
        prior: Prior {
            offset_mm: 0.0,
            offset_sd_mm: WORLD.offset_sd_mm,
            spread_mm: WORLD.spread_mm,
            spread_dof: shop::trial::SPREAD_WORTH,
        },
        target: shop::trial::TARGET,
        joints_between: shop::trial::JOINTS_BETWEEN,
    }
}

fn by_eye(task: &mut Task, world: &mut World) {
    world.by_eye = true;
    task.reading_mm = shop::trial::look_mm(task.window);
}

fn summary(task: Task, world: &World, set_ups: u32, seed: u64) -> Result<Summary, Failure> {
    let by = TrialLoop::new(task).map_err(|error| Failure::usage(say(&error.message())))?;
    Ok(many(&by, world, set_ups, seed))
}
