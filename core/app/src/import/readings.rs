//! A table of readings, of whatever program.

use std::io::Read;
use std::path::Path;

use super::report::{Columns, Event, Report};
use super::{Options, listed_as};
use crate::error::Result;
use crate::exchange::Finding;
use crate::exchange::csv;
use crate::exchange::detect::Format;
use crate::log::{Entry, EntryKind};
use crate::store::{Log, More};

pub(super) fn import(
    log: &mut Log,
    input: impl Read,
    name: &Path,
    options: &Options<'_>,
    on_event: &mut dyn FnMut(Event<'_>),
) -> Result<Report> {
    let of_readings = options.of_readings(name);
    let mut rows = csv::Import::open(input, &of_readings)?;
    let mut report = Report::of(Format::Readings);
    let sensor = options.sensor();
    let staged = log.import_file(listed_as(name)?, options.now, options.dry_run, &mut |stage| {
        while !stage.is_full() {
            let next = rows.next_reading(|event| match event {
                csv::Event::Progress(bytes) => on_event(Event::Progress(bytes)),
                csv::Event::Found(finding) => report.add(Finding::Row(finding.clone()), on_event),
            })?;
            let Some(reading) = next else { return Ok(More::No) };
            let what = EntryKind::read_by_sensor(reading.shown());
            let source = what.source_unnamed(&sensor);
            stage.put(Entry::received(reading.at, options.now, source, what)?)?;
        }
        Ok(More::Yes)
    })?;
    let beyond = rows.report().beyond();
    let unused = rows.unused_columns().to_vec();
    let csv::Report { taken, repeated, without_reading, left_out, first, last, spacing_minutes, .. } = rows.report();
    let csv::Report { unit, time_column: time, glucose_column: glucose, .. } = rows.report();
    let columns = Some(Columns { unit, time, glucose, unused, spacing_minutes });
    report = Report { taken, beyond, repeated, without_reading, left_out, first, last, columns, ..report };
    // A reading's identity follows from what it says: none was left out for what the log says already.
    Ok(report.recorded(staged, |_| None, on_event))
}
