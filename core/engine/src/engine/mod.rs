//! Follows a log through time and answers questions about it: the estimate, the forecast and the prompt in one engine.
//!
//! [`check`] answers one question from a history. [`Engine`] is the same engine for those who go through a record reading by
//! reading: replay, evaluation, learning. Every answer uses only what was known by its own moment.

mod recent;
mod standing;

use std::borrow::Cow;

use serde::{Deserialize, Serialize};

pub use self::recent::FASTER_THAN_GLUCOSE;
use self::recent::Recent;
use self::standing::Standing;
use crate::body::alcohol::Alcohol;
use crate::body::effects::{AHEAD_MINUTES, Effects};
use crate::body::sick::SickDay;
use crate::body::{carbohydrate, doubt, insulin};
use crate::estimate::dynamics::Dynamics;
use crate::estimate::modes::Circumstances;
use crate::estimate::sites::{Insertion, Sites};
use crate::estimate::tracker::{CARRIED_ON_MINUTES, Tracker, by_meter_alone, rate_mg_dl_min};
use crate::forecast::Forecast;
use crate::forecast::forecaster::{Forecaster, KeptForecaster, Start};
use crate::forecast::futures::Futures;
use crate::forecast::logged::Logged;
use crate::forecast::long::{LastWeek, LongChance, Now};
use crate::log::{
    Carbohydrate, CompressionLow, Concurrent, Dose, Felt, History, InsulinKind, MeterCheck, Purpose, Reading,
    SensorEvent, Shown, Source, Symptom, Text, thinned,
};
use crate::prompt::{
    FIRST_DAY_HOURS, MeterNow, Moved, Occasion, OnBoard, OtherSensorNow, Prompt, Question, ReadingNow, RescueNow,
    Situation, decide, is_far_above,
};
use crate::sorted::{known, newest};
use crate::time::Moment;
use crate::units::Glucose;
use crate::wearer::Wearer;

/// What was learnt of one wearer, to start from; nothing learnt yet is the population.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Learnt {
    /// The dynamics, where enough days have been seen to adapt them.
    pub dynamics: Option<Dynamics>,
    /// The forecast's corrections.
    #[serde(alias = "outlook")]
    pub forecaster: Option<KeptForecaster>,
    /// How often the sensor was pressed on each site.
    #[serde(default)]
    pub sites: Option<Sites>,
    /// The newest reading learnt from. Going through it and those before it again teaches nothing.
    pub until: Option<Moment>,
}

/// How far back a prompt looks for what was taken, felt or done, in minutes.
mod reach {
    /// What was felt (assumption).
    pub const FELT: f64 = 15.0;
    /// A low that was felt, while nothing was eaten, checked or felt since (assumption: as long as a drive waits after one).
    pub const FELT_UNANSWERED: f64 = 45.0;
    /// Severe signs, unless something else was noted as felt since.
    pub const SEVERE: f64 = 60.0;
    /// Severe signs, as a reason to check whatever was noted since (assumption).
    pub const AFTER_SEVERE: f64 = 180.0;
    /// A low meter check that the sensor did not show and nothing was eaten after (assumption).
    pub const OPEN_LOW: f64 = 180.0;
    /// A meter check before the newest one, from that (assumption).
    pub const METER_BEFORE: f64 = 15.0;
    /// A reading of another sensor (assumption: as old as one that is acted on).
    pub const OTHER_SENSOR: f64 = 16.0;
    /// A meter check (assumption).
    pub const METER: f64 = 60.0;
    /// The last time a meter was used (assumption).
    pub const CHECKED: f64 = 720.0;
    /// Anything eaten (assumption).
    pub const RESCUE: f64 = 60.0;
    /// Several steps of rescue carbohydrate in a row (assumption).
    pub const RESCUES: f64 = 75.0;
    /// Steps closer together than this count once (assumption).
    pub const ONE_TREATMENT: f64 = 8.0;
    /// The newest rapid insulin.
    pub const DOSE: f64 = crate::prompt::DOSE_KNOWN_MINUTES;
    /// Movement (assumption).
    pub const MOVED: f64 = 360.0;
    /// Having rolled off the sensor (assumption).
    pub const ROLLED_OFF: f64 = 60.0;
    /// The grams of steps this close together are added up (assumption).
    pub const RESCUE_TOGETHER: f64 = 15.0;
}

/// A clear sensor this likely is taken at its word.
const WORTH_DOUBTING: f64 = 0.95;
/// How far back the forecast follows readings for the sake of the newest one, in minutes.
const LOOKED_BACK_MINUTES: f64 = 75.0;
/// A second meter check this soon after one that was not believed confirms it, in minutes (assumption).
const CONFIRMS_MINUTES: f64 = 30.0;

/// Answers one question about a history.
///
/// The history should reach back at least a few hours, better a day; what lies after the question's `now` is not looked at.
///
/// # Example
/// ```
/// use ebbstead_engine::log::{History, Reading};
/// use ebbstead_engine::prompt::{Occasion, Question, Verdict};
/// use ebbstead_engine::time::Moment;
/// use ebbstead_engine::units::Glucose;
/// use ebbstead_engine::engine::{Learnt, check};
/// use ebbstead_engine::wearer::Wearer;
///
/// let start = Moment::parse("2026-03-01T12:00:00+01:00")?;
/// let mut history = History::default();
/// for k in 0..24 {
///     let glucose = Glucose::from_mg_dl(112.0 + f64::from(k % 3))?;
///     history.readings.push(Reading::new(start.plus_minutes(5.0 * f64::from(k)), glucose));
/// }
/// let question = Question { now: start.plus_minutes(116.0), occasion: Occasion::Look, feels: None, meter: None };
/// let prompt = check(&history, &Wearer::default(), &Learnt::default(), &question);
/// assert_eq!(prompt.verdict, Verdict::Clear);
/// # Ok::<(), ebbstead_engine::Error>(())
/// ```
#[must_use]
pub fn check(history: &History, wearer: &Wearer, learnt: &Learnt, question: &Question) -> Prompt {
    let mut engine = Engine::new(history, wearer, learnt);
    engine.warm_up(question.now);
    engine.answer(question)
}

/// The engine.
#[derive(Clone, Debug)]
pub struct Engine<'a> {
    history: Cow<'a, History>,
    wearer: &'a Wearer,
    tracker: Tracker,
    forecaster: Forecaster,
    learnt_until: Option<Moment>,
    learnt_sites: Option<Sites>,
    began: Option<Moment>,
    recent: Recent,
    /// When the sensor worn was put in, as far as it is known.
    inserted: Option<Moment>,
    /// When the weighing first said treat in the fall that goes on.
    treat_said: Option<Moment>,
    /// The prompt to treat that stands.
    standing: Option<Standing>,
    /// When a meter check was so far above the sensor that it was not believed by itself.
    far_check: Option<Moment>,
    last_week: LastWeek,
}

/// What is done at a reading that is gone through.
enum Looking {
    /// Only the estimate.
    NotAhead,
    /// The forecast too.
    Ahead,
    /// And what it teaches.
    AndLearning,
}

impl<'a> Engine<'a> {
    /// An engine before its first reading. What else the history holds (meter checks, insulin, sleep, ...) is looked up by
    /// time; readings come through [`Engine::reading`] or [`Engine::replay`].
    #[must_use]
    pub fn new(history: &'a History, wearer: &'a Wearer, learnt: &Learnt) -> Self {
        let dynamics = learnt.dynamics.filter(Dynamics::can_be_learnt).unwrap_or(Dynamics::POPULATION);
        let forecaster = match &learnt.forecaster {
            Some(kept) => Forecaster::resumed(dynamics, kept),
            None => Forecaster::new(dynamics),
        };
        Self {
            history: Cow::Borrowed(history),
            wearer,
            tracker: Tracker::new(dynamics),
            forecaster,
            learnt_until: learnt.until,
            learnt_sites: learnt.sites.clone(),
            began: None,
            recent: Recent::default(),
            inserted: None,
            treat_said: None,
            standing: None,
            far_check: None,
            last_week: LastWeek::default(),
        }
    }

    /// Goes through the history's readings and meter checks up to and including `now`, forecasting and learning at each. Of readings
    /// under 45 seconds apart some stand for all, the newest always among them.
    pub fn replay(&mut self, now: Moment) {
        self.step_through(now, |_| Looking::AndLearning);
    }

    /// Goes through the history up to and including `now` for the sake of the newest reading only: what the forecast learnt
    /// comes with [`Learnt`], and learning again from the same readings would count them twice.
    pub fn warm_up(&mut self, now: Moment) {
        let newest = self.history.readings.iter().rfind(|reading| !reading.at.is_after(now)).copied();
        self.step_through(now, |reading| match newest {
            Some(newest) if *reading == newest => Looking::AndLearning,
            // The course of the last hour and the fall that may be going on are part of the answer.
            Some(newest) if newest.at.minutes_since(reading.at) <= LOOKED_BACK_MINUTES => Looking::Ahead,
            _ => Looking::NotAhead,
        });
    }

    fn step_through(&mut self, now: Moment, looking: impl Fn(&Reading) -> Looking) {
        // Borrowed or owned, the readings are gone through while the rest of the history is looked up.
        let history = self.history.clone();
        let mut meters = history.meter_checks.iter().peekable();
        for reading in thinned(known(&history.readings, now, |reading| reading.at)) {
            // A check in the very minute of a reading speaks of that reading.
            while let Some(meter) = meters.next_if(|meter| meter.at.is_before(reading.at)) {
                self.meter(meter.at, meter.glucose);
            }
            let circumstances = self.follow(reading);
            match looking(&reading) {
                Looking::NotAhead => {}
                Looking::Ahead => self.look_ahead(reading, &circumstances, false),
                Looking::AndLearning => self.look_ahead(reading, &circumstances, true),
            }
        }
        while let Some(meter) = meters.next_if(|meter| !meter.at.is_after(now)) {
            self.meter(meter.at, meter.glucose);
        }
    }

    /// The next reading, however soon after the last: it may be the one that is asked about. One that is not later than the newest
    /// observation counts as of that moment.
    pub fn reading(&mut self, reading: Reading) {
        let circumstances = self.follow(reading);
        self.look_ahead(reading, &circumstances, true);
    }

    /// Estimates with the reading.
    fn follow(&mut self, reading: Reading) -> Circumstances {
        let circumstances = self.circumstances(reading.at);
        self.new_sensor(reading.at);
        let began = *self.began.get_or_insert(reading.at);
        self.last_week.add(reading.at.minutes_since(began), reading.glucose.mg_dl());
        self.tracker.reading(reading, &circumstances);
        if let (Some(gaussian), Some(modes)) = (self.tracker.gaussian(), self.tracker.modes()) {
            let rate = rate_mg_dl_min(gaussian, self.tracker.dynamics());
            self.recent.remember(&reading, rate, modes.compression, self.wearer);
        }
        circumstances
    }

    /// Forgets the last sensor's bias once another was put in.
    fn new_sensor(&mut self, at: Moment) {
        let inserted = self.worn(at).map(|worn| worn.at);
        if inserted.is_some() && inserted != self.inserted {
            self.inserted = inserted;
            self.tracker.new_sensor();
        }
    }

    /// Forecasts from the reading, and learns from forecasts that it settles.
    fn look_ahead(&mut self, reading: Reading, circumstances: &Circumstances, learns: bool) {
        let (Some(gaussian), Some(modes)) = (self.tracker.gaussian(), self.tracker.modes()) else { return };
        let began = *self.began.get_or_insert(reading.at);
        let new = self.learnt_until.is_none_or(|until| reading.at.is_after(until));
        let start = Start {
            at_minutes: reading.at.minutes_since(began),
            reading_mg_dl: reading.glucose.mg_dl(),
            rate_mg_dl_min: rate_mg_dl_min(gaussian, self.tracker.dynamics()),
            gaussian,
            effects: Effects::at(&self.history, self.wearer, reading.at),
            asleep: circumstances.asleep,
            teaches: learns && new && modes.clear >= 0.5,
        };
        self.forecaster.reading(&start, self.wearer);
        self.follow_fall(reading);
    }

    /// A meter check: what it says of the sensor, and of blood.
    pub fn meter(&mut self, at: Moment, glucose: Glucose) {
        let believed = self.believes(at, glucose);
        if !believed {
            self.far_check = Some(at);
        }
        self.tracker.meter(at, glucose, &self.circumstances(at), believed);
    }

    /// Whether a meter check may move the estimate: one so far above the sensor that it is asked for again does only with a second one
    /// like it.
    fn believes(&self, at: Moment, glucose: Glucose) -> bool {
        let confirmed = self.far_check.is_some_and(|before| at.minutes_since(before) <= CONFIRMS_MINUTES);
        let newest = self.recent.newest().filter(|seen| at.minutes_since(seen.at) <= CARRIED_ON_MINUTES);
        confirmed || newest.is_none_or(|seen| !is_far_above(glucose.mg_dl(), seen.mg_dl, self.wearer.low_line.mg_dl()))
    }

    /// A meter check that the history does not hold yet, as a record that is gone through line by line brings it.
    pub fn note_meter(&mut self, check: MeterCheck) {
        self.history.to_mut().meter_checks.push(check);
        self.meter(check.at, check.glucose);
    }

    /// Insulin that the history does not hold yet. Times must not go back.
    pub fn note_dose(&mut self, dose: Dose) {
        self.history.to_mut().doses.push(dose);
    }

    /// Carbohydrate that the history does not hold yet. Times must not go back.
    pub fn note_carbohydrate(&mut self, carbohydrate: Carbohydrate) {
        self.history.to_mut().carbohydrate.push(carbohydrate);
    }

    /// The estimator.
    #[must_use]
    pub const fn tracker(&self) -> &Tracker {
        &self.tracker
    }

    /// The forecaster.
    #[must_use]
    pub const fn forecaster(&self) -> &Forecaster {
        &self.forecaster
    }

    /// Scores only forecasts made from a moment on: what was fitted on the days before is judged on those after.
    pub fn score_from(&mut self, from: Moment) {
        let began = *self.began.get_or_insert(self.history.readings.first().map_or(from, |first| first.at));
        self.forecaster.score_from(from.minutes_since(began));
    }

    /// The spells so far in which the sensor was probably pressed and then came back.
    #[must_use]
    pub fn compression_lows(&self) -> &[CompressionLow] {
        self.recent.compression_lows()
    }

    /// Answers a question at its moment, from what has been ingested.
    ///
    /// A meter check given with the question is weighed as the newest; it does not become part of what later answers know.
    #[must_use]
    pub fn answer(&self, question: &Question) -> Prompt {
        decide(&self.situation(question), self.wearer)
    }

    /// The situation at a question's moment.
    fn situation(&self, question: &Question) -> Situation {
        let Some(shown) = question.meter else { return self.situation_with(&self.tracker, question) };
        let mut tracker = self.tracker.clone();
        let believed = self.believes(question.now, shown.glucose);
        tracker.meter(question.now, shown.glucose, &self.circumstances(question.now), believed);
        self.situation_with(&tracker, question)
    }

    fn situation_with(&self, tracker: &Tracker, question: &Question) -> Situation {
        let now = question.now;
        let history = &*self.history;
        let noted = self.felt(now);
        // Who could not swallow a while ago is not brought back by feeling low.
        let feels = match (question.feels, noted) {
            (Some(Symptom::FeelsLow), Some(Symptom::Severe)) => noted,
            (felt, noted) => felt.or(noted),
        };
        let meter_now = |shown: Shown, age_minutes| MeterNow {
            mg_dl: self.wearer.goes_by_mg_dl(shown),
            age_minutes,
            limit: shown.limit(),
        };
        let meter = match question.meter {
            Some(shown) => Some(meter_now(shown, 0.0)),
            None => newest(&history.meter_checks, now, reach::METER, |meter| meter.at)
                .map(|(meter, age_minutes)| meter_now(meter.shown(), age_minutes)),
        };
        let (meter_before, open_low) = match question.meter {
            Some(_) => (self.checks(now).next(), None),
            None => (self.checks(now).nth(1), self.open_low(now)),
        };
        let newest_age = meter.map_or(0.0, |one| one.age_minutes);
        let meter_before = meter_before
            .map(|check| meter_now(check.shown(), now.minutes_since(check.at)))
            .filter(|before| before.age_minutes - newest_age <= reach::METER_BEFORE);
        let open_low = open_low.map(|check| meter_now(check.shown(), now.minutes_since(check.at)));
        let rapid = known(&history.doses, now, |dose| dose.at).iter().rfind(|dose| dose.kind == InsulinKind::Rapid);
        let dose_minutes_ago = rapid.map(|dose| now.minutes_since(dose.at)).filter(|minutes| *minutes <= reach::DOSE);
        let circumstances = self.circumstances(now);
        let reading = self.recent.reading_now(now, self.wearer, circumstances.asleep);
        let age_minutes = reading.map_or(0.0, |reading| reading.age_minutes);
        let fresh = reading.is_some() && age_minutes <= CARRIED_ON_MINUTES;
        // Where nothing is fresh there is no forecast: what was expected long ago is no knowledge of now.
        let difference = tracker.difference(now);
        let forecast = fresh.then(|| self.forecaster.forecast(self.wearer, difference, age_minutes)).flatten();
        let logged = || Logged::at(history, self.wearer, now);
        let futures = fresh.then(|| self.forecaster.futures(self.wearer, difference, &logged(), age_minutes)).flatten();
        let long = self.long(now, reading, forecast.as_ref(), futures.as_ref());
        let if_right = forecast.as_ref().and_then(|_| self.if_right(tracker, now));
        let rate_if_right_mg_dl_min = if_right
            .as_ref()
            .and_then(|_| tracker.gaussian_if_clear())
            .map(|gaussian| rate_mg_dl_min(gaussian, tracker.dynamics()));
        let uncorrected = match &forecast {
            Some(forecast) if forecast.shift_mg_dl > 0.0 => self.forecaster.forecast(self.wearer, None, age_minutes),
            _ => None,
        };
        let estimate = match (&meter, tracker.estimate(now, &circumstances)) {
            (_, Some(estimate)) if fresh => Some(estimate),
            (Some(meter), _) => Some(by_meter_alone(now, meter.mg_dl, meter.age_minutes)),
            (None, estimate) => estimate,
        };
        Situation {
            now,
            occasion: question.occasion,
            feels,
            severe_minutes_ago: known(&history.symptoms, now, |felt| felt.at)
                .iter()
                .rfind(|felt| felt.symptom == Symptom::Severe)
                .map(|felt| now.minutes_since(felt.at))
                .filter(|minutes| *minutes <= reach::AFTER_SEVERE),
            other_sensor: self.other_sensor(now),
            meter,
            meter_before,
            open_low,
            checked_minutes_ago: question
                .meter
                .map(|_| 0.0)
                .or_else(|| newest(&history.meter_checks, now, reach::CHECKED, |meter| meter.at).map(|(_, age)| age)),
            reading,
            estimate,
            blood_without_compression_mg_dl: tracker.blood_without_compression().unwrap_or(0.0),
            if_right,
            rate_if_right_mg_dl_min,
            uncorrected,
            forecast,
            futures,
            long,
            treat_said_minutes_ago: self.treat_said(now),
            treat_stands: self.treat_stands(now).filter(|_| question.meter.is_none()),
            treat_just_said: question.meter.is_none() && self.unanswered(now).is_some(),
            effects: Effects::at(history, self.wearer, now),
            on_board: OnBoard {
                // An empty sum is -0.0, which a shell would show.
                insulin_units: insulin::on_board_units(&history.doses, now) + 0.0,
                carbohydrate_g: carbohydrate::arriving_g(&history.carbohydrate, now) + 0.0,
            },
            dose_minutes_ago,
            doubtful_dose: doubt::newest_doubtful_dose(history, self.wearer, now),
            rescue: self.rescue(now),
            eaten_minutes_ago: newest(&history.carbohydrate, now, reach::RESCUE, |one| one.at).map(|(_, age)| age),
            rolled_off_minutes_ago: self
                .sensor_note(now, reach::ROLLED_OFF, |event| matches!(event, SensorEvent::RolledOff)),
            ended_minutes_ago: self.ended(now),
            alcohol: Alcohol::at(history, now, AHEAD_MINUTES),
            sick: SickDay::at(history, now),
            moved: moved(history, now),
            sensor_hours: circumstances.sensor_hours,
            asleep: circumstances.asleep,
        }
    }

    /// What was felt lately. A low that was felt stands until something answers it, also beside a high that is felt: to some they feel alike.
    fn felt(&self, now: Moment) -> Option<Symptom> {
        let symptoms = known(&self.history.symptoms, now, |felt| felt.at);
        let age = |felt: &Felt| now.minutes_since(felt.at);
        let newest = symptoms.last()?;
        let low = symptoms
            .iter()
            .rev()
            .take_while(|felt| matches!(felt.symptom, Symptom::FeelsLow | Symptom::FeelsHigh))
            .find(|felt| felt.symptom == Symptom::FeelsLow);
        let answered = |since: &Felt| self.checked_since(since.at, now) || self.eaten_since(since.at, now);
        if let Some(low) = low
            && (age(low) <= reach::FELT || age(low) <= reach::FELT_UNANSWERED && !answered(low))
        {
            return Some(Symptom::FeelsLow);
        }
        let within = if newest.symptom == Symptom::Severe { reach::SEVERE } else { reach::FELT };
        (age(newest) <= within).then_some(newest.symptom)
    }

    /// The meter checks up to now, the newest first.
    fn checks(&self, now: Moment) -> impl Iterator<Item = &MeterCheck> {
        known(&self.history.meter_checks, now, |check| check.at).iter().rev()
    }

    /// Whether a meter was used from then on, up to now.
    fn checked_since(&self, since: Moment, now: Moment) -> bool {
        self.checks(now).next().is_some_and(|check| !check.at.is_before(since))
    }

    /// Whether anything was eaten from then on, up to now.
    fn eaten_since(&self, since: Moment, now: Moment) -> bool {
        let eaten = known(&self.history.carbohydrate, now, |one| one.at).last();
        eaten.is_some_and(|one| !one.at.is_before(since))
    }

    /// The newest check, where it was low, nothing was eaten since, and no reading since shortly before it was low too.
    fn open_low(&self, now: Moment) -> Option<&MeterCheck> {
        let low = |shown: Shown| self.wearer.goes_by_mg_dl(shown) < self.wearer.low_line.mg_dl();
        let check = self.checks(now).next().filter(|check| low(check.shown()))?;
        let since = check.at.plus_minutes(-reach::METER_BEFORE);
        let readings = known(&self.history.readings, now, |one| one.at).iter().rev();
        let seen = readings.take_while(|one| !one.at.is_before(since)).any(|one| low(one.shown()));
        let is_open = now.minutes_since(check.at) <= reach::OPEN_LOW && !self.eaten_since(check.at, now) && !seen;
        is_open.then_some(check)
    }

    /// The lowest that a sensor beside the followed one reads.
    fn other_sensor(&self, now: Moment) -> Option<OtherSensorNow> {
        let first_day = |source: &Source| {
            let put_in = known(&self.history.sensor, now, |note| note.at).iter().rev().find(|note| {
                note.sensor.as_ref() == Some(source) && matches!(note.event, SensorEvent::Inserted { .. })
            });
            put_in.is_some_and(|note| now.minutes_since(note.at) < 60.0 * FIRST_DAY_HOURS)
        };
        let newest_of = |other: &Concurrent| {
            let (reading, age_minutes) = newest(&other.readings, now, reach::OTHER_SENSOR, |one| one.at)?;
            let mg_dl = self.wearer.goes_by_mg_dl(reading.shown());
            Some(OtherSensorNow { mg_dl, age_minutes, is_new: first_day(&other.source) })
        };
        self.history.concurrent.iter().filter_map(newest_of).min_by(|a, b| a.mg_dl.total_cmp(&b.mg_dl))
    }

    /// Chances over hours, from the record so far.
    fn long(
        &self,
        now: Moment,
        reading: Option<ReadingNow>,
        forecast: Option<&Forecast>,
        futures: Option<&Futures>,
    ) -> Option<[LongChance; 3]> {
        let (reading, forecast, futures) = (reading?, forecast?, futures?);
        let minute = f64::from(now.minute_of_day());
        self.last_week.chances(&Now {
            low_60: futures.wait.p_low_60,
            reading_low_30: forecast.reading_low_30,
            in_an_hour_mg_dl: forecast.path.iter().find(|one| one.minutes == 60)?.reading_mg_dl,
            mg_dl: reading.mg_dl,
            rate_mg_dl_min: reading.read_rate_mg_dl_min.unwrap_or(0.0),
            hour: minute / 60.0,
        })
    }

    /// Minutes since the newest event of a kind, within a reach.
    fn sensor_note(&self, now: Moment, within: f64, is: impl Fn(&SensorEvent) -> bool) -> Option<f64> {
        let noted = known(&self.history.sensor, now, |note| note.at).iter().rfind(|note| is(&note.event))?;
        Some(now.minutes_since(noted.at)).filter(|minutes| *minutes <= within)
    }

    /// Minutes since the sensor was noted as ended, unless another was put in since.
    fn ended(&self, now: Moment) -> Option<f64> {
        let ends = |event: &SensorEvent| matches!(event, SensorEvent::Ended | SensorEvent::Inserted { .. });
        let of_it = |sensor| self.history.speaks_of_followed(sensor, now);
        let mut notes = known(&self.history.sensor, now, |note| note.at).iter().rev();
        let newest = notes.find(|note| ends(&note.event) && of_it(note.sensor.as_ref()))?;
        (newest.event == SensorEvent::Ended).then(|| now.minutes_since(newest.at))
    }

    /// The forecast of a sensor that is right. Worked out anew only where it is in doubt: otherwise it is the forecast itself, to
    /// within what anyone would act on.
    fn if_right(&self, tracker: &Tracker, now: Moment) -> Option<Forecast> {
        if tracker.modes()?.clear > WORTH_DOUBTING {
            return None;
        }
        let newest = self.recent.newest()?;
        let gaussian = tracker.gaussian_if_clear()?;
        let start = Start {
            at_minutes: self.began.map_or(0.0, |began| newest.at.minutes_since(began)),
            reading_mg_dl: newest.mg_dl,
            rate_mg_dl_min: rate_mg_dl_min(gaussian, tracker.dynamics()),
            gaussian,
            effects: Effects::at(&self.history, self.wearer, newest.at),
            asleep: self.circumstances(newest.at).asleep,
            teaches: false,
        };
        let age_minutes = now.minutes_since(newest.at).max(0.0);
        Some(self.forecaster.forecast_if(&start, self.wearer, tracker.difference(now), age_minutes))
    }

    fn rescue(&self, now: Moment) -> Option<RescueNow> {
        let eaten = known(&self.history.carbohydrate, now, |one| one.at).iter().rev();
        let lately = eaten.take_while(|one| now.minutes_since(one.at) <= reach::RESCUES);
        let mut taken: Vec<&Carbohydrate> = lately.filter(|one| one.purpose == Purpose::Rescue).collect();
        taken.reverse();
        let newest = taken.last()?;
        let together = |one: &&&Carbohydrate| newest.at.minutes_since(one.at) <= reach::RESCUE_TOGETHER;
        let grams = taken.iter().filter(together).map(|one| one.grams).sum();
        let mut treatments = 0;
        let mut last: Option<Moment> = None;
        for one in &taken {
            if last.is_none_or(|last| one.at.minutes_since(last) >= reach::ONE_TREATMENT) {
                treatments += 1;
                last = Some(one.at);
            }
        }
        Some(RescueNow { grams, minutes_ago: now.minutes_since(newest.at), treatments })
    }

    /// The sensor worn at a moment, as the log has it, or as it was learnt from more of the log than is looked at here.
    fn worn(&self, at: Moment) -> Option<Insertion> {
        let inserted = known(&self.history.sensor, at, |note| note.at).iter().rev().find_map(|note| {
            let SensorEvent::Inserted { site, .. } = &note.event else { return None };
            let of_it = self.history.speaks_of_followed(note.sensor.as_ref(), at);
            of_it.then(|| Insertion { at: note.at, site: site.clone() })
        });
        let learnt = || self.learnt_sites.as_ref()?.newest.clone();
        inserted.or_else(learnt).filter(|worn| !worn.at.is_after(at))
    }

    /// Pressed spells a night on a site: as learnt, else as this much of the log shows.
    fn compression_lows_per_night(&self, site: &Text, at: Moment) -> Option<f64> {
        match &self.learnt_sites {
            Some(learnt) => learnt.compression_lows_per_night(site),
            None if self.history.compression_lows.is_empty() => None,
            None => Sites::of(&self.history, at).compression_lows_per_night(site),
        }
    }

    fn circumstances(&self, at: Moment) -> Circumstances {
        let asleep = self.wearer.night.contains(at) || self.history.is_asleep(at);
        let worn = self.worn(at);
        let sensor_hours = worn.as_ref().map(|worn| at.minutes_since(worn.at) / 60.0);
        let site = worn.and_then(|worn| worn.site);
        let compression_lows_per_night_here = site.and_then(|site| self.compression_lows_per_night(&site, at));
        Circumstances { asleep, compression_lows_per_night_here, sensor_hours, moves_fast: false }
    }
}

/// The movement that a prompt takes into account: the newest that ended within reach.
fn moved(history: &History, now: Moment) -> Option<Moved> {
    history
        .activities
        .iter()
        .filter(|one| !one.at.is_after(now))
        .map(|one| Moved {
            minutes_ago: now.minutes_since(one.at.plus_minutes(one.minutes)).max(0.0),
            minutes: one.minutes,
            effort: one.effort,
        })
        .filter(|one| one.minutes_ago <= reach::MOVED)
        .min_by(|one, other| one.minutes_ago.total_cmp(&other.minutes_ago))
}

/// The question that a replay asks at every reading: nobody is there to ask, and no meter at hand.
#[must_use]
pub const fn unasked(now: Moment) -> Question {
    Question { now, occasion: Occasion::Look, feels: None, meter: None }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::Beyond;
    use crate::prompt::Reason;

    /// Two days of glucose that swings, read every so many seconds.
    fn read_every(seconds: usize) -> History {
        let start = Moment::parse("2026-03-01T00:00:00Z").unwrap();
        let mut history = History::default();
        history.readings.extend((0..=2 * 86_400).step_by(seconds).map(|second| {
            let swing = (f64::from(second) / 86_400.0 * 10.0 * std::f64::consts::PI).sin();
            let glucose = Glucose::from_mg_dl((130.0 + 45.0 * swing).round()).unwrap();
            Reading::new(start.plus_ms(1000 * i64::from(second)), glucose)
        }));
        history
    }

    fn asked(history: &History) -> (usize, Prompt) {
        let (wearer, now) = (Wearer::default(), history.readings.last().unwrap().at);
        let mut engine = Engine::new(history, &wearer, &Learnt::default());
        engine.warm_up(now);
        (engine.recent.count(), engine.answer(&unasked(now)))
    }

    #[test]
    fn a_reading_every_second_is_estimated_as_one_a_minute() {
        let minutely = read_every(60);
        let (count, usual) = asked(&minutely);
        assert_eq!(count, 61, "each of an hour's readings is used");
        for seconds in [1, 5] {
            let (count, prompt) = asked(&read_every(seconds));
            assert!(count <= 81, "{count} readings of the last hour went through the filter");
            assert_eq!((prompt.verdict, prompt.matter), (usual.verdict, usual.matter), "every {seconds} s");
            let (one, other) = (prompt.estimate.unwrap(), usual.estimate.unwrap());
            assert_eq!(one.reading, other.reading, "the newest reading is the one gone by");
            assert!((one.blood_mg_dl - other.blood_mg_dl).abs() < 3.0, "{one:?} {other:?}");
            assert!((one.rate.mg_dl_min() - other.rate.mg_dl_min()).abs() < 0.2, "{one:?} {other:?}");
            assert!((one.blood_sd_mg_dl / other.blood_sd_mg_dl - 1.0).abs() < 0.1, "{one:?} {other:?}");
            let [one, other] = [&prompt, &usual].map(|prompt| prompt.forecast.as_ref().unwrap());
            assert!((one.reading_low_30 - other.reading_low_30).abs() < 0.05);
        }
    }

    #[test]
    fn a_second_too_low_to_measure_is_not_lost_among_others() {
        let mut history = read_every(1);
        let place = history.readings.len() - 1 - 20 * 60;
        let limit = Shown { glucose: Glucose::from_mg_dl(40.0).unwrap(), beyond: Some(Beyond::Below) };
        history.readings[place] = Reading::of(history.readings[place].at, limit);
        let (wearer, now) = (Wearer::default(), history.readings.last().unwrap().at);
        let mut engine = Engine::new(&history, &wearer, &Learnt::default());
        engine.warm_up(now);
        let reading = engine.situation(&unasked(now)).reading.unwrap();
        assert_eq!(reading.low_minutes_before, Some(20.0));
        // The newest is gone by, however short before it one was that could be measured.
        *history.readings.last_mut().unwrap() = Reading::of(now, limit);
        let (_, prompt) = asked(&history);
        assert!(prompt.reasons.iter().any(|one| matches!(one, Reason::ReadingBeyond { .. })), "{:?}", prompt.reasons);
    }
}
