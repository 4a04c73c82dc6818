//! The screen with the log, for a shell to lay out.

use std::sync::Arc;

use ebbstead_core::store::Log;
use ebbstead_core::{Result, entries, log_screen};

use crate::chart::all;
use crate::companion::Shared;
use crate::error::ApiResult;
use crate::first::FirstPart;
use crate::form::{Filled, Form, filled};
use crate::import::OffsetChange;
use crate::log::{Listed, LogPart};
use crate::prompting::Noted;
use crate::records::{Moment, entry_id};

/// What can be tapped on the screen with the log.
#[derive(Clone, Debug, PartialEq, Eq, Hash, uniffi::Enum)]
pub enum LogTap {
    /// Turn to the list; leaves what was being filled in.
    Look,
    /// List anew because something changed, not because of a tap: what was said stays, and what is being filled in.
    Refresh,
    /// Begin to add something.
    Add,
    /// Begin to put an entry right.
    PutRight {
        /// Which.
        id: String,
    },
    /// Lay the form out for what was chosen.
    Fill,
    /// Keep what is filled in. A dose that is probably a slip is asked back about, and kept all the same.
    Keep,
    /// Take back what was noted last.
    Undo,
    /// Take an entry back, or a whole import.
    TakeBack {
        /// Which.
        id: String,
    },
    /// Note that the sensor nearby was put in when its session began.
    Inserted,
}

impl TryFrom<LogTap> for log_screen::Tap {
    type Error = ebbstead_core::Error;
    fn try_from(here: LogTap) -> Result<Self> {
        Ok(match here {
            LogTap::Look => Self::Look,
            LogTap::Refresh => Self::Refresh,
            LogTap::Add => Self::Add,
            LogTap::PutRight { id } => Self::PutRight(entry_id(&id)?),
            LogTap::Fill => Self::Fill,
            LogTap::Keep => Self::Keep,
            LogTap::Undo => Self::Undo,
            LogTap::TakeBack { id } => Self::TakeBack(entry_id(&id)?),
            LogTap::Inserted => Self::Inserted,
        })
    }
}

/// What was noted on one day.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct LogDay {
    /// The day on the wearer's calendar, as their language writes it.
    pub day: String,
    /// The newest first.
    pub entries: Vec<Listed>,
}

/// What the screen goes on from: keep it, and give it with the next tap.
#[derive(Clone, Debug, Default, PartialEq, uniffi::Record)]
pub struct LogState {
    /// What became of the last tap.
    #[uniffi(default = None)]
    pub noted: Option<Noted>,
    /// While something is added or put right.
    #[uniffi(default = None)]
    pub asked: Option<LogAsked>,
    /// What sources of readings remarked ([`remarked`]): set it, and it is said the next time somebody looks.
    #[uniffi(default = None)]
    pub unseen: Option<String>,
    /// When the session of a sensor nearby began: set it, and it is offered to be noted.
    #[uniffi(default = None)]
    pub began: Option<Moment>,
}

/// What sources remarked and nobody saw yet, with more of it: each once, and the last few.
#[uniffi::export]
#[must_use]
#[allow(clippy::needless_pass_by_value)] // the generated code hands over what it owns
pub fn remarked(unseen: Option<String>, texts: Vec<String>) -> Option<String> {
    log_screen::remarked(unseen.as_deref(), &texts)
}

/// A form that is being filled in.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct LogAsked {
    /// The entry that is being put right; nothing while something is added.
    pub wrong: Option<String>,
    /// When it was laid out.
    pub at: Moment,
    /// Whether it was to be kept and could not be.
    pub is_refused: bool,
    /// What was filled in since it was opened.
    pub filled: Filled,
}

impl From<log_screen::State> for LogState {
    fn from(core: log_screen::State) -> Self {
        let log_screen::State { noted, asked, unseen, began } = core;
        let asked = asked.map(|log_screen::Asked { wrong, at, is_refused, filled }| LogAsked {
            wrong: wrong.map(|id| id.0.to_string()),
            at: at.into(),
            is_refused,
            filled: filled.into_iter().collect(),
        });
        Self { noted: noted.map(Into::into), asked, unseen, began: began.map(Into::into) }
    }
}

impl TryFrom<LogState> for log_screen::State {
    type Error = ebbstead_core::Error;
    fn try_from(here: LogState) -> Result<Self> {
        let LogState { noted, asked, unseen, began } = here;
        let core = |LogAsked { wrong, at, is_refused, filled: here }: LogAsked| -> Result<_> {
            let wrong = wrong.as_deref().map(entry_id).transpose()?;
            Ok(log_screen::Asked { wrong, at: at.try_into()?, is_refused, filled: filled(here) })
        };
        Ok(Self {
            noted: noted.map(Into::into),
            asked: asked.map(core).transpose()?,
            unseen,
            began: began.map(TryInto::try_into).transpose()?,
        })
    }
}

/// The screen with the log.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct LogScreen {
    /// Its name.
    pub title: String,
    /// What became of the last tap, or of a source of readings.
    pub noted: Option<Noted>,
    /// While something is added or put right.
    pub form: Option<Form>,
    /// On the button of [`LogTap::Inserted`], while the session of the sensor nearby is not in the log.
    pub inserted: Option<String>,
    /// What was noted in the past seven days, the newest day first.
    pub days: Vec<LogDay>,
    /// In their place, where there are none.
    pub empty: Option<String>,
    /// Where readings come from.
    pub sources: Vec<FirstPart>,
    /// What it goes on from.
    pub state: LogState,
}

/// The screen with the log. It keeps nothing of its own.
#[derive(uniffi::Object)]
pub struct LogScreens {
    pub(crate) shared: Arc<Shared>,
    pub(crate) has_health: bool,
}

#[uniffi::export]
impl LogScreens {
    /// The screen after a tap. `filled_in` is what was touched since the form was laid out, `state` that of the screen before. A slip in what
    /// was filled in is no error but advice beside its field.
    ///
    /// # Errors
    /// As [`LogPart::record`]; [`crate::ApiError::NotFound`].
    pub fn tapped(&self, tap: LogTap, filled_in: Filled, state: LogState, now: Moment) -> ApiResult<LogScreen> {
        let words = self.shared.words();
        let core = |tap: LogTap| -> Result<_> { Ok((tap.try_into()?, state.try_into()?)) };
        let (tap, state): (log_screen::Tap, log_screen::State) =
            core(tap).map_err(|error| self.shared.refused(&error))?;
        let tapped = |log: &mut Log| state.tapped(tap, filled(filled_in), log, now.try_into()?, words);
        let state = if tap.writes() { self.shared.change(tapped)? } else { self.shared.with(tapped)? };
        self.screen(state, now)
    }

    /// The screen after a file of readings was brought in as [`LogPart::bring_in`] does: it says what came of it.
    ///
    /// # Errors
    /// As [`LogPart::record`].
    pub fn bring_in(
        &self,
        name: &str,
        bytes: Vec<u8>,
        offsets: Vec<OffsetChange>,
        state: LogState,
        now: Moment,
    ) -> ApiResult<LogScreen> {
        let state: log_screen::State = state.try_into().map_err(|error| self.shared.refused(&error))?;
        let log = LogPart { shared: Arc::clone(&self.shared) };
        self.screen(state.brought_in(log.bring_in(name, bytes, offsets, now)?), now)
    }
}

impl LogScreens {
    fn screen(&self, state: log_screen::State, now: Moment) -> ApiResult<LogScreen> {
        let words = self.shared.words();
        let laid_out = |log: &mut Log| state.screen(log, self.has_health, now.try_into()?, words);
        let log_screen::Screen { title, noted, form, inserted, days, empty, sources } = self.shared.with(laid_out)?;
        let day = |entries::Day { day, entries }| LogDay {
            day,
            entries: entries.into_iter().map(|entry| Listed::of(entry, true, words)).collect(),
        };
        Ok(LogScreen {
            title,
            noted: noted.map(Into::into),
            form: form.map(Into::into),
            inserted,
            days: days.into_iter().map(day).collect(),
            empty,
            sources: all(sources),
            state: state.into(),
        })
    }
}
