//! Programs that are killed while they log, merge, import, seal, restore and make logs, and several that write one log at once:
//! nothing acknowledged is lost, nothing half-written is seen.
//!
//! `EBBSTEAD_KILL_RUNS` sets how often each of them is killed (16 unless set; thousands for a long run).
#![cfg(all(unix, feature = "sealed"))]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // a test may stop where it stands

use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::thread;
use std::time::Duration;

use ebbstead_engine::time::{DAY_MS, MINUTE_MS, Moment};
use ebbstead_engine::units::Glucose;
use ebbstead_log::exchange::sealed::{Passphrase, SealedLog, seal};
use ebbstead_log::log::{Entry, EntryKind, InsulinKind, Source, Text};
use ebbstead_log::store::Log;
use ebbstead_log::{Error, Quantity};
use tempfile::TempDir;

const ROLE: &str = "EBBSTEAD_TEST_ROLE";
const FOLDER: &str = "EBBSTEAD_TEST_FOLDER";
/// Readings that come as a whole.
const BLOCK: i64 = 400;
/// Logs that are merged, one after the other.
const OTHERS: i64 = 40;
/// Readings that each of several programs adds to one log.
const SHARED: i64 = 150;

fn now() -> Moment {
    Moment::parse("2026-03-01T12:00:00+01:00").unwrap()
}

fn reading(n: i64) -> Entry {
    reading_of("sensor 7", n)
}

fn reading_of(source: &str, n: i64) -> Entry {
    let at = now().plus_ms(n * 5 * MINUTE_MS);
    let mg_dl = Glucose::from_mg_dl(90.0 + (n * 31).rem_euclid(97) as f64).unwrap();
    Entry::new(at, at, Source::new(source).unwrap(), EntryKind::SensorReading { mg_dl }).unwrap()
}

fn block(nth: i64) -> impl Iterator<Item = Entry> {
    (nth * BLOCK..(nth + 1) * BLOCK).map(reading)
}

fn passphrase() -> Passphrase {
    Passphrase::for_opening("four plain words, unlike".to_owned().into()).unwrap()
}

fn runs() -> u64 {
    std::env::var("EBBSTEAD_KILL_RUNS").ok().and_then(|runs| runs.parse().ok()).unwrap_or(16)
}

fn other(folder: &Path, nth: i64) -> PathBuf {
    folder.join(format!("other-{nth}.ebb"))
}

/// This test binary again, as a program that works in a folder and says on its output what was acknowledged.
fn program(role: &str, folder: &Path) -> Command {
    let mut command = Command::new(std::env::current_exe().unwrap());
    command
        .args(["--exact", "killed::the_other_program", "--nocapture"])
        .env(ROLE, role)
        .env(FOLDER, folder)
        .stdout(Stdio::piped())
        .stderr(Stdio::null());
    command
}

/// Not a test of its own: what [`program`] runs.
#[test]
fn the_other_program() {
    let (Ok(role), Ok(folder)) = (std::env::var(ROLE), std::env::var(FOLDER)) else { return };
    let folder = PathBuf::from(folder);
    let mut said = std::io::stdout();
    let mut acknowledge = |n: i64| writeln!(said, "acknowledged {n}").and_then(|()| said.flush()).unwrap();
    let open = || Log::open(folder.join("log.ebb"), now()).unwrap();
    match role.as_str() {
        "log" => {
            let mut log = open();
            for n in log.count().unwrap().readings as i64.. {
                if log.record(&reading(n)).is_err() {
                    break;
                }
                acknowledge(n + 1);
            }
        }
        "merge" => {
            let mut log = open();
            for nth in log.count().unwrap().readings as i64 / BLOCK..OTHERS {
                log.merge(&Log::open_to_read(other(&folder, nth)).unwrap()).unwrap();
                acknowledge((nth + 1) * BLOCK);
            }
        }
        "import" => {
            let mut log = open();
            for nth in log.count().unwrap().readings as i64 / BLOCK.. {
                log.import(Text::new("block").unwrap(), block(nth).map(Ok), now()).unwrap();
                acknowledge((nth + 1) * BLOCK);
            }
        }
        "make" => {
            for nth in 0.. {
                let path = folder.join(format!("made-{nth}.ebb"));
                Log::open(path, now()).unwrap().record(&reading(nth)).unwrap();
                acknowledge(nth + 1);
            }
        }
        "seal" => {
            let log = Log::open_to_read(folder.join("log.ebb")).unwrap();
            for nth in 1.. {
                let at = now().plus_ms(nth);
                seal(&log, &folder.join("log.sealed"), &passphrase(), true, at).unwrap();
                acknowledge(nth);
            }
        }
        "restore" => {
            let words = passphrase();
            for nth in 0.. {
                let sealed = SealedLog::open(&folder.join("log.sealed"), &words).unwrap();
                Log::open(folder.join(format!("restored-{nth}.ebb")), now()).unwrap().restore(&sealed).unwrap();
                acknowledge(nth + 1);
            }
        }
        source => {
            let mut log = open();
            for n in 0..SHARED {
                log.record(&reading_of(source, n)).unwrap();
            }
            acknowledge(SHARED);
        }
    }
}

/// The last acknowledgement that reached us.
fn acknowledged(child: &mut Child) -> i64 {
    let lines = BufReader::new(child.stdout.take().unwrap()).lines();
    lines
        .map_while(Result::ok)
        .filter_map(|line| line.rsplit_once("acknowledged ").and_then(|(_, n)| n.parse().ok()))
        .last()
        .unwrap_or(0)
}

/// Within so many microseconds a program is killed.
const SOON_US: u64 = 60_000;

/// A machine that is busy with something else starts a program late: until one has acknowledged anything, each is given longer.
fn longer(longest_us: u64) -> u64 {
    (2 * longest_us).min(4_000_000)
}

/// Runs the program in a folder and kills it after a while that differs each time; gives what it had acknowledged.
fn killed(role: &str, folder: &Path, run: u64, longest_us: u64) -> i64 {
    let mut child = program(role, folder).spawn().unwrap();
    thread::sleep(Duration::from_micros(1500 + run.wrapping_mul(2_654_435_761) % longest_us));
    child.kill().unwrap();
    child.wait().unwrap();
    acknowledged(&mut child)
}

/// The log in a folder holds the first readings, as many as were promised or more, in whole blocks.
fn holds(folder: &Path, promised: i64, whole: i64) -> i64 {
    let log = Log::open(folder.join("log.ebb"), now()).unwrap();
    log.check().unwrap();
    let kept = log.count().unwrap().readings as i64;
    assert!(kept >= promised, "{promised} were acknowledged and {kept} are there");
    assert_eq!(kept % whole, 0, "{kept} readings: something half-written is seen");
    let end = now().plus_ms(kept * 5 * MINUTE_MS);
    assert_eq!(log.history(now(), end).unwrap().readings.len() as i64, kept);
    let there = log.entries(now(), end).unwrap().into_iter();
    let readings = there.filter(|entry| matches!(entry.what, EntryKind::SensorReading { .. }));
    assert!(readings.map(|entry| Entry { import: None, ..entry }).eq((0..kept).map(reading)), "other readings");
    kept
}

fn survives(role: &str, whole: i64, folder: impl Fn() -> TempDir) {
    let mut place = folder();
    let (mut most, mut promised_in_all) = (0, 0);
    let mut longest_us = SOON_US;
    for run in 0..runs() {
        if run % 8 == 7 {
            place = folder();
        }
        let promised = killed(role, place.path(), run, longest_us);
        promised_in_all += promised;
        longest_us = if promised_in_all == 0 { longer(longest_us) } else { longest_us };
        most = most.max(holds(place.path(), promised, whole));
    }
    eprintln!("{role}: killed {} times, up to {most} readings, none of what was acknowledged lost", runs());
    assert!(most > 0 && promised_in_all > 0, "always killed before anything was written");
}

#[test]
fn while_logging() {
    survives("log", 1, || tempfile::tempdir().unwrap());
}

#[test]
fn while_importing() {
    survives("import", BLOCK, || tempfile::tempdir().unwrap());
}

#[test]
fn while_merging() {
    let model = tempfile::tempdir().unwrap();
    for nth in 0..OTHERS {
        Log::open(other(model.path(), nth), now()).unwrap().record_all(block(nth)).unwrap();
    }
    survives("merge", BLOCK, || {
        let folder = tempfile::tempdir().unwrap();
        for nth in 0..OTHERS {
            fs::copy(other(model.path(), nth), other(folder.path(), nth)).unwrap();
        }
        folder
    });
}

#[test]
fn two_programs_make_and_write_one_log_at_once() {
    for _ in 0..3 {
        let folder = tempfile::tempdir().unwrap();
        let sources = ["sensor a", "sensor b", "sensor c"];
        for mut child in sources.map(|source| program(source, folder.path()).spawn().unwrap()) {
            assert_eq!(acknowledged(&mut child), SHARED);
            assert!(child.wait().unwrap().success());
        }
        let log = Log::open(folder.path().join("log.ebb"), now()).unwrap();
        log.check().unwrap();
        assert_eq!(log.count().unwrap().readings as i64, 3 * SHARED);
        assert_eq!(log.history(now(), now()).unwrap().readings.len(), 1);
    }
}

#[test]
fn while_making_logs() {
    let mut made = 0;
    let mut longest_us = SOON_US;
    for run in 0..runs() {
        let folder = tempfile::tempdir().unwrap();
        let promised = killed("make", folder.path(), run, longest_us);
        longest_us = if made + promised == 0 { longer(longest_us) } else { longest_us };
        for nth in 0..=promised {
            let path = folder.path().join(format!("made-{nth}.ebb"));
            // The last one may not have been begun.
            let log = Log::open(&path, now()).unwrap();
            log.check().unwrap();
            let kept = log.count().unwrap().readings;
            assert!(kept == 1 || nth == promised && kept == 0, "log {nth} of {promised} holds {kept}");
        }
        made += promised;
    }
    eprintln!("make: killed {} times, {made} logs made, each of them whole", runs());
    assert!(made > 0);
}

#[test]
fn while_sealing_and_restoring() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("log.sealed");
    let words = passphrase();
    let mut log = Log::open(folder.path().join("log.ebb"), now()).unwrap();
    log.record_all((0..2 * BLOCK).map(reading)).unwrap();
    seal(&log, &path, &words, false, now()).unwrap();
    drop(log);
    // Sealing takes as long as guessing a passphrase does, so fewer of them.
    let runs = runs().div_ceil(3);
    let (mut sealed, mut restored) = (0, 0);
    for run in 0..runs {
        let promised = killed("seal", folder.path(), run, 1_500_000);
        // What is there is whole, and at least as new as what was acknowledged.
        let opened = SealedLog::open(&path, &words).unwrap();
        assert!(opened.sealed_at().unwrap().unix_ms() >= now().unix_ms() + promised);
        let mut log = Log::in_memory(now()).unwrap();
        assert_eq!(log.restore(&opened).unwrap().new as i64, 2 * BLOCK);
        sealed += promised;
        for left in fs::read_dir(folder.path()).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap())
        {
            assert!(
                ["log.ebb", "log.ebb-wal", "log.ebb-shm", "log.sealed"].contains(&left.as_str())
                    || left.ends_with(".part"),
                "{left}"
            );
        }
        // Each run begins where none was restored.
        let own = tempfile::tempdir().unwrap();
        fs::copy(&path, own.path().join("log.sealed")).unwrap();
        let promised = killed("restore", own.path(), run, 2_000_000);
        for nth in 0..=promised {
            let log = Log::open(own.path().join(format!("restored-{nth}.ebb")), now()).unwrap();
            log.check().unwrap();
            let kept = log.count().unwrap().readings as i64;
            assert!(kept == 2 * BLOCK || nth == promised && kept == 0, "log {nth} of {promised} holds {kept}");
        }
        restored += promised;
    }
    eprintln!(
        "seal and restore: killed {runs} times each, {sealed} sealed and {restored} restored, each of them whole"
    );
}

/// A limit on the size of files stands for a full disk where no file system can be mounted.
#[test]
fn a_file_that_may_not_grow_loses_nothing_that_was_acknowledged() {
    let folder = tempfile::tempdir().unwrap();
    let plain = program("log", folder.path());
    let mut limited = Command::new("sh");
    // In blocks of 512 bytes. Ignored, the signal for a file that is too large becomes an error of the write.
    limited
        .args(["-c", "trap '' XFSZ; ulimit -f 300; exec \"$0\" \"$@\""])
        .arg(plain.get_program())
        .args(plain.get_args());
    limited.env(ROLE, "log").env(FOLDER, folder.path()).stdout(Stdio::piped()).stderr(Stdio::null());
    let mut child = limited.spawn().unwrap();
    let promised = acknowledged(&mut child);
    child.wait().unwrap();
    assert!(promised > 0);
    let kept = holds(folder.path(), promised, 1);
    eprintln!("a limit of 150 kB: {promised} readings acknowledged, {kept} kept");
    // With room again, it goes on.
    let mut log = Log::open(folder.path().join("log.ebb"), now()).unwrap();
    assert_eq!(log.record(&reading(kept)).unwrap().new, 1);
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_leaves_the_sealed_log_that_was_there() {
    let folder = tempfile::tempdir().unwrap();
    let mounted = Command::new("mount")
        .args(["-t", "tmpfs", "-o", "size=64k,mode=700", "tmpfs"])
        .arg(folder.path())
        .stderr(Stdio::null())
        .status();
    if !mounted.is_ok_and(|status| status.success()) {
        std::io::stderr()
            .write_all(b"skipped: sealing on a full disk: a file system can only be mounted by root\n")
            .unwrap();
        return;
    }
    let path = folder.path().join("log.sealed");
    let words = passphrase();
    let mut log = Log::in_memory(now()).unwrap();
    log.record_all((0..100).map(reading)).unwrap();
    let done = seal(&log, &path, &words, false, now());
    log.record_all((0..5000).map(reading)).unwrap();
    let refused = seal(&log, &path, &words, true, now());
    let there =
        SealedLog::open(&path, &words).map(|sealed| Log::in_memory(now()).unwrap().restore(&sealed).unwrap().new);
    let files = fs::read_dir(folder.path()).unwrap().count();
    let _ = Command::new("umount").arg(folder.path()).status();
    done.unwrap();
    assert!(matches!(refused, Err(Error::DiskFull { .. })), "{refused:?}");
    assert_eq!(there.unwrap(), 100);
    assert_eq!(files, 1, "what was begun is taken away again");
}

#[test]
fn a_clock_set_back_a_year_is_reported_and_what_is_noted_then_still_holds() {
    let mut log = Log::in_memory(now()).unwrap();
    let units = |units| EntryKind::Insulin { insulin: InsulinKind::Rapid, units };
    let dose = Entry::new(now(), now(), Source::by_hand(), units(40.0)).unwrap();
    log.record(&dose).unwrap();
    let back = now().plus_ms(-365 * DAY_MS);
    assert_eq!(log.clock_behind(back).unwrap(), Some(now()));
    let corrected = log.correct(dose.id, dose.at, units(4.0), back);
    // The entry's own time lies a year ahead of that clock: it is said, and nothing is lost.
    assert!(matches!(corrected, Err(Error::Invalid { what: Quantity::Time, .. })), "{corrected:?}");
    log.retract(dose.id, back).unwrap();
    assert!(log.history(back, now()).unwrap().doses.is_empty());
    // Undoing goes by the order in which things came, whatever the clock says.
    assert_eq!(log.undo_last(now()).unwrap().unwrap().undone.what, EntryKind::Retraction);
    let noted = Entry::new(back, back, Source::by_hand(), units(2.0)).unwrap();
    log.record(&noted).unwrap();
    assert_eq!(log.undo_last(back).unwrap().unwrap().undone.id, noted.id);
    assert_eq!(log.history(back, now()).unwrap().doses.len(), 1);
    log.check().unwrap();
}
