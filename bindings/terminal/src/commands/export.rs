//! `export`: the log in an open format, for a clinic or another program.

use std::fs::{self, OpenOptions};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use ebbstead_core::Error;
use ebbstead_core::exchange::fhir::{self, Bundle, Carried};
use ebbstead_core::review::{Manner, Period, Review};
use ebbstead_core::store::Log;
use ebbstead_core::time::{DAY_MS, Moment};
use ebbstead_core::wearer::Wearer;

use crate::desk::Desk;
use crate::failure::Failure;

/// `export`.
#[derive(Debug, Args)]
pub struct Export {
    /// The file to write, which must not be there yet; - writes to standard output
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
}

/// A format.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Format {
    /// HL7 FHIR R4: readings, meter checks and what else is noted, with the review's figures
    Fhir,
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
    let reviewed = Period::new(from.unwrap_or_else(|| days_back(REVIEWED_DAYS)), until)?;
    let from = from.map_or_else(|| Moment::new(FIRST_MS, 0), Ok)?;
    let Format::Fhir = given.format;
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
    let carried = into_new_file(&given.file, written)?;
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

/// Writes a file that was not there, for its owner alone, through to the disk; leaves none behind if that fails.
fn into_new_file<T>(path: &Path, write: impl FnOnce(&mut dyn Write) -> Result<T, Failure>) -> Result<T, Failure> {
    let refused = |source| Failure::Core(Error::File { path: path.to_owned(), source });
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let file = options.open(path).map_err(refused)?;
    let mut out = BufWriter::new(file);
    let done = write(&mut out).and_then(|done| {
        let file = out.into_inner().map_err(|error| refused(error.into_error()))?;
        file.sync_all().map_err(refused)?;
        Ok(done)
    });
    if done.is_err() {
        // Half a file would be taken for the whole. That it cannot be removed either changes nothing about the failure.
        let _ = fs::remove_file(path);
    }
    done.map_err(|failure| match failure {
        Failure::Output(source) => refused(source),
        other => other,
    })
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
    screen.paragraph(desk.pick(
        "Anybody who has this file can read it. Give it only to those you would tell.",
        "Wer diese Datei hat, kann sie lesen. Gib sie nur denen, denen du es auch sagen würdest.",
    ))?;
    Ok(screen.finish()?)
}
