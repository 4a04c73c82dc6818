//! What a prompt showed, kept beside what came after.

use serde::{Deserialize, Serialize};

use crate::error::{Error, Quantity, Result, Unit};
use crate::units::Glucose;

/// Why a prompt is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Occasion {
    /// The wearer looks, by day or by night.
    Look,
    /// An alert woke the wearer.
    Wake,
}

/// What the prompt says to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Take rescue carbohydrate now.
    Treat,
    /// Check with a meter before anything else.
    Check,
    /// Do nothing yet; look again at the time given.
    Hold,
    /// Nothing to decide.
    Clear,
    /// A person needs help, not an app.
    Help,
}

/// What the prompt is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Matter {
    /// Glucose is falling, low, or may become low.
    Falling,
    /// Glucose is high or rising.
    Rising,
    /// An alert in the night.
    NightWake,
    /// Neither.
    Steady,
    /// There is too little to say anything.
    TooLittle,
}

/// What was shown, so that it can be held against what happened.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Prompted {
    /// Why it was asked.
    pub occasion: Occasion,
    /// What it was about.
    pub matter: Matter,
    /// What it said to do.
    pub verdict: Verdict,
    /// With [`Verdict::Check`]: what it said to do without a meter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub without_meter: Option<Verdict>,
    /// The chance shown of a reading below the low line within 30 minutes, 0 to 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chance_low: Option<f64>,
    /// Where both futures were shown, the chance of blood glucose below the low line within an hour if nothing is done, 0 to 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chance_if_waiting: Option<f64>,
    /// The same if the first step of carbohydrate is taken at once.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chance_if_treating: Option<f64>,
    /// Where blood glucose was thought to be.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub blood_mg_dl: Option<Glucose>,
    /// In how many minutes to look again.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub look_again_minutes: Option<u16>,
}

impl Prompted {
    /// Whether this says what the other one said: the same verdict about the same matter.
    #[must_use]
    pub fn says_the_same(&self, other: &Self) -> bool {
        (self.verdict, self.matter) == (other.verdict, other.matter)
    }

    /// Checks what can be checked of it alone.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for a chance that is none.
    pub fn check(&self) -> Result<()> {
        let chances = [self.chance_low, self.chance_if_waiting, self.chance_if_treating];
        match chances.into_iter().flatten().find(|given| !(0.0..=1.0).contains(given)) {
            Some(given) => {
                Err(Error::OutOfRange { what: Quantity::Chance, given, low: 0.0, high: 1.0, unit: Unit::Share })
            }
            None => Ok(()),
        }
    }
}
