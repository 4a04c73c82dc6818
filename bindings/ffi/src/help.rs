//! Whom to call, with a log or without one.

use std::panic::catch_unwind;

use ebbstead_core::wearer::EMERGENCY_NUMBER;
use ebbstead_core::words::ShellLabel;

use crate::settings::spoken;

/// A number to dial.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct HelpCall {
    /// What to write on the button, the number in it.
    pub text: String,
    /// The number, as a phone dials it.
    pub number: String,
}

/// The screen that calls. Show it from every other screen, in one tap.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct HelpPage {
    /// Its name.
    pub heading: String,
    /// When to call.
    pub when: String,
    /// What to do meanwhile.
    pub meanwhile: String,
    /// Whom to call: the emergency number first, then the wearer's own contact, if they named one.
    pub calls: Vec<HelpCall>,
    /// Leaves it.
    pub back: String,
}

/// The screen that calls, without a log: keep the numbers of the newest [`HelpPage`] beside the log, and pass them here when it
/// cannot be opened. Without any, the emergency number is 112. `language` is a tag of BCP 47; one that has no words is spoken in
/// English. It cannot fail: were there no words for it, the number alone stands on it.
#[uniffi::export]
#[allow(clippy::needless_pass_by_value)] // the generated code hands over owned strings
#[must_use]
pub fn help_page(language: String, emergency: Option<String>, contact: Option<String>) -> HelpPage {
    catch_unwind(|| worded(&language, emergency.as_deref(), contact.as_deref())).unwrap_or_else(|_| {
        let number = emergency.as_deref().map_or_else(|| EMERGENCY_NUMBER.to_owned(), dialled);
        let calls = vec![HelpCall { text: number.clone(), number: number.clone() }];
        HelpPage { heading: number, when: String::new(), meanwhile: String::new(), calls, back: "OK".to_owned() }
    })
}

fn worded(language: &str, emergency: Option<&str>, contact: Option<&str>) -> HelpPage {
    let words = spoken(language);
    let label = |label| words.shell_label(label).to_owned();
    let call = |name: ShellLabel, number: &str| HelpCall {
        text: format!("{} {number}", words.shell_label(name)),
        number: dialled(number),
    };
    let emergency = emergency.unwrap_or(EMERGENCY_NUMBER);
    let calls = std::iter::once(call(ShellLabel::CallEmergency, emergency))
        .chain(contact.map(|number| call(ShellLabel::CallContact, number)));
    HelpPage {
        heading: words.marked(words.shell_label(ShellLabel::GetHelp)),
        when: label(ShellLabel::HelpNow),
        meanwhile: label(ShellLabel::HelpMeanwhile),
        calls: calls.collect(),
        back: label(ShellLabel::Back),
    }
}

/// As a phone dials it. A zero in brackets is for callers at home: after a country's code it is left out.
fn dialled(number: &str) -> String {
    let number = if number.starts_with('+') { number.replace("(0)", "") } else { number.to_owned() };
    number.chars().filter(|one| one.is_ascii_digit() || *one == '+').collect()
}
