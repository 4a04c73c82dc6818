//! Alert plans replayed: when they tell, what it was worth, and the floor that cannot be moved.

#![allow(clippy::unwrap_used, clippy::panic)] // a test may stop where it stands

use ebbstead_core::alerts::{Of, Plan, Worth, count, proposal, replay};
use ebbstead_core::log::{Carbohydrate, Dose, History, InsulinKind, Purpose, Reading};
use ebbstead_core::review::Period;
use ebbstead_core::time::Moment;
use ebbstead_core::units::Glucose;
use ebbstead_core::wearer::Wearer;

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

fn told(history: &History, plan: &Plan) -> Vec<(f64, Of, bool)> {
    let tell = |alert: &ebbstead_core::alerts::Alert| (alert.at.minutes_since(at(720.0)), alert.of, alert.again);
    replay(history, &Wearer::default(), plan, period()).iter().map(tell).collect()
}

#[test]
fn tells_once_and_afresh_only_after_a_quarter_of_an_hour() {
    let plan = Plan::of(&Wearer::default());
    // Back and forth around the line is one alert; twenty minutes above it make the next a new one.
    let history = noon(&[75.0, 69.0, 71.0, 69.0, 68.0, 75.0, 80.0, 80.0, 80.0, 69.0]);
    assert_eq!(told(&history, &plan), [(5.0, Of::Low, false), (45.0, Of::Low, false)]);
    // After a gap everything is told afresh.
    let mut gap = noon(&[69.0; 10]);
    gap.readings.drain(2..8);
    assert_eq!(told(&gap, &plan), [(0.0, Of::Low, false), (40.0, Of::Low, false)]);
}

#[test]
fn delays_repeats_and_rates() {
    let mut plan = Plan::of(&Wearer::default());
    plan.day.high_delay_minutes = 20.0;
    plan.day.repeat_minutes = Some(15.0);
    let history = noon(&[190.0; 10]);
    assert_eq!(told(&history, &plan), [(20.0, Of::High, false), (35.0, Of::High, true)]);
    plan.day.high = None;
    assert!(told(&history, &plan).is_empty());
    plan.day.falling_mg_dl_min = Some(2.0);
    let falling: Vec<f64> = (0..8).map(|k| 200.0 - 11.0 * f64::from(k)).collect();
    assert_eq!(told(&noon(&falling), &plan), [(10.0, Of::Falling, false), (25.0, Of::Falling, true)]);
    // The wearer's night follows its own half of the plan.
    let at_night = History {
        readings: history.readings.iter().map(|one| Reading { at: one.at.plus_minutes(780.0), ..*one }).collect(),
        ..History::default()
    };
    assert_eq!(told(&at_night, &plan).len(), 1);
}

/// Battelino 2019: below 54 mg/dL is serious. It cannot be moved, turned off, or told only once.
#[test]
fn the_floor_is_told_whatever_the_plan_says() {
    let mut plan = Plan::of(&Wearer::default());
    (plan.day.low, plan.day.high) = (mg(54.0), None);
    assert!(plan.check().is_ok());
    let history = noon(&[60.0, 53.0, 52.0, 52.0, 52.0, 52.0]);
    assert_eq!(told(&history, &plan), [(5.0, Of::Floor, false), (20.0, Of::Floor, true)]);
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

#[test]
fn weighs_what_alerts_led_to() {
    // Low line at 80: told 10 minutes before 70 is crossed; treated at 15 minutes.
    let mut amounts = vec![100.0, 85.0, 79.0, 72.0, 66.0, 62.0, 60.0, 66.0, 75.0, 90.0, 100.0, 110.0, 110.0];
    // Then a dip that stops by itself, and a high nothing is done about.
    amounts.extend([100.0; 24]);
    amounts.extend([79.0, 78.0, 79.0, 85.0, 90.0, 100.0, 100.0, 100.0]);
    amounts.extend([190.0; 6]);
    let mut history = noon(&amounts);
    history.carbohydrate = vec![Carbohydrate { at: at(735.0), grams: 15.0, purpose: Purpose::Rescue }];
    let mut plan = Plan::of(&Wearer::default());
    plan.day.low = mg(80.0);
    let worth = Worth::of(&history, &Wearer::default(), &plan, period());
    assert_eq!((count(&worth.alerts, Of::Low), count(&worth.alerts, Of::High)), (2, 1));
    assert_eq!((worth.acted, worth.over_by_themselves, worth.broken_sleep, worth.lows), (1, 2, 0, 1));
    near(worth.median_notice_minutes().unwrap(), 10.0, 1e-9);
    near(worth.a_day, 3.0 / (amounts.len() as f64 * 5.0 / 1440.0), 1e-9);
    let nothing = Worth::of(&History::default(), &Wearer::default(), &plan, period());
    assert!(nothing.alerts.is_empty() && nothing.a_day.abs() < 1e-12 && nothing.median_notice_minutes().is_none());
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
    assert_eq!((proposed.before.acted, proposed.after.acted), (10, 10), "all that led to an action are still told");
    plan.day.high = Some(mg(190.0));
    assert!(proposal(&history, &Wearer::default(), &plan, period()).is_none(), "ten apart is not worth a change");
    let few = History { doses: history.doses[..4].to_vec(), ..history };
    plan.day.high = Some(mg(160.0));
    assert!(proposal(&few, &Wearer::default(), &plan, period()).is_none());
}
