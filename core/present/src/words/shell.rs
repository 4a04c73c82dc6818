//! What a shell writes on its screens besides a prompt: names of screens, buttons and fields; and reading what is typed.

use super::{Message, Words};
use crate::error::{Error, Quantity, Result, Unit, Why};
use crate::log::{Beyond, Instrument, Shown, typed_beyond};
use crate::time::Moment;
use crate::units::{Glucose, GlucoseUnit, MG_DL_PER_MMOL_L};
use crate::{message, say, text};

/// A short text on a shell's screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ShellLabel {
    /// The screen with the prompt.
    ScreenNow,
    /// The screen for the night.
    ScreenNight,
    /// The screen with the log.
    ScreenLog,
    /// The screen with the settings.
    ScreenSettings,
    /// Asks again.
    LookNow,
    /// The wearer feels low.
    FeelLow,
    /// The wearer feels high.
    FeelHigh,
    /// The wearer feels neither.
    FeelNeither,
    /// Somebody is confused, cannot swallow or does not respond.
    SevereSigns,
    /// Night: rescue carbohydrate was taken.
    ITreated,
    /// Night: the wearer no longer lies on the sensor.
    IRolledOver,
    /// Asks for what the meter shows.
    MeterShows,
    /// A sensor was put in.
    SensorInserted,
    /// Asks where on the body a sensor was put in.
    SensorSite,
    /// Asks what was wrong with the sensor.
    SensorFault,
    /// A sensor was taken off.
    SensorEnded,
    /// Asks for the lot on a sensor's package.
    Lot,
    /// Over the lines outside the night.
    ByDay,
    /// Over the lines of the night.
    ByNight,
    /// Adds to the log.
    Add,
    /// Takes back what was said last.
    UndoLast,
    /// Puts an entry right.
    PutRight,
    /// Takes an entry back.
    TakeBack,
    /// Nothing is in the log for the time shown.
    LogEmpty,
    /// Nothing is left to undo.
    NothingToUndo,
    /// Beside what was taken back.
    TakenBack,
    /// Beside what was kept.
    Kept,
    /// The unit to show.
    Unit,
    /// The language.
    Language,
    /// The night's first minute.
    NightFrom,
    /// The night's last minute.
    NightUntil,
    /// How a needless treat weighs against a missed low.
    Weighing,
    /// A needless treat weighs more.
    WeighingSparing,
    /// The usual.
    WeighingBalanced,
    /// A missed low weighs more.
    WeighingEarly,
    /// How much a unit of insulin lowers glucose.
    InsulinFactor,
    /// How much a gram of carbohydrate raises glucose.
    CarbohydrateFactor,
    /// Beside the factors: where they come from.
    FactorsFromCareTeam,
    /// The wearer's own low line.
    LowLine,
    /// The wearer's own high line.
    HighLine,
    /// Asks below what a low is alerted.
    AlertBelow,
    /// Asks above what a high is alerted.
    AlertAbove,
    /// Beside the low line: what cannot be moved; its amount follows.
    FloorStays,
    /// Keeps what was changed.
    Save,
    /// Leaves without a change.
    Cancel,
    /// The screen that leads to the record's pages.
    ScreenRecord,
    /// The page with the review.
    ScreenReview,
    /// The page with the sensors' record.
    ScreenSensors,
    /// The page with the alerts, replayed.
    ScreenAlerts,
    /// The page with what was learnt.
    ScreenLearnt,
    /// Asks how many days to look back on.
    DaysBack,
    /// Asks how long sensors are rated for.
    RatedDays,
    /// Shows a page for what was chosen.
    ShowThese,
    /// Writes the sheet about the newest sensor.
    SensorSheet,
    /// Writes the review as a file to print.
    PrintReview,
    /// Asks how long a high must last in the replay.
    TryDelay,
    /// Asks when an alert repeats in the replay.
    TryRepeat,
    /// Replays alerts.
    Replay,
    /// Learns from the log.
    LearnNow,
    /// Beside learning: nothing was learnt.
    NothingLearnt,
    /// Asks whose published aims.
    AimsName,
    /// The aims for adults.
    AimsAdult,
    /// The aims for older people and those at high risk.
    AimsOlder,
    /// The aims in pregnancy.
    AimsPregnancy,
    /// Asks whether readings of a pressed sensor count.
    CompressionLows,
    /// They count.
    CompressionIn,
    /// They do not.
    CompressionOut,
    /// Takes readings from a file.
    ReadFile,
    /// Takes readings from a sensor nearby.
    FindSensor,
    /// The page with the supplies.
    ScreenSupplies,
    /// The page with the outcomes of the prompts.
    ScreenOutcomes,
    /// The page where the log goes out and another comes in.
    ScreenCopies,
    /// Asks which supply.
    WhichSupply,
    /// Asks what happened to a supply.
    SupplyStocked,
    /// Asks how much of a supply.
    SupplyAmount,
    /// Asks for the last day a supply may be used.
    SupplyExpires,
    /// Asks for the price of the whole amount.
    SupplyPrice,
    /// Asks for the currency of a price.
    SupplyCurrency,
    /// Asks where a supply comes from.
    SupplyFrom,
    /// Asks how long delivery takes.
    LeadDays,
    /// Shows the facts for a statement of need.
    Statement,
    /// Writes what is shown as a text.
    SaveText,
    /// Writes the log as a table.
    WriteTable,
    /// Writes the log for health records.
    WriteBundle,
    /// Writes a sealed copy.
    SealLog,
    /// Over saving what can be read of a damaged log.
    RecoverWhy,
    /// Saves it.
    RecoverLog,
    /// Once it is saved: how to go on with it.
    RecoverThen,
    /// Asks for a new passphrase a second time.
    PassphraseAgain,
    /// Beside a passphrase typed twice in two ways.
    PassphrasesDiffer,
    /// Beside a new passphrase.
    PassphraseLost,
    /// Looks into another log, or a sealed copy, before it is merged.
    LookIntoOther,
    /// Asks for what opens a sealed copy.
    PassphraseOfCopy,
    /// Merges what was looked into.
    Merge,
    /// Merges it although something speaks against it.
    MergeAnyway,
    /// Beside a copy that is to be taken into an empty log.
    CopyRestores,
    /// Beside another log that has nothing this one has not.
    NothingNew,
    /// Leads to whom to call.
    GetHelp,
    /// On the screen that calls: when to.
    HelpNow,
    /// On the screen that calls: what to do meanwhile. First aid's common practice, from memory; glucagon as in the ADA Standards
    /// of Care, glycemic goals and hypoglycemia.
    HelpMeanwhile,
    /// Calls the emergency number, which follows.
    CallEmergency,
    /// Calls the wearer's contact, whose number follows.
    CallContact,
    /// Asks for the emergency number.
    EmergencyNumber,
    /// Asks for a second number.
    ContactNumber,
    /// A meter check, on a button.
    Meter,
    /// The wearer feels low, on a button.
    FeelLowShort,
    /// Unfolds the rest.
    More,
    /// Folds it again.
    Less,
    /// Leaves a screen.
    Back,
    /// Opens the kinds that can be noted.
    AddEntry,
    /// Over the first start.
    FirstTitle,
    /// What this is.
    FirstIs,
    /// Agrees to what this is not.
    Agree,
    /// Goes on.
    Next,
    /// Asks where readings come from.
    WhereFrom,
    /// Beside looking for a sensor: why the phone asks.
    SensorWhy,
    /// Why none can be looked for.
    SensorRefused,
    /// Beside a file: what is read.
    FileWhy,
    /// There are no readings.
    NoReadings,
    /// The log can only be read.
    ReadOnlyLog,
    /// The phone does not let every alert ring.
    AlertsOff,
    /// The notification that stays.
    StandingChannel,
    /// Notifications of alerts that wake nobody, and of what is said beside them.
    QuietChannel,
    /// The notification that is left of an alert.
    LeftChannel,
    /// Asks to let alerts come.
    WakesAllowed,
    /// Beside that: why the phone asks.
    WakesWhy,
    /// A phone whose silent mode mutes alerts.
    SilentMutes,
    /// The phone was started and is locked: nothing can be read until it is not.
    LockedAfterStart,
    /// Rings once, for the wearer to hear it.
    TryAlert,
    /// On what rings then.
    TriedAlert,
    /// Ends a step.
    Done,
    /// Keeps an alert plan as the wearer's own.
    KeepPlan,
    /// Asks after how long a lost signal is alerted.
    LostAfter,
    /// The screen that asks ahead.
    ScreenBefore,
    /// Opens it.
    BeforeOpen,
    /// Asks what lies ahead.
    BeforeWhat,
    /// Sleep.
    BeforeSleep,
    /// A drive.
    BeforeDriving,
    /// Movement.
    BeforeActivity,
    /// Asks before sleep.
    BeforeSleepOpen,
    /// A device nearby: it was found.
    SensorFound,
    /// A device nearby: it is connected.
    SensorConnected,
    /// A device nearby: it is out of reach.
    SensorLost,
    /// Ends reading from a source that was chosen.
    LeaveSource,
    /// Reads the phone's health records.
    ReadHealth,
    /// Beside that: what is read.
    HealthWhy,
    /// The phone's health records: reading is not allowed.
    HealthRefused,
    /// The same: this phone has none that can be read.
    HealthMissing,
    /// The same: they can be read later.
    HealthBusy,
    /// The same: they could not be read.
    HealthFailed,
    /// Where what is read from them goes.
    HealthStays,
    /// The standing caution.
    NoMedicalDevice,
}

impl ShellLabel {
    /// The message with its words.
    const fn message(self) -> Message {
        match self {
            Self::ScreenNow => message!("shell-screen-now"),
            Self::ScreenNight => message!("shell-screen-night"),
            Self::ScreenLog => message!("shell-screen-log"),
            Self::ScreenSettings => message!("shell-screen-settings"),
            Self::LookNow => message!("shell-look-now"),
            Self::FeelLow => message!("shell-feel-low"),
            Self::FeelHigh => message!("shell-feel-high"),
            Self::FeelNeither => message!("shell-feel-neither"),
            Self::SevereSigns => message!("shell-severe-signs"),
            Self::ITreated => message!("shell-i-treated"),
            Self::IRolledOver => message!("shell-i-rolled-over"),
            Self::MeterShows => message!("shell-meter-shows"),
            Self::SensorInserted => message!("shell-sensor-inserted"),
            Self::SensorSite => message!("shell-sensor-site"),
            Self::SensorFault => message!("shell-sensor-fault"),
            Self::SensorEnded => message!("shell-sensor-ended"),
            Self::Lot => message!("shell-lot"),
            Self::ByDay => message!("shell-by-day"),
            Self::ByNight => message!("shell-by-night"),
            Self::Add => message!("shell-add"),
            Self::UndoLast => message!("shell-undo-last"),
            Self::PutRight => message!("shell-put-right"),
            Self::TakeBack => message!("shell-take-back"),
            Self::LogEmpty => message!("shell-log-empty"),
            Self::NothingToUndo => message!("shell-nothing-to-undo"),
            Self::TakenBack => message!("shell-taken-back"),
            Self::Kept => message!("shell-kept"),
            Self::Unit => message!("shell-unit"),
            Self::Language => message!("shell-language"),
            Self::NightFrom => message!("shell-night-from"),
            Self::NightUntil => message!("shell-night-until"),
            Self::Weighing => message!("shell-weighing"),
            Self::WeighingSparing => message!("shell-weighing-sparing"),
            Self::WeighingBalanced => message!("shell-weighing-balanced"),
            Self::WeighingEarly => message!("shell-weighing-early"),
            Self::InsulinFactor => message!("shell-insulin-factor"),
            Self::CarbohydrateFactor => message!("shell-carbohydrate-factor"),
            Self::FactorsFromCareTeam => message!("shell-factors-from-care-team"),
            Self::LowLine => message!("shell-low-line"),
            Self::HighLine => message!("shell-high-line"),
            Self::AlertBelow => message!("shell-alert-below"),
            Self::AlertAbove => message!("shell-alert-above"),
            Self::FloorStays => message!("shell-floor-stays"),
            Self::Save => message!("shell-save"),
            Self::Cancel => message!("shell-cancel"),
            Self::ScreenRecord => message!("shell-screen-record"),
            Self::ScreenReview => message!("shell-screen-review"),
            Self::ScreenSensors => message!("shell-screen-sensors"),
            Self::ScreenAlerts => message!("shell-screen-alerts"),
            Self::ScreenLearnt => message!("shell-screen-learnt"),
            Self::DaysBack => message!("shell-days-back"),
            Self::RatedDays => message!("shell-rated-days"),
            Self::ShowThese => message!("shell-show-these"),
            Self::SensorSheet => message!("shell-sensor-sheet"),
            Self::PrintReview => message!("shell-print-review"),
            Self::TryDelay => message!("shell-try-delay"),
            Self::TryRepeat => message!("shell-try-repeat"),
            Self::Replay => message!("shell-replay"),
            Self::LearnNow => message!("shell-learn-now"),
            Self::NothingLearnt => message!("shell-nothing-learnt"),
            Self::AimsName => message!("shell-aims-name"),
            Self::AimsAdult => message!("shell-aims-adult"),
            Self::AimsOlder => message!("shell-aims-older"),
            Self::AimsPregnancy => message!("shell-aims-pregnancy"),
            Self::CompressionLows => message!("shell-compression-lows"),
            Self::CompressionIn => message!("shell-compression-in"),
            Self::CompressionOut => message!("shell-compression-out"),
            Self::ReadFile => message!("shell-read-file"),
            Self::FindSensor => message!("shell-find-sensor"),
            Self::ScreenSupplies => message!("shell-screen-supplies"),
            Self::ScreenOutcomes => message!("shell-screen-outcomes"),
            Self::ScreenCopies => message!("shell-screen-copies"),
            Self::WhichSupply => message!("shell-which-supply"),
            Self::SupplyStocked => message!("shell-supply-stocked"),
            Self::SupplyAmount => message!("shell-supply-amount"),
            Self::SupplyExpires => message!("shell-supply-expires"),
            Self::SupplyPrice => message!("shell-supply-price"),
            Self::SupplyCurrency => message!("shell-supply-currency"),
            Self::SupplyFrom => message!("shell-supply-from"),
            Self::LeadDays => message!("shell-lead-days"),
            Self::Statement => message!("shell-statement"),
            Self::SaveText => message!("shell-save-text"),
            Self::WriteTable => message!("shell-write-table"),
            Self::WriteBundle => message!("shell-write-bundle"),
            Self::SealLog => message!("shell-seal-log"),
            Self::RecoverWhy => message!("shell-recover-why"),
            Self::RecoverLog => message!("shell-recover-log"),
            Self::RecoverThen => message!("shell-recover-then"),
            Self::PassphraseAgain => message!("shell-passphrase-again"),
            Self::PassphrasesDiffer => message!("shell-passphrases-differ"),
            Self::PassphraseLost => message!("shell-passphrase-lost"),
            Self::LookIntoOther => message!("shell-look-into-other"),
            Self::PassphraseOfCopy => message!("shell-passphrase-of-copy"),
            Self::Merge => message!("shell-merge"),
            Self::MergeAnyway => message!("shell-merge-anyway"),
            Self::CopyRestores => message!("shell-copy-restores"),
            Self::NothingNew => message!("shell-nothing-new"),
            Self::GetHelp => message!("shell-get-help"),
            Self::HelpNow => message!("shell-help-now"),
            Self::HelpMeanwhile => message!("shell-help-meanwhile"),
            Self::CallEmergency => message!("shell-call-emergency"),
            Self::CallContact => message!("shell-call-contact"),
            Self::EmergencyNumber => message!("shell-emergency-number"),
            Self::ContactNumber => message!("shell-contact-number"),
            Self::Meter => message!("shell-meter"),
            Self::FeelLowShort => message!("shell-feel-low-short"),
            Self::More => message!("shell-more"),
            Self::Less => message!("shell-less"),
            Self::Back => message!("shell-back"),
            Self::AddEntry => message!("shell-add-entry"),
            Self::FirstTitle => message!("shell-first-title"),
            Self::FirstIs => message!("shell-first-is"),
            Self::Agree => message!("shell-agree"),
            Self::Next => message!("shell-next"),
            Self::WhereFrom => message!("shell-where-from"),
            Self::SensorWhy => message!("shell-sensor-why"),
            Self::SensorRefused => message!("shell-sensor-refused"),
            Self::FileWhy => message!("shell-file-why"),
            Self::NoReadings => message!("shell-no-readings"),
            Self::ReadOnlyLog => message!("shell-read-only-log"),
            Self::AlertsOff => message!("shell-alerts-off"),
            Self::StandingChannel => message!("shell-standing-channel"),
            Self::QuietChannel => message!("shell-quiet-channel"),
            Self::LeftChannel => message!("shell-left-channel"),
            Self::WakesAllowed => message!("shell-wakes-allowed"),
            Self::WakesWhy => message!("shell-wakes-why"),
            Self::SilentMutes => message!("shell-silent-mutes"),
            Self::LockedAfterStart => message!("shell-locked-after-start"),
            Self::TryAlert => message!("shell-try-alert"),
            Self::TriedAlert => message!("shell-tried-alert"),
            Self::Done => message!("shell-done"),
            Self::KeepPlan => message!("shell-keep-plan"),
            Self::LostAfter => message!("shell-lost-after"),
            Self::ScreenBefore => message!("shell-screen-before"),
            Self::BeforeOpen => message!("shell-before-open"),
            Self::BeforeWhat => message!("shell-before-what"),
            Self::BeforeSleep => message!("shell-before-sleep"),
            Self::BeforeDriving => message!("shell-before-driving"),
            Self::BeforeActivity => message!("shell-before-activity"),
            Self::BeforeSleepOpen => message!("shell-before-sleep-open"),
            Self::SensorFound => message!("shell-sensor-found"),
            Self::SensorConnected => message!("shell-sensor-connected"),
            Self::SensorLost => message!("shell-sensor-lost"),
            Self::LeaveSource => message!("shell-leave-source"),
            Self::ReadHealth => message!("shell-read-health"),
            Self::HealthWhy => message!("shell-health-why"),
            Self::HealthRefused => message!("shell-health-refused"),
            Self::HealthMissing => message!("shell-health-missing"),
            Self::HealthBusy => message!("shell-health-busy"),
            Self::HealthFailed => message!("shell-health-failed"),
            Self::HealthStays => message!("shell-health-stays"),
            Self::NoMedicalDevice => message!("shell-no-medical-device"),
        }
    }
}

impl Words {
    /// A short text for a shell's screen.
    #[must_use]
    pub fn shell_label(self, label: ShellLabel) -> &'static str {
        self.text(label.message())
    }

    /// The button on a notification that puts alerts off for so long.
    #[must_use]
    pub fn snooze(self, minutes: f64) -> String {
        say!(self, "shell-snooze", minutes = self.decimal(minutes, 0))
    }

    /// That the log's file was there and empty, and what to do.
    #[must_use]
    pub fn was_empty(self) -> &'static str {
        text!(self, "advice-log-was-empty")
    }

    /// That an answer on a notification was not noted: what rang then is long past.
    #[must_use]
    pub fn late_answer(self, rang_at: Moment) -> String {
        say!(self, "shell-late-answer", clock = rang_at.clock())
    }

    /// An error as advice, without what was given, without paths: fit for a message that may be kept in a crash report.
    #[must_use]
    pub fn advice(self, error: &Error) -> String {
        let fixed = match error {
            Error::OutOfRange { low, high, unit, .. } => {
                let between = |low: f64, high: f64, unit: &str| {
                    let low = if low < 0.1 { self.numbers.taken(low) } else { self.numbers.tenths(low) };
                    let high = self.numbers.tenths(high);
                    say!(self, "advice-give-amount-from-to", low, high, unit)
                };
                return match (*unit, self.numbers.unit) {
                    // Lines and amounts are checked in mg/dL, and typed in the wearer's unit.
                    (Unit::MgDl, GlucoseUnit::MmolL) => {
                        between(low / MG_DL_PER_MMOL_L, high / MG_DL_PER_MMOL_L, GlucoseUnit::MmolL.code())
                    }
                    (unit, _) => between(*low, *high, self.unit_name(unit)),
                };
            }
            Error::Invalid { what: Quantity::Time, .. } => text!(self, "advice-time-cannot-be-lies-ahead"),
            Error::Invalid { what: Quantity::Text | Quantity::Source, .. } => {
                text!(self, "advice-write-short-text-without-control")
            }
            Error::Invalid { what: Quantity::Number, .. } => text!(self, "advice-write-number-such-as-5"),
            Error::Invalid { why: Why::KetonesTooHigh, .. } => text!(self, "advice-ketones-too-high"),
            Error::Invalid { what: Quantity::Glucose, .. } => text!(self, "advice-amount-only-fits-other-unit"),
            Error::Invalid { .. } => text!(self, "advice-cannot-be-taken-as-check"),
            Error::WrongPassphrase { .. } => text!(self, "advice-passphrase-does-not-open-file"),
            Error::NotASealedLog { .. } => text!(self, "advice-no-sealed-log-or-newer"),
            Error::DamagedSealedLog { .. } => text!(self, "advice-sealed-log-damaged-nothing-taken"),
            Error::NoSuchEntry { .. } => text!(self, "advice-there-no-such-entry-in"),
            Error::Import { .. } => text!(self, "advice-file-could-not-be-understood"),
            Error::File { .. } => text!(self, "advice-file-cannot-be-opened-choose"),
            Error::NotALog { .. } => text!(self, "advice-file-no-ebbstead-log-left"),
            Error::NewerLog { .. } => text!(self, "advice-log-written-by-newer-ebbstead"),
            Error::DamagedLog { .. } => text!(self, "advice-log-damaged-and-kept-as"),
            Error::DiskFull { .. } => text!(self, "advice-no-room-left-on-device"),
            Error::ReadOnly { .. } => text!(self, "advice-log-cannot-be-written"),
            Error::Gone { .. } => text!(self, "advice-log-deleted-moved-or-replaced"),
            Error::Busy { .. } => text!(self, "advice-something-else-writing-to-log"),
            Error::Database { .. } => text!(self, "advice-log-could-not-be-used"),
        };
        fixed.to_owned()
    }

    /// What to do when a log that was closed is used, or the core failed in a way it should not.
    #[must_use]
    pub fn closed_or_failed(self) -> &'static str {
        text!(self, "advice-log-not-open-open-app")
    }

    /// Reads a number as typed, with a point or a comma before the decimals.
    ///
    /// # Errors
    /// [`Error::Invalid`] where it is no finite number, or where the sign may be one for thousands: `1,000` in English.
    pub fn read_number(self, typed: &str) -> Result<f64> {
        if self.may_be_thousands(typed.trim()) {
            let why = Why::TwoWays { given: typed.trim().to_owned() };
            return Err(Error::Invalid { what: Quantity::Number, why });
        }
        let number = typed.trim().replace(',', ".").parse::<f64>().ok().filter(|number| number.is_finite());
        number.ok_or_else(|| Error::Invalid { what: Quantity::Number, why: Why::NoNumber })
    }

    fn may_be_thousands(self, typed: &str) -> bool {
        let mark = if self.numbers.decimal_mark == ',' { '.' } else { ',' };
        let digits = |text: &str| text.bytes().all(|one| one.is_ascii_digit());
        typed.split_once(mark).is_some_and(|(whole, rest)| {
            (1..=3).contains(&whole.len())
                && !whole.starts_with('0')
                && digits(whole)
                && rest.len() == 3
                && digits(rest)
        })
    }

    /// A plain number as it would be typed, so that [`Words::read_number`] reads it again to the last digit.
    #[must_use]
    pub(crate) fn typed_number(self, number: f64) -> String {
        self.numbers.localised(number.to_string())
    }

    /// Reads an amount of glucose as typed, in the unit the wearer reads.
    ///
    /// # Errors
    /// As [`Words::read_number`]; [`Error::Invalid`] where the amount fits only the other unit, [`Error::OutOfRange`] where
    /// it fits neither.
    pub fn read_glucose(self, typed: &str) -> Result<Glucose> {
        let number = self.read_number(typed)?;
        let other = match self.numbers.unit {
            GlucoseUnit::MgDl => GlucoseUnit::MmolL,
            GlucoseUnit::MmolL => GlucoseUnit::MgDl,
        };
        match (Glucose::new(number, self.numbers.unit), Glucose::new(number, other)) {
            (Ok(glucose), _) => Ok(glucose),
            (Err(error), Err(_)) => Err(error.into()),
            (Err(_), Ok(_)) => Err(Error::Invalid { what: Quantity::Glucose, why: Why::FitsOtherUnit }),
        }
    }

    /// Reads what a meter shows as typed: an amount in the unit the wearer reads, or that it was too low or too high to measure
    /// ([`typed_beyond`]).
    ///
    /// # Errors
    /// As [`Words::read_glucose`] and [`typed_beyond`].
    pub fn read_meter(self, typed: &str) -> Result<Shown> {
        match typed_beyond(typed, self.numbers.unit, Instrument::Meter)? {
            Some(shown) => Ok(shown),
            None => self.read_glucose(typed).map(Shown::from),
        }
    }

    /// Reads what a ketone meter shows as typed, in mmol/L: an amount, or that it was too low to measure, which is as good as
    /// none.
    ///
    /// # Errors
    /// As [`Words::read_number`]; [`Why::KetonesTooHigh`] where it was too high to measure: there is no number, and what it
    /// means cannot wait for one.
    pub fn read_ketones(self, typed: &str) -> Result<f64> {
        match typed_beyond(typed, GlucoseUnit::MmolL, Instrument::Meter) {
            Ok(Some(Shown { beyond: Some(Beyond::Above), .. })) => {
                Err(Error::Invalid { what: Quantity::Ketones, why: Why::KetonesTooHigh })
            }
            Ok(Some(Shown { beyond: Some(Beyond::Below), .. })) => Ok(0.0),
            _ => self.read_number(typed),
        }
    }

    /// A meter check as it would be typed, so that [`Words::read_meter`] reads it again: `104`, `LO`, `HI`, `<30`.
    #[must_use]
    pub(crate) fn typed_meter(self, shown: Shown) -> String {
        let amount = self.bare_amount(shown.glucose.mg_dl());
        match shown.beyond {
            None => amount,
            Some(Beyond::Below) if shown.glucose == Instrument::Meter.limit(Beyond::Below) => "LO".to_owned(),
            Some(Beyond::Above) if shown.glucose == Instrument::Meter.limit(Beyond::Above) => "HI".to_owned(),
            Some(Beyond::Below) => format!("<{amount}"),
            Some(Beyond::Above) => format!(">{amount}"),
        }
    }

    /// Reads a difference of glucose (a factor a unit or a gram) as typed in the wearer's unit, in mg/dL.
    ///
    /// # Errors
    /// As [`Words::read_number`].
    pub fn read_difference_mg_dl(self, typed: &str) -> Result<f64> {
        let number = self.read_number(typed)?;
        Ok(match self.numbers.unit {
            GlucoseUnit::MgDl => number,
            GlucoseUnit::MmolL => number * MG_DL_PER_MMOL_L,
        })
    }

    /// A difference of glucose in mg/dL as it would be typed in the wearer's unit: as short as it can be without
    /// changing when it is read back to a hundredth.
    #[must_use]
    pub fn difference(self, mg_dl: f64) -> String {
        let number = match self.numbers.unit {
            GlucoseUnit::MgDl => mg_dl,
            GlucoseUnit::MmolL => mg_dl / MG_DL_PER_MMOL_L,
        };
        let text = format!("{number:.2}");
        self.numbers.localised(text.trim_end_matches('0').trim_end_matches('.').to_owned())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wearer::Language;

    const ENGLISH: Words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    const GERMAN_MMOL: Words = Words::new(Language::GERMAN, GlucoseUnit::MmolL);

    #[test]
    fn typed_amounts_are_read_in_the_wearers_unit() {
        assert!((GERMAN_MMOL.read_glucose("5,8").unwrap().mmol_l() - 5.8).abs() < 1e-9);
        assert!((ENGLISH.read_glucose(" 104 ").unwrap().mg_dl() - 104.0).abs() < 1e-9);
        assert!(matches!(ENGLISH.read_glucose("5.8"), Err(Error::Invalid { what: Quantity::Glucose, .. })));
        assert!(matches!(GERMAN_MMOL.read_glucose("104"), Err(Error::Invalid { what: Quantity::Glucose, .. })));
        assert!(matches!(ENGLISH.read_glucose("9000"), Err(Error::OutOfRange { .. })));
        for bad in ["", "abc", "1e999", "NaN", "inf", "1.2.3"] {
            assert!(ENGLISH.read_number(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn numbers_are_written_as_they_are_typed() {
        for (number, english, german) in [(15.0, "15", "15"), (4.5, "4.5", "4,5"), (0.05, "0.05", "0,05")] {
            assert_eq!(
                (ENGLISH.typed_number(number), GERMAN_MMOL.typed_number(number)),
                (english.to_owned(), german.to_owned())
            );
            assert!((GERMAN_MMOL.read_number(german).unwrap() - number).abs() < 1e-12);
        }
    }

    #[test]
    fn a_sign_for_thousands_is_not_taken_for_decimals() {
        for (words, two_ways, read) in [
            (ENGLISH, ["1,000", "12,500"], [("1.000", 1.0), ("0,125", 0.125), ("12,5", 12.5), ("1,25", 1.25)]),
            (GERMAN_MMOL, ["1.000", "12.500"], [("1,000", 1.0), ("0.125", 0.125), ("12.5", 12.5), ("1.25", 1.25)]),
        ] {
            for typed in two_ways {
                let refused = format!("{:?}", words.read_number(typed));
                assert!(refused.contains("TwoWays"), "{typed}: {refused}");
            }
            for (typed, number) in read {
                assert!((words.read_number(typed).unwrap() - number).abs() < 1e-9, "{typed}");
            }
        }
    }

    #[test]
    fn factors_come_back_as_they_were_typed() {
        for typed in ["2,2", "0,19", "3", "2,25"] {
            let kept = GERMAN_MMOL.read_difference_mg_dl(typed).unwrap();
            assert_eq!(GERMAN_MMOL.difference(kept), typed);
        }
        assert_eq!(ENGLISH.difference(40.0), "40");
    }

    #[test]
    fn advice_never_repeats_what_was_given() {
        let given =
            Error::OutOfRange { what: Quantity::LowLine, given: 12345.0, low: 60.0, high: 120.0, unit: Unit::MgDl };
        assert_eq!(ENGLISH.advice(&given), "Give an amount from 60 to 120 mg/dL.");
        assert_eq!(GERMAN_MMOL.advice(&given), "Gib einen Wert von 3,3 bis 6,7 mmol/L an.");
        let rated =
            Error::OutOfRange { what: Quantity::RatedLength, given: 900.0, low: 1.0, high: 365.0, unit: Unit::Days };
        assert_eq!(GERMAN_MMOL.advice(&rated), "Gib einen Wert von 1 bis 365 Tagen an.");
        let secret = Error::NotALog { path: "/home/somebody/secret".into() };
        assert!(!ENGLISH.advice(&secret).contains("somebody"));
    }
}
