//! Everything a prompt is decided from, gathered at one moment.

use super::{Occasion, OnBoard, Prompt, Reason, Sentence, Verdict};
use crate::body::alcohol::Alcohol;
use crate::body::doubt::DoubtfulDose;
use crate::body::effects::Effects;
use crate::body::sick::SickDay;
use crate::estimate::Estimate;
use crate::forecast::Forecast;
use crate::forecast::futures::Futures;
use crate::forecast::long::LongChance;
use crate::log::{Beyond, Effort, Symptom};
use crate::time::Moment;
#[cfg(doc)]
use crate::wearer::Wearer;

/// The newest reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct ReadingNow {
    /// What rules go by (`Wearer::goes_by_mg_dl`), in mg/dL.
    pub mg_dl: f64,
    /// Where it was too low or too high for the sensor to measure: the side, and the limit in mg/dL.
    pub limit: Option<(Beyond, f64)>,
    /// Its age in minutes.
    pub age_minutes: f64,
    /// The newest steady reading of the 20 minutes before it that was well above it, and its distance in minutes: what a
    /// sudden drop is measured from.
    pub steady_before: Option<(f64, f64)>,
    /// The rate at which the sensor's readings moved over the last 15 minutes, as read, in mg/dL/min, where it is known.
    pub read_rate_mg_dl_min: Option<f64>,
    /// The rate half an hour earlier, in mg/dL/min, where it is known.
    pub earlier_rate_mg_dl_min: Option<f64>,
    /// Minutes from the newest reading back to the newest one below the low line, itself included, within the last hour.
    pub low_minutes_before: Option<f64>,
    /// Whether the readings of the last quarter of an hour hold a step that glucose cannot make.
    pub jumped: bool,
    /// For how long readings have been above the high line without a break, in minutes.
    pub high_for_minutes: f64,
    /// For how long readings have been below the low line without a break, in minutes.
    pub low_for_minutes: f64,
    /// For how long readings have been the very same, in minutes; 0 where they are few.
    pub same_for_minutes: f64,
    /// For how long each reading has been lower than the one before by half a mg/dL a minute, in minutes.
    pub falling_for_minutes: f64,
    /// For how long the sensor has probably been pressed, in minutes.
    pub compressed_for_minutes: f64,
    /// The usual time between readings, in minutes.
    pub spacing_minutes: f64,
}

/// A meter check.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct MeterNow {
    /// What rules go by (`Wearer::goes_by_mg_dl`), in mg/dL.
    pub mg_dl: f64,
    /// Its age in minutes.
    pub age_minutes: f64,
    /// Where it was too low or too high for the meter to measure: the side, and the limit in mg/dL.
    pub limit: Option<(Beyond, f64)>,
}

impl MeterNow {
    /// What it says, as a reason.
    pub(super) fn reason(self) -> Reason {
        let Self { mg_dl, age_minutes, limit } = self;
        match limit {
            None => Reason::Meter { mg_dl, age_minutes },
            Some((beyond, mg_dl)) => Reason::MeterBeyond { beyond, mg_dl, age_minutes },
        }
    }

    /// Whether glucose was below what the meter can measure.
    #[must_use]
    pub fn is_too_low_to_measure(self) -> bool {
        self.limit.is_some_and(|(beyond, _)| beyond == Beyond::Below)
    }
}

/// A sensor that is worn beside the followed one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct OtherSensorNow {
    /// What rules go by (`Wearer::goes_by_mg_dl`), in mg/dL.
    pub mg_dl: f64,
    /// The age of that in minutes.
    pub age_minutes: f64,
    /// Whether it was noted as put in within its first day.
    pub is_new: bool,
}

/// Movement.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Moved {
    /// Minutes since it ended; 0 while it lasts.
    pub minutes_ago: f64,
    /// How long it took or takes, in minutes.
    pub minutes: f64,
    /// How hard it was.
    pub effort: Effort,
}

/// Rescue carbohydrate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct RescueNow {
    /// Grams taken together.
    pub grams: f64,
    /// Minutes since the newest of it.
    pub minutes_ago: f64,
    /// How often it was taken in the last hour and a quarter.
    pub treatments: u32,
}

/// For so long the newest dose of rapid insulin is known to a situation, in minutes.
pub(crate) const DOSE_KNOWN_MINUTES: f64 = 360.0;

/// The situation.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Situation {
    /// The caller's clock.
    pub now: Moment,
    /// Why it is asked.
    pub occasion: Occasion,
    /// What the wearer feels, if said within the last 15 minutes; a low that was felt stands for 45 while nothing answers it.
    pub feels: Option<Symptom>,
    /// Minutes since signs of a severe low were noted, within three hours.
    pub severe_minutes_ago: Option<f64>,
    /// The lowest that a sensor which is worn beside the followed one reads.
    pub other_sensor: Option<OtherSensorNow>,
    /// The newest meter check within the last hour.
    pub meter: Option<MeterNow>,
    /// The newest meter check within three hours, where it was low, nothing was eaten since, and the sensor never showed it.
    pub open_low: Option<MeterNow>,
    /// The check before it, where that is no more than a quarter of an hour older.
    pub meter_before: Option<MeterNow>,
    /// Minutes since the newest meter check, within the last twelve hours.
    pub checked_minutes_ago: Option<f64>,
    /// The newest reading.
    pub reading: Option<ReadingNow>,
    /// The estimate at the newest observation.
    pub estimate: Option<Estimate>,
    /// What blood glucose would be if the sensor is pressed, in mg/dL.
    pub blood_without_compression_mg_dl: f64,
    /// The forecast from the newest reading.
    pub forecast: Option<Forecast>,
    /// The forecast of a sensor that is right, where it is in doubt; the forecast itself holds otherwise.
    pub if_right: Option<Forecast>,
    /// How fast glucose moves by a sensor that is right, in mg/dL/min, where it is in doubt.
    pub rate_if_right_mg_dl_min: Option<f64>,
    /// The forecast without what meter checks say, where they say that the sensor reads too low: they must not delay alone.
    pub uncorrected: Option<Forecast>,
    /// Both futures of blood glucose: treated now, and waited.
    pub futures: Option<Futures>,
    /// Chances of a low within two, four and six hours; nothing from less than half a day of readings.
    pub long: Option<[LongChance; 3]>,
    /// Minutes since the weighing first said treat in this fall, while nothing was eaten and nothing new spoke against it.
    pub treat_said_minutes_ago: Option<f64>,
    /// A prompt to treat of a few readings ago that nothing new speaks against.
    pub treat_stands: Option<Stands>,
    /// Whether a prompt to treat was given within the last quarter of an hour, and nothing was eaten or checked since.
    pub treat_just_said: bool,
    /// What insulin and carbohydrate may do in the half hour to come.
    pub effects: Effects,
    /// What is still at work.
    pub on_board: OnBoard,
    /// Minutes since the newest dose of rapid insulin, within six hours.
    pub dose_minutes_ago: Option<f64>,
    /// A dose so large that it is probably a slip, while it may act.
    pub doubtful_dose: Option<DoubtfulDose>,
    /// Rescue carbohydrate within the last hour and a quarter.
    pub rescue: Option<RescueNow>,
    /// Minutes since anything was eaten, within the last hour.
    pub eaten_minutes_ago: Option<f64>,
    /// Minutes since the wearer rolled off the sensor, within the last hour.
    pub rolled_off_minutes_ago: Option<f64>,
    /// Minutes since the sensor was noted as ended, unless another was put in since.
    pub ended_minutes_ago: Option<f64>,
    /// Alcohol that counts.
    pub alcohol: Option<Alcohol>,
    /// Illness and ketones.
    pub sick: SickDay,
    /// Movement within the last six hours.
    pub moved: Option<Moved>,
    /// Hours since the sensor was put in, if known.
    pub sensor_hours: Option<f64>,
    /// Within the wearer's night or logged sleep.
    pub asleep: bool,
}

/// How a prompt to treat that stands was given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Stands {
    /// Check; without a meter, treat.
    WithoutMeter,
    /// Treat.
    Outright,
}

impl Stands {
    /// Whether a prompt is one to treat that can stand: because glucose falls or insulin will lower it, and not because the sensor is in
    /// doubt.
    pub(crate) fn by(prompt: &Prompt) -> Option<Self> {
        match (prompt.verdict, prompt.sentence) {
            (Verdict::Treat, Sentence::TreatBeforeLow) => Some(Self::Outright),
            (
                Verdict::Check,
                Sentence::CheckFallingFast
                | Sentence::CheckNearLow
                | Sentence::CheckMoreToCome
                | Sentence::CheckInsulin,
            ) => (prompt.without_meter == Some(Verdict::Treat)).then_some(Self::WithoutMeter),
            _ => None,
        }
    }
}
