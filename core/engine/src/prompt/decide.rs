//! The guards, in order, and the weighing below them.
//!
//! The order is the point: a later rule never overrides an earlier one. Unless a source is named the rules are common
//! practice, no source.

use super::weigh::{Costs, chance_right, weigh, weigh_waiting};
use super::{
    Caution, Change, FIRST_DAY_HOURS, Matter, MeterNow, Moved, Occasion, Prompt, ReadingNow, Reason, RescueNow,
    Sentence, Situation, Verdict,
};
use crate::body::movement::lowers_for_hours;
use crate::engine::FASTER_THAN_GLUCOSE;
use crate::forecast::Forecast;
use crate::forecast::futures::Futures;
use crate::log::{InsulinKind, Symptom};
use crate::units::Rate;
use crate::wearer::{FLOOR_LINE_MG_DL, Wearer};

/// A meter check at or above the low line leads for this long, in minutes; after that the readings since say more.
const METER_LEADS_MINUTES: f64 = 10.0;
/// A reading this much newer than a meter check, about one interval of a sensor, says more of now, in minutes.
const NEWER_BY_MINUTES: f64 = 4.0;
/// A low meter check that nothing was eaten after is treated for this long, in minutes, and checked again until the other.
const LOW_METER_MINUTES: (f64, f64) = (15.0, 30.0);
/// A meter check this close above the low line is looked at again soon, in mg/dL.
const METER_NEAR_MG_DL: f64 = 15.0;
/// For so long a meter check well above the low line has answered what another would ask, in minutes.
const ANSWERED_MINUTES: f64 = 20.0;
/// A meter this far above an unremarkable sensor is more likely to have measured what was on the finger: the larger of an amount,
/// in mg/dL, and a share of the reading.
///
/// Source: fruit on the finger raised readings to several hundred (Hirose et al., Diabetes Care 2011;34:596-597, from memory).
const METER_FAR: (f64, f64) = (80.0, 0.6);
/// From this shift on sensor and meter stand apart, in mg/dL.
const APART_MG_DL: f64 = 12.0;
/// Readings below the low line for this long are no spike, in minutes.
const LOW_FOR_LONG_MINUTES: f64 = 20.0;
/// Pressure hardly lasts longer (assumption, with the mean duration of the modes), in minutes.
const PRESSED_FOR_LONG_MINUTES: f64 = 45.0;
/// Asleep, readings that were low for so long before they were doubted were low, in minutes (assumption).
const LOW_BEFORE_MINUTES: f64 = 15.0;
/// A fall of readings one after the other for so long is no pressure, which comes on within minutes (assumption), in minutes.
const LONG_FALL_MINUTES: f64 = 25.0;
/// This many rescues without coming up are a matter for two, in times.
const MANY_RESCUES: u32 = 3;
/// The very same reading for this long looks stuck, in minutes.
const STUCK_MINUTES: f64 = 60.0;
/// Insulin is reckoned with where it may lower this much further than the low line, less what carbohydrate may raise, in mg/dL.
const MORE_TO_COME_MG_DL: f64 = 40.0;
/// How likely a low within the hour must be, if nothing is done, for so much still to come beyond that, in mg/dL, to be worth a
/// finger-prick (chosen in the closed-loop trial, see `tests/docs/trial.md`).
const MORE_TO_COME: [(f64, f64); 2] = [(0.5, 50.0), (0.3, 100.0)];
/// Insulin that may lower by so much beyond that is reckoned with from further above the low line, both in mg/dL (assumption): doses
/// upon doses.
const MUCH_TO_COME_MG_DL: f64 = 150.0;
const MUCH_WITHIN_MG_DL: f64 = 60.0;
/// After movement or alcohol a slow fall is watched up to this reading, in mg/dL above the low line.
const LOWERED_WITHIN_MG_DL: f64 = 40.0;
/// Insulin that may lower by this much in half an hour is at work, in mg/dL.
const INSULIN_AT_WORK_MG_DL: f64 = 15.0;
/// The share of logged carbohydrate that is counted on.
const COUNTED_ON: f64 = 0.8;
/// Up to so many minutes after movement that lowers for hours a fall is taken more seriously.
const MOVED_MINUTES: f64 = 180.0;
/// A reading older than this says nothing of now, in minutes.
const STALE_MINUTES: f64 = 16.0;
/// What was seen up to this long ago may still hold, in minutes.
const LATELY_MINUTES: f64 = 90.0;
/// Rescue carbohydrate is given this long before the next, in minutes.
///
/// Source: Diabetes Canada guidelines ch. 14; ADA Standards of Care: recheck after 15 minutes, repeat if below 70 mg/dL.
const RESCUE_MINUTES: f64 = 15.0;
/// Sooner than this another step of carbohydrate cannot be judged by readings that only a meter puts below the floor line, in
/// minutes (assumption).
const STEP_FELT_MINUTES: f64 = 8.0;
/// While the estimate already rises, rescue carbohydrate taken up to this long ago is left to work, in minutes. Trials found
/// 29 to 38 minutes to 70 mg/dL (Diabetes 2019;68 Suppl 394-P).
const RESCUE_RISING_MINUTES: f64 = 40.0;
/// After rescue carbohydrate, glucose that rises is counted on to go on for so long, in minutes (assumption): a sensor's rise comes late.
const RISES_ON_MINUTES: f64 = 12.0;
/// A mode this likely is shown and acted on.
pub(super) const DOUBTED: f64 = 0.5;
/// A sensor this likely pressed is rolled off before anything else is done about readings that are not near the low line.
const SURELY_PRESSED: f64 = 0.9;
/// A pressed spell is waited out without a meter for this long, in minutes.
const PRESSED_PATIENCE_MINUTES: f64 = 20.0;
/// Once rolled off, a pressed sensor's readings come back within this time, in minutes; lows that stay longer are believed.
const COMES_BACK_MINUTES: f64 = 15.0;
/// A low reading this close behind a reading above the line is not over yet, in minutes.
const JUST_LOW_MINUTES: f64 = 15.0;
/// A chance of a low this large, just after one, is worth a finger-prick.
const MAY_BE_LOW_AGAIN: f64 = 0.25;
/// Rising this fast, glucose has probably left a low that the sensor still shows, in mg/dL/min.
const LEAVING_LOW: f64 = 1.0;
/// Above this rate nobody would speak of falling, in mg/dL/min.
const NOT_FALLING: f64 = -0.5;
/// Falling this fast, glucose is looked at again at the next reading, and a high with insulin behind it sooner than others, in mg/dL/min
/// (assumption).
pub(super) const FALLING_FAST: f64 = -1.5;
/// Such a fall that would reach the low line within so many minutes is watched, from whatever level (assumption).
const WATCHED_MINUTES: f64 = 45.0;
/// With insulin or movement behind it, this is a fall already, in mg/dL/min.
pub(super) const DRIFTING_DOWN: f64 = -0.3;
/// Falling this fast towards the low line is worth a finger-prick, in mg/dL/min: by the estimate, or as the sensor reads.
const RACING_DOWN: (f64, f64) = (2.0, 3.0);
/// Where such a fall reaches the low line within so many minutes it cannot be waited out. With more time than that the next reading
/// says more than a finger-prick (chosen in the closed-loop trial, `tests/docs/trial.md`).
const RACES_WITHIN_MINUTES: (f64, f64) = (30.0, 25.0);
/// The chance of a low from which a fall by the estimate counts as one, unless it is as fast as the faster of both.
const RACES_LIKELY: f64 = 0.15;
/// A sensor that reads this seldom, in minutes: older ones read each quarter of an hour.
const SELDOM_MINUTES: f64 = 10.0;
/// A reading may come later than its time by this factor (assumption).
const LATE_READING: f64 = 1.2;
/// Up to this reading the weighing may say treat outright, in mg/dL above the low line; beyond it a meter comes first.
const TREAT_WITHIN_MG_DL: f64 = 15.0;
/// The same where logged insulin is behind the fall and blood glucose is near the line already.
const TREAT_BY_LOG_MG_DL: f64 = 50.0;
/// Up to this reading a treat may go without a meter, in mg/dL above the low line: "at 120 and racing down: check, watch,
/// treat near 70".
const NEAR_WITHIN_MG_DL: f64 = 30.0;
/// A chance of a low this large is worth a finger-prick.
const WORTH_A_CHECK: f64 = 0.5;
/// A chance of a low this large is worth showing.
const WORTH_SHOWING: f64 = 0.08;
/// A sudden drop in doubt is shown up to this reading, in mg/dL above the low line.
const DROPPED_WITHIN_MG_DL: f64 = 50.0;
/// A steady reading this close above the low line is looked at again before long, in mg/dL.
const NEAR_STEADY_MG_DL: f64 = 25.0;
/// Insulin worth speaking of, in units.
pub(super) const SOME_INSULIN_UNITS: f64 = 0.3;
/// Carbohydrate worth speaking of, in g.
pub(super) const SOME_CARBOHYDRATE_G: f64 = 5.0;
/// Decides.
#[must_use]
pub fn decide(situation: &Situation, wearer: &Wearer) -> Prompt {
    let case = Case::of(situation, wearer);
    let answer = case
        .severe_signs()
        .or_else(|| case.ketones_need_help())
        .or_else(|| case.rescue_failed())
        .or_else(|| case.low_meter())
        .or_else(|| case.leading_meter())
        .or_else(|| case.no_or_old_reading())
        .or_else(|| case.feels_low())
        .or_else(|| case.rescue_working())
        .or_else(|| case.unusual_dose())
        .or_else(|| case.ended_or_stuck())
        .or_else(|| case.doubted())
        .or_else(|| case.low_and_believed())
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

    fn treat(matter: Matter, sentence: Sentence) -> Self {
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

    pub(super) fn without_meter(mut self, verdict: Verdict) -> Self {
        self.without_meter = Some(verdict);
        self
    }

    pub(super) fn because(mut self, reasons: impl IntoIterator<Item = Reason>) -> Self {
        self.because.extend(reasons);
        self
    }

    pub(super) fn with_cautions(mut self, cautions: &[Caution]) -> Self {
        self.cautions.extend_from_slice(cautions);
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
    blood: f64,
    blood_sd: f64,
    pub(super) pressed: f64,
    pub(super) unsettled: f64,
    low_chance: f64,
}

impl<'a> Case<'a> {
    fn of(situation: &'a Situation, wearer: &'a Wearer) -> Self {
        let estimate = situation.estimate.as_ref();
        Self {
            situation,
            wearer,
            low: wearer.low_line.mg_dl(),
            reading: situation.reading,
            rate: estimate.map_or(0.0, |estimate| estimate.rate.mg_dl_min()),
            blood: estimate.map_or(f64::INFINITY, |estimate| estimate.blood_mg_dl),
            blood_sd: estimate.map_or(0.0, |estimate| estimate.blood_sd_mg_dl),
            pressed: estimate.map_or(0.0, |estimate| estimate.modes.pressed),
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

    fn meter(&self) -> Option<MeterNow> {
        self.situation.meter.filter(|meter| meter.age_minutes <= METER_LEADS_MINUTES)
    }

    /// Treating without a meter is right where waiting is the worse risk.
    fn treat_or_hold(treat: bool) -> Verdict {
        if treat { Verdict::Treat } else { Verdict::Hold }
    }

    /// Guard 1: a person who is confused or cannot swallow needs help; no number changes that.
    fn severe_signs(&self) -> Option<Answer> {
        self.feels(Symptom::Severe).then(|| {
            Answer::new(self.falling_matter(), Verdict::Help, Sentence::CallForHelp)
                .because([Reason::SevereSigns])
                .with_cautions(&[Caution::NothingByMouth])
        })
    }

    /// Rescue carbohydrate taken three times and still low after its quarter of an hour: two should deal with this.
    fn rescue_failed(&self) -> Option<Answer> {
        let rescue = self.situation.rescue?;
        let measured_low = self
            .situation
            .meter
            .filter(|meter| meter.age_minutes <= rescue.minutes_ago)
            .map_or_else(|| self.reading.map(|reading| reading.mg_dl), |meter| Some(meter.mg_dl))
            .is_some_and(|mg_dl| mg_dl < self.low);
        (rescue.treatments >= MANY_RESCUES && rescue.minutes_ago >= RESCUE_MINUTES && measured_low).then(|| {
            Answer::treat(self.falling_matter(), Sentence::TreatAgainAndCall)
                .because([Reason::Rescues { times: rescue.treatments }])
                .with_cautions(&[Caution::CallSomebody])
        })
    }

    /// Guard 2, the low side: a low meter check is treated until something was eaten after it or something newer is known.
    fn low_meter(&self) -> Option<Answer> {
        let meter = self.situation.meter.filter(|meter| meter.mg_dl < self.low)?;
        let (treated, checked) = LOW_METER_MINUTES;
        let reason = Reason::Meter { mg_dl: meter.mg_dl, age_minutes: meter.age_minutes };
        // What was eaten after a measurement outranks it.
        let eaten_after = self.situation.eaten_minutes_ago.is_some_and(|minutes| minutes <= meter.age_minutes);
        if let Some(rescue) = self.rescue_in_time() {
            let through_the_floor = meter.mg_dl < FLOOR_LINE_MG_DL && meter.age_minutes < rescue.minutes_ago;
            if !through_the_floor {
                return Some(self.rescue_answer(rescue).because([reason]));
            }
        }
        // A meal is no rescue: it counts against an older check alone.
        let rescued = self.situation.rescue.is_some_and(|rescue| rescue.minutes_ago <= meter.age_minutes);
        if meter.age_minutes <= treated && !rescued {
            return Some(Answer::treat(self.falling_matter(), Sentence::TreatConfirmedLow).because([reason]));
        }
        if eaten_after {
            return None;
        }
        (meter.age_minutes <= checked).then(|| {
            if self.weighs_treat() {
                return Answer::treat(self.falling_matter(), Sentence::TreatBeforeLow)
                    .because([reason])
                    .because(self.chances());
            }
            Answer::check(self.falling_matter(), Sentence::CheckMeterWasLow, Verdict::Treat)
                .because([reason])
                .changing(&[Change::MeterAbove { mg_dl: self.low }])
        })
    }

    /// Guard 2, the other side: a meter check at or above the low line leads over the readings of its time.
    fn leading_meter(&self) -> Option<Answer> {
        let meter = self.meter().filter(|meter| meter.mg_dl >= self.low)?;
        let reason = Reason::Meter { mg_dl: meter.mg_dl, age_minutes: meter.age_minutes };
        if self.feels(Symptom::FeelsLow) {
            // A feeling is never talked away, by a meter check neither; nor by carbohydrate that has not worked yet.
            if let Some(rescue) = self.rescue_in_time() {
                return Some(self.rescue_answer(rescue).because([reason, Reason::FeelsLow]));
            }
            let near = meter.mg_dl < self.low + METER_NEAR_MG_DL;
            let reading_low = self.reading.is_some_and(|reading| reading.mg_dl < self.low && !self.is_stale(reading));
            let answer = if near || reading_low {
                Answer::treat(self.falling_matter(), Sentence::TreatFeltLow)
            } else {
                Answer::check(self.falling_matter(), Sentence::CheckFeltMeterDisagrees, Verdict::Treat)
                    .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow])
            };
            return Some(answer.because([reason, Reason::FeelsLow]).with_cautions(&[Caution::FeelingsCount]));
        }
        // Readings made since the check are newer knowledge; the check speaks through what it says of the sensor.
        let doubted = self.pressed + self.unsettled > DOUBTED;
        let newer =
            !doubted && self.reading.is_some_and(|reading| reading.age_minutes < meter.age_minutes - NEWER_BY_MINUTES);
        if newer {
            return None;
        }
        let (far_mg_dl, far_share) = METER_FAR;
        let far = self.reading.filter(|reading| !self.is_stale(*reading)).is_some_and(|reading| {
            reading.mg_dl >= self.low && meter.mg_dl - reading.mg_dl > far_mg_dl.max(far_share * reading.mg_dl)
        });
        if far {
            return Some(
                Answer::check(self.falling_matter(), Sentence::CheckMeterHigh, Verdict::Hold)
                    .because([reason])
                    .with_cautions(&[Caution::NoDose])
                    .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::NewReadings]),
            );
        }
        let near = meter.mg_dl < self.low + METER_NEAR_MG_DL;
        if let Some(rescue) = self.rescue_in_time().filter(|_| near) {
            return Some(self.rescue_answer(rescue).because([reason]));
        }
        let weighed = self.weighs_treat();
        if near && self.rate < -1.0 && weighed {
            return Some(
                Answer::treat(self.falling_matter(), Sentence::TreatBeforeLow)
                    .because([reason])
                    .because(self.chances()),
            );
        }
        if near {
            return Some(
                Answer::new(self.falling_matter(), Verdict::Hold, Sentence::HoldMeterNear)
                    .because([reason])
                    .look(if self.rate <= NOT_FALLING { 5 } else { 15 })
                    .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow]),
            );
        }
        let falling_or_low = self.reading.is_some_and(|reading| reading.mg_dl < self.low)
            || self.rate <= -1.0
            || self.low_chance >= WORTH_SHOWING;
        falling_or_low.then(|| {
            // A doubted sensor's chances are of its readings, not of glucose: beside a meter they would only frighten.
            let chances = if self.pressed + self.unsettled > DOUBTED { Vec::new() } else { self.chances() };
            Answer::new(self.falling_matter(), Verdict::Hold, Sentence::HoldMeterAbove)
                .because([reason])
                .because(chances)
                .look(if self.rate <= -1.0 || weighed { 5 } else { 10 })
                .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow])
        })
    }

    pub(super) fn is_stale(&self, reading: ReadingNow) -> bool {
        reading.age_minutes > STALE_MINUTES.max(3.0 * reading.spacing_minutes.min(6.0))
    }

    /// Rescue carbohydrate that has not had its quarter of an hour yet.
    fn rescue_in_time(&self) -> Option<RescueNow> {
        self.situation.rescue.filter(|rescue| rescue.minutes_ago <= RESCUE_MINUTES)
    }

    /// Guard 4, part one: nothing to go by, or only something old.
    fn no_or_old_reading(&self) -> Option<Answer> {
        let felt = self.feels(Symptom::FeelsLow);
        let Some(reading) = self.reading else {
            // A meter is the only way to know; who has none and is in doubt treats.
            let answer = Answer::check(Matter::TooLittle, Sentence::NoReadings, Verdict::Treat)
                .with_cautions(&[Caution::InDoubtTreat]);
            return Some(if felt {
                answer.because([Reason::FeelsLow])
            } else {
                answer.changing(&[Change::NewReadings])
            });
        };
        self.is_stale(reading).then(|| {
            // What was last seen low, or falling towards it, is treated where nobody can check, unless it is hours ago.
            let lately = reading.age_minutes <= LATELY_MINUTES;
            let falling = reading.mg_dl < self.low + TREAT_WITHIN_MG_DL && self.rate < 0.0;
            let was_low = lately && (reading.mg_dl < self.low || falling) && self.pressed < DOUBTED;
            Answer::check(self.falling_matter(), Sentence::CheckStale, Self::treat_or_hold(felt || was_low))
                .because([Reason::Stale { age_minutes: reading.age_minutes }])
                .because(felt.then_some(Reason::FeelsLow))
                .changing(&[Change::NewReadings, Change::MeterBelow { mg_dl: self.low }])
        })
    }

    /// Guards 3 and 4 for what is felt: treat where the sensor agrees, check first where it does not, and treat where there is
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
            || (self.blood < self.low && self.pressed < DOUBTED)
        {
            return Some(
                Answer::treat(self.falling_matter(), Sentence::TreatFeltLow)
                    .because([Reason::FeelsLow])
                    .with_cautions(&[Caution::FeelingsCount]),
            );
        }
        Some(
            Answer::check(self.falling_matter(), Sentence::CheckFeltDisagrees, Verdict::Treat)
                .because([Reason::FeelsLow])
                .because(self.chances())
                .with_cautions(&[Caution::FeelingsCount, Caution::SensorLags])
                .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::MeterAbove { mg_dl: self.low }]),
        )
    }

    /// Guard: an amount of insulin that is probably a slip of the finger, and an emergency if it is none.
    fn unusual_dose(&self) -> Option<Answer> {
        let doubtful = self.situation.doubtful_dose?;
        let reading = self.reading?;
        // Low or nearly so the rules for lows come first: they are at least as careful.
        if reading.mg_dl < self.low + TREAT_WITHIN_MG_DL {
            return None;
        }
        // Half a day of long-acting insulin is watched, not checked every quarter of an hour.
        let minutes = if doubtful.dose.kind == InsulinKind::Rapid { 15 } else { 30 };
        let falling = self.rate <= NOT_FALLING && reading.mg_dl < self.wearer.high_line.mg_dl();
        let treat = falling || self.weighs_treat();
        let answer = if !treat && self.check_answered() {
            Answer::new(self.falling_matter(), Verdict::Hold, Sentence::HoldMeterAbove)
        } else {
            Answer::check(self.falling_matter(), Sentence::CheckInsulin, Self::treat_or_hold(treat))
        };
        let answer = answer
            .because([Reason::DoubtfulDose { units: doubtful.dose.units, minutes_ago: doubtful.minutes_ago }])
            .because(self.chances())
            .with_cautions(&[Caution::InsulinRightOrWrong, Caution::CallSomebody])
            .look(minutes);
        Some(answer.changing(&[Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow]))
    }

    /// Guard 4: a sensor that is over, or that shows one number only.
    fn ended_or_stuck(&self) -> Option<Answer> {
        let reading = self.reading?;
        let low = reading.mg_dl < self.low;
        if let Some(minutes_ago) = self.situation.ended_minutes_ago {
            return Some(
                Answer::check(self.matter(Matter::TooLittle), Sentence::CheckEnded, Self::treat_or_hold(low))
                    .because([Reason::Ended { minutes_ago }])
                    .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow]),
            );
        }
        // Lows are often truly flat once the sensor's scale ends; they are left to the rules for lows unless a meter spoke
        // against them.
        let spoken_against = self.situation.meter.is_some_and(|meter| meter.mg_dl >= self.low);
        let stuck = reading.same_for_minutes >= STUCK_MINUTES && reading.beyond.is_none();
        (stuck && (!low || spoken_against)).then(|| {
            Answer::check(self.matter(Matter::Steady), Sentence::CheckStuck, Self::treat_or_hold(low))
                .because([Reason::Stuck { minutes: reading.same_for_minutes }])
                .look(15)
                .changing(&[Change::NewReadings, Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow])
        })
    }

    /// What the reading would be by a sensor that agrees with the meter, in mg/dL.
    fn corrected(&self, reading: ReadingNow) -> f64 {
        reading.mg_dl + self.situation.forecast.as_ref().map_or(0.0, |forecast| forecast.shift_mg_dl)
    }

    /// Guard 4, part two: a reading that the sensor's mode puts in doubt.
    fn doubted(&self) -> Option<Answer> {
        let reading = self.reading?;
        let dropped = reading.steady_before.is_some() && reading.mg_dl < self.low + DROPPED_WITHIN_MG_DL;
        let matters =
            dropped || reading.mg_dl < self.low + TREAT_WITHIN_MG_DL || self.situation.occasion == Occasion::Wake;
        let modes_doubt = self.pressed + self.unsettled > DOUBTED;
        let sudden = reading
            .steady_before
            .is_some_and(|(from_mg_dl, minutes)| from_mg_dl - reading.mg_dl > FASTER_THAN_GLUCOSE * minutes);
        // A low that lasts is no spike; only a sleeper's sensor may be pressed for longer.
        let may_be_pressed = self.situation.asleep && self.pressed > DOUBTED;
        let lasts =
            reading.low_for_minutes >= if may_be_pressed { PRESSED_FOR_LONG_MINUTES } else { LOW_FOR_LONG_MINUTES };
        // Low and believed before the doubt began: a still lower reading does not make it less so.
        // Asleep, the first low readings may be the pressure that is only seen later.
        let low_before = reading.low_for_minutes - reading.pressed_for_minutes;
        let before_doubt = if self.situation.asleep { low_before >= LOW_BEFORE_MINUTES } else { low_before > 0.0 };
        let was_low = reading.mg_dl < self.low && before_doubt;
        // Pressure comes on within minutes; what fell reading after reading for longer is a fall.
        let long_fall = reading.falling_for_minutes >= LONG_FALL_MINUTES;
        if !matters || !(modes_doubt || sudden) || lasts || was_low || long_fall {
            return None;
        }
        let drop = reading.steady_before.map(|(from_mg_dl, minutes)| Reason::SuddenDrop {
            from_mg_dl,
            to_mg_dl: reading.mg_dl,
            minutes,
        });
        if modes_doubt && self.pressed >= self.unsettled {
            return Some(self.pressed_answer(reading, drop));
        }
        // A jump to a low in the middle of calm is checked; where nobody can, a low is treated.
        Some(
            Answer::check(
                self.falling_matter(),
                Sentence::CheckUnsettled,
                Self::treat_or_hold(reading.mg_dl < self.low || self.weighs_treat()),
            )
            .because(modes_doubt.then_some(Reason::Unsettled { chance: self.pressed + self.unsettled }))
            .because(drop)
            .with_cautions(&[Caution::InDoubtTreat])
            .changing(&[Change::NewReadings, Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow]),
        )
    }

    /// A sensor that looks pressed: roll off it, then give the readings their time to come back. What does not come back was no
    /// pressure.
    fn pressed_answer(&self, reading: ReadingNow, drop: Option<Reason>) -> Answer {
        let without_mg_dl = self.situation.blood_if_pressed_mg_dl;
        let rolled = self.situation.rolled_off_minutes_ago;
        // The readings were given their time since, and the newest one is from after it.
        let given_time = rolled.is_some_and(|minutes| minutes - reading.age_minutes >= COMES_BACK_MINUTES);
        // Where insulin may be lowering, waiting for the sensor to come back is no longer safe.
        let insulin = self.insulin_to_come(reading) > 0.0 || self.situation.effects.insulin > INSULIN_AT_WORK_MG_DL;
        let patient = without_mg_dl >= self.low && reading.pressed_for_minutes < PRESSED_PATIENCE_MINUTES && !insulin;
        let hold = !self.weighs_treat() && (patient && !given_time || reading.mg_dl >= self.low);
        // Not near the line, and surely pressed: rolling off costs nothing, and the next reading says more than a finger-prick would.
        let rolls_off = self.pressed >= SURELY_PRESSED
            && self.situation.asleep
            && reading.mg_dl >= self.low + TREAT_WITHIN_MG_DL
            && hold
            && !insulin
            && rolled.is_none()
            && self.situation.occasion != Occasion::Wake;
        let sentence = match rolled {
            None => Sentence::CheckPressed,
            Some(_) if given_time => Sentence::CheckStillLow,
            Some(_) => Sentence::CheckRolledOff,
        };
        let answer = if rolls_off {
            Answer::new(self.falling_matter(), Verdict::Hold, Sentence::HoldPressed).look(10)
        } else {
            Answer::check(self.falling_matter(), sentence, Self::treat_or_hold(!hold))
        };
        answer
            .because(rolled.map(|minutes_ago| Reason::RolledOff { minutes_ago }))
            .because((!given_time).then_some(Reason::Pressed { chance: self.pressed, without_mg_dl }))
            .because(drop)
            .with_cautions(&[Caution::InDoubtTreat])
            .changing(if given_time { &[] } else { &[Change::ReadingsComeBack] })
            .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow])
    }

    /// Guard 5: rescue carbohydrate needs its 15 minutes, unless glucose falls through the floor line.
    fn rescue_working(&self) -> Option<Answer> {
        let rescue = self.situation.rescue?;
        let reading = self.reading?;
        if let Some(answer) = self.rescue_just_taken() {
            return Some(answer);
        }
        // The sensor still shows the low that blood has left: rising is what was hoped for.
        let soon = self.blood + RISES_ON_MINUTES * self.rate;
        let rising = self.rate >= 0.5 && soon >= self.low && reading.mg_dl >= FLOOR_LINE_MG_DL;
        (rescue.minutes_ago <= RESCUE_RISING_MINUTES && rising && reading.mg_dl < self.low + TREAT_WITHIN_MG_DL)
            .then(|| self.rescue_answer(rescue).with_cautions(&[Caution::SensorLags]))
    }

    fn rescue_just_taken(&self) -> Option<Answer> {
        let rescue = self.rescue_in_time()?;
        let reading = self.reading?;
        // By the meter's word of this sensor too, once a first step could have been felt.
        // By blood glucose too where insulin is behind it: the sensor shows later what it is.
        let lowest =
            if self.insulin_at_work() { self.corrected(reading).min(self.blood) } else { self.corrected(reading) };
        let by_meter = rescue.minutes_ago >= STEP_FELT_MINUTES && lowest < FLOOR_LINE_MG_DL;
        let through_the_floor = (reading.mg_dl < FLOOR_LINE_MG_DL || by_meter) && self.rate < 0.0;
        let concerns = reading.mg_dl < self.low + NEAR_WITHIN_MG_DL || self.low_chance >= WORTH_SHOWING;
        (concerns && !through_the_floor).then(|| self.rescue_answer(rescue))
    }

    fn rescue_answer(&self, rescue: RescueNow) -> Answer {
        let RescueNow { grams, minutes_ago, .. } = rescue;
        // 1 to 15 minutes, so the cast is exact enough.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let left = (RESCUE_MINUTES - minutes_ago).clamp(5.0, RESCUE_MINUTES).ceil() as u16;
        Answer::new(self.falling_matter(), Verdict::Hold, Sentence::HoldRescueWorking)
            .because([Reason::Rescue { grams, minutes_ago }])
            .with_cautions(&[Caution::RiseTakesTime])
            .look(left)
            .changing(&[
                Change::ReadingBelow { mg_dl: FLOOR_LINE_MG_DL },
                Change::MeterBelow { mg_dl: FLOOR_LINE_MG_DL },
                Change::FeelingLow,
            ])
    }

    /// Guard 3: low, and nothing puts it in doubt.
    fn low_and_believed(&self) -> Option<Answer> {
        let reading = self.reading?;
        if reading.mg_dl >= self.low {
            return None;
        }
        if let Some(hours) = self.first_day_hours() {
            return Some(
                Answer::check(self.falling_matter(), Sentence::CheckUnsettled, Verdict::Treat)
                    .because([Reason::FirstDay { hours }])
                    .with_cautions(&[Caution::FirstDayUnreliable, Caution::InDoubtTreat])
                    .changing(&[Change::MeterAbove { mg_dl: self.low }]),
            );
        }
        // A check within the hour says that the sensor reads too low: worth another, no reason to wait.
        if self.corrected(reading) >= self.low && self.situation.meter.is_some() {
            return Some(self.apart_answer(Verdict::Treat));
        }
        let forecast = self.situation.forecast.as_ref();
        let soon = forecast.and_then(|forecast| forecast.corrected().nth(2)).map_or(0.0, |ahead| ahead.reading_mg_dl);
        let leaving = self.rate >= LEAVING_LOW && self.blood >= self.low && soon >= self.low;
        if leaving && reading.mg_dl >= FLOOR_LINE_MG_DL {
            return Some(
                Answer::check(self.falling_matter(), Sentence::CheckLowRising, Verdict::Treat)
                    .with_cautions(&[Caution::SensorLags, Caution::InDoubtTreat])
                    .changing(&[Change::ReadingAbove { mg_dl: self.low }, Change::MeterAbove { mg_dl: self.low }]),
            );
        }
        let sentence = if reading.mg_dl < FLOOR_LINE_MG_DL { Sentence::TreatBelowFloor } else { Sentence::TreatLow };
        Some(Answer::treat(self.falling_matter(), sentence))
    }

    fn first_day_hours(&self) -> Option<f64> {
        self.situation.sensor_hours.filter(|hours| *hours < FIRST_DAY_HOURS)
    }

    /// Guard 4, part three: in the first day of a sensor, what would be a treat is a check.
    fn first_day(&self) -> Option<Answer> {
        let hours = self.first_day_hours()?;
        let reading = self.reading?;
        let near = reading.mg_dl < self.low + NEAR_WITHIN_MG_DL;
        (near && self.weighs_treat()).then(|| {
            Answer::check(self.falling_matter(), Sentence::CheckUnsettled, Verdict::Treat)
                .because([Reason::FirstDay { hours }])
                .because(self.chances())
                .with_cautions(&[Caution::FirstDayUnreliable])
                .changing(&[Change::MeterAbove { mg_dl: self.low }])
        })
    }

    /// Rule 6: the weighing, for what is not low yet.
    fn falling(&self) -> Option<Answer> {
        let reading = self.reading?;
        let races = self.races_to_low(reading);
        let by_log = self.log_weighs_treat(reading);
        let treat = by_log || self.weighs_treat();
        let more = self.more_to_come(reading);
        let level = self.level(reading);
        let by_meter_low = self.corrected(reading) < self.low;
        let concerns = self.low_chance >= WORTH_SHOWING
            || (self.rate <= -1.0 && reading.mg_dl < self.low + 60.0)
            || (self.rate <= FALLING_FAST && reading.mg_dl + WATCHED_MINUTES * self.rate < self.low)
            || races
            || treat
            || more
            || self.lowered_for_hours(reading)
            || self.insulin_lowers(reading)
            || by_meter_low;
        if !concerns {
            return None;
        }
        let below = [Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow];
        let answered = self.check_answered();
        let ask = |sentence, without| {
            if !answered {
                return Answer::check(self.falling_matter(), sentence, without).changing(&below);
            }
            if without == Verdict::Treat {
                return Answer::treat(self.falling_matter(), Sentence::TreatBeforeLow);
            }
            Answer::new(self.falling_matter(), Verdict::Hold, Sentence::HoldFalling).look(5).changing(&below)
        };
        let fast = |without| {
            ask(Sentence::CheckFallingFast, without)
                .with_cautions(&[Caution::SensorLags])
                .changing(&[Change::ReadingBelow { mg_dl: self.low + TREAT_WITHIN_MG_DL }])
        };
        let near = level < self.low + NEAR_WITHIN_MG_DL;
        let outright = by_log && reading.mg_dl < self.low + TREAT_BY_LOG_MG_DL;
        let answer = if outright || treat && (level < self.low + TREAT_WITHIN_MG_DL || by_meter_low) {
            // With more to come, one step may not be enough: the next look is sooner.
            Answer::treat(self.falling_matter(), Sentence::TreatBeforeLow)
                .look(if more { 5 } else { 15 })
                .changing(&[Change::MeterAbove { mg_dl: self.low + TREAT_WITHIN_MG_DL }])
        } else if by_meter_low {
            self.apart_answer(Self::treat_or_hold(self.rate <= NOT_FALLING || treat))
        } else if treat {
            fast(Self::treat_or_hold(near))
        } else if self.hidden_by_meter(reading) {
            // Without the difference to the meter this would be treated: one of the two hides a low.
            self.apart_answer(Verdict::Treat)
        } else if races {
            fast(Verdict::Hold)
        } else if more {
            ask(Sentence::CheckMoreToCome, Verdict::Hold)
        } else if self.low_chance >= WORTH_A_CHECK {
            ask(Sentence::CheckNearLow, Verdict::Hold).changing(&[Change::ReadingBelow { mg_dl: self.low }])
        } else if self.low_chance >= MAY_BE_LOW_AGAIN
            && reading.low_minutes_before.is_some_and(|minutes| minutes <= JUST_LOW_MINUTES)
        {
            let treat = self.rate <= NOT_FALLING;
            ask(Sentence::CheckJustLow, Self::treat_or_hold(treat))
                .changing(&[Change::ReadingBelow { mg_dl: self.low }])
        } else {
            let sentence = if self.rate > NOT_FALLING { Sentence::HoldNearLow } else { Sentence::HoldFalling };
            Answer::new(self.falling_matter(), Verdict::Hold, sentence)
                .look(self.look_again(reading))
                .with_cautions(if self.rate > NOT_FALLING { &[] } else { &[Caution::SensorLags] })
                .changing(&[
                    Change::ReadingBelow { mg_dl: self.low },
                    Change::FallingFasterThan { mg_dl_min: faster_than(self.rate) },
                    Change::FeelingLow,
                ])
        };
        Some(answer.because(self.chances()).because(self.futures()).because(self.easing()))
    }

    /// A meter check of the last minutes, well above the low line, has answered what another would ask, unless the fall since would
    /// have brought glucose near the line.
    pub(super) fn check_answered(&self) -> bool {
        self.situation.meter.is_some_and(|meter| {
            let by_now = meter.mg_dl + self.rate.min(0.0) * meter.age_minutes;
            meter.age_minutes <= ANSWERED_MINUTES && by_now >= self.low + METER_NEAR_MG_DL
        })
    }

    /// Logged insulin is at work and has more to lower, by the wearer's own factor, than logged carbohydrate has to raise.
    fn insulin_at_work(&self) -> bool {
        self.wearer.insulin_factor_mg_dl_per_unit.is_some() && self.insulin_beyond_meals() > INSULIN_AT_WORK_MG_DL
    }

    /// By how much insulin on board, less the carbohydrate that is counted on, may lower glucose, in mg/dL.
    fn insulin_beyond_meals(&self) -> f64 {
        let effects = &self.situation.effects;
        effects.insulin_left - COUNTED_ON * effects.carbohydrate_left
    }

    /// The level a fall is judged at, in mg/dL: the reading, or blood glucose where that is lower and insulin is behind the fall.
    fn level(&self, reading: ReadingNow) -> f64 {
        if self.insulin_at_work() { reading.mg_dl.min(self.blood) } else { reading.mg_dl }
    }

    /// The weighing of blood glucose if nothing is done, with what was logged: a fall near the line with insulin behind it.
    fn log_weighs_treat(&self, reading: ReadingNow) -> bool {
        let Some(futures) = self.situation.futures else { return false };
        let right = chance_right(self.situation.asleep, self.pressed);
        // Well above the line most falls level off by themselves, with insulin behind them too.
        let likely = futures.wait.p_low_30 >= WORTH_A_CHECK || reading.mg_dl < self.low + NEAR_WITHIN_MG_DL;
        self.insulin_at_work()
            && likely
            && self.rate <= DRIFTING_DOWN
            && self.level(reading) < self.low + NEAR_WITHIN_MG_DL
            && weigh_waiting(&futures.wait, right, Costs::of(self.wearer), reading.spacing_minutes).says_treat()
    }

    /// A fall that cannot be waited out: at the rate of the estimate or of the readings it reaches the low line within half an
    /// hour, from whatever level.
    fn races_to_low(&self, reading: ReadingNow) -> bool {
        let (estimated, read) = RACING_DOWN;
        let (estimated_minutes, read_minutes) = RACES_WITHIN_MINUTES;
        let reaches = |minutes: f64, rate: f64, from: f64| from + minutes * rate < self.low;
        // A still lower reading may look pressed: then the rate is that of a sensor that is right.
        let rate = self.situation.rate_if_right_mg_dl_min.map_or(self.rate, |rate| rate.min(self.rate));
        let likely = self.low_chance >= RACES_LIKELY || rate <= -read;
        // A sensor that reads seldom shows a fall late, and its next reading may be the low.
        let seldom = reading.spacing_minutes >= SELDOM_MINUTES
            && reading.read_rate_mg_dl_min.is_some_and(|rate| {
                rate <= -1.0 && reading.mg_dl + LATE_READING * reading.spacing_minutes * rate <= self.low
            });
        seldom
            || (rate <= -estimated && likely && reaches(estimated_minutes, rate, self.blood))
            || reading
                .read_rate_mg_dl_min
                .is_some_and(|rate| rate <= -read && reaches(read_minutes, rate, reading.mg_dl))
    }

    /// By how much insulin on board, less the carbohydrate that is counted on, may lower glucose beyond the low line, in mg/dL.
    fn insulin_to_come(&self, reading: ReadingNow) -> f64 {
        self.insulin_beyond_meals() - (reading.mg_dl - self.low) - MORE_TO_COME_MG_DL
    }

    /// A fall near the line that insulin on board or movement may take further than the readings show yet.
    fn more_to_come(&self, reading: ReadingNow) -> bool {
        let more = self.insulin_to_come(reading);
        let within = if more > MUCH_TO_COME_MG_DL { MUCH_WITHIN_MG_DL } else { NEAR_WITHIN_MG_DL };
        if self.rate > DRIFTING_DOWN || reading.mg_dl >= self.low + within {
            return false;
        }
        let moved = self.moved_hard().is_some_and(|moved| moved.minutes_ago <= MOVED_MINUTES)
            || self.situation.alcohol.is_some();
        let chance = self.situation.futures.map_or(0.0, |futures| futures.wait.p_low_60);
        let counts = |(least, mg_dl): (f64, f64)| chance >= least && more > mg_dl;
        moved || MORE_TO_COME.into_iter().any(counts)
    }

    /// A fall, however slow, with more insulin to come than the distance to the low line.
    fn insulin_lowers(&self, reading: ReadingNow) -> bool {
        self.rate <= NOT_FALLING
            && reading.mg_dl <= self.wearer.high_line.mg_dl()
            && self.insulin_to_come(reading) > 0.0
    }

    /// A slow fall with movement or alcohol of the last hours behind it, which the readings don't show yet.
    fn lowered_for_hours(&self, reading: ReadingNow) -> bool {
        (self.moved_hard().is_some() || self.situation.alcohol.is_some())
            && self.rate <= DRIFTING_DOWN
            && reading.mg_dl <= self.low + LOWERED_WITHIN_MG_DL
    }

    /// Movement long and hard enough to lower for hours.
    fn moved_hard(&self) -> Option<Moved> {
        self.situation.moved.filter(|moved| lowers_for_hours(moved.effort, moved.minutes))
    }

    /// Whether the readings alone would be treated where the difference to a meter says to wait.
    fn hidden_by_meter(&self, reading: ReadingNow) -> bool {
        let Some(uncorrected) = &self.situation.uncorrected else { return false };
        reading.mg_dl < self.low + NEAR_WITHIN_MG_DL && self.weighs(uncorrected)
    }

    fn apart_answer(&self, without: Verdict) -> Answer {
        let shift_mg_dl = self.situation.forecast.as_ref().map_or(0.0, |forecast| forecast.shift_mg_dl);
        let answer = Answer::check(self.falling_matter(), Sentence::CheckApart, without)
            .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow]);
        let meter = self.situation.meter;
        answer
            .because(meter.map(|one| Reason::Meter { mg_dl: one.mg_dl, age_minutes: one.age_minutes }))
            .because([Reason::MeterApart { shift_mg_dl }])
    }

    /// A check that stands far from the sensor is looked at again before long, though nothing falls.
    fn meter_apart(&self) -> Option<Answer> {
        let meter = self.situation.meter?;
        let reading = self.reading?;
        let forecast = self.situation.forecast.as_ref()?;
        let (high, apart) = (self.wearer.high_line.mg_dl(), forecast.shift_mg_dl.abs() >= APART_MG_DL);
        let matters = self.corrected(reading) < self.low + NEAR_WITHIN_MG_DL && reading.mg_dl < high;
        (apart && matters && self.corrected(reading) < reading.mg_dl).then(|| {
            Answer::new(self.falling_matter(), Verdict::Hold, Sentence::HoldMeterNear)
                .because([
                    Reason::Meter { mg_dl: meter.mg_dl, age_minutes: meter.age_minutes },
                    Reason::MeterApart { shift_mg_dl: forecast.shift_mg_dl },
                ])
                .look(15)
                .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow])
        })
    }

    fn steady(&self) -> Answer {
        let changes = [Change::ReadingBelow { mg_dl: self.low }, Change::FeelingLow];
        if self.reading.is_some_and(|reading| reading.jumped) {
            return Answer::new(self.matter(Matter::Steady), Verdict::Hold, Sentence::HoldAfterJump)
                .look(10)
                .changing(&changes);
        }
        let answer =
            Answer::new(self.matter(Matter::Steady), Verdict::Clear, Sentence::NothingToDecide).changing(&changes);
        // Near the line, or with insulin that may lower to it, one looks again before long; woken for nothing, one may sleep on.
        let near = self.reading.is_some_and(|reading| {
            let insulin = reading.mg_dl <= self.wearer.high_line.mg_dl() && self.insulin_to_come(reading) > 0.0;
            reading.mg_dl <= self.low + NEAR_STEADY_MG_DL || insulin
        });
        let falling = self.rate <= NOT_FALLING && self.reading.is_some_and(|one| one.mg_dl < self.low + 60.0);
        // A check in the last hour was made for a reason, and alcohol lowers late.
        let looked = self.low_chance >= 0.02 || self.situation.meter.is_some() || self.situation.alcohol.is_some();
        match (near || falling, looked) {
            (true, _) => answer.look(15),
            (false, true) => answer.look(30),
            (false, false) => answer,
        }
    }

    /// The likelier the low and the faster the fall, the sooner the next look, in minutes.
    fn look_again(&self, reading: ReadingNow) -> u16 {
        let moved = self.moved_hard().is_some_and(|moved| moved.minutes_ago <= MOVED_MINUTES);
        if self.low_chance >= 0.25 || self.rate <= FALLING_FAST || (moved && self.rate <= -1.0) {
            5
        } else if self.low_chance >= 0.1 || self.insulin_to_come(reading) > 0.0 {
            10
        } else {
            15
        }
    }

    fn weighs_treat(&self) -> bool {
        // The forecast of a sensor that is right where it is in doubt.
        let forecast = self.situation.if_right.as_ref().or(self.situation.forecast.as_ref());
        forecast.is_some_and(|forecast| self.weighs(forecast))
    }

    fn weighs(&self, forecast: &Forecast) -> bool {
        let look = self.reading.map_or(5.0, |reading| reading.spacing_minutes);
        let right = chance_right(self.situation.asleep, self.pressed);
        let weighing = weigh(forecast, right, Costs::of(self.wearer), look);
        weighing.says_treat() || (self.situation.treat_said_minutes_ago.is_some() && weighing.still_says_treat())
    }

    fn chances(&self) -> Vec<Reason> {
        self.situation.forecast.as_ref().map_or_else(Vec::new, chance_reasons)
    }

    /// Both futures, a line each, where they differ by what somebody would act on.
    fn futures(&self) -> Vec<Reason> {
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

    /// Whether a meter or the sensor shows glucose below the floor line.
    fn is_very_low(&self) -> bool {
        let below = |mg_dl: f64| mg_dl < FLOOR_LINE_MG_DL;
        self.situation
            .meter
            .map_or_else(|| self.reading.is_some_and(|one| below(one.mg_dl)), |meter| below(meter.mg_dl))
    }

    fn easing(&self) -> Option<Reason> {
        let before_mg_dl_min = self.reading?.earlier_rate_mg_dl_min?;
        (before_mg_dl_min <= -1.0 && self.rate - before_mg_dl_min >= 0.7)
            .then_some(Reason::Easing { before_mg_dl_min, now_mg_dl_min: self.rate })
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
            look_again_minutes,
            would_change,
        } = answer;
        let mut reasons = because;
        if let Some(MeterNow { mg_dl, age_minutes, beyond: Some(beyond) }) = self.situation.meter {
            for reason in reasons.iter_mut().filter(|reason| matches!(reason, Reason::Meter { .. })) {
                *reason = Reason::MeterBeyond { beyond, mg_dl, age_minutes };
            }
        }
        if let Some(reading) = self.reading {
            let ReadingNow { mg_dl, age_minutes, .. } = reading;
            reasons.push(match reading.beyond {
                None => Reason::Reading { mg_dl, age_minutes },
                Some(beyond) => Reason::ReadingBeyond { beyond, mg_dl, age_minutes },
            });
            if self.situation.estimate.is_some() && reading.age_minutes <= STALE_MINUTES {
                reasons.push(Reason::Blood { mg_dl: self.blood, sd_mg_dl: self.blood_sd });
                let rate = Rate::from_mg_dl_min(self.rate);
                reasons.push(Reason::Rate { mg_dl_min: self.rate, pace: rate.pace(), in_30_mg_dl: 30.0 * self.rate });
            }
        }
        if self.feels(Symptom::FeelsHigh) {
            reasons.push(Reason::FeelsHigh);
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
            cautions.push(Caution::AlcoholLowersLater);
        }
        if self.wearer.is_alone && verdict == Verdict::Treat && self.is_very_low() {
            cautions.push(Caution::CallSomebody);
        }
        self.add_sick_day(verdict, matter, &mut reasons, &mut cautions);
        if let Some(moved) = self.situation.moved {
            reasons.push(Reason::Moved { minutes_ago: moved.minutes_ago });
        }
        if let Some(hours) = self.first_day_hours()
            && !reasons.iter().any(|reason| matches!(reason, Reason::FirstDay { .. }))
        {
            reasons.push(Reason::FirstDay { hours });
        }
        without_doubles(&mut cautions);
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
    if forecast.floor.within_30 >= 0.02 {
        reasons.push(Reason::ChanceFloor {
            chance: forecast.floor.within_30,
            within_minutes: 30,
            line_mg_dl: forecast.floor.line_mg_dl,
        });
    }
    reasons
}

/// Each caution once, where it was first.
fn without_doubles(cautions: &mut Vec<Caution>) {
    let mut once: Vec<Caution> = Vec::with_capacity(cautions.len());
    for caution in cautions.drain(..) {
        if !once.contains(&caution) {
            once.push(caution);
        }
    }
    *cautions = once;
}

/// The next band of rate that would change a hold, in mg/dL/min.
fn faster_than(rate: f64) -> f64 {
    [1.0, 2.0, 3.0].into_iter().find(|edge| *edge > -rate + 0.2).unwrap_or(-rate + 1.0)
}
