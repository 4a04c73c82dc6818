//! A review as a page: the same on every shell.

use crate::log::History;
use crate::page::{Block, Page, Row, Table};
use crate::review::metrics::Lines;
use crate::review::patterns::patterns;
use crate::review::{Review, metrics};
use crate::sentences::pick;
use crate::sentences::review::{
    basis, episode_line, figure_lines, own_line, pattern_lines, range_lines, summary, too_little,
};
use crate::wearer::Wearer;
use crate::words::Words;

/// Lows listed at most; the count is in the summary.
const MOST_LOWS: usize = 12;

/// Lays out a review, beside the period before it if it is given.
#[must_use]
pub fn page(review: &Review, before: Option<&Review>, history: &History, wearer: &Wearer, words: Words) -> Page {
    let named = |english, german| Some(pick(words, english, german));
    let own = own_line(review, Lines::own(wearer), words);
    let lows = review.lows.iter().rev().take(MOST_LOWS).map(|low| episode_line(low, words));
    Page::new(pick(words, "Review", "Rückblick"))
        .with(None, basis(review, words).into_iter().map(Block::Sentences))
        .with(named("In short", "Kurz gesagt"), [Block::sentences(summary(review, before, words).join(" "))])
        .with(
            named("Time in range", "Zeit im Zielbereich"),
            [Block::figures(range_lines(review, words).into_iter().chain([own]).map(Row::from))],
        )
        .with(
            named("Level, spread and risk", "Lage, Streuung und Risiko"),
            [Block::figures(figure_lines(review, words).into_iter().map(Row::from))],
        )
        .with(Some(&hours_name(words)), [hours(&review.profile, words)])
        .with(named("Lows of a quarter of an hour and more", "Unterzucker ab einer Viertelstunde"), [Block::items(lows)])
        .with(
            named("Patterns", "Muster"),
            [Block::items(pattern_lines(&patterns(review, history), words))],
        )
        .with(
            None,
            [Block::sentences(pick(
                words,
                "The aims are the consensus' (Battelino et al. 2019); those you have with your care team go before them, and \
                 treatment is changed only with them.",
                "Die Ziele sind die des Konsenses (Battelino et al. 2019); die mit deinem Behandlungsteam vereinbarten gehen \
                 vor, und die Behandlung wird nur mit ihm geändert.",
            ))],
        )
}

fn hours_name(words: Words) -> String {
    let unit = words.unit();
    pick(words, format!("Hour by hour, in {unit}"), format!("Stunde für Stunde, in {unit}"))
}

/// The daily profile. Where no hour has enough, one sentence says so instead of 24.
fn hours(profile: &[metrics::Measured<metrics::Hour>], words: Words) -> Block {
    if profile.iter().all(Result::is_err) {
        let most = profile.iter().filter_map(|hour| hour.err()).max_by(|a, b| a.have.total_cmp(&b.have));
        return Block::sentences(most.map_or_else(String::new, |missing| too_little(missing, words)));
    }
    let row = |(hour, told): (usize, &metrics::Measured<metrics::Hour>)| Row {
        name: format!("{hour:02}:00"),
        values: match told {
            Ok(told) => told.mg_dl.iter().map(|mg_dl| words.bare_amount(*mg_dl)).collect(),
            Err(missing) => vec![too_little(*missing, words)],
        },
        note: String::new(),
    };
    let columns = pick(
        words,
        ["1 in 10 below", "1 in 4 below", "half below", "3 in 4 below", "9 in 10 below"],
        ["1 von 10 darunter", "1 von 4 darunter", "Hälfte darunter", "3 von 4 darunter", "9 von 10 darunter"],
    );
    Block::Table(Table {
        columns: columns.map(str::to_owned).to_vec(),
        rows: profile.iter().enumerate().map(row).collect(),
    })
}
