//! Draws core's chart with letters: where everything lies is decided in [`ebbstead_core::chart`], this puts it into rows and columns.
//!
//! Every mark has a shape of its own, so nothing is shown by colour alone. What the chart says is also in its text, for a screen reader.

use ebbstead_core::chart::{Chart, PathPoint};
use ebbstead_core::words::Words;

use crate::screen::Style;

/// Columns of the drawing, at three minutes each: with the names beside them they fit a window of 80.
const COLUMNS: usize = 61;
/// Rows the drawing has at most.
const MOST_ROWS: usize = 16;
/// Entries that are numbered under it at most.
const MOST_NOTED: usize = 9;

struct Signs {
    reading: char,
    meter: char,
    path: char,
    treated: char,
    band: char,
    line: char,
    now: char,
    axis: char,
    foot: char,
    corner: char,
}

const WIDE: Signs = Signs {
    reading: '●',
    meter: 'M',
    path: '○',
    treated: '+',
    band: '░',
    line: '╌',
    now: '┊',
    axis: '│',
    foot: '─',
    corner: '└',
};
const PLAIN: Signs = Signs {
    reading: 'o',
    meter: 'M',
    path: '*',
    treated: '+',
    band: ':',
    line: '-',
    now: '|',
    axis: '|',
    foot: '-',
    corner: '+',
};

/// What stands in a cell; a later one covers an earlier one.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Mark {
    Blank,
    Now,
    Band,
    Line,
    Treated,
    Path,
    Reading,
    Meter,
}

/// Rows and columns over a chart's minutes and mg/dL.
struct Grid<'a> {
    chart: &'a Chart,
    rows: usize,
}

impl<'a> Grid<'a> {
    /// As many rows as let every mark of the scale stand on one.
    fn over(chart: &'a Chart) -> Self {
        let steps = chart.amounts.len().saturating_sub(1).max(1);
        Self { chart, rows: (steps * ((MOST_ROWS - 1) / steps).max(1) + 1).min(MOST_ROWS) }
    }

    /// The row of an amount, from the bottom; the nearest one where it is outside.
    fn row(&self, mg_dl: f64) -> usize {
        let Chart { lowest_mg_dl, highest_mg_dl, .. } = self.chart;
        let share = (mg_dl - lowest_mg_dl) / (highest_mg_dl - lowest_mg_dl).max(f64::MIN_POSITIVE);
        ((share * (self.rows - 1) as f64).round().max(0.0) as usize).min(self.rows - 1)
    }

    fn minutes_a_column(&self) -> f64 {
        (self.chart.until_minutes - self.chart.from_minutes) / (COLUMNS - 1) as f64
    }

    /// The column of a time; nothing outside the drawing.
    fn column(&self, minutes: f64) -> Option<usize> {
        let column = ((minutes - self.chart.from_minutes) / self.minutes_a_column()).round();
        (0.0..COLUMNS as f64).contains(&column).then_some(column as usize)
    }

    fn now(&self) -> usize {
        self.column(0.0).unwrap_or_default()
    }
}

/// The chart's lines, at most 80 columns wide.
pub fn lines(chart: &Chart, words: Words, style: Style) -> Vec<String> {
    let signs = if style.wide_signs { &WIDE } else { &PLAIN };
    let grid = Grid::over(chart);
    let cells = cells(&grid);
    let sign = |mark: Mark| match mark {
        Mark::Blank => ' ',
        Mark::Now => signs.now,
        Mark::Band => signs.band,
        Mark::Line => signs.line,
        Mark::Path => signs.path,
        Mark::Treated => signs.treated,
        Mark::Reading => signs.reading,
        Mark::Meter => signs.meter,
    };
    let mut out = Vec::new();
    for (row, marks) in cells.iter().enumerate().rev() {
        // A line's row carries the line's own amount, any other the scale's.
        let line = chart.lines.iter().find(|line| grid.row(line.mg_dl) == row);
        let amount = chart.amounts.iter().find(|tick| grid.row(tick.value) == row);
        let label = line.map(|line| words.bare_amount(line.mg_dl)).or_else(|| amount.map(|tick| tick.text.clone()));
        let name = line.map_or_else(String::new, |line| words.label(line.which));
        let drawn: String = marks.iter().map(|&mark| sign(mark)).collect();
        out.push(format!("{:>4}{}{drawn} {name}", label.unwrap_or_default(), signs.axis));
    }
    let foot: String = std::iter::repeat_n(signs.foot, COLUMNS).collect();
    out.push(format!("{:>4}{}{foot}", "", signs.corner));
    out.push(times(&grid));
    out.extend(noted(&grid));
    let drawn = [
        (signs.reading, true),
        (signs.meter, !chart.meters.is_empty()),
        (signs.path, !chart.path.is_empty()),
        (signs.band, !chart.path.is_empty()),
        (signs.treated, !chart.treated.is_empty()),
    ];
    let legend: Vec<String> = drawn
        .into_iter()
        .zip(&chart.legend)
        .filter(|((_, drawn), _)| *drawn)
        .map(|((sign, _), name)| format!("{sign} {name}"))
        .collect();
    out.extend(wrapped(&legend, &format!("({})", words.unit())));
    out
}

/// What stands in each cell, the bottom row first.
fn cells(grid: &Grid<'_>) -> Vec<[Mark; COLUMNS]> {
    let chart = grid.chart;
    let mut cells = vec![[Mark::Blank; COLUMNS]; grid.rows];
    let mut put = |row: usize, column: usize, mark: Mark| {
        let cell = &mut cells[row][column];
        *cell = (*cell).max(mark);
    };
    for row in 0..grid.rows {
        put(row, grid.now(), Mark::Now);
    }
    for line in &chart.lines {
        // Gaps let what lies behind be seen.
        for column in (0..COLUMNS).step_by(2) {
            put(grid.row(line.mg_dl), column, Mark::Line);
        }
    }
    for column in grid.now() + 1..COLUMNS {
        let minutes = chart.from_minutes + column as f64 * grid.minutes_a_column();
        let expected = |mg_dl: fn(&PathPoint) -> f64| between(&chart.path, minutes, |one| one.minutes, mg_dl);
        if let (Some(least), Some(most)) = (expected(|one| one.p5_mg_dl), expected(|one| one.p95_mg_dl)) {
            for row in grid.row(least)..=grid.row(most) {
                put(row, column, Mark::Band);
            }
        }
        let treated = between(&chart.treated, minutes, |one| one.minutes, |one| one.mg_dl);
        for (mg_dl, mark) in [(expected(|one| one.mg_dl), Mark::Path), (treated, Mark::Treated)] {
            if let Some(mg_dl) = mg_dl {
                put(grid.row(mg_dl), column, mark);
            }
        }
    }
    for (points, mark) in [(&chart.readings, Mark::Reading), (&chart.meters, Mark::Meter)] {
        for point in points {
            if let Some(column) = grid.column(point.minutes) {
                put(grid.row(point.mg_dl), column, mark);
            }
        }
    }
    cells
}

fn times(grid: &Grid<'_>) -> String {
    let mut line = vec![' '; COLUMNS + 5];
    for tick in &grid.chart.times {
        let Some(at) = grid.column(tick.value) else { continue };
        let width = tick.text.chars().count();
        let from = (at + 2).saturating_sub(width / 2).min(line.len() - width);
        for (offset, sign) in tick.text.chars().enumerate() {
            line[from + offset] = sign;
        }
    }
    format!("   {}", line.into_iter().collect::<String>())
}

/// What was noted: numbers under the drawing, and below it what they stand for.
fn noted(grid: &Grid<'_>) -> Vec<String> {
    let noted = grid.chart.noted.iter().filter_map(|one| Some((grid.column(one.minutes)?, &one.text)));
    let noted: Vec<_> = noted.take(MOST_NOTED).collect();
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
    out.extend(
        noted.iter().zip(1..).map(|((_, text), number)| format!("{:>5}{number}  {}", "", text.replace('\n', " / "))),
    );
    out
}

/// What the marks stand for and the unit, on as many lines as it takes.
fn wrapped(legend: &[String], unit: &str) -> Vec<String> {
    let mut lines = vec![String::new()];
    for part in legend.iter().map(String::as_str).chain([unit]) {
        let last =
            lines.last_mut().filter(|line| line.is_empty() || line.chars().count() + part.chars().count() + 8 <= 80);
        match last {
            Some(line) if line.is_empty() => line.push_str(part),
            Some(line) => *line += &format!("   {part}"),
            None => lines.push(part.to_owned()),
        }
    }
    lines.into_iter().map(|line| format!("{:>5}{line}", "")).collect()
}

/// An amount of a path between two of its times.
fn between<T>(path: &[T], minutes: f64, at: impl Fn(&T) -> f64, mg_dl: impl Fn(&T) -> f64) -> Option<f64> {
    let pair = path.windows(2).find(|pair| (at(&pair[0])..=at(&pair[1])).contains(&minutes))?;
    let share = (minutes - at(&pair[0])) / (at(&pair[1]) - at(&pair[0]));
    Some(mg_dl(&pair[0]) + share * (mg_dl(&pair[1]) - mg_dl(&pair[0])))
}

#[cfg(test)]
mod tests;
