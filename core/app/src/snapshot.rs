//! What a log holds at a moment, what was learnt included: everything a prompt is asked of.

use crate::body::doubt::newest_doubtful_dose;
use crate::chart::{Chart, PAST_MINUTES};
use crate::engine::{self, Learnt};
use crate::error::{Error, Result};
use crate::learn;
use crate::log::{Entry, EntryKind, History, Source};
use crate::outcomes;
use crate::prompt::{Prompt, Question, Reason};
use crate::store::Log;
use crate::time::{DAY_MS, Moment};
use crate::wearer::Wearer;

/// How far back a prompt looks, in milliseconds: the whole first day of a sensor, and insulin and meals before it.
const LOOKS_BACK_MS: i64 = 2 * DAY_MS;

/// What is known at a moment.
#[derive(Debug)]
pub struct Snapshot {
    /// The wearer's settings.
    pub wearer: Wearer,
    /// The record, as far back as a prompt looks.
    pub history: History,
    /// What was noted in the time a chart shows, sensor readings left out.
    pub noted: Vec<Entry>,
    /// What was learnt of the wearer.
    pub learnt: Learnt,
    /// Why that could not be read, where it could not: the population's values hold then. A prompt does without rather than not
    /// come at all.
    pub unlearnt: Option<Error>,
}

impl Snapshot {
    /// Reads what a log holds up to a moment.
    ///
    /// # Errors
    /// Those of reading the log.
    pub fn at(log: &Log, now: Moment) -> Result<Self> {
        let (learnt, unlearnt) = match learn::for_prompt(log, now) {
            Ok(learnt) => (learnt, None),
            Err(error) => (Learnt::default(), Some(error)),
        };
        let history = log.history_to_ask(now.plus_ms(-LOOKS_BACK_MS), now)?.until(now);
        Ok(Self { wearer: log.wearer()?, history, noted: noted(log, now)?, learnt, unlearnt })
    }

    /// Answers a question asked at that moment.
    #[must_use]
    pub fn answer(&self, question: &Question) -> Prompt {
        engine::check(&self.history, &self.wearer, &self.learnt, question)
    }

    /// What to keep of an answer that is shown, so that it can be held against what came after
    /// ([`crate::outcomes`]). Nothing where the same was kept a few minutes before.
    ///
    /// # Errors
    /// [`Error::Invalid`] for a time that cannot be.
    pub fn to_keep(&self, question: &Question, prompt: &Prompt) -> Result<Option<Entry>> {
        let prompted = prompt.kept(question.occasion);
        if !outcomes::is_to_keep(&prompted, question.now, &self.history.prompts) {
            return Ok(None);
        }
        Entry::new(question.now, question.now, Source::by_hand(), EntryKind::Prompted(prompted)).map(Some)
    }

    /// What to draw beside an answer.
    #[must_use]
    pub fn chart(&self, prompt: &Prompt) -> Chart {
        let (forecast, futures) = (prompt.forecast.as_ref(), prompt.futures_shown());
        Chart::of(prompt.at, &self.wearer, &self.history, &self.noted, forecast, futures)
    }
}

/// How far back doses show what is usual, in days.
const USUAL_DAYS: i64 = 14;

/// What to ask back about a dose that was just kept, where it is probably a slip: the dose in the light of those noted before it.
/// It is kept all the same, since it may be none. Nothing for any other entry.
///
/// # Errors
/// Those of reading the log.
pub fn asks_back(log: &Log, entry: &Entry, now: Moment) -> Result<Option<Reason>> {
    if !matches!(entry.what, EntryKind::Insulin { .. }) {
        return Ok(None);
    }
    // What was eaten with it may be noted before it, at a later time.
    let until = now.max(entry.at).plus_ms(1);
    let history = log.history(entry.at.plus_ms(-USUAL_DAYS * DAY_MS), until)?;
    let doubtful = newest_doubtful_dose(&history, &log.wearer()?, entry.at).filter(|one| one.dose.at == entry.at);
    let minutes_ago = now.minutes_since(entry.at).max(0.0);
    Ok(doubtful.map(|one| one.reason(minutes_ago)))
}

/// What was noted and known in the time a chart shows.
fn noted(log: &Log, now: Moment) -> Result<Vec<Entry>> {
    let mut noted = log.current(now.plus_minutes(-PAST_MINUTES), now)?;
    // What has an end was not known before it.
    noted.retain(|entry| match entry.what {
        EntryKind::SensorReading { .. }
        | EntryKind::SensorBeyond { .. }
        | EntryKind::Supply(_)
        | EntryKind::Prompted(_) => false,
        EntryKind::Sleep { until } | EntryKind::CompressionLow { until } => !until.is_after(now),
        _ => true,
    });
    Ok(noted)
}
