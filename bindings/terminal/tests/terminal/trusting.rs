//! What stands in the way: damage, other programs, full disks, files that must not be touched, and what is typed wrong.

use std::fs;
use std::io::Read;
use std::path::Path;
use std::process::Stdio;
use std::time::{Duration, Instant};

use crate::context::Context;
#[cfg(target_os = "linux")]
use crate::disk::Disk;

fn context() -> Context {
    let context = Context::new();
    let amounts: Vec<f64> = (0..600).map(|n| 100.0 + f64::from(n % 40)).collect();
    let file = context.readings("readings.csv", "2026-02-27 09:00", &amounts);
    context.done(&["import", &file]);
    context
}

const AT: [&str; 2] = ["--at", "2026-03-01 10:55"];
const UNTIL: [&str; 2] = ["--until", "2026-03-01 10:55"];

#[test]
fn every_reading_command_says_that_the_log_is_damaged_and_shows_what_is_sound() {
    let context = context();
    let whole = fs::read(context.log()).unwrap();
    let mut bytes = whole.clone();
    // The first leaf of readings says that it holds one row; see SQLite, "Database File Format", 1.6.
    let leaf = (1..bytes.len() / 4096).find(|page| bytes[page * 4096] == 0x0a && bytes[page * 4096 + 4] > 60).unwrap();
    bytes[leaf * 4096 + 3..leaf * 4096 + 5].copy_from_slice(&[0, 1]);
    fs::write(context.log(), &bytes).unwrap();
    let json = context.folder().join("out.json");
    let commands: [&[&str]; 7] = [
        &["check", AT[0], AT[1]],
        &["wake", AT[0], AT[1]],
        &["log", "--days", "3", UNTIL[0], UNTIL[1]],
        &["review", UNTIL[0], UNTIL[1]],
        &["export", "-", "--as", "table"],
        &["export", json.to_str().unwrap(), "--as", "fhir"],
        &["sensor"],
    ];
    for command in commands {
        let run = context.run(command);
        assert_eq!(run.code, 65, "{command:?}: {}", run.err);
        assert!(run.err.contains("damaged") && run.err.contains("recover"), "{command:?}: {}", run.err);
        assert!(!run.out.is_empty(), "{command:?} answers all the same");
        assert_eq!(fs::read(context.log()).unwrap(), bytes, "{command:?}");
    }
    // What is not found may be what the damage took; and it is the damage that keeps a lesson from being learnt.
    fs::write(context.log(), &whole[..whole.len() / 2]).unwrap();
    for command in [&["learn", "--last"][..], &["reliability"], &["sensor", "--sheet"], &["learn"]] {
        let said = context.fails(65, command);
        assert!(said.contains("damaged"), "{command:?}: {said}");
    }
    fs::write(context.log(), &whole).unwrap();
    context.done(&["review", UNTIL[0], UNTIL[1]]);
}

#[test]
fn a_log_that_was_cut_to_nothing_is_not_begun_anew_without_a_word() {
    let context = context();
    fs::write(context.log(), b"").unwrap();
    let run = context.run(&["log"]);
    assert!(run.err.contains("was there and empty"), "{}", run.err);
    let again = context.run(&["log"]);
    assert!(again.code == 0 && again.err.is_empty(), "{}", again.err);
    assert!(Context::new().run(&["log"]).err.is_empty(), "where there was none");
}

#[test]
fn a_prompt_comes_while_another_program_writes() {
    let context = context();
    let writer = rusqlite::Connection::open(context.log()).unwrap();
    writer.execute_batch("BEGIN IMMEDIATE").unwrap();
    for command in ["check", "wake"] {
        let begun = Instant::now();
        let run = context.run(&[command]);
        // Generous, for a machine that does other things meanwhile; waiting would take five seconds.
        assert!(begun.elapsed() < Duration::from_secs(2), "{command}: {:?}", begun.elapsed());
        assert_eq!(run.code, 0, "{}", run.err);
        assert!(run.out.contains("CHECK FIRST") && run.err.contains("not kept"), "{}{}", run.out, run.err);
    }
    // What the wearer said is waited for, after the answer, and said to be missing where it cannot be kept.
    let run = context.run(&["check", "--feels-low"]);
    assert_eq!(run.code, 75);
    assert!(run.out.contains("CHECK FIRST"), "{}", run.out);
}

#[test]
fn no_file_is_replaced_but_a_regular_one_that_is_no_log() {
    let context = context();
    let at = |name: &str| context.folder().join(name).to_str().unwrap().to_owned();
    let log = context.log().to_str().unwrap().to_owned();
    let before = fs::read(&log).unwrap();
    #[cfg(unix)]
    std::os::unix::fs::symlink(&log, at("link")).unwrap();
    let named = at("link");
    for file in [&log, &named, "/dev/full", "/dev/null"] {
        for format in ["table", "fhir"] {
            let run = context.run(&["export", file, "--as", format, "--replace"]);
            assert_ne!(run.code, 0, "{file}");
        }
        context.run(&["review", "--html", file]);
    }
    assert_eq!(fs::read(&log).unwrap(), before);
    assert!(fs::symlink_metadata(&named).unwrap().is_symlink());
    assert!(fs::metadata("/dev/full").unwrap().len() == 0 && !fs::metadata("/dev/full").unwrap().is_file());
}

#[cfg(unix)]
#[test]
fn reports_and_findings_are_their_owners_alone() {
    use std::os::unix::fs::PermissionsExt;
    let context = context();
    let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
    let html = context.folder().join("review.html");
    for _ in 0..2 {
        context.done(&["review", UNTIL[0], UNTIL[1], "--html", html.to_str().unwrap(), "--replace"]);
        assert_eq!(mode(&html), 0o600);
    }
    // An earlier one is kept unless its replacement is asked for.
    let before = fs::read(&html).unwrap();
    let said = context.fails(74, &["review", "--days", "7", "--html", html.to_str().unwrap()]);
    assert!(said.contains("there is such a file already") && said.contains("--replace"), "{said}");
    assert_eq!(fs::read(&html).unwrap(), before);
    let findings = context.folder().join("findings.txt");
    let bad = context.file("bad.csv", "time,glucose mg/dL\n2026-03-01 03:05,104\nnoon,105\n2026-03-01 03:15,5000\n");
    context.done(&["import", &bad, "--findings", findings.to_str().unwrap()]);
    assert_eq!(mode(&findings), 0o600);
    assert_eq!(fs::read_to_string(&findings).unwrap().lines().count(), 2);
    let left = fs::read_dir(context.folder())
        .unwrap()
        .filter(|one| one.as_ref().unwrap().file_name().to_string_lossy().ends_with(".part"));
    assert_eq!(left.count(), 0);
}

#[test]
fn no_terminal_obeys_what_a_file_or_a_note_says() {
    let context = context();
    let bad = context.file("\u{1b}]0;x\u{7}\u{202e}.csv", "a\n");
    let run = context.run(&["import", &bad]);
    assert!(!run.err.contains(['\u{1b}', '\u{7}', '\u{202e}']), "{:?}", run.err);
    context.done(&["add", "note", "took \u{202e}71\u{202c} grams"]);
    let said = context.done(&["log"]);
    assert!(said.contains("took 71 grams"), "{said:?}");
    let bundle = r#"{"resourceType":"Bundle","type":"collection","entry":[{"resource":{"resourceType":"Observation",
        "status":"final","code":{"coding":[{"system":"http://loinc.org","code":"99504-3"}]},
        "subject":{"reference":"Patient/\u001b[2Jx"},"effectiveDateTime":"2026-03-01T03:05:00+01:00",
        "valueQuantity":{"value":104,"unit":"mg/dL","system":"http://unitsofmeasure.org","code":"mg/dL"}}}]}"#;
    let bundle = context.file("bundle.json", bundle);
    let run = context.run(&["import", &bundle]);
    assert!(!run.out.contains('\u{1b}') && !run.err.contains('\u{1b}'), "{}{}", run.out, run.err);
}

#[test]
fn rows_of_other_kinds_are_not_taken_for_glucose() {
    let context = Context::new();
    let mixed = "time,type,value\n2026-03-01 03:05,carbs,45\n2026-03-01 03:05,heart rate,61\n2026-03-01 03:05,glucose,104\n\
                 2026-03-01 03:10,glucose,108\n2026-03-01 03:15,carbs,60\n";
    let file = context.file("mixed.csv", mixed);
    context.done(&["import", &file]);
    let said = context.done(&["log", "--days", "1", "--until", "2026-03-01 12:00"]);
    assert!(said.contains("2 sensor readings, 104 to 108"), "{said}");
    let unknown = context.file("unknown.csv", mixed.replace("glucose", "b"));
    let refused = context.fails(65, &["import", &unknown]);
    assert!(refused.contains("several kinds") && refused.contains("heart rate"), "{refused}");
    // Where the values' own column says glucose, kinds of readings are no other kinds.
    let scans =
        context.file("scans.csv", "time,type,glucose mg/dL\n2026-03-01 04:05,scan,99\n2026-03-01 04:10,stored,98\n");
    context.done(&["import", &scans]);
}

#[test]
fn a_file_in_utf_16_is_read_and_says_which_sensor_it_is_from() {
    let context = Context::new();
    let text = "time;glucose mg/dL\n2026-03-01 03:05;104\n2026-03-01 03:10;108\n";
    let bytes: Vec<u8> = std::iter::once(0xfeff).chain(text.encode_utf16()).flat_map(u16::to_le_bytes).collect();
    let file = context.file("wide.csv", bytes);
    context.done(&["import", &file, "--sensor", "left arm"]);
    let refused = context.fails(66, &["settings", "followed-sensor", "nobody"]);
    assert!(refused.contains("left arm"), "{refused}");
    assert!(context.done(&["settings", "followed-sensor", "left arm"]).contains("left arm"));
}

#[test]
fn slips_are_refused_and_said() {
    let context = Context::new();
    let refused = context.fails(65, &["add", "carbs", "12", "--ago", "999999999"]);
    assert!(refused.contains("--ago must be -10 to 10080 minutes"), "{refused}");
    context.done(&["add", "carbs", "12", "--ago", "90"]);
    for (name, slip, meant) in [("insulin-factor", "2", "40"), ("carbs-factor", "0.2", "4")] {
        let refused = context.fails(65, &["settings", name, slip]);
        assert!(refused.contains("mg/dL"), "{refused}");
        context.done(&["settings", name, meant]);
    }
    context.done(&["settings", "insulin-factor", "2", "--unit", "mmol"]);
    // In the unit that is typed, and with the option where the other one fits.
    context.done(&["settings", "unit", "mmol"]);
    let refused = context.fails(65, &["settings", "insulin-factor", "50"]);
    assert!(refused.contains("50 mmol/L cannot be") && refused.contains("--unit mg"), "{refused}");
    let refused = context.fails(65, &["settings", "insulin-factor", "500"]);
    assert!(refused.contains("0.28 to 22.20 mmol/L a unit, not 500.00"), "{refused}");
    let refused = context.fails(65, &["--lang", "de", "settings", "carbs-factor", "50"]);
    assert!(refused.contains("0,03 und 2,22 mmol/L je Gramm") && refused.contains("50,00"), "{refused}");
}

#[test]
fn of_a_time_that_the_clocks_skipped_or_showed_twice_it_is_said_which_was_taken() {
    let context = Context::new();
    let note = |at: &str| context.run(&["add", "carbs", "12", "--at", at]);
    let skipped = note("2025-03-30 02:30");
    assert!(skipped.code == 0 && skipped.err.contains("went forward over 2025-03-30 02:30"), "{}", skipped.err);
    let twice = note("2025-10-26 02:30");
    assert!(twice.err.contains("twice; taken as 2025-10-26T02:30:00+01:00"), "{}", twice.err);
    for plain in ["2025-10-26 12:30", "2025-10-26T02:30:00+02:00"] {
        assert!(!note(plain).err.contains("clocks"), "{plain}");
    }
}

#[test]
fn the_sheet_of_a_sensor_that_is_worn_is_there_however_few_days_are_asked_for() {
    let context = Context::new();
    context.done(&["add", "sensor", "inserted", "--site", "belly", "--ago", "7200"]);
    let sheet = |days: &str| context.done(&["sensor", "--sheet", "--days", days]);
    assert_eq!(sheet("1"), sheet("14"));
}

#[test]
fn undoing_what_was_corrected_says_what_goes() {
    let context = Context::new();
    let noted = context.done(&["add", "carbs", "40", "--ago", "30"]);
    let mark = noted.split(['[', ']']).nth(1).unwrap().to_owned();
    context.done(&["correct", &mark, "carbs", "4"]);
    let undone = context.done(&["undo", &mark]);
    assert!(undone.contains("40 g") && undone.contains("and its correction") && undone.contains("4 g"), "{undone}");
}

#[test]
fn an_export_ends_and_so_does_its_reader() {
    let context = context();
    let begun = Instant::now();
    for format in ["table", "fhir"] {
        let file = context.folder().join(format);
        context.done(&["export", file.to_str().unwrap(), "--as", format, "--until", "2199-12-31 00:00"]);
    }
    assert!(begun.elapsed() < Duration::from_secs(20), "{:?}", begun.elapsed());
    let mut child = context
        .command(&["export", "-", "--as", "table"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut some = [0; 10];
    child.stdout.take().unwrap().read_exact(&mut some).unwrap();
    let mut said = String::new();
    child.stderr.take().unwrap().read_to_string(&mut said).unwrap();
    assert_eq!(child.wait().unwrap().code(), Some(0), "{said}");
}

#[test]
fn a_statement_of_need_counts_the_days_there_are() {
    let context = Context::new();
    for day in 1..=6 {
        let ago = (day * 1440 + 60).to_string();
        for _ in 0..4 {
            context.done(&["add", "meter", "104", "--ago", &ago]);
        }
    }
    let said = context.done(&["supplies", "--statement"]);
    // 24 checks in six days and an hour, counted as seven.
    assert!(said.contains("3.4"), "{said}");
}

/// Tries something with a log on a disk that has so many KiB left, one after the other.
#[cfg(target_os = "linux")]
fn on_a_full_disk(left: &[u64], tried: impl Fn(&Context, &str, u64)) {
    let context = context();
    let Some(disk) = Disk::new("1m") else { return };
    let log = disk.path().join("log.ebbstead");
    fs::copy(context.log(), &log).unwrap();
    let filler = disk.fill();
    let size = filler.metadata().unwrap().len();
    for left in left {
        filler.set_len(size - left * 1024).unwrap();
        tried(&context, log.to_str().unwrap(), *left);
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_does_not_keep_a_prompt_back() {
    on_a_full_disk(&[0, 8, 16], |context, log, left| {
        for command in ["check", "wake"] {
            let run = context.run(&[command, "--log", log]);
            assert_eq!(run.code, 0, "{left} KiB left: {}", run.err);
            assert!(run.out.contains("CHECK FIRST"), "{}", run.out);
        }
    });
}

/// It is the room that is wanting, not the leave.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_that_keeps_a_lesson_from_being_learnt_is_said() {
    on_a_full_disk(&[0], |context, log, _| {
        let said = context.fails(74, &["learn", "--log", log]);
        assert!(said.contains("no room"), "{said}");
    });
}

/// Whatever room is left, it is the room that is wanting.
#[cfg(target_os = "linux")]
#[test]
fn what_a_full_disk_does_not_take_is_said_to_want_room() {
    on_a_full_disk(&[0, 4, 16, 36], |context, log, left| {
        let said = context.fails(74, &["add", "carbs", "10", "--log", log]);
        assert!(said.contains("no room"), "{left} KiB left: {said}");
    });
}
