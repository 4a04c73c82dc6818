//! Bad input: every figure says what it used and what is missing, and nothing that is no number is shown.

use ebbstead_core::alerts::{AlertStats, Plan};
use ebbstead_core::log::{
    Carbohydrate, Entry, EntryKind, History, MeterCheck, Purpose, Reading, SensorEvent, Source, Stocked, Supply,
    current_history,
};
use ebbstead_core::outcomes::Outcomes;
use ebbstead_core::pages::report;
use ebbstead_core::pages::sheet::sheet;
use ebbstead_core::review::patterns::patterns;
use ebbstead_core::review::{Period, Review, ReviewOptions, metrics::Lines};
use ebbstead_core::sensor::Record;
use ebbstead_core::sentences::alerts::stats_lines;
use ebbstead_core::sentences::outcomes::outcome_lines;
use ebbstead_core::sentences::review::{
    basis, episode_line, figure_lines, own_line, pattern_lines, range_lines, summary, too_little,
};
use ebbstead_core::sentences::sensor::{
    agreement_lines, calibration_text, concurrent_line, rotation_text, session_line, site_line,
};
use ebbstead_core::sentences::supplies::{cost_line, need_lines, outlook_lines};
use ebbstead_core::store::Log;
use ebbstead_core::supplies::{Need, Outlook, costs};
use ebbstead_core::time::Moment;
use ebbstead_core::units::GlucoseUnit;
use ebbstead_core::wearer::{Language, Wearer};
use ebbstead_core::words::Words;
use proptest::prelude::*;

use super::{at, days, entry, mg, near, readings};

fn days_before(now: Moment, days: u16) -> Period {
    Period::days_before(now, days).unwrap()
}

/// Everything that is shown of a history, in both languages and units.
fn shown(history: &History, wearer: &Wearer, now: Moment, days: u16) -> String {
    let period = days_before(now, days);
    let mut all = String::new();
    for (language, unit) in [(Language::ENGLISH, GlucoseUnit::MgDl), (Language::GERMAN, GlucoseUnit::MmolL)] {
        let words = Words::new(language, unit);
        let mut put = |lines: Vec<String>| all += &format!("{}\n", lines.join("\n"));
        for options in
            [ReviewOptions::default(), ReviewOptions { without_compression_lows: true, ..ReviewOptions::default() }]
        {
            let review = Review::of(history, wearer, period, options);
            let before = Review::of(history, wearer, days_before(period.from(), days), options);
            let looked = patterns(&review, history);
            put(basis(&review, words));
            put(summary(&review, Some(&before), &looked, words));
            let mut lines = range_lines(&review, words);
            lines.push(own_line(&review, Lines::own(wearer), words));
            lines.extend(figure_lines(&review, words));
            put(lines.into_iter().map(|line| format!("{} {} {}", line.name, line.value, line.note)).collect());
            put(review.lows.iter().chain(&review.highs).map(|one| episode_line(one, words)).collect());
            put(review.profile.iter().filter_map(|one| one.err()).map(|one| too_little(one, words)).collect());
            put(pattern_lines(&looked, words));
            put(vec![report::html(&review, Some(&before), history, wearer, words, now, None)]);
        }
        let record = Record::of(history, Some(10.0), now);
        put(record.sessions.iter().map(|one| session_line(one, Some(10.0), words, now)).collect());
        put(record.sessions.iter().map(|one| sheet(history, one, None, None, words, now)).collect());
        put(record.sites.iter().map(|one| site_line(one, words)).collect());
        put(vec![rotation_text(&record.sites, words), calibration_text(&record.calibration, words)]);
        put(record.concurrent.iter().map(|(name, one)| concurrent_line(name, one, words)).collect());
        put(record.agreement.iter().flat_map(|one| agreement_lines(one, &record.by_range, words)).collect());
        let stats = AlertStats::of(history, wearer, &Plan::of(wearer), period);
        put(stats_lines(&stats, words).into_iter().map(|(name, value)| format!("{name} {value}")).collect());
        put(Outlook::all(history, wearer, now).iter().flat_map(|one| outlook_lines(one, words, now).1).collect());
        put(costs(history, wearer, now).iter().map(|one| cost_line(one, words)).collect());
        put(need_lines(&Need::of(history, wearer, period), words));
        put(outcome_lines(&Outcomes::of(history, wearer, period, now), wearer, words));
    }
    all
}

fn holds_numbers_only(text: &str) {
    for bad in ["NaN", "nan ", "inf ", "-0 ", "-0,0", "-0.0 ", " ? ", "18446744073709551615"] {
        assert!(!text.contains(bad), "{bad:?} in {text}");
    }
}

fn ask(history: &History, now: Moment, days: u16) -> String {
    let text = shown(history, &Wearer::default(), now, days);
    holds_numbers_only(&text);
    text
}

#[test]
fn no_data_and_one_reading_say_what_is_missing() {
    let nothing = ask(&History::default(), days(14.0), 14);
    for said in ["have 0, need", "0 readings", "No prompt is kept", "too little yet to look for patterns"] {
        assert!(nothing.contains(said), "{said} is not in {nothing}");
    }
    let one = History { readings: vec![Reading::new(days(13.5), mg(101.0))], ..History::default() };
    assert!(ask(&one, days(14.0), 14).contains("need 24 hours of readings"));
}

#[test]
fn three_days_with_a_gap_of_twenty_hours_count_what_is_there() {
    let mut history = History { readings: readings(0.0, 3.0, |_| 100.0), ..History::default() };
    history.readings.retain(|one| !(1440.0..2640.0).contains(&one.at.minutes_since(at(0.0))));
    let review = Review::of(&history, &Wearer::default(), days_before(days(3.0), 3), ReviewOptions::default());
    near(review.sufficiency.covered_hours, 52.0, 0.01);
    near(review.sufficiency.longest_gap_hours, 20.0, 0.1);
    near(review.shares.unwrap().in_range, 100.0, 1e-9);
    assert!(ask(&history, days(3.0), 3).contains("The longest gap is 20.0 h."));
    // A day that is not covered makes no swing, and the gap no low.
    assert!(review.lows.is_empty());
    // A gap of less than an hour is in minutes.
    history.readings = readings(0.0, 3.0, |_| 100.0);
    history.readings.retain(|one| !(1440.0..1470.0).contains(&one.at.minutes_since(at(0.0))));
    assert!(ask(&history, days(3.0), 3).contains("The longest gap is 30 minutes."));
}

/// Every 5 minutes over some days, with the clock as the offsets say.
fn with_clock(offset: impl Fn(f64) -> i32, count: f64) -> History {
    let mut history = History {
        readings: readings(0.0, count, |minute| 110.0 + 30.0 * (minute / 200.0).sin()),
        ..History::default()
    };
    for one in &mut history.readings {
        let minute = one.at.minutes_since(at(0.0));
        one.at = Moment::new(one.at.unix_ms(), offset(minute)).unwrap();
    }
    history
}

#[test]
fn a_clock_put_on_and_travel_over_nine_zones_change_hours_and_no_minute() {
    let summer = with_clock(|minute| if minute < 10_080.0 { 60 } else { 120 }, 14.0);
    let travel = with_clock(|minute| if minute < 10_080.0 { 60 } else { -480 }, 14.0);
    let home = with_clock(|_| 60, 14.0);
    let of = |history: &History| {
        Review::of(history, &Wearer::default(), days_before(days(14.0), 14), ReviewOptions::default())
    };
    let (at_home, in_summer, away) = (of(&home), of(&summer), of(&travel));
    for other in [&in_summer, &away] {
        near(other.sufficiency.covered_hours, at_home.sufficiency.covered_hours, 1e-6);
        near(other.spread.unwrap().mean_mg_dl, at_home.spread.unwrap().mean_mg_dl, 1e-9);
        assert_eq!(other.clock_changes, 1);
    }
    assert_eq!(at_home.clock_changes, 0);
    assert!(ask(&travel, days(14.0), 14).contains("Your clock was put on or back once"));
    ask(&summer, days(14.0), 14);
}

#[test]
fn one_minute_and_fifteen_minute_data_weigh_by_time() {
    // A day each minute at 100, then a day every 15 minutes at 200: half the time each.
    let fast = (0..1440).map(|k| Reading::new(at(f64::from(k)), mg(100.0)));
    let slow = (0..96).map(|k| Reading::new(at(1440.0 + 15.0 * f64::from(k)), mg(200.0)));
    let history = History { readings: fast.chain(slow).collect(), ..History::default() };
    let review = Review::of(&history, &Wearer::default(), days_before(days(2.0), 2), ReviewOptions::default());
    near(review.shares.unwrap().in_range, 50.0, 0.6);
    near(review.spread.unwrap().mean_mg_dl, 150.0, 0.6);
    ask(&history, days(2.0), 2);
}

#[test]
fn two_sensors_at_once_are_distinguished_through_the_log() {
    let now = days(3.0);
    let mut log = Log::in_memory(now).unwrap();
    let reading = |source: &str, minute: f64, amount: f64| {
        entry(at(minute), source, EntryKind::SensorReading { mg_dl: mg(amount) })
    };
    let minutes = |k: u32| 5.0 * f64::from(k);
    log.record_all((0..864).map(|k| reading("left", minutes(k), 120.0))).unwrap();
    log.record_all((288..864).map(|k| reading("right", minutes(k) + 2.0, 160.0))).unwrap();
    let event = |day: f64, source: &str, event: SensorEvent| entry(days(day), source, EntryKind::Sensor(event));
    log.record(&event(0.0, "left", SensorEvent::inserted(None))).unwrap();
    log.record(&event(1.0, "right", SensorEvent::inserted(None))).unwrap();
    for k in 0..6 {
        let check = EntryKind::MeterCheck { mg_dl: mg(120.0) };
        log.record(&entry(days(1.2 + 0.25 * f64::from(k)), "by hand", check)).unwrap();
    }
    let history = log.history(days(0.0), now).unwrap();
    assert_eq!((history.readings.len(), history.concurrent.len()), (864, 1));
    let record = Record::of(&history, None, now);
    assert_eq!(record.sessions.iter().filter(|one| one.until.is_none()).count(), 2);
    near(record.agreement.unwrap().bias_mg_dl.value, 0.0, 1e-9);
    near(record.concurrent[0].1.unwrap().bias_mg_dl.value, 40.0, 1e-9);
    let review = Review::of(&history, &Wearer::default(), days_before(now, 3), ReviewOptions::default());
    near(review.spread.unwrap().mean_mg_dl, 120.0, 1e-9);
    assert!(ask(&history, now, 3).contains("576 readings of right are not used"));
    // A part of the log follows the same sensor; the wearer may choose the other.
    let part = log.history(days(2.0), now).unwrap();
    assert!(part.readings.iter().all(|one| one.glucose == mg(120.0)));
    let wearer = Wearer { followed_sensor: Some(Source::new("right").unwrap()), ..Wearer::default() };
    log.set_wearer(&wearer, now).unwrap();
    let chosen = log.history(days(2.0), now).unwrap();
    assert!(chosen.readings.iter().all(|one| one.glucose == mg(160.0)));
}

#[test]
fn edited_and_retracted_entries_count_as_they_stand_now() {
    let now = days(2.0);
    let mut log = Log::in_memory(now).unwrap();
    let readings = readings(0.0, 2.0, |minute| if (600.0..660.0).contains(&minute) { 60.0 } else { 100.0 });
    let low: Vec<Entry> =
        readings.iter().map(|one| entry(one.at, "sensor 7", EntryKind::SensorReading { mg_dl: one.glucose })).collect();
    log.record_all(low.clone()).unwrap();
    let count = |log: &Log| {
        let history = log.history(days(0.0), now).unwrap();
        ask(&history, now, 2);
        Review::of(&history, &Wearer::default(), days_before(now, 2), ReviewOptions::default()).lows.len()
    };
    assert_eq!(count(&log), 1);
    for one in low.iter().filter(|one| matches!(one.what, EntryKind::SensorReading { mg_dl } if mg_dl == mg(60.0))) {
        log.correct(one.id, one.at, EntryKind::SensorReading { mg_dl: mg(95.0) }, now).unwrap();
    }
    assert_eq!(count(&log), 0);
    let supply = entry(
        days(1.0),
        "by hand",
        EntryKind::Supply(Supply::new(ebbstead_core::log::Item::Sensor, Stocked::Counted, 5.0)),
    );
    log.record(&supply).unwrap();
    log.retract(supply.id, now).unwrap();
    assert!(log.history(days(0.0), now).unwrap().supplies.is_empty());
}

fn a_history() -> impl Strategy<Value = History> {
    let reading = (0.0..20_160.0_f64, 20.0..600.0_f64, -9_i32..=9);
    let taken = (0.0..20_160.0_f64, 0.5..80.0_f64, any::<bool>());
    let event = (0.0..20_160.0_f64, 0_u8..4);
    let amount = (0.0..20_160.0_f64, 0_u8..5, 1.0..60.0_f64, 0_usize..7);
    (
        prop::collection::vec(reading, 0..120),
        prop::collection::vec(taken, 0..20),
        prop::collection::vec(event, 0..8),
        prop::collection::vec(amount, 0..8),
        prop::collection::vec((0.0..20_160.0_f64, 20.0..600.0_f64), 0..20),
    )
        .prop_map(|(read, taken, events, amounts, checked)| {
            let mut entries: Vec<Entry> = Vec::new();
            for (minute, amount, zone) in read {
                let when = Moment::new(at(minute).unix_ms(), zone * 60).unwrap();
                let source = if zone > 6 { "b" } else { "a" };
                entries.push(entry(when, source, EntryKind::SensorReading { mg_dl: mg(amount) }));
            }
            for (minute, grams, rescue) in taken {
                let purpose = if rescue { Purpose::Rescue } else { Purpose::Meal };
                entries.push(entry(at(minute), "by hand", EntryKind::Carbohydrate { grams, purpose }));
            }
            for (minute, which) in events {
                let event = match which {
                    0 | 1 => SensorEvent::inserted(None),
                    2 => SensorEvent::Ended,
                    _ => SensorEvent::WarmUpOver,
                };
                entries.push(entry(at(minute), if which == 1 { "b" } else { "by hand" }, EntryKind::Sensor(event)));
            }
            for (minute, which, amount, item) in amounts {
                let stocked =
                    [Stocked::Counted, Stocked::Received, Stocked::Used, Stocked::ThrownAway, Stocked::Received];
                let item = ebbstead_core::log::Item::ALL[item];
                let supply = Supply {
                    expires: at(minute).local_date().checked_add_days(chrono::Days::new(amount as u64)),
                    ..Supply::new(item, stocked[usize::from(which)], amount.floor().max(1.0))
                };
                entries.push(entry(at(minute), "by hand", EntryKind::Supply(supply)));
            }
            let mut history = current_history(entries);
            history.meter_checks =
                checked.into_iter().map(|(minute, amount)| MeterCheck::new(at(minute), mg(amount))).collect();
            history.meter_checks.sort_by_key(|one| one.at);
            history.carbohydrate.sort_by_key(|one: &Carbohydrate| one.at);
            history
        })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever is in the log, what is shown holds numbers only.
    #[test]
    fn nothing_shown_is_no_number(history in a_history(), days_back in 1_u16..20) {
        ask(&history, days(14.0), days_back);
    }
}
