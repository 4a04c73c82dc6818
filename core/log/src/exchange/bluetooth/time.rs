//! Times as devices send them.

use chrono::{Datelike, NaiveDate, NaiveDateTime, TimeDelta, Timelike};

use super::cursor::Cursor;
use super::{Characteristic, DecodeError, MessageFault};
use crate::error::{Error, Quantity, Result, Why};
use crate::time::Moment;

/// A date and a time of day on the device's own clock, to the second: 7 octets, characteristic 0x2A08.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct DateTime(NaiveDateTime);

impl DateTime {
    /// Takes a local time; parts of a second are dropped, since there is no room for them.
    ///
    /// # Errors
    /// [`Error::Invalid`] outside the years 1582 to 9999, which is what the characteristic can hold.
    pub fn new(local: NaiveDateTime) -> Result<Self> {
        match local.with_nanosecond(0) {
            Some(local) if (1582..=9999).contains(&local.year()) => Ok(Self(local)),
            _ => Err(Error::Invalid { what: Quantity::Time, why: Why::OutsideYears { first: 1582, last: 9999 } }),
        }
    }

    /// The local time.
    #[must_use]
    pub const fn local(self) -> NaiveDateTime {
        self.0
    }

    /// The local time some minutes later or earlier; nothing where no calendar holds it.
    pub(super) fn moved(self, minutes: i16) -> Option<NaiveDateTime> {
        self.0.checked_add_signed(TimeDelta::minutes(i64::from(minutes)))
    }

    pub(super) fn read(octets: &mut Cursor<'_>) -> Result<Self, DecodeError> {
        let from = octets.at();
        let year = octets.u16()?;
        let (month, day) = (octets.u8()?, octets.u8()?);
        let (hour, minute, second) = (octets.u8()?, octets.u8()?, octets.u8()?);
        if year == 0 || month == 0 || day == 0 {
            return Err(octets.fault(from, MessageFault::TimeNotKnown));
        }
        NaiveDate::from_ymd_opt(i32::from(year), u32::from(month), u32::from(day))
            .and_then(|date| date.and_hms_opt(u32::from(hour), u32::from(minute), u32::from(second)))
            .and_then(|local| Self::new(local).ok())
            .ok_or_else(|| octets.fault(from, MessageFault::NoSuchTime))
    }

    // The casts fit: the type's range.
    pub(super) fn octets(self) -> [u8; 7] {
        let [low, high] = (self.0.year() as u16).to_le_bytes();
        let small = |part: u32| part as u8;
        let (date, time) = (self.0.date(), self.0.time());
        [
            low,
            high,
            small(date.month()),
            small(date.day()),
            small(time.hour()),
            small(time.minute()),
            small(time.second()),
        ]
    }
}

/// How far the clocks are put forward for summer: characteristic 0x2A0D.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SummerTime {
    /// Not at all.
    Standard,
    /// By half an hour.
    HalfHour,
    /// By an hour.
    OneHour,
    /// By two hours.
    TwoHours,
    /// The device does not know.
    Unknown,
}

impl SummerTime {
    const ALL: [(Self, u8, Option<i32>); 5] = [
        (Self::Standard, 0, Some(0)),
        (Self::HalfHour, 2, Some(30)),
        (Self::OneHour, 4, Some(60)),
        (Self::TwoHours, 8, Some(120)),
        (Self::Unknown, 255, None),
    ];

    fn of(octet: u8) -> Option<Self> {
        Self::ALL.into_iter().find(|(_, code, _)| *code == octet).map(|(one, ..)| one)
    }

    fn entry(self) -> (u8, Option<i32>) {
        Self::ALL.into_iter().find(|(one, ..)| *one == self).map_or((255, None), |(_, code, minutes)| (code, minutes))
    }
}

/// When a sensor's session began: CGM Session Start Time, 0x2AAA. All of its readings are counted in minutes from here.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct SessionStart {
    /// The time the wearer's clock showed.
    pub local: DateTime,
    /// Offset of standard time from UTC in quarters of an hour, -48 to 56; nothing where the device does not know.
    pub zone_quarters: Option<i8>,
    /// Summer time in force then.
    pub summer: SummerTime,
}

/// What the time zone field says where the zone is not known.
const ZONE_UNKNOWN: i8 = -128;

impl SessionStart {
    pub(super) const CHARACTERISTIC: Characteristic = Characteristic::CgmSessionStartTime;

    /// The offset from UTC in minutes, summer time included; nothing where the device does not know it.
    #[must_use]
    pub fn offset_minutes(&self) -> Option<i32> {
        let (_, summer) = self.summer.entry();
        Some(i32::from(self.zone_quarters?) * 15 + summer?)
    }

    /// The instant. `offset_minutes` is the phone's offset from UTC, used where the device does not know its own.
    ///
    /// # Errors
    /// As [`Moment::new`].
    pub fn moment(&self, offset_minutes: i32) -> Result<Moment> {
        Ok(Moment::from_local(self.local.local(), self.offset_minutes().unwrap_or(offset_minutes))?)
    }

    pub(super) fn read(octets: &mut Cursor<'_>) -> Result<Self, DecodeError> {
        let local = DateTime::read(octets)?;
        let at = octets.at();
        let zone = octets.i8()?;
        let zone_quarters = match zone {
            ZONE_UNKNOWN => None,
            -48..=56 => Some(zone),
            other => return Err(octets.fault(at, MessageFault::NoSuchCode { given: other.to_le_bytes()[0] })),
        };
        let at = octets.at();
        let code = octets.u8()?;
        let summer = SummerTime::of(code).ok_or_else(|| octets.fault(at, MessageFault::NoSuchCode { given: code }))?;
        Ok(Self { local, zone_quarters, summer })
    }

    pub(super) fn octets(&self) -> Vec<u8> {
        let mut octets = self.local.octets().to_vec();
        octets.extend(self.zone_quarters.unwrap_or(ZONE_UNKNOWN).to_le_bytes());
        octets.push(self.summer.entry().0);
        octets
    }
}
