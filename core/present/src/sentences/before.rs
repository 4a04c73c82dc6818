//! What is asked ahead, in sentences: before sleep, a drive, movement.

use crate::before::activity::{Mind, Movement, Risk, StartMoving};
use crate::before::driving::{Drive, RoadRule, RuleSource};
use crate::before::sleep::{Likelier, Look};
use crate::before::{Measured, Missing};
use crate::body::sick::HIGH_MMOL_L;
use crate::units::MG_DL_PER_MMOL_L;
use crate::words::Words;
use crate::{say, text};

/// What is missing for a chance, and what helps.
#[must_use]
pub fn missing(missing: Missing, words: Words) -> String {
    match missing {
        Missing::NoReadings => text!(words, "before-no-chance-can-be-given-there").to_owned(),
        Missing::OldReading { minutes } => {
            let ago = words.ago(minutes);
            say!(words, "before-no-chance-can-be-given-the", ago)
        }
        Missing::ShortRecord => text!(words, "before-no-chance-can-be-given-beyond").to_owned(),
        Missing::NowFirst => text!(words, "before-no-chance-is-given-before-that").to_owned(),
        Missing::TooFarAhead { most_minutes } => {
            let hours = words.decimal(most_minutes / 60.0, 0);
            say!(words, "before-no-chance-can-be-given-so", hours)
        }
        Missing::InsulinToCome => text!(words, "before-no-chance-insulin-to-come").to_owned(),
    }
}

/// The newest measurement.
#[must_use]
pub fn measured(one: Measured, words: Words) -> String {
    let (amount, ago) = (words.shown(one.shown), words.ago(one.age_minutes));
    let by = if one.by_meter { text!(words, "before-meter") } else { text!(words, "before-sensor") };
    format!("{amount}, {ago} ({by})")
}

/// Whether to look again.
#[must_use]
pub fn look(look: Look, words: Words) -> String {
    match look {
        Look::AfterThat { at } => say!(words, "before-do-that-first-then-ask-again", at = at.clock()),
        Look::BeforeSleep { at } => say!(words, "before-look-again-at-before-you-sleep", at = at.clock()),
        Look::InTheNight { at } => say!(words, "before-look-once-in-the-night-set", at = at.clock()),
        Look::AlarmIsEnough => text!(words, "before-nothing-seen-now-asks-for-a").to_owned(),
        Look::Check => text!(words, "before-check-with-a-meter-before-you").to_owned(),
    }
}

/// What makes a low likelier tonight, and what helps.
#[must_use]
pub fn likelier(one: Likelier, words: Words) -> String {
    match one {
        Likelier::NearLow { mg_dl } => {
            let amount = words.amount(mg_dl);
            say!(words, "before-you-are-close-to-your-low", amount)
        }
        Likelier::Falling { mg_dl_min } => {
            let movement = words.movement(mg_dl_min);
            say!(words, "before-glucose-is-see-where-it-settles", movement)
        }
        Likelier::InsulinActs { until } => {
            say!(words, "before-rapid-insulin-acts-until-about-a", until = until.clock())
        }
        Likelier::Alcohol { .. } => text!(words, "before-alcohol-lowers-late-until-the-next").to_owned(),
        Likelier::OwnLows { nights, of_nights, from, to } => {
            say!(words, "before-your-lows-begin", nights, of_nights, from = from.clock(), to = to.clock())
        }
        Likelier::Moved { minutes } => {
            let minutes = words.decimal(minutes, 0);
            say!(words, "before-you-moved-for-minutes-in-the", minutes)
        }
        Likelier::SevereSigns => text!(words, "before-severe-signs-within-a-day").to_owned(),
        Likelier::Ill { vomiting: false } => text!(words, "before-you-are-ill").to_owned(),
        Likelier::Ill { vomiting: true } => text!(words, "before-you-vomit").to_owned(),
        Likelier::RecentLow { mg_dl } => {
            let amount = words.amount(mg_dl);
            say!(words, "before-you-were-low-in-the-last", amount)
        }
    }
}

/// What to do about a drive.
#[must_use]
pub fn drive(drive: Drive, words: Words) -> String {
    match drive {
        Drive::Help => text!(words, "before-do-not-drive-get-help").to_owned(),
        Drive::DoNot => text!(words, "before-do-not-drive-treat-first").to_owned(),
        Drive::CheckFirst => text!(words, "before-check-with-a-meter-before-you-2").to_owned(),
        Drive::NotAfterSevereLow => text!(words, "before-do-not-drive-after-severe-low").to_owned(),
        Drive::NotAfterAlcohol => text!(words, "before-do-not-drive-on-alcohol").to_owned(),
        Drive::SickDayFirst => text!(words, "before-do-not-drive-sick-day-first").to_owned(),
        Drive::WaitAfterLow { until } => say!(words, "before-do-not-drive-before-you-were", until = until.clock()),
        Drive::EatFirst => text!(words, "before-eat-something-first-then-check-again").to_owned(),
        Drive::LowLikely => text!(words, "before-a-low-on-the-way-is").to_owned(),
        Drive::InsulinToCome => text!(words, "before-do-not-drive-insulin-to-come").to_owned(),
        Drive::RuleMet => text!(words, "before-your-glucose-meets-the-rule-now").to_owned(),
        Drive::NoRuleKnown => text!(words, "before-nothing-seen-now-speaks-against-it").to_owned(),
    }
}

/// A rule of the road, a sentence each, with who says so.
#[must_use]
pub fn rule(rule: &RoadRule, words: Words) -> Vec<String> {
    let amount = |mmol_l: f64| words.amount(mmol_l * MG_DL_PER_MMOL_L);
    let (eat, not_below) = (amount(rule.eat_at_mmol_l), amount(rule.not_below_mmol_l));
    let hours = words.decimal(rule.check_every_minutes / 60.0, 0);
    let after = words.decimal(rule.after_low_minutes, 0);
    match rule.source {
        RuleSource::DvlaInf294 => vec![
            say!(words, "before-more-than-to-drive-at-or", eat),
            say!(words, "before-below-or-feeling-low-do-not", not_below),
            say!(words, "before-check-less-than-hours-before-you", hours),
            say!(words, "before-after-a-low-wait-until-glucose", after),
            text!(words, "before-source-driver-and-vehicle-licensing-agency").to_owned(),
        ],
    }
}

/// Whether to start moving.
#[must_use]
pub fn start(start: StartMoving, words: Words) -> String {
    let said = match start {
        StartMoving::Help => text!(words, "before-start-help"),
        StartMoving::TreatFirst => text!(words, "before-start-treat-first"),
        StartMoving::NotAfterSevereLow => text!(words, "before-start-not-after-severe-low"),
        StartMoving::NotWithKetones => {
            return say!(words, "before-start-not-with-ketones", amount = words.decimal(HIGH_MMOL_L, 1));
        }
        StartMoving::NotWhileIll => text!(words, "before-start-not-while-ill"),
        StartMoving::WaitAfterLow => text!(words, "before-start-wait-after-low"),
        StartMoving::CheckFirst => text!(words, "before-start-check-first"),
        StartMoving::RaiseFirst => text!(words, "before-start-raise-first"),
        StartMoving::SmallFirst => text!(words, "before-start-small-first"),
        StartMoving::InsulinToCome => text!(words, "before-start-insulin-to-come"),
        StartMoving::KetonesFirst => text!(words, "before-start-ketones-first"),
        StartMoving::LightOnly => text!(words, "before-start-light-only"),
        StartMoving::NotHard => text!(words, "before-start-not-hard"),
        StartMoving::MayRise => text!(words, "before-start-may-rise"),
        StartMoving::Can => text!(words, "before-start-can"),
    };
    said.to_owned()
}

/// Carbohydrate before the start, as published.
#[must_use]
pub fn carbohydrate((least, most): (f64, f64), words: Words) -> String {
    let (least, most) = (words.decimal(least, 0), words.decimal(most, 0));
    let range = if least == most { format!("{least} g") } else { say!(words, "before-to-g", least, most) };
    say!(words, "before-published-starting-point-of-glucose-your", range)
}

/// Something to mind while moving.
#[must_use]
pub fn mind(one: Mind, words: Words) -> String {
    match one {
        Mind::RecentLow { mg_dl } => {
            let amount = words.amount(mg_dl);
            say!(words, "before-you-were-low-in-the-last-2", amount)
        }
        Mind::InsulinActs { minutes_ago } => {
            let ago = words.ago(minutes_ago);
            say!(words, "before-rapid-insulin-was-taken-movement-makes", ago)
        }
        Mind::Alcohol { .. } => text!(words, "before-alcohol-and-movement-both-lower").to_owned(),
        Mind::Falling { mg_dl_min } => {
            let movement = words.movement(mg_dl_min);
            say!(words, "before-glucose-is-already-steady-movement-takes", movement)
        }
        Mind::BelowRange => text!(words, "before-this-is-below-the-range-published").to_owned(),
        Mind::KetonesRaised { mmol_l } => {
            let amount = words.decimal(mmol_l, 1);
            say!(words, "before-ketones-of-mmol-l-are-raised", amount)
        }
        Mind::AtMost { minutes } => {
            let minutes = words.decimal(minutes, 0);
            say!(words, "before-less-than-minutes", minutes)
        }
        Mind::NightAfter => text!(words, "before-movement-in-the-evening-lowers-into").to_owned(),
    }
}

/// A kind of movement.
#[must_use]
pub fn movement(kind: Movement, words: Words) -> &'static str {
    match kind {
        Movement::Endurance => text!(words, "before-endurance"),
        Movement::Intervals => text!(words, "before-intervals"),
        Movement::Strength => text!(words, "before-strength"),
    }
}

/// The risk of lows.
#[must_use]
pub fn risk(risk: Risk, words: Words) -> &'static str {
    match risk {
        Risk::Low => text!(words, "before-low-risk-of-lows"),
        Risk::Moderate => text!(words, "before-moderate-risk-of-lows"),
        Risk::High => text!(words, "before-high-risk-of-lows"),
    }
}
