//! An invented day, replayed: what was answered at each reading, as it was when it was last read and found right.
//!
//! `goldens/day.csv` holds invented readings: a meal whose fall levels off, a true low in the evening with rescue
//! carbohydrate after it, half an hour out of reach, a sensor lain on at 03:05. `goldens/day.prompts.csv` holds the answers.
//! After a change that is meant to change it: `EBBSTEAD_BLESS=1 cargo test -p ebbstead-tests --test outside replay_golden::`, then read the
//! difference before committing it.
#![allow(clippy::unwrap_used, clippy::expect_used)] // a golden that cannot be read is a failed test

use std::path::{Path, PathBuf};

use ebbstead_core::engine::{Engine, Learnt, unasked};
use ebbstead_core::log::{History, Reading};
use ebbstead_core::prompt::{Prompt, Verdict};
use ebbstead_core::time::Moment;
use ebbstead_core::units::Glucose;
use ebbstead_core::wearer::Wearer;
use ebbstead_tests::traces;
use serde::{Deserialize, Serialize};

/// What was answered at one reading.
#[derive(Debug, Deserialize, Serialize)]
struct Answered {
    clock: String,
    reading: f64,
    verdict: String,
    without_meter: String,
    sentence: String,
    blood: f64,
    blood_sd: f64,
    rate: f64,
    ahead_30: f64,
    low_30: f64,
    pressed: f64,
    unsettled: f64,
}

/// How a code is written in JSON.
fn code(of: &impl Serialize) -> String {
    match serde_json::to_value(of).unwrap() {
        serde_json::Value::String(code) => code,
        serde_json::Value::Object(fields) => fields["code"].as_str().unwrap().to_owned(),
        other => other.to_string(),
    }
}

fn answered(prompt: &Prompt, reading: f64) -> Answered {
    let round = |value: f64, places: f64| (value * places).round() / places;
    let estimate = prompt.estimate.as_ref().unwrap();
    let forecast = prompt.forecast.as_ref().unwrap();
    Answered {
        clock: prompt.at.clock(),
        reading,
        verdict: code(&prompt.verdict),
        without_meter: prompt.without_meter.map_or(String::new(), |verdict| code(&verdict)),
        sentence: code(&prompt.sentence),
        blood: round(estimate.blood_mg_dl, 10.0),
        blood_sd: round(estimate.blood_sd_mg_dl, 10.0),
        rate: round(estimate.rate.mg_dl_min(), 100.0),
        ahead_30: round(forecast.path[5].reading_mg_dl, 10.0),
        low_30: round(forecast.low.within_30, 1000.0),
        pressed: round(estimate.modes.compression, 1000.0),
        unsettled: round(estimate.modes.unsettled, 1000.0),
    }
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("goldens")
}

fn replayed() -> Vec<Answered> {
    let trace = traces::load(&folder().join("day.csv")).unwrap();
    let (history, wearer) = (History::default(), Wearer::default());
    let mut engine = Engine::new(&history, &wearer, &Learnt::default());
    let reading = |(minute, mg_dl): (&f64, &f64)| {
        let at = Moment::new((minute * 60_000.0).round() as i64, 0).unwrap();
        engine.reading(Reading::new(at, Glucose::from_mg_dl(*mg_dl).unwrap()));
        answered(&engine.answer(&unasked(at)), *mg_dl)
    };
    trace.minutes.iter().zip(&trace.mg_dl).map(reading).collect()
}

#[test]
fn the_day_is_answered_as_it_was() {
    let (path, now) = (folder().join("day.prompts.csv"), replayed());
    if std::env::var_os("EBBSTEAD_BLESS").is_some() {
        let mut writer = csv::Writer::from_path(&path).unwrap();
        now.iter().for_each(|line| writer.serialize(line).unwrap());
        writer.flush().unwrap();
    }
    let then: Vec<Answered> = csv::Reader::from_path(&path).unwrap().deserialize().map(Result::unwrap).collect();
    assert_eq!(now.len(), then.len());
    for (now, then) in now.iter().zip(&then) {
        let same_words = now.verdict == then.verdict
            && now.without_meter == then.without_meter
            && now.sentence == then.sentence
            && now.clock == then.clock;
        // The last digit may round the other way on another machine.
        let near = |of: fn(&Answered) -> f64, step: f64| (of(now) - of(then)).abs() < 1.5 * step;
        let same_numbers = near(|one| one.blood, 0.1)
            && near(|one| one.blood_sd, 0.1)
            && near(|one| one.rate, 0.01)
            && near(|one| one.ahead_30, 0.1)
            && near(|one| one.low_30, 0.001)
            && near(|one| one.pressed, 0.001)
            && near(|one| one.unsettled, 0.001);
        assert!(same_words && same_numbers, "now {now:?}\nthen {then:?}\nsee the head of this file");
    }
}

/// What the day was made to show, whatever the numbers.
#[test]
fn the_day_shows_what_it_was_made_for() {
    let day = replayed();
    let between = |from: &str, until: &str| {
        let at = |clock: &str| day.iter().position(|one| one.clock.as_str() >= clock).unwrap();
        &day[at(from)..at(until)]
    };
    let treats = |one: &&Answered| one.verdict == code(&Verdict::Treat) || one.without_meter == code(&Verdict::Treat);
    // A fall from 212 that levels off at 104 is left alone.
    assert_eq!(between("14:30", "17:45").iter().filter(treats).count(), 0);
    // The true low is treated by the time it is one, and to its end.
    assert!(between("18:30", "19:00").iter().any(|one| treats(&one)));
    assert!(between("19:05", "19:45").iter().all(|one| treats(&one)));
    // The sensor lain on is doubted, at every reading below 70.
    let mut pressed =
        day.iter().filter(|one| ("03:05".."03:50").contains(&one.clock.as_str()) && one.reading < 70.0).peekable();
    assert!(pressed.peek().is_some());
    assert!(pressed.all(|one| one.verdict == code(&Verdict::Check)));
}
