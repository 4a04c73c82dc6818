//! `replay`: a file gone through row by row, each answer from what was known by then.
//!
//! A table of readings gives one line a row that holds, or should hold, a reading. A table of events (readings, meter checks,
//! insulin, carbohydrate) gives one line a row, at once. What the line says of blood glucose and of the time ahead is what was
//! known just before the row's own meter check; the verdict is the one after it. A row that cannot be a reading moves nothing:
//! its line repeats the state before it, with the verdict to check and what was wrong with it.

use std::io::{self, Cursor, Read, Write};

use ebbstead_core::Error;
use ebbstead_core::engine::{Engine, Learnt, unasked};
use ebbstead_core::exchange::csv::events::{EventRow, Events, holds_more, is_header};
use ebbstead_core::exchange::csv::{FindingCode, Options, Outcome, Row, Rows};
use ebbstead_core::exchange::utf16::Utf8;
use ebbstead_core::forecast::futures::Futures;
use ebbstead_core::forecast::long::LongChance;
use ebbstead_core::log::{Beyond, History, Reading};
use ebbstead_core::prompt::{Prompt, Reason, Verdict};
use ebbstead_core::time::Moment;
use ebbstead_core::wearer::Wearer;
use ebbstead_core::words::Words;
use ebbstead_core::{say, text};
use serde::Serialize;

use crate::arguments::Replay;
use crate::commands::import::{named, open};
use crate::context::Context;
use crate::failure::Failure;
use crate::screen::Screen;
use crate::when::Place;

/// The times ahead that a line shows, in minutes.
const AHEAD_MINUTES: [u16; 4] = [15, 30, 45, 60];

/// One line, in mg/dL, mg/dL/min and chances 0 to 1. Nulls stand where there was no reading yet.
#[derive(Clone, Debug, Serialize)]
struct Line {
    time: Option<Moment>,
    reading_mgdl: Option<f64>,
    /// The side on which the reading was beyond what the sensor measures; the amount is then the limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    beyond: Option<Beyond>,
    blood_mgdl: Option<f64>,
    blood_sd: Option<f64>,
    rate_mgdl_min: Option<f64>,
    ahead: [Ahead; AHEAD_MINUTES.len()],
    p_low_30: Option<f64>,
    verdict: Verdict,
    #[serde(skip_serializing_if = "Option::is_none")]
    without_meter: Option<Verdict>,
    p_artifact: Option<f64>,
    /// Both futures of blood glucose.
    futures: Option<Futures>,
    /// Chances over hours.
    long: Option<[LongChance; 3]>,
    reasons: Vec<Reason>,
    /// Why the row is no reading.
    #[serde(skip_serializing_if = "Option::is_none")]
    refused: Option<FindingCode>,
}

/// The sensor's reading expected then.
#[derive(Clone, Copy, Debug, Serialize)]
struct Ahead {
    minutes: u16,
    mean: Option<f64>,
    sd: Option<f64>,
}

/// More digits than anybody could mean.
fn short(number: f64) -> f64 {
    // Nothing has no sign.
    (number * 1e4).round() / 1e4 + 0.0
}

impl Line {
    fn of(at: Moment, reading: Option<Reading>, prompt: Prompt) -> Self {
        let (estimate, forecast) = (prompt.estimate, prompt.forecast);
        let (futures, long) = (prompt.futures, prompt.long);
        let ahead = AHEAD_MINUTES.map(|minutes| {
            let one = forecast.as_ref().and_then(|forecast| forecast.path.iter().find(|one| one.minutes == minutes));
            Ahead { minutes, mean: one.map(|o| short(o.reading_mg_dl)), sd: one.map(|o| short(o.reading_sd_mg_dl)) }
        });
        Self {
            time: Some(at),
            reading_mgdl: reading.map(|reading| reading.glucose.mg_dl()),
            beyond: reading.and_then(|reading| reading.beyond),
            blood_mgdl: estimate.map(|estimate| short(estimate.blood_mg_dl)),
            blood_sd: estimate.map(|estimate| short(estimate.blood_sd_mg_dl)),
            rate_mgdl_min: estimate.map(|estimate| short(estimate.rate.mg_dl_min())),
            ahead,
            // Chances keep their digits: small ones are what calibration is about.
            p_low_30: forecast.map(|forecast| forecast.reading_low_30),
            verdict: prompt.verdict,
            without_meter: prompt.without_meter,
            futures,
            long,
            p_artifact: estimate.map(|estimate| estimate.modes.compression + estimate.modes.unsettled),
            reasons: prompt.reasons,
            refused: None,
        }
    }

    fn before_the_first() -> Self {
        Self {
            time: None,
            reading_mgdl: None,
            beyond: None,
            blood_mgdl: None,
            blood_sd: None,
            rate_mgdl_min: None,
            ahead: AHEAD_MINUTES.map(|minutes| Ahead { minutes, mean: None, sd: None }),
            p_low_30: None,
            verdict: Verdict::Check,
            without_meter: Some(Verdict::Hold),
            p_artifact: None,
            futures: None,
            long: None,
            reasons: Vec::new(),
            refused: None,
        }
    }

    /// The verdict of another answer at the same row.
    fn decided(self, prompt: Prompt) -> Self {
        Self { verdict: prompt.verdict, without_meter: prompt.without_meter, reasons: prompt.reasons, ..self }
    }

    /// The state before a row that is no reading, with what to do about that row.
    fn after_refused(&self, row: &Row) -> Self {
        let code = row.findings.iter().map(|finding| finding.code).find(|code| !code.is_taken());
        Self {
            time: row.at,
            reading_mgdl: row.given_mg_dl,
            beyond: None,
            verdict: Verdict::Check,
            without_meter: Some(Verdict::Hold),
            reasons: Vec::new(),
            refused: code,
            ..self.clone()
        }
    }
}

pub fn run(context: &Context, given: &Replay) -> Result<(), Failure> {
    let (input, _) = open(&given.file)?;
    let mut input = Utf8::of(input).map_err(|source| Error::File { path: given.file.clone(), source })?;
    // Byte by byte up to the end of the header: what writes row by row waits for its answers.
    let header = first_line(&mut input).map_err(|source| Error::File { path: given.file.clone(), source })?;
    let options = Options {
        // The file's own clock is the only one: the same file says the same everywhere.
        zone: context.general.offset.map_or(Place::Fixed(0), Place::Fixed).zone(),
        unit: given.file_unit.map(Into::into),
        time_column: given.time_column.clone(),
        glucose_column: given.glucose_column.clone(),
        time_format: given.time_format.clone(),
        ..Options::found(&named(&given.file), context.words().unit())
    };
    let wearer = Wearer {
        insulin_factor_mg_dl_per_unit: given.insulin_factor,
        carbohydrate_factor_mg_dl_per_g: given.carbs_factor,
        ..Wearer::default()
    };
    wearer.check()?;
    let history = History::default();
    let engine = Engine::new(&history, &wearer, &Learnt::default());
    let mut replaying = Replaying {
        context,
        engine,
        last: Line::before_the_first(),
        newest: None,
        rows: 0,
        backwards: 0,
        json: given.json,
    };
    let mut screen = context.screen();
    if !given.json {
        let unit = context.words().unit();
        let names = [
            text!(context.words(), "terminal-replay-time"),
            text!(context.words(), "terminal-replay-reading-movement"),
            text!(context.words(), "terminal-replay-low-in-30-min"),
            text!(context.words(), "terminal-replay-prompt-without-meter"),
        ];
        let middle = format!("{} ({unit})", names[1]);
        screen.line(&format!("{:<16} {middle:<42} {:>14}  {}", names[0], names[2], names[3]))?;
    }
    let is_plain = given.file_unit.is_none() && given.time_column.is_none() && given.glucose_column.is_none();
    let names = String::from_utf8_lossy(&header).into_owned();
    if is_plain && given.time_format.is_none() && is_header(&names) && holds_more(&names) {
        let mut events = Events::behind(&names, input, &options.zone)?;
        while let Some(row) = events.next_row()? {
            replaying.event(&row, &mut screen)?;
        }
    } else {
        let mut rows = Rows::open(Cursor::new(header).chain(input), &options)?;
        while let Some(row) = rows.next_row()? {
            replaying.row(&row, &mut screen)?;
        }
    }
    if 2 * replaying.backwards > replaying.rows {
        context.report(text!(context.words(), "terminal-replay-rows-run-backwards"));
    }
    Ok(screen.finish()?)
}

/// The longest header that is looked for, in bytes: what is longer is no table of events.
const LONGEST_HEADER: usize = 1000;

fn first_line(input: &mut impl Read) -> io::Result<Vec<u8>> {
    let mut line = Vec::new();
    let mut byte = [0_u8];
    while line.len() < LONGEST_HEADER && input.read(&mut byte)? == 1 {
        line.push(byte[0]);
        if byte[0] == b'\n' {
            break;
        }
    }
    Ok(line)
}

/// A file that is gone through.
struct Replaying<'a> {
    context: &'a Context,
    engine: Engine<'a>,
    last: Line,
    newest: Option<Moment>,
    /// Rows with a time, and those of them that lie before an earlier row.
    rows: u32,
    backwards: u32,
    json: bool,
}

impl Replaying<'_> {
    /// A row from before the newest one is taken as news of the present, as a late arrival would be.
    fn now(&mut self, at: Moment) -> Moment {
        let now = self.newest.map_or(at, |newest| newest.max(at));
        self.rows += 1;
        self.backwards += u32::from(at.is_before(now));
        self.newest = Some(now);
        now
    }

    /// A row of a table of readings.
    fn row(&mut self, row: &Row, screen: &mut Screen) -> Result<(), Failure> {
        let words = self.context.words();
        match row.outcome {
            Outcome::NoReading => return Ok(()),
            Outcome::Reading(reading) => {
                let now = self.now(reading.at);
                self.engine.reading(reading);
                let prompt = self.engine.answer(&unasked(now));
                self.last = Line::of(reading.at, Some(reading), prompt);
                show(screen, self.json, words, &self.last)?;
            }
            Outcome::Repeated => show(screen, self.json, words, &self.last)?,
            Outcome::LeftOut => show(screen, self.json, words, &self.last.after_refused(row))?,
        }
        for finding in &row.findings {
            self.context.report(&words.finding(finding));
        }
        Ok(())
    }

    /// A row of a table of events.
    fn event(&mut self, row: &EventRow, screen: &mut Screen) -> Result<(), Failure> {
        let words = self.context.words();
        if let Some(finding) = &row.refused {
            self.context.report(&words.finding(finding));
        }
        for cell in &row.unusable {
            let (line, column, name, given) = (row.line, cell.column, cell.name, &cell.given);
            self.context.report(&say!(
                self.context.words(),
                "terminal-replay-line-column-cannot-be-used",
                line,
                column,
                name,
                given = format!("{given:?}")
            ));
        }
        let refused = row.refused.as_ref().map(|finding| finding.code);
        let Some(at) = row.at else {
            let line = Line { time: None, reading_mgdl: None, refused, ..self.last.clone() };
            return Ok(answer_now(screen, self.json, words, &line)?);
        };
        let now = self.now(at);
        if let Some(dose) = row.dose {
            self.engine.note_dose(dose);
        }
        for carbohydrate in &row.carbohydrate {
            self.engine.note_carbohydrate(*carbohydrate);
        }
        if let Some(reading) = row.reading {
            self.engine.reading(reading);
        }
        let before = self.engine.answer(&unasked(now));
        let mut line = Line::of(at, row.reading, before);
        if let Some(check) = row.meter {
            self.engine.note_meter(check);
            line = line.decided(self.engine.answer(&unasked(now)));
        }
        line.refused = refused;
        self.last = line;
        Ok(answer_now(screen, self.json, words, &self.last)?)
    }
}

/// Shows a line and lets nothing wait in a buffer: whoever writes row by row reads answer by answer.
fn answer_now(screen: &mut Screen, json: bool, words: Words, line: &Line) -> io::Result<()> {
    show(screen, json, words, line)?;
    screen.raw().flush()
}

fn show(screen: &mut Screen, json: bool, words: Words, line: &Line) -> io::Result<()> {
    if json {
        return screen.json(line);
    }
    let time = line.time.map_or_else(|| "-".to_owned(), |at| at.local().format("%Y-%m-%d %H:%M").to_string());
    let sign = match line.beyond {
        Some(Beyond::Below) => "<",
        Some(Beyond::Above) => ">",
        None => "",
    };
    let reading =
        line.reading_mgdl.map_or_else(|| "-".to_owned(), |mg_dl| format!("{sign}{}", words.bare_amount(mg_dl)));
    let movement = line.rate_mgdl_min.map_or_else(String::new, |rate| words.movement(rate));
    let chance = line.p_low_30.map_or_else(|| "-".to_owned(), |chance| words.chance(chance));
    let mut verdict = words.verdict(line.verdict);
    if let Some(otherwise) = line.without_meter {
        verdict = format!("{verdict} ({})", words.verdict(otherwise).to_lowercase());
    }
    screen.line(&format!("{time:<16} {reading:>5}  {movement:<35} {chance:>14}  {verdict}"))
}
