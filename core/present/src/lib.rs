//! What a person sees: every word in each language, the pages and the chart.
//!
//! | question | module |
//! |---|---|
//! | the sentence of a prompt, its reasons and cautions, labels of a screen; one file a language | [`words`] |
//! | what was found in the record, in sentences | [`sentences`] |
//! | which of them stand on which page | [`pages`], made of the blocks of [`page`] |
//! | what a shell asks for, and what was filled in, read | [`forms`] |
//! | where everything lies in the chart, its scale included | [`chart`] |
//!
//! It decides nothing: codes and numbers come from `ebbstead-engine`, `ebbstead-log` and `ebbstead-insights`, and none of those knows a
//! sentence.
//!
//! # Example
//! ```
//! use ebbstead_engine::prompt::Verdict;
//! use ebbstead_engine::units::GlucoseUnit;
//! use ebbstead_engine::wearer::Language;
//! use ebbstead_present::words::Words;
//!
//! let english = Words::new(Language::English, GlucoseUnit::MgDl);
//! let german = Words::new(Language::German, GlucoseUnit::MmolL);
//! assert_eq!((english.amount(70.0), german.amount(70.0)), ("70 mg/dL".to_owned(), "3,9 mmol/L".to_owned()));
//! assert_ne!(english.verdict(Verdict::Treat), german.verdict(Verdict::Treat));
//! ```

pub mod chart;
pub mod forms;
pub mod page;
pub mod pages;
pub mod sentences;
pub mod words;

use ebbstead_engine::{before, country, forecast, prompt, time, units, wearer};
use ebbstead_insights::{alerts, answers, learn, review, sensor, statistics, supplies};
use ebbstead_log::{error, exchange, log, store};
