//! What a record shows: figures and codes, and how much data each rests on.
//!
//! | question | module |
//! |---|---|
//! | time in range and the other figures of a period, and what comes back at the same hour | [`review`] |
//! | how a sensor agrees with the meter, where it sat, when to calibrate | [`sensor`] |
//! | an alert plan replayed over the record | [`alerts`] |
//! | what came of the prompts that were shown | [`answers`] |
//! | stock, run-out and cost | [`supplies`] |
//! | means, percentiles and intervals, which all of these use | [`statistics`] |
//! | what is learnt of one wearer, and whether the chances shown were right | [`learn`] |
//!
//! It decides nothing about the present moment (`ebbstead-engine` does) and words nothing (`ebbstead-present` does).
//!
//! # Example
//! ```
//! use ebbstead_engine::log::{History, Reading};
//! use ebbstead_engine::time::Moment;
//! use ebbstead_engine::units::Glucose;
//! use ebbstead_engine::wearer::Wearer;
//! use ebbstead_insights::review::{Manner, Period, Review};
//!
//! // Two weeks, a reading every 5 minutes, a quarter of them above the high line.
//! let until = Moment::parse("2026-03-15T00:00:00+01:00")?;
//! let mut history = History::default();
//! for k in 1..=14 * 288 {
//!     let glucose = Glucose::from_mg_dl(if k % 4 == 0 { 200.0 } else { 120.0 })?;
//!     history.readings.push(Reading::new(until.plus_minutes(-5.0 * f64::from(k)), glucose));
//! }
//! history.readings.reverse();
//! let review = Review::of(&history, &Wearer::default(), Period::days_before(until, 14)?, Manner::default());
//! let shares = review.shares.ok().expect("two weeks are enough");
//! assert!((shares.in_range - 75.0).abs() < 0.1);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod alerts;
pub mod answers;
pub mod learn;
pub mod review;
pub mod sensor;
pub mod statistics;
pub mod supplies;

use ebbstead_engine::{before, body, estimate, forecast, time, units, watch, wearer};
use ebbstead_log::{error, log, store};
