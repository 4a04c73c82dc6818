//! What a person reads: every code of the core as text, in each language, in the unit the person reads glucose in.
//!
//! The rest of the core speaks in codes with numbers; a shell shows what this module makes of them and writes no
//! sentence of its own. Every code has its message by an exhaustive match, so a new code without one does not
//! compile; the words of the messages are one file a language, `i18n/en.ftl` and its like (see [`say!`](crate::say)).
//!
//! How sentences are written, so that they can be read at 3 a.m.: what to do comes first, then why. Rates are numbers and
//! plain words. No person is blamed. No dose is named: the 15 to 20 g beside a treat is the published first step, and the
//! care team's own step goes before it.
//!
//! # Source
//! The first step of 15 g (15 to 20 g), a second look after 15 minutes, and the same again if still low: Diabetes Canada
//! clinical practice guidelines, chapter 14 (hypoglycemia); ADA Standards of Care, glycemic goals.
//!
//! # Example
//! ```
//! use ebbstead_engine::prompt::Sentence;
//! use ebbstead_engine::units::GlucoseUnit;
//! use ebbstead_engine::wearer::Language;
//! use ebbstead_present::words::Words;
//! let words = Words::new(Language::ENGLISH, GlucoseUnit::MmolL);
//! assert_eq!(words.amount(104.0), "5.8 mmol/L");
//! assert!(words.sentence(Sentence::HoldFalling).starts_with("Hold off"));
//! ```

mod breaking;
mod catalogue;
mod chart;
mod counted;
mod dates;
mod entries;
mod errors;
mod files;
mod languages;
mod lessons;
mod packing;
mod prompts;
mod quantities;
mod shell;

pub use breaking::breakable;
pub use catalogue::{Argument, Message, PutIn};
pub use counted::Counted;
pub use languages::Spoken;
pub use prompts::{Lead, Newest};
pub use shell::ShellLabel;

use crate::text;
use crate::units::GlucoseUnit;
use crate::wearer::{Language, Wearer};

// Every range that is written or drawn for a person uses this one, so that text and chart say the same.
pub use crate::statistics::NINE_IN_TEN_SDS;

/// Short names that shells put beside what they show.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Label {
    /// Above the reasons.
    Why,
    /// Above the cautions.
    Careful,
    /// Above what would change the prompt.
    WouldChange,
    /// Above what was logged in the time shown.
    Logged,
    /// The present, in a chart.
    Now,
    /// A sensor reading, in a chart.
    Reading,
    /// A meter check, in a chart.
    MeterCheck,
    /// The expected path, in a chart.
    Expected,
    /// The expected path, where the one of treating now stands beside it.
    IfWaiting,
    /// The expected path if treated now.
    IfTreating,
    /// The band around the expected path, in a chart.
    NineInTen,
    /// The low line, in a chart.
    LowLine,
    /// The floor line, in a chart.
    FloorLine,
    /// The high line, in a chart.
    HighLine,
}

/// The texts of one language, in one unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Words {
    /// Of the language, among those that have words.
    place: usize,
    numbers: Numbers,
}

impl Words {
    /// Takes a language and the unit glucose is written in. A language without words is spoken in English.
    #[must_use]
    pub const fn new(language: Language, unit: GlucoseUnit) -> Self {
        let place = match languages::place_of(language) {
            Some(place) => place,
            None => ENGLISH,
        };
        let Spoken { decimal_mark, group_mark, .. } = languages::LANGUAGES[place];
        Self { place, numbers: Numbers { unit, decimal_mark, group_mark } }
    }

    /// The wearer's language and unit.
    #[must_use]
    pub const fn of(wearer: &Wearer) -> Self {
        Self::new(wearer.language, wearer.unit)
    }

    /// The unit glucose is written in.
    #[must_use]
    pub const fn unit(self) -> GlucoseUnit {
        self.numbers.unit
    }

    /// Yes or no.
    #[must_use]
    pub fn yes_or_no(self, is: bool) -> &'static str {
        if is { text!(self, "form-settings-yes") } else { text!(self, "form-settings-no") }
    }

    /// An amount, given in mg/dL, with its unit.
    #[must_use]
    pub fn amount(self, mg_dl: f64) -> String {
        self.numbers.amount(mg_dl)
    }

    /// An amount, given in mg/dL, without its unit.
    #[must_use]
    pub fn bare_amount(self, mg_dl: f64) -> String {
        self.numbers.bare(mg_dl)
    }

    /// A plain number with so many decimals, in the language's way; what rounds to nothing has no sign.
    #[must_use]
    pub fn decimal(self, number: f64, decimals: usize) -> String {
        if !number.is_finite() {
            return UNKNOWN.to_owned();
        }
        let text = format!("{number:.decimals$}");
        let nothing = text.chars().all(|sign| matches!(sign, '-' | '0' | '.'));
        self.numbers.localised(if nothing { text.trim_start_matches('-').to_owned() } else { text })
    }
}

/// How numbers are written: the unit, and the marks between whole and part and between groups of digits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Numbers {
    unit: GlucoseUnit,
    decimal_mark: char,
    group_mark: char,
}

/// The place of English, in which everything is said that another language lacks.
const ENGLISH: usize = 0;

/// What stands where a number should be and is none; the core makes no such number, yet a text must never fail.
const UNKNOWN: &str = "?";

impl Numbers {
    fn localised(self, text: String) -> String {
        if self.decimal_mark == '.' { text } else { text.replace('.', self.decimal_mark.encode_utf8(&mut [0; 4])) }
    }

    /// Glucose without its unit, from mg/dL.
    fn bare(self, mg_dl: f64) -> String {
        if mg_dl.is_finite() { self.localised(self.unit.amount(mg_dl)) } else { UNKNOWN.to_owned() }
    }

    /// Glucose with its unit, from mg/dL.
    fn amount(self, mg_dl: f64) -> String {
        format!("{} {}", self.bare(mg_dl), self.unit.code())
    }

    /// The lower and upper end of where nine in ten fall, without unit; never below the least an instrument reports.
    fn nine_in_ten(self, mg_dl: f64, sd_mg_dl: f64) -> (String, String) {
        let reach = NINE_IN_TEN_SDS * sd_mg_dl;
        (self.bare((mg_dl - reach).max(crate::units::LOWEST_MG_DL)), self.bare(mg_dl + reach))
    }

    /// The size of a rate with its unit, from mg/dL/min.
    fn rate_size(self, mg_dl_min: f64) -> String {
        let size =
            if mg_dl_min.is_finite() { self.localised(self.unit.rate(mg_dl_min.abs())) } else { UNKNOWN.to_owned() };
        format!("{size} {}/min", self.unit.code())
    }

    /// A plain number with at most one decimal, none where it is whole.
    fn tenths(self, number: f64) -> String {
        if !number.is_finite() {
            return UNKNOWN.to_owned();
        }
        let text = format!("{number:.1}");
        match text.strip_suffix(".0") {
            // What rounds to nothing has no sign.
            Some("-0") => "0".to_owned(),
            Some(whole) => whole.to_owned(),
            None => self.localised(text),
        }
    }

    /// An amount taken: to the hundredth, without the zeros at its end; what is less than one as it was written, since it is not
    /// nothing.
    fn taken(self, amount: f64) -> String {
        if !amount.is_finite() {
            return UNKNOWN.to_owned();
        }
        let text = format!("{amount:.2}");
        match text.trim_end_matches('0').trim_end_matches('.') {
            "0" | "-0" if amount != 0.0 => self.localised(amount.to_string()),
            "-0" => "0".to_owned(),
            text => self.localised(text.to_owned()),
        }
    }

    /// How many times as much, with the digits that matter.
    fn times(self, times: f64) -> String {
        if times.is_finite() { self.localised(format!("{times:.2}")) } else { UNKNOWN.to_owned() }
    }

    /// A difference in mg/dL with its unit and one digit more than a reading has.
    fn fine_amount(self, mg_dl: f64) -> String {
        let digits = match self.unit {
            GlucoseUnit::MgDl => self.tenths(mg_dl),
            GlucoseUnit::MmolL => self.times(mg_dl / crate::units::MG_DL_PER_MMOL_L),
        };
        format!("{digits} {}", self.unit.code())
    }

    /// A mean log score.
    fn score(self, score: f64) -> String {
        if score.is_finite() { self.localised(format!("{score:.3}")) } else { UNKNOWN.to_owned() }
    }

    /// Hundredths of 0 to 1, with one decimal, without the sign.
    fn points(self, share: f64) -> String {
        self.tenths(100.0 * share)
    }

    /// A whole number in groups of three.
    fn count(self, number: u64) -> String {
        let digits = number.to_string();
        let mut out = String::with_capacity(digits.len() + digits.len() / 3);
        for (k, digit) in digits.chars().enumerate() {
            if k > 0 && (digits.len() - k).is_multiple_of(3) {
                out.push(self.group_mark);
            }
            out.push(digit);
        }
        out
    }
}

#[cfg(test)]
mod tests;
