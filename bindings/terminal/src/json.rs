//! A prompt as JSON, for other programs. Amounts in mg/dL, rates in mg/dL/min, chances 0 to 1, times in RFC 3339.

use ebbstead_core::estimate::Modes;
use ebbstead_core::forecast::Forecast;
use ebbstead_core::forecast::futures::Futures;
use ebbstead_core::forecast::long::LongChance;
use ebbstead_core::log::Beyond;
use ebbstead_core::prompt::{Caution, Change, Matter, OnBoard, Prompt, Reason, Sentence, Verdict};
use ebbstead_core::time::Moment;
use ebbstead_core::words::Words;
use serde::Serialize;

/// A prompt, with its sentence in words.
#[derive(Serialize)]
pub struct PromptJson<'a> {
    at: Moment,
    matter: Matter,
    verdict: Verdict,
    #[serde(skip_serializing_if = "Option::is_none")]
    without_meter: Option<Verdict>,
    sentence: Sentence,
    text: String,
    reasons: &'a [Reason],
    cautions: &'a [Caution],
    look_again_minutes: Option<u16>,
    would_change: &'a [Change],
    estimate: Option<EstimateJson>,
    forecast: Option<&'a Forecast>,
    futures: Option<&'a Futures>,
    long: Option<&'a [LongChance; 3]>,
    on_board: OnBoard,
}

#[derive(Serialize)]
struct EstimateJson {
    at: Moment,
    reading_at: Option<Moment>,
    reading_mg_dl: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    reading_beyond: Option<Beyond>,
    blood_mg_dl: f64,
    blood_sd_mg_dl: f64,
    rate_mg_dl_min: f64,
    modes: Modes,
}

impl<'a> PromptJson<'a> {
    pub fn of(prompt: &'a Prompt, words: Words) -> Self {
        Self {
            at: prompt.at,
            matter: prompt.matter,
            verdict: prompt.verdict,
            without_meter: prompt.without_meter,
            sentence: prompt.sentence,
            text: words.lead(prompt).sentence,
            reasons: &prompt.reasons,
            cautions: &prompt.cautions,
            look_again_minutes: prompt.look_again_minutes,
            would_change: &prompt.would_change,
            estimate: prompt.estimate.map(|estimate| EstimateJson {
                at: estimate.at,
                reading_at: estimate.reading.map(|reading| reading.at),
                reading_mg_dl: estimate.reading.map(|reading| reading.glucose.mg_dl()),
                reading_beyond: estimate.reading.and_then(|reading| reading.beyond),
                blood_mg_dl: estimate.blood_mg_dl,
                blood_sd_mg_dl: estimate.blood_sd_mg_dl,
                rate_mg_dl_min: estimate.rate.mg_dl_min(),
                modes: estimate.modes,
            }),
            forecast: prompt.forecast.as_ref(),
            futures: prompt.futures.as_ref(),
            long: prompt.long.as_ref(),
            on_board: prompt.on_board,
        }
    }
}
