//! A log as a table and back: nothing a table can carry is lost, and what was changed by hand is noticed.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // a test may stop where it stands

use std::path::Path;

use ebbstead_core::exchange::csv::table::{Finding, Rows, Trouble, Which, is_table, write};
use ebbstead_core::log::{
    Beyond, Effort, Entry, EntryKind, Illness, InsulinKind, Purpose, SensorEvent, Source, Symptom, Text,
};
use ebbstead_core::store::Log;
use ebbstead_core::time::{DAY_MS, MINUTE_MS, Moment};
use ebbstead_core::units::{Glucose, GlucoseUnit};
use ebbstead_core::wearer::Language;
use ebbstead_core::words::Words;
use proptest::prelude::*;

fn now() -> Moment {
    Moment::parse("2026-03-01T12:00:00+01:00").unwrap()
}

fn words() -> Words {
    Words::new(Language::ENGLISH, GlucoseUnit::MgDl)
}

fn mg(amount: f64) -> Glucose {
    Glucose::from_mg_dl(amount).unwrap()
}

fn text(text: &str) -> Text {
    Text::new(text).unwrap()
}

/// One of every kind a person or a device can say.
fn every_kind(at: Moment) -> Vec<EntryKind> {
    vec![
        EntryKind::SensorReading { mg_dl: mg(104.0) },
        EntryKind::MeterCheck { mg_dl: mg(99.09) },
        EntryKind::SensorBeyond { beyond: Beyond::Below, mg_dl: mg(40.0) },
        EntryKind::SensorBeyond { beyond: Beyond::Above, mg_dl: mg(401.37) },
        EntryKind::MeterBeyond { beyond: Beyond::Below, mg_dl: mg(20.0) },
        EntryKind::MeterBeyond { beyond: Beyond::Above, mg_dl: mg(599.92) },
        EntryKind::Insulin { insulin: InsulinKind::Rapid, units: 4.5 },
        EntryKind::Insulin { insulin: InsulinKind::LongActing, units: 0.1 + 0.2 },
        EntryKind::Carbohydrate { grams: 45.0, purpose: Purpose::Meal },
        EntryKind::Carbohydrate { grams: 15.0, purpose: Purpose::Rescue },
        EntryKind::Alcohol { drinks: 1.5 },
        EntryKind::Ketones { mmol_l: 0.7 },
        EntryKind::Illness { illness: Illness::Vomiting },
        EntryKind::Illness { illness: Illness::Over },
        EntryKind::Activity { activity: text("-walk, \"uphill\""), minutes: 30.25, effort: Effort::Light },
        EntryKind::Sleep { until: at.plus_ms(7 * 60 * MINUTE_MS + 7) },
        EntryKind::Sensor(SensorEvent::Inserted {
            site: Some(text("=left arm")),
            lot: Some(text("+A12")),
            rated_days: Some(10),
        }),
        EntryKind::Sensor(SensorEvent::inserted(None)),
        EntryKind::Sensor(SensorEvent::WarmUpOver),
        EntryKind::Sensor(SensorEvent::Ended),
        EntryKind::Sensor(SensorEvent::Fault { seen: text("came off\nin the shower") }),
        EntryKind::Symptom { felt: Symptom::FeelsLow },
        EntryKind::Symptom { felt: Symptom::Severe },
        EntryKind::Note { text: text("=1+1; \"quoted\",\nsecond line, ünd 'more'") },
        EntryKind::Note { text: text("'already") },
        EntryKind::CompressionLow { until: at.plus_ms(20 * MINUTE_MS) },
    ]
}

fn log() -> Log {
    let mut log = Log::in_memory(now()).unwrap();
    for n in 0..every_kind(now()).len() as i64 {
        let at = Moment::new(now().plus_ms(n * 3 * DAY_MS + n * 7 * 61).unix_ms(), 60 * (n as i32 % 5 - 2)).unwrap();
        let what = every_kind(at).swap_remove(n as usize);
        let source = Source::new(if n % 4 == 0 { "@sensor 7" } else { "by hand" }).unwrap();
        log.record(&Entry::new(at, at.plus_ms(1234), source, what).unwrap()).unwrap();
    }
    log.record_all((0..700).map(|n| {
        let at = now().plus_ms(n * 5 * MINUTE_MS);
        let what = EntryKind::SensorReading { mg_dl: mg(90.0 + (n % 97) as f64) };
        Entry::new(at, at.plus_ms(1500), Source::new("sensor 7").unwrap(), what).unwrap()
    }))
    .unwrap();
    log
}

fn table_of(log: &Log, which: Which) -> String {
    let mut out = Vec::new();
    write(log, &mut out, Path::new("table.csv"), &|what| words().what(what), which, (None, None)).unwrap();
    String::from_utf8(out).unwrap()
}

fn read(table: &str) -> (Vec<Entry>, Vec<Finding>) {
    let later = now().plus_ms(400 * DAY_MS);
    let mut rows = Rows::open(table.as_bytes(), Path::new("table.csv"), later, Source::unnamed_sensor()).unwrap();
    let (mut entries, mut findings) = (Vec::new(), Vec::new());
    while let Some(row) = rows.next_row().unwrap() {
        match row {
            Ok(entry) => entries.push(entry),
            Err(finding) => findings.push(finding),
        }
    }
    (entries, findings)
}

fn sorted(mut entries: Vec<Entry>) -> Vec<Entry> {
    entries.sort_by_key(|entry| (entry.at, entry.recorded, entry.id));
    entries
}

fn current(log: &Log) -> Vec<Entry> {
    let (first, last) = log.span().unwrap().unwrap();
    sorted(log.current(first, last).unwrap())
}

#[test]
fn too_low_and_too_high_to_measure_are_read_as_written_and_as_typed() {
    let log = log();
    let table = table_of(&log, Which::Holding);
    assert!(table.contains(",sensor_beyond,sensor reading too low to measure (below 40 mg/dL),<40,<2.22,"), "{table}");
    assert!(
        table.contains(",meter_beyond,meter check too high to measure (above 600 mg/dL),,,>599.92,>33.30,"),
        "{table}"
    );
    let head = table.split_once("\r\n").unwrap().0;
    let row = |kind: &str, cells: &str| {
        let line = format!("{head}\r\n2026-03-01 03:05:00,+01:00,,{kind},,{cells},,,,,,,,,,,\r\n");
        let (entries, findings) = read(&line);
        (entries.into_iter().next().map(|one| one.what), findings.len())
    };
    let beyond = |mg_dl: f64| Some(EntryKind::SensorBeyond { beyond: Beyond::Below, mg_dl: mg(mg_dl) });
    assert_eq!(row("sensor_reading", "LOW,,,"), (beyond(40.0), 0));
    assert_eq!(row("sensor_beyond", "\"< 50\",,,"), (beyond(50.0), 0));
    assert_eq!(row("sensor_beyond", ",\"<2,22\",,"), (beyond(39.99), 0));
    assert_eq!(
        row("meter_check", ",,HI,"),
        (Some(EntryKind::MeterBeyond { beyond: Beyond::Above, mg_dl: mg(600.0) }), 0)
    );
    for (kind, cells) in
        [("sensor_beyond", "40,,,"), ("sensor_beyond", ",,,"), ("meter_beyond", ",,>100,"), ("sensor_beyond", "<,,,")]
    {
        assert_eq!(row(kind, cells), (None, 1), "{kind} {cells}");
    }
}

#[test]
fn every_kind_comes_back_as_it_was() {
    let log = log();
    let table = table_of(&log, Which::Holding);
    let (entries, findings) = read(&table);
    assert_eq!(findings, []);
    assert_eq!(sorted(entries.clone()), current(&log));
    // Into the log it came from, it brings nothing; into an empty one, all of it, to be taken back as a whole.
    let mut own = log;
    assert_eq!(own.record_all(entries.clone()).unwrap().new, 0);
    let mut fresh = Log::in_memory(now()).unwrap();
    let import = fresh.import(text("table.csv"), entries.into_iter().map(Ok), now()).unwrap();
    let plain = |log: &Log| -> Vec<Entry> {
        current(log)
            .into_iter()
            .map(|entry| Entry { import: None, ..entry })
            .filter(|entry| !matches!(entry.what, EntryKind::Import { .. }))
            .collect()
    };
    assert_eq!(plain(&fresh), plain(&own));
    fresh.retract(import.id, now()).unwrap();
    assert_eq!(plain(&fresh), []);
}

/// RFC 4180, by an independent reader: rows end in CRLF, quoted line breaks stay in their cell, all rows are as wide.
#[test]
fn the_table_is_one_by_the_standard() {
    let table = table_of(&log(), Which::Holding);
    assert!(table.starts_with("local time,UTC offset,UTC time,kind,said,"));
    assert!(table.ends_with("\r\n"));
    let mut reader = csv::ReaderBuilder::new().flexible(false).from_reader(table.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), every_kind(now()).len() + 700);
    let note = rows.iter().find(|row| row[15].starts_with("'=1+1")).unwrap();
    assert!(note[15].contains(",\nsecond line"));
    // No cell that a person or a device filled begins as a formula.
    for row in &rows {
        for cell in [4, 15, 17] {
            assert!(!row[cell].starts_with(['=', '+', '-', '@', '\t', '\r']), "{:?}", &row[cell]);
        }
    }
    let reading = rows.iter().find(|row| &row[3] == "sensor_reading").unwrap();
    assert_eq!((&reading[0], &reading[1], &reading[2]), ("2026-03-01 09:00:00", "-02:00", "2026-03-01T11:00:00Z"));
    // 104 / 18.0156 = 5.7728.
    assert_eq!((&reading[5], &reading[6]), ("104", "5.77"));
}

#[test]
fn a_spreadsheets_own_ways_are_understood() {
    let table = table_of(&log(), Which::Holding);
    let semicolons = {
        let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(table.as_bytes());
        let mut out = csv::WriterBuilder::new().delimiter(b';').from_writer(vec![0xef, 0xbb, 0xbf]);
        for record in reader.records() {
            out.write_record(&record.unwrap()).unwrap();
        }
        String::from_utf8(out.into_inner().unwrap()).unwrap()
    };
    assert_eq!(read(&semicolons), read(&table));
    assert!(is_table(table.as_bytes()) && is_table(semicolons.as_bytes()));
    assert!(!is_table(b"time,glucose\n2026-03-01 03:05,104\n") && !is_table(b""));
}

#[test]
fn what_was_corrected_and_taken_back_goes_along_if_asked() {
    let mut log = log();
    let meal = log.current(now(), now().plus_ms(60 * DAY_MS)).unwrap();
    let meal = meal.iter().find(|entry| matches!(entry.what, EntryKind::Carbohydrate { .. })).unwrap().clone();
    let better = EntryKind::Carbohydrate { grams: 54.0, purpose: Purpose::Meal };
    log.correct(meal.id, meal.at, better, now().plus_ms(40 * DAY_MS)).unwrap();
    let all = read(&table_of(&log, Which::All)).0;
    let mut fresh = Log::in_memory(now()).unwrap();
    fresh.record_all(all).unwrap();
    assert_eq!(current(&fresh), current(&log));
    assert_eq!(fresh.trail(meal.id).unwrap().len(), 2);
    // Without it the correction stands alone.
    fresh = Log::in_memory(now()).unwrap();
    fresh.record_all(read(&table_of(&log, Which::Holding)).0).unwrap();
    assert_eq!(current(&fresh), current(&log));
}

/// A table says nothing of imports: what came with one that was taken back would be believed again where the table is read.
#[test]
fn what_came_with_an_import_that_was_taken_back_stays_behind() {
    let mut log = log();
    let later = now().plus_ms(50 * DAY_MS);
    let reading = |n: i64| {
        let what = EntryKind::SensorReading { mg_dl: mg(48.0) };
        Entry::received(later.plus_ms(n * 5 * MINUTE_MS), later.plus_ms(DAY_MS), Source::new("x").unwrap(), what)
            .unwrap()
    };
    let (before, held) = (table_of(&log, Which::All), current(&log));
    let brought: Vec<Entry> = (0..40).map(reading).collect();
    let wrong = log.import(text("wrong.csv"), brought.iter().cloned().map(Ok), later.plus_ms(DAY_MS)).unwrap();
    // What was said of such a reading falls with it.
    let right = EntryKind::SensorReading { mg_dl: mg(140.0) };
    log.correct(brought[3].id, brought[3].at, right, later.plus_ms(DAY_MS)).unwrap();
    log.retract(brought[4].id, later.plus_ms(DAY_MS)).unwrap();
    // And one of them was read otherwise too.
    log.record(&reading(7)).unwrap();
    assert_eq!(read(&table_of(&log, Which::All)).0.len(), read(&before).0.len() + 42);
    log.retract(wrong.id, later.plus_ms(DAY_MS)).unwrap();
    let mut out = Vec::new();
    let path = Path::new("table.csv");
    let written = write(&log, &mut out, path, &|what| words().what(what), Which::All, (None, None)).unwrap();
    assert_eq!(written.taken_back, 41);
    let all = read(&String::from_utf8(out).unwrap()).0;
    assert_eq!(all.len(), read(&before).0.len() + 1);
    let mut fresh = Log::in_memory(now()).unwrap();
    fresh.record_all(all).unwrap();
    assert_eq!(current(&fresh), current(&log));
    assert_eq!(current(&log).len(), held.len() + 1);
    // Brought back, it goes along again.
    log.import(text("again.csv"), brought.into_iter().map(Ok), later.plus_ms(2 * DAY_MS)).unwrap();
    assert_eq!(read(&table_of(&log, Which::All)).0.len(), read(&before).0.len() + 42);
}

#[test]
fn changed_new_and_broken_rows_are_distinguished() {
    let mut log = Log::in_memory(now()).unwrap();
    let reading = EntryKind::SensorReading { mg_dl: mg(104.0) };
    log.record(&Entry::new(now(), now(), Source::new("sensor 7").unwrap(), reading).unwrap()).unwrap();
    let table = table_of(&log, Which::Holding);
    let (head, row) = table.split_once("\r\n").unwrap();
    let only = |row: &str| {
        let (entries, findings) = read(&format!("{head}\r\n{row}\r\n"));
        (entries.len(), findings.first().map(|finding| finding.trouble))
    };
    assert_eq!(only(row.trim()), (1, None));
    assert_eq!(only(&row.trim().replace(",104,", ",140,")), (0, Some(Trouble::Changed)));
    // The line is given as an editor counts it, whichever way the lines end, a note of two lines before it included.
    let note = "2026-03-01 07:30:00,+01:00,,note,,,,,,,,,,,,\"one\ntwo\",,,,,";
    for end in ["\r\n", "\n"] {
        let rows = [head, note, row.trim(), "soup", note, "soup"].join(end) + end;
        assert_eq!(read(&rows).1.iter().map(|finding| finding.line).collect::<Vec<_>>(), [5, 8]);
    }
    // A row that a person added: no identity, no record, a local time with its offset, a decimal comma.
    let (entries, _) = read(&format!(
        "{head}\r\n2026-03-01 07:30:00,+01:00,,carbohydrate,,,,,,,,\"45,5\",,,,,,,,,\r\n2026-03-01 07:31:00,+01:00,,meter_check,,,,,5.5,,,,,,,,,,,,\r\n"
    ));
    assert_eq!(entries[0].what, EntryKind::Carbohydrate { grams: 45.5, purpose: Purpose::Meal });
    assert_eq!(entries[0].at, Moment::parse("2026-03-01T07:30:00+01:00").unwrap());
    // 5.5 x 18.0156 = 99.0858.
    assert_eq!(entries[1].what, EntryKind::MeterCheck { mg_dl: mg(99.09) });
    for (row, trouble) in [
        ("2026-03-01 07:30:00,,,carbohydrate,,,,,,,,45,,,,,,,,,", Trouble::Time),
        (",,yesterday,carbohydrate,,,,,,,,45,,,,,,,,,", Trouble::Time),
        (",,2026-03-01T07:30:00Z,carbohydrate,,,,,,,,45,15,,,,,,,,", Trouble::Said),
        (",,2026-03-01T07:30:00Z,carbohydrate,,,,,,,,much,,,,,,,,,", Trouble::Said),
        (",,2026-03-01T07:30:00Z,carbohydrate,,,,,,,,5000,,,,,,,,,", Trouble::CannotBe),
        (",,2026-03-01T07:30:00Z,meter_check,,,,7000,,,,,,,,,,,,,", Trouble::Said),
        (",,2026-03-01T07:30:00Z,import,,,,,,,,,,,,,,,,,", Trouble::Said),
        (",,2026-03-01T07:30:00Z,soup,,,,,,,,,,,,,,,,,", Trouble::Said),
        (",,2026-03-01T07:30:00Z", Trouble::Said),
        (",,2026-03-01T07:30:00Z,note,,,,,,,,,,,,hello,,,,no identity,", Trouble::Said),
        (",,2029-03-01T07:30:00Z,note,,,,,,,,,,,,hello,,,,,", Trouble::CannotBe),
    ] {
        assert_eq!(only(row), (0, Some(trouble)), "{row}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, ..ProptestConfig::default() })]

    #[test]
    fn any_text_and_amount_comes_back(
        note in "[ -~äß\n\u{1f319}'=+@-]{0,40}x",
        amount in 20.0..600.0_f64,
        units in 0.01..150.0_f64,
        ms in 0..100_000_000_i64,
        quarter in -48..56_i32,
    ) {
        let at = Moment::new(now().unix_ms() + ms, quarter * 15).unwrap();
        let mut log = Log::in_memory(now()).unwrap();
        for what in [
            EntryKind::Note { text: Text::new(note.as_str()).unwrap() },
            EntryKind::MeterCheck { mg_dl: mg(amount) },
            EntryKind::SensorReading { mg_dl: mg(amount) },
            EntryKind::Insulin { insulin: InsulinKind::Rapid, units },
        ] {
            log.record(&Entry::new(at, at, Source::by_hand(), what).unwrap()).unwrap();
        }
        let (entries, findings) = read(&table_of(&log, Which::All));
        prop_assert_eq!(findings, []);
        prop_assert_eq!(sorted(entries), current(&log));
    }

    /// Whatever stands in a table: no panic, and every row is an entry or reported.
    #[test]
    fn no_table_makes_a_panic(rows in "[ -~\n,\"]{0,300}") {
        let table = table_of(&log(), Which::Holding);
        let head = table.split_once("\r\n").unwrap().0;
        let (entries, _) = read(&format!("{head}\r\n{rows}\r\n"));
        prop_assert!(entries.iter().all(|entry| entry.check().is_ok()));
    }
}
