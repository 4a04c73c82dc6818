//! What a plan's alerts were worth, in words.

use crate::alerts::Of;
use crate::alerts::{DelayProposal, Proposal, Worth, count};
use crate::sentences::pick;
use crate::wearer::FLOOR_LINE_MG_DL;
use crate::words::Words;

/// A plan's worth, one line a figure: name and value.
#[must_use]
pub fn worth_lines(worth: &Worth, words: Words) -> Vec<(String, String)> {
    let line = |name: &str, value: String| (name.to_owned(), value);
    let all = worth.alerts.len();
    let of_all = |count: usize| pick(words, format!("{count} of {all}"), format!("{count} von {all}"));
    let noticed = worth.notice_minutes.len();
    vec![
        line(pick(words, "alerts by day, a day", "Alarme am Tag, je Tag"), words.decimal(worth.a_day, 1)),
        line(pick(words, "alerts by night, a night", "Alarme nachts, je Nacht"), words.decimal(worth.a_night, 1)),
        line(pick(words, "something logged within 30 min", "etwas eingetragen binnen 30 min"), of_all(worth.acted)),
        line(pick(words, "over by themselves", "von selbst vorbei"), of_all(worth.over_by_themselves)),
        line(
            pick(words, "of them at night: sleep broken for nothing", "davon nachts: umsonst geweckt"),
            worth.broken_sleep.to_string(),
        ),
        line(
            pick(words, "lows with an alert", "Unterzucker mit Alarm"),
            pick(words, format!("{noticed} of {}", worth.lows), format!("{noticed} von {}", worth.lows)),
        ),
        line(
            pick(words, "notice before them, the middle one", "Vorlauf davor, der mittlere"),
            worth.median_notice_minutes().map_or_else(
                || pick(words, "none to tell", "keiner zu nennen").to_owned(),
                |minutes| format!("{} min", words.decimal(minutes, 0)),
            ),
        ),
    ]
}

/// What an alert tells of, in a sentence.
#[must_use]
pub fn alert_text(of: Of, words: Words) -> String {
    let floor = words.amount(FLOOR_LINE_MG_DL);
    match of {
        Of::Floor => {
            pick(words, format!("The sensor reads below {floor}."), format!("Der Sensor misst unter {floor}."))
        }
        Of::Low => {
            pick(words, "The sensor reads below your low line.", "Der Sensor misst unter deiner unteren Grenze.")
                .to_owned()
        }
        Of::Falling => pick(words, "The readings fall fast.", "Die Werte fallen schnell.").to_owned(),
        Of::Lost => pick(words, "No reading comes from the sensor.", "Vom Sensor kommt kein Wert.").to_owned(),
        Of::High => {
            pick(words, "The sensor reads above your high line.", "Der Sensor misst über deiner oberen Grenze.")
                .to_owned()
        }
        Of::Rising => pick(words, "The readings rise fast.", "Die Werte steigen schnell.").to_owned(),
    }
}

/// A proposal with its figures before and after.
#[must_use]
pub fn proposal_text(proposal: &Proposal, told_at_mg_dl: f64, words: Words) -> String {
    let (acts, told) = (words.amount(proposal.acts_at_mg_dl), words.amount(told_at_mg_dl));
    let at = proposal.plan.day.high.map_or_else(String::new, |high| words.amount(high.mg_dl()));
    let (before, after) = (words.decimal(proposal.before.a_day, 1), words.decimal(proposal.after.a_day, 1));
    let count = proposal.actions;
    pick(
        words,
        format!(
            "You act on highs at about {acts} ({count} times), you are told at {told}: told at {at}, there would be {after} alerts a day instead of {before}. Talk it over with your care team."
        ),
        format!(
            "Du handelst bei etwa {acts} ({count}-mal), Bescheid bekommst du bei {told}: bei {at} wären es {after} Alarme am Tag statt {before}. Besprich es mit deinem Behandlungsteam."
        ),
    )
}

/// A delay for highs with its figures before and after.
#[must_use]
pub fn delay_text(proposal: &DelayProposal, words: Words) -> String {
    let minutes = words.decimal(proposal.minutes, 0);
    let (before, after) = (count(&proposal.before.alerts, Of::High), count(&proposal.after.alerts, Of::High));
    let (woken, then) = (proposal.before.broken_sleep, proposal.after.broken_sleep);
    pick(
        words,
        format!(
            "Told of a high only once it has lasted {minutes} min, there would be {after} alerts of highs instead of {before}, and {then} awakenings for nothing instead of {woken}. Lows would be told as before. Talk it over with your care team."
        ),
        format!(
            "Käme der Alarm bei hohen Werten erst nach {minutes} min, wären es {after} solche Alarme statt {before} und {then}-mal umsonst geweckt statt {woken}. Bei Unterzucker bliebe alles, wie es ist. Besprich es mit deinem Behandlungsteam."
        ),
    )
}
