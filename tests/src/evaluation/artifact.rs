//! Is a pressed sensor distinguished from a low?
//!
//! Pressed spells are injected into real quiet nights; virtual wearers give true lows, where blood glucose is known to be
//! low. The spell's shape is an assumption: depth 25 to 55 % of the reading, reached within 1 to 3 readings, held for 3 to
//! 12, gone within 2 to 4. No published distribution of these was found; only that pressure lowers the signal (Helton KL et
//! al., J Diabetes Sci Technol 2011;5:632-646; Mensh BD et al., J Diabetes Sci Technol 2013;7:863-870, both from memory).

use std::path::PathBuf;

use serde::Serialize;

use crate::evaluation::{Replay, Split};
use crate::rng::NumpyRng;
use crate::scores::auc;
use crate::traces::{Problem, Trace, load, load_virtual};

/// How pressed spells and true lows were distinguished.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Compression {
    /// Quiet nights.
    pub nights: usize,
    /// Injected spells that read below 70 mg/dL.
    pub spells: usize,
    /// True lows of virtual wearers.
    pub true_lows: usize,
    /// Area under the curve of the chance of a pressed sensor, at the first low reading of either.
    pub auc: Option<f64>,
    /// Of the spells, the share given a chance above one half.
    pub caught: Option<f64>,
    /// Of the true lows, the share given such a chance.
    pub true_lows_doubted: Option<f64>,
    /// Of the readings in the nights as they were, the share given such a chance, the mean over the nights.
    pub quiet_doubted: Option<f64>,
}

const DAY: f64 = 1440.0;

/// Scores real nights of those to be scored, at most 12 people a set, and virtual wearers' lows. A spell is drawn into each
/// night `draws` times: with few nights, one draw measures luck more than the detector.
///
/// # Errors
/// [`Problem`] where a file cannot be read or core refuses it.
pub fn compression(
    split: &Split,
    wearers: &[PathBuf],
    replay: &Replay<'_>,
    draws: usize,
    mut progress: impl FnMut(&PathBuf),
) -> Result<Compression, Problem> {
    let mut rng = NumpyRng::seeded_with_5();
    let (mut spells, mut lows, mut quiet, mut nights) = (Vec::new(), Vec::new(), Vec::new(), 0);
    let doubted = |chances: &[f64]| {
        (!chances.is_empty())
            .then(|| chances.iter().filter(|chance| **chance > 0.5).count() as f64 / chances.len() as f64)
    };
    let replay = |path: &PathBuf, trace: &Trace| replay(trace).map_err(|error| Problem::of_core(path, error));
    for path in split.scored.iter().flat_map(|set| set.files.iter().take(12)) {
        let trace = load(path)?;
        if trace.mg_dl.len() < 3000 {
            continue;
        }
        progress(path);
        for evening in evenings(&trace) {
            let Some(night) = quiet_night(&trace, evening) else { continue };
            let mut read_low = false;
            for _ in 0..draws {
                let choices = u32::try_from(night.asleep.len()).unwrap_or(u32::MAX);
                let at = night.asleep[rng.integer(0, choices) as usize];
                let (with_spell, length) = inject(&night.trace, at, &mut rng);
                let Some(first_low) = (at..at + length).find(|at| with_spell.mg_dl[*at] < 70.0) else { continue };
                spells.push(replay(path, &with_spell)?[first_low].artifact);
                read_low = true;
            }
            if read_low {
                nights += 1;
                let chances: Vec<f64> = replay(path, &night.trace)?.iter().skip(24).map(|line| line.artifact).collect();
                quiet.extend(doubted(&chances));
            }
        }
    }
    for path in wearers {
        progress(path);
        let known = load_virtual(path)?;
        let (sensor, lines) = (&known.sensor.mg_dl, replay(path, &known.sensor)?);
        let is_low = |at: &usize| {
            let before = sensor[at - 6..*at].iter().all(|mg_dl| *mg_dl >= 70.0);
            sensor[*at] < 70.0 && before && known.blood_mg_dl[*at] < 75.0
        };
        lows.extend((40..sensor.len()).filter(is_low).map(|at| lines[at].artifact));
    }
    let chances: Vec<f64> = spells.iter().chain(&lows).copied().collect();
    let was_compressed: Vec<bool> = (0..chances.len()).map(|one| one < spells.len()).collect();
    Ok(Compression {
        nights,
        spells: spells.len(),
        true_lows: lows.len(),
        auc: auc(&chances, &was_compressed),
        caught: doubted(&spells),
        true_lows_doubted: doubted(&lows),
        quiet_doubted: (!quiet.is_empty()).then(|| quiet.iter().sum::<f64>() / quiet.len() as f64),
    })
}

/// Every second day from the fourth with readings, 21 of them, in days since 1970.
fn evenings(trace: &Trace) -> Vec<f64> {
    let mut days: Vec<f64> = trace.minutes.iter().map(|minute| (minute / DAY).floor()).collect();
    days.dedup();
    days.into_iter().take(45).skip(3).step_by(2).collect()
}

/// A night without a low or a high, from 18:00 to 07:00.
struct Night {
    /// Its readings, with minutes counted from the midnight before.
    trace: Trace,
    /// Which of them are between midnight and 05:00.
    asleep: Vec<usize>,
}

fn quiet_night(trace: &Trace, day: f64) -> Option<Night> {
    let inside = |minute: f64| (day * DAY + 18.0 * 60.0..day * DAY + 31.0 * 60.0).contains(&minute);
    let rows = trace.minutes.iter().copied().zip(trace.mg_dl.iter().copied());
    let night: Trace =
        rows.filter(|(minute, _)| inside(*minute)).map(|(minute, mg_dl)| (minute - day * DAY, mg_dl)).collect();
    if night.mg_dl.len() < 140 || night.minutes.windows(2).any(|pair| pair[1] - pair[0] > 11.0) {
        return None;
    }
    let before = |hour: f64| {
        (0..night.minutes.len()).filter(|at| night.minutes[*at].rem_euclid(DAY) < hour * 60.0).collect::<Vec<_>>()
    };
    let (asleep, sleep) = (before(5.0), before(7.0));
    let steady = sleep.iter().all(|at| (80.0..=200.0).contains(&night.mg_dl[*at]));
    (asleep.len() >= 50 && steady).then_some(Night { trace: night, asleep })
}

/// The trace with a pressed spell from reading `at`, and how many readings it covers.
///
/// The depth is drawn evenly from 25 to 55 % of the reading, the readings that it takes to get there from 1 to 3, to stay from
/// 3 to 12, to come back from 2 to 4; readings are whole and not below 39 mg/dL. An assumption: see the head of this module.
#[must_use]
pub fn inject(trace: &Trace, at: usize, rng: &mut NumpyRng) -> (Trace, usize) {
    let depth = rng.uniform(0.25, 0.55);
    let (on, hold, off) = (rng.integer(1, 4), rng.integer(3, 13), rng.integer(2, 5));
    let rise = (1..=on).map(|k| f64::from(k) / f64::from(on));
    let fall = (1..=off).map(|k| 1.0 - f64::from(k) / f64::from(off));
    let shape: Vec<f64> = rise.chain((0..hold).map(|_| 1.0)).chain(fall).collect();
    let mut compression = trace.clone();
    let covered = compression.mg_dl.iter_mut().skip(at).zip(&shape);
    let length = covered.len();
    for (mg_dl, share) in covered {
        *mg_dl = (*mg_dl * (1.0 - depth * share)).max(39.0);
    }
    // Sensors report whole mg/dL.
    compression.mg_dl.iter_mut().for_each(|mg_dl| *mg_dl = mg_dl.round_ties_even());
    (compression, length)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_spell_goes_down_and_comes_back() {
        let trace = Trace { minutes: (0..60).map(|k| 5.0 * f64::from(k)).collect(), mg_dl: vec![110.0; 60] };
        let mut rng = NumpyRng::seeded_with_5();
        for _ in 0..200 {
            let (compression, length) = inject(&trace, 20, &mut rng);
            assert!((6..=19).contains(&length));
            let lowest = compression.mg_dl.iter().copied().fold(f64::INFINITY, f64::min);
            assert!((49.0..=83.0).contains(&lowest), "{lowest}");
            assert!(
                compression.mg_dl[..20]
                    .iter()
                    .chain(&compression.mg_dl[20 + length - 1..])
                    .all(|mg_dl| (*mg_dl - 110.0).abs() < 1e-9)
            );
        }
        let (_, cut) = inject(&trace, 58, &mut rng);
        assert_eq!(cut, 2);
    }
}
