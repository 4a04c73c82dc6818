//! Many looks at one record as one question: how often would the strongest of them be as strong if there were nothing to see?
//!
//! # Method
//! Each look counts on how many of its occasions something happened, in the record as it is and in [`SHUFFLES`] shuffled copies. Looks
//! with different numbers of occasions are put on one scale by `n KL(h/n, e/n)`, where h is the count, n the occasions and e the mean
//! count over every copy that could be drawn: by Chernoff's bound a count so far above its mean has at most the chance exp of minus that. A look's
//! corrected chance is the share of copies in which the strongest of all looks is at least as strong as it.
//!
//! # Source
//! Westfall PH, Young SS, Resampling-Based Multiple Testing, Wiley 1993 (the maximum over all tests, single step); the share with the
//! record itself counted in: Phipson B, Smyth GK, Stat Appl Genet Mol Biol 2010;9:39. The bound holds for chances that differ from
//! occasion to occasion: Hoeffding W, J Am Stat Assoc 1963;58:13-30. All from memory.

/// How many shuffled copies; a corrected chance is a multiple of a thousandth.
pub const SHUFFLES: usize = 999;
/// On fewer days than these nothing is a pattern; ours.
const FEWEST_HITS: u16 = 3;

/// Looks whose copies are shuffled together: counts row by row, the record itself first.
pub(super) struct Block {
    /// How many occasions each look has, in every copy.
    pub of: Vec<u16>,
    /// The mean count of each look over every copy that could be drawn. It is worked out, not drawn: looks that are alike must weigh alike.
    pub expected: Vec<f64>,
    /// What is taken off the strength of each: the higher, the surer these looks must be to be reported.
    pub handicap: f64,
    /// `SHUFFLES + 1` rows of one count for each look.
    pub hits: Vec<u16>,
}

/// What a look came to.
#[derive(Clone, Copy)]
pub(super) struct Weighed {
    /// Its place in its block.
    pub look: usize,
    /// Occasions on which it happened.
    pub hits: u16,
    /// Occasions.
    pub of: u16,
    /// The mean count over every copy that could be drawn.
    pub expected: f64,
    /// How far the count is above that, on the scale that all looks share.
    pub strength: f64,
    /// What of it is taken off.
    handicap: f64,
}

impl Weighed {
    /// The same look with another count.
    pub fn with(self, hits: u16) -> Self {
        Self { hits, strength: (strength(hits, self.of, self.expected) - self.handicap).max(0.0), ..self }
    }
}

impl Block {
    /// Weighs the looks and raises `strongest`, one place for each copy, to the strongest look of this block.
    pub fn weigh(&self, strongest: &mut [f64]) -> Vec<Weighed> {
        let looks = self.of.len();
        if looks == 0 {
            return Vec::new();
        }
        let mut most = vec![0_u16; looks];
        for row in self.hits.chunks_exact(looks) {
            most.iter_mut().zip(row).for_each(|(most, hits)| *most = (*most).max(*hits));
        }
        // Each strength that is asked for, worked out once: a look has few different counts and many copies.
        let mut begins = Vec::with_capacity(looks);
        let mut table = Vec::new();
        for ((of, expected), most) in self.of.iter().zip(&self.expected).zip(&most) {
            begins.push(table.len());
            table.extend((0..=*most).map(|hits| (strength(hits, *of, *expected) - self.handicap).max(0.0)));
        }
        let of_row =
            |row: &[u16], look: usize| table.get(begins[look] + usize::from(row[look])).copied().unwrap_or(0.0);
        for (strongest, row) in strongest.iter_mut().zip(self.hits.chunks_exact(looks)) {
            *strongest = (0..looks).map(|look| of_row(row, look)).fold(*strongest, f64::max);
        }
        let record = self.hits.get(..looks).unwrap_or_default();
        (0..looks)
            .filter(|_| record.len() == looks)
            .map(|look| Weighed {
                look,
                hits: record[look],
                of: self.of[look],
                expected: self.expected[look],
                strength: of_row(record, look),
                handicap: self.handicap,
            })
            .collect()
    }
}

/// The share of copies whose strongest look is at least this strong; the record is one of them.
pub(super) fn corrected_p(strength: f64, strongest: &[f64]) -> f64 {
    // Equal counts give equal strengths up to rounding.
    let as_strong = strongest.iter().filter(|other| **other >= strength - 1e-9).count();
    as_strong as f64 / strongest.len().max(1) as f64
}

/// `n KL(h/n, e/n)` for a count above its mean; 0 otherwise, and below [`FEWEST_HITS`].
fn strength(hits: u16, of: u16, expected: f64) -> f64 {
    let (h, n) = (f64::from(hits), f64::from(of));
    if hits < FEWEST_HITS || h <= expected || expected <= 0.0 {
        return 0.0;
    }
    let without = n - h;
    let rest = if without > 0.0 { without * (without / (n - expected)).ln() } else { 0.0 };
    h * (h / expected).ln() + rest
}

/// Numbers that are the same on every platform and in every run, so that a review says the same each time it is opened.
///
/// # Source
/// SplitMix64: Steele GL, Lea D, Flood CH, OOPSLA 2014 (constants from memory).
pub(super) struct Random(u64);

impl Random {
    pub const fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number from 0 up to but without `end`; 0 where there is none. Its bias is below `end` in 2^32.
    pub fn below(&mut self, end: usize) -> usize {
        (((self.next() >> 32) * end as u64) >> 32) as usize
    }

    /// Brings a slice into random order (Fisher and Yates).
    pub fn shuffle<T>(&mut self, all: &mut [T]) {
        for last in (1..all.len()).rev() {
            all.swap(last, self.below(last + 1));
        }
    }
}
