//! The whole log on its way: written for other programs, sealed, and another one merged. What was done comes back in words.

use std::io::{self, BufWriter, Write};
use std::path::Path;

use zeroize::Zeroizing;

use crate::error::{Error, Quantity, Result, Why};
use crate::exchange::csv::table::{self, Which, Written};
use crate::exchange::file::put_in_place;
use crate::exchange::sealed::{self, Passphrase, SealedLog};
use crate::fhir_export::export;
use crate::record_pages::Preview;
use crate::sentences;
use crate::store::{Facts, Log, Recorded};
use crate::time::Moment;
use crate::words::Words;

/// Writes the log as a table for spreadsheets, from one moment to another, both included, all of it where no end is given; with what was
/// corrected or taken back too where that is asked for. Readable by anyone who has the file.
///
/// # Errors
/// [`Error::File`] where the file cannot be written, or is there already and not to be `replace`d; [`Error::DiskFull`]; those of reading
/// the log. A file that was there is as it was.
pub fn write_table(
    log: &Log,
    path: &Path,
    replace: bool,
    of: (Which, (Option<Moment>, Option<Moment>)),
    words: Words,
) -> Result<Vec<String>> {
    let written = into_file(path, replace, |out| table_to(log, out, path, of, words))?;
    let mut lines = sentences::table::written_lines(&written, words);
    lines.push(sentences::readable_by_anybody(words).to_owned());
    Ok(lines)
}

/// The same table into something else than a file. `path` is for messages.
///
/// # Errors
/// [`Error::File`] and [`Error::DiskFull`] where it cannot be written; those of reading the log.
pub fn table_to(
    log: &Log,
    out: &mut dyn Write,
    path: &Path,
    (which, span): (Which, (Option<Moment>, Option<Moment>)),
    words: Words,
) -> Result<Written> {
    table::write(log, out, path, &|what| words.what(what), which, span)
}

/// Writes the log as an HL7 FHIR R4 Bundle with the review's figures, from a moment on or all of it, up to another. Says what a bundle cannot
/// carry too.
///
/// # Errors
/// As [`write_table`]; [`Error::Invalid`] where the beginning is not before the end.
pub fn write_bundle(
    log: &Log,
    path: &Path,
    replace: bool,
    span: (Option<Moment>, Moment),
    now: Moment,
    words: Words,
) -> Result<Vec<String>> {
    let carried = into_file(path, replace, |out| export(log, out, path, span, now))?;
    let mut lines = sentences::fhir::carried_lines(&carried, words);
    lines.push(sentences::readable_by_anybody(words).to_owned());
    Ok(lines)
}

/// Seals the whole log, settings and what was learnt included, into one file that only the passphrase opens. It is read back and compared
/// before it is put in place.
///
/// # Errors
/// [`Error::Invalid`] for a passphrase that is too short or too plain; else as [`write_table`].
pub fn seal(
    log: &Log,
    path: &Path,
    replace: bool,
    passphrase: Zeroizing<String>,
    now: Moment,
    words: Words,
) -> Result<Vec<String>> {
    let passphrase = Passphrase::for_sealing(passphrase)?;
    let sealed = sealed::seal(log, path, &passphrase, replace, now)?;
    Ok(vec![sentences::sealed::sealed_line(&sealed, words)])
}

/// Another log, opened: of a sealed one the passphrase did its slow work, and was wiped.
#[derive(Debug)]
pub enum Opened {
    /// Another phone's log, or a copy of one. It is only read.
    Open(Box<Log>),
    /// A sealed one.
    Sealed(Box<SealedLog>),
}

impl Opened {
    /// Opens another log; a passphrase opens a sealed one.
    ///
    /// # Errors
    /// [`Error::NotALog`] and its like where it is none; [`Error::DamagedLog`] where it is damaged: what is sound of it, merged, would look
    /// like all of it; [`Error::WrongPassphrase`].
    pub fn of(path: &Path, passphrase: Option<Zeroizing<String>>) -> Result<Self> {
        Ok(match passphrase {
            None => {
                let log = Log::open_to_read(path)?;
                log.look_through()?;
                Self::Open(Box::new(log))
            }
            Some(passphrase) => {
                let passphrase = Passphrase::for_opening(passphrase)?;
                Self::Sealed(Box::new(SealedLog::open(path, &passphrase)?))
            }
        })
    }

    fn facts(&self) -> &dyn Facts {
        match self {
            Self::Open(log) => &**log,
            Self::Sealed(log) => &**log,
        }
    }

    /// Says what taking it in would do. Writes nothing.
    ///
    /// # Errors
    /// Those of reading either log.
    pub fn preview(&self, log: &mut Log, now: Moment, words: Words) -> Result<Preview> {
        let restores = matches!(self, Self::Sealed(_)) && log.is_unused()?;
        let preview = log.preview_merge(self.facts(), now)?;
        Ok(Preview {
            lines: sentences::merge::merge_lines(&preview, words),
            warnings: preview.warnings().into_iter().map(|one| sentences::merge::warning(one, words)).collect(),
            changes_nothing: preview.changes_nothing(),
            restores,
        })
    }

    /// Takes it in: a union of what both say, in which nothing is lost. Into a log without entries a sealed one is restored, with settings
    /// and what was learnt; whether it was is the second. `force` merges it although something speaks against it.
    ///
    /// # Errors
    /// [`Error::Invalid`] where something speaks against it and `force` is not given, and nothing is merged then; those of reading and
    /// writing.
    pub fn merge(&self, log: &mut Log, force: bool, now: Moment) -> Result<(Recorded, bool)> {
        if !force && !log.preview_merge(self.facts(), now)?.warnings().is_empty() {
            return Err(Error::Invalid { what: Quantity::OtherLog, why: Why::MergeWarnings });
        }
        match self {
            Self::Sealed(whole) if log.is_unused()? => Ok((log.restore(&**whole)?, true)),
            _ => Ok((log.merge(self.facts())?, false)),
        }
    }
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

/// Writes a text into a file, in place of one that was there.
///
/// # Errors
/// [`Error::File`] and [`Error::DiskFull`] where it cannot be written.
pub(crate) fn write_text(path: &Path, text: &str) -> Result<()> {
    into_file(path, true, |out| out.write_all(text.as_bytes()).map_err(|source| crate::store::of_file(path, source)))
}
