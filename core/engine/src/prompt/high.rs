//! The high side: ketones and sick days, and a high or a rise. A dose is never named, and no rule here comes before one for lows,
//! except that ketones of an emergency call for help unless glucose is low.
//!
//! # Source
//! [`crate::body::sick`] for ketones and illness. A high that insulin does not lower may be insulin that does not get in: ISPAD
//! Clinical Practice Consensus Guidelines 2022, technologies, insulin delivery (Sherr et al., Pediatr Diabetes 2022;23:1406-1431,
//! from memory): high for long with a pump, measure ketones and look after the site. The times are assumptions where no source is named.

use super::decide::{Answer, Case, RISE_SHOWS, SOME_CARBOHYDRATE_G, SOME_INSULIN_UNITS, WORTH_SHOWING, add_cautions};
use super::falling::{FALLING_FAST, SLOW_FALL};
use super::sensor::DOUBTED;
use super::{Caution, Change, DOSE_KNOWN_MINUTES, Matter, ReadingNow, Reason, Sentence, Verdict};
use crate::body::lag::WHOLE_MINUTES;
use crate::body::sick::{EMERGENCY_MMOL_L, HIGH_MMOL_L, RAISED_MMOL_L};
use crate::engine::FASTER_THAN_GLUCOSE;
use crate::log::{Effort, Symptom};
use crate::wearer::VERY_HIGH_LINE_MG_DL as VERY_HIGH_MG_DL;

/// A correction is left to work for this long before another is spoken of, in minutes. Rapid insulin acts most about an hour
/// and a half after injection; most of its action is over after three hours.
const DOSE_WORKS_MINUTES: f64 = 180.0;
/// For so long at least a meter check answers for a high sensor, in minutes.
const CHECKED_MINUTES: f64 = 180.0;
/// Above this for so long, ketones are worth a test, in minutes.
const LONG_HIGH_MINUTES: f64 = 120.0;

/// How often, and for how long each time, a high that lasts asks for ketones, in minutes (assumptions).
const ASKS_EVERY_MINUTES: f64 = 60.0;
const ASKS_FOR_MINUTES: f64 = 10.0;

/// Rapid insulin that was taken this long ago should have begun to lower, in minutes: it acts most about then.
const SHOULD_LOWER_MINUTES: f64 = 90.0;
/// High for so long with a meal noted and no insulin, the insulin is missing, in minutes (assumption).
const MEAL_WITHOUT_DOSE_MINUTES: f64 = 60.0;
/// Slower than this a high is not coming down, in mg/dL/min.
const COMING_DOWN: f64 = -0.5;
/// A chance of a high within half an hour this large is spoken of, with a rise (assumption: more likely than not).
const COMING_HIGH: f64 = 0.5;
/// A rise that hard movement brought is left to settle for so long, in minutes.
///
/// Source: Riddell et al., Lancet Diabetes Endocrinol 2017;5:377-390 (from memory): a rise after intense exercise is often over within an
/// hour or two, and insulin for it can bring a late low.
const SETTLES_MINUTES: f64 = 60.0;
/// A high that falls fast is looked at again before it is this near the low line, in mg/dL (assumption): half an hour at 2 mg/dL a minute.
const LOOK_ABOVE_MG_DL: f64 = 60.0;

impl Case<'_> {
    /// Ketones that are an emergency, at whatever glucose. A low comes first: it is a matter of minutes.
    pub(super) fn ketones_need_help(&self) -> Option<Answer> {
        let sick = &self.situation.sick;
        let low = self.feels(Symptom::FeelsLow)
            || self.situation.meter.is_some_and(|meter| meter.mg_dl < self.low)
            || self.reads_low_now();
        (sick.is_emergency() && !low).then(|| {
            let coming = self.low_chance >= WORTH_SHOWING;
            let answer = Answer::new(self.matter(Matter::Rising), Verdict::Help, Sentence::CallForKetones)
                .with_cautions(&[Caution::NoDose, Caution::CallSomebody])
                .look(if coming { 5 } else { 15 });
            // A low on its way is not hidden by what is worse.
            if coming { answer.because(self.chances()) } else { answer }
        })
    }

    /// Vomiting with insulin at work: what was eaten for it may not stay, so a slow fall is checked early.
    pub(super) fn vomiting_on_insulin(&self) -> Option<Answer> {
        let reading = self.reading?;
        let insulin = self.situation.on_board.insulin_units >= SOME_INSULIN_UNITS;
        let falls = self.rate <= SLOW_FALL && reading.mg_dl < self.wearer.high_line.mg_dl();
        (self.situation.sick.vomiting() && insulin && falls).then(|| {
            let matter = self.falling_matter();
            let answer = if self.check_answered() {
                Answer::new(matter, Verdict::Hold, Sentence::HoldMeterAbove)
            } else {
                Answer::check(matter, Sentence::CheckVomiting, Verdict::Hold)
            };
            answer.look(10).changing(&[Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow])
        })
    }

    /// Ketones that were measured, or that illness or a high which lasts asks to measure.
    pub(super) fn ketones_known_or_wanted(&self) -> Option<Answer> {
        let sick = &self.situation.sick;
        let plan = |sentence, above| {
            Answer::new(self.matter(Matter::Rising), Verdict::Hold, sentence)
                .with_cautions(&[Caution::KetonesAgain, Caution::NoDose])
                .look(30)
                .changing(&[Change::KetonesAbove { mmol_l: above }, Change::FeelingLow])
        };
        match sick.ketones_now() {
            Some(mmol_l) if mmol_l >= HIGH_MMOL_L => return Some(plan(Sentence::SickDayPlanNow, EMERGENCY_MMOL_L)),
            Some(mmol_l) if mmol_l >= RAISED_MMOL_L => return Some(plan(Sentence::SickDayPlan, HIGH_MMOL_L)),
            _ => {}
        }
        let high = self.reading.is_some_and(|reading| reading.mg_dl > self.wearer.high_line.mg_dl());
        let long = self.reading.is_some_and(|reading| reading.high_for_minutes >= LONG_HIGH_MINUTES);
        if sick.vomiting() && high && long && sick.ketones_now().is_some() {
            return Some(
                Answer::new(self.matter(Matter::Rising), Verdict::Hold, Sentence::SickDayPlanVomiting)
                    .with_cautions(&[Caution::KetonesWhenHigh, Caution::NoDose])
                    .look(30)
                    .changing(&[Change::KetonesAbove { mmol_l: RAISED_MMOL_L }, Change::FeelingLow]),
            );
        }
        let ill = sick.ill.is_some_and(|ill| ill.vomiting || high);
        ((ill && sick.ketones.is_none()) || sick.again_due()).then(|| self.measure_ketones())
    }

    fn measure_ketones(&self) -> Answer {
        Answer::new(self.matter(Matter::Rising), Verdict::Check, Sentence::CheckKetones)
            .without_meter(Verdict::Hold)
            .with_cautions(&[Caution::NoDose])
            .look(15)
            .changing(&[Change::KetonesAbove { mmol_l: RAISED_MMOL_L }])
    }

    /// Minutes until a high that lasts asks to measure ketones, 0 while it does: for a while at each hour of it. Whoever has no strips at
    /// hand is not asked at each reading; the caution stays.
    fn asks_ketones_in(high_for_minutes: f64) -> f64 {
        let since = high_for_minutes.rem_euclid(ASKS_EVERY_MINUTES);
        if since < ASKS_FOR_MINUTES { 0.0 } else { ASKS_EVERY_MINUTES - since }
    }

    /// What illness and ketones add to any answer. `treats` is whether it says treat, outright or where there is no meter.
    pub(super) fn add_sick_day(
        &self,
        verdict: Verdict,
        treats: bool,
        matter: Matter,
        reasons: &mut Vec<Reason>,
        cautions: &mut Vec<Caution>,
    ) {
        let sick = &self.situation.sick;
        if let Some(ketones) = sick.ketones {
            reasons.push(Reason::Ketones { mmol_l: ketones.mmol_l, minutes_ago: ketones.minutes_ago });
        }
        if let Some(ill) = sick.ill {
            reasons.push(Reason::Ill { vomiting: ill.vomiting, minutes_ago: ill.minutes_ago });
        }
        if sick.is_emergency() && verdict != Verdict::Help {
            add_cautions(cautions, &[Caution::KetonesEmergency]);
        } else if sick.are_raised() && verdict != Verdict::Help {
            // A low comes first and leaves the ketones where they are; so does a fall, where the lead is not of them.
            let high = sick.ketones_now().is_some_and(|mmol_l| mmol_l >= HIGH_MMOL_L) && matter != Matter::Rising;
            let caution = match (treats, high) {
                (true, _) => Caution::KetonesAfterLow,
                (false, true) => Caution::KetonesHigh,
                (false, false) => Caution::KetonesAgain,
            };
            add_cautions(cautions, &[caution]);
        }
        if sick.ill.is_some() && sick.ketones.is_none() {
            add_cautions(cautions, &[Caution::KetonesWhenHigh]);
        }
        if sick.vomiting() && (verdict == Verdict::Treat || matter == Matter::Falling || self.has_insulin_on_board()) {
            add_cautions(cautions, &[Caution::MayNotStayDown]);
        }
    }

    /// When to look again at a high that comes down, in minutes: before blood, which is there earlier than the sensor shows, is within
    /// [`LOOK_ABOVE_MG_DL`] of the low line at this rate.
    fn look_while_high(&self, mg_dl: f64, rate: f64) -> u16 {
        if rate > FALLING_FAST {
            return 30;
        }
        let minutes = (mg_dl - self.low - LOOK_ABOVE_MG_DL) / -rate - WHOLE_MINUTES;
        // 5 to 15, so the cast is exact enough.
        minutes.clamp(5.0, 15.0) as u16
    }

    /// A rise after a low is what was eaten against it, and one after hard movement often settles: correcting either ends in the next low.
    fn settles_by_itself(&self, reading: ReadingNow) -> bool {
        let after_low = reading.low_minutes_before.is_some() && reading.mg_dl <= VERY_HIGH_MG_DL;
        let moved = self.situation.moved.filter(|moved| moved.effort == Effort::Hard);
        after_low || moved.is_some_and(|moved| moved.minutes_ago <= SETTLES_MINUTES)
    }

    /// The rising side: insulin already working and meals still arriving come first; a dose is never named.
    pub(super) fn high_or_rising(&self) -> Option<Answer> {
        let reading = self.reading?;
        let high = self.wearer.high_line.mg_dl();
        let forecast = self.situation.forecast.as_ref()?;
        let coming = forecast.high.within_30;
        if reading.mg_dl <= high && (coming < COMING_HIGH || self.rate < RISE_SHOWS) {
            return None;
        }
        let chance = (reading.mg_dl <= high).then_some(Reason::ChanceHigh {
            chance: coming,
            within_minutes: 30,
            line_mg_dl: forecast.high.line_mg_dl,
        });
        let matter = self.matter(Matter::Rising);
        // A fast fall that the estimate doubts is no time to correct either.
        let read = reading.read_rate_mg_dl_min.filter(|read| *read <= FALLING_FAST);
        let rate = read.map_or(self.rate, |read| read.min(self.rate));
        let hold = |sentence, minutes| {
            let minutes = self.look_while_high(reading.mg_dl, rate).min(minutes);
            Answer::new(matter, Verdict::Hold, sentence).look(minutes).because(chance).with_cautions(&[Caution::NoDose])
        };
        let higher = high.max(reading.mg_dl + 40.0);
        let above =
            Change::ReadingAbove { mg_dl: if reading.mg_dl < VERY_HIGH_MG_DL { VERY_HIGH_MG_DL } else { higher } };
        let insulin = self.situation.on_board.insulin_units >= SOME_INSULIN_UNITS
            && self.situation.dose_minutes_ago.is_some_and(|minutes| minutes < DOSE_WORKS_MINUTES);
        let meal = self.situation.on_board.carbohydrate_g >= SOME_CARBOHYDRATE_G;
        let very_high = reading.mg_dl > VERY_HIGH_MG_DL;
        let long_high = very_high && reading.high_for_minutes >= LONG_HIGH_MINUTES;
        // A check that was made lately, or since it is high, has answered; another every few hours would be a burden and no news.
        let since = CHECKED_MINUTES.max(reading.high_for_minutes);
        let checked = self.situation.checked_minutes_ago.is_some_and(|minutes| minutes <= since);
        let jumps = reading.read_rate_mg_dl_min.is_some_and(|read| read > FASTER_THAN_GLUCOSE);
        let doubt = self.unsettled + self.compression > DOUBTED;
        // By the estimate or by the readings: noise lets one of the two fall at some looks.
        let slower = reading.read_rate_mg_dl_min.map_or(self.rate, |read| read.max(self.rate));
        let stays = long_high && slower > COMING_DOWN;
        let dose = self.situation.dose_minutes_ago;
        // A rise against a dose that should have lowered by now says the same sooner.
        let rises_against = very_high && !meal && self.rate >= RISE_SHOWS;
        let not_lowering =
            dose.filter(|ago| (stays || rises_against) && (SHOULD_LOWER_MINUTES..DOSE_WORKS_MINUTES).contains(ago));
        let unexplained = stays && !insulin || not_lowering.is_some();
        let wants_ketones = unexplained && self.situation.sick.ketones_now().is_none();
        // A meal that nothing was noted for does not come down by itself; nor does it arrive where nothing rises.
        let no_dose = dose.is_none() && reading.high_for_minutes >= MEAL_WITHOUT_DOSE_MINUTES;
        let meal = meal && self.rate >= RISE_SHOWS && !no_dose;
        let ketones_in = Self::asks_ketones_in(reading.high_for_minutes);
        let asks_now = wants_ketones && ketones_in <= 0.0;
        // Who looks when asked to comes to each time at which ketones are asked for. 5 to 60, so the cast is exact enough.
        let until_asked =
            |minutes: u16| if wants_ketones { minutes.min(ketones_in.max(5.0).ceil() as u16) } else { minutes };
        let answer = if !checked && jumps {
            Answer::check(matter, Sentence::CheckUnsettled, Verdict::Hold)
                .because(chance)
                .with_cautions(&[Caution::NoDose])
                .changing(&[Change::NewReadings])
        } else if !checked && ((doubt && very_high) || unexplained) && !asks_now {
            Answer::check(matter, Sentence::CheckHigh, Verdict::Hold)
                .because(chance)
                .with_cautions(&[Caution::NoDose])
                .look(until_asked(15))
                .changing(&[Change::MeterAbove { mg_dl: VERY_HIGH_MG_DL }, Change::NewReadings])
        } else if asks_now {
            self.measure_ketones()
        } else if insulin && not_lowering.is_none() {
            hold(Sentence::HoldInsulinWorking, 30).with_cautions(&[Caution::DoNotStack]).changing(&[above])
        } else if meal {
            hold(Sentence::HoldMealArriving, 30).changing(&[above])
        } else if reading.mg_dl > high && rate > COMING_DOWN && !self.settles_by_itself(reading) {
            hold(Sentence::HoldOwnPlan, until_asked(30))
                .with_cautions(&[Caution::MeterDecides])
                .with_cautions(if insulin { &[Caution::DoNotStack] } else { &[] })
                .changing(&[above])
        } else {
            hold(Sentence::HoldRising, 20).changing(&[Change::ReadingAbove { mg_dl: higher }])
        };
        let doubted = doubt.then_some(Reason::Unsettled { chance: self.unsettled + self.compression });
        let answer = answer
            .because(doubted)
            .because(long_high.then_some(Reason::HighFor { minutes: reading.high_for_minutes }))
            .because(not_lowering.map(|minutes_ago| Reason::InsulinNotLowering { minutes_ago }))
            .because(
                ((stays || no_dose) && dose.is_none())
                    .then_some(Reason::NoInsulinNoted { within_minutes: DOSE_KNOWN_MINUTES }),
            )
            .with_cautions(if doubt { &[Caution::MeterDecides] } else { &[] })
            .with_cautions(if unexplained { &[Caution::InsulinMayNotGetIn] } else { &[] });
        // Ketones that were measured a short while ago are no reason to measure them.
        let asks_ketones = very_high && self.situation.sick.ketones_now().is_none();
        Some(if asks_ketones { answer.with_cautions(&[Caution::KetonesWhenHigh]) } else { answer })
    }
}
