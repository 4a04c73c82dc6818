//! `export`: the log in an open format, for a clinic or another program.

use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use ebbstead_core::Error;
use ebbstead_core::exchange::csv::table::{self, Which, Written};
use ebbstead_core::exchange::fhir::{self, Bundle, Carried};
use ebbstead_core::exchange::file::put_in_place;
use ebbstead_core::review::{Manner, Period, Review};
use ebbstead_core::store::Log;
use ebbstead_core::time::{DAY_MS, Moment};
use ebbstead_core::wearer::Wearer;

use crate::desk::Desk;
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

/// Entries are fetched this much at a time, so that a log of many years needs no more memory than one of a month.
const AT_A_TIME_MS: i64 = 30 * DAY_MS;
/// Without a span of its own the review looks back this far, in days: what the consensus asks for.
const REVIEWED_DAYS: u16 = 14;

pub fn run(desk: &Desk, given: &Export) -> Result<(), Failure> {
    let now = desk.now()?;
    let (log, wearer) = desk.open(now)?;
    let until = given.until.as_ref().map_or(Ok(now), |text| desk.place.parse(text, now))?;
    let days_back = |days: u16| until.plus_ms(-i64::from(days) * DAY_MS);
    let from = match (&given.from, given.days) {
        (Some(text), _) => Some(desk.place.parse(text, now)?),
        (None, days) => days.map(days_back),
    };
    if given.format == Format::Table {
        return as_table(desk, given, &log, (from, given.until.as_ref().map(|_| until)));
    }
    let reviewed = Period::new(from.unwrap_or_else(|| days_back(REVIEWED_DAYS)), until)?;
    let from = from.map_or_else(|| Moment::new(FIRST_MS, 0), Ok)?;
    let written = |out: &mut dyn Write| -> Result<Carried, Failure> {
        let mut bundle = Bundle::begin(out, log.id()?, now)?;
        put_all(&log, from, until, &mut bundle)?;
        bundle.put_review(&review(&log, &wearer, reviewed)?)?;
        Ok(bundle.finish()?)
    };
    if given.file == Path::new("-") {
        written(&mut BufWriter::new(io::stdout().lock()))?;
        return Ok(());
    }
    let carried = into_file(given, written)?;
    say(desk, &given.file, &carried)
}

/// 1 January 2000: the first instant a log takes.
const FIRST_MS: i64 = 946_684_800_000;

fn put_all<W: Write>(log: &Log, from: Moment, until: Moment, bundle: &mut Bundle<W>) -> Result<(), Failure> {
    let mut begin = from;
    while begin.unix_ms() <= until.unix_ms() {
        let end = begin.plus_ms(AT_A_TIME_MS - 1);
        let end = if end.unix_ms() < until.unix_ms() { end } else { until };
        for entry in log.holding(begin, end)? {
            bundle.put(&entry)?;
        }
        if end.unix_ms() >= until.unix_ms() {
            break;
        }
        begin = end.plus_ms(1);
    }
    Ok(())
}

fn review(log: &Log, wearer: &Wearer, period: Period) -> Result<Review, Failure> {
    // A day before, so that what began earlier is known.
    let history = log.history(period.from().plus_ms(-DAY_MS), period.until())?;
    Ok(Review::of(&history, wearer, period, Manner::default()))
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

fn as_table(desk: &Desk, given: &Export, log: &Log, stretch: (Option<Moment>, Option<Moment>)) -> Result<(), Failure> {
    let which = if given.all { Which::All } else { Which::Holding };
    let write = |out: &mut dyn Write| Ok(table::write(log, out, &given.file, desk.words(), which, stretch)?);
    if given.file == Path::new("-") {
        write(&mut BufWriter::new(io::stdout().lock()))?;
        return Ok(());
    }
    let Written { readings, others, first, last } = into_file(given, write)?;
    let day = |at: Option<Moment>| at.map_or_else(String::new, |at| at.local_date().to_string());
    let (first, last) = (day(first), day(last));
    let mut screen = desk.screen();
    screen.paragraph(&desk.pick(
        format!("{readings} sensor readings and {others} other entries, {first} to {last}."),
        format!("{readings} Sensorwerte und {others} andere Einträge, {first} bis {last}."),
    ))?;
    screen.paragraph(anybody(desk))?;
    Ok(screen.finish()?)
}

fn say(desk: &Desk, path: &Path, carried: &Carried) -> Result<(), Failure> {
    let words = desk.words();
    let mut screen = desk.screen();
    let (entries, figures, file) = (carried.entries, carried.figures, path.display());
    screen.paragraph(&desk.pick(
        format!("{file}: {entries} entries and {figures} review figures."),
        format!("{file}: {entries} Einträge und {figures} Zahlen des Rückblicks."),
    ))?;
    screen.paragraph(fhir::not_carried(words))?;
    for (what, count) in &carried.not_carried {
        let left_out = fhir::not_carried_text(*what, *count, words);
        screen.item(&desk.pick(format!("Not in it: {left_out}."), format!("Nicht darin: {left_out}.")))?;
    }
    screen.paragraph(anybody(desk))?;
    Ok(screen.finish()?)
}

fn anybody(desk: &Desk) -> &'static str {
    desk.pick(
        "Anybody who has this file can read it. Give it only to those you would tell.",
        "Wer diese Datei hat, kann sie lesen. Gib sie nur denen, denen du es auch sagen würdest.",
    )
}
