//! Alert fit as a page: the same on every shell.

use crate::alerts::{AlertStats, Plan, delay_proposal, proposal};
use crate::log::History;
use crate::page::{Block, Page, Row, Table};
use crate::review::Period;
use crate::sentences::alerts::{delay_text, low_repeats_text, proposal_text, stats_lines};
use crate::sentences::review::too_little;
use crate::sentences::supplies::covering;
use crate::wearer::{FLOOR_LINE_MG_DL, Wearer};
use crate::words::Words;
use crate::{say, text};

/// The page's answer: how many alerts the wearer's own lines give, or why that cannot be said.
#[must_use]
pub fn answer(history: &History, wearer: &Wearer, period: Period, words: Words) -> Vec<String> {
    let worth = AlertStats::of(history, wearer, &Plan::of(wearer), period);
    if let Err(missing) = worth.sufficiency.tells_what_lasted() {
        return vec![say!(words, "page-alerts-cannot-be-replayed", why = too_little(missing, words))];
    }
    stats_lines(&worth, words).into_iter().take(2).map(|(name, value)| format!("{name}: {value}")).collect()
}

/// Replays the wearer's own lines, beside a plan to try if it is another, and lays out what they were worth.
#[must_use]
pub fn page(history: &History, wearer: &Wearer, tried: &Plan, period: Period, words: Words) -> Page {
    let own = Plan::of(wearer);
    let worth = AlertStats::of(history, wearer, &own, period);
    let page = Page::new(words, text!(words, "page-alerts-alerts-replayed"))
        .with(None, [Block::sentences(covering(period, &worth.sufficiency, words))]);
    if let Err(missing) = worth.sufficiency.tells_what_lasted() {
        let why = too_little(missing, words);
        return page.with(None, [Block::sentences(say!(words, "page-alerts-cannot-be-replayed", why))]);
    }
    let mut columns = vec![text!(words, "page-alerts-your-lines").to_owned()];
    let mut rows: Vec<Row> = stats_lines(&worth, words)
        .into_iter()
        .map(|(name, value)| Row { name, values: vec![value], note: String::new() })
        .collect();
    if *tried != own {
        columns.push(text!(words, "page-alerts-as-tried").to_owned());
        for (row, (_, value)) in
            rows.iter_mut().zip(stats_lines(&AlertStats::of(history, wearer, tried, period), words))
        {
            row.values.push(value);
        }
    }
    let proposed = proposal(history, wearer, &own, period).zip(own.day.high);
    let proposed = proposed.map(|(found, high)| Block::sentences(proposal_text(&found, high.mg_dl(), words)));
    let delayed = delay_proposal(history, wearer, &own, period);
    let delayed = delayed.map(|found| Block::sentences(delay_text(&found, words)));
    let floor = words.amount(FLOOR_LINE_MG_DL);
    let repeats = own.day.low_repeat_minutes.filter(|_| own.day.repeat_minutes.is_none());
    let repeats = repeats.map(|minutes| Block::sentences(low_repeats_text(minutes, words)));
    page.with(None, [Block::Table(Table { columns, rows })])
        .with(Some(text!(words, "page-alerts-proposals")), proposed.into_iter().chain(delayed))
        .with(
            None,
            repeats.into_iter().chain([Block::sentences(say!(words, "page-alerts-below-alert-in-any-case", floor))]),
        )
}
