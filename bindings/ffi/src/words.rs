//! Short texts, and amounts as typed and as written.

use std::sync::Arc;

use ebbstead_core::time;
use ebbstead_core::words::{ShellLabel, Words};

use crate::companion::Shared;
use crate::error::ApiResult;
use crate::mirror::mirrored_names;
use crate::records::Moment;
use crate::settings::spoken;

mirrored_names! {
    /// A short text on a screen.
    Label = ebbstead_core::words::ShellLabel {
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
        /// Beside the low line: what cannot be moved, with its amount.
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
        PressedCount,
        /// They count.
        PressedIn,
        /// They do not.
        PressedOut,
        /// Takes readings from a file.
        ReadFile,
        /// Takes readings from a sensor nearby.
        FindSensor,
        /// The page with the supplies.
        ScreenSupplies,
        /// The page with what came of the prompts.
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
        /// On the screen that calls: what to do meanwhile.
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
        /// Asks to let alerts come.
        WakesAllowed,
        /// Beside that: why the phone asks.
        WakesWhy,
        /// A phone whose silent mode mutes alerts.
        SilentMutes,
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
}

/// Writes and reads in the wearer's language and unit.
#[derive(uniffi::Object)]
pub struct WordsPart {
    pub(crate) shared: Arc<Shared>,
}

/// A short text without a log, while none is open. `language` is as for [`crate::help_page`].
///
/// # Errors
/// None; it returns a result so that nothing can end the host app.
#[uniffi::export]
#[allow(clippy::needless_pass_by_value)] // the generated code hands over an owned string
pub fn label_without_log(language: String, label: Label) -> ApiResult<String> {
    Ok(labelled(spoken(&language), label))
}

fn labelled(words: Words, label: Label) -> String {
    let text = words.shell_label(ShellLabel::from(label));
    match label {
        Label::FloorStays => format!("{text} {}", words.amount(ebbstead_core::wearer::FLOOR_LINE_MG_DL)),
        Label::NoMedicalDevice => words.marked(text),
        _ => text.to_owned(),
    }
}

#[uniffi::export]
impl WordsPart {
    /// A short text.
    ///
    /// # Errors
    /// None; it returns a result so that nothing can end the host app. So do the others here, but for what is typed.
    pub fn label(&self, label: Label) -> ApiResult<String> {
        Ok(labelled(self.shared.words(), label))
    }

    /// Where the language is a draft: what to write above every screen. Pages, forms and prompts carry it too.
    ///
    /// # Errors
    /// None; it returns a result so that nothing can end the host app.
    pub fn draft(&self) -> ApiResult<Option<String>> {
        Ok(self.shared.words().draft().map(str::to_owned))
    }

    /// The name of the unit.
    ///
    /// # Errors
    /// None.
    pub fn unit(&self) -> ApiResult<String> {
        Ok(self.shared.words().unit().code().to_owned())
    }

    /// The hour and minute on the wearer's clock.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for a time outside 2000 to 2199.
    pub fn clock(&self, at: Moment) -> ApiResult<String> {
        time::Moment::try_from(at).map(time::Moment::clock).map_err(|error| self.shared.refused(&error))
    }
}

/// A text that may break within its long words: with soft hyphens (U+00AD), for a phone that divides none by itself and large type.
#[uniffi::export]
#[must_use]
pub fn breakable(text: &str) -> String {
    ebbstead_core::words::breakable(text)
}
