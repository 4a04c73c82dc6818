//! `alerts`: a plan replayed over the record, beside the wearer's own lines.

use clap::Args;
use ebbstead_core::alerts::telling::{proposal_text, worth_lines};
use ebbstead_core::alerts::{Plan, Told, Worth, proposal};
use ebbstead_core::review::Period;

use crate::desk::Desk;
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
    /// The plan to try: tell below this by day (54 mg/dL at least)
    #[arg(long, value_name = "AMOUNT")]
    pub low: Option<String>,
    /// Tell above this by day
    #[arg(long, value_name = "AMOUNT")]
    pub high: Option<String>,
    /// Tell below this by night
    #[arg(long, value_name = "AMOUNT")]
    pub night_low: Option<String>,
    /// Tell above this by night
    #[arg(long, value_name = "AMOUNT")]
    pub night_high: Option<String>,
    /// Tell of a high only once it has lasted so many minutes
    #[arg(long, value_name = "MINUTES")]
    pub delay: Option<u16>,
    /// Tell again after so many minutes while it lasts
    #[arg(long, value_name = "MINUTES")]
    pub repeat: Option<u16>,
}

pub fn run(desk: &Desk, given: &Alerts) -> Result<(), Failure> {
    let now = desk.now()?;
    let (log, wearer) = desk.open(now)?;
    let words = desk.words();
    let until = given.until.as_ref().map_or(Ok(now), |text| desk.place.parse(text, now))?;
    let period = Period::days_before(until, given.days)?;
    let history = log.history(period.from(), until)?;
    let own = Plan::of(&wearer);
    let mut tried = own;
    let change = |told: &mut Told, low: Option<&String>, high: Option<&String>| -> Result<(), Failure> {
        if let Some(low) = low {
            told.low = desk.glucose(low)?;
        }
        if let Some(high) = high {
            told.high = Some(desk.glucose(high)?);
        }
        if let Some(delay) = given.delay {
            told.high_delay_minutes = f64::from(delay);
        }
        told.repeat_minutes = given.repeat.map(f64::from);
        Ok(())
    };
    change(&mut tried.day, given.low.as_ref(), given.high.as_ref())?;
    let (night_low, night_high) = (given.night_low.as_ref(), given.night_high.as_ref());
    change(&mut tried.night, night_low.or(given.low.as_ref()), night_high.or(given.high.as_ref()))?;
    tried.check()?;

    let before = Worth::of(&history, &wearer, &own, period);
    let mut screen = desk.screen();
    screen.heading(desk.pick("Alerts, replayed", "Alarme, nachgespielt"))?;
    let mut row = |name: &str, one: &str, other: &str| screen.line(&format!("  {name:<36}{one:>16}{other:>16}"));
    if tried == own {
        row("", desk.pick("your lines", "deine Linien"), "")?;
        worth_lines(&before, words).iter().try_for_each(|(name, value)| row(name, value, ""))?;
    } else {
        let after = Worth::of(&history, &wearer, &tried, period);
        row("", desk.pick("your lines", "deine Linien"), desk.pick("as tried", "wie erprobt"))?;
        let lines = worth_lines(&before, words).into_iter().zip(worth_lines(&after, words));
        for ((name, one), (_, other)) in lines {
            row(&name, &one, &other)?;
        }
    }
    if let (Some(found), Some(high)) = (proposal(&history, &wearer, &own, period), own.day.high) {
        screen.gap()?;
        screen.paragraph(&proposal_text(&found, high.mg_dl(), words))?;
    }
    screen.gap()?;
    screen.paragraph(&desk.pick(
        format!("Below {} it is told in any case, and again. What was done but not logged is not seen.", words.amount(54.0)),
        format!("Unter {} kommt in jedem Fall Bescheid, und wieder. Was getan, aber nicht eingetragen wurde, ist nicht zu sehen.", words.amount(54.0)),
    ))?;
    Ok(screen.finish()?)
}
