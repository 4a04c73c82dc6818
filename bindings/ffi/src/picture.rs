//! What to draw of a prompt, and of days.

use ebbstead_core::chart as core_picture;
use ebbstead_core::words::Label as CoreLabel;

use crate::mirror::mirrored_record;

mirrored_record! {
    /// A sensor reading or a meter check, drawn.
    DrawnPoint = ebbstead_core::chart::Point {
        /// Minutes from the present, negative before it.
        minutes: f64,
        /// Where, in mg/dL.
        mg_dl: f64,
    }
}

mirrored_record! {
    /// A point of the expected path with its band, which holds nine outcomes in ten.
    DrawnPath = ebbstead_core::chart::PathPoint {
        /// Minutes from the present.
        minutes: f64,
        /// The expected reading, in mg/dL.
        mg_dl: f64,
        /// The band's lower end, in mg/dL.
        least_mg_dl: f64,
        /// The band's upper end, in mg/dL.
        most_mg_dl: f64,
    }
}

mirrored_record! {
    /// A mark of a scale.
    ScaleMark = ebbstead_core::chart::Mark {
        /// Where: mg/dL on the upright scale, minutes from the present on the level one.
        place: f64,
        /// What to write there.
        text: String,
    }
}

mirrored_record! {
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

/// A line across the picture.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct DrawnLine {
    /// Where, in mg/dL.
    pub mg_dl: f64,
    /// Which; draw each with dashes of its own.
    pub kind: LineKind,
    /// Its name and amount, in words.
    pub text: String,
}

/// Everything a drawing needs. Map minutes and mg/dL to the canvas in straight proportion; there is nothing to work out.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct Picture {
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
    pub amounts: Vec<ScaleMark>,
    /// The level scale.
    pub times: Vec<ScaleMark>,
    /// What was noted, by time.
    pub noted: Vec<NotedMark>,
    /// What the marks stand for: reading, meter check, expected path, band, and the path if treated where it is drawn.
    pub legend: Vec<String>,
    /// The picture in words, for a screen reader.
    pub text: String,
}

impl From<core_picture::Picture> for Picture {
    fn from(core: core_picture::Picture) -> Self {
        let core_picture::Picture {
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

mirrored_record! {
    /// One hour of the clock, drawn as a post: eight readings in ten, its thick part the middle half, a notch at the median.
    HourPost = ebbstead_core::chart::Post {
        /// Hours from midnight to the hour's middle.
        hours: f64,
        /// The post's lower end, in mg/dL.
        least_mg_dl: f64,
        /// The lower end of the middle half, in mg/dL.
        lower_mg_dl: f64,
        /// The median, in mg/dL.
        middle_mg_dl: f64,
        /// The upper end of the middle half, in mg/dL.
        upper_mg_dl: f64,
        /// The post's upper end, in mg/dL.
        most_mg_dl: f64,
    }
}

/// The daily profile, to draw: 24 hours of the wearer's clock from midnight. Map hours and mg/dL to the canvas in straight
/// proportion; there is nothing to work out.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
pub struct DayPicture {
    /// The lower end of the upright scale, in mg/dL.
    pub lowest_mg_dl: f64,
    /// The upper end, in mg/dL.
    pub highest_mg_dl: f64,
    /// The hours that have enough readings, by time.
    pub posts: Vec<HourPost>,
    /// The floor and the wearer's own lines.
    pub lines: Vec<DrawnLine>,
    /// The upright scale.
    pub amounts: Vec<ScaleMark>,
    /// The level scale: hours from midnight.
    pub times: Vec<ScaleMark>,
    /// What the posts stand for.
    pub legend: String,
    /// The picture in words, for a screen reader; the review's page has every number.
    pub text: String,
}

impl From<core_picture::Day> for DayPicture {
    fn from(core: core_picture::Day) -> Self {
        let core_picture::Day { lowest_mg_dl, highest_mg_dl, posts, lines, amounts, times, legend, text } = core;
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

pub(crate) fn all<A, B: From<A>>(list: Vec<A>) -> Vec<B> {
    list.into_iter().map(Into::into).collect()
}

pub(crate) fn line(core_picture::Line { mg_dl, which, text }: core_picture::Line) -> DrawnLine {
    let kind = match which {
        CoreLabel::FloorLine => LineKind::Floor,
        CoreLabel::HighLine => LineKind::High,
        _ => LineKind::Low,
    };
    DrawnLine { mg_dl, kind, text }
}
