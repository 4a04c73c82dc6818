//! Alert fit: a wearer's plan replayed over the record, and what its alerts were worth.
//!
//! And the plan at work: [`State`] decides from each new reading, and from silence, whether a shell rings. The replay asks it the
//! same. The floor of 54 mg/dL can neither be moved nor turned off: [`Plan::check`] refuses it.

mod replay;
mod ring;
mod stats;

pub use replay::{Alert, replay};
pub use ring::{AlertCause, Loudness, Rang, Ring, State, ring_of_silence};
pub(crate) use stats::notices;
pub use stats::{ACTED_WITHIN_MINUTES, AlertStats, DelayProposal, Proposal, count, delay_proposal, proposal};

pub use crate::wearer::{AlertLines, Plan};
