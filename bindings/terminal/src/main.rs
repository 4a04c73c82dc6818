//! The desk shell of Ebbstead: asks the core, shows what it says, and keeps the log.
//!
//! It judges nothing itself. Results go to standard output, progress and errors to standard error.

mod arguments;
mod commands;
mod demo;
mod desk;
mod failure;
mod json;
mod picture;
mod prompt_view;
mod screen;
mod when;

use std::process::ExitCode;

use clap::Parser;

use crate::arguments::{Arguments, Command};
use crate::desk::Desk;
use crate::failure::Failure;

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    let desk = Desk::new(&arguments);
    match (run(arguments, &desk), desk.damage()) {
        (Ok(()), None) => ExitCode::SUCCESS,
        (Ok(()), Some(damage)) => Failure::Sound(damage).end(&desk),
        (Err(failure), _) => failure.end(&desk),
    }
}

fn run(arguments: Arguments, desk: &Desk) -> Result<(), Failure> {
    match arguments.command {
        None => demo::show(desk),
        Some(Command::Demo) => demo::show(desk),
        Some(Command::Import(given)) => commands::import::run(desk, &given),
        Some(Command::Export(given)) => commands::export::run(desk, &given),
        Some(Command::Add(given)) => commands::add::add(desk, &given),
        Some(Command::Correct(given)) => commands::add::correct(desk, &given),
        Some(Command::Undo(given)) => commands::add::undo(desk, &given),
        Some(Command::Check(given)) => commands::check::check(desk, &given),
        Some(Command::Wake(given)) => commands::check::wake(desk, &given),
        Some(Command::Before(given)) => commands::before::run(desk, &given),
        Some(Command::Learn(given)) => commands::learn::run(desk, &given),
        Some(Command::Reliability(given)) => commands::reliability::run(desk, &given),
        Some(Command::Smooth(given)) => commands::smooth::run(desk, &given),
        Some(Command::Log(given)) => commands::list::run(desk, &given),
        Some(Command::Recover(given)) => commands::recover::run(desk, &given),
        Some(Command::Merge(given)) => commands::merge::run(desk, &given),
        Some(Command::Replay(given)) => commands::replay::run(desk, &given),
        Some(Command::Review(given)) => commands::review::run(desk, &given),
        Some(Command::Seal(given)) => commands::seal::seal(desk, &given),
        Some(Command::Unseal(given)) => commands::seal::unseal(desk, &given),
        Some(Command::Sensor(given)) => commands::sensor::run(desk, &given),
        Some(Command::Alerts(given)) => commands::alerts::run(desk, &given),
        Some(Command::Supplies(given)) => commands::supplies::run(desk, &given),
        Some(Command::Outcomes(given)) => commands::outcomes::run(desk, &given),
        Some(Command::Settings(given)) => commands::settings::run(desk, &given),
    }
}
