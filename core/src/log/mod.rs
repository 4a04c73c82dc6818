//! The log: what a wearer, a sensor or a meter said, as facts that are never overwritten.
//!
//! An [`Entry`] carries one [`What`]. Correcting an entry adds a new one that `replaces` it; retracting adds
//! [`What::Retraction`]. [`resolve`] shows what holds now; the older entries stay readable. Because nothing is
//! changed in place, merging two logs is the union of their entries.

mod entry;
mod follow;
mod history;
mod prompted;
mod shown;
pub(crate) mod standing;
mod supply;

pub use entry::{DeviceFault, Effort, Entry, EntryId, InsulinKind, Purpose, SensorEvent, Source, Symptom, Text, What};
pub(crate) use entry::{from_hundredths, hundredths};
pub use follow::{Beside, Followed, SILENT_MINUTES};
pub use history::{
    Activity, Carbohydrate, Dose, Felt, History, MeterCheck, PressedSpell, Prompting, Reading, SensorNote, Sleep,
    SupplyNote, resolve,
};
pub use prompted::{Matter, Occasion, Prompted, Verdict};
pub(crate) use shown::Written;
pub use shown::{Beyond, Instrument, Shown};
pub use supply::{CountedIn, Currency, Item, Price, Stocked, Supply};
