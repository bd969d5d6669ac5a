//! Many simulated set-ups, on every core; the same for the same seed on any number of them.

use calc::trial_loop::{Outcome, TrialLoop, World, set_up};
use rayon::prelude::*;

use crate::draws::normals;

/// Set-ups that share one stream of random numbers.
const IN_A_STREAM: u32 = 1000;
/// Joints that are told apart in the distribution.
const MOST: usize = 64;

/// What came of many set-ups.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Summary {
    /// Mean of the joints used.
    pub joints_mean: f64,
    /// Joints that 95 % of the set-ups do not exceed.
    pub joints_p95: u32,
    /// Rejects in 1000 joints after sign-off.
    pub rejects_per_1000: f64,
    /// The same with the tool perfectly known: what the steps alone leave.
    pub floor_per_1000: f64,
    /// Share of set-ups that ended with the target reached.
    pub reached: f64,
}

struct Tally {
    joints: [u64; MOST],
    rejects: f64,
    floor: f64,
    reached: u64,
}

impl Tally {
    fn new() -> Self {
        Self {
            joints: [0; MOST],
            rejects: 0.0,
            floor: 0.0,
            reached: 0,
        }
    }

    fn count(&mut self, outcome: &Outcome) {
        self.joints[(outcome.joints as usize).min(MOST - 1)] += 1;
        self.rejects += outcome.rejects;
        self.floor += outcome.floor;
        self.reached += u64::from(outcome.reached);
    }

    fn and(mut self, other: Self) -> Self {
        for (sum, more) in self.joints.iter_mut().zip(other.joints) {
            *sum += more;
        }
        self.rejects += other.rejects;
        self.floor += other.floor;
        self.reached += other.reached;
        self
    }
}

/// `set_ups` set-ups in `world`.
pub fn many(by: &TrialLoop, world: &World, set_ups: u32, seed: u64) -> Summary {
    let streams: Vec<u32> = (0..set_ups.div_ceil(IN_A_STREAM)).collect();
    let tallies: Vec<Tally> = streams
        .par_iter()
        .map(|stream| {
            let mut tally = Tally::new();
            let mut normal = normals(seed, *stream);
            let count = IN_A_STREAM.min(set_ups - stream * IN_A_STREAM);
            for _ in 0..count {
                tally.count(&set_up(by, world, &mut normal));
            }
            tally
        })
        .collect();
    // Added up in the order of the streams, so that the sum is the same on any machine.
    let tally = tallies.into_iter().fold(Tally::new(), Tally::and);
    let of = f64::from(set_ups.max(1));
    let mut below = 0;
    let most = u64::from(set_ups) * 95;
    let p95 = tally.joints.iter().position(|count| {
        below += count;
        below * 100 >= most
    });
    let joints = tally.joints.iter().enumerate();
    Summary {
        joints_mean: joints
            .map(|(n, count)| n as f64 * *count as f64)
            .sum::<f64>()
            / of,
        joints_p95: p95.unwrap_or(0) as u32,
        rejects_per_1000: 1000.0 * tally.rejects / of,
        floor_per_1000: 1000.0 * tally.floor / of,
        reached: tally.reached as f64 / of,
    }
}
