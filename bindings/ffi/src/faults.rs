//! A panic on purpose, to test that none reaches a host app. Only unoptimised builds have it, and it waits to be asked for by
//! `EBBSTEAD_FAULTS` in the environment: nothing a phone carries.

use crate::records::EntryKind;

/// Panics, with the log held, on a note that says so: as a mistake in the core would.
#[allow(clippy::panic)] // the panic is what is tested
pub(crate) fn fail_on_purpose(what: &EntryKind) {
    if matches!(what, EntryKind::Note { text } if text == "panic on purpose")
        && std::env::var_os("EBBSTEAD_FAULTS").is_some()
    {
        panic!("a mistake in the core, made on purpose");
    }
}
