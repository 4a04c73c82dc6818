//! Supplies, and the facts for a statement of need, as pages: the same on every shell.

use crate::page::{Block, Page};
use crate::sentences::supplies::{cost_line, need_lines, outlook_lines};
use crate::supplies::{Cost, Need, Outlook};
use crate::text;
use crate::time::Moment;
use crate::words::Words;

/// Items named on a card, those that are to be ordered first.
const MOST_NAMED: usize = 2;

/// The page's answer: what to order by when, or else what is there.
#[must_use]
pub fn answer(outlooks: &[Outlook], words: Words, now: Moment) -> Vec<String> {
    if outlooks.is_empty() {
        return vec![text!(words, "page-supplies-nothing-noted-supplies-yet-count").to_owned()];
    }
    let order_by = |outlook: &&Outlook| outlook.run_out.and_then(|run_out| run_out.order_by);
    let mut soonest: Vec<&Outlook> = outlooks.iter().collect();
    soonest.sort_by_key(|outlook| (order_by(outlook).is_none(), order_by(outlook)));
    let line = |outlook: &Outlook| {
        let (heading, lines) = outlook_lines(outlook, words, now);
        lines.first().map(|line| format!("{heading}: {line}"))
    };
    soonest.into_iter().take(MOST_NAMED).filter_map(line).collect()
}

/// Lays out supplies and prices.
#[must_use]
pub fn page(outlooks: &[Outlook], costs: &[Cost], words: Words, now: Moment) -> Page {
    let mut page = Page::new(words, text!(words, "page-supplies-supplies"));
    if outlooks.is_empty() {
        return page.with(None, [Block::sentences(text!(words, "page-supplies-nothing-noted-supplies-yet-count"))]);
    }
    for outlook in outlooks {
        let (heading, lines) = outlook_lines(outlook, words, now);
        page = page.with(Some(&heading), [Block::items(lines)]);
    }
    page.with(
        Some(text!(words, "page-supplies-prices-you-noted")),
        [Block::items(costs.iter().map(|cost| cost_line(cost, words)))],
    )
}

/// Lays out the facts for a letter that the wearer writes.
#[must_use]
pub fn need_page(need: &Need, words: Words) -> Page {
    Page::new(words, text!(words, "page-supplies-facts-for-statement-need"))
        .with(None, [Block::items(need_lines(need, words))])
        .with(None, [Block::sentences(text!(words, "page-supplies-letter-yours-to-write-your"))])
}
