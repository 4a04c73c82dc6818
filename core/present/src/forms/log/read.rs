//! What was filled in, as an entry: when it was, and what.

use super::{
    ACTIVITY_MINUTES, EFFORT, HAPPENED, KETONE_METER_SHOWS, Kind, LOT, METER_SHOWS, RATED_DAYS, SEEN, SITE, SLEEP_FROM,
    SLEEP_UNTIL, Said,
};
use crate::error::{Error, Quantity, Result, Unit};
use crate::forms::Form;
use crate::forms::before::effort_of;
use crate::log::{
    Beyond, Entry, EntryKind, Illness, Instrument, InsulinKind, Purpose, SensorEvent, Shown, Symptom, Text,
};
use crate::time::{DAY_MS, MINUTE_MS, Moment};
use crate::words::Words;
use crate::{say, text};

/// Any kind but sleep.
pub(super) fn other(
    form: &mut Form,
    kind: Kind,
    old: Option<(&Entry, &Form)>,
    picked: bool,
    now: Moment,
    words: Words,
) -> Option<Said> {
    let minute = form.minute(HAPPENED);
    let at = match old {
        Some((old, _)) => same_day(old.at, minute),
        None if picked => last_time(now, minute),
        None => now,
    };
    let what = match old {
        // As amounts are shown they are rounded.
        Some((old, before)) if stands(form).eq(stands(before)) => old.what.clone(),
        _ => what(form, kind, words)?,
    };
    Some(Said { what, at })
}

/// What stands in a form, its time aside.
fn stands(form: &Form) -> impl Iterator<Item = (&'static str, &str)> {
    form.fields.iter().filter(|field| field.id != HAPPENED).map(|field| (field.id, field.value.trim()))
}

pub(super) fn slept(form: &Form, old: Option<&Entry>, now: Moment) -> Option<Said> {
    let (from, until) = (form.minute(SLEEP_FROM), form.minute(SLEEP_UNTIL));
    let (at, until) = match old {
        None => {
            let until = last_time(now, until);
            (last_time(until, from), until)
        }
        Some(Entry { at, what: EntryKind::Sleep { until: before }, .. }) => {
            let until = same_day(*before, until);
            // What was not touched keeps the day it began on.
            (if from == minute(*at) { *at } else { last_time(until, from) }, until)
        }
        Some(_) => return None,
    };
    Some(Said { what: EntryKind::Sleep { until }, at })
}

fn what(form: &mut Form, kind: Kind, words: Words) -> Option<EntryKind> {
    let code = kind.code();
    let number = |form: &mut Form, id| needed(form, id, words, |typed| words.read_number(typed));
    let words_in = |form: &mut Form, id| needed(form, id, words, |typed| Ok(Text::new(typed)?));
    Some(match kind {
        Kind::Meter => EntryKind::checked_by_meter(match form.value(METER_SHOWS) {
            "low" => beyond(Beyond::Below),
            "high" => beyond(Beyond::Above),
            _ => needed(form, code, words, |typed| words.read_meter(typed))?,
        }),
        Kind::Rescue => EntryKind::Carbohydrate { grams: number(form, code)?, purpose: Purpose::Rescue },
        Kind::Meal => EntryKind::Carbohydrate { grams: number(form, code)?, purpose: Purpose::Meal },
        Kind::Rapid => EntryKind::Insulin { insulin: InsulinKind::Rapid, units: number(form, code)? },
        Kind::LongActing => EntryKind::Insulin { insulin: InsulinKind::LongActing, units: number(form, code)? },
        Kind::Ketones => {
            let id = if form.value(KETONE_METER_SHOWS) == "amount" { code } else { KETONE_METER_SHOWS };
            EntryKind::Ketones { mmol_l: needed(form, id, words, |typed| words.read_ketones(typed))? }
        }
        Kind::Alcohol => EntryKind::Alcohol { drinks: number(form, code)? },
        Kind::Note => EntryKind::Note { text: words_in(form, code)? },
        Kind::Illness => EntryKind::Illness {
            illness: match form.value(code) {
                "vomiting" => Illness::Vomiting,
                "over" => Illness::Over,
                _ => Illness::Ill,
            },
        },
        Kind::Feels => EntryKind::Symptom {
            felt: match form.value(code) {
                "low" => Symptom::FeelsLow,
                "high" => Symptom::FeelsHigh,
                "neither" => Symptom::None,
                "severe" => Symptom::Severe,
                _ => return choose(form, code, words),
            },
        },
        Kind::Activity => {
            // Each says what is wrong with it, not one after the other.
            let (activity, minutes) = (words_in(form, code), number(form, ACTIVITY_MINUTES));
            EntryKind::Activity { activity: activity?, minutes: minutes?, effort: effort_of(form.value(EFFORT)) }
        }
        Kind::Sensor => EntryKind::Sensor(match form.value(code) {
            "inserted" => {
                let any = |form: &mut Form, id| if form.value(id).is_empty() { None } else { words_in(form, id) };
                SensorEvent::Inserted { site: any(form, SITE), lot: any(form, LOT), rated_days: rated(form, words) }
            }
            "warmed_up" => SensorEvent::WarmUpOver,
            "rolled_off" => SensorEvent::RolledOff,
            "ended" => SensorEvent::Ended,
            "fault" => SensorEvent::Fault { seen: words_in(form, SEEN)? },
            _ => return choose(form, code, words),
        }),
        // Nothing but its times.
        Kind::Sleep => return None,
    })
}

/// How long a sensor is rated for, if that was filled in.
// The casts fit: checked.
fn rated(form: &mut Form, words: Words) -> Option<u16> {
    if form.value(RATED_DAYS).is_empty() {
        return None;
    }
    needed(form, RATED_DAYS, words, |typed| {
        let (days, high) = (words.read_number(typed)?, f64::from(SensorEvent::LONGEST_RATED_DAYS));
        if days.fract() == 0.0 && (1.0..=high).contains(&days) {
            return Ok(days as u16);
        }
        Err(Error::OutOfRange { what: Quantity::RatedLength, given: days, low: 1.0, high, unit: Unit::Days })
    })
}

fn beyond(beyond: Beyond) -> Shown {
    Shown { glucose: Instrument::Meter.limit(beyond), beyond: Some(beyond) }
}

/// Reads a field that must not be empty.
fn needed<T>(form: &mut Form, id: &str, words: Words, read: impl FnOnce(&str) -> Result<T>) -> Option<T> {
    match read(form.value(id)) {
        Ok(value) => Some(value),
        Err(error) => {
            refuse(form, id, &advice(&error, words));
            None
        }
    }
}

fn choose(form: &mut Form, id: &str, words: Words) -> Option<EntryKind> {
    refuse(form, id, text!(words, "form-log-choose"));
    None
}

/// Names the field: the advice may be read out far from it.
pub(super) fn refuse(form: &mut Form, id: &str, advice: &str) {
    let name = form.fields.iter().find(|field| field.id == id).map(|field| field.name.clone()).unwrap_or_default();
    form.refuse(id, format!("{name}: {advice}"));
}

pub(super) fn advice(error: &Error, words: Words) -> String {
    match error {
        // Nothing taken is no entry.
        Error::OutOfRange {
            what: Quantity::Insulin | Quantity::Carbohydrate | Quantity::Alcohol | Quantity::Activity,
            high,
            unit,
            ..
        } => say!(words, "form-log-above-0", high = words.typed_number(*high), unit = words.unit_name(*unit)),
        Error::Invalid { what: Quantity::Sleep, .. } => text!(words, "form-log-sleep-length").to_owned(),
        _ => words.advice(error),
    }
}

/// The minute of the day on a moment's own clock.
// The casts fit: below 1440.
pub(super) fn minute(at: Moment) -> u16 {
    at.minute_of_day() as u16
}

/// That minute of a moment's day; what its clock shows already stays to the millisecond.
fn same_day(at: Moment, minute_wanted: u16) -> Moment {
    let ahead = i64::from(minute_wanted) - i64::from(minute(at));
    if ahead == 0 { at } else { at.plus_ms(ahead * MINUTE_MS - at.unix_ms().rem_euclid(MINUTE_MS)) }
}

/// The newest moment, not after this one, at which its clock showed a minute of the day.
fn last_time(at: Moment, minute_wanted: u16) -> Moment {
    let today = same_day(at, minute_wanted);
    if !today.is_after(at) { today } else { today.plus_ms(-DAY_MS) }
}
