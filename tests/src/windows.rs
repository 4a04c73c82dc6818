//! The moments at which the questions are asked.

use crate::traces::Trace;

/// How many readings back a window goes, the one asked about included: one hour at 5 minutes.
pub const PAST: usize = 13;
/// How many readings ahead it goes: half an hour.
pub const AHEAD: usize = 6;
/// How many readings an episode of falling is followed: 90 minutes.
pub const FOLLOWED: usize = 18;

/// A reading with an unbroken hour before it and half an hour after it, at 5 minutes.
#[derive(Clone, Debug, PartialEq)]
pub struct Window {
    /// Which reading of the trace it is.
    pub at: usize,
    /// The reading and those before it, newest first, in mg/dL.
    pub past: [f64; PAST],
    /// The readings after it, in mg/dL.
    pub ahead: [f64; AHEAD],
}

impl Window {
    /// Whether it is a falling reading: 70 to 130 mg/dL, and 1 mg/dL/min or faster over 15 minutes.
    #[must_use]
    pub fn falling(&self) -> bool {
        falling(self.past[0], self.past[3])
    }

    /// Whether a reading within the half hour after it was below 70 mg/dL.
    #[must_use]
    pub fn low_came(&self) -> bool {
        self.ahead.iter().any(|mg_dl| *mg_dl < 70.0)
    }
}

fn falling(now: f64, fifteen_minutes_ago: f64) -> bool {
    (70.0..=130.0).contains(&now) && (now - fifteen_minutes_ago) / 15.0 <= -1.0
}

/// All windows of a trace. Readings follow each other unbroken when 3.5 to 6.5 minutes apart.
#[must_use]
pub fn windows(trace: &Trace) -> Vec<Window> {
    let mut unbroken_since = 0;
    let starts: Vec<usize> = (0..trace.minutes.len())
        .map(|at| {
            if at > 0 {
                let gap = trace.minutes[at] - trace.minutes[at - 1];
                if !(gap > 3.5 && gap < 6.5) {
                    unbroken_since = at;
                }
            }
            unbroken_since
        })
        .collect();
    (PAST - 1..trace.mg_dl.len().saturating_sub(AHEAD))
        .filter(|at| starts[at + AHEAD] <= at + 1 - PAST)
        .map(|at| Window {
            at,
            past: std::array::from_fn(|back| trace.mg_dl[at - back]),
            ahead: std::array::from_fn(|ahead| trace.mg_dl[at + ahead + 1]),
        })
        .collect()
}

/// First and last reading of each fall: begins at a falling reading, is followed for 90 minutes, and the next one begins
/// no earlier than that. Readings from 15 minutes before to 90 minutes after are less than 6.5 minutes apart.
#[must_use]
pub fn falls(trace: &Trace) -> Vec<(usize, usize)> {
    let (mut at, mut found) = (3, Vec::new());
    while at + FOLLOWED < trace.mg_dl.len() {
        let near = trace.minutes[at - 3..=at + FOLLOWED].windows(2).all(|pair| pair[1] - pair[0] < 6.5);
        if near && falling(trace.mg_dl[at], trace.mg_dl[at - 3]) {
            found.push((at, at + FOLLOWED));
            at += FOLLOWED;
        } else {
            at += 1;
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn trace(mg_dl: Vec<f64>) -> Trace {
        Trace { minutes: (0..mg_dl.len()).map(|k| 5.0 * k as f64).collect(), mg_dl }
    }

    #[test]
    #[allow(clippy::float_cmp)] // copies, not computed
    fn a_gap_ends_what_can_be_asked() {
        let mut it = trace((0..60).map(f64::from).collect());
        assert_eq!(windows(&it).len(), 60 - PAST + 1 - AHEAD);
        assert_eq!(windows(&it)[0].past[12], 0.0);
        assert_eq!(windows(&it)[0].ahead, [13.0, 14.0, 15.0, 16.0, 17.0, 18.0]);
        for minute in &mut it.minutes[30..] {
            *minute += 10.0;
        }
        // Either side has 30 readings, and 12 windows.
        assert_eq!(windows(&it).len(), 2 * (30 - PAST + 1 - AHEAD));
    }

    #[test]
    fn a_fall_is_counted_once() {
        let mut mg_dl = vec![150.0; 10];
        mg_dl.extend((0..10).map(|k| 140.0 - 6.0 * f64::from(k)));
        mg_dl.extend([86.0; 30]);
        let falls = falls(&trace(mg_dl.clone()));
        assert_eq!(falls.len(), 1);
        let (first, last) = falls[0];
        assert_eq!((mg_dl[first], last - first), (128.0, FOLLOWED));
    }
}
