//! The record's pages: which sentences and figures stand on each, in which order.

pub mod alerts;
pub mod before;
pub mod learn;
pub mod outcomes;
pub mod report;
pub mod review;
pub mod sensor;
pub mod sheet;
pub mod supplies;
