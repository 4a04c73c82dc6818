//! What a phone meets when something is in the way: no room, a clock that was set back.

#![allow(clippy::unwrap_used, clippy::panic)] // a test that cannot go on fails

use std::collections::HashMap;
use std::path::Path;
use std::sync::Arc;

#[cfg(target_os = "linux")]
use crate::disk::Disk;

use ebbstead_ffi::{
    ApiError, Chapter, EbbsteadCompanion, EntryKind, Listed, Moment, ReadingAt, RecordAct, RecordPages, RecordPart,
    RecordScreen, RingChoice,
};

/// Noon.
const NOW: Moment = Moment { unix_ms: 1_772_362_800_000, offset_minutes: 60 };
const YEAR_MINUTES: i64 = 365 * 1440;

fn later(minutes: i64) -> Moment {
    Moment { unix_ms: NOW.unix_ms + minutes * 60_000, ..NOW }
}

/// A day at 110 mg/dL that ends in a fall to 61; invented.
fn opened(place: &Path) -> Arc<EbbsteadCompanion> {
    let companion = EbbsteadCompanion::open(place.join("log.ebb").to_str().unwrap(), "en", NOW).unwrap();
    let amount = |back: i64| if back > 30 { 110.0 + (back % 3) as f64 } else { 61.0 + 1.5 * back as f64 };
    let readings = (0..288).rev().map(|n| ReadingAt { at: later(-5 * n), mg_dl: amount(5 * n) }).collect();
    companion.log().unwrap().record_readings("sensor 7", readings, NOW).unwrap();
    companion
}

fn noted(companion: &EbbsteadCompanion, is: impl Fn(&EntryKind) -> bool) -> usize {
    let all: Vec<Listed> =
        companion.log().unwrap().list(later(-2 * YEAR_MINUTES), later(YEAR_MINUTES), false, false).unwrap();
    all.iter().filter(|one| is(&one.entry.what)).count()
}

fn is_carbohydrate(what: &EntryKind) -> bool {
    matches!(what, EntryKind::Carbohydrate { .. })
}

fn is_supply(what: &EntryKind) -> bool {
    matches!(what, EntryKind::Supply { .. })
}

fn said(screen: &RecordScreen) -> Vec<String> {
    let text = |part: &RecordPart| if let RecordPart::Said { text } = part { Some(text.clone()) } else { None };
    screen.parts.iter().filter_map(text).collect()
}

/// Everything that a screen says against what was done: by itself and beside its fields.
fn refused(screen: &RecordScreen) -> String {
    let advice = |part: &RecordPart| if let RecordPart::Asked { field } = part { field.advice.clone() } else { None };
    screen.parts.iter().filter_map(advice).chain(said(screen)).collect::<Vec<_>>().join(" ")
}

fn filled(fields: &[(&str, &str)]) -> HashMap<String, String> {
    fields.iter().map(|(id, value)| ((*id).to_owned(), (*value).to_owned())).collect()
}

const SUPPLY: [(&str, &str); 3] = [("item", "sensor"), ("stocked", "received"), ("amount", "6")];
const WORDS: &str = "four plain words, unlike";

type Fields = &'static [(&'static str, &'static str)];

/// What writes files: the chapter it stands in, and what is filled in.
const WRITING: [(Chapter, RecordAct, Fields); 4] = [
    (Chapter::Review, RecordAct::SaveReview, &[]),
    (Chapter::Copies, RecordAct::WriteTable, &[]),
    (Chapter::Copies, RecordAct::WriteBundle, &[]),
    (Chapter::Copies, RecordAct::Seal, &[("passphrase", WORDS), ("passphrase_again", WORDS)]),
];

fn act(pages: &RecordPages, chapter: Chapter, act: RecordAct, fields: &[(&str, &str)], now: Moment) -> RecordScreen {
    pages.turn_to(Some(chapter), HashMap::new(), now).unwrap();
    pages.act(act, filled(fields), now).unwrap()
}

#[cfg(target_os = "linux")]
#[test]
fn without_room_the_alert_rings_what_was_answered_is_refused_by_name_and_nothing_half_written_stays() {
    let Some(disk) = Disk::new("3m") else { return };
    let place = disk.path();
    let companion = opened(place);
    let passing = place.join("passing");
    let pages = companion.record_pages(passing.to_str().unwrap()).unwrap();
    let alerts = companion.alerts().unwrap();
    let filler = disk.fill();

    let step = alerts.step(None, NOW, None).unwrap();
    assert!(step.ring.is_some(), "it rings although nothing can be kept");
    let answer = |state| alerts.answered(RingChoice::Treated, state, NOW, later(1));
    let kept = answer(Some(step.state.clone()));
    assert!(matches!(kept, Err(ApiError::NoRoom { .. })), "{kept:?}");
    for (chapter, what, fields) in WRITING {
        let screen = act(&pages, chapter, what, fields, NOW);
        assert!(screen.document.is_none() && !refused(&screen).is_empty(), "{what:?}: {screen:?}");
        let left = std::fs::read_dir(&passing).map_or(0, Iterator::count);
        assert_eq!(left, 0, "{what:?} left a part of a file");
    }
    let supply = act(&pages, Chapter::Supplies, RecordAct::NoteSupply, &SUPPLY, NOW);
    assert!(refused(&supply).contains("room") || refused(&supply).contains("full"), "{}", refused(&supply));
    let stands = |screen: &RecordScreen, id: &str| {
        let value = |part: &RecordPart| match part {
            RecordPart::Asked { field } if field.id == id => Some(field.value.clone()),
            _ => None,
        };
        screen.parts.iter().find_map(value).unwrap()
    };
    assert_eq!(stands(&supply, "amount"), "6", "what was typed stays");
    assert_eq!((noted(&companion, is_carbohydrate), noted(&companion, is_supply)), (0, 0));

    filler.set_len(0).unwrap();
    answer(Some(step.state)).unwrap();
    act(&pages, Chapter::Supplies, RecordAct::NoteSupply, &SUPPLY, NOW);
    for (chapter, what, fields) in WRITING {
        assert!(act(&pages, chapter, what, fields, NOW).document.is_some(), "{what:?}");
    }
    assert_eq!((noted(&companion, is_carbohydrate), noted(&companion, is_supply)), (1, 1));
}

#[test]
fn a_clock_set_back_loses_nothing_that_is_answered_or_noted() {
    let place = tempfile::tempdir().unwrap();
    let companion = opened(place.path());
    let pages = companion.record_pages(place.path().join("passing").to_str().unwrap()).unwrap();
    let alerts = companion.alerts().unwrap();
    let state = alerts.step(None, NOW, None).unwrap().state;
    let back = later(-YEAR_MINUTES);
    // The readings lie ahead of that clock: none of them is known yet, and nothing rings for them.
    let step = alerts.step(Some(state), back, None).unwrap();
    assert!(step.ring.is_none());
    let answered = alerts.answered(RingChoice::Treated, Some(step.state), NOW, back).unwrap();
    assert_eq!(answered.late, None, "that clock makes nothing old");
    act(&pages, Chapter::Supplies, RecordAct::NoteSupply, &SUPPLY, back);
    assert_eq!((noted(&companion, is_carbohydrate), noted(&companion, is_supply)), (1, 1));
    for (chapter, what, fields) in WRITING {
        let screen = act(&pages, chapter, what, fields, back);
        assert!(screen.document.is_some() || !refused(&screen).is_empty(), "{what:?}: {screen:?}");
    }
    for chapter in [Chapter::Review, Chapter::Sensors, Chapter::Alerts, Chapter::Outcomes, Chapter::Learnt] {
        let screen = pages.turn_to(Some(chapter), HashMap::new(), back).unwrap();
        assert!(!screen.parts.is_empty(), "{chapter:?}");
    }
    // With the clock right again the low rings, and what was noted meanwhile holds.
    assert!(alerts.step(None, later(5), None).unwrap().ring.is_some());
    assert_eq!((noted(&companion, is_carbohydrate), noted(&companion, is_supply)), (1, 1));
}
