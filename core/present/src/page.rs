//! What a shell shows of a part of the record: sections of sentences, lists and figures, in the wearer's words.
//!
//! Every shell shows the same content in the same order; how it looks is the shell's. Nothing in a page is shown by its place or
//! its looks alone, so a screen reader can read it from top to bottom.

use std::fmt;

use crate::words::Words;

/// A longer table is folded where there is little room; ours.
const MOST_ROWS: usize = 12;

/// A page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Page {
    /// Its name.
    pub heading: String,
    /// Its sections, the weightiest first.
    pub sections: Vec<Section>,
}

/// A section.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    /// Its name; nothing for what stands right under the page's.
    pub heading: Option<String>,
    /// What it holds, in reading order; never empty.
    pub holds: Vec<Block>,
}

/// A piece of a section.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Block {
    /// The answer to what was asked.
    Lead(String),
    /// One or more sentences that stand by themselves.
    Sentences(String),
    /// Items of a list.
    Items(Vec<String>),
    /// Figures.
    Table(Table),
}

/// Figures with their names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Table {
    /// What the columns of values are; empty where each row says so itself.
    pub columns: Vec<String>,
    /// Its rows.
    pub rows: Vec<Row>,
}

/// A row of figures.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// What they are of.
    pub name: String,
    /// The values with their units, one a column; one alone where something is missing.
    pub values: Vec<String>,
    /// What belongs beside them; may be empty.
    pub note: String,
}

impl Page {
    /// A page without sections. Its name carries the mark of a draft, where the language is one.
    #[must_use]
    pub fn new(words: Words, heading: &str) -> Self {
        Self { heading: words.marked(heading), sections: Vec::new() }
    }

    /// The same with a section, left out where it holds nothing.
    #[must_use]
    pub fn with(mut self, heading: Option<&str>, holds: impl IntoIterator<Item = Block>) -> Self {
        let is_something = |block: &Block| match block {
            Block::Lead(text) | Block::Sentences(text) => !text.is_empty(),
            Block::Items(items) => !items.is_empty(),
            Block::Table(table) => !table.rows.is_empty(),
        };
        let holds: Vec<Block> = holds.into_iter().filter(is_something).collect();
        if !holds.is_empty() {
            self.sections.push(Section { heading: heading.map(str::to_owned), holds });
        }
        self
    }
}

impl Page {
    /// The first section under the page's name, and the others, to go on with below something else under none.
    #[must_use]
    pub fn parted(mut self) -> (Self, Self) {
        let rest = self.sections.split_off(self.sections.len().min(1));
        (self, Self { heading: String::new(), sections: rest })
    }
}

impl Section {
    /// Whether a shell with little room shows its name alone until that is touched.
    #[must_use]
    pub fn folds(&self) -> bool {
        self.heading.is_some()
            && self.holds.iter().any(|block| matches!(block, Block::Table(table) if table.rows.len() > MOST_ROWS))
    }
}

/// As plain text, for a letter or a file: a line a sentence, an item or a row.
impl fmt::Display for Page {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "{}", self.heading)?;
        for section in &self.sections {
            writeln!(f)?;
            if let Some(heading) = &section.heading {
                writeln!(f, "{heading}")?;
            }
            for block in &section.holds {
                match block {
                    Block::Lead(text) | Block::Sentences(text) => writeln!(f, "{text}")?,
                    Block::Items(items) => items.iter().try_for_each(|item| writeln!(f, "- {item}"))?,
                    Block::Table(Table { columns, rows }) => {
                        if !columns.is_empty() {
                            writeln!(f, "({})", columns.join("; "))?;
                        }
                        for Row { name, values, note } in rows {
                            let note = if note.is_empty() { String::new() } else { format!(" ({note})") };
                            writeln!(f, "- {name}: {}{note}", values.join("; "))?;
                        }
                    }
                }
            }
        }
        Ok(())
    }
}

impl Table {
    /// Its rows, where each of several values says itself what its column is: a phone has no room for columns, and a screen reader none
    /// for heads.
    #[must_use]
    pub fn telling(self) -> Vec<Row> {
        let Self { columns, rows } = self;
        let tell = |row: Row| {
            if columns.len() < 2 || row.values.len() != columns.len() {
                return row;
            }
            let values = row.values.iter().zip(&columns).map(|(value, column)| format!("{value} ({column})"));
            Row { values: values.collect(), ..row }
        };
        rows.into_iter().map(tell).collect()
    }
}

impl Block {
    /// The answer.
    #[must_use]
    pub fn lead(text: impl Into<String>) -> Self {
        Self::Lead(text.into())
    }

    /// Sentences.
    #[must_use]
    pub fn sentences(text: impl Into<String>) -> Self {
        Self::Sentences(text.into())
    }

    /// A list.
    #[must_use]
    pub fn items(items: impl IntoIterator<Item = String>) -> Self {
        Self::Items(items.into_iter().collect())
    }

    /// A table of one value a row.
    #[must_use]
    pub fn figures(rows: impl IntoIterator<Item = Row>) -> Self {
        Self::Table(Table { columns: Vec::new(), rows: rows.into_iter().collect() })
    }
}

/// On one line, with its first value.
impl fmt::Display for Row {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.name, self.values.first().map_or("", String::as_str))
    }
}

impl From<crate::sentences::review::Line> for Row {
    fn from(line: crate::sentences::review::Line) -> Self {
        let crate::sentences::review::Line { name, value, note } = line;
        Self { name, values: vec![value], note }
    }
}
