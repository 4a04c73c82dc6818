//! The shape of the distribution ahead: wider or narrower than the model's Gaussian, and not the same downwards as upwards.
//!
//! Readings near a low are often turned by carbohydrate, meals raise faster than insulin lowers, and logged insulin or
//! carbohydrate makes what comes less certain. So every sampled path is stretched by one factor where it lies below the
//! expected path and another where it lies above. All chances are read off the stretched paths: calibration acts on the one
//! distribution, not on a chance beside it.
//!
//! # Formula
//! `factor = exp(weights . traits)`, for each direction; the expected path is moved so that its mean stays.
//!
//! # Source
//! The two-piece normal distribution: Wallis, "The two-piece normal, binormal, or double Gaussian distribution", Statistical
//! Science 2014;29(1):106-112 (from memory). The weights were fitted, see `core/docs/population.md`.

use super::population;
use crate::body::effects::Effects;

/// What the shape depends on.
pub const TRAITS: usize = 7;

/// The traits of a moment: constant, logarithm of the reading over 130 mg/dL, how far it lies below 95 mg/dL in units of 25,
/// how fast it falls and rises in mg/dL/min, carbohydrate and insulin at work in units of 50 mg/dL.
#[must_use]
pub(crate) fn traits(reading_mg_dl: f64, rate_mg_dl_min: f64, effects: &Effects) -> [f64; TRAITS] {
    let level = reading_mg_dl.clamp(40.0, 400.0);
    [
        1.0,
        (level / 130.0).ln(),
        ((95.0 - level) / 25.0).max(0.0),
        (-rate_mg_dl_min).clamp(0.0, 5.0),
        rate_mg_dl_min.clamp(0.0, 5.0),
        (effects.carbohydrate / 50.0).min(2.0),
        (effects.insulin / 50.0).min(2.0),
    ]
}

/// By how much paths are stretched, downwards and upwards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shape {
    /// The factor below the expected path.
    pub down: f64,
    /// The factor above it.
    pub up: f64,
    /// What lowers paths further below the expected one, as a share: the expected one is not moved up for it.
    pub unsure_below: f64,
}

/// Mean of the positive half of a standard normal: `1 / sqrt(2 pi)`.
const HALF_MEAN: f64 = 0.398_942_280_401_432_7;

impl Shape {
    /// The population's shape for the traits of a moment.
    #[must_use]
    pub fn of(traits: &[f64; TRAITS]) -> Self {
        let factor = |weights: &[f64; TRAITS]| {
            weights.iter().zip(traits).map(|(weight, one)| weight * one).sum::<f64>().clamp(-1.2, 1.2).exp()
        };
        Self { down: factor(&population::DOWN), up: factor(&population::UP), unsure_below: 0.0 }
    }

    /// The same with paths below the expected one wider by a share: what comes is less certain, and not in the wearer's favour.
    #[must_use]
    pub(crate) fn wider_below(self, share: f64) -> Self {
        Self { unsure_below: share.max(0.0), ..self }
    }

    /// What the stretched deviations would add to the mean, per standard deviation of the model.
    #[must_use]
    pub(crate) fn mean_per_sd(self) -> f64 {
        HALF_MEAN * (self.up - self.down)
    }

    /// A deviation, stretched.
    #[inline]
    #[must_use]
    pub(crate) fn stretched(self, deviation: f64) -> f64 {
        self.up * deviation.max(0.0) + self.down * (1.0 + self.unsure_below) * deviation.min(0.0)
    }
}
