//! Random numbers of simulations: the same for the same seed, on any machine and any number of its cores.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{RngCore, SeedableRng};

/// Numbers between 0 and 1; each stream of a seed has its own.
pub fn uniforms(seed: u64, stream: u32) -> impl FnMut() -> f64 {
    let mut generator = ChaCha8Rng::seed_from_u64(seed);
    generator.set_stream(u64::from(stream));
    move || (generator.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
}

/// Independent values of the standard normal distribution (Box and Muller, 1958).
pub fn normals(seed: u64, stream: u32) -> impl FnMut() -> f64 {
    let mut uniform = uniforms(seed, stream);
    let mut kept = None;
    move || {
        kept.take().unwrap_or_else(|| {
            let radius = (-2.0 * (1.0 - uniform()).ln()).sqrt();
            let angle = std::f64::consts::TAU * uniform();
            kept = Some(radius * angle.sin());
            radius * angle.cos()
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn random_values_are_standard_normal_and_each_stream_its_own() {
        let mut normal = normals(1, 0);
        let values: Vec<f64> = (0..20_000).map(|_| normal()).collect();
        let mean = values.iter().sum::<f64>() / 20_000.0;
        let variance = values.iter().map(|v| v * v).sum::<f64>() / 20_000.0;
        // Three standard errors: 1/√n of the mean, √(2/n) of the variance.
        assert!(mean.abs() < 0.0213 && (variance - 1.0).abs() < 0.03);
        let beyond = values.iter().filter(|v| v.abs() > 1.96).count();
        assert!((900..1100).contains(&beyond), "{beyond}");
        assert_ne!(normals(1, 1)(), normals(1, 0)());
        assert_ne!(normals(2, 0)(), normals(1, 0)());
    }
}
