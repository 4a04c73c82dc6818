//! The Continuous Glucose Monitoring service, 0x181F.

use super::cursor::{Cursor, sealed, u24};
use super::sample::{self, SampleLocation, SampleType};
use super::time::SessionStart;
use super::{Characteristic, DecodeError, E2eCrc, MessageFault, Sfloat};

flags! {
    /// What a sensor says of its own state, in up to three octets.
    Status of
    /// A bit of the Sensor Status Annunciation.
    Annunciation {
        /// The session was stopped.
        SessionStopped = 0,
        /// The battery is low.
        BatteryLow = 1,
        /// The sensor is of a type that the device does not take.
        SensorTypeIncorrect = 2,
        /// The sensor does not work as it should.
        SensorMalfunction = 3,
        /// Something only this device knows.
        DeviceSpecificAlert = 4,
        /// A general fault.
        GeneralFault = 5,
        /// The session's start time has to be set.
        TimeSynchronizationRequired = 8,
        /// A calibration would not be taken now.
        CalibrationNotAllowed = 9,
        /// A calibration would help.
        CalibrationRecommended = 10,
        /// A calibration is due.
        CalibrationRequired = 11,
        /// The sensor was too warm for a valid result.
        TemperatureTooHigh = 12,
        /// The sensor was too cold for a valid result.
        TemperatureTooLow = 13,
        /// Below the low level set in the device.
        BelowPatientLow = 16,
        /// Above the high level set in the device.
        AbovePatientHigh = 17,
        /// Below the hypo level set in the device.
        BelowHypo = 18,
        /// Above the hyper level set in the device.
        AboveHyper = 19,
        /// Falling faster than set in the device.
        FallingFast = 20,
        /// Rising faster than set in the device.
        RisingFast = 21,
        /// Below what the device can read.
        BelowDeviceRange = 22,
        /// Above what the device can read.
        AboveDeviceRange = 23,
    }
}

flags! {
    /// What a sensor can do.
    CgmAbilities of
    /// A bit of the CGM Feature field.
    CgmAbility {
        /// Takes calibrations.
        Calibration = 0,
        /// Alerts at the patient's own levels.
        PatientAlerts = 1,
        /// Alerts at a hypo level.
        HypoAlerts = 2,
        /// Alerts at a hyper level.
        HyperAlerts = 3,
        /// Alerts at rates of change.
        RateAlerts = 4,
        /// Has an alert of its own kind.
        DeviceSpecificAlert = 5,
        /// Notices a malfunction.
        MalfunctionDetection = 6,
        /// Notices heat and cold.
        TemperatureDetection = 7,
        /// Notices results out of its range.
        ResultRangeDetection = 8,
        /// Notices a low battery.
        LowBatteryDetection = 9,
        /// Notices a wrong sensor.
        SensorTypeDetection = 10,
        /// Notices a general fault.
        GeneralFaultDetection = 11,
        /// Puts checksums behind its values.
        E2eCrc = 12,
        /// Keeps several bonds.
        MultipleBonds = 13,
        /// Runs several sessions.
        MultipleSessions = 14,
        /// Sends a trend.
        Trend = 15,
        /// Sends a quality.
        Quality = 16,
    }
}

/// One record of CGM Measurement, 0x2AA7.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct CgmMeasurement {
    /// Glucose, in mg/dL.
    pub mg_dl: Sfloat,
    /// Minutes since the session's start.
    pub minutes: u16,
    /// The sensor's state.
    pub status: Status,
    /// The sensor's own idea of the trend, in mg/dL/min.
    pub trend_mg_dl_min: Option<Sfloat>,
    /// The sensor's own idea of the quality, in percent.
    pub quality_percent: Option<Sfloat>,
}

const TREND: u8 = 1 << 0;
const QUALITY: u8 = 1 << 1;
const WARNING_OCTET: u8 = 1 << 5;
const CALIBRATION_TEMPERATURE_OCTET: u8 = 1 << 6;
const STATUS_OCTET: u8 = 1 << 7;
/// The three octets of the status in their order, each with its flag and its first bit.
const STATUS_OCTETS: [(u8, u32); 3] = [(STATUS_OCTET, 0), (CALIBRATION_TEMPERATURE_OCTET, 8), (WARNING_OCTET, 16)];
/// Octets of a record without anything optional.
const SMALLEST: u8 = 6;

impl CgmMeasurement {
    /// Reads a notification, which holds one record or several.
    ///
    /// # Errors
    /// [`DecodeError`] with the octet, counted over the whole notification. Nothing of it is returned then: a record whose size is
    /// wrong says nothing about where the next begins.
    pub fn decode(octets: &[u8], crc: E2eCrc) -> Result<Vec<Self>, DecodeError> {
        let within = |offset: usize, error: DecodeError| DecodeError { offset: offset + error.offset, ..error };
        let characteristic = Characteristic::CgmMeasurement;
        let mut records = Vec::new();
        let mut offset = 0;
        while offset < octets.len() || records.is_empty() {
            let rest = &octets[offset..];
            let mut head = Cursor::of(characteristic, rest);
            let size = head.u8().map_err(|error| within(offset, error))?;
            let flags = head.u8().map_err(|error| within(offset, error))?;
            let needs = Self::size(flags, crc);
            if size != needs {
                let fault = MessageFault::SizeDisagrees { said: size, needs };
                return Err(DecodeError { characteristic, offset, fault });
            }
            let Some(record) = rest.get(..usize::from(size)) else {
                let fault = MessageFault::TooShort { needs: usize::from(size), has: rest.len() };
                return Err(DecodeError { characteristic, offset, fault });
            };
            records.push(Self::one(record, flags, crc).map_err(|error| within(offset, error))?);
            offset += record.len();
        }
        Ok(records)
    }

    fn one(record: &[u8], flags: u8, crc: E2eCrc) -> Result<Self, DecodeError> {
        let mut octets = Cursor::checked(Characteristic::CgmMeasurement, record, crc)?;
        let _ = (octets.u8()?, octets.u8()?);
        let mg_dl = octets.sfloat()?;
        let minutes = octets.u16()?;
        let mut bits = 0;
        for (flag, first) in STATUS_OCTETS {
            let octet = octets.if_set(flags & flag != 0, Cursor::u8)?;
            bits |= u32::from(octet.unwrap_or(0)) << first;
        }
        let trend_mg_dl_min = octets.if_set(flags & TREND != 0, Cursor::sfloat)?;
        let quality_percent = octets.if_set(flags & QUALITY != 0, Cursor::sfloat)?;
        octets.end()?;
        Ok(Self { mg_dl, minutes, status: Status::from_bits(bits), trend_mg_dl_min, quality_percent })
    }

    /// The octets of a record with these flags.
    fn size(flags: u8, crc: E2eCrc) -> u8 {
        let optional =
            [(STATUS_OCTET, 1), (CALIBRATION_TEMPERATURE_OCTET, 1), (WARNING_OCTET, 1), (TREND, 2), (QUALITY, 2)];
        let fields: u8 = optional.into_iter().filter(|(flag, _)| flags & flag != 0).map(|(_, size)| size).sum();
        SMALLEST + fields + if crc == E2eCrc::Present { 2 } else { 0 }
    }

    /// Writes one record. Octets of the status without a bit are left out, as the service asks.
    #[must_use]
    pub fn encode(&self, crc: E2eCrc) -> Vec<u8> {
        let status = STATUS_OCTETS.map(|(flag, first)| (flag, self.status.bits().to_le_bytes()[first as usize / 8]));
        let mut flags = status.iter().filter(|(_, octet)| *octet != 0).fold(0, |flags, (flag, _)| flags | flag);
        flags |= self.trend_mg_dl_min.map_or(0, |_| TREND) | self.quality_percent.map_or(0, |_| QUALITY);
        let mut octets = vec![Self::size(flags, crc), flags];
        octets.extend(self.mg_dl.word().to_le_bytes());
        octets.extend(self.minutes.to_le_bytes());
        octets.extend(status.iter().map(|(_, octet)| *octet).filter(|octet| *octet != 0));
        for optional in [self.trend_mg_dl_min, self.quality_percent].into_iter().flatten() {
            octets.extend(optional.word().to_le_bytes());
        }
        sealed(octets, crc)
    }
}

/// CGM Feature, 0x2AA8.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct CgmFeature {
    /// What the sensor can do.
    pub abilities: CgmAbilities,
    /// The fluid it measures in.
    pub fluid: SampleType,
    /// Where it measures.
    pub location: SampleLocation,
}

impl CgmFeature {
    /// The checksum field's value where there is no checksum.
    const NO_CRC: u16 = 0xFFFF;

    /// Reads the value. Its own checksum is looked at where it says that it has one.
    ///
    /// # Errors
    /// [`DecodeError`].
    pub fn decode(octets: &[u8]) -> Result<Self, DecodeError> {
        let characteristic = Characteristic::CgmFeature;
        let mut read = Cursor::of(characteristic, octets);
        let abilities = CgmAbilities::from_bits(read.u24()?);
        let (fluid, location) = sample::split(read.u8()?);
        let at = read.at();
        let sum = read.u16()?;
        read.end()?;
        let feature = Self { abilities, fluid, location };
        match feature.e2e_crc() {
            E2eCrc::Present => {
                Cursor::checked(characteristic, octets, E2eCrc::Present)?;
            }
            E2eCrc::Absent if sum != Self::NO_CRC => {
                return Err(read.fault(at, MessageFault::Checksum { sent: sum, computed: Self::NO_CRC }));
            }
            E2eCrc::Absent => {}
        }
        Ok(feature)
    }

    /// Whether the sensor puts checksums behind its other values.
    #[must_use]
    pub const fn e2e_crc(&self) -> E2eCrc {
        if self.abilities.has(CgmAbility::E2eCrc) { E2eCrc::Present } else { E2eCrc::Absent }
    }

    /// Writes the value.
    #[must_use]
    pub fn encode(&self) -> Vec<u8> {
        let mut octets = u24(self.abilities.bits()).to_vec();
        octets.push(sample::joined(self.fluid, self.location));
        match self.e2e_crc() {
            E2eCrc::Present => sealed(octets, E2eCrc::Present),
            E2eCrc::Absent => {
                octets.extend(Self::NO_CRC.to_le_bytes());
                octets
            }
        }
    }
}

impl SessionStart {
    /// Reads the value.
    ///
    /// # Errors
    /// [`DecodeError`], also where the sensor does not know the date yet.
    pub fn decode(octets: &[u8], crc: E2eCrc) -> Result<Self, DecodeError> {
        let mut octets = Cursor::checked(Self::CHARACTERISTIC, octets, crc)?;
        let start = Self::read(&mut octets)?;
        octets.end()?;
        Ok(start)
    }

    /// Writes the value.
    #[must_use]
    pub fn encode(&self, crc: E2eCrc) -> Vec<u8> {
        sealed(self.octets(), crc)
    }
}
