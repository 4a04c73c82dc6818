//! The prompt: treat, check, hold, and why.
//!
//! What this module does *not* do: compute a dose, say how much to eat beyond the published first step, or decide for
//! the wearer. It weighs treating what was no low against missing one, under guards that no weight can override.

mod answer;
mod codes;
mod decide;
mod falling;
mod high;
mod meter;
mod rescue;
mod sensor;
mod situation;
mod to_come;
mod weigh;

pub use crate::estimate::modes::FIRST_DAY_HOURS;
pub use answer::{OnBoard, Prompt};
pub use codes::{Caution, Change, Reason, Sentence};
pub(crate) use decide::{USUAL_SPACING_MINUTES, decide};
pub(crate) use meter::is_far_above;
pub(crate) use situation::{
    DOSE_KNOWN_MINUTES, MeterNow, Moved, OtherSensorNow, ReadingNow, RescueNow, Situation, Stands,
};
pub(crate) use weigh::weigh_now;

pub use crate::log::{Matter, Occasion, Verdict};
use crate::log::{Shown, Symptom};
use crate::time::Moment;

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Question {
    /// The caller's clock.
    pub now: Moment,
    /// Why it is asked.
    pub occasion: Occasion,
    /// What the wearer feels now, if asked.
    pub feels: Option<Symptom>,
    /// What a meter shows now, if one was used; a check already in the history need not be given again.
    pub meter: Option<Shown>,
}
