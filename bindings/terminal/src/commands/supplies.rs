//! `supplies`: what is there, how long it lasts, when to order, what it costs; and the facts for a statement of need.

use chrono::NaiveDate;
use clap::Args;
use ebbstead_core::log::{Item, Text};
use ebbstead_core::pages::supplies::{need_page, page};
use ebbstead_core::supplies::{Basis, Need, Outlook, costs};
use ebbstead_core::text;
use ebbstead_core::time::DAY_MS;
use serde::Serialize;

use crate::context::Context;
use crate::failure::Failure;

/// `supplies`.
#[derive(Debug, Args)]
pub struct Supplies {
    /// How many days back to learn from, or to cover with --statement
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u16).range(1..=3660))]
    pub days: Option<u16>,
    /// How many days pass between ordering and having them, instead of what the settings say
    #[arg(long, value_name = "DAYS", value_parser = clap::value_parser!(u16).range(0..=365))]
    pub lead_days: Option<u16>,
    /// Print the facts for a letter on why you need the sensor: lows, and who noticed them
    #[arg(long)]
    pub statement: bool,
    /// Print the result as JSON
    #[arg(long, conflicts_with = "statement")]
    pub json: bool,
}

#[derive(Serialize)]
struct ItemJson {
    item: Item,
    amount: Option<f64>,
    used_a_day: Option<f64>,
    sensor_mean_days: Option<f64>,
    runs_out: Option<NaiveDate>,
    runs_out_earliest: Option<NaiveDate>,
    runs_out_latest: Option<NaiveDate>,
    order_by: Option<NaiveDate>,
    lost_to_expiry: Option<f64>,
}

#[derive(Serialize)]
struct CostJson<'a> {
    item: Item,
    from: Option<&'a str>,
    offered: bool,
    currency: String,
    each: f64,
    a_day: Option<f64>,
    a_year: Option<f64>,
}

#[derive(Serialize)]
struct SuppliesJson<'a> {
    supplies: Vec<ItemJson>,
    costs: Vec<CostJson<'a>>,
}

/// Use is learnt from a year of the log, unless another time is asked for.
const LEARNT_FROM_DAYS: u16 = 365;
/// A statement covers 90 days, unless another time is asked for.
const STATED_DAYS: u16 = 90;

pub fn run(context: &Context, given: &Supplies) -> Result<(), Failure> {
    let now = context.now()?;
    let (log, mut wearer) = context.open(now)?;
    let words = context.words();
    if given.lead_days.is_some() {
        wearer.reorder_lead_days = given.lead_days;
    }
    let mut screen = context.screen();
    if given.statement {
        let need = Need::of_log(&log, &wearer, given.days.unwrap_or(STATED_DAYS), now)?;
        screen.page(&need_page(&need, words))?;
        return Ok(screen.finish()?);
    }
    let days = i64::from(given.days.unwrap_or(LEARNT_FROM_DAYS));
    let history = log.history(now.plus_ms(-days * DAY_MS), now)?;
    let outlooks = Outlook::all(&history, &wearer, now);
    let costs = costs(&history, &wearer, now);
    if given.json {
        let supplies = outlooks.iter().map(item_json).collect();
        let costs = costs
            .iter()
            .map(|cost| CostJson {
                item: cost.item,
                from: cost.from.as_ref().map(Text::as_str),
                offered: cost.offered,
                currency: cost.currency.to_string(),
                each: cost.each,
                a_day: cost.a_day,
                a_year: cost.a_year(),
            })
            .collect();
        screen.json(&SuppliesJson { supplies, costs })?;
        return Ok(screen.finish()?);
    }
    if outlooks.is_empty() {
        screen.paragraph(text!(context.words(), "terminal-supplies-nothing-noted-supplies-count-once"))?;
        return Ok(screen.finish()?);
    }
    screen.page_sections(&page(&outlooks, &costs, words, now))?;
    if wearer.reorder_lead_days.is_none() && outlooks.iter().any(|one| one.run_out.is_some()) {
        screen.gap()?;
        screen.paragraph(text!(context.words(), "terminal-supplies-to-be-reminded-when-to"))?;
    }
    Ok(screen.finish()?)
}

fn item_json(outlook: &Outlook) -> ItemJson {
    let run_out = outlook.run_out;
    let wear = outlook.usage.and_then(|usage| match usage.basis {
        Basis::Wear(wear) => Some(wear.mean_days),
        Basis::RatedLength | Basis::Days(_) | Basis::Counts => None,
    });
    ItemJson {
        item: outlook.item,
        amount: outlook.stock.as_ref().map(|stock| stock.amount),
        used_a_day: outlook.usage.map(|usage| usage.a_day),
        sensor_mean_days: wear,
        runs_out: run_out.map(|one| one.expected),
        runs_out_earliest: run_out.map(|one| one.earliest),
        runs_out_latest: run_out.and_then(|one| one.latest),
        order_by: run_out.and_then(|one| one.order_by),
        lost_to_expiry: outlook.stock.as_ref().map(|stock| stock.lost_to_expiry),
    }
}
