//! Writes what the modes' filters are made of and what core's filter of them made of invented readings, for NumPy to check.
//!
//! The steps, the rates of switching and the constants are core's; `modes_reference.py` does the rest by itself: the mixing,
//! each mode's noise and drop, the three filters and the modes' chances.

use std::collections::BTreeMap;
use std::io::Write;
use std::process::ExitCode;

use ebbstead_core::estimate::dynamics::{Discretizations, Dynamics, Matrix, State};
use ebbstead_core::estimate::filter::sensor_measurement_row;
use ebbstead_core::estimate::modes::{
    BIAS_ALLOWED_MG_DL, Circumstances, INNOVATION_GATE, ImmFilter, MODES, ModeSwitching, NO_WEIGHT, UNSETTLED_SD_MG_DL,
    meter_variance, press,
};
use ebbstead_tests::rng::NumpyRng;
use serde::Serialize;

#[derive(Serialize)]
struct Cases {
    dynamics: Dynamics,
    press: [f64; 4],
    unsettled_sd: f64,
    trusted: f64,
    no_weight: f64,
    sensor_measurement_row: Vec<f64>,
    bias_allowed: f64,
    /// The plain steps, by their seconds.
    steps: BTreeMap<String, PlainStep>,
    first: Posterior,
    observations: Vec<Observation>,
}

#[derive(Serialize)]
struct PlainStep {
    minutes: f64,
    transition: Vec<Vec<f64>>,
    glucose_noise: Vec<Vec<f64>>,
    sensor_noise: Vec<Vec<f64>>,
    input: Vec<f64>,
}

/// What came before an observation, the observation, and what core made of it.
#[derive(Serialize)]
struct Observation {
    minutes: f64,
    steps: Vec<String>,
    asleep: bool,
    input: f64,
    /// Chances an hour and mean minutes: pressed, unsettled.
    switching: [f64; 4],
    meter: bool,
    amount: f64,
    noise: f64,
    #[serde(rename = "told")]
    posterior: Posterior,
}

#[derive(Serialize)]
struct Posterior {
    chances: [f64; MODES],
    means: Vec<Vec<f64>>,
    covariances: Vec<Vec<Vec<f64>>>,
    mean: Vec<f64>,
    covariance: Vec<Vec<f64>>,
}

impl Posterior {
    fn of(filter: &ImmFilter) -> Self {
        let (modes, overall) = (filter.modes(), filter.overall());
        Self {
            chances: [modes.clear, modes.compression, modes.unsettled],
            means: (0..MODES).map(|mode| vector(&filter.gaussian(mode).mean)).collect(),
            covariances: (0..MODES).map(|mode| matrix(&filter.gaussian(mode).covariance)).collect(),
            mean: vector(&overall.mean),
            covariance: matrix(&overall.covariance),
        }
    }
}

fn main() -> ExitCode {
    let Some(path) = std::env::args().nth(1) else {
        let _ = writeln!(std::io::stderr(), "usage: mode-cases FILE.json");
        return ExitCode::FAILURE;
    };
    let written = serde_json::to_string(&cases())
        .map_err(|error| error.to_string())
        .and_then(|text| std::fs::write(&path, text).map_err(|error| format!("{path}: {error}")));
    match written {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            let _ = writeln!(std::io::stderr(), "mode-cases: {why}");
            ExitCode::FAILURE
        }
    }
}

/// Two days: waves, a pressed spell, wild readings, gaps of hours and days, meter checks, day and night, a new sensor, a site
/// with a record of its own.
fn cases() -> Cases {
    let dynamics = Dynamics { night_noise: 0.6, ..Dynamics::POPULATION };
    let (mut steps, mut rng) = (Discretizations::new(dynamics), NumpyRng::seeded_with_5());
    let mut filter = ImmFilter::begin(&dynamics, 130.0);
    let mut made = Cases {
        dynamics,
        press: [press::DEPTH, press::DEPTH_SD, press::ONSET_MINUTES, press::RECOVERY_MINUTES],
        unsettled_sd: UNSETTLED_SD_MG_DL,
        trusted: INNOVATION_GATE,
        no_weight: NO_WEIGHT,
        sensor_measurement_row: vector(&sensor_measurement_row()),
        bias_allowed: BIAS_ALLOWED_MG_DL,
        steps: BTreeMap::new(),
        first: Posterior::of(&filter),
        observations: Vec::new(),
    };
    let mut minute = 0.0_f64;
    for count in 0..576_u32 {
        let minutes = match count % 120 {
            17 => 15.0,
            61 => 190.0,
            97 => 1.0,
            113 => 1500.0,
            _ => 5.0 + (rng.uniform(-0.2, 0.2) * 60.0).round() / 60.0,
        };
        minute += minutes;
        let circumstances = Circumstances {
            asleep: (count / 96) % 2 == 1,
            compression_lows_per_night_here: (count > 300).then_some(1.4),
            sensor_hours: (count > 400).then_some((f64::from(count) - 400.0) / 12.0),
            moves_fast: false,
        };
        let switching = ModeSwitching::under(&circumstances);
        let parts: Vec<_> = steps.over(minutes).collect();
        let names: Vec<String> = parts.iter().map(|step| format!("{:.0}", step.minutes * 60.0)).collect();
        for (name, step) in names.iter().zip(&parts) {
            made.steps.entry(name.clone()).or_insert_with(|| PlainStep {
                minutes: step.minutes,
                transition: matrix(&step.transition),
                glucose_noise: matrix(&step.glucose_noise),
                sensor_noise: matrix(&step.sensor_noise),
                input: vector(&step.input),
            });
        }
        let input = rng.uniform(-0.8, 0.8);
        filter.predict(&mut steps, minutes, input, &circumstances);
        let meter = count % 53 == 40;
        let level = 130.0 + 50.0 * (minute / 70.0).sin();
        let compression = (130..138).contains(&count) || (350..354).contains(&count);
        let off = if count % 71 == 33 { 70.0 } else { rng.uniform(-4.0, 4.0) };
        let amount = if compression && !meter { 0.55 * level } else { level + off };
        if meter {
            filter.weigh(&dynamics, amount);
        } else {
            filter.read(&dynamics, amount, minutes);
        }
        made.observations.push(Observation {
            minutes,
            steps: names,
            asleep: circumstances.asleep,
            input,
            switching: [
                switching.compressions_per_hour,
                switching.compression_minutes,
                switching.unsettled_per_hour,
                switching.unsettled_minutes,
            ],
            meter,
            amount,
            noise: if meter { meter_variance(amount) } else { dynamics.white_variance(minutes) },
            posterior: Posterior::of(&filter),
        });
    }
    made
}

fn vector(of: &State) -> Vec<f64> {
    of.iter().copied().collect()
}

/// Row by row.
fn matrix(of: &Matrix) -> Vec<Vec<f64>> {
    of.row_iter().map(|row| row.iter().copied().collect()).collect()
}
