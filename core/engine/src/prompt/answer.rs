//! The answer to a question, and what of it is kept in the log.

use serde::Serialize;

use super::{Caution, Change, Matter, Occasion, Reason, Sentence, Verdict};
use crate::estimate::Estimate;
use crate::forecast::Forecast;
use crate::forecast::futures::Futures;
use crate::forecast::long::LongChance;
use crate::log::Prompted;
use crate::time::Moment;
use crate::units::Glucose;

/// Insulin and carbohydrate still at work, from what was logged.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct OnBoard {
    /// Rapid insulin not yet absorbed, in units.
    pub insulin_units: f64,
    /// Carbohydrate not yet absorbed, in g.
    pub carbohydrate_g: f64,
}

/// The answer to a [`Question`](super::Question).
#[derive(Clone, Debug, PartialEq)]
pub struct Prompt {
    /// When it was asked.
    pub at: Moment,
    /// What it is about.
    pub matter: Matter,
    /// What to do.
    pub verdict: Verdict,
    /// With [`Verdict::Check`]: what to do if no meter is at hand, [`Verdict::Treat`] or [`Verdict::Hold`].
    pub without_meter: Option<Verdict>,
    /// The sentence to lead with.
    pub sentence: Sentence,
    /// Why, the weightiest first.
    pub reasons: Vec<Reason>,
    /// The usual cautions that apply.
    pub cautions: Vec<Caution>,
    /// When to look again, in minutes.
    pub look_again_minutes: Option<u16>,
    /// What would change it.
    pub would_change: Vec<Change>,
    /// Where glucose is; nothing without usable readings.
    pub estimate: Option<Estimate>,
    /// Where it will be; nothing without usable readings.
    pub forecast: Option<Forecast>,
    /// Both futures of blood glucose from the newest reading: treated now, and waited.
    pub futures: Option<Futures>,
    /// Chances of a low within two, four and six hours; nothing from less than half a day of readings.
    pub long: Option<[LongChance; 3]>,
    /// What is still at work.
    pub on_board: OnBoard,
}

impl Prompt {
    /// Both futures, where a low is what there is to decide about and they differ by what somebody would act on: what a shell shows.
    #[must_use]
    pub fn futures_shown(&self) -> Option<&Futures> {
        let decides = matches!(self.verdict, Verdict::Treat | Verdict::Check | Verdict::Hold);
        let shown = decides && self.matter != Matter::Rising;
        self.futures.as_ref().filter(|both| shown && both.is_worth_showing())
    }

    /// The verdict for somebody who has no meter at hand: a check says what to do then.
    #[must_use]
    pub fn verdict_without_meter(&self) -> Verdict {
        self.without_meter.unwrap_or(self.verdict)
    }

    /// What is kept of it in the log. `occasion` is that of the question.
    #[must_use]
    pub fn kept(&self, occasion: Occasion) -> Prompted {
        let to_the_thousandth = |chance: f64| (chance.clamp(0.0, 1.0) * 1000.0).round() / 1000.0;
        Prompted {
            occasion,
            matter: self.matter,
            verdict: self.verdict,
            without_meter: self.without_meter,
            chance_low: self
                .forecast
                .as_ref()
                .map(|forecast| forecast.low.within_30)
                .filter(|chance| chance.is_finite())
                .map(to_the_thousandth),
            chance_if_waiting: self.futures_shown().map(|both| to_the_thousandth(both.wait.p_low_60)),
            chance_if_treating: self.futures_shown().map(|both| to_the_thousandth(both.treat.p_low_60)),
            blood_mg_dl: self.estimate.and_then(|estimate| Glucose::from_mg_dl(estimate.blood_mg_dl).ok()),
            look_again_minutes: self.look_again_minutes,
        }
    }
}
