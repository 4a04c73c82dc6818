//! Opening what was sealed, as a place that facts can be taken from.

use std::fmt;
use std::fs::File;
use std::io::{self, BufRead, BufReader, Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};
use std::sync::Mutex;

use age::stream::StreamReader;
use age::{DecryptError, Decryptor};
use serde::Deserialize;

use super::lines::{Counted, Head, Line, ReadingLine, VERSION, next_line};
use super::passphrase::Passphrase;
use crate::checksum::Crc32;
use crate::error::{Damage, Error, Result};
use crate::log::{Entry, EntryId, Source};
use crate::store::{Facts, StoredSetting, Whole, of_file};
use crate::time::Moment;

/// A sealed log, opened with its passphrase. It is read again each time it is asked; memory does not grow with it. The file
/// stays open: where another one is put in its place, the one that was opened is read.
///
/// Nothing of it may be trusted before all of it was read: a file may be damaged in its last byte. [`crate::store::Log`]
/// takes it in within one transaction, so that a damaged one leaves no trace.
pub struct SealedLog {
    /// The name in messages.
    named: PathBuf,
    /// Holds the key, so that the passphrase is tried once and not at each reading.
    contents: Mutex<Contents>,
    head: Head,
}

/// The longest head of an age file that is read, in bytes. One with a passphrase has a single stanza and takes about 200.
const LONGEST_HEAD: u64 = 4096;
/// How the last line of the head begins. Source: C2SP, age-encryption.org/v1, "Header MAC".
const END_OF_HEAD: &[u8] = b"\n---";

type Contents = StreamReader<BufReader<File>>;

impl SealedLog {
    /// Opens the sealed log at `path` and reads its head. The passphrase is not needed any more after that.
    ///
    /// # Errors
    /// - [`Error::NotASealedLog`] for any other file, or one that a later version sealed;
    /// - [`Error::WrongPassphrase`]; [`Error::DamagedSealedLog`] where the damage shows in its head;
    /// - [`Error::File`] where it cannot be read.
    pub fn open(path: &Path, passphrase: &Passphrase) -> Result<Self> {
        Self::open_as(path, path, passphrase)
    }

    pub(super) fn open_as(path: &Path, named: &Path, passphrase: &Passphrase) -> Result<Self> {
        let mut contents = contents(path, named, passphrase)?;
        let head = head(lines(&mut contents, named)?, named)?;
        Ok(Self { named: named.to_owned(), contents: Mutex::new(contents), head })
    }

    /// When it was sealed.
    #[must_use]
    #[doc(hidden)] // what tests hold a killed program to
    pub const fn sealed_at(&self) -> Option<Moment> {
        self.head.at
    }

    /// Counts and sums up all of it.
    pub(super) fn sum(&self) -> Result<(Counted, u32)> {
        let mut checksum = Crc32::default();
        let counted = self.each(|line| checksum.update(line), &mut |_| Ok(()), &mut |_| Ok(()))?;
        Ok((counted, checksum.finalize()))
    }

    fn each(
        &self,
        see: impl FnMut(&[u8]),
        keep: &mut dyn FnMut(StoredSetting) -> Result<()>,
        visit: &mut dyn FnMut(Entry) -> Result<()>,
    ) -> Result<Counted> {
        let busy = |_| of_file(&self.named, io::ErrorKind::ResourceBusy.into());
        let mut contents = self.contents.try_lock().map_err(busy)?;
        each_line(lines(&mut contents, &self.named)?, &self.named, see, keep, visit)
    }
}

impl fmt::Debug for SealedLog {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("SealedLog").field("named", &self.named).field("head", &self.head).finish_non_exhaustive()
    }
}

/// The lines, unsealed, from the first on.
fn lines<'c>(contents: &'c mut Contents, named: &Path) -> Result<impl BufRead + use<'c>> {
    // By way of the second byte: to go back to the very first from a later piece, age measures the file by where it began,
    // and where the file was cut short meanwhile that subtraction overflows. The first piece is proven unchanged either way.
    let back = contents.seek(SeekFrom::Start(1)).and_then(|_| contents.seek(SeekFrom::Start(0)));
    back.map_err(|error| failed(named, error))?;
    Ok(BufReader::with_capacity(1 << 16, contents.by_ref()))
}

fn file(path: &Path, named: &Path) -> Result<BufReader<File>> {
    let file = File::open(path).map_err(|source| of_file(named, source))?;
    if file.metadata().is_ok_and(|about| about.is_dir()) {
        return Err(of_file(named, io::ErrorKind::IsADirectory.into()));
    }
    Ok(BufReader::with_capacity(1 << 16, file))
}

fn contents(path: &Path, named: &Path, passphrase: &Passphrase) -> Result<Contents> {
    let another = || Error::NotASealedLog { path: named.to_owned() };
    let refused = |error: DecryptError| match error {
        DecryptError::Io(source) => match source.kind() {
            io::ErrorKind::UnexpectedEof => damaged(named, Damage::EndsEarly),
            io::ErrorKind::InvalidData => another(),
            _ => of_file(named, source),
        },
        // Sealed for keys instead of a passphrase, or by a later version of the format.
        DecryptError::InvalidHeader | DecryptError::UnknownFormat | DecryptError::NoMatchingKeys => another(),
        DecryptError::InvalidMac => damaged(named, Damage::Head),
        DecryptError::ExcessiveWork { .. } => damaged(named, Damage::Memory),
        _ => Error::WrongPassphrase { path: named.to_owned() },
    };
    let mut input = file(path, named)?;
    // age reads its head again from its first byte for every line of it, which a forged one of many lines makes endless.
    let mut beginning = Vec::new();
    input.by_ref().take(LONGEST_HEAD).read_to_end(&mut beginning).map_err(|source| of_file(named, source))?;
    let ends = beginning.windows(END_OF_HEAD.len()).any(|some| some == END_OF_HEAD);
    if beginning.len() as u64 == LONGEST_HEAD && !ends {
        return Err(another());
    }
    input.seek(SeekFrom::Start(0)).map_err(|source| of_file(named, source))?;
    let decryptor = Decryptor::new_buffered(input).map_err(refused)?;
    if !decryptor.is_scrypt() {
        return Err(another());
    }
    decryptor.decrypt(std::iter::once(&passphrase.identity() as _)).map_err(refused)
}

impl Facts for SealedLog {
    fn each_fact(&self, visit: &mut dyn FnMut(Entry) -> Result<()>) -> Result<()> {
        self.each(|_| {}, &mut |_| Ok(()), visit).map(drop)
    }
}

impl Whole for SealedLog {
    fn each_kept(&self, keep: &mut dyn FnMut(StoredSetting) -> Result<()>) -> Result<()> {
        self.each(|_| {}, keep, &mut |_| Ok(())).map(drop)
    }
}

/// The lines of a sealed log that another program of the age format unsealed. They are trusted no more than a sealed log is.
#[derive(Debug)]
#[doc(hidden)] // what tests read lines by, without a passphrase
pub struct Unsealed<'l> {
    lines: &'l [u8],
    named: PathBuf,
}

impl<'l> Unsealed<'l> {
    /// Reads the head of the lines; `named` is what they are called in messages.
    ///
    /// # Errors
    /// As [`SealedLog::open`], the passphrase apart.
    pub fn open(lines: &'l [u8], named: &Path) -> Result<Self> {
        head(lines, named)?;
        Ok(Self { lines, named: named.to_owned() })
    }
}

impl Facts for Unsealed<'_> {
    fn each_fact(&self, visit: &mut dyn FnMut(Entry) -> Result<()>) -> Result<()> {
        each_line(self.lines, &self.named, |_| {}, &mut |_| Ok(()), visit).map(drop)
    }
}

impl Whole for Unsealed<'_> {
    fn each_kept(&self, keep: &mut dyn FnMut(StoredSetting) -> Result<()>) -> Result<()> {
        each_line(self.lines, &self.named, |_| {}, keep, &mut |_| Ok(())).map(drop)
    }
}

/// The head of unsealed lines.
fn head(mut lines: impl BufRead, named: &Path) -> Result<Head> {
    let mut line = Vec::new();
    if !next_line(&mut lines, &mut line).map_err(|error| failed(named, error))? {
        return Err(damaged(named, Damage::Empty));
    }
    match parsed(&line) {
        Some(Line::Head(head)) if head.version == VERSION => Ok(head),
        _ => Err(Error::NotASealedLog { path: named.to_owned() }),
    }
}

/// Visits what unsealed lines say, and counts it.
fn each_line(
    mut input: impl BufRead,
    named: &Path,
    mut see: impl FnMut(&[u8]),
    keep: &mut dyn FnMut(StoredSetting) -> Result<()>,
    visit: &mut dyn FnMut(Entry) -> Result<()>,
) -> Result<Counted> {
    let damaged = |what| damaged(named, what);
    let unread = || damaged(Damage::Line);
    let mut line = Vec::new();
    let mut counted = Counted::default();
    let mut whose: Option<(Source, Option<EntryId>)> = None;
    let mut newest = i64::MIN;
    let mut first = true;
    while next_line(&mut input, &mut line).map_err(|error| failed(named, error))? {
        see(&line);
        see(b"\n");
        if line.first() == Some(&b'[') {
            let Some((source, import)) = &whose else { return Err(damaged(Damage::ReadingWithoutSource)) };
            let reading: ReadingLine = parsed(&line).ok_or_else(unread)?;
            let entry = reading.entry(source, *import).map_err(|_| damaged(Damage::ReadingCannotBe))?;
            if entry.at.unix_ms() < newest {
                return Err(damaged(Damage::ReadingsOutOfOrder));
            }
            newest = entry.at.unix_ms();
            counted.readings += 1;
            visit(entry)?;
            continue;
        }
        match parsed(&line).ok_or_else(unread)? {
            Line::Head(_) if first => {}
            Line::StoredSetting(kept) => {
                counted.kept += 1;
                keep(kept)?;
            }
            Line::Entry(entry) if whose.is_none() => {
                entry.check().map_err(|_| damaged(Damage::EntryCannotBe))?;
                counted.entries += 1;
                visit(entry)?;
            }
            Line::Readings { source, import } => whose = Some((source, import)),
            Line::End(stated) if stated == counted => {
                // Reads on to the end, so that the last piece of the file is known to be whole.
                return if next_line(&mut input, &mut line).map_err(|error| failed(named, error))? {
                    Err(damaged(Damage::AfterEnd))
                } else {
                    Ok(counted)
                };
            }
            Line::End(_) => return Err(damaged(Damage::Counts)),
            Line::Head(_) | Line::Entry(_) => return Err(damaged(Damage::LinesOutOfOrder)),
        }
        first = false;
    }
    Err(damaged(Damage::EndsEarly))
}

fn parsed<'l, T: Deserialize<'l>>(line: &'l [u8]) -> Option<T> {
    // As text, as the store reads what it keeps: one reader of entries in the program and not two.
    serde_json::from_str(std::str::from_utf8(line).ok()?).ok()
}

fn damaged(named: &Path, what: Damage) -> Error {
    Error::DamagedSealedLog { path: named.to_owned(), what }
}

/// A failure after the passphrase was found right.
fn failed(named: &Path, error: io::Error) -> Error {
    match error.kind() {
        io::ErrorKind::UnexpectedEof => damaged(named, Damage::EndsEarly),
        io::ErrorKind::InvalidData => damaged(named, Damage::Piece),
        _ => of_file(named, error),
    }
}
