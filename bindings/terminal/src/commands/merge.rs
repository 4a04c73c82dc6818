//! `merge`: another device's log into this one, shown before it is done.

use std::path::PathBuf;

use clap::Args;
use ebbstead_core::sentences::merge as sentences;
use ebbstead_core::store::{Facts, Log, MergePreview};
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
    let other = Log::open_to_read(&given.file)?;
    // What is damaged is mended first: merging a part would look like all of it.
    other.look_through()?;
    let (mut log, _) = context.open_to_write(now)?;
    merge(context, &mut log, &other, given.consent, now)
}

/// Shows what merging would change and, with the wearer's consent, does it.
pub fn merge(
    context: &Context,
    log: &mut Log,
    other: &dyn Facts,
    consent: Consent,
    now: Moment,
) -> Result<(), Failure> {
    let words = context.words();
    let preview = log.preview_merge(other, now)?;
    let warnings = preview.warnings();
    let mut screen = context.screen();
    for line in sentences::merge_lines(&preview, words) {
        screen.item(&line)?;
    }
    if !warnings.is_empty() {
        screen.gap()?;
        screen.heading(text!(context.words(), "terminal-merge-against"))?;
        for warning in &warnings {
            screen.item(&sentences::warning(*warning, words))?;
        }
    }
    screen.gap()?;
    if preview.changes_nothing() {
        return Ok(screen.finish()?);
    }
    if !consent.apply {
        screen.paragraph(&asked(context, &preview))?;
        return Ok(screen.finish()?);
    }
    if !warnings.is_empty() && !consent.force {
        screen.finish()?;
        return Err(Failure::Value(text!(context.words(), "terminal-merge-nothing-taken-in-if-you").to_owned()));
    }
    for line in sentences::merged_lines(&log.merge(other)?, false, words) {
        screen.paragraph(&line)?;
    }
    Ok(screen.finish()?)
}

fn asked(context: &Context, preview: &MergePreview) -> String {
    let force = if preview.warnings().is_empty() { "" } else { " --force" };
    say!(context.words(), "terminal-merge-nothing-written-add-apply", force)
}
