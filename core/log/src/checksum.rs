//! The CRC-32 of rows and of sealed lines.

use crc::{CRC_32_ISO_HDLC, Crc, Digest};

/// ISO-HDLC, as zip and Ethernet have it. The small table: a phone carries it, and checksums are no part of what takes time.
static CRC_32: Crc<u32> = Crc::<u32>::new(&CRC_32_ISO_HDLC);

/// A CRC-32 that is being worked out.
#[derive(Clone)]
pub(crate) struct Crc32(Digest<'static, u32>);

impl Default for Crc32 {
    fn default() -> Self {
        Self(CRC_32.digest())
    }
}

impl Crc32 {
    /// Of these bytes alone.
    pub(crate) fn of(bytes: &[u8]) -> u32 {
        CRC_32.checksum(bytes)
    }

    pub(crate) fn update(&mut self, bytes: &[u8]) {
        self.0.update(bytes);
    }

    pub(crate) fn finalize(self) -> u32 {
        self.0.finalize()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The check value of the catalogue of CRCs for CRC-32/ISO-HDLC.
    #[test]
    fn it_is_the_one_of_the_catalogue() {
        assert_eq!(Crc32::of(b"123456789"), 0xcbf4_3926);
        let mut parts = Crc32::default();
        parts.update(b"1234");
        parts.update(b"56789");
        assert_eq!(parts.finalize(), 0xcbf4_3926);
    }
}
