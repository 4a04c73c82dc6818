//! CGM Specific Ops Control Point, 0x2AAC: what a phone asks of a sensor and what the sensor answers.

use super::cursor::{Cursor, sealed};
use super::sample::{self, SampleLocation, SampleType};
use super::{Characteristic, DecodeError, E2eCrc, MessageFault, Sfloat};

/// How often a sensor sends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Interval {
    /// Not at all.
    Off,
    /// Every so many minutes, 1 to 254.
    Minutes(u8),
    /// As often as it can.
    Fastest,
}

impl Interval {
    const fn of(octet: u8) -> Self {
        match octet {
            0 => Self::Off,
            255 => Self::Fastest,
            minutes => Self::Minutes(minutes),
        }
    }

    const fn octet(self) -> u8 {
        match self {
            Self::Off => 0,
            Self::Minutes(minutes) => minutes,
            Self::Fastest => 255,
        }
    }
}

flags! {
    /// What became of a calibration; none of them means that it is in use.
    CalibrationFaults of
    /// A bit of the Calibration Status.
    CalibrationFault {
        /// It was not taken.
        Rejected = 0,
        /// Its amount is out of range.
        OutOfRange = 1,
        /// It is not yet settled.
        Pending = 2,
    }
}

/// A calibration: a meter's value given to the sensor.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Calibration {
    /// Glucose, in mg/dL.
    pub mg_dl: Sfloat,
    /// Minutes since the session's start.
    pub minutes: u16,
    /// The fluid it was measured in.
    pub fluid: SampleType,
    /// Where it was measured.
    pub location: SampleLocation,
    /// When the next is due, in minutes since the session's start.
    pub next_minutes: u16,
    /// Its number; passed over when a calibration is set.
    pub record: u16,
    /// What became of it; passed over when a calibration is set.
    pub faults: CalibrationFaults,
}

impl Calibration {
    fn read(octets: &mut Cursor<'_>) -> Result<Self, DecodeError> {
        let (mg_dl, minutes) = (octets.sfloat()?, octets.u16()?);
        let (fluid, location) = sample::split(octets.u8()?);
        let (next_minutes, record) = (octets.u16()?, octets.u16()?);
        let faults = CalibrationFaults::from_bits(u32::from(octets.u8()?));
        Ok(Self { mg_dl, minutes, fluid, location, next_minutes, record, faults })
    }

    fn octets(&self) -> Vec<u8> {
        let mut octets = self.mg_dl.word().to_le_bytes().to_vec();
        octets.extend(self.minutes.to_le_bytes());
        octets.push(sample::joined(self.fluid, self.location));
        octets.extend(self.next_minutes.to_le_bytes());
        octets.extend(self.record.to_le_bytes());
        octets.push(self.faults.bits().to_le_bytes()[0]);
        octets
    }
}

/// A level at which the sensor itself alerts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Level {
    /// The patient's high level, mg/dL.
    PatientHigh,
    /// The patient's low level, mg/dL.
    PatientLow,
    /// The hypo level, mg/dL.
    Hypo,
    /// The hyper level, mg/dL.
    Hyper,
    /// The rate of decrease, mg/dL/min.
    RateOfDecrease,
    /// The rate of increase, mg/dL/min.
    RateOfIncrease,
}

impl Level {
    /// Each with the code that sets it; the next two ask for it and report it.
    const CODES: [(Self, u8); 6] = [
        (Self::PatientHigh, 7),
        (Self::PatientLow, 10),
        (Self::Hypo, 13),
        (Self::Hyper, 16),
        (Self::RateOfDecrease, 19),
        (Self::RateOfIncrease, 22),
    ];

    fn set_code(self) -> u8 {
        Self::CODES.into_iter().find(|(level, _)| *level == self).map_or(0, |(_, code)| code)
    }
}

codes! {
    /// How an operation ended.
    Outcome {
        /// It was done.
        Success = 1,
        /// The sensor does not know it.
        NotSupported = 2,
        /// What came with it cannot be.
        InvalidOperand = 3,
        /// It could not be finished.
        NotCompleted = 4,
        /// What came with it is out of range.
        OutOfRange = 5,
    }
}

/// A request to a sensor, or its answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Operation {
    /// Send this often: 0x01.
    SetInterval(Interval),
    /// How often do you send: 0x02.
    GetInterval,
    /// The answer: 0x03.
    IntervalIs(Interval),
    /// Calibrate: 0x04.
    SetCalibration(Calibration),
    /// Send a calibration by its number, 0xFFFF the last: 0x05.
    GetCalibration(u16),
    /// The answer: 0x06.
    CalibrationIs(Calibration),
    /// Set a level: 0x07, 0x0A, 0x0D, 0x10, 0x13, 0x16.
    SetLevel(Level, Sfloat),
    /// Send a level: the codes after those.
    GetLevel(Level),
    /// The answer: the codes after those.
    LevelIs(Level, Sfloat),
    /// Forget the device's own alert: 0x19.
    ResetDeviceSpecificAlert,
    /// Begin the session: 0x1A.
    StartSession,
    /// Stop the session: 0x1B.
    StopSession,
    /// How an operation ended: 0x1C.
    Response {
        /// The operation's code.
        to: u8,
        /// How it ended.
        outcome: Outcome,
    },
}

impl Operation {
    /// Reads a request or an answer.
    ///
    /// # Errors
    /// [`DecodeError`].
    pub fn decode(octets: &[u8], crc: E2eCrc) -> Result<Self, DecodeError> {
        let mut octets = Cursor::checked(Characteristic::CgmSpecificOpsControlPoint, octets, crc)?;
        let code = octets.u8()?;
        let operation = match code {
            1 => Self::SetInterval(Interval::of(octets.u8()?)),
            2 => Self::GetInterval,
            3 => Self::IntervalIs(Interval::of(octets.u8()?)),
            4 => Self::SetCalibration(Calibration::read(&mut octets)?),
            5 => Self::GetCalibration(octets.u16()?),
            6 => Self::CalibrationIs(Calibration::read(&mut octets)?),
            7..=24 => {
                let (place, turn) = ((code - 7) / 3, (code - 7) % 3);
                let (level, _) = Level::CODES[usize::from(place)];
                match turn {
                    0 => Self::SetLevel(level, octets.sfloat()?),
                    1 => Self::GetLevel(level),
                    _ => Self::LevelIs(level, octets.sfloat()?),
                }
            }
            25 => Self::ResetDeviceSpecificAlert,
            26 => Self::StartSession,
            27 => Self::StopSession,
            28 => Self::Response { to: octets.u8()?, outcome: Outcome::of(octets.u8()?) },
            given => return Err(octets.fault(0, MessageFault::NoSuchCode { given })),
        };
        octets.end()?;
        Ok(operation)
    }

    /// The code in front.
    #[must_use]
    pub fn code(&self) -> u8 {
        match self {
            Self::SetInterval(_) => 1,
            Self::GetInterval => 2,
            Self::IntervalIs(_) => 3,
            Self::SetCalibration(_) => 4,
            Self::GetCalibration(_) => 5,
            Self::CalibrationIs(_) => 6,
            Self::SetLevel(level, _) => level.set_code(),
            Self::GetLevel(level) => level.set_code() + 1,
            Self::LevelIs(level, _) => level.set_code() + 2,
            Self::ResetDeviceSpecificAlert => 25,
            Self::StartSession => 26,
            Self::StopSession => 27,
            Self::Response { .. } => 28,
        }
    }

    /// Writes a request or an answer.
    #[must_use]
    pub fn encode(&self, crc: E2eCrc) -> Vec<u8> {
        let mut octets = vec![self.code()];
        match self {
            Self::SetInterval(interval) | Self::IntervalIs(interval) => octets.push(interval.octet()),
            Self::SetCalibration(calibration) | Self::CalibrationIs(calibration) => octets.extend(calibration.octets()),
            Self::GetCalibration(record) => octets.extend(record.to_le_bytes()),
            Self::SetLevel(_, amount) | Self::LevelIs(_, amount) => octets.extend(amount.word().to_le_bytes()),
            Self::Response { to, outcome } => octets.extend([*to, outcome.code()]),
            Self::GetInterval
            | Self::GetLevel(_)
            | Self::ResetDeviceSpecificAlert
            | Self::StartSession
            | Self::StopSession => {}
        }
        sealed(octets, crc)
    }
}
