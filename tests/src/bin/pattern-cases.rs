//! Writes invented records as their lows, and what core made of them as patterns, for SciPy to check.
//!
//! `reference/patterns_reference.py` builds the looks and their null by itself, from what `review::patterns` says of its method. The
//! records hold readings every five minutes, with or without gaps, and lows; no meals, movement or sensors.

use std::io::Write;
use std::process::ExitCode;

use ebbstead_core::log::{History, Reading};
use ebbstead_core::review::patterns::{Kind, SHUFFLES, patterns_up_to};
use ebbstead_core::review::{Period, Review, ReviewOptions};
use ebbstead_core::time::Moment;
use ebbstead_core::units::Glucose;
use ebbstead_core::wearer::Wearer;
use ebbstead_tests::rng::NumpyRng;
use serde::Serialize;

#[derive(Serialize)]
struct Case {
    name: &'static str,
    shuffles: usize,
    days: u32,
    /// Minutes of each date from and until which there are no readings.
    gaps: Vec<(u32, u32)>,
    /// Minutes of the record from and until which it is low.
    lows: Vec<(u32, u32)>,
    looks: usize,
    patterns: Vec<FoundPattern>,
}

#[derive(Serialize)]
struct FoundPattern {
    kind: String,
    /// Of hours.
    from_minute: Option<u16>,
    until_minute: Option<u16>,
    hits: usize,
    of: usize,
    expected: f64,
    corrected_p: f64,
}

/// A Monday.
const START: &str = "2026-03-02T00:00:00+01:00";
const LASTING: u32 = 30;

fn case(name: &'static str, days: u32, gaps: &[(u32, u32)], begins: &[u32]) -> Result<Case, ebbstead_core::Error> {
    let start = Moment::parse(START)?;
    let seen = |minute: u32| !gaps.iter().any(|(from, until)| (*from..*until).contains(&(minute % 1440)));
    let lows: Vec<(u32, u32)> = begins.iter().map(|begin| (*begin, begin + LASTING)).collect();
    let mut history = History::default();
    for minute in (0..days * 1440).step_by(5).filter(|minute| seen(*minute)) {
        let low = lows.iter().any(|(from, until)| (*from..*until).contains(&minute));
        let glucose = Glucose::from_mg_dl(if low { 60.0 } else { 120.0 })?;
        history.readings.push(Reading::new(start.plus_minutes(f64::from(minute)), glucose));
    }
    let period = Period::new(start, start.plus_minutes(f64::from(days) * 1440.0))?;
    let review = Review::of(&history, &Wearer::default(), period, ReviewOptions::default());
    let looked = patterns_up_to(&review, &history, 1.0);
    let patterns = looked.found.iter().map(|one| {
        let hours = match one.kind {
            Kind::LowsBetween { hours } => Some(hours),
            _ => None,
        };
        FoundPattern {
            kind: hours.map_or_else(|| format!("{:?}", one.kind), |_| "LowsBetween".to_owned()),
            from_minute: hours.map(|hours| hours.from_minute),
            until_minute: hours.map(|hours| hours.until_minute),
            hits: one.hits,
            of: one.of,
            expected: one.expected,
            corrected_p: one.corrected_p,
        }
    });
    Ok(Case {
        name,
        shuffles: SHUFFLES,
        days,
        gaps: gaps.to_vec(),
        lows,
        looks: looked.looks,
        patterns: patterns.collect(),
    })
}

/// Begins of lows on random dates of those that `on` holds, each at a minute that `at` draws, on the grid of the readings.
fn drawn(
    random: &mut NumpyRng,
    days: u32,
    count: usize,
    on: impl Fn(u32) -> bool,
    (from, until): (u32, u32),
) -> Vec<u32> {
    let mut left: Vec<u32> = (0..days).filter(|day| on(*day)).collect();
    let mut begins = Vec::new();
    while begins.len() < count && !left.is_empty() {
        let day = left.swap_remove(random.integer(0, left.len() as u32) as usize);
        begins.push(day * 1440 + random.integer(from, until) / 5 * 5);
    }
    begins
}

fn cases() -> Result<Vec<Case>, ebbstead_core::Error> {
    let mut random = NumpyRng::seeded_with_5();
    let any = |_: u32| true;
    let mut cases = Vec::new();
    let random_lows = |random: &mut NumpyRng, days, count| drawn(random, days, count, any, (0, 1400));
    cases.push(case("nothing, 14 days", 14, &[], &random_lows(&mut random, 14, 9))?);
    let mut begins = drawn(&mut random, 14, 5, any, (120, 240));
    begins.extend(random_lows(&mut random, 14, 6));
    cases.push(case("a third of the nights", 14, &[], &begins)?);
    let mut begins = drawn(&mut random, 28, 8, any, (1380, 1435));
    begins.extend(random_lows(&mut random, 28, 14));
    cases.push(case("around midnight", 28, &[], &begins)?);
    let mut begins = drawn(&mut random, 56, 9, |day| day % 7 >= 5, (0, 1400));
    begins.extend(drawn(&mut random, 56, 10, |day| day % 7 < 5, (0, 1400)));
    cases.push(case("weekends", 56, &[], &begins)?);
    let mut begins = drawn(&mut random, 28, 7, any, (180, 300));
    begins.extend(drawn(&mut random, 28, 12, any, (840, 1400)));
    cases.push(case("gaps", 28, &[(480, 780)], &begins)?);
    Ok(cases)
}

fn main() -> ExitCode {
    let Some(path) = std::env::args_os().nth(1) else {
        let _ = writeln!(std::io::stderr(), "usage: pattern-cases FILE");
        return ExitCode::from(2);
    };
    let written = cases()
        .map_err(|error| error.to_string())
        .and_then(|cases| serde_json::to_vec(&cases).map_err(|error| error.to_string()))
        .and_then(|text| std::fs::write(&path, text).map_err(|error| error.to_string()));
    match written {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            let _ = writeln!(std::io::stderr(), "{why}");
            ExitCode::FAILURE
        }
    }
}
