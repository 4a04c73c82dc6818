//! Opening and making the file, so that whatever is there already is never harmed.

use std::ffi::OsString;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::config::DbConfig;
use rusqlite::limits::Limit;
use rusqlite::{Connection, ErrorCode, OpenFlags};

use crate::error::{Damage, Error, Result};
use crate::store::sqlite_error::{StoreError, of_file};
use crate::store::{schema, wal};
use crate::time::Moment;

/// How long to wait for another process that is writing.
pub(super) const PATIENCE: Duration = Duration::from_secs(5);
/// What the write-ahead log is cut back to after a large import, in bytes.
const LARGEST_IDLE_WAL_BYTES: i64 = 4 << 20;
/// The largest text or row a connection takes, in bytes: four times the largest document that is kept.
const LARGEST_VALUE_BYTES: i32 = 1 << 20;
/// The first bytes of every SQLite database. Source: SQLite, "Database File Format", 1.3.1.
pub(crate) const SQLITE_MAGIC: &[u8] = b"SQLite format 3\0";
/// Where the application id stands in the first page. Source: as above, 1.3.18.
const APPLICATION_ID_AT: std::ops::Range<usize> = 68..72;
/// What is not zero where the file is vacuumed by itself, which needs pages of a kind that no log has. Source: as above, 1.3.12.
const VACUUMS_ITSELF_AT: std::ops::Range<usize> = 52..56;
const HEADER_BYTES: usize = 100;

/// What may be done with a log that was opened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Access {
    /// Anything.
    Write,
    /// Reading: the file, its folder or the disk cannot be written to.
    Read,
    /// Reading: the disk has no room.
    ReadForWantOfRoom,
}

/// Whether an empty file is at `path`, in which a log would be begun.
pub(super) fn is_empty_file(path: &Path) -> bool {
    fs::metadata(path).is_ok_and(|found| found.is_file() && found.len() == 0)
}

/// Opens the log at `path`, or makes it.
pub(super) fn open(path: &Path, now: Moment) -> Result<(Connection, Access)> {
    make_if_missing(path)?;
    let ours = probe(path)?;
    side_file_is_whole(path)?;
    match writable(path, now) {
        Ok(Some(connection)) => Ok((connection, Access::Write)),
        Ok(None) => readable(path).map(|connection| (connection, Access::Read)),
        // Where it cannot be read either, what stood in the way first is what to say.
        Err(fault) if fault.is_without_room() => {
            readable(path).map(|connection| (connection, Access::ReadForWantOfRoom)).map_err(|_| fault.of(path))
        }
        Err(fault) if fault.cannot_open() => readable(path).map(|connection| (connection, Access::Read)),
        Err(fault) if ours => Err(unreadable(fault.of(path))),
        Err(fault) => Err(fault.of(path)),
    }
}

/// Opens a log that is there, for reading only.
pub(super) fn open_to_read(path: &Path) -> Result<Connection> {
    match fs::metadata(path) {
        Ok(found) if found.is_dir() => return Err(of_file(path, io::ErrorKind::IsADirectory.into())),
        Ok(found) if !found.is_file() => return Err(of_file(path, io::Error::other("not a regular file"))),
        Ok(found) if found.len() == 0 => return Err(Error::NotALog { path: path.to_owned() }),
        Ok(_) => {}
        Err(error) => return Err(of_file(path, error)),
    }
    let ours = probe(path)?;
    side_file_is_whole(path)?;
    readable(path).map_err(|error| if ours { unreadable(error) } else { error })
}

/// A file that carries the log's name and mark was one, whatever SQLite thinks of the rest.
fn unreadable(error: Error) -> Error {
    match error {
        Error::NotALog { path } => Error::DamagedLog { path, what: Damage::FirstPage },
        other => other,
    }
}

/// A log that lives in memory only.
pub(super) fn in_memory(now: Moment) -> Result<Connection, StoreError> {
    let mut connection = Connection::open_in_memory()?;
    prepare(&connection)?;
    schema::bring_up_to_date(&mut connection, Path::new("memory"), now)?;
    Ok(connection)
}

/// Makes an empty file that only its owner can read, if there is none. SQLite gives its side files the same mode.
fn make_if_missing(path: &Path) -> Result<()> {
    match fs::metadata(path) {
        Ok(found) if found.is_file() => Ok(()),
        Ok(found) if found.is_dir() => Err(of_file(path, io::ErrorKind::IsADirectory.into())),
        Ok(_) => Err(of_file(path, io::Error::other("not a regular file"))),
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            side_file_is_not_orphaned(path)?;
            let mut options = OpenOptions::new();
            options.write(true).create_new(true);
            #[cfg(unix)]
            std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
            match options.open(path) {
                Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Ok(()),
                Err(error) if error.kind() == io::ErrorKind::PermissionDenied => {
                    Err(Error::ReadOnly { path: path.to_owned() })
                }
                Err(error) => Err(of_file(path, error)),
                Ok(_) => Ok(()),
            }
        }
        Err(error) => Err(of_file(path, error)),
    }
}

/// Refuses a log that is missing or empty while entries wait in its side file: SQLite would throw those away.
///
/// A log being made never looks like this; its first page is written before there is a side file.
fn side_file_is_not_orphaned(path: &Path) -> Result<()> {
    if has_content(&beside(path, "-wal")) {
        let what = Damage::SideFileAlone;
        return Err(Error::DamagedLog { path: path.to_owned(), what });
    }
    Ok(())
}

/// Refuses a log whose side file lost something that was committed: SQLite would pass over it and then delete the file.
fn side_file_is_whole(path: &Path) -> Result<()> {
    match wal::damage(path) {
        Ok(Some(what)) => Err(Error::DamagedLog { path: path.to_owned(), what }),
        // One that cannot be read is SQLite's to report.
        Ok(None) | Err(_) => Ok(()),
    }
}

/// Reads the first bytes without SQLite, which would already tidy up after an interrupted program.
///
/// Returns whether the file carries the log's mark; an empty file does not, but may become a log.
fn probe(path: &Path) -> Result<bool> {
    let mut header = Vec::with_capacity(HEADER_BYTES);
    File::open(path)
        .and_then(|file| file.take(HEADER_BYTES as u64).read_to_end(&mut header))
        .map_err(|error| of_file(path, error))?;
    if header.is_empty() {
        side_file_is_not_orphaned(path)?;
    }
    // An interrupted program may have left the truth about the first page beside the file; then SQLite has to say.
    let unsettled = ["-wal", "-journal"].iter().any(|suffix| has_content(&beside(path, suffix)));
    if unsettled || header.is_empty() {
        return Ok(false);
    }
    if header.get(..SQLITE_MAGIC.len()) != Some(SQLITE_MAGIC) {
        return Err(Error::NotALog { path: path.to_owned() });
    }
    match header.get(APPLICATION_ID_AT) {
        None => Err(Error::DamagedLog { path: path.to_owned(), what: Damage::EndsEarly }),
        Some(mark) if mark == schema::APPLICATION_ID.to_be_bytes() => match header.get(VACUUMS_ITSELF_AT) {
            // SQLite is built here without it, and would find pages that contradict each other.
            Some(page) if page != [0; 4] => {
                let what = Damage::AutoVacuum;
                Err(Error::DamagedLog { path: path.to_owned(), what })
            }
            _ => Ok(true),
        },
        Some(_) => Err(Error::NotALog { path: path.to_owned() }),
    }
}

/// Opens for reading and writing; nothing where the operating system grants no writing.
fn writable(path: &Path, now: Moment) -> Result<Option<Connection>, StoreError> {
    let mut connection = connect(path, OpenFlags::SQLITE_OPEN_READ_WRITE)?;
    if connection.is_readonly(rusqlite::MAIN_DB)? {
        return Ok(None);
    }
    // A file that is refused below must not be touched by closing it again.
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true)?;
    prepare(&connection)?;
    schema::check_before_writing(&connection, path)?;
    schema::bring_up_to_date(&mut connection, path, now)?;
    // Written in this order: the layout first, in the one file, so that the mark is in the first page from the start.
    write_ahead(&connection)?;
    connection.pragma_update(None, "synchronous", "FULL")?;
    connection.pragma_update(None, "journal_size_limit", LARGEST_IDLE_WAL_BYTES)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, false)?;
    only_for_its_owner(path);
    Ok(Some(connection))
}

/// Switches to the write-ahead log. SQLite does not wait by itself here while another process opens the same new log.
fn write_ahead(connection: &Connection) -> Result<(), StoreError> {
    const PAUSE: Duration = Duration::from_millis(10);
    let mut left = PATIENCE;
    loop {
        match connection.pragma_update(None, "journal_mode", "WAL") {
            Err(error) if error.sqlite_error_code() == Some(ErrorCode::DatabaseBusy) && !left.is_zero() => {
                std::thread::sleep(PAUSE);
                left = left.saturating_sub(PAUSE);
            }
            done => return Ok(done?),
        }
    }
}

/// Brings what was just committed from the side file into the log's own file, and empties the side file: what was acknowledged
/// lies where every page is looked through, and no damage of the side file can take it back.
///
/// While another program reads, that can wait; then it is done with the next change, or as the last connection closes.
pub(super) fn settle(connection: &Connection, patience: Duration) {
    let checkpoint = |how: &str| -> rusqlite::Result<(i64, i64)> {
        let sql = format!("PRAGMA wal_checkpoint({how})");
        connection.query_row(&sql, [], |row| Ok((row.get(1)?, row.get(2)?)))
    };
    // First what takes time, while others may write; emptying keeps them out, and is done only where nothing is left to copy.
    if checkpoint("PASSIVE").is_ok_and(|(waiting, copied)| waiting > 0 && waiting == copied) {
        let _ = connection.busy_timeout(Duration::ZERO);
        let _ = checkpoint("TRUNCATE");
        let _ = connection.busy_timeout(patience);
    }
}

/// Opens a log that this user may not write.
fn readable(path: &Path) -> Result<Connection> {
    let attempt = |flags: OpenFlags, name: &Path| -> Result<Connection, StoreError> {
        let connection = connect(name, flags)?;
        prepare(&connection)?;
        schema::check_readable(&connection, path)?;
        Ok(connection)
    };
    if !has_content(path) {
        return Err(Error::ReadOnly { path: path.to_owned() });
    }
    match attempt(OpenFlags::SQLITE_OPEN_READ_ONLY, path) {
        Ok(connection) => Ok(connection),
        // A log in write-ahead mode needs a side file, which a read-only folder does not allow. Where nothing waits in
        // the write-ahead log, the file alone is the whole log and can be read as one that does not change.
        Err(fault) if fault.cannot_open() => {
            let wal = beside(path, "-wal");
            if has_content(&wal) {
                let why = "holds entries that cannot be read from a read-only folder; \
                           copy the log together with this file to a folder that can be written";
                return Err(Error::File { path: wal, source: io::Error::other(why) });
            }
            let uri = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI;
            attempt(uri, &immutable_uri(path)).map_err(|fault| fault.of(path))
        }
        Err(fault) => Err(fault.of(path)),
    }
}

fn connect(path: &Path, flags: OpenFlags) -> Result<Connection, StoreError> {
    // One connection is used by one thread at a time: the type is not Sync.
    Ok(Connection::open_with_flags(path, flags | OpenFlags::SQLITE_OPEN_NO_MUTEX)?)
}

/// What every connection gets before anything is read.
fn prepare(connection: &Connection) -> Result<(), StoreError> {
    connection.busy_timeout(PATIENCE)?;
    // A log may come from another person: nothing stored in its schema may run functions or be rewritten behind our back.
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_TRUSTED_SCHEMA, false)?;
    // A log has neither; one that was put in would run with what is noted next.
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_ENABLE_TRIGGER, false)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_ENABLE_VIEW, false)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DQS_DML, false)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DQS_DDL, false)?;
    connection.pragma_update(None, "cell_size_check", true)?;
    connection.pragma_update(None, "foreign_keys", true)?;
    // Android gives a process no folder for temporary files, and health data has no business in one.
    connection.pragma_update(None, "temp_store", "MEMORY")?;
    // A file from elsewhere cannot make this program hold more than its own largest rows.
    connection.set_limit(Limit::SQLITE_LIMIT_LENGTH, LARGEST_VALUE_BYTES)?;
    connection.set_prepared_statement_cache_capacity(64);
    Ok(())
}

/// Takes the log away from other users of the machine; it may have been copied here with a wider mode, which SQLite has given
/// its side files by now.
#[cfg(unix)]
fn only_for_its_owner(path: &Path) {
    use std::os::unix::fs::PermissionsExt;
    for file in [path.to_owned(), beside(path, "-wal"), beside(path, "-shm")] {
        if let Ok(found) = fs::metadata(&file) {
            let mode = found.permissions().mode();
            if mode & 0o077 != 0 {
                // Not ours to change (another owner): the log is still usable.
                let _ = fs::set_permissions(&file, fs::Permissions::from_mode(mode & 0o700));
            }
        }
    }
}

#[cfg(not(unix))]
fn only_for_its_owner(_: &Path) {}

/// Whether the file is a log, or one that SQLite keeps beside one.
pub(crate) fn is_of_a_log(path: &Path) -> io::Result<bool> {
    let is_log = |path: &Path| -> io::Result<bool> {
        if !fs::metadata(path).is_ok_and(|found| found.is_file()) {
            return Ok(false);
        }
        let mut header = Vec::with_capacity(HEADER_BYTES);
        File::open(path)?.take(HEADER_BYTES as u64).read_to_end(&mut header)?;
        // What was made of a log that is damaged at its very beginning is left to its name.
        let marked = header.get(APPLICATION_ID_AT) == Some(&schema::APPLICATION_ID.to_be_bytes()[..]);
        Ok(marked || header.starts_with(SQLITE_MAGIC) || header.is_empty() && has_content(&beside(path, "-wal")))
    };
    let name = path.as_os_str().to_string_lossy();
    let main = ["-wal", "-shm", "-journal"].iter().find_map(|suffix| name.strip_suffix(suffix));
    Ok(is_log(path)? || main.map_or(Ok(false), |main| is_log(Path::new(main)))?)
}

pub(super) fn beside(path: &Path, suffix: &str) -> PathBuf {
    let mut name = OsString::from(path);
    name.push(suffix);
    name.into()
}

fn has_content(path: &Path) -> bool {
    fs::metadata(path).is_ok_and(|found| found.len() > 0)
}

/// The file as a URI that promises SQLite that nothing writes to it.
fn immutable_uri(path: &Path) -> PathBuf {
    let mut uri = String::from("file:");
    for byte in path.as_os_str().as_encoded_bytes() {
        match byte {
            b'/' | b'.' | b'-' | b'_' | b'~' => uri.push(char::from(*byte)),
            byte if byte.is_ascii_alphanumeric() => uri.push(char::from(*byte)),
            byte => uri.push_str(&format!("%{byte:02X}")),
        }
    }
    uri.push_str("?immutable=1");
    uri.into()
}
