//! The past two hours and the hour ahead, drawn with letters: readings, the expected path with its band, the lines.
//!
//! Every mark has a shape of its own, so nothing is told by colour. What the picture says is also in
//! [`ebbstead_core::words::Words::picture`], for a screen reader.

use ebbstead_core::chart::{AHEAD_MINUTES, PAST_MINUTES, is_noted};
use ebbstead_core::forecast::Forecast;
use ebbstead_core::log::{Entry, History, Reading};
use ebbstead_core::time::Moment;
use ebbstead_core::units::{GlucoseUnit, MG_DL_PER_MMOL_L};
use ebbstead_core::wearer::{FLOOR_LINE_MG_DL, Wearer};
use ebbstead_core::words::{Label, NINE_IN_TEN_SDS, Words};

use crate::screen::Style;

/// Minutes in one column: 61 columns and the names beside them fit a window of 80.
const MINUTES_A_COLUMN: f64 = 3.0;
const NOW_COLUMN: usize = 40;
const COLUMNS: usize = 61;
/// Rows the picture has at most.
const MOST_ROWS: usize = 16;

/// What is drawn.
pub struct Picture<'a> {
    pub now: Moment,
    pub words: Words,
    pub wearer: &'a Wearer,
    pub history: &'a History,
    /// What was noted in the time shown, without sensor readings.
    pub noted: &'a [Entry],
    pub forecast: Option<&'a Forecast>,
}

struct Signs {
    reading: char,
    meter: char,
    path: char,
    band: char,
    line: char,
    now: char,
    axis: char,
    foot: char,
    corner: char,
}

const WIDE: Signs =
    Signs {
        reading: '●', meter: 'M', path: '○', band: '░', line: '╌', now: '┊', axis: '│', foot: '─', corner: '└'
    };
const PLAIN: Signs =
    Signs { reading: 'o', meter: 'M', path: '+', band: ':', line: '-', now: '|', axis: '|', foot: '-', corner: '+' };

/// What stands in a cell; a later one covers an earlier one.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Mark {
    Blank,
    Now,
    Band,
    Line,
    Path,
    Reading,
    Meter,
}

/// The vertical scale, in the unit shown.
struct Scale {
    base: f64,
    step: f64,
    rows: usize,
    per_unit: f64,
}

impl Scale {
    fn over(values_mg_dl: impl Iterator<Item = f64>, unit: GlucoseUnit) -> Self {
        let (per_unit, steps): (f64, &[f64]) = match unit {
            GlucoseUnit::MgDl => (1.0, &[5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0]),
            GlucoseUnit::MmolL => (MG_DL_PER_MMOL_L, &[0.25, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0]),
        };
        let (low, high) = values_mg_dl
            .map(|value| value / per_unit)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)));
        let rows_with = |step: f64| ((high / step).ceil() - (low / step).floor()) as usize + 1;
        let step = steps.iter().copied().find(|&step| rows_with(step) <= MOST_ROWS).unwrap_or(60.0 / per_unit);
        Self { base: (low / step).floor() * step, step, rows: rows_with(step).min(MOST_ROWS), per_unit }
    }

    /// The row of an amount, from the bottom; the nearest one where it is outside.
    fn row(&self, mg_dl: f64) -> usize {
        let row = ((mg_dl / self.per_unit - self.base) / self.step).round();
        (row.max(0.0) as usize).min(self.rows - 1)
    }

    fn amount_mg_dl(&self, row: usize) -> f64 {
        (self.base + row as f64 * self.step) * self.per_unit
    }
}

fn column(minutes: f64) -> Option<usize> {
    let column = NOW_COLUMN as f64 + (minutes / MINUTES_A_COLUMN).round();
    (0.0..COLUMNS as f64).contains(&column).then_some(column as usize)
}

impl Picture<'_> {
    /// The readings shown.
    pub fn shown(&self) -> Vec<Reading> {
        let in_time = |at: Moment| (-PAST_MINUTES..=0.0).contains(&at.minutes_since(self.now));
        self.history.readings.iter().filter(|reading| in_time(reading.at)).copied().collect()
    }

    /// The expected reading and the ends of its band, by minutes ahead.
    fn ahead(&self) -> Vec<(f64, f64, f64, f64)> {
        let path = self.forecast.into_iter().flat_map(Forecast::corrected);
        path.filter(|one| f64::from(one.minutes) <= AHEAD_MINUTES)
            .map(|one| {
                let (mean, reach) = (one.reading_mg_dl, NINE_IN_TEN_SDS * one.reading_sd_mg_dl);
                let shown = |value: f64| value.clamp(30.0, 400.0);
                (f64::from(one.minutes), shown(mean), shown(mean - reach), shown(mean + reach))
            })
            .collect()
    }

    /// The picture's lines, at most 80 columns wide.
    pub fn lines(&self, style: Style) -> Vec<String> {
        let signs = if style.wide_signs { &WIDE } else { &PLAIN };
        let (shown, ahead) = (self.shown(), self.ahead());
        let meters: Vec<_> = self
            .history
            .meter_checks
            .iter()
            .filter_map(|check| {
                Some((column(check.at.minutes_since(self.now)).filter(|&at| at <= NOW_COLUMN)?, check.glucose.mg_dl()))
            })
            .collect();
        let low = self.wearer.low_line.mg_dl();
        let high = self.wearer.high_line.mg_dl();
        let amounts = || {
            let past = shown.iter().map(|reading| reading.glucose.mg_dl());
            past.chain(ahead.iter().flat_map(|&(_, _, least, most)| [least, most]))
                .chain(meters.iter().map(|&(_, m)| m))
        };
        let lowest = amounts().fold(low, f64::min);
        let highest = amounts().fold(low, f64::max);
        // The floor and the high line are drawn where something comes near them; the low line always.
        let mut lines = vec![(low, Label::LowLine)];
        if lowest < FLOOR_LINE_MG_DL + 10.0 {
            lines.push((FLOOR_LINE_MG_DL, Label::FloorLine));
        }
        if highest > high - 10.0 {
            lines.push((high, Label::HighLine));
        }
        let scale = Scale::over(amounts().chain(lines.iter().map(|line| line.0)), self.words.unit());

        let mut cells = vec![[Mark::Blank; COLUMNS]; scale.rows];
        let mut put = |row: usize, column: usize, mark: Mark| {
            let cell = &mut cells[row][column];
            *cell = (*cell).max(mark);
        };
        for row in 0..scale.rows {
            put(row, NOW_COLUMN, Mark::Now);
        }
        for &(amount, _) in &lines {
            // Gaps let what lies behind be seen.
            for column in (0..COLUMNS).filter(|column| column % 2 == 0) {
                put(scale.row(amount), column, Mark::Line);
            }
        }
        let start = shown
            .last()
            .map(|reading| (0.0, reading.glucose.mg_dl(), reading.glucose.mg_dl(), reading.glucose.mg_dl()));
        let path: Vec<_> = start.into_iter().chain(ahead).collect();
        for column in NOW_COLUMN + 1..COLUMNS {
            let minutes = (column - NOW_COLUMN) as f64 * MINUTES_A_COLUMN;
            let Some((mean, least, most)) = between(&path, minutes) else { continue };
            for row in scale.row(least)..=scale.row(most) {
                put(row, column, Mark::Band);
            }
            put(scale.row(mean), column, Mark::Path);
        }
        for reading in &shown {
            if let Some(column) = column(reading.at.minutes_since(self.now)) {
                put(scale.row(reading.glucose.mg_dl()), column, Mark::Reading);
            }
        }
        for &(column, amount) in &meters {
            put(scale.row(amount), column, Mark::Meter);
        }

        let sign = |mark: Mark| match mark {
            Mark::Blank => ' ',
            Mark::Now => signs.now,
            Mark::Band => signs.band,
            Mark::Line => signs.line,
            Mark::Path => signs.path,
            Mark::Reading => signs.reading,
            Mark::Meter => signs.meter,
        };
        let mut out = Vec::new();
        for row in (0..scale.rows).rev() {
            // A line's row carries the line's own amount, any other the scale's.
            let line = lines.iter().find(|line| scale.row(line.0) == row);
            let label = match line {
                Some(&(amount, _)) => self.words.bare_amount(amount),
                None if row % 2 == 0 => self.words.bare_amount(scale.amount_mg_dl(row)),
                None => String::new(),
            };
            let name = line.map_or_else(String::new, |&(_, name)| self.words.label(name));
            let drawn: String = cells[row].iter().map(|&mark| sign(mark)).collect();
            out.push(format!("{label:>4}{}{drawn} {name}", signs.axis));
        }
        let foot: String = std::iter::repeat_n(signs.foot, COLUMNS).collect();
        out.push(format!("{:>4}{}{foot}", "", signs.corner));
        out.push(self.times());
        out.extend(self.noted_lines());
        let mut legend = vec![format!("{} {}", signs.reading, self.words.label(Label::Reading))];
        if !meters.is_empty() {
            legend.push(format!("{} {}", signs.meter, self.words.label(Label::MeterCheck)));
        }
        if self.forecast.is_some() {
            legend.push(format!("{} {}", signs.path, self.words.label(Label::Expected)));
            legend.push(format!("{} {}", signs.band, self.words.label(Label::NineInTen)));
        }
        out.push(format!("{:>5}{}   ({})", "", legend.join("   "), self.words.unit()));
        out
    }

    fn times(&self) -> String {
        let mut line = vec![' '; COLUMNS + 5];
        let mut write = |at: usize, text: &str| {
            let from = (at + 2).saturating_sub(text.chars().count() / 2).min(line.len() - text.chars().count());
            for (offset, sign) in text.chars().enumerate() {
                line[from + offset] = sign;
            }
        };
        for back in [120.0, 90.0, 60.0, 30.0] {
            if let Some(column) = column(-back) {
                write(column, &self.now.plus_minutes(-back).clock());
            }
        }
        write(NOW_COLUMN, &self.words.label(Label::Now));
        for ahead in [30.0, 60.0] {
            if let Some(column) = column(ahead) {
                write(column, &format!("+{ahead:.0}"));
            }
        }
        format!("   {}", line.into_iter().collect::<String>())
    }

    /// What was noted: numbers under the picture, and below it what they stand for.
    fn noted_lines(&self) -> Vec<String> {
        let noted: Vec<(usize, &Entry)> = self
            .noted
            .iter()
            .filter(|entry| is_noted(&entry.what))
            .filter_map(|entry| Some((column(entry.at.minutes_since(self.now)).filter(|&at| at <= NOW_COLUMN)?, entry)))
            .take(9)
            .collect();
        if noted.is_empty() {
            return Vec::new();
        }
        let mut strip = vec![' '; COLUMNS];
        for ((column, _), number) in noted.iter().zip('1'..='9') {
            // Two at one time stand side by side.
            let free = (*column..COLUMNS).find(|&at| strip[at] == ' ').unwrap_or(*column);
            strip[free] = number;
        }
        let mut out = vec![format!("{:>5}{}", "", strip.into_iter().collect::<String>())];
        for ((_, entry), number) in noted.iter().zip(1..) {
            out.push(format!("{:>5}{number}  {} {}", "", entry.at.clock(), self.words.what(&entry.what)));
        }
        out
    }
}

/// The path's value between two of its times.
fn between(path: &[(f64, f64, f64, f64)], minutes: f64) -> Option<(f64, f64, f64)> {
    let pair = path.windows(2).find(|pair| pair[0].0 <= minutes && minutes <= pair[1].0)?;
    let share = (minutes - pair[0].0) / (pair[1].0 - pair[0].0);
    let mix = |from: f64, to: f64| from + share * (to - from);
    Some((mix(pair[0].1, pair[1].1), mix(pair[0].2, pair[1].2), mix(pair[0].3, pair[1].3)))
}

#[cfg(test)]
mod tests;
