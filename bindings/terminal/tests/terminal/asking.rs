//! `check` and `wake`.

use serde_json::Value;

use crate::context::Context;

/// Level near 110, then falling by 3 mg/dL/min to 62, at 2026-03-01 12:00.
fn falling() -> Vec<f64> {
    let mut amounts = vec![110.0; 60];
    amounts.extend([95.0, 80.0, 70.0, 62.0]);
    amounts
}

/// A context with those readings; the last one is at 12:00.
fn context() -> Context {
    desk_of(&falling())
}

fn desk_of(amounts: &[f64]) -> Context {
    let context = Context::new();
    let file = context.readings("readings.csv", "2026-03-01 06:45", amounts);
    context.done(&["import", &file]);
    context
}

const THEN: [&str; 2] = ["--at", "2026-03-01 12:01"];

fn json(context: &Context, arguments: &[&str]) -> Value {
    serde_json::from_str(&context.done(&[arguments, &["--json"]].concat())).unwrap()
}

#[test]
fn a_low_is_answered_with_what_to_do_why_and_a_picture() {
    // Too slow a fall for a sensor that is pressed.
    let mut amounts = vec![110.0; 57];
    amounts.extend([103.0, 96.0, 89.0, 82.0, 75.0, 68.0, 62.0]);
    let context = desk_of(&amounts);
    let said = context.done(&[&["check"][..], &THEN].concat());
    assert!(said.starts_with("12:01  "), "{said}");
    for part in [
        "Why\n",
        "The sensor read 62 mg/dL, 1 minute ago.",
        "low line",
        "now",
        "○ if you wait",
        "░ nine times in ten",
        "+ if you treat now",
    ] {
        assert!(said.contains(part), "{part}\n{said}");
    }
    let answer = json(&context, &[&["check"][..], &THEN].concat());
    let verdict = answer["verdict"].as_str().unwrap();
    // A true fall through the low line is never just held: treat, or check with treat where no meter is.
    assert!(verdict == "treat" || verdict == "check", "{answer}");
    assert_eq!(answer["matter"], "falling");
    assert_eq!(answer["at"], "2026-03-01T12:01:00+01:00");
    assert_eq!(answer["estimate"]["reading_mg_dl"], 62.0);
    assert!(answer["forecast"]["path"].as_array().unwrap().len() == 24);
    assert!(said.replace('\n', " ").contains(answer["text"].as_str().unwrap().split(':').next().unwrap()));
}

#[test]
fn severe_signs_go_before_everything() {
    let context = context();
    let answer = json(&context, &[&["check", "--severe"][..], &THEN].concat());
    assert_eq!(answer["verdict"], "help");
    assert!(answer["text"].as_str().unwrap().contains("emergency number"));
    // Even with no reading at all.
    assert_eq!(json(&Context::new(), &["check", "--severe"])["verdict"], "help");
}

#[test]
fn a_meter_above_the_line_leads_and_one_below_confirms() {
    let context = context();
    let above = json(&context, &[&["check", "--meter", "118"][..], &THEN].concat());
    assert_eq!(above["verdict"], "hold", "{above}");
    let below = json(&context, &[&["check", "--meter", "58"][..], &THEN].concat());
    assert_eq!((&below["verdict"], &below["sentence"]["code"]), (&"treat".into(), &"treat_confirmed_low".into()));
    // The meter's unit is the wearer's, and an amount in the other one is not taken for a deep low.
    let error = context.fails(65, &[&["check", "--meter", "5.8"][..], &THEN].concat());
    assert!(error.contains("5.8 mg/dL cannot be; if it is mmol/L, add --unit mmol"), "{error}");
    let mmol = json(&context, &[&["check", "--meter", "3.2", "--unit", "mmol"][..], &THEN].concat());
    assert_eq!(mmol["verdict"], "treat");
    // Too low for the meter to measure is a low that it confirms.
    let lo = json(&context, &[&["check", "--meter", "LO"][..], &THEN].concat());
    assert_eq!((&lo["verdict"], &lo["sentence"]["code"]), (&"treat".into(), &"treat_confirmed_low".into()));
    assert!(context.fails(65, &[&["check", "--meter", "LOST"][..], &THEN].concat()).contains("\"LOST\" is no number"));
}

#[test]
fn what_is_said_now_is_kept_and_what_is_asked_of_the_past_is_not() {
    let context = context();
    context.done(&[&["check", "--meter", "118", "--feels-low"][..], &THEN].concat());
    assert!(!context.done(&["log", "--from", "2026-03-01 11:00", "--until", "2026-03-01 13:00"]).contains("meter"));
    let run = context.run(&["check", "--meter", "101", "--feels-low"]);
    assert!(
        run.err.contains("kept in the log: meter check 101 mg/dL") && run.err.contains("kept in the log: feels low")
    );
    let listed = context.done(&["log"]);
    assert!(listed.contains("meter check 101 mg/dL") && listed.contains("feels low"), "{listed}");
}

#[test]
fn an_empty_log_and_old_readings_are_not_talked_over() {
    let answer = json(&Context::new(), &["check"]);
    assert_eq!((&answer["verdict"], &answer["matter"]), (&"check".into(), &"too_little".into()), "{answer}");
    let old = json(&context(), &["check", "--at", "2026-03-01 13:30"]);
    assert_eq!(old["verdict"], "check", "{old}");
}

#[test]
fn only_what_was_known_then_is_used() {
    let context = context();
    let before = json(&context, &["check", "--at", "2026-03-01 11:00"]);
    let later = context.readings("later.csv", "2026-03-01 12:05", &[55.0, 50.0, 45.0]);
    context.done(&["import", &later]);
    context.done(&["add", "carbs", "15", "--rescue", "--at", "2026-03-01 12:10"]);
    assert_eq!(before, json(&context, &["check", "--at", "2026-03-01 11:00"]));
}

#[test]
fn waking_names_the_answers_that_fit() {
    let context = context();
    let said = context.done(&[&["wake"][..], &THEN].concat());
    for part in ["I checked with a meter", "ebbstead wake --meter", "I treated", "add carbs", "I rolled off the sensor"]
    {
        assert!(said.contains(part), "{part}\n{said}");
    }
    // Where somebody has to call, nothing else is offered.
    let help = context.done(&[&["wake", "--severe"][..], &THEN].concat());
    assert!(!["I checked", "I treated", "I rolled off"].iter().any(|answer| help.contains(answer)), "{help}");
    // A low that a meter shows is treated; that is no matter of the sensor.
    let treat = context.done(&[&["wake", "--meter", "58"][..], &THEN].concat());
    assert!(treat.contains("I treated") && !treat.contains("I rolled off"), "{treat}");
}

#[test]
fn a_log_that_cannot_be_written_still_answers() {
    // As root every file can be written; a log of a folder's name is refused in any case.
    let context = context();
    let folder = context.folder().to_str().unwrap().to_owned();
    assert!(context.fails(66, &["check", "--log", &folder]).contains("this is a folder"), "a folder is no log");
}

#[test]
fn with_no_record_nothing_is_kept_of_a_question() {
    let context = Context::new();
    context.done(&["check", "--severe", "--no-record"]);
    context.done(&["check", "--meter", "61", "--no-record"]);
    assert!(context.done(&["log", "--json"]).is_empty());
    // What could not be shown was said all the same.
    let full = std::fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    let status = context.command(&["check", "--meter", "61"]).stdout(full).status().unwrap();
    assert_eq!(status.code(), Some(74));
    assert!(context.done(&["log", "--json"]).contains("meter_check"));
}

#[test]
fn a_stretch_that_ends_before_it_begins_is_refused_and_replaces_nothing() {
    let context = Context::new();
    let stretch = ["--from", "2026-01-12 00:00", "--until", "2026-01-10 00:00"];
    let table = context.file("table.csv", "kept");
    for command in [&["log"][..], &["export", "--as", "table", &table, "--replace"]] {
        assert!(context.fails(65, &[command, &stretch].concat()).contains("is not after"));
    }
    assert_eq!(std::fs::read_to_string(&table).unwrap(), "kept");
}
