//! The shape that stands beside a verdict's word: a filled glass, a drop, level water, a bare line of water, a call. Urgency shows as weight
//! and shape, never as a colour.

use std::f64::consts::PI;

use crate::prompt::Verdict;

/// Points of a curve's piece.
const STEPS: u32 = 12;

/// A point of a square whose sides are 1; y goes down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// From the left side.
    pub x: f64,
    /// From the upper side.
    pub y: f64,
}

/// A part of a sign.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Where it goes, in straight lines so short that they look round.
    pub points: Vec<Point>,
    /// How thick its line is, with round ends; nothing where it is an area.
    pub width: Option<f64>,
}

/// A verdict's own shape, in the ink of its word.
#[must_use]
pub fn sign(verdict: Verdict) -> Vec<Part> {
    match verdict {
        Verdict::Treat => glass(),
        Verdict::Check => vec![drop()],
        Verdict::Hold => vec![water(0.38), water(0.66)],
        Verdict::Clear => vec![water(0.52)],
        Verdict::Help => call(),
    }
}

fn line(points: Vec<Point>, width: f64) -> Part {
    Part { points, width: Some(width) }
}

fn points(places: &[(f64, f64)]) -> Vec<Point> {
    places.iter().map(|&(x, y)| Point { x, y }).collect()
}

/// Goes on from the last point in a cubic Bézier curve by three more; a straight line's three lie on it.
fn bend(path: &mut Vec<Point>, [(ax, ay), (bx, by), (x, y)]: [(f64, f64); 3]) {
    let Some(from) = path.last().copied() else { return };
    for step in 1..=STEPS {
        let t = f64::from(step) / f64::from(STEPS);
        let s = 1.0 - t;
        let at = |from: f64, a: f64, b: f64, to: f64| {
            s * s * s * from + 3.0 * s * s * t * a + 3.0 * s * t * t * b + t * t * t * to
        };
        path.push(Point { x: at(from.x, ax, bx, x), y: at(from.y, ay, by, y) });
    }
}

/// A wave about a level, over so many lengths of it.
fn wave(level: f64, high: f64, from: f64, to: f64, turns: f64) -> Vec<Point> {
    let steps = 2 * STEPS;
    (0..=steps)
        .map(|step| f64::from(step) / f64::from(steps))
        .map(|share| Point { x: from + (to - from) * share, y: level - high * (2.0 * PI * turns * share).sin() })
        .collect()
}

fn water(level: f64) -> Part {
    line(wave(level, 0.05, 0.04, 0.96, 2.0), 0.09)
}

fn glass() -> Vec<Part> {
    let mut filled = wave(0.36, 0.05, 0.22, 0.78, 1.0);
    filled.extend(points(&[(0.69, 0.9), (0.31, 0.9)]));
    let side = points(&[(0.16, 0.1), (0.29, 0.92), (0.71, 0.92), (0.84, 0.1)]);
    vec![Part { points: filled, width: None }, line(side, 0.08)]
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
    let dot = dot.map(|turn| Point { x: 0.5 + 0.1 * turn.cos(), y: 0.86 + 0.1 * turn.sin() }).collect();
    let side = |x: f64, bulge: f64| {
        let mut path = points(&[(x, 0.2)]);
        bend(&mut path, [(x + bulge, 0.32), (x + bulge, 0.44), (x, 0.56)]);
        line(path, 0.07)
    };
    vec![
        line(points(&[(0.5, 0.14), (0.5, 0.6)]), 0.16),
        Part { points: dot, width: None },
        side(0.22, -0.107),
        side(0.78, 0.107),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALL: [Verdict; 5] = [Verdict::Treat, Verdict::Check, Verdict::Hold, Verdict::Clear, Verdict::Help];

    #[test]
    fn each_verdict_has_a_shape_of_its_own_inside_its_square() {
        for (nth, verdict) in ALL.into_iter().enumerate() {
            let parts = sign(verdict);
            for part in &parts {
                let half = part.width.unwrap_or(0.0) / 2.0;
                assert!(part.points.len() > 1 && part.width != Some(0.0), "{verdict:?}");
                for Point { x, y } in &part.points {
                    assert!([x, y].iter().all(|at| (half - 0.02..=1.02 - half).contains(*at)), "{verdict:?} {x} {y}");
                }
            }
            assert!(ALL[..nth].iter().all(|other| sign(*other) != parts), "{verdict:?}");
        }
    }
}
