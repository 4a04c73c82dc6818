//! Fuzz targets: whatever the octets, nothing panics, nothing that is no number is shown, and a confirmed low is never held.
//!
//! A target is a function of octets that asserts what must hold. `tests/fuzz` runs them under libFuzzer, which looks for octets that
//! reach new code; `tests/tests/fuzzing.rs` runs them on every machine, on the seeds and on changes of them.

use std::path::Path;

use ebbstead_core::engine::{Learnt, check};
use ebbstead_core::exchange::bluetooth::{
    CgmFeature, CgmMeasurement, DecodeError, E2eCrc, MeterContext, MeterMeasurement, MeterTaker, RecordAccess,
    SensorTaker, Service, SessionStart,
};
use ebbstead_core::exchange::csv::{self, Offsets, Zone, table};
use ebbstead_core::exchange::fhir;
use ebbstead_core::exchange::sealed::{Passphrase, SealedLog, Unsealed};
use ebbstead_core::log::{
    Effort, Entry, EntryKind, History, Illness, InsulinKind, Purpose, Reading, SensorEvent, Source, Symptom, Text,
    current_history,
};
use ebbstead_core::prompt::{Occasion, Prompt, Question, Verdict};
use ebbstead_core::sentences::bluetooth::{fault_text, held_back_text};
use ebbstead_core::sentences::fhir::finding_text;
use ebbstead_core::sentences::table::finding_line;
use ebbstead_core::store::{Log, Whole};
use ebbstead_core::time::{DayHours, Moment};
use ebbstead_core::units::{Glucose, GlucoseUnit, HIGHEST_MG_DL, LOWEST_MG_DL, Rate};
use ebbstead_core::wearer::{Language, TreatPreference, Wearer};
use ebbstead_core::words::Words;

/// A target: its name and what it does with octets.
pub type Target = (&'static str, fn(&[u8]));

/// All of them.
pub const TARGETS: [Target; 11] = [
    ("csv", csv),
    ("table", table),
    ("fhir", fhir),
    ("bluetooth", bluetooth),
    ("times", times),
    ("units", units),
    ("settings", settings),
    ("entries", entries),
    ("prompts", prompts),
    ("carried", carried),
    ("sealed", sealed),
];

/// The clock of all targets.
fn now() -> Moment {
    moment(1_772_366_400_000)
}

/// A moment that is one, at UTC+1.
#[allow(clippy::expect_used)] // a constant, or a sum held within the years
fn moment(unix_ms: i64) -> Moment {
    Moment::new(unix_ms, 60).expect("within the years a log takes")
}

/// Octets spent one by one; noughts once they are used up.
struct Octets<'a>(&'a [u8]);

impl Octets<'_> {
    fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    fn u8(&mut self) -> u8 {
        let Some((first, rest)) = self.0.split_first() else { return 0 };
        self.0 = rest;
        *first
    }

    fn u16(&mut self) -> u16 {
        u16::from_le_bytes([self.u8(), self.u8()])
    }

    fn one_of<T: Copy, const N: usize>(&mut self, all: [T; N]) -> T {
        all[usize::from(self.u8()) % N]
    }

    fn glucose(&mut self) -> Option<Glucose> {
        // Hundredths around the range a log takes, its ends and beyond.
        Glucose::from_mg_dl(f64::from(self.u16() % 61_000) / 100.0).ok()
    }

    fn words(&mut self) -> Words {
        let language = self.one_of([Language::ENGLISH, Language::GERMAN]);
        Words::new(language, self.one_of([GlucoseUnit::MgDl, GlucoseUnit::MmolL]))
    }
}

/// Asserts that a text shows no number that is none. Not for texts that quote what was given, which may say so itself.
fn shown(text: &str) {
    let words = text.split(|c: char| !c.is_alphanumeric());
    for word in words {
        assert!(!matches!(word, "NaN" | "nan" | "inf"), "shown: {text}");
    }
}

/// A table of readings. The first octet chooses options.
pub fn csv(data: &[u8]) {
    let mut octets = Octets(data);
    let choice = octets.u8();
    let words = octets.words();
    let mut rest = octets.0;
    let changing = |_| match choice >> 5 {
        0 => Offsets::Two { before: 120, after: 60 },
        1 => Offsets::Never { before: 60 },
        _ => Offsets::One(60),
    };
    let mut options = csv::Options::found(Path::new("file"), words.unit());
    options.now = (choice & 1 == 0).then(now);
    options.zone = if choice & 2 == 0 { Zone::Fixed(i32::from(choice) - 60) } else { Zone::Changing(&changing) };
    options.unit = (choice & 4 != 0).then_some(GlucoseUnit::MmolL);
    if choice & 8 != 0 {
        // A first line of the input is the notation of times.
        let end = rest.iter().position(|octet| *octet == b'\n').unwrap_or(rest.len());
        options.time_format = Some(String::from_utf8_lossy(&rest[..end]).into_owned());
        rest = rest.get(end + 1..).unwrap_or_default();
    }
    let mut import = match csv::Import::open(rest, &options) {
        Ok(import) => import,
        Err(error) => return drop(error.to_string()),
    };
    let mut taken = 0;
    loop {
        match import.next_reading(|event| {
            if let csv::Event::Found(finding) = event {
                shown(&words.finding(&csv::Finding { given: String::new(), ..finding.clone() }));
            }
        }) {
            Ok(Some(reading)) => {
                taken += 1;
                sound_reading(&reading);
                assert!(options.now.is_none_or(|now| reading.at.minutes_since(now) <= 10.0), "taken from the future");
            }
            Ok(None) => break,
            Err(error) => return drop(error.to_string()),
        }
    }
    assert_eq!(import.report().taken, taken);
}

fn sound_reading(reading: &Reading) {
    let amount = reading.glucose.mg_dl();
    assert!((LOWEST_MG_DL..=HIGHEST_MG_DL).contains(&amount), "{amount}");
}

/// A log as a table, brought back in.
pub fn table(data: &[u8]) {
    let mut rows = match table::Rows::open(data, Path::new("file"), now(), Source::unnamed_sensor()) {
        Ok(rows) => rows,
        Err(error) => return drop(error.to_string()),
    };
    let words = Words::new(Language::GERMAN, GlucoseUnit::MmolL);
    loop {
        match rows.next_row() {
            Ok(None) => break,
            Ok(Some(Ok(entry))) => {
                assert!(entry.check().is_ok(), "taken and not sound: {entry:?}");
                drop(words.what(&entry.what));
            }
            Ok(Some(Err(finding))) => shown(&finding_line(&finding, words)),
            Err(error) => return drop(error.to_string()),
        }
    }
}

/// A FHIR bundle. What is taken can be recorded, written and read again as the same.
pub fn fhir(data: &[u8]) {
    let options = fhir::Options::new("file", now());
    let (entries, report) = match fhir::read(data, &options) {
        Ok(read) => read,
        Err(error) => return shown(&error.to_string()),
    };
    assert_eq!(report.taken, entries.len() as u64);
    for finding in &report.findings {
        shown(&finding_text(finding, Words::new(Language::ENGLISH, GlucoseUnit::MgDl)));
    }
    let entries: Vec<Entry> = entries.into_iter().map(|(_, entry)| entry).collect();
    for entry in &entries {
        assert!(entry.check().is_ok(), "taken and not sound: {entry:?}");
        assert!(entry.at.minutes_since(now()) <= 10.0, "taken from the future");
    }
    written_and_read(&entries);
}

/// Asserts that entries come back from a bundle as they went in, apart from the times of recording, which are not trusted.
#[allow(clippy::expect_used)] // a failure is what is looked for
fn written_and_read(entries: &[Entry]) {
    let mut bytes = Vec::new();
    let mut bundle = fhir::Bundle::begin(&mut bytes, uuid::Uuid::nil(), now()).expect("memory");
    for entry in entries {
        bundle.put(entry).expect("memory");
    }
    let carried = bundle.finish().expect("memory");
    let (again, report) = fhir::read(bytes.as_slice(), &fhir::Options::new("file", now())).expect("our own bundle");
    assert_eq!((report.left_out, again.len() as u64), (0, carried.entries), "{:?}", report.findings);
    let expected = entries.iter().filter(|one| !matches!(one.what, EntryKind::Import { .. } | EntryKind::Retraction));
    for ((_, read), written) in again.iter().zip(expected) {
        let content = |one: &Entry| (one.at, one.source.clone(), one.replaces, one.what.clone());
        assert_eq!(content(read), content(written));
        let own = !matches!(written.what, EntryKind::SensorReading { .. }) || written.replaces.is_some();
        assert!(!own || read.id == written.id, "another identity");
    }
}

/// Reads a value, writes it and reads it again: the same.
fn there_and_back<T: PartialEq + std::fmt::Debug>(
    data: &[u8],
    words: Words,
    read: impl Fn(&[u8]) -> Result<T, DecodeError>,
    write: impl Fn(&T) -> Vec<u8>,
) -> Option<T> {
    match read(data) {
        Err(error) => {
            assert!(error.offset <= data.len(), "an octet that is not there: {error}");
            shown(&fault_text(&error, words));
            None
        }
        Ok(value) => {
            assert_eq!(read(&write(&value)).as_ref(), Ok(&value));
            Some(value)
        }
    }
}

/// A value of a Bluetooth characteristic, chosen by the first octet.
pub fn bluetooth(data: &[u8]) {
    let mut octets = Octets(data);
    let choice = octets.u8();
    let words = octets.words();
    let rest = octets.0;
    let crc = if choice & 0x80 == 0 { E2eCrc::Absent } else { E2eCrc::Present };
    match choice & 0x0F {
        0 | 1 => {
            let write = |all: &Vec<CgmMeasurement>| all.iter().flat_map(|one| one.encode(crc)).collect();
            let read = there_and_back(rest, words, |data| CgmMeasurement::decode(data, crc), write);
            let start =
                there_and_back(&[0xEA, 7, 2, 28, 10, 15, 0, 4, 0], words, session, |one| one.encode(E2eCrc::Absent));
            let taker = start.and_then(|start| SensorTaker::new(Source::by_hand(), &start, 60).ok());
            if let (Some(mut taker), Some(records)) = (taker, read) {
                let taken = taker.take(&records, now(), |_| i32::from(choice) * 8);
                assert!(taken.entries.iter().all(|entry| entry.check().is_ok()));
                let is_reading =
                    |what: &EntryKind| matches!(what, EntryKind::SensorReading { .. } | EntryKind::SensorBeyond { .. });
                let readings = taken.entries.iter().filter(|one| is_reading(&one.what));
                assert_eq!(readings.count() + taken.held_back.len(), records.len(), "a record that is neither");
                taken.held_back.iter().for_each(|held| shown(&held_back_text(held, words)));
            }
        }
        2 => drop(there_and_back(rest, words, CgmFeature::decode, CgmFeature::encode)),
        4 => {
            let start = there_and_back(rest, words, |data| SessionStart::decode(data, crc), |one| one.encode(crc));
            drop(start.map(|start| start.moment(i32::from(choice))));
        }
        8 | 9 => {
            let service = if choice & 1 == 0 { Service::Glucose } else { Service::ContinuousGlucoseMonitoring };
            there_and_back(rest, words, |data| RecordAccess::decode(data, service), RecordAccess::encode);
        }
        10 => drop(there_and_back(rest, words, MeterContext::decode, MeterContext::encode)),
        _ => {
            let (measured, context) = rest.split_at(rest.len().min(17));
            let context = there_and_back(context, words, MeterContext::decode, MeterContext::encode);
            let taker = MeterTaker::new(Source::by_hand(), Zone::Fixed(60));
            for length in 10..=measured.len() {
                let read = |data: &[u8]| MeterMeasurement::decode(data);
                if let Some(measurement) = there_and_back(&measured[..length], words, read, MeterMeasurement::encode) {
                    let taken = taker.take(&measurement, context.as_ref(), now());
                    assert!(taken.entries.iter().all(|entry| entry.check().is_ok()));
                    assert!(!taken.entries.is_empty() || !taken.held_back.is_empty(), "dropped in silence");
                    taken.held_back.iter().for_each(|held| shown(&held_back_text(held, words)));
                }
            }
        }
    }
}

fn session(data: &[u8]) -> Result<SessionStart, DecodeError> {
    SessionStart::decode(data, E2eCrc::Absent)
}

/// A time as text, and an instant with an offset as numbers.
pub fn times(data: &[u8]) {
    if let Ok(at) = Moment::parse(&String::from_utf8_lossy(data)) {
        assert_eq!(Moment::parse(&at.to_rfc3339()).ok(), Some(at), "{at}");
    }
    let mut octets = Octets(data);
    let unix_ms = i64::from_le_bytes(std::array::from_fn(|_| octets.u8()));
    let offset = i32::from(octets.u16()) - 0x8000;
    if let Ok(at) = Moment::new(unix_ms, offset) {
        assert_eq!(Moment::parse(&at.to_rfc3339()).ok(), Some(at), "{at}");
        assert!(at.minute_of_day() < 1440);
        let minutes = f64::from_le_bytes(std::array::from_fn(|_| octets.u8()));
        let moved = at.plus_minutes(minutes);
        assert!(Moment::new(moved.unix_ms(), offset).is_ok(), "moved out of the years a log takes");
        if let Ok(hours) = DayHours::new(octets.u16(), octets.u16()) {
            assert_eq!(hours.contains(moved), hours.contains(moved.plus_minutes(0.0)));
        }
        shown(&moved.clock());
    }
}

/// Amounts and rates of any size.
pub fn units(data: &[u8]) {
    let mut octets = Octets(data);
    let words = octets.words();
    let number = f64::from_le_bytes(std::array::from_fn(|_| octets.u8()));
    for unit in [GlucoseUnit::MgDl, GlucoseUnit::MmolL] {
        if let Ok(glucose) = Glucose::new(number, unit) {
            assert!((LOWEST_MG_DL..=HIGHEST_MG_DL).contains(&glucose.mg_dl()));
            shown(&words.amount(glucose.mg_dl()));
            assert!(
                (glucose.mmol_l() - Glucose::from_mmol_l(glucose.mmol_l()).map_or(glucose.mmol_l(), Glucose::mmol_l))
                    .abs()
                    < 1e-9
            );
        }
    }
    let rate = Rate::from_mg_dl_min(number);
    assert!(rate.mg_dl_min().is_finite());
    shown(&words.movement(rate.mg_dl_min()));
}

/// The wearer's settings as JSON: what is taken can be used.
pub fn settings(data: &[u8]) {
    let Ok(wearer) = serde_json::from_slice::<Wearer>(data) else { return };
    if wearer.check().is_err() {
        return;
    }
    let mut history = History::default();
    for k in 0..30 {
        let mg_dl = 160.0 - 4.0 * f64::from(k);
        history.readings.extend(
            Glucose::from_mg_dl(mg_dl)
                .ok()
                .map(|glucose| Reading::new(now().plus_minutes(5.0 * f64::from(k) - 145.0), glucose)),
        );
    }
    let question = Question { now: now(), occasion: Occasion::Look, feels: None, meter: None };
    sound(&check(&history, &wearer, &Learnt::default(), &question), Words::of(&wearer));
}

/// Entries as JSON, as another log or a file holds them: what a log takes it gives again.
pub fn entries(data: &[u8]) {
    let Ok(entries) = serde_json::from_slice::<Vec<Entry>>(data) else { return };
    let Ok(mut log) = Log::in_memory(now()) else { return };
    let sound = entries.iter().filter(|entry| entry.check().is_ok()).cloned().collect::<Vec<_>>();
    assert!(log.record_all(entries.clone()).is_ok() == (sound.len() == entries.len()));
    let taken = log.record_all(sound.clone());
    assert!(taken.is_ok(), "{taken:?}");
    assert!(log.check().is_ok());
    let (from, until) = (moment(946_684_800_000), moment(7_258_118_399_000));
    assert_eq!(
        log.history(from, until).ok().map(|one| one.readings.len()),
        Some(current_history(sound).readings.len())
    );
}

/// A wearer's settings drawn from octets.
fn wearer(octets: &mut Octets<'_>) -> Wearer {
    let line =
        |octets: &mut Octets<'_>, low: u8, span: u8| Glucose::from_mg_dl(f64::from(low + octets.u8() % span)).ok();
    let usual = Wearer::default();
    let factor = |octets: &mut Octets<'_>| Some(f64::from(octets.u8())).filter(|factor| (1.0..40.0).contains(factor));
    let drawn = Wearer {
        unit: octets.one_of([GlucoseUnit::MgDl, GlucoseUnit::MmolL]),
        language: octets.one_of([Language::ENGLISH, Language::GERMAN]),
        low_line: line(octets, 60, 61).unwrap_or(usual.low_line),
        high_line: line(octets, 140, 100).unwrap_or(usual.high_line),
        treat_preference: octets.one_of([TreatPreference::Sparing, TreatPreference::Balanced, TreatPreference::Early]),
        insulin_factor_mg_dl_per_unit: factor(octets),
        carbohydrate_factor_mg_dl_per_g: factor(octets),
        ..usual
    };
    if drawn.check().is_ok() { drawn } else { Wearer::default() }
}

/// Entries drawn from octets: of every kind, in any order, corrected and taken back, and the moment after the newest.
fn drawn_entries(octets: &mut Octets<'_>, most: usize) -> (Vec<Entry>, Moment) {
    let mut at = now().plus_minutes(-3.0 * 1440.0);
    let mut newest = at;
    let mut entries: Vec<Entry> = Vec::new();
    let text = |octets: &mut Octets<'_>| Text::new(format!("t{}", octets.u8())).ok();
    while !octets.is_empty() && entries.len() < most {
        let kind = octets.u8();
        // Mostly a reading every five minutes; now and then a jump either way.
        let step = match kind >> 5 {
            0 => f64::from(octets.u8()) / 4.0,
            1 => -f64::from(octets.u8()) / 8.0,
            2 => 0.0,
            _ => 5.0,
        };
        at = at.plus_minutes(step);
        let what = match kind & 0x1F {
            0 => octets.glucose().map(|mg_dl| EntryKind::MeterCheck { mg_dl }),
            1 => Some(EntryKind::Insulin {
                insulin: octets.one_of([InsulinKind::Rapid, InsulinKind::LongActing]),
                units: f64::from(octets.u8()) / 8.0,
            }),
            2 => Some(EntryKind::Carbohydrate {
                grams: f64::from(octets.u8()),
                purpose: octets.one_of([Purpose::Meal, Purpose::Rescue]),
            }),
            3 => text(octets).map(|activity| EntryKind::Activity {
                activity,
                minutes: f64::from(octets.u8()),
                effort: octets.one_of([Effort::Light, Effort::Moderate, Effort::Hard]),
            }),
            4 => Some(EntryKind::Sleep { until: at.plus_minutes(f64::from(octets.u16() % 1500)) }),
            5 => Some(EntryKind::CompressionLow { until: at.plus_minutes(f64::from(octets.u8())) }),
            6 => Some(EntryKind::Sensor(match octets.u8() % 4 {
                0 => SensorEvent::inserted(None),
                1 => SensorEvent::WarmUpOver,
                2 => SensorEvent::RolledOff,
                _ => SensorEvent::Ended,
            })),
            7 => Some(EntryKind::Symptom {
                felt: octets.one_of([Symptom::FeelsLow, Symptom::FeelsHigh, Symptom::None, Symptom::Severe]),
            }),
            8 => text(octets).map(|text| EntryKind::Note { text }),
            9 => {
                let place = usize::from(octets.u8()) % entries.len().max(1);
                let amount = octets.glucose();
                if let (Some(entry), Some(mg_dl)) = (entries.get(place), amount) {
                    let what = match entry.what {
                        EntryKind::SensorReading { .. } => EntryKind::SensorReading { mg_dl },
                        _ => EntryKind::MeterCheck { mg_dl },
                    };
                    entries.extend(entry.corrected(now(), entry.at, what).ok());
                }
                None
            }
            10 => {
                let place = usize::from(octets.u8()) % entries.len().max(1);
                let hidden = entries.get(place).map(|entry| entry.retracted(now()));
                entries.extend(hidden);
                None
            }
            // Not 11: the seeds write readings so.
            29 => Some(EntryKind::Alcohol { drinks: f64::from(octets.u8()) / 4.0 }),
            30 => Some(EntryKind::Ketones { mmol_l: f64::from(octets.u8()) / 10.0 }),
            31 => Some(EntryKind::Illness { illness: octets.one_of([Illness::Ill, Illness::Vomiting, Illness::Over]) }),
            _ => octets.glucose().map(|mg_dl| EntryKind::SensorReading { mg_dl }),
        };
        let made = what.and_then(|what| Entry::new(at, at, Source::by_hand(), what).ok());
        entries.extend(made);
        newest = newest.max(at);
    }
    (entries, newest)
}

/// Entries carried as FHIR: what comes back is what went in.
pub fn carried(data: &[u8]) {
    let mut octets = Octets(data);
    let (entries, _) = drawn_entries(&mut octets, 40);
    let recorded: Vec<Entry> = entries.into_iter().filter(|entry| entry.check().is_ok()).collect();
    written_and_read(&recorded);
}

/// What opens the sealed file among the seeds.
pub const SEEDS_PASSPHRASE: &str = "four plain words, unlike";

/// A sealed log. An octet with the highest bit set is followed by a whole sealed file; otherwise all octets are the lines within
/// one: trying a passphrase takes milliseconds, and what is inside may be forged by an attacker who knows it.
#[allow(clippy::expect_used)] // a failure is what is looked for
pub fn sealed(data: &[u8]) {
    let Some((first, file)) = data.split_first() else { return };
    if first & 0x80 == 0 {
        return match Unsealed::open(data, Path::new("file")) {
            Ok(unsealed) => whole_or_nothing(&unsealed),
            Err(error) => shown(&error.to_string()),
        };
    }
    let kept = tempfile::NamedTempFile::new().expect("a file");
    std::fs::write(kept.path(), file).expect("a file");
    let passphrase = Passphrase::for_opening(SEEDS_PASSPHRASE.to_owned().into()).expect("a passphrase");
    if let Ok(opened) = SealedLog::open(kept.path(), &passphrase) {
        whole_or_nothing(&opened);
    }
}

/// Asserts that another log is restored, and merged into a log that has entries, as a whole or not at all; and that what it then says
/// is what was given, whatever the order.
#[allow(clippy::expect_used)] // a failure is what is looked for
fn whole_or_nothing(other: &dyn Whole) {
    let all_of = |log: &Log| {
        let mut all = Vec::new();
        log.each_fact(|entry| {
            all.push(serde_json::to_string(&entry).expect("JSON"));
            Ok(())
        })
        .expect("a log that can be read");
        all.sort();
        all
    };
    let fresh = || Log::in_memory(now()).expect("memory");
    let own =
        Entry::new(now(), now(), Source::by_hand(), EntryKind::Symptom { felt: Symptom::FeelsLow }).expect("an entry");
    let (mut empty, mut living) = (fresh(), fresh());
    living.record(&own).expect("memory");
    let before = all_of(&living);
    let restored = empty.restore(other);
    let preview = living.preview_merge(other, now());
    assert_eq!(all_of(&living), before, "asking wrote something");
    let merged = living.merge(other);
    for error in [restored.as_ref().err(), merged.as_ref().err(), preview.as_ref().err()].into_iter().flatten() {
        shown(&error.to_string());
    }
    if restored.is_err() {
        assert!(all_of(&empty).is_empty(), "half restored");
    }
    match merged {
        // What is wrong with settings concerns only whom they are restored to.
        Ok(recorded) => assert_eq!(preview.expect("what can be merged can be met").recorded, recorded),
        Err(_) => assert!(restored.is_err() && all_of(&living) == before, "half merged"),
    }
    if restored.is_ok() {
        assert!(empty.check().is_ok() && living.check().is_ok());
        empty.record(&own).expect("memory");
        assert_eq!(all_of(&living), all_of(&empty));
        let (from, until) = (moment(946_684_800_000), moment(7_258_118_399_000));
        assert_eq!(living.current(from, until).ok(), empty.current(from, until).ok());
    }
}

/// The filter, the forecast and the prompt on any record whatever, asked for any reason.
pub fn prompts(data: &[u8]) {
    asked_at_a_confirmed_low(data);
}

/// As [`prompts`]; returns whether these octets ask at a low that a meter confirmed, so that a test can see that some do.
pub fn asked_at_a_confirmed_low(data: &[u8]) -> bool {
    let mut octets = Octets(data);
    let wearer = wearer(&mut octets);
    let occasion = octets.one_of([Occasion::Look, Occasion::Wake]);
    let feels = octets.one_of([
        None,
        None,
        Some(Symptom::FeelsLow),
        Some(Symptom::FeelsHigh),
        Some(Symptom::None),
        Some(Symptom::Severe),
    ]);
    let meter = if octets.u8() & 7 == 0 { octets.glucose() } else { None };
    let later = f64::from(octets.u8()) / 8.0;
    let (entries, newest) = drawn_entries(&mut octets, 120);
    let history = current_history(entries);
    let question = Question { now: newest.plus_minutes(later), occasion, feels, meter: meter.map(Into::into) };
    let prompt = check(&history, &wearer, &Learnt::default(), &question);
    sound(&prompt, Words::of(&wearer));
    let confirmed = confirmed_low(&history, &wearer, &question);
    if confirmed {
        assert!(
            matches!(prompt.verdict, Verdict::Treat | Verdict::Help),
            "a confirmed low is answered with {:?} ({:?})",
            prompt.verdict,
            prompt.sentence
        );
    }
    if feels == Some(Symptom::Severe) {
        assert_eq!(prompt.verdict, Verdict::Help);
    }
    confirmed
}

/// Whether a meter said within ten minutes that glucose is below the low line, and nothing was taken against it since.
fn confirmed_low(history: &History, wearer: &Wearer, question: &Question) -> bool {
    let ago = |at: Moment| question.now.minutes_since(at);
    let known = history.meter_checks.iter().filter(|check| ago(check.at) >= 0.0);
    let last = known.max_by_key(|check| check.at.unix_ms()).filter(|check| ago(check.at) <= 10.0);
    // Of several at one instant it is not said which came last.
    let alone = |at: Moment| history.meter_checks.iter().filter(|one| one.at.unix_ms() == at.unix_ms()).count() == 1;
    let meter =
        question.meter.map(|shown| shown.glucose).or(last.filter(|check| alone(check.at)).map(|check| check.glucose));
    let rescued =
        history.carbohydrate.iter().any(|one| one.purpose == Purpose::Rescue && (0.0..=15.0).contains(&ago(one.at)));
    meter.is_some_and(|meter| meter.mg_dl() < wearer.low_line.mg_dl()) && !rescued
}

/// Asserts that everything a prompt shows is a number that can be shown, and that it says what to do.
fn sound(prompt: &Prompt, words: Words) {
    if let Some(estimate) = &prompt.estimate {
        let sum = estimate.modes.clear + estimate.modes.compression + estimate.modes.unsettled;
        assert!(estimate.blood_mg_dl.is_finite() && estimate.blood_sd_mg_dl.is_finite() && (sum - 1.0).abs() < 1e-6);
        assert!(estimate.rate.mg_dl_min().is_finite());
        shown(&words.expected(estimate.blood_mg_dl, estimate.blood_sd_mg_dl));
    }
    if let Some(forecast) = &prompt.forecast {
        let numbers = forecast
            .path
            .iter()
            .flat_map(|one| [one.reading_mg_dl, one.reading_sd_mg_dl, one.blood_mg_dl, one.blood_sd_mg_dl]);
        assert!(numbers.into_iter().all(f64::is_finite), "{forecast:?}");
        for crossing in [&forecast.low, &forecast.floor, &forecast.high] {
            let chances = [crossing.within_15, crossing.within_30, crossing.within_60];
            assert!(chances.iter().all(|chance| (0.0..=1.0).contains(chance)), "{crossing:?}");
        }
    }
    assert_eq!(prompt.without_meter.is_some(), prompt.verdict == Verdict::Check);
    assert!(prompt.verdict != Verdict::Hold || prompt.look_again_minutes.is_some(), "held without saying until when");
    shown(&words.sentence(prompt.sentence));
    prompt.reasons.iter().for_each(|reason| shown(&words.reason(*reason)));
    prompt.cautions.iter().for_each(|caution| shown(&words.caution(*caution)));
    prompt.would_change.iter().for_each(|change| shown(&words.change(*change)));
    shown(&words.chart(&[], prompt.forecast.as_ref(), None));
}
