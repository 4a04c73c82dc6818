//! The log on disk against bare SQLite, in one run.
//!
//! `cargo bench -p ebbstead-core --bench import`. Beside criterion's figures it says the ratio of the insert rates, taken
//! in turns so that both see the same machine, and what a reading takes on disk.
#![allow(missing_docs, clippy::unwrap_used, clippy::expect_used, clippy::panic)] // a benchmark may stop where it stands

use std::fs;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use criterion::{BatchSize, Criterion, criterion_group, criterion_main};
use ebbstead_core::log::{Entry, EntryKind, Source, Text};
use ebbstead_core::store::Log;
use ebbstead_core::time::{DAY_MS, MINUTE_MS, Moment};
use ebbstead_core::units::Glucose;
use rusqlite::{Connection, params};
use tempfile::TempDir;

const SOME: i64 = 100_000;
const MANY: i64 = 1_000_000;

fn start() -> Moment {
    Moment::parse("2016-01-01T00:00:00+01:00").unwrap()
}

/// The most memory this whole process held while `run` ran, in MiB, where the system reports it.
fn peak_mib(run: impl FnOnce()) -> Option<u64> {
    // Makes Linux forget the peak so far.
    let reset = fs::write("/proc/self/clear_refs", "5").is_ok();
    run();
    let status = fs::read_to_string("/proc/self/status").ok()?;
    let peak = status.lines().find_map(|line| line.strip_prefix("VmHWM:")?.trim().strip_suffix(" kB")?.parse().ok());
    peak.filter(|_| reset).map(|kib: u64| kib >> 10)
}

/// Readings every 5 minutes, a new sensor every 10 days, recorded some seconds after they were made.
fn readings(count: i64) -> impl Iterator<Item = Entry> + Clone {
    (0..count).map(|n| {
        let at = start().plus_ms(n * 5 * MINUTE_MS + n * 7919 % 3000);
        let recorded = at.plus_ms(1500 + n * 104_729 % 9000);
        let source = Source::new(format!("sensor {}", n * 5 * MINUTE_MS / (10 * DAY_MS))).unwrap();
        let mg_dl = Glucose::from_mg_dl((130 + (n * 31 % 97) - (n * 17 % 61)) as f64).unwrap();
        Entry::new(at, recorded, source, EntryKind::SensorReading { mg_dl }).unwrap()
    })
}

struct Place {
    folder: TempDir,
}

impl Place {
    fn new() -> Self {
        Self { folder: tempfile::tempdir().unwrap() }
    }

    fn path(&self) -> PathBuf {
        self.folder.path().join("log.ebb")
    }

    fn log(&self) -> Log {
        Log::open(self.path(), start()).unwrap()
    }
}

/// The same rows through nothing but rusqlite, in one transaction of the same durability.
fn bare_insert(path: &Path, readings: &[Entry]) {
    let mut connection = Connection::open(path).unwrap();
    connection.pragma_update(None, "synchronous", "FULL").unwrap();
    connection.pragma_update(None, "foreign_keys", true).unwrap();
    let transaction = connection.transaction().unwrap();
    for source in 0..400 {
        let name = format!("sensor {source}");
        transaction.execute("INSERT INTO source (slot, name) VALUES (?, ?)", params![source + 1, name]).unwrap();
    }
    {
        let mut insert = transaction.prepare("INSERT INTO reading VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)").unwrap();
        for entry in readings {
            let EntryKind::SensorReading { mg_dl } = entry.what else { unreachable!() };
            insert
                .execute(params![
                    entry.at.unix_ms(),
                    1 + (entry.at.unix_ms() - start().unix_ms()) / (10 * DAY_MS),
                    (mg_dl.mg_dl() * 100.0) as i64,
                    entry.at.offset_minutes(),
                    entry.recorded.unix_ms() - entry.at.unix_ms(),
                    None::<i64>,
                    None::<i64>,
                    None::<i64>,
                    entry.at.unix_ms() as i32
                ])
                .unwrap();
        }
    }
    transaction.commit().unwrap();
}

fn timed(run: impl FnOnce()) -> Duration {
    let start = Instant::now();
    run();
    start.elapsed()
}

fn say_ratio() {
    let entries: Vec<Entry> = readings(SOME).collect();
    let mut ratios: Vec<f64> = (0..9)
        .map(|_| {
            let (bare, ours) = (Place::new(), Place::new());
            drop(bare.log());
            let mut log = ours.log();
            let given = entries.clone();
            let took_bare = timed(|| bare_insert(&bare.path(), &entries));
            let took_ours = timed(|| {
                log.record_all(given).unwrap();
                drop(log);
            });
            took_bare.as_secs_f64() / took_ours.as_secs_f64()
        })
        .collect();
    ratios.sort_by(f64::total_cmp);
    eprintln!("import of {SOME} readings: {:.2} of the bare insert rate (median of 9, {ratios:.2?})", ratios[4]);
}

fn say_size(what: &str, path: &Path) {
    let bytes = fs::metadata(path).unwrap().len();
    eprintln!("{what}: {:.1} bytes a reading on disk", bytes as f64 / MANY as f64);
}

fn import(criterion: &mut Criterion) {
    say_ratio();
    let entries: Vec<Entry> = readings(SOME).collect();
    let mut group = criterion.benchmark_group(format!("{SOME} readings"));
    group.sample_size(10);
    group.bench_function("bare insert", |bencher| {
        let fresh = || {
            let place = Place::new();
            drop(place.log());
            place
        };
        bencher.iter_batched_ref(fresh, |place| bare_insert(&place.path(), &entries), BatchSize::PerIteration);
    });
    group.bench_function("record_all", |bencher| {
        let fresh = || {
            let place = Place::new();
            (place.log(), place, entries.clone())
        };
        bencher.iter_batched_ref(
            fresh,
            |(log, _, entries)| log.record_all(std::mem::take(entries)).unwrap(),
            BatchSize::PerIteration,
        );
    });
    group.finish();
}

fn ask(criterion: &mut Criterion) {
    let place = Place::new();
    let mut log = place.log();
    let mut took = Duration::ZERO;
    let peak = peak_mib(|| took = timed(|| assert_eq!(log.record_all(readings(MANY)).unwrap().new, MANY as u64)));
    drop(log);
    eprintln!("{MANY} readings recorded at once: {took:.2?}, at most {peak:?} MiB of memory");
    say_size("recorded in one go", &place.path());
    {
        let live = Place::new();
        let mut log = live.log();
        let mut all = readings(MANY);
        // As a phone does it, some readings a transaction; one each would mostly measure the disk.
        for _ in 0..MANY / 20 {
            log.record_all(all.by_ref().take(20)).unwrap();
        }
        drop(log);
        say_size("recorded 20 at a time", &live.path());
    }
    {
        let imported = Place::new();
        let mut log = imported.log();
        let now = start().plus_ms(11 * 365 * DAY_MS);
        let entries = readings(MANY).map(|entry| Ok(Entry { recorded: now, ..entry }));
        log.import(Text::new("ten years.csv").unwrap(), entries, now).unwrap();
        drop(log);
        say_size("imported from a file", &imported.path());
    }
    {
        // The other phone's readings lie between this one's: the worst order for the pages. Half are the same.
        let (here, there) = (Place::new(), Place::new());
        let (mut log, mut other) = (here.log(), there.log());
        log.record_all(readings(MANY)).unwrap();
        let between = readings(MANY).enumerate().map(|(n, entry)| {
            if n % 2 == 0 {
                return entry;
            }
            let (at, recorded) = (entry.at.plus_ms(150_000), entry.recorded.plus_ms(150_000));
            Entry::new(at, recorded, entry.source, entry.what).unwrap()
        });
        other.record_all(between).unwrap();
        let mut took = Duration::ZERO;
        let peak = peak_mib(|| took = timed(|| assert_eq!(log.merge(&other).unwrap().known, MANY as u64 / 2)));
        drop(log);
        let bytes = fs::metadata(here.path()).unwrap().len() as f64 / (MANY as f64 * 1.5);
        eprintln!(
            "merge of two logs of {MANY}: {took:.2?}, {bytes:.1} bytes a reading on disk, at most {peak:?} MiB of memory"
        );
        // Readings in no order at all.
        let place = Place::new();
        let mut log = place.log();
        let mut shuffled: Vec<Entry> = readings(MANY).collect();
        let mut state = 1_u64;
        for last in (1..shuffled.len()).rev() {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            shuffled.swap(last, (state >> 33) as usize % (last + 1));
        }
        let took = timed(|| assert_eq!(log.record_all(shuffled).unwrap().new, MANY as u64));
        drop(log);
        eprintln!("{MANY} readings in no order: {took:.2?}");
        say_size("recorded in no order", &place.path());
    }
    let end = start().plus_ms(MANY * 5 * MINUTE_MS);
    criterion.bench_function("open a log of 1 M readings", |bencher| bencher.iter(|| black_box(place.log())));
    let log = place.log();
    criterion.bench_function("newest 24 h of 1 M readings", |bencher| {
        bencher.iter(|| black_box(log.history(end.plus_ms(-DAY_MS), end).unwrap()));
    });
    criterion.bench_function("newest 72 h of 1 M readings, with a change of sensors in them", |bencher| {
        let history = log.history(end.plus_ms(-3 * DAY_MS), end).unwrap();
        assert_eq!(history.followed.len(), 2);
        bencher.iter(|| black_box(log.history(end.plus_ms(-3 * DAY_MS), end).unwrap()));
    });
    criterion.bench_function("newest reading of 1 M", |bencher| {
        bencher.iter(|| black_box(log.newest_reading().unwrap()));
    });
}

criterion_group!(benches, import, ask);
criterion_main!(benches);
