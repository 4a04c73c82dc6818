//! One module a command.

pub mod add;
pub mod alerts;
pub mod answers;
pub mod check;
pub mod export;
pub mod import;
pub mod learn;
pub mod list;
pub mod look_back;
pub mod mend;
pub mod merge;
pub mod reliability;
pub mod replay;
pub mod review;
pub mod seal;
pub mod sensor;
pub mod settings;
pub mod supplies;
