//! The weighing: treat now, or hold and look again?
//!
//! An optimal-stopping rule. Treating now costs a needless treat unless a low is coming anyway. Holding until the next look
//! costs nothing by itself; what it risks is that the next look comes too late: rescue carbohydrate takes about 20 minutes
//! to act, so a fall that reaches the floor line within that time *plus* the time to the next look can no longer be met in
//! time. Treat when the second loss outweighs the first.
//!
//! # Formula
//! ```text
//! treat  <=>  weight * P(below the floor line within action + look)  >  1 - P(below the low line within 30 minutes)
//! ```
//! in units of one needless treat. Where a sleeper's sensor may be pressed, both chances are those of a sensor that is right,
//! times the chance that it is: a pressed sensor's low is no low. By day they are taken whole.
//!
//! # Source
//! The threshold form is that of Pauker and Kassirer, N Engl J Med 1980;302:1109-1117 (from memory). The time to act follows
//! the randomised trial in Front Endocrinol 2023;14:1186680 (no rise to speak of 15 minutes after 16 g) and Canadian CPG 2008
//! p. 77 (2.1 mmol/L in 20 minutes). The weights are design choices: no published weighing of treating against waiting was
//! found.

use crate::forecast::Crossing;
use crate::forecast::outlook::Crossings;
use crate::wearer::Caution;

/// How long rescue carbohydrate takes to act, in minutes.
pub const ACTION_MINUTES: f64 = 20.0;
/// The shortest time to the next look that can be relied on, in minutes.
const SHORTEST_LOOK_MINUTES: f64 = 10.0;
/// The longest, in minutes.
const LONGEST_LOOK_MINUTES: f64 = 20.0;
/// The least chance that a treat is needless: no forecast is surer.
const LEAST_NEEDLESS: f64 = 0.02;

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
    pub fn says_treat(self) -> bool {
        self.hold > self.treat
    }
}

/// How many needless treats a low met too late weighs.
const fn weight(caution: Caution) -> f64 {
    match caution {
        Caution::Sparing => 5.0,
        Caution::Balanced => 10.0,
        Caution::Early => 20.0,
    }
}

/// Weighs treating now against holding until the next look, `look_minutes` from now. `crossings` are those told by a sensor
/// that is right; `right` is the chance that it is.
#[must_use]
pub fn weigh(crossings: &Crossings, right: f64, caution: Caution, look_minutes: f64) -> Weighing {
    let look = look_minutes.clamp(SHORTEST_LOOK_MINUTES, LONGEST_LOOK_MINUTES);
    let late = right * within(&crossings.floor, ACTION_MINUTES + look);
    Weighing { treat: (1.0 - right * crossings.low.within_30).max(LEAST_NEEDLESS), hold: weight(caution) * late }
}

/// The chance within some minutes from 15 to 60, drawn straight between those told.
fn within(crossing: &Crossing, minutes: f64) -> f64 {
    if minutes <= 30.0 {
        let part = ((minutes - 15.0) / 15.0).clamp(0.0, 1.0);
        crossing.within_15 + part * (crossing.within_30 - crossing.within_15)
    } else {
        let part = ((minutes - 30.0) / 30.0).clamp(0.0, 1.0);
        crossing.within_30 + part * (crossing.within_60 - crossing.within_30)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn crossings(low: f64, floor: f64) -> Crossings {
        let crossing = |line_mg_dl, chance: f64| Crossing {
            line_mg_dl,
            within_15: chance / 2.0,
            within_30: chance,
            within_60: chance,
            expected_minutes: None,
        };
        Crossings { low: crossing(70.0, low), floor: crossing(54.0, floor) }
    }

    #[test]
    fn more_caution_never_turns_treat_into_hold() {
        for low in [0.0, 0.2, 0.5, 0.9, 1.0] {
            for floor in [0.0, 0.01, 0.05, 0.1, 0.5] {
                let says = |caution| weigh(&crossings(low, floor), 1.0, caution, 10.0).says_treat();
                assert!(says(Caution::Sparing) <= says(Caution::Balanced));
                assert!(says(Caution::Balanced) <= says(Caution::Early));
            }
        }
    }

    #[test]
    fn a_later_next_look_never_turns_treat_into_hold() {
        let f = crossings(0.3, 0.055);
        let says = |look| weigh(&f, 1.0, Caution::Balanced, look).hold;
        assert!(says(20.0) >= says(10.0));
    }

    #[test]
    fn no_chance_of_the_floor_line_never_says_treat() {
        assert!(!weigh(&crossings(0.95, 0.0), 1.0, Caution::Early, 20.0).says_treat());
    }

    #[test]
    fn doubt_turns_treat_into_hold_and_never_the_other_way() {
        let f = crossings(1.0, 0.5);
        let says = |right| weigh(&f, right, Caution::Balanced, 10.0).says_treat();
        assert!(says(1.0) && says(0.5) && !says(0.02));
    }
}
