//! An invented body and an invented sensor, only for the demo: enough physiology that the readings move as real ones do.
//!
//! It is not the core's model. Meals and insulin act by curves of another shape and pace, blood is pulled about by a slow
//! wander, and the sensor adds its delay, an error that drifts, a little noise, and a spell in which it is pressed. The
//! prompts in the demo are what the core makes of such readings; none is scripted.

/// Something that moves glucose, at a minute of the demo.
#[derive(Clone, Copy, Debug)]
pub enum Act {
    Meal { grams: f64 },
    Rescue { grams: f64 },
    Insulin { units: f64 },
    Walk { minutes: f64 },
}

/// How the invented wearer's body answers; in mg/dL.
const PER_GRAM: f64 = 3.6;
const PER_UNIT: f64 = 42.0;
const WALK_A_MINUTE: f64 = 1.1;
/// Blood is drawn to this level, by this share a minute.
const REST: f64 = 116.0;
const PULL: f64 = 0.004;
/// The sensor: delay in minutes, how strongly it reads, and its errors in mg/dL.
const DELAY: f64 = 8.0;
const GAIN: f64 = 1.02;
const DRIFT_SD: f64 = 2.6;
const DRIFT_KEPT: f64 = 0.9;
const NOISE_SD: f64 = 1.0;

/// Readings every five minutes of `minutes`, in mg/dL, from acts at their minutes and a spell of pressure.
pub fn readings(minutes: usize, acts: &[(f64, Act)], pressed: (f64, f64), seed: u64) -> Vec<(usize, f64)> {
    let mut random = Random(seed);
    let (mut blood, mut tissue, mut drift) = (REST, REST, 0.0);
    let mut out = Vec::new();
    for minute in 0..minutes {
        let now = minute as f64;
        let moved: f64 = acts.iter().map(|&(at, act)| effect(act, now - at)).sum();
        blood = (blood + moved + PULL * (REST - blood) + wander(now)).max(35.0);
        tissue += (blood - tissue) / DELAY;
        if minute % 5 == 0 {
            drift = DRIFT_KEPT * drift + DRIFT_SD * (1.0_f64 - DRIFT_KEPT * DRIFT_KEPT).sqrt() * random.normal();
            let free = GAIN * tissue + drift + NOISE_SD * random.normal();
            let reading = free * (1.0 - 0.5 * pressure(now, pressed));
            out.push((minute, reading.round().clamp(40.0, 400.0)));
        }
    }
    out
}

/// What an act does in the minute that lies `since` minutes after it, in mg/dL.
fn effect(act: Act, since: f64) -> f64 {
    if since < 0.0 {
        return 0.0;
    }
    // Gamma curves of area 1: two stages for what is eaten, three for insulin.
    let two = |pace: f64| since / (pace * pace) * (-since / pace).exp();
    let three = |pace: f64| since * since / (2.0 * pace * pace * pace) * (-since / pace).exp();
    match act {
        Act::Meal { grams } => grams * PER_GRAM * two(22.0),
        Act::Rescue { grams } => grams * PER_GRAM * two(11.0),
        Act::Insulin { units } => -units * PER_UNIT * three(26.0),
        Act::Walk { minutes } if since < minutes => -WALK_A_MINUTE,
        Act::Walk { minutes } => -WALK_A_MINUTE * (-(since - minutes) / 15.0).exp(),
    }
}

/// What nobody logged, in mg/dL a minute.
fn wander(minute: f64) -> f64 {
    0.14 * (minute / 53.0).sin() + 0.10 * (minute / 131.0 + 1.0).sin()
}

/// 0 to 1: comes on within ten minutes, lasts, and goes within ten.
fn pressure(minute: f64, (from, until): (f64, f64)) -> f64 {
    ((minute - from) / 10.0).min((until - minute) / 10.0).clamp(0.0, 1.0)
}

/// Splitmix64 (Steele, Lea, Flood: Fast splittable pseudorandom number generators, OOPSLA 2014), so that the demo is the
/// same everywhere.
struct Random(u64);

impl Random {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (((mixed ^ (mixed >> 31)) >> 11) as f64) * 2.0_f64.powi(-53)
    }

    /// Near enough normal: the sum of twelve uniforms.
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }
}
