//! Writes what the population's values are fitted on: for each reading of each trace or table of events, the model's path,
//! its features, and the state of the correction at that time.
//!
//! `population-features FOLDER OUT.bin`; `tests/fit/population.py` reads it. OUT.bin holds 64-bit floats, a row each reading:
//! person, minute, reading, rate, carbohydrate at work, insulin at work (mg/dL in half an hour), then the model's plain
//! means and variances at the 12 points of the hour, then the corrected means and the spread-scaled variances, then the
//! features. OUT.bin.people names the people; OUT.bin.sample holds the normalised deviations of the sampled paths.
#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::fs::File;
use std::io::{BufRead, BufReader, BufWriter, Read, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use ebbstead_core::body::effects::Effects;
use ebbstead_core::estimate::dynamics::Dynamics;
use ebbstead_core::estimate::modes::Circumstances;
use ebbstead_core::estimate::tracker::{Tracker, rate_mg_dl_min};
use ebbstead_core::exchange::csv::Zone;
use ebbstead_core::exchange::csv::events::{Events, is_header};
use ebbstead_core::forecast::correction::{Correction, features};
use ebbstead_core::forecast::grid::{HOUR, PredictionGrid};
use ebbstead_core::log::History;
use ebbstead_core::wearer::Wearer;
use ebbstead_tests::traces;

fn main() -> ExitCode {
    let mut arguments = std::env::args_os().skip(1).map(PathBuf::from);
    let (Some(folder), Some(out)) = (arguments.next(), arguments.next()) else {
        eprintln!("usage: population-features FOLDER OUT.bin   (one folder a data set, CSV files in each)");
        return ExitCode::from(64);
    };
    match write(&folder, &out) {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("{}: {why}", folder.display());
            ExitCode::from(66)
        }
    }
}

fn write(folder: &Path, to: &Path) -> Result<(), Box<dyn std::error::Error>> {
    let beside = |end: &str| {
        let mut name = to.as_os_str().to_owned();
        name.push(end);
        File::create(PathBuf::from(name))
    };
    let (mut out, mut people) = (BufWriter::new(File::create(to)?), beside(".people")?);
    let mut sample = Some(BufWriter::new(beside(".sample")?));
    let mut person = 0.0;
    for set in traces::sets(folder)? {
        for file in &set.files {
            writeln!(people, "{},{}", set.name, file.file_stem().unwrap_or_default().to_string_lossy())?;
            one(&mut out, &mut sample, person, file)?;
            person += 1.0;
        }
    }
    Ok(out.flush()?)
}

fn one(
    out: &mut impl Write,
    sample: &mut Option<impl Write>,
    person: f64,
    file: &Path,
) -> Result<(), Box<dyn std::error::Error>> {
    let mut input = BufReader::new(File::open(file)?);
    let mut header = String::new();
    input.read_line(&mut header)?;
    if !is_header(&header) {
        return Err(format!("{}: no table of events", file.display()).into());
    }
    let rest: Box<dyn Read> = Box::new(input);
    let mut events = Events::behind(&header, rest, &Zone::Fixed(0))?;
    let dynamics = Dynamics::POPULATION;
    let (mut tracker, grid, mut correction) =
        (Tracker::new(dynamics), PredictionGrid::new(dynamics), Correction::default());
    let (wearer, mut history) = (Wearer::default(), History::default());
    let mut began = None;
    let mut count = 0;
    while let Some(row) = events.next_row()? {
        history.doses.extend(row.dose);
        history.carbohydrate.extend(row.carbohydrate.iter().copied());
        let Some(reading) = row.reading else { continue };
        let minute = reading.at.minutes_since(*began.get_or_insert(reading.at));
        let circumstances = Circumstances { asleep: wearer.night.contains(reading.at), ..Circumstances::default() };
        tracker.reading(reading, &circumstances);
        let Some(gaussian) = tracker.gaussian() else { continue };
        let mg_dl = reading.glucose.mg_dl();
        let effects = Effects::at(&history, &wearer, reading.at);
        correction.reading(minute, mg_dl);
        let plain = grid.path(gaussian, circumstances.asleep);
        let features = features(&gaussian.mean, &effects);
        let mut corrected = plain;
        correction.correct(&features, &mut corrected);
        correction.expect(minute, features, &plain);
        let mut numbers =
            vec![person, minute, mg_dl, rate_mg_dl_min(gaussian, &dynamics), effects.carbohydrate, effects.insulin];
        for path in [&plain, &corrected] {
            numbers.extend(&path.reading_mg_dl[..HOUR]);
            numbers.extend(&path.reading_variance[..HOUR]);
        }
        numbers.extend(features.iter());
        for number in numbers {
            out.write_all(&number.to_le_bytes())?;
        }
        count += 1;
        // Correlations along the path hardly differ once the filter has settled.
        if count == 200
            && let Some(mut sample) = sample.take()
        {
            for (k, row) in grid.deviations(gaussian, circumstances.asleep).iter().enumerate() {
                for deviation in row {
                    sample.write_all(&(deviation / plain.reading_variance[k].sqrt()).to_le_bytes())?;
                }
            }
            sample.flush()?;
        }
    }
    Ok(())
}
