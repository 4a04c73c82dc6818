//! The log from outside: its store, its file on disk, and sealed logs.
//!
//! One target for all of them: each target links SQLite, and linking is most of what tests cost to build. A file is asked for by its
//! name: `cargo test -p ebbstead-log --features sealed --test store store_log::`.

#[cfg(target_os = "linux")]
mod disk;
mod killed;
mod sealed;
mod store_faults;
mod store_layout;
mod store_log;
mod store_properties;
mod store_recover;
