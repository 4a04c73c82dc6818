//! Movement that goes on lowering glucose after it has ended.

use crate::log::Effort;

/// The shortest movement that counts, in minutes.
const LEAST_MINUTES: f64 = 20.0;

/// Whether movement is long and hard enough to lower for hours, and into the night.
///
/// # Source
/// Riddell et al., Lancet Diabetes Endocrinol 2017;5:377-390: insulin sensitivity is raised during and for hours after, with lows in the
/// night after movement in the afternoon or evening. The twenty minutes are an assumption.
#[must_use]
pub(crate) fn lowers_for_hours(effort: Effort, minutes: f64) -> bool {
    effort != Effort::Light && minutes >= LEAST_MINUTES
}
