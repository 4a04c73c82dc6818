//! Can the newest reading be acted on: none or an old one, an ended or stuck sensor, one that is pressed, unsettled or in its first day;
//! and what is done about a low that nothing puts in doubt. Unless a source is named the rules are common practice, no source.

use super::decide::{Answer, Case, NEAR_WITHIN_MG_DL, TREAT_WITHIN_MG_DL};
use super::falling::NOT_FALLING;
use super::to_come::INSULIN_AT_WORK_MG_DL;
use super::{Caution, Change, FIRST_DAY_HOURS, Matter, MeterNow, Occasion, ReadingNow, Reason, Sentence, Verdict};
use crate::engine::FASTER_THAN_GLUCOSE;
use crate::log::Symptom;
use crate::wearer::FLOOR_LINE_MG_DL;

/// Readings below the low line for this long are no spike, in minutes.
const LOW_FOR_LONG_MINUTES: f64 = 20.0;
/// Pressure hardly lasts longer (assumption, with the mean duration of the modes), in minutes.
const COMPRESSED_FOR_LONG_MINUTES: f64 = 45.0;
/// Asleep, readings that were low for so long before they were doubted were low, in minutes (assumption).
const LOW_BEFORE_MINUTES: f64 = 15.0;
/// A fall of readings one after the other for so long is no pressure, which comes on within minutes (assumption), in minutes.
const LONG_FALL_MINUTES: f64 = 25.0;
/// A sudden low is the muscles' for so long after movement, in minutes (assumption).
const JUST_MOVED_MINUTES: f64 = 30.0;
/// The very same reading for this long looks stuck, in minutes.
const STUCK_MINUTES: f64 = 60.0;
/// A reading older than this says nothing of now, in minutes.
pub(super) const STALE_MINUTES: f64 = 16.0;
/// Or so many of its readings, of a sensor that reads seldom (assumption).
const STALE_READINGS: f64 = 3.0;
/// At most this far apart, in minutes (assumption).
const STALE_SPACING_MINUTES: f64 = 6.0;
/// A fall last seen is carried on for so long, in minutes (assumption).
const STALE_CARRIED_ON_MINUTES: f64 = 30.0;
/// What was seen up to this long ago may still hold, in minutes.
const LATELY_MINUTES: f64 = 90.0;
/// A mode this likely is shown and acted on.
pub(super) const DOUBTED: f64 = 0.5;
/// A sensor this likely pressed is rolled off before anything else is done about readings that are not near the low line.
const SURELY_COMPRESSED: f64 = 0.9;
/// A pressed spell is waited out without a meter for this long, in minutes.
const COMPRESSION_PATIENCE_MINUTES: f64 = 20.0;
/// Once rolled off, a pressed sensor's readings come back within this time, in minutes; lows that stay longer are believed.
const COMES_BACK_MINUTES: f64 = 15.0;
/// Rising this fast, glucose has probably left a low that the sensor still shows, in mg/dL/min.
const LEAVING_LOW: f64 = 1.0;
/// A sudden drop in doubt is shown up to this reading, in mg/dL above the low line.
const DROPPED_WITHIN_MG_DL: f64 = 50.0;

/// Two sensors this far apart, the lower one below the low line, are asked about, in mg/dL (assumption: more than their errors).
const OTHER_APART_MG_DL: f64 = 20.0;
/// A low that lasts so long is a matter for two, in minutes (assumption: three steps of a quarter of an hour).
const LASTS_FOR_TWO_MINUTES: f64 = 45.0;

impl Case<'_> {
    /// Nothing to go by, or only something old.
    pub(super) fn no_or_old_reading(&self) -> Option<Answer> {
        let felt = self.feels(Symptom::FeelsLow);
        if let Some(rescue) = self.rescue_in_time().filter(|_| self.reading.is_none_or(|one| self.is_stale(one))) {
            let stale = self.reading.map(|reading| Reason::Stale { age_minutes: reading.age_minutes });
            return Some(self.rescue_answer(rescue).because(stale));
        }
        let Some(reading) = self.reading else {
            // A meter is the only way to know; who has none and is in doubt treats.
            if let Some(answer) = self.meter_alone().filter(|_| !felt) {
                return Some(answer);
            }
            let answer = Answer::check(Matter::TooLittle, Sentence::NoReadings, Verdict::Treat)
                .with_cautions(&[Caution::InDoubtTreat]);
            return Some(if felt {
                answer.because([Reason::FeelsLow])
            } else {
                answer.changing(&[Change::NewReadings])
            });
        };
        if let Some(answer) = self.meter_alone().filter(|_| !felt && self.is_stale(reading)) {
            return Some(answer);
        }
        self.is_stale(reading).then(|| {
            // What was last seen low, or falling towards it, is treated where nobody can check, unless it is hours ago.
            let lately = reading.age_minutes <= LATELY_MINUTES;
            // Where it was on its way to the line, it may be there by now.
            let by_now = reading.mg_dl + self.rate * reading.age_minutes.min(STALE_CARRIED_ON_MINUTES);
            let falling = self.rate < 0.0
                && (reading.mg_dl < self.low + TREAT_WITHIN_MG_DL || (self.rate <= NOT_FALLING && by_now < self.low));
            let was_low = lately && (reading.mg_dl < self.low || falling) && self.compression < DOUBTED;
            // A low check that nothing answered outlives the readings.
            let open = self.situation.open_low;
            let was_low = was_low || open.is_some();
            Answer::check(self.falling_matter(), Sentence::CheckStale, Self::treat_or_hold(felt || was_low))
                .because(open.map(MeterNow::reason))
                .because([Reason::Stale { age_minutes: reading.age_minutes }])
                .because(felt.then_some(Reason::FeelsLow))
                .with_cautions(if felt || was_low { &[Caution::InDoubtTreat] } else { &[] })
                .changing(&[Change::NewReadings, Change::MeterBelow { mg_dl: self.low }])
        })
    }

    /// A meter check of the last minutes where no sensor says anything: it has answered what another would ask. What illness asks for
    /// comes first.
    fn meter_alone(&self) -> Option<Answer> {
        let meter = self.meter()?;
        Some(self.ketones_known_or_wanted().unwrap_or_else(|| {
            Answer::new(self.matter(Matter::TooLittle), Verdict::Hold, Sentence::HoldMeterAbove)
                .because([meter.reason()])
                .look(15)
                .changing(&[Change::NewReadings, Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow])
        }))
    }

    pub(super) fn is_stale(&self, reading: ReadingNow) -> bool {
        reading.age_minutes > STALE_MINUTES.max(STALE_READINGS * reading.spacing_minutes.min(STALE_SPACING_MINUTES))
    }

    /// A sensor that is over, or that shows one number only.
    pub(super) fn ended_or_stuck(&self) -> Option<Answer> {
        let reading = self.reading?;
        let open = self.situation.open_low;
        let low = reading.mg_dl < self.low || open.is_some();
        if let Some(minutes_ago) = self.situation.ended_minutes_ago {
            return Some(
                Answer::check(self.matter(Matter::TooLittle), Sentence::CheckEnded, Self::treat_or_hold(low))
                    .because(open.map(MeterNow::reason))
                    .because([Reason::Ended { minutes_ago }])
                    .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow]),
            );
        }
        // Lows are often truly flat once the sensor's scale ends; they are left to the rules for lows unless a meter spoke
        // against them.
        let spoken_against = self.situation.meter.is_some_and(|meter| meter.mg_dl >= self.low);
        let stuck = reading.same_for_minutes >= STUCK_MINUTES && reading.limit.is_none();
        (stuck && (reading.mg_dl >= self.low || spoken_against)).then(|| {
            Answer::check(self.matter(Matter::Steady), Sentence::CheckStuck, Self::treat_or_hold(low))
                .because(open.map(MeterNow::reason))
                .because([Reason::Stuck { minutes: reading.same_for_minutes }])
                .look(15)
                .changing(&[Change::NewReadings, Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow])
        })
    }

    /// A reading that the sensor's mode puts in doubt.
    pub(super) fn doubted(&self) -> Option<Answer> {
        let reading = self.reading?;
        let dropped = reading.steady_before.is_some() && reading.mg_dl < self.low + DROPPED_WITHIN_MG_DL;
        let matters =
            dropped || reading.mg_dl < self.low + TREAT_WITHIN_MG_DL || self.situation.occasion == Occasion::Wake;
        let modes_doubt = self.compression + self.unsettled > DOUBTED;
        let sudden = reading
            .steady_before
            .is_some_and(|(from_mg_dl, minutes)| from_mg_dl - reading.mg_dl > FASTER_THAN_GLUCOSE * minutes);
        // A low that lasts is no spike; only a sleeper's sensor may be pressed for longer.
        let may_be_compression = self.situation.asleep && self.compression > DOUBTED;
        let lasts = reading.low_for_minutes
            >= if may_be_compression { COMPRESSED_FOR_LONG_MINUTES } else { LOW_FOR_LONG_MINUTES };
        // Low and believed before the doubt began: a still lower reading does not make it less so.
        // Asleep, the first low readings may be the pressure that is only seen later.
        let low_before = reading.low_for_minutes - reading.compressed_for_minutes;
        let before_doubt = if self.situation.asleep { low_before >= LOW_BEFORE_MINUTES } else { low_before > 0.0 };
        let was_low = reading.mg_dl < self.low && before_doubt;
        // Pressure comes on within minutes; what fell reading after reading for longer is a fall.
        let long_fall = reading.falling_for_minutes >= LONG_FALL_MINUTES;
        // Nobody awake lies on a sensor while moving or just after, and muscles can lower as fast as this.
        let muscles = reading.mg_dl < self.low && !self.situation.asleep && self.moved_within(JUST_MOVED_MINUTES);
        if !matters || !(modes_doubt || sudden) || lasts || was_low || long_fall || muscles {
            return None;
        }
        let drop = reading.steady_before.map(|(from_mg_dl, minutes)| Reason::SuddenDrop {
            from_mg_dl,
            to_mg_dl: reading.mg_dl,
            minutes,
        });
        if modes_doubt && self.compression >= self.unsettled {
            return Some(self.compression_answer(reading, drop));
        }
        // A jump to a low in the middle of calm is checked; where nobody can, a low is treated.
        Some(
            Answer::check(
                self.falling_matter(),
                Sentence::CheckUnsettled,
                Self::treat_or_hold(reading.mg_dl < self.low || self.weighs_treat()),
            )
            .because(modes_doubt.then_some(Reason::Unsettled { chance: self.compression + self.unsettled }))
            .because(drop)
            .with_cautions(&[Caution::InDoubtTreat])
            .changing(&[Change::NewReadings, Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow]),
        )
    }

    /// A sensor that looks pressed: roll off it, then give the readings their time to come back. What does not come back was no
    /// pressure.
    fn compression_answer(&self, reading: ReadingNow, drop: Option<Reason>) -> Answer {
        let without_mg_dl = self.situation.blood_without_compression_mg_dl;
        let rolled = self.situation.rolled_off_minutes_ago;
        // The readings were given their time since, and the newest one is from after it.
        let given_time = rolled.is_some_and(|minutes| minutes - reading.age_minutes >= COMES_BACK_MINUTES);
        // Where insulin may be lowering, waiting for the sensor to come back is no longer safe.
        let insulin = self.insulin_to_come(reading) > 0.0 || self.situation.effects.insulin > INSULIN_AT_WORK_MG_DL;
        let patient =
            without_mg_dl >= self.low && reading.compressed_for_minutes < COMPRESSION_PATIENCE_MINUTES && !insulin;
        let hold = !self.weighs_treat() && (patient && !given_time || reading.mg_dl >= self.low);
        // Not near the line, and surely pressed: rolling off costs nothing, and the next reading says more than a finger-prick would.
        let rolls_off = self.compression >= SURELY_COMPRESSED
            && self.situation.asleep
            && reading.mg_dl >= self.low + TREAT_WITHIN_MG_DL
            && hold
            && !insulin
            && rolled.is_none()
            && self.situation.occasion != Occasion::Wake;
        let sentence = match rolled {
            None => Sentence::CheckCompression,
            Some(_) if given_time => Sentence::CheckStillLow,
            Some(_) => Sentence::CheckRolledOff,
        };
        let answer = if rolls_off {
            Answer::new(self.falling_matter(), Verdict::Hold, Sentence::HoldCompression).look(10)
        } else {
            Answer::check(self.falling_matter(), sentence, Self::treat_or_hold(!hold))
        };
        answer
            .because(rolled.map(|minutes_ago| Reason::RolledOff { minutes_ago }))
            .because((!given_time).then_some(Reason::Compression { chance: self.compression, without_mg_dl }))
            .because(drop)
            .with_cautions(if hold { &[] } else { &[Caution::InDoubtTreat] })
            .changing(if given_time { &[] } else { &[Change::ReadingsComeBack] })
            .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow])
    }

    /// Low, and nothing puts it in doubt.
    pub(super) fn low_and_believed(&self) -> Option<Answer> {
        let reading = self.reading?;
        if reading.mg_dl >= self.low {
            return None;
        }
        if let Some(hours) = self.first_day_hours() {
            return Some(
                Answer::check(self.falling_matter(), Sentence::CheckUnsettled, Verdict::Treat)
                    .because([Reason::FirstDay { hours }])
                    .with_cautions(&[Caution::FirstDayUnreliable, Caution::InDoubtTreat])
                    .changing(&[Change::MeterAbove { mg_dl: self.low }]),
            );
        }
        // A check within the hour says that the sensor reads too low: worth another, no reason to wait.
        if self.corrected(reading) >= self.low && self.situation.meter.is_some() {
            return Some(self.apart_answer(Verdict::Treat));
        }
        let forecast = self.situation.forecast.as_ref();
        let soon = forecast.and_then(|forecast| forecast.corrected().nth(2)).map_or(0.0, |ahead| ahead.reading_mg_dl);
        let leaving = self.rate >= LEAVING_LOW && self.blood >= self.low && soon >= self.low;
        if leaving && reading.mg_dl >= FLOOR_LINE_MG_DL {
            return Some(
                Answer::check(self.falling_matter(), Sentence::CheckLowRising, Verdict::Treat)
                    .with_cautions(&[self.lags(), Caution::InDoubtTreat])
                    .changing(&[Change::ReadingAbove { mg_dl: self.low }, Change::MeterAbove { mg_dl: self.low }]),
            );
        }
        let sentence = if reading.mg_dl < FLOOR_LINE_MG_DL { Sentence::TreatBelowFloor } else { Sentence::TreatLow };
        let lasts = reading.low_for_minutes >= LASTS_FOR_TWO_MINUTES;
        Some(Answer::treat(self.falling_matter(), sentence).with_cautions(if lasts {
            &[Caution::CallSomebody]
        } else {
            &[]
        }))
    }

    /// Another sensor that is worn too reads low, and this one does not: one of the two hides a low or makes one up.
    pub(super) fn other_sensor_low(&self) -> Option<Answer> {
        let reading = self.reading?;
        let other = self.situation.other_sensor.filter(|other| other.mg_dl < self.low)?;
        let treats = self.falling().is_some_and(|answer| answer.is_treat());
        if reading.mg_dl - other.mg_dl < OTHER_APART_MG_DL || treats || self.check_answered() {
            return None;
        }
        // A sensor often reads too low in its first day.
        Some(
            Answer::check(self.falling_matter(), Sentence::CheckOtherSensor, Self::treat_or_hold(!other.is_new))
                .with_cautions(&[Caution::InDoubtTreat])
                .changing(&[Change::MeterBelow { mg_dl: self.low }, Change::FeelingLow]),
        )
    }

    pub(super) fn first_day_hours(&self) -> Option<f64> {
        self.situation.sensor_hours.filter(|hours| *hours < FIRST_DAY_HOURS)
    }

    /// In the first day of a sensor, what would be a treat is a check.
    pub(super) fn first_day(&self) -> Option<Answer> {
        let hours = self.first_day_hours()?;
        let reading = self.reading?;
        let near = reading.mg_dl < self.low + NEAR_WITHIN_MG_DL;
        (near && self.weighs_treat()).then(|| {
            Answer::check(self.falling_matter(), Sentence::CheckUnsettled, Verdict::Treat)
                .because([Reason::FirstDay { hours }])
                .because(self.chances())
                .with_cautions(&[Caution::FirstDayUnreliable])
                .changing(&[Change::MeterAbove { mg_dl: self.low }])
        })
    }
}
