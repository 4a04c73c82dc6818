//! `export` and `import` of FHIR bundles.

use std::os::unix::fs::PermissionsExt;

use serde_json::Value;

use crate::context::Context;

#[test]
fn a_log_goes_out_and_comes_in_again_as_fhir() {
    let context = Context::new();
    let amounts: Vec<f64> = (0..40).map(|k| 100.0 + f64::from(k)).collect();
    let file = context.readings("readings.csv", "2026-02-20 10:00", &amounts);
    context.done(&["import", &file]);
    context.done(&["add", "meter", "104", "--at", "2026-02-20 11:00"]);
    context.done(&["add", "carbs", "15", "--rescue", "--at", "2026-02-20 11:05"]);
    let out = context.folder().join("log.json");
    let path = out.to_str().unwrap();
    let said = context.done(&["export", path, "--as", "fhir"]).replace('\n', " ");
    assert!(said.contains("42 entries and 0 review figures"), "{said}");
    assert!(said.contains("Not in it: the review's figures: too few readings"), "{said}");
    assert!(said.contains("Not in it: that files were imported (1)"), "{said}");
    assert!(said.contains("Anybody who has this file can read it"), "{said}");
    assert_eq!(std::fs::metadata(&out).unwrap().permissions().mode() & 0o777, 0o600);
    let bundle: Value = serde_json::from_str(&std::fs::read_to_string(&out).unwrap()).unwrap();
    assert_eq!(bundle["entry"].as_array().unwrap().len(), 43);

    // What is there already is not written over.
    assert!(context.fails(74, &["export", path, "--as", "fhir"]).contains("log.json"));
    // Into the log it came from: nothing new. Into another: everything, once, and it can be taken back.
    let known = context.done(&["import", path]).replace('\n', " ");
    assert!(known.contains("0 new entries") && known.contains("They came from this log"), "{known}");
    let other = ["--log", "other.ebbstead"];
    let looked = context.done(&[&["import", path, "--dry-run"], &other[..]].concat());
    let looked = looked.replace('\n', " ");
    assert!(looked.contains("42 entries could be taken") && looked.contains("Nothing was written"), "{looked}");
    assert!(looked.contains("If that is not you, do not bring them in"), "{looked}");
    let taken = context.done(&[&["import", path], &other[..]].concat());
    assert!(taken.contains("42 new entries, 20 Feb 2026, 10:00 to 20 Feb 2026, 13:15"), "{taken}");
    let day = [&["log", "--from", "2026-02-20 00:00", "--until", "2026-02-21 00:00"], &other[..]].concat();
    let listed = context.done(&day);
    assert!(listed.contains("40 sensor readings") && listed.contains("104 mg/dL"), "{listed}");
    assert!(context.done(&[&["undo"], &other[..]].concat()).contains("log.json"));
    assert!(context.done(&day).contains("Nothing is in the log"));
}

#[test]
fn a_span_is_carried_and_the_review_with_it() {
    let context = Context::new();
    let amounts: Vec<f64> = (0..20 * 288).map(|k| 130.0 + 60.0 * (f64::from(k) / 40.0).sin()).collect();
    let file = context.readings("readings.csv", "2026-02-01 00:00", &amounts);
    context.done(&["import", &file]);
    let run =
        context.run(&["export", "-", "--as", "fhir", "--from", "2026-02-03 00:00", "--until", "2026-02-19 00:00"]);
    let bundle: Value = serde_json::from_str(&run.out).unwrap();
    let resources = bundle["entry"].as_array().unwrap();
    // The person, sixteen days with both ends, eight figures.
    assert_eq!(resources.len(), 1 + 16 * 288 + 1 + 8);
    let summary = resources.iter().find(|one| one["resource"]["code"]["coding"][0]["code"] == "107931-8").unwrap();
    assert_eq!(summary["resource"]["effectivePeriod"]["end"], "2026-02-18");
}

#[test]
fn bundles_that_cannot_be_taken_say_why() {
    let context = Context::new();
    let reading = |who: &str, code: &str| {
        format!(
            r#"{{"resource":{{"resourceType":"Observation","status":"final","subject":{{"reference":"{who}"}},
            "code":{{"coding":[{{"system":"http://loinc.org","code":"{code}"}}]}},"effectiveDateTime":"2026-02-01T10:00:00Z",
            "valueQuantity":{{"value":120,"system":"http://unitsofmeasure.org","code":"mg/dL"}}}}}}"#
        )
    };
    let bundle = |all: &[String]| format!(r#"{{"resourceType":"Bundle","entry":[{}]}}"#, all.join(","));
    let two = context.file("two.json", bundle(&[reading("Patient/a", "99504-3"), reading("Patient/b", "99504-3")]));
    assert!(context.fails(65, &["import", &two]).contains("it is about 2 people"));
    let one = context.done(&["import", &two, "--person", "Patient/b"]);
    assert!(one.contains("1 new entry,") && one.contains("They are about: Patient/b"), "{one}");
    let wrong = context.file("wrong.json", bundle(&[reading("Patient/a", "105272-9")]));
    let said = context.fails(65, &["import", &wrong]);
    assert!(said.contains("entry 1, value: the code asks for another unit than the value has"), "{said}");
    let broken = context.file("broken.json", "{\n\"resourceType\": \"Bundle\",\n");
    assert!(context.fails(65, &["import", &broken]).contains("broken.json:3: this is no JSON"));
    let german = context.fails(65, &["import", &broken, "--lang", "de"]);
    assert!(german.contains("das ist kein JSON"), "{german}");
}
