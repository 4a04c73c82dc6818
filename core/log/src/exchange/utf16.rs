//! Files in UTF-16, as some spreadsheets save text, read as UTF-8.

use std::io::{self, Cursor, Read};

/// A reader whose text is UTF-8, where it begins with the mark of UTF-16; any other is passed on as it is.
///
/// # Source
/// RFC 2781: the byte order mark (3.2) and surrogate pairs (2.2). What is no text becomes U+FFFD, and so a cell that cannot be read.
pub struct Utf8<R> {
    input: R,
    /// Of UTF-16, whether the larger byte comes first.
    wide: Option<bool>,
    /// What was read ahead, or decoded and not handed out yet.
    ready: Cursor<Vec<u8>>,
    /// An odd byte, or the first half of a pair, that waits for what follows.
    rest: Vec<u8>,
    ended: bool,
}

/// Bytes decoded at a time.
const PIECE: usize = 1 << 15;

impl<R: Read> Utf8<R> {
    /// Looks at the first two bytes.
    ///
    /// # Errors
    /// Those of reading.
    pub fn of(mut input: R) -> io::Result<Self> {
        let mut mark = Vec::with_capacity(2);
        input.by_ref().take(2).read_to_end(&mut mark)?;
        let wide = match mark[..] {
            [0xff, 0xfe] => Some(false),
            [0xfe, 0xff] => Some(true),
            _ => None,
        };
        let ready = if wide.is_some() { Vec::new() } else { mark };
        Ok(Self { input, wide, ready: Cursor::new(ready), rest: Vec::new(), ended: false })
    }

    /// Decodes the next piece.
    fn decode(&mut self, big_endian: bool) -> io::Result<()> {
        let mut bytes = std::mem::take(&mut self.rest);
        let read = self.input.by_ref().take(PIECE as u64).read_to_end(&mut bytes)?;
        self.ended = read == 0;
        let read = if big_endian { u16::from_be_bytes } else { u16::from_le_bytes };
        let mut units: Vec<u16> = bytes.chunks_exact(2).map(|two| read([two[0], two[1]])).collect();
        // Half of a pair waits for the other half; at the end it never comes.
        let waits = usize::from(!self.ended && units.last().is_some_and(|unit| (0xd800..0xdc00).contains(unit)));
        units.truncate(units.len() - waits);
        let odd = bytes.len() % 2;
        self.rest = if self.ended { Vec::new() } else { bytes[bytes.len() - odd - 2 * waits..].to_vec() };
        let mut text: String =
            char::decode_utf16(units).map(|sign| sign.unwrap_or(char::REPLACEMENT_CHARACTER)).collect();
        if self.ended && odd == 1 {
            text.push(char::REPLACEMENT_CHARACTER);
        }
        self.ready = Cursor::new(text.into_bytes());
        Ok(())
    }
}

impl<R: Read> Read for Utf8<R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        loop {
            let read = self.ready.read(buffer)?;
            // The two bytes that were looked at come with those behind them: a reader looks at a beginning as a whole.
            if read > 0 && self.wide.is_none() {
                return Ok(read + self.input.read(&mut buffer[read..])?);
            }
            if read > 0 || buffer.is_empty() {
                return Ok(read);
            }
            match self.wide {
                None => return self.input.read(buffer),
                Some(_) if self.ended => return Ok(0),
                Some(big_endian) => self.decode(big_endian)?,
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Hands out a byte at a time.
    struct Slow<'a>(&'a [u8]);

    impl Read for Slow<'_> {
        fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
            let (Some(first), false) = (self.0.first(), buffer.is_empty()) else { return Ok(0) };
            buffer[0] = *first;
            self.0 = &self.0[1..];
            Ok(1)
        }
    }

    #[test]
    fn text_comes_out_as_it_went_in() {
        // Pairs (the last sign) lie across every edge of a piece.
        let text = "Zeit;Glukose mg/dL\n2026-03-01 03:05;104 ü𝄞\n".repeat(4000);
        let units: Vec<u16> = text.encode_utf16().collect();
        let little: Vec<u8> = [0xfeff].iter().chain(&units).flat_map(|unit| unit.to_le_bytes()).collect();
        let big: Vec<u8> = [0xfeff].iter().chain(&units).flat_map(|unit| unit.to_be_bytes()).collect();
        for bytes in [&little[..], &big[..], text.as_bytes()] {
            let mut out = String::new();
            Utf8::of(bytes).unwrap().read_to_string(&mut out).unwrap();
            assert!(out == text);
            let mut out = String::new();
            Utf8::of(Slow(&bytes[..3001])).unwrap().read_to_string(&mut out).unwrap();
            assert!(text.starts_with(out.trim_end_matches('\u{fffd}')));
        }
        let mut none = String::new();
        assert_eq!(Utf8::of(&b""[..]).unwrap().read_to_string(&mut none).unwrap(), 0);
    }
}
