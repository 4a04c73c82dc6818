//! What a widget shows, asked ahead minute by minute: the age of a reading stays right while no app runs, and an old number is never
//! shown as new. Nothing of it is kept as shown, since no look is known.

use crate::error::Result;
use crate::prompt::{Occasion, Question, Sentence, Verdict};
use crate::snapshot::Snapshot;
use crate::store::Log;
use crate::time::{MINUTE_MS, Moment};
use crate::words::{Newest, Words};

/// What a widget shows from a time on.
#[derive(Clone, Debug, PartialEq)]
pub struct Glance {
    /// From when on.
    pub from: Moment,
    /// What to do.
    pub verdict: Verdict,
    /// The same in one to three words.
    pub word: String,
    /// What to do and why.
    pub sentence: String,
    /// The newest reading, its age and how fast it moves; nothing once it is too old to act on.
    pub newest: Option<Newest>,
}

impl Glance {
    fn shows_the_same(&self, other: &Self) -> bool {
        Self { from: other.from, ..self.clone() } == *other
    }
}

/// From now on for so many minutes, or until the newest reading is too old to act on; from there, the last, its amount is left
/// out, and that holds until a widget is drawn again. The minutes are those of the reading, so that the same reading makes the same
/// glances a little later.
///
/// "Look again in 5 minutes" is wrong a minute later, so it is left out.
///
/// # Errors
/// Those of reading the log.
pub fn ahead(log: &Log, now: Moment, minutes: u16) -> Result<Vec<Glance>> {
    let known = Snapshot::at(log, now)?;
    let words = Words::of(&known.wearer);
    let ask = |now| known.answer(&Question { now, occasion: Occasion::Look, feels: None, meter: None });
    let read = ask(now).estimate.and_then(|estimate| estimate.reading).map_or(now, |reading| reading.at);
    let begun = now.plus_ms(-((now.unix_ms() - read.unix_ms()) % MINUTE_MS));
    let mut all: Vec<Glance> = Vec::new();
    for nth in 0..=minutes {
        let from = begun.plus_ms(i64::from(nth) * MINUTE_MS);
        // What was noted since the minute began counts; the age is the minute's.
        let prompt = ask(if nth == 0 { now } else { from });
        let is_last =
            prompt.sentence == Sentence::CheckStale || prompt.forecast.is_none() || (nth == minutes && nth > 0);
        let lead = words.lead(&prompt);
        let newest = if is_last { None } else { words.newest(&prompt, from) };
        let glance = Glance { from, verdict: prompt.verdict, word: lead.heading, sentence: lead.sentence, newest };
        if all.last().is_none_or(|before| !glance.shows_the_same(before)) {
            all.push(glance);
        }
        if is_last {
            break;
        }
    }
    Ok(all)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::{Entry, EntryKind, Source};
    use crate::units::Glucose;

    fn now() -> Moment {
        Moment::parse("2026-03-01T12:00:40+01:00").unwrap()
    }

    /// Readings every five minutes, the last 100 seconds ago.
    fn log() -> Log {
        let mut log = Log::in_memory(now()).unwrap();
        let entry = |nth: i32| {
            let at = now().plus_ms(-100_000).plus_minutes(f64::from(-5 * nth));
            let what = EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(112.0 + f64::from(nth % 3)).unwrap() };
            Entry::new(at, now(), Source::new("sensor 7").unwrap(), what).unwrap()
        };
        log.record_all((0..48).map(entry)).unwrap();
        log
    }

    #[test]
    fn each_minute_of_the_reading_has_its_age_until_the_reading_is_too_old() {
        let log = log();
        let glances = ahead(&log, now(), 60).unwrap();
        let (last, before) = glances.split_last().unwrap();
        let words = Words::of(&log.wearer().unwrap());
        for glance in before {
            let newest = glance.newest.as_ref().unwrap();
            assert_eq!(newest.age, words.ago(glance.from.minutes_since(now().plus_ms(-100_000))));
            assert_eq!((newest.amount.as_str(), newest.clock.as_str()), ("112 mg/dL", "11:59"));
            assert_eq!((now().plus_ms(-100_000).unix_ms() - glance.from.unix_ms()) % MINUTE_MS, 0);
        }
        assert!(before.len() > 5, "{glances:?}");
        assert_eq!((last.verdict, &last.newest), (Verdict::Check, &None));
        // A little later the same reading makes the same glances.
        let later = ahead(&log, now().plus_minutes(3.0), 60).unwrap();
        assert_eq!(later, glances[glances.len() - later.len()..]);
        assert!(log.current(now(), now().plus_minutes(90.0)).unwrap().is_empty(), "nobody was shown anything");
    }

    #[test]
    fn the_last_has_no_amount_however_short_the_time() {
        let glances = ahead(&log(), now(), 1).unwrap();
        assert_eq!(glances.iter().map(|one| one.newest.is_some()).collect::<Vec<_>>(), [true, false]);
        let empty = Log::in_memory(now()).unwrap();
        let glances = ahead(&empty, now(), 60).unwrap();
        assert_eq!(glances.iter().map(|one| one.newest.is_some()).collect::<Vec<_>>(), [false]);
    }
}
