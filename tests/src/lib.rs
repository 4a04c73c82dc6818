//! Checks of Ebbstead against things outside it.
//!
//! The tests themselves are in `tests/`; here is what they and the `evaluate` program share: [`traces`] reads open sensor
//! traces, [`replay`] runs core over them, [`evaluation`] asks how well it did and [`baselines`] what simpler rules would
//! have done; [`tree`] has the project's own files.

pub mod baselines;
pub mod evaluation;
pub mod fuzz;
pub mod plot;
pub mod replay;
pub mod rng;
pub mod scores;
pub mod shared;
pub mod simulate;
pub mod traces;
pub mod tree;
pub mod trial;
pub mod windows;
