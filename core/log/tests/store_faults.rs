//! What can happen to the file: strangers, damage, full and read-only disks.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // a test may stop where it stands

use std::fs::{self, File};
use std::io::Write;
use std::path::{Path, PathBuf};

use ebbstead_engine::time::{MINUTE_MS, Moment};
use ebbstead_engine::units::Glucose;
use ebbstead_engine::wearer::Wearer;
use ebbstead_log::log::{Entry, EntryKind, InsulinKind, Source, Text};
use ebbstead_log::store::Log;
use ebbstead_log::{Damage, Error};
use tempfile::TempDir;

#[cfg(target_os = "linux")]
use crate::disk::Disk;

fn now() -> Moment {
    Moment::parse("2026-03-01T12:00:00+01:00").unwrap()
}

fn reading(source: &str, n: i64) -> Entry {
    let at = now().plus_ms(n * 5 * MINUTE_MS);
    let mg_dl = Glucose::from_mg_dl(90.0 + (n * 31).rem_euclid(97) as f64).unwrap();
    Entry::new(at, at, Source::new(source).unwrap(), EntryKind::SensorReading { mg_dl }).unwrap()
}

fn dose(n: i64) -> Entry {
    let at = now().plus_ms(n * 37 * MINUTE_MS);
    let units = 0.5 + (n % 20) as f64;
    Entry::new(at, at, Source::by_hand(), EntryKind::Insulin { insulin: InsulinKind::Rapid, units }).unwrap()
}

fn place() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("log.ebb");
    (folder, path)
}

/// A log with a bit of everything.
fn fill(path: &Path) {
    let mut log = Log::open(path, now()).unwrap();
    log.record_all((0..1500).map(|n| reading("sensor 7", n))).unwrap();
    log.import(Text::new("week.csv").unwrap(), (0..200).map(|n| Ok(reading("sensor 6", -n))), now()).unwrap();
    let doses: Vec<Entry> = (0..60).map(dose).collect();
    log.record_all(doses.clone()).unwrap();
    log.retract(doses[7].id, now()).unwrap();
    log.retract(reading("sensor 7", 3).id, now()).unwrap();
    log.set_wearer(&Wearer::default(), now()).unwrap();
    log.learn("lag", &vec![0.25; 40], "a week", now()).unwrap();
}

fn facts(log: &Log) -> Result<Vec<String>, Error> {
    let mut facts = vec![format!("{} {:?} {:?}", log.id()?, log.wearer()?, log.learned::<Vec<f64>>("lag")?)];
    log.each_fact(|entry| {
        facts.push(serde_json::to_string(&entry).unwrap());
        Ok(())
    })?;
    facts.push(format!("{:?}", log.history(now().plus_ms(-i64::from(i32::MAX)), now().plus_ms(i64::from(i32::MAX)))?));
    Ok(facts)
}

/// Another program that reads: while it does, what is written waits in the side file.
fn reading_meanwhile(path: &Path) -> rusqlite::Connection {
    let reader = rusqlite::Connection::open(path).unwrap();
    reader.execute_batch("BEGIN; SELECT count(*) FROM reading").unwrap();
    reader
}

/// Says that a check could not be made here, past the test harness, which keeps what passing tests print to itself.
fn skip(what: &str, why: &str) {
    std::io::stderr().write_all(format!("skipped: {what}: {why}\n").as_bytes()).unwrap();
}

#[test]
fn a_file_of_somebody_else_is_refused_and_left_as_it_is() {
    let foreign_database = || {
        let (_folder, path) = place();
        let connection = rusqlite::Connection::open(&path).unwrap();
        connection.execute_batch("CREATE TABLE recipe (name TEXT); INSERT INTO recipe VALUES ('soup')").unwrap();
        drop(connection);
        fs::read(path).unwrap()
    };
    let marked_database = || {
        let (_folder, path) = place();
        let connection = rusqlite::Connection::open(&path).unwrap();
        connection.execute_batch("PRAGMA application_id = 77; CREATE TABLE recipe (name TEXT)").unwrap();
        drop(connection);
        fs::read(path).unwrap()
    };
    for content in [
        b"time,glucose\n2026-03-01T12:00:00Z,104\n".to_vec(),
        b"x".to_vec(),
        vec![0; 8192],
        (0..20_000_u32).map(|n| (n.wrapping_mul(2_654_435_761) >> 13) as u8).collect(),
        foreign_database(),
        marked_database(),
    ] {
        let (folder, path) = place();
        fs::write(&path, &content).unwrap();
        let refused = Log::open(&path, now()).unwrap_err();
        assert!(matches!(refused, Error::NotALog { .. }), "{refused}");
        assert!(refused.to_string().contains("left as it is"), "{refused}");
        assert_eq!(fs::read(&path).unwrap(), content);
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "nothing is left beside it");
    }
}

#[test]
fn a_database_of_somebody_else_that_is_in_use_is_left_as_it_is() {
    let (_folder, path) = place();
    let connection = rusqlite::Connection::open(&path).unwrap();
    connection.pragma_update(None, "journal_mode", "WAL").unwrap();
    connection.execute_batch("CREATE TABLE recipe (name TEXT); INSERT INTO recipe VALUES ('soup')").unwrap();
    let (file, wal) = (fs::read(&path).unwrap(), fs::read(path.with_extension("ebb-wal")).unwrap());
    assert!(matches!(Log::open(&path, now()), Err(Error::NotALog { .. })));
    assert_eq!((fs::read(&path).unwrap(), fs::read(path.with_extension("ebb-wal")).unwrap()), (file, wal));
}

#[test]
fn a_newer_log_is_refused_and_left_as_it_is() {
    let (_folder, path) = place();
    fill(&path);
    // Left in use, so that the newer version's entries wait in its side file.
    let newer = rusqlite::Connection::open(&path).unwrap();
    newer.execute_batch("PRAGMA user_version = 99; CREATE TABLE better (a)").unwrap();
    let (file, wal) = (fs::read(&path).unwrap(), fs::read(path.with_extension("ebb-wal")).unwrap());
    let refused = Log::open(&path, now()).unwrap_err();
    assert!(matches!(refused, Error::NewerLog { found: 99, known: 5, .. }), "{refused}");
    assert_eq!((fs::read(&path).unwrap(), fs::read(path.with_extension("ebb-wal")).unwrap()), (file, wal));
    drop(newer);
    let file = fs::read(&path).unwrap();
    assert!(matches!(Log::open(&path, now()), Err(Error::NewerLog { found: 99, .. })));
    assert_eq!(fs::read(&path).unwrap(), file);
}

#[test]
fn a_log_without_one_of_its_tables_is_damaged() {
    let (_folder, path) = place();
    fill(&path);
    let connection = rusqlite::Connection::open(&path).unwrap();
    connection.execute_batch("DROP TABLE learned").unwrap();
    drop(connection);
    let refused = Log::open(&path, now()).unwrap_err();
    assert!(matches!(refused, Error::DamagedLog { .. }), "{refused}");
}

/// What was put into the schema of a log would run with the next entry.
#[test]
fn a_log_with_more_in_it_than_a_log_has_is_not_written() {
    for put_in in [
        "CREATE TRIGGER z AFTER INSERT ON entry BEGIN DELETE FROM reading; END",
        "CREATE TRIGGER z BEFORE UPDATE ON source BEGIN SELECT 1; END",
        "CREATE VIEW z AS SELECT * FROM reading",
        "ALTER TABLE learned RENAME TO l2; CREATE VIEW learned AS SELECT * FROM l2",
        "CREATE INDEX z ON entry (abs(at))",
    ] {
        let (_folder, path) = place();
        fill(&path);
        let connection = rusqlite::Connection::open(&path).unwrap();
        connection.execute_batch(put_in).unwrap();
        drop(connection);
        let before = fs::read(&path).unwrap();
        let refused = Log::open(&path, now()).unwrap_err();
        assert!(matches!(refused, Error::DamagedLog { .. }), "{put_in}: {refused}");
        let mut log = Log::open_sound(&path, now()).unwrap();
        assert_eq!(log.count().unwrap().readings, 1700, "{put_in}");
        let refused = log.record(&dose(70)).unwrap_err();
        assert!(matches!(refused, Error::DamagedLog { .. }), "{put_in}: {refused}");
        drop(log);
        assert_eq!(fs::read(&path).unwrap(), before, "{put_in}");
    }
}

#[test]
fn a_log_that_another_program_rewrote_with_auto_vacuum_is_named_and_read() {
    let (folder, path) = place();
    fill(&path);
    let mut bytes = fs::read(&path).unwrap();
    // The header's own word for it; see SQLite, "Database File Format", 1.3.12.
    bytes[52..56].copy_from_slice(&[0, 0, 0, 9]);
    fs::write(&path, &bytes).unwrap();
    for refused in [Log::open(&path, now()).unwrap_err(), Log::open_to_read(&path).unwrap_err()] {
        assert!(matches!(&refused, Error::DamagedLog { what, .. } if *what == Damage::AutoVacuum), "{refused}");
    }
    let log = Log::open_sound(&path, now()).unwrap();
    assert_eq!(log.count().unwrap().readings, 1700);
    assert!(log.damage().found().is_some());
    assert_eq!(Log::recover(&path, folder.path().join("new"), now()).unwrap().readings, 1700);
}

#[test]
fn a_file_that_was_there_and_empty_is_said_once() {
    let (_folder, path) = place();
    assert!(!Log::open(&path, now()).unwrap().was_empty(), "there was none");
    fs::write(&path, b"").unwrap();
    assert!(Log::open_sound(&path, now()).unwrap().was_empty());
    assert!(!Log::open(&path, now()).unwrap().was_empty(), "a log was begun in it");
}

#[test]
fn a_folder_and_a_missing_folder_are_named() {
    let (folder, path) = place();
    let refused = Log::open(folder.path(), now()).unwrap_err();
    assert!(matches!(&refused, Error::File { source, .. } if source.kind() == std::io::ErrorKind::IsADirectory));
    assert!(refused.to_string().contains("directory"), "{refused}");
    let refused = Log::open(path.join("deeper"), now()).unwrap_err();
    assert!(
        matches!(&refused, Error::File { source, .. } if source.kind() == std::io::ErrorKind::NotFound),
        "{refused}"
    );
    assert!(Log::open("", now()).is_err());
    #[cfg(unix)]
    assert!(matches!(Log::open("/dev/null", now()), Err(Error::File { .. })));
}

#[test]
fn a_truncated_log_is_damaged_and_left_as_it_is() {
    let (_folder, path) = place();
    fill(&path);
    let whole = fs::read(&path).unwrap();
    for kept in [17, 50, 99, 100, 511, 4095, 4096, 4097, whole.len() / 2, whole.len() - 4096, whole.len() - 1] {
        // SQLite reads what is missing of the last page as noughts: cutting noughts off loses nothing.
        if whole[kept..].iter().all(|byte| *byte == 0) {
            continue;
        }
        fs::write(&path, &whole[..kept]).unwrap();
        let refused = Log::open(&path, now()).and_then(|log| log.check()).unwrap_err();
        assert!(matches!(refused, Error::DamagedLog { .. }), "{kept} bytes kept: {refused}");
        assert_eq!(fs::read(&path).unwrap(), &whole[..kept]);
    }
}

#[test]
fn a_log_that_lost_its_file_but_not_the_side_file_is_not_begun_afresh() {
    let (_folder, path) = place();
    let mut log = Log::open(&path, now()).unwrap();
    let reader = reading_meanwhile(&path);
    log.record(&reading("sensor 7", 0)).unwrap();
    let (wal, aside) = (path.with_extension("ebb-wal"), path.with_extension("aside"));
    let waiting = fs::read(&wal).unwrap();
    fs::copy(&path, &aside).unwrap();
    for damage in [|path: &Path| fs::remove_file(path), |path: &Path| File::create(path).map(drop)] {
        damage(&path).unwrap();
        let refused = Log::open(&path, now()).unwrap_err();
        assert!(matches!(refused, Error::DamagedLog { .. }), "{refused}");
        assert_eq!(fs::read(&wal).unwrap(), waiting);
    }
    // With the file back, the entry is there.
    drop((reader, log));
    fs::copy(&aside, &path).unwrap();
    fs::write(&wal, waiting).unwrap();
    assert_eq!(Log::open(&path, now()).unwrap().count().unwrap().readings, 1);
}

/// Flips a bit in many places of every page: each time the log is refused, or the check finds it, or nothing of what the
/// log says has changed.
#[test]
fn a_flipped_bit_is_found_or_harmless() {
    let (_folder, path) = place();
    fill(&path);
    let whole = fs::read(&path).unwrap();
    let recorded = facts(&Log::open(&path, now()).unwrap()).unwrap();
    let (mut refused, mut found, mut harmless) = (0, 0, 0);
    let mut state = 0x9e37_79b9_7f4a_7c15_u64;
    for page in 0..whole.len() / 4096 {
        for _ in 0..if page == 0 { 200 } else { 24 } {
            // xorshift64: any spread of places will do, but always the same.
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            let place = page * 4096 + (state >> 20) as usize % if page == 0 { 160 } else { 4096 };
            let mut flipped = whole.clone();
            flipped[place] ^= 1 << (state >> 8 & 7);
            fs::write(&path, &flipped).unwrap();
            match Log::open(&path, now()) {
                Err(error) => {
                    assert!(
                        matches!(error, Error::DamagedLog { .. } | Error::NotALog { .. } | Error::NewerLog { .. }),
                        "byte {place}: {error}"
                    );
                    assert_eq!(fs::read(&path).unwrap(), flipped, "byte {place}: a refused file is left as it is");
                    refused += 1;
                }
                Ok(log) => match log.check() {
                    Err(error) => {
                        assert!(matches!(error, Error::DamagedLog { .. }), "byte {place}: {error}");
                        found += 1;
                    }
                    Ok(()) => {
                        assert_eq!(facts(&log).unwrap(), recorded, "byte {place} changed what the log says, unnoticed");
                        harmless += 1;
                    }
                },
            }
            for beside in ["ebb-wal", "ebb-shm", "ebb-journal"] {
                let _ = fs::remove_file(path.with_extension(beside));
            }
        }
    }
    eprintln!("flipped bits: {refused} refused on opening, {found} found by the check, {harmless} harmless");
    assert!(refused > 0 && found > 0);
}

#[test]
fn a_torn_side_file_loses_only_its_own_end() {
    let (folder, path) = place();
    let mut log = Log::open(&path, now()).unwrap();
    let _reader = reading_meanwhile(&path);
    for n in 0..20 {
        log.record(&reading("sensor 7", n)).unwrap();
    }
    let (file, wal) = (fs::read(&path).unwrap(), fs::read(path.with_extension("ebb-wal")).unwrap());
    let mut before = 0;
    for kept in (0..=wal.len()).step_by(wal.len() / 40) {
        let copy = folder.path().join(format!("torn-{kept}.ebb"));
        fs::write(&copy, &file).unwrap();
        fs::write(copy.with_extension("ebb-wal"), &wal[..kept]).unwrap();
        let torn = Log::open(&copy, now()).unwrap();
        torn.check().unwrap();
        let count = torn.count().unwrap().readings;
        assert!((before..=20).contains(&count), "{kept} bytes kept: {count} readings after {before}");
        let expected: Vec<Entry> = (0..count as i64).map(|n| reading("sensor 7", n)).collect();
        assert_eq!(torn.entries(now(), now().plus_ms(20 * 5 * MINUTE_MS)).unwrap(), expected);
        before = count;
    }
}

// ---- Disks that are small or read-only -------------------------------------------------------------------------------

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_loses_nothing_that_was_acknowledged() {
    let Some(disk) = Disk::new("600k") else { return };
    let path = disk.path().join("log.ebb");
    let mut log = Log::open(&path, now()).unwrap();
    let mut acknowledged = 0;
    let refused = loop {
        let some: Vec<Entry> = (acknowledged..acknowledged + 500).map(|n| reading("sensor 7", n)).collect();
        match log.record_all(some) {
            Ok(recorded) => acknowledged += recorded.new as i64,
            Err(error) => break error,
        }
        assert!(acknowledged < 100_000, "the disk must fill up");
    };
    assert!(matches!(refused, Error::DiskFull { .. }), "{refused}");
    assert!(acknowledged > 0);
    assert_eq!(log.count().unwrap().readings, acknowledged as u64);
    drop(log);
    let mut log = Log::open(&path, now()).unwrap();
    assert_eq!(log.count().unwrap().readings, acknowledged as u64);
    log.check().unwrap();
    // With some room again, writing goes on.
    disk.remount("size=4m");
    assert_eq!(log.record_all((0..acknowledged + 500).map(|n| reading("sensor 7", n))).unwrap().new, 500);
    log.check().unwrap();
}

#[cfg(target_os = "linux")]
#[test]
fn a_log_cannot_be_begun_on_a_full_disk_and_leaves_nothing_that_is_in_the_way_later() {
    let Some(disk) = Disk::new("64k") else { return };
    let path = disk.path().join("log.ebb");
    let filler = disk.path().join("filler");
    let _ = fs::write(&filler, vec![0; 60 << 10]);
    let refused = Log::open(&path, now()).unwrap_err();
    assert!(matches!(refused, Error::DiskFull { .. }), "{refused}");
    fs::remove_file(filler).unwrap();
    disk.remount("size=4m");
    let mut log = Log::open(&path, now()).unwrap();
    assert_eq!(log.record(&reading("sensor 7", 0)).unwrap().new, 1);
}

#[cfg(target_os = "linux")]
#[test]
fn a_log_on_a_read_only_disk_opens_for_reading() {
    let Some(disk) = Disk::new("4m") else { return };
    let path = disk.path().join("log.ebb");
    fill(&path);
    let recorded = facts(&Log::open(&path, now()).unwrap()).unwrap();
    disk.remount("ro");
    let mut log = Log::open(&path, now()).unwrap();
    assert!(log.is_read_only());
    assert_eq!(facts(&log).unwrap(), recorded);
    log.check().unwrap();
    assert!(matches!(log.record(&reading("sensor 7", -9000)), Err(Error::ReadOnly { .. })));
    assert!(matches!(log.undo_last(now()), Err(Error::ReadOnly { .. })));
    assert!(matches!(log.set_wearer(&Wearer::default(), now()), Err(Error::ReadOnly { .. })));
    let refused = Log::open(disk.path().join("new.ebb"), now()).unwrap_err();
    assert!(matches!(refused, Error::ReadOnly { .. }), "{refused}");
    drop(log);
    disk.remount("rw");
    // Entries that wait beside the log cannot be read here, and must not be passed over.
    let mut log = Log::open(&path, now()).unwrap();
    let reader = reading_meanwhile(&path);
    log.record(&reading("sensor 7", -9000)).unwrap();
    let copy = disk.path().join("copy.ebb");
    fs::copy(&path, &copy).unwrap();
    fs::copy(path.with_extension("ebb-wal"), copy.with_extension("ebb-wal")).unwrap();
    drop((reader, log));
    disk.remount("ro");
    let refused = Log::open(&copy, now()).unwrap_err().to_string();
    assert!(refused.contains("copy.ebb-wal") && refused.contains("copy the log together"), "{refused}");
}

/// The same by mode bits, which do not bind root.
#[cfg(unix)]
#[test]
fn a_log_in_a_folder_without_write_permission_opens_for_reading() {
    use std::os::unix::fs::PermissionsExt;
    let (folder, path) = place();
    fill(&path);
    let recorded = facts(&Log::open(&path, now()).unwrap()).unwrap();
    let chmod = |path: &Path, mode: u32| fs::set_permissions(path, fs::Permissions::from_mode(mode)).unwrap();
    chmod(folder.path(), 0o500);
    if File::create(folder.path().join("probe")).is_ok() {
        return skip("folder without write permission", "mode bits do not bind root");
    }
    for mode in [0o600, 0o400] {
        chmod(&path, mode);
        let mut log = Log::open(&path, now()).unwrap();
        assert!(log.is_read_only());
        assert_eq!(facts(&log).unwrap(), recorded);
        assert!(matches!(log.record(&reading("sensor 7", -9000)), Err(Error::ReadOnly { .. })));
    }
    assert!(matches!(Log::open(folder.path().join("new.ebb"), now()), Err(Error::ReadOnly { .. })));
    chmod(folder.path(), 0o700);
    // The file alone read-only.
    let mut log = Log::open(&path, now()).unwrap();
    assert!(log.is_read_only());
    assert_eq!(facts(&log).unwrap(), recorded);
    assert!(matches!(log.record(&reading("sensor 7", -9000)), Err(Error::ReadOnly { .. })));
    drop(log);
    chmod(&path, 0o000);
    let refused = Log::open(&path, now()).unwrap_err();
    assert!(matches!(&refused, Error::File { source, .. } if source.kind() == std::io::ErrorKind::PermissionDenied));
    chmod(&path, 0o600);
    assert!(!Log::open(&path, now()).unwrap().is_read_only());
}
