//! Where glucose will be: one distribution of paths ahead, from which the band, every chance and the time of crossing come.
//!
//! What it forecasts is what a *right* sensor would read: the path of readings, moved by what meter checks say of this sensor.

// Hidden: reachable for this project's own checks against other computations, and no part of what is promised.
#[doc(hidden)]
pub mod calibration;
#[doc(hidden)]
pub mod correction;
#[doc(hidden)]
pub mod forecaster;
pub mod futures;
#[doc(hidden)]
pub mod grid;
#[doc(hidden)]
pub mod logged;
pub mod long;
#[doc(hidden)]
pub mod lowest;
#[doc(hidden)]
pub mod passage;
#[doc(hidden)]
pub mod paths;
mod population;
#[doc(hidden)]
pub mod sample;
#[doc(hidden)]
pub mod shape;

use serde::Serialize;

pub use self::forecaster::KeptForecaster;
use self::passage::Passage;

/// The distribution ahead.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Forecast {
    /// The path, every 5 minutes to 120.
    pub path: Vec<Ahead>,
    /// What meter checks say a right sensor would read more than this one, in mg/dL; 0 without checks.
    pub shift_mg_dl: f64,
    /// Falling below the wearer's low line, by a right sensor.
    pub low: Crossing,
    /// Falling below the floor line, by a right sensor.
    pub floor: Crossing,
    /// Rising above the wearer's high line, by this sensor: a meter check must not make a low less urgent than a rise.
    pub high: Crossing,
    /// The chance that this sensor itself reads below the low line within 30 minutes, what a record can check, or that a right
    /// sensor would, where meter checks make that likelier.
    pub reading_low_30: f64,
    /// The chance of having fallen below the low line by each 5 minutes of the hour.
    #[serde(skip)]
    pub low_by_point: Passage,
    /// The same for the floor line.
    #[serde(skip)]
    pub floor_by_point: Passage,
}

impl Forecast {
    /// The path that a right sensor would read: what the chances are of, and what is drawn.
    pub fn corrected(&self) -> impl Iterator<Item = Ahead> + '_ {
        let shifted = |reading_mg_dl: f64| (reading_mg_dl + self.shift_mg_dl).max(crate::units::LOWEST_MG_DL);
        self.path.iter().map(move |one| Ahead { reading_mg_dl: shifted(one.reading_mg_dl), ..*one })
    }
}

/// The distribution at one time ahead.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Ahead {
    /// Minutes from now.
    pub minutes: u16,
    /// Expected reading of this sensor, in mg/dL.
    pub reading_mg_dl: f64,
    /// Its standard deviation, in mg/dL.
    pub reading_sd_mg_dl: f64,
    /// Expected blood glucose, in mg/dL.
    pub blood_mg_dl: f64,
    /// Its standard deviation, in mg/dL.
    pub blood_sd_mg_dl: f64,
}

/// The chance that a reading crosses a line within a time: first passage, not only where the path ends.
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
