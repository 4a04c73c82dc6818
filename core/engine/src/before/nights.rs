//! How the chances of nights turned out for one wearer, and what the next ones are corrected by.
//!
//! One number for lows and one for very low ones is added to the log-odds of a night's chance. It is drawn toward none, the
//! population's, by a prior, so that few nights change little. Whether it is used is judged on later nights only: each
//! night is scored with what the nights before it gave.
//!
//! # Source
//! The most likely value under a normal prior: logistic regression with an offset (McCullagh and Nelder, Generalized Linear
//! Models, 2nd ed. 1989, ch. 4, from memory). The prior's width is an assumption.

use serde::{Deserialize, Serialize};

use crate::logit::{chance_of, log_odds};

/// Standard deviation of wearers around the population, in log-odds (assumption).
const PRIOR_SD: f64 = 0.6;
/// Nights before the first one that is scored.
const FIRST_SCORED: usize = 7;
/// Nights that must have been scored before the correction is used.
const NEEDED_SCORED: u32 = 7;
/// Nights that it takes before the wearer's own count.
pub const NEEDED_NIGHTS: u32 = FIRST_SCORED as u32 + NEEDED_SCORED;
/// An hour in which lows of the night begin is known from so many on (assumption), and where it holds half of them.
const NEEDED_LOWS: u32 = 4;
/// How long that hour is, in minutes.
pub(crate) const HOUR_MINUTES: u16 = 60;
/// Minutes of a day.
const DAY_MINUTES: u16 = 1440;
/// Chances are held within this, so that one surprise does not decide.
const HELD: f64 = 0.005;

/// A night that is over.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Night {
    /// The chance of a low until the morning, as it was at bedtime.
    pub p_low: f64,
    /// The same of a very low one.
    pub p_floor: f64,
    /// Whether a reading was below 70 mg/dL.
    pub low: bool,
    /// Whether one was below 54 mg/dL.
    pub floor: bool,
    /// When the first one below 70 mg/dL was, in local minutes of the day.
    pub first_low_minute: Option<u16>,
}

/// What nights came to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Nights {
    /// Nights with enough readings to judge.
    pub nights: u32,
    /// Of these, with a reading below 70 mg/dL.
    pub with_low: u32,
    /// Of these, with one below 54 mg/dL.
    pub with_floor: u32,
    /// The correction of chances of a low.
    pub low: OwnNights,
    /// The correction of chances of a very low one.
    pub floor: OwnNights,
    /// The hour in which most lows of these nights begin, where there is one. Not kept by earlier versions.
    #[serde(default)]
    pub lows_begin: Option<LowsBegin>,
}

/// The hour of the night in which most of the wearer's lows begin: the first low of each night.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct LowsBegin {
    /// When it begins, in local minutes of the day.
    pub from_minute: u16,
    /// Nights whose first low began in it.
    pub nights: u32,
    /// Of so many nights with enough readings to judge.
    pub of_nights: u32,
}

/// A correction of one kind of chance.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct OwnNights {
    /// What is added to the log-odds.
    pub log_odds: f64,
    /// Nights scored, each with what the nights before it gave.
    pub scored: u32,
    /// Mean log score of the population's chances on these; greater is better.
    pub score_population: Option<f64>,
    /// The same with the wearer's own.
    pub score_own: Option<f64>,
}

impl Nights {
    /// What nights come to, the oldest first.
    #[must_use]
    pub fn of(nights: &[Night]) -> Self {
        let count = |is: fn(&Night) -> bool| count(nights.iter().filter(|one| is(one)));
        let outcomes = |chance: fn(&Night) -> f64, came: fn(&Night) -> bool| -> Vec<(f64, bool)> {
            nights.iter().map(|one| (log_odds(chance(one), HELD), came(one))).collect()
        };
        Self {
            nights: count(|_| true),
            with_low: count(|one| one.low),
            with_floor: count(|one| one.floor),
            low: OwnNights::of(&outcomes(|one| one.p_low, |one| one.low)),
            floor: OwnNights::of(&outcomes(|one| one.p_floor, |one| one.floor)),
            lows_begin: LowsBegin::of(nights.iter().map(|one| one.first_low_minute)),
        }
    }
}

impl LowsBegin {
    /// The hour that holds most of the first lows, each in local minutes of the day, one for each night that was judged; nothing where they
    /// are few or scattered.
    #[must_use]
    pub fn of(first_lows: impl Iterator<Item = Option<u16>> + Clone) -> Option<Self> {
        let lows = first_lows.clone().flatten();
        let within = |from: u16| {
            let after = |minute: u16| (minute + DAY_MINUTES - from) % DAY_MINUTES;
            count(lows.clone().filter(|minute| after(*minute) < HOUR_MINUTES))
        };
        // Of two hours alike the one that comes first in the night.
        let since_noon = |minute: u16| (minute + DAY_MINUTES / 2) % DAY_MINUTES;
        let from_minute = lows.clone().max_by_key(|from| (within(*from), std::cmp::Reverse(since_noon(*from))))?;
        let nights = within(from_minute);
        let all = count(lows.clone());
        (nights >= NEEDED_LOWS && 2 * nights >= all).then(|| Self { from_minute, nights, of_nights: count(first_lows) })
    }

    /// The share of nights whose first low began in it.
    #[must_use]
    pub fn share(&self) -> f64 {
        f64::from(self.nights) / f64::from(self.of_nights.max(1))
    }
}

fn count<T>(all: impl Iterator<Item = T>) -> u32 {
    u32::try_from(all.count()).unwrap_or(u32::MAX)
}

impl OwnNights {
    fn of(outcomes: &[(f64, bool)]) -> Self {
        let mut scores = (0.0, 0.0, 0_u32);
        for place in FIRST_SCORED..outcomes.len() {
            let (odds, came) = outcomes[place];
            let own = fitted(&outcomes[..place]);
            scores = (scores.0 + score(odds, came), scores.1 + score(odds + own, came), scores.2 + 1);
        }
        let mean = |sum: f64| (scores.2 > 0).then(|| sum / f64::from(scores.2));
        Self {
            log_odds: fitted(outcomes),
            scored: scores.2,
            score_population: mean(scores.0),
            score_own: mean(scores.1),
        }
    }

    /// Whether the correction did no worse than the population on enough later nights.
    #[must_use]
    pub fn is_used(&self) -> bool {
        self.scored >= NEEDED_SCORED && self.score_own >= self.score_population
    }

    /// A chance, corrected where the correction is used.
    #[must_use]
    pub fn correct(&self, chance: f64) -> f64 {
        if self.is_used() { chance_of(log_odds(chance, HELD) + self.log_odds) } else { chance }
    }
}

/// The most likely correction under the prior, by Newton's method on a function with one peak.
fn fitted(outcomes: &[(f64, bool)]) -> f64 {
    let weight = 1.0 / (PRIOR_SD * PRIOR_SD);
    let mut own = 0.0;
    for _ in 0..25 {
        let (mut slope, mut bend) = (-own * weight, weight);
        for &(odds, came) in outcomes {
            let chance = chance_of(odds + own);
            slope += f64::from(u8::from(came)) - chance;
            bend += chance * (1.0 - chance);
        }
        own += slope / bend;
    }
    own
}

fn score(odds: f64, came: bool) -> f64 {
    let chance = chance_of(odds).clamp(HELD, 1.0 - HELD);
    if came { chance.ln() } else { (1.0 - chance).ln() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn nights(count: usize, every: usize) -> Vec<Night> {
        let low = |place: usize| every > 0 && place.is_multiple_of(every);
        (0..count).map(|place| night(0.05, low(place))).collect()
    }

    fn night(p_floor: f64, low: bool) -> Night {
        Night { p_low: 0.2, p_floor, low, floor: false, first_low_minute: low.then_some(180) }
    }

    #[test]
    fn few_nights_change_little_and_many_come_near_what_came() {
        // Lows on half of the nights, where a fifth was said.
        let few = Nights::of(&nights(3, 2)).low.log_odds;
        let many = Nights::of(&nights(400, 2)).low;
        assert!(few > 0.0 && few < 0.6, "{few}");
        assert!(many.is_used());
        assert!((many.correct(0.2) - 0.5).abs() < 0.03, "{}", many.correct(0.2));
        // A single night without a low hardly speaks.
        let one = Nights::of(&nights(1, 0)).low;
        assert!(one.log_odds < 0.0 && one.log_odds > -0.15 && !one.is_used());
    }

    /// Setting the derivative of the log posterior to nothing: sum of (came - chance) = own / variance.
    #[test]
    fn the_correction_is_where_the_posterior_peaks() {
        let given = nights(40, 3);
        let own = Nights::of(&given).low.log_odds;
        let pull: f64 =
            given.iter().map(|one| f64::from(u8::from(one.low)) - chance_of(log_odds(0.2, HELD) + own)).sum();
        assert!((pull - own / (PRIOR_SD * PRIOR_SD)).abs() < 1e-6, "{pull}");
    }

    #[test]
    fn nights_that_turned_out_as_said_are_left_alone() {
        let own = Nights::of(&nights(50, 5)).low;
        assert!(own.log_odds.abs() < 0.05, "{}", own.log_odds);
        assert!((own.correct(0.3) - 0.3).abs() < 0.02);
        // Lows that stop: what the nights before gave did worse on the later ones, so it is not used.
        let stops: Vec<Night> = (0..20).map(|place| night(0.0, place < 7)).collect();
        let own = Nights::of(&stops).low;
        assert!(own.score_own < own.score_population && !own.is_used());
        assert!((own.correct(0.2) - 0.2).abs() < 1e-12);
    }

    #[test]
    fn the_hour_in_which_lows_begin_holds_most_of_them_or_is_not_named() {
        let of = |lows: &[u16], without: usize| {
            let lows = lows.iter().copied().map(Some);
            LowsBegin::of(lows.chain(std::iter::repeat_n(None, without)))
        };
        assert_eq!(
            of(&[190, 180, 230, 239, 30], 3),
            Some(LowsBegin { from_minute: 180, nights: 4, of_nights: 8 }),
            "239 is within the hour, half past midnight is not"
        );
        // Across midnight, in whatever order.
        let begins = of(&[10, 1430, 20, 1425], 0).unwrap();
        assert_eq!((begins.from_minute, begins.nights), (1425, 4));
        assert_eq!(of(&[180, 180, 180], 0), None, "three are few");
        assert_eq!(of(&[180, 181, 182, 183, 300, 360, 420, 30, 90], 0), None, "most begin elsewhere");
        // Two hours alike: the one that comes first in the night.
        assert_eq!(of(&[180, 181, 182, 183, 1400, 1401, 1402, 1403], 0).map(|one| one.from_minute), Some(1400));
        assert_eq!(of(&[], 9), None);
    }
}
