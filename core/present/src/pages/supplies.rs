//! Supplies, and the facts for a statement of need, as pages: the same on every shell.

use crate::page::{Block, Page};
use crate::sentences::pick;
use crate::sentences::supplies::{cost_line, need_lines, outlook_lines};
use crate::supplies::{Cost, Need, Outlook};
use crate::time::Moment;
use crate::words::Words;

/// Lays out supplies and prices.
#[must_use]
pub fn page(outlooks: &[Outlook], costs: &[Cost], words: Words, now: Moment) -> Page {
    let mut page = Page::new(pick(words, "Supplies", "Vorräte"));
    if outlooks.is_empty() {
        return page.with(
            None,
            [Block::sentences(pick(
                words,
                "Nothing is noted of supplies yet. Count once what is there.",
                "Zu Vorräten ist noch nichts eingetragen. Zähl einmal, was da ist.",
            ))],
        );
    }
    for outlook in outlooks {
        let (heading, lines) = outlook_lines(outlook, words, now);
        page = page.with(Some(&heading), [Block::items(lines)]);
    }
    page.with(
        Some(pick(words, "Prices you noted", "Preise, die du eingetragen hast")),
        [Block::items(costs.iter().map(|cost| cost_line(cost, words)))],
    )
}

/// Lays out the facts for a letter that the wearer writes.
#[must_use]
pub fn need_page(need: &Need, words: Words) -> Page {
    Page::new(pick(words, "Facts for a statement of need", "Tatsachen für eine Begründung des Bedarfs"))
        .with(None, [Block::items(need_lines(need, words))])
        .with(
            None,
            [Block::sentences(pick(
                words,
                "The letter is yours to write; your care team can say what your insurer asks for.",
                "Den Brief schreibst du; dein Behandlungsteam weiß, was deine Kasse verlangt.",
            ))],
        )
}
