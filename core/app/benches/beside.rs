//! What a prompt waits for while another process writes into the same log.
//!
//! `cargo bench -p ebbstead-core --bench beside`. A prompt is asked as the program and the phones do, the log opened and closed each
//! time: alone, and beside a process that writes readings one by one, merges a log of 200,000 and imports a table of a million. Every
//! figure is of this run and this machine; the ratio is that of the medians to those of the prompts asked alone.
#![allow(missing_docs, clippy::unwrap_used, clippy::expect_used, clippy::print_stdout)] // a benchmark may stop where it stands

use std::fmt::Write;
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Child, Command};
use std::time::{Duration, Instant};

use ebbstead_core::import::{Options, import};
use ebbstead_core::log::{Entry, EntryKind, Source};
use ebbstead_core::prompt::{Occasion, Question};
use ebbstead_core::snapshot::Snapshot;
use ebbstead_core::store::Log;
use ebbstead_core::time::{MINUTE_MS, Moment};
use ebbstead_core::units::{Glucose, GlucoseUnit};

const ROLE: &str = "EBBSTEAD_BENCH_ROLE";
const FOLDER: &str = "EBBSTEAD_BENCH_FOLDER";
const MERGED: i64 = 200_000;
const IMPORTED: i64 = 1_000_000;
/// Prompts asked alone, and at most beside each writer.
const PROMPTS: usize = 200;

fn now() -> Moment {
    Moment::parse("2026-03-01T12:00:00+01:00").unwrap()
}

fn at(back: i64) -> Moment {
    now().plus_ms(-back * 5 * MINUTE_MS)
}

fn mg_dl(n: i64) -> f64 {
    (130 + (n * 31).rem_euclid(97) - (n * 17).rem_euclid(61)) as f64
}

fn reading(at: Moment, n: i64) -> Entry {
    let mg_dl = Glucose::from_mg_dl(mg_dl(n)).unwrap();
    Entry::new(at, at, Source::new("sensor 7").unwrap(), EntryKind::SensorReading { mg_dl }).unwrap()
}

/// What the other process does, again and again until it is ended.
fn write(role: &str, folder: &Path) {
    let mut log = Log::open(folder.join("log.ebb"), now()).unwrap();
    match role {
        "one by one" => {
            for n in 0.. {
                // Older than what a prompt reads, so that every prompt has the same to do.
                log.record(&reading(at(10_000 + n).plus_ms(MINUTE_MS), n)).unwrap();
            }
        }
        "a merge" => {
            let other = Log::open_to_read(folder.join("other.ebb")).unwrap();
            log.preview_merge(&other, now()).unwrap();
            log.merge(&other).unwrap();
        }
        _ => {
            let file = File::open(folder.join("many.csv")).unwrap();
            let options = Options::found(now(), GlucoseUnit::MgDl);
            import(&mut log, file, "many.csv", &options).unwrap();
        }
    }
}

fn ask(path: &Path) -> Duration {
    let begun = Instant::now();
    let log = Log::open_sound(path, now()).unwrap();
    let known = Snapshot::at(&log, now()).unwrap();
    let question = Question { now: now(), occasion: Occasion::Look, feels: None, meter: None };
    std::hint::black_box(known.answer(&question));
    begun.elapsed()
}

fn report(name: &str, times: &mut [Duration], alone: Duration) -> Duration {
    times.sort();
    let of = |share: f64| times[((times.len() - 1) as f64 * share) as usize];
    let ms = |time: Duration| time.as_secs_f64() * 1000.0;
    let median = of(0.5);
    let ratio = if alone.is_zero() { 1.0 } else { median.as_secs_f64() / alone.as_secs_f64() };
    println!(
        "{name:34} {:4} prompts: median {:6.1} ms ({ratio:.2} of alone), 95 % {:6.1} ms, longest {:6.1} ms",
        times.len(),
        ms(median),
        ms(of(0.95)),
        ms(of(1.0)),
    );
    median
}

fn other_process(role: &str, folder: &Path) -> Child {
    Command::new(std::env::current_exe().unwrap()).env(ROLE, role).env(FOLDER, folder).spawn().unwrap()
}

fn main() {
    if let (Ok(role), Ok(folder)) = (std::env::var(ROLE), std::env::var(FOLDER)) {
        write(&role, &PathBuf::from(folder));
        return;
    }
    let place = tempfile::tempdir().unwrap();
    let folder = place.path();
    let path = folder.join("log.ebb");
    let mut log = Log::open(&path, now()).unwrap();
    log.record_all((1..90 * 288).rev().map(|back| reading(at(back), back))).unwrap();
    drop(log);
    let mut other = Log::open(folder.join("other.ebb"), now()).unwrap();
    // Between the log's own, and long before them.
    other.record_all((0..MERGED).map(|n| reading(at(100 * 288 + n).plus_ms(MINUTE_MS), n))).unwrap();
    drop(other);
    let mut table = String::from("timestamp,glucose_mgdl\n");
    for n in (0..IMPORTED).rev() {
        writeln!(table, "{},{}", at(400 * 288 + n), mg_dl(n)).unwrap();
    }
    fs::write(folder.join("many.csv"), table).unwrap();

    let mut alone: Vec<Duration> = (0..PROMPTS).map(|_| ask(&path)).collect();
    let alone = report("alone", &mut alone, Duration::ZERO);
    for role in ["one by one", "a merge", "an import of a million readings"] {
        let mut child = other_process(role, folder);
        let mut times = Vec::new();
        while child.try_wait().unwrap().is_none() && (role != "one by one" || times.len() < PROMPTS) {
            times.push(ask(&path));
            std::thread::sleep(Duration::from_millis(20));
        }
        // It may have ended by itself.
        let _ = child.kill();
        child.wait().unwrap();
        report(&format!("beside {role}"), &mut times, alone);
    }
}
