//! What supplies cost, from prices the wearer entered. Currencies are never converted.

use super::usage::Usage;
use crate::log::{Currency, History, Item, Stocked, Text};
use crate::time::Moment;
use crate::wearer::Wearer;

/// What one price comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Cost {
    /// Of what.
    pub item: Item,
    /// When the price was noted.
    pub at: Moment,
    /// Where it comes from, if noted.
    pub from: Option<Text>,
    /// Whether it was only offered.
    pub offered: bool,
    /// The currency.
    pub currency: Currency,
    /// For one piece, unit or gram.
    pub each: f64,
    /// A day at the present use: for sensors, a day of wear, early failures included. Nothing where use is unknown.
    pub a_day: Option<f64>,
}

impl Cost {
    /// A year at the present use.
    #[must_use]
    pub fn a_year(&self) -> Option<f64> {
        self.a_day.map(|a_day| a_day * DAYS_A_YEAR)
    }
}

/// Days in a mean year of the calendar.
const DAYS_A_YEAR: f64 = 365.2425;

/// The newest price of each item from each place, offers beside what was paid; by item, the cheapest first.
#[must_use]
pub fn costs(history: &History, wearer: &Wearer, now: Moment) -> Vec<Cost> {
    let mut all: Vec<Cost> = Vec::new();
    for note in history.supplies.iter().filter(|note| note.at <= now) {
        let supply = &note.supply;
        let Some(price) = supply.price.filter(|_| supply.amount > 0.0) else { continue };
        let each = price.amount / supply.amount;
        let cost = Cost {
            item: supply.item,
            at: note.at,
            from: supply.from.clone(),
            offered: supply.stocked == Stocked::Quoted,
            currency: price.currency,
            each,
            a_day: Usage::of(supply.item, history, wearer, now).map(|usage| usage.a_day * each),
        };
        let same = |one: &&mut Cost| {
            (one.item, &one.from, one.currency, one.offered) == (cost.item, &cost.from, cost.currency, cost.offered)
        };
        match all.iter_mut().find(same) {
            Some(known) => *known = cost,
            None => all.push(cost),
        }
    }
    all.sort_by(|a, b| (a.item, a.currency).cmp(&(b.item, b.currency)).then(a.each.total_cmp(&b.each)));
    all
}
