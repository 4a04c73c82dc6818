//! After an alert, or a ring by night: which answers fit what was said, what each of them notes, and when to look again. One place
//! for every shell.

use crate::alerts::{AlertCause, Rang, State};
use crate::error::Result;
use crate::forecast::futures::FIRST_STEP_G;
use crate::log::{Entry, EntryKind, Purpose, SensorEvent, Shown, Source, Symptom};
use crate::prompt::{Caution, Occasion, Prompt, Reason, Sentence, Verdict};
use crate::prompting::Tap;
use crate::store::Log;
use crate::time::{DAY_MS, Moment};
use crate::wearer::Wearer;
use crate::words::{ShellLabel, Words};

/// How far back the wearer's own step is looked for, in milliseconds.
const OWN_STEP_MS: i64 = 90 * DAY_MS;
/// The same answer within this time is one answer: half asleep, one taps twice.
const TAPPED_TWICE_MS: i64 = 60_000;
/// Readings of a sensor that was pressed come back within minutes (assumption).
pub const LOOK_AFTER_ROLLING_MINUTES: f64 = 5.0;

/// For so long a wearer who opens the app was woken by what rang, and an answer on its notification is of now, in minutes. A ring
/// sounds for 5, below the floor for 15; an assumption.
const FRESH_MINUTES: f64 = 15.0;

/// Whether what rang then is what is answered now. A clock that was put back makes nothing old.
pub(crate) fn is_fresh(rang_at: Moment, now: Moment) -> bool {
    now.minutes_since(rang_at) <= FRESH_MINUTES
}

/// Whether the wearer sleeps, by the hours of their night or because it was noted.
pub(crate) fn sleeps(log: &Log, wearer: &Wearer, at: Moment) -> Result<bool> {
    Ok(wearer.night.contains(at) || log.history(at.plus_ms(-DAY_MS), at.plus_ms(1))?.is_asleep(at))
}

/// When something was noted since it rang that answers it, the last time.
pub(crate) fn answered_at(log: &Log, rang: Rang, now: Moment) -> Result<Option<Moment>> {
    let answers = |what: &EntryKind| match what {
        EntryKind::MeterCheck { .. } | EntryKind::MeterBeyond { .. } | EntryKind::Symptom { .. } => true,
        EntryKind::Carbohydrate { purpose, .. } => *purpose == Purpose::Rescue,
        EntryKind::Sensor(event) => *event == SensorEvent::RolledOff,
        _ => false,
    };
    let noted = log.current(rang.at.plus_ms(1), now)?.into_iter().filter(|entry| answers(&entry.what));
    Ok(noted.map(|entry| entry.at).max())
}

/// How the screen with the prompt looks, and why it is asked. The default is that of an app that comes to the front.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Look {
    /// Whether it is drawn for the night: dark, with one answer and what can be answered. Nothing before a screen was shown.
    pub at_night: Option<bool>,
    /// The wearer left the night since the app came to the front.
    pub left_night: bool,
    /// What woke the wearer rang then.
    pub woken: Option<Moment>,
}

impl Look {
    /// After a tap. In the night, by its hours or by noted sleep, the screen is drawn for it; a wearer who answers a ring of the night was
    /// woken, everybody else looks, in the night too. Nothing changes under a finger, except that a ring of the night turns to it.
    ///
    /// # Errors
    /// Those of reading the log.
    pub fn after(self, tap: Tap, log: &Log, alerts: &State, now: Moment) -> Result<Self> {
        let rings = match alerts.unanswered() {
            Some(rang) if rang.ring.at_night && is_fresh(rang.at, now) && answered_at(log, rang, now)?.is_none() => {
                Some(rang.at)
            }
            _ => None,
        };
        let woken = rings.or_else(|| self.woken.filter(|at| is_fresh(*at, now)));
        if rings.is_some() && rings != self.woken {
            return Ok(Self { at_night: Some(true), left_night: false, woken });
        }
        let (at_night, left_night) = match (tap, self.at_night) {
            (Tap::LeaveNight, _) => (false, true),
            (Tap::Look, _) | (_, None) => {
                let night = woken.is_some() || sleeps(log, &log.wearer()?, now)?;
                (night && !self.left_night, self.left_night)
            }
            (_, Some(stays)) => (stays, self.left_night),
        };
        Ok(Self { at_night: Some(at_night), left_night, woken })
    }

    /// Why it is asked.
    #[must_use]
    pub const fn occasion(self) -> Occasion {
        if self.woken.is_some() { Occasion::Wake } else { Occasion::Look }
    }
}

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

impl Offer {
    /// What is written on its button.
    #[must_use]
    pub const fn label(self) -> ShellLabel {
        match self {
            Self::Call => ShellLabel::GetHelp,
            Self::Checked => ShellLabel::Meter,
            Self::Treated => ShellLabel::ITreated,
            Self::RolledOver => ShellLabel::IRolledOver,
        }
    }
}

/// The answers that fit what was said, the one it asks for first.
///
/// Where a call for help is due, nothing else is offered: noting something first delays the call. A low that is believed is
/// treated, so rolling off the sensor is no answer to it unless the sensor may be pressed. A high is answered with neither.
#[must_use]
pub fn offers(prompt: &Prompt) -> Vec<Offer> {
    let pressed = prompt.reasons.iter().any(|reason| matches!(reason, Reason::Compression { .. }));
    match prompt.verdict {
        Verdict::Help => vec![Offer::Call],
        Verdict::Treat if pressed => vec![Offer::Treated, Offer::Checked, Offer::RolledOver],
        Verdict::Treat => vec![Offer::Treated, Offer::Checked],
        // What says that no dose is named is about a high or about ketones.
        _ if prompt.cautions.contains(&Caution::NoDose) => vec![Offer::Checked],
        Verdict::Check | Verdict::Hold | Verdict::Clear => vec![Offer::Checked, Offer::Treated, Offer::RolledOver],
    }
}

/// Whether what was said asks for ketones, so that what a ketone meter shows is an answer to it.
#[must_use]
pub fn asks_ketones(prompt: &Prompt) -> bool {
    let wanted = [Caution::KetonesWhenHigh, Caution::KetonesAgain, Caution::KetonesAfterLow, Caution::KetonesHigh];
    prompt.sentence == Sentence::CheckKetones || prompt.cautions.iter().any(|caution| wanted.contains(caution))
}

/// How long the answer "later" on a notification puts alerts off, in minutes; its words say so.
const NOTICE_SNOOZE_MINUTES: f64 = 15.0;

/// An answer on a notification, which may lie on a locked screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum RingAnswer {
    /// Opens the screen to call from.
    Call,
    /// Opens the field for what a meter shows.
    Checked,
    /// Notes the wearer's own step of rescue carbohydrate.
    Treated,
    /// Notes a feeling of low glucose.
    FeelsLow,
    /// Puts alerts off for a quarter of an hour.
    Snooze,
}

impl RingAnswer {
    /// Every answer.
    pub const ALL: [Self; 5] = [Self::Call, Self::Checked, Self::Treated, Self::FeelsLow, Self::Snooze];

    /// What is written on its button.
    #[must_use]
    pub fn text(self, words: Words) -> String {
        let label = match self {
            Self::Call => ShellLabel::GetHelp,
            Self::Checked => ShellLabel::Meter,
            Self::Treated => ShellLabel::ITreated,
            Self::FeelsLow => ShellLabel::FeelLowShort,
            Self::Snooze => return words.snooze(NOTICE_SNOOZE_MINUTES),
        };
        words.shell_label(label).to_owned()
    }

    /// Whether it opens the app; the others are noted with the app closed.
    #[must_use]
    pub const fn opens(self) -> bool {
        matches!(self, Self::Call | Self::Checked)
    }
}

/// The answers of a notification, the one that it asks for first; a phone that has room for three shows three. `offers` are those of
/// the prompt that it shows.
///
/// Beside a call there is only the feeling. What rises, or says nothing, is not answered with carbohydrate: a tap half asleep would note
/// some. Below the floor nothing can be put off.
#[must_use]
pub fn ring_answers(of: AlertCause, offers: &[Offer]) -> Vec<RingAnswer> {
    if offers.contains(&Offer::Call) {
        return vec![RingAnswer::Call, RingAnswer::FeelsLow];
    }
    if matches!(of, AlertCause::High | AlertCause::Rising | AlertCause::Lost) {
        return vec![RingAnswer::Checked, RingAnswer::Snooze, RingAnswer::FeelsLow];
    }
    let offered = offers.iter().filter_map(|offer| match offer {
        Offer::Checked => Some(RingAnswer::Checked),
        Offer::Treated => Some(RingAnswer::Treated),
        Offer::Call | Offer::RolledOver => None,
    });
    let later = (of != AlertCause::Floor).then_some(RingAnswer::Snooze);
    offered.chain([RingAnswer::FeelsLow]).chain(later).collect()
}

/// The answers of a ring that stopped by itself: a wearer who wakes later looks first. Neither notes anything by itself.
#[must_use]
pub const fn left_answers() -> [RingAnswer; 2] {
    [RingAnswer::Checked, RingAnswer::Call]
}

/// Every set of answers that [`ring_answers`] and [`left_answers`] give, for a phone that registers them before the first notification; and none at all.
#[must_use]
pub fn ring_answer_sets() -> Vec<Vec<RingAnswer>> {
    const OFFERS: [&[Offer]; 3] =
        [&[Offer::Call], &[Offer::Treated, Offer::Checked], &[Offer::Checked, Offer::Treated]];
    let mut sets = vec![Vec::new(), left_answers().to_vec()];
    for answers in AlertCause::ALL.into_iter().flat_map(|of| OFFERS.map(|offers| ring_answers(of, offers))) {
        if !sets.contains(&answers) {
            sets.push(answers);
        }
    }
    sets
}

/// Notes what was answered on a notification of what rang then, or puts the alerts off. What opens a screen notes nothing yet. An answer to
/// an old ring says what was done some time since: it is not noted as of now, and false is returned.
///
/// # Errors
/// Those of reading and writing the log.
pub fn note_ring_answer(
    log: &mut Log,
    state: &mut State,
    answer: RingAnswer,
    rang_at: Moment,
    now: Moment,
) -> Result<bool> {
    let done = match answer {
        RingAnswer::Call | RingAnswer::Checked => return Ok(true),
        RingAnswer::Snooze => return state.snooze(now, NOTICE_SNOOZE_MINUTES).map(|()| true),
        RingAnswer::Treated => Done::Treated(None),
        RingAnswer::FeelsLow => Done::Feels(Symptom::FeelsLow),
    };
    let is_of_now = is_fresh(rang_at, now);
    if is_of_now {
        note(log, done, now)?;
    }
    state.answered(now);
    Ok(is_of_now)
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
    /// Felt this.
    Feels(Symptom),
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
        Done::Feels(felt) => EntryKind::Symptom { felt },
    };
    note_once(log, what, now)
}

fn note_once(log: &mut Log, what: EntryKind, now: Moment) -> Result<Entry> {
    let recent = log.current(now.plus_ms(-TAPPED_TWICE_MS), now)?;
    if let Some(entry) = recent.into_iter().rfind(|entry| entry.what == what && entry.source == Source::by_hand()) {
        return Ok(entry);
    }
    log.note(what, now, now)
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
    use crate::ringing;
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
    fn the_answers_on_a_notification_fit_what_rang() {
        use RingAnswer::{Call, Checked, FeelsLow, Snooze, Treated};
        let low = [Offer::Treated, Offer::Checked];
        let check = [Offer::Checked, Offer::Treated, Offer::RolledOver];
        assert_eq!(ring_answers(AlertCause::Floor, &low), [Treated, Checked, FeelsLow]);
        assert_eq!(ring_answers(AlertCause::Low, &low), [Treated, Checked, FeelsLow, Snooze]);
        for of in [AlertCause::Lost, AlertCause::High, AlertCause::Rising] {
            assert_eq!(ring_answers(of, &check), [Checked, Snooze, FeelsLow]);
        }
        assert_eq!(ring_answers(AlertCause::High, &[Offer::Call]), [Call, FeelsLow]);
        let sets = ring_answer_sets();
        for offers in [&low[..], &check, &[Offer::Treated, Offer::Checked, Offer::RolledOver], &[Offer::Call]] {
            for of in AlertCause::ALL {
                assert!(sets.contains(&ring_answers(of, offers)), "{of:?} {offers:?}");
            }
        }
        assert!(sets.contains(&left_answers().to_vec()));
        assert_eq!(sets.len(), 8);
    }

    #[test]
    fn an_answer_on_a_notification_is_noted_once() {
        let (mut log, mut state) = (log([80.0, 72.0, 66.0]), State::default());
        for answer in RingAnswer::ALL.into_iter().chain(RingAnswer::ALL) {
            assert!(note_ring_answer(&mut log, &mut state, answer, at(0.0), at(1.0)).unwrap());
        }
        let noted: Vec<EntryKind> =
            log.current(at(0.5), at(1.5)).unwrap().into_iter().map(|entry| entry.what).collect();
        assert_eq!(noted.len(), 2, "{noted:?}");
        assert!(noted.contains(&EntryKind::Symptom { felt: Symptom::FeelsLow }), "{noted:?}");
        assert_ne!(state, State::default());
    }

    #[test]
    fn only_what_opens_a_screen_notes_nothing() {
        for answer in RingAnswer::ALL {
            let (mut log, mut state) = (log([80.0, 72.0, 66.0]), State::default());
            note_ring_answer(&mut log, &mut state, answer, at(0.0), at(1.0)).unwrap();
            let noted = !log.current(at(0.5), at(1.5)).unwrap().is_empty() || state != State::default();
            assert_eq!(answer.opens(), !noted, "{answer:?}");
        }
    }

    #[test]
    fn an_answer_to_an_old_ring_is_not_noted_as_of_now() {
        for (minutes, is_noted) in [(0.0, true), (15.0, true), (16.0, false), (260.0, false)] {
            for answer in [RingAnswer::Treated, RingAnswer::FeelsLow] {
                let (mut log, mut state) = (log([80.0, 72.0, 66.0]), State::default());
                assert!(ringing::step(&log, &mut state, at(0.0), None).unwrap().ring.is_some());
                let noted = note_ring_answer(&mut log, &mut state, answer, at(0.0), at(minutes)).unwrap();
                let kept = !log.current(at(0.0).plus_ms(1), at(minutes + 1.0)).unwrap().is_empty();
                assert_eq!((noted, noted || minutes > 0.0 && !kept), (is_noted, true), "{answer:?} {minutes}");
                assert_eq!(state.unanswered(), None, "answered in any case");
            }
        }
    }

    /// A log whose wearer sleeps from 23 to 7, with a low that rings at `rings` where one does.
    fn rung(rings: Option<&str>) -> (Log, State) {
        let (mut log, mut state) = (Log::in_memory(day("12:00")).unwrap(), State::default());
        if let Some(rings) = rings.map(day) {
            for (minutes, mg_dl) in [(-5.0, 74.0), (0.0, 66.0)] {
                let what = EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(mg_dl).unwrap() };
                let when = rings.plus_minutes(minutes);
                log.record(&Entry::new(when, when, Source::new("sensor").unwrap(), what).unwrap()).unwrap();
            }
            assert!(ringing::step(&log, &mut state, rings, None).unwrap().ring.is_some());
        }
        (log, state)
    }

    fn day(clock: &str) -> Moment {
        Moment::parse(&format!("2026-03-02T{clock}:00+01:00")).unwrap()
    }

    #[test]
    fn the_night_opens_by_its_hours_and_only_whom_a_ring_of_the_night_woke_was_woken() {
        use Occasion::{Look as Looks, Wake};
        for (rings, opens, at_night, occasion) in [
            (Some("03:00"), "03:02", true, Wake),
            (Some("03:00"), "03:30", true, Looks),
            (Some("03:00"), "07:30", false, Looks),
            (Some("06:50"), "07:01", true, Wake),
            (Some("14:00"), "14:01", false, Looks),
            (None, "23:30", true, Looks),
            (None, "12:00", false, Looks),
        ] {
            let (log, state) = rung(rings);
            for tap in [Tap::Look, Tap::AskMeter] {
                let look = Look::default().after(tap, &log, &state, day(opens)).unwrap();
                assert_eq!((look.at_night, look.occasion()), (Some(at_night), occasion), "{rings:?} {opens} {tap:?}");
            }
        }
    }

    #[test]
    fn noted_sleep_is_night_and_what_rings_in_it_wakes() {
        let (mut log, mut state) = (Log::in_memory(day("12:00")).unwrap(), State::default());
        let nap = EntryKind::Sleep { until: day("16:00") };
        log.record(&Entry::new(day("15:00"), day("15:00"), Source::by_hand(), nap).unwrap()).unwrap();
        let low = EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(66.0).unwrap() };
        log.record(&Entry::new(day("15:30"), day("15:30"), Source::new("sensor").unwrap(), low).unwrap()).unwrap();
        let ring = ringing::step(&log, &mut state, day("15:30"), None).unwrap().ring.unwrap();
        assert_eq!((ring.at_night, ring.how), (true, crate::alerts::Loudness::FullScreen));
        let look = Look::default().after(Tap::Look, &log, &state, day("15:31")).unwrap();
        assert_eq!((look.at_night, look.occasion()), (Some(true), Occasion::Wake));
        let after = Look::default().after(Tap::Look, &log, &State::default(), day("16:00")).unwrap();
        assert_eq!((after.at_night, after.occasion()), (Some(false), Occasion::Look));
    }

    #[test]
    fn the_look_stays_under_a_finger_until_a_ring_of_the_night() {
        let (log, quiet) = rung(None);
        let after = |look: Look, tap, clock| look.after(tap, &log, &quiet, day(clock)).unwrap();
        let night = after(Look::default(), Tap::Look, "06:59");
        assert_eq!(after(night, Tap::Refresh, "07:01").at_night, Some(true), "it stays as it is shown");
        assert_eq!(after(night, Tap::Look, "07:01").at_night, Some(false));
        let left = after(night, Tap::LeaveNight, "06:59");
        for tap in [Tap::Refresh, Tap::Look, Tap::Treated] {
            assert_eq!(
                after(left, tap, "06:59").at_night,
                Some(false),
                "left until the app comes to the front: {tap:?}"
            );
        }
        let (log, rings) = rung(Some("03:00"));
        let woken = Look { at_night: Some(false), left_night: true, woken: None };
        let woken = woken.after(Tap::Refresh, &log, &rings, day("03:00")).unwrap();
        assert_eq!((woken.at_night, woken.occasion()), (Some(true), Occasion::Wake));
        // Left again while the same ring stands, it stays left.
        let left = woken.after(Tap::LeaveNight, &log, &rings, day("03:01")).unwrap();
        assert_eq!(left.after(Tap::Refresh, &log, &rings, day("03:02")).unwrap().at_night, Some(false));
    }

    #[test]
    fn whoever_was_woken_stays_so_after_the_answer_and_whoever_comes_later_only_looks() {
        let (mut log, rings) = rung(Some("03:00"));
        let woken = Look::default().after(Tap::Look, &log, &rings, day("03:01")).unwrap();
        note(&mut log, Done::Treated(None), day("03:02")).unwrap();
        assert_eq!(woken.after(Tap::Refresh, &log, &rings, day("03:03")).unwrap().occasion(), Occasion::Wake);
        assert_eq!(woken.after(Tap::Refresh, &log, &rings, day("03:16")).unwrap().occasion(), Occasion::Look);
        let later = Look::default().after(Tap::Look, &log, &rings, day("03:03")).unwrap();
        assert_eq!((later.at_night, later.occasion()), (Some(true), Occasion::Look));
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
        assert!(doubted.reasons.iter().any(|one| matches!(one, Reason::Compression { .. })), "{:?}", doubted.reasons);
        assert!(offers(&doubted).contains(&Offer::RolledOver));
    }

    #[test]
    fn a_high_is_not_answered_with_carbohydrate_and_ketones_are_where_they_are_asked_for() {
        let mut high = log((0..120).map(|n| 340.0 + f64::from(n % 3)));
        let asked = prompt(&high, None);
        assert_eq!((offers(&asked), asks_ketones(&asked)), (vec![Offer::Checked], true), "{:?}", asked.sentence);
        high.record(&Entry::new(at(-5.0), at(0.0), Source::by_hand(), EntryKind::Ketones { mmol_l: 0.3 }).unwrap())
            .unwrap();
        assert!(!asks_ketones(&prompt(&high, None)), "measured just now");
        assert!(!asks_ketones(&prompt(&log((0..60).map(|n| 120.0 + f64::from(n % 7))), None)));
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
