//! The terminal program from outside, as a person or a script meets it: results, errors, exit codes, and what is kept.

// Helpers beside the tests may fail a test as a test may.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod ahead;
mod asking;
mod bad_input;
mod carrying;
mod context;
#[cfg(target_os = "linux")]
#[path = "../../../../core/log/tests/disk.rs"]
mod disk;
mod importing;
mod killed;
mod learning;
mod moving;
mod noting;
mod replaying;
mod showing;
mod trusting;
