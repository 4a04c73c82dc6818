//! A log into a bundle.

use std::io::{self, Write};
use std::path::Path;

use crate::error::Result;
use crate::exchange::fhir::{Bundle, Carried, Summary};
use crate::review::metrics::Group;
use crate::review::{Period, Review, ReviewOptions};
use crate::store::{Log, of_file};
use crate::time::{DAY_MS, Moment};

/// Entries are fetched this much at a time, so that a log of many years needs no more memory than one of a month.
const AT_A_TIME_MS: i64 = 30 * DAY_MS;
/// Without a beginning the review looks back this far, in days: what the consensus asks for.
const REVIEWED_DAYS: u16 = 14;

/// Writes what holds from one moment to another, both included, with the review's figures; everything up to `until` where no
/// beginning is given, with the figures of the last 14 days. `path` is for messages.
///
/// # Errors
/// [`crate::Error::File`] and [`crate::Error::DiskFull`] where it cannot be written; those of reading the log;
/// [`crate::Error::Invalid`] where the beginning is not before the end.
pub fn export(
    log: &Log,
    out: impl Write,
    path: &Path,
    (from, until): (Option<Moment>, Moment),
    now: Moment,
) -> Result<Carried> {
    let refused = |source: io::Error| of_file(path, source);
    let reviewed = from.map_or_else(|| Period::days_before(until, REVIEWED_DAYS), |from| Period::new(from, until))?;
    let mut bundle = Bundle::begin(out, log.id()?, now).map_err(refused)?;
    let span = log.span()?;
    let first = from.or(span.map(|(first, _)| first)).unwrap_or(until);
    // Nothing lies outside the log's own span, however far away the ends asked for are.
    let (first, last) = span.map_or((first, until), |(begins, ends)| (first.max(begins), until.min(ends)));
    let mut begin = first;
    while !begin.is_after(last) {
        let end = begin.plus_ms(AT_A_TIME_MS - 1).min(last);
        for entry in log.current(begin, end)? {
            bundle.put(&entry).map_err(refused)?;
        }
        if !end.is_before(last) {
            break;
        }
        begin = end.plus_ms(1);
    }
    // A day before, so that what began earlier is known.
    let history = log.history(reviewed.from().plus_ms(-DAY_MS), reviewed.until())?;
    // Days that were not given as such are those of a review.
    let reviewed = if from.is_none() { reviewed.by_the_clock(&history) } else { reviewed };
    let review = Review::of(&history, &log.wearer()?, reviewed, ReviewOptions::default());
    bundle.put_summary(summary(&review).as_ref()).map_err(refused)?;
    bundle.finish().map_err(refused)
}

/// A review's figures as the guide's summary asks for them; nothing where one is missing, or where the review's ranges are not those
/// of the codes, which are made for 70 to 180 mg/dL.
#[must_use]
// The casts fit: days.
pub fn summary(review: &Review) -> Option<Summary> {
    if review.options.group == Group::Type1Pregnancy {
        return None;
    }
    let (shares, spread) = (review.shares.ok()?, review.spread.ok()?);
    Some(Summary {
        from: review.period.from(),
        until: review.period.until(),
        shares_percent: [shares.very_low, shares.low, shares.in_range, shares.high, shares.very_high],
        mean_mg_dl: spread.mean_mg_dl,
        cv_percent: spread.cv_percent(),
        gmi_percent: review.gmi_percent.ok()?,
        days: review.sufficiency.dates as f64,
        active_percent: 100.0 * review.sufficiency.share(),
    })
}
