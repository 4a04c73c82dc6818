//! Dates and times as the wearer's language writes them. The order and the names of months are messages of the language's file, after
//! Unicode CLDR (`dateFormatItem yMMMd`, months `format/abbreviated`; from memory), which a whole library of locales would hold for
//! hundreds of languages at ten times the size of all words here. Times of day are written with 24 hours. What a file, a table or JSON
//! holds stays ISO 8601.

use chrono::{Datelike, NaiveDate, Weekday};

use super::Words;
use crate::time::Moment;
use crate::{say, text};

impl Words {
    /// A date: `1 Mar 2026`.
    #[must_use]
    pub fn date(self, day: NaiveDate) -> String {
        say!(self, "date", day = day.day().to_string(), month = self.month(day.month()), year = day.year().to_string())
    }

    /// A date with its day of the week, as a heading: `Sunday, 1 Mar 2026`.
    #[must_use]
    pub fn weekday_and_date(self, day: NaiveDate) -> String {
        let weekday = match day.weekday() {
            Weekday::Mon => text!(self, "weekday-mon"),
            Weekday::Tue => text!(self, "weekday-tue"),
            Weekday::Wed => text!(self, "weekday-wed"),
            Weekday::Thu => text!(self, "weekday-thu"),
            Weekday::Fri => text!(self, "weekday-fri"),
            Weekday::Sat => text!(self, "weekday-sat"),
            Weekday::Sun => text!(self, "weekday-sun"),
        };
        say!(self, "date-weekday", weekday, date = self.date(day))
    }

    /// A date of a year that is known: `1 Mar`.
    #[must_use]
    pub(crate) fn day_and_month(self, day: NaiveDate) -> String {
        say!(self, "date-day-and-month", day = day.day().to_string(), month = self.month(day.month()))
    }

    /// A date and the time of day by the wearer's clock: `1 Mar 2026, 18:05`.
    #[must_use]
    pub fn date_time(self, at: Moment) -> String {
        say!(self, "date-time", date = self.date(at.local_date()), clock = at.clock())
    }

    fn month(self, month: u32) -> &'static str {
        match month {
            1 => text!(self, "month-1"),
            2 => text!(self, "month-2"),
            3 => text!(self, "month-3"),
            4 => text!(self, "month-4"),
            5 => text!(self, "month-5"),
            6 => text!(self, "month-6"),
            7 => text!(self, "month-7"),
            8 => text!(self, "month-8"),
            9 => text!(self, "month-9"),
            10 => text!(self, "month-10"),
            11 => text!(self, "month-11"),
            _ => text!(self, "month-12"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::GlucoseUnit;
    use crate::wearer::Language;

    /// As Unicode CLDR 46 writes them in British English, German and Spanish, from memory.
    #[test]
    fn dates_are_written_as_the_language_writes_them() {
        let at = Moment::parse("2026-03-01T18:05:00+01:00").unwrap();
        let spanish = Language::parse("es").unwrap();
        for (language, expected, heading) in [
            (Language::ENGLISH, "1 Mar 2026, 18:05", "Sunday, 1 Mar 2026"),
            (Language::GERMAN, "1. März 2026, 18:05", "Sonntag, 1. März 2026"),
            (spanish, "1 mar 2026, 18:05", "domingo, 1 mar 2026"),
        ] {
            let words = Words::new(language, GlucoseUnit::MgDl);
            assert_eq!(words.date_time(at), expected);
            assert_eq!(words.weekday_and_date(at.local_date()), heading);
            let months: std::collections::BTreeSet<&str> = (1..=12).map(|month| words.month(month)).collect();
            assert_eq!(months.len(), 12, "{months:?}");
        }
    }
}
