//! Jobs drawn from the fault model itself: does following the advice find the cause that was drawn?
//!
//! This shows that the advice is true to its own model, not that the model is true to the world.

use shop::diagnosis::{Seen, diagnose};
use shop::entry::Said;
use shop::sheet::{Cause, Drive};

use crate::bench::faults;

const JOBS: usize = 300;
/// Checks at most, as long as no cause is this likely.
const CHECKS: usize = 8;
const SURE: f64 = 0.9;

/// A linear congruential generator (Knuth, MMIX constants, from memory): the same draws every time.
struct Draws(u64);

impl Draws {
    /// Between 0 and 1.
    fn next(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    fn yes(&mut self, chance: f64) -> bool {
        self.next() < chance
    }
}

fn drawn<'a>(causes: &[&'a Cause], draws: &mut Draws) -> &'a Cause {
    let all: f64 = causes.iter().map(|c| c.per_1000).sum();
    let mut at = draws.next() * all;
    for cause in causes {
        at -= cause.per_1000;
        if at < 0.0 {
            return cause;
        }
    }
    causes[causes.len() - 1]
}

/// What the customer of a tool with `cause` reports: never nothing.
fn reported(cause: &Cause, drive: Drive, draws: &mut Draws) -> Seen {
    // Signs that only stop the work tell nothing and would close half the checks.
    let tells = |id: &str| {
        let shown = |c: &Cause| c.shows.iter().any(|(s, _)| s == id);
        faults().causes.iter().any(shown)
    };
    let symptoms = faults().symptoms.iter();
    let symptoms = symptoms.filter(|s| s.drives.contains(&drive) && tells(&s.id));
    loop {
        let mut seen = Seen::default();
        for symptom in symptoms.clone() {
            let link = cause.shows.iter().find(|(id, _)| *id == symptom.id);
            let chance = 1.0 - (1.0 - link.map_or(0.0, |l| l.1)) * (1.0 - faults().leak);
            if draws.yes(chance) {
                seen.symptoms.insert(symptom.id.clone(), true);
            }
        }
        if !seen.symptoms.is_empty() {
            return seen;
        }
    }
}

/// Shares and means over all jobs of a drive.
#[derive(Default)]
struct Found {
    right_at_once: f64,
    right: f64,
    claimed: f64,
    checks: f64,
    minutes: f64,
}

fn simulate(drive: Drive) -> Found {
    let causes: Vec<&Cause> = faults()
        .causes
        .iter()
        .filter(|c| c.drives.contains(&drive))
        .collect();
    let mut draws = Draws(20_261_125);
    let mut found = Found::default();
    let one = 1.0 / JOBS as f64;
    for _ in 0..JOBS {
        let cause = drawn(&causes, &mut draws);
        let mut seen = reported(cause, drive, &mut draws);
        for made in 0..=CHECKS {
            let said = diagnose(faults(), drive, &seen).expect("possible");
            let lead = &said.ranked[0];
            let right = lead.cause.is_some_and(|c| c.id == cause.id);
            if made == 0 && right {
                found.right_at_once += one;
            }
            let next = said.next.first();
            let Some(next) = next.filter(|_| made < CHECKS && lead.probability < SURE) else {
                found.right += if right { one } else { 0.0 };
                found.claimed += lead.probability * one;
                break;
            };
            let link = next.check.links.iter().find(|l| l.cause == cause.id);
            let chance = link.map_or(next.check.false_alarm, |l| l.if_true);
            let answer = if draws.yes(chance) {
                Said::Yes
            } else {
                Said::No
            };
            seen.checks.insert(next.check.id.clone(), answer);
            found.checks += one;
            found.minutes += next.check.minutes * one;
        }
    }
    found
}

#[test]
fn following_the_advice_finds_the_cause() {
    for drive in [Drive::Battery, Drive::AirHydraulic, Drive::Hydraulic] {
        let found = simulate(drive);
        println!(
            "{}: right cause first in {:.0} % from symptoms, in {:.0} % after {:.1} checks of {:.0} \
             minutes together; claimed {:.0} %",
            drive.key(),
            found.right_at_once * 100.0,
            found.right * 100.0,
            found.checks,
            found.minutes,
            found.claimed * 100.0,
        );
        assert!(found.right >= 0.80, "{}", drive.key());
        assert!(found.right > found.right_at_once + 0.2, "the checks pay");
        // What it says of itself is true: as often right as it claims.
        assert!(
            (found.right - found.claimed).abs() < 0.06,
            "{}",
            drive.key()
        );
    }
}
