//! Reading a sample of paths: its moments at a point, and the chance of having crossed a line by each.

use super::grid::{GRID_MINUTES, HOUR, Row};
use super::sample::HALF;
use crate::normal;

/// The chance of having crossed a line by each point of the hour.
pub type Passage = [f64; HOUR];

/// The chance by so many minutes, linear between the points; after the hour that at its end.
#[must_use]
pub fn by(passage: &Passage, minutes: f64) -> f64 {
    let at = (minutes / GRID_MINUTES).clamp(0.0, HOUR as f64);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // 0 to 12
    let whole = at as usize;
    let value = |point: usize| if point == 0 { 0.0 } else { passage[point.min(HOUR) - 1] };
    value(whole) + (at - whole as f64) * (value(whole + 1) - value(whole))
}

/// The same chances by the points of an hour that begins some minutes later, where nothing was read since.
#[must_use]
pub(super) fn later(passage: &Passage, minutes: f64) -> Passage {
    std::array::from_fn(|k| by(passage, (k as f64 + 1.0).mul_add(GRID_MINUTES, minutes)))
}

/// Width of the ramp that a path counts by, in mg/dL.
const SMOOTH_MG_DL: f64 = 3.0;
/// Numbers that a processor works on side by side; rows are a multiple of it.
const LANES: usize = 8;

/// A sample of paths over the hour, in two halves.
pub trait Sampled {
    /// Both halves of the sample at a point, in mg/dL.
    fn halves(&self, point: usize) -> [&Row; 2];

    /// Two numbers that no path lies outside of at a point, in mg/dL: a line beyond them is crossed by none, and need not be counted.
    fn bounds(&self, point: usize) -> (f64, f64);

    /// Mean and standard deviation at a point, in mg/dL.
    #[must_use]
    fn moments(&self, point: usize) -> (f64, f64) {
        let halves = self.halves(point);
        let count = 2.0 * HALF as f64;
        let total = |of: &dyn Fn(&Row) -> f64| halves.iter().map(|row| of(row)).sum::<f64>() / count;
        let mean = total(&|row| sum(row, |one| one));
        let variance = total(&|row| sum(row, |one| (one - mean) * (one - mean)));
        (mean, variance.sqrt())
    }

    /// The chance of having been below a line by each point. `sd` is the uncertainty of the line itself, in mg/dL: that of a
    /// meter's difference.
    #[must_use]
    fn below(&self, line_mg_dl: f64, sd: f64) -> Passage {
        let lowest = (0..HOUR).map(|k| self.bounds(k).0);
        passage(self, lowest, lesser, |mg_dl| line_mg_dl - mg_dl, sd, 0)
    }

    /// The chance of being below a line at each point, by the band that is drawn: mean and standard deviation. `sd` as in
    /// [`Sampled::below`].
    #[must_use]
    fn below_by_band(&self, line_mg_dl: f64, sd: f64) -> Passage {
        std::array::from_fn(|point| {
            if sd == 0.0 && self.bounds(point).0 > line_mg_dl {
                return 0.0;
            }
            let (mean, own_sd) = self.moments(point);
            normal::below(line_mg_dl, mean, own_sd.hypot(sd))
        })
    }

    /// The chance of having been above a line by each point from one on; nothing is worked out for those before.
    #[must_use]
    fn above(&self, line_mg_dl: f64, sd: f64, from: usize) -> Passage {
        let highest = (0..HOUR).map(|k| self.bounds(k).1);
        passage(self, highest, greater, |mg_dl| mg_dl - line_mg_dl, sd, from)
    }
}

/// The chance that what is furthest of a path so far is beyond a line. `extremes` are the furthest of all paths at each point.
///
/// Each path counts for the part of a short ramp that it is beyond: a chance that moves smoothly with the line, though paths
/// are few. A ramp of width w has the standard deviation w / sqrt(12).
fn passage(
    sample: &(impl Sampled + ?Sized),
    mut extremes: impl Iterator<Item = f64>,
    further: impl Fn(f64, f64) -> f64,
    beyond: impl Fn(f64) -> f64,
    sd: f64,
    from: usize,
) -> Passage {
    let per_mg_dl = (12.0_f64.sqrt() * sd).max(SMOOTH_MG_DL).recip();
    let counts = |mg_dl: f64| (beyond(mg_dl) * per_mg_dl + 0.5).clamp(0.0, 1.0);
    let mut passage = [0.0; HOUR];
    // Before the first point at which any path counts at all there is nothing to remember.
    let Some(first) = extremes.position(|furthest| counts(furthest) > 0.0) else { return passage };
    let mut furthest = sample.halves(first).map(|row| *row);
    for (k, chance) in passage.iter_mut().enumerate().skip(first) {
        for (furthest, row) in furthest.iter_mut().zip(sample.halves(k)) {
            for (furthest, here) in furthest.iter_mut().zip(row) {
                *furthest = further(*furthest, *here);
            }
        }
        if k >= from {
            *chance = furthest.iter().map(|row| sum(row, counts)).sum::<f64>() / (2.0 * HALF as f64);
        }
    }
    passage
}

/// The least and the greatest number of two rows.
pub(super) fn range(lower: &Row, upper: &Row) -> (f64, f64) {
    let (mut least, mut most) = ([lower[0]; LANES], [lower[0]; LANES]);
    for part in lower.chunks_exact(LANES).chain(upper.chunks_exact(LANES)) {
        for ((least, most), one) in least.iter_mut().zip(&mut most).zip(part) {
            *least = lesser(*least, *one);
            *most = greater(*most, *one);
        }
    }
    (least.into_iter().fold(lower[0], lesser), most.into_iter().fold(lower[0], greater))
}

/// The lesser of two, in a form that a processor does for many at once.
pub(super) fn lesser(one: f64, other: f64) -> f64 {
    if one < other { one } else { other }
}

/// The greater of two, as [`lesser`].
pub(super) fn greater(one: f64, other: f64) -> f64 {
    if one > other { one } else { other }
}

/// The sum of what a row's numbers come to.
fn sum(row: &Row, of: impl Fn(f64) -> f64) -> f64 {
    let mut lanes = [0.0; LANES];
    for part in row.chunks_exact(LANES) {
        for (lane, one) in lanes.iter_mut().zip(part) {
            *lane += of(*one);
        }
    }
    lanes.iter().sum()
}
