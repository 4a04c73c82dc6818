//! Where the readings of each source begin.

use rusqlite::{Connection, OptionalExtension, params};

use crate::error::Damage;
use crate::store::rows::Checksum;
use crate::store::sqlite_error::StoreError;

/// The time before which a source has no reading, in milliseconds of Unix time; nothing where that was not kept.
pub(super) fn of(connection: &Connection, source: i64) -> Result<Option<i64>, StoreError> {
    let mut statement = connection.prepare_cached("SELECT at, seal FROM beginning WHERE source = ?")?;
    let found: Option<(i64, i32)> = statement.query_row([source], |row| Ok((row.get(0)?, row.get(1)?))).optional()?;
    found.map(|(at, stored)| checked(source, at, stored)).transpose()
}

/// Keeps that a source begins at a time.
pub(super) fn put(connection: &Connection, source: i64, at: i64) -> Result<(), StoreError> {
    connection
        .prepare_cached(
            "INSERT INTO beginning (source, at, seal) VALUES (?, ?, ?) \
             ON CONFLICT (source) DO UPDATE SET at = excluded.at, seal = excluded.seal",
        )?
        .execute(params![source, at, checksum(source, at)])?;
    Ok(())
}

/// Looks for it in the readings themselves, of which there must be one.
pub(super) fn find(connection: &Connection, source: i64) -> Result<i64, StoreError> {
    let sql = "SELECT at FROM reading WHERE source = ? ORDER BY at LIMIT 1";
    Ok(connection.prepare_cached(sql)?.query_row([source], |row| row.get(0))?)
}

/// Checks every checksum, and that no reading lies before.
pub(super) fn check(connection: &Connection) -> Result<(), StoreError> {
    let sql = "SELECT 1 FROM reading JOIN beginning USING (source) WHERE reading.at < beginning.at";
    if connection.prepare(sql)?.exists([])? {
        return Err(StoreError::Damaged(Damage::ReadingBeforeSource));
    }
    let mut statement = connection.prepare("SELECT source, at, seal FROM beginning")?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        checked(row.get(0)?, row.get(1)?, row.get(2)?)?;
    }
    Ok(())
}

fn checked(source: i64, at: i64, stored: i32) -> Result<i64, StoreError> {
    if checksum(source, at) == stored { Ok(at) } else { Err(StoreError::Damaged(Damage::SourceStart)) }
}

fn checksum(source: i64, at: i64) -> i32 {
    Checksum::default().number(source).number(at).close()
}

#[cfg(test)]
mod tests {
    use crate::log::{Entry, EntryKind, Source, Symptom};
    use crate::store::Log;
    use crate::time::{MINUTE_MS, Moment};
    use crate::units::Glucose;

    #[test]
    fn a_source_begins_where_its_first_reading_lies() {
        let now = Moment::parse("2026-03-01T12:00:00+01:00").unwrap();
        let mut log = Log::in_memory(now).unwrap();
        let said = |source: &str, minute: i64, what: EntryKind| {
            let at = now.plus_ms(-minute * MINUTE_MS);
            Entry::new(at, now, Source::new(source).unwrap(), what).unwrap()
        };
        let reading = |source: &str, minute: i64| {
            said(source, minute, EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(120.0).unwrap() })
        };
        let agrees = |log: &Log| {
            let rows = |sql: &str| -> Vec<(i64, i64)> {
                let mut statement = log.connection.prepare(sql).unwrap();
                statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?))).unwrap().map(Result::unwrap).collect()
            };
            let kept = rows("SELECT source, at FROM beginning ORDER BY source");
            assert_eq!(kept, rows("SELECT source, min(at) FROM reading GROUP BY source ORDER BY source"));
            log.check().unwrap();
        };
        // A source may have spoken of something else before.
        log.record(&said("b", 90, EntryKind::Symptom { felt: Symptom::FeelsLow })).unwrap();
        agrees(&log);
        log.record_all([reading("a", 20), reading("a", 15), reading("b", 30), reading("a", 25)]).unwrap();
        agrees(&log);
        log.record_all([reading("b", 40), reading("c", 10), reading("b", 35), reading("c", 50)]).unwrap();
        agrees(&log);
        // As in a log that layout 1 began.
        log.connection.execute("DELETE FROM beginning", []).unwrap();
        log.record_all([reading("a", 5), reading("b", 60), reading("c", 1)]).unwrap();
        agrees(&log);
        log.connection.execute("UPDATE beginning SET at = at + 1", []).unwrap();
        assert!(log.check().is_err());
    }
}
