//! The alerts a plan would have given over a record.

use serde::Serialize;

use super::ring::{AlertCause, Ring, State, rate_at};
use crate::log::{History, Shown};
use crate::review::Period;
use crate::time::Moment;
use crate::wearer::{Plan, Wearer};

/// One alert.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Alert {
    /// When it rang.
    pub at: Moment,
    /// Its cause.
    pub of: AlertCause,
    /// The reading; the last one there was, where the signal was lost.
    #[serde(flatten)]
    pub reading: Shown,
    /// Whether it came in the wearer's night.
    pub at_night: bool,
    /// Whether it says again what lasts.
    pub again: bool,
}

/// Replays a plan over the readings of a period, each known when it was read. Only what was known by then decides. What is
/// silent after the last reading gives no alert: the record ends there.
#[must_use]
pub fn replay(history: &History, wearer: &Wearer, plan: &Plan, period: Period) -> Vec<Alert> {
    let mut alerts = Vec::new();
    let mut state = State::default();
    let mut last: Option<Shown> = None;
    let alert =
        |ring: Ring, at, reading| Alert { at, of: ring.of, reading, at_night: ring.at_night, again: ring.again };
    for (place, reading) in history.readings.iter().enumerate() {
        if reading.at < period.from() || reading.at >= period.until() {
            continue;
        }
        while let Some(due) = state.due(plan, wearer.night).filter(|due| due.is_before(reading.at)) {
            let Some(ring) = state.silence(due, plan, wearer.night) else { break };
            alerts.extend(last.map(|last| alert(ring, due, last)));
        }
        last = Some(reading.shown());
        let rings = state.receive(reading, rate_at(&history.readings, place, plan), reading.at, plan, wearer.night);
        alerts.extend(rings.into_iter().map(|ring| alert(ring, reading.at, reading.shown())));
    }
    alerts
}
