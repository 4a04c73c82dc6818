//! The chance that a path crosses a line at any of its points: first passage, not only where the path ends.

use libm::erfc;

/// Which way a line is crossed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// From above to below.
    Down,
    /// From below to above.
    Up,
}

/// The chance of having crossed by each point, for a Gaussian path given by its means, standard deviations and the
/// correlation of each point with the next.
///
/// # Formula
/// The path is taken as a Markov chain. At each point the part that has not crossed is a truncated normal, whose mean and
/// variance are carried on to the next point (assumed-density filtering):
/// ```text
/// p_k = P(x_k beyond line | not before),   a = phi(z) / (1 - Phi(z)),
/// mean' = m + s a,   variance' = s^2 (1 + z a - a^2),   z = (line - m) / s for a crossing downwards
/// ```
///
/// # Source
/// Moments of the truncated normal: Johnson, Kotz and Balakrishnan, Continuous Univariate Distributions 1, 2nd ed. 1994,
/// section 10.1.
#[must_use]
pub fn crossed_by<const N: usize>(
    line: f64,
    way: Way,
    means: &[f64; N],
    sds: &[f64; N],
    correlations: &[f64; N],
) -> [f64; N] {
    let sign = if way == Way::Down { 1.0 } else { -1.0 };
    let line = line * sign;
    let mut crossed = [0.0; N];
    let mut survive = 1.0;
    let (mut mean, mut sd) = (means[0] * sign, sds[0].max(1e-6));
    for k in 0..N {
        let z = (line - mean) / sd;
        let beyond = normal_cdf(z);
        survive *= 1.0 - beyond;
        crossed[k] = 1.0 - survive;
        if k + 1 == N {
            break;
        }
        // Where nothing survives, the moments below lose all digits; the rest has crossed too.
        if survive < 1e-9 {
            crossed[k + 1..].fill(1.0 - survive);
            break;
        }
        let ratio = normal_density(z) / (1.0 - beyond).max(1e-12);
        let kept_mean = mean + sd * ratio;
        let kept_variance = (sd * sd * (1.0 + z * ratio - ratio * ratio)).max(1e-9);
        let slope = correlations[k] * sds[k + 1] / sds[k].max(1e-6);
        let fresh = sds[k + 1] * sds[k + 1] * (1.0 - correlations[k] * correlations[k]);
        mean = means[k + 1] * sign + slope * (kept_mean - means[k] * sign);
        sd = (slope * slope * kept_variance + fresh).max(1e-9).sqrt();
    }
    crossed
}

/// The standard normal distribution function.
#[must_use]
pub fn normal_cdf(z: f64) -> f64 {
    0.5 * erfc(-z * std::f64::consts::FRAC_1_SQRT_2)
}

fn normal_density(z: f64) -> f64 {
    (-0.5 * z * z).exp() / std::f64::consts::TAU.sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn independent_points_multiply() {
        let crossed = crossed_by(70.0, Way::Down, &[75.0, 80.0], &[5.0, 5.0], &[0.0, 0.0]);
        let (first, second) = (normal_cdf(-1.0), normal_cdf(-2.0));
        assert!((crossed[0] - first).abs() < 1e-12);
        assert!((crossed[1] - (1.0 - (1.0 - first) * (1.0 - second))).abs() < 1e-12);
    }

    #[test]
    #[allow(clippy::float_cmp)] // the same sums with the sign turned
    fn up_mirrors_down() {
        let down = crossed_by(70.0, Way::Down, &[75.0, 72.0, 71.0], &[2.0, 4.0, 6.0], &[0.9, 0.9, 0.0]);
        let up = crossed_by(-70.0, Way::Up, &[-75.0, -72.0, -71.0], &[2.0, 4.0, 6.0], &[0.9, 0.9, 0.0]);
        assert_eq!(down, up);
    }

    /// Against a random walk simulated to the same definition (seeded generator of this test; 200,000 paths).
    #[test]
    fn agrees_with_simulated_paths() {
        let mut seed = 1_u64;
        let mut uniform = || {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            ((seed >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
        };
        let mut normal = || (-2.0 * uniform().ln()).sqrt() * (std::f64::consts::TAU * uniform()).cos();
        let (start, drift, noise, paths) = (90.0, -2.0, 5.0, 200_000);
        let mut below = [0_u32; 6];
        for _ in 0..paths {
            let (mut x, mut crossed) = (start, false);
            for count in &mut below {
                x += drift + noise * normal();
                crossed |= x < 70.0;
                *count += u32::from(crossed);
            }
        }
        let step = |k: usize| (k + 1) as f64;
        let means = std::array::from_fn::<_, 6, _>(|k| start + drift * step(k));
        let sds = std::array::from_fn::<_, 6, _>(|k| noise * step(k).sqrt());
        let correlations = std::array::from_fn::<_, 6, _>(|k| (step(k) / (step(k) + 1.0)).sqrt());
        let crossed = crossed_by(70.0, Way::Down, &means, &sds, &correlations);
        for k in 0..6 {
            let simulated = f64::from(below[k]) / f64::from(paths);
            assert!((crossed[k] - simulated).abs() < 0.01, "point {k}: {} against {simulated}", crossed[k]);
        }
    }
}
