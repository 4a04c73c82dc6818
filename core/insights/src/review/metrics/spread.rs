//! Level and spread: mean, standard deviation, coefficient of variation, glucose management indicator, J-index.

use serde::Serialize;

use super::held::{Held, mean_of, total_minutes};
use crate::units::MG_DL_PER_MMOL_L;

/// Mean and spread over the time the readings stand for.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Spread {
    /// The mean, in mg/dL.
    pub mean_mg_dl: f64,
    /// The standard deviation, in mg/dL.
    pub sd_mg_dl: f64,
}

/// At or below this coefficient of variation glucose counts as stable, in percent (Battelino 2019).
pub const STABLE_CV_PERCENT: f64 = 36.0;

impl Spread {
    /// Mean and standard deviation; nothing with fewer than two readings.
    ///
    /// # Formula
    /// `mean = sum(w g) / W`; `SD^2 = sum(w (g - mean)^2) / (W - sum(w^2) / W)` with `W = sum(w)`: with equal times the
    /// sample form with `n - 1`.
    #[must_use]
    pub fn of(held: &[Held]) -> Option<Self> {
        let mean_mg_dl = mean_of(held, |g| g)?;
        let total = total_minutes(held);
        let squares: f64 = held.iter().map(|one| one.minutes * one.minutes).sum();
        let free = total - squares / total;
        if held.len() < 2 || free <= 0.0 {
            return None;
        }
        let off: f64 = held.iter().map(|one| one.minutes * (one.mg_dl() - mean_mg_dl).powi(2)).sum();
        Some(Self { mean_mg_dl, sd_mg_dl: (off / free).sqrt() })
    }

    /// The coefficient of variation, in percent.
    #[must_use]
    pub fn cv_percent(&self) -> f64 {
        100.0 * self.sd_mg_dl / self.mean_mg_dl
    }

    /// The J-index: `0.001 (mean + SD)^2` in mg/dL.
    ///
    /// # Source
    /// Wojcicki JM, Horm Metab Res 1995;27:41-42 (citation from memory; formula read in a review's table, PMC3160264).
    #[must_use]
    pub fn j_index(&self) -> f64 {
        0.001 * (self.mean_mg_dl + self.sd_mg_dl).powi(2)
    }
}

/// The glucose management indicator in percent: `3.31 + 0.02392 x mean (mg/dL)`.
///
/// An estimate from the sensor alone; a laboratory's A1C can differ by half a point and more in either direction.
///
/// # Source
/// Bergenstal RM, Beck RW, Close KL, et al., Diabetes Care 2018;41(11):2275-2280.
#[must_use]
pub fn gmi_percent(mean_mg_dl: f64) -> f64 {
    3.31 + 0.02392 * mean_mg_dl
}

/// The glucose management indicator in mmol/mol: `12.71 + 4.70587 x mean (mmol/L)`; same source.
#[must_use]
pub fn gmi_mmol_mol(mean_mg_dl: f64) -> f64 {
    12.71 + 4.70587 * mean_mg_dl / MG_DL_PER_MMOL_L
}
