//! The table of numbers that steer a judgement is the one table: it has every named number of the folders that judge, as it is.
#![allow(clippy::unwrap_used)] // a page or a source that cannot be read is a failed test

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use ebbstead_tests::tree::{files, read, root};

/// Where numbers steer a judgement.
const JUDGES: [&str; 8] = [
    "core/engine/src/estimate",
    "core/engine/src/body",
    "core/engine/src/engine",
    "core/engine/src/forecast",
    "core/engine/src/prompt",
    "core/engine/src/before",
    "core/insights/src/alerts",
    "core/insights/src/sensor",
];
/// And single files.
const JUDGES_TOO: [&str; 4] =
    ["core/engine/src/wearer.rs", "core/engine/src/units.rs", "core/engine/src/log/follow.rs", "core/app/src/night.rs"];
/// Numbers there that steer none: sizes, indices, what keeps a computation finite, points that are shown, reach of a search in the log.
const NO_JUDGEMENT: [(&str, &str); 17] = [
    ("estimate/dynamics.rs", "STATES BLOOD RATE INTERSTITIAL DRIVER ERROR OFFSET PRESS PLAIN MOST LONGEST_S"),
    ("estimate/adapt.rs", "LAG STEP"),
    ("estimate/agreement.rs", "HYPOTHESES"),
    ("estimate/modes.rs", "CLEAR COMPRESSION UNSETTLED MODES NO_WEIGHT LEAST"),
    ("estimate/smoother.rs", "NO_PRESS_VARIANCE"),
    ("forecast/correction.rs", "FEATURES CORRECTED INSULIN CARBOHYDRATE SCORED"),
    ("forecast/forecaster.rs", "SHOWN"),
    ("forecast/futures.rs", "SHOWN_MINUTES"),
    ("forecast/grid.rs", "GRID_MINUTES POINTS HOUR"),
    ("forecast/long.rs", "DAY WEEK FEATURES LONG_MINUTES"),
    ("forecast/lowest.rs", "FITTED COURSE WEIGHTS BACK_MINUTES UNITS"),
    ("forecast/passage.rs", "LANES"),
    ("forecast/shape.rs", "TRAITS HALF_MEAN"),
    ("before/chance.rs", "MOST"),
    ("before/nights.rs", "NEEDED_NIGHTS HELD"),
    ("src/engine/mod.rs", "DOSE"),
    ("src/night.rs", "OWN_STEP_MS TAPPED_TWICE_MS"),
];

/// Each named number of a source, with what stands after its equals sign, spaces made one. Tests left out.
fn numbers(text: &str) -> Vec<(String, String)> {
    let text = text.split("#[cfg(test)]").next().unwrap();
    let mut found = Vec::new();
    for (at, word) in text.match_indices("const ") {
        let before = text[..at].rsplit('\n').next().unwrap_or_default().trim();
        let Some((name, rest)) = text[at + word.len()..].split_once(':') else { continue };
        let is_name = name.chars().all(|sign| sign.is_ascii_uppercase() || sign.is_ascii_digit() || sign == '_');
        if !is_name || !(before.is_empty() || before.starts_with("pub")) {
            continue;
        }
        let Some((kind, rest)) = rest.split_once(" =") else { continue };
        let is_number = ["f64", "u8", "u16", "u32", "u64", "usize", "i64", "i32"].iter().any(|one| kind.contains(one));
        if is_number && !kind.contains("str") {
            let value = rest.split(';').next().unwrap_or_default();
            found.push((name.to_owned(), value.split_whitespace().collect::<Vec<_>>().join(" ")));
        }
    }
    found
}

/// What the page has: each file's constants, with the value where it is given.
fn on_the_page() -> BTreeMap<String, BTreeMap<String, Option<String>>> {
    let mut all: BTreeMap<String, BTreeMap<String, Option<String>>> = BTreeMap::new();
    let page = read("core/docs/constants.md");
    let mut folder = String::new();
    for line in page.lines() {
        if let Some(heading) = line.strip_prefix("## ") {
            folder = heading.split('`').nth(1).map(|folder| format!("{folder}/")).unwrap_or_default();
        }
        let cells: Vec<&str> = line.split('|').map(str::trim).collect();
        let (Some(constant), Some(place)) = (cells.get(2), cells.get(3)) else { continue };
        if !constant.starts_with('`') {
            continue;
        }
        let constant = constant.trim_matches('`');
        let (name, value) =
            constant.split_once(" = ").map_or((constant, None), |(name, value)| (name, Some(value.to_owned())));
        all.entry(format!("{folder}{}", place.trim_matches('`'))).or_default().insert(name.to_owned(), value);
    }
    all
}

#[test]
fn the_table_has_every_number_that_steers_a_judgement_as_it_is() {
    let root = root();
    let mut page = on_the_page();
    let mut wrong = Vec::new();
    let mut held = 0;
    let judges = files(&JUDGES, &["rs"]).into_iter().filter(|path| !path.ends_with("tests.rs"));
    for path in judges.chain(JUDGES_TOO.map(|name| root.join(name))) {
        let name = path.strip_prefix(&root).unwrap().to_string_lossy().replace('\\', "/");
        let none: BTreeSet<&str> = NO_JUDGEMENT
            .iter()
            .filter(|(file, _)| name.ends_with(file) && name.starts_with("core/engine") | name.starts_with("core/app"))
            .flat_map(|(_, names)| names.split(' '))
            .collect();
        let mut rows = page.remove(&name).unwrap_or_default();
        for (constant, value) in numbers(&fs::read_to_string(&path).unwrap()) {
            match rows.remove(&constant) {
                Some(Some(said)) if said != value => wrong.push(format!("{name}: {constant} is {value}, not {said}")),
                Some(_) => held += 1,
                None if none.contains(constant.as_str()) => {}
                None => wrong.push(format!("{name}: {constant} = {value} is not in the table")),
            }
        }
        rows.retain(|constant, _| !constant.contains("::"));
        wrong.extend(rows.into_keys().map(|constant| format!("{name}: {constant} is in the table and not there")));
    }
    page.retain(|_, rows| !rows.is_empty());
    wrong.extend(page.keys().map(|name| format!("the table names {name}, where nothing judges")));
    assert!(wrong.is_empty(), "core/docs/constants.md: {wrong:#?}");
    assert!(held > 200, "{held}");
}

/// Nothing stands there without where it is from.
#[test]
fn every_number_of_the_table_says_where_it_is_from() {
    let page = read("core/docs/constants.md");
    let rows: Vec<&str> = page.lines().filter(|line| line.starts_with("| ") && !line.starts_with("| number")).collect();
    for row in &rows {
        let cells: Vec<&str> =
            row.split(" | ").map(|cell| cell.trim_matches(|sign: char| "| ".contains(sign))).collect();
        assert!(cells.len() == 4 && cells.iter().all(|cell| !cell.is_empty() && *cell != "?"), "{row}");
    }
    assert!(rows.len() > 200, "{}", rows.len());
}
