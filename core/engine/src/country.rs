//! The country whose rules apply to the wearer, as a code.

use std::fmt;

use serde::{Deserialize, Serialize};

use crate::error::{Error, Quantity, Result, Why};

/// A country, as the two letters of ISO 3166-1 alpha-2.
///
/// Whether a country of these letters exists is not looked up: rules are known of few, and of all others none.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Country([u8; 2]);

impl Country {
    /// The United Kingdom.
    pub(crate) const UNITED_KINGDOM: Self = Self(*b"GB");

    /// Reads a code of two letters, in either case. `UK`, which ISO 3166-1 reserves for the same country, is `GB`.
    ///
    /// # Errors
    /// [`Error::Invalid`] for anything else.
    pub fn parse(text: &str) -> Result<Self> {
        let country = Self::try_from(text.to_owned())?;
        if is_nobodys(country.0) {
            return Err(malformed(text));
        }
        Ok(country)
    }

    fn of_letters(text: &str) -> Result<Self> {
        match text.trim().as_bytes() {
            [first, second] if first.is_ascii_alphabetic() && second.is_ascii_alphabetic() => {
                let letters = [first.to_ascii_uppercase(), second.to_ascii_uppercase()];
                Ok(if &letters == b"UK" { Self::UNITED_KINGDOM } else { Self(letters) })
            }
            _ => Err(malformed(text)),
        }
    }
}

fn malformed(text: &str) -> Error {
    Error::Invalid { what: Quantity::Country, why: Why::Malformed { given: text.to_owned(), like: "GB" } }
}

/// Whether a code stands for no country and never will.
///
/// # Source
/// ISO 3166-1:2020, user-assigned code elements: AA, QM to QZ, XA to XZ, ZZ. XK is in common use for Kosovo.
const fn is_nobodys(letters: [u8; 2]) -> bool {
    matches!(letters, [b'A', b'A'] | [b'Z', b'Z'] | [b'Q', b'M'..=b'Z'] | [b'X', b'A'..=b'J' | b'L'..=b'Z'])
}

impl fmt::Display for Country {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|&letter| fmt::Write::write_char(f, letter.into()))
    }
}

impl TryFrom<String> for Country {
    type Error = Error;
    fn try_from(text: String) -> Result<Self> {
        // What a log has kept is read, whatever it is.
        Self::of_letters(&text)
    }
}

impl From<Country> for String {
    fn from(country: Country) -> Self {
        country.to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_letters_in_either_case_are_a_country() {
        assert_eq!(Country::parse(" de ").unwrap().to_string(), "DE");
        for british in ["GB", "gb", "uk"] {
            assert_eq!(Country::parse(british).unwrap(), Country::UNITED_KINGDOM);
        }
        assert_eq!(Country::parse("xk").unwrap().to_string(), "XK");
        assert!(Country::try_from("XX".to_owned()).is_ok(), "a log may hold it");
        for bad in ["", "G", "XX", "zz", "GBR", "1A", "ÄÖ", "G-"] {
            assert!(Country::parse(bad).is_err(), "{bad}");
        }
    }
}
