//! Readings from and to the outside.

pub mod csv;
