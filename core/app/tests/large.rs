//! A log of a million readings, ten years of one every five minutes: what is done with all of it takes little memory.
//!
//! Takes minutes unoptimised: `cargo test --release -p ebbstead-core --test facade -- --ignored --nocapture large::`.
#![cfg(all(target_os = "linux", feature = "sealed"))]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // a test may stop where it stands

use std::fs;
use std::io::BufWriter;
use std::path::Path;
use std::time::Instant;

use ebbstead_core::exchange::csv::table::{self, Which};
use ebbstead_core::exchange::fhir;
use ebbstead_core::exchange::sealed::{Passphrase, SealedLog, seal};
use ebbstead_core::import::{Options, import};
use ebbstead_core::log::{Entry, EntryKind, Source, Text};
use ebbstead_core::store::Log;
use ebbstead_core::time::{DAY_MS, MINUTE_MS, Moment};
use ebbstead_core::units::{Glucose, GlucoseUnit};
use ebbstead_core::wearer::Language;
use ebbstead_core::words::Words;

const MANY: i64 = 1_000_000;
const MOST_MIB: u64 = 64;

fn start() -> Moment {
    Moment::parse("2016-01-01T00:00:00+01:00").unwrap()
}

fn reading(n: i64) -> Entry {
    let at = start().plus_ms(n * 5 * MINUTE_MS + n * 7919 % 3000);
    let source = Source::new(format!("sensor {}", n * 5 * MINUTE_MS / (10 * DAY_MS))).unwrap();
    let mg_dl = Glucose::from_mg_dl((130 + (n * 31 % 97) - (n * 17 % 61)) as f64).unwrap();
    Entry::new(at, at.plus_ms(1500 + n * 104_729 % 9000), source, EntryKind::SensorReading { mg_dl }).unwrap()
}

/// Runs something, says how long it took and the most memory the whole process held meanwhile, and holds that to the limit.
fn within<T>(what: &str, run: impl FnOnce() -> T) -> T {
    // Makes Linux forget the peak so far.
    let reset = fs::write("/proc/self/clear_refs", "5").is_ok();
    let began = Instant::now();
    let done = run();
    let took = began.elapsed();
    let status = fs::read_to_string("/proc/self/status").unwrap();
    let peak =
        status.lines().find_map(|line| line.strip_prefix("VmHWM:")?.trim().strip_suffix(" kB")?.trim().parse().ok());
    let mib = peak.map_or(0, |kib: u64| kib >> 10);
    eprintln!("{what}: {took:.1?}, at most {mib} MiB{}", if reset { "" } else { " (since the program began)" });
    assert!((1..MOST_MIB).contains(&mib), "{what}: {mib} MiB");
    done
}

#[test]
#[ignore = "a million readings"]
fn a_million_readings_take_little_memory() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    let end = start().plus_ms(11 * 365 * DAY_MS);
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    let passphrase = Passphrase::for_opening("four plain words, unlike".to_owned().into()).unwrap();
    let mut log = Log::open(at("log.ebb"), start()).unwrap();
    within("import", || {
        log.import(Text::new("ten years.csv").unwrap(), (0..MANY).map(|n| Ok(reading(n))), end).unwrap()
    });
    within("export as a table", || {
        let file = BufWriter::new(fs::File::create(at("table.csv")).unwrap());
        let written =
            table::write(&log, file, Path::new("table.csv"), &|what| words.what(what), Which::Holding, (None, None))
                .unwrap();
        assert_eq!(written.readings, MANY as u64);
    });
    within("read the table back", || {
        let file = fs::File::open(at("table.csv")).unwrap();
        let mut rows = table::Rows::open(file, Path::new("table.csv"), end, Source::unnamed_sensor()).unwrap();
        let mut count = 0;
        while let Some(row) = rows.next_row().unwrap() {
            row.unwrap();
            count += 1;
        }
        assert_eq!(count, MANY);
    });
    within("export as FHIR", || {
        let file = BufWriter::new(fs::File::create(at("bundle.json")).unwrap());
        let mut bundle = fhir::Bundle::begin(file, log.id().unwrap(), end).unwrap();
        let mut from = start();
        while from.is_before(end) {
            let until = from.plus_ms(7 * DAY_MS - 1);
            for entry in log.current(from, until).unwrap() {
                if matches!(entry.what, EntryKind::SensorReading { .. }) {
                    bundle.put(&entry).unwrap();
                }
            }
            from = until.plus_ms(1);
        }
        assert_eq!(bundle.finish().unwrap().entries, MANY as u64);
    });
    let bundle = || fs::File::open(at("bundle.json")).unwrap();
    let options = Options::found(end, GlucoseUnit::MgDl);
    within("look at FHIR", || {
        let looked = Options { dry_run: true, ..options.clone() };
        let looked = import(&mut log, bundle(), "bundle.json", &looked).unwrap();
        assert_eq!((looked.taken, looked.left_out), (MANY as u64, 0));
    });
    let mut clinic = Log::open(at("clinic.ebb"), start()).unwrap();
    within("import FHIR", || {
        let imported = import(&mut clinic, bundle(), "bundle.json", &options).unwrap().imported.unwrap();
        assert_eq!(imported.recorded.new, MANY as u64);
    });
    drop(clinic);
    let sealed = within("seal", || seal(&log, &at("log.sealed"), &passphrase, false, end).unwrap());
    eprintln!("sealed: {:.1} bytes a reading", sealed.bytes as f64 / MANY as f64);
    let mut fresh = Log::open(at("fresh.ebb"), start()).unwrap();
    within("restore", || {
        let opened = SealedLog::open(&at("log.sealed"), &passphrase).unwrap();
        assert_eq!(fresh.restore(&opened).unwrap().new, MANY as u64 + 1);
    });
    // The other phone's readings lie between this one's, and it took back one of the files.
    let mut other = Log::open(at("other.ebb"), start()).unwrap();
    let between = (0..MANY).map(|n| {
        let entry = reading(n);
        let (at, recorded) = (entry.at.plus_ms(150_000), entry.recorded.plus_ms(150_000));
        if n % 2 == 0 { Ok(entry) } else { Entry::new(at, recorded, entry.source, entry.what) }
    });
    within("import in the other", || other.import(Text::new("other.csv").unwrap(), between, end).unwrap());
    other.retract(reading(0).id, end).unwrap();
    drop(fresh);
    within("rehearse a merge", || {
        let preview = log.preview_merge(&other, end).unwrap();
        assert_eq!(preview.brings.readings, MANY as u64 / 2);
        assert_eq!(preview.hidden.readings, 1);
    });
    within("merge", || assert_eq!(log.merge(&other).unwrap().known, MANY as u64 / 2));
    drop(log);
    let recovered = within("recover", || Log::recover(at("log.ebb"), at("recovered.ebb"), end).unwrap());
    assert_eq!(recovered.readings, MANY as u64 * 3 / 2);
}
