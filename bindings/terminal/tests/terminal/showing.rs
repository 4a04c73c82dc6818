//! The demo and how things look: width, plain signs, languages, help.

use crate::context::Context;

#[test]
fn the_demo_runs_with_no_argument_again_and_again() {
    let context = Context::new();
    let first = context.done(&[]);
    assert_eq!(first, context.done(&[]));
    assert_eq!(first, context.done(&["demo"]));
    assert!(first.contains("everything in it invented"));
    for part in [
        "HOLD",
        "TREAT",
        "CHECK FIRST",
        "it looks pressed",
        "meter check 112 mg/dL",
        "insulin you took is still working",
    ] {
        assert!(first.contains(part), "{part}\n{first}");
    }
    assert!(context.folder().join("ebbstead/demo-1.ebbstead").exists());
    assert!(!context.log().exists(), "the demo does not touch the wearer's own log");
}

/// What the read-me shows of the demo's first scene is what it says: the chart and both futures. The program's own shows the fourth whole.
#[test]
fn the_read_me_shows_the_demo_as_it_is() {
    let said = Context::new().done(&[]);
    let (_, scene) = said.split_once("20:50  HOLD").unwrap_or_else(|| panic!("{said}"));
    let (chart, why) = scene.split_once("\nWhy\n").unwrap_or_else(|| panic!("{scene}"));
    let from = why.find("  - If you wait:").unwrap_or_else(|| panic!("{why}"));
    let (futures, _) = why[from..].split_once("  - The sensor read").unwrap_or_else(|| panic!("{why}"));
    let read_me = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../README.md")).unwrap();
    for part in [chart, futures] {
        assert!(read_me.contains(part.trim_end()), "{part}");
    }
    let from = said.find("03:05  CHECK FIRST").unwrap_or_else(|| panic!("{said}"));
    let (night, _) = said[from..].split_once("\n\n════").unwrap_or_else(|| panic!("{said}"));
    let own = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).unwrap();
    assert!(own.contains(&format!("```\n{}\n```", night.trim_end())), "{night}");
}

/// Its readings are invented and its settings nobody's: they have no place in a log that somebody keeps.
#[test]
fn the_demo_is_not_written_into_a_log_that_holds_something_else() {
    let context = Context::new();
    let own = context.folder().join("mine.ebb");
    let own = own.to_str().unwrap();
    context.done(&["--log", own, "add", "meter", "92", "--at", "2026-03-01 08:00"]);
    context.done(&["--log", own, "settings", "unit", "mmol"]);
    let before = context.done(&["--log", own, "settings"]);
    for asked in [&["--log", own][..], &["--lang", "de", "--log", own], &["demo", "--log", own]] {
        let said = context.fails(65, asked);
        assert!(said.contains("mine.ebb") && said.contains("check"), "{said}");
    }
    assert_eq!(context.done(&["--log", own, "settings"]), before);
    let listed = context.done(&["--log", own, "log", "--from", "2026-02-01 00:00", "--until", "2026-04-01 00:00"]);
    assert!(listed.contains("meter check 5.1 mmol/L") && !listed.contains("carbohydrate"), "{listed}");
    // Settings alone are somebody's, too; a new file is nobody's, and is the demo's from then on.
    let set = context.folder().join("set.ebb");
    context.done(&["--log", set.to_str().unwrap(), "settings", "country", "de"]);
    context.fails(65, &["demo", "--log", set.to_str().unwrap()]);
    let fresh = context.folder().join("fresh.ebb");
    let fresh = fresh.to_str().unwrap();
    let first = context.done(&["--log", fresh]);
    context.done(&["--log", fresh, "add", "carbs", "10"]);
    assert_eq!(context.done(&["demo", "--log", fresh]), first);
}

#[test]
fn the_demo_needs_no_place_to_write() {
    let context = Context::new();
    let file = context.file("no-folder", "");
    let context = context.with("XDG_DATA_HOME", &file);
    let run = context.run(&[]);
    assert_eq!(run.code, 0, "{}", run.err);
    assert!(run.err.contains("kept in memory only") && run.out.contains("HOLD"), "{}", run.err);
}

#[test]
fn everything_fits_eighty_columns_in_each_language_and_unit() {
    for language in ebbstead_core::words::Spoken::all().iter().map(|one| one.tag) {
        for unit in ["mg", "mmol"] {
            let context = Context::new();
            let text = context.done(&["--lang", language, "--unit", unit]);
            for line in text.lines() {
                assert!(
                    line.chars().count() <= 80 || line.contains("demo-1.ebbstead"),
                    "{}: {line}",
                    line.chars().count()
                );
            }
            let (own, other) = if unit == "mg" { ("mg/dL", "mmol/L") } else { ("mmol/L", "mg/dL") };
            assert!(text.contains(own) && !text.contains(other), "{unit}");
        }
    }
}

/// Spanish is a draft until somebody of the trade has read it: spoken to whoever asks for it by its tag, and marked on every answer.
#[test]
fn a_draft_is_asked_for_by_its_tag_and_marked_on_every_answer() {
    let draft = "borrador, sin revisar";
    let context = Context::new();
    // However its lines are broken.
    let help = context.done(&["--help"]).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(help.contains("[possible values: en, de]"), "{help}");
    let refused = context.run(&["--lang", "fr", "settings"]);
    assert_eq!(refused.code, 2);
    assert!(refused.err.contains("[possible values: en, de]"), "{}", refused.err);
    for answer in [&["check"][..], &["settings"], &["review"]] {
        assert!(!context.done(answer).contains(draft));
    }

    let shown = context.done(&["settings", "language", "es"]);
    assert!(shown.starts_with(&format!("{draft}\n")) && shown.contains("language        Español"), "{shown}");
    let file = context.readings("readings.csv", "2026-02-01 00:00", &[104.0; 40]);
    for answer in [
        &["import", &file][..],
        &["check"],
        &["wake"],
        &["add", "meter", "92"],
        &["log", "--from", "2026-02-01 00:00", "--until", "2026-02-02 00:00"],
        &["review", "--until", "2026-02-01 04:00"],
        &["before", "sleep"],
        &["sensor"],
        &["supplies"],
        &["outcomes"],
        &["settings"],
    ] {
        let shown = context.done(answer);
        assert!(shown.lines().next().is_some_and(|first| first.contains(draft)), "{answer:?}: {shown}");
    }
    assert!(context.fails(65, &["settings", "low-line", "many"]).contains(draft));
    // What a machine reads is as it was; the sentence in it stands alone.
    let json = context.done(&["check", "--json"]);
    assert!(json.starts_with('{') && json.contains(draft), "{json}");
    assert!(!context.done(&["review", "--csv", "--until", "2026-02-01 04:00"]).contains(draft));
    // Another language for one answer.
    assert!(!context.done(&["--lang", "en", "check"]).contains(draft));
}

#[test]
fn a_review_as_a_table_has_every_figure_of_the_json() {
    let amounts: Vec<f64> = (0..14 * 288).map(|n| 60.0 + f64::from(n * 37 % 190)).collect();
    let context = Context::new();
    let file = context.readings("readings.csv", "2026-02-01 00:00", &amounts);
    context.done(&["import", &file]);
    let until = ["review", "--until", "2026-02-15 00:00"];
    let json: serde_json::Value = serde_json::from_str(&context.done(&[&until[..], &["--json"]].concat())).unwrap();
    let text = context.done(&[&until[..], &["--csv"]].concat());
    let mut table = csv::Reader::from_reader(text.as_bytes());
    assert_eq!(table.headers().unwrap(), vec!["figure", "value"]);
    let mut rows = 0;
    for row in table.records().map(Result::unwrap) {
        // Lists count from 1 in the table, and from 0 in JSON.
        let place: String = row[0]
            .split('.')
            .map(|part| part.parse::<usize>().map_or_else(|_| format!("/{part}"), |nth| format!("/{}", nth - 1)))
            .collect();
        let one = json.pointer(&place).unwrap_or_else(|| panic!("{place}"));
        let text = one.as_str().map_or_else(|| one.to_string(), str::to_owned);
        assert_eq!(if one.is_null() { "" } else { &text }, &row[1], "{place}");
        rows += 1;
    }
    assert!(rows > 200, "{rows}");
    assert!(text.contains("\nspread.mean_mg_dl,"), "{text}");
    context.fails(2, &["review", "--csv", "--json"]);
}

#[test]
fn a_review_fits_any_window_with_its_columns_named() {
    let amounts: Vec<f64> = (0..14 * 288).map(|n| 130.0 + f64::from(n * 37 % 90)).collect();
    for (width, language, column) in
        [("50", "en", "3 in 4 below"), ("80", "de", "3 von 4 darunter"), ("100", "en", "3 in 4 below")]
    {
        let context = Context::new().with("COLUMNS", width);
        let file = context.readings("readings.csv", "2026-02-01 00:00", &amounts);
        context.done(&["import", &file]);
        let text = context.done(&["--lang", language, "review", "--until", "2026-02-15 00:00"]);
        for line in text.lines() {
            assert!(line.chars().count() <= width.parse().unwrap(), "{width}: {line}");
        }
        assert!(text.split_whitespace().collect::<Vec<_>>().join(" ").contains(column), "{text}");
        let hour = text.lines().find(|line| line.trim_start().starts_with("07:00")).unwrap();
        let values: Vec<f64> = hour.split_whitespace().skip(1).map(|value| value.parse().unwrap()).collect();
        assert!(values.len() == 5 && values.is_sorted(), "{hour}");
    }
}

#[test]
fn a_terminal_without_utf_8_gets_ascii_and_no_colour_is_ever_needed() {
    for context in [Context::new().with("LANG", "C"), Context::new().with("TERM", "dumb")] {
        for language in ["en", "de"] {
            let text = context.done(&["--lang", language]);
            assert!(text.is_ascii(), "{text}");
            assert!(text.contains("o reading") || text.contains("o Wert"), "{text}");
        }
    }
    let plain = Context::new().done(&["--plain", "--lang", "de"]);
    assert!(plain.is_ascii() && plain.contains("Du faellst"), "{plain}");
    assert!(!Context::new().done(&[]).contains('\u{1b}'), "no colour into a file");
}

#[test]
fn the_chart_can_be_had_in_words() {
    let text = Context::new().done(&["--no-picture"]);
    assert!(text.contains("Past 2 hours: from") && text.contains("Expected glucose: in 15 minutes about"), "{text}");
    assert!(!text.contains('┊'));
    // So it is in a window too narrow to draw in.
    let narrow = Context::new().with("COLUMNS", "50").done(&[]);
    assert!(
        narrow.contains("Past 2 hours") && narrow.lines().all(|line| line.chars().count() <= 50 || line.contains('/'))
    );
}

#[test]
fn help_is_there_for_everything_and_names_the_exit_codes() {
    let context = Context::new();
    let help = context.done(&["--help"]);
    for part in ["Exit codes", "65", "no medical device", "check", "import", "replay", "undo"] {
        assert!(help.contains(part), "{part}\n{help}");
    }
    assert!(help.starts_with("Reads a continuous glucose sensor's record and helps to decide"), "{help}");
    let commands = [
        "demo",
        "import",
        "add",
        "check",
        "wake",
        "learn",
        "reliability",
        "smooth",
        "log",
        "correct",
        "undo",
        "replay",
        "settings",
    ];
    for command in commands {
        let help = context.done(&[command, "--help"]);
        assert!(help.lines().all(|line| line.chars().count() <= 100), "{help}");
    }
    // What `add` takes, `correct` takes too: its help names no other command.
    assert!(context.done(&["correct", "--help"]).contains("A finger-prick check: meter 92;"));
    assert_eq!(context.done(&["--version"]).trim(), format!("ebbstead {}", env!("CARGO_PKG_VERSION")));
    for wrong in [&["dance"][..], &["check", "--at"], &["add"], &["add", "feels", "blue"], &["log", "--days", "x"]] {
        context.fails(2, wrong);
    }
}
