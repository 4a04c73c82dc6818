//! The evidence sheet: one page of facts about one sensor, to send with a request for a replacement.

use crate::log::{History, Text};
use crate::sensor::agreement::Agreement;
use crate::sensor::faults::{faults, telling_most};
use crate::sensor::pairs::{Pair, pairs};
use crate::sensor::sessions::Session;
use crate::sentences::sensor::fault_line;
use crate::time::Moment;
use crate::wearer::Language;
use crate::words::Words;

/// More things seen than this are counted only, so that the sheet stays a page.
const MOST_LINES: usize = 12;

/// Writes the sheet of one session as text of at most a page: dates, site, lot, what was seen, pairs with the meter.
///
/// It states what the log holds and judges nothing; `lot` is what the wearer read off the package, if it is not noted.
#[must_use]
pub fn sheet(history: &History, session: &Session, lot: Option<&Text>, words: Words, now: Moment) -> String {
    let until = session.until.unwrap_or(now);
    let pick = |english: &str, german: &str| match words.language() {
        Language::English => english.to_owned(),
        Language::German => german.to_owned(),
    };
    let day = |moment: Moment| moment.local().format("%Y-%m-%d %H:%M").to_string();
    let unknown = pick("not noted", "nicht notiert");
    let own: Vec<Pair> = pairs(history, std::slice::from_ref(session))
        .into_iter()
        .filter(|pair| session.from <= pair.at && pair.at <= until)
        .collect();
    let seen = faults(history, session, now);
    let mut lines = vec![
        pick("Record of one glucose sensor", "Aufzeichnung zu einem Glukosesensor"),
        String::new(),
        format!("{}: {}", pick("Put in", "Gesetzt"), day(session.from)),
        match session.until {
            Some(until) if session.end_noted => format!("{}: {}", pick("Taken off", "Entfernt"), day(until)),
            Some(until) => {
                format!("{}: {}", pick("Followed by the next sensor", "Abgelöst vom nächsten Sensor"), day(until))
            }
            None => format!("{}: {}", pick("Still worn", "Wird noch getragen"), day(now)),
        },
        format!("{}: {} {}", pick("Worn for", "Tragedauer"), words.decimal(session.days(now), 1), pick("days", "Tage")),
        format!("{}: {}", pick("Site", "Stelle"), session.site.as_ref().map_or(unknown.as_str(), Text::as_str)),
        format!("{}: {}", pick("Lot", "Charge"), session.lot.as_ref().or(lot).map_or(unknown.as_str(), Text::as_str)),
        format!(
            "{}: {}",
            pick("Rated for", "Vorgesehen für"),
            session.rated_days.map_or_else(|| unknown.clone(), |days| format!("{days} {}", pick("days", "Tage")))
        ),
        String::new(),
        format!("{} ({})", pick("What was seen", "Was auffiel"), seen.len()),
    ];
    lines.extend(telling_most(&seen, MOST_LINES).into_iter().map(|fault| format!("  {}", fault_line(fault, words))));
    if seen.is_empty() {
        lines.push(format!("  {}", pick("nothing", "nichts")));
    } else if seen.len() > MOST_LINES {
        lines.push(format!("  {} {}", seen.len() - MOST_LINES, pick("more", "weitere")));
    }
    lines.push(String::new());
    lines.push(format!("{} ({})", pick("Meter beside sensor", "Messgerät neben Sensor"), own.len()));
    lines.extend(own.iter().rev().take(MOST_LINES).rev().map(|pair| {
        let rate = pair
            .rate_mg_dl_min
            .map_or_else(|| pick("movement unknown", "Bewegung unbekannt"), |rate| words.movement(rate));
        format!(
            "  {}  {} {}, {} {} ({} %; {rate})",
            day(pair.at),
            pick("meter", "Messgerät"),
            words.bare_amount(pair.meter_mg_dl),
            pick("sensor", "Sensor"),
            words.amount(pair.sensor_mg_dl),
            words.decimal(100.0 * pair.off_mg_dl() / pair.meter_mg_dl, 0),
        )
    }));
    if own.len() > MOST_LINES {
        lines.push(format!("  {} {}", own.len() - MOST_LINES, pick("earlier ones", "frühere")));
    }
    if let Ok(agreement) = Agreement::of(&own) {
        lines.push(format!(
            "  {} {} % ({} {} {} %)",
            pick("Mean absolute relative difference", "Mittlere absolute relative Abweichung"),
            words.decimal(agreement.mard_percent.value, 1),
            words.decimal(agreement.mard_percent.low.max(0.0), 1),
            pick("to", "bis"),
            words.decimal(agreement.mard_percent.high, 1),
        ));
    }
    lines.push(String::new());
    lines.push(pick(
        "Times are the wearer's own clock. A sensor reads the fluid under the skin, minutes behind blood; differences are given as read.",
        "Zeiten nach der eigenen Uhr. Ein Sensor misst die Flüssigkeit unter der Haut, Minuten hinter dem Blut; Abweichungen wie abgelesen.",
    ));
    lines.push(format!("{} {}", pick("Written", "Geschrieben"), day(now)));
    lines.join("\n")
}
