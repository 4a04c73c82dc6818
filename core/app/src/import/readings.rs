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
use crate::review::metrics::repeated;
use crate::store::{Log, More};
use crate::time::Moment;

/// What stands beside the time that both have is looked at too, in minutes: it shows the sensor's rhythm.
const BESIDE_MINUTES: f64 = 60.0;

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
    let had = log.span()?;
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
    let report = report.recorded(staged, |_| None, on_event);
    let moments_apart = if report.imported.is_some_and(|imported| imported.recorded.new > 0) {
        moments_apart(log, had, first.zip(last))?
    } else {
        0
    };
    Ok(Report { moments_apart, ..report })
}

/// How many readings of the time for which the log had entries before the file came say what another of the same sensor says moments
/// apart: a file that gives the seconds, beside one that does not.
fn moments_apart(log: &Log, had: Option<(Moment, Moment)>, of_file: Option<(Moment, Moment)>) -> Result<u64> {
    let Some(((had_first, had_last), (first, last))) = had.zip(of_file) else { return Ok(0) };
    let (from, until) = (had_first.max(first), had_last.min(last));
    if until.is_before(from) {
        return Ok(0);
    }
    let history = log.history(from.plus_minutes(-BESIDE_MINUTES), until.plus_minutes(BESIDE_MINUTES))?;
    Ok(repeated(&history.readings) as u64)
}
