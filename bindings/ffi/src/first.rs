//! The first start, for a shell to lay out.

use std::sync::Arc;

use ebbstead_core::first::{self, Step};

use crate::chart::all;
use crate::companion::Shared;
use crate::error::ApiResult;
use crate::form::{Filled, FormField, filled};
use crate::mirror::mirrored_names;
use crate::records::Moment;

mirrored_names! {
    /// What only a phone can do.
    FirstAsk = ebbstead_core::first::Ask {
        /// Look for a sensor nearby.
        FindSensor,
        /// Read its health records.
        ReadHealth,
        /// Let the wearer choose a file of readings.
        ReadFile,
        /// Let alerts come.
        AllowAlerts,
    }
}

/// A part of a step.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Enum)]
pub enum FirstPart {
    /// What is to be understood.
    Sentence {
        /// The text.
        text: String,
    },
    /// Why something is asked.
    Text {
        /// The text.
        text: String,
    },
    /// A field to fill in; lay the step out anew after a choice.
    Asked {
        /// The field.
        field: FormField,
    },
    /// A button.
    Press {
        /// What it asks of the phone.
        ask: FirstAsk,
        /// What is written on it.
        name: String,
    },
}

impl From<first::Part> for FirstPart {
    fn from(core: first::Part) -> Self {
        match core {
            first::Part::Sentence(text) => Self::Sentence { text },
            first::Part::Text(text) => Self::Text { text },
            first::Part::Field(field) => Self::Asked { field: field.into() },
            first::Part::Press { ask, name } => Self::Press { ask: ask.into(), name },
        }
    }
}

/// A step of the first start.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct FirstScreen {
    /// Its number, from 0.
    pub step: u32,
    /// Its name.
    pub title: String,
    /// Which of how many.
    pub place: String,
    /// From top to bottom.
    pub parts: Vec<FirstPart>,
    /// On the button that goes on.
    pub next: String,
    /// Whether that can be tapped yet.
    pub can_go_on: bool,
    /// Whether it leaves the first start.
    pub is_last: bool,
    /// On the button that leads to the step before, where there is one.
    pub back: Option<String>,
}

/// The first start: a step at a time. It keeps nothing of its own.
#[derive(uniffi::Object)]
pub struct FirstScreens {
    pub(crate) shared: Arc<Shared>,
    pub(crate) has_health: bool,
}

#[uniffi::export]
impl FirstScreens {
    /// A step by its number, from 0, with what was filled in there.
    ///
    /// # Errors
    /// As [`crate::SettingsPart::wearer`].
    pub fn step(&self, number: u32, filled_in: Filled) -> ApiResult<FirstScreen> {
        let wearer = self.shared.with(|log| log.wearer())?;
        let step = Step::numbered(number as usize);
        Ok(first::screen(step, &filled(filled_in), &wearer, self.has_health, self.shared.words()).into())
    }

    /// Keeps what was filled in, and goes on; where something cannot be taken, the step stays, with advice beside its field.
    ///
    /// # Errors
    /// As [`crate::SettingsPart::keep`]; nothing is kept then.
    pub fn next(&self, number: u32, filled_in: Filled, now: Moment) -> ApiResult<FirstScreen> {
        let step = Step::numbered(number as usize);
        let filled_in = filled(filled_in);
        let (screen, kept) =
            self.shared.write(|log| first::next(step, &filled_in, log, self.has_health, now.try_into()?))?;
        if let Some(words) = kept {
            self.shared.settings_changed(words);
        }
        Ok(screen.into())
    }
}

impl From<first::Screen> for FirstScreen {
    fn from(core: first::Screen) -> Self {
        let first::Screen { step, title, place, parts, next, can_go_on, back } = core;
        Self {
            step: step.number() as u32,
            title,
            place,
            parts: all(parts),
            next,
            can_go_on,
            is_last: step == step.next(),
            back,
        }
    }
}
