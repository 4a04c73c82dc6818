//! `before`: the same question asked ahead: before sleep, a drive, movement.

use clap::{Args, Subcommand, ValueEnum};
use ebbstead_core::before;
use ebbstead_core::before::activity::{BeforeActivity, Movement, Planned};
use ebbstead_core::before::driving::BeforeDriving;
use ebbstead_core::before::sleep::BeforeSleep;
use ebbstead_core::log::Symptom;
use ebbstead_core::page::Page;
use ebbstead_core::pages::before as pages;
use ebbstead_core::time::Moment;
use serde::Serialize;

use crate::arguments::EffortWord;
use crate::context::Context;
use crate::failure::Failure;

/// `before`.
#[derive(Debug, Args)]
pub struct Before {
    #[command(subcommand)]
    pub what: Ahead,
    /// You feel low
    #[arg(long, global = true)]
    pub feels_low: bool,
    /// Ask as of this time, with what was known then
    #[arg(long, global = true, value_name = "TIME")]
    pub at: Option<String>,
    /// Print the result as JSON
    #[arg(long, global = true)]
    pub json: bool,
}

/// What is asked ahead.
#[derive(Debug, Subcommand)]
pub enum Ahead {
    /// The chance of a low until the morning, when an alarm is likely, and whether to look again
    Sleep {
        /// Until this time; your morning unless given
        #[arg(long, value_name = "TIME")]
        until: Option<String>,
    },
    /// The rule of the country you set, and the chance of a low over the drive: before driving 90
    Driving {
        /// How many minutes the drive takes
        #[arg(allow_negative_numbers = true)]
        minutes: String,
    },
    /// Published ranges to start in, and what to mind: before activity endurance 45 --effort moderate
    Activity {
        /// The kind
        kind: KindWord,
        /// How many minutes
        #[arg(allow_negative_numbers = true)]
        minutes: String,
        /// How hard
        #[arg(long, default_value = "moderate")]
        effort: EffortWord,
        /// Ketones in blood that you just measured, in mmol/L
        #[arg(long, value_name = "MMOL_L", allow_negative_numbers = true)]
        ketones: Option<String>,
    },
}

/// A kind of movement, as typed.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum KindWord {
    /// Steady: walking, running, cycling, swimming
    Endurance,
    /// Short and hard with breaks: sprints, ball games
    Intervals,
    /// Against resistance: weights
    Strength,
}

impl From<KindWord> for Movement {
    fn from(word: KindWord) -> Self {
        match word {
            KindWord::Endurance => Self::Endurance,
            KindWord::Intervals => Self::Intervals,
            KindWord::Strength => Self::Strength,
        }
    }
}

/// What is printed as JSON: the answer, and before what it was asked.
#[derive(Serialize)]
#[serde(rename_all = "snake_case", tag = "before")]
enum BeforeJson<'a> {
    Sleep(&'a BeforeSleep),
    Driving(&'a BeforeDriving),
    Activity(&'a BeforeActivity),
}

pub fn run(context: &Context, given: &Before) -> Result<(), Failure> {
    let clock = context.now()?;
    let (log, _) = context.open_for_prompt(clock)?;
    let now = given.at.as_ref().map_or(Ok(clock), |text| context.time(text, clock))?;
    let feels = given.feels_low.then_some(Symptom::FeelsLow);
    let before = before::Before::at(&log, now, feels)?;
    let words = context.words();
    match &given.what {
        Ahead::Sleep { until } => {
            let until: Option<Moment> = until.as_ref().map(|text| context.place.parse_ahead(text, now)).transpose()?;
            let answer = before.sleep(until)?;
            show(context, given, &BeforeJson::Sleep(&answer), &pages::sleep(&answer, words))?;
        }
        Ahead::Driving { minutes } => {
            let answer = before.driving(context.number(minutes)?)?;
            show(context, given, &BeforeJson::Driving(&answer), &pages::driving(&answer, words))?;
        }
        Ahead::Activity { kind, minutes, effort, ketones } => {
            let answer = before.activity(Planned {
                kind: (*kind).into(),
                effort: (*effort).into(),
                minutes: context.number(minutes)?,
                ketones_mmol_l: ketones.as_ref().map(|text| context.ketones(text)).transpose()?,
            })?;
            show(context, given, &BeforeJson::Activity(&answer), &pages::activity(&answer, words))?;
        }
    }
    // The answer comes first: it must not wait for a log that is damaged.
    Ok(log.look_through()?)
}

fn show(context: &Context, given: &Before, answer: &BeforeJson, page: &Page) -> Result<(), Failure> {
    let mut screen = context.screen();
    if given.json {
        screen.json(answer)?;
    } else {
        screen.page(page)?;
    }
    Ok(screen.finish()?)
}
