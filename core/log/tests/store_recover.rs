//! Damaged logs: what is found, and how much of the rest is saved into a new one.
//!
//! `EBBSTEAD_FLIPS` sets how many bits are flipped in each page (2 unless set).
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // a test may stop where it stands

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use ebbstead_engine::time::{MINUTE_MS, Moment};
use ebbstead_engine::units::Glucose;
use ebbstead_engine::wearer::Wearer;
use ebbstead_log::Error;
use ebbstead_log::log::{Entry, EntryId, EntryKind, InsulinKind, Source, Text};
use ebbstead_log::store::{Log, Recovered};
use tempfile::TempDir;

fn now() -> Moment {
    Moment::parse("2026-03-01T12:00:00+01:00").unwrap()
}

fn reading(source: &str, n: i64) -> Entry {
    let at = now().plus_ms(n * 5 * MINUTE_MS);
    let mg_dl = Glucose::from_mg_dl(90.0 + (n * 31).rem_euclid(97) as f64).unwrap();
    Entry::new(at, at, Source::new(source).unwrap(), EntryKind::SensorReading { mg_dl }).unwrap()
}

fn note(n: i64, text: &str) -> Entry {
    let at = now().plus_ms(n * 37 * MINUTE_MS);
    Entry::new(at, at, Source::by_hand(), EntryKind::Note { text: Text::new(text).unwrap() }).unwrap()
}

fn place() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("log.ebb");
    (folder, path)
}

/// A log deep enough for pages above pages, with a bit of everything, and a text that takes more than a page.
fn fill(path: &Path) -> Log {
    let mut log = Log::open(path, now()).unwrap();
    log.record_all((0..6000).map(|n| reading(if n < 3000 { "sensor 7" } else { "sensor 8" }, n))).unwrap();
    let import =
        log.import(Text::new("week.csv").unwrap(), (0..200).map(|n| Ok(reading("sensor 6", -n))), now()).unwrap();
    log.import(Text::new("again.csv").unwrap(), (0..200).map(|n| Ok(reading("sensor 6", -n))), now()).unwrap();
    let doses: Vec<Entry> = (0..300)
        .map(|n| {
            let at = now().plus_ms(n * 53 * MINUTE_MS);
            let what = EntryKind::Insulin { insulin: InsulinKind::Rapid, units: 0.5 + (n % 20) as f64 };
            Entry::new(at, at, Source::by_hand(), what).unwrap()
        })
        .collect();
    log.record_all(doses.clone()).unwrap();
    log.record(&note(1, &"\"\n".repeat(999))).unwrap();
    log.record(&note(2, &format!("{}\"", "\"\n".repeat(990)))).unwrap();
    log.retract(doses[7].id, now()).unwrap();
    log.retract(reading("sensor 7", 3).id, now()).unwrap();
    log.retract(import.id, now()).unwrap();
    log.set_wearer(&Wearer::default(), now()).unwrap();
    log.learn("lag", &vec![0.25; 2000], "a week", now()).unwrap();
    log
}

/// Every fact with its identity in front; one that came with two imports is there twice.
fn facts(log: &Log) -> BTreeSet<(EntryId, String)> {
    let mut facts = BTreeSet::new();
    log.each_fact(|entry| {
        facts.insert((entry.id, serde_json::to_string(&entry).unwrap()));
        Ok(())
    })
    .unwrap();
    facts
}

fn recover(path: &Path) -> Result<(BTreeSet<(EntryId, String)>, Recovered), Error> {
    let into = path.with_extension("recovered");
    let _ = fs::remove_file(&into);
    let before = fs::read(path).unwrap();
    let recovered = Log::recover(path, &into, now());
    assert!(fs::read(path).unwrap() == before, "the damaged file is kept as it is");
    let recovered = match recovered {
        Ok(recovered) => recovered,
        Err(error) => {
            assert!(!into.exists(), "nothing is left: {error}");
            return Err(error);
        }
    };
    let log = Log::open(&into, now()).unwrap();
    log.check().unwrap();
    Ok((facts(&log), recovered))
}

#[test]
fn a_whole_log_is_saved_whole() {
    let (_folder, path) = place();
    let recorded = facts(&fill(&path));
    let (saved, recovered) = recover(&path).unwrap();
    assert_eq!(saved, recorded);
    assert_eq!((recovered.readings, recovered.others), (6200, 300 + 2 + 3 + 2));
    assert_eq!((recovered.unreadable, recovered.unsure_sources, recovered.settings), (0, 0, true));
    let new = Log::open(path.with_extension("recovered"), now()).unwrap();
    assert_eq!(new.wearer().unwrap(), Wearer::default());
    assert_eq!(new.learned::<Vec<f64>>("lag").unwrap().unwrap().what.len(), 2000);
    assert_ne!(new.id().unwrap(), Log::open(&path, now()).unwrap().id().unwrap());
}

#[test]
fn what_waits_in_the_side_file_is_saved_past_its_damage() {
    let (folder, path) = place();
    let mut log = fill(&path);
    // While another program reads, what is written waits in the side file.
    let reader = rusqlite::Connection::open(&path).unwrap();
    reader.execute_batch("BEGIN; SELECT count(*) FROM reading").unwrap();
    for n in 0..20 {
        log.record(&reading("sensor 9", n)).unwrap();
    }
    let recorded = facts(&log);
    let (file, wal) = (fs::read(&path).unwrap(), fs::read(path.with_extension("ebb-wal")).unwrap());
    let copy = folder.path().join("copy.ebb");
    fs::write(&copy, &file).unwrap();
    let save = |wal: &[u8]| {
        fs::write(copy.with_extension("ebb-wal"), wal).unwrap();
        recover(&copy).unwrap().0
    };
    assert_eq!(save(&wal), recorded);
    // SQLite stops at a damaged frame and would lose all after it.
    let mut flipped = wal.clone();
    flipped[32 + 24 + 200] ^= 1;
    assert_eq!(recorded.difference(&save(&flipped)).count(), 0);
    // A torn end loses only what was in it.
    let torn = save(&wal[..wal.len() - 3000]);
    assert!(torn.is_subset(&recorded) && recorded.len() - torn.len() < 130, "{} of {}", torn.len(), recorded.len());
}

/// What a transaction wrote that was never acknowledged must not come back.
#[test]
fn what_was_rolled_back_is_not_saved() {
    let (folder, path) = place();
    let mut log = fill(&path);
    let recorded = facts(&log);
    // Large enough that SQLite writes pages to the side file before the end.
    let refused = Err(Error::NoSuchEntry { id: note(0, "none").id.0 });
    let entries = (0..60_000).map(|n| Ok(reading("sensor never", n))).chain([refused]);
    assert!(log.import(Text::new("never.csv").unwrap(), entries, now()).is_err());
    log.record(&reading("sensor 9", 0)).unwrap();
    let copy = folder.path().join("copy.ebb");
    fs::copy(&path, &copy).unwrap();
    fs::copy(path.with_extension("ebb-wal"), copy.with_extension("ebb-wal")).unwrap();
    let (saved, _) = recover(&copy).unwrap();
    assert_eq!(saved.len(), recorded.len() + 1);
    assert!(!saved.iter().any(|fact| fact.1.contains("never")));
}

/// A bit flipped in each page: what is lost is at most what that page held, nothing that was never said appears, and the
/// damaged file is kept.
#[test]
fn a_flipped_bit_costs_at_most_its_own_page() {
    let flips: u64 = std::env::var("EBBSTEAD_FLIPS").ok().and_then(|flips| flips.parse().ok()).unwrap_or(2);
    let (_folder, path) = place();
    let recorded = facts(&fill(&path));
    let whole = fs::read(&path).unwrap();
    let (mut runs, mut unharmed, mut most, mut lost_in_all, mut renamed) = (0, 0, 0, 0, 0);
    let mut state = 0x9e37_79b9_7f4a_7c15_u64;
    for page in 0..whole.len() / 4096 {
        for flip in 0..flips {
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            // One in each page's own head, where the list of its rows begins.
            let within = if flip == 0 { (state >> 20) as usize % 12 } else { (state >> 20) as usize % 4096 };
            let mut flipped = whole.clone();
            flipped[page * 4096 + within] ^= 1 << (state >> 8 & 7);
            fs::write(&path, &flipped).unwrap();
            let (saved, recovered) = recover(&path).unwrap();
            let (lost, strange) = (recorded.difference(&saved).count(), saved.difference(&recorded).count());
            if recovered.unsure_sources > 0 || strange > 0 {
                // A source's name or an import's identity: the readings are all there, under another name.
                assert_eq!(lost, strange, "byte {}: {recovered:?}", page * 4096 + within);
                renamed += 1;
            } else {
                let lost = recorded.difference(&saved).map(|fact| fact.0).collect::<BTreeSet<_>>().len();
                most = most.max(lost);
                lost_in_all += lost;
                unharmed += u64::from(lost == 0);
            }
            runs += 1;
        }
    }
    eprintln!(
        "{runs} flipped bits in {} pages: {unharmed} cost nothing, {renamed} a name; at most {most} of {} facts lost, \
         {:.2} on average",
        whole.len() / 4096,
        recorded.len(),
        f64::from(u32::try_from(lost_in_all).unwrap()) / f64::from(runs),
    );
    // A page holds about 150 readings.
    assert!(most <= 160, "{most}");
}

#[test]
fn pages_that_are_gone_cost_only_what_they_held() {
    let (_folder, path) = place();
    let recorded = facts(&fill(&path));
    let whole = fs::read(&path).unwrap();
    // The first page with the layout, and every tenth after it.
    let mut holes = whole.clone();
    for page in (0..whole.len() / 4096).step_by(10) {
        holes[page * 4096..(page + 1) * 4096].fill(0);
    }
    fs::write(&path, &holes).unwrap();
    assert!(Log::open(&path, now()).is_err());
    let (saved, _) = recover(&path).unwrap();
    assert!(saved.len() * 100 > recorded.len() * 80, "{} of {}", saved.len(), recorded.len());
    fs::write(&path, &whole[..whole.len() / 2 + 777]).unwrap();
    let (saved, _) = recover(&path).unwrap();
    assert!(saved.len() * 100 > recorded.len() * 35, "{} of {}", saved.len(), recorded.len());
}

#[test]
fn what_is_no_log_is_refused_and_what_is_there_is_kept() {
    let (folder, path) = place();
    let noise: Vec<u8> = (0..200_000_u32).map(|n| (n.wrapping_mul(2_654_435_761) >> 13) as u8).collect();
    for content in [&b"time,glucose\n"[..], &[], &noise, &[0x0d; 9000], &[0xff; 9000]] {
        fs::write(&path, content).unwrap();
        assert!(matches!(recover(&path), Err(Error::NotALog { .. })));
    }
    fs::remove_file(&path).unwrap();
    assert!(matches!(Log::recover(&path, folder.path().join("new.ebb"), now()), Err(Error::File { .. })));
    drop(fill(&path));
    let there = folder.path().join("there");
    fs::write(&there, b"something").unwrap();
    assert!(matches!(Log::recover(&path, &there, now()), Err(Error::File { .. })));
    assert_eq!(fs::read(&there).unwrap(), b"something");
}
