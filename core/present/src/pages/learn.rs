//! A lesson as a page: what was learnt, and what that rests on.

use crate::learn::Lesson;
use crate::log::{CompressionLow, Entry, EntryKind};
use crate::page::{Block, Page};
use crate::words::Words;
use crate::{say, text};

/// The page's answer: the first of what was learnt.
#[must_use]
pub fn answer(lesson: &Lesson, words: Words) -> Vec<String> {
    lesson.points().into_iter().take(1).map(|point| words.lesson(point)).collect()
}

/// Lays out a lesson, with the pressed spells that were newly marked in the log.
#[must_use]
pub fn page(lesson: &Lesson, marked: &[Entry], words: Words) -> Page {
    let when = words.date_time(lesson.at);
    let compared = text!(words, "page-learn-no-forecast-could-be-compared");
    let compared = (lesson.forecasts == 0).then(|| compared.to_owned());
    let spells = marked.iter().filter_map(|entry| match entry.what {
        EntryKind::CompressionLow { until } => Some(words.spell(CompressionLow { from: entry.at, until })),
        _ => None,
    });
    let spells: Vec<String> = spells.collect();
    let kept = if spells.is_empty() {
        None
    } else {
        Some(Block::sentences(text!(words, "page-learn-readings-stay-as-they-but")))
    };
    Page::new(words, &say!(words, "page-learn-learnt", when))
        .with(None, [Block::items(lesson.points().into_iter().map(|point| words.lesson(point)).chain(compared))])
        .with(
            Some(text!(words, "page-learn-sensor-probably-pressed-and-log")),
            std::iter::once(Block::items(spells)).chain(kept),
        )
        .with(None, [Block::sentences(text!(words, "page-learn-every-prompt-uses-from-now"))])
}
