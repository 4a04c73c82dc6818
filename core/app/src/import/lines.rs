//! What an import came to, in sentences.

use super::report::{About, Columns, Report};
use crate::exchange::detect::Format;
use crate::sentences::import::finding_line;
use crate::store::Recorded;
use crate::time::Moment;
use crate::words::{Counted, Words};
use crate::{say, text};

impl Report {
    /// What it came to, one sentence each; nothing of what was found row by row, which is [`Report::finding_lines`].
    #[must_use]
    pub fn lines(&self, words: Words) -> Vec<String> {
        let mut lines = Vec::new();
        if self.taken > 0 || self.format == Format::Table {
            lines.push(self.came(words));
        }
        if self.taken > 0 {
            lines.extend(self.columns.as_ref().map(|columns| made_of(columns, words)));
            lines.extend(self.about.as_ref().map(|about| self.whom(about, words)));
        }
        if let Some(Columns { unused, .. }) = self.columns.as_ref().filter(|columns| !columns.unused.is_empty()) {
            let unused = unused.join(", ");
            lines.push(say!(words, "import-not-taken-whatever-they-hold", unused));
        }
        let contradictory = self.imported.as_ref().map_or(0, |imported| imported.recorded.contradictory);
        if contradictory > 0 {
            let readings = words.counted(contradictory, Counted::Readings);
            lines.push(say!(words, "import-contradicts", readings));
        }
        if self.moments_apart > 0 {
            let readings = words.counted(self.moments_apart, Counted::Readings);
            lines.push(say!(words, "import-moments-apart", readings));
        }
        let of = if self.format == Format::Fhir { Counted::Resources } else { Counted::Rows };
        let counted = [
            (self.beyond, text!(words, "import-too-low-or-too-high")),
            (self.left_out, text!(words, "import-left-out")),
            (self.repeated, text!(words, "import-same-as-earlier-one")),
            (self.without_reading, text!(words, "import-without-reading")),
            (self.others, text!(words, "import-other-kinds")),
        ];
        let some = counted.into_iter().filter(|(count, _)| *count > 0);
        lines.extend(some.map(|(count, what)| format!("{what}: {}.", words.counted(count, of))));
        lines
    }

    /// The first findings, `most` of them.
    #[must_use]
    pub fn finding_lines(&self, most: usize, words: Words) -> Vec<String> {
        self.findings.iter().take(most).map(|one| finding_line(one, words)).collect()
    }

    /// That there are more findings than `most`, if that is so.
    #[must_use]
    pub fn more_findings(&self, most: usize, words: Words) -> Option<String> {
        let more = self.found.saturating_sub(most as u64);
        (more > 0).then(|| say!(words, "import-and-more", more))
    }

    /// That nothing of the file could be taken, if that is so.
    #[must_use]
    pub fn nothing_taken(&self, file: &str, words: Words) -> Option<String> {
        let none = || match self.format {
            Format::Fhir => say!(words, "import-not-one-entry-could-be", file),
            _ => say!(words, "import-not-one-row-could-be", file),
        };
        (self.taken == 0).then(none)
    }

    /// What could be taken, or the result, and from when it is.
    fn came(&self, words: Words) -> String {
        let local = |moment: Moment| words.date_time(moment);
        let (first, last) = (self.first.map(local).unwrap_or_default(), self.last.map(local).unwrap_or_default());
        let (any, fresh) = match self.format {
            Format::Readings => (Counted::Readings, Counted::NewReadings),
            _ => (Counted::Entries, Counted::NewEntries),
        };
        match (self.format, self.imported.as_ref()) {
            (Format::Table, None) => {
                let taken = words.counted(self.taken, any);
                say!(words, "import-table-ebbstead-wrote-could-be", taken)
            }
            (_, None) => {
                let taken = words.counted(self.taken, any);
                say!(words, "import-could-be-taken-to-nothing", taken, first, last)
            }
            (format, Some(imported)) => {
                let Recorded { new, known, .. } = imported.recorded;
                let new = words.counted(new, fresh);
                if format == Format::Table {
                    say!(words, "import-in-log-already", new, known)
                } else {
                    say!(words, "import-to-in-log-already", new, first, last, known)
                }
            }
        }
    }

    fn whom(&self, about: &About, words: Words) -> String {
        let about = match about {
            About::ThisLog => return text!(words, "import-they-came-from-log").to_owned(),
            About::Nobody => text!(words, "import-nobody-named"),
            About::Somebody(reference) => reference,
        };
        if self.imported.is_some() {
            say!(words, "import-they-about-if-not-you-2", about)
        } else {
            say!(words, "import-they-about-if-not-you", about)
        }
    }
}

/// Which columns were used, in which unit.
fn made_of(columns: &Columns, words: Words) -> String {
    let spacing = match columns.spacing_minutes {
        None => String::new(),
        Some(1) => text!(words, "import-mostly-every-minute").to_owned(),
        Some(minutes) => say!(words, "import-mostly-every-minutes", minutes),
    };
    say!(
        words,
        "import-time-from-readings-from-in",
        time_column = format!("{:?}", columns.time),
        glucose_column = format!("{:?}", columns.glucose),
        unit = columns.unit,
        spacing
    )
}
