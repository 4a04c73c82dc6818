//! Every word that a person reads stands in one file a language, and each of those files has them all.
//!
//! What a file holds is read by Project Fluent's own parser; what the code asks for is looked up in the sources.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // a file that cannot be read is a failed test

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use fluent_syntax::ast::{CallArguments, Entry, Expression, InlineExpression, Pattern, PatternElement};

mod sources;

use sources::{Literal, code, files, literals, root};

/// The language that others are measured by, and in which a message is said that they lack.
const FIRST: &str = "en";
/// Names of things that core makes itself (`named` of `core/present/src/words/catalogue.rs`): such a message is the English name,
/// written as a name of a message.
const NAMED: [&str; 1] = ["quantity"];

/// What a language says of itself, read where the files are packed (`core/present/build.rs`).
const OF_ITSELF: [&str; 3] = ["language-name", "number-decimal-mark", "number-group-mark"];
/// How a language says that it is a draft; it is in no other file.
const DRAFT: &str = "language-draft";

/// A file of words: each message with what it takes.
fn messages(language: &str) -> BTreeMap<String, BTreeSet<String>> {
    let path = root().join("core/present/i18n").join(language).with_extension("ftl");
    read(language, &fs::read_to_string(&path).unwrap())
}

fn read(language: &str, text: &str) -> BTreeMap<String, BTreeSet<String>> {
    let resource = fluent_syntax::parser::parse(text).unwrap_or_else(|(_, errors)| panic!("{language}: {errors:?}"));
    let mut out = BTreeMap::new();
    for entry in resource.body {
        match entry {
            Entry::Message(message) => {
                assert!(message.attributes.is_empty(), "{language}: {}: an attribute is never read", message.id.name);
                let pattern = message.value.unwrap_or_else(|| panic!("{language}: {} says nothing", message.id.name));
                let mut takes = BTreeSet::new();
                taken(&pattern, &mut takes);
                let before = out.insert(message.id.name.to_owned(), takes);
                assert!(before.is_none(), "{language}: {} is there twice", message.id.name);
            }
            Entry::Term(term) => panic!("{language}: -{}: a term's arguments are not looked at here", term.id.name),
            Entry::Junk { content } => panic!("{language}: not to be read: {content}"),
            Entry::Comment(_) | Entry::GroupComment(_) | Entry::ResourceComment(_) => {}
        }
    }
    out
}

fn taken(pattern: &Pattern<&str>, out: &mut BTreeSet<String>) {
    for element in &pattern.elements {
        if let PatternElement::Placeable { expression } = element {
            match expression {
                Expression::Inline(inline) => taken_inline(inline, out),
                Expression::Select { selector, variants } => {
                    taken_inline(selector, out);
                    variants.iter().for_each(|variant| taken(&variant.value, out));
                }
            }
        }
    }
}

fn taken_inline(inline: &InlineExpression<&str>, out: &mut BTreeSet<String>) {
    match inline {
        InlineExpression::VariableReference { id } => {
            out.insert(id.name.to_owned());
        }
        InlineExpression::FunctionReference { arguments: CallArguments { positional, .. }, .. } => {
            positional.iter().for_each(|one| taken_inline(one, out));
        }
        InlineExpression::Placeable { expression } => {
            if let Expression::Inline(inline) = expression.as_ref() {
                taken_inline(inline, out);
            }
        }
        InlineExpression::StringLiteral { .. } | InlineExpression::NumberLiteral { .. } => {}
        InlineExpression::MessageReference { id, .. } | InlineExpression::TermReference { id, .. } => {
            panic!("{}: what another message takes is not looked at here", id.name)
        }
    }
}

/// The files of words that are there.
fn languages() -> Vec<String> {
    let folder = fs::read_dir(root().join("core/present/i18n")).unwrap();
    let names = folder.flatten().map(|file| file.path().file_stem().unwrap().to_string_lossy().into_owned());
    let names: Vec<String> = names.collect();
    assert!(names.len() >= 2 && names.iter().any(|name| name == FIRST), "{names:?}");
    names
}

#[test]
fn each_language_has_each_message_with_the_same_arguments() {
    let first = messages(FIRST);
    assert!(first.len() > 900, "{}", first.len());
    for language in languages() {
        let mut other = messages(&language);
        if let Some(takes) = other.remove(DRAFT) {
            assert!(takes.is_empty() && language != FIRST, "{language}: {DRAFT}");
        }
        let wrong: Vec<&String> =
            first.keys().chain(other.keys()).filter(|id| first.get(*id) != other.get(*id)).collect();
        assert!(wrong.is_empty(), "{language} is unlike {FIRST} in {wrong:?}");
    }
}

/// A file that cannot be read whole, or says something twice, is no file of words.
#[test]
fn a_file_is_read_whole_or_not_at_all() {
    assert_eq!(read("x", "a = eins { $n }\n").len(), 1);
    for bad in ["a = eins\n???\n", "a = eins { $n\nb = zwei\n", "a = eins\na = zwei\n", "a =\n    .b = eins\n"] {
        assert!(std::panic::catch_unwind(|| read("x", bad)).is_err(), "{bad}");
    }
}

/// What the code asks for: each name of a message with what is put in, where that is seen.
fn asked() -> BTreeMap<String, Option<BTreeSet<String>>> {
    let mut out = BTreeMap::new();
    for path in files(&["core", "bindings"], &["rs"]) {
        let text = code(&path);
        for (start, call) in ["text!(", "say!("].iter().flat_map(|call| text.match_indices(call)) {
            // The macros themselves, and what is said of them.
            let Some(parts) = sources::arguments(&text[start + call.len()..]) else { continue };
            let Some(name) = parts.get(1).and_then(|part| part.strip_prefix('"')?.strip_suffix('"')) else {
                continue;
            };
            let given = parts[2..].iter().map(|part| part.split('=').next().unwrap().trim().to_owned()).collect();
            let before = out.insert(name.to_owned(), Some(given));
            if let Some(Some(before)) = before {
                assert_eq!(Some(&before), out[name].as_ref(), "{}: {name} is asked for in two ways", path.display());
            }
        }
        for (start, call) in text.match_indices("message!(\"") {
            let name = text[start + call.len()..].split('"').next().unwrap();
            out.insert(name.to_owned(), Some(BTreeSet::new()));
        }
    }
    out
}

#[test]
fn no_message_is_missing_or_unused() {
    let there = messages(FIRST);
    let asked = asked();
    assert!(asked.len() > 800, "{}", asked.len());
    for (name, given) in &asked {
        let takes = there.get(name).unwrap_or_else(|| panic!("no file of words has {name}"));
        if let Some(given) = given {
            assert_eq!(given, takes, "{name}: left what is put in, right what it takes");
        }
    }
    let kind = |name: &str| NAMED.iter().any(|kind| name.starts_with(&format!("{kind}-")));
    let used = |name: &str| asked.contains_key(name) || kind(name) || OF_ITSELF.contains(&name);
    let unused: Vec<&String> = there.keys().filter(|name| !used(name)).collect();
    assert!(unused.is_empty(), "nobody says {unused:?}");
}

/// Core names some things itself, in English; their messages are found by that name.
#[test]
fn what_core_names_is_found_by_its_name() {
    let text = fs::read_to_string(root().join("core/present/i18n/en.ftl")).unwrap();
    let below = files(&["core/engine", "core/log", "core/insights", "core/present", "core/app"], &["rs"]);
    let said: BTreeSet<String> = below
        .iter()
        .flat_map(|path| literals(&fs::read_to_string(path).unwrap()))
        .map(|literal| literal.text)
        .collect();
    let mut looked = 0;
    for line in text.lines() {
        let Some((id, name)) = line.split_once(" = ") else { continue };
        let Some(kind) = NAMED.iter().find(|kind| id.starts_with(&format!("{kind}-"))) else { continue };
        let words = name.split(|sign: char| !sign.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
        assert_eq!(words.fold((*kind).to_owned(), |id, word| id + "-" + &word.to_ascii_lowercase()), id);
        assert!(said.contains(name), "core names nothing {name:?}");
        looked += 1;
    }
    assert!(looked > 40, "{looked}");
}

/// Letters and words that are German and nothing else.
const GERMAN: [&str; 40] = [
    "ä", "ö", "ü", "ß", " der ", " die ", " das ", " und ", " nicht ", " ist ", " sind ", " wird ", " werden ",
    " kein ", " keine ", " mit ", " auf ", " von ", " vom ", " zum ", " im ", " dem ", " den ", " ein ", " eine ",
    " einer ", " wie ", " nach ", " aus ", " du ", " dein ", " deine ", " oder ", " aber ", " wenn ", " nur ",
    " noch ", " schon ", " sich ", " bitte ",
];

/// Where German letters stand and are no sentence: what a plain terminal shows for them, how a screen parts their words and how
/// wide they are, and the notes of an invented wearer.
const NOT_A_SENTENCE: [&str; 4] = [
    "bindings/terminal/src/screen.rs",
    "ios-sample/Sources/Invented/Invented.swift",
    "ios-sample/Sources/Pictures/Paper.swift",
    "core/present/src/words/breaking.rs",
];

#[test]
fn german_stands_in_its_file_alone() {
    let mut looked = 0;
    let folders = ["core", "bindings", "ios-sample", "android-sample"];
    for path in files(&folders, &["rs", "kt", "kts", "swift", "java", "xml", "plist", "html"]) {
        let name = path.strip_prefix(root()).unwrap().to_string_lossy().replace('\\', "/");
        if NOT_A_SENTENCE.contains(&name.as_str()) {
            continue;
        }
        looked += 1;
        let text = code(&path);
        assert!(!text.contains("pick(words") && !text.contains("context.pick("), "{name} picks between languages");
        for Literal { line, text } in literals(&text) {
            let padded = format!(" {} ", text.to_lowercase());
            for word in GERMAN {
                assert!(!padded.contains(word), "{name}:{line}: {word:?} in {text:?}");
            }
        }
    }
    assert!(looked > 200, "{looked}");
}

/// Words of a text that are read: of letters alone, two or more of them.
fn words(text: &str) -> usize {
    let is_word = |word: &&str| {
        let word = word.trim_matches(|sign: char| ",.;:()?!".contains(sign));
        word.chars().count() >= 2 && word.chars().all(char::is_alphabetic)
    };
    text.split_whitespace().filter(is_word).count()
}

/// Sentences that stand in sources all the same: how each file's begin, and why.
const KEPT: [(&str, &[&str]); 4] = [
    // For developers.
    ("bindings/ffi/src/error.rs", &["{field} cannot be taken", "no such entry"]),
    ("bindings/ffi/src/faults.rs", &["panic on purpose", "a mistake in the core, made on purpose"]),
    // The program's help and what it says of an option that it does not understand are in English alone.
    ("bindings/terminal/src/arguments.rs", &["Without a command:", "give , or ; or tab"]),
    ("bindings/terminal/src/when.rs", &["give an offset from UTC"]),
];

#[test]
fn no_sentence_stands_in_the_sources() {
    let mut looked = 0;
    for path in files(&["core/present/src", "bindings/terminal/src", "bindings/ffi/src"], &["rs"]) {
        looked += 1;
        let name = path.strip_prefix(root()).unwrap().to_string_lossy().replace('\\', "/");
        let kept = KEPT.iter().filter(|(file, _)| *file == name).flat_map(|(_, begin)| *begin);
        let kept: Vec<&&str> = kept.collect();
        for Literal { line, text } in literals(&code(&path)) {
            let style = text.starts_with(":root{");
            let may = style || kept.iter().any(|begin| text.trim_start().starts_with(**begin));
            assert!(words(&text) < 3 || may, "{name}:{line}: {text:?}");
        }
    }
    assert!(looked > 50, "{looked}");
}

/// The scans see what they look for.
#[test]
fn the_scans_see() {
    let text = "// ein Wort\nfn f() { g(\"der Wert\\\" ist\", 'x', r#\"roh \"x\"\"#) } /* \"nichts\" */";
    let seen: Vec<String> = literals(text).into_iter().map(|one| one.text).collect();
    assert_eq!(seen, ["der Wert\" ist", "roh \"x\""]);
    assert_eq!(
        sources::arguments("words, \"a-b\", day, x = f(1, \"),\"), ) rest").unwrap(),
        ["words", "\"a-b\"", "day", "x = f(1, \"),\")"]
    );
    assert_eq!((words("no readings for"), words("{}: {} {}"), words("low-line mg/dL")), (3, 0, 0));
}
