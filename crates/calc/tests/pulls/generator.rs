//! Pulls as a bench would record them, with the truth beside them. Seeded: the same seed, the same pulls.
//!
//! The curve is laid over the stroke as pieces with bends, their corners rounded; jaws that slip let the force fall and use up
//! stroke while it comes back. Shapes and percentages: common practice, no source.

use calc::pull::reading::{Fastener, Phase};

/// Numbers from a 64-bit counter (SplitMix64).
pub struct Draw(pub u64);

impl Draw {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Evenly between two ends.
    pub fn within(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Normal, of standard deviation 1.
    pub fn normal(&mut self) -> f64 {
        let radius = (-2.0 * self.within(1e-16, 1.0).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.within(0.0, 1.0)).cos()
    }
}

/// What kind of pull, and what is wrong with it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plan {
    pub fastener: Fastener,
    pub peak_kn: f64,
    /// Samples from rest to rest.
    pub samples: usize,
    /// Standard deviation of the force's noise, as a share of the peak.
    pub noise: f64,
    /// What the zero drifts over the recording, as a share of the peak.
    pub drift: f64,
    /// How often the jaws slip.
    pub slips: usize,
    /// Softness of air in the oil: stroke lost at the peak, mm.
    pub air_mm: f64,
    /// Share of the force lost in a second of hold.
    pub leak: f64,
    /// Breaks while the form is still on its way.
    pub early: bool,
    /// Friction and chatter of a dry screw, as a share of the peak.
    pub dry: f64,
    /// Seconds held at the stop.
    pub hold_s: f64,
    /// A galled anvil: by what share the reverse load rises and falls again about the middle of the eject.
    pub galled: f64,
}

impl Plan {
    pub fn good(fastener: Fastener) -> Self {
        Self {
            fastener,
            peak_kn: 24.0,
            samples: 10_000,
            noise: 0.005,
            drift: 0.0,
            slips: 0,
            air_mm: 0.0,
            leak: 0.0,
            early: false,
            dry: 0.0,
            hold_s: 0.2,
            galled: 0.0,
        }
    }
}

/// What is true of a pull.
#[derive(Clone, Debug, Default)]
pub struct Truth {
    /// Stroke at which each phase ends, mm from home.
    pub ends: Vec<(Phase, f64)>,
    /// When the jaws slipped, s, and by what the force fell, kN.
    pub slips: Vec<(f64, f64)>,
    /// Largest force, kN.
    pub peak_kn: f64,
    /// Energy of the pull, J.
    pub energy_j: f64,
    /// Slope of the pull-up, kN/mm.
    pub stiffness: f64,
    /// Mean force from three to eight tenths of the form, kN.
    pub plateau_kn: f64,
    /// Largest reverse load, kN.
    pub release_kn: f64,
    /// Whether the pin or mandrel parted.
    pub broke: bool,
    /// Force lost in the hold, kN.
    pub hold_loss_kn: f64,
    /// What a tooth of chatter falls by, kN.
    pub tooth_kn: f64,
    /// Energy that did not come back when the tool let go, J.
    pub hysteresis_j: f64,
}

/// A recording of one pull.
#[derive(Clone, Debug, Default)]
pub struct Made {
    pub time_s: Vec<f64>,
    pub stroke_mm: Vec<f64>,
    pub force_kn: Vec<f64>,
    pub truth: Truth,
}

/// A curve in pieces: places, mm, and forces, shares of the peak, at their ends; and how much each piece bulges.
#[derive(Clone)]
struct Curve {
    places: Vec<f64>,
    forces: Vec<f64>,
    bulges: Vec<f64>,
}

/// Half the width over which corners are rounded.
const ROUND_MM: f64 = 0.08;

impl Curve {
    fn sharp(&self, u: f64) -> f64 {
        let last = self.places.len() - 2;
        let i = self.places[1..=last]
            .iter()
            .take_while(|p| **p <= u)
            .count();
        let (a, b) = (self.places[i], self.places[i + 1]);
        let share = (u - a) / (b - a);
        let line = self.forces[i] + (self.forces[i + 1] - self.forces[i]) * share;
        line + self.bulges[i] * 4.0 * share * (1.0 - share).max(0.0)
    }

    fn at(&self, u: f64) -> f64 {
        let around = [-1.0, -0.5, 0.0, 0.5, 1.0];
        let sum: f64 = around
            .iter()
            .map(|k| self.sharp((u + k * ROUND_MM).max(0.0)))
            .sum();
        sum / 5.0
    }
}

/// The curve of a good one: take-up, pull-up, two pieces of form, clamp.
fn curve(plan: &Plan, draw: &mut Draw) -> Curve {
    let take_up = draw.within(1.2, 2.8);
    let rest = draw.within(0.03, 0.05);
    let (lengths, forces) = match plan.fastener {
        Fastener::BreakLockbolt | Fastener::StopLockbolt => {
            let plateau = draw.within(0.70, 0.76);
            (
                [
                    draw.within(2.5, 4.0),
                    draw.within(0.3, 0.6),
                    draw.within(5.0, 8.0),
                    draw.within(1.8, 3.0),
                ],
                [
                    draw.within(0.3, 0.4),
                    plateau,
                    plateau + draw.within(0.02, 0.06),
                    1.0,
                ],
            )
        }
        Fastener::BlindRivet => {
            let hump = draw.within(0.66, 0.78);
            let dip = hump - draw.within(0.16, 0.24);
            (
                [
                    draw.within(1.5, 2.5),
                    draw.within(0.8, 1.4),
                    draw.within(1.5, 3.0),
                    draw.within(1.0, 2.0),
                ],
                [hump, dip, dip + draw.within(0.0, 0.04), 1.0],
            )
        }
        Fastener::RivetNut => {
            let hump = draw.within(0.6, 0.7);
            let plateau = hump - draw.within(0.08, 0.14);
            (
                [
                    draw.within(1.0, 1.8),
                    draw.within(0.3, 0.6),
                    draw.within(1.5, 3.0),
                    draw.within(0.6, 1.2),
                ],
                [hump, plateau, plateau + draw.within(0.0, 0.03), 1.0],
            )
        }
    };
    let mut places = vec![0.0, take_up];
    places.extend(lengths.iter().scan(take_up, |at, length| {
        *at += length;
        Some(*at)
    }));
    let mut all = vec![0.5 * rest, rest];
    all.extend(forces);
    for (place, force) in places.iter_mut().zip(&all) {
        *place += plan.air_mm * force;
    }
    places[0] = 0.0;
    let bulges = [0.0, 0.02, 0.0, 0.012, 0.015].map(|most| draw.within(-most, most));
    Curve {
        places,
        forces: all,
        bulges: bulges.to_vec(),
    }
}

/// A pull as planned, of a fastener of its own.
pub fn make(plan: &Plan, draw: &mut Draw) -> Made {
    let curve = curve(plan, draw);
    from_curve(&curve, plan, draw)
}

/// Tools whose pulls are alike: the same fastener and joint each time, but for what varies by nature.
pub struct Series {
    curve: Curve,
    plan: Plan,
}

impl Series {
    pub fn new(plan: &Plan, draw: &mut Draw) -> Self {
        Self {
            curve: curve(plan, draw),
            plan: *plan,
        }
    }

    /// The next pull; `change` makes it a faulty one.
    pub fn next(&self, draw: &mut Draw, change: impl Fn(Plan) -> Plan) -> Made {
        let plan = change(self.plan);
        let mut curve = self.curve.clone();
        // Play differs, everything after it moves along; lengths and forces vary by a percent or so.
        let play = draw.within(-0.4, 0.4);
        let (longer, harder) = (1.0 + 0.008 * draw.normal(), 1.0 + 0.01 * draw.normal());
        for (place, force) in curve.places.iter_mut().zip(&mut curve.forces).skip(1) {
            *place = *place * longer + play + plan.air_mm * *force;
            *force *= harder * (1.0 + 0.003 * draw.normal());
        }
        from_curve(&curve, &plan, draw)
    }
}

fn from_curve(curve: &Curve, plan: &Plan, draw: &mut Draw) -> Made {
    let whole = curve.places[5];
    let end = match plan.early {
        true => curve.places[3] + draw.within(0.5, 0.8) * (curve.places[4] - curve.places[3]),
        false => whole,
    };
    let breaks = matches!(
        plan.fastener,
        Fastener::BreakLockbolt | Fastener::BlindRivet
    );
    let reverse = match plan.fastener {
        Fastener::BreakLockbolt | Fastener::StopLockbolt => draw.within(0.08, 0.15),
        _ => 0.0,
    };
    let eject = (draw.within(2.0, 4.0), draw.within(0.2, 0.6));
    // Where the jaws slip, along the curve: apart from each other, from the bends and from the end.
    let mut slips: Vec<f64> = Vec::new();
    let mut tries = 0;
    while slips.len() < plan.slips && tries < 1000 {
        tries += 1;
        let at = draw.within(curve.places[1] + 0.5, end - 0.4);
        let clear = |place: &f64| (place - at).abs() > 0.5;
        if curve.places.iter().all(clear) && slips.iter().all(clear) && curve.at(at) > 0.3 {
            slips.push(at);
        }
    }
    slips.sort_unstable_by(f64::total_cmp);
    let span = 1.75 + plan.hold_s;
    let rate = plan.samples as f64 / span;
    let elastic = draw.within(0.5, 0.9);
    let zero = draw.within(-0.3, 0.3);
    let offset = plan.dry;
    let mut made = Made::default();
    let (mut stroke, mut u, mut held) = (0.0, 0.0, None::<f64>);
    let mut returned = 0.0;
    let (mut slipped, mut fall, mut ended) = (0.0, 0.0, None::<(f64, f64)>);
    let mut waiting = slips.iter().copied().peekable();
    let mut shifts: Vec<(f64, f64)> = Vec::new();
    let wave = draw.within(0.25, 0.4);
    let (speed, back) = (whole * 1.35, whole / 0.35);
    let mut before = (0.0, 0.0);
    for i in 0..plan.samples {
        let time = i as f64 / rate;
        let mut force = 0.0;
        if time > 0.2 {
            match ended {
                None => {
                    let step = speed / rate * (1.0 - 0.4 * before.1 / 1.2);
                    stroke += step;
                    match held {
                        Some(low) => {
                            // The teeth bite again, and the force climbs back along the elastic line.
                            let climbed = low + elastic * step;
                            slipped += step;
                            held = (climbed < curve.at(u)).then_some(climbed);
                            force = climbed.min(curve.at(u));
                        }
                        None => {
                            u += step;
                            force = curve.at(u);
                        }
                    }
                    if waiting.next_if(|at| u >= *at).is_some() {
                        let drop = draw.within(0.12, 0.3).min(0.7 * force);
                        made.truth.slips.push((time, drop * plan.peak_kn));
                        force -= drop;
                        held = Some(force);
                        fall = drop;
                        shifts.push((u, drop / elastic));
                    }
                    // The fall itself takes a millisecond or so.
                    if fall > 1e-3 {
                        force += fall;
                        fall *= (-1.0 / (0.0005 * rate)).exp();
                    }
                    if stroke > 0.0 && u > 0.0 {
                        let chatter = (stroke / wave).fract() - 0.5;
                        force += offset * (1.0 + 0.8 * chatter);
                    }
                    if u >= end {
                        ended = Some((time, force));
                    }
                    made.truth.energy_j += plan.peak_kn * (force + before.1) / 2.0 * step;
                    made.truth.peak_kn = made.truth.peak_kn.max(force * plan.peak_kn);
                }
                Some((when, last)) => {
                    let since = time - when;
                    let hold = if breaks { 0.05 } else { plan.hold_s };
                    let kept = last * (-plan.leak * since.min(hold)).exp();
                    if breaks {
                        // It parts within a millisecond, and the tool rings.
                        let ring = 0.05 * (-since / 0.006).exp() * (since * 900.0).sin();
                        force = last * (-since / 0.0004).exp() + ring;
                    } else if since < hold {
                        force = kept;
                        made.truth.hold_loss_kn = (last - kept) * plan.peak_kn;
                    }
                    if since >= hold && stroke > 0.0 {
                        stroke = (stroke - back / rate).max(0.0);
                        let far = slipped + end - stroke;
                        if !breaks {
                            force = (kept - elastic * 2.0 * far).max(0.0);
                            returned += plan.peak_kn * (force + before.1.max(0.0)) / 2.0
                                * (before.0 - stroke);
                        }
                        if far > eject.1 + 0.8 && far < eject.1 + 0.8 + eject.0 {
                            let way = (far - eject.1 - 0.8) / eject.0;
                            let rise = (std::f64::consts::PI * way).sin();
                            force = -reverse * (1.0 + plan.galled * rise);
                        }
                    }
                }
            }
        }
        before = (stroke, force);
        let drift = plan.drift * time / span;
        let noise = plan.noise * draw.normal();
        made.time_s.push(time);
        made.stroke_mm.push(stroke + 0.008 * draw.normal());
        made.force_kn
            .push(zero + plan.peak_kn * (force + drift + noise));
    }
    let moved = |place: f64| {
        let before = shifts.iter().filter(|(at, _)| *at < place);
        place + before.map(|(_, by)| by).sum::<f64>()
    };
    let truth = &mut made.truth;
    let phases = [
        (Phase::TakeUp, 1),
        (Phase::PullUp, 2),
        (Phase::Form, 4),
        (Phase::Clamp, 5),
    ];
    for (phase, at) in phases
        .into_iter()
        .filter(|(_, at)| curve.places[at - 1] < end)
    {
        truth.ends.push((phase, moved(curve.places[at].min(end))));
    }
    if reverse > 0.0 {
        let off = moved(end) - eject.1 - 0.8 - eject.0;
        truth.ends.push((Phase::Eject, off));
    }
    truth.broke = breaks;
    truth.tooth_kn = 0.8 * offset * plan.peak_kn;
    truth.hysteresis_j = truth.energy_j - returned;
    truth.release_kn = reverse * (1.0 + plan.galled) * plan.peak_kn;
    let rise = curve.forces[2] - curve.forces[1];
    let (from, to) = (curve.places[2], curve.places[4]);
    let form = (0..=100).map(|i| curve.at(from + (to - from) * (0.3 + 0.005 * f64::from(i))));
    truth.plateau_kn = plan.peak_kn * form.sum::<f64>() / 101.0;
    truth.stiffness = plan.peak_kn * rise / (curve.places[2] - curve.places[1]);
    made
}

impl Made {
    /// As a logger has it that takes every so many of these samples, from the `first` on: what lies between them it does
    /// not see. The truth stays.
    pub fn thinned(&self, every: usize, first: usize) -> Self {
        let thin = |column: &[f64]| column.iter().skip(first).step_by(every).copied().collect();
        Self {
            time_s: thin(&self.time_s),
            stroke_mm: thin(&self.stroke_mm),
            force_kn: thin(&self.force_kn),
            truth: self.truth.clone(),
        }
    }
}

/// Recordings one after the other as a logger writes them.
pub fn csv(pulls: &[Made]) -> String {
    use std::fmt::Write;
    let mut text = String::from("time [s],stroke [mm],force [kN]\n");
    let mut begin = 0.0;
    for pull in pulls {
        for i in 0..pull.time_s.len() {
            let time = begin + pull.time_s[i];
            writeln!(
                text,
                "{time:.5},{:.4},{:.4}",
                pull.stroke_mm[i], pull.force_kn[i]
            )
            .expect("into a text");
        }
        let step = pull.time_s[1] - pull.time_s[0];
        begin += pull.time_s[pull.time_s.len() - 1] + step;
    }
    text
}
