//! How well sensor and meter agree, with intervals.

use serde::Serialize;

use super::grids::{Zone, clarke, parkes};
use super::pairs::Pair;
use crate::review::metrics::{Measured, Need, TooLittle};
use crate::statistics::{Mean, Share, median};

/// The limits that agreement is reported for: so many mg/dL where the meter showed under 100, else percent.
pub const LIMITS: [f64; 3] = [15.0, 20.0, 40.0];
/// Agreement is reported from this many pairs on; ours.
pub(crate) const FEWEST_TO_REPORT: usize = 5;

/// Agreement of a set of pairs.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
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
    /// [`TooLittle`] for fewer than five.
    pub fn of(pairs: &[Pair]) -> Measured<Self> {
        let too_little = TooLittle::of(Need::MeterPairs, pairs.len() as f64, FEWEST_TO_REPORT as f64);
        if pairs.len() < FEWEST_TO_REPORT {
            return Err(too_little);
        }
        let off: Vec<f64> = pairs.iter().map(Pair::off_mg_dl).collect();
        let allowed: Vec<f64> = pairs.iter().filter_map(Pair::off_lag_allowed_mg_dl).collect();
        let relative: Vec<f64> = pairs.iter().map(Pair::relative_percent).collect();
        let mard_percent = Mean::of(&relative).ok_or(too_little)?;
        let median_percent = median(&relative).ok_or(too_little)?;
        let count = |is: &dyn Fn(&Pair) -> bool| Share::of(pairs.iter().filter(|pair| is(pair)).count(), pairs.len());
        let zones = |grid: fn(f64, f64) -> Zone| {
            Zone::ALL.map(|zone| count(&|pair| grid(pair.meter_mg_dl, pair.sensor_mg_dl) == zone))
        };
        Ok(Self {
            pairs: pairs.len(),
            bias_mg_dl: Mean::of(&off).ok_or(too_little)?,
            bias_lag_allowed_mg_dl: (allowed.len() >= FEWEST_TO_REPORT).then(|| Mean::of(&allowed)).flatten(),
            mard_percent,
            median_percent,
            within: LIMITS.map(|limit| count(&|pair| pair.within(limit))),
            clarke: zones(clarke),
            parkes: zones(parkes),
        })
    }
}

/// Where the meter showed low, in range or high.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
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
        use crate::wearer::{HIGH_LINE_MG_DL, LOW_LINE_MG_DL};
        let is = |pair: &&Pair| match self {
            Self::Low => below(pair.meter_mg_dl, LOW_LINE_MG_DL),
            Self::InRange => !below(pair.meter_mg_dl, LOW_LINE_MG_DL) && !above(pair.meter_mg_dl, HIGH_LINE_MG_DL),
            Self::High => above(pair.meter_mg_dl, HIGH_LINE_MG_DL),
        };
        pairs.iter().filter(is).copied().collect()
    }
}
