//! Can the sensor be believed? Three filters run side by side, one for each mode, and the readings decide between them.
//!
//! An interacting-multiple-model filter: before each reading the states are mixed by the chance of having changed mode,
//! each filter then predicts and takes the reading in, and the modes' chances follow from how well each expected it.
//!
//! - `clear`: the sensor follows glucose.
//! - `pressed`: something presses on the sensor and its signal drops by a share at an unchanged blood glucose, for minutes to
//!   an hour. The estimate of blood in this mode is what it would be without the pressure.
//! - `unsettled`: first day, dropouts, jumps: a reading says little.
//!
//! # Source
//! Blom and Bar-Shalom, "The interacting multiple model algorithm for systems with Markovian switching coefficients", IEEE
//! Trans. Automatic Control 1988;33(8):780-783. Pressed sensors: Baysal et al., J Diabetes Sci Technol 2014;8:1091-1096. No
//! published distribution of depth, onset or duration was found: those numbers are assumptions.

use nalgebra::Matrix3;

use super::Modes;
use super::dynamics::{BLOOD, Discretizations, Dynamics, INTERSTITIAL, PRESS, State};
use super::filter::{Gaussian, Innovation, PressStep, sensor_measurement_row};
use crate::normal;

/// Index of `clear`.
pub const CLEAR: usize = 0;
/// Index of `pressed`.
pub const COMPRESSION: usize = 1;
/// Index of `unsettled`.
pub const UNSETTLED: usize = 2;
/// How many modes there are.
pub const MODES: usize = 3;

/// How often the sensor changes mode, as chances an hour, and how long it stays, in minutes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ModeSwitching {
    /// Chance an hour that a clear sensor becomes pressed.
    pub compressions_per_hour: f64,
    /// Mean duration of a pressed spell.
    pub compression_minutes: f64,
    /// Chance an hour that a clear sensor becomes unsettled.
    pub unsettled_per_hour: f64,
    /// Mean duration of an unsettled spell.
    pub unsettled_minutes: f64,
}

/// What is known of the wearer and the sensor that bears on its mode.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Circumstances {
    /// Lying down: within the wearer's night, or in logged sleep.
    pub asleep: bool,
    /// Spells found pressed on this site, per night worn ([`super::sites::Sites`]); nothing if it is new or unknown.
    pub compression_lows_per_night_here: Option<f64>,
    /// Hours since the sensor was put in; nothing if unknown.
    pub sensor_hours: Option<f64>,
    /// The readings have moved fast in one direction for a while, which neither noise nor pressure does.
    pub moves_fast: bool,
}

impl ModeSwitching {
    /// Spells a night of eight hours, unless the site's own record says otherwise. Baysal et al. 2014 labelled about 3 % of
    /// night readings as pressed: at half an hour a spell, some 0.5 a night; a little more, as the shortest are hardly labelled
    /// (assumption).
    pub(crate) const COMPRESSIONS_PER_NIGHT: f64 = 0.7;

    /// The rates under the circumstances.
    #[must_use]
    pub fn under(circumstances: &Circumstances) -> Self {
        let per_night =
            circumstances.compression_lows_per_night_here.unwrap_or(Self::COMPRESSIONS_PER_NIGHT).clamp(0.1, 3.0);
        let compressions_per_hour =
            per_night / if circumstances.asleep { SPELLS_OVER_HOURS.0 } else { SPELLS_OVER_HOURS.1 };
        let unsettled_per_hour = match circumstances.sensor_hours {
            Some(hours) if hours < FIRST_DAY_HOURS => UNSETTLED_PER_HOUR.0,
            _ => UNSETTLED_PER_HOUR.1,
        };
        Self {
            compressions_per_hour,
            compression_minutes: COMPRESSION_MINUTES,
            unsettled_per_hour,
            unsettled_minutes: UNSETTLED_MINUTES,
        }
    }

    /// The chance of each mode (second index) after a time, from each mode (first index).
    ///
    /// # Formula
    /// `exp(Q t)` of the continuous-time Markov chain whose generator `Q` holds the rates above. However long the gap, it
    /// tends to what the modes are worth on average; no mode becomes certain or impossible.
    #[must_use]
    pub(crate) fn transition_matrix(&self, minutes: f64) -> [[f64; MODES]; MODES] {
        let (compression, unsettled) = (self.compressions_per_hour / 60.0, self.unsettled_per_hour / 60.0);
        let (released, settled) = (1.0 / self.compression_minutes, 1.0 / self.unsettled_minutes);
        #[rustfmt::skip]
        let generator = Matrix3::new(
            -(compression + unsettled), compression, unsettled,
            released, -released, 0.0,
            settled, 0.0, -settled,
        );
        // After a day the chain has forgotten where it was.
        let moved = (generator * minutes.clamp(0.0, 1440.0)).exp();
        std::array::from_fn(|from| std::array::from_fn(|to| moved[(from, to)].max(0.0)))
    }
}

/// Mean duration of a pressed spell, in minutes (assumption).
pub(crate) const COMPRESSION_MINUTES: f64 = 30.0;

/// How a pressed sensor drops.
pub mod press {
    /// Mean share of the signal lost (assumption).
    pub const DEPTH: f64 = 0.4;
    /// Standard deviation of that share (assumption).
    pub const DEPTH_SD: f64 = 0.13;
    /// Time constant of the drop, in minutes (assumption).
    pub const ONSET_MINUTES: f64 = 4.0;
    /// Time constant of the recovery, in minutes (assumption).
    pub const RECOVERY_MINUTES: f64 = 4.0;
}

/// White noise of a reading in the unsettled mode, standard deviation in mg/dL.
pub const UNSETTLED_SD_MG_DL: f64 = 20.0;
/// How far a sensor's own bias may put blood from where the readings have it, standard deviation in mg/dL (assumption): a check
/// that far off does not speak against a mode yet.
pub const BIAS_ALLOWED_MG_DL: f64 = 10.0;
/// The spells of a night come in so many hours asleep, and awake, when one seldom leans on a sensor and not for long (assumption).
const SPELLS_OVER_HOURS: (f64, f64) = (8.0, 80.0);
/// Unsettled spells in an hour: on a sensor's first day, later (assumption).
const UNSETTLED_PER_HOUR: (f64, f64) = (0.2, 0.006);
/// The first day of a sensor is unreliable, in hours (common practice, no source).
pub const FIRST_DAY_HOURS: f64 = 24.0;
/// The share of a meter's value, or of [`METER_LEVEL_MG_DL`] below it, within which 95 % of its values lie.
///
/// Source: ISO 15197:2013: within 15 mg/dL below 100 mg/dL and within 15 % above.
const METER_WITHIN: f64 = 0.15;
/// See [`METER_WITHIN`].
const METER_LEVEL_MG_DL: f64 = 100.0;
/// So many standard deviations either side hold 95 % of a normal distribution.
const SDS_OF_95_PERCENT: f64 = 1.96;
/// Mean duration of an unsettled spell, in minutes.
const UNSETTLED_MINUTES: f64 = 15.0;
/// A mode below this share of a mixture adds nothing measurable.
pub const NO_WEIGHT: f64 = 1e-6;
/// Squared standard deviations up to which an observation is taken at its word. The larger, the sooner a wild reading speaks
/// for a mode that expected it.
pub const INNOVATION_GATE: f64 = 12.0;

/// While readings move fast in one direction the noise of glucose is multiplied by this, so that the estimate follows; and the sensor that
/// follows glucose is so many times likelier. Both chosen on invented falls of 3 to 6 mg/dL/min, and kept as they leave the forecasts of
/// AZT1D, BrisT1D and PhysioCGM as they were.
const FAST_NOISE: f64 = 10.0;
const FAST_IS_CLEAR: f64 = 200.0;

/// The three states and their chances.
#[derive(Clone, Debug, PartialEq)]
pub struct ImmFilter {
    gaussians: [Gaussian; MODES],
    chances: [f64; MODES],
}

impl ImmFilter {
    /// Begins from a first reading, in mg/dL.
    #[must_use]
    pub fn begin(dynamics: &Dynamics, reading_mg_dl: f64) -> Self {
        let (mean, covariance) = dynamics.prior(reading_mg_dl);
        let gaussian = Gaussian { mean, covariance };
        Self { gaussians: [gaussian.clone(), gaussian.clone(), gaussian], chances: [0.97, 0.01, 0.02] }
    }

    /// Moves all modes over a time, with the known effect on blood glucose in mg/dL/min ([`Gaussian::predict`]).
    pub fn predict(
        &mut self,
        steps: &mut Discretizations,
        minutes: f64,
        input_mg_dl_min: f64,
        circumstances: &Circumstances,
    ) {
        if minutes <= 0.0 {
            return;
        }
        self.mix(&ModeSwitching::under(circumstances).transition_matrix(minutes));
        let level = steps.dynamics().level_mg_dl;
        for step in steps.over(minutes) {
            for (mode, gaussian) in self.gaussians.iter_mut().enumerate() {
                let interstitial = gaussian.mean[INTERSTITIAL] + level;
                let fast = if circumstances.moves_fast { FAST_NOISE } else { 1.0 };
                let noise_at = fast * steps.dynamics().noise_at(interstitial, circumstances.asleep);
                let press = press_step(mode, step.minutes, interstitial);
                *gaussian = gaussian.predict(&step, noise_at, input_mg_dl_min, press);
            }
        }
    }

    /// Updates by a sensor reading in mg/dL, `spacing_minutes` after the last one; returns the clear mode's innovation.
    pub fn read(&mut self, dynamics: &Dynamics, reading_mg_dl: f64, spacing_minutes: f64) -> Innovation {
        let noise = dynamics.white_variance(spacing_minutes);
        let observed = reading_mg_dl - dynamics.level_mg_dl;
        self.take(&sensor_measurement_row(), observed, [noise, noise, UNSETTLED_SD_MG_DL.powi(2)])
    }

    /// Weighs the modes by a meter check, in mg/dL. The states stay those of the readings alone: what a check says of the
    /// sensor's bias is kept elsewhere ([`super::agreement`]), and a difference must not become a slope.
    pub fn weigh(&mut self, dynamics: &Dynamics, meter_mg_dl: f64) {
        let noise = meter_variance(meter_mg_dl) + BIAS_ALLOWED_MG_DL.powi(2);
        let log_likelihoods = std::array::from_fn(|mode| {
            let gaussian = &self.gaussians[mode];
            let off = meter_mg_dl - dynamics.level_mg_dl - gaussian.mean[BLOOD];
            let variance = gaussian.covariance[(BLOOD, BLOOD)].max(0.0) + noise;
            -0.5 * (variance.ln() + (off * off / variance).min(INNOVATION_GATE))
        });
        self.reweigh(&log_likelihoods);
    }

    /// The readings moved fast in one direction for a while: noise goes to and fro, and pressure is over within two readings. Each further
    /// one speaks for a sensor that follows glucose, as far as a gated reading cannot say so by itself.
    pub(crate) fn moved_fast(&mut self) {
        self.reweigh(&std::array::from_fn(|mode| if mode == CLEAR { FAST_IS_CLEAR.ln() } else { 0.0 }));
    }

    /// Takes the chances of another filter of the same sensor.
    pub(crate) const fn with_chances_of(&mut self, other: &Self) {
        self.chances = other.chances;
    }

    fn reweigh(&mut self, log_likelihoods: &[f64; MODES]) {
        let weights: [f64; MODES] = std::array::from_fn(|mode| self.chances[mode].ln() + log_likelihoods[mode]);
        let most = weights.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let likely = weights.map(|weight| (weight - most).exp());
        let total: f64 = likely.iter().sum();
        // No mode is ever ruled out: certainty would blind the filter to a change.
        self.chances = likely.map(|weight| (weight / total).clamp(1e-6, 1.0));
        let total: f64 = self.chances.iter().sum();
        self.chances = self.chances.map(|chance| chance / total);
    }

    fn take(&mut self, row: &State, observed: f64, noise: [f64; MODES]) -> Innovation {
        let mut log_likelihoods = [0.0; MODES];
        let mut clear = None;
        for mode in 0..MODES {
            let (gaussian, innovation) = self.gaussians[mode].update(row, observed, noise[mode], INNOVATION_GATE);
            self.gaussians[mode] = gaussian;
            log_likelihoods[mode] = innovation.log_likelihood;
            if mode == CLEAR {
                clear = Some(innovation);
            }
        }
        log_likelihoods[COMPRESSION] += lowers(&self.gaussians[COMPRESSION]).ln();
        self.reweigh(&log_likelihoods);
        clear.unwrap_or(Innovation { mg_dl: 0.0, variance: 1.0, log_likelihood: 0.0 })
    }

    /// The interaction: each mode starts from the mixture of states that could have turned into it.
    fn mix(&mut self, switch: &[[f64; MODES]; MODES]) {
        let mut chances = [0.0; MODES];
        for (to, chance) in chances.iter_mut().enumerate() {
            *chance = (0..MODES).map(|from| self.chances[from] * switch[from][to]).sum();
        }
        let mixed = std::array::from_fn(|to| {
            let weights = std::array::from_fn(|from| self.chances[from] * switch[from][to] / chances[to]);
            moment_match(&self.gaussians, &weights)
        });
        self.gaussians = mixed;
        self.chances = chances;
    }

    /// The chances of the modes.
    #[must_use]
    pub const fn modes(&self) -> Modes {
        Modes { clear: self.chances[CLEAR], compression: self.chances[COMPRESSION], unsettled: self.chances[UNSETTLED] }
    }

    /// The state of one mode.
    #[must_use]
    pub const fn gaussian(&self, mode: usize) -> &Gaussian {
        &self.gaussians[mode]
    }

    /// The state over all modes.
    #[must_use]
    pub fn overall(&self) -> Gaussian {
        moment_match(&self.gaussians, &self.chances)
    }
}

/// A meter's variance at an amount, in (mg/dL)^2.
///
/// # Source
/// ISO 15197:2013, see `METER_WITHIN`.
#[must_use]
pub fn meter_variance(mg_dl: f64) -> f64 {
    (METER_WITHIN * mg_dl.max(METER_LEVEL_MG_DL) / SDS_OF_95_PERCENT).powi(2)
}

/// The chance that what presses on the sensor lowers its signal, by the state of the pressed mode: pressure never raises it, which
/// a Gaussian cannot say by itself.
fn lowers(compression: &Gaussian) -> f64 {
    const LEAST: f64 = 1e-9;
    normal::below(0.0, compression.mean[PRESS], compression.sd(PRESS)).max(LEAST)
}

fn press_step(mode: usize, minutes: f64, interstitial_mg_dl: f64) -> PressStep {
    if mode == COMPRESSION {
        let keep = (-minutes / press::ONSET_MINUTES).exp();
        let level = interstitial_mg_dl.clamp(40.0, 400.0);
        let variance = (1.0 - keep * keep) * (press::DEPTH_SD * level).powi(2);
        PressStep { keep, add: -(1.0 - keep) * press::DEPTH * level, variance }
    } else {
        PressStep { keep: (-minutes / press::RECOVERY_MINUTES).exp(), add: 0.0, variance: 0.0 }
    }
}

/// One Gaussian with the mean and covariance of a mixture.
fn moment_match(gaussians: &[Gaussian; MODES], weights: &[f64; MODES]) -> Gaussian {
    let mut mean = State::zeros();
    for (gaussian, weight) in gaussians.iter().zip(weights) {
        mean += gaussian.mean * *weight;
    }
    let mut covariance = super::dynamics::Matrix::zeros();
    for (gaussian, weight) in gaussians.iter().zip(weights) {
        // Skipping what carries no weight saves most of the mixing in a quiet night.
        if *weight > NO_WEIGHT {
            let apart = gaussian.mean - mean;
            covariance += (gaussian.covariance + apart * apart.transpose()) * *weight;
        }
    }
    Gaussian { mean, covariance }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rates as they are by night: a clear sensor leaves as often as it comes back.
    #[test]
    fn switching_is_a_markov_chain_over_any_time() {
        let switching = ModeSwitching::under(&Circumstances { asleep: true, ..Circumstances::default() });
        let times = |a: [[f64; MODES]; MODES], b: [[f64; MODES]; MODES]| -> [[f64; MODES]; MODES] {
            std::array::from_fn(|i| std::array::from_fn(|j| (0..MODES).map(|k| a[i][k] * b[k][j]).sum()))
        };
        let five = switching.transition_matrix(5.0);
        let (chained, ten) = (times(five, five), switching.transition_matrix(10.0));
        for (row, expected) in chained.iter().zip(&ten) {
            assert!((row.iter().sum::<f64>() - 1.0).abs() < 1e-12, "{row:?}");
            assert!(row.iter().zip(expected).all(|(one, other)| (one - other).abs() < 1e-12), "{row:?} {expected:?}");
        }
        // Flow in and out of clear balances: pressed : clear = rate in : rate out.
        for row in switching.transition_matrix(1e7) {
            let shares = (row[COMPRESSION] / row[CLEAR], row[UNSETTLED] / row[CLEAR]);
            let expected = (
                switching.compressions_per_hour / 60.0 * switching.compression_minutes,
                switching.unsettled_per_hour / 60.0 * switching.unsettled_minutes,
            );
            assert!((shares.0 - expected.0).abs() < 1e-9 && (shares.1 - expected.1).abs() < 1e-9, "{row:?}");
        }
    }

    /// A log may be taken up again after years.
    #[test]
    fn no_gap_is_too_long() {
        let dynamics = Dynamics::POPULATION;
        let (mut steps, mut filter) = (Discretizations::new(dynamics), ImmFilter::begin(&dynamics, 120.0));
        for minutes in [5.0, 300.0, 1e5, 6e5, 5e7] {
            filter.predict(&mut steps, minutes, 0.0, &Circumstances::default());
            filter.read(&dynamics, 90.0, 5.0);
            let Modes { clear, compression, unsettled } = filter.modes();
            assert!((clear + compression + unsettled - 1.0).abs() < 1e-12, "{minutes}: {:?}", filter.modes());
            assert!(filter.overall().mean.iter().all(|x| x.is_finite()), "{minutes}");
            assert!((0..MODES).all(|mode| filter.gaussian(mode).covariance.iter().all(|x| x.is_finite())), "{minutes}");
        }
    }
}
