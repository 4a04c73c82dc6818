//! `merge`: another device's log into this one, shown before it is done.

use std::path::PathBuf;

use clap::Args;
use ebbstead_core::sentences::merge as sentences;
use ebbstead_core::store::{Facts, Log, Meeting};
use ebbstead_core::time::Moment;
use ebbstead_core::{say, text};

use crate::desk::Desk;
use crate::failure::Failure;

/// `merge`.
#[derive(Debug, Args)]
pub struct Merge {
    /// The other device's log, or a copy of it; it is only read
    pub file: PathBuf,
    #[command(flatten)]
    pub consent: Consent,
}

/// How far the wearer has agreed.
#[derive(Clone, Copy, Debug, Args)]
pub struct Consent {
    /// Take it in; without this, only what would change is shown
    #[arg(long)]
    pub take_in: bool,
    /// Take it in although something speaks against it
    #[arg(long, requires = "take_in")]
    pub even_so: bool,
}

pub fn run(desk: &Desk, given: &Merge) -> Result<(), Failure> {
    let now = desk.now()?;
    let other = Log::open_to_read(&given.file)?;
    // What is damaged is mended first: taking in a part would look like all of it.
    other.look_through()?;
    let (mut log, _) = desk.open_to_write(now)?;
    take_in(desk, &mut log, &other, given.consent, now)
}

/// Shows what taking in would change and, with the wearer's consent, does it.
pub fn take_in(desk: &Desk, log: &mut Log, other: &dyn Facts, consent: Consent, now: Moment) -> Result<(), Failure> {
    let words = desk.words();
    let meeting = log.meet(other, now)?;
    let objections = meeting.objections();
    let mut screen = desk.screen();
    for line in sentences::meeting_lines(&meeting, words) {
        screen.item(&line)?;
    }
    if !objections.is_empty() {
        screen.gap()?;
        screen.heading(text!(desk.words(), "terminal-merge-against"))?;
        for objection in &objections {
            screen.item(&sentences::objection(*objection, words))?;
        }
    }
    screen.gap()?;
    if meeting.changes_nothing() {
        return Ok(screen.finish()?);
    }
    if !consent.take_in {
        screen.paragraph(&asked(desk, &meeting))?;
        return Ok(screen.finish()?);
    }
    if !objections.is_empty() && !consent.even_so {
        screen.finish()?;
        return Err(Failure::Value(text!(desk.words(), "terminal-merge-nothing-taken-in-if-you").to_owned()));
    }
    for line in sentences::taken_in_lines(&log.merge(other)?, false, words) {
        screen.paragraph(&line)?;
    }
    Ok(screen.finish()?)
}

fn asked(desk: &Desk, meeting: &Meeting) -> String {
    let even_so = if meeting.objections().is_empty() { "" } else { " --even-so" };
    say!(desk.words(), "terminal-merge-nothing-written-to-take-in", even_so)
}
