//! What a person adds to the log, and what of it is put right.
//!
//! Supplies are added on their own page, beside what is in stock.

mod fields;
mod prefilled;
mod read;

use self::fields::{fields_of, times};
use self::prefilled::{over_written, written};
use self::read::{advice, minute, other, refuse, slept};
use super::{Field, Filled, Form};
use crate::error::{Error, Quantity, Why};
use crate::log::{Entry, EntryKind, Source};
use crate::prompt::{Caution, Reason};
use crate::text;
use crate::time::Moment;
use crate::units::GlucoseUnit;
use crate::wearer::{Language, Wearer};
use crate::words::{ShellLabel, Words};

/// Which kind of entry. The field for the kind itself; the one field of a kind bears the kind's own code, so that what was typed for
/// one kind never stands in another's.
const KIND: &str = "kind";
const METER_SHOWS: &str = "meter_shows";
const KETONE_METER_SHOWS: &str = "ketone_meter_shows";
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
    pub what: EntryKind,
    /// When it happened.
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
pub fn has_form(what: &EntryKind) -> bool {
    // In whatever words.
    written(what, Words::new(Language::ENGLISH, GlucoseUnit::MgDl)).is_some()
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
        let mut main = "";
        if let Some(kind) = filled.get(KIND).and_then(|code| Kind::of(code)) {
            fields.extend(fields_of(kind, filled, words));
            fields.extend(times(kind, (wearer.night.from_minute, minute(now)), minute(now), words));
            main = label(ShellLabel::Add);
        }
        return Form::new(words, label(ShellLabel::AddEntry), fields, main).filled(filled);
    };
    let Some((kind, filled)) = over_written(filled, old, words) else {
        return Form::new(words, &words.what(&old.what), Vec::new(), "");
    };
    let mut fields = fields_of(kind, &filled, words);
    let until = if let EntryKind::Sleep { until } = old.what { until } else { old.at };
    fields.extend(times(kind, (minute(old.at), minute(until)), minute(old.at), words));
    Form::new(words, &words.what(&old.what), fields, label(ShellLabel::PutRight)).filled(&filled)
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
    let ahead = match said.what {
        EntryKind::Sleep { until } => Some(until).filter(|until| until.is_after(now)),
        _ => None,
    };
    let refused = match checked {
        Ok(_) => {
            ahead.map(|until| Error::Invalid { what: Quantity::Time, why: Why::InFuture { at: until, clock: now } })
        }
        Err(error) => Some(error),
    };
    if let Some(error) = refused {
        let field = match &error {
            Error::Invalid { what: Quantity::Time, .. } if kind != Kind::Sleep => HAPPENED,
            Error::OutOfRange { what: Quantity::RatedLength, .. } => RATED_DAYS,
            Error::OutOfRange { what: Quantity::Activity, .. } => ACTIVITY_MINUTES,
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

#[cfg(test)]
mod tests;
