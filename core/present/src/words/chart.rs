//! The chart of a prompt in words, for a screen reader.

use super::Words;
use crate::forecast::Forecast;
use crate::log::{Reading, Shown};
use crate::time::Moment;
use crate::{say, text};

/// How far ahead the chart's text looks, in minutes.
const SPOKEN_MINUTES: [u16; 3] = [15, 30, 60];

impl Words {
    /// The chart of a prompt in words, for a screen reader: the readings shown (in order of time), the path ahead, and where it
    /// would lead within the hour if treated now, in mg/dL.
    #[must_use]
    pub fn chart(self, shown: &[Reading], ahead: Option<&Forecast>, treated_mg_dl: Option<f64>) -> String {
        let ahead: Vec<Spoken> = ahead
            .into_iter()
            .flat_map(Forecast::corrected)
            .filter(|one| SPOKEN_MINUTES.contains(&one.minutes))
            .map(|one| Spoken { minutes: one.minutes, mg_dl: one.reading_mg_dl, sd_mg_dl: one.reading_sd_mg_dl })
            .collect();
        let mut text = match Seen::of(shown) {
            None => text!(self, "chart-nothing").to_owned(),
            Some(seen) => say!(
                self,
                "chart-past",
                span = self.span_after(seen.minutes),
                first = self.bare_shown(seen.first),
                last = self.shown(seen.last),
                last_at = seen.last_at.clock(),
                lowest = self.bare_shown(seen.lowest),
                lowest_at = seen.lowest_at.clock(),
                highest = self.bare_shown(seen.highest),
                highest_at = seen.highest_at.clock()
            ),
        };
        if !ahead.is_empty() {
            let each: Vec<String> = ahead
                .iter()
                .map(|one| {
                    say!(self, "chart-ahead", minutes = one.minutes, expected = self.expected(one.mg_dl, one.sd_mg_dl))
                })
                .collect();
            text.push(' ');
            text.push_str(&say!(self, "chart-expected", each = each.join(", ")));
        }
        if let Some(mg_dl) = treated_mg_dl {
            text.push(' ');
            text.push_str(&say!(self, "chart-if-treated", amount = self.amount(mg_dl)));
        }
        text
    }
}

/// The readings of a chart, summed up.
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

/// One time ahead of a chart. Amounts in mg/dL.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Spoken {
    minutes: u16,
    mg_dl: f64,
    sd_mg_dl: f64,
}
