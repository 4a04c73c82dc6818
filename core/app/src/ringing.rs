//! Whether to ring, of a log: what a shell asks after every batch of readings, and when nothing came.

use crate::alerts::{AlertCause, Rang, Ring, State};
use crate::error::Result;
use crate::log::{Entry, Reading};
use crate::night::{self, RingAnswer};
use crate::prompt::{Occasion, Prompt, Question};
use crate::prompting::Said;
use crate::sentences::alerts::{alert_text, rang_text};
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
/// From then on a step is tried each minute; so many failures later it is said again (assumption).
const SAID_EVERY: u32 = 30;
/// And so many times in all: as long as a lost signal rings (assumption).
const SAID_TIMES: u32 = 12;

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
        let rung = then.catch_up(&readings(log, rang, rang)?, rang, &wearer).filter(|ring| ring.of == AlertCause::Lost);
        if let Some(ring) = rung {
            let ring = for_whom(log, ring, rang, &wearer)?;
            then.rang(Some(ring), rang);
            (after, rang_ahead) = (then, Some((ring, rang)));
        }
    }
    if let Some(rang) = after.unanswered()
        && let Some(at) = night::answered_at(log, rang, now)?
    {
        after.answered(at);
    }
    let readings = readings(log, now, now.plus_ms(Entry::AHEAD_OF_CLOCK_MS))?;
    let before = after.newest();
    let ring = match after.catch_up(&readings, now, &wearer) {
        Some(ring) => Some(for_whom(log, ring, now, &wearer)?),
        None => None,
    };
    after.rang(ring, now);
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

/// A step failed: when to make the next one, and whether to say so: again each half hour, for six hours, until a step is made.
pub fn failed(state: &mut State, now: Moment) -> Failed {
    let failures = state.fails();
    let after = if failures < SAID_AT { SOON_MS } else { MINUTE_MS };
    let since = failures.checked_sub(SAID_AT);
    let is_said = since.is_some_and(|since| since % SAID_EVERY == 0 && since / SAID_EVERY < SAID_TIMES);
    Failed { again_at: now.plus_ms(after), is_said }
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

/// What is answered to [`question`], and its words.
pub type Worked<'a> = (&'a Prompt, &'a Said);

impl Notice {
    /// Words what rings. Where nothing could be worked out, it says what was crossed, and that can be checked.
    #[must_use]
    pub fn of(rings: AlertCause, worked: Option<Worked<'_>>, words: Words) -> Self {
        let (crossed, left) = (alert_text(rings, words), night::left_answers().to_vec());
        let Some((prompt, said)) = worked else {
            return Self { title: crossed.clone(), text: crossed, answers: left.clone(), left };
        };
        Self {
            title: said.verdict.clone(),
            text: format!("{} {crossed}", said.sentence),
            answers: night::ring_answers(rings, &night::offers(prompt)),
            left,
        }
    }

    /// Words what is left of what rang then: how it reads now. What was crossed then may be over.
    #[must_use]
    pub fn left(rang_at: Moment, (_, said): Worked<'_>, words: Words) -> Self {
        let left = night::left_answers().to_vec();
        let text = format!("{} {}", said.sentence, rang_text(rang_at, words));
        Self { title: said.verdict.clone(), text, answers: left.clone(), left }
    }
}

/// The readings that matter to an alert at a time, up to another.
fn readings(log: &Log, at: Moment, until: Moment) -> Result<Vec<Reading>> {
    let mut readings = log.history(at.plus_ms(-LOOKS_BACK_MS), until.plus_ms(1))?.readings;
    readings.retain(|one| !one.at.is_after(until));
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

    /// Of a wearer whose lows ring no second time.
    fn log_of_once(readings: &[(f64, f64)]) -> Log {
        let mut log = log(readings);
        let mut plan = Plan::of(&Wearer::default());
        (plan.day.low_repeat_minutes, plan.night.low_repeat_minutes) = (None, None);
        log.set_wearer(&Wearer { alert_plan: Some(plan), ..Wearer::default() }, at(60.0)).unwrap();
        log
    }

    #[test]
    fn what_rang_stands_until_it_is_answered_or_over() {
        let log = log_of_once;
        let low = |minutes| (minutes, 66.0);
        let step_at = |log: &Log, state: &mut State, minutes| step(log, state, at(minutes), None).unwrap();
        let (records, mut state) = (log(&[low(0.0)]), State::default());
        let rang = step_at(&records, &mut state, 0.0);
        assert_eq!((rang.ring.map(|ring| ring.of), rang.over, rang.left), (Some(AlertCause::Low), false, None));
        // Nothing answers, and it lasts: later it is said as it reads then.
        let records = log(&[low(0.0), low(9.0)]);
        assert_eq!(step_at(&records, &mut state, 9.0).left, None, "it may still sound");
        let records = log(&[low(0.0), low(9.0), low(20.0)]);
        let left = step_at(&records, &mut state, 20.0);
        assert_eq!((left.ring, left.over, left.left.map(|rang| rang.ring)), (None, false, rang.ring));
        assert_eq!(step_at(&records, &mut state, 21.0).left, None, "no reading came since");
        // Above the line for a quarter of an hour, it would ring again.
        let back = [low(0.0), low(20.0), (25.0, 75.0), (30.0, 90.0), (35.0, 104.0)];
        assert!(!step_at(&log(&back[..4]), &mut state, 30.0).over);
        assert!(step_at(&log(&back), &mut state, 35.0).over);
    }

    #[test]
    fn a_floor_that_eases_to_a_low_stands_and_a_reading_ends_a_lost_signal() {
        let log = log_of_once;
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
        // A quarter of an hour later it still lasts.
        let what = EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(62.0).unwrap() };
        let source = Source::new("sensor").unwrap();
        records.record(&Entry::new(at(17.0), at(60.0), source, what).unwrap()).unwrap();
        let again = step(&records, &mut state, at(17.0), None).unwrap();
        assert_eq!(again.ring.map(|ring| (ring.of, ring.again)), Some((AlertCause::Low, true)));
    }

    #[test]
    fn a_sensor_ahead_of_the_clock_rings_at_once() {
        let log = log(&[(-5.0, 74.0), (4.0, 66.0)]);
        let rang = step(&log, &mut State::default(), at(0.0), None).unwrap();
        assert_eq!((rang.ring.map(|ring| ring.of), rang.again_at), (Some(AlertCause::Low), Some(at(34.0))));
    }

    #[test]
    fn what_rings_without_a_prompt_says_what_was_crossed() {
        let words = Words::of(&Wearer::default());
        let notice = Notice::of(AlertCause::Low, None, words);
        assert_eq!((&notice.title, &notice.answers), (&alert_text(AlertCause::Low, words), &notice.left));
        assert!(night::ring_answer_sets().contains(&notice.answers));
    }

    #[test]
    fn what_is_left_says_how_it_reads_now_and_when_it_rang() {
        let records = log(&[(0.0, 50.0), (5.0, 62.0), (10.0, 64.0)]);
        let prompt = crate::snapshot::Snapshot::at(&records, at(20.0)).unwrap().answer(&question(at(20.0), false));
        let words = Words::of(&Wearer::default());
        let notice = Notice::left(at(0.0), (&prompt, &Said::of(&prompt, None, words)), words);
        assert!(notice.text.ends_with("This alert rang at 12:00."), "{}", notice.text);
        assert!(!notice.text.contains(&alert_text(AlertCause::Floor, words)), "{}", notice.text);
    }

    #[test]
    fn what_fails_is_said_again_each_half_hour_for_six_hours() {
        let mut state = State::default();
        let said: Vec<u32> = (1..1000).filter(|_| failed(&mut state, at(0.0)).is_said).collect();
        assert_eq!((said.first(), said.get(1), said.len()), (Some(&3), Some(&33), 12));
    }

    #[test]
    fn what_rings_at_night_is_asked_for_whoever_was_woken() {
        assert_eq!(question(at(0.0), true).occasion, Occasion::Wake);
        assert_eq!(question(at(0.0), false).occasion, Occasion::Look);
    }
}
