//! What an entry's words and kinds are: texts and sources, kinds of insulin and carbohydrate, feelings, events of a sensor.

use serde::{Deserialize, Serialize};

use crate::error::{Error, Quantity, Result, Why};

/// A short text a person or a device gave: no control characters, at most [`Text::LONGEST`] bytes.
///
/// Signs that turn the direction of writing around are left out: they are not seen, and make "71" read as "17". A script that is
/// written from right to left needs none of them.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Text(String);

impl Text {
    /// The longest text taken, in bytes of UTF-8.
    pub const LONGEST: usize = 2000;

    /// Takes a text, without leading and trailing white space; line breaks are kept.
    ///
    /// # Errors
    /// [`Error::Invalid`] where it is empty, too long, or has control characters.
    pub fn new(text: impl Into<String>) -> Result<Self> {
        let text = text.into();
        let text = if text.contains(turns_direction) { text.replace(turns_direction, "") } else { text };
        let text = text.trim().to_owned();
        if text.is_empty() {
            return Err(Error::Invalid { what: Quantity::Text, why: Why::Empty });
        }
        if text.len() > Self::LONGEST {
            return Err(Error::Invalid { what: Quantity::Text, why: Why::TooLong { most_bytes: Self::LONGEST } });
        }
        if text.chars().any(|c| c.is_control() && c != '\n') {
            return Err(Error::Invalid { what: Quantity::Text, why: Why::ControlCharacters });
        }
        Ok(Self(text))
    }

    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// Whether a sign turns the direction of writing around.
///
/// # Source
/// Unicode Standard Annex 9, table of explicit directional embeddings, overrides and isolates (2.1 to 2.4).
#[must_use]
pub const fn turns_direction(sign: char) -> bool {
    matches!(sign, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

impl TryFrom<String> for Text {
    type Error = Error;
    fn try_from(text: String) -> Result<Self> {
        Self::new(text)
    }
}

impl From<Text> for String {
    fn from(text: Text) -> Self {
        text.0
    }
}

/// Where an entry came from: a sensor's own name, a meter's, a file's, or the wearer by hand.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Source(String);

impl Source {
    /// The longest source taken, in bytes of UTF-8.
    pub const LONGEST: usize = 80;

    /// Takes a source's name, without leading and trailing white space.
    ///
    /// # Errors
    /// [`Error::Invalid`] where it is empty, too long, or has control characters.
    pub fn new(name: impl Into<String>) -> Result<Self> {
        let name = Text::new(name).map_err(|error| match error {
            Error::Invalid { why, .. } => Error::Invalid { what: Quantity::Source, why },
            other => other,
        })?;
        if name.0.len() > Self::LONGEST || name.0.contains('\n') {
            return Err(Error::Invalid { what: Quantity::Source, why: Why::NotOneLine { most_bytes: Self::LONGEST } });
        }
        Ok(Self(name.0))
    }

    /// The wearer, by hand.
    #[must_use]
    pub fn by_hand() -> Self {
        Self("by hand".to_owned())
    }

    /// A sensor that nothing names: of a file of readings, say. One name for all such, so that a reading that comes in two files, or to
    /// two devices, is one entry.
    #[must_use]
    pub fn unnamed_sensor() -> Self {
        Self("sensor".to_owned())
    }

    /// The name.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl TryFrom<String> for Source {
    type Error = Error;
    fn try_from(name: String) -> Result<Self> {
        Self::new(name)
    }
}

impl From<Source> for String {
    fn from(source: Source) -> Self {
        source.0
    }
}

/// Kinds of insulin, by how they act.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum InsulinKind {
    /// Rapid-acting, taken as a bolus.
    Rapid,
    /// Long-acting, taken as basal.
    LongActing,
}

/// What carbohydrate was taken for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Purpose {
    /// Food.
    Meal,
    /// Fast carbohydrate against a low.
    Rescue,
}

/// How hard an activity was.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Effort {
    /// One could sing.
    Light,
    /// One could talk.
    Moderate,
    /// One could not talk.
    Hard,
}

/// What the wearer feels.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Symptom {
    /// Shaky, sweating, hungry, or the wearer's own signs of a low.
    FeelsLow,
    /// Thirsty, or the wearer's own signs of a high.
    FeelsHigh,
    /// Asked, and nothing felt.
    None,
    /// Confused, cannot swallow, or does not respond: entered by someone else as a rule.
    Severe,
}

/// How ill the wearer is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Illness {
    /// Ill: fever, an infection, or the wearer's own words for it.
    Ill,
    /// Ill and vomiting, or unable to keep food and drink down.
    Vomiting,
    /// Well again.
    Over,
}

/// What happened to a sensor.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "event")]
pub enum SensorEvent {
    /// Put in.
    Inserted {
        /// Where on the body, in the wearer's own words.
        site: Option<Text>,
        /// The lot, as on the package.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        lot: Option<Text>,
        /// How many days it is rated for, as on the package: 1 to [`SensorEvent::LONGEST_RATED_DAYS`].
        #[serde(default, skip_serializing_if = "Option::is_none")]
        rated_days: Option<u16>,
    },
    /// The warm-up is over and readings begin to count.
    WarmUpOver,
    /// Taken off or expired.
    Ended,
    /// Something was wrong.
    Fault {
        /// What was seen, in the wearer's own words.
        seen: Text,
    },
    /// The device reported that something was wrong.
    DeviceFault {
        /// What it was, as a code: words would give it another identity in every language.
        code: DeviceFault,
    },
    /// The wearer lay on it and does no longer: a pressed sensor's readings come back now.
    RolledOff,
}

/// What a sensor's device can report as wrong with it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DeviceFault {
    /// The device does not accept this type of sensor.
    SensorType,
    /// The sensor malfunctions.
    SensorMalfunction,
    /// A general fault.
    General,
}

impl DeviceFault {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::SensorType, Self::SensorMalfunction, Self::General];
}

impl SensorEvent {
    /// The longest rated length taken, in days.
    pub const LONGEST_RATED_DAYS: u16 = 365;

    /// A sensor put in at a site, if one is named, with nothing read off its package.
    #[must_use]
    pub const fn inserted(site: Option<Text>) -> Self {
        Self::Inserted { site, lot: None, rated_days: None }
    }
}
