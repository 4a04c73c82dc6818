//! The files of the project itself, for checks of the house against its own rules.
#![allow(clippy::expect_used, clippy::panic)] // a tree that cannot be read is a failed test

use std::fs;
use std::path::{Path, PathBuf};

/// The folder of the whole tree.
#[must_use]
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("tests/ lies in the tree").to_owned()
}

/// The files below some folders of the tree that end so, sorted; what is built (`target`, `build`) and hidden folders left out.
///
/// # Panics
/// Where a folder cannot be read.
#[must_use]
pub fn files(folders: &[&str], endings: &[&str]) -> Vec<PathBuf> {
    let mut out = Vec::new();
    let mut folders: Vec<PathBuf> = folders.iter().map(|one| root().join(one)).collect();
    while let Some(folder) = folders.pop() {
        for file in fs::read_dir(&folder).unwrap_or_else(|why| panic!("{}: {why}", folder.display())).flatten() {
            let (path, name) = (file.path(), file.file_name());
            let name = name.to_string_lossy();
            if path.is_dir() {
                if !["target", "build"].contains(&&*name) && !name.starts_with('.') {
                    folders.push(path);
                }
            } else if path.extension().is_some_and(|ending| endings.iter().any(|one| ending == *one)) {
                out.push(path);
            }
        }
    }
    out.sort();
    out
}

/// The text of a file of the tree, by its path from the root.
///
/// # Panics
/// Where it cannot be read.
#[must_use]
pub fn read(name: &str) -> String {
    fs::read_to_string(root().join(name)).unwrap_or_else(|why| panic!("{name}: {why}"))
}
