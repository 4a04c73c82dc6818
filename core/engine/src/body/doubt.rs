//! Amounts of insulin that are probably slips: asked back when noted, watched afterwards.
//!
//! What makes an amount of rapid insulin a slip is how far it would lower, less what was eaten with it would raise: 18 units are
//! some people's dinner, and another's long-acting insulin from the wrong pen. The limits are common practice, no source; what a
//! wearer has noted before and not taken back is usual for them, whatever its size.

use super::effects::{carbohydrate_factor, insulin_factor};
use crate::log::{Dose, History, InsulinKind};
use crate::prompt::Reason;
use crate::sorted::within;
use crate::time::Moment;
use crate::wearer::Wearer;

/// A rapid dose that would lower by this much more than what is eaten with it raises is unusual, in mg/dL: 15 units where no factor
/// is set.
const LOWERS_MG_DL: f64 = 600.0;
/// Doses within an hour that would together lower by this much are unusual, in mg/dL.
const LOWERS_AN_HOUR_MG_DL: f64 = 1000.0;
/// Carbohydrate noted within this time of a dose was eaten with it, in minutes.
const WITH_IT_MINUTES: f64 = 60.0;
/// A long-acting dose from here on is unusual, in units.
const LONG_ACTING_UNITS: f64 = 50.0;
/// Doses this close together are one occasion, in minutes: rapid insulin, and long-acting insulin, which nobody takes twice in so short a
/// time (assumptions).
const TOGETHER_MINUTES: f64 = 60.0;
const LONG_ACTING_TOGETHER_MINUTES: f64 = 360.0;
/// A dose of up to this share more than one noted before is usual.
const USUAL_SHARE: f64 = 1.3;
/// For how long a doubtful dose is watched, in minutes: rapid insulin, long-acting insulin.
const WATCHED_MINUTES: (f64, f64) = (360.0, 1440.0);

/// Units that are probably a slip.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Doubtful {
    units: f64,
    /// Whether they are those of several doses.
    several: bool,
}

/// The units that are probably a slip, in the light of what was noted earlier and eaten with it: the dose's own or, where it is only
/// too much with those noted shortly before it, all of them.
fn doubtful_units(dose: &Dose, history: &History, wearer: &Wearer) -> Option<Doubtful> {
    let together_minutes = match dose.kind {
        InsulinKind::Rapid => TOGETHER_MINUTES,
        InsulinKind::LongActing => LONG_ACTING_TOGETHER_MINUTES,
    };
    let same = history.doses.iter().filter(|one| one.kind == dose.kind && one.at.is_before(dose.at));
    // What was noted shortly before is the same occasion, not what is usual.
    let (lately, before): (Vec<&Dose>, Vec<&Dose>) =
        same.partition(|one| dose.at.minutes_since(one.at) <= together_minutes);
    let together = dose.units + lately.iter().map(|one| one.units).sum::<f64>();
    let (own, all) = (Doubtful { units: dose.units, several: false }, Doubtful { units: together, several: true });
    if dose.kind == InsulinKind::LongActing {
        // Who splits a large dose over two injections does so each time.
        let at_one_time = |last: &Dose| {
            let from = last.at.plus_minutes(-together_minutes);
            let doses = within(&history.doses, |one| one.at, from, last.at);
            doses.iter().filter(|one| one.kind == dose.kind).map(|one| one.units).sum::<f64>()
        };
        let usual = before.iter().map(|one| at_one_time(one)).fold(0.0, f64::max) * USUAL_SHARE;
        let large = |units: f64| units >= LONG_ACTING_UNITS && units > usual;
        let doubled = !lately.is_empty() && together > usual && (usual > 0.0 || large(together));
        return if large(dose.units) { Some(own) } else { doubled.then_some(all) };
    }
    let usual = before.iter().map(|one| one.units).fold(0.0, f64::max) * USUAL_SHARE;
    let (from, until) = (dose.at.plus_minutes(-WITH_IT_MINUTES), dose.at.plus_minutes(WITH_IT_MINUTES));
    let eaten: f64 = within(&history.carbohydrate, |one| one.at, from, until).iter().map(|one| one.grams).sum();
    let lowers = |units: f64| units * insulin_factor(wearer) - eaten * carbohydrate_factor(wearer);
    if lowers(dose.units) >= LOWERS_MG_DL && dose.units > usual {
        return Some(own);
    }
    let is_much = !lately.is_empty() && lowers(together) >= LOWERS_AN_HOUR_MG_DL && together >= 2.0 * usual;
    is_much.then_some(all)
}

/// A dose that is watched.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DoubtfulDose {
    /// What was noted; its units are those that are doubtful, with the doses shortly before it where only these make it so.
    pub dose: Dose,
    /// Whether its units are those of several doses.
    pub several: bool,
    /// Minutes ago.
    pub minutes_ago: f64,
}

impl DoubtfulDose {
    /// What is said of it, so many minutes after it.
    #[must_use]
    pub fn reason(&self, minutes_ago: f64) -> Reason {
        let units = self.dose.units;
        match self.dose.kind {
            InsulinKind::LongActing if self.several => Reason::LongActingTwice { units, minutes_ago },
            _ => Reason::DoubtfulDose { units, minutes_ago },
        }
    }
}

/// The newest doubtful dose that may still act at a moment.
#[must_use]
pub fn newest_doubtful_dose(history: &History, wearer: &Wearer, now: Moment) -> Option<DoubtfulDose> {
    let (rapid, long_acting) = WATCHED_MINUTES;
    history.doses.iter().rev().filter(|dose| !dose.at.is_after(now)).find_map(|dose| {
        let minutes_ago = now.minutes_since(dose.at);
        let watched = match dose.kind {
            InsulinKind::Rapid => rapid,
            InsulinKind::LongActing => long_acting,
        };
        let Doubtful { units, several } =
            (minutes_ago <= watched).then(|| doubtful_units(dose, history, wearer)).flatten()?;
        Some(DoubtfulDose { dose: Dose { units, ..*dose }, several, minutes_ago })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::{Carbohydrate, Purpose};

    fn dose(hours: f64, kind: InsulinKind, units: f64) -> Dose {
        Dose { at: Moment::parse("2026-03-01T12:00:00+01:00").unwrap().plus_minutes(60.0 * hours), kind, units }
    }

    fn doubted(units: f64, kind: InsulinKind, earlier: &[Dose], eaten_g: f64, factor: Option<f64>) -> bool {
        let dose = dose(0.0, kind, units);
        let mut history = History { doses: earlier.to_vec(), ..History::default() };
        history.doses.push(dose);
        if eaten_g > 0.0 {
            let (at, purpose) = (dose.at.plus_minutes(10.0), Purpose::Meal);
            history.carbohydrate.push(Carbohydrate { at, grams: eaten_g, purpose });
        }
        let wearer = Wearer { insulin_factor_mg_dl_per_unit: factor, ..Wearer::default() };
        doubtful_units(&dose, &history, &wearer).is_some()
    }

    #[test]
    fn what_is_only_too_much_together_is_named_as_the_sum() {
        use InsulinKind::Rapid;
        let named = |units, earlier| {
            let history =
                History { doses: vec![dose(-0.5, Rapid, earlier), dose(0.0, Rapid, units)], ..History::default() };
            let now = dose(0.0, Rapid, units).at;
            newest_doubtful_dose(&history, &Wearer::default(), now).map(|one| one.dose.units)
        };
        assert_eq!(named(1.0, 100.0), Some(101.0));
        assert_eq!(named(30.0, 1.0), Some(30.0));
        assert_eq!(named(4.0, 5.0), None);
    }

    #[test]
    fn large_doses_are_doubted_and_usual_ones_are_not() {
        use InsulinKind::{LongActing, Rapid};
        assert!(doubted(30.0, Rapid, &[], 0.0, None));
        assert!(!doubted(8.0, Rapid, &[], 0.0, None));
        assert!(doubted(60.0, LongActing, &[], 0.0, None));
        assert!(!doubted(60.0, LongActing, &[dose(-24.0, LongActing, 58.0)], 0.0, None));
        assert!(!doubted(30.0, Rapid, &[dose(-24.0, Rapid, 28.0)], 0.0, None));
        // Noted twice within the hour.
        assert!(doubted(14.0, Rapid, &[dose(-0.5, Rapid, 14.0)], 0.0, None));
        assert!(!doubted(4.0, Rapid, &[dose(-0.5, Rapid, 5.0)], 0.0, None));
    }

    #[test]
    fn long_acting_insulin_noted_twice_is_doubted_against_what_is_usual_at_one_time() {
        use InsulinKind::LongActing;
        let usual = |units: &[f64]| -> Vec<Dose> {
            let hours = |day: u32, nth: u32| -24.0 * f64::from(6 - day) + 0.1 * f64::from(nth);
            (1..6)
                .flat_map(|day| (0..).zip(units).map(move |(nth, one)| dose(hours(day, nth), LongActing, *one)))
                .collect()
        };
        let named = |mut earlier: Vec<Dose>, lately: &[(f64, f64)]| {
            earlier.extend(lately.iter().map(|(hours, units)| dose(*hours, LongActing, *units)));
            let now = earlier.last().unwrap().at.plus_minutes(20.0);
            let history = History { doses: earlier, ..History::default() };
            newest_doubtful_dose(&history, &Wearer::default(), now).map(|one| one.reason(one.minutes_ago))
        };
        let twice = Some(Reason::LongActingTwice { units: 48.0, minutes_ago: 20.0 });
        assert_eq!(named(usual(&[24.0]), &[(-0.3, 24.0), (0.0, 24.0)]), twice);
        assert_eq!(named(usual(&[24.0]), &[(-5.0, 24.0), (0.0, 24.0)]), twice, "the same evening");
        assert_eq!(named(usual(&[24.0]), &[(0.0, 24.0)]), None);
        assert_eq!(named(usual(&[24.0]), &[(-0.3, 24.0), (0.0, 2.0)]), None, "a little more");
        // Two injections each evening, or one each in the morning and the evening.
        assert_eq!(named(usual(&[24.0, 24.0]), &[(-0.3, 24.0), (0.0, 24.0)]), None);
        assert_eq!(named(usual(&[12.0]), &[(-12.0, 12.0), (0.0, 12.0)]), None);
        // Nothing is usual yet.
        assert_eq!(named(Vec::new(), &[(-0.3, 10.0), (0.0, 10.0)]), None);
        let much = Some(Reason::LongActingTwice { units: 60.0, minutes_ago: 20.0 });
        assert_eq!(named(Vec::new(), &[(-0.3, 30.0), (0.0, 30.0)]), much);
        let large = Some(Reason::DoubtfulDose { units: 60.0, minutes_ago: 20.0 });
        assert_eq!(named(usual(&[24.0]), &[(0.0, 60.0)]), large);
    }

    #[test]
    fn what_is_eaten_and_how_much_a_unit_does_decide() {
        use InsulinKind::Rapid;
        assert!(doubted(18.0, Rapid, &[], 0.0, None) && !doubted(18.0, Rapid, &[], 120.0, None));
        assert!(doubted(12.0, Rapid, &[], 0.0, Some(50.0)) && !doubted(12.0, Rapid, &[], 0.0, Some(30.0)));
        // Where a unit does little, 30 of them are dinner.
        assert!(!doubted(30.0, Rapid, &[], 0.0, Some(9.0)));
    }
}
