//! The development data that may lie beside a checkout.

use std::io::Write;
use std::path::{Path, PathBuf};

/// The folder named by `EBBSTEAD_SHARED`, or `shared` beside the checkout; nothing where there is none.
#[must_use]
pub fn folder() -> Option<PathBuf> {
    let named = std::env::var_os("EBBSTEAD_SHARED").filter(|text| !text.is_empty()).map(PathBuf::from);
    let beside = || Path::new(env!("CARGO_MANIFEST_DIR")).parent()?.parent().map(|above| above.join("shared"));
    named.or_else(beside).filter(|folder| folder.join("open-data").is_dir())
}

/// The shared data, or a line that says what is skipped for want of it.
#[must_use]
pub fn folder_or_skip(check: &str) -> Option<PathBuf> {
    let found = folder();
    if found.is_none() {
        // Straight to standard error: what the print macros write is shown of failing tests only.
        let _ = writeln!(
            std::io::stderr(),
            "\nskipped: {check}: no shared data beside the checkout (name it with EBBSTEAD_SHARED)"
        );
    }
    found
}
