//! Glucose amounts and rates: mg/dL inside, mmol/L at the edge.
//!
//! Thresholds are kept in mg/dL and never round-tripped through mmol/L: 3.9 mmol/L converts back to
//! 70.26 mg/dL, which would move the low line.

use std::fmt;

use serde::{Deserialize, Serialize};

use crate::error::{Error, Quantity, Result};

/// mg/dL in one mmol/L, from glucose's molar mass of 180.156 g/mol.
///
/// # Source
/// LOINC group LG7967-5 ("Analyte molecular weight 180.156"). The often-seen 18.0182 does not follow from
/// that mass.
pub const MG_DL_PER_MMOL_L: f64 = 18.0156;

/// The lowest value a log entry may carry, in mg/dL: half of the lowest value sensors and meters report.
pub const LOWEST_MG_DL: f64 = 20.0;
/// The highest value a log entry may carry, in mg/dL: the top of the range meters report.
pub const HIGHEST_MG_DL: f64 = 600.0;

/// Which unit a person reads glucose in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, Default)]
pub enum GlucoseUnit {
    /// Milligrams per decilitre.
    #[default]
    #[serde(rename = "mg/dL")]
    MgDl,
    /// Millimoles per litre.
    #[serde(rename = "mmol/L")]
    MmolL,
}

impl GlucoseUnit {
    /// The UCUM code, which is also how the trade writes it: `mg/dL` or `mmol/L`.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::MgDl => "mg/dL",
            Self::MmolL => "mmol/L",
        }
    }

    /// Writes an amount given in mg/dL in this unit, without the unit's name: whole mg/dL, or mmol/L to one decimal.
    #[must_use]
    pub fn amount(self, mg_dl: f64) -> String {
        match self {
            Self::MgDl => format!("{mg_dl:.0}"),
            Self::MmolL => format!("{:.1}", mg_dl / MG_DL_PER_MMOL_L),
        }
    }

    /// Writes a rate given in mg/dL/min in this unit: one decimal for mg/dL/min, two for mmol/L/min.
    #[must_use]
    pub fn rate(self, mg_dl_min: f64) -> String {
        // A rate that rounds to nothing is written without the sign of what was rounded away.
        let plain = |text: String| {
            if text.trim_start_matches('-').chars().all(|c| c == '0' || c == '.') {
                text.trim_start_matches('-').to_owned()
            } else {
                text
            }
        };
        plain(match self {
            Self::MgDl => format!("{mg_dl_min:.1}"),
            Self::MmolL => format!("{:.2}", mg_dl_min / MG_DL_PER_MMOL_L),
        })
    }
}

impl fmt::Display for GlucoseUnit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

/// An amount as the consensus counts it: whole mg/dL.
///
/// The bands are printed in whole numbers (54-69, 70-180, 181-250), and their mmol/L values agree with that only after
/// rounding: 10.0 mmol/L is 180.156 mg/dL and in range, 13.9 is 250.4 and not yet very high.
#[must_use]
pub fn whole_mg_dl(mg_dl: f64) -> f64 {
    (mg_dl + 0.5).floor()
}

/// A measured glucose concentration, 20 to 600 mg/dL, always finite.
///
/// Estimates and forecasts are plain `f64` named `..._mg_dl`: they may stray outside what an instrument can report.
///
/// # Example
/// ```
/// use ebbstead_engine::units::Glucose;
/// let low = Glucose::from_mg_dl(70.0)?;
/// assert_eq!(format!("{:.1}", low.mmol_l()), "3.9");
/// assert!(Glucose::from_mg_dl(19.0).is_err());
/// # Ok::<(), ebbstead_engine::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct Glucose(f64);

impl Glucose {
    /// The lowest a log takes, [`LOWEST_MG_DL`].
    pub const LOWEST: Self = Self(LOWEST_MG_DL);
    /// The highest a log takes, [`HIGHEST_MG_DL`].
    pub const HIGHEST: Self = Self(HIGHEST_MG_DL);
    /// Where the range of many sensors begins: 40 mg/dL (common practice, no source).
    pub const SENSOR_LOWEST: Self = Self(40.0);
    /// Where the range of many sensors ends: 400 mg/dL (common practice, no source).
    pub const SENSOR_HIGHEST: Self = Self(400.0);

    /// Takes an amount in mg/dL.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] unless the amount is finite and within [`LOWEST_MG_DL`] to [`HIGHEST_MG_DL`].
    pub fn from_mg_dl(mg_dl: f64) -> Result<Self> {
        Self::checked(mg_dl, mg_dl, GlucoseUnit::MgDl)
    }

    /// Takes an amount in mmol/L.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] unless the amount is finite and within the range of [`Glucose::from_mg_dl`].
    pub fn from_mmol_l(mmol_l: f64) -> Result<Self> {
        Self::checked(mmol_l * MG_DL_PER_MMOL_L, mmol_l, GlucoseUnit::MmolL)
    }

    /// Takes an amount in the unit given.
    ///
    /// # Errors
    /// As [`Glucose::from_mg_dl`].
    pub fn new(amount: f64, unit: GlucoseUnit) -> Result<Self> {
        match unit {
            GlucoseUnit::MgDl => Self::from_mg_dl(amount),
            GlucoseUnit::MmolL => Self::from_mmol_l(amount),
        }
    }

    fn checked(mg_dl: f64, given: f64, unit: GlucoseUnit) -> Result<Self> {
        // The limits as they are shown in mmol/L count as the limits: a meter that shows 1.1 has measured the lowest there is.
        let shown = |limit: f64| (limit / MG_DL_PER_MMOL_L * 10.0).round() / 10.0;
        let mg_dl = match unit {
            GlucoseUnit::MmolL if (shown(LOWEST_MG_DL)..=shown(HIGHEST_MG_DL)).contains(&given) => {
                mg_dl.clamp(LOWEST_MG_DL, HIGHEST_MG_DL)
            }
            _ => mg_dl,
        };
        if mg_dl.is_finite() && (LOWEST_MG_DL..=HIGHEST_MG_DL).contains(&mg_dl) {
            return Ok(Self(mg_dl));
        }
        let (low, high) = match unit {
            GlucoseUnit::MgDl => (LOWEST_MG_DL, HIGHEST_MG_DL),
            GlucoseUnit::MmolL => (LOWEST_MG_DL / MG_DL_PER_MMOL_L, HIGHEST_MG_DL / MG_DL_PER_MMOL_L),
        };
        Err(Error::OutOfRange { what: Quantity::Glucose, given, low, high, unit: unit.into() })
    }

    /// The amount in mg/dL.
    #[must_use]
    pub const fn mg_dl(self) -> f64 {
        self.0
    }

    /// The amount in mmol/L.
    #[must_use]
    pub fn mmol_l(self) -> f64 {
        self.0 / MG_DL_PER_MMOL_L
    }
}

impl TryFrom<f64> for Glucose {
    type Error = Error;
    fn try_from(mg_dl: f64) -> Result<Self> {
        Self::from_mg_dl(mg_dl)
    }
}

impl From<Glucose> for f64 {
    fn from(glucose: Glucose) -> Self {
        glucose.0
    }
}

/// How fast glucose moves, in mg/dL/min; negative when falling.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, Deserialize, Default)]
pub struct Rate(f64);

impl Rate {
    /// Takes a rate in mg/dL/min. A rate that is not finite counts as no movement, since no claim can be made.
    #[must_use]
    pub fn from_mg_dl_min(mg_dl_min: f64) -> Self {
        Self(if mg_dl_min.is_finite() { mg_dl_min } else { 0.0 })
    }

    /// The rate in mg/dL/min.
    #[must_use]
    pub const fn mg_dl_min(self) -> f64 {
        self.0
    }

    /// The plain word for this rate.
    #[must_use]
    pub fn pace(self) -> Pace {
        Pace::of(self.0)
    }
}

/// Plain words for a rate's size. The direction is said separately.
///
/// # Source
/// The 1, 2 and 3 mg/dL/min bands are those published with continuous sensors' trend displays; the words are ours.
/// Over 30 minutes the bands' edges are 30, 60 and 90 mg/dL (1.7, 3.3, 5.0 mmol/L): common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Pace {
    /// Under 0.3 mg/dL/min.
    Level,
    /// Up to 1 mg/dL/min: may still be 30 mg/dL in half an hour.
    Slow,
    /// Up to 2 mg/dL/min: needs no word.
    Moderate,
    /// Up to 3 mg/dL/min.
    Fast,
    /// Over 3 mg/dL/min.
    VeryFast,
}

/// Below this a rate is level, in mg/dL/min (common practice, no source).
const LEVEL_BELOW_MG_DL_MIN: f64 = 0.3;
/// Up to this it is slow, in mg/dL/min (common practice, no source).
const SLOW_TO_MG_DL_MIN: f64 = 1.0;
/// Up to this it needs no word, in mg/dL/min (common practice, no source).
const MODERATE_TO_MG_DL_MIN: f64 = 2.0;
/// Up to this it is fast, beyond it very fast, in mg/dL/min (common practice, no source).
const FAST_TO_MG_DL_MIN: f64 = 3.0;

impl Pace {
    fn of(mg_dl_min: f64) -> Self {
        match mg_dl_min.abs() {
            size if size < LEVEL_BELOW_MG_DL_MIN => Self::Level,
            size if size <= SLOW_TO_MG_DL_MIN => Self::Slow,
            size if size <= MODERATE_TO_MG_DL_MIN => Self::Moderate,
            size if size <= FAST_TO_MG_DL_MIN => Self::Fast,
            _ => Self::VeryFast,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refuses_what_no_instrument_reports() {
        for bad in [f64::NAN, f64::INFINITY, -1.0, 0.0, 19.0, 19.999, 600.1, 700.0, 1e308] {
            assert!(Glucose::from_mg_dl(bad).is_err(), "{bad}");
        }
        for good in [20.0, 39.0, 70.0, 600.0] {
            assert!(Glucose::from_mg_dl(good).is_ok(), "{good}");
        }
    }

    #[test]
    fn the_limits_as_they_are_shown_are_taken() {
        let lowest = Glucose::from_mmol_l(1.1).unwrap();
        assert!((lowest.mg_dl() - LOWEST_MG_DL).abs() < 1e-9 && GlucoseUnit::MmolL.amount(lowest.mg_dl()) == "1.1");
        assert_eq!(GlucoseUnit::MmolL.amount(Glucose::from_mmol_l(33.3).unwrap().mg_dl()), "33.3");
        for bad in [1.09, 1.0, 33.4, f64::NAN] {
            assert!(Glucose::from_mmol_l(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn a_rate_that_rounds_to_nothing_has_no_sign() {
        assert_eq!(GlucoseUnit::MgDl.rate(-0.04), "0.0");
        assert_eq!(GlucoseUnit::MgDl.rate(-0.06), "-0.1");
        assert_eq!(GlucoseUnit::MmolL.rate(-0.06), "0.00");
    }

    #[test]
    fn pace_edges() {
        let pace = |r| Rate::from_mg_dl_min(r).pace();
        assert_eq!(
            [pace(0.29), pace(-1.0), pace(2.0), pace(-3.0), pace(3.01)],
            [Pace::Level, Pace::Slow, Pace::Moderate, Pace::Fast, Pace::VeryFast]
        );
    }
}
