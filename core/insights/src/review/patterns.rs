//! Patterns: what comes more often under one circumstance than otherwise, by a stated test that knows how often it looked.
//!
//! # Method
//! The record is cut into stretches of three hours by the wearer's clock; one counts if readings cover 70 % of it. Each look
//! compares how often something happened in the stretches (or meals, or dates) of one kind with how often in the others, by
//! Fisher's exact test, one-sided. All looks together are corrected by Holm's method, so that among records with no pattern
//! at all at most one in twenty shows any. Neighbouring stretches are not fully independent, which the test does not know:
//! a pattern is a reason to look at the days named, no proof.
//!
//! # Source
//! Fisher RA, J R Stat Soc 1922;85:87-94; Holm S, Scand J Stat 1979;6:65-70 (both from memory). What is looked for is common
//! practice; a rebound as above 180 mg/dL within 2 h of a low is Acciaroli G, et al., J Diabetes Sci Technol 2022.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, NaiveDate, Weekday};
use statrs::distribution::{DiscreteCDF, Hypergeometric};

use super::metrics::{Held, Lines};
use super::{Lasting, Review, used};
use crate::log::{History, Purpose, SensorEvent};
use crate::time::{HOUR_MS, Moment};

/// A part of the day in which meals are taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MealTime {
    /// 04:00 to 11:00.
    Morning,
    /// 11:00 to 16:00.
    Midday,
    /// 16:00 to 22:00.
    Evening,
    /// 22:00 to 04:00.
    Night,
}

impl MealTime {
    const ALL: [Self; 4] = [Self::Morning, Self::Midday, Self::Evening, Self::Night];

    fn of(moment: Moment) -> Self {
        match moment.minute_of_day() / 60 {
            4..11 => Self::Morning,
            11..16 => Self::Midday,
            16..22 => Self::Evening,
            _ => Self::Night,
        }
    }
}

/// What is looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Lows begin from this hour on, for three hours.
    LowsFrom(u8),
    /// Highs begin from this hour on, for three hours.
    HighsFrom(u8),
    /// Lows begin in the wearer's night.
    LowsAtNight,
    /// Lows begin within 12 h after movement.
    LowsAfterMovement,
    /// Lows begin in a sensor's first day.
    LowsOnFirstDay,
    /// Highs begin in a sensor's first day.
    HighsOnFirstDay,
    /// Dates with a low are weekends.
    LowsAtWeekends,
    /// Dates with a low are weekdays.
    LowsOnWeekdays,
    /// Dates over a quarter above the high line are weekends.
    HighsAtWeekends,
    /// Dates over a quarter above the high line are weekdays.
    HighsOnWeekdays,
    /// A high begins within 3 h of a meal of this time.
    HighsAfterMeals(MealTime),
    /// A high begins within 2 h of a low for which rescue carbohydrate is logged.
    ReboundAfterRescue,
}

/// A pattern found.
#[derive(Clone, Debug, PartialEq)]
pub struct Pattern {
    /// What.
    pub kind: Kind,
    /// How often it happened.
    pub hits: usize,
    /// Of how many occasions.
    pub of: usize,
    /// How often it happened otherwise.
    pub other_hits: usize,
    /// Of how many other occasions.
    pub other_of: usize,
    /// The chance of at least so large a difference if there were none, corrected for all looks.
    pub corrected_p: f64,
    /// The dates it happened on: the days to look at.
    pub dates: Vec<NaiveDate>,
}

/// What looking for patterns came to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Looked {
    /// How many comparisons had enough on both sides and were made.
    pub looks: usize,
    /// What was found, the surest first.
    pub found: Vec<Pattern>,
}

/// Found means a corrected chance below this.
pub const SURE: f64 = 0.05;
/// A comparison needs this many occasions on either side; ours.
pub const FEWEST: usize = 5;
const STRETCH_HOURS: u8 = 3;
const COVERED: f64 = 0.7;
const AFTER_MOVEMENT_MINUTES: f64 = 720.0;
const AFTER_MEAL_MINUTES: f64 = 180.0;
/// A rebound begins within this time of the low's end, in minutes (Acciaroli 2022).
pub const REBOUND_MINUTES: f64 = 120.0;

/// How often something happened under one circumstance and otherwise, with the dates of the former.
#[derive(Default)]
struct Tally {
    inside: (usize, usize),
    outside: (usize, usize),
    dates: BTreeSet<NaiveDate>,
}

impl Tally {
    fn count(&mut self, inside: bool, hit: bool, date: NaiveDate) {
        let side = if inside { &mut self.inside } else { &mut self.outside };
        side.1 += 1;
        side.0 += usize::from(hit);
        if inside && hit {
            self.dates.insert(date);
        }
    }
}

/// Looks for patterns in a reviewed period.
#[must_use]
pub fn patterns(review: &Review, history: &History) -> Looked {
    let held = used(history, review.period, review.manner);
    let mut tallies: BTreeMap<Kind, Tally> = BTreeMap::new();
    stretches(&mut tallies, &held, review, history);
    dates(&mut tallies, &held, review);
    meals(&mut tallies, review, history);
    weigh(tallies)
}

fn begins_within(all: &[Lasting], from: Moment, minutes: f64) -> bool {
    all.iter().any(|one| (0.0..minutes).contains(&one.episode.from.minutes_since(from)))
}

fn stretches(tallies: &mut BTreeMap<Kind, Tally>, held: &[Held], review: &Review, history: &History) {
    let stretch = |one: &Held| (one.at.local_date(), (one.at.minute_of_day() / 60) as u8 / STRETCH_HOURS);
    let length = f64::from(STRETCH_HOURS) * 60.0;
    let begun = |all: &[Lasting]| -> BTreeSet<(NaiveDate, u8)> {
        let place = |one: &Lasting| {
            let from = one.episode.from;
            (from.local_date(), (from.minute_of_day() / 60) as u8 / STRETCH_HOURS)
        };
        // Collecting would sort first, by a sort compiled for this alone (crate::order).
        let mut begun = BTreeSet::new();
        begun.extend(all.iter().map(place));
        begun
    };
    let (lows, highs) = (begun(&review.lows), begun(&review.highs));
    let moved = |at: Moment| {
        history.activities.iter().any(|one| {
            let after = at.minutes_since(one.at.plus_minutes(one.minutes));
            (-one.minutes..AFTER_MOVEMENT_MINUTES).contains(&after)
        })
    };
    let first_day = |at: Moment| {
        history.sensor.iter().any(|note| {
            matches!(note.event, SensorEvent::Inserted { .. })
                && (0..24 * HOUR_MS).contains(&(at.unix_ms() - note.at.unix_ms()))
        })
    };
    let (any_moved, any_sensor) = (!history.activities.is_empty(), !history.sensor.is_empty());
    let mut with_neither: Vec<(NaiveDate, bool)> = Vec::new();
    for run in held.chunk_by(|a, b| stretch(a) == stretch(b)) {
        let Some(first) = run.first() else { continue };
        if super::metrics::total_minutes(run) < COVERED * length {
            continue;
        }
        let place @ (date, number) = stretch(first);
        let (low, high) = (lows.contains(&place), highs.contains(&place));
        for other in 0..24 / STRETCH_HOURS {
            let hour = other * STRETCH_HOURS;
            tallies.entry(Kind::LowsFrom(hour)).or_default().count(other == number, low, date);
            tallies.entry(Kind::HighsFrom(hour)).or_default().count(other == number, high, date);
        }
        let night = review.night.contains(first.at.plus_minutes(length / 2.0));
        tallies.entry(Kind::LowsAtNight).or_default().count(night, low, date);
        if any_moved {
            tallies.entry(Kind::LowsAfterMovement).or_default().count(moved(first.at), low, date);
        }
        if any_sensor {
            let new = first_day(first.at);
            tallies.entry(Kind::LowsOnFirstDay).or_default().count(new, low, date);
            tallies.entry(Kind::HighsOnFirstDay).or_default().count(new, high, date);
        }
        if !low {
            with_neither.push((date, high));
        }
    }
    rebounds(tallies, review, history, &with_neither);
}

/// Rescued lows against the stretches without a low: how often a high begins.
fn rebounds(
    tallies: &mut BTreeMap<Kind, Tally>,
    review: &Review,
    history: &History,
    without_low: &[(NaiveDate, bool)],
) {
    let rescued: Vec<&Lasting> = review
        .lows
        .iter()
        .filter(|low| {
            low.episode.ended
                && history.carbohydrate.iter().any(|one| {
                    one.purpose == Purpose::Rescue
                        && one.at.minutes_since(low.episode.from) >= -15.0
                        && one.at <= low.episode.until
                })
        })
        .collect();
    if rescued.is_empty() {
        return;
    }
    let tally = tallies.entry(Kind::ReboundAfterRescue).or_default();
    for low in rescued {
        let rebound = begins_within(&review.highs, low.episode.until, REBOUND_MINUTES);
        tally.count(true, rebound, low.episode.from.local_date());
    }
    without_low.iter().for_each(|(date, high)| tally.count(false, *high, *date));
}

fn dates(tallies: &mut BTreeMap<Kind, Tally>, held: &[Held], review: &Review) {
    let high_line = Lines::of(review.manner.group).high_mg_dl;
    for day in super::metrics::swings::covered_days(held) {
        let Some(first) = day.first() else { continue };
        let date = first.at.local_date();
        let weekend = matches!(date.weekday(), Weekday::Sat | Weekday::Sun);
        let low = review.lows.iter().any(|one| one.episode.from.local_date() == date);
        let over: f64 = day.iter().filter(|one| one.is_above(high_line)).map(|one| one.minutes).sum();
        let high = over > 0.25 * super::metrics::total_minutes(day);
        for (kind, inside, hit) in [
            (Kind::LowsAtWeekends, weekend, low),
            (Kind::LowsOnWeekdays, !weekend, low),
            (Kind::HighsAtWeekends, weekend, high),
            (Kind::HighsOnWeekdays, !weekend, high),
        ] {
            tallies.entry(kind).or_default().count(inside, hit, date);
        }
    }
}

fn meals(tallies: &mut BTreeMap<Kind, Tally>, review: &Review, history: &History) {
    let inside = |at: Moment| review.period.from() <= at && at < review.period.until();
    for meal in history.carbohydrate.iter().filter(|one| one.purpose == Purpose::Meal && inside(one.at)) {
        let high = begins_within(&review.highs, meal.at, AFTER_MEAL_MINUTES);
        for time in MealTime::ALL {
            let tally = tallies.entry(Kind::HighsAfterMeals(time)).or_default();
            tally.count(MealTime::of(meal.at) == time, high, meal.at.local_date());
        }
    }
}

/// Fisher's exact test, one-sided: the chance of at least `hits` inside, given the margins.
#[must_use]
pub fn fisher_more_often(hits: usize, of: usize, other_hits: usize, other_of: usize) -> f64 {
    if hits == 0 {
        return 1.0;
    }
    let count = |number: usize| number as u64;
    Hypergeometric::new(count(of + other_of), count(hits + other_hits), count(of))
        .map_or(1.0, |chance| chance.sf(count(hits) - 1).clamp(0.0, 1.0))
}

/// Holm's correction of chances for having looked that many times; the order stays.
#[must_use]
pub fn holm(chances: &[f64]) -> Vec<f64> {
    let mut order: Vec<usize> = (0..chances.len()).collect();
    order.sort_by(|a, b| chances[*a].total_cmp(&chances[*b]));
    let mut corrected = vec![1.0; chances.len()];
    let mut highest = 0.0_f64;
    for (rank, place) in order.into_iter().enumerate() {
        highest = highest.max((chances.len() - rank) as f64 * chances[place]).min(1.0);
        corrected[place] = highest;
    }
    corrected
}

fn weigh(tallies: BTreeMap<Kind, Tally>) -> Looked {
    let made: Vec<(Kind, Tally)> =
        tallies.into_iter().filter(|(_, one)| one.inside.1 >= FEWEST && one.outside.1 >= FEWEST).collect();
    let chance = |(_, one): &(Kind, Tally)| fisher_more_often(one.inside.0, one.inside.1, one.outside.0, one.outside.1);
    let corrected = holm(&made.iter().map(chance).collect::<Vec<f64>>());
    let looks = made.len();
    let mut found: Vec<Pattern> = made
        .into_iter()
        .zip(corrected)
        .filter(|(_, corrected_p)| *corrected_p < SURE)
        .map(|((kind, one), corrected_p)| Pattern {
            kind,
            hits: one.inside.0,
            of: one.inside.1,
            other_hits: one.outside.0,
            other_of: one.outside.1,
            corrected_p,
            dates: one.dates.into_iter().collect(),
        })
        .collect();
    found.sort_by(|a, b| a.corrected_p.total_cmp(&b.corrected_p).then(a.kind.cmp(&b.kind)));
    Looked { looks, found }
}
