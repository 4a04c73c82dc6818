//! Readings that move fast in one direction, one after the other: what neither noise nor a pressed sensor does.
//!
//! The gate on a wild reading and the unsettled mode would both hold the estimate back from a fall that begins at once: six readings of
//! 220 to 100 mg/dL then count as six wild ones.

use crate::log::SILENT_MINUTES;
use crate::time::Moment;

/// From this rate on readings move fast, in mg/dL/min: 3, less what rounding to mmol/L and back may take.
const FAST: f64 = 3.0 - 1e-6;
/// Readings closer together say nothing of the rate, in minutes.
const RATE_OVER_MINUTES: f64 = 4.0;
/// Readings further apart break a run, in minutes: as long as a sensor may be silent and still be followed.
const BROKEN_MINUTES: f64 = SILENT_MINUTES as f64;
/// A run has so many moves by day; asleep, where a sensor that was just pressed moves for two, one more.
const MOVES: (u32, u32) = (3, 4);

/// The run that may be going on.
#[derive(Clone, Copy, Debug)]
pub(super) struct FastRun {
    at: Moment,
    mg_dl: f64,
    falls: bool,
    moves: u32,
}

impl FastRun {
    /// Begins from a first reading, in mg/dL.
    pub(super) const fn begin(at: Moment, mg_dl: f64) -> Self {
        Self { at, mg_dl, falls: false, moves: 0 }
    }

    /// The next reading, in mg/dL.
    pub(super) fn reading(&mut self, at: Moment, mg_dl: f64) {
        let minutes = at.minutes_since(self.at);
        if minutes < RATE_OVER_MINUTES {
            return;
        }
        let rate = (mg_dl - self.mg_dl) / minutes;
        let falls = rate < 0.0;
        let moves = if rate.abs() < FAST || minutes > BROKEN_MINUTES {
            0
        } else if falls == self.falls {
            self.moves + 1
        } else {
            1
        };
        *self = Self { at, mg_dl, falls, moves };
    }

    /// Whether it is long enough to be a move of glucose.
    pub(super) const fn is_long(&self, asleep: bool) -> bool {
        let (awake, sleeping) = MOVES;
        self.moves >= if asleep { sleeping } else { awake }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn run(readings: &[f64]) -> FastRun {
        let from = Moment::parse("2026-03-01T12:00:00+01:00").unwrap();
        let mut run = FastRun::begin(from, readings[0]);
        for (nth, mg_dl) in readings.iter().enumerate().skip(1) {
            run.reading(from.plus_minutes(5.0 * nth as f64), *mg_dl);
        }
        run
    }

    #[test]
    fn three_fast_moves_one_way_are_glucose_and_to_and_fro_is_not() {
        assert!(run(&[220.0, 200.0, 180.0, 160.0]).is_long(false));
        assert!(run(&[100.0, 120.0, 140.0, 160.0]).is_long(false));
        assert!(!run(&[220.0, 200.0, 180.0]).is_long(false));
        assert!(!run(&[220.0, 200.0, 220.0, 200.0, 180.0]).is_long(false));
        // A pressed sensor drops for two readings and stays.
        assert!(!run(&[110.0, 85.0, 62.0, 60.0]).is_long(false));
        assert!(!run(&[220.0, 200.0, 180.0, 160.0]).is_long(true));
        assert!(run(&[220.0, 200.0, 180.0, 160.0, 140.0]).is_long(true));
    }
}
