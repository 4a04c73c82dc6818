//! Logs of every layout there ever was, frozen as SQL, must open and hold what they held then.
//!
//! `fixtures/log-v1.sql` and its like are never edited. Before a migration is added, freeze the layout it starts from:
//! `cargo test -p ebbstead-log --features sealed --test store -- --ignored store_layout::freeze`.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // a test may stop where it stands

use std::fs;
use std::path::{Path, PathBuf};

use ebbstead_engine::time::Moment;
use ebbstead_engine::units::{Glucose, GlucoseUnit};
use ebbstead_engine::wearer::Wearer;
use ebbstead_log::log::{
    Beyond, Currency, DeviceFault, Effort, Entry, EntryKind, Illness, InsulinKind, Item, Matter, Occasion, Price,
    Prompted, Purpose, SensorEvent, Source, Stocked, Supply, Symptom, Text, Verdict,
};
use ebbstead_log::store::Log;
use rusqlite::Connection;

const FROZEN: [&str; 5] = ["log-v1", "log-v2", "log-v3", "log-v4", "log-v5"];

fn fixture(name: &str, kind: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures").join(format!("{name}.{kind}"))
}

fn at(text: &str) -> Moment {
    Moment::parse(text).unwrap()
}

fn now() -> Moment {
    at("2026-03-02T09:00:00+01:00")
}

/// What a log holds, line by line.
fn listed(log: &Log) -> String {
    let mut lines = vec![log.id().unwrap().to_string()];
    let learned = log.learned::<serde_json::Value>("lag").unwrap().unwrap();
    lines.push(format!("{} {} {}", learned.at, learned.evidence, learned.what));
    log.each_fact(|entry| {
        lines.push(serde_json::to_string(&entry).unwrap());
        Ok(())
    })
    .unwrap();
    for entry in log.current(at("2026-01-01T00:00:00Z"), now()).unwrap() {
        lines.push(format!("holds {}", entry.id));
    }
    lines.join("\n") + "\n"
}

/// Makes the file a frozen layout stands for.
fn thaw(name: &str, path: &Path) {
    let connection = Connection::open(path).unwrap();
    connection.execute_batch(&fs::read_to_string(fixture(name, "sql")).unwrap()).unwrap();
}

#[test]
fn frozen_logs_open_and_hold_what_they_held() {
    for name in FROZEN {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("log.ebb");
        thaw(name, &path);
        let mut log = Log::open(&path, now()).unwrap();
        // The check also compares the layout, to the letter, with that of a log made today.
        log.check().unwrap();
        assert_eq!(listed(&log), fs::read_to_string(fixture(name, "txt")).unwrap(), "{name}");
        // A version may know settings that an older one did not; those that were set must have come along.
        let settings = log.wearer_changes().unwrap();
        assert_eq!(settings[0].1.unit, GlucoseUnit::MmolL);
        assert_eq!(settings[1].0, at("2026-03-01T20:00:00+00:00"));
        assert_eq!(settings[1].1.insulin_factor_mg_dl_per_unit, Some(43.1));
        // It is not only readable.
        let again: Vec<Entry> = {
            let mut facts = Vec::new();
            log.each_fact(|entry| {
                facts.push(entry);
                Ok(())
            })
            .unwrap();
            facts
        };
        assert_eq!(log.record_all(again).unwrap().new, 0);
        log.undo_last(now()).unwrap().unwrap();
        log.check().unwrap();
    }
}

/// Another phone's log may be older; it is not ours to change.
#[test]
fn frozen_logs_are_read_as_they_are() {
    for name in FROZEN {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("log.ebb");
        thaw(name, &path);
        let before = fs::read(&path).unwrap();
        let other = Log::open_to_read(&path).unwrap();
        other.check().unwrap();
        assert_eq!(listed(&other), fs::read_to_string(fixture(name, "txt")).unwrap(), "{name}");
        let (from, until) = (at("2026-01-01T00:00:00Z"), now());
        let history = other.history(from, until).unwrap();
        let mut log = Log::in_memory(now()).unwrap();
        assert!(log.preview_merge(&other, now()).unwrap().recorded.new > 0);
        log.merge(&other).unwrap();
        assert_eq!(log.history(from, until).unwrap().readings, history.readings, "{name}");
        drop(other);
        assert_eq!(fs::read(&path).unwrap(), before, "{name}");
        // Brought up to date it says who was read first as before.
        assert_eq!(Log::open(&path, now()).unwrap().history(from, until).unwrap(), history, "{name}");
    }
}

#[test]
fn the_newest_layout_is_frozen_too() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("log.ebb");
    drop(Log::open(&path, now()).unwrap());
    let connection = Connection::open(&path).unwrap();
    let version: usize =
        connection.pragma_query_value(None, "user_version", |row| row.get::<_, i32>(0)).unwrap() as usize;
    assert_eq!(version, FROZEN.len(), "freeze the new layout and add it to FROZEN");
}

/// A log with every kind of entry, some corrected, hidden, brought in, contradictory.
fn sample(path: &Path) -> Log {
    let mut log = Log::open(path, at("2026-03-01T06:00:00+01:00")).unwrap();
    let text = |text: &str| Text::new(text).unwrap();
    let sensor = || Source::new("sensor 7").unwrap();
    let mg = |amount: f64| Glucose::from_mg_dl(amount).unwrap();
    let reading = |minute: u32, amount: f64| {
        let when = at(&format!("2026-03-01T07:{minute:02}:00+01:00"));
        Entry::new(when, when.plus_ms(2500), sensor(), EntryKind::SensorReading { mg_dl: mg(amount) }).unwrap()
    };
    log.record_all((0..6).map(|n| reading(n * 5, 104.0 - f64::from(n) * 7.25))).unwrap();
    log.record_all([reading(10, 61.0)]).unwrap();
    let morning = at("2026-03-01T07:30:00+01:00");
    let said = |what: EntryKind| Entry::new(morning, morning, Source::by_hand(), what).unwrap();
    for what in [
        EntryKind::MeterCheck { mg_dl: Glucose::from_mmol_l(5.5).unwrap() },
        EntryKind::MeterBeyond { beyond: Beyond::Below, mg_dl: Glucose::LOWEST },
        EntryKind::MeterBeyond { beyond: Beyond::Above, mg_dl: Glucose::HIGHEST },
        EntryKind::SensorBeyond { beyond: Beyond::Below, mg_dl: Glucose::SENSOR_LOWEST },
        EntryKind::SensorBeyond { beyond: Beyond::Above, mg_dl: mg(401.25) },
        EntryKind::Insulin { insulin: InsulinKind::Rapid, units: 4.5 },
        EntryKind::Insulin { insulin: InsulinKind::LongActing, units: 14.0 },
        EntryKind::Carbohydrate { grams: 15.0, purpose: Purpose::Rescue },
        EntryKind::Carbohydrate { grams: 45.3, purpose: Purpose::Meal },
        EntryKind::Alcohol { drinks: 2.5 },
        EntryKind::Ketones { mmol_l: 0.7 },
        EntryKind::Illness { illness: Illness::Vomiting },
        EntryKind::Illness { illness: Illness::Over },
        EntryKind::Activity { activity: text("walk with the dog"), minutes: 30.0, effort: Effort::Light },
        EntryKind::Sleep { until: at("2026-03-01T07:45:00+01:00") },
        EntryKind::Sensor(SensorEvent::inserted(Some(text("left arm")))),
        EntryKind::Sensor(SensorEvent::inserted(None)),
        EntryKind::Sensor(SensorEvent::Inserted { site: None, lot: Some(text("A12")), rated_days: Some(10) }),
        EntryKind::Sensor(SensorEvent::WarmUpOver),
        EntryKind::Sensor(SensorEvent::Ended),
        EntryKind::Sensor(SensorEvent::RolledOff),
        EntryKind::Sensor(SensorEvent::Fault { seen: text("no readings\nfor an hour") }),
        EntryKind::Sensor(SensorEvent::DeviceFault { code: DeviceFault::SensorMalfunction }),
        EntryKind::Symptom { felt: Symptom::FeelsLow },
        EntryKind::Symptom { felt: Symptom::FeelsHigh },
        EntryKind::Symptom { felt: Symptom::None },
        EntryKind::Symptom { felt: Symptom::Severe },
        EntryKind::Note { text: text("zwölf 'Uhr' \u{1f319}") },
        EntryKind::CompressionLow { until: at("2026-03-01T07:50:00+01:00") },
        EntryKind::Supply(Supply::new(Item::TestStrip, Stocked::Counted, 0.0)),
        EntryKind::Supply(Supply {
            expires: chrono::NaiveDate::from_ymd_opt(2027, 3, 1),
            lot: Some(text("B7")),
            price: Some(Price { amount: 105.5, currency: Currency::new("EUR").unwrap() }),
            from: Some(text("post")),
            ..Supply::new(Item::Sensor, Stocked::Received, 3.0)
        }),
        EntryKind::Prompted(Prompted {
            occasion: Occasion::Wake,
            matter: Matter::NightWake,
            verdict: Verdict::Check,
            without_meter: Some(Verdict::Hold),
            chance_low: Some(0.125),
            blood_mg_dl: Some(mg(98.25)),
            chance_if_waiting: None,
            chance_if_treating: None,
            look_again_minutes: Some(5),
        }),
    ] {
        log.record(&said(what)).unwrap();
    }
    let wrong = said(EntryKind::Insulin { insulin: InsulinKind::Rapid, units: 40.0 });
    log.record(&wrong).unwrap();
    let insulin = EntryKind::Insulin { insulin: InsulinKind::Rapid, units: 4.0 };
    log.correct(wrong.id, morning, insulin, morning.plus_minutes(1.0)).unwrap();
    log.retract(reading(15, 82.25).id, morning.plus_minutes(2.0)).unwrap();
    log.correct(reading(20, 75.0).id, morning, EntryKind::SensorReading { mg_dl: mg(77.0) }, morning.plus_minutes(3.0))
        .unwrap();
    let slip = said(EntryKind::Note { text: text("a slip") });
    log.record(&slip).unwrap();
    log.undo_last(morning.plus_minutes(4.0)).unwrap();
    let later = at("2026-03-01T20:00:00+00:00");
    let file = |from: i64| {
        (from..from + 4).map(move |n| {
            let when = at("2026-02-27T10:00:00+01:00").plus_ms(n * 300_000);
            let what = EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(150.0 + n as f64).unwrap() };
            Entry::received(when, later, Source::new("sensor 6").unwrap(), what)
        })
    };
    let first = log.import(text("february.csv"), file(0), later).unwrap().id;
    log.import(text("all.csv"), file(2), later.plus_minutes(1.0)).unwrap();
    log.retract(first, later.plus_minutes(2.0)).unwrap();
    log.set_wearer(&Wearer { unit: GlucoseUnit::MmolL, ..Wearer::default() }, morning).unwrap();
    log.set_wearer(
        &Wearer {
            insulin_factor_mg_dl_per_unit: Some(43.1),
            carbohydrate_factor_mg_dl_per_g: Some(3.7),
            ..Wearer::default()
        },
        later,
    )
    .unwrap();
    log.learn("lag", &[6.25, 0.125], "3 days, 812 readings", later).unwrap();
    log
}

#[test]
#[ignore = "writes the fixture of the newest layout; run it before a migration is added, never to mend a failing test"]
fn freeze() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("log.ebb");
    let lines = listed(&sample(&path));
    let connection = Connection::open(&path).unwrap();
    let number = |pragma: &str| connection.pragma_query_value(None, pragma, |row| row.get::<_, i64>(0)).unwrap();
    let name = format!("log-v{}", number("user_version"));
    assert!(!fixture(&name, "sql").exists(), "{name} is frozen already");
    let texts = |sql: &str| -> Vec<String> {
        let mut statement = connection.prepare(sql).unwrap();
        statement.query_map([], |row| row.get(0)).unwrap().map(Result::unwrap).collect()
    };
    let mut sql = format!(
        "PRAGMA application_id = {};\nPRAGMA user_version = {};\nBEGIN;\n",
        number("application_id"),
        number("user_version")
    );
    for made in texts("SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY rowid") {
        sql += &format!("{made};\n");
    }
    for table in texts("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY rowid") {
        let columns = texts(&format!("SELECT name FROM pragma_table_info('{table}')")).join(", ");
        let quoted = columns.split(", ").map(|column| format!("quote({column})")).collect::<Vec<_>>().join("||', '||");
        for row in texts(&format!("SELECT {quoted} FROM {table}")) {
            sql += &format!("INSERT INTO {table} ({columns}) VALUES ({row});\n");
        }
    }
    sql += "COMMIT;\n";
    fs::create_dir_all(fixture("x", "y").parent().unwrap()).unwrap();
    fs::write(fixture(&name, "sql"), sql).unwrap();
    fs::write(fixture(&name, "txt"), lines).unwrap();
}
