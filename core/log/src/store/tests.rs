//! The connection, the tables, and what goes wrong below them.
use super::*;
use crate::log::{Entry, EntryKind, Source};
use crate::units::Glucose;

fn now() -> Moment {
    Moment::parse("2026-03-01T12:00:00+01:00").unwrap()
}

fn readings(count: i32) -> impl Iterator<Item = Entry> {
    (0..count).map(|n| {
        let at = now().plus_minutes(-5.0 * f64::from(n));
        let what = EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(104.0).unwrap() };
        Entry::new(at, now(), Source::new("sensor 7").unwrap(), what).unwrap()
    })
}

fn place() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("log.ebb");
    (folder, path)
}

#[test]
fn the_connection_is_what_the_promises_need() {
    let (_folder, path) = place();
    // Made, then opened again: some settings live in the file and some in the connection.
    for _ in 0..2 {
        let log = Log::open(&path, now()).unwrap();
        let text = |pragma: &str| -> String {
            let ask = |row: &rusqlite::Row<'_>| row.get::<_, rusqlite::types::Value>(0);
            match log.connection.pragma_query_value(None, pragma, ask).unwrap() {
                rusqlite::types::Value::Integer(number) => number.to_string(),
                rusqlite::types::Value::Text(text) => text,
                other => panic!("{other:?}"),
            }
        };
        assert_eq!(text("journal_mode"), "wal");
        assert_eq!(text("synchronous"), "2", "FULL");
        assert_eq!(text("foreign_keys"), "1");
        assert_eq!(text("temp_store"), "2", "MEMORY");
        assert_eq!(text("busy_timeout"), "5000");
        assert_eq!(text("application_id"), i32::from_be_bytes(*b"Ebbs").to_string());
        assert_eq!(text("user_version"), schema::NEWEST.to_string());
        assert_eq!(text("trusted_schema"), "0");
        assert_eq!(text("cell_size_check"), "1");
        assert_eq!(text("journal_size_limit"), (4 << 20).to_string());
    }
}

#[test]
fn the_tables_refuse_what_the_types_refuse() {
    let mut log = Log::in_memory(now()).unwrap();
    log.record_all(readings(1)).unwrap();
    log.record(
        &Entry::new(
            now(),
            now(),
            Source::by_hand(),
            EntryKind::MeterCheck { mg_dl: Glucose::from_mg_dl(99.0).unwrap() },
        )
        .unwrap(),
    )
    .unwrap();
    let refuses = |sql: &str| {
        let error = log.connection.execute(sql, []).expect_err(sql);
        assert_eq!(error.sqlite_error_code(), Some(rusqlite::ErrorCode::ConstraintViolation), "{sql}: {error}");
    };
    for amount in ["1999", "60001", "'104'", "NULL", "-1", "104.5"] {
        refuses(&format!("UPDATE reading SET amount = {amount}"));
    }
    for column in ["at_offset", "recorded_offset"] {
        refuses(&format!("UPDATE reading SET {column} = 961"));
    }
    refuses("UPDATE reading SET at = 0");
    refuses("UPDATE reading SET source = 99");
    refuses("UPDATE reading SET again = 1");
    refuses("UPDATE entry SET id = x'00'");
    refuses("UPDATE entry SET replaces = x'00'");
    for what in [
        r#"{"kind":"meter_check","mg_dl":19}"#,
        r#"{"kind":"meter_check","mg_dl":601}"#,
        r#"{"kind":"meter_check","mg_dl":"99"}"#,
        r#"{"kind":"meter_check"}"#,
        r#"{"kind":"insulin","units":0}"#,
        r#"{"kind":"insulin","units":151}"#,
        r#"{"kind":"carbohydrate","grams":501}"#,
        r#"{"kind":"activity","minutes":1441}"#,
        r#"{"kind":"alcohol","drinks":41}"#,
        r#"{"kind":"alcohol","drinks":0}"#,
        r#"{"kind":"ketones","mmol_l":-0.1}"#,
        r#"{"kind":"ketones","mmol_l":20.1}"#,
        r#"{"kind":"illness","illness":"tired"}"#,
        r#"{"kind":"symptom","felt":"fine"}"#,
        r#"{"kind":"sensor","event":"eaten"}"#,
        r#"{"kind":"note","text":""}"#,
        r#"{"kind":"retraction"}"#,
        r#"{"kind":"something else"}"#,
        "[]",
        "1",
    ] {
        refuses(&format!("UPDATE entry SET what = '{what}'"));
    }
    assert!(log.connection.execute("UPDATE entry SET what = '{'", []).is_err());
    log.check().unwrap();
}

#[test]
fn a_full_disk_is_said_and_nothing_of_it_written() {
    let (_folder, path) = place();
    let mut log = Log::open(&path, now()).unwrap();
    log.record_all(readings(10)).unwrap();
    let pages: i64 = log.connection.pragma_query_value(None, "page_count", |row| row.get(0)).unwrap();
    // SQLite's own limit stands for the disk's; a real full disk is among the integration tests.
    log.connection.pragma_update_and_check(None, "max_page_count", pages + 2, |_| Ok(())).unwrap();
    let refused = log.record_all(readings(5000)).unwrap_err();
    assert!(matches!(refused, Error::DiskFull { .. }), "{refused}");
    let mut other = Log::in_memory(now()).unwrap();
    other.record_all(readings(5000)).unwrap();
    let preview = log.preview_merge(&other, now()).unwrap();
    assert_eq!(preview.recorded.new, 4990, "trying it out needs no room");
    assert_eq!(log.count().unwrap().readings, 10);
    log.connection.pragma_update_and_check(None, "max_page_count", 1 << 30, |_| Ok(())).unwrap();
    assert_eq!(log.record_all(readings(5000)).unwrap().new, 4990);
    log.check().unwrap();
}

#[test]
fn a_log_that_another_program_keeps_writing_to_is_busy() {
    let (_folder, path) = place();
    let (mut log, other) = (Log::open(&path, now()).unwrap(), Log::open(&path, now()).unwrap());
    log.connection.busy_timeout(Duration::from_millis(20)).unwrap();
    other.connection.execute_batch("BEGIN IMMEDIATE").unwrap();
    let refused = log.record_all(readings(1)).unwrap_err();
    assert!(matches!(refused, Error::Busy { .. }), "{refused}");
    assert!(log.history(now(), now()).is_ok(), "reading goes on");
    other.connection.execute_batch("COMMIT").unwrap();
    assert_eq!(log.record_all(readings(1)).unwrap().new, 1);
}

#[test]
fn a_changed_row_is_noticed_where_it_is_read() {
    let (_folder, path) = place();
    let mut log = Log::open(&path, now()).unwrap();
    log.record_all(readings(3)).unwrap();
    log.record(
        &Entry::new(
            now(),
            now(),
            Source::by_hand(),
            EntryKind::Carbohydrate { grams: 15.0, purpose: crate::log::Purpose::Rescue },
        )
        .unwrap(),
    )
    .unwrap();
    log.set_wearer(&Wearer::default(), now()).unwrap();
    log.learn("lag", &7, "a week", now()).unwrap();
    log.check().unwrap();
    let day_before = now().plus_minutes(-1440.0);
    for (change, back) in [
        ("UPDATE reading SET amount = amount + 1", "UPDATE reading SET amount = amount - 1"),
        (
            "UPDATE reading SET recorded_after = recorded_after + 1",
            "UPDATE reading SET recorded_after = recorded_after - 1",
        ),
        ("UPDATE entry SET what = replace(what, '15', '75')", "UPDATE entry SET what = replace(what, '75', '15')"),
        ("UPDATE entry SET said = 0", "UPDATE entry SET said = 1"),
    ] {
        log.connection.execute(change, []).unwrap();
        let refused = log.history(day_before, now()).unwrap_err();
        assert!(matches!(refused, Error::DamagedLog { .. }), "{change}: {refused}");
        assert!(matches!(log.check(), Err(Error::DamagedLog { .. })));
        log.connection.execute(back, []).unwrap();
        log.check().unwrap();
    }
    log.connection.execute("UPDATE wearer SET settings = replace(settings, '70', '78')", []).unwrap();
    assert!(matches!(log.wearer(), Err(Error::DamagedLog { .. })));
    log.connection.execute("UPDATE learned SET document = '8'", []).unwrap();
    assert!(matches!(log.learned::<i64>("lag"), Err(Error::DamagedLog { .. })));
    log.connection.execute("UPDATE about SET made = made + 1", []).unwrap();
    assert!(matches!(log.id(), Err(Error::DamagedLog { .. })));
}
