//! The desk shell of Ebbstead.
fn main() {}
