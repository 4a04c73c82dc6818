//! The store and the formats from outside, through the facade.
//!
//! One target for all of them: each target links the whole core and SQLite, and linking is most of what tests cost to build. A file
//! is asked for by its name: `cargo test -p ebbstead-core --test facade store_log::`.

mod bluetooth;
mod csv;
mod csv_table;
#[cfg(target_os = "linux")]
mod disk;
mod fhir;
mod killed;
mod large;
mod one_way_in;
mod sealed;
mod store_faults;
mod store_layout;
mod store_log;
mod store_meet;
mod store_properties;
mod store_recover;
mod store_sound;
