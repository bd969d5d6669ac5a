//! The loading curve cut into straight pieces: first by dynamic programming, then with free bends.

use super::prepare::{Ready, mean};
use super::{Course, Fastener, Slip};

/// Bins: so wide, mm, and so many.
const BIN_MM: f64 = 0.08;
const BINS_MIN: usize = 40;
const BINS_MAX: usize = 220;
/// Pieces of a whole pull: take-up, pull-up, two of form, clamp.
pub(super) const PIECES: usize = 5;
/// Bins over which chatter is evened out.
const EVEN: usize = 5;
/// Least length of a piece in bins.
const LEAST: usize = 2;

/// A bend is laid again by this share of the pieces beside it, at least so much, mm, where that is sure enough, mm.
const NEAR: f64 = 0.5;
const NEAR_MM: f64 = 0.8;
const SURE_MM: f64 = 0.06;

/// The loading curve in bins, the stroke lost to slipping left out.
pub(super) struct Bins {
    /// Stroke without what slipped, mm.
    pub(super) x: Vec<f64>,
    /// Mean force, kN.
    pub(super) y: Vec<f64>,
    /// Where slips were cut out: place without, and stroke taken out, mm.
    pub(super) cuts: Vec<(f64, f64)>,
}

impl Fitted {
    /// Degrees of freedom about `bins`: a level and a slope, and a bend with its slope for each further piece.
    pub(super) fn dof(&self, bins: &Bins) -> f64 {
        bins.x.len().saturating_sub(2 + 2 * self.bends.len()).max(1) as f64
    }
}

impl Bins {
    /// The stroke from home of a place without slips.
    pub(super) fn stroke(&self, x: f64) -> f64 {
        let before = self.cuts.iter().filter(|(at, _)| *at < x);
        x + before.map(|(_, lost)| lost).sum::<f64>()
    }

    /// The place without slips of a stroke from home.
    pub(super) fn place(&self, stroke: f64) -> f64 {
        let mut x = stroke;
        for (at, lost) in &self.cuts {
            if x > *at {
                x = (x - lost).max(*at);
            }
        }
        x
    }
}

/// The loading curve, slips and all, and the bins without them.
pub(super) fn bins(ready: &Ready, slips: &[Slip]) -> (Course, Bins) {
    let travel = ready.stroke[ready.end].max(1e-6);
    let count = ((travel / BIN_MM) as usize).clamp(BINS_MIN, BINS_MAX);
    let width = travel / count as f64;
    let mut all = vec![(0.0, 0.0, 0u32); count];
    let mut kept = vec![(0.0, 0.0, 0u32); count];
    let mut cuts: Vec<(f64, f64)> = Vec::new();
    let mut lost = 0.0;
    let mut next = slips.iter().peekable();
    let mut i = ready.begin;
    let add = |bins: &mut [(f64, f64, u32)], x: f64, y: f64| {
        let slot = ((x / width).max(0.0) as usize).min(count - 1);
        let bin = &mut bins[slot];
        *bin = (bin.0 + x, bin.1 + y, bin.2 + 1);
    };
    while i < ready.end {
        let (x, y) = (ready.stroke[i], ready.raw[i]);
        add(&mut all, x, y);
        while next.next_if(|s| s.samples.1 <= i).is_some() {}
        match next.peek() {
            Some(slip) if i >= slip.samples.0 => {
                if i == slip.samples.0 {
                    cuts.push((slip.stroke_mm - lost, slip.lost_mm));
                    lost += slip.lost_mm;
                }
            }
            _ => add(&mut kept, x - lost, y),
        }
        i += 1;
    }
    let filled = kept.iter().filter(|bin| bin.2 > 0);
    let mean = |bin: &(f64, f64, u32)| (bin.0 / f64::from(bin.2), bin.1 / f64::from(bin.2));
    let (x, y) = filled.map(mean).unzip();
    (course(&all, width), Bins { x, y, cuts })
}

/// The curve with its gaps closed by straight lines.
fn course(bins: &[(f64, f64, u32)], step_mm: f64) -> Course {
    let mut force_kn: Vec<f64> = Vec::with_capacity(bins.len());
    let mut gap = 0;
    for bin in bins {
        if bin.2 == 0 {
            gap += 1;
            continue;
        }
        let here = bin.1 / f64::from(bin.2);
        let before = force_kn.last().copied().unwrap_or(here);
        for k in 1..=gap {
            force_kn.push(before + (here - before) * f64::from(k) / f64::from(gap + 1));
        }
        force_kn.push(here);
        gap = 0;
    }
    let last = force_kn.last().copied().unwrap_or(0.0);
    force_kn.resize(bins.len(), last);
    Course { step_mm, force_kn }
}

/// The pieces found.
#[derive(Clone, Debug)]
pub(super) struct Fitted {
    /// Bends between them, places without slips, with standard uncertainties.
    pub(super) bends: Vec<(f64, f64)>,
    /// Slope of each piece, kN/mm, with its standard uncertainty.
    pub(super) slopes: Vec<(f64, f64)>,
    /// Standard deviation of the bins about them, kN.
    pub(super) spread: f64,
}

/// Sums over the bins, from which the line through any run of them follows at once.
struct Lines {
    sums: Vec<[f64; 5]>,
}

impl Lines {
    fn of(bins: &Bins) -> Self {
        let n = bins.x.len() as f64;
        let (mx, my) = (
            bins.x.iter().sum::<f64>() / n,
            bins.y.iter().sum::<f64>() / n,
        );
        let mut sums = vec![[0.0; 5]];
        let mut sum = [0.0; 5];
        for (x, y) in bins.x.iter().zip(&bins.y) {
            let (x, y) = (x - mx, y - my);
            for (sum, part) in sum.iter_mut().zip([x, y, x * x, x * y, y * y]) {
                *sum += part;
            }
            sums.push(sum);
        }
        Self { sums }
    }

    /// Squares left by a flat line, and what a slope takes from them with the slope's sign, over bins `i..j`.
    #[inline]
    fn costs(&self, i: usize, j: usize) -> (f64, f64) {
        let (a, b) = (&self.sums[i], &self.sums[j]);
        let n = (j - i) as f64;
        let [x, y, xx, xy, yy] = [
            b[0] - a[0],
            b[1] - a[1],
            b[2] - a[2],
            b[3] - a[3],
            b[4] - a[4],
        ];
        let sxx = (xx - x * x / n).max(1e-12);
        let sxy = xy - x * y / n;
        let flat = (yy - y * y / n).max(0.0);
        (flat, sxy * sxy.abs() / sxx)
    }
}

/// The sign of the slope that each piece has.
fn signs(fastener: Fastener) -> [f64; PIECES] {
    let form = if fastener.form_rises() { 1.0 } else { -1.0 };
    [1.0, 1.0, form, 1.0, 1.0]
}

/// The best cuts into 1 to [`PIECES`] pieces: for each, squares left and starts of the pieces after the first.
fn cut(lines: &Lines, n: usize, signs: &[f64; PIECES]) -> Vec<(f64, Vec<usize>)> {
    let mut best = vec![vec![f64::INFINITY; n + 1]; PIECES];
    let mut from = vec![vec![0usize; n + 1]; PIECES];
    for (j, cost) in best[0].iter_mut().enumerate().skip(LEAST) {
        let (flat, slope) = lines.costs(0, j);
        *cost = flat - slope.max(0.0);
    }
    // The plateau's slope may have either sign within its noise; others keep theirs.
    for j in LEAST..=n {
        for i in LEAST..=j - LEAST {
            let (flat, slope) = lines.costs(i, j);
            for k in 1..PIECES {
                let cost = best[k - 1][i] + (flat - (signs[k] * slope).max(0.0)).max(0.0);
                if cost < best[k][j] {
                    best[k][j] = cost;
                    from[k][j] = i;
                }
            }
        }
    }
    let back = |k: usize| {
        let mut starts = Vec::new();
        let mut j = n;
        for k in (1..=k).rev() {
            j = from[k][j];
            starts.push(j);
        }
        starts.reverse();
        (best[k][n], starts)
    };
    (0..PIECES).map(back).collect()
}

/// Cuts the curve into as many pieces as it shows; where chatter hides its shape, the curve evened out.
pub(super) fn fit(bins: &Bins, fastener: Fastener, peak_kn: f64) -> Fitted {
    let fitted = fit_once(bins, fastener, peak_kn);
    if fitted.slopes.len() > 2 || bins.x.len() < BINS_MIN / 2 {
        return fitted;
    }
    let even = |values: &[f64]| values.windows(EVEN).map(mean).collect();
    let evened = Bins {
        x: even(&bins.x),
        y: even(&bins.y),
        cuts: Vec::new(),
    };
    let again = fit_once(&evened, fastener, peak_kn);
    match again.slopes.len() > fitted.slopes.len() {
        true => again,
        false => fitted,
    }
}

fn fit_once(bins: &Bins, fastener: Fastener, peak_kn: f64) -> Fitted {
    let n = bins.x.len();
    if n < 2 * PIECES {
        return bend(bins, &[]);
    }
    let lines = Lines::of(bins);
    let cuts = cut(&lines, n, &signs(fastener));
    let noise = cuts[PIECES - 1].0 / n as f64;
    for pieces in [5, 4, 2] {
        let (squares, starts) = &cuts[pieces - 1];
        let fewer = match pieces {
            5 => &cuts[3],
            4 => &cuts[1],
            _ => &cuts[0],
        };
        let places: Vec<f64> = starts
            .iter()
            .map(|i| (bins.x[i - 1] + bins.x[*i]) / 2.0)
            .collect();
        let fitted = bend(bins, &places);
        let worth = fewer.0 - squares > 8.0 * noise * (n as f64).ln();
        if worth && is_like(&fitted, fastener, peak_kn, bins) {
            return near(fitted, bins);
        }
    }
    bend(bins, &[])
}

/// Lays the gentle bends, of take-up and of form, again by what stands near them: pieces are not quite straight, and that
/// pulls a bend away.
fn near(mut fitted: Fitted, bins: &Bins) -> Fitted {
    let (first, last) = (bins.x[0], bins.x[bins.x.len() - 1]);
    for i in [0, 3] {
        let Some((place, u)) = fitted.bends.get(i).copied() else {
            continue;
        };
        let before = i.checked_sub(1).map_or(first, |i| fitted.bends[i].0);
        let after = fitted.bends.get(i + 1).map_or(last, |b| b.0);
        let low = place - (NEAR * (place - before)).max(NEAR_MM);
        let high = place + (NEAR * (after - place)).max(NEAR_MM);
        let inside = |x: f64| (low.max(before)..=high.min(after)).contains(&x);
        let part = bins.x.iter().zip(&bins.y).filter(|(x, _)| inside(**x));
        let (x, y): (Vec<f64>, Vec<f64>) = part.unzip();
        if x.len() < 12 {
            continue;
        }
        let cuts = Vec::new();
        let again = bend(&Bins { x, y, cuts }, &[place]);
        let (there, sure) = again.bends[0];
        if sure < SURE_MM && (there - place).abs() < 4.0 * u.hypot(sure).max(SURE_MM) {
            fitted.bends[i] = (there, sure);
        }
    }
    fitted
}

/// Whether the last pieces are what they are taken for.
fn is_like(fitted: &Fitted, fastener: Fastener, peak_kn: f64, bins: &Bins) -> bool {
    let slope = |i: usize| fitted.slopes[i].0;
    let end = bins.x.last().copied().unwrap_or(0.0);
    let bend = |i: usize| fitted.bends.get(i).map_or(end, |b| b.0);
    let rises = slope(1) > 1.5 * slope(0).max(0.0);
    let form = || {
        let flat = slope(3).abs() < 0.5 * slope(1);
        let lasts = bend(3) - bend(2) > 0.3;
        let first = match fastener.form_rises() {
            true => slope(2) > 1.3 * slope(1),
            false => slope(2) < 0.0,
        };
        flat && lasts && first
    };
    let clamp = || {
        let rise = slope(4) * (end - bend(3));
        rise > 0.08 * peak_kn && slope(4) > 1.8 * slope(3).max(0.0)
    };
    match fitted.slopes.len() {
        2 => rises,
        4 => rises && form(),
        5 => rises && form() && clamp(),
        _ => true,
    }
}

/// Most parameters: level, first slope, and change of slope and place for each bend.
const MOST: usize = 2 + 2 * (PIECES - 1);

/// Lays the line with bends near `places` by least squares.
fn bend(bins: &Bins, places: &[f64]) -> Fitted {
    let k = places.len();
    let m = 2 + 2 * k;
    let (x, y) = (&bins.x, &bins.y);
    let n = x.len();
    let gap = (x[n - 1] - x[0]) / n as f64;
    let mut bends = places.to_vec();
    let mut best: Option<(f64, Vec<f64>, [f64; MOST])> = None;
    let mut factors = [0.0; MOST];
    let mut inverse = [[0.0; MOST]; MOST];
    let mut pace = 1.0;
    for _ in 0..12 {
        // For bends that stand still the rest is linear: solve that, then move the bends along the joint step.
        let columns = 2 + k;
        let basis = |x: f64, row: &mut [f64; MOST], bends: &[f64]| {
            row[0] = 1.0;
            row[1] = x;
            for (c, bend) in bends.iter().enumerate() {
                row[2 + c] = (x - bend).max(0.0);
            }
        };
        let Some(solved) = solve(x, y, columns, |x, row| basis(x, row, &bends)) else {
            break;
        };
        let squares = solved.squares;
        if best.as_ref().is_none_or(|(least, ..)| squares < *least) {
            let gained = best
                .as_ref()
                .map_or(f64::INFINITY, |(least, ..)| least - squares);
            best = Some((squares, bends.clone(), solved.factors));
            factors = solved.factors;
            if gained < 1e-7 * squares || k == 0 {
                break;
            }
            pace = 1.0;
        } else {
            pace *= 0.4;
            if pace < 0.02 {
                break;
            }
        }
        let Some((_, from, kept)) = &best else {
            break;
        };
        // The step from the best place: residuals against the basis and its slopes in the bends.
        let residual = |i: usize| {
            let mut row = [0.0; MOST];
            basis(x[i], &mut row, from);
            y[i] - (0..columns).map(|c| row[c] * kept[c]).sum::<f64>()
        };
        let rest: Vec<f64> = (0..n).map(residual).collect();
        let jacobian = |x: f64, row: &mut [f64; MOST]| {
            basis(x, row, from);
            for c in 0..k {
                row[2 + k + c] = if x > from[c] { -kept[2 + c] } else { 0.0 };
            }
        };
        let Some(step) = solve(x, &rest, m, jacobian) else {
            break;
        };
        inverse = step.inverse;
        let mut low = x[0];
        for c in 0..k {
            let by = (pace * step.factors[2 + k + c]).clamp(-6.0 * gap, 6.0 * gap);
            let high = x[n - 1] - gap * (k - c) as f64;
            bends[c] = (from[c] + by).clamp((low + gap).min(high), high);
            low = bends[c];
        }
    }
    let (squares, bends) = match best {
        Some((squares, bends, kept)) => {
            factors = kept;
            (squares, bends)
        }
        None => (0.0, bends),
    };
    let variance = squares / (n.saturating_sub(m).max(1)) as f64;
    let mut slope = factors[1];
    let mut slopes = vec![(slope, (variance * inverse[1][1]).abs().sqrt())];
    for c in 0..k {
        slope += factors[2 + c];
        let members = 1..=2 + c;
        let spread: f64 = members
            .clone()
            .flat_map(|i| members.clone().map(move |j| (i, j)))
            .map(|(i, j)| inverse[i][j])
            .sum();
        slopes.push((slope, (variance * spread).abs().sqrt()));
    }
    let place = |(c, at): (usize, f64)| {
        let u = (variance * inverse[2 + k + c][2 + k + c]).abs().sqrt();
        // Not finer than a bin lets it be.
        (at, u.hypot(gap / 12f64.sqrt()))
    };
    Fitted {
        bends: bends.into_iter().enumerate().map(place).collect(),
        slopes,
        spread: variance.sqrt(),
    }
}

/// A least-squares solution.
struct Solved {
    factors: [f64; MOST],
    inverse: [[f64; MOST]; MOST],
    squares: f64,
}

/// Least squares on `m` columns by the normal equations.
fn solve(
    x: &[f64],
    y: &[f64],
    m: usize,
    columns: impl Fn(f64, &mut [f64; MOST]),
) -> Option<Solved> {
    let mut normal = [[0.0; MOST]; MOST];
    let mut right = [0.0; MOST];
    let mut whole = 0.0;
    let mut row = [0.0; MOST];
    for (x, y) in x.iter().zip(y) {
        columns(*x, &mut row);
        for i in 0..m {
            if row[i] == 0.0 {
                continue;
            }
            right[i] += row[i] * y;
            for j in i..m {
                normal[i][j] += row[i] * row[j];
            }
        }
        whole += y * y;
    }
    let upper = normal;
    for (i, row) in normal.iter_mut().enumerate() {
        for (j, cell) in row.iter_mut().enumerate().take(i) {
            *cell = upper[j][i];
        }
    }
    let inverse = invert(normal, m)?;
    let mut factors = [0.0; MOST];
    for i in 0..m {
        factors[i] = (0..m).map(|j| inverse[i][j] * right[j]).sum();
    }
    let explained: f64 = (0..m).map(|i| factors[i] * right[i]).sum();
    Some(Solved {
        factors,
        inverse,
        squares: (whole - explained).max(0.0),
    })
}

/// The inverse of the first `m` rows and columns; `None` if there is none.
fn invert(mut a: [[f64; MOST]; MOST], m: usize) -> Option<[[f64; MOST]; MOST]> {
    let mut inverse = [[0.0; MOST]; MOST];
    for (i, row) in inverse.iter_mut().enumerate() {
        row[i] = 1.0;
    }
    for c in 0..m {
        let pivot = (c..m).max_by(|i, j| a[*i][c].abs().total_cmp(&a[*j][c].abs()))?;
        if a[pivot][c].abs() < 1e-12 {
            return None;
        }
        a.swap(c, pivot);
        inverse.swap(c, pivot);
        let by = 1.0 / a[c][c];
        for j in 0..m {
            a[c][j] *= by;
            inverse[c][j] *= by;
        }
        for i in (0..m).filter(|i| *i != c) {
            let by = a[i][c];
            if by != 0.0 {
                for j in 0..m {
                    a[i][j] -= by * a[c][j];
                    inverse[i][j] -= by * inverse[c][j];
                }
            }
        }
    }
    Some(inverse)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bins(places: &[f64], forces: &[f64]) -> Bins {
        let x: Vec<f64> = (0..200).map(|i| f64::from(i) * 0.1).collect();
        let at = |x: &f64| {
            let i = places[1..places.len() - 1]
                .iter()
                .take_while(|p| **p <= *x)
                .count();
            let share = (x - places[i]) / (places[i + 1] - places[i]);
            forces[i] + (forces[i + 1] - forces[i]) * share
        };
        let y = x.iter().map(at).collect();
        Bins {
            x,
            y,
            cuts: vec![(5.0, 0.5)],
        }
    }

    #[test]
    fn bends_of_a_clean_curve_are_found_exactly() {
        let places = [0.0, 2.03, 5.51, 6.07, 14.26, 20.0];
        let forces = [0.5, 1.0, 8.0, 16.0, 17.0, 24.0];
        let bins = bins(&places, &forces);
        let fitted = fit(&bins, Fastener::BreakLockbolt, 24.0);
        assert_eq!(fitted.bends.len(), 4, "{fitted:?}");
        for (found, wanted) in fitted.bends.iter().zip(&places[1..]) {
            assert!((found.0 - wanted).abs() < 0.01, "{fitted:?}");
        }
        assert!((fitted.slopes[1].0 - 7.0 / 3.48).abs() < 0.01);
    }

    #[test]
    fn a_curve_that_ends_early_has_fewer_pieces() {
        let early = bins(&[0.0, 4.0, 20.0], &[0.5, 1.0, 24.0]);
        assert_eq!(fit(&early, Fastener::BreakLockbolt, 24.0).bends.len(), 1);
        let early = bins(&[0.0, 4.0, 9.0, 10.0, 20.0], &[0.5, 1.0, 8.0, 17.0, 17.5]);
        assert_eq!(fit(&early, Fastener::BreakLockbolt, 17.5).bends.len(), 3);
        let line = bins(&[0.0, 20.0], &[0.0, 1.0]);
        assert_eq!(fit(&line, Fastener::RivetNut, 1.0).bends.len(), 0);
    }

    #[test]
    fn stroke_and_place_lead_to_each_other() {
        let bins = bins(&[0.0, 20.0], &[0.0, 1.0]);
        for x in [1.0, 4.9, 5.1, 12.0] {
            assert!((bins.place(bins.stroke(x)) - x).abs() < 1e-12);
        }
        assert_eq!(bins.stroke(6.0), 6.5);
    }
}
