//! The same question where it is asked ahead: before sleep, before a drive, before moving.
//!
//! All three read what a [`Prompt`] says of now and the chances of hours ahead ([`chance`]), and lay the published rules beside
//! them. None names an amount of insulin, and none gives a chance where there are no readings to make it of: what is missing is
//! said instead ([`Missing`]).

pub mod activity;
pub mod chance;
pub mod driving;
pub mod nights;
pub mod sleep;

use serde::Serialize;

use self::chance::ChanceAhead;
use crate::body::effects::insulin_beyond_meals;
use crate::error::{Error, Quantity, Result, Unit};
use crate::log::{Felt, History, MeterCheck, Reading, Shown, Symptom};
use crate::prompt::{Caution, Prompt, Reason, Sentence, Verdict};
use crate::time::Moment;
use crate::wearer::Wearer;

/// No reading for longer than this says nothing of what lies ahead, in minutes (assumption).
pub(crate) const OLDEST_MINUTES: f64 = 60.0;
/// The longest time that is asked about, in minutes.
pub(crate) const LONGEST_MINUTES: f64 = 1440.0;
/// A reading that is newer than a meter check by more than this leads over it, in minutes (assumption: three readings).
const READING_LEADS_MINUTES: f64 = 15.0;
/// Falling at least this fast is said, in mg/dL/min (a change of 15 mg/dL in half an hour).
const FALLING_SAID: f64 = -0.5;
/// Insulin that may still lower by less than this, beyond what was eaten for it, is next to none, in mg/dL (assumption: a sensor's unrest).
const SOME_INSULIN_MG_DL: f64 = 15.0;
/// Recent lows are those of this long, in minutes.
///
/// Source: Riddell et al., Lancet Diabetes Endocrinol 2017;5:377-390: a low of the 24 hours before blunts the defence against the next.
pub(crate) const RECENT_MINUTES: f64 = 1440.0;

/// What all three are judged from.
#[derive(Clone, Copy, Debug)]
pub struct Facts<'a> {
    /// The record up to the moment asked at; a week of it is looked at.
    pub history: &'a History,
    /// The wearer's settings.
    pub wearer: &'a Wearer,
    /// What is to do now.
    pub prompt: &'a Prompt,
    /// Chances ahead; nothing where no reading is fresh.
    pub ahead: Option<&'a ChanceAhead>,
}

/// The newest measurement.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Measured {
    /// What it was.
    #[serde(flatten)]
    pub shown: Shown,
    /// Its age in minutes.
    pub age_minutes: f64,
    /// A meter's, not a sensor's.
    pub by_meter: bool,
}

/// What is missing for a chance, as a code.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "code")]
pub enum Missing {
    /// There is no reading at all.
    NoReadings,
    /// The newest reading is too old to say anything of what lies ahead.
    OldReading {
        /// Its age in minutes.
        minutes: f64,
    },
    /// Chances beyond an hour need half a day of readings.
    ShortRecord,
    /// Glucose is low, or a check comes first: ask again afterwards.
    NowFirst,
    /// The time is further ahead than chances are given for.
    TooFarAhead {
        /// The furthest, in minutes.
        most_minutes: f64,
    },
    /// More insulin was noted than was eaten for, which the chances do not hold.
    InsulinToCome,
}

/// What has to be done now, before anything ahead is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct First {
    /// What has to be done.
    pub what: NowFirst,
    /// The sentence that the prompt leads with.
    pub sentence: Sentence,
}

/// What comes first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum NowFirst {
    /// Get help.
    Help,
    /// Treat.
    Treat,
    /// Check with a meter.
    Check,
    /// Hold, for what was taken or found needs looking after before long.
    Hold,
}

impl Facts<'_> {
    /// The moment asked at.
    #[must_use]
    pub const fn now(&self) -> Moment {
        self.prompt.at
    }

    /// What comes before everything else.
    #[must_use]
    pub const fn first(&self) -> Option<First> {
        let what = match self.prompt.verdict {
            Verdict::Help => NowFirst::Help,
            Verdict::Treat => NowFirst::Treat,
            Verdict::Check => NowFirst::Check,
            Verdict::Hold | Verdict::Clear => return None,
        };
        Some(First { what, sentence: self.prompt.sentence })
    }

    /// The same before sleep, where a hold comes first too: nobody sleeps on rescue carbohydrate that has not worked yet, on a meter check near
    /// the line, on ketones, or on insulin that takes glucose low.
    #[must_use]
    pub(crate) fn first_before_sleep(&self) -> Option<First> {
        self.unfinished().or_else(|| {
            self.first_or_hold(match self.prompt.sentence {
                Sentence::HoldRescueWorking | Sentence::HoldMeterNear => true,
                // What is counted for alcohol there, which lowers late, is no reason to stay up.
                Sentence::HoldInsulinToCome => self.insulin_reaches_low(LONGEST_MINUTES),
                _ => self.sick_day_plan(),
            })
        })
    }

    /// The same before a drive, where ketones come first too.
    #[must_use]
    pub(crate) fn first_before_driving(&self) -> Option<First> {
        self.unfinished().or_else(|| self.first_or_hold(self.sick_day_plan()))
    }

    fn first_or_hold(&self, waits: bool) -> Option<First> {
        let Prompt { verdict, sentence, .. } = *self.prompt;
        self.first().or_else(|| (verdict == Verdict::Hold && waits).then_some(First { what: NowFirst::Hold, sentence }))
    }

    /// What a prompt asks about at some looks and not at each, or what a meter check seems to have answered: an amount of insulin that may be
    /// a slip, and ketones in a high that insulin does not explain. Ahead of hours away from both they come first.
    pub(crate) fn unfinished(&self) -> Option<First> {
        let says = |caution| self.prompt.cautions.contains(&caution);
        let sentence = if says(Caution::InsulinRightOrWrong) {
            Sentence::CheckInsulin
        } else if says(Caution::InsulinMayNotGetIn) && says(Caution::KetonesWhenHigh) {
            Sentence::CheckKetones
        } else {
            return None;
        };
        let free = matches!(self.prompt.verdict, Verdict::Hold | Verdict::Check);
        free.then_some(First { what: NowFirst::Check, sentence })
    }

    const fn sick_day_plan(&self) -> bool {
        matches!(self.prompt.sentence, Sentence::SickDayPlan | Sentence::SickDayPlanNow | Sentence::SickDayPlanVomiting)
    }

    /// Whether insulin that was noted, less the carbohydrate that is counted on, takes glucose below the low line within so many minutes,
    /// by the wearer's factors or the assumed ones. Not known without a measurement of the hour.
    #[must_use]
    pub(crate) fn insulin_reaches_low(&self, minutes: f64) -> bool {
        let now = self.now();
        self.measured().is_some_and(|one| {
            let span = (now.plus_minutes(-one.age_minutes), now.plus_minutes(minutes));
            let lowers = insulin_beyond_meals(self.history, self.wearer, now, span);
            lowers >= SOME_INSULIN_MG_DL && self.goes_by(&one) - lowers < self.wearer.low_line.mg_dl()
        })
    }

    /// Whether the wearer said within the last minutes to feel low or worse.
    #[must_use]
    pub fn feels_low(&self) -> bool {
        self.prompt.reasons.iter().any(|reason| matches!(reason, Reason::FeelsLow | Reason::SevereSigns))
    }

    /// Whether signs of a severe low were noted within 24 hours.
    pub(crate) fn had_severe_signs(&self) -> bool {
        let of_a_day = |one: &Felt| (0.0..=RECENT_MINUTES).contains(&self.now().minutes_since(one.at));
        self.history.symptoms.iter().any(|one| one.symptom == Symptom::Severe && of_a_day(one))
    }

    /// The newest measurement of the last hour: a meter's, unless readings are much newer.
    #[must_use]
    pub fn measured(&self) -> Option<Measured> {
        let now = self.now();
        let reading = self.readings(OLDEST_MINUTES).last().map(|one: &Reading| Measured {
            shown: one.shown(),
            age_minutes: now.minutes_since(one.at),
            by_meter: false,
        });
        let of_hour = |one: &&MeterCheck| (0.0..=OLDEST_MINUTES).contains(&now.minutes_since(one.at));
        let meter = self.history.meter_checks.iter().rfind(of_hour).map(|one| Measured {
            shown: one.shown(),
            age_minutes: now.minutes_since(one.at),
            by_meter: true,
        });
        match (meter, reading) {
            (Some(meter), Some(reading)) if meter.age_minutes - reading.age_minutes > READING_LEADS_MINUTES => {
                Some(reading)
            }
            (meter, reading) => meter.or(reading),
        }
    }

    /// What rules go by of a measurement, in mg/dL.
    fn goes_by(&self, one: &Measured) -> f64 {
        self.wearer.goes_by_mg_dl(one.shown)
    }

    /// How fast glucose moves, in mg/dL/min; nothing without a fresh reading.
    pub(crate) fn rate_mg_dl_min(&self) -> Option<f64> {
        self.ahead.and(self.prompt.estimate.as_ref()).map(|estimate| estimate.rate.mg_dl_min())
    }

    /// What is missing for a chance up to so many minutes ahead.
    #[must_use]
    pub fn missing(&self, minutes: f64) -> Option<Missing> {
        let Some(ahead) = self.ahead else {
            let age = |one: &Reading| self.now().minutes_since(one.at);
            let newest = self.history.readings.iter().rfind(|one| age(one) >= 0.0);
            return Some(newest.map_or(Missing::NoReadings, |one| Missing::OldReading { minutes: age(one) }));
        };
        match ahead.by(minutes) {
            Some(_) => None,
            None if ahead.is_near_only() => Some(Missing::ShortRecord),
            None => Some(Missing::TooFarAhead { most_minutes: chance::FURTHEST_MINUTES }),
        }
    }

    /// The readings of the last minutes, the oldest first, without those of a pressed sensor.
    pub fn readings(&self, minutes: f64) -> impl DoubleEndedIterator<Item = &Reading> {
        let now = self.now();
        self.history
            .readings
            .iter()
            .filter(move |one| (0.0..=minutes).contains(&now.minutes_since(one.at)))
            .filter(|one| !self.history.is_compression_low(one.at))
    }

    /// The lowest that was measured in the last 24 hours, in mg/dL.
    #[must_use]
    pub(crate) fn lowest_of_a_day(&self) -> Option<f64> {
        let now = self.now();
        let of_a_day = |one: &&MeterCheck| (0.0..=RECENT_MINUTES).contains(&now.minutes_since(one.at));
        let meter = self.history.meter_checks.iter().filter(of_a_day).map(MeterCheck::shown);
        let shown = self.readings(RECENT_MINUTES).map(Reading::shown).chain(meter);
        shown.map(|one| self.wearer.goes_by_mg_dl(one)).reduce(f64::min)
    }
}

/// Refuses a length that cannot be asked about.
///
/// # Errors
/// [`Error::OutOfRange`] unless it is 1 minute to a day.
pub(crate) fn check_length(what: Quantity, minutes: f64) -> Result<f64> {
    if (1.0..=LONGEST_MINUTES).contains(&minutes) {
        Ok(minutes)
    } else {
        Err(Error::OutOfRange { what, given: minutes, low: 1.0, high: LONGEST_MINUTES, unit: Unit::Minutes })
    }
}
