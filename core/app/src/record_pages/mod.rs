//! The record's pages: what is filled in there, what is done, and what comes of it. One place for every shell: it shows
//! what [`Screen`] holds, and hands back what is pressed and typed.

mod acts;
mod files;
mod other;
mod page;

use std::path::{Path, PathBuf};

use zeroize::Zeroizing;

pub use ebbstead_present::record::{Act, Chapter, OtherLog, Part, Preview};

use crate::chart::DayChart;
use crate::error::{Error, Result};
use crate::forms::Filled;
use crate::forms::record::{Days, PASSPHRASE, PASSPHRASE_AGAIN, PASSPHRASE_OF_COPY, read_days};
use crate::page::Page;
use crate::store::Log;
use crate::time::{DAY_MS, Moment};
use crate::words::Words;
use files::Written;

/// What a page is asked of.
#[derive(Clone, Copy, Debug)]
pub struct Asked<'a> {
    /// Where the log is. It is opened for as long as something takes, so that nothing else waits for it.
    pub log: &'a Path,
    /// In whose words.
    pub words: Words,
    /// The time of the question.
    pub now: Moment,
    /// Whether damage was found in it before.
    pub is_damaged: bool,
}

/// A chapter by its name, with its answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Card {
    /// The chapter it is.
    pub chapter: Chapter,
    /// Its name.
    pub name: String,
    /// What its page answers, where no chapter is open.
    pub lines: Vec<String>,
    /// The same drawn.
    pub chart: Option<DayChart>,
}

/// The screen with the record's pages.
#[derive(Clone, Debug, PartialEq)]
pub struct Screen {
    /// All chapters.
    pub cards: Vec<Card>,
    /// The one that is open.
    pub chapter: Option<Chapter>,
    /// What its page holds, from top to bottom.
    pub parts: Vec<Part>,
    /// What was just made for the wearer to keep.
    pub document: Option<Document>,
}

/// A file made for the wearer to keep or to hand on; the shell that hands it over deletes it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Document {
    /// What it is called.
    pub name: String,
    /// Its media type.
    pub media_type: &'static str,
    /// Where it lies.
    pub path: PathBuf,
    /// What to say once it is where the wearer wants it; may be empty.
    pub said: String,
}

/// What changed besides the pages.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Changed {
    /// Nothing.
    Nothing,
    /// The log holds something else.
    Log,
    /// The wearer's settings.
    Settings,
    /// Both: a copy was restored.
    Restored,
}

/// The answer to a question.
#[derive(Debug)]
pub struct Shown {
    /// What to show.
    pub screen: Screen,
    /// What changed.
    pub changed: Changed,
    /// The damage that was found in the log, if any was.
    pub damage: Option<Error>,
}

/// What could not be taken or done: beside the field it came from, or above all.
#[derive(Clone, Debug, Default)]
struct Remarks {
    said: Vec<String>,
    beside: Filled,
}

impl Remarks {
    fn refuse(&mut self, field: Option<&'static str>, error: &Error, words: Words) {
        // What has nothing to do with what was typed stands under no field.
        let is_typed =
            matches!(error, Error::OutOfRange { .. } | Error::Invalid { .. } | Error::WrongPassphrase { .. });
        match field.filter(|_| is_typed) {
            Some(field) => drop(self.beside.insert(field.to_owned(), words.advice(error))),
            None => self.said.push(words.advice(error)),
        }
    }

    fn attempt<T>(&mut self, field: Option<&'static str>, words: Words, done: Result<T>) -> Option<T> {
        done.map_err(|error| self.refuse(field, &error, words)).ok()
    }
}

/// What was asked for besides the page.
#[derive(Debug)]
enum Extra {
    Nothing,
    Sheet(String),
    Statement(Page),
    /// What was just learnt names what it newly marked; what is kept of it does not.
    Lesson(Page),
}

#[derive(Debug)]
struct Chosen {
    file: PathBuf,
    log: OtherLog,
}

/// Where the wearer stands in the record's pages. No secret is in it.
#[derive(Debug)]
pub struct RecordPages {
    /// For files on their way out, until they are handed over.
    folder: PathBuf,
    chapter: Option<Chapter>,
    filled: Filled,
    remarks: Remarks,
    extra: Extra,
    chosen: Option<Chosen>,
}

/// What an act brought.
struct Done {
    document: Option<Document>,
    changed: Changed,
    /// The passphrase that opened a copy: it is on the screen that is asked for next, and nowhere else.
    opened: Option<Zeroizing<String>>,
    /// Those of the restored settings.
    words: Option<Words>,
}

impl Done {
    const NOTHING: Self = Self { document: None, changed: Changed::Nothing, opened: None, words: None };

    const fn changed(changed: Changed) -> Self {
        Self { changed, ..Self::NOTHING }
    }
}

impl RecordPages {
    /// Begins with the list of chapters. `folder` is one of the shell's own.
    #[must_use]
    pub fn new(folder: impl Into<PathBuf>) -> Self {
        Self {
            folder: folder.into(),
            chapter: None,
            filled: Filled::new(),
            remarks: Remarks::default(),
            extra: Extra::Nothing,
            chosen: None,
        }
    }

    /// What is shown now.
    pub fn show(&self, asked: &Asked) -> Shown {
        self.shown(asked, Done::NOTHING)
    }

    /// Opens a chapter, or the list of them. What is `filled` in stays where it was; the chosen file is closed and deleted.
    pub fn turn_to(&mut self, chapter: Option<Chapter>, filled: Filled, asked: &Asked) -> Shown {
        self.take(filled);
        if chapter != self.chapter {
            self.turn(chapter);
        }
        self.show(asked)
    }

    /// Says something above the page: that a document is where the wearer wanted it, or why a file cannot be read or written.
    pub fn say(&mut self, text: String, asked: &Asked) -> Shown {
        self.remarks = Remarks { said: vec![text], ..Remarks::default() };
        self.show(asked)
    }

    /// Does what was pressed, with what stands in the fields. Takes seconds where it learns, seals or merges.
    pub fn act(&mut self, act: Act, filled: Filled, asked: &Asked) -> Shown {
        self.remarks = Remarks::default();
        let secrets = self.take(filled);
        let done = self.done(act, secrets, asked);
        self.shown(asked, done)
    }

    /// Takes what was filled in; a secret never stays.
    fn take(&mut self, mut filled: Filled) -> [Option<Zeroizing<String>>; 3] {
        let secrets = [PASSPHRASE, PASSPHRASE_AGAIN, PASSPHRASE_OF_COPY];
        let secrets = secrets.map(|id| filled.remove(id).map(Zeroizing::new));
        self.filled.extend(filled);
        secrets
    }

    fn done(&mut self, act: Act, secrets: [Option<Zeroizing<String>>; 3], asked: &Asked) -> Done {
        let [passphrase, again, of_copy] = secrets;
        match act {
            Act::Show => self.extra = Extra::Nothing,
            Act::Replay | Act::ChooseOther => {}
            Act::SaveReview => return self.write(Written::Review, asked),
            Act::SaveText => return self.save_text(asked),
            Act::WriteTable => return self.write(Written::Table, asked),
            Act::WriteBundle => return self.write(Written::Bundle, asked),
            Act::Seal => return self.seal(passphrase.unwrap_or_default(), again.unwrap_or_default(), asked),
            Act::Recover => return self.write(Written::Recovered, asked),
            Act::SensorSheet => self.extra = self.sheet(asked).map_or(Extra::Nothing, Extra::Sheet),
            Act::Statement => self.extra = self.statement(asked).map_or(Extra::Nothing, Extra::Statement),
            Act::Learn => return self.learn(asked),
            Act::KeepPlan => return self.keep_plan(asked),
            Act::LeavePlan => self.leave_plan(asked),
            Act::NoteSupply => return self.note_supply(asked),
            Act::Undo => return self.undo(asked),
            Act::LookIntoOther => {
                let opened = self.look_into(of_copy, asked);
                return Done { opened, ..Done::NOTHING };
            }
            Act::Merge | Act::MergeAnyway => return self.merge(of_copy, act == Act::MergeAnyway, asked),
            Act::LeaveOther => self.leave(),
        }
        Done::NOTHING
    }

    fn turn(&mut self, chapter: Option<Chapter>) {
        self.leave();
        self.chapter = chapter;
        self.remarks = Remarks::default();
        self.extra = Extra::Nothing;
    }

    fn days(&self, days: Days, asked: &Asked) -> Result<u16> {
        read_days(&self.filled, days, asked.words)
    }
}

/// The log, of which what is sound is read where it is damaged. Nothing is made where it is gone.
fn sound(asked: &Asked) -> Result<Log> {
    if !asked.log.exists() {
        return Err(Error::Gone { path: asked.log.to_owned() });
    }
    let mut log = Log::open_sound(asked.log, asked.now)?;
    log.until_set(asked.words.unset());
    Ok(log)
}

fn since(now: Moment, days: u16) -> Moment {
    now.plus_ms(-i64::from(days) * DAY_MS)
}
