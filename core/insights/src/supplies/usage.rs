//! How fast a supply goes, and how sure that is.

use crate::log::{History, InsulinKind, Item, Purpose, Stocked};
use crate::sensor::{Session, sessions};
use crate::statistics::{NINE_IN_TEN_SDS, Share, mean_and_variance, t_quantile};
use crate::time::{DAY_MS, Moment};
use crate::wearer::Wearer;

/// What is known of how long sensors last.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wear {
    /// Days of wear of one sensor on average, early failures included.
    pub mean_days: f64,
    /// How far single sensors are from that: the standard deviation, in days.
    pub sd_days: f64,
    /// How many ended before they were due: a fault was noted, or over a day short of the rated length.
    pub failed: Share,
    /// Days the sensor worn now will still last on average; nothing while none is worn.
    pub left_days: Option<f64>,
}

/// What the use of an item is learnt from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Basis {
    /// Sensors put in, and how long each was worn.
    Wear(Wear),
    /// Only the length sensors are rated for: fewer than two have ended.
    RatedLength,
    /// What the log shows of each day on which it was kept: how many days.
    Days(usize),
    /// Two counts and what came and went between them.
    Counts,
}

/// How fast an item goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Usage {
    /// How much a day, in what the item is counted in.
    pub a_day: f64,
    /// What that is learnt from.
    pub basis: Basis,
    /// The variance of one day's use.
    variance: f64,
    /// How many days, or sensors, that rests on.
    observed: f64,
}

/// How many days back use is learnt from.
const LEARNT_FROM_DAYS: i64 = 90;
/// Days that were all alike so far say little of those to come: a day's variance is at least this share of its mean; ours.
const LEAST_SPREAD: f64 = 0.25;
/// The fewest days use is learnt from.
const FEWEST_DAYS: usize = 7;
/// Two counts show the use between them if they are this far apart, in days.
const COUNTS_APART_DAYS: f64 = 14.0;
/// How far single sensors fall from a rated length alone, as a share of it: about one in ten fails at some time before
/// (common practice, no source).
const RATED_SPREAD: f64 = 0.25;
/// As many sensors of that scatter are counted besides those seen; ours.
const USUAL_SENSORS: f64 = 3.0;

impl Usage {
    /// Learns the use of an item up to `now`.
    #[must_use]
    pub fn of(item: Item, history: &History, wearer: &Wearer, now: Moment) -> Option<Self> {
        if item == Item::Sensor {
            return of_sensors(history, wearer, now);
        }
        of_counts(item, history, now).or_else(|| of_days(item, history, now))
    }

    /// How many days an amount lasts: hardly less than, expected, hardly more than (each way nineteen times in twenty);
    /// the last is nothing where it may never run out.
    ///
    /// # Formula
    /// Use up to day `t` is about normal with mean `d t` and variance `v t + v t^2 / k`: `d` and `v` are mean and variance of
    /// one day over `k` observed days. The amount `A` is gone at the `t` where `d t +- q sd(t) = A`, with `q` the quantile of
    /// Student's t with `k - 1` degrees of freedom. For sensors the same with wear in place of use: `n` sensors last
    /// `n m +- q sqrt(s^2 (n + n^2 / k))` days, `s^2` pooled with that of three sensors which scatter by a
    /// quarter of the mean: a dozen sensors without an early failure do not show that none will fail.
    #[must_use]
    pub fn lasts_days(&self, amount: f64) -> (f64, f64, Option<f64>) {
        let q = t_quantile(0.95, (self.observed - 1.0).max(1.0)).unwrap_or(NINE_IN_TEN_SDS);
        if let Basis::Wear(Wear { mean_days, sd_days, left_days, .. }) = self.basis {
            // A dozen sensors without an early failure do not show that none will fail.
            let (seen, usual) = ((self.observed - 1.0).max(0.0), RATED_SPREAD * mean_days);
            let sd = ((seen * sd_days * sd_days + USUAL_SENSORS * usual * usual) / (seen + USUAL_SENSORS)).sqrt();
            return sensors_last(amount, mean_days, sd, left_days.unwrap_or(0.0), self.observed, q);
        }
        if self.basis == Basis::RatedLength {
            let mean = 1.0 / self.a_day;
            return sensors_last(amount, mean, RATED_SPREAD * mean, 0.0, 1.0, NINE_IN_TEN_SDS);
        }
        let expected = amount / self.a_day;
        let sd = |t: f64| (self.variance * t * (1.0 + t / self.observed)).sqrt();
        // Both grow with t, so a bisection finds where they reach the amount.
        let reaches = |sign: f64| {
            let used = |t: f64| self.a_day * t + sign * q * sd(t);
            let (mut low, mut high) = (expected, expected.max(1.0));
            if sign > 0.0 {
                low = 0.0;
                high = expected;
            } else {
                while used(high) < amount {
                    high *= 2.0;
                    if high > super::FARTHEST_DAYS * 4.0 {
                        return None;
                    }
                }
            }
            for _ in 0..60 {
                let middle = f64::midpoint(low, high);
                if used(middle) < amount { low = middle } else { high = middle }
            }
            Some(high)
        };
        (reaches(1.0).unwrap_or(0.0), expected, reaches(-1.0))
    }
}

fn sensors_last(count: f64, mean: f64, sd: f64, left: f64, observed: f64, q: f64) -> (f64, f64, Option<f64>) {
    let expected = left + count * mean;
    let reach = q * sd * (count + count * count / observed).sqrt();
    ((expected - reach).max(0.0), expected, Some(expected + reach))
}

/// No wearer uses more than a sensor a day for long, in days: shorter wears throughout are slips in what was noted. An assumption.
const SHORTEST_MEAN_DAYS: f64 = 1.0;

fn of_sensors(history: &History, wearer: &Wearer, now: Moment) -> Option<Usage> {
    let all = sessions(history, now);
    let rated = |one: &Session| one.rated_days.or(wearer.sensor_rated_days).map(f64::from);
    let ended: Vec<&Session> = all.iter().filter(|one| one.until.is_some() && one.days(now) > 0.0).collect();
    if ended.len() < 2 {
        let rated = all.last().and_then(rated).or(wearer.sensor_rated_days.map(f64::from))?;
        return Some(Usage { a_day: 1.0 / rated, basis: Basis::RatedLength, variance: 0.0, observed: 1.0 });
    }
    let lengths: Vec<f64> = ended.iter().map(|one| one.days(now)).collect();
    let count = lengths.len() as f64;
    let (mean_days, variance) = mean_and_variance(&lengths)?;
    let mean_days = mean_days.max(SHORTEST_MEAN_DAYS);
    let failed = ended.iter().filter(|one| one.failed(rated(one))).count();
    let worn = all.last().filter(|one| one.until.is_none());
    let left_days = worn.map(|one| (mean_days - one.days(now)).max(0.0));
    let wear = Wear { mean_days, sd_days: variance.sqrt(), failed: Share::of(failed, ended.len()), left_days };
    Some(Usage { a_day: 1.0 / mean_days, basis: Basis::Wear(wear), variance, observed: count })
}

/// What the log shows of an item's use: when, and how much.
pub(super) fn shown(item: Item, history: &History) -> Vec<(Moment, f64)> {
    let doses = |kind: InsulinKind| -> Vec<(Moment, f64)> {
        history.doses.iter().filter(|one| one.kind == kind).map(|one| (one.at, one.units)).collect()
    };
    let mut all: Vec<(Moment, f64)> = match item {
        Item::Sensor => history
            .sensor
            .iter()
            .filter(|note| matches!(note.event, crate::log::SensorEvent::Inserted { .. }))
            .map(|note| (note.at, 1.0))
            .collect(),
        Item::TestStrip => history.meter_checks.iter().map(|one| (one.at, 1.0)).collect(),
        Item::RapidInsulin => doses(InsulinKind::Rapid),
        Item::LongActingInsulin => doses(InsulinKind::LongActing),
        Item::RescueCarbohydrate => history
            .carbohydrate
            .iter()
            .filter(|one| one.purpose == Purpose::Rescue)
            .map(|one| (one.at, one.grams))
            .collect(),
        Item::Transmitter | Item::Battery => Vec::new(),
    };
    let noted = history.supplies.iter().filter(|note| note.supply.item == item && note.supply.stocked == Stocked::Used);
    all.extend(noted.map(|note| (note.at, note.supply.amount)));
    all
}

/// So many days in a row without a dose are days on which the log was not kept, not days without insulin (assumption).
const SILENT_DAYS: usize = 3;

/// On which of the days from `from` to `now`, the last 24 hours first, the log was not kept: after the first dose of insulin in it, no
/// dose and no use of the item for [`SILENT_DAYS`] and more. A wearer treated with insulin has no such days; one who notes none at all
/// shows none.
fn silence(item: Item, history: &History, from: Moment, now: Moment) -> Vec<bool> {
    let back = |at: Moment| usize::try_from((now.unix_ms() - at.unix_ms()) / DAY_MS).unwrap_or(usize::MAX);
    let Some(first) = history.doses.first().filter(|dose| dose.at <= now && item != Item::Sensor) else {
        return Vec::new();
    };
    let mut silent = vec![true; back(from).min(back(first.at))];
    let doses = history.doses.iter().map(|dose| dose.at);
    let used = shown(item, history).into_iter().map(|(at, _)| at);
    for at in doses.chain(used).filter(|at| *at <= now) {
        if let Some(day) = silent.get_mut(back(at)) {
            *day = false;
        }
    }
    for run in silent.chunk_by_mut(|a, b| a == b).filter(|run| run.len() < SILENT_DAYS) {
        run.fill(false);
    }
    silent
}

/// On how many days from `from` to `now` the log was not kept.
pub(super) fn silent_days(item: Item, history: &History, from: Moment, now: Moment) -> usize {
    silence(item, history, from, now).into_iter().filter(|silent| *silent).count()
}

fn of_days(item: Item, history: &History, now: Moment) -> Option<Usage> {
    let used: Vec<(Moment, f64)> = shown(item, history).into_iter().filter(|(at, _)| *at <= now).collect();
    let first = used.iter().map(|(at, _)| *at).min()?;
    let from = first.unix_ms().max(now.unix_ms() - LEARNT_FROM_DAYS * DAY_MS);
    let days = usize::try_from((now.unix_ms() - from) / DAY_MS).unwrap_or_default();
    // Whole days back from now, so that none is cut.
    let mut daily = vec![0.0; days];
    for (at, amount) in used {
        let back = usize::try_from((now.unix_ms() - at.unix_ms()) / DAY_MS).unwrap_or(usize::MAX);
        if let Some(day) = daily.get_mut(back) {
            *day += amount;
        }
    }
    let silent = silence(item, history, now.plus_ms(from - now.unix_ms()), now);
    let daily: Vec<f64> =
        (0..).zip(daily).filter(|(day, _)| silent.get(*day) != Some(&true)).map(|(_, used)| used).collect();
    let days = daily.len();
    if days < FEWEST_DAYS {
        return None;
    }
    let count = days as f64;
    let (a_day, variance) = mean_and_variance(&daily)?;
    let variance = variance.max(LEAST_SPREAD * a_day);
    (a_day > 0.0).then_some(Usage { a_day, basis: Basis::Days(days), variance, observed: count })
}

/// Between two counts nothing is overlooked: priming, spilt strips, insulin that was not noted.
fn of_counts(item: Item, history: &History, now: Moment) -> Option<Usage> {
    let notes: Vec<_> = history.supplies.iter().filter(|note| note.supply.item == item && note.at <= now).collect();
    let counts: Vec<_> = notes.iter().filter(|note| note.supply.stocked == Stocked::Counted).collect();
    let last = counts.last()?;
    let since = now.plus_ms(-2 * LEARNT_FROM_DAYS * DAY_MS);
    let first = counts.iter().find(|note| note.at >= since)?;
    let days = last.at.minutes_since(first.at) / 1440.0;
    if days < COUNTS_APART_DAYS {
        return None;
    }
    let between = |stocked: Stocked| -> f64 {
        let inside = notes.iter().filter(|note| note.at > first.at && note.at <= last.at);
        inside.filter(|note| note.supply.stocked == stocked).map(|note| note.supply.amount).sum()
    };
    let used = first.supply.amount + between(Stocked::Received) - between(Stocked::ThrownAway) - last.supply.amount;
    let a_day = used / days;
    // How single days differ is not seen between counts; taken as that of the days the log shows, or of single pieces.
    let spread = of_days(item, history, now).filter(|one| one.a_day > 0.0);
    let variance = spread.map_or(a_day, |one| one.variance * (a_day / one.a_day).powi(2));
    (a_day > 0.0).then_some(Usage { a_day, basis: Basis::Counts, variance, observed: days })
}
