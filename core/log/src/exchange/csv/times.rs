//! Times as files write them, and what a local time means.

use std::fmt;

use chrono::format::{Item, StrftimeItems};
use chrono::{DateTime, Datelike, NaiveDate, NaiveDateTime, TimeDelta, Timelike, Weekday};

use super::FindingCode;
use super::offsets::{OffsetChange, offsets_at};
use crate::time::Moment;

/// The offsets from UTC, in minutes, a local time can have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Offsets {
    /// The usual case.
    One(i32),
    /// The clocks went back and showed this time twice.
    Two {
        /// Before the change: the first pass.
        before: i32,
        /// After the change: the second pass.
        after: i32,
    },
    /// The clocks went forward over this time.
    Never {
        /// Before the change.
        before: i32,
    },
}

/// What local times without an offset mean.
#[derive(Clone, Copy)]
pub enum Zone<'a> {
    /// One offset from UTC, in minutes, east positive.
    Fixed(i32),
    /// A place whose clocks change; the caller knows its rules.
    Changing(&'a dyn Fn(NaiveDateTime) -> Offsets),
    /// The same, where the caller lists its offsets: changes in order of time, the first of which is valid for all earlier times.
    Changes(&'a [OffsetChange]),
}

impl Zone<'_> {
    /// The offsets a local time can have.
    #[must_use]
    pub fn offsets(self, local: NaiveDateTime) -> Offsets {
        match self {
            Self::Fixed(minutes) => Offsets::One(minutes),
            Self::Changing(rules) => rules(local),
            Self::Changes(changes) => offsets_at(changes, local),
        }
    }
}

impl fmt::Debug for Zone<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Fixed(minutes) => f.debug_tuple("Fixed").field(minutes).finish(),
            Self::Changing(_) => f.write_str("Changing(..)"),
            Self::Changes(changes) => f.debug_tuple("Changes").field(changes).finish(),
        }
    }
}

/// A way times are written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Format {
    /// `2026-03-01T03:05:00+01:00` and its relatives.
    YearFirst,
    /// `1.3.2026 03:05`.
    DayFirst,
    /// `3/1/2026 3:05 AM`.
    MonthFirst,
    UnixSeconds,
    UnixMilliseconds,
    /// In the notation of `strftime`.
    Given(String),
}

/// The ways that are looked for, the likelier first.
pub(super) const FOUND: [Format; 5] =
    [Format::YearFirst, Format::DayFirst, Format::MonthFirst, Format::UnixMilliseconds, Format::UnixSeconds];

/// A time as read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Time {
    /// A local time and its offset in minutes.
    Placed(NaiveDateTime, i32),
    /// A local time alone.
    Local(NaiveDateTime),
}

impl Time {
    pub(super) const fn local(self) -> NaiveDateTime {
        match self {
            Self::Placed(local, _) | Self::Local(local) => local,
        }
    }

    /// Its offset in minutes, if it has one of its own.
    pub(super) const fn offset(self) -> Option<i32> {
        match self {
            Self::Placed(_, offset) => Some(offset),
            Self::Local(_) => None,
        }
    }

    /// The same time with this offset, if it has none of its own.
    pub(super) const fn or_placed(self, offset: i32) -> Self {
        match self {
            Self::Placed(..) => self,
            Self::Local(local) => Self::Placed(local, offset),
        }
    }
}

/// Whether the notation can be used at all.
pub(super) fn is_notation(format: &str) -> bool {
    !format.is_empty() && !StrftimeItems::new(format).any(|item| matches!(item, Item::Error))
}

/// Reads a time written in one way; nothing where it is not.
pub(super) fn read(text: &str, format: &Format) -> Option<Time> {
    match format {
        Format::YearFirst => date_and_time(text, [0, 1, 2]),
        Format::DayFirst => date_and_time(text, [2, 1, 0]),
        // A date with points is day first wherever it is written.
        Format::MonthFirst => (!text.contains('.')).then(|| date_and_time(text, [2, 0, 1])).flatten(),
        Format::UnixSeconds => unix(text, 9..=11).and_then(|n| n.checked_mul(1000)).and_then(from_unix_ms),
        Format::UnixMilliseconds => unix(text, 12..=14).and_then(from_unix_ms),
        Format::Given(format) => NaiveDateTime::parse_from_str(text, format).ok().map(Time::Local).or_else(|| {
            let time = DateTime::parse_from_str(text, format).ok()?;
            Some(Time::Placed(time.naive_local(), time.offset().local_minus_utc() / 60))
        }),
    }
}

/// Whether the text is a time of day without a date.
pub(super) fn is_time_of_day(text: &str) -> bool {
    time_of_day(text).is_some_and(|(_, _, rest)| rest.trim().is_empty())
}

fn unix(text: &str, digits: std::ops::RangeInclusive<usize>) -> Option<i64> {
    (digits.contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit())).then(|| text.parse().ok()).flatten()
}

fn from_unix_ms(ms: i64) -> Option<Time> {
    Some(Time::Placed(DateTime::from_timestamp_millis(ms)?.naive_utc(), 0))
}

/// Takes up to `most` digits off the front.
fn digits(text: &str, most: usize) -> Option<(u32, &str)> {
    let count = text.bytes().take(most).take_while(u8::is_ascii_digit).count();
    let (number, rest) = text.split_at(count);
    Some((number.parse().ok()?, rest))
}

/// A date of three numbers, at `order` year, month and day among them, then a time, then perhaps an offset.
fn date_and_time(text: &str, order: [usize; 3]) -> Option<Time> {
    let (first, rest) = digits(text, 4)?;
    let first_length = text.len() - rest.len();
    let mark = rest.chars().next().filter(|c| matches!(c, '-' | '/' | '.'))?;
    let (second, rest) = digits(rest.strip_prefix(mark)?, 2)?;
    let third_text = rest.strip_prefix(mark)?;
    let (third, rest) = digits(third_text, 4)?;
    let third_length = third_text.len() - rest.len();
    let numbers = [first, second, third];
    let [year, month, day] = order.map(|at| numbers[at]);
    let year_length = if order[0] == 0 { first_length } else { third_length };
    let year = match year_length {
        4 => year,
        // Two digits stand for this century; a year in front has four, or it might be a day.
        2 if order[0] != 0 => 2000 + year,
        _ => return None,
    };
    let date = NaiveDate::from_ymd_opt(i32::try_from(year).ok()?, month, day)?;
    let rest = rest.trim_start_matches(['T', 't', ' ', ',']);
    let (time, millisecond, rest) = time_of_day(rest)?;
    let local = date.and_hms_milli_opt(time[0], time[1], time[2], millisecond)?;
    match offset(rest.trim())? {
        Some(minutes) => Some(Time::Placed(local, minutes)),
        None => Some(Time::Local(local)),
    }
}

/// Hour, minute, second, the milliseconds, and what follows.
fn time_of_day(text: &str) -> Option<([u32; 3], u32, &str)> {
    let (mut hour, rest) = digits(text, 2)?;
    let (minute, mut rest) = digits(rest.strip_prefix(':')?, 2)?;
    let (mut second, mut millisecond) = (0, 0);
    if let Some(after) = rest.strip_prefix(':') {
        (second, rest) = digits(after, 2)?;
        if let Some(after) = rest.strip_prefix(['.', ',']) {
            let fraction = after.len() - after.trim_start_matches(|c: char| c.is_ascii_digit()).len();
            let shown: String = after.chars().take(fraction.min(3)).collect();
            millisecond = format!("{shown:0<3}").parse().ok()?;
            rest = &after[fraction..];
        }
    }
    let half = rest.trim_start();
    let is = |word: &str| half.get(..2).is_some_and(|start| start.eq_ignore_ascii_case(word));
    if is("am") || is("pm") {
        if !(1..=12).contains(&hour) {
            return None;
        }
        hour = hour % 12 + if is("pm") { 12 } else { 0 };
        rest = &half[2..];
    }
    Some(([hour, minute, second], millisecond, rest))
}

/// An offset in minutes; `Some(None)` where there is none, nothing where it cannot be read.
fn offset(text: &str) -> Option<Option<i32>> {
    if text.is_empty() {
        return Some(None);
    }
    if ["z", "utc", "gmt"].iter().any(|name| text.eq_ignore_ascii_case(name)) {
        return Some(Some(0));
    }
    let (sign, rest) = match text.split_at_checked(1)? {
        ("+", rest) => (1, rest),
        ("-", rest) => (-1, rest),
        _ => return None,
    };
    let (hours, rest) = digits(rest, 2)?;
    let rest = rest.strip_prefix(':').unwrap_or(rest);
    let (minutes, rest) = if rest.is_empty() { (0, rest) } else { digits(rest, 2)? };
    let total = i32::try_from(hours * 60 + minutes).ok()?;
    let is_one = rest.is_empty() && minutes < 60 && f64::from(total) <= FURTHEST_HOURS * 60.0;
    is_one.then_some(Some(sign * total))
}

/// An offset in a column of its own, in minutes: `+01:00`, `UTC+1`, hours or minutes.
pub(super) fn offset_alone(text: &str) -> Option<i32> {
    let text = text.trim();
    let bare = ["utc", "gmt"].iter().find_map(|name| {
        let (front, rest) = text.split_at_checked(name.len())?;
        (front.eq_ignore_ascii_case(name) && !rest.is_empty()).then_some(rest.trim())
    });
    let bare = bare.unwrap_or(text);
    let number = bare.parse::<f64>().ok().filter(|_| bare.trim_start_matches(['+', '-']).len() < 4);
    let minutes = match number {
        Some(hours) if hours.abs() <= FURTHEST_HOURS => Some(hours * 60.0),
        Some(minutes) => Some(minutes),
        None if bare.starts_with(|c: char| c.is_ascii_digit()) && bare.contains(':') => {
            offset(&format!("+{bare}")).flatten().map(f64::from)
        }
        None => offset(bare).flatten().map(f64::from),
    };
    // Every offset in use is a whole number of quarters of an hour.
    // The casts fit: 840 at most.
    minutes
        .filter(|minutes| minutes.abs() <= FURTHEST_HOURS * 60.0 && minutes % 15.0 == 0.0)
        .map(|minutes| minutes as i32)
}

/// The offset of a local time of which the same in UTC is known; nothing where they cannot be the same.
pub(super) fn offset_between(local: NaiveDateTime, utc: NaiveDateTime) -> Option<i32> {
    // Either may be written without its seconds.
    let quarters = ((local - utc).num_seconds() as f64 / 900.0).round();
    let apart = (local - utc).num_seconds() as f64 - quarters * 900.0;
    // The casts fit: 56 at most.
    (apart.abs() < 60.0 && quarters.abs() <= FURTHEST_HOURS * 4.0).then_some(quarters as i32 * 15)
}

/// The furthest that a clock is from UTC, in hours.
const FURTHEST_HOURS: f64 = 14.0;

/// Turns local times into moments, row by row.
pub(super) struct Clock<'a> {
    zone: Zone<'a>,
    /// Minutes the clocks went back so far, where only a fixed offset is known.
    gone_back: i32,
    previous: Option<(NaiveDateTime, i64)>,
    forward: u64,
    backward: u64,
}

impl<'a> Clock<'a> {
    pub(super) const fn new(zone: Zone<'a>) -> Self {
        Self { zone, gone_back: 0, previous: None, forward: 0, backward: 0 }
    }

    /// The moment of a row, and what is worth reporting about it; no moment where the log has no such year.
    pub(super) fn moment(
        &mut self,
        time: Time,
        next: impl Fn() -> Option<Time>,
    ) -> (Option<Moment>, Option<FindingCode>) {
        let (local, offset, note) = match time {
            Time::Placed(local, offset) => (local, offset, None),
            Time::Local(local) => {
                let (offset, note) = match self.zone {
                    Zone::Fixed(offset) => self.fixed(local, offset, next),
                    zone => self.changing(local, zone.offsets(local), next),
                };
                (local, offset, note)
            }
        };
        let moment = Moment::from_local(local, offset).ok();
        if let Some(moment) = moment {
            match self.previous.map(|(_, before)| moment.unix_ms().cmp(&before)) {
                Some(std::cmp::Ordering::Greater) => self.forward += 1,
                Some(std::cmp::Ordering::Less) => self.backward += 1,
                Some(std::cmp::Ordering::Equal) | None => {}
            }
            self.previous = Some((local, moment.unix_ms()));
        }
        (moment, note.filter(|_| moment.is_some()))
    }

    fn fixed(
        &mut self,
        local: NaiveDateTime,
        offset: i32,
        next: impl Fn() -> Option<Time>,
    ) -> (i32, Option<FindingCode>) {
        let stepped_back = self.previous.is_some_and(|(before, _)| {
            let back = before - local;
            (TimeDelta::minutes(40)..=TimeDelta::minutes(60)).contains(&back)
                && next().is_some_and(|next| next.local() >= local && next.local() <= before)
        });
        let in_such_a_night = local.weekday() == Weekday::Sun && local.hour() < 4;
        if stepped_back && in_such_a_night && self.forward > self.backward {
            self.gone_back += 60;
            return (offset - self.gone_back, Some(FindingCode::ClockWentBack));
        }
        (offset - self.gone_back, None)
    }

    fn changing(
        &self,
        local: NaiveDateTime,
        offsets: Offsets,
        next: impl Fn() -> Option<Time>,
    ) -> (i32, Option<FindingCode>) {
        match offsets {
            Offsets::One(offset) => (offset, None),
            Offsets::Never { before } => (before, Some(FindingCode::HourThatNeverWas)),
            Offsets::Two { before, after } => {
                let instant = |offset| Moment::from_local(local, offset).map_or(0, Moment::unix_ms);
                let previous = self.previous.map(|(_, instant)| instant);
                let newest_first = self.backward > self.forward;
                // Readings an hour apart do not step back: the hour that was twice is one time twice.
                let is_again = self.previous.is_some_and(|(before, _)| before == local)
                    && next().is_some_and(|next| (next.local() - local).abs() >= TimeDelta::hours(1));
                let offset = if newest_first {
                    if is_again || previous.is_some_and(|previous| instant(after) > previous) { before } else { after }
                } else if is_again || previous.is_some_and(|previous| instant(before) < previous) {
                    after
                } else {
                    before
                };
                (offset, None)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn offsets_of_a_column_of_their_own() {
        let said = ["+01:00", "1:00", "+0100", "UTC+1", "GMT-3:30", "1", "-5.5", "60", "-330", "Z", "utc"];
        let minutes = [60, 60, 60, 60, -210, 60, -330, 60, -330, 0, 0];
        assert_eq!(said.map(|text| offset_alone(text).unwrap()), minutes);
        for none in ["", "Berlin", "1000", "7200", "1.1", "NaN", "+", "UTC+x"] {
            assert_eq!(offset_alone(none), None, "{none}");
        }
    }

    proptest::proptest! {
        #[test]
        fn no_time_makes_it_panic(text in "\\PC{0,40}") {
            for format in FOUND {
                let _ = read(&text, &format);
            }
            let _ = read(&text, &Format::Given("%d/%m/%Y %H:%M %z".to_owned()));
            let _ = offset_alone(&text);
            let _ = crate::log::Written::read(&text);
        }
    }
}
