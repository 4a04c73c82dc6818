//! What was wrong with a sensor: gaps, jumps, pressed spells, and what was noted.

use serde::Serialize;

use super::sessions::{LONGEST_WARM_UP_HOURS, Session};
use crate::engine::FASTER_THAN_GLUCOSE;
use crate::log::{DeviceFault, History, Reading, Text};
use crate::review::Period;
use crate::review::metrics::held::LONGEST_SPACING_MINUTES;
use crate::review::metrics::{held, total_minutes};
use crate::time::Moment;

/// One thing seen.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "code")]
pub enum Fault {
    /// No readings for over 20 minutes.
    Gap {
        /// The last reading before.
        from: Moment,
        /// The first reading after.
        until: Moment,
    },
    /// No readings for over 20 minutes, and none since.
    Silent {
        /// The last reading; the insertion, where a sensor gave none.
        from: Moment,
        /// Now, or when the sensor was noted as ended.
        until: Moment,
    },
    /// Two readings further apart than glucose moves.
    Jump {
        /// When the second was read.
        at: Moment,
        /// The first, in mg/dL.
        from_mg_dl: f64,
        /// The second, in mg/dL.
        to_mg_dl: f64,
        /// The time between them, in minutes.
        minutes: f64,
    },
    /// Pressed, as found or as said.
    Compression {
        /// From.
        from: Moment,
        /// Until.
        until: Moment,
    },
    /// Noted by the wearer or reported by the device.
    Noted {
        /// When it was noted.
        at: Moment,
        /// What was noted.
        what: Noted,
    },
}

/// What was noted as wrong with a sensor.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case", tag = "code")]
pub enum Noted {
    /// In the wearer's own words.
    Seen {
        /// Those words.
        text: Text,
    },
    /// As its device reported.
    Reported {
        /// The code of it.
        fault: DeviceFault,
    },
}

impl Fault {
    /// When it was or began.
    #[must_use]
    pub const fn at(&self) -> Moment {
        match self {
            Self::Gap { from, .. } | Self::Silent { from, .. } | Self::Compression { from, .. } => *from,
            Self::Jump { at, .. } | Self::Noted { at, .. } => *at,
        }
    }
}

/// A jump is faster than [`FASTER_THAN_GLUCOSE`] and at least this far, in mg/dL: readings a minute apart jitter by some mg/dL.
const JUMP_MG_DL: f64 = 20.0;

/// Everything seen during a session up to `now`, by time.
#[must_use]
pub fn faults(history: &History, session: &Session, now: Moment) -> Vec<Fault> {
    let until = session.until.unwrap_or(now);
    let inside = |at: Moment| session.from <= at && at <= until;
    let mut all: Vec<Fault> =
        session.faults.iter().map(|(at, what)| Fault::Noted { at: *at, what: what.clone() }).collect();
    let compression = history.compression_lows.iter().filter(|spell| inside(spell.from));
    all.extend(compression.map(|spell| Fault::Compression { from: spell.from, until: spell.until }));
    let readings = readings_of(history, session, now);
    for pair in readings.windows(2) {
        let minutes = pair[1].at.minutes_since(pair[0].at);
        let (from_mg_dl, to_mg_dl) = (pair[0].glucose.mg_dl(), pair[1].glucose.mg_dl());
        let moved = (to_mg_dl - from_mg_dl).abs();
        if minutes > LONGEST_SPACING_MINUTES {
            all.push(Fault::Gap { from: pair[0].at, until: pair[1].at });
        } else if moved >= JUMP_MG_DL && moved > FASTER_THAN_GLUCOSE * minutes {
            all.push(Fault::Jump { at: pair[1].at, from_mg_dl, to_mg_dl, minutes });
        }
    }
    all.extend(silent(readings, session, until));
    all.sort_by_key(Fault::at);
    all
}

/// What a sensor that is worn, or was noted as ended, ends with, where it gave nothing any more. One that the next one followed may have
/// been off by then.
fn silent(readings: &[Reading], session: &Session, until: Moment) -> Option<Fault> {
    let spoken_until = readings.last().map(|last| last.at);
    // Nothing comes before the warm-up is over.
    let due = spoken_until.map_or(session.from.plus_minutes(60.0 * LONGEST_WARM_UP_HOURS), |last| {
        last.plus_minutes(LONGEST_SPACING_MINUTES)
    });
    let known = session.until.is_none() || session.end_noted;
    (known && until.is_after(due)).then(|| Fault::Silent { from: spoken_until.unwrap_or(session.from), until })
}

/// The readings of one sensor up to `now`.
fn readings_of<'a>(history: &'a History, session: &Session, now: Moment) -> &'a [Reading] {
    let until = session.until.unwrap_or(now);
    let beside = session.sensor.as_ref().and_then(|name| history.concurrent.iter().find(|one| one.source == *name));
    let followed = history.speaks_of_followed(session.sensor.as_ref(), until);
    let readings = beside.filter(|_| !followed).map_or(&history.readings, |one| &one.readings);
    let begin = readings.partition_point(|one| one.at.is_before(session.from));
    let end = readings.partition_point(|one| !one.at.is_after(until));
    readings.get(begin..end).unwrap_or_default()
}

/// How many readings a sensor gave up to `now`, and the share of the time since its first one that they cover, 0 to 1; nothing where it
/// gave none.
#[must_use]
pub fn received(history: &History, session: &Session, now: Moment) -> Option<(usize, f64)> {
    let readings = readings_of(history, session, now);
    let period = Period::new(readings.first()?.at, session.until.unwrap_or(now)).ok()?;
    let minutes = total_minutes(&held(readings, period, &[]));
    Some((readings.len(), (minutes / (1440.0 * period.days())).clamp(0.0, 1.0)))
}

/// As many as fit, by time: what was noted before what was found, since nothing else reports it, then the newest.
#[must_use]
pub fn most_relevant(faults: &[Fault], most: usize) -> Vec<&Fault> {
    let mut shown: Vec<&Fault> = faults.iter().collect();
    shown.sort_by_key(|fault| (!matches!(fault, Fault::Noted { .. }), std::cmp::Reverse(fault.at())));
    shown.truncate(most);
    shown.sort_by_key(|fault| fault.at());
    shown
}
