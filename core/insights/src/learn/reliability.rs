//! Are the chances shown well calibrated? Judged from the record that [`super::learn`] makes.
//!
//! # Source
//! Reliability by bins and the expected calibration error: Murphy and Winkler, J. Royal Statistical Society C
//! 1977;26(1):41-47; Naeini, Cooper and Hauskrecht, AAAI 2015. Both cited from memory. The interval of a share:
//! [`crate::statistics`].

use serde::Serialize;

use crate::forecast::calibration::{CalibrationBin, SHARE_OF_AN_OUTCOME};
use crate::statistics::{NINE_IN_TEN_SDS, share_interval};

/// Separate half-hours that chances must have been shown for before anything is judged.
const NEEDED_HALF_HOURS: f64 = 30.0;
/// Half-hours in one tenth before its share is given: of fewer, chance makes anything.
const NEEDED_IN_A_TENTH: f64 = 5.0;

/// How the chances shown have turned out.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Reliability {
    /// By tenths of chance: 0 to 10 %, 10 to 20 %, ...
    pub tenths: [BinOutcome; 10],
    /// What can be said of all together.
    pub calibration: ForecastCalibration,
}

/// How the chances of one tenth turned out.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BinOutcome {
    /// How often one was shown.
    pub shown: u64,
    /// How often it came.
    pub came: u64,
    /// Mean chance shown, 0 to 1; nothing where none was.
    pub mean_chance: Option<f64>,
    /// The share that came, with where the true share lies nine times in ten; nothing where there are too few to say.
    pub share: Option<ObservedShare>,
}

/// A share of 0 to 1 and where it probably lies.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ObservedShare {
    /// The share that came.
    pub came: f64,
    /// Lower end of where the true share lies nine times in ten.
    pub from: f64,
    /// Upper end.
    pub to: f64,
}

impl ObservedShare {
    /// A share of so many outcomes, which need not be a whole number.
    fn of(came: f64, count: f64) -> Self {
        let (from, to) = share_interval(came * count, count, 0.05);
        Self { came, from, to }
    }
}

/// What can be said of the chances shown.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "code")]
pub enum ForecastCalibration {
    /// Not enough was shown yet.
    TooFew {
        /// Separate half-hours that chances were shown for.
        have: f64,
        /// Separate half-hours needed.
        need: f64,
    },
    /// As many came as were shown, as far as the record can show.
    Calibrated(Figures),
    /// Fewer came than were shown: it warns too much.
    OverForecasts(Figures),
    /// More came than were shown: it warns too little.
    UnderForecasts(Figures),
}

/// The figures behind a calibration.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Figures {
    /// Chances shown.
    pub shown: u64,
    /// Mean chance shown, 0 to 1.
    pub mean_chance: f64,
    /// The share that came, 0 to 1.
    pub came: f64,
    /// By how much a chance was off, on average over the tenths and weighed by how often each was shown, 0 to 1 (the
    /// expected calibration error).
    pub off: f64,
}

impl Reliability {
    /// Judges a record.
    ///
    /// Chances shown five minutes apart see nearly the same half-hour, so each counts for a sixth of one
    /// ([`SHARE_OF_AN_OUTCOME`]).
    #[must_use]
    // The casts fit: counts of half-hours stay far below 2^53.
    pub fn of(record: &[CalibrationBin; 10]) -> Self {
        let tenths = record.map(|tenth| {
            let shown = tenth.shown as f64;
            let half_hours = shown * SHARE_OF_AN_OUTCOME;
            BinOutcome {
                shown: tenth.shown,
                came: tenth.came,
                mean_chance: (tenth.shown > 0).then(|| tenth.chances / shown),
                share: (half_hours >= NEEDED_IN_A_TENTH)
                    .then(|| ObservedShare::of(tenth.came as f64 / shown, half_hours)),
            }
        });
        let shown: u64 = record.iter().map(|tenth| tenth.shown).sum();
        let half_hours = shown as f64 * SHARE_OF_AN_OUTCOME;
        if half_hours < NEEDED_HALF_HOURS {
            return Self {
                tenths,
                calibration: ForecastCalibration::TooFew { have: half_hours, need: NEEDED_HALF_HOURS },
            };
        }
        let (mut chances, mut came, mut variance, mut off) = (0.0, 0.0, 0.0, 0.0);
        for tenth in record.iter().filter(|tenth| tenth.shown > 0) {
            let (count, mean) = (tenth.shown as f64, tenth.chances / tenth.shown as f64);
            chances += tenth.chances;
            came += tenth.came as f64;
            variance += count * mean * (1.0 - mean);
            off += (tenth.chances - tenth.came as f64).abs();
        }
        let count = shown as f64;
        let figures = Figures { shown, mean_chance: chances / count, came: came / count, off: off / count };
        // The sum's standard deviation, each outcome seen in several chances.
        let sd = (variance / SHARE_OF_AN_OUTCOME).sqrt();
        let calibration = match came - chances {
            more if more > NINE_IN_TEN_SDS * sd => ForecastCalibration::UnderForecasts(figures),
            less if less < -NINE_IN_TEN_SDS * sd => ForecastCalibration::OverForecasts(figures),
            _ => ForecastCalibration::Calibrated(figures),
        };
        Self { tenths, calibration }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn record(rows: &[(usize, u64, f64, u64)]) -> [CalibrationBin; 10] {
        let mut record = [CalibrationBin::default(); 10];
        for &(tenth, shown, mean, came) in rows {
            record[tenth] = CalibrationBin { shown, chances: mean * shown as f64, came };
        }
        record
    }

    #[test]
    fn a_thin_record_is_not_judged() {
        let thin = Reliability::of(&record(&[(0, 60, 0.05, 3)]));
        assert!(matches!(thin.calibration, ForecastCalibration::TooFew { have, .. } if (have - 10.0).abs() < 1e-9));
        assert!(matches!(Reliability::of(&Default::default()).calibration, ForecastCalibration::TooFew { .. }));
        assert!(thin.tenths[5].share.is_none() && thin.tenths[5].mean_chance.is_none());
    }

    #[test]
    fn calibrated_and_not() {
        let of = |rows: &[_]| Reliability::of(&record(rows)).calibration;
        assert!(matches!(of(&[(0, 1200, 0.05, 62), (3, 600, 0.35, 205)]), ForecastCalibration::Calibrated(_)));
        assert!(matches!(of(&[(0, 1200, 0.05, 20), (3, 600, 0.35, 90)]), ForecastCalibration::OverForecasts(_)));
        let ForecastCalibration::UnderForecasts(figures) = of(&[(0, 1200, 0.05, 180), (3, 600, 0.35, 330)]) else {
            panic!()
        };
        // By hand: shown 1800, chances 60 + 210, came 510, off |60 - 180| + |210 - 330| of 1800.
        assert_eq!(figures.shown, 1800);
        assert!((figures.mean_chance - 0.15).abs() < 1e-12 && (figures.came - 510.0 / 1800.0).abs() < 1e-12);
        assert!((figures.off - 240.0 / 1800.0).abs() < 1e-12);
    }

    /// SciPy 1.17.1: `scipy.stats.beta.ppf(0.05, 3, 8)` and `scipy.stats.beta.ppf(0.95, 4, 7)`.
    #[test]
    fn the_interval_is_clopper_pearsons() {
        let share = ObservedShare::of(0.3, 10.0);
        assert!(
            (share.from - 0.087_264_433_914).abs() < 1e-8 && (share.to - 0.606_624_216_105).abs() < 1e-8,
            "{share:?}"
        );
    }
}
