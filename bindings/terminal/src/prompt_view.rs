//! A prompt, as a person reads it: what to do, the chart, why, and what to mind.

use std::io;

use ebbstead_core::prompt::Prompt;
use ebbstead_core::prompting::Said;
use ebbstead_core::snapshot::Snapshot;

use crate::chart;
use crate::context::Context;
use crate::screen::Screen;

/// Shows a prompt.
pub fn show(context: &Context, screen: &mut Screen, prompt: &Prompt, known: &Snapshot) -> io::Result<()> {
    let words = context.words();
    let said = Said::of(prompt, None, words);
    screen.heading(&format!("{}  {}", prompt.at.clock(), said.verdict.to_uppercase()))?;
    screen.paragraph(&said.sentence)?;
    for after in [said.without_meter, said.look_again].into_iter().flatten() {
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

    let mut list = |name: String, items: Vec<String>| -> io::Result<()> {
        if items.is_empty() {
            return Ok(());
        }
        screen.gap()?;
        screen.heading(&name)?;
        items.iter().try_for_each(|item| screen.item(item))
    };
    list(said.why, said.reasons)?;
    list(said.would_change_name, said.would_change)?;
    list(said.careful, said.cautions)
}
