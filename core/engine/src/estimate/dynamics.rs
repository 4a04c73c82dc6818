//! How blood glucose, interstitial glucose and the sensor's error move: a continuous-time linear model, discretised exactly.
//!
//! # Formula
//! With `u` the known effect of logged insulin and carbohydrate (mg/dL/min), `w` independent white noises and `m` the level
//! that glucose returns to when nothing is known:
//! ```text
//! blood        dB = (R - k (B - m) + u) dt + s_B dw      k = 1 / level_minutes
//! rate         dR = -R / rate_minutes dt   + s_R dw      mean-reverting (Ornstein-Uhlenbeck)
//! interstitial dI = (B - I) / lag_minutes dt             first-order lag
//! driver       dC = -C / slow dt           + s_C dw      } coloured sensor error: a second-order
//! error        dE = (C - E) / fast dt                    } process of standard deviation error_sd
//! offset       dO = -O / offset_minutes dt + s_O dw      what only a meter can tell from glucose
//! press        dD =                                      see `modes`: a pressed sensor's drop
//! reading      y  = I + E + O + D + v
//! meter check  z  = B + e
//! ```
//!
//! # Source
//! The structure is the diffusion model with coloured sensor error of Facchinetti et al., IEEE TBME 2014;61(3):620-629; the
//! lag is in the published range (Basu et al., Diabetes 2013;62:4083-4087: 5.3-6.2 min in the tissue; about 10 min with the
//! sensor's own: common practice, no source). The population's values were fitted, see `core/docs/population.md`.

use std::collections::HashMap;
use std::sync::Arc;

use nalgebra::{SMatrix, SVector};
use serde::{Deserialize, Serialize};

/// How many numbers describe a state.
pub const STATES: usize = 7;
/// Index of blood glucose, less the level, in mg/dL.
pub const BLOOD: usize = 0;
/// Index of the rate, in mg/dL/min.
pub const RATE: usize = 1;
/// Index of interstitial glucose, less the level, in mg/dL.
pub const INTERSTITIAL: usize = 2;
/// Index of the coloured error's driver, in mg/dL.
pub const DRIVER: usize = 3;
/// Index of the coloured error, in mg/dL.
pub const ERROR: usize = 4;
/// Index of the offset, in mg/dL.
pub const OFFSET: usize = 5;
/// Index of the pressed sensor's drop, in mg/dL (negative).
pub const PRESS: usize = 6;

/// A state, or a row that weighs one.
pub type State = SVector<f64, STATES>;
/// A covariance or transition of states.
pub type Matrix = SMatrix<f64, STATES, STATES>;

/// The state that does not depend on the sensor's mode: all but [`PRESS`].
const PLAIN: usize = 6;
type PlainMatrix = SMatrix<f64, PLAIN, PLAIN>;

/// The model's parameters. Times in minutes, amounts in mg/dL, process noises per square root of a minute.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Dynamics {
    /// The level glucose returns to when nothing is known, in mg/dL.
    pub level_mg_dl: f64,
    /// Time constant of that return.
    pub level_minutes: f64,
    /// Time constant of the rate's return to nothing.
    pub rate_minutes: f64,
    /// Noise of the rate, in mg/dL/min per square root of a minute.
    pub rate_noise: f64,
    /// Noise of blood glucose itself, in mg/dL per square root of a minute.
    pub blood_noise: f64,
    /// Process noise grows with glucose to this power: 0 is the same at every level.
    pub noise_power: f64,
    /// What the process noise (variance) is multiplied by while the wearer sleeps.
    pub night_noise: f64,
    /// Time constant of blood to sensor.
    pub lag_minutes: f64,
    /// Standard deviation of the coloured sensor error.
    pub error_sd_mg_dl: f64,
    /// The coloured error's slower time constant.
    pub error_slow_minutes: f64,
    /// The coloured error's faster time constant.
    pub error_fast_minutes: f64,
    /// Standard deviation of a sensor's offset.
    pub offset_sd_mg_dl: f64,
    /// Time constant of the offset.
    pub offset_minutes: f64,
    /// Standard deviation of the white part of a reading, rounding included.
    pub white_sd_mg_dl: f64,
}

/// By how much readings a minute apart jump, standard deviation in mg/dL (assumption; chosen on virtual wearers read each minute, see
/// `core/docs/population.md`: no open data of such sensors was found).
pub(crate) const JITTER_SD_MG_DL: f64 = 1.2;
/// Up to the first spacing of readings all of that counts, from the second on none, in minutes (assumption).
const JITTER_MINUTES: (f64, f64) = (1.0, 4.0);

impl Dynamics {
    /// The population's values.
    pub const POPULATION: Self = Self {
        level_mg_dl: 140.0,
        level_minutes: 167.0,
        rate_minutes: 50.0,
        rate_noise: 0.13,
        blood_noise: 3.5,
        noise_power: 0.4,
        night_noise: 1.0,
        lag_minutes: 9.0,
        error_sd_mg_dl: 5.0,
        error_slow_minutes: 100.0,
        error_fast_minutes: 50.0,
        offset_sd_mg_dl: 3.0,
        offset_minutes: 3.0 * 1440.0,
        white_sd_mg_dl: 0.3,
    };

    /// Whether these can be somebody's: each within a tenth and ten times the population's (learning keeps within a quarter and four
    /// times). A damaged or invented log may hold others, and no filter runs on those.
    #[must_use]
    pub(crate) fn can_be_learnt(&self) -> bool {
        let sizes = |d: &Self| {
            [
                d.level_mg_dl,
                d.level_minutes,
                d.rate_minutes,
                d.rate_noise,
                d.blood_noise,
                d.night_noise,
                d.lag_minutes,
                d.error_sd_mg_dl,
                d.error_slow_minutes,
                d.error_fast_minutes,
                d.offset_sd_mg_dl,
                d.offset_minutes,
                d.white_sd_mg_dl,
            ]
        };
        let near = |(own, all): (f64, f64)| (0.1..=10.0).contains(&(own / all));
        sizes(self).into_iter().zip(sizes(&Self::POPULATION)).all(near) && (-1.0..=2.0).contains(&self.noise_power)
    }

    /// Variance of the white part of a reading that came `spacing_minutes` after the last one, in (mg/dL)^2.
    ///
    /// The fitted part is that of readings 5 minutes apart. From one minute to the next readings also jump by `JITTER_SD_MG_DL`, which
    /// no slow error explains: without it each jump looks like pressure on the sensor or like a movement of glucose.
    #[must_use]
    pub fn white_variance(&self, spacing_minutes: f64) -> f64 {
        let (all, none) = JITTER_MINUTES;
        let share = ((none - spacing_minutes) / (none - all)).clamp(0.0, 1.0);
        JITTER_SD_MG_DL.powi(2).mul_add(share, self.white_sd_mg_dl.powi(2))
    }

    /// What the process noise (variance) is multiplied by at an interstitial glucose in mg/dL, awake or asleep.
    #[must_use]
    pub fn noise_at(&self, mg_dl: f64, asleep: bool) -> f64 {
        // Below 60 mg/dL there is no more to learn from: the lowest readings are cut off by the sensors.
        let by_level = (mg_dl.clamp(60.0, 400.0) / 130.0).powf(self.noise_power);
        if asleep { by_level * self.night_noise } else { by_level }
    }

    /// The drift matrix and the two noise intensities, of glucose and of the sensor, over the plain states.
    fn continuous(&self) -> (PlainMatrix, PlainMatrix, PlainMatrix) {
        let mut drift = PlainMatrix::zeros();
        drift[(BLOOD, BLOOD)] = -1.0 / self.level_minutes;
        drift[(BLOOD, RATE)] = 1.0;
        drift[(RATE, RATE)] = -1.0 / self.rate_minutes;
        drift[(INTERSTITIAL, BLOOD)] = 1.0 / self.lag_minutes;
        drift[(INTERSTITIAL, INTERSTITIAL)] = -1.0 / self.lag_minutes;
        drift[(DRIVER, DRIVER)] = -1.0 / self.error_slow_minutes;
        drift[(ERROR, DRIVER)] = 1.0 / self.error_fast_minutes;
        drift[(ERROR, ERROR)] = -1.0 / self.error_fast_minutes;
        drift[(OFFSET, OFFSET)] = -1.0 / self.offset_minutes;
        let mut glucose = PlainMatrix::zeros();
        glucose[(BLOOD, BLOOD)] = self.blood_noise.powi(2);
        glucose[(RATE, RATE)] = self.rate_noise.powi(2);
        let mut sensor = PlainMatrix::zeros();
        sensor[(DRIVER, DRIVER)] = 2.0 * self.driver_variance() / self.error_slow_minutes;
        sensor[(OFFSET, OFFSET)] = 2.0 * self.offset_sd_mg_dl.powi(2) / self.offset_minutes;
        (drift, glucose, sensor)
    }

    /// The driver's stationary variance that gives the error its standard deviation.
    fn driver_variance(&self) -> f64 {
        let (slow, fast) = (self.error_slow_minutes, self.error_fast_minutes);
        self.error_sd_mg_dl.powi(2) * (slow + fast) / slow
    }

    /// What is believed before the first reading, given that reading in mg/dL: a broad guess around it.
    #[must_use]
    pub fn prior(&self, reading_mg_dl: f64) -> (State, Matrix) {
        let mut mean = State::zeros();
        mean[BLOOD] = reading_mg_dl - self.level_mg_dl;
        mean[INTERSTITIAL] = mean[BLOOD];
        let spread = 40.0_f64;
        let rate_variance = (self.rate_noise.powi(2) * self.rate_minutes / 2.0).max(1.0);
        let mut covariance = Matrix::zeros();
        for i in [BLOOD, INTERSTITIAL] {
            for j in [BLOOD, INTERSTITIAL] {
                covariance[(i, j)] = spread.powi(2);
            }
        }
        covariance[(BLOOD, BLOOD)] += 15.0_f64.powi(2);
        covariance[(RATE, RATE)] = rate_variance;
        let driver = self.driver_variance();
        covariance[(DRIVER, DRIVER)] = driver;
        covariance[(ERROR, ERROR)] = self.error_sd_mg_dl.powi(2);
        // Stationary covariance of a first-order process and its own low-pass: driver variance * slow / (slow + fast).
        let shared = driver * self.error_slow_minutes / (self.error_slow_minutes + self.error_fast_minutes);
        covariance[(DRIVER, ERROR)] = shared;
        covariance[(ERROR, DRIVER)] = shared;
        covariance[(OFFSET, OFFSET)] = self.offset_sd_mg_dl.powi(2);
        (mean, covariance)
    }

    /// The exact step over a time in minutes.
    #[must_use]
    pub fn step(&self, minutes: f64) -> DiscreteModel {
        let (drift, glucose, sensor) = self.continuous();
        // Glucose and sensor do not touch each other, so one discretisation serves both noises.
        let (transition, glucose_noise) = discretised(&drift, &glucose, minutes);
        let (_, sensor_noise) = discretised(&drift, &sensor, minutes);
        // A constant input u on blood, integrated over the step: the same as a state that never moves.
        let mut with_input = SMatrix::<f64, { PLAIN + 1 }, { PLAIN + 1 }>::zeros();
        with_input.fixed_view_mut::<PLAIN, PLAIN>(0, 0).copy_from(&drift);
        with_input[(BLOOD, PLAIN)] = 1.0;
        let moved = (with_input * minutes).exp();
        let mut input = State::zeros();
        input.fixed_rows_mut::<PLAIN>(0).copy_from(&moved.fixed_view::<PLAIN, 1>(0, PLAIN));
        DiscreteModel {
            minutes,
            transition: widened(&transition),
            glucose_noise: widened(&glucose_noise),
            sensor_noise: widened(&sensor_noise),
            input,
        }
    }
}

/// One exact step of the plain states; [`PRESS`] is left to the mode.
#[derive(Clone, Debug, PartialEq)]
pub struct DiscreteModel {
    /// Its length in minutes.
    pub minutes: f64,
    /// The transition.
    pub transition: Matrix,
    /// The noise of glucose at 130 mg/dL, to be multiplied by [`Dynamics::noise_at`].
    pub glucose_noise: Matrix,
    /// The noise of the sensor.
    pub sensor_noise: Matrix,
    /// What a known effect on blood of 1 mg/dL/min adds over the step.
    pub input: State,
}

fn widened(plain: &PlainMatrix) -> Matrix {
    let mut wide = Matrix::zeros();
    wide.fixed_view_mut::<PLAIN, PLAIN>(0, 0).copy_from(plain);
    wide
}

/// Transition and noise of a linear system over a time, by one matrix exponential.
///
/// # Source
/// Van Loan, "Computing integrals involving the matrix exponential", IEEE Trans. Automatic Control 1978;23(3):395-404.
fn discretised(drift: &PlainMatrix, noise: &PlainMatrix, minutes: f64) -> (PlainMatrix, PlainMatrix) {
    let mut block = SMatrix::<f64, { 2 * PLAIN }, { 2 * PLAIN }>::zeros();
    block.fixed_view_mut::<PLAIN, PLAIN>(0, 0).copy_from(&(-drift));
    block.fixed_view_mut::<PLAIN, PLAIN>(0, PLAIN).copy_from(noise);
    block.fixed_view_mut::<PLAIN, PLAIN>(PLAIN, PLAIN).copy_from(&drift.transpose());
    let moved = (block * minutes).exp();
    let transition = moved.fixed_view::<PLAIN, PLAIN>(PLAIN, PLAIN).transpose();
    let covariance = transition * moved.fixed_view::<PLAIN, PLAIN>(0, PLAIN);
    // Rounding leaves the last bits unsymmetric.
    (transition, (covariance + covariance.transpose()) * 0.5)
}

/// Discretizations already computed, by whole seconds: a matrix exponential costs a hundred times a filter step, and sensors read at
/// nearly equal intervals.
#[derive(Clone, Debug)]
pub struct Discretizations {
    dynamics: Dynamics,
    known: HashMap<u32, Arc<DiscreteModel>>,
}

impl Discretizations {
    /// Most steps kept: every whole second of a quarter of an hour.
    const MOST: usize = 900;
    /// The longest single step, in seconds. Van Loan's block holds `exp(-drift t)`, which overflows over days; several
    /// steps of this length are exact too.
    const LONGEST_S: u32 = 2 * 3600;

    /// Discretizations of these dynamics.
    #[must_use]
    pub fn new(dynamics: Dynamics) -> Self {
        Self { dynamics, known: HashMap::new() }
    }

    /// The dynamics.
    #[must_use]
    pub const fn dynamics(&self) -> &Dynamics {
        &self.dynamics
    }

    /// The steps that make up a time in minutes, to the nearest second; several where it is long.
    pub fn over(&mut self, minutes: f64) -> impl Iterator<Item = Arc<DiscreteModel>> + use<> {
        // Gaps over 30 days are treated as 30 days: by then the state has forgotten its start.
        let seconds = (minutes.clamp(0.0, 30.0 * 1440.0) * 60.0).round() as u32;
        let (long, rest) = (seconds / Self::LONGEST_S, seconds % Self::LONGEST_S);
        let long_step = (long > 0).then(|| self.one(Self::LONGEST_S));
        let rest_step = (rest > 0).then(|| self.one(rest));
        long_step.into_iter().flat_map(move |step| std::iter::repeat_n(step, long as usize)).chain(rest_step)
    }

    fn one(&mut self, seconds: u32) -> Arc<DiscreteModel> {
        if self.known.len() >= Self::MOST {
            self.known.clear();
        }
        let dynamics = &self.dynamics;
        let step = self.known.entry(seconds).or_insert_with(|| Arc::new(dynamics.step(f64::from(seconds) / 60.0)));
        Arc::clone(step)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_filter_runs_on_what_nobody_can_have() {
        assert!(Dynamics::POPULATION.can_be_learnt());
        for spoilt in [f64::NAN, f64::INFINITY, 0.0, -1.0, 1e9] {
            assert!(!Dynamics { lag_minutes: spoilt, ..Dynamics::POPULATION }.can_be_learnt(), "{spoilt}");
            assert!(!Dynamics { white_sd_mg_dl: spoilt, ..Dynamics::POPULATION }.can_be_learnt(), "{spoilt}");
        }
        assert!(!Dynamics { noise_power: f64::NAN, ..Dynamics::POPULATION }.can_be_learnt());
    }

    #[test]
    fn steps_may_be_chained() {
        let dynamics = Dynamics::POPULATION;
        let (whole, half) = (dynamics.step(10.0), dynamics.step(5.0));
        let near = |a: Matrix, b: Matrix| (a - b).amax() < 1e-9;
        assert!(near(whole.transition, half.transition * half.transition));
        let chained = half.transition * half.glucose_noise * half.transition.transpose() + half.glucose_noise;
        assert!(near(whole.glucose_noise, chained));
        let chained = half.transition * half.sensor_noise * half.transition.transpose() + half.sensor_noise;
        assert!(near(whole.sensor_noise, chained));
        assert!((whole.input - (half.transition * half.input + half.input)).amax() < 1e-9);
    }

    #[test]
    fn the_error_has_the_standard_deviation_named() {
        let dynamics = Dynamics::POPULATION;
        let (_, mut covariance) = dynamics.prior(120.0);
        let before = covariance;
        for step in Discretizations::new(dynamics).over(600.0) {
            covariance = step.transition * covariance * step.transition.transpose() + step.sensor_noise;
        }
        for (i, j) in [(DRIVER, DRIVER), (DRIVER, ERROR), (ERROR, ERROR), (OFFSET, OFFSET)] {
            assert!((covariance[(i, j)] - before[(i, j)]).abs() < 1e-6, "stationary at {i} {j}");
        }
        assert!((covariance[(ERROR, ERROR)].sqrt() - dynamics.error_sd_mg_dl).abs() < 1e-6);
    }

    #[test]
    fn a_month_without_readings_stays_finite() {
        let mut steps = Discretizations::new(Dynamics::POPULATION);
        let made: Vec<_> = steps.over(1e9).collect();
        assert!(made.iter().all(|step| step.transition.iter().chain(step.glucose_noise.iter()).all(|x| x.is_finite())));
        assert_eq!(steps.over(0.0).count(), 0);
        assert_eq!(steps.over(f64::NAN).count(), 0);
    }
}
