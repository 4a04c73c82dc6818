//! What a shell asks for, laid out, and what was filled in, read. A shell draws the fields from top to bottom and hands back what
//! stands in them; what that means, what is wrong with it and what an empty field says is decided here.

pub mod alerts;
pub mod before;
pub mod log;
pub mod record;
pub mod settings;

use std::borrow::Cow;
use std::collections::BTreeMap;

use crate::error::{Error, Quantity, Result, Unit};
use crate::units::Glucose;
use crate::words::Words;
use crate::{say, text};

/// Fields to fill in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Form {
    /// The name of the screen.
    pub heading: String,
    /// From top to bottom.
    pub fields: Vec<Field>,
    /// What the one button does; empty where there is nothing to do yet.
    pub main: String,
}

/// A field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Field {
    /// What it is called when it is handed back.
    pub id: &'static str,
    /// A name over it and those that follow, where one begins here.
    pub over: Option<String>,
    /// What it asks for.
    pub name: String,
    /// What stands behind what is typed; may be empty.
    pub unit: String,
    /// What is put into it.
    pub takes: Takes,
    /// What stands in it: as typed, a time of day as `07:00`, or the code of what was chosen; may be empty.
    pub value: String,
    /// Below it, whatever stands in it.
    pub note: Option<String>,
    /// Why what stands in it cannot be taken.
    pub advice: Option<String>,
}

/// What is put into a field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Takes {
    /// A number.
    Number,
    /// Words.
    Words,
    /// A number to dial.
    Phone,
    /// Words that are not to be read over a shoulder, and that are wiped as soon as they were used.
    Secret,
    /// A time of day, moved by these steps where a shell has no clock of its own to set.
    Clock(Vec<ClockStep>),
    /// One of several.
    Choice(Vec<Choice>),
}

/// A button that moves a clock.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClockStep {
    /// What is written on it.
    pub text: String,
    /// The same for somebody who does not see beside which clock it stands.
    pub spoken: String,
    /// By how many minutes; less than nothing is earlier.
    pub minutes: i32,
}

/// Of more options than these a shell shows only the chosen one until it is touched.
pub const MOST_OPEN: usize = 6;

/// One of several.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// What it is called when it is handed back.
    pub code: Cow<'static, str>,
    /// What is written on it.
    pub name: String,
}

/// What was filled in, by the name of its field. A field that is not there was not touched; one that is empty was emptied.
pub type Filled = BTreeMap<String, String>;

impl Field {
    fn new(id: &'static str, name: impl Into<String>, takes: Takes, value: impl Into<String>) -> Self {
        Self {
            id,
            over: None,
            name: name.into(),
            unit: String::new(),
            takes,
            value: value.into(),
            note: None,
            advice: None,
        }
    }

    fn number(id: &'static str, name: &str, unit: &str, value: impl Into<String>) -> Self {
        Self { unit: unit.to_owned(), ..Self::new(id, name, Takes::Number, value) }
    }

    fn clock(id: &'static str, name: &str, minute: u16, words: Words) -> Self {
        let steps = [-60, -5, 5, 60].map(|minutes: i32| {
            let length = words.span(f64::from(minutes.abs()));
            let size =
                if minutes.abs() < 60 { minutes.abs().to_string() } else { text!(words, "form-clock-hour").to_owned() };
            let (sign, spoken) = if minutes < 0 {
                ('\u{2212}', say!(words, "form-clock-earlier", length, name))
            } else {
                ('+', say!(words, "form-clock-later", length, name))
            };
            ClockStep { text: format!("{sign}{size}"), spoken, minutes }
        });
        Self::new(id, name, Takes::Clock(steps.into()), clock_text(minute))
    }

    fn choice(
        id: &'static str,
        name: &str,
        options: impl IntoIterator<Item = (impl Into<Cow<'static, str>>, String)>,
        code: &str,
    ) -> Self {
        let options = options.into_iter().map(|(code, name)| Choice { code: code.into(), name }).collect();
        Self::new(id, name, Takes::Choice(options), code)
    }

    /// Puts what was filled in into it, where it fits.
    pub(crate) fn fill(&mut self, filled: &Filled) {
        let Some(value) = filled.get(self.id) else { return };
        let fits = match &self.takes {
            Takes::Choice(options) => options.iter().any(|option| option.code == *value),
            Takes::Clock(_) => minute_of(value).is_some(),
            Takes::Number | Takes::Words | Takes::Phone | Takes::Secret => true,
        };
        if fits {
            self.value.clone_from(value);
        }
    }

    fn over(self, over: &str) -> Self {
        Self { over: Some(over.to_owned()), ..self }
    }

    fn note(self, note: impl Into<String>) -> Self {
        Self { note: Some(note.into()), ..self }
    }
}

impl Form {
    /// A form. Its name carries the mark of a draft, where the language is one.
    fn new(words: Words, heading: &str, fields: Vec<Field>, main: &str) -> Self {
        Self { heading: words.marked(heading), fields, main: main.to_owned() }
    }

    /// Puts what was filled in where nothing else is said.
    fn filled(mut self, filled: &Filled) -> Self {
        for field in &mut self.fields {
            field.fill(filled);
        }
        self
    }

    /// Says beside a field why what stands in it cannot be taken, the first time it is found out. What is no field of this form is said beside the first.
    pub fn refuse(&mut self, id: &str, advice: String) {
        let place = self.fields.iter().position(|field| field.id == id).unwrap_or_default();
        if let Some(field) = self.fields.get_mut(place) {
            field.advice.get_or_insert(advice);
        }
    }

    /// Whether anything that stands in it cannot be taken.
    #[must_use]
    pub fn is_refused(&self) -> bool {
        self.fields.iter().any(|field| field.advice.is_some())
    }

    fn value(&self, id: &str) -> &str {
        self.fields.iter().find(|field| field.id == id).map_or("", |field| field.value.trim())
    }

    /// The minute of the day that stands in a field.
    fn minute(&self, id: &str) -> u16 {
        minute_of(self.value(id)).unwrap_or_default()
    }

    /// Reads a field; what is wrong is said beside it.
    fn read<T>(&mut self, id: &str, words: Words, read: impl FnOnce(&str) -> Result<T>) -> Option<T> {
        match read(self.value(id)) {
            Ok(value) => Some(value),
            Err(error) => {
                self.refuse(id, words.advice(&error));
                None
            }
        }
    }

    /// As [`Form::read`]; an empty field is nothing, and nothing is wrong with that.
    fn read_if_any<T>(&mut self, id: &str, words: Words, read: impl FnOnce(&str) -> Result<T>) -> Option<T> {
        if self.value(id).is_empty() { None } else { self.read(id, words, read) }
    }
}

/// A minute of the day as a clock shows it: `07:00`.
fn clock_text(minute: u16) -> String {
    format!("{:02}:{:02}", minute / 60, minute % 60)
}

/// A clock moved on or back, round midnight; one that shows no time of day stays.
#[must_use]
pub fn clock_moved(clock: &str, minutes: i32) -> String {
    minute_of(clock).map_or_else(|| clock.to_owned(), |minute| clock_shown(i32::from(minute) + minutes % 1440))
}

/// The minute of the day as a clock shows it: `07:00`; round midnight.
#[must_use]
// The cast fits: a day has 1440 minutes.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
pub fn clock_shown(minute: i32) -> String {
    clock_text(minute.rem_euclid(1440) as u16)
}

/// The minute of the day that a clock shows.
#[must_use]
pub fn minute_of(text: &str) -> Option<u16> {
    let (hour, minute) = text.trim().split_once(':')?;
    let (hour, minute) = (hour.parse::<u16>().ok()?, minute.parse::<u16>().ok()?);
    (hour < 24 && minute < 60).then_some(hour * 60 + minute)
}

/// A whole number of days.
// The casts fit: checked.
fn days(words: Words, typed: &str) -> Result<u16> {
    let days = words.read_number(typed)?;
    if days.fract() == 0.0 && (0.0..=9999.0).contains(&days) {
        Ok(days as u16)
    } else {
        Err(Error::OutOfRange { what: Quantity::Days, given: days, low: 0.0, high: 9999.0, unit: Unit::Days })
    }
}

/// How many days to look back on, 1 to 3660.
fn days_back(words: Words, typed: &str) -> Result<u16> {
    match days(words, typed)? {
        days @ 1..=3660 => Ok(days),
        days => Err(Error::OutOfRange {
            what: Quantity::Days,
            given: days.into(),
            low: 1.0,
            high: 3660.0,
            unit: Unit::Days,
        }),
    }
}

/// Glucose as typed; where what stood there was not touched it stays to the last digit, whatever its rounded text would say.
fn glucose(words: Words, typed: &str, before: Glucose) -> Result<Glucose> {
    if typed == words.bare_amount(before.mg_dl()) { Ok(before) } else { words.read_glucose(typed) }
}
