//! How long each reading stands for, so that sensors that read every 1, 5 or 15 minutes weigh by time and not by number.

use super::ranges::{shown_above, shown_below};
use crate::log::{Beyond, CompressionLow, Reading};
use crate::review::Period;
use crate::time::Moment;

/// A reading and the time it stands for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// When it was read.
    pub at: Moment,
    /// What was read, in mg/dL; the limit, where it was too low or too high to measure.
    pub mg_dl: f64,
    /// The side on which it was beyond the limit.
    pub beyond: Option<Beyond>,
    /// How long it stands for, in minutes; above 0.
    pub minutes: f64,
}

impl Held {
    /// Whether it was below a line, in whole mg/dL. What was too low to measure is below its limit.
    #[must_use]
    pub fn is_below(&self, line_mg_dl: f64) -> bool {
        shown_below(self.mg_dl, self.beyond, line_mg_dl)
    }

    /// Whether it was above a line, in whole mg/dL. What was too high to measure is above its limit.
    #[must_use]
    pub fn is_above(&self, line_mg_dl: f64) -> bool {
        shown_above(self.mg_dl, self.beyond, line_mg_dl)
    }

    /// When the time it stands for is over.
    #[must_use]
    pub fn until(&self) -> Moment {
        self.at.plus_minutes(self.minutes)
    }
}

/// Readings further apart than this belong to no common spacing, in minutes: the slowest sensors read every 15.
pub(crate) const LONGEST_SPACING_MINUTES: f64 = 20.0;
/// What a reading with no neighbour stands for, in minutes: the commonest spacing.
const LONE_MINUTES: f64 = 5.0;
/// A reading stands until the next one as long as that comes within this many times its spacing.
const UNBROKEN: f64 = 1.5;

/// Gives every reading of the period the time it stands for. Readings must be sorted by time, one an instant.
///
/// # Formula
/// A reading's own spacing is the distance to its nearer neighbour. It stands until the next reading if that comes within
/// 1.5 times its own spacing, else for its own spacing; a reading with no neighbour within 20 minutes
/// stands for 5. So a gap counts for nothing, no minute is counted twice (not with two sensors worn at
/// once either), and readings of different spacing weigh by time.
///
/// Readings inside one of `left_out` are then dropped with the time they stand for.
#[must_use]
pub fn held(readings: &[Reading], period: Period, left_out: &[CompressionLow]) -> Vec<Held> {
    let begin = readings.partition_point(|one| one.at.is_before(period.from()));
    let end = readings.partition_point(|one| one.at.is_before(period.until()));
    let inside = readings.get(begin..end).unwrap_or_default();
    let distance = |a: &Reading, b: &Reading| b.at.minutes_since(a.at);
    let mut all = Vec::with_capacity(inside.len());
    let mut before = f64::INFINITY;
    for (place, reading) in inside.iter().enumerate() {
        let after = inside.get(place + 1).map_or(f64::INFINITY, |next| distance(reading, next));
        let own = before.min(after);
        let stands = if own > LONGEST_SPACING_MINUTES {
            LONE_MINUTES.min(after)
        } else if after <= UNBROKEN * own {
            after
        } else {
            own
        };
        let minutes = stands.min(period.until().minutes_since(reading.at));
        if minutes > 0.0 && !left_out.iter().any(|spell| holds(spell, reading.at)) {
            all.push(Held { at: reading.at, mg_dl: reading.glucose.mg_dl(), beyond: reading.beyond, minutes });
        }
        before = after;
    }
    all
}

fn holds(spell: &CompressionLow, at: Moment) -> bool {
    (spell.from.unix_ms()..spell.until.unix_ms()).contains(&at.unix_ms())
}

/// The time all of them stand for, in minutes.
#[must_use]
pub(crate) fn total_minutes(held: &[Held]) -> f64 {
    held.iter().map(|one| one.minutes).sum()
}

/// The mean of a function of glucose over the time the readings stand for; nothing without readings.
pub(super) fn mean_of(held: &[Held], of: impl Fn(f64) -> f64) -> Option<f64> {
    let total = total_minutes(held);
    (total > 0.0).then(|| held.iter().map(|one| one.minutes * of(one.mg_dl)).sum::<f64>() / total)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Glucose;

    fn start() -> Moment {
        Moment::parse("2026-03-01T00:00:00+01:00").unwrap()
    }

    fn minutes(at: &[f64]) -> Vec<f64> {
        let readings: Vec<Reading> = at
            .iter()
            .map(|minute| Reading::new(start().plus_minutes(*minute), Glucose::from_mg_dl(100.0).unwrap()))
            .collect();
        let period = Period::new(start(), start().plus_minutes(1440.0)).unwrap();
        held(&readings, period, &[]).iter().map(|one| (one.minutes * 100.0).round() / 100.0).collect()
    }

    #[test]
    fn a_reading_stands_for_its_own_spacing_and_a_gap_for_nothing() {
        assert_eq!(minutes(&[0.0, 5.0, 10.0]), [5.0, 5.0, 5.0]);
        assert_eq!(minutes(&[0.0, 5.0, 15.0, 20.0]), [5.0; 4], "one reading is missing");
        assert_eq!(minutes(&[0.0, 5.0, 600.0, 605.0]), [5.0; 4], "hours are missing");
        assert_eq!(minutes(&[0.0, 4.9, 10.1, 15.0]), [4.9, 5.2, 4.9, 4.9], "clocks jitter");
        assert_eq!(minutes(&[0.0, 1.0, 2.0, 17.0, 32.0]), [1.0, 1.0, 1.0, 15.0, 15.0], "from 1 to 15 minutes");
        assert_eq!(minutes(&[0.0, 15.0, 30.0, 31.0, 32.0]), [15.0, 15.0, 1.0, 1.0, 1.0], "and back");
        assert_eq!(minutes(&[0.0, 2.0, 5.0, 7.0, 10.0]), [2.0, 3.0, 2.0, 3.0, 3.0], "two sensors at once");
        assert_eq!(minutes(&[300.0]), [5.0], "a lone reading");
        assert_eq!(minutes(&[1433.0, 1438.0]), [5.0, 2.0], "no longer than the period");
        assert!(minutes(&[]).is_empty());
    }

    #[test]
    fn compression_lows_leave_with_their_time() {
        let readings: Vec<Reading> = (0..12)
            .map(|k| Reading::new(start().plus_minutes(5.0 * f64::from(k)), Glucose::from_mg_dl(100.0).unwrap()))
            .collect();
        let period = Period::new(start(), start().plus_minutes(60.0)).unwrap();
        let spell = CompressionLow { from: start().plus_minutes(20.0), until: start().plus_minutes(40.0) };
        assert!((total_minutes(&held(&readings, period, &[])) - 60.0).abs() < 1e-9);
        assert!((total_minutes(&held(&readings, period, &[spell])) - 40.0).abs() < 1e-9);
    }
}
