//! A chart laid out on a sheet: where everything lies, words included. A shell maps roles to inks and draws the marks in their order.

use std::collections::BTreeMap;

use super::plot::{Area, Plot, drawn, role};
use super::{Chart, DayChart, HourPercentiles, PathPoint, Point};
use crate::marks::{Mark, MarkShape, Role, SheetPoint, TextAnchor, at};

/// What a chart is laid out on. Lengths are in the shell's points.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sheet {
    /// How wide it is.
    pub width: f64,
    /// How high; as suits the width and the type where none is given.
    pub height: Option<f64>,
    /// The size of type.
    pub type_size: f64,
    /// How wide texts are in this size, as far as the shell measured them. The others are taken to be rather wide.
    pub widths: BTreeMap<String, f64>,
}

/// A name, with a sample of its mark.
#[derive(Clone, Debug, PartialEq)]
pub struct LegendItem {
    /// What it names.
    pub role: Role,
    /// The name.
    pub name: String,
    /// The mark on a sheet of its own, 30 by 16.
    pub sample: Vec<Mark>,
    /// Whether the name stands on the drawing already.
    pub on_drawing: bool,
}

/// A chart as marks. On a sheet without room for one there are none; the text is there in any case.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// How wide it is.
    pub width: f64,
    /// How high it is.
    pub height: f64,
    /// In the order to draw them.
    pub marks: Vec<Mark>,
    /// What the marks stand for, of those that are drawn.
    pub legend: Vec<LegendItem>,
    /// What was noted in the time shown, after the letter that marks it.
    pub noted: Vec<String>,
    /// The chart in words, for a screen reader; the marks are hidden from it.
    pub text: String,
}

/// How wide a legend's sample is.
const SAMPLE_WIDTH: f64 = 30.0;
/// How high it is.
const SAMPLE_HEIGHT: f64 = 16.0;
/// Readings further apart than this, in minutes, are not joined: what was between them is not known (assumption; sensors
/// read every 1 to 15 minutes).
const GAP_MINUTES: f64 = 20.0;
/// How high a chart is for its width, of a prompt and of a day.
const SHARES: (f64, f64) = (0.68, 0.59);
/// The radius of a reading's disc, and half the width of a meter check's cross.
const DOT: f64 = 2.6;
const CROSS: f64 = 6.0;

impl Chart {
    /// Lays the chart out. A sheet whose width, height or type is no number, or too small or too large for any screen, gets no marks.
    #[must_use]
    pub fn on(&self, sheet: &Sheet) -> Drawing {
        let (across, up) = ((self.from_minutes, self.until_minutes), (self.lowest_mg_dl, self.highest_mg_dl));
        let Some(mut plot) = Plot::on(sheet, &self.amounts, across, up, SHARES.0) else {
            return Drawing::empty(sheet, &self.text);
        };
        let shown = |points: &[Point]| -> Vec<Point> {
            points.iter().filter(|one| plot.is_shown(one.minutes, one.mg_dl)).copied().collect()
        };
        let place = |one: &Point| at(plot.x(one.minutes), plot.y(one.mg_dl));
        let readings = shown(&self.readings);
        let runs: Vec<Vec<SheetPoint>> = readings
            .chunk_by(|one, next| next.minutes - one.minutes <= GAP_MINUTES)
            .map(|run| run.iter().map(place).collect())
            .collect();
        let meters: Vec<SheetPoint> = shown(&self.meters).iter().map(place).collect();
        let treated: Vec<SheetPoint> = shown(&self.treated).iter().map(place).collect();
        let is_shown = |one: &&PathPoint| {
            [one.mg_dl, one.p5_mg_dl, one.p95_mg_dl].iter().all(|mg_dl| plot.is_shown(one.minutes, *mg_dl))
        };
        let ahead: Vec<&PathPoint> = self.path.iter().filter(is_shown).collect();
        let along = |mg_dl: fn(&PathPoint) -> f64| -> Vec<SheetPoint> {
            ahead.iter().map(|one| at(plot.x(one.minutes), plot.y(mg_dl(one)))).collect()
        };
        let [path, least, most] = [along(|one| one.mg_dl), along(|one| one.p5_mg_dl), along(|one| one.p95_mg_dl)];
        let (now, is_ahead, both) = (plot.x(0.0), path.len() > 1, treated.len() > 1);

        for run in runs.iter().filter(|run| run.len() > 1) {
            plot.add(Role::Past, MarkShape::Area { points: above(plot.inside.foot, run) });
        }
        if is_ahead {
            for hatch in hatches(&least, &most, plot.size * 0.5) {
                plot.hatches.extend(along_stroke(hatch));
                plot.line(Role::Band, hatch.to_vec());
            }
            plot.line(Role::Band, most.clone());
            plot.line(Role::Band, least.clone());
        }
        plot.amounts(&self.amounts, &self.lines);
        // The present is written in any case, then what is near it.
        let mut times: Vec<_> = self.times.iter().collect();
        times.sort_unstable_by(|a, b| a.value.abs().total_cmp(&b.value.abs()).then(a.value.total_cmp(&b.value)));
        plot.times(times);
        let Area { top, foot, .. } = plot.inside;
        plot.line(Role::Now, vec![at(now, top), at(now, foot)]);
        plot.lines(&self.lines);

        let read: Vec<SheetPoint> = runs.concat();
        for curve in [&read, &meters, &path, &least, &most, &treated] {
            plot.curves.extend(curve);
        }
        plot.curves.extend((0..=24).map(|step| at(now, top + (foot - top) * f64::from(step) / 24.0)));
        let mut named = plot.line_names(&self.lines);
        for run in &runs {
            plot.line(Role::Reading, run.clone());
        }
        plot.line(Role::Path, path.clone());
        plot.line(Role::Treated, treated.clone());
        for place in &read {
            plot.add(Role::Reading, MarkShape::Dot { at: *place, radius: DOT });
        }
        for place in &meters {
            for shape in cross(*place) {
                plot.add(Role::Meter, shape);
            }
        }
        let noted = self.noted_on(&mut plot);

        // In core's order: reading, meter check, expected path, band, path if treated.
        let size = plot.size;
        let near = |curve: &[SheetPoint]| -> Vec<SheetPoint> {
            curve.iter().rev().flat_map(|one| around(*one, size)).collect()
        };
        let third = read.get(read.len() / 3).into_iter().flat_map(|one| around(*one, size)).collect();
        let meter = meters.last().into_iter().flat_map(|one| around(*one, size)).collect();
        let edges = [most.last(), least.last()].into_iter().flatten().flat_map(|one| around(*one, size)).collect();
        // What matters most is placed first.
        let names: [(usize, Role, bool, Vec<SheetPoint>, bool); 5] = [
            (2, Role::Path, is_ahead, near(&path), true),
            (4, Role::Treated, both, near(&treated), true),
            (1, Role::Meter, !meters.is_empty(), meter, false),
            (0, Role::Reading, !read.is_empty(), third, false),
            (3, Role::Band, is_ahead, edges, false),
        ];
        let mut legend = Vec::new();
        for (nth, role, is_drawn, places, must) in names {
            let Some(name) = self.legend.get(nth).filter(|_| is_drawn) else { continue };
            // What lies ahead is better named there than across the present.
            let left = plot.inside.left;
            if must && plot.name(role, name, &places, now, true) || plot.name(role, name, &places, left, must) {
                named.push(role);
            }
            legend.push((nth, LegendItem::of(role, name)));
        }
        legend.sort_unstable_by_key(|(nth, _)| *nth);
        let legend = legend.into_iter().map(|(_, item)| item);
        let lines = self.lines.iter().map(|line| LegendItem::of(role(line.which), &line.text));
        Drawing::of(plot, legend.chain(lines), &named, noted, &self.text)
    }

    /// What was noted: a letter at the head of the chart and a stroke at its foot, and what the letter stands for.
    fn noted_on(&self, plot: &mut Plot) -> Vec<String> {
        let (size, Area { right, top, foot, .. }) = (plot.size * 0.9, plot.inside);
        let mut heads: Vec<f64> = Vec::new();
        let mut noted = Vec::new();
        for (nth, one) in self.noted.iter().enumerate() {
            let letter = letters(nth);
            noted.push(format!("{letter}  {}", one.text));
            if !plot.is_shown(one.minutes, 0.0) {
                continue;
            }
            let (at_time, room) = (plot.x(one.minutes), plot.long(&letter, size) + size * 0.2);
            plot.line(Role::Noted, vec![at(at_time, foot - plot.size * 0.6), at(at_time, foot)]);
            // Two at nearly one time stand side by side, as far as there is room.
            let mut head = at_time;
            while let Some(near) = heads.iter().find(|other| (**other - head).abs() < room * 0.99) {
                head = near + room;
            }
            if head + room / 2.0 <= right {
                heads.push(head);
                let place = at(head, top - size * 0.4);
                plot.write(Role::Noted, &letter, place, TextAnchor::Middle, size, false);
            }
        }
        noted
    }
}

impl DayChart {
    /// Lays the day out: a post for each hour, its thick part, a notch. As [`Chart::on`] for what is no sheet.
    #[must_use]
    pub fn on(&self, sheet: &Sheet) -> Drawing {
        let up = (self.lowest_mg_dl, self.highest_mg_dl);
        let Some(mut plot) = Plot::on(sheet, &self.amounts, (0.0, 24.0), up, SHARES.1) else {
            return Drawing::empty(sheet, &self.text);
        };
        plot.amounts(&self.amounts, &self.lines);
        plot.times(&self.times);
        plot.lines(&self.lines);
        let wide = (plot.inside.right - plot.inside.left) / 24.0 * 0.55;
        let mut is_drawn = false;
        for post in &self.posts {
            let HourPercentiles { hours, p10_mg_dl, p25_mg_dl, p50_mg_dl, p75_mg_dl, p90_mg_dl } = *post;
            let amounts = [p90_mg_dl, p75_mg_dl, p50_mg_dl, p25_mg_dl, p10_mg_dl];
            if !amounts.iter().all(|mg_dl| plot.is_shown(hours, *mg_dl)) {
                continue;
            }
            is_drawn = true;
            let (x, ends) = (plot.x(hours), amounts.map(|mg_dl| plot.y(mg_dl)));
            plot.curves.extend(ends.map(|y| at(x, y)));
            plot.marks.extend(hour(x, ends, wide));
        }
        let named = plot.line_names(&self.lines);
        let posts = is_drawn.then(|| LegendItem::of(Role::Hour, &self.legend));
        let lines = self.lines.iter().map(|line| LegendItem::of(role(line.which), &line.text));
        Drawing::of(plot, posts.into_iter().chain(lines), &named, Vec::new(), &self.text)
    }
}

impl Drawing {
    fn of(
        plot: Plot,
        legend: impl Iterator<Item = LegendItem>,
        named: &[Role],
        noted: Vec<String>,
        text: &str,
    ) -> Self {
        let legend = legend.map(|one| LegendItem { on_drawing: named.contains(&one.role), ..one }).collect();
        let Plot { width, height, marks, .. } = plot;
        Self { width, height, marks, legend, noted, text: text.to_owned() }
    }

    fn empty(sheet: &Sheet, text: &str) -> Self {
        let side = |length: f64| if length.is_finite() { length.max(0.0) } else { 0.0 };
        Self {
            width: side(sheet.width),
            height: sheet.height.map_or(0.0, side),
            marks: Vec::new(),
            legend: Vec::new(),
            noted: Vec::new(),
            text: text.to_owned(),
        }
    }
}

impl LegendItem {
    fn of(role: Role, name: &str) -> Self {
        Self { role, name: name.to_owned(), sample: sample(role), on_drawing: false }
    }
}

/// A mark of a role on a sheet of its own.
fn sample(role: Role) -> Vec<Mark> {
    let (wide, middle) = (SAMPLE_WIDTH, at(SAMPLE_WIDTH / 2.0, SAMPLE_HEIGHT / 2.0));
    let level = |y: f64| vec![at(0.0, y), at(wide, y)];
    let shapes: Vec<MarkShape> = match role {
        Role::Hour => return hour(middle.x, [0.0, 3.0, 8.0, 13.0, SAMPLE_HEIGHT], 8.0).to_vec(),
        Role::Reading => vec![drawn(role, level(middle.y)), MarkShape::Dot { at: middle, radius: DOT }],
        Role::Meter => cross(middle).to_vec(),
        Role::Band => {
            let (upper, lower) = (level(2.0), level(SAMPLE_HEIGHT - 2.0));
            let hatches = hatches(&lower, &upper, 6.0).into_iter().map(|hatch| hatch.to_vec());
            hatches.chain([upper.clone(), lower.clone()]).map(|points| drawn(role, points)).collect()
        }
        _ => vec![drawn(role, level(middle.y))],
    };
    shapes.into_iter().map(|shape| Mark { role, shape }).collect()
}

/// A post between five heights, from above. Where its thick part is too thin for the notch, it is made thicker.
fn hour(x: f64, ends: [f64; 5], wide: f64) -> [Mark; 3] {
    let [top, upper, middle, lower, foot] = ends;
    let (left, right) = (x - wide / 2.0, x + wide / 2.0);
    let (upper, lower) = (upper.min(middle - 2.0), lower.max(middle + 2.0));
    let thick = [(left, upper), (right, upper), (right, lower), (left, lower)].map(|(x, y)| at(x, y)).to_vec();
    let mark = |role, shape| Mark { role, shape };
    [
        mark(Role::Hour, drawn(Role::Hour, vec![at(x, top), at(x, foot)])),
        mark(Role::Hour, MarkShape::Area { points: thick }),
        mark(Role::HourMedian, drawn(Role::HourMedian, vec![at(left, middle), at(right, middle)])),
    ]
}

fn cross(middle: SheetPoint) -> [MarkShape; 2] {
    [1.0, -1.0].map(|way| {
        let end = |side: f64| at(middle.x + side * CROSS, middle.y + side * way * CROSS);
        drawn(Role::Meter, vec![end(-1.0), end(1.0)])
    })
}

/// The surface between a curve and the foot.
fn above(foot: f64, curve: &[SheetPoint]) -> Vec<SheetPoint> {
    let ends = [curve.last(), curve.first()].into_iter().flatten().map(|end| at(end.x, foot));
    curve.iter().copied().chain(ends).collect()
}

/// Strokes from lower left to upper right between two curves with the same places across, the lower one first; so far apart.
fn hatches(lower: &[SheetPoint], upper: &[SheetPoint], apart: f64) -> Vec<[SheetPoint; 2]> {
    let all = || lower.iter().chain(upper);
    // On a stroke x + y is the same everywhere.
    let sum = |one: &SheetPoint| one.x + one.y;
    let (least, most) = all().map(sum).fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), one| (a.min(one), b.max(one)));
    let strokes = std::iter::successors(Some(least + apart), |sum| Some(sum + apart)).take_while(|sum| *sum < most);
    strokes.flat_map(|sum| within(sum, lower, upper)).collect()
}

/// The parts of one stroke that lie between the curves.
fn within(sum: f64, lower: &[SheetPoint], upper: &[SheetPoint]) -> Vec<[SheetPoint; 2]> {
    let on = |x: f64| at(x, sum - x);
    let mut parts: Vec<[f64; 2]> = Vec::new();
    for (low, up) in lower.windows(2).zip(upper.windows(2)) {
        let (mut from, mut until) = (low[0].x, low[1].x);
        // Where the stroke lies above the lower curve and below the upper one; both differences are linear here.
        for (curve, way) in [(low, 1.0), (up, -1.0)] {
            let room = |end: SheetPoint| way * (end.y - (sum - end.x));
            let (first, last) = (room(curve[0]), room(curve[1]));
            let crossing = low[0].x + (low[1].x - low[0].x) * first / (first - last);
            match (first >= 0.0, last >= 0.0) {
                (true, true) => {}
                (true, false) => until = until.min(crossing),
                (false, true) => from = from.max(crossing),
                (false, false) => until = f64::NEG_INFINITY,
            }
        }
        if from >= until {
            continue;
        }
        match parts.last_mut() {
            Some(last) if (last[1] - from).abs() < 1e-6 => last[1] = until,
            _ => parts.push([from, until]),
        }
    }
    parts.into_iter().map(|ends| ends.map(on)).collect()
}

/// Places on a stroke, so near to each other that no word fits between them.
fn along_stroke([from, until]: [SheetPoint; 2]) -> impl Iterator<Item = SheetPoint> {
    (0..=8)
        .map(|step| f64::from(step) / 8.0)
        .map(move |share| at(from.x + (until.x - from.x) * share, from.y + (until.y - from.y) * share))
}

/// Where a name may begin that belongs to a place: above and below it, near before far.
fn around(one: SheetPoint, size: f64) -> impl Iterator<Item = SheetPoint> {
    [-0.7, 1.5, -2.0, 2.8, -3.3, 4.1].into_iter().flat_map(move |down| {
        [0.0, 2.0, 4.0, 6.0, 9.0, 12.0, 15.0].map(|left| at(one.x - left * size, one.y + down * size))
    })
}

/// The first letter, the second, and so on: a, b, ..., z, aa, ab.
fn letters(nth: usize) -> String {
    let letter = char::from(b'a' + u8::try_from(nth % 26).unwrap_or(0));
    if nth < 26 { letter.to_string() } else { letters(nth / 26 - 1) + &letter.to_string() }
}

#[cfg(test)]
mod tests;
