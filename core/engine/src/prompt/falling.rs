//! The weighing for what is not low yet: treat, check first, or hold and look again; and when nothing is to be decided. Unless a source is
//! named the rules are common practice, no source.

use super::decide::{Answer, Case, NEAR_WITHIN_MG_DL, TREAT_WITHIN_MG_DL, WORTH_SHOWING};
use super::{Caution, Change, Matter, ReadingNow, Reason, Sentence, Stands, Verdict};

/// A low reading this close behind a reading above the line is not over yet, in minutes.
const JUST_LOW_MINUTES: f64 = 15.0;
/// A chance of a low this large, just after one, is worth a finger-prick.
const MAY_BE_LOW_AGAIN: f64 = 0.25;
/// Above this rate nobody would speak of falling, in mg/dL/min.
pub(super) const NOT_FALLING: f64 = -0.5;
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
/// Up to this reading treat is said outright where logged insulin is behind the fall and blood glucose is near the line already, in mg/dL
/// above it.
const TREAT_BY_LOG_MG_DL: f64 = 50.0;
/// Up to this reading, in mg/dL above the low line, and from this chance of a low in blood on, a fast fall is treated where there is no
/// meter (assumption).
const BLOOD_GOES_LOW: (f64, f64) = (50.0, 0.6);
/// A chance of a low this large is worth a finger-prick.
pub(super) const WORTH_A_CHECK: f64 = 0.5;
/// A steady reading this close above the low line is looked at again before long, in mg/dL.
const NEAR_STEADY_MG_DL: f64 = 25.0;

impl Case<'_> {
    /// Rule 6: the weighing, for what is not low yet.
    pub(super) fn falling(&self) -> Option<Answer> {
        let reading = self.reading?;
        let races = self.races_to_low(reading);
        let by_log = self.log_weighs_treat(reading);
        let stands = self.situation.treat_stands.filter(|_| !self.has_turned());
        let treat = by_log || stands.is_some() || self.weighs_treat();
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
            || self.insulin_takes_lower(reading)
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
        let outright = stands == Some(Stands::Outright) || by_log && reading.mg_dl < self.low + TREAT_BY_LOG_MG_DL;
        let just_low = reading.low_minutes_before.is_some_and(|minutes| minutes <= JUST_LOW_MINUTES);
        let answer = if treat && reading.jumped && just_low && reading.mg_dl >= self.low {
            // A sensor that leapt to a low and back is not acted on above the line before a meter was asked.
            ask(Sentence::CheckUnsettled, Self::treat_or_hold(level < self.low + TREAT_WITHIN_MG_DL))
        } else if outright || treat && (level < self.low + TREAT_WITHIN_MG_DL || by_meter_low) {
            // With more to come, one step may not be enough: the next look is sooner.
            let look = match (more, self.insulin_takes_lower(reading)) {
                (true, _) => 5,
                (false, true) => 10,
                (false, false) => 15,
            };
            Answer::treat(self.falling_matter(), Sentence::TreatBeforeLow)
                .look(look)
                .changing(&[Change::MeterAbove { mg_dl: self.low + TREAT_WITHIN_MG_DL }])
        } else if by_meter_low {
            self.apart_answer(Self::treat_or_hold(self.rate <= NOT_FALLING || treat))
        } else if treat && self.rate > -1.0 {
            // Nothing falls fast: what was logged, or a meter, says that it is near the line.
            ask(Sentence::CheckNearLow, Self::treat_or_hold(near)).changing(&[Change::ReadingBelow { mg_dl: self.low }])
        } else if treat {
            fast(Self::treat_or_hold(near || self.blood_goes_low(reading)))
        } else if self.hidden_by_meter(reading) {
            // Without the difference to the meter this would be treated: one of the two hides a low.
            self.apart_answer(Verdict::Treat)
        } else if races {
            fast(Verdict::Hold)
        } else if more {
            ask(Sentence::CheckMoreToCome, Verdict::Hold)
        } else if self.low_chance >= WORTH_A_CHECK {
            ask(Sentence::CheckNearLow, Verdict::Hold).changing(&[Change::ReadingBelow { mg_dl: self.low }])
        } else if self.low_chance >= MAY_BE_LOW_AGAIN && just_low {
            let treat = self.rate <= NOT_FALLING;
            ask(Sentence::CheckJustLow, Self::treat_or_hold(treat))
                .changing(&[Change::ReadingBelow { mg_dl: self.low }])
        } else if let Some(answer) = self.unexplained_low(reading) {
            answer
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

    /// Whether glucose falls at such a rate in mg/dL/min, by the estimate or by what the readings did over a quarter of an hour: two noisy
    /// readings may hide a fall from the first.
    pub(super) fn falls_by(&self, rate: f64, reading: ReadingNow) -> bool {
        self.rate <= rate || reading.read_rate_mg_dl_min.is_some_and(|read| read <= rate)
    }

    /// More likely than not blood glucose is low within half an hour, from a reading that is not far from the line.
    fn blood_goes_low(&self, reading: ReadingNow) -> bool {
        reading.mg_dl < self.low + BLOOD_GOES_LOW.0
            && self.situation.futures.is_some_and(|futures| futures.wait.p_low_30 >= BLOOD_GOES_LOW.1)
    }

    /// Insulin that may lower to the low line, with a drift downwards, while moving, or with the line near already.
    fn insulin_takes_lower(&self, reading: ReadingNow) -> bool {
        let near = reading.mg_dl <= self.low + NEAR_STEADY_MG_DL && self.rate <= -NOT_FALLING;
        (near || self.falls_by(DRIFTING_DOWN, reading) || self.moved_within(0.0))
            && self.insulin_may_lower_to_low(reading)
    }

    /// The level a fall is judged at, in mg/dL: the reading, or blood glucose where that is lower and insulin is behind the fall.
    pub(super) fn level(&self, reading: ReadingNow) -> f64 {
        if self.insulin_at_work() { reading.mg_dl.min(self.blood) } else { reading.mg_dl }
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

    pub(super) fn steady(&self) -> Answer {
        let changes = [Change::ReadingBelow { mg_dl: self.low }, Change::FeelingLow];
        if self.reading.is_some_and(|reading| reading.jumped) {
            return Answer::new(self.matter(Matter::Steady), Verdict::Hold, Sentence::HoldAfterJump)
                .look(10)
                .changing(&changes);
        }
        if let Some(reading) = self.reading.filter(|reading| self.insulin_may_lower_to_low(*reading)) {
            let near = reading.mg_dl <= self.low + NEAR_STEADY_MG_DL;
            return Answer::new(self.falling_matter(), Verdict::Hold, Sentence::HoldInsulinToCome)
                .look(if near { 10 } else { 15 })
                .because(self.futures())
                .changing(&changes);
        }
        let answer =
            Answer::new(self.matter(Matter::Steady), Verdict::Clear, Sentence::NothingToDecide).changing(&changes);
        // Near the line one looks again before long; woken for nothing, one may sleep on.
        let near = self.reading.is_some_and(|reading| reading.mg_dl <= self.low + NEAR_STEADY_MG_DL);
        let falling = self.reading.is_some_and(|one| one.mg_dl < self.low + 60.0 && self.falls_by(NOT_FALLING, one));
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
        let fast = self.falls_by(FALLING_FAST, reading) || (self.falls_by(-1.0, reading) && self.moved_lately());
        if self.low_chance >= 0.25 || fast {
            5
        } else if self.low_chance >= 0.1 || self.insulin_to_come(reading) > 0.0 {
            10
        } else {
            15
        }
    }

    fn easing(&self) -> Option<Reason> {
        let before_mg_dl_min = self.reading?.earlier_rate_mg_dl_min?;
        (before_mg_dl_min <= -1.0 && self.rate < 0.0 && self.rate - before_mg_dl_min >= 0.7)
            .then_some(Reason::Easing { before_mg_dl_min, now_mg_dl_min: self.rate })
    }
}

/// The next band of rate that would change a hold, in mg/dL/min.
fn faster_than(rate: f64) -> f64 {
    [1.0, 2.0, 3.0].into_iter().find(|edge| *edge > -rate + 0.2).unwrap_or(-rate + 1.0)
}
