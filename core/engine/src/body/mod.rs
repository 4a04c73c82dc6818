//! The body between what is logged and what is read: published kinetics, and nothing of a single wearer.
//!
//! [`lag`] leads from blood to the fluid under the skin, [`insulin`] and [`carbohydrate`] from what was taken to what it
//! does to blood glucose. [`AtWork`] puts the last two together for one log, as the input of the estimate.
//!
//! What this module does *not* do: guess a wearer's sensitivity. Units and grams turn into mg/dL only through the
//! factors the wearer set with their care team; without them it gives how much is still at work and no more.

pub mod alcohol;
pub mod carbohydrate;
pub mod doubt;
pub mod effects;
pub mod insulin;
pub mod lag;
pub mod movement;
pub mod sick;

use crate::log::{Carbohydrate, Dose, History};
use crate::sorted::within;
use crate::time::Moment;
use crate::wearer::Wearer;

/// After this many minutes a dose or a meal counts as spent: less than 0.03 % of either is left to work.
pub const SPENT_MINUTES: f64 = 720.0;
/// An amount with less than this share of its effect to come does not count as at work.
const FORGOTTEN_SHARE: f64 = 0.02;

/// Logged insulin and carbohydrate, and what they are expected to do to blood glucose.
///
/// Long-acting insulin is left out: it holds the level that the estimate takes as given.
///
/// # Example
/// ```
/// use ebbstead_engine::body::AtWork;
/// use ebbstead_engine::log::{Dose, History, InsulinKind};
/// use ebbstead_engine::time::Moment;
/// use ebbstead_engine::wearer::Wearer;
///
/// let taken = Moment::parse("2026-03-01T18:00:00+01:00")?;
/// let dose = Dose { at: taken, kind: InsulinKind::Rapid, units: 2.0 };
/// let history = History { doses: vec![dose], ..History::default() };
/// let wearer = Wearer { insulin_factor_mg_dl_per_unit: Some(40.0), ..Wearer::default() };
/// let at_work = AtWork::of(&history, &wearer);
/// let later = taken.plus_minutes(60.0);
/// assert_eq!(format!("{:.1}", at_work.insulin_units(later)), "1.4");
/// assert_eq!(format!("{:.2}", at_work.rate_mg_dl_min(later)), "-0.34");
/// // Without the wearer's own factor nothing is claimed.
/// assert!(AtWork::of(&history, &Wearer::default()).rate_mg_dl_min(later).abs() < 1e-12);
/// # Ok::<(), ebbstead_engine::Error>(())
/// ```
#[derive(Clone, Copy, Debug)]
pub struct AtWork<'a> {
    doses: &'a [Dose],
    carbohydrate: &'a [Carbohydrate],
    insulin_factor: Option<f64>,
    carbohydrate_factor: Option<f64>,
}

impl<'a> AtWork<'a> {
    /// Looks at a history, each kind sorted by time, with the wearer's own factors.
    ///
    /// What the history holds counts as known: cut it with [`History::until`] where the past is replayed.
    #[must_use]
    pub fn of(history: &'a History, wearer: &Wearer) -> Self {
        Self {
            doses: &history.doses,
            carbohydrate: &history.carbohydrate,
            insulin_factor: wearer.insulin_factor_mg_dl_per_unit,
            carbohydrate_factor: wearer.carbohydrate_factor_mg_dl_per_g,
        }
    }

    /// Rapid insulin not yet absorbed at `now`, in units ([`insulin::on_board_units`]).
    #[must_use]
    pub fn insulin_units(&self, now: Moment) -> f64 {
        insulin::on_board_units(self.doses, now)
    }

    /// Carbohydrate not yet absorbed at `now`, in g ([`carbohydrate::arriving_g`]).
    #[must_use]
    pub fn carbohydrate_g(&self, now: Moment) -> f64 {
        carbohydrate::arriving_g(self.carbohydrate, now)
    }

    /// How fast what was taken is expected to move blood glucose at `at`, in mg/dL/min; negative lowers.
    ///
    /// # Formula
    /// `sum(grams * carbohydrate factor * absorption(at - taken)) - sum(units * insulin factor * action(at - taken))`.
    ///
    /// It is 0 where a factor is missing that is needed: with both kinds at work and one factor unset, half of the sum
    /// would mislead more than none of it.
    #[must_use]
    pub fn rate_mg_dl_min(&self, at: Moment) -> f64 {
        self.weigh(
            at,
            at,
            |minutes, _| insulin::action_per_minute(minutes),
            |carbohydrate, minutes, _| carbohydrate::absorption_per_minute(carbohydrate.purpose, minutes),
        )
    }

    /// By how much what was taken is expected to move blood glucose between two moments, in mg/dL; negative lowers.
    ///
    /// The exact integral of [`AtWork::rate_mg_dl_min`], also where something is eaten or injected in between. 0 under the same
    /// condition, judged at `until`, and where `until` is not after `from`.
    #[must_use]
    pub fn change_mg_dl(&self, from: Moment, until: Moment) -> f64 {
        if !until.is_after(from) {
            return 0.0;
        }
        self.weigh(
            from,
            until,
            |before, after| insulin::action_left(before) - insulin::action_left(after),
            |carbohydrate, before, after| {
                carbohydrate::fraction_left(carbohydrate.purpose, before)
                    - carbohydrate::fraction_left(carbohydrate.purpose, after)
            },
        )
    }

    /// Adds up both kinds over what can still work between `from` and `until`, given the share each does in that time.
    fn weigh(
        &self,
        from: Moment,
        until: Moment,
        insulin_share: impl Fn(f64, f64) -> f64,
        carbohydrate_share: impl Fn(&Carbohydrate, f64, f64) -> f64,
    ) -> f64 {
        let doses = recent(self.doses, |dose| dose.at, from, until);
        let carbohydrate = recent(self.carbohydrate, |carbohydrate| carbohydrate.at, from, until);
        let insulin_works = doses.iter().any(|dose| {
            insulin::holds_for(dose) && insulin::action_left(until.minutes_since(dose.at)) > FORGOTTEN_SHARE
        });
        let carbohydrate_works = carbohydrate
            .iter()
            .any(|one| carbohydrate::fraction_left(one.purpose, until.minutes_since(one.at)) > FORGOTTEN_SHARE);
        if (insulin_works && self.insulin_factor.is_none())
            || (carbohydrate_works && self.carbohydrate_factor.is_none())
        {
            return 0.0;
        }
        let lowered: f64 = doses
            .iter()
            .filter(|dose| insulin::holds_for(dose))
            .map(|dose| dose.units * insulin_share(from.minutes_since(dose.at), until.minutes_since(dose.at)))
            .sum();
        let raised: f64 = carbohydrate
            .iter()
            .map(|one| one.grams * carbohydrate_share(one, from.minutes_since(one.at), until.minutes_since(one.at)))
            .sum();
        raised * self.carbohydrate_factor.unwrap_or_default() - lowered * self.insulin_factor.unwrap_or_default()
    }
}

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
    use crate::log::{InsulinKind, Purpose};

    fn start() -> Moment {
        Moment::parse("2026-03-01T12:00:00+01:00").unwrap()
    }

    fn after(minutes: f64) -> Moment {
        start().plus_minutes(minutes)
    }

    fn history() -> History {
        let dose = |minutes, units| Dose { at: after(minutes), kind: InsulinKind::Rapid, units };
        let eaten = |minutes, grams, purpose| Carbohydrate { at: after(minutes), grams, purpose };
        History {
            doses: vec![
                dose(-800.0, 9.0),
                dose(0.0, 4.0),
                Dose { at: after(10.0), kind: InsulinKind::LongActing, units: 20.0 },
                dose(95.0, 1.0),
            ],
            carbohydrate: vec![eaten(10.0, 45.0, Purpose::Meal), eaten(150.0, 15.0, Purpose::Rescue)],
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
    fn the_change_is_the_integral_of_the_rate() {
        let (history, wearer) = (history(), wearer());
        let at_work = AtWork::of(&history, &wearer);
        for (from, until) in [(-30.0, 30.0), (0.0, 5.0), (60.0, 240.0), (140.0, 160.0)] {
            let steps = 6000_u32;
            let width = (until - from) / f64::from(steps);
            let sum: f64 =
                (0..steps).map(|k| at_work.rate_mg_dl_min(after(from + (f64::from(k) + 0.5) * width)) * width).sum();
            let exact = at_work.change_mg_dl(after(from), after(until));
            assert!((sum - exact).abs() < 2e-3, "{from}..{until}: {sum} {exact}");
        }
    }

    #[test]
    fn all_of_it_comes_to_the_wearers_own_factors() {
        let (history, wearer) = (history(), wearer());
        let total = AtWork::of(&history, &wearer).change_mg_dl(after(-60.0), after(2000.0));
        let expected = 60.0 * 4.0 - 5.0 * 40.0;
        assert!((total - expected).abs() < 1.0, "{total}");
    }

    #[test]
    fn half_of_the_sum_is_never_used() {
        let (history, mut wearer) = (history(), wearer());
        wearer.carbohydrate_factor_mg_dl_per_g = None;
        let at_work = AtWork::of(&history, &wearer);
        assert!(at_work.change_mg_dl(after(60.0), after(65.0)).abs() < 1e-12);
        // Before anything was eaten the insulin stands alone.
        assert!(at_work.rate_mg_dl_min(after(9.0)) < 0.0);
        let without = History { carbohydrate: Vec::new(), ..history.clone() };
        assert!(AtWork::of(&without, &wearer).change_mg_dl(after(60.0), after(65.0)) < -1.0);
    }

    #[test]
    fn nothing_logged_moves_nothing() {
        let (empty, wearer) = (History::default(), wearer());
        let at_work = AtWork::of(&empty, &wearer);
        assert!(at_work.rate_mg_dl_min(start()).abs() < 1e-12 && at_work.insulin_units(start()).abs() < 1e-12);
        let (history, later) = (history(), after(2000.0));
        let spent = AtWork::of(&history, &wearer);
        assert!(spent.rate_mg_dl_min(later).abs() < 1e-12 && spent.change_mg_dl(later, start()).abs() < 1e-12);
    }

    #[test]
    fn what_is_left_after_the_last_hour_counted_is_under_a_three_thousandth() {
        assert!(insulin::action_left(SPENT_MINUTES) < 3e-4, "{}", insulin::action_left(SPENT_MINUTES));
        assert!(carbohydrate::fraction_left(Purpose::Meal, SPENT_MINUTES) < 3e-4);
    }
}
