//! What was seen of a file so far, in bounded memory: instants, sensors, spacing.

use std::collections::{BTreeMap, HashMap};

use super::shortened;
use crate::log::Shown;
use crate::time::Moment;

/// Instants remembered, at least, to notice that one comes twice: half a year of readings every 5 minutes.
const REMEMBERED: usize = 52_560;

/// What an instant said before.
pub(super) enum Before {
    Never,
    Same,
    Otherwise,
}

/// The instants seen lately, in bounded memory: a younger and an older half, the older one dropped when the younger is full.
#[derive(Default)]
pub(super) struct Seen {
    younger: HashMap<i64, Shown>,
    older: HashMap<i64, Shown>,
}

impl Seen {
    pub(super) fn see(&mut self, at: Moment, shown: Shown) -> Before {
        let instant = at.unix_ms();
        let before = self.younger.get(&instant).or_else(|| self.older.get(&instant)).copied();
        if self.younger.len() >= REMEMBERED {
            self.older = std::mem::take(&mut self.younger);
        }
        self.younger.insert(instant, shown);
        match before {
            None => Before::Never,
            // The log keeps hundredths of mg/dL.
            Some(before)
                if before.beyond == shown.beyond && (before.glucose.mg_dl() - shown.glucose.mg_dl()).abs() < 0.005 =>
            {
                Before::Same
            }
            Some(_) => Before::Otherwise,
        }
    }
}

/// The stretches in which sensors read, by their names.
#[derive(Default)]
pub(super) struct Sensors(HashMap<String, (Moment, Moment)>);

impl Sensors {
    /// More names than anybody wears sensors in a file: the column names something else.
    const MOST: usize = 256;

    /// Two sensors that read at the same time, if this reading shows it.
    pub(super) fn see(&mut self, name: &str, at: Moment) -> Option<Vec<String>> {
        if name.is_empty() || self.0.len() > Self::MOST {
            return None;
        }
        let (first, last) = match self.0.get(name) {
            Some(&(first, last)) if first <= at && at <= last => return None,
            Some(&(first, last)) => (first.min(at), last.max(at)),
            None => (at, at),
        };
        self.0.insert(name.to_owned(), (first, last));
        let other = self.0.iter().find(|(other, span)| *other != name && first < span.1 && span.0 < last);
        other.map(|(other, _)| vec![shortened(other), shortened(name)])
    }
}

/// The commonest distance between neighbours, by a count of whole minutes up to two hours.
#[derive(Default)]
pub(super) struct Spacing {
    previous: Option<Moment>,
    counts: BTreeMap<u32, u64>,
}

impl Spacing {
    // The casts fit: 0 to 120.
    pub(super) fn see(&mut self, at: Moment) {
        if let Some(previous) = self.previous.replace(at) {
            let minutes = at.minutes_since(previous).abs().round();
            if (1.0..=120.0).contains(&minutes) {
                *self.counts.entry(minutes as u32).or_insert(0) += 1;
            }
        }
    }

    pub(super) fn commonest(&self) -> Option<u32> {
        let total: u64 = self.counts.values().sum();
        self.counts.iter().max_by_key(|(_, count)| **count).filter(|_| total >= 2).map(|(minutes, _)| *minutes)
    }
}
