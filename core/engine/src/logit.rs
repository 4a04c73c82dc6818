//! Chances and their log-odds.

/// The log-odds of a chance, held within `least` and `1 - least`: what was never seen is not impossible.
#[must_use]
pub fn log_odds(chance: f64, least: f64) -> f64 {
    let chance = chance.clamp(least, 1.0 - least);
    (chance / (1.0 - chance)).ln()
}

/// The chance of log-odds.
#[must_use]
pub fn chance_of(log_odds: f64) -> f64 {
    1.0 / (1.0 + (-log_odds).exp())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_undoes_the_other_within_bounds() {
        for chance in [0.001, 0.2, 0.5, 0.93] {
            assert!((chance_of(log_odds(chance, 1e-4)) - chance).abs() < 1e-12);
        }
        assert!((chance_of(log_odds(0.0, 1e-3)) - 1e-3).abs() < 1e-12 && log_odds(1.0, 1e-3).is_finite());
    }
}
