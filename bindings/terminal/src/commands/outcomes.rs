//! `outcomes`: what came of the prompts.

use clap::Args;
use ebbstead_core::pages::outcomes::page;
use ebbstead_core::review::Period;
use ebbstead_core::time::DAY_MS;

use crate::arguments::AsJson;
use crate::context::Context;
use crate::failure::Failure;

/// `outcomes`.
#[derive(Debug, Args)]
pub struct Outcomes {
    /// How many days back to look
    #[arg(long, value_name = "NUMBER", default_value_t = 90, value_parser = clap::value_parser!(u16).range(1..=3660))]
    pub days: u16,
    /// The end of the days, if not now
    #[arg(long, value_name = "TIME")]
    pub until: Option<String>,
    #[command(flatten)]
    pub output: AsJson,
}

pub fn run(context: &Context, given: &Outcomes) -> Result<(), Failure> {
    let now = context.now()?;
    let (log, wearer) = context.open(now)?;
    let until = given.until.as_ref().map_or(Ok(now), |text| context.time(text, now))?;
    let period = Period::days_before(until, given.days)?;
    // What came after the last prompt may lie after the period.
    let history = log.history(period.from(), until.plus_ms(DAY_MS / 8))?;
    let outcomes = ebbstead_core::outcomes::Outcomes::of(&history, &wearer, period, now);
    let mut screen = context.screen();
    if given.output.json {
        screen.json(&outcomes)?;
        return Ok(screen.finish()?);
    }
    screen.page(&page(&outcomes, &wearer, context.words()))?;
    Ok(screen.finish()?)
}
