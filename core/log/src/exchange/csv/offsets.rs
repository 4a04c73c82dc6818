//! A zone as a shell gives it: the offsets of its clock, by time. Core has no table of zones.

use chrono::NaiveDateTime;

use super::times::Offsets;
use crate::time::MINUTE_MS;

/// From an instant on, the offset of the wearer's clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OffsetChange {
    /// From when, Unix time in milliseconds.
    pub from_unix_ms: i64,
    /// Minutes east of UTC.
    pub offset_minutes: i32,
}

/// The offsets a local time may have, by changes in order of time, the first of which is valid for all earlier times: one as a rule, two
/// where the clocks went back over it, none where they went forward.
#[must_use]
pub fn offsets_at(changes: &[OffsetChange], local: NaiveDateTime) -> Offsets {
    let local_ms = local.and_utc().timestamp_millis();
    let instant = |offset: i32| local_ms.saturating_sub(i64::from(offset) * MINUTE_MS);
    let until = |place: usize| changes.get(place + 1).map_or(i64::MAX, |next| next.from_unix_ms);
    let from = |place: usize| if place == 0 { i64::MIN } else { changes[place].from_unix_ms };
    let mut fitting = (0..changes.len())
        .filter(|&place| (from(place)..until(place)).contains(&instant(changes[place].offset_minutes)))
        .map(|place| changes[place].offset_minutes);
    match (fitting.next(), fitting.next()) {
        (Some(before), Some(after)) => Offsets::Two { before, after },
        (Some(offset), None) => Offsets::One(offset),
        (None, _) => {
            let began = changes.iter().take_while(|one| one.from_unix_ms <= instant(one.offset_minutes)).count();
            let before = changes.get(began.saturating_sub(1)).or(changes.first()).map_or(0, |one| one.offset_minutes);
            Offsets::Never { before }
        }
    }
}

/// The offset from UTC at an instant, in minutes.
#[must_use]
pub fn offset_at(changes: &[OffsetChange], unix_ms: i64) -> i32 {
    let began = changes.iter().rfind(|one| one.from_unix_ms <= unix_ms);
    began.or(changes.first()).map_or(0, |one| one.offset_minutes)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::time::Moment;

    #[test]
    fn local_times_find_their_offset_in_the_nights_the_clocks_change() {
        // Central European time: +60, from 2026-03-29T01:00Z +120, from 2026-10-25T01:00Z +60.
        let at = |text: &str| Moment::parse(text).unwrap().unix_ms();
        let changes = [
            OffsetChange { from_unix_ms: at("2000-01-01T00:00:00Z"), offset_minutes: 60 },
            OffsetChange { from_unix_ms: at("2026-03-29T01:00:00Z"), offset_minutes: 120 },
            OffsetChange { from_unix_ms: at("2026-10-25T01:00:00Z"), offset_minutes: 60 },
        ];
        let parsed = |text: &str| NaiveDateTime::parse_from_str(text, "%Y-%m-%dT%H:%M").unwrap();
        let local = |text: &str| offsets_at(&changes, parsed(text));
        assert_eq!(local("2026-01-01T12:00"), Offsets::One(60));
        assert_eq!(local("2026-07-01T12:00"), Offsets::One(120));
        assert_eq!(local("2026-03-29T02:30"), Offsets::Never { before: 60 });
        assert_eq!(local("2026-10-25T02:30"), Offsets::Two { before: 120, after: 60 });
        assert_eq!(local("2026-12-01T02:30"), Offsets::One(60));
        assert_eq!(offsets_at(&[], parsed("2026-01-01T12:00")), Offsets::Never { before: 0 });
        let instant = |text: &str| offset_at(&changes, at(text));
        assert_eq!([instant("2026-03-29T00:59:00Z"), instant("2026-03-29T01:00:00Z")], [60, 120]);
        assert_eq!([offset_at(&changes, 0), offset_at(&[], 0)], [60, 0]);
    }
}
