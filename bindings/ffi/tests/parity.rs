//! The parity fixtures through the facade, in Rust. Kotlin, Swift and Python run the same files beside their bindings.
//!
//! `PARITY_WRITE=1` writes the answers anew; the verdict in each file is written by hand and checked either way.

#![allow(clippy::unwrap_used, clippy::panic)] // a test that cannot go on fails

use std::path::{Path, PathBuf};
use std::sync::Arc;

use ebbstead_ffi::{
    Answer, EbbsteadCompanion, EntryKind, GlucoseUnit, InsulinKind, Moment, Occasion, PromptState, PromptTap, Purpose,
    Question, ReadingAt, SensorEvent, Symptom, Wearer,
};
use serde::Deserialize;
use serde_json::{Map, Value};

#[derive(Deserialize)]
struct Fixture {
    begin_unix_ms: i64,
    offset_minutes: i32,
    every_minutes: i64,
    mg_dl: Vec<f64>,
    unit: String,
    language: String,
    insulin_factor_mg_dl_per_unit: Option<f64>,
    carbohydrate_factor_mg_dl_per_g: Option<f64>,
    notes: Vec<Note>,
    ask: Ask,
    answer: Option<String>,
    verdict: String,
}

#[derive(Deserialize)]
struct Note {
    minutes: i64,
    kind: String,
    amount: f64,
}

#[derive(Deserialize)]
struct Ask {
    after_minutes: i64,
    occasion: String,
    feels: Option<String>,
    meter_mg_dl: Option<f64>,
}

impl Fixture {
    fn at(&self, minutes: i64) -> Moment {
        Moment { unix_ms: self.begin_unix_ms + minutes * 60_000, offset_minutes: self.offset_minutes }
    }

    fn open(&self, folder: &Path) -> Arc<EbbsteadCompanion> {
        let now = self.at(self.ask.after_minutes);
        let path = folder.join("log.ebb");
        let companion = EbbsteadCompanion::open(path.to_str().unwrap(), "en", now).unwrap();
        let settings = companion.settings().unwrap();
        let wearer = Wearer {
            unit: if self.unit == "mmol_l" { GlucoseUnit::MmolL } else { GlucoseUnit::MgDl },
            language: if self.language == "german" { "de" } else { "en" }.to_owned(),
            insulin_factor_mg_dl_per_unit: self.insulin_factor_mg_dl_per_unit,
            carbohydrate_factor_mg_dl_per_g: self.carbohydrate_factor_mg_dl_per_g,
            ..settings.wearer().unwrap()
        };
        settings.set_wearer(wearer, now).unwrap();
        let log = companion.log().unwrap();
        let readings = (0..)
            .zip(&self.mg_dl)
            .map(|(n, &mg_dl)| ReadingAt { at: self.at(n * self.every_minutes), mg_dl })
            .collect();
        log.record_readings("sensor 7", readings, now).unwrap();
        for note in &self.notes {
            log.record(note.what(), self.at(note.minutes), now).unwrap();
        }
        companion
    }

    fn answer(&self, companion: &EbbsteadCompanion) -> Answer {
        let now = self.at(self.ask.after_minutes);
        let question = |wakes: bool| Question {
            now,
            occasion: if wakes { Occasion::Wake } else { Occasion::Look },
            feels: None,
            meter_mg_dl: None,
            meter_beyond: None,
        };
        let ask = |question| companion.check().unwrap().ask(question).unwrap();
        let feels = self.ask.feels.as_deref().map(|felt| match felt {
            "feels_low" => Symptom::FeelsLow,
            "severe" => Symptom::Severe,
            other => panic!("{other}"),
        });
        let tap = match self.answer.as_deref() {
            None => {
                return ask(Question {
                    feels,
                    meter_mg_dl: self.ask.meter_mg_dl,
                    ..question(self.ask.occasion == "wake")
                });
            }
            Some("treated") => PromptTap::Treated,
            Some("rolled_over") => PromptTap::RolledOver,
            Some(other) => panic!("{other}"),
        };
        companion.prompt_screens().unwrap().tapped(tap, PromptState::default(), now).unwrap();
        ask(question(true))
    }
}

impl Note {
    fn what(&self) -> EntryKind {
        match self.kind.as_str() {
            "meter" => EntryKind::MeterCheck { mg_dl: self.amount },
            "rapid" => EntryKind::Insulin { insulin: InsulinKind::Rapid, units: self.amount },
            "meal" => EntryKind::Carbohydrate { grams: self.amount, purpose: Purpose::Meal },
            "rescue" => EntryKind::Carbohydrate { grams: self.amount, purpose: Purpose::Rescue },
            "sensor_inserted" => {
                EntryKind::Sensor { event: SensorEvent::Inserted { site: None, lot: None, rated_days: None } }
            }
            other => panic!("{other}"),
        }
    }
}

/// Names in lower case without underscores: keys, and the values of enums without data. Sentences stay as they are.
fn plain_names(value: Value) -> Value {
    let plain = |name: &str| name.replace('_', "").to_lowercase();
    match value {
        Value::Object(fields) => Value::Object(
            fields.into_iter().map(|(name, value)| (plain(&name), plain_names(value))).collect::<Map<_, _>>(),
        ),
        Value::Array(all) => Value::Array(all.into_iter().map(plain_names).collect()),
        Value::String(text) if text.chars().all(char::is_alphanumeric) => Value::String(text.to_lowercase()),
        other => other,
    }
}

#[test]
fn every_fixture_is_answered_as_written() {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../tests/parity");
    let write = std::env::var_os("PARITY_WRITE").is_some();
    let mut files: Vec<PathBuf> = std::fs::read_dir(&folder).unwrap().map(|file| file.unwrap().path()).collect();
    files.retain(|path| path.extension().is_some_and(|end| end == "json"));
    files.sort();
    assert!(files.len() >= 12, "{} fixtures", files.len());
    let mut differ = Vec::new();
    let mut verdicts = std::collections::BTreeSet::new();
    for path in files {
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        let mut whole: Value = serde_json::from_str(&std::fs::read_to_string(&path).unwrap()).unwrap();
        let fixture: Fixture = serde_json::from_value(whole.clone()).unwrap();
        let place = tempfile::tempdir().unwrap();
        let answer = fixture.answer(&fixture.open(place.path()));
        let verdict = format!("{:?}", answer.prompt.verdict).to_lowercase();
        if verdict != fixture.verdict {
            differ.push(format!("{name}: {verdict}, not {}: {}", fixture.verdict, answer.said.sentence));
            continue;
        }
        verdicts.insert(verdict);
        let answered = plain_names(serde_json::to_value(&answer).unwrap());
        if write {
            whole["expected"] = answered;
            std::fs::write(&path, serde_json::to_string(&whole).unwrap() + "\n").unwrap();
        } else {
            assert_eq!(answered, whole["expected"], "{name}");
        }
    }
    assert!(differ.is_empty(), "{}", differ.join("\n"));
    assert_eq!(verdicts.into_iter().collect::<Vec<_>>(), ["check", "clear", "help", "hold", "treat"]);
}
