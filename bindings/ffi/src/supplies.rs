//! What the log holds of supplies, and of the prompts that were told.

use ebbstead_core::log::{self, Currency, Text};
use ebbstead_core::units::Glucose;
use ebbstead_core::{Error, Result};

use crate::mirror::mirrored_names;
use crate::prompt::{Matter, Occasion, Verdict};

mirrored_names! {
    /// Things one must not run out of.
    Item = ebbstead_core::log::Item {
        /// Glucose sensors.
        Sensor,
        /// Transmitters, where they are apart from the sensor.
        Transmitter,
        /// Batteries.
        Battery,
        /// Test strips for the meter.
        TestStrip,
        /// Rapid-acting insulin, in units.
        RapidInsulin,
        /// Long-acting insulin, in units.
        LongActingInsulin,
        /// Fast carbohydrate against lows, in grams.
        RescueCarbohydrate,
    }
}

mirrored_names! {
    /// What happened to a supply.
    Stocked = ebbstead_core::log::Stocked {
        /// Counted: so much is there.
        Counted,
        /// Received.
        Received,
        /// Used, beyond what the log shows by itself.
        Used,
        /// Thrown away.
        ThrownAway,
        /// Offered at a price; changes no stock.
        Quoted,
    }
}

/// A price for the whole amount of a supply.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct Price {
    /// How much, in the currency's main unit.
    pub amount: f64,
    /// The currency's three letters (ISO 4217).
    pub currency: String,
}

/// Something about a supply.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct Supply {
    /// Of what.
    pub item: Item,
    /// What happened.
    pub stocked: Stocked,
    /// How much: pieces, units of insulin or grams.
    pub amount: f64,
    /// The last day it may be used, `2027-03-01`.
    #[uniffi(default = None)]
    pub expires: Option<String>,
    /// The lot.
    #[uniffi(default = None)]
    pub lot: Option<String>,
    /// What the whole amount costs.
    #[uniffi(default = None)]
    pub price: Option<Price>,
    /// Where it comes from, in the wearer's own words.
    #[uniffi(default = None)]
    pub from: Option<String>,
}

impl From<log::Supply> for Supply {
    fn from(core: log::Supply) -> Self {
        let log::Supply { item, stocked, amount, expires, lot, price, from } = core;
        Self {
            item: item.into(),
            stocked: stocked.into(),
            amount,
            expires: expires.map(|day| day.to_string()),
            lot: lot.map(Into::into),
            price: price.map(|log::Price { amount, currency }| Price { amount, currency: currency.to_string() }),
            from: from.map(Into::into),
        }
    }
}

impl TryFrom<Supply> for log::Supply {
    type Error = Error;
    fn try_from(here: Supply) -> Result<Self> {
        let Supply { item, stocked, amount, expires, lot, price, from } = here;
        let day = |text: String| {
            text.trim()
                .parse()
                .map_err(|_| Error::Invalid { what: "expiry date", why: format!("{text:?}; write YYYY-MM-DD") })
        };
        let in_core = |Price { amount, currency }: Price| -> Result<log::Price> {
            Ok(log::Price { amount, currency: Currency::new(&currency)? })
        };
        Ok(Self {
            item: item.into(),
            stocked: stocked.into(),
            amount,
            expires: expires.map(day).transpose()?,
            lot: lot.map(Text::new).transpose()?,
            price: price.map(in_core).transpose()?,
            from: from.map(Text::new).transpose()?,
        })
    }
}

/// What a prompt told.
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
    /// The chance told of a reading below the low line within 30 minutes, 0 to 1.
    pub chance_low: Option<f64>,
    /// Where blood glucose was thought to be, in mg/dL.
    pub blood_mg_dl: Option<f64>,
    /// In how many minutes to look again.
    pub look_again_minutes: Option<u16>,
}

impl From<log::Prompted> for Prompted {
    fn from(core: log::Prompted) -> Self {
        let log::Prompted { occasion, matter, verdict, without_meter, chance_low, blood_mg_dl, look_again_minutes } =
            core;
        Self {
            occasion: occasion.into(),
            matter: matter.into(),
            verdict: verdict.into(),
            without_meter: without_meter.map(Into::into),
            chance_low,
            blood_mg_dl: blood_mg_dl.map(Glucose::mg_dl),
            look_again_minutes,
        }
    }
}

impl TryFrom<Prompted> for log::Prompted {
    type Error = Error;
    fn try_from(here: Prompted) -> Result<Self> {
        let Prompted { occasion, matter, verdict, without_meter, chance_low, blood_mg_dl, look_again_minutes } = here;
        Ok(Self {
            occasion: occasion.into(),
            matter: matter.into(),
            verdict: verdict.into(),
            without_meter: without_meter.map(Into::into),
            chance_low,
            blood_mg_dl: blood_mg_dl.map(Glucose::from_mg_dl).transpose()?,
            look_again_minutes,
        })
    }
}
