//! Packs the files of words: each `i18n/TAG.ftl` is one language, and nothing else in the sources knows which there are.
//!
//! A language is one piece, message by message in one order for all, without their names: a number made of each name stands once, in
//! that order, for all languages. `words/catalogue.rs` puts both together again.
//!
//! What a language says of itself is read here, so that a file that lacks it does not build: its own name (`language-name`), the
//! marks in its numbers (`number-decimal-mark`, `number-group-mark`), and, in a draft alone, how it says so (`language-draft`).

#![allow(clippy::print_stdout)] // how a build script names what Cargo must watch

use std::collections::BTreeMap;
use std::error::Error;
use std::path::{Path, PathBuf};
use std::{env, fs};

#[path = "src/words/packing.rs"]
mod packing;

use packing::{BEHIND, number};

/// The language that others fall back to; it stands first.
const FIRST: &str = "en";

/// As small as it gets: it is packed once a build.
const LEVEL: u8 = 10;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = PathBuf::from(env::var("CARGO_MANIFEST_DIR")?).join("i18n");
    let out = PathBuf::from(env::var("OUT_DIR")?);
    // A folder is looked through as a whole: a file that is added or taken away counts too.
    println!("cargo:rerun-if-changed={}", folder.display());
    println!("cargo:rerun-if-changed=build.rs");
    println!("cargo:rerun-if-changed=src/words/packing.rs");

    let mut tags = Vec::new();
    for file in fs::read_dir(&folder)? {
        let path = file?.path();
        match (path.file_stem().and_then(|stem| stem.to_str()), path.extension().and_then(|end| end.to_str())) {
            (Some(tag), Some("ftl")) if is_tag(tag) => tags.push(tag.to_owned()),
            _ => return Err(format!("{}: a language is a file TAG.ftl", path.display()).into()),
        }
    }
    tags.sort_unstable_by_key(|tag| (tag != FIRST, tag.clone()));
    if tags.first().is_none_or(|tag| tag != FIRST) {
        return Err(format!("{}: there is no {FIRST}.ftl", folder.display()).into());
    }
    let words: Vec<String> = tags.iter().map(|tag| words(&folder, tag)).collect::<Result<_, _>>()?;
    let each: Vec<Vec<(&str, &str)>> = words.iter().map(|words| messages(words)).collect();
    let names = names(&each)?;
    let numbers: Vec<String> = names.iter().map(|name| number(name).to_string()).collect();
    fs::write(out.join("numbers.rs"), format!("[{}]\n", numbers.join(",")))?;
    let mut rows = String::new();
    for ((tag, words), messages) in tags.iter().zip(&words).zip(&each) {
        let by_name: BTreeMap<&str, &str> = messages.iter().copied().collect();
        let all: String =
            names.iter().flat_map(|name| [by_name.get(name).copied().unwrap_or_default(), BEHIND]).collect();
        rows += &row(tag, words, all.len())?;
        fs::write(
            out.join(tag).with_extension("packed"),
            miniz_oxide::deflate::compress_to_vec(all.as_bytes(), LEVEL),
        )?;
    }
    fs::write(out.join("languages.rs"), format!("[\n{rows}]\n"))?;
    Ok(())
}

/// The words of a file, without comments.
fn words(folder: &Path, tag: &str) -> Result<String, Box<dyn Error>> {
    let text = fs::read_to_string(folder.join(tag).with_extension("ftl"))?.replace("\r\n", "\n");
    if text.contains(BEHIND) {
        return Err(format!("{tag}.ftl: has control characters").into());
    }
    // Only a comment begins with this sign in the first column.
    Ok(text.split_inclusive('\n').filter(|line| !line.starts_with('#')).collect())
}

/// The names of all messages, each once, in the first language's order; no two have one number.
fn names<'a>(each: &[Vec<(&'a str, &'a str)>]) -> Result<Vec<&'a str>, Box<dyn Error>> {
    let mut names = Vec::new();
    let mut there = BTreeMap::new();
    for (name, _) in each.iter().flatten() {
        match there.insert(number(name), *name) {
            None => names.push(*name),
            Some(before) if before == *name => {}
            Some(before) => return Err(format!("{before} and {name} have one number: rename one").into()),
        }
    }
    Ok(names)
}

/// The messages of a file, by name, with what they say. A message begins in the first column, what belongs to it does not.
fn messages(words: &str) -> Vec<(&str, &str)> {
    let begins = |line: &str| line.starts_with(|sign: char| sign.is_ascii_alphabetic() || sign == '-');
    let mut starts: Vec<usize> = Vec::new();
    let mut at = 0;
    for line in words.split_inclusive('\n') {
        if begins(line) {
            starts.push(at);
        }
        at += line.len();
    }
    let ends = starts.iter().skip(1).copied().chain([words.len()]);
    starts
        .iter()
        .zip(ends)
        .map(|(start, end)| {
            let message = words[*start..end].trim_end();
            let (name, said) = message.split_once('=').unwrap_or((message, ""));
            (name.trim_end(), said.trim_start_matches(' '))
        })
        .collect()
}

/// As `Language::parse` takes it, written as a log keeps it.
fn is_tag(tag: &str) -> bool {
    (2..=8).contains(&tag.len()) && tag.bytes().all(|letter| letter.is_ascii_lowercase())
}

/// A language's row of the table.
fn row(tag: &str, words: &str, octets: usize) -> Result<String, Box<dyn Error>> {
    let own = |name: &str| {
        let line = words.lines().find_map(|line| line.strip_prefix(name)?.trim_start().strip_prefix('='));
        line.map(str::trim_ascii).filter(|words| !words.is_empty())
    };
    let must = |name: &str| own(name).ok_or_else(|| format!("{tag}.ftl: there is no {name} on one line"));
    let mark = |name: &str| -> Result<char, String> {
        let mut signs = must(name)?.chars();
        match (signs.next(), signs.next()) {
            (Some(mark), None) => Ok(mark),
            _ => Err(format!("{tag}.ftl: {name} is not one sign")),
        }
    };
    Ok(format!(
        "Spoken {{ tag: {tag:?}, name: {:?}, draft: {:?}, decimal_mark: {:?}, group_mark: {:?}, octets: {octets}, \
         packed: include_bytes!(concat!(env!(\"OUT_DIR\"), \"/{tag}.packed\")) }},\n",
        must("language-name")?,
        own("language-draft"),
        mark("number-decimal-mark")?,
        mark("number-group-mark")?,
    ))
}
