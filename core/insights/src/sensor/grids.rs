//! Error grids: what a difference between sensor and meter could lead to.

use serde::Serialize;

/// A zone, from no consequence to the worst.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Zone {
    /// No effect on what one does.
    A,
    /// Little or no effect on the outcome.
    B,
    /// Likely to affect the outcome.
    C,
    /// A significant risk.
    D,
    /// Dangerous.
    E,
}

impl Zone {
    /// All, from A to E.
    pub const ALL: [Self; 5] = [Self::A, Self::B, Self::C, Self::D, Self::E];
}

/// The zone in the error grid of Clarke, from reference (meter) and sensor in mg/dL.
///
/// # Source
/// Clarke WL, Cox D, Gonder-Frederick LA, et al., Diabetes Care 1987;10:622-628, in its standard piecewise form (from
/// memory). Zones are tried in the order A, E, C, D, B.
#[must_use]
pub fn clarke(reference_mg_dl: f64, sensor_mg_dl: f64) -> Zone {
    let (r, p) = (reference_mg_dl, sensor_mg_dl);
    if (p - r).abs() <= 0.2 * r || (r < 70.0 && p < 70.0) {
        Zone::A
    } else if (r <= 70.0 && p >= 180.0) || (r >= 180.0 && p <= 70.0) {
        Zone::E
    } else if ((70.0..=290.0).contains(&r) && p >= r + 110.0) || ((130.0..=180.0).contains(&r) && p <= 1.4 * r - 182.0)
    {
        Zone::C
    } else if (r >= 240.0 && (70.0..=180.0).contains(&p))
        || (r <= 175.0 / 3.0 && (70.0..=180.0).contains(&p))
        || ((175.0 / 3.0..=70.0).contains(&r) && p >= 1.2 * r)
    {
        Zone::D
    } else {
        Zone::B
    }
}

type Border = &'static [(f64, f64)];

/// Into each zone from below and from above; (reference, sensor) in mg/dL.
const PARKES: [(Zone, Border, Border); 4] = [
    (Zone::E, &[], &[(0.0, 150.0), (35.0, 155.0), (50.0, 550.0)]),
    (
        Zone::D,
        &[(250.0, 0.0), (250.0, 40.0), (550.0, 150.0)],
        &[(0.0, 100.0), (25.0, 100.0), (50.0, 125.0), (80.0, 215.0), (125.0, 550.0)],
    ),
    (
        Zone::C,
        &[(120.0, 0.0), (120.0, 30.0), (260.0, 130.0), (550.0, 250.0)],
        &[(0.0, 60.0), (30.0, 60.0), (50.0, 80.0), (70.0, 110.0), (260.0, 550.0)],
    ),
    (
        Zone::B,
        &[(50.0, 0.0), (50.0, 30.0), (170.0, 145.0), (385.0, 300.0), (550.0, 450.0)],
        &[(0.0, 50.0), (30.0, 50.0), (140.0, 170.0), (280.0, 380.0), (430.0, 550.0)],
    ),
];

/// The zone in the error grid of Parkes for type 1 diabetes, from reference (meter) and sensor in mg/dL.
///
/// On a border the milder zone; beyond 550 mg/dL the borders go on straight. The paper leaves both open.
///
/// # Source
/// Pfützner A, Klonoff DC, Pardo S, Parkes JL, J Diabetes Sci Technol 2013;7(5):1275-1281, table 1.
#[must_use]
pub fn parkes(reference_mg_dl: f64, sensor_mg_dl: f64) -> Zone {
    let (x, y) = (reference_mg_dl, sensor_mg_dl);
    let inside = |lower: Border, upper: Border| {
        height(lower, x).is_some_and(|border| y < border) || height(upper, x).is_some_and(|border| y > border)
    };
    PARKES.iter().find(|(_, lower, upper)| inside(lower, upper)).map_or(Zone::A, |(zone, ..)| *zone)
}

/// The height of a border at a reference; nothing left of it.
fn height(border: Border, x: f64) -> Option<f64> {
    let begin = border.first()?.0;
    if x < begin || (x <= begin && begin > 0.0) {
        return None;
    }
    let pieces = || border.windows(2).filter(|piece| piece[1].0 > piece[0].0);
    let piece = pieces().find(|piece| x <= piece[1].0).or_else(|| pieces().next_back())?;
    let ((x0, y0), (x1, y1)) = (piece[0], piece[1]);
    Some(y0 + (y1 - y0) * (x - x0) / (x1 - x0))
}
