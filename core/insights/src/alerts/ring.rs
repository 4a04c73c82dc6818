//! Whether to ring: from each new reading, and from silence, by the wearer's plan.
//!
//! Values in, values out. A shell keeps one [`State`] between calls and rings as it is said; the replay over a record
//! ([`super::replay()`]) asks the same questions in the same order, so its figures are those of what would have rung.
//!
//! Below the floor of 54 mg/dL it rings whatever the plan says, and no snooze holds it back.

use serde::{Deserialize, Serialize};

use crate::error::{Error, Quantity, Result};
use crate::log::{Beyond, Entry, Reading, Shown};
use crate::review::metrics::JITTER_MINUTES;
use crate::review::metrics::ranges::{above, below};
use crate::sensor::pairs::rate_around;
use crate::time::{DAY_MS, DayHours, MINUTE_MS, Moment};
use crate::wearer::{AlertLines, FLOOR_LINE_MG_DL, LOW_REPEATS, Plan, Wearer};

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
    pub(super) const fn how(self, at_night: bool) -> Loudness {
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
/// A low rings again once it still lasts so long after an answer, in minutes: the quarter of an hour that rescue carbohydrate is given.
const AFTER_ANSWER_MINUTES: f64 = 15.0;
/// The newest reading says how things are for so long, in minutes; an assumption: as long as the slowest sensors may miss two. Known
/// later, it rings for nothing, and what lasted before so long a gap is not known to last.
const HOLDS_MINUTES: f64 = 30.0;
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
    /// A reading since the last one that showed it showed it no more.
    #[serde(default)]
    is_back: bool,
    /// How often it rang again since it began or was answered.
    #[serde(default)]
    repeats: u32,
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
    answered: Option<Moment>,
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

    /// It rang, or nothing did: what rang stands until it is answered or over. A lost signal sounds as well, and leaves a low that
    /// nobody answered in its place.
    pub fn rang(&mut self, ring: Option<Ring>, at: Moment) {
        self.drop_what_is_over();
        let Some(ring) = ring else { return };
        let is_low = |of| matches!(of, AlertCause::Floor | AlertCause::Low);
        let stands = self.unanswered.filter(|rang| ring.of == AlertCause::Lost && is_low(rang.ring.of));
        self.unanswered = Some(Rang { at, ring: stands.map_or(ring, |rang| rang.ring) });
    }

    /// What rang was answered: a low that lasts rings again a while after.
    pub const fn answered(&mut self, at: Moment) {
        (self.unanswered, self.answered) = (None, Some(at));
    }

    /// What rang is over once it would ring again: around a line readings go back and forth.
    fn drop_what_is_over(&mut self) {
        self.unanswered = self.unanswered.filter(|rang| match rang.ring.of {
            AlertCause::Lost => self.lost_rang.is_some(),
            of => lasts(&self.lasting, of),
        });
    }

    /// The newest reading it was given.
    #[must_use]
    pub const fn newest(&self) -> Option<Moment> {
        self.newest
    }

    /// Receives the newest reading, known at `known`, with the rate there in mg/dL/min. Returns the most urgent ring it gives cause for.
    /// A reading no newer than the last changes nothing.
    pub fn receive(
        &mut self,
        reading: &Reading,
        rate: Option<f64>,
        known: Moment,
        plan: &Plan,
        night: DayHours,
    ) -> Option<Ring> {
        self.take(reading, rate, known, plan, night, |_| true)
    }

    fn take(
        &mut self,
        reading: &Reading,
        rate: Option<f64>,
        known: Moment,
        plan: &Plan,
        night: DayHours,
        may_ring: impl Fn(AlertCause) -> bool,
    ) -> Option<Ring> {
        let at = reading.at;
        if self.newest.is_some_and(|newest| !at.is_after(newest)) {
            return None;
        }
        if self.newest.is_some_and(|newest| at.minutes_since(newest) > HOLDS_MINUTES) {
            self.lasting = Default::default();
        }
        // Where the wearer is says whether it is night, not what wrote the reading.
        self.newest = Some(at.on_the_clock_of(known));
        let at_night = night.contains(known);
        let lines = part(plan, at_night);
        let age = known.minutes_since(at);
        // What a sensor hands in later of a silence does not end it.
        if lines.lost_after_minutes.is_none_or(|lost_after| age < lost_after) {
            self.lost_rang = None;
        }
        let (late, snoozed) = (age >= HOLDS_MINUTES, self.snoozed(known));
        let stands = self.unanswered.map(|rang| rang.ring.of);
        let (mut rang, mut still_stands, mut floor) = (None, false, Lasting::default());
        for (of, state) in AlertCause::READ.into_iter().zip(&mut self.lasting) {
            // What is less urgent waits until what stands is answered or over; lows are one matter, and ring again.
            let waits = still_stands && of != AlertCause::Low && stands.is_some_and(|greater| greater < of);
            let quiet = late || !may_ring(of) || (of != AlertCause::Floor && (snoozed || waits));
            let holds = holds(of, lines, reading.shown(), rate);
            // Below the floor the low goes on, and the floor rings for it: on the way up it is no new one.
            let is_floors = of == AlertCause::Low && floor.last_seen == Some(at);
            state.see(at, holds || is_floors);
            if is_floors {
                state.rings_as(floor, snoozed);
            } else if holds && !quiet {
                let due = state.ring(at, known, of, lines, self.answered);
                rang = rang.or_else(|| due.map(|again| ring(of, again, at_night, known, lines)));
            }
            if of == AlertCause::Floor {
                floor = *state;
            }
            still_stands |= state.since.is_some() && stands.is_some_and(|greater| greater.is_of_matter(of));
        }
        rang
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
        let since = self.lost_rang.unwrap_or(newest);
        // Put off since it rang: what lasts then rings again, whether or not the plan repeats.
        let put_off = self.snoozed_until.filter(|until| self.lost_rang.is_some_and(|last| until.is_after(last)));
        let by = |at_night: bool| {
            let lines = part(plan, at_night);
            let lost_after = lines.lost_after_minutes?;
            let due = match (self.lost_rang, put_off) {
                (None, _) => since.plus_minutes(lost_after),
                (Some(_), Some(until)) => until,
                (Some(_), None) => since.plus_minutes(lines.repeat_minutes?),
            };
            // By the part of the day in which the silence began, and by the other once that has come.
            Some(if night.contains(since) == at_night { due } else { first_within(due, night, at_night) })
        };
        let due = [by(false), by(true)].into_iter().flatten().min_by_key(|due| due.unix_ms())?;
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
        self.answered(now);
        for (of, state) in AlertCause::READ.into_iter().zip(&mut self.lasting) {
            if of != AlertCause::Floor {
                state.rang = None;
            }
        }
        Ok(())
    }

    /// Receives everything a record has that is newer than what was received before, then the silence after it. Returns the most
    /// urgent ring, if any is due: for what the newest reading shows, or for the silence since. One that is ahead of the clock, as
    /// far as a log takes it, is of now.
    pub fn catch_up(&mut self, readings: &[Reading], now: Moment, wearer: &Wearer) -> Option<Ring> {
        let plan = Plan::of(wearer);
        let ahead = now.plus_ms(Entry::AHEAD_OF_CLOCK_MS);
        // The clock was put back: what was received ahead of it would silence everything until it is reached again. What did not
        // last by then is past, though the clock reaches it once more.
        let was = self.newest.filter(|newest| newest.is_after(ahead)).map(|_| self.lasting);
        if was.is_some() {
            *self = Self { unanswered: self.unanswered, ..Self::default() };
        }
        let known = readings.partition_point(|one| !one.at.is_after(ahead));
        let mut rang = None;
        for (place, reading) in readings.iter().take(known).enumerate() {
            let rate = rate_at(readings, place, &plan);
            let may_ring = |of| place + 1 == known && was.is_none_or(|was| lasts(&was, of));
            rang = self.take(reading, rate, now, &plan, wearer.night, may_ring);
        }
        rang.or_else(|| self.silence(now, &plan, wearer.night))
    }

    fn snoozed(&self, at: Moment) -> bool {
        // A clock that was put back must not make a snooze longer than one can be.
        self.snoozed_until.is_some_and(|until| at.is_before(until) && until.minutes_since(at) <= *SNOOZE_MINUTES.end())
    }
}

/// Whether something of the matter lasts.
fn lasts(lasting: &[Lasting; AlertCause::READ.len()], of: AlertCause) -> bool {
    AlertCause::READ.iter().zip(lasting).any(|(one, lasting)| of.is_of_matter(*one) && lasting.since.is_some())
}

/// The first moment from one on that is in the night, or in the day.
fn first_within(from: Moment, night: DayHours, at_night: bool) -> Moment {
    if night.contains(from) == at_night {
        return from;
    }
    let begins = if at_night { night.from_minute } else { night.until_minute };
    let local_ms = from.unix_ms() + i64::from(from.offset_minutes()) * MINUTE_MS;
    from.plus_ms((i64::from(begins) * MINUTE_MS - local_ms).rem_euclid(DAY_MS))
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
    /// Takes what a reading shows of it. Where it was over, it begins anew.
    fn see(&mut self, at: Moment, holds: bool) {
        let long_ago = self.last_seen.is_some_and(|seen| at.minutes_since(seen) >= OVER_MINUTES - JITTER_MINUTES);
        if long_ago && (self.is_back || !holds) {
            *self = Self::default();
        }
        if holds {
            self.since.get_or_insert(at);
            self.last_seen = Some(at);
        }
        self.is_back = !holds && self.since.is_some();
    }

    /// Lasts with what is more urgent and rang for both. What was put off still rings once the time is over.
    fn rings_as(&mut self, other: Self, snoozed: bool) {
        if !snoozed {
            (self.rang, self.repeats) = (other.rang.or(self.rang), 0);
        }
    }

    /// Whether what was just seen rings, and whether again.
    fn ring(
        &mut self,
        at: Moment,
        known: Moment,
        of: AlertCause,
        lines: &AlertLines,
        answered: Option<Moment>,
    ) -> Option<bool> {
        let Some(last) = self.rang else {
            let delay = if of == AlertCause::High { lines.high_delay_minutes } else { 0.0 };
            let due = self.since.is_some_and(|since| at.minutes_since(since) >= delay);
            return due.then(|| {
                self.rang = Some(known);
                false
            });
        };
        let passed = |from: Moment, minutes: f64| known.minutes_since(from) >= minutes - JITTER_MINUTES;
        let repeat = if of == AlertCause::Floor { Some(floor_repeat(lines)) } else { lines.repeat_minutes };
        let answered = answered.filter(|answered| of == AlertCause::Low && answered.is_after(last));
        // Of a low nobody is left with one ring: it is said again to whoever slept on, and to whoever answered.
        let low_repeat = lines.low_repeat_minutes.filter(|_| of == AlertCause::Low && repeat.is_none());
        let due = repeat.is_some_and(|repeat| passed(last, repeat))
            || match answered {
                Some(answered) => passed(answered, AFTER_ANSWER_MINUTES),
                None => self.repeats < LOW_REPEATS && low_repeat.is_some_and(|repeat| passed(last, repeat)),
            };
        due.then(|| {
            self.rang = Some(known);
            self.repeats = if answered.is_some() { 0 } else { self.repeats.saturating_add(1) };
            true
        })
    }
}
