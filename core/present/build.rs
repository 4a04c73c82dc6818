//! Packs the files of words: each `i18n/TAG.ftl` is one language, and nothing else in the sources knows which there are.
//!
//! What a language says of itself is read here, so that a file that lacks it does not build: its own name (`language-name`), the
//! marks in its numbers (`number-decimal-mark`, `number-group-mark`), and, in a draft alone, how it says so (`language-draft`).

#![allow(clippy::print_stdout)] // how Cargo is told what to look at again

use std::error::Error;
use std::path::{Path, PathBuf};
use std::{env, fs};

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
    let languages: Vec<String> = tags.iter().map(|tag| pack(&folder, &out, tag)).collect::<Result<_, _>>()?;
    fs::write(out.join("languages.rs"), format!("[\n{}]\n", languages.concat()))?;
    Ok(())
}

/// As `Language::parse` takes it, written as a log keeps it.
fn is_tag(tag: &str) -> bool {
    (2..=8).contains(&tag.len()) && tag.bytes().all(|letter| letter.is_ascii_lowercase())
}

/// Packs a file; its row of the table.
fn pack(folder: &Path, out: &Path, tag: &str) -> Result<String, Box<dyn Error>> {
    let text = fs::read_to_string(folder.join(tag).with_extension("ftl"))?.replace("\r\n", "\n");
    // Only a comment begins with this sign in the first column.
    let words: String = text.split_inclusive('\n').filter(|line| !line.starts_with('#')).collect();
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
    let row = format!(
        "Spoken {{ tag: {tag:?}, name: {:?}, draft: {:?}, decimal_mark: {:?}, group_mark: {:?}, octets: {}, \
         packed: include_bytes!(concat!(env!(\"OUT_DIR\"), \"/{tag}.packed\")) }},\n",
        must("language-name")?,
        own("language-draft"),
        mark("number-decimal-mark")?,
        mark("number-group-mark")?,
        words.len(),
    );
    fs::write(out.join(tag).with_extension("packed"), miniz_oxide::deflate::compress_to_vec(words.as_bytes(), LEVEL))?;
    Ok(row)
}
