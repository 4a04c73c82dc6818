//! The passphrase, which is wiped from memory when it is dropped and never printed.

use std::collections::HashSet;
use std::fmt;

use age::secrecy::SecretString;
use age::{Identity, Recipient, scrypt};
use zeroize::Zeroizing;

use super::{MOST_WORK, WORK};
use crate::error::{Error, Quantity, Result, Why};
use crate::exchange::SHORTEST_PASSPHRASE;

/// What opens a sealed log.
pub struct Passphrase(SecretString);

impl Passphrase {
    /// The fewest different characters among them; ours, so that one key held down is no passphrase.
    const FEWEST_DIFFERENT: usize = 5;

    /// Takes a passphrase for sealing; long enough that guessing is no use.
    ///
    /// # Errors
    /// [`Error::Invalid`] where it is too short, or made of few different characters.
    pub fn for_sealing(text: Zeroizing<String>) -> Result<Self> {
        let refused = |why| Err(Error::Invalid { what: Quantity::Passphrase, why });
        if text.trim().chars().count() < SHORTEST_PASSPHRASE {
            return refused(Why::FewCharacters { least: SHORTEST_PASSPHRASE });
        }
        let different: HashSet<char> = text.chars().collect();
        if different.len() < Self::FEWEST_DIFFERENT {
            return refused(Why::FewDifferent { least: Self::FEWEST_DIFFERENT });
        }
        Self::for_opening(text)
    }

    /// Takes a passphrase to open what was sealed.
    ///
    /// # Errors
    /// [`Error::Invalid`] where it is empty.
    // By value: the caller's copy is wiped when this returns.
    pub fn for_opening(text: Zeroizing<String>) -> Result<Self> {
        if text.is_empty() {
            return Err(Error::Invalid { what: Quantity::Passphrase, why: Why::Empty });
        }
        // An exact copy: shrinking the string in place could leave its old room in memory unwiped.
        Ok(Self(SecretString::from(Box::<str>::from(text.as_str()))))
    }

    pub(super) fn recipient(&self) -> impl Recipient + use<> {
        let mut recipient = scrypt::Recipient::new(self.0.clone());
        recipient.set_work_factor(WORK);
        recipient
    }

    pub(super) fn identity(&self) -> impl Identity + use<> {
        let mut identity = scrypt::Identity::new(self.0.clone());
        identity.set_max_work_factor(MOST_WORK);
        identity
    }
}

impl fmt::Debug for Passphrase {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Passphrase(..)")
    }
}
