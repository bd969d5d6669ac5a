//! Integrals of smooth functions over pieces.
//!
//! # Source
//! Gauss–Legendre with sixteen points: nodes by Newton's method on the Legendre recurrence (Abramowitz and Stegun
//! 25.4.29, from memory).

/// Points of one panel.
const POINTS: usize = 16;

/// Nodes in −1 … 1 with their weights.
fn nodes() -> [(f64, f64); POINTS] {
    let n = POINTS as f64;
    std::array::from_fn(|i| {
        let mut x = (std::f64::consts::PI * (i as f64 + 0.75) / (n + 0.5)).cos();
        let mut slope = 1.0;
        for _ in 0..8 {
            let (mut this, mut last) = (1.0, 0.0);
            for k in 0..POINTS {
                let k = k as f64;
                (this, last) = (((2.0 * k + 1.0) * x * this - k * last) / (k + 1.0), this);
            }
            slope = n * (x * this - last) / (x * x - 1.0);
            x -= this / slope;
        }
        (x, 2.0 / ((1.0 - x * x) * slope * slope))
    })
}

/// Where to look and with what weight, over the pieces between `ends`, which rise; each piece in `panels` panels.
pub(crate) fn grid(ends: &[f64], panels: usize) -> Vec<(f64, f64)> {
    let nodes = nodes();
    let mut found = Vec::with_capacity(ends.len() * panels * POINTS);
    for piece in ends.windows(2) {
        let half = (piece[1] - piece[0]) / panels as f64 / 2.0;
        if half <= 0.0 {
            continue;
        }
        for panel in 0..panels {
            let middle = piece[0] + (2 * panel + 1) as f64 * half;
            found.extend(nodes.iter().map(|(x, w)| (middle + half * x, half * w)));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_polynomial_is_exact_and_the_bell_nearly() {
        // ∫ x³¹ + 1 over 0 … 2 = 2³² / 32 + 2, exact for sixteen points. ∫ exp(−x²) over −9 … 9 = √π.
        let of = |ends: &[f64], panels, f: &dyn Fn(f64) -> f64| -> f64 {
            grid(ends, panels).iter().map(|(x, w)| w * f(*x)).sum()
        };
        let cube = of(&[0.0, 2.0], 1, &|x| x.powi(31) + 1.0);
        assert!((cube / 134_217_730.0 - 1.0).abs() < 1e-13, "{cube}");
        let bell = of(&[-9.0, 0.0, 0.0, 9.0], 4, &|x| (-x * x).exp());
        assert!((bell - std::f64::consts::PI.sqrt()).abs() < 1e-13, "{bell}");
    }
}
