//! The trade's rules and published ones, asked of the prompts through the public interface.
//!
//! "Common practice" means a fact of the trade that no source was found for.
#![allow(clippy::unwrap_used)] // a scene that cannot be built is a failed test

use ebbstead_core::engine::{Learnt, check};
use ebbstead_core::log::{
    Beyond, Carbohydrate, Dose, Drinking, History, Instrument, InsulinKind, KetoneCheck, MeterCheck, Purpose, Reading,
    SensorEvent, SensorNote, Shown, Source, Symptom,
};
use ebbstead_core::prompt::{Caution, Occasion, Prompt, Question, Reason, Sentence, Verdict};
use ebbstead_core::time::Moment;
use ebbstead_core::units::Glucose;
use ebbstead_core::wearer::Wearer;

/// What was read, every 5 minutes, and asked at the newest reading.
struct Scene {
    history: History,
    now: Moment,
    feels: Option<Symptom>,
}

fn mg(mg_dl: f64) -> Glucose {
    Glucose::from_mg_dl(mg_dl).unwrap()
}

/// Readings that end at a local time of 1 March 2026.
fn readings(end: &str, mg_dl: impl IntoIterator<Item = f64>) -> Scene {
    let now = Moment::parse(&format!("2026-03-01T{end}:00+01:00")).unwrap();
    let all: Vec<f64> = mg_dl.into_iter().collect();
    let back = |k: usize| now.plus_minutes(-5.0 * (all.len() - 1 - k) as f64);
    let readings = all.iter().enumerate().map(|(k, one)| Reading::new(back(k), mg(*one))).collect();
    Scene { history: History { readings, ..History::default() }, now, feels: None }
}

/// `hours` of readings near a level, with the small unrest of a sensor, by day.
fn flat(hours: usize, level: f64) -> Vec<f64> {
    let unrest = [0.0, 1.0, -1.0, 0.0, 2.0, 0.0, -2.0, 1.0];
    (0..hours * 12).map(|k| level + unrest[k % unrest.len()]).collect()
}

impl Scene {
    fn meter(mut self, minutes_ago: f64, mg_dl: f64) -> Self {
        self.history.meter_checks.push(MeterCheck::new(self.now.plus_minutes(-minutes_ago), mg(mg_dl)));
        self
    }

    fn rescue(mut self, minutes_ago: f64, grams: f64) -> Self {
        let at = self.now.plus_minutes(-minutes_ago);
        self.history.carbohydrate.push(Carbohydrate { at, grams, purpose: Purpose::Rescue });
        self
    }

    fn ketones(mut self, minutes_ago: f64, mmol_l: f64) -> Self {
        self.history.ketones.push(KetoneCheck { at: self.now.plus_minutes(-minutes_ago), mmol_l });
        self
    }

    fn rapid(mut self, minutes_ago: f64, units: f64) -> Self {
        let at = self.now.plus_minutes(-minutes_ago);
        self.history.doses.push(Dose { at, kind: InsulinKind::Rapid, units });
        self
    }

    fn sensor_put_in(mut self, hours_ago: f64) -> Self {
        let at = self.now.plus_minutes(-60.0 * hours_ago);
        self.history.sensor.push(SensorNote { at, event: SensorEvent::inserted(None), sensor: None });
        self
    }

    fn rolled_off(mut self, minutes_ago: f64) -> Self {
        let at = self.now.plus_minutes(-minutes_ago);
        self.history.sensor.push(SensorNote { at, event: SensorEvent::RolledOff, sensor: None });
        self
    }

    fn feels(mut self, symptom: Symptom) -> Self {
        self.feels = Some(symptom);
        self
    }

    fn later(mut self, minutes: f64) -> Self {
        self.now = self.now.plus_minutes(minutes);
        self
    }

    fn asked(&self, occasion: Occasion) -> Prompt {
        self.asked_by(&Wearer::default(), occasion)
    }

    fn asked_by(&self, wearer: &Wearer, occasion: Occasion) -> Prompt {
        let question = Question { now: self.now, occasion, feels: self.feels, meter: None };
        check(&self.history, wearer, &Learnt::default(), &question)
    }

    /// A day of doses, with a meal noted beside each or with none.
    fn record(mut self, meals: bool) -> Self {
        for hours_ago in [22.0, 18.0, 14.0, 9.0] {
            let at = self.now.plus_minutes(-60.0 * hours_ago);
            self.history.doses.push(Dose { at, kind: InsulinKind::Rapid, units: 4.0 });
            if meals {
                self.history.carbohydrate.push(Carbohydrate { at, grams: 40.0, purpose: Purpose::Meal });
            }
        }
        self
    }

    fn meal(mut self, minutes_ago: f64, grams: f64) -> Self {
        let at = self.now.plus_minutes(-minutes_ago);
        self.history.carbohydrate.push(Carbohydrate { at, grams, purpose: Purpose::Meal });
        self
    }

    fn look(&self) -> Prompt {
        self.asked(Occasion::Look)
    }
}

/// A fall of `rate` mg/dL a minute after an hour at `from`, until the reading is `until` or less.
fn fall(from: f64, rate: f64, until: f64) -> Vec<f64> {
    let steps = (1..).map(|k| from - rate * 5.0 * f64::from(k));
    flat(1, from).into_iter().chain(steps.take_while(|mg_dl| *mg_dl > until - rate * 5.0)).collect()
}

/// "At 120 and racing down it is not yet a low: check, watch, treat near 70": common practice, no source.
#[test]
fn at_120_and_racing_down_check_watch_and_treat_near_70() {
    for (from, rate) in [(225.0, 3.5), (240.0, 4.0), (210.0, 3.0)] {
        let all = fall(from, rate, 60.0);
        let mut treated_at = None;
        for end in 13..=all.len() {
            let prompt = readings("15:00", all[..end].iter().copied()).look();
            let newest = all[end - 1];
            if newest >= 110.0 {
                assert_ne!(prompt.verdict, Verdict::Treat, "at {newest}, {rate} a minute");
            }
            if (105.0..=125.0).contains(&newest) {
                assert_eq!(prompt.verdict, Verdict::Check, "at {newest}, {rate} a minute: {prompt:?}");
                assert!(prompt.look_again_minutes.is_some_and(|minutes| minutes <= 5), "watch");
            }
            if newest < 70.0 {
                assert_eq!(prompt.verdict, Verdict::Treat, "at {newest}, {rate} a minute: {prompt:?}");
            }
            if prompt.verdict == Verdict::Treat && treated_at.is_none() {
                treated_at = Some(newest);
            }
        }
        // Near 70, and not only once it is low.
        assert!(treated_at.is_some_and(|mg_dl| (65.0..90.0).contains(&mg_dl)), "{rate} a minute: {treated_at:?}");
    }
}

/// "At 50 after four flat hours near 124: doubt it, check first": common practice, no source. By day and by night.
#[test]
fn at_50_after_four_flat_hours_near_124_doubt_it_and_check_first() {
    for (clock, occasion) in [("15:00", Occasion::Look), ("03:00", Occasion::Look), ("03:00", Occasion::Wake)] {
        let mut all = flat(4, 124.0);
        all.push(50.0);
        let prompt = readings(clock, all).asked(occasion);
        assert_eq!(prompt.verdict, Verdict::Check, "{clock}: {prompt:?}");
        let drop = |reason: &Reason| matches!(reason, Reason::SuddenDrop { from_mg_dl, .. } if *from_mg_dl > 120.0);
        assert!(prompt.reasons.iter().any(drop), "{clock}: {:?}", prompt.reasons);
    }
}

/// A slow fall to the same place is believed.
#[test]
fn at_50_after_a_slow_fall_treat() {
    let prompt = readings("15:00", fall(124.0, 1.2, 50.0)).look();
    assert_eq!((prompt.verdict, prompt.sentence), (Verdict::Treat, Sentence::TreatBelowFloor));
}

/// ADA Standards of Care: a severe event is one that needs another's help, whatever the glucose. Nothing by mouth for a person who
/// cannot swallow.
#[test]
fn severe_signs_come_before_any_number() {
    for level in [45.0, 120.0, 300.0] {
        let scene = readings("15:00", flat(2, level)).meter(2.0, level).rescue(5.0, 15.0).feels(Symptom::Severe);
        for occasion in [Occasion::Look, Occasion::Wake] {
            assert_eq!(scene.asked(occasion).verdict, Verdict::Help);
        }
    }
    let nothing =
        Scene { history: History::default(), now: readings("15:00", [100.0]).now, feels: Some(Symptom::Severe) };
    assert_eq!(nothing.look().verdict, Verdict::Help);
}

/// A meter is nearer the truth than a sensor: common practice; for meters ISO 15197:2013 (95 % within 15 mg/dL or 15 %).
#[test]
fn a_fresh_meter_check_leads() {
    let low_sensor = || readings("15:00", fall(124.0, 1.2, 60.0));
    assert_eq!(low_sensor().look().verdict, Verdict::Treat);
    assert_eq!(low_sensor().meter(2.0, 108.0).look().verdict, Verdict::Hold);
    let good_sensor = || readings("15:00", flat(3, 118.0));
    assert_eq!(good_sensor().look().verdict, Verdict::Clear);
    assert_eq!(good_sensor().meter(1.0, 61.0).look().verdict, Verdict::Treat);
    // An hour later it no longer counts.
    assert_eq!(low_sensor().meter(60.0, 108.0).look().verdict, Verdict::Treat);
}

/// Battelino et al. 2019: below 54 mg/dL is serious. ADA: treat below 70.
#[test]
fn low_and_believed_is_treated() {
    for (until, sentence) in [(66.0, Sentence::TreatLow), (52.0, Sentence::TreatBelowFloor)] {
        let prompt = readings("15:00", fall(120.0, 1.2, until)).look();
        assert_eq!((prompt.verdict, prompt.sentence), (Verdict::Treat, sentence));
    }
}

/// Feelings count: common practice. Where they disagree with the sensor a meter decides, and without one the feeling does.
#[test]
fn feeling_low_is_never_talked_away() {
    for level in [80.0, 110.0, 150.0] {
        let prompt = readings("15:00", flat(3, level)).feels(Symptom::FeelsLow).look();
        assert_eq!((prompt.verdict, prompt.without_meter), (Verdict::Check, Some(Verdict::Treat)), "at {level}");
    }
    let none =
        Scene { history: History::default(), now: readings("15:00", [100.0]).now, feels: Some(Symptom::FeelsLow) };
    assert_eq!((none.look().verdict, none.look().without_meter), (Verdict::Check, Some(Verdict::Treat)));
}

/// The first 24 hours of a sensor are unreliable: common practice, no source.
#[test]
fn in_a_sensors_first_day_a_low_is_checked_first() {
    let low = || readings("15:00", fall(120.0, 1.2, 62.0));
    let prompt = low().sensor_put_in(10.0).look();
    assert_eq!((prompt.verdict, prompt.without_meter), (Verdict::Check, Some(Verdict::Treat)));
    assert_eq!(low().sensor_put_in(30.0).look().verdict, Verdict::Treat);
}

/// Old readings say nothing of now: common practice.
#[test]
fn what_is_old_is_checked() {
    let scene = readings("15:00", flat(3, 120.0)).later(25.0);
    assert_eq!(scene.look().sentence, Sentence::CheckStale);
    let low = readings("15:00", fall(120.0, 1.2, 62.0)).later(25.0).look();
    assert_eq!((low.verdict, low.without_meter), (Verdict::Check, Some(Verdict::Treat)));
}

/// Diabetes Canada guidelines ch. 14: treat, recheck after 15 minutes, repeat if still below 70 mg/dL. A trial found almost no rise
/// by then (Front Endocrinol 2023;14:1186680), so a reading that still falls is no reason for more.
#[test]
fn rescue_carbohydrate_is_given_fifteen_minutes() {
    let low = || readings("15:00", fall(120.0, 1.2, 63.0));
    assert_eq!(low().rescue(6.0, 15.0).look().verdict, Verdict::Hold);
    assert_eq!(low().rescue(16.0, 15.0).look().verdict, Verdict::Treat);
    // Falling through the floor line is another matter.
    let through = || readings("15:00", fall(120.0, 2.0, 50.0));
    assert_eq!(through().rescue(6.0, 15.0).look().verdict, Verdict::Treat);
}

/// What insulin was taken acts for hours (Hovorka et al. 2004), so a high with much of it on board is waited out; no prompt names
/// an amount of insulin, and none says treat to a high.
#[test]
fn a_high_is_never_treated_and_insulin_at_work_is_shown() {
    let high = || readings("15:00", flat(2, 215.0));
    let waiting = high().rapid(40.0, 4.0).look();
    assert_eq!((waiting.verdict, waiting.sentence), (Verdict::Hold, Sentence::HoldInsulinWorking));
    let on_board =
        |reason: &Reason| matches!(reason, Reason::InsulinOnBoard { units, .. } if (3.0..4.0).contains(units));
    assert!(waiting.reasons.iter().any(on_board));
    for level in [190.0, 260.0, 390.0] {
        for scene in [readings("15:00", flat(4, level)), readings("15:00", flat(4, level)).rapid(300.0, 3.0)] {
            let verdict = scene.look().verdict;
            assert!(matches!(verdict, Verdict::Hold | Verdict::Check), "{level}: {verdict:?}");
        }
    }
}

/// A dose that nothing was eaten with lowers by all that it does (4 units at 40 mg/dL each, most of it an hour and a half after,
/// Hovorka et al. 2004): in the log of a wearer who notes meals that is treated before the readings are near the line. Where meals are
/// not noted anyway, or one was, it is not.
#[test]
fn a_dose_without_a_meal_is_believed_of_somebody_who_notes_meals() {
    let wearer = Wearer {
        insulin_factor_mg_dl_per_unit: Some(40.0),
        carbohydrate_factor_mg_dl_per_g: Some(4.0),
        ..Wearer::default()
    };
    let all = fall(124.0, 1.4, 60.0);
    let says = |upto: usize, scene: fn(Scene) -> Scene| {
        scene(readings("15:00", all[..upto].iter().copied())).asked_by(&wearer, Occasion::Look)
    };
    // The highest reading of the fall that is treated.
    let treats_from = |scene: fn(Scene) -> Scene| {
        let first = (13..=all.len()).find(|upto| says(*upto, scene).verdict == Verdict::Treat);
        all[first.unwrap() - 1]
    };
    let noted = |scene: Scene| scene.record(true).rapid(45.0, 4.0);
    let unnoted = |scene: Scene| scene.record(false).rapid(45.0, 4.0);
    let eaten = |scene: Scene| scene.record(true).rapid(45.0, 4.0).meal(45.0, 45.0);
    assert!(treats_from(noted) >= treats_from(unnoted), "{} {}", treats_from(noted), treats_from(unnoted));
    assert!(treats_from(noted) > treats_from(eaten), "{} {}", treats_from(noted), treats_from(eaten));
    assert!(treats_from(unnoted) >= treats_from(|scene| scene));
    let chance = |scene| says(16, scene).futures.map_or(0.0, |both| both.wait.p_low_60);
    let (noted, unnoted, eaten) = (chance(noted), chance(unnoted), chance(eaten));
    assert!(noted > unnoted + 0.02 && noted > eaten + 0.02, "{noted} {unnoted} {eaten}");
}

/// A sleeping sensor that is surely pressed and still reads well above the line asks for no finger-prick; nearer the line, or where
/// the wearer woke and asks, it does: common practice, no source.
#[test]
fn a_pressed_sensor_well_above_the_line_is_rolled_off_first() {
    let pressed = |last: f64| {
        let mut all = flat(4, 142.0);
        all.extend([112.0, last + 2.0, last]);
        readings("03:00", all)
    };
    let held = pressed(99.0).look();
    assert_eq!((held.verdict, held.sentence), (Verdict::Hold, Sentence::HoldCompression), "{held:?}");
    assert!(held.look_again_minutes.is_some_and(|minutes| minutes <= 10));
    let woken = pressed(99.0).asked(Occasion::Wake);
    assert_eq!((woken.verdict, pressed(74.0).look().verdict), (Verdict::Check, Verdict::Check));
    // "Level" beside a fall of 43 mg/dL in a quarter of an hour would say that there is no hurry.
    let tells_rate = |prompt: &Prompt| prompt.reasons.iter().any(|reason| matches!(reason, Reason::Rate { .. }));
    assert!(!tells_rate(&held) && !tells_rate(&woken) && tells_rate(&readings("03:00", flat(4, 142.0)).look()));
}

/// A fall that eases off above the low line is held: it is what most falls do.
#[test]
fn a_fall_that_eases_off_is_held() {
    let mut all = fall(170.0, 2.0, 122.0);
    all.extend([115.0, 110.0, 106.0, 103.0, 101.0]);
    let prompt = readings("15:00", all).look();
    assert!(matches!(prompt.verdict, Verdict::Hold | Verdict::Clear), "{prompt:?}");
}

/// A pressed sensor's readings come back within minutes of rolling off it: common practice, no source. What does not come back is
/// no pressure, and is then treated where no check is possible.
#[test]
fn a_sensor_rolled_off_is_given_time_to_come_back_and_then_no_more() {
    let pressed = |more: usize| {
        let mut all = flat(4, 112.0);
        all.extend([92.0, 71.0, 58.0]);
        all.extend(std::iter::repeat_n(57.0, more));
        readings("03:00", all)
    };
    let verdict_of = |scene: Scene| {
        let prompt = scene.asked(Occasion::Wake);
        (prompt.verdict, prompt.sentence, prompt.without_meter)
    };
    assert_eq!(verdict_of(pressed(0)), (Verdict::Check, Sentence::CheckCompression, Some(Verdict::Hold)));
    let waiting = (Verdict::Check, Sentence::CheckRolledOff, Some(Verdict::Hold));
    assert_eq!(verdict_of(pressed(1).rolled_off(4.0)), waiting);
    let prompt = pressed(4).rolled_off(18.0).asked(Occasion::Wake);
    assert!(
        prompt.verdict == Verdict::Treat
            || (prompt.verdict, prompt.without_meter) == (Verdict::Check, Some(Verdict::Treat)),
        "{prompt:?}"
    );
    assert_ne!(prompt.sentence, Sentence::CheckRolledOff);
    // Readings that did come back need no more doubt.
    let came_back = {
        let mut all = flat(4, 112.0);
        all.extend([92.0, 71.0, 58.0, 85.0, 104.0]);
        readings("03:00", all).rolled_off(8.0).asked(Occasion::Wake)
    };
    assert!(matches!(came_back.verdict, Verdict::Clear | Verdict::Hold), "{came_back:?}");
}

/// The sensor reads minutes behind blood (published lag 5 to 10 minutes, see the lag's tests), so what rises fast has left a low
/// that is still shown: a meter settles it, and without one a low is treated.
#[test]
fn a_low_reading_that_rises_is_checked_and_no_words_of_falling_are_said() {
    let mut all = fall(120.0, 1.0, 62.0);
    all.extend([59.0, 60.0, 59.0, 67.0]);
    let prompt = readings("15:00", all.iter().copied()).look();
    assert_eq!(
        (prompt.verdict, prompt.sentence, prompt.without_meter),
        (Verdict::Check, Sentence::CheckLowRising, Some(Verdict::Treat))
    );
    all.extend([74.0, 79.0]);
    let risen = readings("15:00", all.iter().copied()).look();
    assert_ne!(risen.sentence, Sentence::HoldFalling, "{risen:?}");
    // Below the floor line nothing is waited for.
    let mut deep = fall(120.0, 1.2, 44.0);
    deep.extend([45.0, 50.0]);
    assert_eq!(readings("15:00", deep).look().verdict, Verdict::Treat);
}

/// A fast fall that may be pressure: by day a wearer without a meter treats it near the low line, since a wearer awake can shift
/// and look; asleep the same readings may be waited out. Ours.
#[test]
fn doubt_by_day_never_delays_and_by_night_does() {
    let mut seen = 0;
    for (from, rate) in [(130.0, 5.0), (140.0, 5.5), (125.0, 4.5)] {
        let all = fall(from, rate, 72.0);
        let asked = |end: &str| readings(end, all.iter().copied()).look();
        let (day, night) = (asked("15:00"), asked("03:05"));
        let pressed = |prompt: &Prompt| prompt.estimate.unwrap().modes.compression;
        if pressed(&day) > 0.5 {
            seen += 1;
            assert_eq!(
                (day.verdict, day.without_meter),
                (Verdict::Check, Some(Verdict::Treat)),
                "{from} {rate}: {day:?}"
            );
        }
        assert!(pressed(&night) > 0.5, "{from} {rate}: {night:?}");
        assert_eq!(
            (night.verdict, night.without_meter),
            (Verdict::Check, Some(Verdict::Hold)),
            "{from} {rate}: {night:?}"
        );
    }
    assert!(seen > 0, "no fall was doubted by day, so nothing was asked");
}

/// Turner et al., Diabetes Care 2001;24:1888-1893: lows came from 10:00 on after wine at 21:00. It is said for that long, and the
/// chance of a low is no smaller for it.
#[test]
fn alcohol_is_shown_until_the_next_noon_and_never_calms() {
    let with = |hours_ago: f64| {
        let mut scene = readings("10:00", fall(120.0, 0.8, 92.0));
        let at = scene.now.plus_minutes(-60.0 * hours_ago);
        scene.history.alcohol.push(Drinking { at, drinks: 5.0 });
        scene.look()
    };
    let chance = |prompt: &Prompt| prompt.forecast.as_ref().map(|forecast| forecast.low.within_30).unwrap();
    let without = readings("10:00", fall(120.0, 0.8, 92.0)).look();
    let names_alcohol = |prompt: &Prompt| prompt.reasons.iter().any(|reason| matches!(reason, Reason::Alcohol { .. }));
    for hours_ago in [1.0, 13.0] {
        let after = with(hours_ago);
        assert!(names_alcohol(&after) && after.cautions.contains(&Caution::AlcoholLowersLater), "{after:?}");
        assert!(chance(&after) > chance(&without), "{} {}", chance(&after), chance(&without));
    }
    assert!(!names_alcohol(&with(17.0)) && !names_alcohol(&without));
}

/// What is beyond an instrument's range is shown as that, not as an amount.
#[test]
fn too_low_to_measure_is_shown_as_such() {
    let mut scene = readings("15:00", fall(120.0, 1.2, 62.0));
    for reading in scene.history.readings.iter_mut().rev().take(3) {
        *reading = Reading::of(reading.at, Shown::beyond(Instrument::Sensor, Beyond::Below));
    }
    let at = scene.now.plus_minutes(-1.0);
    scene.history.meter_checks.push(MeterCheck::of(at, Shown::beyond(Instrument::Meter, Beyond::Below)));
    let prompt = scene.look();
    assert_eq!(prompt.verdict, Verdict::Treat);
    let is_below = |reason: &Reason| match reason {
        Reason::ReadingBeyond { beyond: Beyond::Below, mg_dl, .. } => (mg_dl - 40.0).abs() < 1e-9,
        Reason::MeterBeyond { beyond: Beyond::Below, mg_dl, .. } => (mg_dl - 20.0).abs() < 1e-9,
        _ => false,
    };
    assert_eq!(prompt.reasons.iter().filter(|reason| is_below(reason)).count(), 2, "{:?}", prompt.reasons);
    assert!(!prompt.reasons.iter().any(|reason| matches!(reason, Reason::Reading { .. } | Reason::Meter { .. })));
}

/// ISPAD Clinical Practice Consensus Guidelines 2022, sick day management (Phelan et al., Pediatr Diabetes 2022;23:912-925, from
/// memory): blood ketones of 3.0 mmol/L and more are for emergency care, at whatever glucose.
#[test]
fn ketones_of_an_emergency_call_for_help_at_every_glucose() {
    for level in [75.0, 110.0, 180.0, 250.0, 400.0] {
        for mmol_l in [3.0, 4.5, 20.0] {
            let prompt = readings("14:00", flat(3, level)).ketones(20.0, mmol_l).asked(Occasion::Look);
            assert_eq!(prompt.verdict, Verdict::Help, "{level} {mmol_l}");
            assert_eq!(prompt.sentence, Sentence::CallForKetones);
        }
        let below = readings("14:00", flat(3, level)).ketones(20.0, 2.9).asked(Occasion::Look);
        assert_ne!(below.verdict, Verdict::Help, "{level}");
        assert_ne!(below.verdict, Verdict::Clear, "{level}: high ketones are never nothing");
    }
    // A low comes first, and says that the other is not over.
    let low = readings("14:00", flat(3, 60.0)).ketones(20.0, 3.4).asked(Occasion::Look);
    assert_eq!(low.verdict, Verdict::Treat);
    assert!(low.cautions.contains(&Caution::KetonesEmergency));
}

/// ISPAD 2022, sick day management (as above): raised ketones are measured again within two hours and need carbohydrate and the sick-day
/// plan; a low comes first and leaves them where they are. Ketones that were just measured are not asked for.
#[test]
fn ketones_are_spoken_of_beside_a_low_and_not_asked_for_when_known() {
    let low = readings("14:00", fall(110.0, 0.8, 62.0)).ketones(20.0, 1.6).look();
    assert_eq!(low.verdict, Verdict::Treat, "{:?}", low.sentence);
    assert!(low.cautions.contains(&Caution::KetonesAfterLow), "{:?}", low.cautions);
    let usual = readings("14:00", flat(3, 60.0)).ketones(20.0, 0.3).look();
    assert!(!usual.cautions.contains(&Caution::KetonesAfterLow), "{:?}", usual.cautions);

    let high = || readings("03:00", flat(15, 300.0)).meter(2.0, 300.0);
    assert!(high().look().cautions.contains(&Caution::KetonesWhenHigh));
    let known = high().ketones(2.0, 0.5).look();
    assert!(!known.cautions.contains(&Caution::KetonesWhenHigh), "{:?}", known.cautions);
    assert!(high().ketones(150.0, 0.5).look().cautions.contains(&Caution::KetonesWhenHigh), "two hours later");
}

/// Cautions fit what is shown: where the sensor rises after rescue carbohydrate, nothing is said of a fall or of a rise that may come late.
#[test]
fn cautions_of_a_fall_are_not_said_in_a_rise() {
    let (down, up) = (|n: usize| 105.0 - 9.4 * n as f64, |n: usize| 60.0 + 4.8 * n as f64);
    let all = [flat(9, 110.0), (0..6).map(down).collect(), (0..6).map(up).collect()].concat();
    let rises = readings("03:00", all).rescue(28.0, 20.0).asked(Occasion::Wake);
    assert_eq!(rises.sentence, Sentence::HoldRescueWorking, "{rises:?}");
    assert!(!rises.cautions.contains(&Caution::SensorLags) && !rises.cautions.contains(&Caution::RiseTakesTime));
    assert!(rises.cautions.contains(&Caution::SensorLagsRising), "{:?}", rises.cautions);
    let falls = readings("15:00", fall(120.0, 1.2, 63.0)).rescue(6.0, 15.0).look();
    assert!(falls.cautions.contains(&Caution::RiseTakesTime), "{:?}", falls.cautions);
}

/// Who is alone is advised to let somebody know once glucose is very low; common practice, no source. Settings make prompts earlier and
/// never later: over falls of every steepness, the first reading that says treat.
#[test]
fn being_alone_or_not_feeling_lows_never_makes_a_treat_later() {
    let unfelt = Wearer { feels_lows: false, ..Wearer::default() };
    let both = Wearer { is_alone: true, ..unfelt.clone() };
    let mut earlier = 0;
    for (steep, levels_off) in [(0.8, 76.0), (1.1, 76.0), (1.4, 80.0), (1.7, 84.0), (2.0, 88.0), (2.4, 92.0)] {
        let first_treat = |wearer: &Wearer| {
            (0..30).find(|last| {
                let fall = |n: usize| 140.0 - 5.0 * steep * n as f64;
                // It slows down above the line, so that a treat is a choice and not the floor's.
                let amounts: Vec<f64> = (0..=*last)
                    .map(|n| if fall(n) > levels_off { fall(n) } else { levels_off - 1.2 * (n as f64).sqrt() })
                    .collect();
                readings("15:00", [flat(3, 140.0), amounts].concat()).asked_by(wearer, Occasion::Look).verdict
                    == Verdict::Treat
            })
        };
        let (usual, unfelt, both) = (first_treat(&Wearer::default()), first_treat(&unfelt), first_treat(&both));
        let or_never = |one: Option<usize>| one.unwrap_or(usize::MAX);
        assert!(
            or_never(both) <= or_never(unfelt) && or_never(unfelt) <= or_never(usual),
            "{steep}: {usual:?} {unfelt:?} {both:?}"
        );
        earlier += usize::from(or_never(both) < or_never(usual));
    }
    assert!(earlier > 0, "the settings change nothing");
    let low = readings("15:00", [flat(3, 110.0), (0..14).map(|n| 105.0 - 4.4 * f64::from(n)).collect()].concat());
    let call = |wearer: &Wearer| low.asked_by(wearer, Occasion::Look).cautions.contains(&Caution::CallSomebody);
    assert!(call(&both) && !call(&unfelt));
}

/// A high that insulin does not lower: ISPAD 2022, technologies (Sherr et al., Pediatr Diabetes 2022;23:1406-1431, from memory): measure
/// ketones and look after the site. It is asked at each hour of it, and in between never said that the insulin is working.
#[test]
fn a_high_that_insulin_does_not_lower_asks_for_ketones_each_hour() {
    let asked = |minutes: usize| {
        let high = [flat(3, 150.0), (0..=minutes / 5).map(|n| 300.0 + f64::from(n as u8 % 2)).collect()].concat();
        readings("18:00", high).rapid(115.0, 5.0).meter(30.0, 290.0).look()
    };
    for minutes in [120, 125, 180, 240] {
        assert_eq!(asked(minutes).sentence, Sentence::CheckKetones, "{minutes}");
    }
    for minutes in [135, 150, 175, 200] {
        let until = 60 - minutes as u16 % 60;
        let prompt = asked(minutes);
        assert_eq!((prompt.verdict, prompt.sentence), (Verdict::Hold, Sentence::HoldOwnPlan), "{minutes}");
        assert_eq!(prompt.look_again_minutes, Some(until.clamp(5, 30)), "{minutes}: who looks then is asked");
        for caution in [Caution::InsulinMayNotGetIn, Caution::KetonesWhenHigh, Caution::NoDose] {
            assert!(prompt.cautions.contains(&caution), "{minutes}: {caution:?}");
        }
    }
}

#[test]
fn a_prompt_to_treat_stands_until_something_new_speaks_against_it() {
    let down = [122.0, 116.0, 104.0, 95.0, 90.0, 85.0, 79.0];
    let with = |more: &[f64]| {
        let all = flat(3, 128.0).into_iter().chain(down).chain(more.iter().copied());
        readings("14:00", all)
    };
    assert_eq!(with(&[]).look().verdict, Verdict::Treat, "the fall is treated");
    // Level readings alone would be held.
    let level = [79.0, 80.0];
    assert_eq!(with(&level).look().verdict, Verdict::Treat, "nothing new");
    assert_eq!(readings("14:00", flat(4, 80.0)).look().verdict, Verdict::Clear, "the same level without a fall");
    for (what, scene) in [
        ("a rise", with(&[82.0, 86.0])),
        ("a meter check", with(&level).meter(2.0, 96.0)),
        ("carbohydrate", with(&level).rescue(4.0, 16.0)),
        ("time", with(&[79.0, 80.0, 80.0, 80.0, 81.0, 81.0, 80.0, 81.0, 82.0, 81.0, 82.0])),
    ] {
        assert_ne!(scene.look().verdict, Verdict::Treat, "{what} speaks against it");
    }
}

/// Common practice, no source: a large overdose of insulin is an emergency wherever glucose is.
#[test]
fn an_amount_that_may_be_an_emergency_is_never_left_out() {
    for level in [60.0, 72.0, 82.0, 100.0, 160.0] {
        let prompt = readings("14:00", flat(4, level)).rapid(5.0, 30.0).look();
        assert!(prompt.reasons.iter().any(|one| matches!(one, Reason::DoubtfulDose { .. })), "{level}");
        assert!(prompt.cautions.contains(&Caution::CallSomebody), "{level}");
        assert!(level > 82.0 || prompt.verdict == Verdict::Treat, "{level}: {:?}", prompt.verdict);
    }
}

/// Steps taken more often than each quarter of an hour fail too. ADA Standards of Care: what does not come up needs another person.
#[test]
fn many_steps_that_did_not_help_are_a_matter_for_two() {
    let low = || flat(1, 110.0).into_iter().chain(fall(104.0, 2.4, 56.0)).chain([52.0; 20]);
    for every in [9, 12, 14, 15] {
        let mut scene = readings("14:00", low());
        let taken: Vec<i32> = (0..=90).step_by(every).collect();
        for minutes in taken.into_iter().rev() {
            scene = scene.rescue(f64::from(minutes + 7), 16.0);
        }
        let prompt = scene.look();
        assert_eq!(prompt.sentence, Sentence::TreatAgainAndCall, "every {every} minutes");
        // Right after the next one it is given its time, and not alone.
        let prompt = scene.rescue(1.0, 16.0).look();
        assert!(prompt.cautions.contains(&Caution::CallSomebody), "every {every} minutes: {:?}", prompt.cautions);
    }
}

#[test]
fn a_step_just_taken_for_a_meter_check_is_given_its_time() {
    let falling = || readings("14:00", flat(3, 145.0).into_iter().chain(fall(145.0, 0.9, 109.0))).rapid(70.0, 10.0);
    let wearer = Wearer { insulin_factor_mg_dl_per_unit: Some(40.0), ..Wearer::default() };
    let asked = |scene: Scene| scene.asked_by(&wearer, Occasion::Look);
    assert_eq!(asked(falling().meter(3.0, 88.0)).verdict, Verdict::Treat);
    let prompt = asked(falling().meter(3.0, 88.0).rescue(1.0, 16.0));
    assert_eq!((prompt.verdict, prompt.sentence), (Verdict::Hold, Sentence::HoldRescueWorking));
}

#[test]
fn a_step_just_taken_is_named_where_the_signal_is_lost() {
    let prompt = readings("14:00", fall(108.0, 1.0, 58.0)).later(17.0).rescue(5.0, 16.0).look();
    assert_eq!((prompt.verdict, prompt.sentence), (Verdict::Hold, Sentence::HoldRescueWorking));
    assert!(prompt.reasons.iter().any(|one| matches!(one, Reason::Stale { .. })), "{:?}", prompt.reasons);
}

/// Sugar on the finger: one check far above the sensor is asked for again and moves nothing; a second one like it does.
#[test]
fn a_meter_far_above_moves_the_estimate_once_it_is_confirmed() {
    let falling = || readings("14:00", flat(3, 110.0).into_iter().chain(fall(108.0, 1.0, 64.0)));
    let blood = |scene: Scene| scene.look().estimate.unwrap().blood_mg_dl;
    let without = blood(falling());
    assert!((blood(falling().meter(3.0, 250.0)) - without).abs() < 1.0, "{without}");
    assert!(blood(falling().meter(9.0, 250.0).meter(3.0, 245.0)) > without + 40.0, "{without}");
    let prompt = falling().meter(3.0, 250.0).look();
    assert_eq!((prompt.verdict, prompt.without_meter), (Verdict::Check, Some(Verdict::Treat)));
}

/// Twelve minutes after a reading, half an hour from now is 42 minutes from it.
#[test]
fn chances_and_paths_count_from_now_and_not_from_an_old_reading() {
    let falling = || readings("14:00", flat(3, 130.0).into_iter().chain(fall(128.0, 1.5, 96.0)));
    let (now, later) = (falling().look(), falling().later(12.0).look());
    let [fresh, aged] = [&now, &later].map(|prompt| prompt.forecast.as_ref().unwrap());
    assert!(aged.low.within_30 > fresh.low.within_30 && aged.low.within_30 <= fresh.low.within_60);
    let at = |minutes: u16| fresh.path.iter().find(|one| one.minutes == minutes).unwrap().reading_mg_dl;
    let between = at(25) + (at(30) - at(25)) * 2.0 / 5.0;
    let aged_15 = aged.path.iter().find(|one| one.minutes == 15).unwrap().reading_mg_dl;
    assert!((aged_15 - between).abs() < 1e-9, "{aged_15} is not {between}");
    let [fresh, aged] = [&now, &later].map(|prompt| prompt.futures.unwrap().wait);
    assert!(aged.p_low_30 > fresh.p_low_30 && aged.p_low_30 <= fresh.p_low_60, "{fresh:?} {aged:?}");
    assert!((aged.path[0].mean - (fresh.path[0].mean + fresh.path[1].mean * 4.0) / 5.0).abs() < 6.0);
}

/// By day an hour's fall to the forties is one, however restless a sensor that reads each minute is.
#[test]
fn a_long_fall_of_a_restless_sensor_is_treated_by_day() {
    for seed in 0..8_u32 {
        let now = Moment::parse("2026-03-01T14:00:00+01:00").unwrap();
        // Numbers spread evenly, summed in fours: about normal, with a standard deviation of 4 mg/dL.
        let even = |k: u32| f64::from(k.wrapping_mul(2_654_435_761).wrapping_add(seed * 40_503) >> 16) / 65_536.0 - 0.5;
        let unrest = |minute: u32| 4.0 * 1.732 * (0..4).map(|k| even(4 * minute + k)).sum::<f64>();
        let level = |back: u32| 140.0 - 1.5 * (63.0 - f64::from(back)).max(0.0);
        let readings = (0..=240_u32).rev().map(|back| {
            let glucose = mg((level(back) + unrest(back)).max(41.0).round());
            Reading::new(now.plus_minutes(-f64::from(back)), glucose)
        });
        let history = History { readings: readings.collect(), ..History::default() };
        let prompt = Scene { history, now, feels: None }.look();
        assert_eq!(prompt.verdict, Verdict::Treat, "seed {seed}: {:?}", prompt.sentence);
    }
}

/// Putting the new sensor in before the old one is taken off: common practice, no source. That the old one ended says nothing of the new.
#[test]
fn a_sensor_noted_as_ended_gives_way_to_another_that_reads() {
    let name = |name| Source::new(name).unwrap();
    let old = readings("12:00", flat(12, 110.0).into_iter().chain(fall(110.0, 0.8, 62.0)));
    let new = readings("12:10", flat(0, 116.0).into_iter().chain([116.0; 20]));
    let mut history = History::default();
    let note = |minutes: f64, sensor, event| SensorNote {
        at: old.now.plus_minutes(minutes),
        event,
        sensor: Some(name(sensor)),
    };
    history.sensor = vec![note(-30.0, "new", SensorEvent::inserted(None)), note(1.0, "old", SensorEvent::Ended)];
    history.take_readings(vec![(name("old"), old.history.readings), (name("new"), new.history.readings)]);
    assert_eq!(history.followed_at(old.now), Some(&name("old")));
    assert_eq!(history.followed_at(new.now), Some(&name("new")));
    let prompt = Scene { history, now: new.now, feels: None }.look();
    assert!(!prompt.reasons.iter().any(|one| matches!(one, Reason::Ended { .. })), "{:?}", prompt.reasons);
    assert!(prompt.reasons.iter().any(|one| matches!(one, Reason::Reading { mg_dl, .. } if *mg_dl > 115.0)));
}

/// Which of two sensors is right nobody knows: common practice, no source. A new one often reads too low in its first day.
#[test]
fn a_second_sensor_that_reads_low_is_asked_about() {
    let name = |name| Source::new(name).unwrap();
    let level = readings("12:00", (0..60).map(|n| 119.0 + f64::from(n % 3)));
    let low = readings("12:00", flat(40, 120.0).into_iter().chain(fall(118.0, 0.8, 54.0)).chain([54.0; 4]));
    let now = low.now;
    let asked = |put_in: Option<f64>| {
        let mut history = History::default();
        let inserted = |minutes| SensorNote {
            at: now.plus_minutes(minutes),
            event: SensorEvent::inserted(None),
            sensor: Some(name("second")),
        };
        history.sensor.extend(put_in.map(inserted));
        let (first, second) = (level.history.readings.clone(), low.history.readings.clone());
        history.take_readings(vec![(name("first"), first), (name("second"), second)]);
        Scene { history, now, feels: None }.look()
    };
    let both = asked(None);
    assert_eq!((both.sentence, both.without_meter), (Sentence::CheckOtherSensor, Some(Verdict::Treat)));
    assert!(both.reasons.iter().any(|one| matches!(one, Reason::OtherSensor { mg_dl, .. } if *mg_dl < 55.0)));
    assert_eq!(asked(Some(-300.0)).without_meter, Some(Verdict::Hold));
}
