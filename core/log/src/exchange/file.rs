//! A file that is there as a whole or not at all.

use std::ffi::OsStr;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;

use tempfile::NamedTempFile;

use crate::error::{Error, Result};
use crate::store::{is_of_a_log, of_file};

/// How the name of a file begins and ends while it is written.
const PART: (&str, &str) = (".writing-", ".part");

/// An empty file older than this is not about to be locked by a program that just made it.
const JUST_MADE: Duration = Duration::from_secs(60);

/// A file under way: written beside its final name, readable by its owner only, and put in place by one rename.
///
/// Dropped before that, it is gone. One that a killed program left behind is taken away when the next is begun in its folder.
#[derive(Debug)]
pub struct Placing {
    part: NamedTempFile,
    given: PathBuf,
    /// Where it goes: through a link, the link's target.
    target: PathBuf,
    replace: bool,
}

impl Placing {
    /// Begins a file that is to be at `path`. One that is there already is kept unless `replace`; and only a regular file that
    /// is no log, nor beside one, is ever replaced.
    ///
    /// # Errors
    /// [`Error::File`], [`Error::DiskFull`], [`Error::ReadOnly`]. Nothing changed at `path`.
    pub fn begin(path: &Path, replace: bool) -> Result<Self> {
        let given = path.to_owned();
        let refused = |source: io::Error| of_file(path, source);
        let target = target(path, replace).map_err(refused)?;
        let folder = folder(&target).map_err(refused)?;
        sweep(folder);
        let part = tempfile::Builder::new().prefix(PART.0).suffix(PART.1).tempfile_in(folder).map_err(refused)?;
        // Held until it is in place or dropped, so that no other program takes it for one that was left behind.
        part.as_file().lock().map_err(refused)?;
        Ok(Self { part, given, target, replace })
    }

    /// The file while it is written.
    #[must_use]
    pub const fn part(&self) -> &NamedTempFile {
        &self.part
    }

    /// Forces the file to the disk and puts it in place.
    ///
    /// # Errors
    /// As [`Placing::begin`].
    pub fn finish(self) -> Result<()> {
        let Self { part, given, target, replace } = self;
        let refused = |source: io::Error| of_file(&given, source);
        part.as_file().sync_all().map_err(refused)?;
        // Looked at once more: it may have become something else while this was written.
        may_be_at(&target, replace).map_err(refused)?;
        let placed = if replace { part.persist(&target) } else { part.persist_noclobber(&target) };
        let file = placed.map_err(|error| refused(error.error))?;
        let _ = file.unlock();
        sync_folder(folder(&target).map_err(refused)?).map_err(refused)
    }
}

impl Write for Placing {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.part.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.part.flush()
    }
}

/// Writes a file as [`Placing`] does.
///
/// # Errors
/// Those of `write` and of [`Placing`]. Nothing changed at `path` in any of these cases.
pub fn put_in_place<T, E: From<Error>>(
    path: &Path,
    replace: bool,
    write: impl FnOnce(&NamedTempFile) -> Result<T, E>,
) -> Result<T, E> {
    let placing = Placing::begin(path, replace)?;
    let done = write(placing.part())?;
    placing.finish()?;
    Ok(done)
}

/// Where a file named so goes.
fn target(path: &Path, replace: bool) -> io::Result<PathBuf> {
    let absolute = std::path::absolute(path)?;
    let is_link = absolute.symlink_metadata().is_ok_and(|found| found.is_symlink());
    // A link stays one. What it leads to has to be there: where a dangling one leads was not chosen.
    let target = if is_link && replace { fs::canonicalize(&absolute)? } else { absolute };
    may_be_at(&target, replace)?;
    Ok(target)
}

/// Refuses a name where something is that must stay.
fn may_be_at(target: &Path, replace: bool) -> io::Result<()> {
    let found = match target.symlink_metadata() {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
        Err(error) => return Err(error),
        Ok(found) => found,
    };
    if !replace {
        return Err(io::ErrorKind::AlreadyExists.into());
    }
    if found.is_dir() {
        return Err(io::ErrorKind::IsADirectory.into());
    }
    if !found.is_file() {
        return Err(io::Error::other("not a regular file, and so it is not replaced"));
    }
    if is_of_a_log(target)? {
        return Err(io::Error::other("a log, or a part of one, which is never replaced. Give another name"));
    }
    Ok(())
}

fn folder(target: &Path) -> io::Result<&Path> {
    target.parent().ok_or_else(|| io::ErrorKind::IsADirectory.into())
}

/// Takes away what killed programs left in the folder. A failure to do so does not stop the write at hand.
fn sweep(folder: &Path) {
    let is_part = |name: &OsStr| name.to_str().is_some_and(|name| name.starts_with(PART.0) && name.ends_with(PART.1));
    for found in fs::read_dir(folder).into_iter().flatten().flatten() {
        if !is_part(&found.file_name()) || !found.file_type().is_ok_and(|kind| kind.is_file()) {
            continue;
        }
        // A program that still writes it holds its lock; one that has just made it has not written to it, and has no lock for a moment.
        let not_just_made = |about: fs::Metadata| {
            let age = || about.modified().ok().and_then(|at| at.elapsed().ok());
            about.len() > 0 || age().is_some_and(|age| age >= JUST_MADE)
        };
        let left = File::options()
            .write(true)
            .open(found.path())
            .is_ok_and(|file| file.metadata().is_ok_and(not_just_made) && file.try_lock().is_ok());
        if left {
            let _ = fs::remove_file(found.path());
        }
    }
}

/// Forces the new name to the disk, where folders can be: a rename alone may be lost with the power.
fn sync_folder(folder: &Path) -> io::Result<()> {
    #[cfg(unix)]
    File::open(folder)?.sync_all()?;
    #[cfg(not(unix))]
    let _ = folder;
    Ok(())
}

#[cfg(all(test, unix))]
mod tests {
    use std::os::unix::fs::{PermissionsExt, symlink};
    use std::process::Command;
    use std::time::SystemTime;

    use super::*;
    use crate::store::Log;
    use crate::time::Moment;

    fn put(path: &Path, replace: bool) -> Result<()> {
        put_in_place(path, replace, |mut part| part.write_all(b"new").map_err(|source| of_file(path, source)))
    }

    #[test]
    fn only_a_regular_file_that_is_no_log_is_replaced() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        let now = Moment::parse("2026-03-01T12:00:00+01:00").unwrap();
        drop(Log::open(at("log.ebb"), now).unwrap());
        let log = fs::read(at("log.ebb")).unwrap();
        fs::write(at("log.ebb-wal"), b"waiting").unwrap();
        symlink(at("log.ebb"), at("to-log")).unwrap();
        symlink("/dev/full", at("to-device")).unwrap();
        symlink(at("nowhere"), at("dangling")).unwrap();
        fs::create_dir(at("folder")).unwrap();
        assert!(Command::new("mkfifo").arg(at("fifo")).status().unwrap().success());
        for name in ["log.ebb", "log.ebb-wal", "to-log", "to-device", "dangling", "folder", "fifo"] {
            for replace in [true, false] {
                let refused = put(&at(name), replace).unwrap_err();
                assert!(matches!(refused, Error::File { .. }), "{name}: {refused}");
            }
        }
        assert!(put(Path::new("/dev/full"), true).is_err());
        assert_eq!(fs::read(at("log.ebb")).unwrap(), log);
        assert_eq!(fs::read(at("log.ebb-wal")).unwrap(), b"waiting");
        assert!(at("dangling").symlink_metadata().unwrap().is_symlink() && !at("nowhere").exists());

        fs::write(at("old"), b"old").unwrap();
        symlink(at("old"), at("to-old")).unwrap();
        assert!(put(&at("to-old"), false).is_err());
        put(&at("to-old"), true).unwrap();
        assert!(at("to-old").symlink_metadata().unwrap().is_symlink(), "a link stays one");
        assert_eq!(fs::read(at("old")).unwrap(), b"new");
        assert_eq!(at("old").metadata().unwrap().permissions().mode() & 0o777, 0o600);
        let left = fs::read_dir(folder.path())
            .unwrap()
            .filter(|one| one.as_ref().unwrap().file_name().to_string_lossy().ends_with(PART.1));
        assert_eq!(left.count(), 0);
    }

    #[test]
    fn what_a_killed_program_left_is_taken_away_and_what_is_written_is_not() {
        let folder = tempfile::tempdir().unwrap();
        let left = folder.path().join(".writing-abc123.part");
        fs::write(&left, b"half").unwrap();
        let mine = folder.path().join("notes.part");
        fs::write(&mine, b"half").unwrap();
        // Killed before a byte was written: taken for one that was just made until it is a minute old.
        let empty = |name: &str, age: Duration| {
            let path = folder.path().join(name);
            File::create(&path).unwrap().set_modified(SystemTime::now() - age).unwrap();
            path
        };
        let (old, new) = (empty(".writing-def456.part", 2 * JUST_MADE), empty(".writing-ghi789.part", Duration::ZERO));
        let mut under_way = Placing::begin(&folder.path().join("one"), false).unwrap();
        assert!(!left.exists() && !old.exists() && mine.exists() && new.exists());
        under_way.write_all(b"one").unwrap();
        put(&folder.path().join("two"), false).unwrap();
        under_way.finish().unwrap();
        assert_eq!(fs::read(folder.path().join("one")).unwrap(), b"one");
    }
}
