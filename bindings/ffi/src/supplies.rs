//! Supplies: what the log holds of them, how long they last, and the facts for a statement of need.

use std::sync::Arc;

use ebbstead_core::log::{self, Currency, Text};
use ebbstead_core::review::Period;
use ebbstead_core::store::Log;
use ebbstead_core::supplies::{Need, Outlook, costs};
use ebbstead_core::words::Words;
use ebbstead_core::{Error, Quantity, Result, Why, page, pages};

use crate::companion::Shared;
use crate::error::ApiResult;
use crate::mirror::mirrored_names;
use crate::page::Page;
use crate::records::Moment;

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

/// Shows what is there and how long it lasts.
#[derive(uniffi::Object)]
pub struct SuppliesPart {
    pub(crate) shared: Arc<Shared>,
}

#[uniffi::export]
impl SuppliesPart {
    /// Stock, use, run-out, when to order, and what it costs, as a page; use is learnt from the last days (365 is usual).
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for no days or a time that cannot be; those of reading.
    pub fn page(&self, days: u16, now: Moment) -> ApiResult<Page> {
        self.shared.with(|log| {
            let period = Period::days_before(now.try_into()?, days)?;
            let (wearer, now) = (log.wearer()?, period.until());
            let history = log.history(period.from(), now)?;
            let outlooks = Outlook::all(&history, &wearer, now);
            Ok(pages::supplies::page(&outlooks, &costs(&history, &wearer, now), Words::of(&wearer), now).into())
        })
    }

    /// The facts of the last days (90 is usual) for a letter that the wearer writes: days covered, lows and who noticed them.
    ///
    /// # Errors
    /// As [`SuppliesPart::page`].
    pub fn statement(&self, days: u16, now: Moment) -> ApiResult<Page> {
        self.shared.with(|log| stated(log, days, now).map(Into::into))
    }

    /// The same as text, to send or to keep.
    ///
    /// # Errors
    /// As [`SuppliesPart::page`].
    pub fn statement_text(&self, days: u16, now: Moment) -> ApiResult<String> {
        self.shared.with(|log| stated(log, days, now).map(|page| page.to_string()))
    }
}

fn stated(log: &Log, days: u16, now: Moment) -> Result<page::Page> {
    let wearer = log.wearer()?;
    let need = Need::of_log(log, &wearer, days, now.try_into()?)?;
    Ok(pages::supplies::need_page(&need, Words::of(&wearer)))
}
