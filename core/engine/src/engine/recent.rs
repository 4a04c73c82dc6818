//! The readings of the last hour, as a prompt looks back on them: runs of highs and lows, falls, jumps, and spells in which the sensor
//! was probably pressed.

use std::collections::VecDeque;

use crate::log::{CompressionLow, Reading, Shown};
use crate::prompt::{ReadingNow, USUAL_SPACING_MINUTES};
use crate::time::Moment;
use crate::wearer::Wearer;

/// A pressed spell's readings come back by at least this much, in mg/dL.
const CAME_BACK_MG_DL: f64 = 10.0;
/// What lasts longer is no pressure, in minutes.
const LONGEST_SPELL_MINUTES: f64 = 120.0;
/// How long recent readings are kept for the prompt's view of the past, in minutes.
const RECENT_MINUTES: f64 = 60.0;
/// Readings further apart break a run of lows or highs, in minutes.
const BROKEN_RUN_MINUTES: f64 = 30.0;
/// Readings that fall by this much a minute fall, in mg/dL/min.
const FALLS_MG_DL_MIN: f64 = 0.5;
/// A fall by parts of so many minutes is one of all of these, with so many readings in each: longer together than pressure takes to come on,
/// of which two parts at most can be lower than the one before.
const PARTS: usize = 4;
const PART_MINUTES: f64 = 7.0;
const READINGS_OF_A_PART: u32 = 4;
/// Readings nearer to each other than this are not compared for it, in minutes.
const STEP_OF_A_FALL_MINUTES: f64 = 4.0;
/// The very same reading at least this often looks stuck.
const STUCK_READINGS: u32 = 8;
/// A jump is looked for over this time, in minutes.
const JUMPED_MINUTES: f64 = 15.0;
/// The least change that is a jump, in mg/dL.
const JUMP_MG_DL: f64 = 25.0;
/// A step may be spread over so many minutes by a sensor that reads each minute.
const STEP_MINUTES: f64 = 5.0;
/// A step faster than this is more than glucose does, in mg/dL/min.
///
/// Source: "Glucose Monitoring Devices" (handbook), ch. 11, eq. 11.23: over 5 mg/dL/min is suspicious.
pub const FASTER_THAN_GLUCOSE: f64 = 5.0;
/// A fall within this time and by at least this much from steady readings is sudden (minutes, mg/dL).
const SUDDEN: (f64, f64) = (20.0, 25.0);
/// The rate as the sensor reads is taken over so long, in minutes (assumption).
const READ_OVER_MINUTES: (f64, f64) = (12.0, 20.0);
/// The rate before is that of so long ago, in minutes (assumption).
const EARLIER_MINUTES: (f64, f64) = (15.0, 35.0);
/// Readings further apart say nothing of how often the sensor reads, in minutes (assumption).
const SPACED_WITHIN_MINUTES: f64 = 20.0;
/// How much each reading moves what is known of that (assumption).
const SPACING_SHARE: f64 = 0.2;
/// A compression this likely is one, looking back (assumption: more likely than not).
const COMPRESSED: f64 = 0.5;

/// A reading as the prompt looks back on it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Seen {
    pub(super) at: Moment,
    pub(super) mg_dl: f64,
    /// What the sensor showed.
    shown: Shown,
    pub(super) rate_mg_dl_min: f64,
}

/// What is kept of the readings of the last hour.
#[derive(Clone, Debug)]
pub(super) struct Recent {
    readings: VecDeque<Seen>,
    high_since: Option<Moment>,
    low_since: Option<Moment>,
    /// Since when readings have been the very same, and how many they are.
    same_since: Option<(Moment, u32)>,
    compression_since: Option<Moment>,
    /// The lowest reading of the spell that may be going on, in mg/dL.
    lowest_compressed_mg_dl: f64,
    spells: Vec<CompressionLow>,
    spacing_minutes: f64,
}

impl Default for Recent {
    fn default() -> Self {
        Self {
            readings: VecDeque::new(),
            high_since: None,
            low_since: None,
            same_since: None,
            compression_since: None,
            lowest_compressed_mg_dl: f64::INFINITY,
            spells: Vec::new(),
            spacing_minutes: USUAL_SPACING_MINUTES,
        }
    }
}

impl Recent {
    /// The newest reading.
    pub(super) fn newest(&self) -> Option<&Seen> {
        self.readings.back()
    }

    /// The usual time between readings, in minutes.
    pub(super) const fn spacing_minutes(&self) -> f64 {
        self.spacing_minutes
    }

    /// The spells so far in which the sensor was probably pressed and then came back.
    pub(super) fn compression_lows(&self) -> &[CompressionLow] {
        &self.spells
    }

    #[cfg(test)]
    pub(super) fn count(&self) -> usize {
        self.readings.len()
    }

    /// The newest reading as the prompt sees it.
    pub(super) fn reading_now(&self, now: Moment, wearer: &Wearer, asleep: bool) -> Option<ReadingNow> {
        let newest = self.readings.back()?;
        let since = |moment: Option<Moment>| moment.map_or(0.0, |moment| newest.at.minutes_since(moment).max(0.0));
        let back = |seen: &&Seen| newest.at.minutes_since(seen.at);
        let (sudden_minutes, sudden_mg_dl) = SUDDEN;
        // The steepest drop: the nearest steady reading may lie in the middle of a fall that the estimate does not believe.
        let steepness = |seen: &&Seen| (seen.mg_dl - newest.mg_dl) / back(seen);
        let steady_before = self
            .readings
            .iter()
            .filter(|seen| back(seen) > 0.0 && back(seen) <= sudden_minutes)
            .filter(|seen| seen.mg_dl - newest.mg_dl >= sudden_mg_dl && seen.rate_mg_dl_min.abs() < 1.0)
            .max_by(|a, b| steepness(a).total_cmp(&steepness(b)))
            .map(|seen| (seen.mg_dl, back(&seen)));
        let read_rate_mg_dl_min = self
            .readings
            .iter()
            .rev()
            .find(|seen| (READ_OVER_MINUTES.0..=READ_OVER_MINUTES.1).contains(&back(seen)))
            .map(|seen| (newest.mg_dl - seen.mg_dl) / back(&seen));
        let earlier_rate_mg_dl_min = self
            .readings
            .iter()
            .rev()
            .find(|seen| (EARLIER_MINUTES.0..=EARLIER_MINUTES.1).contains(&back(seen)))
            .map(|seen| seen.rate_mg_dl_min);
        // A step down that glucose cannot make, in the last quarter of an hour: from one reading to the next, or within the minutes of
        // a sensor that reads each minute.
        let mut lately = self.readings.iter().rev().take_while(|seen| back(seen) <= JUMPED_MINUTES).enumerate();
        let jumped = lately.any(|(k, seen)| {
            self.readings.iter().rev().skip(k + 1).enumerate().any(|(between, before)| {
                let (minutes, drop) = (seen.at.minutes_since(before.at), before.mg_dl - seen.mg_dl);
                (between == 0 || minutes <= STEP_MINUTES)
                    && minutes > 0.0
                    && drop >= JUMP_MG_DL
                    && drop / minutes > FASTER_THAN_GLUCOSE
            })
        });
        let low = wearer.low_line.mg_dl();
        let low_minutes_before =
            self.readings.iter().rev().find(|seen| wearer.goes_by_mg_dl(seen.shown) < low).map(|seen| back(&seen));
        Some(ReadingNow {
            mg_dl: wearer.goes_by_mg_dl(newest.shown),
            limit: newest.shown.limit(),
            age_minutes: now.minutes_since(newest.at).max(0.0),
            steady_before,
            read_rate_mg_dl_min,
            earlier_rate_mg_dl_min,
            low_minutes_before,
            jumped,
            high_for_minutes: since(self.high_since),
            low_for_minutes: since(self.low_since),
            same_for_minutes: match self.same_since {
                Some((from, count)) if count >= STUCK_READINGS => since(Some(from)),
                _ => 0.0,
            },
            falling_for_minutes: self.falling_for(asleep),
            compressed_for_minutes: since(self.compression_since),
            spacing_minutes: self.spacing_minutes,
        })
    }

    /// For how long glucose has been falling, in minutes, within the last hour: reading by reading or, by a sensor that reads often enough
    /// that its unrest can be averaged, part by part.
    fn falling_for(&self, asleep: bool) -> f64 {
        // Whoever sleeps may roll on a sensor slowly.
        let by_part = if asleep { 0.0 } else { self.falls_part_by_part() };
        self.falls_reading_by_reading().max(by_part)
    }

    /// How long the last parts are of which each is lower on average than the one before by what is a fall, in minutes; 0 unless all are.
    fn falls_part_by_part(&self) -> f64 {
        let Some(newest) = self.readings.back() else { return 0.0 };
        let mut parts = [(0.0, 0_u32); PARTS];
        for seen in &self.readings {
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // 0 to 60 minutes
            let part = (newest.at.minutes_since(seen.at) / PART_MINUTES) as usize;
            if let Some((sum, count)) = parts.get_mut(part) {
                *sum += seen.mg_dl;
                *count += 1;
            }
        }
        let falls = |pair: &[(f64, u32)]| {
            let [later, before] = [pair[0], pair[1]].map(|(sum, count)| sum / f64::from(count));
            before - later >= FALLS_MG_DL_MIN * PART_MINUTES
        };
        let enough = parts.iter().all(|(_, count)| *count >= READINGS_OF_A_PART);
        if enough && parts.windows(2).all(falls) { PARTS as f64 * PART_MINUTES } else { 0.0 }
    }

    /// For how long each reading has been lower than the one before by what is a fall, in minutes.
    fn falls_reading_by_reading(&self) -> f64 {
        let mut falls_from = None;
        let mut seen = self.readings.back();
        for before in self.readings.iter().rev().skip(1) {
            let Some(later) = seen else { break };
            let minutes = later.at.minutes_since(before.at);
            // From one minute to the next a reading may rise within a fall.
            if minutes < STEP_OF_A_FALL_MINUTES {
                continue;
            }
            if minutes > BROKEN_RUN_MINUTES || before.mg_dl - later.mg_dl < FALLS_MG_DL_MIN * minutes {
                break;
            }
            falls_from = Some(before.at);
            seen = Some(before);
        }
        falls_from.zip(self.readings.back()).map_or(0.0, |(first, newest)| newest.at.minutes_since(first))
    }

    /// Adds a reading with the rate and the chance of compression at it.
    pub(super) fn remember(&mut self, reading: &Reading, rate_mg_dl_min: f64, compression: f64, wearer: &Wearer) {
        let (at, mg_dl) = (reading.at, reading.glucose.mg_dl());
        let last = self.readings.back().copied();
        let apart = last.map_or(0.0, |last| at.minutes_since(last.at));
        if apart > 0.0 && apart <= SPACED_WITHIN_MINUTES {
            self.spacing_minutes += SPACING_SHARE * (apart - self.spacing_minutes);
        }
        let run = |since: Option<Moment>, holds: bool| match since {
            _ if !holds => None,
            Some(since) if apart <= BROKEN_RUN_MINUTES => Some(since),
            _ => Some(at),
        };
        let goes_by = wearer.goes_by_mg_dl(reading.shown());
        self.high_since = run(self.high_since, goes_by > wearer.high_line.mg_dl());
        self.low_since = run(self.low_since, goes_by < wearer.low_line.mg_dl());
        // Beyond what a sensor can read, the same word again and again is no sign of anything.
        let same = reading.beyond.is_none()
            && last.is_some_and(|last| (last.mg_dl - mg_dl).abs() < 1e-9)
            && apart <= BROKEN_RUN_MINUTES;
        self.same_since = match self.same_since {
            Some((since, count)) if same => Some((since, count + 1)),
            _ => Some((at, 1)),
        };
        let compression_since = run(self.compression_since, compression > COMPRESSED);
        self.note_spell(at, mg_dl, compression_since);
        self.compression_since = compression_since;
        self.readings.push_back(Seen { at, mg_dl, shown: reading.shown(), rate_mg_dl_min });
        while self.readings.front().is_some_and(|seen| at.minutes_since(seen.at) > RECENT_MINUTES) {
            self.readings.pop_front();
        }
    }

    /// A spell is over when the sensor is believed again; it was one if its readings came back.
    fn note_spell(&mut self, at: Moment, mg_dl: f64, compression_since: Option<Moment>) {
        if compression_since.is_some() {
            self.lowest_compressed_mg_dl = self.lowest_compressed_mg_dl.min(mg_dl);
            return;
        }
        if let Some(from) = self.compression_since.take() {
            let came_back = mg_dl - self.lowest_compressed_mg_dl >= CAME_BACK_MG_DL;
            if came_back && at.minutes_since(from) <= LONGEST_SPELL_MINUTES {
                self.spells.push(CompressionLow { from, until: at });
            }
        }
        self.lowest_compressed_mg_dl = f64::INFINITY;
    }
}
