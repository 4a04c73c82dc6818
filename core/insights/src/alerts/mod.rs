//! Alert fit: a wearer's plan replayed over the record, and what its alerts were worth.
//!
//! And the plan at work: [`State`] decides from each new reading, and from silence, whether a shell rings. The replay asks it the
//! same. The floor of 54 mg/dL can neither be moved nor turned off: [`Plan::check`] refuses it.

mod replay;
mod ring;
mod stats;

pub use replay::{Alert, replay};
pub use ring::{
    FLOOR_REPEAT_MINUTES, How, LATE_MINUTES, LOST_UNTIL_MINUTES, OVER_MINUTES, Of, RINGS_MINUTES, Ring, SNOOZE_MINUTES,
    State, ring_of_silence,
};
pub use stats::{
    ACTED_WITHIN_MINUTES, AlertStats, DelayProposal, FEWEST_ACTIONS, NOTICE_WITHIN_MINUTES, Proposal, count,
    delay_proposal, proposal,
};

pub use crate::wearer::{AlertLines, Plan};
