//! Plain marks on a sheet, for any canvas: lines, surfaces, discs and texts, each with what it is there for. A shell gives every role
//! its ink and draws them in their order; it decides nothing else.
//!
//! Lengths are in the shell's own points, from the upper left corner, x to the right and y downwards.

mod inks;
mod sign;

pub use inks::{Inks, Light};
pub use sign::{Weight, block_edge, sign, weight};

/// A place on a sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SheetPoint {
    /// From the left edge.
    pub x: f64,
    /// From the upper edge.
    pub y: f64,
}

pub(crate) const fn at(x: f64, y: f64) -> SheetPoint {
    SheetPoint { x, y }
}

/// What a mark is there for; a theme gives it its ink. No two roles of one drawing differ by ink alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Role {
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
    /// The notch cut into an hour at its median: the ink of what all of it is drawn on.
    HourMedian,
}

/// Which part of a text stands at its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TextAnchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// What to draw.
#[derive(Clone, Debug, PartialEq)]
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

/// A mark.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// What it is there for.
    pub role: Role,
    /// What to draw.
    pub shape: MarkShape,
}

impl MarkShape {
    /// A line without gaps.
    pub(crate) const fn solid(points: Vec<SheetPoint>, width: f64) -> Self {
        Self::Line { points, dashes: Vec::new(), width, round: true }
    }
}
