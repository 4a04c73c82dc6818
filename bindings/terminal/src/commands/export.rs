//! `export`: the log in an open format, for a clinic or another program.

use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use ebbstead_core::Error;
use ebbstead_core::exchange::csv::table::{self, Which};
use ebbstead_core::exchange::fhir::{self, Carried};
use ebbstead_core::exchange::file::put_in_place;
use ebbstead_core::log::EntryKind;
use ebbstead_core::sentences::fhir::carried_lines;
use ebbstead_core::sentences::readable_by_anybody;
use ebbstead_core::sentences::table::written_line;
use ebbstead_core::store::Log;
use ebbstead_core::time::{DAY_MS, Moment};

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
    /// In a table: what was corrected or taken back too
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
    let until = given.until.as_ref().map_or(Ok(now), |text| context.place.parse(text, now))?;
    let days_back = |days: u16| until.plus_ms(-i64::from(days) * DAY_MS);
    let from = match (&given.from, given.days) {
        (Some(text), _) => Some(context.place.parse(text, now)?),
        (None, days) => days.map(days_back),
    };
    if given.format == Format::Table {
        return as_table(context, given, &log, (from, given.until.as_ref().map(|_| until)));
    }
    let written = |out: &mut dyn Write| -> Result<Carried, Failure> {
        Ok(fhir::export(&log, out, &given.file, (from, until), now)?)
    };
    if given.file == Path::new("-") {
        written(&mut BufWriter::new(io::stdout().lock()))?;
        return Ok(());
    }
    let carried = into_file(given, written)?;
    say(context, &given.file, &carried)
}

/// Puts a file in place as a whole.
fn into_file<T>(given: &Export, write: impl FnOnce(&mut dyn Write) -> Result<T, Failure>) -> Result<T, Failure> {
    let done = put_in_place(&given.file, given.replace, |part| {
        let mut out = BufWriter::new(part.as_file());
        let done = write(&mut out)?;
        out.flush()?;
        Ok(done)
    });
    done.map_err(|failure| match failure {
        Failure::Output(source) => Failure::Core(Error::File { path: given.file.clone(), source }),
        other => other,
    })
}

fn as_table(
    context: &Context,
    given: &Export,
    log: &Log,
    stretch: (Option<Moment>, Option<Moment>),
) -> Result<(), Failure> {
    let which = if given.all { Which::All } else { Which::Holding };
    let words = context.words();
    let said = |what: &EntryKind| words.what(what);
    let write = |out: &mut dyn Write| Ok(table::write(log, out, &given.file, &said, which, stretch)?);
    if given.file == Path::new("-") {
        write(&mut BufWriter::new(io::stdout().lock()))?;
        return Ok(());
    }
    let written = into_file(given, write)?;
    let mut screen = context.screen();
    screen.paragraph(&written_line(&written, context.words()))?;
    screen.paragraph(readable_by_anybody(context.words()))?;
    Ok(screen.finish()?)
}

fn say(context: &Context, path: &Path, carried: &Carried) -> Result<(), Failure> {
    let mut screen = context.screen();
    screen.line(&format!("{}:", path.display()))?;
    carried_lines(carried, context.words()).iter().try_for_each(|line| screen.paragraph(line))?;
    screen.paragraph(readable_by_anybody(context.words()))?;
    Ok(screen.finish()?)
}
