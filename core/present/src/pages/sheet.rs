//! The evidence sheet: one page of facts about one sensor, to send with a request for a replacement.

use crate::log::{History, Text};
use crate::sensor::agreement::Agreement;
use crate::sensor::faults::{faults, most_relevant, received};
use crate::sensor::pairs::{Pair, pairs};
use crate::sensor::sessions::Session;
use crate::sentences::sensor::fault_line;
use crate::time::Moment;
use crate::words::{Counted, Words};
use crate::{say, text};

/// More things seen than this are counted only, so that the sheet stays a page.
const MOST_LINES: usize = 12;

/// Writes the sheet of one session as text of at most a page: dates, site, lot, what was seen, pairs with the meter.
///
/// It states what the log holds and judges nothing; `lot` is what the wearer read off the package, if it is not noted, and `rated_days`
/// how long the wearer's sensors are rated for, if known.
#[must_use]
pub fn sheet(
    history: &History,
    session: &Session,
    lot: Option<&Text>,
    rated_days: Option<f64>,
    words: Words,
    now: Moment,
) -> String {
    let until = session.until.unwrap_or(now);
    let day = |moment: Moment| words.date_time(moment);
    let unknown = text!(words, "page-sheet-not-noted");
    let own: Vec<Pair> = pairs(history, std::slice::from_ref(session))
        .into_iter()
        .filter(|pair| session.from <= pair.at && pair.at <= until)
        .collect();
    let seen = faults(history, session, now);
    let mut lines = vec![
        words.marked(text!(words, "page-sheet-record-one-glucose-sensor")),
        String::new(),
        format!("{}: {}", text!(words, "page-sheet-put-in"), day(session.from)),
        match session.until {
            Some(until) if session.end_noted => format!("{}: {}", text!(words, "page-sheet-taken-off"), day(until)),
            Some(until) => format!("{}: {}", text!(words, "page-sheet-followed-by-next-sensor"), day(until)),
            None => format!("{}: {}", text!(words, "page-sheet-still-worn"), day(now)),
        },
        format!(
            "{}: {} {}",
            text!(words, "page-sheet-worn-for"),
            words.decimal(session.days(now), 1),
            text!(words, "page-sheet-days")
        ),
        format!("{}: {}", text!(words, "page-sheet-site"), session.site.as_ref().map_or(unknown, Text::as_str)),
        format!("{}: {}", text!(words, "page-sheet-lot"), session.lot.as_ref().or(lot).map_or(unknown, Text::as_str)),
        format!(
            "{}: {}",
            text!(words, "page-sheet-rated-for"),
            session.rated(rated_days).map_or_else(
                || unknown.to_owned(),
                |days| {
                    let written = words.decimal(days, usize::from(days.fract() > 0.0));
                    say!(words, "page-sheet-so-many-days", count = days, days = written)
                }
            )
        ),
        format!(
            "{}: {}",
            text!(words, "page-sheet-readings"),
            received(history, session, now).map_or_else(
                || text!(words, "page-sheet-no-readings").to_owned(),
                |(count, share)| {
                    let readings = words.counted(count as u64, Counted::Readings);
                    say!(words, "page-sheet-readings-cover", readings, share = words.decimal(100.0 * share, 0))
                }
            )
        ),
        String::new(),
        format!("{} ({})", text!(words, "page-sheet-what-seen"), seen.len()),
    ];
    lines.extend(most_relevant(&seen, MOST_LINES).into_iter().map(|fault| format!("  {}", fault_line(fault, words))));
    if seen.is_empty() {
        lines.push(format!("  {}", text!(words, "page-sheet-nothing")));
    } else if seen.len() > MOST_LINES {
        lines.extend(words.more(seen.len(), MOST_LINES).map(|more| format!("  {more}")));
    }
    lines.push(String::new());
    lines.push(format!("{} ({})", text!(words, "page-sheet-meter-beside-sensor"), own.len()));
    lines.extend(own.iter().rev().take(MOST_LINES).rev().map(|pair| {
        let rate = pair
            .rate_mg_dl_min
            .map_or_else(|| text!(words, "page-sheet-movement-unknown").to_owned(), |rate| words.movement(rate));
        format!(
            "  {}  {} {}, {} {} ({} %; {rate})",
            day(pair.at),
            text!(words, "page-sheet-meter"),
            words.bare_amount(pair.meter_mg_dl),
            text!(words, "page-sheet-sensor"),
            words.amount(pair.sensor_mg_dl),
            words.decimal(100.0 * pair.off_mg_dl() / pair.meter_mg_dl, 0),
        )
    }));
    if own.len() > MOST_LINES {
        let count = own.len() - MOST_LINES;
        lines.push(format!("  {}", say!(words, "page-sheet-earlier-ones", count)));
    }
    if let Ok(agreement) = Agreement::of(&own) {
        lines.push(format!(
            "  {} {} % ({} {} {} %)",
            text!(words, "page-sheet-mean-absolute-relative-difference"),
            words.decimal(agreement.mard_percent.value, 1),
            words.decimal(agreement.mard_percent.low.max(0.0), 1),
            text!(words, "page-sheet-to"),
            words.decimal(agreement.mard_percent.high, 1),
        ));
    }
    lines.push(String::new());
    lines.push(text!(words, "page-sheet-times-wearers-own-clock-sensor").to_owned());
    lines.push(format!("{} {}", text!(words, "page-sheet-written"), day(now)));
    lines.join("\n")
}
