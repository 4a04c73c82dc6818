//! How far glucose swings within a day and differs from day to day.

use chrono::NaiveDate;

use super::held::{Held, by_date, total_minutes};
use super::spread::Spread;
use crate::time::{DAY_MS, MINUTE_MS};

/// The mean amplitude of glycemic excursions of one day, in mg/dL; nothing where no excursion exceeds one SD.
///
/// # Formula
/// The day's readings become turning points whose every leg is larger than one standard deviation of that day (first and
/// last reading count as turning points); the mean of the legs in the direction of the first.
///
/// # Source
/// Service FJ, Molnar GD, Rosevear JW, et al., Diabetes 1970;19:644-655 (from memory).
#[must_use]
pub fn mage_mg_dl(day: &[Held]) -> Option<f64> {
    let sd = Spread::of(day)?.sd_mg_dl;
    let first = day.first()?.mg_dl();
    let (mut lowest, mut highest) = (first, first);
    let mut legs: Vec<f64> = Vec::new();
    // The turn a leg begins at, and the furthest point it has come to; signed by direction once there is one.
    let mut leg: Option<(f64, f64)> = None;
    for g in day.iter().map(|one| one.mg_dl()) {
        match &mut leg {
            None => {
                (lowest, highest) = (lowest.min(g), highest.max(g));
                if g - lowest > sd {
                    leg = Some((lowest, g));
                } else if highest - g > sd {
                    leg = Some((highest, g));
                }
            }
            Some((turn, furthest)) => {
                let sign = (*furthest - *turn).signum();
                if sign * (g - *furthest) > 0.0 {
                    *furthest = g;
                } else if sign * (*furthest - g) > sd {
                    legs.push(*furthest - *turn);
                    leg = Some((*furthest, g));
                }
            }
        }
    }
    legs.extend(leg.map(|(turn, furthest)| furthest - turn));
    let direction = legs.first()?.signum();
    let counted: Vec<f64> = legs.iter().filter(|leg| leg.signum() * direction > 0.0).map(|leg| leg.abs()).collect();
    Some(counted.iter().sum::<f64>() / counted.len() as f64)
}

/// A day counts towards the swings if readings cover this share of 24 hours.
pub const DAY_COVERED: f64 = 0.7;

/// The local days that readings cover by at least 70 %.
#[must_use]
pub fn covered_days(held: &[Held]) -> Vec<(NaiveDate, Vec<Held>)> {
    by_date(held).into_iter().filter(|(_, day)| total_minutes(day) >= DAY_COVERED * 1440.0).collect()
}

/// The mean of [`mage_mg_dl`] over the covered days that have one, and how many days are covered.
#[must_use]
pub(crate) fn mean_mage(held: &[Held]) -> (Option<f64>, usize) {
    let covered = covered_days(held);
    let days: Vec<f64> = covered.iter().filter_map(|(_, day)| mage_mg_dl(day)).collect();
    let mean = (!days.is_empty()).then(|| days.iter().sum::<f64>() / days.len() as f64);
    (mean, covered.len())
}

/// Two readings count as a day apart if they are within this of 24 hours, in minutes: half the widest spacing.
const SAME_TIME_MINUTES: f64 = 7.5;

/// The mean of daily differences, in mg/dL, and the time of the readings that had one 24 h before, in minutes.
///
/// # Formula
/// `mean |g(t) - g(t - 24 h)|` over the readings with another 24 h before, the nearest within 7.5 minutes; weighed by time.
///
/// # Source
/// Molnar GD, Taylor WF, Ho MM, Diabetologia 1972;8:342-348 (from memory).
#[must_use]
pub fn modd_mg_dl(held: &[Held]) -> (Option<f64>, f64) {
    let (mut sum, mut minutes, mut place) = (0.0, 0.0, 0);
    for one in held {
        let wanted = one.at.unix_ms() - DAY_MS;
        let off = |other: &Held| (other.at.unix_ms() - wanted).abs();
        while held.get(place + 1).is_some_and(|next| off(next) <= off(&held[place])) {
            place += 1;
        }
        if let Some(other) = held.get(place).filter(|other| off(other) as f64 <= SAME_TIME_MINUTES * MINUTE_MS as f64) {
            sum += one.minutes * (one.mg_dl() - other.mg_dl()).abs();
            minutes += one.minutes;
        }
    }
    ((minutes > 0.0).then(|| sum / minutes), minutes)
}
