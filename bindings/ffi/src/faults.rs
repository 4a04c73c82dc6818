//! A panic on purpose. Only tests build it.

use crate::records::What;

/// Panics, with the log held, on a note that says so: as a mistake in the core would.
#[allow(clippy::panic)] // the panic is what is tested
pub(crate) fn fail_on_purpose(what: &What) {
    if matches!(what, What::Note { text } if text == "panic on purpose") {
        panic!("a mistake in the core, made on purpose");
    }
}
