//! What can be asked at the command line, and the help for it.

use std::path::PathBuf;

use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use clap::{Args, Parser, Subcommand, ValueEnum};
use ebbstead_core::log::Effort;
use ebbstead_core::units::GlucoseUnit;
use ebbstead_core::wearer::Language;
use ebbstead_core::words::Spoken;

const AFTER: &str = "\
Without a command: a demo with an invented wearer, an evening and a night.

Times: 03:05 (the last time the clock showed it), 2026-03-01 03:05, or 2026-03-01T03:05:00+01:00.

Exit codes: 0 done; 2 the command was not understood; 65 a file or value cannot be used, or the log is \
damaged and only its undamaged part is shown; 66 a file or entry is not there; 70 an error in Ebbstead or SQLite; 74 reading or writing failed; 75 another program is writing, try again; \
77 not allowed.

This is no medical device. It names no dose of insulin. If in doubt and no meter is at hand, treat. Your care team's \
plan goes before anything said here. A severe low needs a person: get help.";

/// Reads a continuous glucose sensor's record and helps to decide: treat, check with a meter, or hold.
#[derive(Debug, Parser)]
#[command(name = "ebbstead", version, long_about = None, after_help = AFTER, max_term_width = 100)]
pub struct Arguments {
    #[command(subcommand)]
    pub command: Option<Command>,
    #[command(flatten)]
    pub general: General,
}

/// Options of every command.
#[derive(Clone, Debug, Args)]
pub struct General {
    /// The log to use, instead of your own in the data folder
    #[arg(long, global = true, value_name = "PATH", help_heading = "Everywhere")]
    pub log: Option<PathBuf>,
    /// Show and take glucose in this unit, whatever the settings say
    #[arg(long, global = true, help_heading = "Everywhere")]
    pub unit: Option<Unit>,
    /// Use this language, whatever the settings say
    #[arg(long, global = true, value_parser = languages(), help_heading = "Everywhere")]
    pub lang: Option<Language>,
    /// What times without an offset mean, such as +01:00, instead of this device's zone
    #[arg(long, global = true, value_name = "OFFSET", value_parser = crate::when::offset, allow_hyphen_values = true, help_heading = "Everywhere")]
    pub offset: Option<i32>,
    /// Draw with plain letters and signs only, without colour
    #[arg(long, global = true, help_heading = "Everywhere")]
    pub plain: bool,
    /// Say the chart in words instead of drawing it (for a screen reader)
    #[arg(long, global = true, help_heading = "Everywhere")]
    pub no_picture: bool,
}

/// A unit, as typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Unit {
    #[value(name = "mg", alias = "mg/dL", alias = "mg/dl")]
    Mg,
    #[value(name = "mmol", alias = "mmol/L", alias = "mmol/l")]
    Mmol,
}

impl From<Unit> for GlucoseUnit {
    fn from(unit: Unit) -> Self {
        match unit {
            Unit::Mg => Self::MgDl,
            Unit::Mmol => Self::MmolL,
        }
    }
}

/// The languages that have words, by their tags. A draft is spoken to whoever asks for it, and not offered.
fn languages() -> impl TypedValueParser<Value = Language> {
    let tags = Spoken::all().iter().map(|one| PossibleValue::new(one.tag).hide(one.draft.is_some()));
    PossibleValuesParser::new(tags).try_map(|tag| Language::parse(&tag))
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Show the demo: an invented wearer's evening and night
    Demo,
    /// Bring a file into your log: sensor readings (CSV), a table that export wrote, or FHIR
    Import(Import),
    /// Write your log to a file in an open format
    Export(crate::commands::export::Export),
    /// Note something: a meter check, carbohydrate, insulin, how you feel, ...
    Add(Add),
    /// Ask what to do now: treat, check with a meter, or hold
    Check(Check),
    /// Ask what to do now, after an alert woke you
    Wake(Check),
    /// Ask ahead: before sleep, before a drive, before movement
    Before(crate::commands::before::Before),
    /// Learn from your log: your own values, better forecasts, and when the sensor was pressed
    Learn(Learn),
    /// Show how well calibrated the chances of a low were: of the times 20 % was shown, how often it came
    Reliability(AsJson),
    /// Show what blood glucose probably was in a past span, smoothed from what came before and after
    #[command(alias = "look-back")]
    Smooth(Smooth),
    /// List the log
    Log(List),
    /// Put right an entry; the old one stays readable
    Correct(Correct),
    /// Take back what you noted last, or the entry you name; it stays readable
    Undo(Undo),
    /// Save what can be read of a damaged log into a new one; the damaged one is kept
    #[command(alias = "mend")]
    Recover(crate::commands::recover::Recover),
    /// Add another device's log to yours: shows what would change, and does it only when you say so
    Merge(crate::commands::merge::Merge),
    /// Go through a file of readings as if each had just come, and say what each prompt would have been
    Replay(Replay),
    /// Look back over some days: time in range, spread, risk, hours of the day, lows
    Review(crate::commands::review::Review),
    /// Put your whole log into one file that only a passphrase opens
    Seal(crate::commands::seal::Seal),
    /// Bring a sealed log back: into an empty log, or into the one in use after showing what would change
    Unseal(crate::commands::seal::Unseal),
    /// See how your sensors do: wear, sites, agreement with the meter, calibration, faults
    Sensor(crate::commands::sensor::Sensor),
    /// Replay alerts over the past: how many, what came of them, how much notice
    Alerts(crate::commands::alerts::Alerts),
    /// See what is in stock, how long it lasts, when to order, what it costs
    Supplies(crate::commands::supplies::Supplies),
    /// See what came of the prompts: held, treated, checked, and where glucose went
    #[command(alias = "answers")]
    Outcomes(crate::commands::outcomes::Outcomes),
    /// Show or change your settings
    Settings(Settings),
}

/// `import`.
#[derive(Debug, Args)]
pub struct Import {
    /// The file; - reads standard input
    pub file: PathBuf,
    /// The unit of the file's values, if it is not recognised or recognised wrongly
    #[arg(long, value_name = "UNIT")]
    pub file_unit: Option<Unit>,
    /// The column with the time: its name, or its number from 1
    #[arg(long, value_name = "COLUMN")]
    pub time_column: Option<String>,
    /// The column with the readings: its name, or its number from 1
    #[arg(long, value_name = "COLUMN")]
    pub glucose_column: Option<String>,
    /// How times are written, such as %d/%m/%Y %H:%M
    #[arg(long, value_name = "FORMAT")]
    pub time_format: Option<String>,
    /// The sign between cells: , ; or tab
    #[arg(long, value_name = "SIGN", value_parser = separator)]
    pub separator: Option<u8>,
    /// The sensor a file of readings is from, by the name its readings are to have in your log; "sensor" unless given
    #[arg(long, value_name = "NAME")]
    pub sensor: Option<String>,
    /// The person to take, where a FHIR bundle is about several: the reference of the subject
    #[arg(long, value_name = "REFERENCE")]
    pub person: Option<String>,
    /// Only say what would be added
    #[arg(long, alias = "only-look")]
    pub dry_run: bool,
    /// Write every finding to this file, not only the first ones to the screen
    #[arg(long, value_name = "PATH")]
    pub findings: Option<PathBuf>,
}

fn separator(text: &str) -> Result<u8, String> {
    match text {
        "," => Ok(b','),
        ";" => Ok(b';'),
        "tab" | "\t" | "\\t" => Ok(b'\t'),
        _ => Err("give , or ; or tab".to_owned()),
    }
}

/// `add`.
#[derive(Debug, Args)]
pub struct Add {
    #[command(subcommand)]
    pub what: Said,
    #[command(flatten)]
    pub time: Time,
}

/// When something happened.
#[derive(Debug, Args)]
pub struct Time {
    /// When it was, if not now
    #[arg(long, global = true, value_name = "TIME")]
    pub at: Option<String>,
    /// How many minutes ago it was
    #[arg(long, global = true, value_name = "MINUTES", conflicts_with = "at")]
    pub ago: Option<f64>,
}

/// What can be noted.
#[derive(Debug, Subcommand)]
pub enum Said {
    /// A finger-prick check: meter 92; too low or too high to measure: meter LO, meter HI
    Meter {
        /// What the meter showed: an amount, LO or HI
        amount: String,
    },
    /// Carbohydrate in grams: carbs 45, or against a low: carbs 15 --rescue
    Carbs {
        /// Grams
        grams: String,
        /// Taken against a low
        #[arg(long)]
        rescue: bool,
    },
    /// Insulin in units: insulin 4, or basal: insulin 14 --long-acting
    Insulin {
        /// Units
        units: String,
        /// Long-acting (basal) instead of rapid
        #[arg(long)]
        long_acting: bool,
    },
    /// Alcohol in drinks of about 10 g, a quarter of a litre of beer or a tenth of wine: alcohol 2
    Alcohol {
        /// How many drinks
        drinks: String,
    },
    /// Ketones in blood, in mmol/L: ketones 1.2
    Ketones {
        /// What the meter showed
        amount: String,
    },
    /// Illness, from now on: ill, ill vomiting, ill over
    Ill {
        /// How ill
        #[arg(default_value = "ill")]
        how: IllWord,
    },
    /// Movement in minutes: activity walk 30 --effort light
    Activity {
        /// What it was
        name: String,
        /// How many minutes
        minutes: String,
        /// How hard it was
        #[arg(long, default_value = "moderate")]
        effort: EffortWord,
    },
    /// Sleep: sleep 23:10 06:45
    Sleep {
        /// When it began
        from: String,
        /// When it ended
        until: String,
    },
    /// Something about the sensor: sensor inserted --site "left arm"
    Sensor {
        #[command(subcommand)]
        event: SensorWord,
        /// Which sensor, where you wear two: the name its readings come under
        #[arg(long, global = true, value_name = "NAME")]
        sensor: Option<String>,
    },
    /// Supplies: supply received sensors 3 --expires 2027-03-01
    Supply(SupplyWord),
    /// How you feel: feels low
    Feels {
        /// What you feel
        felt: FeltWord,
    },
    /// A free note: note slept badly
    Note {
        /// The text
        #[arg(required = true, num_args = 1..)]
        text: Vec<String>,
    },
}

/// `add supply`.
#[derive(Debug, Args)]
pub struct SupplyWord {
    /// What happened
    pub stocked: StockedWord,
    /// Of what
    pub item: ItemWord,
    /// How much: pieces, units of insulin, or grams of carbohydrate
    pub amount: String,
    /// The last day it may be used
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub expires: Option<String>,
    /// The lot number on the package
    #[arg(long)]
    pub lot: Option<String>,
    /// What all of it costs: --price 105.50 EUR
    #[arg(long, num_args = 2, value_names = ["AMOUNT", "CURRENCY"])]
    pub price: Option<Vec<String>>,
    /// Where it comes from
    #[arg(long, value_name = "WHERE")]
    pub from: Option<String>,
}

/// What happened to a supply, as typed.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum StockedWord {
    /// So much is there now, whatever was noted before
    Counted,
    /// Came in
    Received,
    /// Used up, beyond what the log shows by itself
    Used,
    /// Expired, broken or lost
    ThrownAway,
    /// Offered at a price; changes no stock
    Offered,
}

/// A supply, as typed.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum ItemWord {
    Sensors,
    Transmitters,
    Batteries,
    /// For the meter
    Strips,
    /// In units
    RapidInsulin,
    /// In units
    LongActingInsulin,
    /// Fast carbohydrate against lows, in grams
    Rescue,
}

/// How hard an activity was, as typed.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum EffortWord {
    /// One could sing
    Light,
    /// One could talk
    Moderate,
    /// One could not talk
    Hard,
}

impl From<EffortWord> for Effort {
    fn from(word: EffortWord) -> Self {
        match word {
            EffortWord::Light => Self::Light,
            EffortWord::Moderate => Self::Moderate,
            EffortWord::Hard => Self::Hard,
        }
    }
}

/// What is felt, as typed.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum FeltWord {
    /// Your own signs of a low
    Low,
    /// Your own signs of a high
    High,
    /// Neither
    Nothing,
    /// Confused, cannot swallow, does not respond: noted by somebody else
    Severe,
}

/// How ill, as typed.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum IllWord {
    /// Fever, an infection, or unwell
    Ill,
    /// Vomiting, or nothing stays down
    Vomiting,
    /// Well again
    Over,
}

/// What happened to the sensor, as typed.
#[derive(Debug, Subcommand)]
pub enum SensorWord {
    /// It was put in
    Inserted {
        /// Where on the body
        #[arg(long)]
        site: Option<String>,
        /// The lot number on the package
        #[arg(long)]
        lot: Option<String>,
        /// How many days it is rated for
        #[arg(long, value_name = "DAYS")]
        rated_days: Option<u16>,
    },
    /// Its warm-up is over
    WarmedUp,
    /// You lay on it and rolled off: readings of a pressed sensor come back then
    RolledOff,
    /// It was taken off or expired
    Ended,
    /// Something was wrong with it
    Fault {
        /// What was seen
        #[arg(required = true, num_args = 1..)]
        seen: Vec<String>,
    },
}

/// `check` and `wake`.
#[derive(Debug, Args)]
pub struct Check {
    /// Ask as of this time, with what was known then
    #[arg(long, value_name = "TIME")]
    pub at: Option<String>,
    /// You feel low
    #[arg(long, group = "feels")]
    pub feels_low: bool,
    /// You feel high
    #[arg(long, group = "feels")]
    pub feels_high: bool,
    /// You feel neither
    #[arg(long, group = "feels")]
    pub feels_fine: bool,
    /// Somebody is confused, cannot swallow or does not respond
    #[arg(long, group = "feels")]
    pub severe: bool,
    /// What a meter shows now, an amount, LO or HI; it is kept in the log, as what you feel is, unless you ask as of another time
    #[arg(long, value_name = "AMOUNT")]
    pub meter: Option<String>,
    /// Keep nothing in the log: neither what you say here nor what is answered
    #[arg(long, alias = "keep-nothing")]
    pub no_record: bool,
    /// Print the answer as JSON
    #[arg(long)]
    pub json: bool,
}

/// `learn`.
#[derive(Debug, Args)]
pub struct Learn {
    /// Only show what was learnt last
    #[arg(long)]
    pub last: bool,
    #[command(flatten)]
    pub output: AsJson,
}

/// How a result is printed.
#[derive(Debug, Args)]
pub struct AsJson {
    /// Print the result as JSON
    #[arg(long)]
    pub json: bool,
}

/// `smooth`.
#[derive(Debug, Args)]
pub struct Smooth {
    /// From this time; half a day back unless given
    #[arg(long, value_name = "TIME")]
    pub from: Option<String>,
    /// Up to this time; now unless given
    #[arg(long, value_name = "TIME")]
    pub until: Option<String>,
    /// As many hours back as this
    #[arg(long, value_name = "NUMBER", conflicts_with = "from", value_parser = clap::value_parser!(u16).range(1..=744))]
    pub hours: Option<u16>,
    /// Print every reading and meter check as JSON
    #[arg(long)]
    pub json: bool,
}

/// `log`.
#[derive(Debug, Args)]
pub struct List {
    /// From this time; a day back unless given
    #[arg(long, value_name = "TIME")]
    pub from: Option<String>,
    /// Up to this time; now unless given
    #[arg(long, value_name = "TIME")]
    pub until: Option<String>,
    /// As many days back as this
    #[arg(long, value_name = "NUMBER", conflicts_with = "from", value_parser = clap::value_parser!(u16).range(1..))]
    pub days: Option<u16>,
    /// List every single sensor reading too
    #[arg(long)]
    pub readings: bool,
    /// List what was corrected or taken back too
    #[arg(long)]
    pub all: bool,
    /// List what was brought in from files, each with the mark by which undo takes it back as a whole
    #[arg(long, conflicts_with_all = ["from", "until", "days", "readings", "all"])]
    pub imports: bool,
    /// Look through the whole log file for damage instead of listing
    #[arg(long, conflicts_with_all = ["from", "until", "days", "readings", "all", "imports"])]
    pub check_file: bool,
    /// Print one JSON object an entry
    #[arg(long, conflicts_with_all = ["check_file", "imports"])]
    pub json: bool,
}

/// `correct`.
#[derive(Debug, Args)]
pub struct Correct {
    /// The entry's mark, as `log` lists it
    pub entry: String,
    #[command(subcommand)]
    pub what: Said,
    #[command(flatten)]
    pub time: Time,
}

/// `undo`.
#[derive(Debug, Args)]
pub struct Undo {
    /// The entry's mark, as `log` lists it; what was noted last unless given
    pub entry: Option<String>,
}

/// `replay`.
#[derive(Debug, Args)]
pub struct Replay {
    /// The file; - reads standard input
    pub file: PathBuf,
    /// Print one JSON object a row
    #[arg(long)]
    pub json: bool,
    /// How much a unit of rapid insulin lowers glucose, in mg/dL whatever the unit, as set with the care team
    #[arg(long, value_name = "MG_DL")]
    pub insulin_factor: Option<f64>,
    /// How much a gram of carbohydrate raises glucose, in mg/dL whatever the unit, as set with the care team
    #[arg(long, value_name = "MG_DL")]
    pub carbs_factor: Option<f64>,
    /// The unit of the file's values, if it is not recognised or recognised wrongly
    #[arg(long, value_name = "UNIT")]
    pub file_unit: Option<Unit>,
    /// The column with the time: its name, or its number from 1
    #[arg(long, value_name = "COLUMN")]
    pub time_column: Option<String>,
    /// The column with the readings: its name, or its number from 1
    #[arg(long, value_name = "COLUMN")]
    pub glucose_column: Option<String>,
    /// How times are written, such as %d/%m/%Y %H:%M
    #[arg(long, value_name = "FORMAT")]
    pub time_format: Option<String>,
}

/// `settings`.
#[derive(Debug, Args)]
pub struct Settings {
    #[command(subcommand)]
    pub change: Option<Setting>,
}

/// A setting and its new value.
#[derive(Debug, Subcommand)]
pub enum Setting {
    /// The unit to show glucose in
    Unit {
        /// mg or mmol
        unit: Unit,
    },
    /// The language to use
    Language {
        /// Its tag, such as en or de
        #[arg(value_parser = languages())]
        lang: Language,
    },
    /// Your own low line
    LowLine {
        /// The amount
        amount: String,
    },
    /// Your own high line
    HighLine {
        /// The amount
        amount: String,
    },
    /// Your night
    Night {
        /// When it begins, HH:MM
        from: String,
        /// When it ends, HH:MM
        until: String,
    },
    /// How a needless treat weighs against a missed low
    Caution {
        /// The weighing
        weighing: Weighing,
    },
    /// Whether you feel a low in time, mostly; if not, a missed low weighs more
    FeelsLows {
        /// Whether
        #[arg(value_enum)]
        whether: YesNo,
    },
    /// Whether mostly nobody is near who could help; if so, a missed low weighs more
    Alone {
        /// Whether
        #[arg(value_enum)]
        whether: YesNo,
    },
    /// How much 1 unit of rapid insulin lowers your glucose, as set with your care team; none clears it
    InsulinFactor {
        /// The amount a unit
        amount: String,
    },
    /// How much 1 g of carbohydrate raises your glucose, as set with your care team; none clears it
    CarbsFactor {
        /// The amount a gram
        amount: String,
    },
    /// The sensor to follow where you wear two: the name its readings come under; none for the one read first
    FollowedSensor {
        /// The name
        name: String,
    },
    /// The country whose rules of the road apply, as two letters such as GB; none clears it
    Country {
        /// Its code
        code: String,
    },
    /// When you get up, HH:MM, for `before sleep`; none: when your night ends
    Morning {
        /// The time
        time: String,
    },
    /// How many days your sensors are rated for; none clears it
    SensorDays {
        /// Days
        days: String,
    },
    /// How many days pass between ordering supplies and having them; none clears it
    LeadDays {
        /// Days
        days: String,
    },
}

/// Yes or no, as typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum YesNo {
    /// Yes
    Yes,
    /// No
    No,
}

/// How a needless treat weighs, as typed.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Weighing {
    /// Fewer and later prompts to treat
    Sparing,
    /// The usual
    Balanced,
    /// Earlier prompts to treat, more of them needless
    Early,
}
