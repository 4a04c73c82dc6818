//! What came of the prompts as a page: the same on every shell.

use crate::answers::Answers;
use crate::page::{Block, Page};
use crate::say;
use crate::sentences::answers::answer_lines;
use crate::wearer::Wearer;
use crate::words::Words;

/// Lays out what came of the prompts.
#[must_use]
pub fn page(answers: &Answers, wearer: &Wearer, words: Words) -> Page {
    let days = words.decimal(answers.period.days(), 0);
    let heading = say!(words, "page-answers-what-came-prompts-days", days);
    Page::new(words, &heading).with(None, [Block::items(answer_lines(answers, wearer, words))])
}
