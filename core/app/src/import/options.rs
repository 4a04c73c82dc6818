//! What a shell knows about a file, and what the wearer says about it.

use std::path::Path;

use crate::exchange::csv::{self, Zone};
use crate::log::Source;
use crate::time::Moment;
use crate::units::GlucoseUnit;

/// How to read a file. Every `None` is found from the file.
#[derive(Clone, Debug)]
pub struct Options<'a> {
    /// The caller's clock: what is ahead of it is left out.
    pub now: Moment,
    /// What local times without an offset mean: the wearer's zone.
    pub zone: Zone<'a>,
    /// The unit the wearer reads: what a file is taken to be in that has no amount to infer it from.
    pub usual_unit: GlucoseUnit,
    /// The unit of a table's values.
    pub unit: Option<GlucoseUnit>,
    /// The name of the column with the time, or its number from 1.
    pub time_column: Option<String>,
    /// The name of the column with the readings, or its number from 1.
    pub glucose_column: Option<String>,
    /// How times are written, in the notation of `strftime`.
    pub time_format: Option<String>,
    /// The separator between cells.
    pub separator: Option<u8>,
    /// The sensor whose readings these are, where the file names none.
    pub sensor: Option<Source>,
    /// The person to take, where FHIR is about several: the subject's reference.
    pub person: Option<String>,
    /// Only say what would be taken.
    pub dry_run: bool,
}

impl Options<'_> {
    /// Everything found from the file; local times by the offset of `now`.
    #[must_use]
    pub const fn found(now: Moment, usual_unit: GlucoseUnit) -> Self {
        Self {
            now,
            zone: Zone::Fixed(now.offset_minutes()),
            usual_unit,
            unit: None,
            time_column: None,
            glucose_column: None,
            time_format: None,
            separator: None,
            sensor: None,
            person: None,
            dry_run: false,
        }
    }
}

impl<'a> Options<'a> {
    /// The source of readings that the file names none for.
    pub(super) fn sensor(&self) -> Source {
        self.sensor.clone().unwrap_or_else(Source::unnamed_sensor)
    }

    pub(super) fn of_readings(&self, name: &Path) -> csv::Options<'a> {
        csv::Options {
            file: name.to_owned(),
            usual_unit: self.usual_unit,
            now: Some(self.now),
            zone: self.zone,
            unit: self.unit,
            time_column: self.time_column.clone(),
            glucose_column: self.glucose_column.clone(),
            time_format: self.time_format.clone(),
            separator: self.separator,
        }
    }
}
