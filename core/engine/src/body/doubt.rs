//! Amounts of insulin that are probably slips: asked back when noted, watched afterwards.
//!
//! The limits are common practice, no source; what a wearer has noted before and not taken back is usual for them, whatever its size.

use crate::log::{Dose, History, InsulinKind};
use crate::time::Moment;

/// A rapid dose from here on is unusual, in units.
pub const RAPID_UNITS: f64 = 20.0;
/// A long-acting dose from here on is unusual, in units.
pub const LONG_ACTING_UNITS: f64 = 50.0;
/// A dose of up to this share more than one noted before is usual.
const USUAL_SHARE: f64 = 1.3;
/// Units of rapid insulin within an hour from here on are unusual, single doses aside.
const RAPID_AN_HOUR_UNITS: f64 = 25.0;
/// For how long a doubtful dose is watched, in minutes: rapid insulin, long-acting insulin.
const WATCHED_MINUTES: (f64, f64) = (360.0, 1440.0);

/// Whether a dose is so large that it is probably a slip, in the light of those noted earlier.
#[must_use]
pub fn is_doubtful(dose: &Dose, earlier: &[Dose]) -> bool {
    let same = earlier.iter().filter(|one| one.kind == dose.kind && one.at.unix_ms() < dose.at.unix_ms());
    // What was noted within the hour is the same occasion, not what is usual.
    let (hour, before): (Vec<&Dose>, Vec<&Dose>) = same.partition(|one| dose.at.minutes_since(one.at) <= 60.0);
    let usual = before.iter().map(|one| one.units).fold(0.0, f64::max) * USUAL_SHARE;
    let (limit, an_hour) = match dose.kind {
        InsulinKind::Rapid => (RAPID_UNITS, RAPID_AN_HOUR_UNITS),
        InsulinKind::LongActing => (LONG_ACTING_UNITS, f64::INFINITY),
    };
    let together = dose.units + hour.iter().map(|one| one.units).sum::<f64>();
    (dose.units >= limit && dose.units > usual) || (!hour.is_empty() && together >= an_hour.max(2.0 * usual))
}

/// A dose that is watched.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DoubtfulDose {
    /// What was noted.
    pub dose: Dose,
    /// Minutes ago.
    pub minutes_ago: f64,
}

/// The newest doubtful dose that may still act at a moment.
#[must_use]
pub fn newest_doubtful_dose(history: &History, now: Moment) -> Option<DoubtfulDose> {
    let (rapid, long_acting) = WATCHED_MINUTES;
    history.doses.iter().rev().filter(|dose| dose.at.unix_ms() <= now.unix_ms()).find_map(|dose| {
        let minutes_ago = now.minutes_since(dose.at);
        let watched = match dose.kind {
            InsulinKind::Rapid => rapid,
            InsulinKind::LongActing => long_acting,
        };
        (minutes_ago <= watched && is_doubtful(dose, &history.doses))
            .then_some(DoubtfulDose { dose: *dose, minutes_ago })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn dose(hours: f64, kind: InsulinKind, units: f64) -> Dose {
        Dose { at: Moment::parse("2026-03-01T12:00:00+01:00").unwrap().plus_minutes(60.0 * hours), kind, units }
    }

    #[test]
    fn large_doses_are_doubted_and_usual_ones_are_not() {
        use InsulinKind::{LongActing, Rapid};
        assert!(is_doubtful(&dose(0.0, Rapid, 30.0), &[]));
        assert!(!is_doubtful(&dose(0.0, Rapid, 8.0), &[]));
        assert!(is_doubtful(&dose(0.0, LongActing, 60.0), &[]));
        assert!(!is_doubtful(&dose(0.0, LongActing, 60.0), &[dose(-24.0, LongActing, 58.0)]));
        assert!(!is_doubtful(&dose(0.0, Rapid, 30.0), &[dose(-24.0, Rapid, 28.0)]));
        // Noted twice within the hour.
        assert!(is_doubtful(&dose(0.0, Rapid, 14.0), &[dose(-0.5, Rapid, 14.0)]));
        assert!(!is_doubtful(&dose(0.0, Rapid, 4.0), &[dose(-0.5, Rapid, 5.0)]));
    }
}
