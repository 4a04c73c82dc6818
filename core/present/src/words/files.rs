//! What was found in a file, and why one was refused, in words.

use super::{ShellLabel, Words};
use crate::error::Refusal;
use crate::exchange::csv::{Finding, FindingCode, RowFault};
use crate::sentences::fhir::fault_text;
use crate::units::{HIGHEST_MG_DL, LOWEST_MG_DL};
use crate::{say, text};

impl Words {
    /// What was found about a row of a file: where, what it says, what became of it and what to do.
    #[must_use]
    pub fn finding(self, finding: &Finding) -> String {
        let column = finding.column.map_or_else(String::new, |column| say!(self, "finding-column", column));
        let given = if finding.given.is_empty() { String::new() } else { format!(" ({:?})", finding.given) };
        let n = self.numbers;
        let (least, most) = (n.bare(LOWEST_MG_DL), n.amount(HIGHEST_MG_DL));
        let out_of_range = say!(self, "finding-out-of-range", least, most);
        let reason = match finding.code {
            FindingCode::NoTime => text!(self, "finding-no-time"),
            FindingCode::TimeUnreadable => text!(self, "finding-time-unreadable"),
            FindingCode::OffsetContradicts => text!(self, "finding-offset-contradicts"),
            FindingCode::TimeOutsideYears => text!(self, "finding-time-outside-years"),
            FindingCode::InFuture => text!(self, "finding-in-future"),
            FindingCode::NotANumber => text!(self, "finding-not-a-number"),
            FindingCode::SaysLow => text!(self, "finding-says-low"),
            FindingCode::SaysHigh => text!(self, "finding-says-high"),
            FindingCode::OutOfRange => &out_of_range,
            FindingCode::OtherUnit => text!(self, "finding-other-unit"),
            FindingCode::NamesOtherUnit => text!(self, "finding-names-other-unit"),
            FindingCode::TooFewCells => text!(self, "finding-too-few-cells"),
            FindingCode::TooManyCells => text!(self, "finding-too-many-cells"),
            FindingCode::Contradicts => text!(self, "finding-contradicts"),
            FindingCode::ClockWentBack => text!(self, "finding-clock-went-back"),
            FindingCode::HourThatNeverWas => text!(self, "finding-hour-that-never-was"),
            FindingCode::OpenQuote => text!(self, "finding-open-quote"),
        };
        say!(self, "finding-line", line = finding.line, column, given, reason)
    }

    /// Why a file was refused, and what to do.
    #[must_use]
    pub fn fault(self, fault: &RowFault) -> String {
        let list =
            |seen: &[String]| if seen.is_empty() { text!(self, "fault-nothing").to_owned() } else { seen.join(", ") };
        match fault {
            RowFault::Empty => text!(self, "fault-empty").to_owned(),
            RowFault::NoRows => text!(self, "fault-no-rows").to_owned(),
            RowFault::NotText => text!(self, "fault-not-text").to_owned(),
            RowFault::NoTimeColumn { seen } => say!(self, "fault-no-time-column", seen = list(seen)),
            RowFault::NoGlucoseColumn { seen } => say!(self, "fault-no-glucose-column", seen = list(seen)),
            RowFault::SeveralGlucoseColumns { seen } => say!(self, "fault-several-glucose-columns", seen = list(seen)),
            RowFault::NoSuchColumn { asked, seen } => {
                say!(self, "fault-no-such-column", asked = format!("{asked:?}"), seen = list(seen))
            }
            RowFault::TimesUnknown { given } => {
                let (like, _) = notations(given);
                say!(self, "fault-times-unknown", given = format!("{given:?}"), like)
            }
            RowFault::DayOrMonth { given } => {
                let (day_first, month_first) = notations(given);
                say!(self, "fault-day-or-month", given = format!("{given:?}"), day_first, month_first)
            }
            RowFault::BadTimeFormat { given } => say!(self, "fault-bad-time-format", given = format!("{given:?}")),
            RowFault::UnitUnknown { given } => say!(self, "fault-unit-unknown", given),
            RowFault::OtherUnit { said, fits, given } => say!(self, "fault-other-unit", said, given, fits),
            RowFault::AnotherUnit { column, given } => {
                say!(self, "fault-another-unit", column = format!("{column:?}"), given)
            }
            RowFault::UnitNotNamed { given } => say!(self, "fault-unit-not-named", given),
            RowFault::SeveralUnits { column } => say!(self, "fault-several-units", column = format!("{column:?}")),
            RowFault::OffsetUnknown { column, given } => {
                say!(self, "fault-offset-unknown", column = format!("{column:?}"), given = format!("{given:?}"))
            }
            RowFault::SeveralSensors { column, seen } => {
                say!(self, "fault-several-sensors", column = format!("{column:?}"), seen = list(seen))
            }
            RowFault::OnlyMeter { seen } => say!(self, "fault-only-meter", seen = list(seen)),
            RowFault::SeveralKinds { column, seen } => {
                say!(self, "fault-several-kinds", column = format!("{column:?}"), seen = list(seen))
            }
            RowFault::RowTooLong => text!(self, "fault-row-too-long").to_owned(),
        }
    }

    /// Why a file was refused as a whole, and what to do.
    #[must_use]
    pub fn refusal(self, why: &Refusal) -> String {
        match why {
            Refusal::Table(fault) => self.fault(fault),
            Refusal::NotATable => text!(self, "words-not-table-ebbstead-wrote").to_owned(),
            Refusal::Bundle(fault) => fault_text(fault, self),
            Refusal::IsALog => {
                let page = self.shell_label(ShellLabel::ScreenCopies);
                say!(self, "refusal-is-a-log", page)
            }
            Refusal::IsSealed => {
                let page = self.shell_label(ShellLabel::ScreenCopies);
                say!(self, "refusal-is-sealed", page)
            }
        }
    }

    /// Why a file was refused, with the place.
    pub(super) fn refused(self, file: &str, line: u64, column: Option<usize>, why: &str) -> String {
        let column = column.map_or(String::new(), |column| say!(self, "refused-column", column));
        say!(self, "refused", file, line, column, why)
    }
}

/// How a time such as this one is written, in the notation of `strftime`: with the day first, and with the month first.
fn notations(given: &str) -> (String, String) {
    let date = given.split([' ', ',', 'T']).next().unwrap_or_default();
    let mark = date.chars().find(|sign| !sign.is_ascii_digit()).filter(|mark| "/-.".contains(*mark)).unwrap_or('/');
    let year = if date.rsplit(mark).next().is_some_and(|year| year.len() == 2) { "%y" } else { "%Y" };
    let rest = given.get(date.len()..).unwrap_or_default();
    let between: String = rest.chars().take_while(|sign| " ,T".contains(*sign)).collect();
    let between = if between.is_empty() { " " } else { &between };
    let seconds = if rest.matches(':').count() > 1 { ":%S" } else { "" };
    let upper = rest.to_uppercase();
    let half = if rest.ends_with(['M', 'm']) {
        if upper.ends_with(" AM") || upper.ends_with(" PM") { " %p" } else { "%p" }
    } else {
        ""
    };
    let hour = if half.is_empty() { "%H" } else { "%I" };
    let clock = format!("{between}{hour}:%M{seconds}{half}");
    (format!("%d{mark}%m{mark}{year}{clock}"), format!("%m{mark}%d{mark}{year}{clock}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_notation_named_reads_the_time_it_is_named_for() {
        for given in
            ["11/01/2026 8:00 AM", "11/01/2026 08:00", "11-01-26 08:00:10", "1/2/2026, 8:00:00PM", "11.01.2026T08:00"]
        {
            let (day_first, month_first) = notations(given);
            let read = |format: &str| chrono::NaiveDateTime::parse_from_str(given, format);
            assert!(read(&day_first).is_ok() && read(&month_first).is_ok(), "{given}: {day_first}, {month_first}");
        }
        assert_eq!(notations("11/01/2026 8:00 AM").1, "%m/%d/%Y %I:%M %p");
        assert_eq!(notations("?").0, "%d/%m/%Y %H:%M");
    }
}
