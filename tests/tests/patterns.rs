//! Patterns: found where planted, by kind, and not found where there is nothing. The test itself is checked against SciPy by
//! `reference/patterns_reference.py`, and its power on people's records by `patterns_planted.rs`.
#![allow(clippy::unwrap_used, clippy::panic)] // a test may stop where it stands

use ebbstead_core::log::{Activity, Carbohydrate, Effort, History, Purpose, Reading, Text};
use ebbstead_core::review::patterns::{Kind, Looked, MealTime, SURE, patterns};
use ebbstead_core::review::{Period, Review, ReviewOptions};
use ebbstead_core::sentences::review::{pattern_lines, summary};
use ebbstead_core::time::Moment;
use ebbstead_core::units::{Glucose, GlucoseUnit};
use ebbstead_core::wearer::{Language, Wearer};
use ebbstead_core::words::Words;

const DAYS: u32 = 28;

fn start() -> Moment {
    Moment::parse("2026-03-02T00:00:00+01:00").unwrap()
}

/// A level record of four weeks with lows (minute of the record, 30 min each) and highs (60 min each) put in.
fn record(lows: &[u32], highs: &[u32]) -> History {
    let amount = |minute: u32| {
        let hit = |all: &[u32], length: u32| all.iter().any(|from| (*from..from + length).contains(&minute));
        if hit(lows, 30) {
            60.0
        } else if hit(highs, 60) {
            220.0
        } else {
            120.0
        }
    };
    let reading =
        |k: u32| Reading::new(start().plus_minutes(f64::from(k * 5)), Glucose::from_mg_dl(amount(k * 5)).unwrap());
    History { readings: (0..DAYS * 288).map(reading).collect(), ..History::default() }
}

fn look(history: &History) -> Looked {
    let period = Period::new(start(), start().plus_minutes(f64::from(DAYS) * 1440.0)).unwrap();
    let review = Review::of(history, &Wearer::default(), period, ReviewOptions::default());
    patterns(&review, history)
}

fn kinds(looked: &Looked) -> Vec<Kind> {
    looked.found.iter().map(|one| one.kind).collect()
}

#[test]
fn finds_lows_that_come_at_one_time_of_night() {
    let lows: Vec<u32> = (0..DAYS).step_by(3).map(|day| day * 1440 + 3 * 60 + 20).collect();
    let looked = look(&record(&lows, &[]));
    let [one] = looked.found.as_slice() else { panic!("{looked:?}") };
    let Kind::LowsBetween { hours } = one.kind else { panic!("{one:?}") };
    assert!(hours.contains_minute(200) && !hours.contains_minute(0) && one.at_night, "{one:?}");
    assert_eq!((one.hits, one.of), (10, 28));
    assert_eq!((one.serious, one.longest_minutes), (0, Some(30.0)));
    assert!(one.corrected_p <= SURE && one.expected < 2.0, "{one:?}");
    assert_eq!(one.dates[0].to_string(), "2026-03-02");
    for language in [Language::ENGLISH, Language::GERMAN] {
        let said = pattern_lines(&looked, Words::new(language, GlucoseUnit::MgDl)).join("\n");
        assert!(said.contains("03:00") && said.contains("10") && said.contains("29"), "{said}");
    }
}

/// What the issue measured: lows on most nights, spread from 23 to 06 o'clock, some of them long. Bands that end at midnight see
/// nothing of it.
#[test]
fn finds_lows_that_come_on_most_nights_on_both_sides_of_midnight() {
    let begins = [
        (0, 23, 40),
        (2, 0, 20),
        (3, 2, 0),
        (4, 23, 10),
        (6, 4, 30),
        (8, 1, 0),
        (8, 23, 50),
        (10, 3, 10),
        (12, 5, 0),
        (13, 0, 40),
    ];
    let lows: Vec<u32> = begins.into_iter().map(|(day, hour, minute)| day * 1440 + hour * 60 + minute).collect();
    let history = record(&lows, &[]);
    let period = Period::new(start(), start().plus_minutes(14.0 * 1440.0)).unwrap();
    let review = Review::of(&history, &Wearer::default(), period, ReviewOptions::default());
    let looked = patterns(&review, &history);
    let one = looked.found.first().unwrap_or_else(|| panic!("nothing found"));
    assert!(matches!(one.kind, Kind::LowsBetween { .. }) && one.at_night && one.hits >= 9 && one.of >= 13, "{one:?}");
    // The summary leads with it.
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    let said = summary(&review, None, &looked, words);
    assert!(said[0].starts_with(&format!("On {} of {} nights you were low between ", one.hits, one.of)), "{said:?}");
}

#[test]
fn finds_lows_after_movement_and_highs_after_breakfast() {
    let days: Vec<u32> = (0..DAYS).step_by(3).collect();
    // The hours of lows are spread, so that the hour alone is no pattern.
    let lows: Vec<u32> = days.iter().map(|day| day * 1440 + 1080 + 60 + (day % 5) * 120).collect();
    let mut history = record(&lows, &(0..DAYS).map(|day| day * 1440 + 480 + 45).collect::<Vec<u32>>());
    let moved = |day: &u32| Activity {
        at: start().plus_minutes(f64::from(day * 1440 + 1020)),
        name: Text::new("walk").unwrap(),
        minutes: 60.0,
        effort: Effort::Moderate,
    };
    history.activities = days.iter().map(moved).collect();
    let meal =
        |minute: u32| Carbohydrate { at: start().plus_minutes(f64::from(minute)), grams: 50.0, purpose: Purpose::Meal };
    history.carbohydrate = (0..DAYS).flat_map(|day| [480, 780, 1140].map(|minute| meal(day * 1440 + minute))).collect();
    let found = kinds(&look(&history));
    assert!(found.contains(&Kind::LowsAfterMovement), "{found:?}");
    assert!(found.contains(&Kind::HighsAfterMeals { time: MealTime::Morning }), "{found:?}");
    assert!(!found.contains(&Kind::HighsAfterMeals { time: MealTime::Evening }), "{found:?}");
}

#[test]
fn finds_rebounds_and_days_that_differ() {
    let lows: Vec<u32> = (0..DAYS).step_by(2).map(|day| day * 1440 + (day * 97) % 1200).collect();
    let highs: Vec<u32> = lows.iter().map(|low| low + 30 + 60).collect();
    let mut history = record(&lows, &highs);
    let rescue = |low: &u32| Carbohydrate {
        at: start().plus_minutes(f64::from(low + 10)),
        grams: 30.0,
        purpose: Purpose::Rescue,
    };
    history.carbohydrate = lows.iter().map(rescue).collect();
    assert!(kinds(&look(&history)).contains(&Kind::ReboundAfterRescue));

    // The second of March 2026 is a Monday.
    let weekend: Vec<u32> = (0..DAYS).filter(|day| day % 7 >= 5).map(|day| day * 1440 + (day * 311) % 1200).collect();
    assert!(kinds(&look(&record(&weekend, &[]))).contains(&Kind::LowsAtWeekends));
}

/// Of records with lows and highs at chance times, no more than about one in twenty may show a pattern. With 200 records and
/// a true share of 5 % more than 18 is a one in a hundred chance (binomial).
#[test]
fn finds_next_to_nothing_where_there_is_nothing() {
    let mut seed = 7_u64;
    let mut minute = || {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((seed >> 33) % u64::from(DAYS * 288 - 24)) as u32 * 5
    };
    let mut shown = 0;
    for _ in 0..200 {
        let lows: Vec<u32> = (0..14).map(|_| minute()).collect();
        let highs: Vec<u32> = (0..28).map(|_| minute()).collect();
        shown += usize::from(!look(&record(&lows, &highs)).found.is_empty());
    }
    assert!(shown <= 18, "{shown} of 200");
}

#[test]
fn too_little_is_said_and_not_judged() {
    let looked = look(&History::default());
    assert_eq!(looked, Looked::default());
    let said = pattern_lines(&looked, Words::new(Language::ENGLISH, GlucoseUnit::MgDl));
    assert_eq!(said, ["There is too little yet to look for patterns."]);
}
