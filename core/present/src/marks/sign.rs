//! How a verdict looks: how heavy its block lies on the screen, the block's edge, and a shape of the verdict's own. Urgency is weight
//! and shape, never hue.

use std::f64::consts::PI;

use super::{MarkShape, SheetPoint, at};
use crate::prompt::Verdict;

/// How heavy a block lies on the screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// Filled with the ink of text, and written on in the ground's: dark where the screen is light, light where it is dark.
    Solid,
    /// A thick outline.
    Outline,
    /// A light tint.
    Tint,
    /// Neither.
    Plain,
}

/// The weight of a verdict.
#[must_use]
pub const fn weight(verdict: Verdict) -> Weight {
    match verdict {
        Verdict::Treat | Verdict::Help => Weight::Solid,
        Verdict::Check => Weight::Outline,
        Verdict::Hold => Weight::Tint,
        Verdict::Clear => Weight::Plain,
    }
}

/// Points of a curve's piece.
const STEPS: u32 = 12;
/// How round the corners of a block are, how high its wave is, and how long, in points.
const CORNER: f64 = 21.0;
const HIGH: f64 = 7.0;
const LONG: f64 = 64.0;
/// A block taller or wider than this, in points, has no edge: no screen is.
const LARGEST: f64 = 20_000.0;

/// The shape of a verdict on a square with sides of this length, of lines and surfaces alone: a filled glass, a drop, level water, a bare
/// line of water, a call. It lies beside the verdict's word, in its ink.
#[must_use]
pub fn sign(verdict: Verdict, side: f64) -> Vec<MarkShape> {
    let shapes = match verdict {
        Verdict::Treat => glass(),
        Verdict::Check => vec![drop()],
        Verdict::Hold => vec![water(0.38), water(0.66)],
        Verdict::Clear => vec![water(0.52)],
        Verdict::Help => call(),
    };
    let grown = |points: Vec<SheetPoint>| points.into_iter().map(|one| at(one.x * side, one.y * side)).collect();
    let shapes = shapes.into_iter().map(|(points, width)| match width {
        Some(width) => MarkShape::solid(grown(points), width * side),
        None => MarkShape::Area { points: grown(points) },
    });
    shapes.collect()
}

/// Points of a square whose sides are 1, and how thick a line through them is; nothing for a surface.
type Part = (Vec<SheetPoint>, Option<f64>);

fn line(points: Vec<SheetPoint>, width: f64) -> Part {
    (points, Some(width))
}

fn points(places: &[(f64, f64)]) -> Vec<SheetPoint> {
    places.iter().map(|&(x, y)| at(x, y)).collect()
}

/// Goes on from the last point in a cubic Bézier curve by three more.
fn bend(path: &mut Vec<SheetPoint>, [(ax, ay), (bx, by), (x, y)]: [(f64, f64); 3]) {
    let Some(from) = path.last().copied() else { return };
    for step in 1..=STEPS {
        let t = f64::from(step) / f64::from(STEPS);
        let s = 1.0 - t;
        let on = |from: f64, a: f64, b: f64, to: f64| {
            s * s * s * from + 3.0 * s * s * t * a + 3.0 * s * t * t * b + t * t * t * to
        };
        path.push(at(on(from.x, ax, bx, x), on(from.y, ay, by, y)));
    }
}

/// A wave about a level, over so many lengths of it.
fn wave(level: f64, from: f64, to: f64, turns: f64) -> Vec<SheetPoint> {
    let steps = 2 * STEPS;
    (0..=steps)
        .map(|step| f64::from(step) / f64::from(steps))
        .map(|share| at(from + (to - from) * share, level - 0.05 * (2.0 * PI * turns * share).sin()))
        .collect()
}

fn water(level: f64) -> Part {
    line(wave(level, 0.04, 0.96, 2.0), 0.09)
}

fn glass() -> Vec<Part> {
    let mut filled = wave(0.36, 0.22, 0.78, 1.0);
    filled.extend(points(&[(0.69, 0.9), (0.31, 0.9)]));
    let side = points(&[(0.16, 0.1), (0.29, 0.92), (0.71, 0.92), (0.84, 0.1)]);
    vec![(filled, None), line(side, 0.08)]
}

fn drop() -> Part {
    let mut edge = points(&[(0.5, 0.06)]);
    bend(&mut edge, [(0.62, 0.3), (0.84, 0.44), (0.84, 0.64)]);
    bend(&mut edge, [(0.84, 0.83), (0.69, 0.95), (0.5, 0.95)]);
    bend(&mut edge, [(0.31, 0.95), (0.16, 0.83), (0.16, 0.64)]);
    bend(&mut edge, [(0.16, 0.44), (0.38, 0.3), (0.5, 0.06)]);
    line(edge, 0.11)
}

fn call() -> Vec<Part> {
    let round = 0..2 * STEPS;
    let dot = round.map(|step| f64::from(step) * PI / f64::from(STEPS));
    let dot = dot.map(|turn| at(0.5 + 0.1 * turn.cos(), 0.86 + 0.1 * turn.sin())).collect();
    let side = |x: f64, bulge: f64| {
        let mut path = points(&[(x, 0.2)]);
        bend(&mut path, [(x + bulge, 0.32), (x + bulge, 0.44), (x, 0.56)]);
        line(path, 0.07)
    };
    vec![line(points(&[(0.5, 0.14), (0.5, 0.6)]), 0.16), (dot, None), side(0.22, -0.107), side(0.78, 0.107)]
}

/// The edge of a verdict's block: round above, and a wave below. Nothing for a size that no screen has.
#[must_use]
pub fn block_edge(width: f64, height: f64) -> Vec<SheetPoint> {
    if !(1.0..=LARGEST).contains(&width) || !(1.0..=LARGEST).contains(&height) {
        return Vec::new();
    }
    let corner = CORNER.min(width / 2.0).min(height / 2.0);
    let turns = || (0..=8).map(|step| f64::from(step) / 8.0 * PI / 2.0);
    let left = turns().map(|turn| at(corner - corner * turn.cos(), corner - corner * turn.sin()));
    let right = turns().map(|turn| at(width - corner + corner * turn.sin(), corner - corner * turn.cos()));
    let high = HIGH.min(height / 4.0);
    let wave = std::iter::successors(Some(width), |x| Some(x - 2.0)).take_while(|x| *x > 0.0).chain([0.0]);
    let wave = wave.map(|x| at(x, height - high + high * (x / LONG * 2.0 * PI).sin()));
    left.chain(right).chain(wave).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const VERDICTS: [Verdict; 5] = [Verdict::Treat, Verdict::Check, Verdict::Hold, Verdict::Clear, Verdict::Help];

    #[test]
    fn each_verdict_has_a_shape_of_its_own_inside_its_square() {
        let signs = VERDICTS.map(|verdict| sign(verdict, 44.0));
        for (nth, shapes) in signs.iter().enumerate() {
            assert!(signs[..nth].iter().all(|other| other != shapes));
            for shape in shapes {
                let (points, half) = match shape {
                    MarkShape::Line { points, width, .. } => (points, width / 2.0),
                    MarkShape::Area { points } => (points, 0.0),
                    other => panic!("{other:?} is no line and no surface"),
                };
                assert!(points.len() > 1 && half >= 0.0);
                let inside = half - 0.9..=44.9 - half;
                assert!(
                    points.iter().all(|one| inside.contains(&one.x) && inside.contains(&one.y)),
                    "{:?}",
                    VERDICTS[nth]
                );
            }
        }
    }

    #[test]
    fn what_is_urgent_weighs_most() {
        assert_eq!(VERDICTS.map(weight), [Weight::Solid, Weight::Outline, Weight::Tint, Weight::Plain, Weight::Solid]);
    }

    #[test]
    fn the_edge_of_a_block_stays_within_it_at_any_size() {
        for (width, height) in [(358.0, 190.0), (1.0, 1.0), (3.0, 500.0), (20_000.0, 12.0)] {
            let edge = block_edge(width, height);
            assert!(edge.len() > 10);
            for place in edge {
                let inside = (-0.01..=width + 0.01).contains(&place.x) && (-0.01..=height + 0.01).contains(&place.y);
                assert!(inside, "{place:?} of {width} by {height}");
            }
        }
        for (width, height) in [(f64::NAN, 10.0), (10.0, f64::INFINITY), (0.0, 0.0), (-4.0, 8.0), (1e9, 10.0)] {
            assert!(block_edge(width, height).is_empty());
        }
    }
}
