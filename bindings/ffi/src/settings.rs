//! The wearer's own settings.

use std::sync::Arc;

use ebbstead_core::country::Country;
use ebbstead_core::time::DayHours;
use ebbstead_core::units::Glucose;
use ebbstead_core::words::{ShellLabel, Spoken, Words};
use ebbstead_core::{Error, Result, forms, settings, units, wearer};

use crate::companion::Shared;
use crate::error::ApiResult;
use crate::form::{Filled, Form, FormAnswer, filled};
use crate::help::{HelpPage, help_page};
use crate::mirror::mirrored_names;
use crate::records::Moment;

mirrored_names! {
    /// Which unit a person reads glucose in.
    GlucoseUnit = ebbstead_core::units::GlucoseUnit {
        /// Milligrams per decilitre.
        MgDl,
        /// Millimoles per litre.
        MmolL,
    }
}

mirrored_names! {
    /// How the wearer weighs a needless treat against a missed low.
    TreatPreference = ebbstead_core::wearer::TreatPreference {
        /// Fewer and later prompts to treat.
        Sparing,
        /// The usual weighing.
        Balanced,
        /// Earlier prompts to treat, more of them needless.
        Early,
    }
}

/// Settings of one wearer. Amounts in mg/dL whatever the unit shown.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct Wearer {
    /// The unit to show.
    pub unit: GlucoseUnit,
    /// The language of sentences, by its tag of BCP 47: `en`. One that has no words here is spoken in English, and stays as it is.
    pub language: String,
    /// The wearer's own low line, 60 to 120 mg/dL.
    pub low_line_mg_dl: f64,
    /// The wearer's own high line, 140 to 400 mg/dL.
    pub high_line_mg_dl: f64,
    /// First minute of the local day that belongs to the night, 0 to 1439.
    pub night_from_minute: u16,
    /// First minute of the local day that no longer does, 0 to 1439.
    pub night_until_minute: u16,
    /// How a needless treat weighs against a missed low.
    pub weighing: TreatPreference,
    /// Whether the wearer feels a low in time, mostly. Not feeling them makes a missed low weigh more.
    #[uniffi(default = true)]
    pub feels_lows: bool,
    /// Whether mostly nobody is near who could help. It makes a missed low weigh more.
    #[uniffi(default = false)]
    pub is_alone: bool,
    /// How much 1 unit of rapid insulin lowers glucose, in mg/dL, as set with the care team; 5 to 400.
    pub insulin_factor_mg_dl_per_unit: Option<f64>,
    /// How much 1 g of carbohydrate raises glucose, in mg/dL, as set with the care team; 0.5 to 40.
    pub carbohydrate_factor_mg_dl_per_g: Option<f64>,
    /// How many days the wearer's sensors are rated for, 1 to 365.
    #[uniffi(default = None)]
    pub sensor_rated_days: Option<u16>,
    /// How many days pass between ordering supplies and having them, 0 to 365.
    #[uniffi(default = None)]
    pub reorder_lead_days: Option<u16>,
    /// The number to dial in an emergency; [`crate::help_page`] says which holds where none is set.
    #[uniffi(default = None)]
    pub emergency_number: Option<String>,
    /// The number of somebody to call besides.
    #[uniffi(default = None)]
    pub contact_number: Option<String>,
    /// The country whose rules of the road apply, as the two letters of ISO 3166-1.
    #[uniffi(default = None)]
    pub country: Option<String>,
    /// When the wearer gets up, in minutes of the local day, 0 to 1439; the end of the night where nothing is set.
    #[uniffi(default = None)]
    pub morning_minute: Option<u16>,
}

impl From<wearer::Wearer> for Wearer {
    fn from(core: wearer::Wearer) -> Self {
        let wearer::Wearer {
            unit,
            language,
            low_line,
            high_line,
            night: DayHours { from_minute, until_minute },
            treat_preference,
            feels_lows,
            is_alone,
            insulin_factor_mg_dl_per_unit,
            carbohydrate_factor_mg_dl_per_g,
            // Kept as it is by `set_wearer`; no shell changes it yet.
            followed_sensor: _,
            sensor_rated_days,
            reorder_lead_days,
            // Kept as it is by `set_wearer`; see `AlertsPart`.
            alert_plan: _,
            emergency_number,
            contact_number,
            country,
            morning_minute,
        } = core;
        Self {
            unit: unit.into(),
            language: language.to_string(),
            low_line_mg_dl: low_line.mg_dl(),
            high_line_mg_dl: high_line.mg_dl(),
            night_from_minute: from_minute,
            night_until_minute: until_minute,
            weighing: treat_preference.into(),
            feels_lows,
            is_alone,
            insulin_factor_mg_dl_per_unit,
            carbohydrate_factor_mg_dl_per_g,
            sensor_rated_days,
            reorder_lead_days,
            emergency_number,
            contact_number,
            country: country.map(Into::into),
            morning_minute,
        }
    }
}

impl TryFrom<Wearer> for wearer::Wearer {
    type Error = Error;
    fn try_from(here: Wearer) -> Result<Self> {
        let Wearer {
            unit,
            language,
            low_line_mg_dl,
            high_line_mg_dl,
            night_from_minute,
            night_until_minute,
            weighing,
            feels_lows,
            is_alone,
            insulin_factor_mg_dl_per_unit,
            carbohydrate_factor_mg_dl_per_g,
            sensor_rated_days,
            reorder_lead_days,
            emergency_number,
            contact_number,
            country,
            morning_minute,
        } = here;
        let core = Self {
            unit: unit.into(),
            language: wearer::Language::parse(&language)?,
            low_line: Glucose::from_mg_dl(low_line_mg_dl)?,
            high_line: Glucose::from_mg_dl(high_line_mg_dl)?,
            night: DayHours::new(night_from_minute, night_until_minute)?,
            treat_preference: weighing.into(),
            feels_lows,
            is_alone,
            insulin_factor_mg_dl_per_unit,
            carbohydrate_factor_mg_dl_per_g,
            followed_sensor: None,
            sensor_rated_days,
            reorder_lead_days,
            alert_plan: None,
            emergency_number,
            contact_number,
            country: country.as_deref().map(Country::parse).transpose()?,
            morning_minute,
        };
        core.check()?;
        Ok(core)
    }
}

/// A language that can be chosen.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct Language {
    /// Its tag of BCP 47: `en`. It stands for the language in every call.
    pub tag: String,
    /// Its own name for itself.
    pub name: String,
}

/// The languages to choose from, English first. A draft, which no native speaker of the trade has read yet, is not among them:
/// whoever asks for it passes its tag.
///
/// # Errors
/// None; it returns a result so that nothing can end the host app.
#[uniffi::export]
pub fn languages() -> ApiResult<Vec<Language>> {
    let offered = Spoken::offered(wearer::Language::default()).into_iter();
    Ok(offered.map(|(tag, name)| Language { tag, name }).collect())
}

/// What a shell's language is spoken in: itself, or English where it has no words.
pub(crate) fn spoken(language: &str) -> Words {
    Words::new(wearer::Language::parse(language).unwrap_or_default(), units::GlucoseUnit::default())
}

/// Reads and keeps the wearer's settings.
#[derive(uniffi::Object)]
pub struct SettingsPart {
    pub(crate) shared: Arc<Shared>,
}

#[uniffi::export]
impl SettingsPart {
    /// The settings; the usual ones where none were set.
    ///
    /// # Errors
    /// [`crate::ApiError::Closed`], `Damaged`, `Busy`, `Failed`.
    pub fn wearer(&self) -> ApiResult<Wearer> {
        self.shared.with(|log| log.wearer()).map(Into::into)
    }

    /// Whether the wearer has set anything yet; until then the unit and the language are not theirs: ask.
    ///
    /// # Errors
    /// As [`SettingsPart::wearer`].
    pub fn are_set(&self) -> ApiResult<bool> {
        self.shared.with(|log| Ok(!log.wearer_changes()?.is_empty()))
    }

    /// Whom to call.
    ///
    /// # Errors
    /// As [`SettingsPart::wearer`].
    pub fn help(&self) -> ApiResult<HelpPage> {
        let wearer = self.shared.with(|log| log.wearer())?;
        Ok(help_page(wearer.language.to_string(), wearer.emergency_number, wearer.contact_number))
    }

    /// The form of all settings, with what was filled in and why it cannot be taken; pass nothing at first.
    ///
    /// # Errors
    /// As [`SettingsPart::wearer`].
    pub fn form(&self, filled_in: Filled) -> ApiResult<Form> {
        let wearer = self.shared.with(|log| log.wearer())?;
        Ok(forms::settings::read(&filled(filled_in), &wearer, Words::of(&wearer)).0.into())
    }

    /// Keeps what was filled in, all of it or nothing. What was not touched stays as it was. The watcher is notified.
    ///
    /// # Errors
    /// Those of writing. What cannot be taken is no error but advice beside its field.
    pub fn keep(&self, filled_in: Filled, now: Moment) -> ApiResult<FormAnswer> {
        let filled_in = filled(filled_in);
        let (form, kept) = self.shared.write(|log| settings::keep(log, &filled_in, now.try_into()?))?;
        let message = kept.map(|words| {
            self.shared.settings_changed(words);
            words.shell_label(ShellLabel::Kept).to_owned()
        });
        Ok(FormAnswer { form: form.into(), page: None, message })
    }

    /// Keeps settings. The watcher is notified.
    ///
    /// # Errors
    /// [`crate::ApiError::InvalidInput`] naming the field that cannot be, a language without words among them unless it was set
    /// before; those of writing.
    pub fn set_wearer(&self, wearer: Wearer, now: Moment) -> ApiResult<()> {
        let words = self.shared.write(|log| {
            let kept = log.wearer()?;
            let wearer: wearer::Wearer = wearer.try_into()?;
            if wearer.language != kept.language {
                Spoken::require(wearer.language)?;
            }
            let followed_sensor = kept.followed_sensor.clone();
            let wearer = wearer::Wearer { followed_sensor, alert_plan: kept.alert_plan, ..wearer };
            Ok(Words::of(&settings::store(log, &kept, wearer, now.try_into()?)?))
        })?;
        self.shared.settings_changed(words);
        Ok(())
    }
}
