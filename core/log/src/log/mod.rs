//! The log: what a wearer, a sensor or a meter said, as facts that are never overwritten.
//!
//! An [`Entry`] carries one [`EntryKind`]. Correcting an entry adds a new one that `replaces` it; retracting adds
//! [`EntryKind::Retraction`]. [`Log::current`](crate::store::Log::current) shows what holds now; the older entries stay
//! readable. Because nothing is changed in place, merging two logs is the union of their entries.

pub(crate) mod current;
mod entry;
mod resolve;
mod typed_amount;

pub use ebbstead_engine::log::*;
pub use entry::{Entry, EntryId, EntryKind};
pub(crate) use entry::{from_hundredths, hundredths};
pub(crate) use resolve::of_resolved;
#[doc(hidden)] // the model that tests hold the store to
pub use resolve::{current_history, resolve};
pub use typed_amount::typed_beyond;
pub(crate) use typed_amount::{Written, beyond_limit};
