//! Resources to entries.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::io::{BufReader, Read};
use std::path::PathBuf;

use serde::de::{DeserializeSeed, Deserializer, MapAccess, SeqAccess, Visitor};
use serde_json::error::Category;
use serde_json::{Map, Value};
use uuid::Uuid;

use super::codes::{self, GlucoseCode};
use super::telling::fault_text;
use crate::error::{Error, Result};
use crate::log::{Entry, EntryId, InsulinKind, SensorEvent, Source, Text, What};
use crate::time::Moment;
use crate::units::{Glucose, GlucoseUnit};
use crate::wearer::Wearer;
use crate::words::Words;

/// Findings kept in the report; all of them are counted.
const KEPT_FINDINGS: usize = 100;

/// How to read a bundle.
#[derive(Clone, Debug)]
pub struct Options {
    /// The file's name, for messages.
    pub file: PathBuf,
    /// Language and unit of messages.
    pub words: Words,
    /// The caller's clock.
    pub now: Moment,
    /// The source of glucose whose resource names no device.
    pub source: Source,
    /// The person to take, where the bundle is about several: the subject's reference.
    pub subject: Option<String>,
}

impl Options {
    /// The usual: any subject, as long as there is one only.
    #[must_use]
    pub fn new(file: impl Into<PathBuf>, now: Moment) -> Self {
        let (words, source) = (Words::of(&Wearer::default()), Source::by_hand());
        Self { file: file.into(), words, now, source, subject: None }
    }

    fn stop(&self, line: u64, fault: &Fault) -> Error {
        Error::Import { file: self.file.clone(), line, column: None, why: fault_text(fault, self.words) }
    }
}

/// Why a file is refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// It is not JSON, or ends too soon.
    NotJson,
    /// It is JSON and no Bundle.
    NotABundle,
    /// It is about several people.
    SeveralPeople {
        /// How many.
        count: usize,
    },
    /// The person asked for is not in it.
    NoSuchPerson,
}

/// Something about one resource worth telling.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// Which of the bundle's entries, from 1.
    pub entry: usize,
    /// The element that is to blame.
    pub element: &'static str,
    /// What was found. The resource was left out.
    pub code: FindingCode,
}

/// Why a resource was left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FindingCode {
    /// It is not final: registered, preliminary, cancelled, entered in error.
    NotFinal,
    /// There is no time, or it is not written as FHIR writes times.
    NoTime,
    /// The time is not told to the minute with its offset from UTC.
    TimeNotExact,
    /// The time lies outside the years a log takes.
    TimeOutsideYears,
    /// The time lies ahead of the clock.
    InFuture,
    /// There is no value, or it is no number.
    NoValue,
    /// The value is "less than".
    SaysLow,
    /// The value is "more than".
    SaysHigh,
    /// The value is outside what the log takes.
    OutOfRange,
    /// The unit is not one that is known.
    UnitUnknown,
    /// The code asks for another unit than the value has.
    UnitContradictsCode,
    /// The insulin is neither rapid-acting nor long-acting.
    InsulinUnknown,
    /// One of our own kinds, and a part of it is missing or not known.
    PartUnknown,
    /// It cannot be as a whole: it ends before it begins, its identity is none.
    CannotBe,
    /// The log has an entry with this identity and another content.
    OtherContent,
    /// It would correct an entry of the log.
    CorrectsKnown,
}

/// What a bundle came to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Report {
    /// Entries taken.
    pub taken: u64,
    /// Resources left out; the findings say why.
    pub left_out: u64,
    /// Resources of other kinds.
    pub others: u64,
    /// How often each thing was found.
    pub counts: BTreeMap<FindingCode, u64>,
    /// The first hundred findings.
    pub findings: Vec<Finding>,
    /// The person the entries are about, as the bundle refers to them.
    pub subject: Option<String>,
    /// The earliest entry.
    pub first: Option<Moment>,
    /// The latest entry.
    pub last: Option<Moment>,
}

impl Report {
    pub(super) fn leave_out(&mut self, finding: Finding) {
        self.left_out += 1;
        *self.counts.entry(finding.code).or_insert(0) += 1;
        if self.findings.len() < KEPT_FINDINGS {
            self.findings.push(finding);
        }
    }
}

/// Reads a Bundle, or a single resource, to its end. Each entry comes with its place in the bundle, from 1. Nothing is written
/// anywhere; [`super::import()`] records what it reads.
///
/// # Errors
/// [`Error::Import`] where it is no JSON, no Bundle, or about several people; [`Error::File`] where it cannot be read.
pub fn read(input: impl Read, options: &Options) -> Result<(Vec<(usize, Entry)>, Report)> {
    let mut report = Report::default();
    let mut taken: Vec<(Option<String>, (usize, Entry))> = Vec::new();
    let mut see = |place: usize, resource: &Value| match understand(resource, options) {
        Ok(None) => report.others += 1,
        Ok(Some(entry)) => taken.push((subject(resource), (place, entry))),
        Err(Left { element, code }) => report.leave_out(Finding { entry: place, element, code }),
    };
    let mut json = serde_json::Deserializer::from_reader(BufReader::new(input));
    let top =
        Resources(&mut see).deserialize(&mut json).and_then(|top| json.end().map(|()| top)).map_err(
            |error| match error.classify() {
                Category::Io => Error::File { path: options.file.clone(), source: error.into() },
                Category::Syntax | Category::Eof => options.stop(error.line() as u64, &Fault::NotJson),
                Category::Data => options.stop(error.line() as u64, &Fault::NotABundle),
            },
        )?;
    match (top["resourceType"].as_str(), top["entry"].is_null()) {
        (Some("Bundle"), _) => {}
        // A resource alone.
        (Some(_), true) => see(1, &top),
        _ => return Err(options.stop(1, &Fault::NotABundle)),
    }
    let people: BTreeSet<&str> = taken.iter().filter_map(|(subject, _)| subject.as_deref()).collect();
    report.subject = match (&options.subject, people.len()) {
        (Some(asked), _) if people.contains(asked.as_str()) => Some(asked.clone()),
        (Some(_), 0) | (None, 0) => None,
        (None, 1) => people.first().map(|&one| one.to_owned()),
        (Some(_), _) => return Err(options.stop(1, &Fault::NoSuchPerson)),
        (None, count) => return Err(options.stop(1, &Fault::SeveralPeople { count })),
    };
    let wanted = |about: &Option<String>| options.subject.is_none() || *about == report.subject;
    let (kept, others): (Vec<_>, Vec<_>) = taken.into_iter().partition(|(about, _)| wanted(about));
    report.others += others.len() as u64;
    let entries: Vec<(usize, Entry)> = kept.into_iter().map(|(_, entry)| entry).collect();
    report.taken = entries.len() as u64;
    report.first = entries.iter().map(|(_, entry)| entry.at).min();
    report.last = entries.iter().map(|(_, entry)| entry.at).max();
    Ok((entries, report))
}

/// A bundle read resource by resource: only one of them is held at a time, since a bundle of years has hundreds of megabytes.
///
/// What it gives back is the rest of the bundle; in it `entry` is `true` where there were entries.
struct Resources<'a, F>(&'a mut F);

impl<'de, F: FnMut(usize, &Value)> DeserializeSeed<'de> for Resources<'_, F> {
    type Value = Value;
    fn deserialize<D: Deserializer<'de>>(self, json: D) -> std::result::Result<Value, D::Error> {
        json.deserialize_map(self)
    }
}

impl<'de, F: FnMut(usize, &Value)> Visitor<'de> for Resources<'_, F> {
    type Value = Value;
    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a resource")
    }
    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> std::result::Result<Value, A::Error> {
        let mut rest = Map::new();
        while let Some(key) = map.next_key::<String>()? {
            let value = if key == "entry" {
                map.next_value_seed(Entries(self.0))?;
                Value::Bool(true)
            } else {
                map.next_value()?
            };
            rest.insert(key, value);
        }
        Ok(Value::Object(rest))
    }
}

/// The entries of a bundle.
struct Entries<'a, F>(&'a mut F);

impl<'de, F: FnMut(usize, &Value)> DeserializeSeed<'de> for Entries<'_, F> {
    type Value = ();
    fn deserialize<D: Deserializer<'de>>(self, json: D) -> std::result::Result<(), D::Error> {
        json.deserialize_seq(self)
    }
}

impl<'de, F: FnMut(usize, &Value)> Visitor<'de> for Entries<'_, F> {
    type Value = ();
    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("entries")
    }
    fn visit_seq<A: SeqAccess<'de>>(self, mut entries: A) -> std::result::Result<(), A::Error> {
        let mut place = 0;
        while let Some(entry) = entries.next_element::<Value>()? {
            place += 1;
            (self.0)(place, &entry["resource"]);
        }
        Ok(())
    }
}

/// Why a resource is left out, and the element to blame.
struct Left {
    element: &'static str,
    code: FindingCode,
}

const fn left<T>(element: &'static str, code: FindingCode) -> std::result::Result<T, Left> {
    Err(Left { element, code })
}

type Understood<T> = std::result::Result<T, Left>;

fn text<'a>(resource: &'a Value, pointer: &str) -> Option<&'a str> {
    resource.pointer(pointer).and_then(Value::as_str)
}

/// Whom a resource is about.
fn subject(resource: &Value) -> Option<String> {
    let named = ["/subject/reference", "/subject/identifier/value", "/subject/display"];
    named.into_iter().find_map(|pointer| text(resource, pointer)).map(str::to_owned)
}

/// The codes of a concept in one system.
fn codes_in<'a>(concept: &'a Value, system: &'a str) -> impl Iterator<Item = &'a str> {
    let codings = concept["coding"].as_array().map(Vec::as_slice).unwrap_or_default();
    codings.iter().filter(move |coding| coding["system"] == system).filter_map(|coding| coding["code"].as_str())
}

/// The entry a resource stands for; nothing for a kind that is not looked for.
fn understand(resource: &Value, options: &Options) -> Understood<Option<Entry>> {
    match resource["resourceType"].as_str() {
        Some("Observation") => {}
        Some("MedicationAdministration") => return insulin(resource, options),
        _ => return Ok(None),
    }
    let code = &resource["code"];
    let glucose =
        codes_in(code, codes::LOINC).find_map(|found| codes::GLUCOSE.iter().find(|known| known.code == found)).copied();
    let own = codes_in(code, codes::KINDS).next();
    if glucose.is_none() && own.is_none() {
        return Ok(None);
    }
    if !matches!(resource["status"].as_str(), Some("final" | "amended" | "corrected")) {
        return left("status", FindingCode::NotFinal);
    }
    match (glucose, own) {
        (Some(code), _) => {
            let at = moment(resource, options)?;
            let what = measured(resource, code)?;
            entry(resource, at, what, options).map(Some)
        }
        (None, Some(kind)) => own_kind(resource, kind, options),
        (None, None) => Ok(None),
    }
}

/// The time a resource is about.
fn moment(resource: &Value, options: &Options) -> Understood<Moment> {
    let found = ["effectiveDateTime", "effectiveInstant"].into_iter().find(|name| !resource[*name].is_null());
    let Some(name) = found else { return left("effective", FindingCode::NoTime) };
    exact(&resource[name], name, options)
}

fn exact(value: &Value, element: &'static str, options: &Options) -> Understood<Moment> {
    let Some(text) = value.as_str() else { return left(element, FindingCode::NoTime) };
    let Ok(time) = chrono::DateTime::parse_from_rfc3339(text) else {
        // A date alone, or a local time, says too little; anything else is no time.
        let dated = text.get(..4).is_some_and(|year| year.bytes().all(|b| b.is_ascii_digit()));
        return left(element, if dated { FindingCode::TimeNotExact } else { FindingCode::NoTime });
    };
    match Moment::from_datetime(&time) {
        Err(_) => left(element, FindingCode::TimeOutsideYears),
        Ok(at) if ahead(at, options.now) => left(element, FindingCode::InFuture),
        Ok(at) => Ok(at),
    }
}

const fn ahead(at: Moment, now: Moment) -> bool {
    at.unix_ms() > now.unix_ms().saturating_add(Entry::AHEAD_OF_CLOCK_MS)
}

/// The number and the unit of a quantity. The unit's code counts; where there is none, the unit as people read it.
fn quantity(quantity: &Value) -> Understood<(f64, &str)> {
    let element = "value";
    match quantity["comparator"].as_str() {
        Some("<" | "<=") => return left(element, FindingCode::SaysLow),
        Some(">" | ">=") => return left(element, FindingCode::SaysHigh),
        _ => {}
    }
    let Some(number) = quantity["value"].as_f64().filter(|number| number.is_finite()) else {
        return left(element, FindingCode::NoValue);
    };
    if !quantity["system"].is_null() && quantity["system"] != codes::UCUM {
        return left(element, FindingCode::UnitUnknown);
    }
    let unit = quantity["code"].as_str().or_else(|| quantity["unit"].as_str());
    unit.map_or_else(|| left(element, FindingCode::UnitUnknown), |unit| Ok((number, unit)))
}

fn measured(resource: &Value, code: GlucoseCode) -> Understood<What> {
    let (number, unit) = quantity(&resource["valueQuantity"])?;
    let unit = match unit {
        "mg/dL" | "mg/dl" => GlucoseUnit::MgDl,
        "mmol/L" | "mmol/l" => GlucoseUnit::MmolL,
        _ => return left("value", FindingCode::UnitUnknown),
    };
    if unit != code.unit {
        return left("value", FindingCode::UnitContradictsCode);
    }
    let Ok(mg_dl) = Glucose::new(number, unit) else { return left("value", FindingCode::OutOfRange) };
    Ok(if code.interstitial { What::SensorReading { mg_dl } } else { What::MeterCheck { mg_dl } })
}

fn insulin(resource: &Value, options: &Options) -> Understood<Option<Entry>> {
    let medication = &resource["medicationCodeableConcept"];
    let known =
        |found: &str| codes::INSULINS.iter().find(|(_, code, _)| found.starts_with(code)).map(|(kind, ..)| *kind);
    let kinds: BTreeSet<bool> =
        codes_in(medication, codes::ATC).filter_map(known).map(|kind| kind == InsulinKind::Rapid).collect();
    let any_insulin = codes_in(medication, codes::ATC).any(|code| code.starts_with("A10A"));
    let kind = match (kinds.first(), kinds.len()) {
        (Some(true), 1) => InsulinKind::Rapid,
        (Some(false), 1) => InsulinKind::LongActing,
        // Mixed, intermediate or both: how it acts is not known here.
        _ if any_insulin => return left("medication", FindingCode::InsulinUnknown),
        _ => return Ok(None),
    };
    if resource["status"] != "completed" {
        return left("status", FindingCode::NotFinal);
    }
    let at = moment(resource, options)?;
    let units = match quantity(&resource["dosage"]["dose"])? {
        (units, "[iU]" | "[IU]" | "U") => units,
        _ => return left("dosage", FindingCode::UnitUnknown),
    };
    entry(resource, at, What::Insulin { insulin: kind, units }, options).map(Some)
}

/// The part of an Observation that has one of our own codes.
fn component<'a>(resource: &'a Value, code: &str) -> &'a Value {
    let parts = resource["component"].as_array().map(Vec::as_slice).unwrap_or_default();
    parts.iter().find(|part| codes_in(&part["code"], codes::KINDS).any(|one| one == code)).unwrap_or(&Value::Null)
}

fn own_code(concept: &Value) -> Option<&str> {
    codes_in(concept, codes::KINDS).next()
}

fn own_kind(resource: &Value, kind: &str, options: &Options) -> Understood<Option<Entry>> {
    let unknown = |element: &'static str| Left { element, code: FindingCode::PartUnknown };
    let part = |code: &str| own_code(&component(resource, code)["valueCodeableConcept"]);
    let said = |code: &str| text(component(resource, code), "/valueString").and_then(|text| Text::new(text).ok());
    let amount = |expected: &str| match quantity(&resource["valueQuantity"])? {
        (amount, unit) if unit == expected => Ok(amount),
        _ => left("value", FindingCode::UnitUnknown),
    };
    let period = |end: &'static str| exact(&resource["effectivePeriod"][end], "effectivePeriod", options);
    let value = || own_code(&resource["valueCodeableConcept"]).ok_or_else(|| unknown("value"));
    let (at, what) = match kind {
        "carbohydrate" => {
            let purpose = part(codes::PURPOSE.0).and_then(|code| codes::meaning(&codes::PURPOSES, code));
            let purpose = purpose.ok_or_else(|| unknown("component"))?;
            (moment(resource, options)?, What::Carbohydrate { grams: amount("g")?, purpose })
        }
        "activity" => {
            let effort = part(codes::EFFORT.0).and_then(|code| codes::meaning(&codes::EFFORTS, code));
            let effort = effort.ok_or_else(|| unknown("component"))?;
            let activity = said(codes::NAME.0).ok_or_else(|| unknown("component"))?;
            (moment(resource, options)?, What::Activity { activity, minutes: amount("min")?, effort })
        }
        "sleep" => (period("start")?, What::Sleep { until: period("end")? }),
        "pressed-spell" => (period("start")?, What::PressedSpell { until: period("end")? }),
        "sensor-event" => {
            let event = match value()? {
                "inserted" => SensorEvent::Inserted {
                    site: said(codes::SITE.0),
                    lot: said(codes::LOT.0),
                    rated_days: said(codes::RATED.0).and_then(|days| days.as_str().parse().ok()),
                },
                "warm-up-over" => SensorEvent::WarmUpOver,
                "rolled-off" => SensorEvent::RolledOff,
                "ended" => SensorEvent::Ended,
                "fault" => SensorEvent::Fault { seen: said(codes::SEEN.0).ok_or_else(|| unknown("component"))? },
                _ => return Err(unknown("value")),
            };
            (moment(resource, options)?, What::Sensor(event))
        }
        "symptom" => {
            let felt = codes::meaning(&codes::SYMPTOMS, value()?).ok_or_else(|| unknown("value"))?;
            (moment(resource, options)?, What::Symptom { felt })
        }
        "note" => {
            let text = text(resource, "/valueString").and_then(|text| Text::new(text).ok());
            (moment(resource, options)?, What::Note { text: text.ok_or_else(|| unknown("value"))? })
        }
        "supply" | "prompted" => {
            let what = text(resource, "/valueString").and_then(|text| serde_json::from_str(text).ok());
            let kept = what.filter(|what| matches!(what, What::Supply(_) | What::Prompted(_)));
            (moment(resource, options)?, kept.ok_or_else(|| unknown("value"))?)
        }
        // A kind of a version to come.
        _ => return Err(unknown("code")),
    };
    entry(resource, at, what, options).map(Some)
}

/// The part of our own extension.
fn own<'a>(resource: &'a Value, name: &str) -> Option<&'a Value> {
    let extensions = resource["extension"].as_array()?;
    let ours = extensions.iter().find(|one| one["url"] == codes::ENTRY)?["extension"].as_array()?;
    ours.iter().find(|part| part["url"] == name)
}

/// Makes the entry, with the identity that its own log gave it where the resource tells one.
fn entry(resource: &Value, at: Moment, what: What, options: &Options) -> Understood<Entry> {
    let cannot_be = |element| Left { element, code: FindingCode::CannotBe };
    let source = own(resource, "source")
        .and_then(|part| text(part, "/valueString"))
        .or_else(|| text(resource, "/device/display"))
        .and_then(|name| Source::new(name).ok())
        .unwrap_or_else(|| options.source.clone());
    // When it was recorded is taken on trust only as far as it can be true.
    let told =
        own(resource, "recorded").and_then(|part| text(part, "/valueInstant")).or_else(|| text(resource, "/issued"));
    let recorded = told
        .and_then(|text| Moment::parse(text).ok())
        .filter(|recorded| !ahead(*recorded, options.now) && !ahead(at, *recorded))
        .unwrap_or(options.now);
    let uuid = |text: &str| Uuid::try_parse(text.strip_prefix("urn:uuid:").unwrap_or(text)).ok().map(EntryId);
    let replaces = match own(resource, "replaces") {
        None => None,
        Some(part) => Some(text(part, "/valueUri").and_then(uuid).ok_or_else(|| cannot_be("extension"))?),
    };
    let mut entry = Entry::received(at, recorded, source, what).map_err(|error| match error {
        Error::OutOfRange { .. } => Left { element: "value", code: FindingCode::OutOfRange },
        _ => cannot_be("value"),
    })?;
    let reading = matches!(entry.what, What::SensorReading { .. });
    if own(resource, "source").is_some() && (!reading || replaces.is_some()) {
        entry.id = text(resource, "/id").and_then(uuid).ok_or_else(|| cannot_be("id"))?;
        entry.replaces = replaces;
        entry.check().map_err(|_| cannot_be("value"))?;
    }
    Ok(entry)
}
