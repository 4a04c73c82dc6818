#![doc = include_str!("../README.md")]
//!
//! # What is where
//!
//! | question | module |
//! |---|---|
//! | time in range and the other figures of a period, and what comes back at the same hour | [`review`] |
//! | how a sensor agrees with the meter, where it sat, when to calibrate | [`sensor`] |
//! | an alert plan replayed over the record | [`alerts`] |
//! | what followed the prompts that were shown | [`outcomes`] |
//! | stock, run-out and cost | [`supplies`] |
//! | means, percentiles and intervals, which all of these use | [`statistics`] |
//! | what is learnt of one wearer, and whether the chances shown were right | [`learn`] |

pub mod alerts;
pub mod learn;
pub mod outcomes;
pub mod review;
pub mod sensor;
pub mod statistics;
pub mod supplies;

use ebbstead_engine::{before, body, engine, estimate, forecast, prompt, time, units, wearer};
use ebbstead_log::{error, log, store};
