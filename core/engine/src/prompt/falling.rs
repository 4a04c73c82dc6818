//! The weighing for what is not low yet: treat, check first, or hold and look again; and when nothing is to be decided. Unless a source is
//! named the rules are common practice, no source.

use super::decide::{Answer, Case, NEAR_WITHIN_MG_DL, TREAT_WITHIN_MG_DL, WORTH_SHOWING};
use super::to_come::MUCH_TO_COME_MG_DL;
use super::{Change, Matter, ReadingNow, Reason, Sentence, Stands, Verdict};

/// A low reading this close behind a reading above the line is not over yet, in minutes.
const JUST_LOW_MINUTES: f64 = 15.0;
/// A chance of a low this large, just after one, is worth a finger-prick.
const MAY_BE_LOW_AGAIN: f64 = 0.25;
/// Above this rate nobody would speak of falling, in mg/dL/min.
pub(super) const NOT_FALLING: f64 = -0.5;
/// Above this rate a fall is slow, in mg/dL/min.
pub(super) const FALLING: f64 = -1.0;
/// Such a fall is of concern up to this, in mg/dL above the low line (assumption).
const FALLS_WITHIN_MG_DL: f64 = 60.0;
/// Falling this fast, glucose is looked at again at the next reading, and a high with insulin behind it sooner than others, in mg/dL/min
/// (assumption).
pub(super) const FALLING_FAST: f64 = -1.5;
/// Such a fall that would reach the low line within so many minutes is watched, from whatever level (assumption).
const WATCHED_MINUTES: f64 = 45.0;
/// With insulin or movement behind it, this is a fall already, in mg/dL/min.
pub(super) const SLOW_FALL: f64 = -0.3;
/// Falling this fast towards the low line is worth a finger-prick, in mg/dL/min: by the estimate, or as the sensor reads.
const FAST_FALL: (f64, f64) = (2.0, 3.0);
/// Where such a fall reaches the low line within so many minutes it cannot be waited out. With more time than that the next reading
/// says more than a finger-prick (chosen in the closed-loop trial, `tests/docs/trial.md`).
const CANNOT_WAIT_MINUTES: (f64, f64) = (30.0, 25.0);
/// The chance of a low from which a fall by the estimate counts as one, unless it is as fast as the faster of both.
const CANNOT_WAIT_LIKELY: f64 = 0.15;
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
/// From this chance of a low on, the next look is a little sooner (assumption).
const LOOK_SOON_FROM: f64 = 0.1;
/// Below this chance of a low nobody need look again soon (assumption).
const HARDLY_ANY: f64 = 0.02;
/// A fall that is slower by this much than half an hour ago eases, in mg/dL/min (assumption).
const EASED_BY_MG_DL_MIN: f64 = 0.7;
/// A steady reading this close above the low line is looked at again before long, in mg/dL.
const NEAR_STEADY_MG_DL: f64 = 25.0;

/// What the rules for a fall go by, worked out once.
struct Fall {
    reading: ReadingNow,
    /// The level it is judged at, in mg/dL ([`Case::level`]).
    level: f64,
    /// Treating now loses less than waiting, or did a few readings ago and nothing speaks against it.
    treat: bool,
    /// Treat was said outright a few readings ago, or logged insulin says so.
    outright: bool,
    /// It cannot be waited out.
    cannot_wait: bool,
    /// Insulin, movement or alcohol may take it further.
    more: bool,
    /// By an earlier meter check glucose is below the low line already.
    low_by_meter: bool,
    /// A reading was low a moment ago.
    just_low: bool,
}

impl Case<'_> {
    /// The weighing, for what is not low yet.
    pub(super) fn falling(&self) -> Option<Answer> {
        let fall = self.fall(self.reading?);
        if !self.concerns(&fall) {
            return None;
        }
        let answer = self
            .jumped_to_low(&fall)
            .or_else(|| self.low_by_earlier_check(&fall))
            .or_else(|| self.treated_before_low(&fall))
            .or_else(|| self.situation.open_low.and_then(|_| self.unexplained_low(fall.reading)))
            .or_else(|| self.checked_before_treating(&fall))
            .or_else(|| self.worth_a_check(&fall))
            .or_else(|| self.unexplained_low(fall.reading))
            .unwrap_or_else(|| self.held(fall.reading));
        Some(answer.because(self.chances()).because(self.futures()).because(self.easing()))
    }

    fn fall(&self, reading: ReadingNow) -> Fall {
        let by_log = self.log_weighs_treat(reading);
        let stands = self.situation.treat_stands.filter(|_| !self.has_turned());
        Fall {
            reading,
            level: self.level(reading),
            treat: by_log || stands.is_some() || self.weighs_treat(),
            outright: stands == Some(Stands::Outright) || by_log && reading.mg_dl < self.low + TREAT_BY_LOG_MG_DL,
            cannot_wait: self.cannot_wait(reading),
            more: self.more_to_come(reading),
            low_by_meter: self.corrected(reading) < self.low,
            just_low: reading.low_minutes_before.is_some_and(|minutes| minutes <= JUST_LOW_MINUTES),
        }
    }

    /// Whether there is anything to decide about a fall.
    fn concerns(&self, fall: &Fall) -> bool {
        let reading = fall.reading;
        self.low_chance >= WORTH_SHOWING
            || (self.rate <= FALLING && reading.mg_dl < self.low + FALLS_WITHIN_MG_DL)
            || (self.rate <= FALLING_FAST && reading.mg_dl + WATCHED_MINUTES * self.rate < self.low)
            || fall.cannot_wait
            || fall.treat
            || fall.more
            || self.lowered_for_hours(reading)
            || self.insulin_takes_lower(reading)
            || fall.low_by_meter
    }

    /// Asks for a meter check; where one has just answered that, what would be done without it.
    fn ask(&self, sentence: Sentence, without: Verdict) -> Answer {
        let below = [Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow];
        if !self.check_answered() {
            return Answer::check(self.falling_matter(), sentence, without).changing(&below);
        }
        if without == Verdict::Treat {
            return Answer::treat(self.falling_matter(), Sentence::TreatBeforeLow);
        }
        Answer::new(self.falling_matter(), Verdict::Hold, Sentence::HoldFalling).look(5).changing(&below)
    }

    fn ask_about_fast_fall(&self, without: Verdict) -> Answer {
        self.ask(Sentence::CheckFallingFast, without)
            .with_cautions(&[self.lags()])
            .changing(&[Change::ReadingBelow { mg_dl: self.low + TREAT_WITHIN_MG_DL }])
    }

    /// A sensor that jumped to a low and back is not acted on above the line before a meter was asked.
    fn jumped_to_low(&self, fall: &Fall) -> Option<Answer> {
        let jumped = fall.treat && fall.reading.jumped && fall.just_low && fall.reading.mg_dl >= self.low;
        let without = Self::treat_or_hold(fall.level < self.low + TREAT_WITHIN_MG_DL);
        jumped.then(|| self.ask(Sentence::CheckUnsettled, without))
    }

    /// Only an earlier check says that it is low, and another costs a minute.
    fn low_by_earlier_check(&self, fall: &Fall) -> Option<Answer> {
        let only = fall.level >= self.low + TREAT_WITHIN_MG_DL || !fall.treat;
        let without = Self::treat_or_hold(self.rate <= NOT_FALLING || fall.treat);
        (fall.low_by_meter && only && !fall.outright).then(|| self.apart_answer(without))
    }

    fn treated_before_low(&self, fall: &Fall) -> Option<Answer> {
        let near = fall.level < self.low + TREAT_WITHIN_MG_DL || fall.low_by_meter;
        (fall.outright || fall.treat && near).then(|| {
            // With more to come, one step may not be enough: the next look is sooner.
            let look = match (fall.more, self.insulin_takes_lower(fall.reading)) {
                (true, _) => 5,
                (false, true) => 10,
                (false, false) => 15,
            };
            Answer::treat(self.falling_matter(), Sentence::TreatBeforeLow)
                .look(look)
                .because(self.meter_lowers(fall.reading))
                .changing(&[Change::MeterAbove { mg_dl: self.low + TREAT_WITHIN_MG_DL }])
        })
    }

    /// Further up than treat is said outright, a meter comes first.
    fn checked_before_treating(&self, fall: &Fall) -> Option<Answer> {
        let near = fall.level < self.low + NEAR_WITHIN_MG_DL;
        fall.treat.then(|| {
            if self.rate > FALLING {
                // Nothing falls fast: what was logged, or a meter, says that it is near the line.
                return self
                    .ask(Sentence::CheckNearLow, Self::treat_or_hold(near))
                    .changing(&[Change::ReadingBelow { mg_dl: self.low }]);
            }
            self.ask_about_fast_fall(Self::treat_or_hold(near || self.blood_goes_low(fall.reading)))
        })
    }

    /// What would not be treated by the weighing, and is worth a finger-prick.
    fn worth_a_check(&self, fall: &Fall) -> Option<Answer> {
        let reading = fall.reading;
        let below_line = [Change::ReadingBelow { mg_dl: self.low }];
        let answer = if self.hidden_by_meter(reading) {
            // Without the difference to the meter this would be treated: one of the two hides a low.
            self.apart_answer(Verdict::Treat)
        } else if fall.cannot_wait {
            self.ask_about_fast_fall(Verdict::Hold)
        } else if self.insulin_beside_low_line(reading) {
            // More insulin than was eaten for is a low to come, unless it is eaten for now.
            self.ask(Sentence::CheckNearLow, Verdict::Treat)
        } else if fall.more {
            // Alcohol lowers for hours: nobody pricks a finger at each reading of a night.
            let soon = self.low_chance >= MAY_BE_LOW_AGAIN
                || (self.has_insulin_on_board() && self.insulin_to_come(reading) > 0.0)
                || self.moved_lately()
                || self.falls_by(FALLING, reading);
            self.ask(Sentence::CheckMoreToCome, Verdict::Hold).look(if soon { 5 } else { 10 })
        } else if self.low_chance >= WORTH_A_CHECK {
            self.ask(Sentence::CheckNearLow, Verdict::Hold).changing(&below_line)
        } else if self.low_chance >= MAY_BE_LOW_AGAIN && fall.just_low {
            let without = Self::treat_or_hold(self.rate <= NOT_FALLING);
            self.ask(Sentence::CheckJustLow, without).changing(&below_line)
        } else {
            return None;
        };
        Some(answer)
    }

    fn held(&self, reading: ReadingNow) -> Answer {
        let falls = self.rate <= NOT_FALLING;
        let insulin = self.has_insulin_on_board() && self.insulin_may_lower_to_low(reading);
        // In a fall insulin leads only where it is far more than was eaten for.
        let sentence = match (falls, insulin) {
            (true, true) if self.insulin_to_come(reading) > MUCH_TO_COME_MG_DL => Sentence::HoldInsulinToCome,
            (true, _) => Sentence::HoldFalling,
            (false, true) => Sentence::HoldInsulinToCome,
            (false, false) => Sentence::HoldNearLow,
        };
        Answer::new(self.falling_matter(), Verdict::Hold, sentence)
            .look(self.look_again(reading))
            .with_cautions(falls.then(|| self.lags()).as_slice())
            .changing(&[
                Change::ReadingBelow { mg_dl: self.low },
                Change::FallingFasterThan { mg_dl_min: faster_than(self.rate) },
                Change::FeelingLow,
            ])
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
        (near || self.falls_by(SLOW_FALL, reading) || self.moved_within(0.0)) && self.insulin_may_lower_to_low(reading)
    }

    /// The level a fall is judged at, in mg/dL: the reading, or blood glucose where that is lower and insulin is behind the fall.
    pub(super) fn level(&self, reading: ReadingNow) -> f64 {
        if self.insulin_at_work() { reading.mg_dl.min(self.blood) } else { reading.mg_dl }
    }

    /// A fall that cannot be waited out: at the rate of the estimate or of the readings it reaches the low line within half an
    /// hour, from whatever level.
    fn cannot_wait(&self, reading: ReadingNow) -> bool {
        let (estimated, read) = FAST_FALL;
        let (estimated_minutes, read_minutes) = CANNOT_WAIT_MINUTES;
        let reaches = |minutes: f64, rate: f64, from: f64| from + minutes * rate < self.low;
        // A still lower reading may look pressed: then the rate is that of a sensor that is right.
        let rate = self.situation.rate_if_right_mg_dl_min.map_or(self.rate, |rate| rate.min(self.rate));
        let likely = self.low_chance >= CANNOT_WAIT_LIKELY || rate <= -read;
        // A sensor that reads seldom shows a fall late, and its next reading may be the low.
        let seldom = reading.spacing_minutes >= SELDOM_MINUTES
            && reading.read_rate_mg_dl_min.is_some_and(|rate| {
                rate <= FALLING && reading.mg_dl + LATE_READING * reading.spacing_minutes * rate <= self.low
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
        // What was to be treated minutes ago is not over with one higher reading.
        let within = |reading: &ReadingNow| reading.mg_dl < self.low + NEAR_WITHIN_MG_DL;
        if self.situation.treat_just_said && self.reading.as_ref().is_some_and(within) {
            return Answer::new(self.falling_matter(), Verdict::Hold, Sentence::HoldNearLow)
                .look(5)
                .because(self.futures())
                .changing(&changes);
        }
        // Alcohol lowers too, and is no insulin.
        let insulin = self.has_insulin_on_board();
        if let Some(reading) = self.reading.filter(|reading| insulin && self.insulin_may_lower_to_low(*reading)) {
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
        let falling = self
            .reading
            .is_some_and(|one| one.mg_dl < self.low + FALLS_WITHIN_MG_DL && self.falls_by(NOT_FALLING, one));
        // A check in the last hour was made for a reason, and alcohol lowers late.
        let looked =
            self.low_chance >= HARDLY_ANY || self.situation.meter.is_some() || self.situation.alcohol.is_some();
        match (near || falling, looked) {
            (true, _) => answer.look(15),
            (false, true) => answer.look(30),
            (false, false) => answer,
        }
    }

    /// The likelier the low and the faster the fall, the sooner the next look, in minutes.
    fn look_again(&self, reading: ReadingNow) -> u16 {
        let fast = self.falls_by(FALLING_FAST, reading) || (self.falls_by(FALLING, reading) && self.moved_lately());
        if self.low_chance >= MAY_BE_LOW_AGAIN || fast {
            5
        } else if self.low_chance >= LOOK_SOON_FROM || self.insulin_to_come(reading) > 0.0 {
            10
        } else {
            15
        }
    }

    fn easing(&self) -> Option<Reason> {
        let before_mg_dl_min = self.reading?.earlier_rate_mg_dl_min?;
        (before_mg_dl_min <= FALLING && self.rate < 0.0 && self.rate - before_mg_dl_min >= EASED_BY_MG_DL_MIN)
            .then_some(Reason::Easing { before_mg_dl_min, now_mg_dl_min: self.rate })
    }
}

/// The next band of rate that would change a hold, in mg/dL/min.
fn faster_than(rate: f64) -> f64 {
    [1.0, 2.0, 3.0].into_iter().find(|edge| *edge > -rate + 0.2).unwrap_or(-rate + 1.0)
}
