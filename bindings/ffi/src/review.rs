//! The record of some days, reviewed.

use std::sync::Arc;

use ebbstead_core::review;
use ebbstead_core::reviewed::Reviewed;
use ebbstead_core::time::Moment as CoreMoment;
use ebbstead_core::words::Words;

use crate::chart::DayChart;
use crate::companion::Shared;
use crate::error::ApiResult;
use crate::mirror::mirrored_names;
use crate::page::Page;
use crate::records::Moment;

mirrored_names! {
    /// Whose published aims to hold the time in range against.
    Aims = ebbstead_core::review::metrics::Group {
        /// Adults with type 1 or type 2 diabetes.
        Adult,
        /// Older people and those at high risk.
        OlderOrHighRisk,
        /// Pregnancy with type 1 diabetes.
        Type1Pregnancy,
    }
}

/// What to review.
#[derive(Clone, Copy, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct ReviewOptions {
    /// How many days up to now, 1 to 3660; 14 is usual.
    pub days: u16,
    /// Whose published aims.
    pub aims: Aims,
    /// Leave out the spells in which the sensor was pressed.
    pub without_compression_lows: bool,
}

/// Reviews the record.
#[derive(uniffi::Object)]
pub struct ReviewPart {
    pub(crate) shared: Arc<Shared>,
}

#[uniffi::export]
impl ReviewPart {
    /// The review as a page, beside the days before.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for no days or a time that cannot be; those of reading.
    pub fn page(&self, options: ReviewOptions, now: Moment) -> ApiResult<Page> {
        self.reviewed(options, now, |reviewed, words, _| reviewed.page(words).into())
    }

    /// The daily profile, to draw beside the page; nothing where no hour has enough readings.
    ///
    /// # Errors
    /// As [`ReviewPart::page`].
    pub fn day(&self, options: ReviewOptions, now: Moment) -> ApiResult<Option<DayChart>> {
        self.reviewed(options, now, |reviewed, words, _| reviewed.day(words).map(Into::into))
    }

    /// The review as one HTML file of two printed pages, with drawings and no script: to show, print or take along.
    ///
    /// # Errors
    /// As [`ReviewPart::page`].
    pub fn html(&self, options: ReviewOptions, now: Moment) -> ApiResult<String> {
        self.reviewed(options, now, |reviewed, words, now| reviewed.html(words, now))
    }
}

impl ReviewPart {
    fn reviewed<T>(
        &self,
        options: ReviewOptions,
        now: Moment,
        made: impl FnOnce(&Reviewed, Words, CoreMoment) -> T,
    ) -> ApiResult<T> {
        let ReviewOptions { days, aims, without_compression_lows } = options;
        let options = review::ReviewOptions { group: aims.into(), without_compression_lows };
        self.shared.with(|log| {
            let now = now.try_into()?;
            Ok(made(&Reviewed::of(log, days, options, now)?, Words::of(&log.wearer()?), now))
        })
    }
}
