//! What the name of a column means.

use super::unit::{Named, unit_in};
use crate::exchange::csv::times;

/// The words of a column's name.
pub(super) fn words(name: &str) -> impl Iterator<Item = &str> {
    name.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty())
}

pub(super) fn has(name: &str, any: &[&str]) -> bool {
    words(name).any(|word| any.contains(&word))
}

/// How surely a name means a time: 2 for one with its date, 1 for what may be a time of day.
pub(super) fn whole_time_rank(name: &str) -> u8 {
    let joined: String = words(name).collect();
    if has(name, &["zone", "offset", "zeitzone", "timezone"]) {
        0
    } else if [
        "timestamp",
        "datetime",
        "dateandtime",
        "zeitstempel",
        "zeitpunkt",
        "datumuhrzeit",
        "datumundzeit",
        "datumzeit",
    ]
    .iter()
    .any(|whole| joined.contains(whole))
    {
        2
    } else {
        u8::from(has(name, &["time", "zeit", "uhrzeit"]))
    }
}

pub(super) fn date_rank(name: &str) -> u8 {
    u8::from(has(name, &["date", "datum", "day", "tag"]))
}

/// The offset, in minutes, that a name says its times have: `time (UTC)`, `time GMT+1`.
pub(super) fn offset_in(name: &str) -> Option<i32> {
    let word = ["utc", "gmt"].into_iter().find(|word| has(name, &[word])).filter(|_| !is_offset(name))?;
    let (_, behind) = name.split_once(word)?;
    let behind = behind.trim_start();
    let end = behind.find(|c: char| !matches!(c, '+' | '-' | ':' | '0'..='9')).unwrap_or(behind.len());
    let shift = &behind[..end];
    if !shift.starts_with(['+', '-']) || !shift.contains(|c: char| c.is_ascii_digit()) {
        return Some(0);
    }
    times::offset_alone(shift)
}

/// Whether a name means offsets from UTC.
pub(super) fn is_offset(name: &str) -> bool {
    let joined: String = words(name).collect();
    joined == "offset"
        || ["utcoffset", "gmtoffset", "tzoffset", "timezoneoffset", "offsetutc", "offsetfromutc", "timeoffset"]
            .iter()
            .any(|whole| joined.contains(whole))
}

/// Whether a name means a meter's checks, and says so itself: many a sensor's readings are called blood glucose.
pub(super) fn is_meters(name: &str) -> bool {
    let joined: String = words(name).collect();
    let meter = ["meter", "finger", "capillary", "kapillar", "calibration", "kalibrier"];
    is_glucose(name) && (meter.iter().any(|part| joined.contains(part)) || has(name, &["smbg"]))
}

/// Whether a name means glucose.
fn is_glucose(name: &str) -> bool {
    let joined: String = words(name).collect();
    ["gluc", "gluk", "glic", "glyc", "zucker", "sugar"].iter().any(|part| joined.contains(part))
        || has(name, &["bg", "cgm", "smbg"])
        || matches!(unit_in(name), Some(Named::Known(_)))
}

/// How surely a name means sensor readings.
pub(super) fn glucose_rank(name: &str) -> u8 {
    // What is worked out from readings or beside them is none.
    const NOT: [&str; 48] = [
        "insulin",
        "carb",
        "carbs",
        "carbohydrate",
        "ketone",
        "ketones",
        "keton",
        "cetona",
        "cetonas",
        "hba1c",
        "a1c",
        "rate",
        "trend",
        "target",
        "goal",
        "limit",
        "threshold",
        "alert",
        "alarm",
        "delta",
        "predicted",
        "prediction",
        "forecast",
        "expected",
        "projected",
        "vorhersage",
        "prognose",
        "predicha",
        "prevista",
        "id",
        "type",
        "time",
        "date",
        "zeit",
        "datum",
        "timestamp",
        "sd",
        "cv",
        "mean",
        "median",
        "average",
        "mittelwert",
        "durchschnitt",
        "promedio",
        "count",
        "note",
        "factor",
        "unit",
    ];
    if has(name, &NOT) || is_meters(name) {
        return 0;
    }
    let joined: String = words(name).collect();
    let sensor = ["sensor", "interstitial", "gewebe"].iter().any(|part| joined.contains(part)) || has(name, &["cgm"]);
    match (is_glucose(name), sensor, has(name, &["blood"])) {
        (true, true, false) => 4,
        (true, _, false) => 3,
        (true, _, true) => 2,
        _ => u8::from(has(name, &["value", "wert", "reading", "messwert", "valor", "valeur"])),
    }
}
