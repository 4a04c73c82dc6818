//! Carbohydrate, from the mouth to blood.
//!
//! Times are minutes since it was taken; grams are grams as eaten.
//!
//! # Formula
//! Two equal compartments of the gut: the share absorbed a minute is `t / tmax^2 exp(-t / tmax)`.
//!
//! # Source
//! Hovorka R, Canonico V, Chassin LJ, et al., Physiol Meas 2004;25:905-920, for meals. For rescue carbohydrate see
//! `FASTEST_RESCUE_MINUTES` in the source.

use crate::body::{two_compartments_left, two_compartments_per_minute};
use crate::log::{Carbohydrate, Purpose};
use crate::time::Moment;

/// When a meal's absorption is fastest, in minutes (Hovorka 2004).
const FASTEST_MEAL_MINUTES: f64 = 40.0;

/// When rescue carbohydrate's absorption is fastest, in minutes: our choice, from the published rises.
///
/// With 40 min, as for a meal, 9 % would be absorbed after 20 min, and 15 g would raise glucose by 10 mg/dL at the very
/// most. Published: 15 g of glucose, +38 mg/dL in 20 min (Canadian Diabetes Association guidelines 2008, p. 77); 10 g,
/// +40 mg/dL in 30 min and 20 g, +60 mg/dL in 45 min, falling after 60 min (Wiethop and Cryer 1993, as given in a
/// nutrition review of the American Diabetes Association). Ten minutes with 4 mg/dL a gram gives 36, 32 and 75 mg/dL: no
/// single pair fits better than to a quarter, since the small amount raised more a gram than the large one, which fits a
/// stomach that empties at its own pace.
///
/// # Conflict
/// In a trial on lows from insulin under the skin, 16 g had raised glucose by 0.1 mmol/L (SD 0.8) after 15 min where it
/// started at 3.0 to 3.5 mmol/L, and by 0.8 (0.9) below 3.0 (Front Endocrinol 2023;14:1186680). This curve gives 28 mg/dL
/// by then before what insulin takes away meanwhile. So a missing rise after 15 min is no sign that nothing was absorbed, and
/// no prompt may count on a rise by then.
const FASTEST_RESCUE_MINUTES: f64 = 10.0;

const fn fastest_minutes(purpose: Purpose) -> f64 {
    match purpose {
        Purpose::Meal => FASTEST_MEAL_MINUTES,
        Purpose::Rescue => FASTEST_RESCUE_MINUTES,
    }
}

/// The share not yet absorbed, 1 to 0.
#[must_use]
pub(crate) fn fraction_left(purpose: Purpose, minutes: f64) -> f64 {
    two_compartments_left(minutes, fastest_minutes(purpose))
}

/// The share absorbed a minute, per minute.
#[must_use]
pub(crate) fn absorption_per_minute(purpose: Purpose, minutes: f64) -> f64 {
    two_compartments_per_minute(minutes, fastest_minutes(purpose))
}

/// Carbohydrate taken up to `now` and not yet absorbed, in g as eaten.
#[must_use]
pub fn arriving_g(carbohydrate: &[Carbohydrate], now: Moment) -> f64 {
    let arriving = |one: &Carbohydrate| one.grams * fraction_left(one.purpose, now.minutes_since(one.at));
    carbohydrate.iter().filter(|one| !one.at.is_after(now)).map(arriving).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(got: f64, expected: f64, within: f64) {
        assert!((got - expected).abs() <= within, "{got} is not {expected} within {within}");
    }

    /// Hovorka 2004, computed from the closed form.
    #[test]
    fn a_meal_is_absorbed_as_the_closed_form_says() {
        for (minutes, absorbed) in
            [(15.0, 0.0550), (20.0, 0.0902), (30.0, 0.1734), (40.0, 0.2642), (60.0, 0.4422), (120.0, 0.8009)]
        {
            near(1.0 - fraction_left(Purpose::Meal, minutes), absorbed, 5e-5);
        }
    }

    /// The same, differentiated: fastest at 40 min, with a share of `1 / (40 e)` a minute.
    #[test]
    fn a_meal_is_absorbed_fastest_at_forty_minutes() {
        let absorbed = |minutes| absorption_per_minute(Purpose::Meal, minutes);
        near(absorbed(40.0), 0.009_197, 5e-7);
        assert!(absorbed(39.5) < absorbed(40.0) && absorbed(40.5) < absorbed(40.0));
        let all: f64 = (0..200_000_u32).map(|k| absorbed((f64::from(k) + 0.5) / 100.0) / 100.0).sum();
        near(all, 1.0, 1e-5);
    }

    /// The published rises, each met to a quarter by one and the same 4 mg/dL a gram (an adult's order of size).
    #[test]
    fn rescue_carbohydrate_rises_as_published() {
        for (grams, minutes, rise) in [(15.0, 20.0, 38.0), (10.0, 30.0, 40.0), (20.0, 45.0, 62.5)] {
            let got = 4.0 * grams * (1.0 - fraction_left(Purpose::Rescue, minutes));
            near(got / rise, 1.0, 0.25);
        }
        // "Falling after 60 min": by then everything has arrived.
        assert!(fraction_left(Purpose::Rescue, 60.0) < 0.02);
        // A meal's curve would not do.
        assert!(4.0 * 15.0 * (1.0 - fraction_left(Purpose::Meal, 20.0)) < 38.0 / 4.0);
    }

    #[test]
    fn arriving_counts_only_what_was_taken() {
        let now = Moment::parse("2026-03-01T20:00:00+01:00").unwrap();
        let one = |minutes, grams, purpose| Carbohydrate { at: now.plus_minutes(minutes), grams, purpose };
        let taken = [
            one(-60.0, 50.0, Purpose::Meal),
            one(-10.0, 15.0, Purpose::Rescue),
            one(0.0, 10.0, Purpose::Meal),
            one(1.0, 99.0, Purpose::Meal),
        ];
        near(arriving_g(&taken, now), 50.0 * 0.5578 + 15.0 * 0.7358 + 10.0, 5e-3);
    }
}
