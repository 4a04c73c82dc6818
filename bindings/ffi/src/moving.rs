//! The whole log on its way: written for other programs, sealed, merged from another phone, saved from damage.

use std::io::{self, BufWriter, Write};
use std::path::Path;

use ebbstead_core::exchange::csv::table;
use ebbstead_core::exchange::fhir;
use ebbstead_core::exchange::file::put_in_place;
use ebbstead_core::exchange::sealed::{self, Passphrase, SealedLog};
use ebbstead_core::sentences;
use ebbstead_core::store::{Facts, Log};
use ebbstead_core::time::{DAY_MS, Moment as CoreMoment};
use ebbstead_core::words::Words;
use ebbstead_core::{Error, Quantity, Result, Why};
use zeroize::Zeroizing;

use crate::error::{ApiError, ApiResult};
use crate::exchange::ExchangePart;
use crate::log::Recorded;
use crate::records::Moment;
use crate::settings::spoken;

/// A log that came from elsewhere, in a file this app may read.
#[derive(Clone, PartialEq, Eq, uniffi::Enum)]
pub enum OtherLog {
    /// Another phone's log, or a copy of one. It is only read.
    Open {
        /// Where.
        path: String,
    },
    /// One sealed by [`ExchangePart::seal`].
    Sealed {
        /// Where.
        path: String,
        /// What opens it. Let go of it as soon as the call returns.
        passphrase: String,
    },
}

/// What merging a log would do. Show the lines and the warnings before anything is merged.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct MergePreview {
    /// What would change, one sentence a line.
    pub lines: Vec<String>,
    /// What speaks against it, if anything does: ask once more.
    pub warnings: Vec<String>,
    /// Whether the log has all of it already.
    pub changes_nothing: bool,
    /// Whether this log is empty and the other one sealed, so that settings and what was learnt come with it.
    pub restores: bool,
}

/// What taking a log in did.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct Merged {
    /// What became of the entries.
    pub recorded: Recorded,
    /// The same and what else to know, in words.
    pub messages: Vec<String>,
}

#[uniffi::export]
impl ExchangePart {
    /// Writes the log as a table for spreadsheets (CSV, RFC 4180), from one time to another, both included; all of it where no
    /// end is given. Returns what was written, in words. Readable by whoever has the file.
    ///
    /// # Errors
    /// [`ApiError::Failed`] where the file cannot be written or is there already and not to be replaced; `NoRoom`, `Closed`,
    /// `Busy`, `Damaged`; `InvalidInput` for a time that cannot be. A file that was there is as it was.
    pub fn export_table(
        &self,
        path: &str,
        replace: bool,
        from: Option<Moment>,
        until: Option<Moment>,
    ) -> ApiResult<Vec<String>> {
        let words = self.shared.words();
        self.alongside(|log| {
            let span = (from.map(TryInto::try_into).transpose()?, until.map(TryInto::try_into).transpose()?);
            let written = into_file(Path::new(path), replace, |out| {
                table::write(log, out, Path::new(path), &|what| words.what(what), table::Which::Holding, span)
            })?;
            Ok(vec![sentences::table::written_line(&written, words), sentences::readable_by_anybody(words).to_owned()])
        })
    }

    /// Writes the log as an HL7 FHIR R4 Bundle with the review's figures, of so many days up to now or all of it. Returns what
    /// was written and what a bundle cannot carry, in words. Readable by whoever has the file.
    ///
    /// # Errors
    /// As [`ExchangePart::export_table`].
    pub fn export_bundle(&self, path: &str, replace: bool, days: Option<u16>, now: Moment) -> ApiResult<Vec<String>> {
        let words = self.shared.words();
        self.alongside(|log| {
            let now: CoreMoment = now.try_into()?;
            let from = days.map(|days| now.plus_ms(-i64::from(days) * DAY_MS));
            let carried =
                into_file(Path::new(path), replace, |out| fhir::export(log, out, Path::new(path), (from, now), now))?;
            let mut lines = sentences::fhir::carried_lines(&carried, words);
            lines.push(sentences::readable_by_anybody(words).to_owned());
            Ok(lines)
        })
    }

    /// Seals the whole log, settings and what was learnt included, into one file that only the passphrase opens (the age
    /// format): for a copy in a safe place, or another phone. It is read back and compared before it is put in place. Takes
    /// seconds. Returns what was sealed, in words.
    ///
    /// # Errors
    /// [`ApiError::InvalidInput`] naming `passphrase` where it has fewer than 12 characters; else as
    /// [`ExchangePart::export_table`].
    pub fn seal(&self, path: &str, replace: bool, passphrase: String, now: Moment) -> ApiResult<Vec<String>> {
        let words = self.shared.words();
        let passphrase = Zeroizing::new(passphrase);
        self.alongside(|log| {
            let passphrase = Passphrase::for_sealing(passphrase)?;
            let sealed = sealed::seal(log, Path::new(path), &passphrase, replace, now.try_into()?)?;
            Ok(vec![sentences::sealed::sealed_line(&sealed, words)])
        })
    }

    /// Says what taking another log in would do. Writes nothing. With years in both logs it takes seconds; a prompt asked for
    /// meanwhile does not wait.
    ///
    /// # Errors
    /// [`ApiError::InvalidInput`] naming `passphrase` where that does not open it, `file` where it is no log; `Damaged`,
    /// `NewerLog`, `Failed`, `Closed`, `Busy`.
    pub fn preview_merge(&self, other: OtherLog, now: Moment) -> ApiResult<MergePreview> {
        let words = self.shared.words();
        self.beside(now, |log, now| {
            let other = Opened::of(other)?;
            let restores = matches!(other, Opened::Sealed(_)) && log.is_unused()?;
            let preview = log.preview_merge(other.facts(), now)?;
            Ok(MergePreview {
                lines: sentences::merge::merge_lines(&preview, words),
                warnings: preview.warnings().into_iter().map(|one| sentences::merge::warning(one, words)).collect(),
                changes_nothing: preview.changes_nothing(),
                restores,
            })
        })
    }

    /// Takes another log in: a union of what both say, in which nothing is lost. Into a log without entries a sealed one is
    /// restored, with settings and what was learnt. `force` merges it although something speaks against it.
    ///
    /// # Errors
    /// As [`ExchangePart::preview_merge`]; [`ApiError::InvalidInput`] naming `other log` where something speaks against it and `force`
    /// is not given. Nothing is merged then.
    pub fn merge(&self, other: OtherLog, force: bool, now: Moment) -> ApiResult<Merged> {
        let (recorded, restored) = self.beside(now, |log, now| {
            let other = Opened::of(other)?;
            if !force && !log.preview_merge(other.facts(), now)?.warnings().is_empty() {
                return Err(Error::Invalid { what: Quantity::OtherLog, why: Why::MergeWarnings });
            }
            match &other {
                Opened::Sealed(whole) if log.is_unused()? => Ok((log.restore(whole)?, true)),
                _ => Ok((log.merge(other.facts())?, false)),
            }
        })?;
        // The log is merged, whatever became of this companion meanwhile: closed, there is nobody left to notify.
        let _ = if restored { self.speak_as_restored() } else { Ok(()) };
        let _ = self.shared.change(|_| Ok(()));
        // In the restored settings' language, if there were any.
        let lines = sentences::merge::merged_lines(&recorded, restored, self.shared.words());
        Ok(Merged { recorded: recorded.into(), messages: lines })
    }
}

/// Another log, opened: for a sealed one the passphrase did its slow work, and was let go of.
enum Opened {
    Open(Log),
    Sealed(SealedLog),
}

impl Opened {
    fn of(other: OtherLog) -> Result<Self> {
        Ok(match other {
            OtherLog::Open { path } => Self::Open(Log::open_to_read(path)?),
            OtherLog::Sealed { path, passphrase } => {
                let passphrase = Passphrase::for_opening(Zeroizing::new(passphrase))?;
                Self::Sealed(SealedLog::open(Path::new(&path), &passphrase)?)
            }
        })
    }

    fn facts(&self) -> &dyn Facts {
        match self {
            Self::Open(log) => log,
            Self::Sealed(log) => log,
        }
    }
}

impl ExchangePart {
    /// Reads the file by itself, so that a prompt asked for meanwhile does not wait.
    fn alongside<T>(&self, work: impl FnOnce(&Log) -> Result<T>) -> ApiResult<T> {
        self.apart(|path| work(&Log::open_to_read(path)?))
    }

    /// As [`Self::alongside`], for what writes, or tries out what it would write.
    pub(crate) fn beside<T>(&self, now: Moment, work: impl FnOnce(&mut Log, CoreMoment) -> Result<T>) -> ApiResult<T> {
        self.apart(|path| {
            let now = now.try_into()?;
            work(&mut Log::open(path, now)?, now)
        })
    }

    fn apart<T>(&self, work: impl FnOnce(&Path) -> Result<T>) -> ApiResult<T> {
        let path = self.shared.with(|log| Ok(log.path().to_owned()))?;
        self.shared.guarded(|| work(&path).map_err(|error| self.shared.refused(&error)))
    }

    fn speak_as_restored(&self) -> ApiResult<()> {
        let wearer = self.shared.with(|log| log.wearer())?;
        self.shared.speak(Words::of(&wearer));
        self.shared.notify(|watcher| watcher.settings_changed());
        Ok(())
    }
}

/// Saves what can be read of a damaged log into a new one. The damaged file is only read, and kept. For when
/// [`crate::EbbsteadCompanion::open`] says that a log is damaged. Returns what was saved, in words.
///
/// # Errors
/// [`ApiError::Damaged`] where nothing of a log is found; `Failed` where `into` is there already or a file cannot be read; `NoRoom`;
/// `InvalidInput` for a time outside 2000 to 2199. Nothing is left at `into` in any of these cases.
#[uniffi::export]
pub fn recover_log(damaged: &str, into: &str, language: &str, now: Moment) -> ApiResult<Vec<String>> {
    let words = spoken(language);
    let recover = || -> Result<_> { Log::recover(damaged, into, now.try_into()?) };
    let done = std::panic::catch_unwind(std::panic::AssertUnwindSafe(recover));
    let recovered = done.map_err(|_| ApiError::panicked(words))?.map_err(|error| ApiError::of(&error, words))?;
    Ok(sentences::merge::recovered_lines(&recovered, words))
}

fn into_file<T>(path: &Path, replace: bool, write: impl FnOnce(&mut dyn Write) -> Result<T>) -> Result<T> {
    put_in_place(path, replace, |part| {
        let refused = |source: io::Error| Error::File { path: path.to_owned(), source };
        let mut out = BufWriter::new(part.as_file());
        let done = write(&mut out)?;
        out.flush().map_err(refused)?;
        Ok(done)
    })
}
