//! Is blood glucose found behind the sensor's lag? Asked of virtual wearers, whose blood glucose is known.

use std::path::PathBuf;

use serde::Serialize;

use crate::evaluation::Replay;
use crate::traces::{Problem, load_virtual};

/// Errors of the sensor as read, and of the estimate. Each is the root of the mean of the wearers' mean squares.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct BehindLag {
    /// How many wearers.
    pub wearers: usize,
    /// The sensor as read, in mg/dL.
    pub sensor_mg_dl: f64,
    /// The sensor while blood glucose moves faster than 1 mg/dL/min.
    pub sensor_fast_mg_dl: f64,
    /// The estimate, in mg/dL.
    pub estimate_mg_dl: f64,
    /// The estimate while blood glucose moves faster than 1 mg/dL/min.
    pub estimate_fast_mg_dl: f64,
    /// How often blood glucose was within 1.96 stated standard deviations.
    pub covered: f64,
}

/// Readings at the start that are not asked about: the estimate has to find its feet.
const SETTLING: usize = 36;

/// Scores virtual wearers. Nothing where there are none with enough readings.
///
/// # Errors
/// [`Problem`] where a file cannot be read or core refuses it.
pub fn behind_lag(
    files: &[PathBuf],
    replay: &Replay<'_>,
    mut progress: impl FnMut(&PathBuf),
) -> Result<Option<BehindLag>, Problem> {
    let (mut wearers, mut squares, mut covered) = (0, [Mean::default(); 4], Mean::default());
    for path in files {
        let known = load_virtual(path)?;
        if known.blood_mg_dl.len() <= SETTLING + 2 {
            continue;
        }
        progress(path);
        wearers += 1;
        let lines = replay(&known.sensor).map_err(|error| Problem::of_core(path, error))?;
        let blood = &known.blood_mg_dl;
        let (mut own, mut inside) = ([Mean::default(); 4], Mean::default());
        for at in SETTLING + 1..blood.len() {
            let sensor = (known.sensor.mg_dl[at] - blood[at]).powi(2);
            let estimate = (lines[at].blood_mg_dl - blood[at]).powi(2);
            own[0].add(sensor);
            own[2].add(estimate);
            if gradient(blood, at).abs() / 5.0 > 1.0 {
                own[1].add(sensor);
                own[3].add(estimate);
            }
            inside.add(f64::from(u8::from(estimate.sqrt() < 1.96 * lines[at].blood_sd_mg_dl)));
        }
        for (all, own) in squares.iter_mut().zip(own) {
            own.value().into_iter().for_each(|value| all.add(value));
        }
        inside.value().into_iter().for_each(|value| covered.add(value));
    }
    let root = |mean: Mean| mean.value().map(f64::sqrt);
    let [sensor, sensor_fast, estimate, estimate_fast] = squares.map(root);
    Ok((|| {
        Some(BehindLag {
            wearers,
            sensor_mg_dl: sensor?,
            sensor_fast_mg_dl: sensor_fast?,
            estimate_mg_dl: estimate?,
            estimate_fast_mg_dl: estimate_fast?,
            covered: covered.value()?,
        })
    })())
}

/// The change a reading, by central differences inside and one-sided at the ends.
fn gradient(values: &[f64], at: usize) -> f64 {
    let (from, to) = (at.saturating_sub(1), (at + 1).min(values.len() - 1));
    (values[to] - values[from]) / (to - from) as f64
}

#[derive(Clone, Copy, Default)]
struct Mean {
    sum: f64,
    count: f64,
}

impl Mean {
    fn add(&mut self, value: f64) {
        self.sum += value;
        self.count += 1.0;
    }

    fn value(self) -> Option<f64> {
        (self.count > 0.5).then(|| self.sum / self.count)
    }
}
