//! What the log keeps of a prompt that was shown.

use ebbstead_core::log;
use ebbstead_core::units::Glucose;
use ebbstead_core::{Error, Result};

use crate::prompt::{Matter, Occasion, Verdict};

/// What a prompt showed.
#[derive(Clone, Copy, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct Prompted {
    /// Why it was asked.
    pub occasion: Occasion,
    /// What it was about.
    pub matter: Matter,
    /// What it said to do.
    pub verdict: Verdict,
    /// What it said to do without a meter.
    pub without_meter: Option<Verdict>,
    /// The chance shown of a reading below the low line within 30 minutes, 0 to 1.
    pub chance_low: Option<f64>,
    /// Where both futures were shown, the chance of blood glucose below the low line within an hour if nothing is done, 0 to 1.
    pub chance_if_waiting: Option<f64>,
    /// The same if the first step of carbohydrate is taken at once.
    pub chance_if_treating: Option<f64>,
    /// Where blood glucose was thought to be, in mg/dL.
    pub blood_mg_dl: Option<f64>,
    /// In how many minutes to look again.
    pub look_again_minutes: Option<u16>,
}

impl From<log::Prompted> for Prompted {
    fn from(core: log::Prompted) -> Self {
        let log::Prompted {
            occasion,
            matter,
            verdict,
            without_meter,
            chance_low,
            chance_if_waiting,
            chance_if_treating,
            blood_mg_dl,
            look_again_minutes,
        } = core;
        Self {
            occasion: occasion.into(),
            matter: matter.into(),
            verdict: verdict.into(),
            without_meter: without_meter.map(Into::into),
            chance_low,
            chance_if_waiting,
            chance_if_treating,
            blood_mg_dl: blood_mg_dl.map(Glucose::mg_dl),
            look_again_minutes,
        }
    }
}

impl TryFrom<Prompted> for log::Prompted {
    type Error = Error;
    fn try_from(here: Prompted) -> Result<Self> {
        let Prompted {
            occasion,
            matter,
            verdict,
            without_meter,
            chance_low,
            chance_if_waiting,
            chance_if_treating,
            blood_mg_dl,
            look_again_minutes,
        } = here;
        Ok(Self {
            occasion: occasion.into(),
            matter: matter.into(),
            verdict: verdict.into(),
            without_meter: without_meter.map(Into::into),
            chance_low,
            chance_if_waiting,
            chance_if_treating,
            blood_mg_dl: blood_mg_dl.map(Glucose::from_mg_dl).transpose()?,
            look_again_minutes,
        })
    }
}
