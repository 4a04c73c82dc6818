//! Looking back: what blood glucose probably was, given what came before *and* after.
//!
//! A fixed-interval smoother over a sensor that follows glucose; readings in spells marked as pressed are left out, so the
//! smoothed path runs through them as if the sensor had been silent.
//!
//! # Source
//! Rauch, Tung and Striebel, "Maximum likelihood estimates of linear dynamic systems", AIAA Journal 1965;3(8):1445-1450.

use super::dynamics::{BLOOD, Discretizations, Dynamics, INTERSTITIAL, Matrix};
use super::filter::{ALONE_GATE, Gaussian, PressStep, meter_measurement_row, sensor_measurement_row};
use super::modes::meter_variance;
use super::tracker::rate_mg_dl_min;
use crate::log::{History, thinned};
use crate::time::Moment;
use crate::wearer::Wearer;

/// Blood glucose as it probably was.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Smoothed {
    /// The time it is about.
    pub at: Moment,
    /// Expected blood glucose, in mg/dL.
    pub blood_mg_dl: f64,
    /// Its standard deviation, in mg/dL.
    pub blood_sd_mg_dl: f64,
    /// Expected interstitial glucose, in mg/dL.
    pub interstitial_mg_dl: f64,
    /// Expected rate of interstitial glucose, in mg/dL/min.
    pub rate_mg_dl_min: f64,
}

/// A press that is not there still needs a variance, or its row of the covariance cannot be inverted. In (mg/dL)^2.
const NO_PRESS_VARIANCE: f64 = 1e-6;

/// One step of the forward pass, kept for the way back.
struct Kept {
    at: Moment,
    filtered: Gaussian,
    /// How the step *to* this point moved the state before it.
    transition: Matrix,
    predicted: Gaussian,
}

/// Smooths the readings and meter checks of a history, in order of time; one result an observation. Readings under 45 seconds apart
/// are thinned, as they are for an estimate.
#[must_use]
pub fn smooth(history: &History, wearer: &Wearer, dynamics: &Dynamics) -> Vec<Smoothed> {
    let kept = forward(history, wearer, dynamics);
    let Some(last) = kept.last() else { return Vec::new() };
    let mut smoothed = last.filtered.clone();
    let mut points = vec![smoothed_at(last.at, &smoothed, dynamics)];
    for (here, next) in kept.iter().zip(&kept[1..]).rev() {
        smoothed = rts_step(&here.filtered, &next.transition, &next.predicted, &smoothed);
        points.push(smoothed_at(here.at, &smoothed, dynamics));
    }
    points.reverse();
    points
}

/// One step of the way back: the state at a point, from the smoothed state at the next.
///
/// Where the predicted covariance cannot be inverted the filtered state stands: nothing is made up.
#[must_use]
pub fn rts_step(filtered: &Gaussian, transition: &Matrix, predicted: &Gaussian, next: &Gaussian) -> Gaussian {
    let Some(inverse) = predicted.covariance.cholesky().map(|factor| factor.inverse()) else {
        return filtered.clone();
    };
    let gain = filtered.covariance * transition.transpose() * inverse;
    let mean = filtered.mean + gain * (next.mean - predicted.mean);
    let covariance = filtered.covariance + gain * (next.covariance - predicted.covariance) * gain.transpose();
    Gaussian { mean, covariance: (covariance + covariance.transpose()) * 0.5 }
}

fn forward(history: &History, wearer: &Wearer, dynamics: &Dynamics) -> Vec<Kept> {
    let readings = thinned(&history.readings);
    let readings = readings.iter().map(|one| (one.at, one.glucose.mg_dl(), false));
    let meters = history.meter_checks.iter().map(|one| (one.at, one.glucose.mg_dl(), true));
    let mut observed: Vec<(Moment, f64, bool)> = readings.chain(meters).collect();
    observed.sort_unstable_by(|(at, shown, meter), (bt, other, by)| {
        (at, meter).cmp(&(bt, by)).then(shown.total_cmp(other))
    });
    let mut steps = Discretizations::new(*dynamics);
    let mut last_reading = None;
    let mut kept: Vec<Kept> = Vec::with_capacity(observed.len());
    for (at, mg_dl, meter) in observed {
        let (transition, predicted) = match kept.last() {
            None => {
                let (mean, covariance) = dynamics.prior(mg_dl);
                (Matrix::identity(), Gaussian { mean, covariance })
            }
            Some(before) => moved(&mut steps, &before.filtered, at.minutes_since(before.at), wearer.night.contains(at)),
        };
        let filtered = if !meter && history.is_compression_low(at) {
            predicted.clone()
        } else {
            let (row, noise) = if meter {
                (meter_measurement_row(), meter_variance(mg_dl))
            } else {
                let spacing = last_reading.map_or(f64::INFINITY, |last| at.minutes_since(last));
                (sensor_measurement_row(), dynamics.white_variance(spacing))
            };
            predicted.update(&row, mg_dl - dynamics.level_mg_dl, noise, ALONE_GATE).0
        };
        if !meter {
            last_reading = Some(at);
        }
        kept.push(Kept { at, filtered, transition, predicted });
    }
    kept
}

/// A state moved over a time, with the whole transition.
fn moved(steps: &mut Discretizations, from: &Gaussian, minutes: f64, asleep: bool) -> (Matrix, Gaussian) {
    let level = steps.dynamics().level_mg_dl;
    let (mut transition, mut gaussian) = (Matrix::identity(), from.clone());
    let press = PressStep { variance: NO_PRESS_VARIANCE, ..PressStep::RELEASED };
    for step in steps.over(minutes) {
        let noise = steps.dynamics().noise_at(gaussian.mean[INTERSTITIAL] + level, asleep);
        gaussian = gaussian.predict(&step, noise, 0.0, press);
        transition = step.transition * transition;
    }
    (transition, gaussian)
}

fn smoothed_at(at: Moment, gaussian: &Gaussian, dynamics: &Dynamics) -> Smoothed {
    Smoothed {
        at,
        blood_mg_dl: gaussian.mean[BLOOD] + dynamics.level_mg_dl,
        blood_sd_mg_dl: gaussian.sd(BLOOD),
        interstitial_mg_dl: gaussian.mean[INTERSTITIAL] + dynamics.level_mg_dl,
        rate_mg_dl_min: rate_mg_dl_min(gaussian, dynamics),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::{MeterCheck, Reading};
    use crate::units::Glucose;

    #[test]
    fn readings_each_second_are_thinned() {
        let each_second = history((0..3600).map(|second| (f64::from(second) / 60.0, 120.0 + f64::from(second % 5))));
        let smoothed = smooth(&each_second, &Wearer::default(), &Dynamics::POPULATION);
        assert!(smoothed.len() <= 3600 / 45 + 1, "{}", smoothed.len());
        assert_eq!(smoothed.last().unwrap().at, each_second.readings.last().unwrap().at);
    }

    fn history(readings: impl Iterator<Item = (f64, f64)>) -> History {
        let start = Moment::parse("2026-03-01T12:00:00Z").unwrap();
        let reading =
            |(minute, mg_dl): (f64, f64)| Reading::new(start.plus_minutes(minute), Glucose::from_mg_dl(mg_dl).unwrap());
        History { readings: readings.map(reading).collect(), ..History::default() }
    }

    #[test]
    fn looking_back_is_surer_than_looking_on() {
        let history = history((0..60).map(|k| (5.0 * f64::from(k), 120.0 + 30.0 * (f64::from(k) / 8.0).sin())));
        let dynamics = Dynamics::POPULATION;
        let smoothed = smooth(&history, &Wearer::default(), &dynamics);
        let kept = forward(&history, &Wearer::default(), &dynamics);
        assert_eq!(smoothed.len(), 60);
        for (smoothed, kept) in smoothed.iter().zip(&kept).skip(1) {
            assert!(smoothed.blood_sd_mg_dl <= kept.filtered.sd(BLOOD) + 1e-6);
        }
    }

    #[test]
    fn a_marked_spell_leaves_no_dent() {
        let mut history = history((0..48).map(|k| {
            let compression = (20..26).contains(&k);
            (5.0 * f64::from(k), if compression { 62.0 } else { 118.0 })
        }));
        let dented = smooth(&history, &Wearer::default(), &Dynamics::POPULATION)[23].blood_mg_dl;
        let (from, until) = (history.readings[20].at, history.readings[26].at);
        history.compression_lows.push(crate::log::CompressionLow { from, until });
        let through = smooth(&history, &Wearer::default(), &Dynamics::POPULATION)[23].blood_mg_dl;
        assert!(dented < 90.0 && through > 110.0, "{dented} {through}");
    }

    #[test]
    fn a_meter_check_pulls_what_came_before_it_too() {
        let mut history = history((0..36).map(|k| (5.0 * f64::from(k), 100.0)));
        let before = smooth(&history, &Wearer::default(), &Dynamics::POPULATION)[17].blood_mg_dl;
        let at = history.readings[18].at.plus_minutes(1.0);
        history.meter_checks.push(MeterCheck::new(at, Glucose::from_mg_dl(130.0).unwrap()));
        let after = smooth(&history, &Wearer::default(), &Dynamics::POPULATION)[17].blood_mg_dl;
        assert!(after > before + 5.0, "{before} {after}");
        assert!(smooth(&History::default(), &Wearer::default(), &Dynamics::POPULATION).is_empty());
    }
}
