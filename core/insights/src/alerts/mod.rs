//! Alert fit: a wearer's plan replayed over the record, and what its alerts were worth.
//!
//! Nothing here raises an alert. The floor of 54 mg/dL can neither be moved nor turned off: [`Plan::check`] refuses it.

mod plan;
mod replay;
mod worth;

pub use plan::{Plan, Told};
pub use replay::{Alert, FLOOR_REPEAT_MINUTES, OVER_MINUTES, Of, replay};
pub use worth::{
    ACTED_WITHIN_MINUTES, DelayProposal, FEWEST_ACTIONS, NOTICE_WITHIN_MINUTES, Proposal, Worth, count, delay_proposal,
    proposal,
};
