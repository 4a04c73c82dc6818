//! The closed-loop trial of `ebbstead_tests::trial`, as a table.
//!
//! `trial [WEARERS] [DAYS] [SEED] [FIRST]`: 6 wearers of 3 days each unless said otherwise, from number FIRST (1) on.
//! `TRIAL_RULE=ebbstead` tries only the rules whose names contain the word; `TRIAL_FUTURES=FILE` writes both futures of each falling
//! reading, as shown and as they would have come, for `tests/fit/futures.py`.
#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::ffi::OsStr;
use std::fs::File;
use std::io::{BufWriter, Write};
use std::process::ExitCode;

use ebbstead_tests::trial::policy::Rule;
use ebbstead_tests::trial::{Compared, Outcome, Virtual};

fn main() -> ExitCode {
    let mut numbers = std::env::args().skip(1).map(|word| word.parse::<u32>());
    let mut next = |otherwise: u32| numbers.next().unwrap_or(Ok(otherwise));
    let (Ok(wearers), Ok(days), Ok(seed), Ok(first)) = (next(6), next(3), next(1), next(1)) else {
        eprintln!("usage: trial [WEARERS] [DAYS] [SEED] [FIRST]   (whole numbers)");
        return ExitCode::from(64);
    };
    let only = std::env::var("TRIAL_RULE").ok();
    let people: Vec<Virtual> = (first..first + wearers).map(Virtual::number).collect();
    println!(
        "{:<22} {:>9} {:>9} {:>9} {:>7} {:>7} {:>9} {:>9} {:>7} {:>8}",
        "a day", "min < 70", "min < 54", "min > 180", "treats", "grams", "needless", "fingers", "asked", "wavered"
    );
    for rule in
        Rule::ALL.into_iter().filter(|rule| only.as_ref().is_none_or(|word| rule.name().contains(word.as_str())))
    {
        let mut all = Outcome::default();
        let mut compared = Vec::new();
        for person in &people {
            match person.live(rule, days as usize, u64::from(seed)) {
                Ok((outcome, futures)) => {
                    all = all.and(outcome);
                    compared.extend(futures);
                }
                Err(error) => {
                    eprintln!("{}: {error}", rule.name());
                    return ExitCode::FAILURE;
                }
            }
        }
        println!(
            "{:<22} {:>9.1} {:>9.1} {:>9.0} {:>7.2} {:>7.0} {:>9.2} {:>9.2} {:>7.1} {:>8.3}",
            rule.name(),
            all.a_day(all.below_70),
            all.a_day(all.below_54),
            all.a_day(all.above_180),
            all.a_day(all.treats),
            all.a_day(all.grams),
            all.needless_share(),
            all.a_day(all.checks),
            all.a_day(all.asked),
            all.wavered / all.falls.max(1.0)
        );
        show_futures(&compared);
        if let Some(file) = std::env::var_os("TRIAL_FUTURES").filter(|_| !compared.is_empty())
            && let Err(error) = write_futures(&file, &compared)
        {
            eprintln!("{}: {error}", file.display());
            return ExitCode::from(74);
        }
    }
    ExitCode::SUCCESS
}

fn write_futures(file: &OsStr, compared: &[Compared]) -> std::io::Result<()> {
    let mut out = BufWriter::new(File::create(file)?);
    writeln!(out, "wait,wait_came,treat,treat_came")?;
    for one in compared {
        writeln!(out, "{},{},{},{}", one.wait, u8::from(one.wait_came), one.treat, u8::from(one.treat_came))?;
    }
    out.flush()
}

/// The chance shown of one future, and whether it came.
type Of = fn(&Compared) -> (f64, bool);

/// Chances shown of a low within 30 minutes beside how often it came, in tenths, for both futures.
fn show_futures(compared: &[Compared]) {
    let futures: [(&str, Of); 2] =
        [("if you wait", |one| (one.wait, one.wait_came)), ("if you treat", |one| (one.treat, one.treat_came))];
    for (name, of) in futures {
        for tenth in 0..10_u8 {
            let from = f64::from(tenth) / 10.0;
            let here: Vec<(f64, bool)> = compared
                .iter()
                .map(of)
                .filter(|(shown, _)| (from..from + 0.1 + f64::EPSILON).contains(shown))
                .collect();
            if here.is_empty() {
                continue;
            }
            let count = here.len() as f64;
            let shown = here.iter().map(|one| one.0).sum::<f64>() / count;
            let came = here.iter().filter(|one| one.1).count() as f64 / count;
            println!("    {name}: shown {shown:.3} came {came:.3} of {count}");
        }
    }
}
