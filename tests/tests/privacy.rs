//! Who can read a log, and what errors let out of it.
#![cfg(unix)]
#![allow(clippy::unwrap_used)] // a log that cannot be made is a failed test

use std::fs;
use std::io::Write;
use std::os::unix::fs::PermissionsExt;
use std::path::Path;

use ebbstead_core::exchange::csv;
use ebbstead_core::exchange::fhir;
use ebbstead_core::log::{Effort, Entry, EntryKind, InsulinKind, SensorEvent, Source, Text};
use ebbstead_core::store::Log;
use ebbstead_core::time::Moment;
use ebbstead_core::units::{Glucose, GlucoseUnit};
use ebbstead_core::wearer::Language;
use ebbstead_core::words::Words;

/// A word that stands for everything a wearer wrote, and an amount that stands for all of theirs.
const SECRET: &str = "aubergine";
const AMOUNT: &str = "123.45";

fn now() -> Moment {
    Moment::parse("2026-03-01T12:00:00+01:00").unwrap()
}

fn text(text: &str) -> Text {
    Text::new(text).unwrap()
}

/// Entries that hold the secret wherever words can be, and amounts that would be known again.
fn secrets() -> Vec<Entry> {
    let whats = [
        EntryKind::Note { text: text(SECRET) },
        EntryKind::Activity { activity: text(SECRET), minutes: 123.45, effort: Effort::Hard },
        EntryKind::Sensor(SensorEvent::Fault { seen: text(SECRET) }),
        EntryKind::Insulin { insulin: InsulinKind::Rapid, units: 123.45 },
        EntryKind::MeterCheck { mg_dl: Glucose::from_mg_dl(123.45).unwrap() },
    ];
    let source = Source::new(SECRET).unwrap();
    whats.into_iter().map(|what| Entry::new(now(), now(), source.clone(), what).unwrap()).collect()
}

fn said_nothing(said: &str) {
    assert!(!said.contains(SECRET), "{said}");
    assert!(!said.contains(AMOUNT), "{said}");
}

fn words() -> [Words; 2] {
    [Language::ENGLISH, Language::GERMAN].map(|language| Words::new(language, GlucoseUnit::MgDl))
}

fn mode(path: &Path) -> u32 {
    fs::metadata(path).unwrap().permissions().mode() & 0o777
}

#[test]
fn a_log_and_its_side_files_are_its_owners_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("log.ebbstead");
    let mut log = Log::open(&path, now()).unwrap();
    log.record_all(secrets()).unwrap();
    for ending in ["", "-wal", "-shm"] {
        let file = folder.path().join(format!("log.ebbstead{ending}"));
        assert!(file.exists(), "{ending}: the side files are there while the log is open");
        assert_eq!(mode(&file), 0o600, "{ending}");
    }
    drop(log);
    // A copy that others could read is closed to them when it is opened, and its side files are made as it is.
    fs::set_permissions(&path, fs::Permissions::from_mode(0o644)).unwrap();
    let mut log = Log::open(&path, now()).unwrap();
    log.record(&Entry::new(now(), now(), Source::by_hand(), EntryKind::Note { text: text("more") }).unwrap()).unwrap();
    for ending in ["", "-wal", "-shm"] {
        assert_eq!(mode(&folder.path().join(format!("log.ebbstead{ending}"))), 0o600, "{ending}");
    }
}

#[test]
fn errors_of_a_damaged_log_hold_nothing_of_it() {
    let folder = tempfile::tempdir().unwrap();
    let whole = folder.path().join("whole.ebbstead");
    let mut log = Log::open(&whole, now()).unwrap();
    log.record_all(secrets()).unwrap();
    drop(log);
    let good = fs::read(&whole).unwrap();
    let mut refused = 0;
    for place in (0..good.len()).step_by(211) {
        let mut bytes = good.clone();
        bytes[place] ^= 0x55;
        let path = folder.path().join("spoilt.ebbstead");
        fs::write(&path, &bytes).unwrap();
        let outcome = Log::open(&path, now()).and_then(|log| {
            log.check()?;
            log.history(now().plus_minutes(-60.0), now())
        });
        if let Err(error) = outcome {
            refused += 1;
            said_nothing(&error.to_string());
            words().iter().for_each(|words| said_nothing(&words.error(&error)));
        }
        for ending in ["", "-wal", "-shm"] {
            let _ = fs::remove_file(folder.path().join(format!("spoilt.ebbstead{ending}")));
        }
    }
    assert!(refused > 20, "{refused}");
}

#[test]
fn errors_of_entries_that_cannot_be_hold_nothing_of_them() {
    let mut log = Log::in_memory(now()).unwrap();
    for entry in secrets() {
        // Later than the clock: refused, whatever it says.
        let late = Entry { at: now().plus_minutes(600.0), ..entry };
        let error = late.check().unwrap_err();
        said_nothing(&error.to_string());
        said_nothing(&log.record(&late).unwrap_err().to_string());
        words().iter().for_each(|words| said_nothing(&words.advice(&error)));
    }
    let long = SECRET.repeat(300);
    for error in
        [Text::new(long.clone()).unwrap_err(), Source::new(long).unwrap_err(), Text::new("\u{7}aubergine").unwrap_err()]
    {
        said_nothing(&error.to_string());
    }
}

#[test]
fn errors_of_bundles_hold_nothing_of_them() {
    let mut bytes = Vec::new();
    let mut bundle = fhir::Bundle::begin(&mut bytes, uuid::Uuid::nil(), now()).unwrap();
    for entry in secrets() {
        bundle.put(&entry).unwrap();
    }
    bundle.finish().unwrap();
    let whole = String::from_utf8(bytes).unwrap();
    assert!(whole.contains(SECRET) && whole.contains(AMOUNT));
    let mut messages = 0;
    // Cut short, and with each letter of the first kilobytes in turn made another.
    for place in (0..whole.len().min(6000)).step_by(17) {
        for spoilt in [whole[..place].to_owned(), format!("{}#{}", &whole[..place], &whole[place + 1..])] {
            match fhir::read(spoilt.as_bytes(), &fhir::Options::new("file.json", now())) {
                Err(error) => {
                    messages += 1;
                    said_nothing(&error.to_string());
                }
                Ok((_, report)) => {
                    messages += report.findings.len();
                    for finding in &report.findings {
                        words().iter().for_each(|words| {
                            said_nothing(&ebbstead_core::sentences::fhir::finding_text(finding, *words))
                        });
                    }
                }
            }
        }
    }
    assert!(messages > 300, "{messages}");
}

/// A finding of a table shows the one cell that is to blame, since the person who reads it has to find it; nothing else of the row.
#[test]
fn findings_of_tables_hold_the_one_cell_that_is_to_blame() {
    let table = format!(
        "time,glucose,note\n2026-02-01 10:00,{AMOUNT},x\n2026-02-01 10:05,much,{SECRET}\n2026-02-01 10:10,101,y\n"
    );
    for words in words() {
        let options = csv::Options { now: Some(now()), ..csv::Options::found(Path::new("file.csv"), words.unit()) };
        let mut import = csv::Import::open(table.as_bytes(), &options).unwrap();
        while import.next_reading(|_| {}).unwrap().is_some() {}
        let report = import.report();
        assert_eq!((report.taken, report.left_out), (2, 1));
        for finding in &report.findings {
            let said = words.finding(finding);
            assert!(said.contains("much"), "{said}");
            said_nothing(&said);
        }
    }
}

#[test]
fn what_is_opened_by_mistake_is_not_read_out() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("diary.txt");
    fs::File::create(&path).unwrap().write_all(format!("{SECRET} {AMOUNT}\n").repeat(200).as_bytes()).unwrap();
    let error = Log::open(&path, now()).unwrap_err();
    said_nothing(&error.to_string());
    words().iter().for_each(|words| said_nothing(&words.error(&error)));
    assert!(fs::read_to_string(&path).unwrap().starts_with(SECRET), "left as it was");
}
