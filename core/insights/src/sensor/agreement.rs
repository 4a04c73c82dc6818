//! How well sensor and meter agree, with intervals.

use statrs::distribution::{Beta, ContinuousCDF, StudentsT};

use super::grids::{Zone, clarke, parkes};
use super::pairs::Pair;
use crate::review::metrics::{Measured, Need, TooLittle};

/// A mean and where it lies with 95 % confidence.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mean {
    /// The mean.
    pub value: f64,
    /// The lower end.
    pub low: f64,
    /// The upper end.
    pub high: f64,
}

impl Mean {
    /// The mean of at least two values, with Student's t interval.
    ///
    /// Pairs of one sensor resemble each other, so the true interval is wider; this holds for [`Share`] too.
    pub(super) fn of(values: &[f64]) -> Option<Self> {
        let count = values.len() as f64;
        let value = values.iter().sum::<f64>() / count;
        let variance = values.iter().map(|one| (one - value).powi(2)).sum::<f64>() / (count - 1.0);
        let t = StudentsT::new(0.0, 1.0, count - 1.0).ok()?.inverse_cdf(0.975);
        let reach = t * (variance / count).sqrt();
        Some(Self { value, low: value - reach, high: value + reach })
    }
}

/// A share of pairs and where it lies with 95 % confidence.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// How many.
    pub hits: usize,
    /// Of how many.
    pub of: usize,
    /// The lower end, 0 to 1 (Clopper-Pearson).
    pub low: f64,
    /// The upper end, 0 to 1.
    pub high: f64,
}

impl Share {
    pub(crate) fn of(hits: usize, of: usize) -> Self {
        let (low, high) = clopper_pearson(hits, of, 0.025);
        Self { hits, of, low, high }
    }

    /// The share, 0 to 1.
    #[must_use]
    pub fn value(&self) -> f64 {
        self.hits as f64 / self.of.max(1) as f64
    }
}

/// The exact interval of a share that leaves `tail` out on either side: `tail` 0.025 for 95 %.
///
/// # Source
/// Clopper CJ, Pearson ES, Biometrika 1934;26:404-413, as quantiles of the beta distribution.
#[must_use]
pub fn clopper_pearson(hits: usize, of: usize, tail: f64) -> (f64, f64) {
    let hits = hits.min(of);
    let quantile = |a: usize, b: usize, at: f64| Beta::new(a as f64, b as f64).ok().map(|beta| beta.inverse_cdf(at));
    let low = if hits == 0 { None } else { quantile(hits, of - hits + 1, tail) };
    let high = if hits == of { None } else { quantile(hits + 1, of - hits, 1.0 - tail) };
    (low.unwrap_or(0.0), high.unwrap_or(1.0))
}

/// The limits that agreement is told for: so many mg/dL where the meter showed under 100, else percent.
pub const LIMITS: [f64; 3] = [15.0, 20.0, 40.0];
/// Agreement is told from this many pairs on; ours.
pub const FEWEST_PAIRS: usize = 5;

/// Agreement of a set of pairs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Agreement {
    /// How many pairs.
    pub pairs: usize,
    /// Sensor minus meter, in mg/dL: positive where the sensor reads high.
    pub bias_mg_dl: Mean,
    /// The same with the lag allowed for, over the pairs whose rate is known, if they are enough.
    pub bias_lag_allowed_mg_dl: Option<Mean>,
    /// Mean absolute relative difference, in percent of the meter.
    pub mard_percent: Mean,
    /// The median of the absolute relative differences, in percent.
    pub median_percent: f64,
    /// Within each of [`LIMITS`]. The first is the limit ISO 15197:2013 holds meters to (95 % within), a bar that sensors
    /// are not made for.
    pub within: [Share; LIMITS.len()],
    /// Pairs in each of [`Zone::ALL`] of the Clarke grid.
    pub clarke: [Share; 5],
    /// Pairs in each of [`Zone::ALL`] of the Parkes grid.
    pub parkes: [Share; 5],
}

impl Agreement {
    /// Compares pairs.
    ///
    /// # Errors
    /// [`TooLittle`] for fewer than [`FEWEST_PAIRS`].
    pub fn of(pairs: &[Pair]) -> Measured<Self> {
        let too_little = TooLittle::of(Need::MeterPairs, pairs.len() as f64, FEWEST_PAIRS as f64);
        if pairs.len() < FEWEST_PAIRS {
            return Err(too_little);
        }
        let off: Vec<f64> = pairs.iter().map(Pair::off_mg_dl).collect();
        let allowed: Vec<f64> = pairs.iter().filter_map(Pair::off_lag_allowed_mg_dl).collect();
        let mut relative: Vec<f64> = pairs.iter().map(Pair::relative_percent).collect();
        let mard_percent = Mean::of(&relative).ok_or(too_little)?;
        relative.sort_by(f64::total_cmp);
        let middle = relative.len() / 2;
        let median_percent =
            if relative.len() % 2 == 1 { relative[middle] } else { (relative[middle - 1] + relative[middle]) / 2.0 };
        let count = |is: &dyn Fn(&Pair) -> bool| Share::of(pairs.iter().filter(|pair| is(pair)).count(), pairs.len());
        let zones = |grid: fn(f64, f64) -> Zone| {
            Zone::ALL.map(|zone| count(&|pair| grid(pair.meter_mg_dl, pair.sensor_mg_dl) == zone))
        };
        Ok(Self {
            pairs: pairs.len(),
            bias_mg_dl: Mean::of(&off).ok_or(too_little)?,
            bias_lag_allowed_mg_dl: (allowed.len() >= FEWEST_PAIRS).then(|| Mean::of(&allowed)).flatten(),
            mard_percent,
            median_percent,
            within: LIMITS.map(|limit| count(&|pair| pair.within(limit))),
            clarke: zones(clarke),
            parkes: zones(parkes),
        })
    }
}

/// Where the meter showed low, in range or high.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MeterRange {
    /// Below 70 mg/dL.
    Low,
    /// 70 to 180 mg/dL.
    InRange,
    /// Above 180 mg/dL.
    High,
}

impl MeterRange {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Low, Self::InRange, Self::High];

    /// The pairs whose meter check is in it.
    #[must_use]
    pub fn of(self, pairs: &[Pair]) -> Vec<Pair> {
        use crate::review::metrics::ranges::{above, below};
        let is = |pair: &&Pair| match self {
            Self::Low => below(pair.meter_mg_dl, 70.0),
            Self::InRange => !below(pair.meter_mg_dl, 70.0) && !above(pair.meter_mg_dl, 180.0),
            Self::High => above(pair.meter_mg_dl, 180.0),
        };
        pairs.iter().filter(is).copied().collect()
    }
}
