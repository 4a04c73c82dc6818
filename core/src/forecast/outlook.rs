//! The forecast of one wearer: the model's path, mended by what was learnt, and the chances that follow.

use serde::{Deserialize, Serialize};

use super::calibration::{Calibration, KeptCalibration, TOLD, by_population, weights_of};
use super::correction::{Correction, KeptCorrection};
use super::horizon::{Conditions, GRID_MINUTES, Horizon, POINTS, Path};
use super::passage::{Way, crossed_by};
use super::{Ahead, Crossing, Forecast};
use crate::estimate::dynamics::{Dynamics, RATE};
use crate::estimate::filter::Belief;
use crate::wearer::{FLOOR_LINE_MG_DL, Wearer};

/// Points over which chances are told: an hour.
const HOUR: usize = 12;
/// A line is crossed by a whole reading: sensors show whole mg/dL, so "below 70" begins at 69.5.
const HALF_A_STEP_MG_DL: f64 = 0.5;
/// A path that drops by this much in 15 minutes is a fall, in mg/dL.
const FALLS_MG_DL: f64 = 4.0;
/// Below this chance within the hour no time of crossing is given.
const TIMED_FROM: f64 = 0.05;

/// Forecasts, and learns from how they turned out.
#[derive(Clone, Debug)]
pub struct Outlook {
    horizon: Horizon,
    correction: Correction,
    calibration: Calibration,
    newest: Option<Mended>,
}

/// What was learnt about a wearer's forecasts, to keep between sessions.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct KeptOutlook {
    correction: KeptCorrection,
    calibration: KeptCalibration,
}

/// A path mended, and what its chances start from.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Mended {
    path: Path,
    rate_mg_dl_min: f64,
    reading_mg_dl: f64,
}

impl Outlook {
    /// An outlook with the population's values.
    #[must_use]
    pub fn new(dynamics: Dynamics) -> Self {
        Self {
            horizon: Horizon::new(dynamics),
            correction: Correction::default(),
            calibration: Calibration::default(),
            newest: None,
        }
    }

    /// An outlook that goes on from what was learnt.
    #[must_use]
    pub fn resumed(dynamics: Dynamics, kept: &KeptOutlook) -> Self {
        Self {
            correction: Correction::resumed(&kept.correction),
            calibration: Calibration::resumed(&kept.calibration),
            ..Self::new(dynamics)
        }
    }

    /// What to keep between sessions.
    #[must_use]
    pub fn kept(&self) -> KeptOutlook {
        KeptOutlook { correction: self.correction.kept(), calibration: self.calibration.kept() }
    }

    /// How the 30-minute chances told have turned out.
    #[must_use]
    pub const fn calibration(&self) -> &Calibration {
        &self.calibration
    }

    /// Mean log score of the 30-minute forecasts of this run ([`Correction::mean_log_score`]).
    #[must_use]
    pub fn mean_log_score(&self) -> Option<f64> {
        self.correction.mean_log_score()
    }

    /// How many forecasts have been learnt from.
    #[must_use]
    pub const fn learnt(&self) -> u64 {
        self.correction.learnt()
    }

    /// Takes a reading that the estimate has taken in: learns from forecasts it settles, then looks ahead.
    ///
    /// `teaches` says that what this forecast comes to is to be learnt from: not where the sensor is doubted, whose readings
    /// tell nothing about glucose, nor where it was learnt from before.
    pub fn reading(
        &mut self,
        at_minutes: f64,
        reading_mg_dl: f64,
        belief: &Belief,
        conditions: &Conditions,
        wearer: &Wearer,
        teaches: bool,
    ) {
        self.correction.reading(at_minutes, reading_mg_dl);
        self.calibration.reading(at_minutes, reading_mg_dl);
        let path = self.horizon.path(belief, conditions);
        let mut mended = path;
        self.correction.mend(&belief.mean, &mut mended);
        let newest = Mended { path: mended, rate_mg_dl_min: belief.mean[RATE], reading_mg_dl };
        if teaches {
            self.correction.expect(at_minutes, &belief.mean, &path);
            // Chances are asked for when glucose falls; how they do at rest would teach the wrong lesson.
            let falls = path.reading_mg_dl[2] < reading_mg_dl - FALLS_MG_DL;
            let low_line_mg_dl = wearer.low_line.mg_dl();
            if reading_mg_dl >= low_line_mg_dl && falls {
                let crossed = passage(&newest.path, low_line_mg_dl, Way::Down);
                let rate = newest.rate_mg_dl_min;
                let chances = by_population_below(&crossed, low_line_mg_dl, reading_mg_dl, rate, false);
                self.calibration.tell(at_minutes, chances[1], low_line_mg_dl);
            }
        }
        self.newest = Some(newest);
    }

    /// The forecast from the newest reading; nothing before the first.
    #[must_use]
    pub fn forecast(&self, wearer: &Wearer) -> Option<Forecast> {
        let newest = self.newest.as_ref()?;
        let path = &newest.path;
        let points = (0..POINTS).map(|k| Ahead {
            // 24 points of 5 minutes fit.
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            minutes: ((k + 1) as f64 * GRID_MINUTES) as u16,
            reading_mg_dl: path.reading_mg_dl[k],
            reading_sd_mg_dl: path.reading_variance[k].max(0.0).sqrt(),
            blood_mg_dl: path.blood_mg_dl[k],
            blood_sd_mg_dl: path.blood_variance[k].max(0.0).sqrt(),
        });
        let Crossings { low, floor } = self.crossings(newest, wearer);
        let high_line = wearer.high_line.mg_dl();
        let above = passage(path, high_line, Way::Up);
        let high = crossing(high_line, TOLD.map(|k| above[k - 1]), &above);
        Some(Forecast { path: points.collect(), low, floor, high })
    }

    /// The low and floor crossings told if `belief` were the whole truth: of one mode, where the sensor is in doubt.
    #[must_use]
    pub fn crossings_if(
        &self,
        belief: &Belief,
        reading_mg_dl: f64,
        conditions: &Conditions,
        wearer: &Wearer,
    ) -> Crossings {
        let mut path = self.horizon.path(belief, conditions);
        self.correction.mend(&belief.mean, &mut path);
        self.crossings(&Mended { path, rate_mg_dl_min: belief.mean[RATE], reading_mg_dl }, wearer)
    }

    fn crossings(&self, mended: &Mended, wearer: &Wearer) -> Crossings {
        let Mended { path, rate_mg_dl_min, reading_mg_dl } = mended;
        let tell = |line_mg_dl: f64, floor: bool| {
            let crossed = passage(path, line_mg_dl, Way::Down);
            let mut chances = by_population_below(&crossed, line_mg_dl, *reading_mg_dl, *rate_mg_dl_min, floor);
            // The wearer's own scaling is learnt at the low line, from above it.
            if !floor && *reading_mg_dl >= line_mg_dl {
                chances = chances.map(|chance| self.calibration.own(chance));
            }
            crossing(line_mg_dl, ordered(chances), &crossed)
        };
        let low = tell(wearer.low_line.mg_dl(), false);
        let mut floor = tell(FLOOR_LINE_MG_DL, true);
        // Each line has a regression of its own; together they must still say that the lower one is reached later.
        floor.within_15 = floor.within_15.min(low.within_15);
        floor.within_30 = floor.within_30.min(low.within_30);
        floor.within_60 = floor.within_60.min(low.within_60);
        Crossings { low, floor }
    }
}

/// The crossings that a prompt weighs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossings {
    /// Below the wearer's low line.
    pub low: Crossing,
    /// Below the floor line.
    pub floor: Crossing,
}

fn passage(path: &Path, line_mg_dl: f64, way: Way) -> [f64; HOUR] {
    let means: [f64; HOUR] = std::array::from_fn(|k| path.reading_mg_dl[k]);
    let sds: [f64; HOUR] = std::array::from_fn(|k| path.reading_variance[k].max(1e-9).sqrt());
    let correlations: [f64; HOUR] = std::array::from_fn(|k| path.correlation[k]);
    let edge = match way {
        Way::Down => line_mg_dl - HALF_A_STEP_MG_DL,
        Way::Up => line_mg_dl + HALF_A_STEP_MG_DL,
    };
    crossed_by(edge, way, &means, &sds, &correlations)
}

/// The population's chances of a reading below a line within 15, 30 and 60 minutes.
fn by_population_below(
    crossed: &[f64; HOUR],
    line_mg_dl: f64,
    reading_mg_dl: f64,
    rate_mg_dl_min: f64,
    floor: bool,
) -> [f64; 3] {
    let weights = weights_of(floor);
    std::array::from_fn(|h| {
        let chance = crossed[TOLD[h] - 1];
        // Already below: what is asked is whether the next readings are too, which the path answers by itself.
        if reading_mg_dl < line_mg_dl {
            return chance;
        }
        by_population(&weights[h], chance, reading_mg_dl - line_mg_dl, rate_mg_dl_min)
    })
}

/// A longer time cannot have a smaller chance.
fn ordered(chances: [f64; 3]) -> [f64; 3] {
    let [a, b, c] = chances;
    [a, b.max(a), c.max(b).max(a)]
}

fn crossing(line_mg_dl: f64, chances: [f64; 3], crossed: &[f64; HOUR]) -> Crossing {
    let [within_15, within_30, within_60] = chances;
    let all = crossed[HOUR - 1];
    let expected_minutes = (within_60 >= TIMED_FROM && all > 1e-6).then(|| {
        let mut before = 0.0;
        let weighed: f64 = crossed
            .iter()
            .enumerate()
            .map(|(k, chance)| {
                let here = (chance - before) * (k as f64 + 1.0) * GRID_MINUTES;
                before = *chance;
                here
            })
            .sum();
        weighed / all
    });
    Crossing { line_mg_dl, within_15, within_30, within_60, expected_minutes }
}
