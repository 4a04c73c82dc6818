//! Sensor and meter against published error grids, worked values and the rules of the trade.
#![allow(clippy::unwrap_used, clippy::panic)] // a test may stop where it stands

use ebbstead_core::log::{
    Carbohydrate, DeviceFault, Dose, History, InsulinKind, MeterCheck, Purpose, Reading, SensorEvent, SensorNote, Text,
};
use ebbstead_core::pages::sensor::page;
use ebbstead_core::pages::sheet::sheet;
use ebbstead_core::sensor::{
    Agreement, Calibration, Fault, MeterRange, NotNow, Pair, Record, Stage, Zone, clarke, pairs, parkes,
};
use ebbstead_core::sentences::sensor::lag_free_line;
use ebbstead_core::statistics::clopper_pearson;
use ebbstead_core::time::Moment;
use ebbstead_core::units::{Glucose, GlucoseUnit};
use ebbstead_core::wearer::Language;
use ebbstead_core::words::Words;

fn near(got: f64, expected: f64, within: f64) {
    assert!((got - expected).abs() <= within, "{got} is not {expected} within {within}");
}

fn at(minutes: f64) -> Moment {
    Moment::parse("2026-03-01T00:00:00+01:00").unwrap().plus_minutes(minutes)
}

fn mg(amount: f64) -> Glucose {
    Glucose::from_mg_dl(amount).unwrap()
}

fn text(text: &str) -> Text {
    Text::new(text).unwrap()
}

/// Pfützner A, et al., J Diabetes Sci Technol 2013;7:1275-1281, table 1: points placed by the published vertices (computed).
#[test]
fn parkes_zones_follow_the_published_vertices() {
    for (zone, points) in [
        (Zone::A, &[(100.0, 100.0), (100.0, 126.0), (300.0, 250.0), (60.0, 80.0)][..]),
        (Zone::B, &[(100.0, 127.0), (200.0, 160.0), (150.0, 60.0), (50.0, 80.0), (400.0, 300.0)]),
        (Zone::C, &[(60.0, 100.0), (20.0, 70.0), (200.0, 60.0), (80.0, 200.0), (150.0, 40.0), (250.0, 20.0)]),
        (Zone::D, &[(60.0, 160.0), (20.0, 120.0), (300.0, 50.0), (400.0, 80.0), (500.0, 100.0)]),
        (Zone::E, &[(20.0, 160.0), (40.0, 300.0), (45.0, 500.0)]),
    ] {
        for (reference, sensor) in points {
            assert_eq!(parkes(*reference, *sensor), zone, "meter {reference}, sensor {sensor}");
        }
    }
    // The border between A and B above 100 mg/dL lies at 126.364.
    assert_eq!((parkes(100.0, 126.36), parkes(100.0, 126.37)), (Zone::A, Zone::B));
    // Beyond the grid the borders go on; equal amounts never leave A.
    assert_eq!((parkes(600.0, 600.0), parkes(600.0, 20.0)), (Zone::A, Zone::D));
}

/// Clarke WL, et al., Diabetes Care 1987;10:622-628, points placed by the piecewise form (computed).
#[test]
fn clarke_zones_follow_the_piecewise_form() {
    for (zone, points) in [
        (Zone::A, &[(100.0, 120.0), (60.0, 50.0), (60.0, 72.0), (400.0, 330.0)][..]),
        (Zone::B, &[(100.0, 121.0), (100.0, 209.0), (150.0, 29.0), (300.0, 200.0)]),
        (Zone::C, &[(100.0, 210.0), (150.0, 28.0), (130.0, 0.0)]),
        (Zone::D, &[(60.0, 75.0), (50.0, 100.0), (250.0, 170.0), (65.0, 80.0)]),
        (Zone::E, &[(60.0, 200.0), (200.0, 60.0), (180.0, 70.0)]),
    ] {
        for (reference, sensor) in points {
            assert_eq!(clarke(*reference, *sensor), zone, "meter {reference}, sensor {sensor}");
        }
    }
}

/// Computed with SciPy's beta distribution, one-sided 95 %: the shares that 21 CFR 862.1355 would pass or fail.
#[test]
fn intervals_are_clopper_pearsons() {
    for (hits, of, low) in
        [(180, 200, 0.8580), (178, 200, 0.8467), (730, 1000, 0.7059), (720, 1000, 0.6957), (149, 149, 0.98010)]
    {
        near(clopper_pearson(hits, of, 0.05).0, low, 6e-5);
    }
    // The rule of three, and its mirror: exactly 1 - 0.025^(1/n).
    near(clopper_pearson(0, 10, 0.025).1, 1.0 - 0.025_f64.powf(0.1), 1e-9);
    assert_eq!(clopper_pearson(0, 0, 0.025), (0.0, 1.0));
}

fn worked() -> Vec<Pair> {
    let meter = [50.0, 65.0, 80.0, 100.0, 120.0, 150.0, 180.0, 220.0, 300.0, 400.0];
    let sensor = [62.0, 58.0, 96.0, 112.0, 100.0, 171.0, 205.0, 180.0, 318.0, 330.0];
    let pair = |(meter_mg_dl, sensor_mg_dl)| Pair {
        at: at(0.0),
        meter_mg_dl,
        sensor_mg_dl,
        rate_mg_dl_min: None,
        worn_hours: None,
    };
    meter.into_iter().zip(sensor).map(pair).collect()
}

/// Computed: MARD 15.3007 %, median 15.333 %, bias -3.3 mg/dL; 60 % within 15 mg/dL or 15 % (ISO 15197:2013), all within
/// 20/20. The interval of the mean is SciPy's `t.interval`.
#[test]
fn agreement_is_the_worked_example() {
    let agreement = Agreement::of(&worked()).unwrap();
    near(agreement.mard_percent.value, 15.3007, 5e-5);
    near(agreement.median_percent, 15.3333, 5e-5);
    near(agreement.bias_mg_dl.value, -3.3, 1e-9);
    assert_eq!(agreement.within.map(|share| share.hits), [6, 10, 10]);
    near(agreement.bias_mg_dl.low, -25.6359, 1e-3);
    near(agreement.within[0].low, 0.26238, 1e-4);
    near(agreement.within[0].high, 0.87845, 1e-4);
    assert_eq!(agreement.clarke.iter().map(|share| share.hits).sum::<usize>(), 10);
    assert_eq!(MeterRange::ALL.map(|range| range.of(&worked()).len()), [2, 5, 3]);
    assert!(Agreement::of(&worked()[..4]).is_err_and(|need| need.have < need.need));
}

/// Readings every 5 minutes for three days: `moving` mg/dL/min in the last half hour before `until`, else level.
fn history(level: f64, rate: f64, checks: &[(f64, f64)]) -> History {
    let readings = (0..3 * 288)
        .map(|k| Reading::new(at(5.0 * f64::from(k)), mg(level + rate * f64::from(k % 12 - 6) * 5.0)))
        .collect();
    let meter_checks = checks.iter().map(|(m, amount)| MeterCheck::new(at(*m), mg(*amount))).collect();
    let inserted = SensorNote { at: at(-60.0), event: SensorEvent::inserted(Some(text("left arm"))), sensor: None };
    History { readings, meter_checks, sensor: vec![inserted], ..History::default() }
}

/// Rebrin 1999: at a steady fall the sensor reads above blood by rate times lag; once allowed for, nothing is left.
#[test]
fn a_pair_on_a_fall_shows_the_lag() {
    // Falls 2 mg/dL/min; blood is ten minutes ahead.
    let readings = (0..24).map(|k| Reading::new(at(5.0 * f64::from(k)), mg(300.0 - 10.0 * f64::from(k)))).collect();
    let meter_checks = vec![MeterCheck::new(at(61.0), mg(160.0))];
    let history = History { readings, meter_checks, ..History::default() };
    let pair = pairs(&history, &[])[0];
    near(pair.rate_mg_dl_min.unwrap(), -2.0, 1e-9);
    near(pair.off_mg_dl(), 20.0, 1e-9);
    near(pair.off_lag_allowed_mg_dl().unwrap(), 0.0, 1e-9);
    assert!(!pair.is_steady());
    // No reading within 7.5 minutes: no pair.
    let far = MeterCheck::new(at(130.0), mg(90.0));
    assert!(pairs(&History { meter_checks: vec![far], ..history }, &[]).is_empty());
}

/// Common practice, no source: steady, consistently off by over 20 mg/dL or 20 %, nothing taken lately, never on one pair.
#[test]
fn calibration_is_worth_it_only_when_steady_and_consistently_off() {
    let now = at(2.0 * 1440.0);
    let ask = |history: &History| Record::of(history, Some(10.0), now).calibration;
    let (early, late) = (now.minutes_since(at(0.0)) - 600.0, now.minutes_since(at(0.0)) - 60.0);
    let off = [(early, 160.0), (late, 165.0)];
    let history = |checks: &[(f64, f64)]| history(120.0, 0.0, checks);
    assert!(matches!(ask(&history(&off)), Calibration::Worth { pairs: 2, .. }));
    assert_eq!(ask(&history(&off[..1])), Calibration::TooFewPairs { have: 1, need: 2 });
    let at_once = [(late - 5.0, 160.0), (late, 165.0)];
    assert_eq!(ask(&history(&at_once)), Calibration::TooFewPairs { have: 1, need: 2 });
    assert_eq!(ask(&history(&[(early, 160.0), (late, 98.0)])), Calibration::Agrees { pairs: 2 });
    assert_eq!(ask(&history(&[(early, 160.0), (late, 140.0)])), Calibration::Agrees { pairs: 2 });

    let mut eaten = history(&off);
    eaten.carbohydrate = vec![Carbohydrate { at: at(late), grams: 30.0, purpose: Purpose::Meal }];
    eaten.doses = vec![Dose { at: at(late), kind: InsulinKind::Rapid, units: 3.0 }];
    let Calibration::NotNow { why, .. } = ask(&eaten) else { panic!() };
    assert_eq!(why, [NotNow::RecentCarbohydrate, NotNow::RecentInsulin]);

    let mut moving = history(&off);
    for reading in moving.readings.iter_mut().filter(|one| (0.0..30.0).contains(&now.minutes_since(one.at))) {
        reading.glucose = mg(120.0 + 2.0 * (30.0 - now.minutes_since(reading.at)));
    }
    moving.readings.retain(|one| one.at < now);
    let Calibration::NotNow { why, .. } = ask(&moving) else { panic!() };
    assert_eq!(why, [NotNow::Moving]);

    let mut silent = history(&off);
    silent.readings.retain(|one| now.minutes_since(one.at) > 20.0);
    let Calibration::NotNow { why, .. } = ask(&silent) else { panic!() };
    assert_eq!(why, [NotNow::NoReadings]);

    // A new sensor starts afresh: the old one's pairs say nothing about it.
    let mut new = history(&off);
    new.sensor.push(SensorNote { at: at(late + 10.0), event: SensorEvent::inserted(None), sensor: None });
    assert_eq!(ask(&new), Calibration::TooFewPairs { have: 0, need: 2 });
}

#[test]
fn pairs_of_the_first_day_or_of_a_moving_sensor_do_not_count_for_calibration() {
    let now = at(2.0 * 1440.0);
    let first_day = history(120.0, 0.0, &[(600.0, 160.0), (1200.0, 160.0)]);
    let calibration = Record::of(&first_day, None, at(1439.0)).calibration;
    assert_eq!(calibration, Calibration::TooFewPairs { have: 0, need: 2 });
    let sawing = history(150.0, 1.5, &[(2250.0, 200.0), (2850.0, 200.0)]);
    assert_eq!(Record::of(&sawing, None, now).calibration, Calibration::TooFewPairs { have: 0, need: 2 });
}

#[test]
fn sessions_sites_and_stages() {
    let note = |days: f64, event: SensorEvent| SensorNote { at: at(days * 1440.0), event, sensor: None };
    let inserted = |days: f64, site: &str| note(days, SensorEvent::inserted(Some(text(site))));
    let history = History {
        sensor: vec![
            note(-1.0, SensorEvent::Ended), // of a sensor that was not logged
            inserted(0.0, "Left arm"),
            note(10.0, SensorEvent::Ended),
            inserted(10.0, "right arm"),
            note(13.0, SensorEvent::Ended),
            note(13.1, SensorEvent::Fault { seen: text("fell off in the shower") }),
            inserted(13.2, "left  ARM"),
            inserted(23.2, "belly"),
        ],
        ..History::default()
    };
    let stage = |days: f64| {
        Record::of(&history, Some(10.0), at(days * 1440.0))
            .sessions
            .last()
            .unwrap()
            .stage(Some(10.0), at(days * 1440.0))
    };
    assert_eq!(
        [stage(23.21), stage(23.5), stage(30.0), stage(33.3)],
        [Stage::WarmUp, Stage::FirstDay, Stage::Worn, Stage::Overdue]
    );
    assert_eq!(stage(12.0), Stage::Worn);
    let record = Record::of(&history, Some(10.0), at(24.2 * 1440.0));
    assert_eq!(record.sessions.len(), 4);
    assert_eq!(record.sessions.iter().map(|one| one.end_noted).collect::<Vec<_>>(), [true, true, false, false]);
    let sites: Vec<(&str, usize, usize)> =
        record.sites.iter().map(|site| (site.name.as_str(), site.uses, site.failures)).collect();
    assert_eq!(sites, [("right arm", 1, 1), ("left  ARM", 2, 0), ("belly", 1, 0)]);
    near(record.sites[0].rested_days.unwrap(), 11.2, 1e-6);
    assert_eq!(record.sites[2].rested_days, None);
}

#[test]
fn the_sheet_holds_dates_faults_and_pairs_on_one_page() {
    let mut history =
        history(120.0, 0.0, &[(600.0, 90.0), (1500.0, 95.0), (2000.0, 118.0), (2500.0, 160.0), (3000.0, 92.0)]);
    history.readings.retain(|one| !(1700.0..1800.0).contains(&one.at.minutes_since(at(0.0))));
    history.readings[100].glucose = mg(70.0);
    for (minutes, event) in [
        (4000.0, SensorEvent::Fault { seen: text("bled at insertion") }),
        (4100.0, SensorEvent::DeviceFault { code: DeviceFault::SensorMalfunction }),
    ] {
        history.sensor.push(SensorNote { at: at(minutes), event, sensor: None });
    }
    let now = at(3.0 * 1440.0);
    let record = Record::of(&history, Some(10.0), now);
    let jumps = record.faults.iter().filter(|fault| matches!(fault, Fault::Jump { .. })).count();
    let gaps = record.faults.iter().filter(|fault| matches!(fault, Fault::Gap { .. })).count();
    assert_eq!((jumps, gaps), (2, 1));
    // On the level there is no lag to take out.
    let (as_read, lag_free) = (record.agreement.unwrap(), record.lag_free.unwrap());
    assert_eq!((as_read.pairs, lag_free.pairs), (5, 5));
    near(lag_free.bias_mg_dl.value, as_read.bias_mg_dl.value, 2.0);
    near(lag_free.mard_percent.value, as_read.mard_percent.value, 2.0);
    let session = record.sessions.last().unwrap();
    for (language, malfunction, put_in) in [
        (Language::ENGLISH, "the sensor reports a malfunction", "28 Feb 2026, 23:00"),
        (Language::GERMAN, "der Sensor meldet eine Störung", "28. Feb. 2026, 23:00"),
    ] {
        let words = Words::new(language, GlucoseUnit::MmolL);
        let page = sheet(&history, session, Some(&text("LOT 4711")), Some(10.0), words, now);
        let line = lag_free_line(&lag_free, words);
        assert!(line.contains("mmol/L") && line.contains('5') && line.contains('%'), "{line}");
        assert!(page.lines().count() < 60 && page.contains("LOT 4711") && page.contains("bled at insertion"), "{page}");
        assert!(page.contains(malfunction), "{page}");
        assert!(page.contains("mmol/L") && page.contains(put_in) && !page.contains("NaN"), "{page}");
        let rated = if language == Language::ENGLISH { "Rated for: 10 days" } else { "Vorgesehen für: 10 Tage" };
        assert!(
            page.contains(rated),
            "what the wearer's sensors are rated for holds where the package was not noted: {page}"
        );
    }
}

#[test]
fn a_silence_that_goes_on_is_seen_and_the_share_received_is_said() {
    let mut history = history(120.0, 0.0, &[]);
    // Every five minutes up to 2880 minutes; the last reading is ten hours before now.
    history.readings.retain(|one| one.at.minutes_since(at(0.0)) <= 2280.0);
    let now = at(2880.0);
    let record = Record::of(&history, Some(10.0), now);
    let last = history.readings.last().unwrap().at;
    assert_eq!(record.faults.last(), Some(&Fault::Silent { from: last, until: now }), "{:?}", record.faults);
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    let session = record.sessions.last().unwrap();
    let page = sheet(&history, session, None, Some(10.0), words, now);
    assert!(page.contains("no reading since, for 10 hours"), "{page}");
    let first = history.readings[0].at.max(session.from);
    let percent = 100.0 * last.minutes_since(first) / now.minutes_since(first);
    assert!(page.contains(&format!("{percent:.0} % of the time since the first")), "{percent} {page}");
    // What still reads is not silent, and neither is a sensor that the next one followed.
    let silent = |record: &Record| record.faults.iter().any(|one| matches!(one, Fault::Silent { .. }));
    assert!(!silent(&Record::of(&history, Some(10.0), last.plus_minutes(10.0))));
    history.sensor.push(SensorNote { at: now, event: SensorEvent::Ended, sensor: None });
    assert!(silent(&Record::of(&history, Some(10.0), now.plus_minutes(5.0))), "its end was noted");
}

#[test]
fn the_newest_sensor_is_told_apart_from_those_before_it() {
    let mut history = history(120.0, 0.0, &[]);
    history.sensor.push(SensorNote { at: at(1440.0), event: SensorEvent::inserted(None), sensor: None });
    let check = |minutes: f64, mg_dl: f64| MeterCheck::new(at(minutes), mg(mg_dl));
    history.meter_checks = [200.0, 400.0, 600.0, 800.0, 1000.0].map(|minutes| check(minutes, 120.0)).to_vec();
    history.meter_checks.extend([1600.0, 1800.0, 2000.0, 2200.0, 2400.0].map(|minutes| check(minutes, 160.0)));
    let record = Record::of(&history, Some(10.0), at(2880.0));
    let (all, newest) = (record.agreement.as_ref().unwrap(), record.newest_agreement.as_ref().unwrap());
    assert_eq!((all.pairs, newest.pairs), (10, 5));
    near(newest.bias_mg_dl.value, -40.0, 2.0);
    near(newest.mard_percent.value, 25.0, 1.5);
    near(all.mard_percent.value, 12.5, 1.5);
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    let shown = format!("{:?}", page(&record, Some(10.0), words, at(2880.0)));
    assert!(shown.contains("the newest sensor alone: -"), "{shown}");
}
