//! A sheet that is being drawn on: the scales, and words put where they touch nothing.

use super::{Line, Tick};
use crate::marks::{Mark, MarkShape, Role, SheetPoint, TextAnchor, at};
use crate::words::Label;

use super::drawing::Sheet;

/// How wide a letter may be, as a share of the type's size, where a shell measured nothing (assumption: most letters of most typefaces are
/// narrower), and where the script is one of broad signs.
const LETTER: f64 = 0.6;
const BROAD_LETTER: f64 = 1.05;
/// From here on scripts have broad signs: CJK and what follows it in Unicode.
const FIRST_BROAD: char = '\u{2E80}';
/// How far letters reach above the line they stand on, and below it, as shares of their size.
const ABOVE: f64 = 0.85;
const BELOW: f64 = 0.25;
/// Space around a word, as a share of the type's size.
const SPACE: f64 = 0.25;
/// Type no larger than this share of the width leaves room for the drawing; what a drawing says is in full size in the text beside it.
const WIDEST_TYPE: f64 = 1.0 / 14.0;
/// Less than this between the scales, in points, shows nothing: a mark alone is nearly as large.
const ROOM: f64 = 16.0;
/// Sizes of type, and lengths of a side, that a screen may have, in points.
const TYPE: std::ops::RangeInclusive<f64> = 1.0..=1_000.0;
const SIDE: std::ops::RangeInclusive<f64> = 1.0..=20_000.0;

/// A box on the sheet.
#[derive(Clone, Copy, Debug)]
pub(super) struct Area {
    pub left: f64,
    pub right: f64,
    pub top: f64,
    pub foot: f64,
}

impl Area {
    fn meets(&self, other: &Self) -> bool {
        self.left < other.right && other.left < self.right && self.top < other.foot && other.top < self.foot
    }

    fn holds(&self, place: SheetPoint, space: f64) -> bool {
        (self.left - space..=self.right + space).contains(&place.x)
            && (self.top - space..=self.foot + space).contains(&place.y)
    }
}

pub(super) struct Plot<'a> {
    sheet: &'a Sheet,
    pub width: f64,
    pub height: f64,
    /// The size of type used, which may be smaller than the one asked for.
    pub size: f64,
    /// Where things are drawn: inside the scales.
    pub inside: Area,
    across: (f64, f64),
    up: (f64, f64),
    pub marks: Vec<Mark>,
    /// Where words stand.
    written: Vec<Area>,
    /// What no word may touch, what it should not, and the heights of lines across.
    pub curves: Vec<SheetPoint>,
    pub hatches: Vec<SheetPoint>,
    levels: Vec<f64>,
}

impl<'a> Plot<'a> {
    /// Nothing where the sheet has no room for a drawing, or is none.
    pub fn on(sheet: &'a Sheet, amounts: &[Tick], across: (f64, f64), up: (f64, f64), share: f64) -> Option<Self> {
        let width = sheet.width;
        let known = SIDE.contains(&width) && TYPE.contains(&sheet.type_size);
        let spans = [across, up].iter().all(|(from, until)| from.is_finite() && until.is_finite() && until > from);
        if !known || !spans {
            return None;
        }
        let size = sheet.type_size.min(width * WIDEST_TYPE);
        let height = sheet.height.unwrap_or_else(|| (width * share).max(size * 15.0));
        if !SIDE.contains(&height) {
            return None;
        }
        let mut plot = Self {
            sheet,
            width,
            height,
            size,
            inside: Area { left: 0.0, right: width - size * 0.3, top: size * 1.3, foot: height - size * 1.8 },
            across,
            up,
            marks: Vec::new(),
            written: Vec::new(),
            curves: Vec::new(),
            hatches: Vec::new(),
            levels: Vec::new(),
        };
        plot.inside.left = amounts.iter().map(|tick| plot.long(&tick.text, size)).fold(0.0, f64::max) + size * 0.6;
        let Area { left, right, top, foot } = plot.inside;
        (right - left >= ROOM && foot - top >= ROOM).then_some(plot)
    }

    /// How wide a text is written in this size.
    pub fn long(&self, text: &str, size: f64) -> f64 {
        let measured = self.sheet.widths.get(text).filter(|width| width.is_finite() && **width >= 0.0);
        measured.map_or_else(
            || text.chars().map(|one| if one < FIRST_BROAD { LETTER } else { BROAD_LETTER }).sum::<f64>() * size,
            |width| width * size / self.sheet.type_size,
        )
    }

    pub fn x(&self, place: f64) -> f64 {
        let share = ((place - self.across.0) / (self.across.1 - self.across.0)).clamp(0.0, 1.0);
        self.inside.left + share * (self.inside.right - self.inside.left)
    }

    pub fn y(&self, mg_dl: f64) -> f64 {
        let share = ((mg_dl - self.up.0) / (self.up.1 - self.up.0)).clamp(0.0, 1.0);
        self.inside.foot - share * (self.inside.foot - self.inside.top)
    }

    /// Whether a place is one that can be drawn: a shell hands over what it likes.
    pub fn is_shown(&self, place: f64, mg_dl: f64) -> bool {
        (self.across.0..=self.across.1).contains(&place) && mg_dl.is_finite()
    }

    pub fn add(&mut self, role: Role, shape: MarkShape) {
        self.marks.push(Mark { role, shape });
    }

    /// A line with a look of its own.
    pub fn line(&mut self, role: Role, points: Vec<SheetPoint>) {
        if points.len() > 1 {
            self.add(role, drawn(role, points));
        }
    }

    pub fn across(&mut self, role: Role, y: f64) {
        self.line(role, vec![at(self.inside.left, y), at(self.inside.right, y)]);
    }

    /// The amounts at the side as far as they have room, each with a faint line unless a line of the wearer's lies there.
    pub fn amounts(&mut self, amounts: &[Tick], lines: &[Line]) {
        let Area { left, right, foot, .. } = self.inside;
        self.add(Role::Scale, MarkShape::solid(vec![at(left, foot), at(right, foot)], 1.0));
        let levels: Vec<f64> = lines.iter().map(|line| self.y(line.mg_dl)).collect();
        let mut last = f64::INFINITY;
        for tick in amounts.iter().filter(|tick| tick.value.is_finite()) {
            let y = self.y(tick.value);
            if last - y < self.size * 1.15 {
                continue;
            }
            last = y;
            if y < foot && levels.iter().all(|level| (level - y).abs() > 0.5) {
                self.across(Role::Scale, y);
            }
            let place = at(left - self.size * 0.4, y + self.size * 0.35);
            self.write(Role::Scale, &tick.text, place, TextAnchor::End, self.size, false);
        }
    }

    /// The times at the foot, the first of them for certain: one that would run into another is left out.
    pub fn times<'t>(&mut self, times: impl IntoIterator<Item = &'t Tick>) {
        for tick in times.into_iter().filter(|tick| tick.value.is_finite()) {
            let long = self.long(&tick.text, self.size);
            if long > self.width {
                continue;
            }
            let (x, foot) = (self.x(tick.value), self.inside.foot);
            let middle = x.clamp(long / 2.0, self.width - long / 2.0);
            let place = at(middle, foot + self.size * 1.45);
            let wide = self.size * 0.2;
            let mut room = self.boxed(long, place, TextAnchor::Middle, self.size);
            (room.left, room.right) = (room.left - wide, room.right + wide);
            if self.written.iter().any(|other| other.meets(&room)) {
                continue;
            }
            self.add(Role::Scale, MarkShape::solid(vec![at(x, foot), at(x, foot + self.size * 0.3)], 1.0));
            let role = if tick.value == 0.0 && self.across.0 < 0.0 { Role::Now } else { Role::Scale };
            self.write(role, &tick.text, place, TextAnchor::Middle, self.size, false);
        }
    }

    /// The wearer's lines, each with dashes of its own.
    pub fn lines(&mut self, lines: &[Line]) {
        for line in lines.iter().filter(|line| line.mg_dl.is_finite()) {
            let y = self.y(line.mg_dl);
            self.levels.push(y);
            self.across(role(line.which), y);
        }
    }

    /// The lines' names, on them; the floor's below it.
    pub fn line_names(&mut self, lines: &[Line]) -> Vec<Role> {
        let Area { left, right, .. } = self.inside;
        let named = lines.iter().filter(|line| line.mg_dl.is_finite()).filter(|line| {
            let (y, role) = (self.y(line.mg_dl), role(line.which));
            let (above, below) = (y - self.size * 0.4, y + self.size);
            let sides = if role == Role::Floor { [below, above] } else { [above, below] };
            let steps = || std::iter::successors(Some(left), |x| Some(x + self.size / 2.0)).take_while(|x| *x < right);
            let places: Vec<SheetPoint> = sides.into_iter().flat_map(|y| steps().map(move |x| at(x, y))).collect();
            self.name(role, &line.text, &places, left, true)
        });
        named.map(|line| role(line.which)).collect()
    }

    /// Writes a name that begins at one of these places, and nowhere left of `from`: at the first where it touches nothing. Failing that, one
    /// that `must` be there is written where it touches least, and never over another word.
    pub fn name(&mut self, role: Role, text: &str, places: &[SheetPoint], from: f64, must: bool) -> bool {
        let (size, space) = (self.size, self.size * SPACE);
        let long = self.long(text, size);
        let Area { right, top, foot, .. } = self.inside;
        let (first, last) = (from + space, right - space - long);
        let (highest, lowest) = (top + ABOVE * size, foot - BELOW * size);
        if last < first || lowest < highest {
            return false;
        }
        let touched = |place: SheetPoint| {
            let room = self.boxed(long, place, TextAnchor::Start, size);
            if self.written.iter().any(|other| other.meets(&room)) {
                return None;
            }
            let levels = self.levels.iter().filter(|level| (room.top..=room.foot).contains(level)).count();
            let curves = self.curves.iter().filter(|one| room.holds(**one, space)).count();
            let hatches = self.hatches.iter().filter(|one| room.holds(**one, 0.0)).count();
            Some(20 * levels + 10 * curves + hatches)
        };
        let inside = places.iter().map(|one| at(one.x.clamp(first, last), one.y.clamp(highest, lowest)));
        let mut best: Option<(usize, SheetPoint)> = None;
        for place in inside {
            let Some(cost) = touched(place) else { continue };
            if best.is_none_or(|(least, _)| cost < least) {
                best = Some((cost, place));
            }
            if cost == 0 {
                break;
            }
        }
        let Some((cost, place)) = best.filter(|(cost, _)| must || *cost < 10) else { return false };
        self.write(role, text, place, TextAnchor::Start, size, cost > 0);
        true
    }

    /// Writes, and keeps other words away.
    pub fn write(&mut self, role: Role, text: &str, place: SheetPoint, anchor: TextAnchor, size: f64, backed: bool) {
        let room = self.boxed(self.long(text, size), place, anchor, size);
        self.written.push(room);
        self.add(role, MarkShape::Text { text: text.to_owned(), at: place, anchor, size, backed });
    }

    pub fn boxed(&self, long: f64, place: SheetPoint, anchor: TextAnchor, size: f64) -> Area {
        let left = match anchor {
            TextAnchor::Start => place.x,
            TextAnchor::Middle => place.x - long / 2.0,
            TextAnchor::End => place.x - long,
        };
        Area { left, right: left + long, top: place.y - ABOVE * size, foot: place.y + BELOW * size }
    }
}

pub(super) const fn role(which: Label) -> Role {
    match which {
        Label::FloorLine => Role::Floor,
        Label::HighLine => Role::High,
        _ => Role::Low,
    }
}

/// A line as its role is drawn: no two differ by their ink alone.
pub(super) fn drawn(role: Role, points: Vec<SheetPoint>) -> MarkShape {
    let (width, dashes, round): (f64, &[f64], bool) = match role {
        Role::Scale => (0.5, &[1.0, 5.0], false),
        Role::Now => (1.0, &[2.0, 4.0], false),
        Role::Low => (2.0, &[], true),
        Role::Floor => (2.0, &[2.0, 5.0], true),
        Role::High => (1.5, &[9.0, 6.0], false),
        Role::Path => (2.5, &[8.0, 5.0], false),
        Role::Treated => (3.0, &[1.0, 6.0], true),
        Role::Meter => (3.2, &[], false),
        Role::Noted => (4.0, &[], false),
        Role::Hour => (1.8, &[], true),
        Role::HourMedian => (2.2, &[], false),
        Role::Band | Role::Past => (1.0, &[], true),
        Role::Reading => (2.5, &[], true),
    };
    MarkShape::Line { points, dashes: dashes.to_vec(), width, round }
}
