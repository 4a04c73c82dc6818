//! What the pages for contributors name is there: each source and script that stands in code, with or without arguments.

use ebbstead_tests::tree::{files, read, root};

/// What a source or a script of ours ends in.
const ENDINGS: [&str; 6] = ["rs", "py", "sh", "ftl", "kt", "swift"];
/// Names that stand for any file of their kind.
const EXAMPLES: [&str; 4] = ["NN-name.sh", "core/present/i18n/TAG.ftl", "pt.ftl", "tests/fit/*.py"];

/// The pages that are held to it.
fn pages() -> Vec<String> {
    let root = root();
    let below = files(&["core/docs", "tests/docs", "tests/situations"], &["md"]).into_iter();
    let below = below.map(|path| path.strip_prefix(&root).map(|path| path.display().to_string()).unwrap_or_default());
    ["README.md", "DEVELOPERS.md"].map(str::to_owned).into_iter().chain(below).collect()
}

/// The words of a page that stand in code, between backticks or in a block of it.
fn in_code(page: &str) -> Vec<String> {
    let mut words = Vec::new();
    for (block, text) in page.split("```").enumerate() {
        let code: Vec<&str> = if block % 2 == 1 { vec![text] } else { text.split('`').skip(1).step_by(2).collect() };
        let is_between = |sign: char| sign.is_whitespace() || "()=,;:\"'".contains(sign);
        words.extend(code.into_iter().flat_map(|code| code.split(is_between)).map(str::to_owned));
    }
    words
}

#[test]
fn every_source_and_script_that_the_pages_name_is_there() {
    let folders = ["core", "bindings", "android-sample", "ios-sample", "tests", ".ci", ".github"];
    let there: Vec<String> =
        files(&folders, &ENDINGS).iter().map(|path| format!("/{}", path.display()).replace('\\', "/")).collect();
    let (mut named, mut missing) = (0, Vec::new());
    for page in pages() {
        for word in in_code(&read(&page)) {
            let is_ours = word.rsplit_once('.').is_some_and(|(_, ending)| ENDINGS.contains(&ending));
            if is_ours && !EXAMPLES.contains(&word.as_str()) {
                named += 1;
                if !there.iter().any(|path| path.ends_with(&format!("/{word}"))) {
                    missing.push(format!("{page}: {word}"));
                }
            }
        }
    }
    assert!(named > 100, "{named}");
    assert!(missing.is_empty(), "not there: {missing:#?}");
}
