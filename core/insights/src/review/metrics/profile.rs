//! The daily profile: how glucose spreads at each hour of the wearer's clock.

use serde::Serialize;
use std::collections::BTreeSet;

use super::held::Held;
use super::{Measured, Need, TooLittle};
use crate::statistics::percentile;

/// The shares that a profile shows, in percent.
const PERCENTILES: [f64; 5] = [10.0, 25.0, 50.0, 75.0, 90.0];
/// An hour is reported if it has readings on this many days.
pub(crate) const FEWEST_DAYS: usize = 5;

/// One hour of the local day.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Hour {
    /// The hour, 0 to 23.
    pub hour: u8,
    /// On how many days there were readings in it.
    pub days: usize,
    /// The percentiles 10, 25, 50, 75 and 90, in mg/dL.
    pub mg_dl: [f64; PERCENTILES.len()],
    /// The mean, in mg/dL.
    pub mean_mg_dl: f64,
}

impl Hour {
    /// The median, in mg/dL.
    #[must_use]
    pub fn median_mg_dl(&self) -> f64 {
        self.mg_dl[2]
    }
}

/// What was read in one hour of the clock: amounts with their weights, and the dates.
#[derive(Clone, Default)]
struct InOneHour {
    amounts: Vec<(f64, f64)>,
    days: BTreeSet<chrono::NaiveDate>,
}

/// The 24 hours.
#[must_use]
pub fn profile(held: &[Held]) -> Vec<Measured<Hour>> {
    let mut by_hour = vec![InOneHour::default(); 24];
    for one in held {
        let InOneHour { amounts, days } = &mut by_hour[(one.at.minute_of_day() / 60) as usize % 24];
        amounts.push((one.mg_dl(), one.minutes));
        // Readings come in order, so nearly all are of the day last seen.
        let date = one.at.local_date();
        if days.last() != Some(&date) {
            days.insert(date);
        }
    }
    (0..24)
        .zip(by_hour)
        .map(|(hour, InOneHour { mut amounts, days })| {
            let too_little = TooLittle::of(Need::DaysAtThisHour, days.len() as f64, FEWEST_DAYS as f64);
            if days.len() < FEWEST_DAYS {
                return Err(too_little);
            }
            amounts.sort_unstable_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
            let total: f64 = amounts.iter().map(|one| one.1).sum();
            let mean_mg_dl = amounts.iter().map(|one| one.0 * one.1).sum::<f64>() / total;
            let mg_dl = PERCENTILES.map(|percent| percentile(&amounts, percent).unwrap_or(mean_mg_dl));
            Ok(Hour { hour, days: days.len(), mg_dl, mean_mg_dl })
        })
        .collect()
}
