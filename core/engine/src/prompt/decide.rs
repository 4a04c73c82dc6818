//! The guards, in order, and the weighing below them.
//!
//! The order is the point: a later rule never overrides an earlier one. Unless a source is named the rules are common practice, no source.
//!
//! | in this order | in | why before the next |
//! |---|---|---|
//! | signs of a severe low | here | a person who cannot swallow needs help, whatever any number says |
//! | ketones of an emergency | `high` | help too, unless glucose is low |
//! | the third step against a low that failed | `rescue` | the next is a matter for two |
//! | a low meter check, then one above the line | `meter` | a meter outranks the sensor; two that differ outrank neither |
//! | no reading, or an old one | `sensor` | what follows goes by a reading of now |
//! | feeling low | here | no sensor overrides a feeling |
//! | rescue carbohydrate that was just taken | `rescue` | it gets its quarter of an hour before another |
//! | insulin that is probably a slip | `to_come` | an emergency, if it is none |
//! | a sensor that ended or is stuck | `sensor` | its number says nothing |
//! | a sensor in doubt | `sensor` | what would be a treat is a check, or the other way round at night |
//! | low, and nothing puts it in doubt | `sensor` | low is treated without any weighing |
//! | another sensor that reads low | `sensor` | which of the two is right nobody knows |
//! | signs of a severe low, hours after | here | that it is over has to be seen |
//! | the first day of a sensor | `sensor` | what would be a treat is a check |
//! | a fall | `falling` | the weighing |
//! | a meter check that stands far from the sensor | `meter` | it is looked at again though nothing falls |
//! | vomiting on insulin, then ketones | `high` | what can turn into an emergency comes before a high |
//! | high or rising | `high` | |
//! | nothing of these | `falling` | |

use super::sensor::{DOUBTED, STALE_MINUTES};
use super::weigh::weigh_now;
use super::{Caution, Change, Matter, MeterNow, Occasion, Prompt, ReadingNow, Reason, Sentence, Situation, Verdict};
use crate::forecast::Forecast;
use crate::forecast::futures::Futures;
pub(super) use crate::forecast::futures::WORTH_SHOWING;
use crate::log::Symptom;
use crate::units::Rate;
use crate::wearer::{FLOOR_LINE_MG_DL, Wearer};

/// Up to this reading the weighing may say treat outright, in mg/dL above the low line; beyond it a meter comes first.
pub(super) const TREAT_WITHIN_MG_DL: f64 = 15.0;
/// Up to this reading a treat may go without a meter, in mg/dL above the low line: "at 120 and racing down: check, watch,
/// treat near 70".
pub(super) const NEAR_WITHIN_MG_DL: f64 = 30.0;
/// Not falling, with both chances of a low smaller than this, a fall has turned (assumption).
const HAS_TURNED: f64 = 0.1;
/// Slower than this glucose is shown as level, in mg/dL/min: a fall that is no faster has stopped.
const LEVEL: f64 = -0.3;
/// The time between readings where none is known, in minutes: that of most sensors.
pub(crate) const USUAL_SPACING_MINUTES: f64 = 5.0;
/// From this rate on the sensor shows a rise, in mg/dL/min (assumption).
pub(super) const RISE_SHOWS: f64 = 0.5;
/// Against an amount of insulin that may be an emergency, a step is looked after so soon, in minutes (assumption: one reading).
const FIGHTS_DOSE_LOOK_MINUTES: u16 = 5;
/// Insulin worth speaking of, in units.
pub(super) const SOME_INSULIN_UNITS: f64 = 0.3;
/// Carbohydrate worth speaking of, in g.
pub(super) const SOME_CARBOHYDRATE_G: f64 = 5.0;
/// A chance of crossing the floor line within half an hour this large is named (assumption).
const FLOOR_SHOWN_FROM: f64 = 0.02;

/// Decides.
#[must_use]
pub(crate) fn decide(situation: &Situation, wearer: &Wearer) -> Prompt {
    let case = Case::of(situation, wearer);
    let answer = case
        .severe_signs()
        .or_else(|| case.ketones_need_help())
        .or_else(|| case.rescue_failed())
        .or_else(|| case.low_meter())
        .or_else(|| case.two_checks_apart())
        .or_else(|| case.leading_meter())
        .or_else(|| case.no_or_old_reading())
        .or_else(|| case.feels_low())
        .or_else(|| case.rescue_working())
        .or_else(|| case.unusual_dose())
        .or_else(|| case.ended_or_stuck())
        .or_else(|| case.doubted())
        .or_else(|| case.low_and_believed())
        .or_else(|| case.other_sensor_low())
        .or_else(|| case.after_severe_signs())
        .or_else(|| case.first_day())
        .or_else(|| case.falling())
        .or_else(|| case.meter_apart())
        .or_else(|| case.vomiting_on_insulin())
        .or_else(|| case.ketones_known_or_wanted())
        .or_else(|| case.high_or_rising())
        .unwrap_or_else(|| case.steady());
    case.completed(answer)
}

/// What a rule answers, before reasons common to all are added.
pub(super) struct Answer {
    matter: Matter,
    verdict: Verdict,
    without_meter: Option<Verdict>,
    sentence: Sentence,
    because: Vec<Reason>,
    cautions: Vec<Caution>,
    look_again_minutes: Option<u16>,
    would_change: Vec<Change>,
}

impl Answer {
    pub(super) fn new(matter: Matter, verdict: Verdict, sentence: Sentence) -> Self {
        Self {
            matter,
            verdict,
            without_meter: None,
            sentence,
            because: Vec::new(),
            cautions: Vec::new(),
            look_again_minutes: None,
            would_change: Vec::new(),
        }
    }

    pub(super) fn treat(matter: Matter, sentence: Sentence) -> Self {
        Self::new(matter, Verdict::Treat, sentence)
            .look(15)
            .with_cautions(&[Caution::RecheckIn15, Caution::RiseTakesTime])
            .changing(&[Change::NewReadings])
    }

    pub(super) fn check(matter: Matter, sentence: Sentence, without_meter: Verdict) -> Self {
        Self::new(matter, Verdict::Check, sentence)
            .look(5)
            .without_meter(without_meter)
            .with_cautions(&[Caution::MeterDecides])
    }

    pub(super) fn is_treat(&self) -> bool {
        self.verdict == Verdict::Treat
    }

    pub(super) fn without_meter(mut self, verdict: Verdict) -> Self {
        self.without_meter = Some(verdict);
        self
    }

    pub(super) fn because(mut self, reasons: impl IntoIterator<Item = Reason>) -> Self {
        self.because.extend(reasons);
        self
    }

    pub(super) fn with_cautions(mut self, cautions: &[Caution]) -> Self {
        add_cautions(&mut self.cautions, cautions);
        self
    }

    pub(super) fn look(mut self, minutes: u16) -> Self {
        self.look_again_minutes = Some(minutes);
        self
    }

    pub(super) fn changing(mut self, changes: &[Change]) -> Self {
        self.would_change.extend_from_slice(changes);
        self
    }
}

/// The situation with what every rule asks of it.
pub(super) struct Case<'a> {
    pub(super) situation: &'a Situation,
    pub(super) wearer: &'a Wearer,
    pub(super) low: f64,
    pub(super) reading: Option<ReadingNow>,
    pub(super) rate: f64,
    pub(super) blood: f64,
    blood_sd: f64,
    pub(super) compression: f64,
    pub(super) unsettled: f64,
    pub(super) low_chance: f64,
}

impl<'a> Case<'a> {
    pub(super) fn of(situation: &'a Situation, wearer: &'a Wearer) -> Self {
        let estimate = situation.estimate.as_ref();
        Self {
            situation,
            wearer,
            low: wearer.low_line.mg_dl(),
            reading: situation.reading,
            rate: estimate.map_or(0.0, |estimate| estimate.rate.mg_dl_min()),
            blood: estimate.map_or(f64::INFINITY, |estimate| estimate.blood_mg_dl),
            blood_sd: estimate.map_or(0.0, |estimate| estimate.blood_sd_mg_dl),
            compression: estimate.map_or(0.0, |estimate| estimate.modes.compression),
            unsettled: estimate.map_or(0.0, |estimate| estimate.modes.unsettled),
            low_chance: situation.forecast.as_ref().map_or(0.0, |forecast| forecast.low.within_30),
        }
    }

    pub(super) fn matter(&self, otherwise: Matter) -> Matter {
        if self.situation.occasion == Occasion::Wake { Matter::NightWake } else { otherwise }
    }

    pub(super) fn falling_matter(&self) -> Matter {
        self.matter(Matter::Falling)
    }

    pub(super) fn feels(&self, symptom: Symptom) -> bool {
        self.situation.feels == Some(symptom)
    }

    /// Treating without a meter is right where waiting is the worse risk.
    pub(super) fn treat_or_hold(treat: bool) -> Verdict {
        if treat { Verdict::Treat } else { Verdict::Hold }
    }

    /// A person who is confused or cannot swallow needs help; no number changes that.
    fn severe_signs(&self) -> Option<Answer> {
        self.feels(Symptom::Severe).then(|| {
            Answer::new(self.falling_matter(), Verdict::Help, Sentence::CallForHelp)
                .because([Reason::SevereSigns])
                .with_cautions(&[Caution::NothingByMouth])
        })
    }

    /// What is felt: treat where the sensor agrees, check first where it does not, and treat where there is
    /// no meter.
    fn feels_low(&self) -> Option<Answer> {
        if !self.feels(Symptom::FeelsLow) {
            return None;
        }
        let reading = self.reading?;
        if let Some(rescue) = self.rescue_just_taken() {
            return Some(rescue.because([Reason::FeelsLow]));
        }
        if reading.mg_dl < self.low
            || self.corrected(reading) < self.low
            || (self.blood < self.low && self.compression < DOUBTED)
        {
            return Some(
                Answer::treat(self.falling_matter(), Sentence::TreatFeltLow)
                    .because([Reason::FeelsLow])
                    .with_cautions(&[Caution::FeelingsCount]),
            );
        }
        // A feeling beside a fall that would be treated without it agrees with the sensor.
        let treated = self.doubted().is_none()
            && self.first_day().is_none()
            && self.falling().is_some_and(|answer| answer.is_treat());
        if treated {
            return Some(
                Answer::treat(self.falling_matter(), Sentence::TreatFeltLow)
                    .because([Reason::FeelsLow])
                    .because(self.chances())
                    .because(self.futures())
                    .with_cautions(&[Caution::FeelingsCount]),
            );
        }
        Some(
            Answer::check(self.falling_matter(), Sentence::CheckFeltDisagrees, Verdict::Treat)
                .because([Reason::FeelsLow])
                .because(self.chances())
                .with_cautions(&[Caution::FeelingsCount, self.lags()])
                .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::MeterAbove { mg_dl: self.low }]),
        )
    }

    /// Signs of a severe low were noted lately, and something else as felt since. Whether it is over a meter says; somebody should be there.
    fn after_severe_signs(&self) -> Option<Answer> {
        let minutes = self.situation.severe_minutes_ago?;
        let seen = self.situation.meter.is_some_and(|meter| meter.age_minutes < minutes && meter.mg_dl >= self.low);
        let treats = self.first_day().is_none() && self.falling().is_some_and(|answer| answer.is_treat());
        if seen || treats {
            return None;
        }
        let near = self.reading.is_some_and(|reading| reading.mg_dl < self.low + NEAR_WITHIN_MG_DL);
        Some(
            Answer::check(self.falling_matter(), Sentence::CheckAfterSevere, Self::treat_or_hold(near))
                .because(self.chances())
                .with_cautions(&[Caution::CallSomebody])
                .look(15)
                .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow]),
        )
    }

    pub(super) fn weighs_treat(&self) -> bool {
        // The forecast of a sensor that is right where it is in doubt.
        let forecast = self.situation.if_right.as_ref().or(self.situation.forecast.as_ref());
        forecast.is_some_and(|forecast| self.weighs(forecast))
    }

    pub(super) fn weighs(&self, forecast: &Forecast) -> bool {
        let look = self.reading.map_or(USUAL_SPACING_MINUTES, |reading| reading.spacing_minutes);
        let weighing = weigh_now(forecast, self.wearer, self.situation.asleep, self.compression, look);
        let stays = self.situation.treat_said_minutes_ago.is_some() && !self.has_turned();
        weighing.says_treat() || (stays && weighing.still_says_treat())
    }

    /// Whether a fall is over by what is known now: what was said in it holds no longer.
    pub(super) fn has_turned(&self) -> bool {
        let waiting = self.situation.futures.map_or(0.0, |futures| futures.wait.p_low_30);
        self.rate > LEVEL && self.low_chance.max(waiting) < HAS_TURNED
    }

    pub(super) fn chances(&self) -> Vec<Reason> {
        self.situation.forecast.as_ref().map_or_else(Vec::new, chance_reasons)
    }

    /// Both futures, a line each, where they differ by what somebody would act on.
    pub(super) fn futures(&self) -> Vec<Reason> {
        let Some(futures) = self.situation.futures.filter(Futures::is_worth_showing) else {
            return Vec::new();
        };
        vec![
            Reason::IfWaiting {
                chance: futures.wait.p_low_30,
                within_minutes: 30,
                line_mg_dl: self.low,
                minutes_to_low: futures.wait.minutes_to_low,
            },
            Reason::IfTreating {
                chance: futures.treat.p_low_30,
                within_minutes: 30,
                line_mg_dl: self.low,
                high_chance: futures.treat.p_high_60,
            },
        ]
    }

    /// Whether the newest reading is low, and new enough to act on.
    pub(super) fn reads_low_now(&self) -> bool {
        self.reads_low() && self.reading.is_some_and(|reading| !self.is_stale(reading))
    }

    fn reads_low(&self) -> bool {
        self.reading.is_some_and(|reading| reading.mg_dl < self.low)
    }

    /// Whether a meter or the sensor shows glucose below the floor line.
    fn is_very_low(&self) -> bool {
        let below = |mg_dl: f64| mg_dl < FLOOR_LINE_MG_DL;
        self.situation
            .meter
            .map_or_else(|| self.reading.is_some_and(|one| below(one.mg_dl)), |meter| below(meter.mg_dl))
    }

    /// Whether what would change an answer holds already, and so changes nothing.
    fn holds_already(&self, change: &Change) -> bool {
        match change {
            Change::FeelingLow => self.feels(Symptom::FeelsLow),
            Change::ReadingBelow { mg_dl } => self.reading.is_some_and(|reading| reading.mg_dl < *mg_dl),
            _ => false,
        }
    }

    /// Says that the sensor lags: of a fall, or, where it shows a rise already, what a rise means.
    pub(super) fn lags(&self) -> Caution {
        if self.rate < RISE_SHOWS { Caution::SensorLags } else { Caution::SensorLagsRising }
    }

    /// Adds what is shown with every answer: the reading, the estimate, the rate, what is at work.
    fn completed(&self, answer: Answer) -> Prompt {
        let Answer {
            matter,
            verdict,
            without_meter,
            sentence,
            because,
            mut cautions,
            mut look_again_minutes,
            mut would_change,
        } = answer;
        let mut reasons = because;
        if let Some(other) = self.situation.other_sensor.filter(|other| (other.mg_dl < self.low) != self.reads_low()) {
            reasons.push(Reason::OtherSensor { mg_dl: other.mg_dl, age_minutes: other.age_minutes });
        }
        // A fresh check is part of every answer, also where nothing is to be decided.
        let says_meter = |reason: &Reason| matches!(reason, Reason::Meter { .. } | Reason::MeterBeyond { .. });
        if let Some(meter) = self.meter().filter(|_| !reasons.iter().any(says_meter)) {
            reasons.insert(0, meter.reason());
        }
        if let Some(reading) = self.reading {
            let ReadingNow { mg_dl, age_minutes, .. } = reading;
            reasons.push(match reading.limit {
                None => Reason::Reading { mg_dl, age_minutes },
                Some((beyond, mg_dl)) => Reason::ReadingBeyond { beyond, mg_dl, age_minutes },
            });
            if self.situation.estimate.is_some() && reading.age_minutes <= STALE_MINUTES {
                // Of a sensor that is probably pressed the estimate is what it would be without that, which another reason says.
                if self.compression < DOUBTED {
                    reasons.push(Reason::Blood { mg_dl: self.blood, sd_mg_dl: self.blood_sd });
                }
                // Nor does its rate say how fast the readings fell.
                if !sentence.is_of_pressure() {
                    let rate = Rate::from_mg_dl_min(self.rate);
                    reasons.push(Reason::Rate {
                        mg_dl_min: self.rate,
                        pace: rate.pace(),
                        in_30_mg_dl: 30.0 * self.rate,
                    });
                }
            }
        }
        for (symptom, reason) in [(Symptom::FeelsHigh, Reason::FeelsHigh), (Symptom::FeelsLow, Reason::FeelsLow)] {
            if self.feels(symptom) && !reasons.contains(&reason) {
                reasons.push(reason);
            }
        }
        // Whatever is decided, an amount that may be an emergency is never left out.
        if let Some(doubtful) = self.situation.doubtful_dose {
            reasons.push(doubtful.reason(doubtful.minutes_ago));
            add_cautions(&mut cautions, &[Caution::InsulinRightOrWrong, Caution::CallSomebody]);
            if verdict == Verdict::Treat {
                look_again_minutes = look_again_minutes.map(|minutes| minutes.min(FIGHTS_DOSE_LOOK_MINUTES));
            }
        }
        if let Some(minutes_ago) = self.situation.dose_minutes_ago {
            let units = self.situation.on_board.insulin_units;
            if units >= SOME_INSULIN_UNITS {
                reasons.push(Reason::InsulinOnBoard { units, minutes_ago });
            }
        }
        if self.situation.on_board.carbohydrate_g >= SOME_CARBOHYDRATE_G {
            reasons.push(Reason::CarbohydrateArriving { grams: self.situation.on_board.carbohydrate_g });
        }
        if let Some(alcohol) = self.situation.alcohol {
            reasons.push(Reason::Alcohol { drinks: alcohol.drinks, minutes_ago: alcohol.minutes_ago });
            add_cautions(&mut cautions, &[Caution::AlcoholLowersLater]);
        }
        let too_low_to_measure = self.situation.meter.is_some_and(MeterNow::is_too_low_to_measure);
        if verdict == Verdict::Treat && (self.is_very_low() && self.wearer.is_alone || too_low_to_measure) {
            add_cautions(&mut cautions, &[Caution::CallSomebody]);
        }
        let treats = without_meter.unwrap_or(verdict) == Verdict::Treat;
        self.add_sick_day(verdict, treats, matter, &mut reasons, &mut cautions);
        if let Some(moved) = self.situation.moved {
            reasons.push(Reason::Moved { minutes_ago: moved.minutes_ago });
        }
        if let Some(hours) = self.first_day_hours()
            && !reasons.iter().any(|reason| matches!(reason, Reason::FirstDay { .. }))
        {
            reasons.push(Reason::FirstDay { hours });
        }
        // After rescue carbohydrate a sensor that shows the rise needs no word that it takes time.
        if self.rate >= RISE_SHOWS && self.situation.rescue.is_some() {
            cautions.retain(|caution| *caution != Caution::RiseTakesTime);
        }
        would_change.retain(|change| !self.holds_already(change));
        Prompt {
            at: self.situation.now,
            matter,
            verdict,
            without_meter,
            sentence,
            reasons,
            cautions,
            look_again_minutes,
            would_change,
            estimate: self.situation.estimate,
            forecast: self.situation.forecast.clone(),
            futures: self.situation.futures,
            long: self.situation.long,
            on_board: self.situation.on_board,
        }
    }
}

fn chance_reasons(forecast: &Forecast) -> Vec<Reason> {
    let mut reasons = vec![Reason::ChanceLow {
        chance: forecast.low.within_30,
        within_minutes: 30,
        line_mg_dl: forecast.low.line_mg_dl,
        expected_minutes: forecast.low.expected_minutes,
    }];
    if forecast.floor.within_30 >= FLOOR_SHOWN_FROM {
        reasons.push(Reason::ChanceFloor {
            chance: forecast.floor.within_30,
            within_minutes: 30,
            line_mg_dl: forecast.floor.line_mg_dl,
        });
    }
    reasons
}

/// Each caution once, where it was first.
pub(super) fn add_cautions(to: &mut Vec<Caution>, cautions: &[Caution]) {
    for caution in cautions {
        if !to.contains(caution) {
            to.push(*caution);
        }
    }
}
