//! What the alerts of a plan were worth: acted on, over by themselves, in time, sleep broken for nothing.

use serde::Serialize;

use super::replay::{Alert, replay};
use super::ring::{AlertCause, Loudness};
use crate::log::{Beyond, History, InsulinKind, Purpose, Reading};
use crate::review::Period;
use crate::review::metrics::ranges::above;
use crate::review::metrics::{Episode, Side, Sufficiency, episodes, held};
use crate::statistics::median;
use crate::time::Moment;
use crate::units::Glucose;
use crate::wearer::{LOW_LINE_MG_DL, Plan, VERY_HIGH_LINE_MG_DL, Wearer};

/// An action within this time after an alert counts as led to by it, in minutes; ours.
pub const ACTED_WITHIN_MINUTES: f64 = 30.0;
/// An alert this long before a low still counts as its notice, in minutes; ours.
const NOTICE_WITHIN_MINUTES: f64 = 60.0;
/// A high that was over within this time, and stayed below the line of very high glucose, was over by itself, in minutes; ours.
const PASSES_WITHIN_MINUTES: f64 = 60.0;

/// What a plan's alerts were worth over a period.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AlertStats {
    /// What they stand on. Where it does not tell what lasted, the figures below tell nothing of the plan.
    pub sufficiency: Sufficiency,
    /// Every alert.
    pub alerts: Vec<Alert>,
    /// Alerts in 24 hours of covered time, outside the wearer's night.
    pub a_day: f64,
    /// Alerts in 24 hours of covered time, in the wearer's night.
    pub a_night: f64,
    /// How many alerts something was done after: for a low carbohydrate, for a high rapid insulin, for both a meter check or
    /// movement. What is not logged is not seen.
    pub acted: usize,
    /// How many were over by themselves: nothing done, and for warnings of lows no low of a quarter of an hour came; a high was
    /// neither very high nor longer than an hour. A lost signal is none of them.
    pub resolved_without_action: usize,
    /// How many of those woke in the wearer's night: sleep broken for nothing.
    pub sleep_interruptions: usize,
    /// Lows of a quarter of an hour in the record.
    pub lows: usize,
    /// Minutes from the first alert that warned, since the low before was over, to the first reading of each low that had one; 0
    /// where it came with it or later.
    pub warning_minutes: Vec<f64>,
}

impl AlertStats {
    /// The median warning before a low, in minutes; nothing without a low that had one.
    #[must_use]
    pub fn median_warning_minutes(&self) -> Option<f64> {
        median(&self.warning_minutes)
    }

    /// Replays a plan and weighs it.
    #[must_use]
    pub fn of(history: &History, wearer: &Wearer, plan: &Plan, period: Period) -> Self {
        let alerts = replay(history, wearer, plan, period);
        let held = held(&history.readings, period, &[]);
        let lows = episodes(&held, Side::Below(LOW_LINE_MG_DL));
        let days = crate::review::metrics::total_minutes(&held) / 1440.0;
        let rate = |at_night: bool| {
            let count = alerts.iter().filter(|alert| alert.at_night == at_night).count();
            if days > 0.0 { count as f64 / days } else { 0.0 }
        };
        let acted = |alert: &Alert| acted(history, alert);
        // Without a signal it is not known what was missed.
        let right = |alert: &Alert| match alert.of {
            AlertCause::Lost => true,
            AlertCause::High => !passes(history, wearer, plan, alert.at),
            of => of.warns_of_lows() && low_follows(&lows, alert.at),
        };
        let idle = |alert: &&Alert| !(acted(alert) || right(alert));
        let wakes = |alert: &&Alert| alert.at_night && alert.of.how(true) != Loudness::Quiet;
        let notices = notices(&alerts, &lows);
        Self {
            sufficiency: Sufficiency::of(&held, period, 0.0),
            a_day: rate(false),
            a_night: rate(true),
            acted: alerts.iter().filter(|alert| acted(alert)).count(),
            resolved_without_action: alerts.iter().filter(idle).count(),
            sleep_interruptions: alerts.iter().filter(idle).filter(wakes).count(),
            warning_minutes: notices.into_iter().flatten().map(|before| before.max(0.0)).collect(),
            lows: lows.len(),
            alerts,
        }
    }
}

/// For each low, the minutes from the first alert that warned of it to its first reading; negative where that came within it. What rang
/// before the low before was over was that one's.
pub(crate) fn notices(alerts: &[Alert], lows: &[Episode]) -> Vec<Option<f64>> {
    let mut over: Option<Moment> = None;
    let notice = |low: &Episode| {
        let before = over.replace(low.until);
        let warns = |alert: &&Alert| alert.of.warns_of_lows() && before.is_none_or(|over| !alert.at.is_before(over));
        let mut minutes = alerts.iter().filter(warns).map(|alert| low.from.minutes_since(alert.at));
        minutes.find(|minutes| (-low.minutes()..=NOTICE_WITHIN_MINUTES).contains(minutes))
    };
    lows.iter().map(notice).collect()
}

/// Whether a high was over soon and never very high.
fn passes(history: &History, wearer: &Wearer, plan: &Plan, at: Moment) -> bool {
    let lines = if wearer.night.contains(at) { &plan.night } else { &plan.day };
    let Some(line) = lines.high else { return false };
    let from = history.readings.partition_point(|one| one.at.is_before(at));
    let is_above = |one: &&Reading, line| above(one.glucose.mg_dl(), line) || one.beyond == Some(Beyond::Above);
    let mut soon = history.readings[from..].iter().take_while(|one| one.at.minutes_since(at) <= PASSES_WITHIN_MINUTES);
    // The first that is back, or very high.
    soon.find(|one| !is_above(one, line.mg_dl()) || is_above(one, VERY_HIGH_LINE_MG_DL))
        .is_some_and(|one| !is_above(&one, line.mg_dl()))
}

fn low_follows(lows: &[Episode], at: Moment) -> bool {
    lows.iter().any(|low| low.from.minutes_since(at) <= NOTICE_WITHIN_MINUTES && low.until >= at)
}

fn acted(history: &History, alert: &Alert) -> bool {
    let soon = |at: Moment| (0.0..=ACTED_WITHIN_MINUTES).contains(&at.minutes_since(alert.at));
    let low = alert.of.warns_of_lows();
    history.meter_checks.iter().any(|one| soon(one.at))
        || (low && history.carbohydrate.iter().any(|one| soon(one.at)))
        || (!low && history.doses.iter().any(|one| one.kind == InsulinKind::Rapid && soon(one.at)))
        || (!low && history.activities.iter().any(|one| soon(one.at)))
}

/// A change of a plan, with what it would have changed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Proposal {
    /// The plan as it would be.
    pub plan: Plan,
    /// The level at which highs were acted on, in mg/dL: the median.
    pub acts_at_mg_dl: f64,
    /// Over how many actions.
    pub actions: usize,
    /// What the plan was worth.
    pub before: AlertStats,
    /// What the proposed one would have been worth.
    pub after: AlertStats,
}

/// A proposal rests on at least this many actions; ours.
const FEWEST_ACTIONS: usize = 8;
/// And on a distance of at least this much, in mg/dL: less is not worth a change.
const WORTH_MOVING_MG_DL: f64 = 15.0;
/// And it saves at least this share of the alerts; ours.
const WORTH_SAVING: f64 = 0.2;

fn is_worth(before: f64, after: f64) -> bool {
    before - after >= WORTH_SAVING * before
}

/// Proposes to alert to highs at the level at which the wearer acts, if that lies clearly above the plan's line: never above very high
/// glucose, since who acts late may only have been late.
///
/// Acting is rapid insulin without a meal within half an hour, while above the plan's line. Nothing is ever proposed for
/// lows: those lines are for the wearer and their care team.
#[must_use]
pub fn proposal(history: &History, wearer: &Wearer, plan: &Plan, period: Period) -> Option<Proposal> {
    let line = plan.day.high?.mg_dl();
    let meal_near = |at: Moment| {
        history
            .carbohydrate
            .iter()
            .any(|one| one.purpose == Purpose::Meal && one.at.minutes_since(at).abs() <= ACTED_WITHIN_MINUTES)
    };
    let level = |at: Moment| {
        let place = history.readings.partition_point(|one| one.at <= at);
        let reading = history.readings.get(place.checked_sub(1)?)?;
        (at.minutes_since(reading.at) <= 15.0).then(|| reading.glucose.mg_dl())
    };
    let levels: Vec<f64> = history
        .doses
        .iter()
        .filter(|dose| dose.kind == InsulinKind::Rapid && dose.at >= period.from() && dose.at < period.until())
        .filter(|dose| !wearer.night.contains(dose.at) && !meal_near(dose.at))
        .filter_map(|dose| level(dose.at).filter(|level| *level > line))
        .collect();
    if levels.len() < FEWEST_ACTIONS {
        return None;
    }
    let acts_at_mg_dl = median(&levels)?;
    if acts_at_mg_dl < line + WORTH_MOVING_MG_DL {
        return None;
    }
    // In whole tens, below the level: a wearer sets 180 and not 183, and is still alerted where they act.
    let tens = ((acts_at_mg_dl - 1.0) / 10.0).floor() * 10.0;
    let high = Glucose::from_mg_dl(tens.min(VERY_HIGH_LINE_MG_DL)).ok().filter(|high| high.mg_dl() > line)?;
    let mut changed = *plan;
    changed.day.high = Some(high);
    changed.check().ok()?;
    let before = AlertStats::of(history, wearer, plan, period);
    if before.sufficiency.too_far_apart() {
        return None;
    }
    let after = AlertStats::of(history, wearer, &changed, period);
    let worth = is_worth(before.a_day, after.a_day);
    worth.then_some(Proposal { plan: changed, acts_at_mg_dl, actions: levels.len(), before, after })
}

/// A delay for highs, with what it would have changed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DelayProposal {
    /// The plan as it would be.
    pub plan: Plan,
    /// The delay by day and night, in minutes.
    pub minutes: f64,
    /// What the plan was worth.
    pub before: AlertStats,
    /// What the delayed one would have been worth.
    pub after: AlertStats,
}

/// Delays tried, the shortest first, in minutes; ours.
const DELAYS_MINUTES: [f64; 3] = [15.0, 30.0, 45.0];
/// A delay is proposed if it saves at least this share of the alerts of highs that were over by themselves; ours.
const SAVES: f64 = 0.4;

/// Proposes to alert to a high only once it has lasted, if many were over by themselves and a delay saves a good part of
/// them: the shortest that does. Where hardly any high led to something logged, nothing tells which were over by themselves. Nothing
/// of the kind is ever proposed for lows.
#[must_use]
pub fn delay_proposal(history: &History, wearer: &Wearer, plan: &Plan, period: Period) -> Option<DelayProposal> {
    let highs = |stats: &AlertStats, wanted: &dyn Fn(&Alert) -> bool| {
        stats.alerts.iter().filter(|alert| alert.of == AlertCause::High && wanted(alert)).count()
    };
    let idle =
        |stats: &AlertStats| highs(stats, &|alert| !acted(history, alert) && passes(history, wearer, plan, alert.at));
    let before = AlertStats::of(history, wearer, plan, period);
    let idle_before = idle(&before);
    if highs(&before, &|alert| acted(history, alert)) < FEWEST_ACTIONS {
        return None;
    }
    if before.sufficiency.too_far_apart() {
        return None;
    }
    if idle_before < FEWEST_ACTIONS || plan.day.high_delay_minutes > 0.0 || plan.night.high_delay_minutes > 0.0 {
        return None;
    }
    DELAYS_MINUTES.into_iter().find_map(|minutes| {
        let mut changed = *plan;
        (changed.day.high_delay_minutes, changed.night.high_delay_minutes) = (minutes, minutes);
        let after = AlertStats::of(history, wearer, &changed, period);
        let saved = idle_before.saturating_sub(idle(&after)) as f64;
        let enough =
            saved >= SAVES * idle_before as f64 && is_worth(before.alerts.len() as f64, after.alerts.len() as f64);
        enough.then(|| DelayProposal { plan: changed, minutes, before: before.clone(), after })
    })
}

/// How many alerts of one kind there were.
#[must_use]
pub fn count(alerts: &[Alert], of: AlertCause) -> usize {
    alerts.iter().filter(|alert| alert.of == of).count()
}
