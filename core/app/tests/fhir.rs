//! Bundles of HL7 FHIR: what is written, what is read again, what is left out and refused.
#![allow(clippy::unwrap_used, clippy::panic)] // a failed test says where

use std::collections::BTreeMap;

use serde_json::{Value, json};

use ebbstead_core::exchange::Finding as Found;
use ebbstead_core::exchange::fhir::*;
use ebbstead_core::log::{
    Beyond, DeviceFault, Effort, Entry, EntryId, EntryKind, History, Illness, InsulinKind, Item, Matter, Occasion,
    Prompted, Purpose, Reading, SensorEvent, Source, Stocked, Supply, Symptom, Text, Verdict,
};
use ebbstead_core::review::{Period, Review, ReviewOptions};
use ebbstead_core::sentences::fhir::*;
use ebbstead_core::store::Log;
use ebbstead_core::time::Moment;
use ebbstead_core::units::{Glucose, GlucoseUnit};
use ebbstead_core::wearer::{Language, Wearer};
use ebbstead_core::words::Words;
use ebbstead_core::{Error, import};

fn at(text: &str) -> Moment {
    Moment::parse(text).unwrap()
}

fn now() -> Moment {
    at("2026-03-10T12:00:00+01:00")
}

fn mg(amount: f64) -> Glucose {
    Glucose::from_mg_dl(amount).unwrap()
}

fn text(text: &str) -> Text {
    Text::new(text).unwrap()
}

/// One of everything a bundle carries, with times that have seconds, milliseconds and several offsets.
fn everything() -> Vec<Entry> {
    let when = at("2026-03-01T22:10:30.250-09:30");
    let until = when.plus_minutes(90.0);
    let whats = [
        EntryKind::MeterCheck { mg_dl: mg(101.5) },
        EntryKind::MeterBeyond { beyond: Beyond::Below, mg_dl: mg(20.0) },
        EntryKind::MeterBeyond { beyond: Beyond::Above, mg_dl: mg(600.0) },
        EntryKind::Insulin { insulin: InsulinKind::Rapid, units: 4.5 },
        EntryKind::Insulin { insulin: InsulinKind::LongActing, units: 14.0 },
        EntryKind::Carbohydrate { grams: 15.0, purpose: Purpose::Rescue },
        EntryKind::Carbohydrate { grams: 62.5, purpose: Purpose::Meal },
        EntryKind::Alcohol { drinks: 2.5 },
        EntryKind::Ketones { mmol_l: 0.7 },
        EntryKind::Illness { illness: Illness::Vomiting },
        EntryKind::Illness { illness: Illness::Over },
        EntryKind::Activity { activity: text("walk \"home\"\nuphill"), minutes: 30.0, effort: Effort::Light },
        EntryKind::Activity { activity: text("run"), minutes: 12.5, effort: Effort::Hard },
        EntryKind::Activity { activity: text("dance"), minutes: 45.0, effort: Effort::Moderate },
        EntryKind::Sleep { until },
        EntryKind::CompressionLow { until },
        EntryKind::Sensor(SensorEvent::Inserted {
            site: Some(text("left arm")),
            lot: Some(text("A12")),
            rated_days: Some(10),
        }),
        EntryKind::Sensor(SensorEvent::inserted(None)),
        EntryKind::Supply(Supply::new(Item::TestStrip, Stocked::Counted, 50.0)),
        EntryKind::Prompted(Prompted {
            occasion: Occasion::Look,
            matter: Matter::Falling,
            verdict: Verdict::Hold,
            without_meter: None,
            chance_low: Some(0.125),
            blood_mg_dl: None,
            chance_if_waiting: None,
            chance_if_treating: None,
            look_again_minutes: Some(10),
        }),
        EntryKind::Sensor(SensorEvent::WarmUpOver),
        EntryKind::Sensor(SensorEvent::RolledOff),
        EntryKind::Sensor(SensorEvent::Ended),
        EntryKind::Sensor(SensorEvent::Fault { seen: text("came loose, ä ö ü") }),
        EntryKind::Sensor(SensorEvent::DeviceFault { code: DeviceFault::SensorType }),
        EntryKind::Sensor(SensorEvent::DeviceFault { code: DeviceFault::SensorMalfunction }),
        EntryKind::Sensor(SensorEvent::DeviceFault { code: DeviceFault::General }),
        EntryKind::Symptom { felt: Symptom::FeelsLow },
        EntryKind::Symptom { felt: Symptom::FeelsHigh },
        EntryKind::Symptom { felt: Symptom::None },
        EntryKind::Symptom { felt: Symptom::Severe },
        EntryKind::Note { text: text("felt odd </script> \u{1F600}") },
    ];
    let recorded = at("2026-03-03T08:00:00+01:00");
    let mut entries: Vec<Entry> =
        whats.into_iter().map(|what| Entry::new(when, recorded, Source::by_hand(), what).unwrap()).collect();
    let reading = |minutes: f64, amount: f64| {
        let source = Source::new("sensor 7").unwrap();
        Entry::new(when.plus_minutes(minutes), recorded, source, EntryKind::SensorReading { mg_dl: mg(amount) })
            .unwrap()
    };
    let beyond = |minutes: f64, beyond: Beyond, amount: f64| {
        let source = Source::new("sensor 7").unwrap();
        let what = EntryKind::SensorBeyond { beyond, mg_dl: mg(amount) };
        Entry::new(when.plus_minutes(minutes), recorded, source, what).unwrap()
    };
    entries.extend([beyond(15.0, Beyond::Below, 40.0), beyond(20.0, Beyond::Above, 400.0)]);
    entries.extend([reading(0.0, 104.0), reading(5.0, 99.09), reading(10.0, 62.0)]);
    let corrections = [
        (0, EntryKind::MeterCheck { mg_dl: mg(110.0) }),
        (3, EntryKind::Insulin { insulin: InsulinKind::Rapid, units: 0.5 }),
        (entries.len() - 1, EntryKind::SensorReading { mg_dl: mg(64.0) }),
    ];
    for (place, what) in corrections {
        let corrected = entries[place].corrected(recorded.plus_minutes(1.0), when.plus_minutes(1.0), what).unwrap();
        entries.push(corrected);
    }
    entries
}

fn written(entries: &[Entry]) -> (Vec<u8>, Carried) {
    let mut bytes = Vec::new();
    let mut bundle = Bundle::begin(&mut bytes, uuid::Uuid::from_u128(7), now()).unwrap();
    for entry in entries {
        bundle.put(entry).unwrap();
    }
    let carried = bundle.finish().unwrap();
    (bytes, carried)
}

fn options() -> Options {
    Options::new("file.json", now())
}

/// The one way in.
fn import(log: &mut Log, bytes: &[u8], name: &str, dry_run: bool) -> ebbstead_core::Result<import::Report> {
    let options = import::Options { dry_run, ..import::Options::found(now(), GlucoseUnit::MgDl) };
    import::import(log, bytes, name, &options)
}

/// The entries of a bundle without their places.
fn read(bytes: &[u8], options: &Options) -> ebbstead_core::Result<(Vec<Entry>, Report)> {
    ebbstead_core::exchange::fhir::read(bytes, options)
        .map(|(entries, report)| (entries.into_iter().map(|(_, entry)| entry).collect(), report))
}

#[test]
fn what_is_written_is_read_back_to_the_last_bit() {
    let entries = everything();
    let (bytes, carried) = written(&entries);
    assert_eq!((carried.entries, carried.not_carried.len()), (entries.len() as u64, 0));
    let (read_back, report) = read(&bytes, &options()).unwrap();
    assert_eq!(read_back, entries);
    // The Patient is the one resource of another kind.
    assert_eq!((report.taken, report.left_out, report.others), (entries.len() as u64, 0, 1));
    assert_eq!(report.subject.as_deref(), Some("urn:uuid:00000000-0000-0000-0000-000000000007"));
}

#[test]
fn a_log_read_from_a_bundle_holds_the_same_and_reading_twice_doubles_nothing() {
    let mut log = Log::in_memory(now()).unwrap();
    let brought = log.import(text("week.csv"), everything().into_iter().map(Ok), now()).unwrap();
    let entries = log.current(at("2000-01-01T00:00:00Z"), now()).unwrap();
    let (bytes, carried) = written(&entries);
    assert_eq!(carried.not_carried, BTreeMap::from([(NotCarried::Import, 1)]));
    let mut other = Log::in_memory(now()).unwrap();
    for new in [carried.entries, 0] {
        let outcome = import(&mut other, &bytes, "log.json", false).unwrap();
        assert_eq!(outcome.imported.unwrap().recorded.new, new);
    }
    let (from, until) = (at("2026-03-01T00:00:00Z"), now());
    assert_eq!(other.history(from, until).unwrap(), log.history(from, until).unwrap());
    // Into the log it came from, nothing is new, and a correction goes on standing for what it corrects.
    let before = log.history(from, until).unwrap();
    let again = import(&mut log, &bytes, "log.json", false).unwrap();
    assert_eq!((again.imported.unwrap().recorded.new, again.left_out), (0, 0));
    assert_eq!(log.history(from, until).unwrap(), before);
    log.retract(again.imported.unwrap().id, now()).unwrap();
    assert_eq!(log.history(from, until).unwrap(), before, "what came with another import too stays");
    // What was taken back is not carried: of an import taken back, nothing holds.
    log.retract(brought.id, now()).unwrap();
    let (_, carried) = written(&log.current(at("2000-01-01T00:00:00Z"), now()).unwrap());
    assert_eq!(carried, Carried::default());
}

#[test]
fn corrections_and_retractions_are_shown_by_their_status_or_left_out() {
    let entries = everything();
    let (bytes, _) = written(&entries);
    let bundle: Value = serde_json::from_slice(&bytes).unwrap();
    let statuses: Vec<&str> = bundle["entry"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|one| one["resource"]["resourceType"] == "Observation")
        .map(|one| one["resource"]["status"].as_str().unwrap())
        .collect();
    assert_eq!(statuses.iter().filter(|one| **one == "corrected").count(), 2);
    assert!(statuses.iter().all(|one| matches!(*one, "final" | "corrected")));
    let (_, carried) = written(&[entries[0].retracted(now())]);
    assert_eq!((carried.entries, carried.not_carried), (0, BTreeMap::from([(NotCarried::Retraction, 1)])));
}

/// The example reading of HL7's guide for continuous glucose monitoring (its values, read), and relatives without our extension.
fn foreign(code: &str, value: Value) -> Value {
    json!({
        "resourceType": "Observation", "id": "x1", "status": "final",
        "category": [{ "coding": [{ "system": codes::CATEGORY, "code": "laboratory" }] }],
        "code": { "coding": [{ "system": "http://snomed.info/sct", "code": "1" }, { "system": codes::LOINC, "code": code }] },
        "subject": { "reference": "Patient/x" },
        "effectiveDateTime": "2024-05-02T10:15:00Z",
        "valueQuantity": value,
    })
}

fn mass(value: f64) -> Value {
    json!({ "value": value, "unit": "mg/dl", "system": codes::UCUM, "code": "mg/dL" })
}

fn moles(value: f64) -> Value {
    json!({ "value": value, "unit": "mmol/l", "system": codes::UCUM, "code": "mmol/L" })
}

fn bundle(resources: &[Value]) -> Vec<u8> {
    let entries: Vec<Value> = resources.iter().map(|resource| json!({ "resource": resource })).collect();
    json!({ "resourceType": "Bundle", "type": "searchset", "entry": entries }).to_string().into_bytes()
}

/// Quantity.comparator of FHIR R4 (value set `quantity-comparator`: `<`, `<=`, `>=`, `>`).
#[test]
fn a_comparator_is_too_low_or_too_high_to_measure_both_ways() {
    let with = |code: &str, quantity: Value, comparator: &str| {
        let mut resource = foreign(code, quantity);
        resource["valueQuantity"]["comparator"] = json!(comparator);
        resource
    };
    let resources = [
        with("99504-3", mass(40.0), "<"),
        with("99504-3", mass(400.0), ">"),
        with("105272-9", moles(2.2), "<="),
        with("2339-0", mass(20.0), "<"),
        with("14743-9", moles(33.3), ">="),
    ];
    let (entries, report) = read(&bundle(&resources), &options()).unwrap();
    assert_eq!((report.taken, report.left_out), (5, 0), "{report:?}");
    let (below, above) = (Beyond::Below, Beyond::Above);
    let limit = |mmol_l: f64| Glucose::from_mg_dl((mmol_l * 1801.56).round() / 100.0).unwrap();
    let expected = [
        EntryKind::SensorBeyond { beyond: below, mg_dl: mg(40.0) },
        EntryKind::SensorBeyond { beyond: above, mg_dl: mg(400.0) },
        EntryKind::SensorBeyond { beyond: below, mg_dl: limit(2.2) },
        EntryKind::MeterBeyond { beyond: below, mg_dl: mg(20.0) },
        EntryKind::MeterBeyond { beyond: above, mg_dl: limit(33.3) },
    ];
    assert_eq!(entries.iter().map(|one| one.what.clone()).collect::<Vec<_>>(), expected);
    let (bytes, _) = written(&entries);
    let wrote: Value = serde_json::from_slice(&bytes).unwrap();
    let quantities: Vec<&Value> =
        wrote["entry"].as_array().unwrap().iter().map(|one| &one["resource"]["valueQuantity"]).collect();
    let comparators: Vec<&str> = quantities.iter().filter_map(|one| one["comparator"].as_str()).collect();
    assert_eq!(comparators, ["<", ">", "<", "<", ">"]);
    assert!(quantities.contains(
        &&json!({ "value": 40, "unit": "mg/dl", "system": codes::UCUM, "code": "mg/dL", "comparator": "<" })
    ));
    // An amount says no comparator at all.
    let (plain, _) = written(&read(&bundle(&[foreign("99504-3", mass(120.0))]), &options()).unwrap().0);
    assert!(!String::from_utf8(plain).unwrap().contains("comparator"));
}

#[test]
fn foreign_glucose_is_taken_in_both_units() {
    let mut instant = foreign("105272-9", moles(5.5));
    instant["effectiveInstant"] = json!("2024-05-02T12:20:00.000+02:00");
    instant.as_object_mut().unwrap().remove("effectiveDateTime");
    let unit_for_people = foreign("2339-0", json!({ "value": 88, "unit": "mg/dL" }));
    let mut device = foreign("14743-9", moles(11.1));
    device["device"] = json!({ "display": "meter 2" });
    let other = json!({ "resourceType": "Observation", "status": "final", "code": { "text": "weight" } });
    let bytes = bundle(&[foreign("99504-3", mass(120.0)), instant, unit_for_people, device, other]);
    let (entries, report) = read(&bytes, &options()).unwrap();
    assert_eq!((report.taken, report.left_out, report.others), (4, 0, 1), "{report:?}");
    let read_back: Vec<(String, &str, String)> = entries
        .iter()
        .map(|entry| {
            let amount = match entry.what {
                EntryKind::SensorReading { mg_dl } => format!("sensor {:.2}", mg_dl.mg_dl()),
                EntryKind::MeterCheck { mg_dl } => format!("meter {:.2}", mg_dl.mg_dl()),
                ref other => panic!("{other:?}"),
            };
            (entry.at.to_rfc3339(), entry.source.as_str(), amount)
        })
        .collect();
    let expected = [
        ("2024-05-02T10:15:00+00:00", "sensor", "sensor 120.00"),
        ("2024-05-02T12:20:00+02:00", "sensor", "sensor 99.09"),
        ("2024-05-02T10:15:00+00:00", "by hand", "meter 88.00"),
        ("2024-05-02T10:15:00+00:00", "meter 2", "meter 199.97"),
    ];
    assert_eq!(read_back, expected.map(|(when, source, amount)| (when.to_owned(), source, amount.to_owned())));
    assert_eq!(entries[0].recorded, now());
    // A resource alone is read like a bundle of one.
    let alone = foreign("99504-3", mass(120.0)).to_string();
    assert_eq!(read(alone.as_bytes(), &options()).unwrap().0, entries[..1]);
}

fn changed(pointer: &str, value: Value) -> Value {
    let mut resource = foreign("99504-3", mass(120.0));
    let (parent, key) = pointer.rsplit_once('/').unwrap();
    let parent = if parent.is_empty() { &mut resource } else { resource.pointer_mut(parent).unwrap() };
    parent[key] = value;
    resource
}

/// What a source changes or withdraws stays in a log until its wearer takes it back, and is said.
#[test]
fn what_its_source_changed_or_withdrew_is_said_where_the_log_holds_it() {
    let stated = |status: &str, amount: f64| {
        let mut resource = changed("/valueQuantity/value", json!(amount));
        resource["status"] = json!(status);
        bundle(&[resource])
    };
    let mut log = Log::in_memory(now()).unwrap();
    let english = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    let mut bring = |bytes: &[u8]| {
        let report = import(&mut log, bytes, "bundle.json", false).unwrap();
        let codes: Vec<FindingCode> = report
            .findings
            .iter()
            .map(|found| match found {
                Found::Resource(found) => found.code,
                other => panic!("{other:?}"),
            })
            .collect();
        (codes, [report.lines(english), report.finding_lines(9, english)].concat().join(" "), report.left_out)
    };
    // Never known here.
    assert_eq!(bring(&stated("entered-in-error", 110.0)).0, [FindingCode::NotFinal]);
    assert_eq!(bring(&stated("final", 110.0)).0, []);
    for amount in [60.0, 160.0] {
        let (codes, said, left_out) = bring(&stated("amended", amount));
        assert_eq!((codes, left_out), (vec![FindingCode::Amended], 0));
        assert!(said.contains("it was changed at its source") && !said.contains("left out"), "{said}");
        assert!(said.contains("Another amount for the same time than one in the log: 1 reading"), "{said}");
    }
    // The same once more changes nothing and contradicts nothing new.
    assert!(!bring(&stated("amended", 160.0)).1.contains("Another amount"));
    let (codes, said, left_out) = bring(&stated("entered-in-error", 160.0));
    assert_eq!((codes, left_out), (vec![FindingCode::Withdrawn], 1));
    assert!(said.contains("it was withdrawn at its source, and your log holds it"), "{said}");
    let own = import::import(
        &mut log,
        written(&everything()).0.as_slice(),
        "own.json",
        &import::Options::found(now(), GlucoseUnit::MgDl),
    );
    assert!(own.unwrap().findings.is_empty(), "corrections of our own are none of a source");
    // In one bundle.
    let mut log = Log::in_memory(now()).unwrap();
    let (first, mut second) = (changed("/status", json!("final")), changed("/status", json!("entered-in-error")));
    second["id"] = json!("again");
    let report = import(&mut log, &bundle(&[first, second]), "bundle.json", false).unwrap();
    assert!(report.finding_lines(9, english)[0].contains("withdrawn"), "{:?}", report.findings);
}

#[test]
fn what_cannot_be_taken_is_found_with_its_place_and_reason() {
    let dose = |value: Value, code: &str, status: &str| {
        json!({
            "resourceType": "MedicationAdministration", "status": status, "effectiveDateTime": "2024-05-02T10:15:00Z",
            "medicationCodeableConcept": { "coding": [{ "system": codes::ATC, "code": code }] },
            "dosage": { "dose": value },
        })
    };
    let units = json!({ "value": 4, "system": codes::UCUM, "code": "[iU]" });
    let own = |kind: &str, value: Value| {
        json!({
            "resourceType": "Observation", "status": "final", "effectiveDateTime": "2024-05-02T10:15:00Z",
            "code": { "coding": [{ "system": KINDS, "code": kind }] }, "valueCodeableConcept": value,
        })
    };
    let sleep = json!({
        "resourceType": "Observation", "status": "final", "code": { "coding": [{ "system": KINDS, "code": "sleep" }] },
        "effectivePeriod": { "start": "2024-05-02T10:15:00Z", "end": "2024-05-02T09:15:00Z" },
    });
    let with = |name: &str, value: Value| {
        let mut resource = foreign("99504-3", mass(120.0));
        resource[name] = value;
        resource
    };
    use FindingCode as F;
    for (resource, code, element) in [
        (changed("/status", json!("entered-in-error")), F::NotFinal, "status"),
        (changed("/status", json!("preliminary")), F::NotFinal, "status"),
        (changed("/effectiveDateTime", Value::Null), F::NoTime, "effective"),
        (changed("/effectiveDateTime", json!(5)), F::NoTime, "effectiveDateTime"),
        (changed("/effectiveDateTime", json!("secret")), F::NoTime, "effectiveDateTime"),
        (changed("/effectiveDateTime", json!("2024-05-02")), F::TimeNotExact, "effectiveDateTime"),
        (changed("/effectiveDateTime", json!("2024-05-02T10:15:00")), F::TimeNotExact, "effectiveDateTime"),
        (changed("/effectiveDateTime", json!("1999-05-02T10:15:00Z")), F::TimeOutsideYears, "effectiveDateTime"),
        (changed("/effectiveDateTime", json!("2026-03-10T12:15:00+01:00")), F::InFuture, "effectiveDateTime"),
        (changed("/valueQuantity", Value::Null), F::NoValue, "value"),
        (changed("/valueQuantity/value", json!("120")), F::NoValue, "value"),
        (changed("/valueQuantity/value", json!(5.5)), F::OutOfRange, "value"),
        (changed("/valueQuantity/value", json!(1e300)), F::OutOfRange, "value"),
        // 120 mg/dL is no limit of an instrument.
        (changed("/valueQuantity/comparator", json!("<")), F::OutOfRange, "value"),
        (changed("/valueQuantity/comparator", json!(">")), F::OutOfRange, "value"),
        (dose(json!({ "value": 4, "code": "[iU]", "comparator": "<" }), "A10AB05", "completed"), F::SaysLow, "value"),
        (dose(json!({ "value": 4, "code": "[iU]", "comparator": ">" }), "A10AB05", "completed"), F::SaysHigh, "value"),
        (changed("/valueQuantity/code", json!("g/L")), F::UnitUnknown, "value"),
        (changed("/valueQuantity/system", json!("http://example.org")), F::UnitUnknown, "value"),
        // 5.5 mmol/L under a code for mass: one of the two is wrong.
        (changed("/valueQuantity", moles(5.5)), F::UnitContradictsCode, "value"),
        (foreign("105272-9", mass(120.0)), F::UnitContradictsCode, "value"),
        (dose(units.clone(), "A10AB05", "in-progress"), F::NotFinal, "status"),
        (dose(units.clone(), "A10AD05", "completed"), F::InsulinUnknown, "medication"),
        (dose(units.clone(), "A10AC01", "completed"), F::InsulinUnknown, "medication"),
        (dose(json!({ "value": 4, "unit": "mL" }), "A10AB05", "completed"), F::UnitUnknown, "dosage"),
        (dose(json!({ "value": 400, "code": "[iU]" }), "A10AB05", "completed"), F::OutOfRange, "value"),
        (own("symptom", Value::Null), F::PartUnknown, "value"),
        (own("of-a-version-to-come", Value::Null), F::PartUnknown, "code"),
        (own("carbohydrate", Value::Null), F::PartUnknown, "component"),
        (sleep, F::CannotBe, "value"),
        // What it says may be turned around by what is not known here.
        (
            with("modifierExtension", json!([{ "url": "http://example.org/not", "valueBoolean": true }])),
            F::ModifierUnknown,
            "modifierExtension",
        ),
        (
            with("component", json!([{ "modifierExtension": [{ "url": "http://example.org/not" }] }])),
            F::ModifierUnknown,
            "modifierExtension",
        ),
        (with("implicitRules", json!("http://example.org/rules")), F::ModifierUnknown, "implicitRules"),
    ] {
        let bytes = bundle(&[foreign("99504-3", mass(120.0)), resource.clone()]);
        let (entries, report) = read(&bytes, &options()).unwrap();
        assert_eq!((entries.len(), report.left_out), (1, 1), "{resource}");
        assert_eq!(report.findings, [Finding { entry: 2, element, code }], "{resource}");
        for language in [Language::ENGLISH, Language::GERMAN] {
            let said = finding_text(&report.findings[0], Words::new(language, GlucoseUnit::MgDl));
            assert!(said.contains(&format!(" 2, {element}: ")) && !said.contains("secret"), "{said}");
        }
    }
    // What may be insulin is not left out in silence; what an ATC code says to be something else is of another kind.
    let uncoded = |medication: Value, value: Value| {
        json!({
            "resourceType": "MedicationAdministration", "status": "completed", "effectiveDateTime": "2024-05-02T10:15:00Z",
            "medicationCodeableConcept": medication, "dosage": { "dose": value },
        })
    };
    let metformin = json!({ "coding": [{ "system": codes::ATC, "code": "A10BA02" }] });
    for (resource, left_out) in [
        (uncoded(json!({ "text": "Insulin lispro" }), json!({ "value": 4 })), 1),
        (uncoded(json!({ "coding": [{ "system": "http://example.org", "code": "1" }] }), units.clone()), 1),
        (uncoded(json!({ "text": "a tablet" }), json!({ "value": 1, "unit": "tablet" })), 0),
        (uncoded(metformin, json!({ "value": 4, "unit": "U" })), 0),
    ] {
        let (entries, report) = read(&bundle(std::slice::from_ref(&resource)), &options()).unwrap();
        assert_eq!((entries.len(), report.left_out, report.others), (0, left_out, 1 - left_out), "{resource}");
        assert_eq!(report.counts.get(&F::InsulinUncoded).copied().unwrap_or_default(), left_out, "{resource}");
    }
    // A laboratory's value is taken, and said to be one.
    let (entries, report) = read(&bundle(&[foreign("2345-7", mass(120.0))]), &options()).unwrap();
    assert_eq!((entries.len(), report.taken, report.left_out), (1, 1, 0));
    assert_eq!(report.findings, [Finding { entry: 1, element: "code", code: F::Laboratory }]);
    // A dose that is known is taken.
    let (entries, _) = read(&bundle(&[dose(units, "A10AB05", "completed")]), &options()).unwrap();
    assert!(
        matches!(entries[0].what, EntryKind::Insulin { insulin: InsulinKind::Rapid, units } if (units - 4.0).abs() < 1e-12)
    );
}

/// Which of two amounts of one name counts is not to be guessed, and what modifies a bundle's entry modifies what is in it.
#[test]
fn a_name_that_stands_twice_and_a_modified_entry_are_left_out() {
    let resource = foreign("99504-3", mass(120.0));
    let twice = resource.to_string().replacen("\"value\":120.0", "\"value\":45,\"value\":120.0", 1);
    assert!(twice.contains("45"), "{twice}");
    let entry = |resource: &str, more: &str| format!("{{{more}\"resource\":{resource}}}");
    let modified = entry(&resource.to_string(), "\"modifierExtension\":[{\"url\":\"http://example.org/not\"}],");
    let sound = entry(&resource.to_string(), "");
    let of = |entries: &[&str]| format!("{{\"resourceType\":\"Bundle\",\"entry\":[{}]}}", entries.join(","));
    for (entries, code) in [
        ([&*entry(&twice, ""), &*sound], FindingCode::NameTwice),
        ([&*modified, &*sound], FindingCode::ModifierUnknown),
    ] {
        let (taken, report) = read(of(&entries).as_bytes(), &options()).unwrap();
        assert_eq!((taken.len(), report.left_out), (1, 1), "{entries:?}");
        assert_eq!((report.findings[0].entry, report.findings[0].code), (1, code));
    }
    // Alone, without a bundle around it; and a bundle of which a part stands twice.
    let (taken, report) = read(twice.as_bytes(), &options()).unwrap();
    assert_eq!((taken.len(), report.findings[0].code), (0, FindingCode::NameTwice));
    let doubled = of(&[&sound]).replacen("\"entry\"", "\"entry\":[],\"entry\"", 1);
    assert!(read(doubled.as_bytes(), &options()).is_err());
}

#[test]
fn files_that_are_no_bundle_are_refused_with_their_line_and_nothing_of_them() {
    for (given, line) in [
        ("", 1),
        ("{\n\"resourceType\": \"Bundle\",\n secret", 3),
        ("[1]", 1),
        ("\"secret\"", 1),
        (r#"{"resourceType":"Bundle","entry":"secret"}"#, 1),
        (&"[".repeat(100_000), 1),
    ] {
        match read(given.as_bytes(), &options()) {
            Err(error @ Error::Import { .. }) => {
                let said = Words::new(Language::ENGLISH, GlucoseUnit::MgDl).error(&error);
                assert!(said.starts_with(&format!("file.json:{line}: ")) || line == 1, "{said}");
                assert!(!said.contains("secret"), "{said}");
            }
            other => panic!("{given:.40}: {other:?}"),
        }
    }
    let (entries, report) = read(br#"{"resourceType":"Bundle"}"#, &options()).unwrap();
    assert!(entries.is_empty() && report == Report::default());
}

#[test]
fn glucose_of_several_people_is_refused_unless_one_is_named() {
    let mut other = foreign("99504-3", mass(250.0));
    other["subject"] = json!({ "reference": "Patient/y" });
    let bytes = bundle(&[foreign("99504-3", mass(120.0)), other]);
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    let refused = words.error(&read(&bytes, &options()).unwrap_err());
    assert!(refused.contains("2 people"), "{refused}");
    let named = |who: &str| read(&bytes, &Options { subject: Some(who.to_owned()), ..options() });
    let (entries, report) = named("Patient/y").unwrap();
    assert_eq!((entries.len(), report.subject.as_deref(), report.others), (1, Some("Patient/y"), 1));
    assert!(matches!(entries[0].what, EntryKind::SensorReading { mg_dl } if mg_dl == mg(250.0)));
    assert!(words.error(&named("Patient/z").unwrap_err()).contains("not in it"));
}

#[test]
fn entries_about_nobody_are_taken_only_where_nobody_is_named() {
    let nobodys = || {
        let mut nobodys = foreign("99504-3", mass(120.0));
        nobodys.as_object_mut().unwrap().remove("subject");
        nobodys
    };
    let asked = Options { subject: Some("Patient/x".to_owned()), ..options() };
    let (entries, report) = read(&bundle(&[nobodys(), nobodys()]), &asked).unwrap();
    assert_eq!((entries.len(), report.taken, report.subject), (2, 2, None));
    let (entries, report) = read(&bundle(&[nobodys(), foreign("99504-3", mass(250.0)), nobodys()]), &asked).unwrap();
    assert_eq!((entries.len(), report.taken, report.others), (1, 1, 2));
}

#[test]
fn a_bundle_that_turns_out_bad_at_its_end_leaves_nothing_and_its_own_entries_may_correct_each_other() {
    let mut log = Log::in_memory(now()).unwrap();
    let mut other = foreign("99504-3", mass(250.0));
    other["subject"] = json!({ "reference": "Patient/y" });
    let several = bundle(&[foreign("99504-3", mass(120.0)), other]);
    let mut torn = bundle(&[foreign("99504-3", mass(120.0))]);
    torn.pop();
    for bytes in [several, torn] {
        assert!(import(&mut log, &bytes, "week.json", false).is_err());
        assert_eq!(log.span().unwrap(), None, "not even the import's own entry");
    }
    let dose =
        Entry::new(now(), now(), Source::by_hand(), EntryKind::Insulin { insulin: InsulinKind::Rapid, units: 4.0 });
    let dose = dose.unwrap();
    let corrected =
        dose.corrected(now(), now(), EntryKind::Insulin { insulin: InsulinKind::Rapid, units: 4.5 }).unwrap();
    let (bytes, _) = written(&[dose.clone(), corrected.clone(), dose]);
    let outcome = import(&mut log, &bytes, "week.json", false).unwrap();
    assert_eq!((outcome.taken, outcome.left_out), (3, 0));
    assert_eq!(outcome.imported.unwrap().recorded.new, 2);
    assert_eq!(log.history(now(), now()).unwrap().doses.iter().map(|dose| dose.units).collect::<Vec<_>>(), [4.5]);
    // Once more, all of it is known.
    let again = import(&mut log, &bytes, "week.json", false).unwrap();
    assert_eq!((again.left_out, again.imported.unwrap().recorded.new), (0, 0));
}

#[test]
fn a_resource_cannot_claim_times_that_its_own_log_could_not_have_had() {
    let claim = |recorded: &str| {
        let mut resource = foreign("41653-7", mass(120.0));
        resource["issued"] = json!(recorded);
        read(&bundle(&[resource]), &options()).unwrap().0[0].recorded
    };
    assert_eq!(claim("2024-05-02T11:00:00Z"), at("2024-05-02T11:00:00Z"));
    assert_eq!(claim("2030-05-02T11:00:00Z"), now(), "ahead of the clock");
    assert_eq!(claim("2023-05-02T11:00:00Z"), now(), "before it was measured");
    assert_eq!(claim("yesterday"), now());
}

/// A bundle made to hurt: identities of entries that are there with other amounts, and a chain that replaces them.
#[test]
fn a_forged_identity_does_not_change_what_is_in_the_log() {
    let mut log = Log::in_memory(now()).unwrap();
    let when = at("2026-03-01T10:00:00+01:00");
    let check = Entry::new(when, when, Source::by_hand(), EntryKind::MeterCheck { mg_dl: mg(58.0) }).unwrap();
    log.record(&check).unwrap();
    // One tie and one that claims to have been there earlier, with another amount, time, source or target.
    let forgeries = [
        Entry { what: EntryKind::MeterCheck { mg_dl: mg(180.0) }, ..check.clone() },
        Entry { at: when.plus_minutes(-90.0), recorded: when.plus_minutes(-80.0), ..check.clone() },
        Entry { source: Source::new("meter 2").unwrap(), ..check.clone() },
        Entry { replaces: Some(EntryId::fresh(now())), ..check.clone() },
    ];
    for forged in forgeries {
        let (bytes, _) = written(&[forged]);
        let outcome = import(&mut log, &bytes, "forged.json", false).unwrap();
        assert_eq!((outcome.imported, outcome.taken), (None, 0));
        let expected = Found::Resource(Finding { entry: 2, element: "id", code: FindingCode::OtherContent });
        assert_eq!(outcome.findings, [expected]);
        assert_eq!(log.get(check.id).unwrap().unwrap(), check);
    }
    // Nor does a file correct what the wearer said.
    let replacing = check.corrected(now(), when, EntryKind::MeterCheck { mg_dl: mg(180.0) }).unwrap();
    let (bytes, _) = written(&[replacing]);
    let outcome = import(&mut log, &bytes, "forged.json", false).unwrap();
    assert_eq!(
        outcome.findings,
        [Found::Resource(Finding { entry: 2, element: "id", code: FindingCode::CorrectsKnown })]
    );
    let checks = log.history(when, now()).unwrap().meter_checks;
    assert_eq!(checks.iter().map(|one| one.glucose).collect::<Vec<_>>(), [mg(58.0)]);
    // What is only looked at leaves nothing behind; what is imported is taken back as a whole.
    let (bytes, _) = written(&everything());
    let looked = import(&mut log, &bytes, "week.json", true).unwrap();
    assert_eq!((looked.imported, looked.taken), (None, everything().len() as u64));
    assert_eq!(log.history(when, now()).unwrap().meter_checks, checks);
    let outcome = import(&mut log, &bytes, "week.json", false).unwrap();
    assert!(log.history(when, now()).unwrap().meter_checks.len() > 1);
    log.retract(outcome.imported.unwrap().id, now()).unwrap();
    assert_eq!(log.history(when, now()).unwrap().meter_checks, checks);
}

fn reviewed(days: u16, group: ebbstead_core::review::metrics::Group) -> Review {
    let until = at("2026-03-08T00:00:00+01:00");
    let period = Period::days_before(until, days).unwrap();
    let amounts = [110.0, 120.0, 130.0, 190.0, 150.0, 260.0, 140.0, 66.0, 50.0, 170.0];
    let mut history = History::default();
    for k in 0..i32::from(days) * 288 {
        let glucose = mg(amounts[usize::try_from(k).unwrap() / 30 % amounts.len()]);
        history.readings.push(Reading::new(period.from().plus_minutes(5.0 * f64::from(k)), glucose));
    }
    Review::of(&history, &Wearer::default(), period, ReviewOptions { group, without_compression_lows: false })
}

#[test]
fn a_reviews_figures_are_the_summary_of_the_guide() {
    use ebbstead_core::review::metrics::Group;
    let review = reviewed(28, Group::Adult);
    let mut bytes = Vec::new();
    let mut bundle = Bundle::begin(&mut bytes, uuid::Uuid::from_u128(7), now()).unwrap();
    bundle.put_summary(ebbstead_core::exchange::fhir::summary(&review).as_ref()).unwrap();
    assert_eq!(bundle.finish().unwrap().figures, 8);
    let written: Value = serde_json::from_slice(&bytes).unwrap();
    let by_code = |code: &str| {
        let all = written["entry"].as_array().unwrap();
        all.iter().map(|one| &one["resource"]).find(|one| one["code"]["coding"][0]["code"] == code).unwrap().clone()
    };
    let summary = by_code("107931-8");
    assert_eq!(summary["hasMember"].as_array().unwrap().len(), 7);
    assert_eq!(summary["effectivePeriod"], json!({ "start": "2026-02-08", "end": "2026-03-07" }));
    let mean = by_code("97507-8")["valueQuantity"]["value"].as_f64().unwrap();
    let (gmi, moles) = (by_code("97506-0"), by_code("105273-7"));
    // Bergenstal et al. 2018: GMI = 3.31 + 0.02392 x mean; the molar mass of glucose is 180.156 g/mol.
    assert!((gmi["valueQuantity"]["value"].as_f64().unwrap() - (3.31 + 0.02392 * mean)).abs() < 0.06);
    assert!((moles["valueQuantity"]["value"].as_f64().unwrap() - mean / 18.0156).abs() < 0.01);
    assert_eq!(by_code("104636-6")["valueQuantity"]["code"], "d");
    let parts = by_code("106793-3")["component"].clone();
    let shares: Vec<f64> =
        parts.as_array().unwrap().iter().map(|part| part["valueQuantity"]["value"].as_f64().unwrap()).collect();
    assert!((shares.iter().sum::<f64>() - 100.0).abs() < 0.03 && shares.iter().all(|share| *share > 5.0), "{shares:?}");
    // Read again, figures are no entries.
    let (entries, report) = read(&bytes, &options()).unwrap();
    assert_eq!((entries.len(), report.others, report.left_out), (0, 9, 0));
    // Too few days, and ranges that the codes do not mean.
    for review in [reviewed(3, Group::Adult), reviewed(28, Group::Type1Pregnancy)] {
        let mut bundle = Bundle::begin(Vec::new(), uuid::Uuid::nil(), now()).unwrap();
        bundle.put_summary(ebbstead_core::exchange::fhir::summary(&review).as_ref()).unwrap();
        let carried = bundle.finish().unwrap();
        assert_eq!((carried.figures, carried.not_carried), (0, BTreeMap::from([(NotCarried::Summary, 1)])));
    }
}

#[test]
fn identities_that_are_none_are_refused() {
    let entries = everything();
    let (bytes, _) = written(&entries[..1]);
    let spoilt = String::from_utf8(bytes).unwrap().replace(&format!("\"id\":\"{}\"", entries[0].id), "\"id\":\"mine\"");
    let (read_back, report) = read(spoilt.as_bytes(), &options()).unwrap();
    assert!(read_back.is_empty());
    assert_eq!(report.findings, [Finding { entry: 2, element: "id", code: FindingCode::CannotBe }]);
    assert_ne!(entries[0].id, EntryId::fresh(now()));
}

#[test]
fn one_resource_does_not_swallow_memory() {
    // Hands out a bundle whose one resource never ends, and counts what was asked for.
    struct Endless(u64);
    impl std::io::Read for Endless {
        fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
            let begin = br#"{"resourceType":"Bundle","entry":[{"resource":{"resourceType":"Observation","note":[0"#;
            let read = if self.0 == 0 {
                buffer[..begin.len()].copy_from_slice(begin);
                begin.len()
            } else {
                buffer.iter_mut().enumerate().for_each(|(at, byte)| *byte = if at % 2 == 0 { b',' } else { b'0' });
                buffer.len() / 2 * 2
            };
            self.0 += read as u64;
            assert!(self.0 < 16 << 20, "it reads on and on");
            Ok(read)
        }
    }
    let refused = ebbstead_core::exchange::fhir::read(Endless(0), &Options::new("bundle.json", now())).unwrap_err();
    assert!(matches!(refused, Error::Import { .. }), "{refused}");
    let said = Words::new(Language::ENGLISH, GlucoseUnit::MgDl).error(&refused);
    assert!(said.contains("larger than 4 MB"), "{said}");
}
