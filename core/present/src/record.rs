//! The pages of the record as a shell lays them out: what stands on each of them, from top to bottom, and what can be done there.

use crate::chart::DayChart;
use crate::exchange::SHORTEST_PASSPHRASE;
use crate::forms::record::{
    NEED_DAYS, OUTCOME_DAYS, PASSPHRASE, PASSPHRASE_AGAIN, PASSPHRASE_OF_COPY, REVIEW_DAYS, SENSOR_DAYS, SUPPLY_DAYS,
    aims_field, compression_field, days_field, lot_field, rated_field, secret_field, supply_fields,
};
use crate::forms::{Field, Filled, Form};
use crate::page::Page;
use crate::say;
use crate::wearer::{FLOOR_LINE_MG_DL, Wearer};
use crate::words::{ShellLabel, Words};

/// A page of the record.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Chapter {
    /// Days looked back on.
    Review,
    /// How the sensors did.
    Sensors,
    /// Alerts, replayed: what the wearer's own lines were worth, and what others would have been.
    Alerts,
    /// What was learnt from the log, and learning.
    Learnt,
    /// What came of the prompts.
    Outcomes,
    /// What is there and how long it lasts, noting more, and the facts for a statement of need.
    Supplies,
    /// Where the log goes out, for other programs or sealed, and where another comes in.
    Copies,
}

impl Chapter {
    /// All of them, in the order in which they are shown.
    pub const ALL: [Self; 7] =
        [Self::Review, Self::Sensors, Self::Alerts, Self::Learnt, Self::Outcomes, Self::Supplies, Self::Copies];

    /// Its name.
    #[must_use]
    pub fn name(self, words: Words) -> &'static str {
        words.shell_label(match self {
            Self::Review => ShellLabel::ScreenReview,
            Self::Sensors => ShellLabel::ScreenSensors,
            Self::Alerts => ShellLabel::ScreenAlerts,
            Self::Learnt => ShellLabel::ScreenLearnt,
            Self::Outcomes => ShellLabel::ScreenOutcomes,
            Self::Supplies => ShellLabel::ScreenSupplies,
            Self::Copies => ShellLabel::ScreenCopies,
        })
    }
}

/// What can be done on a page.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Act {
    /// Shows the page for what is filled in.
    Show,
    /// Writes the review as a file to print.
    SaveReview,
    /// Shows the sheet about the newest sensor.
    SensorSheet,
    /// Writes the sheet or the statement that is shown as a text.
    SaveText,
    /// Replays a plan of alerts.
    Replay,
    /// Keeps it as the wearer's own.
    KeepPlan,
    /// Leaves it.
    LeavePlan,
    /// Learns from the log.
    Learn,
    /// Notes a supply.
    NoteSupply,
    /// Takes back what was noted last.
    Undo,
    /// Shows the facts for a statement of need.
    Statement,
    /// Writes the log as a table.
    WriteTable,
    /// Writes the log for health records.
    WriteBundle,
    /// Writes a sealed copy.
    Seal,
    /// Writes what can be read of a damaged log into a new one.
    Recover,
    /// Lets the wearer choose another log or a sealed copy: a shell does it.
    ChooseOther,
    /// Looks into it.
    LookIntoOther,
    /// Merges it.
    Merge,
    /// Merges it although something speaks against it.
    MergeAnyway,
    /// Lets go of it.
    LeaveOther,
}

impl Act {
    const fn label(self) -> ShellLabel {
        match self {
            Self::Show => ShellLabel::ShowThese,
            Self::SaveReview => ShellLabel::PrintReview,
            Self::SensorSheet => ShellLabel::SensorSheet,
            Self::SaveText => ShellLabel::SaveText,
            Self::Replay => ShellLabel::Replay,
            Self::KeepPlan => ShellLabel::KeepPlan,
            Self::LeavePlan | Self::LeaveOther => ShellLabel::Cancel,
            Self::Learn => ShellLabel::LearnNow,
            Self::NoteSupply => ShellLabel::Add,
            Self::Undo => ShellLabel::UndoLast,
            Self::Statement => ShellLabel::Statement,
            Self::WriteTable => ShellLabel::WriteTable,
            Self::WriteBundle => ShellLabel::WriteBundle,
            Self::Seal => ShellLabel::SealLog,
            Self::Recover => ShellLabel::RecoverLog,
            Self::ChooseOther => ShellLabel::LookIntoOther,
            Self::LookIntoOther => ShellLabel::LookNow,
            Self::Merge => ShellLabel::Merge,
            Self::MergeAnyway => ShellLabel::MergeAnyway,
        }
    }
}

/// A part of a page. Fields and buttons are asked; everything else is shown.
#[derive(Clone, Debug, PartialEq)]
pub enum Part {
    /// What was just done, or why it could not be: read it out.
    Said(String),
    /// A text.
    Text(String),
    /// A name over what follows.
    Heading(String),
    /// A field to fill in.
    Field(Field),
    /// A button.
    Press {
        /// What it does.
        act: Act,
        /// What is written on it.
        name: String,
        /// Whether it is the one that matters most on the page.
        is_main: bool,
    },
    /// The day by the hour.
    Day(DayChart),
    /// A page of sentences and figures.
    Page(Page),
    /// A text to send or to copy, as it is.
    Letter(String),
}

/// Another log, or a sealed copy, that the wearer looks into.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OtherLog {
    /// What the wearer knows it as.
    pub name: String,
    /// Whether it takes a passphrase to open.
    pub is_sealed: bool,
    /// What merging it would do, once it was looked into.
    pub preview: Option<Preview>,
}

/// What merging another log would do, in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Preview {
    /// What would change, one sentence a line.
    pub lines: Vec<String>,
    /// What speaks against it.
    pub warnings: Vec<String>,
    /// Whether the log has all of it already.
    pub changes_nothing: bool,
    /// Whether settings and what was learnt come with it.
    pub restores: bool,
}

/// A page in the making, from top to bottom.
#[derive(Debug)]
pub struct Layout<'a> {
    words: Words,
    filled: &'a Filled,
    refused: &'a Filled,
    parts: Vec<Part>,
}

impl<'a> Layout<'a> {
    /// Begins a page with what was just done. `filled` is what stands in its fields, `refused` what is said beside them.
    #[must_use]
    pub fn new(words: Words, said: &[String], filled: &'a Filled, refused: &'a Filled) -> Self {
        Self { words, filled, refused, parts: said.iter().cloned().map(Part::Said).collect() }
    }

    /// Days looked back on, with the day by the hour.
    #[must_use]
    pub fn review(mut self, day: Option<DayChart>, page: Option<Page>) -> Vec<Part> {
        let words = self.words;
        // The drawing stands below what is in short, under the page's own name.
        let (page, rest) = page.map(Page::parted).unzip();
        self.page(page);
        self.parts.extend(day.map(Part::Day));
        self.page(rest)
            .field(days_field(REVIEW_DAYS, words))
            .field(aims_field(words))
            .field(compression_field(words))
            .press(Act::Show, true)
            .press(Act::SaveReview, false)
            .standing()
    }

    /// The sensors' record, with the sheet about the newest where it was asked for.
    #[must_use]
    pub fn sensors(mut self, sheet: Option<&str>, page: Option<Page>, wearer: &Wearer) -> Vec<Part> {
        let words = self.words;
        self.page(page)
            .field(days_field(SENSOR_DAYS, words))
            .field(rated_field(wearer, words))
            .press(Act::Show, false)
            .field(lot_field(words))
            .press(Act::SensorSheet, false);
        if let Some(sheet) = sheet {
            self.parts.push(Part::Letter(sheet.to_owned()));
            self.press(Act::SaveText, false);
        }
        self.parts
    }

    /// Alerts, replayed, with the form of a plan to try.
    #[must_use]
    pub fn alerts(mut self, page: Option<Page>, form: Form) -> Vec<Part> {
        self.page(page);
        let is_filled = form.fields.iter().any(|field| self.filled.contains_key(field.id));
        self.parts.extend(form.fields.into_iter().map(Part::Field));
        self.press(Act::Replay, true).press(Act::KeepPlan, false);
        if is_filled {
            self.press(Act::LeavePlan, false);
        }
        let floor = self.words.amount(FLOOR_LINE_MG_DL);
        self.parts.push(Part::Text(format!("{} {floor}", self.words.shell_label(ShellLabel::FloorStays))));
        self.standing()
    }

    /// What was learnt.
    #[must_use]
    pub fn learnt(mut self, page: Option<Page>) -> Vec<Part> {
        if page.is_none() && self.parts.is_empty() {
            self.parts.push(Part::Text(self.words.shell_label(ShellLabel::NothingLearnt).to_owned()));
        }
        self.page(page).press(Act::Learn, true);
        self.parts
    }

    /// What came of the prompts.
    #[must_use]
    pub fn outcomes(mut self, page: Option<Page>) -> Vec<Part> {
        let words = self.words;
        self.page(page).field(days_field(OUTCOME_DAYS, words)).press(Act::Show, true).standing()
    }

    /// Supplies, noting more of them, and the facts for a statement of need where they were asked for.
    #[must_use]
    pub fn supplies(mut self, page: Option<Page>, statement: Option<Page>) -> Vec<Part> {
        let words = self.words;
        self.page(page).field(days_field(SUPPLY_DAYS, words)).press(Act::Show, false);
        for field in supply_fields(words) {
            self.field(field);
        }
        self.press(Act::NoteSupply, true).press(Act::Undo, false);
        let is_stated = statement.is_some();
        let mut days = days_field(NEED_DAYS, words);
        days.over = Some(words.shell_label(ShellLabel::Statement).to_owned());
        self.page(statement).field(days).press(Act::Statement, false);
        if is_stated {
            self.press(Act::SaveText, false);
        }
        self.parts
    }

    /// The log on its way out. Of a damaged one, what can be read comes first.
    #[must_use]
    pub fn copies(mut self, is_damaged: bool) -> Vec<Part> {
        let words = self.words;
        if is_damaged {
            self.parts.push(Part::Text(words.shell_label(ShellLabel::RecoverWhy).to_owned()));
            self.press(Act::Recover, true);
        }
        let label = |label| Some(words.shell_label(label).to_owned());
        let mut first = secret_field(PASSPHRASE, &say!(words, "shell-passphrase", least = SHORTEST_PASSPHRASE));
        first.over = label(ShellLabel::SealLog);
        let mut again = secret_field(PASSPHRASE_AGAIN, words.shell_label(ShellLabel::PassphraseAgain));
        again.note = label(ShellLabel::PassphraseLost);
        self.press(Act::WriteTable, false)
            .press(Act::WriteBundle, false)
            .press(Act::ChooseOther, false)
            .field(first)
            .field(again)
            .press(Act::Seal, !is_damaged);
        self.parts
    }

    /// Another log on its way in. What opened it stands in its field, as dots, until it is merged or left.
    #[must_use]
    pub fn looking_into(mut self, other: &OtherLog, opened: Option<&str>) -> Vec<Part> {
        let text = |label| Part::Text(self.words.shell_label(label).to_owned());
        let (nothing_new, restores) = (text(ShellLabel::NothingNew), text(ShellLabel::CopyRestores));
        self.parts.push(Part::Heading(other.name.clone()));
        if other.is_sealed {
            let mut field = secret_field(PASSPHRASE_OF_COPY, self.words.shell_label(ShellLabel::PassphraseOfCopy));
            opened.unwrap_or_default().clone_into(&mut field.value);
            self.field(field).press(Act::LookIntoOther, other.preview.is_none());
        }
        if let Some(Preview { lines, warnings, changes_nothing, restores: does }) = &other.preview {
            // What would change and what speaks against it stand before the button that does it.
            self.parts.extend(lines.iter().cloned().map(Part::Text));
            self.parts.extend(warnings.iter().cloned().map(Part::Said));
            self.parts.extend(changes_nothing.then_some(nothing_new).into_iter().chain(does.then_some(restores)));
            match (changes_nothing, warnings.is_empty()) {
                (true, _) => &mut self,
                (false, true) => self.press(Act::Merge, true),
                (false, false) => self.press(Act::MergeAnyway, false),
            };
        }
        self.press(Act::LeaveOther, false);
        self.parts
    }

    fn page(&mut self, page: Option<Page>) -> &mut Self {
        self.parts.extend(page.map(Part::Page));
        self
    }

    fn field(&mut self, mut field: Field) -> &mut Self {
        field.fill(self.filled);
        field.advice = self.refused.get(field.id).cloned();
        self.parts.push(Part::Field(field));
        self
    }

    fn press(&mut self, act: Act, is_main: bool) -> &mut Self {
        self.parts.push(Part::Press { act, name: self.words.shell_label(act.label()).to_owned(), is_main });
        self
    }

    /// Ends with the standing caution.
    fn standing(&mut self) -> Vec<Part> {
        self.parts.push(Part::Text(self.words.marked(self.words.shell_label(ShellLabel::NoMedicalDevice))));
        std::mem::take(&mut self.parts)
    }
}
