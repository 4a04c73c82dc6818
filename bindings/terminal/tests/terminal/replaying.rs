//! `replay`: one line a row, causal, in the form that evaluation reads.

use crate::context::{Context, objects};

fn wave(count: u32) -> Vec<f64> {
    (0..count).map(|k| (130.0 + 70.0 * (f64::from(k) / 20.0).sin() + f64::from(k * 7919 % 5)).round()).collect()
}

#[test]
fn every_row_has_its_line_with_the_fields_evaluation_reads() {
    let context = Context::new();
    let file = context.readings("readings.csv", "2026-01-01 00:00", &wave(300));
    let lines = objects(&context.done(&["replay", &file, "--json"]));
    assert_eq!(lines.len(), 300);
    for (line, amount) in lines.iter().zip(wave(300)) {
        assert_eq!(line["schema_version"], 1);
        assert_eq!(line["reading_mgdl"].as_f64(), Some(amount));
        for field in ["blood_mgdl", "blood_sd", "rate_mgdl_min", "p_low_30", "p_artifact"] {
            assert!(line[field].as_f64().is_some_and(f64::is_finite), "{field}: {line}");
        }
        for chance in ["p_low_30", "p_artifact"] {
            assert!((0.0..=1.0).contains(&line[chance].as_f64().unwrap()), "{line}");
        }
        let ahead = line["ahead"].as_array().unwrap();
        let minutes: Vec<_> = ahead.iter().map(|one| one["minutes"].as_u64().unwrap()).collect();
        assert_eq!(minutes, [15, 30, 45, 60]);
        assert!(ahead.iter().all(|one| one["mean"].is_f64() && one["sd"].as_f64().unwrap() > 0.0), "{line}");
        let verdict = line["verdict"].as_str().unwrap();
        assert!(["treat", "check", "hold", "clear", "help"].contains(&verdict), "{line}");
        let otherwise = line.get("without_meter").and_then(|one| one.as_str());
        assert_eq!(verdict == "check", otherwise.is_some(), "{line}");
        assert!(otherwise.is_none_or(|one| one == "treat" || one == "hold"), "{line}");
        assert!(line["reasons"].is_array());
    }
    assert_eq!(lines[0]["time"], "2026-01-01T00:00:00+00:00");
    assert!(lines.iter().any(|line| line["verdict"] == "treat"), "the wave goes down to 60");
}

#[test]
fn no_line_knows_what_comes_after_it() {
    let context = Context::new();
    let amounts = wave(300);
    let whole = context.readings("whole.csv", "2026-01-01 00:00", &amounts);
    let whole = context.done(&["replay", &whole, "--json"]);
    for length in [1, 40, 173] {
        let part = context.readings("part.csv", "2026-01-01 00:00", &amounts[..length]);
        let part = context.done(&["replay", &part, "--json"]);
        assert_eq!(part, whole.lines().take(length).map(|line| format!("{line}\n")).collect::<String>());
    }
}

#[test]
fn rows_that_are_no_readings_have_a_line_and_move_nothing() {
    let context = Context::new();
    let good: Vec<String> = wave(40)
        .iter()
        .enumerate()
        .map(|(k, amount)| format!("2026-01-01T{:02}:{:02}:00,{amount}", k / 12, k % 12 * 5))
        .collect();
    let text = |rows: &[String]| format!("timestamp,glucose_mgdl\n{}\n", rows.join("\n"));
    let clean = objects(&context.done(&["replay", &context.file("clean.csv", text(&good)), "--json"]));
    let mut rows = good.clone();
    rows.insert(0, "2025-12-31T23:55:00,700".to_owned());
    rows.insert(20, "2026-01-01T01:31:00,lowest".to_owned());
    rows.insert(21, "2026-01-01T01:32:00,".to_owned());
    rows.push(rows.last().unwrap().clone());
    let run = context.run(&["replay", &context.file("mixed.csv", text(&rows)), "--json"]);
    assert_eq!(run.code, 0, "{}", run.err);
    assert!(run.err.contains("line 2, column 2 (\"700\"): outside 20 to 600 mg/dL"), "{}", run.err);
    let lines = objects(&run.out);
    // The empty cell is no row of readings; the doubled one is.
    assert_eq!(lines.len(), 43);
    assert_eq!((&lines[0]["refused"], &lines[0]["verdict"]), (&"out_of_range".into(), &"check".into()));
    assert!(lines[0]["blood_mgdl"].is_null() && lines[0]["reading_mgdl"] == 700.0);
    assert_eq!((&lines[20]["refused"], &lines[20]["without_meter"]), (&"not_a_number".into(), &"hold".into()));
    assert_eq!(lines[20]["blood_mgdl"], lines[19]["blood_mgdl"]);
    let taken: Vec<_> = lines.iter().filter(|line| line.get("refused").is_none()).take(40).cloned().collect();
    assert_eq!(taken, clean);
    assert_eq!(lines[42], lines[41]);
}

#[test]
fn too_low_to_measure_is_a_reading_that_says_so() {
    let context = Context::new();
    let rows = ["85", "85", "LOW", "LOW", "LOW", "> 400"];
    let mut text = "timestamp,glucose_mgdl\n".to_owned();
    for (k, row) in rows.iter().enumerate() {
        text.push_str(&format!("2026-01-01T00:{:02}:00,{row}\n", 5 * k));
    }
    let file = context.file("words.csv", text);
    let lines = objects(&context.done(&["replay", &file, "--json"]));
    assert_eq!(lines.len(), 6);
    assert!(lines[0].get("beyond").is_none() && lines.iter().all(|line| line.get("refused").is_none()));
    assert_eq!((&lines[2]["beyond"], &lines[2]["reading_mgdl"]), (&"below".into(), &40.0.into()));
    assert_eq!((&lines[5]["beyond"], &lines[5]["reading_mgdl"]), (&"above".into(), &400.0.into()));
    // Fifteen minutes of it are something to decide.
    assert_ne!(lines[4]["verdict"], "clear");
    let shown = context.done(&["replay", &file]);
    assert!(shown.contains("  <40  ") && shown.contains(" >400  "), "{shown}");
}

#[test]
fn edges_of_what_sensors_report_and_decimals_are_readings() {
    let context = Context::new();
    let file = context.readings("edges.csv", "2026-01-01 00:00", &[39.0, 401.0, 100.5, 20.0, 600.0]);
    let lines = objects(&context.done(&["replay", &file, "--json"]));
    assert_eq!(lines.len(), 5);
    assert!(lines.iter().all(|line| line.get("refused").is_none()));
    assert_eq!(lines[2]["reading_mgdl"], 100.5);
}

#[test]
fn people_get_a_table_in_their_unit() {
    let context = Context::new();
    let file = context.readings("readings.csv", "2026-01-01 00:00", &wave(5));
    let table = context.done(&["replay", &file, "--unit", "mmol"]);
    assert_eq!(table.lines().count(), 6);
    assert!(table.starts_with("time ") && table.contains("\n2026-01-01 00:00   7.2  "), "{table}");
    assert!(table.contains("mmol/L/min"), "{table}");
}

#[test]
fn a_reader_that_has_had_enough_is_no_failure() {
    use std::io::{BufRead, BufReader, Read};
    use std::process::Stdio;
    let context = Context::new();
    let file = context.readings("readings.csv", "2026-01-01 00:00", &wave(2000));
    let mut child =
        context.command(&["replay", &file, "--json"]).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    let mut first = String::new();
    BufReader::with_capacity(64, child.stdout.take().unwrap()).read_line(&mut first).unwrap();
    assert!(first.starts_with('{'));
    // The pipe is closed now, long before the program has written everything.
    let mut said = String::new();
    child.stderr.take().unwrap().read_to_string(&mut said).unwrap();
    assert!(child.wait().unwrap().success());
    assert_eq!(said, "");
}

#[test]
#[cfg(target_os = "linux")]
fn a_full_disk_under_the_result_is_said() {
    let context = Context::new();
    let file = context.readings("readings.csv", "2026-01-01 00:00", &wave(2000));
    let full = std::fs::OpenOptions::new().write(true).open("/dev/full").unwrap();
    let output = context.command(&["replay", &file, "--json"]).stdout(full).output().unwrap();
    assert_eq!(output.status.code(), Some(74));
    assert!(String::from_utf8_lossy(&output.stderr).contains("cannot write the result"));
}

/// What of a table of events cannot be used is said with its place, and the rest of the row counts.
#[test]
fn refused_cells_of_events_are_said_with_row_and_column() {
    let context = Context::new();
    let rows = "timestamp,glucose_mgdl,meter_mgdl,bolus_u,carb_g\n2026-01-01T00:00:00,120,,-3,x\n\
                2026-01-01T00:05:00,5000,118,,\nyesterday,119,,,\n2026-01-01T00:15:00,119,abc,,20\n";
    let run = context.run(&["replay", &context.file("events.csv", rows), "--json"]);
    assert_eq!(objects(&run.out).len(), 4);
    for said in [
        "line 2, column 4 (bolus_u): \"-3\" cannot be used; the rest of the row counts",
        "line 2, column 5 (carb_g): \"x\" cannot be used",
        "line 5, column 3 (meter_mgdl): \"abc\" cannot be used",
    ] {
        assert!(run.err.contains(said), "{said}: {}", run.err);
    }
    for given in ["\"5000\"", "\"yesterday\""] {
        assert!(run.err.lines().any(|line| line.contains(given) && line.contains("left out")), "{given}: {}", run.err);
    }
}

#[test]
fn a_file_with_the_newest_row_first_is_said_to_run_backwards() {
    let context = Context::new();
    let file = context.readings("readings.csv", "2026-01-01 00:00", &wave(60));
    let text = std::fs::read_to_string(&file).unwrap();
    let (header, rows) = text.split_once('\n').unwrap();
    let back: Vec<&str> = rows.lines().rev().collect();
    std::fs::write(&file, format!("{header}\n{}\n", back.join("\n"))).unwrap();
    assert!(context.run(&["replay", &file]).err.contains("backwards"));
}
