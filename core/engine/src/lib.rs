//! The engine: where blood glucose is, where it is heading, and whether to treat, check or hold.
//!
//! Values in, values out. The caller passes the record ([`log::History`]), the settings ([`wearer::Wearer`]), what was learnt
//! ([`watch::Learnt`]) and the time; the answer is a [`prompt::Prompt`] of codes and numbers.
//!
//! | question | module |
//! |---|---|
//! | how far a sensor lags behind blood | [`body::lag`] |
//! | what insulin and carbohydrate still do | [`body`] |
//! | where glucose is now, and whether the sensor can be believed | [`estimate`] |
//! | where it will be, and the chance of a low | [`forecast`] |
//! | treat, check or hold, and that a rescue gets 15 minutes | [`prompt`] |
//! | the same asked ahead: before sleep, a drive, movement | [`before`] |
//! | all of it in one, reading by reading | [`watch`] |
//!
//! It does not keep anything, read or write a file, know a sentence of any language or look at a clock; that is the work of the
//! crates that stand on it. It never computes an insulin dose, and nothing may be added that does.
//!
//! # Example
//! ```
//! use ebbstead_engine::log::{History, Reading};
//! use ebbstead_engine::prompt::{Occasion, Question};
//! use ebbstead_engine::time::Moment;
//! use ebbstead_engine::units::Glucose;
//! use ebbstead_engine::watch::{Learnt, check};
//! use ebbstead_engine::wearer::Wearer;
//!
//! // Falling 1.6 mg/dL a minute, from 140 to 60.
//! let start = Moment::parse("2026-03-01T02:00:00+01:00")?;
//! let mut history = History::default();
//! for k in 0..=10 {
//!     let glucose = Glucose::from_mg_dl(140.0 - 8.0 * f64::from(k))?;
//!     history.readings.push(Reading::new(start.plus_minutes(5.0 * f64::from(k)), glucose));
//! }
//! let question = Question { now: start.plus_minutes(51.0), occasion: Occasion::Wake, feels: None, meter: None };
//! let prompt = check(&history, &Wearer::default(), &Learnt::default(), &question);
//! // Blood is ahead of a falling sensor.
//! assert!(prompt.estimate.is_some_and(|now| now.blood_mg_dl < 60.0));
//! # Ok::<(), ebbstead_engine::Error>(())
//! ```

pub mod before;
pub mod body;
pub mod country;
pub mod error;
pub mod estimate;
pub mod forecast;
pub mod log;
pub mod prompt;
pub mod time;
pub mod units;
pub mod watch;
pub mod wearer;

pub use error::{Error, Result};
