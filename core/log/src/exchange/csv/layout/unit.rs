//! The unit that a name or a cell contains.

use super::names::words;
use crate::units::GlucoseUnit;

/// A unit of concentration that a name or a cell contains.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Named {
    Known(GlucoseUnit),
    /// As it is written.
    Another(String),
}

/// The unit a text in lower case contains.
pub(super) fn unit_in(text: &str) -> Option<Named> {
    const AMOUNTS: [&str; 24] = [
        "g", "gr", "gram", "grams", "gramm", "gramme", "grammes", "gramos", "dg", "cg", "mg", "ug", "µg", "μg", "mcg",
        "ng", "kg", "mol", "mmol", "umol", "µmol", "μmol", "nmol", "meq",
    ];
    const VOLUMES: [&str; 11] = ["l", "dl", "cl", "ml", "ul", "100ml", "litre", "liter", "litro", "mol", "m3"];
    const JOINED: [&str; 6] = ["mgml", "dgl", "mgl", "umoll", "µmoll", "gdl"];
    let known = |unit| Some(Named::Known(unit));
    let parts: Vec<&str> = words(text).filter(|word| !["per", "pro", "por", "par"].contains(word)).collect();
    let pair = parts.windows(2).find(|pair| AMOUNTS.contains(&pair[0]) && VOLUMES.contains(&pair[1]));
    if let Some([amount, volume]) = pair {
        return match (*amount, *volume) {
            ("mmol", "l" | "litre" | "liter" | "litro") => known(GlucoseUnit::MmolL),
            ("mg", "dl" | "100ml") => known(GlucoseUnit::MgDl),
            _ => Some(Named::Another(format!("{amount}/{volume}"))),
        };
    }
    let joined: String = parts.concat();
    if joined.contains("mmol") {
        known(GlucoseUnit::MmolL)
    } else if joined.contains("mgdl") {
        known(GlucoseUnit::MgDl)
    } else {
        parts.iter().find(|part| JOINED.contains(part)).map(|part| Named::Another((*part).to_owned()))
    }
}
