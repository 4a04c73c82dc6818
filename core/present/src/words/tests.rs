use super::*;
use crate::before::activity::StartMoving;
use crate::error::{Damage, Error, Quantity, Refusal, Unit, Why};
use crate::exchange::csv::{Finding, FindingCode, RowFault};
use crate::forecast::{Ahead, Crossing, Forecast};
use crate::forms::Filled;
use crate::learn::points::Point;
use crate::learn::reliability::{Figures, ForecastCalibration};
use crate::log::{
    Beyond, CompressionLow, Currency, DeviceFault, Effort, EntryKind, History, Illness, InsulinKind, Item, Occasion,
    Price, Prompted, Purpose, Reading, SensorEvent, Stocked, Supply, Symptom, Text,
};
use crate::prompt::{Caution, Change, Matter, Prompt, Question, Reason, Sentence, Verdict};
use crate::record::Layout;
use crate::review::metrics::Need;
use crate::sensor::calibration::{Calibration, NotNow};
use crate::sentences::review::too_little;
use crate::time::Moment;
use crate::units::{Glucose, Pace, Rate};
use crate::{say, sentences};
use ebbstead_engine::engine::{Learnt, check};
use uuid::Uuid;

/// Each language that has a file.
fn languages() -> impl Iterator<Item = Language> {
    Spoken::all().iter().map(|one| Language::parse(one.tag).unwrap())
}

fn at(text: &str) -> Moment {
    Moment::parse(text).unwrap()
}

fn mg(amount: f64) -> Glucose {
    Glucose::from_mg_dl(amount).unwrap()
}

/// One of each, kept complete by hand; the matches in the languages are kept complete by the compiler.
const SENTENCES: [Sentence; 50] = [
    Sentence::CallForHelp,
    Sentence::TreatConfirmedLow,
    Sentence::TreatBelowFloor,
    Sentence::TreatLow,
    Sentence::TreatBeforeLow,
    Sentence::TreatFeltLow,
    Sentence::CheckFeltDisagrees,
    Sentence::CheckCompression,
    Sentence::HoldCompression,
    Sentence::CheckRolledOff,
    Sentence::CheckStillLow,
    Sentence::CheckUnsettled,
    Sentence::CheckStale,
    Sentence::CheckFallingFast,
    Sentence::CheckNearLow,
    Sentence::CheckJustLow,
    Sentence::CheckLowRising,
    Sentence::HoldNearLow,
    Sentence::HoldFalling,
    Sentence::HoldRescueWorking,
    Sentence::HoldMeterAbove,
    Sentence::TreatAgainAndCall,
    Sentence::CheckFeltMeterDisagrees,
    Sentence::CheckMeterWasLow,
    Sentence::CheckUnseenLow,
    Sentence::CheckOtherSensor,
    Sentence::CheckAfterSevere,
    Sentence::CheckMeterTwice,
    Sentence::CheckMeterHigh,
    Sentence::CheckApart,
    Sentence::CheckInsulin,
    Sentence::CheckMoreToCome,
    Sentence::CheckStuck,
    Sentence::CheckEnded,
    Sentence::HoldMeterNear,
    Sentence::HoldAfterJump,
    Sentence::HoldInsulinToCome,
    Sentence::HoldInsulinWorking,
    Sentence::HoldMealArriving,
    Sentence::HoldRising,
    Sentence::HoldOwnPlan,
    Sentence::CheckHigh,
    Sentence::CallForKetones,
    Sentence::CheckKetones,
    Sentence::CheckVomiting,
    Sentence::SickDayPlanNow,
    Sentence::SickDayPlanVomiting,
    Sentence::SickDayPlan,
    Sentence::NothingToDecide,
    Sentence::NoReadings,
];

const TREATS: [Sentence; 5] = [
    Sentence::TreatConfirmedLow,
    Sentence::TreatBelowFloor,
    Sentence::TreatLow,
    Sentence::TreatBeforeLow,
    Sentence::TreatFeltLow,
];

const REASONS: [Reason; 40] = [
    Reason::LongActingTwice { units: 48.0, minutes_ago: 20.0 },
    Reason::ReadingBeyond { beyond: Beyond::Below, mg_dl: 40.0, age_minutes: 3.0 },
    Reason::MeterBeyond { beyond: Beyond::Below, mg_dl: 20.0, age_minutes: 2.0 },
    Reason::MeterBeyond { beyond: Beyond::Above, mg_dl: 600.0, age_minutes: 2.0 },
    Reason::Alcohol { drinks: 3.0, minutes_ago: 240.0 },
    Reason::Ketones { mmol_l: 1.8, minutes_ago: 20.0 },
    Reason::Ill { vomiting: false, minutes_ago: 300.0 },
    Reason::Ill { vomiting: true, minutes_ago: 300.0 },
    Reason::HighFor { minutes: 260.0 },
    Reason::NoInsulinNoted { within_minutes: 360.0 },
    Reason::InsulinNotLowering { minutes_ago: 110.0 },
    Reason::RolledOff { minutes_ago: 4.0 },
    Reason::MeterApart { shift_mg_dl: -18.0 },
    Reason::OtherSensor { mg_dl: 54.0, age_minutes: 4.0 },
    Reason::DoubtfulDose { units: 30.0, minutes_ago: 35.0 },
    Reason::Rescues { times: 3 },
    Reason::Stuck { minutes: 70.0 },
    Reason::Ended { minutes_ago: 60.0 },
    Reason::Reading { mg_dl: 104.0, age_minutes: 3.0 },
    Reason::Blood { mg_dl: 98.0, sd_mg_dl: 10.0 },
    Reason::Rate { mg_dl_min: -1.8, pace: Pace::Moderate, in_30_mg_dl: -54.0 },
    Reason::Easing { before_mg_dl_min: -2.4, now_mg_dl_min: -1.1 },
    Reason::ChanceLow { chance: 0.12, within_minutes: 30, line_mg_dl: 70.0, expected_minutes: Some(22.0) },
    Reason::IfWaiting { chance: 0.55, within_minutes: 30, line_mg_dl: 70.0, minutes_to_low: Some(12.0) },
    Reason::IfTreating { chance: 0.09, within_minutes: 30, line_mg_dl: 70.0, high_chance: 0.03 },
    Reason::ChanceFloor { chance: 0.03, within_minutes: 30, line_mg_dl: 54.0 },
    Reason::ChanceHigh { chance: 0.4, within_minutes: 60, line_mg_dl: 180.0 },
    Reason::Meter { mg_dl: 92.0, age_minutes: 4.0 },
    Reason::FeelsLow,
    Reason::FeelsHigh,
    Reason::SevereSigns,
    Reason::Compression { chance: 0.82, without_mg_dl: 118.0 },
    Reason::Unsettled { chance: 0.6 },
    Reason::FirstDay { hours: 6.0 },
    Reason::Stale { age_minutes: 34.0 },
    Reason::SuddenDrop { from_mg_dl: 124.0, to_mg_dl: 50.0, minutes: 10.0 },
    Reason::Rescue { grams: 15.0, minutes_ago: 8.0 },
    Reason::InsulinOnBoard { units: 2.4, minutes_ago: 40.0 },
    Reason::CarbohydrateArriving { grams: 28.0 },
    Reason::Moved { minutes_ago: 20.0 },
];

const POINTS: [Point; 11] = [
    Point::TooLittle { have_days: 3.2, need_days: 7.0 },
    Point::RestsOn { days: 13.9, readings: 3988, meter_checks: 21 },
    Point::OwnUsed { score_population: -4.213, score_own: -4.105 },
    Point::OwnNotUsed { score_population: -4.105, score_own: -4.213 },
    Point::Moves { times: 1.18 },
    Point::MovesAtNight { times: 0.62 },
    Point::MovesWhenHigh { times: 1.35 },
    Point::Scatter { sd_mg_dl: 2.4 },
    Point::Lag { minutes: 8.1 },
    Point::LagNeedsChecks { have: 4, need: 10 },
    Point::Forecasts { count: 12_345 },
];

fn calibrations() -> [ForecastCalibration; 4] {
    let figures = Figures { shown: 1800, mean_chance: 0.15, came: 0.148, off: 0.021 };
    [
        ForecastCalibration::TooFew { have: 12.0, need: 30.0 },
        ForecastCalibration::Calibrated(figures),
        ForecastCalibration::OverForecasts(figures),
        ForecastCalibration::UnderForecasts(figures),
    ]
}

const CAUTIONS: [Caution; 21] = [
    Caution::SensorLagsRising,
    Caution::KetonesAfterLow,
    Caution::KetonesHigh,
    Caution::AlcoholLowersLater,
    Caution::KetonesAgain,
    Caution::KetonesEmergency,
    Caution::InsulinMayNotGetIn,
    Caution::MayNotStayDown,
    Caution::SensorLags,
    Caution::MeterDecides,
    Caution::InDoubtTreat,
    Caution::RecheckIn15,
    Caution::RiseTakesTime,
    Caution::DoNotStack,
    Caution::NoDose,
    Caution::KetonesWhenHigh,
    Caution::FirstDayUnreliable,
    Caution::NothingByMouth,
    Caution::FeelingsCount,
    Caution::CallSomebody,
    Caution::InsulinRightOrWrong,
];

const CHANGES: [Change; 9] = [
    Change::ReadingBelow { mg_dl: 80.0 },
    Change::ReadingAbove { mg_dl: 110.0 },
    Change::FallingFasterThan { mg_dl_min: 2.5 },
    Change::MeterBelow { mg_dl: 70.0 },
    Change::MeterAbove { mg_dl: 90.0 },
    Change::KetonesAbove { mmol_l: 1.5 },
    Change::FeelingLow,
    Change::ReadingsComeBack,
    Change::NewReadings,
];

const VERDICTS: [Verdict; 5] = [Verdict::Treat, Verdict::Check, Verdict::Hold, Verdict::Clear, Verdict::Help];
const MATTERS: [Matter; 5] = [Matter::Falling, Matter::Rising, Matter::NightWake, Matter::Steady, Matter::TooLittle];
const LABELS: [Label; 14] = [
    Label::Why,
    Label::Careful,
    Label::WouldChange,
    Label::Logged,
    Label::Now,
    Label::Reading,
    Label::MeterCheck,
    Label::Expected,
    Label::IfWaiting,
    Label::IfTreating,
    Label::NineInTen,
    Label::LowLine,
    Label::FloorLine,
    Label::HighLine,
];
const PACES: [Pace; 4] = [Pace::Level, Pace::Slow, Pace::Fast, Pace::VeryFast];

fn whats() -> Vec<EntryKind> {
    let text = |text: &str| Text::new(text).unwrap();
    let until = at("2026-03-01T07:30:00+01:00");
    vec![
        EntryKind::SensorReading { mg_dl: mg(104.0) },
        EntryKind::MeterCheck { mg_dl: mg(92.0) },
        EntryKind::SensorBeyond { beyond: Beyond::Below, mg_dl: mg(40.0) },
        EntryKind::SensorBeyond { beyond: Beyond::Above, mg_dl: mg(400.0) },
        EntryKind::MeterBeyond { beyond: Beyond::Below, mg_dl: mg(20.0) },
        EntryKind::MeterBeyond { beyond: Beyond::Above, mg_dl: mg(600.0) },
        EntryKind::Insulin { insulin: InsulinKind::Rapid, units: 4.5 },
        EntryKind::Insulin { insulin: InsulinKind::LongActing, units: 14.0 },
        EntryKind::Carbohydrate { grams: 15.0, purpose: Purpose::Rescue },
        EntryKind::Carbohydrate { grams: 45.0, purpose: Purpose::Meal },
        EntryKind::Alcohol { drinks: 1.0 },
        EntryKind::Alcohol { drinks: 2.5 },
        EntryKind::Ketones { mmol_l: 1.8 },
        EntryKind::Illness { illness: Illness::Ill },
        EntryKind::Illness { illness: Illness::Vomiting },
        EntryKind::Illness { illness: Illness::Over },
        EntryKind::Activity { activity: text("walk"), minutes: 30.0, effort: Effort::Light },
        EntryKind::Activity { activity: text("walk"), minutes: 30.0, effort: Effort::Moderate },
        EntryKind::Activity { activity: text("walk"), minutes: 30.0, effort: Effort::Hard },
        EntryKind::Sleep { until },
        EntryKind::Sensor(SensorEvent::inserted(Some(text("left arm")))),
        EntryKind::Sensor(SensorEvent::inserted(None)),
        EntryKind::Sensor(SensorEvent::Inserted { site: None, lot: Some(text("A12")), rated_days: Some(10) }),
        EntryKind::Sensor(SensorEvent::WarmUpOver),
        EntryKind::Sensor(SensorEvent::Ended),
        EntryKind::Sensor(SensorEvent::RolledOff),
        EntryKind::Sensor(SensorEvent::Fault { seen: text("no readings") }),
        EntryKind::Sensor(SensorEvent::DeviceFault { code: DeviceFault::SensorType }),
        EntryKind::Sensor(SensorEvent::DeviceFault { code: DeviceFault::SensorMalfunction }),
        EntryKind::Sensor(SensorEvent::DeviceFault { code: DeviceFault::General }),
        EntryKind::Symptom { felt: Symptom::FeelsLow },
        EntryKind::Symptom { felt: Symptom::FeelsHigh },
        EntryKind::Symptom { felt: Symptom::None },
        EntryKind::Symptom { felt: Symptom::Severe },
        EntryKind::Note { text: text("lamp") },
        EntryKind::CompressionLow { until },
        EntryKind::Supply(Supply::new(Item::TestStrip, Stocked::Counted, 0.0)),
        EntryKind::Supply(Supply::new(Item::RapidInsulin, Stocked::Used, 12.5)),
        EntryKind::Supply(Supply::new(Item::RescueCarbohydrate, Stocked::ThrownAway, 30.0)),
        EntryKind::Supply(Supply {
            expires: chrono::NaiveDate::from_ymd_opt(2027, 3, 1),
            lot: Some(text("B7")),
            price: Some(Price { amount: 105.5, currency: Currency::new("EUR").unwrap() }),
            from: Some(text("post")),
            ..Supply::new(Item::Sensor, Stocked::Received, 3.0)
        }),
        EntryKind::Supply(Supply {
            price: Some(Price { amount: 9.0, currency: Currency::new("EUR").unwrap() }),
            ..Supply::new(Item::Battery, Stocked::Quoted, 2.0)
        }),
        EntryKind::Prompted(Prompted {
            occasion: Occasion::Look,
            matter: Matter::Falling,
            verdict: Verdict::Hold,
            without_meter: None,
            chance_low: Some(0.12),
            blood_mg_dl: Some(mg(98.0)),
            chance_if_waiting: None,
            chance_if_treating: None,
            look_again_minutes: Some(10),
        }),
        EntryKind::Import { name: text("readings.csv") },
        EntryKind::Retraction,
    ]
}

fn forecast() -> Forecast {
    let ahead = |minutes: u16| Ahead {
        minutes,
        reading_mg_dl: 104.0 - f64::from(minutes) / 3.0,
        reading_sd_mg_dl: 6.0 + f64::from(minutes) / 4.0,
        blood_mg_dl: 98.0,
        blood_sd_mg_dl: 10.0,
    };
    let never = Crossing { line_mg_dl: 70.0, within_15: 0.0, within_30: 0.1, within_60: 0.2, expected_minutes: None };
    Forecast {
        path: (1..=24).map(|step| ahead(step * 5)).collect(),
        shift_mg_dl: 0.0,
        low: never,
        floor: never,
        high: never,
        reading_low_30: 0.0,
        low_by_point: [0.0; 12],
        floor_by_point: [0.0; 12],
    }
}

fn readings() -> Vec<Reading> {
    [182.0, 190.0, 150.0, 120.0, 104.0]
        .iter()
        .zip(0_u8..)
        .map(|(&amount, step)| {
            Reading::new(at("2026-03-01T18:10:00+01:00").plus_minutes(30.0 * f64::from(step)), mg(amount))
        })
        .collect()
}

fn errors() -> Vec<Error> {
    let path = || std::path::PathBuf::from("log.ebb");
    vec![
        Error::OutOfRange { what: Quantity::Glucose, given: 19.5, low: 20.0, high: 600.0, unit: Unit::MgDl },
        Error::Invalid { what: Quantity::Time, why: Why::Empty },
        Error::NoSuchEntry { id: Uuid::nil() },
        Error::Import { file: path(), line: 3, column: Some(2), why: Refusal::NotATable },
        Error::File { path: path(), source: std::io::Error::other("x") },
        Error::NotALog { path: path() },
        Error::NewerLog { path: path(), found: 9, known: 1 },
        Error::DamagedLog { path: path(), what: Damage::Pages },
        Error::DiskFull { path: path() },
        Error::ReadOnly { path: path() },
        Error::Gone { path: path() },
        Error::Busy { path: path() },
    ]
}

const FINDINGS: [FindingCode; 17] = [
    FindingCode::NoTime,
    FindingCode::TimeUnreadable,
    FindingCode::OffsetContradicts,
    FindingCode::TimeOutsideYears,
    FindingCode::InFuture,
    FindingCode::NotANumber,
    FindingCode::SaysLow,
    FindingCode::SaysHigh,
    FindingCode::OutOfRange,
    FindingCode::OtherUnit,
    FindingCode::NamesOtherUnit,
    FindingCode::TooFewCells,
    FindingCode::TooManyCells,
    FindingCode::Contradicts,
    FindingCode::ClockWentBack,
    FindingCode::HourThatNeverWas,
    FindingCode::OpenQuote,
];

fn faults() -> Vec<RowFault> {
    let (seen, given) = (vec!["a".to_owned(), "b".to_owned()], "5.6".to_owned());
    vec![
        RowFault::Empty,
        RowFault::NoRows,
        RowFault::NotText,
        RowFault::NoTimeColumn { seen: seen.clone() },
        RowFault::NoGlucoseColumn { seen: seen.clone() },
        RowFault::SeveralGlucoseColumns { seen: seen.clone() },
        RowFault::NoSuchColumn { asked: given.clone(), seen },
        RowFault::TimesUnknown { given: given.clone() },
        RowFault::DayOrMonth { given: given.clone() },
        RowFault::BadTimeFormat { given: given.clone() },
        RowFault::AnotherUnit { column: given.clone(), given: "g/l".to_owned() },
        RowFault::SeveralUnits { column: given.clone() },
        RowFault::OffsetUnknown { column: given.clone(), given: given.clone() },
        RowFault::SeveralSensors { column: given.clone(), seen: vec!["a".to_owned(), "b".to_owned()] },
        RowFault::OnlyMeter { seen: vec!["a".to_owned(), "b".to_owned()] },
        RowFault::SeveralKinds { column: given.clone(), seen: vec!["a".to_owned(), "b".to_owned()] },
        RowFault::RowTooLong,
    ]
}

/// Every text of one language and unit, with a name for it.
fn all(language: Language, unit: GlucoseUnit) -> Vec<(String, String)> {
    let words = Words::new(language, unit);
    let mut texts = Vec::new();
    texts.extend(SENTENCES.map(|one| (format!("{one:?}"), words.sentence(one))));
    texts.extend(REASONS.map(|one| (format!("{one:?}"), words.reason(one))));
    texts.extend(CAUTIONS.map(|one| (format!("{one:?}"), words.caution(one))));
    texts.extend(CHANGES.map(|one| (format!("{one:?}"), words.change(one))));
    texts.extend(LABELS.map(|one| (format!("{one:?}"), words.label(one))));
    texts.extend(VERDICTS.map(|one| (format!("{one:?}"), words.verdict(one))));
    texts.extend(VERDICTS.map(|one| (format!("without a meter {one:?}"), words.without_meter(one))));
    texts.extend(MATTERS.map(|one| (format!("{one:?}"), words.matter(one))));
    texts.extend(PACES.map(|one| (format!("{one:?}"), words.pace(one))));
    texts.extend(whats().iter().map(|one| (format!("{one:?}"), words.what(one))));
    texts.extend([0, 1, 15].map(|minutes| (format!("look again {minutes}"), words.look_again(minutes))));
    texts.extend([0.0, 1.0, 34.0, 200.0, 4000.0].map(|minutes| (format!("ago {minutes}"), words.ago(minutes))));
    texts.push(("moving".to_owned(), words.reason(Reason::Moved { minutes_ago: 0.0 })));
    texts.push(("chart".to_owned(), words.chart(&readings(), Some(&forecast()), Some(118.0))));
    texts.push(("no chart".to_owned(), words.chart(&[], None, None)));
    texts.extend(POINTS.map(|point| (format!("{point:?}"), words.lesson(point))));
    texts.extend(calibrations().map(|one| (format!("{one:?}"), words.calibration(one))));
    let (from, until) = (at("2026-03-15T02:50:00+01:00"), at("2026-03-15T03:35:00+01:00"));
    texts.push(("spell".to_owned(), words.spell(CompressionLow { from, until })));
    texts.extend(FINDINGS.map(|code| {
        (format!("{code:?}"), words.finding(&Finding { line: 3, column: Some(2), given: "x".to_owned(), code }))
    }));
    texts.extend(faults().iter().map(|one| (format!("{one:?}"), words.fault(one))));
    texts.extend(errors().iter().map(|one| (format!("{one:?}"), words.error(one))));
    texts
}

#[test]
fn too_low_and_too_high_to_measure_are_said_with_their_limit_in_the_unit_read() {
    let say = |language, unit, beyond, limit| Words::new(language, unit).beyond(beyond, limit);
    let (en, de) = (Language::ENGLISH, Language::GERMAN);
    let (mg_dl, mmol_l) = (GlucoseUnit::MgDl, GlucoseUnit::MmolL);
    assert_eq!(say(en, mg_dl, Beyond::Below, 40.0), "too low to measure (below 40 mg/dL)");
    assert_eq!(say(en, mmol_l, Beyond::Above, 400.0), "too high to measure (above 22.2 mmol/L)");
    assert_eq!(say(de, mmol_l, Beyond::Below, 40.0), "zu tief zum Messen (unter 2,2 mmol/L)");
    assert_eq!(say(de, mg_dl, Beyond::Above, 600.0), "zu hoch zum Messen (über 600 mg/dL)");
    let mut shown = readings();
    shown[4] = Reading { beyond: Some(Beyond::Below), ..Reading::new(shown[4].at, mg(40.0)) };
    let said = Words::new(en, mg_dl).chart(&shown, None, None);
    assert!(said.contains("from 182 to too low to measure (below 40 mg/dL), the newest at 20:10"), "{said}");
    assert!(said.contains("lowest too low to measure (below 40 mg/dL) at 20:10, highest 190 at 18:40."), "{said}");
}

#[test]
fn no_text_is_empty_or_left_with_a_gap() {
    for language in languages() {
        for unit in [GlucoseUnit::MgDl, GlucoseUnit::MmolL] {
            for (name, text) in all(language, unit) {
                assert!(!text.trim().is_empty(), "{name}");
                assert!(!text.contains("  ") && !text.contains('?') && !text.contains("NaN"), "{name}: {text}");
            }
        }
    }
}

#[test]
fn the_languages_differ_in_every_text() {
    for other in languages().filter(|&language| language != Language::ENGLISH) {
        let both = all(Language::ENGLISH, GlucoseUnit::MgDl).into_iter().zip(all(other, GlucoseUnit::MgDl));
        for ((name, english), (same, words)) in both {
            assert_eq!(name, same);
            // What came from the operating system or a person is all there is to these two.
            if !english.starts_with("log.ebb: x") {
                assert_ne!(english, words, "{name}");
            }
        }
    }
}

#[test]
fn every_sentence_has_its_own_words() {
    for language in languages() {
        let words = Words::new(language, GlucoseUnit::MgDl);
        let mut texts: Vec<String> = SENTENCES.iter().map(|one| words.sentence(*one)).collect();
        texts.sort();
        texts.dedup();
        assert_eq!(texts.len(), SENTENCES.len());
    }
}

#[test]
fn texts_are_short_enough_for_a_tired_reader() {
    for language in languages() {
        for (name, text) in all(language, GlucoseUnit::MmolL) {
            let longest = if name == "chart" { 400 } else { 230 };
            assert!(text.chars().count() <= longest, "{name} has {} characters: {text}", text.chars().count());
        }
        for verdict in VERDICTS {
            assert!(Words::new(language, GlucoseUnit::MgDl).verdict(verdict).chars().count() <= 22);
        }
    }
}

#[test]
fn the_unit_asked_for_is_the_only_one_written() {
    for language in languages() {
        for (unit, other) in [(GlucoseUnit::MgDl, "mmol/L"), (GlucoseUnit::MmolL, "mg/dL")] {
            for (name, text) in all(language, unit) {
                // Ketones are in mmol/L everywhere.
                let says_its_own_unit = name.starts_with("OutOfRange") || name.contains("etones");
                assert!(says_its_own_unit || !text.contains(other), "{name}: {text}");
            }
        }
    }
}

#[test]
fn numbers_follow_unit_and_language() {
    let english = Words::new(Language::ENGLISH, GlucoseUnit::MmolL);
    let german = Words::new(Language::GERMAN, GlucoseUnit::MmolL);
    // 180 mg/dL is 10.0 mmol/L and 54 mg/dL 3.0 mmol/L: Battelino et al., Diabetes Care 2019;42:1593-1603.
    assert_eq!((english.amount(180.0).as_str(), english.amount(54.0).as_str()), ("10.0 mmol/L", "3.0 mmol/L"));
    assert_eq!(german.amount(180.0), "10,0 mmol/L");
    assert_eq!(english.movement(-1.8), "falling 0.10 mmol/L/min");
    assert_eq!(german.movement(-1.8), "fällt 0,10 mmol/L/min");
    let mg_dl = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    assert_eq!(mg_dl.movement(-1.8), "falling 1.8 mg/dL/min");
    assert_eq!(mg_dl.movement(2.4), "rising 2.4 mg/dL/min (fast)");
    assert_eq!(mg_dl.movement(-3.4), "falling 3.4 mg/dL/min (very fast)");
    assert_eq!((mg_dl.movement(0.04).as_str(), german.movement(-0.04).as_str()), ("level", "bleibt gleich"));
    assert_eq!(mg_dl.expected(98.0, 10.0), "about 98 mg/dL (82 to 114)");
    assert_eq!(mg_dl.expected(30.0, 30.0), "about 30 mg/dL (20 to 79)");
    assert_eq!([0.004, 0.12, 0.996].map(|chance| mg_dl.chance(chance)), ["under 1 %", "12 %", "over 99 %"]);
}

#[test]
fn every_treat_says_the_published_first_step_and_defers_to_the_care_team() {
    // 15 g (15 to 20 g), again after 15 minutes: Diabetes Canada guidelines, chapter 14; ADA Standards of Care.
    for sentence in TREATS {
        let english = Words::new(Language::ENGLISH, GlucoseUnit::MgDl).sentence(sentence);
        let german = Words::new(Language::GERMAN, GlucoseUnit::MgDl).sentence(sentence);
        assert!(english.starts_with("Take rescue carbohydrate now"), "{english}");
        assert!(german.starts_with("Nimm jetzt schnelle Kohlenhydrate"), "{german}");
        for text in [&english, &german] {
            assert!(text.contains("15 ") && text.contains("20 g"), "{text}");
        }
        assert!(english.contains("care team"), "{english}");
        assert!(german.contains("Behandlungsplan"), "{german}");
        // When to look again is said once, by the prompt's own minutes.
        for (minutes, said) in [(15, "Look again in 15 minutes."), (5, "Look again in 5 minutes.")] {
            let prompt = Prompt { sentence, look_again_minutes: Some(minutes), ..treating() };
            let lead = Words::new(Language::ENGLISH, GlucoseUnit::MgDl).lead(&prompt);
            assert!(lead.sentence.ends_with(said) && lead.sentence.matches("Look again").count() == 1, "{lead:?}");
            assert_eq!(lead.look_again, None);
        }
    }
}

fn treating() -> Prompt {
    let now = Moment::parse("2026-03-01T12:00:00Z").unwrap();
    let question = Question { now, occasion: Occasion::Look, feels: None, meter: None };
    let prompt = check(&History::default(), &Wearer::default(), &Learnt::default(), &question);
    Prompt { verdict: Verdict::Treat, without_meter: None, ..prompt }
}

#[test]
fn a_high_that_is_checked_is_not_held_by_a_feeling_of_low_where_there_is_no_meter() {
    let prompt = Prompt {
        verdict: Verdict::Check,
        without_meter: Some(Verdict::Hold),
        sentence: Sentence::CheckHigh,
        ..treating()
    };
    let said = Words::new(Language::ENGLISH, GlucoseUnit::MgDl).lead(&prompt).without_meter.unwrap();
    assert!(said.contains("do not correct") && !said.contains("treat"), "{said}");
}

#[test]
fn one_of_a_thing_is_said_in_the_singular() {
    let all_of = |language| Words::new(language, GlucoseUnit::MgDl);
    let (english, german, spanish) =
        (all_of(Language::ENGLISH), all_of(Language::GERMAN), all_of(Language::parse("es").unwrap()));
    let need = |of, have, need| crate::review::metrics::TooLittle::of(of, have, need);
    let day = need(Need::CoveredDays, 0.0, 1.0);
    assert_eq!(too_little(day, english), "not enough data: have 0, need 1 day covered by 70 %");
    assert_eq!(too_little(day, german), "zu wenig Daten: 0 von 1 nötigen zu 70 % abgedeckten Tag");
    assert_eq!(too_little(day, spanish), "datos insuficientes: 0 de 1 día cubierto al 70 %");
    let days = need(Need::DaysOfReadings, 0.0, 9.8);
    assert_eq!(too_little(days, german), "zu wenig Daten: 0 von 9,8 nötigen vollen Tagen mit Werten");
    assert_eq!(too_little(days, english), "not enough data: have 0, need 9.8 days' worth of readings");
    let one =
        |words: Words| say!(words, "outcomes-prompts-shown-those-said-same", prompts = 1_usize, decisions = 1_usize);
    assert_eq!(one(english), "1 prompt was shown.");
    assert_eq!(one(german), "1 Antwort wurde gegeben.");
    assert_eq!(one(spanish), "Se mostró 1 indicación.");
    let basis = |words: Words, readings: usize, dates: usize| {
        let (from, until, share, days, gap) = ("a", "b", "1", "14", "9.0");
        say!(words, "review-to-readings-on-dates-cover", from, until, readings, dates, share, days, gap)
    };
    assert!(basis(english, 24, 1).contains("24 readings on 1 date cover 1 %"));
    assert!(basis(german, 24, 1).contains("24 Werte an 1 Tag decken 1 %"));
    assert!(basis(english, 1, 1).contains("1 reading on 1 date covers"));
}

#[test]
fn no_sentence_names_an_amount_of_insulin_or_a_trend_by_arrow_or_lays_blame() {
    let banned =
        ["unit", "einheit", "unidad", "↓", "↑", "→", "↘", "↗", "should have", "hättest", "mistake", "fehler gemacht"];
    for language in languages() {
        let words = Words::new(language, GlucoseUnit::MgDl);
        let texts = SENTENCES
            .iter()
            .map(|one| words.sentence(*one))
            .chain(CAUTIONS.iter().map(|one| words.caution(*one)))
            .chain(CHANGES.iter().map(|one| words.change(*one)));
        for text in texts {
            let low = text.to_lowercase();
            assert!(!banned.iter().any(|word| low.contains(word)), "{text}");
        }
    }
}

#[test]
fn numbers_that_are_none_are_written_as_unknown() {
    for language in languages() {
        let words = Words::new(language, GlucoseUnit::MmolL);
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            let texts = [
                words.amount(bad),
                words.movement(bad),
                words.expected(bad, bad),
                words.ago(bad),
                words.reason(Reason::Rescue { grams: bad, minutes_ago: bad }),
            ];
            for text in texts {
                assert!(!text.is_empty() && !text.contains("NaN") && !text.contains("inf"), "{text}");
            }
        }
        assert_eq!(words.chance(f64::NAN), "?");
    }
}

/// "That is 48 mg/dL in half an hour" would be read as where glucose will be.
#[test]
fn a_rate_kept_up_is_a_difference_and_says_so() {
    let rate = |mg_dl_min: f64| Reason::Rate {
        mg_dl_min,
        pace: Rate::from_mg_dl_min(mg_dl_min).pace(),
        in_30_mg_dl: 30.0 * mg_dl_min,
    };
    let said = |language, mg_dl_min| Words::new(language, GlucoseUnit::MgDl).reason(rate(mg_dl_min));
    let english = said(Language::ENGLISH, -1.6);
    assert_eq!(english, "Glucose is falling 1.6 mg/dL/min; kept up, it would be 48 mg/dL lower in half an hour.");
    assert!(said(Language::ENGLISH, 1.6).contains("48 mg/dL higher"));
    assert!(said(Language::GERMAN, -1.6).ends_with("in einer halben Stunde um 48 mg/dL tiefer."));
    assert_eq!(said(Language::ENGLISH, -0.29), "Glucose is level.");
    assert_eq!(said(Language::GERMAN, 0.01), "Die Glukose bleibt gleich.");
}

/// What a rule counts by comes into its sentence from the rule, in every language.
#[test]
fn what_a_rule_counts_by_stands_in_its_sentence() {
    for language in languages() {
        let words = Words::new(language, GlucoseUnit::MmolL);
        let calibration = |one| sentences::sensor::calibration_text(&one, words);
        let why = vec![NotNow::RecentCarbohydrate, NotNow::RecentInsulin];
        for (said, numbers) in [
            (calibration(Calibration::TooFewPairs { have: 1, need: 3 }), vec!["24", "30", "1", "3"]),
            (calibration(Calibration::Agrees { pairs: 7 }), vec!["7", "mmol/L", "20 %"]),
            (calibration(Calibration::NotNow { off_mg_dl: 30.0, why }), vec!["2"]),
            (sentences::before::start(StartMoving::NotWithKetones, words), vec![&*words.decimal(1.5, 1), "mmol/L"]),
            (words.snooze(15.0), vec!["15"]),
        ] {
            for number in numbers {
                assert!(said.contains(number), "{language}: {number} in {said}");
            }
        }
        let none = Filled::new();
        let copies = format!("{:?}", Layout::new(words, &[], &none, &none).copies(false));
        assert!(copies.contains("12"), "{language}: {copies}");
    }
}

#[test]
fn what_was_learnt_is_said_with_its_numbers() {
    let english = Words::new(Language::ENGLISH, GlucoseUnit::MgDl);
    assert_eq!(
        english.lesson(POINTS[0]),
        "Too little to learn your own values from: have 3.2 days of readings, need 7. Until then the values that fit most \
         people hold."
    );
    assert_eq!(
        english.lesson(POINTS[2]),
        "Your own values are used from now on: with them, half-hour forecasts fitted what then came 11.4 % better than \
         with the usual values (score -4.105, before -4.213)."
    );
    assert_eq!(english.lesson(POINTS[1]), "This rests on 13.9 days with 3,988 readings and 21 meter checks.");
    assert!(english.lesson(Point::TooLittle { have_days: -0.0, need_days: 7.0 }).contains("have 0 days"));
    let german = Words::new(Language::GERMAN, GlucoseUnit::MmolL);
    assert_eq!(german.lesson(POINTS[1]), "Das stützt sich auf 13,9 Tage mit 3.988 Werten und 21 Blutmessungen.");
    assert_eq!(german.lesson(POINTS[7]), "Einzelne Werte streuen um etwa 0,13 mmol/L um ihren Verlauf.");
    assert!(german.calibration(calibrations()[1]).contains("im Mittel 15 %; in 14,8 % kam es so"));
}

#[test]
fn the_chart_has_a_text() {
    let text = Words::new(Language::ENGLISH, GlucoseUnit::MgDl).chart(&readings(), Some(&forecast()), None);
    assert_eq!(
        text,
        "Past 2 hours: from 182 to 104 mg/dL, the newest at 20:10; lowest 104 at 20:10, highest 190 at 18:40. \
         Expected glucose: in 15 minutes about 99 mg/dL (83 to 115), in 30 minutes about 94 mg/dL (72 to 116), \
         in 60 minutes about 84 mg/dL (49 to 119) (in brackets: where it is nine times in ten)."
    );
    let german = Words::new(Language::GERMAN, GlucoseUnit::MmolL).chart(&readings(), Some(&forecast()), None);
    assert!(german.contains("von 10,1 auf 5,8 mmol/L") && german.contains("in 15 Minuten etwa 5,5 mmol/L"), "{german}");
}

#[test]
fn every_quantity_has_a_name_in_each_language() {
    for words in [Language::ENGLISH, Language::GERMAN].map(|language| Words::new(language, GlucoseUnit::MgDl)) {
        let unnamed: Vec<&str> = Quantity::ALL
            .iter()
            .map(|what| what.name())
            .filter(|name| words.own_name("quantity", name).is_none())
            .collect();
        assert!(unnamed.is_empty(), "{}: {unnamed:?}", words.tag());
    }
}
