//! From blood to the fluid under the skin, which is where a sensor reads.
//!
//! # Formula
//! `d IG / dt = (BG - IG) / tau`: interstitial glucose `IG` follows blood glucose `BG` with time constant `tau`. Both in
//! mg/dL, times in minutes, rates in mg/dL/min.
//!
//! # Source
//! The model: Rebrin K, Steil GM, et al., Am J Physiol 1999;277:E561-E571. It is a first-order lag, not a pure delay:
//! Cobelli C, Schiavon M, Dalla Man C, et al., Diabetes Technol Ther 2016;18:505-511.

/// Time constant of the physiology alone, in minutes.
///
/// # Source
/// Glucose tracers took 5.3 to 6.2 min from blood to interstitial fluid in healthy fasted adults: Basu A, et al., Diabetes
/// 2013;62:4083-4087.
pub const PHYSIOLOGY_MINUTES: f64 = 6.0;

/// Time constant of physiology and sensor together, in minutes, as a person meets it.
///
/// # Source
/// Common practice, no source ("about ten minutes behind as a whole"); sensors in type 1 diabetes were 4 to 10 min
/// behind: Boyne MS, et al., Diabetes 2003;52:2790-2794.
pub const WHOLE_MINUTES: f64 = 10.0;

/// A first-order lag with its time constant.
///
/// # Example
/// ```
/// use ebbstead_engine::body::lag::Lag;
/// // The sensor reads 80 and falls by 2 mg/dL/min: with a lag of 10 minutes blood is near 60 already.
/// let lag = Lag::of_minutes(10.0).unwrap();
/// assert_eq!(lag.blood_mg_dl(80.0, -2.0), 60.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lag {
    tau: f64,
}

impl Lag {
    /// A lag with a time constant in minutes; nothing unless it is above 0 and finite.
    #[must_use]
    pub fn of_minutes(tau_minutes: f64) -> Option<Self> {
        (tau_minutes.is_finite() && tau_minutes > 0.0).then_some(Self { tau: tau_minutes })
    }

    /// The time constant, in minutes.
    #[must_use]
    pub const fn minutes(self) -> f64 {
        self.tau
    }

    /// The share of a step in blood glucose that interstitial glucose has followed after `minutes`: `1 - exp(-t / tau)`.
    #[must_use]
    pub fn followed(self, minutes: f64) -> f64 {
        -(-minutes.max(0.0) / self.tau).exp_m1()
    }

    /// Interstitial glucose after `minutes` of blood glucose that starts at `blood_mg_dl` and moves at a steady rate, in
    /// mg/dL. Exact for any spacing, so steps may be chained.
    ///
    /// # Formula
    /// `IG(t) = BG(t) - r tau + (IG(0) - BG(0) + r tau) exp(-t / tau)`, with `BG(t) = BG(0) + r t`.
    #[must_use]
    pub fn interstitial_mg_dl(
        self,
        interstitial_mg_dl: f64,
        blood_mg_dl: f64,
        rate_mg_dl_min: f64,
        minutes: f64,
    ) -> f64 {
        let t = minutes.max(0.0);
        let steady = self.steady_offset_mg_dl(rate_mg_dl_min);
        blood_mg_dl + rate_mg_dl_min * t + steady + (interstitial_mg_dl - blood_mg_dl - steady) * (-t / self.tau).exp()
    }

    /// Interstitial less blood glucose once a steady rate has lasted, in mg/dL: `-r tau`. A fall makes it positive: the
    /// sensor reads high.
    #[must_use]
    fn steady_offset_mg_dl(self, rate_mg_dl_min: f64) -> f64 {
        -rate_mg_dl_min * self.tau
    }

    /// Blood glucose from interstitial glucose and its rate, in mg/dL: `BG = IG + tau d IG / dt`.
    ///
    /// Noise in the rate comes out multiplied by `tau`; the estimator weighs it, this does not.
    #[must_use]
    pub fn blood_mg_dl(self, interstitial_mg_dl: f64, interstitial_rate_mg_dl_min: f64) -> f64 {
        interstitial_mg_dl + self.tau * interstitial_rate_mg_dl_min
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lag(minutes: f64) -> Lag {
        Lag::of_minutes(minutes).unwrap()
    }

    fn near(got: f64, expected: f64, within: f64) {
        assert!((got - expected).abs() <= within, "{got} is not {expected} within {within}");
    }

    /// Computed from the published equation with blood at 100 + r t and both equal at the start.
    #[test]
    fn a_ramp_leads_the_sensor_astray_as_the_equation_says() {
        for (tau, rate, minutes, interstitial) in [
            (6.0, -2.0, 15.0, 81.015),
            (6.0, -2.0, 30.0, 51.919),
            (10.0, -2.0, 10.0, 92.642),
            (10.0, -2.0, 15.0, 85.537),
            (10.0, -2.0, 30.0, 59.004),
            (10.0, 2.0, 30.0, 140.996),
        ] {
            near(lag(tau).interstitial_mg_dl(100.0, 100.0, rate, minutes), interstitial, 5e-4);
        }
        near(lag(10.0).steady_offset_mg_dl(-2.0), 20.0, 1e-12);
    }

    #[test]
    fn a_step_is_followed_as_a_first_order_lag_does() {
        near(lag(6.0).followed(6.0), 0.632, 5e-4);
        near(lag(6.0).followed(13.82), 0.9, 5e-4);
        near(lag(10.0).followed(23.03), 0.9, 5e-4);
        near(lag(10.0).interstitial_mg_dl(100.0, 200.0, 0.0, 10.0), 163.2, 0.05);
        assert!(lag(10.0).followed(-3.0).abs() < 1e-12);
    }

    #[test]
    fn blood_is_found_again_behind_a_falling_sensor() {
        near(lag(10.0).blood_mg_dl(80.0, -2.0), 60.0, 1e-12);
        near(lag(6.0).blood_mg_dl(80.0, -2.0), 68.0, 1e-12);
    }

    /// A sine of 120 min, fed in linear pieces: gain and delay of a first-order lag are textbook control theory.
    #[test]
    fn a_sine_comes_out_smaller_and_later() {
        for (tau, gain, delay) in [(6.0, 0.9540, 5.81), (10.0, 0.8859, 9.21)] {
            let wave = |t: f64| (2.0 * std::f64::consts::PI * t / 120.0).sin() * 50.0 + 150.0;
            let (step, mut interstitial) = (0.05, 150.0);
            let (mut top, mut top_at) = (0.0_f64, 0.0);
            for k in 0..12_000_u32 {
                let t = f64::from(k) * step;
                let rate = (wave(t + step) - wave(t)) / step;
                interstitial = lag(tau).interstitial_mg_dl(interstitial, wave(t), rate, step);
                if t > 480.0 && interstitial > top {
                    (top, top_at) = (interstitial, t + step);
                }
            }
            near((top - 150.0) / 50.0, gain, 2e-4);
            near((top_at - 510.0).rem_euclid(120.0), delay, 0.06);
        }
    }

    /// Chained steps of any length give what one step gives.
    #[test]
    fn spacing_does_not_matter() {
        let (whole, mut pieces, mut blood) = (lag(10.0).interstitial_mg_dl(140.0, 120.0, -1.5, 40.0), 140.0, 120.0);
        for minutes in [1.0, 4.0, 15.0, 0.5, 19.5] {
            pieces = lag(10.0).interstitial_mg_dl(pieces, blood, -1.5, minutes);
            blood -= 1.5 * minutes;
        }
        near(pieces, whole, 1e-9);
    }

    #[test]
    fn a_lag_without_length_is_none() {
        for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(Lag::of_minutes(bad).is_none());
        }
    }
}
