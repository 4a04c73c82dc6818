//! What the engine costs: one reading, one check on a day of history, a year replayed, two weeks adapted to.
//!
//! Figures are of the machine they are run on; compare them within one run only.

use std::hint::black_box;

use criterion::{BatchSize, Criterion, criterion_group, criterion_main};
use ebbstead_core::engine::{Engine, Learnt, check, unasked};
use ebbstead_core::estimate::adapt::adapt;
use ebbstead_core::estimate::dynamics::Dynamics;
use ebbstead_core::estimate::modes::Circumstances;
use ebbstead_core::estimate::tracker::Tracker;
use ebbstead_core::log::{History, Reading};
use ebbstead_core::prompt::{Occasion, Question};
use ebbstead_core::time::Moment;
use ebbstead_core::units::Glucose;
use ebbstead_core::wearer::Wearer;

const A_DAY: usize = 288;

/// Readings every 5 minutes that wander as a day's do: two waves, meals, and a little noise from a fixed generator.
fn readings(count: usize) -> Vec<Reading> {
    let start = Moment::parse("2026-01-01T00:00:00+01:00").unwrap_or_else(|_| unreachable!("a constant"));
    let mut seed = 7_u64;
    let mut noise = || {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 40) as f64 / f64::from(1_u32 << 24) - 0.5
    };
    (0..count)
        .map(|k| {
            let hours = k as f64 / 12.0;
            let wave = 40.0 * (hours / 3.8).sin() + 25.0 * (hours / 1.3).sin();
            let mg_dl = (135.0 + wave + 4.0 * noise()).round();
            let glucose = Glucose::from_mg_dl(mg_dl).unwrap_or_else(|_| unreachable!("within 60 to 210"));
            Reading::new(start.plus_minutes(5.0 * k as f64), glucose)
        })
        .collect()
}

fn one_update(c: &mut Criterion) {
    let readings = readings(A_DAY);
    c.bench_function("one reading through all modes (estimate alone), mean of a day", |b| {
        b.iter_batched(
            || Tracker::new(Dynamics::POPULATION),
            |mut tracker| {
                for reading in &readings {
                    tracker.reading(*reading, &Circumstances::default());
                }
                tracker
            },
            BatchSize::SmallInput,
        );
    });
}

fn one_check(c: &mut Criterion) {
    let history = History { readings: readings(A_DAY), ..History::default() };
    let (wearer, learnt) = (Wearer::default(), Learnt::default());
    let Some(last) = history.readings.last() else { return };
    let question = Question { now: last.at, occasion: Occasion::Look, feels: None, meter: None };
    c.bench_function("one check on 24 h of history", |b| {
        b.iter(|| check(black_box(&history), &wearer, &learnt, &question));
    });
}

fn a_year(c: &mut Criterion) {
    let readings = readings(365 * A_DAY);
    let (wearer, learnt, history) = (Wearer::default(), Learnt::default(), History::default());
    let mut group = c.benchmark_group("a year of 5-minute readings");
    group.sample_size(10);
    group.bench_function("followed, forecast and learnt from", |b| {
        b.iter(|| {
            let mut engine = Engine::new(&history, &wearer, &learnt);
            for reading in &readings {
                engine.reading(*reading);
            }
            engine.forecaster().learnt()
        });
    });
    group.bench_function("with a prompt at every reading", |b| {
        b.iter(|| {
            let mut engine = Engine::new(&history, &wearer, &learnt);
            let mut holds = 0_u32;
            for reading in &readings {
                engine.reading(*reading);
                holds += u32::from(engine.answer(&unasked(reading.at)).look_again_minutes.is_some());
            }
            holds
        });
    });
    group.finish();
}

fn adaptation(c: &mut Criterion) {
    let history = History { readings: readings(14 * A_DAY), ..History::default() };
    let Some(last) = history.readings.last() else { return };
    let mut group = c.benchmark_group("adaptation");
    group.sample_size(10);
    group.bench_function("to 14 days", |b| b.iter(|| adapt(black_box(&history), &Wearer::default(), last.at)));
    group.finish();
}

criterion_group!(benches, one_update, one_check, a_year, adaptation);
criterion_main!(benches);
