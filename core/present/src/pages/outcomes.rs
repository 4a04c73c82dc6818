//! What came of the prompts as a page: the same on every shell.

use crate::outcomes::Outcomes;
use crate::page::{Block, Page};
use crate::say;
use crate::sentences::outcomes::outcome_lines;
use crate::wearer::Wearer;
use crate::words::Words;

/// The page's answer: what became of the holds, or that there is nothing to say of them yet.
#[must_use]
pub fn answer(outcomes: &Outcomes, wearer: &Wearer, words: Words) -> Vec<String> {
    // How many prompts there were stands first.
    outcome_lines(outcomes, wearer, words).into_iter().take(2).next_back().into_iter().collect()
}

/// Lays out the outcomes of the prompts.
#[must_use]
pub fn page(outcomes: &Outcomes, wearer: &Wearer, words: Words) -> Page {
    let days = outcomes.period.days().round();
    let heading = say!(words, "page-outcomes-what-came-prompts-days", days);
    Page::new(words, &heading).with(None, [Block::items(outcome_lines(outcomes, wearer, words))])
}
