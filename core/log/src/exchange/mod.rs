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
