//! The table of what is asked ahead: before sleep, a drive, movement.

use std::collections::BTreeSet;

use ebbstead_core::before::Before;
use ebbstead_core::before::activity::{BeforeActivity, Mind, Movement, Planned};
use ebbstead_core::before::driving::{BeforeDriving, Drive};
use ebbstead_core::before::sleep::{BeforeSleep, Likelier, Look};
use ebbstead_core::before::{Missing, NowFirst};
use ebbstead_core::country::Country;
use ebbstead_core::log::{Effort, Entry, EntryKind, Reading, Shown, Symptom};
use ebbstead_core::prompt::Sentence;
use ebbstead_core::store::Log;
use ebbstead_core::time::Moment;
use ebbstead_core::units::GlucoseUnit;
use ebbstead_core::wearer::Wearer;
use serde::Serialize;

use super::again::each_minute;
use super::row::{Read, entry, noted, number, parts, sensor};
use super::table;

enum Question {
    Sleep,
    Driving { minutes: f64 },
    Activity(Planned),
}

struct Row {
    name: String,
    entries: Vec<Entry>,
    wearer: Wearer,
    now: Moment,
    feels: Option<Symptom>,
    question: Question,
    acceptable: Vec<String>,
    danger: String,
    shortfall: String,
}

impl Row {
    fn read(_: &str, [name, readings, added, asked, acceptable, danger, shortfall]: [&str; 7]) -> Read<Self> {
        let (mut clock, mut feels, mut question, mut ketones, mut country) = (None, None, None, None, None);
        for one in parts(asked, ',') {
            match one.split_whitespace().collect::<Vec<_>>().as_slice() {
                ["day"] => clock = Some("14:00"),
                ["evening"] => clock = Some("22:30"),
                ["feels", "low"] => feels = Some(Symptom::FeelsLow),
                ["severe", "signs"] => feels = Some(Symptom::Severe),
                ["sleep"] => question = Some(Question::Sleep),
                ["driving", minutes] => question = Some(Question::Driving { minutes: number(minutes)? }),
                ["activity", kind, effort, minutes] => {
                    question = Some(Question::Activity(Planned {
                        kind: match *kind {
                            "endurance" => Movement::Endurance,
                            "intervals" => Movement::Intervals,
                            "strength" => Movement::Strength,
                            other => return Err(format!("{other:?} is no kind")),
                        },
                        effort: match *effort {
                            "light" => Effort::Light,
                            "moderate" => Effort::Moderate,
                            "hard" => Effort::Hard,
                            other => return Err(format!("{other:?} is no effort")),
                        },
                        minutes: number(minutes)?,
                        ketones_mmol_l: None,
                    }));
                }
                ["ketones", amount] => ketones = Some(number(amount)?),
                [code] => country = Some(Country::parse(code).map_err(|error| error.to_string())?),
                other => return Err(format!("{other:?} is not understood")),
            }
        }
        let clock = clock.ok_or("says neither day nor evening")?;
        let now = Moment::parse(&format!("2026-03-01T{clock}:00+01:00")).map_err(|error| error.to_string())?;
        let mut question = question.ok_or("asks nothing")?;
        if let Question::Activity(planned) = &mut question {
            planned.ketones_mmol_l = ketones;
        }
        let wearer = Wearer { country, ..Wearer::default() };
        let mut entries = Vec::new();
        for (minutes_ago, shown) in sensor(readings, GlucoseUnit::MgDl)? {
            entries.push(entry(now, minutes_ago, "sensor", EntryKind::read_by_sensor(shown))?);
        }
        for item in parts(added, ';') {
            let (what, ago) = item.rsplit_once(',').ok_or_else(|| format!("{item:?} lacks its minutes before now"))?;
            entries.push(entry(now, number(ago)?, "by hand", noted(what, wearer.unit)?)?);
        }
        Ok(Self {
            name: name.to_owned(),
            entries,
            wearer,
            now,
            feels,
            question,
            acceptable: acceptable.split(" or ").map(|one| one.trim().to_owned()).collect(),
            danger: danger.to_owned(),
            shortfall: shortfall.to_owned(),
        })
    }

    /// The log, its readings filled in to one a minute where a draw of their jitter is named.
    fn before(&self, minutes: Option<u32>) -> Before {
        let mut log = Log::in_memory(self.now).unwrap();
        log.set_wearer(&self.wearer, self.now).unwrap();
        log.record_all(self.entries.iter().cloned()).unwrap();
        if let Some(draw) = minutes {
            let read = log.history(self.now.plus_minutes(-7.0 * 1440.0), self.now).unwrap().readings;
            let is_between = |one: &&Reading| read.iter().all(|known| known.at != one.at);
            let between = each_minute(&read, draw);
            let read_then = |one: &Reading| {
                let ago = self.now.minutes_since(one.at);
                entry(
                    self.now,
                    ago,
                    "sensor",
                    EntryKind::read_by_sensor(Shown { glucose: one.glucose, beyond: one.beyond }),
                )
            };
            log.record_all(between.iter().filter(is_between).map(|one| read_then(one).unwrap())).unwrap();
        }
        Before::at(&log, self.now, self.feels).unwrap()
    }

    /// The code of the answer, and whether it gives a chance.
    fn answer(&self, minutes: Option<u32>) -> (String, bool) {
        let before = self.before(minutes);
        match self.question {
            Question::Sleep => {
                let answer: BeforeSleep = before.sleep(None).unwrap();
                (code(&answer.look), answer.chance.is_some())
            }
            Question::Driving { minutes } => {
                let answer: BeforeDriving = before.driving(minutes).unwrap();
                (code(&answer.drive), answer.chance.is_some())
            }
            Question::Activity(planned) => {
                let answer: BeforeActivity = before.activity(planned).unwrap();
                (code(&answer.start), answer.chance_at_rest.is_some())
            }
        }
    }
}

/// How a code is written in JSON: by itself, or beside its numbers.
fn code(of: &impl Serialize) -> String {
    let json = serde_json::to_value(of).unwrap();
    json.as_str().or_else(|| json["code"].as_str()).unwrap().to_owned()
}

#[test]
fn what_is_asked_ahead_is_answered_acceptably() {
    let rows = table::read(|file| file == table::AHEAD, Row::read);
    assert!(rows.len() >= 40, "{} rows", rows.len());
    let names: BTreeSet<&str> = rows.iter().map(|row| row.name.as_str()).collect();
    assert_eq!(names.len(), rows.len(), "two rows of one name");
    let mut wrong = Vec::new();
    for row in &rows {
        let (said, chance) = row.answer(None);
        let fresh = row
            .entries
            .iter()
            .any(|one| matches!(one.what, EntryKind::SensorReading { .. }) && row.now.minutes_since(one.at) <= 60.0);
        if chance && said == "insulin_to_come" {
            wrong.push(format!("{:?}: a chance that does not hold the insulin", row.name));
        }
        if chance && !fresh {
            wrong.push(format!("{:?}: a chance without a reading of the hour", row.name));
        }
        match (row.acceptable.contains(&said), row.shortfall.as_str()) {
            (true, "") => {}
            (true, _) => {
                wrong.push(format!("{:?} is marked as a shortfall and now answers {said}: take the mark off", row.name))
            }
            (false, marked) if marked == said => {}
            (false, _) => wrong.push(format!(
                "{:?}: answered {said}; acceptable is {}; the danger: {}",
                row.name,
                row.acceptable.join(" or "),
                row.danger
            )),
        }
    }
    assert!(wrong.is_empty(), "{} of {} rows:\n{}", wrong.len(), rows.len(), wrong.join("\n"));
}

#[test]
fn a_reading_every_minute_changes_no_answer_asked_ahead_to_a_dangerous_one() {
    let mut wrong = Vec::new();
    for row in table::read(|file| file == table::AHEAD, Row::read).iter().filter(|row| row.shortfall.is_empty()) {
        let (said, _) = row.answer(Some(1));
        if !row.acceptable.contains(&said) {
            wrong.push(format!("{:?}: answered {said}; acceptable is {}", row.name, row.acceptable.join(" or ")));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What is known of a row's readings and entries.
fn known(readings: &str, added: &str, asked: &str) -> (Moment, Before) {
    let row = Row::read("", ["", readings, added, asked, "", "", ""]).unwrap();
    (row.now, row.before(None))
}

fn slept(readings: &str, added: &str) -> (Moment, BeforeSleep) {
    let (now, before) = known(readings, added, "evening, sleep");
    (now, before.sleep(None).unwrap())
}

#[test]
fn insulin_to_come_is_told_before_sleep_and_no_chance_leaves_it_out() {
    let (now, held) = slept("level 130 (1200 to 0)", "rapid 8, 20");
    let first = held.first.unwrap();
    assert_eq!((first.what, first.sentence), (NowFirst::Hold, Sentence::HoldInsulinToCome));
    assert_eq!((held.chance, held.alarm, held.missing), (None, None, Some(Missing::InsulinToCome)));
    assert_eq!(held.look, Look::AfterThat { at: now.plus_minutes(15.0) });
    // Above the high line a check says nothing of it, the night does.
    let (now, high) = slept("level 210 (1200 to 0)", "rapid 5, 30");
    assert_eq!((high.first, high.chance, high.missing), (None, None, Some(Missing::InsulinToCome)));
    assert_eq!(high.look, Look::BeforeSleep { at: now.plus_minutes(45.0) });
    // Alcohol alone is no insulin: it lowers late.
    let (_, drunk) = slept("level 140 (1200 to 0)", "alcohol 8 drinks, 60");
    assert_eq!((drunk.first, drunk.missing), (None, None));
    assert!(matches!(drunk.look, Look::InTheNight { .. }), "{:?}", drunk.look);
    // What was eaten for it counts.
    let (_, eaten) = slept("level 210 (1200 to 0)", "rapid 5, 30; meal 60 g, 30");
    assert!(eaten.missing.is_none() && eaten.chance.is_some(), "{eaten:?}");
}

#[test]
fn the_look_in_the_night_fits_what_makes_a_low_likelier() {
    let time = |readings: &str, added: &str| {
        let (now, asked) = slept(readings, added);
        let Look::InTheNight { at } = asked.look else { panic!("{added}: {:?}", asked.look) };
        (at.minutes_since(now), asked.until.minutes_since(now), asked)
    };
    // Alcohol lowers late: the second half of the night.
    let (at, night, asked) = time("level 140 (1200 to 0)", "alcohol 5 drinks, 60");
    assert!(night / 2.0 < at && at < night, "{at} of {night}");
    assert_eq!(asked.alarm, None);
    // And not before insulin is over.
    let (at, night, asked) = time("level 250 (1200 to 0)", "alcohol 6 drinks, 60; rapid 4, 15");
    assert!(night / 2.0 < at && at >= 225.0, "{at} of {night}");
    assert!(asked.likelier.iter().any(|one| matches!(one, Likelier::InsulinActs { .. })), "{:?}", asked.likelier);
    // Insulin alone: near its end.
    let lows = "level 130 (1200 to 900); level 64 (895 to 800); level 120 (795 to 400); level 66 (395 to 300); level 150 (295 to 0)";
    let (at, _, asked) = time(lows, "rapid 1, 100");
    assert!(
        asked
            .likelier
            .iter()
            .any(|one| matches!(one, Likelier::InsulinActs { until } if *until == asked.at.plus_minutes(at))),
        "{at} {asked:?}"
    );
}

#[test]
fn a_drive_waits_for_the_instrument_that_saw_the_low() {
    let until = |readings: &str, added: &str| {
        let (now, before) = known(readings, added, "day, driving 60, GB");
        let Drive::WaitAfterLow { until } = before.driving(60.0).unwrap().drive else { panic!("{added}") };
        until.minutes_since(now)
    };
    let meter = "meter 60, 44; rescue 15 g, 43; meter 66, 30; rescue 15 g, 29; meter 118, 3";
    assert!((until("level 110 (1200 to 0)", meter) - 42.0).abs() < 1e-6, "45 minutes from the meter's 118");
    // A sensor that saw it too counts by itself: back above 5.0 mmol/L 15 minutes ago.
    let fell = "level 110 (1200 to 60); 105 90 75 62 60 (35); 70 80 88 95 108 110 110 (0)";
    assert!((until(fell, "meter 58, 33; rescue 15 g, 32; meter 104, 1") - 30.0).abs() < 1e-6);
}

#[test]
fn alcohol_is_minded_before_movement() {
    let minds = |added: &str| {
        let (_, before) = known("level 150 (1200 to 0)", added, "day, activity endurance hard 90");
        let planned = Planned { kind: Movement::Endurance, effort: Effort::Hard, minutes: 90.0, ketones_mmol_l: None };
        before.activity(planned).unwrap().mind
    };
    let alcohol =
        |minds: &[Mind]| minds.iter().any(|one| matches!(one, Mind::Alcohol { drinks } if (drinks - 4.0).abs() < 1e-9));
    assert!(alcohol(&minds("alcohol 4 drinks, 180")) && !alcohol(&minds("")));
}
