//! The log: noting, putting right, taking back, listing, bringing in.

use std::collections::HashSet;
use std::sync::Arc;

use ebbstead_core::log::{self, EntryId, Source};
use ebbstead_core::prompt::Caution;
use ebbstead_core::units::Glucose;
use ebbstead_core::words::Words;
use ebbstead_core::{Result, entries, forms, snapshot, store, time};

use crate::companion::Shared;
use crate::error::ApiResult;
use crate::form::{Filled, Form, FormAnswer, filled};
use crate::import::{ImportAnswer, ImportOptions, OffsetChange};
use crate::mirror::mirrored_record;
use crate::records::{Entry, EntryKind, Moment, entry_id};

/// A sensor's reading or a meter's check, in a batch.
#[derive(Clone, Copy, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct ReadingAt {
    /// When it was read.
    pub at: Moment,
    /// What was read, 20 to 600 mg/dL.
    pub mg_dl: f64,
}

mirrored_record! {
    /// What recording a batch did.
    Recorded = ebbstead_core::store::Recorded {
        /// Entries the log did not have.
        new: u64,
        /// Entries the log had already.
        known: u64,
        /// New readings that differ from another of the same source and instant. Both are kept; the lower one counts.
        contradictory: u64,
    }
}

/// What undoing did.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct Undone {
    /// The entry that no longer holds.
    pub undone: Entry,
    /// The entry that undid it.
    pub by: Entry,
}

/// What to ask back about an amount that is probably a slip.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct AskBack {
    /// What was noted, and that it is more than usual.
    pub text: String,
    /// What to do if it is wrong, and what if it is right.
    pub advice: String,
}

/// An entry in a list.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct Listed {
    /// The entry.
    pub entry: Entry,
    /// The hour and minute on the wearer's clock.
    pub clock: String,
    /// The day on the wearer's calendar, as their language writes it: `Sunday, 1 Mar 2026`.
    pub day: String,
    /// Whether it holds: neither corrected nor taken back.
    pub holds: bool,
    /// Whether [`LogPart::form`] lays it out to be put right.
    pub has_form: bool,
}

/// What was noted on one day.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct LogDay {
    /// The day on the wearer's calendar, as their language writes it.
    pub day: String,
    /// The newest first.
    pub entries: Vec<Listed>,
}

/// Works on the log.
#[derive(uniffi::Object)]
pub struct LogPart {
    pub(crate) shared: Arc<Shared>,
}

#[uniffi::export]
impl LogPart {
    /// The form in which something is added, with what was filled in; pass nothing at first. With the `id` of an entry that
    /// [`Listed::has_form`], the form in which that is put right; its heading says what the entry says now.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for a `now` outside 2000 to 2199; `NotFound`, `Closed`, `Busy`, `Damaged`, `Failed`.
    #[allow(clippy::needless_pass_by_value)] // the generated code hands over owned values
    pub fn form(&self, filled_in: Filled, id: Option<String>, now: Moment) -> ApiResult<Form> {
        self.shared.with(|log| {
            Ok(entries::form(log, &filled(filled_in), id.as_deref().map(entry_id).transpose()?, now.try_into()?)?
                .into())
        })
    }

    /// Keeps what was filled in, by itself or in place of the entry that the form was laid out for. What was not touched of that entry
    /// stays as it was. `message` says what was kept, and asks back about a dose that is probably a slip, which is kept all the same: offer
    /// to undo it, or to put it right.
    ///
    /// # Errors
    /// As [`LogPart::record`], [`crate::ApiError::NotFound`]. What cannot be taken is no error but advice beside its field.
    #[allow(clippy::needless_pass_by_value)] // the generated code hands over owned values
    pub fn keep(&self, filled_in: Filled, id: Option<String>, now: Moment) -> ApiResult<FormAnswer> {
        let filled = filled(filled_in);
        let named = || id.as_deref().map(entry_id).transpose();
        let (form, said) = self.shared.with(|log| entries::read(log, &filled, named()?, now.try_into()?))?;
        let Some(said) = said else {
            return Ok(FormAnswer { form: form.into(), page: None, message: None, can_undo: false });
        };
        let kept = self.shared.change(|log| entries::keep(log, said, named()?, now.try_into()?))?;
        let form = self.form(Filled::new(), None, now)?;
        Ok(FormAnswer { form, page: None, message: Some(kept.text), can_undo: kept.can_undo })
    }

    /// Notes something the wearer said, at the time it happened.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] naming what cannot be taken; `Closed`, `NoRoom`, `Busy`, `Damaged`, `Failed`.
    pub fn record(&self, what: EntryKind, at: Moment, now: Moment) -> ApiResult<Entry> {
        let words = self.shared.words();
        self.shared
            .change(|log| {
                #[cfg(debug_assertions)]
                crate::faults::fail_on_purpose(&what);
                note(log, what.try_into()?, at.try_into()?, now.try_into()?)
            })
            .map(|one| Entry::of(one, words))
    }

    /// What to ask back about an entry that was just recorded or corrected: a dose so large that it is probably a slip. It is
    /// kept all the same, since it may be none. Nothing for anything else. Ask it after [`LogPart::record`] and
    /// [`LogPart::correct`], and offer to put the entry right.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`], `NotFound`, `Closed`, `Busy`, `Damaged`, `Failed`.
    pub fn asks_back(&self, id: &str, now: Moment) -> ApiResult<Option<AskBack>> {
        let words = self.shared.words();
        let asked = self.shared.with(|log| {
            let id = entry_id(id)?;
            let entry = log.get(id)?.ok_or(ebbstead_core::Error::NoSuchEntry { id: id.0 })?;
            snapshot::asks_back(log, &entry, now.try_into()?)
        })?;
        let advice = || words.caution(Caution::InsulinRightOrWrong).to_owned();
        Ok(asked.map(|reason| AskBack { text: words.reason(reason), advice: advice() }))
    }

    /// Keeps a batch of a sensor's readings, all of them or none. Readings the log has already change nothing.
    ///
    /// # Errors
    /// As [`LogPart::record`].
    pub fn record_readings(&self, source: &str, readings: Vec<ReadingAt>, now: Moment) -> ApiResult<Recorded> {
        self.record_batch(source, readings, now, |at, now, source, mg_dl| {
            log::Entry::new(at, now, source, log::EntryKind::SensorReading { mg_dl })
        })
    }

    /// Keeps a batch of meter checks that another app or a device holds, all of them or none. Those the log has already change
    /// nothing.
    ///
    /// # Errors
    /// As [`LogPart::record`].
    pub fn record_checks(&self, source: &str, checks: Vec<ReadingAt>, now: Moment) -> ApiResult<Recorded> {
        self.record_batch(source, checks, now, |at, now, source, mg_dl| {
            log::Entry::received(at, now, source, log::EntryKind::MeterCheck { mg_dl })
        })
    }

    /// Puts an entry right, by adding one that takes its place. The old one stays readable.
    ///
    /// # Errors
    /// As [`LogPart::record`]; [`crate::ApiError::NotFound`].
    pub fn correct(&self, id: &str, at: Moment, what: EntryKind, now: Moment) -> ApiResult<Entry> {
        let words = self.shared.words();
        self.shared
            .change(|log| log.correct(entry_id(id)?, at.try_into()?, what.try_into()?, now.try_into()?))
            .map(|one| Entry::of(one, words))
    }

    /// Takes an entry back, or a whole import. It stays readable.
    ///
    /// # Errors
    /// As [`LogPart::correct`].
    pub fn retract(&self, id: &str, now: Moment) -> ApiResult<Entry> {
        let words = self.shared.words();
        self.shared.change(|log| log.retract(entry_id(id)?, now.try_into()?)).map(|one| Entry::of(one, words))
    }

    /// Undoes what was said last on this device and is not undone; again, what was said before that. Nothing where nothing
    /// is left.
    ///
    /// # Errors
    /// As [`LogPart::record`].
    pub fn undo(&self, now: Moment) -> ApiResult<Option<Undone>> {
        let words = self.shared.words();
        let undone = self.shared.change(|log| log.undo_last(now.try_into()?))?;
        Ok(undone
            .map(|store::Undone { undone, by }| Undone { undone: Entry::of(undone, words), by: Entry::of(by, words) }))
    }

    /// What the log holds from one time to another, both included, by time. `replaced` lists what was corrected or taken
    /// back too; `readings` lists every single sensor reading and every prompt shown too.
    ///
    /// # Errors
    /// [`crate::ApiError::Closed`], `InvalidInput`, `Busy`, `Damaged`, `Failed`.
    pub fn list(&self, from: Moment, until: Moment, replaced: bool, readings: bool) -> ApiResult<Vec<Listed>> {
        let words = self.shared.words();
        let (entries, current) = self.shared.with(|log| {
            let (from, until) = (from.try_into()?, until.try_into()?);
            let current = log.current(from, until)?;
            let ids: HashSet<EntryId> = current.iter().map(|entry| entry.id).collect();
            Ok((if replaced { log.entries(from, until)? } else { current }, ids))
        })?;
        let wanted = |entry: &log::Entry| readings || entries::is_listed(entry);
        let listed = |entry: log::Entry| {
            let holds = current.contains(&entry.id);
            Listed::of(entry, holds, words)
        };
        Ok(entries.into_iter().filter(wanted).map(listed).collect())
    }

    /// What was noted in the past seven days, the newest day first: for the screen with the log.
    ///
    /// # Errors
    /// As [`LogPart::list`].
    pub fn days(&self, now: Moment) -> ApiResult<Vec<LogDay>> {
        let words = self.shared.words();
        let days = self.shared.with(|log| entries::days(log, now.try_into()?, words))?;
        let day = |entries::Day { day, entries }| LogDay {
            day,
            entries: entries.into_iter().map(|entry| Listed::of(entry, true, words)).collect(),
        };
        Ok(days.into_iter().map(day).collect())
    }

    /// As [`LogPart::undo`]; gives what was taken back, or that nothing is left, to show.
    ///
    /// # Errors
    /// As [`LogPart::record`].
    pub fn take_back_last(&self, now: Moment) -> ApiResult<String> {
        let words = self.shared.words();
        self.shared.change(|log| entries::undo(log, now.try_into()?, words))
    }

    /// As [`LogPart::retract`]; gives what was taken back, to show.
    ///
    /// # Errors
    /// As [`LogPart::correct`].
    pub fn take_back(&self, id: &str, now: Moment) -> ApiResult<String> {
        let words = self.shared.words();
        self.shared.change(|log| entries::take_back(log, entry_id(id)?, now.try_into()?, words))
    }

    /// As [`LogPart::import_file`], with everything found from the file but what its local times mean; gives what came of it, to show.
    ///
    /// # Errors
    /// As [`LogPart::record`].
    pub fn bring_in(&self, name: &str, bytes: Vec<u8>, offsets: Vec<OffsetChange>, now: Moment) -> ApiResult<String> {
        let options = ImportOptions {
            offsets,
            unit: None,
            time_column: None,
            glucose_column: None,
            time_format: None,
            dry_run: false,
        };
        Ok(match self.import_file(name, bytes, options, now)? {
            ImportAnswer::Read { report } => report.lines.join("\n"),
            ImportAnswer::Refused { text, .. } => text,
        })
    }

    /// Brings in a file as a whole, which can be taken back as a whole: a table of readings (CSV), a table or an HL7 FHIR bundle of
    /// what a log has. Which it is shows in its bytes; `name` is for what is said of it.
    ///
    /// A file that cannot be understood is not an error but an [`ImportAnswer::Refused`] that says where and why.
    ///
    /// # Errors
    /// As [`LogPart::record`].
    pub fn import_file(
        &self,
        name: &str,
        bytes: Vec<u8>,
        options: ImportOptions,
        now: Moment,
    ) -> ApiResult<ImportAnswer> {
        crate::import::import(&self.shared, name, &bytes, options, now)
    }
}

impl Listed {
    fn of(entry: log::Entry, holds: bool, words: Words) -> Self {
        Self {
            clock: entry.at.clock(),
            day: words.weekday_and_date(entry.at.local_date()),
            holds,
            has_form: forms::log::has_form(&entry.what),
            entry: Entry::of(entry, words),
        }
    }
}

impl LogPart {
    /// Keeps a batch that came from elsewhere, each as `entry` makes it of when, now, from where and what was read.
    fn record_batch(
        &self,
        source: &str,
        batch: Vec<ReadingAt>,
        now: Moment,
        entry: impl Fn(time::Moment, time::Moment, Source, Glucose) -> Result<log::Entry>,
    ) -> ApiResult<Recorded> {
        self.shared
            .change(|log| {
                let (source, now) = (Source::new(source)?, now.try_into()?);
                let entry = |ReadingAt { at, mg_dl }: ReadingAt| {
                    entry(at.try_into()?, now, source.clone(), Glucose::from_mg_dl(mg_dl)?)
                };
                log.record_all(batch.into_iter().map(entry).collect::<Result<Vec<_>>>()?)
            })
            .map(Into::into)
    }
}

/// Keeps something the wearer said.
pub(crate) fn note(
    log: &mut store::Log,
    what: log::EntryKind,
    at: time::Moment,
    now: time::Moment,
) -> Result<log::Entry> {
    let entry = log::Entry::new(at, now, Source::by_hand(), what)?;
    log.record(&entry)?;
    Ok(entry)
}
