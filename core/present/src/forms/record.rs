//! What the record's pages ask for, and what was filled in there, read.

use super::{Field, Filled, Takes, days, days_back};
use crate::error::{Error, Quantity, Result, Why};
use crate::log::{Currency, Item, Price, Stocked, Supply, Text};
use crate::review::ReviewOptions;
use crate::review::metrics::Group;
use crate::wearer::Wearer;
use crate::words::{ShellLabel, Words};

/// How many days to look back on: the field, and what usually stands in it.
pub type Days = (&'static str, &'static str);

/// Of the review.
pub const REVIEW_DAYS: Days = ("review_days", "14");
/// Of the sensors.
pub const SENSOR_DAYS: Days = ("sensor_days", "90");
/// Of the outcomes of the prompts.
pub const OUTCOME_DAYS: Days = ("outcome_days", "90");
/// From which the use of supplies is learnt.
pub const SUPPLY_DAYS: Days = ("supply_days", "365");
/// Of the facts for a statement of need.
pub const NEED_DAYS: Days = ("need_days", "90");
/// How long sensors are rated for.
pub const RATED_DAYS: &str = "rated_days";
/// The lot of the newest sensor.
pub const LOT: &str = "lot";
/// What seals a copy.
pub const PASSPHRASE: &str = "passphrase";
/// The same, typed once more.
pub const PASSPHRASE_AGAIN: &str = "passphrase_again";
/// What opens a copy.
pub const PASSPHRASE_OF_COPY: &str = "passphrase_of_copy";

const AIMS: &str = "aims";
const COMPRESSION: &str = "compression";
const LEFT_OUT: &str = "out";
const ITEM: &str = "item";
const STOCKED: &str = "stocked";
const AMOUNT: &str = "amount";
const EXPIRES: &str = "expires";
const PRICE: &str = "price";
const CURRENCY: &str = "currency";
const FROM: &str = "from";

const GROUPS: [(&str, Group, ShellLabel); 3] = [
    ("adult", Group::Adult, ShellLabel::AimsAdult),
    ("older", Group::OlderOrHighRisk, ShellLabel::AimsOlder),
    ("pregnancy", Group::Type1Pregnancy, ShellLabel::AimsPregnancy),
];
const ITEMS: [(&str, Item); 7] = [
    ("sensor", Item::Sensor),
    ("transmitter", Item::Transmitter),
    ("battery", Item::Battery),
    ("test_strip", Item::TestStrip),
    ("rapid_insulin", Item::RapidInsulin),
    ("long_acting_insulin", Item::LongActingInsulin),
    ("rescue_carbohydrate", Item::RescueCarbohydrate),
];
const HAPPENINGS: [(&str, Stocked); 5] = [
    ("counted", Stocked::Counted),
    ("received", Stocked::Received),
    ("used", Stocked::Used),
    ("thrown_away", Stocked::ThrownAway),
    ("quoted", Stocked::Quoted),
];

fn typed<'a>(filled: &'a Filled, id: &str) -> &'a str {
    filled.get(id).map_or("", |value| value.trim())
}

fn field(id: &'static str, name: ShellLabel, takes: Takes, words: Words) -> Field {
    Field::new(id, words.shell_label(name), takes, "")
}

pub(crate) fn days_field((id, usual): Days, words: Words) -> Field {
    Field::number(id, words.shell_label(ShellLabel::DaysBack), "", usual)
}

/// How many days to look back on, 1 to 3660.
///
/// # Errors
/// [`Error::Invalid`] and [`Error::OutOfRange`] where they cannot be.
pub fn read_days(filled: &Filled, (id, usual): Days, words: Words) -> Result<u16> {
    days_back(words, filled.get(id).map_or(usual, String::as_str))
}

pub(crate) fn aims_field(words: Words) -> Field {
    let options = GROUPS.map(|(code, _, name)| (code, words.shell_label(name).to_owned()));
    Field::choice(AIMS, words.shell_label(ShellLabel::AimsName), options, GROUPS[0].0)
}

pub(crate) fn compression_field(words: Words) -> Field {
    let options = [("in", ShellLabel::CompressionIn), (LEFT_OUT, ShellLabel::CompressionOut)]
        .map(|(code, name)| (code, words.shell_label(name).to_owned()));
    Field::choice(COMPRESSION, words.shell_label(ShellLabel::CompressionLows), options, "in")
}

/// How to review.
#[must_use]
pub fn read_review(filled: &Filled) -> ReviewOptions {
    let aims = typed(filled, AIMS);
    let group = GROUPS.iter().find(|(code, ..)| *code == aims).map_or(Group::Adult, |(_, group, _)| *group);
    ReviewOptions { group, without_compression_lows: typed(filled, COMPRESSION) == LEFT_OUT }
}

/// The rated length from the settings stands in its field; another can be tried there.
pub(crate) fn rated_field(wearer: &Wearer, words: Words) -> Field {
    let own = wearer.sensor_rated_days.map(|days| days.to_string()).unwrap_or_default();
    Field::number(RATED_DAYS, words.shell_label(ShellLabel::RatedDays), "", own)
}

/// The wearer, with the rated length that was filled in, where one was.
///
/// # Errors
/// [`Error::Invalid`] and [`Error::OutOfRange`] where sensors cannot be rated so.
pub fn read_rated(filled: &Filled, wearer: &Wearer, words: Words) -> Result<Wearer> {
    let rated = typed(filled, RATED_DAYS);
    if rated.is_empty() {
        return Ok(wearer.clone());
    }
    let wearer = Wearer { sensor_rated_days: Some(days(words, rated)?), ..wearer.clone() };
    wearer.check()?;
    Ok(wearer)
}

pub(crate) fn lot_field(words: Words) -> Field {
    field(LOT, ShellLabel::Lot, Takes::Words, words)
}

/// The lot, where one was typed.
///
/// # Errors
/// [`Error::Invalid`] for a text that cannot be.
pub fn read_lot(filled: &Filled) -> Result<Option<Text>> {
    text(filled, LOT)
}

fn text(filled: &Filled, id: &str) -> Result<Option<Text>> {
    let typed = typed(filled, id);
    Ok(if typed.is_empty() { None } else { Some(Text::new(typed)?) })
}

pub(crate) fn supply_fields(words: Words) -> [Field; 7] {
    let label = |label| words.shell_label(label);
    [
        Field::choice(
            ITEM,
            label(ShellLabel::WhichSupply),
            ITEMS.map(|(code, one)| (code, words.item(one))),
            ITEMS[0].0,
        )
        .over(label(ShellLabel::Add)),
        Field::choice(
            STOCKED,
            label(ShellLabel::SupplyStocked),
            HAPPENINGS.map(|(code, one)| (code, words.stocked(one))),
            HAPPENINGS[0].0,
        ),
        field(AMOUNT, ShellLabel::SupplyAmount, Takes::Number, words),
        field(EXPIRES, ShellLabel::SupplyExpires, Takes::Words, words),
        field(PRICE, ShellLabel::SupplyPrice, Takes::Number, words),
        field(CURRENCY, ShellLabel::SupplyCurrency, Takes::Words, words),
        field(FROM, ShellLabel::SupplyFrom, Takes::Words, words),
    ]
}

/// What was filled in about a supply; `refuse` is told of each field that cannot be taken, and why. What no field alone shows is for
/// [`Supply::check`] and `supply_field`.
pub fn read_supply(filled: &Filled, words: Words, refuse: &mut dyn FnMut(&'static str, &Error)) -> Option<Supply> {
    let mut read = |id: &'static str| match words.read_number(typed(filled, id)) {
        Ok(number) => Some(number),
        Err(error) => {
            refuse(id, &error);
            None
        }
    };
    let has_price = !typed(filled, PRICE).is_empty();
    let (amount, price) = (read(AMOUNT), if has_price { read(PRICE) } else { None });
    if has_price && price.is_none() {
        return None;
    }
    match supply(filled, amount?, price) {
        Ok(supply) => Some(supply),
        Err(error) => {
            refuse(supply_field(&error).unwrap_or(AMOUNT), &error);
            None
        }
    }
}

fn supply(filled: &Filled, amount: f64, price: Option<f64>) -> Result<Supply> {
    let (item, stocked, expires) = (typed(filled, ITEM), typed(filled, STOCKED), typed(filled, EXPIRES));
    let day = || {
        expires.parse().map_err(|_| Error::Invalid {
            what: Quantity::ExpiryDate,
            why: Why::Malformed { given: expires.to_owned(), like: "YYYY-MM-DD" },
        })
    };
    let price = price.map(|amount| Ok::<_, Error>(Price { amount, currency: Currency::new(typed(filled, CURRENCY))? }));
    let supply = Supply {
        item: ITEMS.iter().find(|(code, _)| *code == item).map_or(Item::Sensor, |(_, item)| *item),
        stocked: HAPPENINGS.iter().find(|(code, _)| *code == stocked).map_or(Stocked::Counted, |(_, stocked)| *stocked),
        amount,
        expires: if expires.is_empty() { None } else { Some(day()?) },
        lot: None,
        price: price.transpose()?,
        from: text(filled, FROM)?,
    };
    supply.check()?;
    Ok(supply)
}

/// The field that holds what an error of a supply is about.
fn supply_field(error: &Error) -> Option<&'static str> {
    let (Error::OutOfRange { what, .. } | Error::Invalid { what, .. }) = error else { return None };
    match *what {
        Quantity::ExpiryDate => Some(EXPIRES),
        Quantity::Price | Quantity::Quote => Some(PRICE),
        Quantity::Currency => Some(CURRENCY),
        Quantity::Text => Some(FROM),
        _ => None,
    }
}

/// Empties the fields of a supply that was noted. The currency stays: it is the same the next time.
pub fn supply_noted(filled: &mut Filled) {
    for id in [AMOUNT, EXPIRES, PRICE, FROM] {
        filled.remove(id);
    }
}

pub(crate) fn secret_field(id: &'static str, name: &str) -> Field {
    Field::new(id, name, Takes::Secret, "")
}
