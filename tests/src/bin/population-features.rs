//! Writes what the population's values are fitted on: for each reading of each trace, the model's path and its features.
//!
//! `population-features FOLDER > features.csv`; `tests/fit/population.py features.csv` fits, and prints the constants of
//! `core/src/forecast/population.rs` with how well they carry over to wearers they were not fitted on.
#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::io::{BufWriter, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use ebbstead_core::estimate::dynamics::{Dynamics, RATE};
use ebbstead_core::estimate::modes::Circumstances;
use ebbstead_core::estimate::tracker::Tracker;
use ebbstead_core::forecast::calibration::TOLD;
use ebbstead_core::forecast::correction::{Correction, MENDED, features};
use ebbstead_core::forecast::horizon::{Conditions, Horizon, POINTS};
use ebbstead_core::forecast::passage::{Way, crossed_by};
use ebbstead_core::log::Reading;
use ebbstead_core::time::Moment;
use ebbstead_core::units::Glucose;
use ebbstead_core::wearer::Wearer;
use ebbstead_tests::traces::{self, Trace};

/// The lines that chances are fitted at, half a step below the low and the floor line.
const LINES_MG_DL: [f64; 2] = [69.5, 53.5];

fn main() -> ExitCode {
    let Some(folder) = std::env::args_os().nth(1).map(PathBuf::from) else {
        eprintln!("usage: population-features FOLDER   (one folder a data set, CSV files in each)");
        return ExitCode::from(64);
    };
    match write(&folder) {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("{}: {why}", folder.display());
            ExitCode::from(66)
        }
    }
}

fn write(folder: &Path) -> Result<(), Box<dyn std::error::Error>> {
    let mut out = BufWriter::new(std::io::stdout().lock());
    write!(out, "set,wearer,minute,mg_dl,rate")?;
    for minutes in MENDED.map(|point| point * 5) {
        write!(out, ",mean{minutes},variance{minutes}")?;
    }
    for line in ["low", "floor"] {
        for minutes in TOLD.map(|point| point * 5) {
            write!(out, ",{line}{minutes}")?;
        }
    }
    for feature in 0..9 {
        write!(out, ",f{feature}")?;
    }
    writeln!(out)?;
    for set in traces::sets(folder)? {
        for file in &set.files {
            let wearer = file.file_stem().unwrap_or_default().to_string_lossy();
            one(&mut out, &set.name, &wearer, &traces::load(file)?)?;
        }
    }
    out.flush()?;
    Ok(())
}

fn one(out: &mut impl Write, set: &str, wearer: &str, trace: &Trace) -> Result<(), Box<dyn std::error::Error>> {
    let dynamics = Dynamics::POPULATION;
    let (mut tracker, horizon, mut correction) =
        (Tracker::new(dynamics), Horizon::new(dynamics), Correction::default());
    let night = Wearer::default().night;
    for (minute, mg_dl) in trace.minutes.iter().zip(&trace.mg_dl) {
        // Times of a trace are local and have no offset; minutes of two centuries fit.
        #[allow(clippy::cast_possible_truncation)]
        let at = Moment::new((minute * 60_000.0).round() as i64, 0)?;
        let reading = Reading::new(at, Glucose::from_mg_dl(*mg_dl)?);
        let circumstances = Circumstances { asleep: night.contains(reading.at), ..Circumstances::default() };
        tracker.reading(reading, 0.0, &circumstances);
        let Some(belief) = tracker.belief() else { continue };
        correction.reading(*minute, *mg_dl);
        let path = horizon.path(belief, &Conditions::default());
        let mut mended = path;
        correction.mend(&belief.mean, &mut mended);
        correction.expect(*minute, &belief.mean, &path);
        write!(out, "{set},{wearer},{minute},{mg_dl},{}", belief.mean[RATE])?;
        for point in MENDED {
            write!(out, ",{},{}", path.reading_mg_dl[point - 1], path.reading_variance[point - 1])?;
        }
        let sds: [f64; POINTS] = mended.reading_variance.map(|variance| variance.max(1e-9).sqrt());
        for line in LINES_MG_DL {
            let crossed = crossed_by(line, Way::Down, &mended.reading_mg_dl, &sds, &mended.correlation);
            for point in TOLD {
                write!(out, ",{}", crossed[point - 1])?;
            }
        }
        for feature in &features(&belief.mean) {
            write!(out, ",{feature}")?;
        }
        writeln!(out)?;
    }
    Ok(())
}
