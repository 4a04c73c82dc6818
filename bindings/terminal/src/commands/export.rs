//! `export`: the log in an open format, for a clinic or another program.

use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use ebbstead_core::copies::{table_to, write_bundle, write_table};
use ebbstead_core::exchange::csv::table::Which;
use ebbstead_core::exchange::fhir::export;
use ebbstead_core::review::Period;
use ebbstead_core::time::DAY_MS;

use crate::context::Context;
use crate::failure::Failure;

/// `export`.
#[derive(Debug, Args)]
pub struct Export {
    /// The file to write, which must not be there yet unless --replace is given; - writes to standard output
    pub file: PathBuf,
    /// The format
    #[arg(long = "as", value_name = "FORMAT")]
    pub format: Format,
    /// How many days, up to now or to --until; everything unless given
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u16).range(1..))]
    pub days: Option<u16>,
    /// From this time on
    #[arg(long, value_name = "TIME", conflicts_with = "days")]
    pub from: Option<String>,
    /// Up to this time, if not now
    #[arg(long, value_name = "TIME")]
    pub until: Option<String>,
    /// In a table: include what was corrected or taken back, except entries that only a file brought and that were taken back with it
    #[arg(long)]
    pub all: bool,
    /// Replace the file if it is there
    #[arg(long)]
    pub replace: bool,
}

/// A format.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// HL7 FHIR R4: readings, meter checks and what else is noted, with the review's figures
    Fhir,
    /// A table for spreadsheets (CSV): one row an entry, glucose in both units, local time and UTC; import reads it back
    Table,
}

pub fn run(context: &Context, given: &Export) -> Result<(), Failure> {
    let now = context.now()?;
    let (log, _) = context.open(now)?;
    let until = given.until.as_ref().map_or(Ok(now), |text| context.time(text, now))?;
    let days_back = |days: u16| until.plus_ms(-i64::from(days) * DAY_MS);
    let from = match (&given.from, given.days) {
        (Some(text), _) => Some(context.time(text, now)?),
        (None, days) => days.map(days_back),
    };
    if let Some(from) = from {
        Period::new(from, until)?;
    }
    let stretch = (from, given.until.as_ref().map(|_| until));
    let of = (if given.all { Which::All } else { Which::Holding }, stretch);
    let (path, words) = (&*given.file, context.words());
    if path == Path::new("-") {
        let out = &mut BufWriter::new(io::stdout().lock());
        match given.format {
            Format::Table => drop(table_to(&log, out, path, of, words)?),
            Format::Fhir => drop(export(&log, &mut *out, path, (from, until), now)?),
        }
        return Ok(out.flush()?);
    }
    let mut screen = context.screen();
    let lines = match given.format {
        Format::Table => write_table(&log, path, given.replace, of, words)?,
        Format::Fhir => {
            let lines = write_bundle(&log, path, given.replace, (from, until), now, words)?;
            screen.line(&format!("{}:", path.display()))?;
            lines
        }
    };
    lines.iter().try_for_each(|line| screen.paragraph(line))?;
    Ok(screen.finish()?)
}
