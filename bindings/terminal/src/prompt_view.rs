//! A prompt, as a person reads it: what to do, the chart, why, and what to mind.

use std::io;

use ebbstead_core::prompt::Prompt;
use ebbstead_core::snapshot::Snapshot;
use ebbstead_core::words::Label;

use crate::chart;
use crate::context::Context;
use crate::screen::Screen;

/// Shows a prompt.
pub fn show(context: &Context, screen: &mut Screen, prompt: &Prompt, known: &Snapshot) -> io::Result<()> {
    let words = context.words();
    let lead = words.lead(prompt);
    screen.heading(&format!("{}  {}", prompt.at.clock(), lead.heading.to_uppercase()))?;
    screen.paragraph(&lead.sentence)?;
    for after in [lead.without_meter, lead.look_again].into_iter().flatten() {
        screen.paragraph(&after)?;
    }
    screen.gap()?;

    let chart = known.chart(prompt);
    if context.general.no_picture || screen.style.width < 72 {
        screen.paragraph(&chart.text)?;
    } else {
        for line in chart::lines(&chart, words, screen.style) {
            screen.line(&line)?;
        }
    }

    let mut list = |label: Label, items: Vec<String>| -> io::Result<()> {
        if items.is_empty() {
            return Ok(());
        }
        screen.gap()?;
        screen.heading(&words.label(label))?;
        items.iter().try_for_each(|item| screen.item(item))
    };
    list(Label::Why, prompt.reasons.iter().map(|&reason| words.reason(reason)).collect())?;
    list(Label::WouldChange, prompt.would_change.iter().map(|&change| words.change(change)).collect())?;
    list(Label::Careful, prompt.cautions.iter().map(|&caution| words.caution(caution)).collect())
}
