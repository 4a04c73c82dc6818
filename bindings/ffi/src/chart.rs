//! What to draw of a prompt, and of days.

use std::collections::HashMap;

use ebbstead_core::chart as core_chart;
use ebbstead_core::words::Label as CoreLabel;

use crate::error::ApiResult;
use crate::marks::{Mark, MarkRole};
use crate::mirror::{mirrored_both_ways, mirrored_record};

mirrored_both_ways! {
    /// A sensor reading or a meter check, drawn.
    DrawnPoint = ebbstead_core::chart::Point {
        /// Minutes from the present, negative before it.
        minutes: f64,
        /// Where, in mg/dL.
        mg_dl: f64,
    }
}

mirrored_both_ways! {
    /// A point of the expected path with its band, which holds nine outcomes in ten.
    DrawnPath = ebbstead_core::chart::PathPoint {
        /// Minutes from the present.
        minutes: f64,
        /// The expected reading, in mg/dL.
        mg_dl: f64,
        /// The band's lower end, in mg/dL.
        p5_mg_dl: f64,
        /// The band's upper end, in mg/dL.
        p95_mg_dl: f64,
    }
}

mirrored_both_ways! {
    /// A mark of a scale.
    Tick = ebbstead_core::chart::Tick {
        /// Where: mg/dL on the upright scale, minutes from the present on the level one.
        value: f64,
        /// What to write there.
        text: String,
    }
}

mirrored_both_ways! {
    /// Something noted in the time shown.
    NotedMark = ebbstead_core::chart::Noted {
        /// Minutes from the present, negative before it.
        minutes: f64,
        /// The time and what it was, in words.
        text: String,
    }
}

/// Which line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, uniffi::Enum, serde::Serialize)]
pub enum LineKind {
    /// The wearer's low line.
    Low,
    /// The floor line.
    Floor,
    /// The wearer's high line.
    High,
}

/// A line across the chart.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct DrawnLine {
    /// Where, in mg/dL.
    pub mg_dl: f64,
    /// Which; draw each with dashes of its own.
    pub kind: LineKind,
    /// Its name and amount, in words.
    pub text: String,
}

/// Everything a drawing shows. [`draw_chart`] lays it out on a sheet.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct Chart {
    /// The first minute shown, negative.
    pub from_minutes: f64,
    /// The last minute shown.
    pub until_minutes: f64,
    /// The lower end of the upright scale, in mg/dL.
    pub lowest_mg_dl: f64,
    /// The upper end, in mg/dL.
    pub highest_mg_dl: f64,
    /// Sensor readings, by time.
    pub readings: Vec<DrawnPoint>,
    /// Meter checks, by time; give them a shape of their own.
    pub meters: Vec<DrawnPoint>,
    /// The expected path with its band, if nothing is done.
    pub path: Vec<DrawnPath>,
    /// The expected path if the first step of carbohydrate is taken now; empty where the two futures do not matter.
    pub treated: Vec<DrawnPoint>,
    /// The lines that matter here.
    pub lines: Vec<DrawnLine>,
    /// The upright scale.
    pub amounts: Vec<Tick>,
    /// The level scale.
    pub times: Vec<Tick>,
    /// What was noted, by time.
    pub noted: Vec<NotedMark>,
    /// What the marks stand for: reading, meter check, expected path, band, and the path if treated where it is drawn.
    pub legend: Vec<String>,
    /// The chart in words, for a screen reader.
    pub text: String,
}

impl From<core_chart::Chart> for Chart {
    fn from(core: core_chart::Chart) -> Self {
        let core_chart::Chart {
            from_minutes,
            until_minutes,
            lowest_mg_dl,
            highest_mg_dl,
            readings,
            meters,
            path,
            treated,
            lines,
            amounts,
            times,
            noted,
            legend,
            text,
        } = core;
        Self {
            from_minutes,
            until_minutes,
            lowest_mg_dl,
            highest_mg_dl,
            readings: all(readings),
            meters: all(meters),
            path: all(path),
            treated: all(treated),
            lines: lines.into_iter().map(line).collect(),
            amounts: all(amounts),
            times: all(times),
            noted: all(noted),
            legend,
            text,
        }
    }
}

impl From<Chart> for core_chart::Chart {
    fn from(here: Chart) -> Self {
        let Chart {
            from_minutes,
            until_minutes,
            lowest_mg_dl,
            highest_mg_dl,
            readings,
            meters,
            path,
            treated,
            lines,
            amounts,
            times,
            noted,
            legend,
            text,
        } = here;
        Self {
            from_minutes,
            until_minutes,
            lowest_mg_dl,
            highest_mg_dl,
            readings: all(readings),
            meters: all(meters),
            path: all(path),
            treated: all(treated),
            lines: lines.into_iter().map(core_line).collect(),
            amounts: all(amounts),
            times: all(times),
            noted: all(noted),
            legend,
            text,
        }
    }
}

mirrored_both_ways! {
    /// One hour of the clock, drawn as a post: eight readings in ten, its thick part the middle half, a notch at the median.
    HourPercentiles = ebbstead_core::chart::HourPercentiles {
        /// Hours from midnight to the hour's middle.
        hours: f64,
        /// The post's lower end, in mg/dL.
        p10_mg_dl: f64,
        /// The lower end of the middle half, in mg/dL.
        p25_mg_dl: f64,
        /// The median, in mg/dL.
        p50_mg_dl: f64,
        /// The upper end of the middle half, in mg/dL.
        p75_mg_dl: f64,
        /// The post's upper end, in mg/dL.
        p90_mg_dl: f64,
    }
}

/// The daily profile, to draw: 24 hours of the wearer's clock from midnight. [`draw_day`] lays it out on a sheet.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct DayChart {
    /// The lower end of the upright scale, in mg/dL.
    pub lowest_mg_dl: f64,
    /// The upper end, in mg/dL.
    pub highest_mg_dl: f64,
    /// The hours that have enough readings, by time.
    pub posts: Vec<HourPercentiles>,
    /// The floor and the wearer's own lines.
    pub lines: Vec<DrawnLine>,
    /// The upright scale.
    pub amounts: Vec<Tick>,
    /// The level scale: hours from midnight.
    pub times: Vec<Tick>,
    /// What the posts stand for.
    pub legend: String,
    /// The chart in words, for a screen reader; the review's page has every number.
    pub text: String,
}

impl From<core_chart::DayChart> for DayChart {
    fn from(core: core_chart::DayChart) -> Self {
        let core_chart::DayChart { lowest_mg_dl, highest_mg_dl, posts, lines, amounts, times, legend, text } = core;
        Self {
            lowest_mg_dl,
            highest_mg_dl,
            posts: all(posts),
            lines: lines.into_iter().map(line).collect(),
            amounts: all(amounts),
            times: all(times),
            legend,
            text,
        }
    }
}

impl From<DayChart> for core_chart::DayChart {
    fn from(here: DayChart) -> Self {
        let DayChart { lowest_mg_dl, highest_mg_dl, posts, lines, amounts, times, legend, text } = here;
        Self {
            lowest_mg_dl,
            highest_mg_dl,
            posts: all(posts),
            lines: lines.into_iter().map(core_line).collect(),
            amounts: all(amounts),
            times: all(times),
            legend,
            text,
        }
    }
}

/// What a chart is laid out on. Lengths are in the shell's points.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Sheet {
    /// How wide it is.
    pub width: f64,
    /// How high; as suits the width and the type where none is given.
    #[uniffi(default = None)]
    pub height: Option<f64>,
    /// The size of type.
    pub type_size: f64,
    /// How wide texts are in this size, as far as the shell measured them: names of lines, of marks, of the scales. The others are taken to
    /// be rather wide.
    #[uniffi(default)]
    pub widths: HashMap<String, f64>,
}

impl From<Sheet> for core_chart::Sheet {
    fn from(Sheet { width, height, type_size, widths }: Sheet) -> Self {
        Self { width, height, type_size, widths: widths.into_iter().collect() }
    }
}

/// A name, with a sample of its mark.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct LegendItem {
    /// What it names.
    pub role: MarkRole,
    /// The name.
    pub name: String,
    /// The mark on a sheet of its own, 30 wide and 16 high.
    pub sample: Vec<Mark>,
    /// Whether the name stands on the drawing already.
    pub on_drawing: bool,
}

impl From<core_chart::LegendItem> for LegendItem {
    fn from(core_chart::LegendItem { role, name, sample, on_drawing }: core_chart::LegendItem) -> Self {
        Self { role: role.into(), name, sample: all(sample), on_drawing }
    }
}

/// A chart as marks: give each role its ink, and draw them in their order.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Drawing {
    /// How wide it is.
    pub width: f64,
    /// How high it is.
    pub height: f64,
    /// In the order to draw them.
    pub marks: Vec<Mark>,
    /// What the marks stand for, of those that are drawn.
    pub legend: Vec<LegendItem>,
    /// What was noted in the time shown, after the letter that marks it.
    pub noted: Vec<String>,
    /// The chart in words, for a screen reader; hide the marks from it.
    pub text: String,
}

impl From<core_chart::Drawing> for Drawing {
    fn from(core: core_chart::Drawing) -> Self {
        let core_chart::Drawing { width, height, marks, legend, noted, text } = core;
        Self { width, height, marks: all(marks), legend: all(legend), noted, text }
    }
}

/// Lays a chart out on a sheet. One that is too small or too large for any screen, or no number, gets no marks; the text is there in any
/// case.
///
/// # Errors
/// None; it returns a result so that nothing can end the host app.
#[uniffi::export]
pub fn draw_chart(chart: Chart, sheet: Sheet) -> ApiResult<Drawing> {
    Ok(core_chart::Chart::from(chart).on(&sheet.into()).into())
}

/// Lays the day by the hour out on a sheet, as [`draw_chart`] does.
///
/// # Errors
/// None; it returns a result so that nothing can end the host app.
#[uniffi::export]
pub fn draw_day(day: DayChart, sheet: Sheet) -> ApiResult<Drawing> {
    Ok(core_chart::DayChart::from(day).on(&sheet.into()).into())
}

pub(crate) fn all<A, B: From<A>>(list: Vec<A>) -> Vec<B> {
    list.into_iter().map(Into::into).collect()
}

pub(crate) fn line(core_chart::Line { mg_dl, which, text }: core_chart::Line) -> DrawnLine {
    let kind = match which {
        CoreLabel::FloorLine => LineKind::Floor,
        CoreLabel::HighLine => LineKind::High,
        _ => LineKind::Low,
    };
    DrawnLine { mg_dl, kind, text }
}

fn core_line(DrawnLine { mg_dl, kind, text }: DrawnLine) -> core_chart::Line {
    let which = match kind {
        LineKind::Floor => CoreLabel::FloorLine,
        LineKind::High => CoreLabel::HighLine,
        LineKind::Low => CoreLabel::LowLine,
    };
    core_chart::Line { mg_dl, which, text }
}
