//! Packs the files of words: each `i18n/TAG.ftl` is one language, and nothing else in the sources knows which there are.
//!
//! All go into one piece, message by message, what each language says of it side by side, under a number made of its name: so no
//! name is carried, and what is alike lies near enough for deflate to see. `words/catalogue.rs` takes a language out of it again.
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

use packing::{BEHIND, BETWEEN, id, number};

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
    tags.sort_by_key(|tag| (tag != FIRST, tag.clone()));
    if tags.first().is_none_or(|tag| tag != FIRST) {
        return Err(format!("{}: there is no {FIRST}.ftl", folder.display()).into());
    }
    let words: Vec<String> = tags.iter().map(|tag| words(&folder, tag)).collect::<Result<_, _>>()?;
    let rows: Vec<String> = tags.iter().zip(&words).map(|(tag, words)| row(tag, words)).collect::<Result<_, _>>()?;
    fs::write(out.join("languages.rs"), format!("[\n{}]\n", rows.concat()))?;
    let all = side_by_side(&words)?;
    fs::write(out.join("octets.rs"), all.len().to_string())?;
    fs::write(out.join("words.packed"), miniz_oxide::deflate::compress_to_vec(all.as_bytes(), LEVEL))?;
    Ok(())
}

/// The words of a file, without comments.
fn words(folder: &Path, tag: &str) -> Result<String, Box<dyn Error>> {
    let text = fs::read_to_string(folder.join(tag).with_extension("ftl"))?.replace("\r\n", "\n");
    if text.contains(BETWEEN) || text.contains(BEHIND) {
        return Err(format!("{tag}.ftl: has control characters").into());
    }
    // Only a comment begins with this sign in the first column.
    Ok(text.split_inclusive('\n').filter(|line| !line.starts_with('#')).collect())
}

/// Each message once: the number of its name, then what follows the name in each language, nothing where it lacks the message.
fn side_by_side(words: &[String]) -> Result<String, Box<dyn Error>> {
    let each: Vec<Vec<(&str, &str)>> = words.iter().map(|words| messages(words)).collect();
    let by_name: Vec<BTreeMap<&str, &str>> = each.iter().map(|all| all.iter().copied().collect()).collect();
    let mut all = String::new();
    let mut there = BTreeMap::new();
    for (name, _) in each.iter().flatten() {
        let number = number(name);
        match there.insert(number, *name) {
            None => all.push_str(&id(number)),
            Some(before) if before == *name => continue,
            Some(before) => return Err(format!("{before} and {name} have one number: rename one").into()),
        }
        for language in &by_name {
            all.push(BETWEEN);
            all.push_str(language.get(name).unwrap_or(&""));
        }
        all.push(BEHIND);
    }
    Ok(all)
}

/// The messages of a file, by name, with all that follows the name. A message begins in the first column, what belongs to it does not.
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
            message.split_at(message.find([' ', '=']).unwrap_or(message.len()))
        })
        .collect()
}

/// As `Language::parse` takes it, written as a log keeps it.
fn is_tag(tag: &str) -> bool {
    (2..=8).contains(&tag.len()) && tag.bytes().all(|letter| letter.is_ascii_lowercase())
}

/// A language's row of the table.
fn row(tag: &str, words: &str) -> Result<String, Box<dyn Error>> {
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
        "Spoken {{ tag: {tag:?}, name: {:?}, draft: {:?}, decimal_mark: {:?}, group_mark: {:?} }},\n",
        must("language-name")?,
        own("language-draft"),
        mark("number-decimal-mark")?,
        mark("number-group-mark")?,
    ))
}
