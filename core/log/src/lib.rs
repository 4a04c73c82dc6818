//! The log: what a wearer, a sensor or a meter said, kept as facts that are never overwritten, and the formats it comes and goes in.
//!
//! | question | module |
//! |---|---|
//! | what one entry says, and which entries hold | [`log`] |
//! | the log in SQLite: opening, undoing, the merge of two logs, recovery | [`store`] |
//! | tables of readings, HL7 FHIR, Bluetooth characteristics and their checksum, sealed copies | [`exchange`] |
//!
//! It judges nothing and knows no sentence of any language: what is wrong with a file, a row or a device is a code with numbers, so
//! that the same bytes make the same entries whatever language a phone is set to.
//!
//! # Example
//! ```
//! use ebbstead_engine::time::Moment;
//! use ebbstead_engine::units::Glucose;
//! use ebbstead_log::log::{Entry, Source, What, resolve};
//!
//! let at = Moment::parse("2026-03-01T03:05:00+01:00")?;
//! let wrong = Entry::new(at, at, Source::by_hand(), What::MeterCheck { mg_dl: Glucose::from_mg_dl(210.0)? })?;
//! let right = wrong.corrected(at.plus_minutes(1.0), at, What::MeterCheck { mg_dl: Glucose::from_mg_dl(120.0)? })?;
//! assert_eq!(resolve(vec![right.clone(), wrong]), [right]);
//! # Ok::<(), ebbstead_log::Error>(())
//! ```

pub mod error;
pub mod exchange;
pub mod log;
pub mod store;

pub use error::{Error, Result};

use ebbstead_engine::{time, units, wearer};
