//! The body between what is logged and what is read: published kinetics, and nothing of a single wearer.
//!
//! [`lag`] leads from blood to the fluid under the skin, [`insulin`] and [`carbohydrate`] from what was taken to how much of it is
//! still to act. [`effects`] turns that into mg/dL as an input of the forecast: by the factors the wearer set with their care team,
//! or by assumed ones, whose weight is learnt.

pub mod alcohol;
pub mod carbohydrate;
pub mod doubt;
pub mod effects;
pub mod insulin;
pub mod lag;
pub mod movement;
pub mod sick;

use crate::sorted::within;
use crate::time::Moment;

/// After this many minutes a dose or a meal counts as spent: less than 0.03 % of either is left to work.
const SPENT_MINUTES: f64 = 720.0;

/// The part of a list sorted by time that lies in (`from` - [`SPENT_MINUTES`], `until`].
pub(crate) fn recent<T>(all: &[T], at: impl Fn(&T) -> Moment, from: Moment, until: Moment) -> &[T] {
    within(all, at, from.plus_minutes(-SPENT_MINUTES), until)
}

/// The closed form shared by two equal compartments in a row: the share that has not yet left the second.
///
/// # Formula
/// `(1 + t / tau) * exp(-t / tau)`; 1 before the start.
fn two_compartments_left(minutes: f64, tau_minutes: f64) -> f64 {
    let x = minutes.max(0.0) / tau_minutes;
    (1.0 + x) * (-x).exp()
}

/// The share that leaves the second of two equal compartments a minute: `t / tau^2 * exp(-t / tau)`, most at `tau`.
fn two_compartments_per_minute(minutes: f64, tau_minutes: f64) -> f64 {
    let t = minutes.max(0.0);
    t / (tau_minutes * tau_minutes) * (-t / tau_minutes).exp()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::Purpose;

    #[test]
    fn what_is_left_after_the_last_hour_counted_is_under_a_three_thousandth() {
        assert!(insulin::action_left(SPENT_MINUTES) < 3e-4, "{}", insulin::action_left(SPENT_MINUTES));
        assert!(carbohydrate::fraction_left(Purpose::Meal, SPENT_MINUTES) < 3e-4);
    }
}
