//! Records made into log entries, and what is held back from the log with the reason.
//!
//! A record is held back where the device itself says that its amount is no valid result, or where its time cannot be known. It is
//! never dropped in silence: each one is reported as a [`HeldBack`].
//!
//! What the device calls below or above its range is a reading all the same, too low or too high to measure, with a remark to
//! check it; the range itself is in no characteristic, so the usual limits stand for it ([`Instrument::limit`]).

use super::Sfloat;
use super::cgm::{Annunciation, CgmMeasurement, Status};
use super::meter::{Concentration, MeterContext, MeterFault, MeterFaults, MeterMeasurement};
use super::sample::{SampleLocation, SampleType};
use super::time::SessionStart;
use crate::error::Result;
use crate::exchange::csv::{Offsets, Zone};
use crate::log::{Beyond, DeviceFault, Entry, EntryKind, Instrument, Purpose, SensorEvent, Shown, Source};
use crate::time::{MINUTE_MS, Moment};
use crate::units::Glucose;

/// Why something is not in the log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RejectReason {
    /// The device sent a sign that there is no number.
    NoNumber,
    /// The amount is outside 20 to 600 mg/dL.
    OutOfRange,
    /// The session was stopped.
    SessionStopped,
    /// The sensor or strip is of a wrong type.
    WrongType,
    /// The device says that it does not work as it should.
    Malfunction,
    /// Too warm for a valid result.
    TooWarm,
    /// Too cold for a valid result.
    TooCold,
    /// There was too little blood, or the strip was put in wrongly or pulled too soon.
    SampleOrStrip,
    /// The device's clock is not set or may be wrong.
    TimeUnsure,
    /// The time lies ahead of the phone's clock.
    InFuture,
    /// The time lies outside the years a log takes.
    OutsideYears,
    /// A solution to test the meter with was measured.
    ControlSolution,
    /// What was measured in is not blood, or not said.
    NotBlood,
    /// The record has no concentration.
    NoConcentration,
    /// The context belongs to another measurement.
    ContextOfAnother,
    /// An amount that no person takes.
    ImplausibleAmount,
    /// Insulin in kilograms or litres: how many units that is depends on what the device does not say.
    InsulinNotInUnits,
    /// Movement: the device does not say when it was.
    MovementWithoutTime,
    /// The log has no place for it: HbA1c, who measured, how the wearer was, how the measurement lies to meals.
    NoPlaceInLog,
}

/// Something that is not in the log.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeldBack {
    /// When it was measured, where that can be said.
    pub at: Option<Moment>,
    /// The glucose that was sent, in mg/dL, where a number was sent.
    pub given_mg_dl: Option<f64>,
    /// Why it was held back.
    pub why: RejectReason,
}

/// Something worth reporting about what was taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Remark {
    /// The battery is low.
    BatteryLow,
    /// The sensor asks to be calibrated.
    CalibrationWanted,
    /// The device has an alert of its own; look at it.
    LookAtDevice,
    /// The meter's clock showed this time twice that night; the first was taken.
    ClockShowedItTwice,
    /// The clocks had gone forward over this time.
    HourThatNeverWas,
    /// Too low for the device to measure.
    BelowDeviceRange,
    /// Too high for the device to measure.
    AboveDeviceRange,
    /// Blood from elsewhere than a finger lags behind when glucose moves fast.
    NotFromAFinger,
}

/// What records became.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Taken {
    /// For the log. Recording them again changes nothing.
    pub entries: Vec<Entry>,
    /// What is not in the log.
    pub held_back: Vec<HeldBack>,
    /// What is worth reporting, with the time it belongs to.
    pub remarks: Vec<(Moment, Remark)>,
}

impl Taken {
    fn hold_back(&mut self, at: Option<Moment>, given_mg_dl: Option<f64>, why: RejectReason) {
        self.held_back.push(HeldBack { at, given_mg_dl, why });
    }

    /// Remarks that what was shown was too low or too high to measure.
    fn remark_beyond(&mut self, shown: Shown, at: Moment) {
        let remark = shown.beyond.map(|beyond| match beyond {
            Beyond::Below => Remark::BelowDeviceRange,
            Beyond::Above => Remark::AboveDeviceRange,
        });
        self.remarks.extend(remark.map(|remark| (at, remark)));
    }

    /// Takes an entry, or holds it back where the log would refuse it.
    fn offer(&mut self, entry: Result<Entry>, at: Moment, given_mg_dl: Option<f64>, otherwise: RejectReason) {
        match entry {
            Ok(entry) => self.entries.push(entry),
            Err(_) => self.hold_back(Some(at), given_mg_dl, otherwise),
        }
    }
}

/// The states in which a sensor's amount is no valid result, the graver first.
const SENSOR_NOT_VALID: [(Annunciation, RejectReason); 7] = [
    (Annunciation::SensorTypeIncorrect, RejectReason::WrongType),
    (Annunciation::SensorMalfunction, RejectReason::Malfunction),
    (Annunciation::GeneralFault, RejectReason::Malfunction),
    (Annunciation::TemperatureTooHigh, RejectReason::TooWarm),
    (Annunciation::TemperatureTooLow, RejectReason::TooCold),
    (Annunciation::SessionStopped, RejectReason::SessionStopped),
    (Annunciation::TimeSynchronizationRequired, RejectReason::TimeUnsure),
];

/// The states that the sensor's own record keeps.
const SENSOR_FAULTS: [(Annunciation, DeviceFault); 3] = [
    (Annunciation::SensorTypeIncorrect, DeviceFault::SensorType),
    (Annunciation::SensorMalfunction, DeviceFault::SensorMalfunction),
    (Annunciation::GeneralFault, DeviceFault::General),
];

/// Makes a sensor's records into log entries. Keep it for as long as the session lasts.
///
/// # Example
/// ```
/// use ebbstead_log::exchange::bluetooth::{CgmMeasurement, E2eCrc, SensorTaker, SessionStart};
/// use ebbstead_log::log::Source;
/// use ebbstead_engine::time::Moment;
///
/// let start = SessionStart::decode(&[0xE8, 0x07, 5, 2, 10, 15, 0, 4, 0], E2eCrc::Absent)?;
/// let mut taker = SensorTaker::new(Source::new("sensor 7")?, &start, 120)?;
/// let records = CgmMeasurement::decode(&[0x06, 0x00, 0x78, 0x00, 0x05, 0x00], E2eCrc::Absent)?;
/// let now = Moment::parse("2024-05-02T10:21:00+01:00")?;
/// let taken = taker.take(&records, now, |_| 60);
/// assert_eq!(taken.entries[0].at.to_rfc3339(), "2024-05-02T10:20:00+01:00");
/// # Ok::<(), ebbstead_log::Error>(())
/// ```
#[derive(Clone, Debug)]
pub struct SensorTaker {
    source: Source,
    start: Moment,
    /// The state at the newest record: an event is noted when its bit appears, not with every record that still has it.
    before: Status,
}

impl SensorTaker {
    /// Begins a session. `offset_minutes` is the phone's offset from UTC at its start, used where the sensor does not know its own.
    ///
    /// # Errors
    /// As [`Moment::new`].
    pub fn new(source: Source, start: &SessionStart, offset_minutes: i32) -> Result<Self> {
        Ok(Self { source, start: start.moment(offset_minutes)?, before: Status::default() })
    }

    /// The session's start.
    #[must_use]
    pub const fn start(&self) -> Moment {
        self.start
    }

    /// The entry that says that the sensor was put in when the session began: the first day is judged by it. Offer it to a wearer
    /// who has not noted that, with a site, by hand.
    ///
    /// # Errors
    /// As [`Entry::received`].
    pub fn put_in(&self, now: Moment) -> Result<Entry> {
        Entry::received(self.start, now, self.source.clone(), EntryKind::Sensor(SensorEvent::inserted(None)))
    }

    /// Makes records into entries, in the order given. `now` is the phone's clock, `offset_at` the offset from UTC in minutes that
    /// the wearer's clock had at an instant (Unix time in milliseconds).
    #[must_use]
    pub fn take(&mut self, records: &[CgmMeasurement], now: Moment, offset_at: impl Fn(i64) -> i32) -> Taken {
        let mut taken = Taken::default();
        for record in records {
            self.take_one(record, now, &offset_at, &mut taken);
        }
        taken
    }

    fn take_one(&mut self, record: &CgmMeasurement, now: Moment, offset_at: &impl Fn(i64) -> i32, taken: &mut Taken) {
        let given = record.mg_dl.number();
        let unix_ms = self.start.unix_ms() + i64::from(record.minutes) * MINUTE_MS;
        let Ok(at) = Moment::new(unix_ms, offset_at(unix_ms)) else {
            return taken.hold_back(None, given, RejectReason::OutsideYears);
        };
        let ahead = at.unix_ms() > now.unix_ms().saturating_add(Entry::AHEAD_OF_CLOCK_MS);
        let time_unsure = record.status.has(Annunciation::TimeSynchronizationRequired);
        if !ahead && !time_unsure {
            self.note_events(record.status, at, now, taken);
        }
        for (annunciation, remark) in [
            (Annunciation::BatteryLow, Remark::BatteryLow),
            (Annunciation::CalibrationRequired, Remark::CalibrationWanted),
            (Annunciation::CalibrationRecommended, Remark::CalibrationWanted),
            (Annunciation::DeviceSpecificAlert, Remark::LookAtDevice),
        ] {
            let known = taken.remarks.last() == Some(&(at, remark));
            if record.status.has(annunciation) && !known {
                taken.remarks.push((at, remark));
            }
        }
        if let Some((_, why)) = SENSOR_NOT_VALID.iter().find(|(state, _)| record.status.has(*state)) {
            return taken.hold_back(Some(at).filter(|_| !time_unsure), given, *why);
        }
        if ahead {
            return taken.hold_back(Some(at), given, RejectReason::InFuture);
        }
        let range = Range {
            below: record.status.has(Annunciation::BelowDeviceRange),
            above: record.status.has(Annunciation::AboveDeviceRange),
        };
        match shown(Instrument::Sensor, range, record.mg_dl, given) {
            Err(why) => taken.hold_back(Some(at), given, why),
            Ok(shown) => {
                taken.remark_beyond(shown, at);
                let entry = Entry::received(at, now, self.source.clone(), EntryKind::read_by_sensor(shown));
                taken.offer(entry, at, given, RejectReason::InFuture);
            }
        }
    }

    /// Notes what appeared in the state since the record before.
    fn note_events(&mut self, status: Status, at: Moment, now: Moment, taken: &mut Taken) {
        let appeared = |one| status.has(one) && !self.before.has(one);
        let ended = appeared(Annunciation::SessionStopped).then_some(SensorEvent::Ended);
        let faults = SENSOR_FAULTS.into_iter().filter(|(state, _)| appeared(*state));
        for event in ended.into_iter().chain(faults.map(|(_, code)| SensorEvent::DeviceFault { code })) {
            taken.entries.extend(Entry::received(at, now, self.source.clone(), EntryKind::Sensor(event)));
        }
        self.before = status;
    }
}

/// What the state that came with an amount says of the device's range.
#[derive(Clone, Copy)]
struct Range {
    below: bool,
    above: bool,
}

/// What the device shows, as the log takes it; `given` is the amount's number. A device that knows its range sends some number
/// with the bit, the last that it can show as a rule; the bit says what it means.
fn shown(
    instrument: Instrument,
    range: Range,
    sent: Sfloat,
    given: Option<f64>,
) -> std::result::Result<Shown, RejectReason> {
    let below = range.below || sent == Sfloat::MinusInfinity;
    let above = range.above || sent == Sfloat::PlusInfinity;
    match (below, above, given) {
        // Both at once say nothing.
        (true, true, _) => Err(RejectReason::NoNumber),
        (true, false, _) => Ok(Shown::beyond(instrument, Beyond::Below)),
        (false, true, _) => Ok(Shown::beyond(instrument, Beyond::Above)),
        (false, false, None) => Err(RejectReason::NoNumber),
        (false, false, Some(mg_dl)) => {
            Glucose::from_mg_dl(mg_dl).map(Shown::from).map_err(|_| RejectReason::OutOfRange)
        }
    }
}

/// The faults with which a meter's amount is no valid result, the graver first.
const METER_NOT_VALID: [(MeterFault, RejectReason); 9] = [
    (MeterFault::StripTypeIncorrect, RejectReason::WrongType),
    (MeterFault::Malfunction, RejectReason::Malfunction),
    (MeterFault::GeneralFault, RejectReason::Malfunction),
    (MeterFault::SampleTooSmall, RejectReason::SampleOrStrip),
    (MeterFault::StripInsertion, RejectReason::SampleOrStrip),
    (MeterFault::ReadInterrupted, RejectReason::SampleOrStrip),
    (MeterFault::TemperatureTooHigh, RejectReason::TooWarm),
    (MeterFault::TemperatureTooLow, RejectReason::TooCold),
    (MeterFault::TimeFault, RejectReason::TimeUnsure),
];

/// Makes a meter's measurements into log entries.
///
/// The amount is taken as the meter shows it. Whole blood is not converted to plasma: a meter that names whole blood as its sample
/// shows an amount for plasma all the same, as a rule (common practice, no source).
#[derive(Clone, Debug)]
pub struct MeterTaker<'a> {
    source: Source,
    zone: Zone<'a>,
}

impl<'a> MeterTaker<'a> {
    /// For one meter. `zone` says what the local times of its clock mean.
    #[must_use]
    pub const fn new(source: Source, zone: Zone<'a>) -> Self {
        Self { source, zone }
    }

    /// Makes a measurement and its context, if one came with it, into entries.
    #[must_use]
    pub fn take(&self, measurement: &MeterMeasurement, context: Option<&MeterContext>, now: Moment) -> Taken {
        let mut taken = Taken::default();
        let given = measurement.glucose.and_then(|(concentration, ..)| in_mg_dl(concentration));
        let faults = measurement.faults.unwrap_or_default();
        let at = match self.moment(measurement) {
            Ok((at, remark)) => {
                taken.remarks.extend(remark.map(|remark| (at, remark)));
                at
            }
            Err(why) => {
                taken.hold_back(None, given, why);
                return taken;
            }
        };
        if faults.has(MeterFault::BatteryLow) {
            taken.remarks.push((at, Remark::BatteryLow));
        }
        if let Some((_, why)) = METER_NOT_VALID.iter().find(|(fault, _)| faults.has(*fault)) {
            let at = Some(at).filter(|_| !faults.has(MeterFault::TimeFault));
            taken.hold_back(at, given, *why);
        } else {
            match blood(measurement, faults) {
                Err(why) => taken.hold_back(Some(at), given, why),
                Ok((shown, location)) => {
                    if matches!(location, Some(SampleLocation::AlternateSite | SampleLocation::Earlobe)) {
                        taken.remarks.push((at, Remark::NotFromAFinger));
                    }
                    taken.remark_beyond(shown, at);
                    let entry = Entry::received(at, now, self.source.clone(), EntryKind::checked_by_meter(shown));
                    taken.offer(entry, at, given, RejectReason::InFuture);
                }
            }
        }
        if let Some(context) = context {
            if faults.has(MeterFault::TimeFault) {
                taken.hold_back(None, None, RejectReason::TimeUnsure);
            } else if context.sequence == measurement.sequence {
                self.take_context(context, at, now, &mut taken);
            } else {
                taken.hold_back(None, None, RejectReason::ContextOfAnother);
            }
        }
        taken
    }

    fn take_context(&self, context: &MeterContext, at: Moment, now: Moment, taken: &mut Taken) {
        if let Some((_, amount)) = context.carbohydrate_kg {
            match amount.times_ten_to(3) {
                None => taken.hold_back(Some(at), None, RejectReason::NoNumber),
                Some(grams) => {
                    let what = EntryKind::Carbohydrate { grams, purpose: Purpose::Meal };
                    let entry = Entry::received(at, now, self.source.clone(), what);
                    taken.offer(entry, at, None, RejectReason::ImplausibleAmount);
                }
            }
        }
        for (there, why) in [
            (context.medication.is_some(), RejectReason::InsulinNotInUnits),
            (context.exercise.is_some(), RejectReason::MovementWithoutTime),
            (
                context.hba1c_percent.is_some() || context.meal.is_some() || context.tester_health.is_some(),
                RejectReason::NoPlaceInLog,
            ),
        ] {
            if there {
                taken.hold_back(Some(at), None, why);
            }
        }
    }

    /// The instant of a measurement: its base time and its offset are the wearer's local time.
    fn moment(&self, measurement: &MeterMeasurement) -> std::result::Result<(Moment, Option<Remark>), RejectReason> {
        let moved = measurement.base_time.moved(measurement.offset_minutes.unwrap_or(0));
        let local = moved.ok_or(RejectReason::OutsideYears)?;
        let (offset, remark) = match self.zone.offsets(local) {
            Offsets::One(minutes) => (minutes, None),
            Offsets::Two { before, .. } => (before, Some(Remark::ClockShowedItTwice)),
            Offsets::Never { before } => (before, Some(Remark::HourThatNeverWas)),
        };
        Moment::from_local(local, offset).map(|at| (at, remark)).map_err(|_| RejectReason::OutsideYears)
    }
}

fn in_mg_dl(concentration: Concentration) -> Option<f64> {
    match concentration {
        Concentration::KgPerLitre(amount) => amount.times_ten_to(5),
        Concentration::MolPerLitre(amount) => {
            amount.times_ten_to(3).map(|mmol_l| mmol_l * crate::units::MG_DL_PER_MMOL_L)
        }
    }
}

/// What a meter shows and the site, if it was measured in blood. One that says its result was beyond its range may send no
/// concentration, and then no fluid and no site.
fn blood(
    measurement: &MeterMeasurement,
    faults: MeterFaults,
) -> std::result::Result<(Shown, Option<SampleLocation>), RejectReason> {
    let range =
        Range { below: faults.has(MeterFault::BelowDeviceRange), above: faults.has(MeterFault::AboveDeviceRange) };
    let Some((concentration, fluid, location)) = measurement.glucose else {
        if !range.below && !range.above {
            return Err(RejectReason::NoConcentration);
        }
        return shown(Instrument::Meter, range, Sfloat::NotANumber, None).map(|shown| (shown, None));
    };
    match (fluid, location) {
        (SampleType::ControlSolution, _) | (_, SampleLocation::ControlSolution) => {
            return Err(RejectReason::ControlSolution);
        }
        (SampleType::InterstitialFluid | SampleType::Reserved(_), _) => return Err(RejectReason::NotBlood),
        _ => {}
    }
    shown(Instrument::Meter, range, concentration.sent(), in_mg_dl(concentration)).map(|shown| (shown, Some(location)))
}
