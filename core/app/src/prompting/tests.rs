use super::*;
use crate::engine::{self, Learnt};
use crate::log::{History, MeterCheck, Reading};
use crate::night::offers;
use crate::prompt::{Occasion, Question};
use crate::time::Moment;
use crate::units::Glucose;
use crate::wearer::Wearer;

fn now() -> Moment {
    Moment::parse("2026-03-01T03:00:00+01:00").unwrap()
}

fn mg(amount: f64) -> Glucose {
    Glucose::from_mg_dl(amount).unwrap()
}

/// Readings that fall to 88, with a meter check just now where one is given.
fn history(meter: Option<f64>) -> History {
    let readings =
        (0..60).map(|n| Reading::new(now().plus_minutes(-5.0 * f64::from(59 - n)), mg(147.0 - f64::from(n))));
    let meter_checks = meter.map(|mg_dl| MeterCheck::new(now(), mg(mg_dl))).into_iter().collect();
    History { readings: readings.collect(), meter_checks, ..History::default() }
}

fn shown(history: &History, feels: Option<Symptom>, around: Around) -> (Prompt, Screen) {
    let wearer = Wearer::default();
    let question = Question { now: now(), occasion: Occasion::Look, feels, meter: None };
    let prompt = engine::check(history, &wearer, &Learnt::default(), &question);
    let words = Words::of(&wearer);
    let said = Said::of(&prompt, around.damage.clone(), words);
    let chart = Chart::of(now(), &wearer, history, &[], prompt.forecast.as_ref(), prompt.futures_shown());
    let offers = offers(&prompt);
    let answered = Answered { prompt: &prompt, said: &said, chart: &chart, offers: &offers };
    let screen = screen(Some(answered), around, words);
    (prompt, screen)
}

fn taps(screen: &Screen) -> Vec<Tap> {
    screen.pinned.iter().map(|button| button.tap).collect()
}

fn main_taps(screen: &Screen) -> Vec<Tap> {
    screen.pinned.iter().filter(|button| button.is_main).map(|button| button.tap).collect()
}

const ALWAYS: [Tap; 4] = [Tap::Treated, Tap::AskMeter, Tap::Feel(Symptom::FeelsLow), Tap::Help];

#[test]
fn by_day_the_same_four_are_under_the_thumb_whatever_is_said() {
    let before = screen(None, Around::default(), Words::of(&Wearer::default()));
    assert_eq!((taps(&before), main_taps(&before)), (ALWAYS.to_vec(), vec![]));
    for (meter, feels, verdict, main) in
        [(None, None, Verdict::Clear, vec![]), (Some(58.0), None, Verdict::Treat, vec![Tap::Treated])]
    {
        let (prompt, screen) = shown(&history(meter), feels, Around::default());
        assert_eq!((prompt.verdict, taps(&screen), main_taps(&screen)), (verdict, ALWAYS.to_vec(), main));
    }
}

#[test]
fn at_night_the_answers_fit_and_a_call_comes_before_everything() {
    let night = || Around { at_night: true, ..Around::default() };
    let (_, treat) = shown(&history(Some(58.0)), None, night());
    let low = Tap::Feel(Symptom::FeelsLow);
    assert_eq!(taps(&treat), [Tap::Treated, Tap::AskMeter, low, Tap::Help]);
    assert_eq!(main_taps(&treat), [Tap::Treated]);
    let (_, hold) = shown(&history(None), None, night());
    assert_eq!(taps(&hold), [Tap::Treated, Tap::AskMeter, Tap::RolledOver, low, Tap::Help], "in the day's order");
    let (_, help) = shown(&history(None), Some(Symptom::Severe), night());
    assert_eq!((taps(&help), main_taps(&help)), (vec![Tap::Help, low], vec![Tap::Help]));
    for screen in [treat, hold, help] {
        assert!(!screen.parts.iter().any(|part| matches!(part, Part::Chart(_) | Part::Folded { .. })));
    }
}

#[test]
fn where_a_call_is_due_nothing_stands_before_it_by_day_either() {
    let presses = |screen: &Screen| -> Vec<Tap> {
        let button = |part: &Part| if let Part::Press(button) = part { Some(button.tap) } else { None };
        screen.parts.iter().filter_map(button).collect()
    };
    let severe = Tap::Feel(Symptom::Severe);
    for at_night in [false, true] {
        let (prompt, help) = shown(&history(None), Some(Symptom::Severe), Around { at_night, ..Around::default() });
        assert_eq!(prompt.verdict, Verdict::Help);
        assert_eq!(taps(&help), [Tap::Help, Tap::Feel(Symptom::FeelsLow)]);
        assert_eq!((main_taps(&help), presses(&help)), (vec![Tap::Help], vec![severe]), "{at_night}");
    }
    let (_, clear) = shown(&history(None), None, Around::default());
    assert!(presses(&clear).contains(&Tap::Before) && presses(&clear).contains(&Tap::Feel(Symptom::FeelsHigh)));
}

#[test]
fn the_answer_stands_above_everything_and_cautions_are_never_folded() {
    let noted = Noted { text: "kept".to_owned(), undo: Some("undo".to_owned()) };
    let around = Around {
        is_read_only: true,
        damage: Some("the log is damaged".to_owned()),
        noted: Some(noted.clone()),
        ..Around::default()
    };
    let (prompt, screen) = shown(&history(Some(58.0)), None, around);
    let said = Said::of(&prompt, None, Words::of(&Wearer::default()));
    let [Part::Headline(headline), Part::Noted(first), Part::Notice(_), Part::Items(cautions), Part::Chart(_), ..] =
        &screen.parts[..]
    else {
        panic!("{:?}", screen.parts)
    };
    assert_eq!((&headline.word, &headline.sentence, first), (&said.verdict, &said.sentence, &noted));
    assert_eq!(cautions.items, said.cautions, "damage stands above every screen, and not here as well");
    let at = |wanted: fn(&Part) -> bool| screen.parts.iter().position(wanted).unwrap();
    let folded = at(|part| matches!(part, Part::Folded { .. }));
    let Part::Items(why) = &screen.parts[folded - 1] else { panic!("reasons stand before what is folded") };
    assert_eq!(why.items, said.reasons[..REASONS_SHOWN]);
    let Part::Folded { lists, .. } = &screen.parts[folded] else { unreachable!() };
    assert_eq!(lists[0].items, said.reasons[REASONS_SHOWN..]);
    assert_eq!(lists.last().unwrap().items, said.would_change);
}

#[test]
fn the_meters_field_keeps_what_was_typed_and_says_what_is_wrong_with_it() {
    let field = meter_field(
        MeterAsked { typed: "1000".to_owned(), advice: Some("too much".to_owned()) },
        Words::of(&Wearer::default()),
    );
    assert_eq!(
        (field.id, &*field.value, &*field.unit, field.advice.as_deref()),
        (METER, "1000", "mg/dL", Some("too much"))
    );
}
