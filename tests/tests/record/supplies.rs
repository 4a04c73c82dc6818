//! Supplies against figures worked out by hand and against simulated wearers.

use chrono::NaiveDate;
use ebbstead_core::log::{
    Beyond, Currency, Dose, History, InsulinKind, Item, MeterCheck, Price, SensorEvent, SensorNote, Stocked, Supply,
    SupplyNote, Text,
};
use ebbstead_core::sentences::supplies::{cost_line, need_lines, outlook_lines};
use ebbstead_core::supplies::{Basis, Need, Outlook, costs};
use ebbstead_core::time::Moment;
use ebbstead_core::units::GlucoseUnit;
use ebbstead_core::wearer::{Language, Wearer};
use ebbstead_core::words::Words;
use ebbstead_tests::rng::NumpyRng;

use super::{at, days, mg, near, readings};

fn inserted(day: f64) -> SensorNote {
    SensorNote { at: days(day), event: SensorEvent::inserted(None), sensor: None }
}

fn noted(day: f64, supply: Supply) -> SupplyNote {
    SupplyNote { at: days(day), supply }
}

fn date(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn wearer() -> Wearer {
    Wearer { sensor_rated_days: Some(10), reorder_lead_days: Some(7), ..Wearer::default() }
}

/// Sensors worn 10, 10, 4, 10, 10 and 8 days, and one put in two days ago.
fn worn() -> History {
    let begun = [0.0, 10.0, 20.0, 24.0, 34.0, 44.0, 52.0];
    History { sensor: begun.into_iter().map(inserted).collect(), ..History::default() }
}

#[test]
fn sensors_run_out_as_worked_out_by_hand() {
    let mut history = worn();
    history.supplies.push(noted(51.0, Supply::new(Item::Sensor, Stocked::Counted, 4.0)));
    let now = days(54.0);
    let outlook = Outlook::of(Item::Sensor, &history, &wearer(), now);
    // One was put in since the count.
    assert_eq!(outlook.stock.as_ref().unwrap().amount, 3.0);
    let Some(Basis::Wear(wear)) = outlook.usage.map(|usage| usage.basis) else { panic!("{outlook:?}") };
    // Mean 52/6; variance of 10, 10, 4, 10, 10, 8 by hand: (4 * 1.7778 + 21.7778 + 0.4444) / 5 = 5.8667.
    near(wear.mean_days, 52.0 / 6.0, 1e-9);
    near(wear.sd_days, 5.866_666_7_f64.sqrt(), 1e-6);
    assert_eq!((wear.failed.hits, wear.failed.of), (2, 6));
    near(wear.left_days.unwrap(), 52.0 / 6.0 - 2.0, 1e-9);
    // Expected: 6.667 left, and 3 x 8.667 = 26: 32.667 days. The reach is t(0.95; 5) = 2.015 (any table of Student's t) x
    // sqrt((5 x 5.8667 + 3 x (8.667 / 4)^2) / 8) = 2.3296 x sqrt(3 + 9/6) = 9.958.
    let (earliest, expected, latest) = outlook.usage.unwrap().lasts_days(3.0);
    near(expected, 32.6667, 1e-3);
    near(earliest, 32.6667 - 9.958, 2e-3);
    near(latest.unwrap(), 32.6667 + 9.958, 2e-3);
    let run_out = outlook.run_out.unwrap();
    let today = now.local_date();
    assert_eq!(run_out.expected, today + chrono::Days::new(32));
    assert_eq!(run_out.earliest, today + chrono::Days::new(22));
    assert_eq!(run_out.order_by, Some(today + chrono::Days::new(15)));
}

#[test]
fn without_two_ended_sensors_the_rated_length_is_used_and_said() {
    let history = History {
        sensor: vec![inserted(0.0)],
        supplies: vec![noted(0.0, Supply::new(Item::Sensor, Stocked::Received, 4.0))],
        ..History::default()
    };
    let now = days(1.0);
    let outlook = Outlook::of(Item::Sensor, &history, &wearer(), now);
    assert!(matches!(outlook.usage.unwrap().basis, Basis::RatedLength));
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    let lines = outlook_lines(&outlook, words, now).1.join("\n");
    assert!(lines.contains("rated 10 days a sensor"), "{lines}");
    // Nothing known at all: said, not guessed.
    let unknown = Outlook::of(Item::Sensor, &history, &Wearer::default(), now);
    assert!(unknown.usage.is_none() && unknown.run_out.is_none());
}

/// Of many simulated wearers, the sensors of nine in ten last within the interval.
#[test]
fn the_interval_of_a_run_out_holds_nine_in_ten() {
    let mut rng = NumpyRng::seeded_with_5();
    let mut uniform = move || rng.uniform(0.0, 1.0);
    let (mut inside, runs) = (0_u32, 600_u32);
    for _ in 0..runs {
        // A sensor lasts 9 to 10.5 days, but one in eight fails at any time before.
        let mut length = || if uniform() < 0.125 { 0.3 + 9.0 * uniform() } else { 9.0 + 1.5 * uniform() };
        let mut day = 0.0;
        let mut history = History::default();
        for _ in 0..12 {
            history.sensor.push(inserted(day));
            day += length();
        }
        history.sensor.push(SensorNote { at: days(day), event: SensorEvent::Ended, sensor: None });
        let count = 6.0;
        history.supplies.push(noted(day, Supply::new(Item::Sensor, Stocked::Counted, count)));
        let usage = Outlook::of(Item::Sensor, &history, &wearer(), days(day)).usage.unwrap();
        let (earliest, _, latest) = usage.lasts_days(count);
        let true_days: f64 = (0..6).map(|_| length()).sum();
        inside += u32::from((earliest..=latest.unwrap()).contains(&true_days));
    }
    let share = f64::from(inside) / f64::from(runs);
    // Binomial: 0.90 +- 0.025 at two standard errors; the skew of early failures costs a little.
    assert!((0.86..=0.95).contains(&share), "{share}");
}

#[test]
fn days_on_which_nothing_was_noted_are_not_days_without_insulin() {
    let rapid = |day: f64| Dose { at: days(day), kind: InsulinKind::Rapid, units: 6.0 };
    // Four times 6 units a day for twenty days, then eleven days of nothing.
    let mut history =
        History { doses: (0..80).map(|k| rapid(f64::from(k) * 0.25 + 0.1)).collect(), ..History::default() };
    history.supplies.push(noted(0.0, Supply::new(Item::RapidInsulin, Stocked::Received, 900.0)));
    let now = days(31.0);
    let outlook = Outlook::of(Item::RapidInsulin, &history, &wearer(), now);
    let usage = outlook.usage.unwrap();
    near(usage.a_day, 24.0, 1.3);
    assert_eq!(outlook.silent_days, 11);
    // 900 - 31 days of 24 units leave a week at most, not the 17 days of what is noted.
    let left = (900.0 - 31.0 * usage.a_day) / usage.a_day;
    let expected = outlook.run_out.unwrap().expected.signed_duration_since(now.local_date()).num_days() as f64;
    near(expected, left, 1.5);
    let said = outlook_lines(&outlook, Words::new(Language::ENGLISH, GlucoseUnit::MgDl), now).1.join(" ");
    assert!(said.contains("Nothing was noted on 11 days"), "{said}");
    // Two days without a note are days like others, and who notes no insulin has no silent days.
    let paused = days(22.0);
    assert_eq!(Outlook::of(Item::RapidInsulin, &history, &wearer(), paused).silent_days, 0);
    history.doses.clear();
    history.meter_checks = vec![MeterCheck::new(days(1.0), mg(120.0)), MeterCheck::new(days(30.0), mg(120.0))];
    let strips = Outlook::of(Item::TestStrip, &history, &wearer(), now);
    assert_eq!((strips.silent_days, strips.usage.unwrap().basis), (0, Basis::Days(30)));
}

#[test]
fn strips_go_as_the_log_shows_and_counts_outweigh_it() {
    // 4 checks a day for 30 days.
    let checks = (0..120).map(|k| MeterCheck::new(days(f64::from(k) * 0.25 + 0.1), mg(120.0)));
    let mut history = History { meter_checks: checks.collect(), ..History::default() };
    history.supplies.push(noted(0.0, Supply::new(Item::TestStrip, Stocked::Counted, 200.0)));
    let now = days(30.0);
    let outlook = Outlook::of(Item::TestStrip, &history, &Wearer::default(), now);
    assert_eq!(outlook.stock.as_ref().unwrap().amount, 80.0);
    near(outlook.usage.unwrap().a_day, 4.0, 0.15);
    // A count shows that five a day went.
    history.supplies.push(noted(29.95, Supply::new(Item::TestStrip, Stocked::Counted, 50.0)));
    let outlook = Outlook::of(Item::TestStrip, &history, &Wearer::default(), now);
    assert_eq!(outlook.usage.unwrap().basis, Basis::Counts);
    near(outlook.usage.unwrap().a_day, 150.0 / 29.95, 1e-9);
    let (earliest, expected, latest) = outlook.usage.unwrap().lasts_days(50.0);
    assert!(earliest < expected && expected < latest.unwrap());
}

#[test]
fn what_expires_is_reported_and_not_counted_on() {
    let with = |expires: &str, amount: f64| Supply {
        expires: Some(date(expires)),
        lot: Some(Text::new(format!("L{amount}")).unwrap()),
        ..Supply::new(Item::TestStrip, Stocked::Received, amount)
    };
    let checks = (0..40).map(|k| MeterCheck::new(days(f64::from(k) * 0.25 + 0.1), mg(120.0)));
    let mut history = History { meter_checks: checks.collect(), ..History::default() };
    // 200 there, 40 used since: 160. 4 a day; the first 100 expire in 10 days, so 60 of them, less 40 used, are left over.
    history.supplies = vec![noted(0.0, with("2026-03-20", 100.0)), noted(0.0, with("2027-03-20", 100.0))];
    let now = days(10.0);
    let outlook = Outlook::of(Item::TestStrip, &history, &Wearer::default(), now);
    let stock = outlook.stock.as_ref().unwrap();
    assert_eq!(stock.amount, 160.0);
    assert_eq!(stock.batches.iter().map(|one| one.amount).collect::<Vec<_>>(), [60.0, 100.0]);
    // 2026-03-11 to 2026-03-20 are ten days: 40 are used, 20 are lost.
    near(stock.lost_to_expiry, 20.0, 1e-6);
    let later = Outlook::of(Item::TestStrip, &history, &Wearer::default(), days(25.0));
    assert!(later.stock.unwrap().batches[0].left_over > 50.0);
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    let lines = outlook_lines(&outlook, words, now).1.join("\n");
    assert!(lines.contains("60 (lot L100) good until 20 Mar 2026; about 20 of them will not be used"), "{lines}");
}

#[test]
fn what_has_expired_is_not_there_to_use_and_a_sensor_is_worn_to_its_end() {
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    let with = |expires: &str, amount: f64| Supply {
        expires: Some(date(expires)),
        ..Supply::new(Item::Sensor, Stocked::Received, amount)
    };
    let mut history = worn();
    let now = history.sensor.last().unwrap().at.plus_minutes(2.0 * 1440.0);
    let day = |ahead: u64| now.local_date().checked_add_days(chrono::Days::new(ahead)).unwrap().to_string();
    let said = |history: &History| {
        let outlook = Outlook::of(Item::Sensor, history, &wearer(), now);
        let lines = outlook_lines(&outlook, words, now).1.join("\n");
        (outlook, lines)
    };
    // All expired: none is there to use, and it runs out on one day.
    history.supplies = vec![SupplyNote { at: now, supply: with("2020-01-01", 4.0) }];
    let (_, lines) = said(&history);
    assert!(lines.contains("0 usable there, 4 expired."), "{lines}");
    // The one put in within these days is worn to its end; the two others are lost.
    history.supplies.push(SupplyNote { at: now, supply: with(&day(5), 3.0) });
    let (outlook, lines) = said(&history);
    assert!(lines.contains("3 usable there, 4 expired."), "{lines}");
    near(outlook.stock.unwrap().batches[1].left_over, 2.0, 1e-9);
}

#[test]
fn prices_come_to_a_day_of_wear_and_a_year_and_are_not_converted() {
    let mut history = worn();
    let price = |amount: f64, code: &str| Some(Price { amount, currency: Currency::new(code).unwrap() });
    let offer = |amount: f64, code: &str, from: &str| Supply {
        price: price(amount, code),
        from: Some(Text::new(from).unwrap()),
        ..Supply::new(Item::Sensor, Stocked::Quoted, 3.0)
    };
    history.supplies = vec![
        noted(1.0, offer(210.0, "EUR", "pharmacy")),
        noted(2.0, offer(195.0, "EUR", "post")),
        noted(3.0, offer(190.0, "CHF", "post")),
    ];
    let costs = costs(&history, &wearer(), days(54.0));
    let each: Vec<(String, f64)> = costs.iter().map(|one| (one.currency.to_string(), one.each)).collect();
    assert_eq!(each, [("CHF".to_owned(), 190.0 / 3.0), ("EUR".to_owned(), 65.0), ("EUR".to_owned(), 70.0)]);
    near(costs[2].a_day.unwrap(), 70.0 / (52.0 / 6.0), 1e-9);
    near(costs[2].a_year().unwrap(), 365.2425 * 70.0 / (52.0 / 6.0), 1e-6);
    let line = cost_line(&costs[2], Words::new(Language::ENGLISH, GlucoseUnit::MgDl));
    assert!(line.contains("70.00 EUR each") && line.contains("a day of wear"), "{line}");
}

#[test]
fn a_statement_of_need_states_and_argues_nothing() {
    // Level at 120, with a low from 1 to 2 o'clock on each of three nights; one of them was seen by a meter.
    let low = |minute: f64| (60.0..120.0).contains(&minute.rem_euclid(1440.0));
    let mut history =
        History { readings: readings(0.0, 3.0, |minute| if low(minute) { 60.0 } else { 120.0 }), ..History::default() };
    history.meter_checks.push(MeterCheck::new(at(70.0), mg(58.0)));
    let period = ebbstead_core::review::Period::days_before(days(3.0), 3).unwrap();
    let need = Need::of(&history, &Wearer::default(), period);
    assert_eq!((need.lows, need.lows_at_night, need.serious_lows), (3, 3, 0));
    assert_eq!((need.warned_by_sensor.hits, need.seen_without_sensor.hits), (3, 1));
    assert_eq!(need.announced_by_sensor.hits, 0, "an alert that comes as the low begins announces nothing");
    for language in [Language::ENGLISH, Language::GERMAN] {
        let lines = need_lines(&need, Words::new(language, GlucoseUnit::MgDl)).join("\n");
        assert!(!lines.contains("NaN") && lines.contains('3'), "{lines}");
    }
}

#[test]
fn a_statement_counts_no_lows_where_readings_do_not_tell_and_names_the_meter() {
    let mut history = History::default();
    let too_low = MeterCheck { beyond: Some(Beyond::Below), ..MeterCheck::new(at(70.0), mg(20.0)) };
    history.meter_checks.push(too_low);
    let period = ebbstead_core::review::Period::days_before(days(3.0), 3).unwrap();
    let said = |history: &History| {
        need_lines(&Need::of(history, &Wearer::default(), period), Words::new(Language::ENGLISH, GlucoseUnit::MgDl))
            .join("\n")
    };
    let unread = said(&history);
    assert!(unread.contains("cannot be counted") && unread.contains("Meter checks below 70 mg/dL: 1"), "{unread}");
    assert!(!unread.contains("0 times"), "{unread}");
    history.readings = readings(0.0, 3.0, |_| 120.0);
    assert!(said(&history).contains("0 times"), "{}", said(&history));
    history.readings = history.readings.into_iter().step_by(12).collect();
    assert!(said(&history).contains("no other within 20 minutes"), "{}", said(&history));
}

#[test]
fn entries_of_the_future_say_nothing_yet() {
    let mut history = worn();
    history.supplies.push(noted(60.0, Supply::new(Item::Sensor, Stocked::Counted, 4.0)));
    let early: Moment = days(54.0);
    assert!(Outlook::of(Item::Sensor, &history, &wearer(), early).stock.is_none());
}
