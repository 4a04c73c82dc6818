//! Draws as NumPy's default generator makes them, so that what is injected here is what a check in Python injects.
//!
//! # Source
//! PCG XSL RR 128/64: O'Neill ME, "PCG: A Family of Simple Fast Space-Efficient Statistically Good Algorithms for Random
//! Number Generation", 2014. Whole numbers by Lemire's method: ACM Trans Model Comput Simul 2019;29:3. That NumPy uses these:
//! NumPy's documentation of `numpy.random.Generator` and NEP 19.

use rand_core::Rng;
use rand_pcg::Pcg64;

/// A generator that continues like `numpy.random.default_rng(seed)`.
#[derive(Clone, Debug)]
pub struct NumpyRng {
    pcg: Pcg64,
    spare: Option<u32>,
}

impl NumpyRng {
    /// `numpy.random.default_rng(5)`: the state is what `numpy.random.SeedSequence(5).generate_state(4, uint64)` gives.
    #[must_use]
    pub fn seeded_with_5() -> Self {
        let state = 0xaf4c_069d_0100_b467_3df5_9fb9_887e_bd60;
        let stream = 0x57b7_bdc6_49b5_5a52_2781_05bd_9688_11a6;
        Self { pcg: Pcg64::new(state, stream), spare: None }
    }

    /// A number from `low` to `high`, the latter left out.
    // The casts fit: 53 bits fit.
    pub fn uniform(&mut self, low: f64, high: f64) -> f64 {
        let unit = (self.pcg.next_u64() >> 11) as f64 * (1.0 / 9_007_199_254_740_992.0);
        low + (high - low) * unit
    }

    /// A whole number from `low` to `high`, the latter left out. `low` where there is none between.
    // The casts fit: the halves of a product.
    pub fn integer(&mut self, low: u32, high: u32) -> u32 {
        let span = high.saturating_sub(low);
        if span <= 1 {
            return low;
        }
        let mut product = u64::from(self.half()) * u64::from(span);
        if (product as u32) < span {
            let threshold = span.wrapping_neg() % span;
            while (product as u32) < threshold {
                product = u64::from(self.half()) * u64::from(span);
            }
        }
        low + (product >> 32) as u32
    }

    /// The next 32 bits: of each 64 the lower half first, the upper kept for the next call.
    fn half(&mut self) -> u32 {
        self.spare.take().unwrap_or_else(|| {
            let both = self.pcg.next_u64();
            self.spare = Some((both >> 32) as u32);
            both as u32
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Printed by NumPy 2.4.6 for the same calls on `default_rng(5)`.
    #[test]
    #[allow(clippy::float_cmp)] // the same bits or another generator
    fn draws_what_numpy_draws() {
        let mut rng = NumpyRng::seeded_with_5();
        assert_eq!(rng.uniform(0.25, 0.55), 0.491_500_877_123_614_1);
        assert_eq!([rng.integer(1, 4), rng.integer(3, 13), rng.integer(2, 5), rng.integer(0, 57)], [1, 11, 3, 29]);
        assert_eq!(rng.uniform(0.25, 0.55), 0.335_740_414_026_442_5);
        let six: Vec<u32> = (0..6).map(|_| rng.integer(0, 1000)).collect();
        assert_eq!(six, [979, 53, 277, 383, 571, 408]);
        assert_eq!(rng.uniform(0.0, 1.0), 0.045_275_193_902_445_166);
    }
}
