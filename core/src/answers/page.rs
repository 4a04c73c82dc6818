//! What came of the prompts as a page: the same on every shell.

use super::Answers;
use super::telling::answer_lines;
use crate::page::{Block, Page};
use crate::review::telling::pick;
use crate::wearer::Wearer;
use crate::words::Words;

/// Lays out what came of the prompts.
#[must_use]
pub fn page(answers: &Answers, wearer: &Wearer, words: Words) -> Page {
    Page::new(pick(words, "What came of the prompts", "Was aus den Antworten wurde"))
        .with(None, [Block::items(answer_lines(answers, wearer, words))])
}
