//! Days of a log, reviewed: as a page, as a profile to draw, as a file to print.

use crate::chart::DayChart;
use crate::error::Result;
use crate::log::History;
use crate::page::Page;
use crate::pages;
use crate::review::{Review, ReviewOptions};
use crate::store::Log;
use crate::time::Moment;
use crate::wearer::Wearer;
use crate::words::Words;

/// Days of a log, reviewed beside as many before them.
#[derive(Debug)]
pub struct Reviewed {
    history: History,
    wearer: Wearer,
    review: Review,
    before: Review,
}

impl Reviewed {
    /// Reads and reviews them.
    ///
    /// # Errors
    /// [`crate::Error::Invalid`] for no days; those of reading.
    pub fn of(log: &Log, days: u16, options: ReviewOptions, now: Moment) -> Result<Self> {
        let (wearer, history) = (log.wearer()?, log.history(Review::needed_from(now, days)?, now)?);
        let (review, before) = Review::with_before(&history, &wearer, (now, days), options)?;
        Ok(Self { history, wearer, review, before })
    }

    /// As a page.
    #[must_use]
    pub fn page(&self, words: Words) -> Page {
        pages::review::page(&self.review, Some(&self.before), &self.history, &self.wearer, words)
    }

    /// The page's answer.
    #[must_use]
    pub fn answer(&self, words: Words) -> Vec<String> {
        pages::review::answer(&self.review, words)
    }

    /// The daily profile, to draw beside the page; nothing where no hour has enough readings.
    #[must_use]
    pub fn day(&self, words: Words) -> Option<DayChart> {
        DayChart::of(&self.review, &self.wearer, words)
    }

    /// As one HTML file of two printed pages.
    #[must_use]
    pub fn html(&self, words: Words, now: Moment) -> String {
        pages::report::html(&self.review, Some(&self.before), &self.history, &self.wearer, words, now, None)
    }
}
