//! What is asked before sleep, a drive and movement.

use super::{Field, Filled, Form};
use crate::before::activity::{Movement, Planned};
use crate::before::sleep::next_time;
use crate::error::{Error, Quantity};
use crate::log::{Effort, Symptom};
use crate::sentences::before as sentences;
use crate::text;
use crate::time::Moment;
use crate::wearer::Wearer;
use crate::words::{ShellLabel, Words};

const WHAT: &str = "what";
const UNTIL: &str = "until";
const MINUTES: &str = "minutes";
const KIND: &str = "kind";
const EFFORT: &str = "effort";
const KETONES: &str = "ketones";
const FEELS: &str = "feels";

/// What lies ahead.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Ahead {
    /// Sleep until a time.
    Sleep(Moment),
    /// A drive of so many minutes.
    Driving(f64),
    /// Movement.
    Activity(Planned),
}

/// What was filled in, and what it asks.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// The form, with what stands in it.
    pub form: Form,
    /// What is asked; nothing while something is missing or cannot be taken.
    pub ahead: Option<Ahead>,
    /// What the wearer feels, if they said so.
    pub feels: Option<Symptom>,
}

/// Lays out what is asked, and reads what was filled in. Sleep is asked about first, until the wearer's morning; how long a drive
/// or movement lasts is the wearer's to say.
#[must_use]
pub fn read(filled: &Filled, wearer: &Wearer, now: Moment, words: Words) -> Asked {
    let mut form = form(filled, wearer, words);
    let ahead = match form.value(WHAT) {
        "driving" => minutes(&mut form, words).map(Ahead::Driving),
        "activity" => activity(&mut form, words).map(Ahead::Activity),
        _ => Some(Ahead::Sleep(next_time(form.minute(UNTIL), now))),
    };
    let feels = match form.value(FEELS) {
        "low" => Some(Symptom::FeelsLow),
        "high" => Some(Symptom::FeelsHigh),
        "neither" => Some(Symptom::None),
        _ => None,
    };
    Asked { ahead: ahead.filter(|_| !form.is_refused()), form, feels }
}

/// The field in which what core refuses of a question ahead was typed.
#[must_use]
pub fn field_of(ahead: &Ahead, error: &Error) -> &'static str {
    match (ahead, error) {
        (Ahead::Sleep(_), _) => UNTIL,
        (_, Error::OutOfRange { what: Quantity::Ketones, .. }) => KETONES,
        (Ahead::Driving(_) | Ahead::Activity(_), _) => MINUTES,
    }
}

fn form(filled: &Filled, wearer: &Wearer, words: Words) -> Form {
    let label = |label| words.shell_label(label);
    let what = Field::choice(
        WHAT,
        label(ShellLabel::BeforeWhat),
        [
            ("sleep", label(ShellLabel::BeforeSleep).to_owned()),
            ("driving", label(ShellLabel::BeforeDriving).to_owned()),
            ("activity", label(ShellLabel::BeforeActivity).to_owned()),
        ],
        "sleep",
    );
    let minutes = || Field::number(MINUTES, text!(words, "form-before-minutes"), "min", "");
    let chosen = Form::new(words, "", vec![what.clone()], "").filled(filled);
    let mut fields = vec![what];
    match chosen.value(WHAT) {
        "driving" => fields.push(minutes()),
        "activity" => {
            let kinds = [Movement::Endurance, Movement::Intervals, Movement::Strength];
            fields.push(Field::choice(
                KIND,
                text!(words, "form-before-kind"),
                kinds.map(|kind| (kind_code(kind), sentences::movement(kind, words).to_owned())),
                kind_code(Movement::Endurance),
            ));
            fields.push(effort_field(EFFORT, words));
            fields.push(minutes());
            fields.push(Field::number(KETONES, text!(words, "form-before-ketones"), "mmol/L", ""));
        }
        _ => {
            fields.push(Field::clock(UNTIL, text!(words, "form-before-until"), wearer.morning_minute(), words));
        }
    }
    fields.push(Field::choice(
        FEELS,
        text!(words, "form-before-feels"),
        [
            ("low", label(ShellLabel::FeelLow).to_owned()),
            ("high", label(ShellLabel::FeelHigh).to_owned()),
            ("neither", label(ShellLabel::FeelNeither).to_owned()),
        ],
        "",
    ));
    Form::new(words, label(ShellLabel::ScreenBefore), fields, label(ShellLabel::ShowThese)).filled(filled)
}

fn minutes(form: &mut Form, words: Words) -> Option<f64> {
    form.read_if_any(MINUTES, words, |typed| words.read_number(typed))
}

fn activity(form: &mut Form, words: Words) -> Option<Planned> {
    let ketones_mmol_l = form.read_if_any(KETONES, words, |typed| words.read_ketones(typed));
    let minutes = minutes(form, words)?;
    let kind = match form.value(KIND) {
        "intervals" => Movement::Intervals,
        "strength" => Movement::Strength,
        _ => Movement::Endurance,
    };
    let effort = effort_of(form.value(EFFORT));
    Some(Planned { kind, effort, minutes, ketones_mmol_l })
}

const fn kind_code(kind: Movement) -> &'static str {
    match kind {
        Movement::Endurance => "endurance",
        Movement::Intervals => "intervals",
        Movement::Strength => "strength",
    }
}

/// Asks how hard movement is.
pub(super) fn effort_field(id: &'static str, words: Words) -> Field {
    Field::choice(
        id,
        text!(words, "form-before-effort"),
        [Effort::Light, Effort::Moderate, Effort::Hard]
            .map(|effort| (effort_code(effort), words.effort(effort).to_owned())),
        effort_code(Effort::Moderate),
    )
}

pub(super) fn effort_of(code: &str) -> Effort {
    match code {
        "light" => Effort::Light,
        "hard" => Effort::Hard,
        _ => Effort::Moderate,
    }
}

pub(super) const fn effort_code(effort: Effort) -> &'static str {
    match effort {
        Effort::Light => "light",
        Effort::Moderate => "moderate",
        Effort::Hard => "hard",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::GlucoseUnit;
    use crate::wearer::Language;

    const GERMAN: Words = Words::new(Language::GERMAN, GlucoseUnit::MmolL);

    fn asked(filled: &[(&str, &str)], now: &str) -> Asked {
        let filled = filled.iter().map(|(id, value)| ((*id).to_owned(), (*value).to_owned())).collect();
        read(&filled, &Wearer::default(), Moment::parse(now).unwrap(), GERMAN)
    }

    #[test]
    fn sleep_lasts_until_the_morning_unless_a_time_is_set() {
        let until = |filled: &[(&str, &str)]| match asked(filled, "2026-03-01T23:10:30+01:00").ahead {
            Some(Ahead::Sleep(until)) => until,
            other => panic!("{other:?}"),
        };
        assert_eq!(until(&[]), Moment::parse("2026-03-02T07:00:00+01:00").unwrap());
        assert_eq!(until(&[("until", "05:30")]), Moment::parse("2026-03-02T05:30:00+01:00").unwrap());
        // What the clock showed a minute ago it shows again tomorrow.
        assert_eq!(until(&[("until", "23:09")]), Moment::parse("2026-03-02T23:09:00+01:00").unwrap());
        assert_eq!(until(&[("until", "25:00")]), Moment::parse("2026-03-02T07:00:00+01:00").unwrap());
    }

    #[test]
    fn a_drive_is_asked_about_once_its_length_is_typed() {
        let nothing = asked(&[("what", "driving")], "2026-03-01T12:00:00+01:00");
        assert_eq!((nothing.ahead, nothing.form.is_refused()), (None, false));
        assert_eq!(
            asked(&[("what", "driving"), ("minutes", " 90 ")], "2026-03-01T12:00:00+01:00").ahead,
            Some(Ahead::Driving(90.0))
        );
        let slip = asked(&[("what", "driving"), ("minutes", "lange")], "2026-03-01T12:00:00+01:00");
        assert_eq!((slip.ahead, slip.form.is_refused(), slip.form.value("minutes")), (None, true, "lange"));
    }

    #[test]
    fn movement_is_read_whole_or_not_at_all() {
        let filled = [
            ("what", "activity"),
            ("kind", "intervals"),
            ("effort", "hard"),
            ("minutes", "45"),
            ("ketones", "0,4"),
            ("feels", "low"),
        ];
        let whole = asked(&filled, "2026-03-01T12:00:00+01:00");
        let planned =
            Planned { kind: Movement::Intervals, effort: Effort::Hard, minutes: 45.0, ketones_mmol_l: Some(0.4) };
        assert_eq!((whole.ahead, whole.feels), (Some(Ahead::Activity(planned)), Some(Symptom::FeelsLow)));
        let slip = asked(&[("what", "activity"), ("minutes", "45"), ("ketones", "?")], "2026-03-01T12:00:00+01:00");
        assert_eq!(slip.ahead, None);
        let too_high =
            asked(&[("what", "activity"), ("minutes", "45"), ("ketones", "HI")], "2026-03-01T12:00:00+01:00");
        let against = too_high.form.fields.iter().find_map(|field| field.advice.clone()).unwrap();
        assert!(too_high.ahead.is_none() && against.contains("Notruf"), "{against}");
    }
}
