//! Time in the consensus ranges and in the wearer's own.
//!
//! # Source
//! Battelino T, Danne T, Bergenstal RM, et al., Clinical targets for continuous glucose monitoring data interpretation:
//! recommendations from the international consensus on time in range, Diabetes Care 2019;42(8):1593-1603.

use serde::Serialize;

use super::held::{Held, total_minutes};
use crate::units::whole_mg_dl;
use crate::wearer::{FLOOR_LINE_MG_DL, HIGH_LINE_MG_DL, LOW_LINE_MG_DL, VERY_HIGH_LINE_MG_DL, Wearer};

/// Whom the consensus sets aims for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Group {
    /// Adults with type 1 or type 2 diabetes.
    #[default]
    Adult,
    /// Older people and those at high risk.
    OlderOrHighRisk,
    /// Pregnancy with type 1 diabetes; the range itself is another, 63 to 140 mg/dL.
    Type1Pregnancy,
}

/// The lines between bands, in mg/dL. Low begins below `low`, high above `high`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Lines {
    /// Very low begins below it.
    pub floor_mg_dl: f64,
    /// Low begins below it.
    pub low_mg_dl: f64,
    /// High begins above it.
    pub high_mg_dl: f64,
    /// Very high begins above it.
    pub very_high_mg_dl: f64,
}

impl Lines {
    /// The consensus' lines for a group.
    #[must_use]
    pub const fn of(group: Group) -> Self {
        let (low_mg_dl, high_mg_dl) = match group {
            Group::Adult | Group::OlderOrHighRisk => (LOW_LINE_MG_DL, HIGH_LINE_MG_DL),
            Group::Type1Pregnancy => (63.0, 140.0),
        };
        Self { floor_mg_dl: FLOOR_LINE_MG_DL, low_mg_dl, high_mg_dl, very_high_mg_dl: VERY_HIGH_LINE_MG_DL }
    }

    /// The wearer's own lines, with the consensus' outer ones.
    #[must_use]
    pub fn own(wearer: &Wearer) -> Self {
        Self {
            floor_mg_dl: FLOOR_LINE_MG_DL,
            low_mg_dl: wearer.low_line.mg_dl(),
            high_mg_dl: wearer.high_line.mg_dl(),
            very_high_mg_dl: VERY_HIGH_LINE_MG_DL,
        }
    }
}

/// Whether an amount is below a line, in whole mg/dL.
#[must_use]
pub fn below(mg_dl: f64, line_mg_dl: f64) -> bool {
    whole_mg_dl(mg_dl) < whole_mg_dl(line_mg_dl)
}

/// Whether an amount is above a line, in whole mg/dL.
#[must_use]
pub fn above(mg_dl: f64, line_mg_dl: f64) -> bool {
    whole_mg_dl(mg_dl) > whole_mg_dl(line_mg_dl)
}

/// Shares of the time covered by readings, in percent; together 100.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Shares {
    /// Below the floor.
    pub very_low: f64,
    /// From the floor up to below the low line.
    pub low: f64,
    /// From the low line up to the high line, both included.
    pub in_range: f64,
    /// Above the high line, up to the very high line.
    pub high: f64,
    /// Above the very high line.
    pub very_high: f64,
}

impl Shares {
    /// Shares the time among the bands; nothing without readings.
    #[must_use]
    pub fn of(held: &[Held], lines: Lines) -> Option<Self> {
        let total = total_minutes(held);
        if total <= 0.0 {
            return None;
        }
        let mut shares = Self::default();
        for one in held {
            let band = match one {
                one if one.shown.is_below(lines.floor_mg_dl) => &mut shares.very_low,
                one if one.shown.is_below(lines.low_mg_dl) => &mut shares.low,
                one if one.shown.is_above(lines.very_high_mg_dl) => &mut shares.very_high,
                one if one.shown.is_above(lines.high_mg_dl) => &mut shares.high,
                _ => &mut shares.in_range,
            };
            *band += 100.0 * one.minutes / total;
        }
        Some(shares)
    }

    /// All of the time below the low line, in percent.
    #[must_use]
    pub fn below(&self) -> f64 {
        self.very_low + self.low
    }

    /// All of the time above the high line, in percent.
    #[must_use]
    pub fn above(&self) -> f64 {
        self.high + self.very_high
    }

    /// One part, in percent.
    #[must_use]
    pub fn part(&self, part: Part) -> f64 {
        match part {
            Part::InRange => self.in_range,
            Part::BelowLow => self.below(),
            Part::BelowFloor => self.very_low,
            Part::AboveHigh => self.above(),
            Part::AboveVeryHigh => self.very_high,
        }
    }
}

/// What the consensus sets an aim for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Part {
    /// In range.
    InRange,
    /// All below the low line.
    BelowLow,
    /// Below the floor.
    BelowFloor,
    /// All above the high line.
    AboveHigh,
    /// Above the very high line.
    AboveVeryHigh,
}

/// An aim for one part of the time.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Aim {
    /// Of what.
    pub part: Part,
    /// More than this for [`Part::InRange`], less than this for the others, in percent of the time.
    pub percent: f64,
}

impl Aim {
    /// The consensus' aims for a group. The care team's go before them.
    ///
    /// That older people aim at less than 10 % above 250 mg/dL is from memory; the others were read.
    #[must_use]
    pub const fn of(group: Group) -> &'static [Self] {
        const fn aim(part: Part, percent: f64) -> Aim {
            Aim { part, percent }
        }
        const ADULT: [Aim; 5] = [
            aim(Part::InRange, 70.0),
            aim(Part::BelowLow, 4.0),
            aim(Part::BelowFloor, 1.0),
            aim(Part::AboveHigh, 25.0),
            aim(Part::AboveVeryHigh, 5.0),
        ];
        const OLDER: [Aim; 3] = [aim(Part::InRange, 50.0), aim(Part::BelowLow, 1.0), aim(Part::AboveVeryHigh, 10.0)];
        const PREGNANCY: [Aim; 4] = [
            aim(Part::InRange, 70.0),
            aim(Part::BelowLow, 4.0),
            aim(Part::BelowFloor, 1.0),
            aim(Part::AboveHigh, 25.0),
        ];
        match group {
            Group::Adult => &ADULT,
            Group::OlderOrHighRisk => &OLDER,
            Group::Type1Pregnancy => &PREGNANCY,
        }
    }

    /// Whether the shares reach it.
    #[must_use]
    pub fn reached(&self, shares: &Shares) -> bool {
        let have = shares.part(self.part);
        if self.part == Part::InRange { have > self.percent } else { have < self.percent }
    }
}
