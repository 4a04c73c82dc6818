//! What is learnt of the wearer from the log.

use std::sync::Arc;

use ebbstead_core::Result;
use ebbstead_core::learn::{self, KEPT_AS, Lesson};
use ebbstead_core::pages;
use ebbstead_core::store::Log;
use ebbstead_core::words::Words;

use crate::companion::Shared;
use crate::error::ApiResult;
use crate::page::Page;
use crate::records::Moment;

/// Learns.
#[derive(uniffi::Object)]
pub struct LearnPart {
    pub(crate) shared: Arc<Shared>,
}

#[uniffi::export]
impl LearnPart {
    /// Goes through the last 60 days, keeps what they teach in the log and marks the spells in which the sensor was pressed;
    /// every prompt uses it from then on. Takes up to a few seconds: do it in the background, about once a week. It works on
    /// the file by itself, so that a prompt asked for meanwhile does not wait for it.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for a time that cannot be; those of reading and writing.
    pub fn now(&self, now: Moment) -> ApiResult<Page> {
        let path = self.shared.with(|log| Ok(log.path().to_owned()))?;
        let go_through = || -> Result<Page> {
            let now = now.try_into()?;
            let mut log = Log::open(&path, now)?;
            let lessons = learn::from_log(&mut log, now)?;
            Ok(pages::learn::page(&lessons.lesson, &lessons.marked, Words::of(&log.wearer()?)).into())
        };
        let page = self.shared.guarded(|| go_through().map_err(|error| self.shared.refused(&error)))?;
        // The watcher is notified as if this companion had written it.
        self.shared.change(|_| Ok(()))?;
        Ok(page)
    }

    /// What was learnt last; nothing where nothing was.
    ///
    /// # Errors
    /// Those of reading.
    pub fn last(&self) -> ApiResult<Option<Page>> {
        self.shared.with(|log| {
            let words = Words::of(&log.wearer()?);
            Ok(log.learned::<Lesson>(KEPT_AS)?.map(|kept| pages::learn::page(&kept.what, &[], words).into()))
        })
    }
}
