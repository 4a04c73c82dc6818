//! What a plan would have told over a record.

use super::plan::{Plan, Told};
use crate::log::History;
use crate::review::Period;
use crate::review::metrics::held::LONGEST_SPACING_MINUTES;
use crate::review::metrics::ranges::{above, below};
use crate::sensor::pairs::rate_around;
use crate::time::Moment;
use crate::wearer::{FLOOR_LINE_MG_DL, Wearer};

/// What is told of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Of {
    /// Below the floor.
    Floor,
    /// Below the plan's low line.
    Low,
    /// Above the plan's high line.
    High,
    /// Falling fast.
    Falling,
    /// Rising fast.
    Rising,
}

impl Of {
    const ALL: [Self; 5] = [Self::Floor, Self::Low, Self::High, Self::Falling, Self::Rising];

    /// Whether it warns of lows.
    #[must_use]
    pub const fn warns_of_lows(self) -> bool {
        matches!(self, Self::Floor | Self::Low | Self::Falling)
    }
}

/// One alert.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Alert {
    /// When.
    pub at: Moment,
    /// Of what.
    pub of: Of,
    /// The reading, in mg/dL.
    pub mg_dl: f64,
    /// Whether it came in the wearer's night.
    pub at_night: bool,
    /// Whether it says again what lasts.
    pub again: bool,
}

/// What was told is told afresh once it was over for this long, in minutes: around a line readings go back and forth.
pub const OVER_MINUTES: f64 = 15.0;
/// Below the floor it is told again after this many minutes at the latest.
pub const FLOOR_REPEAT_MINUTES: f64 = 15.0;

#[derive(Clone, Copy, Default)]
struct Lasting {
    since: Option<Moment>,
    last_seen: Option<Moment>,
    told: Option<Moment>,
}

/// Replays a plan over the readings of a period. Only what was known by then decides.
#[must_use]
pub fn replay(history: &History, wearer: &Wearer, plan: &Plan, period: Period) -> Vec<Alert> {
    let mut alerts = Vec::new();
    let mut lasting = [Lasting::default(); Of::ALL.len()];
    let mut newest: Option<Moment> = None;
    for (place, reading) in history.readings.iter().enumerate() {
        if reading.at < period.from() || reading.at >= period.until() {
            continue;
        }
        if newest.is_some_and(|newest| reading.at.minutes_since(newest) > LONGEST_SPACING_MINUTES) {
            lasting = Default::default();
        }
        newest = Some(reading.at);
        let at_night = wearer.night.contains(reading.at);
        let told = if at_night { &plan.night } else { &plan.day };
        let mg_dl = reading.glucose.mg_dl();
        let rate = (told.falling_mg_dl_min.is_some() || told.rising_mg_dl_min.is_some())
            .then(|| rate_around(&history.readings[place.saturating_sub(20)..=place], reading.at))
            .flatten();
        for (of, state) in Of::ALL.into_iter().zip(&mut lasting) {
            if let Some(again) = state.step(reading.at, holds(of, told, mg_dl, rate), of, told) {
                alerts.push(Alert { at: reading.at, of, mg_dl, at_night, again });
            }
        }
    }
    alerts
}

fn holds(of: Of, told: &Told, mg_dl: f64, rate: Option<f64>) -> bool {
    let faster = |limit: Option<f64>, sign: f64| limit.zip(rate).is_some_and(|(limit, rate)| sign * rate >= limit);
    match of {
        Of::Floor => below(mg_dl, FLOOR_LINE_MG_DL),
        // Below the floor that is what is told.
        Of::Low => below(mg_dl, told.low.mg_dl()) && !below(mg_dl, FLOOR_LINE_MG_DL),
        Of::High => told.high.is_some_and(|high| above(mg_dl, high.mg_dl())),
        Of::Falling => faster(told.falling_mg_dl_min, -1.0),
        Of::Rising => faster(told.rising_mg_dl_min, 1.0),
    }
}

impl Lasting {
    /// Takes a reading in; says whether to tell, and whether it is told again.
    fn step(&mut self, at: Moment, holds: bool, of: Of, told: &Told) -> Option<bool> {
        if !holds {
            if self.last_seen.is_some_and(|seen| at.minutes_since(seen) >= OVER_MINUTES) {
                *self = Self::default();
            }
            return None;
        }
        let since = *self.since.get_or_insert(at);
        self.last_seen = Some(at);
        let delay = if of == Of::High { told.high_delay_minutes } else { 0.0 };
        let repeat = match of {
            Of::Floor => Some(told.repeat_minutes.map_or(FLOOR_REPEAT_MINUTES, |own| own.min(FLOOR_REPEAT_MINUTES))),
            _ => told.repeat_minutes,
        };
        let due = match self.told {
            None => at.minutes_since(since) >= delay,
            Some(last) => repeat.is_some_and(|repeat| at.minutes_since(last) >= repeat),
        };
        due.then(|| self.told.replace(at).is_some())
    }
}
