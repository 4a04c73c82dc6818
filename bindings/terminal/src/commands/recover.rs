//! `recover`: what can be read of a damaged log, into a new one.

use std::path::PathBuf;

use clap::Args;
use ebbstead_core::say;
use ebbstead_core::sentences::merge::mended_lines;
use ebbstead_core::store::Log;

use crate::desk::Desk;
use crate::failure::Failure;

/// `recover`.
#[derive(Debug, Args)]
pub struct Recover {
    /// The new log; the damaged one is your own, or the one named by --log
    pub into: PathBuf,
}

pub fn run(desk: &Desk, given: &Recover) -> Result<(), Failure> {
    let now = desk.now()?;
    let damaged = desk.log_path()?;
    let mended = Log::mend(&damaged, &given.into, now)?;
    let mut screen = desk.screen();
    for line in mended_lines(&mended, desk.words()) {
        screen.paragraph(&line)?;
    }
    screen.gap()?;
    let (old, new) = (damaged.display(), given.into.display());
    screen.paragraph(&say!(desk.words(), "terminal-mend-damaged-log-only-read-and", old, new))?;
    Ok(screen.finish()?)
}
