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
            FindingCode::OtherUnit => {
                text!(self, "finding-other-unit")
            }
            FindingCode::NamesOtherUnit => text!(self, "finding-names-other-unit"),
            FindingCode::TooFewCells => text!(self, "finding-too-few-cells"),
            FindingCode::TooManyCells => {
                text!(self, "finding-too-many-cells")
            }
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
            RowFault::NoTimeColumn { seen } => {
                say!(self, "fault-no-time-column", seen = list(seen))
            }
            RowFault::NoGlucoseColumn { seen } => {
                say!(self, "fault-no-glucose-column", seen = list(seen))
            }
            RowFault::SeveralGlucoseColumns { seen } => {
                say!(self, "fault-several-glucose-columns", seen = list(seen))
            }
            RowFault::NoSuchColumn { asked, seen } => {
                say!(self, "fault-no-such-column", asked = format!("{asked:?}"), seen = list(seen))
            }
            RowFault::TimesUnknown { given } => {
                say!(self, "fault-times-unknown", given = format!("{given:?}"))
            }
            RowFault::DayOrMonth { given } => {
                say!(self, "fault-day-or-month", given = format!("{given:?}"))
            }
            RowFault::BadTimeFormat { given } => {
                say!(self, "fault-bad-time-format", given = format!("{given:?}"))
            }
            RowFault::UnitUnknown { given } => {
                say!(self, "fault-unit-unknown", given)
            }
            RowFault::OtherUnit { said, fits, given } => say!(self, "fault-other-unit", said, given, fits),
            RowFault::AnotherUnit { column, given } => {
                say!(self, "fault-another-unit", column = format!("{column:?}"), given)
            }
            RowFault::UnitNotNamed { given } => say!(self, "fault-unit-not-named", given),
            RowFault::SeveralUnits { column } => {
                say!(self, "fault-several-units", column = format!("{column:?}"))
            }
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
