//! SFLOAT: the 16-bit decimal floating point of medical devices.

/// A decimal number of 16 bits, or one of the values that are no number.
///
/// The number is `mantissa * 10^exponent`; it keeps both, so that 2, 2.0 and 2.00 stay as they were sent.
///
/// # Source
/// ISO/IEEE 11073-20601, SFLOAT-Type, as reproduced by the Bluetooth SIG's characteristic 0x2AA7 and, for the special values,
/// HL7's implementation guide for personal health devices: a signed exponent of 4 bits above a signed mantissa of 12 bits; the
/// special values are whole words.
///
/// # Example
/// ```
/// use ebbstead_log::exchange::bluetooth::Sfloat;
/// assert_eq!(Sfloat::from_word(0xF014).number(), Some(2.0));
/// assert_eq!(Sfloat::from_word(0x07FF), Sfloat::NotANumber);
/// assert_eq!(Sfloat::nearest(-1.2).word(), 0xFFF4);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sfloat {
    /// A number.
    Number {
        /// -2048 to 2047.
        mantissa: i16,
        /// -8 to 7, a power of ten.
        exponent: i8,
    },
    /// No number: 0x07FF.
    NotANumber,
    /// Not at this resolution: 0x0800.
    NotAtThisResolution,
    /// Above what can be expressed: 0x07FE.
    PlusInfinity,
    /// Below what can be expressed: 0x0802.
    MinusInfinity,
    /// Reserved: 0x0801.
    Reserved,
}

/// The largest mantissa that means a number whatever the exponent.
const LARGEST_MANTISSA: f64 = 2045.0;
const EXPONENTS: std::ops::RangeInclusive<i8> = -8..=7;

impl Sfloat {
    /// Zero.
    pub const ZERO: Self = Self::Number { mantissa: 0, exponent: 0 };

    /// Takes the 16 bits.
    #[must_use]
    // The casts fit: two's complement is meant, and four bits fit.
    pub const fn from_word(word: u16) -> Self {
        match word {
            0x07FF => Self::NotANumber,
            0x0800 => Self::NotAtThisResolution,
            0x07FE => Self::PlusInfinity,
            0x0802 => Self::MinusInfinity,
            0x0801 => Self::Reserved,
            _ => Self::Number { mantissa: ((word << 4) as i16) >> 4, exponent: ((word as i16) >> 12) as i8 },
        }
    }

    /// The 16 bits.
    ///
    /// A number outside 12 and 4 bits has none and becomes [`Sfloat::NotANumber`].
    #[must_use]
    // The casts fit: two's complement is meant.
    pub fn word(self) -> u16 {
        match self {
            Self::Number { mantissa, exponent }
                if (-2048..=2047).contains(&mantissa) && EXPONENTS.contains(&exponent) =>
            {
                (i16::from(exponent) << 12) as u16 | (mantissa as u16 & 0x0FFF)
            }
            Self::Number { .. } | Self::NotANumber => 0x07FF,
            Self::NotAtThisResolution => 0x0800,
            Self::PlusInfinity => 0x07FE,
            Self::MinusInfinity => 0x0802,
            Self::Reserved => 0x0801,
        }
    }

    /// The number, in the unit of the field; nothing for a special value.
    #[must_use]
    pub fn number(self) -> Option<f64> {
        self.times_ten_to(0)
    }

    /// The number times a power of ten, rounded once; nothing for a special value.
    ///
    /// Kilograms and moles become milligrams and millimoles without the error that a factor of 100000 would bring in.
    #[must_use]
    pub(crate) fn times_ten_to(self, power: i32) -> Option<f64> {
        let Self::Number { mantissa, exponent } = self else { return None };
        let (mantissa, exponent) = (f64::from(mantissa), i32::from(exponent) + power);
        // Powers of ten up to 22 are exact, so one multiplication or division rounds once.
        let scale = 10_f64.powi(exponent.abs());
        Some(if exponent < 0 { mantissa / scale } else { mantissa * scale })
    }

    /// The nearest number there is, written with as few digits as it takes. What is no number or too large is the special value
    /// for it.
    #[must_use]
    pub fn nearest(number: f64) -> Self {
        if number.is_nan() {
            return Self::NotANumber;
        }
        let at = |exponent: i8| Self::rounded(number, exponent);
        let exact = |one: &Self| one.number().is_some_and(|written| written - number == 0.0);
        let plain = (0..=8).map(|places: i8| -places).chain(1..=7);
        if let Some(exact) = plain.filter_map(at).find(exact) {
            return exact;
        }
        // The finest step whose mantissa fits.
        EXPONENTS.into_iter().find_map(at).unwrap_or(if number > 0.0 {
            Self::PlusInfinity
        } else {
            Self::MinusInfinity
        })
    }

    /// The number in steps of `10^exponent`; nothing where it does not fit.
    #[must_use]
    // The casts fit: checked against the largest mantissa.
    pub fn rounded(number: f64, exponent: i8) -> Option<Self> {
        let scale = 10_f64.powi(i32::from(exponent).abs());
        let steps = if exponent < 0 { number * scale } else { number / scale }.round();
        (EXPONENTS.contains(&exponent) && steps.abs() <= LARGEST_MANTISSA)
            .then_some(Self::Number { mantissa: steps as i16, exponent })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_of_the_health_device_guide() {
        // HL7's implementation guide for personal health devices, page on SFLOAT.
        for (word, number, decimals) in [
            (0x0002, 2.0, 0),
            (0xF014, 2.0, -1),
            (0xE0C8, 2.0, -2),
            (0x1002, 20.0, 1),
            (0x2002, 200.0, 2),
            (0x04D2, 1234.0, 0),
            (0x0B2E, -1234.0, 0),
            // The special values are whole words: with an exponent the same mantissa is a number.
            (0x17FF, 20470.0, 1),
        ] {
            let read = Sfloat::from_word(word);
            assert_eq!(read.number(), Some(number), "{word:04X}");
            assert!(matches!(read, Sfloat::Number { exponent, .. } if i32::from(exponent) == decimals));
        }
        for (word, special) in [
            (0x07FF, Sfloat::NotANumber),
            (0x07FE, Sfloat::PlusInfinity),
            (0x0800, Sfloat::NotAtThisResolution),
            (0x0801, Sfloat::Reserved),
            (0x0802, Sfloat::MinusInfinity),
        ] {
            assert_eq!((Sfloat::from_word(word), special.word(), special.number()), (special, word, None));
        }
    }

    #[test]
    fn every_word_comes_back() {
        for word in 0..=u16::MAX {
            assert_eq!(Sfloat::from_word(word).word(), word);
        }
    }

    #[test]
    fn numbers_are_written_with_as_few_digits_as_they_take() {
        for (number, word) in [(120.0, 0x0078), (-1.2, 0xFFF4), (99.8, 0xF3E6), (5.5, 0xF037), (0.0, 0x0000)] {
            assert_eq!(Sfloat::nearest(number).word(), word, "{number}");
        }
        // 2047 is no safe mantissa, so this is rounded to the hundred.
        assert_eq!(Sfloat::nearest(20470.0).number(), Some(20500.0));
        assert_eq!(Sfloat::nearest(1.0 / 3.0).number(), Some(0.333));
        assert_eq!(Sfloat::nearest(1e300), Sfloat::PlusInfinity);
        assert_eq!(Sfloat::nearest(f64::NEG_INFINITY), Sfloat::MinusInfinity);
        assert_eq!(Sfloat::nearest(f64::NAN), Sfloat::NotANumber);
        assert_eq!(Sfloat::Number { mantissa: 4000, exponent: 0 }.word(), 0x07FF);
    }

    #[test]
    fn what_was_read_is_written_as_the_same_number() {
        for word in 0..=u16::MAX {
            let read = Sfloat::from_word(word);
            if let Sfloat::Number { mantissa, .. } = read
                && mantissa.abs() <= 2045
            {
                let number = read.number().unwrap();
                assert_eq!(Sfloat::nearest(number).number(), Some(number), "{word:04X}");
            }
        }
    }

    #[test]
    fn kilograms_and_moles_become_milligrams_and_millimoles_exactly() {
        // 110e-5 kg/L are 110 mg/dL; 55e-4 mol/L are 5.5 mmol/L.
        assert_eq!(Sfloat::from_word(0xB06E).times_ten_to(5), Some(110.0));
        assert_eq!(Sfloat::from_word(0xC037).times_ten_to(3), Some(5.5));
    }
}
