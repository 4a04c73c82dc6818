//! The one distribution ahead: a few hundred sampled paths of the first hour, from which the band, the chances and the time of
//! crossing are read.
//!
//! Sampled rather than solved: the chance of ever crossing a line depends on the whole path, and a path of glucose is an
//! integrated process, so that taking its points for a Markov chain gives too small a chance (0.58 for 0.62 an hour ahead).
//! The sample is drawn once with exact moments and only scaled afterwards ([`super::grid`]), which makes it as fast as a
//! formula, the same on every run, and ordered: a path expected lower crosses a lower line no later.
//!
//! # Source
//! First passage by simulation: Glasserman, Monte Carlo Methods in Financial Engineering 2003, section 6.4 (from memory).

use super::grid::{HOUR, Path, Row};
use super::passage::{Sampled, greater, range};
use super::sample::HALF;
use super::shape::Shape;
use crate::units::LOWEST_MG_DL;

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
                    *to = middle + shape.stretched(deviation * spread);
                }
            })
        };
        let (mut lower, mut upper) = (half(1.0), half(-1.0));
        let range = lower.iter_mut().zip(&mut upper).map(|(lower, upper)| bent_range(lower, upper)).collect();
        Self { lower, upper, range }
    }
}

impl Sampled for Paths {
    fn halves(&self, point: usize) -> [&Row; 2] {
        [&self.lower[point], &self.upper[point]]
    }

    fn bounds(&self, point: usize) -> (f64, f64) {
        self.range[point]
    }
}

/// A row for each point of the hour, filled in place.
pub(super) fn rows(fill: impl Fn(usize, &mut Row)) -> Vec<Row> {
    let mut rows = vec![[0.0; HALF]; HOUR];
    for (k, row) in rows.iter_mut().enumerate() {
        fill(k, row);
    }
    rows
}

/// Bends two rows where they need it, and says the least and the greatest number in them.
fn bent_range(lower: &mut Row, upper: &mut Row) -> (f64, f64) {
    let (least, most) = range(lower, upper);
    if !is_bent(least) {
        return (least, most);
    }
    for mg_dl in lower.iter_mut().chain(upper) {
        *mg_dl = bent(*mg_dl);
    }
    (bent(least), bent(most))
}

/// Whether [`bent`] changes a number; a hundred divisions are spared where the lowest of a row is high enough.
pub(super) fn is_bent(mg_dl: f64) -> bool {
    mg_dl < BENT_BELOW_MG_DL
}

/// Bends what would go below the lowest possible glucose: monotone, smooth at the joint, and never below it.
pub(super) fn bent(mg_dl: f64) -> f64 {
    let room = BENT_BELOW_MG_DL - LOWEST_MG_DL;
    let below = greater(BENT_BELOW_MG_DL - mg_dl, 0.0);
    // A hyperbola: slope 1 at the joint, the lowest as its asymptote; without a branch, as it is worked out for many at once.
    greater(mg_dl, BENT_BELOW_MG_DL) - room * below / (room + below)
}
