//! What the engine can refuse.

use std::fmt;

use crate::time::Moment;
use crate::units::GlucoseUnit;

/// The engine's result.
pub type Result<T, E = Error> = std::result::Result<T, E>;

/// A value that cannot be. Messages carry at most the one value that was just given.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Error {
    /// A number is not finite, or outside what the thing it measures can be.
    #[error("{what} must be {low:.1} to {high:.1} {unit}, not {given}")]
    OutOfRange {
        /// The quantity.
        what: Quantity,
        /// What was given, in `unit`.
        given: f64,
        /// The lowest value taken, in `unit`.
        low: f64,
        /// The highest value taken, in `unit`.
        high: f64,
        /// The unit of the three numbers.
        unit: Unit,
    },
    /// A text, time or combination cannot be taken; says which and why.
    #[error("{what}: {why}")]
    Invalid {
        /// The field or option.
        what: Quantity,
        /// Why it cannot be taken and what would be.
        why: Why,
    },
}

macro_rules! named {
    ($(#[$doc:meta])* $type:ident: $($variant:ident = $name:literal,)*) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum $type {
            $(#[doc = $name] $variant,)*
        }

        impl $type {
            /// All of them.
            pub const ALL: &[Self] = &[$(Self::$variant,)*];

            /// Its name in the trade's English; each has another.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self {
                    $(Self::$variant => $name,)*
                }
            }
        }

        impl fmt::Display for $type {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(self.name())
            }
        }
    };
}

named! {
    /// The unit of a refused number.
    Unit:
    MgDl = "mg/dL",
    MgDlMin = "mg/dL/min",
    MgDlPerUnit = "mg/dL a unit",
    MgDlPerGram = "mg/dL a gram",
    MmolL = "mmol/L",
    Grams = "g",
    InsulinUnits = "units",
    Drinks = "drinks",
    Minutes = "minutes",
    Days = "days",
    Pieces = "pieces",
    Currency = "of the currency",
    Share = "as a share",
}

impl From<GlucoseUnit> for Unit {
    fn from(unit: GlucoseUnit) -> Self {
        match unit {
            GlucoseUnit::MgDl => Self::MgDl,
            GlucoseUnit::MmolL => Self::MmolL,
        }
    }
}

named! {
    /// What a refused value was to be: a quantity, a field or an option.
    Quantity:
    Activity = "activity",
    Alcohol = "alcohol",
    AmountOfASupply = "amount of a supply",
    BluetoothMessage = "Bluetooth message",
    Carbohydrate = "carbohydrate",
    CarbohydrateFactor = "carbohydrate factor",
    Chance = "chance",
    CompressionLow = "compression low",
    ContactNumber = "contact number",
    Correction = "correction",
    Country = "country",
    Currency = "currency",
    Days = "days",
    Delay = "delay",
    Document = "document",
    EmergencyNumber = "emergency number",
    Entry = "entry",
    ExpiryDate = "expiry date",
    Glucose = "glucose",
    Header = "header",
    HighAlert = "alert for highs",
    HighLine = "high line",
    Hours = "hours",
    Identity = "identity",
    Insulin = "insulin",
    InsulinFactor = "insulin factor",
    Ketones = "ketones",
    Language = "language",
    LeadTime = "lead time",
    LengthOfTheDrive = "length of the drive",
    LengthOfTheMovement = "length of the movement",
    LimitOfTooHigh = "limit of too high to measure",
    LimitOfTooLow = "limit of too low to measure",
    Log = "log",
    LogFile = "log file",
    LostAlert = "alert for a lost signal",
    LowAlert = "alert for lows",
    LowLine = "low line",
    Morning = "morning",
    Number = "number",
    OtherLog = "other log",
    Passphrase = "passphrase",
    Period = "period",
    Price = "price",
    Quote = "quote",
    RateAlert = "alert for rates",
    RatedLength = "rated length",
    Repetition = "repetition",
    Retraction = "retraction",
    Sensor = "sensor",
    Setting = "setting",
    Sleep = "sleep",
    Snooze = "snooze",
    Source = "source",
    TableOfEvents = "table of events",
    Text = "text",
    Time = "time",
    TimeUntilTheMorning = "time until the morning",
    Zone = "zone",
}

/// Why something cannot be taken. The words are for developers; a person reads those of `present`.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[allow(missing_docs)] // each says itself below
pub enum Why {
    #[error("is empty")]
    Empty,
    #[error("is over {most_bytes} bytes")]
    TooLong { most_bytes: usize },
    #[error("has control characters")]
    ControlCharacters,
    #[error("must be one line of at most {most_bytes} bytes")]
    NotOneLine { most_bytes: usize },
    #[error("{given:?}; write it like {like}")]
    Malformed { given: String, like: &'static str },
    #[error("give 2 to 15 digits, such as +49 30 123456")]
    NotDialled,
    #[error("is no number")]
    NoNumber,
    #[error("{given:?} can be read in two ways; write it without a sign for thousands")]
    TwoWays { given: String },
    #[error("was corrected on another device since; name the entry")]
    CorrectedElsewhere,
    #[error("fits only the other unit")]
    FitsOtherUnit,
    #[error("is more than the meter can measure")]
    KetonesTooHigh,
    #[error("is outside the years {first} to {last}")]
    OutsideYears { first: i32, last: i32 },
    #[error("is {minutes} minutes from UTC")]
    OffsetFromUtc { minutes: i64 },
    #[error("give two different times of day between 00:00 and 23:59")]
    SameHours,
    #[error("{at} lies in the future of this device's clock ({clock}); check both")]
    InFuture { at: Moment, clock: Moment },
    #[error("ends before it begins")]
    EndsBeforeItBegins,
    #[error("lasts over 24 hours")]
    OverADay,
    #[error("{until} is not after {from}")]
    NotAfter { until: Moment, from: Moment },
    #[error("must be a whole number of pieces")]
    PiecesComeWhole,
    #[error("names no price")]
    NamesNoPrice,
    #[error("names no entry")]
    NamesNoEntry,
    #[error("is not this reading's own")]
    NotItsOwn,
    #[error("needs at least {least} characters; several words are easiest to remember")]
    FewCharacters { least: usize },
    #[error("needs at least {least} different characters")]
    FewDifferent { least: usize },
    #[error("hides the entry; retract it instead")]
    RetractInstead,
    #[error("an import can only be renamed")]
    ImportOnlyRenamed,
    #[error("the entry came with an import that was taken back; bring the import back first")]
    ImportTakenBack,
    #[error("has entries already; merge the other one as from another device")]
    HasEntries,
    #[error("cannot be taken")]
    CannotBeTaken,
    #[error("cannot be compared")]
    CannotBeCompared,
    #[error("no such sensor is in the log")]
    NoSuchSensor,
    #[error("something speaks against merging it")]
    MergeWarnings,
    #[error("there is no home folder; say where the log is")]
    NoHomeFolder,
    #[error("a table of events needs one offset from UTC")]
    OneOffset,
    #[error("needs the columns {names}")]
    NeedsColumns { names: String },
    /// What only the developers of a format know, in the words it came in.
    #[error("{0}")]
    Detail(String),
}
