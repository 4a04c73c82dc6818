//! The table of what is asked ahead: before sleep, a drive, movement.

use std::collections::BTreeSet;

use ebbstead_core::before::Before;
use ebbstead_core::before::activity::{BeforeActivity, Movement, Planned};
use ebbstead_core::before::driving::BeforeDriving;
use ebbstead_core::before::sleep::BeforeSleep;
use ebbstead_core::country::Country;
use ebbstead_core::log::{Effort, Entry, EntryKind, Reading, Shown, Symptom};
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
