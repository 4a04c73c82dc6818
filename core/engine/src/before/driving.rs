//! Before a drive: the published rule of the wearer's country where one is known, and the forecast over the drive.
//!
//! Rules are of cars and motorcycles for private use. Local rules go before what stands here, and where no rule is known that is
//! said, and nothing is put in its place but this: nobody drives who is low, was low just now, or does not know.
//!
//! # Source
//! United Kingdom: Driver and Vehicle Licensing Agency, "A guide to insulin treated diabetes and driving" (INF294): glucose checked
//! less than 2 hours before the first journey and every 2 hours after driving has started, 2 hours at most between the check before
//! and the first one after; at 5.0 mmol/L or less a snack; under 4.0 mmol/L or feeling low no driving; after a low not before
//! 45 minutes after glucose has returned to normal. The same in table 2 of a review in BMJ Open Diabetes Research and Care that
//! quotes the agency. "Five to drive" is Diabetes UK's short form (from memory). That nobody sets out while ill, vomiting or with raised ketones, or
//! on more insulin than was eaten for, is common practice, no source.

use serde::Serialize;

use super::chance::Chance;
use super::{
    Facts, First, LONGEST_MINUTES, Measured, Missing, NowFirst, OLDEST_MINUTES, READING_LEADS_MINUTES, check_length,
};
use crate::body::alcohol::Alcohol;
use crate::body::sick::{RAISED_MMOL_L, SickDay};
use crate::country::Country;
use crate::error::{Quantity, Result};
use crate::log::{Purpose, Symptom};
use crate::prompt::Sentence;
use crate::time::Moment;
use crate::units::MG_DL_PER_MMOL_L;

/// Alcohol noted this lately is named before everything that a drive asks of glucose, in minutes (assumption: half a day).
const DRUNK_MINUTES: f64 = 720.0;
/// A chance of a low on the way that is worth doing something about before setting out (assumption).
const LIKELY_ON_THE_WAY: f64 = 0.2;
/// How far back a low is looked for, in minutes: the longest wait after one, and time for it to have lasted.
const LOW_BEFORE_MINUTES: f64 = 240.0;

/// A published rule for drivers with insulin.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RoadRule {
    /// Where it holds.
    pub country: Country,
    /// At this or less something is eaten first, in mmol/L as an instrument shows it.
    pub eat_at_mmol_l: f64,
    /// Below this nobody drives, in mmol/L as an instrument shows it.
    pub not_below_mmol_l: f64,
    /// The longest time between a check and the start, and between checks on the way, in minutes.
    pub check_every_minutes: f64,
    /// After a low nobody drives before glucose has been back to normal for this long, in minutes.
    pub after_low_minutes: f64,
    /// Who says so.
    pub source: RuleSource,
}

/// Who published a rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum RuleSource {
    /// The British Driver and Vehicle Licensing Agency, leaflet INF294.
    DvlaInf294,
}

/// Chances up to so far ahead need no half day of readings, in minutes.
const HOUR_MINUTES: f64 = 60.0;

/// The rules that are known.
pub(super) const RULES: [RoadRule; 1] = [RoadRule {
    country: Country::UNITED_KINGDOM,
    eat_at_mmol_l: 5.0,
    not_below_mmol_l: 4.0,
    check_every_minutes: 120.0,
    after_low_minutes: 45.0,
    source: RuleSource::DvlaInf294,
}];

/// What to do about a drive, the strictest first.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "code")]
pub enum Drive {
    /// Get help; nobody drives.
    Help,
    /// Do not drive: low, or it feels so. Treat first.
    DoNot,
    /// Check with a meter first.
    CheckFirst,
    /// Not today: signs of a severe low were noted within 24 hours.
    NotAfterSevereLow,
    /// Alcohol was noted in the last hours.
    NotAfterAlcohol,
    /// Illness or ketones come first.
    SickDayFirst,
    /// Wait after a low.
    WaitAfterLow {
        /// Not before.
        until: Moment,
    },
    /// Eat something first: the rule asks for more than this.
    EatFirst,
    /// A low is likely on the way: eat something or set out later, and look again before.
    LowLikely,
    /// More insulin was noted than was eaten for: eat something first, and look again before.
    InsulinToCome,
    /// What the rule asks of glucose is met now.
    RuleMet,
    /// No rule is known here, and nothing seen speaks against it.
    NoRuleKnown,
}

/// What is known before a drive.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BeforeDriving {
    /// When it was asked.
    pub at: Moment,
    /// How long the drive is, in minutes.
    pub minutes: f64,
    /// The country set, if one is.
    pub country: Option<Country>,
    /// Its rule, where one is known.
    pub rule: Option<RoadRule>,
    /// What to do.
    pub drive: Drive,
    /// What has to be done now, whatever is asked ahead.
    pub first: Option<First>,
    /// The newest measurement of the last hour.
    pub measured: Option<Measured>,
    /// The chances over the drive.
    pub chance: Option<Chance>,
    /// What is missing for them.
    pub missing: Option<Missing>,
    /// When the rule asks for checks on the way.
    pub stops: Vec<Moment>,
}

/// What is known before a drive that begins now and lasts so many minutes.
///
/// # Errors
/// [`crate::Error::OutOfRange`] unless the drive lasts 1 minute to a day.
pub fn driving(facts: &Facts<'_>, minutes: f64) -> Result<BeforeDriving> {
    let minutes = check_length(Quantity::LengthOfTheDrive, minutes)?;
    let rule = facts.wearer.country.and_then(rule_of);
    let measured = facts.measured();
    let insulin = insulin_to_come(facts, minutes);
    let missing = facts.missing(minutes).or_else(|| insulin.then_some(Missing::InsulinToCome));
    let chance = facts.ahead.and_then(|ahead| ahead.by(minutes));
    // A longer drive is no safer than its first hour, which is known from less.
    let likely = chance.or_else(|| facts.ahead.and_then(|ahead| ahead.by(minutes.min(HOUR_MINUTES))));
    Ok(BeforeDriving {
        at: facts.now(),
        minutes,
        country: facts.wearer.country,
        rule,
        drive: drive(facts, rule.as_ref(), measured, likely, insulin),
        first: facts.first_before_driving(),
        measured,
        chance: chance.filter(|_| missing.is_none()),
        missing,
        stops: rule.map(|rule| stops(facts.now(), minutes, measured, &rule)).unwrap_or_default(),
    })
}

/// The rule of a country, where one is known.
#[must_use]
fn rule_of(country: Country) -> Option<RoadRule> {
    RULES.iter().find(|rule| rule.country == country).copied()
}

fn drive(
    facts: &Facts<'_>,
    rule: Option<&RoadRule>,
    measured: Option<Measured>,
    chance: Option<Chance>,
    insulin: bool,
) -> Drive {
    // The figures of the one rule that is known stand in for what nobody should need a rule for.
    let careful = rule.unwrap_or(&RULES[0]);
    let first = facts.first().map(|first| first.what);
    if first == Some(NowFirst::Help) {
        return Drive::Help;
    }
    // A low that was treated just now is waited for.
    let low = measured.is_some_and(|one| is_low(facts, careful, facts.goes_by(&one)));
    let treats = first == Some(NowFirst::Treat) || low && facts.prompt.sentence != Sentence::HoldRescueWorking;
    if facts.feels_low() || treats {
        return Drive::DoNot;
    }
    if facts.had_severe_signs() {
        return Drive::NotAfterSevereLow;
    }
    // Without anything measured within the hour nothing can be said, whatever the rule allows.
    let Some(measured) = measured else { return Drive::CheckFirst };
    let check = first == Some(NowFirst::Check);
    // No meter answers for ketones.
    let ahead = facts.first_before_driving().map(|first| first.sentence);
    let ketones_first = ahead == Some(Sentence::CheckKetones);
    // Nor for an amount of insulin that may be a slip.
    if ahead == Some(Sentence::CheckInsulin) {
        return Drive::CheckFirst;
    }
    if check && !ketones_first && !measured.by_meter {
        return Drive::CheckFirst;
    }
    // Whatever the rule for glucose says: alcohol has a law of its own, and lowers for hours.
    if Alcohol::at(facts.history, facts.now(), 0.0).is_some_and(|one| one.minutes_ago <= DRUNK_MINUTES) {
        return Drive::NotAfterAlcohol;
    }
    let sick = SickDay::at(facts.history, facts.now());
    if ketones_first || sick.ill.is_some() || sick.ketones_now().is_some_and(|mmol_l| mmol_l >= RAISED_MMOL_L) {
        return Drive::SickDayFirst;
    }
    if let Some(until) = back_to_normal(facts, careful) {
        return Drive::WaitAfterLow { until };
    }
    if rule.is_some_and(|rule| shown_mmol_l(facts.goes_by(&measured)) <= rule.eat_at_mmol_l) {
        return Drive::EatFirst;
    }
    // Without a live sensor a check has answered what is asked of it.
    if (check && facts.ahead.is_some()) || chance.is_some_and(|one| one.p_low >= LIKELY_ON_THE_WAY) {
        return Drive::LowLikely;
    }
    if insulin {
        return Drive::InsulinToCome;
    }
    if rule.is_some() { Drive::RuleMet } else { Drive::NoRuleKnown }
}

/// Whether noted insulin reaches the low line on the way or until the check that rules ask for after the start, or holds the prompt back now.
fn insulin_to_come(facts: &Facts<'_>, minutes: f64) -> bool {
    let held = facts.prompt.sentence == Sentence::HoldInsulinToCome && facts.insulin_reaches_low(LONGEST_MINUTES);
    held || facts.insulin_reaches_low(minutes.max(RULES[0].check_every_minutes))
}

/// A measurement, as a return to normal is looked for.
struct Seen {
    at: Moment,
    mg_dl: f64,
    by_meter: bool,
}

/// Since when glucose is back to normal after the newest low of the last hours, measured, felt or treated: since the first measurement
/// after it above what the rule asks to eat at. Where a meter saw the low and the sensor did not, only a meter's counts. Now, where there
/// was none yet. Gives when that is as long ago as the rule asks for, if it lies ahead; nothing without a low.
pub(super) fn back_to_normal(facts: &Facts<'_>, rule: &RoadRule) -> Option<Moment> {
    let now = facts.now();
    let low = |mg_dl: f64| is_low(facts, rule, mg_dl);
    let seen = |at: Moment, shown, by_meter: bool| Seen { at, mg_dl: facts.wearer.goes_by_mg_dl(shown), by_meter };
    let checks = facts.history.meter_checks.iter().map(|one| seen(one.at, one.shown(), true));
    let readings = facts.readings(LOW_BEFORE_MINUTES).map(|one| seen(one.at, one.shown(), false));
    let lately = |at: Moment| (0.0..=LOW_BEFORE_MINUTES).contains(&now.minutes_since(at));
    let mut all: Vec<Seen> = checks.filter(|one| lately(one.at)).chain(readings).collect();
    all.sort_unstable_by_key(|one| (one.at.unix_ms(), !one.by_meter));
    let felt = facts.history.symptoms.iter().filter(|one| one.symptom == Symptom::FeelsLow).map(|one| one.at);
    let treated = facts.history.carbohydrate.iter().filter(|one| one.purpose == Purpose::Rescue).map(|one| one.at);
    let noted = felt.chain(treated).filter(|at| lately(*at)).max_by_key(|at| at.unix_ms());
    let place = all.iter().rposition(|one| low(one.mg_dl));
    let measured = place.map(|place| all[place].at);
    let low_at = noted.into_iter().chain(measured).max_by_key(|at| at.unix_ms())?;
    let sensor_saw = place.is_none_or(|place| {
        let newest_low = &all[place];
        let sensor_then = all[..place].iter().rfind(|one| !one.by_meter);
        let saw = |one: &Seen| low(one.mg_dl) && newest_low.at.minutes_since(one.at) <= READING_LEADS_MINUTES;
        !newest_low.by_meter || sensor_then.is_some_and(saw)
    });
    let normal = |one: &&Seen| (one.by_meter || sensor_saw) && shown_mmol_l(one.mg_dl) > rule.eat_at_mmol_l;
    let since = &all[all.partition_point(|one| one.at.is_before(low_at))..];
    let until = since.iter().find(normal).map_or(now, |one| one.at).plus_minutes(rule.after_low_minutes);
    Some(until).filter(|until| until.is_after(now))
}

/// Whether an amount in mg/dL is low by a rule or by the wearer's own line.
fn is_low(facts: &Facts<'_>, rule: &RoadRule, mg_dl: f64) -> bool {
    shown_mmol_l(mg_dl) < rule.not_below_mmol_l || mg_dl < facts.wearer.low_line.mg_dl()
}

/// Checks on the way: the first so long after the one before the drive, the others after each other.
fn stops(now: Moment, minutes: f64, measured: Option<Measured>, rule: &RoadRule) -> Vec<Moment> {
    let age = measured.map_or(0.0, |one| one.age_minutes).min(OLDEST_MINUTES);
    let first = rule.check_every_minutes - age;
    let all = std::iter::successors(Some(first), |at| Some(at + rule.check_every_minutes));
    all.take_while(|at| *at < minutes).map(|at| now.plus_minutes(at)).collect()
}

/// An amount as an instrument that shows mmol/L shows it: to one decimal.
fn shown_mmol_l(mg_dl: f64) -> f64 {
    (mg_dl / MG_DL_PER_MMOL_L * 10.0).round() / 10.0
}
