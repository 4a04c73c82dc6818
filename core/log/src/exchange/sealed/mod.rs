//! A whole log in one file that only its passphrase opens: for a copy in a safe place, and to move to another phone.
//!
//! # Format
//! The file is an age file (age-encryption.org/v1) with one scrypt recipient, so that any implementation of that format
//! opens it. Inside are lines of JSON (the module `lines`): a head, the settings, what was learnt, every entry, the sensor readings
//! in the order of their times, and a closing line that counts them. What is sealed is facts, not pages of a database: a
//! sealed log is read by every later layout and can be merged like any other log ([`crate::store::Facts`]).
//!
//! # Passphrase
//! scrypt with N = 2^15, r = 8, p = 1 takes 32 MiB, which a phone has to spare; a guess costs an attacker the same. That
//! is a quarter of what is advised for short passwords (OWASP, Password Storage: N = 2^17), so short ones are not taken:
//! at least [`SHORTEST_PASSPHRASE`](super::SHORTEST_PASSPHRASE) characters. A forgotten passphrase cannot be recovered by anybody.
//!
//! A wrong passphrase and a damaged file are distinguished, except that damage to the passphrase's own line in the head of
//! the file (about a hundred bytes) cannot be distinguished from a wrong passphrase.
//!
//! # Safety on disk
//! A file is written beside its final name, with a mode for its owner only, forced to the disk, read back and compared,
//! and only then put in place by one rename. A killed program leaves the file that was there before, and at most a sealed
//! remnant whose name ends in `.part`. Nothing readable ever touches the disk.

mod lines;
mod passphrase;
mod read;
mod write;

pub use passphrase::Passphrase;
pub use read::{SealedLog, Unsealed};
pub use write::{Sealed, seal};

/// scrypt's work when sealing: log2 of N.
const WORK: u8 = 15;
/// The most work a file may ask for: 128 MiB. A file that asks for more would stop a phone.
const MOST_WORK: u8 = 17;
