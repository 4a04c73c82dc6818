//! A page of the record, for a shell to lay out.

use ebbstead_core::page;

/// A page: show it from top to bottom. It reads well aloud in the same order.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct Page {
    /// Its name; empty where the page goes on below something else.
    pub heading: String,
    /// Its sections, the weightiest first.
    pub sections: Vec<PageSection>,
}

/// A section of a page.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct PageSection {
    /// Its name; nothing for what stands right under the page's.
    pub heading: Option<String>,
    /// Whether a shell with little room shows its name alone until that is touched.
    pub folds: bool,
    /// What it holds, in reading order.
    pub holds: Vec<PageBlock>,
}

/// A piece of a section.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Enum, serde::Serialize)]
pub enum PageBlock {
    /// The answer to what was asked: as large as a prompt's sentence.
    Lead {
        /// The text.
        text: String,
    },
    /// One or more sentences that stand by themselves.
    Sentences {
        /// The text.
        text: String,
    },
    /// Items of a list.
    Items {
        /// One text an item.
        items: Vec<String>,
    },
    /// Figures.
    Table {
        /// The rows.
        rows: Vec<PageRow>,
    },
}

/// A row of figures.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct PageRow {
    /// What they are of.
    pub name: String,
    /// The values with their units, each of several with what it is; one alone where something is missing.
    pub values: Vec<String>,
    /// What belongs beside them; may be empty.
    pub note: String,
}

impl From<page::Page> for Page {
    fn from(core: page::Page) -> Self {
        let page::Page { heading, sections } = core;
        Self { heading, sections: sections.into_iter().map(Into::into).collect() }
    }
}

impl From<page::Section> for PageSection {
    fn from(core: page::Section) -> Self {
        let folds = core.folds();
        let page::Section { heading, holds } = core;
        Self { heading, folds, holds: holds.into_iter().map(Into::into).collect() }
    }
}

impl From<page::Block> for PageBlock {
    fn from(core: page::Block) -> Self {
        match core {
            page::Block::Lead(text) => Self::Lead { text },
            page::Block::Sentences(text) => Self::Sentences { text },
            page::Block::Items(items) => Self::Items { items },
            page::Block::Table(table) => Self::Table { rows: table.telling().into_iter().map(Into::into).collect() },
        }
    }
}

impl From<page::Row> for PageRow {
    fn from(core: page::Row) -> Self {
        let page::Row { name, values, note } = core;
        Self { name, values, note }
    }
}
