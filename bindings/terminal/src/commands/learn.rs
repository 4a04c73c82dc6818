//! `learn`: go through the log, keep what it teaches, and say what that rests on.

use std::io::Write;

use ebbstead_core::Error;
use ebbstead_core::learn::points::Point;
use ebbstead_core::learn::{self, KEPT_AS, Lesson, Lessons};
use ebbstead_core::log::{Entry, PressedSpell, What};
use serde::Serialize;

use crate::arguments::Learn;
use crate::commands::add::mark;
use crate::desk::Desk;
use crate::failure::Failure;

/// What was learnt, for other programs.
#[derive(Serialize)]
struct LearnJson<'a> {
    points: Vec<Point>,
    evidence: String,
    /// Spells newly marked in the log; nothing where only the last lesson is shown.
    #[serde(skip_serializing_if = "Option::is_none")]
    marked: Option<&'a [Entry]>,
    lesson: &'a Lesson,
}

/// Why there is no lesson to show.
pub fn no_lesson(desk: &Desk) -> &'static str {
    desk.pick(
        "Nothing has been learnt from this log yet. To begin: ebbstead learn",
        "Aus diesem Protokoll wurde noch nichts gelernt. Beginnen mit: ebbstead learn",
    )
}

pub fn run(desk: &Desk, given: &Learn) -> Result<(), Failure> {
    let now = desk.now()?;
    let (mut log, _) = desk.open(now)?;
    if given.last {
        let Some(kept) = log.learned::<Lesson>(KEPT_AS)? else {
            return Err(Failure::Missing(no_lesson(desk).to_owned()));
        };
        return show(desk, given, &kept.what, None);
    }
    if log.is_read_only() {
        return Err(Error::ReadOnly { path: log.path().to_owned() }.into());
    }
    let days = learn::RECORD_DAYS;
    desk.tell(&desk.pick(
        format!("going through the last {days:.0} days of readings; this takes a few seconds"),
        format!("die letzten {days:.0} Tage mit Werten werden durchgesehen; das dauert einige Sekunden"),
    ));
    let Lessons { lesson, marked } = learn::from_log(&mut log, now)?;
    show(desk, given, &lesson, Some(&marked))
}

fn show(desk: &Desk, given: &Learn, lesson: &Lesson, marked: Option<&[Entry]>) -> Result<(), Failure> {
    let words = desk.words();
    let mut screen = desk.screen();
    if given.output.json {
        let all = LearnJson { points: lesson.points(), evidence: lesson.evidence(), marked, lesson };
        serde_json::to_writer(screen.raw(), &all)?;
        writeln!(screen.raw())?;
        return Ok(screen.finish()?);
    }
    let when = lesson.at.local().format("%Y-%m-%d %H:%M");
    screen.heading(&desk.pick(format!("Learnt {when}"), format!("Gelernt {when}")))?;
    for point in lesson.points() {
        screen.item(&words.lesson(point))?;
    }
    if lesson.forecasts == 0 {
        screen.item(desk.pick(
            "No forecast could be compared with what came: that takes a few hours of readings without a gap.",
            "Noch ließ sich keine Vorhersage mit dem vergleichen, was kam: Dazu braucht es einige Stunden ohne Lücke.",
        ))?;
    }
    screen.gap()?;
    let spells = marked.unwrap_or_default();
    if !spells.is_empty() {
        screen.heading(&desk.pick(
            "The sensor was probably pressed, and the log says so from now on".to_owned(),
            "Der Sensor war wohl gedrückt; das steht jetzt im Protokoll".to_owned(),
        ))?;
        for entry in spells {
            if let What::PressedSpell { until } = entry.what {
                let spell = PressedSpell { from: entry.at, until };
                screen.item(&format!("{}  [{}]", words.spell(spell), mark(entry)))?;
            }
        }
        screen.paragraph(&desk.pick(
            format!(
                "The readings stay as they are, but nothing is learnt from these spells. If one was a real low, take the \
                 mark back with: ebbstead undo {}. It will not come again.",
                mark(&spells[0])
            ),
            format!(
                "Die Werte bleiben, wie sie sind, aber aus diesen Zeiten wird nicht gelernt. War es doch eine echte \
                 Unterzuckerung, nimm den Vermerk zurück mit: ebbstead undo {}. Er kommt nicht wieder.",
                mark(&spells[0])
            ),
        ))?;
        screen.gap()?;
    }
    screen.paragraph(desk.pick(
        "ebbstead check and wake use this from now on. Learn again every week or so, and after a new kind of sensor. \
         Guards, lines and factors are never learnt: those are yours and your care team's.",
        "ebbstead check und wake benutzen das ab jetzt. Lerne etwa jede Woche neu, und nach einer neuen Art von Sensor. \
         Schutzregeln, Grenzen und Faktoren werden nie gelernt: Die gehören dir und deinem Behandlungsteam.",
    ))?;
    Ok(screen.finish()?)
}
