//! Each kind filled in, refused and put right.

use super::*;
use crate::forms::Takes;
use crate::log::{Beyond, Effort, Illness, Instrument, InsulinKind, Purpose, SensorEvent, Shown, Symptom, Text};
use crate::units::Glucose;

const ENGLISH: Words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
const GERMAN: Words = Words::new(Language::GERMAN, GlucoseUnit::MmolL);
const KINDS: [&str; 13] = [
    "meter",
    "rescue",
    "rapid",
    "meal",
    "long_acting",
    "feels",
    "activity",
    "ketones",
    "illness",
    "alcohol",
    "sleep",
    "sensor",
    "note",
];

fn at(text: &str) -> Moment {
    Moment::parse(text).unwrap()
}

fn now() -> Moment {
    at("2026-03-01T14:01:20+01:00")
}

fn filled(kind: &str, fields: &[(&str, &str)]) -> Filled {
    let kind = if kind.is_empty() { None } else { Some(("kind".to_owned(), kind.to_owned())) };
    kind.into_iter().chain(fields.iter().map(|(id, value)| ((*id).to_owned(), (*value).to_owned()))).collect()
}

fn added(kind: &str, fields: &[(&str, &str)], words: Words) -> (Form, Option<Said>) {
    read(&filled(kind, fields), None, &Wearer::default(), now(), words)
}

fn righted(old: &Entry, fields: &[(&str, &str)], words: Words) -> (Form, Option<Said>) {
    read(&filled("", fields), Some(old), &Wearer::default(), now(), words)
}

fn entry(when: &str, what: EntryKind) -> Entry {
    Entry::new(at(when), now(), Source::by_hand(), what).unwrap()
}

fn ids(form: &Form) -> Vec<&'static str> {
    form.fields.iter().map(|field| field.id).collect()
}

/// What is said against fields, by their names for a program.
fn against(form: &Form) -> Vec<(&'static str, String)> {
    form.fields.iter().filter_map(|field| field.advice.clone().map(|advice| (field.id, advice))).collect()
}

fn text(text: &str) -> Text {
    Text::new(text).unwrap()
}

fn mg(mg_dl: f64) -> Glucose {
    Glucose::from_mg_dl(mg_dl).unwrap()
}

fn inserted() -> EntryKind {
    let (site, lot) = (Some(text("left arm")), Some(text("A7")));
    EntryKind::Sensor(SensorEvent::Inserted { site, lot, rated_days: Some(10) })
}

/// A kind, what is filled in, and the entry it makes.
type Example = (&'static str, Vec<(&'static str, &'static str)>, EntryKind);

/// Every kind as it is filled in, and what comes of it.
fn every() -> Vec<Example> {
    use InsulinKind::{LongActing, Rapid};
    use Purpose::{Meal, Rescue};
    let felt = |felt| EntryKind::Symptom { felt };
    let ill = |illness| EntryKind::Illness { illness };
    let low = Shown { glucose: Instrument::Meter.limit(Beyond::Below), beyond: Some(Beyond::Below) };
    let high = Shown { glucose: Instrument::Meter.limit(Beyond::Above), beyond: Some(Beyond::Above) };
    let limit = EntryKind::MeterBeyond { beyond: Beyond::Below, mg_dl: mg(30.0) };
    let walk = EntryKind::Activity { activity: text("a walk"), minutes: 30.0, effort: Effort::Moderate };
    let ride = EntryKind::Activity { activity: text("a ride"), minutes: 90.0, effort: Effort::Hard };
    vec![
        ("meter", vec![("meter", " 104 ")], EntryKind::MeterCheck { mg_dl: mg(104.0) }),
        ("meter", vec![("meter_shows", "low")], EntryKind::checked_by_meter(low)),
        ("meter", vec![("meter_shows", "high"), ("meter", "104")], EntryKind::checked_by_meter(high)),
        ("meter", vec![("meter", "<30")], limit),
        ("rescue", vec![("rescue", "15")], EntryKind::Carbohydrate { grams: 15.0, purpose: Rescue }),
        ("meal", vec![("meal", "60,5")], EntryKind::Carbohydrate { grams: 60.5, purpose: Meal }),
        ("rapid", vec![("rapid", "4.5")], EntryKind::Insulin { insulin: Rapid, units: 4.5 }),
        ("long_acting", vec![("long_acting", "14")], EntryKind::Insulin { insulin: LongActing, units: 14.0 }),
        ("feels", vec![("feels", "low")], felt(Symptom::FeelsLow)),
        ("feels", vec![("feels", "high")], felt(Symptom::FeelsHigh)),
        ("feels", vec![("feels", "neither")], felt(Symptom::None)),
        ("feels", vec![("feels", "severe")], felt(Symptom::Severe)),
        ("activity", vec![("activity", "a walk"), ("activity_minutes", "30")], walk),
        ("activity", vec![("activity", "a ride"), ("activity_minutes", "90"), ("effort", "hard")], ride),
        ("ketones", vec![("ketones", "1,2")], EntryKind::Ketones { mmol_l: 1.2 }),
        ("ketones", vec![("ketones", "0")], EntryKind::Ketones { mmol_l: 0.0 }),
        ("ketones", vec![("ketones", "LO")], EntryKind::Ketones { mmol_l: 0.0 }),
        ("ketones", vec![("ketone_meter_shows", "low")], EntryKind::Ketones { mmol_l: 0.0 }),
        ("illness", vec![], ill(Illness::Ill)),
        ("illness", vec![("illness", "vomiting")], ill(Illness::Vomiting)),
        ("illness", vec![("illness", "over")], ill(Illness::Over)),
        ("alcohol", vec![("alcohol", "2")], EntryKind::Alcohol { drinks: 2.0 }),
        ("sensor", vec![("sensor", "inserted")], EntryKind::Sensor(SensorEvent::inserted(None))),
        ("sensor", vec![("sensor", "inserted"), ("site", "left arm"), ("lot", "A7"), ("rated_days", "10")], inserted()),
        ("sensor", vec![("sensor", "warmed_up")], EntryKind::Sensor(SensorEvent::WarmUpOver)),
        ("sensor", vec![("sensor", "rolled_off")], EntryKind::Sensor(SensorEvent::RolledOff)),
        ("sensor", vec![("sensor", "ended")], EntryKind::Sensor(SensorEvent::Ended)),
        (
            "sensor",
            vec![("sensor", "fault"), ("seen", "bled")],
            EntryKind::Sensor(SensorEvent::Fault { seen: text("bled") }),
        ),
        ("note", vec![("note", "felt odd")], EntryKind::Note { text: text("felt odd") }),
    ]
}

#[test]
fn every_kind_becomes_its_entry_now() {
    for (kind, fields, what) in every() {
        let (form, said) = added(kind, &fields, ENGLISH);
        assert_eq!(said, Some(Said { what, at: now() }), "{kind} {fields:?} {:?}", against(&form));
    }
    let offered: Vec<_> = match &added("", &[], ENGLISH).0.fields[0].takes {
        Takes::Choice(options) => options.iter().map(|option| option.code.to_string()).collect(),
        other => panic!("{other:?}"),
    };
    assert_eq!(offered, KINDS);
    let said: std::collections::HashSet<_> = every().iter().map(|(kind, ..)| *kind).collect();
    assert_eq!(said.len() + 1, KINDS.len(), "all but sleep, which has a test of its own");
}

#[test]
fn each_kind_has_its_own_fields_and_only_those() {
    let fields =
        |kind, fields: &[(&str, &str)]| ids(&form(&filled(kind, fields), None, &Wearer::default(), now(), ENGLISH));
    assert_eq!(fields("", &[]), ["kind"]);
    assert_eq!(fields("nonsense", &[]), ["kind"]);
    assert_eq!(fields("meter", &[]), ["kind", "meter", "meter_shows", "happened"]);
    assert_eq!(fields("meter", &[("meter_shows", "low")]), ["kind", "meter_shows", "happened"]);
    assert_eq!(fields("ketones", &[]), ["kind", "ketones", "ketone_meter_shows", "happened"]);
    assert_eq!(fields("ketones", &[("ketone_meter_shows", "low")]), ["kind", "ketone_meter_shows", "happened"]);
    assert_eq!(fields("activity", &[]), ["kind", "activity", "activity_minutes", "effort", "happened"]);
    assert_eq!(fields("sleep", &[]), ["kind", "sleep_from", "sleep_until"]);
    assert_eq!(fields("sensor", &[]), ["kind", "sensor", "happened"]);
    assert_eq!(fields("sensor", &[("sensor", "fault")]), ["kind", "sensor", "seen", "happened"]);
    let put_in = ["kind", "sensor", "site", "lot", "rated_days", "happened"];
    assert_eq!(fields("sensor", &[("sensor", "inserted")]), put_in);
    for kind in ["rescue", "rapid", "meal", "long_acting", "feels", "illness", "alcohol", "note"] {
        assert_eq!(fields(kind, &[]), ["kind", kind, "happened"]);
    }
}

#[test]
fn nothing_is_refused_and_nothing_can_be_kept_before_a_kind_is_chosen() {
    let first = form(&Filled::new(), None, &Wearer::default(), now(), ENGLISH);
    assert_eq!((first.main.as_str(), first.is_refused()), ("", false));
    let (refused, said) = added("", &[], ENGLISH);
    assert_eq!((against(&refused), said), (vec![("kind", "What to add: Choose one.".to_owned())], None));
    let laid_out = form(&filled("rapid", &[("rapid", "four")]), None, &Wearer::default(), now(), ENGLISH);
    assert_eq!((laid_out.main.as_str(), laid_out.is_refused()), ("Save", false));
}

/// What was typed stays as typed; the sentence names the field and, of an amount, its limits.
#[test]
fn a_slip_is_said_with_its_field_and_its_limits() {
    type Fields = &'static [(&'static str, &'static str)];
    let slips: [(&str, Fields, &str, &str); 26] = [
        ("meter", &[("meter", "")], "meter", "Meter check: Write a number, such as 5.8."),
        ("meter", &[("meter", "9000")], "meter", "Meter check: Give an amount from 20 to 600 mg/dL."),
        (
            "meter",
            &[("meter", "5.8")],
            "meter",
            "Meter check: This amount only fits the other unit. Check the unit in the settings.",
        ),
        ("rescue", &[("rescue", "0")], "rescue", "Rescue carbohydrate: Give an amount above 0 and up to 500 g."),
        ("meal", &[("meal", "501")], "meal", "Carbohydrate with a meal: Give an amount above 0 and up to 500 g."),
        ("meal", &[("meal", "much")], "meal", "Carbohydrate with a meal: Write a number, such as 5.8."),
        ("rapid", &[("rapid", "15O")], "rapid", "Rapid insulin: Write a number, such as 5.8."),
        ("rapid", &[("rapid", "-1")], "rapid", "Rapid insulin: Give an amount above 0 and up to 150 units."),
        (
            "long_acting",
            &[("long_acting", "151")],
            "long_acting",
            "Long-acting insulin: Give an amount above 0 and up to 150 units.",
        ),
        ("feels", &[], "feels", "What you feel: Choose one."),
        (
            "activity",
            &[("activity", ""), ("activity_minutes", "30")],
            "activity",
            "What you did, such as walking: Write a short text without control characters.",
        ),
        (
            "activity",
            &[("activity", "walk"), ("activity_minutes", "1441")],
            "activity_minutes",
            "How long: Give an amount above 0 and up to 1440 minutes.",
        ),
        (
            "activity",
            &[("activity", "walk"), ("activity_minutes", "long")],
            "activity_minutes",
            "How long: Write a number, such as 5.8.",
        ),
        ("ketones", &[("ketones", "21")], "ketones", "Ketones in blood: Give an amount from 0 to 20 mmol/L."),
        ("ketones", &[("ketones", "-0.1")], "ketones", "Ketones in blood: Give an amount from 0 to 20 mmol/L."),
        ("ketones", &[("ketones", "?")], "ketones", "Ketones in blood: Write a number, such as 5.8."),
        (
            "ketones",
            &[("ketones", "HI")],
            "ketones",
            "Ketones in blood: This is more than the meter can measure: call your care team or emergency help now, as your sick-day plan says. To note it, enter the highest number the meter shows.",
        ),
        (
            "ketones",
            &[("ketone_meter_shows", "high"), ("ketones", "")],
            "ketone_meter_shows",
            "The meter shows: This is more than the meter can measure: call your care team or emergency help now, as your sick-day plan says. To note it, enter the highest number the meter shows.",
        ),
        ("alcohol", &[("alcohol", "41")], "alcohol", "How many drinks: Give an amount above 0 and up to 40 drinks."),
        (
            "sleep",
            &[("sleep_from", "06:00"), ("sleep_until", "06:00")],
            "sleep_until",
            "Woke up at: Waking up must come after falling asleep, and 24 hours later at most.",
        ),
        ("sensor", &[], "sensor", "What happened: Choose one."),
        (
            "sensor",
            &[("sensor", "fault"), ("seen", " ")],
            "seen",
            "What was wrong with it: Write a short text without control characters.",
        ),
        (
            "sensor",
            &[("sensor", "inserted"), ("rated_days", "10,5")],
            "rated_days",
            "Days it is rated for: Give an amount from 1 to 365 days.",
        ),
        (
            "sensor",
            &[("sensor", "inserted"), ("rated_days", "400")],
            "rated_days",
            "Days it is rated for: Give an amount from 1 to 365 days.",
        ),
        (
            "sensor",
            &[("sensor", "inserted"), ("site", "a\u{7}b")],
            "site",
            "Where, in your own words: Write a short text without control characters.",
        ),
        ("note", &[("note", "")], "note", "Note: Write a short text without control characters."),
    ];
    for (kind, fields, id, advice) in slips {
        let (form, said) = added(kind, fields, ENGLISH);
        assert_eq!((against(&form), said), (vec![(id, advice.to_owned())], None), "{kind} {fields:?}");
        for (id, typed) in fields {
            let stands = form.fields.iter().find(|field| field.id == *id).unwrap();
            assert_eq!(stands.value, *typed);
        }
    }
    let both = added("activity", &[], ENGLISH).0;
    assert_eq!(against(&both).len(), 2, "each field says what is wrong with it");
    let german = |kind, fields: &[(&str, &str)]| against(&added(kind, fields, GERMAN).0)[0].1.clone();
    assert_eq!(
        german("alcohol", &[("alcohol", "0")]),
        "Wie viele Gläser: Gib einen Wert über 0 und bis zu 40 Gläsern an."
    );
    assert_eq!(
        german("meter", &[("meter", "60")]),
        "Blutzucker gemessen: Dieser Wert passt nur zur anderen Einheit. Prüf die Einheit in den Einstellungen."
    );
}

#[test]
fn what_is_typed_for_one_kind_is_kept_for_it_and_never_another_kinds() {
    let typed = filled("meal", &[("meal", "60"), ("rapid", "4")]);
    let shown = |kind: &str| {
        let mut typed = typed.clone();
        typed.insert("kind".to_owned(), kind.to_owned());
        form(&typed, None, &Wearer::default(), now(), ENGLISH).value(kind).to_owned()
    };
    assert_eq!([shown("meal"), shown("rapid"), shown("rescue"), shown("alcohol")], ["60", "4", "", ""]);
}

#[test]
fn a_time_is_the_newest_at_which_the_clock_showed_it() {
    let when = |clock| added("note", &[("note", "x"), ("happened", clock)], ENGLISH).1.unwrap().at;
    assert_eq!(when("14:01"), now(), "to the millisecond");
    assert_eq!(when("12:30"), at("2026-03-01T12:30:00+01:00"));
    assert_eq!(when("14:02"), at("2026-02-28T14:02:00+01:00"), "what lies ahead was yesterday");
    assert_eq!(when("25:00"), now(), "no time of day");
}

#[test]
fn sleep_is_the_last_before_its_end() {
    let slept = |from, until| {
        let said = added("sleep", &[("sleep_from", from), ("sleep_until", until)], ENGLISH).1.unwrap();
        (said.at, said.what)
    };
    let until = at("2026-03-01T06:45:00+01:00");
    assert_eq!(slept("23:10", "06:45"), (at("2026-02-28T23:10:00+01:00"), EntryKind::Sleep { until }));
    let nap = at("2026-03-01T13:30:00+01:00");
    assert_eq!(slept("13:00", "13:30"), (at("2026-03-01T13:00:00+01:00"), EntryKind::Sleep { until: nap }));
    let untouched = added("sleep", &[], ENGLISH).1.unwrap();
    assert_eq!((untouched.at, untouched.what), (at("2026-02-28T23:00:00+01:00"), EntryKind::Sleep { until: now() }));
}

#[test]
fn every_kind_is_put_right_in_the_form_it_was_added_in_and_stays_where_nobody_touched_it() {
    for (kind, fields, what) in every() {
        let old = entry("2026-02-27T22:00:17+01:00", what.clone());
        for words in [ENGLISH, GERMAN] {
            let (form, said) = righted(&old, &[], words);
            assert_eq!((form.heading.clone(), ids(&form).contains(&"kind")), (words.what(&what), false));
            assert_eq!(said, Some(Said { what: what.clone(), at: old.at }), "{kind} {fields:?}");
            let moved = righted(&old, &[("happened", "21:45")], words).1.unwrap();
            assert_eq!(moved, Said { what: what.clone(), at: at("2026-02-27T21:45:00+01:00") }, "its own day");
        }
    }
    // 141 mg/dL is shown as 7,8 mmol/L, and 7,8 mmol/L are 140.5 mg/dL.
    let check = entry("2026-03-01T13:00:00+01:00", EntryKind::MeterCheck { mg_dl: mg(141.0) });
    assert_eq!(form(&Filled::new(), Some(&check), &Wearer::default(), now(), GERMAN).value("meter"), "7,8");
}

#[test]
fn an_entry_is_put_right_field_by_field() {
    let dose = entry("2026-03-01T13:00:00+01:00", EntryKind::Insulin { insulin: InsulinKind::Rapid, units: 4.5 });
    let right = righted(&dose, &[("rapid", "5,5"), ("kind", "meal")], GERMAN).1.unwrap();
    assert_eq!(right, Said { what: EntryKind::Insulin { insulin: InsulinKind::Rapid, units: 5.5 }, at: dose.at });
    let (slip, none) = righted(&dose, &[("rapid", "viel")], GERMAN);
    assert_eq!((slip.value("rapid"), against(&slip).len(), none), ("viel", 1, None));
    let (ahead, none) = righted(&dose, &[("happened", "15:00")], ENGLISH);
    assert_eq!((against(&ahead)[0].0, none), ("happened", None));
    assert!(against(&ahead)[0].1.starts_with("When it happened: This time cannot be"), "{ahead:?}");
    // Where it sits is put right; the lot and the length stay.
    let sensor = entry("2026-03-01T13:00:00+01:00", inserted());
    let moved = righted(&sensor, &[("site", "right arm")], ENGLISH).1.unwrap().what;
    let (site, lot) = (Some(text("right arm")), Some(text("A7")));
    assert_eq!(moved, EntryKind::Sensor(SensorEvent::Inserted { site, lot, rated_days: Some(10) }));
    let beyond = entry("2026-03-01T13:00:00+01:00", EntryKind::MeterBeyond { beyond: Beyond::Below, mg_dl: mg(30.0) });
    let now_a_number = righted(&beyond, &[("meter_shows", "amount"), ("meter", "48")], ENGLISH).1.unwrap().what;
    assert_eq!(now_a_number, EntryKind::MeterCheck { mg_dl: mg(48.0) });
}

#[test]
fn a_night_is_put_right_at_either_end() {
    let (from, until) = ("2026-02-28T23:10:20+01:00", at("2026-03-01T06:45:00+01:00"));
    let old = entry(from, EntryKind::Sleep { until });
    let said = |fields: &[(&str, &str)]| righted(&old, fields, ENGLISH).1.map(|said| (said.at, said.what));
    assert_eq!(said(&[]), Some((at(from), EntryKind::Sleep { until })));
    let earlier = at("2026-02-28T22:30:00+01:00");
    assert_eq!(said(&[("sleep_from", "22:30")]), Some((earlier, EntryKind::Sleep { until })));
    let later = at("2026-03-01T07:15:00+01:00");
    assert_eq!(said(&[("sleep_until", "07:15")]), Some((at(from), EntryKind::Sleep { until: later })));
    let (ahead, none) = righted(&old, &[("sleep_until", "15:00")], ENGLISH);
    assert_eq!((against(&ahead)[0].0, none), ("sleep_until", None), "it has not come yet");
}

#[test]
fn what_no_person_says_has_no_form() {
    let device = SensorEvent::DeviceFault { code: crate::log::DeviceFault::General };
    for what in [
        EntryKind::SensorReading { mg_dl: mg(90.0) },
        EntryKind::Sensor(device),
        EntryKind::Import { name: text("a file") },
    ] {
        let old = entry("2026-03-01T13:00:00+01:00", what);
        assert!(!has_form(&old.what));
        let (form, said) = righted(&old, &[], ENGLISH);
        assert_eq!((form.fields.len(), form.main.as_str(), said), (0, "", None));
    }
    assert!(every().iter().all(|(_, _, what)| has_form(what)));
}

#[test]
fn a_dose_that_cannot_be_right_is_kept_and_asked_back() {
    let dose = entry("2026-03-01T14:00:00+01:00", EntryKind::Insulin { insulin: InsulinKind::Rapid, units: 30.0 });
    assert_eq!(kept(&dose, None, ENGLISH), "rapid insulin 30 units: kept in the log");
    let asked = kept(&dose, Some(Reason::DoubtfulDose { units: 30.0, minutes_ago: 0.0 }), ENGLISH);
    let lines: Vec<_> = asked.lines().collect();
    assert_eq!(lines.len(), 3, "{asked}");
    assert!(lines[1].contains("30 units") && lines[2].contains("put it right"), "{asked}");
}
