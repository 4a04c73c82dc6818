//! What goes in and out through the facade.

#![allow(clippy::unwrap_used, clippy::panic)] // a test that cannot go on fails

use std::sync::{Arc, mpsc};

use ebbstead_core::log::Text;
use ebbstead_core::store::Log;
use ebbstead_ffi::{
    ApiError, EbbsteadCompanion, EntryKind, ImportAnswer, ImportOptions, Moment, Occasion, OffsetChange, OtherLog,
    Question, ReadingAt,
};

/// 2 May 2024, noon, one hour east of UTC.
const NOW: Moment = Moment { unix_ms: 1_714_647_600_000, offset_minutes: 60 };

fn opened(place: &tempfile::TempDir) -> Arc<EbbsteadCompanion> {
    let path = place.path().join("log.ebb");
    EbbsteadCompanion::open(path.to_str().unwrap(), "en", NOW).unwrap()
}

fn options() -> ImportOptions {
    ImportOptions {
        offsets: offsets(),
        unit: None,
        time_column: None,
        glucose_column: None,
        time_format: None,
        dry_run: false,
    }
}

fn offsets() -> Vec<OffsetChange> {
    vec![OffsetChange { from_unix_ms: 0, offset_minutes: 60 }]
}

#[test]
fn a_sensor_nearby_is_received() {
    let place = tempfile::tempdir().unwrap();
    let companion = opened(&place);
    let device = companion.exchange().unwrap().device("sensor 7", offsets()).unwrap();
    let receive = |characteristic, octets: &[u8]| device.receive(characteristic, octets.to_vec(), NOW).unwrap();
    // 120 mg/dL five minutes on, before anybody knows when the session began.
    let reading = [0x06, 0x00, 0x78, 0x00, 0x05, 0x00];
    let early = receive(0x2AA7, &reading);
    assert_eq!((early.recorded.new, early.waiting), (0, 1));
    // 2 May 2024 10:15, one hour east.
    let begun = receive(0x2AAA, &[0xE8, 0x07, 5, 2, 10, 15, 0, 4, 0]);
    assert_eq!((begun.recorded.new, begun.waiting), (1, 0));
    assert_eq!(begun.session_began.unwrap().unix_ms, NOW.unix_ms - 105 * 60_000);
    assert_eq!(receive(0x2AA7, &reading).recorded.known, 1);
    let bad = receive(0x2AA7, &[0x06, 0x00]);
    assert!(bad.remarks.len() == 1 && bad.recorded.new == 0, "{bad:?}");
    assert_eq!(receive(0x1234, &[1, 2, 3]).recorded.new, 0, "what is none of these services' is passed over");
    let listed = companion.log().unwrap().list(begun.session_began.unwrap(), NOW, false, true).unwrap();
    assert_eq!(
        listed.iter().map(|one| one.entry.what.clone()).collect::<Vec<_>>(),
        [EntryKind::SensorReading { mg_dl: 120.0 }]
    );
    assert_eq!(listed[0].clock, "10:20");
    assert_eq!(device.every_record().unwrap(), [1, 1]);
    assert_eq!(device.records_since_newest().unwrap(), [1, 3, 1, 5, 0], "from the fifth minute on");
    // What another sensor read since leaves this one's gap as it is.
    let later = [ReadingAt { at: NOW, mg_dl: 120.0 }];
    assert_eq!(companion.log().unwrap().record_readings("another", later.to_vec(), NOW).unwrap().new, 1);
    assert_eq!(device.records_since_newest().unwrap(), [1, 3, 1, 5, 0]);
    companion.close_log().unwrap();
    assert!(matches!(device.receive(0x2AA7, reading.to_vec(), NOW), Err(ApiError::Closed { .. })));
}

#[test]
fn a_bundle_is_looked_at_imported_and_taken_back_or_refused() {
    let place = tempfile::tempdir().unwrap();
    let companion = opened(&place);
    let log = companion.log().unwrap();
    let bundle = r#"{"resourceType":"Bundle","type":"collection","entry":[{"resource":{"resourceType":"Observation",
        "status":"final","subject":{"reference":"Patient/1"},"effectiveDateTime":"2024-05-02T10:00:00+01:00",
        "code":{"coding":[{"system":"http://loinc.org","code":"99504-3"}]},
        "valueQuantity":{"value":112,"unit":"mg/dL","system":"http://unitsofmeasure.org","code":"mg/dL"}}}]}"#;
    let import = |text: &str, dry_run: bool| {
        log.import_file("week.json", text.into(), ImportOptions { dry_run, ..options() }, NOW).unwrap()
    };
    let ImportAnswer::Read { report } = import(bundle, true) else { panic!("refused") };
    assert_eq!((report.taken, report.id), (1, None), "{:?}", report.findings);
    let ImportAnswer::Read { report } = import(bundle, false) else { panic!("refused") };
    assert_eq!(report.recorded.map(|done| done.new), Some(1));
    assert!(report.lines[0].contains('1'), "{:?}", report.lines);
    assert_eq!(report.time_column, None, "a bundle has no columns");
    let count = || log.list(Moment { unix_ms: NOW.unix_ms - 86_400_000, ..NOW }, NOW, false, true).unwrap().len();
    let with_import = count();
    log.retract(&report.id.unwrap(), NOW).unwrap();
    assert!(count() < with_import);
    let refused = import("{\"no\": \"bundle\"}", false);
    let ImportAnswer::Refused { ref why, ref text, .. } = refused else { panic!("{refused:?}") };
    assert!(text.contains("week.json") && text.contains(why), "{text}");
}

#[test]
fn a_log_is_written_sealed_and_merged_on_another_phone() {
    let (here, there) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let mine = opened(&here);
    let note = |companion: &EbbsteadCompanion, text: &str| {
        companion.log().unwrap().record(EntryKind::Note { text: text.to_owned() }, NOW, NOW).unwrap();
    };
    note(&mine, "on the first phone");
    let mut wearer = mine.settings().unwrap().wearer().unwrap();
    wearer.low_line_mg_dl = 80.0;
    mine.settings().unwrap().set_wearer(wearer, NOW).unwrap();
    let exchange = mine.exchange().unwrap();
    let place = |name: &str| here.path().join(name).to_str().unwrap().to_owned();

    let table = exchange.export_table(&place("log.csv"), false, None, None).unwrap();
    assert!(table[0].contains("1 other entry"), "{table:?}");
    assert!(std::fs::read_to_string(place("log.csv")).unwrap().contains("on the first phone"));
    assert!(matches!(exchange.export_table(&place("log.csv"), false, None, None), Err(ApiError::Failed { .. })));
    exchange.export_table(&place("log.csv"), true, None, None).unwrap();
    exchange.export_bundle(&place("log.json"), false, Some(14), NOW).unwrap();
    let bundle = std::fs::read(place("log.json")).unwrap();
    assert!(serde_json::from_slice::<serde_json::Value>(&bundle).is_ok());

    // What this log wrote comes in elsewhere, whatever the file is called.
    let fresh = tempfile::tempdir().unwrap();
    let third = opened(&fresh);
    let bytes = |file: &str| std::fs::read(place(file)).unwrap();
    let read = third.log().unwrap().import_file("picked", bytes("log.csv"), options(), NOW).unwrap();
    let ImportAnswer::Read { report } = read else { panic!("{read:?}") };
    assert_eq!((report.taken, report.recorded.unwrap().new), (1, 1));
    let read = third.log().unwrap().import_file("picked", bytes("log.json"), options(), NOW).unwrap();
    assert!(matches!(read, ImportAnswer::Read { ref report } if report.taken == 1), "{read:?}");
    third.close_log().unwrap();
    let log = std::fs::read(fresh.path().join("log.ebb")).unwrap();
    let refused = mine.log().unwrap().import_file("other", log, options(), NOW).unwrap();
    assert!(matches!(refused, ImportAnswer::Refused { ref why, .. } if why.contains("merge")), "{refused:?}");

    let words = "correct horse battery";
    let short = exchange.seal(&place("copy.sealed"), false, "short".to_owned(), NOW).unwrap_err();
    assert!(matches!(&short, ApiError::InvalidInput { field, .. } if field == "passphrase"), "{short:?}");
    exchange.seal(&place("copy.sealed"), false, words.to_owned(), NOW).unwrap();
    let sealed = |passphrase: &str| OtherLog::Sealed { path: place("copy.sealed"), passphrase: passphrase.to_owned() };

    let other = opened(&there);
    let theirs = other.exchange().unwrap();
    let wrong = theirs.preview_merge(sealed("another passphrase"), NOW).unwrap_err();
    assert!(matches!(&wrong, ApiError::InvalidInput { field, .. } if field == "passphrase"), "{wrong:?}");
    assert!(!format!("{wrong:?}").contains("another"));
    let before = Moment { unix_ms: NOW.unix_ms - 86_400_000, ..NOW };
    let ahead = theirs.preview_merge(sealed(words), before).unwrap();
    assert!(ahead.restores && ahead.warnings.len() == 1, "recorded tomorrow: {ahead:?}");
    let refused = theirs.merge(sealed(words), false, before).unwrap_err();
    assert!(matches!(&refused, ApiError::InvalidInput { field, .. } if field == "other log"), "{refused:?}");
    assert!(theirs.preview_merge(sealed(words), NOW).unwrap().restores);
    let taken = theirs.merge(sealed(words), false, NOW).unwrap();
    assert_eq!(taken.recorded.new, 1);
    assert_eq!(taken.messages, ["Brought back: 1 entry, with your settings and what was learnt."]);
    // Settings come with what is restored.
    assert!((other.settings().unwrap().wearer().unwrap().low_line_mg_dl - 80.0).abs() < 1e-9);

    note(&other, "on the second phone");
    other.close_log().unwrap();
    let open = || OtherLog::Open { path: there.path().join("log.ebb").to_str().unwrap().to_owned() };
    let preview = exchange.preview_merge(open(), NOW).unwrap();
    assert!(!preview.changes_nothing && !preview.lines.is_empty() && !preview.restores, "{preview:?}");
    assert_eq!(exchange.merge(open(), false, NOW).unwrap().recorded.new, 1);
    assert!(exchange.preview_merge(open(), NOW).unwrap().changes_nothing);
}

#[test]
fn a_prompt_does_not_wait_for_another_log() {
    let (here, there) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let companion = opened(&here);
    let other = opened(&there);
    other.log().unwrap().record(EntryKind::Note { text: "kept".to_owned() }, NOW, NOW).unwrap();
    other.close_log().unwrap();
    let (begun, has_begun) = mpsc::channel();
    let (let_go, go_on) = mpsc::channel();
    let path = here.path().join("log.ebb");
    let holding = std::thread::spawn(move || {
        let now = ebbstead_core::time::Moment::new(NOW.unix_ms, NOW.offset_minutes).unwrap();
        // An import that reports nothing until it is let, and holds the file meanwhile.
        let hesitant = std::iter::from_fn(move || {
            begun.send(()).unwrap();
            go_on.recv().unwrap();
            None
        });
        Log::open(path, now).unwrap().import(Text::new("slow").unwrap(), hesitant, now).unwrap();
    });
    has_begun.recv().unwrap();
    let exchange = companion.exchange().unwrap();
    let path = there.path().join("log.ebb").to_str().unwrap().to_owned();
    let taking = std::thread::spawn(move || {
        exchange.preview_merge(OtherLog::Open { path: path.clone() }, NOW)?;
        exchange.merge(OtherLog::Open { path }, false, NOW)
    });
    let question = Question { now: NOW, occasion: Occasion::Look, feels: None, meter_mg_dl: None, meter_beyond: None };
    for _ in 0..20 {
        companion.check().unwrap().ask(question).unwrap();
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    assert!(!taking.is_finished(), "nothing held the file");
    let_go.send(()).unwrap();
    holding.join().unwrap();
    assert_eq!(taking.join().unwrap().unwrap().recorded.new, 1);
}

#[test]
fn what_can_be_read_of_a_damaged_log_is_saved() {
    let place = tempfile::tempdir().unwrap();
    let companion = opened(&place);
    companion.log().unwrap().record(EntryKind::Note { text: "kept".to_owned() }, NOW, NOW).unwrap();
    companion.close_log().unwrap();
    drop(companion);
    let path = |name: &str| place.path().join(name).to_str().unwrap().to_owned();
    let lines = ebbstead_ffi::recover_log(&path("log.ebb"), &path("saved.ebb"), "en", NOW).unwrap();
    assert!(!lines.is_empty());
    let saved = EbbsteadCompanion::open(&path("saved.ebb"), "en", NOW).unwrap();
    assert_eq!(saved.log().unwrap().list(NOW, NOW, false, false).unwrap().len(), 1);
    std::fs::write(path("letter"), "a letter, not a log").unwrap();
    let refused = ebbstead_ffi::recover_log(&path("letter"), &path("none.ebb"), "de", NOW).unwrap_err();
    assert!(matches!(refused, ApiError::Damaged { .. }), "{refused:?}");
    assert!(!std::path::Path::new(&path("none.ebb")).exists());
}
