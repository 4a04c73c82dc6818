use std::collections::{BTreeMap, HashMap, HashSet};

use super::super::plot::Plot;
use super::super::{HourPercentiles, Line, Noted, PathPoint, Tick};
use super::*;
use crate::time::Moment;
use crate::units::GlucoseUnit;
use crate::wearer::{Language, Wearer};
use crate::words::{Label, Words};

/// As wide, in points, as phones held upright and across, tablets, a watch; and far too narrow.
const WIDTHS: [f64; 9] = [1.0, 24.0, 60.0, 150.0, 320.0, 358.0, 430.0, 844.0, 1_366.0];
/// Type from the smallest to the largest that phones have.
const TYPES: [f64; 6] = [8.0, 12.0, 13.0, 20.0, 37.2, 60.0];

fn sheet(width: f64, type_size: f64) -> Sheet {
    Sheet { width, height: None, type_size, widths: BTreeMap::new() }
}

/// A fall from `from` by `slope` a minute, with both futures, a meter check, and so many things noted at one time.
fn falling(from: f64, slope: f64, language: Language, unit: GlucoseUnit, notes: usize) -> Chart {
    let now = Moment::parse("2026-03-01T20:15:00+01:00").unwrap();
    let wearer = Wearer { unit, language, ..Wearer::default() };
    let words = Words::of(&wearer);
    let mut chart = Chart::of(now, &wearer, &crate::log::History::default(), &[], None, None);
    let held = |mg_dl: f64| mg_dl.clamp(30.0, 400.0);
    chart.readings = (0..=24)
        .map(|step| -120.0 + 5.0 * f64::from(step))
        .map(|minutes| Point { minutes, mg_dl: held(from + slope * minutes) })
        .collect();
    chart.meters = vec![Point { minutes: -30.0, mg_dl: held(from - 30.0 * slope + 9.0) }];
    chart.path = (0..=12)
        .map(|step| 5.0 * f64::from(step))
        .map(|minutes| {
            let mg_dl = from + slope * minutes;
            PathPoint { minutes, mg_dl: held(mg_dl), p5_mg_dl: held(mg_dl - minutes), p95_mg_dl: held(mg_dl + minutes) }
        })
        .collect();
    chart.treated = chart
        .path
        .iter()
        .map(|one| Point { minutes: one.minutes, mg_dl: held(one.mg_dl + 0.7 * one.minutes) })
        .collect();
    let line =
        |mg_dl: f64, which| Line { mg_dl, which, text: format!("{} {}", words.label(which), words.amount(mg_dl)) };
    chart.lines = vec![line(70.0, Label::LowLine), line(54.0, Label::FloorLine), line(180.0, Label::HighLine)];
    let named = [Label::Reading, Label::MeterCheck, Label::IfWaiting, Label::NineInTen, Label::IfTreating];
    chart.legend = named.map(|label| words.label(label)).to_vec();
    chart.noted = (0..notes).map(|nth| Noted { minutes: -40.0, text: format!("note {nth}") }).collect();
    let ends = chart
        .path
        .iter()
        .flat_map(|one| [one.p5_mg_dl, one.p95_mg_dl])
        .chain(chart.readings.iter().map(|one| one.mg_dl));
    let (least, most) = ends.fold((54.0, 180.0_f64), |(a, b): (f64, f64), one| (a.min(one), b.max(one)));
    chart.amounts = super::super::scale((least, most), words);
    chart.lowest_mg_dl = chart.amounts.first().unwrap().value;
    chart.highest_mg_dl = chart.amounts.last().unwrap().value;
    chart
}

fn charts() -> Vec<Chart> {
    let mut all = Vec::new();
    for (from, slope) in
        [(122.0, -2.0), (62.0, -1.2), (110.0, 0.0), (380.0, 3.0), (41.0, 0.0), (72.0, -0.4), (176.0, 0.1)]
    {
        for (language, unit, notes) in [
            (Language::ENGLISH, GlucoseUnit::MgDl, 0),
            (Language::GERMAN, GlucoseUnit::MmolL, 3),
            (Language::GERMAN, GlucoseUnit::MgDl, 30),
        ] {
            all.push(falling(from, slope, language, unit, notes));
        }
    }
    all
}

fn day(posts: Vec<HourPercentiles>) -> DayChart {
    let words = Words::of(&Wearer { language: Language::GERMAN, ..Wearer::default() });
    let line =
        |mg_dl: f64, which| Line { mg_dl, which, text: format!("{} {}", words.label(which), words.amount(mg_dl)) };
    DayChart {
        lowest_mg_dl: 40.0,
        highest_mg_dl: 260.0,
        posts,
        lines: vec![line(54.0, Label::FloorLine), line(70.0, Label::LowLine), line(180.0, Label::HighLine)],
        amounts: [50.0, 100.0, 150.0, 200.0, 250.0].map(|value| Tick { value, text: format!("{value}") }).to_vec(),
        times: [0.0, 6.0, 12.0, 18.0, 24.0].map(|value| Tick { value, text: format!("{value:02}:00") }).to_vec(),
        legend: "a post".to_owned(),
        text: "in words".to_owned(),
    }
}

fn post(hour: u32, [p10_mg_dl, p25_mg_dl, p50_mg_dl, p75_mg_dl, p90_mg_dl]: [f64; 5]) -> HourPercentiles {
    HourPercentiles { hours: f64::from(hour) + 0.5, p10_mg_dl, p25_mg_dl, p50_mg_dl, p75_mg_dl, p90_mg_dl }
}

fn days() -> Vec<DayChart> {
    let every = |ends: [f64; 5]| (0..24).map(|hour| post(hour, ends.map(|end| end + 2.0 * f64::from(hour)))).collect();
    vec![
        day(every([60.0, 90.0, 120.0, 150.0, 190.0])),
        day(vec![post(23, [22.0, 40.0, 52.0, 300.0, 420.0])]),
        day(vec![post(0, [100.0; 5])]),
        day(Vec::new()),
    ]
}

/// Every chart on every sheet.
fn drawings() -> Vec<(Sheet, Drawing)> {
    let mut all = Vec::new();
    for width in WIDTHS {
        for type_size in TYPES {
            let sheet = sheet(width, type_size);
            all.extend(charts().iter().map(|chart| (sheet.clone(), chart.on(&sheet))));
            all.extend(days().iter().map(|day| (sheet.clone(), day.on(&sheet))));
        }
    }
    all
}

/// The boxes of its texts, as wide as a phone's letters are taken to be.
fn boxes(sheet: &Sheet, drawing: &Drawing) -> Vec<(String, Area)> {
    let ticks = [Tick { value: 0.0, text: "0".to_owned() }];
    let Some(plot) = Plot::on(sheet, &ticks, (0.0, 1.0), (0.0, 1.0), 1.0) else { return Vec::new() };
    let texts = drawing.marks.iter().filter_map(|mark| match &mark.shape {
        MarkShape::Text { text, at, anchor, size, .. } => {
            Some((text.clone(), plot.boxed(plot.long(text, *size), *at, *anchor, *size)))
        }
        _ => None,
    });
    texts.collect()
}

fn points(shape: &MarkShape) -> Vec<SheetPoint> {
    match shape {
        MarkShape::Line { points, .. } | MarkShape::Area { points } => points.clone(),
        MarkShape::Dot { at, .. } | MarkShape::Text { at, .. } => vec![*at],
    }
}

#[test]
fn everything_lies_on_the_sheet_at_every_size() {
    for (sheet, drawing) in drawings() {
        let (wide, high) = (-0.01..=drawing.width + 0.01, -0.01..=drawing.height + 0.01);
        for mark in &drawing.marks {
            // A meter check at the very edge of the time shown reaches as far as its cross over it.
            let reach = if mark.role == Role::Meter { CROSS } else { 0.0 };
            for place in points(&mark.shape) {
                let inside = (*wide.start() - reach..=*wide.end() + reach).contains(&place.x)
                    && (*high.start() - reach..=*high.end() + reach).contains(&place.y);
                assert!(inside, "{mark:?} on {} by {}", drawing.width, drawing.height);
            }
        }
        for (text, area) in boxes(&sheet, &drawing) {
            let inside = wide.contains(&area.left)
                && wide.contains(&area.right)
                && high.contains(&area.top)
                && high.contains(&area.foot);
            assert!(inside, "{text} {area:?} on {} by {}, type {}", drawing.width, drawing.height, sheet.type_size);
        }
    }
}

#[test]
fn no_word_stands_on_another_at_any_size() {
    for (sheet, drawing) in drawings() {
        let boxes = boxes(&sheet, &drawing);
        for (nth, (text, one)) in boxes.iter().enumerate() {
            for (other_text, other) in &boxes[nth + 1..] {
                let apart = one.right <= other.left + 0.01
                    || other.right <= one.left + 0.01
                    || one.foot <= other.top + 0.01
                    || other.foot <= one.top + 0.01;
                assert!(apart, "{text} on {other_text}, {} wide, type {}", drawing.width, sheet.type_size);
            }
        }
    }
}

/// A legend alone would leave the eye to match dashes.
#[test]
fn lines_and_futures_bear_their_names_on_the_drawing() {
    for width in [320.0, 358.0, 430.0, 844.0] {
        for type_size in [8.0, 12.0, 13.0] {
            for chart in charts() {
                let drawing = chart.on(&sheet(width, type_size));
                let missing: Vec<Role> =
                    drawing.legend.iter().filter(|one| !one.on_drawing).map(|one| one.role).collect();
                for role in [Role::Low, Role::High, Role::Path, Role::Treated] {
                    assert!(!missing.contains(&role), "{role:?} on {width}, type {type_size}: {:?}", chart.legend);
                }
            }
        }
    }
}

#[test]
fn a_name_is_on_the_drawing_exactly_where_it_says_so() {
    for (_, drawing) in drawings() {
        for item in &drawing.legend {
            let written = drawing.marks.iter().any(|mark| {
                mark.role == item.role && matches!(&mark.shape, MarkShape::Text { text, .. } if *text == item.name)
            });
            assert_eq!(written, item.on_drawing, "{}", item.name);
        }
    }
}

#[test]
fn every_reading_is_drawn_in_proportion() {
    let chart = falling(122.0, -0.4, Language::ENGLISH, GlucoseUnit::MgDl, 0);
    let drawing = chart.on(&sheet(358.0, 12.0));
    let dots: Vec<SheetPoint> = drawing
        .marks
        .iter()
        .filter_map(|mark| if let MarkShape::Dot { at, .. } = mark.shape { Some(at) } else { None })
        .collect();
    assert_eq!(dots.len(), chart.readings.len());
    let scale: Vec<f64> = dots
        .windows(2)
        .zip(chart.readings.windows(2))
        .map(|(dots, readings)| (dots[1].y - dots[0].y) / (readings[0].mg_dl - readings[1].mg_dl))
        .collect();
    assert!(scale.iter().all(|one| (one - scale[0]).abs() < 1e-6 && *one > 0.0));
    assert!(dots.windows(2).all(|pair| (pair[1].x - pair[0].x - (dots[1].x - dots[0].x)).abs() < 1e-9));
}

#[test]
fn every_hour_stands_in_proportion() {
    let drawing = days()[0].on(&sheet(358.0, 12.0));
    let of = |role: Role| -> Vec<Vec<SheetPoint>> {
        let marks = drawing.marks.iter().filter(|mark| mark.role == role);
        marks.map(|mark| points(&mark.shape)).collect()
    };
    let (hours, notches) = (of(Role::Hour), of(Role::HourMedian));
    assert_eq!((hours.len(), notches.len()), (48, 24));
    let scale = (hours[0][1].y - hours[0][0].y) / 130.0; // from 190 down to 60 mg/dL
    for hour in 0..24 {
        let (thin, thick) = (&hours[2 * hour], &hours[2 * hour + 1]);
        for (place, below) in [(thick[0].y, 40.0), (thick[2].y, 100.0), (notches[hour][0].y, 70.0)] {
            assert!((place - thin[0].y - below * scale).abs() < 1e-9, "hour {hour}");
        }
        assert!((thin[0].x - hours[0][0].x - (hours[2][0].x - hours[0][0].x) * hour as f64).abs() < 1e-9);
    }
}

/// Two roles that look the same but for their ink would show something by colour alone.
#[test]
fn roles_differ_by_more_than_ink() {
    let mut forms: HashMap<String, Role> = HashMap::new();
    for (_, drawing) in drawings() {
        let samples = drawing.legend.iter().flat_map(|one| &one.sample);
        for mark in drawing.marks.iter().chain(samples).filter(|mark| mark.role != Role::Scale) {
            let form = match &mark.shape {
                MarkShape::Line { dashes, width, .. } => format!("line {dashes:?} {width}"),
                MarkShape::Dot { radius, .. } => format!("dot {radius}"),
                // The surface below the readings, and the thick part of an hour: of one drawing and of the other.
                MarkShape::Area { points } => format!("area {}", points.len() == 4),
                MarkShape::Text { .. } => continue,
            };
            let before = *forms.entry(form.clone()).or_insert(mark.role);
            assert_eq!(before, mark.role, "{form}");
        }
    }
    assert!(forms.len() > 10);
}

#[test]
fn the_hatching_stays_in_its_band() {
    let chart = falling(122.0, -1.0, Language::ENGLISH, GlucoseUnit::MgDl, 0);
    let drawing = chart.on(&sheet(358.0, 12.0));
    let band: Vec<Vec<SheetPoint>> = drawing
        .marks
        .iter()
        .filter(|mark| mark.role == Role::Band)
        .filter(|mark| !matches!(mark.shape, MarkShape::Text { .. }))
        .map(|mark| points(&mark.shape))
        .collect();
    let (strokes, edges) = band.split_at(band.len() - 2);
    assert!(strokes.len() > 10);
    let [most, least] = edges else { panic!("two edges") };
    let height = |edge: &[SheetPoint], x: f64| {
        let pair = edge.windows(2).find(|pair| (pair[0].x - 1e-6..=pair[1].x + 1e-6).contains(&x)).unwrap();
        pair[0].y + (pair[1].y - pair[0].y) * (x - pair[0].x) / (pair[1].x - pair[0].x)
    };
    for end in strokes.iter().flatten() {
        assert!(end.y >= height(most, end.x) - 1e-3 && end.y <= height(least, end.x) + 1e-3, "{end:?}");
    }
}

#[test]
fn nothing_is_drawn_over_a_gap_in_the_readings() {
    let mut chart = falling(122.0, -0.4, Language::ENGLISH, GlucoseUnit::MgDl, 0);
    chart.readings.retain(|one| !(-80.0..-40.0).contains(&one.minutes));
    let drawing = chart.on(&sheet(358.0, 12.0));
    let surfaces = drawing.marks.iter().filter(|mark| mark.role == Role::Past).count();
    assert_eq!(surfaces, 2);
}

#[test]
fn many_notes_at_once_get_a_letter_each() {
    for (width, type_size) in [(358.0, 37.2), (60.0, 12.0)] {
        let chart = falling(122.0, -0.4, Language::ENGLISH, GlucoseUnit::MgDl, 60);
        let drawing = chart.on(&sheet(width, type_size));
        let letters: HashSet<&str> = drawing.noted.iter().map(|one| one.split(' ').next().unwrap()).collect();
        assert_eq!(letters.len(), 60, "none is left out of the list: {:?}", drawing.noted);
        assert!(letters.contains("a") && letters.contains("z") && letters.contains("aa") && letters.contains("bh"));
    }
}

#[test]
fn a_picture_of_nothing_is_still_a_picture() {
    let now = Moment::parse("2026-03-01T20:15:00+01:00").unwrap();
    let chart = Chart::of(now, &Wearer::default(), &crate::log::History::default(), &[], None, None);
    let drawing = chart.on(&sheet(358.0, 13.0));
    assert_eq!(drawing.legend.iter().map(|one| (one.role, one.on_drawing)).collect::<Vec<_>>(), [(Role::Low, true)]);
    assert!(!drawing.text.is_empty());
}

#[test]
fn what_is_no_sheet_gets_no_marks_and_keeps_its_words() {
    let (chart, day) = (falling(122.0, -1.0, Language::ENGLISH, GlucoseUnit::MgDl, 2), days().remove(0));
    let odd = [0.0, -1.0, f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e300, f64::MIN_POSITIVE];
    for one in odd {
        let sheets = [
            Sheet { width: one, ..sheet(358.0, 12.0) },
            Sheet { height: Some(one), ..sheet(358.0, 12.0) },
            Sheet { type_size: one, ..sheet(358.0, 12.0) },
        ];
        for sheet in sheets {
            for drawing in [chart.on(&sheet), day.on(&sheet)] {
                assert!(drawing.marks.is_empty(), "{sheet:?}");
                assert!(!drawing.text.is_empty());
                assert!(
                    drawing.width.is_finite()
                        && drawing.height.is_finite()
                        && drawing.width >= 0.0
                        && drawing.height >= 0.0
                );
            }
        }
        // A width that cannot be was not measured.
        let mut odd_width = sheet(358.0, 12.0);
        odd_width.widths = chart.lines.iter().map(|line| (line.text.clone(), one)).collect();
        let places = chart.on(&odd_width).marks.iter().flat_map(|mark| points(&mark.shape)).collect::<Vec<_>>();
        assert!(places.iter().all(|place| place.x.is_finite() && place.y.is_finite()));
    }
}

#[test]
fn amounts_that_cannot_be_are_left_out() {
    let mut chart = falling(122.0, -1.0, Language::ENGLISH, GlucoseUnit::MgDl, 2);
    for odd in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        chart.readings[3].mg_dl = odd;
        chart.readings[7].minutes = odd;
        chart.meters[0].mg_dl = odd;
        chart.path[4].p95_mg_dl = odd;
        chart.treated[5].minutes = odd;
        chart.lines[1].mg_dl = odd;
        chart.amounts[1].value = odd;
        chart.times[2].value = odd;
        chart.noted[1].minutes = odd;
        let drawing = chart.on(&sheet(358.0, 12.0));
        assert!(drawing.marks.len() > 40);
        let places: Vec<SheetPoint> = drawing.marks.iter().flat_map(|mark| points(&mark.shape)).collect();
        assert!(places.iter().all(|place| place.x.is_finite() && place.y.is_finite()), "{odd}");
    }
    chart.highest_mg_dl = chart.lowest_mg_dl;
    assert!(chart.on(&sheet(358.0, 12.0)).marks.is_empty(), "a scale of one amount");
}

#[test]
fn measured_texts_are_placed_by_their_measure() {
    let chart = falling(122.0, -1.0, Language::ENGLISH, GlucoseUnit::MgDl, 0);
    let narrow = chart.on(&sheet(358.0, 12.0));
    let mut measured = sheet(358.0, 12.0);
    measured.widths = chart.amounts.iter().map(|tick| (tick.text.clone(), 80.0)).collect();
    let left = |drawing: &Drawing| {
        drawing.marks.iter().find_map(|mark| match &mark.shape {
            MarkShape::Line { points, .. } if mark.role == Role::Scale => Some(points[0].x),
            _ => None,
        })
    };
    assert!(left(&narrow).unwrap() < 40.0);
    assert!((left(&chart.on(&measured)).unwrap() - 87.2).abs() < 1e-9);
}
