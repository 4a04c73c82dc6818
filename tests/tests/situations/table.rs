//! Reads the tables of `tests/situations`: Markdown, one row a situation.

use std::fs;
use std::path::Path;

use super::row::Row;

const COLUMNS: [&str; 7] = ["what happened", "readings", "added", "asked", "acceptable", "the danger", "shortfall"];

/// The table of what is asked ahead; its questions and answers are others.
pub const AHEAD: &str = "before.md";

/// All rows of all tables but that, in the order of the files' names.
///
/// # Panics
/// Where a file or a row cannot be read: file, row and reason are said.
pub fn rows() -> Vec<Row> {
    read(|file| file != AHEAD, Row::read)
}

/// The rows of some tables, each read as said.
///
/// # Panics
/// As [`rows`].
pub fn read<R>(is_asked: impl Fn(&str) -> bool, read_row: impl Fn(&str, [&str; 7]) -> Result<R, String>) -> Vec<R> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("situations");
    let mut files: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.retain(|path| path.extension().is_some_and(|ending| ending == "md") && !path.ends_with("README.md"));
    files.sort();
    let mut rows = Vec::new();
    for path in files {
        let file = path.file_name().unwrap().to_string_lossy().into_owned();
        if !is_asked(&file) {
            continue;
        }
        let text = fs::read_to_string(&path).unwrap();
        let mut lines = text.lines().enumerate().filter(|(_, line)| line.starts_with('|'));
        let (_, head) = lines.next().unwrap_or_else(|| panic!("{file} holds no table"));
        assert_eq!(cells(head), COLUMNS, "{file}: the columns");
        for (number, line) in lines.skip(1) {
            let row = <[&str; 7]>::try_from(cells(line))
                .map_err(|cells| format!("{} cells instead of {}", cells.len(), COLUMNS.len()))
                .and_then(|cells| read_row(&file, cells));
            rows.push(row.unwrap_or_else(|why| panic!("{file}, line {}: {why}", number + 1)));
        }
    }
    rows
}

fn cells(line: &str) -> Vec<&str> {
    line.trim().trim_start_matches('|').trim_end_matches('|').split('|').map(str::trim).collect()
}
