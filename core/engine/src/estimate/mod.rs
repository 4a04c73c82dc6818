//! Where blood glucose is now, how fast it moves, how sure that is, and whether the sensor can be believed.

pub mod adapt;
pub mod agreement;
pub mod dynamics;
pub mod filter;
pub mod modes;
pub mod sites;
pub mod smoother;
pub mod tracker;

use serde::Serialize;

use crate::log::Reading;
use crate::time::Moment;
use crate::units::Rate;

/// What the readings and meter checks up to a moment say about that moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// The moment it is for.
    pub at: Moment,
    /// The newest reading used.
    pub reading: Option<Reading>,
    /// Expected blood glucose, in mg/dL.
    pub blood_mg_dl: f64,
    /// Standard deviation of blood glucose, in mg/dL.
    pub blood_sd_mg_dl: f64,
    /// Expected rate of blood glucose.
    pub rate: Rate,
    /// The sensor's modes.
    pub modes: Modes,
}

/// Chances that the sensor is in each of its modes; they add up to 1.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Modes {
    /// The sensor follows glucose.
    pub clear: f64,
    /// The sensor is pressed: it reads low at an unchanged blood glucose.
    pub compression: f64,
    /// The sensor is unsettled: first day, dropouts, jumps.
    pub unsettled: f64,
}
