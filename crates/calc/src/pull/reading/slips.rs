//! Where the jaws slipped: the force falls at once and climbs back.

use super::Value;
use super::prepare::Ready;

/// A fall counts from so many standard deviations of the noise of its two means.
const SURE: f64 = 6.0;
/// And from this share of the peak.
const LEAST: f64 = 0.05;
/// It comes back to this share of the fall.
const BACK: f64 = 0.6;
/// Teeth that bite again load tool and fastener elastically: at least so much of the peak a mm.
const STEEP: f64 = 0.12;

/// So many small falls are chatter of the drive: jaws do not slip and bite again as often. Common practice, no source.
const CHATTER: usize = 8;

/// How much further than the middle one of them a tooth of chatter drops at most. Common practice, no source.
const TOOTH: f64 = 2.0;
/// Small: below this share of the peak. Larger ones stay slips however alike they are: jaws that jump from groove to groove
/// look the same.
const SMALL: f64 = 0.1;

/// One slip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slip {
    /// When, s, on the recording's clock.
    pub at_s: f64,
    /// Stroke from home there, mm.
    pub stroke_mm: f64,
    /// By how much the force fell, kN.
    pub drop_kn: Value,
    /// Stroke used up until the force was back, mm.
    pub lost_mm: f64,
    /// Samples from the fall to where the force was back.
    pub(super) samples: (usize, usize),
}

/// Two windows that are held against each other along the force.
struct Windows<'a> {
    ready: &'a Ready<'a>,
    sums: Vec<f64>,
    /// Samples in a window.
    w: usize,
    /// Samples that a fall takes up.
    gap: usize,
    /// What counts as a fall, kN.
    least: f64,
    /// What noise alone does not make a fall of, kN.
    sure: f64,
}

impl<'a> Windows<'a> {
    fn of(ready: &'a Ready<'a>) -> Self {
        let loaded = ready.end - ready.begin;
        // As many samples as make the noise small, yet a small part of the pull.
        let most = (loaded / 120).max(2);
        let wanted =
            (2.0 * (SURE * ready.told.noise_kn / (LEAST * ready.peak.kn.value)).powi(2)).ceil();
        let w = (wanted as usize).clamp(3.min(most), most);
        let noise = ready.told.noise_kn * (2.0 / w as f64).sqrt();
        let mut sums = Vec::with_capacity(loaded + 2);
        sums.push(0.0);
        let mut sum = 0.0;
        for force in &ready.raw[ready.begin..=ready.end] {
            sum += force;
            sums.push(sum);
        }
        Self {
            ready,
            sums,
            w,
            gap: (0.002 * ready.told.rate_hz) as usize,
            least: (LEAST * ready.peak.kn.value).max(SURE * noise),
            sure: SURE * noise,
        }
    }

    /// Mean force of the window that begins at `i`.
    #[inline]
    fn level(&self, i: usize) -> f64 {
        let i = i - self.ready.begin;
        (self.sums[i + self.w] - self.sums[i]) / self.w as f64
    }

    /// What the force falls at `i`: the window before against the one after the fall.
    #[inline]
    fn fall(&self, i: usize) -> f64 {
        self.level(i - self.w) - self.level(i + self.gap)
    }

    /// Every fall that comes back.
    fn slips(&self) -> Vec<Slip> {
        let (w, gap, ready) = (self.w, self.gap, self.ready);
        let (from, to) = (ready.begin + w, ready.end.saturating_sub(w + gap + 1));
        let mut slips: Vec<Slip> = Vec::new();
        let mut i = from;
        while i < to {
            if self.fall(i) < self.least {
                i += 1;
                continue;
            }
            let reach = (i + 2 * w + gap).min(to);
            let larger = |a: &usize, b: &usize| self.fall(*a).total_cmp(&self.fall(*b));
            let at = (i..reach).max_by(larger).unwrap_or(i);
            let slip = self.slip(at, to);
            i = if slip.is_some() { at + w + gap } else { reach };
            slips.extend(slip);
        }
        slips
    }

    /// The slip at `at`, if it is one: a fall at once, that comes back before `to`.
    fn slip(&self, at: usize, to: usize) -> Option<Slip> {
        let (w, gap, ready) = (self.w, self.gap, self.ready);
        // A curve that falls by itself is no slip: what it fell just before goes off.
        if at >= ready.begin + 2 * w {
            let own = self.level(at - 2 * w) - self.level(at - w);
            let own = own * (w + gap) as f64 / w as f64;
            let sure = 3.0 * ready.told.noise_kn * (2.0 / w as f64).sqrt();
            if own > sure && self.fall(at) - own < 0.8 * self.least {
                return None;
            }
        }
        let before = self.level(at - w);
        let goal = before - (1.0 - BACK) * self.fall(at);
        let mut near = at + gap;
        while near < to && self.level(near) < goal {
            near += 1;
        }
        if near >= to {
            return None;
        }
        // Where the climb turns into the curve again: the best bend in what follows, up to another fall.
        let from = at + gap;
        let last = (from + 3 * (near - from + w)).min(ready.end);
        let mut end = near + w;
        while end < last.min(to) && self.fall(end.max(from + w)) < self.least {
            end += 1;
        }
        let climb = Climb::of(ready, from, end.min(last).max(from + 8).min(ready.end));
        if climb.slope < STEEP * ready.peak.kn.value {
            return None;
        }
        let stroke_mm = ready.stroke[at];
        let drop = (before - climb.at(stroke_mm)).max(self.fall(at));
        let noise = ready.told.noise_kn * (2.0 / w as f64).sqrt();
        let lost_mm = (climb.bend_mm - stroke_mm).max(0.0);
        Some(Slip {
            at_s: ready.time[at + gap / 2],
            stroke_mm,
            drop_kn: Value {
                value: drop,
                u: noise.hypot((drop - self.fall(at)) / 3f64.sqrt()),
            },
            lost_mm,
            samples: (at - w.min(4), (climb.bend + w / 4 + 2).min(ready.end)),
        })
    }
}

/// The climb after a fall: a line, up to a bend.
struct Climb {
    bend: usize,
    bend_mm: f64,
    slope: f64,
    through: (f64, f64),
}

impl Climb {
    /// The two lines through the samples `from..to` that leave the least squares.
    fn of(ready: &Ready, from: usize, to: usize) -> Self {
        let origin = (ready.stroke[from], ready.raw[from]);
        let mut sums = vec![[0.0; 5]];
        let mut sum = [0.0; 5];
        for i in from..to {
            let (x, y) = (ready.stroke[i] - origin.0, ready.raw[i] - origin.1);
            for (sum, part) in sum.iter_mut().zip([x, y, x * x, x * y, y * y]) {
                *sum += part;
            }
            sums.push(sum);
        }
        let line = |i: usize, j: usize| {
            let n = (j - i) as f64;
            let [x, y, xx, xy, yy]: [f64; 5] = std::array::from_fn(|k| sums[j][k] - sums[i][k]);
            let (sxx, sxy) = ((xx - x * x / n).max(1e-12), xy - x * y / n);
            let slope = sxy / sxx;
            ((yy - y * y / n - sxy * slope).max(0.0), slope, x / n, y / n)
        };
        let n = to - from;
        let squares = |k: &usize| line(0, *k).0 + line(*k, n).0;
        let places = (3..n.saturating_sub(3)).min_by(|a, b| squares(a).total_cmp(&squares(b)));
        let k = places.unwrap_or(n);
        let (_, slope, x, y) = line(0, k);
        let through = (origin.0 + x, origin.1 + y);
        let mut bend_mm = ready.stroke[(from + k).min(ready.end)];
        if k < n {
            // Where the two lines meet, if that is near.
            let (_, after, u, v) = line(k, n);
            let meet = origin.0 + (v - y - after * u + slope * x) / (slope - after);
            if (meet - bend_mm).abs() < 0.3 * (bend_mm - origin.0) {
                bend_mm = meet;
            }
        }
        Self {
            bend: from + k,
            bend_mm,
            slope,
            through,
        }
    }

    /// The line's force at a stroke.
    fn at(&self, stroke: f64) -> f64 {
        self.through.1 + self.slope * (stroke - self.through.0)
    }
}

/// Every slip between leaving home and the end of the stroke.
pub(super) fn find(ready: &Ready) -> Vec<Slip> {
    let mut windows = Windows::of(ready);
    let slips = windows.slips();
    let small = |slip: &Slip| slip.drop_kn.value < SMALL * ready.peak.kn.value;
    if !slips.iter().any(small) {
        return slips;
    }
    // Of chatter that is hardly large enough for a slip only some teeth are: all of them count.
    windows.least = (windows.least / 2.0).max(windows.sure);
    let teeth = windows.slips().into_iter().filter(|s| small(s));
    let mut teeth: Vec<f64> = teeth.map(|s| s.drop_kn.value).collect();
    if teeth.len() < CHATTER {
        return slips;
    }
    teeth.sort_by(f64::total_cmp);
    // One that drops much further than its neighbours is no tooth of theirs.
    let tooth = TOOTH * teeth[teeth.len() / 2];
    let of_chatter = |slip: &Slip| small(slip) && slip.drop_kn.value <= tooth;
    slips.into_iter().filter(|slip| !of_chatter(slip)).collect()
}
