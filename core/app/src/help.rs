//! Whom to call: the screen that stands one tap from every other, with a log or without one.

use crate::wearer::EMERGENCY_NUMBER;
use crate::words::{ShellLabel, Words};

/// A number to dial.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Call {
    /// What is written on the button, the number in it.
    pub text: String,
    /// The number, as a phone dials it.
    pub number: String,
}

/// The screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Page {
    /// Its name.
    pub heading: String,
    /// When to call.
    pub when: String,
    /// What to do meanwhile.
    pub meanwhile: String,
    /// Whom to call: the emergency number first, then the wearer's own contact, if they named one.
    pub calls: Vec<Call>,
    /// On what leaves it.
    pub back: String,
}

/// Lays it out, with the wearer's own numbers where they set any.
#[must_use]
pub fn page(emergency: Option<&str>, contact: Option<&str>, words: Words) -> Page {
    let label = |label| words.shell_label(label).to_owned();
    let call =
        |name, number| Call { text: format!("{} {number}", words.shell_label(name)), number: as_dialled(number) };
    let emergency = call(ShellLabel::CallEmergency, emergency.unwrap_or(EMERGENCY_NUMBER));
    let contact = contact.map(|number| call(ShellLabel::CallContact, number));
    Page {
        heading: words.marked(words.shell_label(ShellLabel::GetHelp)),
        when: label(ShellLabel::HelpNow),
        meanwhile: label(ShellLabel::HelpMeanwhile),
        calls: std::iter::once(emergency).chain(contact).collect(),
        back: label(ShellLabel::Back),
    }
}

/// As a phone dials it. A zero in brackets is for callers at home: after a country's code it is left out.
fn as_dialled(number: &str) -> String {
    let number = if number.starts_with('+') { number.replace("(0)", "") } else { number.to_owned() };
    number.chars().filter(|one| one.is_ascii_digit() || *one == '+').collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wearer::Wearer;

    #[test]
    fn the_emergency_comes_first_and_a_number_is_dialled_as_it_must_be() {
        let numbers = |emergency, contact| {
            let calls = page(emergency, contact, Words::of(&Wearer::default())).calls;
            calls.into_iter().map(|call| call.number).collect::<Vec<_>>()
        };
        assert_eq!(numbers(None, None), ["112"]);
        assert_eq!(numbers(Some("999"), Some("+49 (0)30 / 12-34")), ["999", "+49301234"]);
        assert_eq!(numbers(None, Some("(030) 1234")), ["112", "0301234"]);
    }
}
