//! What a sensor's data showed, as facts for a letter the wearer writes.

use crate::alerts::{AlertStats, Plan, notices};
use crate::error::Result;
use crate::log::{History, InsulinKind, MeterCheck, Symptom};
use crate::review::Period;
use crate::review::metrics::{Episode, Side, Sufficiency, episodes, held};
use crate::statistics::{Share, median};
use crate::store::Log;
use crate::time::{DAY_MS, Moment};
use crate::wearer::{FLOOR_LINE_MG_DL, LOW_LINE_MG_DL, Wearer};

/// Notice of at least this long counts, in minutes: rescue carbohydrate takes about as long to act.
pub const NOTICE_MINUTES: f64 = 15.0;
/// A low is seen without the sensor if a meter check below the line, or feeling low, is logged from this long before it to
/// its end, in minutes; ours.
const SEEN_BEFORE_MINUTES: f64 = 15.0;

/// Facts of a period. It states what the log holds and argues nothing.
#[derive(Clone, Debug, PartialEq)]
pub struct Need {
    /// The period.
    pub period: Period,
    /// What it stands on.
    pub sufficiency: Sufficiency,
    /// Lows of a quarter of an hour and more below 70 mg/dL.
    pub lows: usize,
    /// Of them, those that began in the wearer's night.
    pub lows_at_night: usize,
    /// Those below 54 mg/dL.
    pub serious_lows: usize,
    /// Lows that had an alert by the wearer's lines, before or while they lasted.
    pub warned_by_sensor: Share,
    /// Of them, those whose alert came [`NOTICE_MINUTES`] or more before they began: it announced them.
    pub announced_by_sensor: Share,
    /// The middle time from the first alert to 54 mg/dL or below, of the lows that got there, in minutes.
    pub median_notice_of_serious_minutes: Option<f64>,
    /// Lows of which the log shows anything without the sensor: a meter check below the line, or feeling low.
    pub seen_without_sensor: Share,
    /// The same, of those at night.
    pub seen_without_sensor_at_night: Share,
    /// Meter checks below the low line of the consensus.
    pub meter_lows: usize,
    /// Times help was needed, as noted.
    pub severe: usize,
    /// Meter checks a day.
    pub meter_checks_a_day: f64,
    /// Doses of insulin a day, of both kinds.
    pub doses_a_day: f64,
}

impl Need {
    /// Gathers the facts of the last `days` days of a log, or of as many as it has: a log of three weeks has no data on the weeks
    /// before, and they must not thin out what a day needs.
    ///
    /// # Errors
    /// Those of reading the log, and of [`Period::days_before`].
    pub fn of_log(log: &Log, wearer: &Wearer, days: u16, now: Moment) -> Result<Self> {
        let asked = Period::days_before(now, days)?;
        let begins = log.span()?.map(|(first, _)| first.unix_ms());
        let period = match begins {
            Some(begins) if begins > asked.from().unix_ms() && begins < now.unix_ms() => {
                let whole_days = (now.unix_ms() - begins + DAY_MS - 1) / DAY_MS;
                Period::days_before(now, u16::try_from(whole_days).unwrap_or(days).min(days))?
            }
            _ => asked,
        };
        Ok(Self::of(&log.history(period.from(), now)?, wearer, period))
    }

    /// Gathers the facts of a period, all of which the history covers.
    #[must_use]
    pub fn of(history: &History, wearer: &Wearer, period: Period) -> Self {
        let held = held(&history.readings, period, &[]);
        let lows = episodes(&held, Side::Below(LOW_LINE_MG_DL));
        let serious = episodes(&held, Side::Below(FLOOR_LINE_MG_DL));
        let at_night = |low: &Episode| wearer.night.contains(low.from);
        let stats = AlertStats::of(history, wearer, &Plan::of(wearer), period);
        let warned = notices(&stats.alerts, &lows);
        let with_notice =
            |minutes: f64| Share::of(warned.iter().flatten().filter(|notice| **notice >= minutes).count(), lows.len());
        let notice: Vec<f64> =
            notices(&stats.alerts, &serious).into_iter().flatten().filter(|minutes| *minutes >= 0.0).collect();
        let meter_low = |one: &&MeterCheck| one.shown().is_below(LOW_LINE_MG_DL);
        let seen = |low: &&Episode| {
            let during = |at: Moment| low.from.minutes_since(at) <= SEEN_BEFORE_MINUTES && at <= low.until;
            history.meter_checks.iter().any(|one| during(one.at) && meter_low(&one))
                || history
                    .symptoms
                    .iter()
                    .any(|one| during(one.at) && matches!(one.symptom, Symptom::FeelsLow | Symptom::Severe))
        };
        let inside = |at: Moment| at >= period.from() && at < period.until();
        let night: Vec<&Episode> = lows.iter().filter(|low| at_night(low)).collect();
        let days = period.days();
        let doses = history
            .doses
            .iter()
            .filter(|one| inside(one.at) && matches!(one.kind, InsulinKind::Rapid | InsulinKind::LongActing));
        Self {
            period,
            sufficiency: Sufficiency::of(&held, period, 0.0),
            lows: lows.len(),
            lows_at_night: night.len(),
            serious_lows: serious.len(),
            warned_by_sensor: with_notice(f64::NEG_INFINITY),
            announced_by_sensor: with_notice(NOTICE_MINUTES),
            median_notice_of_serious_minutes: median(&notice),
            seen_without_sensor: Share::of(lows.iter().filter(seen).count(), lows.len()),
            seen_without_sensor_at_night: Share::of(night.iter().copied().filter(seen).count(), night.len()),
            meter_lows: history.meter_checks.iter().filter(|one| inside(one.at)).filter(meter_low).count(),
            severe: history.symptoms.iter().filter(|one| inside(one.at) && one.symptom == Symptom::Severe).count(),
            meter_checks_a_day: history.meter_checks.iter().filter(|one| inside(one.at)).count() as f64 / days,
            doses_a_day: doses.count() as f64 / days,
        }
    }
}
