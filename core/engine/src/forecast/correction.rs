//! What the linear model gets wrong about people, learnt: first from a population, then from the wearer's own past.
//!
//! The model is linear and knows nothing of meals to come, of rescue carbohydrate near a low, of logged insulin, or of how
//! one wearer's glucose turns. A linear regression of what came, less what the model expected, on features of the state and
//! of what was logged corrects the mean; its weights begin at a population's and move with the wearer's own record
//! (recursive least squares, a Bayesian linear regression whose prior is the population). Every weight used at a time was
//! learnt from readings before it.
//!
//! Two laws hold whatever is learnt: the weights of insulin never raise the path, those of carbohydrate never lower it.
//!
//! # Source
//! Recursive least squares: Ljung, System Identification, 2nd ed. 1999, section 11.2. The population's weights were fitted,
//! see `core/docs/population.md`.

use std::collections::VecDeque;

use nalgebra::{SMatrix, SVector};
use serde::{Deserialize, Serialize};

use super::grid::{GRID_MINUTES, POINTS, Path};
use super::population;
use crate::body::effects::Effects;
use crate::estimate::dynamics::{BLOOD, ERROR, INTERSTITIAL, OFFSET, RATE, State};

/// Features of a state and of what is at work.
pub const FEATURES: usize = 13;
/// Horizons that are corrected, in points of the grid: 15, 30, 45 and 60 minutes. Between them the correction is linear,
/// beyond the last it stays.
pub const CORRECTED: [usize; 4] = [3, 6, 9, 12];

/// No weight that was learnt is larger, in mg/dL; those of the population are below 12. An assumption.
const MOST_WEIGHT_MG_DL: f64 = 200.0;

/// Features, or weights on them.
pub type Features = SVector<f64, FEATURES>;

/// The features that insulin lowers by: their weights are never positive.
const INSULIN: [usize; 2] = [9, 10];
/// The features that carbohydrate raises by: their weights are never negative.
const CARBOHYDRATE: [usize; 2] = [11, 12];

/// The features: level, rate, gap between blood and sensor, and where these act differently up and down; then the effects of
/// what was logged, in units of 20 mg/dL.
#[must_use]
pub fn features(mean: &State, effects: &Effects) -> Features {
    let seen = mean[INTERSTITIAL] + mean[ERROR] + mean[OFFSET];
    let gap = mean[BLOOD] - mean[INTERSTITIAL];
    Features::from([
        1.0,
        seen / 50.0,
        mean[RATE],
        gap / 10.0,
        mean[ERROR] / 3.0,
        (-45.0 - seen).max(0.0) / 20.0,
        (seen - 60.0).max(0.0) / 50.0,
        mean[RATE].max(0.0),
        (-gap).max(0.0) / 10.0,
        effects.insulin / 20.0,
        effects.insulin_unseen / 20.0,
        effects.carbohydrate / 20.0,
        effects.carbohydrate_unseen / 20.0,
    ])
}

/// A forecast that waits for what comes.
#[derive(Clone, Debug, PartialEq)]
struct Waiting {
    at_minutes: f64,
    features: Features,
    expected_mg_dl: [f64; 4],
    variance: [f64; 4],
    came_mg_dl: [Option<f64>; 4],
}

/// The weights and what they rest on.
#[derive(Clone, Debug, PartialEq)]
pub struct Correction {
    weights: [Features; 4],
    /// Inverse information of the regression, shared by the horizons because they see the same features.
    uncertainty: SMatrix<f64, FEATURES, FEATURES>,
    /// Mean squared error over the model's variance, for each horizon.
    spread: [f64; 4],
    learnt: u64,
    /// Sum of the log scores of the corrected 30-minute forecasts in this run, and how many.
    scores: (f64, u64),
    scores_from: f64,
    waiting: VecDeque<Waiting>,
    last: Option<(f64, f64)>,
    /// When readings last followed a gap, in minutes.
    gap_minutes: f64,
}

/// What of a correction is kept between sessions.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct KeptCorrection {
    weights: Vec<Vec<f64>>,
    uncertainty: Vec<f64>,
    spread: [f64; 4],
    learnt: u64,
}

/// Forecasts are learnt from, and chances noted, at most this often, in minutes: closer ones say the same again.
pub(super) const EVERY_MINUTES: f64 = 4.5;
/// Between readings up to this far apart what came is read off a straight line; beyond it is unknown. In minutes: two
/// 5-minute readings may be lost, or one interval of a quarter-hour sensor.
pub(super) const GAP_MINUTES: f64 = 16.0;
/// A forecast made this soon after a gap teaches nothing: the filter is still finding its state. In minutes.
const AFTER_GAP_MINUTES: f64 = 60.0;
/// How many forecasts the population's weights count for.
const PRIOR_STRENGTH: f64 = 200.0;
/// How many forecasts the population's spread counts for; later ones fade over [`SPREAD_MEMORY`].
const SPREAD_PRIOR: f64 = 100.0;
/// Forecasts over which the spread remembers: about ten days of 5-minute readings.
const SPREAD_MEMORY: f64 = 3000.0;
/// The horizon that is scored: 30 minutes.
const SCORED: usize = 1;
/// An error beyond this many standard deviations counts as this many: a new sensor's jump teaches nothing about people.
const CLIPPED_SD: f64 = 4.0;

impl Default for Correction {
    fn default() -> Self {
        Self {
            weights: population::CORRECTION.map(Features::from),
            uncertainty: SMatrix::from_diagonal_element(1.0 / PRIOR_STRENGTH),
            spread: population::SPREAD,
            learnt: 0,
            scores: (0.0, 0),
            scores_from: f64::NEG_INFINITY,
            waiting: VecDeque::new(),
            last: None,
            gap_minutes: f64::NEG_INFINITY,
        }
    }
}

impl Correction {
    /// How many of the wearer's own forecasts have been learnt from.
    #[must_use]
    pub const fn learnt(&self) -> u64 {
        self.learnt
    }

    /// Scores only forecasts made at or after a time: what was fitted on earlier days is judged on later ones.
    pub const fn score_from(&mut self, at_minutes: f64) {
        self.scores_from = at_minutes;
    }

    /// Mean log score of the corrected 30-minute forecasts in this run: the natural logarithm of the density that each gave
    /// to what came, with errors beyond four standard deviations counted as four.
    #[must_use]
    pub fn mean_log_score(&self) -> Option<f64> {
        (self.scores.1 > 0).then(|| self.scores.0 / self.scores.1 as f64)
    }

    /// A new reading: completes waiting forecasts, learns from those complete.
    pub fn reading(&mut self, at_minutes: f64, reading_mg_dl: f64) {
        let Some((before_minutes, before_mg_dl)) = self.last else {
            (self.gap_minutes, self.last) = (at_minutes, Some((at_minutes, reading_mg_dl)));
            return;
        };
        let apart = at_minutes - before_minutes;
        if apart > GAP_MINUTES {
            self.gap_minutes = at_minutes;
        } else if apart > 0.0 {
            for waiting in &mut self.waiting {
                for (point, came) in CORRECTED.iter().zip(&mut waiting.came_mg_dl) {
                    let due = waiting.at_minutes + GRID_MINUTES * *point as f64;
                    if due > before_minutes && due <= at_minutes {
                        let part = (due - before_minutes) / apart;
                        *came = Some(before_mg_dl + part * (reading_mg_dl - before_mg_dl));
                    }
                }
            }
        }
        self.last = Some((at_minutes, reading_mg_dl));
        let last_due = GRID_MINUTES * CORRECTED[3] as f64;
        while self.waiting.front().is_some_and(|waiting| waiting.at_minutes + last_due <= at_minutes) {
            if let Some(waiting) = self.waiting.pop_front() {
                self.learn(&waiting);
            }
        }
    }

    /// Keeps a forecast of the model for learning.
    pub fn expect(&mut self, at_minutes: f64, features: Features, path: &Path) {
        let again = self.waiting.back().is_some_and(|last| at_minutes - last.at_minutes < EVERY_MINUTES);
        if again || at_minutes - self.gap_minutes < AFTER_GAP_MINUTES {
            return;
        }
        self.waiting.push_back(Waiting {
            at_minutes,
            features,
            expected_mg_dl: CORRECTED.map(|k| path.reading_mg_dl[k - 1]),
            variance: CORRECTED.map(|k| path.reading_variance[k - 1]),
            came_mg_dl: [None; 4],
        });
    }

    fn learn(&mut self, waiting: &Waiting) {
        let [Some(a), Some(b), Some(c), Some(d)] = waiting.came_mg_dl else {
            return; // a gap: not all that came is known
        };
        let shared = self.uncertainty * waiting.features;
        let scale = 1.0 + waiting.features.dot(&shared);
        let gain = shared / scale;
        self.learnt += 1;
        let memory = SPREAD_MEMORY.min(SPREAD_PRIOR + self.learnt as f64);
        for (h, came) in [a, b, c, d].into_iter().enumerate() {
            let error = came - waiting.expected_mg_dl[h] - self.weights[h].dot(&waiting.features);
            let sd = (waiting.variance[h] * self.spread[h]).sqrt();
            let error = error.clamp(-CLIPPED_SD * sd, CLIPPED_SD * sd);
            if h == SCORED && waiting.at_minutes >= self.scores_from {
                self.scores.0 -= 0.5 * ((std::f64::consts::TAU * sd * sd).ln() + (error / sd).powi(2));
                self.scores.1 += 1;
            }
            self.weights[h] += gain * error;
            keep_signs(&mut self.weights[h], &self.uncertainty);
            self.spread[h] += (error * error / waiting.variance[h] - self.spread[h]) / memory;
        }
        self.uncertainty -= gain * shared.transpose();
    }

    /// Corrects a path: shifts its means (readings and blood alike) and scales the variances of its readings.
    pub fn correct(&self, features: &Features, path: &mut Path) {
        let shift = self.weights.map(|weights| weights.dot(features));
        for k in 0..POINTS {
            let shifted = along(&shift, 0.0, k + 1);
            path.reading_mg_dl[k] += shifted;
            path.blood_mg_dl[k] += shifted;
            // The spread of the first minutes is the 15-minute one: what differs is the model's variance.
            path.reading_variance[k] *= self.spread_at(k + 1);
        }
    }

    /// Mean squared error over the model's variance at a point.
    #[must_use]
    pub(crate) fn spread_at(&self, point: usize) -> f64 {
        along(&self.spread, self.spread[0], point)
    }

    /// What to keep between sessions.
    #[must_use]
    pub fn kept(&self) -> KeptCorrection {
        KeptCorrection {
            weights: self.weights.iter().map(|weights| weights.as_slice().to_vec()).collect(),
            uncertainty: self.uncertainty.as_slice().to_vec(),
            spread: self.spread,
            learnt: self.learnt,
        }
    }

    /// Goes on from what was kept; what does not fit (another version's features), or cannot have been learnt, is left for the
    /// population's.
    #[must_use]
    pub(crate) fn resumed(kept: &KeptCorrection) -> Self {
        let mut correction = Self::default();
        let finite = kept.weights.iter().flatten().chain(&kept.uncertainty).chain(&kept.spread).all(|x| x.is_finite());
        let fits = kept.weights.len() == 4
            && kept.weights.iter().all(|weights| weights.len() == FEATURES)
            && kept.uncertainty.len() == FEATURES * FEATURES;
        if !finite || !fits {
            return correction;
        }
        let small = kept.weights.iter().flatten().all(|weight| weight.abs() <= MOST_WEIGHT_MG_DL);
        if small && is_covariance(&kept.uncertainty) {
            correction.weights = std::array::from_fn(|h| Features::from_column_slice(&kept.weights[h]));
            correction.uncertainty = SMatrix::from_column_slice(&kept.uncertainty);
            for weights in &mut correction.weights {
                keep_signs(weights, &correction.uncertainty);
            }
            correction.spread = kept.spread.map(|spread| spread.clamp(0.05, 20.0));
            correction.learnt = kept.learnt;
        }
        correction
    }
}

/// Whether a matrix, by columns, can be an uncertainty: symmetric, with variances above 0 and no correlation beyond 1. With another,
/// weights would grow at each reading.
fn is_covariance(matrix: &[f64]) -> bool {
    let at = |i: usize, j: usize| matrix[i * FEATURES + j];
    (0..FEATURES).all(|i| {
        at(i, i) > 0.0
            && (0..i).all(|j| {
                let largest = (at(i, i) * at(j, j)).sqrt() * (1.0 + 1e-9);
                at(i, j).abs() <= largest && (at(i, j) - at(j, i)).abs() <= 1e-6 * largest
            })
    })
}

/// Insulin never raises the path, carbohydrate never lowers it, whatever a record seems to show.
///
/// A weight that would is set to nothing, and the others go to where they are most likely with it there (the projection in the
/// metric of their uncertainty): what insulin may not explain must not stay in the weight of the carbohydrate beside it.
fn keep_signs(weights: &mut Features, uncertainty: &SMatrix<f64, FEATURES, FEATURES>) {
    // One projection may push another weight over; what is left after a few rounds is small and cut off.
    let signed = || INSULIN.map(|k| (k, -1.0)).into_iter().chain(CARBOHYDRATE.map(|k| (k, 1.0)));
    for _ in 0..4 {
        for (k, sign) in signed() {
            if sign * weights[k] < 0.0 && uncertainty[(k, k)] > 0.0 {
                *weights -= uncertainty.column(k) * (weights[k] / uncertainty[(k, k)]);
            }
        }
    }
    for (k, sign) in signed() {
        weights[k] = if sign < 0.0 { weights[k].min(0.0) } else { weights[k].max(0.0) };
    }
}

/// A value at a point of the path, linear between the corrected horizons, from `start` at no time ahead.
fn along(values: &[f64; 4], start: f64, point: usize) -> f64 {
    let (mut from, mut before) = (0, start);
    for (until, value) in CORRECTED.iter().zip(values) {
        if point <= *until {
            let part = (point - from) as f64 / (until - from) as f64;
            return before + part * (value - before);
        }
        (from, before) = (*until, *value);
    }
    before
}

#[cfg(test)]
mod tests {
    use super::*;

    fn path(mg_dl: f64) -> Path {
        Path {
            reading_mg_dl: [mg_dl; POINTS],
            reading_variance: [100.0; POINTS],
            blood_mg_dl: [mg_dl; POINTS],
            blood_variance: [100.0; POINTS],
        }
    }

    /// A tenth of the readings lost at random must not stop the learning.
    #[test]
    fn dropouts_do_not_stop_it() {
        let learnt = |lost: fn(u32) -> bool| {
            let mut correction = Correction::default();
            for k in (0..2000_u32).filter(|k| !lost(*k)) {
                let minutes = 5.0 * f64::from(k);
                correction.reading(minutes, 120.0);
                correction.expect(minutes, features(&State::zeros(), &Effects::default()), &path(120.0));
            }
            correction.learnt()
        };
        let (all, some) = (learnt(|_| false), learnt(|k| k.wrapping_mul(2_654_435_761) % 10 == 0));
        assert!(some as f64 > 0.8 * all as f64, "{some} of {all}");
    }

    /// What a damaged or invented log says was learnt, in numbers that are no such thing, moves no forecast.
    #[test]
    fn what_cannot_have_been_learnt_is_left() {
        let sound = Correction { learnt: 7, ..Correction::default() };
        assert_eq!(Correction::resumed(&sound.kept()), sound);
        let spoilt = |change: &dyn Fn(&mut KeptCorrection)| {
            let mut kept = sound.kept();
            change(&mut kept);
            Correction::resumed(&kept)
        };
        let refused: [&dyn Fn(&mut KeptCorrection); 6] = [
            &|kept| kept.weights[1][3] = 1e9,
            &|kept| kept.weights[0][0] = f64::NAN,
            &|kept| kept.weights.truncate(3),
            &|kept| kept.uncertainty[0] = -1.0,
            &|kept| kept.uncertainty[14] = 0.0,
            &|kept| kept.uncertainty[1] = 0.5,
        ];
        for (n, change) in refused.into_iter().enumerate() {
            assert_eq!(spoilt(change), Correction::default(), "{n}");
        }
    }

    /// Insulin that seems to raise because it is taken with meals: with its weight held at nothing, carbohydrate's is what the meals
    /// alone raise, as in a regression without insulin.
    #[test]
    fn what_insulin_may_not_explain_does_not_stay_with_the_meal() {
        let mut correction = Correction::default();
        let raised = |carbohydrate: f64, insulin: f64| 0.5 * carbohydrate + 0.3 * insulin;
        let mut flat = path(100.0);
        for k in 0..4000_u32 {
            let minutes = 100.0 * f64::from(k);
            let (carbohydrate, insulin) = (f64::from(k % 5) * 10.0, f64::from(k % 5 + k % 2) * 8.0);
            let effects = Effects { insulin_unseen: insulin, carbohydrate_unseen: carbohydrate, ..Effects::default() };
            let waiting = Waiting {
                at_minutes: minutes,
                features: features(&State::zeros(), &effects),
                expected_mg_dl: [100.0; 4],
                variance: [100.0; 4],
                came_mg_dl: [Some(100.0 + raised(carbohydrate, insulin)); 4],
            };
            correction.learn(&waiting);
        }
        for (carbohydrate, insulin) in [(0.0, 4.0), (20.0, 20.0), (40.0, 36.0)] {
            let effects = Effects { insulin_unseen: insulin, carbohydrate_unseen: carbohydrate, ..Effects::default() };
            correction.correct(&features(&State::zeros(), &effects), &mut flat);
            let off = flat.reading_mg_dl[5] - 100.0 - raised(carbohydrate, insulin);
            assert!(off.abs() < 1.0, "{carbohydrate} g, {insulin}: {off}");
            flat = path(100.0);
        }
    }

    /// A record in which insulin is always followed by a rise (the meal was not logged) teaches no rise by insulin.
    #[test]
    fn insulin_is_never_learnt_to_raise() {
        let mut correction = Correction::default();
        let effects = Effects { insulin: 40.0, insulin_unseen: 10.0, ..Effects::default() };
        for k in 0..3000_u32 {
            let minutes = 5.0 * f64::from(k);
            correction.reading(minutes, 100.0 + 2.0 * f64::from(k % 40));
            correction.expect(minutes, features(&State::zeros(), &effects), &path(100.0));
        }
        let shift = |effects: &Effects| {
            let mut one = path(100.0);
            correction.correct(&features(&State::zeros(), effects), &mut one);
            one.reading_mg_dl[5]
        };
        assert!(shift(&effects) <= shift(&Effects::default()) + 1e-9);
    }
}
