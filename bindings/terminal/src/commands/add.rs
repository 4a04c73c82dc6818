//! `add`, `correct` and `undo`: what the wearer notes.

use ebbstead_core::log::{
    Currency, Entry, EntryKind, Illness, InsulinKind, Item, Price, Purpose, SensorEvent, Source, Stocked, Supply,
    Symptom, Text,
};
use ebbstead_core::prompt::Caution;
use ebbstead_core::snapshot::asks_back;
use ebbstead_core::store::Log;
use ebbstead_core::time::Moment;
use ebbstead_core::{say, text};

use crate::arguments::{
    Add, Correct, FeltWord, IllWord, ItemWord, Said, SensorWord, StockedWord, SupplyWord, Time, Undo,
};
use crate::context::Context;
use crate::failure::Failure;

pub fn add(context: &Context, given: &Add) -> Result<(), Failure> {
    let now = context.now()?;
    let (mut log, _) = context.open_to_write(now)?;
    let what = understood(context, &given.what, now)?;
    let at = begun(context, &given.what, &given.time, now)?.unwrap_or(now);
    let source = match &given.what {
        Said::Sensor { sensor: Some(name), .. } => Source::new(name.as_str())?,
        _ => Source::by_hand(),
    };
    let entry = Entry::new(at, now, source, what)?;
    log.record(&entry)?;
    said(context, &entry, text!(context.words(), "terminal-add-noted"))?;
    ask_back(context, &log, &entry, now)
}

/// A dose that is probably a slip is kept all the same, since it may be none, and asked about at once.
fn ask_back(context: &Context, log: &Log, entry: &Entry, now: Moment) -> Result<(), Failure> {
    let Some(reason) = asks_back(log, entry, now)? else { return Ok(()) };
    let words = context.words();
    let mut screen = context.screen();
    let asked = screen.line(&words.reason(reason));
    let asked = asked.and_then(|()| screen.line(&words.caution(Caution::InsulinRightOrWrong)));
    asked.and_then(|()| screen.finish()).map_err(Failure::Kept)
}

pub fn correct(context: &Context, given: &Correct) -> Result<(), Failure> {
    let now = context.now()?;
    let (mut log, _) = context.open_to_write(now)?;
    let old = find(context, &log, &given.entry)?;
    if matches!(old.what, EntryKind::Prompted(_)) {
        // What was shown was shown; something noted in its place would stand at its time and lose it.
        return Err(Failure::Value(text!(context.words(), "terminal-add-prompt-is-not-corrected").to_owned()));
    }
    let what = understood(context, &given.what, now)?;
    let at = begun(context, &given.what, &given.time, now)?.unwrap_or(old.at);
    let entry = log.correct(old.id, at, what, now)?;
    said(context, &entry, text!(context.words(), "terminal-add-corrected"))?;
    ask_back(context, &log, &entry, now)
}

pub fn undo(context: &Context, given: &Undo) -> Result<(), Failure> {
    let now = context.now()?;
    let (mut log, _) = context.open_to_write(now)?;
    let undone = match &given.entry {
        Some(mark) => {
            let entry = find(context, &log, mark)?;
            // What was corrected goes with its corrections, and that is said.
            let corrections = log.trail(entry.id)?.into_iter().filter(is_correction).collect::<Vec<_>>();
            log.retract(entry.id, now)?;
            said(context, &entry, text!(context.words(), "terminal-add-taken-back"))?;
            return corrections
                .iter()
                .filter(|one| one.id != entry.id)
                .try_for_each(|one| said(context, one, text!(context.words(), "terminal-add-and-its-correction")));
        }
        None => match log.undo_last(now)? {
            Some(done) => done.undone,
            None => {
                return Err(Failure::Missing(text!(context.words(), "terminal-add-there-nothing-to-undo").to_owned()));
            }
        },
    };
    said(context, &undone, text!(context.words(), "terminal-add-taken-back"))
}

fn is_correction(entry: &Entry) -> bool {
    entry.replaces.is_some() && entry.what != EntryKind::Retraction
}

/// An entry's mark in lists.
pub fn mark(entry: &Entry) -> String {
    entry.id.mark()
}

/// Says what the log has taken already.
fn said(context: &Context, entry: &Entry, done: &str) -> Result<(), Failure> {
    let mut screen = context.screen();
    let when = context.words().date_time(entry.at);
    let line = format!("{done}: {when}  {}  [{}]", context.words().what(&entry.what), mark(entry));
    screen.line(&line).and_then(|()| screen.finish()).map_err(Failure::Kept)
}

/// The entry with a mark; the whole identity is good too, or the end of it.
fn find(context: &Context, log: &Log, wanted: &str) -> Result<Entry, Failure> {
    let wanted = wanted.trim().trim_matches(['[', ']']).to_lowercase().replace('-', "");
    let mut found: Vec<Entry> = Vec::new();
    let mut readings: Vec<Entry> = Vec::new();
    if wanted.len() >= 4 && wanted.chars().all(|c| c.is_ascii_hexdigit()) {
        log.each_fact(|entry| {
            if entry.id.mark() == wanted || entry.id.0.simple().to_string().ends_with(&wanted) {
                // Of a million readings some share a mark with what was noted; lists mark what was noted.
                let of_its_kind =
                    if matches!(entry.what, EntryKind::SensorReading { .. }) { &mut readings } else { &mut found };
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
            context.words(),
            "terminal-add-no-entry-marked-ebbstead-log",
            wanted = format!("{wanted:?}")
        ))),
        many => {
            const SHOWN: usize = 20;
            let words = context.words();
            for entry in found.iter().take(SHOWN) {
                let when = context.words().date_time(entry.at);
                context.report(&format!("{when}  {}  [{}]", words.what(&entry.what).replace('\n', " / "), entry.id));
            }
            Err(Failure::Value(say!(
                context.words(),
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

fn begun(context: &Context, said: &Said, time: &Time, now: Moment) -> Result<Option<Moment>, Failure> {
    if let Said::Sleep { from, until } = said {
        if time.at.is_some() || time.ago.is_some() {
            return Err(Failure::Value(text!(context.words(), "terminal-add-sleep-has-its-times").to_owned()));
        }
        let end = context.time(until, now)?;
        // A bare time of day is the last one before the end.
        return Ok(Some(context.time(from, end)?));
    }
    match (&time.at, time.ago) {
        (Some(text), _) => Ok(Some(context.time(text, now)?)),
        (None, Some(minutes)) if (-LATEST_AHEAD..=MOST_AGO).contains(&minutes) => Ok(Some(now.plus_minutes(-minutes))),
        (None, Some(given)) => {
            let number = |minutes| context.words().decimal(minutes, 0);
            let (low, high) = (number(-LATEST_AHEAD), number(MOST_AGO));
            Err(Failure::Value(say!(context.words(), "terminal-add-ago", low, high, given = given.to_string())))
        }
        (None, None) => Ok(None),
    }
}

fn understood(context: &Context, said: &Said, now: Moment) -> Result<EntryKind, Failure> {
    let joined = |words: &[String]| Text::new(words.join(" "));
    Ok(match said {
        Said::Meter { amount } => EntryKind::checked_by_meter(context.meter(amount)?),
        Said::Carbs { grams, rescue } => EntryKind::Carbohydrate {
            grams: context.number(grams)?,
            purpose: if *rescue { Purpose::Rescue } else { Purpose::Meal },
        },
        Said::Insulin { units, long_acting } => EntryKind::Insulin {
            insulin: if *long_acting { InsulinKind::LongActing } else { InsulinKind::Rapid },
            units: context.number(units)?,
        },
        Said::Alcohol { drinks } => EntryKind::Alcohol { drinks: context.number(drinks)? },
        Said::Ketones { amount } => EntryKind::Ketones { mmol_l: context.ketones(amount)? },
        Said::Ill { how } => EntryKind::Illness {
            illness: match how {
                IllWord::Ill => Illness::Ill,
                IllWord::Vomiting => Illness::Vomiting,
                IllWord::Over => Illness::Over,
            },
        },
        Said::Activity { name, minutes, effort } => EntryKind::Activity {
            activity: Text::new(name.as_str())?,
            minutes: context.number(minutes)?,
            effort: (*effort).into(),
        },
        Said::Sleep { until, .. } => EntryKind::Sleep { until: context.time(until, now)? },
        Said::Sensor { event, .. } => EntryKind::Sensor(match event {
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
        Said::Supply(supply) => EntryKind::Supply(supplied(context, supply)?),
        Said::Feels { felt } => EntryKind::Symptom {
            felt: match felt {
                FeltWord::Low => Symptom::FeelsLow,
                FeltWord::High => Symptom::FeelsHigh,
                FeltWord::Nothing => Symptom::None,
                FeltWord::Severe => Symptom::Severe,
            },
        },
        Said::Note { text } => EntryKind::Note { text: joined(text)? },
    })
}

fn supplied(context: &Context, given: &SupplyWord) -> Result<Supply, Failure> {
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
            Failure::Value(say!(context.words(), "terminal-add-no-date-write-yyyy-mm", text = format!("{text:?}")))
        })
    };
    let price = |pair: &Vec<String>| -> Result<Price, Failure> {
        let [amount, currency] = pair.as_slice() else {
            return Err(Failure::Value(text!(context.words(), "terminal-add-price-takes-two").to_owned()));
        };
        Ok(Price { amount: context.number(amount)?, currency: Currency::new(currency)? })
    };
    Ok(Supply {
        expires: given.expires.as_ref().map(day).transpose()?,
        lot: given.lot.as_deref().map(Text::new).transpose()?,
        price: given.price.as_ref().map(price).transpose()?,
        from: given.from.as_deref().map(Text::new).transpose()?,
        ..Supply::new(item, stocked, context.number(&given.amount)?)
    })
}
