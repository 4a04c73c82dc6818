//! How far the sensor stands from blood, learnt from meter checks.
//!
//! The filter sees readings alone. What a meter check adds is a *difference*: blood by the meter less blood by the readings.
//! A difference is never taken for a slope; it is a bias that stays while a sensor is worn, and an error that passes within
//! hours. How large either is differs from sensor to sensor, so several sizes are carried side by side and the checks decide
//! between them (a bank of Kalman filters weighed by their likelihoods).
//!
//! # Formula
//! With `s = max(G, 90) / 100` at a glucose of `G` mg/dL, since errors grow with glucose:
//! ```text
//! meter - readings = s b + e - c d + v   v: ISO 15197; d: by how much the delay was taken out of the newest reading
//! bias   db = -b / 5 days dt  + noise   standard deviation one of BIAS_SD
//! error  de = -e / 45 min dt  + noise   variance one of ERROR_SHARE times that of the readings' own estimate
//! delay  c, one of DELAY_SHARE: some devices take part of the delay out themselves before they show a reading
//! ```
//!
//! # Source
//! Multiple-model estimation: Magill, IEEE Trans. Automatic Control 1965;10(4):434-439 (from memory). That a sensor's error
//! has a part that stays within a wear: Facchinetti et al., IEEE TBME 2014;61(3):620-629. The sizes and times are
//! assumptions, chosen so that the interval without any check holds on virtual wearers.

use super::modes::{INNOVATION_GATE, meter_variance};
use crate::time::Moment;

/// Standard deviations of the bias, in mg/dL at 100 mg/dL, and how likely each is before any check.
const BIAS_SD: [(f64, f64); 4] = [(1.0, 0.50), (7.0, 0.33), (18.0, 0.13), (36.0, 0.04)];
/// The passing error's variance, as a multiple of that of the readings' own estimate, and how likely each is before any check.
const ERROR_SHARE: [(f64, f64); 4] = [(0.5, 0.20), (1.0, 0.30), (3.0, 0.32), (9.0, 0.18)];
/// The share of the delay that the device takes out itself, and how likely each is before any check.
const DELAY_SHARE: [(f64, f64); 3] = [(0.0, 0.25), (0.5, 0.25), (1.0, 0.5)];
const HYPOTHESES: usize = BIAS_SD.len() * ERROR_SHARE.len() * DELAY_SHARE.len();
/// Time constant of the bias, in minutes.
const BIAS_MINUTES: f64 = 5.0 * 1440.0;
/// Time constant of the passing error, in minutes.
const ERROR_MINUTES: f64 = 45.0;

/// One size of bias and error, and what the checks made of them: a Gaussian over both.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Hypothesis {
    weight: f64,
    bias_variance: f64,
    error_share: f64,
    delay_share: f64,
    mean: [f64; 2],
    /// Variance of the bias, covariance, variance of the error.
    covariance: [f64; 3],
}

/// What the checks say of the sensor.
#[derive(Clone, Debug, PartialEq)]
pub struct Agreement {
    hypotheses: [Hypothesis; HYPOTHESES],
    at: Option<Moment>,
    checks: usize,
}

/// What the readings say of blood at a moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ByReadings {
    /// Blood glucose with the delay taken out, in mg/dL.
    pub blood_mg_dl: f64,
    /// Its variance, the sensor's own error included.
    pub variance: f64,
    /// By how much taking the delay out moved it, in mg/dL.
    pub delay_mg_dl: f64,
}

/// Blood less the readings' estimate of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Difference {
    /// Expected, in mg/dL.
    pub mean_mg_dl: f64,
    /// Variance of what is left in doubt, the readings' own uncertainty included, in (mg/dL)^2.
    pub variance: f64,
    /// The part of the mean that is the sensor's error, the delay left alone, in mg/dL.
    pub error_mg_dl: f64,
    /// The part of the variance that is the sensor's bias.
    pub bias_variance: f64,
}

impl Default for Agreement {
    fn default() -> Self {
        let hypotheses = std::array::from_fn(|k| {
            let (bias_sd, bias_weight) = BIAS_SD[k / (ERROR_SHARE.len() * DELAY_SHARE.len())];
            let (error_share, error_weight) = ERROR_SHARE[k / DELAY_SHARE.len() % ERROR_SHARE.len()];
            let (delay_share, delay_weight) = DELAY_SHARE[k % DELAY_SHARE.len()];
            Hypothesis {
                weight: bias_weight * error_weight * delay_weight,
                bias_variance: bias_sd * bias_sd,
                error_share,
                delay_share,
                mean: [0.0; 2],
                covariance: [bias_sd * bias_sd, 0.0, 0.0],
            }
        });
        Self { hypotheses, at: None, checks: 0 }
    }
}

impl Agreement {
    /// Takes the difference of a check to what the readings say.
    pub fn update(&mut self, at: Moment, meter_mg_dl: f64, readings: &ByReadings) {
        self.predict(at, readings.variance);
        let scale = scale(readings.blood_mg_dl);
        let difference = meter_mg_dl - readings.blood_mg_dl;
        let noise = meter_variance(meter_mg_dl);
        for one in &mut self.hypotheses {
            one.weight *= one.update(difference + one.delay_share * readings.delay_mg_dl, scale, noise);
        }
        let total: f64 = self.hypotheses.iter().map(|one| one.weight).sum();
        for one in &mut self.hypotheses {
            // No size is ever ruled out: the next sensor may be another.
            one.weight = if total > 0.0 { (one.weight / total).max(1e-6) } else { 1.0 / HYPOTHESES as f64 };
        }
        self.checks += 1;
    }

    /// A new sensor: its bias is its own, what sizes of error this wearer's sensors have stays known.
    pub(crate) fn new_sensor(&mut self) {
        for one in &mut self.hypotheses {
            (one.mean, one.covariance) = ([0.0; 2], [one.bias_variance, 0.0, 0.0]);
        }
        self.at = None;
    }

    /// How many checks it rests on.
    #[must_use]
    pub const fn checks(&self) -> usize {
        self.checks
    }

    /// Blood less the readings' estimate at a moment.
    #[must_use]
    pub fn difference(&self, at: Moment, readings: &ByReadings) -> Difference {
        let mut moved = self.clone();
        moved.predict(at, readings.variance);
        let scale = scale(readings.blood_mg_dl);
        let of = |one: &Hypothesis| {
            let mean = scale * one.mean[0] + one.mean[1] - one.delay_share * readings.delay_mg_dl;
            let [bias, both, error] = one.covariance;
            (mean, scale * scale * bias + 2.0 * scale * both + error, scale * scale * bias)
        };
        let total: f64 = moved.hypotheses.iter().map(|one| one.weight).sum();
        let mean = moved.hypotheses.iter().map(|one| one.weight * of(one).0).sum::<f64>() / total;
        let (mut variance, mut bias_variance, mut error_mg_dl) = (0.0, 0.0, 0.0);
        for one in &moved.hypotheses {
            error_mg_dl += one.weight * (scale * one.mean[0] + one.mean[1]) / total;
            let (own, own_variance, bias) = of(one);
            variance += one.weight * (own_variance + (own - mean).powi(2)) / total;
            bias_variance += one.weight * bias / total;
        }
        Difference { mean_mg_dl: mean, variance, error_mg_dl, bias_variance }
    }

    fn predict(&mut self, at: Moment, readings_variance: f64) {
        let minutes = self.at.map_or(f64::INFINITY, |before| at.minutes_since(before).max(0.0));
        let (bias, error) = ((-minutes / BIAS_MINUTES).exp(), (-minutes / ERROR_MINUTES).exp());
        for one in &mut self.hypotheses {
            one.mean = [one.mean[0] * bias, one.mean[1] * error];
            let [p, q, r] = one.covariance;
            let error_variance = one.error_share * readings_variance;
            one.covariance = [
                p * bias * bias + one.bias_variance * (1.0 - bias * bias),
                q * bias * error,
                r * error * error + error_variance * (1.0 - error * error),
            ];
        }
        self.at = Some(self.at.map_or(at, |before| before.max(at)));
    }
}

impl Hypothesis {
    /// A Kalman update with the row `[scale, 1]`; returns the likelihood of what was observed.
    fn update(&mut self, observed: f64, scale: f64, noise: f64) -> f64 {
        let [p, q, r] = self.covariance;
        let shared = [scale * p + q, scale * q + r];
        let innovation = observed - scale * self.mean[0] - self.mean[1];
        let expected = scale * shared[0] + shared[1] + noise;
        let distance = innovation * innovation / expected;
        let variance =
            if distance > INNOVATION_GATE { expected * (distance / INNOVATION_GATE).sqrt() } else { expected };
        let gain = shared.map(|one| one / variance);
        self.mean = [self.mean[0] + gain[0] * innovation, self.mean[1] + gain[1] * innovation];
        self.covariance = [p - gain[0] * shared[0], q - gain[0] * shared[1], r - gain[1] * shared[1]];
        (-0.5 * innovation * innovation / variance).exp() / variance.sqrt()
    }
}

/// How errors grow with glucose: as they are at 90 mg/dL below it, in proportion above.
fn scale(mg_dl: f64) -> f64 {
    mg_dl.clamp(90.0, 400.0) / 100.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(hours: f64) -> Moment {
        Moment::parse("2026-03-01T00:00:00+01:00").unwrap().plus_minutes(60.0 * hours)
    }

    fn readings(mg_dl: f64) -> ByReadings {
        ByReadings { blood_mg_dl: mg_dl, variance: 120.0, delay_mg_dl: 0.0 }
    }

    #[test]
    fn a_bias_that_stays_is_found_and_one_wild_check_is_not_a_bias() {
        let mut steady = Agreement::default();
        for k in 0..12 {
            steady.update(at(6.0 * f64::from(k)), 130.0, &readings(100.0));
        }
        let difference = steady.difference(at(72.0), &readings(100.0));
        assert!((difference.mean_mg_dl - 30.0).abs() < 6.0, "{difference:?}");
        let mut wild = Agreement::default();
        for k in 0..12 {
            wild.update(at(6.0 * f64::from(k)), if k == 6 { 160.0 } else { 100.0 }, &readings(100.0));
        }
        assert!(wild.difference(at(72.0), &readings(100.0)).mean_mg_dl.abs() < 4.0);
    }

    /// A device that takes the delay out itself is found out by checks made while glucose moves.
    #[test]
    fn a_device_that_has_no_delay_is_found_out() {
        let mut agreement = Agreement::default();
        let moving = |delay_mg_dl| ByReadings { blood_mg_dl: 120.0, variance: 60.0, delay_mg_dl };
        for k in 0..16 {
            let delay = if k % 2 == 0 { -25.0 } else { 25.0 };
            agreement.update(at(6.0 * f64::from(k)), 120.0 - delay, &moving(delay));
        }
        let difference = agreement.difference(at(96.0), &moving(-25.0));
        assert!(difference.mean_mg_dl > 18.0 && difference.error_mg_dl.abs() < 5.0, "{difference:?}");
    }

    /// A lower meter check never says that blood is higher; further off than this a check is to be repeated.
    #[test]
    fn a_lower_check_means_lower_blood() {
        let mut before = f64::NEG_INFINITY;
        for meter in 4..=30 {
            let mut agreement = Agreement::default();
            agreement.update(at(0.0), f64::from(meter) * 10.0, &readings(120.0));
            let after = agreement.difference(at(0.2), &readings(120.0)).mean_mg_dl;
            assert!(after >= before, "{meter}: {after} < {before}");
            before = after;
        }
    }

    #[test]
    fn what_was_found_fades_and_a_new_sensor_starts_anew() {
        let mut agreement = Agreement::default();
        for k in 0..6 {
            agreement.update(at(6.0 * f64::from(k)), 130.0, &readings(100.0));
        }
        let near = agreement.difference(at(31.0), &readings(100.0));
        let far = agreement.difference(at(24.0 * 30.0), &readings(100.0));
        assert!(far.mean_mg_dl < 0.2 * near.mean_mg_dl && far.variance > near.variance);
        agreement.new_sensor();
        assert!(agreement.difference(at(31.0), &readings(100.0)).mean_mg_dl.abs() < 1e-9);
    }
}
