//! Which format a file is in, by its bytes alone: a name says nothing, since a picker or another program may have changed it.

use std::io::{Chain, Cursor, Read, Result};

use super::csv::table;
use super::utf16::Utf8;
use crate::store::SQLITE_MAGIC;

/// Bytes looked at: the names of the columns of a table stand in them.
const HEAD: u64 = 4096;
/// The byte order mark that some programs put in front of UTF-8.
const MARK: &[u8] = b"\xef\xbb\xbf";
/// How a sealed log begins. Source: C2SP, age-encryption.org/v1, "Version line".
const SEALED: &[u8] = b"age-encryption.org/v1";
/// How a text file in the same format begins. Source: the same, "ASCII armor" (RFC 7468's label).
const SEALED_AS_TEXT: &[u8] = b"-----BEGIN AGE ENCRYPTED FILE-----";

/// A format that a file can be in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// A table of readings, of whatever program: anything else.
    Readings,
    /// A table of all entries that [`table::write`] wrote.
    Table,
    /// HL7 FHIR as JSON: a Bundle, a resource alone, or a resource a line (NDJSON). FHIR as XML counts here too; it is refused.
    Fhir,
    /// A log. It is merged, not imported.
    Log,
    /// A sealed log. It takes its passphrase to open.
    SealedLog,
}

impl Format {
    /// The format of a file that begins so, in UTF-8 and without a byte order mark.
    #[must_use]
    pub fn of(head: &[u8]) -> Self {
        let begins = |with: &[u8]| head.starts_with(with);
        let text = head.trim_ascii_start();
        let json = match text {
            [b'{', ..] => true,
            // A first line in brackets is no JSON: some tables begin with one.
            [b'[', rest @ ..] => matches!(rest.trim_ascii_start(), [b'{' | b']', ..]),
            _ => text.starts_with(b"<?xml") || text.starts_with(b"<Bundle"),
        };
        if begins(SQLITE_MAGIC) {
            Self::Log
        } else if begins(SEALED) || text.starts_with(SEALED_AS_TEXT) {
            Self::SealedLog
        } else if json {
            Self::Fhir
        } else if table::is_table(head) {
            Self::Table
        } else {
            Self::Readings
        }
    }
}

/// A file as text in UTF-8 without a byte order mark, from its first byte on.
pub type Text<R> = Chain<Cursor<Vec<u8>>, Utf8<R>>;

/// Looks at how a file begins, and gives back all of it; UTF-16 becomes UTF-8.
///
/// # Errors
/// Those of reading.
///
/// # Example
/// ```
/// use ebbstead_log::exchange::detect::{Format, detect};
///
/// assert_eq!(detect(&b"{ \"resourceType\": \"Bundle\" }"[..])?.0, Format::Fhir);
/// assert_eq!(detect(&b"time;glucose\n2026-03-01 03:05;104\n"[..])?.0, Format::Readings);
/// # Ok::<(), std::io::Error>(())
/// ```
pub fn detect<R: Read>(input: R) -> Result<(Format, Text<R>)> {
    let mut input = Utf8::of(input)?;
    let mut head = Vec::new();
    input.by_ref().take(HEAD).read_to_end(&mut head)?;
    if head.starts_with(MARK) {
        head.drain(..MARK.len());
    }
    Ok((Format::of(&head), Cursor::new(head).chain(input)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_format_shows_in_the_bytes_with_marks_blanks_and_utf_16_before_them() {
        let table = "\u{feff}local time;UTC offset;UTC time;kind;said;sensor glucose mg/dL;sensor glucose mmol/L;\
            meter glucose mg/dL;meter glucose mmol/L;rapid insulin U;long-acting insulin U;meal carbohydrate g;\
            rescue carbohydrate g;minutes;until;text;details;source;recorded;id;replaces\r\n";
        let cases = [
            (table, Format::Table),
            ("\u{feff}\n  {\"resourceType\"", Format::Fhir),
            ("[ {", Format::Fhir),
            ("<?xml version", Format::Fhir),
            ("[Readings]\ntime,glucose\n", Format::Readings),
            ("time,glucose\n", Format::Readings),
            ("", Format::Readings),
            ("age-encryption.org/v1\n-> scrypt", Format::SealedLog),
            ("-----BEGIN AGE ENCRYPTED FILE-----\n", Format::SealedLog),
            ("SQLite format 3\0", Format::Log),
        ];
        for (text, format) in cases {
            let little: Vec<u8> = [0xfeff].into_iter().chain(text.encode_utf16()).flat_map(u16::to_le_bytes).collect();
            for bytes in [text.as_bytes(), &little] {
                // A pipe hands out as little as it likes.
                let slow = bytes.iter().fold(Box::new(std::io::empty()) as Box<dyn Read>, |before, byte| {
                    Box::new(before.chain(Cursor::new([*byte])))
                });
                let (found, mut rest) = detect(slow).unwrap();
                assert_eq!(found, format, "{text:?}");
                let mut whole = String::new();
                rest.read_to_string(&mut whole).unwrap();
                assert_eq!(whole.trim_start_matches('\u{feff}'), text.trim_start_matches('\u{feff}'));
            }
        }
    }
}
