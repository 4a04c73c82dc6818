//! The log on disk, as its callers use it.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)] // a test may stop where it stands

use std::fs;
use std::path::PathBuf;

use ebbstead_engine::time::{HOUR_MS, MINUTE_MS, Moment};
use ebbstead_engine::units::{Glucose, GlucoseUnit};
use ebbstead_engine::wearer::Wearer;
use ebbstead_log::log::{
    Beyond, Entry, EntryId, EntryKind, InsulinKind, Reading, Shown, Source, Symptom, Text, current_history,
};
use ebbstead_log::store::{Log, Recorded};
use ebbstead_log::{Error, Quantity, Why};
use tempfile::TempDir;

fn at(text: &str) -> Moment {
    Moment::parse(text).unwrap()
}

fn noon() -> Moment {
    at("2026-03-01T12:00:00+01:00")
}

fn sensor() -> Source {
    Source::new("sensor 7").unwrap()
}

fn reading(at: Moment, mg_dl: f64) -> Entry {
    Entry::new(at, at, sensor(), EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(mg_dl).unwrap() }).unwrap()
}

fn said(at: Moment, what: EntryKind) -> Entry {
    Entry::new(at, at, Source::by_hand(), what).unwrap()
}

fn insulin(units: f64) -> EntryKind {
    EntryKind::Insulin { insulin: InsulinKind::Rapid, units }
}

fn place() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("log.ebb");
    (folder, path)
}

/// Everything from a day before to a day after noon.
fn around(log: &Log) -> Vec<Entry> {
    log.current(noon().plus_ms(-24 * HOUR_MS), noon().plus_ms(24 * HOUR_MS)).unwrap()
}

#[test]
fn what_was_recorded_is_there_after_opening_again() {
    let (_folder, path) = place();
    let entries = [
        reading(noon(), 104.0),
        said(noon(), insulin(4.5)),
        said(noon(), EntryKind::Symptom { felt: Symptom::FeelsLow }),
        said(noon(), EntryKind::Note { text: Text::new("zwölf Uhr\nnothing else").unwrap() }),
        said(noon().plus_ms(-HOUR_MS), EntryKind::Sleep { until: noon() }),
    ];
    {
        let mut log = Log::open(&path, noon()).unwrap();
        for entry in &entries {
            assert_eq!(log.record(entry).unwrap(), Recorded { new: 1, known: 0, contradictory: 0 });
        }
    }
    let log = Log::open(&path, noon()).unwrap();
    assert!(!log.is_read_only());
    for entry in &entries {
        assert_eq!(log.get(entry.id).unwrap().as_ref(), Some(entry));
    }
    assert_eq!(log.get(EntryId::fresh(noon())).unwrap(), None);
    let history = log.history(noon(), noon()).unwrap();
    assert_eq!((history.readings.len(), history.doses.len(), history.symptoms.len()), (1, 1, 1));
    assert_eq!(history.sleep.len(), 1, "sleep that reaches into the stretch belongs to it");
    log.check().unwrap();
}

#[test]
fn the_same_reading_twice_is_one_and_two_amounts_are_a_contradiction() {
    let mut log = Log::in_memory(noon()).unwrap();
    let (high, low) = (reading(noon(), 104.0), reading(noon(), 61.0));
    assert_eq!(log.record(&high).unwrap().new, 1);
    let mut later = high.clone();
    later.recorded = noon().plus_minutes(3.0);
    assert_eq!(log.record(&later).unwrap(), Recorded { new: 0, known: 1, contradictory: 0 });
    assert_eq!(log.record(&low).unwrap(), Recorded { new: 1, known: 0, contradictory: 1 });
    let history = log.history(noon(), noon()).unwrap();
    assert_eq!(history.readings.len(), 1);
    assert_eq!(
        history.readings[0].glucose.mg_dl().to_bits(),
        61.0_f64.to_bits(),
        "overlooking a low is the worse mistake"
    );
    // The wearer says which was wrong; then the other holds.
    log.retract(low.id, noon()).unwrap();
    let history = log.history(noon(), noon()).unwrap();
    assert_eq!(history.readings[0].glucose.mg_dl().to_bits(), 104.0_f64.to_bits());
    assert_eq!(log.entries(noon(), noon()).unwrap().len(), 3);
}

/// A reading of the sensor that was beyond 40 or 400 mg/dL.
fn beyond(at: Moment, beyond: Beyond) -> Entry {
    let mg_dl = Glucose::from_mg_dl(if beyond == Beyond::Below { 40.0 } else { 400.0 }).unwrap();
    Entry::new(at, at, sensor(), EntryKind::SensorBeyond { beyond, mg_dl }).unwrap()
}

/// Minutes from noon, amount and side of each.
fn amounts(readings: &[Reading]) -> Vec<(f64, f64, Option<Beyond>)> {
    readings.iter().map(|one| (one.at.minutes_since(noon()), one.glucose.mg_dl(), one.beyond)).collect()
}

#[test]
fn too_low_to_measure_is_a_reading_in_its_place_however_the_log_came_together() {
    let (_folder, path) = place();
    let (below, above) = (Some(Beyond::Below), Some(Beyond::Above));
    let at = |minutes: f64| noon().plus_minutes(minutes);
    let lo = EntryKind::MeterBeyond { beyond: Beyond::Below, mg_dl: Glucose::LOWEST };
    let own =
        [reading(at(0.0), 85.0), beyond(at(5.0), Beyond::Below), reading(at(15.0), 85.0), said(at(7.0), lo.clone())];
    let theirs = [beyond(at(5.0), Beyond::Below), beyond(at(10.0), Beyond::Below), beyond(at(20.0), Beyond::Above)];
    {
        let mut log = Log::open(&path, noon()).unwrap();
        log.record_all(own.clone()).unwrap();
    }
    let mut other = Log::in_memory(noon()).unwrap();
    other.record_all(theirs.clone()).unwrap();
    let mut log = Log::open(&path, noon()).unwrap();
    let preview = log.preview_merge(&other, at(60.0)).unwrap();
    assert_eq!(preview.recorded, Recorded { new: 2, known: 1, contradictory: 0 });
    assert_eq!((preview.brings.readings, preview.brings.others), (2, 0));
    log.merge(&other).unwrap();
    assert_eq!(log.merge(&other).unwrap().new, 0);
    let expected =
        [(0.0, 85.0, None), (5.0, 40.0, below), (10.0, 40.0, below), (15.0, 85.0, None), (20.0, 400.0, above)];
    let history = log.history(at(-60.0), at(60.0)).unwrap();
    assert_eq!(amounts(&history.readings), expected);
    assert_eq!(amounts(&history.until(at(12.0)).readings), expected[..3]);
    assert_eq!(amounts(&log.history(at(10.0), at(15.0)).unwrap().readings), expected[2..4]);
    assert_eq!(history.meter_checks.iter().map(|one| one.shown()).collect::<Vec<_>>(), [lo.meter().unwrap()]);
    assert_eq!(amounts(&[log.newest_reading().unwrap().unwrap()]), expected[4..]);
    assert_eq!((log.count().unwrap().readings, log.count().unwrap().others), (5, 1));
    // The store's own way and the log's agree, whatever came together how.
    assert_eq!(history, current_history([&own[..], &theirs].concat()));
    drop(log);
    let mut log = Log::open(&path, noon()).unwrap();
    log.check().unwrap();
    assert_eq!(log.history(at(-60.0), at(60.0)).unwrap(), history);
    // A sensor's reading is not what was said last; the meter's is.
    assert_eq!(log.undo_last(at(60.0)).unwrap(), None, "it came with others");
    log.record(&beyond(at(25.0), Beyond::Below)).unwrap();
    assert_eq!(log.undo_last(at(60.0)).unwrap(), None);
    // Taken back, corrected, and at the instant of another.
    log.retract(theirs[1].id, at(60.0)).unwrap();
    let read = EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(62.0).unwrap() };
    log.correct(theirs[2].id, at(20.0), read, at(60.0)).unwrap();
    log.record(&reading(at(25.0), 40.0)).unwrap();
    let now = [(0.0, 85.0, None), (5.0, 40.0, below), (15.0, 85.0, None), (20.0, 62.0, None), (25.0, 40.0, below)];
    assert_eq!(amounts(&log.history(at(-60.0), at(60.0)).unwrap().readings), now);
}

#[test]
fn an_import_of_what_was_too_low_to_measure_comes_once_and_goes_whole() {
    let mut log = Log::in_memory(noon()).unwrap();
    let at = |minutes: f64| noon().plus_minutes(minutes);
    let entries = || [reading(at(0.0), 85.0), beyond(at(5.0), Beyond::Below), beyond(at(10.0), Beyond::Above)];
    let bring = |log: &mut Log, name: &str| {
        log.import(Text::new(name).unwrap(), entries().into_iter().map(Ok), at(60.0)).unwrap()
    };
    let first = bring(&mut log, "week.csv");
    assert_eq!((first.recorded.new, first.recorded.known), (3, 0));
    let again = bring(&mut log, "week.csv");
    assert_eq!((again.recorded.new, again.recorded.known), (0, 3));
    let readings = |log: &Log| log.history(at(-60.0), at(60.0)).unwrap().readings.len();
    log.retract(first.id, at(60.0)).unwrap();
    assert_eq!(readings(&log), 3);
    log.retract(again.id, at(60.0)).unwrap();
    assert_eq!((readings(&log), log.newest_reading().unwrap()), (0, None));
}

#[test]
fn a_sensor_that_begins_too_low_to_measure_is_followed_from_there() {
    let mut log = Log::in_memory(noon()).unwrap();
    let at = |minutes: f64| noon().plus_minutes(minutes);
    let other = |minutes: f64| {
        let what = EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(140.0).unwrap() };
        Entry::new(at(minutes), at(minutes), Source::new("another").unwrap(), what).unwrap()
    };
    let mut entries = vec![beyond(at(0.0), Beyond::Below)];
    entries.extend((1..5).map(|k| other(5.0 * f64::from(k) - 3.0)));
    entries.extend((1..5).map(|k| reading(at(5.0 * f64::from(k)), 85.0)));
    log.record_all(entries.clone()).unwrap();
    // A window that does not reach back to the beginning follows the same sensor.
    for from in [-60.0, 8.0] {
        let history = log.history(at(from), at(60.0)).unwrap();
        assert_eq!(history.followed_at(at(12.0)), Some(&sensor()), "{from}");
        assert_eq!(history.concurrent.len(), 1);
    }
    assert_eq!(log.history(at(-60.0), at(60.0)).unwrap(), current_history(entries));
    let shown = Shown { glucose: Glucose::SENSOR_LOWEST, beyond: Some(Beyond::Below) };
    assert_eq!(log.history(at(-60.0), at(60.0)).unwrap().readings[0].shown(), shown);
}

#[test]
fn a_correction_far_away_in_time_is_heeded() {
    let mut log = Log::in_memory(noon()).unwrap();
    let dose = said(noon(), insulin(40.0));
    log.record(&dose).unwrap();
    log.record(&reading(noon(), 104.0)).unwrap();
    let much_later = noon().plus_ms(400 * 24 * HOUR_MS);
    let moved = noon().plus_ms(-5 * HOUR_MS);
    let correction = log.correct(dose.id, moved, insulin(4.0), much_later).unwrap();
    let hidden = log.retract(reading(noon(), 104.0).id, much_later).unwrap();
    assert_eq!(hidden.replaces, Some(reading(noon(), 104.0).id));
    let history = log.history(noon(), noon()).unwrap();
    assert!(history.doses.is_empty() && history.readings.is_empty());
    let history = log.history(moved, moved).unwrap();
    assert_eq!(history.doses.iter().map(|dose| dose.units).collect::<Vec<_>>(), [4.0]);
    assert_eq!(log.trail(dose.id).unwrap(), [dose.clone(), correction.clone()]);
    assert_eq!(log.trail(correction.id).unwrap().len(), 2);
    assert_eq!(log.newest_reading().unwrap(), None);
}

#[test]
fn a_corrected_reading_counts_as_corrected() {
    let mut log = Log::in_memory(noon()).unwrap();
    let wrong = reading(noon(), 404.0);
    log.record(&wrong).unwrap();
    let mg_dl = Glucose::from_mg_dl(104.0).unwrap();
    let first = log.correct(wrong.id, noon(), EntryKind::SensorReading { mg_dl }, noon().plus_minutes(1.0)).unwrap();
    assert_eq!(log.newest_reading().unwrap().unwrap().glucose, mg_dl);
    // Correcting by the first identity reaches what speaks for it now.
    let mg_dl = Glucose::from_mg_dl(105.0).unwrap();
    let second = log.correct(wrong.id, noon(), EntryKind::SensorReading { mg_dl }, noon().plus_minutes(2.0)).unwrap();
    assert_eq!(second.replaces, Some(first.id));
    assert_eq!(around(&log), [second]);
}

#[test]
fn undoing_steps_back_through_what_was_said() {
    let mut log = Log::in_memory(noon()).unwrap();
    let dose = said(noon(), insulin(40.0));
    let minute = |n: i32| noon().plus_minutes(f64::from(n));
    log.record(&dose).unwrap();
    log.correct(dose.id, noon(), insulin(4.0), minute(1)).unwrap();
    log.record(&reading(minute(1), 104.0)).unwrap();
    log.retract(dose.id, minute(2)).unwrap();
    let units = |log: &Log| {
        let history = log.history(noon(), noon()).unwrap();
        history.doses.iter().map(|dose| dose.units).collect::<Vec<_>>()
    };
    assert_eq!(units(&log), [0.0; 0]);
    // A clock set back must not change what was last.
    let earlier = noon().plus_minutes(-1.0);
    log.undo_last(earlier).unwrap().unwrap();
    assert_eq!(units(&log), [4.0]);
    log.undo_last(minute(4)).unwrap().unwrap();
    assert_eq!(units(&log), [40.0]);
    let last = log.undo_last(minute(5)).unwrap().unwrap();
    assert_eq!(last.undone, dose);
    assert_eq!(units(&log), [0.0; 0]);
    assert_eq!(log.undo_last(minute(6)).unwrap(), None);
    assert_eq!(log.newest_reading().unwrap().unwrap().at, minute(1));
}

#[test]
fn a_correction_that_another_device_overruled_is_not_undone_in_silence() {
    let minute = |n: i32| noon().plus_minutes(f64::from(n));
    let (mut here, mut there) = (Log::in_memory(noon()).unwrap(), Log::in_memory(noon()).unwrap());
    let dose = said(noon(), insulin(4.0));
    here.record(&dose).unwrap();
    there.merge(&here).unwrap();
    here.correct(dose.id, noon(), insulin(6.0), minute(1)).unwrap();
    there.correct(dose.id, noon(), insulin(3.0), minute(2)).unwrap();
    here.merge(&there).unwrap();
    let units = |log: &Log| log.history(noon(), noon()).unwrap().doses.iter().map(|dose| dose.units).sum::<f64>();
    assert!((units(&here) - 3.0).abs() < 1e-9);
    let refused = here.undo_last(minute(3)).unwrap_err();
    assert!(matches!(refused, Error::Invalid { why: Why::CorrectedElsewhere, .. }), "{refused:?}");
    assert!((units(&here) - 3.0).abs() < 1e-9, "nothing was changed");
    // The device whose correction holds takes it back.
    there.merge(&here).unwrap();
    there.undo_last(minute(4)).unwrap().unwrap();
    assert!((units(&there) - 4.0).abs() < 1e-9);
}

#[test]
fn an_import_is_taken_back_as_a_whole_and_can_come_again() {
    let mut log = Log::in_memory(noon()).unwrap();
    let live = reading(noon(), 104.0);
    log.record(&live).unwrap();
    let file: Vec<Entry> = (0..10)
        .map(|n| reading(noon().plus_ms(n * 5 * MINUTE_MS), 104.0))
        .chain([Entry::received(noon(), noon(), Source::new("meter 2").unwrap(), insulin(3.0)).unwrap()])
        .collect();
    let now = noon().plus_ms(2 * HOUR_MS);
    let import = |log: &mut Log| log.import(Text::new("week.csv").unwrap(), file.iter().cloned().map(Ok), now).unwrap();
    let shown = |log: &Log| {
        let history = log.history(noon(), now).unwrap();
        (history.readings.len(), history.doses.len())
    };
    let first = import(&mut log);
    assert_eq!(first.recorded, Recorded { new: 10, known: 1, contradictory: 0 });
    assert_eq!(shown(&log), (10, 1));
    log.retract(first.id, now).unwrap();
    assert_eq!(shown(&log), (1, 0), "what came on its own stays");
    assert_eq!(log.imports().unwrap().iter().map(|(_, stands)| *stands).collect::<Vec<_>>(), [false]);
    let second = import(&mut log);
    assert_eq!(second.recorded, Recorded { new: 0, known: 11, contradictory: 0 });
    assert_eq!(shown(&log), (10, 1), "importing again brings back what was taken back");
    // Undone, and the undo undone.
    let by = log.undo_last(now).unwrap().unwrap();
    assert_eq!(by.undone.id, second.id);
    assert_eq!(shown(&log), (1, 0));
    let name = by.undone.what.clone();
    log.correct(second.id, now, name, now).unwrap();
    assert_eq!(shown(&log), (10, 1));
    log.check().unwrap();
}

#[test]
fn entries_of_one_instant_are_listed_as_they_were_recorded() {
    let minute = |n: i32| noon().plus_minutes(f64::from(n));
    let entries: Vec<Entry> = (1..9_u8)
        .map(|n| {
            // Identities run against the order of recording.
            let id = EntryId(uuid::Uuid::from_u128(0x019c_a724_0000_7000_8000_0000_0000_0000 + u128::from(20 - n)));
            let entry = Entry::new(noon(), minute(n.into()), Source::by_hand(), insulin(f64::from(n))).unwrap();
            Entry { id, ..entry }
        })
        .collect();
    let mut log = Log::in_memory(noon()).unwrap();
    log.record_all(entries.iter().rev().cloned()).unwrap();
    assert_eq!(log.current(noon(), noon()).unwrap(), entries);
    assert_eq!(log.entries(noon(), noon()).unwrap(), entries);
    let units: Vec<f64> = log.history(noon(), noon()).unwrap().doses.iter().map(|dose| dose.units).collect();
    assert_eq!(units, [1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0]);
}

#[test]
fn a_dose_that_a_file_corrected_holds_again_once_the_file_is_taken_back() {
    let minute = |n: i32| noon().plus_minutes(f64::from(n));
    let mut log = Log::in_memory(noon()).unwrap();
    let dose = said(noon(), insulin(4.0));
    log.record(&dose).unwrap();
    let by_file = dose.corrected(minute(5), noon(), insulin(40.0)).unwrap();
    let units = |log: &Log| {
        let history = log.history(noon(), noon()).unwrap();
        history.doses.iter().map(|dose| dose.units).collect::<Vec<_>>()
    };
    let import = log.import(Text::new("old phone.csv").unwrap(), [Ok(by_file.clone())], minute(10)).unwrap();
    assert_eq!(units(&log), [40.0]);
    log.undo_last(minute(11)).unwrap().unwrap();
    assert_eq!(units(&log), [4.0]);
    assert_eq!(log.get(by_file.id).unwrap().unwrap().import, Some(import.id), "nothing is taken out of the log");
    // What speaks for the dose is the wearer's own entry: it can be corrected, hidden and undone as before the import.
    assert_eq!(log.correct(dose.id, noon(), insulin(4.5), minute(12)).unwrap().replaces, Some(dose.id));
    log.retract(dose.id, minute(13)).unwrap();
    assert_eq!(units(&log), [0.0; 0]);
    log.undo_last(minute(14)).unwrap().unwrap();
    assert_eq!(units(&log), [4.5]);
    log.undo_last(minute(15)).unwrap().unwrap();
    assert_eq!(units(&log), [4.0]);
    // The other phone had the correction from the wearer, not from the file: then it counts, and the merge says what goes.
    let mut other = Log::in_memory(noon()).unwrap();
    other.record(&by_file).unwrap();
    let mut alone = Log::in_memory(noon()).unwrap();
    alone.record(&dose).unwrap();
    alone.import(Text::new("old phone.csv").unwrap(), [Ok(by_file)], minute(10)).unwrap();
    alone.undo_last(minute(11)).unwrap().unwrap();
    assert_eq!(alone.preview_merge(&other, minute(20)).unwrap().hidden.others, 1);
    alone.merge(&other).unwrap();
    assert_eq!(units(&alone), [40.0]);
}

#[test]
fn an_import_that_fails_midway_leaves_nothing() {
    let mut log = Log::in_memory(noon()).unwrap();
    let broken = Error::Invalid { what: Quantity::Entry, why: Why::CannotBeTaken };
    let entries = vec![Ok(reading(noon(), 104.0)), Err(broken)];
    assert!(log.import(Text::new("week.csv").unwrap(), entries, noon()).is_err());
    assert_eq!(log.count().unwrap().readings + log.count().unwrap().others, 0);
}

#[test]
fn rehearsing_reports_the_same_and_does_nothing() {
    let mut log = Log::in_memory(noon()).unwrap();
    log.record(&reading(noon(), 104.0)).unwrap();
    let entries = [reading(noon(), 104.0), reading(noon(), 61.0), said(noon(), insulin(1.0))];
    let mark = log.count().unwrap();
    let mut other = Log::in_memory(noon()).unwrap();
    other.record_all(entries.clone()).unwrap();
    let rehearsed = log.preview_merge(&other, noon()).unwrap().recorded;
    assert_eq!(log.count().unwrap(), mark);
    assert_eq!(log.record_all(entries).unwrap(), rehearsed);
    assert_eq!(rehearsed, Recorded { new: 2, known: 1, contradictory: 1 });
}

#[test]
fn settings_are_kept_with_their_past_and_checked() {
    let (_folder, path) = place();
    let mut log = Log::open(&path, noon()).unwrap();
    assert_eq!(log.wearer().unwrap(), Wearer::default());
    let mine = Wearer { unit: GlucoseUnit::MmolL, insulin_factor_mg_dl_per_unit: Some(43.1), ..Wearer::default() };
    log.set_wearer(&mine, noon()).unwrap();
    log.set_wearer(&mine, noon()).unwrap();
    let bad = Wearer { low_line: Glucose::from_mg_dl(40.0).unwrap(), ..mine.clone() };
    assert!(matches!(log.set_wearer(&bad, noon()), Err(Error::OutOfRange { .. })));
    drop(log);
    let log = Log::open(&path, noon()).unwrap();
    assert_eq!(log.wearer().unwrap(), mine);
    assert_eq!(log.wearer_changes().unwrap(), [(noon(), mine)]);
}

#[test]
fn what_was_learned_is_kept_with_its_evidence() {
    let mut log = Log::in_memory(noon()).unwrap();
    assert_eq!(log.learned::<Vec<f64>>("lag").unwrap(), None);
    log.learn("lag", &vec![0.1_f64, 7.25], "3 days, 812 readings", noon()).unwrap();
    log.learn("lag", &vec![0.3_f64], "4 days, 1100 readings", noon()).unwrap();
    let learned = log.learned::<Vec<f64>>("lag").unwrap().unwrap();
    assert_eq!((learned.what, learned.evidence.as_str()), (vec![0.3], "4 days, 1100 readings"));
    assert!(matches!(log.learn("", &1, "", noon()), Err(Error::Invalid { .. })));
    assert!(matches!(log.learn("lag", &vec![0; 200_000], "", noon()), Err(Error::Invalid { .. })));
    assert_eq!(log.learned::<String>("lag").unwrap(), None, "another shape is learned afresh");
}

#[test]
fn two_handles_see_each_other() {
    let (_folder, path) = place();
    let (mut one, mut other) = (Log::open(&path, noon()).unwrap(), Log::open(&path, noon()).unwrap());
    let before = other.revision().unwrap();
    assert_eq!(other.revision().unwrap(), before);
    one.record(&reading(noon(), 104.0)).unwrap();
    let after = other.revision().unwrap();
    assert_ne!(after, before);
    assert_eq!(other.newest_reading().unwrap().unwrap().at, noon());
    other.record(&reading(noon().plus_minutes(5.0), 99.0)).unwrap();
    assert_ne!(other.revision().unwrap(), after);
    assert_eq!(one.count().unwrap().readings, 2);
}

#[test]
fn a_clock_set_back_is_noticed_and_loses_nothing() {
    let mut log = Log::in_memory(noon()).unwrap();
    log.record(&reading(noon(), 104.0)).unwrap();
    let year_before = noon().plus_ms(-365 * 24 * HOUR_MS);
    assert_eq!(log.clock_behind(noon()).unwrap(), None);
    assert_eq!(log.clock_behind(year_before).unwrap(), Some(noon()));
    // Hiding works whatever the clock says; a reading from the clock's future is refused with the reason.
    log.retract(reading(noon(), 104.0).id, year_before).unwrap();
    assert_eq!(log.newest_reading().unwrap(), None);
    let mut ahead = reading(noon(), 103.0);
    ahead.recorded = year_before;
    assert!(log.record(&ahead).unwrap_err().to_string().contains("future"));
}

#[cfg(unix)]
#[test]
fn only_the_owner_can_read_the_files() {
    use std::os::unix::fs::PermissionsExt;
    let (folder, path) = place();
    let mut log = Log::open(&path, noon()).unwrap();
    log.record(&reading(noon(), 104.0)).unwrap();
    let modes = |folder: &TempDir| -> Vec<u32> {
        let files = fs::read_dir(folder.path()).unwrap();
        files.map(|file| file.unwrap().metadata().unwrap().permissions().mode() & 0o777).collect()
    };
    assert_eq!(modes(&folder), [0o600; 3], "the log and both of SQLite's side files");
    drop(log);
    fs::set_permissions(&path, fs::Permissions::from_mode(0o644)).unwrap();
    drop(Log::open(&path, noon()).unwrap());
    assert_eq!(modes(&folder), [0o600]);
}

/// A sensor that was out of reach is asked for what it read since: a file, another sensor and the session before say nothing of that.
#[test]
fn the_newest_that_a_sensor_sent_is_its_own() {
    let mut log = Log::in_memory(noon()).unwrap();
    let mg_dl = Glucose::from_mg_dl(120.0).unwrap();
    let from = |source: &str, minutes: f64| {
        let at = noon().plus_minutes(minutes);
        Entry::new(at, noon(), Source::new(source).unwrap(), EntryKind::SensorReading { mg_dl }).unwrap()
    };
    let sensor = Source::new("sensor 7").unwrap();
    let newest = |log: &Log, since: f64| log.newest_received(&sensor, noon().plus_minutes(since)).unwrap();
    assert_eq!(newest(&log, -60.0), None);
    log.record_all([from("sensor 7", -50.0), from("sensor 7", -40.0), from("another", -5.0)]).unwrap();
    log.import(Text::new("week.csv").unwrap(), [Ok(from("sensor 7", -20.0))], noon()).unwrap();
    assert_eq!(newest(&log, -60.0), Some(noon().plus_minutes(-40.0)));
    assert_eq!(newest(&log, -30.0), None);
    // Sent by itself too, it is the sensor's own.
    log.record(&from("sensor 7", -20.0)).unwrap();
    assert_eq!(newest(&log, -60.0), Some(noon().plus_minutes(-20.0)));
}

/// What a prompt is made of leaves out what comes faster than the engine uses, and nothing else.
#[test]
fn readings_every_second_are_read_in_part_to_ask() {
    let mut log = Log::in_memory(noon()).unwrap();
    let begin = noon().plus_ms(-4 * HOUR_MS);
    let of = |source: &str, ms: i64, mg_dl: f64| {
        let what = EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(mg_dl).unwrap() };
        Entry::new(begin.plus_ms(ms), begin.plus_ms(ms), Source::new(source).unwrap(), what).unwrap()
    };
    // An hour of one a minute, then one of one a second, at whose end the last ten are from another sensor.
    let hour = |k: i64| 100.0 + (k % 50) as f64;
    log.record_all((0..60).map(|k| of("one", k * 60_000, hour(k)))).unwrap();
    let both = |log: &Log| {
        let (all, some) = (log.history(begin, noon()).unwrap(), log.history_to_ask(begin, noon()).unwrap());
        (all, some)
    };
    let (all, some) = both(&log);
    assert_eq!(all, some);
    log.record_all((0..3600).map(|k| of("one", HOUR_MS + k * 1000, hour(k)))).unwrap();
    let (all, some) = both(&log);
    assert_eq!(all.readings.len(), 60 + 3600);
    assert!(some.readings.len() <= 60 + 4 * 3600 / 45, "{}", some.readings.len());
    assert_eq!(some.readings.last(), all.readings.last());
    assert!(some.readings.iter().all(|one| all.readings.contains(one)));
    assert_eq!(some.readings[..60], all.readings[..60]);
    let widest = some.readings[60..].windows(2).map(|pair| pair[1].at.unix_ms() - pair[0].at.unix_ms()).max();
    assert!(widest <= Some(45_000), "{widest:?}");
    // A reading of another sensor among them is read, and of one instant the lowest.
    let (beside, newest) = (of("two", HOUR_MS + 1_803_000, 71.0), of("one", 2 * HOUR_MS - 1000, 62.0));
    log.record_all([beside.clone(), newest.clone()]).unwrap();
    let (all, some) = both(&log);
    assert_eq!((some.concurrent.len(), &some.concurrent), (1, &all.concurrent));
    assert_eq!(some.concurrent[0].readings[0].at, beside.at);
    assert_eq!(some.readings.last().map(|one| (one.at, one.glucose.mg_dl())), Some((newest.at, 62.0)));
    // What was taken back is not in it, and what stands just before it is.
    log.record(&newest.retracted(noon())).unwrap();
    let (all, some) = both(&log);
    assert_eq!(some.readings.last(), all.readings.last());
}
