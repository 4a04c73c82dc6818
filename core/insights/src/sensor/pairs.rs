//! Meter checks beside what the sensor read then, with its movement and lag in view.

use serde::Serialize;

use crate::body::lag::WHOLE_MINUTES;
use crate::log::{History, Reading, Source};
use crate::prompt::FIRST_DAY_HOURS;
use crate::sensor::sessions::Session;
use crate::time::Moment;

/// A meter check and the reading nearest to it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Pair {
    /// When the meter was used.
    pub at: Moment,
    /// What the meter showed, in mg/dL.
    pub meter_mg_dl: f64,
    /// What the sensor read, in mg/dL.
    pub sensor_mg_dl: f64,
    /// How fast the readings moved around then, in mg/dL/min; nothing where there were too few.
    pub rate_mg_dl_min: Option<f64>,
    /// How long the sensor had been worn, in hours, if its insertion is logged.
    pub worn_hours: Option<f64>,
}

/// A reading belongs to a check within this time, in minutes: half the widest spacing.
pub(crate) const NEAR_MINUTES: f64 = 7.5;
/// The rate is that of the readings this far either side, in minutes.
const RATE_MINUTES: f64 = 15.0;
/// Below this size of rate a pair is steady, in mg/dL/min: where the trade's trend bands begin.
pub(crate) const STEADY_MG_DL_MIN: f64 = 1.0;

impl Pair {
    /// Sensor minus meter, in mg/dL.
    #[must_use]
    pub fn off_mg_dl(&self) -> f64 {
        self.sensor_mg_dl - self.meter_mg_dl
    }

    /// Sensor minus meter once the lag is allowed for: a sensor `lag` minutes behind reads `rate x lag` less than blood.
    ///
    /// # Source
    /// Rebrin K, Steil GM, et al., Am J Physiol 1999;277:E561-E571, at steady movement; the lag as a whole (body, sensor,
    /// smoothing) is [`WHOLE_MINUTES`].
    #[must_use]
    pub fn off_lag_allowed_mg_dl(&self) -> Option<f64> {
        self.rate_mg_dl_min.map(|rate| self.off_mg_dl() + rate * WHOLE_MINUTES)
    }

    /// The absolute relative difference, in percent of the meter.
    #[must_use]
    pub(crate) fn relative_percent(&self) -> f64 {
        100.0 * self.off_mg_dl().abs() / self.meter_mg_dl
    }

    /// Whether the sensor is within so many mg/dL (meter below 100) or percent (from 100 on) of the meter.
    #[must_use]
    pub fn within(&self, limit: f64) -> bool {
        let allowed = if self.meter_mg_dl < 100.0 { limit } else { limit / 100.0 * self.meter_mg_dl };
        self.off_mg_dl().abs() <= allowed + 1e-9
    }

    /// Whether readings were level then.
    #[must_use]
    pub fn is_steady(&self) -> bool {
        self.rate_mg_dl_min.is_some_and(|rate| rate.abs() < STEADY_MG_DL_MIN)
    }

    /// Whether the sensor was in its first day.
    #[must_use]
    pub(crate) fn in_first_day(&self) -> bool {
        self.worn_hours.is_some_and(|hours| hours < FIRST_DAY_HOURS)
    }
}

/// Pairs every meter check that has a reading near it.
#[must_use]
pub fn pairs(history: &History, sessions: &[Session]) -> Vec<Pair> {
    let of_it = |one: &Session, at: Moment| history.speaks_of_followed(one.sensor.as_ref(), at);
    pairs_of(&history.readings, history, sessions, of_it)
}

/// The same of a sensor that was worn beside the one followed.
#[must_use]
pub(crate) fn concurrent_pairs(history: &History, sensor: &Source, sessions: &[Session]) -> Vec<Pair> {
    let beside = history.concurrent.iter().find(|one| one.source == *sensor);
    let of_it = |one: &Session, _: Moment| one.sensor.as_ref() == Some(sensor);
    beside.map_or_else(Vec::new, |one| pairs_of(&one.readings, history, sessions, of_it))
}

fn pairs_of(
    readings: &[Reading],
    history: &History,
    sessions: &[Session],
    of_it: impl Fn(&Session, Moment) -> bool,
) -> Vec<Pair> {
    let worn = |at: Moment| {
        let during = |one: &&Session| one.from <= at && one.until.is_none_or(|until| at < until) && of_it(one, at);
        let session = sessions.iter().rev().find(during)?;
        Some(at.minutes_since(session.from) / 60.0)
    };
    let pair = |check: &crate::log::MeterCheck| {
        let reading = nearest(readings, check.at)?;
        // A limit does not show how far two amounts are apart.
        if check.beyond.is_some() || reading.beyond.is_some() {
            return None;
        }
        Some(Pair {
            at: check.at,
            meter_mg_dl: check.glucose.mg_dl(),
            sensor_mg_dl: reading.glucose.mg_dl(),
            rate_mg_dl_min: rate_around(readings, reading.at),
            worn_hours: worn(check.at),
        })
    };
    history.meter_checks.iter().filter_map(pair).collect()
}

/// The reading nearest to a moment, within [`NEAR_MINUTES`]; the earlier of two as near.
fn nearest(readings: &[Reading], at: Moment) -> Option<&Reading> {
    let after = readings.partition_point(|one| !one.at.is_after(at));
    let around = readings.get(after.saturating_sub(1)..(after + 1).min(readings.len()))?;
    let away = |one: &&Reading| one.at.minutes_since(at).abs();
    around.iter().min_by(|a, b| away(a).total_cmp(&away(b))).filter(|one| away(one) <= NEAR_MINUTES)
}

/// The least-squares slope of the readings within 15 minutes either side, in mg/dL/min; needs three over ten minutes.
#[must_use]
pub(crate) fn rate_around(readings: &[Reading], at: Moment) -> Option<f64> {
    let from = readings.partition_point(|one| one.at.minutes_since(at) < -RATE_MINUTES - 0.5);
    let until = readings.partition_point(|one| one.at.minutes_since(at) <= RATE_MINUTES + 0.5);
    let around = readings.get(from..until)?;
    let (first, last) = (around.first()?, around.last()?);
    if around.len() < 3 || last.at.minutes_since(first.at) < 9.5 {
        return None;
    }
    let count = around.len() as f64;
    let t = |one: &Reading| one.at.minutes_since(at);
    let mean_t = around.iter().map(t).sum::<f64>() / count;
    let mean_g = around.iter().map(|one| one.glucose.mg_dl()).sum::<f64>() / count;
    let both: f64 = around.iter().map(|one| (t(one) - mean_t) * (one.glucose.mg_dl() - mean_g)).sum();
    let alone: f64 = around.iter().map(|one| (t(one) - mean_t).powi(2)).sum();
    Some(both / alone)
}
