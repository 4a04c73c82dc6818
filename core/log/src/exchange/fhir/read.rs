//! Resources to entries.

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::io::{self, BufReader, Read};
use std::path::PathBuf;

use serde::de::{DeserializeSeed, Deserializer, MapAccess, SeqAccess, Visitor};
use serde_json::error::Category;
use serde_json::{Map, Value};
use uuid::Uuid;

use super::codes::{self, GlucoseCode};
use crate::error::{Error, Refusal, Result};
use crate::log::{Beyond, Entry, EntryId, EntryKind, SensorEvent, Shown, Source, Text};
use crate::time::Moment;
use crate::units::{Glucose, GlucoseUnit};

/// Findings kept in the report; all of them are counted.
const KEPT_FINDINGS: usize = 100;

/// The largest resource read, in bytes: one is held as a whole, and takes about 15 times as much memory at worst. Documents that a
/// clinic attaches fit in.
const LARGEST_RESOURCE: u64 = 4 << 20;
/// People distinguished in one bundle at most; one about more than one is refused.
const MOST_PEOPLE: usize = 1000;

/// Counts the bytes read since the last resource ended, and ends where there are too many.
struct Metered<'a, R> {
    input: R,
    since: &'a Cell<u64>,
}

impl<R: Read> Read for Metered<'_, R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if self.since.get() > LARGEST_RESOURCE {
            return Err(io::ErrorKind::FileTooLarge.into());
        }
        let read = self.input.read(buffer)?;
        self.since.set(self.since.get() + read as u64);
        Ok(read)
    }
}

/// How to read a bundle.
#[derive(Clone, Debug)]
pub struct Options {
    /// The file's name, for messages.
    pub file: PathBuf,
    /// The caller's clock.
    pub now: Moment,
    /// The source of a sensor's readings whose resource names no device. Whatever else names none is noted by hand.
    pub sensor: Source,
    /// The person to take, where the bundle is about several: the subject's reference.
    pub subject: Option<String>,
}

impl Options {
    /// The usual: any subject, as long as there is one only.
    #[must_use]
    pub fn new(file: impl Into<PathBuf>, now: Moment) -> Self {
        Self { file: file.into(), now, sensor: Source::unnamed_sensor(), subject: None }
    }

    fn stop(&self, line: u64, fault: &ResourceFault) -> Error {
        Error::Import { file: self.file.clone(), line, column: None, why: Refusal::Bundle(fault.clone()) }
    }
}

/// Why a file is refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ResourceFault {
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
    /// One resource is larger than any that is read.
    TooLarge {
        /// How large one may be, in units of 2^20 bytes.
        most_megabytes: u64,
    },
}

/// Something about one resource worth reporting.
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
    /// The time is not given to the minute with its offset from UTC.
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
    /// It is given in units of insulin, or called one, and no ATC code says which it is.
    InsulinUncoded,
    /// One of our own kinds, and a part of it is missing or not known.
    PartUnknown,
    /// It carries a modifier that is not known here: what it says may be turned around, and it must not be processed. Source: FHIR R4,
    /// "Extensibility" (modifier extensions) and "Resource" (`implicitRules`), from memory.
    ModifierUnknown,
    /// A name stands twice in one object: which of the two counts cannot be known.
    NameTwice,
    /// It cannot be as a whole: it ends before it begins, its identity is none.
    CannotBe,
    /// The log has an entry with this identity and another content.
    OtherContent,
    /// It would correct an entry of the log.
    CorrectsKnown,
    /// It was withdrawn at its source, and the log holds what it said.
    Withdrawn,
    /// Taken as a meter check: a laboratory's value.
    Laboratory,
    /// Taken: it was changed at its source, and the log holds what it said before.
    Amended,
}

impl FindingCode {
    /// Whether the resource was taken all the same.
    #[must_use]
    pub const fn is_taken(self) -> bool {
        matches!(self, Self::Amended | Self::Laboratory)
    }
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
    fn note(&mut self, finding: Finding) {
        *self.counts.entry(finding.code).or_insert(0) += 1;
        if self.findings.len() < KEPT_FINDINGS {
            self.findings.push(finding);
        }
    }
}

/// Reads a Bundle, a single resource, or resources one a line (NDJSON), to the end. Each entry comes with its place, from 1. Nothing is
/// written anywhere.
///
/// # Errors
/// [`Error::Import`] where it is no JSON, no Bundle, or about several people; [`Error::File`] where it cannot be read.
pub fn read(input: impl Read, options: &Options) -> Result<(Vec<(usize, Entry)>, Report)> {
    let mut entries = Vec::new();
    let mut take = |place, entry| {
        entries.push((place, entry));
        Ok(None)
    };
    let report = each(input, options, &mut take, &mut |_, _| Ok(false), &mut |_| {})?;
    Ok((entries, report))
}

/// What is done with an entry and its place; it may say why the entry is left out.
type Take<'a> = dyn FnMut(usize, Entry) -> Result<Option<FindingCode>> + 'a;
/// Whether the log holds an entry of the same kind, source and time as this one, apart from one.
type Holds<'a> = dyn FnMut(&Entry, Option<EntryId>) -> Result<bool> + 'a;

/// As [`read`], entry by entry, in bounded memory. What was taken may be used only once this comes to its end without an error: that a
/// bundle is about several people, or torn, shows late. `holds` is asked of what was changed or withdrawn at its source. `found`
/// receives every finding, of which the report keeps the first hundred.
///
/// # Errors
/// As [`read`], and those of `take`.
pub fn each(
    input: impl Read,
    options: &Options,
    take: &mut Take<'_>,
    holds: &mut Holds<'_>,
    found: &mut dyn FnMut(&Finding),
) -> Result<Report> {
    let mut sorting = Sorting {
        options,
        take,
        holds,
        found,
        report: Report::default(),
        people: BTreeSet::new(),
        nobodys: Vec::new(),
    };
    let since = Cell::new(0);
    let refused = |error: serde_json::Error| match error.classify() {
        Category::Io if since.get() > LARGEST_RESOURCE => {
            options.stop(error.line() as u64, &ResourceFault::TooLarge { most_megabytes: LARGEST_RESOURCE >> 20 })
        }
        Category::Io => Error::File { path: options.file.clone(), source: error.into() },
        Category::Syntax | Category::Eof => options.stop(error.line() as u64, &ResourceFault::NotJson),
        Category::Data => options.stop(error.line() as u64, &ResourceFault::NotABundle),
    };
    let mut json = serde_json::Deserializer::from_reader(BufReader::new(Metered { input, since: &since }));
    for place in 1.. {
        let mut failed = None;
        let twice = Cell::new(false);
        let mut see = |place: usize, resource: &Value, name_twice: bool| match sorting.see(place, resource, name_twice)
        {
            Ok(()) => true,
            Err(error) => {
                failed = Some(error);
                false
            }
        };
        let top = Resources(&mut see, &since, &twice).deserialize(&mut json);
        if let Some(error) = failed {
            return Err(error);
        }
        let top = top.map_err(refused)?;
        let bundle = top["resourceType"] == "Bundle";
        match (top["resourceType"].as_str(), top["entry"].is_null()) {
            (Some("Bundle"), _) if place == 1 && !twice.get() => {}
            // A resource alone, or one of several.
            (Some(_), true) if !bundle => sorting.see(place, &top, twice.get())?,
            _ => return Err(options.stop(1, &ResourceFault::NotABundle)),
        }
        since.set(0);
        match json.end() {
            Ok(()) => break,
            // Something follows a resource: another one, as the next reading of it will say.
            Err(error) if !bundle && error.classify() == Category::Syntax => {}
            Err(error) => return Err(refused(error)),
        }
    }
    sorting.end()
}

/// Sorts the entries of a bundle into those to take and those about another person.
struct Sorting<'a, 't> {
    options: &'a Options,
    take: &'a mut Take<'t>,
    holds: &'a mut Holds<'t>,
    found: &'a mut dyn FnMut(&Finding),
    report: Report,
    people: BTreeSet<String>,
    /// Those that name no person, where one is asked for: they are taken if the bundle names none at all.
    nobodys: Vec<(usize, Entry)>,
}

impl Sorting<'_, '_> {
    fn see(&mut self, place: usize, resource: &Value, name_twice: bool) -> Result<()> {
        let understood = match (understand(resource, self.options), modifier(resource)) {
            _ if name_twice => left("resource", FindingCode::NameTwice),
            (Ok(Some(_)) | Err(_), Some(element)) => left(element, FindingCode::ModifierUnknown),
            (understood, _) => understood,
        };
        let entry = match understood {
            Ok(Some(entry)) => entry,
            Ok(None) => {
                self.report.others += 1;
                return Ok(());
            }
            Err(Left { element, code }) => {
                let code = if code == FindingCode::NotFinal && self.is_withdrawn(resource)? {
                    FindingCode::Withdrawn
                } else {
                    code
                };
                self.leave_out(Finding { entry: place, element, code });
                return Ok(());
            }
        };
        let about = subject(resource);
        let wanted = match (&self.options.subject, &about) {
            (Some(asked), Some(about)) => asked == about,
            (Some(_), None) if self.people.is_empty() => {
                self.nobodys.push((place, entry));
                return Ok(());
            }
            (Some(_), None) => false,
            (None, _) => true,
        };
        if self.people.len() < MOST_PEOPLE || about.as_ref() == self.options.subject.as_ref() {
            self.people.extend(about);
        }
        if !wanted {
            self.report.others += 1;
            return Ok(());
        }
        if self.options.subject.is_none() && self.people.len() > 1 {
            // The bundle will be refused, with the number of people in it.
            return Ok(());
        }
        // What replaces another entry of its own log says so.
        let changed = matches!(resource["status"].as_str(), Some("amended" | "corrected")) && entry.replaces.is_none();
        if changed && (self.holds)(&entry, Some(entry.id))? {
            self.note(Finding { entry: place, element: "status", code: FindingCode::Amended });
        }
        if resource["resourceType"] == "Observation"
            && codes_in(&resource["code"], codes::LOINC).any(|code| code == codes::LABORATORY)
        {
            self.note(Finding { entry: place, element: "code", code: FindingCode::Laboratory });
        }
        self.take(place, entry)
    }

    fn take(&mut self, place: usize, entry: Entry) -> Result<()> {
        let at = entry.at;
        match (self.take)(place, entry)? {
            None => self.report.taken += 1,
            Some(code) => self.leave_out(Finding { entry: place, element: "id", code }),
        }
        self.report.first = Some(self.report.first.map_or(at, |first| first.min(at)));
        self.report.last = Some(self.report.last.map_or(at, |last| last.max(at)));
        Ok(())
    }

    /// Whether a resource says that something never was which the log holds.
    fn is_withdrawn(&mut self, resource: &Value) -> Result<bool> {
        if !matches!(resource["status"].as_str(), Some("entered-in-error" | "cancelled")) {
            return Ok(false);
        }
        let mut before = resource.clone();
        before["status"] = if before["resourceType"] == "Observation" { "final" } else { "completed" }.into();
        match understand(&before, self.options) {
            Ok(Some(entry)) => (self.holds)(&entry, None),
            _ => Ok(false),
        }
    }

    fn leave_out(&mut self, finding: Finding) {
        self.report.left_out += 1;
        self.note(finding);
    }

    fn note(&mut self, finding: Finding) {
        (self.found)(&finding);
        self.report.note(finding);
    }

    fn end(mut self) -> Result<Report> {
        self.report.subject = match (&self.options.subject, self.people.len()) {
            (Some(asked), _) if self.people.contains(asked) => Some(asked.clone()),
            (Some(_), 0) | (None, 0) => None,
            (None, 1) => self.people.first().cloned(),
            (Some(_), _) => return Err(self.options.stop(1, &ResourceFault::NoSuchPerson)),
            (None, count) => return Err(self.options.stop(1, &ResourceFault::SeveralPeople { count })),
        };
        let nobodys = std::mem::take(&mut self.nobodys);
        if self.people.is_empty() {
            for (place, entry) in nobodys {
                self.take(place, entry)?;
            }
        } else {
            self.report.others += nobodys.len() as u64;
        }
        Ok(self.report)
    }
}

/// A bundle read resource by resource: only one of them is held at a time, since a bundle of years has hundreds of megabytes.
///
/// What it gives back is the rest of the bundle; in it `entry` is `true` where there were entries.
///
/// The last part is set where a name stands in it twice, outside the entries.
struct Resources<'a, F>(&'a mut F, &'a Cell<u64>, &'a Cell<bool>);

impl<'de, F: FnMut(usize, &Value, bool) -> bool> DeserializeSeed<'de> for Resources<'_, F> {
    type Value = Value;
    fn deserialize<D: Deserializer<'de>>(self, json: D) -> std::result::Result<Value, D::Error> {
        json.deserialize_map(self)
    }
}

impl<'de, F: FnMut(usize, &Value, bool) -> bool> Visitor<'de> for Resources<'_, F> {
    type Value = Value;
    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a resource")
    }
    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> std::result::Result<Value, A::Error> {
        let mut rest = Map::new();
        while let Some(key) = map.next_key::<String>()? {
            let value = if key == "entry" {
                map.next_value_seed(Entries(self.0, self.1))?;
                Value::Bool(true)
            } else {
                map.next_value_seed(Unambiguous(self.2))?
            };
            if rest.insert(key, value).is_some() {
                self.2.set(true);
            }
        }
        Ok(Value::Object(rest))
    }
}

/// The entries of a bundle.
struct Entries<'a, F>(&'a mut F, &'a Cell<u64>);

impl<'de, F: FnMut(usize, &Value, bool) -> bool> DeserializeSeed<'de> for Entries<'_, F> {
    type Value = ();
    fn deserialize<D: Deserializer<'de>>(self, json: D) -> std::result::Result<(), D::Error> {
        json.deserialize_seq(self)
    }
}

impl<'de, F: FnMut(usize, &Value, bool) -> bool> Visitor<'de> for Entries<'_, F> {
    type Value = ();
    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("entries")
    }
    fn visit_seq<A: SeqAccess<'de>>(self, mut entries: A) -> std::result::Result<(), A::Error> {
        let mut place = 0;
        let twice = Cell::new(false);
        while let Some(mut entry) = entries.next_element_seed(Unambiguous(&twice))? {
            place += 1;
            self.1.set(0);
            // What modifies the entry modifies what is in it.
            if let Some(modifier) = entry.get_mut(MODIFIER).map(Value::take)
                && let Some(resource) = entry["resource"].as_object_mut()
            {
                resource.entry(MODIFIER).or_insert(modifier);
            }
            if !(self.0)(place, &entry["resource"], twice.replace(false)) {
                return Err(serde::de::Error::custom("stopped"));
            }
        }
        Ok(())
    }
}

/// A value read as it is, and whether a name stands twice in one of its objects, of which [`Value`] alone would keep the last.
struct Unambiguous<'a>(&'a Cell<bool>);

impl<'de> DeserializeSeed<'de> for Unambiguous<'_> {
    type Value = Value;
    fn deserialize<D: Deserializer<'de>>(self, json: D) -> std::result::Result<Value, D::Error> {
        json.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Unambiguous<'_> {
    type Value = Value;
    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value")
    }
    fn visit_unit<E>(self) -> std::result::Result<Value, E> {
        Ok(Value::Null)
    }
    fn visit_bool<E>(self, value: bool) -> std::result::Result<Value, E> {
        Ok(value.into())
    }
    fn visit_i64<E>(self, value: i64) -> std::result::Result<Value, E> {
        Ok(value.into())
    }
    fn visit_u64<E>(self, value: u64) -> std::result::Result<Value, E> {
        Ok(value.into())
    }
    fn visit_f64<E>(self, value: f64) -> std::result::Result<Value, E> {
        Ok(value.into())
    }
    fn visit_str<E>(self, value: &str) -> std::result::Result<Value, E> {
        Ok(value.into())
    }
    fn visit_string<E>(self, value: String) -> std::result::Result<Value, E> {
        Ok(value.into())
    }
    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> std::result::Result<Value, A::Error> {
        let mut values = Vec::new();
        while let Some(value) = seq.next_element_seed(Unambiguous(self.0))? {
            values.push(value);
        }
        Ok(values.into())
    }
    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> std::result::Result<Value, A::Error> {
        let mut object = Map::new();
        while let Some(name) = map.next_key::<String>()? {
            if object.insert(name, map.next_value_seed(Unambiguous(self.0))?).is_some() {
                self.0.set(true);
            }
        }
        Ok(object.into())
    }
}

/// What may turn around what the element that has it says.
const MODIFIER: &str = "modifierExtension";

/// The element of a resource that modifies it in a way that is not known here; none is.
fn modifier(resource: &Value) -> Option<&'static str> {
    fn is_modified(value: &Value) -> bool {
        match value {
            Value::Object(object) => object.iter().any(|(name, value)| match name.as_str() {
                MODIFIER => !value.is_null(),
                // Resources of their own, of which nothing is read.
                "contained" => false,
                _ => is_modified(value),
            }),
            Value::Array(values) => values.iter().any(is_modified),
            _ => false,
        }
    }
    if is_modified(resource) {
        return Some(MODIFIER);
    }
    (!resource["implicitRules"].is_null()).then_some("implicitRules")
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
    let ketones = codes_in(code, codes::LOINC).any(|found| found == codes::KETONES.0);
    if glucose.is_none() && own.is_none() && !ketones {
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
        (None, None) => match quantity(&resource["valueQuantity"])? {
            (mmol_l, "mmol/L" | "mmol/l") => {
                entry(resource, moment(resource, options)?, EntryKind::Ketones { mmol_l }, options).map(Some)
            }
            _ => left("value", FindingCode::UnitUnknown),
        },
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
    match beyond(quantity) {
        Some(Beyond::Below) => left("value", FindingCode::SaysLow),
        Some(Beyond::Above) => left("value", FindingCode::SaysHigh),
        None => amount(quantity),
    }
}

/// The side of its number on which a quantity lies. At the limit is as good as beyond it.
fn beyond(quantity: &Value) -> Option<Beyond> {
    match quantity["comparator"].as_str()? {
        "<" | "<=" => Some(Beyond::Below),
        ">" | ">=" => Some(Beyond::Above),
        _ => None,
    }
}

fn amount(quantity: &Value) -> Understood<(f64, &str)> {
    let element = "value";
    let Some(number) = quantity["value"].as_f64().filter(|number| number.is_finite()) else {
        return left(element, FindingCode::NoValue);
    };
    if !quantity["system"].is_null() && quantity["system"] != codes::UCUM {
        return left(element, FindingCode::UnitUnknown);
    }
    let unit = quantity["code"].as_str().or_else(|| quantity["unit"].as_str());
    unit.map_or_else(|| left(element, FindingCode::UnitUnknown), |unit| Ok((number, unit)))
}

fn measured(resource: &Value, code: GlucoseCode) -> Understood<EntryKind> {
    let (number, unit) = amount(&resource["valueQuantity"])?;
    let unit = match unit {
        "mg/dL" | "mg/dl" => GlucoseUnit::MgDl,
        "mmol/L" | "mmol/l" => GlucoseUnit::MmolL,
        _ => return left("value", FindingCode::UnitUnknown),
    };
    if unit != code.unit {
        return left("value", FindingCode::UnitContradictsCode);
    }
    let Ok(glucose) = Glucose::new(number, unit) else { return left("value", FindingCode::OutOfRange) };
    let shown = Shown { glucose, beyond: beyond(&resource["valueQuantity"]) };
    Ok(if code.interstitial { EntryKind::read_by_sensor(shown) } else { EntryKind::checked_by_meter(shown) })
}

fn insulin(resource: &Value, options: &Options) -> Understood<Option<Entry>> {
    let medication = &resource["medicationCodeableConcept"];
    let known =
        |found: &str| codes::INSULINS.iter().find(|(_, code, _)| found.starts_with(code)).map(|(kind, ..)| *kind);
    let mut kinds = codes_in(medication, codes::ATC).filter_map(known);
    let any_insulin = codes_in(medication, codes::ATC).any(|code| code.starts_with("A10A"));
    let kind = match kinds.next() {
        Some(kind) if kinds.all(|other| other == kind) => kind,
        // Mixed, intermediate or both: how it acts is not known here.
        _ if any_insulin => return left("medication", FindingCode::InsulinUnknown),
        // Insulin left out in silence would make what lies ahead look better than it is.
        _ if may_be_insulin(resource, medication) => return left("medication", FindingCode::InsulinUncoded),
        _ => return Ok(None),
    };
    if resource["status"] != "completed" {
        return left("status", FindingCode::NotFinal);
    }
    let at = moment(resource, options)?;
    let units = match quantity(&resource["dosage"]["dose"])? {
        (units, unit) if codes::UNITS_OF_INSULIN.contains(&unit) => units,
        _ => return left("dosage", FindingCode::UnitUnknown),
    };
    entry(resource, at, EntryKind::Insulin { insulin: kind, units }, options).map(Some)
}

/// Whether what no code of ours names may be insulin: it is called so, or given in the units that insulin is. What an ATC code says to
/// be something else is not.
fn may_be_insulin(resource: &Value, medication: &Value) -> bool {
    if codes_in(medication, codes::ATC).next().is_some() {
        return false;
    }
    let codings = medication["coding"].as_array().map(Vec::as_slice).unwrap_or_default();
    let names = codings.iter().map(|coding| &coding["display"]).chain([&medication["text"]]);
    let names = names.chain([&resource["medicationReference"]["display"]]).filter_map(Value::as_str);
    let dose = &resource["dosage"]["dose"];
    let unit = dose["code"].as_str().or_else(|| dose["unit"].as_str());
    names.map(str::to_lowercase).any(|name| name.contains("insulin"))
        || unit.is_some_and(|unit| codes::UNITS_OF_INSULIN.contains(&unit))
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
    let in_unit = |expected: &str| match quantity(&resource["valueQuantity"])? {
        (amount, unit) if unit == expected => Ok(amount),
        _ => left("value", FindingCode::UnitUnknown),
    };
    let period = |end: &'static str| exact(&resource["effectivePeriod"][end], "effectivePeriod", options);
    let value = || own_code(&resource["valueCodeableConcept"]).ok_or_else(|| unknown("value"));
    let (at, what) = match kind {
        "carbohydrate" => {
            let purpose = part(codes::PURPOSE.0).and_then(|code| codes::meaning(&codes::PURPOSES, code));
            let purpose = purpose.ok_or_else(|| unknown("component"))?;
            (moment(resource, options)?, EntryKind::Carbohydrate { grams: in_unit("g")?, purpose })
        }
        "alcohol" => (moment(resource, options)?, EntryKind::Alcohol { drinks: in_unit("{drink}")? }),
        "illness" => {
            let illness = codes::meaning(&codes::ILLNESSES, value()?).ok_or_else(|| unknown("value"))?;
            (moment(resource, options)?, EntryKind::Illness { illness })
        }
        "activity" => {
            let effort = part(codes::EFFORT.0).and_then(|code| codes::meaning(&codes::EFFORTS, code));
            let effort = effort.ok_or_else(|| unknown("component"))?;
            let activity = said(codes::NAME.0).ok_or_else(|| unknown("component"))?;
            (moment(resource, options)?, EntryKind::Activity { activity, minutes: in_unit("min")?, effort })
        }
        "sleep" => (period("start")?, EntryKind::Sleep { until: period("end")? }),
        "pressed-spell" => (period("start")?, EntryKind::CompressionLow { until: period("end")? }),
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
                "device-fault" => {
                    let code = part(codes::REPORTED.0).and_then(|code| codes::meaning(&codes::DEVICE_FAULTS, code));
                    SensorEvent::DeviceFault { code: code.ok_or_else(|| unknown("component"))? }
                }
                _ => return Err(unknown("value")),
            };
            (moment(resource, options)?, EntryKind::Sensor(event))
        }
        "symptom" => {
            let felt = codes::meaning(&codes::SYMPTOMS, value()?).ok_or_else(|| unknown("value"))?;
            (moment(resource, options)?, EntryKind::Symptom { felt })
        }
        "note" => {
            let text = text(resource, "/valueString").and_then(|text| Text::new(text).ok());
            (moment(resource, options)?, EntryKind::Note { text: text.ok_or_else(|| unknown("value"))? })
        }
        "supply" | "prompted" => {
            let what = text(resource, "/valueString").and_then(|text| serde_json::from_str(text).ok());
            let kept = what.filter(|what| matches!(what, EntryKind::Supply(_) | EntryKind::Prompted(_)));
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

/// Makes the entry, with the identity that its own log gave it where the resource has one.
fn entry(resource: &Value, at: Moment, what: EntryKind, options: &Options) -> Understood<Entry> {
    let cannot_be = |element| Left { element, code: FindingCode::CannotBe };
    let source = own(resource, "source")
        .and_then(|part| text(part, "/valueString"))
        .or_else(|| text(resource, "/device/display"))
        .and_then(|name| Source::new(name).ok())
        .unwrap_or_else(|| what.source_unnamed(&options.sensor));
    // When it was recorded is taken on trust only as far as it can be true.
    let stated =
        own(resource, "recorded").and_then(|part| text(part, "/valueInstant")).or_else(|| text(resource, "/issued"));
    let recorded = stated
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
    let reading = entry.what.sensor().is_some();
    if own(resource, "source").is_some() && (!reading || replaces.is_some()) {
        entry.id = text(resource, "/id").and_then(uuid).ok_or_else(|| cannot_be("id"))?;
        entry.replaces = replaces;
        entry.check().map_err(|_| cannot_be("value"))?;
    }
    Ok(entry)
}
