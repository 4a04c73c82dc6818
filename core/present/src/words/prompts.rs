//! A prompt in words: what to do, why, and what would change it.
//!
//! Every match is exhaustive: a code without its message does not compile.

use super::{Label, Words};
use crate::log::Beyond;
use crate::prompt::{Caution, Change, Matter, Prompt, Reason, Sentence, Verdict};
use crate::time::Moment;
use crate::units::Pace;
use crate::{say, text};

impl Words {
    /// A short name for something shown.
    #[must_use]
    pub fn label(self, label: Label) -> String {
        match label {
            Label::Why => text!(self, "label-why"),
            Label::Careful => text!(self, "label-careful"),
            Label::WouldChange => text!(self, "label-would-change"),
            Label::Logged => text!(self, "label-logged"),
            Label::Now => text!(self, "label-now"),
            Label::Reading => text!(self, "label-reading"),
            Label::MeterCheck => text!(self, "label-meter-check"),
            Label::Expected => text!(self, "label-expected"),
            Label::IfWaiting => text!(self, "label-if-waiting"),
            Label::IfTreating => text!(self, "label-if-treating"),
            Label::NineInTen => text!(self, "label-nine-in-ten"),
            Label::LowLine => text!(self, "label-low-line"),
            Label::FloorLine => text!(self, "label-floor-line"),
            Label::HighLine => text!(self, "label-high-line"),
        }
        .to_owned()
    }

    /// A verdict as a heading of one to three words.
    #[must_use]
    pub fn verdict(self, verdict: Verdict) -> String {
        match verdict {
            Verdict::Treat => text!(self, "verdict-treat"),
            Verdict::Check => text!(self, "verdict-check"),
            Verdict::Hold => text!(self, "verdict-hold"),
            Verdict::Clear => text!(self, "verdict-clear"),
            Verdict::Help => text!(self, "verdict-help"),
        }
        .to_owned()
    }

    /// What an answer says as a heading of one to three words: its verdict, or the wearer's own plan where that is what it points to.
    /// "Hold off" over a plan would say the opposite.
    #[must_use]
    pub fn heading(self, verdict: Verdict, sentence: Sentence) -> String {
        match sentence {
            Sentence::HoldOwnPlan => text!(self, "heading-own-plan").to_owned(),
            Sentence::SickDayPlan | Sentence::SickDayPlanNow | Sentence::SickDayPlanVomiting => {
                text!(self, "heading-sick-day-plan").to_owned()
            }
            _ => self.verdict(verdict),
        }
    }

    /// What an answer leads with.
    #[must_use]
    pub fn lead(self, prompt: &Prompt) -> Lead {
        let sentence = self.sentence(prompt.sentence);
        let look_again = prompt.look_again_minutes.map(|minutes| self.look_again(minutes));
        let without_meter = match prompt.sentence {
            // The sentence says it itself.
            Sentence::NoReadings => None,
            Sentence::CheckKetones => Some(text!(self, "without-ketone-meter").to_owned()),
            Sentence::CheckHigh => Some(text!(self, "without-meter-high").to_owned()),
            _ => prompt.without_meter.map(|verdict| self.without_meter(verdict)),
        };
        // To treat, and to look whether it helped, are one step, in a notification too.
        let (sentence, look_again) = match (prompt.verdict, look_again) {
            (Verdict::Treat, Some(again)) => (format!("{sentence} {again}"), None),
            (_, look_again) => (sentence, look_again),
        };
        Lead {
            heading: self.heading(prompt.verdict, prompt.sentence),
            without_meter,
            look_again,
            // It may stand alone.
            sentence: self.marked(&sentence),
        }
    }

    /// The newest reading that a prompt rests on, with its age at a moment; nothing where there is none.
    #[must_use]
    pub fn newest(self, prompt: &Prompt, at: Moment) -> Option<Newest> {
        let reading = prompt.estimate.and_then(|estimate| estimate.reading)?;
        // Where the reading is too old to move, no reason says how it does.
        let rate = prompt.reasons.iter().find_map(|reason| match reason {
            Reason::Rate { mg_dl_min, .. } => Some(self.movement(*mg_dl_min)),
            _ => None,
        });
        Some(Newest {
            amount: self.shown(reading.shown()),
            age: self.ago(at.minutes_since(reading.at)),
            rate,
            clock: reading.at.on_the_clock_of(at).clock(),
        })
    }

    /// What a prompt is about, as a heading.
    #[must_use]
    pub fn matter(self, matter: Matter) -> String {
        match matter {
            Matter::Falling => text!(self, "matter-falling"),
            Matter::Rising => text!(self, "matter-rising"),
            Matter::NightWake => text!(self, "matter-night-wake"),
            Matter::Steady => text!(self, "matter-steady"),
            Matter::TooLittle => text!(self, "matter-too-little"),
        }
        .to_owned()
    }

    /// The sentence of a prompt: what to do, then why. [`Words::lead`] says when to look again too.
    #[must_use]
    pub fn sentence(self, sentence: Sentence) -> String {
        match sentence {
            Sentence::CallForHelp => text!(self, "sentence-call-for-help"),
            Sentence::TreatConfirmedLow => text!(self, "sentence-treat-confirmed-low"),
            Sentence::TreatBelowFloor => text!(self, "sentence-treat-below-floor"),
            Sentence::TreatLow => text!(self, "sentence-treat-low"),
            Sentence::TreatBeforeLow => text!(self, "sentence-treat-before-low"),
            Sentence::TreatFeltLow => text!(self, "sentence-treat-felt-low"),
            Sentence::TreatAgainAndCall => text!(self, "sentence-treat-again-and-call"),
            Sentence::CheckFeltMeterDisagrees => text!(self, "sentence-check-felt-meter-disagrees"),
            Sentence::CheckMeterWasLow => text!(self, "sentence-check-meter-was-low"),
            Sentence::CheckUnseenLow => text!(self, "sentence-check-unseen-low"),
            Sentence::CheckOtherSensor => text!(self, "sentence-check-other-sensor"),
            Sentence::CheckAfterSevere => text!(self, "sentence-check-after-severe"),
            Sentence::CheckMeterTwice => text!(self, "sentence-check-meter-twice"),
            Sentence::CheckMeterHigh => text!(self, "sentence-check-meter-high"),
            Sentence::CheckApart => text!(self, "sentence-check-apart"),
            Sentence::CheckInsulin => text!(self, "sentence-check-insulin"),
            Sentence::CheckMoreToCome => text!(self, "sentence-check-more-to-come"),
            Sentence::CheckStuck => text!(self, "sentence-check-stuck"),
            Sentence::CheckEnded => text!(self, "sentence-check-ended"),
            Sentence::HoldMeterNear => text!(self, "sentence-hold-meter-near"),
            Sentence::HoldAfterJump => text!(self, "sentence-hold-after-jump"),
            Sentence::HoldInsulinToCome => text!(self, "sentence-hold-insulin-to-come"),
            Sentence::CheckFeltDisagrees => text!(self, "sentence-check-felt-disagrees"),
            Sentence::CheckCompression => text!(self, "sentence-check-compression"),
            Sentence::HoldCompression => text!(self, "sentence-hold-compression"),
            Sentence::CheckRolledOff => text!(self, "sentence-check-rolled-off"),
            Sentence::CheckStillLow => text!(self, "sentence-check-still-low"),
            Sentence::CheckUnsettled => text!(self, "sentence-check-unsettled"),
            Sentence::CheckStale => text!(self, "sentence-check-stale"),
            Sentence::CheckFallingFast => text!(self, "sentence-check-falling-fast"),
            Sentence::CheckNearLow => text!(self, "sentence-check-near-low"),
            Sentence::CheckJustLow => text!(self, "sentence-check-just-low"),
            Sentence::CheckLowRising => text!(self, "sentence-check-low-rising"),
            Sentence::HoldNearLow => text!(self, "sentence-hold-near-low"),
            Sentence::HoldFalling => text!(self, "sentence-hold-falling"),
            Sentence::HoldRescueWorking => text!(self, "sentence-hold-rescue-working"),
            Sentence::HoldMeterAbove => text!(self, "sentence-hold-meter-above"),
            Sentence::HoldInsulinWorking => text!(self, "sentence-hold-insulin-working"),
            Sentence::HoldMealArriving => text!(self, "sentence-hold-meal-arriving"),
            Sentence::HoldRising => text!(self, "sentence-hold-rising"),
            Sentence::HoldOwnPlan => text!(self, "sentence-hold-own-plan"),
            Sentence::CheckHigh => text!(self, "sentence-check-high"),
            Sentence::CallForKetones => text!(self, "sentence-call-for-ketones"),
            Sentence::CheckKetones => text!(self, "sentence-check-ketones"),
            Sentence::CheckVomiting => text!(self, "sentence-check-vomiting"),
            Sentence::SickDayPlanNow => text!(self, "sentence-sick-day-plan-now"),
            Sentence::SickDayPlanVomiting => text!(self, "sentence-sick-day-plan-vomiting"),
            Sentence::SickDayPlan => text!(self, "sentence-sick-day-plan"),
            Sentence::NothingToDecide => text!(self, "sentence-nothing-to-decide"),
            Sentence::NoReadings => text!(self, "sentence-no-readings"),
        }
        .to_owned()
    }

    /// What to do if a check is asked for and no meter is at hand.
    #[must_use]
    pub fn without_meter(self, verdict: Verdict) -> String {
        match verdict {
            Verdict::Treat => text!(self, "without-meter-treat"),
            Verdict::Check => text!(self, "without-meter-check"),
            Verdict::Hold => text!(self, "without-meter-hold"),
            Verdict::Clear => text!(self, "without-meter-clear"),
            Verdict::Help => text!(self, "without-meter-help"),
        }
        .to_owned()
    }

    /// When to look again.
    #[must_use]
    pub fn look_again(self, minutes: u16) -> String {
        match minutes {
            0 => text!(self, "look-again-at-once").to_owned(),
            1 => text!(self, "look-again-1").to_owned(),
            _ => say!(self, "look-again", minutes),
        }
    }

    /// A reason with its numbers, as a sentence.
    #[must_use]
    pub fn reason(self, reason: Reason) -> String {
        let n = self.numbers;
        match reason {
            Reason::Reading { mg_dl, age_minutes } => {
                say!(self, "reason-reading", amount = n.amount(mg_dl), ago = self.ago(age_minutes))
            }
            Reason::ReadingBeyond { beyond, mg_dl, age_minutes } => match beyond {
                Beyond::Below => {
                    say!(self, "reason-reading-beyond-below", amount = n.amount(mg_dl), ago = self.ago(age_minutes))
                }
                Beyond::Above => {
                    say!(self, "reason-reading-beyond-above", amount = n.amount(mg_dl), ago = self.ago(age_minutes))
                }
            },
            Reason::Blood { mg_dl, sd_mg_dl } => say!(self, "reason-blood", expected = self.expected(mg_dl, sd_mg_dl)),
            Reason::Rate { mg_dl_min, pace, in_30_mg_dl } => {
                if pace == Pace::Level {
                    return say!(self, "reason-rate-level", movement = self.movement(mg_dl_min));
                }
                // "Lower" must be there: an amount alone is read as where glucose will be.
                if in_30_mg_dl < 0.0 {
                    say!(
                        self,
                        "reason-rate-falling",
                        movement = self.movement(mg_dl_min),
                        amount = n.amount(in_30_mg_dl.abs())
                    )
                } else {
                    say!(
                        self,
                        "reason-rate-rising",
                        movement = self.movement(mg_dl_min),
                        amount = n.amount(in_30_mg_dl.abs())
                    )
                }
            }
            Reason::Easing { before_mg_dl_min, now_mg_dl_min } => {
                if before_mg_dl_min < 0.0 {
                    say!(
                        self,
                        "reason-easing-fall",
                        before = n.rate_size(before_mg_dl_min),
                        now = n.rate_size(now_mg_dl_min)
                    )
                } else {
                    say!(
                        self,
                        "reason-easing-rise",
                        before = n.rate_size(before_mg_dl_min),
                        now = n.rate_size(now_mg_dl_min)
                    )
                }
            }
            Reason::ChanceLow { chance, within_minutes, line_mg_dl, expected_minutes } => {
                let when = if_within(expected_minutes, within_minutes)
                    .map_or_else(String::new, |m| say!(self, "reason-if-so", span = self.span_after(m)));
                say!(
                    self,
                    "reason-chance-low",
                    line = n.amount(line_mg_dl),
                    within_minutes,
                    chance = self.chance(chance),
                    when
                )
            }
            Reason::IfWaiting { chance, within_minutes, line_mg_dl, minutes_to_low } => {
                let when = if_within(minutes_to_low, within_minutes)
                    .map_or_else(String::new, |m| say!(self, "reason-if-so", span = self.span_after(m)));
                say!(
                    self,
                    "reason-if-waiting",
                    chance = self.chance(chance),
                    line = n.amount(line_mg_dl),
                    within_minutes,
                    when
                )
            }
            Reason::IfTreating { chance, within_minutes, line_mg_dl, high_chance } => say!(
                self,
                "reason-if-treating",
                chance = self.chance(chance),
                line = n.amount(line_mg_dl),
                within_minutes,
                high_chance = self.chance(high_chance)
            ),
            Reason::ChanceFloor { chance, within_minutes, line_mg_dl } => say!(
                self,
                "reason-chance-floor",
                line = n.amount(line_mg_dl),
                within_minutes,
                chance = self.chance(chance)
            ),
            Reason::ChanceHigh { chance, within_minutes, line_mg_dl } => say!(
                self,
                "reason-chance-high",
                line = n.amount(line_mg_dl),
                within_minutes,
                chance = self.chance(chance)
            ),
            Reason::Meter { mg_dl, age_minutes } => {
                say!(self, "reason-meter", amount = n.amount(mg_dl), ago = self.ago(age_minutes))
            }
            Reason::MeterBeyond { beyond, mg_dl, age_minutes } => match beyond {
                Beyond::Below => {
                    say!(self, "reason-meter-beyond-below", amount = n.amount(mg_dl), ago = self.ago(age_minutes))
                }
                Beyond::Above => {
                    say!(self, "reason-meter-beyond-above", amount = n.amount(mg_dl), ago = self.ago(age_minutes))
                }
            },
            Reason::FeelsLow => text!(self, "reason-feels-low").to_owned(),
            Reason::FeelsHigh => text!(self, "reason-feels-high").to_owned(),
            Reason::SevereSigns => text!(self, "reason-severe-signs").to_owned(),
            Reason::Compression { chance, without_mg_dl } => {
                say!(self, "reason-compression", chance = self.chance(chance), without = n.amount(without_mg_dl))
            }
            Reason::OtherSensor { mg_dl, age_minutes } => {
                say!(self, "reason-other-sensor", amount = n.amount(mg_dl), ago = self.ago(age_minutes))
            }
            Reason::MeterApart { shift_mg_dl } => {
                if shift_mg_dl < 0.0 {
                    say!(self, "reason-meter-apart-high", amount = n.amount(shift_mg_dl.abs()))
                } else {
                    say!(self, "reason-meter-apart-low", amount = n.amount(shift_mg_dl.abs()))
                }
            }
            Reason::DoubtfulDose { units, minutes_ago } => {
                say!(self, "reason-doubtful-dose", dose = self.of_insulin(units), ago = self.ago(minutes_ago))
            }
            Reason::LongActingTwice { units, minutes_ago } => {
                say!(self, "reason-long-acting-twice", dose = self.of_insulin(units), ago = self.ago(minutes_ago))
            }
            Reason::Rescues { times } => say!(self, "reason-rescues", times),
            Reason::Stuck { minutes } => say!(self, "reason-stuck", span = self.span_after(minutes)),
            Reason::Ended { minutes_ago } => say!(self, "reason-ended", ago = self.ago(minutes_ago)),
            Reason::RolledOff { minutes_ago } => say!(self, "reason-rolled-off", ago = self.ago(minutes_ago)),
            Reason::Unsettled { chance } => say!(self, "reason-unsettled", chance = self.chance(chance)),
            Reason::FirstDay { hours } => say!(self, "reason-first-day", ago = self.ago(hours * 60.0)),
            Reason::Stale { age_minutes } => say!(self, "reason-stale", span = self.span(age_minutes)),
            Reason::SuddenDrop { from_mg_dl, to_mg_dl, minutes } => say!(
                self,
                "reason-sudden-drop",
                from = n.bare(from_mg_dl),
                to = n.amount(to_mg_dl),
                span = self.span_after(minutes)
            ),
            Reason::Rescue { grams, minutes_ago } => {
                say!(self, "reason-rescue", grams = n.taken(grams), ago = self.ago(minutes_ago))
            }
            Reason::InsulinOnBoard { units, minutes_ago } => {
                say!(
                    self,
                    "reason-insulin-on-board",
                    dose = self.of_insulin((units * 10.0).round() / 10.0),
                    ago = self.ago(minutes_ago)
                )
            }
            Reason::CarbohydrateArriving { grams } => {
                say!(self, "reason-carbohydrate-arriving", grams = n.tenths(grams.round()))
            }
            Reason::Alcohol { drinks, minutes_ago } => {
                say!(self, "reason-alcohol", dose = self.of_drinks(drinks), ago = self.ago(minutes_ago))
            }
            Reason::Ketones { mmol_l, minutes_ago } => {
                say!(self, "reason-ketones", amount = n.tenths(mmol_l), ago = self.ago(minutes_ago))
            }
            Reason::Ill { vomiting: true, minutes_ago } => say!(self, "reason-vomiting", ago = self.ago(minutes_ago)),
            Reason::Ill { vomiting: false, minutes_ago } => say!(self, "reason-ill", ago = self.ago(minutes_ago)),
            Reason::HighFor { minutes } => say!(self, "reason-high-for", span = self.span_after(minutes)),
            Reason::NoInsulinNoted { within_minutes } => {
                say!(self, "reason-no-insulin-noted", span = self.span_after(within_minutes))
            }
            Reason::InsulinNotLowering { minutes_ago } => {
                say!(self, "reason-insulin-not-lowering", ago = self.ago(minutes_ago))
            }
            Reason::Moved { minutes_ago } if minutes_ago < 0.5 => text!(self, "reason-moving").to_owned(),
            Reason::Moved { minutes_ago } => say!(self, "reason-moved", ago = self.ago(minutes_ago)),
        }
    }

    /// A caution, as a sentence.
    #[must_use]
    pub fn caution(self, caution: Caution) -> String {
        match caution {
            Caution::SensorLags => text!(self, "caution-sensor-lags"),
            Caution::SensorLagsRising => text!(self, "caution-sensor-lags-rising"),
            Caution::MeterDecides => text!(self, "caution-meter-decides"),
            Caution::InDoubtTreat => text!(self, "caution-in-doubt-treat"),
            Caution::RecheckIn15 => text!(self, "caution-recheck-in15"),
            Caution::RiseTakesTime => text!(self, "caution-rise-takes-time"),
            Caution::DoNotStack => text!(self, "caution-do-not-stack"),
            Caution::NoDose => text!(self, "caution-no-dose"),
            Caution::KetonesWhenHigh => text!(self, "caution-ketones-when-high"),
            Caution::KetonesAgain => text!(self, "caution-ketones-again"),
            Caution::KetonesEmergency => text!(self, "caution-ketones-emergency"),
            Caution::KetonesAfterLow => text!(self, "caution-ketones-after-low"),
            Caution::KetonesHigh => text!(self, "caution-ketones-high"),
            Caution::InsulinMayNotGetIn => text!(self, "caution-insulin-may-not-get-in"),
            Caution::MayNotStayDown => text!(self, "caution-may-not-stay-down"),
            Caution::FirstDayUnreliable => text!(self, "caution-first-day-unreliable"),
            Caution::NothingByMouth => text!(self, "caution-nothing-by-mouth"),
            Caution::CallSomebody => text!(self, "caution-call-somebody"),
            Caution::AlcoholLowersLater => text!(self, "caution-alcohol-lowers-later"),
            Caution::InsulinRightOrWrong => text!(self, "caution-insulin-right-or-wrong"),
            Caution::FeelingsCount => text!(self, "caution-feelings-count"),
        }
        .to_owned()
    }

    /// One thing that would change the prompt, to stand in a list.
    #[must_use]
    pub fn change(self, change: Change) -> String {
        let n = self.numbers;
        match change {
            Change::ReadingBelow { mg_dl } => say!(self, "change-reading-below", amount = n.amount(mg_dl)),
            Change::ReadingAbove { mg_dl } => say!(self, "change-reading-above", amount = n.amount(mg_dl)),
            Change::FallingFasterThan { mg_dl_min } => {
                say!(self, "change-falling-faster-than", rate = n.rate_size(mg_dl_min))
            }
            Change::MeterBelow { mg_dl } => say!(self, "change-meter-below", amount = n.amount(mg_dl)),
            Change::MeterAbove { mg_dl } => say!(self, "change-meter-above", amount = n.amount(mg_dl)),
            Change::KetonesAbove { mmol_l } => say!(self, "change-ketones-above", amount = n.tenths(mmol_l)),
            Change::FeelingLow => text!(self, "change-feeling-low").to_owned(),
            Change::ReadingsComeBack => text!(self, "change-readings-come-back").to_owned(),
            Change::NewReadings => text!(self, "change-new-readings").to_owned(),
        }
    }
}

/// What an answer leads with: the part a person reads first, or the whole of it in a notification.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lead {
    /// What to do, in one to three words.
    pub heading: String,
    /// What to do, then why, in a sentence.
    pub sentence: String,
    /// What to do with no meter at hand, where the answer is to check first.
    pub without_meter: Option<String>,
    /// When to look again, where the sentence does not say so: that of a treat does.
    pub look_again: Option<String>,
}

/// The newest reading that an answer rests on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Newest {
    /// What was read.
    pub amount: String,
    /// Its age.
    pub age: String,
    /// How fast glucose moves, in numbers and plain words.
    pub rate: Option<String>,
    /// When it was read, on the wearer's clock.
    pub clock: String,
}

/// A time of crossing, if it lies within the time the chance is given for.
fn if_within(expected_minutes: Option<f64>, within_minutes: u16) -> Option<f64> {
    expected_minutes.filter(|minutes| *minutes <= f64::from(within_minutes))
}
