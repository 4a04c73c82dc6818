//! What a sensor or a meter shows: an amount, or that glucose is beyond what it measures.

use serde::{Deserialize, Serialize};

use crate::error::{Error, Quantity, Result, Unit};
use crate::units::{Glucose, whole_mg_dl};

/// The side on which glucose lies beyond what an instrument measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Beyond {
    /// Too low to measure: below the limit.
    Below,
    /// Too high to measure: above the limit.
    Above,
}

/// What measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Instrument {
    /// A continuous sensor.
    Sensor,
    /// A finger-prick meter.
    Meter,
}

impl Instrument {
    /// Where such an instrument's range ends on a side, used where a file or a device does not say it: 40 and 400 mg/dL of a
    /// sensor, 20 and 600 mg/dL of a meter (common practice, no source).
    #[must_use]
    pub const fn limit(self, beyond: Beyond) -> Glucose {
        match (self, beyond) {
            (Self::Sensor, Beyond::Below) => Glucose::SENSOR_LOWEST,
            (Self::Sensor, Beyond::Above) => Glucose::SENSOR_HIGHEST,
            (Self::Meter, Beyond::Below) => Glucose::LOWEST,
            (Self::Meter, Beyond::Above) => Glucose::HIGHEST,
        }
    }
}

/// What an instrument shows. Serialized as entries of the log are: `mg_dl`, and `beyond` where it is no amount.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Shown {
    /// The amount; where glucose is beyond what was measured, the limit it is below or above.
    #[serde(rename = "mg_dl")]
    pub glucose: Glucose,
    /// The side on which it is beyond; nothing for an amount.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub beyond: Option<Beyond>,
}

impl From<Glucose> for Shown {
    fn from(glucose: Glucose) -> Self {
        Self { glucose, beyond: None }
    }
}

impl Shown {
    /// The highest limit taken for "too low to measure", in mg/dL, and the lowest for "too high": what is said with a limit
    /// between them shows neither a low nor a high (common practice, no source).
    pub(crate) const LIMITS_MG_DL: (f64, f64) = (70.0, 180.0);

    /// The limit, in mg/dL, and the side of it on which glucose is; nothing for an amount.
    #[must_use]
    pub fn limit(self) -> Option<(Beyond, f64)> {
        self.beyond.map(|beyond| (beyond, self.glucose.mg_dl()))
    }

    /// Whether it is below a line, in whole mg/dL ([`whole_mg_dl`]). What was too low to measure is below its limit.
    #[must_use]
    pub fn is_below(self, line_mg_dl: f64) -> bool {
        let (shown, line) = (whole_mg_dl(self.glucose.mg_dl()), whole_mg_dl(line_mg_dl));
        shown < line || self.beyond == Some(Beyond::Below) && shown <= line
    }

    /// Whether it is above a line, in whole mg/dL ([`whole_mg_dl`]). What was too high to measure is above its limit.
    #[must_use]
    pub fn is_above(self, line_mg_dl: f64) -> bool {
        let (shown, line) = (whole_mg_dl(self.glucose.mg_dl()), whole_mg_dl(line_mg_dl));
        shown > line || self.beyond == Some(Beyond::Above) && shown >= line
    }

    /// Beyond the limit that such instruments usually have.
    #[must_use]
    pub const fn beyond(instrument: Instrument, beyond: Beyond) -> Self {
        Self { glucose: instrument.limit(beyond), beyond: Some(beyond) }
    }

    /// Checks that the limit of what is too low or too high to measure lies on its side of `Shown::LIMITS_MG_DL`.
    ///
    /// # Errors
    /// [`Error::OutOfRange`].
    pub fn check(&self) -> Result<()> {
        let (what, low, high) = match self.beyond {
            None => return Ok(()),
            Some(Beyond::Below) => (Quantity::LimitOfTooLow, Glucose::LOWEST.mg_dl(), Self::LIMITS_MG_DL.0),
            Some(Beyond::Above) => (Quantity::LimitOfTooHigh, Self::LIMITS_MG_DL.1, Glucose::HIGHEST.mg_dl()),
        };
        let given = self.glucose.mg_dl();
        if (low..=high).contains(&given) {
            return Ok(());
        }
        Err(Error::OutOfRange { what, given, low, high, unit: Unit::MgDl })
    }
}
