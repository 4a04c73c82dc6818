//! The forecast of one wearer: the model's path, corrected by what was learnt, sampled, and read off.

use std::cell::OnceCell;

use serde::{Deserialize, Serialize};

use super::calibration::{Calibration, KeptCalibration};
use super::correction::{Correction, Features, KeptCorrection, features};
use super::futures::{Futures, Lines, futures};
use super::grid::{GRID_MINUTES, HOUR, POINTS, Path, PredictionGrid};
use super::logged::Logged;
use super::lowest::{Course, LastHour, calibrated};
use super::passage::{Passage, Sampled, later};
use super::paths::Paths;
use super::shape::{Shape, traits};
use super::{Ahead, Crossing, Forecast};
use crate::body::effects::{Effects, carbohydrate_factor};
use crate::estimate::agreement::Difference;
use crate::estimate::dynamics::Dynamics;
use crate::estimate::filter::Gaussian;
use crate::units::LOWEST_MG_DL;
use crate::wearer::{FLOOR_LINE_MG_DL, Wearer};

/// Points of the grid for which chances are shown: 15, 30 and 60 minutes.
pub const SHOWN: [usize; 3] = [3, 6, 12];
/// A line is crossed by a whole reading: sensors show whole mg/dL, so "below 70" begins at 69.5.
const HALF_A_STEP_MG_DL: f64 = 0.5;
/// A path that drops by this much in 15 minutes is a fall, in mg/dL.
const FALLS_MG_DL: f64 = 4.0;
/// Below this chance within the hour no time of crossing is given.
const TIMED_FROM: f64 = 0.05;

/// Forecasts, and learns from how they turned out.
#[derive(Clone, Debug)]
pub struct Forecaster {
    grid: PredictionGrid,
    correction: Correction,
    calibration: Calibration,
    last_hour: LastHour,
    newest: Option<Newest>,
}

/// What was learnt about a wearer's forecasts, to keep between sessions.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct KeptForecaster {
    correction: KeptCorrection,
    calibration: KeptCalibration,
}

/// What is known at the newest reading.
#[derive(Clone, Debug, PartialEq)]
struct Newest {
    gaussian: Gaussian,
    asleep: bool,
    reading_mg_dl: f64,
    course: Course,
    path: Path,
    shape: Shape,
    /// The sampled paths, once they are asked for.
    paths: OnceCell<Paths>,
}

impl Newest {
    /// The chance of having been below a line by each point of its paths, by a sensor that would read `shift` more, give or take
    /// `sd`.
    fn below(&self, paths: &Paths, line_mg_dl: f64, shift: f64, sd: f64) -> Passage {
        let line = line_mg_dl - HALF_A_STEP_MG_DL - shift;
        let above = self.reading_mg_dl + shift - line_mg_dl;
        calibrated(&paths.below(line, sd), &paths.below_by_band(line_mg_dl - shift, sd), above, &self.course)
    }
}

/// What a forecast starts from.
#[derive(Clone, Copy, Debug)]
pub struct Start<'a> {
    /// When, in minutes since the record began.
    pub at_minutes: f64,
    /// The reading, in mg/dL.
    pub reading_mg_dl: f64,
    /// How fast readings move, in mg/dL/min.
    pub rate_mg_dl_min: f64,
    /// The state with the reading in it.
    pub gaussian: &'a Gaussian,
    /// What is at work of what was logged.
    pub effects: Effects,
    /// The wearer sleeps.
    pub asleep: bool,
    /// Learn from how it turns out: not where the sensor is doubted, nor where it was learnt from before.
    pub teaches: bool,
}

impl Forecaster {
    /// A forecaster with the population's values.
    #[must_use]
    pub fn new(dynamics: Dynamics) -> Self {
        Self {
            grid: PredictionGrid::new(dynamics),
            correction: Correction::default(),
            calibration: Calibration::default(),
            last_hour: LastHour::default(),
            newest: None,
        }
    }

    /// A forecaster that goes on from what was learnt.
    #[must_use]
    pub(crate) fn resumed(dynamics: Dynamics, kept: &KeptForecaster) -> Self {
        Self {
            correction: Correction::resumed(&kept.correction),
            calibration: Calibration::resumed(&kept.calibration),
            ..Self::new(dynamics)
        }
    }

    /// What to keep between sessions.
    #[must_use]
    pub fn kept(&self) -> KeptForecaster {
        KeptForecaster { correction: self.correction.kept(), calibration: self.calibration.kept() }
    }

    /// How the 30-minute chances shown have turned out.
    #[must_use]
    pub const fn calibration(&self) -> &Calibration {
        &self.calibration
    }

    /// Scores only forecasts made at or after a time ([`Correction::score_from`]).
    pub const fn score_from(&mut self, at_minutes: f64) {
        self.correction.score_from(at_minutes);
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

    /// A reading that the estimate has used: learns from the forecasts it settles, then looks ahead.
    pub fn reading(&mut self, start: &Start<'_>, wearer: &Wearer) {
        self.correction.reading(start.at_minutes, start.reading_mg_dl);
        self.calibration.reading(start.at_minutes, start.reading_mg_dl);
        self.last_hour.add(start.at_minutes, start.reading_mg_dl);
        let plain = self.grid.path(start.gaussian, start.asleep);
        let features = features(&start.gaussian.mean, &start.effects);
        let newest = self.newest(start, plain, &features);
        if start.teaches {
            self.correction.expect(start.at_minutes, features, &plain);
            // Chances are asked for when glucose falls; how they do at rest would teach the wrong lesson.
            let falls = newest.path.reading_mg_dl[2] < start.reading_mg_dl - FALLS_MG_DL;
            let low_line_mg_dl = wearer.low_line.mg_dl();
            if start.reading_mg_dl >= low_line_mg_dl && falls && self.calibration.is_due(start.at_minutes) {
                let below = newest.below(self.paths(&newest), low_line_mg_dl, 0.0, 0.0);
                self.calibration.note(start.at_minutes, below[SHOWN[1] - 1], low_line_mg_dl);
            }
        }
        self.newest = Some(newest);
    }

    fn newest(&self, start: &Start<'_>, mut path: Path, features: &Features) -> Newest {
        self.correction.correct(features, &mut path);
        let shape = Shape::of(&traits(start.reading_mg_dl, start.rate_mg_dl_min, &start.effects))
            .wider_below(start.effects.unsure_below);
        Newest {
            gaussian: start.gaussian.clone(),
            asleep: start.asleep,
            reading_mg_dl: start.reading_mg_dl,
            course: self.last_hour.course(start.at_minutes, start.reading_mg_dl, start.rate_mg_dl_min),
            path,
            shape,
            paths: OnceCell::new(),
        }
    }

    fn paths<'a>(&self, newest: &'a Newest) -> &'a Paths {
        newest.paths.get_or_init(|| {
            let deviations = self.grid.deviations(&newest.gaussian, newest.asleep);
            Paths::new(&newest.path, &deviations, |point| self.correction.spread_at(point), newest.shape)
        })
    }

    /// The forecast from the newest reading; nothing before the first. `difference` is what meter checks say of blood
    /// less the readings, `age_minutes` how long ago the newest was: times of the forecast count from now.
    #[must_use]
    pub fn forecast(&self, wearer: &Wearer, difference: Option<Difference>, age_minutes: f64) -> Option<Forecast> {
        Some(self.forecast_of(self.newest.as_ref()?, wearer, difference, age_minutes))
    }

    /// Both futures of blood glucose from the newest reading; nothing before the first. `logged` is what the
    /// log says of the hour ahead, `age_minutes` as for [`Forecaster::forecast`].
    #[must_use]
    pub fn futures(
        &self,
        wearer: &Wearer,
        difference: Option<Difference>,
        logged: &Logged,
        age_minutes: f64,
    ) -> Option<Futures> {
        let newest = self.newest.as_ref()?;
        let (shift, shift_sd) = shift_of(difference);
        let gap = std::array::from_fn(|k| newest.path.blood_mg_dl[k] - newest.path.reading_mg_dl[k] + shift);
        let lines = Lines { low: wearer.low_line.mg_dl(), high: wearer.high_line.mg_dl() };
        Some(futures(self.paths(newest), gap, logged, lines, carbohydrate_factor(wearer), shift_sd, age_minutes))
    }

    /// The forecast if the state were another: that of a sensor that is right, where it is in doubt.
    #[must_use]
    pub(crate) fn forecast_if(
        &self,
        start: &Start<'_>,
        wearer: &Wearer,
        difference: Option<Difference>,
        age_minutes: f64,
    ) -> Forecast {
        let plain = self.grid.path(start.gaussian, start.asleep);
        let features = features(&start.gaussian.mean, &start.effects);
        self.forecast_of(&self.newest(start, plain, &features), wearer, difference, age_minutes)
    }

    fn forecast_of(
        &self,
        newest: &Newest,
        wearer: &Wearer,
        difference: Option<Difference>,
        age_minutes: f64,
    ) -> Forecast {
        let paths = self.paths(newest);
        let (shift, shift_sd) = shift_of(difference);
        let points = std::array::from_fn(|k| ahead(newest, paths, k, shift, shift_sd));
        let down = |line: f64, shift: f64, sd: f64| later(&newest.below(paths, line, shift, sd), age_minutes);
        let low_line = wearer.low_line.mg_dl();
        let high_line = wearer.high_line.mg_dl();
        let low = down(low_line, shift, shift_sd);
        let floor = down(FLOOR_LINE_MG_DL, shift, shift_sd);
        // A low meter check makes a low reading no less likely, whatever else it says of the sensor.
        let reading = if difference.is_some() { down(low_line, 0.0, 0.0) } else { low };
        let reading_low_30 = reading[SHOWN[1] - 1].max(low[SHOWN[1] - 1]);
        Forecast {
            path: from_now(&points, age_minutes),
            shift_mg_dl: shift,
            low: crossing(low_line, &low),
            floor: crossing(FLOOR_LINE_MG_DL, &floor),
            high: crossing(high_line, &later(&paths.above(high_line + HALF_A_STEP_MG_DL, 0.0, 0), age_minutes)),
            reading_low_30,
            low_by_point: low,
            floor_by_point: floor,
        }
    }
}

/// The distribution at one point: within the hour that of the sampled paths, beyond it the model's.
fn ahead(newest: &Newest, paths: &Paths, k: usize, shift: f64, shift_sd: f64) -> Ahead {
    let plain = newest.path.reading_mg_dl[k];
    let (reading_mg_dl, reading_sd_mg_dl) = if k < HOUR {
        paths.moments(k)
    } else {
        let stretch = (newest.shape.up.powi(2) + newest.shape.down.powi(2)) / 2.0;
        (plain.max(LOWEST_MG_DL), (newest.path.reading_variance[k].max(0.0) * stretch).sqrt())
    };
    // What bends the readings' path bends that of blood; the readings' own shift by the meter is blood's alone.
    let blood = newest.path.blood_mg_dl[k] + (reading_mg_dl - plain) + shift;
    Ahead {
        // 24 points of 5 minutes fit.
        minutes: ((k + 1) as f64 * GRID_MINUTES) as u16,
        reading_mg_dl,
        reading_sd_mg_dl,
        blood_mg_dl: blood.max(LOWEST_MG_DL),
        blood_sd_mg_dl: (newest.path.blood_variance[k].max(0.0) + shift_sd * shift_sd).sqrt(),
    }
}

/// The path of a reading that is so many minutes old, every 5 minutes from now; beyond its end as there.
fn from_now(points: &[Ahead; POINTS], age_minutes: f64) -> Vec<Ahead> {
    let at = |ahead: &Ahead| {
        let place = ((f64::from(ahead.minutes) + age_minutes) / GRID_MINUTES - 1.0).min((POINTS - 1) as f64);
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // 0 to 24
        let whole = place as usize;
        let (one, next) = (points[whole], points.get(whole + 1));
        let between = |of: fn(&Ahead) -> f64| {
            let next = next.map_or_else(|| of(&one), of);
            of(&one) + (place - whole as f64) * (next - of(&one))
        };
        Ahead {
            minutes: ahead.minutes,
            reading_mg_dl: between(|one| one.reading_mg_dl),
            reading_sd_mg_dl: between(|one| one.reading_sd_mg_dl),
            blood_mg_dl: between(|one| one.blood_mg_dl),
            blood_sd_mg_dl: between(|one| one.blood_sd_mg_dl),
        }
    };
    points.iter().map(at).collect()
}

/// What meter checks say a right sensor would read more, and the standard deviation of its bias, in mg/dL.
fn shift_of(difference: Option<Difference>) -> (f64, f64) {
    difference.map_or((0.0, 0.0), |one| (one.error_mg_dl, one.bias_variance.max(0.0).sqrt()))
}

fn crossing(line_mg_dl: f64, crossed: &Passage) -> Crossing {
    let [within_15, within_30, within_60] = SHOWN.map(|point| crossed[point - 1]);
    let expected_minutes = (within_60 >= TIMED_FROM).then(|| {
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
        weighed / within_60
    });
    Crossing { line_mg_dl, within_15, within_30, within_60, expected_minutes }
}
