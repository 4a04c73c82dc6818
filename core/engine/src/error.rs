//! What the engine can refuse.

/// The engine's result.
pub type Result<T, E = Error> = std::result::Result<T, E>;

/// A value that cannot be. Messages carry at most the one value that was just given.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Error {
    /// A number is not finite, or outside what the thing it measures can be.
    #[error("{what} must be {low:.1} to {high:.1} {unit}, not {given}")]
    OutOfRange {
        /// The quantity, in the trade's words.
        what: &'static str,
        /// What was given, in `unit`.
        given: f64,
        /// The lowest value taken, in `unit`.
        low: f64,
        /// The highest value taken, in `unit`.
        high: f64,
        /// The unit of the three numbers.
        unit: &'static str,
    },
    /// A text, time or combination cannot be taken; says which and why.
    #[error("{what}: {why}")]
    Invalid {
        /// The field or option.
        what: &'static str,
        /// Why it cannot be taken and what would be.
        why: String,
    },
}
