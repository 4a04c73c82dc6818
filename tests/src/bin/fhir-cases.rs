//! Writes a Bundle with one of everything a log holds, for validators; or reads a Bundle and says what core took of it.
//!
//!   fhir-cases write        to standard output
//!   fhir-cases read         from standard input, one JSON object a line
#![allow(clippy::print_stdout)] // a tool's output

use std::error::Error;
use std::io::Write;

use ebbstead_core::exchange::fhir::{Bundle, Options, read, summary};
use ebbstead_core::log::{
    DeviceFault, Effort, Entry, EntryKind, History, Illness, InsulinKind, Purpose, Reading, SensorEvent, Source,
    Symptom, Text,
};
use ebbstead_core::review::{Period, Review, ReviewOptions};
use ebbstead_core::time::Moment;
use ebbstead_core::units::Glucose;
use ebbstead_core::wearer::Wearer;

fn main() -> Result<(), Box<dyn Error>> {
    let now = Moment::parse("2026-03-15T12:00:00+01:00")?;
    match std::env::args().nth(1).as_deref() {
        Some("write") => write(now),
        Some("read") => {
            let (entries, report) = read(std::io::stdin().lock(), &Options::new("standard input", now))?;
            for (place, entry) in entries {
                println!("{}", serde_json::json!({ "place": place, "entry": entry }));
            }
            for finding in report.findings {
                println!(
                    "{}",
                    serde_json::json!({ "place": finding.entry, "left_out": format!("{:?}", finding.code) })
                );
            }
            Ok(())
        }
        _ => Err("say write or read".into()),
    }
}

/// An invented wearer's four weeks, summed up, and one of everything else.
fn write(now: Moment) -> Result<(), Box<dyn Error>> {
    let mut bundle = Bundle::begin(std::io::stdout().lock(), person(now), now)?;
    let entries = everything(now)?;
    for entry in &entries {
        bundle.put(entry)?;
    }
    // A correction of insulin and of a meter check: the status is another then.
    for entry in entries.iter().take(2) {
        bundle.put(&entry.corrected(now, entry.at, entry.what.clone())?)?;
    }
    let period = Period::days_before(now, 28)?;
    let mut history = History::default();
    for k in 0..28 * 288_u16 {
        let mg_dl = 130.0 + 75.0 * (f64::from(k) / 40.0).sin();
        let at = period.from().plus_minutes(5.0 * f64::from(k));
        history.readings.push(Reading::new(at, Glucose::from_mg_dl(mg_dl)?));
    }
    for reading in history.readings.iter().take(50) {
        let what = EntryKind::SensorReading { mg_dl: reading.glucose };
        bundle.put(&Entry::new(reading.at, now, Source::new("sensor 7")?, what)?)?;
    }
    let review = Review::of(&history, &Wearer::default(), period, ReviewOptions::default());
    bundle.put_summary(summary(&review).as_ref())?;
    let carried = bundle.finish()?;
    writeln!(std::io::stderr(), "{} entries, {} figures", carried.entries, carried.figures)?;
    Ok(())
}

fn person(now: Moment) -> uuid::Uuid {
    ebbstead_core::log::EntryId::fresh(now).0
}

fn everything(now: Moment) -> Result<Vec<Entry>, Box<dyn Error>> {
    let when = now.plus_minutes(-600.0);
    let until = when.plus_minutes(90.0);
    let text = |text: &str| Text::new(text);
    let mut whats = vec![
        EntryKind::MeterCheck { mg_dl: Glucose::from_mg_dl(101.5)? },
        EntryKind::Insulin { insulin: InsulinKind::Rapid, units: 4.5 },
        EntryKind::Insulin { insulin: InsulinKind::LongActing, units: 14.0 },
        EntryKind::Sleep { until },
        EntryKind::CompressionLow { until },
        EntryKind::Sensor(SensorEvent::inserted(Some(text("left arm")?))),
        EntryKind::Sensor(SensorEvent::inserted(None)),
        EntryKind::Sensor(SensorEvent::WarmUpOver),
        EntryKind::Sensor(SensorEvent::RolledOff),
        EntryKind::Sensor(SensorEvent::Ended),
        EntryKind::Sensor(SensorEvent::Fault { seen: text("came loose")? }),
        EntryKind::Sensor(SensorEvent::DeviceFault { code: DeviceFault::SensorMalfunction }),
        EntryKind::Note { text: text("felt odd\nand \"slept\" \u{1F600}")? },
    ];
    whats.extend([Purpose::Meal, Purpose::Rescue].map(|purpose| EntryKind::Carbohydrate { grams: 15.0, purpose }));
    whats.push(EntryKind::Alcohol { drinks: 2.5 });
    whats.push(EntryKind::Ketones { mmol_l: 0.7 });
    whats.push(EntryKind::Illness { illness: Illness::Vomiting });
    for effort in [Effort::Light, Effort::Moderate, Effort::Hard] {
        whats.push(EntryKind::Activity { activity: text("walk")?, minutes: 12.5, effort });
    }
    let felt = [Symptom::FeelsLow, Symptom::FeelsHigh, Symptom::None, Symptom::Severe];
    whats.extend(felt.map(|felt| EntryKind::Symptom { felt }));
    let entry = |what| Entry::new(when, now, Source::by_hand(), what);
    Ok(whats.into_iter().map(entry).collect::<Result<_, _>>()?)
}
