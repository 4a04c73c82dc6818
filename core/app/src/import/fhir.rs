//! HL7 FHIR.

use std::cell::RefCell;
use std::io::Read;
use std::path::Path;

use super::report::{About, Event, Report};
use super::{Options, listed_as};
use crate::error::Result;
use crate::exchange::Finding;
use crate::exchange::detect::Format;
use crate::exchange::fhir::{self, FindingCode};
use crate::log::Entry;
use crate::store::{Conflict, Log, More};

pub(super) fn import(
    log: &mut Log,
    input: impl Read,
    name: &Path,
    options: &Options<'_>,
    on_event: &mut dyn FnMut(Event<'_>),
) -> Result<Report> {
    let of_fhir = fhir::Options {
        sensor: options.sensor(),
        subject: options.person.clone(),
        ..fhir::Options::new(name, options.now)
    };
    let mut report = Report::of(Format::Fhir);
    let (mut input, mut read) = (Some(input), fhir::Report::default());
    // That it is about several people, or torn, shows at its end: it is read whole, and never stops for a full stage.
    let staged = log.import_file(listed_as(name)?, options.now, options.dry_run, &mut |stage| {
        if let Some(input) = input.take() {
            let stage = RefCell::new(stage);
            let take = &mut |_, entry| Ok(stage.borrow_mut().put(entry)?.map(code));
            let holds = &mut |entry: &Entry, apart| stage.borrow_mut().holds(entry, apart);
            let found = &mut |found: &fhir::Finding| report.add(Finding::Resource(found.clone()), on_event);
            read = fhir::each(input, &of_fhir, take, holds, found)?;
        }
        Ok(More::No)
    })?;
    let fhir::Report { taken, left_out, others, subject, first, last, counts: _, findings: _ } = read;
    let own = format!("urn:uuid:{}", log.id()?);
    let about = match subject {
        None => About::Nobody,
        Some(subject) if subject == own => About::ThisLog,
        Some(subject) => About::Somebody(subject),
    };
    report = Report { taken, left_out, others, first, last, about: Some(about), ..report };
    let late = |conflict| Some(Finding::Resource(fhir::Finding { entry: 0, element: "id", code: code(conflict) }));
    Ok(report.recorded(staged, late, on_event))
}

const fn code(conflict: Conflict) -> FindingCode {
    match conflict {
        Conflict::OtherContent => FindingCode::OtherContent,
        Conflict::CorrectsKnown => FindingCode::CorrectsKnown,
    }
}
