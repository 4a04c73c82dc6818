//! What came of the prompts as a page: the same on every shell.

use crate::outcomes::Outcomes;
use crate::page::{Block, Page};
use crate::say;
use crate::sentences::outcomes::outcome_lines;
use crate::wearer::Wearer;
use crate::words::Words;

/// Lays out the outcomes of the prompts.
#[must_use]
pub fn page(outcomes: &Outcomes, wearer: &Wearer, words: Words) -> Page {
    let days = outcomes.period.days().round();
    let heading = say!(words, "page-outcomes-what-came-prompts-days", days);
    Page::new(words, &heading).with(None, [Block::items(outcome_lines(outcomes, wearer, words))])
}
