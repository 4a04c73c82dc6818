//! What logged insulin and carbohydrate will do to the hour ahead beyond what the readings show yet, and how far the log can be
//! trusted to be complete.
//!
//! A dose without a meal beside it is a meal that was not logged or a meal that was not eaten, and the two end differently. So this
//! moves not the expected path by a part, but a part of the paths by all of it: the share that the wearer's own record makes likely. What
//! is looked at are doses that are spent: no dose at work can make its own effect less likely.
//!
//! Only the two futures ([`super::futures`]) use it. Readings to come are forecast by what readings of people who eat have shown.
//!
//! # Formula
//! An effect of which the share `left(t)` is still to come and which now happens at the rate `r` a minute moves a path by
//! `left(0) - left(t) - r tau (1 - exp(-t / tau))`, where that is more than nothing: readings that move at a rate go on with it for about
//! `tau` minutes.

use super::grid::{GRID_MINUTES, HOUR};
use super::passage::Passage;
use crate::body::effects::carbohydrate_factor;
use crate::body::{carbohydrate, insulin, recent};
use crate::log::{Dose, History, InsulinKind};
use crate::sorted::{known, within};
use crate::time::Moment;
use crate::wearer::Wearer;

/// For how long the forecast of readings goes on as they move, in minutes (chosen in the closed-loop trial).
const GOES_ON_MINUTES: f64 = 15.0;
/// A dose this old has next to nothing left to lower, in minutes.
const DONE_MINUTES: f64 = 360.0;
/// A meal noted so long before a dose or after it belongs to it, in minutes.
const MEAL_BESIDE_MINUTES: (f64, f64) = (60.0, 60.0);
/// Doses with and without a meal that are assumed before the first is seen: most logs are incomplete (assumption).
const ASSUMED: (f64, f64) = (1.0, 3.0);
/// Doses looked back on: habits change.
const DOSES: usize = 40;

/// What the log says of the hour ahead.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Logged {
    /// The chance that the log has all that was eaten and injected.
    pub complete: f64,
    /// By how much that moves blood glucose by each point, in mg/dL; negative lowers.
    pub moves: Passage,
}

impl Logged {
    /// Nothing logged.
    pub const NOTHING: Self = Self { complete: 0.0, moves: [0.0; HOUR] };

    /// What a history says at a moment. Without a factor of the wearer's own for insulin nothing is claimed.
    #[must_use]
    pub fn at(history: &History, wearer: &Wearer, at: Moment) -> Self {
        let Some(units_factor) = wearer.insulin_factor_mg_dl_per_unit else { return Self::NOTHING };
        let grams_factor = carbohydrate_factor(wearer);
        let mut moves = [0.0; HOUR];
        for dose in recent(&history.doses, |dose| dose.at, at, at).iter().filter(|dose| insulin::holds_for(dose)) {
            let minutes = at.minutes_since(dose.at);
            let rate = insulin::action_per_minute(minutes);
            add(&mut moves, -dose.units * units_factor, rate, |ahead| insulin::action_left(minutes + ahead));
        }
        for one in recent(&history.carbohydrate, |one| one.at, at, at) {
            let minutes = at.minutes_since(one.at);
            let rate = carbohydrate::absorption_per_minute(one.purpose, minutes);
            let left = |ahead| carbohydrate::fraction_left(one.purpose, minutes + ahead);
            add(&mut moves, one.grams * grams_factor, rate, left);
        }
        if moves.iter().all(|one| one.abs() < f64::EPSILON) {
            return Self::NOTHING;
        }
        Self { complete: completeness(history, at), moves }
    }
}

fn add(moves: &mut Passage, all_mg_dl: f64, rate: f64, left: impl Fn(f64) -> f64) {
    let now = left(0.0);
    for (k, moved) in moves.iter_mut().enumerate() {
        let ahead = (k + 1) as f64 * GRID_MINUTES;
        let shown = rate * GOES_ON_MINUTES * (1.0 - (-ahead / GOES_ON_MINUTES).exp());
        *moved += all_mg_dl * (now - left(ahead) - shown).max(0.0);
    }
}

/// How likely the log is to hold the meal of a dose, by the spent doses that had one beside them.
fn completeness(history: &History, at: Moment) -> f64 {
    let spent = known(&history.doses, at.plus_minutes(-DONE_MINUTES), |dose| dose.at);
    let rapid = spent.iter().rev().filter(|dose| dose.kind == InsulinKind::Rapid).take(DOSES);
    let (before, after) = MEAL_BESIDE_MINUTES;
    let beside = |dose: &Dose| {
        let (from, until) = (dose.at.plus_minutes(-before), dose.at.plus_minutes(after));
        !within(&history.carbohydrate, |one| one.at, from, until).is_empty()
    };
    let (with, without) = rapid.fold(
        ASSUMED,
        |(with, without), dose| if beside(dose) { (with + 1.0, without) } else { (with, without + 1.0) },
    );
    with / (with + without)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::{Carbohydrate, Purpose};

    fn at(minutes: f64) -> Moment {
        Moment::parse("2026-03-01T12:00:00+01:00").unwrap().plus_minutes(minutes)
    }

    fn history(doses: &[(f64, f64)], meals: &[(f64, f64)]) -> History {
        let kind = InsulinKind::Rapid;
        History {
            doses: doses.iter().map(|(minutes, units)| Dose { at: at(*minutes), kind, units: *units }).collect(),
            carbohydrate: meals
                .iter()
                .map(|(minutes, grams)| Carbohydrate { at: at(*minutes), grams: *grams, purpose: Purpose::Meal })
                .collect(),
            ..History::default()
        }
    }

    fn wearer() -> Wearer {
        Wearer {
            insulin_factor_mg_dl_per_unit: Some(40.0),
            carbohydrate_factor_mg_dl_per_g: Some(4.0),
            ..Wearer::default()
        }
    }

    #[test]
    fn more_insulin_lowers_more_and_never_raises() {
        let lowers = |units| Logged::at(&history(&[(-20.0, units)], &[]), &wearer(), at(0.0));
        let (some, more) = (lowers(3.0), lowers(5.0));
        for (some, more) in some.moves.iter().zip(&more.moves) {
            assert!(more <= some && *some <= 0.0);
        }
        assert!(more.moves[HOUR - 1] < -25.0, "{:?}", more.moves);
        // Late, when the readings show more than is still to come, nothing is given back.
        let late = Logged::at(&history(&[(-240.0, 5.0)], &[]), &wearer(), at(0.0));
        assert!(late.moves.iter().all(|one| *one <= 0.0));
        assert!((some.complete - more.complete).abs() < 1e-12);
    }

    #[test]
    fn a_record_in_which_meals_stand_beside_doses_is_trusted_and_another_is_not() {
        let before = (0..8).map(|k| (-2600.0 + 300.0 * f64::from(k), 4.0));
        let doses: Vec<(f64, f64)> = before.chain([(-10.0, 4.0)]).collect();
        let meals: Vec<(f64, f64)> =
            doses.iter().filter(|one| one.0 < -100.0).map(|one| (one.0 + 20.0, 45.0)).collect();
        let with = Logged::at(&history(&doses, &meals), &wearer(), at(0.0)).complete;
        let without = Logged::at(&history(&doses, &[]), &wearer(), at(0.0)).complete;
        assert!(with > 0.7 && without < 0.1, "{with} {without}");
    }

    #[test]
    fn without_a_factor_or_a_dose_nothing_is_claimed() {
        let taken = history(&[(-20.0, 5.0)], &[]);
        assert_eq!(Logged::at(&taken, &Wearer::default(), at(0.0)), Logged::NOTHING);
        assert_eq!(Logged::at(&History::default(), &wearer(), at(0.0)), Logged::NOTHING);
        assert_eq!(Logged::at(&taken, &wearer(), at(900.0)), Logged::NOTHING);
    }
}
