//! The night: one question, three answers.

use std::sync::Arc;

use ebbstead_core::log::{Entry as CoreEntry, Purpose, SensorEvent, Shown, Source, What};
use ebbstead_core::store::Log;
use ebbstead_core::time::{DAY_MS, Moment as CoreMoment};
use ebbstead_core::units::Glucose;
use ebbstead_core::{Error, Result};

use crate::check::{Answer, Question, answer_shown};
use crate::companion::Shared;
use crate::error::ApiResult;
use crate::log::note;
use crate::prompt::Occasion;
use crate::records::{Beyond, Entry, Moment, Symptom};
use crate::watcher::Due;

/// The first step against a low, in grams, where the wearer's log tells none of their own.
///
/// # Source
/// Diabetes Canada clinical practice guidelines, chapter 14 (hypoglycemia): 15 g; ADA Standards of Care, glycemic goals:
/// 15 to 20 g.
const FIRST_STEP_G: f64 = 15.0;
/// How far back the wearer's own step is looked for, in milliseconds.
const OWN_STEP_MS: i64 = 90 * DAY_MS;
/// The same answer within this time is one answer: half asleep, one taps twice.
const TAPPED_TWICE_MS: i64 = 60_000;
/// Readings of a sensor that was pressed come back within minutes.
const LOOK_AFTER_ROLLING_MINUTES: f64 = 5.0;

/// What one did after having been woken.
#[derive(Clone, Copy, Debug, PartialEq, uniffi::Enum, serde::Serialize)]
pub enum NightAnswer {
    /// Checked with a meter.
    Checked {
        /// What it showed, in mg/dL; the limit, where it was too low or too high to measure.
        mg_dl: f64,
        /// Too low or too high to measure.
        #[uniffi(default = None)]
        beyond: Option<Beyond>,
    },
    /// Took rescue carbohydrate.
    Treated {
        /// Grams. Where none are given: as much as the wearer noted the last time within 90 days, else the published first
        /// step of 15 g. The entry returned says how much was noted, and can be put right.
        grams: Option<f64>,
    },
    /// No longer lies on the sensor; look again in five minutes.
    RolledOver,
}

/// What became of an answer.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct NightDone {
    /// What was kept; the earlier one, if the same was answered less than a minute before.
    pub kept: Entry,
    /// What to do now.
    pub answer: Answer,
}

/// Works at night.
#[derive(uniffi::Object)]
pub struct NightPart {
    pub(crate) shared: Arc<Shared>,
}

#[uniffi::export]
impl NightPart {
    /// Answers whoever was woken, and keeps what was told as [`crate::CheckPart::show`] does.
    ///
    /// # Errors
    /// As [`crate::CheckPart::ask`].
    pub fn woken(&self, now: Moment, feels: Option<Symptom>) -> ApiResult<Answer> {
        answer_shown(
            &self.shared,
            Question { now, occasion: Occasion::Wake, feels, meter_mg_dl: None, meter_beyond: None },
        )
    }

    /// Keeps what was done, and answers again with it.
    ///
    /// # Errors
    /// As [`crate::LogPart::record`]; nothing is kept then.
    pub fn done(&self, what: NightAnswer, now: Moment) -> ApiResult<NightDone> {
        let words = self.shared.words();
        let at: CoreMoment = now.try_into().map_err(|error| self.shared.refused(&error))?;
        let kept = self.shared.change(|log| {
            let what = entry(log, what, at)?;
            match said_just_now(log, &what, at)? {
                Some(entry) => Ok(entry),
                None => note(log, what, at, at),
            }
        })?;
        let answer = self.woken(now, None)?;
        if matches!(what, NightAnswer::RolledOver) {
            let at = at.plus_minutes(LOOK_AFTER_ROLLING_MINUTES).into();
            self.shared.set_due(Some(Due { at, occasion: Occasion::Wake }));
        }
        Ok(NightDone { kept: Entry::of(kept, words), answer })
    }
}

fn entry(log: &Log, what: NightAnswer, now: CoreMoment) -> Result<What> {
    Ok(match what {
        NightAnswer::Checked { mg_dl, beyond } => {
            What::checked_by_meter(Shown { glucose: Glucose::from_mg_dl(mg_dl)?, beyond: beyond.map(Into::into) })
        }
        NightAnswer::Treated { grams: Some(grams) } => What::Carbohydrate { grams, purpose: Purpose::Rescue },
        NightAnswer::Treated { grams: None } => {
            let history = log.history(now.plus_ms(-OWN_STEP_MS), now)?;
            let own = history.carbohydrate.iter().rfind(|one| one.purpose == Purpose::Rescue).map(|one| one.grams);
            What::Carbohydrate { grams: own.unwrap_or(FIRST_STEP_G), purpose: Purpose::Rescue }
        }
        NightAnswer::RolledOver => What::Sensor(SensorEvent::RolledOff),
    })
}

fn said_just_now(log: &Log, what: &What, now: CoreMoment) -> Result<Option<CoreEntry>, Error> {
    let recent = log.holding(now.plus_ms(-TAPPED_TWICE_MS), now)?;
    Ok(recent.into_iter().rfind(|entry| entry.what == *what && entry.source == Source::by_hand()))
}
