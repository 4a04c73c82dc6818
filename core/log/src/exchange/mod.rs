//! Readings from and to the outside.

pub mod bluetooth;
pub mod csv;
pub mod fhir;
pub mod file;
#[cfg(feature = "sealed")]
pub mod sealed;
pub mod utf16;
