//! Ebbstead's core: the log, the estimate, the forecast and the prompt.
//!
//! Everything that is a judgement lives here. The core has no network, no globals, no threads and no clock: the
//! caller passes the time, the paths and the wearer's settings. Modules stand on those listed before them.
//!
//! No function computes an insulin dose, and none may be added that does.

pub mod alerts;
pub mod answers;
pub mod error;
pub mod exchange;
pub mod known;
pub mod learn;
pub mod log;
pub mod page;
pub mod picture;
pub mod review;
pub mod sensor;
pub mod store;
pub mod supplies;
pub mod words;

pub use ebbstead_engine::Error as ValueError;
pub use ebbstead_engine::{body, estimate, forecast, prompt, time, units, watch, wearer};
pub use error::{Error, Result};
