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
}

/// The chance of having crossed a line by each point of the hour.
pub type Passage = [f64; HOUR];

impl Paths {
    /// The paths around an expected one. `spread` is the factor on the model's variance at each point.
    #[must_use]
    pub fn new(path: &Path, deviations: &[Row], spread: impl Fn(usize) -> f64, shape: Shape) -> Self {
        let (mut lower, mut upper) = (Vec::with_capacity(HOUR), Vec::with_capacity(HOUR));
        for (k, row) in deviations.iter().enumerate() {
            let spread = spread(k + 1).max(0.0).sqrt();
            let sd = path.reading_variance[k].max(0.0).sqrt();
            let middle = path.reading_mg_dl[k] - shape.mean_per_sd() * sd;
            let at = |deviation: f64| bent(middle + shape.stretched(deviation * spread));
            lower.push(row.map(at));
            upper.push(row.map(|deviation| at(-deviation)));
        }
        Self { lower, upper }
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
        let all = |rows: &[Row]| -> Vec<Row> {
            rows.iter().enumerate().map(|(k, row)| std::array::from_fn(|path| change(k, path, row[path]))).collect()
        };
        Self { lower: all(&self.lower), upper: all(&self.upper) }
    }

    /// Mean and standard deviation of the readings at a point.
    #[must_use]
    pub fn moments(&self, point: usize) -> (f64, f64) {
        let (lower, upper) = (&self.lower[point], &self.upper[point]);
        let count = 2.0 * HALF as f64;
        let mean = (lower.iter().sum::<f64>() + upper.iter().sum::<f64>()) / count;
        let squares: f64 = lower.iter().chain(upper).map(|one| (one - mean) * (one - mean)).sum();
        (mean, (squares / count).sqrt())
    }

    /// The chance of having been below a line by each point. `sd` is the uncertainty of the line itself, in mg/dL: that of a
    /// meter's difference.
    #[must_use]
    pub fn below(&self, line_mg_dl: f64, sd: f64) -> Passage {
        self.passage(f64::INFINITY, f64::min, |lowest| line_mg_dl - lowest, sd)
    }

    /// The chance of being below a line at each point.
    #[must_use]
    pub fn below_at(&self, line_mg_dl: f64, sd: f64) -> Passage {
        let width = (12.0_f64.sqrt() * sd).max(SMOOTH_MG_DL);
        std::array::from_fn(|k| {
            let counted = |row: &Row| -> f64 {
                row.iter().map(|reading| ((line_mg_dl - reading) / width + 0.5).clamp(0.0, 1.0)).sum()
            };
            (counted(&self.lower[k]) + counted(&self.upper[k])) / (2.0 * HALF as f64)
        })
    }

    /// The chance of having been above a line by each point.
    #[must_use]
    pub fn above(&self, line_mg_dl: f64, sd: f64) -> Passage {
        self.passage(f64::NEG_INFINITY, f64::max, |highest| highest - line_mg_dl, sd)
    }

    fn passage(&self, start: f64, further: fn(f64, f64) -> f64, beyond: impl Fn(f64) -> f64, sd: f64) -> Passage {
        // Each path counts for the part of a short ramp that it is beyond: a chance that moves smoothly with the line, though
        // paths are few. A ramp of width w has the standard deviation w / sqrt(12).
        let width = (12.0_f64.sqrt() * sd).max(SMOOTH_MG_DL);
        let (mut lower, mut upper) = ([start; HALF], [start; HALF]);
        std::array::from_fn(|k| {
            let mut total = 0.0;
            for (furthest, row) in [(&mut lower, &self.lower[k]), (&mut upper, &self.upper[k])] {
                for (furthest, reading) in furthest.iter_mut().zip(row) {
                    *furthest = further(*furthest, *reading);
                    total += (beyond(*furthest) / width + 0.5).clamp(0.0, 1.0);
                }
            }
            total / (2.0 * HALF as f64)
        })
    }
}

/// Width of the ramp that a path counts by, in mg/dL.
const SMOOTH_MG_DL: f64 = 3.0;

/// Bends what would go below the lowest possible glucose: monotone, smooth at the joint, and never below it.
fn bent(mg_dl: f64) -> f64 {
    if mg_dl >= BENT_BELOW_MG_DL {
        return mg_dl;
    }
    let room = BENT_BELOW_MG_DL - LOWEST_MG_DL;
    // A hyperbola: slope 1 at the joint, the lowest as its asymptote.
    BENT_BELOW_MG_DL - room * (BENT_BELOW_MG_DL - mg_dl) / (room + BENT_BELOW_MG_DL - mg_dl)
}
