//! Alcohol: it lowers for hours, mostly late, and makes what comes less certain.
//!
//! The liver makes less new glucose while it breaks alcohol down, and counter-regulation is weaker for hours after. How much that
//! comes to in one person on one evening is not known, so this is a lowering spread evenly over the hours in which lows were
//! found, and a wider spread of the paths below the expected one. Neither is ever negative: alcohol never makes waiting safer.
//!
//! # Source
//! Turner et al., Diabetes Care 2001;24:1888-1893: six men with type 1 diabetes drank wine (0.75 g/kg alcohol) at 21:00; no
//! difference overnight, after breakfast a peak of 8.9 instead of 15 mmol/L, and from 10:00 on five of six had to be treated
//! for a low, none after water. Richardson et al., Diabetes Care 2005;28:1801-1802 (from memory): twice as many lows in the 24
//! hours after vodka. The amount a drink lowers by is an assumption of that order: 110 mg/dL after about six drinks.

use crate::log::History;
use crate::sorted::within;
use crate::time::Moment;

/// For how long a drink counts, in minutes: from an evening until noon.
const COUNTS_MINUTES: f64 = 960.0;
/// What a drink lowers by over that time, in mg/dL (assumption, see above).
const LOWERS_MG_DL: f64 = 18.0;
/// By how much a drink widens the paths below the expected one, as a share, and the most that all drinks do (assumption).
const WIDENS: (f64, f64) = (0.05, 0.3);

/// Alcohol at work at a moment.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Alcohol {
    /// Standard drinks that count.
    pub drinks: f64,
    /// Minutes since the newest of them.
    pub minutes_ago: f64,
    /// All that they may still lower by, in mg/dL.
    pub left_mg_dl: f64,
    /// What they may lower by in the next minutes asked about, in mg/dL.
    pub next_mg_dl: f64,
}

impl Alcohol {
    /// What was drunk up to a moment and counts then; nothing where there is none.
    #[must_use]
    pub fn at(history: &History, now: Moment, ahead_minutes: f64) -> Option<Self> {
        let mut all: Option<Self> = None;
        for one in within(&history.alcohol, |one| one.at, now.plus_minutes(-COUNTS_MINUTES), now) {
            let minutes = now.minutes_since(one.at);
            let left = |minutes: f64| one.drinks * LOWERS_MG_DL * (1.0 - minutes / COUNTS_MINUTES).max(0.0);
            let before = all.unwrap_or(Self { minutes_ago: f64::INFINITY, ..Self::default() });
            all = Some(Self {
                drinks: before.drinks + one.drinks,
                minutes_ago: before.minutes_ago.min(minutes),
                left_mg_dl: before.left_mg_dl + left(minutes),
                next_mg_dl: before.next_mg_dl + left(minutes) - left(minutes + ahead_minutes),
            });
        }
        all
    }

    /// The factor by which the paths below the expected one are wider; at least 1.
    #[must_use]
    pub(crate) fn widens(&self) -> f64 {
        let (a_drink, most) = WIDENS;
        1.0 + (a_drink * self.drinks).clamp(0.0, most)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::Drinking;

    #[test]
    fn drinks_count_until_the_next_noon_and_add_up() {
        let evening = Moment::parse("2026-03-01T21:00:00+01:00").unwrap();
        let drink = |minutes: f64, drinks: f64| Drinking { at: evening.plus_minutes(minutes), drinks };
        let history = History { alcohol: vec![drink(0.0, 2.0), drink(60.0, 3.0)], ..History::default() };
        let at = |minutes: f64| Alcohol::at(&history, evening.plus_minutes(minutes), 30.0);
        assert_eq!(at(-1.0), None, "not before it was drunk");
        let night = at(360.0).unwrap();
        assert!((night.drinks - 5.0).abs() < 1e-9 && (night.minutes_ago - 300.0).abs() < 1e-9);
        // 90 mg/dL evenly over 16 hours: 2.8 in half an hour.
        assert!((night.next_mg_dl - 90.0 / 32.0).abs() < 1e-9, "{night:?}");
        assert!(night.left_mg_dl > at(600.0).unwrap().left_mg_dl && night.widens() > 1.2);
        assert!((at(970.0).unwrap().drinks - 3.0).abs() < 1e-9);
        assert_eq!(at(1020.0), None);
    }
}
