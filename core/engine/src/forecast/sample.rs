//! The random numbers behind the sampled paths: drawn once, always the same, with the moments they should have.

use nalgebra::DMatrix;

use crate::normal::quantile;

/// Sampled paths of one half; the other half are their mirror images, so that a sample's mean is exact.
pub const HALF: usize = 128;

/// Standard normal numbers for [`HALF`] paths (rows) of so many dimensions (columns, fewer than paths), whose covariance
/// over the paths and their mirror images is exactly the identity.
///
/// # Source
/// Moment matching in Monte Carlo: Glasserman, Monte Carlo Methods in Financial Engineering 2003, section 4.5 (from memory);
/// antithetic variates: the same, section 4.2.
#[must_use]
pub fn moment_matched(dimensions: usize) -> DMatrix<f64> {
    let mut seed = 0x0123_4567_89AB_CDEF_u64;
    let mut uniform = || {
        // Knuth's linear congruential generator; the high bits alone.
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((seed >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    };
    let drawn = DMatrix::from_fn(HALF, dimensions, |_, _| quantile(uniform()));
    // Orthogonal columns of length sqrt(HALF): covariance one, correlation none.
    drawn.qr().q().columns(0, dimensions) * (HALF as f64).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sample_has_the_moments_of_independent_normals() {
        let drawn = moment_matched(31);
        let covariance = drawn.transpose() * &drawn / HALF as f64;
        assert!((covariance - DMatrix::identity(31, 31)).amax() < 1e-9);
        // Gaussian, not only of the right variance: the fourth moment of a normal is 3.
        let fourth = drawn.iter().map(|z| z.powi(4)).sum::<f64>() / drawn.len() as f64;
        assert!((fourth - 3.0).abs() < 0.25, "{fourth}");
    }
}
