//! The wearer's own settings. They come from the wearer and their care team; the core never invents one.

use std::fmt::{self, Write};

use serde::{Deserialize, Serialize};

use crate::country::Country;
use crate::error::{Error, Quantity, Result, Unit, Why};
use crate::log::{Beyond, SensorEvent, Shown, Source};
use crate::time::DayHours;
use crate::units::{Glucose, GlucoseUnit};

/// Below this a low is serious (level 2), in mg/dL; it can neither be moved nor turned off.
///
/// # Source
/// Battelino et al., Diabetes Care 2019;42:1593-1603; level 2 hypoglycaemia is below 54 mg/dL (3.0 mmol/L).
pub const FLOOR_LINE_MG_DL: f64 = 54.0;
/// The low line unless the wearer sets another, in mg/dL (level 1 hypoglycaemia is below it; same source).
pub const LOW_LINE_MG_DL: f64 = 70.0;
/// The high line unless the wearer sets another, in mg/dL (above range begins there; same source).
pub const HIGH_LINE_MG_DL: f64 = 180.0;
/// Above this glucose is very high (level 2), in mg/dL; same source.
pub const VERY_HIGH_LINE_MG_DL: f64 = 250.0;

/// The least insulin factor taken, in mg/dL a unit. By the usual estimate, 1800 mg/dL over a day's units, it is that of 360 units a
/// day (common practice, no source); what is less was meant in mmol/L, where 2 to 3 is usual.
const LEAST_INSULIN_FACTOR_MG_DL: f64 = 5.0;
/// The least carbohydrate factor taken, in mg/dL a gram. A gram in a body of 100 kg raises glucose by about 3, and an insulin factor
/// over the grams that a unit covers can come to a little under 1; what is less than half was meant in mmol/L (common practice, no
/// source).
const LEAST_CARBOHYDRATE_FACTOR_MG_DL: f64 = 0.5;

/// The number for an emergency unless the wearer sets another.
///
/// # Source
/// Phones know 112 as an emergency number wherever they are, with or without a SIM: 3GPP TS 22.101, clause 10.1.1; it is the
/// European number too (Directive 2018/1972, article 109).
pub const EMERGENCY_NUMBER: &str = "112";
/// A lost signal alerts after this long unless the wearer sets another time, in minutes; an assumption: two readings missed
/// of the slowest sensors, which read every 15.
const LOST_AFTER_MINUTES: f64 = 30.0;
/// A low that nobody answers alerts again after this long unless the wearer sets another time, in minutes; an assumption: the
/// quarter of an hour in which a treated low should be over.
const LOW_REPEAT_MINUTES: f64 = 15.0;
/// And so often at most where no repetition is set; an assumption.
pub const LOW_REPEATS: u32 = 3;

/// The language of sentences, as the primary tag of BCP 47 in small letters: `en`, `de`.
///
/// Which languages have words is not looked up here: a log may hold one that another build has words for.
///
/// # Source
/// RFC 5646 (BCP 47), section 2.2.1: a primary tag is 2 to 8 letters, in either case.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Language([u8; 8]);

impl Language {
    /// English, in which everything is said that a language has no words for.
    pub const ENGLISH: Self = Self(*b"en\0\0\0\0\0\0");
    /// German.
    pub const GERMAN: Self = Self(*b"de\0\0\0\0\0\0");

    /// Reads a primary tag.
    ///
    /// # Errors
    /// [`Error::Invalid`] for anything else.
    pub fn parse(text: &str) -> Result<Self> {
        let text = text.trim();
        if !(2..=8).contains(&text.len()) || !text.bytes().all(|letter| letter.is_ascii_alphabetic()) {
            return Err(Error::Invalid {
                what: Quantity::Language,
                why: Why::Malformed { given: text.to_owned(), like: "en" },
            });
        }
        let mut letters = [0; 8];
        letters.iter_mut().zip(text.bytes()).for_each(|(to, letter)| *to = letter.to_ascii_lowercase());
        Ok(Self(letters))
    }

    /// The letters of the tag, with zeros behind them.
    #[must_use]
    pub const fn octets(self) -> [u8; 8] {
        self.0
    }
}

impl Default for Language {
    fn default() -> Self {
        Self::ENGLISH
    }
}

impl fmt::Display for Language {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().filter(|&&letter| letter != 0).try_for_each(|&letter| f.write_char(letter.into()))
    }
}

impl TryFrom<String> for Language {
    type Error = Error;
    fn try_from(text: String) -> Result<Self> {
        Self::parse(&text)
    }
}

impl From<Language> for String {
    fn from(language: Language) -> Self {
        language.to_string()
    }
}

/// How the wearer weighs a needless treat against a missed low.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, Default)]
#[serde(rename_all = "snake_case")]
pub enum TreatPreference {
    /// A needless treat weighs more than usual: fewer prompts to treat, later ones.
    Sparing,
    /// The usual weighing.
    #[default]
    Balanced,
    /// A missed low weighs more than usual: earlier prompts to treat, more of them needless.
    Early,
}

/// Settings of one wearer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Wearer {
    /// The unit to show.
    pub unit: GlucoseUnit,
    /// The language of sentences.
    pub language: Language,
    /// The wearer's own low line.
    pub low_line: Glucose,
    /// The wearer's own high line.
    pub high_line: Glucose,
    /// The wearer's night, in local minutes of the day.
    pub night: DayHours,
    /// How a needless treat weighs against a missed low.
    #[serde(rename = "caution")]
    pub treat_preference: TreatPreference,
    /// Whether the wearer feels a low in time, mostly. Not feeling them makes a missed low weigh more.
    #[serde(skip_serializing_if = "is_yes")]
    pub feels_lows: bool,
    /// Whether mostly nobody is near who could help. It makes a missed low weigh more.
    #[serde(skip_serializing_if = "is_no")]
    pub is_alone: bool,
    /// How much 1 unit of rapid insulin lowers glucose, in mg/dL, as set with the care team.
    pub insulin_factor_mg_dl_per_unit: Option<f64>,
    /// How much 1 g of carbohydrate raises glucose, in mg/dL, as set with the care team.
    pub carbohydrate_factor_mg_dl_per_g: Option<f64>,
    /// The sensor to follow where two are worn at once, by the source of its readings; the one read first unless set.
    pub followed_sensor: Option<Source>,
    /// How many days the wearer's sensors are rated for, where an insertion does not say.
    pub sensor_rated_days: Option<u16>,
    /// How many days pass between ordering supplies and having them.
    pub reorder_lead_days: Option<u16>,
    /// When to be alerted; follows from the lines unless set.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub alert_plan: Option<Plan>,
    /// The number for an emergency; [`EMERGENCY_NUMBER`] unless set.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub emergency_number: Option<String>,
    /// The number of somebody to call before or after that.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub contact_number: Option<String>,
    /// The country whose rules of the road apply.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub country: Option<Country>,
    /// When the wearer gets up, in local minutes of the day; the end of the night unless set.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub morning_minute: Option<u16>,
}

// By reference, as serde asks for it.
const fn is_yes(it: &bool) -> bool {
    *it
}

const fn is_no(it: &bool) -> bool {
    !*it
}

impl Default for Wearer {
    fn default() -> Self {
        let line = |mg_dl: f64| Glucose::from_mg_dl(mg_dl).unwrap_or_else(|_| unreachable!("a constant within range"));
        Self {
            unit: GlucoseUnit::default(),
            language: Language::default(),
            low_line: line(LOW_LINE_MG_DL),
            high_line: line(HIGH_LINE_MG_DL),
            night: DayHours { from_minute: 23 * 60, until_minute: 7 * 60 },
            treat_preference: TreatPreference::default(),
            feels_lows: true,
            is_alone: false,
            insulin_factor_mg_dl_per_unit: None,
            carbohydrate_factor_mg_dl_per_g: None,
            followed_sensor: None,
            sensor_rated_days: None,
            reorder_lead_days: None,
            alert_plan: None,
            emergency_number: None,
            contact_number: None,
            country: None,
            morning_minute: None,
        }
    }
}

impl Wearer {
    /// What a decision goes by, in mg/dL. Where glucose was too low to measure it is below the low line, wherever the instrument's limit
    /// lies; too high to measure, above the high line.
    #[must_use]
    pub(crate) fn goes_by_mg_dl(&self, shown: Shown) -> f64 {
        let mg_dl = shown.glucose.mg_dl();
        match shown.beyond {
            None => mg_dl,
            Some(Beyond::Below) => mg_dl.min(self.low_line.mg_dl() - 1.0),
            Some(Beyond::Above) => mg_dl.max(self.high_line.mg_dl() + 1.0),
        }
    }

    /// Checks that the settings go together.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for a low line outside 60 to 120 mg/dL, a high line outside 140 to 400 mg/dL, an insulin factor
    /// outside 5 to 400 mg/dL a unit, a carbohydrate factor outside 0.5 to 40 mg/dL a gram, a rated length outside 1 to 365
    /// days, a lead time over 365 days or a morning over 1439; [`Error::Invalid`] for a night without length or a number that no phone can dial;
    /// those of [`Plan::check`].
    pub fn check(&self) -> Result<()> {
        let within = |what, given: f64, low: f64, high: f64, unit| {
            if given.is_finite() && (low..=high).contains(&given) {
                Ok(())
            } else {
                Err(Error::OutOfRange { what, given, low, high, unit })
            }
        };
        within(Quantity::LowLine, self.low_line.mg_dl(), 60.0, 120.0, Unit::MgDl)?;
        within(Quantity::HighLine, self.high_line.mg_dl(), 140.0, 400.0, Unit::MgDl)?;
        DayHours::new(self.night.from_minute, self.night.until_minute)?;
        if let Some(factor) = self.insulin_factor_mg_dl_per_unit {
            within(Quantity::InsulinFactor, factor, LEAST_INSULIN_FACTOR_MG_DL, 400.0, Unit::MgDlPerUnit)?;
        }
        if let Some(factor) = self.carbohydrate_factor_mg_dl_per_g {
            within(Quantity::CarbohydrateFactor, factor, LEAST_CARBOHYDRATE_FACTOR_MG_DL, 40.0, Unit::MgDlPerGram)?;
        }
        if let Some(days) = self.sensor_rated_days {
            within(Quantity::RatedLength, days.into(), 1.0, SensorEvent::LONGEST_RATED_DAYS.into(), Unit::Days)?;
        }
        if let Some(days) = self.reorder_lead_days {
            within(Quantity::LeadTime, days.into(), 0.0, 365.0, Unit::Days)?;
        }
        if let Some(minute) = self.morning_minute {
            within(Quantity::Morning, minute.into(), 0.0, 1439.0, Unit::Minutes)?;
        }
        if let Some(plan) = &self.alert_plan {
            plan.check()?;
        }
        if let Some(number) = &self.emergency_number {
            dialled(Quantity::EmergencyNumber, number)?;
        }
        if let Some(number) = &self.contact_number {
            dialled(Quantity::ContactNumber, number)?;
        }
        Ok(())
    }

    /// As changed from `before`, with the alerts that rang at the lines of then moved with these.
    #[must_use]
    pub fn with_alerts_moved(mut self, before: &Self) -> Self {
        if let Some(plan) = &mut self.alert_plan {
            for part in [&mut plan.day, &mut plan.night] {
                if part.low == before.low_line {
                    part.low = self.low_line;
                }
                if part.high == Some(before.high_line) {
                    part.high = Some(self.high_line);
                }
            }
        }
        self
    }

    /// When the wearer gets up, in local minutes of the day.
    #[must_use]
    pub fn morning_minute(&self) -> u16 {
        self.morning_minute.unwrap_or(self.night.until_minute)
    }

    /// The number to dial in an emergency.
    #[must_use]
    pub fn emergency_number(&self) -> &str {
        self.emergency_number.as_deref().unwrap_or(EMERGENCY_NUMBER)
    }
}

/// A number that a phone can dial: digits, with a plus in front and blanks, hyphens, brackets or slashes between them.
fn dialled(what: Quantity, number: &str) -> Result<()> {
    let digits = number.chars().filter(char::is_ascii_digit).count();
    let fits = number.chars().enumerate().all(|(place, one)| match one {
        '+' => place == 0,
        _ => one.is_ascii_digit() || " -()/".contains(one),
    });
    if fits && (2..=15).contains(&digits) && number.len() <= 30 {
        Ok(())
    } else {
        Err(Error::Invalid { what, why: Why::NotDialled })
    }
}

/// When to be alerted, in one part of the day.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AlertLines {
    /// Alert when below it; never under the floor of 54 mg/dL.
    pub low: Glucose,
    /// Alert when above it, or never.
    pub high: Option<Glucose>,
    /// Alert about a high only once it has lasted this long, in minutes.
    pub high_delay_minutes: f64,
    /// Alert again after so many minutes while it lasts, or only once. Below the floor it alerts again in any case, and after an answer
    /// a low that lasts does.
    pub repeat_minutes: Option<f64>,
    /// Without that, alert again about a low after so many minutes while nobody answers, [`LOW_REPEATS`] times at most, or only once.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub low_repeat_minutes: Option<f64>,
    /// Alert when falling at least this fast, in mg/dL/min, or never.
    pub falling_mg_dl_min: Option<f64>,
    /// Alert when rising at least this fast, in mg/dL/min, or never.
    pub rising_mg_dl_min: Option<f64>,
    /// Alert when no reading came for so many minutes, or never.
    pub lost_after_minutes: Option<f64>,
}

/// The plan. Below the floor it alerts whatever else it says.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Plan {
    /// Outside the wearer's night.
    pub day: AlertLines,
    /// In the wearer's night.
    pub night: AlertLines,
}

impl Plan {
    /// The wearer's own plan; where none is kept, their lines and a lost signal, by day and night: each once, and a low again while
    /// nobody answers.
    #[must_use]
    pub fn of(wearer: &Wearer) -> Self {
        wearer.alert_plan.unwrap_or_else(|| Self::of_lines(wearer))
    }

    fn of_lines(wearer: &Wearer) -> Self {
        let lines = AlertLines {
            low: wearer.low_line,
            high: Some(wearer.high_line),
            high_delay_minutes: 0.0,
            repeat_minutes: None,
            low_repeat_minutes: Some(LOW_REPEAT_MINUTES),
            falling_mg_dl_min: None,
            rising_mg_dl_min: None,
            lost_after_minutes: Some(LOST_AFTER_MINUTES),
        };
        Self { day: lines, night: lines }
    }

    /// Checks that the plan can be followed.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for a low line outside 54 to 120 mg/dL, a high line outside 120 to 400 mg/dL, a delay outside 0
    /// to 240 minutes, a repetition outside 5 to 240 minutes, a rate
    /// outside 0.5 to 10 mg/dL/min or an alert about a lost signal after less than 15 or more than 240 minutes.
    pub fn check(&self) -> Result<()> {
        let within = |what, given: f64, low: f64, high: f64, unit| {
            let fits = given.is_finite() && (low..=high).contains(&given);
            if fits { Ok(()) } else { Err(Error::OutOfRange { what, given, low, high, unit }) }
        };
        for lines in [&self.day, &self.night] {
            within(Quantity::LowAlert, lines.low.mg_dl(), FLOOR_LINE_MG_DL, 120.0, Unit::MgDl)?;
            if let Some(high) = lines.high {
                within(Quantity::HighAlert, high.mg_dl(), 120.0, 400.0, Unit::MgDl)?;
            }
            within(Quantity::Delay, lines.high_delay_minutes, 0.0, 240.0, Unit::Minutes)?;
            for repeat in [lines.repeat_minutes, lines.low_repeat_minutes].into_iter().flatten() {
                within(Quantity::Repetition, repeat, 5.0, 240.0, Unit::Minutes)?;
            }
            if let Some(lost) = lines.lost_after_minutes {
                within(Quantity::LostAlert, lost, 15.0, 240.0, Unit::Minutes)?;
            }
            for rate in [lines.falling_mg_dl_min, lines.rising_mg_dl_min].into_iter().flatten() {
                within(Quantity::RateAlert, rate, 0.5, 10.0, Unit::MgDlMin)?;
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_defaults_are_the_consensus_lines() {
        let wearer = Wearer::default();
        assert!(wearer.check().is_ok());
        assert_eq!((wearer.low_line.mg_dl(), wearer.high_line.mg_dl()), (70.0, 180.0));
    }

    /// Logs of earlier versions hold `en` and `de`.
    #[test]
    fn a_language_is_written_and_read_as_its_tag() {
        for (language, tag) in [(Language::ENGLISH, "en"), (Language::GERMAN, "de")] {
            assert_eq!((language.to_string().as_str(), Language::parse(tag).unwrap()), (tag, language));
            assert_eq!(
                (String::from(language), Language::try_from(tag.to_owned()).unwrap()),
                (tag.to_owned(), language)
            );
        }
        assert_eq!(Language::parse(" DE ").unwrap(), Language::GERMAN);
        for other in ["fr", "haw", "abcdefgh"] {
            assert_eq!(Language::parse(other).unwrap().to_string(), other);
        }
        for bad in ["", "e", "e1", "de-CH", "abcdefghi", "añ", "en\0"] {
            assert!(Language::parse(bad).is_err(), "{bad:?}");
        }
    }

    #[test]
    fn only_what_a_phone_can_dial_is_a_number() {
        let with = |number: &str| Wearer { emergency_number: Some(number.to_owned()), ..Wearer::default() };
        assert_eq!((Wearer::default().emergency_number(), with("911").emergency_number()), ("112", "911"));
        for good in ["112", "+49 (0)30 12-34", "999", "08 00/1 11"] {
            assert!(with(good).check().is_ok(), "{good}");
        }
        // `*` and `#` begin codes that change a phone's settings.
        for bad in ["", "1", "*#06#", "112;ext", "4+9", "1234567890123456", "help"] {
            assert!(with(bad).check().is_err(), "{bad}");
        }
    }

    #[test]
    fn an_alert_at_a_line_moves_with_it_and_one_of_its_own_does_not() {
        let line = |mg_dl| Glucose::from_mg_dl(mg_dl).unwrap();
        let mut before = Wearer::default();
        let mut plan = Plan::of(&before);
        plan.night.low = line(80.0);
        before.alert_plan = Some(plan);
        let after =
            Wearer { low_line: line(90.0), high_line: line(200.0), ..before.clone() }.with_alerts_moved(&before);
        let plan = after.alert_plan.unwrap();
        assert_eq!((plan.day.low, plan.night.low), (line(90.0), line(80.0)));
        assert_eq!((plan.day.high, plan.night.high), (Some(line(200.0)), Some(line(200.0))));
    }

    #[test]
    fn a_low_line_below_60_is_refused() {
        let wearer = Wearer { low_line: Glucose::from_mg_dl(55.0).unwrap(), ..Wearer::default() };
        assert!(wearer.check().is_err());
    }
}
