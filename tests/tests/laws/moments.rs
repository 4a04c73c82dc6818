//! Moments to ask about: invented records, and people of open data.

use std::fs::File;
use std::io::{BufRead, BufReader};
use std::path::Path;

use ebbstead_core::estimate::dynamics::Dynamics;
use ebbstead_core::exchange::csv::Zone;
use ebbstead_core::exchange::csv::events::Events;
use ebbstead_core::log::{Carbohydrate, Dose, History, InsulinKind, Purpose};
use ebbstead_core::prompt::{Occasion, Question};
use ebbstead_core::time::Moment;
use ebbstead_core::wearer::Wearer;
use ebbstead_tests::shared;
use ebbstead_tests::simulate::Draw;
use ebbstead_tests::traces::sets;
use rand_core::Rng;
use rand_pcg::Pcg64;

use super::Asked;

/// What a prompt is given of the past, in minutes: enough for the filter to have settled.
const LOOKS_BACK_MINUTES: f64 = 720.0;
/// People of each set that are read.
const PEOPLE: usize = 4;
/// Moments are asked where the newest reading lies within, in mg/dL: where answers differ.
const ASKED_MG_DL: std::ops::RangeInclusive<f64> = 55.0..=160.0;

/// Draws of one try.
pub struct Draws(Pcg64);

impl Draws {
    /// A number between.
    // The casts fit: 53 bits fit.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.0.next_u64() >> 11) as f64 * (1.0 / 9_007_199_254_740_992.0)
    }

    /// A whole number below.
    // The casts fit: below a small number.
    pub fn below(&mut self, count: usize) -> usize {
        (self.0.next_u64() % count as u64) as usize
    }
}

/// Records to draw moments from.
pub struct Moments {
    /// What they are.
    pub name: &'static str,
    people: Vec<History>,
    seed: u128,
}

impl Moments {
    /// Invented wearers: the model's own, restless enough to fall and rise, with meals and insulin.
    pub fn invented() -> Option<Self> {
        let dynamics = Dynamics { level_mg_dl: 115.0, ..Dynamics::POPULATION };
        let people = (0..6).map(|seed| {
            let draw = Draw { dynamics, days: 6.0, spacing_minutes: 5.0, meter_every: 97, seed };
            let mut history = draw.draw().unwrap().history;
            let Some(first) = history.readings.first().map(|one| one.at) else { return history };
            let mut draws = Draws(Pcg64::new(u128::from(seed), 5));
            for meal in 0..18 {
                let at = first.plus_minutes(480.0 * f64::from(meal) + draws.between(0.0, 240.0));
                history.doses.push(Dose { at, kind: InsulinKind::Rapid, units: draws.between(1.0, 8.0) });
                history.carbohydrate.push(Carbohydrate {
                    at,
                    grams: draws.between(10.0, 70.0),
                    purpose: Purpose::Meal,
                });
            }
            history
        });
        Some(Self { name: "invented records", people: people.collect(), seed: 11 })
    }

    /// People of open data, with what they logged. None, and a line that says so, where the data are not there.
    pub fn real(law: &str) -> Option<Self> {
        let folder = shared::folder_or_skip(law)?.join("open-data");
        let mut people = Vec::new();
        for part in ["cgm", "events"] {
            for set in sets(&folder.join(part)).unwrap() {
                people.extend(set.files.iter().take(PEOPLE).map(|file| read(file)));
            }
        }
        people.retain(|history| history.readings.len() > 300);
        assert!(people.len() > 10, "{} people", people.len());
        Some(Self { name: "open data", people, seed: 12 })
    }

    /// A moment of one person, the same for the same number.
    pub fn draw(&self, number: usize) -> (Asked, Draws) {
        let mut draws = Draws(Pcg64::new(number as u128, self.seed));
        loop {
            let person = &self.people[draws.below(self.people.len())];
            let newest = person.readings[200 + draws.below(person.readings.len() - 200)];
            if !ASKED_MG_DL.contains(&newest.glucose.mg_dl()) || newest.beyond.is_some() {
                continue;
            }
            let history = behind(person, newest.at);
            if history.readings.len() < 30 {
                continue;
            }
            let factors = draws.below(2) == 0;
            let wearer = Wearer {
                insulin_factor_mg_dl_per_unit: factors.then_some(45.0),
                carbohydrate_factor_mg_dl_per_g: factors.then_some(4.0),
                ..Wearer::default()
            };
            let question = Question { now: newest.at, occasion: Occasion::Look, feels: None, meter: None };
            return (Asked { history, wearer, question }, draws);
        }
    }
}

/// What a prompt is given at a moment.
fn behind(person: &History, now: Moment) -> History {
    let from = now.plus_minutes(-LOOKS_BACK_MINUTES);
    fn within<T: Copy>(all: &[T], from: Moment, now: Moment, at: impl Fn(&T) -> Moment) -> Vec<T> {
        let first = all.partition_point(|one| at(one).is_before(from));
        let last = all.partition_point(|one| !at(one).is_after(now));
        all[first..last].to_vec()
    }
    History {
        readings: within(&person.readings, from, now, |one| one.at),
        meter_checks: within(&person.meter_checks, from, now, |one| one.at),
        doses: within(&person.doses, from, now, |one| one.at),
        carbohydrate: within(&person.carbohydrate, from, now, |one| one.at),
        ..History::default()
    }
}

/// A person of open data: readings alone, or a table of events.
fn read(path: &Path) -> History {
    let mut input = BufReader::new(File::open(path).unwrap());
    let mut header = String::new();
    input.read_line(&mut header).unwrap();
    let header = header.replace("glucose_value_mg_dl", "glucose_mgdl");
    let mut events = Events::behind(&header, input, &Zone::Fixed(0)).unwrap();
    let mut history = History::default();
    while let Some(row) = events.next_row().unwrap() {
        history.readings.extend(row.reading);
        history.meter_checks.extend(row.meter);
        history.doses.extend(row.dose);
        history.carbohydrate.extend(row.carbohydrate);
    }
    history.settle_readings();
    history.meter_checks.sort_by_key(|one| one.at.unix_ms());
    history.doses.sort_by_key(|one| one.at.unix_ms());
    history.carbohydrate.sort_by_key(|one| one.at.unix_ms());
    history
}
