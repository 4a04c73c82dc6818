//! What the facade promises of every call.

#![allow(clippy::unwrap_used, clippy::panic)] // a test that cannot go on fails

use std::cell::Cell;
use std::collections::HashMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};

use ebbstead_ffi::{
    ApiError, Beyond, Chapter, Due, EbbsteadCompanion, EntryKind, ImportAnswer, ImportOptions, InsulinKind, LogState,
    LogTap, Moment, Occasion, OffsetChange, PromptPart, PromptState, PromptTap, Purpose, Question, ReadingAt,
    RecordAct, RecordPart, RecordScreen, Verdict, Watcher,
};

const NOW: Moment = Moment { unix_ms: 1_772_359_200_000, offset_minutes: 60 };

fn later(minutes: i64) -> Moment {
    Moment { unix_ms: NOW.unix_ms + minutes * 60_000, ..NOW }
}

struct Place(tempfile::TempDir);

impl Place {
    fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    fn open(&self) -> Arc<EbbsteadCompanion> {
        let path = self.0.path().join("log.ebb");
        EbbsteadCompanion::open(path.to_str().unwrap(), "en", NOW).unwrap()
    }
}

fn note(text: &str) -> EntryKind {
    EntryKind::Note { text: text.to_owned() }
}

fn count(companion: &EbbsteadCompanion) -> usize {
    companion.log().unwrap().list(later(-600), NOW, false, true).unwrap().len()
}

#[test]
fn what_is_closed_says_so_and_can_be_opened_again() {
    let place = Place::new();
    let companion = place.open();
    let log = companion.log().unwrap();
    log.record(note("kept"), NOW, NOW).unwrap();
    companion.close_log().unwrap();
    companion.close_log().unwrap();
    assert!(matches!(log.list(NOW, NOW, false, false), Err(ApiError::Closed { .. })));
    assert!(matches!(companion.tick(NOW), Err(ApiError::Closed { .. })));
    assert!(matches!(companion.watch(None), Err(ApiError::Closed { .. })));
    assert!(companion.log().is_err() && companion.due().is_err());
    assert_eq!(count(&place.open()), 1);
}

/// A draft is for whoever asks for it by its tag, and says on everything that it is one. Spanish is one until it was read.
#[test]
fn a_draft_is_not_offered_and_says_everywhere_what_it_is() {
    let draft = "borrador, sin revisar";
    let offered = ebbstead_ffi::languages().unwrap();
    let tags: Vec<&str> = offered.iter().map(|one| one.tag.as_str()).collect();
    assert_eq!((tags.as_slice(), offered[1].name.as_str()), (["en", "de"].as_slice(), "Deutsch"));

    let place = Place::new();
    let path = place.0.path().join("log.ebb");
    let companion = EbbsteadCompanion::open(path.to_str().unwrap(), "es", NOW).unwrap();
    assert_eq!(companion.words().unwrap().draft().unwrap().as_deref(), Some(draft));
    let settings = companion.settings().unwrap();
    let choices = |form: &ebbstead_ffi::Form| {
        let field = form.fields.iter().find(|field| field.id == "language").unwrap();
        let ebbstead_ffi::FieldTakes::Choice { options, .. } = &field.takes else { panic!("{field:?}") };
        options.iter().map(|option| option.code.clone()).collect::<Vec<_>>()
    };
    assert_eq!(choices(&settings.form(HashMap::new()).unwrap()), ["en", "de", "es"], "the one that was asked for");
    settings.keep(HashMap::from([("language".to_owned(), "en".to_owned())]), NOW).unwrap();
    let english = settings.form(HashMap::new()).unwrap();
    assert_eq!((choices(&english), english.heading.as_str()), (vec!["en".into(), "de".into()], "Settings"));
    // Nor is it taken from a form that does not offer it.
    let filled = HashMap::from([("language".to_owned(), "es".to_owned())]);
    settings.keep(filled, NOW).unwrap();
    assert_eq!(settings.wearer().unwrap().language, "en");
    assert_eq!(companion.words().unwrap().draft().unwrap(), None);

    let spanish = ebbstead_ffi::Wearer { language: "es".to_owned(), ..settings.wearer().unwrap() };
    settings.set_wearer(spanish, NOW).unwrap();
    let form = settings.form(HashMap::new()).unwrap();
    assert_eq!(choices(&form), ["en", "de", "es"]);
    let readings = (0..30).map(|step| ReadingAt { at: later(-5 * step), mg_dl: 104.0 }).collect();
    companion.log().unwrap().record_readings("sensor", readings, NOW).unwrap();
    let question = Question { now: NOW, occasion: Occasion::Look, feels: None, meter_mg_dl: None, meter_beyond: None };
    let said = companion.check().unwrap().ask(question).unwrap().said;
    let review = companion.review().unwrap();
    let options =
        ebbstead_ffi::ReviewOptions { days: 14, aims: ebbstead_ffi::Aims::Adult, without_compression_lows: false };
    let page = review.page(options, NOW).unwrap();
    let report = review.html(options, NOW).unwrap();
    assert_eq!(report.matches(draft).count(), 3, "in its title, over it and at its end");
    let before = companion.before().unwrap().sleep(NOW, None, None).unwrap();
    let caution = companion.words().unwrap().label(ebbstead_ffi::Label::NoMedicalDevice).unwrap();
    for text in [form.heading, said.sentence, page.heading, before.heading, settings.help().unwrap().heading, caution] {
        assert!(text.ends_with(&format!(" ({draft})")), "{text}");
    }
}

/// Until something is set, everything is in the language that the phone asked for, what the log words by its settings included.
#[test]
fn a_log_without_settings_speaks_one_language() {
    let texts = |companion: &EbbsteadCompanion| {
        let readings = (0..30).map(|step| ReadingAt { at: later(-5 * step), mg_dl: 60.0 + step as f64 }).collect();
        companion.log().unwrap().record_readings("sensor", readings, NOW).unwrap();
        let screens = companion.prompt_screens().unwrap();
        let mut texts = Vec::new();
        // The second time after the log has news, which once changed the language.
        for minutes in [0, 1] {
            let now = later(minutes);
            texts.push(format!("{:?}", screens.tapped(PromptTap::Look, PromptState::default(), now).unwrap()));
            companion.tick(now).unwrap();
        }
        texts.push(format!("{:?}", companion.settings().unwrap().form(HashMap::new()).unwrap()));
        texts.push(format!("{:?}", companion.alerts().unwrap().every_answer().unwrap()));
        let log = companion.log_screens(true).unwrap();
        texts.push(format!("{:?}", log.tapped(LogTap::Add, HashMap::new(), LogState::default(), NOW).unwrap().form));
        texts.push(format!("{:?}", companion.first_screens(true).unwrap().step(1, HashMap::new()).unwrap()));
        texts
    };
    let (unset, set) = (Place::new(), Place::new());
    let open =
        |place: &Place| EbbsteadCompanion::open(place.0.path().join("log.ebb").to_str().unwrap(), "de", NOW).unwrap();
    let (new, german) = (open(&unset), open(&set));
    let wearer = german.settings().unwrap().wearer().unwrap();
    assert_eq!(wearer.language, "de");
    german.settings().unwrap().set_wearer(wearer, NOW).unwrap();
    assert!(!new.settings().unwrap().are_set().unwrap() && german.settings().unwrap().are_set().unwrap());
    for (new, german) in texts(&new).into_iter().zip(texts(&german)) {
        assert_eq!(new, german);
    }
}

/// Another build may have words that this one lacks: what it set is spoken in English here, and stays set.
#[test]
fn a_language_of_another_build_stays_in_the_log() {
    let place = Place::new();
    let companion = place.open();
    let path = place.0.path().join("log.ebb");
    let french = ebbstead_core::wearer::Wearer {
        language: ebbstead_core::wearer::Language::parse("fr").unwrap(),
        ..Default::default()
    };
    let now = ebbstead_core::time::Moment::parse("2026-03-01T11:00:00+01:00").unwrap();
    ebbstead_core::store::Log::open(&path, now).unwrap().set_wearer(&french, now).unwrap();

    companion.tick(NOW).unwrap();
    let settings = companion.settings().unwrap();
    assert_eq!(companion.words().unwrap().label(ebbstead_ffi::Label::ScreenNow).unwrap(), "Now");
    assert_eq!(settings.help().unwrap().heading, "Get help");
    let form = settings.form(HashMap::new()).unwrap();
    assert_eq!(form.fields.iter().find(|field| field.id == "language").unwrap().value, "fr");
    settings.keep(HashMap::from([("unit".to_owned(), "mmol_l".to_owned())]), NOW).unwrap();
    let wearer = settings.wearer().unwrap();
    assert_eq!((wearer.language.as_str(), wearer.unit), ("fr", ebbstead_ffi::GlucoseUnit::MmolL));
    settings.set_wearer(ebbstead_ffi::Wearer { low_line_mg_dl: 75.0, ..wearer.clone() }, NOW).unwrap();
    assert_eq!(settings.wearer().unwrap().language, "fr");
    // What has no words cannot be chosen, nor what is no tag.
    for other in ["it", "english", "e"] {
        let refused = settings.set_wearer(ebbstead_ffi::Wearer { language: other.to_owned(), ..wearer.clone() }, NOW);
        assert!(matches!(refused, Err(ApiError::InvalidInput { field, .. }) if field == "language"), "{other}");
    }
}

/// Thirty units at once are probably a slip of the finger (common practice, no source).
#[test]
fn the_log_s_screen_keeps_puts_right_and_asks_back() {
    let place = Place::new();
    let companion = place.open();
    let (screens, state) = (companion.log_screens(true).unwrap(), Cell::new(LogState::default()));
    let tap = |tap: LogTap, fields: &[(&str, &str)]| {
        let filled = fields.iter().map(|(id, value)| ((*id).to_owned(), (*value).to_owned())).collect();
        let screen = screens.tapped(tap, filled, state.take(), NOW).unwrap();
        state.set(screen.state.clone());
        screen
    };
    let add = |kind: &str, amount: &str| {
        tap(LogTap::Add, &[]);
        tap(LogTap::Keep, &[("kind", kind), (kind, amount)])
    };
    assert_eq!(tap(LogTap::Add, &[]).form.unwrap().fields.len(), 1, "which kind");
    let slip = add("ketones", "21");
    let field = &slip.form.unwrap().fields[1];
    assert_eq!(field.advice.as_deref(), Some("Ketones in blood: Give an amount from 0 to 20 mmol/L."));
    assert_eq!((field.value.as_str(), slip.noted, count(&companion)), ("21", None, 0));

    let kept = tap(LogTap::Keep, &[("ketones", "1.2")]);
    let noted = kept.noted.unwrap();
    assert_eq!((noted.text.as_str(), kept.form), ("ketones 1.2 mmol/L: kept in the log", None));
    assert!(noted.undo.is_some());
    assert_eq!(add("rapid", "4").noted.unwrap().text, "rapid insulin 4 units: kept in the log");
    tap(LogTap::Undo, &[]);
    let dose = add("rapid", "30").noted.unwrap().text;
    assert!(dose.contains("30 units") && dose.contains("put it right"), "{dose}");

    let held = || tap(LogTap::Look, &[]).days.remove(0).entries;
    assert!(held().iter().all(|one| one.has_form));
    let wrong = held().into_iter().find(|one| matches!(one.entry.what, EntryKind::Insulin { .. })).unwrap().entry.id;
    let written = || companion.log().unwrap().list(later(-60), NOW, true, false).unwrap().len();
    let before = written();
    tap(LogTap::PutRight { id: wrong.clone() }, &[]);
    let same = tap(LogTap::Keep, &[]).noted.unwrap();
    assert_eq!((same.text.as_str(), same.undo), ("Nothing was changed.", None));
    assert_eq!(written(), before, "nothing was written");
    tap(LogTap::PutRight { id: wrong }, &[]);
    let right = tap(LogTap::Keep, &[("rapid", "3")]).noted.unwrap();
    assert_eq!(right.text, "rapid insulin 3 units: kept in the log");
    assert_eq!(held().len(), 2);
    let nowhere = LogTap::PutRight { id: "00000000-0000-7000-8000-000000000000".to_owned() };
    let nowhere = screens.tapped(nowhere, HashMap::new(), LogState::default(), NOW);
    assert!(matches!(nowhere, Err(ApiError::NotFound { .. })), "{nowhere:?}");
}

/// Both taps are on their way before the button goes.
#[test]
fn two_taps_on_undo_in_a_row_take_back_one() {
    let place = Place::new();
    let companion = place.open();
    let dose = EntryKind::Insulin { units: 6.0, insulin: InsulinKind::Rapid };
    companion.log().unwrap().record(dose, later(-60), later(-60)).unwrap();
    let screens = companion.prompt_screens().unwrap();
    let treated = screens.tapped(PromptTap::Treated, PromptState::default(), NOW).unwrap();
    let left = screens.tapped(PromptTap::LeaveMeter, treated.state, NOW).unwrap();
    let undone = screens.tapped(PromptTap::Undo, left.state, NOW).unwrap();
    assert!(undone.state.noted.as_ref().unwrap().undo.is_none());
    let again = screens.tapped(PromptTap::Undo, undone.state.clone(), NOW).unwrap();
    assert_eq!(again.state.noted, undone.state.noted);
    let stands = companion.log().unwrap().list(later(-90), NOW, false, false).unwrap();
    assert!(stands.iter().any(|one| matches!(one.entry.what, EntryKind::Insulin { .. })), "{stands:?}");
}

#[test]
fn nothing_of_the_wearers_is_in_an_error() {
    let place = Place::new();
    let companion = place.open();
    let log = companion.log().unwrap();
    let secret = "my secret\u{7}";
    let refused = log.record(note(secret), NOW, NOW).unwrap_err();
    assert!(matches!(&refused, ApiError::InvalidInput { field, .. } if field == "text"));
    assert!(!format!("{refused:?} {refused}").contains("secret"));
    let refused = log.record(EntryKind::MeterCheck { mg_dl: 7654.0 }, NOW, NOW).unwrap_err();
    assert!(!format!("{refused:?} {refused}").contains("7654"));
    let nowhere = EbbsteadCompanion::open("/nowhere at all/secret.ebb", "de", NOW);
    let refused = nowhere.err().unwrap();
    assert!(matches!(refused, ApiError::Failed { .. }), "{refused:?}");
    assert!(!format!("{refused:?} {refused}").contains("secret"));
}

#[test]
fn a_file_that_is_no_log_is_kept_as_it_is() {
    let place = Place::new();
    let path = place.0.path().join("log.ebb");
    std::fs::write(&path, "a letter, not a log").unwrap();
    let refused = EbbsteadCompanion::open(path.to_str().unwrap(), "en", NOW).err().unwrap();
    assert!(matches!(refused, ApiError::Damaged { .. }), "{refused:?}");
    assert_eq!(std::fs::read_to_string(path).unwrap(), "a letter, not a log");
}

#[test]
fn a_batch_is_taken_whole_or_not_at_all_and_once() {
    let place = Place::new();
    let companion = place.open();
    let log = companion.log().unwrap();
    let batch = |last: f64| {
        let reading = |n: i64| ReadingAt { at: later(-5 * n), mg_dl: if n == 9 { last } else { 100.0 } };
        (0..10).map(reading).collect::<Vec<_>>()
    };
    assert!(log.record_readings("sensor 7", batch(9999.0), NOW).is_err());
    assert_eq!(count(&companion), 0);
    assert_eq!(log.record_readings("sensor 7", batch(101.0), NOW).unwrap().new, 10);
    assert_eq!(log.record_readings("sensor 7", batch(101.0), NOW).unwrap().known, 10);
    assert_eq!(count(&companion), 10);
}

#[derive(Default)]
struct Calls {
    changes: AtomicUsize,
    settings: AtomicUsize,
    due: Mutex<Vec<Due>>,
}

impl Watcher for Calls {
    fn log_changed(&self) -> Result<(), ApiError> {
        self.changes.fetch_add(1, Ordering::SeqCst);
        Ok(())
    }
    fn settings_changed(&self) -> Result<(), ApiError> {
        self.settings.fetch_add(1, Ordering::SeqCst);
        Ok(())
    }
    fn prompt_due(&self, due: Due) -> Result<(), ApiError> {
        self.due.lock().unwrap().push(due);
        Ok(())
    }
}

#[test]
fn two_companions_on_one_file_see_and_notify_each_other() {
    let place = Place::new();
    let (here, there) = (place.open(), place.open());
    let calls = Arc::new(Calls::default());
    here.watch(Some(calls.clone())).unwrap();
    there.log().unwrap().record(note("from there"), NOW, NOW).unwrap();
    assert_eq!(count(&here), 1);
    here.tick(NOW).unwrap();
    here.tick(NOW).unwrap();
    assert_eq!(calls.changes.load(Ordering::SeqCst), 1);
    let mut wearer = there.settings().unwrap().wearer().unwrap();
    wearer.language = "de".to_owned();
    there.settings().unwrap().set_wearer(wearer, NOW).unwrap();
    here.tick(NOW).unwrap();
    assert_eq!(calls.settings.load(Ordering::SeqCst), 1);
    assert_eq!(here.words().unwrap().label(ebbstead_ffi::Label::ScreenNow).unwrap(), "Jetzt");
}

#[test]
fn a_prompt_that_is_due_is_announced_once() {
    let place = Place::new();
    let companion = place.open();
    let calls = Arc::new(Calls::default());
    companion.watch(Some(calls.clone())).unwrap();
    let question =
        Question { now: NOW, occasion: Occasion::Look, feels: None, meter_mg_dl: Some(62.0), meter_beyond: None };
    let minutes = companion.check().unwrap().ask(question).unwrap().prompt.look_again_minutes.unwrap();
    let due = companion.due().unwrap().unwrap();
    assert_eq!(due.at, later(minutes.into()));
    companion.tick(later(i64::from(minutes) - 1)).unwrap();
    assert!(calls.due.lock().unwrap().is_empty());
    companion.tick(later(minutes.into())).unwrap();
    companion.tick(later(i64::from(minutes) + 5)).unwrap();
    assert_eq!(*calls.due.lock().unwrap(), [due]);
}

struct Broken;

impl Watcher for Broken {
    fn log_changed(&self) -> Result<(), ApiError> {
        panic!("a shell's mistake")
    }
    fn settings_changed(&self) -> Result<(), ApiError> {
        Err(ApiError::Failed { advice: String::new() })
    }
    fn prompt_due(&self, _: Due) -> Result<(), ApiError> {
        Ok(())
    }
}

#[test]
fn a_watcher_that_fails_harms_nothing() {
    let place = Place::new();
    let companion = place.open();
    companion.watch(Some(Arc::new(Broken))).unwrap();
    companion.log().unwrap().record(note("kept"), NOW, NOW).unwrap();
    let settings = companion.settings().unwrap();
    settings.set_wearer(settings.wearer().unwrap(), NOW).unwrap();
    assert_eq!(count(&companion), 1);
}

#[test]
fn calls_come_from_any_thread() {
    let place = Place::new();
    let companion = place.open();
    std::thread::scope(|scope| {
        for number in 0..4 {
            let companion = &companion;
            scope.spawn(move || {
                for n in 0..5 {
                    companion.log().unwrap().record(note(&format!("{number} {n}")), NOW, NOW).unwrap();
                    let question = Question {
                        now: NOW,
                        occasion: Occasion::Look,
                        feels: None,
                        meter_mg_dl: None,
                        meter_beyond: None,
                    };
                    companion.check().unwrap().ask(question).unwrap();
                }
            });
        }
    });
    assert_eq!(count(&companion), 20);
}

#[test]
fn corrected_taken_back_and_undone() {
    let place = Place::new();
    let companion = place.open();
    let log = companion.log().unwrap();
    let meal = |grams| EntryKind::Carbohydrate { grams, purpose: Purpose::Meal };
    let wrong = log.record(meal(450.0), NOW, NOW).unwrap();
    let right = log.correct(&wrong.id, NOW, meal(45.0), NOW).unwrap();
    assert_eq!(right.replaces.as_deref(), Some(wrong.id.as_str()));
    assert_eq!(log.list(NOW, NOW, false, false).unwrap()[0].entry.what, meal(45.0));
    assert_eq!(log.list(NOW, NOW, true, false).unwrap().len(), 2);
    log.retract(&right.id, NOW).unwrap();
    assert_eq!(count(&companion), 0);
    log.undo(NOW).unwrap().unwrap();
    assert_eq!(count(&companion), 1);
    assert!(matches!(log.retract("no identity", NOW), Err(ApiError::NotFound { .. })));
}

/// How a file from a place an hour ahead of UTC is imported.
fn an_hour_ahead() -> ImportOptions {
    ImportOptions {
        offsets: vec![OffsetChange { from_unix_ms: 0, offset_minutes: 60 }],
        unit: None,
        time_column: None,
        glucose_column: None,
        time_format: None,
        dry_run: false,
    }
}

#[test]
fn a_file_is_brought_in_and_taken_back_as_a_whole_or_refused_with_its_reason() {
    let place = Place::new();
    let companion = place.open();
    let log = companion.log().unwrap();
    let options = an_hour_ahead();
    let text = "time;glucose mg/dL\n2026-03-01 10:00;104\n2026-03-01 10:05;106\n2026-03-01 10:10;low\n";
    let looked = ImportOptions { dry_run: true, ..options.clone() };
    log.import_file("week.csv", text.into(), looked, NOW).unwrap();
    assert_eq!(count(&companion), 0);
    let ImportAnswer::Read { report } = log.import_file("week.csv", text.into(), options.clone(), NOW).unwrap() else {
        panic!("refused")
    };
    assert_eq!((report.taken, report.beyond, report.left_out, report.findings.len()), (3, 1, 0, 1));
    log.retract(&report.id.unwrap(), NOW).unwrap();
    assert!(log.list(later(-600), NOW, false, true).unwrap().iter().all(|one| !one.entry.text.contains("104")));
    assert!(matches!(
        log.import_file("x.csv", b"nothing".to_vec(), options, NOW).unwrap(),
        ImportAnswer::Refused { .. }
    ));
}

#[test]
fn what_a_meter_shows_is_read_by_core_and_too_low_to_measure_is_kept_as_that() {
    let low = EntryKind::MeterBeyond { beyond: Beyond::Below, mg_dl: 20.0 };
    for (typed, what) in [
        ("LO", low.clone()),
        ("104", EntryKind::MeterCheck { mg_dl: 104.0 }),
        ("HI", EntryKind::MeterBeyond { beyond: Beyond::Above, mg_dl: 600.0 }),
        ("<30", EntryKind::MeterBeyond { beyond: Beyond::Below, mg_dl: 30.0 }),
    ] {
        let place = Place::new();
        let companion = place.open();
        let screen = companion.prompt_screens().unwrap().metered(typed, PromptState::default(), NOW).unwrap();
        let kept = companion.log().unwrap().list(NOW, NOW, false, false).unwrap().remove(0).entry;
        assert_eq!(kept.what, what, "{typed}");
        let PromptPart::Lead { headline } = &screen.parts[0] else { panic!("{typed}: {screen:?}") };
        assert_eq!(headline.verdict == Verdict::Treat, matches!(typed, "LO" | "<30"), "{typed}");
        if what == low {
            assert_eq!(kept.text, "meter check too low to measure (below 20 mg/dL)");
        }
    }
    let place = Place::new();
    for typed in ["LOST", "<100"] {
        let screen = place.open().prompt_screens().unwrap().metered(typed, PromptState::default(), NOW).unwrap();
        assert!(screen.state.meter.unwrap().advice.is_some(), "{typed}");
    }
    assert!(place.open().log().unwrap().list(NOW, NOW, false, false).unwrap().is_empty());
}

#[test]
fn at_night_two_taps_are_one_answer_and_the_own_step_is_remembered() {
    let place = Place::new();
    let companion = place.open();
    let rescue = |grams| EntryKind::Carbohydrate { grams, purpose: Purpose::Rescue };
    let night = companion.prompt_screens().unwrap();
    let tap =
        |tap: PromptTap, now: Moment| night.tapped(tap, PromptState::default(), now).unwrap().state.noted.unwrap();
    let kept = || companion.log().unwrap().list(later(-60), later(60), false, false).unwrap();
    assert!(!tap(PromptTap::Treated, NOW).text.is_empty());
    tap(PromptTap::Treated, NOW);
    let first = kept();
    assert_eq!(first.iter().map(|one| one.entry.what.clone()).collect::<Vec<_>>(), [rescue(15.0)]);
    companion.log().unwrap().correct(&first[0].entry.id, NOW, rescue(20.0), NOW).unwrap();
    tap(PromptTap::Treated, later(30));
    assert_eq!(kept().last().unwrap().entry.what, rescue(20.0));
    assert!(!tap(PromptTap::RolledOver, later(40)).text.is_empty());
    assert_eq!(companion.due().unwrap().unwrap().at, later(45));
}

fn question() -> Question {
    Question { now: NOW, occasion: Occasion::Look, feels: None, meter_mg_dl: None, meter_beyond: None }
}

/// Longer than any answer here takes, and much shorter than a change waits for another program (5 s).
const AT_ONCE: std::time::Duration = std::time::Duration::from_secs(2);

#[test]
fn nothing_asked_waits_for_a_program_that_writes_or_for_a_call_that_waits_itself() {
    let place = Place::new();
    let companion = place.open();
    companion.log().unwrap().record(note("kept"), NOW, NOW).unwrap();
    let writer = rusqlite::Connection::open(place.0.path().join("log.ebb")).unwrap();
    writer.execute_batch("BEGIN IMMEDIATE").unwrap();
    let waiting = {
        let companion = Arc::clone(&companion);
        std::thread::spawn(move || companion.log().unwrap().record(note("waits"), later(-1), later(-1)))
    };
    std::thread::sleep(std::time::Duration::from_millis(300));
    let begun = std::time::Instant::now();
    companion.check().unwrap().show(question()).unwrap();
    companion.check().unwrap().ask(question()).unwrap();
    let night = companion.prompt_screens().unwrap();
    night.tapped(PromptTap::Look, PromptState::default(), NOW).unwrap();
    companion.tick(NOW).unwrap();
    companion.log().unwrap().list(later(-60), NOW, false, true).unwrap();
    companion.settings().unwrap().wearer().unwrap();
    assert!(begun.elapsed() < AT_ONCE, "{:?}", begun.elapsed());
    writer.execute_batch("COMMIT").unwrap();
    waiting.join().unwrap().unwrap();
    // What was shown meanwhile is kept with the next call.
    let listed = companion.log().unwrap().list(later(-60), later(60), true, true).unwrap();
    assert_eq!(listed.iter().filter(|one| matches!(one.entry.what, EntryKind::Note { .. })).count(), 2, "{listed:?}");
    assert!(listed.iter().any(|one| matches!(one.entry.what, EntryKind::Prompted { .. })), "{listed:?}");
}

#[test]
fn a_log_that_was_deleted_under_an_open_companion_is_closed_to_writing() {
    let place = Place::new();
    let companion = place.open();
    companion.log().unwrap().record(note("kept"), NOW, NOW).unwrap();
    std::fs::remove_file(place.0.path().join("log.ebb")).unwrap();
    let refused = companion.log().unwrap().record(note("into nothing"), NOW, NOW).unwrap_err();
    assert!(matches!(refused, ApiError::Closed { .. }), "{refused:?}");
    let options = an_hour_ahead();
    let text = "time;glucose mg/dL\n2026-03-01 10:00;104\n";
    let refused = companion.log().unwrap().import_file("day.csv", text.into(), options, NOW).unwrap_err();
    assert!(matches!(refused, ApiError::Closed { .. }), "{refused:?}");
    assert!(!place.0.path().join("log.ebb").exists(), "no other log is begun in its place");
    assert!(matches!(companion.tick(NOW), Err(ApiError::Closed { .. })));
    assert!(companion.check().unwrap().ask(question()).is_ok(), "a prompt still comes of what it held");
}

#[test]
fn a_prompt_from_a_damaged_log_says_so_first() {
    let place = Place::new();
    let companion = place.open();
    for n in 0..400 {
        companion.log().unwrap().record(note(&format!("{n} {}", "long ".repeat(40))), later(-n), later(-n)).unwrap();
    }
    companion.close_log().unwrap();
    let path = place.0.path().join("log.ebb");
    let mut bytes = std::fs::read(&path).unwrap();
    // A leaf of entries says that it holds one row; see SQLite, "Database File Format", 1.6.
    let leaf = (1..bytes.len() / 4096).rfind(|page| bytes[page * 4096] == 0x0d && bytes[page * 4096 + 4] > 5).unwrap();
    bytes[leaf * 4096 + 4] = 1;
    std::fs::write(&path, &bytes).unwrap();
    let companion = place.open();
    assert!(count(&companion) < 400, "one page of them is out of reach");
    let answer = companion.check().unwrap().show(question()).unwrap();
    assert!(answer.said.cautions[0].contains("damaged"), "{:?}", answer.said.cautions);
    assert!(companion.damage().unwrap().is_some());

    // What can be read is saved from the page with the copies, and an empty log takes it in.
    let passing = place.0.path().join("passing").to_str().unwrap().to_owned();
    let offers = |screen: &RecordScreen| {
        screen.parts.iter().any(|part| matches!(part, RecordPart::Press { act: RecordAct::Recover, .. }))
    };
    let pages = companion.record_pages(&passing).unwrap();
    assert!(offers(&pages.turn_to(Some(Chapter::Copies), HashMap::new(), NOW).unwrap()));
    let before = std::fs::read(&path).unwrap();
    // One that was left on its way out is in nobody's way.
    pages.act(RecordAct::Recover, HashMap::new(), NOW).unwrap();
    let saved = pages.act(RecordAct::Recover, HashMap::new(), NOW).unwrap().document.unwrap();
    assert!(saved.said.starts_with("Saved: ") && saved.name.ends_with(".ebb"), "{saved:?}");
    assert_eq!(std::fs::read(&path).unwrap(), before, "the damaged one stays as it is");
    let empty = Place::new();
    let other = empty.open();
    let taking = other.record_pages(&passing).unwrap();
    assert!(!offers(&taking.turn_to(Some(Chapter::Copies), HashMap::new(), NOW).unwrap()));
    taking.chosen(&saved.path, &saved.name, NOW).unwrap();
    taking.act(RecordAct::Merge, HashMap::new(), NOW).unwrap();
    assert!(count(&other) > 300 && count(&other) <= 400, "{}", count(&other));
}
