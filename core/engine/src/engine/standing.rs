//! What was said in a fall that goes on: since when the weighing says treat, and the prompt to treat that stands.

use super::{Engine, unasked};
use crate::log::Reading;
use crate::prompt::{Stands, weigh_now};
use crate::time::Moment;

/// A fall is over this far above the low line, in mg/dL.
const FALL_WITHIN_MG_DL: f64 = 30.0;
/// Or rising this fast, in mg/dL/min.
const RISING_AGAIN: f64 = 0.5;
/// A fall is remembered for this long, in minutes.
const SAID_FOR_MINUTES: f64 = 30.0;
/// What a prompt said outright stands for this long unless something speaks against it, in minutes
/// (chosen in the closed-loop trial, `tests/docs/trial.md`).
const STANDS_MINUTES: f64 = 15.0;
/// A reading more than this above the lowest since then speaks against it where glucose does not fall any more by the estimate, in
/// mg/dL: more than sensor noise of 3, and between whole numbers, so that rounding to mmol/L and back decides nothing.
const RISEN_MG_DL: f64 = 3.5;

/// A prompt to treat before a low, which stands until something new speaks against it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Standing {
    said: Moment,
    /// The lowest reading since, in mg/dL.
    lowest_mg_dl: f64,
    stands: Stands,
    /// A reading since was higher by more than sensor noise: what was said stands no longer.
    risen: bool,
}

impl Engine<'_> {
    /// Remembers since when the weighing has said treat, so that the answer to a fall does not come and go with every reading.
    /// Near the line the whole question is asked at each falling reading, since what a prompt would have said stands for a while.
    pub(super) fn follow_fall(&mut self, reading: Reading) {
        let (now, mg_dl, low) = (reading.at, reading.glucose.mg_dl(), self.wearer.low_line.mg_dl());
        let rate = self.recent.newest().map_or(0.0, |seen| seen.rate_mg_dl_min);
        if mg_dl >= low + FALL_WITHIN_MG_DL || rate > RISING_AGAIN {
            self.treat_said = None;
        } else if self.treat_said(now).is_none() && mg_dl >= low && rate < 0.0 {
            self.treat_said = self.weighs_treat(now).then_some(now);
        }
        let stood =
            self.standing.take().filter(|one| now.minutes_since(one.said) <= STANDS_MINUTES).map(|one| Standing {
                lowest_mg_dl: one.lowest_mg_dl.min(mg_dl),
                risen: one.risen || (mg_dl > one.lowest_mg_dl + RISEN_MG_DL && rate >= 0.0),
                ..one
            });
        // What stood is not counted for saying it again: otherwise it would never expire.
        let near = mg_dl >= low && mg_dl < low + FALL_WITHIN_MG_DL && rate < 0.0;
        let said = near.then(|| Stands::by(&self.answer(&unasked(now)))).flatten();
        self.standing = match (stood, said) {
            (stood, Some(stands)) => {
                let stood = stood.filter(|stood| !stood.risen);
                let stands = stood.map_or(stands, |stood| stood.stands.max(stands));
                Some(Standing { said: now, lowest_mg_dl: mg_dl, stands, risen: false })
            }
            (stood, None) => stood,
        };
    }

    /// The prompt to treat that stands: it was given a few readings ago, and neither a meter check, nor carbohydrate, nor a rise speaks
    /// against it.
    pub(super) fn treat_stands(&self, now: Moment) -> Option<Stands> {
        self.unanswered(now).filter(|one| !one.risen).map(|one| one.stands)
    }

    /// The prompt to treat of the last quarter of an hour that neither a meter check nor carbohydrate has answered.
    pub(super) fn unanswered(&self, now: Moment) -> Option<Standing> {
        let standing = self.standing?;
        let lately = (0.0..=STANDS_MINUTES).contains(&now.minutes_since(standing.said));
        let answered = self.eaten_since(standing.said, now) || self.checked_since(standing.said, now);
        (lately && !answered).then_some(standing)
    }

    /// Whether the weighing alone says to treat at the newest reading.
    fn weighs_treat(&self, now: Moment) -> bool {
        let if_right = self.if_right(&self.tracker, now);
        let Some(forecast) =
            if_right.or_else(|| self.forecaster.forecast(self.wearer, self.tracker.difference(now), 0.0))
        else {
            return false;
        };
        let compression = self.tracker.modes().map_or(0.0, |modes| modes.compression);
        let asleep = self.circumstances(now).asleep;
        weigh_now(&forecast, self.wearer, asleep, compression, self.recent.spacing_minutes()).says_treat()
    }

    /// Minutes since the weighing said treat in a fall that goes on, unless something was eaten since or it is long ago.
    pub(super) fn treat_said(&self, now: Moment) -> Option<f64> {
        let said = self.treat_said?;
        let minutes = now.minutes_since(said);
        (!self.eaten_since(said, now) && (0.0..=SAID_FOR_MINUTES).contains(&minutes)).then_some(minutes)
    }
}
