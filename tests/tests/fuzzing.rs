//! The fuzz targets on every machine: the seeds, what was found before, and changes of both, drawn from a fixed start.
//!
//! `EBBSTEAD_FUZZ_RUNS` sets how many changed inputs each target gets.
#![allow(clippy::expect_used)] // an input that cannot be read is a failed test

use std::path::{Path, PathBuf};

use ebbstead_tests::fuzz::{TARGETS, asked_at_a_confirmed_low};
use rand_core::Rng;
use rand_pcg::Pcg64;

/// Changed inputs for each target, unless another number is set.
const RUNS: u32 = 1500;
/// The longest input, in octets.
const LONGEST: usize = 4096;

/// The inputs kept in the tree for a target.
fn kept(target: &str) -> Vec<(PathBuf, Vec<u8>)> {
    let place = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz");
    let mut inputs = Vec::new();
    for folder in ["seeds", "found"].map(|name| place.join(name).join(target)) {
        let Ok(files) = std::fs::read_dir(&folder) else { continue };
        for file in files.flatten() {
            inputs.push((file.path(), std::fs::read(file.path()).expect("a readable input")));
        }
    }
    inputs.sort();
    inputs
}

/// Octets that parsers care for.
const MEANINGFUL: [&[u8]; 24] = [
    b"\"",
    b",",
    b";",
    b"\n",
    b"\r",
    b"\t",
    b"{",
    b"}",
    b"[",
    b"]",
    b":",
    b"-",
    b".",
    b"e",
    b"null",
    b"NaN",
    b"1e999",
    b"\xEF\xBB\xBF",
    b"\xFF\xFE",
    b"9999999999999",
    b"2026-03-29 02:30",
    b"\0",
    b"\xFF\xFF",
    b"\x80",
];

fn changed(inputs: &[(PathBuf, Vec<u8>)], draw: &mut Pcg64) -> Vec<u8> {
    let below = |draw: &mut Pcg64, end: usize| usize::try_from(draw.next_u64() % end.max(1) as u64).unwrap_or(0);
    let mut input = inputs[below(draw, inputs.len())].1.clone();
    for _ in 0..=below(draw, 6) {
        let at = below(draw, input.len() + 1);
        match draw.next_u32() % 8 {
            0 if at < input.len() => input[at] ^= 1 << below(draw, 8),
            1 if at < input.len() => input[at] = below(draw, 256) as u8,
            2 => drop(input.drain(at..(at + below(draw, 16)).min(input.len()))),
            3 => input.truncate(at),
            4 => drop(input.splice(at..at, (0..below(draw, 24)).map(|_| below(draw, 256) as u8).collect::<Vec<_>>())),
            5 => drop(input.splice(at..at, MEANINGFUL[below(draw, MEANINGFUL.len())].iter().copied())),
            6 => {
                let end = (at + below(draw, 200)).min(input.len());
                let copied = input[at..end].to_vec();
                drop(input.splice(at..at, copied));
            }
            _ => {
                let other = &inputs[below(draw, inputs.len())].1;
                let from = below(draw, other.len() + 1);
                drop(input.splice(at.., other[from..].iter().copied()));
            }
        }
    }
    input.truncate(LONGEST);
    input
}

fn run(name: &str) {
    let (_, target) = TARGETS.iter().find(|(known, _)| *known == name).expect("a target of this name");
    let inputs = kept(name);
    assert!(!inputs.is_empty(), "no seeds for {name}");
    for (path, input) in &inputs {
        let held = std::panic::catch_unwind(|| target(input));
        assert!(held.is_ok(), "fails on {}", path.display());
    }
    let runs = std::env::var("EBBSTEAD_FUZZ_RUNS").ok().and_then(|text| text.parse().ok()).unwrap_or(RUNS);
    let mut draw = Pcg64::new(0x000e_bb57_ead0, 0x0a02_bdbf_7bb3_c0a7_ac28_fa16_a64a_bf96);
    for number in 0..runs {
        let input = changed(&inputs, &mut draw);
        let held = std::panic::catch_unwind(|| target(&input));
        assert!(held.is_ok(), "{name}, input {number}: {:?}", String::from_utf8_lossy(&input));
    }
}

macro_rules! targets {
    ($($name:ident),+) => {
        $(#[test] fn $name() { run(stringify!($name)); })+

        #[test]
        fn every_target_is_run() {
            assert_eq!(TARGETS.map(|(name, _)| name).as_slice(), [$(stringify!($name)),+]);
        }
    };
}

targets!(csv, table, fhir, bluetooth, times, units, settings, entries, prompts, carried, sealed);

/// The property about confirmed lows is asked of octets that hold one, not of none.
#[test]
fn confirmed_lows_are_among_what_is_asked() {
    let inputs = kept("prompts");
    let seed = |name: &str| &inputs.iter().find(|(path, _)| path.ends_with(name)).expect("the seed").1;
    assert!(asked_at_a_confirmed_low(seed("low-confirmed")));
    assert!(!asked_at_a_confirmed_low(seed("rescued")));
    let mut draw = Pcg64::new(7, 7);
    let count = (0..400).filter(|_| asked_at_a_confirmed_low(&changed(&inputs, &mut draw))).count();
    assert!(count > 10, "{count}");
}
