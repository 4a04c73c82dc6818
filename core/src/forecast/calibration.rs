//! Chances that keep their word: of the times 20 % is said, one in five should come.
//!
//! The path's first-passage chance is mended twice. A population's logistic regression knows what the Gaussian path does not:
//! readings just above a line cross it more often than their noise says, and a fast fall is often caught with carbohydrate.
//! Then the wearer's own past shifts and stretches the result (Platt scaling, learnt causally as a Bayesian logistic
//! regression of two weights whose prior is "the population is right").
//!
//! # Source
//! Platt, "Probabilistic outputs for support vector machines", Advances in Large Margin Classifiers 1999, 61-74. One step of
//! Newton's method on the log posterior for each outcome: Spiegelhalter and Lauritzen, Networks 1990;20:579-605, section 5.

use std::collections::VecDeque;

use serde::{Deserialize, Serialize};

use super::population;

/// Horizons for which chances are told, in points of the path (15, 30 and 60 minutes).
pub const TOLD: [usize; 3] = [3, 6, 12];

/// Mends a chance of crossing below a line by the population's regression.
///
/// `weights` are those of `population::LOW` or `population::FLOOR`: constant, log-odds of the path's chance, natural
/// logarithm of the distance above the line plus 4 mg/dL, rate in mg/dL/min.
#[must_use]
pub fn by_population(weights: &[f64; 4], chance: f64, above_mg_dl: f64, rate_mg_dl_min: f64) -> f64 {
    let [constant, odds, distance, rate] = weights;
    sigmoid(constant + odds * log_odds(chance) + distance * (above_mg_dl.max(0.0) + 4.0).ln() + rate * rate_mg_dl_min)
}

/// Log-odds, held within what 10,000 outcomes could tell apart.
#[must_use]
pub fn log_odds(chance: f64) -> f64 {
    let chance = chance.clamp(1e-4, 1.0 - 1e-4);
    (chance / (1.0 - chance)).ln()
}

/// The chance of log-odds.
#[must_use]
pub fn sigmoid(log_odds: f64) -> f64 {
    1.0 / (1.0 + (-log_odds).exp())
}

/// A chance told, waiting for its outcome.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Told {
    at_minutes: f64,
    log_odds: f64,
    line_mg_dl: f64,
    crossed: bool,
}

/// The wearer's own scaling of the 30-minute chance, and the record it rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct Calibration {
    kept: KeptCalibration,
    told: VecDeque<Told>,
    last_minutes: f64,
}

/// What of a calibration is kept between sessions.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct KeptCalibration {
    shift: f64,
    stretch: f64,
    /// Covariance of shift and stretch: `[shift, both, stretch]`.
    uncertainty: [f64; 3],
    /// For each tenth of chance: how often told, the sum of chances told, how often it came.
    record: [Tenth; 10],
}

/// What became of the chances told within one tenth (0 to 10 %, 10 to 20 %, ...).
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Tenth {
    /// How often a chance in this tenth was told.
    pub told: u64,
    /// The sum of those chances.
    pub chances: f64,
    /// How often it came.
    pub came: u64,
}

/// Standard deviation of the shift before anything is learnt, in log-odds.
const SHIFT_PRIOR_SD: f64 = 0.3;
/// Standard deviation of the stretch before anything is learnt.
const STRETCH_PRIOR_SD: f64 = 0.12;
/// Neighbouring chances see nearly the same half-hour: each counts for this share of an outcome.
pub const SHARE_OF_AN_OUTCOME: f64 = 1.0 / 6.0;
/// Chances are noted at most this often, in minutes.
const EVERY_MINUTES: f64 = 4.5;
/// How long a chance waits, in minutes.
const DUE_MINUTES: f64 = 30.0;
/// A gap longer than this leaves the outcome unknown, in minutes.
const KNOWN_GAP_MINUTES: f64 = 16.0;
/// Chances below this say "surely not" and teach nothing about the others.
const TOLD_FROM: f64 = 0.01;

impl Default for Calibration {
    fn default() -> Self {
        Self {
            kept: KeptCalibration {
                shift: 0.0,
                stretch: 1.0,
                uncertainty: [SHIFT_PRIOR_SD * SHIFT_PRIOR_SD, 0.0, STRETCH_PRIOR_SD * STRETCH_PRIOR_SD],
                record: [Tenth::default(); 10],
            },
            told: VecDeque::new(),
            last_minutes: f64::NEG_INFINITY,
        }
    }
}

impl Calibration {
    /// The wearer's own chance for a population's.
    #[must_use]
    pub fn own(&self, chance: f64) -> f64 {
        sigmoid(self.kept.shift + self.kept.stretch * log_odds(chance))
    }

    /// Notes a population's 30-minute chance of a reading below a line, to learn from what comes.
    pub fn tell(&mut self, at_minutes: f64, chance: f64, line_mg_dl: f64) {
        let again = self.told.back().is_some_and(|last| at_minutes - last.at_minutes < EVERY_MINUTES);
        if !again && (TOLD_FROM..1.0).contains(&chance) {
            self.told.push_back(Told { at_minutes, log_odds: log_odds(chance), line_mg_dl, crossed: false });
        }
    }

    /// Takes a new reading: settles what it settles.
    pub fn reading(&mut self, at_minutes: f64, reading_mg_dl: f64) {
        if at_minutes - self.last_minutes > KNOWN_GAP_MINUTES {
            self.told.clear();
        }
        self.last_minutes = at_minutes;
        for told in &mut self.told {
            if at_minutes > told.at_minutes && at_minutes <= told.at_minutes + DUE_MINUTES + 0.5 {
                told.crossed |= reading_mg_dl < told.line_mg_dl;
            }
        }
        while self.told.front().is_some_and(|told| at_minutes >= told.at_minutes + DUE_MINUTES) {
            if let Some(told) = self.told.pop_front() {
                self.learn(told);
            }
        }
    }

    fn learn(&mut self, told: Told) {
        let kept = &mut self.kept;
        let x = told.log_odds;
        let chance = sigmoid(kept.shift + kept.stretch * x);
        let came = f64::from(u8::from(told.crossed));
        // `as` keeps 0..=9: a chance is never negative and min() holds the top.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let tenth = &mut kept.record[((chance * 10.0) as usize).min(9)];
        tenth.told += 1;
        tenth.chances += chance;
        tenth.came += u64::from(told.crossed);
        // Precision-weighted step: P' = P - P h h' P / (1/w + h' P h), w the outcome's information.
        let [p00, p01, p11] = kept.uncertainty;
        let (g0, g1) = (p00 + p01 * x, p01 + p11 * x);
        let information = SHARE_OF_AN_OUTCOME * (chance * (1.0 - chance)).max(1e-6);
        let scale = 1.0 / (1.0 / information + g0 + g1 * x);
        kept.uncertainty = [p00 - g0 * g0 * scale, p01 - g0 * g1 * scale, p11 - g1 * g1 * scale];
        let step = SHARE_OF_AN_OUTCOME * (came - chance);
        let [p00, p01, p11] = kept.uncertainty;
        kept.shift += (p00 + p01 * x) * step;
        kept.stretch = (kept.stretch + (p01 + p11 * x) * step).clamp(0.4, 2.0);
    }

    /// How the chances told have turned out.
    #[must_use]
    pub const fn record(&self) -> &[Tenth; 10] {
        &self.kept.record
    }

    /// What to keep between sessions.
    #[must_use]
    pub fn kept(&self) -> KeptCalibration {
        self.kept.clone()
    }

    /// Takes up what was kept; what is not finite is left for the population's.
    #[must_use]
    pub fn resumed(kept: &KeptCalibration) -> Self {
        let finite = [kept.shift, kept.stretch].iter().chain(&kept.uncertainty).all(|x| x.is_finite());
        if finite { Self { kept: kept.clone(), ..Self::default() } } else { Self::default() }
    }
}

/// The three population regressions of a line, for 15, 30 and 60 minutes.
#[must_use]
pub const fn weights_of(floor: bool) -> &'static [[f64; 4]; 3] {
    if floor { &population::FLOOR } else { &population::LOW }
}
