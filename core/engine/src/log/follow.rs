//! Two sensors worn at once: one is followed, the others are kept beside it.
//!
//! Readings of two sensors never mix into one trace: a step between two sensors would look like glucose that moves.

use crate::log::history::{History, Reading};
use crate::log::shown::Beyond;
use crate::log::values::{SensorEvent, Source};
use crate::time::{MINUTE_MS, Moment};
use crate::units::MG_DL_PER_MMOL_L;

/// A sensor gives way to the next after this long without a reading, in minutes: just over the widest usual spacing, 15.
pub const SILENT_MINUTES: i64 = 16;

/// The readings of one source that were not followed, since a sensor before it in order was read too.
#[derive(Clone, Debug, PartialEq)]
pub struct Concurrent {
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
    /// for [`SILENT_MINUTES`], or was noted as ended, is followed. What else there is to know for that decides nothing, so the same
    /// readings are followed whatever stretch of the log is looked at.
    pub fn take_readings(&mut self, sources: Vec<(Source, Vec<Reading>)>) {
        let mut sources: Vec<(Source, Vec<Reading>)> = sources.into_iter().filter(|one| !one.1.is_empty()).collect();
        for (_, readings) in &mut sources {
            settle(readings);
        }
        let sources = one_for_each_sensor(sources);
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
        all.sort_unstable_by_key(|(rank, one)| (one.at.unix_ms(), *rank));
        let ended = sources.iter().map(|(source, _)| self.ends_of(source)).collect::<Vec<_>>();
        let mut last_read = vec![i64::MIN; sources.len()];
        let mut now_followed = None;
        for (rank, reading) in all {
            let at = reading.at.unix_ms();
            last_read[rank] = at;
            let speaks = |(last, ends): (&i64, &Vec<i64>)| {
                let is_over = ends.iter().any(|end| (*last..=at).contains(end));
                at.saturating_sub(*last) < SILENT_MINUTES * MINUTE_MS && !is_over
            };
            if last_read[..rank].iter().zip(&ended).any(speaks) {
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
        self.concurrent = named.map(|((source, _), readings)| Concurrent { source, readings }).collect();
        self.concurrent.sort_unstable_by(|a, b| a.source.cmp(&b.source));
    }

    /// When a sensor was noted by its name as ended.
    fn ends_of(&self, source: &Source) -> Vec<i64> {
        let ends = self.sensor.iter().filter(|note| note.event == SensorEvent::Ended);
        ends.filter(|note| note.sensor.as_ref() == Some(source)).map(|note| note.at.unix_ms()).collect()
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
            self.followed.iter().any(|one| one.source == **name)
                || self.concurrent.iter().any(|one| one.source == **name)
        };
        let mut named: Vec<&Source> = self.sensor.iter().filter_map(|note| note.sensor.as_ref()).filter(read).collect();
        if !self.concurrent.is_empty() {
            named.extend(self.followed.iter().map(|one| &one.source));
            named.extend(self.concurrent.iter().map(|one| &one.source));
        }
        named.sort_unstable();
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

/// Puts together what is one sensor under two names, in the order given: a file imported under one name on one phone and under
/// another on a second. Two sensors don't read the same at the same instants.
fn one_for_each_sensor(sources: Vec<(Source, Vec<Reading>)>) -> Vec<(Source, Vec<Reading>)> {
    let mut kept: Vec<(Source, Vec<Reading>)> = Vec::with_capacity(sources.len());
    for (source, readings) in sources {
        match kept.iter_mut().find(|one| are_of_one_sensor(&one.1, &readings)) {
            Some((_, before)) => {
                before.extend(readings);
                settle(before);
            }
            None => kept.push((source, readings)),
        }
    }
    kept
}

/// Whether nine in ten of the readings where both have some are the same amount at the same instant, and six at least (both
/// assumptions). Both are given by time; amounts no further apart than rounding to 0.1 mmol/L brings them are the same.
fn are_of_one_sensor(a: &[Reading], b: &[Reading]) -> bool {
    let ends = |readings: &[Reading]| Some((readings.first()?.at.unix_ms(), readings.last()?.at.unix_ms()));
    let (Some(ends_a), Some(ends_b)) = (ends(a), ends(b)) else { return false };
    let (from, until) = (ends_a.0.max(ends_b.0), ends_a.1.min(ends_b.1));
    let shared = |readings: &[Reading]| {
        let first = readings.partition_point(|one| one.at.unix_ms() < from);
        let end = readings.partition_point(|one| one.at.unix_ms() <= until);
        first..end.max(first)
    };
    let (a, b) = (&a[shared(a)], &b[shared(b)]);
    let same = |one: &Reading, other: &Reading| {
        one.beyond == other.beyond && (one.glucose.mg_dl() - other.glucose.mg_dl()).abs() < MG_DL_PER_MMOL_L / 20.0
    };
    let found = |one: &&Reading| {
        b.binary_search_by_key(&one.at.unix_ms(), |other| other.at.unix_ms()).is_ok_and(|n| same(one, &b[n]))
    };
    let twins = a.iter().filter(found).count();
    twins >= 6 && 10 * twins >= 9 * a.len().min(b.len())
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
    readings.sort_unstable_by(order);
    readings.dedup_by_key(|reading| reading.at.unix_ms());
}
