//! The layout's versions and how a log gets from one to the next.
//!
//! Version `n` of the layout is what `migrations/001.sql` to `00n.sql` make, in this order. A file is never rewritten:
//! a change is a new file, a new entry in [`MIGRATIONS`] and a frozen log of the version before in the tests.

use std::path::Path;

use rusqlite::{Connection, ErrorCode, Transaction, TransactionBehavior, params};
use uuid::Uuid;

use crate::error::Error;
use crate::log::EntryId;
use crate::store::fault::Fault;
use crate::time::Moment;

/// Marks a SQLite file as an Ebbstead log: "Ebbs" in ASCII.
pub(super) const APPLICATION_ID: i32 = i32::from_be_bytes(*b"Ebbs");

const MIGRATIONS: [&str; 1] = [include_str!("migrations/001.sql")];

/// The newest layout this build reads and the one it writes.
pub(super) const NEWEST: i64 = MIGRATIONS.len() as i64;

/// Makes the layout in an empty file, or brings an older log to the newest layout, each version in one transaction.
pub(super) fn bring_up_to_date(connection: &mut Connection, path: &Path, now: Moment) -> Result<(), Fault> {
    loop {
        // Most openings end here, without waiting for a writer.
        if version(connection, path)? == Some(NEWEST) {
            return has_layout(connection);
        }
        let step = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        // Asked again: another process may have made the step while this one waited.
        let done = version(&step, path)?;
        let from = done.unwrap_or(0);
        if let Some(migration) = usize::try_from(from).ok().and_then(|from| MIGRATIONS.get(from)) {
            step.execute_batch(migration)?;
            if done.is_none() {
                begin(&step, now)?;
            }
            step.pragma_update(None, "user_version", from + 1)?;
        }
        step.commit()?;
    }
}

/// Checks that a log which cannot be written has a layout this build reads.
pub(super) fn check_readable(connection: &Connection, path: &Path) -> Result<(), Fault> {
    match version(connection, path)? {
        Some(NEWEST) => has_layout(connection),
        // An older log would have to be brought up to date first.
        _ => Err(Error::ReadOnly { path: path.to_owned() }.into()),
    }
}

/// The log's layout; nothing where the file is still empty.
fn version(connection: &Connection, path: &Path) -> Result<Option<i64>, Fault> {
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
        1..=NEWEST => Ok(Some(found)),
        i64::MIN..=0 => Err(Fault::Damaged(format!("its layout says version {found}"))),
        _ => Err(Error::NewerLog { path: path.to_owned(), found, known: NEWEST }.into()),
    }
}

/// Checks that the tables and columns of the newest layout are there. Reads no rows.
fn has_layout(connection: &Connection) -> Result<(), Fault> {
    for columns in [
        "one, log, made, made_offset FROM about",
        "slot, name FROM source",
        "slot, id FROM import",
        "at, source, amount, at_offset, recorded_after, recorded_offset, import, again, seal FROM reading",
        "seq, id, at, at_offset, recorded, recorded_offset, source, replaces, import, again, said, undoes, what, seal \
         FROM entry",
        "seq, at, at_offset, settings, seal FROM wearer",
        "name, at, at_offset, evidence, document, seal FROM learned",
    ] {
        match connection.prepare(&format!("SELECT {columns}")) {
            Ok(_) => {}
            // What SQLite calls an error in the question: the table or column is not there.
            Err(error) if error.sqlite_error_code() == Some(ErrorCode::Unknown) => {
                return Err(Fault::Damaged("a table is missing".to_owned()));
            }
            Err(error) => return Err(error.into()),
        }
    }
    Ok(())
}

fn begin(step: &Transaction<'_>, now: Moment) -> Result<(), Fault> {
    step.pragma_update(None, "application_id", APPLICATION_ID)?;
    let id: Uuid = EntryId::fresh(now).0;
    step.execute(
        "INSERT INTO about (one, log, made, made_offset) VALUES (1, ?, ?, ?)",
        params![id.as_bytes(), now.unix_ms(), now.offset_minutes()],
    )?;
    Ok(())
}
