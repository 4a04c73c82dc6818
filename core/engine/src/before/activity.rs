//! Before movement: the published starting ranges, by kind, and what speaks for more caution.
//!
//! What is published about carbohydrate is given as a range and as published, never worked out for the wearer; nothing is about insulin.
//! The care team's own plan goes before all of it.
//!
//! # Source
//! Riddell et al., Lancet Diabetes Endocrinol 2017;5:377-390, panel on glucose before exercise: below 5 mmol/L (90 mg/dL) 10 to 20 g
//! of glucose and wait until above; 5.0 to 6.9 (90 to 124) 10 g before aerobic exercise, anaerobic and interval training can start; 7 to
//! 10 (126 to 180) all can start; 10.1 to 15 (182 to 270) aerobic can start, the others may raise it; above 15 (270) unexplained: ketones, at
//! 1.5 mmol/L or more no exercise, up to 1.4 light and under 30 minutes only, below 0.6 mild to moderate aerobic exercise. A severe low (2.8 mmol/L,
//! 50 mg/dL, or less, or with help) within 24 hours: no exercise; a milder one: not alone and not where a low is dangerous. The first two
//! bands are quoted in Wilderness Environ Med 2019;30:S121-S140, table 3, the lows in Sports Med Open 2019;5; the rest is from memory.
//! Moser et al., Diabetologia 2020;63:2501-2520 and Pediatr Diabetes 2020;21:1375-1393, table 1: sensor glucose to start at by the risk of lows: 126 to 180,
//! 145 to 198, 162 to 216 mg/dL; no exercise above 270 mg/dL with over 1.5 mmol/L of ketones. That the risk goes by the time below 70 mg/dL (under 4 %, to
//! 8 %, more) is from memory.
//! No exercise while ill or vomiting: sick-day rules (common practice, no source). That alcohol and movement both lower for hours: [`crate::body::alcohol`]
//! and [`crate::body::movement`].

use serde::{Deserialize, Serialize};

use super::chance::Chance;
use super::driving::{RULES, back_to_normal};
use super::{FALLING_SAID, Facts, First, LONGEST_MINUTES, Measured, Missing, NowFirst, check_length};
use crate::body::alcohol::Alcohol;
use crate::body::sick::{HIGH_MMOL_L, MOST_KETONES_MMOL_L, RAISED_MMOL_L, SickDay};
use crate::error::{Error, Quantity, Result, Unit};
use crate::log::{Effort, InsulinKind};
use crate::prompt::Sentence;
use crate::time::Moment;
use crate::wearer::LOW_LINE_MG_DL;

/// Edges of the bands, in mg/dL.
const RAISE_BELOW: f64 = 90.0;
const SMALL_BELOW: f64 = 126.0;
const HIGH_ABOVE: f64 = 180.0;
const KETONES_ABOVE: f64 = 270.0;
/// Ketones in blood, in mmol/L: from the first on only light movement, from the second on none.
const KETONES_LIGHT: f64 = RAISED_MMOL_L;
const KETONES_NONE: f64 = HIGH_MMOL_L;
/// A low this deep within 24 hours is severe, in mg/dL.
const SEVERE_MG_DL: f64 = 50.0;
/// Carbohydrate before the start, as published, in g.
const RAISE_G: (f64, f64) = (10.0, 20.0);
const SMALL_G: (f64, f64) = (10.0, 10.0);
/// With ketones that are raised a little, movement is shorter than this, in minutes.
const LIGHT_MOST_MINUTES: f64 = 30.0;
/// Starting ranges by risk, in mg/dL.
const RANGES: [(Risk, f64, f64); 3] =
    [(Risk::Low, 126.0, 180.0), (Risk::Moderate, 145.0, 198.0), (Risk::High, 162.0, 216.0)];
/// Shares of readings below 70 mg/dL from which on the risk is moderate and high.
const RISK_SHARES: (f64, f64) = (0.04, 0.08);
/// The share is of this long, in minutes, and of at least so many readings.
const RISK_OVER: (f64, usize) = (7.0 * 1440.0, 288);
/// Rapid insulin of the last hours lowers more while moving, in minutes.
///
/// Source: Riddell et al. 2017: circulating insulin is the chief cause of lows in aerobic exercise; hours as most of its action lasts.
const INSULIN_MINUTES: f64 = 180.0;
/// Falling this fast, carbohydrate comes first from any level in range, in mg/dL/min.
const FALLING_FIRST: f64 = -1.0;
/// Evening begins at this minute of the day: movement after it lowers into the night (assumption).
const EVENING_MINUTE: u32 = 16 * 60;

/// Kinds of movement, by what they do to glucose.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Movement {
    /// Steady: walking, running, cycling, swimming. It lowers.
    Endurance,
    /// Short and hard with breaks: sprints, ball games. It may raise first.
    Intervals,
    /// Against resistance: weights. It may raise first.
    Strength,
}

/// What is planned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Planned {
    /// The kind.
    pub kind: Movement,
    /// How hard.
    pub effort: Effort,
    /// How long, in minutes.
    pub minutes: f64,
    /// Ketones in blood that were just measured, in mmol/L.
    pub ketones_mmol_l: Option<f64>,
}

/// The risk of lows, as the starting ranges go by it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Risk {
    /// Few lows.
    Low,
    /// Some, or one within the last day.
    Moderate,
    /// Many, or a very low one within the last day.
    High,
}

/// Whether and how to start.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum StartMoving {
    /// Get help.
    Help,
    /// Not now: low, or it feels so. Treat first.
    TreatFirst,
    /// Not today: a severe low within 24 hours.
    NotAfterSevereLow,
    /// Not now: ketones are too high.
    NotWithKetones,
    /// Not while ill or vomiting.
    NotWhileIll,
    /// Not right after a low.
    WaitAfterLow,
    /// Check with a meter first.
    CheckFirst,
    /// Below where all published ranges begin: carbohydrate, then wait until above.
    RaiseFirst,
    /// Carbohydrate first.
    SmallFirst,
    /// Carbohydrate first, then a look: more insulin was noted than was eaten for.
    InsulinToCome,
    /// High: check ketones first.
    KetonesFirst,
    /// High with ketones raised a little: light and short only.
    LightOnly,
    /// High without ketones: light or moderate; hard movement may raise further.
    NotHard,
    /// Can start; it may raise glucose.
    MayRise,
    /// Can start.
    Can,
}

/// Something to mind.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "code")]
pub enum Mind {
    /// A low within 24 hours: not alone, not where a low is dangerous.
    RecentLow {
        /// The lowest, in mg/dL.
        mg_dl: f64,
    },
    /// Rapid insulin of the last hours.
    InsulinActs {
        /// Minutes since the newest.
        minutes_ago: f64,
    },
    /// Alcohol, which lowers for hours as movement does.
    Alcohol {
        /// Standard drinks.
        drinks: f64,
    },
    /// Falling already.
    Falling {
        /// In mg/dL/min, negative.
        mg_dl_min: f64,
    },
    /// Below the range published for this risk of lows.
    BelowRange,
    /// Ketones are raised a little.
    KetonesRaised {
        /// In mmol/L.
        mmol_l: f64,
    },
    /// Shorter than planned.
    AtMost {
        /// In minutes.
        minutes: f64,
    },
    /// The night after is likelier to bring a low.
    NightAfter,
}

/// What is known before movement.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BeforeActivity {
    /// When it was asked.
    pub at: Moment,
    /// The kind.
    pub kind: Movement,
    /// How hard.
    pub effort: Effort,
    /// How long, in minutes.
    pub minutes: f64,
    /// Whether to start.
    pub start: StartMoving,
    /// What has to be done now, whatever is asked ahead.
    pub first: Option<First>,
    /// Carbohydrate before the start, least and most, in g, as published.
    pub carbohydrate_g: Option<(f64, f64)>,
    /// The newest measurement of the last hour.
    pub measured: Option<Measured>,
    /// The risk of lows by the record of a week; nothing where that is too short.
    pub risk: Option<Risk>,
    /// The published range to start in, in mg/dL.
    pub range_mg_dl: (f64, f64),
    /// What to mind.
    pub mind: Vec<Mind>,
    /// The chances over the time, as if the wearer rested: what movement adds is not known.
    pub chance_at_rest: Option<Chance>,
    /// What is missing for them.
    pub missing: Option<Missing>,
}

/// What is known before movement that begins now.
///
/// # Errors
/// [`Error::OutOfRange`] unless it lasts 1 minute to a day and ketones are 0 to 20 mmol/L.
pub fn activity(facts: &Facts<'_>, plan: Planned) -> Result<BeforeActivity> {
    let Planned { kind, effort, minutes, ketones_mmol_l } = plan;
    let minutes = check_length(Quantity::LengthOfTheMovement, minutes)?;
    if let Some(given) = ketones_mmol_l.filter(|one| !(0.0..=MOST_KETONES_MMOL_L).contains(one)) {
        return Err(Error::OutOfRange {
            what: Quantity::Ketones,
            given,
            low: 0.0,
            high: MOST_KETONES_MMOL_L,
            unit: Unit::MmolL,
        });
    }
    // What was noted lately holds where nothing else is said.
    let sick = SickDay::at(facts.history, facts.now());
    let ketones_mmol_l = ketones_mmol_l.or_else(|| sick.ketones_now());
    let plan = Planned { ketones_mmol_l, ..plan };
    let measured = facts.measured();
    // Movement makes what is left of it lower more and sooner, so all of it counts.
    let insulin = facts.insulin_reaches_low(LONGEST_MINUTES);
    let missing = facts.missing(minutes).or_else(|| insulin.then_some(Missing::InsulinToCome));
    let risk = risk(facts);
    let (_, from, to) = RANGES[risk.map_or(0, |risk| risk as usize)];
    let start = start(facts, &plan, measured, &sick, insulin, from);
    Ok(BeforeActivity {
        at: facts.now(),
        kind,
        effort,
        minutes,
        start,
        first: facts.first(),
        carbohydrate_g: match start {
            StartMoving::RaiseFirst => Some(RAISE_G),
            StartMoving::SmallFirst => Some(SMALL_G),
            _ => None,
        },
        measured,
        risk,
        range_mg_dl: (from, to),
        mind: mind(facts, &plan, start, measured, from),
        chance_at_rest: facts.ahead.filter(|_| missing.is_none()).and_then(|ahead| ahead.by(minutes)),
        missing,
    })
}

fn start(
    facts: &Facts<'_>,
    plan: &Planned,
    measured: Option<Measured>,
    sick: &SickDay,
    insulin: bool,
    from_mg_dl: f64,
) -> StartMoving {
    let severe = facts.lowest_of_a_day().is_some_and(|one| one <= SEVERE_MG_DL) || facts.had_severe_signs();
    let ketones = plan.ketones_mmol_l;
    match (facts.first().map(|first| first.what), measured) {
        (Some(NowFirst::Help), _) => StartMoving::Help,
        (Some(NowFirst::Treat), _) => StartMoving::TreatFirst,
        _ if facts.feels_low() => StartMoving::TreatFirst,
        (_, Some(one)) if facts.goes_by(&one) < facts.wearer.low_line.mg_dl().max(LOW_LINE_MG_DL) => {
            StartMoving::TreatFirst
        }
        _ if severe => StartMoving::NotAfterSevereLow,
        _ if ketones.is_some_and(|one| one >= KETONES_NONE) => StartMoving::NotWithKetones,
        _ if sick.ill.is_some() => StartMoving::NotWhileIll,
        _ if back_to_normal(facts, &RULES[0]).is_some() => StartMoving::WaitAfterLow,
        (_, None) => StartMoving::CheckFirst,
        _ if facts.unfinished().is_some_and(|first| first.sentence == Sentence::CheckInsulin) => {
            StartMoving::CheckFirst
        }
        // What a check was asked for because of a high is answered below, by ketones.
        (Some(NowFirst::Check), Some(one)) if !one.by_meter && facts.goes_by(&one) <= KETONES_ABOVE => {
            StartMoving::CheckFirst
        }
        (_, Some(one)) => match by_band(facts.goes_by(&one), plan, ketones) {
            StartMoving::Can | StartMoving::MayRise | StartMoving::SmallFirst | StartMoving::NotHard if insulin => {
                StartMoving::InsulinToCome
            }
            // In range and falling: carbohydrate before it is needed (Moser et al. 2020, tables by trend, from memory).
            StartMoving::Can | StartMoving::MayRise if falls(facts) => StartMoving::SmallFirst,
            // Below the range for this risk of lows, carbohydrate first.
            StartMoving::Can if plan.kind == Movement::Endurance && facts.goes_by(&one) < from_mg_dl => {
                StartMoving::SmallFirst
            }
            start => start,
        },
    }
}

/// Whether glucose falls faster than movement should begin on.
fn falls(facts: &Facts<'_>) -> bool {
    facts.rate_mg_dl_min().is_some_and(|rate| rate <= FALLING_FIRST)
}

fn by_band(mg_dl: f64, plan: &Planned, ketones: Option<f64>) -> StartMoving {
    let steady = plan.kind == Movement::Endurance;
    if mg_dl < RAISE_BELOW {
        StartMoving::RaiseFirst
    } else if mg_dl < SMALL_BELOW {
        if steady { StartMoving::SmallFirst } else { StartMoving::Can }
    } else if mg_dl <= KETONES_ABOVE {
        // What raises at all raises further where glucose is high already.
        if !steady || (mg_dl > HIGH_ABOVE && plan.effort == Effort::Hard) {
            StartMoving::MayRise
        } else {
            StartMoving::Can
        }
    } else {
        match ketones {
            None => StartMoving::KetonesFirst,
            Some(one) if one >= KETONES_LIGHT => StartMoving::LightOnly,
            Some(_) if plan.effort == Effort::Hard || !steady => StartMoving::NotHard,
            Some(_) => StartMoving::Can,
        }
    }
}

fn risk(facts: &Facts<'_>) -> Option<Risk> {
    let (minutes, least) = RISK_OVER;
    let (mut count, mut low) = (0_usize, 0_usize);
    for reading in facts.readings(minutes) {
        count += 1;
        low += usize::from(reading.glucose.mg_dl() < LOW_LINE_MG_DL);
    }
    if count < least {
        return None;
    }
    let share = low as f64 / count as f64;
    let by_share = match share {
        share if share >= RISK_SHARES.1 => Risk::High,
        share if share >= RISK_SHARES.0 => Risk::Moderate,
        _ => Risk::Low,
    };
    let by_day = match facts.lowest_of_a_day() {
        Some(lowest) if lowest < crate::wearer::FLOOR_LINE_MG_DL => Risk::High,
        Some(lowest) if lowest < LOW_LINE_MG_DL => Risk::Moderate,
        _ => Risk::Low,
    };
    Some(by_share.max(by_day))
}

fn mind(
    facts: &Facts<'_>,
    plan: &Planned,
    start: StartMoving,
    measured: Option<Measured>,
    from_mg_dl: f64,
) -> Vec<Mind> {
    let now = facts.now();
    let mut all = Vec::new();
    let recent = facts.lowest_of_a_day().filter(|lowest| *lowest < LOW_LINE_MG_DL);
    all.extend(recent.map(|mg_dl| Mind::RecentLow { mg_dl }));
    let rapid = |one: &&crate::log::Dose| {
        one.kind == InsulinKind::Rapid && (0.0..INSULIN_MINUTES).contains(&now.minutes_since(one.at))
    };
    let newest = facts.history.doses.iter().rfind(rapid);
    all.extend(newest.map(|one| Mind::InsulinActs { minutes_ago: now.minutes_since(one.at) }));
    all.extend(Alcohol::at(facts.history, now, 0.0).map(|one| Mind::Alcohol { drinks: one.drinks }));
    all.extend(
        facts.rate_mg_dl_min().filter(|rate| *rate <= FALLING_SAID).map(|mg_dl_min| Mind::Falling { mg_dl_min }),
    );
    let starts = matches!(start, StartMoving::Can | StartMoving::MayRise | StartMoving::SmallFirst);
    let below = measured.is_some_and(|one| facts.goes_by(&one) < from_mg_dl);
    all.extend((starts && below && plan.kind == Movement::Endurance).then_some(Mind::BelowRange));
    let raised = plan.ketones_mmol_l.filter(|one| (KETONES_LIGHT..KETONES_NONE).contains(one));
    all.extend(raised.map(|mmol_l| Mind::KetonesRaised { mmol_l }));
    all.extend((start == StartMoving::LightOnly).then_some(Mind::AtMost { minutes: LIGHT_MOST_MINUTES }));
    all.extend((now.minute_of_day() >= EVENING_MINUTE).then_some(Mind::NightAfter));
    all
}
