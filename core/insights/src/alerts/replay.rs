//! The alerts a plan would have given over a record.

use serde::Serialize;

use super::ring::{AlertCause, Ring, State, rate_at};
use crate::log::{History, Purpose, SensorEvent, Shown};
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
    let answers = answers(history);
    let alert = |ring: Ring, at, reading| {
        let ring = if history.is_asleep(at) { ring.for_sleeper() } else { ring };
        Alert { at, of: ring.of, reading, at_night: ring.at_night, again: ring.again }
    };
    for (place, reading) in history.readings.iter().enumerate() {
        if reading.at < period.from() || reading.at >= period.until() {
            continue;
        }
        while let Some(due) = state.due(plan, wearer.night).filter(|due| due.is_before(reading.at)) {
            let Some(ring) = state.silence(due, plan, wearer.night) else { break };
            state.rang(Some(ring), due);
            alerts.extend(last.map(|last| alert(ring, due, last)));
        }
        let noted = answers.partition_point(|answer| !answer.is_after(reading.at));
        if let Some((rang, answer)) = state.unanswered().zip(noted.checked_sub(1).and_then(|place| answers.get(place)))
            && answer.is_after(rang.at)
        {
            state.answered(*answer);
        }
        last = Some(reading.shown());
        let ring = state.receive(reading, rate_at(&history.readings, place, plan), reading.at, plan, wearer.night);
        state.rang(ring, reading.at);
        alerts.extend(ring.map(|ring| alert(ring, reading.at, reading.shown())));
    }
    alerts
}

/// When something was noted that answers what rang, by time.
fn answers(history: &History) -> Vec<Moment> {
    let rescue = history.carbohydrate.iter().filter(|one| one.purpose == Purpose::Rescue);
    let rolled = history.sensor.iter().filter(|one| one.event == SensorEvent::RolledOff);
    let felt = history.symptoms.iter().map(|one| one.at);
    let checked = history.meter_checks.iter().map(|one| one.at);
    let mut answers: Vec<Moment> =
        rescue.map(|one| one.at).chain(rolled.map(|one| one.at)).chain(felt).chain(checked).collect();
    answers.sort_unstable_by_key(|at| at.unix_ms());
    answers
}
