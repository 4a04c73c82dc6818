//! `before`: sleep, driving, activity, and what cannot be asked.

use serde_json::Value;

use crate::context::Context;

/// A context with readings of 20 hours up to 22:30, the last of them as given.
fn context(last: f64) -> Context {
    let context = Context::new();
    let mut amounts: Vec<f64> = (0..240).map(|k| 140.0 + f64::from(k % 3)).collect();
    amounts.push(last);
    let file = context.readings("readings.csv", "2026-03-01 02:30", &amounts);
    context.done(&["import", &file]);
    context
}

const THEN: [&str; 2] = ["--at", "2026-03-01 22:31"];

fn json(context: &Context, arguments: &[&str]) -> Value {
    serde_json::from_str(&context.done(&[arguments, &THEN, &["--json"]].concat())).unwrap()
}

fn said(context: &Context, arguments: &[&str]) -> String {
    context.done(&[arguments, &THEN].concat()).replace('\n', " ")
}

#[test]
fn sleep_gives_chances_until_the_wearers_morning() {
    let context = context(141.0);
    let answer = json(&context, &["before", "sleep"]);
    assert_eq!(answer["until"], "2026-03-02T07:00:00+01:00");
    let (low, floor) =
        (answer["chance"]["own"]["p_low"].as_f64().unwrap(), answer["chance"]["own"]["p_floor"].as_f64().unwrap());
    assert!(0.0 < floor && floor < low && low < 0.5, "{answer}");
    context.done(&["settings", "morning", "05:30"]);
    let earlier = json(&context, &["before", "sleep"]);
    assert_eq!(earlier["until"], "2026-03-02T05:30:00+01:00");
    assert!(earlier["chance"]["own"]["p_low"].as_f64().unwrap() < low, "{earlier}");
    let asked = json(&context, &["before", "sleep", "--until", "06:15"]);
    assert_eq!(asked["until"], "2026-03-02T06:15:00+01:00");
    let page = said(&context, &["before", "sleep"]);
    for part in ["Before sleep", "Until 05:30", "below 70 mg/dL", "Leave the alarm on", "the usual ones"] {
        assert!(page.contains(part), "{part}\n{page}");
    }
    assert!(said(&context, &["--lang", "de", "before", "sleep"]).contains("Lass den Alarm an"));
}

#[test]
fn driving_goes_by_the_rule_of_the_country_set_and_says_where_none_is_known() {
    // 88 mg/dL is 4.9 mmol/L: nothing low, and less than the British rule asks for.
    let context = context(88.0);
    let page = said(&context, &["before", "driving", "90"]);
    assert!(page.contains("No country is set, so no rule is known here"), "{page}");
    assert_eq!(json(&context, &["before", "driving", "90"])["rule"], Value::Null);
    context.done(&["settings", "country", "de"]);
    assert!(said(&context, &["before", "driving", "90"]).contains("No rule for DE is known here"));
    context.done(&["settings", "country", "gb"]);
    let page = said(&context, &["--unit", "mmol", "before", "driving", "300"]);
    for part in [
        "Before driving",
        "More than 5.0 mmol/L to drive",
        "Below 4.0 mmol/L",
        "45 minutes",
        "INF294",
        "Stop and check at",
    ] {
        assert!(page.contains(part), "{part}\n{page}");
    }
    let answer = json(&context, &["before", "driving", "300"]);
    // The reading is a minute old: 2 hours after it, and 2 hours after that.
    assert_eq!(answer["stops"], serde_json::json!(["2026-03-02T00:30:00+01:00", "2026-03-02T02:30:00+01:00"]));
    let felt = json(&context, &["before", "driving", "30", "--feels-low"]);
    assert_eq!(felt["drive"]["code"], "do_not");
    assert!(context.fails(65, &["settings", "country", "Britain"]).contains("like GB"));
    assert!(context.done(&["settings"]).contains("GB"));
}

#[test]
fn activity_gives_published_starting_points() {
    let context = context(141.0);
    let answer = json(&context, &["before", "activity", "endurance", "45"]);
    assert_eq!((&answer["start"], &answer["carbohydrate_g"]), (&"can".into(), &Value::Null));
    let page = said(&context, &["before", "activity", "endurance", "45"]);
    for part in
        ["Before movement", "126 to 180 mg/dL", "Riddell", "Moser", "your team's plan goes before them", "at rest"]
    {
        assert!(page.contains(part), "{part}\n{page}");
    }
    let ketones = json(&context, &["before", "activity", "endurance", "45", "--ketones", "1,6"]);
    assert_eq!(ketones["start"], "not_with_ketones");
}

#[test]
fn no_page_names_an_amount_of_insulin() {
    for last in [60.0, 88.0, 141.0, 300.0] {
        let context = context(last);
        context.done(&["add", "insulin", "4", "--at", "2026-03-01 22:00"]);
        for asked in
            [&["before", "sleep"][..], &["before", "driving", "60"], &["before", "activity", "endurance", "45"]]
        {
            for language in ["en", "de"] {
                let page = said(&context, &[&["--lang", language], asked].concat());
                assert!(!page.contains(" unit") && !page.contains("Einheit"), "{page}");
            }
        }
    }
}

#[test]
fn what_cannot_be_asked_says_what_would_be() {
    let context = context(141.0);
    let fails = |arguments: &[&str]| context.fails(65, &[arguments, &THEN].concat());
    for minutes in ["0", "-30", "1441", "nan", "soon"] {
        let error = fails(&["before", "driving", minutes]);
        assert!(error.contains("length of the drive") || error.contains("is no number"), "{error}");
        let error = fails(&["before", "activity", "strength", minutes]);
        assert!(error.contains("length of the movement") || error.contains("is no number"), "{error}");
    }
    for until in ["2026-03-01 20:00", "2026-03-02 22:32", "2026-03-01 22:31"] {
        assert!(fails(&["before", "sleep", "--until", until]).contains("time until the morning"), "{until}");
    }
    assert!(fails(&["before", "sleep", "--until", "late"]).contains("write it like HH:MM"));
    assert!(fails(&["before", "activity", "endurance", "30", "--ketones", "-1"]).contains("ketones"));
    assert!(fails(&["before", "activity", "endurance", "30", "--ketones", "HI"]).contains("emergency help now"));
    let german = fails(&["--lang", "de", "before", "driving", "-30"]);
    assert!(german.contains("Dauer der Fahrt muss zwischen"), "{german}");
}

#[test]
fn without_a_reading_of_the_hour_there_is_no_chance_and_it_is_said_what_is_missing() {
    let context = context(141.0);
    let late = ["--at", "2026-03-01 23:40"];
    for asked in [&["before", "sleep"][..], &["before", "driving", "60"], &["before", "activity", "endurance", "45"]] {
        let answer: Value = serde_json::from_str(&context.done(&[asked, &late, &["--json"]].concat())).unwrap();
        assert!(answer["chance"].is_null() && answer["chance_at_rest"].is_null(), "{answer}");
        assert_eq!(answer["missing"]["code"], "old_reading", "{answer}");
        let page = context.done(&[asked, &late].concat()).replace('\n', " ");
        assert!(
            page.contains("the newest reading came 1 hour") || page.contains("the newest reading came 70 min"),
            "{page}"
        );
        assert!(page.contains("Check with a meter") && !page.contains('%'), "{page}");
        let nothing: Value = serde_json::from_str(&Context::new().done(&[asked, &["--json"]].concat())).unwrap();
        assert_eq!(nothing["missing"]["code"], "no_readings", "{nothing}");
    }
    // Half an hour of readings is not enough for a night, and says so.
    let short = Context::new();
    let file = short.readings("short.csv", "2026-03-01 22:00", &[140.0; 7]);
    short.done(&["import", &file]);
    let night = json(&short, &["before", "sleep"]);
    assert_eq!((&night["chance"], &night["missing"]["code"]), (&Value::Null, &"short_record".into()));
}
