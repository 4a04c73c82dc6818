//! Alert plans, replayed over the record.

use std::sync::Arc;

use ebbstead_core::alerts::{self, Plan, State};
use ebbstead_core::night;
use ebbstead_core::ringing::{self, Notice};
use ebbstead_core::time::Moment as CoreMoment;
use ebbstead_core::units::Glucose;
use ebbstead_core::words::Words;
use ebbstead_core::{Error, Result, wearer};

use crate::check::{Answer, Worked, work_out, work_out_shown};
use crate::companion::Shared;
use crate::error::{ApiError, ApiResult};
use crate::mirror::mirrored_names;
use crate::records::Moment;

/// When to be alerted, in one part of the day. Amounts in mg/dL.
#[derive(Clone, Copy, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct AlertLines {
    /// Alert when below it, 54 to 120.
    pub low_mg_dl: f64,
    /// Alert when above it, 120 to 400, or never.
    pub high_mg_dl: Option<f64>,
    /// Alert about a high only once it has lasted this long, 0 to 240 minutes.
    pub high_delay_minutes: f64,
    /// Alert again after so many minutes while it lasts, 5 to 240, or only once; a low that lasts is alerted again after an answer too.
    pub repeat_minutes: Option<f64>,
    /// Without that, alert again about a low after so many minutes while nobody answers, 5 to 240 and three times at most, or only once.
    #[uniffi(default = None)]
    pub low_repeat_minutes: Option<f64>,
    /// Alert when falling at least this fast, 0.5 to 10 mg/dL/min, or never.
    pub falling_mg_dl_min: Option<f64>,
    /// Alert when rising at least this fast, 0.5 to 10 mg/dL/min, or never.
    pub rising_mg_dl_min: Option<f64>,
    /// Alert when no reading came for so long, 15 to 240 minutes, or never.
    pub lost_after_minutes: Option<f64>,
}

/// A plan. Below 54 mg/dL it alerts whatever else it says.
#[derive(Clone, Copy, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct AlertPlan {
    /// Outside the wearer's night.
    pub day: AlertLines,
    /// In the wearer's night.
    pub night: AlertLines,
}

impl From<alerts::AlertLines> for AlertLines {
    fn from(core: alerts::AlertLines) -> Self {
        let alerts::AlertLines {
            low,
            high,
            high_delay_minutes,
            repeat_minutes,
            low_repeat_minutes,
            falling_mg_dl_min,
            rising_mg_dl_min,
            lost_after_minutes,
        } = core;
        Self {
            low_mg_dl: low.mg_dl(),
            high_mg_dl: high.map(Glucose::mg_dl),
            high_delay_minutes,
            repeat_minutes,
            low_repeat_minutes,
            falling_mg_dl_min,
            rising_mg_dl_min,
            lost_after_minutes,
        }
    }
}

impl TryFrom<AlertLines> for alerts::AlertLines {
    type Error = Error;
    fn try_from(here: AlertLines) -> Result<Self> {
        let AlertLines {
            low_mg_dl,
            high_mg_dl,
            high_delay_minutes,
            repeat_minutes,
            low_repeat_minutes,
            falling_mg_dl_min,
            rising_mg_dl_min,
            lost_after_minutes,
        } = here;
        Ok(Self {
            low: Glucose::from_mg_dl(low_mg_dl)?,
            high: high_mg_dl.map(Glucose::from_mg_dl).transpose()?,
            high_delay_minutes,
            repeat_minutes,
            low_repeat_minutes,
            falling_mg_dl_min,
            rising_mg_dl_min,
            lost_after_minutes,
        })
    }
}

impl From<Plan> for AlertPlan {
    fn from(core: Plan) -> Self {
        let Plan { day, night } = core;
        Self { day: day.into(), night: night.into() }
    }
}

impl TryFrom<AlertPlan> for Plan {
    type Error = Error;
    fn try_from(here: AlertPlan) -> Result<Self> {
        let AlertPlan { day, night } = here;
        let plan = Self { day: day.try_into()?, night: night.try_into()? };
        plan.check()?;
        Ok(plan)
    }
}

mirrored_names! {
    /// What an alert is about, the most urgent first.
    AlertOf = ebbstead_core::alerts::AlertCause {
        /// Below 54 mg/dL: always alerts, and no snooze holds it back.
        Floor,
        /// Below the plan's low line.
        Low,
        /// Falling fast.
        Falling,
        /// No reading for longer than the plan allows.
        Lost,
        /// Above the plan's high line.
        High,
        /// Rising fast.
        Rising,
    }
}

mirrored_names! {
    /// How to ring.
    AlertHow = ebbstead_core::alerts::Loudness {
        /// A notification with one short sound.
        Quiet,
        /// A notification that sounds until it is answered.
        Loud,
        /// As loud, and over the whole screen of a phone that lies locked.
        FullScreen,
    }
}

mirrored_names! {
    /// An answer on a notification.
    RingChoice = ebbstead_core::night::RingAnswer {
        /// Opens the screen of [`crate::HelpPage`].
        Call,
        /// Opens the field for what a meter shows.
        Checked,
        /// Notes the wearer's own step of rescue carbohydrate.
        Treated,
        /// Notes a feeling of low glucose.
        FeelsLow,
        /// Puts alerts off for a quarter of an hour.
        Snooze,
    }
}

/// An answer on a notification, in words.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct RingOffer {
    /// Which.
    pub what: RingChoice,
    /// What to write on its button.
    pub text: String,
    /// Whether it opens the app; the others are passed to [`AlertsPart::answered`] with the app closed.
    pub opens: bool,
}

impl RingOffer {
    fn of(what: night::RingAnswer, words: Words) -> Self {
        Self { what: what.into(), text: what.text(words), opens: what.opens() }
    }

    fn all(answers: impl IntoIterator<Item = night::RingAnswer>, words: Words) -> Vec<Self> {
        answers.into_iter().map(|what| Self::of(what, words)).collect()
    }
}

/// A ring: show it as a notification with the answers on it, and sound it as it says.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct Ring {
    /// When it rang: an answer on it is passed on with it.
    pub at: Moment,
    /// What it is about.
    pub of: AlertOf,
    /// How to ring.
    pub how: AlertHow,
    /// Whether it says again what lasts.
    pub again: bool,
    /// When to stop, if nobody answers.
    pub until: Moment,
    /// The notification's title: what to do.
    pub title: String,
    /// Its text: the sentence, and what was crossed, or when it rang of which this is left.
    pub text: String,
    /// The answers on it, the one that it asks for first; a phone that has room for three shows the first three.
    pub answers: Vec<RingOffer>,
    /// The answers once it has stopped by itself: each opens the app, since what was done earlier is not noted as of then.
    pub left: Vec<RingOffer>,
    /// The answer in full, for the screen that opens; nothing where it could not be worked out, and the text says what was crossed.
    pub answer: Option<Answer>,
}

/// What became of an answer on a notification.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct RingAnswered {
    /// To be kept by the shell as it is.
    pub state: String,
    /// To be said where it was not noted, as a notification: it answered a ring that is long past, and the log takes it with its own time.
    pub late: Option<String>,
}

/// What to do after a reading came, or none did.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct AlertStep {
    /// To be kept by the shell as it is, and given with the next call.
    pub state: String,
    /// What to ring, if anything.
    pub ring: Option<Ring>,
    /// Nothing that rang stands any more: take away what is shown of it. It was answered, or does not hold any more.
    pub over: bool,
    /// What rang a while ago and nobody answered, as it reads now: put it in place of what is shown of it, without a sound and with these
    /// answers. Nothing where no reading came since.
    pub left: Option<Ring>,
    /// When to call again, unless a reading comes before.
    pub again_at: Option<Moment>,
    /// The newest reading with the time it was read, for the notification that stays: that stays true until it is shown anew. Nothing
    /// where there is none.
    pub standing: Option<String>,
    /// When to make another step, whatever [`AlertStep::again_at`] says, because what devices nearby sent is not in the log yet and not
    /// known to this one: another program writes to it, or there is no room. Nothing where all is in it.
    pub soon: Option<Moment>,
}

/// What to do about a step that failed.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct StepFailed {
    /// To be kept by the shell as it is.
    pub state: String,
    /// When to make the next step.
    pub again_at: Moment,
    /// Whether to say now, as loud as what rings, why it failed: nothing else would ring. It is said again each half hour, for six hours, until a step is made.
    pub is_said: bool,
}

/// For a step that failed, or a log that could not be opened for one: one rule for every phone. `state` is what the last call returned.
///
/// # Errors
/// [`crate::ApiError::InvalidInput`] for a time that cannot be.
#[uniffi::export]
pub fn step_failed(state: Option<String>, now: Moment) -> ApiResult<StepFailed> {
    let now = CoreMoment::try_from(now).map_err(|error| ApiError::of(&error, Words::of(&wearer::Wearer::default())))?;
    let mut state = read(state.as_deref());
    let ringing::Failed { again_at, is_said } = ringing::failed(&mut state, now);
    Ok(StepFailed { state: write(&state), again_at: again_at.into(), is_said })
}

/// Whether an answer opens the app, as [`RingOffer::opens`] says it, for a phone that is told what was tapped before any log is open.
///
/// # Errors
/// None; it returns a result so that nothing can end the host app.
#[uniffi::export]
pub fn ring_choice_opens(what: RingChoice) -> ApiResult<bool> {
    Ok(night::RingAnswer::from(what).opens())
}

/// Decides on alerts, and shows what they were worth.
#[derive(uniffi::Object)]
pub struct AlertsPart {
    pub(crate) shared: Arc<Shared>,
}

#[uniffi::export]
impl AlertsPart {
    /// Decides whether to ring: call it after every batch of readings, when [`AlertStep::again_at`] is reached, and once a minute
    /// where that costs nothing. `state` is what the last call returned; without it, or where it cannot be read, what lasts is
    /// alerted once more. The prompt is kept as [`crate::CheckPart::show`] keeps it.
    ///
    /// `ahead` is when a notification comes by itself that was set ahead ([`AlertsPart::silence`]), where a phone may not run then. Once
    /// that is past, what it rang is not rung again; it rang of no silence where a late reading fills that time.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for a time that cannot be; those of reading.
    #[uniffi::method(default(ahead = None))]
    pub fn step(&self, state: Option<String>, now: Moment, ahead: Option<Moment>) -> ApiResult<AlertStep> {
        self.shared.guarded(|| {
            let core = |at: Moment| CoreMoment::try_from(at).map_err(|error| self.shared.refused(&error));
            let (at, ahead) = (core(now)?, ahead.map(core).transpose()?);
            self.shared.keep_what_waits();
            let mut state = read(state.as_deref());
            // As a prompt does: an alarm waits for nothing.
            let (step, wearer) =
                self.shared.ask(|log| Ok((ringing::step(log, &mut state, at, ahead)?, log.wearer()?)))?;
            let words = Words::of(&wearer);
            let ringing::Step { ring, rang_ahead, over, left, again_at, newest } = step;
            if let Some((rang, then)) = rang_ahead {
                // It was shown, so it is kept where that can be; what it said of when to look again is past.
                drop(
                    work_out(&self.shared, ringing::question(then, rang.at_night).into())
                        .map(|one| one.kept(&self.shared)),
                );
            }
            Ok(AlertStep {
                ring: ring.map(|ring| self.ring(ring, at, words)),
                over,
                left: left.and_then(|rang| self.left(rang, at, words)),
                state: write(&state),
                again_at: again_at.map(Into::into),
                standing: newest.map(|reading| words.reading_at(&reading)),
                soon: (self.shared.unkept() > 0).then(|| ringing::soon(at).into()),
            })
        })
    }

    /// Keeps an answer that was given on a notification without opening the app. `rang_at` is [`Ring::at`], or when a notification came that
    /// was set ahead. One that opens the app keeps nothing; one to a ring that is long past is not noted as of now.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for a time that cannot be; those of writing.
    pub fn answered(
        &self,
        what: RingChoice,
        state: Option<String>,
        rang_at: Moment,
        now: Moment,
    ) -> ApiResult<RingAnswered> {
        self.shared.change(|log| {
            let (mut state, rang_at) = (read(state.as_deref()), rang_at.try_into()?);
            let is_of_now = night::note_ring_answer(log, &mut state, what.into(), rang_at, now.try_into()?)?;
            let late = if is_of_now { None } else { Some(Words::of(&log.wearer()?).late_answer(rang_at)) };
            Ok(RingAnswered { state: write(&state), late })
        })
    }

    /// What a notification says that is set ahead for the case that no reading comes until then: by [`AlertStep::again_at`]. Nothing is
    /// kept as shown, and [`crate::EbbsteadCompanion::due`] stays as it was.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for a time that cannot be; those of reading.
    pub fn silence(&self, at: Moment) -> ApiResult<Ring> {
        let at = CoreMoment::try_from(at).map_err(|error| self.shared.refused(&error))?;
        let ring = self.shared.ask(|log| Ok(alerts::ring_of_silence(at, &log.wearer()?)))?;
        let worked = work_out(&self.shared, ringing::question(at, ring.at_night).into());
        Ok(Self::rings(alerts::Rang { at, ring }, worked.ok(), self.shared.words()))
    }

    /// Every answer that a notification can have, for a phone that registers them before the first.
    ///
    /// # Errors
    /// Those of reading.
    pub fn every_answer(&self) -> ApiResult<Vec<RingOffer>> {
        self.shared.with(|log| {
            let words = Words::of(&log.wearer()?);
            Ok(RingOffer::all(night::RingAnswer::ALL, words))
        })
    }

    /// Every set of answers that a notification can have, for a phone that registers them before the first.
    ///
    /// # Errors
    /// None; it returns a result so that nothing can end the host app.
    pub fn answer_sets(&self) -> ApiResult<Vec<Vec<RingChoice>>> {
        Ok(night::ring_answer_sets().into_iter().map(|set| set.into_iter().map(Into::into).collect()).collect())
    }

    /// Whether the phone lets alerts ring: tell it at the start and whenever the app comes to the front. While it does not, the screen with
    /// the prompt says so ([`crate::PromptScreens`]).
    ///
    /// # Errors
    /// None; it returns a result so that nothing can end the host app.
    pub fn set_can_ring(&self, can_ring: bool) -> ApiResult<()> {
        self.shared.set_can_ring(can_ring);
        Ok(())
    }

    /// Puts off every alert but the floor's, 5 to 120 minutes; what lasts then is alerted again. Returns the state to keep.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for another length or a time that cannot be.
    pub fn snooze(&self, state: Option<String>, minutes: f64, now: Moment) -> ApiResult<String> {
        self.shared.with(|_| {
            let mut state = read(state.as_deref());
            state.snooze(now.try_into()?, minutes)?;
            Ok(write(&state))
        })
    }

    /// Keeps a plan as the wearer's own; without one, their lines are followed again.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for a plan that cannot be followed; those of writing.
    pub fn keep_plan(&self, plan: Option<AlertPlan>, now: Moment) -> ApiResult<()> {
        self.shared.write(|log| {
            let alert_plan = plan.map(Plan::try_from).transpose()?;
            let wearer = wearer::Wearer { alert_plan, ..log.wearer()? };
            log.set_wearer(&wearer, now.try_into()?)
        })?;
        self.shared.notify(|watcher| watcher.settings_changed());
        Ok(())
    }

    /// The wearer's own plan; where none is kept, the one that follows from their lines.
    ///
    /// # Errors
    /// Those of reading.
    pub fn own_plan(&self) -> ApiResult<AlertPlan> {
        self.shared.with(|log| Ok(Plan::of(&log.wearer()?).into()))
    }
}

impl AlertsPart {
    /// A ring waits for no prompt: where that cannot be worked out, it rings without.
    fn ring(&self, ring: alerts::Ring, now: CoreMoment, words: Words) -> Ring {
        let worked = work_out_shown(&self.shared, ringing::question(now, ring.at_night).into());
        Self::rings(alerts::Rang { at: now, ring }, worked.ok(), words)
    }

    /// Nobody may be looking, so it is not kept as shown.
    fn left(&self, rang: alerts::Rang, now: CoreMoment, words: Words) -> Option<Ring> {
        let worked = work_out(&self.shared, ringing::question(now, false).into()).ok()?;
        let notice = Notice::left(rang.at, (&worked.prompt, &worked.said), words);
        Some(Self::shown(rang, notice, Some(worked), words))
    }

    fn rings(rang: alerts::Rang, worked: Option<Worked>, words: Words) -> Ring {
        let notice = Notice::of(rang.ring.of, worked.as_ref().map(|worked| (&worked.prompt, &worked.said)), words);
        Self::shown(rang, notice, worked, words)
    }

    fn shown(rang: alerts::Rang, notice: Notice, worked: Option<Worked>, words: Words) -> Ring {
        let alerts::Rang { at, ring: alerts::Ring { of, how, again, until, .. } } = rang;
        let Notice { title, text, answers, left } = notice;
        Ring {
            at: at.into(),
            of: of.into(),
            how: how.into(),
            again,
            until: until.into(),
            title,
            text,
            answers: RingOffer::all(answers, words),
            left: RingOffer::all(left, words),
            answer: worked.map(Worked::answer),
        }
    }
}

pub(crate) fn read(state: Option<&str>) -> State {
    state.and_then(|text| serde_json::from_str(text).ok()).unwrap_or_default()
}

fn write(state: &State) -> String {
    // Moments, and nothing else: that cannot fail, and an empty state only rings once more.
    serde_json::to_string(state).unwrap_or_default()
}
