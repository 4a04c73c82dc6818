//! One Kalman filter step: predict and update of a Gaussian state.

use super::dynamics::{
    BLOOD, DRIVER, DiscreteModel, Dynamics, ERROR, INTERSTITIAL, Matrix, OFFSET, PRESS, RATE, STATES, State,
};

/// Where one filter runs alone, an innovation further off than this many squared standard deviations counts as just that far off.
pub(super) const ALONE_GATE: f64 = 9.0;

/// The state as a Gaussian.
#[derive(Clone, Debug, PartialEq)]
pub struct Gaussian {
    /// Expected state.
    pub mean: State,
    /// Covariance.
    pub covariance: Matrix,
}

/// How an observation compared with what was expected.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Innovation {
    /// Observed less expected, in mg/dL.
    pub mg_dl: f64,
    /// Its expected variance, in (mg/dL)^2.
    pub variance: f64,
    /// Natural logarithm of its likelihood.
    pub log_likelihood: f64,
}

/// How the pressed sensor's drop moves over a step: `D' = keep D + add`, with noise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PressStep {
    /// Share of the drop that stays.
    pub keep: f64,
    /// What is added, in mg/dL.
    pub add: f64,
    /// Variance added, in (mg/dL)^2.
    pub variance: f64,
}

/// The row that a sensor reading observes.
#[must_use]
pub fn sensor_measurement_row() -> State {
    let mut row = State::zeros();
    for index in [INTERSTITIAL, ERROR, OFFSET, PRESS] {
        row[index] = 1.0;
    }
    row
}

/// The row that a meter check observes.
#[must_use]
pub fn meter_measurement_row() -> State {
    let mut row = State::zeros();
    row[BLOOD] = 1.0;
    row
}

impl PressStep {
    /// No pressure, nor any left.
    pub const RELEASED: Self = Self { keep: 0.0, add: 0.0, variance: 0.0 };
}

impl Gaussian {
    /// Predicts over one step. `noise_at` multiplies the noise of glucose; `input_mg_dl_min` is the known effect on
    /// blood glucose, 0 in every estimate: what is logged moves the forecast ([`crate::body::effects`]), never where glucose is.
    /// The reference implementations drive the filter by it.
    #[must_use]
    pub fn predict(&self, step: &DiscreteModel, noise_at: f64, input_mg_dl_min: f64, press: PressStep) -> Self {
        let mut transition = step.transition;
        transition[(PRESS, PRESS)] = press.keep;
        let mut mean = moved(&transition, &self.mean) + step.input * input_mg_dl_min;
        mean[PRESS] += press.add;
        let mut covariance = congruent(&transition, &self.covariance);
        covariance += step.glucose_noise * noise_at + step.sensor_noise;
        covariance[(PRESS, PRESS)] += press.variance;
        Self { mean, covariance }
    }

    /// Updates with an observation of `row`: `observed` less the level, in mg/dL, with its noise variance.
    ///
    /// An observation further off than `trusted` squared standard deviations has its noise inflated so that it moves the state as
    /// far as one just that far off, and no further (Huber's function): one wild reading must not carry the estimate away, and
    /// a lower one must not move it less.
    #[must_use]
    pub fn update(&self, row: &State, observed: f64, noise: f64, trusted: f64) -> (Self, Innovation) {
        let shared = self.covariance * row;
        let mg_dl = observed - row.dot(&self.mean);
        let expected = row.dot(&shared) + noise;
        let distance = mg_dl * mg_dl / expected;
        let variance = if distance > trusted { expected * (distance / trusted).sqrt() } else { expected };
        let gain = shared / variance;
        let mean = self.mean + gain * mg_dl;
        // P - K K' v, written with one product so that it stays symmetric to the last bit.
        let covariance = self.covariance - gain * gain.transpose() * variance;
        let log_likelihood = -0.5 * ((std::f64::consts::TAU * variance).ln() + mg_dl * mg_dl / variance);
        (Self { mean, covariance }, Innovation { mg_dl, variance: expected, log_likelihood })
    }

    /// The reading expected, in mg/dL.
    #[must_use]
    pub fn reading_mg_dl(&self, dynamics: &Dynamics) -> f64 {
        sensor_measurement_row().dot(&self.mean) + dynamics.level_mg_dl
    }

    /// Standard deviation of one state.
    #[must_use]
    pub fn sd(&self, index: usize) -> f64 {
        self.covariance[(index, index)].max(0.0).sqrt()
    }
}

/// `F x`, over the entries of a transition that the model couples ([`super::dynamics`]); the others are zero.
#[inline]
fn coupled_times(f: &Matrix, x: [f64; STATES]) -> [f64; STATES] {
    let [blood, rate, interstitial, driver, error, offset, press] = x;
    [
        f[(BLOOD, BLOOD)] * blood + f[(BLOOD, RATE)] * rate,
        f[(RATE, RATE)] * rate,
        f[(INTERSTITIAL, BLOOD)] * blood
            + f[(INTERSTITIAL, RATE)] * rate
            + f[(INTERSTITIAL, INTERSTITIAL)] * interstitial,
        f[(DRIVER, DRIVER)] * driver,
        f[(ERROR, DRIVER)] * driver + f[(ERROR, ERROR)] * error,
        f[(OFFSET, OFFSET)] * offset,
        f[(PRESS, PRESS)] * press,
    ]
}

fn moved(transition: &Matrix, mean: &State) -> State {
    State::from(coupled_times(transition, mean.data.0[0]))
}

/// `F P F'`, over the couplings only: a fifth of the full product's work, in the place where most time goes. As `P` is
/// symmetric, `F (F P)'` is the same.
fn congruent(transition: &Matrix, covariance: &Matrix) -> Matrix {
    let half = Matrix::from_array_storage(nalgebra::ArrayStorage(
        covariance.data.0.map(|column| coupled_times(transition, column)),
    ));
    let turned = half.transpose();
    Matrix::from_array_storage(nalgebra::ArrayStorage(turned.data.0.map(|column| coupled_times(transition, column))))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_couplings_are_those_of_the_model() {
        let step = Dynamics::POPULATION.step(5.0);
        let (mean, covariance) = Dynamics::POPULATION.prior(120.0);
        let mut transition = step.transition;
        transition[(PRESS, PRESS)] = 0.5;
        assert!((moved(&transition, &mean) - transition * mean).amax() < 1e-12);
        let full = transition * covariance * transition.transpose();
        assert!((congruent(&transition, &covariance) - full).amax() < 1e-9);
    }
}
