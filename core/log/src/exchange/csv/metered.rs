//! Reading a file within limits: how long a row may be, how lines end.

use std::io::Read;

/// The longest row taken, in bytes: an opening quote that never closes would swallow the file otherwise.
pub(super) const LONGEST_ROW: u64 = 1 << 20;

/// How the lines of a file end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum LineEnds {
    /// With a line feed, perhaps after a carriage return.
    LineFeed,
    /// With a carriage return alone.
    CarriageReturn,
}

/// A reader that counts, and fails once a single row has taken too many bytes.
pub(super) struct Metered<R> {
    inner: R,
    line_ends: LineEnds,
    pub(super) total: u64,
    pub(super) since_row: u64,
    /// The newest bytes handed over, with the one before them in front.
    newest: Vec<u8>,
}

impl<R> Metered<R> {
    pub(super) const fn new(inner: R, line_ends: LineEnds) -> Self {
        Self { inner, line_ends, total: 0, since_row: 0, newest: Vec::new() }
    }

    pub(super) const fn over(&self) -> bool {
        self.since_row > LONGEST_ROW
    }

    /// The byte in front of a position, if it is among the newest.
    pub(super) fn byte_before(&self, position: u64) -> Option<u8> {
        let from_end = usize::try_from(self.total.checked_sub(position)?).ok()?;
        self.newest.iter().rev().nth(from_end).copied()
    }
}

impl<R: Read> Read for Metered<R> {
    fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
        if self.over() {
            return Err(std::io::Error::other("a row that does not end"));
        }
        let count = self.inner.read(buffer)?;
        let bytes = &mut buffer[..count];
        if self.line_ends == LineEnds::CarriageReturn {
            for byte in bytes.iter_mut().filter(|byte| **byte == b'\r') {
                *byte = b'\n';
            }
        }
        if count > 0 {
            self.newest.drain(..self.newest.len().saturating_sub(1));
            self.newest.extend_from_slice(bytes);
        }
        self.total += count as u64;
        self.since_row += count as u64;
        Ok(count)
    }
}
