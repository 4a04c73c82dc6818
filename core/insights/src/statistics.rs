//! The statistics that every figure here is made with: means, medians, percentiles, and the one interval of a share.
//!
//! Everything takes numbers and gives numbers; what they mean is for the module that asks.

use serde::Serialize;
use statrs::distribution::{Beta, ContinuousCDF, StudentsT};

/// Standard deviations of a normal distribution that leave one in twenty above; so many either side hold nine in ten.
pub const NINE_IN_TEN_SDS: f64 = 1.645;

/// The mean; nothing of nothing.
#[must_use]
pub fn mean(values: &[f64]) -> Option<f64> {
    (!values.is_empty()).then(|| values.iter().sum::<f64>() / values.len() as f64)
}

/// The mean and the variance of a sample (with `n - 1`); nothing of fewer than two values.
#[must_use]
pub(crate) fn mean_and_variance(values: &[f64]) -> Option<(f64, f64)> {
    let mean = mean(values).filter(|_| values.len() > 1)?;
    let squares: f64 = values.iter().map(|one| (one - mean).powi(2)).sum();
    Some((mean, squares / (values.len() as f64 - 1.0)))
}

/// The median: of an even count, the mean of the middle two; nothing of nothing.
#[must_use]
pub fn median(values: &[f64]) -> Option<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_unstable_by(f64::total_cmp);
    let weighted: Vec<(f64, f64)> = sorted.into_iter().map(|one| (one, 1.0)).collect();
    percentile(&weighted, 50.0)
}

/// The percentile of amounts sorted upwards (the lighter of two equal ones first) with weights above 0, numpy's default ("linear") definition.
///
/// # Formula
/// The amount at place `n` stands at the share `S(n-1) / (W - w(n))` of the way, with `S` the weights before it and `W`
/// their sum; between places it is interpolated. With equal weights that is `(n - 1) / (N - 1)`: Hyndman and Fan's
/// definition 7 (Am Stat 1996;50:361-365), numpy's default.
#[must_use]
pub fn percentile(sorted: &[(f64, f64)], percent: f64) -> Option<f64> {
    let total: f64 = sorted.iter().map(|one| one.1).sum();
    let wanted = (percent / 100.0).clamp(0.0, 1.0);
    let mut before = 0.0;
    let mut last: Option<(f64, f64)> = None;
    for (amount, weight) in sorted {
        let place = if total > *weight { before / (total - weight) } else { 0.0 };
        if place >= wanted {
            return Some(match last {
                Some((at, lower)) if place > at => lower + (amount - lower) * (wanted - at) / (place - at),
                _ => *amount,
            });
        }
        last = Some((place, *amount));
        before += weight;
    }
    last.map(|one| one.1)
}

/// The quantile of Student's t distribution; nothing where the degrees of freedom are not above 0.
#[must_use]
pub(crate) fn t_quantile(share: f64, freedom: f64) -> Option<f64> {
    StudentsT::new(0.0, 1.0, freedom).ok().map(|t| t.inverse_cdf(share))
}

/// A mean and where it lies with 95 % confidence.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Mean {
    /// The mean.
    pub value: f64,
    /// The lower end.
    pub low: f64,
    /// The upper end.
    pub high: f64,
}

impl Mean {
    /// The mean of at least two values, with Student's t interval.
    ///
    /// Values of one sensor resemble each other, so the true interval is wider; this holds for [`Share`] too.
    pub(crate) fn of(values: &[f64]) -> Option<Self> {
        let (value, variance) = mean_and_variance(values)?;
        let count = values.len() as f64;
        let reach = t_quantile(0.975, count - 1.0)? * (variance / count).sqrt();
        Some(Self { value, low: value - reach, high: value + reach })
    }
}

/// A share and where it lies with 95 % confidence.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Share {
    /// How many.
    pub hits: usize,
    /// Of how many.
    pub of: usize,
    /// The lower end, 0 to 1 ([`clopper_pearson`]).
    pub low: f64,
    /// The upper end, 0 to 1.
    pub high: f64,
}

impl Share {
    pub(crate) fn of(hits: usize, of: usize) -> Self {
        let (low, high) = clopper_pearson(hits, of, 0.025);
        Self { hits, of, low, high }
    }

    /// The share, 0 to 1.
    #[must_use]
    pub fn value(&self) -> f64 {
        self.hits as f64 / self.of.max(1) as f64
    }
}

/// The exact interval of a share that leaves `tail` out on either side: `tail` 0.025 for 95 %.
///
/// # Source
/// Clopper CJ, Pearson ES, Biometrika 1934;26:404-413, as quantiles of the beta distribution.
#[must_use]
pub fn clopper_pearson(hits: usize, of: usize, tail: f64) -> (f64, f64) {
    share_interval(hits as f64, of as f64, tail)
}

/// The same of counts that need not be whole: of outcomes that are seen several times, each counts for part of one.
#[must_use]
pub(crate) fn share_interval(hits: f64, of: f64, tail: f64) -> (f64, f64) {
    let hits = hits.clamp(0.0, of.max(0.0));
    let quantile = |a: f64, b: f64, at: f64| Beta::new(a, b).ok().map(|beta| beta.inverse_cdf(at));
    let low = if hits <= 0.0 { None } else { quantile(hits, of - hits + 1.0, tail) };
    let high = if hits >= of { None } else { quantile(hits + 1.0, of - hits, 1.0 - tail) };
    (low.unwrap_or(0.0), high.unwrap_or(1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// SciPy 1.17.1: `scipy.stats.beta.ppf`, `scipy.stats.norm.ppf(0.95)`, `scipy.stats.t.ppf(0.975, 6)`.
    #[test]
    fn quantiles_are_scipys() {
        let near = |got: f64, expected: f64| assert!((got - expected).abs() < 1e-8, "{got} {expected}");
        let (low, high) = share_interval(3.0, 10.0, 0.05);
        near(low, 0.087_264_433_914_150_33);
        near(high, 0.606_624_216_105_412_3);
        let (low, high) = share_interval(1.5, 12.5, 0.05);
        near(low, 0.014_263_705_729_673_478);
        near(high, 0.376_882_974_425_696_6);
        near(t_quantile(0.975, 6.0).unwrap(), 2.446_911_851_144_978_6);
        assert!((NINE_IN_TEN_SDS - 1.644_853_626_951_472_2).abs() < 5e-4);
    }

    #[test]
    fn nothing_has_no_middle() {
        assert_eq!((mean(&[]), median(&[]), mean_and_variance(&[1.0])), (None, None, None));
        assert_eq!((median(&[3.0, 1.0]), median(&[5.0, 1.0, 2.0])), (Some(2.0), Some(2.0)));
        assert_eq!(mean_and_variance(&[1.0, 3.0]), Some((2.0, 2.0)));
        assert_eq!(share_interval(f64::NAN, 0.0, 0.05), (0.0, 1.0));
        assert_eq!(t_quantile(0.5, 0.0), None);
    }
}
