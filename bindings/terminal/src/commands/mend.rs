//! `mend`: what can be read of a damaged log, into a new one.

use std::path::PathBuf;

use clap::Args;
use ebbstead_core::sentences::merge::mended_lines;
use ebbstead_core::store::Log;

use crate::desk::Desk;
use crate::failure::Failure;

/// `mend`.
#[derive(Debug, Args)]
pub struct Mend {
    /// The new log; the damaged one is your own, or the one named by --log
    pub into: PathBuf,
}

pub fn run(desk: &Desk, given: &Mend) -> Result<(), Failure> {
    let now = desk.now()?;
    let damaged = desk.log_path()?;
    let mended = Log::mend(&damaged, &given.into, now)?;
    let mut screen = desk.screen();
    for line in mended_lines(&mended, desk.words()) {
        screen.paragraph(&line)?;
    }
    screen.gap()?;
    let (old, new) = (damaged.display(), given.into.display());
    screen.paragraph(&desk.pick(
        format!(
            "The damaged log was only read and is kept: {old}. Look through the new one with --log {new}. To go on with \
             it, move the damaged file, and those beside it that begin with its name, somewhere else; then put the new \
             one in its place. Settings and everything else are worth a look before you rely on it."
        ),
        format!(
            "Das beschädigte Protokoll wurde nur gelesen und bleibt: {old}. Sieh das neue mit --log {new} durch. Um damit \
             weiterzumachen, verschieb die beschädigte Datei und die daneben, die mit ihrem Namen beginnen, an einen \
             anderen Ort; dann leg die neue an ihren Platz. Sieh Einstellungen und alles andere durch, bevor du dich \
             darauf verlässt."
        ),
    ))?;
    Ok(screen.finish()?)
}
