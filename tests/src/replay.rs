//! Runs core over a trace, as a wearer would have lived it: each line knows the readings up to its own time.

use ebbstead_core::engine::{Engine, Learnt, unasked};
use ebbstead_core::log::{History, Reading};
use ebbstead_core::prompt::{Prompt, Verdict};
use ebbstead_core::time::Moment;
use ebbstead_core::units::Glucose;
use ebbstead_core::wearer::Wearer;

use crate::traces::Trace;

/// What core said at one reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Expected blood glucose, in mg/dL.
    pub blood_mg_dl: f64,
    /// Its standard deviation, in mg/dL.
    pub blood_sd_mg_dl: f64,
    /// The reading expected in 30 minutes, in mg/dL.
    pub mean_30_mg_dl: f64,
    /// The chance of a reading below 70 mg/dL within 30 minutes.
    pub chance_low_30: f64,
    /// Whether the verdict is to treat; where it is to check, whether it is to treat without a meter.
    pub treat: bool,
    /// Whether the verdict is to check.
    pub check: bool,
    /// The chance that the sensor is pressed or unsettled.
    pub artifact: f64,
}

/// Midnight of the day that traces' minutes are counted from: 1 January 2026.
const MIDNIGHT_MS: i64 = 1_767_225_600_000;

/// Replays a trace for a wearer of whom nothing is known: default settings, nothing learnt, nothing logged but readings, nobody
/// to ask and no meter at hand.
///
/// # Errors
/// What core says of a reading or time that no log can hold.
pub fn through_core(trace: &Trace) -> ebbstead_core::Result<Vec<Line>> {
    let (history, wearer) = (History::default(), Wearer::default());
    let mut engine = Engine::new(&history, &wearer, &Learnt::default());
    trace
        .minutes
        .iter()
        .zip(&trace.mg_dl)
        .map(|(minute, mg_dl)| {
            // To the second, as a table of readings would say it.
            let at = Moment::new(MIDNIGHT_MS + (minute * 60.0).round() as i64 * 1000, 0)?;
            engine.reading(Reading::new(at, Glucose::from_mg_dl(*mg_dl)?));
            Ok(Line::of(&engine.answer(&unasked(at)), *mg_dl))
        })
        .collect()
}

impl Line {
    fn of(prompt: &Prompt, reading_mg_dl: f64) -> Self {
        let estimate = prompt.estimate.as_ref();
        let ahead =
            prompt.forecast.as_ref().and_then(|forecast| forecast.path.iter().find(|ahead| ahead.minutes == 30));
        Self {
            blood_mg_dl: estimate.map_or(reading_mg_dl, |estimate| estimate.blood_mg_dl),
            blood_sd_mg_dl: estimate.map_or(f64::INFINITY, |estimate| estimate.blood_sd_mg_dl),
            mean_30_mg_dl: ahead.map_or(reading_mg_dl, |ahead| ahead.reading_mg_dl),
            chance_low_30: prompt.forecast.as_ref().map_or(0.0, |forecast| forecast.reading_low_30),
            treat: prompt.verdict_without_meter() == Verdict::Treat,
            check: prompt.verdict == Verdict::Check,
            artifact: estimate.map_or(0.0, |estimate| estimate.modes.compression + estimate.modes.unsettled),
        }
    }
}
