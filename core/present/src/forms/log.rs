//! What a person adds to the log, and what of it is put right.
//!
//! Supplies are added on their own page, beside what is in stock.

use super::before::{effort_code, effort_field, effort_of};
use super::{Field, Filled, Form, Takes};
use crate::error::{Error, Result};
use crate::log::{
    Beyond, Entry, Illness, Instrument, InsulinKind, Purpose, SensorEvent, Shown, Source, Symptom, Text, What,
};
use crate::prompt::{Caution, Reason};
use crate::time::{DAY_MS, MINUTE_MS, Moment};
use crate::units::GlucoseUnit;
use crate::wearer::{Language, Wearer};
use crate::words::{ShellLabel, Words};
use crate::{say, text};

/// Which kind of entry. The field for the kind itself; the one field of a kind bears the kind's own code, so that what was typed for
/// one kind never stands in another's.
const KIND: &str = "kind";
const METER_SHOWS: &str = "meter_shows";
const ACTIVITY_MINUTES: &str = "activity_minutes";
const EFFORT: &str = "effort";
const SLEEP_FROM: &str = "sleep_from";
const SLEEP_UNTIL: &str = "sleep_until";
const SITE: &str = "site";
const LOT: &str = "lot";
const RATED_DAYS: &str = "rated_days";
const SEEN: &str = "seen";
const HAPPENED: &str = "happened";

/// What was filled in says this.
#[derive(Clone, Debug, PartialEq)]
pub struct Said {
    /// What happened.
    pub what: What,
    /// When.
    pub at: Moment,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Meter,
    Rescue,
    Rapid,
    Meal,
    // A kind of its own, not a choice beside rapid insulin: what is chosen beforehand would be left standing one day.
    LongActing,
    Feels,
    Activity,
    Ketones,
    Illness,
    Alcohol,
    Sleep,
    Sensor,
    Note,
}

impl Kind {
    const ALL: [Self; 13] = [
        Self::Meter,
        Self::Rescue,
        Self::Rapid,
        Self::Meal,
        Self::LongActing,
        Self::Feels,
        Self::Activity,
        Self::Ketones,
        Self::Illness,
        Self::Alcohol,
        Self::Sleep,
        Self::Sensor,
        Self::Note,
    ];

    const fn code(self) -> &'static str {
        match self {
            Self::Meter => "meter",
            Self::Rescue => "rescue",
            Self::Rapid => "rapid",
            Self::Meal => "meal",
            Self::LongActing => "long_acting",
            Self::Feels => "feels",
            Self::Activity => "activity",
            Self::Ketones => "ketones",
            Self::Illness => "illness",
            Self::Alcohol => "alcohol",
            Self::Sleep => "sleep",
            Self::Sensor => "sensor",
            Self::Note => "note",
        }
    }

    fn name(self, words: Words) -> &'static str {
        match self {
            Self::Meter => text!(words, "form-log-meter"),
            Self::Rescue => text!(words, "form-log-rescue"),
            Self::Rapid => text!(words, "form-log-rapid"),
            Self::Meal => text!(words, "form-log-meal"),
            Self::LongActing => text!(words, "form-log-long-acting"),
            Self::Feels => text!(words, "form-log-feels"),
            Self::Activity => text!(words, "form-log-activity"),
            Self::Ketones => text!(words, "form-log-ketones"),
            Self::Illness => text!(words, "form-log-illness"),
            Self::Alcohol => text!(words, "form-log-alcohol"),
            Self::Sleep => text!(words, "form-log-sleep"),
            Self::Sensor => text!(words, "form-log-sensor"),
            Self::Note => text!(words, "form-log-note"),
        }
    }

    fn of(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.code() == code)
    }
}

/// Whether an entry has a form in which it is put right.
#[must_use]
pub fn has_form(what: &What) -> bool {
    // In whatever words.
    written(what, Words::new(Language::English, GlucoseUnit::MgDl)).is_some()
}

/// Lays out what can be added, or what an old entry says, with what was filled in. Nothing is refused yet. Of an entry that has no form
/// ([`has_form`]) nothing is laid out.
#[must_use]
pub fn form(filled: &Filled, old: Option<&Entry>, wearer: &Wearer, now: Moment, words: Words) -> Form {
    let label = |label| words.shell_label(label);
    let Some(old) = old else {
        let kinds = Kind::ALL.map(|kind| (kind.code(), kind.name(words).to_owned()));
        let mut fields = vec![Field::choice(KIND, text!(words, "form-log-kind"), kinds, "")];
        // No button before there is something to add.
        let mut main = String::new();
        if let Some(kind) = filled.get(KIND).and_then(|code| Kind::of(code)) {
            fields.extend(fields_of(kind, filled, words));
            fields.extend(times(kind, (wearer.night.from_minute, minute(now)), minute(now), words));
            label(ShellLabel::Add).clone_into(&mut main);
        }
        return Form { heading: label(ShellLabel::AddEntry).to_owned(), fields, main }.filled(filled);
    };
    let Some((kind, filled)) = over_written(filled, old, words) else {
        return Form { heading: words.what(&old.what), fields: Vec::new(), main: String::new() };
    };
    let mut fields = fields_of(kind, &filled, words);
    let until = if let What::Sleep { until } = old.what { until } else { old.at };
    fields.extend(times(kind, (minute(old.at), minute(until)), minute(old.at), words));
    Form { heading: words.what(&old.what), fields, main: label(ShellLabel::PutRight).to_owned() }.filled(&filled)
}

/// As [`form`], with what was filled in read; what cannot be taken is said beside its field, and then nothing is given. What was not
/// touched of an old entry stays to the last digit, whatever its rounded text would say. A time is the newest at which the clock showed
/// it; of an old entry, that of its own day.
#[must_use]
pub fn read(filled: &Filled, old: Option<&Entry>, wearer: &Wearer, now: Moment, words: Words) -> (Form, Option<Said>) {
    let mut form = form(filled, old, wearer, now, words);
    let kind = match old {
        None => Kind::of(form.value(KIND)),
        Some(old) => over_written(filled, old, words).map(|(kind, _)| kind),
    };
    let Some(kind) = kind else {
        refuse(&mut form, KIND, text!(words, "form-log-choose"));
        return (form, None);
    };
    let said = if kind == Kind::Sleep {
        slept(&form, old, now)
    } else {
        let before = old.map(|old| (old, self::form(&Filled::new(), Some(old), wearer, now, words)));
        let before = before.as_ref().map(|(old, form)| (*old, form));
        other(&mut form, kind, before, filled.contains_key(HAPPENED), now, words)
    };
    let Some(said) = said.filter(|_| !form.is_refused()) else { return (form, None) };
    // The limits are the log's own.
    let checked = match old {
        None => Entry::new(said.at, now, Source::by_hand(), said.what.clone()),
        Some(old) => old.corrected(now, said.at, said.what.clone()),
    };
    let ahead = matches!(said.what, What::Sleep { until } if until.unix_ms() > now.unix_ms());
    let refused = match checked {
        Ok(_) if ahead => Some(Error::Invalid { what: "time", why: "has not come yet".to_owned() }),
        Ok(_) => None,
        Err(error) => Some(error),
    };
    if let Some(error) = refused {
        let field = match &error {
            Error::Invalid { what: "time", .. } if kind != Kind::Sleep => HAPPENED,
            Error::OutOfRange { what: "rated length", .. } => RATED_DAYS,
            Error::OutOfRange { what: "activity", .. } => ACTIVITY_MINUTES,
            _ if kind == Kind::Sleep => SLEEP_UNTIL,
            _ => kind.code(),
        };
        refuse(&mut form, field, &advice(&error, words));
        return (form, None);
    }
    (form, Some(said))
}

/// That an entry was kept, and what is asked back about it, if anything.
#[must_use]
pub fn kept(entry: &Entry, asks: Option<Reason>, words: Words) -> String {
    let mut text = format!("{}: {}", words.what(&entry.what), words.shell_label(ShellLabel::Kept));
    if let Some(reason) = asks {
        text += &format!("\n{}\n{}", words.reason(reason), words.caution(Caution::InsulinRightOrWrong));
    }
    text
}

/// That an old entry stays as it was.
#[must_use]
pub fn unchanged(words: Words) -> &'static str {
    text!(words, "form-log-unchanged")
}

/// The fields of a kind, its times aside.
fn fields_of(kind: Kind, filled: &Filled, words: Words) -> Vec<Field> {
    let label = |label| words.shell_label(label);
    let (code, name) = (kind.code(), kind.name(words));
    let value = |id: &str| filled.get(id).map_or("", |value| value.as_str());
    let said = |label: ShellLabel| words.shell_label(label).to_owned();
    match kind {
        Kind::Meter => {
            let shows = Field::choice(
                METER_SHOWS,
                label(ShellLabel::MeterShows),
                [
                    ("amount", text!(words, "form-log-amount").to_owned()),
                    ("low", text!(words, "form-log-too-low").to_owned()),
                    ("high", text!(words, "form-log-too-high").to_owned()),
                ],
                "amount",
            );
            let amount = Field::number(code, name, words.unit().code(), "");
            if matches!(value(METER_SHOWS), "low" | "high") { vec![shows] } else { vec![amount, shows] }
        }
        Kind::Rescue | Kind::Meal => vec![Field::number(code, name, "g", "")],
        Kind::Rapid | Kind::LongActing => vec![Field::number(code, name, &words.unit_name("units"), "")],
        Kind::Ketones => vec![Field::number(code, name, "mmol/L", "")],
        Kind::Alcohol => {
            vec![Field::number(code, text!(words, "form-log-drinks"), "", "").note(text!(words, "form-log-drink-is"))]
        }
        Kind::Feels => vec![Field::choice(
            code,
            name,
            [
                ("low", said(ShellLabel::FeelLow)),
                ("high", said(ShellLabel::FeelHigh)),
                ("neither", said(ShellLabel::FeelNeither)),
                ("severe", said(ShellLabel::SevereSigns)),
            ],
            "",
        )],
        Kind::Illness => vec![Field::choice(
            code,
            text!(words, "form-log-how-ill"),
            [
                ("ill", text!(words, "form-log-ill").to_owned()),
                ("vomiting", text!(words, "form-log-vomiting").to_owned()),
                ("over", text!(words, "form-log-well-again").to_owned()),
            ],
            "ill",
        )],
        Kind::Activity => vec![
            Field::new(code, text!(words, "form-log-activity-what"), Takes::Words, ""),
            Field::number(ACTIVITY_MINUTES, text!(words, "form-before-minutes"), "min", ""),
            effort_field(EFFORT, words),
        ],
        Kind::Sleep => Vec::new(),
        Kind::Note => vec![Field::new(code, name, Takes::Words, "")],
        Kind::Sensor => {
            let mut fields = vec![Field::choice(
                code,
                text!(words, "form-log-sensor-what"),
                [
                    ("inserted", said(ShellLabel::SensorInserted)),
                    ("warmed_up", text!(words, "form-log-warmed-up").to_owned()),
                    ("rolled_off", said(ShellLabel::IRolledOver)),
                    ("fault", text!(words, "form-log-fault").to_owned()),
                    ("ended", said(ShellLabel::SensorEnded)),
                ],
                "",
            )];
            match value(code) {
                "inserted" => fields.extend([
                    Field::new(SITE, label(ShellLabel::SensorSite), Takes::Words, ""),
                    Field::new(LOT, label(ShellLabel::Lot), Takes::Words, ""),
                    Field::number(RATED_DAYS, text!(words, "form-log-rated-days"), "", ""),
                ]),
                "fault" => fields.push(Field::new(SEEN, label(ShellLabel::SensorFault), Takes::Words, "")),
                _ => {}
            }
            fields
        }
    }
}

fn times(kind: Kind, (from, until): (u16, u16), happened: u16, words: Words) -> Vec<Field> {
    if kind == Kind::Sleep {
        return vec![
            Field::clock(SLEEP_FROM, text!(words, "form-log-asleep"), from),
            Field::clock(SLEEP_UNTIL, text!(words, "form-log-awake"), until),
        ];
    }
    vec![Field::clock(HAPPENED, text!(words, "form-log-happened"), happened)]
}

/// What one would have filled in to say this.
fn written(what: &What, words: Words) -> Option<(Kind, Vec<(&'static str, String)>)> {
    let one = |kind: Kind, value: String| Some((kind, vec![(kind.code(), value)]));
    match what {
        What::MeterCheck { mg_dl } => one(Kind::Meter, words.typed_meter(Shown::from(*mg_dl))),
        What::MeterBeyond { beyond, .. } => Some((Kind::Meter, vec![(METER_SHOWS, beyond_code(*beyond).to_owned())])),
        What::Insulin { insulin: InsulinKind::Rapid, units } => one(Kind::Rapid, words.typed_number(*units)),
        What::Insulin { insulin: InsulinKind::LongActing, units } => one(Kind::LongActing, words.typed_number(*units)),
        What::Carbohydrate { grams, purpose: Purpose::Rescue } => one(Kind::Rescue, words.typed_number(*grams)),
        What::Carbohydrate { grams, purpose: Purpose::Meal } => one(Kind::Meal, words.typed_number(*grams)),
        What::Alcohol { drinks } => one(Kind::Alcohol, words.typed_number(*drinks)),
        What::Ketones { mmol_l } => one(Kind::Ketones, words.typed_number(*mmol_l)),
        What::Illness { illness } => {
            let code = match illness {
                Illness::Ill => "ill",
                Illness::Vomiting => "vomiting",
                Illness::Over => "over",
            };
            one(Kind::Illness, code.to_owned())
        }
        What::Activity { activity, minutes, effort } => Some((
            Kind::Activity,
            vec![
                (Kind::Activity.code(), activity.as_str().to_owned()),
                (ACTIVITY_MINUTES, words.typed_number(*minutes)),
                (EFFORT, effort_code(*effort).to_owned()),
            ],
        )),
        What::Sleep { .. } => Some((Kind::Sleep, Vec::new())),
        What::Symptom { felt } => {
            let code = match felt {
                Symptom::FeelsLow => "low",
                Symptom::FeelsHigh => "high",
                Symptom::None => "neither",
                Symptom::Severe => "severe",
            };
            one(Kind::Feels, code.to_owned())
        }
        What::Note { text } => one(Kind::Note, text.as_str().to_owned()),
        What::Sensor(event) => {
            let plain = |code: &str| one(Kind::Sensor, code.to_owned());
            match event {
                SensorEvent::Inserted { site, lot, rated_days } => {
                    let text =
                        |text: &Option<Text>| text.as_ref().map(|text| text.as_str().to_owned()).unwrap_or_default();
                    Some((
                        Kind::Sensor,
                        vec![
                            (Kind::Sensor.code(), "inserted".to_owned()),
                            (SITE, text(site)),
                            (LOT, text(lot)),
                            (RATED_DAYS, rated_days.map(|days| days.to_string()).unwrap_or_default()),
                        ],
                    ))
                }
                SensorEvent::Fault { seen } => Some((
                    Kind::Sensor,
                    vec![(Kind::Sensor.code(), "fault".to_owned()), (SEEN, seen.as_str().to_owned())],
                )),
                SensorEvent::WarmUpOver => plain("warmed_up"),
                SensorEvent::RolledOff => plain("rolled_off"),
                SensorEvent::Ended => plain("ended"),
                // A device said it, not a person.
                SensorEvent::DeviceFault { .. } => None,
            }
        }
        What::SensorReading { .. }
        | What::SensorBeyond { .. }
        | What::PressedSpell { .. }
        | What::Supply(_)
        | What::Prompted(_)
        | What::Import { .. }
        | What::Retraction => None,
    }
}

/// What an old entry says, with what was filled in in its place.
fn over_written(filled: &Filled, old: &Entry, words: Words) -> Option<(Kind, Filled)> {
    let (kind, said) = written(&old.what, words)?;
    let mut all: Filled = said.into_iter().map(|(id, value)| (id.to_owned(), value)).collect();
    all.extend(filled.iter().map(|(id, value)| (id.clone(), value.clone())));
    Some((kind, all))
}

/// Any kind but sleep.
fn other(
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

fn slept(form: &Form, old: Option<&Entry>, now: Moment) -> Option<Said> {
    let (from, until) = (form.minute(SLEEP_FROM), form.minute(SLEEP_UNTIL));
    let (at, until) = match old {
        None => {
            let until = last_time(now, until);
            (last_time(until, from), until)
        }
        Some(Entry { at, what: What::Sleep { until: before }, .. }) => {
            let until = same_day(*before, until);
            // What was not touched keeps the day it began on.
            (if from == minute(*at) { *at } else { last_time(until, from) }, until)
        }
        Some(_) => return None,
    };
    Some(Said { what: What::Sleep { until }, at })
}

fn what(form: &mut Form, kind: Kind, words: Words) -> Option<What> {
    let code = kind.code();
    let number = |form: &mut Form, id| needed(form, id, words, |typed| words.read_number(typed));
    let words_in = |form: &mut Form, id| needed(form, id, words, |typed| Ok(Text::new(typed)?));
    Some(match kind {
        Kind::Meter => What::checked_by_meter(match form.value(METER_SHOWS) {
            "low" => beyond(Beyond::Below),
            "high" => beyond(Beyond::Above),
            _ => needed(form, code, words, |typed| words.read_meter(typed))?,
        }),
        Kind::Rescue => What::Carbohydrate { grams: number(form, code)?, purpose: Purpose::Rescue },
        Kind::Meal => What::Carbohydrate { grams: number(form, code)?, purpose: Purpose::Meal },
        Kind::Rapid => What::Insulin { insulin: InsulinKind::Rapid, units: number(form, code)? },
        Kind::LongActing => What::Insulin { insulin: InsulinKind::LongActing, units: number(form, code)? },
        Kind::Ketones => What::Ketones { mmol_l: number(form, code)? },
        Kind::Alcohol => What::Alcohol { drinks: number(form, code)? },
        Kind::Note => What::Note { text: words_in(form, code)? },
        Kind::Illness => What::Illness {
            illness: match form.value(code) {
                "vomiting" => Illness::Vomiting,
                "over" => Illness::Over,
                _ => Illness::Ill,
            },
        },
        Kind::Feels => What::Symptom {
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
            What::Activity { activity: activity?, minutes: minutes?, effort: effort_of(form.value(EFFORT)) }
        }
        Kind::Sensor => What::Sensor(match form.value(code) {
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
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // checked
fn rated(form: &mut Form, words: Words) -> Option<u16> {
    if form.value(RATED_DAYS).is_empty() {
        return None;
    }
    needed(form, RATED_DAYS, words, |typed| {
        let (days, high) = (words.read_number(typed)?, f64::from(SensorEvent::LONGEST_RATED_DAYS));
        if days.fract() == 0.0 && (1.0..=high).contains(&days) {
            return Ok(days as u16);
        }
        Err(Error::OutOfRange { what: "rated length", given: days, low: 1.0, high, unit: "days" })
    })
}

fn beyond(beyond: Beyond) -> Shown {
    Shown { glucose: Instrument::Meter.limit(beyond), beyond: Some(beyond) }
}

const fn beyond_code(beyond: Beyond) -> &'static str {
    match beyond {
        Beyond::Below => "low",
        Beyond::Above => "high",
    }
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

fn choose(form: &mut Form, id: &str, words: Words) -> Option<What> {
    refuse(form, id, text!(words, "form-log-choose"));
    None
}

/// Names the field: the advice may be read out far from it.
fn refuse(form: &mut Form, id: &str, advice: &str) {
    let name = form.fields.iter().find(|field| field.id == id).map(|field| field.name.clone()).unwrap_or_default();
    form.refuse(id, format!("{name}: {advice}"));
}

fn advice(error: &Error, words: Words) -> String {
    match error {
        // Nothing taken is no entry.
        Error::OutOfRange { what: "insulin" | "carbohydrate" | "alcohol" | "activity", high, unit, .. } => {
            say!(words, "form-log-above-0", high = words.typed_number(*high), unit = words.unit_name(unit))
        }
        Error::Invalid { what: "sleep", .. } => text!(words, "form-log-sleep-length").to_owned(),
        _ => words.advice(error),
    }
}

/// The minute of the day on a moment's own clock.
#[allow(clippy::cast_possible_truncation)] // below 1440
fn minute(at: Moment) -> u16 {
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
    if today.unix_ms() <= at.unix_ms() { today } else { today.plus_ms(-DAY_MS) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::Effort;
    use crate::units::Glucose;

    const ENGLISH: Words = Words::new(Language::English, GlucoseUnit::MgDl);
    const GERMAN: Words = Words::new(Language::German, GlucoseUnit::MmolL);
    const KINDS: [&str; 13] = [
        "meter",
        "rescue",
        "rapid",
        "meal",
        "long_acting",
        "feels",
        "activity",
        "ketones",
        "illness",
        "alcohol",
        "sleep",
        "sensor",
        "note",
    ];

    fn at(text: &str) -> Moment {
        Moment::parse(text).unwrap()
    }

    fn now() -> Moment {
        at("2026-03-01T14:01:20+01:00")
    }

    fn filled(kind: &str, fields: &[(&str, &str)]) -> Filled {
        let kind = if kind.is_empty() { None } else { Some(("kind".to_owned(), kind.to_owned())) };
        kind.into_iter().chain(fields.iter().map(|(id, value)| ((*id).to_owned(), (*value).to_owned()))).collect()
    }

    fn added(kind: &str, fields: &[(&str, &str)], words: Words) -> (Form, Option<Said>) {
        read(&filled(kind, fields), None, &Wearer::default(), now(), words)
    }

    fn righted(old: &Entry, fields: &[(&str, &str)], words: Words) -> (Form, Option<Said>) {
        read(&filled("", fields), Some(old), &Wearer::default(), now(), words)
    }

    fn entry(when: &str, what: What) -> Entry {
        Entry::new(at(when), now(), Source::by_hand(), what).unwrap()
    }

    fn ids(form: &Form) -> Vec<&'static str> {
        form.fields.iter().map(|field| field.id).collect()
    }

    /// What is said against fields, by their names for a program.
    fn against(form: &Form) -> Vec<(&'static str, String)> {
        form.fields.iter().filter_map(|field| field.advice.clone().map(|advice| (field.id, advice))).collect()
    }

    fn text(text: &str) -> Text {
        Text::new(text).unwrap()
    }

    fn mg(mg_dl: f64) -> Glucose {
        Glucose::from_mg_dl(mg_dl).unwrap()
    }

    fn inserted() -> What {
        let (site, lot) = (Some(text("left arm")), Some(text("A7")));
        What::Sensor(SensorEvent::Inserted { site, lot, rated_days: Some(10) })
    }

    /// A kind, what is filled in, and the entry it makes.
    type Example = (&'static str, Vec<(&'static str, &'static str)>, What);

    /// Every kind as it is filled in, and what comes of it.
    fn every() -> Vec<Example> {
        use InsulinKind::{LongActing, Rapid};
        use Purpose::{Meal, Rescue};
        let felt = |felt| What::Symptom { felt };
        let ill = |illness| What::Illness { illness };
        let low = Shown { glucose: Instrument::Meter.limit(Beyond::Below), beyond: Some(Beyond::Below) };
        let high = Shown { glucose: Instrument::Meter.limit(Beyond::Above), beyond: Some(Beyond::Above) };
        let limit = What::MeterBeyond { beyond: Beyond::Below, mg_dl: mg(30.0) };
        let walk = What::Activity { activity: text("a walk"), minutes: 30.0, effort: Effort::Moderate };
        let ride = What::Activity { activity: text("a ride"), minutes: 90.0, effort: Effort::Hard };
        vec![
            ("meter", vec![("meter", " 104 ")], What::MeterCheck { mg_dl: mg(104.0) }),
            ("meter", vec![("meter_shows", "low")], What::checked_by_meter(low)),
            ("meter", vec![("meter_shows", "high"), ("meter", "104")], What::checked_by_meter(high)),
            ("meter", vec![("meter", "<30")], limit),
            ("rescue", vec![("rescue", "15")], What::Carbohydrate { grams: 15.0, purpose: Rescue }),
            ("meal", vec![("meal", "60,5")], What::Carbohydrate { grams: 60.5, purpose: Meal }),
            ("rapid", vec![("rapid", "4.5")], What::Insulin { insulin: Rapid, units: 4.5 }),
            ("long_acting", vec![("long_acting", "14")], What::Insulin { insulin: LongActing, units: 14.0 }),
            ("feels", vec![("feels", "low")], felt(Symptom::FeelsLow)),
            ("feels", vec![("feels", "high")], felt(Symptom::FeelsHigh)),
            ("feels", vec![("feels", "neither")], felt(Symptom::None)),
            ("feels", vec![("feels", "severe")], felt(Symptom::Severe)),
            ("activity", vec![("activity", "a walk"), ("activity_minutes", "30")], walk),
            ("activity", vec![("activity", "a ride"), ("activity_minutes", "90"), ("effort", "hard")], ride),
            ("ketones", vec![("ketones", "1,2")], What::Ketones { mmol_l: 1.2 }),
            ("ketones", vec![("ketones", "0")], What::Ketones { mmol_l: 0.0 }),
            ("illness", vec![], ill(Illness::Ill)),
            ("illness", vec![("illness", "vomiting")], ill(Illness::Vomiting)),
            ("illness", vec![("illness", "over")], ill(Illness::Over)),
            ("alcohol", vec![("alcohol", "2")], What::Alcohol { drinks: 2.0 }),
            ("sensor", vec![("sensor", "inserted")], What::Sensor(SensorEvent::inserted(None))),
            (
                "sensor",
                vec![("sensor", "inserted"), ("site", "left arm"), ("lot", "A7"), ("rated_days", "10")],
                inserted(),
            ),
            ("sensor", vec![("sensor", "warmed_up")], What::Sensor(SensorEvent::WarmUpOver)),
            ("sensor", vec![("sensor", "rolled_off")], What::Sensor(SensorEvent::RolledOff)),
            ("sensor", vec![("sensor", "ended")], What::Sensor(SensorEvent::Ended)),
            (
                "sensor",
                vec![("sensor", "fault"), ("seen", "bled")],
                What::Sensor(SensorEvent::Fault { seen: text("bled") }),
            ),
            ("note", vec![("note", "felt odd")], What::Note { text: text("felt odd") }),
        ]
    }

    #[test]
    fn every_kind_becomes_its_entry_now() {
        for (kind, fields, what) in every() {
            let (form, said) = added(kind, &fields, ENGLISH);
            assert_eq!(said, Some(Said { what, at: now() }), "{kind} {fields:?} {:?}", against(&form));
        }
        let offered: Vec<_> = match &added("", &[], ENGLISH).0.fields[0].takes {
            Takes::Choice(options) => options.iter().map(|option| option.code).collect(),
            other => panic!("{other:?}"),
        };
        assert_eq!(offered, KINDS);
        let said: std::collections::HashSet<_> = every().iter().map(|(kind, ..)| *kind).collect();
        assert_eq!(said.len() + 1, KINDS.len(), "all but sleep, which has a test of its own");
    }

    #[test]
    fn each_kind_has_its_own_fields_and_only_those() {
        let fields =
            |kind, fields: &[(&str, &str)]| ids(&form(&filled(kind, fields), None, &Wearer::default(), now(), ENGLISH));
        assert_eq!(fields("", &[]), ["kind"]);
        assert_eq!(fields("nonsense", &[]), ["kind"]);
        assert_eq!(fields("meter", &[]), ["kind", "meter", "meter_shows", "happened"]);
        assert_eq!(fields("meter", &[("meter_shows", "low")]), ["kind", "meter_shows", "happened"]);
        assert_eq!(fields("activity", &[]), ["kind", "activity", "activity_minutes", "effort", "happened"]);
        assert_eq!(fields("sleep", &[]), ["kind", "sleep_from", "sleep_until"]);
        assert_eq!(fields("sensor", &[]), ["kind", "sensor", "happened"]);
        assert_eq!(fields("sensor", &[("sensor", "fault")]), ["kind", "sensor", "seen", "happened"]);
        let put_in = ["kind", "sensor", "site", "lot", "rated_days", "happened"];
        assert_eq!(fields("sensor", &[("sensor", "inserted")]), put_in);
        for kind in ["rescue", "rapid", "meal", "long_acting", "feels", "ketones", "illness", "alcohol", "note"] {
            assert_eq!(fields(kind, &[]), ["kind", kind, "happened"]);
        }
    }

    #[test]
    fn nothing_is_refused_and_nothing_can_be_kept_before_a_kind_is_chosen() {
        let first = form(&Filled::new(), None, &Wearer::default(), now(), ENGLISH);
        assert_eq!((first.main.as_str(), first.is_refused()), ("", false));
        let (refused, said) = added("", &[], ENGLISH);
        assert_eq!((against(&refused), said), (vec![("kind", "What to add: Choose one.".to_owned())], None));
        let laid_out = form(&filled("rapid", &[("rapid", "four")]), None, &Wearer::default(), now(), ENGLISH);
        assert_eq!((laid_out.main.as_str(), laid_out.is_refused()), ("Note it", false));
    }

    /// What was typed stays as typed; the sentence names the field and, of an amount, its limits.
    #[test]
    fn a_slip_is_said_with_its_field_and_its_limits() {
        type Fields = &'static [(&'static str, &'static str)];
        let slips: [(&str, Fields, &str, &str); 24] = [
            ("meter", &[("meter", "")], "meter", "Meter check: Write a number, such as 5.8."),
            ("meter", &[("meter", "9000")], "meter", "Meter check: Give an amount from 20 to 600 mg/dL."),
            (
                "meter",
                &[("meter", "5.8")],
                "meter",
                "Meter check: This amount only fits the other unit. Check the unit in the settings.",
            ),
            ("rescue", &[("rescue", "0")], "rescue", "Rescue carbohydrate: Give an amount above 0 and up to 500 g."),
            ("meal", &[("meal", "501")], "meal", "Carbohydrate with a meal: Give an amount above 0 and up to 500 g."),
            ("meal", &[("meal", "much")], "meal", "Carbohydrate with a meal: Write a number, such as 5.8."),
            ("rapid", &[("rapid", "15O")], "rapid", "Rapid insulin: Write a number, such as 5.8."),
            ("rapid", &[("rapid", "-1")], "rapid", "Rapid insulin: Give an amount above 0 and up to 150 units."),
            (
                "long_acting",
                &[("long_acting", "151")],
                "long_acting",
                "Long-acting insulin: Give an amount above 0 and up to 150 units.",
            ),
            ("feels", &[], "feels", "What you feel: Choose one."),
            (
                "activity",
                &[("activity", ""), ("activity_minutes", "30")],
                "activity",
                "What you did, such as walking: Write a short text without control characters.",
            ),
            (
                "activity",
                &[("activity", "walk"), ("activity_minutes", "1441")],
                "activity_minutes",
                "How long: Give an amount above 0 and up to 1440 minutes.",
            ),
            (
                "activity",
                &[("activity", "walk"), ("activity_minutes", "long")],
                "activity_minutes",
                "How long: Write a number, such as 5.8.",
            ),
            ("ketones", &[("ketones", "21")], "ketones", "Ketones in blood: Give an amount from 0 to 20 mmol/L."),
            ("ketones", &[("ketones", "-0.1")], "ketones", "Ketones in blood: Give an amount from 0 to 20 mmol/L."),
            ("ketones", &[("ketones", "?")], "ketones", "Ketones in blood: Write a number, such as 5.8."),
            (
                "alcohol",
                &[("alcohol", "41")],
                "alcohol",
                "How many drinks: Give an amount above 0 and up to 40 drinks.",
            ),
            (
                "sleep",
                &[("sleep_from", "06:00"), ("sleep_until", "06:00")],
                "sleep_until",
                "Woke up at: Waking up must come after falling asleep, and 24 hours later at most.",
            ),
            ("sensor", &[], "sensor", "What happened: Choose one."),
            (
                "sensor",
                &[("sensor", "fault"), ("seen", " ")],
                "seen",
                "What was wrong with it: Write a short text without control characters.",
            ),
            (
                "sensor",
                &[("sensor", "inserted"), ("rated_days", "10,5")],
                "rated_days",
                "Days it is rated for: Give an amount from 1 to 365 days.",
            ),
            (
                "sensor",
                &[("sensor", "inserted"), ("rated_days", "400")],
                "rated_days",
                "Days it is rated for: Give an amount from 1 to 365 days.",
            ),
            (
                "sensor",
                &[("sensor", "inserted"), ("site", "a\u{7}b")],
                "site",
                "Where, in your own words: Write a short text without control characters.",
            ),
            ("note", &[("note", "")], "note", "Note: Write a short text without control characters."),
        ];
        for (kind, fields, id, advice) in slips {
            let (form, said) = added(kind, fields, ENGLISH);
            assert_eq!((against(&form), said), (vec![(id, advice.to_owned())], None), "{kind} {fields:?}");
            for (id, typed) in fields {
                let stands = form.fields.iter().find(|field| field.id == *id).unwrap();
                assert_eq!(stands.value, *typed);
            }
        }
        let both = added("activity", &[], ENGLISH).0;
        assert_eq!(against(&both).len(), 2, "each field says what is wrong with it");
        let german = |kind, fields: &[(&str, &str)]| against(&added(kind, fields, GERMAN).0)[0].1.clone();
        assert_eq!(
            german("alcohol", &[("alcohol", "0")]),
            "Wie viele Gläser: Gib einen Wert über 0 und bis zu 40 Gläsern an."
        );
        assert_eq!(
            german("meter", &[("meter", "60")]),
            "Blutzucker gemessen: Dieser Wert passt nur zur anderen Einheit. Prüf die Einheit in den Einstellungen."
        );
    }

    #[test]
    fn what_is_typed_for_one_kind_is_kept_for_it_and_never_another_kinds() {
        let typed = filled("meal", &[("meal", "60"), ("rapid", "4")]);
        let shown = |kind: &str| {
            let mut typed = typed.clone();
            typed.insert("kind".to_owned(), kind.to_owned());
            form(&typed, None, &Wearer::default(), now(), ENGLISH).value(kind).to_owned()
        };
        assert_eq!([shown("meal"), shown("rapid"), shown("rescue"), shown("alcohol")], ["60", "4", "", ""]);
    }

    #[test]
    fn a_time_is_the_newest_at_which_the_clock_showed_it() {
        let when = |clock| added("note", &[("note", "x"), ("happened", clock)], ENGLISH).1.unwrap().at;
        assert_eq!(when("14:01"), now(), "to the millisecond");
        assert_eq!(when("12:30"), at("2026-03-01T12:30:00+01:00"));
        assert_eq!(when("14:02"), at("2026-02-28T14:02:00+01:00"), "what lies ahead was yesterday");
        assert_eq!(when("25:00"), now(), "no time of day");
    }

    #[test]
    fn sleep_is_the_last_before_its_end() {
        let slept = |from, until| {
            let said = added("sleep", &[("sleep_from", from), ("sleep_until", until)], ENGLISH).1.unwrap();
            (said.at, said.what)
        };
        let until = at("2026-03-01T06:45:00+01:00");
        assert_eq!(slept("23:10", "06:45"), (at("2026-02-28T23:10:00+01:00"), What::Sleep { until }));
        let nap = at("2026-03-01T13:30:00+01:00");
        assert_eq!(slept("13:00", "13:30"), (at("2026-03-01T13:00:00+01:00"), What::Sleep { until: nap }));
        let untouched = added("sleep", &[], ENGLISH).1.unwrap();
        assert_eq!((untouched.at, untouched.what), (at("2026-02-28T23:00:00+01:00"), What::Sleep { until: now() }));
    }

    #[test]
    fn every_kind_is_put_right_in_the_form_it_was_added_in_and_stays_where_nobody_touched_it() {
        for (kind, fields, what) in every() {
            let old = entry("2026-02-27T22:00:17+01:00", what.clone());
            for words in [ENGLISH, GERMAN] {
                let (form, said) = righted(&old, &[], words);
                assert_eq!((form.heading.clone(), ids(&form).contains(&"kind")), (words.what(&what), false));
                assert_eq!(said, Some(Said { what: what.clone(), at: old.at }), "{kind} {fields:?}");
                let moved = righted(&old, &[("happened", "21:45")], words).1.unwrap();
                assert_eq!(moved, Said { what: what.clone(), at: at("2026-02-27T21:45:00+01:00") }, "its own day");
            }
        }
        // 141 mg/dL is shown as 7,8 mmol/L, and 7,8 mmol/L are 140.5 mg/dL.
        let check = entry("2026-03-01T13:00:00+01:00", What::MeterCheck { mg_dl: mg(141.0) });
        assert_eq!(form(&Filled::new(), Some(&check), &Wearer::default(), now(), GERMAN).value("meter"), "7,8");
    }

    #[test]
    fn an_entry_is_put_right_field_by_field() {
        let dose = entry("2026-03-01T13:00:00+01:00", What::Insulin { insulin: InsulinKind::Rapid, units: 4.5 });
        let right = righted(&dose, &[("rapid", "5,5"), ("kind", "meal")], GERMAN).1.unwrap();
        assert_eq!(right, Said { what: What::Insulin { insulin: InsulinKind::Rapid, units: 5.5 }, at: dose.at });
        let (slip, none) = righted(&dose, &[("rapid", "viel")], GERMAN);
        assert_eq!((slip.value("rapid"), against(&slip).len(), none), ("viel", 1, None));
        let (ahead, none) = righted(&dose, &[("happened", "15:00")], ENGLISH);
        assert_eq!((against(&ahead)[0].0, none), ("happened", None));
        assert!(against(&ahead)[0].1.starts_with("When it happened: This time cannot be"), "{ahead:?}");
        // Where it sits is put right; the lot and the length stay.
        let sensor = entry("2026-03-01T13:00:00+01:00", inserted());
        let moved = righted(&sensor, &[("site", "right arm")], ENGLISH).1.unwrap().what;
        let (site, lot) = (Some(text("right arm")), Some(text("A7")));
        assert_eq!(moved, What::Sensor(SensorEvent::Inserted { site, lot, rated_days: Some(10) }));
        let beyond = entry("2026-03-01T13:00:00+01:00", What::MeterBeyond { beyond: Beyond::Below, mg_dl: mg(30.0) });
        let now_a_number = righted(&beyond, &[("meter_shows", "amount"), ("meter", "48")], ENGLISH).1.unwrap().what;
        assert_eq!(now_a_number, What::MeterCheck { mg_dl: mg(48.0) });
    }

    #[test]
    fn a_night_is_put_right_at_either_end() {
        let (from, until) = ("2026-02-28T23:10:20+01:00", at("2026-03-01T06:45:00+01:00"));
        let old = entry(from, What::Sleep { until });
        let said = |fields: &[(&str, &str)]| righted(&old, fields, ENGLISH).1.map(|said| (said.at, said.what));
        assert_eq!(said(&[]), Some((at(from), What::Sleep { until })));
        let earlier = at("2026-02-28T22:30:00+01:00");
        assert_eq!(said(&[("sleep_from", "22:30")]), Some((earlier, What::Sleep { until })));
        let later = at("2026-03-01T07:15:00+01:00");
        assert_eq!(said(&[("sleep_until", "07:15")]), Some((at(from), What::Sleep { until: later })));
        let (ahead, none) = righted(&old, &[("sleep_until", "15:00")], ENGLISH);
        assert_eq!((against(&ahead)[0].0, none), ("sleep_until", None), "it has not come yet");
    }

    #[test]
    fn what_no_person_says_has_no_form() {
        let device = SensorEvent::DeviceFault { code: crate::log::DeviceFault::General };
        for what in
            [What::SensorReading { mg_dl: mg(90.0) }, What::Sensor(device), What::Import { name: text("a file") }]
        {
            let old = entry("2026-03-01T13:00:00+01:00", what);
            assert!(!has_form(&old.what));
            let (form, said) = righted(&old, &[], ENGLISH);
            assert_eq!((form.fields.len(), form.main.as_str(), said), (0, "", None));
        }
        assert!(every().iter().all(|(_, _, what)| has_form(what)));
    }

    #[test]
    fn a_dose_that_cannot_be_right_is_kept_and_asked_back() {
        let dose = entry("2026-03-01T14:00:00+01:00", What::Insulin { insulin: InsulinKind::Rapid, units: 30.0 });
        assert_eq!(kept(&dose, None, ENGLISH), "rapid insulin 30 units: kept in the log");
        let asked = kept(&dose, Some(Reason::DoubtfulDose { units: 30.0, minutes_ago: 0.0 }), ENGLISH);
        let lines: Vec<_> = asked.lines().collect();
        assert_eq!(lines.len(), 3, "{asked}");
        assert!(lines[1].contains("30 units") && lines[2].contains("put it right"), "{asked}");
    }
}
