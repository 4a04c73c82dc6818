//! What is depended on: each package has its reason in DEVELOPERS.md, and none speaks to a network.
#![allow(clippy::unwrap_used, clippy::expect_used)] // a file that cannot be read is a failed test

use std::collections::BTreeSet;
use std::fs;

use ebbstead_tests::tree::{files, read};

/// The packages named in the table of DEVELOPERS.md, each with what it is for.
fn reasons() -> Vec<(String, String)> {
    let text = read("DEVELOPERS.md");
    let table = text.split("## What each dependency is for").nth(1).expect("the table of dependencies");
    let rows =
        table.lines().skip_while(|line| !line.starts_with("|--")).skip(1).take_while(|line| line.starts_with('|'));
    rows.flat_map(|row| {
        let mut cells = row.split('|').skip(1).map(str::trim);
        let (names, reason) = (cells.next().unwrap_or_default(), cells.next().unwrap_or_default().to_owned());
        names.split(',').map(|name| (name.trim().to_owned(), reason.clone())).collect::<Vec<_>>()
    })
    .collect()
}

/// The packages of `[workspace.dependencies]`.
fn depended_on() -> BTreeSet<String> {
    let text = read("Cargo.toml");
    let section = text.split("[workspace.dependencies]").nth(1).expect("the section").split("\n[").next().unwrap();
    let names = section.lines().filter(|line| !line.starts_with('#')).filter_map(|line| line.split_once('='));
    names.map(|(name, _)| name.trim().to_owned()).filter(|name| !name.starts_with("ebbstead")).collect()
}

#[test]
fn every_dependency_has_its_reason_and_every_reason_its_dependency() {
    let reasons = reasons();
    let explained: BTreeSet<String> = reasons.iter().map(|(name, _)| name.clone()).collect();
    assert_eq!(explained.len(), reasons.len(), "a package is named twice");
    assert!(reasons.iter().all(|(_, reason)| reason.len() > 10), "a reason is missing: {reasons:?}");
    let used = depended_on();
    assert!(used.len() > 10);
    let (unsaid, unused): (Vec<_>, Vec<_>) =
        (used.difference(&explained).collect(), explained.difference(&used).collect());
    assert!(unsaid.is_empty(), "without a reason in DEVELOPERS.md: {unsaid:?}");
    assert!(unused.is_empty(), "in DEVELOPERS.md and not in Cargo.toml: {unused:?}");
}

#[test]
fn members_take_their_dependencies_from_the_workspace() {
    let workspace = read("Cargo.toml");
    let members = workspace.split("members = [").nth(1).expect("the members").split(']').next().unwrap();
    for member in members.split('"').skip(1).step_by(2) {
        let text = read(&format!("{member}/Cargo.toml"));
        for section in text.split("\n[").filter(|section| section.split(']').next().unwrap().ends_with("dependencies"))
        {
            let lines = section.lines().skip(1).filter(|line| line.contains('=') && !line.starts_with('#'));
            for line in lines {
                assert!(line.contains("workspace = true"), "{member}: {line:?} names a version of its own");
            }
        }
    }
}

/// The same list that `cargo deny` is given, against the lock file: this needs no tool, so it runs everywhere.
#[test]
fn nothing_in_the_lock_file_speaks_to_a_network() {
    let deny = read("deny.toml");
    let list = deny.split("\ndeny = [").nth(1).expect("the list of what is denied").split(']').next().unwrap();
    let denied: BTreeSet<&str> = list.split('"').skip(1).step_by(2).collect();
    assert!(denied.len() > 20 && denied.contains("reqwest"));
    let lock = read("Cargo.lock");
    let locked: BTreeSet<&str> =
        lock.lines().filter_map(|line| line.strip_prefix("name = \"")?.strip_suffix('"')).collect();
    assert!(locked.len() > 50 && locked.contains("rusqlite"));
    let found: Vec<_> = locked.intersection(&denied).collect();
    assert!(found.is_empty(), "{found:?}");
}

/// The standard library's own sockets are not used either.
#[test]
fn no_source_of_the_product_opens_a_socket() {
    let files = files(&["core", "bindings/ffi/src", "bindings/terminal/src"], &["rs"]);
    for path in &files {
        let text = fs::read_to_string(path).unwrap();
        for socket in ["std::net", "TcpStream", "UdpSocket", "UnixStream", "ToSocketAddrs"] {
            assert!(!text.contains(socket), "{}: {socket}", path.display());
        }
    }
    assert!(files.len() > 80, "{}", files.len());
}
