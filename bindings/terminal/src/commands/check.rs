//! `check` and `wake`: ask the core what to do now.

use ebbstead_core::Error;
use ebbstead_core::log::{EntryKind, Symptom};
use ebbstead_core::night::{Offer, asks_ketones, offers};
use ebbstead_core::prompt::{Occasion, Prompt, Question};
use ebbstead_core::snapshot::Snapshot;
use ebbstead_core::store::Log;
use ebbstead_core::time::Moment;
use ebbstead_core::{say, text};

use crate::arguments::Check;
use crate::context::Context;
use crate::failure::Failure;
use crate::json::PromptJson;
use crate::prompt_view;
use std::time::Duration;

pub fn check(context: &Context, given: &Check) -> Result<(), Failure> {
    ask(context, given, Occasion::Look)
}

pub fn wake(context: &Context, given: &Check) -> Result<(), Failure> {
    ask(context, given, Occasion::Wake)
}

fn ask(context: &Context, given: &Check, occasion: Occasion) -> Result<(), Failure> {
    let clock = context.now()?;
    let (mut log, wearer) = context.open_for_prompt(clock)?;
    let now = given.at.as_ref().map_or(Ok(clock), |text| context.time(text, clock))?;
    let feels = match given {
        Check { severe: true, .. } => Some(Symptom::Severe),
        Check { feels_low: true, .. } => Some(Symptom::FeelsLow),
        Check { feels_high: true, .. } => Some(Symptom::FeelsHigh),
        Check { feels_fine: true, .. } => Some(Symptom::None),
        _ => None,
    };
    let meter = given.meter.as_ref().map(|text| context.meter(text)).transpose()?;
    let known = Snapshot { wearer, ..Snapshot::at(&log, now)? };
    if let Some(error) = &known.unlearnt {
        report_unlearnt(context, error);
    }
    let question = Question { now, occasion, feels, meter };
    let answer = known.answer(&question);

    let shown = show(context, given, occasion, &known, &answer);
    // The answer comes first: it must not wait for, or fail with, a log that is damaged or cannot be written. What the wearer said is kept
    // where it could not be shown, too.
    let kept = if given.at.is_some() || given.no_record {
        Ok(())
    } else {
        keep_all(context, &mut log, &known, &question, &answer)
    };
    shown?;
    log.look_through()?;
    kept
}

fn show(
    context: &Context,
    given: &Check,
    occasion: Occasion,
    known: &Snapshot,
    answer: &Prompt,
) -> Result<(), Failure> {
    let mut screen = context.screen();
    if given.json {
        screen.json(&PromptJson::of(answer, context.words()))?;
    } else {
        prompt_view::show(context, &mut screen, answer, known)?;
        if occasion == Occasion::Wake {
            show_answers(context, &mut screen, answer)?;
        }
    }
    Ok(screen.finish()?)
}

/// Keeps what was said beside the question, and the prompt that was shown.
fn keep_all(
    context: &Context,
    log: &mut Log,
    known: &Snapshot,
    question: &Question,
    answer: &Prompt,
) -> Result<(), Failure> {
    let Question { now, feels, meter, .. } = *question;
    keep(context, log, now, feels.map(|felt| EntryKind::Symptom { felt }))?;
    keep(context, log, now, meter.map(EntryKind::checked_by_meter))?;
    if let Some(entry) = known.to_keep(question, answer)? {
        // So that the prompt can be compared with what came after: `ebbstead outcomes`. It is nothing the wearer said, so it
        // is not waited for, and going without it is no failure.
        log.wait_at_most(Duration::ZERO)?;
        if let Err(error) = log.record(&entry) {
            report_not_kept(context, &error);
        }
    }
    Ok(())
}

fn report_not_kept(context: &Context, error: &Error) {
    let error = context.words().error(error);
    context.report(&say!(context.words(), "terminal-check-shown-not-kept-for-ebbstead", error));
}

fn report_unlearnt(context: &Context, error: &Error) {
    let error = context.words().error(error);
    context.report(&say!(context.words(), "terminal-check-what-learnt-cannot-be-read", error));
}

/// What fits to do after having been woken, and how to say it. Whom to call, the prompt has said.
fn show_answers(context: &Context, screen: &mut crate::screen::Screen, answer: &Prompt) -> std::io::Result<()> {
    let words = context.words();
    let ketones = asks_ketones(answer).then(|| {
        (text!(words, "terminal-check-i-measured-ketones"), text!(words, "terminal-check-ebbstead-add-ketones-amount"))
    });
    let others = offers(answer).into_iter().filter_map(|offer| match offer {
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
    });
    let answers: Vec<_> = ketones.into_iter().chain(others).collect();
    if answers.is_empty() {
        return Ok(());
    }
    screen.gap()?;
    screen.heading(text!(words, "terminal-check-and-then"))?;
    answers.iter().try_for_each(|(said, command)| screen.line(&format!("  {said:<28} {command}")))
}

/// Keeps what was said beside the question.
fn keep(context: &Context, log: &mut Log, now: Moment, what: Option<EntryKind>) -> Result<(), Failure> {
    let Some(what) = what else { return Ok(()) };
    let text = context.words().what(&what);
    log.note(what, now, now)?;
    context.report(&say!(context.words(), "terminal-check-kept-in-log", text));
    Ok(())
}
