//! How good stated chances and forecasts are. Checked against scikit-learn by `reference/scores_reference.py`.

use serde::Serialize;

use crate::rng::NumpyRng;

/// Root of the mean square of the differences.
#[must_use]
pub fn rmse(pairs: impl IntoIterator<Item = (f64, f64)>) -> f64 {
    let (sum, count) =
        pairs.into_iter().fold((0.0, 0.0), |(sum, count), (a, b)| (sum + (a - b) * (a - b), count + 1.0));
    (sum / count).sqrt()
}

/// Area under the receiver operating characteristic: the chance that what happened was given a higher chance than what did
/// not, ties counting half. Nothing where all or none of it happened.
#[must_use]
// The casts fit: counts of readings.
pub fn auc(chances: &[f64], happened: &[bool]) -> Option<f64> {
    let mut order: Vec<usize> = (0..chances.len()).collect();
    order.sort_by(|a, b| chances[*a].total_cmp(&chances[*b]));
    let positives = happened.iter().filter(|happened| **happened).count() as f64;
    let negatives = chances.len() as f64 - positives;
    if positives < 0.5 || negatives < 0.5 {
        return None;
    }
    let (mut first, mut rank_sum) = (0, 0.0);
    while first < order.len() {
        let mut end = first + 1;
        while end < order.len() && chances[order[end]].total_cmp(&chances[order[first]]).is_eq() {
            end += 1;
        }
        // Ranks count from 1; those tied share their mean.
        let rank = (first + 1 + end) as f64 / 2.0;
        rank_sum += rank * order[first..end].iter().filter(|one| happened[**one]).count() as f64;
        first = end;
    }
    Some((rank_sum - positives * (positives + 1.0) / 2.0) / (positives * negatives))
}

/// Mean square of chance less outcome (Brier 1950).
#[must_use]
pub fn brier(chances: &[f64], happened: &[bool]) -> f64 {
    let outcome = |happened: &bool| f64::from(u8::from(*happened));
    rmse(chances.iter().copied().zip(happened.iter().map(outcome))).powi(2)
}

/// One group of a reliability diagram.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Group {
    /// How many stated chances fell in it.
    pub count: usize,
    /// Their mean.
    pub said: f64,
    /// The share of them that came.
    pub came: f64,
}

/// Stated chances in `groups` groups of equal width, empty ones left out.
#[must_use]
// The casts fit: chances are 0 to 1.
pub fn reliability(chances: &[f64], happened: &[bool], groups: usize) -> Vec<Group> {
    let group = |chance: f64| ((chance * groups as f64) as usize).min(groups - 1);
    (0..groups)
        .filter_map(|which| {
            let inside: Vec<usize> = (0..chances.len()).filter(|one| group(chances[*one]) == which).collect();
            let mean = |of: &dyn Fn(usize) -> f64| inside.iter().map(|one| of(*one)).sum::<f64>() / inside.len() as f64;
            (!inside.is_empty()).then(|| Group {
                count: inside.len(),
                said: mean(&|one| chances[one]),
                came: mean(&|one| f64::from(u8::from(happened[one]))),
            })
        })
        .collect()
}

/// Expected calibration error over ten groups of equal width.
#[must_use]
pub fn ece(chances: &[f64], happened: &[bool]) -> f64 {
    let part = |group: &Group| group.count as f64 / chances.len() as f64 * (group.came - group.said).abs();
    reliability(chances, happened, 10).iter().map(part).sum()
}

/// What the expected calibration error of these chances would be if they were right, by drawing their outcomes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct IfRight {
    /// The mean over the draws.
    pub ece: f64,
    /// What one draw in twenty goes beyond.
    pub ece_95: f64,
}

/// Draws an outcome for every chance, many times over. Few chances are never off by nothing: this is the floor beneath which an
/// expected calibration error shows nothing. Outcomes are drawn independently; those of falls that overlap are not, so the true
/// floor is higher.
#[must_use]
pub fn if_right(chances: &[f64], draws: usize) -> Option<IfRight> {
    let mut random = NumpyRng::seeded_with_5();
    let mut draw = || {
        let happened: Vec<bool> = chances.iter().map(|chance| random.uniform(0.0, 1.0) < *chance).collect();
        ece(chances, &happened)
    };
    let drawn: Vec<f64> = (0..draws).map(|_| draw()).collect();
    let mean = drawn.iter().sum::<f64>() / draws as f64;
    Some(IfRight { ece: mean, ece_95: quantile(drawn, 0.95)? })
}

/// The quantile of a list by linear interpolation, as NumPy's default. Nothing for an empty list.
#[must_use]
pub fn quantile(mut values: Vec<f64>, share: f64) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let place = share * values.len().checked_sub(1)? as f64;
    let (below, above) = (values[place.floor() as usize], values[place.ceil() as usize]);
    let part = place.fract();
    // NumPy interpolates from the nearer end, which decides the last bit.
    Some(if part < 0.5 { below + (above - below) * part } else { above - (above - below) * (1.0 - part) })
}

/// Of all readings whose chance is high enough to find nine in ten lows, the share after which no low came.
#[must_use]
pub fn false_share_at_90(chances: &[f64], happened: &[bool]) -> f64 {
    let of_lows = chances.iter().zip(happened).filter(|(_, happened)| **happened).map(|(chance, _)| *chance).collect();
    let cut = quantile(of_lows, 0.10).unwrap_or(1.0);
    let called: Vec<bool> =
        chances.iter().zip(happened).filter(|(chance, _)| **chance >= cut).map(|(_, happened)| *happened).collect();
    1.0 - called.iter().filter(|happened| **happened).count() as f64 / called.len() as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    const CHANCES: [f64; 6] = [0.1, 0.4, 0.35, 0.8, 0.8, 0.05];
    const HAPPENED: [bool; 6] = [false, false, true, true, false, false];

    #[test]
    fn auc_counts_pairs_and_half_of_ties() {
        // Pairs (came, did not): 0.35 beats 0.1 and 0.05, 0.8 beats 0.1, 0.4, 0.05 and ties 0.8.
        assert!((auc(&CHANCES, &HAPPENED).unwrap() - 5.5 / 8.0).abs() < 1e-12);
        assert!(auc(&CHANCES, &[true; 6]).is_none());
    }

    #[test]
    fn honest_chances_have_no_calibration_error() {
        let chances = [0.25; 8];
        let happened: Vec<bool> = (0..8).map(|k| k % 4 == 0).collect();
        assert!(ece(&chances, &happened) < 1e-12);
        assert!((ece(&[0.9; 8], &happened) - 0.65).abs() < 1e-12);
        assert!((brier(&chances, &happened) - 0.1875).abs() < 1e-12);
    }

    /// One group of n chances p: the mean of |came - p| is about sqrt(2/pi) sqrt(p (1 - p) / n), the half-normal's mean.
    #[test]
    fn right_chances_are_off_by_what_sampling_makes() {
        let (count, chance) = (400, 0.25);
        let found = if_right(&vec![chance; count], 2000).unwrap();
        let sd = (chance * (1.0 - chance) / count as f64).sqrt();
        assert!((found.ece / ((2.0 / std::f64::consts::PI).sqrt() * sd) - 1.0).abs() < 0.05, "{found:?}");
        assert!((found.ece_95 / (1.96 * sd) - 1.0).abs() < 0.08, "{found:?}");
        // Shares and floors shrink as the square root of the count.
        assert!(if_right(&vec![chance; 4 * count], 2000).unwrap().ece < 0.55 * found.ece);
    }

    #[test]
    fn a_quantile_lies_between() {
        assert_eq!(quantile(vec![3.0, 1.0, 2.0], 0.10), Some(1.2));
        assert_eq!(quantile(Vec::new(), 0.5), None);
    }
}
