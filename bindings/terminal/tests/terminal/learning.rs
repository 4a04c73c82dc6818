//! `learn`, `reliability` and `smooth`, and what `check` makes of them.

use serde_json::Value;

use crate::context::{Context, objects};

/// A wavy glucose that falls to the low line now and then, with a sensor that wavers a little; `days` of it from 2026-03-01.
fn wavy(days: u32) -> Vec<f64> {
    let at = |k: u32| {
        let minute = 5.0 * f64::from(k);
        let slow = 52.0 * (minute / 97.0).sin() + 21.0 * (minute / 31.0 + 1.0).sin();
        let wavers = 2.5 * ((k * 7919) % 13) as f64 / 6.0 - 2.5;
        // From 02:30 on the fourth day something presses on the sensor for half an hour.
        let pressed = if (3.0 * 1440.0 + 150.0..3.0 * 1440.0 + 180.0).contains(&minute) { 0.5 } else { 1.0 };
        ((128.0 + slow + wavers) * pressed).round().max(45.0)
    };
    (0..days * 288).map(at).collect()
}

fn context(days: u32) -> Context {
    let context = Context::new();
    let file = context.readings("readings.csv", "2026-03-01 00:00", &wavy(days));
    context.done(&["import", &file]);
    context
}

fn json(context: &Context, arguments: &[&str]) -> Value {
    serde_json::from_str(&context.done(&[arguments, &["--json"]].concat())).unwrap()
}

#[test]
fn nothing_learnt_yet_is_said_with_what_to_do() {
    let context = Context::new();
    for command in [&["reliability"][..], &["learn", "--last"]] {
        let said = context.fails(66, command);
        assert!(said.contains("Nothing has been learnt") && said.contains("ebbstead learn"), "{said}");
        let german = context.fails(66, &[command, &["--lang", "de"]].concat());
        assert!(german.contains("noch nichts gelernt"), "{german}");
    }
    // An empty log teaches nothing, and says so.
    let said = context.done(&["learn"]).replace("\n    ", " ");
    assert!(
        said.contains("have 0 days of readings, need 10") && said.contains("No forecast could be compared"),
        "{said}"
    );
    let said = context.done(&["reliability"]);
    assert!(said.contains("Not enough yet to say") && !said.contains("90-100 %"), "{said}");
}

#[test]
fn three_days_are_too_few_for_own_values_and_enough_for_forecasts() {
    let context = context(3);
    let said = context.done(&["learn"]).replace("\n    ", " ");
    assert!(said.contains("have 3 days of readings, need 10"), "{said}");
    assert!(said.contains("Forecasts were corrected by how"), "{said}");
    let german = context.done(&["learn", "--lang", "de", "--last"]).replace("\n    ", " ");
    assert!(german.contains("3 Tage mit Werten sind da, 10 sind nötig"), "{german}");
    let printed = json(&context, &["learn", "--last"]);
    assert_eq!(
        (&printed["schema_version"], &printed["lesson"]["adaptation"]["code"]),
        (&1.into(), &"too_little".into())
    );
    assert!(printed["lesson"]["adaptation"]["have_days"].as_f64().unwrap() > 2.9);
}

#[test]
fn nine_days_and_three_to_judge_them_teach_and_the_prompt_uses_it() {
    let context = context(12);
    let then = ["check", "--at", "2026-03-12 23:56", "--json"];
    let before = context.done(&then);
    let said = context.done(&["learn"]).replace("\n    ", " ");
    assert!(said.contains("This rests on 9 days with") && said.contains("0 meter checks"), "{said}");
    assert!(said.contains("score -"), "{said}");
    let learnt = json(&context, &["learn", "--last"]);
    assert!(learnt["lesson"]["forecasts"].as_u64().unwrap() > 2000, "{learnt}");
    assert!(
        learnt["evidence"].as_str().unwrap().starts_with("9.0 days")
            || learnt["evidence"].as_str().unwrap().starts_with("8.9 days")
    );
    assert_ne!(context.done(&then), before, "the prompt took up nothing");
    // As of a time before the newest reading learnt from, nobody knew it.
    let earlier = ["check", "--at", "2026-03-12 12:00", "--json"];
    let knowing = context.done(&earlier);
    let fresh = self::context(12);
    assert_eq!(knowing, fresh.done(&earlier));
}

#[test]
fn a_pressed_spell_is_marked_listed_and_taken_back_for_good() {
    let context = context(6);
    let learnt = json(&context, &["learn"]);
    let marked = learnt["marked"].as_array().unwrap();
    let here = |entry: &&Value| entry["at"].as_str().unwrap().starts_with("2026-03-04T02:");
    let entry = marked.iter().find(here).unwrap_or_else(|| panic!("{learnt}"));
    assert!(!entry["id"].as_str().unwrap().is_empty());
    let span = ["log", "--from", "2026-03-04 00:00", "--until", "2026-03-04 06:00"];
    let listed = context.done(&span);
    let pressed =
        listed.lines().find(|line| line.contains("sensor pressed until 0")).unwrap_or_else(|| panic!("{listed}"));
    let mark = pressed.split(['[', ']']).nth(1).unwrap();
    let undone = context.done(&["undo", mark]);
    assert!(undone.starts_with("taken back"), "{undone}");
    let again = json(&context, &["learn"]);
    assert!(!again["marked"].as_array().unwrap().iter().any(|entry| here(&entry)), "{again}");
    assert!(!context.done(&span).contains("sensor pressed"));
}

#[test]
fn reliability_shows_a_row_for_every_tenth() {
    let context = context(14);
    context.done(&["learn"]);
    let said = context.done(&["reliability"]);
    assert!(said.starts_with("Chances of falling below 70 mg/dL within 30 minutes"), "{said}");
    let bins = json(&context, &["reliability"]);
    assert_eq!(bins["tenths"].as_array().unwrap().len(), 10);
    assert_ne!(bins["calibration"]["code"], "too_few", "{bins}");
    for (row, tenth) in bins["tenths"].as_array().unwrap().iter().zip(0..) {
        let line = format!("{}-{} %", 10 * tenth, 10 * (tenth + 1));
        let shown = said
            .lines()
            .find(|shown| shown.trim_start().starts_with(&line))
            .unwrap_or_else(|| panic!("{line}\n{said}"));
        let chance = row["shown"].to_string();
        assert!(shown.split_whitespace().any(|word| word == chance), "{shown}");
    }
    let german = context.done(&["reliability", "--lang", "de", "--unit", "mmol", "--plain"]);
    assert!(german.contains("unter 3.9 mmol/L") || german.contains("unter 3,9 mmol/L"), "{german}");
    assert!(german.is_ascii(), "{german}");
    for line in said.lines().chain(german.lines()) {
        assert!(line.chars().count() <= 80, "{line}");
    }
}

#[test]
fn looking_back_shows_the_span_asked_for() {
    let context = context(2);
    context.done(&["add", "meter", "101", "--at", "2026-03-02 03:02"]);
    let span = ["smooth", "--from", "2026-03-02 01:00", "--until", "2026-03-02 06:00"];
    let said = context.done(&span);
    assert!(said.starts_with("Blood glucose as it probably was, 2 Mar 2026, 01:00 to 2 Mar 2026, 06:00"), "{said}");
    assert!(
        said.contains("03:02") && said.contains("M 101") && said.replace("\n", " ").contains("For looking back only"),
        "{said}"
    );
    let all = objects(&context.done(&[&span[..], &["--json"]].concat()));
    assert_eq!(all.len(), 62, "61 readings and a meter check");
    for one in &all {
        let (blood, sd) = (one["blood_mg_dl"].as_f64().unwrap(), one["blood_sd_mg_dl"].as_f64().unwrap());
        assert!((40.0..260.0).contains(&blood) && sd > 0.0 && sd < 25.0, "{one}");
    }
    assert!(all.iter().any(|one| one["meter_mg_dl"] == 101.0 && one["reading_mg_dl"].is_null()));
    let german = context.done(&[&span[..], &["--lang", "de", "--unit", "mmol", "--plain"]].concat());
    assert!(german.is_ascii() && german.contains("M 5,6") && german.contains("mmol/L"), "{german}");
    let words = context.done(&[&span[..], &["--no-picture"]].concat());
    assert!(!words.contains('░') && words.contains("03:02"), "{words}");
    for line in said.lines().chain(german.lines()) {
        assert!(line.chars().count() <= 80, "{line}");
    }
    let none = context.done(&["smooth", "--from", "2026-02-01 00:00", "--until", "2026-02-01 06:00"]);
    assert!(none.contains("no reading and no meter check"), "{none}");
}

#[test]
fn spans_that_cannot_be_are_refused() {
    let context = context(1);
    let said = context.fails(65, &["smooth", "--from", "2026-03-01 06:00", "--until", "2026-03-01 01:00"]);
    assert!(said.contains("is not before"), "{said}");
    context.fails(65, &["smooth", "--from", "yesterday"]);
    context.fails(2, &["smooth", "--hours", "0"]);
    context.fails(2, &["smooth", "--hours", "5", "--from", "03:00"]);
}
