//! Agreement once the lag is out of it: the meter beside blood glucose as the readings alone show it, looking back.
//!
//! A sensor that only runs late reads high in a fall and low in a rise, and its differences say more of the lag than of the
//! sensor. The smoother knows what came after the check too, so it can take the lag and the noise out. It is given the readings
//! around a check but no meter checks, and the population's dynamics: the wearer's own learn from these very checks, and what
//! is compared must not have seen what it is compared with.

use serde::Serialize;

use super::agreement::FEWEST_TO_REPORT;
use super::pairs::NEAR_MINUTES;
use crate::estimate::dynamics::Dynamics;
use crate::estimate::smoother::smooth;
use crate::log::{History, Reading};
use crate::review::metrics::{Measured, Need, TooLittle};
use crate::statistics::Mean;
use crate::time::Moment;
use crate::wearer::Wearer;

/// Readings this long before a check are looked at, in minutes: the smoother has to find its feet.
const BEFORE_MINUTES: f64 = 180.0;
/// And this long after, in minutes: beyond, nothing more is to be had (the lag is some ten minutes).
const AFTER_MINUTES: f64 = 60.0;

/// A meter check and what the readings around it say blood glucose was.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LookedBack {
    /// When the meter was used.
    pub at: Moment,
    /// What the meter showed, in mg/dL.
    pub meter_mg_dl: f64,
    /// Blood glucose by the readings before and after, in mg/dL.
    pub blood_mg_dl: f64,
}

/// Agreement of the checks looked back on.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LagFree {
    /// How many checks.
    pub pairs: usize,
    /// Blood glucose by the readings minus meter, in mg/dL.
    pub bias_mg_dl: Mean,
    /// Mean absolute relative difference, in percent of the meter.
    pub mard_percent: Mean,
}

/// Looks back on every meter check that has readings on both sides, each within 7.5 minutes of it.
#[must_use]
pub fn looked_back(history: &History) -> Vec<LookedBack> {
    let one = |check: &crate::log::MeterCheck| {
        // A limit does not show how far two amounts are apart.
        if check.beyond.is_some() {
            return None;
        }
        let blood_mg_dl = blood_at(history, check.at)?;
        Some(LookedBack { at: check.at, meter_mg_dl: check.glucose.mg_dl(), blood_mg_dl })
    };
    history.meter_checks.iter().filter_map(one).collect()
}

/// Blood glucose at a moment by the readings around it, drawn straight between the two nearest, in mg/dL.
fn blood_at(history: &History, at: Moment) -> Option<f64> {
    let (from, until) = (at.plus_minutes(-BEFORE_MINUTES), at.plus_minutes(AFTER_MINUTES));
    let place = |moment: Moment| history.readings.partition_point(|one: &Reading| one.at.is_before(moment));
    let around = History {
        readings: history.readings.get(place(from)..place(until))?.to_vec(),
        compression_lows: history.compression_lows.clone(),
        ..History::default()
    };
    // In the population the night moves as the day does, so whose night it is makes no difference.
    let smoothed = smooth(&around, &Wearer::default(), &Dynamics::POPULATION);
    let after = smoothed.partition_point(|one| one.at.is_before(at));
    let (after, before) = (smoothed.get(after)?, smoothed.get(after.checked_sub(1)?)?);
    let (since, ahead) = (at.minutes_since(before.at), after.at.minutes_since(at));
    let near = since <= NEAR_MINUTES && ahead <= NEAR_MINUTES && since + ahead > 0.0;
    near.then(|| before.blood_mg_dl + (after.blood_mg_dl - before.blood_mg_dl) * since / (since + ahead))
}

impl LagFree {
    /// Compares checks looked back on.
    ///
    /// # Errors
    /// [`TooLittle`] for fewer than five.
    pub fn of(checks: &[LookedBack]) -> Measured<Self> {
        let too_little = TooLittle::of(Need::MeterPairs, checks.len() as f64, FEWEST_TO_REPORT as f64);
        if checks.len() < FEWEST_TO_REPORT {
            return Err(too_little);
        }
        let off: Vec<f64> = checks.iter().map(|one| one.blood_mg_dl - one.meter_mg_dl).collect();
        let relative: Vec<f64> =
            checks.iter().map(|one| 100.0 * (one.blood_mg_dl - one.meter_mg_dl).abs() / one.meter_mg_dl).collect();
        Ok(Self {
            pairs: checks.len(),
            bias_mg_dl: Mean::of(&off).ok_or(too_little)?,
            mard_percent: Mean::of(&relative).ok_or(too_little)?,
        })
    }
}
