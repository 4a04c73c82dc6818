//! Do the chances told keep their word? Judged from the record that [`super::learn`] makes.
//!
//! # Source
//! Reliability by bins and the expected calibration error: Murphy and Winkler, J. Royal Statistical Society C
//! 1977;26(1):41-47; Naeini, Cooper and Hauskrecht, AAAI 2015. Both cited from memory. The interval of a share:
//! [`crate::statistics`].

use serde::Serialize;

use crate::forecast::calibration::{CalibrationBin, SHARE_OF_AN_OUTCOME};
use crate::statistics::{NINE_IN_TEN_SDS, share_interval};

/// Separate half-hours that must have been told about before anything is judged.
pub const NEEDED_HALF_HOURS: f64 = 30.0;
/// Half-hours in one tenth before its share is told: of fewer, chance makes anything.
const NEEDED_IN_A_TENTH: f64 = 5.0;

/// How the chances told have turned out.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Reliability {
    /// By tenths of chance: 0 to 10 %, 10 to 20 %, ...
    pub tenths: [Kept; 10],
    /// What can be said of all together.
    pub standing: Standing,
}

/// How the chances of one tenth turned out.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Kept {
    /// How often one was told.
    pub told: u64,
    /// How often it came.
    pub came: u64,
    /// Mean chance told, 0 to 1; nothing where none was.
    pub mean_chance: Option<f64>,
    /// Share that came, with where the true share lies nine times in ten; nothing where there are too few to say.
    pub share: Option<Share>,
}

/// A share of 0 to 1 and where it probably lies.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Share {
    /// The share that came.
    pub came: f64,
    /// Lower end of where the true share lies nine times in ten.
    pub from: f64,
    /// Upper end.
    pub to: f64,
}

impl Share {
    /// A share of so many outcomes, which need not be a whole number.
    fn of(came: f64, count: f64) -> Self {
        let (from, to) = share_interval(came * count, count, 0.05);
        Self { came, from, to }
    }
}

/// What can be said of the chances told.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "standing")]
pub enum Standing {
    /// Not enough was told yet.
    TooFew {
        /// Separate half-hours told about.
        have: f64,
        /// Separate half-hours needed.
        need: f64,
    },
    /// As many came as were told, as far as the record can tell.
    KeepsItsWord(Figures),
    /// Fewer came than were told: it warns too much.
    SaysTooMuch(Figures),
    /// More came than were told: it warns too little.
    SaysTooLittle(Figures),
}

/// The figures behind a standing.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Figures {
    /// Chances told.
    pub told: u64,
    /// Mean chance told, 0 to 1.
    pub mean_chance: f64,
    /// Share that came, 0 to 1.
    pub came: f64,
    /// By how much a chance was off, on average over the tenths and weighed by how often each was told, 0 to 1 (the
    /// expected calibration error).
    pub off: f64,
}

impl Reliability {
    /// Judges a record.
    ///
    /// Chances told five minutes apart see nearly the same half-hour, so each counts for a sixth of one
    /// ([`SHARE_OF_AN_OUTCOME`]).
    #[must_use]
    #[allow(clippy::cast_precision_loss)] // counts of half-hours stay far below 2^53
    pub fn of(record: &[CalibrationBin; 10]) -> Self {
        let tenths = record.map(|tenth| {
            let told = tenth.shown as f64;
            let half_hours = told * SHARE_OF_AN_OUTCOME;
            Kept {
                told: tenth.shown,
                came: tenth.came,
                mean_chance: (tenth.shown > 0).then(|| tenth.chances / told),
                share: (half_hours >= NEEDED_IN_A_TENTH).then(|| Share::of(tenth.came as f64 / told, half_hours)),
            }
        });
        let told: u64 = record.iter().map(|tenth| tenth.shown).sum();
        let half_hours = told as f64 * SHARE_OF_AN_OUTCOME;
        if half_hours < NEEDED_HALF_HOURS {
            return Self { tenths, standing: Standing::TooFew { have: half_hours, need: NEEDED_HALF_HOURS } };
        }
        let (mut chances, mut came, mut variance, mut off) = (0.0, 0.0, 0.0, 0.0);
        for tenth in record.iter().filter(|tenth| tenth.shown > 0) {
            let (count, mean) = (tenth.shown as f64, tenth.chances / tenth.shown as f64);
            chances += tenth.chances;
            came += tenth.came as f64;
            variance += count * mean * (1.0 - mean);
            off += (tenth.chances - tenth.came as f64).abs();
        }
        let count = told as f64;
        let figures = Figures { told, mean_chance: chances / count, came: came / count, off: off / count };
        // The sum's standard deviation, each outcome seen in several chances.
        let sd = (variance / SHARE_OF_AN_OUTCOME).sqrt();
        let standing = match came - chances {
            more if more > NINE_IN_TEN_SDS * sd => Standing::SaysTooLittle(figures),
            less if less < -NINE_IN_TEN_SDS * sd => Standing::SaysTooMuch(figures),
            _ => Standing::KeepsItsWord(figures),
        };
        Self { tenths, standing }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn record(rows: &[(usize, u64, f64, u64)]) -> [CalibrationBin; 10] {
        let mut record = [CalibrationBin::default(); 10];
        for &(tenth, told, mean, came) in rows {
            record[tenth] = CalibrationBin { shown: told, chances: mean * told as f64, came };
        }
        record
    }

    #[test]
    fn a_thin_record_is_not_judged() {
        let thin = Reliability::of(&record(&[(0, 60, 0.05, 3)]));
        assert!(matches!(thin.standing, Standing::TooFew { have, .. } if (have - 10.0).abs() < 1e-9));
        assert!(matches!(Reliability::of(&Default::default()).standing, Standing::TooFew { .. }));
        assert!(thin.tenths[5].share.is_none() && thin.tenths[5].mean_chance.is_none());
    }

    #[test]
    fn what_keeps_its_word_and_what_does_not() {
        let of = |rows: &[_]| Reliability::of(&record(rows)).standing;
        assert!(matches!(of(&[(0, 1200, 0.05, 62), (3, 600, 0.35, 205)]), Standing::KeepsItsWord(_)));
        assert!(matches!(of(&[(0, 1200, 0.05, 20), (3, 600, 0.35, 90)]), Standing::SaysTooMuch(_)));
        let Standing::SaysTooLittle(figures) = of(&[(0, 1200, 0.05, 180), (3, 600, 0.35, 330)]) else { panic!() };
        // By hand: told 1800, chances 60 + 210, came 510, off |60 - 180| + |210 - 330| of 1800.
        assert_eq!(figures.told, 1800);
        assert!((figures.mean_chance - 0.15).abs() < 1e-12 && (figures.came - 510.0 / 1800.0).abs() < 1e-12);
        assert!((figures.off - 240.0 / 1800.0).abs() < 1e-12);
    }

    /// SciPy 1.17.1: `scipy.stats.beta.ppf(0.05, 3, 8)` and `scipy.stats.beta.ppf(0.95, 4, 7)`.
    #[test]
    fn the_interval_is_clopper_pearsons() {
        let share = Share::of(0.3, 10.0);
        assert!(
            (share.from - 0.087_264_433_914).abs() < 1e-8 && (share.to - 0.606_624_216_105).abs() < 1e-8,
            "{share:?}"
        );
    }
}
