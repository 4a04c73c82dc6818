//! What the core learns of one wearer from their own record, and what it rests on.
//!
//! Run now and then (a phone does it while charging): it goes through the record once with the population's dynamics and once
//! with the wearer's own, keeps whichever forecast better, and with it the forecast's corrections, the scaling of chances and
//! the spells in which the sensor was pressed. Nothing is learnt that the record does not show; until it shows enough, the
//! population's values hold.

use serde::{Deserialize, Serialize};

use crate::error::Result;
use crate::estimate::adapt::{Adaptation, adapt};
use crate::forecast::calibration::Tenth;
use crate::log::{Entry, History, PressedSpell, Source, What};
use crate::time::Moment;
use crate::watch::{Learnt, Watch};
use crate::wearer::Wearer;

/// The name under which a store keeps a [`Lesson`].
pub const KEPT_AS: &str = "lesson";
/// The source of entries that the core itself adds.
pub const SOURCE: &str = "ebbstead";
/// Days of record worth going through: older ones tell of another sensor and another season.
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
    /// How the 30-minute chances of a low turned out, each told before its outcome was known.
    pub reliability: [Tenth; 10],
}

/// Learns from a history up to `now`.
///
/// # Example
/// ```
/// use ebbstead_core::learn::learn;
/// use ebbstead_core::log::History;
/// use ebbstead_core::time::Moment;
/// use ebbstead_core::wearer::Wearer;
///
/// let now = Moment::parse("2026-03-01T12:00:00+01:00")?;
/// let lesson = learn(&History::default(), &Wearer::default(), now);
/// assert!(lesson.learnt.dynamics.is_none());
/// # Ok::<(), ebbstead_core::Error>(())
/// ```
#[must_use]
pub fn learn(history: &History, wearer: &Wearer, now: Moment) -> Lesson {
    let adaptation = adapt(history, wearer, now);
    let run = |learnt: &Learnt| {
        let mut watch = Watch::new(history, wearer, learnt);
        watch.go_through(now);
        watch.outlook().clone()
    };
    let population = run(&Learnt::default());
    let own = match &adaptation {
        Adaptation::Adapted { dynamics, .. } => Some(Learnt { dynamics: Some(*dynamics), outlook: None }),
        Adaptation::TooLittle { .. } => None,
    };
    let own = own.map(|learnt| (learnt.dynamics, run(&learnt)));
    let score_population = population.mean_log_score();
    let score_own = own.as_ref().and_then(|(_, outlook)| outlook.mean_log_score());
    let (dynamics, outlook) = match own {
        Some((dynamics, outlook)) if score_own > score_population => (dynamics, outlook),
        _ => (None, population),
    };
    Lesson {
        at: now,
        adaptation,
        score_population,
        score_own,
        forecasts: outlook.learnt(),
        reliability: *outlook.calibration().record(),
        learnt: Learnt { dynamics, outlook: Some(outlook.kept()) },
    }
}

/// The spells in which the sensor was probably pressed, up to `now`, as entries for the log.
///
/// An entry's identity follows from its time and source, so that finding a spell again adds nothing, and one that the wearer
/// retracted stays retracted. Spells already in the history are left out.
///
/// # Errors
/// [`crate::Error::Invalid`] where a spell lies in the future of `now`, which a history up to `now` cannot hold.
pub fn pressed_spells(history: &History, wearer: &Wearer, learnt: &Learnt, now: Moment) -> Result<Vec<Entry>> {
    let mut watch = Watch::new(history, wearer, learnt);
    watch.go_through(now);
    let known = |spell: &PressedSpell| {
        history.pressed.iter().any(|marked| {
            marked.from.unix_ms() < spell.until.unix_ms() && spell.from.unix_ms() < marked.until.unix_ms()
        })
    };
    let source = Source::new(SOURCE)?;
    let entry = |spell: &PressedSpell| {
        Entry::received(spell.from, now, source.clone(), What::PressedSpell { until: spell.until })
    };
    watch.pressed_spells().iter().filter(|spell| !known(spell)).map(entry).collect()
}
