#![doc = include_str!("../README.md")]
//!
//! # What is where
//!
//! | module | what it adds to the crates above |
//! |---|---|
//! | [`snapshot`] | what of a log a prompt is asked of, what was learnt included |
//! | [`first`] | the first start: what must not be assumed |
//! | [`prompting`] | the screen with a prompt, by day and after waking: its order, and what a tap notes |
//! | [`night`] | what one does after an alarm: which answers fit, what each notes, and when to look again |
//! | [`ringing`] | whether to ring |
//! | [`settings`] | the wearer's settings, filled in and kept |
//! | [`import`] | how a file comes in |
//! | [`exchange::fhir`] | the log and a summary of it as a bundle for a clinic |
//! | [`before::Before`] | what is asked ahead, of a log |
//! | [`reviewed`] | days of a log reviewed: a page, a profile, a file to print |
//! | [`record_pages`] | the record's pages: what is filled in there, and what comes of what is pressed |
//! | [`copies`] | the whole log on its way: written, sealed, another one merged |
//! | [`health`] | the phone's health store as a source |
//! | [`help`] | whom to call |
//! | [`glance`] | what a widget shows, minute by minute |
//! | [`entries`] | what a person adds to a log or puts right in it, by a form |
//! | [`log_screen`] | the screen with the log: its order, and what a tap does |
//! | all others | the crates' own, under their names |

mod before_log;
#[cfg(feature = "sealed")]
pub mod copies;
pub mod entries;
mod fhir_export;
pub mod first;
pub mod glance;
pub mod health;
pub mod help;
pub mod import;
pub mod log_screen;
pub mod night;
pub mod prompting;
#[cfg(feature = "sealed")]
pub mod record_pages;
pub mod reviewed;
pub mod ringing;
pub mod settings;
pub mod snapshot;

/// Questions asked ahead: before sleep, a drive, movement.
pub mod before {
    pub use ebbstead_engine::before::*;

    pub use crate::before_log::{Before, answer};
}

/// Readings and logs from and to the outside.
pub mod exchange {
    #[cfg(feature = "sealed")]
    pub use ebbstead_log::exchange::sealed;
    pub use ebbstead_log::exchange::{Finding, bluetooth, csv, detect, file, health, utf16};

    /// A log as HL7 FHIR R4 resources: out for a clinic or another program, and in from one.
    pub mod fhir {
        pub use ebbstead_log::exchange::fhir::*;

        pub use crate::fhir_export::{export, summary};
    }
}

pub use ebbstead_engine::Error as ValueError;
pub use ebbstead_engine::{body, country, engine, estimate, forecast, prompt, time, units, wearer};
pub use ebbstead_insights::{alerts, learn, outcomes, review, sensor, statistics, supplies};
pub use ebbstead_log::{Damage, Error, Quantity, Result, Unit, Why, error, log, store};
pub use ebbstead_present::{chart, forms, marks, message, page, pages, say, sentences, text, words};
