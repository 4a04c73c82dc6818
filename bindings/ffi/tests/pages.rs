//! The record's pages as a shell gets them: review, sensor, alerts, what was learnt.

#![allow(clippy::unwrap_used, clippy::panic, clippy::float_cmp)] // a test that cannot go on fails

use std::collections::HashMap;
use std::sync::Arc;

use ebbstead_ffi::{
    Aims, ApiError, Chapter, EbbsteadCompanion, Effort, EntryKind, FormField, Item, Moment, Movement, Occasion, Page,
    PageBlock, Price, Question, ReadingAt, RecordAct, RecordPages, RecordPart, RecordScreen, ReviewOptions,
    SensorEvent, Stocked, Supply, Wearer,
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

/// The record's pages, with a chapter open.
fn opened_at(companion: &EbbsteadCompanion, place: &std::path::Path, chapter: Chapter) -> Arc<RecordPages> {
    let pages = companion.record_pages(place.join("passing").to_str().unwrap()).unwrap();
    assert_eq!(pages.turn_to(Some(chapter), HashMap::new(), NOW).unwrap().chapter, Some(chapter));
    pages
}

fn filled(fields: &[(&str, &str)]) -> HashMap<String, String> {
    fields.iter().map(|(id, value)| ((*id).to_owned(), (*value).to_owned())).collect()
}

fn page(screen: &RecordScreen) -> Page {
    let shown = |part: &RecordPart| if let RecordPart::Shown { page } = part { Some(page.clone()) } else { None };
    let mut pages = screen.parts.iter().filter_map(shown);
    let mut first = pages.next().unwrap_or_else(|| panic!("{screen:?}"));
    // One that goes on below a drawing has no name of its own.
    first.sections.extend(pages.filter(|page| page.heading.is_empty()).flat_map(|page| page.sections));
    first
}

fn shows_page(screen: &RecordScreen) -> bool {
    screen.parts.iter().any(|part| matches!(part, RecordPart::Shown { .. }))
}

fn fields(screen: &RecordScreen) -> Vec<FormField> {
    let asked = |part: &RecordPart| if let RecordPart::Asked { field } = part { Some(field.clone()) } else { None };
    screen.parts.iter().filter_map(asked).collect()
}

/// Which fields say something against what stands in them.
fn against(screen: &RecordScreen) -> Vec<String> {
    fields(screen).into_iter().filter(|field| field.advice.is_some()).map(|field| field.id).collect()
}

fn said(screen: &RecordScreen) -> Vec<String> {
    let said = |part: &RecordPart| if let RecordPart::Said { text } = part { Some(text.clone()) } else { None };
    screen.parts.iter().filter_map(said).collect()
}

fn letter(screen: &RecordScreen) -> Option<String> {
    screen.parts.iter().find_map(|part| if let RecordPart::Letter { text } = part { Some(text.clone()) } else { None })
}

#[test]
fn every_page_shows_something_in_either_language() {
    let place = tempfile::tempdir().unwrap();
    for (language, words) in [
        ("en", ["Time in range", "left arm", "alerts by day", "Learnt"]),
        ("de", ["Zeit im Zielbereich", "left arm", "Alarme am Tag", "Gelernt"]),
    ] {
        let companion = opened(place.path(), language);
        let options = ReviewOptions { days: 14, aims: Aims::Adult, without_compression_lows: false };
        let record = opened_at(&companion, place.path(), Chapter::Review);
        let pages = [Chapter::Review, Chapter::Sensors, Chapter::Alerts, Chapter::Learnt].map(|chapter| {
            record.turn_to(Some(chapter), HashMap::new(), NOW).unwrap();
            page(
                &record
                    .act(if chapter == Chapter::Learnt { RecordAct::Learn } else { RecordAct::Show }, filled(&[]), NOW)
                    .unwrap(),
            )
        });
        assert_eq!(pages[0], companion.review().unwrap().page(options, NOW).unwrap());
        for (page, word) in pages.iter().zip(words) {
            assert!(text(page).contains(word), "{word}: {page:?}");
            assert!(page.sections.iter().all(|section| !section.holds.is_empty()), "{page:?}");
            assert!(!text(page).contains("NaN"), "{page:?}");
        }
        let html = companion.review().unwrap().html(options, NOW).unwrap();
        assert!(html.starts_with("<!doctype html>") && html.contains("<svg"));
        record.turn_to(Some(Chapter::Sensors), HashMap::new(), NOW).unwrap();
        let screen = record.act(RecordAct::SensorSheet, filled(&[("lot", "LOT-7")]), NOW).unwrap();
        let sheet = letter(&screen).unwrap();
        assert!(sheet.contains("left arm") && sheet.contains("LOT-7"), "{sheet}");
        let document = record.act(RecordAct::SaveText, filled(&[]), NOW).unwrap().document.unwrap();
        assert_eq!(
            (document.name.as_str(), document.media_type.as_str()),
            ("ebbstead-sensor-2026-03-01.txt", "text/plain")
        );
        assert_eq!(std::fs::read_to_string(document.path).unwrap(), sheet);
        assert!(record.show(NOW).unwrap().document.is_none(), "handed on once");
        assert!(letter(&record.act(RecordAct::Show, filled(&[]), NOW).unwrap()).is_none());
        let cards = record.turn_to(None, HashMap::new(), NOW).unwrap().cards;
        assert!(cards.iter().all(|card| !card.lines.is_empty()), "{cards:?}");
        let review = text(&pages[0]);
        assert!(
            cards[0].chart.is_some() && cards[0].lines.iter().all(|line| line.contains(" %") && line.contains(':')),
            "{cards:?}"
        );
        assert!(cards[0].lines.iter().all(|line| review.contains(line.split(": ").nth(1).unwrap())), "{review}");
        assert!(cards[2].lines.iter().all(|line| line.contains(words[2].split(' ').next().unwrap())), "{cards:?}");
    }
}

#[test]
fn sensors_are_held_to_the_rated_length_given_or_else_to_the_settings() {
    let place = tempfile::tempdir().unwrap();
    let companion = opened(place.path(), "en");
    let settings = companion.settings().unwrap();
    let record = opened_at(&companion, place.path(), Chapter::Sensors);
    // The sensor was put in five days ago.
    let screen_of = |rated| record.act(RecordAct::Show, filled(&[("rated_days", rated)]), NOW).unwrap();
    let page_of = |rated| page(&screen_of(rated));
    assert_ne!(page_of(""), page_of("3"));
    settings.set_wearer(Wearer { sensor_rated_days: Some(3), ..settings.wearer().unwrap() }, NOW).unwrap();
    assert_eq!(page_of(""), page_of("3"));
    assert_ne!(page_of("10"), page_of("3"));
    for cannot_be in ["0", "366", "ten"] {
        let slip = screen_of(cannot_be);
        assert_eq!((against(&slip), page(&slip)), (vec!["rated_days".to_owned()], page_of("3")), "it hides nothing");
    }
    let fresh = opened_at(&companion, place.path(), Chapter::Sensors).show(NOW).unwrap();
    assert_eq!(fields(&fresh)[1].value, "3", "the settings' stands in its field");
}

#[test]
fn a_plan_tried_stands_beside_the_wearers_own_and_the_floor_holds() {
    let place = tempfile::tempdir().unwrap();
    let companion = opened(place.path(), "en");
    let alerts = companion.alerts().unwrap();
    let record = opened_at(&companion, place.path(), Chapter::Alerts);
    let values = |screen: &RecordScreen| match &page(screen).sections[1].holds[0] {
        PageBlock::Table { rows } => rows[0].values.clone(),
        other => panic!("{other:?}"),
    };
    let act = |act, fields: &[(&str, &str)]| record.act(act, filled(fields), NOW).unwrap();
    let one = values(&act(RecordAct::Replay, &[("days", "14")]));
    let two = values(&act(RecordAct::Replay, &[("day_high", "160")]));
    assert_eq!((one.len(), two.len()), (1, 2));
    assert!(
        !one[0].ends_with(')') && two.iter().all(|value| value.ends_with(')')),
        "each of two says whose it is: {two:?}"
    );
    let amounts: Vec<_> = two.iter().map(|value| value.split(" (").next()).collect();
    assert_ne!(amounts[0], amounts[1], "alerted to highs above 160 and above 180");
    let floor = act(RecordAct::KeepPlan, &[("night_low", "50")]);
    assert_eq!((against(&floor), values(&floor).len()), (vec!["night_low".to_owned()], 1));
    assert!(said(&floor).is_empty() && alerts.own_plan().unwrap().day.high_mg_dl == Some(180.0));
    let leaves = |screen: &RecordScreen| {
        screen.parts.iter().any(|part| matches!(part, RecordPart::Press { act: RecordAct::LeavePlan, .. }))
    };
    assert!(leaves(&floor), "there is something to leave");
    let kept = act(RecordAct::KeepPlan, &[("night_low", "70")]);
    assert_eq!(said(&kept).len(), 1);
    assert!(said(&kept)[0].contains("above 160 mg/dL") && said(&kept)[0].contains("above 180 mg/dL"), "{kept:?}");
    assert!(!leaves(&kept));
    assert_eq!(alerts.own_plan().unwrap().day.high_mg_dl, Some(160.0));
    let never = act(RecordAct::Replay, &[("days", "0"), ("day_high", "170")]);
    assert!(against(&never) == ["days"] && !shows_page(&never));
    let left = act(RecordAct::LeavePlan, &[]);
    assert!(against(&left).is_empty() && values(&left).len() == 1);
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
    let record = opened_at(&companion, place.path(), Chapter::Learnt);
    assert!(!shows_page(&record.show(NOW).unwrap()));
    record.act(RecordAct::Learn, filled(&[]), NOW).unwrap();
    assert!(shows_page(&opened_at(&companion, place.path(), Chapter::Learnt).show(NOW).unwrap()));
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
    let record = opened_at(&companion, place.path(), Chapter::Sensors);
    assert!(text(&page(&record.show(NOW).unwrap())).contains("No insertion"));
    let none = record.act(RecordAct::SensorSheet, filled(&[]), NOW).unwrap();
    assert!(against(&none) == ["lot"] && letter(&none).is_none());
    for chapter in [Chapter::Review, Chapter::Alerts, Chapter::Outcomes, Chapter::Supplies] {
        let screen = record.turn_to(Some(chapter), HashMap::new(), NOW).unwrap();
        assert!(shows_page(&screen) && said(&screen).is_empty(), "{screen:?}");
    }
    record.turn_to(Some(Chapter::Learnt), HashMap::new(), NOW).unwrap();
    assert!(shows_page(&record.act(RecordAct::Learn, filled(&[]), NOW).unwrap()));
}

#[test]
fn what_is_typed_stays_with_its_chapter_and_a_slip_is_said_beside_it() {
    let place = tempfile::tempdir().unwrap();
    let companion = opened(place.path(), "en");
    let record = opened_at(&companion, place.path(), Chapter::Review);
    let asked = [("review_days", "7"), ("aims", "pregnancy"), ("compression", "out")];
    let week = record.act(RecordAct::Show, filled(&asked), NOW).unwrap();
    let options = ReviewOptions { days: 7, aims: Aims::Type1Pregnancy, without_compression_lows: true };
    assert_eq!(page(&week), companion.review().unwrap().page(options, NOW).unwrap());
    assert_eq!(fields(&record.turn_to(Some(Chapter::Outcomes), HashMap::new(), NOW).unwrap())[0].value, "90");
    assert_eq!(record.turn_to(Some(Chapter::Review), HashMap::new(), NOW).unwrap(), week);
    for slip in ["", "0", "7.5", "99999", "many"] {
        let screen = record.act(RecordAct::SaveReview, filled(&[("review_days", slip)]), NOW).unwrap();
        assert!(!shows_page(&screen) && screen.document.is_none(), "{slip}");
        assert_eq!((against(&screen), fields(&screen)[0].value.as_str()), (vec!["review_days".to_owned()], slip));
    }
    let document = record.act(RecordAct::SaveReview, filled(&[("review_days", "7")]), NOW).unwrap().document.unwrap();
    assert_eq!(document.name, "ebbstead-2026-03-01.html");
    let html = companion.review().unwrap().html(options, NOW).unwrap();
    assert_eq!(std::fs::read_to_string(document.path).unwrap(), html);
}

#[test]
fn a_supply_is_noted_and_each_slip_is_said_beside_its_field() {
    let place = tempfile::tempdir().unwrap();
    let companion = opened(place.path(), "de");
    let record = opened_at(&companion, place.path(), Chapter::Supplies);
    let before = page(&record.show(NOW).unwrap());
    let good = [
        ("item", "sensor"),
        ("stocked", "received"),
        ("amount", "6"),
        ("expires", "2026-09-30"),
        ("price", "312,50"),
        ("currency", "eur"),
        ("from", "Apotheke am Markt"),
    ];
    let note = |slip: &[(&str, &str)]| {
        let mut filled = filled(&good);
        filled.extend(slip.iter().map(|(id, value)| ((*id).to_owned(), (*value).to_owned())));
        record.act(RecordAct::NoteSupply, filled, NOW).unwrap()
    };
    let slips = ["amount:", "amount:2,5", "expires:30.9.2026", "price:teuer", "price:-1", "currency:Euro"];
    for (id, slip) in slips.map(|slip| slip.split_once(':').unwrap()) {
        let refused = note(&[(id, slip)]);
        assert!(against(&refused) == [id] && said(&refused).is_empty(), "{id} {slip}: {refused:?}");
    }
    assert_eq!(against(&note(&[("amount", "?"), ("price", "?")])), ["amount", "price"]);
    assert_eq!(against(&note(&[("stocked", "quoted"), ("price", "")])), ["price"]);
    assert_eq!(page(&record.show(NOW).unwrap()), before);
    let noted = note(&[]);
    assert!(said(&noted)[0].contains('6') && page(&noted) != before, "{noted:?}");
    let stands = |id: &str| fields(&noted).into_iter().find(|field| field.id == id).unwrap().value;
    assert_eq!(
        (stands("amount"), stands("currency"), stands("from")),
        (String::new(), "eur".to_owned(), String::new())
    );
    let listed = companion.log().unwrap().list(NOW, NOW, false, false).unwrap();
    let supply = listed
        .into_iter()
        .find_map(|one| if let EntryKind::Supply { supply } = one.entry.what { Some(supply) } else { None });
    let price = Some(Price { amount: 312.5, currency: "EUR".to_owned() });
    let (expires, from) = (Some("2026-09-30".to_owned()), Some("Apotheke am Markt".to_owned()));
    let (item, stocked) = (Item::Sensor, Stocked::Received);
    assert_eq!(supply, Some(Supply { item, stocked, amount: 6.0, expires, lot: None, price, from }));
    let undone = record.act(RecordAct::Undo, filled(&[]), NOW).unwrap();
    assert!(said(&undone)[0].ends_with("zurückgenommen") && page(&undone) == before, "{:?}", said(&undone));
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
        let record = opened_at(&companion, place.path(), Chapter::Supplies);
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
        let shown = format!("{:?}", page(&record.show(NOW).unwrap())).to_lowercase();
        for word in &words[..3] {
            assert!(shown.contains(&word.to_lowercase()), "{word}: {shown}");
        }
        let screen = record.act(RecordAct::Statement, filled(&[("need_days", "14")]), NOW).unwrap();
        let mut pages = screen
            .parts
            .iter()
            .filter_map(|part| if let RecordPart::Shown { page } = part { Some(page) } else { None });
        let statement = pages.next_back().unwrap();
        assert!(text(statement).contains(words[3]), "{statement:?}");
        let document = record.act(RecordAct::SaveText, filled(&[]), NOW).unwrap().document.unwrap();
        assert_eq!(document.name, "ebbstead-need-2026-03-01.txt");
        let plain = std::fs::read_to_string(document.path).unwrap();
        assert!(plain.starts_with(&statement.heading) && plain.contains(words[3]), "{plain}");
        let none = record.act(RecordAct::Show, filled(&[("supply_days", "0")]), NOW).unwrap();
        assert!(against(&none) == ["supply_days"] && !shows_page(&none));
        let Some(FormField { takes: ebbstead_ffi::FieldTakes::Choice { options, .. }, .. }) =
            fields(&none).into_iter().nth(1)
        else {
            panic!("{none:?}")
        };
        assert!(options.iter().any(|option| option.code == "test_strip" && option.name == words[0]), "{options:?}");
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
    let page = page(&opened_at(&companion, place.path(), Chapter::Outcomes).show(NOW).unwrap());
    let prompts = if kept() == 1 { "1 prompt ".to_owned() } else { format!("{} prompts", kept()) };
    assert!(text(&page).contains(&prompts), "{prompts}: {page:?}");
}
