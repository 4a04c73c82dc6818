//! Readings from and to the outside.

pub mod bluetooth;
pub mod csv;
pub mod detect;
pub mod fhir;
pub mod file;
mod finding;
pub mod health;
#[cfg(feature = "sealed")]
pub mod sealed;
pub mod utf16;

pub use finding::Finding;

/// The fewest characters that a new passphrase of a sealed log has, from its first that is no space to its last.
pub const SHORTEST_PASSPHRASE: usize = 12;
