//! Where blood glucose is now, how fast it moves, how sure that is, and whether the sensor can be believed.

pub mod adapt;
// Hidden: reachable for this project's own checks against other computations, and no part of what is promised.
#[doc(hidden)]
pub mod agreement;
#[doc(hidden)]
pub mod dynamics;
mod fast_run;
#[doc(hidden)]
pub mod filter;
#[doc(hidden)]
pub mod modes;
pub mod sites;
#[doc(hidden)]
pub mod smoother;
#[doc(hidden)]
pub mod tracker;

use serde::Serialize;

pub use self::dynamics::Dynamics;
pub use self::modes::Circumstances;

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
