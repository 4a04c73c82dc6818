//! Chances of a low over hours: within two, four and six, for the evening, a drive or an hour of sport.
//!
//! Beyond an hour the paths of the last readings say little; what counts is how the last day and week went. So this is a logistic
//! regression of its own: of the hour's chances, where the path leads, and the record's mean, scatter, lows and lowest reading,
//! with the time of day. Nothing is said from less than half a day of readings.
//!
//! # Source
//! Fitted on 27 people of three sets by `tests/fit/long.py`; `core/docs/population.md` says how well it carried over.

use std::collections::VecDeque;

use serde::Serialize;

use crate::logit::{chance_of, log_odds};

/// A low is a reading below this, in mg/dL.
const LOW_MG_DL: f64 = 70.0;
/// How far back the record counts, in minutes: a day and a week.
const DAY: f64 = 1440.0;
const WEEK: f64 = 7.0 * DAY;
/// No chance is given from less than this, in minutes, and fewer readings.
const LEAST: (f64, usize) = (720.0, 40);
/// No chance of the hour is taken for surer than this, nor than one less it: what the fit has seen.
const SEEN: f64 = 1e-3;
/// Features, the constant among them.
const FEATURES: usize = 13;

/// Constant; log-odds of a low within an hour if nothing is done and of a low reading within 30 minutes; path at an hour; level; rate;
/// mean and scatter of a day; share of lows of a day and of a week; lowest of a day; sine and cosine of the hour.
const LOW: [[f64; FEATURES]; 3] = [
    [1.180, 0.164, 0.368, -0.859, 1.757, -0.019, -1.490, 0.538, 0.392, 1.192, -0.599, -0.505, -0.166],
    [1.050, 0.142, 0.325, -0.452, 2.181, 0.015, -2.629, 0.642, 0.379, 2.412, -0.498, -0.433, -0.356],
    [0.814, 0.132, 0.284, -0.240, 1.899, 0.026, -3.028, 0.667, 0.583, 3.150, -0.398, -0.311, -0.482],
];
/// The same for readings below 54 mg/dL.
const FLOOR: [[f64; FEATURES]; 3] = [
    [-0.254, 0.100, 0.395, -0.923, 2.561, 0.002, -0.472, 0.192, 1.992, 0.591, -0.923, -0.308, 0.061],
    [-0.091, 0.140, 0.268, -0.481, 2.498, 0.063, -1.847, 0.349, 0.952, 1.734, -1.092, -0.323, -0.118],
    [-0.437, 0.146, 0.211, -0.247, 2.068, 0.056, -2.262, 0.391, 1.179, 2.143, -0.915, -0.249, -0.231],
];
/// The times that chances are given for, in minutes.
pub(crate) const LONG_MINUTES: [u16; 3] = [120, 240, 360];

/// The chance of a reading below 70 and below 54 mg/dL within some hours.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LongChance {
    /// Within so many minutes.
    pub minutes: u16,
    /// The chance of a reading below 70 mg/dL.
    pub p_low: f64,
    /// The chance of one below 54 mg/dL.
    pub p_floor: f64,
}

/// The readings of the last week, and how many of them were low.
#[derive(Clone, Debug, Default)]
pub(crate) struct LastWeek {
    readings: VecDeque<(f64, f64)>,
    lows: usize,
}

/// What is known besides the record.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Now {
    /// Chance of a low within an hour if nothing is done.
    pub low_60: f64,
    /// Chance of a low reading within 30 minutes.
    pub reading_low_30: f64,
    /// Expected reading in an hour, in mg/dL.
    pub in_an_hour_mg_dl: f64,
    /// The newest reading, in mg/dL.
    pub mg_dl: f64,
    /// How readings move, in mg/dL/min.
    pub rate_mg_dl_min: f64,
    /// The local time of day, in hours.
    pub hour: f64,
}

impl LastWeek {
    /// Adds a reading: minutes since the record began, and mg/dL.
    pub fn add(&mut self, at_minutes: f64, mg_dl: f64) {
        self.readings.push_back((at_minutes, mg_dl));
        self.lows += usize::from(mg_dl < LOW_MG_DL);
        while let Some(first) = self.readings.front().filter(|first| at_minutes - first.0 > WEEK) {
            self.lows -= usize::from(first.1 < LOW_MG_DL);
            self.readings.pop_front();
        }
    }

    /// The chances; nothing from less than half a day.
    #[must_use]
    pub fn chances(&self, now: &Now) -> Option<[LongChance; 3]> {
        let (oldest, newest) = (self.readings.front()?.0, self.readings.back()?.0);
        let first = self.readings.partition_point(|one| newest - one.0 > DAY);
        let day = || self.readings.range(first..).map(|one| one.1);
        let count = self.readings.len() - first;
        if newest - oldest < LEAST.0 || count < LEAST.1 {
            return None;
        }
        let many = count as f64;
        let mean = day().sum::<f64>() / many;
        let sd = (day().map(|one| (one - mean) * (one - mean)).sum::<f64>() / many).sqrt().max(5.0);
        let low = |one: &f64| *one < LOW_MG_DL;
        let share_day = day().filter(low).count() as f64 / many;
        let share_week = self.lows as f64 / self.readings.len() as f64;
        let lowest = day().fold(f64::INFINITY, f64::min);
        let (sine, cosine) = (now.hour * std::f64::consts::PI / 12.0).sin_cos();
        let features = [
            1.0,
            log_odds(now.low_60, SEEN),
            log_odds(now.reading_low_30, SEEN),
            (now.in_an_hour_mg_dl - 100.0) / 50.0,
            (now.mg_dl / 130.0).ln(),
            now.rate_mg_dl_min,
            (mean / 150.0).ln(),
            (sd / 50.0).ln(),
            share_day.sqrt(),
            share_week.sqrt(),
            lowest.min(120.0) / 50.0,
            sine,
            cosine,
        ];
        let (mut before, mut floor_before) = (0.0_f64, 0.0_f64);
        Some(std::array::from_fn(|k| {
            // A longer time is never less likely, and a very low reading is a low one.
            before = before.max(chance(&LOW[k], &features));
            floor_before = floor_before.max(chance(&FLOOR[k], &features)).min(before);
            LongChance { minutes: LONG_MINUTES[k], p_low: before, p_floor: floor_before }
        }))
    }
}

fn chance(weights: &[f64; FEATURES], features: &[f64; FEATURES]) -> f64 {
    let total: f64 = weights.iter().zip(features).map(|(weight, one)| weight * one).sum();
    chance_of(total)
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOW: Now = Now {
        low_60: 0.02,
        reading_low_30: 0.01,
        in_an_hour_mg_dl: 120.0,
        mg_dl: 125.0,
        rate_mg_dl_min: 0.0,
        hour: 23.0,
    };

    fn week(lows_each: usize) -> LastWeek {
        let mut last = LastWeek::default();
        for k in 0..2016 {
            let mg_dl = if lows_each > 0 && k % lows_each == 0 { 60.0 } else { 130.0 + f64::from((k % 7) as u8) };
            last.add(5.0 * k as f64, mg_dl);
        }
        last
    }

    #[test]
    fn lows_in_the_record_and_longer_times_make_a_low_likelier() {
        let (calm, lows) = (week(0).chances(&NOW).unwrap(), week(20).chances(&NOW).unwrap());
        for k in 0..3 {
            assert!(lows[k].p_low > calm[k].p_low && lows[k].p_floor > calm[k].p_floor);
            assert!(calm[k].p_floor <= calm[k].p_low);
        }
        assert!(calm[0].p_low <= calm[1].p_low && calm[1].p_low <= calm[2].p_low);
        let near = week(0).chances(&Now { low_60: 0.5, reading_low_30: 0.4, ..NOW }).unwrap();
        assert!(near[0].p_low > calm[0].p_low);
    }

    #[test]
    fn little_says_nothing() {
        let mut last = LastWeek::default();
        assert_eq!(last.chances(&NOW), None);
        for k in 0..100 {
            last.add(5.0 * f64::from(k), 120.0);
        }
        assert_eq!(last.chances(&NOW), None);
    }
}
