//! `merge`, `seal` and `unseal`: a log on the move.

use std::io::Write;
use std::process::Stdio;

use ebbstead_core::exchange::sealed::{self, Passphrase};
use ebbstead_core::log::{Entry, EntryKind, Source, Text};
use ebbstead_core::store::Log;
use ebbstead_core::time::{DAY_MS, Moment};

use crate::context::Context;

const WORDS: &str = "four plain words, unlike";

fn swing(hours: f64) -> Vec<f64> {
    (0..288)
        .map(|n| (150.0 + 70.0 * ((f64::from(n) / 12.0 + hours) * std::f64::consts::TAU / 6.0).sin()).round())
        .collect()
}

fn filled(file: &str, amounts: &[f64]) -> Context {
    let context = Context::new();
    let file = context.readings(file, "2026-03-01 00:00", amounts);
    context.done(&["import", &file]);
    context
}

#[test]
fn another_devices_log_is_shown_before_it_is_merged() {
    let (here, there) = (Context::new(), filled("week.csv", &swing(0.0)));
    there.done(&["add", "carbs", "45", "--at", "2026-03-01 12:00"]);
    let other = there.log();
    let other = other.to_str().unwrap();
    let shown = here.done(&["merge", other]);
    assert!(shown.contains("New: 288 sensor readings, 1 other entry, 1 import"), "{shown}");
    assert!(shown.contains("Nothing was written. To merge it, add --apply."), "{shown}");
    assert!(here.done(&["log", "--from", "2026-03-01 00:00"]).contains("Nothing is in the log"));
    let done = here.done(&["merge", other, "--apply"]);
    assert!(done.contains("Added: 290 new entries."), "{done}");
    assert!(here.done(&["merge", other]).contains("Nothing would change"));
    let german = here.done(&["merge", other, "--lang", "de"]);
    assert!(german.contains("Nichts würde sich ändern"), "{german}");
    // What is taken back there is taken back here.
    there.done(&["undo"]);
    let shown = here.done(&["merge", other]);
    assert!(shown.contains("It corrects 0 entries and takes back 1"), "{shown}");
    assert!(shown.contains("12:00  carbohydrate 45 g"), "{shown}");
}

/// What came with several files is one fact, sealed, merged or counted.
#[test]
fn the_same_readings_from_three_files_are_counted_once_and_each_import_is_carried() {
    let (here, there) = (Context::new(), Context::new());
    let table = "time,glucose mg/dL\n".to_owned()
        + &(0..24).map(|n| format!("2026-03-01 0{}:{:02},{}\n", n / 12, n % 12 * 5, 100 + n)).collect::<String>();
    let texts = [
        ("base.csv", table.clone()),
        ("crlf.csv", table.replace('\n', "\r\n")),
        ("quoted.csv", table.replace(",1", ",01")),
    ];
    for (name, text) in texts {
        let path = there.file(name, text);
        there.done(&["import", &path]);
    }
    let words = there.file("words", WORDS);
    let sealed = there.folder().join("all.sealed");
    let said = there.done(&["seal", sealed.to_str().unwrap(), "--passphrase-from", &words]);
    assert!(said.contains("24 sensor readings"), "{said}");
    let said = here.done(&["unseal", sealed.to_str().unwrap(), "--passphrase-from", &words, "--apply"]);
    assert!(!said.contains("already"), "{said}");
    let listed = here.done(&["log", "--imports"]);
    for name in ["base.csv", "crlf.csv", "quoted.csv"] {
        assert!(listed.contains(name), "{name}\n{listed}");
    }
    assert_eq!(listed, there.done(&["log", "--imports"]));
    let merged = Context::new();
    let said = merged.done(&["merge", there.log().to_str().unwrap(), "--apply"]);
    assert!(said.contains("27 new entries") && !said.contains("already"), "{said}");
}

#[test]
fn a_strangers_log_is_refused_without_a_word() {
    let (here, there) = (filled("mine.csv", &swing(0.0)), filled("hers.csv", &swing(2.5)));
    let other = there.log();
    let run = here.run(&["merge", other.to_str().unwrap(), "--apply"]);
    assert_eq!(run.code, 65, "{}{}", run.out, run.err);
    assert!(run.out.contains("somebody else's log"), "{}", run.out);
    assert!(run.out.contains("shared times the readings differ by more than 40 mg/dL"), "{}", run.out);
    assert!(run.err.contains("--force"), "{}", run.err);
    let day = ["log", "--from", "2026-03-01 00:00", "--until", "2026-03-02 00:00"];
    assert!(here.done(&day).contains("288 sensor readings"));
    assert!(here.done(&["merge", other.to_str().unwrap(), "--apply", "--force"]).contains("Added: "));
}

#[test]
fn a_log_that_is_not_there_is_not_made() {
    let context = Context::new();
    let other = context.folder().join("other.ebbstead");
    assert!(context.fails(66, &["merge", other.to_str().unwrap()]).contains("other.ebbstead"));
    assert!(!other.exists());
    let text = context.file("letter.txt", "not a log");
    assert!(context.fails(65, &["merge", &text]).contains("not an Ebbstead log"));
    assert_eq!(std::fs::read(&text).unwrap(), b"not a log");
}

#[test]
fn a_sealed_log_moves_to_an_empty_device_and_into_one_in_use() {
    let old = filled("week.csv", &swing(0.0));
    old.done(&["settings", "unit", "mmol"]);
    let words = old.file("words", format!("{WORDS}\n"));
    let file = old.folder().join("copy.sealed");
    let file = file.to_str().unwrap();
    let said = old.done(&["seal", file, "--passphrase-from", &words]);
    assert!(said.contains("Sealed and read back: 288 sensor readings and 1 other entry"), "{said}");
    assert!(old.fails(74, &["seal", file, "--passphrase-from", &words]).contains("copy.sealed"));
    old.done(&["seal", file, "--passphrase-from", &words, "--replace"]);

    let new = Context::new();
    let said = new.done(&["unseal", file, "--passphrase-from", &words]);
    assert!(said.contains("Brought back: 289 entries"), "{said}");
    assert!(new.done(&["settings"]).contains("mmol/L"), "{}", new.done(&["settings"]));
    assert!(new.done(&["unseal", file, "--passphrase-from", &words]).contains("Nothing would change"));

    let used = filled("later.csv", &[101.0, 102.0]);
    let shown = used.done(&["unseal", file, "--passphrase-from", &words]);
    assert!(shown.contains("Nothing was written. To merge it, add --apply"), "{shown}");
    let done = used.done(&["unseal", file, "--passphrase-from", &words, "--apply"]);
    assert!(done.contains("Added: ") && done.contains("Settings and what was learnt stay"), "{done}");
    assert!(used.done(&["settings"]).contains("mg/dL"));
}

/// Into an empty log a sealed one comes whole, yet not without a word about what speaks against it.
#[test]
fn a_sealed_log_from_ahead_of_the_clock_is_asked_about() {
    let context = Context::new();
    let tomorrow = Moment::new(chrono::Utc::now().timestamp_millis() + DAY_MS, 0).unwrap();
    let mut ahead = Log::in_memory(tomorrow).unwrap();
    let note = EntryKind::Note { text: Text::new("from tomorrow".to_owned()).unwrap() };
    ahead.record(&Entry::new(tomorrow, tomorrow, Source::by_hand(), note).unwrap()).unwrap();
    let file = context.folder().join("ahead.sealed");
    let passphrase = Passphrase::for_sealing(WORDS.to_owned().into()).unwrap();
    sealed::seal(&ahead, &file, &passphrase, false, tomorrow).unwrap();
    let (file, words) = (file.to_str().unwrap(), context.file("words", WORDS));
    let unseal = ["unseal", file, "--passphrase-from", &words];
    let asked = context.done(&unseal);
    assert!(asked.contains("clock") && asked.contains("--apply --force"), "{asked}");
    assert!(context.fails(65, &[&unseal[..], &["--apply"]].concat()).contains("--force"));
    let done = context.done(&[&unseal[..], &["--apply", "--force"]].concat());
    assert!(done.contains("Brought back: 1 entry"), "{done}");
}

#[test]
fn a_passphrase_is_asked_for_or_read_and_never_shown() {
    let context = filled("week.csv", &swing(0.0));
    let file = context.folder().join("copy.sealed");
    let file = file.to_str().unwrap();
    assert!(context.fails(65, &["seal", file]).contains("--passphrase-from"));
    let short = context.file("short", "secret");
    let said = context.fails(65, &["seal", file, "--passphrase-from", &short]);
    assert!(said.contains("at least 12 characters") && !said.contains("secret"), "{said}");
    // From standard input.
    let mut child = context
        .command(&["seal", file, "--passphrase-from", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(WORDS.as_bytes()).unwrap();
    assert!(child.wait_with_output().unwrap().status.success());
    let wrong = context.file("wrong", "five plain words, unlike");
    let said = context.fails(77, &["unseal", file, "--passphrase-from", &wrong]);
    assert!(said.contains("the passphrase does not open it") && !said.contains("five plain"), "{said}");
    let german = context.fails(77, &["unseal", file, "--passphrase-from", &wrong, "--lang", "de"]);
    assert!(german.contains("die Passphrase öffnet es nicht"), "{german}");
    let mut bytes = std::fs::read(file).unwrap();
    let last = bytes.len() - 40;
    bytes[last] ^= 1;
    let broken = context.file("broken.sealed", bytes);
    let words = context.file("words", WORDS);
    let said = context.fails(65, &["unseal", &broken, "--passphrase-from", &words, "--log", "other.ebbstead"]);
    assert!(said.contains("the sealed log is damaged"), "{said}");
}

/// Replaced, it would take the passphrase with it, and nobody could open the sealed log.
#[test]
fn sealing_does_not_replace_the_file_with_the_passphrase() {
    let context = filled("week.csv", &swing(0.0));
    let words = context.file("words", WORDS);
    let mut names = vec![words.clone()];
    #[cfg(unix)]
    {
        let (soft, hard) = (context.folder().join("soft"), context.folder().join("hard"));
        std::os::unix::fs::symlink(&words, &soft).unwrap();
        std::fs::hard_link(&words, &hard).unwrap();
        names.extend([soft, hard].map(|path| path.to_str().unwrap().to_owned()));
    }
    for (file, from) in names.iter().flat_map(|file| names.iter().map(move |from| (file, from))) {
        let said = context.fails(65, &["seal", file, "--replace", "--passphrase-from", from]);
        assert!(said.contains("holds the passphrase"), "{said}");
        assert_eq!(std::fs::read_to_string(&words).unwrap(), WORDS);
    }
    let other = context.file("old", "old");
    context.done(&["seal", &other, "--replace", "--passphrase-from", &words]);
}

#[test]
fn what_was_taken_back_is_not_believed_again_through_a_table() {
    let context = filled("week.csv", &[101.0, 102.0, 103.0]);
    context.done(&["add", "carbs", "45", "--at", "2026-03-01 12:00"]);
    let wrong = context.readings("wrong.csv", "2026-03-01 05:00", &[47.0; 12]);
    context.done(&["import", &wrong]);
    context.done(&["undo"]);
    let file = context.folder().join("table.csv");
    let said = context.done(&["export", file.to_str().unwrap(), "--as", "table", "--all"]).replace('\n', " ");
    assert!(said.contains("came only with files that were taken back: 12 entries"), "{said}");
    let other = Context::new();
    assert!(other.done(&["import", file.to_str().unwrap()]).contains("4 new entries"));
}

#[test]
fn a_table_goes_out_and_comes_back_and_can_be_taken_back() {
    let context = filled("week.csv", &[101.0, 102.0, 103.0]);
    context.done(&["add", "carbs", "45", "--at", "2026-03-01 12:00"]);
    context.done(&["add", "note", "=1+1", "--at", "2026-03-01 13:00"]);
    let file = context.folder().join("table.csv");
    let path = file.to_str().unwrap();
    let said = context.done(&["export", path, "--as", "table"]);
    assert!(said.contains("3 sensor readings and 2 other entries, 1 Mar 2026 to 1 Mar 2026"), "{said}");
    assert!(context.fails(74, &["export", path, "--as", "table"]).contains("table.csv"));
    context.done(&["export", path, "--as", "table", "--replace"]);
    let table = std::fs::read_to_string(&file).unwrap();
    assert!(table.contains("2026-03-01 12:00:00,+01:00,2026-03-01T11:00:00Z,carbohydrate,"), "{table}");
    assert!(context.done(&["import", path]).contains("0 new entries; in the log already: 5"));

    let other = Context::new();
    assert!(other.done(&["import", path, "--dry-run"]).contains("5 entries could be taken. Nothing was"));
    assert!(other.done(&["import", path]).contains("5 new entries; in the log already: 0"));
    let listed = other.done(&["log", "--imports"]);
    assert!(listed.contains("brought in: table.csv") && !listed.contains("taken back"), "{listed}");
    other.done(&["undo"]);
    assert!(other.done(&["log", "--imports"]).contains("(taken back)"));
    let day = ["log", "--from", "2026-03-01 00:00", "--until", "2026-03-02 00:00"];
    assert!(other.done(&day).contains("Nothing is in the log"));

    // A cell changed in a spreadsheet is no correction.
    let changed = context.file("changed.csv", table.replace(",45,", ",54,"));
    let run = context.run(&["import", &changed]);
    assert!(run.err.contains("line 5: it would change an entry"), "{}{}", run.out, run.err);
    assert!(run.out.contains("0 new entries; in the log already: 4"), "{}", run.out);
    assert!(context.done(&day).contains("carbohydrate 45 g"));
}

#[test]
fn a_look_says_what_is_made_of_each_column() {
    let context = Context::new();
    let file = context.file("readings.csv", "time,glucose mg/dL,remark\n2026-03-01 03:05,101,fine\n");
    let said = context.done(&["import", &file, "--dry-run"]);
    assert!(said.contains("Time from \"time\", readings from \"glucose mg/dL\" in mg/dL"), "{said}");
    assert!(said.contains("Not taken, whatever they hold: remark."), "{said}");
    let file = context.file("more.csv", "time,glucose mg/dL,carbs (g),insulin (units)\n2026-03-01 03:05,101,30,4\n");
    let said = context.done(&["import", &file]);
    assert!(said.contains("Not taken, whatever they hold: carbs (g), insulin (units)."), "{said}");
}

#[test]
fn a_damaged_log_is_found_and_mended() {
    let context = filled("week.csv", &swing(0.0));
    let log = context.log();
    assert!(context.done(&["log", "--check-file"]).contains("no damage"));
    let mut bytes = std::fs::read(&log).unwrap();
    // A reading's own bytes: the last page is full of them.
    let last = bytes.len() - 40;
    bytes[last] ^= 4;
    std::fs::write(&log, &bytes).unwrap();
    assert!(context.fails(65, &["log", "--check-file"]).contains("damaged"));
    let new = context.folder().join("new.ebbstead");
    let said = context.done(&["recover", new.to_str().unwrap()]);
    assert!(said.contains("sensor readings and 1 other entry"), "{said}");
    assert!(std::fs::read(&log).unwrap() == bytes, "the damaged log is kept as it is");
    assert!(context.done(&["log", "--check-file", "--log", new.to_str().unwrap()]).contains("no damage"));
}
