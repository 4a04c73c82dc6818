//! What is learnt from a log, kept in it, and taken up by later prompts.
#![allow(clippy::unwrap_used, clippy::panic)] // a log that cannot be built is a failed test

use ebbstead_core::before::Before;
use ebbstead_core::before::sleep::{Likelier, Look};
use ebbstead_core::engine::{Engine, Learnt};
use ebbstead_core::estimate::adapt::Adaptation;
use ebbstead_core::estimate::sites::Sites;
use ebbstead_core::learn::points::Point;
use ebbstead_core::learn::{KEPT_AS, Lesson, Lessons, for_prompt, from_log};
use ebbstead_core::log::{Entry, EntryKind, SensorEvent, Source, Text};
use ebbstead_core::store::Log;
use ebbstead_core::time::{DAY_MS, Moment};
use ebbstead_core::units::Glucose;
use ebbstead_core::wearer::Wearer;
use ebbstead_tests::simulate::Draw;

/// A log of drawn readings, one of them a pressed spell in the fourth night, and the time of the newest.
fn log(days: f64) -> (Log, Moment) {
    let drawn = Draw { meter_every: 100, ..Draw::calm(days, 5) }.draw().unwrap();
    let now = drawn.history.readings.last().unwrap().at;
    let sensor = Source::new("sensor (invented)").unwrap();
    let mut log = Log::in_memory(now).unwrap();
    let pressed_from = Moment::parse("2026-03-04T02:30:00+01:00").unwrap();
    let readings = drawn.history.readings.iter().map(|reading| {
        let minutes = reading.at.minutes_since(pressed_from);
        let share = if (0.0..35.0).contains(&minutes) { 0.5 } else { 1.0 };
        let mg_dl = Glucose::from_mg_dl((reading.glucose.mg_dl() * share).max(40.0)).unwrap();
        Entry::received(reading.at, now, sensor.clone(), EntryKind::SensorReading { mg_dl }).unwrap()
    });
    log.record_all(readings.collect::<Vec<_>>()).unwrap();
    let checks = drawn.history.meter_checks.iter().map(|check| {
        Entry::received(check.at, now, Source::by_hand(), EntryKind::MeterCheck { mg_dl: check.glucose }).unwrap()
    });
    log.record_all(checks.collect::<Vec<_>>()).unwrap();
    (log, now)
}

fn spells(marked: &[Entry]) -> Vec<(String, String)> {
    let clock = |entry: &Entry| match entry.what {
        EntryKind::CompressionLow { until } => (entry.at.to_rfc3339(), until.to_rfc3339()),
        _ => panic!("{entry:?}"),
    };
    marked.iter().map(clock).collect()
}

#[test]
fn too_few_days_say_what_is_missing() {
    let (mut log, now) = log(3.2);
    let Lessons { lesson, .. } = from_log(&mut log, now).unwrap();
    let points = lesson.points();
    assert!(
        matches!(points[0], Point::TooLittle { have_days, need_days } if (3.1..=3.2).contains(&have_days) && need_days >= 10.0),
        "{points:?}"
    );
    // Forecasts are corrected all the same.
    assert!(lesson.learnt.dynamics.is_none() && lesson.forecasts > 100, "{points:?}");
    let kept = log.learned::<Lesson>(KEPT_AS).unwrap().unwrap();
    assert_eq!(kept.what, lesson);
    assert!(kept.evidence.starts_with("3.") && kept.evidence.contains("of 10 needed"), "{}", kept.evidence);
}

#[test]
fn learning_marks_the_pressed_spell_once_and_never_again_where_it_was_taken_back() {
    let (mut log, now) = log(12.0);
    let Lessons { lesson, marked } = from_log(&mut log, now).unwrap();
    let Adaptation::Adapted { evidence, .. } = &lesson.adaptation else { panic!("{:?}", lesson.adaptation) };
    assert!(evidence.days > 8.0 && evidence.meter_checks > 20, "{evidence:?}");
    let night = |marked: &[Entry]| spells(marked).iter().any(|(from, _)| from.starts_with("2026-03-04T02:"));
    assert!(night(&marked), "{:?}", spells(&marked));
    let again = from_log(&mut log, now).unwrap();
    assert!(!night(&again.marked), "{:?}", spells(&again.marked));
    // What is noted last is not undone by accident: the marks are the core's, not the wearer's.
    assert!(log.undo_last(now).unwrap().is_none());
    for entry in marked.iter().chain(&again.marked) {
        log.retract(entry.id, now).unwrap();
    }
    let after = from_log(&mut log, now).unwrap();
    assert!(!night(&after.marked), "{:?}", spells(&after.marked));
    assert!(!log.current(marked[0].at, now).unwrap().iter().any(|entry| entry.id == marked[0].id));
}

#[test]
fn what_was_learnt_from_does_not_teach_twice() {
    let (mut log, now) = log(12.0);
    from_log(&mut log, now).unwrap();
    let learnt = for_prompt(&log, now).unwrap();
    assert_eq!(learnt.until, Some(now));
    let kept = learnt.forecaster.clone().unwrap();
    let (history, wearer) = (log.history(now.plus_ms(-2 * DAY_MS), now).unwrap(), Wearer::default());
    let gone_through = |learnt: &Learnt| {
        let mut engine = Engine::new(&history, &wearer, learnt);
        engine.replay(now);
        engine.forecaster().kept()
    };
    assert_eq!(gone_through(&learnt), kept);
    // The same two days do teach where they are new.
    assert_ne!(gone_through(&Learnt { until: None, ..learnt.clone() }), kept);
    let half = Learnt { until: Some(now.plus_ms(-DAY_MS)), ..learnt };
    assert_ne!(gone_through(&half), kept);
}

#[test]
fn a_prompt_of_the_past_knows_nothing_learnt_later() {
    let (mut log, now) = log(8.0);
    assert_eq!(for_prompt(&log, now).unwrap(), Learnt::default());
    from_log(&mut log, now).unwrap();
    assert!(for_prompt(&log, now).unwrap().forecaster.is_some());
    assert_eq!(for_prompt(&log, now.plus_minutes(-5.0)).unwrap(), Learnt::default());
}

/// Two weeks on a site that is lain on in every night: a prompt, which looks two days back, expects it there and not elsewhere.
#[test]
fn a_sites_record_reaches_prompts_that_look_back_less_far() {
    let drawn = Draw::calm(14.0, 9).draw().unwrap();
    let now = Moment::parse("2026-03-14T02:45:00+01:00").unwrap();
    let sensor = Source::new("sensor (invented)").unwrap();
    let mut log = Log::in_memory(now).unwrap();
    let begin = drawn.history.readings[0].at;
    let inserted = |at: Moment, site: &str| {
        let event = SensorEvent::inserted(Some(Text::new(site).unwrap()));
        Entry::received(at, now, Source::by_hand(), EntryKind::Sensor(event)).unwrap()
    };
    log.record_all([inserted(begin, "left arm")]).unwrap();
    let half_past_two = Moment::parse("2026-03-02T02:30:00+01:00").unwrap();
    let readings = drawn.history.readings.iter().filter(|reading| reading.at <= now).map(|reading| {
        let minutes = reading.at.minutes_since(half_past_two).rem_euclid(1440.0);
        // The last night's spell has only begun, and not deeply.
        let tonight = now.minutes_since(reading.at) < 60.0;
        let depth = if tonight { 0.2 } else { 0.5 };
        let share = if minutes < 35.0 { 1.0 - depth } else { 1.0 };
        let mg_dl = Glucose::from_mg_dl((reading.glucose.mg_dl() * share).max(40.0)).unwrap();
        Entry::received(reading.at, now, sensor.clone(), EntryKind::SensorReading { mg_dl }).unwrap()
    });
    log.record_all(readings.collect::<Vec<_>>()).unwrap();
    let lesson = from_log(&mut log, now).unwrap().lesson;
    let sites = lesson.learnt.sites.clone().unwrap();
    let left = &sites.worn[0];
    assert!(left.spells >= 8 && (12.0..14.0).contains(&left.nights), "{left:?}");
    assert_eq!(sites.newest.as_ref().unwrap().site.as_ref().unwrap().as_str(), "left arm");

    let (history, wearer) = (log.history(now.plus_ms(-2 * DAY_MS), now).unwrap(), Wearer::default());
    assert!(history.sensor.is_empty(), "the insertion lies further back");
    let pressed = |sites: Option<Sites>| {
        let mut history = history.clone();
        history.compression_lows.clear();
        let learnt = Learnt { sites, ..lesson.learnt.clone() };
        let mut engine = Engine::new(&history, &wearer, &learnt);
        engine.warm_up(now);
        engine.tracker().modes().unwrap().compression
    };
    let mut elsewhere = sites.clone();
    elsewhere.worn[0].spells = 0;
    let (here, unknown, rare) = (pressed(Some(sites)), pressed(None), pressed(Some(elsewhere)));
    println!("pressed: {here} here, {unknown} on a site unknown, {rare} on one never pressed");
    assert!(here > unknown && unknown > rare, "{here} {unknown} {rare}");
}

/// A lesson kept before sites were learnt is read as one that knows none.
#[test]
fn a_lesson_without_sites_is_still_read() {
    let (mut log, now) = log(3.0);
    let lesson = from_log(&mut log, now).unwrap().lesson;
    let mut kept = serde_json::to_value(&lesson).unwrap();
    kept["learnt"].as_object_mut().unwrap().remove("sites").unwrap();
    let read: Lesson = serde_json::from_value(kept).unwrap();
    assert_eq!(read.learnt.sites, None);
    assert_eq!(read.learnt.forecaster, lesson.learnt.forecaster);
}

/// And one kept before it was learnt when lows begin, as one that does not know.
#[test]
fn a_lesson_without_the_hour_of_lows_is_still_read() {
    let (mut log, now) = log(3.0);
    let lesson = from_log(&mut log, now).unwrap().lesson;
    let mut kept = serde_json::to_value(&lesson).unwrap();
    kept["nights"].as_object_mut().unwrap().remove("lows_begin").unwrap();
    let read: Lesson = serde_json::from_value(kept).unwrap();
    assert_eq!((read.nights.nights, read.nights.lows_begin), (lesson.nights.nights, None));
}

/// Nights that went otherwise than everybody's correct the chance, and a question of the past is not answered with what was learnt later.
#[test]
fn own_nights_correct_the_chance_of_the_next_one() {
    // Forty evenings at 130 mg/dL; on half of the nights a fall to 62 at three.
    let start = Moment::parse("2026-03-01T00:00:00+01:00").unwrap();
    let now = start.plus_minutes(40.0 * 1440.0 + 22.5 * 60.0);
    let sensor = Source::new("sensor (invented)").unwrap();
    let count = (now.minutes_since(start) / 5.0) as i64;
    let reading = |k: i64| {
        let (day, of_day) = (k / 288, k % 288);
        // Two hours down, half an hour there and two hours up: no pressed sensor does that.
        let below = match of_day {
            _ if day % 2 == 1 => 0,
            12..36 => of_day - 12,
            36..42 => 24,
            42..66 => 66 - of_day,
            _ => 0,
        };
        let mg_dl = 130.0 - 68.0 * below as f64 / 24.0 + (k % 3) as f64;
        let at = start.plus_minutes(5.0 * k as f64);
        Entry::received(
            at,
            now,
            sensor.clone(),
            EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(mg_dl).unwrap() },
        )
        .unwrap()
    };
    let mut log = Log::in_memory(now).unwrap();
    log.record_all((0..=count).map(reading).collect::<Vec<_>>()).unwrap();
    let asked = |log: &Log, at| Before::at(log, at, None).unwrap().sleep(None).unwrap().chance.unwrap();
    let before = asked(&log, now);
    assert!(!before.corrected_low && before.nights == 0 && before.own == before.everybody, "{before:?}");
    let Lessons { lesson, marked } = from_log(&mut log, now).unwrap();
    assert!(marked.is_empty(), "{:?}", spells(&marked));
    let nights = lesson.nights;
    assert!((36..=40).contains(&nights.nights), "{nights:?}");
    assert!(nights.with_low.abs_diff(nights.nights / 2) <= 1 && nights.with_floor == 0, "{nights:?}");
    let after = asked(&log, now);
    assert!(after.corrected_low, "{after:?} {nights:?}");
    assert_eq!(after.everybody, before.everybody);
    // Half of the nights: nearer to that than everybody's.
    assert!((after.own.p_low - 0.5).abs() < (after.everybody.p_low - 0.5).abs(), "{after:?}");
    let past = asked(&log, now.plus_minutes(-5.0 * 1440.0));
    assert!(past.nights == 0 && past.own == past.everybody, "{past:?}");
    // When they begin is learnt too: below 70 from 02:50 on.
    let begins = nights.lows_begin.unwrap();
    assert_eq!((begins.from_minute, begins.nights), (170, nights.with_low), "{begins:?}");
    let asked = Before::at(&log, now, None).unwrap().sleep(None).unwrap();
    let clock = |at: Moment| at.clock();
    let Look::InTheNight { at } = asked.look else { panic!("{:?}", asked.look) };
    assert_eq!(clock(at), "02:35");
    assert_eq!(asked.alarm.map(|alarm| (clock(alarm.from), clock(alarm.to))), Some(("02:50".into(), "03:50".into())));
}

/// A week of lows at one hour is looked after before anything was learnt.
#[test]
fn the_hour_of_own_lows_is_seen_in_the_last_week() {
    let now = Moment::parse("2026-03-20T22:30:00+01:00").unwrap();
    let sensor = Source::new("sensor (invented)").unwrap();
    // Below 70 mg/dL about 03:20 on every night, or only on those so many days ago and before.
    let asked = |days_ago: i64| {
        let reading = |k: i64| {
            let at = now.plus_minutes(-5.0 * k as f64);
            let from_three = f64::from(at.minute_of_day()) - 200.0;
            let below = if k / 288 >= days_ago { 85.0 * (-(from_three / 40.0).powi(2)).exp() } else { 0.0 };
            let glucose = Glucose::from_mg_dl(145.0 - below + (k % 3) as f64).unwrap();
            Entry::received(at, now, sensor.clone(), EntryKind::SensorReading { mg_dl: glucose }).unwrap()
        };
        let mut log = Log::in_memory(now).unwrap();
        log.record_all((0..=8 * 288).rev().map(reading).collect::<Vec<_>>()).unwrap();
        Before::at(&log, now, None).unwrap().sleep(None).unwrap()
    };
    let each = asked(0);
    let own = each.likelier.iter().find_map(|one| match one {
        Likelier::OwnLows { nights, of_nights, from, .. } => Some((*nights, *of_nights, *from)),
        _ => None,
    });
    let (nights, of_nights, from) = own.unwrap();
    assert!(nights == of_nights && nights >= 7, "{nights} of {of_nights}");
    assert!(from.clock().as_str() >= "02:55" && from.clock().as_str() < "03:15", "{}", from.clock());
    assert_eq!(each.look, Look::InTheNight { at: from.plus_minutes(-15.0) });
    // Seldom, it is no habit.
    let seldom = asked(5);
    assert!(!seldom.likelier.iter().any(|one| matches!(one, Likelier::OwnLows { .. })), "{:?}", seldom.likelier);
}
