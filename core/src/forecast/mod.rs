//! Where glucose will be: the predictive distribution, and the chance and time of crossing a line.

pub mod calibration;
pub mod correction;
pub mod horizon;
pub mod outlook;
pub mod passage;
mod population;

use serde::Serialize;

/// The distribution ahead.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Forecast {
    /// The path, every 5 minutes to 120.
    pub path: Vec<Ahead>,
    /// Falling below the wearer's low line.
    pub low: Crossing,
    /// Falling below the floor line.
    pub floor: Crossing,
    /// Rising above the wearer's high line.
    pub high: Crossing,
}

/// The distribution at one time ahead.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Ahead {
    /// Minutes from now.
    pub minutes: u16,
    /// Expected sensor reading, in mg/dL.
    pub reading_mg_dl: f64,
    /// Its standard deviation, in mg/dL.
    pub reading_sd_mg_dl: f64,
    /// Expected blood glucose, in mg/dL.
    pub blood_mg_dl: f64,
    /// Its standard deviation, in mg/dL.
    pub blood_sd_mg_dl: f64,
}

/// The chance that a sensor reading crosses a line within a time: first passage, not only where the path ends.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Crossing {
    /// The line, in mg/dL.
    pub line_mg_dl: f64,
    /// Chance within 15 minutes.
    pub within_15: f64,
    /// Chance within 30 minutes.
    pub within_30: f64,
    /// Chance within 60 minutes.
    pub within_60: f64,
    /// Expected minutes to the crossing, given that it happens within 60 minutes; nothing where the chance is under 5 %.
    pub expected_minutes: Option<f64>,
}
