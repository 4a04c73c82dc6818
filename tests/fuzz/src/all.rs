//! One program for all targets: `EBBSTEAD_FUZZ` names the one to run.
#![no_main]

use std::sync::LazyLock;

use ebbstead_tests::fuzz::TARGETS;

static TARGET: LazyLock<fn(&[u8])> = LazyLock::new(|| {
    let name = std::env::var("EBBSTEAD_FUZZ").unwrap_or_default();
    let found = TARGETS.iter().find(|(known, _)| *known == name);
    found.unwrap_or_else(|| panic!("EBBSTEAD_FUZZ names no target: {TARGETS:?}")).1
});

libfuzzer_sys::fuzz_target!(|data: &[u8]| TARGET(data));
