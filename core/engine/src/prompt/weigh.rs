//! The weighing: treat now, or hold and look again?
//!
//! An optimal-stopping rule. Treating now costs a needless treat unless a low is coming anyway. Holding until the next look
//! costs nothing by itself; what it risks is that the next look comes too late: that the low line is crossed before it, or
//! that rescue carbohydrate taken then, which needs about 20 minutes to act, can no longer keep glucose above the floor line.
//! Treat when the second loss outweighs the first.
//!
//! # Formula
//! ```text
//! treat  <=>  weight * P(below the floor line within action + look) + late * P(below the low line within two looks)
//!               >  1 - P(below the low line within action)
//! ```
//! in units of one needless treat. Where a sleeper's sensor may be pressed, the chances are those of a sensor that is right,
//! times the chance that it is: a pressed sensor's low is no low. By day they are taken whole. Once treat was said in a fall,
//! it stays until it is clearly outweighed: an answer that comes and goes helps nobody.
//!
//! # Source
//! The threshold form is that of Pauker and Kassirer, N Engl J Med 1980;302:1109-1117 (from memory). The time to act follows
//! the randomised trial in Front Endocrinol 2023;14:1186680 (no rise to speak of 15 minutes after 16 g) and Canadian CPG 2008
//! p. 77 (2.1 mmol/L in 20 minutes). The weights were chosen on records and on virtual wearers of one body model, see
//! `core/docs/population.md`: no published weighing of treating against waiting was found.

use crate::forecast::Forecast;
use crate::forecast::futures::Future;
use crate::forecast::passage::{Passage, by};
use crate::wearer::{TreatPreference, Wearer};

/// How long rescue carbohydrate takes to act, in minutes.
pub const ACTION_MINUTES: f64 = 20.0;
/// The shortest and the longest time to the next look that are reckoned with, in minutes.
const LOOK_MINUTES: (f64, f64) = (5.0, 15.0);
/// Crossing the low line counts as seen too late up to this, in minutes, or up to the next look where that is later.
const LATEST_MINUTES: f64 = 10.0;
/// The least chance that a treat is needless: no forecast is surer.
const LEAST_NEEDLESS: f64 = 0.02;

/// What crossing the low line before the next looks weighs, in needless treats.
const LATE: f64 = 1.5;
/// Insulin goes on lowering when rescue carbohydrate has acted, and what is caught late needs more of it: what holding risks weighs this
/// much more with insulin behind a fall (chosen in the closed-loop trial on virtual wearers, see `tests/docs/trial.md`).
const GOES_ON: f64 = 2.0;
/// Once said, treat stays until what holding risks is smaller than what treating costs by this factor
/// (chosen in the closed-loop trial: what goes away and comes back helps nobody).
const STAYS: f64 = 10.0;

/// Both expected losses, in units of one needless treat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weighing {
    /// Expected loss of treating now.
    pub treat: f64,
    /// Expected loss of holding until the next look.
    pub hold: f64,
}

impl Weighing {
    /// Whether treating now loses less.
    #[must_use]
    pub(crate) fn says_treat(self) -> bool {
        self.hold > self.treat
    }

    /// Whether treating, once said, is not clearly outweighed yet.
    #[must_use]
    pub(crate) fn still_says_treat(self) -> bool {
        STAYS * self.hold > self.treat
    }
}

/// What being wrong costs one wearer, by the settings made with the care team.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Costs {
    /// How many needless treats a floor line crossed too late weighs.
    floor: f64,
}

/// By how much more a floor line crossed too late weighs for somebody who does not always feel lows. Severe lows were some six times
/// as frequent among them (Gold et al., Diabetes Care 1994;17:697-703; Geddes et al., Diabet Med 2008;25:501-504; both from memory);
/// how much of that is to go into the weighing is an assumption.
const NOT_FELT: f64 = 2.0;
/// The same for somebody who is mostly alone (assumption).
const ALONE: f64 = 1.5;

/// What a floor line crossed too late weighs, in needless treats: sparing, balanced, early.
const FLOOR_WEIGHTS: [f64; 3] = [4.2, 8.4, 16.8];

impl Costs {
    /// The costs of a wearer.
    #[must_use]
    pub fn of(wearer: &Wearer) -> Self {
        let [sparing, balanced, early] = FLOOR_WEIGHTS;
        let preference = match wearer.treat_preference {
            TreatPreference::Sparing => sparing,
            TreatPreference::Balanced => balanced,
            TreatPreference::Early => early,
        };
        let felt = if wearer.feels_lows { 1.0 } else { NOT_FELT };
        let alone = if wearer.is_alone { ALONE } else { 1.0 };
        Self { floor: preference * felt * alone }
    }
}

/// The chance that the sensor is right, for the weighing.
///
/// Only sleep is a reason to lie on a sensor for long. Somebody awake can shift and check at once, and a fast real fall looks
/// like pressure at first: by day, doubt never makes waiting look better.
#[must_use]
pub(crate) fn chance_right(asleep: bool, compression: f64) -> f64 {
    if asleep { 1.0 - compression } else { 1.0 }
}

/// The weighing of a forecast, for a wearer who sleeps or not, with the chance that the sensor is pressed.
#[must_use]
pub(crate) fn weigh_now(forecast: &Forecast, wearer: &Wearer, asleep: bool, compression: f64, look: f64) -> Weighing {
    weigh(forecast, chance_right(asleep, compression), Costs::of(wearer), look)
}

/// Weighs treating now against holding until the next look, `look_minutes` from now. `right` is the chance that the sensor is.
#[must_use]
pub fn weigh(forecast: &Forecast, right: f64, costs: Costs, look_minutes: f64) -> Weighing {
    weighed(&forecast.low_by_point, &forecast.floor_by_point, right, costs, look_minutes)
}

/// The same for the future in which nothing is done, where logged insulin is behind a fall.
#[must_use]
pub fn weigh_waiting(waiting: &Future, right: f64, costs: Costs, look_minutes: f64) -> Weighing {
    let Weighing { treat, hold } = weighed(&waiting.low_by_point, &waiting.floor_by_point, right, costs, look_minutes);
    Weighing { treat, hold: GOES_ON * hold }
}

fn weighed(low: &Passage, floor: &Passage, right: f64, costs: Costs, look_minutes: f64) -> Weighing {
    let look = look_minutes.clamp(LOOK_MINUTES.0, LOOK_MINUTES.1);
    let floor = right * by(floor, ACTION_MINUTES + look);
    let late = right * by(low, (2.0 * look).min(LATEST_MINUTES.max(look)));
    let low = right * by(low, ACTION_MINUTES);
    Weighing { treat: (1.0 - low).max(LEAST_NEEDLESS), hold: costs.floor * floor + LATE * late }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::forecast::Crossing;

    fn forecast(low: f64, floor: f64) -> Forecast {
        let crossing = |line_mg_dl, chance: f64| Crossing {
            line_mg_dl,
            within_15: chance / 2.0,
            within_30: chance,
            within_60: chance,
            expected_minutes: None,
        };
        let rising = |chance: f64| std::array::from_fn(|k| chance * ((k + 1) as f64 / 6.0).min(1.0));
        Forecast {
            path: Vec::new(),
            shift_mg_dl: 0.0,
            low: crossing(70.0, low),
            floor: crossing(54.0, floor),
            high: crossing(180.0, 0.0),
            reading_low_30: low,
            low_by_point: rising(low),
            floor_by_point: rising(floor),
        }
    }

    fn usual() -> Costs {
        Costs::of(&Wearer::default())
    }

    #[test]
    fn what_makes_a_missed_low_worse_never_turns_treat_into_hold() {
        for low in [0.0, 0.2, 0.5, 0.9, 1.0] {
            for floor in [0.0, 0.01, 0.05, 0.1, 0.5] {
                let says = |wearer: Wearer| weigh(&forecast(low, floor), 1.0, Costs::of(&wearer), 10.0).says_treat();
                let prefers = |treat_preference| Wearer { treat_preference, ..Wearer::default() };
                assert!(says(prefers(TreatPreference::Sparing)) <= says(Wearer::default()));
                assert!(says(Wearer::default()) <= says(prefers(TreatPreference::Early)));
                let unfelt = Wearer { feels_lows: false, ..Wearer::default() };
                assert!(says(Wearer::default()) <= says(unfelt.clone()));
                assert!(says(unfelt.clone()) <= says(Wearer { is_alone: true, ..unfelt }));
            }
        }
    }

    #[test]
    fn a_later_next_look_and_a_likelier_low_never_turn_treat_into_hold() {
        let hold = |low: f64, floor: f64, look: f64| weigh(&forecast(low, floor), 1.0, usual(), look);
        assert!(hold(0.3, 0.05, 15.0).hold >= hold(0.3, 0.05, 5.0).hold);
        for (less, more) in [((0.3, 0.05), (0.4, 0.05)), ((0.3, 0.05), (0.3, 0.08))] {
            let (less, more) = (hold(less.0, less.1, 10.0), hold(more.0, more.1, 10.0));
            assert!(more.hold >= less.hold && more.treat <= less.treat);
        }
    }

    #[test]
    fn doubt_turns_treat_into_hold_and_never_the_other_way() {
        let says = |right| weigh(&forecast(1.0, 0.5), right, usual(), 10.0).says_treat();
        assert!(says(1.0) && says(0.5) && !says(0.02));
    }
}
