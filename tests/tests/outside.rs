//! Checks of Ebbstead against things outside it, and of the house against its own rules.
//!
//! One target for all of them: each target links the whole core and SQLite, and linking is most of what tests cost to build. A file
//! is asked for by its name: `cargo test -p ebbstead-tests --test outside guards::`.

mod alerts;
mod constants;
mod dependencies;
mod direction;
mod estimator;
mod estimator_properties;
mod fuzzing;
mod guards;
mod laws;
mod learning;
mod open_data;
mod pages;
mod patterns;
mod patterns_planted;
mod privacy;
mod prompt_properties;
mod published;
mod record;
mod replay_golden;
mod review;
mod review_report;
mod safety_case;
mod sensor;
mod simulated_truth;
mod situations;
mod words;
