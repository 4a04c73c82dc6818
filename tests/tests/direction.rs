//! The house has one direction: each crate of `core` knows only those above it, and shells know the facade alone.
//!
//! Cargo already refuses a circle; this holds the order, by what Cargo itself says of the workspace.
#![allow(clippy::unwrap_used, clippy::expect_used)] // a workspace that cannot be read is a failed test

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::process::Command;

use ebbstead_tests::tree::{files, root};
use serde_json::Value;

/// From the top down: none may use one that stands after it.
const STACK: [&str; 5] = ["ebbstead-engine", "ebbstead-log", "ebbstead-insights", "ebbstead-present", "ebbstead-core"];

fn metadata() -> Value {
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let said = Command::new(cargo)
        .args(["metadata", "--format-version", "1", "--locked", "--offline"])
        .current_dir(root())
        .output()
        .unwrap();
    assert!(said.status.success(), "{}", String::from_utf8_lossy(&said.stderr));
    serde_json::from_slice(&said.stdout).unwrap()
}

fn text<'a>(of: &'a Value, key: &str) -> &'a str {
    of[key].as_str().unwrap_or_default()
}

/// What each of our packages is built on: by name, tests and build scripts aside.
fn built_on(metadata: &Value) -> BTreeMap<String, BTreeSet<String>> {
    let packages = metadata["packages"].as_array().unwrap().iter();
    let ours = packages.filter(|package| package["source"].is_null());
    ours.map(|package| {
        let named = package["dependencies"].as_array().unwrap().iter().filter(|one| one["kind"].is_null());
        (text(package, "name").to_owned(), named.map(|one| text(one, "name").to_owned()).collect())
    })
    .collect()
}

#[test]
fn each_crate_knows_only_those_above_it() {
    let built_on = built_on(&metadata());
    for (place, name) in STACK.into_iter().enumerate() {
        let ours: BTreeSet<&str> =
            built_on[name].iter().map(String::as_str).filter(|one| one.starts_with("ebbstead")).collect();
        let above: BTreeSet<&str> = STACK[..place].iter().copied().collect();
        assert!(ours.is_subset(&above), "{name} stands on {ours:?}, and may on {above:?}");
    }
    for shell in ["ebbstead", "ebbstead-ffi"] {
        let ours: Vec<&String> = built_on[shell].iter().filter(|one| one.starts_with("ebbstead")).collect();
        assert_eq!(ours, ["ebbstead-core"], "{shell}");
    }
    let known: BTreeSet<&str> = STACK.into_iter().chain(["ebbstead", "ebbstead-ffi", "ebbstead-tests"]).collect();
    let there: BTreeSet<&str> = built_on.keys().map(String::as_str).collect();
    assert_eq!(there, known, "a new package needs its place in the stack");
}

/// A user of the estimator alone builds no SQLite, no formats and no cryptography.
#[test]
fn the_engine_builds_neither_sqlite_nor_formats() {
    let metadata = metadata();
    let mut names = BTreeMap::new();
    for package in metadata["packages"].as_array().unwrap() {
        names.insert(text(package, "id"), text(package, "name"));
    }
    let mut uses: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for node in metadata["resolve"]["nodes"].as_array().unwrap() {
        let normal = |one: &&Value| one["dep_kinds"].as_array().unwrap().iter().any(|kind| kind["kind"].is_null());
        let deps = node["deps"].as_array().unwrap().iter().filter(normal).map(|one| text(one, "pkg"));
        uses.insert(text(node, "id"), deps.collect());
    }
    let engine = names.iter().find(|(_, name)| **name == STACK[0]).map(|(id, _)| *id).unwrap();
    let (mut seen, mut next) = (BTreeSet::new(), vec![engine]);
    while let Some(id) = next.pop() {
        if seen.insert(names[id]) {
            next.extend(&uses[id]);
        }
    }
    assert!(seen.contains("nalgebra") && seen.len() > 10, "{seen:?}");
    for heavy in ["rusqlite", "libsqlite3-sys", "age", "csv", "tempfile", "uuid", "serde_json"] {
        assert!(!seen.contains(heavy), "the engine builds {heavy}");
    }
}

/// No language below the crate that words: there, what was found is a code with numbers.
#[test]
fn formats_and_figures_know_no_language() {
    let files = files(&["core/log/src", "core/insights/src"], &["rs"]);
    for path in &files {
        let text = fs::read_to_string(path).unwrap();
        for word in ["Language::", "Words", "fn pick"] {
            assert!(!text.contains(word), "{}: {word}", path.display());
        }
    }
    assert!(files.len() > 70, "{}", files.len());
}

/// The first page of each crate, which is its read-me and the table of its modules, says what it decides and what it does not, with an
/// example that the documentation tests run.
#[test]
fn each_crate_has_a_first_page() {
    for folder in ["engine", "log", "insights", "present", "app"] {
        let folder = root().join("core").join(folder);
        let readme = fs::read_to_string(folder.join("README.md")).unwrap();
        let page = fs::read_to_string(folder.join("src/lib.rs")).unwrap();
        let folder = folder.display();
        assert!(
            page.starts_with("#![doc = include_str!(\"../README.md\")]\n"),
            "{folder}: the page leaves the read-me out"
        );
        assert!(page.contains("//! |---|"), "{folder}: no table of what it decides");
        let table: String = page.lines().filter(|line| line.starts_with("//! |")).collect();
        for module in page.lines().filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';')) {
            assert!(table.contains(&format!("[`{module}")), "{folder}: the table leaves {module} out");
        }
        assert!(readme.contains("## Example\n\n```rust\nuse ebbstead_"), "{folder}: no example");
        assert!(readme.contains("**Not a medical device.**"), "{folder}: no caution");
        assert!(
            ["does not", "decides nothing", "judges nothing", "has no "].iter().any(|one| readme.contains(one)),
            "{folder}"
        );
    }
}

/// What a file is, and which of it is taken, is asked of `import` alone; no shell of ours decides it beside that.
#[test]
fn shells_leave_a_files_format_to_core() {
    let readers = ["is_table", "table::Rows", "fhir::read", "fhir::each", "csv::Import", "Import::open", "detect("];
    for place in ["bindings/terminal/src", "bindings/ffi/src"] {
        let files = files(&[place], &["rs"]);
        for path in &files {
            let text = fs::read_to_string(path).unwrap();
            let found: Vec<_> = readers.iter().filter(|word| text.contains(**word)).collect();
            assert!(found.is_empty(), "{}: {found:?}", path.display());
        }
        assert!(files.len() > 5, "{place}");
    }
}

/// A file of tests that its target does not name would not be compiled, and be missing without a word.
#[test]
fn every_file_of_tests_is_part_of_a_target() {
    let targets = [
        ("core/log/tests", "store.rs"),
        ("core/app/tests", "facade.rs"),
        ("bindings/ffi/tests", "bindings.rs"),
        ("bindings/terminal/tests/terminal", "main.rs"),
        ("tests/tests", "outside.rs"),
    ];
    for (folder, target) in targets {
        let folder = root().join(folder);
        let text = fs::read_to_string(folder.join(target)).unwrap();
        let mut looked = 0;
        for file in fs::read_dir(&folder).unwrap().flatten() {
            let path = file.path();
            let is_module = path.join("mod.rs").exists() || path.extension().is_some_and(|ending| ending == "rs");
            let name = path.file_stem().unwrap().to_str().unwrap();
            if is_module && !path.ends_with(target) {
                looked += 1;
                assert!(text.lines().any(|line| line == format!("mod {name};")), "{target} does not name {name}");
            }
        }
        assert!(looked > 4, "{}: {looked}", folder.display());
    }
}
