//! What a plan's alerts were worth, in words.

use crate::alerts::{ACTED_WITHIN_MINUTES, AlertCause, AlertStats, DelayProposal, Proposal, count};
use crate::time::Moment;
use crate::wearer::{AlertLines, FLOOR_LINE_MG_DL, LOW_REPEATS, Plan};
use crate::words::Words;
use crate::{say, text};

/// A plan's stats, one line a figure: name and value.
#[must_use]
pub fn stats_lines(stats: &AlertStats, words: Words) -> Vec<(String, String)> {
    let line = |name: &str, value: String| (name.to_owned(), value);
    let all = stats.alerts.len();
    let of_all = |count: usize| say!(words, "alerts-of-2", count, all);
    let noticed = stats.warning_minutes.len();
    let ahead = stats.warning_minutes.iter().filter(|minutes| **minutes > 0.0).count();
    vec![
        line(text!(words, "alerts-alerts-by-day-day"), words.decimal(stats.a_day, 1)),
        line(text!(words, "alerts-alerts-by-night-night"), words.decimal(stats.a_night, 1)),
        line(text!(words, "alerts-lost-signal"), of_all(count(&stats.alerts, AlertCause::Lost))),
        line(
            &say!(words, "alerts-something-logged-within", minutes = words.decimal(ACTED_WITHIN_MINUTES, 0)),
            of_all(stats.acted),
        ),
        line(text!(words, "alerts-resolved-without-action"), of_all(stats.resolved_without_action)),
        line(text!(words, "alerts-them-at-night-sleep-broken"), stats.sleep_interruptions.to_string()),
        line(text!(words, "alerts-lows-with-alert"), say!(words, "alerts-of", noticed, lows = stats.lows)),
        line(text!(words, "alerts-before-low-began"), say!(words, "alerts-of", noticed = ahead, lows = stats.lows)),
        line(
            text!(words, "alerts-notice-before-them-middle-one"),
            stats.median_warning_minutes().map_or_else(
                || text!(words, "alerts-none-to-tell").to_owned(),
                |minutes| format!("{} min", words.decimal(minutes, 0)),
            ),
        ),
    ]
}

/// That a plan was kept, with what was before; nothing where no line is another.
#[must_use]
pub fn plan_kept(now: &Plan, before: &Plan, words: Words) -> Option<String> {
    let (now, before) = (plan_text(now, words), plan_text(before, words));
    (now != before).then(|| say!(words, "alerts-plan-kept", now, before))
}

fn plan_text(plan: &Plan, words: Words) -> String {
    let lines = |lines: &AlertLines| {
        let low = words.amount(lines.low.mg_dl());
        match lines.high {
            None => say!(words, "alerts-plan-below", low),
            Some(high) => say!(words, "alerts-plan-below-and-above", low, high = words.amount(high.mg_dl())),
        }
    };
    let (day, night) = (lines(&plan.day), lines(&plan.night));
    say!(words, "alerts-plan-day-and-night", day, night)
}

/// What an alert is about, in a sentence.
#[must_use]
pub fn alert_text(of: AlertCause, words: Words) -> String {
    let floor = words.amount(FLOOR_LINE_MG_DL);
    match of {
        AlertCause::Floor => say!(words, "alerts-sensor-reads-below", floor),
        AlertCause::Low => text!(words, "alerts-sensor-reads-below-your-low").to_owned(),
        AlertCause::Falling => text!(words, "alerts-readings-fall-fast").to_owned(),
        AlertCause::Lost => text!(words, "alerts-no-reading-comes-from-sensor").to_owned(),
        AlertCause::High => text!(words, "alerts-sensor-reads-above-your-high").to_owned(),
        AlertCause::Rising => text!(words, "alerts-readings-rise-fast").to_owned(),
    }
}

/// When an alert rang that nobody answered.
#[must_use]
pub fn rang_text(at: Moment, words: Words) -> String {
    say!(words, "alerts-rang-at", clock = at.clock())
}

/// How a low that lasts is alerted again, where no other repetition is set.
#[must_use]
pub(crate) fn low_repeats_text(minutes: f64, words: Words) -> String {
    say!(words, "alerts-low-repeats", minutes = words.decimal(minutes, 0), times = LOW_REPEATS.to_string())
}

/// A proposal with its figures before and after.
#[must_use]
pub(crate) fn proposal_text(proposal: &Proposal, line_mg_dl: f64, words: Words) -> String {
    let (acts, line) = (words.amount(proposal.acts_at_mg_dl), words.amount(line_mg_dl));
    let at = proposal.plan.day.high.map_or_else(String::new, |high| words.amount(high.mg_dl()));
    let (before, after) = (words.decimal(proposal.before.a_day, 1), words.decimal(proposal.after.a_day, 1));
    let count = proposal.actions;
    say!(words, "alerts-you-act-on-highs-at", acts, count, line, at, after, before)
}

/// A delay for highs with its figures before and after.
#[must_use]
pub(crate) fn delay_text(proposal: &DelayProposal, words: Words) -> String {
    let minutes = words.decimal(proposal.minutes, 0);
    let (before, after) =
        (count(&proposal.before.alerts, AlertCause::High), count(&proposal.after.alerts, AlertCause::High));
    let (woken, then) = (proposal.before.sleep_interruptions, proposal.after.sleep_interruptions);
    say!(words, "alerts-high-only-once-has", minutes, after, before, then, woken)
}
