//! Sizes in words: rates, chances, lengths of time, and what cannot be measured.

use super::{UNKNOWN, Words};
use crate::log::{Beyond, Reading, Shown};
use crate::time::Moment;
use crate::units::{Pace, Rate};
use crate::{say, text};

impl Words {
    /// The plain word for the size of a rate; empty for a usual one.
    #[must_use]
    pub fn pace(self, pace: Pace) -> String {
        match pace {
            Pace::Level => text!(self, "pace-level"),
            Pace::Slow => text!(self, "pace-slow"),
            Pace::Moderate => "",
            Pace::Fast => text!(self, "pace-fast"),
            Pace::VeryFast => text!(self, "pace-very-fast"),
        }
        .to_owned()
    }

    /// A rate, given in mg/dL/min, in numbers and words: `falling 2.4 mg/dL/min (fast)`; just `level` where its pace is that, since
    /// a direction would make more of it than there is.
    #[must_use]
    pub fn movement(self, mg_dl_min: f64) -> String {
        let n = self.numbers;
        let pace = Rate::from_mg_dl_min(mg_dl_min).pace();
        if pace == Pace::Level {
            return text!(self, "movement-level").to_owned();
        }
        let direction = if mg_dl_min < 0.0 { text!(self, "movement-falling") } else { text!(self, "movement-rising") };
        with_pace(format!("{direction} {}", n.rate_size(mg_dl_min)), &self.pace(pace))
    }

    /// A chance of 0 to 1 in percent; what rounds to nothing or to certainty is said as `under 1 %` and `over 99 %`.
    #[must_use]
    pub fn chance(self, chance: f64) -> String {
        match chance * 100.0 {
            p if p.is_nan() => UNKNOWN.to_owned(),
            p if p < 1.0 => text!(self, "chance-under-1").to_owned(),
            p if p > 99.0 => text!(self, "chance-over-99").to_owned(),
            p => format!("{p:.0} %"),
        }
    }

    /// An expected amount and where it falls nine times in ten, in mg/dL: `about 98 mg/dL (82 to 114)`.
    #[must_use]
    pub fn expected(self, mg_dl: f64, sd_mg_dl: f64) -> String {
        let n = self.numbers;
        let (low, high) = n.nine_in_ten(mg_dl, sd_mg_dl);
        say!(self, "expected", amount = n.amount(mg_dl), low, high)
    }

    /// How long ago, from minutes: `just now`, `8 minutes ago`, `3 hours ago`.
    #[must_use]
    pub fn ago(self, minutes: f64) -> String {
        match Length::of(minutes) {
            Length::Moment => text!(self, "ago-just-now").to_owned(),
            _ => say!(self, "ago", span = self.span_after(minutes)),
        }
    }

    /// A reading with its age: `104 mg/dL, 8 minutes ago`.
    #[must_use]
    pub fn reading_ago(self, reading: &Reading, now: Moment) -> String {
        format!("{}, {}", self.shown(reading.shown()), self.ago(now.minutes_since(reading.at)))
    }

    /// A reading with the time it was read, on the wearer's clock: `104 mg/dL · 11:59`. Unlike an age, that stays true.
    #[must_use]
    pub fn reading_at(self, reading: &Reading) -> String {
        format!("{} · {}", self.shown(reading.shown()), reading.at.clock())
    }

    /// That glucose was too low or too high to measure, with the limit it was below or above in mg/dL.
    #[must_use]
    pub fn beyond(self, beyond: Beyond, mg_dl: f64) -> String {
        let n = self.numbers;
        match beyond {
            Beyond::Below => say!(self, "beyond-below", amount = n.amount(mg_dl)),
            Beyond::Above => say!(self, "beyond-above", amount = n.amount(mg_dl)),
        }
    }

    /// What a sensor or a meter showed: the amount, or that it was too low or too high to measure.
    #[must_use]
    pub fn shown(self, shown: Shown) -> String {
        let mg_dl = shown.glucose.mg_dl();
        shown.beyond.map_or_else(|| self.amount(mg_dl), |beyond| self.beyond(beyond, mg_dl))
    }

    /// The same; an amount without its unit.
    pub(super) fn bare_shown(self, shown: Shown) -> String {
        let mg_dl = shown.glucose.mg_dl();
        shown.beyond.map_or_else(|| self.bare_amount(mg_dl), |beyond| self.beyond(beyond, mg_dl))
    }

    /// So many units of insulin: `1 unit`, `4.5 units`, `0.05 units`.
    pub(super) fn of_insulin(self, units: f64) -> String {
        say!(self, "insulin-units", units = self.numbers.taken(units), count = units)
    }

    /// So many drinks: `1 drink`, `2.5 drinks`.
    pub(super) fn of_drinks(self, drinks: f64) -> String {
        say!(self, "alcohol-drinks", drinks = self.numbers.taken(drinks), count = drinks)
    }

    /// So many checks: `1 meter check`, `4 meter checks`.
    pub(super) fn checks(self, count: usize) -> String {
        say!(self, "meter-checks", count)
    }

    /// A length of time by itself: `8 minutes`, `3 hours`.
    pub(crate) fn span(self, minutes: f64) -> String {
        match Length::of(minutes) {
            Length::Moment => text!(self, "span-moment").to_owned(),
            Length::Minutes(count) => say!(self, "span-minutes", count),
            Length::Hours(count) => say!(self, "span-hours", count),
            Length::HoursMinutes(hours, minutes) => say!(self, "span-hours-minutes", hours, minutes),
            Length::Days(count) => say!(self, "span-days", count),
        }
    }

    /// A length of time after a word that asks for the dative in some languages: in, for, ago.
    pub(super) fn span_after(self, minutes: f64) -> String {
        match Length::of(minutes) {
            Length::Days(count) => say!(self, "span-after-days", count),
            Length::Moment | Length::Minutes(_) | Length::Hours(_) | Length::HoursMinutes(..) => self.span(minutes),
        }
    }
}

/// A rate in numbers with its plain word behind it, where it has one.
fn with_pace(rate: String, pace: &str) -> String {
    if pace.is_empty() { rate } else { format!("{rate} ({pace})") }
}

/// Whole minutes of a length of time, and in which unit it is best said.
enum Length {
    Moment,
    Minutes(u32),
    Hours(u32),
    /// Where half an hour matters, as with insulin.
    HoursMinutes(u32, u32),
    Days(u32),
}

impl Length {
    // The casts fit: `as` saturates; a NaN becomes 0.
    fn of(minutes: f64) -> Self {
        match minutes.abs() {
            m if (0.5..90.0).contains(&m) => Self::Minutes(m.round() as u32),
            m if (90.0..360.0).contains(&m) && !(m.round() as u32).is_multiple_of(60) => {
                Self::HoursMinutes(m.round() as u32 / 60, m.round() as u32 % 60)
            }
            m if (90.0..36.0 * 60.0).contains(&m) => Self::Hours((m / 60.0).round() as u32),
            m if m >= 36.0 * 60.0 => Self::Days((m / 1440.0).round() as u32),
            _ => Self::Moment,
        }
    }
}
