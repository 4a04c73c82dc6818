//! Amounts as files write them.

use super::FindingCode;
use crate::units::{Glucose, GlucoseUnit, HIGHEST_MG_DL, LOWEST_MG_DL, MG_DL_PER_MMOL_L};

/// A cell of the readings' column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Amount {
    Empty,
    Number(f64),
    /// A word or sign for "below what the sensor reads".
    Low,
    /// A word or sign for "above what the sensor reads".
    High,
    NotANumber,
}

/// Reads a cell, without white space around it.
pub(super) fn read(text: &str) -> Amount {
    if text.is_empty() {
        return Amount::Empty;
    }
    if let Some(number) = number(text) {
        return Amount::Number(number);
    }
    match text.to_lowercase().as_str() {
        "low" | "lo" | "niedrig" | "tief" => Amount::Low,
        "high" | "hi" | "hoch" => Amount::High,
        "-" | "--" | "---" | "na" | "n/a" | "null" | "none" => Amount::Empty,
        other => match other.strip_prefix(['<', '>']).map(str::trim).and_then(number) {
            Some(_) if other.starts_with('<') => Amount::Low,
            Some(_) => Amount::High,
            None => Amount::NotANumber,
        },
    }
}

/// A finite number, with a point or a comma before its decimals and perhaps a unit behind it.
fn number(text: &str) -> Option<f64> {
    // `inf` and `nan` parse as numbers and are none.
    if !text.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '+' | '-' | '.' | ',')) {
        return None;
    }
    let parsed = |text: &str| text.parse::<f64>().ok().filter(|number| number.is_finite());
    parsed(text).or_else(|| {
        let lower = text.to_lowercase();
        let bare = ["mg/dl", "mmol/l"].iter().find_map(|unit| lower.strip_suffix(unit)).unwrap_or(&lower).trim_end();
        if bare.matches(',').count() == 1 && !bare.contains('.') {
            parsed(&bare.replace(',', "."))
        } else {
            parsed(bare)
        }
    })
}

pub(super) fn in_mg_dl(number: f64, unit: GlucoseUnit) -> f64 {
    match unit {
        GlucoseUnit::MgDl => number,
        GlucoseUnit::MmolL => number * MG_DL_PER_MMOL_L,
    }
}

/// A reading, or why there is none. An empty cell does not come here.
pub(super) fn judge(amount: Amount, unit: GlucoseUnit) -> Result<Glucose, FindingCode> {
    match amount {
        Amount::Number(number) => Glucose::new(number, unit).map_err(|_| {
            if Fit::of(number) == Fit::Only(other(unit)) { FindingCode::OtherUnit } else { FindingCode::OutOfRange }
        }),
        Amount::Low => Err(FindingCode::SaysLow),
        Amount::High => Err(FindingCode::SaysHigh),
        Amount::Empty | Amount::NotANumber => Err(FindingCode::NotANumber),
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
        let range = LOWEST_MG_DL..=HIGHEST_MG_DL;
        match (range.contains(&number), range.contains(&(number * MG_DL_PER_MMOL_L))) {
            (true, true) => Self::Both,
            (true, false) => Self::Only(GlucoseUnit::MgDl),
            (false, true) => Self::Only(GlucoseUnit::MmolL),
            (false, false) => Self::Neither,
        }
    }
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
