//! The safety case and the threat page name tests: each of them has to be there, and be a test.
#![allow(clippy::unwrap_used)] // a page that cannot be read is a failed test

use std::fs;
use std::path::{Path, PathBuf};

use ebbstead_tests::tree::{files, read, root};

/// Every Rust file of the tree, with its text.
fn sources() -> Vec<(PathBuf, String)> {
    let files = files(&["core", "bindings/ffi", "bindings/terminal", "tests/src", "tests/tests"], &["rs"]);
    files
        .into_iter()
        .map(|path| {
            let text = fs::read_to_string(&path).unwrap();
            (path, text)
        })
        .collect()
}

/// What a page names as `place::test`.
fn named(page: &str) -> Vec<(String, String)> {
    let text = read(&format!("core/docs/{page}"));
    let quoted = text.split('`').skip(1).step_by(2).map(|quoted| quoted.replace('\n', ""));
    quoted
        .filter_map(|quoted| quoted.split_once("::").map(|(place, test)| (place.to_owned(), test.to_owned())))
        .collect()
}

/// Whether a file belongs to a place: the name of the file or of a folder it is in.
fn belongs(path: &Path, place: &str) -> bool {
    path.iter().any(|part| part == place || Path::new(part).file_stem().is_some_and(|stem| stem == place))
}

/// Whether a text has a test of this name: a function with the attribute in front, or one that a list of targets makes.
fn has_test(text: &str, test: &str) -> bool {
    let Some((before, _)) = text.split_once(&format!("fn {test}(")) else {
        return text.lines().any(|line| line.starts_with("targets!(") && line.contains(test));
    };
    let lines = before.lines().rev().take(12);
    lines.take_while(|line| !line.starts_with("    }") && !line.starts_with('}')).any(|line| line.contains("#[test]"))
}

#[test]
fn every_test_that_the_pages_name_is_there() {
    let sources = sources();
    for (page, least) in [("safety-case.md", 70), ("threats.md", 25)] {
        let named = named(page);
        assert!(named.len() > least, "{page}: {}", named.len());
        let missing: Vec<String> = named
            .iter()
            .filter(|(place, test)| !sources.iter().any(|(path, text)| belongs(path, place) && has_test(text, test)))
            .map(|(place, test)| format!("{place}::{test}"))
            .collect();
        assert!(missing.is_empty(), "{page} names what is not there: {missing:#?}");
    }
}

#[test]
fn every_hazard_says_what_stands_against_it_what_shows_it_and_what_remains() {
    let text = read("core/docs/safety-case.md");
    let hazards: Vec<&str> = text.split("\n## ").skip(1).collect();
    assert!(hazards.len() >= 16);
    for hazard in hazards {
        let name = hazard.lines().next().unwrap();
        for part in ["*Hazardous situation:*", "*Harm:*", "\n- ", "Shown by:", "*Residual risk:*"] {
            assert!(hazard.replace("\n*Harm", " *Harm").contains(part), "{name}: no {part}");
        }
    }
    assert!(text.contains("no medical device") && text.contains("no regulatory clearance"));
}

#[test]
fn the_steps_that_the_pages_name_are_there() {
    let mut steps = 0;
    for page in ["safety-case.md", "threats.md"] {
        let text = read(&format!("core/docs/{page}"));
        for step in text.split('`').skip(1).step_by(2).filter(|quoted| quoted.starts_with(|c: char| c.is_ascii_digit()))
        {
            steps += 1;
            assert!(root().join(format!(".ci/steps/{step}.sh")).exists(), "{page}: {step}");
        }
    }
    assert!(steps >= 2);
}
