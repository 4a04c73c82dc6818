//! Reading and writing octets in the order of the air: least significant first.

use super::crc::{self, E2eCrc};
use super::sfloat::Sfloat;
use super::{Characteristic, DecodeError, MessageFault};

/// What is left of a characteristic's value, and where it stands.
pub(super) struct Cursor<'a> {
    characteristic: Characteristic,
    all: &'a [u8],
    at: usize,
}

impl<'a> Cursor<'a> {
    pub(super) const fn of(characteristic: Characteristic, all: &'a [u8]) -> Self {
        Self { characteristic, all, at: 0 }
    }

    /// The value without its checksum, once that was found right. `first` is where the value stands in what was received.
    pub(super) fn checked(characteristic: Characteristic, all: &'a [u8], crc: E2eCrc) -> Result<Self, DecodeError> {
        if crc == E2eCrc::Absent {
            return Ok(Self::of(characteristic, all));
        }
        let fault = |offset, fault| Err(DecodeError { characteristic, offset, fault });
        let Some((content, sent)) = all.split_last_chunk::<2>() else {
            return fault(0, MessageFault::TooShort { needs: 2, has: all.len() });
        };
        let (sent, computed) = (u16::from_le_bytes(*sent), crc::e2e_crc(content));
        if sent != computed {
            return fault(content.len(), MessageFault::Checksum { sent, computed });
        }
        Ok(Self::of(characteristic, content))
    }

    pub(super) const fn at(&self) -> usize {
        self.at
    }

    pub(super) const fn fault(&self, offset: usize, fault: MessageFault) -> DecodeError {
        DecodeError { characteristic: self.characteristic, offset, fault }
    }

    fn take<const N: usize>(&mut self) -> Result<[u8; N], DecodeError> {
        let rest = &self.all[self.at..];
        match rest.first_chunk::<N>() {
            Some(taken) => {
                self.at += N;
                Ok(*taken)
            }
            None => Err(self.fault(self.at, MessageFault::TooShort { needs: N, has: rest.len() })),
        }
    }

    pub(super) fn u8(&mut self) -> Result<u8, DecodeError> {
        self.take::<1>().map(|[octet]| octet)
    }

    pub(super) fn i8(&mut self) -> Result<i8, DecodeError> {
        self.take().map(i8::from_le_bytes)
    }

    pub(super) fn u16(&mut self) -> Result<u16, DecodeError> {
        self.take().map(u16::from_le_bytes)
    }

    pub(super) fn i16(&mut self) -> Result<i16, DecodeError> {
        self.take().map(i16::from_le_bytes)
    }

    pub(super) fn u24(&mut self) -> Result<u32, DecodeError> {
        self.take().map(|[low, middle, high]| u32::from_le_bytes([low, middle, high, 0]))
    }

    pub(super) fn sfloat(&mut self) -> Result<Sfloat, DecodeError> {
        self.u16().map(Sfloat::from_word)
    }

    /// A value if a flag says that it is there.
    pub(super) fn if_set<T>(
        &mut self,
        flag: bool,
        read: impl FnOnce(&mut Self) -> Result<T, DecodeError>,
    ) -> Result<Option<T>, DecodeError> {
        flag.then(|| read(self)).transpose()
    }

    /// Ends the reading: octets that no field asked for are a fault, since what they mean is not known.
    pub(super) fn end(&self) -> Result<(), DecodeError> {
        match self.all.len() - self.at {
            0 => Ok(()),
            extra => Err(self.fault(self.at, MessageFault::TooLong { extra })),
        }
    }
}

/// Puts the checksum behind a value where the device uses one.
pub(super) fn sealed(mut octets: Vec<u8>, crc: E2eCrc) -> Vec<u8> {
    if crc == E2eCrc::Present {
        let sum = crc::e2e_crc(&octets);
        octets.extend(sum.to_le_bytes());
    }
    octets
}

/// The three octets of a 24-bit field.
pub(super) const fn u24(number: u32) -> [u8; 3] {
    let [low, middle, high, _] = number.to_le_bytes();
    [low, middle, high]
}
