//! A table that this project wrote, of entries of every kind.

use std::io::Read;
use std::path::Path;

use super::report::{Event, Report};
use super::{Options, listed_as};
use crate::error::Result;
use crate::exchange::Finding;
use crate::exchange::csv::table::{self, Trouble};
use crate::exchange::detect::Format;
use crate::store::{Log, More};

pub(super) fn import(
    log: &mut Log,
    input: impl Read,
    name: &Path,
    options: &Options<'_>,
    on_event: &mut dyn FnMut(Event<'_>),
) -> Result<Report> {
    let mut rows = table::Rows::open(input, name, options.now, options.sensor())?;
    let mut report = Report::of(Format::Table);
    let staged = log.import_file(listed_as(name)?, options.now, options.dry_run, &mut |stage| {
        while !stage.is_full() {
            let left_out = match rows.next_row()? {
                None => return Ok(More::No),
                Some(Err(finding)) => Some(finding),
                Some(Ok(entry)) => {
                    let at = entry.at;
                    let conflict = stage.put(entry)?;
                    if conflict.is_none() {
                        report.taken += 1;
                        report.first = Some(report.first.map_or(at, |first| first.min(at)));
                        report.last = Some(report.last.map_or(at, |last| last.max(at)));
                    }
                    conflict.map(|_| table::Finding { line: rows.line(), trouble: Trouble::Changed })
                }
            };
            if let Some(finding) = left_out {
                report.left_out += 1;
                report.add(Finding::Entry(finding), on_event);
            }
        }
        Ok(More::Yes)
    })?;
    let changed = |_| Some(Finding::Entry(table::Finding { line: 0, trouble: Trouble::Changed }));
    Ok(report.recorded(staged, changed, on_event))
}
