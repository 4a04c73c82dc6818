//! Published values, through the public interface alone. The source stands beside each check; "computed" means from the
//! published formula, by other code than ours.

use ebbstead_core::body::{carbohydrate, insulin, lag::Lag};
use ebbstead_core::log::{Carbohydrate, Dose, InsulinKind, Purpose};
use ebbstead_core::time::Moment;
use ebbstead_core::units::{Glucose, GlucoseUnit, MG_DL_PER_MMOL_L, Pace, Rate};
use ebbstead_core::wearer::{FLOOR_LINE_MG_DL, HIGH_LINE_MG_DL, LOW_LINE_MG_DL, Wearer};

fn near(got: f64, expected: f64, within: f64) {
    assert!((got - expected).abs() <= within, "{got} is not {expected} within {within}");
}

/// LOINC group LG7967-5: glucose has a molecular weight of 180.156 g/mol.
#[test]
fn the_conversion_is_glucoses_molar_mass() {
    near(MG_DL_PER_MMOL_L, 180.156 / 10.0, 1e-12);
    // Computed. The fourth decimal is the factor's own.
    for (mg_dl, mmol_l) in [(40.0, 2.2203), (100.0, 5.5507), (180.0, 9.9913), (400.0, 22.2030)] {
        near(Glucose::from_mg_dl(mg_dl).unwrap().mmol_l(), mmol_l, 5e-5);
    }
}

/// Battelino T, et al., Diabetes Care 2019;42:1593-1603, tables: the consensus' lines in both units.
#[test]
fn the_consensus_lines_read_the_same_in_both_units() {
    for (mg_dl, mmol_l) in
        [(54.0, "3.0"), (63.0, "3.5"), (70.0, "3.9"), (140.0, "7.8"), (180.0, "10.0"), (250.0, "13.9")]
    {
        assert_eq!(GlucoseUnit::MmolL.amount(mg_dl), mmol_l);
        assert_eq!(GlucoseUnit::MgDl.amount(mg_dl), format!("{mg_dl:.0}"));
    }
    // 3.9 mmol/L is not 70 mg/dL on the way back, so a line must never make the journey.
    near(Glucose::from_mmol_l(3.9).unwrap().mg_dl(), 70.26, 5e-3);
    near(Glucose::from_mmol_l(13.9).unwrap().mg_dl(), 250.42, 5e-3);
}

/// Battelino 2019: low is below 70, serious below 54, high above 180 mg/dL; 70 and 180 are in range.
#[test]
fn the_lines_are_the_consensus_lines() {
    near(FLOOR_LINE_MG_DL, 54.0, 0.0);
    near(LOW_LINE_MG_DL, 70.0, 0.0);
    near(HIGH_LINE_MG_DL, 180.0, 0.0);
    let wearer = Wearer::default();
    near(wearer.low_line.mg_dl(), LOW_LINE_MG_DL, 0.0);
    near(wearer.high_line.mg_dl(), HIGH_LINE_MG_DL, 0.0);
}

/// The bands 1, 2 and 3 mg/dL/min are those published with continuous sensors' trend displays; which word belongs to an edge is
/// ours. In 30 minutes the edges come to 30, 60 and 90 mg/dL, or 1.7, 3.3 and 5.0 mmol/L: common practice, no source.
#[test]
fn rate_words_follow_the_published_bands() {
    let pace = |mg_dl_min: f64| Rate::from_mg_dl_min(mg_dl_min).pace();
    for (mg_dl_min, word) in [
        (0.0, Pace::Level),
        (0.2, Pace::Level),
        (0.9, Pace::Slow),
        (1.1, Pace::Moderate),
        (1.9, Pace::Moderate),
        (2.1, Pace::Fast),
        (2.9, Pace::Fast),
        (3.1, Pace::VeryFast),
        (8.0, Pace::VeryFast),
    ] {
        assert_eq!(pace(mg_dl_min), word, "rising {mg_dl_min}");
        assert_eq!(pace(-mg_dl_min), word, "falling {mg_dl_min}");
    }
    for (edge, mmol_l) in [(1.0, "1.7"), (2.0, "3.3"), (3.0, "5.0")] {
        assert_eq!(GlucoseUnit::MmolL.amount(edge * 30.0), mmol_l);
    }
}

/// Rebrin and Steil's model (Am J Physiol 1999;277:E561-E571), computed: blood at 100 - 2 t mg/dL, both equal at the start.
#[test]
fn a_falling_sensor_reads_high_by_the_lag() {
    for (tau, minutes, interstitial) in
        [(6.0, 15.0, 81.015), (6.0, 30.0, 51.919), (10.0, 15.0, 85.537), (10.0, 30.0, 59.004)]
    {
        let lag = Lag::of_minutes(tau).unwrap();
        near(lag.interstitial_mg_dl(100.0, 100.0, -2.0, minutes), interstitial, 5e-4);
    }
}

/// At insulin-induced lows the sensor read 85.5, 93.1 and 99.5 mg/dL when blood was 64.0, 72.7 and 82.8 (375-P, Diabetes
/// 2024;73 Suppl 1, n = 29): 17 to 22 mg/dL high, which a lag of 10 min gives at 1.7 to 2.2 mg/dL/min.
#[test]
fn the_lag_is_of_the_size_met_at_real_lows() {
    let lag = Lag::of_minutes(ebbstead_core::body::lag::WHOLE_MINUTES).unwrap();
    for (sensor, blood) in [(85.5, 64.0), (93.1, 72.7), (99.5, 82.8)] {
        let rate = -(sensor - blood) / lag.minutes();
        assert!((-2.2..=-1.6).contains(&rate), "{rate}");
        near(lag.blood_mg_dl(sensor, rate), blood, 1e-9);
    }
}

/// Hovorka R, et al., Physiol Meas 2004;25:905-920, computed from the closed forms.
#[test]
fn insulin_and_meals_follow_the_published_model() {
    let now = Moment::parse("2026-03-01T20:00:00+01:00").unwrap();
    let minutes_ago = |minutes: f64| now.plus_minutes(-minutes);
    for (minutes, left) in [(0.0, 1.0), (60.0, 0.7024), (120.0, 0.3590), (240.0, 0.0683), (360.0, 0.0108)] {
        let dose = Dose { at: minutes_ago(minutes), kind: InsulinKind::Rapid, units: 10.0 };
        near(insulin::on_board_units(&[dose], now), 10.0 * left, 1e-3);
    }
    for (minutes, absorbed) in [(20.0, 0.0902), (40.0, 0.2642), (120.0, 0.8009)] {
        let meal = Carbohydrate { at: minutes_ago(minutes), grams: 100.0, purpose: Purpose::Meal };
        near(carbohydrate::arriving_g(&[meal], now), 100.0 * (1.0 - absorbed), 1e-2);
    }
    // 1 U at 70 kg: plasma insulin peaks with 5.71 mU/L after 63 min, and its area is u0 / (VI ke).
    let plasma = |minutes: f64| insulin::plasma_mu_per_l(1.0, 70.0, minutes);
    assert!(plasma(63.3) > plasma(60.0) && plasma(63.3) > plasma(67.0));
    near(plasma(63.3), 5.7105, 1e-4);
    let area: f64 = (0..20_000_u32).map(|k| plasma(f64::from(k) * 0.1 + 0.05) * 0.1).sum();
    near(area, 862.66, 0.05);
}
