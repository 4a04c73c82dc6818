//! How long each reading stands for, so that sensors that read every 1, 5 or 15 minutes weigh by time and not by number.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use crate::log::{CompressionLow, Reading, Shown};
use crate::review::Period;
use crate::time::Moment;

/// A reading and the time it stands for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// When it was read.
    pub at: Moment,
    /// What was read.
    pub shown: Shown,
    /// How long it stands for, in minutes; above 0.
    pub minutes: f64,
}

impl Held {
    /// What was read, in mg/dL; the limit, where it was too low or too high to measure.
    #[must_use]
    pub const fn mg_dl(&self) -> f64 {
        self.shown.glucose.mg_dl()
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
/// The rhythm at a reading is looked for in this many minutes on either side of it; ours.
const RHYTHM_WITHIN_MINUTES: f64 = 60.0;
/// Two readings of one moment say the same if they are no further apart than this, in mg/dL: what rounding to tenths of mmol/L, and back
/// to whole mg/dL, can change.
const SAME_MG_DL: f64 = 2.0;

/// By local date, the oldest first. A date that is lived twice, by a flight or a clock put back at midnight, is one.
#[must_use]
pub fn by_date(held: &[Held]) -> Vec<(NaiveDate, Vec<Held>)> {
    let mut dates: BTreeMap<NaiveDate, Vec<Held>> = BTreeMap::new();
    for one in held {
        dates.entry(one.at.local_date()).or_default().push(*one);
    }
    dates.into_iter().collect()
}

/// Gives every reading of the period the time it stands for. Readings must be sorted by time, one an instant.
///
/// # Formula
/// The rhythm at a reading is the distance between neighbours that a third of the time of an hour on either side lies below, gaps of more
/// than 20 minutes left out. A reading less than half the rhythm after another that says nearly the same, and nearer to it than half the distance to
/// the next or from the one before, repeats it and is dropped: the same series was brought in twice, with times that differ by seconds.
///
/// A reading's own spacing is the distance to its nearer neighbour, or the rhythm where that neighbour is nearer than half of it. It
/// stands until the next reading if that comes within 1.5 times its own spacing, else for its own spacing; a reading with no
/// neighbour within 20 minutes stands for 5. So a gap counts for nothing, no minute is counted twice (not with two sensors worn
/// at once either), series that interleave cover what one of them covers, and readings of different spacing weigh by time.
///
/// Readings inside one of `left_out` are then dropped with the time they stand for.
#[must_use]
pub fn held(readings: &[Reading], period: Period, left_out: &[CompressionLow]) -> Vec<Held> {
    let begin = readings.partition_point(|one| one.at.is_before(period.from()));
    let end = readings.partition_point(|one| one.at.is_before(period.until()));
    let inside = readings.get(begin..end).unwrap_or_default();
    let repeats = repeats(inside);
    let inside: Vec<&Reading> =
        inside.iter().zip(repeats).filter(|(_, repeats)| !repeats).map(|(one, _)| one).collect();
    let gaps = gaps(inside.iter().map(|one| one.at));
    let mut all = Vec::with_capacity(inside.len());
    let mut before = f64::INFINITY;
    for (place, reading) in inside.iter().enumerate() {
        let after = gaps.get(place).copied().unwrap_or(f64::INFINITY);
        let nearer = before.min(after);
        let stands = if nearer > LONGEST_SPACING_MINUTES {
            LONE_MINUTES.min(after)
        } else if after <= UNBROKEN * nearer {
            after
        } else {
            let own = rhythm(&gaps, place).filter(|rhythm| nearer < rhythm / 2.0).unwrap_or(nearer);
            if after <= UNBROKEN * own { after } else { own }
        };
        let minutes = stands.min(period.until().minutes_since(reading.at));
        if minutes > 0.0 && !left_out.iter().any(|spell| holds(spell, reading.at)) {
            all.push(Held { at: reading.at, shown: reading.shown(), minutes });
        }
        before = after;
    }
    all
}

/// How many readings repeat another, as [`held()`] counts them: less than half the rhythm after it, and nearly the same.
#[must_use]
pub fn repeated(readings: &[Reading]) -> usize {
    repeats(readings).into_iter().filter(|repeats| *repeats).count()
}

fn repeats(readings: &[Reading]) -> Vec<bool> {
    let gaps = gaps(readings.iter().map(|one| one.at));
    let mut kept_place = None;
    let mut repeats = Vec::with_capacity(readings.len());
    for (place, reading) in readings.iter().enumerate() {
        let is_repeat = kept_place.is_some_and(|kept_place: usize| {
            let kept = &readings[kept_place];
            let apart = reading.at.minutes_since(kept.at);
            let before = kept_place.checked_sub(1).and_then(|place| gaps.get(place));
            let beside = before.into_iter().chain(gaps.get(place)).any(|gap| apart < gap / 2.0);
            beside
                && kept.beyond == reading.beyond
                && (kept.glucose.mg_dl() - reading.glucose.mg_dl()).abs() <= SAME_MG_DL
                && apart < LONGEST_SPACING_MINUTES / 2.0
                && rhythm(&gaps, place).is_some_and(|rhythm| apart < rhythm / 2.0)
        });
        if !is_repeat {
            kept_place = Some(place);
        }
        repeats.push(is_repeat);
    }
    repeats
}

/// The distances between neighbours, in minutes.
fn gaps(at: impl Iterator<Item = Moment> + Clone) -> Vec<f64> {
    at.clone().zip(at.skip(1)).map(|(one, next)| next.minutes_since(one)).collect()
}

/// The rhythm at a reading, in minutes; nothing where all its neighbours are far.
fn rhythm(gaps: &[f64], place: usize) -> Option<f64> {
    let mut near: Vec<f64> = Vec::new();
    let mut take = |gaps: &mut dyn Iterator<Item = &f64>| {
        let mut apart = 0.0;
        for gap in gaps {
            apart += gap;
            if apart > RHYTHM_WITHIN_MINUTES {
                break;
            }
            near.extend(Some(*gap).filter(|gap| *gap <= LONGEST_SPACING_MINUTES));
        }
    };
    let (before, after) = gaps.split_at_checked(place)?;
    take(&mut before.iter().rev());
    take(&mut after.iter());
    near.sort_unstable_by(f64::total_cmp);
    let below = near.iter().sum::<f64>() / 3.0;
    let mut passed = 0.0;
    near.into_iter().find(|gap| {
        passed += gap;
        passed > below
    })
}

fn holds(spell: &CompressionLow, at: Moment) -> bool {
    (spell.from.unix_ms()..spell.until.unix_ms()).contains(&at.unix_ms())
}

/// The time all of them stand for, in minutes.
#[must_use]
pub(crate) fn total_minutes(held: &[Held]) -> f64 {
    // An empty sum is minus nought.
    held.iter().map(|one| one.minutes).fold(0.0, |sum, minutes| sum + minutes)
}

/// The mean of a function of glucose over the time the readings stand for; nothing without readings.
pub(super) fn mean_of(held: &[Held], of: impl Fn(f64) -> f64) -> Option<f64> {
    let total = total_minutes(held);
    (total > 0.0).then(|| held.iter().map(|one| one.minutes * of(one.mg_dl())).sum::<f64>() / total)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Glucose;

    fn start() -> Moment {
        Moment::parse("2026-03-01T00:00:00+01:00").unwrap()
    }

    /// Readings that all differ.
    fn minutes(at: &[f64]) -> Vec<f64> {
        let amounts = (0..).map(|k| 100.0 + 10.0 * f64::from(k % 7));
        let readings: Vec<Reading> = at
            .iter()
            .zip(amounts)
            .map(|(minute, amount)| Reading::new(start().plus_minutes(*minute), Glucose::from_mg_dl(amount).unwrap()))
            .collect();
        let period = Period::new(start(), start().plus_minutes(1440.0)).unwrap();
        held(&readings, period, &[]).iter().map(|one| (one.minutes * 100.0).round() / 100.0).collect()
    }

    #[test]
    fn a_date_that_is_lived_twice_is_one() {
        // West past midnight: the second of March begins, and the first comes back.
        let readings: Vec<Reading> = (0..36)
            .map(|k| {
                let at = Moment::parse("2026-03-01T23:00:00+01:00").unwrap().plus_minutes(5.0 * f64::from(k));
                let west = Moment::new(at.unix_ms(), -300).unwrap();
                Reading::new(if k < 18 { at } else { west }, Glucose::from_mg_dl(100.0 + f64::from(k)).unwrap())
            })
            .collect();
        let period = Period::new(start(), start().plus_minutes(3.0 * 1440.0)).unwrap();
        let dates = by_date(&held(&readings, period, &[]));
        let counts: Vec<usize> = dates.iter().map(|(_, held)| held.len()).collect();
        assert_eq!(counts, [30, 6]);
        let minutes = |held: &[Held]| held.iter().map(|one| one.at.unix_ms()).collect::<Vec<_>>();
        assert!(minutes(&dates[0].1).is_sorted());
    }

    #[test]
    fn a_reading_stands_for_its_own_spacing_and_a_gap_for_nothing() {
        assert_eq!(minutes(&[0.0, 5.0, 10.0]), [5.0, 5.0, 5.0]);
        assert_eq!(minutes(&[0.0, 5.0, 15.0, 20.0]), [5.0; 4], "one reading is missing");
        assert_eq!(minutes(&[0.0, 5.0, 600.0, 605.0]), [5.0; 4], "hours are missing");
        assert_eq!(minutes(&[0.0, 4.9, 10.1, 15.0]), [4.9, 5.2, 4.9, 4.9], "clocks jitter");
        let every_minute: Vec<f64> = (0..=60).map(f64::from).collect();
        let stands = minutes(&[every_minute.as_slice(), &[75.0, 90.0, 105.0, 120.0]].concat());
        assert_eq!(stands, [[1.0; 61].as_slice(), &[15.0; 4]].concat(), "from 1 to 15 minutes");
        let back: Vec<f64> = (0..=60).map(|minute| 60.0 + f64::from(minute)).collect();
        let stands = minutes(&[[0.0, 15.0, 30.0, 45.0].as_slice(), &back].concat());
        assert_eq!(stands, [[15.0; 4].as_slice(), &[1.0; 61]].concat(), "and back");
        assert_eq!(minutes(&[0.0, 2.0, 5.0, 7.0, 10.0]), [2.0, 3.0, 2.0, 3.0, 3.0], "two sensors at once");
        assert_eq!(minutes(&[300.0]), [5.0], "a lone reading");
        assert_eq!(minutes(&[1433.0, 1438.0]), [5.0, 2.0], "no longer than the period");
        assert!(minutes(&[]).is_empty());
    }

    /// Readings every five minutes for a day, beside the same so many seconds later.
    fn twice(seconds: f64, differ_by: f64) -> Vec<Reading> {
        let one =
            |minute: f64, amount: f64| Reading::new(start().plus_minutes(minute), Glucose::from_mg_dl(amount).unwrap());
        let both = |k: u32| {
            let (minute, amount) = (5.0 * f64::from(k), 100.0 + 10.0 * f64::from(k % 7));
            [one(minute, amount), one(minute + seconds / 60.0, amount + differ_by)]
        };
        (0..288).flat_map(both).collect()
    }

    #[test]
    fn a_series_brought_in_twice_covers_what_it_covers_once() {
        let period = Period::new(start(), start().plus_minutes(1440.0)).unwrap();
        for seconds in [1.0, 37.0, 75.0, 90.0] {
            let readings = twice(seconds, 1.0);
            assert_eq!(repeated(&readings), 288, "{seconds} s");
            let held = held(&readings, period, &[]);
            assert_eq!(held.len(), 288, "{seconds} s");
            assert!(held.iter().all(|one| (one.minutes - 5.0).abs() < 1e-9), "{seconds} s");
        }
        for seconds in [1.0, 37.0, 75.0, 90.0, 125.0] {
            let readings = twice(seconds, 5.0);
            assert_eq!(repeated(&readings), 0, "what differs is no repeat");
            let covered = total_minutes(&held(&readings, period, &[]));
            assert!((covered - 1440.0).abs() < 6.0, "{seconds} s: {covered}");
        }
        // An outage of both counts for nothing.
        let mut broken = twice(37.0, 5.0);
        broken.drain(200..300);
        let covered = total_minutes(&held(&broken, period, &[]));
        assert!((covered - 1190.0).abs() < 6.0, "{covered}");
    }

    #[test]
    fn readings_that_stay_the_same_are_no_repeats() {
        for spacing in [1.0, 5.0, 15.0] {
            let readings: Vec<Reading> = (0..200)
                .map(|k| {
                    Reading::new(start().plus_minutes(spacing * f64::from(k)), Glucose::from_mg_dl(100.0).unwrap())
                })
                .collect();
            assert_eq!(repeated(&readings), 0, "{spacing} min");
        }
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
