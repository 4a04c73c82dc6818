//! When to be alerted: the plan that is tried, or kept as the wearer's own.

use super::{Field, Filled, Form, days_back, glucose};
use crate::error::{Error, Quantity, Result};
use crate::units::Glucose;
use crate::wearer::{AlertLines, Plan};
use crate::words::{ShellLabel, Words};

const DAYS: &str = "days";
const DAY_LOW: &str = "day_low";
const DAY_HIGH: &str = "day_high";
const NIGHT_LOW: &str = "night_low";
const NIGHT_HIGH: &str = "night_high";
const DELAY: &str = "delay";
const REPEAT: &str = "repeat";
const LOST: &str = "lost";

/// What the alerts' page is asked for: the days, and the plan that stands in the fields. Empty means the same on every shell: no alert
/// to a high, an alert to a high at once, one alert to what lasts (a low as the own plan repeats it), none to a lost signal. A low always
/// alerts.
#[must_use]
pub fn read(filled: &Filled, own: &Plan, words: Words) -> (Form, Option<u16>, Option<Plan>) {
    let label = |label| words.shell_label(label);
    let unit = words.unit().code();
    let low = |id, lines: &AlertLines| {
        Field::number(id, label(ShellLabel::AlertBelow), unit, words.bare_amount(lines.low.mg_dl()))
    };
    let high = |id, lines: &AlertLines| {
        let shown = lines.high.map(|high| words.bare_amount(high.mg_dl())).unwrap_or_default();
        Field::number(id, label(ShellLabel::AlertAbove), unit, shown)
    };
    let minutes = |id, name, minutes: Option<f64>| {
        Field::number(id, label(name), "", minutes.map(|minutes| words.typed_number(minutes)).unwrap_or_default())
    };
    let fields = vec![
        Field::number(DAYS, label(ShellLabel::DaysBack), "", "90"),
        low(DAY_LOW, &own.day).over(label(ShellLabel::ByDay)),
        high(DAY_HIGH, &own.day),
        low(NIGHT_LOW, &own.night).over(label(ShellLabel::ByNight)),
        high(NIGHT_HIGH, &own.night),
        minutes(DELAY, ShellLabel::TryDelay, delay_shown(own)),
        minutes(REPEAT, ShellLabel::TryRepeat, own.day.repeat_minutes),
        minutes(LOST, ShellLabel::LostAfter, own.day.lost_after_minutes),
    ];
    let mut form = Form::new(words, label(ShellLabel::ScreenAlerts), fields, label(ShellLabel::Replay)).filled(filled);
    let days = form.read(DAYS, words, |typed| days_back(words, typed));
    let plan = plan(&mut form, own, words);
    let is_refused = form.fields.iter().any(|field| field.id != DAYS && field.advice.is_some());
    (form, days, (!is_refused).then_some(plan))
}

/// At once is shown as an empty field.
fn delay_shown(own: &Plan) -> Option<f64> {
    Some(own.day.high_delay_minutes).filter(|minutes| *minutes > 0.0)
}

fn plan(form: &mut Form, own: &Plan, words: Words) -> Plan {
    let own_delay = delay_shown(own);
    let minutes = |form: &mut Form, id| form.read_if_any(id, words, |typed| words.read_number(typed));
    let delay = minutes(form, DELAY);
    let repeat = minutes(form, REPEAT);
    let lost = minutes(form, LOST);
    let lines = |form: &mut Form, low, high, own_part: &AlertLines| AlertLines {
        low: form.read(low, words, |typed| glucose(words, typed, own_part.low)).unwrap_or(own_part.low),
        high: form.read_if_any(high, words, |typed| -> Result<Glucose> {
            own_part.high.map_or_else(|| words.read_glucose(typed), |own| glucose(words, typed, own))
        }),
        // What was not touched stays, where day and night differ.
        high_delay_minutes: if delay == own_delay { own_part.high_delay_minutes } else { delay.unwrap_or(0.0) },
        repeat_minutes: if repeat == own.day.repeat_minutes { own_part.repeat_minutes } else { repeat },
        lost_after_minutes: if lost == own.day.lost_after_minutes { own_part.lost_after_minutes } else { lost },
        ..*own_part
    };
    let plan =
        Plan { day: lines(form, DAY_LOW, DAY_HIGH, &own.day), night: lines(form, NIGHT_LOW, NIGHT_HIGH, &own.night) };
    for (part, low, high) in [(plan.day, DAY_LOW, DAY_HIGH), (plan.night, NIGHT_LOW, NIGHT_HIGH)] {
        if let Err(error) = (Plan { day: part, night: part }).check().map_err(Error::from) {
            let (Error::OutOfRange { what, .. } | Error::Invalid { what, .. }) = &error else { continue };
            let field = match *what {
                Quantity::HighAlert => high,
                Quantity::Delay => DELAY,
                Quantity::Repetition => REPEAT,
                Quantity::LostAlert => LOST,
                _ => low,
            };
            form.refuse(field, words.advice(&error));
        }
    }
    plan
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::GlucoseUnit;
    use crate::wearer::{Language, Wearer};

    const WORDS: Words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);

    fn asked(own: &Plan, filled: &[(&str, &str)]) -> (Form, Option<u16>, Option<Plan>) {
        let filled = filled.iter().map(|(id, value)| ((*id).to_owned(), (*value).to_owned())).collect();
        read(&filled, own, WORDS)
    }

    #[test]
    fn what_nobody_touched_is_the_own_plan() {
        let mut own = Plan::of(&Wearer::default());
        own.night.high_delay_minutes = 30.0;
        own.night.repeat_minutes = Some(20.0);
        assert_eq!(asked(&own, &[]).2, Some(own));
        assert_eq!(asked(&own, &[]).1, Some(90));
    }

    #[test]
    fn an_empty_field_means_the_same_on_every_shell() {
        let mut own = Plan::of(&Wearer::default());
        own.day.high_delay_minutes = 30.0;
        own.day.repeat_minutes = Some(15.0);
        let plan = asked(&own, &[("day_high", ""), ("delay", " "), ("repeat", ""), ("lost", "")]).2.unwrap();
        assert_eq!((plan.day.high, plan.night.high.is_some()), (None, true));
        assert!((plan.day.high_delay_minutes, plan.night.high_delay_minutes) == (0.0, 0.0), "alerted at once");
        assert_eq!((plan.day.repeat_minutes, plan.day.lost_after_minutes), (None, None));
        let (form, _, none) = asked(&own, &[("night_low", "")]);
        assert_eq!(
            (none, form.fields.iter().filter(|field| field.advice.is_some()).count()),
            (None, 1),
            "a low always alerts"
        );
    }

    #[test]
    fn a_slip_is_said_beside_its_field() {
        let own = Plan::of(&Wearer::default());
        for (id, slip) in [
            ("day_low", "50"),
            ("night_high", "90"),
            ("delay", "1000"),
            ("repeat", "2"),
            ("lost", "five"),
            ("days", "0"),
        ] {
            let (form, days, plan) = asked(&own, &[(id, slip)]);
            let against: Vec<_> =
                form.fields.iter().filter(|field| field.advice.is_some()).map(|field| field.id).collect();
            assert_eq!(against, [id], "{slip}");
            assert_eq!((days.is_none(), plan.is_none()), (id == "days", id != "days"));
        }
    }
}
