//! What becomes of a log, in words: what taking in another one would change, and what speaks against it.

use super::meet::{Agreement, Brings, Meeting, Objection, Silenced};
use super::mend::Mended;
use crate::review::telling::pick;
use crate::time::Moment;
use crate::words::Words;

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
        lines.push(pick(
            words,
            format!("{known} of its entries are in your log already; they are not doubled."),
            format!("{known} seiner Einträge stehen schon in deinem Protokoll; sie werden nicht verdoppelt."),
        ));
    }
    lines.extend(changes(&meeting.brings, words));
    lines.extend(silenced(&meeting.silenced, words));
    let differ = meeting.recorded.contradictory;
    if differ > 0 {
        lines.push(pick(
            words,
            format!(
                "{differ} new readings differ from one of the same sensor at the same time; both are kept, the lower \
                 one counts."
            ),
            format!(
                "{differ} neue Werte weichen von einem desselben Sensors zur selben Zeit ab; beide bleiben, der \
                 niedrigere gilt."
            ),
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
    let mut parts = vec![
        pick(words, format!("{readings} sensor readings"), format!("{readings} Sensorwerte")),
        pick(words, format!("{others} other entries"), format!("{others} andere Einträge")),
    ];
    if *imports > 0 {
        parts.push(pick(words, format!("{imports} imports"), format!("{imports} Importe")));
    }
    let parts = parts.join(", ");
    pick(words, format!("New: {parts}, {first} to {last}."), format!("Neu: {parts}, {first} bis {last}."))
}

fn changes(brings: &Brings, words: Words) -> Option<String> {
    let Brings { corrections, retractions, .. } = brings;
    (corrections + retractions > 0).then(|| {
        pick(
            words,
            format!("It corrects {corrections} entries and takes back {retractions}."),
            format!("Es berichtigt {corrections} Einträge und nimmt {retractions} zurück."),
        )
    })
}

fn silenced(silenced: &Silenced, words: Words) -> Vec<String> {
    let Silenced { readings, others, some } = silenced;
    if readings + others == 0 {
        return Vec::new();
    }
    let mut lines = vec![pick(
        words,
        format!(
            "Of what holds in your log now, {readings} sensor readings and {others} other entries would no longer \
             hold; they stay readable."
        ),
        format!(
            "Von dem, was jetzt in deinem Protokoll gilt, würden {readings} Sensorwerte und {others} andere Einträge \
             nicht mehr gelten; sie bleiben lesbar."
        ),
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
        Objection::AheadOfClock { entries } => pick(
            words,
            format!(
                "{entries} of its entries were recorded later than this device's clock says it is. Compare the clocks \
                 of both devices; where neither is wrong, somebody changed the file."
            ),
            format!(
                "{entries} seiner Einträge wurden später aufgezeichnet, als es nach der Uhr dieses Geräts ist. \
                 Vergleiche die Uhren beider Geräte; gehen beide richtig, hat jemand die Datei verändert."
            ),
        ),
        Objection::Rewritten { entries } => pick(
            words,
            format!(
                "{entries} entries that are in your log say something else in this one. Ebbstead never changes an \
                 entry, so somebody changed the file."
            ),
            format!(
                "{entries} Einträge aus deinem Protokoll sagen in diesem etwas anderes. Ebbstead ändert nie einen \
                 Eintrag, also hat jemand die Datei verändert."
            ),
        ),
        Objection::SilencesMuch { readings, others } => pick(
            words,
            format!(
                "It would take back much of your log: {readings} sensor readings and {others} other entries. That is \
                 right only if you took them back yourself on the other device, a file brought in by mistake, say."
            ),
            format!(
                "Es würde viel aus deinem Protokoll zurücknehmen: {readings} Sensorwerte und {others} andere Einträge. \
                 Richtig ist das nur, wenn du sie auf dem anderen Gerät selbst zurückgenommen hast, etwa eine \
                 versehentlich übernommene Datei."
            ),
        ),
    }
}

/// That settings and what was learnt are not taken over, and what to do instead.
#[must_use]
pub fn settings_stay(words: Words) -> String {
    pick(
        words,
        "Settings and what was learnt stay as they are here; learn again to learn from all of it.",
        "Einstellungen und Gelerntes bleiben hier, wie sie sind; lass neu lernen, um aus allem zu lernen.",
    )
    .to_owned()
}

/// What was saved of a damaged log, one sentence a line.
#[must_use]
pub fn mended_lines(mended: &Mended, words: Words) -> Vec<String> {
    let Mended { readings, others, settings, unreadable, unsure_sources } = mended;
    let mut lines = vec![pick(
        words,
        format!("Saved: {readings} sensor readings and {others} other entries."),
        format!("Gerettet: {readings} Sensorwerte und {others} andere Einträge."),
    )];
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
        lines.push(pick(
            words,
            format!("{unreadable} rows could not be read and are lost, perhaps others beside them."),
            format!("{unreadable} Zeilen waren nicht lesbar und sind verloren, vielleicht weitere neben ihnen."),
        ));
    }
    if *unsure_sources > 0 {
        lines.push(pick(
            words,
            format!(
                "The names of {unsure_sources} sources may be wrong; taking in another device's log may double \
                 readings of theirs."
            ),
            format!(
                "Die Namen von {unsure_sources} Quellen könnten falsch sein; das Protokoll eines anderen Geräts zu \
                 übernehmen, könnte Werte von ihnen verdoppeln."
            ),
        ));
    }
    lines
}
