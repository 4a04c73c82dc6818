//! Risk indices: low and high blood glucose index, glycemia risk index.

use serde::Serialize;

use super::held::{Held, mean_of};
use super::ranges::Shares;

/// The low and high blood glucose indices.
///
/// # Formula
/// `f(g) = 1.509 (ln(g)^1.084 - 5.381)`, `r = 10 f^2`; the low index is the mean of `r` where `f < 0` (0 elsewhere), the
/// high one where `f > 0`, over all readings, here weighed by time.
///
/// # Source
/// Kovatchev BP, Cox DJ, Gonder-Frederick LA, Clarke W, Diabetes Care 1997;20:1655-1658. The bands were set for meter
/// checks; from a sensor the low index comes out smaller (Fabris C, et al., J Diabetes Sci Technol 2016;10:50-59).
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BloodGlucoseIndices {
    /// Low blood glucose index.
    pub low: f64,
    /// High blood glucose index.
    pub high: f64,
}

/// How a risk index is commonly banded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Risk {
    /// Small.
    Low,
    /// Moderate.
    Moderate,
    /// High.
    High,
}

/// The symmetric scale of glucose: negative when low, 0 near 112.5 mg/dL, about ±√10 at 20 and 600.
#[must_use]
pub fn symmetric(mg_dl: f64) -> f64 {
    1.509 * (mg_dl.ln().powf(1.084) - 5.381)
}

impl BloodGlucoseIndices {
    /// Both indices; nothing without readings.
    #[must_use]
    pub fn of(held: &[Held]) -> Option<Self> {
        let one_side = |sign: f64| mean_of(held, |g| 10.0 * (sign * symmetric(g)).max(0.0).powi(2));
        Some(Self { low: one_side(-1.0)?, high: one_side(1.0)? })
    }

    /// The band of the low index: under 2.5, to 5, above (Kovatchev 1998, Diabetes Care 21:1870-1875).
    #[must_use]
    pub fn low_risk(&self) -> Risk {
        match self.low {
            index if index < 2.5 => Risk::Low,
            index if index <= 5.0 => Risk::Moderate,
            _ => Risk::High,
        }
    }

    /// The band of the high index: up to 4.5, to 9, above.
    #[must_use]
    pub fn high_risk(&self) -> Risk {
        match self.high {
            index if index <= 4.5 => Risk::Low,
            index if index <= 9.0 => Risk::Moderate,
            _ => Risk::High,
        }
    }
}

/// The glycemia risk index, 0 (best) to 100.
///
/// # Formula
/// `hypo = VLow + 0.8 Low`, `hyper = VHigh + 0.5 High`, `index = 3.0 hypo + 1.6 hyper`, at most 100; shares of time in
/// percent below 54, 54-69, 181-250 and above 250 mg/dL.
///
/// # Source
/// Klonoff DC, Wang J, Rodbard D, et al., J Diabetes Sci Technol 2023;17(5):1226-1242.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct GlycemiaRisk {
    /// The part from lows.
    pub hypo: f64,
    /// The part from highs.
    pub hyper: f64,
    /// The index.
    pub index: f64,
}

impl GlycemiaRisk {
    /// The index of shares in the consensus' bands for adults.
    #[must_use]
    pub fn of(shares: &Shares) -> Self {
        let hypo = shares.very_low + 0.8 * shares.low;
        let hyper = shares.very_high + 0.5 * shares.high;
        Self { hypo, hyper, index: (3.0 * hypo + 1.6 * hyper).min(100.0) }
    }

    /// The zone, A (up to 20) to E (above 80). The paper prints whole edges; here they hold for the index as it is.
    #[must_use]
    pub fn zone(&self) -> char {
        match self.index {
            index if index <= 20.0 => 'A',
            index if index <= 40.0 => 'B',
            index if index <= 60.0 => 'C',
            index if index <= 80.0 => 'D',
            _ => 'E',
        }
    }
}
