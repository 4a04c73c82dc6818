//! `recover`: what can be read of a damaged log, into a new one.

use std::path::PathBuf;

use clap::Args;
use ebbstead_core::say;
use ebbstead_core::sentences::merge::recovered_lines;
use ebbstead_core::store::Log;

use crate::context::Context;
use crate::failure::Failure;

/// `recover`.
#[derive(Debug, Args)]
pub struct Recover {
    /// The new log; the old one is your own, or the one named by --log
    #[arg(value_name = "NEW")]
    pub into: PathBuf,
}

pub fn run(context: &Context, given: &Recover) -> Result<(), Failure> {
    let now = context.now()?;
    let damaged = context.log_path()?;
    let recovered = Log::recover(&damaged, &given.into, now)?;
    let mut screen = context.screen();
    for line in recovered_lines(&recovered, context.words()) {
        screen.paragraph(&line)?;
    }
    screen.gap()?;
    let (old, new) = (damaged.display(), given.into.display());
    screen.paragraph(&say!(context.words(), "terminal-recover-damaged-log-only-read-and", old, new))?;
    Ok(screen.finish()?)
}
