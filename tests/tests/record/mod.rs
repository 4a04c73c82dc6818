//! The record: supplies, the outcomes of prompts, two sensors at once, and bad input.

#![allow(clippy::unwrap_used, clippy::panic, clippy::float_cmp)] // a test may stop where it stands
// The casts fit: counts of readings.

mod bad_input;
mod outcomes;
mod supplies;

use ebbstead_core::log::{Entry, EntryKind, Reading, Source};
use ebbstead_core::time::Moment;
use ebbstead_core::units::Glucose;

/// Some minutes after the first instant of a Sunday.
fn at(minutes: f64) -> Moment {
    Moment::parse("2026-03-01T00:00:00+01:00").unwrap().plus_minutes(minutes)
}

fn days(days: f64) -> Moment {
    at(days * 1440.0)
}

fn mg(amount: f64) -> Glucose {
    Glucose::from_mg_dl(amount).unwrap()
}

fn near(found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "{found} is not {wanted}");
}

/// Readings every 5 minutes from one day to another, as a function of minutes says.
fn readings(from: f64, until: f64, of: impl Fn(f64) -> f64) -> Vec<Reading> {
    let (from, until) = (from * 1440.0, until * 1440.0);
    let count = ((until - from) / 5.0) as u32;
    let minutes = (0..count).map(|k| from + 5.0 * f64::from(k));
    minutes.map(|minute| Reading::new(at(minute), mg(of(minute)))).collect()
}

fn entry(when: Moment, source: &str, what: EntryKind) -> Entry {
    Entry::new(when, when, Source::new(source).unwrap(), what).unwrap()
}
