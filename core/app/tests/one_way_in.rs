//! One way in: the same bytes make the same entries, whatever they are called and wherever they are read.
#![allow(clippy::unwrap_used, clippy::panic)] // a failed test says where

use std::io::Read;

use ebbstead_core::exchange::csv::{OffsetChange, Zone, table};
use ebbstead_core::exchange::detect::Format;
use ebbstead_core::exchange::{Finding, fhir};
use ebbstead_core::import::{About, Event, Options, Report, import};
use ebbstead_core::log::{Entry, EntryId, EntryKind, Source};
use ebbstead_core::store::Log;
use ebbstead_core::time::Moment;
use ebbstead_core::units::{Glucose, GlucoseUnit};
use ebbstead_core::wearer::Language;
use ebbstead_core::words::Words;
use ebbstead_core::{Error, Result, error::Refusal};

fn now() -> Moment {
    Moment::parse("2026-03-10T12:00:00+01:00").unwrap()
}

fn options() -> Options<'static> {
    Options::found(now(), GlucoseUnit::MgDl)
}

fn log() -> Log {
    Log::in_memory(now()).unwrap()
}

fn take(log: &mut Log, bytes: impl Read, name: &str) -> Report {
    import(log, bytes, name, &options()).unwrap()
}

/// What is in a log, but the imports themselves: identity, source and content.
fn held(log: &Log) -> Vec<(EntryId, Source, EntryKind)> {
    let all = log.current(Moment::parse("2001-01-01T00:00:00Z").unwrap(), now()).unwrap();
    let mut all: Vec<_> = all
        .into_iter()
        .filter(|entry| !matches!(entry.what, EntryKind::Import { .. }))
        .map(|entry| (entry.id, entry.source, entry.what))
        .collect();
    all.sort_by_key(|one| one.0);
    all
}

const READINGS: &str = "time;glucose mg/dL\n2026-03-01 03:05;104\n2026-03-01 03:10;low\n2026-03-01 03:15;99\n";

/// The same readings and a meter check as FHIR without a device, written by hand after HL7 FHIR R4, Observation (LOINC 99504-3 is glucose
/// in interstitial fluid by mass, 2339-0 in blood).
fn observation(code: &str, time: &str, value: &str) -> String {
    format!(
        r#"{{"resourceType":"Observation","status":"final","subject":{{"reference":"Patient/x"}},"effectiveDateTime":"{time}",
        "code":{{"coding":[{{"system":"http://loinc.org","code":"{code}"}}]}},
        "valueQuantity":{{"value":{value},"unit":"mg/dL","system":"http://unitsofmeasure.org","code":"mg/dL"}}}}"#
    )
    .replace('\n', "")
}

fn bundle(resources: &[String]) -> String {
    let entries: Vec<String> = resources.iter().map(|one| format!(r#"{{"resource":{one}}}"#)).collect();
    format!(r#"{{"resourceType":"Bundle","type":"collection","entry":[{}]}}"#, entries.join(","))
}

fn utf_16(text: &str) -> Vec<u8> {
    std::iter::once(0xfeff).chain(text.encode_utf16()).flat_map(u16::to_be_bytes).collect()
}

#[test]
fn the_same_readings_are_the_same_entries_from_every_format_and_are_one_sensors() {
    let mut first = log();
    assert_eq!(take(&mut first, READINGS.as_bytes(), "r.csv").taken, 3);
    let expected = held(&first);
    assert!(expected.iter().all(|(_, source, _)| source.as_str() == "sensor"), "{expected:?}");
    // Under another name, in UTF-16, as FHIR without a device, and as what the log itself writes.
    let fhir = bundle(&[
        observation("99504-3", "2026-03-01T03:05:00+01:00", "104"),
        observation("99504-3", "2026-03-01T03:10:00+01:00", r#"40,"comparator":"<""#),
        observation("99504-3", "2026-03-01T03:15:00+01:00", "99"),
    ]);
    let mut own = Vec::new();
    table::write(&first, &mut own, "t".as_ref(), &|_| String::new(), table::Which::Holding, (None, None)).unwrap();
    let mut carried = Vec::new();
    fhir::export(&first, &mut carried, "f".as_ref(), (None, now()), now()).unwrap();
    let cases = [
        (READINGS.as_bytes().to_vec(), "r.json", Format::Readings),
        (utf_16(READINGS), "r", Format::Readings),
        (fhir.as_bytes().to_vec(), "f.csv", Format::Fhir),
        (format!("\u{feff}{fhir}").into_bytes(), "marked", Format::Fhir),
        (utf_16(&fhir), "wide", Format::Fhir),
        (own, "t.json", Format::Table),
        (carried, "f", Format::Fhir),
    ];
    for (bytes, name, format) in cases {
        let mut other = log();
        let report = take(&mut other, bytes.as_slice(), name);
        assert_eq!((report.format, report.taken, report.left_out), (format, 3, 0), "{name}: {report:?}");
        assert_eq!(held(&other), expected, "{name}");
        // Merged, they are one sensor's: none of them stands beside another.
        let history = {
            first.merge(&other).unwrap();
            first.history(Moment::parse("2026-03-01T00:00:00+01:00").unwrap(), now()).unwrap()
        };
        assert_eq!((history.readings.len(), history.concurrent), (3, Vec::new()), "{name}");
        assert_eq!(take(&mut first, bytes.as_slice(), name).imported.unwrap().recorded.new, 0, "{name}");
    }
}

#[test]
fn a_name_of_the_wearers_goes_where_the_file_names_none_and_a_check_is_by_hand() {
    let with = Options { sensor: Some(Source::new("left arm").unwrap()), ..options() };
    let reading = observation("99504-3", "2026-03-01T03:05:00+01:00", "104");
    let named = observation("99504-3", "2026-03-01T03:10:00+01:00", "105")
        .replace(r#""status""#, r#""device":{"display":"sensor 7"},"status""#);
    let check = observation("2339-0", "2026-03-01T03:15:00+01:00", "110");
    let mut other = log();
    let fhir = bundle(&[reading, named, check]);
    let report = import(&mut other, fhir.as_bytes(), "f", &with).unwrap();
    assert_eq!(report.about, Some(About::Somebody("Patient/x".to_owned())));
    let sources: Vec<String> = held(&other).into_iter().map(|(_, source, _)| source.as_str().to_owned()).collect();
    assert_eq!(sources, ["left arm", "sensor 7", "by hand"]);
    // A row of the own table without a source, as a person adds it by hand, goes by the same rule.
    let mut own = Vec::new();
    table::write(&log(), &mut own, "t".as_ref(), &|_| String::new(), table::Which::Holding, (None, None)).unwrap();
    own.extend(b",,2026-03-01T02:20:00Z,sensor_reading,,101,,,,,,,,,,,,,,,\r\n,,2026-03-01T02:25:00Z,meter_check,,,,108,,,,,,,,,,,,,\r\n");
    import(&mut other, own.as_slice(), "t", &with).unwrap();
    let sources: Vec<String> = held(&other).into_iter().map(|(_, source, _)| source.as_str().to_owned()).collect();
    assert_eq!(sources, ["left arm", "sensor 7", "by hand", "left arm", "by hand"]);
}

#[test]
fn resources_one_a_line_are_read_as_a_bundle_is() {
    let all: Vec<String> =
        (10..50).map(|minute| observation("99504-3", &format!("2026-03-01T03:{minute}:00+01:00"), "104")).collect();
    let (mut one, mut other) = (log(), log());
    take(&mut one, bundle(&all).as_bytes(), "b");
    // NDJSON, "Newline Delimited JSON"; FHIR's Bulk Data Access writes it so.
    let lines = all.join("\n") + "\n";
    assert_eq!(take(&mut other, lines.as_bytes(), "n").taken, 40);
    assert_eq!(held(&one), held(&other));
    for (broken, fault) in [
        (lines.clone() + "x", fhir::ResourceFault::NotJson),
        (lines.clone() + "{", fhir::ResourceFault::NotJson),
        (lines + &bundle(&all), fhir::ResourceFault::NotABundle),
        (bundle(&all) + "{}", fhir::ResourceFault::NotJson),
        ("<?xml version=\"1.0\"?><Bundle/>".to_owned(), fhir::ResourceFault::NotJson),
        ("[{}]".to_owned(), fhir::ResourceFault::NotABundle),
    ] {
        let mut none = log();
        let refused = import(&mut none, broken.as_bytes(), "b.csv", &options()).unwrap_err();
        let is = |why: &Refusal| *why == Refusal::Bundle(fault.clone());
        assert!(matches!(&refused, Error::Import { why, .. } if is(why)), "{refused:?}");
        assert_eq!(none.span().unwrap(), None);
    }
}

#[test]
fn a_log_and_a_sealed_one_are_refused_with_what_opens_them() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("log.csv");
    drop(Log::open(&path, now()).unwrap());
    let refused = |bytes: &[u8]| match import(&mut log(), bytes, "x.csv", &options()) {
        Err(Error::Import { why, .. }) => why,
        other => panic!("{other:?}"),
    };
    assert_eq!(refused(&std::fs::read(&path).unwrap()), Refusal::IsALog);
    assert_eq!(refused(b"age-encryption.org/v1\n-> scrypt x 18\n"), Refusal::IsSealed);
}

#[test]
fn the_same_readings_with_times_that_differ_by_seconds_are_said_to_be_there_twice() {
    let file = |seconds: &str| {
        let row = |k: i64| {
            let at = now().plus_minutes(-600.0 + 5.0 * k as f64).clock();
            format!("2026-03-10 {at}:{seconds},{}\n", 100 + (k * 7) % 60)
        };
        format!("time,glucose mg/dL\n{}", (0..100).map(row).collect::<String>())
    };
    for (seconds, apart) in [("01", 100), ("37", 100), ("00", 0)] {
        let mut log = log();
        assert_eq!(take(&mut log, file("00").as_bytes(), "once.csv").moments_apart, 0);
        let again = take(&mut log, file(seconds).as_bytes(), "again.csv");
        assert_eq!(again.moments_apart, apart, "{seconds}");
        let said = again.lines(Words::new(Language::ENGLISH, GlucoseUnit::MgDl)).join("\n");
        assert_eq!(said.contains("came twice"), apart > 0, "{said}");
    }
}

#[test]
fn looking_writes_nothing_and_says_what_an_import_then_says() {
    let mut log = log();
    let note = EntryKind::MeterCheck { mg_dl: Glucose::from_mg_dl(110.0).unwrap() };
    let check = Entry::new(now().plus_minutes(-60.0), now(), Source::by_hand(), note).unwrap();
    log.record(&check).unwrap();
    let mut own = Vec::new();
    table::write(&log, &mut own, "t".as_ref(), &|_| String::new(), table::Which::Holding, (None, None)).unwrap();
    let changed = String::from_utf8(own).unwrap().replace(",110,6.11,", ",180,,");
    for (file, taken, left_out) in [(READINGS.replace("99", "x"), 2, 1), (changed, 0, 1)] {
        let before = held(&log);
        let looked = Options { dry_run: true, ..options() };
        let mut places = Vec::new();
        let mut note = |event: Event<'_>| {
            if let Event::Found(finding) = event {
                places.push(finding.place());
            }
        };
        let open = || ebbstead_core::import::File::open(file.as_bytes(), "x").unwrap();
        let looked = open().into_log(&mut log, &looked, &mut note).unwrap();
        assert_eq!((looked.taken, looked.left_out, looked.imported.is_none()), (taken, left_out, true), "{looked:?}");
        assert_eq!(places.len() as u64, looked.found, "each finding is reported as it is found");
        assert_eq!(held(&log), before);
        let done = open().into_log(&mut log, &options(), &mut |_| {}).unwrap();
        assert_eq!((done.taken, done.left_out), (looked.taken, looked.left_out));
        assert_eq!(done.findings, looked.findings);
        // Taken back, the log says what it said before.
        if let Some(imported) = done.imported {
            log.retract(imported.id, now()).unwrap();
        }
        assert_eq!(held(&log), before);
    }
}

#[test]
fn a_zone_given_as_changes_and_as_a_rule_is_one_zone() -> Result<()> {
    // Central European time went back on 2025-10-26 at 01:00 UTC.
    let night = "time,glucose\n2025-10-26 01:30,100\n2025-10-26 02:30,101\n2025-10-26 02:45,103\n2025-10-26 02:15,104\n2025-10-26 03:30,105\n";
    let at = |text: &str| Moment::parse(text).unwrap().unix_ms();
    let changes = [
        OffsetChange { from_unix_ms: at("2025-03-30T01:00:00Z"), offset_minutes: 120 },
        OffsetChange { from_unix_ms: at("2025-10-26T01:00:00Z"), offset_minutes: 60 },
    ];
    let mut log = log();
    let report = import(&mut log, night.as_bytes(), "n", &Options { zone: Zone::Changes(&changes), ..options() })?;
    assert!(report.findings.iter().all(Finding::is_taken), "{report:?}");
    let entries = log.current(Moment::parse("2025-10-25T00:00:00Z")?, Moment::parse("2025-10-27T00:00:00Z")?)?;
    let instants: Vec<i64> = entries.iter().map(|entry| entry.at.unix_ms()).collect();
    let expected = [
        "2025-10-25T23:30:00Z",
        "2025-10-26T00:30:00Z",
        "2025-10-26T00:45:00Z",
        "2025-10-26T01:15:00Z",
        "2025-10-26T02:30:00Z",
    ];
    assert_eq!(instants, expected.map(at));
    Ok(())
}
