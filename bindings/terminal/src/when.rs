//! The device's clock, and times as people type them.

use chrono::{Local, NaiveDateTime, NaiveTime, Offset, TimeDelta, TimeZone};
use ebbstead_core::exchange::csv::{Offsets, Zone};
use ebbstead_core::log::Entry;
use ebbstead_core::time::{DAY_MS, Moment};
use ebbstead_core::{Error, Quantity, Result, Why};

/// What local times mean.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// This device's zone.
    Device,
    /// One offset, in minutes.
    Fixed(i32),
}

impl Place {
    /// For the importer.
    pub fn zone(self) -> Zone<'static> {
        match self {
            Self::Device => Zone::Changing(&device_offsets),
            Self::Fixed(minutes) => Zone::Fixed(minutes),
        }
    }

    /// The present, by the device's clock.
    pub fn now(self) -> Result<Moment> {
        let now = Local::now();
        let offset = match self {
            Self::Device => now.offset().fix().local_minus_utc() / 60,
            Self::Fixed(minutes) => minutes,
        };
        Ok(Moment::new(now.timestamp_millis(), offset)?)
    }

    fn offsets(self, local: NaiveDateTime) -> Offsets {
        match self {
            Self::Device => device_offsets(local),
            Self::Fixed(minutes) => Offsets::One(minutes),
        }
    }

    fn placed(self, local: NaiveDateTime, now: Moment) -> Result<Moment> {
        past(local, self.offsets(local), now)
    }

    /// What the clocks did with a time as typed, where they showed it twice or never: nothing for any other.
    pub fn shown_by_clocks(self, text: &str, taken: Moment) -> Option<Offsets> {
        if Moment::parse(text.trim()).is_ok() {
            return None;
        }
        Some(self.offsets(taken.local())).filter(|offsets| !matches!(offsets, Offsets::One(_)))
    }

    /// Reads a time as typed: with offset, as a local date and time, or as a time of day, which is the last such one.
    pub fn parse(self, text: &str, now: Moment) -> Result<Moment> {
        let text = text.trim();
        if let Ok(moment) = Moment::parse(text) {
            return Ok(moment);
        }
        for format in ["%Y-%m-%d %H:%M:%S", "%Y-%m-%d %H:%M", "%Y-%m-%dT%H:%M:%S", "%Y-%m-%dT%H:%M"] {
            if let Ok(local) = NaiveDateTime::parse_from_str(text, format) {
                return self.placed(local, now);
            }
        }
        if let Ok(of_day) = NaiveTime::parse_from_str(text, "%H:%M") {
            let today = self.placed(now.local_date().and_time(of_day), now)?;
            let latest = now.plus_ms(Entry::AHEAD_OF_CLOCK_MS);
            return if !today.is_after(latest) {
                Ok(today)
            } else {
                self.placed(now.plus_ms(-DAY_MS).local_date().and_time(of_day), now)
            };
        }
        Err(Error::Invalid {
            what: Quantity::Time,
            why: Why::Malformed { given: text.to_owned(), like: "HH:MM, YYYY-MM-DD HH:MM, 2026-03-01T03:05:00+01:00" },
        })
    }

    /// The same for a time ahead: a time of day is the next such one.
    pub fn parse_ahead(self, text: &str, now: Moment) -> Result<Moment> {
        let Ok(of_day) = NaiveTime::parse_from_str(text.trim(), "%H:%M") else { return self.parse(text, now) };
        let local = now.local_date().and_time(of_day);
        let today = ahead(local, self.offsets(local), now)?;
        if today.is_after(now) {
            return Ok(today);
        }
        self.placed(now.plus_ms(DAY_MS).local_date().and_time(of_day), now)
    }
}

/// The moment of a local time that is over, as a rule.
fn past(local: NaiveDateTime, offsets: Offsets, now: Moment) -> Result<Moment> {
    let at = |offset| Moment::from_local(local, offset);
    // The first of these unless it has not come yet, else the second.
    let (first, second) = match offsets {
        Offsets::One(offset) => return Ok(at(offset)?),
        Offsets::Two { before, after } => (at(after)?, at(before)?),
        // By the clock before the change: it has not come yet for whoever counts back on the new one, which is an hour further.
        Offsets::Never { before } => (at(before)?, at(before + 60)?),
    };
    Ok(if first.is_after(now) { second } else { first })
}

/// The moment of a local time that lies ahead: of two the first that does.
fn ahead(local: NaiveDateTime, offsets: Offsets, now: Moment) -> Result<Moment> {
    if let Offsets::Two { before, after } = offsets {
        let first = Moment::from_local(local, before)?;
        return Ok(if first.is_after(now) { first } else { Moment::from_local(local, after)? });
    }
    past(local, offsets, now)
}

/// The device's offsets for a local time.
fn device_offsets(local: NaiveDateTime) -> Offsets {
    let minutes = |offset: chrono::FixedOffset| offset.local_minus_utc() / 60;
    match Local.offset_from_local_datetime(&local) {
        chrono::LocalResult::Single(offset) => Offsets::One(minutes(offset)),
        chrono::LocalResult::Ambiguous(first, second) => {
            // Which of the two held before the change is not promised; before a change back it is the larger.
            let (one, other) = (minutes(first), minutes(second));
            let (before, after) = (one.max(other), one.min(other));
            // The end of the hour counts among those that were twice here, and was once: the change is over by then.
            let utc = local - TimeDelta::minutes(i64::from(before));
            let held = minutes(Local.offset_from_utc_datetime(&utc));
            if held == before { Offsets::Two { before, after } } else { Offsets::One(after) }
        }
        chrono::LocalResult::None => {
            let before = Local.offset_from_local_datetime(&(local - TimeDelta::hours(3)));
            Offsets::Never { before: before.latest().map_or(0, minutes) }
        }
    }
}

/// Reads an offset: `+01:00`, `-5`, `Z`; in minutes.
pub fn offset(text: &str) -> std::result::Result<i32, String> {
    let wrong = || "give an offset from UTC such as +01:00 or -05:30".to_owned();
    if text.eq_ignore_ascii_case("z") || text.eq_ignore_ascii_case("utc") {
        return Ok(0);
    }
    let (sign, rest) = match text.split_at_checked(1).ok_or_else(wrong)? {
        ("+", rest) => (1, rest),
        ("-", rest) => (-1, rest),
        _ => return Err(wrong()),
    };
    let (hours, minutes) = rest.split_once(':').unwrap_or((rest, "0"));
    let number = |text: &str| text.parse::<u8>().ok().map(i32::from);
    match (number(hours), number(minutes)) {
        (Some(hours), Some(minutes)) if hours <= 16 && minutes < 60 => Ok(sign * (60 * hours + minutes)),
        _ => Err(wrong()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn offsets() {
        assert_eq!((offset("+01:00"), offset("-05:30"), offset("Z"), offset("+2")), (Ok(60), Ok(-330), Ok(0), Ok(120)));
        for bad in ["", "1", "+x", "+25:00", "+01:60", "\u{2212}1"] {
            assert!(offset(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn nights_in_which_the_clocks_change() {
        let local = |text| NaiveDateTime::parse_from_str(text, "%Y-%m-%d %H:%M").unwrap();
        let (skipped, twice) = (local("2026-03-29 02:30"), local("2026-10-25 02:50"));
        let minutes = |moment: Result<Moment>, now: Moment| (moment.unwrap().unix_ms() - now.unix_ms()) / 60_000;
        let last = |now| {
            let now = Moment::parse(now).unwrap();
            minutes(past(skipped, Offsets::Never { before: 60 }, now), now)
        };
        // At ten past three by the new clock half past two was forty minutes ago by it.
        assert_eq!([last("2026-03-29T03:10:00+02:00"), last("2026-03-29T05:00:00+02:00")], [-40, -90]);
        let next = |now| {
            let now = Moment::parse(now).unwrap();
            minutes(ahead(twice, Offsets::Two { before: 120, after: 60 }, now), now)
        };
        let nows = ["2026-10-25T02:40:00+02:00", "2026-10-25T02:55:00+02:00", "2026-10-25T02:40:00+01:00"];
        assert_eq!(nows.map(next), [10, 55, 10]);
    }

    #[test]
    fn a_time_of_day_is_the_last_one() {
        let now = Moment::parse("2026-03-02T00:30:00+01:00").unwrap();
        let parse = |text| Place::Fixed(60).parse(text, now).unwrap().to_rfc3339();
        assert_eq!(parse("00:20"), "2026-03-02T00:20:00+01:00");
        assert_eq!(parse("00:38"), "2026-03-02T00:38:00+01:00");
        assert_eq!(parse("23:50"), "2026-03-01T23:50:00+01:00");
        assert_eq!(parse("2026-02-28 08:00"), "2026-02-28T08:00:00+01:00");
        assert_eq!(parse("2026-02-28T08:00:00Z"), "2026-02-28T08:00:00+00:00");
        assert!(Place::Device.parse("noon", now).is_err());
    }

    #[test]
    fn a_time_of_day_ahead_is_the_next_one() {
        let now = Moment::parse("2026-03-01T22:30:00+01:00").unwrap();
        let parse = |text| Place::Fixed(60).parse_ahead(text, now).unwrap().to_rfc3339();
        assert_eq!(parse("07:00"), "2026-03-02T07:00:00+01:00");
        assert_eq!(parse("22:30"), "2026-03-02T22:30:00+01:00");
        assert_eq!(parse("23:00"), "2026-03-01T23:00:00+01:00");
        assert_eq!(parse("2026-02-28 08:00"), "2026-02-28T08:00:00+01:00");
        assert!(Place::Device.parse_ahead("25:00", now).is_err());
    }
}
