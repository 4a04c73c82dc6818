//! The figures of a review, each by its paper's formula, each saying what it needs where there is too little.
//!
//! Everything is weighed by the time readings stand for ([`held()`]). Nothing here is ever NaN: a figure is there, or
//! [`TooLittle`] says what is there and what is needed.

pub mod episodes;
pub mod held;
pub(crate) mod measured;
pub mod profile;
pub mod ranges;
pub mod risk;
pub mod spread;
pub mod swings;

pub(crate) use episodes::JITTER_MINUTES;
pub use episodes::{Before, Episode, Side, episodes};
pub(crate) use held::total_minutes;
pub use held::{Held, by_date, held, repeated};
pub use profile::{Hour, profile};
pub use ranges::{Aim, Group, Lines, Part, Shares};
pub use risk::{BloodGlucoseIndices, GlycemiaRisk, Risk};
pub use spread::{Spread, gmi_mmol_mol, gmi_percent};

use std::collections::BTreeSet;

use serde::Serialize;

use super::Period;

/// A figure, or why there is none.
pub type Measured<T> = std::result::Result<T, TooLittle>;

/// What there is too little of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Need {
    /// Hours covered by readings.
    HoursOfReadings,
    /// Days' worth of readings.
    DaysOfReadings,
    /// Days covered by at least 70 %.
    CoveredDays,
    /// Hours of readings that have others 24 h before.
    HoursADayApart,
    /// Days with readings at this hour.
    DaysAtThisHour,
    /// Swings larger than the standard deviation of their day, where days are covered.
    Swings,
    /// Readings compared with a meter.
    MeterPairs,
    /// Readings with another within 20 minutes.
    NearReadings,
}

/// Not enough data: what there is, and what is needed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct TooLittle {
    /// Of what.
    pub of: Need,
    /// How much there is.
    pub have: f64,
    /// How much is needed.
    pub need: f64,
}

impl TooLittle {
    /// Not enough of something.
    #[must_use]
    pub const fn of(of: Need, have: f64, need: f64) -> Self {
        Self { of, have, need }
    }
}

/// Days a review should span, and the share of them that readings should cover (Battelino 2019).
const ENOUGH_DAYS: f64 = 14.0;
/// See `ENOUGH_DAYS`.
const ENOUGH_SHARE: f64 = 0.7;
/// The clock is put on or back by an hour, here in days, with a thousandth for clocks that drift.
const CLOCK_CHANGE_DAYS: f64 = 1.001 / 24.0;
/// Figures over all readings need this many hours of them; ours.
pub(crate) const FEWEST_HOURS: f64 = 24.0;

/// What a review stands on.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Sufficiency {
    /// Readings used.
    pub readings: usize,
    /// How many of them were too low or too high to measure and stand with their limit.
    pub beyond: usize,
    /// How many of them have no other within 20 minutes: how long what they show lasted is not known.
    pub alone: usize,
    /// Hours that readings cover.
    pub covered_hours: f64,
    /// Days of the period.
    pub days: f64,
    /// Local dates with readings.
    pub dates: usize,
    /// The longest stretch without readings, begin and end of the period included, in hours.
    pub longest_gap_hours: f64,
    /// Hours left out since the sensor was pressed.
    pub left_out_hours: f64,
}

impl Sufficiency {
    /// Looks at what the readings cover.
    #[must_use]
    pub fn of(held: &[Held], period: Period, left_out_minutes: f64) -> Self {
        let mut covered_until = period.from();
        let mut longest = 0.0_f64;
        for one in held {
            longest = longest.max(one.at.minutes_since(covered_until));
            covered_until = one.until();
        }
        longest = longest.max(period.until().minutes_since(covered_until));
        let near = |two: &[Held]| two[1].at.minutes_since(two[0].at) <= held::LONGEST_SPACING_MINUTES;
        let neighbours: Vec<bool> = held.windows(2).map(near).collect();
        let has_near = |place: usize| neighbours.get(place).is_some_and(|near| *near);
        let alone = (0..held.len()).filter(|place| !has_near(*place) && !place.checked_sub(1).is_some_and(has_near));
        let dates = held.iter().map(|one| one.at.local_date()).collect::<BTreeSet<_>>().len();
        Self {
            readings: held.len(),
            beyond: held.iter().filter(|one| one.shown.beyond.is_some()).count(),
            alone: alone.count(),
            covered_hours: total_minutes(held) / 60.0,
            days: period.days(),
            dates,
            longest_gap_hours: longest / 60.0,
            left_out_hours: left_out_minutes / 60.0,
        }
    }

    /// The share of the period that readings cover, 0 to 1.
    #[must_use]
    pub fn share(&self) -> f64 {
        (self.covered_hours / (24.0 * self.days)).clamp(0.0, 1.0)
    }

    /// Whether most readings have no other within 20 minutes: lows and highs that last, and alerts, cannot be told from them.
    #[must_use]
    pub const fn too_far_apart(&self) -> bool {
        2 * self.alone > self.readings
    }

    /// Whether readings say what lasted: a day's worth of them, most with others near.
    ///
    /// # Errors
    /// How much is there, and how much is needed.
    pub fn tells_what_lasted(&self) -> Measured<()> {
        if self.too_far_apart() {
            let near = self.readings.saturating_sub(self.alone) as f64;
            return Err(TooLittle::of(Need::NearReadings, near, self.readings.div_ceil(2) as f64));
        }
        self.some_hours()
    }

    /// Whether readings cover as much of the period as the consensus asks, however long it is.
    #[must_use]
    pub fn covered(&self) -> bool {
        self.share() >= ENOUGH_SHARE
    }

    /// Whether the consensus would judge by it: 14 days, 70 % of them covered.
    #[must_use]
    pub fn enough(&self) -> bool {
        // A tenth of a per mille for clocks that drift.
        self.whole_days().unwrap_or(self.days) >= ENOUGH_DAYS * 0.9999 && self.covered()
    }

    /// The length of the period in whole days by the clock; nothing where it is not one. One with the begin of summer time in it is an
    /// hour short, one with its end an hour longer.
    #[must_use]
    pub fn whole_days(&self) -> Option<f64> {
        let whole = self.days.round();
        (whole >= 1.0 && (self.days - whole).abs() <= CLOCK_CHANGE_DAYS).then_some(whole)
    }

    /// Hours of readings as needed for figures over all of them.
    pub(super) fn some_hours(&self) -> Measured<()> {
        let too_little = TooLittle::of(Need::HoursOfReadings, self.covered_hours, FEWEST_HOURS);
        if self.covered_hours + 1e-9 >= FEWEST_HOURS { Ok(()) } else { Err(too_little) }
    }

    /// Days of readings as the consensus asks.
    pub(super) fn enough_days(&self) -> Measured<()> {
        let (have, need) = (self.covered_hours / 24.0, ENOUGH_DAYS * ENOUGH_SHARE);
        if have + 1e-9 >= need { Ok(()) } else { Err(TooLittle::of(Need::DaysOfReadings, have, need)) }
    }
}
