//! What sentences count.

use super::Words;
use crate::say;

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
        let count = how_many;
        match what {
            Counted::Readings => say!(self, "counted-readings", count),
            Counted::SensorReadings => say!(self, "counted-sensor-readings", count),
            Counted::NewReadings => say!(self, "counted-new-readings", count),
            Counted::Entries => say!(self, "counted-entries", count),
            Counted::OtherEntries => say!(self, "counted-other-entries", count),
            Counted::NewEntries => say!(self, "counted-new-entries", count),
            Counted::Imports => say!(self, "counted-imports", count),
            Counted::Figures => say!(self, "counted-figures", count),
            Counted::Rows => say!(self, "counted-rows", count),
            Counted::Resources => say!(self, "counted-resources", count),
            Counted::Sources => say!(self, "counted-sources", count),
        }
    }
}

impl Words {
    /// That a list of at most so many leaves some out: `16 more`. Nothing where it holds all.
    #[must_use]
    pub fn more(self, all: usize, shown: usize) -> Option<String> {
        let count = all.saturating_sub(shown);
        (count > 0).then(|| say!(self, "counted-more", count))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::GlucoseUnit;
    use crate::wearer::Language;

    #[test]
    fn one_is_not_many() {
        let english = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
        let said = [0, 1, 2].map(|n| english.counted(n, Counted::NewEntries));
        assert_eq!(said, ["0 new entries", "1 new entry", "2 new entries"]);
        let german = Words::new(Language::GERMAN, GlucoseUnit::MgDl);
        let said = [0, 1, 2].map(|n| german.counted(n, Counted::OtherEntries));
        assert_eq!(said, ["0 andere Einträge", "1 anderer Eintrag", "2 andere Einträge"]);
    }
}
