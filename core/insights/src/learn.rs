//! What the core learns of one wearer from their own record, and what it rests on.
//!
//! Run now and then (a phone does it while charging): it goes through the record once with the population's dynamics and once
//! with the wearer's own, keeps whichever forecast better, and with it the forecast's corrections, the scaling of chances, the
//! spells in which the sensor was pressed and how often that was on each site. Nothing is learnt that the record does not show; until it shows enough, the
//! population's values hold.

pub mod nights;
pub mod points;
pub mod reliability;

use serde::{Deserialize, Serialize};

use crate::before::nights::Nights;
use crate::engine::{Engine, Learnt};
use crate::error::Result;
use crate::estimate::adapt::{Adaptation, adapt, covered_days};
use crate::estimate::sites::Sites;
use crate::forecast::calibration::CalibrationBin;
use crate::log::{CompressionLow, Entry, EntryKind, History, Source};
use crate::store::Log;
use crate::time::{DAY_MS, Moment};
use crate::wearer::Wearer;

/// The name under which a store keeps a [`Lesson`].
pub const KEPT_AS: &str = "lesson";
/// The source of entries that the core itself adds.
pub const SOURCE: &str = "ebbstead";
/// The newest days of a record, on which what was fitted on the days before is judged.
const JUDGED_DAYS: f64 = 3.0;
/// Days of record worth going through: older ones are of another sensor and another season.
pub const RECORD_DAYS: f64 = 60.0;

/// What was learnt, and how well it did.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Lesson {
    /// When it was learnt.
    pub at: Moment,
    /// What prompts start from.
    pub learnt: Learnt,
    /// What came of adapting the dynamics.
    pub adaptation: Adaptation,
    /// Mean log score of the 30-minute forecasts with the population's dynamics.
    pub score_population: Option<f64>,
    /// The same with the wearer's own, where there are any. They are kept only where this is the greater.
    pub score_own: Option<f64>,
    /// Forecasts learnt from.
    pub forecasts: u64,
    /// How the 30-minute chances of a low turned out, each shown before its outcome was known.
    pub reliability: [CalibrationBin; 10],
    /// How the chances of nights turned out.
    #[serde(default)]
    pub nights: Nights,
}

/// What going through a log came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Lessons {
    /// What was learnt; it is kept in the log.
    pub lesson: Lesson,
    /// The pressed spells that were newly marked in the log. Retracting one takes it back for good.
    pub marked: Vec<Entry>,
}

/// Goes through the last [`RECORD_DAYS`] of a log: marks the spells in which the sensor was probably pressed, learns from
/// the rest, and keeps what was learnt under [`KEPT_AS`] with what it rests on.
///
/// The days count back from the newest reading, so that an old log can be learnt from too.
///
/// # Errors
/// As [`Log::history`] and [`Log::record_all`]. Spells may then have been marked although nothing was learnt.
pub fn from_log(log: &mut Log, now: Moment) -> Result<Lessons> {
    let wearer = log.wearer()?;
    let newest = log.newest_reading()?.map_or(now, |reading| reading.at.min(now));
    let from = newest.plus_minutes(-RECORD_DAYS * 1440.0);
    let history = log.history(from, now)?.until(now);
    // One that was taken back must not return, though it may now seem to begin a reading earlier.
    let ever = log.entries(from.plus_ms(-DAY_MS), now)?;
    let ever: Vec<CompressionLow> = ever
        .iter()
        .filter_map(|entry| match entry.what {
            EntryKind::CompressionLow { until } => Some(CompressionLow { from: entry.at, until }),
            _ => None,
        })
        .collect();
    // A damaged lesson is replaced.
    let before = for_prompt(log, now).unwrap_or_default();
    let mut marked = compression_lows(&history, &wearer, &before, now)?;
    marked.retain(|entry| !ever.iter().any(|one| overlap(one, entry)));
    let history = if marked.is_empty() {
        history
    } else {
        log.record_all(marked.iter().cloned())?;
        log.history(from, now)?.until(now)
    };
    let lesson = learn(&history, &wearer, now);
    log.learn(KEPT_AS, &lesson, &lesson.evidence(), now)?;
    Ok(Lessons { lesson, marked })
}

fn overlap(one: &CompressionLow, entry: &Entry) -> bool {
    match entry.what {
        EntryKind::CompressionLow { until } => one.from.is_before(until) && entry.at.is_before(one.until),
        _ => false,
    }
}

/// What a prompt at a moment starts from: what a log keeps, unless it was learnt from readings after that moment, which
/// nobody knew then.
///
/// # Errors
/// As [`Log::learned`].
pub fn for_prompt(log: &Log, at: Moment) -> Result<Learnt> {
    Ok(known_at(log, at)?.map(|lesson| lesson.learnt).unwrap_or_default())
}

/// What a log keeps of the wearer's nights, as [`for_prompt`] takes the rest.
///
/// # Errors
/// As [`Log::learned`].
pub fn nights_for(log: &Log, at: Moment) -> Result<Option<Nights>> {
    Ok(known_at(log, at)?.map(|lesson| lesson.nights))
}

/// The lesson kept, unless it knows of readings after a moment.
fn known_at(log: &Log, at: Moment) -> Result<Option<Lesson>> {
    let kept = log.learned::<Lesson>(KEPT_AS)?.map(|kept| kept.what);
    Ok(kept.filter(|lesson| lesson.learnt.until.is_none_or(|until| !until.is_after(at))))
}

impl Lesson {
    /// What it rests on, in plain English, for the log.
    #[must_use]
    pub fn evidence(&self) -> String {
        match &self.adaptation {
            Adaptation::TooLittle { have_days, need_days } => {
                format!("{have_days:.1} days of readings of {need_days:.0} needed; {} forecasts", self.forecasts)
            }
            Adaptation::Adapted { evidence, .. } => format!(
                "{:.1} days, {} readings, {} meter checks; {} forecasts",
                evidence.days, evidence.readings, evidence.meter_checks, self.forecasts
            ),
        }
    }
}

/// Learns from a history up to `now`.
///
/// # Example
/// ```
/// use ebbstead_insights::learn::learn;
/// use ebbstead_log::log::History;
/// use ebbstead_engine::time::Moment;
/// use ebbstead_engine::wearer::Wearer;
///
/// let now = Moment::parse("2026-03-01T12:00:00+01:00")?;
/// let lesson = learn(&History::default(), &Wearer::default(), now);
/// assert!(lesson.learnt.dynamics.is_none());
/// # Ok::<(), ebbstead_log::Error>(())
/// ```
#[must_use]
pub fn learn(history: &History, wearer: &Wearer, now: Moment) -> Lesson {
    // What is fitted on the days before this moment is judged on those after it.
    let newest = history.readings.iter().rfind(|reading| !reading.at.is_after(now));
    let judged_from = newest.map_or(now, |newest| newest.at).plus_minutes(-JUDGED_DAYS * 1440.0);
    let adaptation = match adapt(history, wearer, judged_from) {
        Adaptation::TooLittle { need_days, .. } => Adaptation::TooLittle {
            have_days: covered_days(history, wearer, now).max(0.0),
            need_days: need_days + JUDGED_DAYS,
        },
        adapted @ Adaptation::Adapted { .. } => adapted,
    };
    let run = |learnt: &Learnt| {
        let mut engine = Engine::new(history, wearer, learnt);
        engine.score_from(judged_from);
        engine.replay(now);
        engine.forecaster().clone()
    };
    let population = run(&Learnt::default());
    let own = match &adaptation {
        Adaptation::Adapted { dynamics, .. } => Some(Learnt { dynamics: Some(*dynamics), ..Learnt::default() }),
        Adaptation::TooLittle { .. } => None,
    };
    let own = own.map(|learnt| (learnt.dynamics, run(&learnt)));
    let score_population = population.mean_log_score();
    let score_own = own.as_ref().and_then(|(_, forecaster)| forecaster.mean_log_score());
    let (dynamics, forecaster) = match own {
        Some((dynamics, forecaster)) if score_own > score_population => (dynamics, forecaster),
        _ => (None, population),
    };
    Lesson {
        at: now,
        adaptation,
        score_population,
        score_own,
        forecasts: forecaster.learnt(),
        reliability: *forecaster.calibration().record(),
        nights: nights::nights(history, wearer, now),
        learnt: Learnt {
            dynamics,
            forecaster: Some(forecaster.kept()),
            sites: Some(Sites::of(history, now)),
            until: newest.map(|reading| reading.at),
        },
    }
}

/// The spells in which the sensor was probably pressed, up to `now`, as entries for the log.
///
/// An entry's identity follows from its time and source, so that finding a spell again adds nothing, and one that the wearer
/// retracted stays retracted. Spells already in the history are left out.
///
/// # Errors
/// [`crate::error::Error::Invalid`] where a spell lies in the future of `now`, which a history up to `now` cannot hold.
pub fn compression_lows(history: &History, wearer: &Wearer, learnt: &Learnt, now: Moment) -> Result<Vec<Entry>> {
    let mut engine = Engine::new(history, wearer, learnt);
    engine.replay(now);
    let known = |spell: &CompressionLow| {
        history
            .compression_lows
            .iter()
            .any(|marked| marked.from.is_before(spell.until) && spell.from.is_before(marked.until))
    };
    let source = Source::new(SOURCE)?;
    let entry = |spell: &CompressionLow| {
        Entry::received(spell.from, now, source.clone(), EntryKind::CompressionLow { until: spell.until })
    };
    engine.compression_lows().iter().filter(|spell| !known(spell)).map(entry).collect()
}
