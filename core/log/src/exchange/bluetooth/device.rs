//! A device nearby: what it sends, characteristic by characteristic in whatever order it comes, made into log entries.
//!
//! A shell reads and subscribes and hands the octets on; what is needed to understand them, and what has to wait for what, is
//! known here.

use std::collections::VecDeque;

use super::cgm::{CgmAbility, CgmFeature, CgmMeasurement};
use super::crc::E2eCrc;
use super::ingest::{HeldBack, MeterTaker, Remark, SensorTaker, Taken};
use super::meter::{MeterContext, MeterMeasurement};
use super::records::{Outcome, Position, RecordAccess, Selection, Service};
use super::time::SessionStart;
use super::{Characteristic, DecodeError};
use crate::exchange::csv::{Offsets, Zone};
use crate::log::{Entry, Source};
use crate::time::Moment;

/// Records that wait for the session's start; more than a sensor sends in a day. The oldest go first, and can be asked for again.
const MOST_WAITING: usize = 2000;

/// The wearer's clock, for devices that do not know its offset.
pub struct Clocks<'a> {
    /// What a local time on the device's clock means.
    pub local: &'a dyn Fn(chrono::NaiveDateTime) -> Offsets,
    /// The offset from UTC in minutes at an instant, Unix time in milliseconds.
    pub at: &'a dyn Fn(i64) -> i32,
}

impl std::fmt::Debug for Clocks<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Clocks")
    }
}

/// What a device is. A wearer has one of each.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// Offers Continuous Glucose Monitoring, whatever else.
    Sensor,
    /// Offers Glucose.
    Meter,
}

impl Kind {
    /// By the 16 bits by which the Bluetooth SIG numbers the services that a device offers.
    #[must_use]
    pub fn of(services: &[u16]) -> Option<Self> {
        let offers = |service: Service| services.contains(&service.uuid());
        match (offers(Service::ContinuousGlucoseMonitoring), offers(Service::Glucose)) {
            (true, _) => Some(Self::Sensor),
            (false, true) => Some(Self::Meter),
            (false, false) => None,
        }
    }
}

/// What is not in the log, or worth showing beside it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Remarkable {
    /// Octets that cannot be understood.
    NotUnderstood(DecodeError),
    /// The session began at a time that cannot be.
    NoSuchTime,
    /// A record that is not in the log.
    HeldBack(HeldBack),
    /// Something about what was taken, with the time it belongs to.
    Of(Moment, Remark),
}

/// What octets contained.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Received {
    /// For the log. Recording them again changes nothing.
    pub entries: Vec<Entry>,
    /// What is not in the log or worth showing.
    pub remarks: Vec<Remarkable>,
    /// When the sensor's session began, where these octets say so: offer to note that it was put in then.
    pub session_began: Option<Moment>,
    /// Records that wait until the session's start was read.
    pub waiting: usize,
}

/// A sensor or meter nearby, for as long as it is connected to.
#[derive(Clone, Debug)]
pub struct Device {
    source: Source,
    crc: E2eCrc,
    start: Option<SessionStart>,
    sensor: Option<SensorTaker>,
    waiting: VecDeque<CgmMeasurement>,
    /// The newest measurement whose context is still to come, and how much of it was reported already.
    measured: Option<(MeterMeasurement, usize, usize)>,
    /// The newest reading of it that was known when it came into reach, until it has sent what it read since.
    known: Option<Option<Moment>>,
}

impl Device {
    /// What to read first, in this order: without a sensor's features and its session's start its measurements cannot be understood.
    pub const READ_FIRST: [Characteristic; 2] = [Characteristic::CgmFeature, Characteristic::CgmSessionStartTime];
    /// What to subscribe to before it is asked for records.
    pub const NOTIFIED: [Characteristic; 3] =
        [Characteristic::CgmMeasurement, Characteristic::GlucoseMeasurement, Characteristic::GlucoseMeasurementContext];

    /// One that was just connected to; `source` names it in the log.
    #[must_use]
    pub const fn new(source: Source) -> Self {
        let waiting = VecDeque::new();
        Self { source, crc: E2eCrc::Absent, start: None, sensor: None, waiting, measured: None, known: None }
    }

    /// What to write to the Record Access Control Point to be sent every record that the device holds: a meter sends none
    /// unasked.
    #[must_use]
    pub fn every_record() -> Vec<u8> {
        RecordAccess::Report(Selection::All).encode()
    }

    /// What the log calls it, and when the session of its sensor began, where that was read.
    #[must_use]
    pub fn sensor_session(&self) -> Option<(&Source, Moment)> {
        self.sensor.as_ref().map(|sensor| (&self.source, sensor.start()))
    }

    /// It came into reach: call it each time its session's start was read, with the newest reading of it that is known then. What it
    /// read since is asked for until it answers that all of it was sent; a reading that it sends meanwhile does not close the gap.
    pub fn reached(&mut self, newest: Option<Moment>) {
        self.known.get_or_insert(newest);
    }

    /// As [`Device::every_record`], without those before the newest reading of it that was known when it was [reached](Device::reached),
    /// or, where all since was sent, is `newest` now: a sensor counts its records by minutes of its session. A meter, and a sensor whose
    /// session is not known yet, are asked for all.
    #[must_use]
    // The casts fit: within the range.
    pub fn records_since(&self, newest: Option<Moment>) -> Vec<u8> {
        let newest = self.known.unwrap_or(newest);
        let minutes = self.sensor.as_ref().zip(newest).map(|(sensor, at)| at.minutes_since(sensor.start()));
        let selection = match minutes {
            Some(minutes) if (0.0..=f64::from(u16::MAX)).contains(&minutes) => {
                Selection::From(Position::Minutes(minutes as u16))
            }
            _ => Selection::All,
        };
        RecordAccess::Report(selection).encode()
    }

    /// Decodes a value of a characteristic. Read [`Characteristic::CgmFeature`] and [`Characteristic::CgmSessionStartTime`] of a
    /// sensor before its measurements are subscribed to; measurements that come before wait. Characteristics that say nothing
    /// for the log are passed over.
    ///
    /// Octets that cannot be understood are reported in [`Received::remarks`]: a device may send the next value well.
    #[must_use]
    pub fn receive(
        &mut self,
        characteristic: Characteristic,
        octets: &[u8],
        now: Moment,
        clocks: &Clocks<'_>,
    ) -> Received {
        let received = match characteristic {
            Characteristic::CgmFeature => self.feature(octets),
            Characteristic::CgmSessionStartTime => self.session(octets, now, clocks),
            Characteristic::CgmMeasurement => self.readings(octets, now, clocks),
            Characteristic::GlucoseMeasurement => self.measurement(octets, now, clocks),
            Characteristic::GlucoseMeasurementContext => self.context(octets, now, clocks),
            Characteristic::RecordAccessControlPoint => Ok(self.answered(octets)),
            Characteristic::CgmStatus
            | Characteristic::CgmSessionRunTime
            | Characteristic::CgmSpecificOpsControlPoint
            | Characteristic::GlucoseFeature => Ok(Received::default()),
        };
        let mut received = received.unwrap_or_else(|error| Received {
            remarks: vec![Remarkable::NotUnderstood(error)],
            ..Received::default()
        });
        received.waiting = self.waiting.len();
        received
    }

    fn feature(&mut self, octets: &[u8]) -> Result<Received, DecodeError> {
        let feature = CgmFeature::decode(octets)?;
        self.crc = if feature.abilities.has(CgmAbility::E2eCrc) { E2eCrc::Present } else { E2eCrc::Absent };
        Ok(Received::default())
    }

    fn session(&mut self, octets: &[u8], now: Moment, clocks: &Clocks<'_>) -> Result<Received, DecodeError> {
        let start = SessionStart::decode(octets, self.crc)?;
        if self.start != Some(start) {
            let offset_minutes = match (clocks.local)(start.local.local()) {
                Offsets::One(minutes) | Offsets::Two { before: minutes, .. } | Offsets::Never { before: minutes } => {
                    minutes
                }
            };
            self.sensor = match SensorTaker::new(self.source.clone(), &start, offset_minutes) {
                Ok(taker) => Some(taker),
                Err(_) => return Ok(Received { remarks: vec![Remarkable::NoSuchTime], ..Received::default() }),
            };
            self.start = Some(start);
        }
        let session_began = self.sensor.as_ref().map(SensorTaker::start);
        Ok(Received { session_began, ..self.take_waiting(now, clocks) })
    }

    fn readings(&mut self, octets: &[u8], now: Moment, clocks: &Clocks<'_>) -> Result<Received, DecodeError> {
        self.waiting.extend(CgmMeasurement::decode(octets, self.crc)?);
        let too_many = self.waiting.len().saturating_sub(MOST_WAITING);
        self.waiting.drain(..too_many);
        Ok(self.take_waiting(now, clocks))
    }

    fn take_waiting(&mut self, now: Moment, clocks: &Clocks<'_>) -> Received {
        let Some(sensor) = &mut self.sensor else { return Received::default() };
        let records: Vec<CgmMeasurement> = self.waiting.drain(..).collect();
        received(sensor.take(&records, now, clocks.at), 0, 0)
    }

    fn measurement(&mut self, octets: &[u8], now: Moment, clocks: &Clocks<'_>) -> Result<Received, DecodeError> {
        let measurement = MeterMeasurement::decode(octets)?;
        let taken = self.meter(clocks).take(&measurement, None, now);
        // What it showed is not kept waiting for a context that may never come.
        self.measured =
            measurement.context_follows.then_some((measurement, taken.held_back.len(), taken.remarks.len()));
        Ok(received(taken, 0, 0))
    }

    fn context(&mut self, octets: &[u8], now: Moment, clocks: &Clocks<'_>) -> Result<Received, DecodeError> {
        let context = MeterContext::decode(octets)?;
        let Some((measurement, held_back, remarks)) = self.measured.take() else { return Ok(Received::default()) };
        let taken = self.meter(clocks).take(&measurement, Some(&context), now);
        Ok(received(taken, held_back, remarks))
    }

    /// Nothing of an answer is for the log, so one that cannot be read is passed over.
    fn answered(&mut self, octets: &[u8]) -> Received {
        if let Ok(RecordAccess::Response { to, outcome: Outcome::Success | Outcome::NoRecords }) =
            RecordAccess::decode(octets, Service::ContinuousGlucoseMonitoring)
            && to == RecordAccess::REPORT
        {
            self.known = None;
        }
        Received::default()
    }

    fn meter<'a>(&self, clocks: &Clocks<'a>) -> MeterTaker<'a> {
        MeterTaker::new(self.source.clone(), Zone::Changing(clocks.local))
    }
}

/// Without what was said before.
fn received(taken: Taken, held_back: usize, remarks: usize) -> Received {
    let held = taken.held_back.into_iter().skip(held_back).map(Remarkable::HeldBack);
    let remarks = taken.remarks.into_iter().skip(remarks).map(|(at, remark)| Remarkable::Of(at, remark));
    Received { remarks: held.chain(remarks).collect(), entries: taken.entries, ..Received::default() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::EntryKind;

    const FEATURE_WITHOUT_CRC: [u8; 6] = [0, 0, 0, 0x19, 0xFF, 0xFF];
    /// 2 May 2024, 10:15:00, one hour east of UTC.
    const START: [u8; 9] = [0xE8, 0x07, 5, 2, 10, 15, 0, 4, 0];
    /// 120 mg/dL, 5 minutes on.
    const READING: [u8; 6] = [0x06, 0x00, 0x78, 0x00, 0x05, 0x00];

    fn clocks() -> Clocks<'static> {
        Clocks { local: &|_| Offsets::One(60), at: &|_| 60 }
    }

    fn receive(device: &mut Device, characteristic: Characteristic, octets: &[u8]) -> Received {
        let now = Moment::parse("2024-05-02T12:00:00+01:00").unwrap();
        device.receive(characteristic, octets, now, &clocks())
    }

    #[test]
    fn readings_wait_for_the_session_and_are_taken_with_it() {
        let mut device = Device::new(Source::new("sensor 7").unwrap());
        assert_eq!(receive(&mut device, Characteristic::CgmFeature, &FEATURE_WITHOUT_CRC), Received::default());
        let early = receive(&mut device, Characteristic::CgmMeasurement, &READING);
        assert_eq!((early.entries.len(), early.waiting), (0, 1));
        let begun = receive(&mut device, Characteristic::CgmSessionStartTime, &START);
        assert_eq!(begun.session_began.unwrap().to_rfc3339(), "2024-05-02T10:15:00+01:00");
        assert_eq!((begun.entries.len(), begun.waiting), (1, 0));
        assert_eq!(begun.entries[0].at.to_rfc3339(), "2024-05-02T10:20:00+01:00");
        let again = receive(&mut device, Characteristic::CgmMeasurement, &READING);
        assert_eq!(again.entries[0].id, begun.entries[0].id, "the same reading is the same entry");
    }

    #[test]
    fn a_sensor_is_asked_for_what_came_after_the_newest() {
        let mut device = Device::new(Source::new("sensor 7").unwrap());
        let newest = Moment::parse("2024-05-02T11:20:30+01:00").unwrap();
        assert_eq!(device.records_since(Some(newest)), [1, 1], "its session is not known");
        let _ = receive(&mut device, Characteristic::CgmSessionStartTime, &START);
        // Report stored records, greater than or equal to, by time offset: 65 minutes into the session.
        assert_eq!(device.records_since(Some(newest)), [1, 3, 1, 65, 0]);
        assert_eq!(device.records_since(None), [1, 1]);
        let before = Moment::parse("2024-05-02T09:00:00+01:00").unwrap();
        assert_eq!(device.records_since(Some(before)), [1, 1], "the newest is of the sensor before");
    }

    #[test]
    fn a_device_is_what_its_services_make_it() {
        assert_eq!(Kind::of(&[0x180A, 0x1808]), Some(Kind::Meter));
        assert_eq!(Kind::of(&[0x1808, 0x181F]), Some(Kind::Sensor));
        assert_eq!(Kind::of(&[0x180D]), None);
    }

    #[test]
    fn a_gap_is_asked_for_until_all_of_it_was_sent() {
        let at = |minutes: f64| Moment::parse("2024-05-02T10:15:00+01:00").unwrap().plus_minutes(minutes);
        let mut device = Device::new(Source::new("sensor 7").unwrap());
        let _ = receive(&mut device, Characteristic::CgmSessionStartTime, &START);
        device.reached(Some(at(20.0)));
        // A live reading is the newest before anything was asked for.
        assert_eq!(device.records_since(Some(at(65.0))), [1, 3, 1, 20, 0]);
        let answer = |device: &mut Device, outcome| {
            let _ = receive(device, Characteristic::RecordAccessControlPoint, &[6, 0, 1, outcome]);
        };
        // Not completed; and out of reach once more before it was.
        answer(&mut device, 8);
        device.reached(Some(at(65.0)));
        assert_eq!(device.records_since(Some(at(70.0))), [1, 3, 1, 20, 0]);
        answer(&mut device, 1);
        assert_eq!(device.records_since(Some(at(70.0))), [1, 3, 1, 70, 0]);
        device.reached(Some(at(75.0)));
        assert_eq!(device.records_since(Some(at(90.0))), [1, 3, 1, 75, 0]);
    }

    #[test]
    fn octets_not_understood_are_reported_and_the_next_are_taken() {
        let mut device = Device::new(Source::new("sensor 7").unwrap());
        let _ = receive(&mut device, Characteristic::CgmSessionStartTime, &START);
        let bad = receive(&mut device, Characteristic::CgmMeasurement, &[0x06, 0x00, 0x78]);
        assert!(bad.entries.is_empty() && bad.remarks.len() == 1, "{bad:?}");
        assert_eq!(receive(&mut device, Characteristic::CgmMeasurement, &READING).entries.len(), 1);
        let never = receive(&mut device, Characteristic::CgmSessionStartTime, &[0; 9]);
        assert!(never.session_began.is_none() && never.remarks.len() == 1, "{never:?}");
    }

    #[test]
    fn a_meter_is_taken_at_once_and_its_context_adds_to_it() {
        let mut device = Device::new(Source::new("meter 2").unwrap());
        // Number 1, 2 May 2024 11:00:00, 6.0 mmol/L in capillary whole blood from a finger, context follows.
        let measured = [0x16, 1, 0, 0xE8, 0x07, 5, 2, 11, 0, 0, 0x3C, 0xC0, 0x11];
        let first = receive(&mut device, Characteristic::GlucoseMeasurement, &measured);
        let EntryKind::MeterCheck { mg_dl } = first.entries[0].what else { panic!("{first:?}") };
        // The log keeps tenths of mg/dL, which are less than a hundredth of mmol/L.
        assert!((mg_dl.mmol_l() - 6.0).abs() < 0.01, "{mg_dl:?}");
        // 45 g of carbohydrate at breakfast.
        let context = [0x01, 1, 0, 1, 0x2D, 0xD0];
        let second = receive(&mut device, Characteristic::GlucoseMeasurementContext, &context);
        assert_eq!(second.entries[0].id, first.entries[0].id);
        assert!(matches!(second.entries[1].what, EntryKind::Carbohydrate { grams, .. } if (grams - 45.0).abs() < 1e-9));
        assert!(second.remarks.is_empty(), "{second:?}");
        assert_eq!(Device::every_record(), [1, 1]);
    }
}
