//! What is asked ahead: before sleep, a drive, movement. One page each.

use std::sync::Arc;

use ebbstead_core::Result;
use ebbstead_core::before::activity::Planned;
use ebbstead_core::before::{self, Before};
use ebbstead_core::pages::before as pages;
use ebbstead_core::words::Words;

use crate::companion::Shared;
use crate::error::ApiResult;
use crate::form::{Filled, FormAnswer, filled};
use crate::mirror::mirrored_names;
use crate::page::Page;
use crate::records::{Effort, Moment, Symptom};

mirrored_names! {
    /// Kinds of movement, by what they do to glucose.
    Movement = ebbstead_core::before::activity::Movement {
        /// Steady: walking, running, cycling, swimming.
        Endurance,
        /// Short and hard with breaks: sprints, ball games.
        Intervals,
        /// Against resistance: weights.
        Strength,
    }
}

/// Answers questions ahead. What the wearer feels now goes with each; ask again once that changes.
#[derive(uniffi::Object)]
pub struct BeforePart {
    pub(crate) shared: Arc<Shared>,
}

#[uniffi::export]
impl BeforePart {
    /// The form that asks ahead, with the answer to what was filled in: pass nothing at first. What is chosen, typed or missing, and
    /// what cannot be taken, is core's to say; a slip is no error but advice beside its field.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for a `now` outside 2000 to 2199; `Closed`, `Busy`, `Damaged`, `Failed`.
    // By value: the generated code hands over owned values.
    pub fn asked(&self, filled_in: Filled, now: Moment) -> ApiResult<FormAnswer> {
        self.shared.ask(|log| {
            let (form, page) = before::answer(log, &filled(filled_in), now.try_into()?)?;
            Ok(FormAnswer { form: form.into(), page: page.map(Into::into), message: None })
        })
    }

    /// Before sleep: the chance of a low until a time, or until the wearer's morning where none is given, when an alarm is likely, and
    /// whether to look again.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for a time that is past or more than a day ahead; `Closed`, `Busy`, `Damaged`, `Failed`.
    pub fn sleep(&self, now: Moment, until: Option<Moment>, feels: Option<Symptom>) -> ApiResult<Page> {
        self.page(now, feels, |before, words| {
            let until = until.map(TryInto::try_into).transpose()?;
            Ok(pages::sleep(&before.sleep(until)?, words))
        })
    }

    /// Before a drive of so many minutes that begins now: the rule of the country set where one is known, and the chances over it.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] unless it lasts 1 minute to a day; `Closed`, `Busy`, `Damaged`, `Failed`.
    pub fn driving(&self, now: Moment, minutes: f64, feels: Option<Symptom>) -> ApiResult<Page> {
        self.page(now, feels, |before, words| Ok(pages::driving(&before.driving(minutes)?, words)))
    }

    /// Before movement that begins now: the published starting ranges, and what to mind. Ketones are those just measured in blood, in
    /// mmol/L, if they were.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] unless it lasts 1 minute to a day and ketones are 0 to 20 mmol/L; `Closed`, `Busy`, `Damaged`,
    /// `Failed`.
    pub fn activity(
        &self,
        now: Moment,
        kind: Movement,
        effort: Effort,
        minutes: f64,
        ketones_mmol_l: Option<f64>,
        feels: Option<Symptom>,
    ) -> ApiResult<Page> {
        let planned = Planned { kind: kind.into(), effort: effort.into(), minutes, ketones_mmol_l };
        self.page(now, feels, |before, words| Ok(pages::activity(&before.activity(planned)?, words)))
    }
}

impl BeforePart {
    fn page(
        &self,
        now: Moment,
        feels: Option<Symptom>,
        page: impl FnOnce(&Before, Words) -> Result<ebbstead_core::page::Page>,
    ) -> ApiResult<Page> {
        self.shared.ask(|log| {
            let before = Before::at(log, now.try_into()?, feels.map(Into::into))?;
            Ok(page(&before, Words::of(&before.wearer))?.into())
        })
    }
}
