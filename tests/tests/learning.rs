//! What is learnt from a log, kept in it, and taken up by later prompts.
#![allow(clippy::unwrap_used, clippy::panic)] // a log that cannot be built is a failed test

use ebbstead_core::estimate::adapt::Adaptation;
use ebbstead_core::learn::points::Point;
use ebbstead_core::learn::{KEPT_AS, Lesson, Lessons, for_prompt, from_log};
use ebbstead_core::log::{Entry, Source, What};
use ebbstead_core::store::Log;
use ebbstead_core::time::{DAY_MS, Moment};
use ebbstead_core::units::Glucose;
use ebbstead_core::watch::{Learnt, Watch};
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
        Entry::received(reading.at, now, sensor.clone(), What::SensorReading { mg_dl }).unwrap()
    });
    log.record_all(readings.collect::<Vec<_>>()).unwrap();
    let checks = drawn.history.meter_checks.iter().map(|check| {
        Entry::received(check.at, now, Source::by_hand(), What::MeterCheck { mg_dl: check.glucose }).unwrap()
    });
    log.record_all(checks.collect::<Vec<_>>()).unwrap();
    (log, now)
}

fn spells(marked: &[Entry]) -> Vec<(String, String)> {
    let clock = |entry: &Entry| match entry.what {
        What::PressedSpell { until } => (entry.at.to_rfc3339(), until.to_rfc3339()),
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
        matches!(points[0], Point::TooLittle { have_days, need_days } if (3.1..=3.2).contains(&have_days) && need_days >= 7.0),
        "{points:?}"
    );
    // Forecasts are mended all the same.
    assert!(lesson.learnt.dynamics.is_none() && lesson.forecasts > 100, "{points:?}");
    let kept = log.learned::<Lesson>(KEPT_AS).unwrap().unwrap();
    assert_eq!(kept.what, lesson);
    assert!(kept.evidence.starts_with("3.") && kept.evidence.contains("of 7 needed"), "{}", kept.evidence);
}

#[test]
fn learning_marks_the_pressed_spell_once_and_never_again_where_it_was_taken_back() {
    let (mut log, now) = log(9.0);
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
    assert!(!log.holding(marked[0].at, now).unwrap().iter().any(|entry| entry.id == marked[0].id));
}

#[test]
fn what_was_learnt_from_does_not_teach_twice() {
    let (mut log, now) = log(9.0);
    from_log(&mut log, now).unwrap();
    let learnt = for_prompt(&log, now).unwrap();
    assert_eq!(learnt.until, Some(now));
    let kept = learnt.outlook.clone().unwrap();
    let (history, wearer) = (log.history(now.plus_ms(-2 * DAY_MS), now).unwrap(), Wearer::default());
    let gone_through = |learnt: &Learnt| {
        let mut watch = Watch::new(&history, &wearer, learnt);
        watch.go_through(now);
        watch.outlook().kept()
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
    assert!(for_prompt(&log, now).unwrap().outlook.is_some());
    assert_eq!(for_prompt(&log, now.plus_minutes(-5.0)).unwrap(), Learnt::default());
}
