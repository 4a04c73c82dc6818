//! What came of the prompts, in words.

use crate::outcomes::{AFTER_MINUTES, ANSWER_MINUTES, Chosen, Counted, Outcome, Outcomes};
use crate::statistics::Share;
use crate::wearer::Wearer;
use crate::words::Words;
use crate::{say, text};

/// The days named beside a count at most.
const MOST_NAMED: usize = 5;

/// What came of the prompts, as sentences; the weightiest first.
#[must_use]
pub fn outcome_lines(outcomes: &Outcomes, wearer: &Wearer, words: Words) -> Vec<String> {
    let line = words.amount(wearer.low_line.mg_dl());
    let within = format!("{ANSWER_MINUTES:.0} min");
    let mut said = Vec::new();
    if outcomes.prompts == 0 {
        return vec![text!(words, "outcomes-no-prompt-kept-in-time").to_owned()];
    }
    let (prompts, decisions) = (outcomes.prompts, outcomes.outcomes.len());
    said.push(say!(words, "outcomes-prompts-shown-those-said-same", prompts, decisions));
    let held = &outcomes.held;
    if held.went_below.of > 0 {
        let (of, stayed) = (held.went_below.of, held.went_below.of - held.went_below.hits);
        let interval = interval(&held.went_below, true, words);
        said.push(say!(
            words,
            "outcomes-holds-never-went-below-within",
            of,
            stayed,
            line,
            after_minutes = format!("{AFTER_MINUTES:.0}"),
            interval
        ));
        if let Some(chance) = held.mean_chance {
            let chance = words.chance(chance);
            said.push(say!(words, "outcomes-chance-low-within-half-hour", chance));
        }
        let went_low = |one: &Outcome| {
            let lowest = one.lowest.filter(|lowest| lowest.is_below(wearer.low_line.mg_dl()))?;
            Some(format!("{} ({})", words.date_time(one.at), words.shown(lowest)))
        };
        let those: Vec<String> = held.decisions.iter().rev().filter_map(went_low).take(MOST_NAMED).collect();
        if !those.is_empty() {
            let those = those.join(", ");
            said.push(say!(words, "outcomes-those-did-with-lowest-reading", those));
        }
    }
    let instead = &outcomes.treated_instead;
    if instead.went_below.of > 0 {
        let (of, above) = (instead.went_below.of, share(&instead.went_above, words));
        let high = words.amount(wearer.high_line.mg_dl());
        said.push(say!(words, "outcomes-holds-more-carbohydrate-logged-within", of, within, above, high));
    }
    let treat = &outcomes.advised_treat;
    if treat.went_below.of > 0 {
        let (of, treated, low) = (treat.went_below.of, treat.treated.hits, treat.went_below.hits);
        let (above, high) = (share(&treat.went_above, words), words.amount(wearer.high_line.mg_dl()));
        said.push(say!(words, "outcomes-prompts-to-treat-carbohydrate", of, within, treated, low, line, above, high));
    }
    let check = &outcomes.advised_check;
    if check.went_below.of > 0 {
        let (of, metered, low) = (check.went_below.of, check.metered.hits, check.meter_low.hits);
        let later = check.went_below.hits;
        said.push(say!(words, "outcomes-prompts-to-check-meter", of, within, metered, line, low, later));
    }
    said.extend(chosen_lines(outcomes, wearer, words));
    let unseen: usize = [held, instead, treat, check].iter().map(|one: &&Counted| one.unseen).sum();
    if unseen > 0 {
        said.push(say!(words, "outcomes-more-not-seen-what-came", unseen));
    }
    if said.len() == 1 {
        said.push(say!(words, "outcomes-none-them-about-fall-can", prompts));
    }
    said.push(text!(words, "outcomes-what-done-and-not-logged").to_owned());
    said
}

/// Both choices about a fall, each with the chances that were shown of both.
fn chosen_lines(outcomes: &Outcomes, wearer: &Wearer, words: Words) -> Vec<String> {
    let line = words.amount(wearer.low_line.mg_dl());
    let figures = |chosen: &Chosen| {
        let (waiting, treating) = chosen.mean_if_waiting.zip(chosen.mean_if_treating)?;
        Some((chosen.went_below.of, chosen.went_below.hits, words.chance(waiting), words.chance(treating)))
    };
    let mut said = Vec::new();
    if let Some((of, low, waiting, treating)) = figures(&outcomes.waited) {
        said.push(say!(words, "outcomes-falls-waited", of, low, line, waiting, treating));
    }
    if let Some((of, low, waiting, treating)) = figures(&outcomes.treated) {
        let above = share(&outcomes.treated.went_above, words);
        let high = words.amount(wearer.high_line.mg_dl());
        said.push(say!(words, "outcomes-falls-treated", of, low, line, waiting, treating, above, high));
    }
    if !said.is_empty() {
        said.push(text!(words, "outcomes-other-choice-not-known").to_owned());
    }
    said
}

/// The interval of a share, or of what is left of it.
fn interval(share: &Share, rest: bool, words: Words) -> String {
    let (low, high) = if rest { (1.0 - share.high, 1.0 - share.low) } else { (share.low, share.high) };
    let (low, high) = (words.decimal(100.0 * low, 0), words.decimal(100.0 * high, 0));
    say!(words, "outcomes-95-to", low, high)
}

fn share(share: &Share, words: Words) -> String {
    let Share { hits, of, .. } = share;
    say!(words, "outcomes-of", hits, of)
}
