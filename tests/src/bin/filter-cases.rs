//! Writes the filter's matrices and what core made of them, for a general-purpose library to check.
//!
//! Invented readings, at uneven spacing, with gaps, meter checks and a known effect of insulin and carbohydrate; one case for
//! each of the sensor's modes, and one with readings so wild that the filter trusts them less. The matrices are those of core.

use std::io::Write;
use std::process::ExitCode;

use ebbstead_core::estimate::dynamics::{Discretizations, Dynamics, INTERSTITIAL, Matrix, PRESS, State};
use ebbstead_core::estimate::filter::{Gaussian, PressStep, meter_measurement_row, sensor_measurement_row};
use ebbstead_core::estimate::smoother::rts_step;
use ebbstead_tests::rng::NumpyRng;
use serde::Serialize;

/// One observation, or a moment without one, and the step from it to the next.
#[derive(Serialize)]
struct Observation {
    row: Vec<f64>,
    noise: f64,
    observed: Option<f64>,
    transition: Vec<Vec<f64>>,
    input: Vec<f64>,
    state_noise: Vec<Vec<f64>>,
}

#[derive(Serialize)]
struct Case {
    name: &'static str,
    first_mean: Vec<f64>,
    first_covariance: Vec<Vec<f64>>,
    steps: Vec<Observation>,
    filtered_mean: Vec<Vec<f64>>,
    filtered_covariance: Vec<Vec<Vec<f64>>>,
    log_likelihood: Vec<f64>,
    smoothed_mean: Vec<Vec<f64>>,
    smoothed_covariance: Vec<Vec<Vec<f64>>>,
    /// What the way back needs: the filtered state, and the step and the predicted state after it.
    #[serde(skip)]
    forward: Vec<(Gaussian, Matrix, Gaussian)>,
}

/// What makes a case: the sensor's drop over a step of so many minutes, the noise of a reading in (mg/dL)^2, and how far off, in
/// squared standard deviations, a reading is still taken at its word.
struct Mode {
    name: &'static str,
    press: fn(f64) -> PressStep,
    noise: f64,
    trusted: f64,
    wild: bool,
}

fn lifted(minutes: f64) -> PressStep {
    // The way back divides by the drop's variance, so there is a little of it, as in core's own smoother.
    PressStep { keep: (-minutes / 6.0).exp(), add: 0.0, variance: 1e-6 }
}

fn pressing(minutes: f64) -> PressStep {
    let keep = (-minutes / 4.0).exp();
    PressStep { keep, add: (1.0 - keep) * -45.0, variance: (1.0 - keep * keep) * 300.0 }
}

fn main() -> ExitCode {
    let Some(path) = std::env::args().nth(1) else {
        let _ = writeln!(std::io::stderr(), "usage: filter-cases FILE.json, or filter-cases --time");
        return ExitCode::FAILURE;
    };
    if path == "--time" {
        let _ = writeln!(std::io::stdout(), "{}", nanoseconds_a_reading());
        return ExitCode::SUCCESS;
    }
    let modes = [
        Mode { name: "clear", press: lifted, noise: 4.0, trusted: f64::INFINITY, wild: false },
        Mode { name: "pressed", press: pressing, noise: 4.0, trusted: f64::INFINITY, wild: false },
        Mode { name: "unsettled", press: lifted, noise: 400.0, trusted: f64::INFINITY, wild: false },
        Mode { name: "wild readings", press: lifted, noise: 4.0, trusted: 8.0, wild: true },
    ];
    let cases: Vec<Case> = modes.iter().map(case).collect();
    let written = serde_json::to_string(&cases)
        .map_err(|error| error.to_string())
        .and_then(|text| std::fs::write(&path, text).map_err(|error| format!("{path}: {error}")));
    match written {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            let _ = writeln!(std::io::stderr(), "filter-cases: {why}");
            ExitCode::FAILURE
        }
    }
}

/// What one step and one observation of one filter cost, in nanoseconds, for `filter_speed.py` to compare.
fn nanoseconds_a_reading() -> f64 {
    const READINGS: u32 = 200_000;
    let dynamics = Dynamics::POPULATION;
    let (step, row) = (dynamics.step(5.0), sensor_measurement_row());
    let (mean, covariance) = dynamics.prior(130.0);
    let mut gaussian = Gaussian { mean, covariance };
    let begun = std::time::Instant::now();
    for count in 0..READINGS {
        let observed = 40.0 * (f64::from(count) / 30.0).sin();
        gaussian = gaussian.predict(&step, 1.0, 0.0, lifted(5.0)).update(&row, observed, 4.0, 9.0).0;
    }
    let nanoseconds = begun.elapsed().as_secs_f64() * 1e9 / f64::from(READINGS);
    // The state is used, so that the work cannot be optimised away.
    if gaussian.mean.iter().all(|x| x.is_finite()) { nanoseconds } else { f64::NAN }
}

fn case(mode: &Mode) -> Case {
    let dynamics = Dynamics::POPULATION;
    let (mut steps, mut rng) = (Discretizations::new(dynamics), NumpyRng::seeded_with_5());
    let (mean, covariance) = dynamics.prior(130.0);
    let mut case = Case {
        name: mode.name,
        first_mean: vector(&mean),
        first_covariance: matrix(&covariance),
        steps: Vec::new(),
        filtered_mean: Vec::new(),
        filtered_covariance: Vec::new(),
        log_likelihood: Vec::new(),
        smoothed_mean: Vec::new(),
        smoothed_covariance: Vec::new(),
        forward: Vec::new(),
    };
    let mut gaussian = Gaussian { mean, covariance };
    let mut minute = 0.0_f64;
    for count in 0..200_u32 {
        let from_meter = count % 37 == 20;
        let level = 130.0 + 60.0 * (minute / 55.0).sin() - dynamics.level_mg_dl;
        let off = if mode.wild && count % 23 == 11 { 80.0 } else { rng.uniform(-6.0, 6.0) };
        let row = if from_meter { meter_measurement_row() } else { sensor_measurement_row() };
        let seen = Some((level + off, if from_meter { 60.0 } else { mode.noise }));
        // Spacings of a sensor, a stray one, and now and then hours without readings.
        let minutes = match count % 50 {
            17 => 15.0,
            31 => 190.0,
            44 => 1.0,
            _ => 5.0 + rng.uniform(-0.2, 0.2),
        };
        let input = -0.8 + rng.uniform(0.0, 1.6);
        let mut observation = seen.map(|(observed, noise)| (row, observed, noise));
        // A long way is made of several steps; between them nothing is observed.
        for step in steps.over(minutes) {
            gaussian = case.observe(gaussian, observation.take(), mode.trusted);
            let noise_at = dynamics.noise_at(gaussian.mean[INTERSTITIAL] + dynamics.level_mg_dl, false);
            let press = (mode.press)(step.minutes);
            let mut transition = step.transition;
            transition[(PRESS, PRESS)] = press.keep;
            let mut added = step.input * input;
            added[PRESS] += press.add;
            let mut state_noise = step.glucose_noise * noise_at + step.sensor_noise;
            state_noise[(PRESS, PRESS)] += press.variance;
            case.step(&transition, &added, &state_noise);
            let predicted = gaussian.predict(&step, noise_at, input, press);
            case.forward.push((gaussian, transition, predicted.clone()));
            gaussian = predicted;
        }
        minute += minutes;
    }
    case.smooth();
    case
}

impl Case {
    /// Takes an observation in, if there is one: its row, its amount and its noise.
    fn observe(&mut self, gaussian: Gaussian, observation: Option<(State, f64, f64)>, trusted: f64) -> Gaussian {
        let (row, observed, noise) = observation.unwrap_or((sensor_measurement_row(), f64::NAN, 1.0));
        let (gaussian, noise, log_likelihood) = if observed.is_nan() {
            (gaussian, noise, 0.0)
        } else {
            let (after, innovation) = gaussian.update(&row, observed, noise, trusted);
            let distance = innovation.mg_dl.powi(2) / innovation.variance;
            // Beyond what is trusted, the innovation's variance is raised by as much: the noise that does it is the library's.
            let raised =
                if distance > trusted { innovation.variance * ((distance / trusted).sqrt() - 1.0) } else { 0.0 };
            (after, noise + raised, innovation.log_likelihood)
        };
        self.steps.push(Observation {
            row: vector(&row),
            noise,
            observed: (!observed.is_nan()).then_some(observed),
            transition: Vec::new(),
            input: Vec::new(),
            state_noise: Vec::new(),
        });
        self.filtered_mean.push(vector(&gaussian.mean));
        self.filtered_covariance.push(matrix(&gaussian.covariance));
        self.log_likelihood.push(log_likelihood);
        gaussian
    }

    /// The way back, from the newest filtered state.
    fn smooth(&mut self) {
        let Some((newest, ..)) = self.forward.last() else { return };
        let mut gaussians = vec![newest.clone()];
        for (filtered, transition, predicted) in self.forward.iter().rev().skip(1) {
            let next = rts_step(filtered, transition, predicted, &gaussians[gaussians.len() - 1]);
            gaussians.push(next);
        }
        gaussians.reverse();
        self.smoothed_mean = gaussians.iter().map(|gaussian| vector(&gaussian.mean)).collect();
        self.smoothed_covariance = gaussians.iter().map(|gaussian| matrix(&gaussian.covariance)).collect();
    }

    /// Notes the step from the newest observation to the next.
    fn step(&mut self, transition: &Matrix, input: &State, state_noise: &Matrix) {
        if let Some(newest) = self.steps.last_mut() {
            newest.transition = matrix(transition);
            newest.input = vector(input);
            newest.state_noise = matrix(state_noise);
        }
    }
}

fn vector(of: &State) -> Vec<f64> {
    of.iter().copied().collect()
}

/// Row by row.
fn matrix(of: &Matrix) -> Vec<Vec<f64>> {
    of.row_iter().map(|row| row.iter().copied().collect()).collect()
}
