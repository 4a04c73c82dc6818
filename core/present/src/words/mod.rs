//! What a person reads: every code of the core as text, in each language, in the unit the person reads glucose in.
//!
//! The rest of the core speaks in codes with numbers; a shell shows what this module makes of them and writes no
//! sentence of its own. A language is one file that implements one trait with exhaustive matches, so a new code without
//! its text does not compile.
//!
//! How sentences are written, so that they can be read at 3 a.m.: what to do comes first, then why. Rates are numbers and
//! plain words. Nobody is blamed. No dose is named: the 15 to 20 g beside a treat is the published first step, and the
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
//! let words = Words::new(Language::English, GlucoseUnit::MmolL);
//! assert_eq!(words.amount(104.0), "5.8 mmol/L");
//! assert!(words.sentence(Sentence::HoldFalling).starts_with("Hold off"));
//! ```

mod counted;
mod english;
mod german;
mod shell;

pub use counted::Counted;
pub use shell::ShellLabel;

use crate::error::{Error, Refusal};
use crate::exchange::csv::{Fault, Finding};
use crate::forecast::Forecast;
use crate::learn::points::Point;
use crate::learn::reliability::Standing;
use crate::log::{
    Beyond, DeviceFault, Effort, InsulinKind, Item, PressedSpell, Purpose, Reading, Shown, Stocked, Symptom, What,
};
use crate::prompt::{Caution, Change, Matter, Reason, Sentence, Verdict};
use crate::sentences::fhir::fault_text;
use crate::sentences::pick;
use crate::time::Moment;
use crate::units::{GlucoseUnit, Pace};
use crate::wearer::{Language, Wearer};

/// Standard deviations either side of the expected value that hold nine outcomes in ten, if they spread normally.
///
/// Every range that is written or drawn for a person uses this one, so that text and picture say the same.
pub const NINE_IN_TEN_SDS: f64 = 1.645;

/// How far ahead the picture's text looks, in minutes.
const SPOKEN_MINUTES: [u16; 3] = [15, 30, 60];

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
    /// The present, in a picture.
    Now,
    /// A sensor reading, in a picture.
    Reading,
    /// A meter check, in a picture.
    MeterCheck,
    /// The expected path, in a picture.
    Expected,
    /// The band around the expected path, in a picture.
    NineInTen,
    /// The low line, in a picture.
    LowLine,
    /// The floor line, in a picture.
    FloorLine,
    /// The high line, in a picture.
    HighLine,
}

/// The texts of one language, in one unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Words {
    language: Language,
    numbers: Numbers,
}

impl Words {
    /// Takes a language and the unit glucose is written in.
    #[must_use]
    pub const fn new(language: Language, unit: GlucoseUnit) -> Self {
        let decimal_comma = match language {
            Language::English => false,
            Language::German => true,
        };
        Self { language, numbers: Numbers { unit, decimal_comma } }
    }

    /// The wearer's language and unit.
    #[must_use]
    pub const fn of(wearer: &Wearer) -> Self {
        Self::new(wearer.language, wearer.unit)
    }

    /// The language written.
    #[must_use]
    pub const fn language(self) -> Language {
        self.language
    }

    /// The unit glucose is written in.
    #[must_use]
    pub const fn unit(self) -> GlucoseUnit {
        self.numbers.unit
    }

    fn catalogue(self) -> &'static dyn Catalogue {
        match self.language {
            Language::English => &english::English,
            Language::German => &german::German,
        }
    }

    /// A short name for something shown.
    #[must_use]
    pub fn label(self, label: Label) -> String {
        self.catalogue().label(label).to_owned()
    }

    /// A verdict as a heading of one to three words.
    #[must_use]
    pub fn verdict(self, verdict: Verdict) -> String {
        self.catalogue().verdict(verdict).to_owned()
    }

    /// What a prompt is about, as a heading.
    #[must_use]
    pub fn matter(self, matter: Matter) -> String {
        self.catalogue().matter(matter).to_owned()
    }

    /// The sentence a prompt leads with: what to do, then why. It stands alone, as in a notification.
    #[must_use]
    pub fn sentence(self, sentence: Sentence) -> String {
        self.catalogue().sentence(sentence).to_owned()
    }

    /// What to do if a check is asked for and no meter is at hand.
    #[must_use]
    pub fn without_meter(self, verdict: Verdict) -> String {
        self.catalogue().without_meter(verdict).to_owned()
    }

    /// When to look again.
    #[must_use]
    pub fn look_again(self, minutes: u16) -> String {
        self.catalogue().look_again(minutes)
    }

    /// A reason with its numbers, as a sentence.
    #[must_use]
    pub fn reason(self, reason: Reason) -> String {
        self.catalogue().reason(self.numbers, reason)
    }

    /// A caution, as a sentence.
    #[must_use]
    pub fn caution(self, caution: Caution) -> String {
        self.catalogue().caution(caution).to_owned()
    }

    /// One thing that would change the prompt, to stand in a list.
    #[must_use]
    pub fn change(self, change: Change) -> String {
        self.catalogue().change(self.numbers, change)
    }

    /// The plain word for the size of a rate; empty for a usual one.
    #[must_use]
    pub fn pace(self, pace: Pace) -> String {
        self.catalogue().pace(pace).to_owned()
    }

    /// A rate, given in mg/dL/min, in numbers and words: `falling 2.4 mg/dL/min (fast)`, or just `level`
    /// where there is next to none.
    #[must_use]
    pub fn movement(self, mg_dl_min: f64) -> String {
        self.catalogue().movement(self.numbers, mg_dl_min)
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

    /// A chance of 0 to 1 in percent; what rounds to nothing or to certainty is said as `under 1 %` and `over 99 %`.
    #[must_use]
    pub fn chance(self, chance: f64) -> String {
        self.catalogue().chance(chance)
    }

    /// An expected amount and where it falls nine times in ten, in mg/dL: `about 98 mg/dL (82 to 114)`.
    #[must_use]
    pub fn expected(self, mg_dl: f64, sd_mg_dl: f64) -> String {
        self.catalogue().expected(self.numbers, mg_dl, sd_mg_dl)
    }

    /// How long ago, from minutes: `just now`, `8 minutes ago`, `3 hours ago`.
    #[must_use]
    pub fn ago(self, minutes: f64) -> String {
        self.catalogue().ago(minutes)
    }

    /// A reading with its age: `104 mg/dL, 8 minutes ago`.
    #[must_use]
    pub fn reading_ago(self, reading: &Reading, now: Moment) -> String {
        format!("{}, {}", self.shown(reading.shown()), self.ago(now.minutes_since(reading.at)))
    }

    /// An entry's content on one line, for a list of the log. Notes are given whole, whatever their length.
    #[must_use]
    pub fn what(self, what: &What) -> String {
        self.catalogue().what(self.numbers, what)
    }

    /// What a sensor's device reported as wrong.
    #[must_use]
    pub fn device_fault(self, code: DeviceFault) -> &'static str {
        self.catalogue().device_fault(code)
    }

    /// A supply's name, as many of it.
    #[must_use]
    pub fn item(self, item: Item) -> String {
        self.catalogue().item(item).to_owned()
    }

    /// What happened to a supply.
    #[must_use]
    pub fn stocked(self, stocked: Stocked) -> String {
        self.catalogue().stocked(stocked).to_owned()
    }

    /// So much of a supply, in what it is counted in; pieces have no unit.
    #[must_use]
    pub fn stock(self, item: Item, amount: f64) -> String {
        self.catalogue().stock(self.numbers, item, amount)
    }

    /// The picture of a prompt in words, for a screen reader: the readings shown (in order of time) and the path ahead.
    #[must_use]
    pub fn picture(self, shown: &[Reading], ahead: Option<&Forecast>) -> String {
        let seen = Seen::of(shown);
        let ahead: Vec<Spoken> = ahead
            .into_iter()
            .flat_map(Forecast::corrected)
            .filter(|one| SPOKEN_MINUTES.contains(&one.minutes))
            .map(|one| Spoken { minutes: one.minutes, mg_dl: one.reading_mg_dl, sd_mg_dl: one.reading_sd_mg_dl })
            .collect();
        self.catalogue().picture(self.numbers, seen, &ahead)
    }

    /// One thing that was learnt from the log, or what is missing for it, as a sentence.
    #[must_use]
    pub fn lesson(self, point: Point) -> String {
        self.catalogue().lesson(self.numbers, point)
    }

    /// Whether the chances told keep their word.
    #[must_use]
    pub fn standing(self, standing: Standing) -> String {
        self.catalogue().standing(self.numbers, standing)
    }

    /// A spell in which the sensor was probably pressed, with its date, to stand in a list.
    #[must_use]
    pub fn spell(self, spell: PressedSpell) -> String {
        self.catalogue().spell(spell)
    }

    /// That glucose was too low or too high to measure, with the limit it was below or above in mg/dL.
    #[must_use]
    pub fn beyond(self, beyond: Beyond, limit_mg_dl: f64) -> String {
        self.catalogue().beyond(self.numbers, beyond, limit_mg_dl)
    }

    /// What a sensor or a meter showed: the amount, or that it was too low or too high to measure.
    #[must_use]
    pub fn shown(self, shown: Shown) -> String {
        self.catalogue().shown(self.numbers, shown)
    }

    /// What was found about a row of a file: where, what it says, what became of it and what to do.
    #[must_use]
    pub fn finding(self, finding: &Finding) -> String {
        self.catalogue().finding(self.numbers, finding)
    }

    /// Why a file was refused, and what to do.
    #[must_use]
    pub fn fault(self, fault: &Fault) -> String {
        self.catalogue().fault(fault)
    }

    /// Why a file was refused as a whole, and what to do.
    #[must_use]
    pub fn refusal(self, why: &Refusal) -> String {
        match why {
            Refusal::Table(fault) => self.fault(fault),
            Refusal::NotATable => {
                pick(self, "not a table that Ebbstead wrote", "keine Tabelle, die Ebbstead geschrieben hat").to_owned()
            }
            Refusal::Bundle(fault) => fault_text(fault, self),
        }
    }

    /// An error as text. What only the developers of a file format or a system know (the detail of a failed read, say)
    /// stays in the words it came in.
    #[must_use]
    pub fn error(self, error: &Error) -> String {
        if let Error::Import { file, line, column, why } = error {
            return self.catalogue().refused(&file.display().to_string(), *line, *column, &self.refusal(why));
        }
        self.catalogue().error(self.numbers, error)
    }
}

/// A rate in numbers with its plain word behind it, where it has one.
fn with_pace(rate: String, pace: &str) -> String {
    if pace.is_empty() { rate } else { format!("{rate} ({pace})") }
}

/// One language. Every match in an implementation is exhaustive; no arm is a catch-all.
trait Catalogue {
    fn label(&self, label: Label) -> &'static str;
    fn verdict(&self, verdict: Verdict) -> &'static str;
    fn matter(&self, matter: Matter) -> &'static str;
    fn sentence(&self, sentence: Sentence) -> &'static str;
    fn without_meter(&self, verdict: Verdict) -> &'static str;
    fn look_again(&self, minutes: u16) -> String;
    fn reason(&self, numbers: Numbers, reason: Reason) -> String;
    fn caution(&self, caution: Caution) -> &'static str;
    fn change(&self, numbers: Numbers, change: Change) -> String;
    fn pace(&self, pace: Pace) -> &'static str;
    fn movement(&self, numbers: Numbers, mg_dl_min: f64) -> String;
    fn chance(&self, chance: f64) -> String;
    fn expected(&self, numbers: Numbers, mg_dl: f64, sd_mg_dl: f64) -> String;
    fn ago(&self, minutes: f64) -> String;
    fn what(&self, numbers: Numbers, what: &What) -> String;
    fn item(&self, item: Item) -> &'static str;
    /// The names of one and of many.
    fn counted(&self, what: Counted) -> (&'static str, &'static str);
    fn stocked(&self, stocked: Stocked) -> &'static str;
    fn stock(&self, numbers: Numbers, item: Item, amount: f64) -> String;
    fn insulin(&self, kind: InsulinKind) -> &'static str;
    fn purpose(&self, purpose: Purpose) -> &'static str;
    fn effort(&self, effort: Effort) -> &'static str;
    fn symptom(&self, symptom: Symptom) -> &'static str;
    fn picture(&self, numbers: Numbers, seen: Option<Seen>, ahead: &[Spoken]) -> String;
    fn lesson(&self, numbers: Numbers, point: Point) -> String;
    fn standing(&self, numbers: Numbers, standing: Standing) -> String;
    fn spell(&self, spell: PressedSpell) -> String;
    fn beyond(&self, numbers: Numbers, beyond: Beyond, mg_dl: f64) -> String;
    /// What was shown, with its unit.
    fn shown(&self, numbers: Numbers, shown: Shown) -> String {
        let mg_dl = shown.glucose.mg_dl();
        shown.beyond.map_or_else(|| numbers.amount(mg_dl), |beyond| self.beyond(numbers, beyond, mg_dl))
    }
    /// The same; an amount without its unit.
    fn bare_shown(&self, numbers: Numbers, shown: Shown) -> String {
        let mg_dl = shown.glucose.mg_dl();
        shown.beyond.map_or_else(|| numbers.bare(mg_dl), |beyond| self.beyond(numbers, beyond, mg_dl))
    }
    fn finding(&self, numbers: Numbers, finding: &Finding) -> String;
    fn fault(&self, fault: &Fault) -> String;
    fn device_fault(&self, code: DeviceFault) -> &'static str;
    /// Why a file was refused, with the place.
    fn refused(&self, file: &str, line: u64, column: Option<usize>, why: &str) -> String;
    fn error(&self, numbers: Numbers, error: &Error) -> String;
}

/// The readings of a picture, summed up.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Seen {
    minutes: f64,
    first: Shown,
    last: Shown,
    last_at: Moment,
    highest: Shown,
    highest_at: Moment,
    lowest: Shown,
    lowest_at: Moment,
}

impl Seen {
    fn of(shown: &[Reading]) -> Option<Self> {
        let (first, last) = (shown.first()?, shown.last()?);
        let by_amount = |a: &&Reading, b: &&Reading| a.glucose.mg_dl().total_cmp(&b.glucose.mg_dl());
        let (highest, lowest) = (shown.iter().max_by(by_amount)?, shown.iter().min_by(by_amount)?);
        Some(Self {
            minutes: last.at.minutes_since(first.at),
            first: first.shown(),
            last: last.shown(),
            last_at: last.at,
            highest: highest.shown(),
            highest_at: highest.at,
            lowest: lowest.shown(),
            lowest_at: lowest.at,
        })
    }
}

/// One time ahead of a picture. Amounts in mg/dL.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Spoken {
    minutes: u16,
    mg_dl: f64,
    sd_mg_dl: f64,
}

/// Below this a rate is written without a number, since every unit would round it to nothing, in mg/dL/min.
const NO_MOVEMENT_MG_DL_MIN: f64 = 0.1;

/// How numbers are written: the unit, and the mark between whole and part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Numbers {
    unit: GlucoseUnit,
    decimal_comma: bool,
}

/// What stands where a number should be and is none; the core makes no such number, yet a text must never fail.
const UNKNOWN: &str = "?";

impl Numbers {
    fn localised(self, text: String) -> String {
        if self.decimal_comma { text.replace('.', ",") } else { text }
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

    /// The least and the most a log takes, with the unit.
    fn range(self, to: &str) -> String {
        format!("{} {to} {}", self.bare(crate::units::LOWEST_MG_DL), self.amount(crate::units::HIGHEST_MG_DL))
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
        let mark = if self.decimal_comma { '.' } else { ',' };
        let mut out = String::with_capacity(digits.len() + digits.len() / 3);
        for (k, digit) in digits.chars().enumerate() {
            if k > 0 && (digits.len() - k).is_multiple_of(3) {
                out.push(mark);
            }
            out.push(digit);
        }
        out
    }
}

/// By how many percent one set of forecasts gave what came more chance than another, from their mean log scores.
fn more_chance(score_population: f64, score_own: f64) -> f64 {
    100.0 * (score_own - score_population).exp_m1()
}

/// A time of crossing, if it lies within the time the chance is told for.
fn if_within(expected_minutes: Option<f64>, within_minutes: u16) -> Option<f64> {
    expected_minutes.filter(|minutes| *minutes <= f64::from(within_minutes))
}

/// Whole minutes of a length of time, and in which unit it is best said.
enum Length {
    Moment,
    Minutes(u32),
    Hours(u32),
    Days(u32),
}

impl Length {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // `as` saturates; a NaN becomes 0
    fn of(minutes: f64) -> Self {
        match minutes.abs() {
            m if (0.5..90.0).contains(&m) => Self::Minutes(m.round() as u32),
            m if (90.0..36.0 * 60.0).contains(&m) => Self::Hours((m / 60.0).round() as u32),
            m if m >= 36.0 * 60.0 => Self::Days((m / 1440.0).round() as u32),
            _ => Self::Moment,
        }
    }
}

#[cfg(test)]
mod tests;
