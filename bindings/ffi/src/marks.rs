//! Plain marks on a sheet, for any canvas.

use ebbstead_core::marks;

use crate::chart::all;
use crate::error::ApiResult;
use crate::mirror::{mirrored_names, mirrored_record};
use crate::prompt::Verdict;

mirrored_record! {
    /// A place on a sheet, in the shell's points.
    SheetPoint = ebbstead_core::marks::SheetPoint {
        /// From the left edge.
        x: f64,
        /// From the upper edge.
        y: f64,
    }
}

mirrored_names! {
    /// By what light a screen is looked at.
    Light = ebbstead_core::marks::Light {
        /// By day.
        Day,
        /// Where the phone is set to dark.
        Dark,
        /// For eyes that were shut a moment ago: nothing on it is bright.
        Night,
    }
}

mirrored_record! {
    /// The inks of a screen in sRGB, each three bytes: red, green, blue.
    Inks = ebbstead_core::marks::Inks {
        /// What all lies on.
        ground: u32,
        /// A card, a field.
        raised: u32,
        /// Text.
        ink: u32,
        /// Text beside it.
        quiet: u32,
        /// Buttons, what is chosen, paths.
        water: u32,
        /// Text on that.
        on_water: u32,
        /// A surface behind text.
        tint: u32,
        /// The edge of a surface.
        edge: u32,
        /// The lines across a chart.
        shore: u32,
    }
}

/// The inks of a screen: one look on every phone.
#[uniffi::export]
#[must_use]
pub fn inks(light: Light) -> Inks {
    marks::Inks::of(light.into()).into()
}

mirrored_names! {
    /// What a mark is there for: give each an ink. No two of one drawing differ by ink alone.
    MarkRole = ebbstead_core::marks::Role {
        /// A scale.
        Scale,
        /// The present.
        Now,
        /// The wearer's low line.
        Low,
        /// The floor line.
        Floor,
        /// The wearer's high line.
        High,
        /// The surface below what was read.
        Past,
        /// What nine outcomes in ten stay within.
        Band,
        /// The expected path, if nothing is done.
        Path,
        /// The path if the first step of carbohydrate is taken now.
        Treated,
        /// What a sensor read.
        Reading,
        /// What a meter showed.
        Meter,
        /// Something noted.
        Noted,
        /// An hour's readings over many days.
        Hour,
        /// The notch cut into an hour at its median: the ink of the ground.
        HourMedian,
    }
}

mirrored_names! {
    /// Which part of a text stands at its place.
    TextAnchor = ebbstead_core::marks::TextAnchor {
        /// Its beginning.
        Start,
        /// Its middle.
        Middle,
        /// Its end.
        End,
    }
}

/// What to draw.
#[derive(Clone, Debug, PartialEq, uniffi::Enum, serde::Serialize)]
pub enum MarkShape {
    /// A line through points.
    Line {
        /// At least two.
        points: Vec<SheetPoint>,
        /// Lengths of dash and gap by turns; none for a line without gaps.
        dashes: Vec<f64>,
        /// How wide.
        width: f64,
        /// Whether its ends, and those of its dashes, are round.
        round: bool,
    },
    /// A closed surface, filled.
    Area {
        /// Its corners.
        points: Vec<SheetPoint>,
    },
    /// A disc.
    Dot {
        /// Its middle.
        at: SheetPoint,
        /// From the middle to the edge.
        radius: f64,
    },
    /// A text on one line.
    Text {
        /// The text.
        text: String,
        /// The place on the line that its letters stand on.
        at: SheetPoint,
        /// Which part of it stands there.
        anchor: TextAnchor,
        /// The size of its type.
        size: f64,
        /// Whether something lies behind it: fill its box with a little of the ground first.
        backed: bool,
    },
}

impl From<marks::MarkShape> for MarkShape {
    fn from(core: marks::MarkShape) -> Self {
        match core {
            marks::MarkShape::Line { points, dashes, width, round } => {
                Self::Line { points: all(points), dashes, width, round }
            }
            marks::MarkShape::Area { points } => Self::Area { points: all(points) },
            marks::MarkShape::Dot { at, radius } => Self::Dot { at: at.into(), radius },
            marks::MarkShape::Text { text, at, anchor, size, backed } => {
                Self::Text { text, at: at.into(), anchor: anchor.into(), size, backed }
            }
        }
    }
}

mirrored_record! {
    /// A mark.
    Mark = ebbstead_core::marks::Mark {
        /// What it is there for.
        role: MarkRole,
        /// What to draw.
        shape: MarkShape,
    }
}

mirrored_names! {
    /// How heavy a block lies on the screen: urgency is weight, not hue.
    Weight = ebbstead_core::marks::Weight {
        /// Filled with the ink of text, and written on in the ground's.
        Solid,
        /// A thick outline.
        Outline,
        /// A light tint.
        Tint,
        /// Neither.
        Plain,
    }
}

/// How heavy a verdict's block lies on the screen.
///
/// # Errors
/// None; it returns a result so that nothing can end the host app. So do the others here.
#[uniffi::export]
pub fn verdict_weight(verdict: Verdict) -> ApiResult<Weight> {
    Ok(marks::weight(verdict.into()).into())
}

/// A verdict's own shape on a square with sides of this length. Its word stands beside it.
///
/// # Errors
/// None.
#[uniffi::export]
pub fn verdict_sign(verdict: Verdict, side: f64) -> ApiResult<Vec<MarkShape>> {
    Ok(all(marks::sign(verdict.into(), side)))
}

/// The edge of a verdict's block: round above, and a wave below. Nothing for a size that no screen has.
///
/// # Errors
/// None.
#[uniffi::export]
pub fn block_edge(width: f64, height: f64) -> ApiResult<Vec<SheetPoint>> {
    Ok(all(marks::block_edge(width, height)))
}
