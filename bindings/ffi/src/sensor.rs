//! The sensors' own record.

use std::sync::Arc;

use ebbstead_core::log::Text;
use ebbstead_core::pages;
use ebbstead_core::sensor::Record;
use ebbstead_core::store::Log;
use ebbstead_core::time::{DAY_MS, Moment as CoreMoment};
use ebbstead_core::wearer::Wearer;
use ebbstead_core::words::Words;
use ebbstead_core::{Error, Quantity, Result, Why};

use crate::companion::Shared;
use crate::error::ApiResult;
use crate::page::Page;
use crate::records::Moment;

/// What to look at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct SensorOptions {
    /// How many days back, 1 to 3660; 90 is usual.
    pub days: u16,
    /// How many days the wearer's sensors are rated for, 1 to 365, if not what the settings say.
    pub rated_days: Option<u16>,
}

/// Shows how sensors did.
#[derive(uniffi::Object)]
pub struct SensorPart {
    pub(crate) shared: Arc<Shared>,
}

#[uniffi::export]
impl SensorPart {
    /// Wear, sites, agreement with the meter and calibration, as a page.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for no days, a rated length or a time that cannot be; those of reading.
    pub fn page(&self, options: SensorOptions, now: Moment) -> ApiResult<Page> {
        self.shared.with(|log| {
            let now = now.try_into()?;
            let wearer = log.wearer()?;
            let wearer = Wearer { sensor_rated_days: options.rated_days.or(wearer.sensor_rated_days), ..wearer };
            wearer.check()?;
            let rated = wearer.sensor_rated_days.map(f64::from);
            let record = Record::of(&log.history(since(now, options.days)?, now)?, rated, now);
            Ok(pages::sensor::page(&record, rated, Words::of(&wearer), now).into())
        })
    }

    /// The record of one sensor as text of at most a page, to send with a request for a replacement: of the newest, or of the one
    /// so many before it. `lot` is what stands on the package.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] naming `sensor` where there is no such sensor; those of reading.
    pub fn sheet(&self, options: SensorOptions, back: u32, lot: Option<String>, now: Moment) -> ApiResult<String> {
        self.shared.with(|log| sheet_of(log, options, back, lot, now.try_into()?))
    }
}

fn sheet_of(log: &Log, options: SensorOptions, back: u32, lot: Option<String>, now: CoreMoment) -> Result<String> {
    let history = log.history(since(now, options.days)?, now)?;
    let sessions = ebbstead_core::sensor::sessions(&history, now);
    let wanted = usize::try_from(back).ok().and_then(|back| sessions.len().checked_sub(back + 1));
    let session = wanted
        .and_then(|place| sessions.get(place))
        .ok_or(Error::Invalid { what: Quantity::Sensor, why: Why::NoSuchSensor })?;
    let lot = lot.map(Text::new).transpose()?;
    Ok(pages::sheet::sheet(&history, session, lot.as_ref(), Words::of(&log.wearer()?), now))
}

fn since(now: CoreMoment, days: u16) -> Result<CoreMoment> {
    if days == 0 {
        return Err(Error::Invalid { what: Quantity::Period, why: Why::NoDays });
    }
    Ok(now.plus_ms(-i64::from(days) * DAY_MS))
}
