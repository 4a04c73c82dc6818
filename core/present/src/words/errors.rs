//! What went wrong, in words.

use super::Words;
use crate::error::Error;
use crate::say;

impl Words {
    /// An error as text. What only the developers of a file format or a system know (the detail of a failed read, say)
    /// stays in the words it came in.
    #[must_use]
    pub fn error(self, error: &Error) -> String {
        let n = self.numbers;
        match error {
            Error::OutOfRange { what, given, low, high, unit } => say!(
                self,
                "error-out-of-range",
                what = self.quantity(what),
                low = n.localised(format!("{low:.1}")),
                high = n.localised(format!("{high:.1}")),
                unit = self.unit_name(unit),
                given = n.localised(given.to_string()),
            ),
            Error::Invalid { what, why } => say!(self, "error-invalid", what = self.quantity(what), why),
            Error::NoSuchEntry { id } => say!(self, "error-no-such-entry", id = id.to_string()),
            Error::Import { file, line, column, why } => {
                self.refused(&file.display().to_string(), *line, *column, &self.refusal(why))
            }
            // The path and what the system said of it: no word of ours.
            Error::File { path, source } => format!("{}: {source}", path.display()),
            Error::NotALog { path } => say!(self, "error-not-a-log", path = path.display()),
            Error::NewerLog { path, found, known } => {
                say!(self, "error-newer-log", path = path.display(), found, known)
            }
            Error::DamagedLog { path, what } => {
                say!(self, "error-damaged-log", path = path.display(), what = self.damage(what))
            }
            Error::DiskFull { path } => say!(self, "error-disk-full", path = path.display()),
            Error::ReadOnly { path } => say!(self, "error-read-only", path = path.display()),
            Error::Gone { path } => say!(self, "error-gone", path = path.display()),
            Error::Busy { path } => say!(self, "error-busy", path = path.display()),
            Error::NotASealedLog { path } => say!(self, "error-not-a-sealed-log", path = path.display()),
            Error::WrongPassphrase { path } => say!(self, "error-wrong-passphrase", path = path.display()),
            Error::DamagedSealedLog { path, what } => {
                say!(self, "error-damaged-sealed-log", path = path.display(), what = self.damage(what))
            }
            Error::Database { path, source } => {
                say!(self, "error-database", path = path.display(), source = source.to_string())
            }
        }
    }

    /// A quantity that core names.
    fn quantity(self, what: &str) -> String {
        self.named("quantity", what)
    }

    /// What a damaged file shows.
    fn damage(self, what: &str) -> String {
        self.named("damage", what)
    }

    /// A unit that core names.
    pub(crate) fn unit_name(self, unit: &str) -> String {
        self.named("unit", unit)
    }
}
