//! What the log holds, as plain records.

use ebbstead_core::log::{EntryId, Text};
use ebbstead_core::units::Glucose;
use ebbstead_core::words::Words;
use ebbstead_core::{Error, Result, log, time};

use crate::mirror::mirrored_names;
use crate::prompted::Prompted;
use crate::supplies::Supply;

/// An instant and the offset the wearer's clock had then.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, uniffi::Record, serde::Serialize)]
pub struct Moment {
    /// Unix time in milliseconds.
    pub unix_ms: i64,
    /// Minutes east of UTC.
    pub offset_minutes: i32,
}

impl From<time::Moment> for Moment {
    fn from(core: time::Moment) -> Self {
        Self { unix_ms: core.unix_ms(), offset_minutes: core.offset_minutes() }
    }
}

impl TryFrom<Moment> for time::Moment {
    type Error = Error;
    fn try_from(Moment { unix_ms, offset_minutes }: Moment) -> Result<Self> {
        Ok(Self::new(unix_ms, offset_minutes)?)
    }
}

mirrored_names! {
    /// Kinds of insulin, by how they act.
    InsulinKind = ebbstead_core::log::InsulinKind {
        /// Rapid-acting, taken as a bolus.
        Rapid,
        /// Long-acting, taken as basal.
        LongActing,
    }
}

mirrored_names! {
    /// What carbohydrate was taken for.
    Purpose = ebbstead_core::log::Purpose {
        /// Food.
        Meal,
        /// Fast carbohydrate against a low.
        Rescue,
    }
}

mirrored_names! {
    /// How hard an activity was.
    Effort = ebbstead_core::log::Effort {
        /// One could sing.
        Light,
        /// One could talk.
        Moderate,
        /// One could not talk.
        Hard,
    }
}

mirrored_names! {
    /// What the wearer feels.
    Symptom = ebbstead_core::log::Symptom {
        /// The wearer's own signs of a low.
        FeelsLow,
        /// The wearer's own signs of a high.
        FeelsHigh,
        /// Asked, and neither felt.
        Neither = None,
        /// Confused, cannot swallow, or does not respond: entered by someone else as a rule.
        Severe,
    }
}

mirrored_names! {
    /// What a sensor's device can report as wrong with it.
    DeviceFault = ebbstead_core::log::DeviceFault {
        /// The device does not accept this type of sensor.
        SensorType,
        /// The sensor malfunctions.
        SensorMalfunction,
        /// A general fault.
        General,
    }
}

/// What happened to a sensor.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Enum, serde::Serialize)]
pub enum SensorEvent {
    /// Put in.
    Inserted {
        /// Where on the body, in the wearer's own words.
        site: Option<String>,
        /// The lot, as on the package.
        #[uniffi(default = None)]
        lot: Option<String>,
        /// How many days it is rated for, 1 to 365.
        #[uniffi(default = None)]
        rated_days: Option<u16>,
    },
    /// The warm-up is over and readings begin to count.
    WarmUpOver,
    /// Taken off or expired.
    Ended,
    /// Something was wrong.
    Fault {
        /// What was seen, in the wearer's own words.
        seen: String,
    },
    /// The device reported that something was wrong.
    DeviceFault {
        /// What.
        code: DeviceFault,
    },
    /// The wearer lay on it and does no longer.
    RolledOff,
}

impl From<log::SensorEvent> for SensorEvent {
    fn from(core: log::SensorEvent) -> Self {
        match core {
            log::SensorEvent::Inserted { site, lot, rated_days } => {
                Self::Inserted { site: site.map(Into::into), lot: lot.map(Into::into), rated_days }
            }
            log::SensorEvent::WarmUpOver => Self::WarmUpOver,
            log::SensorEvent::Ended => Self::Ended,
            log::SensorEvent::RolledOff => Self::RolledOff,
            log::SensorEvent::Fault { seen } => Self::Fault { seen: seen.into() },
            log::SensorEvent::DeviceFault { code } => Self::DeviceFault { code: code.into() },
        }
    }
}

impl TryFrom<SensorEvent> for log::SensorEvent {
    type Error = Error;
    fn try_from(here: SensorEvent) -> Result<Self> {
        Ok(match here {
            SensorEvent::Inserted { site, lot, rated_days } => Self::Inserted {
                site: site.map(Text::new).transpose()?,
                lot: lot.map(Text::new).transpose()?,
                rated_days,
            },
            SensorEvent::WarmUpOver => Self::WarmUpOver,
            SensorEvent::Ended => Self::Ended,
            SensorEvent::RolledOff => Self::RolledOff,
            SensorEvent::Fault { seen } => Self::Fault { seen: Text::new(seen)? },
            SensorEvent::DeviceFault { code } => Self::DeviceFault { code: code.into() },
        })
    }
}

mirrored_names! {
    /// The side on which glucose lies beyond what an instrument measures.
    Beyond = ebbstead_core::log::Beyond {
        /// Too low to measure: below the limit.
        Below,
        /// Too high to measure: above the limit.
        Above,
    }
}

mirrored_names! {
    /// How ill the wearer is.
    Illness = ebbstead_core::log::Illness {
        /// Ill: fever, an infection, or the wearer's own words for it.
        Ill,
        /// Ill and vomiting, or unable to keep food and drink down.
        Vomiting,
        /// Well again.
        Over,
    }
}

/// What an entry says. Amounts of glucose in mg/dL, 20 to 600.
#[derive(Clone, Debug, PartialEq, uniffi::Enum, serde::Serialize)]
pub enum EntryKind {
    /// A continuous sensor's reading.
    SensorReading {
        /// The reading.
        mg_dl: f64,
    },
    /// A continuous sensor's reading that was too low or too high for it to measure.
    SensorBeyond {
        /// Too low or too high.
        beyond: Beyond,
        /// The limit that glucose was below or above.
        mg_dl: f64,
    },
    /// A finger-prick check with a meter.
    MeterCheck {
        /// What the meter showed.
        mg_dl: f64,
    },
    /// A finger-prick check that was too low or too high for the meter to measure.
    MeterBeyond {
        /// Too low or too high.
        beyond: Beyond,
        /// The limit that glucose was below or above.
        mg_dl: f64,
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
        /// Standard drinks of 10 g of alcohol, above 0 up to 40.
        drinks: f64,
    },
    /// Ketones in blood (beta-hydroxybutyrate), by a meter.
    Ketones {
        /// In mmol/L, 0 up to 20.
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
        activity: String,
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
    /// Something about the sensor.
    Sensor {
        /// What happened.
        event: SensorEvent,
    },
    /// How the wearer feels.
    Feeling {
        /// What is felt.
        felt: Symptom,
    },
    /// A free note.
    Note {
        /// The text, up to 2000 bytes.
        text: String,
    },
    /// A spell in which the sensor was pressed, from the entry's time.
    CompressionLow {
        /// When the readings were themselves again.
        until: Moment,
    },
    /// Something about supplies.
    Supply {
        /// What.
        supply: Supply,
    },
    /// What a prompt showed.
    Prompted {
        /// What.
        shown: Prompted,
    },
    /// A file that was brought in as a whole.
    Import {
        /// Its name.
        name: String,
    },
    /// Hides the entry named in `replaces`.
    Retraction,
}

impl From<log::EntryKind> for EntryKind {
    fn from(core: log::EntryKind) -> Self {
        match core {
            log::EntryKind::SensorReading { mg_dl } => Self::SensorReading { mg_dl: mg_dl.mg_dl() },
            log::EntryKind::SensorBeyond { beyond, mg_dl } => {
                Self::SensorBeyond { beyond: beyond.into(), mg_dl: mg_dl.mg_dl() }
            }
            log::EntryKind::MeterCheck { mg_dl } => Self::MeterCheck { mg_dl: mg_dl.mg_dl() },
            log::EntryKind::MeterBeyond { beyond, mg_dl } => {
                Self::MeterBeyond { beyond: beyond.into(), mg_dl: mg_dl.mg_dl() }
            }
            log::EntryKind::Insulin { insulin, units } => Self::Insulin { insulin: insulin.into(), units },
            log::EntryKind::Carbohydrate { grams, purpose } => Self::Carbohydrate { grams, purpose: purpose.into() },
            log::EntryKind::Alcohol { drinks } => Self::Alcohol { drinks },
            log::EntryKind::Ketones { mmol_l } => Self::Ketones { mmol_l },
            log::EntryKind::Illness { illness } => Self::Illness { illness: illness.into() },
            log::EntryKind::Activity { activity, minutes, effort } => {
                Self::Activity { activity: activity.into(), minutes, effort: effort.into() }
            }
            log::EntryKind::Sleep { until } => Self::Sleep { until: until.into() },
            log::EntryKind::Sensor(event) => Self::Sensor { event: event.into() },
            log::EntryKind::Symptom { felt } => Self::Feeling { felt: felt.into() },
            log::EntryKind::Note { text } => Self::Note { text: text.into() },
            log::EntryKind::CompressionLow { until } => Self::CompressionLow { until: until.into() },
            log::EntryKind::Supply(supply) => Self::Supply { supply: supply.into() },
            log::EntryKind::Prompted(prompted) => Self::Prompted { shown: prompted.into() },
            log::EntryKind::Import { name } => Self::Import { name: name.into() },
            log::EntryKind::Retraction => Self::Retraction,
        }
    }
}

impl TryFrom<EntryKind> for log::EntryKind {
    type Error = Error;
    fn try_from(here: EntryKind) -> Result<Self> {
        Ok(match here {
            EntryKind::SensorReading { mg_dl } => Self::SensorReading { mg_dl: Glucose::from_mg_dl(mg_dl)? },
            EntryKind::SensorBeyond { beyond, mg_dl } => {
                Self::SensorBeyond { beyond: beyond.into(), mg_dl: Glucose::from_mg_dl(mg_dl)? }
            }
            EntryKind::MeterCheck { mg_dl } => Self::MeterCheck { mg_dl: Glucose::from_mg_dl(mg_dl)? },
            EntryKind::MeterBeyond { beyond, mg_dl } => {
                Self::MeterBeyond { beyond: beyond.into(), mg_dl: Glucose::from_mg_dl(mg_dl)? }
            }
            EntryKind::Insulin { insulin, units } => Self::Insulin { insulin: insulin.into(), units },
            EntryKind::Carbohydrate { grams, purpose } => Self::Carbohydrate { grams, purpose: purpose.into() },
            EntryKind::Alcohol { drinks } => Self::Alcohol { drinks },
            EntryKind::Ketones { mmol_l } => Self::Ketones { mmol_l },
            EntryKind::Illness { illness } => Self::Illness { illness: illness.into() },
            EntryKind::Activity { activity, minutes, effort } => {
                Self::Activity { activity: Text::new(activity)?, minutes, effort: effort.into() }
            }
            EntryKind::Sleep { until } => Self::Sleep { until: until.try_into()? },
            EntryKind::Sensor { event } => Self::Sensor(event.try_into()?),
            EntryKind::Feeling { felt } => Self::Symptom { felt: felt.into() },
            EntryKind::Note { text } => Self::Note { text: Text::new(text)? },
            EntryKind::CompressionLow { until } => Self::CompressionLow { until: until.try_into()? },
            EntryKind::Supply { supply } => Self::Supply(supply.try_into()?),
            EntryKind::Prompted { shown: prompted } => Self::Prompted(prompted.try_into()?),
            EntryKind::Import { name } => Self::Import { name: Text::new(name)? },
            EntryKind::Retraction => Self::Retraction,
        })
    }
}

/// One fact of the log.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct Entry {
    /// Its identity, a UUID.
    pub id: String,
    /// When it happened.
    pub at: Moment,
    /// When it was put into a log.
    pub recorded: Moment,
    /// Where it came from.
    pub source: String,
    /// The entry this one corrects or retracts.
    pub replaces: Option<String>,
    /// The import it came with.
    pub import: Option<String>,
    /// What it says.
    pub what: EntryKind,
    /// The same in words, in the wearer's language and unit.
    pub text: String,
}

impl Entry {
    pub(crate) fn of(core: log::Entry, words: Words) -> Self {
        let text = words.what(&core.what);
        let log::Entry { id, at, recorded, source, replaces, import, what } = core;
        Self {
            id: id.to_string(),
            at: at.into(),
            recorded: recorded.into(),
            source: source.into(),
            replaces: replaces.map(|id| id.to_string()),
            import: import.map(|id| id.to_string()),
            what: what.into(),
            text,
        }
    }
}

/// Reads an identity as [`Entry::id`] writes it. One that is none is the identity of no entry.
pub(crate) fn entry_id(text: &str) -> Result<EntryId> {
    uuid::Uuid::parse_str(text).map(EntryId).map_err(|_| Error::NoSuchEntry { id: uuid::Uuid::nil() })
}
