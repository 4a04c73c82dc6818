//! `check` and `wake`: ask the core what to do now.

use ebbstead_core::Error;
use ebbstead_core::known::Known;
use ebbstead_core::log::{Entry, Source, Symptom, What};
use ebbstead_core::night::{Offer, offers};
use ebbstead_core::prompt::{Occasion, Prompt, Question};
use ebbstead_core::store::Log;
use ebbstead_core::time::Moment;
use ebbstead_core::{say, text};

use crate::arguments::Check;
use crate::desk::Desk;
use crate::failure::Failure;
use crate::json::PromptJson;
use crate::prompt_view;
use std::time::Duration;

pub fn check(desk: &Desk, given: &Check) -> Result<(), Failure> {
    ask(desk, given, Occasion::Look)
}

pub fn wake(desk: &Desk, given: &Check) -> Result<(), Failure> {
    ask(desk, given, Occasion::Wake)
}

fn ask(desk: &Desk, given: &Check, occasion: Occasion) -> Result<(), Failure> {
    let clock = desk.now()?;
    let (mut log, wearer) = desk.open_for_prompt(clock)?;
    let now = given.at.as_ref().map_or(Ok(clock), |text| desk.place.parse(text, clock))?;
    let feels = match given {
        Check { severe: true, .. } => Some(Symptom::Severe),
        Check { feels_low: true, .. } => Some(Symptom::FeelsLow),
        Check { feels_high: true, .. } => Some(Symptom::FeelsHigh),
        Check { feels_fine: true, .. } => Some(Symptom::None),
        _ => None,
    };
    let meter = given.meter.as_ref().map(|text| desk.meter(text)).transpose()?;
    let known = Known { wearer, ..Known::at(&log, now)? };
    if let Some(error) = &known.unlearnt {
        tell_unlearnt(desk, error);
    }
    let question = Question { now, occasion, feels, meter };
    let answer = known.answer(&question);

    let mut screen = desk.screen();
    if given.json {
        screen.json(&PromptJson::of(&answer, desk.words()))?;
    } else {
        prompt_view::show(desk, &mut screen, &answer, &known)?;
        if occasion == Occasion::Wake {
            show_answers(desk, &mut screen, &answer)?;
        }
    }
    screen.finish()?;
    // The answer comes first: it must not wait for, or fail with, a log that is damaged or cannot be written.
    let kept = if given.at.is_some() { Ok(()) } else { keep_all(desk, given, &mut log, &known, &question, &answer) };
    log.look_through()?;
    kept
}

/// Keeps what was said beside the question, and what was told.
fn keep_all(
    desk: &Desk,
    given: &Check,
    log: &mut Log,
    known: &Known,
    question: &Question,
    answer: &Prompt,
) -> Result<(), Failure> {
    let Question { now, feels, meter, .. } = *question;
    keep(desk, log, now, feels.map(|felt| What::Symptom { felt }))?;
    keep(desk, log, now, meter.map(What::checked_by_meter))?;
    if !given.keep_nothing
        && let Some(told) = known.to_keep(question, answer)?
    {
        // So that what was told can be held against what came after: `ebbstead outcomes`. It is nothing the wearer said, so it
        // is not waited for, and going without it is no failure.
        log.wait_at_most(Duration::ZERO)?;
        if let Err(error) = log.record(&told) {
            tell_not_kept(desk, &error);
        }
    }
    Ok(())
}

fn tell_not_kept(desk: &Desk, error: &Error) {
    let error = desk.words().error(error);
    desk.tell(&say!(desk.words(), "terminal-check-shown-not-kept-for-ebbstead", error));
}

fn tell_unlearnt(desk: &Desk, error: &Error) {
    let error = desk.words().error(error);
    desk.tell(&say!(desk.words(), "terminal-check-what-learnt-cannot-be-read", error));
}

/// What fits to do after having been woken, and how to say it. Whom to call, the prompt has said.
fn show_answers(desk: &Desk, screen: &mut crate::screen::Screen, answer: &Prompt) -> std::io::Result<()> {
    let words = desk.words();
    let answers: Vec<_> = offers(answer)
        .into_iter()
        .filter_map(|offer| match offer {
            Offer::Call => None,
            Offer::Checked => Some((
                text!(words, "terminal-check-i-checked-with-meter"),
                text!(words, "terminal-check-ebbstead-wake-meter-amount"),
            )),
            Offer::Treated => Some((
                text!(words, "terminal-check-i-treated"),
                text!(words, "terminal-check-ebbstead-add-carbs-grams-rescue"),
            )),
            Offer::RolledOver => Some((
                text!(words, "terminal-check-i-rolled-off-sensor"),
                text!(words, "terminal-check-ebbstead-add-sensor-rolled-off"),
            )),
        })
        .collect();
    if answers.is_empty() {
        return Ok(());
    }
    screen.gap()?;
    screen.heading(text!(words, "terminal-check-and-then"))?;
    answers.iter().try_for_each(|(said, command)| screen.line(&format!("  {said:<28} {command}")))
}

/// Keeps what was said beside the question.
fn keep(desk: &Desk, log: &mut Log, now: Moment, what: Option<What>) -> Result<(), Failure> {
    let Some(what) = what else { return Ok(()) };
    let text = desk.words().what(&what);
    log.record(&Entry::new(now, now, Source::by_hand(), what)?)?;
    desk.tell(&say!(desk.words(), "terminal-check-kept-in-log", text));
    Ok(())
}
