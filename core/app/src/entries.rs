//! What a person adds to a log, or puts right in it, by a form.

use crate::error::{Error, Result};
use crate::forms::log as forms;
use crate::forms::log::Said;
use crate::forms::{Filled, Form};
use crate::log::{Entry, EntryId, EntryKind};
use crate::snapshot::asks_back;
use crate::store::Log;
use crate::time::{DAY_MS, Moment};
use crate::words::{ShellLabel, Words};

/// Lays out what can be added, or what the entry named says, with what was filled in.
///
/// # Errors
/// [`Error::NoSuchEntry`]; those of reading the log.
pub fn form(log: &Log, filled: &Filled, correcting: Option<EntryId>, now: Moment) -> Result<Form> {
    let (wearer, old) = (log.wearer()?, old(log, correcting)?);
    Ok(forms::form(filled, old.as_ref(), &wearer, now, Words::of(&wearer)))
}

/// As [`form`], with what was filled in read. Nothing is given where it cannot be taken; that is said beside its field.
///
/// # Errors
/// As [`form`].
pub fn read(log: &Log, filled: &Filled, correcting: Option<EntryId>, now: Moment) -> Result<(Form, Option<Said>)> {
    let (wearer, old) = (log.wearer()?, old(log, correcting)?);
    Ok(forms::read(filled, old.as_ref(), &wearer, now, Words::of(&wearer)))
}

/// How many days a list of what was noted goes back.
const LISTED_DAYS: i64 = 7;

/// A day of the log.
#[derive(Clone, Debug, PartialEq)]
pub struct Day {
    /// The day on the wearer's calendar, as their language writes it.
    pub day: String,
    /// What was noted on it, the newest first; every single reading and every prompt shown left out.
    pub entries: Vec<Entry>,
}

/// What was noted in the past seven days, the newest day first.
///
/// # Errors
/// Those of reading the log.
pub fn days(log: &Log, now: Moment, words: Words) -> Result<Vec<Day>> {
    let mut days: Vec<Day> = Vec::new();
    for entry in log.current(now.plus_ms(-LISTED_DAYS * DAY_MS), now)?.into_iter().rev().filter(is_listed) {
        let day = words.weekday_and_date(entry.at.local_date());
        match days.last_mut() {
            Some(last) if last.day == day => last.entries.push(entry),
            _ => days.push(Day { day, entries: vec![entry] }),
        }
    }
    Ok(days)
}

/// Whether an entry is one that a person reads through: no single reading, and no prompt that was shown.
#[must_use]
pub fn is_listed(entry: &Entry) -> bool {
    entry.what.sensor().is_none() && !matches!(entry.what, EntryKind::Prompted(_))
}

/// What came of keeping an entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct EntryKept {
    /// That it was kept, or that nothing changed, in words.
    pub text: String,
    /// Whether anything was written that can be undone.
    pub can_undo: bool,
}

/// Keeps what [`read`] gave: as an entry of its own, or in place of the entry named. Says that it was kept, and asks back about a dose
/// that is probably a slip. It is kept all the same, since it may be none. An entry that says the same already stays as it was.
///
/// # Errors
/// [`Error::NoSuchEntry`]; those of writing.
pub(crate) fn keep(log: &mut Log, said: Said, correcting: Option<EntryId>, now: Moment) -> Result<EntryKept> {
    let words = Words::of(&log.wearer()?);
    let entry = match old(log, correcting)? {
        Some(old) if old.what == said.what && old.at == said.at => {
            return Ok(EntryKept { text: forms::unchanged(words).to_owned(), can_undo: false });
        }
        Some(old) => log.correct(old.id, said.at, said.what, now)?,
        None => log.note(said.what, said.at, now)?,
    };
    let asks = asks_back(log, &entry, now)?;
    Ok(EntryKept { text: forms::kept(&entry, asks, words), can_undo: true })
}

/// What became of an entry: "Meter 101 mg/dL: kept in the log".
#[must_use]
pub fn confirmation(entry: &Entry, became: ShellLabel, words: Words) -> String {
    format!("{}: {}", words.what(&entry.what), words.shell_label(became))
}

/// Takes back what was noted last, and says so.
///
/// # Errors
/// Those of writing.
pub fn undo(log: &mut Log, now: Moment, words: Words) -> Result<String> {
    Ok(match log.undo_last(now)? {
        Some(done) => confirmation(&done.undone, ShellLabel::TakenBack, words),
        None => words.shell_label(ShellLabel::NothingToUndo).to_owned(),
    })
}

/// Takes an entry back, or a whole import, and says so.
///
/// # Errors
/// [`Error::NoSuchEntry`]; those of writing.
pub(crate) fn take_back(log: &mut Log, id: EntryId, now: Moment, words: Words) -> Result<String> {
    let entry = log.get(id)?.ok_or(Error::NoSuchEntry { id: id.0 })?;
    log.retract(id, now)?;
    Ok(confirmation(&entry, ShellLabel::TakenBack, words))
}

fn old(log: &Log, named: Option<EntryId>) -> Result<Option<Entry>> {
    named.map(|id| log.get(id)?.ok_or(Error::NoSuchEntry { id: id.0 })).transpose()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::{Purpose, Shown, Source};
    use crate::units::Glucose;

    fn now() -> Moment {
        Moment::parse("2026-03-01T12:00:00+01:00").unwrap()
    }

    fn noted(log: &mut Log, minutes_ago: f64, what: EntryKind) -> Entry {
        let entry = Entry::new(now().plus_minutes(-minutes_ago), now(), Source::by_hand(), what).unwrap();
        log.record(&entry).unwrap();
        entry
    }

    fn rescue(grams: f64) -> EntryKind {
        EntryKind::Carbohydrate { grams, purpose: Purpose::Rescue }
    }

    #[test]
    fn the_newest_day_and_entry_come_first_and_readings_are_left_out() {
        let (mut log, words) = (Log::in_memory(now()).unwrap(), Words::of(&crate::wearer::Wearer::default()));
        let glucose = Glucose::from_mg_dl(104.0).unwrap();
        for (minutes_ago, what) in [
            (8.0 * 1440.0, rescue(8.0)),
            (1440.0, rescue(15.0)),
            (60.0, rescue(16.0)),
            (30.0, EntryKind::checked_by_meter(Shown::from(glucose))),
        ] {
            noted(&mut log, minutes_ago, what);
        }
        let reading = EntryKind::SensorReading { mg_dl: glucose };
        log.record(&Entry::new(now(), now(), Source::new("sensor").unwrap(), reading).unwrap()).unwrap();
        let days = days(&log, now(), words).unwrap();
        let listed: Vec<(&str, usize)> = days.iter().map(|day| (&*day.day, day.entries.len())).collect();
        assert_eq!(listed, [("Sunday, 1 Mar 2026", 2), ("Saturday, 28 Feb 2026", 1)]);
        assert_eq!(days[0].entries[1].what, rescue(16.0));
    }

    #[test]
    fn what_is_taken_back_is_said_and_nothing_is_left_to_undo() {
        let (mut log, words) = (Log::in_memory(now()).unwrap(), Words::of(&crate::wearer::Wearer::default()));
        let first = noted(&mut log, 5.0, rescue(15.0));
        noted(&mut log, 1.0, rescue(20.0));
        assert_eq!(undo(&mut log, now(), words).unwrap(), "carbohydrate 20 g, rescue: taken back");
        assert_eq!(take_back(&mut log, first.id, now(), words).unwrap(), "carbohydrate 15 g, rescue: taken back");
        assert!(log.current(now().plus_minutes(-60.0), now()).unwrap().is_empty());
        assert!(take_back(&mut log, EntryId(uuid::Uuid::nil()), now(), words).is_err());
    }
}
