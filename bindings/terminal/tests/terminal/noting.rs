//! `add`, `log`, `correct`, `undo` and `settings`.

use crate::context::Context;

/// The mark at the end of a line: six hexadecimal digits in brackets.
fn mark(text: &str) -> String {
    let end = text.trim_end().strip_suffix(']').unwrap_or_else(|| panic!("no mark: {text}"));
    let mark = end.rsplit('[').next().unwrap();
    assert!(mark.len() == 6 && mark.chars().all(|c| c.is_ascii_hexdigit()), "{text}");
    mark.to_owned()
}

#[test]
fn everything_a_wearer_notes_is_kept_and_listed() {
    let context = Context::new();
    let noted: [(&[&str], &str); 24] = [
        (&["meter", "92"], "meter check 92 mg/dL"),
        (&["meter", "LO"], "meter check too low to measure (below 20 mg/dL)"),
        (&["meter", "hi"], "meter check too high to measure (above 600 mg/dL)"),
        (&["carbs", "45"], "carbohydrate 45 g, meal"),
        (&["carbs", "15", "--rescue"], "carbohydrate 15 g, rescue"),
        (&["insulin", "4,5"], "rapid insulin 4.5 units"),
        (&["insulin", "14", "--long-acting"], "long-acting insulin 14 units"),
        (&["alcohol", "1"], "alcohol 1 drink"),
        (&["alcohol", "2,5"], "alcohol 2.5 drinks"),
        (&["ketones", "0,7"], "ketones 0.7 mmol/L"),
        (&["ill"], "ill"),
        (&["ill", "vomiting"], "ill and vomiting"),
        (&["ill", "over"], "well again"),
        (&["activity", "walk", "30", "--effort", "light"], "activity: walk, 30 minutes, light"),
        (&["sensor", "inserted", "--site", "left arm"], "sensor put in: left arm"),
        (&["sensor", "inserted"], "sensor put in"),
        (&["sensor", "warmed-up"], "sensor warm-up over"),
        (&["sensor", "fault", "no", "readings"], "sensor fault: no readings"),
        (&["sensor", "ended"], "sensor ended"),
        (&["feels", "low"], "feels low"),
        (&["feels", "high"], "feels high"),
        (&["feels", "nothing"], "feels neither low nor high"),
        (&["feels", "severe"], "severe signs"),
        (&["note", "slept", "badly"], "note: slept badly"),
    ];
    for (arguments, text) in noted {
        let said = context.done(&[&["add"], arguments, &["--at", "2026-03-01 08:00"]].concat());
        assert!(said.starts_with(&format!("noted: 1 Mar 2026, 08:00  {text}  [")), "{said}");
    }
    let said = context.done(&["add", "sleep", "2026-02-28 23:10", "2026-03-01 06:45"]);
    assert!(said.starts_with("noted: 28 Feb 2026, 23:10  sleep until 06:45"), "{said}");
    let listed = context.done(&["log", "--from", "2026-02-28 12:00", "--until", "2026-03-01 12:00"]);
    for (_, text) in noted {
        assert!(listed.contains(&format!("08:00   {text}")), "{text}\n{listed}");
    }
    assert!(listed.contains("28 Feb 2026\n23:10   sleep until 06:45"), "{listed}");
    // In the other unit and language too.
    let german = context.done(&[
        "log",
        "--lang",
        "de",
        "--unit",
        "mmol",
        "--from",
        "2026-03-01 07:00",
        "--until",
        "2026-03-01 09:00",
    ]);
    assert!(
        german.contains("Blutmessung 5,1 mmol/L") && german.contains("schnelles Insulin 4,5 Einheiten"),
        "{german}"
    );
}

#[test]
fn times_of_day_and_minutes_ago_are_understood() {
    let context = Context::new();
    assert!(context.done(&["add", "carbs", "10", "--ago", "20"]).starts_with("noted: "));
    let listed = context.done(&["log"]);
    assert!(listed.contains("carbohydrate 10 g, meal"), "{listed}");
    // A time of day is the last one. Half a day from now: a few minutes ahead would be taken for a clock that runs slow.
    let since = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).unwrap();
    let minute = (since.as_secs() / 60 + 60 + 720) % 1440;
    let clock = format!("{:02}:{:02}", minute / 60, minute % 60);
    context.done(&["add", "note", "half a day", "--at", &clock]);
    let listed = context.done(&["log"]);
    assert!(listed.contains(&clock) && listed.contains("note: half a day"), "{listed}");
    assert!(context.fails(65, &["add", "note", "x", "--at", "noon"]).contains("write it like HH:MM"));
    assert!(context.fails(65, &["add", "note", "x", "--at", "2199-01-01 10:00"]).contains("future"));
}

#[test]
fn a_correction_that_is_probably_a_slip_is_asked_about_and_a_sum_is_named_as_one() {
    let context = Context::new();
    let noted = mark(&context.done(&["add", "insulin", "4", "--ago", "10"]));
    let said = context.done(&["correct", &noted, "insulin", "140"]);
    assert!(said.contains("140 units") && said.lines().count() > 1, "{said}");
    let said = context.done(&["add", "insulin", "1"]);
    assert!(said.contains("141 units of insulin"), "{said}");
}

#[test]
fn what_is_noted_and_cannot_be_is_refused_in_words() {
    let context = Context::new();
    for more in [&["--ago", "60"][..], &["--at", "2026-03-01 08:00"]] {
        let said = context.fails(65, &[&["add", "sleep", "23:10", "06:45"], more].concat());
        assert!(said.contains("sleep has its times already"), "{said}");
    }
    let said = context.fails(65, &["add", "ketones", "HI"]);
    assert!(said.contains("emergency help now") && said.contains("highest number"), "{said}");
    assert!(context.done(&["add", "ketones", "LO"]).contains("ketones 0 mmol/L"));
    context.fails(65, &["settings", "country", "XX"]);
    let said = context.done(&["add", "activity", "walk", "1", "--effort", "light"]);
    assert!(said.contains("walk, 1 minute, light"), "{said}");
    let said = context.fails(66, &["import", "nowhere.csv"]);
    assert!(said.contains("there is no such file or folder") && !said.contains("os error"), "{said}");

    context.done(&["check"]);
    let listed = context.done(&["log", "--days", "1"]);
    let shown = listed.lines().find(|line| line.contains("shown: ")).unwrap_or_else(|| panic!("{listed}"));
    let said = context.fails(65, &["correct", &mark(shown), "insulin", "4"]);
    assert!(said.contains("this is a prompt that was shown"), "{said}");
    assert!(context.done(&["log", "--days", "1"]).contains(shown));
}

/// Half of a small dose, or twice as much, is another dose.
#[test]
fn amounts_are_shown_as_they_were_noted() {
    let context = Context::new();
    for (noted, shown) in [
        (&["insulin", "0.05"][..], "insulin 0.05 units"),
        (&["insulin", "2.75"], "insulin 2.75 units"),
        (&["insulin", "4.5"], "insulin 4.5 units"),
        (&["insulin", "1"], "insulin 1 unit "),
        (&["insulin", "1.04"], "insulin 1.04 units"),
        (&["insulin", "14.25", "--long-acting"], "insulin 14.25 units"),
        (&["carbs", "0.04"], "carbohydrate 0.04 g"),
        (&["alcohol", "0.25"], "0.25 drinks"),
    ] {
        let said = context.done(&[&["add"], noted].concat());
        assert!(said.contains(shown), "{noted:?}: {said}");
    }
    for noted in [&["insulin", "0.004"][..], &["insulin", "0.000000001"], &["carbs", "0.009"]] {
        let said = context.fails(65, &[&["add"], noted].concat());
        assert!(said.contains("must be 0.01 to"), "{noted:?}: {said}");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn what_the_log_took_is_not_asked_for_again_where_the_result_cannot_be_shown() {
    let context = Context::new();
    let full = std::fs::File::options().write(true).open("/dev/full").unwrap();
    let run = context.command(&["add", "insulin", "4"]).stdout(full).output().unwrap();
    let said = String::from_utf8(run.stderr).unwrap();
    assert_eq!(run.status.code(), Some(74));
    assert!(said.contains("the log has taken it, so do not enter it again"), "{said}");
    assert!(context.done(&["log"]).contains("rapid insulin 4 units"));
}

#[test]
fn limits_are_said_in_the_wearers_unit_and_contradict_nobody() {
    let context = Context::new();
    assert!(context.done(&["check", "--meter", "1.1", "--unit", "mmol"]).contains("TREAT"));
    context.done(&["add", "meter", "1.1", "--unit", "mmol"]);
    let said = context.fails(65, &["settings", "lead-days", "99999"]);
    assert!(said.contains("lead time must be 0.0 to 365.0 days, not 99999"), "{said}");
    context.done(&["settings", "unit", "mmol"]);
    let said = context.fails(65, &["settings", "low-line", "3.3"]);
    assert!(said.contains("must be 3.33 to 6.66 mmol/L, not 3.30"), "{said}");
    let said = context.fails(65, &["alerts", "--low", "2.9"]);
    assert!(said.contains("3.0 to 6.7 mmol/L, not 2.9") && !said.contains("mg/dL"), "{said}");
    let said = context.fails(65, &["add", "carbs", "0"]);
    assert!(said.contains("more than 0 and at most 500.0 g"), "{said}");
    assert!(context.fails(65, &["add", "carbs", "501"]).contains("0.0 to 500.0 g, not 501"));
}

#[test]
fn corrections_and_retractions_stay_readable() {
    let context = Context::new();
    let first = mark(&context.done(&["add", "meter", "92", "--at", "2026-03-01 08:00"]));
    let second = mark(&context.done(&["correct", &first, "meter", "98"]));
    let day = ["log", "--from", "2026-03-01 00:00", "--until", "2026-03-02 00:00"];
    let listed = context.done(&day);
    assert!(listed.contains("meter check 98 mg/dL") && !listed.contains("meter check 92"), "{listed}");
    let all = context.done(&[&day[..], &["--all"]].concat());
    assert!(all.contains(&format!("meter check 92 mg/dL (no longer holds)  [{first}]")), "{all}");
    assert!(all.contains(&format!("meter check 98 mg/dL, corrects [{first}]  [{second}]")), "{all}");

    // Undone, the correction gives way to what stood before.
    assert!(context.done(&["undo"]).contains("meter check 98"));
    assert!(context.done(&day).contains("meter check 92"));
    // Taken back by its mark, it is hidden and still there.
    assert!(context.done(&["undo", &first]).contains("taken back"));
    assert!(context.done(&day).contains("Nothing is in the log"));
    let all = context.done(&[&day[..], &["--all"]].concat());
    assert!(all.contains("meter check 92 mg/dL (no longer holds)"), "{all}");

    assert!(context.fails(66, &["undo", "000000"]).contains("no entry is marked"));
    assert!(context.fails(66, &["correct", "zz", "meter", "98"]).contains("`ebbstead log` lists the marks"));
}

#[test]
fn nothing_to_undo_is_said() {
    let context = Context::new();
    assert!(context.fails(66, &["undo"]).contains("there is nothing to undo"));
}

#[test]
fn settings_are_kept_checked_and_used() {
    let context = Context::new();
    let shown = context.done(&["settings"]);
    // 70 and 180 mg/dL: Battelino et al., Diabetes Care 2019;42:1593-1603.
    for part in
        ["unit            mg/dL", "low-line        70 mg/dL", "high-line       180 mg/dL", "insulin-factor  not set"]
    {
        assert!(shown.contains(part), "{part}\n{shown}");
    }
    context.done(&["settings", "unit", "mmol"]);
    context.done(&["settings", "low-line", "4.5"]);
    context.done(&["settings", "night", "22:30", "06:30"]);
    context.done(&["settings", "caution", "early"]);
    context.done(&["settings", "feels-lows", "no"]);
    context.done(&["settings", "alone", "yes"]);
    context.done(&["settings", "insulin-factor", "2.5"]);
    context.done(&["settings", "carbs-factor", "0,2"]);
    let shown = context.done(&["settings", "language", "de"]);
    for part in [
        "mmol/L",
        "4,5 mmol/L",
        "22:30 - 06:30",
        "früher",
        "2,50 mmol/L je Einheit",
        "0,20 mmol/L je Gramm",
        "Deutsch",
        "feels-lows      Nein",
        "alone           Ja",
    ] {
        assert!(shown.contains(part), "{part}\n{shown}");
    }
    // Amounts are taken in the unit set, or in the one named.
    assert!(context.done(&["add", "meter", "5,1"]).contains("Blutmessung 5,1 mmol/L"));
    assert!(context.done(&["add", "meter", "92", "--unit", "mg"]).contains("92 mg/dL"));

    let context = Context::new();
    assert!(
        context.fails(65, &["settings", "low-line", "55"]).contains("low line must be 60.0 to 120.0 mg/dL, not 55")
    );
    assert!(context.fails(65, &["settings", "night", "22:00", "22:00"]).contains("two different times"));
    assert!(context.fails(65, &["settings", "insulin-factor", "many"]).contains("is no number"));
    assert!(context.done(&["settings"]).contains("low-line        70 mg/dL"), "a refused setting changes nothing");
}

#[test]
fn a_setting_is_cleared_in_the_words_of_each_language() {
    let context = Context::new();
    for clear in [
        ["--lang", "en", "none"],
        ["--lang", "de", "keiner"],
        ["--lang", "es", "ninguno"],
        ["--lang", "de", "none"],
        ["--lang", "es", "-"],
    ] {
        context.done(&["settings", "country", "gb"]);
        assert!(context.done(&["settings"]).contains("country         GB"));
        context.done(&[clear[0], clear[1], "settings", "country", clear[2]]);
        assert!(context.done(&["settings"]).contains("country         not set"), "{clear:?}");
    }
    assert!(context.fails(65, &["settings", "country", "ninguno"]).contains("like GB"));
}

/// Thirty units at once are probably a slip of the finger (common practice, no source): kept, and asked about at once.
#[test]
fn an_unusual_dose_is_kept_and_asked_about() {
    let context = Context::new();
    let usual = context.done(&["add", "insulin", "6"]);
    assert!(!usual.contains("more than usual"), "{usual}");
    let slip = context.done(&["add", "insulin", "30"]);
    assert!(slip.contains("far more than usual") && slip.contains("call your care team"), "{slip}");
    let german = context.done(&["add", "insulin", "60", "--long-acting", "--lang", "de"]);
    assert!(german.contains("viel mehr als üblich"), "{german}");
    assert!(context.done(&["log"]).contains("30"));
}
