//! What came from the phone's health store, in words.

use crate::exchange::health::HealthRemark;
use crate::say;
use crate::words::Words;

/// What to know of values that came.
#[must_use]
pub fn health_remark_text(remark: HealthRemark, words: Words) -> String {
    match remark {
        HealthRemark::Unclear { count } => say!(words, "health-unclear", count),
        HealthRemark::LeftOut { count } => say!(words, "health-left-out", count),
    }
}
