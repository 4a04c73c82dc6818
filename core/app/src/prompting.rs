//! The screen with a prompt, by day and after waking: what stands on it and in which order, what can be tapped, and what a tap does. One
//! place for every shell that shows one.

mod state;

pub use state::{Change, MeterAsked, State, Step};

use crate::chart::Chart;
use crate::forms::{Field, Takes};
use crate::log::Symptom;
use crate::night::Offer;
use crate::prompt::{Prompt, Verdict};
use crate::words::{Label, Lead, ShellLabel, Words};

/// Reasons shown at once; the rest is one tap away.
const REASONS_SHOWN: usize = 3;
/// What the field for a meter is called when it is handed back.
pub const METER: &str = "meter";

/// A prompt in words, in the order to show it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Said {
    /// What to do, in one to three words.
    pub verdict: String,
    /// What it is about.
    pub matter: String,
    /// What to do and why, in one sentence.
    pub sentence: String,
    /// What to do if no meter is at hand, where a check is asked for.
    pub without_meter: Option<String>,
    /// When to look again, where the sentence does not say it itself.
    pub look_again: Option<String>,
    /// The newest reading with its age.
    pub reading: Option<String>,
    /// The same without its age.
    pub amount: Option<String>,
    /// Its age.
    pub age: Option<String>,
    /// How fast glucose moves.
    pub rate: Option<String>,
    /// The name over the reasons.
    pub why: String,
    /// Why, the weightiest first.
    pub reasons: Vec<String>,
    /// The name over what would change it.
    pub would_change_name: String,
    /// What would change it.
    pub would_change: Vec<String>,
    /// The name over the cautions.
    pub careful: String,
    /// The cautions that apply.
    pub cautions: Vec<String>,
}

impl Said {
    /// Words a prompt. What is wrong with the log, if anything, leads its cautions: what it is made of may not be all there was.
    #[must_use]
    pub fn of(prompt: &Prompt, damage: Option<String>, words: Words) -> Self {
        let Lead { heading, sentence, without_meter, look_again } = words.lead(prompt);
        let reading = prompt.estimate.and_then(|estimate| estimate.reading);
        let newest = words.newest(prompt, prompt.at);
        let cautions = prompt.cautions.iter().map(|&one| words.caution(one));
        Self {
            verdict: heading,
            matter: words.matter(prompt.matter),
            without_meter,
            look_again,
            sentence,
            reading: reading.map(|reading| words.reading_ago(&reading, prompt.at)),
            amount: newest.as_ref().map(|newest| newest.amount.clone()),
            age: newest.as_ref().map(|newest| newest.age.clone()),
            rate: newest.and_then(|newest| newest.rate),
            why: words.label(Label::Why),
            reasons: prompt.reasons.iter().map(|&one| words.reason(one)).collect(),
            would_change_name: words.label(Label::WouldChange),
            would_change: prompt.would_change.iter().map(|&one| words.change(one)).collect(),
            careful: words.label(Label::Careful),
            cautions: damage.into_iter().chain(cautions).collect(),
        }
    }

    /// The block at the top of the screen.
    #[must_use]
    pub fn headline(&self, verdict: Verdict) -> Headline {
        Headline {
            verdict,
            word: self.verdict.clone(),
            sentence: self.sentence.clone(),
            asides: [&self.without_meter, &self.look_again].into_iter().flatten().cloned().collect(),
            amount: self.amount.clone(),
            accessory: [&self.age, &self.rate].into_iter().flatten().cloned().collect(),
        }
    }
}

/// What to do, why, and the reading it rests on: the largest thing on the screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Headline {
    /// Its weight and its sign follow from this.
    pub verdict: Verdict,
    /// What to do, in one to three words.
    pub word: String,
    /// What to do and why.
    pub sentence: String,
    /// What to do without a meter; when to look again.
    pub asides: Vec<String>,
    /// The newest reading.
    pub amount: Option<String>,
    /// Its age, and how fast it moves.
    pub accessory: Vec<String>,
}

/// What can be tapped.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Tap {
    /// Ask again: the screen is turned to.
    Look,
    /// Ask again because something changed, not because of a tap: what was said about the last tap stays.
    Refresh,
    /// Ask what the meter shows.
    AskMeter,
    /// Leave that.
    LeaveMeter,
    /// Rescue carbohydrate was taken.
    Treated,
    /// The wearer lies no longer on the sensor.
    RolledOver,
    /// The wearer feels this.
    Feel(Symptom),
    /// Take back what was noted last.
    Undo,
    /// Leave the night for the screen of the day.
    LeaveNight,
    /// Turn to what is asked ahead.
    Before,
    /// Turn to whom to call.
    Help,
    /// Let the phone ask whether alerts may ring, or show where that is set.
    AllowAlerts,
}

/// A thing to tap.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Button {
    /// What it does.
    pub tap: Tap,
    /// What is written on it.
    pub text: String,
    /// Whether it is the one that the verdict asks for.
    pub is_main: bool,
}

/// What became of a tap.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Noted {
    /// That it was kept or taken back, or why it could not be.
    pub text: String,
    /// On the button that takes it back, where that can be.
    pub undo: Option<String>,
}

/// Items, under a name where they have one of their own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Items {
    /// The name.
    pub name: Option<String>,
    /// The items.
    pub items: Vec<String>,
}

/// A part of the screen.
#[derive(Clone, Debug, PartialEq)]
pub enum Part {
    /// The answer.
    Headline(Headline),
    /// What became of the last tap.
    Noted(Noted),
    /// Something that is wrong.
    Notice(String),
    /// A list.
    Items(Items),
    /// The chart.
    Chart(Chart),
    /// A button.
    Press(Button),
    /// Lists that one tap unfolds.
    Folded {
        /// On what unfolds them.
        more: String,
        /// On what folds them again.
        less: String,
        /// The lists.
        lists: Vec<Items>,
    },
    /// A small text.
    Text(String),
}

/// The screen.
#[derive(Clone, Debug, PartialEq)]
pub struct Screen {
    /// Its name.
    pub title: String,
    /// From top to bottom.
    pub parts: Vec<Part>,
    /// Always under the thumb.
    pub pinned: Vec<Button>,
    /// While it is asked what the meter shows: the field, over the rest of the screen.
    pub meter: Option<Field>,
    /// Under that field: on the button that notes what the meter shows.
    pub keep: String,
    /// On the one that leaves it.
    pub leave: String,
    /// In the night: on what leaves it.
    pub back: String,
}

/// What is shown: an answer, with what can be answered to it.
#[derive(Clone, Copy, Debug)]
pub struct Answered<'a> {
    /// The answer.
    pub prompt: &'a Prompt,
    /// The same in words.
    pub said: &'a Said,
    /// The same drawn.
    pub chart: &'a Chart,
    /// The answers that fit.
    pub offers: &'a [Offer],
}

/// What else bears on the screen.
#[derive(Clone, Debug, Default)]
pub struct Around {
    /// Whether it is drawn for the night ([`crate::night::Look`]).
    pub at_night: bool,
    /// Whether the log can only be read.
    pub is_read_only: bool,
    /// Whether the phone lets no alert ring.
    pub alerts_off: bool,
    /// What is wrong with the log; it stands above every screen.
    pub damage: Option<String>,
    /// What became of the last tap.
    pub noted: Option<Noted>,
    /// While it is asked what the meter shows.
    pub meter: Option<MeterAsked>,
}

/// Lays the screen out; without an answer, before anything was asked. At night the chart and the reasons are left out.
#[must_use]
pub fn screen(answered: Option<Answered>, around: Around, words: Words) -> Screen {
    let Around { at_night, is_read_only, alerts_off, damage, noted, meter } = around;
    let label = |label| words.shell_label(label).to_owned();
    let press = |name, tap| Part::Press(Button { tap, text: label(name), is_main: false });
    let said = answered.map(|answered| answered.said);
    let mut parts: Vec<Part> = Vec::new();
    parts.extend(answered.map(|one| Part::Headline(one.said.headline(one.prompt.verdict))));
    parts.extend(noted.map(Part::Noted));
    if is_read_only {
        parts.push(Part::Notice(label(ShellLabel::ReadOnlyLog)));
    }
    if alerts_off {
        parts.push(Part::Notice(label(ShellLabel::AlertsOff)));
        // The phone's settings are bright.
        parts.extend((!at_night).then(|| press(ShellLabel::WakesAllowed, Tap::AllowAlerts)));
    }
    if let Some(said) = said {
        let cautions = said.cautions.iter().filter(|caution| Some(*caution) != damage.as_ref()).cloned();
        parts.extend(items(Some(&said.careful), cautions));
    }
    // Where a call is due, nothing that can wait is offered.
    let can_wait = answered.is_none_or(|one| one.prompt.verdict != Verdict::Help);
    if at_night {
        parts.push(press(ShellLabel::SevereSigns, Tap::Feel(Symptom::Severe)));
        parts.extend(can_wait.then(|| press(ShellLabel::BeforeSleepOpen, Tap::Before)));
    } else {
        parts.extend(answered.map(|one| Part::Chart(one.chart.clone())));
        parts.extend(can_wait.then(|| press(ShellLabel::BeforeOpen, Tap::Before)));
        if let Some(said) = said {
            let (first, rest) = said.reasons.split_at(said.reasons.len().min(REASONS_SHOWN));
            parts.extend(items(Some(&said.why), first.iter().cloned()));
            parts.extend(folded(rest, said, words));
        }
        if can_wait {
            parts.push(press(ShellLabel::FeelHigh, Tap::Feel(Symptom::FeelsHigh)));
            parts.push(press(ShellLabel::FeelNeither, Tap::Feel(Symptom::None)));
        }
        parts.push(press(ShellLabel::SevereSigns, Tap::Feel(Symptom::Severe)));
        parts.push(Part::Text(words.marked(words.shell_label(ShellLabel::NoMedicalDevice))));
    }
    let title = label(if at_night { ShellLabel::ScreenNight } else { ShellLabel::ScreenNow });
    Screen {
        title,
        parts,
        pinned: pinned(answered, at_night, words),
        meter: meter.map(|asked| meter_field(asked, words)),
        keep: label(ShellLabel::Add),
        leave: label(ShellLabel::Cancel),
        back: label(ShellLabel::Back),
    }
}

fn items(name: Option<&String>, items: impl Iterator<Item = String>) -> Option<Part> {
    let items: Vec<String> = items.collect();
    (!items.is_empty()).then(|| Part::Items(Items { name: name.cloned(), items }))
}

fn folded(rest: &[String], said: &Said, words: Words) -> Option<Part> {
    let lists = [(None, rest), (Some(&said.would_change_name), &said.would_change[..])]
        .into_iter()
        .filter(|(_, items)| !items.is_empty())
        .map(|(name, items)| Items { name: name.cloned(), items: items.to_vec() })
        .collect::<Vec<_>>();
    let label = |label| words.shell_label(label).to_owned();
    (!lists.is_empty()).then(|| Part::Folded { more: label(ShellLabel::More), less: label(ShellLabel::Less), lists })
}

/// By day the same four, at night those answers that fit, and always in the same order: a finger finds them without the eye, and what the
/// verdict asks for is shown by [`Button::is_main`]. Where a call is the answer, nothing else is offered before it.
fn pinned(answered: Option<Answered>, at_night: bool, words: Words) -> Vec<Button> {
    let verdict = answered.map(|one| one.prompt.verdict);
    let button = |name, tap, is_main| Button { tap, text: words.shell_label(name).to_owned(), is_main };
    let low = button(ShellLabel::FeelLowShort, Tap::Feel(Symptom::FeelsLow), false);
    let help = button(ShellLabel::GetHelp, Tap::Help, verdict == Some(Verdict::Help));
    if verdict == Some(Verdict::Help) {
        return vec![help, low];
    }
    let fitting = answered.filter(|_| at_night).map_or(&[Offer::Treated, Offer::Checked][..], |one| one.offers);
    let offers =
        [Offer::Treated, Offer::Checked, Offer::RolledOver].into_iter().filter(|offer| fitting.contains(offer));
    let asks_for = match verdict {
        Some(Verdict::Treat) => Some(Offer::Treated),
        Some(Verdict::Check) => Some(Offer::Checked),
        _ => None,
    };
    let offered = offers.map(|offer| {
        let tap = match offer {
            Offer::Call => Tap::Help,
            Offer::Checked => Tap::AskMeter,
            Offer::Treated => Tap::Treated,
            Offer::RolledOver => Tap::RolledOver,
        };
        button(offer.label(), tap, Some(offer) == asks_for)
    });
    offered.chain([low, help]).collect()
}

/// Asks what the meter shows.
fn meter_field(asked: MeterAsked, words: Words) -> Field {
    let MeterAsked { typed, advice } = asked;
    Field {
        id: METER,
        over: None,
        name: words.shell_label(ShellLabel::MeterShows).to_owned(),
        unit: words.unit().code().to_owned(),
        takes: Takes::Number,
        value: typed,
        note: None,
        advice,
    }
}

#[cfg(test)]
mod tests;
