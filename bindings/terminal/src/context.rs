//! What every command needs: the log, the wearer, the clock, and how to show things.

use std::path::PathBuf;

use ebbstead_core::exchange::csv::Offsets;
use ebbstead_core::log::Shown;
use ebbstead_core::say;
use ebbstead_core::store::{FoundDamage, Log};
use ebbstead_core::time::Moment;
use ebbstead_core::units::{Glucose, GlucoseUnit};
use ebbstead_core::wearer::Wearer;
use ebbstead_core::words::Words;
use ebbstead_core::{Error, Quantity, Result, Why};
use std::cell::{Cell, RefCell};

use crate::arguments::{Arguments, General};
use crate::failure::Failure;
use crate::screen::{Screen, Style};
use crate::when::Place;

/// The context.
pub struct Context {
    pub general: General,
    pub place: Place,
    pub style: Style,
    /// Language and unit, as far as known: the options', then the opened log's.
    words: Cell<Words>,
    /// What damage was found in the logs that were opened.
    damage: RefCell<Vec<FoundDamage>>,
}

impl Context {
    pub fn new(arguments: &Arguments) -> Self {
        let general = arguments.general.clone();
        let wearer = Wearer::default();
        let language = general.lang.unwrap_or(wearer.language);
        let unit = general.unit.map_or(wearer.unit, Into::into);
        Self {
            place: general.offset.map_or(Place::Device, Place::Fixed),
            style: Style::of_terminal(general.plain),
            words: Cell::new(Words::new(language, unit)),
            damage: RefCell::default(),
            general,
        }
    }

    pub fn words(&self) -> Words {
        self.words.get()
    }

    pub fn screen(&self) -> Screen {
        Screen::new(self.style, self.words())
    }

    pub fn now(&self) -> Result<Moment> {
        self.place.now()
    }

    /// A time as typed. Of one that the clocks showed twice or never it is said which was taken.
    pub fn time(&self, text: &str, now: Moment) -> Result<Moment> {
        let taken = self.place.parse(text, now)?;
        let (words, time) = (self.words(), taken.to_rfc3339());
        match self.place.shown_by_clocks(text, taken) {
            Some(Offsets::Two { .. }) => self.report(&say!(words, "terminal-clocks-showed-twice", text, time)),
            Some(Offsets::Never { .. }) => self.report(&say!(words, "terminal-clocks-went-over", text, time)),
            Some(Offsets::One(_)) | None => {}
        }
        Ok(taken)
    }

    /// A line on standard error. Whether anybody reads it changes nothing.
    pub fn report(&self, text: &str) {
        use std::io::Write;
        let _ = writeln!(std::io::stderr(), "{}", self.style.shown(text));
    }

    /// The wearer of a log, with unit and language as the options say.
    pub fn wearer(&self, log: &Log) -> Result<Wearer> {
        let kept = log.wearer()?;
        let wearer = Wearer {
            unit: self.general.unit.map_or(kept.unit, Into::into),
            language: self.general.lang.unwrap_or(kept.language),
            ..kept
        };
        self.words.set(Words::of(&wearer));
        Ok(wearer)
    }

    /// Opens the wearer's own log, or the one asked for, to read it; makes it if there is none. What is sound of a damaged one is
    /// read, and [`Context::damage`] reports it.
    pub fn open(&self, now: Moment) -> Result<(Log, Wearer), Failure> {
        let (log, wearer) = self.open_for_prompt(now)?;
        log.look_through()?;
        Ok((log, wearer))
    }

    /// As [`Context::open`], without looking through all of it first: an answer comes before that.
    pub fn open_for_prompt(&self, now: Moment) -> Result<(Log, Wearer), Failure> {
        let log = Log::open_sound(self.log_path()?, now)?;
        self.damage.borrow_mut().push(log.damage());
        self.opened(log, now)
    }

    /// As [`Context::open`], to note something: a damaged log is not gone around.
    pub fn open_to_write(&self, now: Moment) -> Result<(Log, Wearer), Failure> {
        self.opened(Log::open(self.log_path()?, now)?, now)
    }

    /// The damage found in a log that was read.
    pub fn damage(&self) -> Option<Error> {
        self.damage.borrow().iter().find_map(FoundDamage::found)
    }

    /// Where the wearer's own log is, or the one asked for.
    pub fn log_path(&self) -> Result<PathBuf> {
        match &self.general.log {
            Some(path) => Ok(path.clone()),
            None => Ok(data_folder()?.join("log.ebbstead")),
        }
    }

    fn opened(&self, log: Log, now: Moment) -> Result<(Log, Wearer), Failure> {
        let wearer = self.wearer(&log)?;
        if log.was_empty() {
            self.report(&say!(self.words(), "error-log-was-empty", path = log.path().display()));
        }
        if let Some(last) = log.clock_behind(now)? {
            let words = self.words();
            let (now, last) = (words.date_time(now), words.date_time(last));
            self.report(&say!(words, "terminal-careful-devices-clock-behind-log", now, last));
        }
        Ok((log, wearer))
    }

    /// A number as typed, with a point or a comma.
    pub fn number(&self, text: &str) -> Result<f64, Failure> {
        self.words().read_number(text).map_err(|error| self.refused(text, error))
    }

    /// An amount of glucose as typed, in the wearer's unit. An amount that only fits the other unit is refused with it.
    pub fn glucose(&self, text: &str) -> Result<Glucose, Failure> {
        self.words().read_glucose(text).map_err(|error| self.refused(text, error))
    }

    /// What a meter shows as typed: an amount as [`Context::glucose`] reads it, or that it was too low or too high to measure.
    pub fn meter(&self, text: &str) -> Result<Shown, Failure> {
        self.words().read_meter(text).map_err(|error| self.refused(text, error))
    }

    /// What a ketone meter shows as typed, in mmol/L; that it was too high to measure is refused with what to do.
    pub fn ketones(&self, text: &str) -> Result<f64, Failure> {
        self.words().read_ketones(text).map_err(|error| self.refused(text, error))
    }

    /// A difference or factor as typed in the wearer's unit, in mg/dL.
    pub fn in_mg_dl(&self, text: &str) -> Result<f64, Failure> {
        self.words().read_difference_mg_dl(text).map_err(|error| self.refused(text, error))
    }

    /// Why what was typed is no amount: said with what was typed, and with the option that would take it.
    pub fn refused(&self, text: &str, error: Error) -> Failure {
        let words = self.words();
        match error {
            Error::Invalid { why: Why::NoNumber, .. } => {
                Failure::Value(say!(words, "terminal-no-number", text = format!("{text:?}")))
            }
            Error::Invalid { why: Why::FitsOtherUnit, .. } => {
                let unit = words.unit();
                let (other, option) = match unit {
                    GlucoseUnit::MgDl => (GlucoseUnit::MmolL, "--unit mmol"),
                    GlucoseUnit::MmolL => (GlucoseUnit::MgDl, "--unit mg"),
                };
                Failure::Value(say!(words, "terminal-cannot-be-if-add", text, unit, other, option))
            }
            Error::Invalid { why: why @ Why::KetonesTooHigh, .. } => Failure::Value(words.why(&why)),
            error => error.into(),
        }
    }
}

/// The folder for the wearer's data: `$XDG_DATA_HOME/ebbstead`, else `~/.local/share/ebbstead`; made if it is not there.
///
/// Source: XDG Base Directory Specification 0.8.
pub fn data_folder() -> Result<PathBuf> {
    let set = |name: &str| std::env::var_os(name).map(PathBuf::from).filter(|path| path.is_absolute());
    let folder = set("XDG_DATA_HOME")
        .or_else(|| Some(set("HOME")?.join(".local/share")))
        .map(|base| base.join("ebbstead"))
        .ok_or_else(|| Error::Invalid { what: Quantity::LogFile, why: Why::NoHomeFolder })?;
    let mut builder = std::fs::DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder.create(&folder).map_err(|source| Error::File { path: folder.clone(), source })?;
    Ok(folder)
}
