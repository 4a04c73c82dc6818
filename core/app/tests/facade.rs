//! The formats, and the store with what is asked of it, from outside, through the facade. The store by itself is in `core/log/tests`.
//!
//! One target for all of them: each target links the whole core and SQLite, and linking is most of what tests cost to build. A file
//! is asked for by its name: `cargo test -p ebbstead-core --test facade store_meet::`.

mod bluetooth;
mod csv;
mod csv_table;
#[cfg(target_os = "linux")]
#[path = "../../log/tests/disk.rs"]
mod disk;
mod fhir;
mod large;
mod one_way_in;
mod store_meet;
mod store_sound;
