//! Reading sources as text: their files, their code without tests and comments, the texts in it.

use std::fs;
use std::path::{Path, PathBuf};

use ebbstead_tests::tree;
pub use ebbstead_tests::tree::root;

/// A text in a source.
pub struct Literal {
    /// Its line, from 1.
    pub line: usize,
    /// What it holds, escapes undone as far as a scan needs.
    pub text: String,
}

/// Folders that hold no code of ours that a person is shown: tests, what is generated, what is built.
const NOT_LOOKED_INTO: [&str; 7] = ["tests", "test", "Tests", "generated", "benches", "examples", "androidTest"];

/// The files below some folders that end so and hold what a person is shown.
pub fn files(folders: &[&str], endings: &[&str]) -> Vec<PathBuf> {
    let root = root();
    let is_looked_into = |path: &PathBuf| {
        let mut below = path.strip_prefix(&root).unwrap().iter();
        !path.ends_with("tests.rs") && !below.any(|part| NOT_LOOKED_INTO.iter().any(|one| part == *one))
    };
    tree::files(folders, endings).into_iter().filter(is_looked_into).collect()
}

/// The code of a file, up to its tests, comments left out.
pub fn code(path: &Path) -> String {
    let text = fs::read_to_string(path).unwrap();
    let signs: Vec<char> = text.split("#[cfg(test)]").next().unwrap().chars().collect();
    let (mut out, mut at) = (String::new(), 0);
    while at < signs.len() {
        let next = skipped(&signs, at);
        let piece: String = signs[at..next].iter().collect();
        if piece.starts_with("//") || piece.starts_with("/*") {
            out.extend(piece.chars().filter(|sign| *sign == '\n'));
        } else {
            out.push_str(&piece);
        }
        at = next;
    }
    out
}

/// The texts between quotation marks, comments left out.
pub fn literals(text: &str) -> Vec<Literal> {
    let signs: Vec<char> = text.chars().collect();
    let (mut out, mut at, mut line) = (Vec::new(), 0, 1);
    while at < signs.len() {
        let next = skipped(&signs, at);
        let piece = &signs[at..next];
        if let Some(held) = held(piece) {
            out.push(Literal { line, text: held });
        }
        line += piece.iter().filter(|sign| **sign == '\n').count();
        at = next;
    }
    out
}

/// What a piece of code holds, if it is a text.
fn held(piece: &[char]) -> Option<String> {
    let whole: String = piece.iter().collect();
    if let Some(raw) = whole.strip_prefix('r') {
        return Some(raw.trim_matches('#').strip_prefix('"')?.strip_suffix('"')?.to_owned());
    }
    if whole.starts_with("\"\"\"") {
        return Some(whole.trim_matches('"').to_owned());
    }
    let inner = whole.strip_prefix('"')?.strip_suffix('"')?;
    let mut out = String::new();
    let mut signs = inner.chars().peekable();
    while let Some(sign) = signs.next() {
        if sign != '\\' {
            out.push(sign);
            continue;
        }
        match signs.next() {
            // A line that goes on: the space before its rest is no part of the text.
            Some('\n') => while signs.next_if(|sign| sign.is_whitespace()).is_some() {},
            Some('n' | 't') => out.push(' '),
            Some(other) => out.push(other),
            None => {}
        }
    }
    Some(out)
}

/// The end of the comment, text, letter or single sign that starts here.
fn skipped(signs: &[char], at: usize) -> usize {
    let starts = |with: &str| with.chars().enumerate().all(|(k, sign)| signs.get(at + k) == Some(&sign));
    let find = |from: usize, with: &str| {
        let with: Vec<char> = with.chars().collect();
        (from..signs.len()).find(|k| signs[*k..].starts_with(&with)).map_or(signs.len(), |k| k + with.len())
    };
    if starts("//") {
        return find(at, "\n").saturating_sub(1).max(at + 1);
    }
    if starts("/*") {
        return find(at + 2, "*/");
    }
    let before = at.checked_sub(1).and_then(|k| signs.get(k));
    let apart = before.is_none_or(|sign| !sign.is_alphanumeric() && *sign != '_');
    if apart && (starts("r\"") || starts("r#\"") || starts("r##\"")) {
        let marks = signs[at + 1..].iter().take_while(|sign| **sign == '#').count();
        return find(at + 2 + marks, &format!("\"{}", "#".repeat(marks)));
    }
    if starts("\"\"\"") {
        return find(at + 3, "\"\"\"");
    }
    if starts("\"") {
        let mut end = at + 1;
        while end < signs.len() && signs[end] != '"' {
            end += if signs[end] == '\\' { 2 } else { 1 };
        }
        return (end + 1).min(signs.len());
    }
    if starts("'\\") {
        return find(at + 3, "'");
    }
    if starts("'") && signs.get(at + 2) == Some(&'\'') {
        return at + 3;
    }
    at + 1
}

/// The arguments of a call, from behind its bracket; nothing where it never closes.
pub fn arguments(text: &str) -> Option<Vec<String>> {
    let signs: Vec<char> = text.chars().collect();
    let (mut out, mut now, mut depth, mut at) = (Vec::new(), String::new(), 0, 0);
    while at < signs.len() {
        let next = skipped(&signs, at);
        let piece: String = signs[at..next].iter().collect();
        at = next;
        match piece.as_str() {
            ")" if depth == 0 => {
                out.push(now);
                return Some(out.iter().map(|one| one.trim().to_owned()).filter(|one| !one.is_empty()).collect());
            }
            "," if depth == 0 => out.push(std::mem::take(&mut now)),
            piece => {
                depth += match piece {
                    "(" | "[" | "{" => 1,
                    ")" | "]" | "}" => -1,
                    _ => 0,
                };
                now.push_str(piece);
            }
        }
    }
    None
}
