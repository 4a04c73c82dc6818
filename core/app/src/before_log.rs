//! What is asked ahead of a log: before sleep, before a drive, before movement.

use crate::before::Facts;
use crate::before::activity::{BeforeActivity, Planned, activity};
use crate::before::chance::ChanceAhead;
use crate::before::driving::{BeforeDriving, driving};
use crate::before::nights::Nights;
use crate::before::sleep::{BeforeSleep, sleep};
use crate::error::{Error, Result};
use crate::forms::before::{Ahead, field_of, read};
use crate::forms::{Filled, Form};
use crate::learn;
use crate::learn::nights::{LOOKS_BACK_MINUTES, chances_ahead, lows_begin};
use crate::log::{History, Symptom};
use crate::page::Page;
use crate::pages::before as pages;
use crate::prompt::{Occasion, Prompt, Question};
use crate::snapshot::Snapshot;
use crate::store::Log;
use crate::time::Moment;
use crate::wearer::Wearer;
use crate::words::Words;

/// What a log holds for a question ahead.
#[derive(Debug)]
pub struct Before {
    /// The wearer's settings.
    pub wearer: Wearer,
    week: History,
    prompt: Prompt,
    ahead: Option<ChanceAhead>,
    nights: Option<Nights>,
}

impl Before {
    /// Reads a log up to a moment. `feels` is what the wearer says now, if anything.
    ///
    /// # Errors
    /// Those of reading the log. What was learnt and cannot be read is done without, as a prompt does.
    pub fn at(log: &Log, now: Moment, feels: Option<Symptom>) -> Result<Self> {
        let known = Snapshot::at(log, now)?;
        let prompt = known.answer(&Question { now, occasion: Occasion::Look, feels, meter: None });
        let week = log.history_to_ask(now.plus_minutes(-LOOKS_BACK_MINUTES), now)?.until(now);
        let ahead = chances_ahead(&week, &known.wearer, now);
        let learnt = learn::nights_for(log, now).unwrap_or_default();
        // When lows of the night begin, the last week shows before anything was learnt, and whatever changed since.
        let nights = match lows_begin(&week, &known.wearer, now) {
            Some(begins) => Some(Nights { lows_begin: Some(begins), ..learnt.unwrap_or_default() }),
            None => learnt,
        };
        Ok(Self { wearer: known.wearer, week, prompt, ahead, nights })
    }

    /// Before sleep, until a given time or the wearer's morning.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] where the time is past or more than a day ahead.
    pub fn sleep(&self, until: Option<Moment>) -> Result<BeforeSleep> {
        Ok(sleep(&self.facts(), until, self.nights.as_ref())?)
    }

    /// Before a drive of so many minutes that begins now.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] unless it lasts 1 minute to a day.
    pub fn driving(&self, minutes: f64) -> Result<BeforeDriving> {
        Ok(driving(&self.facts(), minutes)?)
    }

    /// Before movement that begins now.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] unless it lasts 1 minute to a day and ketones are 0 to 20 mmol/L.
    pub fn activity(&self, planned: Planned) -> Result<BeforeActivity> {
        Ok(activity(&self.facts(), planned)?)
    }

    /// What is to do now.
    #[must_use]
    pub const fn prompt(&self) -> &Prompt {
        &self.prompt
    }

    fn facts(&self) -> Facts<'_> {
        Facts { history: &self.week, wearer: &self.wearer, prompt: &self.prompt, ahead: self.ahead.as_ref() }
    }
}

/// Answers what was filled in: the form again, with what cannot be taken said beside its field, and the page once something is
/// asked that can be answered.
///
/// # Errors
/// Those of reading the log.
pub fn answer(log: &Log, filled: &Filled, now: Moment) -> Result<(Form, Option<Page>)> {
    let wearer = log.wearer()?;
    let words = Words::of(&wearer);
    let mut asked = read(filled, &wearer, now, words);
    let Some(ahead) = asked.ahead else { return Ok((asked.form, None)) };
    let before = Before::at(log, now, asked.feels)?;
    let page = match ahead {
        Ahead::Sleep(until) => before.sleep(Some(until)).map(|of| pages::sleep(&of, words)),
        Ahead::Driving(minutes) => before.driving(minutes).map(|of| pages::driving(&of, words)),
        Ahead::Activity(planned) => before.activity(planned).map(|of| pages::activity(&of, words)),
    };
    match page {
        Ok(page) => Ok((asked.form, Some(page))),
        Err(error @ (Error::OutOfRange { .. } | Error::Invalid { .. })) => {
            asked.form.refuse(field_of(&ahead, &error), words.advice(&error));
            Ok((asked.form, None))
        }
        Err(error) => Err(error),
    }
}
