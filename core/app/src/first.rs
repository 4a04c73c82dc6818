//! The first start: what must not be assumed is asked for, a step at a time, and nothing else.

use crate::error::Result;
use crate::forms::{Field, Filled, settings};
use crate::store::Log;
use crate::time::Moment;
use crate::wearer::Wearer;
use crate::words::{ShellLabel, Words};

/// A step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// What this is and is not.
    Standing,
    /// The unit and the language.
    Own,
    /// Where readings come from.
    Sources,
    /// Lines, night and whom to call.
    Lines,
    /// Whether alerts may wake.
    Wakes,
}

impl Step {
    /// All steps, in order.
    pub const ALL: [Self; 5] = [Self::Standing, Self::Own, Self::Sources, Self::Lines, Self::Wakes];

    /// The step of a number from 0; the last one for any beyond.
    #[must_use]
    pub fn numbered(number: usize) -> Self {
        Self::ALL.get(number).copied().unwrap_or(Self::Wakes)
    }

    /// Its number, from 0.
    #[must_use]
    pub fn number(self) -> usize {
        Self::ALL.iter().position(|step| *step == self).unwrap_or_default()
    }

    /// The next one; the last stays.
    #[must_use]
    pub fn next(self) -> Self {
        Self::numbered(self.number() + 1)
    }

    /// Which settings it asks for.
    #[must_use]
    pub const fn settings(self) -> &'static [&'static str] {
        match self {
            Self::Own => &[settings::UNIT, settings::LANGUAGE],
            Self::Lines => &[
                settings::LOW_LINE,
                settings::HIGH_LINE,
                settings::NIGHT_FROM,
                settings::NIGHT_UNTIL,
                settings::EMERGENCY,
                settings::CONTACT,
            ],
            Self::Standing | Self::Sources | Self::Wakes => &[],
        }
    }
}

/// What only a phone can do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Ask {
    /// Look for a sensor nearby.
    FindSensor,
    /// Read its health records.
    ReadHealth,
    /// Let the wearer choose a file of readings.
    ReadFile,
    /// Let alerts come.
    AllowAlerts,
}

/// What became of a source of readings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum SourceState {
    /// It is nearby.
    Found,
    /// It is connected.
    Connected,
    /// It is out of reach, and waited for.
    Lost,
    /// It is read and gave nothing.
    Silent,
}

/// A source that was found or is read, on one line: its name, what became of it, when it last said something.
#[must_use]
pub fn source_line(name: &str, state: Option<SourceState>, heard: Option<Moment>, words: Words) -> String {
    let state = state.map(|state| {
        words.shell_label(match state {
            SourceState::Found => ShellLabel::SensorFound,
            SourceState::Connected => ShellLabel::SensorConnected,
            SourceState::Lost => ShellLabel::SensorLost,
            SourceState::Silent => ShellLabel::NoReadings,
        })
    });
    let parts = [Some(name.to_owned()), state.map(str::to_owned), heard.map(Moment::clock)];
    parts.into_iter().flatten().collect::<Vec<_>>().join(" \u{b7} ")
}

/// A part of a step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Part {
    /// What is to be understood.
    Sentence(String),
    /// Why something is asked.
    Text(String),
    /// A field to fill in.
    Field(Field),
    /// A button.
    Press {
        /// What it asks of the phone.
        ask: Ask,
        /// What is written on it.
        name: String,
    },
}

/// A step, laid out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Screen {
    /// The step it is.
    pub step: Step,
    /// Its name.
    pub title: String,
    /// Which of how many: `2 / 5`.
    pub place: String,
    /// From top to bottom.
    pub parts: Vec<Part>,
    /// On the button that goes on, or leaves after the last step.
    pub next: String,
    /// Whether that can be tapped yet.
    pub can_go_on: bool,
    /// On the button that leads to the step before, where there is one.
    pub back: Option<String>,
}

/// Where readings come from, each with why the phone asks.
#[must_use]
pub fn sources(has_health: bool, words: Words) -> Vec<Part> {
    let health = source(ShellLabel::HealthWhy, Ask::ReadHealth, ShellLabel::ReadHealth, words);
    source(ShellLabel::SensorWhy, Ask::FindSensor, ShellLabel::FindSensor, words)
        .into_iter()
        .chain(health.into_iter().filter(|_| has_health))
        .chain(source(ShellLabel::FileWhy, Ask::ReadFile, ShellLabel::ReadFile, words))
        .collect()
}

fn source(why: ShellLabel, ask: Ask, name: ShellLabel, words: Words) -> [Part; 2] {
    let label = |label| words.shell_label(label).to_owned();
    [Part::Text(label(why)), Part::Press { ask, name: label(name) }]
}

/// Lays a step out, with what was filled in. `has_health` says whether the phone keeps health records that can be read.
#[must_use]
pub fn screen(step: Step, filled: &Filled, before: &Wearer, has_health: bool, words: Words) -> Screen {
    let label = |label| words.shell_label(label).to_owned();
    let (form, _) = settings::read(filled, before, words);
    // The unit is never assumed: nothing stands there until it is chosen.
    let is_unset = |field: &Field| field.id == settings::UNIT && !filled.contains_key(settings::UNIT);
    let asked = form.fields.into_iter().filter(|field| step.settings().contains(&field.id)).map(|field| {
        let value = if is_unset(&field) { String::new() } else { field.value };
        Part::Field(Field { value, ..field })
    });
    let parts = match step {
        Step::Standing => vec![
            Part::Sentence(label(ShellLabel::FirstIs)),
            Part::Sentence(words.marked(words.shell_label(ShellLabel::NoMedicalDevice))),
        ],
        Step::Own | Step::Lines => asked.collect(),
        Step::Sources => sources(has_health, words),
        Step::Wakes => source(ShellLabel::WakesWhy, Ask::AllowAlerts, ShellLabel::WakesAllowed, words).to_vec(),
    };
    let next = match step {
        Step::Standing => ShellLabel::Agree,
        Step::Wakes => ShellLabel::Done,
        _ => ShellLabel::Next,
    };
    Screen {
        step,
        title: label(if step == Step::Sources { ShellLabel::WhereFrom } else { ShellLabel::FirstTitle }),
        place: format!("{} / {}", step.number() + 1, Step::ALL.len()),
        parts,
        next: label(next),
        can_go_on: step != Step::Own || filled.contains_key(settings::UNIT),
        back: (step.number() > 0).then(|| label(ShellLabel::Back)),
    }
}

/// Keeps what was filled in on a step, and goes on; where something cannot be taken, the step stays, with advice beside its field. Gives in
/// whose words it is, if anything was kept.
///
/// # Errors
/// Those of reading and writing the log; nothing is kept then.
pub fn next(
    step: Step,
    filled: &Filled,
    log: &mut Log,
    has_health: bool,
    now: Moment,
) -> Result<(Screen, Option<Words>)> {
    let wearer = log.wearer()?;
    let here = screen(step, filled, &wearer, has_health, Words::of(&wearer));
    if !here.can_go_on {
        return Ok((here, None));
    }
    let mut words = Words::of(&wearer);
    let mut kept = None;
    if !step.settings().is_empty() {
        let (_, Some(own)) = crate::settings::keep(log, filled, now)? else { return Ok((here, None)) };
        (words, kept) = (own, Some(own));
    }
    Ok((screen(step.next(), &Filled::new(), &log.wearer()?, has_health, words), kept))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::GlucoseUnit;

    fn laid_out(step: Step, filled: &[(&str, &str)], has_health: bool) -> Screen {
        let filled = filled.iter().map(|(id, value)| ((*id).to_owned(), (*value).to_owned())).collect();
        let wearer = Wearer::default();
        screen(step, &filled, &wearer, has_health, Words::of(&wearer))
    }

    fn fields(screen: &Screen) -> Vec<(&'static str, &str)> {
        let fields = screen.parts.iter();
        fields
            .filter_map(|part| if let Part::Field(field) = part { Some((field.id, &*field.value)) } else { None })
            .collect()
    }

    #[test]
    fn the_unit_is_asked_for_and_never_assumed() {
        let open = laid_out(Step::Own, &[], true);
        assert_eq!((fields(&open), open.can_go_on), (vec![("unit", ""), ("language", "en")], false));
        let chosen = laid_out(Step::Own, &[("unit", "mmol_l")], true);
        assert_eq!((fields(&chosen)[0], chosen.can_go_on), (("unit", "mmol_l"), true));
        assert_eq!(Wearer::default().unit, GlucoseUnit::MgDl, "which is what it would be taken for");
    }

    #[test]
    fn a_source_is_said_with_what_became_of_it() {
        let words = Words::of(&Wearer::default());
        let heard = Moment::parse("2026-03-01T03:05:00+01:00").unwrap();
        let line = |state, heard| source_line("Sensor 7", state, heard, words);
        assert_eq!(line(Some(SourceState::Connected), Some(heard)), "Sensor 7 · connected · 03:05");
        assert_eq!(
            (line(Some(SourceState::Lost), None).as_str(), line(None, None).as_str()),
            ("Sensor 7 · out of reach", "Sensor 7")
        );
    }

    #[test]
    fn each_source_comes_after_its_reason_and_only_what_the_phone_has() {
        for (has_health, count) in [(true, 3), (false, 2)] {
            let parts = laid_out(Step::Sources, &[], has_health).parts;
            assert_eq!(parts.len(), 2 * count);
            for pair in parts.chunks(2) {
                assert!(matches!(pair, [Part::Text(_), Part::Press { .. }]), "{pair:?}");
            }
        }
    }

    #[test]
    fn the_steps_follow_each_other_and_the_last_stays() {
        let mut step = Step::numbered(0);
        for (number, expected) in Step::ALL.into_iter().enumerate() {
            assert_eq!((step, step.number()), (expected, number));
            let shown = laid_out(step, &[], true);
            assert_eq!(shown.place, format!("{} / 5", number + 1));
            assert_eq!(shown.back.is_some(), number > 0, "a wrong unit is put right where it was asked for");
            step = step.next();
        }
        assert_eq!((step, Step::numbered(99)), (Step::Wakes, Step::Wakes));
    }

    #[test]
    fn a_line_that_cannot_be_is_said_beside_its_field() {
        let slip = laid_out(Step::Lines, &[("low_line", "40")], true);
        let advice = |id: &str| {
            let mut found = slip.parts.iter();
            found.any(|part| matches!(part, Part::Field(field) if field.id == id && field.advice.is_some()))
        };
        assert!(advice("low_line") && !advice("high_line"));
        assert_eq!(fields(&slip).len(), 6);
    }
}
