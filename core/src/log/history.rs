//! What holds now: entries with corrections applied and retractions left out, sorted, by kind.

use crate::log::entry::{Effort, Entry, InsulinKind, Purpose, SensorEvent, Symptom, Text, What};
use crate::log::standing::Standing;
use crate::time::Moment;
use crate::units::Glucose;

/// Leaves out every entry that was corrected or retracted, whatever came only with an undone import, and the retractions
/// themselves; sorts by time, then identity.
///
/// Where two corrections of one entry exist (made on two phones), the one recorded later holds, by identity if both were
/// recorded at once. A retraction beats a correction of the same entry, since hiding is the stronger word; correcting a
/// hidden entry afresh is possible by correcting the retraction. Retracting a correction hides the whole fact and does not
/// bring back what was corrected. Entries with one identity are one: the copy recorded first is kept. The result depends
/// on neither the order of `entries` nor how often each is given.
#[must_use]
pub fn resolve(entries: Vec<Entry>) -> Vec<Entry> {
    let (mut entries, standing) = Standing::weigh(entries);
    entries.retain(|entry| standing.holds(entry.id));
    entries.sort_by_key(|entry| (entry.at, entry.id));
    entries
}

/// A sensor reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// When the sensor read.
    pub at: Moment,
    /// What it read.
    pub glucose: Glucose,
}

/// A meter check.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeterCheck {
    /// When it was made.
    pub at: Moment,
    /// What the meter showed.
    pub glucose: Glucose,
}

/// Insulin taken.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dose {
    /// When.
    pub at: Moment,
    /// Rapid or long-acting.
    pub kind: InsulinKind,
    /// Units.
    pub units: f64,
}

/// Carbohydrate taken.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Carbohydrate {
    /// When.
    pub at: Moment,
    /// Grams.
    pub grams: f64,
    /// What for.
    pub purpose: Purpose,
}

/// Movement.
#[derive(Clone, Debug, PartialEq)]
pub struct Activity {
    /// When it began.
    pub at: Moment,
    /// What it was.
    pub name: Text,
    /// Minutes.
    pub minutes: f64,
    /// How hard.
    pub effort: Effort,
}

/// Sleep.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sleep {
    /// When it began.
    pub from: Moment,
    /// When it ended.
    pub until: Moment,
}

/// A feeling.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Felt {
    /// When.
    pub at: Moment,
    /// What.
    pub symptom: Symptom,
}

/// Something about the sensor.
#[derive(Clone, Debug, PartialEq)]
pub struct SensorNote {
    /// When.
    pub at: Moment,
    /// What.
    pub event: SensorEvent,
}

/// A spell in which the sensor was pressed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PressedSpell {
    /// From.
    pub from: Moment,
    /// Until.
    pub until: Moment,
}

/// A stretch of the log as it holds now, each kind sorted by time.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct History {
    /// Sensor readings, one at most an instant.
    pub readings: Vec<Reading>,
    /// Meter checks.
    pub meter_checks: Vec<MeterCheck>,
    /// Insulin.
    pub doses: Vec<Dose>,
    /// Carbohydrate.
    pub carbohydrate: Vec<Carbohydrate>,
    /// Movement.
    pub activities: Vec<Activity>,
    /// Sleep.
    pub sleep: Vec<Sleep>,
    /// How the wearer felt.
    pub symptoms: Vec<Felt>,
    /// Sensor events.
    pub sensor: Vec<SensorNote>,
    /// Spells in which the sensor was pressed.
    pub pressed: Vec<PressedSpell>,
}

impl History {
    /// Sorts entries by kind, after [`resolve`].
    ///
    /// Where several readings claim one instant, the lowest is used: overlooking a low is the worse mistake.
    #[must_use]
    pub fn of(entries: Vec<Entry>) -> Self {
        Self::of_resolved(resolve(entries))
    }

    /// As [`History::of`], of entries that all hold.
    pub(crate) fn of_resolved(entries: Vec<Entry>) -> Self {
        let mut history = Self::default();
        for Entry { at, what, .. } in entries {
            match what {
                What::SensorReading { mg_dl } => history.readings.push(Reading { at, glucose: mg_dl }),
                What::MeterCheck { mg_dl } => history.meter_checks.push(MeterCheck { at, glucose: mg_dl }),
                What::Insulin { insulin, units } => history.doses.push(Dose { at, kind: insulin, units }),
                What::Carbohydrate { grams, purpose } => history.carbohydrate.push(Carbohydrate { at, grams, purpose }),
                What::Activity { activity, minutes, effort } => {
                    history.activities.push(Activity { at, name: activity, minutes, effort });
                }
                What::Sleep { until } => history.sleep.push(Sleep { from: at, until }),
                What::Sensor(event) => history.sensor.push(SensorNote { at, event }),
                What::Symptom { felt } => history.symptoms.push(Felt { at, symptom: felt }),
                What::PressedSpell { until } => history.pressed.push(PressedSpell { from: at, until }),
                What::Note { .. } | What::Import { .. } | What::Retraction => {}
            }
        }
        history.settle_readings();
        history
    }

    /// Brings readings that were pushed directly (a store's fast path, a replayed file) into order, one an instant.
    pub fn settle_readings(&mut self) {
        let order = |a: &Reading, b: &Reading| {
            a.at.unix_ms().cmp(&b.at.unix_ms()).then(a.glucose.mg_dl().total_cmp(&b.glucose.mg_dl()))
        };
        self.readings.sort_by(order);
        self.readings.dedup_by_key(|reading| reading.at.unix_ms());
    }

    /// The part of this history up to and including `now`: what could be known then.
    #[must_use]
    pub fn until(&self, now: Moment) -> Self {
        fn kept<T: Clone>(all: &[T], now: Moment, at: impl Fn(&T) -> Moment) -> Vec<T> {
            all.iter().filter(|one| at(one).unix_ms() <= now.unix_ms()).cloned().collect()
        }
        Self {
            readings: kept(&self.readings, now, |one| one.at),
            meter_checks: kept(&self.meter_checks, now, |one| one.at),
            doses: kept(&self.doses, now, |one| one.at),
            carbohydrate: kept(&self.carbohydrate, now, |one| one.at),
            activities: kept(&self.activities, now, |one| one.at),
            sleep: kept(&self.sleep, now, |one| one.from),
            symptoms: kept(&self.symptoms, now, |one| one.at),
            sensor: kept(&self.sensor, now, |one| one.at),
            pressed: kept(&self.pressed, now, |one| one.until),
        }
    }
}
