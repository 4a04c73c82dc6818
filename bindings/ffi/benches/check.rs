//! A check asked in Rust, without anything foreign: what `bindings/kotlin/bench.sh` holds its own against.
//!
//! `cargo bench -p ebbstead-ffi --bench check -- LOG UNIX_MS` asks the log at that time; without arguments, a log of a day that
//! it makes. Prints the median of a call in microseconds.

#![allow(clippy::unwrap_used, clippy::print_stdout)] // a benchmark that cannot go on stops; it prints its answer

use std::time::Instant;

use ebbstead_ffi::{EbbsteadCompanion, Moment, Occasion, Question, ReadingAt};

const WARM_UP: usize = 50;
const CALLS: usize = 300;
const NOW_MS: i64 = 1_772_359_200_000;

fn main() {
    let given: Vec<String> = std::env::args().skip(1).filter(|one| !one.starts_with("--")).collect();
    let folder = tempfile::tempdir().unwrap();
    let own = folder.path().join("log.ebb");
    let (path, now) = match given.as_slice() {
        [path, unix_ms] => (path.as_str(), moment(unix_ms.parse().unwrap())),
        _ => (own.to_str().unwrap(), moment(NOW_MS)),
    };
    let companion = EbbsteadCompanion::open(path, "en", now).unwrap();
    if given.is_empty() {
        let readings = (0..288).map(|n| ReadingAt {
            at: moment(now.unix_ms - n * 300_000),
            mg_dl: 120.0 + 40.0 * (f64::from(i32::try_from(n).unwrap()) / 20.0).sin(),
        });
        companion.log().unwrap().record_readings("sensor", readings.collect(), now).unwrap();
    }
    let check = companion.check().unwrap();
    let question = Question { now, occasion: Occasion::Look, feels: None, meter_mg_dl: None, meter_beyond: None };
    let mut took: Vec<f64> = (0..WARM_UP + CALLS)
        .map(|_| {
            let begun = Instant::now();
            std::hint::black_box(check.ask(question).unwrap());
            begun.elapsed().as_secs_f64() * 1e6
        })
        .skip(WARM_UP)
        .collect();
    took.sort_by(f64::total_cmp);
    println!("{:.1}", took[CALLS / 2]);
}

fn moment(unix_ms: i64) -> Moment {
    Moment { unix_ms, offset_minutes: 60 }
}
