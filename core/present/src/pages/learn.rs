//! A lesson as a page: what was learnt, and what that rests on.

use crate::learn::Lesson;
use crate::log::{Entry, PressedSpell, What};
use crate::page::{Block, Page};
use crate::sentences::pick;
use crate::words::Words;

/// Lays out a lesson, with the pressed spells that were newly marked in the log.
#[must_use]
pub fn page(lesson: &Lesson, marked: &[Entry], words: Words) -> Page {
    let when = lesson.at.local().format("%Y-%m-%d %H:%M");
    let compared = pick(
        words,
        "No forecast could be compared with what came: that takes a few hours of readings without a gap.",
        "Noch ließ sich keine Vorhersage mit dem vergleichen, was kam: Dazu braucht es einige Stunden ohne Lücke.",
    );
    let compared = (lesson.forecasts == 0).then(|| compared.to_owned());
    let spells = marked.iter().filter_map(|entry| match entry.what {
        What::PressedSpell { until } => Some(words.spell(PressedSpell { from: entry.at, until })),
        _ => None,
    });
    let spells: Vec<String> = spells.collect();
    let kept = if spells.is_empty() {
        None
    } else {
        Some(Block::sentences(pick(
            words,
            "The readings stay as they are, but nothing is learnt from these spells. If one was a real low, take its mark back \
             in the log. It will not come again.",
            "Die Werte bleiben, wie sie sind, aber aus diesen Zeiten wird nicht gelernt. War es doch eine echte \
             Unterzuckerung, nimm den Vermerk im Protokoll zurück. Er kommt nicht wieder.",
        )))
    };
    Page::new(&pick(words, format!("Learnt {when}"), format!("Gelernt {when}")))
        .with(None, [Block::items(lesson.points().into_iter().map(|point| words.lesson(point)).chain(compared))])
        .with(
            Some(pick(
                words,
                "The sensor was probably pressed, and the log says so from now on",
                "Der Sensor war wohl gedrückt; das steht jetzt im Protokoll",
            )),
            std::iter::once(Block::items(spells)).chain(kept),
        )
        .with(
            None,
            [Block::sentences(pick(
                words,
                "Every prompt uses this from now on. Learn again every week or so, and after a new kind of sensor. Guards, lines \
                 and factors are never learnt: those are yours and your care team's.",
                "Jede Antwort benutzt das ab jetzt. Lerne etwa jede Woche neu, und nach einer neuen Art von Sensor. \
                 Schutzregeln, Grenzen und Faktoren werden nie gelernt: Die gehören dir und deinem Behandlungsteam.",
            ))],
        )
}
