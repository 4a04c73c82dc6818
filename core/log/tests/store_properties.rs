//! What must be true of the log whatever is recorded, in whatever order, by however many phones.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // a test may stop where it stands

use ebbstead_engine::time::{HOUR_MS, Moment};
use ebbstead_engine::units::Glucose;
use ebbstead_log::log::{
    Beyond, Entry, EntryId, EntryKind, History, InsulinKind, Item, Matter, Occasion, Prompted, Source, Stocked, Supply,
    Symptom, Text, Verdict, current_history, resolve,
};
use ebbstead_log::store::Log;
use ebbstead_log::{Error, Why};
use proptest::collection::vec;
use proptest::prelude::*;
use uuid::Uuid;

/// Few instants, sources and amounts, so that entries meet.
fn moment(step: i64, offset: i32) -> Moment {
    Moment::new(1_772_362_800_000 + step * 5 * HOUR_MS, offset).unwrap()
}

fn start() -> Moment {
    moment(0, 0)
}

fn end() -> Moment {
    moment(40, 0)
}

fn a_moment() -> impl Strategy<Value = Moment> {
    (0..12_i64, prop::sample::select(vec![0, 60, 120])).prop_map(|(step, offset)| moment(step, offset))
}

/// When an entry was recorded: never before what it is about.
fn a_record() -> impl Strategy<Value = Moment> {
    (12..16_i64, prop::sample::select(vec![0, 60])).prop_map(|(step, offset)| moment(step, offset))
}

fn a_glucose() -> impl Strategy<Value = Glucose> {
    // Some are finer than the log's hundredths.
    prop::sample::select(vec![54.0, 61.0, 104.0, 104.004_9, 99.085_8, 600.0])
        .prop_map(|mg_dl| Glucose::from_mg_dl(mg_dl).unwrap())
}

fn a_source() -> impl Strategy<Value = Source> {
    prop::sample::select(vec!["sensor 7", "sensor 8", "Gerät ü"]).prop_map(|name| Source::new(name).unwrap())
}

fn an_id() -> impl Strategy<Value = EntryId> {
    (0..24_u128).prop_map(|n| EntryId(Uuid::from_u128(0x019c_a724_0000_7000_8000_0000_0000_0000 + n)))
}

fn an_import() -> impl Strategy<Value = Option<EntryId>> {
    (0..8_u128).prop_map(|n| (n < 3).then(|| EntryId(Uuid::from_u128(0x019c_a725_0000_7000_8000_0000_0000_0000 + n))))
}

fn a_text() -> impl Strategy<Value = Text> {
    "[ a-zäß\n\u{1f319}]{0,12}x".prop_map(|text| Text::new(text).unwrap())
}

/// A sensor's reading or a meter's check that was too low or too high to measure.
fn beyond() -> impl Strategy<Value = EntryKind> {
    prop_oneof![
        (20.0..70.0).prop_map(|limit| (Beyond::Below, limit)),
        (180.0..600.0).prop_map(|limit| (Beyond::Above, limit)),
    ]
    .prop_flat_map(|(beyond, limit): (Beyond, f64)| {
        let mg_dl = Glucose::from_mg_dl(limit).unwrap();
        prop_oneof![Just(EntryKind::SensorBeyond { beyond, mg_dl }), Just(EntryKind::MeterBeyond { beyond, mg_dl })]
    })
}

/// What a person says; amounts are any the type takes.
fn said() -> impl Strategy<Value = EntryKind> {
    prop_oneof![
        a_glucose().prop_map(|mg_dl| EntryKind::SensorReading { mg_dl }),
        a_glucose().prop_map(|mg_dl| EntryKind::MeterCheck { mg_dl }),
        beyond(),
        (0.000_001..150.0).prop_map(|units| EntryKind::Insulin { insulin: InsulinKind::Rapid, units }),
        Just(EntryKind::Symptom { felt: Symptom::FeelsLow }),
        a_text().prop_map(|text| EntryKind::Note { text }),
        (0_u16..500).prop_map(|n| EntryKind::Supply(Supply::new(Item::TestStrip, Stocked::Counted, f64::from(n)))),
        (0.0..=1.0).prop_map(|chance| EntryKind::Prompted(Prompted {
            occasion: Occasion::Look,
            matter: Matter::Falling,
            verdict: Verdict::Hold,
            without_meter: None,
            chance_low: Some(chance),
            blood_mg_dl: None,
            chance_if_waiting: None,
            chance_if_treating: None,
            look_again_minutes: Some(10),
        })),
        Just(EntryKind::Retraction),
    ]
}

/// Any fact another log might hold: readings, entries that replace others (known, unknown, each other, themselves),
/// imports and what they brought, each perhaps more than once with different records.
fn a_fact() -> impl Strategy<Value = Entry> {
    let reading = (a_moment(), a_record(), a_source(), a_glucose(), an_import()).prop_map(
        |(at, recorded, source, mg_dl, import)| {
            let entry = Entry::new(at, recorded, source, EntryKind::SensorReading { mg_dl }).unwrap();
            Entry { import, ..entry }
        },
    );
    let readings_to_replace =
        (a_moment(), a_source(), a_glucose()).prop_map(|(at, source, mg_dl)| EntryId::of_reading(&source, at, mg_dl));
    let replaced = prop_oneof![
        an_id(),
        an_id(),
        readings_to_replace,
        an_import().prop_filter_map("names an import", |import| import),
    ];
    let other = (an_id(), a_moment(), a_record(), a_source(), prop::option::of(replaced), an_import(), said())
        .prop_filter_map("can be", |(id, at, recorded, source, replaces, import, what)| {
            let entry = Entry { id, at, recorded, source, replaces, import, what };
            entry.check().ok().map(|()| entry)
        });
    let import = (an_import(), a_record()).prop_filter_map("is an import", |(id, recorded)| {
        let what = EntryKind::Import { name: Text::new("week.csv").unwrap() };
        Some(Entry { id: id?, at: recorded, recorded, source: Source::by_hand(), replaces: None, import: None, what })
    });
    prop_oneof![4 => reading, 4 => other, 1 => import]
}

fn facts() -> impl Strategy<Value = Vec<Entry>> {
    vec(a_fact(), 0..40)
}

fn log_of(facts: &[Entry]) -> Log {
    let mut log = Log::in_memory(end()).unwrap();
    log.record_all(facts.to_vec()).unwrap();
    log
}

/// All a log knows: every fact, sorted, and what holds.
fn all_of(log: &Log) -> (Vec<String>, History, Vec<Entry>) {
    let mut facts = Vec::new();
    log.each_fact(|entry| {
        facts.push(serde_json::to_string(&entry).unwrap());
        Ok(())
    })
    .unwrap();
    facts.sort();
    (facts, log.history(start(), end()).unwrap(), log.current(start(), end()).unwrap())
}

/// Entries as the log keeps them: glucose to the hundredth of mg/dL.
fn rounded(facts: &[Entry]) -> Vec<Entry> {
    let round = |mg_dl: Glucose| Glucose::from_mg_dl((mg_dl.mg_dl() * 100.0).round() / 100.0).unwrap();
    let mut facts = facts.to_vec();
    for fact in &mut facts {
        match &mut fact.what {
            EntryKind::SensorReading { mg_dl }
            | EntryKind::SensorBeyond { mg_dl, .. }
            | EntryKind::MeterCheck { mg_dl }
            | EntryKind::MeterBeyond { mg_dl, .. } => *mg_dl = round(*mg_dl),
            _ => {}
        }
    }
    facts
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 192, ..ProptestConfig::default() })]

    #[test]
    fn the_order_of_arrival_does_not_matter(
        (facts, shuffled) in facts().prop_flat_map(|facts| (Just(facts.clone()), Just(facts).prop_shuffle())),
        pieces in vec(1..9_usize, 1..20),
    ) {
        let mut log = Log::in_memory(end()).unwrap();
        let mut rest = shuffled.as_slice();
        for piece in pieces {
            let (now, later) = rest.split_at(piece.min(rest.len()));
            if let [one] = now {
                log.record(one).unwrap();
            } else {
                log.record_all(now.to_vec()).unwrap();
            }
            rest = later;
        }
        log.record_all(rest.to_vec()).unwrap();
        prop_assert_eq!(all_of(&log), all_of(&log_of(&facts)));
    }

    #[test]
    fn recording_again_changes_nothing(facts in facts()) {
        let mut log = log_of(&facts);
        let before = all_of(&log);
        let again = log.record_all(facts.clone()).unwrap();
        prop_assert_eq!((again.new, again.known), (0, facts.len() as u64));
        prop_assert_eq!(all_of(&log), before);
    }

    #[test]
    fn the_log_shows_what_the_rules_say(facts in facts(), from in a_moment(), until in a_moment()) {
        let log = log_of(&facts);
        let held = resolve(rounded(&facts));
        let all = log.current(start(), end()).unwrap();
        // An import that several facts of one log brought shows as the first.
        let plain = |entries: &[Entry]| -> Vec<Entry> {
            entries.iter().map(|entry| Entry { import: None, ..entry.clone() }).collect()
        };
        prop_assert_eq!(plain(&all), plain(&held));
        prop_assert_eq!(log.history(start(), end()).unwrap(), current_history(rounded(&facts)));
        // A stretch shows its part of the whole, though what replaces its entries may lie outside.
        let inside = |entry: &&Entry| (from.unix_ms()..=until.unix_ms()).contains(&entry.at.unix_ms());
        let part: Vec<Entry> = held.iter().filter(inside).cloned().collect();
        prop_assert_eq!(plain(&log.current(from, until).unwrap()), plain(&part));
        let newest = current_history(rounded(&facts)).readings.last().copied();
        prop_assert_eq!(log.newest_reading().unwrap(), newest);
        log.check().unwrap();
    }

    #[test]
    fn every_fact_can_be_asked_for(facts in facts()) {
        let log = log_of(&facts);
        for fact in rounded(&facts) {
            let found = log.get(fact.id).unwrap().unwrap();
            prop_assert_eq!(found.id, fact.id);
            prop_assert!(found.recorded <= fact.recorded);
            prop_assert!(log.trail(fact.id).unwrap().iter().any(|entry| entry.id == fact.id));
        }
        let count = log.count().unwrap();
        let mut ids: Vec<EntryId> = facts.iter().map(|fact| fact.id).collect();
        ids.sort();
        ids.dedup();
        prop_assert_eq!(count.readings + count.others, ids.len() as u64);
    }

    #[test]
    fn merging_is_a_union(ours in facts(), theirs in facts(), thirds in facts()) {
        let merged = |parts: &[&[Entry]]| {
            let mut log = log_of(parts[0]);
            for part in &parts[1..] {
                log.merge(&log_of(part)).unwrap();
            }
            all_of(&log)
        };
        let whole = merged(&[&ours, &theirs, &thirds]);
        prop_assert_eq!(&merged(&[&thirds, &theirs, &ours]), &whole, "commutative");
        prop_assert_eq!(&merged(&[&ours, &ours, &theirs, &thirds, &theirs]), &whole, "idempotent");
        let mut others = log_of(&theirs);
        others.merge(&log_of(&thirds)).unwrap();
        let mut log = log_of(&ours);
        let foreseen = log.preview_merge(&others, moment(17, 0)).unwrap().recorded;
        prop_assert_eq!(log.merge(&others).unwrap(), foreseen);
        prop_assert_eq!(&all_of(&log), &whole, "associative");
        prop_assert_eq!(&all_of(&log_of(&[ours, theirs, thirds].concat())), &whole, "recording the facts is enough");
    }
}

/// What `import` would bring to a log that holds `before`: recorded later than all of that, so that of known entries the
/// log's copies stay. Left out is what `before` waits for (what it says of that falls with the import) and what it knows
/// from other imports (of several, two are remembered).
fn brought_to(before: &[Entry], import: EntryId, facts: Vec<Entry>) -> Vec<Entry> {
    let waits_for = |id: EntryId| before.iter().any(|fact| fact.replaces == Some(id));
    let known = |id: EntryId| before.iter().filter(move |fact| fact.id == id);
    facts
        .into_iter()
        .filter(|fact| known(fact.id).next().is_some() || !waits_for(fact.id))
        .filter(|fact| known(fact.id).all(|fact| fact.import.is_none()))
        .map(|fact| Entry { import: Some(import), recorded: moment(17, 0), ..fact })
        .collect()
}

fn an_import_of_its_own() -> Entry {
    let what = EntryKind::Import { name: Text::new("undone.csv").unwrap() };
    Entry::new(moment(17, 0), moment(17, 0), Source::by_hand(), what).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 512, ..ProptestConfig::default() })]

    #[test]
    fn an_import_and_its_undoing_change_nothing(before in facts(), brings in facts()) {
        let import = an_import_of_its_own();
        let brings = brought_to(&before, import.id, brings);
        let all = [before.clone(), vec![import.clone(), import.retracted(moment(18, 0))], brings].concat();
        prop_assert_eq!(resolve(all), resolve(before));
    }

    #[test]
    fn undoing_an_import_takes_only_what_it_brought_and_what_was_said_of_that(
        before in facts(),
        brings in facts(),
        after in facts(),
    ) {
        let import = an_import_of_its_own();
        let brings = brought_to(&before, import.id, brings);
        // Of an entry that came with other imports too, see the limit of what is remembered of them.
        let by_several = |fact: &Entry| fact.import.is_some() && brings.iter().any(|brought| brought.id == fact.id);
        let after: Vec<Entry> = after.into_iter().filter(|fact| !by_several(fact)).collect();
        let all = [before.clone(), vec![import.clone()], brings.clone(), after.clone()].concat();
        let undone = resolve([all.clone(), vec![import.retracted(moment(18, 0))]].concat());
        let own = |id: EntryId| before.iter().chain(&after).any(|fact| fact.id == id);
        let brought_only = |id: EntryId| id == import.id || !own(id) && brings.iter().any(|fact| fact.id == id);
        for lost in resolve(all.clone()).iter().filter(|held| undone.iter().all(|one| one.id != held.id)) {
            let mut of = vec![lost.id];
            let mut next = 0;
            while let Some(id) = of.get(next).copied() {
                let replaced = all.iter().filter(|fact| fact.id == id).filter_map(|fact| fact.replaces);
                let more: Vec<EntryId> = replaced.filter(|id| !of.contains(id)).collect();
                of.extend(more);
                next += 1;
            }
            prop_assert!(of.into_iter().any(brought_only), "{:?} was not brought", lost);
        }
        for held in &undone {
            prop_assert!(!brought_only(held.id));
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn a_log_that_takes_an_import_back_shows_what_it_showed(before in facts(), brings in facts(), thirds in facts()) {
        let mut log = log_of(&before);
        let (_, history, holding) = all_of(&log);
        let brings = brought_to(&before, EntryId(Uuid::nil()), brings);
        let name = Text::new("undone.csv").unwrap();
        let import = log.import(name, brings.into_iter().map(Ok), moment(17, 0)).unwrap();
        log.retract(import.id, moment(18, 0)).unwrap();
        prop_assert_eq!((&all_of(&log).1, &all_of(&log).2), (&history, &holding));
        // The other phone learns of it in any order, and of more besides.
        let mut other = log_of(&thirds);
        other.merge(&log).unwrap();
        log.merge(&log_of(&thirds)).unwrap();
        prop_assert_eq!(all_of(&log), all_of(&other));
    }
}

/// Identities of what holds, readings apart.
fn held_ids(log: &Log) -> (Vec<EntryId>, Vec<EntryId>) {
    let held = log.current(start(), end()).unwrap();
    let (readings, others): (Vec<Entry>, Vec<Entry>) =
        held.into_iter().partition(|entry| entry.what.sensor().is_some());
    let ids = |entries: Vec<Entry>| entries.iter().map(|entry| entry.id).collect();
    (ids(readings), ids(others))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 192, ..ProptestConfig::default() })]

    #[test]
    fn a_meeting_foretells_the_merge_and_writes_nothing(ours in facts(), theirs in facts()) {
        let (mut log, other) = (log_of(&ours), log_of(&theirs));
        let (before, (readings, others)) = (all_of(&log), held_ids(&log));
        let preview = log.preview_merge(&other, end()).unwrap();
        prop_assert_eq!(all_of(&log), before.clone());
        prop_assert_eq!(log.merge(&other).unwrap(), preview.recorded);
        let (readings_after, others_after) = held_ids(&log);
        let lost = |before: &[EntryId], after: &[EntryId]| before.iter().filter(|id| !after.contains(id)).count() as u64;
        prop_assert_eq!(preview.hidden.readings, lost(&readings, &readings_after));
        prop_assert_eq!(preview.hidden.others, lost(&others, &others_after));
        let brings = preview.brings;
        let brought = brings.readings + brings.others + brings.corrections + brings.retractions + brings.imports;
        prop_assert_eq!(brought, preview.recorded.new);
        if preview.changes_nothing() {
            prop_assert_eq!((lost(&readings, &readings_after), lost(&others, &others_after)), (0, 0));
        }
        // MergePreview again, there is nothing left to bring.
        prop_assert_eq!(log.preview_merge(&other, end()).unwrap().recorded.new, 0);
    }
}

/// What a wearer does with one phone.
#[derive(Clone, Debug)]
enum Act {
    Read(Moment, Glucose),
    Say(Moment, f64),
    Import(Vec<(Moment, Glucose)>),
    Correct(usize, f64),
    Retract(usize),
    Undo,
    /// Merges the other phone's log.
    Meet,
}

fn an_act() -> impl Strategy<Value = (bool, Act)> {
    let act = prop_oneof![
        3 => (a_moment(), a_glucose()).prop_map(|(at, amount)| Act::Read(at, amount)),
        3 => (a_moment(), 0.5..20.0).prop_map(|(at, units)| Act::Say(at, units)),
        1 => vec((a_moment(), a_glucose()), 0..5).prop_map(Act::Import),
        3 => (any::<usize>(), 0.5..20.0).prop_map(|(which, units)| Act::Correct(which, units)),
        2 => any::<usize>().prop_map(Act::Retract),
        2 => Just(Act::Undo),
        1 => Just(Act::Meet),
    ];
    (any::<bool>(), act)
}

fn perform(log: &mut Log, other: &Log, act: &Act, now: Moment) {
    let sensor = || Source::new("sensor 7").unwrap();
    let dose = |units: f64| EntryKind::Insulin { insulin: InsulinKind::Rapid, units };
    let chosen = |log: &Log, which: usize| {
        let mut all = Vec::new();
        log.each_fact(|entry| {
            all.push(entry);
            Ok(())
        })
        .unwrap();
        all.sort_by_key(|entry| (entry.recorded, entry.at, entry.id));
        (!all.is_empty()).then(|| all.swap_remove(which % all.len()))
    };
    match act {
        Act::Read(at, mg_dl) => {
            let reading = Entry::new(*at, now, sensor(), EntryKind::SensorReading { mg_dl: *mg_dl }).unwrap();
            log.record(&reading).unwrap();
        }
        Act::Say(at, units) => {
            log.record(&Entry::new(*at, now, Source::by_hand(), dose(*units)).unwrap()).unwrap();
        }
        Act::Import(readings) => {
            let entries = readings
                .iter()
                .map(|(at, mg_dl)| Entry::received(*at, now, sensor(), EntryKind::SensorReading { mg_dl: *mg_dl }));
            log.import(Text::new("week.csv").unwrap(), entries, now).unwrap();
        }
        Act::Correct(which, units) => {
            if let Some(entry) = chosen(log, *which) {
                let what = match entry.what {
                    EntryKind::Import { .. } => entry.what,
                    _ => dose(*units),
                };
                if let Ok(correction) = log.correct(entry.id, entry.at, what.clone(), now) {
                    assert_eq!(log.get(correction.id).unwrap().unwrap(), correction);
                    let held = log.current(start(), end()).unwrap();
                    assert!(held.contains(&correction), "a correction that was taken must hold");
                }
            }
        }
        Act::Retract(which) => {
            if let Some(entry) = chosen(log, *which) {
                log.retract(entry.id, now).unwrap();
                let held = log.current(start(), end()).unwrap();
                assert!(held.iter().all(|held| held.id != entry.id), "what was retracted must not hold");
            }
        }
        Act::Undo => match log.undo_last(now) {
            // What was said last was overruled by the other phone: nothing changes.
            Err(Error::Invalid { why: Why::CorrectedElsewhere, .. }) => {}
            undone => drop(undone.unwrap()),
        },
        Act::Meet => drop(log.merge(other).unwrap()),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn two_phones_agree_once_they_have_met(acts in vec(an_act(), 0..30)) {
        let (mut one, mut two) = (Log::in_memory(end()).unwrap(), Log::in_memory(end()).unwrap());
        for (step, (first, act)) in (0_i32..).zip(&acts) {
            let now = moment(13, 60).plus_minutes(step.into());
            if *first {
                perform(&mut one, &two, act, now);
            } else {
                perform(&mut two, &one, act, now);
            }
        }
        one.merge(&two).unwrap();
        two.merge(&one).unwrap();
        prop_assert_eq!(all_of(&one), all_of(&two));
        one.check().unwrap();
    }

    #[test]
    fn undoing_everything_shows_what_was_there_before(
        before in facts(),
        acts in vec(an_act().prop_filter("changes only this log", |(_, act)| !matches!(act, Act::Meet | Act::Read(..))), 0..12),
    ) {
        // On a log without imports taken back: a correction inside one cannot be made, so it cannot be undone either.
        let before: Vec<Entry> = before.into_iter().filter(|fact| fact.replaces.is_none()).collect();
        let (mut log, empty) = (log_of(&before), Log::in_memory(end()).unwrap());
        let shown = |log: &Log| {
            let mut history = log.history(start(), end()).unwrap();
            // Said again, an entry may sort elsewhere among those of its instant.
            history.doses.sort_by_key(|dose| (dose.at, dose.units.to_bits()));
            history.meter_checks.sort_by_key(|check| (check.at, check.glucose.mg_dl().to_bits()));
            history.symptoms.sort_by_key(|felt| felt.at);
            history.supplies.sort_by_key(|note| (note.at, note.supply.amount.to_bits()));
            history.prompts.sort_by_key(|prompting| (prompting.at, prompting.shown.chance_low.map(f64::to_bits)));
            history
        };
        let first = shown(&log);
        for (step, (_, act)) in (0_i32..).zip(&acts) {
            perform(&mut log, &empty, act, moment(17, 60).plus_minutes(step.into()));
        }
        let mut undone = 0;
        while log.undo_last(moment(18, 60).plus_minutes(undone.into())).unwrap().is_some() {
            undone += 1;
            prop_assert!(undone <= 12, "undoing must come to an end");
        }
        prop_assert_eq!(shown(&log), first);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn opening_again_shows_the_same(facts in facts(), reopen_after in 0..40_usize) {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("log.ebb");
        let (first, second) = facts.split_at(reopen_after.min(facts.len()));
        Log::open(&path, end()).unwrap().record_all(first.to_vec()).unwrap();
        Log::open(&path, end()).unwrap().record_all(second.to_vec()).unwrap();
        prop_assert_eq!(all_of(&Log::open(&path, end()).unwrap()), all_of(&log_of(&facts)));
    }
}
