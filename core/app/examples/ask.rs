//! Asks the question of three in the morning: `cargo run -p ebbstead-core --example ask`. The readings are invented.
#![allow(clippy::print_stdout)] // an example shows its answer

use ebbstead_core::log::{Entry, EntryKind, Source};
use ebbstead_core::prompt::{Occasion, Question};
use ebbstead_core::snapshot::Snapshot;
use ebbstead_core::store::Log;
use ebbstead_core::{Result, time::Moment, units::Glucose, words::Words};

fn main() -> Result<()> {
    let now = Moment::parse("2026-03-01T03:05:00+01:00")?;
    let mut log = Log::in_memory(now)?;
    for k in 0..24 {
        let mg_dl = Glucose::from_mg_dl(150.0 - 3.5 * f64::from(k))?;
        let at = now.plus_minutes(5.0 * f64::from(k - 23));
        log.record(&Entry::received(at, now, Source::new("sensor 7")?, EntryKind::SensorReading { mg_dl })?)?;
    }
    let known = Snapshot::at(&log, now)?;
    let prompt = known.answer(&Question { now, occasion: Occasion::Wake, feels: None, meter: None });
    println!("{}", Words::of(&known.wearer).lead(&prompt).sentence);
    Ok(())
}
