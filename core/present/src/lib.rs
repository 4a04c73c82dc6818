#![doc = include_str!("../README.md")]
//!
//! # What is where
//!
//! | question | module |
//! |---|---|
//! | the sentence of a prompt, its reasons and cautions, labels of a screen; one file a language | [`words`] |
//! | what was found in the record, in sentences | [`sentences`] |
//! | which of them stand on which page | [`pages`], made of the blocks of [`page`] |
//! | what a shell asks for, and what was filled in, read | [`forms`] |
//! | what stands on a page of the record, asked and shown, and what can be done there | [`record`] |
//! | where everything lies in the chart, its scale included, laid out for a sheet of any size | [`chart`] |
//! | the marks it is made of, and how a verdict looks | [`marks`] |

pub mod chart;
pub mod forms;
pub mod marks;
pub mod page;
pub mod pages;
pub mod record;
pub mod sentences;
pub mod words;

use ebbstead_engine::{before, body, country, forecast, prompt, time, units, wearer};
use ebbstead_insights::{alerts, learn, outcomes, review, sensor, statistics, supplies};
use ebbstead_log::{error, exchange, log, store};
