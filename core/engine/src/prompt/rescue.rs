//! Rescue carbohydrate: it gets its quarter of an hour, unless glucose falls through the floor line, and three that did not help are a
//! matter for two. Unless a source is named the rules are common practice, no source.

use super::decide::{Answer, Case, NEAR_WITHIN_MG_DL, TREAT_WITHIN_MG_DL, WORTH_SHOWING};
use super::falling::NOT_FALLING;
use super::{Caution, Change, ReadingNow, Reason, RescueNow, Sentence, Verdict};
use crate::wearer::FLOOR_LINE_MG_DL;

/// This many rescues without coming up are a matter for two, in times.
const MANY_RESCUES: u32 = 3;
/// Rescue carbohydrate is given this long before the next, in minutes.
///
/// Source: Diabetes Canada guidelines ch. 14; ADA Standards of Care: recheck after 15 minutes, repeat if below 70 mg/dL.
const RESCUE_MINUTES: f64 = 15.0;
/// Less carbohydrate than this is no step against a low, in g (assumption: half of the smallest that guidelines give).
const LEAST_STEP_G: f64 = 7.0;
/// While a low still falls after rescue carbohydrate, it is looked at again at the next reading, in minutes.
const FALLS_ON_LOOK_MINUTES: u16 = 5;
/// Sooner than this another step of carbohydrate cannot be judged by readings that only a meter puts below the floor line, in
/// minutes (assumption).
const STEP_FELT_MINUTES: f64 = 7.0;
/// While glucose falls this fast after a step, in mg/dL/min, and is more likely than not to go below the floor line within half an hour with
/// all that was eaten counted, logged insulin needs more than that step (assumption).
const FALLS_ON: (f64, f64) = (-1.0, 0.5);
/// While the estimate already rises, rescue carbohydrate taken up to this long ago is left to work, in minutes. Trials found
/// 29 to 38 minutes to 70 mg/dL (Diabetes 2019;68 Suppl 394-P).
const RESCUE_RISING_MINUTES: f64 = 40.0;
/// From these rates on glucose rises after rescue carbohydrate, in mg/dL/min: where blood has left the low by the estimate, what is shown as
/// rising; before that, more than sensor noise (assumptions).
const RISES: (f64, f64) = (0.3, 0.5);
/// After rescue carbohydrate, glucose that rises is counted on to go on for so long, in minutes (assumption): a sensor's rise comes late.
const RISES_ON_MINUTES: f64 = 12.0;

impl Case<'_> {
    /// Rescue carbohydrate taken three times and still low after its quarter of an hour: two should deal with this.
    pub(super) fn rescue_failed(&self) -> Option<Answer> {
        let rescue = self.situation.rescue?;
        let measured_low = self
            .situation
            .meter
            .filter(|meter| meter.age_minutes <= rescue.minutes_ago)
            .map_or_else(|| self.reading.map(|reading| reading.mg_dl), |meter| Some(meter.mg_dl))
            .is_some_and(|mg_dl| mg_dl < self.low);
        // The newest has not had its time yet; those before it had.
        let in_time = rescue.minutes_ago < RESCUE_MINUTES;
        let failed = rescue.treatments - u32::from(in_time);
        let felt = rescue.minutes_ago >= STEP_FELT_MINUTES;
        (failed >= MANY_RESCUES && felt && measured_low).then(|| {
            Answer::treat(self.falling_matter(), Sentence::TreatAgainAndCall)
                .because([Reason::Rescues { times: rescue.treatments }])
                .with_cautions(&[Caution::CallSomebody])
        })
    }

    /// Rescue carbohydrate that has not had its quarter of an hour yet. Against an amount of insulin that may be an emergency, one step is
    /// not waited for.
    pub(super) fn rescue_in_time(&self) -> Option<RescueNow> {
        let in_time = |one: &RescueNow| one.minutes_ago < RESCUE_MINUTES && one.grams >= LEAST_STEP_G;
        self.situation.rescue.filter(|one| in_time(one) && self.situation.doubtful_dose.is_none())
    }

    /// Rescue carbohydrate needs its 15 minutes, unless glucose falls through the floor line.
    pub(super) fn rescue_working(&self) -> Option<Answer> {
        let rescue = self.situation.rescue.filter(|_| self.situation.doubtful_dose.is_none())?;
        let reading = self.reading?;
        if let Some(answer) = self.rescue_just_taken() {
            return Some(answer);
        }
        // The sensor still shows the low that blood has left: rising is what was hoped for.
        let soon = self.blood + RISES_ON_MINUTES * self.rate;
        let comes_up = self.rate >= RISES.1 && soon >= self.low || self.rate >= RISES.0 && self.blood >= self.low;
        let rising = comes_up && reading.mg_dl >= FLOOR_LINE_MG_DL;
        (rescue.minutes_ago <= RESCUE_RISING_MINUTES && rising && reading.mg_dl < self.low + TREAT_WITHIN_MG_DL)
            .then(|| self.rescue_answer(rescue).with_cautions(&[self.lags()]))
    }

    pub(super) fn rescue_just_taken(&self) -> Option<Answer> {
        let rescue = self.rescue_in_time()?;
        let reading = self.reading?;
        // By the meter's word of this sensor too, once a first step could have been felt.
        // By blood glucose too where insulin is behind it: the sensor shows later what it is.
        let lowest =
            if self.insulin_at_work() { self.corrected(reading).min(self.blood) } else { self.corrected(reading) };
        let by_meter = rescue.minutes_ago >= STEP_FELT_MINUTES && lowest < FLOOR_LINE_MG_DL;
        let through_the_floor = (reading.mg_dl < FLOOR_LINE_MG_DL || by_meter) && self.rate < 0.0;
        let concerns = reading.mg_dl < self.low + NEAR_WITHIN_MG_DL || self.low_chance >= WORTH_SHOWING;
        let one_more = rescue.minutes_ago >= STEP_FELT_MINUTES && self.insulin_outweighs_step(reading);
        (concerns && !through_the_floor && !one_more).then(|| self.rescue_answer(rescue))
    }

    /// Whether glucose near the line falls on towards the floor line with more insulin logged than what was eaten raises.
    fn insulin_outweighs_step(&self, reading: ReadingNow) -> bool {
        let (rate, chance) = FALLS_ON;
        self.falls_by(rate, reading)
            && self.rate < 0.0
            && self.log_weighs_treat(reading)
            && self.situation.futures.is_some_and(|futures| futures.wait.p_floor_30 >= chance)
    }

    pub(super) fn rescue_answer(&self, rescue: RescueNow) -> Answer {
        let RescueNow { grams, minutes_ago, .. } = rescue;
        // 1 to 15 minutes, so the cast is exact enough. Once its time is over, the next reading is looked at.
        let left = if minutes_ago < RESCUE_MINUTES { (RESCUE_MINUTES - minutes_ago).ceil() as u16 } else { 5 };
        let falls_on = self.reading.is_some_and(|one| one.mg_dl < self.low && self.falls_by(NOT_FALLING, one));
        let left = if falls_on { FALLS_ON_LOOK_MINUTES } else { left };
        let many = rescue.treatments > MANY_RESCUES && self.reading.is_some_and(|one| one.mg_dl < self.low);
        Answer::new(self.falling_matter(), Verdict::Hold, Sentence::HoldRescueWorking)
            .because([Reason::Rescue { grams, minutes_ago }])
            .with_cautions(&[Caution::RiseTakesTime])
            .with_cautions(if many { &[Caution::CallSomebody] } else { &[] })
            .look(left)
            .changing(&[
                Change::ReadingBelow { mg_dl: FLOOR_LINE_MG_DL },
                Change::MeterBelow { mg_dl: FLOOR_LINE_MG_DL },
            ])
    }
}
