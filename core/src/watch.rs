//! Follows a log through time and answers questions about it: the estimate, the forecast and the prompt in one engine.
//!
//! [`check`] answers one question from a history. [`Watch`] is the same engine for those who go through a record reading by
//! reading: replay, evaluation, learning. Every answer uses only what was known by its own moment.

use std::collections::VecDeque;

use serde::{Deserialize, Serialize};

use crate::body::AtWork;
use crate::estimate::dynamics::Dynamics;
use crate::estimate::modes::Circumstances;
use crate::estimate::sites::{Insertion, Sites};
use crate::estimate::tracker::{Tracker, rate_mg_dl_min};
use crate::forecast::Forecast;
use crate::forecast::horizon::{Conditions, GRID_MINUTES, POINTS};
use crate::forecast::outlook::{Crossings, KeptOutlook, Outlook};
use crate::log::{History, InsulinKind, PressedSpell, Purpose, Reading, SensorEvent, SensorNote, Text};
use crate::prompt::{MeterNow, Occasion, OnBoard, Prompt, Question, ReadingNow, RescueNow, Situation, decide};
use crate::time::Moment;
use crate::units::Glucose;
use crate::wearer::Wearer;

/// What was learnt of one wearer, to start from; nothing learnt yet is the population.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Learnt {
    /// The dynamics, where enough days have been seen to adapt them.
    pub dynamics: Option<Dynamics>,
    /// The forecast's corrections.
    pub outlook: Option<KeptOutlook>,
    /// How often the sensor was pressed on each site.
    #[serde(default)]
    pub sites: Option<Sites>,
    /// The newest reading learnt from. Going through it and those before it again teaches nothing.
    pub until: Option<Moment>,
}

/// How far back a prompt looks for what was taken, felt or done, in minutes.
mod reach {
    pub const FELT: f64 = 15.0;
    pub const METER: f64 = 60.0;
    pub const RESCUE: f64 = 60.0;
    pub const DOSE: f64 = 360.0;
    pub const MOVED: f64 = 180.0;
    pub const ROLLED_OFF: f64 = 60.0;
    /// Rescue carbohydrate taken this close together is one treatment.
    pub const RESCUE_TOGETHER: f64 = 15.0;
}

/// A pressed spell's readings come back by at least this much, in mg/dL.
const CAME_BACK_MG_DL: f64 = 10.0;
/// What lasts longer is no pressure, in minutes.
const LONGEST_SPELL_MINUTES: f64 = 120.0;
/// A clear sensor this likely is taken at its word.
const WORTH_DOUBTING: f64 = 0.95;
/// How long recent readings are kept for the prompt's view of the past, in minutes.
const RECENT_MINUTES: f64 = 60.0;
/// Readings further apart break a run of lows or highs, in minutes.
const BROKEN_RUN_MINUTES: f64 = 30.0;
/// A fall within this time and by at least this much from steady readings is sudden (minutes, mg/dL).
const SUDDEN: (f64, f64) = (20.0, 25.0);

/// Answers one question about a history.
///
/// The history should reach back at least a few hours, better a day; what lies after the question's `now` is not looked at.
///
/// # Example
/// ```
/// use ebbstead_core::log::{History, Reading};
/// use ebbstead_core::prompt::{Occasion, Question, Verdict};
/// use ebbstead_core::time::Moment;
/// use ebbstead_core::units::Glucose;
/// use ebbstead_core::watch::{Learnt, check};
/// use ebbstead_core::wearer::Wearer;
///
/// let start = Moment::parse("2026-03-01T12:00:00+01:00")?;
/// let mut history = History::default();
/// for k in 0..24 {
///     let glucose = Glucose::from_mg_dl(112.0)?;
///     history.readings.push(Reading::new(start.plus_minutes(5.0 * f64::from(k)), glucose));
/// }
/// let question = Question { now: start.plus_minutes(116.0), occasion: Occasion::Look, feels: None, meter: None };
/// let prompt = check(&history, &Wearer::default(), &Learnt::default(), &question);
/// assert_eq!(prompt.verdict, Verdict::Clear);
/// # Ok::<(), ebbstead_core::Error>(())
/// ```
#[must_use]
pub fn check(history: &History, wearer: &Wearer, learnt: &Learnt, question: &Question) -> Prompt {
    let mut watch = Watch::new(history, wearer, learnt);
    watch.catch_up(question.now);
    watch.answer(question)
}

/// The engine.
#[derive(Clone, Debug)]
pub struct Watch<'a> {
    history: &'a History,
    wearer: &'a Wearer,
    tracker: Tracker,
    outlook: Outlook,
    learnt_until: Option<Moment>,
    learnt_sites: Option<Sites>,
    began: Option<Moment>,
    recent: VecDeque<Seen>,
    high_since: Option<Moment>,
    pressed_since: Option<Moment>,
    /// The lowest reading of the spell that may be going on, in mg/dL.
    lowest_pressed_mg_dl: f64,
    spells: Vec<PressedSpell>,
    spacing_minutes: f64,
}

/// A reading as the prompt looks back on it.
#[derive(Clone, Copy, Debug)]
struct Seen {
    at: Moment,
    mg_dl: f64,
    rate_mg_dl_min: f64,
}

impl<'a> Watch<'a> {
    /// An engine before its first reading. What else the history holds (meter checks, insulin, sleep, ...) is looked up by
    /// time; readings come through [`Watch::reading`] or [`Watch::go_through`].
    #[must_use]
    pub fn new(history: &'a History, wearer: &'a Wearer, learnt: &Learnt) -> Self {
        let dynamics = learnt.dynamics.unwrap_or(Dynamics::POPULATION);
        let outlook = match &learnt.outlook {
            Some(kept) => Outlook::resumed(dynamics, kept),
            None => Outlook::new(dynamics),
        };
        Self {
            history,
            wearer,
            tracker: Tracker::new(dynamics),
            outlook,
            learnt_until: learnt.until,
            learnt_sites: learnt.sites.clone(),
            began: None,
            recent: VecDeque::new(),
            high_since: None,
            pressed_since: None,
            lowest_pressed_mg_dl: f64::INFINITY,
            spells: Vec::new(),
            spacing_minutes: 5.0,
        }
    }

    /// Goes through the history's readings and meter checks up to and including `now`, forecasting and learning at each.
    pub fn go_through(&mut self, now: Moment) {
        self.step_through(now, |_| true);
    }

    /// Goes through the history up to and including `now` for the sake of the newest reading only: what the forecast learnt
    /// comes with [`Learnt`], and learning again from the same readings would count them twice.
    pub fn catch_up(&mut self, now: Moment) {
        let newest = self.history.readings.iter().rfind(|reading| reading.at.unix_ms() <= now.unix_ms()).copied();
        self.step_through(now, |reading| Some(*reading) == newest);
    }

    fn step_through(&mut self, now: Moment, looks_ahead: impl Fn(&Reading) -> bool) {
        let history = self.history;
        let mut meters = history.meter_checks.iter().peekable();
        for reading in history.readings.iter().take_while(|reading| reading.at.unix_ms() <= now.unix_ms()) {
            while let Some(meter) = meters.next_if(|meter| meter.at.unix_ms() <= reading.at.unix_ms()) {
                self.meter(meter.at, meter.glucose);
            }
            let circumstances = self.follow(*reading);
            if looks_ahead(reading) {
                self.look_ahead(*reading, &circumstances);
            }
        }
        while let Some(meter) = meters.next_if(|meter| meter.at.unix_ms() <= now.unix_ms()) {
            self.meter(meter.at, meter.glucose);
        }
    }

    /// Takes the next reading in. One that is not later than the newest observation is taken as of that moment.
    pub fn reading(&mut self, reading: Reading) {
        let circumstances = self.follow(reading);
        self.look_ahead(reading, &circumstances);
    }

    /// Estimates with the reading.
    fn follow(&mut self, reading: Reading) -> Circumstances {
        let input = self.input_until(reading.at);
        let circumstances = self.circumstances(reading.at);
        self.tracker.reading(reading, input, &circumstances);
        if let (Some(belief), Some(modes)) = (self.tracker.belief(), self.tracker.modes()) {
            let rate = rate_mg_dl_min(belief, self.tracker.dynamics());
            self.remember(reading.at, reading.glucose.mg_dl(), rate, modes.pressed);
        }
        circumstances
    }

    /// Forecasts from the reading, and learns from forecasts that it settles.
    fn look_ahead(&mut self, reading: Reading, circumstances: &Circumstances) {
        let (Some(belief), Some(modes)) = (self.tracker.belief(), self.tracker.modes()) else { return };
        let began = *self.began.get_or_insert(reading.at);
        let new = self.learnt_until.is_none_or(|until| reading.at.unix_ms() > until.unix_ms());
        let teaches = new && modes.clear >= 0.5;
        let conditions = Conditions { inputs_mg_dl_min: self.inputs_ahead(reading.at), asleep: circumstances.asleep };
        let minutes = reading.at.minutes_since(began);
        self.outlook.reading(minutes, reading.glucose.mg_dl(), belief, &conditions, self.wearer, teaches);
    }

    /// Takes a meter check in.
    pub fn meter(&mut self, at: Moment, glucose: Glucose) {
        let input = self.input_until(at);
        self.tracker.meter(at, glucose, input, &self.circumstances(at));
    }

    /// The estimator.
    #[must_use]
    pub const fn tracker(&self) -> &Tracker {
        &self.tracker
    }

    /// The forecaster.
    #[must_use]
    pub const fn outlook(&self) -> &Outlook {
        &self.outlook
    }

    /// The spells so far in which the sensor was probably pressed and then came back.
    #[must_use]
    pub fn pressed_spells(&self) -> &[PressedSpell] {
        &self.spells
    }

    /// Answers a question at its moment, from what has been taken in.
    ///
    /// A meter check given with the question is weighed as the newest; it does not become part of what later answers know.
    #[must_use]
    pub fn answer(&self, question: &Question) -> Prompt {
        decide(&self.situation(question), self.wearer)
    }

    /// The situation at a question's moment.
    #[must_use]
    pub fn situation(&self, question: &Question) -> Situation {
        let Some(glucose) = question.meter.map(|shown| shown.glucose) else {
            return self.situation_with(&self.tracker, question);
        };
        let mut tracker = self.tracker.clone();
        let (now, input) = (question.now, self.input_until(question.now));
        tracker.meter(now, glucose, input, &self.circumstances(now));
        let meter = Some(MeterNow { mg_dl: glucose.mg_dl(), age_minutes: 0.0 });
        Situation { meter, ..self.situation_with(&tracker, question) }
    }

    fn situation_with(&self, tracker: &Tracker, question: &Question) -> Situation {
        let now = question.now;
        let history = self.history;
        let at_work = AtWork::of(history, self.wearer);
        let feels = question
            .feels
            .or_else(|| newest(&history.symptoms, now, reach::FELT, |felt| felt.at).map(|(felt, _)| felt.symptom));
        let meter = newest(&history.meter_checks, now, reach::METER, |meter| meter.at)
            .map(|(meter, age_minutes)| MeterNow { mg_dl: meter.glucose.mg_dl(), age_minutes });
        let rapid = history.doses.iter().filter(|dose| dose.kind == InsulinKind::Rapid);
        let dose_minutes_ago = rapid
            .rev()
            .map(|dose| now.minutes_since(dose.at))
            .find(|minutes| *minutes >= 0.0)
            .filter(|minutes| *minutes <= reach::DOSE);
        let moved_minutes_ago = history
            .activities
            .iter()
            .filter(|one| one.at.unix_ms() <= now.unix_ms())
            .map(|one| now.minutes_since(one.at.plus_minutes(one.minutes)).max(0.0))
            .filter(|minutes| *minutes <= reach::MOVED)
            .min_by(f64::total_cmp);
        let rolled_off = |note: &&SensorNote| {
            note.event == SensorEvent::RolledOff && (0.0..=reach::ROLLED_OFF).contains(&now.minutes_since(note.at))
        };
        let rolled_off_minutes_ago =
            history.sensor.iter().rev().find(rolled_off).map(|note| now.minutes_since(note.at));
        let circumstances = self.circumstances(now);
        let forecast = self.outlook.forecast(self.wearer);
        Situation {
            now,
            occasion: question.occasion,
            feels,
            meter,
            reading: self.reading_now(now),
            estimate: tracker.estimate(),
            blood_if_pressed_mg_dl: tracker.blood_if_pressed_or_not().map_or(0.0, |(pressed, _)| pressed),
            if_right: self.if_right(tracker, forecast.as_ref()),
            forecast,
            on_board: OnBoard {
                // An empty sum is -0.0, which a shell would show.
                insulin_units: at_work.insulin_units(now) + 0.0,
                carbohydrate_g: at_work.carbohydrate_g(now) + 0.0,
            },
            dose_minutes_ago,
            rescue: self.rescue(now),
            rolled_off_minutes_ago,
            moved_minutes_ago,
            sensor_hours: circumstances.sensor_hours,
            asleep: circumstances.asleep,
        }
    }

    /// The crossings told by a sensor that is right. Worked out anew only where it is in doubt: otherwise they are the
    /// forecast's to within what anyone would act on.
    fn if_right(&self, tracker: &Tracker, forecast: Option<&Forecast>) -> Option<Crossings> {
        let forecast = forecast?;
        let told = Crossings { low: forecast.low, floor: forecast.floor };
        if tracker.modes()?.clear > WORTH_DOUBTING {
            return Some(told);
        }
        let newest = self.recent.back()?;
        let asleep = self.circumstances(newest.at).asleep;
        let conditions = Conditions { inputs_mg_dl_min: self.inputs_ahead(newest.at), asleep };
        Some(self.outlook.crossings_if(tracker.belief_if_clear()?, newest.mg_dl, &conditions, self.wearer))
    }

    fn reading_now(&self, now: Moment) -> Option<ReadingNow> {
        let newest = self.recent.back()?;
        let since = |moment: Option<Moment>| moment.map_or(0.0, |moment| newest.at.minutes_since(moment).max(0.0));
        let back = |seen: &&Seen| newest.at.minutes_since(seen.at);
        let (sudden_minutes, sudden_mg_dl) = SUDDEN;
        // The steepest drop: the nearest steady reading may lie in the middle of a fall that the estimate does not believe.
        let steepness = |seen: &&Seen| (seen.mg_dl - newest.mg_dl) / back(seen);
        let steady_before = self
            .recent
            .iter()
            .filter(|seen| back(seen) > 0.0 && back(seen) <= sudden_minutes)
            .filter(|seen| seen.mg_dl - newest.mg_dl >= sudden_mg_dl && seen.rate_mg_dl_min.abs() < 1.0)
            .max_by(|a, b| steepness(a).total_cmp(&steepness(b)))
            .map(|seen| (seen.mg_dl, back(&seen)));
        let read_rate_mg_dl_min = self
            .recent
            .iter()
            .rev()
            .find(|seen| (12.0..=20.0).contains(&back(seen)))
            .map(|seen| (newest.mg_dl - seen.mg_dl) / back(&seen));
        let earlier_rate_mg_dl_min =
            self.recent.iter().rev().find(|seen| (15.0..=35.0).contains(&back(seen))).map(|seen| seen.rate_mg_dl_min);
        let low = self.wearer.low_line.mg_dl();
        let low_minutes_before = self.recent.iter().rev().find(|seen| seen.mg_dl < low).map(|seen| back(&seen));
        Some(ReadingNow {
            mg_dl: newest.mg_dl,
            age_minutes: now.minutes_since(newest.at).max(0.0),
            steady_before,
            read_rate_mg_dl_min,
            earlier_rate_mg_dl_min,
            low_minutes_before,
            high_for_minutes: since(self.high_since),
            pressed_for_minutes: since(self.pressed_since),
            spacing_minutes: self.spacing_minutes,
        })
    }

    fn rescue(&self, now: Moment) -> Option<RescueNow> {
        let taken = || {
            let of_rescue = |one: &&crate::log::Carbohydrate| one.purpose == Purpose::Rescue;
            self.history.carbohydrate.iter().filter(of_rescue)
        };
        let past = |one: &&crate::log::Carbohydrate| one.at.unix_ms() <= now.unix_ms();
        let newest = taken().rfind(past)?;
        let minutes_ago = now.minutes_since(newest.at);
        let together =
            |one: &&crate::log::Carbohydrate| (0.0..=reach::RESCUE_TOGETHER).contains(&newest.at.minutes_since(one.at));
        let grams = taken().filter(past).filter(together).map(|one| one.grams).sum();
        (minutes_ago <= reach::RESCUE).then_some(RescueNow { grams, minutes_ago })
    }

    fn remember(&mut self, at: Moment, mg_dl: f64, rate_mg_dl_min: f64, pressed: f64) {
        let apart = self.recent.back().map_or(0.0, |last| at.minutes_since(last.at));
        if apart > 0.0 && apart <= 20.0 {
            self.spacing_minutes += 0.2 * (apart - self.spacing_minutes);
        }
        let run = |since: Option<Moment>, holds: bool| match since {
            _ if !holds => None,
            Some(since) if apart <= BROKEN_RUN_MINUTES => Some(since),
            _ => Some(at),
        };
        self.high_since = run(self.high_since, mg_dl > self.wearer.high_line.mg_dl());
        let pressed_since = run(self.pressed_since, pressed > 0.5);
        self.note_spell(at, mg_dl, pressed_since);
        self.pressed_since = pressed_since;
        self.recent.push_back(Seen { at, mg_dl, rate_mg_dl_min });
        while self.recent.front().is_some_and(|seen| at.minutes_since(seen.at) > RECENT_MINUTES) {
            self.recent.pop_front();
        }
    }

    /// A spell is over when the sensor is believed again; it was one if its readings came back.
    fn note_spell(&mut self, at: Moment, mg_dl: f64, pressed_since: Option<Moment>) {
        if pressed_since.is_some() {
            self.lowest_pressed_mg_dl = self.lowest_pressed_mg_dl.min(mg_dl);
            return;
        }
        if let Some(from) = self.pressed_since.take() {
            let came_back = mg_dl - self.lowest_pressed_mg_dl >= CAME_BACK_MG_DL;
            if came_back && at.minutes_since(from) <= LONGEST_SPELL_MINUTES {
                self.spells.push(PressedSpell { from, until: at });
            }
        }
        self.lowest_pressed_mg_dl = f64::INFINITY;
    }

    /// The mean known effect on blood glucose since the newest observation, in mg/dL/min.
    fn input_until(&self, at: Moment) -> f64 {
        let Some(from) = self.tracker.at() else { return 0.0 };
        let minutes = at.minutes_since(from);
        if minutes <= 0.0 || !self.knows_inputs() {
            return 0.0;
        }
        AtWork::of(self.history, self.wearer).change_mg_dl(from, at) / minutes
    }

    /// The known effects of each 5 minutes to come, as far as they were taken by `at`.
    fn inputs_ahead(&self, at: Moment) -> Option<[f64; POINTS]> {
        if !self.knows_inputs() {
            return None;
        }
        let known = |when: Moment| when.unix_ms() <= at.unix_ms();
        let doses: Vec<_> = self.history.doses.iter().filter(|dose| known(dose.at)).copied().collect();
        let carbohydrate: Vec<_> = self.history.carbohydrate.iter().filter(|one| known(one.at)).copied().collect();
        let past = History { doses, carbohydrate, ..History::default() };
        let at_work = AtWork::of(&past, self.wearer);
        Some(std::array::from_fn(|k| {
            let from = at.plus_minutes(GRID_MINUTES * k as f64);
            at_work.change_mg_dl(from, from.plus_minutes(GRID_MINUTES)) / GRID_MINUTES
        }))
    }

    /// The sensor worn at a moment, as the log tells it, or as it was learnt from more of the log than is looked at here.
    fn worn(&self, at: Moment) -> Option<Insertion> {
        let inserted =
            self.history.sensor.iter().rev().filter(|note| note.at.unix_ms() <= at.unix_ms()).find_map(|note| {
                let SensorEvent::Inserted { site, .. } = &note.event else { return None };
                let of_it = self.history.speaks_of_followed(note.sensor.as_ref(), at);
                of_it.then(|| Insertion { at: note.at, site: site.clone() })
            });
        let learnt = || self.learnt_sites.as_ref()?.newest.clone();
        inserted.or_else(learnt).filter(|worn| worn.at.unix_ms() <= at.unix_ms())
    }

    /// Pressed spells a night on a site: as learnt, else as this much of the log tells.
    fn pressed_per_night(&self, site: &Text, at: Moment) -> Option<f64> {
        match &self.learnt_sites {
            Some(learnt) => learnt.pressed_per_night(site),
            None if self.history.pressed.is_empty() => None,
            None => Sites::of(self.history, at).pressed_per_night(site),
        }
    }

    fn knows_inputs(&self) -> bool {
        let some = !self.history.doses.is_empty() || !self.history.carbohydrate.is_empty();
        let factor = self.wearer.insulin_factor_mg_dl_per_unit.is_some()
            || self.wearer.carbohydrate_factor_mg_dl_per_g.is_some();
        some && factor
    }

    fn circumstances(&self, at: Moment) -> Circumstances {
        let slept = |from: Moment, until: Moment| (from.unix_ms()..until.unix_ms()).contains(&at.unix_ms());
        let asleep =
            self.wearer.night.contains(at) || self.history.sleep.iter().any(|sleep| slept(sleep.from, sleep.until));
        let worn = self.worn(at);
        let sensor_hours = worn.as_ref().map(|worn| at.minutes_since(worn.at) / 60.0);
        let site = worn.and_then(|worn| worn.site);
        let pressed_per_night_here = site.and_then(|site| self.pressed_per_night(&site, at));
        Circumstances { asleep, pressed_per_night_here, sensor_hours }
    }
}

/// The newest of a sorted list that is at most `within_minutes` old, with its age.
fn newest<T>(all: &[T], now: Moment, within_minutes: f64, at: impl Fn(&T) -> Moment) -> Option<(&T, f64)> {
    let newest = all.iter().rfind(|one| at(one).unix_ms() <= now.unix_ms())?;
    let age = now.minutes_since(at(newest));
    (age <= within_minutes).then_some((newest, age))
}

/// The question that a replay asks at every reading: nobody is there to ask, and no meter at hand.
#[must_use]
pub const fn unasked(now: Moment) -> Question {
    Question { now, occasion: Occasion::Look, feels: None, meter: None }
}
