//! The screen with a prompt, for a shell to lay out.

use std::sync::Arc;

use ebbstead_core::alerts::State;
use ebbstead_core::night::{self, Look};
use ebbstead_core::prompting::{self, Answered, Around, Change, MeterAsked};
use ebbstead_core::time::Moment as CoreMoment;
use ebbstead_core::{Error, Result};

use crate::alerts;
use crate::chart::{Chart, all};
use crate::check::{Worked, work_out_shown};
use crate::companion::Shared;
use crate::error::ApiResult;
use crate::form::FormField;
use crate::mirror::{mirrored_both_ways, mirrored_record};
use crate::prompt::Verdict;
use crate::records::{Moment, Symptom};
use crate::watcher::Due;

mirrored_record! {
    /// What to do, why, and the reading it rests on: the largest thing on the screen.
    PromptHeadline = ebbstead_core::prompting::Headline {
        /// Its weight and its sign follow from this: [`crate::verdict_weight`], [`crate::verdict_sign`].
        verdict: Verdict,
        /// What to do, in one to three words.
        word: String,
        /// What to do and why.
        sentence: String,
        /// What to do without a meter; when to look again.
        asides: Vec<String>,
        /// The newest reading.
        amount: Option<String>,
        /// Its age, and how fast it moves.
        accessory: Vec<String>,
    }
}

/// What can be tapped on the screen with a prompt.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, uniffi::Enum, serde::Serialize)]
pub enum PromptTap {
    /// Ask anew: the screen is turned to.
    Look,
    /// Ask anew because something changed, not because of a tap: what was said about the last tap stays.
    Refresh,
    /// Ask what the meter shows; hand that to [`PromptScreens::metered`].
    AskMeter,
    /// Leave that.
    LeaveMeter,
    /// Rescue carbohydrate was taken.
    Treated,
    /// The wearer lies no longer on the sensor.
    RolledOver,
    /// The wearer feels this.
    Feel {
        /// What.
        felt: Symptom,
    },
    /// Take back what was noted last, where [`PromptState::noted`] offers it.
    Undo,
    /// Leave the night for the screen of the day.
    LeaveNight,
    /// Turn to what is asked ahead; the shell does.
    Before,
    /// Turn to the screen of [`crate::HelpPage`]; the shell does.
    Help,
    /// Let the phone ask whether alerts may ring, or show where that is set; the shell does.
    AllowAlerts,
}

impl From<prompting::Tap> for PromptTap {
    fn from(core: prompting::Tap) -> Self {
        use prompting::Tap;
        match core {
            Tap::Look => Self::Look,
            Tap::Refresh => Self::Refresh,
            Tap::AskMeter => Self::AskMeter,
            Tap::LeaveMeter => Self::LeaveMeter,
            Tap::Treated => Self::Treated,
            Tap::RolledOver => Self::RolledOver,
            Tap::Feel(felt) => Self::Feel { felt: felt.into() },
            Tap::Undo => Self::Undo,
            Tap::LeaveNight => Self::LeaveNight,
            Tap::Before => Self::Before,
            Tap::Help => Self::Help,
            Tap::AllowAlerts => Self::AllowAlerts,
        }
    }
}

impl From<PromptTap> for prompting::Tap {
    fn from(here: PromptTap) -> Self {
        match here {
            PromptTap::Look => Self::Look,
            PromptTap::Refresh => Self::Refresh,
            PromptTap::AskMeter => Self::AskMeter,
            PromptTap::LeaveMeter => Self::LeaveMeter,
            PromptTap::Treated => Self::Treated,
            PromptTap::RolledOver => Self::RolledOver,
            PromptTap::Feel { felt } => Self::Feel(felt.into()),
            PromptTap::Undo => Self::Undo,
            PromptTap::LeaveNight => Self::LeaveNight,
            PromptTap::Before => Self::Before,
            PromptTap::Help => Self::Help,
            PromptTap::AllowAlerts => Self::AllowAlerts,
        }
    }
}

mirrored_record! {
    /// A thing to tap.
    PromptButton = ebbstead_core::prompting::Button {
        /// What it does.
        tap: PromptTap,
        /// What is written on it.
        text: String,
        /// Whether it is the one that the verdict asks for.
        is_main: bool,
    }
}

mirrored_both_ways! {
    /// What became of a tap: read it out.
    Noted = ebbstead_core::prompting::Noted {
        /// That it was kept or taken back, or why it could not be.
        text: String,
        /// On the button that takes it back, where that can be.
        undo: Option<String>,
    }
}

mirrored_record! {
    /// Items, under a name where they have one of their own.
    NamedItems = ebbstead_core::prompting::Items {
        /// The name.
        name: Option<String>,
        /// The items.
        items: Vec<String>,
    }
}

/// A part of the screen.
#[derive(Clone, Debug, PartialEq, uniffi::Enum)]
pub enum PromptPart {
    /// The answer.
    Lead {
        /// What to do, why, and the reading.
        headline: PromptHeadline,
    },
    /// What became of the last tap.
    Became {
        /// Of it.
        noted: Noted,
    },
    /// Something that is wrong: read it out.
    Notice {
        /// The text.
        text: String,
    },
    /// A list.
    Items {
        /// It.
        list: NamedItems,
    },
    /// The chart.
    Drawn {
        /// It.
        chart: Chart,
    },
    /// A button.
    Press {
        /// It.
        button: PromptButton,
    },
    /// Lists that one tap unfolds.
    Folded {
        /// On what unfolds them.
        more: String,
        /// On what folds them again.
        less: String,
        /// The lists.
        lists: Vec<NamedItems>,
    },
    /// A small text.
    Text {
        /// It.
        text: String,
    },
}

impl From<prompting::Part> for PromptPart {
    fn from(core: prompting::Part) -> Self {
        match core {
            prompting::Part::Headline(headline) => Self::Lead { headline: headline.into() },
            prompting::Part::Noted(noted) => Self::Became { noted: noted.into() },
            prompting::Part::Notice(text) => Self::Notice { text },
            prompting::Part::Items(list) => Self::Items { list: list.into() },
            prompting::Part::Chart(chart) => Self::Drawn { chart: chart.into() },
            prompting::Part::Press(button) => Self::Press { button: button.into() },
            prompting::Part::Folded { more, less, lists } => Self::Folded { more, less, lists: all(lists) },
            prompting::Part::Text(text) => Self::Text { text },
        }
    }
}

/// What the screen goes on from: keep it, and give it with the next tap. When the app comes to the front, or a notification opens it, begin
/// with an empty one that has the [`PromptState::alerts`] alone: whether it is night is then decided anew.
#[derive(Clone, Debug, Default, PartialEq, uniffi::Record)]
pub struct PromptState {
    /// What became of the last tap.
    #[uniffi(default = None)]
    pub noted: Option<Noted>,
    /// While it is asked what the meter shows: the field, over the rest of the screen.
    #[uniffi(default = None)]
    pub meter: Option<FormField>,
    /// What [`crate::AlertStep::state`] was last: put it in before each tap. By it core knows whether a ring woke the wearer.
    #[uniffi(default = None)]
    pub alerts: Option<String>,
    /// How the screen before was drawn; nothing where none was yet.
    #[uniffi(default = None)]
    pub at_night: Option<bool>,
    /// The wearer left the night since the app came to the front.
    #[uniffi(default = false)]
    pub left_night: bool,
    /// What woke the wearer rang then.
    #[uniffi(default = None)]
    pub woken: Option<Moment>,
}

impl TryFrom<PromptState> for prompting::State {
    type Error = Error;
    fn try_from(here: PromptState) -> Result<Self> {
        let PromptState { noted, meter, alerts: _, at_night, left_night, woken } = here;
        let woken = woken.map(TryInto::try_into).transpose()?;
        Ok(Self {
            noted: noted.map(Into::into),
            meter: meter.map(|FormField { value, advice, .. }| MeterAsked { typed: value, advice }),
            look: Look { at_night, left_night, woken },
        })
    }
}

/// The screen with a prompt.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct PromptScreen {
    /// Its name.
    pub title: String,
    /// Draw it for the night: nothing bright, a clock above it, a way back below it and no tabs.
    pub at_night: bool,
    /// The hour and minute; nothing before anything was asked.
    pub clock: String,
    /// From top to bottom.
    pub parts: Vec<PromptPart>,
    /// Always under the thumb.
    pub pinned: Vec<PromptButton>,
    /// What it goes on from.
    pub state: PromptState,
    /// Under the field for the meter: on the button that notes what it shows.
    pub keep: String,
    /// On the one that leaves it.
    pub leave: String,
    /// In the night: on what leaves it ([`PromptTap::LeaveNight`]).
    pub back: String,
}

/// The screen with a prompt. Core decides whether it is drawn for the night, and whether the wearer was woken. It keeps nothing of its own.
#[derive(uniffi::Object)]
pub struct PromptScreens {
    pub(crate) shared: Arc<Shared>,
}

#[uniffi::export]
impl PromptScreens {
    /// The screen before anything was asked: what is answered is kept as shown, so ask only once it is.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for a time that cannot be; those of reading.
    pub fn unasked(&self, state: PromptState, now: Moment) -> ApiResult<PromptScreen> {
        let (before, alerts, now) = self.before(state.clone(), now)?;
        let look = self.shared.ask(|log| before.look.after(prompting::Tap::Look, log, &alerts, now))?;
        let screen = self.screen(None, prompting::State { look, ..before }, None, String::new())?;
        // Nothing was shown yet that a ring or the hour could change.
        Ok(PromptScreen { state, ..screen })
    }

    /// The screen after a tap; `state` is that of the screen before. What cannot be kept is said on it, and the answer comes all the same.
    ///
    /// # Errors
    /// As [`crate::CheckPart::show`].
    pub fn tapped(&self, tap: PromptTap, state: PromptState, now: Moment) -> ApiResult<PromptScreen> {
        let kept = state.alerts.clone();
        let (before, alerts, now) = self.before(state, now)?;
        let step = self.shared.ask(|log| before.tapped(tap.into(), log, &alerts, now))?;
        self.after(step, now, kept)
    }

    /// The screen after it was typed what the meter shows: a check in the wearer's unit, noted and answered. What cannot be taken stays in
    /// its field, with why. `state` is that of the screen before.
    ///
    /// # Errors
    /// As [`PromptScreens::tapped`].
    pub fn metered(&self, typed: &str, state: PromptState, now: Moment) -> ApiResult<PromptScreen> {
        let kept = state.alerts.clone();
        let (before, alerts, now) = self.before(state, now)?;
        let words = self.shared.words();
        let step = self.shared.ask(|log| before.metered(typed, log, &alerts, now, words))?;
        self.after(step, now, kept)
    }
}

impl PromptScreens {
    /// What goes on from `state`: that, what rang, and now.
    fn before(&self, state: PromptState, now: Moment) -> ApiResult<(prompting::State, State, CoreMoment)> {
        let refused = |error| self.shared.refused(&error);
        let alerts = alerts::read(state.alerts.as_deref());
        Ok((state.try_into().map_err(refused)?, alerts, now.try_into().map_err(refused)?))
    }

    /// Does what a tap asks for, in its order, and lays the screen out.
    fn after(&self, step: prompting::Step, now: CoreMoment, alerts: Option<String>) -> ApiResult<PromptScreen> {
        let prompting::Step { before, question, after, look_at, mut state } = step;
        let words = self.shared.words();
        let changed = |change: Change| {
            // What could not be kept was still done: the advice says what stands.
            let made = self.shared.change(|log| change.make(log, now, words));
            made.unwrap_or_else(|refused| prompting::Noted { text: refused.advice(), undo: None })
        };
        let noted = before.map(changed);
        let worked = work_out_shown(&self.shared, question.into())?;
        state.noted = after.map(changed).or(noted).or(state.noted);
        if let Some(at) = look_at {
            self.shared.set_due(Some(Due { at: at.into(), occasion: question.occasion.into() }));
        }
        self.screen(Some(worked), state, alerts, now.clock())
    }

    fn screen(
        &self,
        worked: Option<Worked>,
        state: prompting::State,
        alerts: Option<String>,
        clock: String,
    ) -> ApiResult<PromptScreen> {
        let prompting::State { noted, meter, look: Look { at_night, left_night, woken } } = state;
        let at_night = at_night == Some(true);
        let around = Around {
            at_night,
            is_read_only: self.shared.with(|log| Ok(log.is_read_only()))?,
            alerts_off: !self.shared.can_ring(),
            damage: self.shared.damage(),
            noted: noted.clone(),
            meter,
        };
        let offers = worked.as_ref().map(|worked| night::offers(&worked.prompt)).unwrap_or_default();
        let answered =
            worked.as_ref().map(|Worked { prompt, said, chart, .. }| Answered { prompt, said, chart, offers: &offers });
        let prompting::Screen { title, parts, pinned, meter, keep, leave, back } =
            prompting::screen(answered, around, self.shared.words());
        let state = PromptState {
            noted: noted.map(Into::into),
            meter: meter.map(Into::into),
            alerts,
            at_night: Some(at_night),
            left_night,
            woken: woken.map(Into::into),
        };
        Ok(PromptScreen { title, at_night, clock, parts: all(parts), pinned: all(pinned), state, keep, leave, back })
    }
}
