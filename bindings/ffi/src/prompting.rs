//! The screen with a prompt, for a shell to lay out.

use std::sync::Arc;

use ebbstead_core::night::{self, LOOK_AFTER_ROLLING_MINUTES, Look};
use ebbstead_core::prompting::{self, Answered, Around};
use ebbstead_core::time::Moment as CoreMoment;
use ebbstead_core::words::ShellLabel;
use ebbstead_core::{entries, log};

use crate::alerts;
use crate::chart::{Chart, all};
use crate::check::{Question, Worked, work_out_shown};
use crate::companion::Shared;
use crate::error::{ApiError, ApiResult};
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
    /// [`ApiError::InvalidInput`] for a time that cannot be; those of reading.
    pub fn unasked(&self, state: PromptState, now: Moment) -> ApiResult<PromptScreen> {
        let look = self.look(&state, prompting::Tap::Look, now)?;
        let screen = self.screen(None, state.clone(), look, String::new())?;
        // Nothing was shown yet that a ring or the hour could change.
        Ok(PromptScreen { state, ..screen })
    }

    /// The screen after a tap; `state` is that of the screen before. What cannot be kept is said on it, and the answer comes all the same.
    ///
    /// # Errors
    /// As [`crate::CheckPart::show`].
    pub fn tapped(&self, tap: PromptTap, state: PromptState, now: Moment) -> ApiResult<PromptScreen> {
        let can_undo = state.noted.as_ref().is_some_and(|noted| noted.undo.is_some());
        let core = prompting::Tap::from(tap).counted(can_undo);
        let tap = PromptTap::from(core);
        let look = self.look(&state, core, now)?;
        let question = question(now, look, core.feels().map(Into::into));
        let kept = PromptState {
            noted: state.noted.filter(|_| core.keeps_message()),
            meter: state.meter.filter(|_| core.keeps_meter()),
            ..state
        };
        match tap {
            PromptTap::AskMeter => {
                self.asked(question, PromptState { meter: Some(self.meter("", None)), ..kept }, look)
            }
            PromptTap::Undo => {
                let words = self.shared.words();
                let undone = self.shared.change(|log| entries::undo(log, now.try_into()?, words));
                let noted = Noted { text: undone.unwrap_or_else(ApiError::advice), undo: None };
                self.asked(question, PromptState { noted: Some(noted), ..kept }, look)
            }
            PromptTap::Feel { .. } => self.asked_and_noted(question, core.notes(), kept, look),
            _ => match core.notes() {
                None => self.asked(question, kept, look),
                Some(done) => {
                    let noted = self.note(done, now);
                    let screen = self.asked(question, PromptState { noted: Some(noted), ..kept }, look)?;
                    if tap == PromptTap::RolledOver {
                        self.look_after_rolling(question)?;
                    }
                    Ok(screen)
                }
            },
        }
    }

    /// The screen after it was typed what the meter shows: a check in the wearer's unit, noted and answered. What cannot be taken stays in
    /// its field, with why. `state` is that of the screen before.
    ///
    /// # Errors
    /// As [`PromptScreens::tapped`].
    pub fn metered(&self, typed: &str, state: PromptState, now: Moment) -> ApiResult<PromptScreen> {
        let look = self.look(&state, prompting::Tap::AskMeter, now)?;
        let question = question(now, look, None);
        match self.shared.words().read_meter(typed) {
            Err(error) => {
                let advice = self.shared.refused(&error).advice();
                let meter = Some(self.meter(typed, Some(advice)));
                self.asked(question, PromptState { noted: None, meter, ..state }, look)
            }
            Ok(shown) => {
                let question = Question {
                    meter_mg_dl: Some(shown.glucose.mg_dl()),
                    meter_beyond: shown.beyond.map(Into::into),
                    ..question
                };
                self.asked_and_noted(question, Some(night::Done::Checked(shown)), state, look)
            }
        }
    }
}

impl PromptScreens {
    fn look(&self, state: &PromptState, tap: prompting::Tap, now: Moment) -> ApiResult<Look> {
        let refused = |error| self.shared.refused(&error);
        let woken = state.woken.map(CoreMoment::try_from).transpose().map_err(refused)?;
        let now = CoreMoment::try_from(now).map_err(refused)?;
        let before = Look { at_night: state.at_night, left_night: state.left_night, woken };
        let alerts = alerts::read(state.alerts.as_deref());
        self.shared.ask(|log| before.after(tap, log, &alerts, now))
    }

    /// The answer comes first: it must not wait for, or fail with, a log that cannot be written.
    fn asked_and_noted(
        &self,
        question: Question,
        done: Option<night::Done>,
        state: PromptState,
        look: Look,
    ) -> ApiResult<PromptScreen> {
        let worked = work_out_shown(&self.shared, question)?;
        let noted = done.map(|done| self.note(done, question.now));
        self.screen(Some(worked), PromptState { noted, meter: None, ..state }, look, clock(question.now))
    }

    fn asked(&self, question: Question, state: PromptState, look: Look) -> ApiResult<PromptScreen> {
        let worked = work_out_shown(&self.shared, question)?;
        self.screen(Some(worked), state, look, clock(question.now))
    }

    /// What could not be kept was still done: the advice says what stands.
    fn note(&self, done: night::Done, now: Moment) -> Noted {
        let words = self.shared.words();
        let kept: ApiResult<log::Entry> = self.shared.change(|log| night::note(log, done, now.try_into()?));
        match kept {
            Ok(entry) => Noted {
                text: entries::confirmation(&entry, ShellLabel::Kept, words),
                undo: Some(words.shell_label(ShellLabel::UndoLast).to_owned()),
            },
            Err(refused) => Noted { text: refused.advice(), undo: None },
        }
    }

    fn look_after_rolling(&self, question: Question) -> ApiResult<()> {
        let at: CoreMoment = question.now.try_into().map_err(|error| self.shared.refused(&error))?;
        let at = at.plus_minutes(LOOK_AFTER_ROLLING_MINUTES).into();
        self.shared.set_due(Some(Due { at, occasion: question.occasion }));
        Ok(())
    }

    fn meter(&self, typed: &str, advice: Option<String>) -> FormField {
        prompting::meter(typed, advice, self.shared.words()).into()
    }

    fn screen(&self, worked: Option<Worked>, state: PromptState, look: Look, clock: String) -> ApiResult<PromptScreen> {
        let at_night = look.at_night == Some(true);
        let around = Around {
            at_night,
            is_read_only: self.shared.with(|log| Ok(log.is_read_only()))?,
            alerts_off: !self.shared.can_ring(),
            damage: self.shared.damage(),
            noted: state.noted.clone().map(Into::into),
        };
        let words = self.shared.words();
        let offers = worked.as_ref().map(|worked| night::offers(&worked.prompt)).unwrap_or_default();
        let answered =
            worked.as_ref().map(|Worked { prompt, said, chart, .. }| Answered { prompt, said, chart, offers: &offers });
        let prompting::Screen { title, parts, pinned } = prompting::screen(answered, around, words);
        let label = |label| words.shell_label(label).to_owned();
        let Look { left_night, woken, .. } = look;
        let state = PromptState { at_night: Some(at_night), left_night, woken: woken.map(Into::into), ..state };
        Ok(PromptScreen {
            title,
            at_night,
            clock,
            parts: all(parts),
            pinned: all(pinned),
            state,
            keep: label(ShellLabel::Add),
            leave: label(ShellLabel::Cancel),
            back: label(ShellLabel::Back),
        })
    }
}

fn question(now: Moment, look: Look, feels: Option<Symptom>) -> Question {
    Question { now, occasion: look.occasion().into(), feels, meter_mg_dl: None, meter_beyond: None }
}

/// The hour and minute; a time that cannot be was refused before.
fn clock(now: Moment) -> String {
    CoreMoment::try_from(now).map(CoreMoment::clock).unwrap_or_default()
}
