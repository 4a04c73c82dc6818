//! Two logs that meet: one wearer's two phones, a stranger's log, and logs that were tampered with.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // a test may stop where it stands

use ebbstead_core::Error;
use ebbstead_core::log::{Entry, EntryKind, InsulinKind, Purpose, Source, Text};
use ebbstead_core::sentences::merge as sentences;
use ebbstead_core::store::{Agreement, Log, MergeWarning};
use ebbstead_core::time::{MINUTE_MS, Moment};
use ebbstead_core::units::{Glucose, GlucoseUnit};
use ebbstead_core::wearer::Language;
use ebbstead_core::words::Words;

fn now() -> Moment {
    Moment::parse("2026-03-01T12:00:00+01:00").unwrap()
}

fn at(minutes: i64) -> Moment {
    now().plus_ms(minutes * MINUTE_MS)
}

fn reading(source: &str, at: Moment, recorded: Moment, mg_dl: f64) -> Entry {
    let what = EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(mg_dl).unwrap() };
    Entry::new(at, recorded, Source::new(source).unwrap(), what).unwrap()
}

/// A day of readings every five minutes that swing as a wearer's do, `phase` hours into the swing.
fn day(source: &str, shift_s: i64, phase: f64) -> Vec<Entry> {
    (0..288)
        .map(|n| {
            let when = at(-1440 + 5 * n).plus_ms(shift_s * 1000);
            let swing = ((n as f64 / 12.0 + phase) * std::f64::consts::TAU / 6.0).sin();
            reading(source, when, when.plus_ms(2000), (150.0 + 70.0 * swing).round())
        })
        .collect()
}

fn log_of(entries: Vec<Entry>) -> Log {
    let mut log = Log::in_memory(now()).unwrap();
    log.record_all(entries).unwrap();
    log
}

fn said(log: &mut Log, other: &Log) -> String {
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    sentences::merge_lines(&log.preview_merge(other, now()).unwrap(), words).join("\n")
}

#[test]
fn one_sensor_read_by_two_phones_does_not_double() {
    // The second phone received each reading later, and once not at all.
    let here = day("sensor 7", 0, 0.0);
    let there: Vec<Entry> =
        here.iter().skip(1).map(|entry| Entry { recorded: entry.recorded.plus_ms(40_000), ..entry.clone() }).collect();
    let (mut log, other) = (log_of(here), log_of(there));
    let preview = log.preview_merge(&other, now()).unwrap();
    assert_eq!((preview.recorded.new, preview.recorded.known), (0, 287));
    assert!(preview.changes_nothing() && preview.warnings().is_empty());
    assert!(said(&mut log, &other).starts_with("Nothing would change"), "{}", said(&mut log, &other));
    log.merge(&other).unwrap();
    assert_eq!(log.history(at(-2000), now()).unwrap().readings.len(), 288);
}

#[test]
fn a_second_sensor_of_the_same_wearer_is_no_strangers() {
    let mut there = day("sensor 8", 90, 0.0);
    for entry in &mut there {
        let EntryKind::SensorReading { mg_dl } = entry.what else { panic!() };
        *entry = reading("sensor 8", entry.at, entry.recorded, mg_dl.mg_dl() * 1.12);
    }
    let (mut log, other) = (log_of(day("sensor 7", 0, 0.0)), log_of(there));
    let preview = log.preview_merge(&other, now()).unwrap();
    assert_eq!(preview.brings.readings, 288);
    assert_eq!((preview.agreement.compared, preview.agreement.differing), (287, 0));
    assert!(preview.warnings().is_empty());
}

#[test]
fn a_strangers_log_is_recognised_by_its_readings() {
    let (mut log, other) = (log_of(day("sensor 7", 0, 0.0)), log_of(day("sensor 7", 90, 2.5)));
    let preview = log.preview_merge(&other, now()).unwrap();
    assert!(preview.agreement.differing > 150, "{preview:?}");
    assert!(matches!(preview.warnings()[..], [MergeWarning::AnotherWearer(_)]), "{:?}", preview.warnings());
    assert!(said(&mut log, &other).contains("of 287 shared times the readings differ by more than 40 mg/dL"));
    // Two logs that share no time cannot be distinguished, and that is said.
    let later = log_of((0..200).map(|n| reading("sensor 9", at(5 * n), at(5 * n), 100.0)).collect());
    let preview = log.preview_merge(&later, at(2000)).unwrap();
    assert!(!preview.agreement.is_conclusive() && preview.warnings().is_empty());
    assert!(said(&mut log, &later).contains("too little time"));
}

#[test]
fn what_the_other_log_took_back_itself_is_not_held_against_it() {
    let (mut log, mut other) = (log_of(day("sensor 7", 0, 0.0)), log_of(day("sensor 8", 90, 0.0)));
    let strange = day("sensor 9", 30, 2.5).into_iter().map(Ok);
    let import = other.import(Text::new("not mine.csv").unwrap(), strange, now()).unwrap();
    assert!(log.preview_merge(&other, now()).unwrap().agreement.looks_like_another_wearer());
    other.retract(import.id, now()).unwrap();
    assert_eq!(log.preview_merge(&other, now()).unwrap().agreement.differing, 0);
}

#[test]
fn an_entry_recorded_ahead_of_the_clock_is_reported_and_can_still_be_corrected() {
    let mut log = log_of(day("sensor 7", 0, 0.0));
    let units = |units| EntryKind::Insulin { insulin: InsulinKind::Rapid, units };
    let dose = Entry::new(at(-60), at(-60), Source::by_hand(), units(4.0)).unwrap();
    log.record(&dose).unwrap();
    // A correction from the year 2190 wins over every other of the same entry.
    let far = Moment::parse("2190-01-01T00:00:00Z").unwrap();
    let other = log_of(vec![dose.clone(), dose.corrected(far, dose.at, units(40.0)).unwrap()]);
    let preview = log.preview_merge(&other, now()).unwrap();
    assert_eq!(preview.warnings(), [MergeWarning::AheadOfClock { entries: 1 }]);
    assert_eq!((preview.brings.corrections, preview.hidden.others), (1, 1));
    assert_eq!(preview.hidden.some[0].id, dose.id);
    log.merge(&other).unwrap();
    assert!((log.history(at(-100), now()).unwrap().doses[0].units - 40.0).abs() < 1e-9);
    log.correct(dose.id, dose.at, units(4.0), now()).unwrap();
    assert!((log.history(at(-100), now()).unwrap().doses[0].units - 4.0).abs() < 1e-9);
    assert_eq!(log.clock_behind(now()).unwrap(), None, "the entry made last is the wearer's own");
    log.check().unwrap();
}

#[test]
fn an_entry_that_was_rewritten_is_reported() {
    let mut log = Log::in_memory(now()).unwrap();
    let grams = |grams| EntryKind::Carbohydrate { grams, purpose: Purpose::Meal };
    let meal = Entry::new(at(-60), at(-60), Source::by_hand(), grams(45.0)).unwrap();
    log.record(&meal).unwrap();
    // The record that claims to be the earlier one would win.
    let forged = Entry { recorded: at(-120), at: at(-120), what: grams(145.0), ..meal.clone() };
    let preview = log.preview_merge(&log_of(vec![forged]), now()).unwrap();
    assert_eq!(preview.warnings(), [MergeWarning::Rewritten { entries: 1 }]);
    assert!(!preview.changes_nothing());
    // The same entry, received by another way at another time, is no forgery.
    let later = Entry { recorded: at(-30), ..meal };
    assert_eq!(log.preview_merge(&log_of(vec![later]), now()).unwrap().warnings(), []);
}

#[test]
fn a_log_that_would_retract_much_is_reported() {
    let here = day("sensor 7", 0, 0.0);
    let mut log = log_of([here.clone(), day("sensor 7", 60, 0.0)].concat());
    let other = log_of(here.iter().map(|entry| entry.retracted(now())).collect());
    assert!(log.preview_merge(&other, now()).unwrap().warnings().is_empty(), "a day is within what a wearer may undo");
    let all = [here, day("sensor 7", 60, 0.0)].concat();
    let other = log_of(all.iter().map(|entry| entry.retracted(now())).collect());
    let preview = log.preview_merge(&other, now()).unwrap();
    assert_eq!(preview.warnings(), [MergeWarning::HidesMuch { readings: 576, others: 0 }]);
    assert!(said(&mut log, &other).contains("576 sensor readings and 0 other entries would no longer hold"));
}

/// However three logs meet, they come to hold the same, on disk as in memory: of a reading that came with two imports both are carried.
#[test]
fn what_came_with_two_imports_holds_whichever_logs_meet_first() {
    let folder = tempfile::tempdir().unwrap();
    let on_disk = |name: &str| Log::open(folder.path().join(name), now()).unwrap();
    let week = || day("sensor 7", 0, 0.0).into_iter().take(24).map(Ok);
    let name = |name: &str| Text::new(name).unwrap();
    let (mut b, mut c) = (on_disk("b"), on_disk("c"));
    b.import(name("b.csv"), week(), now()).unwrap();
    let taken_back = c.import(name("c.csv"), week(), now()).unwrap();
    c.retract(taken_back.id, now()).unwrap();
    let facts = |log: &Log| {
        let mut all = Vec::new();
        log.each_fact(|entry| {
            all.push(serde_json::to_string(&entry).unwrap());
            Ok(())
        })
        .unwrap();
        all.sort();
        all
    };
    let merged = |name: &str, others: &[&Log]| {
        let mut log = on_disk(name);
        for other in others {
            log.merge(*other).unwrap();
        }
        log
    };
    let bc = merged("bc", &[&b, &c]);
    let (one_by_one, together, other_way) = (merged("1", &[&b, &c]), merged("2", &[&bc]), merged("3", &[&c, &b]));
    for log in [&one_by_one, &together, &other_way] {
        assert_eq!(facts(log), facts(&bc));
        assert_eq!(log.history(at(-2000), now()).unwrap().readings.len(), 24);
    }
    let mut again = together;
    assert_eq!(again.merge(&one_by_one).unwrap().new, 0);
    assert_eq!(facts(&again), facts(&bc));
}

#[test]
fn another_log_is_only_read_and_never_made() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("other.ebb");
    assert!(matches!(Log::open_to_read(&path), Err(Error::File { .. })));
    assert!(!path.exists());
    Log::open(&path, now()).unwrap().record_all(day("sensor 7", 0, 0.0)).unwrap();
    let bytes = std::fs::read(&path).unwrap();
    let mut other = Log::open_to_read(&path).unwrap();
    assert!(other.is_read_only());
    assert_eq!(Log::in_memory(now()).unwrap().merge(&other).unwrap().new, 288);
    assert!(matches!(other.record(&day("sensor 8", 0, 0.0)[0]), Err(Error::ReadOnly { .. })));
    drop(other);
    assert_eq!(std::fs::read(&path).unwrap(), bytes);
    std::fs::write(&path, b"").unwrap();
    assert!(matches!(Log::open_to_read(&path), Err(Error::NotALog { .. })));
    assert!(matches!(Log::open_to_read(folder.path()), Err(Error::File { .. })));
}

/// Rows that only another program can have written.
#[test]
fn a_forged_file_takes_neither_memory_nor_the_log_with_it() {
    let forge = |change: &str| {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("forged.ebb");
        let mut log = Log::open(&path, now()).unwrap();
        let note = EntryKind::Note { text: Text::new("slept badly").unwrap() };
        log.record(&Entry::new(now(), now(), Source::by_hand(), note).unwrap()).unwrap();
        drop(log);
        let connection = rusqlite::Connection::open(&path).unwrap();
        connection.execute_batch(&format!("PRAGMA ignore_check_constraints = 1; {change}")).unwrap();
        drop(connection);
        let refused = Log::open_to_read(&path).and_then(|other| {
            let mut log = log_of(day("sensor 7", 0, 0.0));
            let refused = log.merge(&other);
            assert_eq!(log.count().unwrap().readings, 288);
            assert_eq!(log.count().unwrap().others, 0);
            refused
        });
        assert!(matches!(refused, Err(Error::DamagedLog { .. })), "{change}: {refused:?}");
    };
    // A note of 64 MiB: larger than any row that is written.
    forge("UPDATE entry SET what = json_object('kind', 'note', 'text', hex(zeroblob(33554432)))");
    forge("UPDATE entry SET what = '{\"kind\":\"insulin\",\"insulin\":\"rapid\",\"units\":1e9}'");
    forge("UPDATE entry SET at = 0");
    forge("UPDATE entry SET at = 9000000000000000");
    forge("UPDATE source SET name = hex(zeroblob(5000))");
    forge("UPDATE entry SET what = '[[[[[[[['");
}

/// Sensor traces of sixteen people from two open sets (AZT1D, doi:10.17632/gk9m674wcx.1; HUPA-UCM,
/// doi:10.17632/3hbcscwz44.1, both CC BY 4.0): the log of another person is recognised as such, a second sensor on the same one
/// is not.
#[test]
fn people_of_open_data_are_distinguished_and_their_own_second_sensor_is_not() {
    let shared = std::env::var_os("EBBSTEAD_SHARED").filter(|path| !path.is_empty()).map_or_else(
        || std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../shared"),
        std::path::PathBuf::from,
    );
    let mut files: Vec<std::path::PathBuf> = ["azt1d", "hupa"]
        .iter()
        .filter_map(|set| std::fs::read_dir(shared.join("open-data/cgm").join(set)).ok())
        .flat_map(|folder| folder.flatten().map(|file| file.path()))
        .collect();
    files.sort();
    if files.len() < 2 {
        let why = b"skipped: logs of people of open data: the shared data are not there\n";
        std::io::Write::write_all(&mut std::io::stderr(), why).unwrap();
        return;
    }
    // Three weeks each, all begun on one day, at their own times of day.
    const WEEKS_MS: i64 = 21 * 1440 * MINUTE_MS;
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    let people: Vec<Vec<(i64, f64)>> = files
        .iter()
        .map(|file| {
            let options = ebbstead_core::exchange::csv::Options::found(file, words.unit());
            let opened = std::fs::File::open(file).unwrap();
            let mut import = ebbstead_core::exchange::csv::Import::open(opened, &options).unwrap();
            let mut readings = Vec::new();
            while let Some(reading) = import.next_reading(|_| {}).unwrap() {
                readings.push((reading.at.unix_ms(), reading.glucose.mg_dl()));
            }
            let day = readings.iter().map(|one| one.0).min().unwrap() / (1440 * MINUTE_MS) * 1440 * MINUTE_MS;
            readings.iter().map(|(at, mg_dl)| (at - day, *mg_dl)).filter(|one| one.0 < WEEKS_MS).collect()
        })
        .collect();
    let begin = at(-60 * 1440);
    let log = |person: &[(i64, f64)], sensor: &str, change: &dyn Fn(i64, f64) -> (i64, f64)| {
        log_of(
            person
                .iter()
                .map(|(ms, mg_dl)| {
                    let (ms, mg_dl) = change(*ms, *mg_dl);
                    let when = begin.plus_ms(ms);
                    reading(sensor, when, when, mg_dl.clamp(20.0, 600.0))
                })
                .collect(),
        )
    };
    let as_it_is = |ms: i64, mg_dl: f64| (ms, mg_dl);
    let percent = |agreement: Agreement| agreement.differing as f64 * 100.0 / agreement.compared as f64;
    let (mut strangers, mut own) = (Vec::new(), Vec::new());
    for (nth, person) in people.iter().enumerate() {
        let mut here = log(person, "sensor 1", &as_it_is);
        for step in [1, 5] {
            let other = &people[(nth + step) % people.len()];
            let agreement = here.preview_merge(&log(other, "sensor 2", &as_it_is), now()).unwrap().agreement;
            if agreement.is_conclusive() {
                strangers.push(percent(agreement));
                assert!(agreement.looks_like_another_wearer(), "{:?} {agreement:?}", files[nth]);
            }
        }
        // Reads a tenth too high and 8 minutes later, with a spread of a tenth.
        let second = |ms: i64, mg_dl: f64| {
            let noise = ((ms / MINUTE_MS * 7919 % 1000) as f64 / 500.0 - 1.0) * 0.17;
            (ms + 8 * MINUTE_MS, mg_dl * (1.1 + noise))
        };
        let agreement = here.preview_merge(&log(person, "sensor 2", &second), now()).unwrap().agreement;
        own.push(percent(agreement));
        assert!(!agreement.looks_like_another_wearer(), "{:?} {agreement:?}", files[nth]);
    }
    let range = |all: &[f64]| (all.iter().copied().fold(f64::MAX, f64::min), all.iter().copied().fold(0.0, f64::max));
    let ((low, high), (own_low, own_high)) = (range(&strangers), range(&own));
    eprintln!(
        "differing readings: of two people {low:.1} to {high:.1} % ({} pairs), of one person's second sensor {own_low:.1} \
         to {own_high:.1} %",
        strangers.len()
    );
    assert!(strangers.len() > files.len());
}
