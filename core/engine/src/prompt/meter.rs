//! What a meter check decides: a low one is treated, one above the line leads over the readings of its time, and one that stands far from
//! the sensor is looked at again. Unless a source is named the rules are common practice, no source.

use super::decide::{Answer, Case, NEAR_WITHIN_MG_DL, TREAT_WITHIN_MG_DL, WORTH_SHOWING};
use super::falling::{FALLING, NOT_FALLING, SLOW_FALL};
use super::sensor::DOUBTED;
use super::{Caution, Change, MeterNow, ReadingNow, Reason, Sentence, Verdict};
use crate::log::Symptom;
use crate::wearer::FLOOR_LINE_MG_DL;

/// A meter check at or above the low line leads for this long, in minutes; after that the readings since say more.
const METER_LEADS_MINUTES: f64 = 10.0;
/// A reading this much newer than a meter check, about one interval of a sensor, says more of now, in minutes.
const NEWER_BY_MINUTES: f64 = 4.0;
/// A low meter check that nothing was eaten after is treated for this long, in minutes, and checked again until the other.
const LOW_METER_MINUTES: (f64, f64) = (15.0, 30.0);
/// A check noted so soon after carbohydrate is the one it was eaten for, in minutes (assumption): people note both when both are done.
const CHECKED_AND_ATE_MINUTES: f64 = 3.0;
/// A meter check this close above the low line is looked at again soon, in mg/dL.
const METER_NEAR_MG_DL: f64 = 15.0;
/// With a meter a little further up, a fall is treated where insulin may lower by so much beyond that, in mg/dL (assumption).
const METER_MUCH_TO_COME_MG_DL: f64 = 50.0;
/// For so long a meter check well above the low line has answered what another would ask, in minutes.
const ANSWERED_MINUTES: f64 = 20.0;
/// A meter this far above an unremarkable sensor is more likely to have measured what was on the finger: the larger of an amount,
/// in mg/dL, and a share of the reading.
///
/// Source: fruit on the finger raised readings to several hundred (Hirose et al., Diabetes Care 2011;34:596-597, from memory).
const METER_FAR: (f64, f64) = (80.0, 0.6);
/// The amount beside a reading near the low line, in mg/dL (assumption).
const METER_FAR_NEAR_LOW_MG_DL: f64 = 60.0;
/// A sensor that does not fall and reads this much more than a low meter: one of the two is wrong, perhaps the unit of the check, in mg/dL
/// (assumption).
const METER_FAR_LOW_MG_DL: f64 = 200.0;
/// Two checks within minutes that differ by more than this, the first of them low, are followed by a third, in mg/dL (assumption: more
/// than the two errors that ISO 15197 allows, and less than glucose can move meanwhile without anything eaten).
const CHECKS_APART_MG_DL: f64 = 40.0;
/// For so long a low check that nothing answered is treated where there is no meter, in minutes; then it is only checked again (assumption).
const OPEN_LOW_TREATED_MINUTES: f64 = 60.0;
/// From this shift on sensor and meter stand apart, in mg/dL.
const APART_MG_DL: f64 = 12.0;

/// Whether a meter check is so far above a reading that it more likely measured what was on the finger. Beside a reading near the low line,
/// where being wrong costs more, less is far. All in mg/dL.
pub(crate) fn is_far_above(meter: f64, reading: f64, low_line: f64) -> bool {
    let (mg_dl, share) = METER_FAR;
    let mg_dl = if reading < low_line + TREAT_WITHIN_MG_DL { METER_FAR_NEAR_LOW_MG_DL } else { mg_dl };
    meter - reading > mg_dl.max(share * reading)
}

impl Case<'_> {
    /// The low side: a low meter check is treated until something was eaten after it or something newer is known.
    pub(super) fn low_meter(&self) -> Option<Answer> {
        let meter = self.situation.meter.filter(|meter| meter.mg_dl < self.low)?;
        let (treated, checked) = LOW_METER_MINUTES;
        let reason = meter.reason();
        if let Some(rescue) = self.rescue_in_time() {
            let after_minutes = rescue.minutes_ago - meter.age_minutes;
            let through_the_floor = meter.mg_dl < FLOOR_LINE_MG_DL && after_minutes > CHECKED_AND_ATE_MINUTES;
            if !through_the_floor {
                return Some(self.rescue_answer(rescue).because([reason]));
            }
        }
        // A meal is no rescue: it counts against an older check alone.
        let rescued = self.situation.rescue.is_some_and(|rescue| rescue.minutes_ago <= meter.age_minutes);
        let far_apart = |reading: &ReadingNow| {
            !self.is_stale(*reading) && self.rate > NOT_FALLING && reading.mg_dl - meter.mg_dl > METER_FAR_LOW_MG_DL
        };
        if meter.age_minutes <= treated && self.reading.as_ref().is_some_and(far_apart) {
            // Treated as any; that the two cannot both be right is said, and looked at again at once.
            let shift_mg_dl = self.situation.forecast.as_ref().map_or(0.0, |forecast| forecast.shift_mg_dl);
            return Some(
                Answer::treat(self.falling_matter(), Sentence::TreatConfirmedLow)
                    .because([reason, Reason::MeterApart { shift_mg_dl }])
                    .with_cautions(&[Caution::MeterDecides])
                    .look(5)
                    .changing(&[Change::MeterAbove { mg_dl: self.low }]),
            );
        }
        if meter.age_minutes <= treated && !rescued {
            return Some(Answer::treat(self.falling_matter(), Sentence::TreatConfirmedLow).because([reason]));
        }
        if self.eaten_since(meter) {
            return None;
        }
        (meter.age_minutes <= checked).then(|| {
            if self.reads_low_now() {
                return Answer::treat(self.falling_matter(), Sentence::TreatLow).because([reason]);
            }
            let near = self.reading.is_none_or(|reading| self.level(reading) < self.low + TREAT_WITHIN_MG_DL);
            if near && self.weighs_treat() {
                return Answer::treat(self.falling_matter(), Sentence::TreatBeforeLow)
                    .because([reason])
                    .because(self.chances());
            }
            Answer::check(self.falling_matter(), Sentence::CheckMeterWasLow, Verdict::Treat)
                .because([reason])
                .changing(&[Change::MeterAbove { mg_dl: self.low }])
        })
    }

    /// The other side: a meter check at or above the low line leads over the readings of its time.
    pub(super) fn leading_meter(&self) -> Option<Answer> {
        let meter = self.meter().filter(|meter| meter.mg_dl >= self.low)?;
        let reason = meter.reason();
        if self.feels(Symptom::FeelsLow) {
            // No measurement overrides a feeling, not even a meter check; nor does carbohydrate that has not worked yet.
            if let Some(rescue) = self.rescue_in_time() {
                return Some(self.rescue_answer(rescue).because([reason, Reason::FeelsLow]));
            }
            let near = meter.mg_dl < self.low + METER_NEAR_MG_DL;
            // A feeling makes nothing less urgent than it is without.
            let answer = if near || self.reads_low_now() || self.falls_with(meter) {
                Answer::treat(self.falling_matter(), Sentence::TreatFeltLow)
            } else {
                Answer::check(self.falling_matter(), Sentence::CheckFeltMeterDisagrees, Verdict::Treat)
                    .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow])
            };
            return Some(answer.because([reason, Reason::FeelsLow]).with_cautions(&[Caution::FeelingsCount]));
        }
        // Readings made since the check are newer knowledge; the check speaks through what it says of the sensor.
        let doubted = self.compression + self.unsettled > DOUBTED;
        // Whichever of the two is wrong, the next reading does not settle it: another check does.
        let fresh = self.reading.filter(|reading| !self.is_stale(*reading));
        if let Some(reading) = fresh.filter(|reading| is_far_above(meter.mg_dl, reading.mg_dl, self.low)) {
            // Sugar on a finger that was about to treat a low hides that low; only a sleeper's sensor may be pressed for long.
            let doubted = doubted && self.situation.asleep;
            let without = Self::treat_or_hold(reading.mg_dl < self.low && !doubted);
            return Some(
                Answer::check(self.falling_matter(), Sentence::CheckMeterHigh, without)
                    .because([reason])
                    .with_cautions(&[Caution::NoDose])
                    .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::NewReadings]),
            );
        }
        let newer =
            !doubted && self.reading.is_some_and(|reading| reading.age_minutes < meter.age_minutes - NEWER_BY_MINUTES);
        if newer {
            return None;
        }
        let (far_mg_dl, far_share) = METER_FAR;
        let near = meter.mg_dl < self.low + METER_NEAR_MG_DL;
        // As far below a sensor that does not fall, one of the two is wrong, and it may be the one that shows no low.
        let far_below = self.reading.filter(|reading| !self.is_stale(*reading)).is_some_and(|reading| {
            self.rate > NOT_FALLING && reading.mg_dl - meter.mg_dl > far_mg_dl.max(far_share * meter.mg_dl)
        });
        if far_below && self.rescue_in_time().is_none() {
            return Some(self.apart_answer(Self::treat_or_hold(near && self.weighs_treat())));
        }
        let within_reach = meter.mg_dl < self.low + NEAR_WITHIN_MG_DL;
        if let Some(rescue) = self.rescue_in_time().filter(|_| near || within_reach && self.rate <= NOT_FALLING) {
            return Some(self.rescue_answer(rescue).because([reason]));
        }
        let weighed = self.weighs_treat();
        if self.falls_with(meter) {
            return Some(
                Answer::treat(self.falling_matter(), Sentence::TreatBeforeLow)
                    .look(if self.insulin_beyond(meter.mg_dl) > 0.0 { 10 } else { 15 })
                    .because([reason])
                    .because(self.chances()),
            );
        }
        // An amount of insulin that may be a slip is not answered by what glucose is now.
        if self.situation.doubtful_dose.is_some() {
            return None;
        }
        if near {
            return Some(
                Answer::new(self.falling_matter(), Verdict::Hold, Sentence::HoldMeterNear)
                    .because([reason])
                    .because(if doubted { Vec::new() } else { self.chances() })
                    .look(if self.rate <= NOT_FALLING || weighed { 5 } else { 15 })
                    .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow]),
            );
        }
        let falling_or_low = self.reading.is_some_and(|reading| reading.mg_dl < self.low)
            || self.rate <= FALLING
            || self.low_chance >= WORTH_SHOWING;
        falling_or_low.then(|| {
            // A doubted sensor's chances are of its readings, not of glucose: beside a meter they would only frighten.
            let chances = if doubted { Vec::new() } else { self.chances() };
            Answer::new(self.falling_matter(), Verdict::Hold, Sentence::HoldMeterAbove)
                .because([reason])
                .because(chances)
                .look(if self.rate <= FALLING || weighed || self.insulin_beyond(meter.mg_dl) > 0.0 { 5 } else { 10 })
                .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow])
        })
    }

    /// Whether a meter check just above the low line, or a little further up, comes in a fall that is treated all the same.
    fn falls_with(&self, meter: MeterNow) -> bool {
        let near = meter.mg_dl < self.low + METER_NEAR_MG_DL;
        let within_reach = meter.mg_dl < self.low + NEAR_WITHIN_MG_DL;
        let weighed = self.weighs_treat();
        // A reading below the line that still falls, and a meter that may be as far off as the line is: both say low.
        let both = self.reading.is_some_and(|one| one.mg_dl < self.low && self.falls_by(NOT_FALLING, one));
        // So do a slower fall that would be treated, and insulin that is still to lower further than to the line.
        let falls = weighed && self.rate <= SLOW_FALL;
        // A faster fall from a little further up, that the weighing would treat, does not wait for the next reading.
        let by_log = self.reading.is_some_and(|one| self.log_weighs_treat(one));
        let to_come = self.insulin_beyond(meter.mg_dl);
        let much_to_come = self.rate <= NOT_FALLING && to_come > METER_MUCH_TO_COME_MG_DL;
        within_reach && (by_log || much_to_come || weighed && self.rate <= FALLING)
            || near && (both || falls || to_come > 0.0)
    }

    /// A check that shows no low minutes after one that did, and nothing was eaten between: whoever is about to eat sugar has it on the
    /// finger, and the first drop of a squeezed one may be too low.
    pub(super) fn two_checks_apart(&self) -> Option<Answer> {
        let meter = self.situation.meter.filter(|meter| meter.age_minutes <= LOW_METER_MINUTES.1)?;
        let before = self.situation.meter_before.filter(|before| before.mg_dl < self.low)?;
        let eaten = self.situation.eaten_minutes_ago.is_some_and(|minutes| minutes <= before.age_minutes);
        (!eaten && meter.mg_dl - before.mg_dl > CHECKS_APART_MG_DL).then(|| {
            Answer::check(self.falling_matter(), Sentence::CheckMeterTwice, Verdict::Treat)
                .because([before.reason(), meter.reason()])
                .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::MeterAbove { mg_dl: self.low }])
        })
    }

    pub(super) fn meter(&self) -> Option<MeterNow> {
        self.situation.meter.filter(|meter| meter.age_minutes <= METER_LEADS_MINUTES)
    }

    /// What the reading would be by a sensor that agrees with the meter, in mg/dL.
    pub(super) fn corrected(&self, reading: ReadingNow) -> f64 {
        reading.mg_dl + self.situation.forecast.as_ref().map_or(0.0, |forecast| forecast.shift_mg_dl)
    }

    /// Whether the readings alone would be treated where the difference to a meter says to wait.
    pub(super) fn hidden_by_meter(&self, reading: ReadingNow) -> bool {
        let Some(uncorrected) = &self.situation.uncorrected else { return false };
        reading.mg_dl < self.low + NEAR_WITHIN_MG_DL && self.weighs(uncorrected)
    }

    pub(super) fn apart_answer(&self, without: Verdict) -> Answer {
        self.apart(Answer::check(self.falling_matter(), Sentence::CheckApart, without))
    }

    /// An answer with how far meter and sensor stand apart, and what would change it.
    fn apart(&self, answer: Answer) -> Answer {
        let shift_mg_dl = self.situation.forecast.as_ref().map_or(0.0, |forecast| forecast.shift_mg_dl);
        let meter = self.situation.open_low.or(self.situation.meter);
        answer
            .because(meter.map(MeterNow::reason))
            .because([Reason::MeterApart { shift_mg_dl }])
            .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow])
    }

    /// A meter check that puts glucose lower than the sensor reads, where it is part of why.
    pub(super) fn meter_lowers(&self, reading: ReadingNow) -> Option<Reason> {
        let lower = reading.mg_dl - self.corrected(reading) >= APART_MG_DL / 2.0;
        self.situation.meter.filter(|_| lower).map(MeterNow::reason)
    }

    /// Whether anything was eaten since a check: it outranks what was measured before.
    fn eaten_since(&self, meter: MeterNow) -> bool {
        self.situation.eaten_minutes_ago.is_some_and(|minutes| minutes <= meter.age_minutes)
    }

    /// A low meter check that the sensor has stood far above: no reading of this sensor can say that it was wrong, nor that what was eaten
    /// since was enough.
    pub(super) fn unexplained_low(&self, reading: ReadingNow) -> Option<Answer> {
        if let Some(open) = self.situation.open_low {
            let treat = open.age_minutes <= OPEN_LOW_TREATED_MINUTES || reading.mg_dl < self.low + TREAT_WITHIN_MG_DL;
            let check = Answer::check(
                self.falling_matter(),
                Sentence::CheckMeterWasLow,
                Self::treat_or_hold(treat || self.weighs_treat()),
            );
            let minutes = if open.age_minutes <= OPEN_LOW_TREATED_MINUTES { 5 } else { 15 };
            return Some(self.apart(check.look(minutes)));
        }
        let meter = self.situation.meter.filter(|meter| meter.mg_dl < self.low)?;
        let (sentence, near) = if self.eaten_since(meter) {
            (Sentence::CheckUnseenLow, false)
        } else {
            (Sentence::CheckMeterWasLow, self.corrected(reading) < self.low + TREAT_WITHIN_MG_DL)
        };
        let check = || Answer::check(self.falling_matter(), sentence, Self::treat_or_hold(near));
        self.stands_below(reading).then(|| self.apart(check()))
    }

    /// A check that stands far from the sensor is looked at again before long, though nothing falls.
    pub(super) fn meter_apart(&self) -> Option<Answer> {
        let reading = self.reading.filter(|_| self.situation.meter.or(self.situation.open_low).is_some())?;
        let near = || Answer::new(self.falling_matter(), Verdict::Hold, Sentence::HoldMeterNear).look(15);
        self.unexplained_low(reading).or_else(|| self.stands_below(reading).then(|| self.apart(near())))
    }

    /// Whether meter checks put this sensor's reading near the low line, and the reading by itself is well above them.
    fn stands_below(&self, reading: ReadingNow) -> bool {
        let corrected = self.corrected(reading);
        let near = corrected < self.low + NEAR_WITHIN_MG_DL && reading.mg_dl < self.wearer.high_line.mg_dl();
        near && reading.mg_dl - corrected >= APART_MG_DL
    }

    /// A meter check of the last minutes, well above the low line, has answered what another would ask, unless the fall since would
    /// have brought glucose near the line.
    pub(super) fn check_answered(&self) -> bool {
        self.situation.meter.is_some_and(|meter| {
            let by_now = meter.mg_dl + self.rate.min(0.0) * meter.age_minutes;
            meter.age_minutes <= ANSWERED_MINUTES && by_now >= self.low + METER_NEAR_MG_DL
        })
    }
}
