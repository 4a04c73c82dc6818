//! The screen with the log: what stands on it and in which order, and what a tap does.

use crate::entries::{self, Day};
use crate::error::Result;
use crate::first;
use crate::forms::{Filled, Form};
use crate::log::{EntryId, EntryKind, SensorEvent};
use crate::prompting::Noted;
use crate::store::Log;
use crate::time::Moment;
use crate::words::{ShellLabel, Words};

/// What can be tapped.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Tap {
    /// Turn to the list; leaves what was being filled in.
    Look,
    /// List again because something changed, not because of a tap: what was said stays, and what is being filled in.
    Refresh,
    /// Begin to add something.
    Add,
    /// Begin to put an entry right.
    PutRight(EntryId),
    /// Lay the form out for what was chosen.
    Fill,
    /// Keep what is filled in.
    Keep,
    /// Take back what was noted last.
    Undo,
    /// Take an entry back, or a whole import.
    TakeBack(EntryId),
    /// Note that the sensor nearby was put in when its session began.
    Inserted,
}

impl Tap {
    /// Whether it may change the log.
    #[must_use]
    pub const fn writes(self) -> bool {
        matches!(self, Self::Keep | Self::Undo | Self::TakeBack(_) | Self::Inserted)
    }
}

/// The screen.
#[derive(Clone, Debug, PartialEq)]
pub struct Screen {
    /// Its name.
    pub title: String,
    /// What became of the last tap, or of a source of readings.
    pub noted: Option<Noted>,
    /// While something is added or put right.
    pub form: Option<Form>,
    /// On the button that notes that the sensor nearby was put in, while its session is not in the log.
    pub inserted: Option<String>,
    /// What was noted, the newest day first.
    pub days: Vec<Day>,
    /// In their place, where there are none.
    pub empty: Option<String>,
    /// Where readings come from.
    pub sources: Vec<first::Part>,
}

/// What the screen goes on from: the shell keeps it, and gives it with the next tap.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct State {
    /// What became of the last tap.
    pub noted: Option<Noted>,
    /// While something is added or put right.
    pub asked: Option<Asked>,
    /// What sources remarked and was not seen yet ([`remarked`]).
    pub unseen: Option<String>,
    /// When the session of a sensor nearby began, as long as it is not in the log.
    pub began: Option<Moment>,
}

/// Remarks that wait at most; ours.
const MOST_UNSEEN: usize = 5;

/// What sources remarked, with more of it: each once, and the last few. The last is not the one that matters most.
#[must_use]
pub fn remarked(unseen: Option<&str>, texts: &[String]) -> Option<String> {
    let mut all: Vec<&str> = Vec::new();
    for text in unseen.iter().flat_map(|unseen| unseen.lines()).chain(texts.iter().map(String::as_str)) {
        if !text.is_empty() && !all.contains(&text) {
            all.push(text);
        }
    }
    (!all.is_empty()).then(|| all[all.len().saturating_sub(MOST_UNSEEN)..].join("\n"))
}

/// A form that is being filled in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asked {
    /// The entry that is being put right; nothing while something is added.
    pub wrong: Option<EntryId>,
    /// When it was laid out: laid out again because something changed elsewhere, it stays the same.
    pub at: Moment,
    /// Whether it was to be kept and could not be.
    pub is_refused: bool,
    /// What was filled in since it was opened: what belongs to another kind comes back with it.
    pub filled: Filled,
}

impl Asked {
    const fn new(wrong: Option<EntryId>, at: Moment) -> Self {
        Self { wrong, at, is_refused: false, filled: Filled::new() }
    }

    fn form(&self, log: &Log) -> Result<Form> {
        let Self { wrong, at, is_refused, filled } = self;
        if *is_refused {
            Ok(entries::read(log, filled, *wrong, *at)?.0)
        } else {
            entries::form(log, filled, *wrong, *at)
        }
    }
}

impl State {
    /// Does what was tapped, with what was filled in since the form was laid out.
    ///
    /// # Errors
    /// [`crate::Error::NoSuchEntry`]; those of reading and writing. What cannot be taken is no error but advice beside its field.
    pub fn tapped(mut self, tap: Tap, filled: Filled, log: &mut Log, now: Moment, words: Words) -> Result<Self> {
        if let Some(asked) = &mut self.asked {
            asked.filled.extend(filled);
        }
        match tap {
            Tap::Look => (self.noted, self.asked) = (None, None),
            Tap::Refresh => {}
            Tap::Add => (self.noted, self.asked) = (None, Some(Asked::new(None, now))),
            Tap::PutRight(id) => (self.noted, self.asked) = (None, Some(Asked::new(Some(id), now))),
            Tap::Fill => self.lay_out(now, false),
            Tap::Keep => self.keep(log, now, words)?,
            // Tapped twice, it would take back what was noted before as well.
            Tap::Undo if self.noted.as_ref().is_some_and(|noted| noted.undo.is_some()) => {
                self.asked = None;
                self.say(entries::undo(log, now, words)?);
            }
            Tap::Undo => {}
            Tap::TakeBack(id) => {
                self.say(entries::take_back(log, id, now, words)?);
                // What is being filled in of another entry stays.
                self.asked = self.asked.filter(|asked| asked.wrong != Some(id));
            }
            Tap::Inserted => {
                let rated_days = log.wearer()?.sensor_rated_days;
                let event = SensorEvent::Inserted { site: None, lot: None, rated_days };
                let at = self.began.take().unwrap_or(now);
                let entry = log.note(EntryKind::Sensor(event), at, now)?;
                self.say(entries::confirmation(&entry, ShellLabel::Kept, words));
            }
        }
        if matches!(tap, Tap::Look | Tap::Refresh)
            && let Some(text) = self.unseen.take()
        {
            // What was said a second ago is still to be read.
            let (said, undo) = self.noted.take().map_or((None, None), |noted| (Some(noted.text), noted.undo));
            let more: Vec<String> = text.lines().map(str::to_owned).collect();
            self.noted = remarked(said.as_deref(), &more).map(|text| Noted { text, undo });
        }
        Ok(self)
    }

    /// Says what became of a file, which leaves what was being filled in.
    #[must_use]
    pub fn brought_in(mut self, text: String) -> Self {
        self.asked = None;
        self.say(text);
        self
    }

    /// Lays the screen out.
    ///
    /// # Errors
    /// As [`State::tapped`].
    pub fn screen(&self, log: &Log, has_health: bool, now: Moment, words: Words) -> Result<Screen> {
        let label = |label| words.shell_label(label).to_owned();
        let days = entries::days(log, now, words)?;
        Ok(Screen {
            title: label(ShellLabel::ScreenLog),
            noted: self.noted.clone(),
            form: self.asked.as_ref().map(|asked| asked.form(log)).transpose()?,
            inserted: self.began.map(|at| format!("{} · {}", label(ShellLabel::SensorInserted), at.clock())),
            empty: days.is_empty().then(|| label(ShellLabel::LogEmpty)),
            days,
            sources: first::sources(has_health, words),
        })
    }

    fn lay_out(&mut self, now: Moment, is_refused: bool) {
        if let Some(asked) = &mut self.asked {
            (asked.at, asked.is_refused) = (now, is_refused);
        }
    }

    /// Where nothing is asked it was kept before: tapped twice, it is kept once, and what was said of it stays.
    fn keep(&mut self, log: &mut Log, now: Moment, words: Words) -> Result<()> {
        let Some(Asked { wrong, filled, .. }) = self.asked.clone() else { return Ok(()) };
        self.noted = None;
        let (_, Some(said)) = entries::read(log, &filled, wrong, now)? else {
            self.lay_out(now, true);
            return Ok(());
        };
        let kept = entries::keep(log, said, wrong, now)?;
        let undo = kept.can_undo.then(|| words.shell_label(ShellLabel::UndoLast).to_owned());
        (self.asked, self.noted) = (None, Some(Noted { text: kept.text, undo }));
        Ok(())
    }

    fn say(&mut self, text: String) {
        self.noted = Some(Noted { text, undo: None });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wearer::Wearer;

    struct Sitting {
        state: State,
        log: Log,
        now: Moment,
    }

    impl Sitting {
        fn new() -> Self {
            let now = Moment::parse("2026-03-01T12:00:00+01:00").unwrap();
            Self { state: State::default(), log: Log::in_memory(now).unwrap(), now }
        }

        fn tap(&mut self, tap: Tap, filled: &[(&str, &str)]) -> Screen {
            let words = Words::of(&Wearer::default());
            let filled = filled.iter().map(|(id, value)| ((*id).to_owned(), (*value).to_owned())).collect();
            self.state = self.state.clone().tapped(tap, filled, &mut self.log, self.now, words).unwrap();
            self.state.screen(&self.log, true, self.now, words).unwrap()
        }

        fn add(&mut self, kind: &str, amount: &str) -> Screen {
            self.tap(Tap::Add, &[]);
            self.tap(Tap::Keep, &[("kind", kind), (kind, amount)])
        }
    }

    fn text(screen: &Screen) -> &str {
        screen.noted.as_ref().map_or("", |noted| &noted.text)
    }

    #[test]
    fn what_is_kept_is_said_with_its_undo_and_a_refresh_leaves_it() {
        let mut sitting = Sitting::new();
        let kept = sitting.add("rapid", "4");
        assert_eq!(text(&kept), "rapid insulin 4 units: kept in the log");
        assert!(kept.noted.as_ref().unwrap().undo.is_some() && kept.form.is_none());
        assert_eq!(sitting.tap(Tap::Refresh, &[]).noted, kept.noted);
        let undone = sitting.tap(Tap::Undo, &[]);
        assert_eq!(undone.noted.unwrap(), Noted { text: "rapid insulin 4 units: taken back".to_owned(), undo: None });
        assert_eq!(undone.empty.as_deref(), Some("Nothing noted in this time."));
        assert_eq!(sitting.tap(Tap::Look, &[]).noted, None);
    }

    #[test]
    fn half_asleep_one_taps_twice_and_that_counts_once() {
        let mut sitting = Sitting::new();
        sitting.add("rapid", "6");
        let kept = sitting.add("meal", "15");
        assert_eq!(sitting.tap(Tap::Keep, &[("kind", "meal"), ("meal", "15")]), kept, "nothing was kept or unsaid");
        let undone = sitting.tap(Tap::Undo, &[]);
        assert_eq!(sitting.tap(Tap::Undo, &[]), undone, "the insulin before it stays");
        assert_eq!(undone.days[0].entries.len(), 1);
    }

    #[test]
    fn a_slip_stays_typed_and_what_belongs_to_another_kind_comes_back() {
        let mut sitting = Sitting::new();
        let slip = sitting.add("meal", "9000");
        let field = |screen: &Screen, id: &str| {
            let fields = screen.form.as_ref().unwrap().fields.iter();
            fields.clone().find(|field| field.id == id).map(|field| (field.value.clone(), field.advice.is_some()))
        };
        assert_eq!((field(&slip, "meal"), text(&slip)), (Some(("9000".to_owned(), true)), ""));
        let other = sitting.tap(Tap::Fill, &[("kind", "ketones")]);
        assert_eq!(field(&other, "meal"), None);
        assert_eq!(
            sitting.tap(Tap::Refresh, &[]).form,
            other.form,
            "a reading that comes meanwhile takes nothing away"
        );
        assert_eq!(field(&sitting.tap(Tap::Fill, &[("kind", "meal")]), "meal").unwrap().0, "9000");
        assert_eq!(sitting.tap(Tap::Look, &[]).form, None);
        assert_eq!(field(&sitting.tap(Tap::Add, &[]), "kind").unwrap().0, "", "and the next begins anew");
    }

    #[test]
    fn an_entry_is_put_right_and_taking_another_back_leaves_the_form() {
        let mut sitting = Sitting::new();
        sitting.add("rapid", "4");
        sitting.add("meal", "30");
        let listed = sitting.tap(Tap::Look, &[]).days.remove(0).entries;
        let of = |is: fn(&EntryKind) -> bool| listed.iter().find(|entry| is(&entry.what)).unwrap().id;
        let (dose, meal) = (
            of(|what| matches!(what, EntryKind::Insulin { .. })),
            of(|what| matches!(what, EntryKind::Carbohydrate { .. })),
        );
        sitting.tap(Tap::PutRight(dose), &[]);
        let taken = sitting.tap(Tap::TakeBack(meal), &[]);
        assert!(taken.form.is_some() && text(&taken).ends_with("taken back"), "{taken:?}");
        assert_eq!(text(&sitting.tap(Tap::Keep, &[("rapid", "5")])), "rapid insulin 5 units: kept in the log");
        let right = sitting.tap(Tap::Look, &[]).days.remove(0).entries;
        assert_eq!(right.len(), 1);
        sitting.tap(Tap::PutRight(right[0].id), &[]);
        assert_eq!(sitting.tap(Tap::TakeBack(right[0].id), &[]).form, None, "nothing of it is left to put right");
    }

    #[test]
    fn what_a_source_remarks_waits_until_somebody_looks() {
        let mut sitting = Sitting::new();
        sitting.state.unseen = Some("one value left out".to_owned());
        assert_eq!(text(&sitting.tap(Tap::Look, &[])), "one value left out");
        assert_eq!(text(&sitting.tap(Tap::Refresh, &[])), "one value left out");
        assert_eq!(text(&sitting.tap(Tap::Look, &[])), "");
        sitting.state.unseen = Some("one value left out".to_owned());
        sitting.tap(Tap::Look, &[]);
        sitting.state.unseen = Some("calibrate".to_owned());
        assert_eq!(text(&sitting.tap(Tap::Refresh, &[])), "one value left out\ncalibrate", "neither hides the other");
        sitting.tap(Tap::Add, &[]);
        sitting.state.unseen = Some("another".to_owned());
        let shown = sitting.tap(Tap::Refresh, &[]);
        assert!(shown.form.is_some() && text(&shown) == "another", "{shown:?}");
    }

    #[test]
    fn remarks_wait_each_once_and_not_the_last_alone() {
        let of = |texts: &[&str]| texts.iter().map(|text| (*text).to_owned()).collect::<Vec<_>>();
        let first = remarked(None, &of(&["calibrate"])).unwrap();
        let both = remarked(Some(&first), &of(&["not read", "calibrate"]));
        assert_eq!(both.as_deref(), Some("calibrate\nnot read"));
        let many = remarked(both.as_deref(), &of(&["a", "b", "c", "d"]));
        assert_eq!(many.as_deref(), Some("not read\na\nb\nc\nd"));
        assert_eq!((remarked(None, &[]), remarked(Some("a"), &[])), (None, Some("a".to_owned())));
    }

    #[test]
    fn a_session_that_began_is_offered_until_it_is_noted() {
        let mut sitting = Sitting::new();
        assert_eq!(sitting.tap(Tap::Look, &[]).inserted, None);
        sitting.state.began = Some(sitting.now.plus_minutes(-105.0));
        assert_eq!(sitting.tap(Tap::Look, &[]).inserted.as_deref(), Some("New sensor put in · 10:15"));
        let noted = sitting.tap(Tap::Inserted, &[]);
        assert_eq!((noted.inserted, noted.days[0].entries[0].at.clock()), (None, "10:15".to_owned()));
    }
}
