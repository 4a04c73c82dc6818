//! `reliability`: of the times a chance was shown, how often did it come?

use ebbstead_core::learn::reliability::{BinOutcome, ForecastCalibration, Reliability};
use ebbstead_core::learn::{KEPT_AS, Lesson};
use ebbstead_core::time::Moment;
use ebbstead_core::{say, text};
use serde::Serialize;

use crate::arguments::AsJson;
use crate::commands::learn::no_lesson;
use crate::context::Context;
use crate::failure::Failure;
use crate::screen::Style;

/// Columns of the plot: two a step of 5 %, and both ends.
const PLOT: usize = 41;

#[derive(Serialize)]
struct ReliabilityJson {
    learnt_at: Moment,
    learnt_until: Option<Moment>,
    within_minutes: u16,
    #[serde(flatten)]
    reliability: Reliability,
}

pub fn run(context: &Context, given: &AsJson) -> Result<(), Failure> {
    let now = context.now()?;
    let (log, wearer) = context.open(now)?;
    let Some(kept) = log.learned::<Lesson>(KEPT_AS)? else {
        return Err(Failure::Missing(no_lesson(context).to_owned()));
    };
    let lesson = kept.what;
    let reliability = Reliability::of(&lesson.reliability);
    let words = context.words();
    let mut screen = context.screen();
    if given.json {
        let all = ReliabilityJson {
            learnt_at: lesson.at,
            learnt_until: lesson.learnt.until,
            within_minutes: 30,
            reliability,
        };
        screen.json(&all)?;
        return Ok(screen.finish()?);
    }
    let line = words.amount(wearer.low_line.mg_dl());
    screen.heading(&say!(context.words(), "terminal-reliability-chances-falling-below-within-30", line))?;
    screen.paragraph(&words.calibration(reliability.calibration))?;
    if !matches!(reliability.calibration, ForecastCalibration::TooFew { .. }) {
        screen.gap()?;
        table(context, &mut screen, &reliability)?;
    }
    screen.gap()?;
    let until = context.words().date_time(lesson.learnt.until.unwrap_or(lesson.at));
    screen.paragraph(&say!(context.words(), "terminal-reliability-each-chance-stated-before-its", until))?;
    Ok(screen.finish()?)
}

fn table(context: &Context, screen: &mut crate::screen::Screen, reliability: &Reliability) -> std::io::Result<()> {
    let style = screen.style;
    let plotted = style.width >= 72 && !context.general.no_picture;
    let names = [
        text!(context.words(), "terminal-reliability-said"),
        text!(context.words(), "terminal-reliability-times"),
        text!(context.words(), "terminal-reliability-came"),
    ];
    let mut head = format!("{:>9}  {:>6}  {:>6}", names[0], names[1], names[2]);
    if plotted {
        head.push_str("   0 %       25 %      50 %      75 %      100 %");
    }
    screen.line(&head)?;
    for (tenth, kept) in (0_u32..).zip(&reliability.tenths) {
        let said = format!("{}-{} %", 10 * tenth, 10 * (tenth + 1));
        let came = match kept.share {
            Some(share) => format!("{:.0} %", 100.0 * share.came),
            None => "-".to_owned(),
        };
        let mut row = format!("{said:>9}  {:>6}  {came:>6}", kept.shown);
        if plotted {
            row.push_str(&format!("   {}", plot(kept, style)));
        }
        screen.line(&row)?;
    }
    if plotted {
        let (said, came, between, _) = signs(style);
        screen.gap()?;
        screen.paragraph(&say!(
            context.words(),
            "terminal-reliability-what-said-what-came-where",
            said,
            came,
            between
        ))?;
    }
    Ok(())
}

/// Said, came, between, nothing.
const fn signs(style: Style) -> (char, char, char, char) {
    if style.wide_signs { ('○', '●', '░', '·') } else { ('+', 'o', ':', '.') }
}

fn plot(kept: &BinOutcome, style: Style) -> String {
    let (said, came, between, nothing) = signs(style);
    let column = |share: f64| ((share * (PLOT - 1) as f64).round().max(0.0) as usize).min(PLOT - 1);
    let mut cells = vec![nothing; PLOT];
    if let Some(share) = kept.share {
        cells[column(share.from)..=column(share.to)].fill(between);
    }
    if let Some(mean) = kept.mean_chance {
        cells[column(mean)] = said;
    }
    if let Some(share) = kept.share {
        cells[column(share.came)] = came;
    }
    cells.into_iter().collect()
}
