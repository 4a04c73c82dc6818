//! The layout's versions and how a log gets from one to the next.
//!
//! Version `n` of the layout is what `migrations/001.sql` to `00n.sql` make, in this order. A file is never rewritten:
//! a change is a new file, a new entry in [`MIGRATIONS`] and a frozen log of the version before in the tests.

use std::path::Path;
use std::sync::OnceLock;

use rusqlite::{Connection, Transaction, TransactionBehavior, params};
use uuid::Uuid;

use crate::error::{Damage, Error};
use crate::log::EntryId;
use crate::store::open::in_memory;
use crate::store::rows::Checksum;
use crate::store::sqlite_error::StoreError;
use crate::time::Moment;

/// Marks a SQLite file as an Ebbstead log: "Ebbs" in ASCII.
pub(super) const APPLICATION_ID: i32 = i32::from_be_bytes(*b"Ebbs");

const MIGRATIONS: [&str; 5] = [
    include_str!("migrations/001.sql"),
    include_str!("migrations/002.sql"),
    include_str!("migrations/003.sql"),
    include_str!("migrations/004.sql"),
    include_str!("migrations/005.sql"),
];

/// The newest layout this build reads and the one it writes.
pub(super) const NEWEST: i64 = MIGRATIONS.len() as i64;

/// Makes the layout in an empty file, or brings an older log to the newest layout, each version in one transaction.
pub(super) fn bring_up_to_date(connection: &mut Connection, path: &Path, now: Moment) -> Result<(), StoreError> {
    advance(connection, path, now, &MIGRATIONS)?;
    has_layout(connection)
}

/// What layout 2 has and a log of layout 1, only read, has not: empty, and in memory.
const READ_AS_LAYOUT_2: &str = "CREATE TEMP TABLE beginning (source INTEGER PRIMARY KEY, at INTEGER, seal INTEGER)";

/// Checks that a log which cannot be written has a layout this build reads.
pub(super) fn check_readable(connection: &Connection, path: &Path) -> Result<(), StoreError> {
    // Over before a table is made: it would be gone with the transaction.
    let found = version(&*connection.unchecked_transaction()?, path, NEWEST)?;
    match found {
        // Of the layouts since 2 it lacks only kinds of entries.
        Some(NEWEST | 2 | 3 | 4) => has_layout(connection),
        Some(1) => {
            connection.execute_batch(READ_AS_LAYOUT_2)?;
            has_layout(connection)
        }
        // One that is not made yet.
        _ => Err(Error::ReadOnly { path: path.to_owned() }.into()),
    }
}

/// Copies a log of the newest layout, as it stands, into one in memory. Nothing waits for it.
pub(super) fn copy(log: &Connection, path: &Path) -> Result<Connection, StoreError> {
    let made = Moment::new(log.query_row("SELECT made FROM about", [], |row| row.get(0))?, 0)?;
    let copy = in_memory(made)?;
    copy.execute("ATTACH DATABASE ? AS log", [path.to_string_lossy()])?;
    {
        let snapshot = copy.unchecked_transaction()?;
        snapshot.execute("DELETE FROM main.about", [])?;
        for table in ["about", "source", "import", "reading", "entry", "wearer", "learned", "beginning"] {
            snapshot.execute(&format!("INSERT INTO main.{table} SELECT * FROM log.{table}"), [])?;
        }
        snapshot.commit()?;
    }
    copy.execute_batch("DETACH DATABASE log")?;
    Ok(copy)
}

fn advance(connection: &mut Connection, path: &Path, now: Moment, migrations: &[&str]) -> Result<(), StoreError> {
    let newest = migrations.len() as i64;
    loop {
        // Most openings end here, without waiting for a writer.
        if version(&*connection.unchecked_transaction()?, path, newest)? == Some(newest) {
            return Ok(());
        }
        let step = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        // Asked again: another process may have made the step while this one waited.
        let done = version(&step, path, newest)?;
        let from = done.unwrap_or(0);
        if let Some(migration) = usize::try_from(from).ok().and_then(|from| migrations.get(from)) {
            step.execute_batch(migration)?;
            if done.is_none() {
                begin(&step, now)?;
            }
            step.pragma_update(None, "user_version", from + 1)?;
        }
        step.commit()?;
    }
}

/// The log's layout; nothing where the file is still empty. Ask it within one transaction: between two of its questions
/// another process may make the log.
fn version(connection: &Connection, path: &Path, newest: i64) -> Result<Option<i64>, StoreError> {
    let mark: i32 = connection.pragma_query_value(None, "application_id", |row| row.get(0))?;
    let found: i64 = connection.pragma_query_value(None, "user_version", |row| row.get(0))?;
    if mark == 0 && found == 0 {
        let tables: i64 = connection.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
        if tables == 0 {
            return Ok(None);
        }
    }
    if mark != APPLICATION_ID {
        return Err(Error::NotALog { path: path.to_owned() }.into());
    }
    match found {
        found if found < 1 => Err(StoreError::Damaged(Damage::Layout { found })),
        found if found > newest => Err(Error::NewerLog { path: path.to_owned(), found, known: newest }.into()),
        found => Ok(Some(found)),
    }
}

/// Checks that the tables and columns of the newest layout are there. Reads no rows.
fn has_layout(connection: &Connection) -> Result<(), StoreError> {
    for columns in [
        "one, log, made, made_offset, seal FROM about",
        "slot, name FROM source",
        "slot, id FROM import",
        "at, source, amount, at_offset, recorded_after, recorded_offset, import, again, seal FROM reading",
        "seq, id, at, at_offset, recorded, recorded_offset, source, replaces, import, again, said, undoes, what, seal \
         FROM entry",
        "seq, at, at_offset, settings, seal FROM wearer",
        "name, at, at_offset, evidence, document, seal FROM learned",
        "source, at, seal FROM beginning",
    ] {
        connection.prepare(&format!("SELECT {columns}"))?;
    }
    Ok(())
}

/// What a file's schema holds: of each table and index its type, its name and how it was made.
type Layout = Vec<(String, String, Option<String>)>;

fn layout(connection: &Connection) -> Result<Layout, StoreError> {
    let mut statement = connection.prepare("SELECT type, name, sql FROM sqlite_schema ORDER BY type, name")?;
    let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

/// The layout of a version as it is made now.
fn made(steps: i64) -> Result<Layout, StoreError> {
    let fresh = Connection::open_in_memory()?;
    for migration in MIGRATIONS.iter().take(usize::try_from(steps).unwrap_or(MIGRATIONS.len())) {
        fresh.execute_batch(migration)?;
    }
    layout(&fresh)
}

/// Checks the layout to the letter against one made now: a flipped bit may have changed a range or an index.
pub(super) fn check(connection: &Connection) -> Result<(), StoreError> {
    /// The newest one is asked for with every opening.
    static OF_NEWEST: OnceLock<Layout> = OnceLock::new();
    // One that is only read may be older.
    let steps: i64 = connection.pragma_query_value(None, "user_version", |row| row.get(0))?;
    let found = layout(connection)?;
    let is_as_made = match OF_NEWEST.get() {
        Some(made) if steps == NEWEST => found == *made,
        _ => {
            let made = made(steps)?;
            let is_as_made = found == made;
            if steps == NEWEST {
                let _ = OF_NEWEST.set(made);
            }
            is_as_made
        }
    };
    if is_as_made { Ok(()) } else { Err(StoreError::Damaged(Damage::Table)) }
}

/// Checks, before anything is written to it, that a log holds what a log is made of and nothing else: what was put into the schema
/// of one that came from elsewhere would run with the next entry. A file that is no log yet passes.
pub(super) fn check_before_writing(connection: &Connection, path: &Path) -> Result<(), StoreError> {
    let snapshot = connection.unchecked_transaction()?;
    match version(&snapshot, path, NEWEST)? {
        Some(_) => check(&snapshot),
        None => Ok(()),
    }
}

fn begin(step: &Transaction<'_>, now: Moment) -> Result<(), StoreError> {
    step.pragma_update(None, "application_id", APPLICATION_ID)?;
    let id = EntryId::fresh(now).0.into_bytes();
    step.execute(
        "INSERT INTO about (one, log, made, made_offset, seal) VALUES (1, ?, ?, ?, ?)",
        params![id, now.unix_ms(), now.offset_minutes(), about_checksum(id, now.unix_ms(), now.offset_minutes())],
    )?;
    Ok(())
}

/// The identity of the log.
pub(super) fn identity(connection: &Connection) -> Result<Uuid, StoreError> {
    let damaged = |_| StoreError::Damaged(Damage::Identity);
    let (id, made, offset, checksum): ([u8; 16], i64, i32, i32) = connection
        .query_row("SELECT log, made, made_offset, seal FROM about", [], |row| {
            Ok((row.get(0)?, row.get(1)?, row.get(2)?, row.get(3)?))
        })
        .map_err(damaged)?;
    if checksum == about_checksum(id, made, offset) {
        Ok(Uuid::from_bytes(id))
    } else {
        Err(StoreError::Damaged(Damage::Identity))
    }
}

fn about_checksum(id: [u8; 16], made: i64, offset: i32) -> i32 {
    Checksum::default().bytes(&id).number(made).number(offset.into()).close()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn now() -> Moment {
        Moment::parse("2026-03-01T12:00:00+01:00").unwrap()
    }

    fn at(connection: &Connection) -> i64 {
        connection.pragma_query_value(None, "user_version", |row| row.get(0)).unwrap()
    }

    fn exists(connection: &Connection, table: &str) -> bool {
        connection.prepare(&format!("SELECT 1 FROM {table}")).is_ok()
    }

    #[test]
    fn steps_run_once_each_and_in_order() {
        let mut connection = Connection::open_in_memory().unwrap();
        let path = Path::new("log");
        advance(&mut connection, path, now(), &MIGRATIONS).unwrap();
        let made = identity(&connection).unwrap();
        let more: Vec<&str> = [&MIGRATIONS[..], &["CREATE TABLE more (a)", "ALTER TABLE more ADD COLUMN b"]].concat();
        let last = NEWEST + 2;
        advance(&mut connection, path, now(), &more).unwrap();
        assert_eq!(at(&connection), last);
        assert!(connection.prepare("SELECT a, b FROM more").is_ok());
        advance(&mut connection, path, now(), &more).unwrap();
        assert_eq!(identity(&connection).unwrap(), made);
        // The build before this one refuses it.
        let refused = advance(&mut connection, path, now(), &more[..more.len() - 1]);
        let Err(StoreError::Said(Error::NewerLog { found, known, .. })) = refused else { panic!("{refused:?}") };
        assert_eq!((found, known), (last, last - 1));
    }

    #[test]
    fn a_step_that_fails_leaves_the_version_before_it() {
        let mut connection = Connection::open_in_memory().unwrap();
        let broken = [MIGRATIONS[0], "CREATE TABLE two (a)", "CREATE TABLE three (a); CREATE TABLE three (a)"];
        assert!(advance(&mut connection, Path::new("log"), now(), &broken).is_err());
        assert_eq!(at(&connection), 2);
        assert!(exists(&connection, "two") && !exists(&connection, "three"));
    }
}
