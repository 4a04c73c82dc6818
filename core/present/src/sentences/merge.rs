//! What becomes of a log, in words: what merging another one would change, and what speaks against it.

use crate::store::Recorded;
use crate::store::Recovered;
use crate::store::{Agreement, Brings, Hidden, MergePreview, MergeWarning};
use crate::time::Moment;
use crate::words::{Counted, Words};
use crate::{say, text};

/// What merging a log would do, one sentence a line; no line where nothing would change.
#[must_use]
pub fn merge_lines(preview: &MergePreview, words: Words) -> Vec<String> {
    if preview.changes_nothing() {
        return vec![text!(words, "merge-nothing-would-change-everything-in").to_owned()];
    }
    let mut lines = vec![brings(&preview.brings, words)];
    let known = preview.recorded.known;
    if known > 0 {
        let known = words.counted(known, Counted::Entries);
        lines.push(say!(words, "merge-in-your-log-already-and-2", known));
    }
    lines.extend(changes(&preview.brings, words));
    lines.extend(hidden(&preview.hidden, words));
    let differ = preview.recorded.contradictory;
    if differ > 0 {
        let differ = words.counted(differ, Counted::NewReadings);
        lines.push(say!(words, "merge-other-than-same-sensor-said", differ));
    }
    lines.push(agreement(preview.agreement, words));
    lines
}

fn day(at: Option<Moment>, words: Words) -> String {
    at.map(|at| words.date(at.local_date())).unwrap_or_default()
}

fn brings(brings: &Brings, words: Words) -> String {
    let (first, last) = (day(brings.first, words), day(brings.last, words));
    let Brings { readings, others, imports, .. } = brings;
    let mut parts =
        vec![words.counted(*readings, Counted::SensorReadings), words.counted(*others, Counted::OtherEntries)];
    if *imports > 0 {
        parts.push(words.counted(*imports, Counted::Imports));
    }
    let parts = parts.join(", ");
    say!(words, "merge-new-to", parts, first, last)
}

fn changes(brings: &Brings, words: Words) -> Option<String> {
    let Brings { corrections, retractions, .. } = brings;
    (corrections + retractions > 0).then(|| {
        let corrections = words.counted(*corrections, Counted::Entries);
        say!(words, "merge-corrects-and-takes-back", corrections, retractions)
    })
}

fn hidden(hidden: &Hidden, words: Words) -> Vec<String> {
    let Hidden { readings, others, some } = hidden;
    if readings + others == 0 {
        return Vec::new();
    }
    let both = readings_and_others(*readings, *others, words);
    let mut lines = vec![say!(words, "merge-what-holds-in-your-log", both)];
    for entry in some {
        let when = words.date_time(entry.at);
        lines.push(format!("{when}  {}", words.what(&entry.what).replace('\n', " / ")));
    }
    let more = others.saturating_sub(some.len() as u64);
    if more > 0 {
        lines.push(say!(words, "merge-and-more", more));
    }
    lines
}

fn agreement(agreement: Agreement, words: Words) -> String {
    let Agreement { compared, differing } = agreement;
    if !agreement.is_conclusive() {
        return text!(words, "merge-two-logs-share-too-little").to_owned();
    }
    let (bound, percent) = (words.amount(40.0), "40 %");
    say!(
        words,
        "merge-at-shared-times-readings-differ",
        differing,
        compared,
        bound,
        level = words.amount(100.0),
        percent
    )
}

pub(crate) fn readings_and_others(readings: u64, others: u64, words: Words) -> String {
    let readings = words.counted(readings, Counted::SensorReadings);
    let others = words.counted(others, Counted::OtherEntries);
    say!(words, "merge-and", readings, others)
}

/// Why a log should not be merged without asking once more.
#[must_use]
pub fn warning(warning: MergeWarning, words: Words) -> String {
    match warning {
        MergeWarning::AnotherWearer(Agreement { compared, differing }) => {
            say!(words, "merge-looks-like-somebody-elses-log", differing, compared)
        }
        MergeWarning::AheadOfClock { entries } => {
            let entries = words.counted(entries, Counted::Entries);
            say!(words, "merge-recorded-later-than-devices-clock", entries)
        }
        MergeWarning::Rewritten { entries } => {
            let entries = words.counted(entries, Counted::Entries);
            say!(words, "merge-in-your-log-already-and", entries)
        }
        MergeWarning::HidesMuch { readings, others } => {
            say!(words, "merge-would-take-back-much-your", readings = readings_and_others(readings, others, words))
        }
    }
}

/// What was added, one sentence a line; `restored` where it was a whole log, settings included.
#[must_use]
pub fn merged_lines(recorded: &Recorded, restored: bool, words: Words) -> Vec<String> {
    if restored {
        let all = words.counted(recorded.new, Counted::Entries);
        return vec![say!(words, "merge-brought-back-with-your-settings", all)];
    }
    let new = words.counted(recorded.new, Counted::NewEntries);
    vec![say!(words, "merge-taken-in", new), text!(words, "merge-settings-and-what-learnt-stay").to_owned()]
}

/// What was saved of a damaged log, one sentence a line.
#[must_use]
pub fn recovered_lines(recovered: &Recovered, words: Words) -> Vec<String> {
    let Recovered { readings, others, settings, unreadable, unsure_sources } = recovered;
    let both = readings_and_others(*readings, *others, words);
    let mut lines = vec![say!(words, "merge-saved", both)];
    lines.push(
        match (settings, unreadable) {
            (true, 0) => text!(words, "merge-your-settings-among"),
            (true, _) => text!(words, "merge-settings-found-look-whether-they"),
            (false, _) => text!(words, "merge-no-settings-found-set-your"),
        }
        .to_owned(),
    );
    if *unreadable > 0 {
        let rows = words.counted(*unreadable, Counted::Rows);
        lines.push(say!(words, "merge-not-readable-and-lost-perhaps", rows));
    }
    if *unsure_sources > 0 {
        let sources = words.counted(*unsure_sources, Counted::Sources);
        lines.push(say!(words, "merge-perhaps-under-wrong-name-taking", sources));
    }
    lines
}
