//! What logged insulin and carbohydrate may do in the half hour to come, as inputs that nobody should take as exact.
//!
//! Much of what is eaten and injected is not logged, or logged late and rounded, and how much a unit or a gram does differs
//! from hour to hour. So these are no forecast by themselves: they are features of one
//! ([`crate::forecast::correction`]), whose weights are learnt and kept from ever speaking for more glucose after more
//! insulin.

use super::alcohol::Alcohol;
use super::{carbohydrate, insulin, recent};
use crate::log::{Carbohydrate, History};
use crate::time::Moment;
use crate::wearer::Wearer;

/// How much a unit lowers glucose where the wearer set no factor, in mg/dL.
///
/// An assumption between what adults are commonly started on (1800 divided by the units of a day: 36 mg/dL at 50 units;
/// common practice, no source). Only the size of a feature; its weight is learnt.
const ASSUMED_INSULIN_FACTOR: f64 = 40.0;
/// How much a gram raises glucose where the wearer set no factor, in mg/dL.
///
/// 15 g raise by 38 mg/dL in 20 minutes (Canadian Diabetes Association guidelines 2008, p. 77), 3 to 5 mg/dL a gram in all
/// (common practice, no source).
const ASSUMED_CARBOHYDRATE_FACTOR: f64 = 4.0;
/// What a unit lowers by, in mg/dL: the wearer's own factor, or the assumed one.
#[must_use]
pub fn insulin_factor(wearer: &Wearer) -> f64 {
    wearer.insulin_factor_mg_dl_per_unit.unwrap_or(ASSUMED_INSULIN_FACTOR)
}

/// What a gram raises by, in mg/dL: the wearer's own factor, or the assumed one.
#[must_use]
pub fn carbohydrate_factor(wearer: &Wearer) -> f64 {
    wearer.carbohydrate_factor_mg_dl_per_g.unwrap_or(ASSUMED_CARBOHYDRATE_FACTOR)
}

/// The share of logged carbohydrate that is counted on against insulin (assumption).
pub(crate) const COUNTED_ON: f64 = 0.8;

/// By how much rapid insulin taken up to `now` may lower glucose between two moments, less what the carbohydrate that is counted on
/// raises it by then, in mg/dL; negative where carbohydrate outweighs insulin. Alcohol is no part of it.
#[must_use]
pub(crate) fn insulin_beyond_meals(
    history: &History,
    wearer: &Wearer,
    now: Moment,
    (from, until): (Moment, Moment),
) -> f64 {
    let doses = recent(&history.doses, |dose| dose.at, now, now).iter().filter(|dose| insulin::holds_for(dose));
    let acts =
        |at: Moment| insulin::action_left(from.minutes_since(at)) - insulin::action_left(until.minutes_since(at));
    let lowers: f64 = doses.map(|dose| dose.units * acts(dose.at)).sum();
    let eaten = recent(&history.carbohydrate, |one| one.at, now, now).iter();
    let left = |one: &Carbohydrate, then: Moment| carbohydrate::fraction_left(one.purpose, then.minutes_since(one.at));
    let raises: f64 = eaten.map(|one| one.grams * (left(one, from) - left(one, until))).sum();
    lowers * insulin_factor(wearer) - COUNTED_ON * raises * carbohydrate_factor(wearer)
}

/// The time that effects are looked at over, in minutes.
pub const AHEAD_MINUTES: f64 = 30.0;
/// The share of an effect's present rate that the readings show already.
const SEEN_SHARE: f64 = 0.7;
/// No sum of effects counts for more than this, in mg/dL: beyond it the log is wrong, or the body is.
const MOST_MG_DL: f64 = 150.0;

/// Effects over the next half hour, in mg/dL; none is negative.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Effects {
    /// Lowering by insulin, and by alcohol.
    pub insulin: f64,
    /// Of it, what the readings cannot show yet.
    pub insulin_unseen: f64,
    /// Raising by carbohydrate.
    pub carbohydrate: f64,
    /// Of it, what the readings cannot show yet.
    pub carbohydrate_unseen: f64,
    /// All that insulin on board and alcohol have still to lower.
    pub insulin_left: f64,
    /// All that carbohydrate has still to raise.
    pub carbohydrate_left: f64,
    /// The share by which alcohol makes lower paths wider; 0 without it.
    pub unsure_below: f64,
}

impl Effects {
    /// What was taken up to `at` and is at work then.
    #[must_use]
    pub fn at(history: &History, wearer: &Wearer, at: Moment) -> Self {
        let mut effects = Self::default();
        let factor = insulin_factor(wearer);
        for dose in recent(&history.doses, |dose| dose.at, at, at).iter().filter(|dose| insulin::holds_for(dose)) {
            let minutes = at.minutes_since(dose.at);
            let left = insulin::action_left(minutes);
            let all = dose.units * factor;
            let next = left - insulin::action_left(minutes + AHEAD_MINUTES);
            effects.insulin += all * next;
            effects.insulin_unseen += all * unseen(next, insulin::action_per_minute(minutes));
            effects.insulin_left += all * left;
        }
        let factor = carbohydrate_factor(wearer);
        for one in recent(&history.carbohydrate, |one| one.at, at, at) {
            let minutes = at.minutes_since(one.at);
            let left = carbohydrate::fraction_left(one.purpose, minutes);
            let all = one.grams * factor;
            let next = left - carbohydrate::fraction_left(one.purpose, minutes + AHEAD_MINUTES);
            effects.carbohydrate += all * next;
            effects.carbohydrate_unseen +=
                all * unseen(next, carbohydrate::absorption_per_minute(one.purpose, minutes));
            effects.carbohydrate_left += all * left;
        }
        // What alcohol lowers by is no part of what the readings' rate shows: it comes late and evenly.
        if let Some(alcohol) = Alcohol::at(history, at, AHEAD_MINUTES) {
            effects.insulin += alcohol.next_mg_dl;
            effects.insulin_unseen += alcohol.next_mg_dl;
            effects.insulin_left += alcohol.left_mg_dl;
            effects.unsure_below = alcohol.widens() - 1.0;
        }
        Self {
            insulin: effects.insulin.min(MOST_MG_DL),
            insulin_unseen: effects.insulin_unseen.min(MOST_MG_DL),
            carbohydrate: effects.carbohydrate.min(MOST_MG_DL),
            carbohydrate_unseen: effects.carbohydrate_unseen.min(MOST_MG_DL),
            ..effects
        }
    }
}

/// The part of the next half hour's share that goes beyond what the present rate, as far as readings show it, comes to.
fn unseen(next: f64, per_minute: f64) -> f64 {
    (next - SEEN_SHARE * AHEAD_MINUTES * per_minute).max(0.0)
}
