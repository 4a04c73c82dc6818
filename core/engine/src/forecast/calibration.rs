//! The record of chances and what came of them: of the times 20 % was shown, one in five should come.
//!
//! It judges and changes nothing: what a record teaches goes into the distribution itself ([`super::correction`]), so that no
//! chance can part from the path it belongs to.

use std::collections::VecDeque;

use serde::{Deserialize, Serialize};

use super::correction::{EVERY_MINUTES, GAP_MINUTES};

/// A chance shown, waiting for its outcome.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Shown {
    at_minutes: f64,
    chance: f64,
    line_mg_dl: f64,
    crossed: bool,
    known: bool,
}

/// The record of the 30-minute chance of a low.
#[derive(Clone, Debug, PartialEq)]
pub struct Calibration {
    kept: KeptCalibration,
    shown: VecDeque<Shown>,
    last_minutes: f64,
}

/// What of a record is kept between sessions.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct KeptCalibration {
    /// For each tenth of chance: how often shown, the sum of chances shown, how often it came.
    record: [CalibrationBin; 10],
}

/// What became of the chances shown within one tenth (0 to 10 %, 10 to 20 %, ...).
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct CalibrationBin {
    /// How often a chance in this tenth was shown.
    #[serde(alias = "told")]
    pub shown: u64,
    /// The sum of those chances.
    pub chances: f64,
    /// How often it came.
    pub came: u64,
}

/// Neighbouring chances see nearly the same half-hour: each counts for this share of an outcome.
pub const SHARE_OF_AN_OUTCOME: f64 = 1.0 / 6.0;
/// How long a chance waits, in minutes.
const DUE_MINUTES: f64 = 30.0;
/// Chances below this say "surely not" and teach nothing about the others.
const NOTED_FROM: f64 = 0.01;

impl Default for Calibration {
    fn default() -> Self {
        Self { kept: KeptCalibration::default(), shown: VecDeque::new(), last_minutes: f64::NEG_INFINITY }
    }
}

impl Calibration {
    /// Whether a chance shown now would be noted.
    #[must_use]
    pub(crate) fn is_due(&self, at_minutes: f64) -> bool {
        self.shown.back().is_none_or(|last| at_minutes - last.at_minutes >= EVERY_MINUTES)
    }

    /// Notes a 30-minute chance of a reading below a line, to be held against what comes.
    pub fn note(&mut self, at_minutes: f64, chance: f64, line_mg_dl: f64) {
        if self.is_due(at_minutes) && (NOTED_FROM..=1.0).contains(&chance) {
            self.shown.push_back(Shown { at_minutes, chance, line_mg_dl, crossed: false, known: true });
        }
    }

    /// A new reading: settles what it settles.
    pub fn reading(&mut self, at_minutes: f64, reading_mg_dl: f64) {
        let gap = at_minutes - self.last_minutes > GAP_MINUTES;
        self.last_minutes = at_minutes;
        for shown in &mut self.shown {
            // After a gap the outcome is unknown: what was low before the gap stays known; what was not may have been low within it.
            shown.known &= shown.crossed || !gap;
            if at_minutes > shown.at_minutes && at_minutes <= shown.at_minutes + DUE_MINUTES + 0.5 {
                shown.crossed |= reading_mg_dl < shown.line_mg_dl;
            }
        }
        while self.shown.front().is_some_and(|shown| at_minutes >= shown.at_minutes + DUE_MINUTES) {
            if let Some(shown) = self.shown.pop_front()
                && shown.known
            {
                // `as` keeps 0..=9: a chance is never negative and min() holds the top.
                let bin = &mut self.kept.record[((shown.chance * 10.0) as usize).min(9)];
                bin.shown += 1;
                bin.chances += shown.chance;
                bin.came += u64::from(shown.crossed);
            }
        }
    }

    /// How the chances shown have turned out.
    #[must_use]
    pub const fn record(&self) -> &[CalibrationBin; 10] {
        &self.kept.record
    }

    /// What to keep between sessions.
    #[must_use]
    pub fn kept(&self) -> KeptCalibration {
        self.kept.clone()
    }

    /// Goes on from what was kept; sums that are not finite are left for an empty record.
    #[must_use]
    pub(crate) fn resumed(kept: &KeptCalibration) -> Self {
        let finite = kept.record.iter().all(|bin| bin.chances.is_finite());
        if finite { Self { kept: kept.clone(), ..Self::default() } } else { Self::default() }
    }
}
