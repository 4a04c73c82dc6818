//! `sensor`: wear, sites, agreement with the meter, calibration, faults, and the evidence sheet.

use clap::Args;
use ebbstead_core::log::Text;
use ebbstead_core::review::telling::too_little;
use ebbstead_core::sensor::telling::{
    agreement_lines, beside_line, calibration_text, lag_free_line, rotation_text, session_line, site_line,
};
use ebbstead_core::sensor::{Record, sheet};
use ebbstead_core::time::DAY_MS;

use crate::desk::Desk;
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
}

pub fn run(desk: &Desk, given: &Sensor) -> Result<(), Failure> {
    let now = desk.now()?;
    let (log, wearer) = desk.open(now)?;
    let words = desk.words();
    let history = log.history(now.plus_ms(-i64::from(given.days) * DAY_MS), now)?;
    let rated = given.rated_days.or(wearer.sensor_rated_days).map(f64::from);
    let record = Record::of(&history, rated, now);
    let mut screen = desk.screen();
    if given.sheet {
        let wanted = record.sessions.len().checked_sub(given.back + 1).and_then(|place| record.sessions.get(place));
        let session = wanted.ok_or_else(|| {
            Failure::Missing(
                desk.pick(
                    "no such sensor is in the log; note one with: ebbstead add sensor inserted --site SITE",
                    "kein solcher Sensor steht im Protokoll; trag ihn ein mit: ebbstead add sensor inserted --site STELLE",
                )
                .to_owned(),
            )
        })?;
        let lot = given.lot.as_ref().map(|lot| Text::new(lot.as_str())).transpose()?;
        for line in sheet(&history, session, lot.as_ref(), words, now).lines() {
            screen.line(line)?;
        }
        return Ok(screen.finish()?);
    }
    screen.heading(desk.pick("Sensors", "Sensoren"))?;
    if record.sessions.is_empty() {
        screen.paragraph(desk.pick(
            "No insertion is logged: ebbstead add sensor inserted --site \"left arm\"",
            "Kein Setzen ist eingetragen: ebbstead add sensor inserted --site \"linker Arm\"",
        ))?;
    }
    for session in record.sessions.iter().rev().take(6) {
        screen.item(&session_line(session, rated, words, now))?;
    }
    if !record.sites.is_empty() {
        screen.gap()?;
        screen.heading(desk.pick("Sites, the longest rested first", "Stellen, die am längsten ausgeruhte zuerst"))?;
        record.sites.iter().try_for_each(|site| screen.item(&site_line(site, words)))?;
        screen.paragraph(&rotation_text(&record.sites, words))?;
    }
    screen.gap()?;
    screen.heading(desk.pick("Sensor beside meter", "Sensor neben Messgerät"))?;
    match &record.agreement {
        Err(missing) => screen.paragraph(&too_little(*missing, words))?,
        Ok(agreement) => {
            agreement_lines(agreement, &record.by_range, words).iter().try_for_each(|line| screen.item(line))?;
            if let Ok(lag_free) = &record.lag_free {
                screen.item(&lag_free_line(lag_free, words))?;
            }
        }
    }
    record.beside.iter().try_for_each(|(sensor, one)| screen.item(&beside_line(sensor, one, words)))?;
    if rated.is_none() && !record.sessions.is_empty() {
        screen.gap()?;
        screen.paragraph(desk.pick(
            "To be told when a sensor is overdue, say how long yours are rated for: ebbstead settings sensor-days 10",
            "Um zu erfahren, wann ein Sensor überfällig ist, sag, wie lange deine vorgesehen sind: ebbstead settings sensor-days 10",
        ))?;
    }
    screen.gap()?;
    screen.heading(desk.pick("Calibration", "Kalibrierung"))?;
    screen.paragraph(&calibration_text(&record.calibration, words))?;
    Ok(screen.finish()?)
}
