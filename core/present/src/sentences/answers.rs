//! What came of the prompts, in words.

use crate::answers::{AFTER_MINUTES, ANSWER_MINUTES, Answers, Counted};
use crate::sensor::Share;
use crate::sentences::pick;
use crate::wearer::Wearer;
use crate::words::Words;

/// The days named beside a count at most.
const MOST_NAMED: usize = 5;

/// What came of the prompts, as sentences; the weightiest first.
#[must_use]
pub fn answer_lines(answers: &Answers, wearer: &Wearer, words: Words) -> Vec<String> {
    let line = words.amount(wearer.low_line.mg_dl());
    let within = format!("{ANSWER_MINUTES:.0} min");
    let mut said = Vec::new();
    if answers.prompts == 0 {
        return vec![
            pick(
                words,
                "No prompt is kept in this time. Each one that you are shown of the present is kept, so that you can see here what came of it; one asked of a past time is not.",
                "Aus dieser Zeit ist keine Antwort aufbewahrt. Jede, die dir zur Gegenwart gezeigt wird, wird es; hier siehst du dann, was daraus wurde. Eine zu einer vergangenen Zeit wird es nicht.",
            )
            .to_owned(),
        ];
    }
    let (prompts, decisions) = (answers.prompts, answers.outcomes.len());
    said.push(pick(
        words,
        format!("{prompts} prompts were told; those that said the same in a row are one, which leaves {decisions}."),
        format!("{prompts} Antworten wurden gegeben; gleiche hintereinander zählen als eine, das sind {decisions}."),
    ));
    let held = &answers.held;
    if held.went_below.of > 0 {
        let (of, stayed) = (held.went_below.of, held.went_below.of - held.went_below.hits);
        let interval = interval(&held.went_below, true, words);
        said.push(pick(
            words,
            format!("Of {of} holds, {stayed} never went below {line} within {AFTER_MINUTES:.0} min {interval}."),
            format!("Von {of} Malen Abwarten blieben {stayed} {AFTER_MINUTES:.0} min lang bei {line} oder darüber {interval}."),
        ));
        if let Some(chance) = held.mean_chance {
            let chance = words.chance(chance);
            said.push(pick(
                words,
                format!("The chance of a low within half an hour told beside them was {chance} on average."),
                format!("Die dabei genannte Wahrscheinlichkeit für Unterzucker binnen einer halben Stunde war im Mittel {chance}."),
            ));
        }
        let low = |mg_dl: Option<f64>| {
            mg_dl.is_some_and(|mg_dl| crate::review::metrics::ranges::below(mg_dl, wearer.low_line.mg_dl()))
        };
        let those: Vec<String> = held
            .decisions
            .iter()
            .rev()
            .filter(|one| low(one.lowest_mg_dl))
            .take(MOST_NAMED)
            .map(|one| {
                let lowest = one.lowest_mg_dl.map_or_else(String::new, |mg_dl| words.amount(mg_dl));
                format!("{} ({lowest})", one.at.local().format("%Y-%m-%d %H:%M"))
            })
            .collect();
        if !those.is_empty() {
            let those = those.join(", ");
            said.push(pick(
                words,
                format!("Those that did, with the lowest reading: {those}."),
                format!("Diese nicht, mit dem tiefsten Wert: {those}."),
            ));
        }
    }
    let instead = &answers.treated_instead;
    if instead.went_below.of > 0 {
        let (of, above) = (instead.went_below.of, share(&instead.went_above, words));
        let high = words.amount(wearer.high_line.mg_dl());
        said.push(pick(
            words,
            format!("{of} holds more, carbohydrate was logged within {within} all the same; {above} were above {high} within 2 h. What holding would have come to is not known."),
            format!("Bei {of} weiteren wurden trotzdem binnen {within} Kohlenhydrate eingetragen; {above} lagen binnen 2 h über {high}. Was Abwarten ergeben hätte, ist nicht bekannt."),
        ));
    }
    let treat = &answers.told_treat;
    if treat.went_below.of > 0 {
        let (of, treated, low) = (treat.went_below.of, treat.treated.hits, treat.went_below.hits);
        let (above, high) = (share(&treat.went_above, words), words.amount(wearer.high_line.mg_dl()));
        said.push(pick(
            words,
            format!("Of {of} times told to treat, carbohydrate was logged within {within} in {treated}; {low} went below {line}, and {above} were above {high} within 2 h."),
            format!("Von {of} Malen Behandeln wurden bei {treated} binnen {within} Kohlenhydrate eingetragen; {low} gingen unter {line}, und {above} lagen binnen 2 h über {high}."),
        ));
    }
    let check = &answers.told_check;
    if check.went_below.of > 0 {
        let (of, metered, low) = (check.went_below.of, check.metered.hits, check.meter_low.hits);
        let later = check.went_below.hits;
        said.push(pick(
            words,
            format!("Of {of} times told to check, a meter was used within {within} in {metered}, and showed below {line} in {low}; the sensor went below it in {later}."),
            format!("Von {of} Malen Messen wurde bei {metered} binnen {within} gemessen, bei {low} davon unter {line}; der Sensor ging bei {later} darunter."),
        ));
    }
    let unseen: usize = [held, instead, treat, check].iter().map(|one: &&Counted| one.unseen).sum();
    if unseen > 0 {
        said.push(pick(
            words,
            format!("Of {unseen} more it is not seen what came: readings are missing, or the hour is not over."),
            format!("Bei {unseen} weiteren ist nicht zu sehen, was kam: Werte fehlen, oder die Stunde ist nicht um."),
        ));
    }
    if said.len() == 1 {
        said.push(
            pick(
                words,
                "None of them was about a fall that can be followed to its end.",
                "Keine davon galt einem Fall, der sich bis zum Ende verfolgen lässt.",
            )
            .to_owned(),
        );
    }
    said.push(
        pick(
            words,
            "What was done and not logged is not seen here.",
            "Was getan und nicht eingetragen wurde, ist hier nicht zu sehen.",
        )
        .to_owned(),
    );
    said
}

/// The interval of a share, or of what is left of it.
fn interval(share: &Share, rest: bool, words: Words) -> String {
    let (low, high) = if rest { (1.0 - share.high, 1.0 - share.low) } else { (share.low, share.high) };
    let (low, high) = (words.decimal(100.0 * low, 0), words.decimal(100.0 * high, 0));
    pick(words, format!("(95 %: {low} to {high} %)"), format!("(95 %: {low} bis {high} %)"))
}

fn share(share: &Share, words: Words) -> String {
    let Share { hits, of, .. } = share;
    pick(words, format!("{hits} of {of}"), format!("{hits} von {of}"))
}
