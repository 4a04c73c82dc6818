//! `review`: the record of some days, in figures and sentences, as a table of figures, or as an HTML file.

use std::fs;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use ebbstead_core::Error;
use ebbstead_core::exchange::file::Placing;
use ebbstead_core::pages;
use ebbstead_core::review::metrics::Group;
use ebbstead_core::review::patterns::{Looked, patterns};
use ebbstead_core::review::{self, ReviewOptions};
use ebbstead_core::say;
use serde::Serialize;

use crate::arguments::AsJson;
use crate::context::Context;
use crate::failure::Failure;

/// `review`.
#[derive(Debug, Args)]
pub struct Review {
    /// How many days, up to now or to --until
    #[arg(long, value_name = "NUMBER", default_value_t = 14, value_parser = clap::value_parser!(u16).range(1..=3660))]
    pub days: u16,
    /// The end of the days, if not now
    #[arg(long, value_name = "TIME")]
    pub until: Option<String>,
    /// Whose published aims to show beside the time in range
    #[arg(long, default_value = "adult")]
    pub aims: Aims,
    /// Leave out the spells in which the sensor was pressed
    #[arg(long, alias = "without-pressed")]
    pub without_compression_lows: bool,
    /// Write the review to this file, to print or to take along
    #[arg(long, value_name = "FILE")]
    pub html: Option<PathBuf>,
    /// Replace that file, if an earlier review is there
    #[arg(long, requires = "html")]
    pub replace: bool,
    /// A name to stand on top of that file
    #[arg(long, value_name = "NAME", requires = "html")]
    pub name: Option<String>,
    #[command(flatten)]
    pub output: AsJson,
    /// Print the figures as a table with two columns, `figure` and `value`, for a spreadsheet
    #[arg(long, conflicts_with = "json")]
    pub csv: bool,
}

/// Whose aims.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Aims {
    /// Adults
    Adult,
    /// Older people and those at high risk
    Older,
    /// Pregnancy with type 1 diabetes, range 63 to 140 mg/dL
    Pregnancy,
}

impl From<Aims> for Group {
    fn from(aims: Aims) -> Self {
        match aims {
            Aims::Adult => Self::Adult,
            Aims::Older => Self::OlderOrHighRisk,
            Aims::Pregnancy => Self::Type1Pregnancy,
        }
    }
}

/// How a file of ours begins; nothing else is ever written over.
const OURS: &[u8] = b"<!doctype html>\n";

#[derive(Serialize)]
struct ReviewJson<'a> {
    #[serde(flatten)]
    review: &'a review::Review,
    patterns: Looked,
}

pub fn run(context: &Context, given: &Review) -> Result<(), Failure> {
    let now = context.now()?;
    let (log, wearer) = context.open(now)?;
    let until = given.until.as_ref().map_or(Ok(now), |text| context.time(text, now))?;
    let options = ReviewOptions { group: given.aims.into(), without_compression_lows: given.without_compression_lows };
    let history = log.history(review::Review::needed_from(until, given.days)?, until)?;
    let (review, before) = review::Review::with_before(&history, &wearer, (until, given.days), options)?;
    let words = context.words();

    let mut screen = context.screen();
    let figures = || ReviewJson { patterns: patterns(&review, &history), review: &review };
    if given.output.json {
        screen.json(&figures())?;
    } else if given.csv {
        screen.table(&figures())?;
    } else {
        screen.page(&pages::review::page(&review, Some(&before), &history, &wearer, words))?;
    }
    screen.finish()?;
    if let Some(path) = &given.html {
        write(
            context,
            path,
            given.replace,
            &pages::report::html(&review, Some(&before), &history, &wearer, words, now, given.name.as_deref()),
        )?;
    }
    Ok(())
}

/// Writes the file as a whole, readable by its owner; over an earlier review where that is asked for, and never over anything else.
fn write(context: &Context, path: &Path, replace: bool, page: &str) -> Result<(), Failure> {
    let refused = |source| Failure::Core(Error::File { path: path.to_owned(), source });
    let there = fs::metadata(path).is_ok_and(|found| found.is_file());
    if there {
        let mut begin = [0; OURS.len()];
        let read = fs::File::open(path).and_then(|mut file| file.read(&mut begin)).map_err(refused)?;
        if read > 0 && begin[..read] != *OURS {
            return Err(Failure::Value(say!(
                context.words(),
                "terminal-review-there-another-file-name-left",
                path = path.display()
            )));
        }
    }
    let mut placing = Placing::begin(path, replace)?;
    placing.write_all(page.as_bytes()).map_err(refused)?;
    placing.finish()?;
    context.report(&say!(context.words(), "terminal-review-written-to", path = path.display()));
    Ok(())
}
