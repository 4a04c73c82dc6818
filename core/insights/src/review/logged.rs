//! What was logged of carbohydrate and rapid insulin, by hour of the wearer's clock, as an average day of the period.

use crate::log::{History, InsulinKind};
use crate::review::Period;
use crate::time::Moment;

/// One hour of an average day.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct LoggedHour {
    /// Carbohydrate in grams, for whatever purpose.
    pub carbohydrate_g: f64,
    /// Rapid insulin in units.
    pub rapid_units: f64,
}

/// The hours from midnight; nothing where neither was logged in the period. What was not logged was not seen, so the sums are at
/// least this.
#[must_use]
pub fn logged_by_hour(history: &History, period: Period) -> Option<[LoggedHour; 24]> {
    let mut hours = [LoggedHour::default(); 24];
    let inside = |at: Moment| !at.is_before(period.from()) && at.is_before(period.until());
    let hour = |at: Moment| at.minute_of_day() as usize / 60;
    for one in history.carbohydrate.iter().filter(|one| inside(one.at)) {
        hours[hour(one.at)].carbohydrate_g += one.grams / period.days();
    }
    let rapid = |kind: InsulinKind| kind == InsulinKind::Rapid;
    for one in history.doses.iter().filter(|one| inside(one.at) && rapid(one.kind)) {
        hours[hour(one.at)].rapid_units += one.units / period.days();
    }
    hours.iter().any(|one| *one != LoggedHour::default()).then_some(hours)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)] // a test may stop where it stands
mod tests {
    use super::*;
    use crate::log::{Carbohydrate, Dose, Purpose};

    #[test]
    fn an_hour_holds_what_was_logged_in_it_a_day() {
        let at = |text: &str| Moment::parse(text).unwrap();
        let period = Period::new(at("2026-03-01T00:00:00+01:00"), at("2026-03-03T00:00:00+01:00")).unwrap();
        let meal = |time: &str, grams| Carbohydrate { at: at(time), grams, purpose: Purpose::Meal };
        let dose = |time: &str, kind, units| Dose { at: at(time), kind, units };
        let history = History {
            carbohydrate: vec![
                meal("2026-02-28T23:59:59+01:00", 90.0),
                meal("2026-03-01T07:10:00+01:00", 30.0),
                meal("2026-03-02T07:50:00+01:00", 50.0),
                meal("2026-03-03T00:00:00+01:00", 90.0),
            ],
            doses: vec![
                dose("2026-03-01T07:00:00+01:00", InsulinKind::Rapid, 3.0),
                dose("2026-03-01T22:00:00+01:00", InsulinKind::LongActing, 20.0),
            ],
            ..History::default()
        };
        let hours = logged_by_hour(&history, period).unwrap();
        for (hour, one) in hours.iter().enumerate() {
            let expected = if hour == 7 { (40.0, 1.5) } else { (0.0, 0.0) };
            assert_eq!((one.carbohydrate_g, one.rapid_units), expected, "{hour}");
        }
        assert_eq!(logged_by_hour(&History::default(), period), None);
    }
}
