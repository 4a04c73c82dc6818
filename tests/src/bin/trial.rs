//! The closed-loop trial of `ebbstead_tests::trial`, as a table.
//!
//! `trial [WEARERS] [DAYS] [SEED] [FIRST]`: 6 wearers of 3 days each unless said otherwise, from number FIRST (1) on.
#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::process::ExitCode;

use ebbstead_tests::trial::policy::Rule;
use ebbstead_tests::trial::{Outcome, Virtual};

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
        for person in &people {
            match person.live(rule, days as usize, u64::from(seed)) {
                Ok(outcome) => all = all.and(outcome),
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
    }
    ExitCode::SUCCESS
}
