//! The wearer's plan: at what to be told, by day and by night.

use crate::error::{Error, Result};
use crate::units::Glucose;
use crate::wearer::{FLOOR_LINE_MG_DL, Wearer};

/// What to be told at, in one part of the day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Told {
    /// Tell when below it; never under the floor of 54 mg/dL.
    pub low: Glucose,
    /// Tell when above it, or never.
    pub high: Option<Glucose>,
    /// Tell of a high only once it has lasted this long, in minutes.
    pub high_delay_minutes: f64,
    /// Tell again after so many minutes while it lasts, or only once. Below the floor it is told again in any case.
    pub repeat_minutes: Option<f64>,
    /// Tell when falling at least this fast, in mg/dL/min, or never.
    pub falling_mg_dl_min: Option<f64>,
    /// Tell when rising at least this fast, in mg/dL/min, or never.
    pub rising_mg_dl_min: Option<f64>,
}

/// The plan. Below the floor it tells whatever else it says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plan {
    /// Outside the wearer's night.
    pub day: Told,
    /// In the wearer's night.
    pub night: Told,
}

impl Plan {
    /// The wearer's own lines, told once by day and night.
    #[must_use]
    pub fn of(wearer: &Wearer) -> Self {
        let told = Told {
            low: wearer.low_line,
            high: Some(wearer.high_line),
            high_delay_minutes: 0.0,
            repeat_minutes: None,
            falling_mg_dl_min: None,
            rising_mg_dl_min: None,
        };
        Self { day: told, night: told }
    }

    /// Checks that the plan can be followed.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for a low line outside 54 to 120 mg/dL, a high line outside 120 to 400 mg/dL, a delay outside 0
    /// to 240 minutes, a repetition outside 5 to 240 minutes or a rate outside 0.5 to 10 mg/dL/min.
    pub fn check(&self) -> Result<()> {
        let within = |what, given: f64, low: f64, high: f64, unit| {
            let fits = given.is_finite() && (low..=high).contains(&given);
            if fits { Ok(()) } else { Err(Error::OutOfRange { what, given, low, high, unit }) }
        };
        for told in [&self.day, &self.night] {
            within("alert for lows", told.low.mg_dl(), FLOOR_LINE_MG_DL, 120.0, "mg/dL")?;
            if let Some(high) = told.high {
                within("alert for highs", high.mg_dl(), 120.0, 400.0, "mg/dL")?;
            }
            within("delay", told.high_delay_minutes, 0.0, 240.0, "minutes")?;
            if let Some(repeat) = told.repeat_minutes {
                within("repetition", repeat, 5.0, 240.0, "minutes")?;
            }
            for rate in [told.falling_mg_dl_min, told.rising_mg_dl_min].into_iter().flatten() {
                within("alert for rates", rate, 0.5, 10.0, "mg/dL/min")?;
            }
        }
        Ok(())
    }
}
