//! `merge`: another device's log into this one, shown before it is done.

use std::path::PathBuf;

use clap::Args;
use ebbstead_core::copies::Opened;
use ebbstead_core::sentences::merge::merged_lines;
use ebbstead_core::store::Log;
use ebbstead_core::time::Moment;
use ebbstead_core::{say, text};

use crate::context::Context;
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
    /// Merge it; without this, only what would change is shown
    #[arg(long, alias = "take-in")]
    pub apply: bool,
    /// Merge it although something speaks against it
    #[arg(long, requires = "apply", alias = "even-so")]
    pub force: bool,
}

pub fn run(context: &Context, given: &Merge) -> Result<(), Failure> {
    let now = context.now()?;
    let other = Opened::of(&given.file, None)?;
    let (mut log, _) = context.open_to_write(now)?;
    merge(context, &mut log, &other, given.consent, now)
}

/// Shows what merging would change and, with the wearer's consent, does it. Into an empty log a sealed one comes whole at once, unless
/// something speaks against it: that has to be seen first, as anywhere.
pub fn merge(context: &Context, log: &mut Log, other: &Opened, consent: Consent, now: Moment) -> Result<(), Failure> {
    let words = context.words();
    let preview = other.preview(log, now, words)?;
    let is_clear = preview.warnings.is_empty() || consent.force;
    let mut screen = context.screen();
    if !(preview.restores && is_clear) {
        for line in &preview.lines {
            screen.item(line)?;
        }
        if !preview.warnings.is_empty() {
            screen.gap()?;
            screen.heading(text!(words, "terminal-merge-against"))?;
            for warning in &preview.warnings {
                screen.item(warning)?;
            }
        }
        screen.gap()?;
        if preview.changes_nothing {
            return Ok(screen.finish()?);
        }
        if !consent.apply {
            let force = if preview.warnings.is_empty() { "" } else { " --force" };
            screen.paragraph(&say!(words, "terminal-merge-nothing-written-add-apply", force))?;
            return Ok(screen.finish()?);
        }
        if !is_clear {
            screen.finish()?;
            return Err(Failure::Value(text!(words, "terminal-merge-nothing-taken-in-if-you").to_owned()));
        }
    }
    // What speaks against it was looked for just now; looking again would take as long.
    let (recorded, restored) = other.merge(log, true, now)?;
    if restored {
        // The settings that came with it hold from here on.
        context.wearer(log)?;
        screen = context.screen();
    }
    for line in merged_lines(&recorded, restored, context.words()) {
        screen.paragraph(&line)?;
    }
    Ok(screen.finish()?)
}
