//! What was logged and has not shown in the readings yet: insulin beyond the meals it was for, doses that are probably slips, movement and
//! alcohol. It makes waiting less safe and never safer.

use super::decide::{Answer, Case, NEAR_WITHIN_MG_DL, SOME_INSULIN_UNITS, TREAT_WITHIN_MG_DL};
use super::falling::{NOT_FALLING, SLOW_FALL, WORTH_A_CHECK};
use super::weigh::{Costs, chance_right, weigh_waiting};
use super::{Change, Moved, ReadingNow, Sentence};
use crate::body::effects::COUNTED_ON;
use crate::body::movement::lowers_for_hours;
use crate::log::{Effort, InsulinKind};

/// Insulin is reckoned with where it may lower this much further than the low line, less what carbohydrate may raise, in mg/dL.
const MORE_TO_COME_MG_DL: f64 = 40.0;
/// How likely a low within the hour must be, if nothing is done, for so much still to come beyond that, in mg/dL, to be worth a
/// finger-prick (chosen in the closed-loop trial, see `tests/docs/trial.md`).
const MORE_TO_COME: [(f64, f64); 2] = [(0.5, 50.0), (0.3, 100.0)];
/// Insulin that may lower by so much beyond that is reckoned with from further above the low line, both in mg/dL (assumption): doses
/// upon doses.
pub(super) const MUCH_TO_COME_MG_DL: f64 = 150.0;
const MUCH_WITHIN_MG_DL: f64 = 60.0;
/// After movement or alcohol a slow fall is watched up to this reading, in mg/dL above the low line.
const LOWERED_WITHIN_MG_DL: f64 = 40.0;
/// Insulin that may lower by this much in half an hour is at work, in mg/dL.
pub(super) const INSULIN_AT_WORK_MG_DL: f64 = 15.0;
/// An amount of insulin that is probably a slip is treated without a meter up to this, in mg/dL above the low line (assumption).
const DOSE_NEAR_MG_DL: f64 = 60.0;
/// Up to so many minutes after movement that lowers for hours a fall is taken more seriously.
const MOVED_MINUTES: f64 = 180.0;

impl Case<'_> {
    /// An amount of insulin that is probably a slip of the finger, and an emergency if it is none.
    pub(super) fn unusual_dose(&self) -> Option<Answer> {
        let doubtful = self.situation.doubtful_dose?;
        let reading = self.reading?;
        // Low, the rules for lows come first: they are at least as careful.
        if reading.mg_dl < self.low {
            return None;
        }
        let much_to_come = reading.mg_dl < self.low + TREAT_WITHIN_MG_DL && self.insulin_to_come(reading) > 0.0;
        let treated = |answer: &Answer| answer.is_treat();
        if much_to_come || self.doubted().is_none() && self.falling().as_ref().is_some_and(treated) {
            return Some(
                Answer::treat(self.falling_matter(), Sentence::TreatBeforeLow)
                    .because(self.chances())
                    .because(self.futures())
                    .look(5)
                    .changing(&[Change::MeterAbove { mg_dl: self.low + TREAT_WITHIN_MG_DL }]),
            );
        }
        let near = reading.mg_dl < self.low + DOSE_NEAR_MG_DL && self.insulin_to_come(reading) > 0.0;
        // Half a day of long-acting insulin is watched, not checked every quarter of an hour.
        let minutes = match doubtful.dose.kind {
            InsulinKind::Rapid if near => 10,
            InsulinKind::Rapid => 15,
            InsulinKind::LongActing => 30,
        };
        let falling = self.rate <= NOT_FALLING && reading.mg_dl < self.wearer.high_line.mg_dl();
        let treat = falling || near || self.weighs_treat();
        // The doubt is about the entry: a meter check in range answers nothing of what such a dose will do.
        let answer = Answer::check(self.falling_matter(), Sentence::CheckInsulin, Self::treat_or_hold(treat));
        let minutes = if self.falls_by(NOT_FALLING, reading) { minutes.min(10) } else { minutes };
        let answer = answer.because(self.chances()).look(minutes);
        Some(answer.changing(&[Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow]))
    }

    /// Logged insulin is at work and has more to lower, by the wearer's own factor, than logged carbohydrate has to raise.
    pub(super) fn insulin_at_work(&self) -> bool {
        self.wearer.insulin_factor_mg_dl_per_unit.is_some() && self.insulin_beyond_meals() > INSULIN_AT_WORK_MG_DL
    }

    /// By how much insulin on board, less the carbohydrate that is counted on, may lower glucose, in mg/dL.
    fn insulin_beyond_meals(&self) -> f64 {
        let effects = &self.situation.effects;
        effects.insulin_left - COUNTED_ON * effects.carbohydrate_left
    }

    /// The weighing of blood glucose if nothing is done, with what was logged: a fall near the line with insulin behind it.
    pub(super) fn log_weighs_treat(&self, reading: ReadingNow) -> bool {
        let Some(futures) = self.situation.futures else { return false };
        let right = chance_right(self.situation.asleep, self.compression);
        // Well above the line most falls level off by themselves, with insulin behind them too.
        let likely = futures.wait.p_low_30 >= WORTH_A_CHECK || reading.mg_dl < self.low + NEAR_WITHIN_MG_DL;
        self.insulin_at_work()
            && likely
            && self.rate <= SLOW_FALL
            && self.level(reading) < self.low + NEAR_WITHIN_MG_DL
            && weigh_waiting(&futures.wait, right, Costs::of(self.wearer), reading.spacing_minutes).says_treat()
    }

    /// By how much insulin on board, less the carbohydrate that is counted on, may lower glucose beyond the low line, in mg/dL.
    pub(super) fn insulin_to_come(&self, reading: ReadingNow) -> f64 {
        self.insulin_beyond(reading.mg_dl)
    }

    /// The same from an amount in mg/dL, a reading's or a meter's.
    pub(super) fn insulin_beyond(&self, mg_dl: f64) -> f64 {
        self.insulin_beyond_meals() - (mg_dl - self.low) - MORE_TO_COME_MG_DL
    }

    /// A fall near the line that insulin on board or movement may take further than the readings show yet.
    pub(super) fn more_to_come(&self, reading: ReadingNow) -> bool {
        let more = self.insulin_to_come(reading);
        let within = if more > MUCH_TO_COME_MG_DL { MUCH_WITHIN_MG_DL } else { NEAR_WITHIN_MG_DL };
        if !self.falls_by(SLOW_FALL, reading) || reading.mg_dl >= self.low + within {
            return false;
        }
        let chance = self.situation.futures.map_or(0.0, |futures| futures.wait.p_low_60);
        let counts = |(least, mg_dl): (f64, f64)| chance >= least && more > mg_dl;
        self.moved_lately() || self.situation.alcohol.is_some() || MORE_TO_COME.into_iter().any(counts)
    }

    /// More insulin is to come than the distance to the low line, from a reading that is not high.
    pub(super) fn insulin_may_lower_to_low(&self, reading: ReadingNow) -> bool {
        reading.mg_dl <= self.wearer.high_line.mg_dl() && self.insulin_to_come(reading) > 0.0
    }

    /// Such insulin beside a reading close above the low line that does not rise, or not fast enough for so much.
    pub(super) fn insulin_beside_low_line(&self, reading: ReadingNow) -> bool {
        let to_come = self.insulin_to_come(reading);
        let outweighs = self.rate <= 0.0 && to_come > 0.0 || self.rate <= -NOT_FALLING && to_come > MUCH_TO_COME_MG_DL;
        reading.mg_dl < self.low + TREAT_WITHIN_MG_DL && self.has_insulin_on_board() && outweighs
    }

    /// Rapid insulin is still at work.
    pub(super) fn has_insulin_on_board(&self) -> bool {
        self.situation.on_board.insulin_units >= SOME_INSULIN_UNITS
    }

    /// A slow fall with movement or alcohol of the last hours behind it, which the readings don't show yet.
    pub(super) fn lowered_for_hours(&self, reading: ReadingNow) -> bool {
        (self.moved_hard().is_some() || self.situation.alcohol.is_some())
            && self.falls_by(SLOW_FALL, reading)
            && reading.mg_dl <= self.low + LOWERED_WITHIN_MG_DL
    }

    /// Such movement, lately enough that a fall is taken more seriously.
    pub(super) fn moved_lately(&self) -> bool {
        self.moved_hard().is_some_and(|moved| moved.minutes_ago <= MOVED_MINUTES)
    }

    /// Movement of moderate effort at least, that lasts or ended up to so many minutes ago.
    pub(super) fn moved_within(&self, minutes: f64) -> bool {
        self.situation.moved.is_some_and(|moved| moved.minutes_ago <= minutes && moved.effort != Effort::Light)
    }

    /// Movement long and hard enough to lower for hours.
    fn moved_hard(&self) -> Option<Moved> {
        self.situation.moved.filter(|moved| lowers_for_hours(moved.effort, moved.minutes))
    }
}
