//! What one does after having been woken: which answers fit what was said, what each of them notes, and when to look again. One
//! place for every shell.

use crate::error::Result;
use crate::forecast::futures::FIRST_STEP_G;
use crate::log::{Entry, EntryKind, Purpose, SensorEvent, Shown, Source};
use crate::prompt::{Prompt, Reason, Verdict};
use crate::store::Log;
use crate::time::{DAY_MS, Moment};

/// How far back the wearer's own step is looked for, in milliseconds.
const OWN_STEP_MS: i64 = 90 * DAY_MS;
/// The same answer within this time is one answer: half asleep, one taps twice.
const TAPPED_TWICE_MS: i64 = 60_000;
/// Readings of a sensor that was pressed come back within minutes (assumption).
pub const LOOK_AFTER_ROLLING_MINUTES: f64 = 5.0;

/// An answer that can be offered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Offer {
    /// Call: before anything else.
    Call,
    /// A meter was used.
    Checked,
    /// Rescue carbohydrate was taken.
    Treated,
    /// The wearer lies no longer on the sensor.
    RolledOver,
}

/// The answers that fit what was said, the one it asks for first.
///
/// Where somebody has to call, nothing else is offered: whoever notes something first calls later. A low that is believed is
/// treated, so rolling off the sensor is no answer to it unless the sensor may be pressed.
#[must_use]
pub fn offers(prompt: &Prompt) -> Vec<Offer> {
    let pressed = prompt.reasons.iter().any(|reason| matches!(reason, Reason::Pressed { .. }));
    match prompt.verdict {
        Verdict::Help => vec![Offer::Call],
        Verdict::Treat if pressed => vec![Offer::Treated, Offer::Checked, Offer::RolledOver],
        Verdict::Treat => vec![Offer::Treated, Offer::Checked],
        Verdict::Check | Verdict::Hold | Verdict::Clear => vec![Offer::Checked, Offer::Treated, Offer::RolledOver],
    }
}

/// What was done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Done {
    /// Checked with a meter, which showed this.
    Checked(Shown),
    /// Took rescue carbohydrate: so many grams, or as much as the wearer noted the last time within 90 days, else the published first
    /// step of 15 g.
    Treated(Option<f64>),
    /// Lies no longer on the sensor.
    RolledOver,
}

/// What is noted of it. The same answer within a minute is one, and nothing is noted twice: then what was noted before is given.
///
/// # Errors
/// [`crate::Error::OutOfRange`] for grams that cannot be; those of reading and writing the log.
pub fn note(log: &mut Log, done: Done, now: Moment) -> Result<Entry> {
    let what = match done {
        Done::Checked(shown) => EntryKind::checked_by_meter(shown),
        Done::Treated(Some(grams)) => EntryKind::Carbohydrate { grams, purpose: Purpose::Rescue },
        Done::Treated(None) => EntryKind::Carbohydrate { grams: own_step_g(log, now)?, purpose: Purpose::Rescue },
        Done::RolledOver => EntryKind::Sensor(SensorEvent::RolledOff),
    };
    let recent = log.current(now.plus_ms(-TAPPED_TWICE_MS), now)?;
    if let Some(entry) = recent.into_iter().rfind(|entry| entry.what == what && entry.source == Source::by_hand()) {
        return Ok(entry);
    }
    let entry = Entry::new(now, now, Source::by_hand(), what)?;
    log.record(&entry)?;
    Ok(entry)
}

/// The wearer's own step, in grams: what they noted the last time.
fn own_step_g(log: &Log, now: Moment) -> Result<f64> {
    let history = log.history(now.plus_ms(-OWN_STEP_MS), now)?;
    let own = history.carbohydrate.iter().rfind(|one| one.purpose == Purpose::Rescue).map(|one| one.grams);
    Ok(own.unwrap_or(FIRST_STEP_G))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::Symptom;
    use crate::prompt::{Occasion, Question};
    use crate::snapshot::Snapshot;
    use crate::units::Glucose;

    fn at(minutes: f64) -> Moment {
        Moment::parse("2026-03-01T03:00:00+01:00").unwrap().plus_minutes(minutes)
    }

    /// Readings that end at three, every five minutes.
    fn log(mg_dl: impl IntoIterator<Item = f64>) -> Log {
        let mut log = Log::in_memory(at(0.0)).unwrap();
        let all: Vec<f64> = mg_dl.into_iter().collect();
        for (n, one) in all.iter().enumerate() {
            let when = at(-5.0 * f64::from(u32::try_from(all.len() - 1 - n).unwrap()));
            let what = EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(*one).unwrap() };
            log.record(&Entry::new(when, at(0.0), Source::new("sensor").unwrap(), what).unwrap()).unwrap();
        }
        log
    }

    fn prompt(log: &Log, feels: Option<Symptom>) -> Prompt {
        Snapshot::at(log, at(0.0)).unwrap().answer(&Question {
            now: at(0.0),
            occasion: Occasion::Wake,
            feels,
            meter: None,
        })
    }

    #[test]
    fn the_answers_fit_the_verdict() {
        let steady = log((0..60).map(|n| 120.0 + 3.0 * f64::from(n % 7)));
        let help = prompt(&steady, Some(Symptom::Severe));
        assert_eq!((help.verdict, offers(&help)), (Verdict::Help, vec![Offer::Call]));
        let clear = prompt(&steady, None);
        assert_eq!(offers(&clear), [Offer::Checked, Offer::Treated, Offer::RolledOver]);

        let mut low = log((0..60).map(|n| 170.0 - 1.8 * f64::from(n)));
        let check = EntryKind::MeterCheck { mg_dl: Glucose::from_mg_dl(58.0).unwrap() };
        low.record(&Entry::new(at(0.0), at(0.0), Source::by_hand(), check).unwrap()).unwrap();
        let treat = prompt(&low, None);
        assert_eq!((treat.verdict, offers(&treat)), (Verdict::Treat, vec![Offer::Treated, Offer::Checked]));

        let pressed = log((0..60).map(|n| if n < 56 { 118.0 } else { 118.0 - 16.0 * f64::from(n - 55) }));
        let doubted = prompt(&pressed, None);
        assert!(doubted.reasons.iter().any(|one| matches!(one, Reason::Pressed { .. })), "{:?}", doubted.reasons);
        assert!(offers(&doubted).contains(&Offer::RolledOver));
    }

    #[test]
    fn what_is_answered_twice_within_a_minute_is_noted_once() {
        let mut log = log([110.0]);
        let first = note(&mut log, Done::Treated(None), at(0.0)).unwrap();
        assert_eq!(first.what, EntryKind::Carbohydrate { grams: FIRST_STEP_G, purpose: Purpose::Rescue });
        assert_eq!(note(&mut log, Done::Treated(None), at(0.5)).unwrap().id, first.id);
        assert_ne!(note(&mut log, Done::Treated(None), at(2.0)).unwrap().id, first.id);
        note(&mut log, Done::Treated(Some(20.0)), at(3.0)).unwrap();
        let own = note(&mut log, Done::Treated(None), at(5.0)).unwrap();
        assert_eq!(
            own.what,
            EntryKind::Carbohydrate { grams: 20.0, purpose: Purpose::Rescue },
            "the wearer's own step"
        );
    }
}
