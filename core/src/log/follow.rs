//! Two sensors worn at once: one is followed, the others are kept beside it.
//!
//! Readings of two sensors never mix into one trace: a step between two sensors would look like glucose that moves.

use crate::log::entry::Source;
use crate::log::history::{History, Reading};
use crate::log::shown::Beyond;
use crate::time::{MINUTE_MS, Moment};

/// A sensor gives way to the next after this long without a reading, in minutes: just over the widest usual spacing, 15.
pub const SILENT_MINUTES: i64 = 16;

/// The readings of one source that were not followed, since a sensor before it in order was read too.
#[derive(Clone, Debug, PartialEq)]
pub struct Beside {
    /// The source: a sensor's name as a rule.
    pub source: Source,
    /// Its readings, by time.
    pub readings: Vec<Reading>,
}

/// From when on which source was followed.
#[derive(Clone, Debug, PartialEq)]
pub struct Followed {
    /// From its first reading on.
    pub from: Moment,
    /// The source.
    pub source: Source,
}

impl History {
    /// Takes the readings of several sources, in order of preference: at any time the first of them that has not been silent
    /// for [`SILENT_MINUTES`] is followed. What else there is to know for that decides nothing, so the same readings are
    /// followed whatever stretch of the log is looked at.
    pub(crate) fn take_readings(&mut self, sources: Vec<(Source, Vec<Reading>)>) {
        let mut sources: Vec<(Source, Vec<Reading>)> = sources.into_iter().filter(|one| !one.1.is_empty()).collect();
        for (_, readings) in &mut sources {
            settle(readings);
        }
        if sources.len() < 2 {
            for (source, readings) in sources {
                self.followed.extend(readings.first().map(|one| Followed { from: one.at, source }));
                self.readings = readings;
            }
            return;
        }
        let mut beside: Vec<Vec<Reading>> = vec![Vec::new(); sources.len()];
        let mut all: Vec<(usize, Reading)> = Vec::with_capacity(sources.iter().map(|one| one.1.len()).sum());
        for (rank, (_, readings)) in sources.iter().enumerate() {
            all.extend(readings.iter().map(|one| (rank, *one)));
        }
        all.sort_by_key(|(rank, one)| (one.at.unix_ms(), *rank));
        let mut last_read = vec![i64::MIN; sources.len()];
        let mut now_followed = None;
        for (rank, reading) in all {
            let at = reading.at.unix_ms();
            last_read[rank] = at;
            let speaks = |last: &i64| at.saturating_sub(*last) < SILENT_MINUTES * MINUTE_MS;
            if last_read[..rank].iter().any(speaks) {
                beside[rank].push(reading);
                continue;
            }
            if now_followed != Some(rank) {
                now_followed = Some(rank);
                self.followed.push(Followed { from: reading.at, source: sources[rank].0.clone() });
            }
            self.readings.push(reading);
        }
        let named = sources.into_iter().zip(beside).filter(|(_, readings)| !readings.is_empty());
        self.beside = named.map(|((source, _), readings)| Beside { source, readings }).collect();
        self.beside.sort_by(|a, b| a.source.cmp(&b.source));
    }

    /// The source that is followed at a time, or was last followed before it.
    #[must_use]
    pub fn followed_at(&self, at: Moment) -> Option<&Source> {
        let after = self.followed.partition_point(|one| one.from.unix_ms() <= at.unix_ms());
        self.followed.get(after.checked_sub(1)?).map(|one| &one.source)
    }

    /// The name of each sensor that something is noted of or that was read beside another, in order.
    ///
    /// Empty where the log knows of one sensor at a time only, however its readings came.
    #[must_use]
    pub fn told_apart(&self) -> Vec<&Source> {
        let read = |name: &&Source| {
            self.followed.iter().any(|one| one.source == **name) || self.beside.iter().any(|one| one.source == **name)
        };
        let mut named: Vec<&Source> = self.sensor.iter().filter_map(|note| note.sensor.as_ref()).filter(read).collect();
        if !self.beside.is_empty() {
            named.extend(self.followed.iter().map(|one| &one.source));
            named.extend(self.beside.iter().map(|one| &one.source));
        }
        named.sort();
        named.dedup();
        named
    }

    /// Whether a note that names `sensor`, or none, speaks of the sensor followed at a time.
    ///
    /// Names that no reading came under tell nothing apart.
    #[must_use]
    pub fn speaks_of_followed(&self, sensor: Option<&Source>, at: Moment) -> bool {
        let (Some(name), Some(followed)) = (sensor, self.followed_at(at)) else { return true };
        name == followed || !self.told_apart().contains(&name) && !self.told_apart().contains(&followed)
    }
}

/// Sorts readings of one source and leaves one an instant, the lowest: overlooking a low is the worse mistake. Below a limit is
/// lower than the limit, above it higher.
pub(super) fn settle(readings: &mut Vec<Reading>) {
    let order = |a: &Reading, b: &Reading| {
        let side = |one: &Reading| match one.beyond {
            Some(Beyond::Below) => -1,
            None => 0,
            Some(Beyond::Above) => 1,
        };
        let amounts = a.glucose.mg_dl().total_cmp(&b.glucose.mg_dl()).then(side(a).cmp(&side(b)));
        // The offset decides last, so that the order given does not.
        a.at.unix_ms().cmp(&b.at.unix_ms()).then(amounts).then(a.at.cmp(&b.at))
    };
    readings.sort_by(order);
    readings.dedup_by_key(|reading| reading.at.unix_ms());
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::entry::{Entry, What};
    use crate::units::Glucose;

    fn at(minutes: i32) -> Moment {
        Moment::parse("2026-03-01T12:00:00+01:00").unwrap().plus_minutes(minutes.into())
    }

    fn read(source: &str, minutes: i32, amount: f64) -> Entry {
        let what = What::SensorReading { mg_dl: Glucose::from_mg_dl(amount).unwrap() };
        Entry::new(at(minutes), at(minutes), Source::new(source).unwrap(), what).unwrap()
    }

    fn amounts(readings: &[Reading]) -> Vec<f64> {
        readings.iter().map(|one| one.glucose.mg_dl()).collect()
    }

    #[test]
    fn two_sensors_at_once_do_not_mix() {
        // "b" was read first, so it is followed; "a" is until "b" falls silent.
        let mut entries: Vec<Entry> = (0..6).map(|k| read("b", 5 * k, 100.0)).collect();
        entries.extend((0..12).map(|k| read("a", 5 * k + 2, 140.0)));
        let history = History::of(entries);
        // b at 25 is its last; a at 37 is 12 minutes after it, at 42 it is 17.
        assert_eq!(amounts(&history.readings), [[100.0; 6].as_slice(), [140.0; 4].as_slice()].concat());
        assert_eq!(history.beside.len(), 1);
        assert_eq!(amounts(&history.beside[0].readings), [140.0; 8]);
        assert_eq!(history.followed_at(at(10)).map(Source::as_str), Some("b"));
        assert_eq!(history.followed_at(at(50)).map(Source::as_str), Some("a"));
        assert_eq!(history.followed_at(at(-1)), None);
    }

    #[test]
    fn one_sensor_after_another_is_one_trace() {
        let entries = [read("a", 0, 100.0), read("a", 5, 101.0), read("b", 60, 102.0), read("b", 65, 103.0)];
        let history = History::of(entries.to_vec());
        assert_eq!(amounts(&history.readings), [100.0, 101.0, 102.0, 103.0]);
        assert!(history.beside.is_empty() && history.told_apart().is_empty());
    }
}
