//! An amount as people and devices write it.

use ebbstead_engine::Result;

use crate::log::{Beyond, Instrument, Shown};
use crate::units::{Glucose, GlucoseUnit};

/// Reads what an instrument shows in place of an amount, as people type it: a word for too low or too high (`LO`, `low`, `HI`,
/// `high` and the German ones), or a limit in this unit (`< 40`, `>400`). Nothing for any other text, amounts included.
///
/// # Errors
/// [`ebbstead_engine::Error::OutOfRange`] as [`Glucose::new`] and [`Shown::check`].
pub fn typed_beyond(text: &str, unit: GlucoseUnit, instrument: Instrument) -> Result<Option<Shown>> {
    match Written::read(text.trim()) {
        Written::Beyond(beyond, limit) => beyond_limit(beyond, limit, unit, instrument).map(Some),
        Written::Number(_) | Written::Empty | Written::NotANumber => Ok(None),
    }
}

/// Beyond a limit in this unit, or the usual one where none is said.
pub(crate) fn beyond_limit(
    beyond: Beyond,
    limit: Option<f64>,
    unit: GlucoseUnit,
    instrument: Instrument,
) -> Result<Shown> {
    let glucose = limit.map_or(Ok(instrument.limit(beyond)), |limit| Glucose::new(limit, unit))?;
    let shown = Shown { glucose, beyond: Some(beyond) };
    shown.check()?;
    Ok(shown)
}

/// What a text in the place of an amount says, before its unit is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Written {
    Empty,
    Number(f64),
    /// Beyond what was measured, and the limit where it is said.
    Beyond(Beyond, Option<f64>),
    NotANumber,
}

impl Written {
    /// Reads a text without white space around it.
    pub(crate) fn read(text: &str) -> Self {
        if text.is_empty() {
            return Self::Empty;
        }
        if let Some(number) = number(text) {
            return Self::Number(number);
        }
        match text.to_lowercase().as_str() {
            "low" | "lo" | "niedrig" | "tief" => Self::Beyond(Beyond::Below, None),
            "high" | "hi" | "hoch" => Self::Beyond(Beyond::Above, None),
            "-" | "--" | "---" | "na" | "n/a" | "null" | "none" => Self::Empty,
            other => {
                let (sign, limit) = (other.chars().next(), other.trim_start_matches(['<', '>']));
                // One sign, perhaps with an equals sign: at a limit as good as beyond it.
                let limit = limit.strip_prefix('=').unwrap_or(limit).trim();
                match (sign, number(limit).filter(|_| other.matches(['<', '>']).count() == 1)) {
                    (Some('<'), Some(limit)) => Self::Beyond(Beyond::Below, Some(limit)),
                    (Some('>'), Some(limit)) => Self::Beyond(Beyond::Above, Some(limit)),
                    _ => Self::NotANumber,
                }
            }
        }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_instruments_show_in_place_of_an_amount() {
        let meter = |text: &str| typed_beyond(text, GlucoseUnit::MgDl, Instrument::Meter);
        let beyond =
            |mg_dl: f64, beyond| Some(Shown { glucose: Glucose::from_mg_dl(mg_dl).unwrap(), beyond: Some(beyond) });
        for text in ["LO", "lo", " Low ", "niedrig", "<20", "< 20 mg/dL", "<=20"] {
            assert_eq!(meter(text).unwrap(), beyond(20.0, Beyond::Below), "{text}");
        }
        for text in ["HI", "hi", "High", "hoch", "> 600"] {
            assert_eq!(meter(text).unwrap(), beyond(600.0, Beyond::Above), "{text}");
        }
        let sensor = |text: &str| typed_beyond(text, GlucoseUnit::MmolL, Instrument::Sensor);
        assert_eq!(sensor("LOW").unwrap(), beyond(40.0, Beyond::Below));
        assert_eq!(sensor("HIGH").unwrap(), beyond(400.0, Beyond::Above));
        assert_eq!(sensor("<2,2").unwrap(), beyond(2.2 * crate::units::MG_DL_PER_MMOL_L, Beyond::Below));
        for text in ["", "-", "104", "lowest", "<", "<<40", "<>40", "< low", "low 40"] {
            assert_eq!(meter(text).unwrap(), None, "{text}");
        }
        for text in ["<100", ">100", "<10", "> 700"] {
            assert!(meter(text).is_err(), "{text}");
        }
    }
}
