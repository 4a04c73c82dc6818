//! What the wearer says about supplies: counted, received, used, thrown away, or offered at a price.

use std::fmt;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use crate::error::{Error, Quantity, Result, Unit, Why};
use crate::log::values::Text;

/// Things one must not run out of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Item {
    /// Glucose sensors.
    Sensor,
    /// Transmitters, where they are apart from the sensor.
    Transmitter,
    /// Batteries, of whatever needs them.
    Battery,
    /// Test strips for the meter.
    TestStrip,
    /// Rapid-acting insulin.
    RapidInsulin,
    /// Long-acting insulin.
    LongActingInsulin,
    /// Fast carbohydrate against lows.
    RescueCarbohydrate,
}

/// What an item is counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CountedIn {
    /// Pieces.
    Pieces,
    /// Units of insulin, as on the package.
    InsulinUnits,
    /// Grams of carbohydrate.
    Grams,
}

impl Item {
    /// All of them.
    pub const ALL: [Self; 7] = [
        Self::Sensor,
        Self::Transmitter,
        Self::Battery,
        Self::TestStrip,
        Self::RapidInsulin,
        Self::LongActingInsulin,
        Self::RescueCarbohydrate,
    ];

    /// What it is counted in.
    #[must_use]
    pub const fn counted_in(self) -> CountedIn {
        match self {
            Self::Sensor | Self::Transmitter | Self::Battery | Self::TestStrip => CountedIn::Pieces,
            Self::RapidInsulin | Self::LongActingInsulin => CountedIn::InsulinUnits,
            Self::RescueCarbohydrate => CountedIn::Grams,
        }
    }
}

/// What happened to a supply.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Stocked {
    /// Counted: so much is there, whatever was noted before.
    Counted,
    /// Received.
    Received,
    /// Used, beyond what the log shows by itself (a sensor put in, a meter check, insulin, rescue carbohydrate).
    Used,
    /// Thrown away: expired, broken or lost.
    ThrownAway,
    /// Offered at a price; changes no stock.
    Quoted,
}

/// A currency by its three-letter code of ISO 4217; only the form of the code is checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Currency([u8; 3]);

impl Currency {
    /// Takes a code, in capitals or not.
    ///
    /// # Errors
    /// [`Error::Invalid`] where it is not three letters.
    pub fn new(code: &str) -> Result<Self> {
        let code = code.trim();
        match code.as_bytes() {
            &[a, b, c] if code.bytes().all(|one| one.is_ascii_alphabetic()) => {
                Ok(Self([a, b, c].map(|one| one.to_ascii_uppercase())))
            }
            _ => Err(Error::Invalid {
                what: Quantity::Currency,
                why: Why::Malformed { given: code.to_owned(), like: "EUR" },
            }),
        }
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|letter| write!(f, "{}", char::from(*letter)))
    }
}

impl TryFrom<String> for Currency {
    type Error = Error;
    fn try_from(code: String) -> Result<Self> {
        Self::new(&code)
    }
}

impl From<Currency> for String {
    fn from(currency: Currency) -> Self {
        currency.to_string()
    }
}

/// A price for the whole amount of a [`Supply`], in the currency's main unit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Price {
    /// How much, from 0 (paid by somebody else) to [`Price::MOST`].
    pub amount: f64,
    /// Of what.
    pub currency: Currency,
}

impl Price {
    /// The highest price taken.
    pub const MOST: f64 = 10_000_000.0;
}

/// Something about a supply.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Supply {
    /// Of what.
    pub item: Item,
    /// What happened.
    pub stocked: Stocked,
    /// How much, as the item is counted: above 0, and 0 where counted and nothing is left; up to [`Supply::MOST`].
    pub amount: f64,
    /// The last day it may be used, as on the package.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub expires: Option<NaiveDate>,
    /// The lot, as on the package.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lot: Option<Text>,
    /// What the whole amount costs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<Price>,
    /// Where it comes from, in the wearer's own words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<Text>,
}

impl Supply {
    /// The most one entry takes, in whatever the item is counted in: it only catches slips of the finger.
    pub const MOST: f64 = 100_000.0;

    /// A bare amount of something; the rest is for the caller to fill in.
    #[must_use]
    pub const fn new(item: Item, stocked: Stocked, amount: f64) -> Self {
        Self { item, stocked, amount, expires: None, lot: None, price: None, from: None }
    }

    /// Checks what can be checked of it alone.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for amounts and prices that cannot be; [`Error::Invalid`] for pieces that are no whole number
    /// and for a quote without a price.
    pub fn check(&self) -> Result<()> {
        let unit = match self.item.counted_in() {
            CountedIn::Pieces => Unit::Pieces,
            CountedIn::InsulinUnits => Unit::InsulinUnits,
            CountedIn::Grams => Unit::Grams,
        };
        let some = self.amount > 0.0 || (self.stocked == Stocked::Counted && self.amount == 0.0);
        if !some || !self.amount.is_finite() || self.amount > Self::MOST {
            let (what, given) = (Quantity::AmountOfASupply, self.amount);
            return Err(Error::OutOfRange { what, given, low: 0.0, high: Self::MOST, unit });
        }
        if self.item.counted_in() == CountedIn::Pieces && self.amount.fract() != 0.0 {
            return Err(Error::Invalid { what: Quantity::AmountOfASupply, why: Why::PiecesComeWhole });
        }
        match self.price {
            Some(Price { amount: given, .. }) if !(0.0..=Price::MOST).contains(&given) => Err(Error::OutOfRange {
                what: Quantity::Price,
                given,
                low: 0.0,
                high: Price::MOST,
                unit: Unit::Currency,
            }),
            None if self.stocked == Stocked::Quoted => {
                Err(Error::Invalid { what: Quantity::Quote, why: Why::NamesNoPrice })
            }
            _ => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refuses_what_cannot_be() {
        let refuse = |supply: Supply| supply.check().unwrap_err().to_string();
        for amount in [0.0, -1.0, f64::NAN, f64::INFINITY, 100_001.0] {
            assert!(refuse(Supply::new(Item::Sensor, Stocked::Received, amount)).starts_with("amount"), "{amount}");
        }
        assert!(refuse(Supply::new(Item::TestStrip, Stocked::Used, 1.5)).contains("whole"));
        assert!(refuse(Supply::new(Item::Sensor, Stocked::Quoted, 1.0)).contains("no price"));
        let price = |amount| Some(Price { amount, currency: Currency::new("eur").unwrap() });
        assert!(
            refuse(Supply { price: price(-1.0), ..Supply::new(Item::Sensor, Stocked::Quoted, 1.0) }).contains("price")
        );
        assert!(Supply::new(Item::Sensor, Stocked::Counted, 0.0).check().is_ok());
        assert!(Supply::new(Item::RapidInsulin, Stocked::Used, 1.5).check().is_ok());
        assert!(Supply { price: price(0.0), ..Supply::new(Item::Sensor, Stocked::Quoted, 3.0) }.check().is_ok());
        for code in ["", "EU", "EURO", "E1R", "\u{20ac}"] {
            assert!(Currency::new(code).is_err(), "{code}");
        }
        assert_eq!(Currency::new(" chf").unwrap().to_string(), "CHF");
    }
}
