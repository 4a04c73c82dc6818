//! The sensors' record as a page: the same on every shell.

use crate::page::{Block, Page};
use crate::sensor::Record;
use crate::sensor::faults::telling_most;
use crate::sentences::pick;
use crate::sentences::review::too_little;
use crate::sentences::sensor::{
    agreement_lines, beside_line, calibration_text, fault_line, lag_free_line, rotation_text, session_line, site_line,
};
use crate::time::Moment;
use crate::words::Words;

/// Sensors listed at most, the newest first.
const MOST_SENSORS: usize = 6;
/// Things seen on the newest sensor, no more than this.
const MOST_FAULTS: usize = 12;

/// Lays out a record; `rated_days` is how long the wearer's sensors are rated for, if known.
#[must_use]
pub fn page(record: &Record, rated_days: Option<f64>, words: Words, now: Moment) -> Page {
    let named = |english, german| Some(pick(words, english, german));
    let sessions = record.sessions.iter().rev().take(MOST_SENSORS);
    let sensors = if record.sessions.is_empty() {
        Block::sentences(pick(
            words,
            "No insertion is in the log yet: note when you put a sensor in, and where.",
            "Noch ist kein Setzen eingetragen: Trag ein, wann und wo du einen Sensor setzt.",
        ))
    } else {
        Block::items(sessions.map(|one| session_line(one, rated_days, words, now)))
    };
    let sites = if record.sites.is_empty() {
        vec![]
    } else {
        vec![
            Block::items(record.sites.iter().map(|site| site_line(site, words))),
            Block::sentences(rotation_text(&record.sites, words)),
        ]
    };
    let agreement = match &record.agreement {
        Err(missing) => Block::sentences(too_little(*missing, words)),
        Ok(agreement) => {
            let lag_free = record.lag_free.as_ref().ok().map(|lag_free| lag_free_line(lag_free, words));
            Block::items(agreement_lines(agreement, &record.by_range, words).into_iter().chain(lag_free))
        }
    };
    let beside = Block::items(record.beside.iter().map(|(sensor, one)| beside_line(sensor, one, words)));
    Page::new(pick(words, "Sensors", "Sensoren"))
        .with(None, [sensors])
        .with(named("Sites, the longest rested first", "Stellen, die am längsten ausgeruhte zuerst"), sites)
        .with(named("Sensor beside meter", "Sensor neben Messgerät"), [agreement, beside])
        .with(named("Calibration", "Kalibrierung"), [Block::sentences(calibration_text(&record.calibration, words))])
        .with(
            named("Seen on the newest sensor", "Am neuesten Sensor aufgefallen"),
            [Block::items(
                telling_most(&record.faults, MOST_FAULTS).into_iter().rev().map(|one| fault_line(one, words)),
            )],
        )
}
