//! The wearer's settings, and what the core has learned.

use rusqlite::{Connection, OptionalExtension, Row, params};
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

use crate::error::{Damage, Error, Quantity, Why};
use crate::store::rows::Checksum;
use crate::store::sqlite_error::StoreError;
use crate::time::Moment;
use crate::wearer::Wearer;

/// The longest name of something learned, in bytes.
const LONGEST_NAME: usize = 80;
/// The largest document kept as learned, in bytes of JSON: learned values are small, and a log is no place for files.
const LARGEST_DOCUMENT: usize = 256 << 10;

/// Something the core has learned from the log.
#[derive(Clone, Debug, PartialEq)]
pub struct Learned<T> {
    /// What was learned.
    pub what: T,
    /// When it was learned.
    pub at: Moment,
    /// From how much, in words.
    pub evidence: String,
}

/// A setting, or something learned, as one log hands it to another.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum StoredSetting {
    /// The wearer's settings.
    Settings {
        /// When they were set.
        at: Moment,
        /// The settings.
        wearer: Box<Wearer>,
    },
    /// Something learned.
    Learned {
        /// Its name.
        name: String,
        /// When it was learned.
        at: Moment,
        /// From how much, in words.
        evidence: String,
        /// What was learned.
        document: serde_json::Value,
    },
}

fn damaged() -> StoreError {
    StoreError::Damaged(Damage::Setting)
}

fn json<T: Serialize>(value: &T) -> Result<String, StoreError> {
    let unfit =
        |error: serde_json::Error| Error::Invalid { what: Quantity::Document, why: Why::Detail(error.to_string()) };
    Ok(serde_json::to_string(value).map_err(unfit)?)
}

pub(super) fn checksum(at: Moment, texts: &[&str]) -> i32 {
    let checksum = Checksum::default().number(at.unix_ms()).number(at.offset_minutes().into());
    texts.iter().fold(checksum, |checksum, text| checksum.bytes(text.as_bytes())).close()
}

fn change(row: &Row<'_>) -> Result<(Moment, Wearer), StoreError> {
    let read =
        || -> rusqlite::Result<(i64, i32, String, i32)> { Ok((row.get(0)?, row.get(1)?, row.get(2)?, row.get(3)?)) };
    let (ms, offset, settings, stored) = read().map_err(|_| damaged())?;
    let at = Moment::new(ms, offset).map_err(|_| damaged())?;
    if checksum(at, &[&settings]) != stored {
        return Err(damaged());
    }
    Ok((at, serde_json::from_str(&settings).map_err(|_| damaged())?))
}

const CHANGE: &str = "SELECT at, at_offset, settings, seal FROM wearer ORDER BY seq";

pub(super) fn wearer(connection: &Connection) -> Result<Option<Wearer>, StoreError> {
    let sql = format!("{CHANGE} DESC LIMIT 1");
    let newest = connection.prepare_cached(&sql)?.query_row([], |row| Ok(change(row))).optional()?;
    Ok(newest.transpose()?.map(|(_, wearer)| wearer))
}

pub(super) fn wearer_changes(connection: &Connection) -> Result<Vec<(Moment, Wearer)>, StoreError> {
    let mut statement = connection.prepare_cached(CHANGE)?;
    let mut rows = statement.query([])?;
    let mut changes = Vec::new();
    while let Some(row) = rows.next()? {
        changes.push(change(row)?);
    }
    Ok(changes)
}

pub(super) fn set_wearer(connection: &Connection, wearer: &Wearer, now: Moment) -> Result<(), StoreError> {
    wearer.check()?;
    put_wearer(connection, wearer, now)
}

/// As [`set_wearer`], of settings that were checked when they were set; the ranges of today are not those of then.
fn put_wearer(connection: &Connection, wearer: &Wearer, now: Moment) -> Result<(), StoreError> {
    if self::wearer(connection)?.as_ref() == Some(wearer) {
        return Ok(());
    }
    let settings = json(wearer)?;
    connection
        .prepare_cached("INSERT INTO wearer (at, at_offset, settings, seal) VALUES (?, ?, ?, ?)")?
        .execute(params![now.unix_ms(), now.offset_minutes(), settings, checksum(now, &[&settings])])?;
    Ok(())
}

pub(super) fn learn<T: Serialize>(
    connection: &Connection,
    name: &str,
    what: &T,
    evidence: &str,
    now: Moment,
) -> Result<(), StoreError> {
    let document = json(what)?;
    let invalid = |why| Error::Invalid { what: Quantity::Document, why };
    if !(1..=LONGEST_NAME).contains(&name.len()) {
        return Err(invalid(Why::NotOneLine { most_bytes: LONGEST_NAME }).into());
    }
    if document.len() > LARGEST_DOCUMENT {
        return Err(invalid(Why::TooLong { most_bytes: LARGEST_DOCUMENT }).into());
    }
    connection
        .prepare_cached(
            "INSERT OR REPLACE INTO learned (name, at, at_offset, evidence, document, seal) VALUES (?, ?, ?, ?, ?, ?)",
        )?
        .execute(params![
            name,
            now.unix_ms(),
            now.offset_minutes(),
            evidence,
            document,
            checksum(now, &[name, evidence, &document])
        ])?;
    Ok(())
}

pub(super) fn learned<T: DeserializeOwned>(
    connection: &Connection,
    name: &str,
) -> Result<Option<Learned<T>>, StoreError> {
    let read = |row: &Row<'_>| -> rusqlite::Result<(i64, i32, String, String, i32)> {
        Ok((row.get(0)?, row.get(1)?, row.get(2)?, row.get(3)?, row.get(4)?))
    };
    let found = connection
        .prepare_cached("SELECT at, at_offset, evidence, document, seal FROM learned WHERE name = ?")?
        .query_row([name], |row| Ok(read(row).map_err(|_| damaged())))
        .optional()?
        .transpose()?;
    let Some((ms, offset, evidence, document, stored)) = found else { return Ok(None) };
    let at = Moment::new(ms, offset).map_err(|_| damaged())?;
    if checksum(at, &[name, &evidence, &document]) != stored {
        return Err(damaged());
    }
    // A document of another shape was learned by another version: it is learned afresh.
    Ok(serde_json::from_str(&document).ok().map(|what| Learned { what, at, evidence }))
}

/// Reads every row of both tables, so that each checksum is checked.
pub(super) fn check(connection: &Connection) -> Result<(), StoreError> {
    each_kept(connection, |_| Ok(()))
}

/// Visits every setting, oldest first, and everything learned.
pub(super) fn each_kept(
    connection: &Connection,
    mut visit: impl FnMut(StoredSetting) -> crate::error::Result<()>,
) -> Result<(), StoreError> {
    for (at, wearer) in wearer_changes(connection)? {
        visit(StoredSetting::Settings { at, wearer: Box::new(wearer) })?;
    }
    let mut statement = connection.prepare("SELECT name FROM learned ORDER BY name")?;
    let names: Vec<String> = statement.query_map([], |row| row.get(0))?.collect::<rusqlite::Result<_>>()?;
    for name in names {
        if let Some(Learned { what, at, evidence }) = learned::<serde_json::Value>(connection, &name)? {
            visit(StoredSetting::Learned { name, at, evidence, document: what })?;
        }
    }
    Ok(())
}

/// Takes over what another log kept; what this log has of its own kind stays.
pub(super) struct Taking {
    settings: bool,
    learned: bool,
}

impl Taking {
    pub(super) fn begin(connection: &Connection) -> Result<Self, StoreError> {
        let none = |sql: &str| connection.prepare(sql)?.exists([]).map(|found| !found);
        Ok(Self { settings: none("SELECT 1 FROM wearer")?, learned: none("SELECT 1 FROM learned")? })
    }

    pub(super) fn put(&self, connection: &Connection, kept: &StoredSetting) -> Result<(), StoreError> {
        match kept {
            StoredSetting::Settings { at, wearer } if self.settings => put_wearer(connection, wearer, *at),
            StoredSetting::Learned { name, at, evidence, document } if self.learned => {
                learn(connection, name, document, evidence, *at)
            }
            StoredSetting::Settings { .. } | StoredSetting::Learned { .. } => Ok(()),
        }
    }
}
