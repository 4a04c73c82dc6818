//! A record as it holds now, sorted, by kind: what every judgement is made of.

use crate::log::follow::{Concurrent, Followed, settle};
use crate::log::prompted::Prompted;
use crate::log::shown::{Beyond, Shown};
use crate::log::supply::Supply;
use crate::log::values::{Effort, Illness, InsulinKind, Purpose, SensorEvent, Source, Symptom, Text};
use crate::time::Moment;
use crate::units::Glucose;

/// A sensor reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// When the sensor read.
    pub at: Moment,
    /// What it read; where glucose was beyond what it measures, the limit it was below or above.
    pub glucose: Glucose,
    /// The side on which it was beyond; nothing for an amount.
    pub beyond: Option<Beyond>,
}

impl Reading {
    /// A reading of an amount.
    #[must_use]
    pub const fn new(at: Moment, glucose: Glucose) -> Self {
        Self { at, glucose, beyond: None }
    }

    /// A reading of what a sensor showed.
    #[must_use]
    pub const fn of(at: Moment, shown: Shown) -> Self {
        Self { at, glucose: shown.glucose, beyond: shown.beyond }
    }

    /// What the sensor showed.
    #[must_use]
    pub const fn shown(&self) -> Shown {
        Shown { glucose: self.glucose, beyond: self.beyond }
    }
}

/// A meter check.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeterCheck {
    /// When it was made.
    pub at: Moment,
    /// What the meter showed; where glucose was beyond what it measures, the limit it was below or above.
    pub glucose: Glucose,
    /// The side on which it was beyond; nothing for an amount.
    pub beyond: Option<Beyond>,
}

impl MeterCheck {
    /// A check that showed an amount.
    #[must_use]
    pub const fn new(at: Moment, glucose: Glucose) -> Self {
        Self { at, glucose, beyond: None }
    }

    /// A check of what a meter showed.
    #[must_use]
    pub const fn of(at: Moment, shown: Shown) -> Self {
        Self { at, glucose: shown.glucose, beyond: shown.beyond }
    }

    /// What the meter showed.
    #[must_use]
    pub const fn shown(&self) -> Shown {
        Shown { glucose: self.glucose, beyond: self.beyond }
    }
}

/// Insulin taken.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dose {
    /// When it was taken.
    pub at: Moment,
    /// Rapid or long-acting.
    pub kind: InsulinKind,
    /// How much, in units.
    pub units: f64,
}

/// Carbohydrate taken.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Carbohydrate {
    /// When it was eaten.
    pub at: Moment,
    /// How much, in g.
    pub grams: f64,
    /// What for.
    pub purpose: Purpose,
}

/// Alcohol drunk.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drinking {
    /// When it was drunk.
    pub at: Moment,
    /// Standard drinks.
    pub drinks: f64,
}

/// Ketones in blood (beta-hydroxybutyrate), by a meter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KetoneCheck {
    /// When they were measured.
    pub at: Moment,
    /// In mmol/L.
    pub mmol_l: f64,
}

/// How ill the wearer was from a moment on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct IllNote {
    /// From when.
    pub at: Moment,
    /// How ill.
    pub illness: Illness,
}

/// Movement.
#[derive(Clone, Debug, PartialEq)]
pub struct Activity {
    /// When it began.
    pub at: Moment,
    /// What it was.
    pub name: Text,
    /// How long it lasted, in minutes.
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
    /// When it was felt.
    pub at: Moment,
    /// What was felt.
    pub symptom: Symptom,
}

/// Something about the sensor.
#[derive(Clone, Debug, PartialEq)]
pub struct SensorNote {
    /// When it happened.
    pub at: Moment,
    /// What happened.
    pub event: SensorEvent,
    /// The name of the sensor it speaks of, the same as its readings' source; nothing where it was not named.
    pub sensor: Option<Source>,
}

/// Something about supplies.
#[derive(Clone, Debug, PartialEq)]
pub struct SupplyNote {
    /// When it was noted.
    pub at: Moment,
    /// What was counted, received, used or offered.
    pub supply: Supply,
}

/// A prompt that was shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prompting {
    /// When it was shown.
    pub at: Moment,
    /// What it showed.
    pub shown: Prompted,
}

/// A spell in which the sensor was pressed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CompressionLow {
    /// From.
    pub from: Moment,
    /// Until.
    pub until: Moment,
}

/// A stretch of the log as it holds now, each kind sorted by time.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct History {
    /// Sensor readings, one at most an instant, and of one sensor at a time.
    pub readings: Vec<Reading>,
    /// From when on which source those are of.
    pub followed: Vec<Followed>,
    /// What other sensors worn at the same time read, by source.
    pub concurrent: Vec<Concurrent>,
    /// Meter checks.
    pub meter_checks: Vec<MeterCheck>,
    /// Insulin.
    pub doses: Vec<Dose>,
    /// Carbohydrate.
    pub carbohydrate: Vec<Carbohydrate>,
    /// Alcohol.
    pub alcohol: Vec<Drinking>,
    /// Ketones in blood.
    pub ketones: Vec<KetoneCheck>,
    /// Illness.
    pub illness: Vec<IllNote>,
    /// Movement.
    pub activities: Vec<Activity>,
    /// Sleep.
    pub sleep: Vec<Sleep>,
    /// How the wearer felt.
    pub symptoms: Vec<Felt>,
    /// Sensor events.
    pub sensor: Vec<SensorNote>,
    /// Spells in which the sensor was pressed.
    pub compression_lows: Vec<CompressionLow>,
    /// Supplies.
    pub supplies: Vec<SupplyNote>,
    /// Prompts that were shown.
    pub prompts: Vec<Prompting>,
}

impl History {
    /// Brings readings that were pushed one by one into order, one an instant.
    pub fn settle_readings(&mut self) {
        settle(&mut self.readings);
    }

    /// Whether the sensor was pressed at a moment, as the record marks it.
    #[must_use]
    pub fn is_compression_low(&self, at: Moment) -> bool {
        self.compression_lows.iter().any(|one| (one.from.unix_ms()..one.until.unix_ms()).contains(&at.unix_ms()))
    }

    /// Whether the wearer slept at a moment, as it was noted.
    #[must_use]
    pub fn is_asleep(&self, at: Moment) -> bool {
        self.sleep.iter().any(|one| (one.from.unix_ms()..one.until.unix_ms()).contains(&at.unix_ms()))
    }

    /// The part of this history up to and including `now`: what could be known then.
    #[must_use]
    pub fn until(&self, now: Moment) -> Self {
        fn kept<T: Clone>(all: &[T], now: Moment, at: impl Fn(&T) -> Moment) -> Vec<T> {
            all.iter().filter(|one| !at(one).is_after(now)).cloned().collect()
        }
        Self {
            readings: kept(&self.readings, now, |one| one.at),
            followed: kept(&self.followed, now, |one| one.from),
            concurrent: self
                .concurrent
                .iter()
                .map(|one| Concurrent { source: one.source.clone(), readings: kept(&one.readings, now, |one| one.at) })
                .filter(|one| !one.readings.is_empty())
                .collect(),
            meter_checks: kept(&self.meter_checks, now, |one| one.at),
            doses: kept(&self.doses, now, |one| one.at),
            carbohydrate: kept(&self.carbohydrate, now, |one| one.at),
            alcohol: kept(&self.alcohol, now, |one| one.at),
            ketones: kept(&self.ketones, now, |one| one.at),
            illness: kept(&self.illness, now, |one| one.at),
            activities: kept(&self.activities, now, |one| one.at),
            sleep: kept(&self.sleep, now, |one| one.from),
            symptoms: kept(&self.symptoms, now, |one| one.at),
            sensor: kept(&self.sensor, now, |one| one.at),
            compression_lows: kept(&self.compression_lows, now, |one| one.until),
            supplies: kept(&self.supplies, now, |one| one.at),
            prompts: kept(&self.prompts, now, |one| one.at),
        }
    }
}
