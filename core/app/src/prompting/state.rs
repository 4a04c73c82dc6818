//! What a tap on the screen with a prompt does: what is asked, what is noted, and which comes first.

use super::{Noted, Tap};
use crate::alerts;
use crate::entries;
use crate::error::Result;
use crate::log::Symptom;
use crate::night::{self, Done, LOOK_AFTER_ROLLING_MINUTES, Look};
use crate::prompt::Question;
use crate::store::Log;
use crate::time::Moment;
use crate::words::{ShellLabel, Words};

/// What the screen goes on from: the shell keeps it, and gives it with the next tap.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct State {
    /// What became of the last tap.
    pub noted: Option<Noted>,
    /// While it is asked what the meter shows.
    pub meter: Option<MeterAsked>,
    /// How the screen before was drawn, and why it was asked.
    pub look: Look,
}

/// The question what the meter shows.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct MeterAsked {
    /// What was typed.
    pub typed: String,
    /// Why that cannot be taken.
    pub advice: Option<String>,
}

/// What a tap asks to be done, in the order of the fields.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// To be changed before the answer, which goes by it.
    pub before: Option<Change>,
    /// What is asked.
    pub question: Question,
    /// To be changed after the answer, which must not wait for, or fail with, a log that cannot be written.
    pub after: Option<Change>,
    /// When to look again, whatever the answer says of that.
    pub look_at: Option<Moment>,
    /// The screen's next state. What a change gives is to be put into [`State::noted`].
    pub state: State,
}

/// A change of the log.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Change {
    /// What was done is noted.
    Note(Done),
    /// What was noted last is taken back.
    Undo,
}

impl Change {
    /// Makes it.
    ///
    /// # Errors
    /// Those of writing.
    pub fn make(self, log: &mut Log, now: Moment, words: Words) -> Result<Noted> {
        Ok(match self {
            Self::Undo => Noted { text: entries::undo(log, now, words)?, undo: None },
            Self::Note(done) => Noted {
                text: entries::confirmation(&night::note(log, done, now)?, ShellLabel::Kept, words),
                undo: Some(words.shell_label(ShellLabel::UndoLast).to_owned()),
            },
        })
    }
}

impl State {
    /// What a tap asks to be done.
    ///
    /// # Errors
    /// Those of reading the log.
    pub fn tapped(self, tap: Tap, log: &Log, alerts: &alerts::State, now: Moment) -> Result<Step> {
        // Half asleep, one taps twice: the second "undo" would take back what was noted before.
        let tap = if tap == Tap::Undo && !self.can_undo() { Tap::Refresh } else { tap };
        let look = self.look.after(tap, log, alerts, now)?;
        let meter = match tap {
            Tap::AskMeter => Some(MeterAsked::default()),
            // The field stays as it was typed.
            Tap::Refresh => self.meter,
            _ => None,
        };
        let noted = self.noted.filter(|_| matches!(tap, Tap::Refresh | Tap::LeaveMeter));
        let step = Step::asking(None, now, Self { noted, meter, look });
        Ok(match tap {
            Tap::Treated => Step { before: Some(Change::Note(Done::Treated(None))), ..step },
            Tap::RolledOver => Step {
                before: Some(Change::Note(Done::RolledOver)),
                look_at: Some(now.plus_minutes(LOOK_AFTER_ROLLING_MINUTES)),
                ..step
            },
            Tap::Undo => Step { before: Some(Change::Undo), ..step },
            Tap::Feel(felt) => {
                Step { after: Some(Change::Note(Done::Feels(felt))), ..Step::asking(Some(felt), now, step.state) }
            }
            Tap::Look
            | Tap::Refresh
            | Tap::AskMeter
            | Tap::LeaveMeter
            | Tap::LeaveNight
            | Tap::Before
            | Tap::Help
            | Tap::AllowAlerts => step,
        })
    }

    /// What it asks to be done that this was typed of the meter, in the wearer's unit: noted and answered. What cannot be taken stays in its
    /// field, with why.
    ///
    /// # Errors
    /// Those of reading the log.
    pub fn metered(self, typed: &str, log: &Log, alerts: &alerts::State, now: Moment, words: Words) -> Result<Step> {
        let look = self.look.after(Tap::AskMeter, log, alerts, now)?;
        let state = |meter| Self { noted: None, meter, look };
        Ok(match words.read_meter(typed) {
            Ok(shown) => {
                let step = Step::asking(None, now, state(None));
                let question = Question { meter: Some(shown), ..step.question };
                Step { question, after: Some(Change::Note(Done::Checked(shown))), ..step }
            }
            Err(error) => {
                let asked = MeterAsked { typed: typed.to_owned(), advice: Some(words.advice(&error)) };
                Step::asking(None, now, state(Some(asked)))
            }
        })
    }

    fn can_undo(&self) -> bool {
        self.noted.as_ref().is_some_and(|noted| noted.undo.is_some())
    }
}

impl Step {
    fn asking(feels: Option<Symptom>, now: Moment, state: State) -> Self {
        let question = Question { now, occasion: state.look.occasion(), feels, meter: None };
        Self { before: None, question, after: None, look_at: None, state }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::{EntryKind, Source};
    use crate::units::Glucose;
    use crate::wearer::Wearer;

    fn now() -> Moment {
        Moment::parse("2026-03-01T14:00:00+01:00").unwrap()
    }

    fn words() -> Words {
        Words::of(&Wearer::default())
    }

    fn kept(undo: bool) -> State {
        let undo = undo.then(|| "take it back".to_owned());
        State { noted: Some(Noted { text: "kept".to_owned(), undo }), ..State::default() }
    }

    fn tapped(state: State, tap: Tap) -> Step {
        state.tapped(tap, &Log::in_memory(now()).unwrap(), &alerts::State::default(), now()).unwrap()
    }

    #[test]
    fn an_act_is_noted_before_the_answer_and_a_feeling_after_it() {
        for (tap, before, after, look_again) in [
            (Tap::Treated, Some(Change::Note(Done::Treated(None))), None, false),
            (Tap::RolledOver, Some(Change::Note(Done::RolledOver)), None, true),
            (Tap::Feel(Symptom::FeelsLow), None, Some(Change::Note(Done::Feels(Symptom::FeelsLow))), false),
            (Tap::Look, None, None, false),
            (Tap::Before, None, None, false),
        ] {
            let step = tapped(State::default(), tap);
            assert_eq!((step.before, step.after, step.look_at.is_some()), (before, after, look_again), "{tap:?}");
            let felt = if let Tap::Feel(felt) = tap { Some(felt) } else { None };
            assert_eq!((step.question.feels, step.question.meter), (felt, None));
        }
    }

    #[test]
    fn undo_counts_once_and_only_where_it_was_offered() {
        assert_eq!(tapped(kept(true), Tap::Undo).before, Some(Change::Undo));
        let twice = tapped(kept(false), Tap::Undo);
        assert_eq!((twice.before, twice.state.noted), (None, kept(false).noted));
    }

    #[test]
    fn a_change_is_noted_by_hand_and_can_be_taken_back() {
        let mut log = Log::in_memory(now()).unwrap();
        let made = Change::Note(Done::Feels(Symptom::FeelsHigh)).make(&mut log, now(), words()).unwrap();
        let entry = log.current(now(), now()).unwrap().remove(0);
        assert_eq!(entry.what, EntryKind::Symptom { felt: Symptom::FeelsHigh });
        assert!(entry.source == Source::by_hand() && made.undo.is_some());
        let undone = Change::Undo.make(&mut log, now(), words()).unwrap();
        assert_eq!((undone.undo, log.current(now(), now()).unwrap()), (None, vec![]));
    }

    #[test]
    fn what_was_said_and_typed_stays_where_something_else_changed() {
        let typing = || State { meter: Some(MeterAsked { typed: "9".to_owned(), advice: None }), ..kept(true) };
        let after = |tap| {
            let state = tapped(typing(), tap).state;
            (state.noted.is_some(), state.meter.map(|meter| meter.typed))
        };
        assert_eq!(after(Tap::Refresh), (true, Some("9".to_owned())));
        assert_eq!(after(Tap::LeaveMeter), (true, None));
        assert_eq!(after(Tap::AskMeter), (false, Some(String::new())));
        assert_eq!(after(Tap::Look), (false, None));
    }

    #[test]
    fn a_meter_is_asked_with_and_noted_and_a_slip_stays_typed() {
        let metered = |typed| {
            let log = Log::in_memory(now()).unwrap();
            kept(true).metered(typed, &log, &alerts::State::default(), now(), words()).unwrap()
        };
        let step = metered("62");
        let shown = step.question.meter.unwrap();
        assert_eq!(shown.glucose, Glucose::from_mg_dl(62.0).unwrap());
        assert_eq!(step.after, Some(Change::Note(Done::Checked(shown))));
        assert_eq!((step.state.noted, step.state.meter), (None, None));
        let slip = metered("6200");
        let asked = slip.state.meter.unwrap();
        assert_eq!((slip.after, slip.question.meter, asked.typed.as_str()), (None, None, "6200"));
        assert!(asked.advice.is_some());
    }
}
