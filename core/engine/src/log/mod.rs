//! What the engine reads from a log: values by kind, as they hold at a moment.

mod follow;
mod history;
mod prompted;
mod shown;
mod supply;
mod thinned;
mod values;

pub use follow::{Concurrent, Followed, SILENT_MINUTES};
pub use history::{
    Activity, Carbohydrate, CompressionLow, Dose, Drinking, Felt, History, IllNote, KetoneCheck, MeterCheck, Prompting,
    Reading, SensorNote, Sleep, SupplyNote,
};
pub use prompted::{Matter, Occasion, Prompted, Verdict};
pub use shown::{Beyond, Instrument, Shown};
pub use supply::{CountedIn, Currency, Item, Price, Stocked, Supply};
pub use thinned::APART_MS;
pub(crate) use thinned::thinned;
pub use values::{
    DeviceFault, Effort, Illness, InsulinKind, Purpose, SensorEvent, Source, Symptom, Text, turns_direction,
};
