//! Alert plans replayed: when they ring, what it was worth, and the floor that cannot be moved.

#![allow(clippy::unwrap_used, clippy::panic)] // a test may stop where it stands

use ebbstead_core::alerts::{
    AlertCause, AlertLines, AlertStats, Loudness, Plan, Ring, State, count, delay_proposal, proposal, replay,
};
use ebbstead_core::log::{Beyond, Carbohydrate, Dose, History, InsulinKind, Purpose, Reading};
use ebbstead_core::pages::alerts::page;
use ebbstead_core::review::Period;
use ebbstead_core::time::Moment;
use ebbstead_core::units::{Glucose, GlucoseUnit};
use ebbstead_core::wearer::{Language, Wearer};
use ebbstead_core::words::Words;
use proptest::prelude::*;

fn near(got: f64, expected: f64, within: f64) {
    assert!((got - expected).abs() <= within, "{got} is not {expected} within {within}");
}

fn start() -> Moment {
    Moment::parse("2026-03-01T00:00:00+01:00").unwrap()
}

fn at(minutes: f64) -> Moment {
    start().plus_minutes(minutes)
}

fn mg(amount: f64) -> Glucose {
    Glucose::from_mg_dl(amount).unwrap()
}

/// Every five minutes from noon.
fn noon(amounts: &[f64]) -> History {
    let reading = |(k, amount): (usize, &f64)| Reading::new(at(720.0 + 5.0 * k as f64), mg(*amount));
    History { readings: amounts.iter().enumerate().map(reading).collect(), ..History::default() }
}

fn period() -> Period {
    Period::new(start(), at(40.0 * 1440.0)).unwrap()
}

fn alerted(history: &History, plan: &Plan) -> Vec<(f64, AlertCause, bool)> {
    let summary = |alert: &ebbstead_core::alerts::Alert| (alert.at.minutes_since(at(720.0)), alert.of, alert.again);
    replay(history, &Wearer::default(), plan, period()).iter().map(summary).collect()
}

/// As the default, and a low that nobody answers rings no second time.
fn once() -> Plan {
    let mut plan = Plan::of(&Wearer::default());
    (plan.day.low_repeat_minutes, plan.night.low_repeat_minutes) = (None, None);
    plan
}

#[test]
fn rings_once_and_afresh_only_after_a_quarter_of_an_hour() {
    let plan = once();
    // Back and forth around the line is one alert; twenty minutes above it make the next a new one.
    let history = noon(&[75.0, 69.0, 71.0, 69.0, 68.0, 75.0, 80.0, 80.0, 80.0, 69.0]);
    assert_eq!(alerted(&history, &plan), [(5.0, AlertCause::Low, false), (45.0, AlertCause::Low, false)]);
    // After a gap everything is alerted again; a lost signal is alerted too, once it has lasted.
    let mut gap = noon(&[69.0; 10]);
    gap.readings.drain(2..8);
    assert_eq!(
        alerted(&gap, &plan),
        [(0.0, AlertCause::Low, false), (35.0, AlertCause::Lost, false), (40.0, AlertCause::Low, false)]
    );
}

#[test]
fn a_low_that_rose_from_below_the_floor_is_no_new_one() {
    let plan = once();
    // At once below the floor, up through the low, and twenty minutes above the line before the next.
    let up = noon(&[90.0, 50.0, 48.0, 52.0, 56.0, 62.0, 68.0, 75.0, 80.0, 80.0, 80.0, 80.0, 68.0]);
    assert_eq!(alerted(&up, &plan), [(5.0, AlertCause::Floor, false), (60.0, AlertCause::Low, false)]);
    // Long below the floor, which rings again each quarter of an hour.
    let long = noon(&[[50.0; 6].as_slice(), &[56.0, 60.0, 64.0]].concat());
    assert_eq!(alerted(&long, &plan), [(0.0, AlertCause::Floor, false), (15.0, AlertCause::Floor, true)]);
    // A plan that repeats counts from what rang last.
    let mut repeats = plan;
    repeats.day.repeat_minutes = Some(30.0);
    let stays = noon(&[[50.0; 2].as_slice(), &[60.0; 8]].concat());
    assert_eq!(alerted(&stays, &repeats), [(0.0, AlertCause::Floor, false), (30.0, AlertCause::Low, true)]);
}

#[test]
fn delays_repeats_and_rates() {
    let mut plan = Plan::of(&Wearer::default());
    plan.day.high_delay_minutes = 20.0;
    plan.day.repeat_minutes = Some(15.0);
    let history = noon(&[190.0; 10]);
    assert_eq!(alerted(&history, &plan), [(20.0, AlertCause::High, false), (35.0, AlertCause::High, true)]);
    plan.day.high = None;
    assert!(alerted(&history, &plan).is_empty());
    plan.day.falling_mg_dl_min = Some(2.0);
    let falling: Vec<f64> = (0..8).map(|k| 200.0 - 11.0 * f64::from(k)).collect();
    assert_eq!(
        alerted(&noon(&falling), &plan),
        [(10.0, AlertCause::Falling, false), (25.0, AlertCause::Falling, true)]
    );
    // The wearer's night follows its own half of the plan.
    let at_night = History {
        readings: history.readings.iter().map(|one| Reading { at: one.at.plus_minutes(780.0), ..*one }).collect(),
        ..History::default()
    };
    assert_eq!(alerted(&at_night, &plan).len(), 1);
}

/// Battelino 2019: below 54 mg/dL is serious. It cannot be moved, turned off, or alerted only once.
#[test]
fn the_floor_is_alerted_whatever_the_plan_says() {
    let mut plan = Plan::of(&Wearer::default());
    (plan.day.low, plan.day.high) = (mg(54.0), None);
    assert!(plan.check().is_ok());
    let history = noon(&[60.0, 53.0, 52.0, 52.0, 52.0, 52.0]);
    assert_eq!(alerted(&history, &plan), [(5.0, AlertCause::Floor, false), (20.0, AlertCause::Floor, true)]);
    plan.day.low = mg(53.0);
    assert!(plan.check().unwrap_err().to_string().contains("54"));
    for change in [
        |plan: &mut Plan| plan.night.high = Some(mg(110.0)),
        |plan: &mut Plan| plan.day.repeat_minutes = Some(1.0),
        |plan: &mut Plan| plan.day.high_delay_minutes = f64::NAN,
        |plan: &mut Plan| plan.night.falling_mg_dl_min = Some(0.1),
    ] {
        let mut plan = Plan::of(&Wearer::default());
        change(&mut plan);
        assert!(plan.check().is_err());
    }
}

/// A sensor whose range ends at 70 mg/dL says "too low" below it: the limit alone is below no line, and how far below it glucose is,
/// nobody knows.
#[test]
fn too_low_to_measure_rings_as_the_floor_wherever_the_limit_lies() {
    let mut history = noon(&[90.0, 80.0, 70.0, 70.0, 70.0, 70.0]);
    let plan = Plan::of(&Wearer::default());
    assert!(alerted(&history, &plan).is_empty());
    for one in &mut history.readings[2..] {
        one.beyond = Some(Beyond::Below);
    }
    assert_eq!(alerted(&history, &plan), [(10.0, AlertCause::Floor, false), (25.0, AlertCause::Floor, true)]);
}

#[test]
fn weighs_what_alerts_led_to() {
    // Low line at 80: alerted 10 minutes before 70 is crossed; treated at 15 minutes.
    let mut amounts = vec![100.0, 85.0, 79.0, 72.0, 66.0, 62.0, 60.0, 66.0, 75.0, 90.0, 100.0, 110.0, 110.0];
    // Then a dip that stops by itself, and a high nothing is done about.
    amounts.extend([100.0; 24]);
    amounts.extend([79.0, 78.0, 79.0, 85.0, 90.0, 100.0, 100.0, 100.0]);
    amounts.extend([190.0; 6]);
    let mut history = noon(&amounts);
    history.carbohydrate = vec![Carbohydrate { at: at(735.0), grams: 15.0, purpose: Purpose::Rescue }];
    let mut plan = Plan::of(&Wearer::default());
    plan.day.low = mg(80.0);
    let stats = AlertStats::of(&history, &Wearer::default(), &plan, period());
    // The low lasted a quarter of an hour after it was treated, and rang again.
    assert_eq!((count(&stats.alerts, AlertCause::Low), count(&stats.alerts, AlertCause::High)), (3, 1));
    // Of a high whose end is not in the record nobody knows whether it was over by itself.
    assert_eq!((stats.acted, stats.resolved_without_action, stats.sleep_interruptions, stats.lows), (1, 1, 0, 1));
    near(stats.median_warning_minutes().unwrap(), 10.0, 1e-9);
    near(stats.a_day, 4.0 / (amounts.len() as f64 * 5.0 / 1440.0), 1e-9);
    let nothing = AlertStats::of(&History::default(), &Wearer::default(), &plan, period());
    assert!(nothing.alerts.is_empty() && nothing.a_day.abs() < 1e-12 && nothing.median_warning_minutes().is_none());
}

#[test]
fn what_alerts_would_have_come_is_not_told_from_readings_far_apart_or_missing() {
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    let (wearer, plan) = (Wearer::default(), Plan::of(&Wearer::default()));
    let said = |history: &History| page(history, &wearer, &plan, period(), words).to_string();
    let every = |minutes: f64, count: u32| {
        let amount = |k: u32| if k % 24 < 3 { 250.0 } else { 120.0 };
        let reading = |k: u32| Reading::new(at(minutes * f64::from(k)), mg(amount(k)));
        History { readings: (0..count).map(reading).collect(), ..History::default() }
    };
    let hourly = every(60.0, 14 * 24);
    assert!(delay_proposal(&hourly, &wearer, &plan, period()).is_none());
    assert!(
        said(&hourly).contains("no other within 20 minutes") && !said(&hourly).contains("a day"),
        "{}",
        said(&hourly)
    );
    let nothing = said(&History::default());
    assert!(nothing.contains("0 sensor readings") && nothing.contains("not enough data"), "{nothing}");
    assert!(!nothing.contains("0.0"), "{nothing}");
    // What no line explains is named.
    let mut silent = every(5.0, 14 * 288);
    silent.readings.drain(1000..1100);
    assert!(said(&silent).contains("no readings: 1 of"), "{}", said(&silent));
    let steady = said(&every(5.0, 14 * 288));
    assert!(steady.contains("4032 sensor readings, covering 35 %") && steady.contains("alerts by day"), "{steady}");
}

#[test]
fn proposes_the_level_that_is_acted_on() {
    // Every day rises past 160 to 178 and back, and on ten days to 200, where a correction is taken.
    let mut readings = Vec::new();
    let mut doses = Vec::new();
    for day in 0..20 {
        for k in 0..288 {
            let top = if day % 2 == 0 { 200.0 } else { 178.0 };
            let amount = if (150..170).contains(&k) { top } else { 120.0 };
            readings.push(Reading::new(at(f64::from(day * 1440 + k * 5)), mg(amount)));
        }
        if day % 2 == 0 {
            let at = at(f64::from(day * 1440 + 152 * 5));
            doses.push(Dose { at, kind: InsulinKind::Rapid, units: 2.0 });
        }
    }
    let history = History { readings, doses, ..History::default() };
    let mut plan = Plan::of(&Wearer::default());
    plan.day.high = Some(mg(160.0));
    let proposed = proposal(&history, &Wearer::default(), &plan, period()).unwrap();
    near(proposed.acts_at_mg_dl, 200.0, 1e-9);
    assert_eq!(proposed.actions, 10);
    near(proposed.plan.day.high.unwrap().mg_dl(), 190.0, 1e-9);
    assert_eq!((proposed.before.alerts.len(), proposed.after.alerts.len()), (20, 10));
    assert_eq!((proposed.before.acted, proposed.after.acted), (10, 10), "all that led to an action still come");
    plan.day.high = Some(mg(190.0));
    assert!(proposal(&history, &Wearer::default(), &plan, period()).is_none(), "ten apart is not worth a change");
    let few = History { doses: history.doses[..4].to_vec(), ..history };
    plan.day.high = Some(mg(160.0));
    assert!(proposal(&few, &Wearer::default(), &plan, period()).is_none());
}

/// What rings while readings come one by one, each known at once, the phone asking every minute in between.
fn rung(readings: &[Reading], wearer: &Wearer, until: Moment) -> Vec<(Moment, Ring)> {
    let mut state = State::default();
    let mut rings = Vec::new();
    let Some(first) = readings.first() else { return rings };
    let mut now = first.at;
    while !now.is_after(until) {
        let received = readings.partition_point(|one| !one.at.is_after(now));
        let ring = state.catch_up(&readings[..received], now, wearer);
        state.rang(ring, now);
        rings.extend(ring.map(|ring| (now, ring)));
        // As a shell keeps it.
        state = serde_json::from_str(&serde_json::to_string(&state).unwrap()).unwrap();
        now = now.plus_minutes(1.0);
    }
    rings
}

#[test]
fn a_lost_signal_rings_again_only_as_the_plan_says_and_ends() {
    let mut wearer = Wearer::default();
    let readings = noon(&[100.0; 3]).readings;
    let minutes = |wearer: &Wearer| -> Vec<(f64, bool)> {
        let rings = rung(&readings, wearer, at(720.0 + 24.0 * 60.0));
        assert!(rings.iter().all(|(_, ring)| ring.of == AlertCause::Lost && ring.how == Loudness::Loud));
        rings.iter().map(|(now, ring)| (now.minutes_since(at(730.0)), ring.again)).collect()
    };
    assert_eq!(minutes(&wearer), [(30.0, false)]);
    let mut plan = Plan::of(&wearer);
    (plan.day.lost_after_minutes, plan.day.repeat_minutes) = (Some(60.0), Some(120.0));
    wearer.alert_plan = Some(plan);
    assert_eq!(
        minutes(&wearer),
        [(60.0, false), (180.0, true), (300.0, true)],
        "six hours on the sensor was taken off"
    );
    plan.day.lost_after_minutes = None;
    wearer.alert_plan = Some(plan);
    assert_eq!(minutes(&wearer), [(650.0, false)], "the night goes by its own lines, from its first minute");
    plan.night.lost_after_minutes = None;
    wearer.alert_plan = Some(plan);
    assert_eq!(minutes(&wearer), []);
    plan.day.lost_after_minutes = Some(5.0);
    assert!(plan.check().is_err());
}

#[test]
fn a_snooze_holds_back_all_but_the_floor() {
    let wearer = Wearer::default();
    let plan = Plan::of(&wearer);
    let low = noon(&[69.0, 68.0, 67.0, 53.0, 66.0, 66.0, 66.0, 66.0, 66.0]).readings;
    let mut state = State::default();
    let mut rung = Vec::new();
    for (k, reading) in low.iter().enumerate() {
        let rings = state.receive(reading, None, reading.at, &plan, wearer.night);
        rung.extend(rings.iter().map(|ring| (5 * k, ring.of)));
        if k == 0 {
            state.snooze(reading.at, 30.0).unwrap();
        }
    }
    assert_eq!(rung, [(0, AlertCause::Low), (15, AlertCause::Floor), (30, AlertCause::Low)]);
    for bad in [0.0, 4.9, 121.0, f64::NAN, f64::INFINITY] {
        assert!(state.snooze(at(720.0), bad).is_err(), "{bad}");
    }
}

#[test]
fn a_lost_signal_that_was_put_off_rings_again_though_the_plan_does_not_repeat() {
    let wearer = Wearer::default();
    let plan = Plan::of(&wearer);
    assert_eq!(plan.day.repeat_minutes, None);
    let readings = noon(&[100.0]).readings;
    // Put off as soon as it rang, and hours later.
    for late in [0.0, 180.0] {
        let mut state = State::default();
        assert_eq!(state.catch_up(&readings, at(750.0), &wearer).map(|ring| ring.of), Some(AlertCause::Lost));
        assert_eq!(state.due(&plan, wearer.night), None);
        state.snooze(at(750.0 + late), 15.0).unwrap();
        let until = at(765.0 + late);
        assert_eq!(state.due(&plan, wearer.night), Some(until));
        assert_eq!(state.catch_up(&readings, until.plus_minutes(-1.0), &wearer), None);
        let ring = state.catch_up(&readings, until, &wearer).unwrap();
        assert!(ring.of == AlertCause::Lost && ring.again, "{ring:?}");
        assert_eq!(state.due(&plan, wearer.night), None);
    }
    // Put off by a clock that was hours ahead: that holds nothing back.
    let mut state = State::default();
    state.catch_up(&readings, at(750.0), &wearer).unwrap();
    state.snooze(at(1100.0), 120.0).unwrap();
    state.catch_up(&readings, at(760.0), &wearer);
    assert_eq!(state.due(&plan, wearer.night), None);
}

#[test]
fn lows_fill_the_screen_at_night_and_readings_that_come_late_ring_for_what_still_lasts() {
    let wearer = Wearer::default();
    let night: Vec<Reading> = (0..8).map(|k| Reading::new(at(120.0 + 5.0 * f64::from(k)), mg(65.0))).collect();
    let mut state = State::default();
    let now = night[7].at.plus_minutes(2.0);
    let ring = state.catch_up(&night, now, &wearer).unwrap();
    assert_eq!((ring.of, ring.how, ring.at_night, ring.again), (AlertCause::Low, Loudness::FullScreen, true, false));
    assert!(ring.until > now);
    // Half an hour's readings that come after an hour of silence are history: the alert is that none come now.
    let mut late = State::default();
    let ring = late.catch_up(&night, now.plus_minutes(60.0), &wearer).unwrap();
    assert_eq!((ring.of, ring.how), (AlertCause::Lost, Loudness::Loud));
    // A clock that was put back does not silence what it has received ahead of itself.
    let before = &night[..2];
    assert!(state.catch_up(before, before[1].at, &wearer).is_some());
}

/// Readings with the minutes from noon at which they were known, one call each; what rang at which of these minutes.
fn heard(readings: &[(f64, f64, f64)], wearer: &Wearer) -> Vec<(f64, AlertCause)> {
    let all: Vec<Reading> =
        readings.iter().map(|(read, _, mg_dl)| Reading::new(at(720.0 + read), mg(*mg_dl))).collect();
    let mut state = State::default();
    let mut heard = Vec::new();
    for (place, (_, known, _)) in readings.iter().enumerate() {
        if readings.get(place + 1).is_some_and(|next| next.1 <= *known) {
            continue; // One batch.
        }
        let ring = state.catch_up(&all[..=place], at(720.0 + known), wearer);
        state.rang(ring, at(720.0 + known));
        heard.extend(ring.map(|ring| (*known, ring.of)));
    }
    heard
}

#[test]
fn the_newest_reading_rings_until_it_counts_as_a_lost_signal_and_whatever_the_clocks_say() {
    use AlertCause::{Floor, Lost, Low};
    let wearer = Wearer { alert_plan: Some(once()), ..Wearer::default() };
    // A phone ahead of its sensor, or a source that is late, by ever so much.
    for late in [0.0, 10.0, 15.0, 20.0, 29.0] {
        let low: Vec<_> = (0..8).map(|k| (5.0 * f64::from(k), 5.0 * f64::from(k) + late, 45.0)).collect();
        assert_eq!(heard(&low, &wearer), [(late, Floor), (late + 15.0, Floor), (late + 30.0, Floor)], "{late}");
    }
    assert_eq!(heard(&[(5.0, 30.0, 80.0), (10.0, 30.0, 60.0), (15.0, 30.0, 45.0)], &wearer), [(30.0, Floor)]);
    assert_eq!(heard(&[(5.0, 30.0, 80.0), (10.0, 30.0, 60.0)], &wearer), [(30.0, Low)]);
    // A sensor a few minutes ahead rings at once.
    assert_eq!(heard(&[(9.0, 0.0, 66.0)], &wearer), [(0.0, Low)]);
    // The past rings for nothing, and a silence once, whatever comes of it later.
    let records: Vec<_> = (0..40).map(|k| (5.0 * f64::from(k), 240.0 + 0.1 * f64::from(k), 45.0)).collect();
    assert_eq!(heard(&records, &wearer), [(240.0, Lost)]);
}

#[test]
fn of_a_batch_only_what_still_holds_rings() {
    let wearer = Wearer::default();
    let over = [(-10.0, 0.0, 52.0), (-5.0, 0.0, 100.0), (0.0, 0.0, 118.0)];
    assert_eq!(heard(&over, &wearer), []);
    let back: Vec<_> = over.into_iter().chain([(5.0, 5.0, 53.0)]).collect();
    assert_eq!(heard(&back, &wearer), [(5.0, AlertCause::Floor)]);
    // A clock that was put back an hour does not make an old low a new one.
    let mut state = State::default();
    let day: Vec<Reading> =
        (0..24).map(|k| Reading::new(at(720.0 + 5.0 * f64::from(k)), mg(if k < 12 { 45.0 } else { 120.0 }))).collect();
    assert!(state.catch_up(&day, at(840.0), &wearer).is_none());
    assert!(state.catch_up(&day, at(760.0), &wearer).is_none());
}

#[test]
fn a_low_that_nobody_answers_rings_three_times_more_and_an_answer_lets_it_ring_again() {
    let low = noon(&[62.0; 40]).readings;
    let minutes = |plan: Plan, answered: &[f64]| -> Vec<(f64, bool)> {
        let mut state = State::default();
        let mut rung = Vec::new();
        for reading in &low {
            let now = reading.at.minutes_since(at(720.0));
            let ring = state.receive(reading, None, reading.at, &plan, Wearer::default().night);
            state.rang(ring, reading.at);
            rung.extend(ring.map(|ring| (now, ring.again)));
            if answered.contains(&now) {
                state.answered(reading.at);
            }
        }
        rung
    };
    let plan = Plan::of(&Wearer::default());
    assert_eq!(minutes(plan, &[]), [(0.0, false), (15.0, true), (30.0, true), (45.0, true)]);
    assert_eq!(
        minutes(plan, &[5.0]),
        [(0.0, false), (20.0, true), (35.0, true), (50.0, true), (65.0, true)],
        "from the answer on, and again while nobody answers"
    );
    assert_eq!(minutes(once(), &[]), [(0.0, false)]);
    assert_eq!(minutes(once(), &[5.0]), [(0.0, false), (20.0, true)]);
    let mut own = once();
    own.day.repeat_minutes = Some(60.0);
    assert_eq!(minutes(own, &[]), [(0.0, false), (60.0, true), (120.0, true), (180.0, true)]);
}

/// A sensor's clock that runs a second short is no reason to leave a low out.
#[test]
fn a_new_low_rings_though_readings_jitter() {
    for apart in [5.0, 4.97] {
        for back in [2u32, 3] {
            let amount = |k: u32| if k == 0 || k > back { 60.0 } else { 85.0 };
            let reading = |k: u32| Reading::new(at(720.0 + apart * f64::from(k)), mg(amount(k)));
            let history = History { readings: (0..12).map(reading).collect(), ..History::default() };
            assert_eq!(alerted(&history, &once()).iter().filter(|one| !one.2).count(), 2, "{apart} {back}");
        }
    }
}

#[test]
fn what_is_less_urgent_takes_nothing_from_what_nobody_answered() {
    let mut plan = once();
    (plan.day.rising_mg_dl_min, plan.day.lost_after_minutes) = (Some(1.0), Some(15.0));
    let wearer = Wearer { alert_plan: Some(plan), ..Wearer::default() };
    let mut state = State::default();
    let readings = noon(&[56.0, 50.0, 52.0, 60.0, 68.0]).readings;
    for place in 0..readings.len() {
        let now = readings[place].at;
        let ring = state.catch_up(&readings[..=place], now, &wearer);
        state.rang(ring, now);
        assert_ne!(ring.map(|ring| ring.of), Some(AlertCause::Rising), "{place}");
    }
    assert_eq!(state.unanswered().unwrap().ring.of, AlertCause::Floor);
    let silent = state.catch_up(&readings, at(755.0), &wearer);
    assert_eq!(silent.map(|ring| ring.of), Some(AlertCause::Lost), "it sounds");
    state.rang(silent, at(755.0));
    let stands = state.unanswered().unwrap();
    assert_eq!((stands.ring.of, stands.at), (AlertCause::Floor, at(755.0)), "and the low stands");
}

#[test]
fn a_gap_shorter_than_a_lost_signal_ends_nothing() {
    let mut plan = once();
    plan.day.high_delay_minutes = 60.0;
    let every = |minutes: f64, mg_dl: f64| {
        let reading = |k: u32| Reading::new(at(720.0 + minutes * f64::from(k)), mg(mg_dl));
        History { readings: (0..10).map(reading).collect(), ..History::default() }
    };
    assert_eq!(alerted(&every(25.0, 300.0), &plan), [(75.0, AlertCause::High, false)]);
    assert_eq!(alerted(&every(25.0, 62.0), &plan), [(0.0, AlertCause::Low, false)]);
}

#[test]
fn whether_it_is_night_is_said_by_the_phone_and_not_by_what_wrote_the_reading() {
    let mut plan = once();
    plan.night.low = mg(80.0);
    let wearer = Wearer { alert_plan: Some(plan), ..Wearer::default() };
    let now = Moment::parse("2026-03-02T02:00:00+08:00").unwrap();
    let read = Reading::new(Moment::parse("2026-03-01T18:00:00+00:00").unwrap(), mg(75.0));
    let ring = State::default().catch_up(&[read], now, &wearer).unwrap();
    assert_eq!((ring.of, ring.how), (AlertCause::Low, Loudness::FullScreen));
}

/// Days of a high of so many readings up to `top`, with a correction at its third where `acted`.
fn highs(days: u32, readings: u32, top: f64, acted: bool) -> History {
    let mut history = History::default();
    for (day, k) in (0..days).flat_map(|day| (0..288).map(move |k| (day, k))) {
        let when = at(f64::from(day * 1440 + k * 5));
        let is_high = (150..150 + readings).contains(&k);
        history.readings.push(Reading::new(when, mg(if is_high { top } else { 120.0 })));
        if acted && k == 152 {
            history.doses.push(Dose { at: when, kind: InsulinKind::Rapid, units: 2.0 });
        }
    }
    history
}

#[test]
fn where_nothing_is_logged_highs_are_not_called_needless_and_no_delay_is_proposed() {
    let (wearer, plan) = (Wearer::default(), once());
    let needless = |history: &History| AlertStats::of(history, &wearer, &plan, period()).resolved_without_action;
    assert_eq!(needless(&highs(10, 6, 200.0, false)), 10, "over within the hour");
    assert_eq!(needless(&highs(10, 36, 200.0, false)), 0, "three hours");
    assert_eq!(needless(&highs(10, 6, 260.0, false)), 0, "very high");
    assert!(delay_proposal(&highs(20, 2, 200.0, false), &wearer, &plan, period()).is_none());
    // Short ones that nobody does anything about, and on other days long ones that are corrected.
    let mut some = highs(20, 2, 200.0, false);
    for one in &mut some.readings {
        let minute = one.at.minutes_since(at(0.0)).rem_euclid(1440.0);
        one.glucose = mg(if (1000.0..1100.0).contains(&minute) { 200.0 } else { one.glucose.mg_dl() });
    }
    some.doses = (0..20)
        .map(|day| Dose { at: at(1440.0 * f64::from(day) + 1025.0), kind: InsulinKind::Rapid, units: 2.0 })
        .collect();
    assert!(delay_proposal(&some, &wearer, &plan, period()).is_some());
}

#[test]
fn no_level_is_proposed_that_saves_nothing_or_lies_above_very_high() {
    let (wearer, plan) = (Wearer::default(), once());
    assert!(proposal(&highs(14, 20, 345.0, true), &wearer, &plan, period()).is_none(), "as many alerts at any level");
    let mut some = highs(28, 20, 345.0, true);
    for one in some.readings.iter_mut().filter(|one| one.at >= at(14.0 * 1440.0) && one.glucose.mg_dl() > 180.0) {
        one.glucose = mg(200.0);
    }
    some.doses.truncate(14);
    let proposed = proposal(&some, &wearer, &plan, period()).unwrap();
    near(proposed.plan.day.high.unwrap().mg_dl(), 250.0, 1e-9);
}

#[test]
fn an_alert_of_the_low_before_is_no_notice_of_the_next_and_one_reading_rings_once() {
    // Two lows, twenty minutes apart, each with its own alert at its first reading.
    let two = noon(&[[100.0; 3].as_slice(), &[60.0; 4], &[90.0; 5], &[60.0; 4], &[100.0; 4]].concat());
    let stats = AlertStats::of(&two, &Wearer::default(), &once(), period());
    assert_eq!((stats.lows, stats.warning_minutes), (2, vec![0.0, 0.0]));
    let mut falls = once();
    falls.day.falling_mg_dl_min = Some(2.0);
    assert_eq!(alerted(&noon(&[120.0, 110.0, 66.0]), &falls), [(10.0, AlertCause::Low, false)]);
}

#[test]
fn settings_without_a_plan_are_written_as_before_there_was_one() {
    let plain = serde_json::to_string(&Wearer::default()).unwrap();
    assert!(!plain.contains("alert_plan") && !plain.contains("number"));
    let wearer = Wearer { alert_plan: Some(Plan::of(&Wearer::default())), ..Wearer::default() };
    let again: Wearer = serde_json::from_str(&serde_json::to_string(&wearer).unwrap()).unwrap();
    assert_eq!(again, wearer);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    /// Battelino 2019: below 54 mg/dL is serious. However the plan is set and whatever is snoozed, it rings at the first such
    /// reading, and within a quarter of an hour again while it lasts.
    #[test]
    fn below_the_floor_it_always_rings(
        amounts in prop::collection::vec(40.0..260.0f64, 1..60),
        (low, high, delay, repeat, lost) in
            (54.0..120.0f64, prop::option::of(120.0..400.0f64), 0.0..240.0f64, prop::option::of(5.0..240.0f64), prop::option::of(15.0..240.0f64)),
        snoozes in prop::collection::vec((0usize..60, 5.0..120.0f64), 0..6),
    ) {
        let lines = AlertLines {
            low: mg(low), high: high.map(mg), high_delay_minutes: delay, repeat_minutes: repeat, low_repeat_minutes: None,
            falling_mg_dl_min: None, rising_mg_dl_min: None, lost_after_minutes: lost,
        };
        let plan = Plan { day: lines, night: lines };
        prop_assert!(plan.check().is_ok());
        let wearer = Wearer { alert_plan: Some(plan), ..Wearer::default() };
        let readings = noon(&amounts).readings;
        let mut state = State::default();
        let mut last_floor: Option<Moment> = None;
        for (k, reading) in readings.iter().enumerate() {
            let rings = state.receive(reading, None, reading.at, &plan, wearer.night);
            let floor = rings.iter().any(|ring| ring.of == AlertCause::Floor);
            prop_assert_eq!(rings.iter().filter(|ring| ring.of == AlertCause::Floor).count(), usize::from(floor));
            if reading.glucose.mg_dl() < 53.5 {
                let lately = last_floor.is_some_and(|last| reading.at.minutes_since(last) < 15.0);
                prop_assert!(floor || lately, "nothing rang at {} of {:?}", k, amounts);
            }
            if floor {
                prop_assert!(reading.glucose.mg_dl() < 54.0);
                last_floor = Some(reading.at);
            }
            for (_, minutes) in snoozes.iter().filter(|(when, _)| *when == k) {
                state.snooze(reading.at, *minutes).unwrap();
            }
        }
    }

    /// The replay's figures are of what would have rung: a phone that receives each reading as it comes and asks every minute rings
    /// for the most urgent of each moment that the replay shows.
    #[test]
    fn the_replay_shows_what_rings(
        amounts in prop::collection::vec(prop::option::weighted(0.85, 40.0..260.0f64), 2..80),
        repeat in prop::option::of(5.0..120.0f64),
        lost in 15u32..60,
    ) {
        let mut wearer = Wearer::default();
        let mut plan = Plan::of(&wearer);
        (plan.day.repeat_minutes, plan.day.lost_after_minutes) = (repeat.map(f64::round), Some(f64::from(lost)));
        wearer.alert_plan = Some(plan);
        let readings: Vec<Reading> = amounts
            .iter()
            .enumerate()
            .filter_map(|(k, one)| one.map(|amount| Reading::new(at(720.0 + 5.0 * k as f64), mg(amount))))
            .collect();
        let Some(last) = readings.last() else { return Ok(()) };
        let live: Vec<(Moment, AlertCause)> = rung(&readings, &wearer, last.at).iter().map(|(now, ring)| (*now, ring.of)).collect();
        let history = History { readings: readings.clone(), ..History::default() };
        let mut replayed: Vec<(Moment, AlertCause)> = replay(&history, &wearer, &plan, period()).iter().map(|one| (one.at, one.of)).collect();
        replayed.sort();
        replayed.dedup_by_key(|one| one.0);
        prop_assert_eq!(live, replayed);
    }
}
