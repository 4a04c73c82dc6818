//! Moments with the wearer's own clock, and day and night by the wearer's own hours.
//!
//! A [`Moment`] is an instant plus the offset the wearer's clock had then. The instant orders events; the offset says
//! which hour it felt like. Both 02:30s of the night the clocks go back are therefore different moments, and travel
//! changes the hour without reordering the log.

use std::fmt;

use chrono::{DateTime, FixedOffset, NaiveDate, NaiveDateTime, SecondsFormat, TimeDelta, TimeZone, Timelike, Utc};
use serde::{Deserialize, Serialize};

use crate::error::{Error, Quantity, Result, Why};

/// Milliseconds in a minute.
pub const MINUTE_MS: i64 = 60_000;
/// Milliseconds in an hour.
pub const HOUR_MS: i64 = 60 * MINUTE_MS;
/// Milliseconds in 24 hours.
pub const DAY_MS: i64 = 24 * HOUR_MS;

/// The earliest and latest instants a log takes: 1 January 2000 to 31 December 2199, UTC, in milliseconds of Unix time.
const SPAN_MS: std::ops::Range<i64> = 946_684_800_000..7_258_118_400_000;
/// The widest offset in civil use, in minutes either side of UTC (UTC+14 and UTC-12 are the real extremes).
const WIDEST_OFFSET_MINUTES: i32 = 16 * 60;

/// An instant, to the millisecond, with the wearer's offset from UTC at that instant.
///
/// Ordered and compared by the instant first; the offset only breaks ties so that the order is total.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Moment {
    unix_ms: i64,
    offset_minutes: i16,
}

impl Moment {
    /// Makes a moment from Unix time in milliseconds and an offset from UTC in minutes (east positive).
    ///
    /// # Errors
    /// [`Error::Invalid`] outside the years 2000 to 2199, or where the offset is over 16 hours.
    pub fn new(unix_ms: i64, offset_minutes: i32) -> Result<Self> {
        if !SPAN_MS.contains(&unix_ms) {
            return Err(Error::Invalid { what: Quantity::Time, why: Why::OutsideYears { first: 2000, last: 2199 } });
        }
        match i16::try_from(offset_minutes) {
            Ok(small) if offset_minutes.abs() <= WIDEST_OFFSET_MINUTES => Ok(Self { unix_ms, offset_minutes: small }),
            _ => {
                Err(Error::Invalid { what: Quantity::Time, why: Why::OffsetFromUtc { minutes: offset_minutes.into() } })
            }
        }
    }

    /// Reads RFC 3339 (`2026-03-01T03:05:00+01:00`, `Z` allowed).
    ///
    /// # Errors
    /// [`Error::Invalid`] where the text is not such a time, or as [`Moment::new`].
    pub fn parse(text: &str) -> Result<Self> {
        let time = DateTime::parse_from_rfc3339(text.trim()).map_err(|_| Error::Invalid {
            what: Quantity::Time,
            why: Why::Malformed { given: text.to_owned(), like: "2026-03-01T03:05:00+01:00" },
        })?;
        Self::from_datetime(&time)
    }

    /// Takes a chrono time with its offset.
    ///
    /// # Errors
    /// As [`Moment::new`].
    pub fn from_datetime(time: &DateTime<FixedOffset>) -> Result<Self> {
        Self::new(time.timestamp_millis(), time.offset().local_minus_utc() / 60)
    }

    /// Takes a local time and the offset it was written with.
    ///
    /// # Errors
    /// As [`Moment::new`].
    pub fn from_local(local: NaiveDateTime, offset_minutes: i32) -> Result<Self> {
        let unix_ms = local.and_utc().timestamp_millis() - i64::from(offset_minutes) * MINUTE_MS;
        Self::new(unix_ms, offset_minutes)
    }

    /// Unix time in milliseconds.
    #[must_use]
    pub const fn unix_ms(self) -> i64 {
        self.unix_ms
    }

    /// The offset from UTC in minutes, east positive.
    #[must_use]
    pub const fn offset_minutes(self) -> i32 {
        self.offset_minutes as i32
    }

    /// The same instant by the clock that another moment goes by.
    #[must_use]
    pub const fn on_the_clock_of(self, other: Self) -> Self {
        Self { offset_minutes: other.offset_minutes, ..self }
    }

    /// Whether this instant is earlier than another, whatever the clocks there show.
    #[must_use]
    pub const fn is_before(self, other: Self) -> bool {
        self.unix_ms < other.unix_ms
    }

    /// Whether this instant is later than another, whatever the clocks there show.
    #[must_use]
    pub const fn is_after(self, other: Self) -> bool {
        self.unix_ms > other.unix_ms
    }

    /// Minutes from `earlier` to this moment; negative if it is later after all.
    #[must_use]
    // The casts fit: a span of two centuries in ms is far below 2^53.
    pub fn minutes_since(self, earlier: Self) -> f64 {
        (self.unix_ms - earlier.unix_ms) as f64 / MINUTE_MS as f64
    }

    /// This moment moved by whole milliseconds, held inside the years a log takes; the offset stays.
    #[must_use]
    pub fn plus_ms(self, ms: i64) -> Self {
        Self { unix_ms: self.unix_ms.saturating_add(ms).clamp(SPAN_MS.start, SPAN_MS.end - 1), ..self }
    }

    /// This moment moved by minutes, to the nearest millisecond.
    #[must_use]
    // The casts fit: `as` saturates, and plus_ms clamps.
    pub fn plus_minutes(self, minutes: f64) -> Self {
        self.plus_ms((minutes * MINUTE_MS as f64).round() as i64)
    }

    /// The wearer's local time.
    #[must_use]
    pub fn local(self) -> NaiveDateTime {
        let utc = Utc.timestamp_millis_opt(self.unix_ms).single().unwrap_or_default().naive_utc();
        utc + TimeDelta::minutes(i64::from(self.offset_minutes))
    }

    /// The wearer's local date.
    #[must_use]
    pub fn local_date(self) -> NaiveDate {
        self.local().date()
    }

    /// The minute of the wearer's local day, 0 to 1439.
    #[must_use]
    pub fn minute_of_day(self) -> u32 {
        let time = self.local().time();
        time.hour() * 60 + time.minute()
    }

    /// The local hour and minute, `03:05`.
    #[must_use]
    pub fn clock(self) -> String {
        self.local().format("%H:%M").to_string()
    }

    /// RFC 3339 with the offset, to the second where there are no milliseconds.
    #[must_use]
    pub fn to_rfc3339(self) -> String {
        let offset = FixedOffset::east_opt(i32::from(self.offset_minutes) * 60);
        let utc = Utc.timestamp_millis_opt(self.unix_ms).single().unwrap_or_default();
        match offset {
            Some(offset) => utc.with_timezone(&offset).to_rfc3339_opts(SecondsFormat::AutoSi, false),
            None => utc.to_rfc3339_opts(SecondsFormat::AutoSi, false),
        }
    }
}

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.to_rfc3339())
    }
}

impl TryFrom<String> for Moment {
    type Error = Error;
    fn try_from(text: String) -> Result<Self> {
        Self::parse(&text)
    }
}

impl From<Moment> for String {
    fn from(moment: Moment) -> Self {
        moment.to_rfc3339()
    }
}

/// A stretch of the wearer's local day, from one minute of the day up to another, over midnight if `from` is later.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct DayHours {
    /// First minute of the local day that belongs to it, 0 to 1439.
    pub from_minute: u16,
    /// First minute of the local day that no longer belongs to it, 0 to 1439.
    pub until_minute: u16,
}

impl DayHours {
    /// Makes a stretch from two minutes of the day.
    ///
    /// # Errors
    /// [`Error::Invalid`] where a minute is over 1439 or both are the same.
    pub fn new(from_minute: u16, until_minute: u16) -> Result<Self> {
        if from_minute > 1439 || until_minute > 1439 || from_minute == until_minute {
            return Err(Error::Invalid { what: Quantity::Hours, why: Why::SameHours });
        }
        Ok(Self { from_minute, until_minute })
    }

    /// Whether the moment's local time falls in the stretch.
    #[must_use]
    pub fn contains(self, moment: Moment) -> bool {
        self.contains_minute(moment.minute_of_day())
    }

    /// Whether a minute of the local day, 0 to 1439, falls in the stretch.
    #[must_use]
    pub fn contains_minute(self, minute: u32) -> bool {
        let (from, until) = (u32::from(self.from_minute), u32::from(self.until_minute));
        if from < until { (from..until).contains(&minute) } else { minute >= from || minute < until }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> Moment {
        Moment::parse(text).unwrap()
    }

    #[test]
    fn the_night_the_clocks_go_back_has_two_different_half_past_twos() {
        let (first, second) = (at("2026-10-25T02:30:00+02:00"), at("2026-10-25T02:30:00+01:00"));
        assert_eq!(first.minute_of_day(), second.minute_of_day());
        assert!((second.minutes_since(first) - 60.0).abs() < 1e-9);
        assert!(first < second);
    }

    #[test]
    fn reads_and_writes_the_same_text() {
        for text in ["2026-03-01T03:05:00+01:00", "2026-03-01T03:05:00-09:30", "2026-03-01T03:05:00.250+00:00"] {
            assert_eq!(at(text).to_rfc3339(), text);
        }
        assert_eq!(at("2026-03-01T03:05:00Z").to_rfc3339(), "2026-03-01T03:05:00+00:00");
    }

    #[test]
    fn refuses_times_no_log_can_hold() {
        for bad in ["1999-12-31T23:59:59Z", "2200-01-01T00:00:00Z", "03:05", "", "2026-02-30T00:00:00Z"] {
            assert!(Moment::parse(bad).is_err(), "{bad}");
        }
        assert!(Moment::new(1_700_000_000_000, 17 * 60).is_err());
        assert!(Moment::new(i64::MAX, 0).is_err());
    }

    #[test]
    fn night_runs_over_midnight() {
        let night = DayHours::new(23 * 60, 7 * 60).unwrap();
        assert!(night.contains(at("2026-03-01T23:00:00+01:00")));
        assert!(night.contains(at("2026-03-01T06:59:00+01:00")));
        assert!(!night.contains(at("2026-03-01T07:00:00+01:00")));
        assert!(DayHours::new(60, 60).is_err() && DayHours::new(1440, 0).is_err());
    }

    #[test]
    fn moving_never_leaves_the_span() {
        let end = at("2026-03-01T00:00:00Z").plus_ms(i64::MAX);
        assert!(Moment::new(end.unix_ms(), 0).is_ok());
        assert_eq!(at("2026-03-01T00:00:00Z").plus_minutes(f64::NAN), at("2026-03-01T00:00:00Z"));
    }
}
