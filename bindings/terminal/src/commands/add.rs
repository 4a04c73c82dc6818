//! `add`, `correct` and `undo`: what the wearer notes.

use ebbstead_core::Error;
use ebbstead_core::known::asks_back;
use ebbstead_core::log::{
    Currency, Entry, Illness, InsulinKind, Item, Price, Purpose, SensorEvent, Source, Stocked, Supply, Symptom, Text,
    What,
};
use ebbstead_core::prompt::Caution;
use ebbstead_core::store::Log;
use ebbstead_core::time::Moment;
use ebbstead_core::{say, text};

use crate::arguments::{
    Add, Correct, FeltWord, IllWord, ItemWord, Said, SensorWord, StockedWord, SupplyWord, Time, Undo,
};
use crate::desk::Desk;
use crate::failure::Failure;

pub fn add(desk: &Desk, given: &Add) -> Result<(), Failure> {
    let now = desk.now()?;
    let (mut log, _) = desk.open_to_write(now)?;
    let what = understood(desk, &given.what, now)?;
    let at = begun(desk, &given.what, &given.time, now)?.unwrap_or(now);
    let source = match &given.what {
        Said::Sensor { sensor: Some(name), .. } => Source::new(name.as_str())?,
        _ => Source::by_hand(),
    };
    let entry = Entry::new(at, now, source, what)?;
    log.record(&entry)?;
    said(desk, &entry, text!(desk.words(), "terminal-add-noted"))?;
    ask_back(desk, &log, &entry, now)
}

/// A dose that is probably a slip is kept all the same, since it may be none, and asked about at once.
fn ask_back(desk: &Desk, log: &Log, entry: &Entry, now: Moment) -> Result<(), Failure> {
    let Some(reason) = asks_back(log, entry, now)? else { return Ok(()) };
    let words = desk.words();
    let mut screen = desk.screen();
    screen.line(&words.reason(reason))?;
    screen.line(&words.caution(Caution::InsulinRightOrWrong))?;
    Ok(screen.finish()?)
}

pub fn correct(desk: &Desk, given: &Correct) -> Result<(), Failure> {
    let now = desk.now()?;
    let (mut log, _) = desk.open_to_write(now)?;
    let old = find(desk, &log, &given.entry)?;
    let what = understood(desk, &given.what, now)?;
    let at = begun(desk, &given.what, &given.time, now)?.unwrap_or(old.at);
    let entry = log.correct(old.id, at, what, now)?;
    said(desk, &entry, text!(desk.words(), "terminal-add-corrected"))
}

pub fn undo(desk: &Desk, given: &Undo) -> Result<(), Failure> {
    let now = desk.now()?;
    let (mut log, _) = desk.open_to_write(now)?;
    let undone = match &given.entry {
        Some(mark) => {
            let entry = find(desk, &log, mark)?;
            // What was corrected goes with its corrections, and that is said.
            let corrections = log.trail(entry.id)?.into_iter().filter(is_correction).collect::<Vec<_>>();
            log.retract(entry.id, now)?;
            said(desk, &entry, text!(desk.words(), "terminal-add-taken-back"))?;
            return corrections
                .iter()
                .filter(|one| one.id != entry.id)
                .try_for_each(|one| said(desk, one, text!(desk.words(), "terminal-add-and-its-correction")));
        }
        None => match log.undo_last(now)? {
            Some(done) => done.undone,
            None => {
                return Err(Failure::Missing(text!(desk.words(), "terminal-add-there-nothing-to-undo").to_owned()));
            }
        },
    };
    said(desk, &undone, text!(desk.words(), "terminal-add-taken-back"))
}

fn is_correction(entry: &Entry) -> bool {
    entry.replaces.is_some() && entry.what != What::Retraction
}

/// An entry's mark in lists.
pub fn mark(entry: &Entry) -> String {
    entry.id.mark()
}

fn said(desk: &Desk, entry: &Entry, done: &str) -> Result<(), Failure> {
    let mut screen = desk.screen();
    let when = entry.at.local().format("%Y-%m-%d %H:%M");
    screen.line(&format!("{done}: {when}  {}  [{}]", desk.words().what(&entry.what), mark(entry)))?;
    Ok(screen.finish()?)
}

/// The entry with a mark; the whole identity is good too, or the end of it.
fn find(desk: &Desk, log: &Log, wanted: &str) -> Result<Entry, Failure> {
    let wanted = wanted.trim().trim_matches(['[', ']']).to_lowercase().replace('-', "");
    let mut found: Vec<Entry> = Vec::new();
    let mut readings: Vec<Entry> = Vec::new();
    if wanted.len() >= 4 && wanted.chars().all(|c| c.is_ascii_hexdigit()) {
        log.each_fact(|entry| {
            if entry.id.mark() == wanted || entry.id.0.simple().to_string().ends_with(&wanted) {
                // Of a million readings some share a mark with what was noted; lists mark what was noted.
                let of_its_kind =
                    if matches!(entry.what, What::SensorReading { .. }) { &mut readings } else { &mut found };
                if !of_its_kind.iter().any(|one| one.id == entry.id) {
                    of_its_kind.push(entry);
                }
            }
            Ok(())
        })?;
    }
    if found.is_empty() {
        found = readings;
    }
    match found.len() {
        1 => found.pop().ok_or_else(|| Failure::Missing(String::new())),
        0 => Err(Failure::Missing(say!(
            desk.words(),
            "terminal-add-no-entry-marked-ebbstead-log",
            wanted = format!("{wanted:?}")
        ))),
        many => {
            const SHOWN: usize = 20;
            let words = desk.words();
            for entry in found.iter().take(SHOWN) {
                let when = entry.at.local().format("%Y-%m-%d %H:%M");
                desk.tell(&format!("{when}  {}  [{}]", words.what(&entry.what).replace('\n', " / "), entry.id));
            }
            Err(Failure::Value(say!(
                desk.words(),
                "terminal-add-entries-marked-give-whole-identity",
                many,
                wanted = format!("{wanted:?}")
            )))
        }
    }
}

/// What is noted as so many minutes ago lies within a week: nobody counts more in minutes, and a slip must not become another year.
const MOST_AGO: f64 = 7.0 * 1440.0;
/// The end of a time that lies ahead, as of a sleep, in minutes; the log itself takes no more.
const LATEST_AHEAD: f64 = 10.0;

fn begun(desk: &Desk, said: &Said, time: &Time, now: Moment) -> Result<Option<Moment>, Failure> {
    if let Said::Sleep { from, until } = said {
        let end = desk.place.parse(until, now)?;
        // A bare time of day is the last one before the end.
        return Ok(Some(desk.place.parse(from, end)?));
    }
    match (&time.at, time.ago) {
        (Some(text), _) => Ok(Some(desk.place.parse(text, now)?)),
        (None, Some(minutes)) if (-LATEST_AHEAD..=MOST_AGO).contains(&minutes) => Ok(Some(now.plus_minutes(-minutes))),
        (None, Some(given)) => Err(Error::OutOfRange {
            what: "minutes ago",
            given,
            low: -LATEST_AHEAD,
            high: MOST_AGO,
            unit: "min (for what was longer ago, --at says when)",
        }
        .into()),
        (None, None) => Ok(None),
    }
}

fn understood(desk: &Desk, said: &Said, now: Moment) -> Result<What, Failure> {
    let joined = |words: &[String]| Text::new(words.join(" "));
    Ok(match said {
        Said::Meter { amount } => What::checked_by_meter(desk.meter(amount)?),
        Said::Carbs { grams, rescue } => What::Carbohydrate {
            grams: desk.number(grams)?,
            purpose: if *rescue { Purpose::Rescue } else { Purpose::Meal },
        },
        Said::Insulin { units, long_acting } => What::Insulin {
            insulin: if *long_acting { InsulinKind::LongActing } else { InsulinKind::Rapid },
            units: desk.number(units)?,
        },
        Said::Alcohol { drinks } => What::Alcohol { drinks: desk.number(drinks)? },
        Said::Ketones { amount } => What::Ketones { mmol_l: desk.number(amount)? },
        Said::Ill { how } => What::Illness {
            illness: match how {
                IllWord::Ill => Illness::Ill,
                IllWord::Vomiting => Illness::Vomiting,
                IllWord::Over => Illness::Over,
            },
        },
        Said::Activity { name, minutes, effort } => What::Activity {
            activity: Text::new(name.as_str())?,
            minutes: desk.number(minutes)?,
            effort: (*effort).into(),
        },
        Said::Sleep { until, .. } => What::Sleep { until: desk.place.parse(until, now)? },
        Said::Sensor { event, .. } => What::Sensor(match event {
            SensorWord::Inserted { site, lot, rated_days } => SensorEvent::Inserted {
                site: site.as_deref().map(Text::new).transpose()?,
                lot: lot.as_deref().map(Text::new).transpose()?,
                rated_days: *rated_days,
            },
            SensorWord::WarmedUp => SensorEvent::WarmUpOver,
            SensorWord::RolledOff => SensorEvent::RolledOff,
            SensorWord::Ended => SensorEvent::Ended,
            SensorWord::Fault { seen } => SensorEvent::Fault { seen: joined(seen)? },
        }),
        Said::Supply(supply) => What::Supply(supplied(desk, supply)?),
        Said::Feels { felt } => What::Symptom {
            felt: match felt {
                FeltWord::Low => Symptom::FeelsLow,
                FeltWord::High => Symptom::FeelsHigh,
                FeltWord::Nothing => Symptom::None,
                FeltWord::Severe => Symptom::Severe,
            },
        },
        Said::Note { text } => What::Note { text: joined(text)? },
    })
}

fn supplied(desk: &Desk, given: &SupplyWord) -> Result<Supply, Failure> {
    let item = match given.item {
        ItemWord::Sensors => Item::Sensor,
        ItemWord::Transmitters => Item::Transmitter,
        ItemWord::Batteries => Item::Battery,
        ItemWord::Strips => Item::TestStrip,
        ItemWord::RapidInsulin => Item::RapidInsulin,
        ItemWord::LongActingInsulin => Item::LongActingInsulin,
        ItemWord::Rescue => Item::RescueCarbohydrate,
    };
    let stocked = match given.stocked {
        StockedWord::Counted => Stocked::Counted,
        StockedWord::Received => Stocked::Received,
        StockedWord::Used => Stocked::Used,
        StockedWord::ThrownAway => Stocked::ThrownAway,
        StockedWord::Offered => Stocked::Quoted,
    };
    let day = |text: &String| {
        text.trim().parse().map_err(|_| {
            Failure::Value(say!(desk.words(), "terminal-add-no-date-write-yyyy-mm", text = format!("{text:?}")))
        })
    };
    let price = |pair: &Vec<String>| -> Result<Price, Failure> {
        let [amount, currency] = pair.as_slice() else {
            return Err(Failure::Value(text!(desk.words(), "terminal-add-price-takes-two").to_owned()));
        };
        Ok(Price { amount: desk.number(amount)?, currency: Currency::new(currency)? })
    };
    Ok(Supply {
        expires: given.expires.as_ref().map(day).transpose()?,
        lot: given.lot.as_deref().map(Text::new).transpose()?,
        price: given.price.as_ref().map(price).transpose()?,
        from: given.from.as_deref().map(Text::new).transpose()?,
        ..Supply::new(item, stocked, desk.number(&given.amount)?)
    })
}
