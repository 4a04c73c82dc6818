//! Two sensors worn at once: one is followed, the others are kept beside it.
//!
//! Readings of two sensors never mix into one trace: a step between two sensors would look like glucose that moves.

use crate::log::history::{History, Reading};
use crate::log::shown::Beyond;
use crate::log::values::Source;
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
    pub fn take_readings(&mut self, sources: Vec<(Source, Vec<Reading>)>) {
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
        let after = self.followed.partition_point(|one| !one.from.is_after(at));
        self.followed.get(after.checked_sub(1)?).map(|one| &one.source)
    }

    /// The name of each sensor that something is noted of or that was read beside another, in order.
    ///
    /// Empty where the log knows of one sensor at a time only, however its readings came.
    #[must_use]
    pub fn named_sensors(&self) -> Vec<&Source> {
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
    /// A name without readings is ignored when sensors are compared.
    #[must_use]
    pub fn speaks_of_followed(&self, sensor: Option<&Source>, at: Moment) -> bool {
        let (Some(name), Some(followed)) = (sensor, self.followed_at(at)) else { return true };
        name == followed || !self.named_sensors().contains(&name) && !self.named_sensors().contains(&followed)
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
