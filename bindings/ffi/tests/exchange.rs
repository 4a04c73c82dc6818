//! What goes in and out through the facade.

#![allow(clippy::unwrap_used, clippy::panic)] // a test that cannot go on fails

use std::collections::HashMap;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, mpsc};

use ebbstead_core::log::Text;
use ebbstead_core::store::Log;
use ebbstead_ffi::{
    ApiError, Chapter, Due, EbbsteadCompanion, EntryKind, ImportAnswer, ImportOptions, Moment, NearbyDevice,
    NearbyKind, Occasion, OffsetChange, Question, ReadingAt, RecordAct, RecordPages, RecordPart, RecordScreen, Watcher,
    nearby_kind,
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

/// A session's start: 2 May 2024 10:15, one hour east.
const SESSION: [u8; 9] = [0xE8, 0x07, 5, 2, 10, 15, 0, 4, 0];
/// An answer: the records that were asked for were sent.
const ALL_SENT: [u8; 4] = [6, 0, 1, 1];

/// Another program that writes to the log until it is let go.
struct Writing {
    let_go: mpsc::Sender<()>,
    thread: std::thread::JoinHandle<()>,
}

impl Writing {
    fn begin(path: PathBuf) -> Self {
        let (begun, has_begun) = mpsc::channel();
        let (let_go, go_on) = mpsc::channel();
        let thread = std::thread::spawn(move || {
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
        Self { let_go, thread }
    }

    fn end(self) {
        self.let_go.send(()).unwrap();
        self.thread.join().unwrap();
    }
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
    let begun = receive(0x2AAA, &SESSION);
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
    assert_eq!(device.records_since_newest().unwrap(), [1, 1], "none was known when it came into reach");
    receive(0x2A52, &ALL_SENT);
    assert_eq!(device.records_since_newest().unwrap(), [1, 3, 1, 5, 0], "from the fifth minute on");
    // What another sensor read since leaves this one's gap as it is.
    let later = [ReadingAt { at: NOW, mg_dl: 120.0 }];
    assert_eq!(companion.log().unwrap().record_readings("another", later.to_vec(), NOW).unwrap().new, 1);
    assert_eq!(device.records_since_newest().unwrap(), [1, 3, 1, 5, 0]);
    // Out of reach until the 105th minute: it sends that reading before it is asked, and the gap stays asked for.
    receive(0x2AAA, &SESSION);
    assert_eq!(receive(0x2AA7, &[0x06, 0x00, 0x78, 0x00, 0x69, 0x00]).recorded.new, 1);
    assert_eq!(device.records_since_newest().unwrap(), [1, 3, 1, 5, 0]);
    receive(0x2A52, &ALL_SENT);
    assert_eq!(device.records_since_newest().unwrap(), [1, 3, 1, 0x69, 0]);
    companion.close_log().unwrap();
    assert!(matches!(device.receive(0x2AA7, reading.to_vec(), NOW), Err(ApiError::Closed { .. })));
}

/// What a sensor sends comes once.
#[test]
fn what_a_busy_log_does_not_take_is_stored_in_order_with_the_next_call() {
    for by_a_step in [false, true] {
        let place = tempfile::tempdir().unwrap();
        let companion = opened(&place);
        let device = companion.exchange().unwrap().device("sensor 7", offsets()).unwrap();
        let reading = |minutes: u8| device.receive(0x2AA7, vec![0x06, 0x00, 0x78, 0x00, minutes, 0x00], NOW).unwrap();
        device.receive(0x2AAA, SESSION.to_vec(), NOW).unwrap();
        let writing = Writing::begin(place.path().join("log.ebb"));
        let refused = reading(100);
        assert_eq!((refused.recorded.new, refused.unkept, refused.remarks.len()), (0, 1, 0));
        let soon = companion.alerts().unwrap().step(None, NOW, None).unwrap().soon.unwrap();
        assert_eq!(soon.unix_ms - NOW.unix_ms, 15_000);
        writing.end();
        if by_a_step {
            let step = companion.alerts().unwrap().step(None, NOW, None).unwrap();
            assert_eq!((step.standing.as_deref(), step.soon), (Some("120 mg/dL · 11:55"), None));
        }
        let next = reading(105);
        assert_eq!((next.recorded.new, next.unkept), (if by_a_step { 1 } else { 2 }, 0));
        let from = Moment { unix_ms: NOW.unix_ms - 600_000, ..NOW };
        let listed = companion.log().unwrap().list(from, NOW, false, true).unwrap();
        let readings = listed.iter().filter(|one| matches!(one.entry.what, EntryKind::SensorReading { .. }));
        assert_eq!(readings.count(), 2);
    }
}

/// Asks the device when the log changed.
struct CallsBack(Mutex<Option<Arc<NearbyDevice>>>, mpsc::Sender<Vec<u8>>);

impl Watcher for CallsBack {
    fn log_changed(&self) -> Result<(), ApiError> {
        let device = self.0.lock().unwrap().clone().unwrap();
        self.1.send(device.records_since_newest()?).unwrap();
        Ok(())
    }

    fn settings_changed(&self) -> Result<(), ApiError> {
        Ok(())
    }

    fn prompt_due(&self, _: Due) -> Result<(), ApiError> {
        Ok(())
    }
}

#[test]
fn a_watcher_may_ask_the_device_back() {
    let place = tempfile::tempdir().unwrap();
    let companion = opened(&place);
    let device = companion.exchange().unwrap().device("meter 2", offsets()).unwrap();
    let (asked, was_asked) = mpsc::channel();
    companion.watch(Some(Arc::new(CallsBack(Mutex::new(Some(Arc::clone(&device))), asked)))).unwrap();
    // 2 May 2024 11:00, 6.0 mmol/L.
    let measured = vec![0x06, 1, 0, 0xE8, 0x07, 5, 2, 11, 0, 0, 0x3C, 0xC0, 0x11];
    let receiving = std::thread::spawn(move || device.receive(0x2A18, measured, NOW).unwrap());
    assert_eq!(was_asked.recv_timeout(std::time::Duration::from_secs(20)).unwrap(), [1, 1]);
    assert_eq!(receiving.join().unwrap().recorded.new, 1);
}

#[test]
fn a_meter_and_a_sensor_are_told_apart_by_their_services() {
    assert_eq!(nearby_kind(vec![0x1808]), Some(NearbyKind::Meter));
    assert_eq!(nearby_kind(vec![0x1808, 0x181F]), Some(NearbyKind::Sensor));
    assert_eq!(nearby_kind(vec![0x180F]), None);
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

const SECRET: &str = "correct horse battery";

/// The page where a log goes out and comes in; its folder for files on their way lies beside the log.
fn copies(companion: &EbbsteadCompanion, place: &tempfile::TempDir) -> Arc<RecordPages> {
    let pages = companion.record_pages(place.path().join("passing").to_str().unwrap()).unwrap();
    pages.turn_to(Some(Chapter::Copies), HashMap::new(), NOW).unwrap();
    pages
}

fn act(pages: &RecordPages, act: RecordAct, fields: &[(&str, &str)], now: Moment) -> RecordScreen {
    let filled = fields.iter().map(|(id, value)| ((*id).to_owned(), (*value).to_owned())).collect();
    pages.act(act, filled, now).unwrap()
}

fn offers(screen: &RecordScreen, wanted: RecordAct) -> bool {
    screen.parts.iter().any(|part| matches!(part, RecordPart::Press { act, .. } if *act == wanted))
}

fn said(screen: &RecordScreen) -> Vec<&str> {
    let parts = screen.parts.iter();
    parts.filter_map(|part| if let RecordPart::Said { text } = part { Some(text.as_str()) } else { None }).collect()
}

/// What stands in the fields that something is said against.
fn against(screen: &RecordScreen) -> Vec<(&str, &str)> {
    let asked = screen.parts.iter();
    let asked = asked.filter_map(|part| if let RecordPart::Asked { field } = part { Some(field) } else { None });
    let refused = asked.filter(|field| field.advice.is_some());
    refused.map(|field| (field.id.as_str(), field.value.as_str())).collect()
}

fn sealed(companion: &EbbsteadCompanion, place: &tempfile::TempDir) -> String {
    let twice = [("passphrase", SECRET), ("passphrase_again", SECRET)];
    let made = act(&copies(companion, place), RecordAct::Seal, &twice, NOW);
    assert!(!format!("{made:?}").contains("horse"), "a secret never stays");
    let document = made.document.unwrap();
    assert!(document.name == "ebbstead-2024-05-02.age" && !document.said.is_empty(), "{document:?}");
    document.path
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
    let out = copies(&mine, &here);

    // Once more into the same place: what was there is replaced.
    act(&out, RecordAct::WriteTable, &[], NOW);
    let table = act(&out, RecordAct::WriteTable, &[], NOW);
    assert!(said(&table).is_empty(), "said once it is where the wearer wants it");
    let table = table.document.unwrap();
    assert!(table.said.contains("1 other entry"), "{table:?}");
    assert!(std::fs::read_to_string(&table.path).unwrap().contains("on the first phone"));
    assert_eq!(said(&out.say(&table.said, NOW).unwrap()), [&table.said]);
    let bundle = act(&out, RecordAct::WriteBundle, &[], NOW).document.unwrap();
    assert_eq!(bundle.media_type, "application/fhir+json");
    assert!(serde_json::from_slice::<serde_json::Value>(&std::fs::read(&bundle.path).unwrap()).is_ok());

    // What this log wrote comes in elsewhere, whatever the file is called.
    let fresh = tempfile::tempdir().unwrap();
    let third = opened(&fresh);
    let bytes = |path: &str| std::fs::read(path).unwrap();
    let read = third.log().unwrap().import_file("picked", bytes(&table.path), options(), NOW).unwrap();
    let ImportAnswer::Read { report } = read else { panic!("{read:?}") };
    assert_eq!((report.taken, report.recorded.unwrap().new), (1, 1));
    let read = third.log().unwrap().import_file("picked", bytes(&bundle.path), options(), NOW).unwrap();
    assert!(matches!(read, ImportAnswer::Read { ref report } if report.taken == 1), "{read:?}");
    third.close_log().unwrap();
    let log = std::fs::read(fresh.path().join("log.ebb")).unwrap();
    let refused = mine.log().unwrap().import_file("other", log, options(), NOW).unwrap();
    assert!(matches!(refused, ImportAnswer::Refused { ref why, .. } if why.contains("merge")), "{refused:?}");

    for (one, other, field) in
        [("short", "short", "passphrase"), ("", "", "passphrase"), (SECRET, "other", "passphrase_again")]
    {
        let refused = act(&out, RecordAct::Seal, &[("passphrase", one), ("passphrase_again", other)], NOW);
        assert!(against(&refused) == [(field, "")] && refused.document.is_none(), "{refused:?}");
    }
    let copy = sealed(&mine, &here);

    let other = opened(&there);
    let theirs = copies(&other, &there);
    let met = theirs.chosen(&copy, "copy.age", NOW).unwrap();
    assert!(
        offers(&met, RecordAct::LookIntoOther) && !offers(&met, RecordAct::Merge) && !offers(&met, RecordAct::Seal)
    );
    for wrong in ["another passphrase", ""] {
        let refused = act(&theirs, RecordAct::LookIntoOther, &[("passphrase_of_copy", wrong)], NOW);
        assert_eq!(against(&refused), [("passphrase_of_copy", "")]);
        assert!(!format!("{refused:?}").contains("another") && !offers(&refused, RecordAct::Merge));
    }
    let secret = [("passphrase_of_copy", SECRET)];
    let before = Moment { unix_ms: NOW.unix_ms - 86_400_000, ..NOW };
    let ahead = act(&theirs, RecordAct::LookIntoOther, &secret, before);
    assert!(said(&ahead).len() == 1 && offers(&ahead, RecordAct::MergeAnyway), "recorded tomorrow: {ahead:?}");
    let refused = act(&theirs, RecordAct::Merge, &secret, before);
    assert_eq!(said(&refused).len(), 2, "refused, with what speaks against it: {refused:?}");
    assert!(other.log().unwrap().list(NOW, NOW, false, false).unwrap().is_empty());
    let met = act(&theirs, RecordAct::LookIntoOther, &secret, NOW);
    // It stands in its field, so that it need not be typed again; what stays has it not.
    assert!(format!("{met:?}").contains(SECRET) && !format!("{:?}", theirs.show(NOW)).contains(SECRET));
    assert!(offers(&met, RecordAct::Merge) && format!("{met:?}").contains("This log is empty"), "{met:?}");
    let taken = act(&theirs, RecordAct::Merge, &secret, NOW);
    assert_eq!(said(&taken), ["Brought back: 1 entry, with your settings and what was learnt."]);
    assert!(!std::path::Path::new(&copy).exists(), "nothing of it stays");
    // Settings come with what is restored.
    assert!((other.settings().unwrap().wearer().unwrap().low_line_mg_dl - 80.0).abs() < 1e-9);

    note(&other, "on the second phone");
    other.close_log().unwrap();
    let path = there.path().join("log.ebb").to_str().unwrap().to_owned();
    let copy = here.path().join("chosen").to_str().unwrap().to_owned();
    std::fs::copy(&path, &copy).unwrap();
    // No passphrase is asked for what is not sealed, and it is looked into at once.
    let met = out.chosen(&copy, "phone.ebb", NOW).unwrap();
    assert!(against(&met).is_empty() && !offers(&met, RecordAct::LookIntoOther), "{met:?}");
    assert!(offers(&met, RecordAct::Merge) || offers(&met, RecordAct::MergeAnyway));
    assert_eq!(said(&act(&out, RecordAct::MergeAnyway, &[], NOW)).len(), 1);
    assert_eq!(mine.log().unwrap().list(NOW, NOW, false, false).unwrap().len(), 2);
    std::fs::copy(&path, &copy).unwrap();
    let nothing = out.chosen(&copy, "phone.ebb", NOW).unwrap();
    assert!(!offers(&nothing, RecordAct::Merge) && !offers(&nothing, RecordAct::MergeAnyway), "{nothing:?}");
    let left = act(&out, RecordAct::LeaveOther, &[], NOW);
    assert!(!std::path::Path::new(&copy).exists() && offers(&left, RecordAct::Seal));
    // What is no log is said, and let go of.
    std::fs::write(&copy, "milk, bread").unwrap();
    let none = out.chosen(&copy, "notes.txt", NOW).unwrap();
    assert!(
        said(&none).len() == 1 && !std::path::Path::new(&copy).exists() && offers(&none, RecordAct::Seal),
        "{none:?}"
    );
}

#[test]
fn a_prompt_does_not_wait_for_another_log() {
    let (here, there) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let companion = opened(&here);
    let other = opened(&there);
    other.log().unwrap().record(EntryKind::Note { text: "kept".to_owned() }, NOW, NOW).unwrap();
    other.close_log().unwrap();
    let writing = Writing::begin(here.path().join("log.ebb"));
    let pages = copies(&companion, &here);
    let path = there.path().join("log.ebb").to_str().unwrap().to_owned();
    let taking = std::thread::spawn(move || {
        pages.chosen(&path, "phone.ebb", NOW)?;
        pages.act(RecordAct::Merge, HashMap::new(), NOW)
    });
    let question = Question { now: NOW, occasion: Occasion::Look, feels: None, meter_mg_dl: None, meter_beyond: None };
    for _ in 0..20 {
        companion.check().unwrap().ask(question).unwrap();
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    assert!(!taking.is_finished(), "nothing held the file");
    writing.end();
    assert_eq!(said(&taking.join().unwrap().unwrap()).len(), 1);
    assert_eq!(companion.log().unwrap().list(NOW, NOW, false, false).unwrap().len(), 2, "with the import's own");
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
