//! The sensors' record as a page: the same on every shell.

use crate::page::{Block, Page};
use crate::sensor::Record;
use crate::sensor::faults::most_relevant;
use crate::sentences::review::too_little;
use crate::sentences::sensor::{
    agreement_lines, calibration_text, concurrent_line, days_left_line, fault_line, lag_free_line, mard, newest_line,
    rotation_text, session_line, site_line,
};
use crate::text;
use crate::time::Moment;
use crate::words::Words;

/// Sensors listed at most, the newest first.
const MOST_SENSORS: usize = 6;
/// Things seen on the newest sensor, no more than this.
const MOST_FAULTS: usize = 12;

/// The page's answer: how long the newest sensor still lasts, and how its readings agree with a meter.
#[must_use]
pub fn answer(record: &Record, rated_days: Option<f64>, words: Words, now: Moment) -> Vec<String> {
    let Some(newest) = record.sessions.last() else {
        return vec![text!(words, "page-sensor-no-insertion-in-log-yet").to_owned()];
    };
    let left =
        days_left_line(newest, rated_days, words, now).unwrap_or_else(|| session_line(newest, rated_days, words, now));
    let agreement = record.agreement.as_ref().ok().map(|agreement| mard(agreement, words));
    std::iter::once(left).chain(agreement).collect()
}

/// Lays out a record; `rated_days` is how long the wearer's sensors are rated for, if known.
#[must_use]
pub fn page(record: &Record, rated_days: Option<f64>, words: Words, now: Moment) -> Page {
    let sessions = record.sessions.iter().rev().take(MOST_SENSORS);
    let sensors = if record.sessions.is_empty() {
        Block::sentences(text!(words, "page-sensor-no-insertion-in-log-yet"))
    } else {
        let sessions = sessions.map(|one| session_line(one, rated_days, words, now));
        Block::items(sessions.chain(words.more(record.sessions.len(), MOST_SENSORS)))
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
            let lines = agreement_lines(agreement, &record.by_range, words).into_iter().chain(lag_free);
            // Where all pairs are the newest sensor's, its line would say the same.
            let all_newest = record.newest_agreement.as_ref().is_ok_and(|own| own.pairs == agreement.pairs);
            let newest =
                (!all_newest && record.sessions.len() > 1).then(|| newest_line(&record.newest_agreement, words));
            Block::items(newest.into_iter().chain(lines))
        }
    };
    let beside = Block::items(record.concurrent.iter().map(|(sensor, one)| concurrent_line(sensor, one, words)));
    Page::new(words, text!(words, "page-sensor-sensors"))
        .with(None, [sensors])
        .with(Some(text!(words, "page-sensor-sites-longest-rested-first")), sites)
        .with(Some(text!(words, "page-sensor-sensor-beside-meter")), [agreement, beside])
        .with(
            Some(text!(words, "page-sensor-calibration")),
            [Block::sentences(calibration_text(&record.calibration, words))],
        )
        .with(
            Some(text!(words, "page-sensor-seen-on-newest-sensor")),
            [Block::items(
                most_relevant(&record.faults, MOST_FAULTS)
                    .into_iter()
                    .rev()
                    .map(|one| fault_line(one, words))
                    .chain(words.more(record.faults.len(), MOST_FAULTS)),
            )],
        )
}
