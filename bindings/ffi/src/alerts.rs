//! Alert plans, replayed over the record.

use std::sync::Arc;

use ebbstead_core::alerts::{self, Plan};
use ebbstead_core::pages;
use ebbstead_core::review::Period;
use ebbstead_core::units::Glucose;
use ebbstead_core::words::Words;
use ebbstead_core::{Error, Result};

use crate::companion::Shared;
use crate::error::ApiResult;
use crate::page::Page;
use crate::records::Moment;

/// At what to be told, in one part of the day. Amounts in mg/dL.
#[derive(Clone, Copy, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct AlertLines {
    /// Tell when below it, 54 to 120.
    pub low_mg_dl: f64,
    /// Tell when above it, 120 to 400, or never.
    pub high_mg_dl: Option<f64>,
    /// Tell of a high only once it has lasted this long, 0 to 240 minutes.
    pub high_delay_minutes: f64,
    /// Tell again after so many minutes while it lasts, 5 to 240, or only once.
    pub repeat_minutes: Option<f64>,
    /// Tell when falling at least this fast, 0.5 to 10 mg/dL/min, or never.
    pub falling_mg_dl_min: Option<f64>,
    /// Tell when rising at least this fast, 0.5 to 10 mg/dL/min, or never.
    pub rising_mg_dl_min: Option<f64>,
}

/// A plan. Below 54 mg/dL it tells whatever else it says.
#[derive(Clone, Copy, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct AlertPlan {
    /// Outside the wearer's night.
    pub day: AlertLines,
    /// In the wearer's night.
    pub night: AlertLines,
}

impl From<alerts::Told> for AlertLines {
    fn from(core: alerts::Told) -> Self {
        let alerts::Told { low, high, high_delay_minutes, repeat_minutes, falling_mg_dl_min, rising_mg_dl_min } = core;
        Self {
            low_mg_dl: low.mg_dl(),
            high_mg_dl: high.map(Glucose::mg_dl),
            high_delay_minutes,
            repeat_minutes,
            falling_mg_dl_min,
            rising_mg_dl_min,
        }
    }
}

impl TryFrom<AlertLines> for alerts::Told {
    type Error = Error;
    fn try_from(here: AlertLines) -> Result<Self> {
        let AlertLines {
            low_mg_dl,
            high_mg_dl,
            high_delay_minutes,
            repeat_minutes,
            falling_mg_dl_min,
            rising_mg_dl_min,
        } = here;
        Ok(Self {
            low: Glucose::from_mg_dl(low_mg_dl)?,
            high: high_mg_dl.map(Glucose::from_mg_dl).transpose()?,
            high_delay_minutes,
            repeat_minutes,
            falling_mg_dl_min,
            rising_mg_dl_min,
        })
    }
}

impl From<Plan> for AlertPlan {
    fn from(core: Plan) -> Self {
        let Plan { day, night } = core;
        Self { day: day.into(), night: night.into() }
    }
}

impl TryFrom<AlertPlan> for Plan {
    type Error = Error;
    fn try_from(here: AlertPlan) -> Result<Self> {
        let AlertPlan { day, night } = here;
        let plan = Self { day: day.try_into()?, night: night.try_into()? };
        plan.check()?;
        Ok(plan)
    }
}

/// Tells what alerts were worth.
#[derive(uniffi::Object)]
pub struct AlertsPart {
    pub(crate) shared: Arc<Shared>,
}

#[uniffi::export]
impl AlertsPart {
    /// The plan that follows from the wearer's own lines: what to start a trial from.
    ///
    /// # Errors
    /// Those of reading.
    pub fn own_plan(&self) -> ApiResult<AlertPlan> {
        self.shared.with(|log| Ok(Plan::of(&log.wearer()?).into()))
    }

    /// Replays the wearer's own lines over the last days (90 is usual), beside a plan to try if one is given, as a page.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for a plan that cannot be followed (the floor of 54 mg/dL holds), no days, or a time that
    /// cannot be; those of reading.
    pub fn told(&self, days: u16, tried: Option<AlertPlan>, now: Moment) -> ApiResult<Page> {
        self.shared.guarded(|| {
            let (history, wearer, tried, period) = self.shared.with(|log| {
                let wearer = log.wearer()?;
                let tried = tried.map_or_else(|| Ok(Plan::of(&wearer)), Plan::try_from)?;
                let period = Period::days_before(now.try_into()?, days)?;
                Ok((log.history(period.from(), period.until())?, wearer, tried, period))
            })?;
            Ok(pages::alerts::page(&history, &wearer, &tried, period, Words::of(&wearer)).into())
        })
    }
}
