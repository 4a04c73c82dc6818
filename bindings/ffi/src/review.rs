//! The record of some days, reviewed.

use std::sync::Arc;

use ebbstead_core::chart;
use ebbstead_core::log::History;
use ebbstead_core::pages;
use ebbstead_core::review::{self, Period, Review};
use ebbstead_core::time::Moment as CoreMoment;
use ebbstead_core::wearer::Wearer;
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

/// What a review is made from.
struct Reviewed {
    history: History,
    wearer: Wearer,
    review: Review,
    before: Review,
}

#[uniffi::export]
impl ReviewPart {
    /// The review as a page, beside the days before.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for no days or a time that cannot be; those of reading.
    pub fn page(&self, options: ReviewOptions, now: Moment) -> ApiResult<Page> {
        self.shared.guarded(|| {
            let Reviewed { history, wearer, review, before } = self.reviewed(options, now)?;
            Ok(pages::review::page(&review, Some(&before), &history, &wearer, Words::of(&wearer)).into())
        })
    }

    /// The daily profile, to draw beside the page; nothing where no hour has enough readings.
    ///
    /// # Errors
    /// As [`ReviewPart::page`].
    pub fn day(&self, options: ReviewOptions, now: Moment) -> ApiResult<Option<DayChart>> {
        self.shared.guarded(|| {
            let Reviewed { wearer, review, .. } = self.reviewed(options, now)?;
            Ok(chart::DayChart::of(&review, &wearer, Words::of(&wearer)).map(Into::into))
        })
    }

    /// The review as one HTML file of two printed pages, with drawings and no script: to show, print or take along.
    ///
    /// # Errors
    /// As [`ReviewPart::page`].
    pub fn html(&self, options: ReviewOptions, now: Moment) -> ApiResult<String> {
        self.shared.guarded(|| {
            let Reviewed { history, wearer, review, before } = self.reviewed(options, now)?;
            let now: CoreMoment = now.try_into().map_err(|error| self.shared.refused(&error))?;
            Ok(pages::report::html(&review, Some(&before), &history, &wearer, Words::of(&wearer), now, None))
        })
    }
}

impl ReviewPart {
    fn reviewed(&self, options: ReviewOptions, now: Moment) -> ApiResult<Reviewed> {
        let ReviewOptions { days, aims, without_compression_lows } = options;
        let options = review::ReviewOptions { group: aims.into(), without_compression_lows };
        let (periods, wearer, history) = self.shared.with(|log| {
            let period = Period::days_before(now.try_into()?, days)?;
            let earlier = Period::days_before(period.from(), days)?;
            Ok(((period, earlier), log.wearer()?, log.history(earlier.from(), period.until())?))
        })?;
        let (period, earlier) = periods;
        let review = Review::of(&history, &wearer, period, options);
        let before = Review::of(&history, &wearer, earlier, options);
        Ok(Reviewed { history, wearer, review, before })
    }
}
