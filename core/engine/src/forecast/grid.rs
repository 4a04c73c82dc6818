//! The grid of times ahead, and what the dynamics say of each: exact means and variances, and the pieces that paths are
//! sampled from.

use nalgebra::DMatrix;

use super::paths::rows;
use super::sample::{HALF, moment_matched};
use crate::estimate::dynamics::{DiscreteModel, Dynamics, INTERSTITIAL, Matrix, PRESS, STATES, State};
use crate::estimate::filter::{Gaussian, meter_measurement_row, sensor_measurement_row};
use crate::estimate::modes::COMPRESSION_MINUTES;

/// Minutes between two points of the grid.
pub const GRID_MINUTES: f64 = 5.0;
/// Points of the grid: to 120 minutes.
pub const POINTS: usize = 24;
/// Points over which chances are computed: an hour.
pub const HOUR: usize = 12;

/// What one point ahead needs: variance of the reading there = `row P row' + noise`.
#[derive(Clone, Debug, PartialEq)]
struct Point {
    reading: State,
    blood: State,
    glucose_noise: f64,
    sensor_noise: f64,
    blood_noise: f64,
}

/// The grid for one set of dynamics.
#[derive(Clone, Debug, PartialEq)]
pub struct PredictionGrid {
    dynamics: Dynamics,
    points: Vec<Point>,
    /// Where each sampled path starts: standard normal numbers, a row of paths for each state.
    starts: Vec<Row>,
    /// What glucose adds to each sampled path at each point of the first hour, at the noise of 130 mg/dL, in mg/dL.
    glucose: Vec<Row>,
    /// What the sensor adds, in mg/dL.
    sensor: Vec<Row>,
}

/// One number for each sampled path of one half.
pub type Row = [f64; HALF];

/// The Gaussian distribution of the points ahead under the dynamics.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Path {
    /// Expected readings, in mg/dL; the first is 5 minutes ahead.
    pub reading_mg_dl: [f64; POINTS],
    /// Variances of the readings.
    pub reading_variance: [f64; POINTS],
    /// Expected blood glucose, in mg/dL.
    pub blood_mg_dl: [f64; POINTS],
    /// Variances of blood glucose.
    pub blood_variance: [f64; POINTS],
}

impl PredictionGrid {
    /// Prepares the grid: the exact discretisation of the dynamics, and the sampled noise that all forecasts share.
    ///
    /// The noise of glucose and of the sensor over the hour is drawn once from its exact covariance; a forecast only scales
    /// it. The same draws for every forecast make it repeatable, and keep the order of two forecasts whose paths lie one
    /// below the other.
    #[must_use]
    pub fn new(dynamics: Dynamics) -> Self {
        let step = with_press(dynamics.step(GRID_MINUTES));
        let (mut glucose, mut sensor) = (Matrix::zeros(), Matrix::zeros());
        let (mut reading, mut blood) = (sensor_measurement_row(), meter_measurement_row());
        let mut noises = Vec::with_capacity(POINTS);
        let points = (0..POINTS)
            .map(|_| {
                reading = step.transition.transpose() * reading;
                blood = step.transition.transpose() * blood;
                glucose = step.transition * glucose * step.transition.transpose() + step.glucose_noise;
                sensor = step.transition * sensor * step.transition.transpose() + step.sensor_noise;
                noises.push((glucose, sensor));
                Point {
                    reading,
                    blood,
                    glucose_noise: sensor_measurement_row().dot(&(glucose * sensor_measurement_row())),
                    sensor_noise: sensor_measurement_row().dot(&(sensor * sensor_measurement_row())),
                    blood_noise: meter_measurement_row().dot(&(glucose * meter_measurement_row())),
                }
            })
            .collect();
        let drawn = moment_matched(STATES + 2 * HOUR);
        let white = dynamics.white_sd_mg_dl.powi(2);
        let glucose = over_the_hour(&step, |k| noises[k].0, 0.0);
        let sensor = over_the_hour(&step, |k| noises[k].1, white);
        let row = |of: &dyn Fn(usize) -> f64| -> Row { std::array::from_fn(of) };
        let added = |from: usize, factor: &DMatrix<f64>| -> Vec<Row> {
            let at = |k: usize, path: usize| (0..=k).map(|j| factor[(k, j)] * drawn[(path, from + j)]).sum();
            (0..HOUR).map(|k| row(&|path| at(k, path))).collect()
        };
        Self {
            dynamics,
            points,
            starts: (0..STATES).map(|state| row(&|path| drawn[(path, state)])).collect(),
            glucose: added(STATES, &glucose),
            sensor: added(STATES + HOUR, &sensor),
        }
    }

    /// The dynamics.
    #[must_use]
    pub const fn dynamics(&self) -> &Dynamics {
        &self.dynamics
    }

    /// What the noise of glucose is multiplied by from a state on.
    fn noise_at(&self, gaussian: &Gaussian, asleep: bool) -> f64 {
        self.dynamics.noise_at(gaussian.mean[INTERSTITIAL] + self.dynamics.level_mg_dl, asleep)
    }

    /// Means and variances ahead.
    #[must_use]
    pub fn path(&self, gaussian: &Gaussian, asleep: bool) -> Path {
        let level = self.dynamics.level_mg_dl;
        let noise_at = self.noise_at(gaussian, asleep);
        let white = self.dynamics.white_sd_mg_dl.powi(2);
        let mut path = Path {
            reading_mg_dl: [0.0; POINTS],
            reading_variance: [0.0; POINTS],
            blood_mg_dl: [0.0; POINTS],
            blood_variance: [0.0; POINTS],
        };
        for (k, point) in self.points.iter().enumerate() {
            path.reading_mg_dl[k] = level + point.reading.dot(&gaussian.mean);
            path.blood_mg_dl[k] = level + point.blood.dot(&gaussian.mean);
            path.reading_variance[k] = point.reading.dot(&(gaussian.covariance * point.reading))
                + point.glucose_noise * noise_at
                + point.sensor_noise
                + white;
            path.blood_variance[k] =
                point.blood.dot(&(gaussian.covariance * point.blood)) + point.blood_noise * noise_at;
        }
        path
    }

    /// How far each sampled path of readings lies from the expected one at each point of the first hour, in mg/dL. The other
    /// half of the sample are the same with their signs turned.
    #[must_use]
    pub fn deviations(&self, gaussian: &Gaussian, asleep: bool) -> Vec<Row> {
        let root = square_root(&gaussian.covariance);
        let noise = self.noise_at(gaussian, asleep).sqrt();
        rows(|k, row| {
            let weights = root.transpose() * self.points[k].reading;
            for ((to, sensor), glucose) in row.iter_mut().zip(&self.sensor[k]).zip(&self.glucose[k]) {
                *to = sensor + noise * glucose;
            }
            // What has no variance, mostly the press, adds nothing.
            for (weight, start) in weights.iter().zip(&self.starts).filter(|(weight, _)| **weight != 0.0) {
                for (to, z) in row.iter_mut().zip(start) {
                    *to += weight * z;
                }
            }
        })
    }
}

/// Lets a pressed sensor's drop fade as spells end on average.
fn with_press(mut step: DiscreteModel) -> DiscreteModel {
    step.transition[(PRESS, PRESS)] = (-step.minutes / COMPRESSION_MINUTES).exp();
    step
}

/// A square root of the covariance of the readings of an hour, from the covariances of the state at each point: a reading's
/// noise stays in the state, and the transition carries it to the later ones. `white` is added to each alone.
fn over_the_hour(step: &DiscreteModel, noise: impl Fn(usize) -> Matrix, white: f64) -> DMatrix<f64> {
    let mut covariance = DMatrix::<f64>::zeros(HOUR, HOUR);
    for early in 0..HOUR {
        let mut row = sensor_measurement_row();
        for late in early..HOUR {
            let shared = row.dot(&(noise(early) * sensor_measurement_row()));
            covariance[(early, late)] = shared;
            covariance[(late, early)] = shared;
            row = step.transition.transpose() * row;
        }
        covariance[(early, early)] += white;
    }
    // Semi-definite by construction; the jitter only keeps rounding from refusing it.
    for k in 0..HOUR {
        covariance[(k, k)] += 1e-9;
    }
    covariance.cholesky().map_or_else(|| DMatrix::zeros(HOUR, HOUR), |factor| factor.l())
}

/// The lower square root of a covariance, states without variance left at nothing.
fn square_root(covariance: &Matrix) -> Matrix {
    let mut root = Matrix::zeros();
    for column in 0..STATES {
        let mut left = covariance[(column, column)];
        for k in 0..column {
            left -= root[(column, k)] * root[(column, k)];
        }
        if left <= 1e-9 {
            continue;
        }
        let pivot = left.sqrt();
        root[(column, column)] = pivot;
        for row in column + 1..STATES {
            let mut sum = covariance[(row, column)];
            for k in 0..column {
                sum -= root[(row, k)] * root[(column, k)];
            }
            root[(row, column)] = sum / pivot;
        }
    }
    root
}
