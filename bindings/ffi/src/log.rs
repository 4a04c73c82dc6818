//! The log: noting, putting right, taking back, listing, bringing in.

use std::collections::HashSet;
use std::sync::Arc;

use ebbstead_core::log::{self, EntryId, Source};
use ebbstead_core::units::Glucose;
use ebbstead_core::words::Words;
use ebbstead_core::{Result, entries, forms, store};

use crate::companion::Shared;
use crate::error::ApiResult;
use crate::import::{ImportAnswer, ImportOptions, OffsetChange};
use crate::mirror::mirrored_record;
use crate::records::{Entry, EntryKind, Moment, entry_id};

/// A sensor's reading, in a batch.
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
    /// Whether a form of [`crate::LogScreens`] lays it out to be put right.
    pub has_form: bool,
}

/// Works on the log.
#[derive(uniffi::Object)]
pub struct LogPart {
    pub(crate) shared: Arc<Shared>,
}

#[uniffi::export]
impl LogPart {
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
                log.note(what.try_into()?, at.try_into()?, now.try_into()?)
            })
            .map(|one| Entry::of(one, words))
    }

    /// Keeps a batch of a sensor's readings, all of them or none. Readings the log has already change nothing.
    ///
    /// # Errors
    /// As [`LogPart::record`].
    pub fn record_readings(&self, source: &str, readings: Vec<ReadingAt>, now: Moment) -> ApiResult<Recorded> {
        self.shared
            .change(|log| {
                let (source, now) = (Source::new(source)?, now.try_into()?);
                let entry = |ReadingAt { at, mg_dl }: ReadingAt| {
                    let what = log::EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(mg_dl)? };
                    log::Entry::new(at.try_into()?, now, source.clone(), what)
                };
                log.record_all(readings.into_iter().map(entry).collect::<Result<Vec<_>>>()?)
            })
            .map(Into::into)
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
    pub(crate) fn of(entry: log::Entry, holds: bool, words: Words) -> Self {
        Self {
            clock: entry.at.clock(),
            day: words.weekday_and_date(entry.at.local_date()),
            holds,
            has_form: forms::log::has_form(&entry.what),
            entry: Entry::of(entry, words),
        }
    }
}
