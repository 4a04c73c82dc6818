//! Which fields each kind has.

use super::{
    ACTIVITY_MINUTES, EFFORT, HAPPENED, KETONE_METER_SHOWS, Kind, LOT, METER_SHOWS, RATED_DAYS, SEEN, SITE, SLEEP_FROM,
    SLEEP_UNTIL,
};
use crate::error::Unit;
use crate::forms::before::effort_field;
use crate::forms::{Field, Filled, Takes};
use crate::log::EntryKind;
use crate::words::{ShellLabel, Words};
use crate::{say, text};

/// The fields of a kind, its times aside.
pub(super) fn fields_of(kind: Kind, filled: &Filled, words: Words) -> Vec<Field> {
    let label = |label| words.shell_label(label);
    let (code, name) = (kind.code(), kind.name(words));
    let value = |id: &str| filled.get(id).map_or("", |value| value.as_str());
    let said = |label: ShellLabel| words.shell_label(label).to_owned();
    match kind {
        Kind::Meter => {
            let shows = meter_shows(METER_SHOWS, words);
            let amount = Field::number(code, name, words.unit().code(), "");
            if matches!(value(METER_SHOWS), "low" | "high") { vec![shows] } else { vec![amount, shows] }
        }
        Kind::Rescue | Kind::Meal => vec![Field::number(code, name, "g", "")],
        Kind::Rapid | Kind::LongActing => vec![Field::number(code, name, words.unit_name(Unit::InsulinUnits), "")],
        Kind::Ketones => {
            let shows = meter_shows(KETONE_METER_SHOWS, words);
            // What is too high to measure is noted as an amount all the same: the highest that the meter shows.
            if value(KETONE_METER_SHOWS) == "low" {
                vec![shows]
            } else {
                vec![Field::number(code, name, "mmol/L", ""), shows]
            }
        }
        Kind::Alcohol => {
            let is = say!(words, "form-log-drink-is", grams = words.decimal(EntryKind::DRINK_G, 0));
            vec![Field::number(code, text!(words, "form-log-drinks"), "", "").note(is)]
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

/// What a meter shows: a pad of numbers types no `HI`.
fn meter_shows(id: &'static str, words: Words) -> Field {
    Field::choice(
        id,
        words.shell_label(ShellLabel::MeterShows),
        [
            ("amount", text!(words, "form-log-amount").to_owned()),
            ("low", text!(words, "form-log-too-low").to_owned()),
            ("high", text!(words, "form-log-too-high").to_owned()),
        ],
        "amount",
    )
}

/// The fields for when it was.
pub(super) fn times(kind: Kind, (from, until): (u16, u16), happened: u16, words: Words) -> Vec<Field> {
    if kind == Kind::Sleep {
        return vec![
            Field::clock(SLEEP_FROM, text!(words, "form-log-asleep"), from, words),
            Field::clock(SLEEP_UNTIL, text!(words, "form-log-awake"), until, words),
        ];
    }
    vec![Field::clock(HAPPENED, text!(words, "form-log-happened"), happened, words)]
}
