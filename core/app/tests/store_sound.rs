//! What a log shows when its file, its side file, its disk or another program stands in the way: what is sound, at once, and that
//! something is missing.
//!
//! `EBBSTEAD_FLIPS` sets how many bits are flipped, one at a time (120 unless set), and how often a side file is cut (a half of it).
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // a test may stop where it stands

use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use ebbstead_core::Error;
use ebbstead_core::log::{Entry, EntryId, EntryKind, InsulinKind, Purpose, Source, Text};
use ebbstead_core::prompt::{Occasion, Question};
use ebbstead_core::snapshot::Snapshot;
use ebbstead_core::store::Log;
use ebbstead_core::time::{DAY_MS, MINUTE_MS, Moment};
use ebbstead_core::units::Glucose;
use ebbstead_core::wearer::Wearer;
use tempfile::TempDir;

#[cfg(target_os = "linux")]
use crate::disk::Disk;

/// A week of readings every five minutes, twice over.
const READINGS: i64 = 4032;

fn now() -> Moment {
    Moment::parse("2026-03-01T12:00:00+01:00").unwrap()
}

fn place() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("log.ebb");
    (folder, path)
}

fn beside(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(suffix);
    name.into()
}

fn reading(n: i64) -> Entry {
    let at = now().plus_ms(-n * 5 * MINUTE_MS);
    let mg_dl = Glucose::from_mg_dl(90.0 + (n * 31).rem_euclid(97) as f64).unwrap();
    Entry::new(at, at, Source::new("sensor 7").unwrap(), EntryKind::SensorReading { mg_dl }).unwrap()
}

fn noted(n: i64) -> Entry {
    let at = now().plus_ms(-n * 97 * MINUTE_MS);
    let what = match n % 3 {
        0 => EntryKind::Insulin { insulin: InsulinKind::Rapid, units: 0.5 + (n % 20) as f64 },
        1 => EntryKind::Carbohydrate { grams: 10.0 + (n % 90) as f64, purpose: Purpose::Meal },
        _ => EntryKind::Note { text: Text::new(format!("note {n}")).unwrap() },
    };
    Entry::new(at, at, Source::by_hand(), what).unwrap()
}

fn fill(path: &Path) {
    let mut log = Log::open(path, now()).unwrap();
    log.set_wearer(&Wearer { reorder_lead_days: Some(7), ..Wearer::default() }, now()).unwrap();
    log.record_all((0..READINGS).map(reading)).unwrap();
    let notes: Vec<Entry> = (0..150).map(noted).collect();
    log.record_all(notes.clone()).unwrap();
    log.retract(notes[7].id, now()).unwrap();
    log.retract(reading(3).id, now()).unwrap();
}

/// All that reading commands read: what holds, each fact, the settings, and the answer to a prompt.
fn contents(log: &Log) -> Result<Vec<String>, Error> {
    let from = now().plus_ms(-30 * DAY_MS);
    let known = Snapshot::at(log, now())?;
    let question = Question { now: now(), occasion: Occasion::Look, feels: None, meter: None };
    let mut all = vec![format!("{:?}", log.wearer()?), format!("{:?}", known.answer(&question).verdict)];
    all.push(format!("{:?}", known.history));
    all.push(serde_json::to_string(&log.current(from, now())?).unwrap());
    log.each_fact(|entry| {
        all.push(serde_json::to_string(&entry).unwrap());
        Ok(())
    })?;
    Ok(all)
}

/// xorshift64: any spread of places will do, but always the same.
struct Places(u64);

impl Places {
    fn next(&mut self, below: usize) -> (usize, u8) {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        ((self.0 >> 20) as usize % below, (self.0 >> 8 & 7) as u8)
    }
}

fn rounds() -> usize {
    std::env::var("EBBSTEAD_FLIPS").ok().and_then(|count| count.parse().ok()).unwrap_or(120)
}

#[test]
fn a_flipped_bit_changes_nothing_that_is_read_without_a_word() {
    let (folder, path) = place();
    fill(&path);
    let whole = fs::read(&path).unwrap();
    let before = contents(&Log::open(&path, now()).unwrap()).unwrap();
    let mut places = Places(0x9e37_79b9_7f4a_7c15);
    let (mut refused, mut said, mut same, mut answered) = (0, 0, 0, 0);
    for n in 0..rounds() {
        let copy = folder.path().join(format!("flipped-{n}.ebb"));
        let mut flipped = whole.clone();
        // Half of them where pages say what they hold.
        let (mut at, bit) = places.next(flipped.len());
        if n % 2 == 0 {
            at = at / 4096 * 4096 + at % 24;
        }
        flipped[at] ^= 1 << bit;
        fs::write(&copy, &flipped).unwrap();
        // As a program goes about it: what is asked for a prompt first, then the look through, then everything else.
        match Log::open_sound(&copy, now()) {
            Err(Error::NotALog { .. } | Error::NewerLog { .. } | Error::DamagedLog { .. }) => refused += 1,
            Err(other) => panic!("byte {at}: {other}"),
            Ok(log) => {
                let quick = Snapshot::at(&log, now());
                log.look_through().unwrap_or_else(|error| panic!("byte {at}: {error}"));
                let now_read = contents(&log).unwrap_or_else(|error| panic!("byte {at}: {error}"));
                if log.damage().found().is_some() {
                    said += 1;
                    answered += usize::from(quick.is_ok());
                } else {
                    assert!(now_read == before, "bit {bit} of byte {at} changed what is read, without a word");
                    same += 1;
                }
            }
        }
        assert_eq!(fs::read(&copy).unwrap(), flipped, "byte {at}: what is only read is left as it is");
        for suffix in ["", "-wal", "-shm"] {
            let _ = fs::remove_file(beside(&copy, suffix));
        }
    }
    eprintln!("{refused} refused, {said} said (a prompt came in {answered} of them), {same} the same");
    assert!(said > 0 && same > 0 && said == answered);
}

#[test]
fn of_a_damaged_log_what_is_sound_is_read() {
    let (_folder, path) = place();
    fill(&path);
    let mut bytes = fs::read(&path).unwrap();
    // A leaf of readings says that it holds none.
    let leaf = (1..bytes.len() / 4096).rfind(|page| bytes[page * 4096] == 0x0a && bytes[page * 4096 + 3] == 0).unwrap();
    bytes[leaf * 4096 + 3..leaf * 4096 + 5].copy_from_slice(&[0, 1]);
    fs::write(&path, &bytes).unwrap();
    let log = Log::open_sound(&path, now()).unwrap();
    assert!(log.damage().found().is_none(), "nobody has looked yet");
    log.look_through().unwrap();
    assert!(matches!(log.damage().found(), Some(Error::DamagedLog { .. })));
    let count = log.count().unwrap();
    assert!(count.readings > READINGS as u64 * 9 / 10 && count.readings < READINGS as u64, "{count:?}");
    // What is noted is still kept, where the damage does not stand in the way.
    let mut log = log;
    log.record(&noted(500)).unwrap();
    assert!(log.get(noted(500).id).is_ok());
    // One that refuses damage still does.
    let strict = Log::open(&path, now()).unwrap();
    assert!(matches!(strict.look_through(), Err(Error::DamagedLog { .. })));
}

/// Another program that reads: while it does, what is written waits in the side file.
fn reading_meanwhile(path: &Path) -> rusqlite::Connection {
    let reader = rusqlite::Connection::open(path).unwrap();
    reader.execute_batch("BEGIN; SELECT count(*) FROM reading").unwrap();
    reader
}

#[test]
fn what_was_acknowledged_is_in_the_file_itself() {
    let (folder, path) = place();
    fill(&path);
    let mut log = Log::open(&path, now()).unwrap();
    for n in 0..8 {
        log.record(&noted(1000 + n)).unwrap();
        assert_eq!(fs::metadata(beside(&path, "-wal")).unwrap().len(), 0);
        // A copy of the one file, as after a crash that took the side file along.
        let copy = folder.path().join(format!("copy-{n}.ebb"));
        fs::copy(&path, &copy).unwrap();
        let copied = Log::open(&copy, now()).unwrap();
        copied.check().unwrap();
        assert!(copied.get(last_of(&log)).unwrap().is_some());
    }
}

fn last_of(log: &Log) -> EntryId {
    let mut last = None;
    log.each_fact(|entry| {
        if !matches!(entry.what, EntryKind::SensorReading { .. }) {
            last = Some(entry.id);
        }
        Ok(())
    })
    .unwrap();
    last.unwrap()
}

#[test]
fn a_damaged_side_file_loses_nothing_without_a_word() {
    let (folder, path) = place();
    fill(&path);
    let mut log = Log::open(&path, now()).unwrap();
    // The worst case: what was acknowledged waits beside the file, because another program reads.
    let reader = reading_meanwhile(&path);
    let notes: Vec<Entry> = (0..8).map(|n| noted(1000 + n)).collect();
    for one in &notes {
        log.record(one).unwrap();
    }
    let wal_of = |path: &Path| beside(path, "-wal");
    let (file, wal) = (fs::read(&path).unwrap(), fs::read(wal_of(&path)).unwrap());
    let index = fs::read(beside(&path, "-shm")).unwrap();
    let mut places = Places(0x1234_5678_9abc_def1);
    let mut said = 0;
    let flips = rounds();
    for n in 0..flips + flips / 2 {
        let mut damaged = wal.clone();
        let what = if n < flips {
            let (at, bit) = places.next(damaged.len());
            damaged[at] ^= 1 << bit;
            format!("bit {bit} of byte {at}")
        } else {
            damaged.truncate(places.next(damaged.len()).0);
            format!("cut to {}", damaged.len())
        };
        // As after a killed program: the index is still there.
        let copy = folder.path().join(format!("damaged-{n}.ebb"));
        fs::write(&copy, &file).unwrap();
        fs::write(wal_of(&copy), &damaged).unwrap();
        fs::write(beside(&copy, "-shm"), &index).unwrap();
        let opened = Log::open_sound(&copy, now()).unwrap_or_else(|error| panic!("{what}: {error}"));
        let all_there = notes.iter().all(|one| opened.get(one.id).unwrap().as_ref() == Some(one));
        assert!(all_there || opened.damage().found().is_some(), "{what}: entries are gone without a word");
        if opened.damage().found().is_some() {
            said += 1;
            let mut opened = opened;
            let refused = opened.record(&noted(2000)).unwrap_err();
            assert!(matches!(refused, Error::DamagedLog { .. }), "{what}: {refused}");
            assert!(matches!(Log::open(&copy, now()), Err(Error::DamagedLog { .. })), "{what}");
        }
        // The evidence stays for the recovery.
        assert!(fs::read(wal_of(&copy)).map_or(true, |left| left == damaged || all_there), "{what}");
        for suffix in ["", "-wal", "-shm"] {
            let _ = fs::remove_file(beside(&copy, suffix));
        }
    }
    eprintln!("{said} of {} said", flips + flips / 2);
    assert!(said > flips);
    drop(reader);
}

#[test]
fn a_flip_in_the_middle_of_a_side_file_is_noticed_without_its_index_and_all_else_is_read() {
    let (folder, path) = place();
    fill(&path);
    let mut log = Log::open(&path, now()).unwrap();
    let _reader = reading_meanwhile(&path);
    let notes: Vec<Entry> = (0..8).map(|n| noted(1000 + n)).collect();
    for one in &notes {
        log.record(one).unwrap();
    }
    let copy = folder.path().join("copy.ebb");
    fs::copy(&path, &copy).unwrap();
    let mut wal = fs::read(beside(&path, "-wal")).unwrap();
    let second = 32 + 24 + 4096 + 24 + 2000;
    wal[second] ^= 4;
    fs::write(beside(&copy, "-wal"), &wal).unwrap();
    let log = Log::open_sound(&copy, now()).unwrap();
    assert!(log.damage().found().is_some());
    for one in &notes[1..] {
        assert_eq!(log.get(one.id).unwrap().as_ref(), Some(one), "what stands behind the damage is read");
    }
    // A copy whose program was killed in the middle of a change is none: it loses only what was never acknowledged.
    let torn = folder.path().join("torn.ebb");
    fs::copy(&path, &torn).unwrap();
    let wal = fs::read(beside(&path, "-wal")).unwrap();
    fs::write(beside(&torn, "-wal"), &wal[..wal.len() - 100]).unwrap();
    assert!(Log::open(&torn, now()).is_ok());
}

/// What befalls the file at the first path; at the second is another log.
type Harm = fn(&Path, &Path);

#[test]
fn a_log_that_was_deleted_moved_or_replaced_is_not_written_into_nothing() {
    let (folder, path) = place();
    fill(&path);
    let other = folder.path().join("other.ebb");
    drop(Log::open(&other, now()).unwrap());
    let harms: [(&str, Harm); 3] = [
        ("deleted", |path, _| fs::remove_file(path).unwrap()),
        ("moved", |path, _| fs::rename(path, path.with_extension("moved")).unwrap()),
        ("replaced", |path, other| {
            let copy = other.with_extension("copy");
            fs::copy(other, &copy).unwrap();
            fs::rename(copy, path).unwrap();
        }),
    ];
    let whole = fs::read(&path).unwrap();
    for (name, harm) in harms {
        for suffix in ["-wal", "-shm"] {
            let _ = fs::remove_file(beside(&path, suffix));
        }
        fs::write(&path, &whole).unwrap();
        let mut log = Log::open(&path, now()).unwrap();
        harm(&path, &other);
        assert!(!log.is_in_place(), "{name}");
        let refused = log.record(&noted(3000)).unwrap_err();
        assert!(matches!(refused, Error::Gone { .. }), "{name}: {refused}");
        assert!(log.history(now().plus_ms(-DAY_MS), now()).is_ok(), "{name}: a prompt still comes of what it held");
    }
}

#[test]
fn a_prompt_waits_for_nobody_who_writes() {
    let (_folder, path) = place();
    fill(&path);
    let writer = rusqlite::Connection::open(&path).unwrap();
    writer.execute_batch("BEGIN IMMEDIATE").unwrap();
    let begun = Instant::now();
    let mut log = Log::open_sound(&path, now()).unwrap();
    let known = Snapshot::at(&log, now()).unwrap();
    assert!(!known.history.readings.is_empty());
    // Generous, for a machine that does other things meanwhile; waiting would take five seconds.
    assert!(begun.elapsed() < Duration::from_secs(1), "{:?}", begun.elapsed());
    log.wait_at_most(Duration::ZERO).unwrap();
    let begun = Instant::now();
    assert!(matches!(log.record(&noted(1)), Err(Error::Busy { .. })));
    assert!(begun.elapsed() < Duration::from_secs(1), "{:?}", begun.elapsed());
    writer.execute_batch("COMMIT").unwrap();
    log.record(&noted(1)).unwrap();
}

/// A large transaction does not fit into SQLite's memory: its pages go to the side file before it ends, some of them twice, and then
/// their sums do not fit until it commits.
#[test]
fn what_another_program_has_not_committed_yet_is_no_damage() {
    let (_folder, path) = place();
    fill(&path);
    let writer = rusqlite::Connection::open(&path).unwrap();
    writer
        .execute_batch("PRAGMA cache_size = 10; BEGIN IMMEDIATE; CREATE TABLE spill (k INTEGER PRIMARY KEY, b BLOB)")
        .unwrap();
    let mut insert = writer.prepare("INSERT OR REPLACE INTO spill VALUES (?, zeroblob(700))").unwrap();
    for n in 0..4000_i64 {
        // All over the table, so that pages are come back to.
        insert.execute([n * 7919 % 4001]).unwrap();
    }
    drop(insert);
    let side = fs::metadata(path.with_extension("ebb-wal")).unwrap().len();
    assert!(side > 1 << 20, "{side} bytes: nothing was written ahead");
    let answers = |what: &str| {
        let log = Log::open_sound(&path, now()).unwrap();
        assert!(log.damage().found().is_none(), "{what}: {:?}", log.damage().found());
        assert_eq!(log.count().unwrap().readings, READINGS as u64, "{what}");
    };
    answers("while it writes");
    // A table of another program would be damage by itself.
    writer.execute_batch("DROP TABLE spill; COMMIT").unwrap();
    answers("once it has committed");
}

#[test]
fn trying_out_a_merge_lets_others_write() {
    let (folder, path) = place();
    fill(&path);
    let other = folder.path().join("other.ebb");
    let mut peer = Log::open(&other, now()).unwrap();
    peer.record_all((0..300).map(|n| reading(READINGS - 150 + n))).unwrap();
    let writer = rusqlite::Connection::open(&path).unwrap();
    let mut log = Log::open(&path, now()).unwrap();
    writer.execute_batch("BEGIN IMMEDIATE").unwrap();
    let preview = log.preview_merge(&peer, now()).unwrap();
    assert_eq!((preview.recorded.new, preview.recorded.known), (150, 150));
    writer.execute_batch("COMMIT").unwrap();
    assert_eq!(log.merge(&peer).unwrap(), preview.recorded);
    let again = log.merge(&peer).unwrap();
    assert_eq!((again.new, again.known), (0, 300));
    log.check().unwrap();
}

#[test]
fn a_killed_mend_is_not_in_the_way() {
    let (folder, path) = place();
    fill(&path);
    let into = folder.path().join("recovered.ebb");
    // What it leaves when it is killed while it makes the new log.
    fs::write(folder.path().join(".recovering-recovered.ebb.part"), b"").unwrap();
    fs::write(folder.path().join(".recovering-recovered.ebb.part-wal"), b"half").unwrap();
    let recovered = Log::recover(&path, &into, now()).unwrap();
    assert_eq!(recovered.readings, READINGS as u64);
    let left: Vec<String> = fs::read_dir(folder.path())
        .unwrap()
        .map(|one| one.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.contains("recovering"))
        .collect();
    assert!(left.is_empty(), "{left:?}");
    assert!(matches!(Log::recover(&path, &into, now()), Err(Error::File { .. })), "nothing is written over");
}

// ---- A full disk -----------------------------------------------------------------------------------------------------

#[cfg(target_os = "linux")]
#[test]
fn a_prompt_comes_from_a_disk_without_room() {
    for left_kib in [0, 8, 32] {
        let Some(disk) = Disk::new("2m") else { return };
        let path = disk.path().join("log.ebb");
        fill(&path);
        let before = contents(&Log::open(&path, now()).unwrap()).unwrap();
        let filler = disk.fill();
        let size = filler.metadata().unwrap().len();
        filler.set_len(size - left_kib * 1024).unwrap();
        let log = Log::open_sound(&path, now()).unwrap_or_else(|error| panic!("{left_kib} KiB left: {error}"));
        log.look_through().unwrap();
        assert!(contents(&log).unwrap() == before, "{left_kib} KiB left");
        assert!(log.damage().found().is_none());
        let mut log = log;
        let kept = log.record(&noted(4000));
        assert!(
            matches!(kept, Err(Error::DiskFull { .. } | Error::ReadOnly { .. })) || left_kib == 32,
            "{left_kib} KiB left: {kept:?}"
        );
    }
}
