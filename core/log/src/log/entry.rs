//! One entry of the log and what it may say.

use std::fmt;

use serde::{Deserialize, Serialize};
use uuid::Uuid;

use crate::error::{Error, Quantity, Result, Unit, Why};
use crate::log::{
    Beyond, Effort, Illness, InsulinKind, Prompted, Purpose, SensorEvent, Shown, Source, Supply, Symptom, Text,
};
use crate::time::{DAY_MS, Moment};
use crate::units::Glucose;

/// The identity of an entry: a UUID of version 7 (RFC 9562), so identities sort by time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct EntryId(pub Uuid);

impl EntryId {
    /// A fresh identity for something noted at `recorded`, with random tail bits.
    #[must_use]
    pub fn fresh(recorded: Moment) -> Self {
        let seconds = u64::try_from(recorded.unix_ms() / 1000).unwrap_or_default();
        let nanos = u32::try_from(recorded.unix_ms() % 1000).unwrap_or_default() * 1_000_000;
        Self(Uuid::new_v7(uuid::Timestamp::from_unix(uuid::NoContext, seconds, nanos)))
    }

    /// The identity of a sensor reading: its own time in front, and a tail made from source and amount.
    ///
    /// Two phones that receive the same reading give it the same identity, so that merging their logs does not double it.
    #[must_use]
    pub fn of_reading(source: &Source, at: Moment, glucose: Glucose) -> Self {
        let mut content = [0_u8; Source::LONGEST + 4];
        let name = source.as_str().as_bytes();
        content[..name.len()].copy_from_slice(name);
        content[name.len()..name.len() + 4].copy_from_slice(&hundredths(glucose).to_be_bytes());
        Self::of_content(at, &content[..name.len() + 4])
    }

    /// The identity of anything else that a device or a file said and may say again: made from what it is, like a reading's.
    #[must_use]
    fn of_received(source: &Source, at: Moment, what: &EntryKind) -> Self {
        match what {
            EntryKind::SensorReading { mg_dl } => Self::of_reading(source, at, *mg_dl),
            other => Self::of_content(at, format!("{}\n{}", source.as_str(), other.canonical()).as_bytes()),
        }
    }

    fn of_content(at: Moment, content: &[u8]) -> Self {
        let low = fnv_1a(content);
        let mut bytes = [0_u8; 10];
        bytes[..8].copy_from_slice(&low.to_be_bytes());
        bytes[8..].copy_from_slice(&fnv_1a(&low.to_be_bytes()).to_be_bytes()[..2]);
        let ms = u64::try_from(at.unix_ms()).unwrap_or_default();
        Self(uuid::Builder::from_unix_timestamp_millis(ms, &bytes).into_uuid())
    }

    /// Six digits to distinguish entries in lists, made from all of the identity: its end alone is the same for whatever a device
    /// said twice. Two of some thousand entries may still share one.
    #[must_use]
    pub fn mark(self) -> String {
        format!("{:06x}", fnv_1a(self.0.as_bytes()) >> 40)
    }

    /// The instant in front of the identity, in milliseconds of Unix time: of a reading its own time.
    #[must_use]
    pub fn unix_ms(self) -> i64 {
        self.0.as_bytes()[..6].iter().fold(0, |ms, byte| ms << 8 | i64::from(*byte))
    }
}

impl fmt::Display for EntryId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// A reading's amount in hundredths of mg/dL: the precision the log keeps, finer than any instrument's.
#[must_use]
// The casts fit: 20 to 600 mg/dL.
pub(crate) fn hundredths(glucose: Glucose) -> u32 {
    (glucose.mg_dl() * 100.0).round() as u32
}

/// The amount that [`hundredths`] wrote.
pub(crate) fn from_hundredths(hundredths: u32) -> Result<Glucose> {
    Ok(Glucose::from_mg_dl(f64::from(hundredths) / 100.0)?)
}

/// 64-bit FNV-1a: the identity must never change between builds, which the standard hasher does not promise.
///
/// Source: Fowler, Noll, Vo; draft-eastlake-fnv, "The FNV Non-Cryptographic Hash Algorithm".
fn fnv_1a(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |hash, byte| (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3))
}

/// What an entry says.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "kind")]
pub enum EntryKind {
    /// A continuous sensor's reading of interstitial glucose.
    SensorReading {
        /// The reading.
        mg_dl: Glucose,
    },
    /// A continuous sensor's reading that was too low or too high for it to measure.
    SensorBeyond {
        /// Too low or too high.
        beyond: Beyond,
        /// The limit that glucose was below or above.
        mg_dl: Glucose,
    },
    /// A finger-prick check with a meter.
    MeterCheck {
        /// What the meter showed.
        mg_dl: Glucose,
    },
    /// A finger-prick check that was too low or too high for the meter to measure.
    MeterBeyond {
        /// Too low or too high.
        beyond: Beyond,
        /// The limit that glucose was below or above.
        mg_dl: Glucose,
    },
    /// Insulin taken.
    Insulin {
        /// Rapid or long-acting.
        insulin: InsulinKind,
        /// Units taken, above 0 up to 150.
        units: f64,
    },
    /// Carbohydrate taken.
    Carbohydrate {
        /// Grams, above 0 up to 500.
        grams: f64,
        /// A meal, or rescue carbohydrate.
        purpose: Purpose,
    },
    /// Alcohol drunk.
    Alcohol {
        /// Standard drinks of [`EntryKind::DRINK_G`] of alcohol each, above 0 up to 40.
        drinks: f64,
    },
    /// Ketones in blood (beta-hydroxybutyrate), by a meter.
    Ketones {
        /// In mmol/L, 0 up to [`EntryKind::MOST_KETONES_MMOL_L`].
        mmol_l: f64,
    },
    /// How ill the wearer is from the entry's time on.
    Illness {
        /// How ill.
        illness: Illness,
    },
    /// Movement.
    Activity {
        /// What it was, in the wearer's own words.
        activity: Text,
        /// How long, above 0 up to 1440 minutes.
        minutes: f64,
        /// How hard.
        effort: Effort,
    },
    /// Sleep, from the entry's time.
    Sleep {
        /// When it ended.
        until: Moment,
    },
    /// Something about a sensor. The entry's source is the name of the sensor it is about, the same as its readings'; where
    /// the source is the wearer by hand, it is the one sensor worn.
    Sensor(SensorEvent),
    /// How the wearer feels.
    Symptom {
        /// What is felt.
        felt: Symptom,
    },
    /// A free note.
    Note {
        /// The text.
        text: Text,
    },
    /// A spell in which the sensor was pressed rather than glucose low, from the entry's time; found by the core or said
    /// by the wearer. Review may leave it out.
    #[serde(rename = "pressed_spell")]
    CompressionLow {
        /// When the readings were themselves again.
        until: Moment,
    },
    /// Something about supplies.
    Supply(Supply),
    /// What a prompt showed. Kept by the shell that showed it, not by the wearer: undoing passes it over.
    Prompted(Prompted),
    /// A file or another bulk of entries that was brought in as a whole. Entries that came with it name it in
    /// [`Entry::import`]; retracting it hides all of them that came no other way.
    Import {
        /// What was brought in: a file's name, say.
        name: Text,
    },
    /// Hides the entry named in `replaces`.
    Retraction,
}

impl EntryKind {
    /// The least of what is taken that is noted by hand, in units, grams or drinks: lists show hundredths. Pumps give insulin in steps of
    /// a fortieth of a unit or more (common practice, no source).
    const LEAST_TAKEN: f64 = 0.01;
    /// The most insulin one entry takes, in units: far above a single dose, so it only catches slips of the finger.
    const MOST_INSULIN_UNITS: f64 = 150.0;
    /// The most carbohydrate one entry takes, in grams.
    const MOST_CARBOHYDRATE_G: f64 = 500.0;
    /// The most alcohol one entry takes, in standard drinks.
    const MOST_DRINKS: f64 = 40.0;
    /// The highest ketones one entry takes, in mmol/L.
    pub const MOST_KETONES_MMOL_L: f64 = ebbstead_engine::body::sick::MOST_KETONES_MMOL_L;
    /// The alcohol of one standard drink, in grams: about a quarter of a litre of beer or a tenth of wine.
    ///
    /// Source: the World Health Organization's standard drink (AUDIT manual, 2nd ed. 2001, from memory). Some countries count
    /// in 8, 12 or 14 g.
    pub const DRINK_G: f64 = 10.0;

    /// A sensor's reading of what it showed.
    #[must_use]
    pub const fn read_by_sensor(shown: Shown) -> Self {
        match shown {
            Shown { glucose: mg_dl, beyond: None } => Self::SensorReading { mg_dl },
            Shown { glucose: mg_dl, beyond: Some(beyond) } => Self::SensorBeyond { beyond, mg_dl },
        }
    }

    /// A meter's check of what it showed.
    #[must_use]
    pub const fn checked_by_meter(shown: Shown) -> Self {
        match shown {
            Shown { glucose: mg_dl, beyond: None } => Self::MeterCheck { mg_dl },
            Shown { glucose: mg_dl, beyond: Some(beyond) } => Self::MeterBeyond { beyond, mg_dl },
        }
    }

    /// Where this came from, if the file or device does not name a source: readings from the sensor worn, everything else by hand. The one rule for
    /// every file, so that the same bytes make the same entries wherever they are read.
    #[must_use]
    pub fn source_unnamed(&self, sensor: &Source) -> Source {
        if self.sensor().is_some() { sensor.clone() } else { Source::by_hand() }
    }

    /// What a sensor showed, if this is a sensor's reading.
    #[must_use]
    pub const fn sensor(&self) -> Option<Shown> {
        match self {
            Self::SensorReading { mg_dl } => Some(Shown { glucose: *mg_dl, beyond: None }),
            Self::SensorBeyond { beyond, mg_dl } => Some(Shown { glucose: *mg_dl, beyond: Some(*beyond) }),
            _ => None,
        }
    }

    /// What a meter showed, if this is a check with one.
    #[must_use]
    pub const fn meter(&self) -> Option<Shown> {
        match self {
            Self::MeterCheck { mg_dl } => Some(Shown { glucose: *mg_dl, beyond: None }),
            Self::MeterBeyond { beyond, mg_dl } => Some(Shown { glucose: *mg_dl, beyond: Some(*beyond) }),
            _ => None,
        }
    }

    /// The same, with glucose to the hundredth of mg/dL: the precision the log keeps.
    #[must_use]
    pub(crate) fn into_precision(self) -> Self {
        let settled = |mg_dl: Glucose| from_hundredths(hundredths(mg_dl)).unwrap_or(mg_dl);
        match self {
            Self::SensorReading { mg_dl } => Self::SensorReading { mg_dl: settled(mg_dl) },
            Self::SensorBeyond { beyond, mg_dl } => Self::SensorBeyond { beyond, mg_dl: settled(mg_dl) },
            Self::MeterCheck { mg_dl } => Self::MeterCheck { mg_dl: settled(mg_dl) },
            Self::MeterBeyond { beyond, mg_dl } => Self::MeterBeyond { beyond, mg_dl: settled(mg_dl) },
            Self::Prompted(shown) => Self::Prompted(Prompted { blood_mg_dl: shown.blood_mg_dl.map(settled), ..shown }),
            other => other,
        }
    }

    /// Refuses an amount that is noted and could only be shown as nothing. What another log or a file holds is kept as it is.
    fn check_can_be_shown(&self) -> Result<()> {
        let least = Self::LEAST_TAKEN;
        let (what, given, high, unit) = match self {
            Self::Insulin { units, .. } => (Quantity::Insulin, *units, Self::MOST_INSULIN_UNITS, Unit::InsulinUnits),
            Self::Carbohydrate { grams, .. } => {
                (Quantity::Carbohydrate, *grams, Self::MOST_CARBOHYDRATE_G, Unit::Grams)
            }
            Self::Alcohol { drinks } => (Quantity::Alcohol, *drinks, Self::MOST_DRINKS, Unit::Drinks),
            _ => return Ok(()),
        };
        if given > 0.0 && given < least {
            return Err(Error::OutOfRange { what, given, low: least, high, unit });
        }
        Ok(())
    }

    /// The JSON text the log keeps, always the same for the same content.
    #[must_use]
    pub(crate) fn canonical(&self) -> String {
        // Only maps with keys that are no text and failing writers make serde_json fail; there is neither here.
        serde_json::to_string(self).unwrap_or_default()
    }
}

/// One fact of the log.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Entry {
    /// Its identity.
    pub id: EntryId,
    /// When it happened.
    pub at: Moment,
    /// When it was put into a log.
    pub recorded: Moment,
    /// Where it came from.
    pub source: Source,
    /// The entry this one corrects or retracts.
    pub replaces: Option<EntryId>,
    /// The [`EntryKind::Import`] it came with, unless it was said or received on its own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub import: Option<EntryId>,
    /// What it says.
    pub what: EntryKind,
}

impl Entry {
    /// How far ahead of the caller's clock an entry may be, in milliseconds: device clocks differ by minutes.
    pub const AHEAD_OF_CLOCK_MS: i64 = 10 * crate::time::MINUTE_MS;

    /// Makes a new entry, checked.
    ///
    /// `recorded` is the caller's clock. A reading gets its identity from what it is, anything else a fresh one; see
    /// [`Entry::received`] for what a file or device may say twice. Glucose is taken to the hundredth of mg/dL.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] and [`Error::Invalid`] for amounts no person takes, spans that end before they begin or last
    /// over a day, a retraction that retracts nothing, a reading with an identity that is not its own, and times more than
    /// ten minutes in the future.
    pub fn new(at: Moment, recorded: Moment, source: Source, what: EntryKind) -> Result<Self> {
        let what = what.into_precision();
        let id = match &what {
            EntryKind::SensorReading { .. } | EntryKind::SensorBeyond { .. } => {
                EntryId::of_received(&source, at, &what)
            }
            _ => EntryId::fresh(recorded),
        };
        let entry = Self { id, at, recorded, source, replaces: None, import: None, what };
        entry.check()?;
        entry.what.check_can_be_shown()?;
        Ok(entry)
    }

    /// Makes an entry from a file or a device, checked. Its identity comes from what it is, so that receiving it again,
    /// here or on another phone, does not double it. Two equal things at one instant from one source are one.
    ///
    /// # Errors
    /// As [`Entry::new`].
    pub fn received(at: Moment, recorded: Moment, source: Source, what: EntryKind) -> Result<Self> {
        let what = what.into_precision();
        let id = EntryId::of_received(&source, at, &what);
        let entry = Self { id, at, recorded, source, replaces: None, import: None, what };
        entry.check()?;
        Ok(entry)
    }

    /// The order of every list of entries: by instant, then as they were recorded, then by identity, whose last bits are
    /// chance.
    pub(crate) const fn order(&self) -> (i64, i64, EntryId) {
        (self.at.unix_ms(), self.recorded.unix_ms(), self.id)
    }

    /// Makes the entry that corrects `self`: same time and source unless changed by the caller afterwards.
    ///
    /// # Errors
    /// As [`Entry::new`].
    pub fn corrected(&self, recorded: Moment, at: Moment, what: EntryKind) -> Result<Self> {
        let entry = Self {
            id: EntryId::fresh(recorded),
            at,
            recorded,
            source: self.source.clone(),
            replaces: Some(self.id),
            import: None,
            what: what.into_precision(),
        };
        entry.check()?;
        entry.what.check_can_be_shown()?;
        Ok(entry)
    }

    /// Makes the entry that hides `self`.
    #[must_use]
    pub fn retracted(&self, recorded: Moment) -> Self {
        Self {
            id: EntryId::fresh(recorded),
            at: self.at,
            recorded,
            source: Source::by_hand(),
            replaces: Some(self.id),
            import: None,
            what: EntryKind::Retraction,
        }
    }

    /// Checks everything a single entry can be checked for; what a store or an import runs on entries from elsewhere.
    ///
    /// # Errors
    /// As [`Entry::new`].
    pub fn check(&self) -> Result<()> {
        // A retraction has no time of its own; one must be possible whatever the clock says.
        let timeless = self.what == EntryKind::Retraction;
        if !timeless && self.at.unix_ms() > self.recorded.unix_ms().saturating_add(Self::AHEAD_OF_CLOCK_MS) {
            return Err(Error::Invalid {
                what: Quantity::Time,
                why: Why::InFuture { at: self.at, clock: self.recorded },
            });
        }
        let amount = |what, given: f64, high, unit| {
            if given.is_finite() && given > 0.0 && given <= high {
                Ok(())
            } else {
                Err(Error::OutOfRange { what, given, low: 0.0, high, unit })
            }
        };
        let span = |what, until: Moment| match until.unix_ms() - self.at.unix_ms() {
            1..=DAY_MS => Ok(()),
            ms if ms <= 0 => Err(Error::Invalid { what, why: Why::EndsBeforeItBegins }),
            _ => Err(Error::Invalid { what, why: Why::OverADay }),
        };
        match &self.what {
            EntryKind::Insulin { units, .. } => {
                amount(Quantity::Insulin, *units, EntryKind::MOST_INSULIN_UNITS, Unit::InsulinUnits)
            }
            EntryKind::Carbohydrate { grams, .. } => {
                amount(Quantity::Carbohydrate, *grams, EntryKind::MOST_CARBOHYDRATE_G, Unit::Grams)
            }
            EntryKind::Alcohol { drinks } => amount(Quantity::Alcohol, *drinks, EntryKind::MOST_DRINKS, Unit::Drinks),
            // A meter may well show 0.0.
            EntryKind::Ketones { mmol_l } if (0.0..=EntryKind::MOST_KETONES_MMOL_L).contains(mmol_l) => Ok(()),
            EntryKind::Ketones { mmol_l } => Err(Error::OutOfRange {
                what: Quantity::Ketones,
                given: *mmol_l,
                low: 0.0,
                high: EntryKind::MOST_KETONES_MMOL_L,
                unit: Unit::MmolL,
            }),
            EntryKind::Activity { minutes, .. } => amount(Quantity::Activity, *minutes, 1440.0, Unit::Minutes),
            EntryKind::Sleep { until } => span(Quantity::Sleep, *until),
            EntryKind::CompressionLow { until } => span(Quantity::CompressionLow, *until),
            EntryKind::Sensor(SensorEvent::Inserted { rated_days: Some(days), .. })
                if !(1..=SensorEvent::LONGEST_RATED_DAYS).contains(days) =>
            {
                let (given, high) = (f64::from(*days), f64::from(SensorEvent::LONGEST_RATED_DAYS));
                Err(Error::OutOfRange { what: Quantity::RatedLength, given, low: 1.0, high, unit: Unit::Days })
            }
            EntryKind::Supply(supply) => Ok(supply.check()?),
            EntryKind::Prompted(prompted) => Ok(prompted.check()?),
            EntryKind::Retraction if self.replaces.is_none() => {
                Err(Error::Invalid { what: Quantity::Retraction, why: Why::NamesNoEntry })
            }
            EntryKind::SensorReading { mg_dl }
                if self.replaces.is_none() && self.id != EntryId::of_reading(&self.source, self.at, *mg_dl) =>
            {
                Err(Error::Invalid { what: Quantity::Identity, why: Why::NotItsOwn })
            }
            EntryKind::SensorBeyond { beyond, mg_dl } | EntryKind::MeterBeyond { beyond, mg_dl } => {
                Ok(Shown { glucose: *mg_dl, beyond: Some(*beyond) }.check()?)
            }
            EntryKind::SensorReading { .. }
            | EntryKind::MeterCheck { .. }
            | EntryKind::Sensor(_)
            | EntryKind::Illness { .. }
            | EntryKind::Symptom { .. }
            | EntryKind::Note { .. }
            | EntryKind::Import { .. }
            | EntryKind::Retraction => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(text: &str) -> Moment {
        Moment::parse(text).unwrap()
    }

    fn mg(amount: f64) -> Glucose {
        Glucose::from_mg_dl(amount).unwrap()
    }

    #[test]
    fn marks_distinguish_what_a_device_said_again() {
        let source = Source::new("meter 1").unwrap();
        let what = EntryKind::MeterCheck { mg_dl: Glucose::from_mg_dl(104.0).unwrap() };
        let at = Moment::parse("2026-03-01T12:00:00+01:00").unwrap();
        let ids = (0..1000).map(|n| EntryId::of_received(&source, at.plus_minutes(f64::from(n)), &what));
        let marks: std::collections::HashSet<String> = ids.map(EntryId::mark).collect();
        // By chance, 1000 marks of 24 bits share one in 3 of 100 times; the end of these identities is the same in all.
        assert!(marks.len() >= 999 && marks.iter().all(|mark| mark.len() == 6), "{}", marks.len());
    }

    #[test]
    fn a_reading_has_the_same_identity_on_every_phone() {
        let (when, sensor) = (at("2026-03-01T03:05:00+01:00"), Source::new("sensor 7").unwrap());
        let id = EntryId::of_reading(&sensor, when, mg(101.0));
        assert_eq!(id, EntryId::of_reading(&sensor, when, mg(101.0)));
        assert_ne!(id, EntryId::of_reading(&sensor, when, mg(102.0)));
        assert_ne!(id, EntryId::of_reading(&Source::by_hand(), when, mg(101.0)));
        assert_eq!(id.0.get_version_num(), 7);
        // Frozen: a change here would double every reading of every existing log at the next merge.
        assert_eq!(id.to_string(), "019ca724-4ce0-7118-9c81-4e960101c46c");
    }

    #[test]
    fn what_a_file_says_twice_is_one_entry() {
        let (when, meter) = (at("2026-03-01T03:05:00+01:00"), Source::new("meter 2").unwrap());
        let said = |what| Entry::received(when, when, meter.clone(), what).unwrap().id;
        let check = said(EntryKind::MeterCheck { mg_dl: mg(101.0) });
        assert_eq!(check, said(EntryKind::MeterCheck { mg_dl: mg(101.0) }));
        assert_ne!(check, said(EntryKind::MeterCheck { mg_dl: mg(102.0) }));
        assert_ne!(check, said(EntryKind::SensorReading { mg_dl: mg(101.0) }));
        let low = |beyond, mg_dl| said(EntryKind::SensorBeyond { beyond, mg_dl });
        let below = low(Beyond::Below, mg(40.0));
        assert_eq!(below, low(Beyond::Below, mg(40.001)), "to the hundredth");
        let what = EntryKind::SensorBeyond { beyond: Beyond::Below, mg_dl: mg(40.0) };
        assert_eq!(
            below,
            Entry::new(when, when, meter.clone(), what.clone()).unwrap().id,
            "a sensor's, on every phone"
        );
        assert_eq!(what.canonical(), r#"{"kind":"sensor_beyond","beyond":"below","mg_dl":40.0}"#);
        assert_ne!(below, low(Beyond::Below, mg(50.0)));
        assert_ne!(below, said(EntryKind::SensorReading { mg_dl: mg(40.0) }));
        assert_ne!(below, said(EntryKind::MeterBeyond { beyond: Beyond::Below, mg_dl: mg(40.0) }));
        // Frozen, as above.
        assert_eq!(below.to_string(), "019ca724-4ce0-79ba-b22a-cf2a06e590ec");
        assert_eq!(check.to_string(), "019ca724-4ce0-7580-a616-11005efd73df");
        assert_eq!(check.unix_ms(), when.unix_ms());
    }

    #[test]
    fn identities_sort_by_time() {
        let (early, late) = (EntryId::fresh(at("2026-03-01T03:05:00Z")), EntryId::fresh(at("2026-03-01T03:05:01Z")));
        assert!(early < late);
    }

    #[test]
    fn refuses_what_cannot_be() {
        let (now, source) = (at("2026-03-01T12:00:00Z"), Source::by_hand());
        let refuse = |at: Moment, what: EntryKind| Entry::new(at, now, source.clone(), what).unwrap_err().to_string();
        for units in [0.0, -1.0, f64::NAN, 151.0, 1e308] {
            let text = refuse(now, EntryKind::Insulin { insulin: InsulinKind::Rapid, units });
            assert!(text.starts_with("insulin must be"), "{text}");
        }
        let later = now.plus_minutes(11.0);
        assert!(refuse(later, EntryKind::MeterCheck { mg_dl: mg(90.0) }).contains("future"));
        assert!(
            Entry::new(now.plus_minutes(9.0), now, source.clone(), EntryKind::MeterCheck { mg_dl: mg(90.0) }).is_ok()
        );
        assert!(refuse(now, EntryKind::Sleep { until: now }).contains("ends before"));
        assert!(refuse(now, EntryKind::Sleep { until: now.plus_minutes(1441.0) }).contains("over 24"));
        assert!(refuse(now, EntryKind::Retraction).contains("names no entry"));
        let beyond = |beyond, amount| refuse(now, EntryKind::MeterBeyond { beyond, mg_dl: mg(amount) });
        assert!(beyond(Beyond::Below, 71.0).starts_with("limit of too low to measure must be"));
        assert!(beyond(Beyond::Above, 179.0).starts_with("limit of too high to measure must be"));
        let mut reading = Entry::new(now, now, source.clone(), EntryKind::SensorReading { mg_dl: mg(90.0) }).unwrap();
        reading.what = EntryKind::SensorReading { mg_dl: mg(91.0) };
        assert!(reading.check().unwrap_err().to_string().contains("identity"));
        assert!(Text::new(" \t ").is_err() && Text::new("a\u{7}b").is_err() && Text::new("x".repeat(2001)).is_err());
    }
}
