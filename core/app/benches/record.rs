//! What the record costs: a review of 90 days and of ten years, an alert plan over 90 days, sensors, supplies and answers.
//!
//! Each review is the whole of it: figures, profile, episodes, patterns. The page as HTML is timed apart. Figures are of the
//! machine they are run on; the sorting of the same readings is there to compare them with.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use ebbstead_core::alerts::{AlertStats, Plan};
use ebbstead_core::log::{
    Carbohydrate, Dose, History, InsulinKind, Matter, MeterCheck, Occasion, Prompted, Prompting, Purpose, Reading,
    SensorEvent, SensorNote, Verdict,
};
use ebbstead_core::outcomes::Outcomes;
use ebbstead_core::pages::report;
use ebbstead_core::review::patterns::patterns;
use ebbstead_core::review::{Period, Review, ReviewOptions};
use ebbstead_core::sensor::Record;
use ebbstead_core::supplies::Outlook;
use ebbstead_core::time::Moment;
use ebbstead_core::units::{Glucose, GlucoseUnit};
use ebbstead_core::wearer::{Language, Wearer};
use ebbstead_core::words::Words;

fn start() -> Moment {
    Moment::parse("2016-01-01T00:00:00+01:00").unwrap_or_else(|_| unreachable!("a constant"))
}

fn mg(mg_dl: f64) -> Glucose {
    Glucose::from_mg_dl(mg_dl.clamp(40.0, 400.0)).unwrap_or_else(|_| unreachable!("within what a sensor reads"))
}

/// Days with lows and highs, three meals with insulin, four meter checks, some prompts, and a sensor every ten days.
fn history(days: u32) -> History {
    let mut history = History::default();
    let at = |day: u32, hours: f64| start().plus_minutes(f64::from(day) * 1440.0 + hours * 60.0);
    let mut seed = 7_u64;
    let mut noise = || {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 40) as f64 / f64::from(1_u32 << 24) - 0.5
    };
    for k in 0..days * 288 {
        let hours = f64::from(k) / 12.0;
        let wave = 55.0 * (hours / 3.8).sin() + 35.0 * (hours / 1.3).sin() + 20.0 * (hours / 40.0).sin();
        let glucose = mg((140.0 + wave + 8.0 * noise()).round());
        history.readings.push(Reading::new(start().plus_minutes(5.0 * f64::from(k)), glucose));
    }
    for day in 0..days {
        for hours in [7.5, 12.5, 19.0] {
            history.carbohydrate.push(Carbohydrate { at: at(day, hours), grams: 50.0, purpose: Purpose::Meal });
            history.doses.push(Dose { at: at(day, hours), kind: InsulinKind::Rapid, units: 5.0 });
        }
        for hours in [7.0, 12.0, 18.0, 22.5] {
            history.meter_checks.push(MeterCheck::new(at(day, hours), mg(140.0 + 60.0 * noise())));
        }
        let prompted = Prompted {
            occasion: Occasion::Look,
            matter: Matter::Falling,
            verdict: Verdict::Hold,
            without_meter: None,
            chance_low: Some(0.1),
            blood_mg_dl: None,
            chance_if_waiting: None,
            chance_if_treating: None,
            look_again_minutes: Some(10),
        };
        history.prompts.push(Prompting { at: at(day, 15.0), shown: prompted });
        if day % 10 == 0 {
            history.sensor.push(SensorNote { at: at(day, 8.0), event: SensorEvent::inserted(None), sensor: None });
        }
    }
    history
}

fn reviews(c: &mut Criterion) {
    let wearer = Wearer::default();
    let mut group = c.benchmark_group("review");
    group.sample_size(10);
    for (name, days) in [("90 days", 90), ("10 years", 3652)] {
        let history = history(days);
        let until = start().plus_minutes(f64::from(days) * 1440.0);
        let Ok(period) = Period::new(start(), until) else { return };
        group.bench_function(name, |b| {
            b.iter(|| {
                let review = Review::of(black_box(&history), &wearer, period, ReviewOptions::default());
                patterns(&review, &history)
            });
        });
        group.bench_function(format!("sorting the readings of {name}, to compare"), |b| {
            b.iter(|| {
                let mut amounts: Vec<f64> = history.readings.iter().map(|one| one.glucose.mg_dl()).collect();
                amounts.sort_by(f64::total_cmp);
                amounts
            });
        });
        if days == 90 {
            let review = Review::of(&history, &wearer, period, ReviewOptions::default());
            let words = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
            group.bench_function("90 days as HTML", |b| {
                b.iter(|| report::html(black_box(&review), None, &history, &wearer, words, until, None));
            });
        }
    }
    group.finish();
}

fn the_rest(c: &mut Criterion) {
    let (wearer, history) = (Wearer::default(), history(90));
    let until = start().plus_minutes(90.0 * 1440.0);
    let Ok(period) = Period::new(start(), until) else { return };
    let mut plan = Plan::of(&wearer);
    (plan.day.falling_mg_dl_min, plan.night.falling_mg_dl_min) = (Some(2.0), Some(2.0));
    let mut group = c.benchmark_group("90 days");
    group.sample_size(20);
    group.bench_function("an alert plan with rates, replayed and weighed", |b| {
        b.iter(|| AlertStats::of(black_box(&history), &wearer, &plan, period));
    });
    group.bench_function("the sensors' record", |b| b.iter(|| Record::of(black_box(&history), Some(10.0), until)));
    group.bench_function("supplies", |b| b.iter(|| Outlook::all(black_box(&history), &wearer, until)));
    group.bench_function("outcomes", |b| b.iter(|| Outcomes::of(black_box(&history), &wearer, period, until)));
    group.finish();
}

criterion_group!(benches, reviews, the_rest);
criterion_main!(benches);
