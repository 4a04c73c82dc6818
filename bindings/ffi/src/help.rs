//! Whom to call, with a log or without one.

use std::panic::catch_unwind;

use ebbstead_core::help;
use ebbstead_core::wearer::EMERGENCY_NUMBER;

use crate::chart::all;
use crate::mirror::mirrored_record;
use crate::settings::spoken;

mirrored_record! {
    /// A number to dial.
    HelpCall = ebbstead_core::help::Call {
        /// What to write on the button, the number in it.
        text: String,
        /// The number, as a phone dials it.
        number: String,
    }
}

/// The screen that calls. Show it from every other screen, in one tap.
#[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
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

impl From<help::Page> for HelpPage {
    fn from(core: help::Page) -> Self {
        let help::Page { heading, when, meanwhile, calls, back } = core;
        Self { heading, when, meanwhile, calls: all(calls), back }
    }
}

/// The screen that calls, without a log: keep the numbers of the newest [`HelpPage`] beside the log, and pass them here when it
/// cannot be opened. Without any, the emergency number is 112. `language` is a tag of BCP 47; one that has no words is spoken in
/// English. It cannot fail: where nothing else could be said, it has the number alone.
#[uniffi::export]
// By value: the generated code hands over owned strings.
pub fn help_page(language: String, emergency: Option<String>, contact: Option<String>) -> HelpPage {
    sure_page(emergency.as_deref(), || help::page(emergency.as_deref(), contact.as_deref(), spoken(&language)).into())
}

/// A page, or, whatever made it panic, the number.
fn sure_page(emergency: Option<&str>, page: impl FnOnce() -> HelpPage + std::panic::UnwindSafe) -> HelpPage {
    catch_unwind(page).unwrap_or_else(|_| {
        let number = emergency.unwrap_or(EMERGENCY_NUMBER).to_owned();
        HelpPage {
            heading: number.clone(),
            when: String::new(),
            meanwhile: String::new(),
            calls: vec![HelpCall { text: number.clone(), number }],
            back: "OK".to_owned(),
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_number_is_there_whatever_fails() {
        let page = sure_page(Some("999"), || panic!("for this test"));
        assert_eq!(page.calls, vec![HelpCall { text: "999".to_owned(), number: "999".to_owned() }]);
        assert_eq!(sure_page(None, || panic!("for this test")).calls[0].number, "112");
        assert_eq!(help_page("nonsense".to_owned(), None, None).calls.len(), 1);
    }
}
