//! What came of prompts, against records whose course is known.

use ebbstead_core::log::{
    Beyond, Carbohydrate, CompressionLow, History, Instrument, Matter, MeterCheck, Occasion, Prompted, Prompting,
    Purpose, Reading, Shown, Verdict,
};
use ebbstead_core::outcomes::Outcomes;
use ebbstead_core::review::Period;
use ebbstead_core::sentences::outcomes::outcome_lines;
use ebbstead_core::time::Moment;
use ebbstead_core::units::GlucoseUnit;
use ebbstead_core::wearer::{Language, Wearer};
use ebbstead_core::words::Words;

use super::{at, days, mg, near, readings};

fn prompting(minutes: f64, verdict: Verdict, matter: Matter) -> Prompting {
    let prompted = Prompted {
        occasion: Occasion::Look,
        matter,
        verdict,
        without_meter: None,
        chance_low: Some(0.1),
        blood_mg_dl: Some(mg(95.0)),
        chance_if_waiting: None,
        chance_if_treating: None,
        look_again_minutes: Some(10),
    };
    Prompting { at: at(minutes), shown: prompted }
}

fn look(history: &History, now: Moment) -> Outcomes {
    Outcomes::of(history, &Wearer::default(), Period::new(days(0.0), days(10.0)).unwrap(), now)
}

/// Falls to 80 at hours 1 to 9 of every day, and to 60 at hour 12.
fn course(minute: f64) -> f64 {
    let hour = (minute / 60.0).rem_euclid(24.0);
    let into = (hour.fract() - 0.5).abs();
    match hour as u32 {
        1..=9 => 80.0 + 80.0 * into,
        12 => 60.0 + 120.0 * into,
        _ => 120.0,
    }
}

#[test]
fn holds_are_counted_by_what_came_after() {
    let mut history = History { readings: readings(0.0, 1.0, course), ..History::default() };
    for hour in 1..=9 {
        history.prompts.push(prompting(60.0 * f64::from(hour) + 5.0, Verdict::Hold, Matter::Falling));
    }
    history.prompts.push(prompting(725.0, Verdict::Hold, Matter::Falling));
    let outcomes = look(&history, days(1.0));
    assert_eq!((outcomes.held.went_below.hits, outcomes.held.went_below.of), (1, 10));
    near(outcomes.held.mean_chance.unwrap(), 0.1, 1e-12);
    // Clopper-Pearson of 1 in 10 at 95 %: 0.0025 to 0.4450 (tables; SciPy's binomtest gives the same).
    near(outcomes.held.went_below.low, 0.002_528_6, 1e-6);
    near(outcomes.held.went_below.high, 0.445_016_1, 1e-6);
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    let lines = outcome_lines(&outcomes, &Wearer::default(), words).join("\n");
    assert!(lines.contains("Of 10 holds, 9 never went below 70 mg/dL within 60 min (95 %: 55 to 100 %)."), "{lines}");
    assert!(lines.contains("1 Mar 2026, 12:05 (60 mg/dL)"), "{lines}");
    let german =
        outcome_lines(&outcomes, &Wearer::default(), Words::new(Language::GERMAN, GlucoseUnit::MmolL)).join("\n");
    assert!(german.contains("Von 10 Malen Abwarten blieben 9"), "{german}");
}

#[test]
fn too_low_to_measure_is_below_the_line_and_said_as_such() {
    let mut history = History { readings: readings(0.0, 1.0, course), ..History::default() };
    history.prompts = vec![prompting(725.0, Verdict::Hold, Matter::Falling)];
    // A sensor whose range ends at 70 mg/dL: that number alone is not below the line of 70.
    for one in history.readings.iter_mut().filter(|one| one.glucose.mg_dl() < 70.0) {
        *one = Reading::of(one.at, Shown { glucose: mg(70.0), beyond: Some(Beyond::Below) });
    }
    history.meter_checks.push(MeterCheck::of(at(730.0), Shown::beyond(Instrument::Meter, Beyond::Below)));
    let outcomes = look(&history, days(1.0));
    assert_eq!((outcomes.held.went_below.hits, outcomes.held.meter_low.hits), (1, 1));
    assert_eq!(outcomes.outcomes[0].lowest.and_then(|lowest| lowest.beyond), Some(Beyond::Below));
    let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    let lines = outcome_lines(&outcomes, &Wearer::default(), words).join("\n");
    assert!(lines.contains(&format!("12:05 ({})", words.beyond(Beyond::Below, 70.0))), "{lines}");
}

#[test]
fn prompts_that_say_the_same_in_a_row_are_one_decision() {
    let mut history = History { readings: readings(0.0, 1.0, course), ..History::default() };
    history.prompts = (0..4).map(|k| prompting(65.0 + 10.0 * f64::from(k), Verdict::Hold, Matter::Falling)).collect();
    history.prompts.push(prompting(150.0, Verdict::Hold, Matter::Falling));
    let outcomes = look(&history, days(1.0));
    assert_eq!((outcomes.prompts, outcomes.outcomes.len()), (5, 2));
    assert_eq!(outcomes.outcomes[0].times, 4);
}

#[test]
fn treating_all_the_same_is_kept_apart_from_holding() {
    let mut history = History { readings: readings(0.0, 1.0, course), ..History::default() };
    history.prompts =
        vec![prompting(65.0, Verdict::Hold, Matter::Falling), prompting(185.0, Verdict::Hold, Matter::Falling)];
    history.carbohydrate.push(Carbohydrate { at: at(70.0), grams: 15.0, purpose: Purpose::Rescue });
    let outcomes = look(&history, days(1.0));
    assert_eq!((outcomes.held.went_below.of, outcomes.treated_instead.went_below.of), (1, 1));
    assert_eq!(outcomes.outcomes[0].treated_after_minutes, Some(5.0));
}

#[test]
fn a_check_is_held_against_the_meter_and_a_treat_against_the_log() {
    let mut history = History { readings: readings(0.0, 1.0, course), ..History::default() };
    history.prompts =
        vec![prompting(725.0, Verdict::Check, Matter::NightWake), prompting(735.0, Verdict::Treat, Matter::Falling)];
    history.meter_checks.push(MeterCheck::new(at(730.0), mg(64.0)));
    history.carbohydrate.push(Carbohydrate { at: at(736.0), grams: 15.0, purpose: Purpose::Rescue });
    let outcomes = look(&history, days(1.0));
    assert_eq!((outcomes.advised_check.metered.hits, outcomes.advised_check.meter_low.hits), (1, 1));
    assert_eq!((outcomes.advised_treat.treated.hits, outcomes.advised_treat.went_below.hits), (1, 1));
}

#[test]
fn what_is_not_seen_to_its_end_is_not_counted() {
    let mut history = History { readings: readings(0.0, 1.0, course), ..History::default() };
    history.prompts =
        vec![prompting(65.0, Verdict::Hold, Matter::Falling), prompting(1425.0, Verdict::Hold, Matter::Falling)];
    // The hour after the first has a gap.
    history.readings.retain(|one| !(80.0..110.0).contains(&one.at.minutes_since(at(0.0))));
    let outcomes = look(&history, days(1.0));
    assert_eq!((outcomes.held.went_below.of, outcomes.held.unseen), (0, 2));
    assert!(outcomes.outcomes[1].open);
    let lines = outcome_lines(&outcomes, &Wearer::default(), Words::new(Language::ENGLISH, GlucoseUnit::MgDl));
    assert!(lines.iter().any(|line| line.contains("of these it is not seen what came")), "{lines:?}");
    assert!(lines.iter().all(|line| !line.contains(" more it is")), "one prompt is not two: {lines:?}");
}

#[test]
fn a_pressed_sensor_makes_no_low() {
    let mut history = History { readings: readings(0.0, 1.0, course), ..History::default() };
    history.prompts = vec![prompting(725.0, Verdict::Hold, Matter::NightWake)];
    history.compression_lows.push(CompressionLow { from: at(720.0), until: at(785.0) });
    let held = look(&history, days(1.0)).held;
    assert_eq!(held.went_below.hits, 0);
}

#[test]
fn each_choice_stands_beside_the_chances_that_were_shown_of_both() {
    let mut history = History { readings: readings(0.0, 1.0, course), ..History::default() };
    let shown = |minutes: f64, waiting: f64| {
        let mut one = prompting(minutes, Verdict::Hold, Matter::Falling);
        one.shown.chance_if_waiting = Some(waiting);
        one.shown.chance_if_treating = Some(waiting / 4.0);
        one
    };
    // Three falls waited out, one of which went low; one treated; one of which the futures were not shown.
    let plain = prompting(245.0, Verdict::Hold, Matter::Falling);
    history.prompts = vec![shown(65.0, 0.2), shown(125.0, 0.4), shown(185.0, 0.8), plain, shown(725.0, 0.6)];
    history.carbohydrate.push(Carbohydrate { at: at(190.0), grams: 15.0, purpose: Purpose::Rescue });
    let outcomes = look(&history, days(1.0));
    assert_eq!((outcomes.waited.went_below.hits, outcomes.waited.went_below.of), (1, 3));
    near(outcomes.waited.mean_if_waiting.unwrap(), 0.4, 1e-12);
    near(outcomes.waited.mean_if_treating.unwrap(), 0.1, 1e-12);
    assert_eq!((outcomes.treated.went_below.hits, outcomes.treated.went_below.of), (0, 1));
    near(outcomes.treated.mean_if_treating.unwrap(), 0.2, 1e-12);
    let lines =
        outcome_lines(&outcomes, &Wearer::default(), Words::new(Language::ENGLISH, GlucoseUnit::MgDl)).join("\n");
    assert!(lines.contains("In 3 falls with both futures shown you ate nothing: 1 went below 70 mg/dL"), "{lines}");
    assert!(lines.contains("In 1 you took carbohydrate: 0 went below"), "{lines}");
}
