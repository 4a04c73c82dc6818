//! What a shell asks for, laid out: draw the fields from top to bottom and hand back what stands in them.

use std::collections::HashMap;

use ebbstead_core::forms;

use crate::page::Page;

/// What was filled in, by the field's `id`. A field that is not there was not touched; one that is empty was emptied.
pub(crate) type Filled = HashMap<String, String>;

/// Fields to fill in.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct Form {
    /// The name of the screen.
    pub heading: String,
    /// From top to bottom. Hand back what stands in them after a choice was made and when the button is pressed; which fields there
    /// are may depend on what was chosen.
    pub fields: Vec<FormField>,
    /// What the one button does.
    pub main: String,
}

/// What came of a form that was filled in.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct FormAnswer {
    /// The form, with what was filled in and why it cannot be taken; as things now are, where it was kept.
    pub form: Form,
    /// The answer: show it above the form. Nothing while something is missing or cannot be taken, and where nothing was asked.
    pub page: Option<Page>,
    /// That it was kept, in words; nothing where it was not.
    pub message: Option<String>,
}

/// A field.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct FormField {
    /// What it is called when it is handed back.
    pub id: String,
    /// A name over it and those that follow, where one begins here.
    pub over: Option<String>,
    /// What it asks for.
    pub name: String,
    /// What stands behind what is typed; may be empty.
    pub unit: String,
    /// What is put into it.
    pub takes: FieldTakes,
    /// What stands in it: as typed, a time of day as `07:00`, or the code of what was chosen; may be empty.
    pub value: String,
    /// Below it, whatever stands in it.
    pub note: Option<String>,
    /// Why what stands in it cannot be taken: show it beside the field, and read it out.
    pub advice: Option<String>,
}

/// What is put into a field.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Enum, serde::Serialize)]
pub enum FieldTakes {
    /// A number.
    Number,
    /// Words.
    Words,
    /// A number to dial.
    Phone,
    /// Words that must not be shown as typed, nor kept once they were handed back.
    Secret,
    /// A time of day.
    Clock {
        /// What moves it, where a shell has no clock of its own to set.
        steps: Vec<ClockStep>,
    },
    /// One of several.
    Choice {
        /// Which.
        options: Vec<FormChoice>,
        /// Whether there are so many that only the chosen one is shown until it is touched: what is asked next must not lie under the
        /// fold.
        folds: bool,
    },
}

/// A button that moves a clock ([`clock_moved`]).
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct ClockStep {
    /// What is written on it.
    pub text: String,
    /// The same for somebody who does not see beside which clock it stands.
    pub spoken: String,
    /// By how many minutes; less than nothing is earlier.
    pub minutes: i32,
}

/// One of several.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct FormChoice {
    /// What it is called when it is handed back.
    pub code: String,
    /// What is written on it.
    pub name: String,
}

impl From<forms::Form> for Form {
    fn from(core: forms::Form) -> Self {
        let forms::Form { heading, fields, main } = core;
        Self { heading, fields: fields.into_iter().map(Into::into).collect(), main }
    }
}

impl From<forms::Field> for FormField {
    fn from(core: forms::Field) -> Self {
        let forms::Field { id, over, name, unit, takes, value, note, advice } = core;
        let takes = match takes {
            forms::Takes::Number => FieldTakes::Number,
            forms::Takes::Words => FieldTakes::Words,
            forms::Takes::Phone => FieldTakes::Phone,
            forms::Takes::Secret => FieldTakes::Secret,
            forms::Takes::Clock(steps) => FieldTakes::Clock {
                steps: steps
                    .into_iter()
                    .map(|forms::ClockStep { text, spoken, minutes }| ClockStep { text, spoken, minutes })
                    .collect(),
            },
            forms::Takes::Choice(options) => FieldTakes::Choice {
                folds: options.len() > forms::MOST_OPEN && !value.is_empty(),
                options: options
                    .into_iter()
                    .map(|forms::Choice { code, name }| FormChoice { code: code.into_owned(), name })
                    .collect(),
            },
        };
        Self { id: id.to_owned(), over, name, unit, takes, value, note, advice }
    }
}

/// What stands in a field that takes a clock's time, moved on or back by minutes, round midnight.
#[uniffi::export]
#[must_use]
pub fn clock_moved(clock: &str, minutes: i32) -> String {
    forms::clock_moved(clock, minutes)
}

/// The minute of the day that stands in such a field; nothing where it is no time of day.
#[uniffi::export]
#[must_use]
pub fn clock_minute(clock: &str) -> Option<i32> {
    forms::minute_of(clock).map(i32::from)
}

/// A minute of the day as it stands in such a field.
#[uniffi::export]
#[must_use]
pub fn clock_shown(minute: i32) -> String {
    forms::clock_shown(minute)
}

/// As core takes what was filled in.
pub(crate) fn filled(here: Filled) -> forms::Filled {
    here.into_iter().collect()
}
