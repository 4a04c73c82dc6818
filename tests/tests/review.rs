//! The review against published values, and against an independent computation in NumPy on open data.
//!
//! "Computed" means from the published formula, by other code than ours. tests/reference/review_reference.py made
//! tests/fixtures/review.json.
#![allow(clippy::unwrap_used, clippy::panic)] // a test may stop where it stands

use std::collections::BTreeMap;
use std::path::Path;

use ebbstead_core::log::{Beyond, History, Reading, Shown};
use ebbstead_core::review::metrics::swings::mage_mg_dl;
use ebbstead_core::review::metrics::{
    Aim, BloodGlucoseIndices, GlycemiaRisk, Group, Held, Lines, Need, Part, Risk, Shares, Side, Spread, episodes,
    gmi_mmol_mol, gmi_percent, risk::symmetric, swings::modd_mg_dl,
};
use ebbstead_core::review::patterns::patterns;
use ebbstead_core::review::{Lasting, Period, Review, ReviewOptions};
use ebbstead_core::sentences::review as sentences;
use ebbstead_core::statistics::percentile;
use ebbstead_core::time::Moment;
use ebbstead_core::units::{Glucose, GlucoseUnit, MG_DL_PER_MMOL_L};
use ebbstead_core::wearer::{Language, Wearer};
use ebbstead_core::words::Words;
use ebbstead_tests::{shared, traces};
use proptest::prelude::*;
use serde::Deserialize;

fn near(got: f64, expected: f64, within: f64) {
    assert!((got - expected).abs() <= within, "{got} is not {expected} within {within}");
}

fn start() -> Moment {
    Moment::parse("2026-01-01T00:00:00+00:00").unwrap()
}

fn mg(amount: f64) -> Glucose {
    Glucose::from_mg_dl(amount).unwrap()
}

/// Amounts that stand for five minutes each.
fn every_five(amounts: &[f64]) -> Vec<Held> {
    let one = |(k, mg_dl): (usize, &f64)| Held {
        at: start().plus_minutes(5.0 * k as f64),
        shown: mg(*mg_dl).into(),
        minutes: 5.0,
    };
    amounts.iter().enumerate().map(one).collect()
}

/// The amounts that many of the worked values below are of.
const WORKED: [f64; 8] = [65.0, 90.0, 120.0, 180.0, 250.0, 54.0, 100.0, 140.0];

/// Battelino T, et al., Diabetes Care 2019;42:1593-1603: 54-69 low, 70-180 in range, 181-250 high. In mmol/L 3.9 to 10.0 are in
/// range, and 3.0 and 13.9 are the outer ends of low and high.
#[test]
fn the_consensus_bands_hold_in_both_units() {
    let band = |mg_dl: f64| {
        let shares = Shares::of(&every_five(&[mg_dl]), Lines::of(Group::Adult)).unwrap();
        let all = [shares.very_low, shares.low, shares.in_range, shares.high, shares.very_high];
        all.iter().position(|share| *share > 99.0).unwrap()
    };
    for (mg_dl, expected) in
        [(53.0, 0), (54.0, 1), (69.0, 1), (70.0, 2), (180.0, 2), (181.0, 3), (250.0, 3), (251.0, 4)]
    {
        assert_eq!(band(mg_dl), expected, "{mg_dl} mg/dL");
    }
    for (mmol_l, expected) in [(2.9, 0), (3.0, 1), (3.8, 1), (3.9, 2), (10.0, 2), (10.1, 3), (13.9, 3), (14.0, 4)] {
        assert_eq!(band(mmol_l * MG_DL_PER_MMOL_L), expected, "{mmol_l} mmol/L");
    }
}

/// Battelino 2019, tables 2 and 3; that the totals include the outer band is the table's own.
#[test]
fn the_aims_are_the_consensus_aims() {
    let reached =
        |group: Group, shares: Shares| -> Vec<bool> { Aim::of(group).iter().map(|aim| aim.reached(&shares)).collect() };
    let shares = Shares { very_low: 0.9, low: 3.0, in_range: 71.2, high: 20.0, very_high: 4.9 };
    assert_eq!(reached(Group::Adult, shares), [true; 5]);
    let shares = Shares { very_low: 1.0, low: 3.0, in_range: 70.0, high: 20.0, very_high: 5.0 };
    assert_eq!(reached(Group::Adult, shares), [false; 5]);
    let parts: Vec<(Part, f64)> = Aim::of(Group::OlderOrHighRisk).iter().map(|aim| (aim.part, aim.percent)).collect();
    assert_eq!(parts, [(Part::InRange, 50.0), (Part::BelowLow, 1.0), (Part::AboveVeryHigh, 10.0)]);
    let pregnancy = Lines::of(Group::Type1Pregnancy);
    assert_eq!((pregnancy.low_mg_dl, pregnancy.high_mg_dl), (63.0, 140.0));
}

/// Bergenstal RM, et al., Diabetes Care 2018;41:2275-2280, the published table; mean 145 mg/dL and 6.8 % stand in the example
/// of the HL7 CGM implementation guide 1.0.0.
#[test]
fn gmi_is_the_published_table() {
    for (mean, gmi) in [
        (100.0, 5.7),
        (125.0, 6.3),
        (145.0, 6.8),
        (150.0, 6.9),
        (175.0, 7.5),
        (200.0, 8.1),
        (225.0, 8.7),
        (250.0, 9.3),
        (275.0, 9.9),
        (300.0, 10.5),
        (350.0, 11.7),
    ] {
        near(gmi_percent(mean), gmi, 0.05 + 1e-9);
    }
    for (mean, gmi) in [(5.0, 36.2), (7.0, 45.7), (8.0, 50.4), (10.0, 59.8), (14.0, 78.6), (18.0, 97.4)] {
        near(gmi_mmol_mol(mean * MG_DL_PER_MMOL_L), gmi, 0.05 + 1e-9);
    }
}

/// Kovatchev BP, et al., Diabetes Care 1997;20:1655-1658. Its own conditions: 10 f^2 is 100 at both ends of the scale and 0 at
/// 112.5 mg/dL. The indices of the set are computed.
#[test]
fn the_risk_scale_meets_its_own_conditions() {
    near(10.0 * symmetric(20.0).powi(2), 100.0, 0.1);
    near(10.0 * symmetric(600.0).powi(2), 100.0, 0.1);
    near(symmetric(112.517), 0.0, 1e-4);
    for (mg_dl, f) in [(40.0, -1.9083), (54.0, -1.3587), (70.0, -0.8806), (180.0, 0.8792), (400.0, 2.3884)] {
        near(symmetric(mg_dl), f, 5e-5);
    }
    let indices = BloodGlucoseIndices::of(&every_five(&WORKED)).unwrap();
    near(indices.low, 3.8775, 5e-5);
    near(indices.high, 3.9968, 5e-5);
    assert_eq!((indices.low_risk(), indices.high_risk()), (Risk::Moderate, Risk::Low));
}

/// Klonoff DC, et al., J Diabetes Sci Technol 2023;17:1226-1242; computed.
#[test]
fn the_glycemia_risk_index_is_its_formula() {
    for (very_low, low, very_high, high, index, zone) in [
        (1.0, 3.0, 5.0, 20.0, 34.2, 'B'),
        (0.0, 2.0, 0.0, 15.0, 16.8, 'A'),
        (2.0, 6.0, 10.0, 25.0, 56.4, 'C'),
        (5.0, 10.0, 20.0, 20.0, 87.0, 'E'),
        (20.0, 20.0, 30.0, 30.0, 100.0, 'E'),
    ] {
        let in_range = 100.0 - very_low - low - very_high - high;
        let risk = GlycemiaRisk::of(&Shares { very_low, low, in_range, high, very_high });
        near(risk.index, index, 1e-9);
        assert_eq!(risk.zone(), zone);
    }
}

/// Computed: mean 124.875, SD with n - 1 64.797, CV 51.89 %, J-index 35.976 (formula: PMC3160264, table).
#[test]
fn spread_is_the_sample_form() {
    let spread = Spread::of(&every_five(&WORKED)).unwrap();
    near(spread.mean_mg_dl, 124.875, 1e-9);
    near(spread.sd_mg_dl, 64.797, 5e-4);
    near(spread.cv_percent(), 51.89, 5e-3);
    near(spread.j_index(), 35.976, 5e-4);
}

/// Service FJ, et al., Diabetes 1970;19:644-655, a worked trace: SD 33.094; up 60, 80, 40, down 70, 60, 50, all above one SD.
/// A ripple below one SD changes nothing.
#[test]
fn mage_is_its_definitions_worked_trace() {
    near(mage_mg_dl(&every_five(&[100.0, 160.0, 90.0, 170.0, 110.0, 150.0, 100.0])).unwrap(), 60.0, 1e-9);
    near(mage_mg_dl(&every_five(&[160.0, 90.0, 170.0, 110.0, 150.0, 100.0])).unwrap(), 60.0, 1e-9);
    let rippled = [100.0, 130.0, 125.0, 160.0, 155.0, 158.0, 90.0, 100.0, 95.0, 170.0, 110.0, 150.0, 100.0];
    near(mage_mg_dl(&every_five(&rippled)).unwrap(), 60.0, 1e-9);
    assert_eq!(mage_mg_dl(&every_five(&[100.0; 5])), None);
}

/// Molnar GD, et al., Diabetologia 1972;8:342-348: {100, 120, 140} and {110, 110, 150} a day later differ by 10.
#[test]
fn modd_compares_with_the_day_before() {
    let mut held = every_five(&[100.0, 120.0, 140.0]);
    held.extend(every_five(&[110.0, 110.0, 150.0]).iter().map(|one| Held { at: one.at.plus_minutes(1440.0), ..*one }));
    let (modd, minutes) = modd_mg_dl(&held);
    near(modd.unwrap(), 10.0, 1e-9);
    near(minutes, 15.0, 1e-9);
}

/// numpy 2.4.6: `numpy.percentile([3, 1, 4, 1, 5, 9, 2, 6], [0, 10, 25, 50, 75, 90, 100])`.
#[test]
fn percentiles_are_numpys() {
    let mut amounts: Vec<(f64, f64)> = [3.0, 1.0, 4.0, 1.0, 5.0, 9.0, 2.0, 6.0].map(|amount| (amount, 5.0)).to_vec();
    amounts.sort_by(|a, b| a.0.total_cmp(&b.0));
    for (percent, expected) in
        [(0.0, 1.0), (10.0, 1.0), (25.0, 1.75), (50.0, 3.5), (75.0, 5.25), (90.0, 6.9), (100.0, 9.0)]
    {
        near(percentile(&amounts, percent).unwrap(), expected, 1e-9);
    }
    assert_eq!(percentile(&[], 50.0), None);
    near(percentile(&[(7.0, 5.0)], 90.0).unwrap(), 7.0, 1e-12);
}

/// Danne T, et al., Diabetes Care 2017;40:1631-1640: at least 15 minutes beyond, over after at least 15 minutes back.
#[test]
fn an_episode_lasts_a_quarter_of_an_hour_and_so_does_its_end() {
    let found = |amounts: &[f64]| -> Vec<(f64, f64, bool)> {
        let summary = |one: &ebbstead_core::review::metrics::Episode| {
            (one.from.minutes_since(start()), one.until.minutes_since(start()), one.ended)
        };
        episodes(&every_five(amounts), Side::Below(70.0)).iter().map(summary).collect()
    };
    assert_eq!(found(&[80.0, 65.0, 65.0, 80.0, 80.0, 80.0]), []);
    assert_eq!(found(&[80.0, 65.0, 65.0, 65.0, 80.0, 80.0, 80.0]), [(5.0, 20.0, true)]);
    let twice_back = [65.0, 65.0, 65.0, 80.0, 80.0, 65.0, 80.0, 80.0, 80.0];
    assert_eq!(found(&twice_back), [(0.0, 30.0, true)], "ten minutes back are no end");
    assert_eq!(found(&[65.0, 65.0, 65.0, 80.0]), [(0.0, 15.0, false)], "the end is not seen");
    let mut gap = every_five(&[65.0, 65.0, 65.0]);
    gap.extend(every_five(&[65.0, 65.0, 65.0]).iter().map(|one| Held { at: one.at.plus_minutes(60.0), ..*one }));
    assert_eq!(episodes(&gap, Side::Below(70.0)).len(), 2, "nobody knows what was in the gap");
}

fn review(readings: Vec<Reading>, days: u16) -> Review {
    let history = History { readings, ..History::default() };
    let period = Period::new(start(), start().plus_minutes(f64::from(days) * 1440.0)).unwrap();
    Review::of(&history, &Wearer::default(), period, ReviewOptions::default())
}

fn readings(count: u32, step: f64, amount: impl Fn(u32) -> f64) -> Vec<Reading> {
    (0..count).map(|k| Reading::new(start().plus_minutes(step * f64::from(k)), mg(amount(k)))).collect()
}

#[test]
fn too_little_says_what_is_there_and_what_is_needed() {
    let nothing = review(Vec::new(), 14);
    let need = nothing.shares.unwrap_err();
    assert_eq!((need.of, need.have, need.need), (Need::HoursOfReadings, 0.0, 24.0));
    assert!(need.have.is_sign_positive(), "no minus nought for whoever reads the table");
    assert!(nothing.profile.iter().all(|hour| hour.is_err_and(|need| need.of == Need::DaysAtThisHour)));
    near(nothing.sufficiency.longest_gap_hours, 14.0 * 24.0, 1e-9);

    let one = review(readings(1, 5.0, |_| 100.0), 14);
    assert!(one.spread.is_err() && one.modd_mg_dl.is_err() && one.mage_mg_dl.is_err() && one.gmi_percent.is_err());

    // Three days with a gap of twenty hours.
    let mut three = readings(3 * 288, 5.0, |k| if k % 40 < 20 { 100.0 } else { 180.0 });
    three.retain(|one| !(1500.0..2700.0).contains(&one.at.minutes_since(start())));
    let three = review(three, 3);
    near(three.sufficiency.longest_gap_hours, 20.0, 0.1);
    near(three.sufficiency.covered_hours, 52.0, 0.1);
    assert!(three.spread.is_ok() && !three.sufficiency.enough());
    let need = three.gmi_percent.unwrap_err();
    assert_eq!(need.of, Need::DaysOfReadings);
    near(need.need, 9.8, 1e-9);
    assert!(three.modd_mg_dl.is_err_and(|need| need.of == Need::HoursADayApart));
}

/// Battelino 2019: 14 days, 70 %; every 5 minutes that is 2823 of 4032 readings.
#[test]
fn sufficiency_is_seventy_percent_of_fourteen_days() {
    assert!(review(readings(2823, 5.0, |_| 100.0), 14).sufficiency.enough());
    assert!(!review(readings(2821, 5.0, |_| 100.0), 14).sufficiency.enough());
    assert!(!review(readings(13 * 288, 5.0, |_| 100.0), 13).sufficiency.enough());
}

#[test]
fn one_and_fifteen_minute_readings_weigh_by_time() {
    // A day at 100 read every minute, then a day less a quarter of an hour at 200 read every quarter of an hour.
    let mut mixed = readings(1440, 1.0, |_| 100.0);
    mixed.extend(readings(96, 15.0, |_| 200.0).iter().map(|one| Reading { at: one.at.plus_minutes(1454.0), ..*one }));
    let reviewed = review(mixed, 2);
    let (hundred, two_hundred) = (1440.0, 1426.0);
    near(reviewed.spread.unwrap().mean_mg_dl, (100.0 * hundred + 200.0 * two_hundred) / (hundred + two_hundred), 1e-9);
    near(reviewed.shares.unwrap().high, 100.0 * two_hundred / (hundred + two_hundred), 1e-9);
}

#[test]
fn readings_brought_in_twice_with_times_seconds_apart_are_reviewed_as_once() {
    let amount = |k: u32| if k % 288 < 12 { 50.0 } else { 100.0 + f64::from(k % 50) };
    let once = readings(14 * 288, 5.0, amount);
    let alone = review(once.clone(), 14);
    for seconds in [1.0, 37.0] {
        let later = once.iter().map(|one| Reading { at: one.at.plus_minutes(seconds / 60.0), ..*one });
        let mut twice: Vec<Reading> = once.iter().copied().chain(later).collect();
        twice.sort_by_key(|one| one.at.unix_ms());
        let twice = review(twice, 14);
        assert_eq!(twice.sufficiency.readings, 14 * 288);
        near(twice.sufficiency.share(), 1.0, 1e-6);
        assert_eq!((twice.lows.len(), twice.serious_lows.len()), (alone.lows.len(), 14), "{seconds} s");
    }
}

#[test]
fn readings_far_apart_say_of_no_low_whether_it_lasted() {
    // Two of each day's hourly readings are low: 8 % of the time, and nobody knows for how long.
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    let said = |reviewed: &Review| {
        let looked = patterns(reviewed, &History::default());
        sentences::summary(reviewed, None, &looked, words).join(" ")
    };
    let hourly = review(readings(336, 60.0, |k| if k % 24 < 2 { 65.0 } else { 120.0 }), 14);
    assert_eq!((hourly.sufficiency.alone, hourly.sufficiency.readings), (336, 336));
    assert!(hourly.sufficiency.too_far_apart());
    let hourly = said(&hourly);
    assert!(hourly.contains("cannot be counted") && !hourly.contains("No low lasted"), "{hourly}");
    let steady = review(readings(14 * 288, 5.0, |_| 120.0), 14);
    assert!(steady.sufficiency.alone == 0 && said(&steady).contains("No low lasted"), "{}", said(&steady));
}

#[test]
fn a_steady_record_lacks_no_day_but_swings() {
    let steady = review(readings(14 * 288, 5.0, |_| 110.0), 14);
    let missing = steady.mage_mg_dl.unwrap_err();
    assert_eq!(missing.of, Need::Swings);
    let said = sentences::too_little(missing, Words::new(Language::ENGLISH, GlucoseUnit::MgDl));
    assert!(said.starts_with("no swing larger") && !said.contains("not enough"), "{said}");
}

#[test]
fn a_long_low_is_said_in_hours_and_a_dip_below_54_is_told_from_a_stay() {
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    let said = |reviewed: &Review| {
        let looked = patterns(reviewed, &History::default());
        let lows = reviewed.lows.iter().map(|low| sentences::episode_line(low, words));
        sentences::summary(reviewed, None, &looked, words).into_iter().chain(lows).collect::<Vec<_>>().join("\n")
    };
    // Eight hours below 70, one reading of them below 54.
    let long = review(
        readings(288, 5.0, |k| {
            if k == 50 {
                50.0
            } else if k < 96 {
                60.0
            } else {
                120.0
            }
        }),
        1,
    );
    let said = said(&long);
    assert!(said.contains("0 stayed below 54 mg/dL for a quarter of an hour"), "{said}");
    assert!(said.matches("8 h 0 min").count() == 2 && !said.contains("480"), "{said}");
}

#[test]
fn a_share_at_its_aim_is_written_so_that_its_side_is_seen() {
    // 39 of 4032 readings are 0.97 % of the time, 41 are 1.02 %: the aim is under 1 %.
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    for (below, written, reached) in [(39, "0.97 %", true), (41, "1.02 %", false)] {
        let reviewed = review(readings(14 * 288, 5.0, |k| if k < below { 50.0 } else { 120.0 }), 14);
        let line = sentences::range_lines(&reviewed, words).remove(2);
        assert!(line.value.starts_with(written), "{line:?}");
        assert_eq!(line.note.contains("reached"), reached, "{line:?}");
    }
}

/// A consensus report counts time by range (Battelino 2019), whatever the sensor's own limit is.
#[test]
fn what_was_too_low_or_too_high_to_measure_counts_by_its_range() {
    let day = |low: f64, high: f64| {
        let reading = |k: u32| {
            let (amount, beyond) = match k % 288 {
                0..12 => (low, Some(Beyond::Below)),
                100..112 => (high, Some(Beyond::Above)),
                _ => (120.0, None),
            };
            Reading::of(start().plus_minutes(5.0 * f64::from(k)), Shown { glucose: mg(amount), beyond })
        };
        review((0..14 * 288).map(reading).collect(), 14)
    };
    // A limit that lies on the line itself is beyond it too; one that lies inside the range says no more than itself.
    for (low, high, very_low, very_high) in
        [(40.0, 400.0, true, true), (54.0, 250.0, true, true), (60.0, 200.0, false, false)]
    {
        let reviewed = day(low, high);
        let shares = reviewed.shares.unwrap();
        near(shares.below(), 100.0 * 12.0 / 288.0, 1e-9);
        near(shares.above(), 100.0 * 12.0 / 288.0, 1e-9);
        near(shares.very_low, if very_low { shares.below() } else { 0.0 }, 1e-9);
        near(shares.very_high, if very_high { shares.above() } else { 0.0 }, 1e-9);
        assert_eq!((reviewed.lows.len(), reviewed.highs.len()), (14, 14));
        assert_eq!(reviewed.serious_lows.len(), if very_low { 14 } else { 0 });
        assert_eq!(reviewed.sufficiency.beyond, 14 * 24);
        // Mean by the limit.
        near(reviewed.spread.unwrap().mean_mg_dl, (12.0 * low + 12.0 * high + 264.0 * 120.0) / 288.0, 1e-9);
    }
    let reviewed = day(40.0, 400.0);
    let words = |language| Words::new(language, GlucoseUnit::MgDl);
    let said = |language, sentence: &str| {
        sentences::basis(&reviewed, words(language)).iter().filter(|one| one.starts_with(sentence)).count()
    };
    assert_eq!(said(Language::ENGLISH, "336 readings too low or too high to measure"), 1);
    assert_eq!(said(Language::GERMAN, "336 Werte zu tief oder zu hoch zum Messen"), 1);
    let low = sentences::episode_line(&reviewed.lows[0], words(Language::ENGLISH));
    assert!(low.contains("60 min, too low to measure (below 40 mg/dL)"), "{low}");
    let none = review(readings(14 * 288, 5.0, |_| 120.0), 14);
    assert!(!sentences::basis(&none, words(Language::ENGLISH)).iter().any(|one| one.contains("to measure")));
}

/// Readings every five minutes from a time, by a clock that is put on an hour on 29 March 2026 at 01:00 UTC.
fn through_summer_time(from: &str, days: u32) -> Vec<Reading> {
    let (from, change) = (Moment::parse(from).unwrap(), Moment::parse("2026-03-29T01:00:00Z").unwrap());
    let reading = |k: u32| {
        let at = from.plus_minutes(5.0 * f64::from(k));
        let offset = if at.is_before(change) { 60 } else { 120 };
        Reading::new(Moment::new(at.unix_ms(), offset).unwrap(), mg(if k % 288 < 30 { 60.0 } else { 120.0 }))
    };
    (0..288 * days).map(reading).collect()
}

#[test]
fn a_review_begins_at_the_time_of_day_it_ends_at_when_the_clock_was_put_on() {
    let readings = through_summer_time("2026-02-15T00:00:00+01:00", 60);
    let history = History { readings, ..History::default() };
    let until = Moment::parse("2026-04-05T00:00:00+02:00").unwrap();
    let (review, before) =
        Review::with_before(&history, &Wearer::default(), (until, 14), ReviewOptions::default()).unwrap();
    assert_eq!(review.period.from().to_rfc3339(), "2026-03-22T00:00:00+01:00");
    assert_eq!(before.period.from().to_rfc3339(), "2026-03-08T00:00:00+01:00");
    assert_eq!((review.sufficiency.dates, review.sufficiency.enough()), (14, true));
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    let said = sentences::basis(&review, words).join(" ");
    assert!(said.contains("22 Mar 2026, 00:00 to 5 Apr 2026, 00:00") && said.contains("on 14 dates"), "{said}");
    assert!(said.contains("of 14 days"), "{said}");
}

#[test]
fn what_is_compared_with_the_time_before_is_covered_as_the_consensus_asks() {
    let until = Moment::parse("2026-03-20T00:00:00+01:00").unwrap();
    let compared = |from: &str| {
        let mut readings = through_summer_time(from, 60);
        readings.retain(|one| one.at.is_before(until));
        // All is high before the fortnight that is reviewed.
        let begins = Moment::parse("2026-03-06T00:00:00+01:00").unwrap();
        for one in readings.iter_mut().filter(|one| one.at.is_before(begins)) {
            one.glucose = mg(250.0);
        }
        let history = History { readings, ..History::default() };
        let options = ReviewOptions::default();
        let (review, before) = Review::with_before(&history, &Wearer::default(), (until, 14), options).unwrap();
        let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
        let looked = ebbstead_core::review::patterns::patterns(&review, &history);
        sentences::summary(&review, Some(&before), &looked, words).join(" ")
    };
    assert!(!compared("2026-03-05T00:00:00+01:00").contains("time before"), "one day is no time before");
    assert!(compared("2026-02-20T00:00:00+01:00").contains("points more in range than in the time before"));
}

/// Meek et al., Diabetes Care 2025, doi 10.2337/dc24-2494 (the CONCEPTT trial): GMI is not an accurate replacement for HbA1c in pregnancy
/// with type 1 diabetes.
#[test]
fn in_pregnancy_gmi_is_said_to_be_no_stand_in() {
    let history = History { readings: through_summer_time("2026-02-15T00:00:00+01:00", 30), ..History::default() };
    let until = Moment::parse("2026-03-15T00:00:00+01:00").unwrap();
    for (group, warned) in [(Group::Type1Pregnancy, true), (Group::Adult, false)] {
        let options = ReviewOptions { group, ..ReviewOptions::default() };
        let period = Period::days_before(until, 14).unwrap();
        let review = Review::of(&history, &Wearer::default(), period, options);
        let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
        let gmi = sentences::figure_lines(&review, words).swap_remove(1);
        assert_eq!(gmi.note.contains("in pregnancy"), warned, "{gmi:?}");
    }
}

#[test]
fn a_list_that_leaves_lows_out_says_how_many() {
    let history = History { readings: through_summer_time("2026-02-15T00:00:00+01:00", 60), ..History::default() };
    let until = Moment::parse("2026-03-15T00:00:00+01:00").unwrap();
    let wearer = Wearer::default();
    let page = |days| {
        let review = Review::of(&history, &wearer, Period::days_before(until, days).unwrap(), ReviewOptions::default());
        let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
        format!("{:?}", ebbstead_core::pages::review::page(&review, None, &history, &wearer, words))
    };
    assert!(page(14).contains("and 2 earlier ones") && page(13).contains("and 1 earlier one\""));
    assert!(!page(12).contains("earlier one"));
}

#[test]
fn two_sensors_at_once_count_no_minute_twice() {
    let mut both = readings(14 * 288, 5.0, |_| 100.0);
    both.extend(readings(14 * 288, 5.0, |_| 140.0).iter().map(|one| Reading { at: one.at.plus_minutes(2.0), ..*one }));
    both.sort_by_key(|one| one.at);
    let reviewed = review(both, 14);
    near(reviewed.sufficiency.covered_hours, 14.0 * 24.0, 0.1);
}

#[test]
fn the_profile_follows_the_wearers_clock_through_travel_and_clock_changes() {
    // Low between 03:00 and 04:00 of the wearer's clock, ten days at home and ten days nine zones east.
    let from = Moment::parse("2026-10-20T00:00:00+02:00").unwrap();
    let mut all = Vec::new();
    for k in 0..20 * 288 {
        let instant = from.plus_minutes(5.0 * f64::from(k)).unix_ms();
        let offset = match k {
            k if k < 5 * 288 + 36 => 120, // summer time ends on the 25th at 03:00
            k if k < 10 * 288 => 60,
            _ => 600,
        };
        let at = Moment::new(instant, offset).unwrap();
        let glucose = mg(if (180..240).contains(&at.minute_of_day()) { 60.0 } else { 120.0 });
        all.push(Reading::new(at, glucose));
    }
    let history = History { readings: all, ..History::default() };
    let period = Period::new(from, from.plus_minutes(20.0 * 1440.0)).unwrap();
    let reviewed = Review::of(&history, &Wearer::default(), period, ReviewOptions::default());
    near(reviewed.sufficiency.covered_hours, 480.0, 0.1);
    for hour in reviewed.profile {
        let hour = hour.unwrap();
        near(hour.median_mg_dl(), if hour.hour == 3 { 60.0 } else { 120.0 }, 1e-9);
    }
    assert!(reviewed.lows.iter().all(|low| low.at_night));
}

#[derive(Deserialize)]
struct Expected {
    readings: usize,
    covered_minutes: f64,
    mean: f64,
    sd: f64,
    shares: [f64; 5],
    lbgi: f64,
    hbgi: f64,
    gri: f64,
    mage: Option<f64>,
    modd: Option<f64>,
    modd_minutes: f64,
    hours: Vec<Option<[f64; 5]>>,
    episodes: [(usize, f64); 4],
}

fn expected() -> BTreeMap<String, Expected> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/review.json");
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

fn compare(name: &str, minutes: &[f64], mg_dl: &[f64], expected: &Expected) {
    let at = |minute: f64| Moment::new((minute * 60_000.0).round() as i64, 0).unwrap();
    let readings: Vec<Reading> =
        minutes.iter().zip(mg_dl).map(|(minute, amount)| Reading::new(at(*minute), mg(*amount))).collect();
    let period = Period::new(readings[0].at, readings[readings.len() - 1].at.plus_minutes(60.0)).unwrap();
    let history = History { readings, ..History::default() };
    let reviewed = Review::of(&history, &Wearer::default(), period, ReviewOptions::default());
    let close = |what: &str, got: f64, expected: f64| {
        assert!((got - expected).abs() <= 1e-7 * expected.abs().max(1.0), "{name}: {what}: {got} is not {expected}");
    };
    assert_eq!(reviewed.sufficiency.readings, expected.readings, "{name}");
    close("covered", reviewed.sufficiency.covered_hours * 60.0, expected.covered_minutes);
    let (spread, shares, indices) = (reviewed.spread.unwrap(), reviewed.shares.unwrap(), reviewed.indices.unwrap());
    close("mean", spread.mean_mg_dl, expected.mean);
    close("SD", spread.sd_mg_dl, expected.sd);
    let shares = [shares.very_low, shares.low, shares.in_range, shares.high, shares.very_high];
    shares.iter().zip(expected.shares).for_each(|(got, expected)| close("share", *got, expected));
    close("LBGI", indices.low, expected.lbgi);
    close("HBGI", indices.high, expected.hbgi);
    close("GRI", reviewed.glycemia_risk.unwrap().index, expected.gri);
    match expected.mage {
        Some(mage) => close("MAGE", reviewed.mage_mg_dl.unwrap(), mage),
        None => assert!(reviewed.mage_mg_dl.is_err(), "{name}"),
    }
    match expected.modd.filter(|_| expected.modd_minutes >= 1440.0) {
        Some(modd) => close("MODD", reviewed.modd_mg_dl.unwrap(), modd),
        None => assert!(reviewed.modd_mg_dl.is_err(), "{name}"),
    }
    for (hour, expected) in reviewed.profile.iter().zip(&expected.hours) {
        match (hour, expected) {
            (Ok(hour), Some(expected)) => {
                hour.mg_dl.iter().zip(expected).for_each(|(got, expected)| close("percentile", *got, *expected));
            }
            (Err(_), None) => {}
            (hour, expected) => panic!("{name}: {hour:?} is not {expected:?}"),
        }
    }
    let all: [&[Lasting]; 4] = [&reviewed.lows, &reviewed.serious_lows, &reviewed.highs, &reviewed.very_highs];
    for (found, (count, minutes)) in all.iter().zip(expected.episodes) {
        assert_eq!(found.len(), count, "{name}: episodes");
        close("minutes of episodes", found.iter().map(|one| one.episode.minutes()).sum(), minutes);
    }
}

/// The same walk as `invented` in review_reference.py.
fn invented(steps: &[u32], days: u32, seed: u64) -> (Vec<f64>, Vec<f64>) {
    let begin = start().unix_ms() as f64 / 60_000.0;
    let (mut minutes, mut now, mut k) = (Vec::new(), 0, 0);
    while now < days * 1440 {
        minutes.push(begin + f64::from(now));
        now += steps[k / 100 % steps.len()];
        k += 1;
        if steps.len() > 1 && k % 177 == 0 {
            now += 240;
        }
    }
    let (mut seed, mut level) = (seed, 120_i64);
    let walk = minutes.iter().map(|_| {
        seed = (seed * 1_103_515_245 + 12345) % (1 << 31);
        level += ((seed >> 8) % 25) as i64 - 12 + i64::from(level < 100) - i64::from(level > 190);
        level = level.clamp(40, 320);
        level as f64
    });
    let mg_dl = walk.collect();
    (minutes, mg_dl)
}

/// numpy.percentile's own percentiles where readings are evenly spaced, and every other figure.
#[test]
fn invented_traces_agree_with_numpy() {
    let expected = expected();
    let (minutes, mg_dl) = invented(&[5], 20, 1);
    compare("regular", &minutes, &mg_dl, &expected["invented/regular"]);
    let (minutes, mg_dl) = invented(&[1, 5, 15], 20, 2);
    compare("mixed", &minutes, &mg_dl, &expected["invented/mixed"]);
}

/// AZT1D (doi:10.17632/gk9m674wcx.1, CC BY 4.0), BrisT1D (arXiv:2507.17757, CC BY 4.0) and PhysioCGM (Sci Data 2025;12:1822, CC0).
#[test]
fn open_data_agree_with_numpy() {
    let Some(folder) = shared::folder_or_skip("the review on open data") else { return };
    let mut compared = 0;
    for (name, expected) in expected().iter().filter(|(name, _)| !name.starts_with("invented")) {
        let trace = traces::load(&folder.join("open-data/cgm").join(name)).unwrap();
        compare(name, &trace.minutes, &trace.mg_dl, expected);
        compared += 1;
    }
    assert_eq!(compared, 27);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]
    /// Whatever the spacing: no minute counts twice, shares add up, nothing is NaN.
    #[test]
    fn nothing_is_ever_nan(steps in prop::collection::vec((1_u32..2000, 20.0..600.0_f64), 0..400)) {
        let mut now = 0;
        let readings: Vec<Reading> = steps.iter().map(|(tenths, amount)| {
            now += tenths;
            Reading::new(start().plus_minutes(f64::from(now) / 10.0), mg(*amount))
        }).collect();
        let reviewed = review(readings, 30);
        prop_assert!(reviewed.sufficiency.share() <= 1.0);
        prop_assert!(reviewed.sufficiency.covered_hours <= f64::from(now) / 600.0 + 0.34);
        let figures = [
            reviewed.shares.map(|s| s.very_low + s.low + s.in_range + s.high + s.very_high),
            reviewed.spread.map(|s| s.sd_mg_dl), reviewed.spread.map(|s| s.cv_percent()), reviewed.gmi_percent,
            reviewed.indices.map(|i| i.low + i.high), reviewed.glycemia_risk.map(|r| r.index), reviewed.mage_mg_dl, reviewed.modd_mg_dl,
        ];
        prop_assert!(figures.iter().flatten().all(|figure| figure.is_finite()));
        if let Ok(sum) = figures[0] { prop_assert!((sum - 100.0).abs() < 1e-6); }
        for hour in reviewed.profile.iter().flatten() {
            prop_assert!(hour.mg_dl.windows(2).all(|pair| pair[0] <= pair[1] + 1e-9));
        }
    }
}
