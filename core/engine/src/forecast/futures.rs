//! Two futures of blood glucose: if rescue carbohydrate is taken now, and if nothing is done.
//!
//! Both are read off the sampled paths of the one distribution ahead, moved from the sensor to blood (which is there minutes
//! earlier) and, for the first, raised by what the carbohydrate adds. How much a gram raises differs by a factor between
//! meals and people, so every path has a gain of its own. Nothing here speaks of insulin that was not taken yet, and nothing
//! is an amount to take: the step is the one the wearer's care team gave.
//!
//! The chance if nothing is done is no record's: people who fall usually eat. `tests/docs/trial.md` says how it was checked.
//!
//! # Source
//! Absorption of rescue carbohydrate: `body/carbohydrate.rs`. The spread of gains is an assumption
//! from the rises listed there, whose standard deviations are about a third to a half of the mean.

use std::cell::OnceCell;
use std::sync::LazyLock;

use serde::Serialize;

use super::grid::{GRID_MINUTES, HOUR, Row};
use super::logged::Logged;
use super::lowest::UNCERTAIN;
use super::passage::{Passage, Sampled, by, later};
use super::paths::{Paths, bent, is_bent};
use super::sample::HALF;
use crate::body::carbohydrate::fraction_left;
use crate::body::lag::WHOLE_MINUTES;
use crate::log::Purpose;
use crate::logit::{chance_of, log_odds};
use crate::normal;
use crate::wearer::FLOOR_LINE_MG_DL;

/// The first step against a low unless the care team gave another, in g (Diabetes Canada guidelines ch. 14; ADA Standards of Care).
pub const FIRST_STEP_G: f64 = 15.0;
/// Between being asked and having eaten, in minutes (assumption).
const UNTIL_EATEN_MINUTES: f64 = 2.0;
/// Standard deviation of the logarithm of a gain.
const GAIN_SD: f64 = 0.35;
/// Minutes from now for which a future's path is shown.
const SHOWN_MINUTES: [u16; 4] = [15, 30, 45, 60];
/// What a chance of the paths is worth if nothing is done: `logit p' = a + b logit p`. Fitted by `tests/fit/futures.py` on virtual
/// wearers, whose bodies do as the model says; records hold people who ate.
const WAITED: (f64, f64) = (-0.59, 0.98);
/// The same if the first step is taken.
const TREATED: (f64, f64) = (-2.18, 0.66);
/// Above these log-odds (a chance of 0.6) each further one counts by this share: what is logged wrong or not at all is not in the paths. On
/// 40 virtual wearers (201 to 240, seed 11) 0.56, 0.68 and 0.76 came of chances of 0.75, 0.85 and 0.95.
const HELD_BACK: (f64, f64) = (0.4, 0.5);
/// A chance of a low this large is worth showing; from it on within the hour, if nothing is done, both futures are shown.
pub(crate) const WORTH_SHOWING: f64 = 0.08;
/// Below this chance within the hour no time of a low is given.
const TIMED_FROM: f64 = 0.2;

/// Both futures.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Futures {
    /// If the first step of carbohydrate is taken now.
    pub treat: Future,
    /// If nothing is done.
    pub wait: Future,
}

impl Futures {
    /// Whether they differ by what somebody would act on.
    #[must_use]
    pub(crate) fn is_worth_showing(&self) -> bool {
        self.wait.p_low_60 >= WORTH_SHOWING
    }

    /// By how much a sensor reads higher after some minutes if the step is taken now, in mg/dL: what it raises blood by, as much
    /// later as a sensor lags ([`WHOLE_MINUTES`]).
    #[must_use]
    pub fn raises_reading_mg_dl(&self, minutes: f64) -> f64 {
        let rises = std::iter::once((0.0, 0.0)).chain(
            self.treat
                .path
                .iter()
                .zip(&self.wait.path)
                .map(|(treat, wait)| (f64::from(treat.minutes), treat.mean - wait.mean)),
        );
        let rises: Vec<(f64, f64)> = rises.collect();
        let after = (minutes - WHOLE_MINUTES).max(0.0);
        let pair = rises.windows(2).find(|pair| after <= pair[1].0);
        pair.map_or_else(
            || rises.last().map_or(0.0, |last| last.1),
            |pair| pair[0].1 + (after - pair[0].0) / (pair[1].0 - pair[0].0) * (pair[1].1 - pair[0].1),
        )
    }
}

/// One future of blood glucose, over an hour.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Future {
    /// The path at 15, 30, 45 and 60 minutes.
    pub path: [FuturePoint; 4],
    /// Chance of falling below the low line within 30 minutes.
    pub p_low_30: f64,
    /// Within an hour.
    pub p_low_60: f64,
    /// Chance of falling below the floor line within 30 minutes.
    pub p_floor_30: f64,
    /// Within an hour.
    pub p_floor_60: f64,
    /// Chance of rising above the high line within an hour.
    pub p_high_60: f64,
    /// Minutes until half of the paths that fall low within the hour have; nothing where few do.
    pub minutes_to_low: Option<f64>,
    /// Chance of having fallen below the low line by each 5 minutes of the hour.
    #[serde(skip)]
    pub low_by_point: Passage,
    /// The same for the floor line.
    #[serde(skip)]
    pub floor_by_point: Passage,
}

/// A point of a future.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct FuturePoint {
    /// Minutes from now.
    pub minutes: u16,
    /// Expected blood glucose, in mg/dL.
    pub mean: f64,
    /// Its standard deviation, in mg/dL.
    pub sd: f64,
}

/// Lines that matter, in mg/dL.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lines {
    /// The wearer's low line.
    pub low: f64,
    /// The wearer's high line.
    pub high: f64,
}

/// Both futures of blood glucose. `gap` is how much higher blood is than the sensor's paths at each point, `factor` what a gram
/// raises, both in mg/dL; `logged` is what the log says of the hour from now, `sd` the uncertainty of what meter checks say. The paths
/// begin at a reading that is `age_minutes` old; the futures begin now.
#[must_use]
pub fn futures(
    sensor: &Paths,
    gap: Passage,
    logged: &Logged,
    lines: Lines,
    factor: f64,
    sd: f64,
    age_minutes: f64,
) -> Futures {
    // From now, at each point of the paths.
    let minutes = |k: usize| (k as f64 + 1.0).mul_add(GRID_MINUTES, -age_minutes);
    let rise = std::array::from_fn(|k| {
        FIRST_STEP_G * factor * (1.0 - fraction_left(Purpose::Rescue, minutes(k) - UNTIL_EATEN_MINUTES))
    });
    let moves = std::array::from_fn(|k| by(&logged.moves, minutes(k)));
    let blood = |rise| Blood { sensor, gap, moves, complete: logged.complete, rise, halves: Default::default() };
    let future = |rise, worth| future(&blood(rise), lines, sd, worth, age_minutes);
    Futures { treat: future(rise, TREATED), wait: future([0.0; HOUR], WAITED) }
}

/// The paths of blood in one future: the sensor's, moved, some of them by what was logged too, no lower than glucose can be, and raised,
/// each by its own gain. They are worked out at a point when they are asked for there, since most hours come near no line.
struct Blood<'a> {
    sensor: &'a Paths,
    gap: Passage,
    /// By how much what was logged moves the share of paths that it moves.
    moves: Passage,
    complete: f64,
    rise: Passage,
    halves: [OnceCell<Box<[Row; 2]>>; HOUR],
}

impl Sampled for Blood<'_> {
    fn halves(&self, point: usize) -> [&Row; 2] {
        let (gap, rise, gains) = (self.gap[point], self.rise[point], &*GAINS);
        let (logged, complete) = (self.moves[point], self.complete);
        let worked_out = || {
            let mut halves = Box::new([[0.0; HALF]; 2]);
            let bends = is_bent(self.sensor.bounds(point).0 + gap + logged.min(0.0));
            for (to, from) in halves.iter_mut().zip(self.sensor.halves(point)) {
                for (((to, mg_dl), gain), doubt) in to.iter_mut().zip(from).zip(gains).zip(&*DOUBTS) {
                    let moved = mg_dl + gap + if *doubt < complete { logged } else { 0.0 };
                    *to = if bends { bent(moved) } else { moved } + gain * rise;
                }
            }
            halves
        };
        self.halves[point].get_or_init(worked_out).each_ref()
    }

    fn bounds(&self, point: usize) -> (f64, f64) {
        let (least, most) = self.sensor.bounds(point);
        let moved = |mg_dl: f64| bent(mg_dl + self.gap[point]);
        let logged = self.moves[point];
        // Nothing is raised by less than nothing.
        (moved(least + logged.min(0.0)), moved(most + logged.max(0.0)) + *MOST_GAIN * self.rise[point])
    }
}

fn future(paths: &impl Sampled, lines: Lines, sd: f64, worth: (f64, f64), age_minutes: f64) -> Future {
    let below = |line: f64| later(&paths.below(line, sd).map(|chance| calibrated(chance, worth)), age_minutes);
    let (low, floor) = (below(lines.low), below(FLOOR_LINE_MG_DL));
    let half = low[HOUR - 1] / 2.0;
    let crosses = |k: usize| {
        let before = if k == 0 { 0.0 } else { low[k - 1] };
        GRID_MINUTES * (k as f64 + (half - before) / (low[k] - before).max(1e-9))
    };
    Future {
        path: SHOWN_MINUTES.map(|minutes| {
            let (mean, sd) = moments_at(paths, f64::from(minutes) + age_minutes);
            FuturePoint { minutes, mean, sd }
        }),
        p_low_30: low[5],
        p_low_60: low[HOUR - 1],
        p_floor_30: floor[5],
        p_floor_60: floor[HOUR - 1],
        p_high_60: paths.above(lines.high, sd, HOUR - 1)[HOUR - 1],
        minutes_to_low: (low[HOUR - 1] >= TIMED_FROM)
            .then(|| low.iter().position(|chance| *chance >= half))
            .flatten()
            .map(crosses),
        low_by_point: low,
        floor_by_point: floor,
    }
}

/// Mean and standard deviation of the paths so many minutes after they begin, linear between their points; after the hour those at its
/// end.
fn moments_at(paths: &impl Sampled, minutes: f64) -> (f64, f64) {
    let place = (minutes / GRID_MINUTES - 1.0).clamp(0.0, (HOUR - 1) as f64);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // 0 to 11
    let whole = place as usize;
    let part = place - whole as f64;
    let (mean, sd) = paths.moments(whole);
    if part == 0.0 {
        return (mean, sd);
    }
    let (next_mean, next_sd) = paths.moments(whole + 1);
    (mean + part * (next_mean - mean), sd + part * (next_sd - sd))
}

fn calibrated(chance: f64, (shift, slope): (f64, f64)) -> f64 {
    let odds = shift + slope * log_odds(chance, UNCERTAIN);
    let (from, share) = HELD_BACK;
    chance_of(odds.min(from) + share * (odds - from).max(0.0))
}

/// Evenly spread numbers from 0 to 1 for the paths of one half, in an order unlike that of the paths.
fn spread(step: usize) -> Row {
    std::array::from_fn(|k| (((k * step) % HALF) as f64 + 0.5) / HALF as f64)
}

/// How complete a log must be for each path of one half to be moved by it.
static DOUBTS: LazyLock<Row> = LazyLock::new(|| spread(53));

/// A gain for each path of one half: quantiles of a log-normal distribution of mean 1.
static GAINS: LazyLock<Row> =
    LazyLock::new(|| spread(37).map(|chance| (GAIN_SD * normal::quantile(chance) - GAIN_SD * GAIN_SD / 2.0).exp()));

/// The greatest of the gains.
static MOST_GAIN: LazyLock<f64> = LazyLock::new(|| GAINS.iter().copied().fold(0.0, f64::max));

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_sensor_shows_of_a_step_comes_as_late_as_it_lags() {
        let future = |raised: f64| {
            let path =
                SHOWN_MINUTES.map(|minutes| FuturePoint { minutes, mean: 80.0 + raised * f64::from(minutes), sd: 5.0 });
            let (p_low_30, p_low_60, p_floor_30, p_floor_60, p_high_60) = (0.1, 0.2, 0.0, 0.0, 0.0);
            let (low_by_point, floor_by_point) = ([0.1; HOUR], [0.0; HOUR]);
            Future {
                path,
                p_low_30,
                p_low_60,
                p_floor_30,
                p_floor_60,
                p_high_60,
                minutes_to_low: None,
                low_by_point,
                floor_by_point,
            }
        };
        let futures = Futures { treat: future(1.0), wait: future(0.0) };
        for (minutes, raised) in
            [(0.0, 0.0), (5.0, 0.0), (10.0, 0.0), (25.0, 15.0), (40.0, 30.0), (60.0, 50.0), (90.0, 60.0)]
        {
            assert!((futures.raises_reading_mg_dl(minutes) - raised).abs() < 1e-9, "{minutes}");
        }
    }

    #[test]
    fn gains_have_mean_one_and_the_spread_named() {
        let gains = *GAINS;
        let mean = gains.iter().sum::<f64>() / HALF as f64;
        let sd = (gains
            .iter()
            .map(|gain| (gain.ln() - gains.iter().map(|g| g.ln()).sum::<f64>() / HALF as f64).powi(2))
            .sum::<f64>()
            / HALF as f64)
            .sqrt();
        assert!((mean - 1.0).abs() < 0.01, "{mean}");
        assert!((sd - GAIN_SD).abs() < 0.01, "{sd}");
    }
}
