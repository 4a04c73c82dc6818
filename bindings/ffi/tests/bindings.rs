//! The facade that the bindings see, from outside.
//!
//! One target for all of them: each target links the whole core and SQLite, and linking is most of what tests cost to build. A file
//! is asked for by its name: `cargo test -p ebbstead-ffi --test bindings parity::`.

mod alerts;
mod behaviour;
#[cfg(target_os = "linux")]
#[path = "../../../core/log/tests/disk.rs"]
mod disk;
mod exchange;
mod pages;
mod parity;
mod trouble;
