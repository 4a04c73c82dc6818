//! The facade: Ebbstead's core, carried to Kotlin, Swift and Python. It converts and guards; it judges nothing.
//!
//! A shell opens one [`EbbsteadCompanion`] on the path of its log and asks it for parts: [`LogPart`], [`CheckPart`], [`LogScreens`],
//! [`PromptScreens`], [`FirstScreens`], [`RecordPages`], [`ReviewPart`], [`AlertsPart`], [`BeforePart`], [`ExchangePart`], [`SettingsPart`], [`WordsPart`]. Parts are light; ask for them as often as you like.
//!
//! # What holds for every call
//! - Every call returns a result. A failure is an [`ApiError`]: what kind, and a sentence of advice in the wearer's language.
//!   No message carries a reading, a note or a path. A panic in the core becomes [`ApiError::Failed`]; it
//!   never ends the host app, and the log goes on being usable: a transaction that was not over is rolled back.
//! - The core has no clock: the caller passes the time, as an instant and the offset of the wearer's clock.
//! - Calls may come from any thread. Those on one companion wait for each other only while the file is read or written;
//!   the work of a check is done outside. A check takes milliseconds: keep it off a drawing thread all the same.
//! - After [`EbbsteadCompanion::close_log`] every call on the companion and its parts fails with [`ApiError::Closed`]; closing again does
//!   nothing. The same path can be opened again at once.
//! - Two companions may be open on one file, in one process or two. What one records the other sees with its next call, and
//!   its [`Watcher`] is notified of it by its next [`EbbsteadCompanion::tick`]. One that finds the other writing for over five seconds
//!   fails with [`ApiError::Busy`]; nothing is half written.
//! - Pass readings in batches ([`LogPart::record_readings`]): one call and one transaction for all of them.
//! - No function names a dose of insulin, and none may be added that does.

mod alerts;
mod before;
mod chart;
mod check;
mod companion;
mod error;
mod exchange;
#[cfg(debug_assertions)]
mod faults;
mod first;
mod form;
mod help;
mod import;
mod log;
mod log_screens;
mod marks;
mod mirror;
mod night;
mod page;
mod prompt;
mod prompted;
mod prompting;
mod record;
mod records;
mod recover;
mod review;
mod settings;
mod supplies;
mod watcher;
mod words;

pub use alerts::{
    AlertHow, AlertLines, AlertOf, AlertPlan, AlertStep, AlertsPart, Ring, RingChoice, RingOffer, StepFailed,
    step_failed,
};
pub use before::{BeforePart, Movement};
pub use chart::{
    Chart, DayChart, Drawing, DrawnLine, DrawnPath, DrawnPoint, HourPercentiles, LegendItem, LineKind, NotedMark,
    Sheet, Tick, draw_chart, draw_day,
};
pub use check::{Answer, CheckPart, Question, Said, WidgetGlance};
pub use companion::EbbsteadCompanion;
pub use error::ApiError;
pub use exchange::{
    DeviceReceived, ExchangePart, HealthReceived, HealthRecords, HealthValue, NearbyDevice, NearbyKind, NearbyNumbers,
    Specimen, nearby_kind, nearby_numbers,
};
pub use first::{FirstAsk, FirstPart, FirstScreen, FirstScreens};
pub use form::{FieldTakes, Form, FormAnswer, FormChoice, FormField, clock_moved};
pub use help::{HelpCall, HelpPage, help_page};
pub use import::{Finding, ImportAnswer, ImportOptions, ImportReport, OffsetChange};
pub use log::{Listed, LogPart, ReadingAt, Recorded, Undone};
pub use log_screens::{LogAsked, LogDay, LogScreen, LogScreens, LogState, LogTap, remarked};
pub use marks::{
    Inks, Light, Mark, MarkRole, MarkShape, SheetPoint, TextAnchor, Weight, block_edge, inks, verdict_sign,
    verdict_weight,
};
pub use night::{NightChoice, NightOffer};
pub use page::{Page, PageBlock, PageRow, PageSection};
pub use prompt::{
    Ahead, Caution, Change, Crossing, Estimate, Forecast, Matter, Modes, Occasion, OnBoard, Pace, Prompt, Reason,
    Sentence, Verdict,
};
pub use prompted::Prompted;
pub use prompting::{
    NamedItems, Noted, PromptButton, PromptHeadline, PromptPart, PromptScreen, PromptScreens, PromptState, PromptTap,
};
pub use record::{Chapter, RecordAct, RecordCard, RecordDocument, RecordPages, RecordPart, RecordScreen};
pub use records::{Beyond, DeviceFault, Effort, Entry, EntryKind, InsulinKind, Moment, Purpose, SensorEvent, Symptom};
pub use recover::recover_log;
pub use review::{Aims, ReviewOptions, ReviewPart};
pub use settings::{GlucoseUnit, Language, SettingsPart, TreatPreference, Wearer, languages};
pub use supplies::{Item, Price, Stocked, Supply};
pub use watcher::{Due, Watcher};
pub use words::{Label, WordsPart, breakable, label_without_log};

uniffi::setup_scaffolding!("ebbstead");
