//! What sentences count.

use super::Words;

/// Something there may be one or many of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Counted {
    /// Readings of a sensor or a meter.
    Readings,
    /// Readings of a sensor.
    SensorReadings,
    /// Readings that were not there before.
    NewReadings,
    /// Entries of the log.
    Entries,
    /// Entries beside sensor readings.
    OtherEntries,
    /// Entries that were not there before.
    NewEntries,
    /// Files brought in.
    Imports,
    /// Figures of a review.
    Figures,
    /// Rows of a table.
    Rows,
    /// Resources of a bundle.
    Resources,
    /// Sources of readings.
    Sources,
}

impl Words {
    /// So many, with their name: `1 entry`, `0 entries`.
    #[must_use]
    pub fn counted(self, how_many: u64, what: Counted) -> String {
        let (one, many) = self.catalogue().counted(what);
        format!("{how_many} {}", if how_many == 1 { one } else { many })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::GlucoseUnit;
    use crate::wearer::Language;

    #[test]
    fn one_is_not_many() {
        let english = Words::new(Language::English, GlucoseUnit::MgDl);
        let said = [0, 1, 2].map(|n| english.counted(n, Counted::NewEntries));
        assert_eq!(said, ["0 new entries", "1 new entry", "2 new entries"]);
        let german = Words::new(Language::German, GlucoseUnit::MgDl);
        let said = [0, 1, 2].map(|n| german.counted(n, Counted::OtherEntries));
        assert_eq!(said, ["0 andere Einträge", "1 anderer Eintrag", "2 andere Einträge"]);
    }
}
