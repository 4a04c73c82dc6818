//! The night: one question, and the answers that fit what was said.

use std::sync::Arc;

use ebbstead_core::log::Shown;
use ebbstead_core::night::{self, LOOK_AFTER_ROLLING_MINUTES};
use ebbstead_core::prompt as core_prompt;
use ebbstead_core::time::Moment as CoreMoment;
use ebbstead_core::units::Glucose;
use ebbstead_core::words::{ShellLabel, Words};
use ebbstead_core::{Error, Result};

use crate::check::{Answer, Question, answer_shown};
use crate::companion::Shared;
use crate::error::ApiResult;
use crate::mirror::mirrored_names;
use crate::prompt::Occasion;
use crate::records::{Beyond, Entry, Moment, Symptom};
use crate::watcher::Due;

mirrored_names! {
    /// An answer that can be offered.
    NightChoice = ebbstead_core::night::Offer {
        /// Call, before anything else: the screen of [`crate::HelpPage`].
        Call,
        /// A meter was used: ask what it shows, then [`NightAnswer::Checked`].
        Checked,
        /// [`NightAnswer::Treated`].
        Treated,
        /// [`NightAnswer::RolledOver`].
        RolledOver,
    }
}

/// An answer to offer, in words.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct NightOffer {
    /// Which.
    pub what: NightChoice,
    /// What to write on its button.
    pub text: String,
}

impl NightOffer {
    /// The answers that fit a prompt, the one it asks for first.
    pub(crate) fn fitting(prompt: &core_prompt::Prompt, words: Words) -> Vec<Self> {
        let text = |offer| match offer {
            night::Offer::Call => ShellLabel::GetHelp,
            night::Offer::Checked => ShellLabel::Meter,
            night::Offer::Treated => ShellLabel::ITreated,
            night::Offer::RolledOver => ShellLabel::IRolledOver,
        };
        night::offers(prompt)
            .into_iter()
            .map(|offer| Self { what: offer.into(), text: words.shell_label(text(offer)).to_owned() })
            .collect()
    }
}

/// What one did after having been woken.
#[derive(Clone, Copy, Debug, PartialEq, uniffi::Enum, serde::Serialize)]
pub enum NightAnswer {
    /// Checked with a meter.
    Checked {
        /// What it showed, in mg/dL; the limit, where it was too low or too high to measure.
        mg_dl: f64,
        /// Too low or too high to measure.
        #[uniffi(default = None)]
        beyond: Option<Beyond>,
    },
    /// Took rescue carbohydrate.
    Treated {
        /// Grams. Where none are given: as much as the wearer noted the last time within 90 days, else the published first
        /// step of 15 g. The entry returned says how much was noted, and can be put right.
        grams: Option<f64>,
    },
    /// No longer lies on the sensor; look again in five minutes.
    RolledOver,
}

/// What became of an answer.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct NightDone {
    /// What was kept; the earlier one, if the same was answered less than a minute before.
    pub kept: Entry,
    /// What to do now.
    pub answer: Answer,
}

/// Works at night.
#[derive(uniffi::Object)]
pub struct NightPart {
    pub(crate) shared: Arc<Shared>,
}

#[uniffi::export]
impl NightPart {
    /// Answers whoever was woken, and keeps the prompt as [`crate::CheckPart::show`] does.
    ///
    /// # Errors
    /// As [`crate::CheckPart::ask`].
    pub fn woken(&self, now: Moment, feels: Option<Symptom>) -> ApiResult<Answer> {
        answer_shown(
            &self.shared,
            Question { now, occasion: Occasion::Wake, feels, meter_mg_dl: None, meter_beyond: None },
        )
    }

    /// Keeps what was done, and answers again with it.
    ///
    /// # Errors
    /// As [`crate::LogPart::record`]; nothing is kept then.
    pub fn done(&self, what: NightAnswer, now: Moment) -> ApiResult<NightDone> {
        let words = self.shared.words();
        let at: CoreMoment = now.try_into().map_err(|error| self.shared.refused(&error))?;
        let kept = self.shared.change(|log| night::note(log, what.try_into()?, at))?;
        let answer = self.woken(now, None)?;
        if matches!(what, NightAnswer::RolledOver) {
            let at = at.plus_minutes(LOOK_AFTER_ROLLING_MINUTES).into();
            self.shared.set_due(Some(Due { at, occasion: Occasion::Wake }));
        }
        Ok(NightDone { kept: Entry::of(kept, words), answer })
    }
}

impl TryFrom<NightAnswer> for night::Done {
    type Error = Error;
    fn try_from(here: NightAnswer) -> Result<Self> {
        Ok(match here {
            NightAnswer::Checked { mg_dl, beyond } => {
                Self::Checked(Shown { glucose: Glucose::from_mg_dl(mg_dl)?, beyond: beyond.map(Into::into) })
            }
            NightAnswer::Treated { grams } => Self::Treated(grams),
            NightAnswer::RolledOver => Self::RolledOver,
        })
    }
}
