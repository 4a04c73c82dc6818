//! A review as a page: the same on every shell.

use crate::log::History;
use crate::page::{Block, Page, Row, Table};
use crate::review::metrics::Lines;
use crate::review::patterns::patterns;
use crate::review::{Review, metrics};
use crate::sentences::review::{
    basis, episode_line, figure_lines, own_line, pattern_lines, range_lines, summary, too_little,
};
use crate::wearer::Wearer;
use crate::words::Words;
use crate::{say, text};

/// Lows listed at most; how many more there are is said.
const MOST_LOWS: usize = 12;

/// Lays out a review, beside the period before it if it is given.
#[must_use]
pub fn page(review: &Review, before: Option<&Review>, history: &History, wearer: &Wearer, words: Words) -> Page {
    let own = own_line(review, Lines::own(wearer), words);
    let looked = patterns(review, history);
    let lows = review.lows.iter().rev().take(MOST_LOWS).map(|low| episode_line(low, words));
    let more = review.lows.len().saturating_sub(MOST_LOWS);
    let lows = lows.chain((more > 0).then(|| say!(words, "page-report-and-earlier-ones", more)));
    Page::new(words, text!(words, "page-review-review"))
        .with(
            Some(text!(words, "page-review-in-short")),
            [Block::sentences(summary(review, before, &looked, words).join(" "))],
        )
        .with(None, basis(review, words).into_iter().map(Block::Sentences))
        .with(
            Some(text!(words, "page-review-time-in-range")),
            [Block::figures(range_lines(review, words).into_iter().chain([own]).map(Row::from))],
        )
        .with(
            Some(text!(words, "page-review-level-spread-and-risk")),
            [Block::figures(figure_lines(review, words).into_iter().map(Row::from))],
        )
        .with(Some(&hours_name(words)), [hours(&review.profile, words)])
        .with(Some(text!(words, "page-review-lows-quarter-hour-and-more")), [Block::items(lows)])
        .with(Some(text!(words, "page-review-patterns")), [Block::items(pattern_lines(&looked, words))])
        .with(None, [Block::sentences(text!(words, "page-review-aims-consensus-battelino-et-al"))])
}

/// The page's answer: the time in range, and below it.
#[must_use]
pub fn answer(review: &Review, words: Words) -> Vec<String> {
    range_lines(review, words).into_iter().take(2).map(|line| Row::from(line).to_string()).collect()
}

fn hours_name(words: Words) -> String {
    let unit = words.unit();
    say!(words, "page-review-hour-by-hour-in", unit)
}

/// The daily profile. Where no hour has enough, one sentence says so instead of 24.
fn hours(profile: &[metrics::Measured<metrics::Hour>], words: Words) -> Block {
    if profile.iter().all(Result::is_err) {
        let most = profile.iter().filter_map(|hour| hour.err()).max_by(|a, b| a.have.total_cmp(&b.have));
        return Block::sentences(most.map_or_else(String::new, |missing| too_little(missing, words)));
    }
    let row = |(hour, measured): (usize, &metrics::Measured<metrics::Hour>)| Row {
        name: format!("{hour:02}:00"),
        values: match measured {
            Ok(one) => one.mg_dl.iter().map(|mg_dl| words.bare_amount(*mg_dl)).collect(),
            Err(missing) => vec![too_little(*missing, words)],
        },
        note: String::new(),
    };
    let columns = [
        text!(words, "page-review-1-in-10-below"),
        text!(words, "page-review-1-in-4-below"),
        text!(words, "page-review-half-below"),
        text!(words, "page-review-3-in-4-below"),
        text!(words, "page-review-9-in-10-below"),
    ];
    Block::Table(Table {
        columns: columns.map(str::to_owned).to_vec(),
        rows: profile.iter().enumerate().map(row).collect(),
    })
}
