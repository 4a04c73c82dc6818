//! Tables of readings, as people and programs write them: what is read, what is left out, what is refused and in which words.
#![allow(clippy::unwrap_used)] // a failed test says where

use chrono::NaiveDateTime;
use proptest::prelude::*;

use ebbstead_core::exchange::csv::*;
use ebbstead_core::log::Reading;
use ebbstead_core::time::Moment;
use ebbstead_core::units::{GlucoseUnit, MG_DL_PER_MMOL_L};
use ebbstead_core::wearer::Language;
use ebbstead_core::words::Words;
use ebbstead_core::{Error, Result};
use std::io::Read;
use std::path::Path;

const WORDS: Words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);

fn options() -> Options<'static> {
    Options::found(Path::new("some.csv"), WORDS.unit())
}

fn taken_with(text: impl AsRef<[u8]>, options: &Options<'_>) -> Result<(Report, Vec<Reading>)> {
    let mut import = Import::open(text.as_ref(), options)?;
    let mut taken = Vec::new();
    while let Some(reading) = import.next_reading(|_| {})? {
        taken.push(reading);
    }
    let report = import.report();
    assert_eq!(report.taken as usize, taken.len());
    Ok((report, taken))
}

fn taken(text: impl AsRef<[u8]>) -> (Report, Vec<Reading>) {
    taken_with(text, &options()).unwrap()
}

fn refused(text: impl AsRef<[u8]>) -> String {
    taken_with(text, &options()).map_err(said).unwrap_err()
}

fn said(error: Error) -> String {
    WORDS.error(&error)
}

fn amounts(readings: &[Reading]) -> Vec<f64> {
    readings.iter().map(|reading| (reading.glucose.mg_dl() * 10.0).round() / 10.0).collect()
}

fn times(readings: &[Reading]) -> Vec<String> {
    readings.iter().map(|reading| reading.at.to_rfc3339()).collect()
}

fn codes(report: &Report) -> Vec<(u64, FindingCode)> {
    report.findings.iter().map(|finding| (finding.line, finding.code)).collect()
}

/// Central European rules of 2026: clocks forward on 29 March at 02:00, back on 25 October at 03:00.
fn central_europe(local: NaiveDateTime) -> Offsets {
    let at = |text: &str| NaiveDateTime::parse_from_str(text, "%Y-%m-%d %H:%M").unwrap();
    if local < at("2026-03-29 02:00") || local >= at("2026-10-25 03:00") {
        Offsets::One(60)
    } else if local < at("2026-03-29 03:00") {
        Offsets::Never { before: 60 }
    } else if local < at("2026-10-25 02:00") {
        Offsets::One(120)
    } else {
        Offsets::Two { before: 120, after: 60 }
    }
}

#[test]
fn the_plain_case() {
    let (report, readings) = taken("timestamp,glucose_mgdl\n2026-03-01T03:05:00,101\n2026-03-01T03:10:00,99.5\n");
    assert_eq!(amounts(&readings), [101.0, 99.5]);
    assert_eq!(times(&readings), ["2026-03-01T03:05:00+00:00", "2026-03-01T03:10:00+00:00"]);
    assert_eq!((report.taken, report.left_out, report.repeated), (2, 0, 0));
    assert_eq!((report.time_column.as_str(), report.glucose_column.as_str()), ("timestamp", "glucose_mgdl"));
    assert_eq!(report.unit, GlucoseUnit::MgDl);
    assert_eq!(report.spacing_minutes, None);
}

#[test]
fn separators_decimal_commas_and_byte_order_mark_are_found() {
    let semicolon = "\u{feff}Zeit;Gewebezucker (mmol/L);Notiz\r\n01.03.2026 03:05;5,6;a\r\n01.03.2026 03:20;5,2;\r\n";
    let (report, readings) = taken(semicolon);
    assert_eq!(amounts(&readings), [100.9, 93.7]);
    assert_eq!(report.unit, GlucoseUnit::MmolL);
    assert_eq!(times(&readings)[1], "2026-03-01T03:20:00+00:00");

    let tab = "time\tsensor glucose\n2026-03-01 03:05\t\"5,6\"\n2026-03-01 03:10\t5.5 mmol/L\n";
    assert_eq!(amounts(&taken(tab).1), [100.9, 99.1]);

    let quoted = "time,\"glucose, mmol/L\"\n2026-03-01 03:05,\"5,6\"\n";
    assert_eq!(amounts(&taken(quoted).1), [100.9]);

    let latin_1 = b"Zeit;Glukose mg/dL;Ger\xe4t\n2026-03-01 03:05;101;K\xfcche\n";
    assert_eq!(amounts(&taken(latin_1).1), [101.0]);
}

#[test]
fn a_decimal_comma_that_splits_the_cell_is_not_read_as_a_smaller_amount() {
    let (report, readings) = taken("time,mmol/L\n2026-03-01 03:05,5.5\n2026-03-01 03:10,15,6\n");
    assert_eq!(readings.len(), 1);
    assert_eq!(codes(&report), [(3, FindingCode::TooManyCells)]);
    // Empty cells at the end are common and harmless.
    assert_eq!(taken("time,mmol/L\n2026-03-01 03:05,5.5,,\n").1.len(), 1);
}

#[test]
fn columns_are_found_by_meaning_or_given() {
    let apart =
        "Device,Date,Time,Sensor glucose mg/dL,Trend rate\nx,2026-03-01,03:05,101,1\nx,2026-03-01,03:10:30,99,-1\n";
    let (report, readings) = taken(apart);
    assert_eq!(times(&readings), ["2026-03-01T03:05:00+00:00", "2026-03-01T03:10:30+00:00"]);
    assert_eq!(report.time_column, "Date + Time");

    // A date column that holds both, beside one of another kind.
    let both = "date,glucose\n2026-03-01 03:05,101\n";
    assert_eq!(taken(both).1.len(), 1);

    // The sensor goes before the meter.
    let meter_too = "time,meter glucose mg/dL,sensor glucose mg/dL\n2026-03-01 03:05,90,101\n";
    assert_eq!(amounts(&taken(meter_too).1), [101.0]);

    let two = "time,glucose a mg/dL,glucose b mg/dL\n2026-03-01 03:05,90,101\n";
    assert_eq!(
        refused(two),
        "some.csv:1: more than one column could hold the sensor's readings (glucose a mg/dL, glucose b mg/dL); say which one"
    );
    let named = Options { glucose_column: Some("Glucose B mg/dL".to_owned()), ..options() };
    assert_eq!(amounts(&taken_with(two, &named).unwrap().1), [101.0]);
    let numbered = Options { glucose_column: Some("2".to_owned()), ..options() };
    assert_eq!(amounts(&taken_with(two, &numbered).unwrap().1), [90.0]);
    let wrong = Options { glucose_column: Some("c".to_owned()), ..options() };
    let text = taken_with(two, &wrong).map_err(said).unwrap_err();
    assert_eq!(text, "some.csv:1: there is no column \"c\" (found: time, glucose a mg/dL, glucose b mg/dL)");

    assert!(refused("minute,glucose\n1,101\n").contains("no column is named like a time (found: minute, glucose)"));
    assert!(refused("time,lamp\n2026-03-01 03:05,101\n").contains("named like glucose readings (found: time, lamp)"));
}

#[test]
fn remarks_above_and_no_names_at_all() {
    let remarks = "made by a test\nfor,nobody\n\ntime,glucose\n2026-03-01 03:05,101\n2026-03-01 03:10,low\n";
    let (report, readings) = taken(remarks);
    assert_eq!(amounts(&readings), [101.0, 40.0]);
    assert_eq!(codes(&report), [(6, FindingCode::SaysLow)]);

    let nameless = "2026-03-01 03:05,101\n2026-03-01 03:10,99\n";
    let (report, readings) = taken(nameless);
    assert_eq!(amounts(&readings), [101.0, 99.0]);
    assert_eq!((report.time_column.as_str(), report.glucose_column.as_str()), ("1", "2"));
    let several = "2026-03-01 03:05,101,7\n2026-03-01 03:10,99,8\n";
    assert!(refused(several).contains("no column is named like a time"));
    let numbered = Options { glucose_column: Some("2".to_owned()), ..options() };
    assert_eq!(taken_with(several, &numbered).unwrap().1.len(), 2);
}

#[test]
fn times_in_many_ways_are_one_moment() {
    let written = [
        "2026-03-01T03:05:00Z",
        "2026-03-01T04:05:00+01:00",
        "2026-03-01 04:05:00 +0100",
        "2026-03-01T03:05:00.000Z",
        "2026-03-01 03:05",
        "2026/03/01 3:05",
        "01.03.2026 03:05",
        "1.3.26, 03:05:00",
        "03/01/2026 03:05 am",
        "1772334300",
        "1772334300000",
    ];
    for text in written {
        // A second row of the same kind that only one order of day and month can read.
        let second = if text.contains('/') && !text.starts_with("2026") { "03/31/2026 03:05 AM,99\n" } else { "" };
        let (_, readings) = taken(format!("time;glucose\n\"{text}\";101\n{}", second.replace(',', ";")));
        assert_eq!(readings[0].at.unix_ms(), 1_772_334_300_000, "{text}");
    }
    let (_, readings) = taken("time,glucose\n2026-03-01T04:05:00+01:00,101\n");
    assert_eq!(readings[0].at.offset_minutes(), 60);
}

#[test]
fn day_or_month_is_settled_by_the_order_or_asked_for() {
    let over_midnight = "time,glucose\n03/04/2026 23:55,101\n04/04/2026 00:00,99\n";
    assert_eq!(times(&taken(over_midnight).1)[0], "2026-04-03T23:55:00+00:00");
    let other_way = "time,glucose\n04/03/2026 23:55,101\n04/04/2026 00:00,99\n";
    assert_eq!(times(&taken(other_way).1)[0], "2026-04-03T23:55:00+00:00");
    let one_day = "time,glucose\n03/04/2026 03:55,101\n03/04/2026 04:00,99\n";
    let text = refused(one_day);
    assert!(text.starts_with("some.csv:2:1: in \"03/04/2026 03:55\" either number could be the day"), "{text}");
    let given = Options { time_format: Some("%m/%d/%Y %H:%M".to_owned()), ..options() };
    assert_eq!(times(&taken_with(one_day, &given).unwrap().1)[0], "2026-03-04T03:55:00+00:00");
    let broken = Options { time_format: Some("%Q".to_owned()), ..options() };
    assert!(taken_with(one_day, &broken).map_err(said).unwrap_err().contains("no way to write times"));
    let unfit = Options { time_format: Some("%Y %H:%M".to_owned()), ..options() };
    assert!(taken_with(one_day, &unfit).map_err(said).unwrap_err().contains("written in no way known here"));
    assert!(refused("time,glucose\nyesterday,101\n").contains("\"yesterday\" is written in no way known here"));
}

#[test]
fn what_cannot_be_a_reading_is_left_out_and_reported() {
    let rows =
        ["x", "-5", "0", "19", "700", "1e308", "1e999", "nan", "inf", "5.6", "low", "HIGH", "<40", "> 400", "", "--"];
    let mut text = "time,glucose mg/dL\n".to_owned();
    for (row, minute) in rows.iter().zip(10..) {
        text.push_str(&format!("2026-03-01 03:{minute},{row}\n"));
    }
    for minute in 30..50 {
        text.push_str(&format!("2026-03-01 03:{minute},101\n"));
    }
    let (report, readings) = taken(&text);
    // Four of them too low or too high to measure.
    assert_eq!((readings.len(), report.beyond()), (24, 4));
    use FindingCode::{NotANumber, OtherUnit, OutOfRange, SaysHigh, SaysLow};
    let expected = [
        NotANumber, OutOfRange, OutOfRange, OtherUnit, OutOfRange, OutOfRange, NotANumber, NotANumber, NotANumber,
        OtherUnit, SaysLow, SaysHigh, SaysLow, SaysHigh,
    ];
    assert_eq!(codes(&report), expected.iter().zip(2..).map(|(&code, line)| (line, code)).collect::<Vec<_>>());
    assert_eq!((report.left_out, report.without_reading), (10, 2));
    assert_eq!(report.counts[&OutOfRange], 4);
    let first = WORDS.finding(&report.findings[0]);
    assert_eq!(first, "line 2, column 2 (\"x\"): this is no number; left out");
    assert!(WORDS.finding(&report.findings[1]).ends_with("outside 20 to 600 mg/dL; left out"));
}

#[test]
fn too_low_and_too_high_to_measure_are_readings() {
    use ebbstead_core::log::{Beyond, Entry, EntryKind, Source};
    let rows = ["85", "LOW", "lo", "Niedrig", "<40", "< 40", "< 50 mg/dL", "HIGH", "Hi", "hoch", "> 400", ">=500"];
    let limits = [85.0, 40.0, 40.0, 40.0, 40.0, 40.0, 50.0, 400.0, 400.0, 400.0, 400.0, 500.0];
    let mut text = "time,glucose mg/dL\n".to_owned();
    for (row, minute) in rows.iter().zip(10..) {
        text.push_str(&format!("2026-03-01 03:{minute},{row}\n"));
    }
    let (report, readings) = taken(&text);
    assert_eq!(amounts(&readings), limits);
    let sides: Vec<Option<Beyond>> = readings.iter().map(|one| one.beyond).collect();
    let expected = [&[None][..], &[Some(Beyond::Below); 6], &[Some(Beyond::Above); 5]].concat();
    assert_eq!(sides, expected);
    assert_eq!((report.taken, report.left_out, report.beyond()), (12, 0, 11));
    assert_eq!((report.counts[&FindingCode::SaysLow], report.counts[&FindingCode::SaysHigh]), (6, 5));
    assert_eq!(
        WORDS.finding(&report.findings[0]),
        "line 3, column 2 (\"LOW\"): too low for the sensor to measure; taken as such a reading"
    );
    // The identity is what was read, not the word for it.
    let entry = |reading: &Reading| {
        let what = EntryKind::read_by_sensor(reading.shown());
        Entry::received(readings[0].at, readings[0].at, Source::new("sensor").unwrap(), what).unwrap().id
    };
    assert_eq!(entry(&readings[1]), entry(&readings[5]));
    assert_ne!(entry(&readings[1]), entry(&readings[6]));
    // In the file's unit, and one time twice.
    let mmol = "time,glucose mmol/L\n2026-03-01 03:05,5.6\n2026-03-01 03:10,<2.2\n2026-03-01 03:10,< 2.2\n2026-03-01 03:10,low\n";
    let (report, readings) = taken(mmol);
    assert_eq!(amounts(&readings), [100.9, 39.6, 40.0]);
    assert_eq!((report.repeated, report.counts[&FindingCode::Contradicts], report.beyond()), (1, 1, 2));
    // A limit that no instrument ends at shows neither a low nor a high.
    let (report, readings) =
        taken("time,glucose mg/dL\n2026-03-01 03:05,101\n2026-03-01 03:10,<120\n2026-03-01 03:15,>100\n");
    assert_eq!((readings.len(), report.counts[&FindingCode::OutOfRange]), (1, 2));
}

proptest! {
    /// A file with words among its amounts gives the same identities whenever it is read, and one of them an instant and reading.
    #[test]
    fn a_file_with_words_gives_the_same_identities_twice(
        cells in prop::collection::vec(
            prop_oneof![
                (40_u32..400).prop_map(|n| n.to_string()),
                Just("LOW".to_owned()),
                Just("high".to_owned()),
                (20_u32..70).prop_map(|n| format!("< {n}")),
                (180_u32..600).prop_map(|n| format!(">{n}")),
            ],
            1..60,
        ),
        later in 1_i64..1_000_000,
    ) {
        use ebbstead_core::log::{Entry, Source, EntryKind};
        let mut text = "time,glucose mg/dL\n".to_owned();
        for (k, cell) in cells.iter().enumerate() {
            text.push_str(&format!("2026-03-01 {:02}:{:02},{cell}\n", 3 + k / 12, k % 12 * 5));
        }
        let ids = |recorded: i64| -> Vec<_> {
            let (_, readings) = taken(&text);
            let entry = |one: &Reading| {
                let recorded = one.at.plus_ms(recorded);
                Entry::received(one.at, recorded, Source::new("sensor").unwrap(), EntryKind::read_by_sensor(one.shown()))
            };
            readings.iter().map(|one| entry(one).unwrap().id).collect()
        };
        let first = ids(1);
        prop_assert_eq!(first.len(), cells.len());
        prop_assert_eq!(&first, &ids(later));
        prop_assert_eq!(first.iter().collect::<std::collections::BTreeSet<_>>().len(), cells.len());
    }
}

#[test]
fn a_file_in_the_other_unit_is_refused_and_the_unit_offered() {
    let mmol = "time,glucose mg/dL\n2026-03-01 03:05,5.6\n2026-03-01 03:10,5.4\n";
    assert_eq!(
        refused(mmol),
        "some.csv:2:2: the file is said to be in mg/dL, yet values such as 5.6 look like mmol/L; \
         say that the file is in mmol/L. Nothing was taken"
    );
    let in_mmol = Options { unit: Some(GlucoseUnit::MmolL), ..options() };
    assert_eq!(amounts(&taken_with(mmol, &in_mmol).unwrap().1), [100.9, 97.3]);
    assert!(refused("time,glucose mmol/L\n2026-03-01 03:05,101\n").contains("look like mg/dL"));
    let wrong_unit = Options { unit: Some(GlucoseUnit::MmolL), ..options() };
    assert!(taken_with("time,glucose\n2026-03-01 03:05,101\n", &wrong_unit).is_err());
}

#[test]
fn a_unit_nobody_names_comes_from_the_values_or_is_asked_for() {
    assert_eq!(taken("time,glucose\n2026-03-01 03:05,5\n").0.unit, GlucoseUnit::MmolL);
    assert_eq!(taken("time,glucose\n2026-03-01 03:05,99\n").0.unit, GlucoseUnit::MgDl);
    // 25 could be a deep low in mg/dL or a high in mmol/L: never guess that.
    assert!(refused("time,glucose\n2026-03-01 03:05,25\n").contains("values such as 25 fit mg/dL as well as mmol/L"));
    assert!(refused("time,glucose\n2026-03-01 03:05,101\n2026-03-01 03:10,5.4\n").contains("say which unit"));
}

/// 300 mg/dL are 3.00 g/L; as mmol/L they would be 54 mg/dL.
#[test]
fn a_file_in_another_unit_is_refused_by_name() {
    let rows = "2026-03-01 03:05;3,00\n2026-03-01 03:10;2,41\n";
    for name in [
        "Glycemie (g/L)",
        "glucose (g/l)",
        "glucose_g_l",
        "glucose (mg/ml)",
        "glucose dg/L",
        "glucose, grams per litre",
    ] {
        let text = format!("Date;{name}\n{rows}");
        let said = refused(&text);
        assert!(said.contains("which is not read here") && said.contains(name), "{name}: {said}");
        // No option makes them mmol/L.
        let forced = Options { unit: Some(GlucoseUnit::MmolL), ..options() };
        assert!(taken_with(&text, &forced).is_err(), "{name}");
    }
    assert_eq!(amounts(&taken("time,glucose mg/100 ml\n2026-03-01 03:05,54\n").1), [54.0]);
    let haemoglobin = "time,HbA1c mmol/mol,glucose mmol/L\n2026-03-01 03:05,5.5,6.1\n";
    assert_eq!(amounts(&taken(haemoglobin).1), [109.9]);
}

#[test]
fn a_column_of_units_is_read() {
    let table = |first: &str, second: &str| {
        format!("time,glucose,unit\n2026-03-01 03:05,4.0,{first}\n2026-03-01 03:10,4.1,{second}\n")
    };
    let (report, _) = taken(table("mmol/L", "mmol/l"));
    assert_eq!((report.unit, report.taken), (GlucoseUnit::MmolL, 2));
    assert!(refused(table("g/L", "g/L")).contains("column \"unit\" says that the readings are in g/l"));
    assert!(refused(table("mmol/L", "mg/dL")).contains("says another unit than other rows"));
    assert!(refused("time,glucose mg/dL,unit\n2026-03-01 03:05,101,mmol/L\n").contains("says another unit"));
    // Of something else, or nothing.
    let insulin = "time,glucose mg/dL,insulin,unit\n2026-03-01 03:05,101,4,U\n2026-03-01 03:10,100,,\n";
    assert_eq!(taken(insulin).0.taken, 2);
    // Behind what is looked at first.
    let mut long = "time,glucose,unit\n".to_owned();
    for n in 0..5000 {
        long.push_str(&format!("2026-03-{:02} {:02}:{:02},7.{},mmol/L\n", 1 + n / 1440, n / 60 % 24, n % 60, n % 10));
    }
    long.push_str("2026-03-20 00:00,2.9,g/L\n");
    assert_eq!(codes(&taken(long).0), [(5002, FindingCode::NamesOtherUnit)]);
}

#[test]
fn where_no_unit_is_named_what_may_be_grams_per_litre_is_asked_for() {
    let text = "time,glucose\n2026-03-01 03:05,1.70\n2026-03-01 03:10,1.62\n2026-03-01 03:15,5.5\n";
    assert!(refused(text).contains("no unit is named, and values such as 1.70 would all be low in mmol/L"));
    let said = Options { unit: Some(GlucoseUnit::MmolL), ..options() };
    assert_eq!(amounts(&taken_with(text, &said).unwrap().1)[..1], [30.6]);
    assert_eq!(taken(text.replace("glucose", "glucose mmol/L")).0.taken, 3);
    assert_eq!(taken("time,glucose\n2026-03-01 03:05,2.9\n2026-03-01 03:10,4.9\n2026-03-01 03:15,5.5\n").0.taken, 3);
}

#[test]
fn the_lowest_a_meter_shows_is_taken() {
    let (report, readings) = taken("time,glucose mmol/L\n2026-03-01 03:05,1.1\n2026-03-01 03:10,1.0\n");
    assert_eq!((amounts(&readings), report.left_out), (vec![20.0], 1));
}

#[test]
fn a_time_named_as_utc_is_utc() {
    let zone = |text: &str| {
        let local = Options { zone: Zone::Fixed(-300), ..options() };
        times(&taken_with(text, &local).unwrap().1)
    };
    for name in ["UTC time", "time (UTC)", "time_gmt", "Timestamp UTC"] {
        assert_eq!(
            zone(&format!("{name},glucose mg/dL\n2026-03-01 03:05,101\n")),
            ["2026-03-01T03:05:00+00:00"],
            "{name}"
        );
    }
    let placed = ["2026-03-01T03:05:00+01:00"];
    assert_eq!(zone("time UTC+1,glucose mg/dL\n2026-03-01 03:05,101\n"), placed);
    assert_eq!(zone("time (GMT+01:00),glucose mg/dL\n2026-03-01 03:05,101\n"), placed);
    // Beside a local time, on either side of it.
    assert_eq!(zone("time,time_utc,glucose mg/dL\n2026-03-01 03:05,2026-03-01 02:05,101\n"), placed);
    assert_eq!(zone("time_utc,time,glucose mg/dL\n2026-03-01 02:05:20,2026-03-01 03:05,101\n"), placed);
    assert_eq!(zone("time,utc offset,glucose mg/dL\n2026-03-01 03:05,+01:00,101\n"), placed);
    assert_eq!(zone("time,utc_offset_minutes,glucose mg/dL\n2026-03-01 03:05,60,101\n"), placed);
    assert_eq!(zone("time,time zone,glucose mg/dL\n2026-03-01 03:05,+01:00,101\n"), placed);
    let place = "time,time zone,glucose mg/dL\n2026-03-01 03:05,Somewhere/Else,101\n";
    assert_eq!(zone(place), ["2026-03-01T03:05:00-05:00"]);
    // What the time says itself goes first.
    assert_eq!(zone("time (UTC),glucose mg/dL\n2026-03-01T03:05:00+01:00,101\n"), placed);
    let bad = refused("time,utc offset,glucose mg/dL\n2026-03-01 03:05,east,101\n");
    assert!(bad.contains("column \"utc offset\" holds offsets from UTC, and \"east\" cannot be read"), "{bad}");
    let late = "time,utc offset,glucose mg/dL\n2026-03-01 03:05,1,101\n2026-03-01 03:10,,100\n";
    assert_eq!(zone(late), ["2026-03-01T03:05:00+01:00", "2026-03-01T03:10:00-05:00"]);
}

#[test]
fn a_quotation_mark_that_is_not_closed_takes_no_rows_with_it() {
    for name in ["time,glucose mg/dL,note", "time,note,glucose mg/dL"] {
        let mut text = format!("{name}\n");
        for n in 0..8000 {
            let note = match n {
                299 => "\"felt odd",
                6000 => "\"again\nover two lines, and closed\"",
                7000 => "\"closed\"",
                _ => "",
            };
            let (at, amount) = (format!("2026-03-{:02} {:02}:{:02}", 1 + n / 1440, n / 60 % 24, n % 60), 90 + n % 50);
            let row = if name.ends_with("note") {
                format!("{at},{amount},{note}\n")
            } else {
                format!("{at},{note},{amount}\n")
            };
            text.push_str(&row);
        }
        let (report, readings) = taken(&text);
        assert!(codes(&report).contains(&(301, FindingCode::OpenQuote)), "{:?}", codes(&report));
        // The row itself is lost only where the quotation mark stands before its reading, and is reported.
        assert!(readings.len() >= 7997, "{}", readings.len());
        // The second line of the note that the open quotation mark tore apart is no row.
        assert!((8000..=8001).contains(&(report.taken + report.left_out)), "{:?}", codes(&report));
        // A note over two lines is no open quotation mark.
        let (report, _) = taken(text.replace("\"felt odd", ""));
        assert_eq!((report.taken, codes(&report)), (8000, vec![]));
    }
    // At the end of the file.
    let (report, _) =
        taken("time,glucose mg/dL,note\n2026-03-01 03:05,101,\"odd\n2026-03-01 03:10,99,\n2026-03-01 03:15,98,\n");
    assert_eq!((report.taken, codes(&report)), (3, vec![(2, FindingCode::OpenQuote)]));
}

#[test]
fn two_sensors_are_no_single_trace() {
    let row = |n: u32, sensor: &str| format!("2026-03-01 {:02}:{:02},{sensor},{}\n", n / 60, n % 60, 100 + n % 7);
    let mixed: String = (0..120).map(|n| row(n * 5, if n % 2 == 0 { "A" } else { "B" })).collect();
    for name in ["sensor", "device", "Serial Number"] {
        let said = refused(format!("time,{name},glucose mg/dL\n{mixed}"));
        assert!(said.starts_with("some.csv:4:2: ") && said.contains("read at the same time (B, A)"), "{said}");
    }
    // One after the other.
    let changed: String = (0..120).map(|n| row(n * 5, if n < 60 { "A" } else { "B" })).collect();
    assert_eq!(taken(format!("time,sensor,glucose mg/dL\n{changed}")).0.taken, 120);
    // A number of the sensor's own is no name.
    let warmth: String = (0..120).map(|n| row(n * 5, if n % 2 == 0 { "33.1" } else { "33.4" })).collect();
    assert_eq!(taken(format!("time,sensor temperature,glucose mg/dL\n{warmth}")).0.taken, 120);
}

#[test]
fn what_is_worked_out_or_measured_by_a_meter_is_no_reading() {
    for name in ["predicted glucose", "target glucose", "average glucose mg/dL", "glucose forecast", "ketones mmol/L"] {
        assert!(
            refused(format!("time,{name}\n2026-03-01 03:05,7.1\n")).contains("no column is named like glucose"),
            "{name}"
        );
    }
    let both = "time,predicted glucose,glucose mg/dL\n2026-03-01 03:05,80,101\n";
    assert_eq!(amounts(&taken(both).1), [101.0]);
    let meter = "time,meter glucose mg/dL\n2026-03-01 03:05,101\n";
    assert!(refused(meter).contains("named as a meter"));
    let named = Options { glucose_column: Some("meter glucose mg/dL".to_owned()), ..options() };
    assert_eq!(taken_with(meter, &named).unwrap().0.taken, 1);
}

#[test]
fn empty_files_and_files_that_are_no_tables() {
    assert_eq!(refused(""), "some.csv:1: the file is empty; nothing was taken");
    assert_eq!(refused(" \n\n"), "some.csv:1: the file is empty; nothing was taken");
    assert!(refused("time,glucose\n").contains("no readings below them"));
    assert!(refused("time,glucose\n,\n").contains("no readings below them"));
    assert!(refused(b"\xff\xfet\0i\0").contains("UTF-16"));
    assert!(refused(b"SQLite format 3\0").contains("no table of text"));
    assert!(refused("a letter to nobody\nwith two lines\n").contains("no column is named like a time"));
}

#[test]
fn a_quotation_mark_that_never_closes_does_not_swallow_memory() {
    let mut text = "time,glucose\n2026-03-01 03:05,101\n\"2026-03-01 03:10,99\n".to_owned();
    for _ in 0..150_000 {
        text.push_str("2026-03-01 03:15,98\n");
    }
    let error = taken_with(&text, &options()).map_err(said).unwrap_err();
    assert_eq!(
        error,
        "some.csv:3: this row is longer than 1 MB, the limit for one; look for a quotation mark that is never closed"
    );
    let endless = vec![b'x'; 3 << 20];
    assert!(refused(endless).contains("longer than 1 MB"));
}

/// Wherever it stands: as the names of the columns, right below them, where nothing else shows how readings are written, or later.
#[test]
fn a_row_that_is_too_long_is_named_wherever_it_stands() {
    let row = |bytes: usize| format!("2026-03-01 03:10,99,{}\n", "x".repeat(bytes));
    let (names, first, last) = ("time,glucose,note\n", "2026-03-01 03:05,101,\n", "2026-03-01 03:15,98,\n");
    let too_long = row(30 << 20);
    for (line, text) in [
        (1, format!("{},time,glucose\n{first}", "x".repeat(30 << 20))),
        (2, format!("{names}{too_long}{last}")),
        (2, format!("{names}{too_long}")),
        (3, format!("{names}\n{too_long}{last}")),
        (3, format!("{names}{first}{too_long}{last}")),
        (4, format!("a remark\n{names}{first}{too_long}")),
    ] {
        let error = taken_with(&text, &options()).map_err(said).unwrap_err();
        assert!(error.starts_with(&format!("some.csv:{line}: this row is longer than 1 MB")), "{error}");
    }
    // One that is shorter than that is taken, however little of the file is looked at first.
    for text in [format!("{names}{}{last}", row(900 << 10)), format!("{names}{last}{}", row(900 << 10))] {
        assert_eq!(taken(text).1.len(), 2);
    }
}

#[test]
fn rows_too_short_or_with_bad_times_are_reported() {
    let text = "time,note,glucose\n2026-03-01 03:05,a,101\n2026-03-01 03:10\n,b,99\nlunch,b,99\n1999-12-31 23:00,,99\n2026-02-30 10:00,,99\n";
    let (report, readings) = taken(text);
    assert_eq!(readings.len(), 1);
    use FindingCode::{NoTime, TimeOutsideYears, TimeUnreadable, TooFewCells};
    assert_eq!(
        codes(&report),
        [(3, TooFewCells), (4, NoTime), (5, TimeUnreadable), (6, TimeOutsideYears), (7, TimeUnreadable)]
    );
}

#[test]
fn the_future_is_left_out_beyond_ten_minutes() {
    let now = Moment::parse("2026-03-01T03:00:00Z").unwrap();
    let with_clock = Options { now: Some(now), ..options() };
    let text = "time,glucose\n2026-03-01 03:09,101\n2026-03-01 03:11,99\n";
    let (report, readings) = taken_with(text, &with_clock).unwrap();
    assert_eq!(readings.len(), 1);
    assert_eq!(codes(&report), [(3, FindingCode::InFuture)]);
    assert_eq!(taken(text).1.len(), 2);
}

/// Which of two is wrong cannot be known, and an hour decides whether a low is over.
#[test]
fn an_offset_that_contradicts_the_time_beside_it_is_left_out_and_named() {
    use FindingCode::OffsetContradicts;
    for (text, column) in [
        ("local time,time utc,offset,glucose mg/dL\n2026-03-01 10:00,2026-03-01 08:00,+01:00,101\n", 3),
        ("local time,time utc,glucose mg/dL\n2026-03-01 10:00,2026-03-01 08:03,101\n", 2),
        ("time,time utc,glucose mg/dL\n2026-03-01 10:00+01:00,2026-03-01 08:00,101\n", 2),
        ("time,offset,glucose mg/dL\n2026-03-01 10:00+01:00,+05:00,101\n", 2),
    ] {
        let (report, readings) = taken(text);
        assert_eq!((readings.len(), report.left_out, codes(&report)), (0, 1, vec![(2, OffsetContradicts)]), "{text}");
        assert_eq!(report.findings[0].column, Some(column), "{text}");
    }
    // One bad row takes no other with it; and beside a time in UTC the wearer's own offset contradicts nothing.
    for text in [
        "local time,time utc,offset,glucose mg/dL\n2026-03-01 10:00,2026-03-01 09:00,+01:00,101\n",
        "time,offset,glucose mg/dL\n2026-03-01T09:00:00Z,+01:00,101\n",
        "time (UTC),offset,glucose mg/dL\n2026-03-01 09:00,+01:00,101\n",
        "time,offset,glucose mg/dL\n2026-03-01 10:00+01:00,+01:00,101\n2026-03-01 10:05+01:00,+02:00,101\n",
    ] {
        let (_, readings) = taken(text);
        assert_eq!((readings.len(), readings[0].at.unix_ms()), (1, 1_772_355_600_000), "{text}");
    }
    // No clock is a day from UTC.
    assert!(refused("time,glucose mg/dL\n2026-03-01T10:00+25:00,103\n").contains("2026-03-01T10:00+25:00"));
}

#[test]
fn order_repeats_and_contradictions() {
    let text = "time,glucose\n2026-03-01 03:10,99\n2026-03-01 03:05,101\n2026-03-01 03:10,99\n2026-03-01 03:05,98\n2026-03-01 03:15,97\n2026-03-01 03:20,97\n";
    let (report, readings) = taken(text);
    assert_eq!(amounts(&readings), [99.0, 101.0, 98.0, 97.0, 97.0]);
    assert_eq!(report.repeated, 1);
    assert_eq!(codes(&report), [(5, FindingCode::Contradicts)]);
    assert_eq!(report.first.unwrap().clock(), "03:05");
    assert_eq!(report.last.unwrap().clock(), "03:20");
    assert_eq!(report.spacing_minutes, Some(5));
}

/// Every 5 minutes from 01:55 over both passes of the repeated hour to 03:05, the amount counting up.
fn night_of_two_half_past_twos(newest_first: bool) -> String {
    let mut rows: Vec<(String, u32)> = Vec::new();
    let mut amount = 100;
    for (hour, from) in [(1, 55), (2, 0), (2, 0), (3, 0)] {
        for minute in (from..60).step_by(5).take_while(|&m| hour != 3 || m <= 5) {
            rows.push((format!("2026-10-25 0{hour}:{minute:02}"), amount));
            amount += 1;
        }
    }
    if newest_first {
        rows.reverse();
    }
    let rows: String = rows.iter().map(|(time, amount)| format!("{time},{amount}\n")).collect();
    format!("time,glucose\n{rows}")
}

#[test]
fn the_night_of_two_half_past_twos_with_a_place() {
    for newest_first in [false, true] {
        let placed = Options { zone: Zone::Changing(&central_europe), ..options() };
        let (report, mut readings) = taken_with(night_of_two_half_past_twos(newest_first), &placed).unwrap();
        assert_eq!(report.findings, []);
        if newest_first {
            readings.reverse();
        }
        assert_eq!(readings.len(), 27);
        for (one, next) in readings.iter().zip(&readings[1..]) {
            assert!((next.at.minutes_since(one.at) - 5.0).abs() < 1e-9, "{} {}", one.at, next.at);
        }
        assert_eq!(times(&readings)[7], "2026-10-25T02:30:00+02:00");
        assert_eq!(times(&readings)[19], "2026-10-25T02:30:00+01:00");
    }
}

/// Once an hour, the hour that was twice is one time twice, whichever end of the night the file begins with.
#[test]
fn hourly_readings_over_the_night_the_clocks_go_back() {
    let placed = Options { zone: Zone::Changing(&central_europe), ..options() };
    let mut rows =
        ["01:00,100", "02:00,110", "02:00,120", "03:00,130", "04:00,140"].map(|row| format!("2026-10-25 {row}\n"));
    for newest_first in [false, true] {
        let (report, mut readings) = taken_with(format!("time,glucose\n{}", rows.concat()), &placed).unwrap();
        assert_eq!(report.findings, []);
        if newest_first {
            readings.reverse();
        }
        for (one, next) in readings.iter().zip(&readings[1..]) {
            assert!((next.at.minutes_since(one.at) - 60.0).abs() < 1e-9, "{} {}", one.at, next.at);
        }
        assert_eq!(amounts(&readings), [100.0, 110.0, 120.0, 130.0, 140.0]);
        rows.reverse();
    }
    // Where readings come more often, one time twice is one time twice.
    let often =
        "time,glucose\n2026-10-25 02:00,100\n2026-10-25 02:05,110\n2026-10-25 02:05,120\n2026-10-25 02:10,130\n";
    let (report, _) = taken_with(often, &placed).unwrap();
    assert_eq!(codes(&report), [(4, FindingCode::Contradicts)]);
}

#[test]
fn the_night_of_two_half_past_twos_with_a_fixed_offset() {
    let fixed = Options { zone: Zone::Fixed(120), ..options() };
    let (report, readings) = taken_with(night_of_two_half_past_twos(false), &fixed).unwrap();
    assert_eq!(codes(&report), [(15, FindingCode::ClockWentBack)]);
    for (one, next) in readings.iter().zip(&readings[1..]) {
        assert!((next.at.minutes_since(one.at) - 5.0).abs() < 1e-9, "{} {}", one.at, next.at);
    }
    assert_eq!(times(&readings)[19], "2026-10-25T02:30:00+01:00");
    assert_eq!(times(&readings)[26], "2026-10-25T03:05:00+01:00");
}

#[test]
fn a_single_row_out_of_order_is_no_clock_change() {
    let text = "time,glucose\n2026-10-25 02:45,101\n2026-10-25 02:50,102\n2026-10-25 02:05,90\n2026-10-25 02:55,103\n2026-10-25 03:00,104\n";
    let (report, readings) = taken(text);
    assert_eq!(report.findings, []);
    assert!(readings.iter().all(|reading| reading.at.offset_minutes() == 0));
}

#[test]
fn an_hour_the_clocks_skipped_keeps_the_old_offset() {
    let placed = Options { zone: Zone::Changing(&central_europe), ..options() };
    let text = "time,glucose\n2026-03-29 01:55,101\n2026-03-29 02:30,102\n2026-03-29 03:05,103\n";
    let (report, readings) = taken_with(text, &placed).unwrap();
    assert_eq!(codes(&report), [(3, FindingCode::HourThatNeverWas)]);
    assert_eq!(times(&readings)[1], "2026-03-29T02:30:00+01:00");
    assert_eq!(times(&readings)[2], "2026-03-29T03:05:00+02:00");
}

#[test]
fn a_long_file_streams_and_reports_progress() {
    struct Endless {
        left: u32,
        rest: Vec<u8>,
    }
    impl Read for Endless {
        fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
            if self.rest.is_empty() && self.left > 0 {
                self.left -= 1;
                let at = chrono::DateTime::from_timestamp(1_600_000_000 + 300 * i64::from(self.left), 0).unwrap();
                self.rest = format!("{},{}\n", at.format("%Y-%m-%dT%H:%M:%SZ"), 80 + self.left % 100).into_bytes();
            }
            let count = self.rest.len().min(buffer.len());
            buffer[..count].copy_from_slice(&self.rest[..count]);
            self.rest.drain(..count);
            Ok(count)
        }
    }
    let mut bytes = Vec::new();
    let input = Endless { left: 200_000, rest: b"time,glucose\n".to_vec() };
    let options = options();
    let mut import = Import::open(input, &options).unwrap();
    let on_event = |event: Event<'_>, bytes: &mut Vec<u64>| match event {
        Event::Progress(read) => bytes.push(read),
        Event::Found(finding) => panic!("{finding:?}"),
    };
    while import.next_reading(|event| on_event(event, &mut bytes)).unwrap().is_some() {}
    assert_eq!(import.report().taken, 200_000);
    assert!(bytes.len() >= 4 && bytes.windows(2).all(|pair| pair[0] < pair[1]), "{bytes:?}");
}

#[test]
fn rows_come_one_by_one_with_their_lines_even_if_left_out() {
    let options = options();
    let text = "timestamp,glucose_mgdl\n2026-03-01T03:05:00,101\n\n2026-03-01T03:10:00,700\n2026-03-01T03:15:00,98\n";
    let mut rows = Rows::open(text.as_bytes(), &options).unwrap();
    let mut all = Vec::new();
    while let Some(row) = rows.next_row().unwrap() {
        all.push((row.line, row.given_mg_dl, row.at.unwrap().clock(), row.outcome == Outcome::LeftOut));
    }
    let expected = [(2, 101.0, "03:05", false), (4, 700.0, "03:10", true), (5, 98.0, "03:15", false)];
    assert_eq!(all, expected.map(|(line, given, clock, out)| (line, Some(given), clock.to_owned(), out)));
}

#[test]
fn lines_are_counted_as_an_editor_counts_them() {
    for end in ["\n", "\r\n", "\r"] {
        let lines = [
            "time,glucose,note",
            "2026-03-01 03:05,x,",
            "",
            "2026-03-01 03:10,x,",
            "2026-03-01 03:15,101,\"a",
            "b\"",
            "2026-03-01 03:20,x,",
        ];
        let (report, _) = taken(lines.join(end));
        let found: Vec<u64> = report.findings.iter().map(|finding| finding.line).collect();
        assert_eq!(found, [2, 4, 7], "{end:?}");
    }
    // Over the edges of the reader's buffers too.
    let mut text = "time,glucose\r\n".to_owned();
    for minute in 0..20_000 {
        let time = 1_772_334_300 + 60 * minute;
        text.push_str(&format!("{time},101\r\n{time},x\r\n"));
    }
    let options = options();
    let (mut import, mut lines) = (Import::open(text.as_bytes(), &options).unwrap(), Vec::new());
    let on_event = |event: Event<'_>, lines: &mut Vec<u64>| {
        if let Event::Found(finding) = event {
            lines.push(finding.line);
        }
    };
    while import.next_reading(|event| on_event(event, &mut lines)).unwrap().is_some() {}
    assert_eq!(lines.len(), 20_000);
    assert!(lines.iter().zip(0..).all(|(&line, row)| line == 2 * row + 3));
}

proptest! {
    #[test]
    fn no_bytes_make_it_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        let _ = taken_with(&bytes, &options());
    }

    #[test]
    fn no_text_below_names_makes_it_panic(text in "[0-9a-zA-Z:,;./\"\\-\\n <>+]{0,200}") {
        let _ = taken_with(format!("time,glucose\n{text}"), &options());
        let _ = taken_with(format!("time;glucose;mg/dL\n2026-10-25 02:30;101\n{text}"), &options());
    }

    /// Every row is accounted for, whatever is in it.
    #[test]
    fn every_row_is_accounted_for(cells in proptest::collection::vec(("[0-9T: -]{0,20}", "[0-9.a-z-]{0,6}"), 1..60)) {
        let mut text = "time,glucose mg/dL\n2026-03-01 03:05,101\n".to_owned();
        for (time, amount) in &cells {
            text.push_str(&format!("{time},{amount}\n"));
        }
        if let Ok((report, _)) = taken_with(&text, &options()) {
            let blank = cells.iter().filter(|(t, a)| t.trim().is_empty() && a.trim().is_empty()).count() as u64;
            let rows = report.taken + report.repeated + report.left_out + report.without_reading;
            prop_assert_eq!(rows + blank, cells.len() as u64 + 1);
        }
    }

    /// What is written is read back, in every separator, unit and way of writing times.
    #[test]
    fn what_is_written_is_read_back(
        start in 946_684_800_i64..4_000_000_000,
        steps in proptest::collection::vec((1_i64..40, 40_u32..=400), 1..80),
        separator in prop_oneof![Just(','), Just(';'), Just('\t')],
        mmol in any::<bool>(),
        offset in -12_i32..=14,
        way in 0_usize..4,
    ) {
        let mut at = start / 60 * 60;
        let mut written = Vec::new();
        let unit = if mmol { "mmol/L" } else { "mg/dL" };
        let mut text = format!("time{separator}glucose {unit}\n");
        for (step, amount) in steps {
            at += step * 60;
            let moment = Moment::new(at * 1000, offset * 60).unwrap();
            let local = moment.local();
            let time = match way {
                0 => moment.to_rfc3339(),
                1 => local.format("%Y-%m-%d %H:%M").to_string(),
                2 => local.format("%d.%m.%Y %H:%M:%S").to_string(),
                _ => (at * 1000).to_string(),
            };
            let amount = if mmol { format!("{:.1}", f64::from(amount) / MG_DL_PER_MMOL_L) } else { amount.to_string() };
            text.push_str(&format!("{time}{separator}{amount}\n"));
            let amount: f64 = amount.parse().unwrap();
            written.push((at * 1000, if mmol { amount * MG_DL_PER_MMOL_L } else { amount }));
        }
        let options = Options { zone: Zone::Fixed(offset * 60), ..options() };
        let (report, readings) = taken_with(&text, &options).unwrap();
        prop_assert_eq!(report.findings, vec![]);
        prop_assert_eq!(readings.len(), written.len());
        for (reading, (instant, amount)) in readings.iter().zip(written) {
            prop_assert_eq!(reading.at.unix_ms(), instant);
            prop_assert!((reading.glucose.mg_dl() - amount).abs() < 1e-9);
            if way != 3 {
                prop_assert_eq!(reading.at.offset_minutes(), offset * 60);
            }
        }
    }
}
