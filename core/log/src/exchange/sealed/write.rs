//! Sealing: a log into a file, as a whole or not at all.

use std::fs::File;
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use age::{EncryptError, Encryptor};
use serde::Serialize;

use super::lines::{Counted, Head, Line, ReadingLine, VERSION};
use super::passphrase::Passphrase;
use super::read::SealedLog;
use crate::checksum::Crc32;
use crate::error::{Damage, Error, Result};
use crate::exchange::file::put_in_place;
use crate::log::{Entry, EntryId, Source};
use crate::store::{Log, of_file};
use crate::time::Moment;

/// What was sealed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sealed {
    /// The file.
    pub path: PathBuf,
    /// Sensor readings in it.
    pub readings: u64,
    /// Other entries in it.
    pub others: u64,
    /// The time of the earliest entry.
    pub first: Option<Moment>,
    /// The time of the latest entry.
    pub last: Option<Moment>,
    /// The file's size.
    pub bytes: u64,
}

/// Seals the whole log into the file at `path`: written beside it, read back and compared, and only then put in place.
///
/// A file that is there already is kept unless `replace`. Memory does not grow with the log.
///
/// # Errors
/// - [`Error::File`] where the file is there already, or the system refuses it; [`Error::DiskFull`]; [`Error::ReadOnly`];
/// - [`Error::DamagedSealedLog`] where what was read back is not what was written;
/// - those of reading the log ([`Log::history`]).
///
/// In each of these cases nothing changed at `path`.
pub fn seal(log: &Log, path: &Path, passphrase: &Passphrase, replace: bool, now: Moment) -> Result<Sealed> {
    let (written, bytes) = put_in_place(path, replace, |part| -> Result<_> {
        let written = write(log, part.as_file(), path, passphrase, now)?;
        let refused = |source: io::Error| of_file(path, source);
        part.as_file().sync_all().map_err(refused)?;
        let back = SealedLog::open_as(part.path(), path, passphrase)?.sum()?;
        if back != (written.counted, written.checksum) {
            let what = Damage::ReadBack;
            return Err(Error::DamagedSealedLog { path: path.to_owned(), what });
        }
        let bytes = part.as_file().metadata().map_err(refused)?.len();
        Ok((written, bytes))
    })?;
    let Written { facts, first, last, .. } = written;
    Ok(Sealed { path: path.to_owned(), readings: facts.readings, others: facts.entries, first, last, bytes })
}

/// What went into a file.
struct Written {
    /// The lines.
    counted: Counted,
    /// What they say: one that came with two imports has two lines.
    facts: Counted,
    checksum: u32,
    first: Option<Moment>,
    last: Option<Moment>,
}

fn write(log: &Log, file: &File, path: &Path, passphrase: &Passphrase, now: Moment) -> Result<Written> {
    let refused = |source: io::Error| of_file(path, source);
    let encryptor =
        Encryptor::with_recipients(std::iter::once(&passphrase.recipient() as _)).map_err(|error| match error {
            EncryptError::Io(source) => refused(source),
            // None of the rest can happen to one passphrase.
            other => refused(io::Error::other(other)),
        })?;
    let sealing = encryptor.wrap_output(BufWriter::new(file)).map_err(refused)?;
    let mut writer = LineWriter::new(BufWriter::with_capacity(1 << 16, sealing));
    writer.write_all_lines(log, now, path)?;
    let LineWriter { out, counted, facts, checksum, first, last, .. } = writer;
    let sealing = out.into_inner().map_err(|error| refused(error.into_error()))?;
    sealing.finish().and_then(|mut file| file.flush()).map_err(refused)?;
    Ok(Written { counted, facts, checksum: checksum.finalize(), first, last })
}

/// Writes the lines and keeps count of them.
struct LineWriter<W> {
    out: W,
    line: Vec<u8>,
    counted: Counted,
    facts: Counted,
    /// The fact that was written last.
    before: Option<EntryId>,
    checksum: Crc32,
    /// Whose readings are being written.
    whose: Option<(Source, Option<EntryId>)>,
    first: Option<Moment>,
    last: Option<Moment>,
}

impl<W: Write> LineWriter<W> {
    fn new(out: W) -> Self {
        Self {
            out,
            line: Vec::new(),
            counted: Counted::default(),
            facts: Counted::default(),
            before: None,
            checksum: Crc32::default(),
            whose: None,
            first: None,
            last: None,
        }
    }

    fn write_all_lines(&mut self, log: &Log, now: Moment, path: &Path) -> Result<()> {
        let refused = |source: io::Error| of_file(path, source);
        let head = Head { version: VERSION, log: log.id()?, at: Some(now) };
        self.write_line(&Line::Head(head)).map_err(refused)?;
        log.each_kept(|kept| {
            self.counted.kept += 1;
            self.write_line(&Line::StoredSetting(kept)).map_err(refused)
        })?;
        log.each_fact(|entry| self.fact(entry).map_err(refused))?;
        self.write_line(&Line::End(self.counted)).map_err(refused)
    }

    fn fact(&mut self, entry: Entry) -> io::Result<()> {
        self.first = Some(self.first.map_or(entry.at, |first| first.min(entry.at)));
        self.last = Some(self.last.map_or(entry.at, |last| last.max(entry.at)));
        let anew = u64::from(self.before.replace(entry.id) != Some(entry.id));
        let Some(reading) = ReadingLine::of(&entry) else {
            self.counted.entries += 1;
            self.facts.entries += anew;
            return self.write_line(&Line::Entry(entry));
        };
        if self.whose.as_ref().is_none_or(|(source, import)| *source != entry.source || *import != entry.import) {
            self.whose = Some((entry.source.clone(), entry.import));
            self.write_line(&Line::Readings { source: entry.source, import: entry.import })?;
        }
        self.counted.readings += 1;
        self.facts.readings += anew;
        self.write_line(&reading)
    }

    fn write_line<T: Serialize>(&mut self, line: &T) -> io::Result<()> {
        self.line.clear();
        serde_json::to_writer(&mut self.line, line)?;
        self.line.push(b'\n');
        self.checksum.update(&self.line);
        self.out.write_all(&self.line)
    }
}
