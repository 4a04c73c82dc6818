//! The file beside a log with `-wal` in its name, read without SQLite: whether all that was committed to it is still there.
//!
//! SQLite takes the side file up to the first frame whose checksum does not fit, and does not report what stood behind it; the next
//! connection that closes then deletes the file. So it is looked at first. What was committed is known twice: from the frames
//! themselves, and, while the index beside it (`-shm`) is there, from the number of frames that it counts.
//!
//! # Source
//! SQLite, "Database File Format" (4.1 WAL file format, 4.2 checksum algorithm) and "WAL-mode File Format" (2.1 the WAL-index header).

use std::collections::HashMap;
use std::fs::{self, File};
use std::io::{self, BufReader, Read, Seek, SeekFrom};
use std::path::Path;
use std::time::{Duration, Instant, SystemTime};

use crate::error::Damage;
use crate::store::open::beside;

const HEADER: usize = 32;
const FRAME_HEADER: usize = 24;
/// The first four bytes; the lowest bit says in which order the checksums take the bytes of a number.
const MAGIC: u32 = 0x377f_0682;
/// What an index that is in use begins with.
const INDEX_VERSION: u32 = 3_007_000;

type Salts = (u32, u32);
type Sum = (u32, u32);

/// A frame of the side file that was committed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Frame {
    /// The page it holds, counted from 1.
    pub(super) page: u32,
    /// Where the page's bytes begin in the side file.
    pub(super) at: u64,
    /// Whether its checksum fits: its page and its bytes are as they were written.
    pub(super) whole: bool,
}

/// What stands in a side file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Side {
    /// The frames up to the last commit, broken ones included.
    pub(super) committed: Vec<Frame>,
    /// What is wrong with it, if SQLite would pass over something that was committed.
    pub(super) damage: Option<Damage>,
}

/// What the index says of the side file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Index {
    salts: Salts,
    committed: usize,
    /// How many of them are in the log's own file already.
    copied: usize,
}

/// How a side file and its index stand: where another program writes, one of them changes before long.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Stamp {
    bytes_and_time: Option<(u64, Option<SystemTime>)>,
    index: Option<Index>,
}

impl Stamp {
    fn of(wal: &Path, index: &Path) -> Self {
        let index = Index::read(index);
        let held = fs::metadata(wal).ok();
        Self { bytes_and_time: held.map(|held| (held.len(), held.modified().ok())), index }
    }
}

/// What is wrong with the side file of a log, if SQLite would pass over something that was committed.
pub(super) fn damage(log: &Path) -> io::Result<Option<Damage>> {
    /// What stays as it is for so long is damage: at a commit another program may be about to write the sums of pages that it wrote twice.
    const STAYS: Duration = Duration::from_millis(100);
    const PAUSE: Duration = Duration::from_millis(5);
    /// A program that writes all the time is not waited for longer.
    const PATIENCE: Duration = Duration::from_secs(2);
    let (wal, index) = (beside(log, "-wal"), beside(log, "-shm"));
    let begun = Instant::now();
    loop {
        let stamp = Stamp::of(&wal, &index);
        let found = match File::open(&wal) {
            Ok(file) => {
                let size = file.metadata()?.len();
                read_counted(&mut BufReader::with_capacity(1 << 18, file), size, stamp.index)?.damage
            }
            Err(error) if error.kind() == io::ErrorKind::NotFound => Side::of_nothing(stamp.index).damage,
            Err(error) => return Err(error),
        };
        // Without an index no program has the log open.
        if found.is_none() || !index.exists() || begun.elapsed() >= PATIENCE {
            return Ok(found);
        }
        let looked = Instant::now();
        while Stamp::of(&wal, &index) == stamp {
            if looked.elapsed() >= STAYS {
                return Ok(found);
            }
            std::thread::sleep(PAUSE);
        }
    }
}

/// Reads a side file as it is, by its frames alone.
pub(super) fn read(wal: &mut (impl Read + Seek), length: u64) -> io::Result<Side> {
    read_counted(wal, length, None)
}

fn read_counted(wal: &mut (impl Read + Seek), length: u64, index: Option<Index>) -> io::Result<Side> {
    let mut head = [0_u8; HEADER];
    if length < HEADER as u64 {
        return Ok(Side::of_nothing(index));
    }
    wal.read_exact(&mut head)?;
    let number = |from: usize| be(&head, from);
    let big_endian = number(0) & 1 == 1;
    let head_whole = number(0) & !1 == MAGIC && sum((0, 0), &head[..24], big_endian) == (number(24), number(28));
    let said = number(8) as usize;
    let size = if said.is_power_of_two() && (512..=65536).contains(&said) { said } else { 4096 };
    let mut before = (number(24), number(28));
    let head_salts = head_whole.then(|| (number(16), number(20)));
    // All that is known to be committed is at the front; what follows may be an import that another program is writing.
    let counted = index.filter(|index| Some(index.salts) == head_salts).map(|index| index.committed);
    let whole_frames = (length - HEADER as u64) / (FRAME_HEADER + size) as u64;
    let to_read = match counted {
        Some(counted) => whole_frames.min(counted as u64),
        None => {
            let last = last_commit(wal, whole_frames, size, head_salts)?;
            wal.seek(SeekFrom::Start(HEADER as u64))?;
            last
        }
    };
    let mut frames: Vec<(Frame, bool, Salts)> = Vec::new();
    let mut bytes = vec![0_u8; FRAME_HEADER + size];
    let mut at = HEADER as u64;
    for _ in 0..to_read {
        if let Err(error) = wal.read_exact(&mut bytes) {
            // It became shorter meanwhile.
            if error.kind() == io::ErrorKind::UnexpectedEof {
                break;
            }
            return Err(error);
        }
        let own = (be(&bytes, 16), be(&bytes, 20));
        let whole = sum(sum(before, &bytes[..8], big_endian), &bytes[FRAME_HEADER..], big_endian) == own;
        let frame = Frame { page: be(&bytes, 0), at: at + FRAME_HEADER as u64, whole };
        frames.push((frame, be(&bytes, 4) != 0, (be(&bytes, 8), be(&bytes, 12))));
        // The sum goes on from what stands in the frame, so that a broken one does not break those behind it.
        before = own;
        at += bytes.len() as u64;
    }
    let Some(salts) = head_salts.or_else(|| most_frequent(frames.iter().map(|(.., salts)| *salts))) else {
        return Ok(Side::of_nothing(index));
    };
    let is_whole = |frame: &(Frame, bool, Salts)| frame.0.whole && frame.2 == salts;
    let front = frames.iter().take_while(|frame| is_whole(frame)).count();
    let damage = if !head_whole && !frames.is_empty() {
        Some(Damage::SideFileHead)
    } else if counted.is_some_and(|counted| front < counted)
        // Frames of an earlier round carry other salts; one of this round behind a broken one was written after it.
        || frames.iter().skip(front + 1).any(|frame| frame.2 == salts)
    {
        Some(Damage::SideFile)
    } else {
        None
    };
    let last = frames.iter().rposition(|(_, commit, of)| *commit && *of == salts).map_or(0, |last| last + 1);
    let committed = frames.into_iter().take(last).filter(|(_, _, of)| *of == salts).map(|(frame, ..)| frame).collect();
    Ok(Side { committed, damage })
}

/// How many frames there are up to the last that commits. What stands behind it was not committed, and may be what another program is
/// writing: a page that it writes twice gets a new sum only as it commits.
fn last_commit(wal: &mut impl Read, frames: u64, size: usize, salts: Option<Salts>) -> io::Result<u64> {
    let mut bytes = vec![0_u8; FRAME_HEADER + size];
    let mut heads: Vec<(bool, Salts)> = Vec::new();
    for _ in 0..frames {
        match wal.read_exact(&mut bytes) {
            Ok(()) => heads.push((be(&bytes, 4) != 0, (be(&bytes, 8), be(&bytes, 12)))),
            // It became shorter meanwhile.
            Err(error) if error.kind() == io::ErrorKind::UnexpectedEof => break,
            Err(error) => return Err(error),
        }
    }
    let salts = salts.or_else(|| most_frequent(heads.iter().map(|(_, salts)| *salts)));
    let last = heads.iter().rposition(|(commits, of)| *commits && Some(*of) == salts);
    Ok(last.map_or(0, |last| last as u64 + 1))
}

impl Side {
    /// A side file without a frame.
    fn of_nothing(index: Option<Index>) -> Self {
        let lost = index.is_some_and(|index| index.committed > index.copied);
        let damage = lost.then_some(Damage::SideFileLost);
        Self { committed: Vec::new(), damage }
    }
}

impl Index {
    /// Reads the index; nothing where there is none that is whole.
    fn read(path: &Path) -> Option<Self> {
        let mut head = [0_u8; 100];
        File::open(path).and_then(|mut file| file.read_exact(&mut head)).ok()?;
        let (one, other) = (&head[..48], &head[48..96]);
        let number = |from: usize| ne(&head, from);
        let stored = sum_native(&one[..40]) == (number(40), number(44));
        let in_use = number(0) == INDEX_VERSION && head[12] == 1;
        // The salts stand there as they stand in the side file.
        (one == other && stored && in_use).then(|| Self {
            salts: (be(&head, 32), be(&head, 36)),
            committed: number(16) as usize,
            copied: number(96) as usize,
        })
    }
}

fn most_frequent(all: impl Iterator<Item = Salts>) -> Option<Salts> {
    let mut counts: HashMap<Salts, usize> = HashMap::new();
    for salts in all {
        *counts.entry(salts).or_default() += 1;
    }
    counts.into_iter().max_by_key(|(salts, count)| (*count, *salts)).map(|(salts, _)| salts)
}

fn four(bytes: &[u8], from: usize) -> [u8; 4] {
    bytes.get(from..from + 4).and_then(|four| four.try_into().ok()).unwrap_or_default()
}

fn be(bytes: &[u8], from: usize) -> u32 {
    u32::from_be_bytes(four(bytes, from))
}

fn ne(bytes: &[u8], from: usize) -> u32 {
    u32::from_ne_bytes(four(bytes, from))
}

fn sum(before: Sum, bytes: &[u8], big_endian: bool) -> Sum {
    let read = if big_endian { u32::from_be_bytes } else { u32::from_le_bytes };
    bytes.chunks_exact(8).fold(before, |(first, second), eight| {
        let (one, two) = (read(four(eight, 0)), read(four(eight, 4)));
        let first = first.wrapping_add(one).wrapping_add(second);
        (first, second.wrapping_add(two).wrapping_add(first))
    })
}

fn sum_native(bytes: &[u8]) -> Sum {
    sum((0, 0), bytes, cfg!(target_endian = "big"))
}
