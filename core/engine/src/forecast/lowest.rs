//! The calibration of the lowest point of the path: the chance of having been below a line, for every line by one rule.
//!
//! Sampled paths miss two things that records show of people: close above a line it is crossed more often than the paths say,
//! and a fall from far above it is often caught with carbohydrate on the way. A logistic regression of the paths' own chance,
//! the distance above the line and the rate of fall mends the distribution of the lowest point. It is one function of the
//! line, rising with it, and never below what the drawn band says of any point; so the chances of two lines, the band and the
//! verdict cannot part.
//!
//! # Formula
//! `logit p' = a + b logit p + c ln(distance + 4 mg/dL) + d min(rate, 0)`, with `b > 0`, `c < 0`, `d <= 0`; a lower path, a
//! smaller distance or a faster fall never gives a smaller chance.
//!
//! # Source
//! Platt, "Probabilistic outputs for support vector machines", Advances in Large Margin Classifiers 1999, 61-74 (from memory). The
//! weights were fitted, see `core/docs/population.md`.

use super::grid::HOUR;
use super::paths::Passage;
use super::population::PASSAGE;

/// A chance may lie below what the band says of one point by this much: what a few hundred paths and a ramp can tell apart.
const BELOW_BAND: f64 = 0.03;
/// Points of the grid that the weights are for.
const FITTED: [usize; 3] = [3, 6, 12];

/// The calibrated chance of having been below a line by each point, from that of the sampled paths.
///
/// `at_point` is the chance of being below it at each point, `above_mg_dl` how far the newest reading is above the line.
#[must_use]
pub fn calibrated(paths: &Passage, at_point: &Passage, above_mg_dl: f64, rate_mg_dl_min: f64) -> Passage {
    let mut furthest: f64 = 0.0;
    std::array::from_fn(|k| {
        let [constant, odds, distance, rate] = weights(k + 1);
        let chance = sigmoid(
            constant
                + odds * log_odds(paths[k])
                + distance * (above_mg_dl.max(0.0) + 4.0).ln()
                + rate * rate_mg_dl_min.clamp(-6.0, 0.0),
        );
        // Already below: what is asked is whether the next readings are too, which the paths answer.
        let chance = if above_mg_dl < 0.0 { chance.max(paths[k]) } else { chance };
        furthest = furthest.max(chance).max(at_point[k] - BELOW_BAND);
        furthest
    })
}

/// The weights at a point, linear between those fitted.
fn weights(point: usize) -> [f64; 4] {
    let point = point.clamp(FITTED[0], HOUR);
    let (from, until) = if point <= FITTED[1] { (0, 1) } else { (1, 2) };
    let part = (point - FITTED[from]) as f64 / (FITTED[until] - FITTED[from]) as f64;
    std::array::from_fn(|k| PASSAGE[from][k] + part * (PASSAGE[until][k] - PASSAGE[from][k]))
}

/// Log-odds, held within what 10,000 outcomes could tell apart.
fn log_odds(chance: f64) -> f64 {
    let chance = chance.clamp(1e-4, 1.0 - 1e-4);
    (chance / (1.0 - chance)).ln()
}

fn sigmoid(log_odds: f64) -> f64 {
    1.0 / (1.0 + (-log_odds).exp())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nearer_and_faster_is_never_less_likely() {
        let paths: Passage = std::array::from_fn(|k| 0.03 * (k + 1) as f64);
        let none = [0.0; HOUR];
        let at = |above, rate| calibrated(&paths, &none, above, rate);
        for k in 0..HOUR {
            assert!(at(5.0, -1.0)[k] >= at(20.0, -1.0)[k] && at(20.0, -3.0)[k] >= at(20.0, -1.0)[k]);
            assert!(at(-1.0, 0.0)[k] >= at(0.0, 0.0)[k]);
        }
        assert!(at(5.0, -1.0).windows(2).all(|pair| pair[0] <= pair[1]));
        assert!(calibrated(&none, &paths, 30.0, 0.0)[11] >= paths[11] - BELOW_BAND);
        assert!(PASSAGE.iter().all(|[_, odds, distance, rate]| *odds > 0.0 && *distance < 0.0 && *rate <= 0.0));
    }
}
