//! Short texts, and amounts as typed and as written.

use std::sync::Arc;

use ebbstead_core::words::{ShellLabel, Words};
use ebbstead_core::{first, time};

use crate::companion::Shared;
use crate::error::ApiResult;
use crate::mirror::mirrored_names;
use crate::records::Moment;
use crate::settings::spoken;

/// Those of core's short texts that a shell writes itself; all others stand on screens that core lays out.
macro_rules! labels {
    ($(#[$about:meta])* $name:ident { $($(#[$says:meta])* $here:ident,)+ }) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, uniffi::Enum, serde::Serialize)]
        pub enum $name { $($(#[$says])* $here),+ }

        impl From<$name> for ShellLabel {
            fn from(here: $name) -> Self {
                match here { $($name::$here => Self::$here),+ }
            }
        }
    };
}

labels! {
    /// A short text on a screen.
    Label {
        /// The screen with the prompt.
        ScreenNow,
        /// The screen with the log.
        ScreenLog,
        /// The screen with the settings.
        ScreenSettings,
        /// Asks again.
        LookNow,
        /// Puts an entry right.
        PutRight,
        /// Takes an entry back.
        TakeBack,
        /// Beside what was kept.
        Kept,
        /// Leaves without a change.
        Cancel,
        /// The screen that leads to the record's pages.
        ScreenRecord,
        /// The page with the alerts, replayed.
        ScreenAlerts,
        /// Takes readings from a sensor nearby.
        FindSensor,
        /// The page where the log goes out and another comes in.
        ScreenCopies,
        /// Beside a copy that is to be taken into an empty log.
        CopyRestores,
        /// Beside another log that has nothing this one has not.
        NothingNew,
        /// Leads to whom to call.
        GetHelp,
        /// Leaves a screen.
        Back,
        /// Opens the kinds that can be noted.
        AddEntry,
        /// Over the first start.
        FirstTitle,
        /// Asks where readings come from.
        WhereFrom,
        /// Why none can be looked for.
        SensorRefused,
        /// There are no readings.
        NoReadings,
        /// The phone does not let every alert ring.
        AlertsOff,
        /// The notification that stays.
        StandingChannel,
        /// Notifications of alerts that wake nobody, and of what is said beside them.
        QuietChannel,
        /// The notification that is left of an alert.
        LeftChannel,
        /// A phone whose silent mode mutes alerts.
        SilentMutes,
        /// The phone was started and is locked: nothing can be read until it is not.
        LockedAfterStart,
        /// Rings once, for the wearer to hear it.
        TryAlert,
        /// On what rings then.
        TriedAlert,
        /// The screen that asks ahead.
        ScreenBefore,
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

mirrored_names! {
    /// What became of a source of readings.
    SourceState = ebbstead_core::first::SourceState {
        /// It is nearby.
        Found,
        /// It is connected.
        Connected,
        /// It is out of reach, and waited for.
        Lost,
        /// It is read and gave nothing.
        Silent,
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
    let text = words.shell_label(label.into());
    match label {
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

    /// A source that was found or is read, on one line: its name, what became of it, when it last said something.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] for a time outside 2000 to 2199.
    pub fn source(&self, name: &str, state: Option<SourceState>, heard: Option<Moment>) -> ApiResult<String> {
        let heard = heard.map(time::Moment::try_from).transpose().map_err(|error| self.shared.refused(&error))?;
        Ok(first::source_line(name, state.map(Into::into), heard, self.shared.words()))
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
