//! The scan over the clock: at which hours something comes on more days than it would if it had no hour.
//!
//! # Method
//! A date has 48 bins of half an hour by the wearer's clock. A bin holds whether
//! something was there, and whether readings cover it. A window starts at any bin, lasts one of [`LENGTHS`], and may run over
//! midnight; it counts on the days on which readings cover it, and is hit on those on which something was there.
//!
//! The null is "has no preferred hour". Under it each day's clock might as well have started at any other hour, so a shuffled copy
//! turns each day by a random number of bins, independent of the other days. What hangs together within a day (one low after another,
//! a long one) stays together. Only the bins that readings cover are turned, among themselves: hours without a sensor stay so. Permuting
//! whole days would be wrong here: it leaves each hour where it is.
//!
//! # Source
//! Windows of several lengths under one test: Kulldorff M, Commun Stat Theory Methods 1997;26:1481-1496 (from memory).

use super::family::{Block, Random, SHUFFLES};

/// Bins of a day.
pub const BINS: usize = 48;
/// Minutes of a bin.
pub const BIN_MINUTES: u16 = 30;
/// The lengths of windows, in bins: half an hour to 8 hours.
pub const LENGTHS: [usize; 7] = [1, 2, 4, 6, 8, 12, 16];
/// A window counts on a day if readings cover this share of its bins (as a day: `metrics::swings::DAY_COVERED`).
const COVERED: f64 = 0.7;
const ALL: u64 = (1 << BINS) - 1;
/// Bits of a count of days; [`super::MOST_DAYS`] fits.
const PLANES: usize = 9;

/// One date in half hours; bit 0 begins at midnight.
#[derive(Clone, Copy, Default)]
pub(super) struct Day {
    /// Bins that readings cover.
    pub covered: u64,
    /// Bins in which something was there; each of them is covered.
    pub there: u64,
}

/// The window of a look: its first bin and its length in bins.
pub(super) const fn window(look: usize) -> (usize, usize) {
    (look % BINS, LENGTHS[look / BINS])
}

/// Two days as one stretch, the later above.
pub(super) fn two(day: u64, next: u64) -> u128 {
    u128::from(day) | u128::from(next) << BINS
}

/// For each length, the bins at which a window of that length that covers a set bit starts.
fn starts(there: u128) -> [u64; LENGTHS.len()] {
    let two = there | there >> 1;
    let four = two | two >> 2;
    let eight = four | four >> 4;
    let [six, twelve, sixteen] = [four | two >> 4, eight | four >> 8, eight | eight >> 8];
    [there, two, four, six, eight, twelve, sixteen].map(|bits| (bits & u128::from(ALL)) as u64)
}

/// Counts of days for 48 starts at once: the planes hold the binary digits.
#[derive(Clone, Copy, Default)]
struct Counts([u64; PLANES]);

impl Counts {
    fn add(&mut self, mut carry: u64) {
        for plane in &mut self.0 {
            if carry == 0 {
                return;
            }
            (*plane, carry) = (*plane ^ carry, *plane & carry);
        }
    }

    fn at(&self, start: usize) -> u16 {
        self.0.iter().enumerate().map(|(digit, plane)| ((plane >> start & 1) as u16) << digit).sum()
    }
}

fn write(counts: &[Counts; LENGTHS.len()], row: &mut Vec<u16>) {
    counts.iter().for_each(|counts| row.extend((0..BINS).map(|start| counts.at(start))));
}

/// A day ready to be turned.
enum Turning {
    /// Nothing was there, or always: every turn looks the same.
    Still(u64),
    /// All bins are covered: bits go round.
    Whole(u64),
    /// Only these bins are covered: what was there goes round among them.
    Among(Vec<u8>, u64),
}

impl Turning {
    fn of(day: &Day) -> Self {
        if day.there == 0 || day.there == day.covered {
            return Self::Still(day.there);
        }
        if day.covered == ALL {
            return Self::Whole(day.there);
        }
        let bins: Vec<u8> = (0..BINS as u8).filter(|bin| day.covered >> bin & 1 == 1).collect();
        let packed = bins.iter().enumerate().fold(0, |bits, (place, bin)| bits | (day.there >> bin & 1) << place);
        Self::Among(bins, packed)
    }

    /// How many turns there are.
    fn turns(&self) -> usize {
        match self {
            Self::Still(_) => 1,
            Self::Whole(_) => BINS,
            Self::Among(bins, _) => bins.len(),
        }
    }

    /// The day turned by so many bins, below [`Turning::turns`].
    fn by(&self, by: usize) -> u64 {
        match self {
            Self::Still(there) => *there,
            Self::Whole(there) => round(*there, by, BINS),
            Self::Among(bins, packed) => {
                let mut left = round(*packed, by, bins.len());
                let mut there = 0;
                while left != 0 {
                    there |= 1 << bins[left.trailing_zeros() as usize];
                    left &= left - 1;
                }
                there
            }
        }
    }
}

/// The mean count of each window over all turns of all days.
fn expected(days: &[Day], eligible: &Eligible) -> Vec<f64> {
    // For each day the chance that a window that starts on it covers what is there, and that one that started the day before does.
    let chances = |day: &Day| {
        let turning = Turning::of(day);
        let mut met = [[Counts::default(); 2]; LENGTHS.len()];
        for by in 0..turning.turns() {
            let there = turning.by(by);
            let (own, next) = (starts(two(there, 0)), starts(two(0, there)));
            for (met, (own, next)) in met.iter_mut().zip(own.into_iter().zip(next)) {
                met[0].add(own);
                met[1].add(next);
            }
        }
        (met, turning.turns() as f64)
    };
    let of_days: Vec<_> = days.iter().map(|day| (day.there != 0).then(|| chances(day))).collect();
    let chance = |place: usize, length: usize, start: usize, next: usize| {
        let found = of_days.get(place).and_then(Option::as_ref);
        found.map_or(0.0, |(met, turns)| f64::from(met[length][next].at(start)) / turns)
    };
    let mut all = Vec::with_capacity(LENGTHS.len() * BINS);
    for (length, _) in LENGTHS.iter().enumerate() {
        for start in 0..BINS {
            let covered = |place: &usize| eligible.get(*place).is_some_and(|starts| starts[length] >> start & 1 == 1);
            let counts = (0..days.len()).filter(covered);
            let meets = |place: usize| {
                1.0 - (1.0 - chance(place, length, start, 0)) * (1.0 - chance(place + 1, length, start, 1))
            };
            all.push(counts.map(meets).sum());
        }
    }
    all
}

/// The lowest `width` bits, turned up by `by`, which is below `width`.
const fn round(bits: u64, by: usize, width: usize) -> u64 {
    (bits << by | bits >> (width - by)) & ((1 << width) - 1)
}

/// The days without what hangs together with a window's bins: each run of bins that reaches into it.
pub(super) fn without(days: &[Day], start: usize, length: usize) -> Vec<Day> {
    let mut flat: Vec<bool> = days.iter().flat_map(|day| (0..BINS).map(|bin| day.there >> bin & 1 == 1)).collect();
    let inside = |place: usize| (place + BINS - start) % BINS < length;
    let mut begin = 0;
    while begin < flat.len() {
        let run = flat[begin..].iter().take_while(|there| **there).count();
        if (begin..begin + run).any(inside) {
            flat[begin..begin + run].fill(false);
        }
        begin += run.max(1);
    }
    let there =
        flat.chunks_exact(BINS).map(|day| day.iter().rev().fold(0, |bits, there| bits << 1 | u64::from(*there)));
    days.iter().zip(there).map(|(day, there)| Day { there, ..*day }).collect()
}

/// For each day and each length, the bins at which a window starts that readings cover.
pub(super) type Eligible = Vec<[u64; LENGTHS.len()]>;

/// Which windows readings cover. Days follow each other; one without readings is empty.
pub(super) fn eligible(days: &[Day]) -> Eligible {
    let of_day = |(place, day): (usize, &Day)| {
        let covered = two(day.covered, days.get(place + 1).map_or(0, |next| next.covered));
        LENGTHS.map(|length| {
            let need = (COVERED * length as f64).ceil() as u32;
            let holds = |start: &usize| (covered >> start & ((1 << length) - 1)).count_ones() >= need;
            (0..BINS).filter(holds).fold(0, |bits, start| bits | 1 << start)
        })
    };
    days.iter().enumerate().map(of_day).collect()
}

/// The days on which a look's window counts and was hit: their places, and the bins that were hit over two days.
pub(super) fn hits(days: &[Day], eligible: &Eligible, look: usize) -> Vec<(usize, u128)> {
    let (start, length) = window(look);
    let bins: u128 = ((1 << length) - 1) << start;
    let there = |place: usize| days.get(place).map_or(0, |day| day.there);
    (0..days.len())
        .filter(|place| eligible[*place][look / BINS] >> start & 1 == 1)
        .map(|place| (place, two(there(place), there(place + 1)) & bins))
        .filter(|(_, there)| *there != 0)
        .collect()
}

/// Counts the days of every window, in the record and in each shuffled copy.
pub(super) fn scan(days: &[Day], eligible: &Eligible, handicap: f64, random: &mut Random) -> Block {
    let mut of = [Counts::default(); LENGTHS.len()];
    for day in eligible {
        of.iter_mut().zip(day).for_each(|(counts, starts)| counts.add(*starts));
    }
    let mut block =
        Block { of: Vec::with_capacity(LENGTHS.len() * BINS), expected: Vec::new(), handicap, hits: Vec::new() };
    write(&of, &mut block.of);
    block.expected = expected(days, eligible);
    if days.iter().all(|day| day.there == 0) {
        block.hits = vec![0; block.of.len() * (SHUFFLES + 1)];
        return block;
    }
    block.hits.reserve(block.of.len() * (SHUFFLES + 1));
    let turning: Vec<Turning> = days.iter().map(Turning::of).collect();
    let mut there: Vec<u64> = days.iter().map(|day| day.there).collect();
    for copy in 0..=SHUFFLES {
        if copy > 0 {
            there.iter_mut().zip(&turning).for_each(|(there, day)| *there = day.by(random.below(day.turns())));
        }
        let mut counts = [Counts::default(); LENGTHS.len()];
        for (place, eligible) in eligible.iter().enumerate() {
            let both = two(there[place], there.get(place + 1).copied().unwrap_or_default());
            if both != 0 {
                let hit = starts(both);
                counts.iter_mut().zip(hit).zip(eligible).for_each(|((counts, hit), may)| counts.add(hit & may));
            }
        }
        write(&counts, &mut block.hits);
    }
    block
}
