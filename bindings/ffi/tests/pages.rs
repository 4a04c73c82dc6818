//! The record's pages as a shell gets them: review, sensor, alerts, what was learnt.

#![allow(clippy::unwrap_used, clippy::panic, clippy::cast_precision_loss, clippy::float_cmp)] // a test that cannot go on fails

use std::sync::Arc;

use ebbstead_ffi::{
    Aims, ApiError, EbbsteadCompanion, Effort, EntryKind, Item, Moment, Movement, Occasion, Page, PageBlock, Price,
    Question, ReadingAt, ReviewOptions, SensorEvent, SensorOptions, Stocked, Supply, Wearer,
};

const NOW: Moment = Moment { unix_ms: 1_772_359_200_000, offset_minutes: 60 };
const DAYS: i64 = 16;

fn before(minutes: i64) -> Moment {
    Moment { unix_ms: NOW.unix_ms - minutes * 60_000, ..NOW }
}

/// Sixteen invented days: a swing with the hour, a low every other night, a sensor with a site, meter checks.
fn opened(place: &std::path::Path, language: &str) -> Arc<EbbsteadCompanion> {
    let companion = EbbsteadCompanion::open(place.join("log.ebb").to_str().unwrap(), language, NOW).unwrap();
    let settings = companion.settings().unwrap();
    settings
        .set_wearer(ebbstead_ffi::Wearer { language: language.to_owned(), ..settings.wearer().unwrap() }, NOW)
        .unwrap();
    let log = companion.log().unwrap();
    let reading = |back: i64| {
        let hours = back as f64 / 60.0;
        let swing = 45.0 * (hours * std::f64::consts::TAU / 24.0).sin();
        let unrest = 7.0 * (back as f64 * 0.37).sin();
        let low = if (back / 1440) % 2 == 0 && (600..660).contains(&(back % 1440)) { 70.0 } else { 0.0 };
        ReadingAt { at: before(back), mg_dl: 138.0 + swing + unrest - low }
    };
    log.record_readings("sensor 7", (0..DAYS * 288).rev().map(|n| reading(5 * n)).collect(), NOW).unwrap();
    let inserted = EntryKind::Sensor {
        event: SensorEvent::Inserted { site: Some("left arm".to_owned()), lot: None, rated_days: None },
    };
    log.record(inserted, before(5 * 1440), NOW).unwrap();
    for day in 1..5 {
        log.record(EntryKind::MeterCheck { mg_dl: 140.0 }, before(day * 1440), NOW).unwrap();
    }
    companion
}

fn text(page: &Page) -> String {
    format!("{page:?}")
}

#[test]
fn every_page_shows_something_in_either_language() {
    let place = tempfile::tempdir().unwrap();
    for (language, words) in [
        ("en", ["Time in range", "left arm", "your lines", "Learnt"]),
        ("de", ["Zeit im Zielbereich", "left arm", "deine Linien", "Gelernt"]),
    ] {
        let companion = opened(place.path(), language);
        let options = ReviewOptions { days: 14, aims: Aims::Adult, without_compression_lows: false };
        let sensor = SensorOptions { days: 90, rated_days: Some(10) };
        let pages = [
            companion.review().unwrap().page(options, NOW).unwrap(),
            companion.sensor().unwrap().page(sensor, NOW).unwrap(),
            companion.alerts().unwrap().page(90, None, NOW).unwrap(),
            companion.learn().unwrap().now(NOW).unwrap(),
        ];
        for (page, word) in pages.iter().zip(words) {
            assert!(text(page).contains(word), "{word}: {page:?}");
            assert!(page.sections.iter().all(|section| !section.holds.is_empty()), "{page:?}");
            assert!(!text(page).contains("NaN"), "{page:?}");
        }
        let html = companion.review().unwrap().html(options, NOW).unwrap();
        assert!(html.starts_with("<!doctype html>") && html.contains("<svg"));
        let lot = Some("LOT-7".to_owned());
        let sheet = companion.sensor().unwrap().sheet(sensor, 0, lot, NOW).unwrap();
        assert!(sheet.contains("left arm") && sheet.contains("LOT-7"), "{sheet}");
    }
}

#[test]
fn sensors_are_held_to_the_rated_length_given_or_else_to_the_settings() {
    let place = tempfile::tempdir().unwrap();
    let companion = opened(place.path(), "en");
    let (sensor, settings) = (companion.sensor().unwrap(), companion.settings().unwrap());
    // The sensor was put in five days ago.
    let page_of = |rated_days| sensor.page(SensorOptions { days: 90, rated_days }, NOW);
    assert_ne!(page_of(None).unwrap(), page_of(Some(3)).unwrap());
    settings.set_wearer(Wearer { sensor_rated_days: Some(3), ..settings.wearer().unwrap() }, NOW).unwrap();
    assert_eq!(page_of(None).unwrap(), page_of(Some(3)).unwrap());
    assert_ne!(page_of(Some(10)).unwrap(), page_of(Some(3)).unwrap());
    for cannot_be in [0, 366] {
        assert!(matches!(page_of(Some(cannot_be)), Err(ApiError::InvalidInput { .. })));
    }
}

#[test]
fn a_plan_tried_stands_beside_the_wearers_own_and_the_floor_holds() {
    let place = tempfile::tempdir().unwrap();
    let companion = opened(place.path(), "en");
    let alerts = companion.alerts().unwrap();
    let own = alerts.own_plan().unwrap();
    assert_eq!(own.day.low_mg_dl, 70.0);
    let mut tried = own;
    tried.day.high_mg_dl = Some(160.0);
    let columns = |page: &Page| match &page.sections[0].holds[0] {
        PageBlock::Table { columns, rows } => (columns.len(), rows[0].values.clone()),
        other => panic!("{other:?}"),
    };
    let (one, _) = columns(&alerts.page(14, Some(own), NOW).unwrap());
    let (two, values) = columns(&alerts.page(14, Some(tried), NOW).unwrap());
    assert_eq!((one, two, values.len()), (1, 2, 2));
    assert_ne!(values[0], values[1], "alerted to highs above 160 and above 180");
    tried.night.low_mg_dl = 50.0;
    assert!(matches!(alerts.page(14, Some(tried), NOW), Err(ApiError::InvalidInput { .. })));
    assert!(matches!(alerts.page(0, None, NOW), Err(ApiError::InvalidInput { .. })));
}

#[test]
fn what_was_learnt_is_used_by_the_next_prompt_and_by_no_prompt_of_the_past() {
    let place = tempfile::tempdir().unwrap();
    let companion = opened(place.path(), "en");
    let ask = |now: Moment| {
        let question = Question { now, occasion: Occasion::Look, feels: None, meter_mg_dl: None, meter_beyond: None };
        companion.check().unwrap().ask(question).unwrap().prompt
    };
    let ahead = |prompt: &ebbstead_ffi::Prompt| prompt.forecast.as_ref().unwrap().path[5].reading_mg_dl;
    let (now, past) = (ask(NOW), ask(before(1440)));
    assert!(companion.learn().unwrap().last().unwrap().is_none());
    companion.learn().unwrap().now(NOW).unwrap();
    assert!(companion.learn().unwrap().last().unwrap().is_some());
    assert_ne!(ahead(&ask(NOW)), ahead(&now), "the lesson mends the forecast of a record so regular");
    assert_eq!(ahead(&ask(before(1440))), ahead(&past), "nobody knew it a day before");
}

#[test]
fn what_is_asked_ahead_is_a_page_each() {
    let place = tempfile::tempdir().unwrap();
    let companion = opened(place.path(), "en");
    let settings = companion.settings().unwrap();
    let wearer = Wearer { country: Some("uk".to_owned()), morning_minute: Some(390), ..settings.wearer().unwrap() };
    settings.set_wearer(wearer.clone(), NOW).unwrap();
    assert_eq!(settings.wearer().unwrap().country.as_deref(), Some("GB"));
    let ahead = companion.before().unwrap();
    let sleep = text(&ahead.sleep(NOW, None, None).unwrap());
    // 11:00 by the wearer's clock: the morning is further ahead than chances are given for.
    assert!(sleep.contains("Until 06:30") && sleep.contains("so far ahead"), "{sleep}");
    let later = Moment { unix_ms: NOW.unix_ms + 8 * 3_600_000, ..NOW };
    assert!(text(&ahead.sleep(NOW, Some(later), None).unwrap()).contains("chance of a reading below 70"));
    assert!(text(&ahead.driving(NOW, 90.0, None).unwrap()).contains("INF294"));
    let felt = ahead.driving(NOW, 90.0, Some(ebbstead_ffi::Symptom::FeelsLow)).unwrap();
    assert!(text(&felt).contains("Do not drive"), "{felt:?}");
    let moving = ahead.activity(NOW, Movement::Endurance, Effort::Moderate, 45.0, None, None).unwrap();
    assert!(text(&moving).contains("Riddell"), "{moving:?}");
    let earlier = before(60);
    for refused in [
        ahead.sleep(NOW, Some(earlier), None),
        ahead.driving(NOW, -1.0, None),
        ahead.driving(NOW, f64::NAN, None),
        ahead.activity(NOW, Movement::Strength, Effort::Hard, 1441.0, None, None),
        ahead.activity(NOW, Movement::Strength, Effort::Hard, 30.0, Some(-0.1), None),
    ] {
        assert!(matches!(refused, Err(ApiError::InvalidInput { .. })), "{refused:?}");
    }
    for country in ["Britain", ""] {
        let wearer = Wearer { country: Some(country.to_owned()), ..wearer.clone() };
        assert!(matches!(settings.set_wearer(wearer, NOW), Err(ApiError::InvalidInput { .. })));
    }
}

#[test]
fn a_page_of_nothing_says_what_is_missing() {
    let place = tempfile::tempdir().unwrap();
    let path = place.path().join("log.ebb");
    let companion = EbbsteadCompanion::open(path.to_str().unwrap(), "en", NOW).unwrap();
    let options = ReviewOptions { days: 14, aims: Aims::Adult, without_compression_lows: true };
    assert!(text(&companion.review().unwrap().page(options, NOW).unwrap()).contains("not enough data"));
    let sensor = SensorOptions { days: 90, rated_days: None };
    assert!(text(&companion.sensor().unwrap().page(sensor, NOW).unwrap()).contains("No insertion"));
    let none = companion.sensor().unwrap().sheet(sensor, 0, None, NOW);
    assert!(matches!(none, Err(ApiError::InvalidInput { field, .. }) if field == "sensor"));
    companion.alerts().unwrap().page(90, None, NOW).unwrap();
    companion.learn().unwrap().now(NOW).unwrap();
}

#[test]
fn the_day_is_drawn_from_the_same_hours_as_the_page() {
    let place = tempfile::tempdir().unwrap();
    let companion = opened(place.path(), "en");
    let options = ReviewOptions { days: 14, aims: Aims::Adult, without_compression_lows: false };
    let day = companion.review().unwrap().day(options, NOW).unwrap().unwrap();
    assert_eq!(day.posts.len(), 24);
    let inside = |mg_dl: f64| (day.lowest_mg_dl..=day.highest_mg_dl).contains(&mg_dl);
    for post in &day.posts {
        let rising = [post.p10_mg_dl, post.p25_mg_dl, post.p50_mg_dl, post.p75_mg_dl, post.p90_mg_dl];
        assert!(rising.is_sorted() && rising.into_iter().all(inside), "{post:?}");
    }
    assert!(day.lines.iter().all(|line| inside(line.mg_dl)) && day.lines.len() == 3);
    assert!(day.text.contains("24 of 24 hours"), "{}", day.text);
    let empty = tempfile::tempdir().unwrap();
    let path = empty.path().join("log.ebb");
    let companion = EbbsteadCompanion::open(path.to_str().unwrap(), "en", NOW).unwrap();
    assert!(companion.review().unwrap().day(options, NOW).unwrap().is_none());
}

#[test]
fn supplies_show_what_is_there_when_to_order_and_what_it_costs() {
    let place = tempfile::tempdir().unwrap();
    for (language, words) in [
        ("en", ["test strips", "order", "EUR", "letter is yours"]),
        ("de", ["Teststreifen", "bestell", "EUR", "Brief schreibst du"]),
    ] {
        let companion = opened(place.path(), language);
        let supplies = companion.supplies().unwrap();
        let settings = companion.settings().unwrap();
        settings.set_wearer(Wearer { reorder_lead_days: Some(7), ..settings.wearer().unwrap() }, NOW).unwrap();
        assert_eq!(settings.wearer().unwrap().reorder_lead_days, Some(7));
        let log = companion.log().unwrap();
        let strips = |stocked, amount, price| EntryKind::Supply {
            supply: Supply { item: Item::TestStrip, stocked, amount, expires: None, lot: None, price, from: None },
        };
        // Twenty used in fifteen days.
        log.record(strips(Stocked::Counted, 120.0, None), before(15 * 1440), NOW).unwrap();
        let price = Some(Price { amount: 25.0, currency: "EUR".to_owned() });
        log.record(strips(Stocked::Received, 50.0, price), before(14 * 1440), NOW).unwrap();
        log.record(strips(Stocked::Counted, 150.0, None), before(60), NOW).unwrap();
        let page = supplies.page(365, NOW).unwrap();
        let statement = supplies.statement(14, NOW).unwrap();
        let shown = format!("{page:?}").to_lowercase();
        for word in &words[..3] {
            assert!(shown.contains(&word.to_lowercase()), "{word}: {shown}");
        }
        assert!(text(&statement).contains(words[3]), "{statement:?}");
        let plain = supplies.statement_text(14, NOW).unwrap();
        assert!(plain.starts_with(&statement.heading) && plain.contains(words[3]), "{plain}");
        assert!(matches!(supplies.page(0, NOW), Err(ApiError::InvalidInput { .. })));
        let named = companion.words().unwrap().item(Item::TestStrip).unwrap();
        assert_eq!(named, words[0]);
    }
}

#[test]
fn an_answer_that_is_shown_is_kept_once_and_held_against_what_came_after() {
    let place = tempfile::tempdir().unwrap();
    let companion = opened(place.path(), "en");
    let (check, log) = (companion.check().unwrap(), companion.log().unwrap());
    let at = |minutes: i64| Question {
        now: before(minutes),
        occasion: Occasion::Look,
        feels: None,
        meter_mg_dl: None,
        meter_beyond: None,
    };
    let kept = || {
        let entries = log.list(before(1440), NOW, false, true).unwrap();
        entries.iter().filter(|one| matches!(one.entry.what, EntryKind::Prompted { .. })).count()
    };
    check.ask(at(300)).unwrap();
    assert_eq!(kept(), 0, "asking keeps nothing");
    // Looked at every minute for a quarter of an hour: shown at its start, and again once ten minutes have passed.
    let verdicts: Vec<_> = (0..15).map(|n| check.show(at(300 - n)).unwrap().prompt.verdict).collect();
    let changes = verdicts.windows(2).filter(|two| two[0] != two[1]).count();
    assert!((2..=2 + changes).contains(&kept()), "{} kept, {changes} changes", kept());
    // Nor is the same answer kept again where the log does not show that it was, as behind damage: each would have the screen look again.
    for one in log.list(before(1440), NOW, false, true).unwrap() {
        if matches!(one.entry.what, EntryKind::Prompted { .. }) {
            log.retract(&one.entry.id, NOW).unwrap();
        }
    }
    assert_eq!(kept(), 0);
    check.show(at(286)).unwrap();
    assert_eq!(kept(), 0);
    // What the wearer said last is still what undoing takes back.
    log.record(EntryKind::Note { text: "invented".to_owned() }, before(280), before(280)).unwrap();
    check.show(at(270)).unwrap();
    let undone = log.undo(NOW).unwrap().unwrap();
    assert!(matches!(undone.undone.what, EntryKind::Note { .. }));
    let plain = log.list(before(1440), NOW, false, false).unwrap();
    assert!(!plain.iter().any(|one| matches!(one.entry.what, EntryKind::Prompted { .. })));
    let page = companion.outcomes().unwrap().page(90, NOW).unwrap();
    let prompts = format!("{} prompts", kept());
    assert!(text(&page).contains(&prompts), "{prompts}: {page:?}");
    assert!(matches!(companion.outcomes().unwrap().page(0, NOW), Err(ApiError::InvalidInput { .. })));
}
