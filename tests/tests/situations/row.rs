//! One row of a table as entries of a log, settings and a question. The notation is that of `tests/situations/README.md`.

use ebbstead_core::log::{
    Effort, Entry, EntryKind, Illness, Instrument, InsulinKind, Occasion, Purpose, SensorEvent, Shown, Source, Symptom,
    Text, typed_beyond,
};
use ebbstead_core::prompt::Question;
use ebbstead_core::time::Moment;
use ebbstead_core::units::{Glucose, GlucoseUnit};
use ebbstead_core::wearer::Wearer;

/// A situation.
pub struct Row {
    /// The table's file.
    pub file: String,
    /// What happened.
    pub name: String,
    /// Readings and what was noted.
    pub entries: Vec<Entry>,
    /// Settings.
    pub wearer: Wearer,
    /// What is asked.
    pub question: Question,
    /// The answers a careful person would accept.
    pub acceptable: Vec<String>,
    /// The longest time to the next look, in minutes.
    pub within: Option<u16>,
    /// Both as written.
    pub as_written: String,
    /// Which answer is dangerous, and why.
    pub danger: String,
    /// What is answered now, where that is not acceptable.
    pub shortfall: String,
}

pub type Read<T> = Result<T, String>;

impl Row {
    /// Reads the cells of a row.
    pub fn read(file: &str, [name, readings, added, asked, acceptable, danger, shortfall]: [&str; 7]) -> Read<Self> {
        let (wearer, question) = asked_of(asked)?;
        let now = question.now;
        let mut entries = Vec::new();
        for (minutes_ago, shown) in sensor(readings, wearer.unit)? {
            entries.push(entry(now, minutes_ago, "sensor", EntryKind::read_by_sensor(shown))?);
        }
        for item in parts(added, ';') {
            let (what, ago) = item.rsplit_once(',').ok_or_else(|| format!("{item:?} lacks its minutes before now"))?;
            entries.push(entry(now, number(ago)?, "by hand", noted(what, wearer.unit)?)?);
        }
        let (answers, within) = match acceptable.split_once(", within ") {
            Some((answers, within)) => (answers, Some(within.parse().map_err(|_| format!("within {within:?}"))?)),
            None => (acceptable, None),
        };
        let known = ["treat", "check/treat", "check/hold", "hold", "clear", "help"];
        let answers: Vec<String> = answers.split(" or ").map(|one| one.trim().to_owned()).collect();
        if let Some(other) = answers.iter().find(|one| !known.contains(&one.as_str())) {
            return Err(format!("{other:?} is no answer"));
        }
        if danger.is_empty() {
            return Err("says no danger".to_owned());
        }
        Ok(Self {
            file: file.to_owned(),
            name: name.to_owned(),
            entries,
            wearer,
            question,
            acceptable: answers,
            within,
            as_written: acceptable.to_owned(),
            danger: danger.to_owned(),
            shortfall: shortfall.to_owned(),
        })
    }
}

pub fn parts(text: &str, at: char) -> impl Iterator<Item = &str> {
    text.split(at).map(str::trim).filter(|part| !part.is_empty())
}

pub fn number(text: &str) -> Read<f64> {
    text.trim().parse().map_err(|_| format!("{text:?} is no number"))
}

pub fn entry(now: Moment, minutes_ago: f64, source: &str, what: EntryKind) -> Read<Entry> {
    let source =
        if source == "by hand" { Source::by_hand() } else { Source::new(source).map_err(|e| e.to_string())? };
    let at = now.plus_minutes(-minutes_ago);
    Entry::new(at, at, source, what).map_err(|error| error.to_string())
}

fn shown(text: &str, unit: GlucoseUnit, instrument: Instrument) -> Read<Shown> {
    let beyond = typed_beyond(text, unit, instrument).map_err(|error| error.to_string())?;
    beyond.map_or_else(|| Glucose::new(number(text)?, unit).map(Shown::from).map_err(|error| error.to_string()), Ok)
}

/// The sensor's readings, each with its minutes before now, the oldest first.
pub fn sensor(text: &str, unit: GlucoseUnit) -> Read<Vec<(f64, Shown)>> {
    let mut step = 5.0;
    let mut all = Vec::new();
    for part in parts(text, ';') {
        if let Some(every) = part.strip_prefix("every ") {
            step = number(every.trim_end_matches(" min"))?;
            continue;
        }
        let (body, span) = match part.split_once('(') {
            Some((body, span)) => (body.trim(), span.trim_end_matches(')')),
            None => (part, "0"),
        };
        let of = |text: &str| shown(text, unit, Instrument::Sensor);
        let amounts: Vec<Shown> = if let Some((from, until)) = span.split_once(" to ") {
            let (from, until) = (number(from)?, number(until)?);
            let count = ((from - until) / step).floor();
            if count < 0.0 {
                return Err(format!("{part:?} ends before it begins"));
            }
            // How many readings a span of hours holds.
            let count = count as usize;
            let amounts: Read<Vec<Shown>> = if let Some(level) = body.strip_prefix("level ") {
                let unrest = if unit == GlucoseUnit::MgDl { 1.0 } else { 0.1 };
                let level = number(level)?;
                let near = |k: usize| level + unrest * [0.0, 1.0, -1.0][k % 3];
                (0..=count).map(|k| of(&format!("{:.1}", near(k)))).collect()
            } else if let Some(stuck) = body.strip_prefix("stuck ") {
                (0..=count).map(|_| of(stuck)).collect()
            } else {
                let (first, last) = body.split_once(" to ").ok_or_else(|| format!("{part:?} is not understood"))?;
                let (first, last) = (number(first)?, number(last)?);
                let whole = |amount: f64| if unit == GlucoseUnit::MgDl { amount.round() } else { amount };
                let along = |k: usize| whole(first + (last - first) * k as f64 / count.max(1) as f64);
                (0..=count).map(|k| of(&format!("{:.1}", along(k)))).collect()
            };
            let amounts = amounts?;
            all.extend(amounts.iter().enumerate().map(|(k, shown)| (from - step * k as f64, *shown)));
            continue;
        } else {
            body.split_whitespace().map(of).collect::<Read<_>>()?
        };
        let (last, count) = (number(span)?, amounts.len());
        all.extend(amounts.into_iter().enumerate().map(|(k, shown)| (last + step * (count - 1 - k) as f64, shown)));
    }
    match all.windows(2).find(|pair| pair[0].0 <= pair[1].0) {
        Some(pair) => Err(format!("readings {} and {} minutes before now are not in order", pair[0].0, pair[1].0)),
        None => Ok(all),
    }
}

/// What was noted.
pub fn noted(text: &str, unit: GlucoseUnit) -> Read<EntryKind> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let (minutes, grams, units) = (number, number, number);
    Ok(match words.as_slice() {
        ["meter", amount] => EntryKind::checked_by_meter(shown(amount, unit, Instrument::Meter)?),
        ["rapid", dose] => EntryKind::Insulin { insulin: InsulinKind::Rapid, units: units(dose)? },
        ["long-acting", dose] => EntryKind::Insulin { insulin: InsulinKind::LongActing, units: units(dose)? },
        ["rescue", amount, "g"] => EntryKind::Carbohydrate { grams: grams(amount)?, purpose: Purpose::Rescue },
        ["meal", amount, "g"] => EntryKind::Carbohydrate { grams: grams(amount)?, purpose: Purpose::Meal },
        ["alcohol", drinks, "drinks" | "drink"] => EntryKind::Alcohol { drinks: number(drinks)? },
        ["ketones", amount] => EntryKind::Ketones { mmol_l: number(amount)? },
        ["ill"] => EntryKind::Illness { illness: Illness::Ill },
        ["vomiting"] => EntryKind::Illness { illness: Illness::Vomiting },
        ["well", "again"] => EntryKind::Illness { illness: Illness::Over },
        ["movement", effort, length, "min"] => EntryKind::Activity {
            activity: Text::new("movement").map_err(|error| error.to_string())?,
            minutes: minutes(length)?,
            effort: match *effort {
                "light" => Effort::Light,
                "moderate" => Effort::Moderate,
                "hard" => Effort::Hard,
                other => return Err(format!("{other:?} is no effort")),
            },
        },
        ["sensor", "put", "in"] => EntryKind::Sensor(SensorEvent::inserted(None)),
        ["sensor", "ended"] => EntryKind::Sensor(SensorEvent::Ended),
        ["rolled", "off"] => EntryKind::Sensor(SensorEvent::RolledOff),
        ["felt", "low"] => EntryKind::Symptom { felt: Symptom::FeelsLow },
        ["severe", "signs"] => EntryKind::Symptom { felt: Symptom::Severe },
        ["felt", "high"] => EntryKind::Symptom { felt: Symptom::FeelsHigh },
        ["felt", "neither"] => EntryKind::Symptom { felt: Symptom::None },
        _ => return Err(format!("{text:?} is not understood")),
    })
}

/// Settings and question.
fn asked_of(text: &str) -> Read<(Wearer, Question)> {
    let all: Vec<&str> = parts(text, ',').collect();
    let unit = if all.contains(&"mmol/L") { GlucoseUnit::MmolL } else { GlucoseUnit::MgDl };
    let mut wearer = Wearer { unit, ..Wearer::default() };
    let at = |clock: &str| Moment::parse(&format!("2026-03-01T{clock}:00+01:00")).map_err(|error| error.to_string());
    let mut question = Question { now: at("14:00")?, occasion: Occasion::Look, feels: None, meter: None };
    let mut timed = false;
    for one in all {
        match one {
            "mmol/L" => {}
            "day" => timed = true,
            "night" | "woken" => {
                timed = true;
                question.now = at("03:00")?;
                if one == "woken" {
                    question.occasion = Occasion::Wake;
                }
            }
            "feels low" => question.feels = Some(Symptom::FeelsLow),
            "feels high" => question.feels = Some(Symptom::FeelsHigh),
            "feels nothing" => question.feels = Some(Symptom::None),
            "severe signs" => question.feels = Some(Symptom::Severe),
            _ => {
                let glucose = |amount: &str| Glucose::new(number(amount)?, unit).map_err(|error| error.to_string());
                if let Some(amount) = one.strip_prefix("meter ") {
                    question.meter = Some(shown(amount, unit, Instrument::Meter)?);
                } else if let Some(factor) = one.strip_prefix("insulin factor ") {
                    wearer.insulin_factor_mg_dl_per_unit = Some(number(factor)?);
                } else if let Some(amount) = one.strip_prefix("low line ") {
                    wearer.low_line = glucose(amount)?;
                } else {
                    return Err(format!("{one:?} is not understood"));
                }
            }
        }
    }
    if !timed {
        return Err("says neither day, night nor woken".to_owned());
    }
    wearer.check().map_err(|error| error.to_string())?;
    Ok((wearer, question))
}
