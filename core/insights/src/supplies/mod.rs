//! Supplies: what is there, how long it lasts, when to order, what it costs.
//!
//! Everything follows from what the log holds: counts, deliveries and what was thrown away as noted, use as noted or as the
//! log shows it by itself (a sensor put in, a meter check, insulin, rescue carbohydrate). Nothing here orders anything.

mod cost;
mod need;
mod stock;
mod usage;

pub use cost::{Cost, costs};
pub use need::{NOTICE_MINUTES, Need};
pub use stock::{Batch, Stock};
pub use usage::{Basis, Usage, Wear};

use chrono::NaiveDate;

use crate::log::{History, Item};
use crate::time::Moment;
use crate::wearer::Wearer;

/// When something runs out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunOut {
    /// The day expected.
    pub expected: NaiveDate,
    /// Nineteen times in twenty it is not before this day.
    pub earliest: NaiveDate,
    /// Nineteen times in twenty it is not after this day; nothing where it may be over ten years away.
    pub latest: Option<NaiveDate>,
    /// The last day to order so that it is there by `earliest`; needs a lead time.
    pub order_by: Option<NaiveDate>,
}

/// Nothing is forecast for days further away than this.
pub(crate) const FARTHEST_DAYS: f64 = 3650.0;

/// One item: what is there and how long it lasts.
#[derive(Clone, Debug, PartialEq)]
pub struct Outlook {
    /// Of what.
    pub item: Item,
    /// What is there; nothing if it was never counted or received.
    pub stock: Option<Stock>,
    /// How fast it goes; nothing where the log shows too little.
    pub usage: Option<Usage>,
    /// On how many days since it was counted or first received the log was not kept. What was used then is missing from the stock, and as
    /// much as on other days is reckoned with.
    pub silent_days: usize,
    /// When it runs out; nothing where either is unknown, or it is over ten years away.
    pub run_out: Option<RunOut>,
}

impl Outlook {
    /// Looks at one item at `now`. `history` should reach back as far as the log does, or a year at least.
    #[must_use]
    pub fn of(item: Item, history: &History, wearer: &Wearer, now: Moment) -> Self {
        let usage = Usage::of(item, history, wearer, now);
        let stock = Stock::of(item, history, usage.as_ref(), now);
        let since = stock.as_ref().map(|stock| stock.since);
        let silent_days = since.map_or(0, |since| usage::silent_days(item, history, since, now));
        let run_out = stock.as_ref().zip(usage.as_ref()).and_then(|(stock, usage)| {
            let unseen = usage.a_day * silent_days as f64;
            let usable = (stock.amount - stock.lost_to_expiry - unseen).max(0.0);
            let (earliest, expected, latest) = usage.lasts_days(usable);
            let day = |days: f64| {
                let days = (days <= FARTHEST_DAYS).then_some(days.floor().max(0.0))?;
                now.local_date().checked_add_days(chrono::Days::new(days as u64))
            };
            let earliest = day(earliest)?;
            let lead = wearer.reorder_lead_days.map(|days| chrono::Days::new(days.into()));
            Some(RunOut {
                expected: day(expected)?,
                earliest,
                latest: latest.and_then(day),
                order_by: lead.and_then(|lead| earliest.checked_sub_days(lead)),
            })
        });
        Self { item, stock, usage, silent_days, run_out }
    }

    /// Every item the log says something of.
    #[must_use]
    pub fn all(history: &History, wearer: &Wearer, now: Moment) -> Vec<Self> {
        let noted = |item: Item| history.supplies.iter().any(|note| note.supply.item == item && note.at <= now);
        let outlooks = Item::ALL.into_iter().map(|item| Self::of(item, history, wearer, now));
        outlooks.filter(|one| noted(one.item) || one.usage.is_some()).collect()
    }
}
