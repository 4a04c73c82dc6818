//! `learn`: go through the log, keep what it teaches, and say what that rests on.

use ebbstead_core::before::nights::Nights;
use ebbstead_core::engine::Learnt;
use ebbstead_core::estimate::adapt::{Adaptation, Evidence};
use ebbstead_core::estimate::dynamics::Dynamics;
use ebbstead_core::forecast::calibration::CalibrationBin;
use ebbstead_core::learn::points::Point;
use ebbstead_core::learn::{self, KEPT_AS, Lesson, Lessons};
use ebbstead_core::log::{CompressionLow, Entry, EntryKind};
use ebbstead_core::time::Moment;
use ebbstead_core::{say, text};
use serde::Serialize;

use crate::arguments::Learn;
use crate::commands::add::mark;
use crate::context::Context;
use crate::failure::Failure;

/// What was learnt, for other programs.
#[derive(Serialize)]
struct LearnJson<'a> {
    points: Vec<Point>,
    evidence: String,
    /// Spells newly marked in the log; nothing where only the last lesson is shown.
    #[serde(skip_serializing_if = "Option::is_none")]
    marked: Option<&'a [Entry]>,
    lesson: LessonJson<'a>,
}

/// A lesson. The log keeps it under names that older versions read too.
#[derive(Serialize)]
struct LessonJson<'a> {
    at: Moment,
    learnt: &'a Learnt,
    adaptation: AdaptationJson<'a>,
    score_population: Option<f64>,
    score_own: Option<f64>,
    forecasts: u64,
    reliability: &'a [CalibrationBin; 10],
    nights: &'a Nights,
}

/// What came of adapting, by its code.
#[derive(Serialize)]
#[serde(rename_all = "snake_case", tag = "code")]
enum AdaptationJson<'a> {
    TooLittle { have_days: f64, need_days: f64 },
    Adapted { dynamics: &'a Dynamics, evidence: &'a Evidence },
}

impl<'a> LessonJson<'a> {
    fn of(lesson: &'a Lesson) -> Self {
        let Lesson { at, learnt, adaptation, score_population, score_own, forecasts, reliability, nights } = lesson;
        let adaptation = match adaptation {
            Adaptation::TooLittle { have_days, need_days } => {
                AdaptationJson::TooLittle { have_days: *have_days, need_days: *need_days }
            }
            Adaptation::Adapted { dynamics, evidence } => AdaptationJson::Adapted { dynamics, evidence },
        };
        Self {
            at: *at,
            learnt,
            adaptation,
            score_population: *score_population,
            score_own: *score_own,
            forecasts: *forecasts,
            reliability,
            nights,
        }
    }
}

/// Why there is no lesson to show.
pub fn no_lesson(context: &Context) -> &'static str {
    text!(context.words(), "terminal-learn-nothing-has-been-learnt-from")
}

pub fn run(context: &Context, given: &Learn) -> Result<(), Failure> {
    let now = context.now()?;
    let (mut log, _) = context.open(now)?;
    if given.last {
        let Some(kept) = log.learned::<Lesson>(KEPT_AS)? else {
            return Err(Failure::Missing(no_lesson(context).to_owned()));
        };
        return show(context, given, &kept.what, None);
    }
    if let Some(error) = log.why_read_only() {
        return Err(error.into());
    }
    let days = learn::RECORD_DAYS;
    context.report(&say!(
        context.words(),
        "terminal-learn-going-through-last-days-readings",
        days = format!("{days:.0}")
    ));
    let Lessons { lesson, marked } = learn::from_log(&mut log, now)?;
    show(context, given, &lesson, Some(&marked))
}

fn show(context: &Context, given: &Learn, lesson: &Lesson, marked: Option<&[Entry]>) -> Result<(), Failure> {
    let words = context.words();
    let mut screen = context.screen();
    if given.output.json {
        let all =
            LearnJson { points: lesson.points(), evidence: lesson.evidence(), marked, lesson: LessonJson::of(lesson) };
        screen.json(&all)?;
        return Ok(screen.finish()?);
    }
    let when = context.words().date_time(lesson.at);
    screen.heading(&say!(context.words(), "terminal-learn-learnt", when))?;
    for point in lesson.points() {
        screen.item(&words.lesson(point))?;
    }
    if lesson.forecasts == 0 {
        screen.item(text!(context.words(), "terminal-learn-no-forecast-could-be-compared"))?;
    }
    screen.gap()?;
    let spells = marked.unwrap_or_default();
    if !spells.is_empty() {
        screen.heading(text!(context.words(), "terminal-learn-sensor-probably-pressed-and-log"))?;
        for entry in spells {
            if let EntryKind::CompressionLow { until } = entry.what {
                let spell = CompressionLow { from: entry.at, until };
                screen.item(&format!("{}  [{}]", words.spell(spell), mark(entry)))?;
            }
        }
        screen.paragraph(&say!(
            context.words(),
            "terminal-learn-readings-stay-as-they-but",
            mark = mark(&spells[0])
        ))?;
        screen.gap()?;
    }
    screen.paragraph(text!(context.words(), "terminal-learn-ebbstead-check-and-wake-use"))?;
    Ok(screen.finish()?)
}
