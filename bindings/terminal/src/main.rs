//! The terminal shell of Ebbstead: asks the core, shows what it says, and keeps the log.
//!
//! It judges nothing itself. Results go to standard output, progress and errors to standard error.

mod arguments;
mod chart;
mod commands;
mod context;
mod demo;
mod failure;
mod json;
mod prompt_view;
mod screen;
mod when;

use std::process::ExitCode;

use clap::Parser;

use crate::arguments::{Arguments, Command};
use crate::context::Context;
use crate::failure::Failure;

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    let context = Context::new(&arguments);
    match (run(arguments, &context), context.damage()) {
        (Ok(()), None) => ExitCode::SUCCESS,
        (Ok(()), Some(damage)) => Failure::Sound(damage).end(&context),
        // What is missing may be what the damage took.
        (Err(failure @ (Failure::Missing(_) | Failure::Value(_))), Some(damage)) => {
            failure.end(&context);
            Failure::Core(damage).end(&context)
        }
        (Err(failure), _) => failure.end(&context),
    }
}

fn run(arguments: Arguments, context: &Context) -> Result<(), Failure> {
    match arguments.command {
        None => demo::show(context),
        Some(Command::Demo) => demo::show(context),
        Some(Command::Import(given)) => commands::import::run(context, &given),
        Some(Command::Export(given)) => commands::export::run(context, &given),
        Some(Command::Add(given)) => commands::add::add(context, &given),
        Some(Command::Correct(given)) => commands::add::correct(context, &given),
        Some(Command::Undo(given)) => commands::add::undo(context, &given),
        Some(Command::Check(given)) => commands::check::check(context, &given),
        Some(Command::Wake(given)) => commands::check::wake(context, &given),
        Some(Command::Before(given)) => commands::before::run(context, &given),
        Some(Command::Learn(given)) => commands::learn::run(context, &given),
        Some(Command::Reliability(given)) => commands::reliability::run(context, &given),
        Some(Command::Smooth(given)) => commands::smooth::run(context, &given),
        Some(Command::Log(given)) => commands::list::run(context, &given),
        Some(Command::Recover(given)) => commands::recover::run(context, &given),
        Some(Command::Merge(given)) => commands::merge::run(context, &given),
        Some(Command::Replay(given)) => commands::replay::run(context, &given),
        Some(Command::Review(given)) => commands::review::run(context, &given),
        Some(Command::Seal(given)) => commands::seal::seal(context, &given),
        Some(Command::Unseal(given)) => commands::seal::unseal(context, &given),
        Some(Command::Sensor(given)) => commands::sensor::run(context, &given),
        Some(Command::Alerts(given)) => commands::alerts::run(context, &given),
        Some(Command::Supplies(given)) => commands::supplies::run(context, &given),
        Some(Command::Outcomes(given)) => commands::outcomes::run(context, &given),
        Some(Command::Settings(given)) => commands::settings::run(context, &given),
    }
}
