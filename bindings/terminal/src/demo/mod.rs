//! The demo: an invented wearer's evening and night, and what the core says to it.

mod body;

use ebbstead_core::log::{Effort, Entry, EntryKind, InsulinKind, Purpose, SensorEvent, Source, Text};
use ebbstead_core::prompt::{Occasion, Question};
use ebbstead_core::snapshot::Snapshot;
use ebbstead_core::store::Log;
use ebbstead_core::time::Moment;
use ebbstead_core::units::Glucose;
use ebbstead_core::wearer::Wearer;
use ebbstead_core::words::Message;
use ebbstead_core::{Error, Result};
use ebbstead_core::{message, say, text};

use crate::context::{Context, data_folder};
use crate::failure::Failure;
use crate::prompt_view;
use body::Act;

/// When the invented readings begin.
const BEGIN: &str = "2026-03-13T18:00:00+01:00";
const MINUTES: usize = 39 * 60;
const SEED: u64 = 20;
/// The file's name carries the demo's version: another demo would not go with an older one's entries.
const FILE: &str = "demo-1.ebbstead";

/// A moment of the demo at which somebody asks.
struct Scene {
    at: &'static str,
    occasion: Occasion,
    intro: Message,
}

const SCENES: [Scene; 6] = [
    Scene {
        at: "2026-03-14T20:50:00+01:00",
        occasion: Occasion::Look,
        intro: message!("demo-scene-saturday-evening-two"),
    },
    Scene { at: "2026-03-14T22:05:00+01:00", occasion: Occasion::Look, intro: message!("demo-scene-later-after-walk") },
    Scene {
        at: "2026-03-14T22:20:00+01:00",
        occasion: Occasion::Look,
        intro: message!("demo-scene-quarter-hour-after"),
    },
    Scene { at: "2026-03-15T03:05:00+01:00", occasion: Occasion::Wake, intro: message!("demo-scene-night-alert-has") },
    Scene {
        at: "2026-03-15T03:10:00+01:00",
        occasion: Occasion::Wake,
        intro: message!("demo-scene-five-minutes-later"),
    },
    Scene {
        at: "2026-03-15T08:05:00+01:00",
        occasion: Occasion::Look,
        intro: message!("demo-scene-sunday-morning-three"),
    },
];

/// Shows the demo.
pub fn show(context: &Context) -> std::result::Result<(), Failure> {
    let now = context.now()?;
    let mut log = open(context, now)?;
    let entries = entries()?;
    let holds_demo = entries.first().map_or(Ok(None), |first| log.get(first.id))?.is_some();
    if !holds_demo {
        // Invented readings in the wearer's own log would be judged like their own, and the demo's settings would replace theirs.
        if !log.is_unused()? || !log.wearer_changes()?.is_empty() {
            let display = log.path().display();
            return Err(Failure::Value(say!(context.words(), "demo-log-holds-something-else", display)));
        }
        log.record_all(entries)?;
        log.set_wearer(&factors(), now)?;
    }
    let wearer = context.wearer(&log)?;

    let mut screen = context.screen();
    screen.heading(text!(context.words(), "demo-demo-with-everything-in-invented"))?;
    screen.paragraph(text!(context.words(), "demo-nobody-lived-evening-and-night"))?;
    for (number, scene) in (1..).zip(&SCENES) {
        let at = Moment::parse(scene.at)?;
        let known = Snapshot { wearer: wearer.clone(), ..Snapshot::at(&log, at)? };
        let answer = known.answer(&Question { now: at, occasion: scene.occasion, feels: None, meter: None });
        screen.gap()?;
        let bar = if screen.style.wide_signs { "═" } else { "=" };
        screen.line(&bar.repeat(screen.style.width.min(80)))?;
        screen.paragraph(&format!("{number}/{}  {}", SCENES.len(), context.words().text(scene.intro)))?;
        screen.gap()?;
        prompt_view::show(context, &mut screen, &answer, &known)?;
    }
    screen.gap()?;
    screen.paragraph(&say!(context.words(), "demo-demos-log-look-around-in", display = log.path().display()))?;
    for command in ["ebbstead import READINGS.csv", "ebbstead check"] {
        screen.line(&format!("  {command}"))?;
    }
    Ok(screen.finish()?)
}

/// Opens the demo's log: the path asked for, one in the data folder, or, where nothing can be written, one in memory.
fn open(context: &Context, now: Moment) -> Result<Log> {
    if let Some(path) = &context.general.log {
        return Log::open(path, now);
    }
    let kept = data_folder().and_then(|folder| Log::open(folder.join(FILE), now));
    match kept {
        Ok(log) if !log.is_read_only() => Ok(log),
        Ok(_) | Err(Error::File { .. } | Error::ReadOnly { .. } | Error::DiskFull { .. } | Error::Invalid { .. }) => {
            context.report(text!(context.words(), "demo-data-folder-cannot-be-written"));
            Log::in_memory(now)
        }
        Err(error) => Err(error),
    }
}

/// The invented wearer's settings, once; who looks around in the demo may change them.
fn factors() -> Wearer {
    Wearer {
        insulin_factor_mg_dl_per_unit: Some(40.0),
        carbohydrate_factor_mg_dl_per_g: Some(3.5),
        ..Wearer::default()
    }
}

/// Everything in the demo's log. The same every time, so that making it again adds nothing.
fn entries() -> Result<Vec<Entry>> {
    let begin = Moment::parse(BEGIN)?;
    let source = Source::new("demo (invented)")?;
    let mut acts = Vec::new();
    let mut entries = Vec::new();
    let mut put = |minute: f64, what: EntryKind| -> Result<()> {
        let at = begin.plus_minutes(minute);
        // Noted when it happened; sleep, when it was over.
        let recorded = match what {
            EntryKind::Sleep { until } => until,
            _ => at,
        };
        entries.push(Entry::received(at, recorded, source.clone(), what)?);
        Ok(())
    };
    let clock = |day: u8, hour: u8, minute: u8| {
        24.0 * 60.0 * f64::from(day) + 60.0 * (f64::from(hour) - 18.0) + f64::from(minute)
    };
    let (friday, saturday, sunday) = (0, 1, 2);
    let eat = |grams| (Act::Meal { grams }, EntryKind::Carbohydrate { grams, purpose: Purpose::Meal });
    let rescue = |grams| (Act::Rescue { grams }, EntryKind::Carbohydrate { grams, purpose: Purpose::Rescue });
    let inject = |units| (Act::Insulin { units }, EntryKind::Insulin { insulin: InsulinKind::Rapid, units });
    let walk = |minutes| {
        let activity = Text::new("walk")?;
        Ok::<_, Error>((Act::Walk { minutes }, EntryKind::Activity { activity, minutes, effort: Effort::Moderate }))
    };
    for (minute, (act, what)) in [
        (clock(friday, 18, 55), inject(5.0)),
        (clock(friday, 19, 5), eat(60.0)),
        (clock(saturday, 8, 0), inject(4.5)),
        (clock(saturday, 8, 10), eat(50.0)),
        (clock(saturday, 12, 55), inject(5.0)),
        (clock(saturday, 13, 5), eat(60.0)),
        (clock(saturday, 18, 40), inject(9.0)),
        (clock(saturday, 18, 42), eat(102.0)),
        (clock(saturday, 21, 45), walk(20.0)?),
        (clock(saturday, 22, 7), rescue(16.0)),
        (clock(sunday, 7, 20), inject(5.0)),
        (clock(sunday, 7, 22), eat(80.0)),
    ] {
        acts.push((minute, act));
        put(minute, what)?;
    }
    put(clock(friday, 18, 0) + 1.0, EntryKind::Sensor(SensorEvent::inserted(Some(Text::new("left arm")?))))?;
    put(clock(saturday, 22, 30), EntryKind::Insulin { insulin: InsulinKind::LongActing, units: 16.0 })?;
    put(clock(saturday, 23, 5), EntryKind::Sleep { until: begin.plus_minutes(clock(sunday, 7, 5)) })?;
    put(clock(sunday, 3, 8), EntryKind::MeterCheck { mg_dl: Glucose::from_mg_dl(112.0)? })?;

    let pressed = (clock(sunday, 2, 50), clock(sunday, 3, 35));
    for (minute, mg_dl) in body::readings(MINUTES, &acts, pressed, SEED) {
        put(minute as f64, EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(mg_dl)? })?;
    }
    Ok(entries)
}

#[cfg(test)]
mod tests {
    use ebbstead_core::prompt::{Prompt, Sentence, Verdict};

    use super::*;

    fn answers() -> Vec<Prompt> {
        let now = Moment::parse("2026-04-01T12:00:00+01:00").unwrap();
        let mut log = Log::in_memory(now).unwrap();
        log.record_all(entries().unwrap()).unwrap();
        let ask = |scene: &Scene| {
            let at = Moment::parse(scene.at).unwrap();
            let known = Snapshot { wearer: factors(), ..Snapshot::at(&log, at).unwrap() };
            known.answer(&Question { now: at, occasion: scene.occasion, feels: None, meter: None })
        };
        SCENES.iter().map(ask).collect()
    }

    #[test]
    fn the_demo_shows_the_whole_job() {
        let said: Vec<(Verdict, Sentence)> = answers().iter().map(|one| (one.verdict, one.sentence)).collect();
        assert_eq!(
            said,
            [
                (Verdict::Hold, Sentence::HoldFalling),
                (Verdict::Treat, Sentence::TreatLow),
                (Verdict::Hold, Sentence::HoldRescueWorking),
                (Verdict::Check, Sentence::CheckCompression),
                (Verdict::Hold, Sentence::HoldMeterAbove),
                (Verdict::Hold, Sentence::HoldInsulinWorking),
            ]
        );
    }

    #[test]
    fn the_fall_that_is_held_would_be_treated_by_slope_times_thirty_minutes_and_never_gets_low() {
        let at = Moment::parse(SCENES[0].at).unwrap();
        let readings: Vec<(f64, f64)> = entries()
            .unwrap()
            .iter()
            .filter_map(|entry| match entry.what {
                EntryKind::SensorReading { mg_dl } => Some((entry.at.minutes_since(at), mg_dl.mg_dl())),
                _ => None,
            })
            .collect();
        let reading = |minutes: f64| readings.iter().find(|one| (one.0 - minutes).abs() < 0.1).unwrap().1;
        let slope = (reading(0.0) - reading(-15.0)) / 15.0;
        assert!(reading(0.0) + 30.0 * slope < 70.0, "{slope}");
        let lowest =
            readings.iter().filter(|one| (0.0..=60.0).contains(&one.0)).map(|one| one.1).fold(f64::MAX, f64::min);
        assert!(lowest >= 75.0, "{lowest}");
    }

    #[test]
    fn making_the_demo_again_adds_nothing() {
        let now = Moment::parse("2026-04-01T12:00:00+01:00").unwrap();
        let mut log = Log::in_memory(now).unwrap();
        let all = entries().unwrap();
        assert_eq!(log.record_all(all.clone()).unwrap().new, all.len() as u64);
        assert_eq!(log.record_all(all.clone()).unwrap().known, all.len() as u64);
    }
}
