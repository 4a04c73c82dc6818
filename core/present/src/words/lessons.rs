//! What was learnt of the wearer, and whether chances came as often as they were shown, in words.

use super::Words;
use crate::learn::points::{HIGH_AND_LOW_MG_DL, Point};
use crate::learn::reliability::{Figures, ForecastCalibration};
use crate::say;

impl Words {
    /// One thing that was learnt from the log, or what is missing for it, as a sentence.
    #[must_use]
    pub fn lesson(self, point: Point) -> String {
        let n = self.numbers;
        match point {
            Point::TooLittle { have_days, need_days } => {
                let (have, need_days) = (n.tenths(have_days), n.tenths(need_days));
                say!(self, "lesson-too-little", have_days = have, count = have_days, need_days)
            }
            Point::RestsOn { days, readings, meter_checks } => say!(
                self,
                "lesson-rests-on",
                days = n.tenths(days),
                readings = n.count(readings as u64),
                checks = self.checks(meter_checks)
            ),
            Point::OwnUsed { score_population, score_own } => say!(
                self,
                "lesson-own-used",
                percent = n.tenths(more_chance(score_population, score_own)),
                score_own = n.score(score_own),
                score_population = n.score(score_population)
            ),
            Point::OwnNotUsed { score_population, score_own } => say!(
                self,
                "lesson-own-not-used",
                score_own = n.score(score_own),
                score_population = n.score(score_population)
            ),
            Point::Moves { times } => say!(self, "lesson-moves", times = n.times(times)),
            Point::MovesAtNight { times } => say!(self, "lesson-moves-at-night", times = n.times(times)),
            Point::MovesWhenHigh { times } => {
                let (high, low) = HIGH_AND_LOW_MG_DL;
                say!(self, "lesson-moves-when-high", high = n.amount(high), times = n.times(times), low = n.amount(low))
            }
            Point::Scatter { sd_mg_dl } => say!(self, "lesson-scatter", amount = n.fine_amount(sd_mg_dl)),
            Point::Lag { minutes } => say!(self, "lesson-lag", minutes = n.tenths(minutes)),
            Point::LagNeedsChecks { have, need } => {
                say!(self, "lesson-lag-needs-checks", checks = self.checks(have), need)
            }
            Point::Forecasts { count } => say!(self, "lesson-forecasts", count = n.count(count)),
        }
    }

    /// Whether the chances shown were well calibrated.
    #[must_use]
    pub fn calibration(self, calibration: ForecastCalibration) -> String {
        let n = self.numbers;
        let figures = |Figures { shown, mean_chance, came, off }: Figures| {
            say!(
                self,
                "calibration-figures",
                shown = n.count(shown),
                mean_chance = n.points(mean_chance),
                came = n.points(came),
                off = n.points(off)
            )
        };
        match calibration {
            ForecastCalibration::TooFew { have, need } => {
                let (written, need) = (format!("{have:.0}"), format!("{need:.0}"));
                say!(self, "calibration-too-few", have = written, count = have.round(), need)
            }
            ForecastCalibration::Calibrated(shown) => say!(self, "calibration-calibrated", figures = figures(shown)),
            ForecastCalibration::OverForecasts(shown) => {
                say!(self, "calibration-over-forecasts", figures = figures(shown))
            }
            ForecastCalibration::UnderForecasts(shown) => {
                say!(self, "calibration-under-forecasts", figures = figures(shown))
            }
        }
    }
}

/// By how many percent one set of forecasts gave what came more chance than another, from their mean log scores.
fn more_chance(score_population: f64, score_own: f64) -> f64 {
    100.0 * (score_own - score_population).exp_m1()
}
