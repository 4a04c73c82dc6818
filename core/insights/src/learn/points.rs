//! What a lesson comes to, as codes with numbers; `words` makes sentences of them.

use serde::Serialize;

use super::Lesson;
use crate::estimate::adapt::{Adaptation, NEEDED_METER_CHECKS};
use crate::estimate::dynamics::Dynamics;

/// One thing to say about a lesson.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "code")]
pub enum Point {
    /// Too few days for the wearer's own values: those of the population hold.
    TooLittle {
        /// Days covered by readings.
        have_days: f64,
        /// Days needed.
        need_days: f64,
    },
    /// What it rests on.
    RestsOn {
        /// Days covered by readings.
        days: f64,
        /// Readings.
        readings: usize,
        /// Meter checks.
        meter_checks: usize,
    },
    /// The wearer's own values forecast better and are used.
    OwnUsed {
        /// Mean log score of the half-hour forecasts with the population's values.
        score_population: f64,
        /// The same with the wearer's own.
        score_own: f64,
    },
    /// The wearer's own values forecast no better; the population's are used.
    OwnNotUsed {
        /// Mean log score of the half-hour forecasts with the population's values.
        score_population: f64,
        /// The same with the wearer's own.
        score_own: f64,
    },
    /// How much glucose moves, as a multiple of the population's.
    Moves {
        /// The multiple.
        times: f64,
    },
    /// How much glucose moves at night, as a multiple of the day.
    MovesAtNight {
        /// The multiple.
        times: f64,
    },
    /// How much glucose moves when high (250 mg/dL), as a multiple of when near the low line (80 mg/dL).
    MovesWhenHigh {
        /// The multiple.
        times: f64,
    },
    /// How much single readings scatter.
    Scatter {
        /// Standard deviation of the scatter, in mg/dL.
        sd_mg_dl: f64,
    },
    /// How far the sensor runs behind blood.
    Lag {
        /// Minutes.
        minutes: f64,
    },
    /// The lag cannot be learnt without more meter checks.
    LagNeedsChecks {
        /// Meter checks in the days looked at.
        have: usize,
        /// Meter checks needed.
        need: usize,
    },
    /// Forecasts that were compared with what came.
    Forecasts {
        /// How many.
        count: u64,
    },
}

/// Levels between which [`Point::MovesWhenHigh`] compares, in mg/dL.
pub const HIGH_AND_LOW_MG_DL: (f64, f64) = (250.0, 80.0);

impl Lesson {
    /// What the lesson comes to, the most important first.
    #[must_use]
    pub fn points(&self) -> Vec<Point> {
        let mut points = Vec::new();
        match &self.adaptation {
            Adaptation::TooLittle { have_days, need_days } => {
                points.push(Point::TooLittle { have_days: *have_days, need_days: *need_days });
            }
            Adaptation::Adapted { evidence, .. } => {
                if let (Some(score_population), Some(score_own)) = (self.score_population, self.score_own) {
                    points.push(match self.learnt.dynamics {
                        Some(_) => Point::OwnUsed { score_population, score_own },
                        None => Point::OwnNotUsed { score_population, score_own },
                    });
                }
                points.push(Point::RestsOn {
                    days: evidence.days,
                    readings: evidence.readings,
                    meter_checks: evidence.meter_checks,
                });
                if let Some(dynamics) = &self.learnt.dynamics {
                    points.extend(of_dynamics(dynamics));
                    points.push(if evidence.meter_checks < NEEDED_METER_CHECKS {
                        Point::LagNeedsChecks { have: evidence.meter_checks, need: NEEDED_METER_CHECKS }
                    } else {
                        Point::Lag { minutes: dynamics.lag_minutes }
                    });
                }
            }
        }
        if self.forecasts > 0 {
            points.push(Point::Forecasts { count: self.forecasts });
        }
        points
    }
}

/// Noises act as variances a minute; what a person sees is their square root.
fn of_dynamics(dynamics: &Dynamics) -> [Point; 4] {
    let (high, low) = HIGH_AND_LOW_MG_DL;
    [
        Point::Moves { times: dynamics.blood_noise / Dynamics::POPULATION.blood_noise },
        Point::MovesAtNight { times: dynamics.night_noise.max(0.0).sqrt() },
        Point::MovesWhenHigh {
            times: (dynamics.noise_at(high, false) / dynamics.noise_at(low, false)).max(0.0).sqrt(),
        },
        Point::Scatter { sd_mg_dl: dynamics.white_sd_mg_dl },
    ]
}
