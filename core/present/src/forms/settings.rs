//! The wearer's own settings.

use super::{Field, Filled, Form, Takes, days, glucose};
use crate::country::Country;
use crate::error::{Error, Quantity, Result};
use crate::text;
use crate::time::DayHours;
use crate::units::GlucoseUnit;
use crate::wearer::{FLOOR_LINE_MG_DL, Language, TreatPreference, Wearer};
use crate::words::{ShellLabel, Spoken, Words};

/// The field of the wearer's low line.
pub const LOW_LINE: &str = "low_line";
/// The field of the wearer's high line.
pub const HIGH_LINE: &str = "high_line";
/// The field of the night's first minute.
pub const NIGHT_FROM: &str = "night_from";
/// The field of the night's last minute.
pub const NIGHT_UNTIL: &str = "night_until";
const MORNING: &str = "morning";
/// The field of the emergency number.
pub const EMERGENCY: &str = "emergency";
/// The field of a second number.
pub const CONTACT: &str = "contact";
const WEIGHING: &str = "weighing";
const FEELS_LOWS: &str = "feels_lows";
const ALONE: &str = "alone";
const INSULIN_FACTOR: &str = "insulin_factor";
const CARBOHYDRATE_FACTOR: &str = "carbohydrate_factor";
const RATED_DAYS: &str = "rated_days";
const LEAD_DAYS: &str = "lead_days";
const COUNTRY: &str = "country";
/// The field of the unit.
pub const UNIT: &str = "unit";
const YES: &str = "yes";
const NO: &str = "no";
/// The field of the language.
pub const LANGUAGE: &str = "language";

/// Lays out the settings, and reads what was filled in. What was not touched stays to the last digit; an emptied field is a setting
/// that is not set. Amounts are read in the unit that they were shown in, whatever unit is chosen. Nothing is given where anything
/// cannot be taken; that is said beside its field.
#[must_use]
pub fn read(filled: &Filled, before: &Wearer, words: Words) -> (Form, Option<Wearer>) {
    let mut form = form(before, words).filled(filled);
    let wearer = wearer(&mut form, before, words);
    if !form.is_refused()
        && let Err(error) = wearer.check().map_err(Error::from)
    {
        form.refuse(field_of(&error), words.advice(&error));
    }
    let is_refused = form.is_refused();
    (form, (!is_refused).then_some(wearer))
}

fn field_of(error: &Error) -> &'static str {
    let (Error::OutOfRange { what, .. } | Error::Invalid { what, .. }) = error else { return LOW_LINE };
    match *what {
        Quantity::HighLine => HIGH_LINE,
        Quantity::Hours => NIGHT_UNTIL,
        Quantity::Morning => MORNING,
        Quantity::InsulinFactor => INSULIN_FACTOR,
        Quantity::CarbohydrateFactor => CARBOHYDRATE_FACTOR,
        Quantity::RatedLength => RATED_DAYS,
        Quantity::LeadTime => LEAD_DAYS,
        Quantity::EmergencyNumber => EMERGENCY,
        Quantity::ContactNumber => CONTACT,
        _ => LOW_LINE,
    }
}

fn form(of: &Wearer, words: Words) -> Form {
    let label = |label| words.shell_label(label);
    let unit = words.unit().code();
    let amount = |id, name, mg_dl| Field::number(id, label(name), unit, words.bare_amount(mg_dl));
    let factor = |id, name, mg_dl: Option<f64>| {
        Field::number(id, label(name), unit, mg_dl.map(|mg_dl| words.difference(mg_dl)).unwrap_or_default())
    };
    let whole = |id, name, days: Option<u16>| {
        Field::number(id, label(name), "", days.map(|days| days.to_string()).unwrap_or_default())
    };
    let phone = |id, name, number: &Option<String>| {
        Field::new(id, label(name), Takes::Phone, number.clone().unwrap_or_default())
    };
    let floor = format!("{} {}", label(ShellLabel::FloorStays), words.amount(FLOOR_LINE_MG_DL));
    let fields = vec![
        amount(LOW_LINE, ShellLabel::LowLine, of.low_line.mg_dl())
            .over(text!(words, "form-settings-lines"))
            .note(floor),
        amount(HIGH_LINE, ShellLabel::HighLine, of.high_line.mg_dl()),
        Field::choice(
            WEIGHING,
            label(ShellLabel::Weighing),
            [
                ("sparing", label(ShellLabel::WeighingSparing).to_owned()),
                ("balanced", label(ShellLabel::WeighingBalanced).to_owned()),
                ("early", label(ShellLabel::WeighingEarly).to_owned()),
            ],
            match of.treat_preference {
                TreatPreference::Sparing => "sparing",
                TreatPreference::Balanced => "balanced",
                TreatPreference::Early => "early",
            },
        ),
        yes_or_no(FEELS_LOWS, text!(words, "form-settings-feels-lows"), of.feels_lows, words),
        yes_or_no(ALONE, text!(words, "form-settings-alone"), of.is_alone, words)
            .note(text!(words, "form-settings-costs-why")),
        phone(EMERGENCY, ShellLabel::EmergencyNumber, &of.emergency_number)
            .over(text!(words, "form-settings-whom-to-call")),
        phone(CONTACT, ShellLabel::ContactNumber, &of.contact_number),
        Field::clock(NIGHT_FROM, label(ShellLabel::NightFrom), of.night.from_minute, words)
            .over(label(ShellLabel::ScreenNight)),
        Field::clock(NIGHT_UNTIL, label(ShellLabel::NightUntil), of.night.until_minute, words),
        Field::clock(MORNING, text!(words, "form-settings-morning"), of.morning_minute(), words),
        factor(INSULIN_FACTOR, ShellLabel::InsulinFactor, of.insulin_factor_mg_dl_per_unit)
            .over(text!(words, "form-settings-factors"))
            .note(label(ShellLabel::FactorsFromCareTeam)),
        factor(CARBOHYDRATE_FACTOR, ShellLabel::CarbohydrateFactor, of.carbohydrate_factor_mg_dl_per_g),
        whole(RATED_DAYS, ShellLabel::RatedDays, of.sensor_rated_days).over(label(ShellLabel::ScreenSupplies)),
        whole(LEAD_DAYS, ShellLabel::LeadDays, of.reorder_lead_days),
        Field::new(
            COUNTRY,
            text!(words, "form-settings-country"),
            Takes::Words,
            of.country.map(|country| country.to_string()).unwrap_or_default(),
        )
        .over(text!(words, "form-settings-shown"))
        .note(text!(words, "form-settings-country-why")),
        Field::choice(
            UNIT,
            label(ShellLabel::Unit),
            [GlucoseUnit::MgDl, GlucoseUnit::MmolL].map(|unit| (unit_code(unit), unit.code().to_owned())),
            unit_code(of.unit),
        ),
        Field::choice(LANGUAGE, label(ShellLabel::Language), Spoken::offered(of.language), &of.language.to_string()),
    ];
    Form::new(words, label(ShellLabel::ScreenSettings), fields, label(ShellLabel::Save))
}

fn wearer(form: &mut Form, before: &Wearer, words: Words) -> Wearer {
    let line =
        |form: &mut Form, id, before| form.read(id, words, |typed| glucose(words, typed, before)).unwrap_or(before);
    let factor = |form: &mut Form, id, before: Option<f64>| {
        form.read_if_any(id, words, |typed| match before {
            Some(mg_dl) if typed == words.difference(mg_dl) => Ok(mg_dl),
            _ => words.read_difference_mg_dl(typed),
        })
    };
    let number = |form: &Form, id| Some(form.value(id).to_owned()).filter(|number| !number.is_empty());
    let morning = form.minute(MORNING);
    let night = DayHours { from_minute: form.minute(NIGHT_FROM), until_minute: form.minute(NIGHT_UNTIL) };
    Wearer {
        unit: if form.value(UNIT) == unit_code(GlucoseUnit::MmolL) { GlucoseUnit::MmolL } else { GlucoseUnit::MgDl },
        language: Language::parse(form.value(LANGUAGE)).unwrap_or(before.language),
        low_line: line(form, LOW_LINE, before.low_line),
        high_line: line(form, HIGH_LINE, before.high_line),
        // A morning that was not set goes with the end of the night.
        morning_minute: if before.morning_minute.is_none()
            && (morning == before.night.until_minute || morning == night.until_minute)
        {
            None
        } else {
            Some(morning)
        },
        night,
        treat_preference: match form.value(WEIGHING) {
            "sparing" => TreatPreference::Sparing,
            "early" => TreatPreference::Early,
            _ => TreatPreference::Balanced,
        },
        feels_lows: form.value(FEELS_LOWS) != NO,
        is_alone: form.value(ALONE) == YES,
        insulin_factor_mg_dl_per_unit: factor(form, INSULIN_FACTOR, before.insulin_factor_mg_dl_per_unit),
        carbohydrate_factor_mg_dl_per_g: factor(form, CARBOHYDRATE_FACTOR, before.carbohydrate_factor_mg_dl_per_g),
        sensor_rated_days: form.read_if_any(RATED_DAYS, words, |typed| days(words, typed)),
        reorder_lead_days: form.read_if_any(LEAD_DAYS, words, |typed| days(words, typed)),
        emergency_number: number(form, EMERGENCY),
        contact_number: number(form, CONTACT),
        country: form.read_if_any(COUNTRY, words, |typed| -> Result<Country> { Ok(Country::parse(typed)?) }),
        ..before.clone()
    }
}

fn yes_or_no(id: &'static str, question: &str, is: bool, words: Words) -> Field {
    let options = [(YES, true), (NO, false)].map(|(id, is)| (id, words.yes_or_no(is).to_owned()));
    Field::choice(id, question, options, if is { YES } else { NO })
}

const fn unit_code(unit: GlucoseUnit) -> &'static str {
    match unit {
        GlucoseUnit::MgDl => "mg_dl",
        GlucoseUnit::MmolL => "mmol_l",
    }
}
