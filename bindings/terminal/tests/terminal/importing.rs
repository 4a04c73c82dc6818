//! `import`.

use crate::context::Context;

const TWO: &str = "time;Gewebezucker mmol/L\n2026-03-01 03:05;5,6\n2026-03-01 03:10;5,4\n";

#[test]
fn a_file_is_taken_once_and_can_be_taken_back_as_a_whole() {
    let context = Context::new();
    let file = context.file("readings.csv", TWO);
    let said = context.done(&["import", &file]);
    assert!(said.contains("2 new readings, 1 Mar 2026, 03:05 to 1 Mar 2026, 03:10; in the log already: 0."), "{said}");
    assert!(said.contains("readings from \"Gewebezucker mmol/L\" in mmol/L"), "{said}");
    // The same readings in another file are known.
    let again = context.file("again.csv", TWO);
    assert!(context.done(&["import", &again]).contains("0 new readings"));

    let day = ["log", "--from", "2026-03-01 00:00", "--until", "2026-03-02 00:00"];
    assert!(context.done(&day).contains("2 sensor readings, 97 to 101 mg/dL"), "{}", context.done(&day));
    let listed = context.done(&[&day[..], &["--readings"]].concat());
    assert!(listed.contains("03:05   sensor reading 101 mg/dL"), "{listed}");

    assert!(context.done(&["undo"]).contains("taken back"));
    assert!(context.done(&["undo"]).contains("brought in: readings.csv"));
    assert!(context.done(&day).contains("Nothing is in the log"));
}

#[test]
fn only_looking_writes_nothing() {
    let context = Context::new();
    let file = context.file("readings.csv", TWO);
    let said = context.done(&["import", &file, "--dry-run"]);
    assert!(said.contains("2 readings could be taken") && said.contains("Nothing was\nwritten"), "{said}");
    assert!(
        context.done(&["log", "--from", "2026-03-01 00:00", "--until", "2026-03-02 00:00"]).contains("Nothing is in")
    );
}

#[test]
fn what_is_left_out_is_reported_with_line_and_column_and_can_be_kept_in_a_file() {
    let context = Context::new();
    let mut text = "time,glucose\n2026-03-01 03:00,101\n2026-03-01 03:05,low\n2026-03-01 03:10,700\nx,99\n".to_owned();
    for minute in 10..30 {
        text.push_str(&format!("2026-03-01 04:{minute},nothing\n"));
    }
    let file = context.file("readings.csv", text);
    let kept = context.folder().join("left-out.txt");
    let run = context.run(&["import", &file, "--findings", kept.to_str().unwrap()]);
    assert_eq!(run.code, 0, "{}", run.err);
    assert!(
        run.out.contains("2 new readings,")
            && run.out.contains("Too low or too high to measure, taken as such: 1 row")
            && run.out.contains("Left out: 22 rows"),
        "{}",
        run.out
    );
    for part in [
        "line 3, column 2 (\"low\"): too low for the sensor to measure; taken as such a reading",
        "line 4, column 2 (\"700\"): outside 20 to 600 mg/dL; left out",
        "line 5, column 1 (\"x\"): the time is not written like the others; left out",
        "and 11 more; --findings PATH writes all of them to a file",
    ] {
        assert!(run.err.contains(part), "{part}\n{}", run.err);
    }
    assert_eq!(std::fs::read_to_string(&kept).unwrap().lines().count(), 23);
    // A file of findings that is there already is not written over.
    let other = context.file("other.csv", TWO);
    assert!(context.fails(74, &["import", &other, "--findings", kept.to_str().unwrap()]).contains("left-out.txt"));
}

#[test]
fn words_for_too_low_and_too_high_are_readings_once_and_on_every_way_out() {
    let context = Context::new();
    let file = context.file(
        "words.csv",
        "time,glucose mg/dL\n2026-03-01 03:00,85\n2026-03-01 03:05,LOW\n2026-03-01 03:10,< 40\n2026-03-01 03:15,HI\n",
    );
    assert!(context.done(&["import", &file]).contains("4 new readings,"));
    let again = context.done(&["import", &file]);
    assert!(again.contains("0 new readings,") && again.contains("in the log already: 4."), "{again}");
    let day = ["--from", "2026-03-01 00:00", "--until", "2026-03-02 00:00"];
    assert!(context.done(&[&["log"][..], &day].concat()).contains("4 sensor readings, 40 to 400 mg/dL"));
    let listed = context.done(&[&["log", "--readings", "--lang", "de", "--unit", "mmol"][..], &day].concat());
    assert!(listed.contains("03:05   Sensorwert zu tief zum Messen (unter 2,2 mmol/L)"), "{listed}");
    // Out and in again, the same log and another one: the same entries.
    for way in ["table", "fhir"] {
        let path = context.folder().join(format!("out.{way}"));
        let path = path.to_str().unwrap();
        context.done(&["export", path, "--as", way]);
        let back = context.done(&["import", path]);
        assert!(back.contains("0 new entries"), "{way}: {back}");
        let other = Context::new();
        let came = other.done(&["import", path]);
        assert!(came.contains("4 new entries"), "{way}: {came}");
        assert!(
            other
                .done(&[&["log", "--readings"][..], &day].concat())
                .contains("sensor reading too high to measure (above 400 mg/dL)")
        );
    }
}

#[test]
fn local_times_follow_the_device_or_the_offset_given() {
    let night = "time,glucose\n2026-10-25 01:30,100\n2026-10-25 02:30,101\n2026-10-25 02:30,102\n2026-10-25 02:45,103\n2026-10-25 02:15,104\n2026-10-25 03:30,105\n";
    // Two passes of the hour: the second begins where the times step back.
    let context = Context::new();
    let past = night.replace("2026", "2025").replace("10-25", "10-26");
    let file = context.file("night.csv", &past);
    context.done(&["import", &file]);
    let at = |time: &str| context.run(&["log", "--readings", "--from", time, "--until", time]).out;
    assert!(at("2025-10-25T23:30:00Z").contains("100 mg/dL"));
    assert!(at("2025-10-26T00:45:00Z").contains("103 mg/dL"));
    assert!(at("2025-10-26T01:15:00Z").contains("104 mg/dL"));
    assert!(at("2025-10-26T02:30:00Z").contains("105 mg/dL"));

    // Three o'clock itself was once, by the clock after the change.
    let end = "time,glucose\n2025-10-26 01:50,100\n2025-10-26 03:00,101\n2025-10-26 03:05,102\n";
    let file = context.file("end.csv", end);
    context.done(&["import", &file]);
    assert!(at("2025-10-26T02:00:00Z").contains("101 mg/dL"));
    assert!(at("2025-10-26T02:05:00Z").contains("102 mg/dL"));

    let context = Context::new();
    let file = context.file("day.csv", "time,glucose\n2026-03-01 03:05,101\n");
    context.done(&["import", &file, "--offset", "-05:00"]);
    let listed =
        context.done(&["log", "--readings", "--from", "2026-03-01T08:05:00Z", "--until", "2026-03-01T08:05:00Z"]);
    assert!(listed.contains("03:05   sensor reading 101 mg/dL"), "{listed}");
}

#[test]
fn standard_input_and_options_for_what_is_not_found() {
    use std::io::Write;
    use std::process::Stdio;
    let context = Context::new();
    let arguments = [
        "import",
        "-",
        "--time-column",
        "b",
        "--glucose-column",
        "3",
        "--time-format",
        "%d|%m|%Y %H.%M",
        "--separator",
        ";",
        "--file-unit",
        "mmol",
    ];
    let mut child = context.command(&arguments).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
    child.stdin.take().unwrap().write_all(b"a;b;c\n1;01|03|2026 03.05;25\n").unwrap();
    let output = child.wait_with_output().unwrap();
    let said = String::from_utf8(output.stdout).unwrap();
    assert!(output.status.success() && said.contains("1 new reading,"), "{said}");
    assert!(said.contains("readings from \"c\" in mmol/L"), "{said}");
}

/// Two hundred megabytes, in memory that does not grow with them. Takes minutes unoptimised: run with `--ignored`.
#[test]
#[ignore = "writes a file of 200 MB"]
#[cfg(target_os = "linux")]
fn two_hundred_megabytes_take_little_memory() {
    use std::io::Write;
    let context = Context::new();
    let path = context.folder().join("large.csv");
    let mut file = std::io::BufWriter::new(std::fs::File::create(&path).unwrap());
    writeln!(file, "time,glucose,remark").unwrap();
    let mut row = 0_i64;
    let mut bytes = 0;
    while bytes < 200_000_000 {
        let at = chrono::DateTime::from_timestamp(1_000_000_000 + 60 * row, 0).unwrap();
        let line = format!("{},{},something else\n", at.format("%Y-%m-%dT%H:%M:%SZ"), 70 + row % 200);
        bytes += line.len();
        file.write_all(line.as_bytes()).unwrap();
        row += 1;
    }
    drop(file);
    let mut child = context.command(&["import", path.to_str().unwrap(), "--dry-run"]).spawn().unwrap();
    let status = format!("/proc/{}/status", child.id());
    let mut most_kb = 0_u64;
    while child.try_wait().unwrap().is_none() {
        let peak = std::fs::read_to_string(&status).ok().and_then(|text| {
            text.lines().find_map(|line| line.strip_prefix("VmHWM:")?.trim().strip_suffix(" kB")?.trim().parse().ok())
        });
        most_kb = most_kb.max(peak.unwrap_or(0));
        std::thread::sleep(std::time::Duration::from_millis(100));
    }
    assert!(child.wait().unwrap().success());
    assert!((1..64_000).contains(&most_kb), "{most_kb} kB");
}
