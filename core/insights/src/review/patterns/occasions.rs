//! Looks at occasions: dates of a weekday, the hours after movement or after a low that was treated, meals, days of a sensor.
//!
//! # Method
//! Each has its own null, and is shuffled by it:
//! - Dates (weekdays, weekends, after movement, after a rescue): "what comes in these hours comes on any date". The hours stay, and the
//!   dates they are looked up on are shuffled; so an hour of its own, which the clock's scan finds, is no pattern here.
//! - Meals: "one meal of a day is like the other". What came after the meals of a date is shuffled among them.
//! - Days of a sensor: "one day of a sensor is like the other". A day of the same sensor is drawn.

use std::collections::BTreeMap;

use chrono::{Datelike, NaiveDate, Weekday};

use super::clock::{BIN_MINUTES, BINS};
use super::family::{Block, Random, SHUFFLES};
use super::{FEWEST, Kind, MealTime, OTHER_LOOKS, begins_within};
use crate::log::{Activity, Carbohydrate, Purpose, SensorEvent, SensorNote};
use crate::outcomes::REBOUND_MINUTES;
use crate::review::metrics::{Held, Lines, swings, total_minutes};
use crate::review::{Lasting, Review};
use crate::time::{DAY_MS, Moment};

/// Lows within this time of movement's end are after it, in minutes.
const AFTER_MOVEMENT_MINUTES: f64 = 720.0;
/// Highs within this time of a meal are after it, in minutes.
const AFTER_MEAL_MINUTES: f64 = 180.0;
/// Lows within this time of a meal are after it, in minutes: about as long as rapid-acting insulin acts.
const LOW_AFTER_MEAL_MINUTES: f64 = 240.0;
/// A date or a sensor's day with more of its time than this above the high line is a high one.
const HIGH_SHARE: f64 = 0.25;

/// A block of looks with what each is about and the dates it was hit on.
pub(super) struct Occasions {
    pub block: Block,
    pub kinds: Vec<Kind>,
    pub dates: Vec<Vec<NaiveDate>>,
}

impl Occasions {
    fn none() -> Self {
        Self {
            block: Block { of: Vec::new(), expected: Vec::new(), handicap: OTHER_LOOKS, hits: Vec::new() },
            kinds: Vec::new(),
            dates: Vec::new(),
        }
    }
}

/// What is counted on a date.
#[derive(Clone, Copy)]
enum Target {
    LowBegins,
    HighBegins,
    HighDate,
}

/// What came on a covered date, in half hours from its midnight, over 48 hours.
struct Date {
    date: NaiveDate,
    came: [u128; 3],
}

/// Hours of one date in which something is looked for.
struct Hours {
    place: usize,
    bins: u128,
}

const WHOLE_DATE: u128 = (1 << BINS) - 1;

/// The half hour of a moment, counted from a date's midnight by the clock it shows.
fn bin(at: Moment, date: NaiveDate) -> Option<usize> {
    let days = (at.local_date() - date).num_days();
    let within = at.minute_of_day() as usize / usize::from(BIN_MINUTES);
    (0..2).contains(&days).then(|| days as usize * BINS + within)
}

/// Bins from one up to a length, as far as two days reach.
fn span(first: usize, length: usize) -> u128 {
    (first..first + length).take_while(|bin| *bin < 2 * BINS).fold(0, |bins, bin| bins | 1 << bin)
}

fn covered_dates(held: &[Held], review: &Review) -> Vec<Date> {
    let high_line = Lines::of(review.options.group).high_mg_dl;
    let begun = |all: &[Lasting], date: NaiveDate| {
        let begins = all.partition_point(|one| one.episode.from.local_date() < date);
        let near = all[begins..].iter().map_while(|one| bin(one.episode.from, date));
        near.fold(0_u128, |bins, bin| bins | 1 << bin)
    };
    let days = swings::covered_days(held).into_iter();
    days.map(|(date, day)| {
        let came = [begun(&review.lows, date), begun(&review.highs, date), u128::from(is_high(&day, high_line))];
        Date { date, came }
    })
    .collect()
}

fn is_high(day: &[Held], line_mg_dl: f64) -> bool {
    let over: f64 = day.iter().filter(|one| one.shown.is_above(line_mg_dl)).map(|one| one.minutes).sum();
    over > HIGH_SHARE * total_minutes(day)
}

/// Looks at dates: shuffled together.
pub(super) fn dates(
    held: &[Held],
    review: &Review,
    activities: &[Activity],
    carbohydrate: &[Carbohydrate],
    random: &mut Random,
) -> Occasions {
    let dates = covered_dates(held, review);
    let mut looks: Vec<(Kind, Target, Vec<Hours>)> = Vec::new();
    let whole = |is: &dyn Fn(Weekday) -> bool| -> Vec<Hours> {
        let places = (0..dates.len()).filter(|place| is(dates[*place].date.weekday()));
        places.map(|place| Hours { place, bins: WHOLE_DATE }).collect()
    };
    let weekend = |day: Weekday| matches!(day, Weekday::Sat | Weekday::Sun);
    let mut weekdays = |low: Kind, high: Kind, is: &dyn Fn(Weekday) -> bool| {
        looks.push((low, Target::LowBegins, whole(is)));
        looks.push((high, Target::HighDate, whole(is)));
    };
    weekdays(Kind::LowsAtWeekends, Kind::HighsAtWeekends, &weekend);
    weekdays(Kind::LowsOnWorkdays, Kind::HighsOnWorkdays, &|day| !weekend(day));
    for number in 0..7 {
        let Ok(weekday) = Weekday::try_from(number) else { continue };
        weekdays(Kind::LowsOn { weekday }, Kind::HighsOn { weekday }, &|day| day == weekday);
    }
    looks.push((Kind::LowsAfterMovement, Target::LowBegins, after_movement(&dates, activities)));
    looks.push((Kind::ReboundAfterRescue, Target::HighBegins, after_rescue(&dates, review, carbohydrate)));
    looks.retain(|(_, _, hours)| {
        let mut places: Vec<usize> = hours.iter().map(|one| one.place).collect();
        places.dedup();
        places.len() >= FEWEST && dates.len() - places.len() >= FEWEST
    });
    let came = |target: Target, bins: u128, place: usize| dates[place].came[target as usize] & bins != 0;
    // The hours of one look are mostly the same, so their share of dates is worked out once for each.
    let mean = |(_, target, hours): &(Kind, Target, Vec<Hours>)| -> f64 {
        let mut known: BTreeMap<u128, f64> = BTreeMap::new();
        let share = |bins: u128| {
            (0..dates.len()).filter(|place| came(*target, bins, *place)).count() as f64 / dates.len() as f64
        };
        hours.iter().map(|one| *known.entry(one.bins).or_insert_with(|| share(one.bins))).sum()
    };
    let mut block = Block {
        of: looks.iter().map(|(_, _, hours)| hours.len() as u16).collect(),
        expected: looks.iter().map(mean).collect(),
        handicap: OTHER_LOOKS,
        hits: Vec::new(),
    };
    let mut order: Vec<usize> = (0..dates.len()).collect();
    let hit = |target: Target, one: &Hours, order: &[usize]| came(target, one.bins, order[one.place]);
    for copy in 0..=SHUFFLES {
        if copy > 0 {
            random.shuffle(&mut order);
        }
        let count = |(_, target, hours): &(Kind, Target, Vec<Hours>)| {
            hours.iter().filter(|one| hit(*target, one, &order)).count() as u16
        };
        block.hits.extend(looks.iter().map(count));
    }
    order.sort_unstable();
    let seen = |(_, target, hours): &(Kind, Target, Vec<Hours>)| {
        let mut seen: Vec<NaiveDate> =
            hours.iter().filter(|one| hit(*target, one, &order)).map(|one| dates[one.place].date).collect();
        seen.dedup();
        seen
    };
    Occasions { block, kinds: looks.iter().map(|look| look.0).collect(), dates: looks.iter().map(seen).collect() }
}

/// The hours during and after the movement of each date that has any.
fn after_movement(dates: &[Date], activities: &[Activity]) -> Vec<Hours> {
    let mut all = Vec::new();
    for (place, Date { date, .. }) in dates.iter().enumerate() {
        let begins = activities.partition_point(|one| one.at.local_date() < *date);
        let own = activities[begins..].iter().take_while(|one| one.at.local_date() == *date);
        let bins = own.fold(0, |bins, one| {
            let length = ((one.minutes + AFTER_MOVEMENT_MINUTES) / f64::from(BIN_MINUTES)).ceil() as usize;
            bins | bin(one.at, *date).map_or(0, |first| span(first, length))
        });
        if bins != 0 {
            all.push(Hours { place, bins });
        }
    }
    all
}

/// The hours after the end of each low for which rescue carbohydrate is logged.
fn after_rescue(dates: &[Date], review: &Review, carbohydrate: &[Carbohydrate]) -> Vec<Hours> {
    let rescues: Vec<Moment> =
        carbohydrate.iter().filter(|one| one.purpose == Purpose::Rescue).map(|one| one.at).collect();
    let rescued = review.lows.iter().filter(|low| {
        let begins = rescues.partition_point(|at| at.minutes_since(low.episode.from) < -15.0);
        low.episode.ended && rescues.get(begins).is_some_and(|at| *at <= low.episode.until)
    });
    let length = (REBOUND_MINUTES / f64::from(BIN_MINUTES)).ceil() as usize;
    rescued
        .filter_map(|low| {
            let date = low.episode.until.local_date();
            let place = dates.binary_search_by(|one| one.date.cmp(&date)).ok()?;
            Some(Hours { place, bins: span(bin(low.episode.until, date)?, length) })
        })
        .collect()
}

/// Looks at meals: what came after them is shuffled within each date.
pub(super) fn meals(meals: &[&Carbohydrate], review: &Review, random: &mut Random) -> Occasions {
    let all: Vec<(NaiveDate, MealTime)> =
        meals.iter().map(|meal| (meal.at.local_date(), MealTime::of(meal.at))).collect();
    let came = |meal: &&Carbohydrate| {
        let high = begins_within(&review.highs, meal.at, AFTER_MEAL_MINUTES);
        [high, begins_within(&review.lows, meal.at, LOW_AFTER_MEAL_MINUTES)]
    };
    let record: Vec<[bool; 2]> = meals.iter().map(came).collect();
    let of = |time: MealTime| all.iter().filter(|one| one.1 == time).count();
    let times: Vec<MealTime> =
        MealTime::ALL.into_iter().filter(|time| of(*time) >= FEWEST && all.len() - of(*time) >= FEWEST).collect();
    let mut found = Occasions::none();
    for time in &times {
        let hit_on = |what: usize| -> Vec<NaiveDate> {
            let hit = all.iter().zip(&record).filter(|(one, came)| one.1 == *time && came[what]);
            hit.map(|(one, _)| one.0).collect()
        };
        found.kinds.extend([Kind::HighsAfterMeals { time: *time }, Kind::LowsAfterMeals { time: *time }]);
        found.block.of.extend([of(*time) as u16; 2]);
        found.dates.extend([hit_on(0), hit_on(1)]);
    }
    let mut mean = [[0.0_f64; 2]; MealTime::ALL.len()];
    let mut begin = 0;
    for date in all.chunk_by(|a, b| a.0 == b.0) {
        let came = &record[begin..begin + date.len()];
        begin += date.len();
        for what in 0..2 {
            let share = came.iter().filter(|came| came[what]).count() as f64 / date.len() as f64;
            date.iter().for_each(|(_, time)| mean[*time as usize][what] += share);
        }
    }
    found.block.expected = times.iter().flat_map(|time| mean[*time as usize]).collect();
    let mut now = record;
    for copy in 0..=SHUFFLES {
        if copy > 0 {
            let mut begin = 0;
            for date in all.chunk_by(|a, b| a.0 == b.0) {
                random.shuffle(&mut now[begin..begin + date.len()]);
                begin += date.len();
            }
        }
        let mut counts = [[0_u16; 2]; MealTime::ALL.len()];
        for ((_, time), came) in all.iter().zip(&now) {
            let count = &mut counts[*time as usize];
            count[0] += u16::from(came[0]);
            count[1] += u16::from(came[1]);
        }
        found.block.hits.extend(times.iter().flat_map(|time| counts[*time as usize]));
    }
    found
}

/// The covered days of one sensor, its first and its last among them: whether a low began and whether it was a high day.
struct Session {
    days: Vec<(NaiveDate, [bool; 2])>,
}

/// Looks at the first and the last day of sensors: another day of the same sensor is drawn.
pub(super) fn sensor_days(held: &[Held], review: &Review, notes: &[SensorNote], random: &mut Random) -> Occasions {
    let sessions = sessions(held, review, notes);
    let mut found = Occasions::none();
    if sessions.len() < FEWEST {
        return found;
    }
    found.kinds = vec![Kind::LowsOnFirstDay, Kind::HighsOnFirstDay, Kind::LowsOnLastDay, Kind::HighsOnLastDay];
    found.block.of = vec![sessions.len() as u16; 4];
    let hit_on = |what: usize, last: bool| -> Vec<NaiveDate> {
        let day = |one: &Session| if last { one.days.last().copied() } else { one.days.first().copied() };
        sessions.iter().filter_map(day).filter(|day| day.1[what]).map(|day| day.0).collect()
    };
    found.dates = vec![hit_on(0, false), hit_on(1, false), hit_on(0, true), hit_on(1, true)];
    let mean = |what: usize| -> f64 {
        let share = |one: &Session| one.days.iter().filter(|day| day.1[what]).count() as f64 / one.days.len() as f64;
        sessions.iter().map(share).sum()
    };
    found.block.expected = vec![mean(0), mean(1), mean(0), mean(1)];
    for copy in 0..=SHUFFLES {
        let mut counts = [0_u16; 4];
        for Session { days } in &sessions {
            let (first, last) =
                if copy == 0 { (0, days.len() - 1) } else { (random.below(days.len()), random.below(days.len())) };
            for what in 0..2 {
                counts[what] += u16::from(days[first].1[what]);
                counts[what + 2] += u16::from(days[last].1[what]);
            }
        }
        found.block.hits.extend(counts);
    }
    found
}

fn sessions(held: &[Held], review: &Review, notes: &[SensorNote]) -> Vec<Session> {
    let high_line = Lines::of(review.options.group).high_mg_dl;
    let bounds: Vec<(Moment, bool)> = notes
        .iter()
        .filter_map(|note| match note.event {
            SensorEvent::Inserted { .. } => Some((note.at, true)),
            SensorEvent::Ended => Some((note.at, false)),
            _ => None,
        })
        .collect();
    let mut all = Vec::new();
    for (place, (begin, _)) in bounds.iter().enumerate().filter(|(_, bound)| bound.1) {
        // One that is still worn has no last day yet.
        let Some((end, _)) = bounds.get(place + 1) else { continue };
        let whole = (end.unix_ms() - begin.unix_ms()).div_euclid(DAY_MS);
        // What the first day lacks in warm-up no other lacks, so a day counts as any other does: by what readings cover.
        let days: Vec<Option<(NaiveDate, [bool; 2])>> = (0..whole.min(i64::from(SensorEvent::LONGEST_RATED_DAYS)))
            .map(|day| {
                let from = begin.plus_ms(day * DAY_MS);
                let own = &held[held.partition_point(|one| one.at < from)..];
                let own = &own[..own.partition_point(|one| one.at.unix_ms() < from.unix_ms() + DAY_MS)];
                let low = begins_within(&review.lows, from, 1440.0);
                let covered = total_minutes(own) >= swings::DAY_COVERED * 1440.0;
                covered.then(|| (from.local_date(), [low, is_high(own, high_line)]))
            })
            .collect();
        // Without its first and last day there is nothing to compare.
        if let (Some(Some(_)), Some(Some(_))) = (days.first(), days.last()) {
            let days: Vec<_> = days.into_iter().flatten().collect();
            if days.len() >= 3 {
                all.push(Session { days });
            }
        }
    }
    all
}
