//! `settings`: the wearer's own, from the wearer and the care team.

use chrono::{NaiveTime, Timelike};
use ebbstead_core::country::Country;
use ebbstead_core::log::{SensorEvent, Source};
use ebbstead_core::settings;
use ebbstead_core::store::Log;
use ebbstead_core::time::DayHours;
use ebbstead_core::units::GlucoseUnit;
use ebbstead_core::wearer::{TreatPreference, Wearer};
use ebbstead_core::words::{Spoken, Words};
use ebbstead_core::{Error, Quantity, Unit, Why};
use ebbstead_core::{say, text};

use crate::arguments::{Setting, Settings, Weighing, YesNo};
use crate::context::Context;
use crate::failure::Failure;

pub fn run(context: &Context, given: &Settings) -> Result<(), Failure> {
    let now = context.now()?;
    let (mut log, _) = context.open(now)?;
    if let Some(change) = &given.change {
        let kept = log.wearer()?;
        let mut wearer = kept.clone();
        apply(context, &log, &mut wearer, change)?;
        if let Err(error) = wearer.check() {
            return Err(in_other_unit(context, &kept, change).unwrap_or_else(|| error.into()));
        }
        settings::store(&mut log, &kept, wearer, now)?;
    }
    let wearer = context.wearer(&log)?;
    show(context, &wearer)?;
    Ok(())
}

/// A factor that can only be one in the other unit of glucose, said with the option that would take it.
fn in_other_unit(context: &Context, kept: &Wearer, change: &Setting) -> Option<Failure> {
    let (Setting::InsulinFactor { amount } | Setting::CarbsFactor { amount }) = change else { return None };
    let unit = match context.words().unit() {
        GlucoseUnit::MgDl => GlucoseUnit::MmolL,
        GlucoseUnit::MmolL => GlucoseUnit::MgDl,
    };
    let read = Words::new(kept.language, unit).read_difference_mg_dl(amount).ok();
    let mut wearer = kept.clone();
    match change {
        Setting::InsulinFactor { .. } => wearer.insulin_factor_mg_dl_per_unit = read,
        _ => wearer.carbohydrate_factor_mg_dl_per_g = read,
    }
    wearer.check().ok()?;
    let what = Quantity::InsulinFactor;
    Some(context.refused(amount, Error::Invalid { what, why: Why::FitsOtherUnit }))
}

fn apply(context: &Context, log: &Log, wearer: &mut Wearer, change: &Setting) -> Result<(), Failure> {
    let words = context.words();
    let cleared = |text: &str| matches!(text, "none" | "-") || text == text!(words, "terminal-settings-none");
    let factor = |text: &str| if cleared(text) { Ok(None) } else { context.in_mg_dl(text).map(Some) };
    let whole = |text: &str, what: Quantity, low: u16, high: u16| -> Result<Option<u16>, Failure> {
        if cleared(text) {
            return Ok(None);
        }
        let days: u32 = text.trim().parse().map_err(|_| Error::Invalid {
            what: Quantity::Days,
            why: Why::Malformed { given: text.to_owned(), like: "14" },
        })?;
        let limits = (low.into(), high.into());
        let too_many =
            |_| Error::OutOfRange { what, given: days.into(), low: limits.0, high: limits.1, unit: Unit::Days };
        Ok(Some(u16::try_from(days).map_err(too_many)?))
    };
    match change {
        Setting::Unit { unit } => wearer.unit = (*unit).into(),
        Setting::Language { lang } => wearer.language = *lang,
        Setting::LowLine { amount } => wearer.low_line = context.glucose(amount)?,
        Setting::HighLine { amount } => wearer.high_line = context.glucose(amount)?,
        Setting::Night { from, until } => wearer.night = DayHours::new(minute(from)?, minute(until)?)?,
        Setting::Caution { weighing } => {
            wearer.treat_preference = match weighing {
                Weighing::Sparing => TreatPreference::Sparing,
                Weighing::Balanced => TreatPreference::Balanced,
                Weighing::Early => TreatPreference::Early,
            }
        }
        Setting::FeelsLows { whether } => wearer.feels_lows = *whether == YesNo::Yes,
        Setting::Alone { whether } => wearer.is_alone = *whether == YesNo::Yes,
        Setting::InsulinFactor { amount } => wearer.insulin_factor_mg_dl_per_unit = factor(amount)?,
        Setting::CarbsFactor { amount } => wearer.carbohydrate_factor_mg_dl_per_g = factor(amount)?,
        Setting::FollowedSensor { name } => {
            wearer.followed_sensor = if cleared(name) { None } else { Some(sensor(context, log, name)?) };
        }
        Setting::Country { code } => wearer.country = if cleared(code) { None } else { Some(Country::parse(code)?) },
        Setting::Morning { time } => wearer.morning_minute = if cleared(time) { None } else { Some(minute(time)?) },
        Setting::SensorDays { days } => {
            wearer.sensor_rated_days = whole(days, Quantity::RatedLength, 1, SensorEvent::LONGEST_RATED_DAYS)?;
        }
        Setting::LeadDays { days } => wearer.reorder_lead_days = whole(days, Quantity::LeadTime, 0, 365)?,
    }
    Ok(())
}

/// A sensor of the log. One that it has no reading of would never be followed.
fn sensor(context: &Context, log: &Log, name: &str) -> Result<Source, Failure> {
    let wanted = Source::new(name)?;
    let known = log.sensors()?;
    if known.contains(&wanted) {
        return Ok(wanted);
    }
    let known: Vec<&str> = known.iter().map(Source::as_str).collect();
    let known =
        if known.is_empty() { text!(context.words(), "terminal-settings-none").to_owned() } else { known.join(", ") };
    Err(Failure::Missing(say!(
        context.words(),
        "terminal-settings-log-has-no-readings-sensor",
        name = format!("{name:?}"),
        known
    )))
}

fn minute(text: &str) -> Result<u16, Error> {
    let time = NaiveTime::parse_from_str(text.trim(), "%H:%M").map_err(|_| Error::Invalid {
        what: Quantity::Hours,
        why: Why::Malformed { given: text.to_owned(), like: "HH:MM" },
    })?;
    Ok((time.hour() * 60 + time.minute()) as u16)
}

fn show(context: &Context, wearer: &Wearer) -> std::io::Result<()> {
    let words = context.words();
    let clock = |minute: u16| format!("{:02}:{:02}", minute / 60, minute % 60);
    let none = || text!(context.words(), "terminal-settings-not-set").to_owned();
    // Factors are differences: two decimals in mmol/L, or a factor a gram would be lost in rounding.
    let factor = |mg_dl: Option<f64>, each: &str| {
        mg_dl.map_or_else(none, |mg_dl| match words.unit() {
            GlucoseUnit::MgDl => format!("{} mg/dL {each}", words.decimal(mg_dl, 1)),
            GlucoseUnit::MmolL => {
                format!("{} mmol/L {each}", words.decimal(mg_dl / ebbstead_core::units::MG_DL_PER_MMOL_L, 2))
            }
        })
    };
    // One that has words in another build goes by its tag.
    let language = Spoken::of(wearer.language).map_or_else(|| wearer.language.to_string(), |one| one.name.to_owned());
    let caution = match wearer.treat_preference {
        TreatPreference::Sparing => text!(context.words(), "terminal-settings-sparing-fewer-later-prompts-to"),
        TreatPreference::Balanced => text!(context.words(), "terminal-settings-balanced"),
        TreatPreference::Early => text!(context.words(), "terminal-settings-early-earlier-more-needless-prompts"),
    };
    let yes_or_no = |is| words.yes_or_no(is).to_owned();
    let rows = [
        ("unit", wearer.unit.code().to_owned()),
        ("language", language),
        ("low-line", words.amount(wearer.low_line.mg_dl())),
        ("high-line", words.amount(wearer.high_line.mg_dl())),
        ("night", format!("{} - {}", clock(wearer.night.from_minute), clock(wearer.night.until_minute))),
        ("morning", clock(wearer.morning_minute())),
        ("country", wearer.country.map_or_else(none, |country| country.to_string())),
        ("caution", caution.to_owned()),
        ("feels-lows", yes_or_no(wearer.feels_lows)),
        ("alone", yes_or_no(wearer.is_alone)),
        (
            "insulin-factor",
            factor(wearer.insulin_factor_mg_dl_per_unit, text!(context.words(), "terminal-settings-unit")),
        ),
        (
            "carbs-factor",
            factor(wearer.carbohydrate_factor_mg_dl_per_g, text!(context.words(), "terminal-settings-gram")),
        ),
        (
            "followed-sensor",
            wearer.followed_sensor.as_ref().map_or_else(
                || text!(context.words(), "terminal-settings-one-read-first").to_owned(),
                |name| name.as_str().to_owned(),
            ),
        ),
        ("sensor-days", wearer.sensor_rated_days.map_or_else(none, |days| days.to_string())),
        ("lead-days", wearer.reorder_lead_days.map_or_else(none, |days| days.to_string())),
    ];
    let mut screen = context.screen();
    for (name, value) in rows {
        screen.line(&format!("{name:<16}{value}"))?;
    }
    screen.gap()?;
    screen.paragraph(text!(context.words(), "terminal-settings-change-one-with-ebbstead-settings"))?;
    screen.finish()
}
