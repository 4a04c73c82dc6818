//! Rules that say when to treat: the project's engine, and simple ones to compare it with.

use ebbstead_core::engine::{Engine, Learnt, unasked};
use ebbstead_core::log::{Carbohydrate, Dose, History, InsulinKind, MeterCheck, Purpose, Reading};
use ebbstead_core::prompt::Prompt;
use ebbstead_core::time::Moment;
use ebbstead_core::units::Glucose;
use ebbstead_core::wearer::Wearer;

/// A rule that is compared with the engine's.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rule {
    /// Never says anything.
    Never,
    /// Treats below a reading, in mg/dL.
    Below(u16),
    /// Treats where the slope of 15 minutes reaches 72 mg/dL within so many minutes, from below 130 mg/dL.
    Ahead(u16),
    /// Knows the future: treats where blood would fall below 70 mg/dL within 35 minutes if nothing were done.
    Oracle,
    /// The engine.
    Engine,
}

impl Rule {
    /// Those that the trial compares.
    pub const ALL: [Self; 8] = [
        Self::Never,
        Self::Below(70),
        Self::Below(80),
        Self::Ahead(10),
        Self::Ahead(15),
        Self::Ahead(30),
        Self::Engine,
        Self::Oracle,
    ];

    /// Its name in tables.
    #[must_use]
    pub fn name(self) -> String {
        match self {
            Self::Never => "never".into(),
            Self::Below(line) => format!("below {line}"),
            Self::Ahead(minutes) => format!("{minutes} minutes ahead"),
            Self::Oracle => "sees 35 minutes ahead".into(),
            Self::Engine => "ebbstead".into(),
        }
    }

    /// Whether a simple rule treats, by the readings so far, the newest last.
    #[must_use]
    pub fn treats(self, readings: &[f64]) -> bool {
        let Some(&now) = readings.last() else { return false };
        match self {
            Self::Below(line) => now < f64::from(line),
            Self::Ahead(minutes) => {
                readings.len() > 3 && now < 130.0 && {
                    let change = (now - readings[readings.len() - 4]).min(0.0);
                    now + change * f64::from(minutes) / 15.0 < 72.0
                }
            }
            Self::Never | Self::Oracle | Self::Engine => false,
        }
    }
}

/// The engine, row by row, as a wearer's phone asks it.
pub struct Asked<'a>(Engine<'a>);

impl<'a> Asked<'a> {
    /// An engine that knows nothing yet but the wearer's settings.
    #[must_use]
    pub fn new(empty: &'a History, wearer: &'a Wearer) -> Self {
        Self(Engine::new(empty, wearer, &Learnt::default()))
    }

    /// A reading, and what the engine says then.
    ///
    /// # Errors
    /// A reading that no sensor shows.
    pub fn reading(&mut self, at: Moment, mg_dl: f64) -> ebbstead_core::Result<Prompt> {
        self.0.reading(Reading::new(at, Glucose::from_mg_dl(mg_dl)?));
        Ok(self.0.answer(&unasked(at)))
    }

    /// A meter check, and what the engine says then.
    ///
    /// # Errors
    /// An amount that no meter shows.
    pub fn meter(&mut self, at: Moment, mg_dl: f64) -> ebbstead_core::Result<Prompt> {
        self.0.note_meter(MeterCheck::new(at, Glucose::from_mg_dl(mg_dl)?));
        Ok(self.0.answer(&unasked(at)))
    }

    /// Rapid insulin that was logged.
    pub fn dose(&mut self, at: Moment, units: f64) {
        self.0.note_dose(Dose { at, kind: InsulinKind::Rapid, units });
    }

    /// Carbohydrate that was logged.
    pub fn carbohydrate(&mut self, at: Moment, grams: f64, purpose: Purpose) {
        self.0.note_carbohydrate(Carbohydrate { at, grams, purpose });
    }
}
