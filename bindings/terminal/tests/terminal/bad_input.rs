//! What cannot be used: each with an exit code, a message that says what, where and what to do, and nothing lost.

use crate::context::Context;

#[test]
fn files_that_are_no_readings() {
    let context = Context::new();
    let cases: [(&str, &[u8], &str); 9] = [
        ("empty.csv", b"", "empty.csv:1: the file is empty; nothing was taken"),
        ("names.csv", b"time,glucose\n", "no readings below them"),
        ("letter.csv", b"dear nobody\n", "no column is named like a time (found: dear nobody)"),
        ("utf16.csv", b"t\0i\0m\0e\0", "UTF-16"),
        (
            "unit.csv",
            b"time,glucose mg/dL\n2026-03-01 03:05,5.6\n",
            "unit.csv:2:2: the file is said to be in mg/dL, yet values such as 5.6 look like mmol/L",
        ),
        ("either.csv", b"time,glucose\n2026-03-01 03:05,25\n", "values such as 25 fit mg/dL as well as mmol/L"),
        ("day.csv", b"time,glucose\n03/04/2026 03:05,101\n", "either number could be the day"),
        ("times.csv", b"time,glucose\nnow,101\n", "times.csv:2:1: the time \"now\" is written in no way known here"),
        ("two.csv", b"time,a glucose,b glucose\n2026-03-01 03:05,101,102\n", "(a glucose, b glucose); say which one"),
    ];
    for (name, content, said) in cases {
        let error = context.fails(65, &["import", &context.file(name, content)]);
        assert!(error.starts_with("ebbstead: ") && error.contains(said), "{name}: {error}");
    }
    let none =
        context.file("none.csv", "time,glucose\n2026-03-01 03:05,x\n2026-03-01 03:10,-5\n2026-03-01 03:15,1e308\n");
    assert!(context.fails(65, &["import", &none]).contains("not one row could be taken"));
    assert!(context.fails(66, &["import", "missing.csv"]).contains("missing.csv"));
    assert!(context.fails(66, &["import", "."]).contains("this is a folder"));
    assert!(
        context.done(&["log", "--days", "3000"]).contains("Nothing is in the log"),
        "nothing of all this was taken"
    );
    // German speakers read it in German.
    let error = context.fails(65, &["import", &context.file("leer.csv", ""), "--lang", "de"]);
    assert!(error.contains("leer.csv, Zeile 1: die Datei ist leer"), "{error}");
}

#[test]
fn readings_ahead_of_the_clock_are_left_out() {
    let context = Context::new();
    let run = context
        .run(&["import", &context.file("ahead.csv", "time,glucose\n2026-03-01 03:05,101\n2199-03-01 03:05,102\n")]);
    assert!(run.out.contains("1 new reading,") && run.err.contains("line 3, column 1"), "{}{}", run.out, run.err);
    assert!(run.err.contains("ahead of this device's clock"), "{}", run.err);
}

#[test]
fn a_bad_row_late_in_a_file_loses_nothing_before_it() {
    let context = Context::new();
    let mut text = "time,glucose\n2026-03-01 03:05,101\n2026-03-01 03:10,99\n\"2026-03-01 03:15,98\n".to_owned();
    text.push_str(&"x".repeat(3 << 20));
    let error = context.fails(65, &["import", &context.file("open.csv", &text)]);
    assert!(error.contains("open.csv:4: this row is longer than 1 MB"), "{error}");
    // The import is whole or not at all, and the log as it was.
    assert!(
        context.done(&["log", "--from", "2026-03-01 00:00", "--until", "2026-03-02 00:00"]).contains("Nothing is in")
    );
    assert!(context.done(&["add", "meter", "92"]).starts_with("noted"));
}

#[test]
fn logs_that_are_none_are_left_alone() {
    let context = Context::new();
    let letter = context.file("letter.txt", "dear nobody, this is no log and never was one at all");
    let error = context.fails(65, &["check", "--log", &letter]);
    assert!(error.contains("not an Ebbstead log; the file was left as it is"), "{error}");
    assert_eq!(std::fs::read_to_string(&letter).unwrap(), "dear nobody, this is no log and never was one at all");
    assert!(context.fails(66, &["check", "--log", "no/such/folder/log"]).contains("no/such/folder/log"));
    assert!(context.fails(66, &["add", "meter", "92", "--log", "."]).contains("this is a folder"));
}

#[test]
fn a_damaged_log_is_kept_and_named() {
    let context = Context::new();
    context.done(&["add", "meter", "92"]);
    let mut bytes = std::fs::read(context.log()).unwrap();
    assert!(context.done(&["log", "--check-file"]).contains("no damage"));
    // A digit of an entry's amount, as a bad block might leave it: only looking everywhere finds it.
    let at = bytes.windows(8).position(|part| part == b"\"mg_dl\":").unwrap() + 8;
    bytes[at] ^= 1;
    std::fs::write(context.log(), &bytes).unwrap();
    let error = context.fails(65, &["log", "--check-file"]);
    assert!(error.contains("damaged") && error.contains("kept as it is"), "{error}");
    // Everything but the file's header: that shows at once.
    bytes[100..].fill(0xa5);
    std::fs::write(context.log(), &bytes).unwrap();
    let error = context.fails(65, &["log"]);
    assert!(error.contains("damaged"), "{error}");
    assert_eq!(std::fs::read(context.log()).unwrap(), bytes);
}

#[test]
fn amounts_no_person_takes() {
    let context = Context::new();
    for (arguments, said) in [
        (&["meter", "700"][..], "glucose must be 20.0 to 600.0 mg/dL, not 700"),
        (&["meter", "0"], "glucose must be"),
        (&["meter", "nan"], "\"nan\" is no number"),
        (&["meter", "5.6"], "5.6 mg/dL cannot be; if it is mmol/L, add --unit mmol"),
        (&["meter", "1e308"], "glucose must be"),
        (&["carbs", "0"], "carbohydrate must be"),
        (&["carbs", "501"], "carbohydrate must be 0.0 to 500.0 g, not 501"),
        (&["insulin", "151"], "insulin must be 0.0 to 150.0 units, not 151"),
        (&["insulin", "abc"], "is no number"),
        (&["alcohol", "41"], "alcohol must be 0.0 to 40.0 drinks, not 41"),
        (&["ketones", "25"], "ketones must be 0.0 to 20.0 mmol/L, not 25"),
        (&["ketones", "trace"], "is no number"),
        (&["activity", "walk", "2000"], "activity must be"),
        (&["note", "  "], "text: is empty"),
        (&["sleep", "2026-03-01 23:00", "2026-03-01 22:00"], "ends before it begins"),
    ] {
        let error = context.fails(65, &[&["add"], arguments].concat());
        assert!(error.contains(said), "{arguments:?}: {error}");
    }
    assert!(context.done(&["log"]).contains("Nothing is in the log"));
    assert!(
        context
            .fails(65, &["add", "meter", "700", "--lang", "de"])
            .contains("Glukose muss zwischen 20,0 und 600,0 mg/dL")
    );
}
