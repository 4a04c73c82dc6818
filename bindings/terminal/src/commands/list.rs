//! `log`: what is in it.

use std::collections::HashSet;

use ebbstead_core::log::{Entry, EntryId, EntryKind};
use ebbstead_core::review::Period;
use ebbstead_core::store::Log;
use ebbstead_core::time::DAY_MS;
use ebbstead_core::{say, text};
use serde::Serialize;

use crate::arguments::List;
use crate::commands::add::mark;
use crate::context::Context;
use crate::failure::Failure;

#[derive(Serialize)]
struct EntryJson<'a> {
    mark: String,
    current: bool,
    #[serde(flatten)]
    entry: &'a Entry,
}

pub fn run(context: &Context, given: &List) -> Result<(), Failure> {
    let now = context.now()?;
    if given.check_file {
        let (log, _) = context.open_to_write(now)?;
        log.check()?;
        let count = log.count()?;
        let mut screen = context.screen();
        screen.paragraph(&say!(
            context.words(),
            "terminal-list-no-damage-sensor-readings-other",
            display = log.path().display(),
            readings = count.readings,
            others = count.others
        ))?;
        return Ok(screen.finish()?);
    }
    let (log, _) = context.open(now)?;
    if given.imports {
        return imports(context, &log);
    }
    let until = given.until.as_ref().map_or(Ok(now), |text| context.time(text, now))?;
    let days = i64::from(given.days.unwrap_or(1));
    let from = given.from.as_ref().map_or(Ok(until.plus_ms(-days * DAY_MS)), |text| context.time(text, now))?;
    // One instant is a stretch here.
    Period::new(from, until.plus_ms(1))?;
    let current = log.current(from, until)?;
    let standing: HashSet<EntryId> = current.iter().map(|entry| entry.id).collect();
    let entries = if given.all { log.entries(from, until)? } else { current };

    let words = context.words();
    let mut screen = context.screen();
    if given.json {
        for entry in &entries {
            screen.json(&EntryJson { mark: mark(entry), current: standing.contains(&entry.id), entry })?;
        }
        return Ok(screen.finish()?);
    }
    let mut day = None;
    let mut readings: Vec<&Entry> = Vec::new();
    let summed = |readings: &mut Vec<&Entry>| -> Option<String> {
        let amounts: Vec<f64> = readings.drain(..).filter_map(reading_of).collect();
        let (low, high) = amounts.iter().fold((f64::MAX, f64::MIN), |(low, high), &one| (low.min(one), high.max(one)));
        (!amounts.is_empty()).then(|| {
            say!(
                context.words(),
                "terminal-list-sensor-readings-to",
                amounts = amounts.len(),
                low = words.bare_amount(low),
                high = words.amount(high)
            )
        })
    };
    for entry in &entries {
        if day != Some(entry.at.local_date()) {
            if let Some(text) = summed(&mut readings) {
                screen.line(&format!("        {text}"))?;
            }
            if day.is_some() {
                screen.gap()?;
            }
            day = Some(entry.at.local_date());
            screen.heading(&context.words().date(entry.at.local_date()))?;
        }
        if !given.readings && reading_of(entry).is_some() && standing.contains(&entry.id) {
            readings.push(entry);
            continue;
        }
        let mut text = format!("{}   {}", entry.at.clock(), words.what(&entry.what).replace('\n', " / "));
        if let Some(replaced) = entry.replaces {
            let tail = replaced.mark();
            text.push_str(&match entry.what {
                EntryKind::Retraction => format!(" [{tail}]"),
                _ => say!(context.words(), "terminal-list-corrects", tail),
            });
        }
        if !standing.contains(&entry.id) && entry.what != EntryKind::Retraction {
            text.push(' ');
            text.push_str(text!(context.words(), "terminal-list-no-longer-holds"));
        }
        screen.wrapped(&format!("{text}  [{}]", mark(entry)), "", "        ")?;
    }
    if let Some(text) = summed(&mut readings) {
        screen.line(&format!("        {text}"))?;
    }
    if entries.is_empty() {
        let local = |moment: ebbstead_core::time::Moment| context.words().date_time(moment);
        screen.paragraph(&say!(
            context.words(),
            "terminal-list-nothing-in-log-from-to",
            from = local(from),
            until = local(until)
        ))?;
    }
    Ok(screen.finish()?)
}

fn imports(context: &Context, log: &Log) -> Result<(), Failure> {
    let imports = log.imports()?;
    let mut screen = context.screen();
    if imports.is_empty() {
        screen.paragraph(text!(context.words(), "terminal-list-nothing-brought-in-from-files"))?;
    }
    for (import, stands) in imports {
        let when = context.words().date_time(import.recorded);
        let back =
            if stands { String::new() } else { format!(" {}", text!(context.words(), "terminal-list-taken-back")) };
        screen.wrapped(
            &format!("{when}  {}{back}  [{}]", context.words().what(&import.what), mark(&import)),
            "",
            "        ",
        )?;
    }
    Ok(screen.finish()?)
}

fn reading_of(entry: &Entry) -> Option<f64> {
    entry.what.sensor().map(|shown| shown.glucose.mg_dl())
}
