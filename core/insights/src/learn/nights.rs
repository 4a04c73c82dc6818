//! The wearer's nights that are over: what was said at bedtime, and what came.
//!
//! What is said of a past night is what would have been said then: from the readings up to that bedtime, by the population's values.

use crate::before::chance::ChanceAhead;
use crate::before::nights::{LowsBegin, Night, Nights};
use crate::before::sleep::{next_morning, next_time};
use crate::engine::{Learnt, check, unasked};
use crate::log::{History, Reading};
use crate::time::Moment;
use crate::wearer::{FLOOR_LINE_MG_DL, LOW_LINE_MG_DL, Wearer};

/// How much of the record a chance of a night is made of, in minutes: the week that it looks at, and a day for the estimate to settle.
pub const LOOKS_BACK_MINUTES: f64 = 8.0 * 1440.0;
/// Readings at most this far apart cover the time between them, in minutes.
const COVERS_MINUTES: f64 = 20.0;
/// A night counts as one without a low where readings cover this share of it (assumption).
const COVERED: f64 = 0.8;

/// The chances ahead of a moment: the forecast of the hour as the prompt has it, the hours from a week of the record by the population's
/// values. Nothing where no reading is fresh.
///
/// `week` is the record up to that moment.
#[must_use]
pub fn chances_ahead(week: &History, wearer: &Wearer, now: Moment) -> Option<ChanceAhead> {
    let prompt = check(week, wearer, &Learnt::default(), &unasked(now));
    prompt.forecast.as_ref().map(|forecast| ChanceAhead::of(forecast, prompt.long.as_ref().map(|long| &long[..])))
}

/// What the nights of a history came to, up to `now`.
#[must_use]
pub fn nights(history: &History, wearer: &Wearer, now: Moment) -> Nights {
    Nights::of(&nights_of(history, wearer, now))
}

/// The hour in which lows of the nights of a history begin, up to `now`: from the readings alone, without what was said at bedtime.
#[must_use]
pub fn lows_begin(history: &History, wearer: &Wearer, now: Moment) -> Option<LowsBegin> {
    let came = spans(history, wearer, now).filter_map(|(bedtime, morning)| came(history, bedtime, morning));
    let first_lows: Vec<Option<u16>> = came.map(|one| one.first_low_minute).collect();
    LowsBegin::of(first_lows.iter().copied())
}

/// The nights themselves, the oldest first: those with a chance at bedtime and enough readings to see what came.
#[must_use]
fn nights_of(history: &History, wearer: &Wearer, now: Moment) -> Vec<Night> {
    spans(history, wearer, now).filter_map(|(bedtime, morning)| night(history, wearer, bedtime, morning)).collect()
}

/// The nights that are over by `now`, each from bedtime to morning.
fn spans(history: &History, wearer: &Wearer, now: Moment) -> impl Iterator<Item = (Moment, Moment)> {
    let first = history.readings.first().map(|first| next_bedtime(wearer, first.at));
    std::iter::successors(first, |bedtime| Some(next_bedtime(wearer, *bedtime)))
        .map(|bedtime| (bedtime, next_morning(wearer, bedtime)))
        .take_while(move |(_, morning)| !morning.is_after(now))
}

/// The next time that the wearer's night begins, by the clock of the readings about then.
fn next_bedtime(wearer: &Wearer, after: Moment) -> Moment {
    next_time(wearer.night.from_minute, after)
}

/// What came of a night.
struct Came {
    /// In mg/dL.
    lowest: f64,
    /// When the first reading below 70 mg/dL was, in local minutes of the day.
    first_low_minute: Option<u16>,
}

/// What came of a night; nothing where readings do not tell, or glucose was low at bedtime: treated, not slept on.
fn came(history: &History, bedtime: Moment, morning: Moment) -> Option<Came> {
    let of_night = between(&history.readings, bedtime, morning);
    let believed = of_night.iter().filter(|one| !history.is_compression_low(one.at));
    let lowest = believed.clone().map(|one| one.glucose.mg_dl()).reduce(f64::min)?;
    let covered: f64 = of_night
        .windows(2)
        .map(|pair| pair[1].at.minutes_since(pair[0].at))
        .filter(|apart| *apart <= COVERS_MINUTES)
        .sum();
    let low = |one: &Reading| one.glucose.mg_dl() < LOW_LINE_MG_DL;
    let first_low = believed.clone().find(|one| low(one));
    // A low that was seen was there, whatever else was missed.
    if first_low.is_none() && covered < COVERED * morning.minutes_since(bedtime) {
        return None;
    }
    let at_bedtime = history.readings[..history.readings.partition_point(|one| !one.at.is_after(bedtime))].last()?;
    // A minute of the day is at most 1439.
    let minute = |one: &Reading| u16::try_from(one.at.minute_of_day()).unwrap_or_default();
    (!low(at_bedtime)).then(|| Came { lowest, first_low_minute: first_low.map(minute) })
}

fn night(history: &History, wearer: &Wearer, bedtime: Moment, morning: Moment) -> Option<Night> {
    let Came { lowest, first_low_minute } = came(history, bedtime, morning)?;
    let mut week = history.until(bedtime);
    week.readings.drain(..week.readings.partition_point(|one| bedtime.minutes_since(one.at) > LOOKS_BACK_MINUTES));
    let chance = chances_ahead(&week, wearer, bedtime)?.by(morning.minutes_since(bedtime))?;
    Some(Night {
        p_low: chance.p_low,
        p_floor: chance.p_floor,
        low: lowest < LOW_LINE_MG_DL,
        floor: lowest < FLOOR_LINE_MG_DL,
        first_low_minute,
    })
}

/// The readings after one moment up to another.
fn between(readings: &[Reading], from: Moment, until: Moment) -> &[Reading] {
    let place = |moment: Moment| readings.partition_point(|one| !one.at.is_after(moment));
    &readings[place(from)..place(until)]
}
