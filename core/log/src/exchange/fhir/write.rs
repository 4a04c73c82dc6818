//! Entries to resources.

use std::collections::BTreeMap;
use std::io::{self, Write};

use serde_json::{Map, Value, json};
use uuid::Uuid;

use super::codes::{self, GlucoseCode, Named};
use crate::log::{Beyond, Entry, EntryId, EntryKind, InsulinKind, SensorEvent};
use crate::time::Moment;
use crate::units::Glucose;

/// Something that a bundle cannot carry.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NotCarried {
    /// That a file was imported; its readings are carried.
    Import,
    /// That something was taken back; what was taken back is not carried either.
    Retraction,
    /// The review's figures: there are too few readings for one of them, or its ranges are others than the profile's.
    Summary,
}

/// What a bundle came to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Carried {
    /// Entries carried.
    pub entries: u64,
    /// Resources with review figures.
    pub figures: u64,
    /// What could not be carried, and how often.
    pub not_carried: BTreeMap<NotCarried, u64>,
}

/// A bundle as it is written.
#[derive(Debug)]
pub struct Bundle<W> {
    out: W,
    pub(super) subject: Value,
    pub(super) now: Moment,
    pub(super) carried: Carried,
}

impl<W: Write> Bundle<W> {
    /// Begins a bundle with its one Patient, who has no name: `person` is a number that stands for the wearer, the log's own as a rule.
    ///
    /// # Errors
    /// What `out` fails with.
    pub fn begin(mut out: W, person: Uuid, now: Moment) -> io::Result<Self> {
        let urn = urn(person);
        write!(out, r#"{{"resourceType":"Bundle","type":"collection","timestamp":"{now}","entry":["#)?;
        let patient = json!({ "resourceType": "Patient", "id": person.to_string() });
        write!(out, "\n{}", json!({ "fullUrl": urn, "resource": patient }))?;
        Ok(Self { out, subject: json!({ "reference": urn }), now, carried: Carried::default() })
    }

    /// Adds an entry. Give it what holds ([`crate::store::Log::current`]): a bundle has no way to say that an entry was corrected
    /// by another one that is in it too.
    ///
    /// # Errors
    /// What the output fails with.
    pub fn put(&mut self, entry: &Entry) -> io::Result<()> {
        match self.resource(entry) {
            Ok(resource) => {
                self.carried.entries += 1;
                self.add(entry.id, &resource)
            }
            Err(why) => {
                self.leave_out(why);
                Ok(())
            }
        }
    }

    pub(super) fn leave_out(&mut self, why: NotCarried) {
        *self.carried.not_carried.entry(why).or_insert(0) += 1;
    }

    pub(super) fn add(&mut self, id: EntryId, resource: &Value) -> io::Result<()> {
        write!(self.out, ",\n{}", json!({ "fullUrl": urn(id.0), "resource": resource }))
    }

    /// Ends the bundle.
    ///
    /// # Errors
    /// What the output fails with.
    pub fn finish(mut self) -> io::Result<Carried> {
        writeln!(self.out, "\n]}}")?;
        self.out.flush()?;
        Ok(self.carried)
    }

    fn resource(&self, entry: &Entry) -> Result<Value, NotCarried> {
        let own = |kind: Named| self.own(entry, kind);
        let value = |mut resource: Value, key: &str, value: Value| {
            resource[key] = value;
            resource
        };
        Ok(match &entry.what {
            EntryKind::SensorReading { mg_dl } | EntryKind::SensorBeyond { mg_dl, .. } => {
                let mut resource = self.glucose(entry, codes::SENSOR, *mg_dl);
                resource["meta"] = profile("cgm-sensor-reading-mass-per-volume");
                resource["device"] = json!({ "display": entry.source.as_str() });
                // A reading's identity follows from what it is; a correction's does not.
                if entry.replaces.is_some() {
                    resource["extension"] = extension(entry);
                }
                resource
            }
            EntryKind::MeterCheck { mg_dl } | EntryKind::MeterBeyond { mg_dl, .. } => {
                value(self.glucose(entry, codes::METER, *mg_dl), "extension", extension(entry))
            }
            EntryKind::Insulin { insulin, units } => self.insulin(entry, *insulin, *units),
            EntryKind::Carbohydrate { grams, purpose } => {
                let purpose = coded(codes::PURPOSE, codes::named(&codes::PURPOSES, purpose));
                let resource = value(own(codes::CARBOHYDRATE), "valueQuantity", quantity(*grams, "g", "g"));
                value(resource, "component", json!([purpose]))
            }
            EntryKind::Alcohol { drinks } => {
                value(own(codes::ALCOHOL), "valueQuantity", quantity(*drinks, "drink", "{drink}"))
            }
            EntryKind::Ketones { mmol_l } => {
                let code = concept(codes::LOINC, codes::KETONES);
                let resource = self.observation(entry, code, "laboratory");
                value(
                    value(resource, "valueQuantity", quantity(*mmol_l, "mmol/L", "mmol/L")),
                    "extension",
                    extension(entry),
                )
            }
            EntryKind::Illness { illness } => {
                let code = concept(codes::KINDS, codes::named(&codes::ILLNESSES, illness));
                value(own(codes::ILLNESS), "valueCodeableConcept", code)
            }
            EntryKind::Activity { activity, minutes, effort } => {
                let effort = coded(codes::EFFORT, codes::named(&codes::EFFORTS, effort));
                let resource = value(own(codes::ACTIVITY), "valueQuantity", quantity(*minutes, "min", "min"));
                value(resource, "component", json!([effort, said(codes::NAME, activity.as_str())]))
            }
            EntryKind::Sleep { until } => spanning(own(codes::SLEEP), entry.at, *until),
            EntryKind::CompressionLow { until } => spanning(own(codes::COMPRESSION), entry.at, *until),
            EntryKind::Sensor(event) => {
                let code = concept(codes::KINDS, codes::sensor_event(event));
                let resource = value(own(codes::SENSOR_EVENT), "valueCodeableConcept", code);
                match event {
                    SensorEvent::Inserted { site, lot, rated_days } => {
                        let mut parts = Vec::new();
                        parts.extend(site.as_ref().map(|site| said(codes::SITE, site.as_str())));
                        parts.extend(lot.as_ref().map(|lot| said(codes::LOT, lot.as_str())));
                        parts.extend(rated_days.map(|days| said(codes::RATED, &days.to_string())));
                        if parts.is_empty() { resource } else { value(resource, "component", json!(parts)) }
                    }
                    SensorEvent::Fault { seen } => {
                        value(resource, "component", json!([said(codes::SEEN, seen.as_str())]))
                    }
                    SensorEvent::DeviceFault { code } => {
                        let reported = coded(codes::REPORTED, codes::named(&codes::DEVICE_FAULTS, code));
                        value(resource, "component", json!([reported]))
                    }
                    SensorEvent::WarmUpOver | SensorEvent::RolledOff | SensorEvent::Ended => resource,
                }
            }
            EntryKind::Symptom { felt } => {
                let code = concept(codes::KINDS, codes::named(&codes::SYMPTOMS, felt));
                value(own(codes::SYMPTOM), "valueCodeableConcept", code)
            }
            EntryKind::Note { text } => value(own(codes::NOTE), "valueString", json!(text.as_str())),
            // No resource of R4 says these as they are meant.
            EntryKind::Supply(_) => value(own(codes::SUPPLY), "valueString", json!(entry.what.canonical())),
            EntryKind::Prompted(_) => value(own(codes::PROMPTED), "valueString", json!(entry.what.canonical())),
            EntryKind::Import { .. } => return Err(NotCarried::Import),
            EntryKind::Retraction => return Err(NotCarried::Retraction),
        })
    }

    fn glucose(&self, entry: &Entry, code: GlucoseCode, mg_dl: Glucose) -> Value {
        let mut resource = self.observation(entry, concept(codes::LOINC, (code.code, code.name)), "laboratory");
        // The guide writes the unit for people with a small l, the code as UCUM has it.
        resource["valueQuantity"] = quantity(mg_dl.mg_dl(), "mg/dl", "mg/dL");
        if let Some(comparator) = comparator(&entry.what) {
            resource["valueQuantity"]["comparator"] = json!(comparator);
        }
        resource
    }

    /// An Observation of one of our own kinds.
    fn own(&self, entry: &Entry, kind: Named) -> Value {
        let mut resource = self.observation(entry, concept(codes::KINDS, kind), "survey");
        resource["extension"] = extension(entry);
        resource
    }

    fn observation(&self, entry: &Entry, code: Value, category: &str) -> Value {
        // "corrected" is R4's word for what was changed to put an error right.
        let status = if entry.replaces.is_some() { "corrected" } else { "final" };
        json!({
            "resourceType": "Observation",
            "id": entry.id.to_string(),
            "status": status,
            "category": [{ "coding": [{ "system": codes::CATEGORY, "code": category }] }],
            "code": code,
            "subject": self.subject,
            "effectiveDateTime": entry.at.to_rfc3339(),
            "issued": entry.recorded.to_rfc3339(),
        })
    }

    fn insulin(&self, entry: &Entry, kind: InsulinKind, units: f64) -> Value {
        let known = codes::INSULINS.iter().find(|(one, ..)| *one == kind);
        let (code, name) = known.map_or(("A10A", "Insulins and analogues"), |(_, code, name)| (*code, *name));
        json!({
            "resourceType": "MedicationAdministration",
            "id": entry.id.to_string(),
            "extension": extension(entry),
            "status": "completed",
            "medicationCodeableConcept": concept(codes::ATC, (code, name)),
            "subject": self.subject,
            "effectiveDateTime": entry.at.to_rfc3339(),
            "dosage": { "dose": quantity(units, "U", "[iU]") },
        })
    }
}

fn urn(id: Uuid) -> String {
    format!("urn:uuid:{id}")
}

pub(super) fn profile(name: &str) -> Value {
    json!({ "profile": [format!("{}{name}", codes::CGM_PROFILES)] })
}

pub(super) fn concept(system: &str, (code, name): Named) -> Value {
    json!({ "coding": [{ "system": system, "code": code, "display": name }] })
}

/// A decimal as short as it can be: FHIR reads digits behind the point as a claim of precision.
#[allow(clippy::float_cmp)] // whole and small
fn decimal(number: f64) -> Value {
    if number.fract() == 0.0 && number.abs() < 1e9 { json!(number as i64) } else { json!(number) }
}

pub(super) fn quantity(amount: f64, unit: &str, code: &str) -> Value {
    json!({ "value": decimal(amount), "unit": unit, "system": codes::UCUM, "code": code })
}

/// How what was too low or too high to measure lies to its limit, as FHIR's Quantity says it (R4, value set
/// `quantity-comparator`).
const fn comparator(what: &EntryKind) -> Option<&'static str> {
    match what {
        EntryKind::SensorBeyond { beyond, .. } | EntryKind::MeterBeyond { beyond, .. } => Some(match beyond {
            Beyond::Below => "<",
            Beyond::Above => ">",
        }),
        _ => None,
    }
}

fn coded(what: Named, value: Named) -> Value {
    json!({ "code": concept(codes::KINDS, what), "valueCodeableConcept": concept(codes::KINDS, value) })
}

fn said(what: Named, text: &str) -> Value {
    json!({ "code": concept(codes::KINDS, what), "valueString": text })
}

fn spanning(mut resource: Value, from: Moment, until: Moment) -> Value {
    if let Some(fields) = resource.as_object_mut() {
        fields.remove("effectiveDateTime");
    }
    resource["effectivePeriod"] = json!({ "start": from.to_rfc3339(), "end": until.to_rfc3339() });
    resource
}

/// What no element of a resource has a place for.
fn extension(entry: &Entry) -> Value {
    let part = |name: &str, kind: &str, value: String| {
        Value::Object(Map::from_iter([("url".to_owned(), json!(name)), (kind.to_owned(), json!(value))]))
    };
    let mut parts = vec![
        part("source", "valueString", entry.source.as_str().to_owned()),
        part("recorded", "valueInstant", entry.recorded.to_rfc3339()),
    ];
    parts.extend(entry.replaces.map(|replaced| part("replaces", "valueUri", urn(replaced.0))));
    json!([{ "url": codes::ENTRY, "extension": parts }])
}
