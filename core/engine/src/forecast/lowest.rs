//! The calibration of the lowest point of the path: the chance of having been below a line, for every line by one rule.
//!
//! Sampled paths miss things that records show of people: close above a line it is crossed more often than the paths say, a
//! fall from far above it is often caught with carbohydrate on the way, and a fall that eases is often over. A logistic
//! regression of the paths' own chance, the distance above the line and the course of the last hour mends the distribution of
//! the lowest point. It is one function of the line, rising with it, and never below what the drawn band says of any point;
//! so the chances of two lines, the band and the verdict cannot part.
//!
//! # Formula
//! `logit p' = b logit p + (c + d . z) ln(distance + 4 mg/dL) + e . q(z)`, where `z` is the course ([`Course`]) and `q(z)` holds
//! 1, `z` and their products by pairs. `b > 0` and `c + d . z < 0`: more insulin, a lower meter check or a nearer line never
//! gives a smaller chance. That a lower reading or a faster fall doesn't either was a condition of the fit.
//!
//! # Source
//! Platt, "Probabilistic outputs for support vector machines", Advances in Large Margin Classifiers 1999, 61-74 (from memory). The
//! weights were fitted, see `core/docs/population.md`.

use std::collections::VecDeque;

use super::grid::HOUR;
use super::passage::Passage;
use super::population::PASSAGE;
use crate::logit::{chance_of, log_odds};

/// A chance may lie below what the drawn band says of one point by this much: what a few hundred paths, a ramp and a band that is drawn as
/// if it were normal can tell apart.
const BELOW_BAND: f64 = 0.03;
/// No chance of the paths is surer than this, nor than one less it: what 10,000 outcomes could tell apart.
pub(super) const UNCERTAIN: f64 = 1e-4;
/// Points of the grid that the weights are for.
const FITTED: [usize; 3] = [3, 6, 12];
/// Numbers of a course.
const COURSE: usize = 5;
/// Weights at a point: constant, log-odds, distance; distance with the course; the course; its products by pairs.
pub const WEIGHTS: usize = 3 + 2 * COURSE + COURSE * (COURSE + 1) / 2;
/// The distance's weight is at most this.
const DISTANCE_AT_MOST: f64 = -0.05;
/// How far back changes are looked at, in minutes.
const BACK_MINUTES: [f64; COURSE - 1] = [5.0, 15.0, 30.0, 60.0];
/// The unit of each number of a course, and the most units that count.
const UNITS: [(f64, f64); COURSE] = [(1.0, 5.0), (5.0, 4.0), (10.0, 5.0), (20.0, 4.0), (30.0, 4.0)];

/// How readings came to where they are: their rate by the estimate, in mg/dL/min, and by how much they changed over the last 5,
/// 15, 30 and 60 minutes, in mg/dL; each in units of its own and cut off where records hold hardly any.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Course([f64; COURSE]);

impl Course {
    /// The course of these changes.
    #[must_use]
    pub fn new(rate_mg_dl_min: f64, changes_mg_dl: [f64; COURSE - 1]) -> Self {
        let [a, b, c, d] = changes_mg_dl;
        let numbers = [rate_mg_dl_min, a, b, c, d];
        Self(std::array::from_fn(|k| {
            let (unit, most) = UNITS[k];
            (numbers[k] / unit).clamp(-most, most)
        }))
    }
}

/// The readings of the last hour and the one before it, of which changes are read.
#[derive(Clone, Debug, Default)]
pub struct LastHour(VecDeque<(f64, f64)>);

impl LastHour {
    /// Adds a reading: minutes since the record began, and mg/dL.
    pub fn add(&mut self, at_minutes: f64, mg_dl: f64) {
        self.0.push_back((at_minutes, mg_dl));
        let oldest = at_minutes - BACK_MINUTES[COURSE - 2];
        while self.0.get(1).is_some_and(|second| second.0 <= oldest) {
            self.0.pop_front();
        }
    }

    /// The course up to a reading at a time; between readings on a straight line, before the first as the first.
    #[must_use]
    pub fn course(&self, at_minutes: f64, mg_dl: f64, rate_mg_dl_min: f64) -> Course {
        Course::new(rate_mg_dl_min, BACK_MINUTES.map(|back| mg_dl - self.at(at_minutes - back).unwrap_or(mg_dl)))
    }

    fn at(&self, minute: f64) -> Option<f64> {
        let after = self.0.iter().position(|one| one.0 >= minute);
        match after {
            None => self.0.back().map(|last| last.1),
            Some(0) => self.0.front().map(|first| first.1),
            Some(k) => {
                let ((from, before), (until, then)) = (self.0[k - 1], self.0[k]);
                Some(before + (then - before) * (minute - from) / (until - from))
            }
        }
    }
}

/// The calibrated chance of having been below a line by each point, from that of the sampled paths.
///
/// `at_point` is the chance of being below it at each point by the drawn band, `above_mg_dl` how far the newest reading is above the line.
#[must_use]
pub fn calibrated(paths: &Passage, at_point: &Passage, above_mg_dl: f64, course: &Course) -> Passage {
    let distance = (above_mg_dl.max(0.0) + 4.0).ln();
    let fitted = PASSAGE.map(|weights| log_odds_of(&weights, distance, course));
    let mut furthest: f64 = 0.0;
    std::array::from_fn(|k| {
        let [odds, rest] = between(&fitted, k + 1);
        let chance = chance_of(odds * log_odds(paths[k], UNCERTAIN) + rest);
        // Already below: what is asked is whether the next readings are too, which the paths answer.
        let chance = if above_mg_dl < 0.0 { chance.max(paths[k]) } else { chance };
        furthest = furthest.max(chance).max(at_point[k] - BELOW_BAND);
        furthest
    })
}

/// The weight of the paths' log-odds, and all that is added to it.
fn log_odds_of(weights: &[f64; WEIGHTS], distance: f64, Course(course): &Course) -> [f64; 2] {
    let [constant, odds, slope] = [weights[0], weights[1], weights[2]];
    let dot = |from: usize| -> f64 { course.iter().zip(&weights[from..]).map(|(one, weight)| one * weight).sum() };
    let mut total = constant + (slope + dot(3)).min(DISTANCE_AT_MOST) * distance + dot(3 + COURSE);
    let mut next = 3 + 2 * COURSE;
    for i in 0..COURSE {
        for k in i..COURSE {
            total += weights[next] * course[i] * course[k];
            next += 1;
        }
    }
    [odds, total]
}

/// What holds at a point, linear between those fitted.
fn between(fitted: &[[f64; 2]; 3], point: usize) -> [f64; 2] {
    let point = point.clamp(FITTED[0], HOUR);
    let (from, until) = if point <= FITTED[1] { (0, 1) } else { (1, 2) };
    let part = (point - FITTED[from]) as f64 / (FITTED[until] - FITTED[from]) as f64;
    std::array::from_fn(|k| fitted[from][k] + part * (fitted[until][k] - fitted[from][k]))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn falling(mg_dl_min: f64) -> Course {
        Course::new(mg_dl_min, BACK_MINUTES.map(|back| mg_dl_min * back.min(20.0)))
    }

    #[test]
    fn nearer_and_faster_is_never_less_likely() {
        let paths: Passage = std::array::from_fn(|k| 0.03 * (k + 1) as f64);
        let none = [0.0; HOUR];
        let at = |above, rate| calibrated(&paths, &none, above, &falling(rate));
        for k in 0..HOUR {
            assert!(at(5.0, -1.0)[k] >= at(20.0, -1.0)[k] && at(20.0, -3.0)[k] >= at(20.0, -1.0)[k]);
            assert!(at(-1.0, 0.0)[k] >= at(0.0, 0.0)[k]);
        }
        assert!(at(5.0, -1.0).windows(2).all(|pair| pair[0] <= pair[1]));
        assert!(calibrated(&none, &paths, 30.0, &falling(0.0))[11] >= paths[11] - BELOW_BAND);
        assert!(PASSAGE.iter().all(|weights| weights[1] > 0.0 && weights[2] < 0.0));
    }

    #[test]
    fn changes_are_read_off_straight_lines() {
        let mut last = LastHour::default();
        for (minute, mg_dl) in [(0.0, 200.0), (20.0, 180.0), (70.0, 130.0), (80.0, 110.0)] {
            last.add(minute, mg_dl);
        }
        // 75, 65, 50 and 20 minutes: 120, 135, 150 and 180 mg/dL.
        assert_eq!(last.course(80.0, 110.0, -1.5), Course::new(-1.5, [-10.0, -25.0, -40.0, -70.0]));
        assert_eq!(LastHour::default().course(0.0, 100.0, 0.0), Course::new(0.0, [0.0; 4]));
    }
}
