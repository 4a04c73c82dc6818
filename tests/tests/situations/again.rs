//! The same situations by other readings of the same glucose: with one a minute and its jitter, with some lost, with more noise. The
//! answers that are acceptable stay the same.

use ebbstead_core::log::Reading;
use ebbstead_core::units::Glucose;

use super::*;

/// Steps further apart than this are leaps: a sensor that reads each minute would show them at once, not as a slope, in mg/dL.
const LEAP_MG_DL: f64 = 30.0;
/// Rows that are another situation by the minute, with the reason.
const OTHERWISE: [(&str, &str); 1] = [(
    "level at 120, 62 within ten minutes, woken",
    "sudden in two readings, a steady fall in fifteen: no sign of pressure",
)];
/// How many draws of the jitter each row is asked with.
const DRAWS: u32 = 4;

/// About what a reading differs by from its neighbours a minute away, in whole mg/dL (assumption).
fn jitter(seed: u32) -> f64 {
    [-2.0, -1.0, -1.0, 0.0, 0.0, 0.0, 1.0, 1.0, 2.0][(hash(seed) % 9) as usize]
}

/// Even enough for this (Knuth's multiplicative hash, TAOCP vol. 3, 6.4; constants from memory).
fn hash(seed: u32) -> u32 {
    seed.wrapping_mul(2_654_435_761).rotate_left(13).wrapping_mul(2_246_822_519) >> 16
}

/// The readings, and between any two that are 5 minutes apart one a minute.
pub fn each_minute(readings: &[Reading], draw: u32) -> Vec<Reading> {
    let mut all: Vec<Reading> = Vec::with_capacity(5 * readings.len());
    for (k, pair) in readings.windows(2).enumerate() {
        let [from, to] = [pair[0], pair[1]];
        all.push(from);
        if (to.at.minutes_since(from.at) - 5.0).abs() > 0.01 {
            continue;
        }
        let (first, last) = (from.glucose.mg_dl(), to.glucose.mg_dl());
        for minute in 1..5 {
            let share = f64::from(minute) / 5.0;
            let at = from.at.plus_minutes(f64::from(minute));
            let is_slope = from.beyond.is_none() && to.beyond.is_none() && (last - first).abs() <= LEAP_MG_DL;
            // A stuck sensor repeats itself to the digit.
            let off = if from.glucose == to.glucose { 0.0 } else { jitter(1000 * draw + 5 * k as u32 + minute) };
            let between = first + share * (last - first) + off;
            all.push(match Glucose::from_mg_dl(between.round()) {
                Ok(glucose) if is_slope => Reading::new(at, glucose),
                _ => Reading { at, ..from },
            });
        }
    }
    all.extend(readings.last());
    all
}

/// The readings, of which about one in seven was lost on the way: never the two newest, which the question is about.
fn with_losses(readings: &[Reading], draw: u32) -> Vec<Reading> {
    let last = readings.len().saturating_sub(2);
    let is_lost = |k: usize| k < last && hash(7919 * (draw + 1) + k as u32).is_multiple_of(7);
    readings.iter().enumerate().filter(|(k, _)| !is_lost(*k)).map(|(_, one)| *one).collect()
}

/// The readings, each off by what a sensor's noise may add.
fn with_noise(readings: &[Reading], draw: u32) -> Vec<Reading> {
    let off = |k: usize, one: &Reading| {
        let stuck = k > 0 && readings[k - 1].glucose == one.glucose;
        let glucose = Glucose::from_mg_dl(one.glucose.mg_dl() + jitter(104_729 * (draw + 1) + k as u32));
        glucose.ok().filter(|_| !stuck && one.beyond.is_none()).map_or(*one, |glucose| Reading::new(one.at, glucose))
    };
    readings.iter().enumerate().map(|(k, one)| off(k, one)).collect()
}

#[test]
fn a_reading_every_minute_changes_no_answer_to_a_dangerous_one() {
    asked_with(each_minute, 0);
}

#[test]
fn readings_lost_change_one_answer_to_a_dangerous_one_at_most() {
    asked_with(with_losses, 1);
}

#[test]
fn noise_changes_sixteen_answers_to_a_dangerous_one_at_most() {
    asked_with(with_noise, 16);
}

/// Asks every row with changed readings; `most` answers may then be others, where they were near another one before.
fn asked_with(changed: impl Fn(&[Reading], u32) -> Vec<Reading>, most: usize) {
    let rows = table::rows();
    let mut wrong = Vec::new();
    let mut asked = 0;
    for (name, _) in OTHERWISE {
        assert!(rows.iter().any(|row| row.name == name), "no row is named {name:?}");
    }
    let alike = |row: &&Row| row.shortfall.is_empty() && OTHERWISE.iter().all(|(name, _)| *name != row.name);
    for row in rows.iter().filter(alike) {
        for draw in 0..DRAWS {
            let mut history = current_history(row.entries.clone()).until(row.question.now);
            history.readings = changed(&history.readings, draw);
            let prompt = check(&history, &row.wearer, &Learnt::default(), &row.question);
            let said = said(&prompt);
            asked += 1;
            if !is_acceptable(row, &prompt, &said) {
                wrong.push(format!(
                    "{}, \"{}\", draw {draw}: answered {said} ({:?}); acceptable is {}",
                    row.file, row.name, prompt.sentence, row.as_written
                ));
            }
        }
    }
    assert!(wrong.len() <= most, "{} of {asked}:\n{}", wrong.len(), wrong.join("\n"));
}
