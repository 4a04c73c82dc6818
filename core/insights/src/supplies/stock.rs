//! What is there, and what of it will expire.

use chrono::NaiveDate;

use super::usage::{Usage, shown};
use crate::log::{History, Item, Stocked, Text};
use crate::time::Moment;

/// Something that expires.
#[derive(Clone, Debug, PartialEq)]
pub struct Batch {
    /// The last day it may be used.
    pub expires: NaiveDate,
    /// The lot, if noted.
    pub lot: Option<Text>,
    /// How much of it is there, if what expires first is used first.
    pub amount: f64,
    /// How much of it will be there still when it expires, at the present use; all of it if it has expired.
    pub left_over: f64,
}

/// What is there of an item.
#[derive(Clone, Debug, PartialEq)]
pub struct Stock {
    /// How much is there, expired or not, in what the item is counted in; never below 0.
    pub amount: f64,
    /// When it was counted last; nothing if never.
    pub counted: Option<Moment>,
    /// From when on what came and went is added up: the last count, else what was received first.
    pub since: Moment,
    /// What came to less than nothing: more was used than ever noted as there. A reason to count again.
    pub short_by: f64,
    /// What has an expiry date, the next first.
    pub batches: Vec<Batch>,
    /// How much of it will expire before it is used, at the present use, expired already included.
    pub lost_to_expiry: f64,
}

/// What expires within so many days is reported.
const WARN_OF_EXPIRY_DAYS: u64 = 60;

impl Stock {
    /// What is there at `now`; nothing if the item was never counted or received.
    #[must_use]
    pub fn of(item: Item, history: &History, usage: Option<&Usage>, now: Moment) -> Option<Self> {
        let notes: Vec<_> = history.supplies.iter().filter(|note| note.supply.item == item && note.at <= now).collect();
        let counted = notes.iter().rfind(|note| note.supply.stocked == Stocked::Counted);
        let begin = counted.or_else(|| notes.iter().find(|note| note.supply.stocked == Stocked::Received))?;
        let since = |at: Moment| if counted.is_some() { at > begin.at } else { at >= begin.at };
        let sum = |stocked: Stocked| -> f64 {
            let those = notes.iter().filter(|note| since(note.at) && note.supply.stocked == stocked);
            those.map(|note| note.supply.amount).sum()
        };
        let used: f64 =
            shown(item, history).into_iter().filter(|(at, _)| since(*at) && *at <= now).map(|(_, amount)| amount).sum();
        let start = counted.map_or(0.0, |note| note.supply.amount);
        let left = start + sum(Stocked::Received) - sum(Stocked::ThrownAway) - used;
        // Tenths of units add up to 1e-14, which is nothing.
        let amount = if left < 1e-6 { 0.0 } else { left };
        let dated = notes.iter().filter(|note| {
            note.supply.stocked == Stocked::Received || (note.supply.stocked == Stocked::Counted && note.at >= begin.at)
        });
        let mut dated: Vec<Batch> = dated
            .filter_map(|note| {
                let supply = &note.supply;
                let expires = supply.expires?;
                Some(Batch { expires, lot: supply.lot.clone(), amount: supply.amount, left_over: 0.0 })
            })
            .collect();
        // What expires last is used last, so it is what is still there.
        dated.sort_by_key(|batch| std::cmp::Reverse(batch.expires));
        let mut there = amount;
        for batch in &mut dated {
            batch.amount = batch.amount.min(there);
            there -= batch.amount;
        }
        dated.retain(|batch| batch.amount > 0.0);
        dated.reverse();
        let today = now.local_date();
        let mut used_by_then = 0.0;
        let mut before = 0.0;
        for batch in &mut dated {
            let days = batch.expires.signed_duration_since(today).num_days() as f64 + 1.0;
            if days <= 0.0 {
                batch.left_over = batch.amount;
                continue;
            }
            before += batch.amount;
            if let Some(usage) = usage {
                let could_use = usage.a_day * days;
                // A sensor that was put in before its date is worn to its end.
                let could_use = if item == Item::Sensor { could_use.ceil() } else { could_use };
                let could_use = could_use.max(used_by_then);
                batch.left_over = (before - could_use).clamp(0.0, batch.amount);
                before -= batch.left_over;
                used_by_then = before.min(could_use);
            }
        }
        let lost_to_expiry = dated.iter().fold(0.0, |sum, batch| sum + batch.left_over);
        let counted = counted.map(|note| note.at);
        Some(Self { amount, counted, since: begin.at, short_by: (-left).max(0.0), batches: dated, lost_to_expiry })
    }

    /// How much of what is there has expired.
    #[must_use]
    pub fn expired(&self, now: Moment) -> f64 {
        self.batches.iter().filter(|batch| batch.expires < now.local_date()).fold(0.0, |sum, batch| sum + batch.amount)
    }

    /// What expires within 60 days or will not be used up in time.
    #[must_use]
    pub fn expiring(&self, now: Moment) -> Vec<&Batch> {
        let soon = now.local_date().checked_add_days(chrono::Days::new(WARN_OF_EXPIRY_DAYS));
        let is = |batch: &&Batch| batch.left_over > 0.5 || soon.is_some_and(|soon| batch.expires <= soon);
        self.batches.iter().filter(is).collect()
    }
}
