//! Shapiro–Wilk by Royston's approximations (AS R94).

use crate::error::CalcError;
use crate::normal;

/// c₀ + c₁ · x + c₂ · x² …
fn polynomial(coefficients: &[f64], x: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c)
}

/// The upper half of the weights, the outermost first.
fn weights(n: usize) -> Result<Vec<f64>, CalcError> {
    if n == 3 {
        return Ok(vec![0.5_f64.sqrt()]);
    }
    let half = n / 2;
    // Expected normal order statistics, from the highest.
    let expected = |i: usize| normal::quantile((i as f64 + 0.625) / (n as f64 + 0.25)).map(|z| -z);
    let m: Vec<f64> = (0..half).map(expected).collect::<Result<_, _>>()?;
    let squares = 2.0 * m.iter().map(|x| x * x).sum::<f64>();
    let root = squares.sqrt();
    let u = 1.0 / (n as f64).sqrt();
    let first = polynomial(
        &[
            0.0, 0.221_157, -0.147_981, -2.071_190, 4.434_685, -2.706_056,
        ],
        u,
    ) + m[0] / root;
    let mut found = vec![first];
    let mut rest = squares - 2.0 * m[0] * m[0];
    let mut left = 1.0 - 2.0 * first * first;
    if n > 5 {
        let second = polynomial(
            &[
                0.0, 0.042_981, -0.293_762, -1.752_461, 5.682_633, -3.582_633,
            ],
            u,
        ) + m[1] / root;
        found.push(second);
        rest -= 2.0 * m[1] * m[1];
        left -= 2.0 * second * second;
    }
    let scale = (rest / left).sqrt();
    found.extend(m[found.len()..].iter().map(|x| x / scale));
    Ok(found)
}

/// W of `sorted` values whose sum of squares about the mean is `squares`.
pub(super) fn statistic(sorted: &[f64], squares: f64) -> Result<f64, CalcError> {
    let n = sorted.len();
    let weights = weights(n)?;
    let pairs = weights.iter().enumerate();
    let sum: f64 = pairs
        .map(|(i, a)| a * (sorted[n - 1 - i] - sorted[i]))
        .sum();
    Ok((sum * sum / squares).min(1.0))
}

/// Probability of a W of `n` values this small from a normal distribution.
pub(super) fn probability(w: f64, n: usize) -> f64 {
    if n == 3 {
        // Exact for three.
        let p = 6.0 / std::f64::consts::PI * (w.sqrt().asin() - 0.75_f64.sqrt().asin());
        return p.clamp(0.0, 1.0);
    }
    let size = n as f64;
    let off = (1.0 - w).max(f64::MIN_POSITIVE).ln();
    let (y, mean, spread) = if n < 12 {
        let most = polynomial(&[-2.273, 0.459], size);
        if off >= most {
            return 0.0;
        }
        let mean = polynomial(&[0.5440, -0.399_78, 0.025_054, -6.714e-4], size);
        let spread = polynomial(&[1.3822, -0.778_57, 0.062_767, -0.002_032_2], size);
        (-(most - off).ln(), mean, spread.exp())
    } else {
        let log = size.ln();
        let mean = polynomial(&[-1.5861, -0.310_82, -0.083_751, 0.003_891_5], log);
        let spread = polynomial(&[-0.4803, -0.082_676, 0.003_030_2], log);
        (off, mean, spread.exp())
    };
    normal::below(-(y - mean) / spread)
}
