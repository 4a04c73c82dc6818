//! Supplies, as the log holds them.

use ebbstead_core::log::{self, Currency, Text};
use ebbstead_core::{Error, Quantity, Result, Why};

use crate::mirror::mirrored_names;

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
            text.trim().parse().map_err(|_| Error::Invalid {
                what: Quantity::ExpiryDate,
                why: Why::Malformed { given: text.to_owned(), like: "YYYY-MM-DD" },
            })
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
