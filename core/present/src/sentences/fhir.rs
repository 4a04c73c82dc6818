//! What a bundle was refused or left out for, in words.

use crate::exchange::fhir::{Carried, NotCarried};
use crate::exchange::fhir::{Finding, FindingCode, ResourceFault};
use crate::words::{Counted, Words};
use crate::{say, text};

/// Why a file is refused, and what to do.
#[must_use]
pub fn fault_text(fault: &ResourceFault, words: Words) -> String {
    match fault {
        ResourceFault::NotJson => text!(words, "fhir-no-json-or-file-ends").to_owned(),
        ResourceFault::NotABundle => text!(words, "fhir-json-and-no-fhir-bundle").to_owned(),
        ResourceFault::SeveralPeople { count } => say!(words, "fhir-about-people-glucose-several-must", count),
        ResourceFault::NoSuchPerson => text!(words, "fhir-person-asked-for-not-in").to_owned(),
        ResourceFault::TooLarge { most_megabytes } => say!(words, "fhir-one-resource-in-larger-than", most_megabytes),
    }
}

/// A finding with its place.
#[must_use]
pub fn finding_text(finding: &Finding, words: Words) -> String {
    let why = match finding.code {
        FindingCode::NotFinal => text!(words, "fhir-not-final"),
        FindingCode::NoTime => text!(words, "fhir-there-no-time"),
        FindingCode::TimeNotExact => text!(words, "fhir-time-not-given-to-minute"),
        FindingCode::TimeOutsideYears => text!(words, "fhir-time-lies-outside-years-2000"),
        FindingCode::InFuture => text!(words, "fhir-time-lies-ahead-devices-clock"),
        FindingCode::NoValue => text!(words, "fhir-there-no-number"),
        FindingCode::SaysLow => text!(words, "fhir-says-less-than-what-could"),
        FindingCode::SaysHigh => text!(words, "fhir-says-more-than-what-could"),
        FindingCode::OutOfRange => text!(words, "fhir-value-outside-what-log-takes"),
        FindingCode::UnitUnknown => text!(words, "fhir-unit-not-known-here"),
        FindingCode::UnitContradictsCode => text!(words, "fhir-code-asks-for-another-unit"),
        FindingCode::InsulinUnknown => text!(words, "fhir-insulin-neither-rapid-acting-nor"),
        FindingCode::InsulinUncoded => text!(words, "fhir-insulin-without-code"),
        FindingCode::Laboratory => text!(words, "fhir-laboratory"),
        FindingCode::PartUnknown => text!(words, "fhir-part-missing-or-newer-version"),
        FindingCode::ModifierUnknown => text!(words, "fhir-modifier-not-known-here"),
        FindingCode::NameTwice => text!(words, "fhir-name-stands-twice"),
        FindingCode::OtherContent => text!(words, "fhir-log-has-entry-with-another"),
        FindingCode::CorrectsKnown => text!(words, "fhir-would-correct-entry-log-correct"),
        FindingCode::CannotBe => text!(words, "fhir-contradicts-itself"),
        FindingCode::Withdrawn => text!(words, "fhir-withdrawn-at-source"),
        FindingCode::Amended => text!(words, "fhir-amended-at-source"),
    };
    let (place, element) = (finding.entry, finding.element);
    if finding.code.is_taken() {
        return say!(words, "fhir-entry-taken", place, element, why);
    }
    say!(words, "fhir-entry-left-out", place, element, why)
}

/// What a bundle came to, one sentence a line: what is in it, and what is not.
#[must_use]
pub fn carried_lines(carried: &Carried, words: Words) -> Vec<String> {
    let entries = words.counted(carried.entries, Counted::Entries);
    let figures = words.counted(carried.figures, Counted::Figures);
    let mut lines = vec![say!(words, "fhir-and", entries, figures), not_carried(words).to_owned()];
    lines.extend(carried.not_carried.iter().map(|(what, count)| {
        let left_out = not_carried_text(*what, *count, words);
        say!(words, "fhir-not-in", left_out)
    }));
    lines
}

/// What no bundle carries, for the note beside an export.
#[must_use]
pub fn not_carried(words: Words) -> &'static str {
    text!(words, "fhir-bundle-carries-what-holds-what")
}

/// One thing that a bundle left out, and how often.
#[must_use]
fn not_carried_text(what: NotCarried, count: u64, words: Words) -> String {
    match what {
        NotCarried::Import => say!(words, "fhir-files-imported", count),
        NotCarried::Retraction => say!(words, "fhir-entries-taken-back", count),
        NotCarried::Summary => text!(words, "fhir-reviews-figures-too-few-readings").to_owned(),
    }
}
