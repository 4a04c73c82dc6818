use ebbstead_core::forecast::{Ahead, Crossing, Forecast};
use ebbstead_core::log::{Carbohydrate, Entry, EntryKind, History, MeterCheck, Purpose, Reading, Source};
use ebbstead_core::time::Moment;
use ebbstead_core::units::{Glucose, GlucoseUnit};
use ebbstead_core::wearer::{Language, Wearer};

use super::*;

fn at(text: &str) -> Moment {
    Moment::parse(text).unwrap()
}

fn forecast(from: f64, slope: f64) -> Forecast {
    let ahead = |minutes: u16| Ahead {
        minutes,
        reading_mg_dl: from + slope * f64::from(minutes),
        reading_sd_mg_dl: 2.0 + f64::from(minutes) / 5.0,
        blood_mg_dl: from,
        blood_sd_mg_dl: 5.0,
    };
    let never = Crossing { line_mg_dl: 70.0, within_15: 0.0, within_30: 0.0, within_60: 0.0, expected_minutes: None };
    Forecast {
        path: (1..=24).map(|step| ahead(step * 5)).collect(),
        shift_mg_dl: 0.0,
        low: never,
        floor: never,
        high: never,
        reading_low_30: 0.0,
        low_by_point: [0.0; 12],
        floor_by_point: [0.0; 12],
    }
}

fn drawn(from: f64, slope: f64, unit: GlucoseUnit, wide_signs: bool) -> Vec<String> {
    let now = at("2026-03-01T20:15:00+01:00");
    let mg = |amount: f64| Glucose::from_mg_dl(amount).unwrap();
    let readings = (0..=24)
        .map(|back| {
            let minutes = -5.0 * f64::from(24 - back);
            Reading::new(now.plus_minutes(minutes), mg((from + slope * minutes).clamp(40.0, 400.0)))
        })
        .collect();
    let history = History {
        readings,
        meter_checks: vec![MeterCheck::new(now.plus_minutes(-30.0), mg(110.0))],
        carbohydrate: vec![Carbohydrate { at: now.plus_minutes(-60.0), grams: 15.0, purpose: Purpose::Rescue }],
        ..History::default()
    };
    let rescue = EntryKind::Carbohydrate { grams: 15.0, purpose: Purpose::Rescue };
    let noted = [Entry::new(now.plus_minutes(-60.0), now, Source::by_hand(), rescue).unwrap()];
    let (forecast, wearer) = (forecast(from, slope / 2.0), Wearer { unit, ..Wearer::default() });
    let chart = Chart::of(now, &wearer, &history, &noted, Some(&forecast), None);
    lines(&chart, Words::of(&wearer), Style { wide_signs, weight: false, width: 80 })
}

#[test]
fn every_chart_fits_eighty_columns_in_either_unit_and_either_set_of_signs() {
    for (from, slope) in [(122.0, -2.0), (55.0, -1.0), (110.0, 0.0), (380.0, 3.0), (41.0, 0.0), (250.0, -3.0)] {
        for unit in [GlucoseUnit::MgDl, GlucoseUnit::MmolL] {
            for wide_signs in [false, true] {
                let lines = drawn(from, slope, unit, wide_signs);
                assert!(lines.len() <= MOST_ROWS + 5, "{} lines", lines.len());
                for line in &lines {
                    assert!(line.trim_end().chars().count() <= 80, "{line}");
                    assert!(wide_signs || line.is_ascii(), "{line}");
                }
            }
        }
    }
}

#[test]
fn what_is_drawn_is_where_it_belongs() {
    // From 182 two hours ago to 110 now, and on to 95 in half an hour.
    let lines = drawn(110.0, -0.6, GlucoseUnit::MgDl, false);
    let text = lines.join("\n");
    for part in [
        "18:15",
        "now",
        "20:45",
        "21:15",
        "  70|- - ",
        "low line",
        "high line",
        "o reading",
        "* expected",
        "M meter check",
    ] {
        assert!(text.contains(part), "{part}\n{text}");
    }
    assert!(!text.contains("very low"), "nothing comes near it\n{text}");
    assert!(text.contains("1  19:15 carbohydrate 15 g, rescue"), "{text}");
    let row_of = |label: &str| {
        let row = lines.iter().find(|line| line.starts_with(label));
        row.unwrap_or_else(|| panic!("no row {label}\n{text}")).chars().collect::<Vec<_>>()
    };
    // The oldest reading stands in the first column, the newest in the column of the present.
    let above = |label: &str| lines[lines.iter().position(|line| line.starts_with(label)).unwrap() - 1].chars().nth(5);
    assert_eq!(above(" 180|"), Some('o'), "182 lies a row above the high line\n{text}");
    let row_110 = 1 + lines.iter().position(|line| line.starts_with(" 125|")).unwrap();
    let row_110: Vec<char> = lines[row_110].chars().collect();
    assert_eq!(row_110[5 + 40], 'o');
    assert_eq!(row_110[5 + 40 - 10], 'M');
    assert!(row_110[5 + 40 + 1..].contains(&'*'));
    assert!(row_of("  70|").contains(&':'), "the band reaches down to the low line\n{text}");
}

#[test]
fn an_empty_history_still_draws() {
    let wearer = Wearer { unit: GlucoseUnit::MmolL, language: Language::GERMAN, ..Wearer::default() };
    let history = History::default();
    let now = at("2026-03-01T20:15:00+01:00");
    let chart = Chart::of(now, &wearer, &history, &[], None, None);
    let lines = lines(&chart, Words::of(&wearer), Style { wide_signs: true, weight: false, width: 80 });
    assert!(lines.iter().any(|line| line.starts_with(" 3,9│") && line.ends_with("untere Grenze")), "{lines:?}");
}
