//! The dynamics of one wearer, learnt from their own record.
//!
//! Maximum likelihood of the innovations: the parameters under which the filter was least surprised by what came next,
//! held back by the population's values as a prior and by bounds. Five things are learnt: how much glucose moves, how much
//! less it does at night, how its movement changes with its level, how noisy the single reading is, and, where meter checks
//! tell, the lag. Other parameters stay the population's: readings alone cannot tell them apart.
//!
//! # Source
//! Likelihood of a state-space model by its innovations: Schweppe, IEEE Trans. Information Theory 1965;11:61-70. The search
//! is a compass search (Kolda, Lewis and Torczon, SIAM Review 2003;45:385-482, section 3).

use serde::{Deserialize, Serialize};

use super::dynamics::{Discretizations, Dynamics, INTERSTITIAL};
use super::filter::{ALONE_GATE, Gaussian, PressStep, meter_measurement_row, sensor_measurement_row};
use super::modes::meter_variance;
use crate::log::{History, Reading, thinned};
use crate::sorted::known;
use crate::time::Moment;
use crate::wearer::Wearer;

/// Days with readings needed before anything is adapted.
const NEEDED_DAYS: f64 = 7.0;
/// Readings older than this many days before the newest are not looked at.
const LOOKED_AT_DAYS: f64 = 14.0;
/// Readings needed in that time: 70 % of a week of 5-minute readings, or as many hours of others.
const NEEDED_COVERED_MINUTES: f64 = 0.7 * 7.0 * 1440.0;
/// Meter checks needed before the lag is adapted.
pub const NEEDED_METER_CHECKS: usize = 10;

/// What came of adapting.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "outcome")]
pub enum Adaptation {
    /// Not enough was recorded: the population's values hold.
    TooLittle {
        /// Days covered by readings.
        have_days: f64,
        /// Days needed.
        need_days: f64,
    },
    /// The wearer's own dynamics.
    Adapted {
        /// The dynamics.
        dynamics: Dynamics,
        /// What they rest on.
        evidence: Evidence,
    },
}

/// What adapted dynamics rest on.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Evidence {
    /// Days covered by readings.
    pub days: f64,
    /// Readings used.
    pub readings: usize,
    /// Meter checks used.
    pub meter_checks: usize,
    /// By how much the mean log-likelihood of a reading rose over the population's values.
    pub gain_per_reading: f64,
    /// The newest reading used.
    pub until: Moment,
}

/// One learnt parameter: how it is changed, its prior and its bounds, all on the scale of the search.
struct Learnt {
    apply: fn(&mut Dynamics, f64),
    prior_sd: f64,
    bound: f64,
}

/// Multipliers are searched as logarithms; 0 is the population.
const LEARNT: [Learnt; 5] = [
    Learnt {
        apply: |d, x| {
            d.blood_noise *= x.exp();
            d.rate_noise *= x.exp();
        },
        prior_sd: 0.4,
        bound: 0.7,
    },
    Learnt { apply: |d, x| d.night_noise *= x.exp(), prior_sd: 0.4, bound: 0.9 },
    Learnt { apply: |d, x| d.noise_power += x, prior_sd: 0.3, bound: 0.5 },
    Learnt { apply: |d, x| d.white_sd_mg_dl *= x.exp(), prior_sd: 0.7, bound: 1.4 },
    Learnt { apply: |d, x| d.lag_minutes *= x.exp(), prior_sd: 0.25, bound: 0.5 },
];
/// Which of [`LEARNT`] needs meter checks.
const LAG: usize = 4;
/// First and last step of the search.
const STEP: (f64, f64) = (0.4, 0.05);

/// Days covered by readings among the last 14 up to `now`.
#[must_use]
pub fn covered_days(history: &History, wearer: &Wearer, now: Moment) -> f64 {
    Record::of(history, wearer, now).covered_minutes / 1440.0
}

/// Adapts to the readings of the last 14 days up to `now`. Spells marked as pressed are left out.
#[must_use]
pub fn adapt(history: &History, wearer: &Wearer, now: Moment) -> Adaptation {
    let record = Record::of(history, wearer, now);
    let have_days = record.covered_minutes / 1440.0;
    let days = record.observations.last().map_or(0.0, |last| last.at.minutes_since(record.observations[0].at) / 1440.0);
    if record.covered_minutes < NEEDED_COVERED_MINUTES || days < NEEDED_DAYS - 0.5 {
        return Adaptation::TooLittle { have_days: have_days.min(days), need_days: NEEDED_DAYS };
    }
    let with = |x: &[f64; 5]| {
        let mut dynamics = Dynamics::POPULATION;
        for (learnt, x) in LEARNT.iter().zip(x) {
            (learnt.apply)(&mut dynamics, *x);
        }
        dynamics
    };
    let posterior = |x: &[f64; 5]| {
        let prior: f64 = LEARNT.iter().zip(x).map(|(learnt, x)| -0.5 * (x / learnt.prior_sd).powi(2)).sum();
        record.log_likelihood(&with(x)) + prior
    };
    let learnable = if record.meter_checks >= NEEDED_METER_CHECKS { 5 } else { LAG };
    let mut best = [0.0; 5];
    let population = posterior(&best);
    let mut best_value = population;
    let mut step = STEP.0;
    while step >= STEP.1 {
        let mut moved = false;
        for direction in directions(learnable) {
            for sign in [step, -step] {
                let tried =
                    std::array::from_fn(|i| (best[i] + sign * direction[i]).clamp(-LEARNT[i].bound, LEARNT[i].bound));
                let value = posterior(&tried);
                if value > best_value {
                    (best, best_value, moved) = (tried, value, true);
                    break;
                }
            }
        }
        if !moved {
            step /= 2.0;
        }
    }
    let readings = record.observations.len() - record.meter_checks;
    Adaptation::Adapted {
        dynamics: with(&best),
        evidence: Evidence {
            days: have_days,
            readings,
            meter_checks: record.meter_checks,
            gain_per_reading: (best_value - population) / readings.max(1) as f64,
            until: record.observations.last().map_or(now, |last| last.at),
        },
    }
}

/// The directions of the search: each parameter alone, and the lag together with how much glucose moves, since readings alone
/// cannot tell a longer lag from a calmer glucose.
fn directions(learnable: usize) -> Vec<[f64; 5]> {
    let alone = (0..learnable).map(|one| std::array::from_fn(|i| f64::from(u8::from(i == one))));
    let mut all: Vec<[f64; 5]> = alone.collect();
    if learnable > LAG {
        for noise in [0.7, -0.7] {
            all.push(std::array::from_fn(|i| match i {
                0 => noise,
                LAG => 0.7,
                _ => 0.0,
            }));
        }
    }
    all
}

struct Observation {
    at: Moment,
    mg_dl: f64,
    meter: bool,
    asleep: bool,
}

/// The stretch of the history that is learnt from.
struct Record {
    observations: Vec<Observation>,
    covered_minutes: f64,
    meter_checks: usize,
}

impl Record {
    fn of(history: &History, wearer: &Wearer, now: Moment) -> Self {
        let newest = history.readings.iter().rfind(|reading| !reading.at.is_after(now));
        let from = newest.map_or(now, |reading| reading.at).plus_minutes(-LOOKED_AT_DAYS * 1440.0);
        let within = |at: Moment| (from.unix_ms()..=now.unix_ms()).contains(&at.unix_ms());
        let asleep = |at: Moment| wearer.night.contains(at);
        let used: Vec<Reading> = thinned(known(&history.readings, now, |reading| reading.at))
            .into_iter()
            .filter(|reading| within(reading.at) && !history.is_compression_low(reading.at))
            .collect();
        let covered_minutes =
            used.windows(2).map(|pair| pair[1].at.minutes_since(pair[0].at)).filter(|apart| *apart <= 20.0).sum();
        let meters = history.meter_checks.iter().filter(|meter| within(meter.at));
        let mut observations: Vec<Observation> = used
            .iter()
            .map(|one| Observation { at: one.at, mg_dl: one.glucose.mg_dl(), meter: false, asleep: asleep(one.at) })
            .chain(meters.map(|one| Observation {
                at: one.at,
                mg_dl: one.glucose.mg_dl(),
                meter: true,
                asleep: asleep(one.at),
            }))
            .collect();
        observations.sort_unstable_by(|a, b| (a.at, a.meter).cmp(&(b.at, b.meter)).then(a.mg_dl.total_cmp(&b.mg_dl)));
        // A filter begins from a reading.
        let first = observations.iter().position(|one| !one.meter).unwrap_or(observations.len());
        observations.drain(..first);
        let meter_checks = observations.iter().filter(|one| one.meter).count();
        Self { observations, covered_minutes, meter_checks }
    }

    /// Log-likelihood of a sensor that follows glucose, under these dynamics.
    fn log_likelihood(&self, dynamics: &Dynamics) -> f64 {
        let Some((first, rest)) = self.observations.split_first() else { return 0.0 };
        let (mean, covariance) = dynamics.prior(first.mg_dl);
        let mut gaussian = Gaussian { mean, covariance };
        let mut steps = Discretizations::new(*dynamics);
        let (mut at, mut last_reading, mut total) = (first.at, first.at, 0.0);
        let (reading, meter) = (sensor_measurement_row(), meter_measurement_row());
        for one in rest {
            for step in steps.over(one.at.minutes_since(at)) {
                let interstitial = gaussian.mean[INTERSTITIAL] + dynamics.level_mg_dl;
                let noise = dynamics.noise_at(interstitial, one.asleep);
                gaussian = gaussian.predict(&step, noise, 0.0, PressStep::RELEASED);
            }
            at = one.at;
            let (row, noise) = if one.meter {
                (&meter, meter_variance(one.mg_dl))
            } else {
                let spacing = at.minutes_since(last_reading);
                last_reading = at;
                (&reading, dynamics.white_variance(spacing))
            };
            let (next, innovation) = gaussian.update(row, one.mg_dl - dynamics.level_mg_dl, noise, ALONE_GATE);
            gaussian = next;
            total += innovation.log_likelihood;
        }
        total
    }
}
