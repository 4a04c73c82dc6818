//! What the prompts are worth on open data, as far as it must not get worse. Skipped where the data are not beside the checkout.
//!
//! The baselines are fitted on other people. What is asked for are floors, below what was reached and some below the project's aim: they
//! catch a loss, not a small one. What was reached is in `tests/docs/evaluation.md`.
#![allow(clippy::expect_used)] // data that are there and cannot be read are a failed test

use ebbstead_tests::evaluation::{Named, Split, behind_lag, compression, readings};
use ebbstead_tests::replay;
use ebbstead_tests::shared::folder_or_skip;
use ebbstead_tests::traces::{csv_files, sets};

fn of<'a, T>(named: &'a [Named<T>], who: &str) -> &'a T {
    &named.iter().find(|one| one.who == who).expect("is scored").scores
}

#[test]
fn forecasts_and_prompts_beat_simpler_rules() {
    let Some(shared) = folder_or_skip("forecasts and prompts on open data") else { return };
    let split = Split::of(sets(&shared.join("open-data/cgm")).expect("are there"), &[], 99);
    let regression = split.regression().expect("can be read").expect("can be fitted");
    let scores = readings(&split, Some(&regression), &replay::through_core, |_, _| ()).expect("can be read");
    for set in &scores.sets {
        let (ours, simple) = (of(&set.forecast, "ebbstead"), of(&set.forecast, "regression"));
        let name = &set.set;
        assert!(ours.rmse_30_mg_dl <= simple.rmse_30_mg_dl, "{name}: {ours:?} {simple:?}");
        assert!(ours.auc >= simple.auc, "{name}: {ours:?} {simple:?}");
        assert!(ours.brier <= simple.brier, "{name}: {ours:?} {simple:?}");
        // The aim is 0.03, found up to 0.034; but where so few chances would be off by more if they were right: there sampling decides.
        let floor = ours.if_right.expect("has falls").ece_95;
        assert!(ours.ece <= floor.max(0.035), "{name}: {ours:?}");
    }
    let (ours, slope) = (of(&scores.all_falls, "ebbstead"), of(&scores.all_falls, "slope rule"));
    // Aims: 0.17 needless with 0.93 prompted before 70 and 0.85 in good time. Data that shaped the engine: no proof, a floor.
    println!("{ours:?} {slope:?}");
    assert!(ours.needless.expect("falls") <= slope.needless.expect("falls") / 3.5, "{ours:?} {slope:?}");
    assert!(ours.needless.expect("falls") <= 0.20, "{ours:?}");
    assert!(ours.in_good_time.expect("lows") >= 0.80, "{ours:?} {slope:?}");
    assert!(ours.before_70.expect("lows") >= 0.89, "{ours:?}");
}

#[test]
fn blood_glucose_is_found_behind_the_lag() {
    let Some(shared) = folder_or_skip("blood glucose of virtual wearers") else { return };
    let wearers = csv_files(&shared.join("open-data/virtual")).expect("are there");
    let lag = behind_lag(&wearers, &replay::through_core, |_| ()).expect("can be read").expect("are long enough");
    assert!(lag.estimate_fast_mg_dl <= 0.75 * lag.sensor_fast_mg_dl, "{lag:?}");
    assert!((0.93..=0.97).contains(&lag.covered), "{lag:?}");
}

#[test]
fn pressed_sensors_are_distinguished_from_lows() {
    let Some(shared) = folder_or_skip("pressed sensors on open data") else { return };
    let split = Split::of(sets(&shared.join("open-data/cgm")).expect("are there"), &[], 99);
    let wearers = csv_files(&shared.join("open-data/virtual")).expect("are there");
    let scores = compression(&split, &wearers, &replay::through_core, 8, |_| ()).expect("can be read");
    // 0.88 a published detector reached on other nights (Baysal et al., J Diabetes Sci Technol 2014;8:1091-1096).
    assert!(scores.caught.expect("spells") >= 0.90, "{scores:?}");
    assert!(scores.true_lows_doubted.expect("lows") <= 0.05, "{scores:?}");
    // The aim is 0.015; a rate with momentum, which the forecast needs, costs the rest.
    assert!(scores.quiet_doubted.expect("nights") <= 0.035, "{scores:?}");
}
