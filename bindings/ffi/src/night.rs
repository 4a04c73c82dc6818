//! The answers that fit a prompt, after an alarm.

use ebbstead_core::night;
use ebbstead_core::prompt as core_prompt;
use ebbstead_core::words::Words;

use crate::mirror::mirrored_names;

mirrored_names! {
    /// An answer that can be offered.
    NightChoice = ebbstead_core::night::Offer {
        /// Call, before anything else: the screen of [`crate::HelpPage`].
        Call,
        /// A meter was used: ask what it shows.
        Checked,
        /// Rescue carbohydrate was taken.
        Treated,
        /// The wearer lies no longer on the sensor.
        RolledOver,
    }
}

/// An answer to offer, in words.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record, serde::Serialize)]
pub struct NightOffer {
    /// Which.
    pub what: NightChoice,
    /// What to write on its button.
    pub text: String,
}

impl NightOffer {
    /// The answers that fit a prompt, the one it asks for first.
    pub(crate) fn fitting(prompt: &core_prompt::Prompt, words: Words) -> Vec<Self> {
        night::offers(prompt)
            .into_iter()
            .map(|offer| Self { what: offer.into(), text: words.shell_label(offer.label()).to_owned() })
            .collect()
    }
}
