//! Whether now is the moment to calibrate. Nothing here calibrates anything.

use serde::Serialize;

use super::pairs::{Pair, STEADY_MG_DL_MIN, rate_around};
use super::sessions::{Session, Stage};
use crate::log::{History, InsulinKind};
use crate::prompt::FIRST_DAY_HOURS;
use crate::statistics::mean;
use crate::time::Moment;

/// What there is to say about calibrating. Whether a sensor takes calibrations at all is for its instructions to say.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "code")]
pub enum Calibration {
    /// Too few pairs were made while steady: never on one pair.
    TooFewPairs {
        /// Steady pairs of the last 24 hours of this sensor, after its first day.
        have: usize,
        /// What is needed.
        need: usize,
    },
    /// Sensor and meter are not consistently off.
    Agrees {
        /// Steady pairs looked at.
        pairs: usize,
    },
    /// They are, but now is no moment for it.
    NotNow {
        /// Sensor minus meter, the mean over the pairs, in mg/dL.
        off_mg_dl: f64,
        /// Why not.
        why: Vec<NotNow>,
    },
    /// They are, and glucose is steady.
    Worth {
        /// Sensor minus meter, the mean over the pairs, in mg/dL.
        off_mg_dl: f64,
        /// How many pairs.
        pairs: usize,
    },
}

/// Why now is no moment to calibrate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum NotNow {
    /// The sensor is in its first day.
    FirstDay,
    /// It is worn past its rated length: replacing it comes before calibrating it.
    Overdue,
    /// A fault is noted of it: calibration does not fix it.
    Faulted,
    /// It is or was just pressed.
    Compression,
    /// Glucose moves.
    Moving,
    /// There are too few readings just now to see whether it moves.
    NoReadings,
    /// A meal or rescue carbohydrate was taken in the last [`TAKEN_MINUTES`].
    RecentCarbohydrate,
    /// Rapid insulin was taken in the last [`TAKEN_MINUTES`].
    RecentInsulin,
}

/// Pairs count that are no older than this, in hours: a sensor drifts.
pub const PAIRS_HOURS: f64 = 24.0;
/// Steady pairs needed.
pub(crate) const FEWEST_STEADY_PAIRS: usize = 2;
/// And this far apart, in minutes: two checks in a row are one look.
pub const APART_MINUTES: f64 = 30.0;
/// Off by more than this many mg/dL (meter under 100) or percent counts (common practice, no source).
pub const OFF_LIMIT: f64 = 20.0;
/// Insulin and carbohydrate are recent for this long, in minutes (common practice, no source).
pub const TAKEN_MINUTES: f64 = 120.0;

/// A sensor that was pressed is left to recover for this long, in minutes; ours.
const AFTER_COMPRESSION_MINUTES: f64 = 60.0;

/// Weighs whether to calibrate now.
///
/// Worth it only if glucose is steady now, nothing was taken lately, the first day is over, the sensor is neither overdue nor
/// noted as faulty nor just pressed, and every steady pair of the
/// last 24 hours (two at least, half an hour apart) is off by more than 20 mg/dL or 20 % in the same direction.
#[must_use]
pub fn calibration(
    history: &History,
    pairs: &[Pair],
    session: Option<&Session>,
    rated_days: Option<f64>,
    now: Moment,
) -> Calibration {
    let mut steady: Vec<&Pair> = Vec::new();
    for pair in pairs {
        let age = now.minutes_since(pair.at);
        let of_this_sensor = session.is_none_or(|session| session.from <= pair.at);
        let apart = steady.last().is_none_or(|last| pair.at.minutes_since(last.at) >= APART_MINUTES);
        let counts = (0.0..=PAIRS_HOURS * 60.0).contains(&age) && of_this_sensor && apart;
        if counts && pair.is_steady() && !pair.in_first_day() {
            steady.push(pair);
        }
    }
    if steady.len() < FEWEST_STEADY_PAIRS {
        return Calibration::TooFewPairs { have: steady.len(), need: FEWEST_STEADY_PAIRS };
    }
    let all = |sign: f64| steady.iter().all(|pair| sign * pair.off_mg_dl() > 0.0 && !pair.within(OFF_LIMIT));
    if !all(1.0) && !all(-1.0) {
        return Calibration::Agrees { pairs: steady.len() };
    }
    let off_mg_dl = mean(&steady.iter().map(|pair| pair.off_mg_dl()).collect::<Vec<f64>>()).unwrap_or_default();
    let why = not_now(history, session, rated_days, now);
    if why.is_empty() {
        Calibration::Worth { off_mg_dl, pairs: steady.len() }
    } else {
        Calibration::NotNow { off_mg_dl, why }
    }
}

fn not_now(history: &History, session: Option<&Session>, rated_days: Option<f64>, now: Moment) -> Vec<NotNow> {
    let recent = |at: Moment| (0.0..TAKEN_MINUTES).contains(&now.minutes_since(at));
    let known = history.readings.partition_point(|one| !one.at.is_after(now));
    let readings = history.readings.get(..known).unwrap_or_default();
    let newest = readings.last().filter(|last| now.minutes_since(last.at) <= 15.0);
    let rate = newest.and_then(|last| rate_around(readings, last.at));
    [
        (session.is_some_and(|one| now.minutes_since(one.from) < FIRST_DAY_HOURS * 60.0), NotNow::FirstDay),
        (session.is_some_and(|one| one.stage(rated_days, now) == Stage::Overdue), NotNow::Overdue),
        (session.is_some_and(|one| one.until.is_none() && !one.faults.is_empty()), NotNow::Faulted),
        (
            history
                .compression_lows
                .iter()
                .any(|one| one.from <= now && now.minutes_since(one.until) < AFTER_COMPRESSION_MINUTES),
            NotNow::Compression,
        ),
        (rate.is_none(), NotNow::NoReadings),
        (rate.is_some_and(|rate| rate.abs() >= STEADY_MG_DL_MIN), NotNow::Moving),
        (history.carbohydrate.iter().any(|one| recent(one.at)), NotNow::RecentCarbohydrate),
        (history.doses.iter().any(|one| one.kind == InsulinKind::Rapid && recent(one.at)), NotNow::RecentInsulin),
    ]
    .into_iter()
    .filter_map(|(holds, why)| holds.then_some(why))
    .collect()
}
