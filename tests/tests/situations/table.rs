//! Reads the tables of `tests/situations`: Markdown, one row a situation.

use std::fs;
use std::path::Path;

use crate::row::Row;

const COLUMNS: [&str; 7] = ["what happened", "readings", "added", "asked", "acceptable", "the danger", "shortfall"];

/// All rows of all tables, in the order of the files' names.
///
/// # Panics
/// Where a file or a row cannot be read: file, row and reason are said.
pub fn rows() -> Vec<Row> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("situations");
    let mut files: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.retain(|path| path.extension().is_some_and(|ending| ending == "md") && !path.ends_with("README.md"));
    files.sort();
    let mut rows = Vec::new();
    for path in files {
        let file = path.file_name().unwrap().to_string_lossy().into_owned();
        let text = fs::read_to_string(&path).unwrap();
        let mut lines = text.lines().enumerate().filter(|(_, line)| line.starts_with('|'));
        let (_, head) = lines.next().unwrap_or_else(|| panic!("{file} holds no table"));
        assert_eq!(cells(head), COLUMNS, "{file}: the columns");
        for (number, line) in lines.skip(1) {
            let row = <[&str; 7]>::try_from(cells(line))
                .map_err(|cells| format!("{} cells instead of {}", cells.len(), COLUMNS.len()))
                .and_then(|cells| Row::read(&file, cells));
            rows.push(row.unwrap_or_else(|why| panic!("{file}, line {}: {why}", number + 1)));
        }
    }
    rows
}

fn cells(line: &str) -> Vec<&str> {
    line.trim().trim_start_matches('|').trim_end_matches('|').split('|').map(str::trim).collect()
}
