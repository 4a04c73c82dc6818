//! Rapid insulin, from under the skin to its effect on glucose.
//!
//! Times are minutes since the dose. Before the dose nothing has happened: all of it is left, none of it acts.
//!
//! # Formula
//! Two depot compartments, plasma, and a delayed ("remote") effect, for a dose `u0`:
//! `dS1/dt = -S1 / tmax`, `dS2/dt = (S1 - S2) / tmax`, absorption `S2 / tmax`,
//! `dI/dt = absorption / VI - ke I`, `dx/dt = ka (S I - x)`. Everything below is the closed form of these.
//!
//! # Source
//! Hovorka R, Canonico V, Chassin LJ, et al., Physiol Meas 2004;25:905-920. The values of tmax, VI and ka1 were read in two
//! independent transcriptions of the model; ke, ka2 and ka3 are from memory.

use crate::body::two_compartments_left;
use crate::log::{Dose, InsulinKind};
use crate::time::Moment;

/// When absorption is fastest, in minutes after the dose.
const FASTEST_ABSORPTION_MINUTES: f64 = 55.0;
/// How fast insulin leaves plasma, per minute.
const CLEARANCE_PER_MINUTE: f64 = 0.138;
/// Plasma insulin's volume, in L/kg of body weight.
const VOLUME_L_PER_KG: f64 = 0.12;

/// Insulin's three delayed effects on glucose in the model, by how fast they follow plasma insulin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Effect {
    /// On moving glucose into tissue.
    Transport,
    /// On using glucose up in tissue.
    Disposal,
    /// On holding back the liver's own glucose.
    Production,
}

impl Effect {
    /// How fast the effect follows plasma insulin, per minute.
    #[must_use]
    pub const fn per_minute(self) -> f64 {
        match self {
            Self::Transport => 0.006,
            Self::Disposal => 0.06,
            Self::Production => 0.03,
        }
    }

    /// The share of the effect that happens a minute, `minutes` after the dose; all of it together is 1.
    ///
    /// # Formula
    /// The inverse Laplace transform of `a^2 ke ka / ((s + a)^2 (s + ke) (s + ka))`, with `a = 1 / tmax`.
    #[must_use]
    pub fn action_per_minute(self, minutes: f64) -> f64 {
        let terms = self.terms();
        let t = minutes.max(0.0);
        let action = terms.plasma * (-CLEARANCE_PER_MINUTE * t).exp()
            + terms.remote * (-self.per_minute() * t).exp()
            + (terms.depot + terms.depot_ramp * t) * (-t / FASTEST_ABSORPTION_MINUTES).exp();
        // The terms cancel to nothing at the dose; rounding must not turn that into a negative effect.
        action.max(0.0)
    }

    /// The share of the effect still to come `minutes` after the dose.
    #[must_use]
    pub fn action_left(self, minutes: f64) -> f64 {
        let (terms, tmax) = (self.terms(), FASTEST_ABSORPTION_MINUTES);
        let t = minutes.max(0.0);
        let left = terms.plasma / CLEARANCE_PER_MINUTE * (-CLEARANCE_PER_MINUTE * t).exp()
            + terms.remote / self.per_minute() * (-self.per_minute() * t).exp()
            + tmax * (terms.depot + terms.depot_ramp * (t + tmax)) * (-t / tmax).exp();
        left.clamp(0.0, 1.0)
    }

    /// The partial fractions of the transform.
    fn terms(self) -> Terms {
        let (a, ke, ka) = (1.0 / FASTEST_ABSORPTION_MINUTES, CLEARANCE_PER_MINUTE, self.per_minute());
        let scale = a * a * ke * ka;
        Terms {
            plasma: scale / ((a - ke).powi(2) * (ka - ke)),
            remote: scale / ((a - ka).powi(2) * (ke - ka)),
            depot: -scale * ((ke - a) + (ka - a)) / ((ke - a) * (ka - a)).powi(2),
            depot_ramp: scale / ((ke - a) * (ka - a)),
        }
    }
}

/// Weights of `exp(-ke t)`, `exp(-ka t)`, `exp(-t / tmax)` and `t exp(-t / tmax)` in the effect.
struct Terms {
    plasma: f64,
    remote: f64,
    depot: f64,
    depot_ramp: f64,
}

/// The effect that stands for insulin's action on glucose as a whole: most of it comes 101 minutes after the dose.
///
/// # Source
/// In glucose clamps the infusion that balances rapid insulin was largest 100 to 198 min after the dose (Diabet Med
/// 2018;35:306-316, Table 1); handbooks give 30 to 90 min and a duration of 2 to 5 h; "about an hour and a half after
/// injection" is common practice, no source. Production lies between them. Transport (165 min, for half a day) is far slower
/// than what a person sees of a rapid dose, disposal (84 min) a little faster than the clamps.
const ACTION: Effect = Effect::Production;

/// The share of a dose not yet absorbed, 1 to 0: `(1 + t / tmax) exp(-t / tmax)`.
#[must_use]
pub(crate) fn fraction_left(minutes: f64) -> f64 {
    two_compartments_left(minutes, FASTEST_ABSORPTION_MINUTES)
}

/// Plasma insulin that a dose of `units` adds, in mU/L, for a body weight in kg.
///
/// # Formula
/// `u0 / (VI tmax^2) * (exp(-ke t) / (ke - a)^2 + exp(-a t) * (t / (ke - a) - 1 / (ke - a)^2))`, with `a = 1 / tmax`.
#[must_use]
pub fn plasma_mu_per_l(units: f64, weight_kg: f64, minutes: f64) -> f64 {
    let (a, ke) = (1.0 / FASTEST_ABSORPTION_MINUTES, CLEARANCE_PER_MINUTE);
    let (t, gap) = (minutes.max(0.0), CLEARANCE_PER_MINUTE - a);
    let shape = (-ke * t).exp() / (gap * gap) + (-a * t).exp() * (t / gap - 1.0 / (gap * gap));
    (units * 1000.0 / (VOLUME_L_PER_KG * weight_kg) * a * a * shape).max(0.0)
}

/// The share of a dose's action on glucose that happens a minute (`ACTION`).
#[must_use]
pub(crate) fn action_per_minute(minutes: f64) -> f64 {
    ACTION.action_per_minute(minutes)
}

/// The share of a dose's action on glucose still to come (`ACTION`). It lags [`fraction_left`]: what is absorbed has yet
/// to act.
#[must_use]
pub(crate) fn action_left(minutes: f64) -> f64 {
    ACTION.action_left(minutes)
}

/// Insulin on board at `now`: rapid insulin taken up to then and not yet absorbed, in units.
#[must_use]
pub fn on_board_units(doses: &[Dose], now: Moment) -> f64 {
    let on_board = |dose: &Dose| dose.units * fraction_left(now.minutes_since(dose.at));
    doses.iter().filter(|dose| holds_for(dose) && !dose.at.is_after(now)).map(on_board).sum()
}

/// Whether these kinetics hold for a dose: they are those of rapid insulin.
pub(crate) fn holds_for(dose: &Dose) -> bool {
    dose.kind == InsulinKind::Rapid
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(got: f64, expected: f64, within: f64) {
        assert!((got - expected).abs() <= within, "{got} is not {expected} within {within}");
    }

    /// The minute at which `curve` is highest, by a search to 0.01 min.
    fn peak(curve: impl Fn(f64) -> f64) -> f64 {
        let minutes = (0..60_000_u32).map(|k| f64::from(k) / 100.0);
        minutes.max_by(|a, b| curve(*a).total_cmp(&curve(*b))).unwrap()
    }

    fn area(curve: impl Fn(f64) -> f64) -> f64 {
        (0..400_000_u32).map(|k| curve((f64::from(k) + 0.5) / 100.0) / 100.0).sum()
    }

    #[test]
    fn the_depot_empties_as_the_closed_form_says() {
        for (minutes, left) in [
            (30.0, 0.8957),
            (60.0, 0.7024),
            (120.0, 0.3590),
            (180.0, 0.1619),
            (240.0, 0.0683),
            (300.0, 0.0276),
            (360.0, 0.0108),
        ] {
            near(fraction_left(minutes), left, 5e-5);
        }
    }

    /// 1 U at 70 kg: peak 5.7105 mU/L at 63.3 min, 5.6997 at 60 min; the area is `u0 / (VI ke)` = 862.66 mU min/L.
    #[test]
    fn plasma_insulin_follows_the_closed_form() {
        let plasma = |minutes| plasma_mu_per_l(1.0, 70.0, minutes);
        near(peak(plasma), 63.3, 0.05);
        near(plasma(63.3), 5.7105, 5e-5);
        near(plasma(60.0), 5.6997, 5e-5);
        near(area(plasma), 862.66, 0.01);
    }

    /// The effects' peaks follow from the published rate constants: 165, 83.6 and 101 min.
    #[test]
    fn each_effect_peaks_when_the_model_says() {
        for (effect, minutes, within) in
            [(Effect::Transport, 165.0, 0.5), (Effect::Disposal, 83.6, 0.05), (Effect::Production, 101.0, 0.5)]
        {
            near(peak(|t| effect.action_per_minute(t)), minutes, within);
        }
    }

    /// Clamp studies: the largest effect of a rapid dose comes 100 to 198 min after it (Diabet Med 2018;35:306-316).
    #[test]
    fn the_action_used_peaks_within_what_clamps_show() {
        assert!((100.0..=198.0).contains(&peak(action_per_minute)));
        // Handbook durations of 2 to 5 h: by five hours nine tenths are over, at two hours half is still to come.
        assert!(action_left(300.0) < 0.1 && action_left(120.0) > 0.5);
    }

    /// Against a plain integration of the differential equations with a small step.
    #[test]
    fn the_closed_forms_solve_the_equations() {
        for effect in [Effect::Transport, Effect::Disposal, Effect::Production] {
            let (tmax, ke, ka, step) = (FASTEST_ABSORPTION_MINUTES, CLEARANCE_PER_MINUTE, effect.per_minute(), 0.002);
            let (mut s1, mut s2, mut i, mut x, mut done) = (1.0, 0.0, 0.0, 0.0, 0.0);
            for k in 1..=200_000_u32 {
                let (d1, d2) = (-s1 / tmax, (s1 - s2) / tmax);
                let (di, dx) = (s2 / tmax - ke * i, ka * (ke * i - x));
                (s1, s2, i) = (s1 + step * d1, s2 + step * d2, i + step * di);
                (x, done) = (x + step * dx, done + step * x);
                if k % 20_000 == 0 {
                    let t = f64::from(k) * step;
                    near(effect.action_per_minute(t), x, 1e-6);
                    near(1.0 - effect.action_left(t), done, 3e-5);
                    near(fraction_left(t), s1 + s2, 1e-5);
                    near(plasma_mu_per_l(1.0, 70.0, t), i * 1000.0 / (VOLUME_L_PER_KG * 70.0), 2e-3);
                }
            }
        }
    }

    #[test]
    fn before_the_dose_nothing_has_happened() {
        for minutes in [-1000.0, -1.0, 0.0] {
            near(action_per_minute(minutes), 0.0, 1e-15);
            near(action_left(minutes), 1.0, 1e-12);
            near(fraction_left(minutes), 1.0, 1e-15);
            near(plasma_mu_per_l(1.0, 70.0, minutes), 0.0, 1e-9);
        }
    }

    #[test]
    fn only_rapid_insulin_already_taken_is_on_board() {
        let now = Moment::parse("2026-03-01T20:00:00+01:00").unwrap();
        let dose = |minutes, kind, units| Dose { at: now.plus_minutes(minutes), kind, units };
        let doses = [
            dose(-120.0, InsulinKind::Rapid, 4.0),
            dose(-60.0, InsulinKind::Rapid, 1.0),
            dose(-60.0, InsulinKind::LongActing, 20.0),
            dose(5.0, InsulinKind::Rapid, 9.0),
        ];
        near(on_board_units(&doses, now), 4.0 * 0.3590 + 0.7024, 5e-4);
        near(on_board_units(&[], now), 0.0, 1e-15);
    }
}
