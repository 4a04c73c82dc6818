//! An entry as a filled-in form.

use super::{ACTIVITY_MINUTES, EFFORT, Kind, LOT, METER_SHOWS, RATED_DAYS, SEEN, SITE};
use crate::forms::Filled;
use crate::forms::before::effort_code;
use crate::log::{Beyond, Entry, EntryKind, Illness, InsulinKind, Purpose, SensorEvent, Shown, Symptom, Text};
use crate::words::Words;

/// What one would have filled in to say this.
pub(super) fn written(what: &EntryKind, words: Words) -> Option<(Kind, Vec<(&'static str, String)>)> {
    let one = |kind: Kind, value: String| Some((kind, vec![(kind.code(), value)]));
    match what {
        EntryKind::MeterCheck { mg_dl } => one(Kind::Meter, words.typed_meter(Shown::from(*mg_dl))),
        EntryKind::MeterBeyond { beyond, .. } => {
            Some((Kind::Meter, vec![(METER_SHOWS, beyond_code(*beyond).to_owned())]))
        }
        EntryKind::Insulin { insulin: InsulinKind::Rapid, units } => one(Kind::Rapid, words.typed_number(*units)),
        EntryKind::Insulin { insulin: InsulinKind::LongActing, units } => {
            one(Kind::LongActing, words.typed_number(*units))
        }
        EntryKind::Carbohydrate { grams, purpose: Purpose::Rescue } => one(Kind::Rescue, words.typed_number(*grams)),
        EntryKind::Carbohydrate { grams, purpose: Purpose::Meal } => one(Kind::Meal, words.typed_number(*grams)),
        EntryKind::Alcohol { drinks } => one(Kind::Alcohol, words.typed_number(*drinks)),
        EntryKind::Ketones { mmol_l } => one(Kind::Ketones, words.typed_number(*mmol_l)),
        EntryKind::Illness { illness } => {
            let code = match illness {
                Illness::Ill => "ill",
                Illness::Vomiting => "vomiting",
                Illness::Over => "over",
            };
            one(Kind::Illness, code.to_owned())
        }
        EntryKind::Activity { activity, minutes, effort } => Some((
            Kind::Activity,
            vec![
                (Kind::Activity.code(), activity.as_str().to_owned()),
                (ACTIVITY_MINUTES, words.typed_number(*minutes)),
                (EFFORT, effort_code(*effort).to_owned()),
            ],
        )),
        EntryKind::Sleep { .. } => Some((Kind::Sleep, Vec::new())),
        EntryKind::Symptom { felt } => {
            let code = match felt {
                Symptom::FeelsLow => "low",
                Symptom::FeelsHigh => "high",
                Symptom::None => "neither",
                Symptom::Severe => "severe",
            };
            one(Kind::Feels, code.to_owned())
        }
        EntryKind::Note { text } => one(Kind::Note, text.as_str().to_owned()),
        EntryKind::Sensor(event) => {
            let plain = |code: &str| one(Kind::Sensor, code.to_owned());
            match event {
                SensorEvent::Inserted { site, lot, rated_days } => {
                    let text =
                        |text: &Option<Text>| text.as_ref().map(|text| text.as_str().to_owned()).unwrap_or_default();
                    Some((
                        Kind::Sensor,
                        vec![
                            (Kind::Sensor.code(), "inserted".to_owned()),
                            (SITE, text(site)),
                            (LOT, text(lot)),
                            (RATED_DAYS, rated_days.map(|days| days.to_string()).unwrap_or_default()),
                        ],
                    ))
                }
                SensorEvent::Fault { seen } => Some((
                    Kind::Sensor,
                    vec![(Kind::Sensor.code(), "fault".to_owned()), (SEEN, seen.as_str().to_owned())],
                )),
                SensorEvent::WarmUpOver => plain("warmed_up"),
                SensorEvent::RolledOff => plain("rolled_off"),
                SensorEvent::Ended => plain("ended"),
                // A device said it, not a person.
                SensorEvent::DeviceFault { .. } => None,
            }
        }
        EntryKind::SensorReading { .. }
        | EntryKind::SensorBeyond { .. }
        | EntryKind::CompressionLow { .. }
        | EntryKind::Supply(_)
        | EntryKind::Prompted(_)
        | EntryKind::Import { .. }
        | EntryKind::Retraction => None,
    }
}

/// What an old entry says, with what was filled in in its place.
pub(super) fn over_written(filled: &Filled, old: &Entry, words: Words) -> Option<(Kind, Filled)> {
    let (kind, said) = written(&old.what, words)?;
    let mut all: Filled = said.into_iter().map(|(id, value)| (id.to_owned(), value)).collect();
    all.extend(filled.iter().map(|(id, value)| (id.clone(), value.clone())));
    Some((kind, all))
}

const fn beyond_code(beyond: Beyond) -> &'static str {
    match beyond {
        Beyond::Below => "low",
        Beyond::Above => "high",
    }
}
