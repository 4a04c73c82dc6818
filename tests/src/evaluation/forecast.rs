//! Where the reading will be in 30 minutes, and the chance of a low until then.

use serde::Serialize;

use crate::scores::{Group, IfRight, auc, brier, ece, false_share_at_90, if_right, reliability, rmse};
use crate::windows::Window;

/// Outcomes drawn for each chance to see what sampling alone does.
const DRAWS: usize = 500;

/// What was stated about many windows, and what came.
#[derive(Clone, Debug, Default)]
pub struct Stated {
    expected_and_came: Vec<(f64, f64)>,
    chances: Vec<f64>,
    low_came: Vec<bool>,
}

/// How good it was.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct ForecastScores {
    /// Root mean square error of the reading in 30 minutes, at every window, in mg/dL.
    pub rmse_30_mg_dl: f64,
    /// Area under the curve of the chance of a low, at falling readings; nothing where all or none were followed by one.
    pub auc: Option<f64>,
    /// Brier score of the same.
    pub brier: f64,
    /// Expected calibration error of the same.
    pub ece: f64,
    /// What that error would be if these very chances were right: sampling alone.
    pub if_right: Option<IfRight>,
    /// Where nine in ten lows are called, the share of calls that no low followed.
    pub false_share_at_90: f64,
}

impl Stated {
    /// Adds what was said at one window: the reading expected in 30 minutes, in mg/dL, and the chance of a low.
    pub fn add(&mut self, window: &Window, expected_mg_dl: f64, chance: f64) {
        self.expected_and_came.push((expected_mg_dl, window.ahead[5]));
        if window.falling() {
            self.chances.push(chance.clamp(0.0, 1.0));
            self.low_came.push(window.low_came());
        }
    }

    /// Puts two together.
    pub fn merge(&mut self, other: Self) {
        self.expected_and_came.extend(other.expected_and_came);
        self.chances.extend(other.chances);
        self.low_came.extend(other.low_came);
    }

    /// How many windows there were.
    #[must_use]
    pub fn windows(&self) -> usize {
        self.expected_and_came.len()
    }

    /// How many of them were falling.
    #[must_use]
    pub fn falling(&self) -> usize {
        self.chances.len()
    }

    /// The scores; nothing where no window was falling.
    #[must_use]
    pub fn scores(&self) -> Option<ForecastScores> {
        (!self.chances.is_empty()).then(|| ForecastScores {
            rmse_30_mg_dl: rmse(self.expected_and_came.iter().copied()),
            auc: auc(&self.chances, &self.low_came),
            brier: brier(&self.chances, &self.low_came),
            ece: ece(&self.chances, &self.low_came),
            if_right: if_right(&self.chances, DRAWS),
            false_share_at_90: false_share_at_90(&self.chances, &self.low_came),
        })
    }

    /// Stated chances in ten groups, against what came.
    #[must_use]
    pub fn reliability(&self) -> Vec<Group> {
        reliability(&self.chances, &self.low_came, 10)
    }
}
