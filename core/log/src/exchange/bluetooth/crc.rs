//! The checksum between sensor and phone.

use crc::{CRC_16_MCRF4XX, Crc};

/// Whether a device puts a checksum behind its values: bit 12 of the CGM Feature characteristic says so.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum E2eCrc {
    /// No checksum.
    Absent,
    /// Two octets behind every value.
    Present,
}

const GENERATOR: Crc<u16> = Crc::<u16>::new(&CRC_16_MCRF4XX);

/// The E2E-CRC of octets, sent least significant octet first behind them.
///
/// # Source
/// Bluetooth SIG, GATT characteristic 0x2AA7 (CGM Measurement), field E2E-CRC: generator D16 + D12 + D5 + 1, seed 0xFFFF. Bits
/// go in least significant first and nothing is added at the end, which the catalogue of CRCs lists as CRC-16/MCRF4XX.
#[must_use]
pub fn e2e_crc(octets: &[u8]) -> u16 {
    GENERATOR.checksum(octets)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The generator worked out bit by bit, as the specification words it.
    fn bit_by_bit(octets: &[u8]) -> u16 {
        octets.iter().fold(0xFFFF, |sum, octet| {
            (0..8).fold(sum ^ u16::from(*octet), |sum, _| if sum & 1 == 1 { (sum >> 1) ^ 0x8408 } else { sum >> 1 })
        })
    }

    #[test]
    fn published_vectors() {
        // The catalogue's check value.
        assert_eq!(e2e_crc(b"123456789"), 0x6F91);
        // Vectors of open Bluetooth parsers' tests.
        assert_eq!(e2e_crc(&[0x3E, 1, 2, 3, 4, 5, 6, 7, 8, 9]), 0x2F01);
        let record = [0x0F, 0xE3, 0x78, 0x00, 0x1E, 0x00, 0x01, 0x02, 0x03, 0x50, 0x00, 0x60, 0x00];
        assert_eq!(e2e_crc(&record).to_le_bytes(), [0xEC, 0xAC]);
    }

    #[test]
    fn equals_the_generator_worked_out_bit_by_bit() {
        let octets: Vec<u8> = (0_u32..700).map(|n| n.wrapping_mul(2_654_435_761).to_le_bytes()[3]).collect();
        for length in 0..octets.len() {
            assert_eq!(e2e_crc(&octets[..length]), bit_by_bit(&octets[..length]), "{length}");
        }
    }
}
