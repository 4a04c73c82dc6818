//! A check, what the prompt answers: one question, one answer, with everything a screen shows of it.

use std::sync::Arc;

use ebbstead_core::log::{Entry, Shown};
use ebbstead_core::snapshot::Snapshot;
use ebbstead_core::units::Glucose;
use ebbstead_core::words::{Newest, Words};
use ebbstead_core::{Error, Result, chart as core_chart, glance, prompt as core_prompt, prompting as core_prompting};

use crate::chart::Chart;
use crate::companion::Shared;
use crate::error::ApiResult;
use crate::mirror::mirrored_record;
use crate::night::NightOffer;
use crate::prompt::{Occasion, Prompt, Verdict};
use crate::records::{Beyond, Moment, Symptom};
use crate::watcher::Due;

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct Question {
    /// The caller's clock.
    pub now: Moment,
    /// Why it is asked.
    pub occasion: Occasion,
    /// What the wearer feels now, if asked.
    pub feels: Option<Symptom>,
    /// What a meter shows now, in mg/dL, if one was used. Asking does not keep it: record it as well.
    pub meter_mg_dl: Option<f64>,
    /// Whether that was too low or too high for the meter to measure; the amount is then the limit.
    #[uniffi(default = None)]
    pub meter_beyond: Option<Beyond>,
}

impl From<core_prompt::Question> for Question {
    fn from(core: core_prompt::Question) -> Self {
        let core_prompt::Question { now, occasion, feels, meter } = core;
        Self {
            now: now.into(),
            occasion: occasion.into(),
            feels: feels.map(Into::into),
            meter_mg_dl: meter.map(|shown| shown.glucose.mg_dl()),
            meter_beyond: meter.and_then(|shown| shown.beyond).map(Into::into),
        }
    }
}

impl TryFrom<Question> for core_prompt::Question {
    type Error = Error;
    fn try_from(here: Question) -> Result<Self> {
        let Question { now, occasion, feels, meter_mg_dl, meter_beyond } = here;
        let shown = |mg_dl: f64| -> Result<Shown> {
            Ok(Shown { glucose: Glucose::from_mg_dl(mg_dl)?, beyond: meter_beyond.map(Into::into) })
        };
        Ok(Self {
            now: now.try_into()?,
            occasion: occasion.into(),
            feels: feels.map(Into::into),
            meter: meter_mg_dl.map(shown).transpose()?,
        })
    }
}

mirrored_record! {
    /// A prompt in words, in the wearer's language and unit. Show it in this order.
    Said = ebbstead_core::prompting::Said {
        /// What to do, in one to three words.
        verdict: String,
        /// What it is about.
        matter: String,
        /// What to do and why, in one sentence; it stands alone, as in a notification.
        sentence: String,
        /// What to do if no meter is at hand, where a check is asked for.
        without_meter: Option<String>,
        /// When to look again, where the sentence does not say it itself.
        look_again: Option<String>,
        /// The newest reading with its age, or nothing where there is none.
        reading: Option<String>,
        /// The same by itself, without its age.
        amount: Option<String>,
        /// Its age.
        age: Option<String>,
        /// How fast glucose moves, in numbers and plain words.
        rate: Option<String>,
        /// The name over the reasons.
        why: String,
        /// Why, the weightiest first.
        reasons: Vec<String>,
        /// The name over what would change it.
        would_change_name: String,
        /// What would change it.
        would_change: Vec<String>,
        /// The name over the cautions.
        careful: String,
        /// The cautions that apply.
        cautions: Vec<String>,
    }
}

/// The answer to a question.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct Answer {
    /// The prompt, in codes and numbers.
    pub prompt: Prompt,
    /// The prompt, in words.
    pub said: Said,
    /// What to draw, and the same in words.
    pub chart: Chart,
    /// What one can answer to it, the one it asks for first: offer these and no other after an alarm.
    pub offers: Vec<NightOffer>,
}

/// What a widget shows from a time on. Give it the word, the verdict's shape, then either the reading or, without one, the sentence.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct WidgetGlance {
    /// From when on.
    pub from: Moment,
    /// What to do; its weight follows from it.
    pub verdict: Verdict,
    /// What to do, in one to three words.
    pub word: String,
    /// What to do and why, in one sentence.
    pub sentence: String,
    /// The newest reading; nothing where there is none, or it is too old to act on.
    pub amount: Option<String>,
    /// Its age, and how fast it moves: nothing without an amount.
    pub accessory: Vec<String>,
    /// When it was read, on the wearer's clock, for a widget that the phone may leave standing.
    pub clock: Option<String>,
}

impl From<glance::Glance> for WidgetGlance {
    fn from(core: glance::Glance) -> Self {
        let glance::Glance { from, verdict, word, sentence, newest } = core;
        let (amount, accessory, clock) = match newest {
            Some(Newest { amount, age, rate, clock }) => (Some(amount), [Some(age), rate], Some(clock)),
            None => (None, [None, None], None),
        };
        let accessory = accessory.into_iter().flatten().collect();
        Self { from: from.into(), verdict: verdict.into(), word, sentence, amount, accessory, clock }
    }
}

/// Answers questions.
#[derive(uniffi::Object)]
pub struct CheckPart {
    pub(crate) shared: Arc<Shared>,
}

#[uniffi::export]
impl CheckPart {
    /// Answers a question from what the log holds up to its moment. Writes nothing. From then on
    /// [`crate::EbbsteadCompanion::due`] returns when to look again.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for a time or an amount that cannot be; `Closed`, `Busy`, `Damaged`, `Failed`.
    pub fn ask(&self, question: Question) -> ApiResult<Answer> {
        let worked = work_out(&self.shared, question)?;
        self.shared.set_due(worked.due);
        Ok(worked.answer())
    }

    /// As [`CheckPart::ask`], for an answer that somebody is about to read: the prompt is kept, so that
    /// the outcomes can compare it with what came after. Kept once while it stays the same, however often a screen
    /// asks. Where it cannot be kept, it is answered all the same.
    ///
    /// # Errors
    /// As [`CheckPart::ask`].
    pub fn show(&self, question: Question) -> ApiResult<Answer> {
        work_out_shown(&self.shared, question).map(Worked::answer)
    }

    /// What a widget shows from now on for so many minutes, or until the newest reading is too old to act on. The last holds until a
    /// widget is drawn anew, so it has no amount. Nothing is kept as shown, and [`crate::EbbsteadCompanion::due`] stays as it was.
    ///
    /// # Errors
    /// As [`CheckPart::ask`].
    pub fn glances(&self, now: Moment, minutes: u16) -> ApiResult<Vec<WidgetGlance>> {
        let glances = self.shared.ask(|log| glance::ahead(log, now.try_into()?, minutes))?;
        Ok(glances.into_iter().map(Into::into).collect())
    }
}

/// What was worked out, before it is converted.
pub(crate) struct Worked {
    pub prompt: core_prompt::Prompt,
    pub said: core_prompting::Said,
    pub chart: core_chart::Chart,
    words: Words,
    entry: Option<Entry>,
    due: Option<Due>,
}

impl Worked {
    pub(crate) fn answer(self) -> Answer {
        let offers = NightOffer::fitting(&self.prompt, self.words);
        Answer { prompt: self.prompt.into(), said: self.said.into(), chart: self.chart.into(), offers }
    }

    /// Keeps the prompt: it was shown.
    pub(crate) fn kept(mut self, shared: &Shared) -> Self {
        if let Some(entry) = self.entry.take() {
            // The answer neither waits for a log that somebody else writes nor fails with one that cannot be written.
            let kept = shared.guarded(|| {
                shared.keep_soon(entry);
                Ok(())
            });
            drop(kept);
        }
        self
    }
}

/// Works an answer out that somebody is about to read: the prompt is kept, and it is looked again when it says.
pub(crate) fn work_out_shown(shared: &Shared, question: Question) -> ApiResult<Worked> {
    let worked = work_out(shared, question)?.kept(shared);
    shared.set_due(worked.due);
    Ok(worked)
}

/// The answer, what to keep of it, and when to look again.
pub(crate) fn work_out(shared: &Shared, question: Question) -> ApiResult<Worked> {
    shared.guarded(|| {
        let question: core_prompt::Question = question.try_into().map_err(|error| shared.refused(&error))?;
        let now = question.now;
        let known = shared.ask(|log| Snapshot::at(log, now))?;
        let prompt = known.answer(&question);
        let chart = known.chart(&prompt);
        let entry = known.to_keep(&question, &prompt).map_err(|error| shared.refused(&error))?;
        let words = Words::of(&known.wearer);
        let said = core_prompting::Said::of(&prompt, shared.damage(), words);
        let due = prompt
            .look_again_minutes
            .map(|minutes| Due { at: now.plus_minutes(f64::from(minutes)).into(), occasion: question.occasion.into() });
        Ok(Worked { prompt, said, chart, words, entry, due })
    })
}
