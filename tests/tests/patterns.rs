//! Patterns: the test against general-purpose statistics, found where planted, and not found where there is nothing.
#![allow(clippy::unwrap_used, clippy::panic)] // a test may stop where it stands

use ebbstead_core::log::{Activity, Carbohydrate, Effort, History, Purpose, Reading, Text};
use ebbstead_core::review::patterns::{Kind, Looked, MealTime, fisher_more_often, holm, patterns};
use ebbstead_core::review::{Manner, Period, Review};
use ebbstead_core::sentences::review::pattern_lines;
use ebbstead_core::time::Moment;
use ebbstead_core::units::{Glucose, GlucoseUnit};
use ebbstead_core::wearer::{Language, Wearer};
use ebbstead_core::words::Words;

fn near(got: f64, expected: f64, within: f64) {
    assert!((got - expected).abs() <= within, "{got} is not {expected} within {within}");
}

/// SciPy 1.17.1: `fisher_exact([[hits, of - hits], [other_hits, other_of - other_hits]], alternative="greater").pvalue`.
#[test]
fn the_test_is_fishers() {
    for (hits, of, other_hits, other_of, p) in [
        (10, 28, 0, 196, 1.8358045349284703e-10),
        (3, 10, 5, 40, 0.18777290734135177),
        (5, 5, 1, 5, 0.02380952380952381),
        (0, 7, 3, 9, 1.0),
        (40, 100, 300, 1000, 0.027285367719378527),
    ] {
        near(fisher_more_often(hits, of, other_hits, other_of), p, 1e-9);
    }
}

/// statsmodels 0.15.0: `multipletests([0.01, 0.04, 0.03, 0.005, 0.5], method="holm")[1]`.
#[test]
fn the_correction_is_holms() {
    let got = holm(&[0.01, 0.04, 0.03, 0.005, 0.5]);
    got.iter().zip([0.04, 0.09, 0.09, 0.025, 0.5]).for_each(|(got, expected)| near(*got, expected, 1e-12));
    assert!(holm(&[]).is_empty());
}

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
    let review = Review::of(history, &Wearer::default(), period, Manner::default());
    patterns(&review, history)
}

fn kinds(looked: &Looked) -> Vec<Kind> {
    looked.found.iter().map(|one| one.kind).collect()
}

#[test]
fn finds_lows_that_come_at_one_time_of_night() {
    let lows: Vec<u32> = (0..DAYS).step_by(3).map(|day| day * 1440 + 3 * 60 + 20).collect();
    let looked = look(&record(&lows, &[]));
    assert_eq!(kinds(&looked), [Kind::LowsFrom(3), Kind::LowsAtNight]);
    let one = &looked.found[0];
    assert_eq!((one.hits, one.of, one.other_hits, one.other_of), (10, 28, 0, 196));
    assert_eq!(one.dates[0].to_string(), "2026-03-02");
    for language in [Language::English, Language::German] {
        let said = pattern_lines(&looked, Words::new(language, GlucoseUnit::MgDl)).join("\n");
        assert!(said.contains("03:00-06:00") && said.contains("10") && said.contains("2026-03-29"), "{said}");
    }
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
    assert!(found.contains(&Kind::HighsAfterMeals(MealTime::Morning)), "{found:?}");
    assert!(!found.contains(&Kind::HighsAfterMeals(MealTime::Evening)), "{found:?}");
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
    let said = pattern_lines(&looked, Words::new(Language::English, GlucoseUnit::MgDl));
    assert_eq!(said, ["There is too little yet to look for patterns."]);
}
