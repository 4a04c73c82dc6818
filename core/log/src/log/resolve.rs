//! What holds now: entries with corrections applied and retractions left out, sorted, and by kind.

use crate::log::current::Standing;
use crate::log::entry::{Entry, EntryKind};
use crate::log::{
    Activity, Carbohydrate, CompressionLow, Dose, Drinking, Felt, History, IllNote, KetoneCheck, MeterCheck, Prompting,
    Reading, SensorNote, Sleep, Source, SupplyNote,
};
use crate::time::Moment;

/// Leaves out every entry that was corrected or retracted, whatever came only with an undone import, and the retractions
/// themselves; sorts by time, then as they were recorded.
///
/// Where two corrections of one entry exist (made on two phones), the one recorded later holds, by identity if both were
/// recorded at once. A retraction beats a correction of the same entry, since hiding is the stronger word; correcting a
/// hidden entry afresh is possible by correcting the retraction. Retracting a correction hides the whole fact and does not
/// bring back what was corrected. Taking back an import does: what only it brought neither holds nor replaces anything any
/// more, and what was said of that falls with it. What came only with imports takes no import back. Entries with one
/// identity are one: the copy recorded first is kept. The result depends on neither the order of `entries` nor how often
/// each is given.
#[must_use]
pub fn resolve(entries: Vec<Entry>) -> Vec<Entry> {
    let (mut entries, standing) = Standing::weigh(entries);
    entries.retain(|entry| standing.holds(entry.id));
    entries.sort_unstable_by_key(Entry::order);
    entries
}

/// Sorts entries by kind, after [`resolve`].
///
/// Where several readings of one source claim one instant, the lowest is used: overlooking a low is the worse mistake.
/// Of several sources read at the same time, the one that was read first of all is followed.
#[must_use]
pub fn current_history(entries: Vec<Entry>) -> History {
    let entries = resolve(entries);
    let mut first: Vec<(Moment, Source)> = Vec::new();
    for entry in &entries {
        if entry.what.sensor().is_some() {
            match first.iter_mut().find(|(_, source)| *source == entry.source) {
                Some((at, _)) => *at = (*at).min(entry.at),
                None => first.push((entry.at, entry.source.clone())),
            }
        }
    }
    first.sort_unstable_by(|(a, one), (b, other)| a.unix_ms().cmp(&b.unix_ms()).then_with(|| one.cmp(other)));
    let (mut history, mut readings) = of_resolved(entries);
    let rank = |source: &Source| first.iter().position(|(_, one)| one == source).unwrap_or(usize::MAX);
    readings.sort_unstable_by(|(one, _), (other, _)| rank(one).cmp(&rank(other)).then_with(|| one.cmp(other)));
    history.take_readings(readings);
    history
}

/// As [`current_history`], of entries that all hold; readings are handed back by source.
pub(crate) fn of_resolved(entries: Vec<Entry>) -> (History, Vec<(Source, Vec<Reading>)>) {
    let mut history = History::default();
    let mut readings: Vec<(Source, Vec<Reading>)> = Vec::new();
    for Entry { at, what, source, .. } in entries {
        if let Some(shown) = what.sensor() {
            let reading = Reading::of(at, shown);
            match readings.iter_mut().find(|one| one.0 == source) {
                Some((_, known)) => known.push(reading),
                None => readings.push((source, vec![reading])),
            }
            continue;
        }
        if let Some(shown) = what.meter() {
            history.meter_checks.push(MeterCheck::of(at, shown));
            continue;
        }
        match what {
            EntryKind::Insulin { insulin, units } => history.doses.push(Dose { at, kind: insulin, units }),
            EntryKind::Carbohydrate { grams, purpose } => {
                history.carbohydrate.push(Carbohydrate { at, grams, purpose })
            }
            EntryKind::Alcohol { drinks } => history.alcohol.push(Drinking { at, drinks }),
            EntryKind::Ketones { mmol_l } => history.ketones.push(KetoneCheck { at, mmol_l }),
            EntryKind::Illness { illness } => history.illness.push(IllNote { at, illness }),
            EntryKind::Activity { activity, minutes, effort } => {
                history.activities.push(Activity { at, name: activity, minutes, effort });
            }
            EntryKind::Sleep { until } => history.sleep.push(Sleep { from: at, until }),
            EntryKind::Sensor(event) => {
                let sensor = (source != Source::by_hand()).then_some(source);
                history.sensor.push(SensorNote { at, event, sensor });
            }
            EntryKind::Symptom { felt } => history.symptoms.push(Felt { at, symptom: felt }),
            EntryKind::CompressionLow { until } => history.compression_lows.push(CompressionLow { from: at, until }),
            EntryKind::Supply(supply) => history.supplies.push(SupplyNote { at, supply }),
            EntryKind::Prompted(prompted) => history.prompts.push(Prompting { at, shown: prompted }),
            EntryKind::SensorReading { .. }
            | EntryKind::SensorBeyond { .. }
            | EntryKind::MeterCheck { .. }
            | EntryKind::MeterBeyond { .. }
            | EntryKind::Note { .. }
            | EntryKind::Import { .. }
            | EntryKind::Retraction => {}
        }
    }
    (history, readings)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::{EntryId, InsulinKind, Text};
    use crate::units::Glucose;

    fn at(minutes: i32) -> Moment {
        Moment::parse("2026-03-01T12:00:00+01:00").unwrap().plus_minutes(minutes.into())
    }

    fn mg(amount: f64) -> Glucose {
        Glucose::from_mg_dl(amount).unwrap()
    }

    fn dose(units: f64) -> EntryKind {
        EntryKind::Insulin { insulin: InsulinKind::Rapid, units }
    }

    fn said(minutes: i32, what: EntryKind) -> Entry {
        Entry::new(at(minutes), at(minutes), Source::by_hand(), what).unwrap()
    }

    fn corrected(entry: &Entry, minutes: i32, units: f64) -> Entry {
        entry.corrected(at(minutes), entry.at, dose(units)).unwrap()
    }

    /// What holds, checked in every order of up to five entries, and with all of them given twice.
    fn current(entries: &[&Entry]) -> Vec<Entry> {
        let given: Vec<Entry> = entries.iter().map(|entry| (*entry).clone()).collect();
        let held = resolve(given.clone());
        let mut order: Vec<usize> = (0..given.len()).collect();
        permute(&mut order, 0, &mut |order| {
            let shuffled: Vec<Entry> = order.iter().map(|place| given[*place].clone()).collect();
            assert_eq!(resolve(shuffled), held, "the order {order:?} makes a difference");
        });
        assert_eq!(resolve([given.clone(), given].concat()), held);
        held
    }

    fn permute(order: &mut Vec<usize>, from: usize, see: &mut impl FnMut(&[usize])) {
        if from == order.len() {
            return see(order);
        }
        for place in from..order.len() {
            order.swap(from, place);
            permute(order, from + 1, see);
            order.swap(from, place);
        }
    }

    #[test]
    fn a_correction_holds_in_place_of_what_it_corrects() {
        let wrong = said(0, dose(40.0));
        let first = corrected(&wrong, 1, 4.0);
        let second = corrected(&first, 2, 4.5);
        assert_eq!(current(&[&wrong, &first]), std::slice::from_ref(&first));
        assert_eq!(current(&[&wrong, &first, &second]), std::slice::from_ref(&second));
        // Before the rest of a chain has arrived, what is there speaks.
        assert_eq!(current(&[&second]), std::slice::from_ref(&second));
        assert_eq!(current(&[&wrong, &second]), [wrong, second]);
    }

    #[test]
    fn of_two_corrections_the_later_holds_and_the_other_falls_with_its_own() {
        let wrong = said(0, dose(40.0));
        let (here, there) = (corrected(&wrong, 1, 4.0), corrected(&wrong, 2, 5.0));
        let after = corrected(&here, 3, 6.0);
        assert_eq!(current(&[&wrong, &here, &there]), std::slice::from_ref(&there));
        assert_eq!(current(&[&wrong, &here, &there, &after]), std::slice::from_ref(&there));
        let mut tied = corrected(&wrong, 2, 7.0);
        tied.id = EntryId(uuid::Uuid::max());
        assert_eq!(current(&[&wrong, &there, &tied]), [tied]);
    }

    #[test]
    fn a_retraction_hides_and_outweighs_a_later_correction() {
        let wrong = said(0, dose(40.0));
        let (hidden, fixed) = (wrong.retracted(at(1)), corrected(&wrong, 2, 4.0));
        assert_eq!(current(&[&wrong, &hidden]), []);
        assert_eq!(current(&[&wrong, &hidden, &fixed]), []);
        // Hiding a correction hides the fact; what was corrected does not come back.
        let hides_fixed = fixed.retracted(at(3));
        assert_eq!(current(&[&wrong, &fixed, &hides_fixed]), []);
        // A retraction alone hides what has not arrived yet.
        assert_eq!(current(&[&hidden]), []);
    }

    #[test]
    fn correcting_a_retraction_brings_the_entry_back() {
        let wrong = said(0, dose(40.0));
        let hidden = wrong.retracted(at(1));
        let back = corrected(&hidden, 2, 40.0);
        assert_eq!(current(&[&wrong, &hidden, &back]), std::slice::from_ref(&back));
        let hidden_again = back.retracted(at(3));
        assert_eq!(current(&[&wrong, &hidden, &back, &hidden_again]), []);
        // Hiding the retraction does not: hiding twice is hiding.
        let doubly = hidden.retracted(at(2));
        assert_eq!(current(&[&wrong, &hidden, &doubly]), []);
    }

    #[test]
    fn rings_end_and_hold_nothing() {
        let (mut one, mut two) = (said(0, dose(1.0)), said(1, dose(2.0)));
        (one.replaces, two.replaces) = (Some(two.id), Some(one.id));
        assert_eq!(current(&[&one, &two]), []);
        let third = corrected(&two, 2, 3.0);
        let mut own = said(0, dose(4.0));
        own.replaces = Some(own.id);
        assert_eq!(current(&[&own]), []);
        // One that hangs on a ring: it wins over its target, and the walk around the ring comes to an end.
        let mut many: Vec<Entry> = (0..2000).map(|n| said(n, dose(1.0))).collect();
        for n in 0..many.len() {
            many[n].replaces = Some(many[(n + 1) % many.len()].id);
        }
        many.push(third);
        assert!(resolve(many).len() <= 1);
    }

    #[test]
    fn an_import_taken_back_hides_what_only_it_brought() {
        let import = said(0, EntryKind::Import { name: Text::new("week.csv").unwrap() });
        let other = said(1, EntryKind::Import { name: Text::new("month.csv").unwrap() });
        let back = import.retracted(at(2));
        let by = |import: &Entry| Entry { import: Some(import.id), ..said(0, dose(4.0)) };
        let brought = by(&import);
        let fixed = corrected(&brought, 1, 5.0);
        assert_eq!(current(&[&import, &brought]).len(), 2);
        assert_eq!(current(&[&import, &brought, &back]), []);
        assert_eq!(current(&[&import, &brought, &back, &fixed]), [], "a correction falls with what it corrects");
        let again = Entry { import: Some(other.id), ..brought.clone() };
        assert_eq!(current(&[&import, &other, &brought, &again, &back]).len(), 2);
        let alone = Entry { import: None, ..brought.clone() };
        assert_eq!(current(&[&import, &brought, &alone, &back]), std::slice::from_ref(&alone));
        let restored = back.corrected(at(3), at(0), import.what.clone()).unwrap();
        assert_eq!(current(&[&import, &brought, &back, &restored]).len(), 2);
    }

    #[test]
    fn what_an_import_corrected_or_hid_holds_again_once_it_is_taken_back() {
        let import = said(0, EntryKind::Import { name: Text::new("week.csv").unwrap() });
        let back = import.retracted(at(9));
        let brought = |entry: Entry| Entry { import: Some(import.id), ..entry };
        let own = said(0, dose(4.0));
        let theirs = brought(corrected(&own, 3, 40.0));
        assert_eq!(current(&[&import, &own, &theirs]), [import.clone(), theirs.clone()]);
        assert_eq!(current(&[&import, &own, &theirs, &back]), std::slice::from_ref(&own));
        // An older correction had lost to it and wins again.
        let older = corrected(&own, 1, 4.5);
        assert_eq!(current(&[&import, &own, &older, &theirs]), [import.clone(), theirs.clone()]);
        assert_eq!(current(&[&own, &older, &theirs, &back]), std::slice::from_ref(&older));
        // A later one stays, and what was said of the import's falls with it.
        let (later, of_theirs) = (corrected(&own, 5, 5.0), corrected(&theirs, 4, 5.5));
        assert_eq!(current(&[&own, &theirs, &later, &of_theirs, &back]), std::slice::from_ref(&later));
        assert_eq!(current(&[&own, &theirs, &of_theirs, &back]), std::slice::from_ref(&own));
        assert_eq!(current(&[&own, &theirs, &theirs.retracted(at(4)), &back]), std::slice::from_ref(&own));
        // The same for what it hid, and for what it brought back.
        let hidden = brought(own.retracted(at(3)));
        assert_eq!(current(&[&import, &own, &hidden]), std::slice::from_ref(&import));
        assert_eq!(current(&[&own, &hidden, &back]), std::slice::from_ref(&own));
        let own_hidden = own.retracted(at(2));
        let shown = brought(corrected(&own_hidden, 3, 40.0));
        assert_eq!(current(&[&import, &own, &own_hidden, &shown]), [import.clone(), shown.clone()]);
        assert_eq!(current(&[&own, &own_hidden, &shown, &back]), []);
        // Restored, it wins again; and so it does if it comes another way.
        let restored = back.corrected(at(10), at(0), import.what.clone()).unwrap();
        assert_eq!(current(&[&own, &theirs, &back, &restored]), [theirs.clone(), restored]);
        let alone = Entry { import: None, ..theirs.clone() };
        assert_eq!(current(&[&own, &theirs, &alone, &back]), [alone]);
    }

    #[test]
    fn entries_of_one_instant_come_as_they_were_recorded() {
        let at_noon = |recorded: i32, id: u128| {
            let when = Moment::new(at(0).unix_ms(), 60 * (recorded % 3)).unwrap();
            let entry = Entry::new(when, at(recorded), Source::by_hand(), dose(f64::from(recorded))).unwrap();
            Entry { id: EntryId(uuid::Uuid::from_u128(id)), ..entry }
        };
        // Identities against the order of recording, and times with several offsets.
        let (first, second, third, tied) = (at_noon(1, 9), at_noon(2, 7), at_noon(3, 5), at_noon(3, 6));
        let held = current(&[&tied, &second, &third, &first]);
        assert_eq!(held, [first, second, third, tied]);
        let units: Vec<f64> = current_history(held).doses.iter().map(|dose| dose.units).collect();
        assert_eq!(units, [1.0, 2.0, 3.0, 3.0]);
    }

    #[test]
    fn no_import_takes_back_an_import() {
        let name = || EntryKind::Import { name: Text::new("week.csv").unwrap() };
        let (one, other) = (said(0, name()), said(1, name()));
        let reading = Entry { import: Some(one.id), ..said(0, dose(4.0)) };
        // Each file says that the other, or it itself, was taken back: which should be believed?
        let by = |import: &Entry, of: &Entry| Entry { import: Some(import.id), ..of.retracted(at(2)) };
        for forged in [by(&other, &one), by(&one, &one)] {
            assert!(current(&[&one, &other, &reading, &forged]).contains(&reading));
        }
        assert_eq!(current(&[&reading, &by(&other, &one), &one.retracted(at(3))]), []);
    }

    #[test]
    fn copies_of_one_entry_are_one_whatever_they_differ_in() {
        let reading = |recorded: i32, offset: i32| {
            let when = Moment::new(at(0).unix_ms(), offset).unwrap();
            let source = Source::new("sensor 7").unwrap();
            Entry::new(when, at(recorded), source, EntryKind::SensorReading { mg_dl: mg(104.0) }).unwrap()
        };
        let (first, second, third) = (reading(1, 60), reading(2, 120), reading(1, 120));
        assert_eq!(current(&[&first, &second, &third]), [first]);
    }

    #[test]
    fn of_contradictory_readings_the_lowest_counts() {
        let reading = |source: &str, offset: i32, amount: f64| {
            let when = Moment::new(at(0).unix_ms(), offset).unwrap();
            Entry::new(when, at(0), Source::new(source).unwrap(), EntryKind::SensorReading { mg_dl: mg(amount) })
                .unwrap()
        };
        let entries =
            [reading("a", 60, 104.0), reading("a", 60, 61.0), reading("b", 120, 61.0), reading("c", 0, 250.0)];
        let history = current_history(entries.to_vec());
        assert_eq!(history.readings, [Reading::new(at(0), mg(61.0))]);
        let mut turned = entries.to_vec();
        turned.reverse();
        assert_eq!(current_history(turned), history);
    }

    fn read(source: &str, minutes: i32, amount: f64) -> Entry {
        let what = EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(amount).unwrap() };
        Entry::new(at(minutes), at(minutes), Source::new(source).unwrap(), what).unwrap()
    }

    fn amounts(readings: &[Reading]) -> Vec<f64> {
        readings.iter().map(|one| one.glucose.mg_dl()).collect()
    }

    #[test]
    fn two_sensors_at_once_do_not_mix() {
        // "b" was read first, so it is followed; "a" is until "b" falls silent.
        let mut entries: Vec<Entry> = (0..6).map(|k| read("b", 5 * k, 100.0)).collect();
        entries.extend((0..12).map(|k| read("a", 5 * k + 2, 140.0)));
        let history = current_history(entries);
        // b at 25 is its last; a at 37 is 12 minutes after it, at 42 it is 17.
        assert_eq!(amounts(&history.readings), [[100.0; 6].as_slice(), [140.0; 4].as_slice()].concat());
        assert_eq!(history.concurrent.len(), 1);
        assert_eq!(amounts(&history.concurrent[0].readings), [140.0; 8]);
        assert_eq!(history.followed_at(at(10)).map(Source::as_str), Some("b"));
        assert_eq!(history.followed_at(at(50)).map(Source::as_str), Some("a"));
        assert_eq!(history.followed_at(at(-1)), None);
    }

    /// One file, imported as "a" on one device and as "b" in mmol/L on another, one reading lost on each: one sensor. What reads
    /// otherwise at the same instants is another one.
    #[test]
    fn one_sensor_under_two_names_is_one() {
        let trace = |name: &str, lost: i32, off: f64| -> Vec<Entry> {
            (0..20).filter(|k| *k != lost).map(|k| read(name, 5 * k, 100.0 + f64::from(k) + off)).collect()
        };
        let history = current_history([trace("a", 4, 0.0), trace("b", 9, 0.4)].concat());
        assert_eq!(amounts(&history.readings).len(), 20);
        assert!(history.concurrent.is_empty() && history.named_sensors().is_empty());
        let history = current_history([trace("a", 4, 0.0), trace("b", 9, 5.0)].concat());
        assert_eq!((history.concurrent.len(), history.concurrent[0].readings.len()), (1, 19));
    }

    #[test]
    fn one_sensor_after_another_is_one_trace() {
        let entries = [read("a", 0, 100.0), read("a", 5, 101.0), read("b", 60, 102.0), read("b", 65, 103.0)];
        let history = current_history(entries.to_vec());
        assert_eq!(amounts(&history.readings), [100.0, 101.0, 102.0, 103.0]);
        assert!(history.concurrent.is_empty() && history.named_sensors().is_empty());
    }
}
