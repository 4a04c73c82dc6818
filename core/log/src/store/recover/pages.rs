//! The rows in the pages of a SQLite file, read without SQLite: page by page, whatever the pages say of each other.
//!
//! SQLite finds a row by walking from page to page; where one page is damaged, all behind it is out of reach. Each page
//! names its own rows, though, and each row of a log carries a checksum, so the rest can be read past the damage.
//!
//! # Source
//! SQLite, "Database File Format" (1.5 b-tree pages, 1.6 cell payload overflow, 2.1 record format).

use std::collections::HashMap;
use std::fs::File;
use std::io::{self, BufReader, Read, Seek, SeekFrom};
use std::path::Path;

use crate::store::wal;

/// The page size SQLite gives a new file, and so every log.
const USUAL_PAGE: usize = 4096;
/// The longest row read: above any that is written.
const LONGEST_ROW: usize = 1 << 20;

/// A value of a row.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Value {
    Null,
    Number(i64),
    Text(String),
    Bytes(Vec<u8>),
}

/// A row with its key, where the page gives one.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Cell {
    pub(super) key: Option<i64>,
    pub(super) values: Vec<Value>,
}

/// The pages of a file and of the side file with what was committed last.
pub(super) struct Pages {
    file: File,
    wal: Option<File>,
    size: usize,
    /// Where each page lies: those of the file, then those of the side file, each of them its number and its place.
    places: Vec<(u32, Place)>,
    newest: HashMap<u32, Place>,
}

#[derive(Clone, Copy)]
enum Place {
    File(u64),
    Wal(u64),
}

impl Pages {
    pub(super) fn open(path: &Path, wal: &Path) -> io::Result<Self> {
        let mut file = File::open(path)?;
        let length = file.metadata()?.len();
        let mut head = [0_u8; 100];
        let read = read_up_to(&mut file, &mut head)?;
        let said = usize::from(u16::from_be_bytes([head[16], head[17]]));
        let size = if read == 100 && said.is_power_of_two() && said >= 512 { said } else { USUAL_PAGE };
        let mut places: Vec<(u32, Place)> = (0..length.div_ceil(size as u64))
            .map(|page| (u32::try_from(page + 1).unwrap_or(u32::MAX), Place::File(page * size as u64)))
            .collect();
        let wal = File::open(wal).ok();
        let mut newest: HashMap<u32, Place> = places.iter().copied().collect();
        if let Some(wal) = wal.as_ref() {
            // SQLite stops at the first frame whose checksum does not fit; the rows carry checksums of their own, so the frames
            // behind it are as good, and what of the broken one fits its checksum too. What a transaction wrote that never
            // ended lies behind the last commit and is left out.
            let length = wal.metadata()?.len();
            for frame in wal::read(&mut BufReader::new(wal), length)?.committed {
                places.push((frame.page, Place::Wal(frame.at)));
                if frame.whole {
                    newest.insert(frame.page, Place::Wal(frame.at));
                }
            }
        }
        Ok(Self { file, wal, size, places, newest })
    }

    /// Visits every row of every page; of a row that cannot be read, nothing.
    pub(super) fn each_cell<E: From<io::Error>>(
        &mut self,
        mut visit: impl FnMut(Option<Cell>) -> Result<(), E>,
    ) -> Result<(), E> {
        for at in 0..self.places.len() {
            let (number, place) = self.places[at];
            let page = self.read(place)?;
            let begin = if number == 1 { 100 } else { 0 };
            let Some(kind) = page.get(begin) else { continue };
            match Kind::of(*kind) {
                Some(Kind::NoRows) => {}
                Some(kind) => {
                    for cell in self.cells(&page, begin, kind) {
                        visit(cell)?;
                    }
                }
                // Its first byte may be what is damaged. What is not a page of rows yields nothing either way.
                None => {
                    for kind in [Kind::Table, Kind::Index, Kind::Inner] {
                        for cell in self.cells(&page, begin, kind).into_iter().flatten() {
                            visit(Some(cell))?;
                        }
                    }
                }
            }
        }
        Ok(())
    }

    fn read(&mut self, place: Place) -> io::Result<Vec<u8>> {
        let mut page = vec![0; self.size];
        let (file, at) = match (place, self.wal.as_mut()) {
            (Place::Wal(at), Some(wal)) => (wal, at),
            (Place::File(at) | Place::Wal(at), _) => (&mut self.file, at),
        };
        file.seek(SeekFrom::Start(at))?;
        read_up_to(file, &mut page)?;
        Ok(page)
    }

    fn cells(&mut self, page: &[u8], begin: usize, kind: Kind) -> Vec<Option<Cell>> {
        let count = usize::from(number(page, begin + 3));
        let pointers = begin + if kind == Kind::Inner { 12 } else { 8 };
        // No page holds more than a cell for every four bytes.
        (0..count.min(self.size / 4))
            .map(|nth| {
                let at = usize::from(number(page, pointers + 2 * nth));
                self.cell(page.get(at..)?, kind)
            })
            .collect()
    }

    fn cell(&mut self, mut bytes: &[u8], kind: Kind) -> Option<Cell> {
        if kind == Kind::Inner {
            bytes = bytes.get(4..)?;
        }
        let length = usize::try_from(varint(&mut bytes)?).ok().filter(|length| *length <= LONGEST_ROW)?;
        let key = if kind == Kind::Table { Some(varint(&mut bytes)?) } else { None };
        let usable = self.size;
        let most = if kind == Kind::Table { usable - 35 } else { (usable - 12) * 64 / 255 - 23 };
        if length <= most {
            return Some(Cell { key, values: record(bytes.get(..length)?)? });
        }
        let least = (usable - 12) * 32 / 255 - 23;
        let here = least + (length - least) % (usable - 4);
        let here = if here <= most { here } else { least };
        let mut row = bytes.get(..here)?.to_vec();
        let mut next = u32::from_be_bytes(bytes.get(here..here + 4)?.try_into().ok()?);
        while row.len() < length {
            let place = *self.newest.get(&next)?;
            let page = self.read(place).ok()?;
            next = u32::from_be_bytes(page.get(..4)?.try_into().ok()?);
            let rest = (length - row.len()).min(usable - 4);
            row.extend_from_slice(page.get(4..4 + rest)?);
        }
        Some(Cell { key, values: record(&row)? })
    }
}

/// Kinds of pages.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// Rows of a table with a key each.
    Table,
    /// Rows of an index, or of a table without such keys.
    Index,
    /// The same, with pages below it.
    Inner,
    /// Pages below it only.
    NoRows,
}

impl Kind {
    const fn of(byte: u8) -> Option<Self> {
        match byte {
            0x0d => Some(Self::Table),
            0x0a => Some(Self::Index),
            0x02 => Some(Self::Inner),
            0x05 => Some(Self::NoRows),
            _ => None,
        }
    }
}

fn read_up_to(file: &mut impl Read, buffer: &mut [u8]) -> io::Result<usize> {
    let mut filled = 0;
    while filled < buffer.len() {
        match file.read(&mut buffer[filled..])? {
            0 => break,
            count => filled += count,
        }
    }
    Ok(filled)
}

fn number(page: &[u8], at: usize) -> u16 {
    page.get(at..at + 2).map_or(0, |two| u16::from_be_bytes([two[0], two[1]]))
}

/// A number of 1 to 9 bytes, taken from the front.
fn varint(bytes: &mut &[u8]) -> Option<i64> {
    let mut value = 0_u64;
    for place in 0..9 {
        let (first, rest) = bytes.split_first()?;
        *bytes = rest;
        if place == 8 {
            return Some((value << 8 | u64::from(*first)).cast_signed());
        }
        value = value << 7 | u64::from(first & 0x7f);
        if first & 0x80 == 0 {
            break;
        }
    }
    Some(value.cast_signed())
}

fn record(row: &[u8]) -> Option<Vec<Value>> {
    let mut rest = row;
    let length = usize::try_from(varint(&mut rest)?).ok()?;
    let mut kinds = row.get(row.len() - rest.len()..length)?;
    let mut body = row.get(length..)?;
    let mut values = Vec::new();
    while !kinds.is_empty() {
        let kind = varint(&mut kinds)?;
        let width = match kind {
            0 | 8 | 9 => 0,
            1..=4 => usize::try_from(kind).ok()?,
            5 => 6,
            6 | 7 => 8,
            kind if kind >= 12 => usize::try_from((kind - 12) / 2).ok()?,
            _ => return None,
        };
        let (own, left) = body.split_at_checked(width)?;
        body = left;
        values.push(match kind {
            0 => Value::Null,
            8 => Value::Number(0),
            9 => Value::Number(1),
            1..=6 => {
                let sign = if own.first().is_some_and(|byte| byte & 0x80 != 0) { -1_i64 } else { 0 };
                Value::Number(own.iter().fold(sign, |value, byte| value << 8 | i64::from(*byte)))
            }
            kind if kind >= 12 && kind % 2 == 0 => Value::Bytes(own.to_vec()),
            kind if kind >= 12 => Value::Text(String::from_utf8(own.to_vec()).ok()?),
            // A log has no fractions outside its JSON.
            _ => return None,
        });
    }
    Some(values)
}
