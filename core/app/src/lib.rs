//! Ebbstead's core, as shells and programs use it: one facade over the crates it is made of.
//!
//! | crate | what it decides |
//! |---|---|
//! | `ebbstead-engine` | where glucose is, where it is heading, and whether to treat, check or hold |
//! | `ebbstead-log` | what is kept, what holds of it, and how it comes and goes |
//! | `ebbstead-insights` | what a record shows, in figures |
//! | `ebbstead-present` | every word, page and chart |
//! | this one | what of a log a prompt is asked of ([`known`]), what one does at night ([`night`]), how a file comes in ([`import`]), a bundle for a clinic |
//!
//! The core has no network, no globals, no threads and no clock: the caller passes the time, the paths and the wearer's settings. No
//! function computes an insulin dose, and none may be added that does.
//!
//! # Example
//! ```
//! use ebbstead_core::known::Known;
//! use ebbstead_core::log::{Entry, Source, What};
//! use ebbstead_core::prompt::{Occasion, Question};
//! use ebbstead_core::store::Log;
//! use ebbstead_core::time::Moment;
//! use ebbstead_core::units::Glucose;
//! use ebbstead_core::words::Words;
//!
//! let now = Moment::parse("2026-03-01T03:05:00+01:00")?;
//! let mut log = Log::in_memory(now)?;
//! let check = What::MeterCheck { mg_dl: Glucose::from_mg_dl(62.0)? };
//! log.record(&Entry::new(now.plus_minutes(-2.0), now, Source::by_hand(), check)?)?;
//!
//! let known = Known::at(&log, now)?;
//! let prompt = known.answer(&Question { now, occasion: Occasion::Wake, feels: None, meter: None });
//! assert!(Words::of(&known.wearer).sentence(prompt.sentence).contains("15"));
//! # Ok::<(), ebbstead_core::Error>(())
//! ```

mod before_log;
mod fhir_export;
pub mod import;
pub mod known;
pub mod night;

/// Questions asked ahead: before sleep, a drive, movement.
pub mod before {
    pub use ebbstead_engine::before::*;

    pub use crate::before_log::{Before, answer};
}

/// Readings and logs from and to the outside.
pub mod exchange {
    #[cfg(feature = "sealed")]
    pub use ebbstead_log::exchange::sealed;
    pub use ebbstead_log::exchange::{Finding, bluetooth, csv, detect, file, utf16};

    /// A log as HL7 FHIR R4 resources: out for a clinic or another program, and in from one.
    pub mod fhir {
        pub use ebbstead_log::exchange::fhir::*;

        pub use crate::fhir_export::{export, summary};
    }
}

pub use ebbstead_engine::Error as ValueError;
pub use ebbstead_engine::{body, country, estimate, forecast, prompt, time, units, watch, wearer};
pub use ebbstead_insights::{alerts, answers, learn, review, sensor, statistics, supplies};
pub use ebbstead_log::{Error, Result, error, log, store};
pub use ebbstead_present::{chart, forms, page, pages, say, sentences, text, words};
