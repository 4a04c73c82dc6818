//! The record's pages, for a shell to lay out.

use std::path::PathBuf;
use std::sync::{Arc, Mutex};

use ebbstead_core::record_pages::{self as record, Asked, Changed};
use ebbstead_core::words::{ShellLabel, Words};

use crate::chart::DayChart;
use crate::companion::{Shared, locked};
use crate::error::ApiResult;
use crate::form::{Filled, FormField, filled};
use crate::mirror::mirrored_names;
use crate::page::Page;
use crate::records::Moment;

mirrored_names! {
    /// A page of the record.
    Chapter = ebbstead_core::record_pages::Chapter {
        /// Days looked back on.
        Review,
        /// How the sensors did.
        Sensors,
        /// Alerts, replayed.
        Alerts,
        /// What was learnt.
        Learnt,
        /// What came of the prompts.
        Outcomes,
        /// What is there, and how long it lasts.
        Supplies,
        /// The log on its way out, and another on its way in.
        Copies,
    }
}

mirrored_names! {
    /// What can be done on a page of the record.
    RecordAct = ebbstead_core::record_pages::Act {
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
        /// Let the wearer choose another log or a sealed copy, and hand it to [`RecordPages::chosen`].
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
}

/// A chapter by its name.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct RecordCard {
    /// Which.
    pub chapter: Chapter,
    /// Its name.
    pub name: String,
    /// What its page answers, where no chapter is open.
    pub lines: Vec<String>,
    /// The same drawn.
    pub chart: Option<DayChart>,
}

/// A part of a page. Fields and buttons are asked; everything else is shown.
#[derive(Clone, Debug, PartialEq, uniffi::Enum)]
pub enum RecordPart {
    /// What was just done, or why it could not be: read it out.
    Said {
        /// The text.
        text: String,
    },
    /// A text.
    Text {
        /// The text.
        text: String,
    },
    /// A name over what follows.
    Heading {
        /// The name.
        text: String,
    },
    /// A field to fill in.
    Asked {
        /// The field.
        field: FormField,
    },
    /// A button.
    Press {
        /// What it does.
        act: RecordAct,
        /// What is written on it.
        name: String,
        /// Whether it is the one that matters most on the page.
        is_main: bool,
    },
    /// The day by the hour.
    Day {
        /// The drawing.
        chart: DayChart,
    },
    /// A page of sentences and figures.
    Shown {
        /// The page.
        page: Page,
    },
    /// A text to send or to copy, as it is.
    Letter {
        /// The text.
        text: String,
    },
}

/// A file made for the wearer to keep or to give to somebody: hand it over and delete it.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct RecordDocument {
    /// What it is called.
    pub name: String,
    /// Its media type.
    pub media_type: String,
    /// Where it lies.
    pub path: String,
    /// What to [say](RecordPages::say) once it is where the wearer wants it; may be empty.
    pub said: String,
}

/// The screen with the record's pages.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct RecordScreen {
    /// Its name.
    pub heading: String,
    /// All chapters.
    pub cards: Vec<RecordCard>,
    /// The one that is open.
    pub chapter: Option<Chapter>,
    /// What its page holds, from top to bottom.
    pub parts: Vec<RecordPart>,
    /// What was just made for the wearer to keep.
    pub document: Option<RecordDocument>,
    /// On what unfolds the fields and buttons, where a shell folds them.
    pub more: String,
    /// On what leads back to the list of chapters.
    pub back: String,
}

/// The record's pages, one at a time. What is filled in is kept here, but for secrets; so ask it from one thread, and from no drawing
/// thread: a page goes through weeks of the log, and learning, sealing and merging take seconds. Prompts do not wait for it.
#[derive(uniffi::Object)]
pub struct RecordPages {
    pub(crate) shared: Arc<Shared>,
    pub(crate) pages: Mutex<record::RecordPages>,
}

type Work<'a> = Box<dyn FnOnce(&mut record::RecordPages, &Asked) -> record::Shown + 'a>;

#[uniffi::export]
impl RecordPages {
    /// What is shown now: the list of chapters, or the one that is open.
    ///
    /// # Errors
    /// [`crate::ApiError::Closed`], `InvalidInput` for a time outside 2000 to 2199. What else cannot be done is said on the page.
    pub fn show(&self, now: Moment) -> ApiResult<RecordScreen> {
        self.shown(now, Box::new(|pages, asked| pages.show(asked)))
    }

    /// Opens a chapter, or the list of them. `filled_in` is what was touched where the wearer comes from: it stands there again when they
    /// come back. What was chosen to look into is let go of.
    ///
    /// # Errors
    /// As [`RecordPages::show`].
    pub fn turn_to(&self, chapter: Option<Chapter>, filled_in: Filled, now: Moment) -> ApiResult<RecordScreen> {
        let (chapter, filled) = (chapter.map(Into::into), filled(filled_in));
        self.shown(now, Box::new(move |pages, asked| pages.turn_to(chapter, filled, asked)))
    }

    /// Does what was pressed. `filled_in` is what was touched since the page was laid out, and what stands in the fields of secrets,
    /// touched or not: they are not kept.
    ///
    /// # Errors
    /// As [`RecordPages::show`].
    pub fn act(&self, act: RecordAct, filled_in: Filled, now: Moment) -> ApiResult<RecordScreen> {
        let filled = filled(filled_in);
        self.shown(now, Box::new(move |pages, asked| pages.act(act.into(), filled, asked)))
    }

    /// Looks into another log, or a sealed copy: a file of the shell's own, which is deleted when the wearer is done with it, and what
    /// they know it as.
    ///
    /// # Errors
    /// As [`RecordPages::show`].
    pub fn chosen(&self, path: &str, name: &str, now: Moment) -> ApiResult<RecordScreen> {
        self.shown(now, Box::new(|pages, asked| pages.chosen(PathBuf::from(path), name.to_owned(), asked)))
    }

    /// Says something above the page: of a document that was handed over, or why a file cannot be read or written.
    ///
    /// # Errors
    /// As [`RecordPages::show`].
    pub fn say(&self, text: &str, now: Moment) -> ApiResult<RecordScreen> {
        self.shown(now, Box::new(|pages, asked| pages.say(text.to_owned(), asked)))
    }
}

impl RecordPages {
    fn shown(&self, now: Moment, work: Work) -> ApiResult<RecordScreen> {
        let path = self.shared.place()?;
        let (words, is_damaged) = (self.shared.words(), self.shared.damage().is_some());
        let shown = self.shared.guarded(|| {
            let now = now.try_into().map_err(|error| self.shared.refused(&error))?;
            Ok(work(&mut locked(&self.pages), &Asked { log: &path, words, now, is_damaged }))
        })?;
        let record::Shown { screen, changed, damage } = shown;
        if let Some(damage) = damage {
            self.shared.note_found(&damage);
        }
        self.notify(changed);
        Ok(self.screen(screen))
    }

    /// The log is changed, whatever became of this companion meanwhile: closed, there is nobody left to notify.
    fn notify(&self, changed: Changed) {
        if changed == Changed::Restored
            && let Ok(wearer) = self.shared.with(|log| log.wearer())
        {
            self.shared.speak(Words::of(&wearer));
        }
        if matches!(changed, Changed::Settings | Changed::Restored) {
            self.shared.notify(|watcher| watcher.settings_changed());
        }
        if matches!(changed, Changed::Log | Changed::Restored) {
            let _ = self.shared.change(|_| Ok(()));
        }
    }

    fn screen(&self, core: record::Screen) -> RecordScreen {
        let record::Screen { cards, chapter, parts, document } = core;
        let words = self.shared.words();
        let label = |label| words.shell_label(label).to_owned();
        let card = |record::Card { chapter, name, lines, chart }| RecordCard {
            chapter: chapter.into(),
            name,
            lines,
            chart: chart.map(Into::into),
        };
        RecordScreen {
            heading: label(ShellLabel::ScreenRecord),
            cards: cards.into_iter().map(card).collect(),
            chapter: chapter.map(Into::into),
            parts: parts.into_iter().map(Into::into).collect(),
            document: document.map(|record::Document { name, media_type, path, said }| RecordDocument {
                name,
                media_type: media_type.to_owned(),
                path: path.to_string_lossy().into_owned(),
                said,
            }),
            more: label(ShellLabel::More),
            back: label(ShellLabel::Back),
        }
    }
}

impl From<record::Part> for RecordPart {
    fn from(core: record::Part) -> Self {
        match core {
            record::Part::Said(text) => Self::Said { text },
            record::Part::Text(text) => Self::Text { text },
            record::Part::Heading(text) => Self::Heading { text },
            record::Part::Field(field) => Self::Asked { field: field.into() },
            record::Part::Press { act, name, is_main } => Self::Press { act: act.into(), name, is_main },
            record::Part::Day(chart) => Self::Day { chart: chart.into() },
            record::Part::Page(page) => Self::Shown { page: page.into() },
            record::Part::Letter(text) => Self::Letter { text },
        }
    }
}
