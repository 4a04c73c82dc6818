//! What went wrong, in words.

use std::io::ErrorKind;

use super::Words;
use crate::error::{Damage, Error, Quantity, Unit, Why};
use crate::units::{GlucoseUnit, MG_DL_PER_MMOL_L};
use crate::{say, text};

impl Words {
    /// An error as text. What only the developers of a file format or a system know (the detail of a failed read, say)
    /// stays in the words it came in.
    #[must_use]
    pub fn error(self, error: &Error) -> String {
        match error {
            Error::OutOfRange { what, given, low, high, unit } => {
                self.out_of_range(self.quantity(*what), *given, (*low, *high), *unit)
            }
            Error::Invalid { what, why } => {
                say!(self, "error-invalid", what = self.quantity(*what), why = self.why(why))
            }
            Error::NoSuchEntry { id } => say!(self, "error-no-such-entry", id = id.to_string()),
            Error::Import { file, line, column, why } => {
                self.refused(&file.display().to_string(), *line, *column, &self.refusal(why))
            }
            Error::File { path, source } => {
                // What else the system says of a file stays in its words.
                let why = match source.kind() {
                    ErrorKind::AlreadyExists => text!(self, "file-exists").to_owned(),
                    ErrorKind::NotFound => text!(self, "file-not-found").to_owned(),
                    ErrorKind::PermissionDenied => text!(self, "file-permission-denied").to_owned(),
                    ErrorKind::IsADirectory => text!(self, "file-is-a-folder").to_owned(),
                    _ => source.to_string(),
                };
                format!("{}: {why}", path.display())
            }
            Error::NotALog { path } => say!(self, "error-not-a-log", path = path.display()),
            Error::NewerLog { path, found, known } => {
                say!(self, "error-newer-log", path = path.display(), found, known)
            }
            Error::DamagedLog { path, what } => {
                say!(self, "error-damaged-log", path = path.display(), what = self.damage(*what))
            }
            Error::DiskFull { path } => say!(self, "error-disk-full", path = path.display()),
            Error::ReadOnly { path } => say!(self, "error-read-only", path = path.display()),
            Error::Gone { path } => say!(self, "error-gone", path = path.display()),
            Error::Busy { path } => say!(self, "error-busy", path = path.display()),
            Error::NotASealedLog { path } => say!(self, "error-not-a-sealed-log", path = path.display()),
            Error::WrongPassphrase { path } => say!(self, "error-wrong-passphrase", path = path.display()),
            Error::DamagedSealedLog { path, what } => {
                say!(self, "error-damaged-sealed-log", path = path.display(), what = self.damage(*what))
            }
            Error::Database { path, source } => {
                say!(self, "error-database", path = path.display(), source = source.to_string())
            }
        }
    }

    /// That an amount lies outside its limits. Lines and amounts are checked in mg/dL, and typed in the wearer's unit.
    fn out_of_range(self, what: String, given: f64, limits: (f64, f64), unit: Unit) -> String {
        let n = self.numbers;
        let (mg_dl, mmol_l) = (GlucoseUnit::MgDl.code(), GlucoseUnit::MmolL.code());
        let is_amount = unit == Unit::MgDl;
        let is_glucose = is_amount || matches!(unit, Unit::MgDlMin | Unit::MgDlPerUnit | Unit::MgDlPerGram);
        let in_mmol_l = is_glucose && n.unit == GlucoseUnit::MmolL;
        let unit = self.unit_name(unit);
        let (shown, unit) =
            if in_mmol_l { (1.0 / MG_DL_PER_MMOL_L, unit.replace(mg_dl, mmol_l)) } else { (1.0, unit.to_owned()) };
        let ((low, high), size) = ((limits.0 * shown, limits.1 * shown), given * shown);
        // Nothing is excluded by name and included by number: 0 is no amount.
        if low == 0.0 && size == 0.0 {
            return say!(self, "error-over-nothing", what, high = n.localised(format!("{high:.1}")), unit);
        }
        // As many digits as it takes to see that it lies outside.
        let same = |limit: f64| format!("{size:.1}") == format!("{limit:.1}");
        let is_fine = in_mmol_l || low > 0.0 && low < 0.1;
        // A factor a gram would be lost in rounding.
        let digits = if is_fine && (!is_amount && in_mmol_l || same(low) || same(high)) { 2 } else { 1 };
        let limit = |limit: f64| n.localised(format!("{limit:.digits$}"));
        let given = if in_mmol_l { format!("{size:.digits$}") } else { given.to_string() };
        say!(self, "error-out-of-range", what, low = limit(low), high = limit(high), unit, given = n.localised(given))
    }

    /// A quantity that core names.
    pub(crate) fn quantity(self, what: Quantity) -> String {
        self.named("quantity", what.name())
    }

    /// Why something cannot be taken.
    #[must_use]
    pub fn why(self, why: &Why) -> String {
        let fixed = match why {
            Why::Empty => text!(self, "why-empty"),
            Why::TooLong { most_bytes } => return say!(self, "why-too-long", most = *most_bytes),
            Why::ControlCharacters => text!(self, "why-control-characters"),
            Why::NotOneLine { most_bytes } => return say!(self, "why-not-one-line", most = *most_bytes),
            Why::Malformed { given, like } => return say!(self, "why-malformed", given = given.as_str(), like = *like),
            Why::NotDialled => text!(self, "why-not-dialled"),
            Why::NoNumber => text!(self, "why-no-number"),
            Why::TwoWays { given } => return say!(self, "why-two-ways", given = given.clone()),
            Why::CorrectedElsewhere => text!(self, "why-corrected-elsewhere"),
            Why::FitsOtherUnit => text!(self, "why-fits-other-unit"),
            Why::KetonesTooHigh => text!(self, "why-ketones-too-high"),
            Why::OutsideYears { first, last } => {
                return say!(self, "why-outside-years", first = first.to_string(), last = last.to_string());
            }
            Why::OffsetFromUtc { minutes } => return say!(self, "why-offset-from-utc", minutes = minutes.to_string()),
            Why::SameHours => text!(self, "why-same-hours"),
            Why::InFuture { at, clock } => {
                return say!(self, "why-in-future", at = self.date_time(*at), clock = self.date_time(*clock));
            }
            Why::EndsBeforeItBegins => text!(self, "why-ends-before-it-begins"),
            Why::OverADay => text!(self, "why-over-a-day"),
            Why::NotAfter { until, from } => {
                return say!(self, "why-not-after", until = self.date_time(*until), from = self.date_time(*from));
            }
            Why::PiecesComeWhole => text!(self, "why-pieces-come-whole"),
            Why::NamesNoPrice => text!(self, "why-names-no-price"),
            Why::NamesNoEntry => text!(self, "why-names-no-entry"),
            Why::NotItsOwn => text!(self, "why-not-its-own"),
            Why::FewCharacters { least } => return say!(self, "why-few-characters", least = *least),
            Why::FewDifferent { least } => return say!(self, "why-few-different", least = *least),
            Why::RetractInstead => text!(self, "why-retract-instead"),
            Why::ImportOnlyRenamed => text!(self, "why-import-only-renamed"),
            Why::ImportTakenBack => text!(self, "why-import-taken-back"),
            Why::HasEntries => text!(self, "why-has-entries"),
            Why::CannotBeTaken => text!(self, "why-cannot-be-taken"),
            Why::CannotBeCompared => text!(self, "why-cannot-be-compared"),
            Why::NoSuchSensor => text!(self, "why-no-such-sensor"),
            Why::MergeWarnings => text!(self, "why-merge-warnings"),
            Why::NoHomeFolder => text!(self, "why-no-home-folder"),
            Why::OneOffset => text!(self, "why-one-offset"),
            Why::NeedsColumns { names } => return say!(self, "why-needs-columns", names = names.as_str()),
            Why::Detail(words) => return words.clone(),
        };
        fixed.to_owned()
    }

    /// What a damaged file shows.
    fn damage(self, what: Damage) -> String {
        let fixed = match what {
            Damage::SideFileAlone => text!(self, "damage-side-file-alone"),
            Damage::SideFileHead => text!(self, "damage-side-file-head"),
            Damage::SideFile => text!(self, "damage-side-file"),
            Damage::SideFileLost => text!(self, "damage-side-file-lost"),
            Damage::FirstPage => text!(self, "damage-first-page"),
            Damage::Pages => text!(self, "damage-pages"),
            Damage::AutoVacuum => text!(self, "damage-auto-vacuum"),
            Damage::EndsEarly => text!(self, "damage-ends-early"),
            Damage::Table => text!(self, "damage-table"),
            Damage::Value => text!(self, "damage-value"),
            Damage::RowTooLarge => text!(self, "damage-row-too-large"),
            Damage::Reading => text!(self, "damage-reading"),
            Damage::Entry => text!(self, "damage-entry"),
            Damage::Setting => text!(self, "damage-setting"),
            Damage::SourceWithoutName => text!(self, "damage-source-without-name"),
            Damage::ReadingBeforeSource => text!(self, "damage-reading-before-source"),
            Damage::SourceStart => text!(self, "damage-source-start"),
            Damage::ImportWithoutIdentity => text!(self, "damage-import-without-identity"),
            Damage::Stray => text!(self, "damage-stray"),
            Damage::Identity => text!(self, "damage-identity"),
            Damage::Head => text!(self, "damage-head"),
            Damage::Memory => text!(self, "damage-memory"),
            Damage::Piece => text!(self, "damage-piece"),
            Damage::Empty => text!(self, "damage-empty"),
            Damage::Line => text!(self, "damage-line"),
            Damage::ReadingWithoutSource => text!(self, "damage-reading-without-source"),
            Damage::ReadingCannotBe => text!(self, "damage-reading-cannot-be"),
            Damage::EntryCannotBe => text!(self, "damage-entry-cannot-be"),
            Damage::ReadingsOutOfOrder => text!(self, "damage-readings-out-of-order"),
            Damage::LinesOutOfOrder => text!(self, "damage-lines-out-of-order"),
            Damage::Counts => text!(self, "damage-counts"),
            Damage::AfterEnd => text!(self, "damage-after-end"),
            Damage::ReadBack => text!(self, "damage-read-back"),
            Damage::Layout { found } => return say!(self, "damage-layout", found = found.to_string()),
        };
        fixed.to_owned()
    }

    /// A unit that core names.
    pub(crate) fn unit_name(self, unit: Unit) -> &'static str {
        match unit {
            Unit::MgDlPerUnit => text!(self, "unit-mg-dl-a-unit"),
            Unit::MgDlPerGram => text!(self, "unit-mg-dl-a-gram"),
            Unit::InsulinUnits => text!(self, "unit-units"),
            Unit::Drinks => text!(self, "unit-drinks"),
            Unit::Minutes => text!(self, "unit-minutes"),
            Unit::Days => text!(self, "unit-days"),
            Unit::Pieces => text!(self, "unit-pieces"),
            Unit::Currency => text!(self, "unit-of-the-currency"),
            Unit::Share => text!(self, "unit-as-a-share"),
            Unit::MgDl | Unit::MgDlMin | Unit::MmolL | Unit::Grams => unit.name(),
        }
    }
}
