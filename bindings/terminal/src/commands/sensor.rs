//! `sensor`: wear, sites, agreement with the meter, calibration, faults, and the evidence sheet.

use clap::Args;
use ebbstead_core::log::Text;
use ebbstead_core::pages;
use ebbstead_core::sensor::Record;
use ebbstead_core::text;
use ebbstead_core::time::DAY_MS;

use crate::context::Context;
use crate::failure::Failure;

/// `sensor`.
#[derive(Debug, Args)]
pub struct Sensor {
    /// How many days back to look
    #[arg(long, value_name = "NUMBER", default_value_t = 90, value_parser = clap::value_parser!(u16).range(1..=3660))]
    pub days: u16,
    /// How many days your sensors are rated for, instead of what the settings say
    #[arg(long, value_name = "DAYS", value_parser = clap::value_parser!(u16).range(1..=365))]
    pub rated_days: Option<u16>,
    /// Print the newest sensor's record on one page, to send with a request for a replacement
    #[arg(long)]
    pub sheet: bool,
    /// The sensor before the newest, and so on, for --sheet
    #[arg(long, value_name = "NUMBER", default_value_t = 0, requires = "sheet")]
    pub back: usize,
    /// The lot number on the package, for --sheet, if it is not noted
    #[arg(long, value_name = "LOT", requires = "sheet")]
    pub lot: Option<String>,
    /// Print the result as JSON
    #[arg(long, conflicts_with = "sheet")]
    pub json: bool,
}

/// The most days that are looked back on.
const MOST_DAYS: u16 = 3660;

pub fn run(context: &Context, given: &Sensor) -> Result<(), Failure> {
    let now = context.now()?;
    let (log, wearer) = context.open(now)?;
    let words = context.words();
    let rated = given.rated_days.or(wearer.sensor_rated_days).map(f64::from);
    let of_days = |days: u16| -> ebbstead_core::Result<_> {
        let history = log.history(now.plus_ms(-i64::from(days) * DAY_MS), now)?;
        let record = Record::of(&history, rated, now);
        Ok((history, record))
    };
    let (mut history, mut record) = of_days(given.days)?;
    // One that is worn may have been put in before these days.
    if given.sheet && record.sessions.len() <= given.back {
        (history, record) = of_days(MOST_DAYS)?;
    }
    let mut screen = context.screen();
    if given.json {
        screen.json(&record)?;
        return Ok(screen.finish()?);
    }
    if given.sheet {
        let wanted = record.sessions.len().checked_sub(given.back + 1).and_then(|place| record.sessions.get(place));
        let session = wanted.ok_or_else(|| {
            Failure::Missing(text!(context.words(), "terminal-sensor-no-such-sensor-in-log").to_owned())
        })?;
        let lot = given.lot.as_ref().map(|lot| Text::new(lot.as_str())).transpose()?;
        for line in pages::sheet::sheet(&history, session, lot.as_ref(), rated, words, now).lines() {
            screen.line(line)?;
        }
        return Ok(screen.finish()?);
    }
    screen.page(&pages::sensor::page(&record, rated, words, now))?;
    let hint = if record.sessions.is_empty() {
        Some(text!(context.words(), "terminal-sensor-to-note-one-ebbstead-add"))
    } else if rated.is_none() {
        Some(text!(context.words(), "terminal-sensor-to-be-reminded-when-sensor"))
    } else {
        None
    };
    if let Some(hint) = hint {
        screen.gap()?;
        screen.paragraph(hint)?;
    }
    Ok(screen.finish()?)
}
