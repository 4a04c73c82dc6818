//! Wearers drawn from core's own model, so that the truth behind every reading is known.
//!
//! A path of the state is drawn by the model's exact steps, five minutes or another spacing apart, after two days that are not
//! kept; a reading is its interstitial glucose with the sensor's coloured error, offset and white noise. What a sensor would not
//! report (outside 40 to 400 mg/dL) is left out. Nothing in it eats or injects: it shows whether core's arithmetic is right about
//! a world that is as core supposes, not whether the world is so. The generator and its seed fix every draw.

use ebbstead_core::estimate::dynamics::{BLOOD, Dynamics, INTERSTITIAL, Matrix, OFFSET, PRESS, STATES, State};
use ebbstead_core::estimate::filter::sensor_measurement_row;
use ebbstead_core::estimate::modes::meter_variance;
use ebbstead_core::log::{History, MeterCheck, Reading};
use ebbstead_core::time::Moment;
use ebbstead_core::units::Glucose;
use ebbstead_core::wearer::Wearer;
use rand_core::Rng;
use rand_pcg::Pcg64;

/// What is drawn.
#[derive(Clone, Copy, Debug)]
pub struct Draw {
    /// The dynamics.
    pub dynamics: Dynamics,
    /// Days.
    pub days: f64,
    /// Minutes between two readings.
    pub spacing_minutes: f64,
    /// Readings between two meter checks, which err as ISO 15197 allows; 0 for none.
    pub meter_every: usize,
    /// The seed.
    pub seed: u64,
}

/// What was drawn.
#[derive(Clone, Debug, Default)]
pub struct Drawn {
    /// Readings and meter checks.
    pub history: History,
    /// Blood glucose at each reading, in mg/dL.
    pub blood_mg_dl: Vec<f64>,
}

/// Days drawn before the first that is kept.
const SETTLING_DAYS: f64 = 2.0;
/// What a sensor reports, in mg/dL.
const REPORTED_MG_DL: std::ops::RangeInclusive<f64> = 40.0..=400.0;
/// 1 March 2026, midnight, in an offset of one hour.
const MIDNIGHT_MS: i64 = 1_772_319_600_000;

impl Draw {
    /// A wearer whose glucose stays where a sensor reports it: calmer than the population, at a middling level.
    #[must_use]
    pub fn calm(days: f64, seed: u64) -> Self {
        let dynamics = Dynamics { level_mg_dl: 125.0, blood_noise: 2.0, rate_noise: 0.07, ..Dynamics::POPULATION };
        Self { dynamics, days, spacing_minutes: 5.0, meter_every: 0, seed }
    }

    /// Draws.
    ///
    /// # Errors
    /// What core says of a time or an amount that no log can hold; there is none for finite dynamics and fewer than 100,000 days.
    pub fn draw(&self) -> ebbstead_core::Result<Drawn> {
        let mut random = Random(Pcg64::new(u128::from(self.seed), 20_260_301));
        let (dynamics, step) = (&self.dynamics, self.dynamics.step(self.spacing_minutes));
        let (glucose, sensor) = (root(&step.glucose_noise), root(&step.sensor_noise));
        let mut transition = step.transition;
        transition[(PRESS, PRESS)] = 0.0;
        let night = Wearer::default().night;
        let begin = Moment::new(MIDNIGHT_MS, 60)?;
        let mut state = State::zeros();
        state[OFFSET] = dynamics.offset_sd_mg_dl * random.normal();
        let mut drawn = Drawn::default();
        let mut minute = -SETTLING_DAYS * 1440.0;
        while minute < self.days * 1440.0 {
            let at = begin.plus_minutes(minute);
            let noise = dynamics.noise_at(state[INTERSTITIAL] + dynamics.level_mg_dl, night.contains(at));
            state = transition * state + glucose * random.state() * noise.sqrt() + sensor * random.state();
            minute += self.spacing_minutes;
            let reading =
                sensor_measurement_row().dot(&state) + dynamics.level_mg_dl + dynamics.white_sd_mg_dl * random.normal();
            let blood = state[BLOOD] + dynamics.level_mg_dl;
            if minute < 0.0 || !REPORTED_MG_DL.contains(&reading) || !REPORTED_MG_DL.contains(&blood) {
                continue;
            }
            let at = begin.plus_minutes(minute);
            drawn.history.readings.push(Reading::new(at, Glucose::from_mg_dl(reading)?));
            drawn.blood_mg_dl.push(blood);
            if self.meter_every > 0 && drawn.blood_mg_dl.len().is_multiple_of(self.meter_every) {
                let shown = blood + meter_variance(blood).sqrt() * random.normal();
                let glucose = Glucose::from_mg_dl(shown.clamp(20.0, 600.0))?;
                drawn.history.meter_checks.push(MeterCheck::new(at, glucose));
            }
        }
        Ok(drawn)
    }
}

/// A matrix whose square is a covariance; rows of no variance stay empty.
fn root(covariance: &Matrix) -> Matrix {
    // The least jitter that a singular matrix needs: a millionth of a mg/dL.
    (covariance + Matrix::identity() * 1e-12).cholesky().map_or_else(Matrix::zeros, |factor| factor.l())
}

/// Random numbers from a seed, the same on every platform.
pub(crate) struct Random(pub(crate) Pcg64);

impl Random {
    /// Between 0 and 1.
    // The casts fit: 53 bits fit.
    pub(crate) fn uniform(&mut self) -> f64 {
        ((self.0.next_u64() >> 11) as f64 + 0.5) * (1.0 / 9_007_199_254_740_992.0)
    }

    /// A standard normal draw (Box and Muller, Annals of Mathematical Statistics 1958;29:610-611).
    pub(crate) fn normal(&mut self) -> f64 {
        (-2.0 * self.uniform().ln()).sqrt() * (std::f64::consts::TAU * self.uniform()).cos()
    }

    fn state(&mut self) -> State {
        let mut state = State::zeros();
        (0..STATES).for_each(|k| state[k] = self.normal());
        state
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_seed_draws_the_same_and_the_truth_is_beside_every_reading() {
        let draw = Draw { meter_every: 50, ..Draw::calm(2.0, 7) };
        let (one, other) = (draw.draw().unwrap(), draw.draw().unwrap());
        assert_eq!(one.history, other.history);
        assert_eq!(one.history.readings.len(), one.blood_mg_dl.len());
        assert!(one.history.readings.len() > 550 && one.history.meter_checks.len() == one.blood_mg_dl.len() / 50);
        assert_ne!(one.history, Draw { seed: 8, ..draw }.draw().unwrap().history);
    }

    /// The sensor's error has the standard deviation that the model gives it: of the coloured part and the offset together.
    #[test]
    fn the_error_is_as_large_as_the_model_says() {
        let draw = Draw::calm(120.0, 3);
        let drawn = draw.draw().unwrap();
        let errors: Vec<f64> = drawn
            .history
            .readings
            .iter()
            .zip(&drawn.blood_mg_dl)
            .map(|(read, blood)| read.glucose.mg_dl() - blood)
            .collect();
        let (count, mean) = (errors.len() as f64, errors.iter().sum::<f64>() / errors.len() as f64);
        let sd = (errors.iter().map(|error| (error - mean).powi(2)).sum::<f64>() / count).sqrt();
        let expected = (draw.dynamics.error_sd_mg_dl.powi(2) + draw.dynamics.offset_sd_mg_dl.powi(2)).sqrt();
        // The lag adds to it what glucose moves in nine minutes, more where a rate lasts longer.
        assert!((0.95..1.35).contains(&(sd / expected)), "{sd} {expected}");
    }
}
