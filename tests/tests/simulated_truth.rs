//! Blood glucose that is known because it was made up: is it covered as often as is stated, and is its lag found?
//!
//! The wearers are simulated from the model's own equations, but by small random steps (Euler and Maruyama) in place of core's
//! exact ones, and with other random numbers than core has ever seen.
#![allow(clippy::unwrap_used)] // a simulation that cannot be built is a failed test

use ebbstead_core::body::lag::{PHYSIOLOGY_MINUTES, WHOLE_MINUTES};
use ebbstead_core::engine::{Engine, Learnt, unasked};
use ebbstead_core::estimate::adapt::{Adaptation, adapt};
use ebbstead_core::estimate::dynamics::Dynamics;
use ebbstead_core::log::{History, MeterCheck, Reading};
use ebbstead_core::time::Moment;
use ebbstead_core::units::Glucose;
use ebbstead_core::wearer::Wearer;
use ebbstead_tests::rng::NumpyRng;

struct Simulated {
    history: History,
    /// Blood glucose at each reading, in mg/dL.
    blood_mg_dl: Vec<f64>,
    end: Moment,
}

/// Days of readings every 5 minutes and `meter_checks_a_day`, by small steps of the model's equations.
fn simulate(dynamics: &Dynamics, days: u32, meter_checks_a_day: u32, skip: u32) -> Simulated {
    let mut rng = NumpyRng::seeded_with_5();
    for _ in 0..skip {
        rng.uniform(0.0, 1.0);
    }
    // Box and Muller 1958.
    let mut normal = || {
        let (a, b) = (1.0 - rng.uniform(0.0, 1.0), rng.uniform(0.0, 1.0));
        (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
    };
    let wearer = Wearer::default();
    let start = Moment::parse("2026-03-01T00:00:00+01:00").unwrap();
    let d = dynamics;
    let step: f64 = 0.1;
    let driver_sd =
        (d.error_sd_mg_dl.powi(2) * (d.error_slow_minutes + d.error_fast_minutes) / d.error_slow_minutes).sqrt();
    let (mut blood, mut rate, mut interstitial) = (d.level_mg_dl, 0.0, d.level_mg_dl);
    let (mut driver, mut error, mut offset) = (driver_sd * normal(), 0.0, d.offset_sd_mg_dl * normal());
    let mut made = Simulated { history: History::default(), blood_mg_dl: Vec::new(), end: start };
    let warm_up = 600;
    let readings = i64::from(days) * 288;
    for reading in -warm_up..readings {
        let at = start.plus_minutes(5.0 * reading as f64);
        let noise = d.noise_at(interstitial, wearer.night.contains(at)).sqrt() * step.sqrt();
        for _ in 0..50 {
            let moved = (rate - (blood - d.level_mg_dl) / d.level_minutes) * step + d.blood_noise * noise * normal();
            interstitial += (blood - interstitial) / d.lag_minutes * step;
            // No one lives beyond these: where the walk strays there it is turned back.
            blood = (blood + moved).clamp(30.0, 450.0);
            rate += -rate / d.rate_minutes * step + d.rate_noise * noise * normal();
            error += (driver - error) / d.error_fast_minutes * step;
            driver += -driver / d.error_slow_minutes * step
                + driver_sd * (2.0 * step / d.error_slow_minutes).sqrt() * normal();
            offset += -offset / d.offset_minutes * step
                + d.offset_sd_mg_dl * (2.0 * step / d.offset_minutes).sqrt() * normal();
        }
        if reading < 0 {
            continue;
        }
        let at = at.plus_minutes(5.0);
        let read = interstitial + error + offset + d.white_sd_mg_dl * normal();
        made.history.readings.push(Reading::new(at, Glucose::from_mg_dl(read.round().clamp(40.0, 400.0)).unwrap()));
        made.blood_mg_dl.push(blood);
        made.end = at;
        let often = 288 / i64::from(meter_checks_a_day.max(1));
        if meter_checks_a_day > 0 && reading % often == often / 2 {
            let meter = blood + 0.15 * blood.max(100.0) / 1.96 * normal();
            let glucose = Glucose::from_mg_dl(meter.round().clamp(20.0, 600.0)).unwrap();
            made.history.meter_checks.push(MeterCheck::new(at, glucose));
        }
    }
    made
}

/// Of what was stated to lie within 1.96 standard deviations, 93 to 97 % must: blood glucose now, and the reading in 30 minutes.
#[test]
fn stated_intervals_hold_as_often_as_they_say() {
    // The sensor's own error is not the filter's to find; a sensor as the population's are has it all the same.
    let sensor = Dynamics { error_sd_mg_dl: 12.0, ..Dynamics::POPULATION };
    let made = simulate(&sensor, 30, 0, 0);
    let (history, wearer) = (History::default(), Wearer::default());
    let mut engine = Engine::new(&history, &wearer, &Learnt::default());
    let (mut blood, mut ahead, mut count) = (0, 0, 0);
    let readings = &made.history.readings;
    for (at, reading) in readings.iter().enumerate() {
        engine.reading(*reading);
        let Some(later) = readings.get(at + 6) else { break };
        if at < 288 {
            continue;
        }
        let prompt = engine.answer(&unasked(reading.at));
        let (estimate, forecast) = (prompt.estimate.unwrap(), prompt.forecast.unwrap());
        let in_30 = forecast.path.iter().find(|ahead| ahead.minutes == 30).unwrap();
        count += 1;
        blood += usize::from((estimate.blood_mg_dl - made.blood_mg_dl[at]).abs() < 1.96 * estimate.blood_sd_mg_dl);
        ahead += usize::from((in_30.reading_mg_dl - later.glucose.mg_dl()).abs() < 1.96 * in_30.reading_sd_mg_dl);
    }
    for (what, held) in [("blood now", blood), ("reading in 30 minutes", ahead)] {
        let share = held as f64 / f64::from(count);
        println!("{what}: {share:.4}");
        assert!((0.93..=0.97).contains(&share), "{what}: {share}");
    }
}

/// Published lags: 5.3 to 6.2 min for the physiology (Basu et al. 2013), about 10 min with the sensor (common practice). From
/// readings and meter checks simulated with the one or the other, adapting has to find which it was.
#[test]
fn the_published_lags_are_found_again() {
    for (skip, lag_minutes) in [(0, PHYSIOLOGY_MINUTES), (17, WHOLE_MINUTES), (34, 13.0)] {
        let truth = Dynamics { lag_minutes, ..Dynamics::POPULATION };
        let made = simulate(&truth, 14, 12, skip);
        let Adaptation::Adapted { dynamics, .. } = adapt(&made.history, &Wearer::default(), made.end) else {
            panic!("two weeks are enough");
        };
        println!("{lag_minutes} found as {}", dynamics.lag_minutes);
        assert!((dynamics.lag_minutes / lag_minutes - 1.0).abs() <= 0.25, "{lag_minutes}: {}", dynamics.lag_minutes);
    }
}
