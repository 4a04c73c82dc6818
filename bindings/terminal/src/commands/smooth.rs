//! `smooth`: blood glucose as it probably was, from what came before and after.

use std::collections::HashMap;

use ebbstead_core::estimate::dynamics::Dynamics;
use ebbstead_core::estimate::smoother::{Smoothed, smooth};
use ebbstead_core::learn;
use ebbstead_core::log::{Beyond, History, Shown};
use ebbstead_core::time::{DAY_MS, MINUTE_MS, Moment};
use ebbstead_core::words::NINE_IN_TEN_SDS;
use ebbstead_core::{say, text};
use serde::Serialize;

use crate::arguments::Smooth;
use crate::context::Context;
use crate::failure::Failure;
use crate::screen::Screen;

/// What is read in before and after the span, so that its ends are as sure as its middle.
const BEFORE_MS: i64 = DAY_MS / 2;
const AFTER_MS: i64 = 3 * 60 * MINUTE_MS;
/// Rows at most, and the minutes that may lie between two.
const MOST_ROWS: i64 = 40;
const STEPS_MINUTES: [i64; 7] = [5, 10, 15, 30, 60, 120, 240];
/// Columns of the strip beside a row.
const STRIP: usize = 36;

/// One moment looked back on. Amounts in mg/dL, rates in mg/dL/min.
#[derive(Clone, Copy, Debug, Serialize)]
struct Then {
    at: Moment,
    reading_mg_dl: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    reading_beyond: Option<Beyond>,
    meter_mg_dl: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    meter_beyond: Option<Beyond>,
    blood_mg_dl: f64,
    blood_sd_mg_dl: f64,
    rate_mg_dl_min: f64,
    /// In a spell marked as pressed: the reading was left out.
    compression: bool,
}

pub fn run(context: &Context, given: &Smooth) -> Result<(), Failure> {
    let now = context.now()?;
    let (log, wearer) = context.open(now)?;
    let until = given.until.as_ref().map_or(Ok(now), |text| context.time(text, now))?;
    let hours = i64::from(given.hours.unwrap_or(12));
    let from = match &given.from {
        Some(text) => context.time(text, until)?,
        None => until.plus_ms(-hours * 60 * MINUTE_MS),
    };
    if !from.is_before(until) {
        let words = context.words();
        let (from, until) = (words.date_time(from), words.date_time(until));
        return Err(Failure::Value(say!(words, "terminal-smooth-not-before", from, until)));
    }
    let history = log.history(from.plus_ms(-BEFORE_MS), until.plus_ms(AFTER_MS))?.until(now);
    let dynamics = learn::for_prompt(&log, now)?.dynamics.unwrap_or(Dynamics::POPULATION);
    let within = |at: Moment| (from.unix_ms()..=until.unix_ms()).contains(&at.unix_ms());
    let smoothed = smooth(&history, &wearer, &dynamics);
    let seen: Vec<Then> = then(&history, smoothed.into_iter().filter(|one| within(one.at)));

    let mut screen = context.screen();
    if given.json {
        for one in &seen {
            screen.json(one)?;
        }
        return Ok(screen.finish()?);
    }
    let local = |moment: Moment| context.words().date_time(moment);
    if seen.is_empty() {
        screen.paragraph(&say!(
            context.words(),
            "terminal-smooth-log-has-no-reading-and",
            from = local(from),
            until = local(until)
        ))?;
        return Ok(screen.finish()?);
    }
    screen.heading(&say!(
        context.words(),
        "terminal-smooth-blood-glucose-as-probably-to",
        from = local(from),
        until = local(until)
    ))?;
    screen.paragraph(text!(context.words(), "terminal-smooth-worked-out-from-what-came"))?;
    screen.gap()?;
    rows(context, &mut screen, &seen)?;
    Ok(screen.finish()?)
}

fn then(history: &History, smoothed: impl Iterator<Item = Smoothed>) -> Vec<Then> {
    let readings: HashMap<i64, Shown> = history.readings.iter().map(|one| (one.at.unix_ms(), one.shown())).collect();
    let meters: HashMap<i64, Shown> = history.meter_checks.iter().map(|one| (one.at.unix_ms(), one.shown())).collect();
    let mut seen: Vec<Then> = smoothed
        .map(|one| {
            let (reading, meter) = (readings.get(&one.at.unix_ms()), meters.get(&one.at.unix_ms()));
            Then {
                at: one.at,
                reading_mg_dl: reading.map(|shown| shown.glucose.mg_dl()),
                reading_beyond: reading.and_then(|shown| shown.beyond),
                meter_mg_dl: meter.map(|shown| shown.glucose.mg_dl()),
                meter_beyond: meter.and_then(|shown| shown.beyond),
                blood_mg_dl: one.blood_mg_dl,
                blood_sd_mg_dl: one.blood_sd_mg_dl,
                rate_mg_dl_min: one.rate_mg_dl_min,
                compression: history.is_compression_low(one.at),
            }
        })
        .collect();
    // A reading and a meter check at one instant are smoothed as two.
    seen.dedup_by_key(|one| one.at.unix_ms());
    seen
}

/// The least and the most that the strips show, in mg/dL.
fn scale(seen: &[Then]) -> (f64, f64) {
    let ends = seen.iter().flat_map(|one| {
        let reach = NINE_IN_TEN_SDS * one.blood_sd_mg_dl;
        [Some(one.blood_mg_dl - reach), Some(one.blood_mg_dl + reach), one.reading_mg_dl, one.meter_mg_dl]
    });
    let (low, high) = ends.flatten().fold((f64::MAX, f64::MIN), |(low, high), one| (low.min(one), high.max(one)));
    ((low / 20.0).floor().max(1.0) * 20.0, (high / 20.0).ceil().min(25.0) * 20.0)
}

fn rows(context: &Context, screen: &mut Screen, seen: &[Then]) -> std::io::Result<()> {
    let (words, style) = (context.words(), screen.style);
    let drawn = style.width >= 72 && !context.general.no_picture;
    let span_ms = seen[seen.len() - 1].at.unix_ms() - seen[0].at.unix_ms();
    let step_ms = STEPS_MINUTES
        .into_iter()
        .map(|minutes| minutes * MINUTE_MS)
        .find(|step| span_ms / step <= MOST_ROWS)
        .unwrap_or(DAY_MS);
    let (low, high) = scale(seen);
    let names = [
        text!(context.words(), "terminal-smooth-time"),
        text!(context.words(), "terminal-smooth-seen"),
        text!(context.words(), "terminal-smooth-blood-probably"),
    ];
    let mut head = format!("{:<5}  {:>7}  {:<20}", names[0], names[1], names[2]);
    if drawn {
        let (low, high) = (words.bare_amount(low), words.amount(high));
        head.push_str(&format!("  {low}{high:>width$}", width = STRIP.saturating_sub(low.chars().count())));
    }
    screen.line(&head)?;
    let (mut bin, mut day) = (None, None);
    for one in seen {
        let here = one.at.unix_ms().div_euclid(step_ms);
        if bin == Some(here) && one.meter_mg_dl.is_none() {
            continue;
        }
        bin = Some(here);
        if day.is_some_and(|day| day != one.at.local_date()) {
            screen.line(&context.words().date(one.at.local_date()))?;
        }
        day = Some(one.at.local_date());
        let reach = NINE_IN_TEN_SDS * one.blood_sd_mg_dl;
        let between = [one.blood_mg_dl - reach, one.blood_mg_dl + reach].map(|end| words.bare_amount(end.max(10.0)));
        let blood = format!("{} ({} - {})", words.bare_amount(one.blood_mg_dl), between[0], between[1]);
        let seen = match (one.meter_mg_dl, one.reading_mg_dl) {
            (Some(mg_dl), _) => format!("M {}", words.bare_amount(mg_dl)),
            (None, Some(mg_dl)) if one.compression => format!("({})", words.bare_amount(mg_dl)),
            (None, Some(mg_dl)) => words.bare_amount(mg_dl),
            (None, None) => "-".to_owned(),
        };
        let mut row = format!("{:<5}  {seen:>7}  {blood:<20}", one.at.clock());
        if drawn {
            row.push_str(&format!("  {}", strip(one, low, high, style.wide_signs)));
        }
        screen.line(&row)?;
    }
    screen.gap()?;
    let (blood, band, reading, meter) = signs(style.wide_signs);
    let unit = words.unit();
    let mut foot = say!(context.words(), "terminal-smooth-seen-what-sensor-read-or", unit);
    if drawn {
        foot.push(' ');
        foot.push_str(&say!(context.words(), "terminal-smooth-drawn-blood-nine-in-ten", blood, band, reading, meter));
    }
    if seen.iter().any(|one| one.compression) {
        foot.push(' ');
        foot.push_str(text!(context.words(), "terminal-smooth-readings-in-brackets-left-out"));
    }
    screen.paragraph(&foot)
}

/// Blood, band, sensor, meter.
const fn signs(wide: bool) -> (char, char, char, char) {
    if wide { ('○', '░', '●', 'M') } else { ('+', ':', 'o', 'M') }
}

fn strip(one: &Then, low: f64, high: f64, wide: bool) -> String {
    let (blood, band, reading, meter) = signs(wide);
    let column = |mg_dl: f64| {
        let share = (mg_dl - low) / (high - low).max(1.0);
        ((share * (STRIP - 1) as f64).round().max(0.0) as usize).min(STRIP - 1)
    };
    let reach = NINE_IN_TEN_SDS * one.blood_sd_mg_dl;
    let mut cells = vec![' '; STRIP];
    cells[column(one.blood_mg_dl - reach)..=column(one.blood_mg_dl + reach)].fill(band);
    if let Some(mg_dl) = one.reading_mg_dl {
        cells[column(mg_dl)] = reading;
    }
    cells[column(one.blood_mg_dl)] = blood;
    if let Some(mg_dl) = one.meter_mg_dl {
        cells[column(mg_dl)] = meter;
    }
    cells.into_iter().collect()
}
