//! The phone's health store as a source: from when on it is asked, and how what it holds comes into the log.

use std::collections::HashSet;

use crate::error::Result;
use crate::exchange::health::{HealthRemark, HealthValue, Kind};
use crate::log::{Entry, Source};
use crate::store::{Log, Recorded};
use crate::time::{DAY_MS, Moment};

/// How much is asked for where the log has nothing of the store, in milliseconds. Android gives no more of what others wrote before it
/// was allowed (its guide to Health Connect, from memory).
const FIRST_MS: i64 = 30 * DAY_MS;
/// Apps write late what a meter or a sensor measured: so long before the newest reading is asked for again (assumption). What the
/// log has already changes nothing.
const LATE_MS: i64 = DAY_MS;

/// What became of values.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Received {
    /// What was kept in the log.
    pub recorded: Recorded,
    /// What is not in the log, or worth showing; each once.
    pub remarks: Vec<HealthRemark>,
}

/// The store, for as long as a shell reads it: it remembers what was remarked.
#[derive(Clone, Debug, Default)]
pub struct HealthRecords {
    said_unclear: bool,
    left_out: HashSet<(i64, u64)>,
}

impl HealthRecords {
    /// What the log calls it, on every phone.
    fn source() -> Result<Source> {
        Ok(Source::new("health records")?)
    }

    /// From when on to ask: a day before the newest reading that came from it, since apps write late; without one, 30 days back.
    ///
    /// # Errors
    /// Those of reading the log.
    pub fn since(log: &Log, now: Moment) -> Result<Moment> {
        let first = now.plus_ms(-FIRST_MS);
        let newest = log.newest_received(&Self::source()?, first)?;
        Ok(newest.map(|at| at.plus_ms(-LATE_MS)).filter(|at| at.is_after(first)).unwrap_or(first))
    }

    /// Keeps values. Those the log has already change nothing; one that cannot be is left out, and the others are kept.
    ///
    /// # Errors
    /// Those of writing the log; give the same values again then.
    pub fn receive(&mut self, log: &mut Log, values: &[HealthValue], now: Moment) -> Result<Received> {
        let source = Self::source()?;
        let (mut known, mut unclear, mut left_out) = (Vec::<Entry>::new(), Vec::new(), HashSet::new());
        for value in values {
            match value.entry(&source, now) {
                Ok(Some(entry)) if value.kind() == Kind::Unclear => unclear.push(entry),
                Ok(Some(entry)) => known.push(entry),
                Ok(None) | Err(_) => drop(left_out.insert((value.unix_ms, value.amount.to_bits()))),
            }
        }
        let (known, unclear) = (log.record_all(known)?, log.record_all(unclear)?);
        let mut remarks = Vec::new();
        if unclear.new > 0 && !self.said_unclear {
            remarks.push(HealthRemark::Unclear { count: unclear.new });
            self.said_unclear = true;
        }
        // Asked for again a day long, they would be remarked as often.
        let before = self.left_out.len();
        self.left_out.extend(left_out);
        let count = self.left_out.len() - before;
        if count > 0 {
            remarks.push(HealthRemark::LeftOut { count: count as u64 });
        }
        let recorded = Recorded {
            new: known.new + unclear.new,
            known: known.known + unclear.known,
            contradictory: known.contradictory + unclear.contradictory,
        };
        Ok(Received { recorded, remarks })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exchange::health::Specimen;
    use crate::log::EntryKind;
    use crate::units::GlucoseUnit;

    fn now() -> Moment {
        Moment::parse("2026-03-01T12:00:00+01:00").unwrap()
    }

    fn value(minutes_ago: f64, amount: f64, specimen: Specimen) -> HealthValue {
        let (unix_ms, unit) = (now().plus_minutes(-minutes_ago).unix_ms(), GlucoseUnit::MgDl);
        HealthValue { unix_ms, offset_minutes: 60, amount, unit, specimen, typed: false, tied_to_meal: false }
    }

    #[test]
    fn values_are_kept_once_by_their_kind_and_what_is_unclear_is_remarked_once() {
        let (mut log, mut records) = (Log::in_memory(now()).unwrap(), HealthRecords::default());
        let values = [
            value(9.0, 110.0, Specimen::InterstitialFluid),
            value(8.0, 95.0, Specimen::Blood),
            value(7.0, 130.0, Specimen::Unknown),
        ];
        let first = records.receive(&mut log, &values, now()).unwrap();
        assert_eq!((first.recorded.new, first.remarks), (3, vec![HealthRemark::Unclear { count: 1 }]));
        let again = records.receive(&mut log, &values, now()).unwrap();
        assert_eq!((again.recorded.new, again.recorded.known, again.remarks.len()), (0, 3, 0));
        let more = records.receive(&mut log, &[value(2.0, 125.0, Specimen::Unknown)], now()).unwrap();
        assert_eq!((more.recorded.new, more.remarks.len()), (1, 0));
        let kept = log.current(now().plus_minutes(-60.0), now()).unwrap();
        let checks = kept.iter().filter(|one| matches!(one.what, EntryKind::MeterCheck { .. })).count();
        assert_eq!((kept.len(), checks), (4, 1));
        assert!(kept.iter().all(|one| one.source.as_str() == "health records"));
    }

    #[test]
    fn what_cannot_be_takes_nothing_with_it_and_is_remarked_once() {
        let (mut log, mut records) = (Log::in_memory(now()).unwrap(), HealthRecords::default());
        let values = [
            value(5.0, 0.0, Specimen::Blood),
            value(-600.0, 100.0, Specimen::Blood),
            value(4.0, 100.0, Specimen::Other),
            value(3.0, 101.0, Specimen::InterstitialFluid),
        ];
        let received = records.receive(&mut log, &values, now()).unwrap();
        assert_eq!((received.recorded.new, received.remarks), (1, vec![HealthRemark::LeftOut { count: 3 }]));
        assert_eq!(records.receive(&mut log, &values, now()).unwrap().remarks, []);
    }

    #[test]
    fn it_is_asked_from_a_day_before_its_own_newest_reading_on() {
        let (mut log, mut records) = (Log::in_memory(now()).unwrap(), HealthRecords::default());
        let month = now().plus_ms(-FIRST_MS);
        assert_eq!(HealthRecords::since(&log, now()).unwrap(), month);
        // Another source's readings fill no gap of this one.
        let other = EntryKind::SensorReading { mg_dl: crate::units::Glucose::from_mg_dl(100.0).unwrap() };
        log.record(&Entry::new(now(), now(), Source::new("sensor 7").unwrap(), other).unwrap()).unwrap();
        assert_eq!(HealthRecords::since(&log, now()).unwrap(), month);
        records.receive(&mut log, &[value(30.0, 100.0, Specimen::InterstitialFluid)], now()).unwrap();
        assert_eq!(HealthRecords::since(&log, now()).unwrap(), now().plus_minutes(-30.0).plus_ms(-LATE_MS));
        let later = now().plus_ms(FIRST_MS - DAY_MS / 2);
        assert_eq!(HealthRecords::since(&log, later).unwrap(), later.plus_ms(-FIRST_MS), "never more than 30 days");
    }
}
