//! The one distribution ahead: a few hundred sampled paths of the first hour, from which the band, the chances and the time of
//! crossing are read.
//!
//! Sampled rather than solved: the chance of ever crossing a line depends on the whole path, and a path of glucose is an
//! integrated process, so that taking its points for a Markov chain tells too small a chance (0.58 for 0.62 an hour ahead).
//! The sample is drawn once with exact moments and only scaled afterwards ([`super::grid`]), which makes it as fast as a
//! formula, the same on every run, and ordered: a path expected lower crosses a lower line no later.
//!
//! # Source
//! First passage by simulation: Glasserman, Monte Carlo Methods in Financial Engineering 2003, section 6.4 (from memory).

use super::grid::{HOUR, Path, Row};
use super::sample::HALF;
use super::shape::Shape;

/// No path goes below this, in mg/dL: no sensor reads there and nobody could be asked.
pub const LOWEST_MG_DL: f64 = 20.0;
/// Below this, paths bend towards [`LOWEST_MG_DL`] instead of reaching it, in mg/dL.
const BENT_BELOW_MG_DL: f64 = 60.0;

/// The sampled paths of readings over an hour, a pair of mirror images for each row entry.
#[derive(Clone, Debug, PartialEq)]
pub struct Paths {
    lower: Vec<Row>,
    upper: Vec<Row>,
    /// The lowest and the highest of them at each point: a line beyond is crossed by none, and need not be counted.
    range: Vec<(f64, f64)>,
}

/// The chance of having crossed a line by each point of the hour.
pub type Passage = [f64; HOUR];

impl Paths {
    /// The paths around an expected one. `spread` is the factor on the model's variance at each point.
    #[must_use]
    pub fn new(path: &Path, deviations: &[Row], spread: impl Fn(usize) -> f64, shape: Shape) -> Self {
        let half = |sign: f64| {
            rows(|k, row| {
                let spread = sign * spread(k + 1).max(0.0).sqrt();
                let sd = path.reading_variance[k].max(0.0).sqrt();
                let middle = path.reading_mg_dl[k] - shape.mean_per_sd() * sd;
                for (to, deviation) in row.iter_mut().zip(&deviations[k]) {
                    *to = bent(middle + shape.stretched(deviation * spread));
                }
            })
        };
        Self::of(half(1.0), half(-1.0))
    }

    fn of(lower: Vec<Row>, upper: Vec<Row>) -> Self {
        let range = lower.iter().zip(&upper).map(|(lower, upper)| range(lower, upper)).collect();
        Self { lower, upper, range }
    }

    /// The same paths, each moved by as much at each point, and no lower than glucose can be.
    #[must_use]
    pub fn moved(&self, by: &Passage) -> Self {
        self.changed(|k, _, mg_dl| bent(mg_dl + by[k]))
    }

    /// The same paths, each raised at each point by its own gain times as much.
    #[must_use]
    pub fn raised(&self, by: &Passage, gains: &Row) -> Self {
        self.changed(|k, path, mg_dl| mg_dl + gains[path] * by[k])
    }

    fn changed(&self, change: impl Fn(usize, usize, f64) -> f64) -> Self {
        let all = |from: &[Row]| {
            rows(|k, row| {
                for (path, (to, mg_dl)) in row.iter_mut().zip(&from[k]).enumerate() {
                    *to = change(k, path, *mg_dl);
                }
            })
        };
        Self::of(all(&self.lower), all(&self.upper))
    }

    /// Mean and standard deviation of the readings at a point.
    #[must_use]
    pub fn moments(&self, point: usize) -> (f64, f64) {
        let (lower, upper) = (&self.lower[point], &self.upper[point]);
        let count = 2.0 * HALF as f64;
        let mean = (sum(lower) + sum(upper)) / count;
        let squares = |row: &Row| sum(&row.map(|one| (one - mean) * (one - mean)));
        (mean, ((squares(lower) + squares(upper)) / count).sqrt())
    }

    /// The chance of having been below a line by each point. `sd` is the uncertainty of the line itself, in mg/dL: that of a
    /// meter's difference.
    #[must_use]
    pub fn below(&self, line_mg_dl: f64, sd: f64) -> Passage {
        let lowest = self.range.iter().map(|range| range.0);
        self.passage(lowest, lesser, |mg_dl| line_mg_dl - mg_dl, sd)
    }

    /// The chance of being below a line at each point.
    #[must_use]
    pub fn below_at(&self, line_mg_dl: f64, sd: f64) -> Passage {
        let lowest = self.range.iter().map(|range| range.0);
        // The furthest that counts at a point is the reading there.
        self.passage(lowest, |_, reading| reading, |mg_dl| line_mg_dl - mg_dl, sd)
    }

    /// The chance of having been above a line by each point.
    #[must_use]
    pub fn above(&self, line_mg_dl: f64, sd: f64) -> Passage {
        let highest = self.range.iter().map(|range| range.1);
        self.passage(highest, greater, |mg_dl| mg_dl - line_mg_dl, sd)
    }

    /// The chance that what is furthest of a path so far is beyond a line. `extremes` are the furthest of all paths at each point.
    ///
    /// Each path counts for the part of a short ramp that it is beyond: a chance that moves smoothly with the line, though paths
    /// are few. A ramp of width w has the standard deviation w / sqrt(12).
    fn passage(
        &self,
        mut extremes: impl Iterator<Item = f64>,
        further: impl Fn(f64, f64) -> f64,
        beyond: impl Fn(f64) -> f64,
        sd: f64,
    ) -> Passage {
        let per_mg_dl = (12.0_f64.sqrt() * sd).max(SMOOTH_MG_DL).recip();
        let counts = |mg_dl: f64| (beyond(mg_dl) * per_mg_dl + 0.5).clamp(0.0, 1.0);
        let mut passage = [0.0; HOUR];
        // Before the first point at which any path counts at all there is nothing to remember.
        let Some(first) = extremes.position(|furthest| counts(furthest) > 0.0) else { return passage };
        let (mut lower, mut upper) = (self.lower[first], self.upper[first]);
        for (k, chance) in passage.iter_mut().enumerate().skip(first) {
            let mut counted = [0.0; HALF];
            for (furthest, row) in [(&mut lower, &self.lower[k]), (&mut upper, &self.upper[k])] {
                for ((counted, furthest), reading) in counted.iter_mut().zip(furthest).zip(row) {
                    *furthest = further(*furthest, *reading);
                    *counted += counts(*furthest);
                }
            }
            *chance = sum(&counted) / (2.0 * HALF as f64);
        }
        passage
    }
}

/// The lesser of two, in a form that a processor does for many at once.
fn lesser(one: f64, other: f64) -> f64 {
    if one < other { one } else { other }
}

fn greater(one: f64, other: f64) -> f64 {
    if one > other { one } else { other }
}

/// A row for each point of the hour, filled in place.
pub(super) fn rows(fill: impl Fn(usize, &mut Row)) -> Vec<Row> {
    let mut rows = vec![[0.0; HALF]; HOUR];
    for (k, row) in rows.iter_mut().enumerate() {
        fill(k, row);
    }
    rows
}

/// The least and the greatest number of two rows.
fn range(lower: &Row, upper: &Row) -> (f64, f64) {
    let (mut least, mut most) = ([lower[0]; LANES], [lower[0]; LANES]);
    for part in lower.chunks_exact(LANES).chain(upper.chunks_exact(LANES)) {
        for ((least, most), one) in least.iter_mut().zip(&mut most).zip(part) {
            *least = lesser(*least, *one);
            *most = greater(*most, *one);
        }
    }
    (least.into_iter().fold(lower[0], lesser), most.into_iter().fold(lower[0], greater))
}

/// Numbers that a processor works on side by side; rows are a multiple of it.
const LANES: usize = 8;

/// The sum of a row.
fn sum(row: &Row) -> f64 {
    let mut lanes = [0.0; LANES];
    for part in row.chunks_exact(LANES) {
        for (lane, one) in lanes.iter_mut().zip(part) {
            *lane += one;
        }
    }
    lanes.iter().sum()
}

/// Width of the ramp that a path counts by, in mg/dL.
const SMOOTH_MG_DL: f64 = 3.0;

/// Bends what would go below the lowest possible glucose: monotone, smooth at the joint, and never below it.
fn bent(mg_dl: f64) -> f64 {
    let room = BENT_BELOW_MG_DL - LOWEST_MG_DL;
    let below = greater(BENT_BELOW_MG_DL - mg_dl, 0.0);
    // A hyperbola: slope 1 at the joint, the lowest as its asymptote; without a branch, as it is worked out for many at once.
    greater(mg_dl, BENT_BELOW_MG_DL) - room * below / (room + below)
}
