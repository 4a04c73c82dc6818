//! The record's pages: what is filled in there, what is done, and what comes of it. One place for every shell: it shows
//! what [`crate::record::Screen`] holds, and hands back what is pressed and typed.

use std::fs::{self, File};
use std::path::{Path, PathBuf};

use zeroize::Zeroizing;

pub use ebbstead_present::record::{Act, Chapter, OtherLog, Part, Preview};

use crate::alerts::Plan;
use crate::chart::DayChart;
use crate::copies::{Opened, seal, write_bundle, write_table, write_text};
use crate::entries::{self, confirmation};
use crate::error::{Error, Quantity, Result, Why};
use crate::exchange::csv::table::Which;
use crate::exchange::detect::{Format, detect};
use crate::forms::Filled;
use crate::forms::record::{
    Days, LOT, NEED_DAYS, OUTCOME_DAYS, PASSPHRASE, PASSPHRASE_AGAIN, PASSPHRASE_OF_COPY, RATED_DAYS, REVIEW_DAYS,
    SENSOR_DAYS, SUPPLY_DAYS, read_days, read_lot, read_rated, read_review, read_supply, supply_noted,
};
use crate::learn::{self, KEPT_AS, Lesson};
use crate::log::{EntryKind, History};
use crate::outcomes::Outcomes;
use crate::page::Page;
use crate::review::{Period, Review, ReviewOptions};
use crate::sensor::{Record, sessions};
use crate::store::{Log, of_file};
use crate::supplies::{Need, Outlook, costs};
use crate::time::{DAY_MS, Moment};
use crate::wearer::Wearer;
use crate::words::{ShellLabel, Words};
use crate::{forms, pages, sentences};
use ebbstead_present::record::{Layout, first_lines};

/// What a page is asked of.
#[derive(Clone, Copy, Debug)]
pub struct Asked<'a> {
    /// Where the log is. It is opened for as long as something takes, so that nothing else waits for it.
    pub log: &'a Path,
    /// In whose words.
    pub words: Words,
    /// When.
    pub now: Moment,
    /// Whether damage was found in it before.
    pub is_damaged: bool,
}

/// A chapter by its name, with the first of what it shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Card {
    /// Which.
    pub chapter: Chapter,
    /// Its name.
    pub name: String,
    /// What it shows first, where no chapter is open.
    pub lines: Vec<String>,
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

/// A file made for the wearer to keep or to give to somebody; whoever hands it over deletes it.
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

/// What else than the pages is another than before.
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

/// What came of a question.
#[derive(Debug)]
pub struct Shown {
    /// What to show.
    pub screen: Screen,
    /// What became another.
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
        // What is no matter of what was typed is none of its field.
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
}

impl Done {
    const NOTHING: Self = Self { document: None, changed: Changed::Nothing, opened: None };

    const fn changed(changed: Changed) -> Self {
        Self { changed, ..Self::NOTHING }
    }
}

/// What is written into a file.
enum Written {
    Review,
    Sheet(String),
    Statement(String),
    Table,
    Bundle,
    Sealed(Zeroizing<String>),
    Recovered,
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

    /// Opens a chapter, or the list of them. What is `filled` in stays where it was; what was chosen to look into is let go of.
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

    /// Looks into another log, or a sealed copy, that the wearer chose. The file is deleted when they are done with it.
    pub fn chosen(&mut self, file: PathBuf, name: String, asked: &Asked) -> Shown {
        // The same place may hold another file by now.
        self.chosen = self.chosen.take().filter(|before| before.file != file);
        self.turn(Some(Chapter::Copies));
        let opened = File::open(&file).and_then(detect).map_err(|source| of_file(&file, source));
        if let Some((format, _)) = self.remarks.attempt(None, asked.words, opened) {
            let is_sealed = format == Format::SealedLog;
            self.chosen = Some(Chosen { file, log: OtherLog { name, is_sealed, preview: None } });
            if !is_sealed {
                self.look_into(None, asked);
            }
        }
        self.show(asked)
    }

    /// Does what was pressed, with what stands in the fields. Takes seconds where it learns, seals or merges.
    pub fn act(&mut self, act: Act, filled: Filled, asked: &Asked) -> Shown {
        self.remarks = Remarks::default();
        let secrets = self.take(filled);
        let done = self.done(act, secrets, asked);
        let restored =
            if done.changed == Changed::Restored { Log::open_sound(asked.log, asked.now).ok() } else { None };
        let words = restored.and_then(|log| log.wearer().ok()).map_or(asked.words, |wearer| Words::of(&wearer));
        self.shown(&Asked { words, ..*asked }, done)
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
            Act::SaveText => match &self.extra {
                Extra::Sheet(text) => return self.write(Written::Sheet(text.clone()), asked),
                Extra::Statement(page) => return self.write(Written::Statement(page.to_string()), asked),
                Extra::Nothing | Extra::Lesson(_) => {}
            },
            Act::WriteTable => return self.write(Written::Table, asked),
            Act::WriteBundle => return self.write(Written::Bundle, asked),
            Act::Seal => {
                let passphrase = passphrase.unwrap_or_default();
                if passphrase == again.unwrap_or_default() {
                    return self.write(Written::Sealed(passphrase), asked);
                }
                let differ = asked.words.shell_label(ShellLabel::PassphrasesDiffer).to_owned();
                self.remarks.beside.insert(PASSPHRASE_AGAIN.to_owned(), differ);
            }
            Act::Recover => return self.write(Written::Recovered, asked),
            Act::SensorSheet => {
                self.extra = Extra::Nothing;
                if let Some(sheet) = self.sheet(asked) {
                    self.extra = Extra::Sheet(sheet);
                }
            }
            Act::Statement => {
                self.extra = Extra::Nothing;
                let days = self.days(NEED_DAYS, asked);
                let stated = days.and_then(|days| stated(&sound(asked)?, days, asked));
                if let Some(page) = self.remarks.attempt(Some(NEED_DAYS.0), asked.words, stated) {
                    self.extra = Extra::Statement(page);
                }
            }
            Act::Learn => {
                self.extra = Extra::Nothing;
                let learnt = Log::open(asked.log, asked.now).and_then(|mut log| {
                    let lessons = learn::from_log(&mut log, asked.now)?;
                    Ok(pages::learn::page(&lessons.lesson, &lessons.marked, asked.words))
                });
                if let Some(page) = self.remarks.attempt(None, asked.words, learnt) {
                    self.extra = Extra::Lesson(page);
                    return Done::changed(Changed::Log);
                }
            }
            Act::KeepPlan => return self.keep_plan(asked),
            Act::LeavePlan => self.leave_plan(asked),
            Act::NoteSupply => return self.note_supply(asked),
            Act::Undo => {
                let undone = sound(asked).and_then(|mut log| entries::undo(&mut log, asked.now, asked.words));
                if let Some(said) = self.remarks.attempt(None, asked.words, undone) {
                    self.remarks.said.push(said);
                    return Done::changed(Changed::Log);
                }
            }
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

    /// Lets go of what was chosen to look into; nothing of it stays on the phone.
    fn leave(&mut self) {
        let Some(Chosen { file, .. }) = self.chosen.take() else { return };
        // SQLite may have written beside what was read.
        for end in ["", "-wal", "-shm"] {
            let mut place = file.clone().into_os_string();
            place.push(end);
            // What was never there is gone as well.
            let _ = fs::remove_file(place);
        }
    }

    fn days(&self, days: Days, asked: &Asked) -> Result<u16> {
        read_days(&self.filled, days, asked.words)
    }

    fn sheet(&mut self, asked: &Asked) -> Option<String> {
        let Asked { words, now, .. } = *asked;
        let days = self.remarks.attempt(Some(SENSOR_DAYS.0), words, self.days(SENSOR_DAYS, asked));
        let lot = self.remarks.attempt(Some(LOT), words, read_lot(&self.filled));
        let (days, lot) = days.zip(lot)?;
        let sheet = sound(asked).and_then(|log| {
            let history = log.history(since(now, days), now)?;
            let found = sessions(&history, now);
            let rated = log.wearer()?.sensor_rated_days.map(f64::from);
            let newest = found.last().ok_or(Error::Invalid { what: Quantity::Sensor, why: Why::NoSuchSensor })?;
            Ok(pages::sheet::sheet(&history, newest, lot.as_ref(), rated, words, now))
        });
        self.remarks.attempt(Some(LOT), words, sheet)
    }

    fn keep_plan(&mut self, asked: &Asked) -> Done {
        let kept = sound(asked).and_then(|mut log| {
            let wearer = log.wearer()?;
            // What cannot be taken is said beside its field when the page is laid out.
            let (_, _, plan) = forms::alerts::read(&self.filled, &Plan::of(&wearer), asked.words);
            let Some(alert_plan) = plan else { return Ok(false) };
            log.set_wearer(&Wearer { alert_plan: Some(alert_plan), ..wearer }, asked.now)?;
            Ok(true)
        });
        if self.remarks.attempt(None, asked.words, kept) != Some(true) {
            return Done::NOTHING;
        }
        self.leave_plan(asked);
        self.remarks.said.push(asked.words.shell_label(ShellLabel::Kept).to_owned());
        Done::changed(Changed::Settings)
    }

    fn leave_plan(&mut self, asked: &Asked) {
        let (form, ..) = forms::alerts::read(&Filled::new(), &Plan::of(&Wearer::default()), asked.words);
        self.filled.retain(|id, _| form.fields.iter().all(|field| field.id != id));
    }

    fn note_supply(&mut self, asked: &Asked) -> Done {
        let Asked { words, now, .. } = *asked;
        let remarks = &mut self.remarks;
        let mut refuse = |field, error: &Error| remarks.refuse(Some(field), error, words);
        let Some(supply) = read_supply(&self.filled, words, &mut refuse) else { return Done::NOTHING };
        let noted = sound(asked).and_then(|mut log| log.note(EntryKind::Supply(supply), now, now));
        let Some(entry) = self.remarks.attempt(None, words, noted) else { return Done::NOTHING };
        self.remarks.said.push(confirmation(&entry, ShellLabel::Kept, words));
        supply_noted(&mut self.filled);
        Done::changed(Changed::Log)
    }

    /// Only a sealed copy has a passphrase. What opens it comes back.
    fn look_into(&mut self, passphrase: Option<Zeroizing<String>>, asked: &Asked) -> Option<Zeroizing<String>> {
        let chosen = self.chosen.as_mut()?;
        let passphrase = chosen.log.is_sealed.then(|| passphrase.unwrap_or_default());
        let preview = Opened::of(&chosen.file, passphrase.clone())
            .and_then(|other| other.preview(&mut Log::open(asked.log, asked.now)?, asked.now, asked.words));
        // What is no log at all is not kept.
        let is_none = matches!(
            preview,
            Err(Error::NotALog { .. }
                | Error::NotASealedLog { .. }
                | Error::File { .. }
                | Error::DamagedSealedLog { .. })
        );
        let field = preview.as_ref().err().and_then(field_of_copy);
        chosen.log.preview = self.remarks.attempt(field, asked.words, preview);
        let is_open = chosen.log.preview.is_some();
        if is_none {
            self.leave();
        }
        passphrase.filter(|_| is_open)
    }

    fn merge(&mut self, passphrase: Option<Zeroizing<String>>, force: bool, asked: &Asked) -> Done {
        let Some(chosen) = &self.chosen else { return Done::NOTHING };
        let passphrase = chosen.log.is_sealed.then(|| passphrase.unwrap_or_default());
        let merged = Opened::of(&chosen.file, passphrase.clone()).and_then(|other| {
            let mut log = Log::open(asked.log, asked.now)?;
            let (recorded, restored) = other.merge(&mut log, force, asked.now)?;
            // In the restored settings' language, if there were any.
            let words = if restored { Words::of(&log.wearer()?) } else { asked.words };
            Ok((sentences::merge::merged_lines(&recorded, restored, words), restored))
        });
        let field = merged.as_ref().err().and_then(field_of_copy);
        match self.remarks.attempt(field, asked.words, merged) {
            Some((lines, restored)) => {
                self.remarks.said.push(lines.join("\n"));
                self.leave();
                Done::changed(if restored { Changed::Restored } else { Changed::Log })
            }
            None => Done { opened: passphrase.filter(|_| field.is_none()), ..Done::NOTHING },
        }
    }

    /// Makes a file for the wearer to keep.
    fn write(&mut self, what: Written, asked: &Asked) -> Done {
        let Asked { words, now, .. } = *asked;
        let (stem, ending, media_type, field) = match what {
            Written::Review => ("ebbstead", "html", "text/html", Some(REVIEW_DAYS.0)),
            Written::Sheet(_) => ("ebbstead-sensor", "txt", "text/plain", None),
            Written::Statement(_) => ("ebbstead-need", "txt", "text/plain", None),
            Written::Table => ("ebbstead", "csv", "text/csv", None),
            Written::Bundle => ("ebbstead", "json", "application/fhir+json", None),
            Written::Sealed(_) => ("ebbstead", "age", "application/octet-stream", Some(PASSPHRASE)),
            Written::Recovered => ("ebbstead-recovered", "ebb", "application/octet-stream", None),
        };
        let name = format!("{stem}-{}.{ending}", now.local_date());
        let path = self.folder.join(&name);
        let made = fs::create_dir_all(&self.folder).map_err(|source| of_file(&self.folder, source));
        let made = made.and_then(|()| match what {
            Written::Review => {
                let reviewed =
                    Reviewed::of(&sound(asked)?, self.days(REVIEW_DAYS, asked)?, read_review(&self.filled), now)?;
                write_text(&path, &reviewed.html(words, now)).map(|()| Vec::new())
            }
            Written::Sheet(text) | Written::Statement(text) => write_text(&path, &text).map(|()| Vec::new()),
            Written::Table => {
                write_table(&Log::open_to_read(asked.log)?, &path, true, (Which::Holding, (None, None)), words)
            }
            Written::Bundle => write_bundle(&Log::open_to_read(asked.log)?, &path, true, (None, now), now, words),
            Written::Sealed(passphrase) => seal(&Log::open_to_read(asked.log)?, &path, true, passphrase, now, words),
            Written::Recovered => {
                // What was left of an earlier one on its way out would be in the way.
                let _ = fs::remove_file(&path);
                let mut lines = sentences::merge::recovered_lines(&Log::recover(asked.log, &path, now)?, words);
                lines.push(words.shell_label(ShellLabel::RecoverThen).to_owned());
                Ok(lines)
            }
        });
        let made = self.remarks.attempt(field, words, made);
        let document = made.map(|lines| Document { name, media_type, path, said: lines.join("\n") });
        Done { document, ..Done::NOTHING }
    }

    fn shown(&self, asked: &Asked, done: Done) -> Shown {
        let Done { document, changed, opened } = done;
        let opened = opened.as_deref().map(String::as_str);
        let (parts, lines, damage) = match sound(asked) {
            Ok(log) => {
                let page = |chapter| self.page(chapter, &log, opened, asked);
                let parts = self.chapter.map(page).unwrap_or_default();
                let is_list = self.chapter.is_none();
                let lines = Chapter::ALL.map(|one| if is_list { first_lines(&page(one)) } else { Vec::new() });
                (parts, lines, log.damage().found())
            }
            Err(error) => (vec![Part::Said(asked.words.advice(&error))], Default::default(), None),
        };
        let card = |(chapter, lines): (Chapter, _)| Card { chapter, name: chapter.name(asked.words).to_owned(), lines };
        let cards = Chapter::ALL.into_iter().zip(lines).map(card).collect();
        Shown { screen: Screen { cards, chapter: self.chapter, parts, document }, changed, damage }
    }

    fn page(&self, chapter: Chapter, log: &Log, opened: Option<&str>, asked: &Asked) -> Vec<Part> {
        let Asked { words, now, .. } = *asked;
        let mut remarks = self.remarks.clone();
        // A page is asked for before its fields are laid out, so that what cannot be taken stands beside them.
        match chapter {
            Chapter::Review => {
                let (day, page) = self
                    .of_days(REVIEW_DAYS, &mut remarks, asked, |days| {
                        let reviewed = Reviewed::of(log, days, read_review(&self.filled), now)?;
                        Ok((reviewed.day(words), reviewed.page(words)))
                    })
                    .unzip();
                self.layout(&remarks, words).review(day.flatten(), page)
            }
            Chapter::Sensors => {
                let wearer = remarks.attempt(None, words, log.wearer()).unwrap_or_default();
                // A slip in the rated length must not hide the record: the page does without.
                let rated = remarks.attempt(Some(RATED_DAYS), words, read_rated(&self.filled, &wearer, words));
                let rated = rated.as_ref().unwrap_or(&wearer).sensor_rated_days.map(f64::from);
                let page = self.of_days(SENSOR_DAYS, &mut remarks, asked, |days| {
                    let record = Record::of(&log.history(since(now, days), now)?, rated, now);
                    Ok(pages::sensor::page(&record, rated, words, now))
                });
                let sheet = if let Extra::Sheet(sheet) = &self.extra { Some(sheet.as_str()) } else { None };
                self.layout(&remarks, words).sensors(sheet, page, &wearer)
            }
            Chapter::Alerts => {
                let wearer = remarks.attempt(None, words, log.wearer()).unwrap_or_default();
                let own = Plan::of(&wearer);
                let (form, days, tried) = forms::alerts::read(&self.filled, &own, words);
                let page = days.and_then(|days| {
                    let replayed = Period::days_before(now, days).and_then(|period| {
                        let history = log.history(period.from(), period.until())?;
                        Ok(pages::alerts::page(&history, &wearer, &tried.unwrap_or(own), period, words))
                    });
                    remarks.attempt(None, words, replayed)
                });
                self.layout(&remarks, words).alerts(page, form)
            }
            Chapter::Learnt => {
                let page = if let Extra::Lesson(page) = &self.extra {
                    Some(page.clone())
                } else {
                    let last = remarks.attempt(None, words, log.learned::<Lesson>(KEPT_AS)).flatten();
                    last.map(|kept| pages::learn::page(&kept.what, &[], words))
                };
                self.layout(&remarks, words).learnt(page)
            }
            Chapter::Outcomes => {
                let page = self.of_days(OUTCOME_DAYS, &mut remarks, asked, |days| {
                    let (period, wearer) = (Period::days_before(now, days)?, log.wearer()?);
                    let outcomes = Outcomes::of(&log.history(period.from(), now)?, &wearer, period, now);
                    Ok(pages::outcomes::page(&outcomes, &wearer, words))
                });
                self.layout(&remarks, words).outcomes(page)
            }
            Chapter::Supplies => {
                let page = self.of_days(SUPPLY_DAYS, &mut remarks, asked, |days| {
                    let (period, wearer) = (Period::days_before(now, days)?, log.wearer()?);
                    let history = log.history(period.from(), now)?;
                    let outlooks = Outlook::all(&history, &wearer, now);
                    Ok(pages::supplies::page(&outlooks, &costs(&history, &wearer, now), words, now))
                });
                let statement = if let Extra::Statement(page) = &self.extra { Some(page.clone()) } else { None };
                self.layout(&remarks, words).supplies(page, statement)
            }
            Chapter::Copies => match &self.chosen {
                Some(chosen) => self.layout(&remarks, words).looking_into(&chosen.log, opened),
                None => {
                    let is_damaged = asked.is_damaged || log.damage().found().is_some();
                    self.layout(&remarks, words).copies(is_damaged)
                }
            },
        }
    }

    fn layout<'a>(&'a self, remarks: &'a Remarks, words: Words) -> Layout<'a> {
        Layout::new(words, &remarks.said, &self.filled, &remarks.beside)
    }

    /// Asks a page of so many days back.
    fn of_days<T>(
        &self,
        days: Days,
        remarks: &mut Remarks,
        asked: &Asked,
        page: impl FnOnce(u16) -> Result<T>,
    ) -> Option<T> {
        let found = self.days(days, asked).and_then(page);
        remarks.attempt(Some(days.0), asked.words, found)
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

/// Where an error in opening another log is said, if it is of what was typed.
const fn field_of_copy(error: &Error) -> Option<&'static str> {
    match error {
        Error::WrongPassphrase { .. } | Error::Invalid { what: Quantity::Passphrase, .. } => Some(PASSPHRASE_OF_COPY),
        _ => None,
    }
}

fn since(now: Moment, days: u16) -> Moment {
    now.plus_ms(-i64::from(days) * DAY_MS)
}

fn stated(log: &Log, days: u16, asked: &Asked) -> Result<Page> {
    let need = Need::of_log(log, &log.wearer()?, days, asked.now)?;
    Ok(pages::supplies::need_page(&need, asked.words))
}

/// Days of a log, reviewed beside as many before them.
#[derive(Debug)]
pub struct Reviewed {
    history: History,
    wearer: Wearer,
    review: Review,
    before: Review,
}

impl Reviewed {
    /// Reads and reviews them.
    ///
    /// # Errors
    /// [`Error::Invalid`] for no days; those of reading.
    pub fn of(log: &Log, days: u16, options: ReviewOptions, now: Moment) -> Result<Self> {
        let (wearer, history) = (log.wearer()?, log.history(Review::needed_from(now, days)?, now)?);
        let (review, before) = Review::with_before(&history, &wearer, (now, days), options)?;
        Ok(Self { history, wearer, review, before })
    }

    /// As a page.
    #[must_use]
    pub fn page(&self, words: Words) -> Page {
        pages::review::page(&self.review, Some(&self.before), &self.history, &self.wearer, words)
    }

    /// The daily profile, to draw beside the page; nothing where no hour has enough readings.
    #[must_use]
    pub fn day(&self, words: Words) -> Option<DayChart> {
        DayChart::of(&self.review, &self.wearer, words)
    }

    /// As one HTML file of two printed pages.
    #[must_use]
    pub fn html(&self, words: Words, now: Moment) -> String {
        pages::report::html(&self.review, Some(&self.before), &self.history, &self.wearer, words, now, None)
    }
}
