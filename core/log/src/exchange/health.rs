//! Glucose that other apps keep in a phone's health store, where a sensor's readings and meter checks lie side by side: which of
//! them a value is. One rule for every phone's store; each says less or more about a value.

use crate::error::Result;
use crate::log::{Entry, EntryKind, Source};
use crate::time::Moment;
use crate::units::{Glucose, GlucoseUnit};

/// What was measured in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Specimen {
    /// The store does not say, or cannot.
    Unknown,
    /// Fluid under the skin: a sensor's.
    InterstitialFluid,
    /// Blood from a finger, or of a laboratory: whole blood, plasma, serum.
    Blood,
    /// Something else, such as tears.
    Other,
}

/// What a value is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// A sensor's reading.
    Sensor,
    /// A meter check.
    Meter,
    /// Nothing says which: kept as a sensor's, since a meter check outranks a sensor's reading and must not be one by mistake.
    Unclear,
    /// Neither: not for the log.
    Neither,
}

/// A value of a health store.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HealthValue {
    /// When it was measured: Unix time in milliseconds.
    pub unix_ms: i64,
    /// The offset of the wearer's clock from UTC then, in minutes.
    pub offset_minutes: i32,
    /// How much, in `unit`.
    pub amount: f64,
    /// The unit of `amount`.
    pub unit: GlucoseUnit,
    /// What was measured in.
    pub specimen: Specimen,
    /// Whether a person typed it.
    pub typed: bool,
    /// Whether it is tied to a meal: before, after, fasting.
    pub tied_to_meal: bool,
}

impl HealthValue {
    /// Which of the two it is. What it was measured in decides; where the store does not say, what a person typed or tied to a meal is a
    /// meter check (assumption: apps that write for a sensor do neither).
    #[must_use]
    pub const fn kind(&self) -> Kind {
        match self.specimen {
            Specimen::Blood => Kind::Meter,
            // Typed or not: it is what a sensor showed.
            Specimen::InterstitialFluid => Kind::Sensor,
            Specimen::Other => Kind::Neither,
            Specimen::Unknown if self.typed || self.tied_to_meal => Kind::Meter,
            Specimen::Unknown => Kind::Unclear,
        }
    }

    /// The entry that it makes; nothing where it is neither kind. Recording it again changes nothing.
    ///
    /// # Errors
    /// [`crate::Error::OutOfRange`] for an amount that no log takes, [`crate::Error::Invalid`] for a time that cannot be.
    pub fn entry(&self, source: &Source, now: Moment) -> Result<Option<Entry>> {
        let mg_dl = Glucose::new(self.amount, self.unit)?;
        let what = match self.kind() {
            Kind::Sensor | Kind::Unclear => EntryKind::SensorReading { mg_dl },
            Kind::Meter => EntryKind::MeterCheck { mg_dl },
            Kind::Neither => return Ok(None),
        };
        Entry::received(Moment::new(self.unix_ms, self.offset_minutes)?, now, source.clone(), what).map(Some)
    }
}

/// What to know of values that came.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HealthRemark {
    /// So many of which nothing says what measured them were kept as a sensor's readings.
    Unclear {
        /// How many.
        count: u64,
    },
    /// So many are not in the log: no meter or sensor reads such an amount, the time cannot be, or neither measured them.
    LeftOut {
        /// How many.
        count: u64,
    },
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(specimen: Specimen, typed: bool, tied_to_meal: bool) -> HealthValue {
        let unit = GlucoseUnit::MmolL;
        HealthValue { unix_ms: 1_773_517_800_000, offset_minutes: 60, amount: 6.0, unit, specimen, typed, tied_to_meal }
    }

    #[test]
    fn what_was_measured_in_decides_and_then_who_wrote_it() {
        for (typed, meal) in [(false, false), (true, false), (false, true), (true, true)] {
            assert_eq!(value(Specimen::Blood, typed, meal).kind(), Kind::Meter);
            assert_eq!(value(Specimen::InterstitialFluid, typed, meal).kind(), Kind::Sensor);
            assert_eq!(value(Specimen::Other, typed, meal).kind(), Kind::Neither);
            let unknown = if typed || meal { Kind::Meter } else { Kind::Unclear };
            assert_eq!(value(Specimen::Unknown, typed, meal).kind(), unknown);
        }
    }

    #[test]
    fn an_entry_has_the_kind_the_amount_and_an_identity_that_stays() {
        let (source, now) = (Source::new("health records").unwrap(), Moment::new(1_773_518_000_000, 60).unwrap());
        let entry = |value: HealthValue| value.entry(&source, now);
        let sensor = entry(value(Specimen::Unknown, false, false)).unwrap().unwrap();
        let EntryKind::SensorReading { mg_dl } = sensor.what else { panic!("{sensor:?}") };
        assert!((mg_dl.mmol_l() - 6.0).abs() < 0.01, "{mg_dl:?}");
        let check = entry(value(Specimen::Blood, false, false)).unwrap().unwrap();
        assert!(matches!(check.what, EntryKind::MeterCheck { .. }), "{check:?}");
        let later = value(Specimen::Blood, false, false).entry(&source, now.plus_minutes(60.0)).unwrap().unwrap();
        assert_eq!(later.id, check.id);
        assert_eq!(entry(value(Specimen::Other, false, false)).unwrap(), None);
        for cannot_be in [
            HealthValue { amount: 0.0, ..value(Specimen::Blood, false, false) },
            HealthValue { amount: f64::NAN, ..value(Specimen::Blood, false, false) },
            HealthValue { unix_ms: i64::MAX, ..value(Specimen::Blood, false, false) },
            HealthValue { unix_ms: now.plus_minutes(600.0).unix_ms(), ..value(Specimen::Blood, false, false) },
            HealthValue { offset_minutes: 100_000, ..value(Specimen::Blood, false, false) },
        ] {
            assert!(entry(cannot_be).is_err(), "{cannot_be:?}");
        }
    }
}
