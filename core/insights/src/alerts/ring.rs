//! Whether to ring: from each new reading, and from silence, by the wearer's plan.
//!
//! Values in, values out. A shell keeps one [`State`] between calls and rings as it is said; the replay over a record
//! ([`super::replay()`]) asks the same questions in the same order, so its figures are those of what would have rung.
//!
//! Below the floor of 54 mg/dL it rings whatever the plan says, and no snooze holds it back.

use serde::{Deserialize, Serialize};

use crate::error::{Error, Quantity, Result};
use crate::log::{Beyond, Reading, Shown};
use crate::review::metrics::held::LONGEST_SPACING_MINUTES;
use crate::review::metrics::ranges::{above, below};
use crate::sensor::pairs::rate_around;
use crate::time::{DayHours, Moment};
use crate::wearer::{AlertLines, FLOOR_LINE_MG_DL, Plan, Wearer};

/// What it rings for, the most urgent first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum AlertCause {
    /// Below the floor, or too low to measure.
    Floor,
    /// Below the plan's low line.
    Low,
    /// Falling fast.
    Falling,
    /// No reading for longer than the plan allows.
    Lost,
    /// Above the plan's high line, or too high to measure.
    High,
    /// Rising fast.
    Rising,
}

impl AlertCause {
    /// All of them, the most urgent first.
    pub const ALL: [Self; 6] = [Self::Floor, Self::Low, Self::Falling, Self::Lost, Self::High, Self::Rising];
    /// What a reading can ring for.
    const READ: [Self; 5] = [Self::Floor, Self::Low, Self::Falling, Self::High, Self::Rising];

    /// Whether it warns of lows.
    #[must_use]
    pub(crate) const fn warns_of_lows(self) -> bool {
        matches!(self, Self::Floor | Self::Low | Self::Falling)
    }

    /// Whether the two are of the same matter: a low that eased is still one, below another line.
    fn is_of_matter(self, other: Self) -> bool {
        let rises = |of| matches!(of, Self::High | Self::Rising);
        self == other || (self.warns_of_lows() && other.warns_of_lows()) || (rises(self) && rises(other))
    }

    /// How it rings. Lows wake; what is high by day waits for a look.
    const fn how(self, at_night: bool) -> Loudness {
        match (self, at_night) {
            (Self::Floor | Self::Low, true) => Loudness::FullScreen,
            (Self::Floor | Self::Low | Self::Falling | Self::Lost, _) | (Self::High, true) => Loudness::Loud,
            (Self::High | Self::Rising, _) => Loudness::Quiet,
        }
    }
}

/// How to ring.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Loudness {
    /// A notification with one short sound.
    Quiet,
    /// A notification that sounds until it is answered.
    Loud,
    /// As loud, and over the whole screen of a phone that lies locked.
    FullScreen,
}

/// It rings again for what was over for this long, in minutes: around a line readings go back and forth.
const OVER_MINUTES: f64 = 15.0;
/// Below the floor it rings again after this many minutes at the latest.
const FLOOR_REPEAT_MINUTES: f64 = 15.0;
/// A reading known only so long after it was read rings for nothing by itself: what it says is over, or a newer one says it. In
/// minutes; just under the slowest sensors' spacing of 15.
const LATE_MINUTES: f64 = 14.0;
/// A lost signal rings again for so long at most, in minutes: by then the sensor was taken off. An assumption.
const LOST_UNTIL_MINUTES: f64 = 6.0 * 60.0;
/// A ring without an answer ends after so long, in minutes; an assumption. Below the floor it lasts until the next one.
const RINGS_MINUTES: f64 = 5.0;
/// How long an alert can be put off, in minutes.
const SNOOZE_MINUTES: std::ops::RangeInclusive<f64> = 5.0..=120.0;

/// One ring.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Ring {
    /// Its cause.
    pub of: AlertCause,
    /// How loud.
    pub how: Loudness,
    /// Whether it says again what lasts.
    pub again: bool,
    /// Whether it comes in the wearer's night.
    pub at_night: bool,
    /// When to stop without an answer.
    pub until: Moment,
}

impl Ring {
    /// The same for a wearer who sleeps outside the hours of their night: it wakes, and a low fills the screen. The
    /// lines stay the day's.
    #[must_use]
    pub fn for_sleeper(self) -> Self {
        let how = if self.of.how(true) == Loudness::FullScreen { Loudness::FullScreen } else { self.how };
        Self { how, at_night: true, ..self }
    }
}

/// What rang last.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Rang {
    /// When it rang.
    pub at: Moment,
    /// The ring.
    pub ring: Ring,
}

/// How long one thing has lasted, and when it rang last.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
struct Lasting {
    since: Option<Moment>,
    last_seen: Option<Moment>,
    #[serde(rename = "told")]
    rang: Option<Moment>,
}

/// What a shell keeps from one call to the next, across restarts too. Without it, what lasts rings once more.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct State {
    lasting: [Lasting; AlertCause::READ.len()],
    newest: Option<Moment>,
    #[serde(rename = "lost_told")]
    lost_rang: Option<Moment>,
    snoozed_until: Option<Moment>,
    unanswered: Option<Rang>,
    failed: u32,
}

impl State {
    /// Another step failed. How many did, one after the other.
    pub const fn fails(&mut self) -> u32 {
        self.failed = self.failed.saturating_add(1);
        self.failed
    }

    /// A step was made.
    pub const fn made(&mut self) {
        self.failed = 0;
    }

    /// What rang last, unless it was answered or is over.
    #[must_use]
    pub const fn unanswered(&self) -> Option<Rang> {
        self.unanswered
    }

    /// It rang: that stands until it is answered or over.
    pub const fn rang(&mut self, ring: Ring, at: Moment) {
        self.unanswered = Some(Rang { at, ring });
    }

    /// What rang was answered.
    pub const fn answered(&mut self) {
        self.unanswered = None;
    }

    /// What rang is over once it would ring again: around a line readings go back and forth.
    pub fn drop_what_is_over(&mut self) {
        let lasts = |of: AlertCause| match of {
            AlertCause::Lost => self.lost_rang.is_some(),
            _ => AlertCause::READ
                .iter()
                .zip(&self.lasting)
                .any(|(one, lasting)| of.is_of_matter(*one) && lasting.since.is_some()),
        };
        self.unanswered = self.unanswered.filter(|rang| lasts(rang.ring.of));
    }

    /// The newest reading it was given.
    #[must_use]
    pub const fn newest(&self) -> Option<Moment> {
        self.newest
    }

    /// Receives a reading, known at `known`, with the rate there in mg/dL/min. Returns every ring it gives cause for, the most
    /// urgent first. A reading no newer than the last changes nothing.
    pub fn receive(
        &mut self,
        reading: &Reading,
        rate: Option<f64>,
        known: Moment,
        plan: &Plan,
        night: DayHours,
    ) -> Vec<Ring> {
        let at = reading.at;
        if self.newest.is_some_and(|newest| !at.is_after(newest)) {
            return Vec::new();
        }
        if self.newest.is_some_and(|newest| at.minutes_since(newest) > LONGEST_SPACING_MINUTES) {
            self.lasting = Default::default();
        }
        (self.newest, self.lost_rang) = (Some(at), None);
        let late = known.minutes_since(at) > LATE_MINUTES;
        let at_night = night.contains(at);
        let lines = part(plan, at_night);
        let snoozed = self.snoozed(known);
        let mut rings = Vec::new();
        let mut floor = Lasting::default();
        for (of, state) in AlertCause::READ.into_iter().zip(&mut self.lasting) {
            let quiet = late || (snoozed && of != AlertCause::Floor);
            let holds = holds(of, lines, reading.shown(), rate);
            // Below the floor the low goes on, and the floor rings for it: on the way up it is no new one.
            if of == AlertCause::Low && floor.last_seen == Some(at) {
                state.rings_as(floor, snoozed);
                continue;
            }
            let rang = state.step(at, holds, of, lines, quiet);
            if of == AlertCause::Floor {
                floor = *state;
            }
            if let Some(again) = rang {
                rings.push(ring(of, again, at_night, known, lines));
            }
        }
        rings
    }

    /// No reading came until `now`: rings if the signal has been lost for longer than the plan allows.
    pub fn silence(&mut self, now: Moment, plan: &Plan, night: DayHours) -> Option<Ring> {
        // A clock that was put back must not make a snooze longer than one can be.
        self.snoozed_until = self.snoozed_until.filter(|until| until.minutes_since(now) <= *SNOOZE_MINUTES.end());
        let due = self.due(plan, night)?;
        if now.is_before(due) {
            return None;
        }
        let at_night = night.contains(now);
        let again = self.lost_rang.replace(now).is_some();
        Some(ring(AlertCause::Lost, again, at_night, now, part(plan, at_night)))
    }

    /// When silence rings unless a reading comes before: ask [`State::silence`] then.
    #[must_use]
    pub fn due(&self, plan: &Plan, night: DayHours) -> Option<Moment> {
        let newest = self.newest?;
        // By the part of the day in which the signal was lost.
        let lines = part(plan, night.contains(newest));
        let lost_after = lines.lost_after_minutes?;
        let due = match self.lost_rang {
            None => newest.plus_minutes(lost_after),
            // Put off since it rang: what lasts then rings again, whether or not the plan repeats.
            Some(last) => match self.snoozed_until.filter(|until| until.is_after(last)) {
                Some(until) => until,
                None => last.plus_minutes(lines.repeat_minutes?),
            },
        };
        let due = self.snoozed_until.filter(|_| self.snoozed(due)).unwrap_or(due);
        let over = self.lost_rang.is_some() && due.minutes_since(newest) > LOST_UNTIL_MINUTES;
        (!over).then_some(due)
    }

    /// Puts off everything but the floor; what still lasts then rings again.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] outside 5 to 120 minutes.
    pub fn snooze(&mut self, now: Moment, minutes: f64) -> Result<()> {
        if !SNOOZE_MINUTES.contains(&minutes) {
            let (low, high) = (*SNOOZE_MINUTES.start(), *SNOOZE_MINUTES.end());
            return Err(Error::OutOfRange {
                what: Quantity::Snooze,
                given: minutes,
                low,
                high,
                unit: crate::error::Unit::Minutes,
            });
        }
        self.snoozed_until = Some(now.plus_minutes(minutes));
        self.answered();
        for (of, state) in AlertCause::READ.into_iter().zip(&mut self.lasting) {
            if of != AlertCause::Floor {
                state.rang = None;
            }
        }
        Ok(())
    }

    /// Receives everything a record has that is newer than what was received before, then the silence after it. Returns the most
    /// urgent ring, if any is due.
    pub fn catch_up(&mut self, readings: &[Reading], now: Moment, wearer: &Wearer) -> Option<Ring> {
        let plan = Plan::of(wearer);
        if self.newest.is_some_and(|newest| newest.is_after(now)) {
            // The clock was put back: what was received ahead of it would silence everything until it is reached again.
            *self = Self::default();
        }
        let mut loudest: Option<Ring> = None;
        for (place, reading) in readings.iter().enumerate() {
            if reading.at.is_after(now) {
                break;
            }
            let rings = self.receive(reading, rate_at(readings, place, &plan), now, &plan, wearer.night);
            loudest = loudest.into_iter().chain(rings).min_by_key(|ring| ring.of);
        }
        loudest.or_else(|| self.silence(now, &plan, wearer.night))
    }

    fn snoozed(&self, at: Moment) -> bool {
        // A clock that was put back must not make a snooze longer than one can be.
        self.snoozed_until.is_some_and(|until| at.is_before(until) && until.minutes_since(at) <= *SNOOZE_MINUTES.end())
    }
}

/// The rate at one of the readings from those before it, where the plan asks for rates.
pub(super) fn rate_at(readings: &[Reading], place: usize, plan: &Plan) -> Option<f64> {
    let asked = |lines: &AlertLines| lines.falling_mg_dl_min.is_some() || lines.rising_mg_dl_min.is_some();
    if !asked(&plan.day) && !asked(&plan.night) {
        return None;
    }
    let known = readings.get(place.saturating_sub(20)..=place)?;
    rate_around(known, known.last()?.at)
}

/// How a lost signal rings at a time, for a phone that has to set it ahead.
#[must_use]
pub fn ring_of_silence(at: Moment, wearer: &Wearer) -> Ring {
    let at_night = wearer.night.contains(at);
    ring(AlertCause::Lost, false, at_night, at, part(&Plan::of(wearer), at_night))
}

const fn part(plan: &Plan, at_night: bool) -> &AlertLines {
    if at_night { &plan.night } else { &plan.day }
}

/// Below the floor it rings again in any case.
fn floor_repeat(lines: &AlertLines) -> f64 {
    lines.repeat_minutes.map_or(FLOOR_REPEAT_MINUTES, |own| own.min(FLOOR_REPEAT_MINUTES))
}

fn ring(of: AlertCause, again: bool, at_night: bool, now: Moment, lines: &AlertLines) -> Ring {
    let how = of.how(at_night);
    let minutes = match (of, how) {
        (AlertCause::Floor, _) => floor_repeat(lines),
        (_, Loudness::Quiet) => 0.0,
        _ => RINGS_MINUTES,
    };
    Ring { of, how, again, at_night, until: now.plus_minutes(minutes) }
}

fn holds(of: AlertCause, lines: &AlertLines, shown: Shown, rate: Option<f64>) -> bool {
    let mg_dl = shown.glucose.mg_dl();
    // How far beyond its limit glucose is, is not known: what is too low to measure may be below the floor, wherever the limit lies.
    let floor = below(mg_dl, FLOOR_LINE_MG_DL) || shown.beyond == Some(Beyond::Below);
    let faster = |limit: Option<f64>, sign: f64| limit.zip(rate).is_some_and(|(limit, rate)| sign * rate >= limit);
    match of {
        AlertCause::Floor => floor,
        AlertCause::Low => below(mg_dl, lines.low.mg_dl()),
        AlertCause::High => {
            lines.high.is_some_and(|high| above(mg_dl, high.mg_dl()) || shown.beyond == Some(Beyond::Above))
        }
        AlertCause::Falling => faster(lines.falling_mg_dl_min, -1.0),
        AlertCause::Rising => faster(lines.rising_mg_dl_min, 1.0),
        AlertCause::Lost => false,
    }
}

impl Lasting {
    /// Lasts with what is more urgent and rang for both. What was put off still rings once the time is over.
    fn rings_as(&mut self, other: Self, snoozed: bool) {
        self.since = self.since.or(other.since);
        self.last_seen = other.last_seen;
        if !snoozed {
            self.rang = other.rang.or(self.rang);
        }
    }

    /// Takes a reading; says whether to ring, and whether again. What is quiet lasts without ringing.
    fn step(&mut self, at: Moment, holds: bool, of: AlertCause, lines: &AlertLines, quiet: bool) -> Option<bool> {
        if !holds {
            if self.last_seen.is_some_and(|seen| at.minutes_since(seen) >= OVER_MINUTES) {
                *self = Self::default();
            }
            return None;
        }
        let since = *self.since.get_or_insert(at);
        self.last_seen = Some(at);
        if quiet {
            return None;
        }
        let delay = if of == AlertCause::High { lines.high_delay_minutes } else { 0.0 };
        let repeat = if of == AlertCause::Floor { Some(floor_repeat(lines)) } else { lines.repeat_minutes };
        let due = match self.rang {
            None => at.minutes_since(since) >= delay,
            Some(last) => repeat.is_some_and(|repeat| at.minutes_since(last) >= repeat),
        };
        due.then(|| self.rang.replace(at).is_some())
    }
}
