//! What each fall would have got from a rule or from the prompts.

use serde::Serialize;

use crate::traces::Trace;

/// Counts over falls.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct FallTally {
    falls: usize,
    needless: usize,
    lows: usize,
    prompted_before_low: usize,
    below_54: usize,
    in_good_time: usize,
    asks_for_checks: bool,
    checked: usize,
}

/// The counts as shares.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct FallScores {
    /// How many falls.
    pub falls: usize,
    /// How many of them stayed at 70 mg/dL or above.
    pub stayed_above: usize,
    /// Of these, the share with a treat.
    pub needless: Option<f64>,
    /// Of those that went below 70 mg/dL, the share with a treat before.
    pub before_70: Option<f64>,
    /// How many went below 54 mg/dL.
    pub below_54: usize,
    /// Of these, the share with a treat 15 minutes or more before.
    pub in_good_time: Option<f64>,
    /// Of all falls, the share in which a finger check was asked for; nothing for rules that never ask.
    pub checked: Option<f64>,
}

impl FallTally {
    /// Adds one person's falls, given at which readings `treats` says to treat and, for what can ask, `checks` to check.
    pub fn add(&mut self, trace: &Trace, falls: &[(usize, usize)], treats: &[bool], checks: Option<&[bool]>) {
        self.asks_for_checks |= checks.is_some();
        for (first, last) in falls.iter().copied() {
            let find = |is: &dyn Fn(usize) -> bool| (first..=last).find(|at| is(*at));
            let said = find(&|at| treats[at]);
            let low = find(&|at| trace.mg_dl[at] < 70.0);
            let serious = find(&|at| trace.mg_dl[at] < 54.0);
            self.falls += 1;
            self.checked += usize::from(checks.is_some_and(|checks| find(&|at| checks[at]).is_some()));
            self.needless += usize::from(said.is_some() && low.is_none());
            self.lows += usize::from(low.is_some());
            self.prompted_before_low += usize::from(low.zip(said).is_some_and(|(low, said)| said < low));
            self.below_54 += usize::from(serious.is_some());
            // Half a minute of grace: readings come every five minutes, more or less.
            let notice = serious.zip(said).map(|(serious, said)| trace.minutes[serious] - trace.minutes[said]);
            self.in_good_time += usize::from(notice.is_some_and(|minutes| minutes >= 14.5));
        }
    }

    /// Puts two together.
    pub fn merge(&mut self, other: Self) {
        let Self { falls, needless, lows, prompted_before_low, below_54, in_good_time, asks_for_checks, checked } =
            other;
        self.falls += falls;
        self.needless += needless;
        self.lows += lows;
        self.prompted_before_low += prompted_before_low;
        self.below_54 += below_54;
        self.in_good_time += in_good_time;
        self.asks_for_checks |= asks_for_checks;
        self.checked += checked;
    }

    /// The shares.
    #[must_use]
    pub fn scores(&self) -> FallScores {
        let share = |part: usize, whole: usize| (whole > 0).then(|| part as f64 / whole as f64);
        let stayed_above = self.falls - self.lows;
        FallScores {
            falls: self.falls,
            stayed_above,
            needless: share(self.needless, stayed_above),
            before_70: share(self.prompted_before_low, self.lows),
            below_54: self.below_54,
            in_good_time: share(self.in_good_time, self.below_54),
            checked: share(self.checked, self.falls).filter(|_| self.asks_for_checks),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_fall_gets_what_it_got() {
        let mg_dl = vec![100.0, 90.0, 80.0, 75.0, 69.0, 60.0, 53.0, 60.0];
        let trace = Trace { minutes: (0..8).map(|k| 5.0 * f64::from(k)).collect(), mg_dl };
        let scores = |treat_at: usize, last: usize| {
            let mut tally = FallTally::default();
            let treats: Vec<bool> = (0..8).map(|at| at == treat_at).collect();
            tally.add(&trace, &[(0, last)], &treats, None);
            tally.scores()
        };
        assert_eq!(scores(2, 3).needless, Some(1.0));
        assert_eq!(scores(9, 3).needless, Some(0.0));
        let (early, late) = (scores(3, 7), scores(4, 7));
        assert_eq!((early.needless, early.before_70, early.in_good_time), (None, Some(1.0), Some(1.0)));
        assert_eq!((late.before_70, late.in_good_time), (Some(0.0), Some(0.0)));
    }
}
