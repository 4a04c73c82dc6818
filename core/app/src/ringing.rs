//! Whether to ring, of a log: what a shell asks after every batch of readings, and when nothing came.

use crate::alerts::{AlertCause, Rang, Ring, State};
use crate::error::Result;
use crate::log::Reading;
use crate::night::{self, RingAnswer};
use crate::prompt::{Occasion, Prompt, Question};
use crate::prompting::Said;
use crate::sentences::alerts::alert_text;
use crate::store::Log;
use crate::time::{HOUR_MS, MINUTE_MS, Moment};
use crate::wearer::{Plan, Wearer};
use crate::words::Words;

/// How far back readings matter to an alert: the longest delay of a high, and a lost signal's last alert.
const LOOKS_BACK_MS: i64 = 8 * HOUR_MS;
/// A log that is busy is free again within seconds (assumption): what failed is tried again so soon, and what waits to be kept is stored.
const SOON_MS: i64 = 15_000;
/// The failure in a row that is said: what ends by itself mostly ends before (assumption).
const SAID_AT: u32 = 3;

/// What to do after a reading came, or none did.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// What to ring.
    pub ring: Option<Ring>,
    /// What a notification that was set ahead rang meanwhile, and when: it was shown.
    pub rang_ahead: Option<(Ring, Moment)>,
    /// Nothing that rang stands: what is shown of it can go. It was answered, or does not hold any more.
    pub over: bool,
    /// What rang a while ago and was not answered, where a reading came since: it may read otherwise now.
    pub left: Option<Rang>,
    /// When to ask again, unless a reading comes before.
    pub again_at: Option<Moment>,
    /// The newest reading.
    pub newest: Option<Reading>,
}

/// Decides whether to ring. `ahead` is when a notification of silence was to come by itself, where a phone may not run then: once that
/// is past, what it rang is not rung again; it rang of no silence where a late reading fills that time.
///
/// # Errors
/// Those of reading the log; the state is then as it was.
pub fn step(log: &Log, state: &mut State, now: Moment, ahead: Option<Moment>) -> Result<Step> {
    let wearer = log.wearer()?;
    let mut rang_ahead = None;
    let mut after = *state;
    if let Some(rang) = ahead.filter(|rang| !rang.is_after(now)) {
        let mut then = after;
        let rung = then.catch_up(&readings(log, rang)?, rang, &wearer).filter(|ring| ring.of == AlertCause::Lost);
        if let Some(ring) = rung {
            let ring = for_whom(log, ring, rang, &wearer)?;
            then.rang(ring, rang);
            (after, rang_ahead) = (then, Some((ring, rang)));
        }
    }
    let readings = readings(log, now)?;
    let before = after.newest();
    let ring = match after.catch_up(&readings, now, &wearer) {
        Some(ring) => Some(for_whom(log, ring, now, &wearer)?),
        None => None,
    };
    match ring {
        Some(ring) => after.rang(ring, now),
        None => after.drop_what_is_over(),
    }
    if let Some(rang) = after.unanswered()
        && night::is_answered(log, rang, now)?
    {
        after.answered();
    }
    after.made();
    *state = after;
    let unanswered = state.unanswered();
    let left = unanswered.filter(|rang| !night::is_fresh(rang.at, now) && state.newest() != before);
    let again_at = state.due(&Plan::of(&wearer), wearer.night);
    Ok(Step { ring, rang_ahead, over: unanswered.is_none(), left, again_at, newest: readings.last().copied() })
}

/// What to do about a step that failed: nothing else would ring.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Failed {
    /// When to make the next one.
    pub again_at: Moment,
    /// Whether to say now, as loud as what rings, why it failed.
    pub is_said: bool,
}

/// A step failed: when to make the next one, and whether to say so. It is said once, until a step is made.
pub fn failed(state: &mut State, now: Moment) -> Failed {
    let failures = state.fails();
    let after = if failures < SAID_AT { SOON_MS } else { MINUTE_MS };
    Failed { again_at: now.plus_ms(after), is_said: failures == SAID_AT }
}

/// When to make another step where something waits to be kept.
#[must_use]
pub fn soon(now: Moment) -> Moment {
    now.plus_ms(SOON_MS)
}

/// The ring for its wearer: noted sleep counts as the hours of the night do.
fn for_whom(log: &Log, ring: Ring, at: Moment, wearer: &Wearer) -> Result<Ring> {
    Ok(if night::sleeps(log, wearer, at)? { ring.for_sleeper() } else { ring })
}

/// What is asked for a ring: the answer is its text.
#[must_use]
pub const fn question(now: Moment, at_night: bool) -> Question {
    let occasion = if at_night { Occasion::Wake } else { Occasion::Look };
    Question { now, occasion, feels: None, meter: None }
}

/// What a notification says of what rang.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    /// What to do.
    pub title: String,
    /// The sentence, and what was crossed.
    pub text: String,
    /// The answers on it, the one that it asks for first.
    pub answers: Vec<RingAnswer>,
    /// The answers once it has stopped by itself.
    pub left: Vec<RingAnswer>,
}

impl Notice {
    /// Words what rang, with what was answered to [`question`].
    #[must_use]
    pub fn of(rang: AlertCause, prompt: &Prompt, said: &Said, words: Words) -> Self {
        Self {
            title: said.verdict.clone(),
            text: format!("{} {}", said.sentence, alert_text(rang, words)),
            answers: night::ring_answers(rang, &night::offers(prompt)),
            left: night::left_answers().to_vec(),
        }
    }
}

/// The readings that matter to an alert.
fn readings(log: &Log, at: Moment) -> Result<Vec<Reading>> {
    let mut readings = log.history(at.plus_ms(-LOOKS_BACK_MS), at.plus_ms(1))?.readings;
    readings.retain(|one| one.at <= at);
    Ok(readings)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::{Entry, EntryKind, Source};
    use crate::units::Glucose;

    fn at(minutes: f64) -> Moment {
        Moment::parse("2026-03-01T12:00:00+01:00").unwrap().plus_minutes(minutes)
    }

    fn log(readings: &[(f64, f64)]) -> Log {
        let mut log = Log::in_memory(at(0.0)).unwrap();
        for &(minutes, mg_dl) in readings {
            let what = EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(mg_dl).unwrap() };
            log.record(&Entry::new(at(minutes), at(60.0), Source::new("sensor").unwrap(), what).unwrap()).unwrap();
        }
        log
    }

    #[test]
    fn what_a_notification_set_ahead_rang_is_not_rung_again_unless_a_reading_fills_that_time() {
        for late in [false, true] {
            let readings = [(-5.0, 119.0), (0.0, 118.0), (20.0, 117.0)];
            let log = log(if late { &readings } else { &readings[..2] });
            let mut state = State::default();
            assert_eq!(step(&log, &mut state, at(0.0), None).unwrap().again_at, Some(at(30.0)));
            let then = step(&log, &mut state, at(31.0), Some(at(30.0))).unwrap();
            assert_eq!((then.ring, then.rang_ahead.is_some()), (None, !late));
            assert_eq!(then.newest.unwrap().at, at(if late { 20.0 } else { 0.0 }));
        }
        // Not yet there, it rang nothing.
        let (log, mut state) = (log(&[(0.0, 118.0)]), State::default());
        assert_eq!(step(&log, &mut state, at(29.0), Some(at(30.0))).unwrap().rang_ahead, None);
    }

    #[test]
    fn what_rang_stands_until_it_is_answered_or_over() {
        let low = |minutes| (minutes, 66.0);
        let step_at = |log: &Log, state: &mut State, minutes| step(log, state, at(minutes), None).unwrap();
        let (records, mut state) = (log(&[low(0.0)]), State::default());
        let rang = step_at(&records, &mut state, 0.0);
        assert_eq!((rang.ring.map(|ring| ring.of), rang.over, rang.left), (Some(AlertCause::Low), false, None));
        // Nothing answers, and it lasts: later it is said as it reads then.
        let records = log(&[low(0.0), low(10.0), low(20.0)]);
        assert_eq!(step_at(&records, &mut state, 10.0).left, None, "it may still sound");
        let left = step_at(&records, &mut state, 20.0);
        assert_eq!((left.ring, left.over, left.left.map(|rang| rang.ring)), (None, false, rang.ring));
        assert_eq!(step_at(&records, &mut state, 21.0).left, None, "no reading came since");
        // Above the line for a quarter of an hour, it would ring again.
        let records = log(&[low(0.0), low(20.0), (25.0, 75.0), (30.0, 90.0), (35.0, 104.0)]);
        assert!(!step_at(&records, &mut state, 30.0).over);
        assert!(step_at(&records, &mut state, 35.0).over);
    }

    #[test]
    fn a_floor_that_eases_to_a_low_stands_and_a_reading_ends_a_lost_signal() {
        let (records, mut state) = (log(&[(0.0, 50.0), (20.0, 62.0)]), State::default());
        assert_eq!(step(&records, &mut state, at(0.0), None).unwrap().ring.unwrap().of, AlertCause::Floor);
        let eased = step(&records, &mut state, at(20.0), None).unwrap();
        // One low: it rang with the floor.
        assert_eq!((eased.ring.map(|ring| ring.of), eased.over), (None, false));

        let (records, mut state) = (log(&[(0.0, 118.0)]), State::default());
        step(&records, &mut state, at(0.0), None).unwrap();
        assert_eq!(step(&records, &mut state, at(31.0), None).unwrap().ring.unwrap().of, AlertCause::Lost);
        assert!(!step(&records, &mut state, at(32.0), None).unwrap().over);
        let records = log(&[(0.0, 118.0), (33.0, 117.0)]);
        assert!(step(&records, &mut state, at(33.0), None).unwrap().over);
    }

    #[test]
    fn what_is_noted_answers_what_rang() {
        use crate::night::{Done, note};
        let (mut records, mut state) = (log(&[(0.0, 66.0)]), State::default());
        assert!(step(&records, &mut state, at(0.0), None).unwrap().ring.is_some());
        assert!(!step(&records, &mut state, at(1.0), None).unwrap().over);
        note(&mut records, Done::Treated(None), at(2.0)).unwrap();
        assert!(step(&records, &mut state, at(2.0), None).unwrap().over);
    }

    #[test]
    fn what_rings_at_night_is_asked_for_whoever_was_woken() {
        assert_eq!(question(at(0.0), true).occasion, Occasion::Wake);
        assert_eq!(question(at(0.0), false).occasion, Occasion::Look);
    }
}
