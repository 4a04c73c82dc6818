//! One module a command.

pub mod add;
pub mod alerts;
pub mod before;
pub mod check;
pub mod export;
pub mod import;
pub mod learn;
pub mod list;
pub mod merge;
pub mod outcomes;
pub mod recover;
pub mod reliability;
pub mod replay;
pub mod review;
pub mod seal;
pub mod sensor;
pub mod settings;
pub mod smooth;
pub mod supplies;
