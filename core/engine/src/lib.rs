#![doc = include_str!("../README.md")]
//!
//! # What is where
//!
//! Values in, values out. The caller passes the record ([`log::History`]), the settings ([`wearer::Wearer`]), what was learnt
//! ([`engine::Learnt`]) and the time; the answer is a [`prompt::Prompt`] of codes and numbers.
//!
//! | question | module |
//! |---|---|
//! | how far a sensor lags behind blood | [`body::lag`] |
//! | what insulin and carbohydrate still do | [`body`] |
//! | where glucose is now, and whether the sensor can be believed | [`estimate`] |
//! | where it will be, and the chance of a low | [`forecast`] |
//! | treat, check or hold, and that a rescue gets 15 minutes | [`prompt`] |
//! | the same asked ahead: before sleep, a drive, movement | [`before`] |
//! | all of it in one, reading by reading | [`engine`] |
//! | what a record holds, by kind: readings, checks, doses | [`log`] |
//! | the wearer's own settings, never invented; rules of their country | [`wearer`], [`country`] |
//! | what a glucose and a moment are, and what cannot be one | [`units`], [`time`], [`error`] |

pub mod before;
pub mod body;
pub mod country;
pub mod engine;
pub mod error;
pub mod estimate;
pub mod forecast;
pub mod log;
mod logit;
mod normal;
pub mod prompt;
mod sorted;
pub mod time;
pub mod units;
pub mod wearer;

pub use error::{Error, Quantity, Result, Unit, Why};
