//! Scores candidate dynamics for `tests/fit/dynamics.py`: one JSON object of dynamics a line on standard input, one line of
//! figures back.
//!
//! `fit-dynamics CGM VIRTUAL`: CGM is a folder of folders of readings, VIRTUAL a folder of virtual wearers whose blood
//! glucose is known. Figures: root mean squared error of blood glucose on the virtual wearers (mean over wearers of the mean
//! square, in mg/dL), over all readings and where blood moves faster than 1 mg/dL/min, the share of them within 1.96
//! standard deviations, the error of the reading expected 30 minutes ahead before any correction, and the mean
//! log-likelihood of the next reading.
#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::io::{BufRead, Write};
use std::path::Path;
use std::process::ExitCode;

use ebbstead_core::estimate::dynamics::Dynamics;
use ebbstead_core::estimate::modes::Circumstances;
use ebbstead_core::estimate::tracker::Tracker;
use ebbstead_core::forecast::grid::PredictionGrid;
use ebbstead_core::log::Reading;
use ebbstead_core::time::Moment;
use ebbstead_core::units::Glucose;
use ebbstead_core::wearer::Wearer;
use ebbstead_tests::traces::{self, Trace, Virtual};

/// Readings of each trace that are gone through.
const MOST_READINGS: usize = 2500;
/// The first hours of a trace still know too little.
const BEGUN: usize = 36;

fn main() -> ExitCode {
    let mut arguments = std::env::args_os().skip(1);
    let (Some(cgm), Some(sim)) = (arguments.next(), arguments.next()) else {
        eprintln!("usage: fit-dynamics CGM VIRTUAL");
        return ExitCode::from(64);
    };
    match serve(Path::new(&cgm), Path::new(&sim)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("fit-dynamics: {why}");
            ExitCode::from(66)
        }
    }
}

fn serve(cgm: &Path, sim: &Path) -> Result<(), Box<dyn std::error::Error>> {
    let mut people = Vec::new();
    for set in traces::sets(cgm)? {
        for file in &set.files {
            people.push(traces::load(file)?);
        }
    }
    let mut wearers = Vec::new();
    for set in traces::sets(sim)? {
        for file in &set.files {
            wearers.push(traces::load_virtual(file)?);
        }
    }
    for line in std::io::stdin().lock().lines() {
        let dynamics: Dynamics = serde_json::from_str(&line?)?;
        let (raw, all, fast, cover) = blood(&dynamics, &wearers)?;
        let ahead = ahead(&dynamics, &people)?;
        println!("{{\"raw\":{raw:.4},\"all\":{all:.4},\"fast\":{fast:.4},\"cover\":{cover:.4},\"ahead\":{ahead:.4}}}");
        std::io::stdout().flush()?;
    }
    Ok(())
}

fn follow(
    dynamics: &Dynamics,
    minutes: &[f64],
    mg_dl: &[f64],
    mut see: impl FnMut(usize, &Tracker),
) -> Result<(), Box<dyn std::error::Error>> {
    let mut tracker = Tracker::new(*dynamics);
    let night = Wearer::default().night;
    for (k, (minute, mg_dl)) in minutes.iter().zip(mg_dl).enumerate() {
        // Minutes of two centuries fit.
        let at = Moment::new((minute * 60_000.0).round() as i64 + 1_767_225_600_000, 0)?;
        let circumstances = Circumstances { asleep: night.contains(at), ..Circumstances::default() };
        tracker.reading(Reading::new(at, Glucose::from_mg_dl(*mg_dl)?), &circumstances);
        see(k, &tracker);
    }
    Ok(())
}

fn blood(dynamics: &Dynamics, wearers: &[Virtual]) -> Result<(f64, f64, f64, f64), Box<dyn std::error::Error>> {
    let (mut raw, mut all, mut fast, mut cover) = (0.0, 0.0, 0.0, 0.0);
    for one in wearers {
        let truth = &one.blood_mg_dl;
        let (mut n, mut nf, mut sr, mut sa, mut sf, mut sc) = (0.0_f64, 0.0_f64, 0.0, 0.0, 0.0, 0.0);
        follow(dynamics, &one.sensor.minutes, &one.sensor.mg_dl, |k, tracker| {
            let now = tracker.at().and_then(|at| tracker.estimate(at, &Circumstances::default()));
            let (Some(estimate), true) = (now, k > BEGUN && k + 1 < truth.len()) else { return };
            let off = estimate.blood_mg_dl - truth[k];
            let rate = (truth[k + 1] - truth[k - 1]) / 10.0;
            n += 1.0;
            sr += (one.sensor.mg_dl[k] - truth[k]).powi(2);
            sa += off * off;
            sc += f64::from(u8::from(off.abs() < 1.96 * estimate.blood_sd_mg_dl));
            if rate.abs() > 1.0 {
                nf += 1.0;
                sf += off * off;
            }
        })?;
        raw += sr / n;
        all += sa / n;
        fast += sf / nf.max(1.0);
        cover += sc / n;
    }
    let count = wearers.len() as f64;
    Ok(((raw / count).sqrt(), (all / count).sqrt(), (fast / count).sqrt(), cover / count))
}

fn ahead(dynamics: &Dynamics, people: &[Trace]) -> Result<f64, Box<dyn std::error::Error>> {
    let grid = PredictionGrid::new(*dynamics);
    let mut ratios = 0.0;
    for one in people {
        let last = one.minutes.len().min(MOST_READINGS);
        let (mut n, mut ours, mut still) = (0.0_f64, 0.0, 0.0);
        follow(dynamics, &one.minutes[..last], &one.mg_dl[..last], |k, tracker| {
            let (Some(gaussian), true) = (tracker.gaussian(), k > BEGUN && k + 6 < last) else { return };
            if (one.minutes[k + 6] - one.minutes[k] - 30.0).abs() > 2.5 || k % 3 != 0 {
                return;
            }
            let path = grid.path(gaussian, false);
            n += 1.0;
            ours += (path.reading_mg_dl[5] - one.mg_dl[k + 6]).powi(2);
            still += (one.mg_dl[k] - one.mg_dl[k + 6]).powi(2);
        })?;
        ratios += (ours / still.max(1.0)).sqrt();
    }
    Ok(ratios / people.len() as f64)
}
