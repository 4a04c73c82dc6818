//! What a bundle was refused or left out for, in words.

use crate::exchange::fhir::{Carried, NotCarried};
use crate::exchange::fhir::{Fault, Finding, FindingCode};
use crate::sentences::pick;
use crate::words::{Counted, Words};

/// Why a file is refused, and what to do.
#[must_use]
pub fn fault_text(fault: &Fault, words: Words) -> String {
    match fault {
        Fault::NotJson => pick(
            words,
            "this is no JSON, or the file ends too soon; FHIR as XML is not read",
            "das ist kein JSON, oder die Datei endet zu früh; FHIR als XML wird nicht gelesen",
        )
        .to_owned(),
        Fault::NotABundle => {
            pick(words, "this is JSON and no FHIR Bundle", "das ist JSON, aber kein FHIR-Bundle").to_owned()
        }
        Fault::SeveralPeople { count } => pick(
            words,
            format!(
                "it is about {count} people; glucose of several must not end up in one log, so say which one to take"
            ),
            format!(
                "es geht um {count} Personen; Werte mehrerer dürfen nicht in ein Protokoll, also angeben, welche gemeint ist"
            ),
        ),
        Fault::NoSuchPerson => {
            pick(words, "the person asked for is not in it", "die angegebene Person kommt darin nicht vor").to_owned()
        }
        Fault::TooLarge { most_megabytes } => pick(
            words,
            format!("one resource in it is larger than {most_megabytes} MB, which none that is read here is"),
            format!(
                "eine Ressource darin ist größer als {most_megabytes} MB, und so groß ist keine, die hier gelesen wird"
            ),
        ),
    }
}

/// A finding with its place.
#[must_use]
pub fn finding_text(finding: &Finding, words: Words) -> String {
    let why = match finding.code {
        FindingCode::NotFinal => pick(words, "it is not final", "es ist nicht endgültig"),
        FindingCode::NoTime => pick(words, "there is no time", "es fehlt die Zeit"),
        FindingCode::TimeNotExact => pick(
            words,
            "the time is not told to the minute with its offset from UTC",
            "die Zeit ist nicht auf die Minute und mit ihrem Abstand zu UTC angegeben",
        ),
        FindingCode::TimeOutsideYears => pick(
            words,
            "the time lies outside the years 2000 to 2199",
            "die Zeit liegt außerhalb der Jahre 2000 bis 2199",
        ),
        FindingCode::InFuture => {
            pick(words, "the time lies ahead of this device's clock", "die Zeit liegt vor der Uhr dieses Geräts")
        }
        FindingCode::NoValue => pick(words, "there is no number", "es fehlt eine Zahl"),
        FindingCode::SaysLow => pick(
            words,
            "it says less than what could be read: a low without its number",
            "es sagt weniger als messbar: zu niedrig, ohne Zahl",
        ),
        FindingCode::SaysHigh => pick(
            words,
            "it says more than what could be read: a high without its number",
            "es sagt mehr als messbar: zu hoch, ohne Zahl",
        ),
        FindingCode::OutOfRange => pick(
            words,
            "the value is outside what a log takes",
            "der Wert liegt außerhalb dessen, was ein Protokoll aufnimmt",
        ),
        FindingCode::UnitUnknown => pick(words, "the unit is not known here", "die Einheit ist hier unbekannt"),
        FindingCode::UnitContradictsCode => pick(
            words,
            "the code asks for another unit than the value has; which is wrong cannot be known",
            "der Code verlangt eine andere Einheit als der Wert hat; was falsch ist, lässt sich nicht wissen",
        ),
        FindingCode::InsulinUnknown => pick(
            words,
            "the insulin is neither rapid-acting nor long-acting alone",
            "das Insulin ist weder nur schnell noch nur lang wirkend",
        ),
        FindingCode::PartUnknown => pick(
            words,
            "a part is missing or of a newer version",
            "ein Teil fehlt oder stammt aus einer neueren Version",
        ),
        FindingCode::OtherContent => pick(
            words,
            "the log has this entry with another content, which was kept",
            "das Protokoll hat diesen Eintrag mit anderem Inhalt; der bleibt",
        ),
        FindingCode::CorrectsKnown => pick(
            words,
            "it would correct an entry of this log; correct it by hand, or merge the logs",
            "es würde einen Eintrag dieses Protokolls berichtigen; von Hand berichtigen oder die Protokolle vereinen",
        ),
        FindingCode::CannotBe => pick(words, "it contradicts itself", "es widerspricht sich selbst"),
    };
    let (place, element) = (finding.entry, finding.element);
    pick(
        words,
        format!("entry {place}, {element}: {why}; left out"),
        format!("Eintrag {place}, {element}: {why}; ausgelassen"),
    )
}

/// What a bundle came to, one sentence a line: what is in it, and what is not.
#[must_use]
pub fn carried_lines(carried: &Carried, words: Words) -> Vec<String> {
    let entries = words.counted(carried.entries, Counted::Entries);
    let figures = words.counted(carried.figures, Counted::Figures);
    let mut lines = vec![
        pick(words, format!("{entries} and {figures}."), format!("{entries} und {figures}.")),
        not_carried(words).to_owned(),
    ];
    lines.extend(carried.not_carried.iter().map(|(what, count)| {
        let left_out = not_carried_text(*what, *count, words);
        pick(words, format!("Not in it: {left_out}."), format!("Nicht darin: {left_out}."))
    }));
    lines
}

/// What no bundle carries, for the note beside an export.
#[must_use]
pub fn not_carried(words: Words) -> &'static str {
    pick(
        words,
        "A bundle carries what holds. What was corrected or taken back, your settings and what was learnt stay in the log.",
        "Ein Bundle enthält, was gilt. Berichtigtes und Zurückgenommenes, deine Einstellungen und Gelerntes bleiben im Protokoll.",
    )
}

/// One thing that a bundle left out, and how often.
#[must_use]
pub fn not_carried_text(what: NotCarried, count: u64, words: Words) -> String {
    match what {
        NotCarried::Import => pick(
            words,
            format!("that files were imported ({count})"),
            format!("dass Dateien eingelesen wurden ({count})"),
        ),
        NotCarried::Retraction => pick(
            words,
            format!("that entries were taken back ({count})"),
            format!("dass Einträge zurückgenommen wurden ({count})"),
        ),
        NotCarried::Summary => pick(
            words,
            "the review's figures: too few readings, or ranges other than 70 to 180 mg/dL",
            "die Zahlen des Rückblicks: zu wenige Werte, oder andere Bereiche als 70 bis 180 mg/dL",
        )
        .to_owned(),
    }
}
