//! What must hold of estimating, looking back and learning whatever is read, asked at random. What must hold of the prompts
//! themselves is in `prompt_properties`.
#![allow(clippy::unwrap_used)] // a log that cannot be built is a failed test

use ebbstead_core::engine::{Engine, Learnt, check, unasked};
use ebbstead_core::estimate::adapt::{Adaptation, adapt};
use ebbstead_core::estimate::dynamics::Dynamics;
use ebbstead_core::estimate::smoother::{Smoothed, smooth};
use ebbstead_core::learn::{compression_lows, learn};
use ebbstead_core::log::{
    Entry, EntryKind, History, InsulinKind, MeterCheck, Purpose, Reading, SensorEvent, Source, Symptom, current_history,
};
use ebbstead_core::prompt::{Occasion, Question, Verdict};
use ebbstead_core::store::Log;
use ebbstead_core::time::Moment;
use ebbstead_core::units::{Glucose, GlucoseUnit, MG_DL_PER_MMOL_L};
use ebbstead_core::wearer::Wearer;
use proptest::prelude::*;

fn noon() -> Moment {
    Moment::parse("2026-03-01T12:00:00+01:00").unwrap()
}

fn mg(mg_dl: f64) -> Glucose {
    Glucose::from_mg_dl(mg_dl).unwrap()
}

fn wearer() -> Wearer {
    Wearer {
        insulin_factor_mg_dl_per_unit: Some(40.0),
        carbohydrate_factor_mg_dl_per_g: Some(4.0),
        ..Wearer::default()
    }
}

/// Anything a log can hold, minutes after noon. Times repeat now and then.
fn any_entry() -> impl Strategy<Value = (f64, EntryKind)> {
    let glucose = || (20.0..600.0_f64).prop_map(mg);
    let what = prop_oneof![
        12 => glucose().prop_map(|mg_dl| EntryKind::SensorReading { mg_dl }),
        2 => glucose().prop_map(|mg_dl| EntryKind::MeterCheck { mg_dl }),
        1 => (0.05..150.0_f64).prop_map(|units| EntryKind::Insulin { insulin: InsulinKind::Rapid, units }),
        1 => (0.5..500.0_f64, any::<bool>()).prop_map(|(grams, rescue)| EntryKind::Carbohydrate {
            grams,
            purpose: if rescue { Purpose::Rescue } else { Purpose::Meal },
        }),
        1 => prop_oneof![Just(Symptom::FeelsLow), Just(Symptom::FeelsHigh), Just(Symptom::None)]
            .prop_map(|felt| EntryKind::Symptom { felt }),
        1 => prop_oneof![
            Just(EntryKind::Sensor(SensorEvent::inserted(None))),
            Just(EntryKind::Sensor(SensorEvent::WarmUpOver)),
            Just(EntryKind::Sensor(SensorEvent::Ended)),
        ],
    ];
    let minutes = prop_oneof![6 => (0_u32..2880).prop_map(|k| f64::from(k / 5 * 5)), 1 => 0.0..2880.0_f64];
    (minutes, what)
}

/// How long a log may lie untouched, in minutes: minutes to ten years.
fn any_gap() -> impl Strategy<Value = f64> {
    (0.0..15.5_f64).prop_map(f64::exp)
}

fn entries(drawn: &[(f64, EntryKind)], end: Moment) -> Vec<Entry> {
    let source = Source::new("anything").unwrap();
    let entry = |(minutes, what): &(f64, EntryKind)| {
        Entry::received(noon().plus_minutes(*minutes), end, source.clone(), what.clone()).unwrap()
    };
    drawn.iter().map(entry).collect()
}

fn end() -> Moment {
    noon().plus_minutes(2880.0)
}

/// Readings as a sensor gives them: no step larger than 12 mg/dL.
fn likely_readings() -> impl Strategy<Value = Vec<f64>> {
    (80.0..200.0_f64, prop::collection::vec(-12.0..12.0_f64, 24..72)).prop_map(|(start, steps)| {
        let mut level = start;
        let walk = steps.into_iter().map(|step| {
            level = (level + step).clamp(45.0, 380.0);
            level.round()
        });
        walk.collect()
    })
}

fn every_five(mg_dl: &[f64]) -> History {
    let reading = |(k, mg_dl): (usize, &f64)| Reading::new(noon().plus_minutes(5.0 * k as f64), mg(*mg_dl));
    History { readings: mg_dl.iter().enumerate().map(reading).collect(), ..History::default() }
}

fn looked_back(history: &History) -> Vec<Smoothed> {
    smooth(history, &Wearer::default(), &Dynamics::POPULATION)
}

fn shuffled<T>(of: &mut [T], seed: u64) {
    let mut state = seed | 1;
    for k in (1..of.len()).rev() {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        of.swap(k, (state >> 33) as usize % (k + 1));
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Any entries in any order, through the store: what is estimated once all have arrived does not depend on the order.
    #[test]
    fn once_all_have_arrived_their_order_is_forgotten(
        drawn in prop::collection::vec(any_entry(), 1..60),
        seed in any::<u64>(),
        cut in 0.0..1.0_f64,
    ) {
        let all = entries(&drawn, end());
        let mut other = all.clone();
        shuffled(&mut other, seed);
        let estimated = |first: &[Entry], rest: &[Entry]| {
            let mut log = Log::in_memory(end()).unwrap();
            log.record_all(first.iter().cloned()).unwrap();
            log.record_all(rest.iter().cloned()).unwrap();
            let history = log.history(noon(), end()).unwrap();
            let question = Question { now: end(), occasion: Occasion::Look, feels: None, meter: None };
            let prompt = check(&history, &wearer(), &Learnt::default(), &question);
            (prompt, looked_back(&history), learn(&history, &wearer(), end()))
        };
        let at = (other.len() as f64 * cut) as usize;
        prop_assert_eq!(estimated(&all, &[]), estimated(&other[..at], &other[at..]));
    }

    /// Any entries: numbers that can be shown, no panic, and nothing learnt from two days.
    #[test]
    fn anything_logged_gives_numbers(drawn in prop::collection::vec(any_entry(), 0..120)) {
        let history = current_history(entries(&drawn, end()));
        for then in looked_back(&history) {
            prop_assert!(then.blood_mg_dl.is_finite() && then.interstitial_mg_dl.is_finite(), "{then:?}");
            prop_assert!(then.blood_sd_mg_dl.is_finite() && then.blood_sd_mg_dl >= 0.0, "{then:?}");
            prop_assert!(then.rate_mg_dl_min.is_finite(), "{then:?}");
        }
        let lesson = learn(&history, &wearer(), end());
        prop_assert!(lesson.learnt.dynamics.is_none());
        prop_assert!(lesson.score_population.is_none_or(f64::is_finite));
        for spell in compression_lows(&history, &wearer(), &lesson.learnt, end()).unwrap() {
            prop_assert!(spell.check().is_ok());
        }
        // What is kept can be read back: a number that is none would not come through JSON.
        let kept = serde_json::to_string(&lesson).unwrap();
        let read: Result<ebbstead_core::learn::Lesson, _> = serde_json::from_str(&kept);
        prop_assert_eq!(read.unwrap(), lesson);
    }

    /// However long nothing was read, what is estimated afterwards are numbers, and the chances of the sensor's modes add up.
    #[test]
    fn no_gap_is_too_long(walk in likely_readings(), gap in any_gap(), cut in 0_usize..24) {
        let mut history = every_five(&walk);
        history.readings[cut + 1..].iter_mut().for_each(|reading| reading.at = reading.at.plus_minutes(gap));
        let now = history.readings.last().unwrap().at;
        let wearer = wearer();
        let mut engine = Engine::new(&history, &wearer, &Learnt::default());
        engine.replay(now);
        let prompt = engine.answer(&unasked(now));
        let (estimate, forecast) = (prompt.estimate.unwrap(), prompt.forecast.unwrap());
        let modes = estimate.modes;
        prop_assert!((modes.clear + modes.compression + modes.unsettled - 1.0).abs() < 1e-9, "{modes:?}");
        prop_assert!(estimate.blood_mg_dl.is_finite() && estimate.blood_sd_mg_dl.is_finite(), "{estimate:?}");
        for crossing in [forecast.low, forecast.floor, forecast.high] {
            for chance in [crossing.within_15, crossing.within_30, crossing.within_60] {
                prop_assert!((0.0..=1.0).contains(&chance), "{crossing:?}");
            }
        }
        for then in looked_back(&history) {
            prop_assert!(then.blood_mg_dl.is_finite() && then.blood_sd_mg_dl.is_finite(), "{then:?}");
        }
    }

    /// A meter check below the low line that is not older than five minutes is never answered with waiting or with nothing,
    /// whatever the sensor reads, unless rescue carbohydrate was just taken (which is not drawn here).
    #[test]
    fn a_confirmed_low_is_always_treated(
        drawn in prop::collection::vec(any_entry(), 0..60),
        low in 20.0..69.9_f64,
        minutes in 0.0..5.0_f64,
        asked in any::<bool>(),
        wake in any::<bool>(),
    ) {
        let rescue = |what: &EntryKind| matches!(what, EntryKind::Carbohydrate { purpose: Purpose::Rescue, .. });
        let newer_meter = |minute: f64, what: &EntryKind| {
            matches!(what, EntryKind::MeterCheck { .. }) && minute > 2875.0 - minutes
        };
        let mut drawn = drawn;
        drawn.retain(|(minute, what)| !rescue(what) && !newer_meter(*minute, what));
        let mut history = current_history(entries(&drawn, end()));
        if !asked {
            history.meter_checks.push(MeterCheck::new(end().plus_minutes(-minutes), mg(low)));
        }
        let question = Question {
            now: end(),
            occasion: if wake { Occasion::Wake } else { Occasion::Look },
            feels: None,
            meter: asked.then(|| mg(low).into()),
        };
        let prompt = check(&history, &wearer(), &Learnt::default(), &question);
        prop_assert!(matches!(prompt.verdict, Verdict::Treat | Verdict::Help), "{:?}", prompt);
    }

    /// Looking back with readings missing is never surer. On calm readings, since the noise follows the level.
    #[test]
    fn looking_back_over_gaps_is_never_surer(level in 80.0..200.0_f64, kept in prop::collection::vec(any::<bool>(), 46)) {
        let calm: Vec<f64> = (0..48).map(|k| (level + f64::from(k % 3)).round()).collect();
        let all = every_five(&calm);
        let mut gaps = all.clone();
        let mut keep = [true].into_iter().chain(kept).chain([true]);
        gaps.readings.retain(|_| keep.next().unwrap_or(true));
        let full = looked_back(&all);
        for then in looked_back(&gaps) {
            let surest = full.iter().find(|one| one.at == then.at).unwrap();
            prop_assert!(then.blood_sd_mg_dl >= 0.995 * surest.blood_sd_mg_dl, "{then:?} {surest:?}");
        }
    }

    /// Whole days later nothing is different; hours later only what the night decides, and for the population nothing.
    #[test]
    fn looking_back_does_not_know_the_date(walk in likely_readings(), days in -900_i32..900, hours in 0_u8..24) {
        let here = every_five(&walk);
        let moved = |minutes: f64| {
            let mut moved = here.clone();
            moved.readings.iter_mut().for_each(|reading| reading.at = reading.at.plus_minutes(minutes));
            looked_back(&moved)
        };
        let numbers = |all: Vec<Smoothed>| -> Vec<(f64, f64, f64)> {
            all.into_iter().map(|one| (one.blood_mg_dl, one.blood_sd_mg_dl, one.rate_mg_dl_min)).collect()
        };
        let unmoved = numbers(looked_back(&here));
        prop_assert_eq!(&unmoved, &numbers(moved(1440.0 * f64::from(days))));
        // The population moves as much by night as by day.
        prop_assert_eq!(&unmoved, &numbers(moved(60.0 * f64::from(hours))));
        let sleeper = Dynamics { night_noise: 0.4, ..Dynamics::POPULATION };
        let mut night = here.clone();
        night.readings.iter_mut().for_each(|reading| reading.at = reading.at.plus_minutes(13.0 * 60.0));
        let by_day = numbers(smooth(&here, &Wearer::default(), &sleeper));
        let by_night = numbers(smooth(&night, &Wearer::default(), &sleeper));
        prop_assert_ne!(by_day, by_night);
    }

    /// mmol/L in, the same to rounding.
    #[test]
    fn looking_back_is_the_same_in_both_units(walk in likely_readings()) {
        let here = every_five(&walk);
        let mut other = here.clone();
        for reading in &mut other.readings {
            reading.glucose = Glucose::new(reading.glucose.mg_dl() / MG_DL_PER_MMOL_L, GlucoseUnit::MmolL).unwrap();
        }
        for (one, other) in looked_back(&here).iter().zip(&looked_back(&other)) {
            prop_assert!((one.blood_mg_dl - other.blood_mg_dl).abs() < 1e-6);
            prop_assert!((one.blood_sd_mg_dl - other.blood_sd_mg_dl).abs() < 1e-6);
        }
    }
}

proptest! {
    // A fortnight is adapted to in each case.
    #![proptest_config(ProptestConfig::with_cases(4))]

    /// Whatever a fortnight holds, the wearer's own dynamics stay within what bodies and sensors do.
    #[test]
    fn own_dynamics_stay_within_bounds(walk in prop::collection::vec(20.0..600.0_f64, 2016), meter in 20.0..600.0_f64) {
        let mut history = every_five(&walk);
        for k in (0..2016).step_by(150) {
            history.meter_checks.push(MeterCheck::new(history.readings[k].at, mg(meter)));
        }
        let now = history.readings[2015].at;
        match adapt(&history, &Wearer::default(), now) {
            Adaptation::TooLittle { have_days, need_days } => prop_assert!(false, "{have_days} of {need_days}"),
            Adaptation::Adapted { dynamics, evidence } => {
                prop_assert!((5.0..=13.7).contains(&dynamics.lag_minutes), "{dynamics:?}");
                prop_assert!((0.09..=1.63).contains(&dynamics.white_sd_mg_dl), "{dynamics:?}");
                prop_assert!((2.1..=8.7).contains(&dynamics.blood_noise), "{dynamics:?}");
                prop_assert!((0.19..=1.21).contains(&dynamics.noise_power), "{dynamics:?}");
                prop_assert!((0.4..=2.5).contains(&dynamics.night_noise), "{dynamics:?}");
                prop_assert!(evidence.gain_per_reading >= 0.0 && evidence.readings == 2016, "{evidence:?}");
            }
        }
    }
}
