//! What must hold of the prompts whatever is read, asked at random.
#![allow(clippy::unwrap_used)] // a log that cannot be built is a failed test

use ebbstead_core::engine::{Learnt, check};
use ebbstead_core::log::{
    Carbohydrate, Dose, Entry, EntryKind, Felt, History, InsulinKind, MeterCheck, Purpose, Reading, SensorEvent,
    SensorNote, Source, Symptom, current_history,
};
use ebbstead_core::prompt::{Caution, Occasion, Prompt, Question, Verdict};
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

fn ask(history: &History, now: Moment, occasion: Occasion, feels: Option<Symptom>) -> Prompt {
    check(history, &wearer(), &Learnt::default(), &Question { now, occasion, feels, meter: None })
}

/// Readings of any amount at spacings from seconds to hours, duplicates among them.
fn any_readings() -> impl Strategy<Value = Vec<(f64, f64)>> {
    let spacing = prop_oneof![8 => 4.5..5.5, 2 => 0.0..2.0, 1 => 14.0..16.0, 1 => 20.0..2000.0];
    prop::collection::vec((spacing, 20.0..600.0_f64), 0..60)
}

/// Readings as a sensor gives them: no step larger than 20 mg/dL.
fn likely_readings() -> impl Strategy<Value = Vec<f64>> {
    (80.0..200.0_f64, prop::collection::vec(-20.0..20.0_f64, 12..60)).prop_map(|(start, steps)| {
        let mut level = start;
        let walk = steps.into_iter().map(|step| {
            level = (level + step).clamp(41.0, 399.0);
            level.round()
        });
        walk.collect()
    })
}

fn history_of(spaced: &[(f64, f64)]) -> (History, Moment) {
    let mut now = noon();
    let mut history = History::default();
    for (minutes, mg_dl) in spaced {
        now = now.plus_minutes(*minutes);
        history.readings.push(Reading::new(now, mg(*mg_dl)));
    }
    history.settle_readings();
    (history, now)
}

fn every_five(mg_dl: &[f64]) -> (History, Moment) {
    history_of(&mg_dl.iter().map(|one| (5.0, *one)).collect::<Vec<_>>())
}

/// Every number of a prompt can be shown.
fn sound(prompt: &Prompt) -> Result<(), TestCaseError> {
    if let Some(estimate) = &prompt.estimate {
        let modes = estimate.modes;
        prop_assert!(estimate.blood_mg_dl.is_finite() && estimate.blood_mg_dl > 0.0);
        prop_assert!(estimate.blood_sd_mg_dl.is_finite() && estimate.blood_sd_mg_dl > 0.0);
        prop_assert!(estimate.rate.mg_dl_min().is_finite());
        prop_assert!((modes.clear + modes.compression + modes.unsettled - 1.0).abs() < 1e-9);
        prop_assert!(
            [modes.clear, modes.compression, modes.unsettled].iter().all(|chance| (0.0..=1.0).contains(chance))
        );
    }
    if let Some(forecast) = &prompt.forecast {
        for ahead in &forecast.path {
            prop_assert!(ahead.reading_mg_dl.is_finite() && ahead.blood_mg_dl.is_finite(), "{ahead:?}");
            prop_assert!(ahead.reading_sd_mg_dl > 0.0 && ahead.reading_sd_mg_dl.is_finite(), "{ahead:?}");
            prop_assert!(ahead.blood_sd_mg_dl > 0.0 && ahead.blood_sd_mg_dl.is_finite(), "{ahead:?}");
        }
        for crossing in [&forecast.low, &forecast.floor, &forecast.high] {
            let chances = [crossing.within_15, crossing.within_30, crossing.within_60];
            prop_assert!(chances.iter().all(|chance| (0.0..=1.0).contains(chance)), "{crossing:?}");
            prop_assert!(chances[0] <= chances[1] + 1e-9 && chances[1] <= chances[2] + 1e-9, "{crossing:?}");
            prop_assert!(
                crossing.expected_minutes.is_none_or(|minutes| (0.0..=60.0).contains(&minutes)),
                "{crossing:?}"
            );
        }
        prop_assert!(
            forecast.floor.within_30 <= forecast.low.within_30 + 1e-9,
            "{:?} {:?}",
            forecast.floor,
            forecast.low
        );
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    /// Any readings at all: numbers that can be shown, and an answer that says what to do.
    #[test]
    fn every_prompt_can_be_followed(
        spaced in any_readings(),
        later in prop_oneof![Just(0.0), 0.0..30.0_f64, 0.0..100_000.0_f64],
        night in any::<bool>(),
        feels in prop::option::of(prop_oneof![Just(Symptom::FeelsLow), Just(Symptom::FeelsHigh), Just(Symptom::None), Just(Symptom::Severe)]),
    ) {
        let (history, now) = history_of(&spaced);
        let occasion = if night { Occasion::Wake } else { Occasion::Look };
        let prompt = ask(&history, now.plus_minutes(later), occasion, feels);
        sound(&prompt)?;
        match prompt.verdict {
            Verdict::Check => {
                prop_assert!(matches!(prompt.without_meter, Some(Verdict::Treat | Verdict::Hold)));
                prop_assert!(prompt.look_again_minutes.is_some());
            }
            Verdict::Hold => prop_assert!(prompt.look_again_minutes.is_some() && !prompt.would_change.is_empty()),
            Verdict::Treat => prop_assert!(prompt.cautions.contains(&Caution::RecheckIn15)),
            Verdict::Help => prop_assert!(feels == Some(Symptom::Severe) && prompt.cautions.contains(&Caution::NothingByMouth)),
            Verdict::Clear => {}
        }
        prop_assert_eq!(prompt.without_meter.is_some(), prompt.verdict == Verdict::Check);
        if feels == Some(Symptom::Severe) {
            prop_assert_eq!(prompt.verdict, Verdict::Help);
        }
        if feels == Some(Symptom::FeelsLow) {
            prop_assert!(matches!(prompt.verdict, Verdict::Treat | Verdict::Check), "{:?}", prompt.verdict);
        }
    }

    /// A low reading that is fresh is never passed over in silence, and never held unless something speaks against it.
    #[test]
    fn a_fresh_low_is_never_passed_over(mut walk in likely_readings(), low in 40.0..69.0_f64) {
        walk.push(low.round());
        let (history, now) = every_five(&walk);
        let prompt = ask(&history, now, Occasion::Look, None);
        prop_assert!(matches!(prompt.verdict, Verdict::Treat | Verdict::Check), "{:?}", prompt);
    }

    /// What a phone receives late or twice changes nothing once it is there.
    #[test]
    fn the_order_of_arrival_does_not_matter(walk in likely_readings(), seed in any::<u64>()) {
        let source = Source::new("sensor").unwrap();
        let recorded = noon().plus_minutes(60.0 * 24.0);
        let entries: Vec<Entry> = walk.iter().enumerate()
            .map(|(k, mg_dl)| Entry::new(noon().plus_minutes(5.0 * k as f64), recorded, source.clone(), EntryKind::SensorReading { mg_dl: mg(*mg_dl) }).unwrap())
            .collect();
        let mut shuffled: Vec<Entry> = entries.iter().chain(entries.iter().step_by(3)).cloned().collect();
        let mut state = seed | 1;
        for k in (1..shuffled.len()).rev() {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            shuffled.swap(k, (state >> 33) as usize % (k + 1));
        }
        let now = noon().plus_minutes(5.0 * (walk.len() - 1) as f64);
        let answer = |entries| ask(&current_history(entries), now, Occasion::Look, None);
        prop_assert_eq!(answer(entries), answer(shuffled));
    }

    /// Whole days earlier or later: the same prompt. The hour of the day is the only thing that the clock may change.
    #[test]
    fn days_later_nothing_is_different(walk in likely_readings(), days in -2000_i32..2000) {
        let (history, now) = every_five(&walk);
        let later = |at: Moment| at.plus_minutes(1440.0 * f64::from(days));
        let mut moved = history.clone();
        moved.readings.iter_mut().for_each(|reading| reading.at = later(reading.at));
        let (one, other) = (ask(&history, now, Occasion::Look, None), ask(&moved, later(now), Occasion::Look, None));
        prop_assert_eq!(one.verdict, other.verdict);
        prop_assert_eq!(one.reasons, other.reasons);
        prop_assert_eq!(one.forecast, other.forecast);
    }

    /// Hours later within the day: the same, since the wearer's night is all that the hour decides.
    #[test]
    fn hours_later_in_the_day_nothing_is_different(walk in likely_readings(), minutes in 0.0..240.0_f64) {
        let (history, now) = every_five(&walk);
        let minutes = minutes.round();
        let mut moved = history.clone();
        moved.readings.iter_mut().for_each(|reading| reading.at = reading.at.plus_minutes(minutes));
        let (one, other) = (ask(&history, now, Occasion::Look, None), ask(&moved, now.plus_minutes(minutes), Occasion::Look, None));
        prop_assert_eq!(one.reasons, other.reasons);
        prop_assert_eq!(one.forecast, other.forecast);
    }

    /// A meter or sensor in mmol/L: the same estimate to rounding.
    #[test]
    fn both_units_say_the_same(walk in likely_readings()) {
        let (history, now) = every_five(&walk);
        let mut other = history.clone();
        for reading in &mut other.readings {
            reading.glucose = Glucose::new(reading.glucose.mg_dl() / MG_DL_PER_MMOL_L, GlucoseUnit::MmolL).unwrap();
        }
        let (one, other) = (ask(&history, now, Occasion::Look, None), ask(&other, now, Occasion::Look, None));
        prop_assert_eq!(one.verdict, other.verdict);
        let (one, other) = (one.estimate.unwrap(), other.estimate.unwrap());
        prop_assert!((one.blood_mg_dl - other.blood_mg_dl).abs() < 1e-6);
        prop_assert!((one.blood_sd_mg_dl - other.blood_sd_mg_dl).abs() < 1e-6);
    }

    /// What is logged later than the question's moment is not known yet.
    #[test]
    fn the_future_is_not_looked_at(walk in likely_readings(), cut in 0.2..0.9_f64) {
        let (mut history, now) = every_five(&walk);
        history.meter_checks.push(MeterCheck::new(now, mg(55.0)));
        history.doses.push(Dose { at: now, kind: InsulinKind::Rapid, units: 9.0 });
        history.carbohydrate.push(Carbohydrate { at: now, grams: 20.0, purpose: Purpose::Rescue });
        history.symptoms.push(Felt { at: now, symptom: Symptom::FeelsLow });
        history.sensor.push(SensorNote { at: now, event: SensorEvent::inserted(None), sensor: None });
        let asked = noon().plus_minutes((5.0 * walk.len() as f64 * cut).floor());
        prop_assert_eq!(ask(&history, asked, Occasion::Look, None), ask(&history.until(asked), asked, Occasion::Look, None));
    }

    /// Readings that fail to come make the estimate less sure, never surer. On calm readings: a reading that surprises may
    /// rightly make it less sure than none.
    #[test]
    fn missing_readings_never_make_it_surer(level in 80.0..200.0_f64, kept in prop::collection::vec(any::<bool>(), 40)) {
        let calm: Vec<f64> = (0..41).map(|k| (level + f64::from(k % 3)).round()).collect();
        let (history, now) = every_five(&calm);
        let mut gaps = history.clone();
        let mut keep = kept.iter().copied().chain([true]);
        gaps.readings.retain(|_| keep.next().unwrap_or(true));
        let sd = |history| ask(history, now, Occasion::Look, None).estimate.unwrap().blood_sd_mg_dl;
        prop_assert!(sd(&gaps) >= sd(&history) * 0.99, "{} {}", sd(&gaps), sd(&history));
    }
}
