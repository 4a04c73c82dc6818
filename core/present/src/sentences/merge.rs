//! What becomes of a log, in words: what taking in another one would change, and what speaks against it.

use crate::sentences::pick;
use crate::store::Mended;
use crate::store::Recorded;
use crate::store::{Agreement, Brings, Meeting, Objection, Silenced};
use crate::time::Moment;
use crate::words::{Counted, Words};

/// What taking in a log would do, one sentence a line; no line where nothing would change.
#[must_use]
pub fn meeting_lines(meeting: &Meeting, words: Words) -> Vec<String> {
    if meeting.changes_nothing() {
        return vec![
            pick(
                words,
                "Nothing would change: everything in it is in your log already.",
                "Nichts würde sich ändern: alles darin steht schon in deinem Protokoll.",
            )
            .to_owned(),
        ];
    }
    let mut lines = vec![brings(&meeting.brings, words)];
    let known = meeting.recorded.known;
    if known > 0 {
        let known = words.counted(known, Counted::Entries);
        lines.push(pick(
            words,
            format!("In your log already, and not doubled: {known}."),
            format!("Schon in deinem Protokoll, und nicht verdoppelt: {known}."),
        ));
    }
    lines.extend(changes(&meeting.brings, words));
    lines.extend(silenced(&meeting.silenced, words));
    let differ = meeting.recorded.contradictory;
    if differ > 0 {
        let differ = words.counted(differ, Counted::NewReadings);
        lines.push(pick(
            words,
            format!(
                "Other than the same sensor said for the same time: {differ}. Both are kept; the lower one counts."
            ),
            format!("Anders, als derselbe Sensor zur selben Zeit sagte: {differ}. Beide bleiben; der niedrigere gilt."),
        ));
    }
    lines.push(agreement(meeting.agreement, words));
    lines
}

fn day(at: Option<Moment>) -> String {
    at.map(|at| at.local_date().to_string()).unwrap_or_default()
}

fn brings(brings: &Brings, words: Words) -> String {
    let (first, last) = (day(brings.first), day(brings.last));
    let Brings { readings, others, imports, .. } = brings;
    let mut parts =
        vec![words.counted(*readings, Counted::SensorReadings), words.counted(*others, Counted::OtherEntries)];
    if *imports > 0 {
        parts.push(words.counted(*imports, Counted::Imports));
    }
    let parts = parts.join(", ");
    pick(words, format!("New: {parts}, {first} to {last}."), format!("Neu: {parts}, {first} bis {last}."))
}

fn changes(brings: &Brings, words: Words) -> Option<String> {
    let Brings { corrections, retractions, .. } = brings;
    (corrections + retractions > 0).then(|| {
        let corrections = words.counted(*corrections, Counted::Entries);
        pick(
            words,
            format!("It corrects {corrections} and takes back {retractions}."),
            format!("Es berichtigt {corrections} und nimmt {retractions} zurück."),
        )
    })
}

fn silenced(silenced: &Silenced, words: Words) -> Vec<String> {
    let Silenced { readings, others, some } = silenced;
    if readings + others == 0 {
        return Vec::new();
    }
    let both = readings_and_others(*readings, *others, words);
    let mut lines = vec![pick(
        words,
        format!("Of what holds in your log now, {both} would no longer hold; they stay readable."),
        format!("Von dem, was jetzt in deinem Protokoll gilt, würden {both} nicht mehr gelten; sie bleiben lesbar."),
    )];
    for entry in some {
        let when = entry.at.local().format("%Y-%m-%d %H:%M");
        lines.push(format!("{when}  {}", words.what(&entry.what).replace('\n', " / ")));
    }
    let more = others.saturating_sub(some.len() as u64);
    if more > 0 {
        lines.push(pick(words, format!("and {more} more"), format!("und {more} weitere")));
    }
    lines
}

fn agreement(agreement: Agreement, words: Words) -> String {
    let Agreement { compared, differing } = agreement;
    if !agreement.is_telling() {
        return pick(
            words,
            "The two logs share too little time to tell by their readings whether both are yours.",
            "Die beiden Protokolle haben zu wenig gemeinsame Zeit, um an den Werten zu sehen, ob beide deine sind.",
        )
        .to_owned();
    }
    let (bound, percent) = (words.amount(40.0), "40 %");
    pick(
        words,
        format!(
            "At {differing} of {compared} shared times the readings differ by more than {bound} (above {}: {percent}).",
            words.amount(100.0)
        ),
        format!(
            "Zu {differing} von {compared} gemeinsamen Zeiten weichen die Werte um mehr als {bound} ab (über {}: {percent}).",
            words.amount(100.0)
        ),
    )
}

pub(crate) fn readings_and_others(readings: u64, others: u64, words: Words) -> String {
    let readings = words.counted(readings, Counted::SensorReadings);
    let others = words.counted(others, Counted::OtherEntries);
    pick(words, format!("{readings} and {others}"), format!("{readings} und {others}"))
}

/// Why a log should not be taken in without asking once more.
#[must_use]
pub fn objection(objection: Objection, words: Words) -> String {
    match objection {
        Objection::AnotherWearer(Agreement { compared, differing }) => pick(
            words,
            format!(
                "This looks like somebody else's log: at {differing} of {compared} shared times its readings do not \
                 fit yours. Prompts made from two people's readings are dangerous."
            ),
            format!(
                "Das sieht nach dem Protokoll einer anderen Person aus: zu {differing} von {compared} gemeinsamen \
                 Zeiten passen die Werte nicht zu deinen. Hinweise aus den Werten zweier Menschen sind gefährlich."
            ),
        ),
        Objection::AheadOfClock { entries } => {
            let entries = words.counted(entries, Counted::Entries);
            pick(
                words,
                format!(
                    "Recorded later than this device's clock says it is: {entries}. Compare the clocks of both devices; \
                     where neither is wrong, somebody changed the file."
                ),
                format!(
                    "Später aufgezeichnet, als es nach der Uhr dieses Geräts ist: {entries}. Vergleiche die Uhren beider \
                     Geräte; gehen beide richtig, hat jemand die Datei verändert."
                ),
            )
        }
        Objection::Rewritten { entries } => {
            let entries = words.counted(entries, Counted::Entries);
            pick(
                words,
                format!(
                    "In your log already, and saying something else in this one: {entries}. Ebbstead never changes an \
                     entry, so somebody changed the file."
                ),
                format!(
                    "Schon in deinem Protokoll, und in diesem mit anderem Inhalt: {entries}. Ebbstead ändert nie einen \
                     Eintrag, also hat jemand die Datei verändert."
                ),
            )
        }
        Objection::SilencesMuch { readings, others } => pick(
            words,
            format!(
                "It would take back much of your log: {}. That is right only if you took them back \
                 yourself on the other device, a file brought in by mistake, say.",
                readings_and_others(readings, others, words)
            ),
            format!(
                "Es würde viel aus deinem Protokoll zurücknehmen: {}. \
                 Richtig ist das nur, wenn du sie auf dem anderen Gerät selbst zurückgenommen hast, etwa eine \
                 versehentlich übernommene Datei.",
                readings_and_others(readings, others, words)
            ),
        ),
    }
}

/// What was taken in, one sentence a line; `restored` where it was a whole log, settings included.
#[must_use]
pub fn taken_in_lines(recorded: &Recorded, restored: bool, words: Words) -> Vec<String> {
    if restored {
        let all = words.counted(recorded.new, Counted::Entries);
        return vec![pick(
            words,
            format!("Brought back: {all}, with your settings and what was learnt."),
            format!("Zurückgeholt: {all}, mit deinen Einstellungen und dem Gelernten."),
        )];
    }
    let new = words.counted(recorded.new, Counted::NewEntries);
    vec![
        pick(words, format!("Taken in: {new}."), format!("Übernommen: {new}.")),
        pick(
            words,
            "Settings and what was learnt stay as they are here; learn again to learn from all of it.",
            "Einstellungen und Gelerntes bleiben hier, wie sie sind; lass neu lernen, um aus allem zu lernen.",
        )
        .to_owned(),
    ]
}

/// What was saved of a damaged log, one sentence a line.
#[must_use]
pub fn mended_lines(mended: &Mended, words: Words) -> Vec<String> {
    let Mended { readings, others, settings, unreadable, unsure_sources } = mended;
    let both = readings_and_others(*readings, *others, words);
    let mut lines = vec![pick(words, format!("Saved: {both}."), format!("Gerettet: {both}."))];
    lines.push(
        match (settings, unreadable) {
            (true, 0) => pick(words, "Your settings are among it.", "Deine Einstellungen sind dabei."),
            (true, _) => pick(
                words,
                "Settings were found; look whether they are the ones you had.",
                "Einstellungen wurden gefunden; sieh nach, ob es die sind, die du hattest.",
            ),
            (false, _) => pick(
                words,
                "No settings were found: set your unit, lines and factors again.",
                "Einstellungen wurden keine gefunden: stell Einheit, Grenzen und Faktoren neu ein.",
            ),
        }
        .to_owned(),
    );
    if *unreadable > 0 {
        let rows = words.counted(*unreadable, Counted::Rows);
        lines.push(pick(
            words,
            format!("Not readable, and lost: {rows}, perhaps others beside them."),
            format!("Nicht lesbar, und verloren: {rows}, vielleicht weitere daneben."),
        ));
    }
    if *unsure_sources > 0 {
        let sources = words.counted(*unsure_sources, Counted::Sources);
        lines.push(pick(
            words,
            format!(
                "Perhaps under a wrong name: {sources}. Taking in another device's log may double readings of theirs."
            ),
            format!(
                "Vielleicht unter falschem Namen: {sources}. Das Protokoll eines anderen Geräts zu übernehmen, könnte \
                 Werte von dort verdoppeln."
            ),
        ));
    }
    lines
}
