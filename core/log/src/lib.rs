#![doc = include_str!("../README.md")]
//!
//! # What is where
//!
//! | question | module |
//! |---|---|
//! | what one entry says, and which entries hold | [`log`] |
//! | the log in SQLite: opening, undoing, the merge of two logs, recovery | [`store`] |
//! | tables of readings, HL7 FHIR, Bluetooth characteristics and their checksum, sealed copies | [`exchange`] |
//! | what can go wrong, as codes with numbers | [`error`] |

mod checksum;
pub mod error;
pub mod exchange;
pub mod log;
pub mod store;

pub use error::{Damage, Error, Quantity, Result, Unit, Why};

use ebbstead_engine::{time, units, wearer};
