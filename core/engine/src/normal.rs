//! The normal distribution, as the library has it.

use std::f64::consts::SQRT_2;

use statrs::function::erf::{erf_inv, erfc};

/// The chance that what is normally distributed is below a number. Without any spread it is below or it isn't.
#[must_use]
pub fn below(number: f64, mean: f64, sd: f64) -> f64 {
    if sd > 0.0 { 0.5 * erfc((mean - number) / (sd * SQRT_2)) } else { f64::from(u8::from(mean < number)) }
}

/// The number of standard deviations that a chance lies below, for chances above 0 and below 1.
#[must_use]
pub fn quantile(chance: f64) -> f64 {
    SQRT_2 * erf_inv(2.0 * chance - 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: any table of the standard normal distribution.
    #[test]
    fn the_tables_numbers() {
        for (deviations, chance) in [(0.0, 0.5), (1.0, 0.841_345), (1.959_964, 0.975), (-2.326_348, 0.01)] {
            assert!((below(70.0 + 10.0 * deviations, 70.0, 10.0) - chance).abs() < 1e-6);
            assert!((quantile(chance) - deviations).abs() < 1e-4);
        }
        assert!(below(70.0, 69.0, 0.0) > 0.999 && below(70.0, 70.0, 0.0) < 0.001);
    }
}
