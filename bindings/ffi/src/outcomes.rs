//! What came of the prompts.

use std::sync::Arc;

use ebbstead_core::outcomes::Outcomes;
use ebbstead_core::pages;
use ebbstead_core::review::Period;
use ebbstead_core::words::Words;

use crate::companion::Shared;
use crate::error::ApiResult;
use crate::page::Page;
use crate::records::Moment;

/// Holds the prompts that were shown against what came after.
#[derive(uniffi::Object)]
pub struct OutcomesPart {
    pub(crate) shared: Arc<Shared>,
}

#[uniffi::export]
impl OutcomesPart {
    /// What came of the prompts shown in the last days (90 is usual), as a page.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for no days or a time that cannot be; those of reading.
    pub fn page(&self, days: u16, now: Moment) -> ApiResult<Page> {
        self.shared.with(|log| {
            let now = now.try_into()?;
            let period = Period::days_before(now, days)?;
            let wearer = log.wearer()?;
            let outcomes = Outcomes::of(&log.history(period.from(), now)?, &wearer, period, now);
            Ok(pages::outcomes::page(&outcomes, &wearer, Words::of(&wearer)).into())
        })
    }
}
