//! Patterns: what comes at some hours, on some days or after something more often than chance would bring, by a stated test that
//! knows how often it looked.
//!
//! # Method
//! Days are the unit: a low is no independent witness of the one an hour before. The clock is scanned by windows of one to eight
//! hours that may run over midnight (`clock`); beside it are looks at weekdays, at the hours after movement and after
//! treated lows, at meals, and at a sensor's first and last day (`occasions`). All looks are one family under a permutation test
//! (`family`): in records without any pattern at most one in twenty shows any. The blocks of looks are shuffled each by its own null and
//! independently of each other. Of the windows over lows, and of those over highs, at most `MOST_WINDOWS` are reported: the
//! second of what is left when what reaches into the first is taken away. The seed is fixed. The latest `MOST_DAYS` days are looked at: what was two years ago is not how it is now.
//!
//! What the test cannot show: why. And the count of the best window is flattered, since it was chosen for being the highest.

mod clock;
mod family;
mod occasions;

use chrono::{NaiveDate, TimeDelta, Timelike, Weekday};
use serde::Serialize;

pub use family::SHUFFLES;

use super::metrics::Held;
use super::{Lasting, Review, used};
use crate::log::{Carbohydrate, History, Purpose};
use crate::time::{DAY_MS, DayHours, Moment};
use clock::{BIN_MINUTES, BINS, Day, Eligible};
use family::{Block, Random, Weighed};
use occasions::Occasions;

/// A part of the day in which meals are taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
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
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case", tag = "code")]
pub enum Kind {
    /// Days with a low in these hours.
    LowsBetween {
        /// The hours.
        hours: DayHours,
    },
    /// Days with a high in these hours.
    HighsBetween {
        /// The hours.
        hours: DayHours,
    },
    /// Dates with movement after which a low begins within 12 h.
    LowsAfterMovement,
    /// Sensors on whose first day a low begins.
    LowsOnFirstDay,
    /// Sensors on whose first day over a quarter of the time is above the high line.
    HighsOnFirstDay,
    /// Sensors on whose last whole day a low begins.
    LowsOnLastDay,
    /// Sensors on whose last whole day over a quarter of the time is above the high line.
    HighsOnLastDay,
    /// Saturdays and Sundays on which a low begins.
    LowsAtWeekends,
    /// Mondays to Fridays on which a low begins.
    LowsOnWorkdays,
    /// Dates of one weekday on which a low begins.
    LowsOn {
        /// The weekday.
        weekday: Weekday,
    },
    /// Saturdays and Sundays over a quarter above the high line.
    HighsAtWeekends,
    /// Mondays to Fridays over a quarter above the high line.
    HighsOnWorkdays,
    /// Dates of one weekday over a quarter above the high line.
    HighsOn {
        /// The weekday.
        weekday: Weekday,
    },
    /// Meals of this time after which a high begins within 3 h.
    HighsAfterMeals {
        /// When the meals are eaten.
        time: MealTime,
    },
    /// Meals of this time after which a low begins within 4 h.
    LowsAfterMeals {
        /// When the meals are eaten.
        time: MealTime,
    },
    /// Lows with rescue carbohydrate after whose end a high begins within 2 h.
    ReboundAfterRescue,
}

/// A pattern found.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Pattern {
    /// The kind of pattern.
    pub kind: Kind,
    /// On how many occasions it happened.
    pub hits: usize,
    /// Of how many.
    pub of: usize,
    /// On how many it would be in the mean if there were no pattern: the mean of the shuffled records.
    pub expected: f64,
    /// The share of shuffled records in which anything looked at is as strong; a multiple of 1 in `SHUFFLES + 1`, never 0.
    pub corrected_p: f64,
    /// Of hours: whether their middle is in the wearer's night.
    pub at_night: bool,
    /// Of lows by hour: on how many of these days one was below the floor.
    pub serious: usize,
    /// Of lows by hour: how long the longest lasted, in minutes.
    pub longest_minutes: Option<f64>,
    /// The dates it happened on: the days to look at.
    pub dates: Vec<NaiveDate>,
}

/// What looking for patterns came to.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Looked {
    /// How many looks had enough occasions.
    pub looks: usize,
    /// What was found, the surest first.
    pub found: Vec<Pattern>,
}

/// Found means a corrected chance of at most this.
pub const SURE: f64 = 0.05;
/// A look needs this many occasions, and where it compares with others as many of those; ours.
pub const FEWEST: usize = 4;
/// The latest days of the period that are looked at.
const MOST_DAYS: usize = 365;
/// So many windows of the clock are reported for lows, and for highs.
const MOST_WINDOWS: usize = 2;
/// Readings of this many minutes cover half an hour.
const BIN_COVERED_MINUTES: f64 = 10.0;
/// Lows by the clock come first: every other look must be stronger by this to count as much. About so much is as if each of the others
/// had a quarter of the chance to err that it would have (`ln 4`). A weighted family still errs in one of twenty. Ours.
const OTHER_LOOKS: f64 = 1.4;
/// A window is reported in place of a narrower one if it is as strong as this share of it; ours.
const NEARLY: f64 = 0.75;
const SEED: u64 = 13;

/// Looks for patterns in a reviewed period.
#[must_use]
pub fn patterns(review: &Review, history: &History) -> Looked {
    patterns_up_to(review, history, SURE)
}

/// As [`patterns`], with what has a corrected chance up to another limit; for checks of the method.
#[must_use]
pub fn patterns_up_to(review: &Review, history: &History, most_p: f64) -> Looked {
    let held = used(history, review.period, review.options);
    let earliest = review.period.until().unix_ms() - MOST_DAYS as i64 * DAY_MS;
    let held = &held[held.partition_point(|one| one.at.unix_ms() < earliest)..];
    let (Some(first), Some(last)) = (held.first(), held.last()) else { return Looked::default() };
    let inside = |at: Moment| first.at <= at && at <= last.at;
    let meals: Vec<&Carbohydrate> =
        history.carbohydrate.iter().filter(|one| one.purpose == Purpose::Meal && inside(one.at)).collect();

    let mut random = Random::new(SEED);
    let clock = Clock::of(held, review);
    let scans = [(&clock.low, 0.0), (&clock.high, OTHER_LOOKS)]
        .map(|((days, eligible), handicap)| clock::scan(days, eligible, handicap, &mut random));
    let mut occasions = [
        occasions::dates(held, review, &history.activities, &history.carbohydrate, &mut random),
        occasions::meals(&meals, review, &mut random),
        occasions::sensor_days(held, review, &history.sensor, &mut random),
    ];

    let mut strongest = vec![0.0; SHUFFLES + 1];
    let scanned = scans.each_ref().map(|block| weigh(block, &mut strongest));
    let weighed = occasions.each_ref().map(|one| weigh(&one.block, &mut strongest));
    let looks = scanned.iter().chain(&weighed).map(Vec::len).sum();
    let sure = |strength: f64| strength > 0.0 && family::corrected_p(strength, &strongest) <= most_p;
    let mut found = Vec::new();
    for (lows, weighed) in [true, false].into_iter().zip(&scanned) {
        let days = if lows { &clock.low } else { &clock.high };
        for Chosen { window, strength } in apart(weighed, days).into_iter().filter(|one| sure(one.strength)) {
            found.push((strength, clock.pattern(&window, lows, review)));
        }
    }
    for (Occasions { kinds, dates, .. }, weighed) in occasions.iter_mut().zip(&weighed) {
        for one in weighed.iter().filter(|one| sure(one.strength)) {
            found.push((one.strength, pattern(one, kinds[one.look], std::mem::take(&mut dates[one.look]))));
        }
    }
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    let corrected = |(strength, pattern): (f64, Pattern)| Pattern {
        corrected_p: family::corrected_p(strength, &strongest),
        ..pattern
    };
    Looked { looks, found: found.into_iter().map(corrected).collect() }
}

/// The looks of a block that have enough occasions.
fn weigh(block: &Block, strongest: &mut [f64]) -> Vec<Weighed> {
    let mut weighed = block.weigh(strongest);
    weighed.retain(|one| usize::from(one.of) >= FEWEST);
    weighed
}

fn pattern(one: &Weighed, kind: Kind, dates: Vec<NaiveDate>) -> Pattern {
    Pattern {
        kind,
        hits: usize::from(one.hits),
        of: usize::from(one.of),
        expected: one.expected,
        corrected_p: 1.0,
        at_night: false,
        serious: 0,
        longest_minutes: None,
        dates,
    }
}

/// The window that is reported for a strongest one, and how strong that one is.
struct Chosen {
    window: Weighed,
    strength: f64,
}

/// The strongest window, then the strongest of what is left when what reaches into that one is taken away.
fn apart(weighed: &[Weighed], (days, eligible): &(Vec<Day>, Eligible)) -> Vec<Chosen> {
    let mut days = days.clone();
    let mut free = weighed.to_vec();
    let mut chosen: Vec<Chosen> = Vec::new();
    while chosen.len() < MOST_WINDOWS {
        let strong = free.iter().filter(|one| one.strength > 0.0);
        let Some(best) = strong.max_by(|a, b| a.strength.total_cmp(&b.strength)).copied() else { break };
        let (start, length) = clock::window(best.look);
        let left = clock::without(&days, start, length);
        chosen.push(Chosen { window: roomier(&best, &free, &days, &left, eligible), strength: best.strength });
        days = left;
        let taken = round_the_clock(start, length);
        free.retain(|one| {
            let (start, length) = clock::window(one.look);
            round_the_clock(start, length) & taken == 0
        });
        free.iter_mut().for_each(|one| *one = one.with(clock::hits(&days, eligible, one.look).len() as u16));
    }
    chosen
}

/// The strongest window is a narrow one: where many overlap, not where they begin and end. The window around it is reported, nearly
/// as strong, that holds most of what reaches into it; of equals the shortest.
fn roomier(best: &Weighed, weighed: &[Weighed], days: &[Day], left: &[Day], eligible: &Eligible) -> Weighed {
    let bins_of = |one: &Weighed| {
        let (start, length) = clock::window(one.look);
        (round_the_clock(start, length), length)
    };
    let (inner, _) = bins_of(best);
    let reaching: Vec<Day> =
        days.iter().zip(left).map(|(day, left)| Day { there: day.there & !left.there, ..*day }).collect();
    let held = |one: &Weighed| -> u32 {
        clock::hits(&reaching, eligible, one.look).iter().map(|hit| hit.1.count_ones()).sum()
    };
    let around = weighed
        .iter()
        .filter(|one| inner & !bins_of(one).0 == 0 && one.hits >= best.hits && one.strength >= NEARLY * best.strength);
    around.max_by_key(|one| (held(one), std::cmp::Reverse(bins_of(one).1))).copied().unwrap_or(*best)
}

/// The bins of a window, with what runs over midnight at the start of the day.
fn round_the_clock(start: usize, length: usize) -> u64 {
    (start..start + length).fold(0, |bins, bin| bins | 1 << (bin % BINS))
}

/// What was low and high at which half hour, by date. A date without readings stands before the first and after the last, since a
/// window can begin on the one and end on the other.
struct Clock {
    /// The first date.
    first: NaiveDate,
    low: (Vec<Day>, Eligible),
    serious: Vec<u64>,
    high: (Vec<Day>, Eligible),
}

/// The date of a moment, and its half hour.
fn date_and_bin(at: Moment) -> (NaiveDate, usize) {
    let local = at.local();
    (local.date(), (local.hour() * 60 + local.minute()) as usize / usize::from(BIN_MINUTES))
}

impl Clock {
    fn of(held: &[Held], review: &Review) -> Self {
        let date = |one: Option<&Held>| one.map_or(NaiveDate::MIN, |one| one.at.local_date());
        let first = date(held.first()).pred_opt().unwrap_or(NaiveDate::MIN);
        // A wearer who travels may have a last reading that is by the clock before others.
        let count = ((date(held.last()) - first).num_days().max(0) as usize + 2).min(MOST_DAYS + 3);
        let place = |date: NaiveDate| usize::try_from((date - first).num_days()).ok().filter(|place| *place < count);
        let mut minutes = vec![[0.0_f64; BINS]; count];
        for one in held {
            let (date, bin) = date_and_bin(one.at);
            if let Some(place) = place(date) {
                minutes[place][bin] += one.minutes;
            }
        }
        let mark = |all: &[Lasting]| {
            let mut there = vec![0_u64; count];
            for one in all {
                let mut at = one.episode.from;
                // The first half hour may be met late; from then on each is.
                while at < one.episode.until {
                    let (date, bin) = date_and_bin(at);
                    if let Some(place) = place(date) {
                        there[place] |= 1 << bin;
                    }
                    let within = at.minute_of_day() % u32::from(BIN_MINUTES);
                    at = at.plus_minutes(f64::from(u32::from(BIN_MINUTES) - within));
                }
            }
            there
        };
        let covered = |day: &[f64; BINS]| {
            let enough = |bin: &usize| day[*bin] >= BIN_COVERED_MINUTES;
            (0..BINS).filter(enough).fold(0_u64, |bins, bin| bins | 1 << bin)
        };
        let covered: Vec<u64> = minutes.iter().map(covered).collect();
        let days = |there: Vec<u64>| {
            let both = there.into_iter().zip(&covered);
            let days: Vec<Day> = both.map(|(there, covered)| Day { covered: covered | there, there }).collect();
            let eligible = clock::eligible(&days);
            (days, eligible)
        };
        Self {
            first,
            low: days(mark(&review.lows)),
            serious: mark(&review.serious_lows),
            high: days(mark(&review.highs)),
        }
    }

    fn pattern(&self, one: &Weighed, lows: bool, review: &Review) -> Pattern {
        let (days, eligible) = if lows { &self.low } else { &self.high };
        let (start, length) = clock::window(one.look);
        let bins: u128 = ((1 << length) - 1) << start;
        let (mut dates, mut serious) = (Vec::new(), 0);
        for (place, there) in clock::hits(days, eligible, one.look) {
            let dates_on = there.trailing_zeros() as usize / BINS;
            dates.push(self.first + TimeDelta::days((place + dates_on) as i64));
            let below = clock::two(self.serious[place], self.serious.get(place + 1).copied().unwrap_or_default());
            serious += usize::from(lows && below & bins != 0);
        }
        // Two nights can meet on one date.
        dates.dedup();
        let minute = |bin: usize| (bin % BINS) as u16 * BIN_MINUTES;
        let hours = DayHours { from_minute: minute(start), until_minute: minute(start + length) };
        let middle = u32::from(minute(start + length / 2));
        let during = |low: &&Lasting| {
            let quarters = (low.episode.minutes() / 15.0).ceil() as u32;
            (0..quarters.min(96)).any(|k| hours.contains(low.episode.from.plus_minutes(f64::from(k) * 15.0)))
        };
        let longest = review.lows.iter().filter(during).map(|low| low.episode.minutes()).max_by(f64::total_cmp);
        Pattern {
            at_night: review.night.contains_minute(middle),
            serious,
            longest_minutes: longest.filter(|_| lows),
            ..pattern(one, if lows { Kind::LowsBetween { hours } } else { Kind::HighsBetween { hours } }, dates)
        }
    }
}

/// Whether an episode begins within so many minutes of a moment. Episodes are in order.
fn begins_within(all: &[Lasting], from: Moment, minutes: f64) -> bool {
    let next = all.partition_point(|one| one.episode.from.is_before(from));
    all.get(next).is_some_and(|one| one.episode.from.minutes_since(from) < minutes)
}
