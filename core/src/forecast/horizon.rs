//! The model's own predictive distribution on a grid of 5 minutes: means by stepping, variances by rows made once.

use crate::estimate::dynamics::{Dynamics, INTERSTITIAL, Matrix, PRESS, State, Step};
use crate::estimate::filter::{Belief, meter_row, reading_row};
use crate::estimate::modes::PRESSED_MINUTES;

/// Minutes between two points of the path.
pub const GRID_MINUTES: f64 = 5.0;
/// Points of the path: to 120 minutes.
pub const POINTS: usize = 24;

/// What one point ahead needs: `variance of row x' = row P row' + noise`.
#[derive(Clone, Debug, PartialEq)]
struct Point {
    reading: State,
    blood: State,
    glucose_noise: f64,
    sensor_noise: f64,
    blood_noise: f64,
    /// Noise part of the covariance of this point's reading with the next one's.
    next_glucose_noise: f64,
    next_sensor_noise: f64,
}

/// The points ahead for one set of dynamics.
#[derive(Clone, Debug, PartialEq)]
pub struct Horizon {
    dynamics: Dynamics,
    step: Step,
    points: Vec<Point>,
}

/// What is known of the time ahead.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Conditions {
    /// The known effects of logged insulin and carbohydrate on blood glucose in each 5 minutes to come, in mg/dL/min.
    pub inputs_mg_dl_min: Option<[f64; POINTS]>,
    /// The wearer sleeps.
    pub asleep: bool,
}

/// The distribution of the path under the model.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Path {
    /// Expected readings, in mg/dL; the first is 5 minutes ahead.
    pub reading_mg_dl: [f64; POINTS],
    /// Variances of the readings.
    pub reading_variance: [f64; POINTS],
    /// Correlation of each reading with the next point's.
    pub correlation: [f64; POINTS],
    /// Expected blood glucose, in mg/dL.
    pub blood_mg_dl: [f64; POINTS],
    /// Variances of blood glucose.
    pub blood_variance: [f64; POINTS],
}

impl Horizon {
    /// Prepares the grid.
    #[must_use]
    pub fn new(dynamics: Dynamics) -> Self {
        let step = with_press(dynamics.step(GRID_MINUTES));
        let (mut glucose, mut sensor) = (Matrix::zeros(), Matrix::zeros());
        let (mut reading, mut blood) = (reading_row(), meter_row());
        let next = step.transition.transpose() * reading_row();
        let points = (0..POINTS)
            .map(|_| {
                reading = step.transition.transpose() * reading;
                blood = step.transition.transpose() * blood;
                glucose = step.transition * glucose * step.transition.transpose() + step.glucose_noise;
                sensor = step.transition * sensor * step.transition.transpose() + step.sensor_noise;
                Point {
                    reading,
                    blood,
                    glucose_noise: reading_row().dot(&(glucose * reading_row())),
                    sensor_noise: reading_row().dot(&(sensor * reading_row())),
                    blood_noise: meter_row().dot(&(glucose * meter_row())),
                    next_glucose_noise: next.dot(&(glucose * reading_row())),
                    next_sensor_noise: next.dot(&(sensor * reading_row())),
                }
            })
            .collect();
        Self { dynamics, step, points }
    }

    /// The dynamics.
    #[must_use]
    pub const fn dynamics(&self) -> &Dynamics {
        &self.dynamics
    }

    /// The path from a belief under conditions.
    #[must_use]
    pub fn path(&self, belief: &Belief, conditions: &Conditions) -> Path {
        let level = self.dynamics.level_mg_dl;
        let noise_at = self.dynamics.noise_at(belief.mean[INTERSTITIAL] + level, conditions.asleep);
        let white = self.dynamics.white_sd_mg_dl.powi(2);
        let mut path = Path {
            reading_mg_dl: [0.0; POINTS],
            reading_variance: [0.0; POINTS],
            correlation: [0.0; POINTS],
            blood_mg_dl: [0.0; POINTS],
            blood_variance: [0.0; POINTS],
        };
        let mut known = State::zeros();
        let mut next = belief.covariance * self.points[0].reading;
        for (k, point) in self.points.iter().enumerate() {
            if let Some(inputs) = &conditions.inputs_mg_dl_min {
                known = self.step.transition * known + self.step.input * inputs[k];
            }
            let shared = next;
            path.reading_mg_dl[k] = level + point.reading.dot(&belief.mean) + reading_row().dot(&known);
            path.blood_mg_dl[k] = level + point.blood.dot(&belief.mean) + meter_row().dot(&known);
            path.reading_variance[k] =
                point.reading.dot(&shared) + point.glucose_noise * noise_at + point.sensor_noise + white;
            path.blood_variance[k] = point.blood.dot(&(belief.covariance * point.blood)) + point.blood_noise * noise_at;
            if let Some(following) = self.points.get(k + 1) {
                next = belief.covariance * following.reading;
                path.correlation[k] =
                    point.reading.dot(&next) + point.next_glucose_noise * noise_at + point.next_sensor_noise;
            }
        }
        for k in 0..POINTS - 1 {
            let product = path.reading_variance[k] * path.reading_variance[k + 1];
            path.correlation[k] = (path.correlation[k] / product.sqrt()).clamp(0.0, 0.999);
        }
        path
    }
}

/// Lets a pressed sensor's drop fade as spells end on average.
fn with_press(mut step: Step) -> Step {
    step.transition[(PRESS, PRESS)] = (-step.minutes / PRESSED_MINUTES).exp();
    step
}
