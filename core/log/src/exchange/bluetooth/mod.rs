//! Glucose sensors and meters as the Bluetooth SIG's services speak: octets to records and back, and records to log entries.
//!
//! This module reads and writes the values of characteristics; the radio is the shell's. A shell hands over the octets it
//! received, as they came, and gets a record or a [`DecodeError`] that says which octet cannot be right.
//!
//! | service | characteristic | here |
//! |---|---|---|
//! | Continuous Glucose Monitoring 0x181F | Measurement 0x2AA7 | [`CgmMeasurement`] |
//! | | Feature 0x2AA8 | [`CgmFeature`] |
//! | | Session Start Time 0x2AAA | [`SessionStart`] |
//! | Glucose 0x1808 | Measurement 0x2A18 | [`MeterMeasurement`] |
//! | | Measurement Context 0x2A34 | [`MeterContext`] |
//! | both | Record Access Control Point 0x2A52 | [`RecordAccess`] |
//!
//! Of the others of the two services (0x2A51, 0x2AA9, 0x2AAB, 0x2AAC) nothing is for the log, and none is read.
//!
//! # Strictness
//! Octets behind the last field that the flags announce are refused: a glucose value must not be read from a layout that is not
//! known. Flags and status bits that are reserved are passed over, as the services ask. With [`E2eCrc::Present`] nothing is read
//! before the checksum fits.
//!
//! # Source
//! Bluetooth SIG, GATT characteristics 0x2A08, 0x2A18, 0x2A34, 0x2A52, 0x2AA7, 0x2AA8, 0x2AAA (XML of 2011 to 2014, read).
//! From memory, since only the services' own documents name them: the time zone's and summer time's unknown values, the filter
//! types of the record access control point, and the meaning of communication intervals 0 and 255.
//!
//! # Example
//! ```
//! use ebbstead_log::exchange::bluetooth::{CgmMeasurement, E2eCrc};
//! let records = CgmMeasurement::decode(&[0x06, 0x00, 0x78, 0x00, 0x05, 0x00], E2eCrc::Absent)?;
//! assert_eq!(records[0].mg_dl.number(), Some(120.0));
//! assert_eq!(records[0].minutes, 5);
//! # Ok::<(), ebbstead_log::exchange::bluetooth::DecodeError>(())
//! ```

/// An enumeration of bits and a set of them that keeps reserved bits out.
macro_rules! flags {
    ($(#[$about_set:meta])* $set:ident of $(#[$about_one:meta])* $one:ident { $($(#[$about:meta])* $name:ident = $bit:literal,)+ }) => {
        $(#[$about_one])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $one { $($(#[$about])* $name,)+ }

        impl $one {
            /// All of them, by bit.
            pub const ALL: &'static [Self] = &[$(Self::$name),+];

            /// Its bit, from 0.
            #[must_use]
            pub const fn bit(self) -> u32 {
                match self { $(Self::$name => $bit,)+ }
            }
        }

        $(#[$about_set])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
        pub struct $set(u32);

        impl $set {
            const KNOWN: u32 = 0 $(| 1 << $bit)+;

            /// Takes the bits; reserved ones are passed over.
            #[must_use]
            pub const fn from_bits(bits: u32) -> Self {
                Self(bits & Self::KNOWN)
            }

            /// The bits.
            #[must_use]
            pub const fn bits(self) -> u32 {
                self.0
            }

            /// Whether one is set.
            #[must_use]
            pub const fn has(self, one: $one) -> bool {
                self.0 >> one.bit() & 1 == 1
            }

            /// Those that are set, by bit.
            pub fn iter(self) -> impl Iterator<Item = $one> {
                $one::ALL.iter().copied().filter(move |one| self.has(*one))
            }
        }

        impl FromIterator<$one> for $set {
            fn from_iter<I: IntoIterator<Item = $one>>(all: I) -> Self {
                Self(all.into_iter().fold(0, |bits, one| bits | 1 << one.bit()))
            }
        }
    };
}

/// An enumeration of codes in which a code that is reserved keeps its number.
macro_rules! codes {
    ($(#[$about_all:meta])* $all:ident { $($(#[$about:meta])* $name:ident = $code:literal,)+ }) => {
        $(#[$about_all])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum $all {
            $($(#[$about])* $name,)+
            /// A code that is reserved.
            Reserved(u8),
        }

        impl $all {
            /// The meaning of a code.
            #[must_use]
            pub const fn of(code: u8) -> Self {
                match code { $($code => Self::$name,)+ other => Self::Reserved(other) }
            }

            /// The code.
            #[must_use]
            pub const fn code(self) -> u8 {
                match self { $(Self::$name => $code,)+ Self::Reserved(code) => code }
            }
        }
    };
}

mod cgm;
mod crc;
mod cursor;
mod device;
mod ingest;
mod meter;
mod records;
mod sample;
mod sfloat;
mod time;

pub use self::time::{DateTime, SessionStart, SummerTime};
pub use cgm::{Annunciation, CgmAbilities, CgmAbility, CgmFeature, CgmMeasurement, Status};
pub use crc::{E2eCrc, e2e_crc};
pub use device::{Clocks, Device, Kind, Received, Remarkable};
pub use ingest::{HeldBack, MeterTaker, RejectReason, Remark, SensorTaker, Taken};
pub use meter::{
    CarbohydrateKind, Concentration, Exercise, Health, MealTime, Medication, MedicationAmount, MeterContext,
    MeterFault, MeterFaults, MeterMeasurement, Tester,
};
pub use records::{Outcome as RecordOutcome, Position, RecordAccess, Selection, Service};
pub use sample::{SampleLocation, SampleType};
pub use sfloat::Sfloat;

use crate::error::{Error, Quantity, Why};

/// A characteristic of the two services.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Characteristic {
    /// 0x2AA7.
    CgmMeasurement,
    /// 0x2AA8.
    CgmFeature,
    /// 0x2AA9.
    CgmStatus,
    /// 0x2AAA.
    CgmSessionStartTime,
    /// 0x2AAB.
    CgmSessionRunTime,
    /// 0x2AAC.
    CgmSpecificOpsControlPoint,
    /// 0x2A18.
    GlucoseMeasurement,
    /// 0x2A34.
    GlucoseMeasurementContext,
    /// 0x2A51.
    GlucoseFeature,
    /// 0x2A52.
    RecordAccessControlPoint,
}

impl Characteristic {
    /// All of them.
    pub const ALL: [Self; 10] = [
        Self::CgmMeasurement,
        Self::CgmFeature,
        Self::CgmStatus,
        Self::CgmSessionStartTime,
        Self::CgmSessionRunTime,
        Self::CgmSpecificOpsControlPoint,
        Self::GlucoseMeasurement,
        Self::GlucoseMeasurementContext,
        Self::GlucoseFeature,
        Self::RecordAccessControlPoint,
    ];

    /// The one that the Bluetooth SIG numbers so, if it is one of these services'.
    #[must_use]
    pub fn of(uuid: u16) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.uuid() == uuid)
    }

    /// The 16 bits by which the Bluetooth SIG numbers it.
    #[must_use]
    pub const fn uuid(self) -> u16 {
        match self {
            Self::CgmMeasurement => 0x2AA7,
            Self::CgmFeature => 0x2AA8,
            Self::CgmStatus => 0x2AA9,
            Self::CgmSessionStartTime => 0x2AAA,
            Self::CgmSessionRunTime => 0x2AAB,
            Self::CgmSpecificOpsControlPoint => 0x2AAC,
            Self::GlucoseMeasurement => 0x2A18,
            Self::GlucoseMeasurementContext => 0x2A34,
            Self::GlucoseFeature => 0x2A51,
            Self::RecordAccessControlPoint => 0x2A52,
        }
    }

    /// The Bluetooth SIG's name for it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::CgmMeasurement => "CGM Measurement",
            Self::CgmFeature => "CGM Feature",
            Self::CgmStatus => "CGM Status",
            Self::CgmSessionStartTime => "CGM Session Start Time",
            Self::CgmSessionRunTime => "CGM Session Run Time",
            Self::CgmSpecificOpsControlPoint => "CGM Specific Ops Control Point",
            Self::GlucoseMeasurement => "Glucose Measurement",
            Self::GlucoseMeasurementContext => "Glucose Measurement Context",
            Self::GlucoseFeature => "Glucose Feature",
            Self::RecordAccessControlPoint => "Record Access Control Point",
        }
    }
}

/// Octets that are no value of their characteristic.
///
/// It names the octet and at most one number of the frame's layout, never a measurement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{} (0x{:04X}), byte {offset}: {fault}", characteristic.name(), characteristic.uuid())]
pub struct DecodeError {
    /// The characteristic.
    pub characteristic: Characteristic,
    /// The octet at which it shows, from 0, in what was handed over.
    pub offset: usize,
    /// What is wrong.
    pub fault: MessageFault,
}

/// What is wrong with octets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MessageFault {
    /// The value ends inside a field.
    #[error("a field of {needs} bytes begins here and {has} are left")]
    TooShort {
        /// Octets the field takes.
        needs: usize,
        /// Octets there are.
        has: usize,
    },
    /// There are octets that no field takes.
    #[error("{extra} bytes are left over")]
    TooLong {
        /// How many.
        extra: usize,
    },
    /// The size a record states is not that of its fields.
    #[error("the record says it has {said} bytes; its flags make it {needs}")]
    SizeDisagrees {
        /// What it says.
        said: u8,
        /// What its flags ask for.
        needs: u8,
    },
    /// The checksum does not fit: the octets were changed on the way, or the device uses none.
    #[error("the checksum is {sent:04X} and should be {computed:04X}")]
    Checksum {
        /// As sent.
        sent: u16,
        /// As computed.
        computed: u16,
    },
    /// A code that the specification does not know.
    #[error("{given} is no code of this field")]
    NoSuchCode {
        /// The code.
        given: u8,
    },
    /// No calendar has this time.
    #[error("no such date or time of day")]
    NoSuchTime,
    /// The device says that it does not know the date.
    #[error("the device does not know the date; set its clock")]
    TimeNotKnown,
}

impl From<DecodeError> for Error {
    fn from(error: DecodeError) -> Self {
        Self::Invalid { what: Quantity::BluetoothMessage, why: Why::Detail(error.to_string()) }
    }
}
