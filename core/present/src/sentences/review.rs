//! A review in words: each figure on a line of its own, and a few sentences on the week.

use chrono::Weekday;

use crate::review::metrics::{
    Aim, Group, Measured, Need, Part, Risk, TooLittle, gmi_mmol_mol, spread::STABLE_CV_PERCENT,
};
use crate::review::patterns::{Kind, Looked, MealTime, Pattern};
use crate::review::{Lasting, Review};
use crate::words::{Counted, Words};
use crate::{say, text};

/// A figure's name, its value, and what belongs beside it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// What it is.
    pub name: String,
    /// How much, with its unit; or what is missing.
    pub value: String,
    /// The aim, the formula's name or a caution; may be empty.
    pub note: String,
}

/// What is missing, with what is there and what is needed.
#[must_use]
pub fn too_little(missing: TooLittle, words: Words) -> String {
    let need = missing.need;
    let of = match missing.of {
        Need::HoursOfReadings => say!(words, "review-hours-readings", need),
        Need::DaysOfReadings => say!(words, "review-days-worth-readings", need),
        Need::CoveredDays => say!(words, "review-days-covered-by-70", need),
        Need::HoursADayApart => say!(words, "review-hours-with-readings-day-before", need),
        Need::DaysAtThisHour => say!(words, "review-days-with-readings-at-hour", need),
        Need::MeterPairs => say!(words, "review-meter-checks-beside-readings", need),
        Need::Swings => return text!(words, "review-no-swing").to_owned(),
        Need::NearReadings => return text!(words, "review-readings-too-far-apart").to_owned(),
    };
    // Rounded down, so that "have" never looks like enough.
    let have = words.decimal((missing.have * 10.0).floor() / 10.0, usize::from(missing.have.fract() > 0.0));
    let need = words.decimal(missing.need, usize::from(missing.need.fract() > 0.0));
    say!(words, "review-not-enough-data-have-need", have, need, of)
}

/// The value as `write` writes it, or what is missing.
fn value<T: Copy>(measured: &Measured<T>, words: Words, write: impl Fn(T) -> String) -> String {
    measured.map_or_else(|missing| too_little(missing, words), write)
}

/// From so many minutes on a length is written in hours and minutes; ours.
const IN_HOURS_FROM_MINUTES: f64 = 90.0;

/// How long something lasted.
pub(crate) fn length(minutes: f64, words: Words) -> String {
    let minutes = minutes.round();
    if minutes < IN_HOURS_FROM_MINUTES {
        return format!("{} min", words.decimal(minutes, 0));
    }
    format!("{} h {:.0} min", words.decimal((minutes / 60.0).floor(), 0), minutes % 60.0)
}

/// Hours and minutes of an average day.
pub(crate) fn of_a_day(percent: f64, words: Words) -> String {
    let minutes = (percent * 14.4).round();
    let (hours, rest) = ((minutes / 60.0).floor(), minutes % 60.0);
    let length = if hours < 1.0 { format!("{rest:.0} min") } else { format!("{hours:.0} h {rest:.0} min") };
    say!(words, "review-day", length)
}

/// The name of a part of the time, with the consensus' lines in the wearer's unit.
#[must_use]
pub(crate) fn part_name(part: Part, lines: crate::review::metrics::Lines, words: Words) -> String {
    let amount = |mg_dl: f64| words.amount(mg_dl);
    match part {
        Part::InRange => {
            say!(words, "review-in-range-to", low = words.bare_amount(lines.low_mg_dl), high = amount(lines.high_mg_dl))
        }
        Part::BelowLow => say!(words, "review-below-2", low = amount(lines.low_mg_dl)),
        Part::BelowFloor => say!(words, "review-below", floor = amount(lines.floor_mg_dl)),
        Part::AboveHigh => say!(words, "review-above-2", high = amount(lines.high_mg_dl)),
        Part::AboveVeryHigh => say!(words, "review-above", very_high = amount(lines.very_high_mg_dl)),
    }
}

/// The parts of the time, in the order they are shown.
const PARTS: [Part; 5] = [Part::InRange, Part::BelowLow, Part::BelowFloor, Part::AboveHigh, Part::AboveVeryHigh];

/// Time in the ranges, one line a part.
#[must_use]
pub fn range_lines(review: &Review, words: Words) -> Vec<Line> {
    let lines = crate::review::metrics::Lines::of(review.options.group);
    let line = |part: Part| {
        let name = part_name(part, lines, words);
        let aim = Aim::of(review.options.group).iter().find(|aim| aim.part == part);
        let value = value(&review.shares, words, |shares| {
            let percent = shares.part(part);
            // As many digits as it takes to see on which side of the aim it lies.
            let same = |aim: &&Aim| words.decimal(percent, 1) == words.decimal(aim.percent, 1);
            let decimals = if aim.is_some_and(|aim| same(&aim)) { 2 } else { 1 };
            format!("{} % ({})", words.decimal(percent, decimals), of_a_day(percent, words))
        });
        let note = aim.map_or_else(String::new, |aim| {
            let percent = words.decimal(aim.percent, 0);
            let what = if part == Part::InRange {
                say!(words, "review-consensus-aim-over", percent)
            } else {
                say!(words, "review-consensus-aim-under", percent)
            };
            let reached = review.shares.is_ok_and(|shares| aim.reached(&shares)) && review.sufficiency.enough();
            if reached { format!("{what}, {}", text!(words, "review-reached")) } else { what }
        });
        Line { name, value, note }
    };
    PARTS.map(line).to_vec()
}

/// The wearer's own lines, on one line.
#[must_use]
pub fn own_line(review: &Review, own: crate::review::metrics::Lines, words: Words) -> Line {
    let (low, high) = (words.bare_amount(own.low_mg_dl), words.amount(own.high_mg_dl));
    Line {
        name: say!(words, "review-within-your-own-lines-to", low, high),
        value: value(&review.own_shares, words, |shares| format!("{} %", words.decimal(shares.in_range, 1))),
        note: review.own_shares.map_or_else(
            |_| String::new(),
            |shares| {
                let (below, above) = (words.decimal(shares.below(), 1), words.decimal(shares.above(), 1));
                say!(words, "review-below-above", below, above)
            },
        ),
    }
}

/// Level, spread and risk, one line a figure.
#[must_use]
pub fn figure_lines(review: &Review, words: Words) -> Vec<Line> {
    let line = |name: &str, value: String, note: String| Line { name: name.to_owned(), value, note };
    let risk = |risk: Risk| match risk {
        Risk::Low => text!(words, "review-small"),
        Risk::Moderate => text!(words, "review-moderate"),
        Risk::High => text!(words, "review-high"),
    };
    let percent = |number: f64, decimals: usize| format!("{} %", words.decimal(number, decimals));
    let spread = &review.spread;
    vec![
        line(text!(words, "review-mean"), value(spread, words, |one| words.amount(one.mean_mg_dl)), String::new()),
        line(
            text!(words, "review-glucose-management-indicator-gmi"),
            value(&review.gmi_percent, words, |gmi| percent(gmi, 1)),
            match (review.gmi_percent, spread) {
                (Ok(_), Ok(spread)) => {
                    let gmi_mmol_mol = words.decimal(gmi_mmol_mol(spread.mean_mg_dl), 0);
                    if review.options.group == Group::Type1Pregnancy {
                        say!(words, "review-mmol-mol-no-a1c-in-pregnancy", gmi_mmol_mol)
                    } else {
                        say!(words, "review-mmol-mol-laboratorys-a1c-can", gmi_mmol_mol)
                    }
                }
                _ => String::new(),
            },
        ),
        line(
            text!(words, "review-standard-deviation"),
            value(spread, words, |one| words.amount(one.sd_mg_dl)),
            String::new(),
        ),
        line(
            text!(words, "review-coefficient-variation"),
            value(spread, words, |one| percent(one.cv_percent(), 1)),
            say!(words, "review-stable-up-to-consensus", stable_cv_percent = format!("{STABLE_CV_PERCENT:.0}")),
        ),
        line(
            text!(words, "review-low-blood-glucose-index-lbgi"),
            value(&review.indices, words, |one| format!("{} ({})", words.decimal(one.low, 1), risk(one.low_risk()))),
            text!(words, "review-bands-made-for-meter-checks").to_owned(),
        ),
        line(
            text!(words, "review-high-blood-glucose-index-hbgi"),
            value(&review.indices, words, |one| format!("{} ({})", words.decimal(one.high, 1), risk(one.high_risk()))),
            text!(words, "review-bands-made-for-meter-checks").to_owned(),
        ),
        line(
            text!(words, "review-glycemia-risk-index-gri"),
            value(&review.glycemia_risk, words, |one| format!("{} ({})", words.decimal(one.index, 0), one.zone())),
            text!(words, "review-0-best-100-worst-zones").to_owned(),
        ),
        line(
            text!(words, "review-swings-within-day-mage"),
            value(&review.mage_mg_dl, words, |one| words.amount(one)),
            String::new(),
        ),
        line(
            text!(words, "review-differences-from-day-to-day"),
            value(&review.modd_mg_dl, words, |one| words.amount(one)),
            String::new(),
        ),
        line(
            text!(words, "review-j-index"),
            value(spread, words, |one| words.decimal(one.j_index(), 1)),
            String::new(),
        ),
    ]
}

/// What the review stands on, as sentences.
#[must_use]
pub fn basis(review: &Review, words: Words) -> Vec<String> {
    let on = &review.sufficiency;
    let day = |moment: crate::time::Moment| words.date_time(moment);
    let (from, until) = (day(review.period.from()), day(review.period.until()));
    let days = on.whole_days().map_or_else(|| words.decimal(on.days, 1), |whole| words.decimal(whole, 0));
    let share = words.decimal(100.0 * on.share(), 0);
    let gap = match on.longest_gap_hours {
        hours if hours < 1.0 => words.span(60.0 * hours),
        hours => say!(words, "review-gap-hours", hours = words.decimal(hours, 1)),
    };
    let (readings, dates) = (on.readings, on.dates);
    let whole = on.whole_days().unwrap_or_default() as u64;
    let mut said =
        vec![say!(words, "review-to-readings-on-dates-cover", from, until, readings, dates, share, days, whole, gap)];
    if on.left_out_hours > 0.0 {
        let hours = words.decimal(on.left_out_hours, 1);
        said.push(say!(words, "review-h-in-which-sensor-pressed", hours));
    }
    if on.beyond > 0 {
        let readings = words.counted(on.beyond as u64, Counted::Readings);
        said.push(say!(words, "review-too-low-or-too-high", readings));
    }
    for (sensor, count) in &review.concurrent {
        let name = sensor.as_str();
        said.push(say!(words, "review-two-sensors-worn-at-once", count, name));
    }
    if review.clock_changes > 0 {
        let changes = times(review.clock_changes, words);
        said.push(say!(words, "review-your-clock-put-on-or", changes));
    }
    if !on.enough() {
        said.push(text!(words, "review-consensus-judges-by-14-days").to_owned());
    }
    said
}

/// Below this, a change of the time in range from one week to the next is not worth a word, in percentage points; ours.
const WORTH_SAYING_POINTS: f64 = 3.0;

/// A few sentences on a period, beside the one before it; what was found in it leads.
#[must_use]
pub fn summary(review: &Review, before: Option<&Review>, looked: &Looked, words: Words) -> Vec<String> {
    let mut said: Vec<String> = looked.found.iter().take(MOST_LEADING).map(|one| pattern_fact(one, words)).collect();
    let shares = match review.shares {
        Ok(shares) => shares,
        Err(missing) => {
            said.push(capital(&too_little(missing, words)) + ".");
            return said;
        }
    };
    let in_range = words.decimal(shares.in_range, 0);
    let (below, above) = (words.decimal(shares.below(), 1), words.decimal(shares.above(), 0));
    said.push(say!(words, "review-you-in-range-time-below", in_range, below, above));
    // A day or two say nothing of what was usual before.
    let before = before.filter(|before| before.sufficiency.covered() && review.sufficiency.covered());
    if let Some(Ok(earlier)) = before.map(|before| before.shares) {
        let points = shares.in_range - earlier.in_range;
        let size = words.decimal(points.abs(), 0);
        said.push(if points.abs() < WORTH_SAYING_POINTS {
            text!(words, "review-much-like-time-before").to_owned()
        } else if points > 0.0 {
            say!(words, "review-points-more-in-range-than", size)
        } else {
            say!(words, "review-points-less-in-range-than", size)
        });
    }
    said.push(lows(review, words));
    if let Some(longest) = longest(&review.very_highs) {
        let (count, hours) = (review.very_highs.len(), words.decimal(longest.episode.minutes() / 60.0, 1));
        let line = words.amount(crate::wearer::VERY_HIGH_LINE_MG_DL);
        said.push(say!(words, "review-above-you-longest-lasted-h", line, count = times(count, words), hours));
    }
    if !review.sufficiency.enough() {
        let share = words.decimal(100.0 * review.sufficiency.share(), 0);
        said.push(say!(words, "review-readings-cover-time", share));
    }
    said
}

/// That lows cannot be counted, and why, where that is so.
pub(crate) fn lows_unknown(review: &Review, words: Words) -> Option<String> {
    let missing = review.sufficiency.tells_what_lasted().err().filter(|_| review.lows.is_empty())?;
    Some(lows_not_counted(missing, words))
}

/// That lows cannot be counted, and why.
pub(crate) fn lows_not_counted(missing: TooLittle, words: Words) -> String {
    say!(words, "review-lows-not-known", why = too_little(missing, words))
}

fn lows(review: &Review, words: Words) -> String {
    if let Some(unknown) = lows_unknown(review, words) {
        return unknown;
    }
    let count = review.lows.len();
    let Some(longest) = longest(&review.lows) else {
        return text!(words, "review-no-low-lasted-quarter-hour").to_owned();
    };
    let at_night = review.lows.iter().filter(|low| low.at_night).count();
    let (serious, length) = (review.serious_lows.len(), length(longest.episode.minutes(), words));
    let when = words.date_time(longest.episode.from);
    let floor = words.amount(crate::wearer::FLOOR_LINE_MG_DL);
    say!(words, "review-you-low-them-at-night", count = times(count, words), at_night, serious, floor, length, when)
}

fn longest(all: &[Lasting]) -> Option<&Lasting> {
    all.iter().max_by(|a, b| a.episode.minutes().total_cmp(&b.episode.minutes()))
}

fn times(count: usize, words: Words) -> String {
    match count {
        1 => text!(words, "review-once").to_owned(),
        2 => text!(words, "review-twice").to_owned(),
        count => say!(words, "review-times", count),
    }
}

pub(crate) fn capital(text: &str) -> String {
    let mut signs = text.chars();
    signs.next().map_or_else(String::new, |first| first.to_uppercase().collect::<String>() + signs.as_str())
}

/// An episode on one line: when, how long, how far, and what came before.
#[must_use]
pub fn episode_line(lasting: &Lasting, words: Words) -> String {
    let episode = &lasting.episode;
    let when = words.date_time(episode.from);
    let length = length(episode.minutes(), words);
    let furthest = episode.furthest_beyond.map_or_else(
        || say!(words, "review-to", furthest = words.amount(episode.furthest_mg_dl)),
        |beyond| words.beyond(beyond, episode.furthest_mg_dl),
    );
    let end = if episode.ended { "" } else { text!(words, "review-end-not-seen") };
    let ago = |what: &str, minutes: Option<f64>| {
        minutes.map(|minutes| {
            let minutes = words.decimal(minutes, 0);
            say!(words, "review-min-before", what, minutes)
        })
    };
    let before: Vec<String> = [
        ago(text!(words, "review-rapid-insulin"), lasting.before.rapid_insulin),
        ago(text!(words, "review-meal"), lasting.before.meal),
        ago(text!(words, "review-rescue-carbohydrate"), lasting.before.rescue),
        ago(text!(words, "review-movement"), lasting.before.activity),
    ]
    .into_iter()
    .flatten()
    .collect();
    let before = if before.is_empty() { String::new() } else { format!("; {}", before.join(", ")) };
    format!("{when}  {length}, {furthest}{end}{before}")
}

/// Dates named at most, the latest first.
const MOST_DATES: usize = 5;
/// Patterns a summary leads with at most.
const MOST_LEADING: usize = 2;

/// What was looked for and found: of each pattern what was seen and how often, how sure it is, the days to look at and what to ask.
#[must_use]
pub fn pattern_lines(looked: &Looked, words: Words) -> Vec<String> {
    let looks = looked.looks;
    if looks == 0 {
        return vec![text!(words, "review-there-too-little-yet-to").to_owned()];
    }
    let mut said: Vec<String> = looked.found.iter().map(|one| pattern_line(one, words)).collect();
    said.push(match looked.found.len() {
        0 => say!(words, "review-pattern-none", looks),
        _ => say!(words, "review-pattern-how-looked", looks),
    });
    said
}

fn pattern_line(pattern: &Pattern, words: Words) -> String {
    let dates: Vec<String> = pattern.dates.iter().rev().take(MOST_DATES).map(|date| words.date(*date)).collect();
    let sure = say!(
        words,
        "review-pattern-sure",
        expected = words.decimal(pattern.expected, 0),
        chance = words.chance(pattern.corrected_p),
        dates = dates.join(", "),
    );
    let mut said = vec![pattern_fact(pattern, words)];
    if let Some(minutes) = pattern.longest_minutes {
        let (serious, minutes) = (pattern.serious, words.decimal(minutes, 0));
        let floor = words.amount(crate::wearer::FLOOR_LINE_MG_DL);
        said.push(say!(words, "review-pattern-low-worst", serious, floor, minutes));
    }
    said.extend([sure, question(pattern, words).to_owned()]);
    said.join(" ")
}

/// What was seen, and how often.
fn pattern_fact(pattern: &Pattern, words: Words) -> String {
    let (hits, of) = (pattern.hits, pattern.of);
    let clock = |minute: u16| format!("{:02}:{:02}", minute / 60, minute % 60);
    match pattern.kind {
        Kind::LowsBetween { hours } => {
            let (from, until) = (clock(hours.from_minute), clock(hours.until_minute));
            if pattern.at_night {
                say!(words, "review-pattern-low-nights", hits, of, from, until)
            } else {
                say!(words, "review-pattern-low-days", hits, of, from, until)
            }
        }
        Kind::HighsBetween { hours } => {
            let (from, until) = (clock(hours.from_minute), clock(hours.until_minute));
            if pattern.at_night {
                say!(words, "review-pattern-high-nights", hits, of, from, until)
            } else {
                say!(words, "review-pattern-high-days", hits, of, from, until)
            }
        }
        Kind::LowsAfterMovement => say!(words, "review-pattern-low-movement", hits, of),
        Kind::LowsOnFirstDay => say!(words, "review-pattern-low-first-day", hits, of),
        Kind::HighsOnFirstDay => say!(words, "review-pattern-high-first-day", hits, of),
        Kind::LowsOnLastDay => say!(words, "review-pattern-low-last-day", hits, of),
        Kind::HighsOnLastDay => say!(words, "review-pattern-high-last-day", hits, of),
        Kind::LowsAtWeekends => say!(words, "review-pattern-low-weekends", hits, of),
        Kind::HighsAtWeekends => say!(words, "review-pattern-high-weekends", hits, of),
        Kind::LowsOnWorkdays => say!(words, "review-pattern-low-workdays", hits, of),
        Kind::HighsOnWorkdays => say!(words, "review-pattern-high-workdays", hits, of),
        Kind::LowsOn { weekday: day } => {
            say!(words, "review-pattern-low-weekday", hits, of, weekdays = weekdays(day, words))
        }
        Kind::HighsOn { weekday: day } => {
            say!(words, "review-pattern-high-weekday", hits, of, weekdays = weekdays(day, words))
        }
        Kind::HighsAfterMeals { time } => {
            say!(words, "review-pattern-high-meals", hits, of, meals = meals(time, words))
        }
        Kind::LowsAfterMeals { time } => say!(words, "review-pattern-low-meals", hits, of, meals = meals(time, words)),
        Kind::ReboundAfterRescue => say!(words, "review-pattern-rebound", hits, of),
    }
}

/// What to ask the care team.
fn question(pattern: &Pattern, words: Words) -> &'static str {
    match pattern.kind {
        Kind::LowsBetween { .. } if pattern.at_night => text!(words, "review-pattern-ask-night"),
        Kind::LowsBetween { .. } => text!(words, "review-pattern-ask-lows"),
        Kind::HighsBetween { .. } => text!(words, "review-pattern-ask-highs"),
        Kind::LowsAfterMovement => text!(words, "review-pattern-ask-movement"),
        Kind::LowsOnFirstDay | Kind::HighsOnFirstDay | Kind::LowsOnLastDay | Kind::HighsOnLastDay => {
            text!(words, "review-pattern-ask-sensor")
        }
        Kind::LowsAtWeekends
        | Kind::LowsOnWorkdays
        | Kind::LowsOn { .. }
        | Kind::HighsAtWeekends
        | Kind::HighsOnWorkdays
        | Kind::HighsOn { .. } => text!(words, "review-pattern-ask-weekday"),
        Kind::HighsAfterMeals { .. } | Kind::LowsAfterMeals { .. } => text!(words, "review-pattern-ask-meals"),
        Kind::ReboundAfterRescue => text!(words, "review-pattern-ask-rebound"),
    }
}

fn weekdays(day: Weekday, words: Words) -> &'static str {
    match day {
        Weekday::Mon => text!(words, "review-pattern-mondays"),
        Weekday::Tue => text!(words, "review-pattern-tuesdays"),
        Weekday::Wed => text!(words, "review-pattern-wednesdays"),
        Weekday::Thu => text!(words, "review-pattern-thursdays"),
        Weekday::Fri => text!(words, "review-pattern-fridays"),
        Weekday::Sat => text!(words, "review-pattern-saturdays"),
        Weekday::Sun => text!(words, "review-pattern-sundays"),
    }
}

fn meals(time: MealTime, words: Words) -> &'static str {
    match time {
        MealTime::Morning => text!(words, "review-pattern-morning-meals"),
        MealTime::Midday => text!(words, "review-pattern-midday-meals"),
        MealTime::Evening => text!(words, "review-pattern-evening-meals"),
        MealTime::Night => text!(words, "review-pattern-night-meals"),
    }
}
