//! Amounts as files write them.

use super::FindingCode;
use crate::log::{Instrument, Shown, Written, beyond_limit};
use crate::units::{Glucose, GlucoseUnit, MG_DL_PER_MMOL_L};

pub(super) fn in_mg_dl(number: f64, unit: GlucoseUnit) -> f64 {
    match unit {
        GlucoseUnit::MgDl => number,
        GlucoseUnit::MmolL => number * MG_DL_PER_MMOL_L,
    }
}

/// What the sensor showed, or why that is no reading. An empty cell does not come here.
pub(super) fn judge(amount: Written, unit: GlucoseUnit) -> Result<Shown, FindingCode> {
    let unfit = |number: f64| {
        if Fit::of(number) == Fit::Only(other(unit)) { FindingCode::OtherUnit } else { FindingCode::OutOfRange }
    };
    match amount {
        Written::Number(number) => Glucose::new(number, unit).map(Shown::from).map_err(|_| unfit(number)),
        Written::Beyond(beyond, limit) => beyond_limit(beyond, limit, unit, Instrument::Sensor)
            .map_err(|_| limit.map_or(FindingCode::OutOfRange, unfit)),
        Written::Empty | Written::NotANumber => Err(FindingCode::NotANumber),
    }
}

const fn other(unit: GlucoseUnit) -> GlucoseUnit {
    match unit {
        GlucoseUnit::MgDl => GlucoseUnit::MmolL,
        GlucoseUnit::MmolL => GlucoseUnit::MgDl,
    }
}

/// Which units a number could be in, by the range a log takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Fit {
    Neither,
    Both,
    Only(GlucoseUnit),
}

impl Fit {
    fn of(number: f64) -> Self {
        let fits = |unit| Glucose::new(number, unit).is_ok();
        match (fits(GlucoseUnit::MgDl), fits(GlucoseUnit::MmolL)) {
            (true, true) => Self::Both,
            (true, false) => Self::Only(GlucoseUnit::MgDl),
            (false, true) => Self::Only(GlucoseUnit::MmolL),
            (false, false) => Self::Neither,
        }
    }
}

/// Whether values in no unit that anybody named may be grams per litre: 400 mg/dL, the most that many sensors read, is 4.0 g/L, and
/// that as mmol/L would be a low.
pub(super) fn may_be_grams_per_litre(numbers: impl Iterator<Item = f64>) -> bool {
    const MOST_G_L: f64 = 4.0;
    let mut numbers: Vec<f64> = numbers.filter(|&number| Fit::of(number) == Fit::Only(GlucoseUnit::MmolL)).collect();
    numbers.sort_unstable_by(f64::total_cmp);
    numbers.get(numbers.len() / 2).is_some_and(|&middle| middle <= MOST_G_L)
}

/// What the values of a sample say about their unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sampled {
    /// Nine in ten of those that fit one unit only fit this one.
    Fits(GlucoseUnit),
    /// They fit both, or are mixed.
    Undecided,
    /// No value could be a reading in any unit.
    Nothing,
}

/// Asks a sample of values for its unit.
pub(super) fn sampled(numbers: impl Iterator<Item = f64>) -> Sampled {
    let (mut mg_dl, mut mmol_l, mut both) = (0_u32, 0_u32, 0_u32);
    for number in numbers {
        match Fit::of(number) {
            Fit::Only(GlucoseUnit::MgDl) => mg_dl += 1,
            Fit::Only(GlucoseUnit::MmolL) => mmol_l += 1,
            Fit::Both => both += 1,
            Fit::Neither => {}
        }
    }
    match (mg_dl, mmol_l) {
        (0, 0) if both == 0 => Sampled::Nothing,
        (0, 0) => Sampled::Undecided,
        (mg_dl, mmol_l) if mg_dl >= 9 * mmol_l => Sampled::Fits(GlucoseUnit::MgDl),
        (mg_dl, mmol_l) if mmol_l >= 9 * mg_dl => Sampled::Fits(GlucoseUnit::MmolL),
        _ => Sampled::Undecided,
    }
}
