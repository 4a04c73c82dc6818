//! `alerts`: a plan replayed over the record, beside the wearer's own lines.

use clap::Args;
use ebbstead_core::alerts::{AlertLines, AlertStats, DelayProposal, Plan, Proposal, delay_proposal, proposal};
use ebbstead_core::pages;
use ebbstead_core::review::Period;
use ebbstead_core::text;
use serde::Serialize;

use crate::arguments::AsJson;
use crate::context::Context;
use crate::failure::Failure;

/// `alerts`.
#[derive(Debug, Args)]
pub struct Alerts {
    /// How many days back to replay
    #[arg(long, value_name = "NUMBER", default_value_t = 90, value_parser = clap::value_parser!(u16).range(1..=3660))]
    pub days: u16,
    /// The end of the days, if not now
    #[arg(long, value_name = "TIME")]
    pub until: Option<String>,
    /// The plan to try: alert below this by day (54 mg/dL at least)
    #[arg(long, value_name = "AMOUNT")]
    pub low: Option<String>,
    /// Alert above this by day, or never
    #[arg(long, value_name = "AMOUNT")]
    pub high: Option<String>,
    /// Alert below this by night
    #[arg(long, value_name = "AMOUNT")]
    pub night_low: Option<String>,
    /// Alert above this by night, or never
    #[arg(long, value_name = "AMOUNT")]
    pub night_high: Option<String>,
    /// Alert about a high only once it has lasted so many minutes
    #[arg(long, value_name = "MINUTES")]
    pub delay: Option<u16>,
    /// The same by night, if different
    #[arg(long, value_name = "MINUTES")]
    pub night_delay: Option<u16>,
    /// Alert again after so many minutes while it lasts; once unless given, a low as your plan has it
    #[arg(long, value_name = "MINUTES")]
    pub repeat: Option<u16>,
    /// The same by night, if different
    #[arg(long, value_name = "MINUTES")]
    pub night_repeat: Option<u16>,
    /// Alert when glucose falls at least this fast, per minute
    #[arg(long, value_name = "AMOUNT")]
    pub falling: Option<String>,
    /// The same by night, if different
    #[arg(long, value_name = "AMOUNT")]
    pub night_falling: Option<String>,
    /// Alert when glucose rises at least this fast, per minute
    #[arg(long, value_name = "AMOUNT")]
    pub rising: Option<String>,
    /// The same by night, if different
    #[arg(long, value_name = "AMOUNT")]
    pub night_rising: Option<String>,
    #[command(flatten)]
    pub output: AsJson,
}

#[derive(Serialize)]
struct AlertsJson {
    period: Period,
    your_plan: Plan,
    as_planned: AlertStats,
    tried_plan: Option<Plan>,
    as_tried: Option<AlertStats>,
    proposal: Option<Proposal>,
    delay_proposal: Option<DelayProposal>,
}

/// What was said of one part of the day.
struct Part<'a> {
    low: Option<&'a String>,
    high: Option<&'a String>,
    delay: Option<u16>,
    repeat: Option<u16>,
    falling: Option<&'a String>,
    rising: Option<&'a String>,
}

impl Part<'_> {
    fn change(&self, context: &Context, lines: &mut AlertLines) -> Result<(), Failure> {
        let never =
            |text: &str| text.trim() == "never" || text.trim() == text!(context.words(), "terminal-alerts-never");
        if let Some(low) = self.low {
            lines.low = context.glucose(low)?;
        }
        if let Some(high) = self.high {
            lines.high = if never(high) { None } else { Some(context.glucose(high)?) };
        }
        if let Some(delay) = self.delay {
            lines.high_delay_minutes = f64::from(delay);
        }
        if let Some(repeat) = self.repeat {
            lines.repeat_minutes = Some(f64::from(repeat));
        }
        let rate = |text: &String| context.in_mg_dl(text);
        if let Some(falling) = self.falling {
            lines.falling_mg_dl_min = Some(rate(falling)?);
        }
        if let Some(rising) = self.rising {
            lines.rising_mg_dl_min = Some(rate(rising)?);
        }
        Ok(())
    }
}

pub fn run(context: &Context, given: &Alerts) -> Result<(), Failure> {
    let now = context.now()?;
    let (log, wearer) = context.open(now)?;
    let until = given.until.as_ref().map_or(Ok(now), |text| context.time(text, now))?;
    let period = Period::days_before(until, given.days)?;
    let history = log.history(period.from(), until)?;
    let mut tried = Plan::of(&wearer);
    let day = Part {
        low: given.low.as_ref(),
        high: given.high.as_ref(),
        delay: given.delay,
        repeat: given.repeat,
        falling: given.falling.as_ref(),
        rising: given.rising.as_ref(),
    };
    // By night as by day, unless said otherwise.
    let night = Part {
        low: given.night_low.as_ref().or(day.low),
        high: given.night_high.as_ref().or(day.high),
        delay: given.night_delay.or(day.delay),
        repeat: given.night_repeat.or(day.repeat),
        falling: given.night_falling.as_ref().or(day.falling),
        rising: given.night_rising.as_ref().or(day.rising),
    };
    day.change(context, &mut tried.day)?;
    night.change(context, &mut tried.night)?;
    tried.check()?;

    let mut screen = context.screen();
    if given.output.json {
        let own = Plan::of(&wearer);
        let tried_plan = Some(tried).filter(|tried| *tried != own);
        screen.json(&AlertsJson {
            period,
            your_plan: own,
            as_planned: AlertStats::of(&history, &wearer, &own, period),
            as_tried: tried_plan.map(|tried| AlertStats::of(&history, &wearer, &tried, period)),
            tried_plan,
            proposal: proposal(&history, &wearer, &own, period),
            delay_proposal: delay_proposal(&history, &wearer, &own, period),
        })?;
        return Ok(screen.finish()?);
    }
    screen.page(&pages::alerts::page(&history, &wearer, &tried, period, context.words()))?;
    Ok(screen.finish()?)
}
