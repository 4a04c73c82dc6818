//! The situations of `tests/situations`, asked of the library: each row is answered acceptably, or is marked as a shortfall.
//!
//! What is acceptable is common practice, no source, unless a row names one.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // a table that cannot be read is a failed test

mod again;
mod ahead;
mod row;
mod table;

use std::collections::BTreeSet;
use std::io::Write;

use ebbstead_core::engine::{Learnt, check};
use ebbstead_core::log::current_history;
use ebbstead_core::prompt::{Prompt, Verdict};

use row::Row;

/// What is answered, as the tables write it.
fn said(prompt: &Prompt) -> String {
    let verdict = match (prompt.verdict, prompt.without_meter) {
        (Verdict::Check, Some(Verdict::Treat)) => "check/treat",
        (Verdict::Check, _) => "check/hold",
        (Verdict::Treat, _) => "treat",
        (Verdict::Hold, _) => "hold",
        (Verdict::Clear, _) => "clear",
        (Verdict::Help, _) => "help",
    };
    match prompt.look_again_minutes {
        Some(minutes) if prompt.verdict != Verdict::Help => format!("{verdict}, look in {minutes}"),
        _ => verdict.to_owned(),
    }
}

fn is_acceptable(row: &Row, prompt: &Prompt, said: &str) -> bool {
    let verdict = said.split(',').next().unwrap_or_default();
    let soon = row
        .within
        .is_none_or(|most| prompt.verdict == Verdict::Help || prompt.look_again_minutes.is_some_and(|one| one <= most));
    row.acceptable.iter().any(|one| one == verdict) && soon
}

#[test]
fn every_situation_is_answered_acceptably() {
    let rows = table::rows();
    assert!(rows.len() >= 190, "{} rows", rows.len());
    let names: BTreeSet<&str> = rows.iter().map(|row| row.name.as_str()).collect();
    assert_eq!(names.len(), rows.len(), "two rows of one name");
    let mut wrong = Vec::new();
    for row in &rows {
        let history = current_history(row.entries.clone()).until(row.question.now);
        let prompt = check(&history, &row.wearer, &Learnt::default(), &row.question);
        let said = said(&prompt);
        let place = format!("{}, \"{}\"", row.file, row.name);
        match (is_acceptable(row, &prompt, &said), row.shortfall.as_str()) {
            (true, "") => {}
            (true, _) => {
                wrong.push(format!("{place}: is marked as a shortfall and now answers {said}: take the mark off"))
            }
            (false, marked) if marked == said => {}
            (false, marked) => wrong.push(format!(
                "{place}: answered {said} ({:?}); acceptable is {}; the danger: {}{}",
                prompt.sentence,
                row.as_written,
                row.danger,
                if marked.is_empty() { String::new() } else { format!("; marked as {marked}") },
            )),
        }
    }
    let short: Vec<&Row> = rows.iter().filter(|row| !row.shortfall.is_empty()).collect();
    // Straight to standard error: what the print macros write is shown of failing tests only.
    let mut out = std::io::stderr();
    let _ = writeln!(out, "\n{} situations, {} known shortfalls", rows.len(), short.len());
    for row in short {
        let _ = writeln!(out, "  shortfall: {}, \"{}\": {}", row.file, row.name, row.shortfall);
    }
    assert!(wrong.is_empty(), "{} of {} rows:\n{}", wrong.len(), rows.len(), wrong.join("\n"));
}
