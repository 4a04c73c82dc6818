//! What simpler rules would have said.
//!
//! Gradient-boosted trees, a stronger baseline for the chance of a low, are in `tests/reference/trees.py`.

use nalgebra::{SMatrix, SVector};

use crate::traces::Trace;
use crate::windows::{PAST, Window};

/// The slope rule: the last 15 minutes' rate, kept up for 30 minutes, in mg/dL.
#[must_use]
pub fn slope_mg_dl(now: f64, fifteen_minutes_ago: f64) -> f64 {
    now + 2.0 * (now - fifteen_minutes_ago)
}

/// The slope rule's chance of a low: a logistic step of 5 mg/dL about 70.
#[must_use]
pub fn slope_chance(mg_dl: f64) -> f64 {
    1.0 / (1.0 + (-(70.0 - mg_dl) / 5.0).exp())
}

/// A ridge regression of the reading in 30 minutes on the last 13 readings, with penalty 1 and a free intercept.
#[derive(Clone, Debug)]
pub struct Regression {
    weights: SVector<f64, PAST>,
    intercept: f64,
    sd: f64,
}

impl Regression {
    /// Fits it: `(X'X + 1) w = X'y` on centred readings. Nothing without windows.
    #[must_use]
    pub fn fit(windows: &[Window]) -> Option<Self> {
        let target = |window: &Window| window.ahead[5];
        let count = windows.len() as f64;
        if windows.is_empty() {
            return None;
        }
        let past = |window: &Window| SVector::<f64, PAST>::from(window.past);
        let mean_past = windows.iter().map(past).sum::<SVector<f64, PAST>>() / count;
        let mean_target = windows.iter().map(target).sum::<f64>() / count;
        let mut gram = SMatrix::<f64, PAST, PAST>::identity();
        let mut moment = SVector::<f64, PAST>::zeros();
        for window in windows {
            let centred = past(window) - mean_past;
            gram += centred * centred.transpose();
            moment += centred * (target(window) - mean_target);
        }
        let weights = gram.cholesky()?.solve(&moment);
        let intercept = mean_target - weights.dot(&mean_past);
        let mut fitted = Self { weights, intercept, sd: 0.0 };
        let residuals: Vec<f64> = windows.iter().map(|window| target(window) - fitted.mg_dl(&window.past)).collect();
        let mean = residuals.iter().sum::<f64>() / count;
        fitted.sd = (residuals.iter().map(|one| (one - mean).powi(2)).sum::<f64>() / count).sqrt();
        Some(fitted)
    }

    /// The reading expected in 30 minutes, in mg/dL, from the last readings, newest first.
    #[must_use]
    pub fn mg_dl(&self, past: &[f64; PAST]) -> f64 {
        self.intercept + self.weights.iter().zip(past).map(|(weight, mg_dl)| weight * mg_dl).sum::<f64>()
    }

    /// The chance of a low within 30 minutes, from that expectation: a normal step with 0.75 of the residuals' standard
    /// deviation.
    #[must_use]
    pub fn chance(&self, mg_dl: f64) -> f64 {
        let z = (70.0 - mg_dl) / (0.75 * self.sd);
        0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
    }
}

/// A rule that says treat at a reading of a trace.
#[derive(Clone, Copy, Debug)]
pub enum Rule<'a> {
    /// Where the slope rule expects less than 70.
    Slope,
    /// Where the regression does.
    Regression(&'a Regression),
    /// Where the reading is below this.
    Below(f64),
}

impl Rule<'_> {
    /// Whether it says treat, reading by reading. Before the trace, its first reading is taken to have held.
    #[must_use]
    pub fn treats(self, trace: &Trace) -> Vec<bool> {
        let back = |at: usize, by: usize| trace.mg_dl[at.saturating_sub(by)];
        (0..trace.mg_dl.len())
            .map(|at| match self {
                Self::Slope => slope_mg_dl(back(at, 0), back(at, 3)) < 70.0,
                Self::Regression(fitted) => fitted.mg_dl(&std::array::from_fn(|by| back(at, by))) < 70.0,
                Self::Below(line) => back(at, 0) < line,
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_regression_finds_a_line_that_is_there() {
        let window = |k: u32| {
            let past = std::array::from_fn(|back| {
                100.0 + 40.0 * (f64::from(k) * 0.37 + back as f64 * 0.2).sin() + f64::from(k % 7) * back as f64
            });
            let ahead = [past[0] * 1.5 - past[3] * 0.5 + 3.0; 6];
            Window { at: 0, past, ahead }
        };
        let windows: Vec<Window> = (0..500).map(window).collect();
        let fitted = Regression::fit(&windows).unwrap();
        let unseen = window(777);
        assert!((fitted.mg_dl(&unseen.past) - unseen.ahead[5]).abs() < 0.05);
        assert!((fitted.chance(70.0) - 0.5).abs() < 1e-12 && fitted.chance(60.0) > 0.99);
    }

    #[test]
    fn rules_say_what_they_are_named_for() {
        let trace = Trace { minutes: vec![0.0, 5.0, 10.0, 15.0], mg_dl: vec![120.0, 110.0, 100.0, 90.0] };
        assert_eq!(Rule::Slope.treats(&trace), [false, false, true, true]);
        assert_eq!(Rule::Below(100.0).treats(&trace), [false, false, false, true]);
    }
}
