//! A log as HL7 FHIR R4 resources: out for a clinic or another program, and in from one.
//!
//! [`Bundle`] writes a Bundle of type `collection`, resource by resource, in bounded memory. The import of `ebbstead-app` reads any
//! Bundle and records what it knows, also resource by resource.
//!
//! | entry | resource | code |
//! |---|---|---|
//! | sensor reading | Observation | LOINC 99504-3, in mg/dL |
//! | meter check | Observation | LOINC 41653-7, in mg/dL |
//! | insulin | MedicationAdministration | ATC A10AB, A10AE (from memory), in `[iU]` |
//! | carbohydrate, activity, sleep, sensor event, symptom, note, pressed spell | Observation | [`KINDS`], our own |
//! | review figures | Observation, profile `cgm-summary` | LOINC 107931-8 and its members |
//!
//! Our own codes have a system of our own because no LOINC code for them was read in a source; each comes with its name in words.
//!
//! # What is carried
//! What holds: each entry with its identity, its times with their offsets, its source, and what it corrects. Reading a written
//! bundle back gives the same entries, so that doing it twice, or on another phone, doubles nothing. What was corrected or taken back,
//! which import an entry came with, settings and what was learnt are not carried; a sealed copy of the log is for that.
//! [`Carried`] counts what was left out of a bundle.
//!
//! # What is taken
//! - Observations of glucose by the LOINC codes of `codes.rs`, in mg/dL or mmol/L (UCUM), final, amended or corrected, with a
//!   time to the second and its offset. A code that asks for a mass with a value in moles, and the other way round, is left out: which
//!   of them is wrong cannot be known.
//! - MedicationAdministrations of rapid-acting or long-acting insulin in units, completed.
//! - Our own kinds.
//!
//! Everything else is counted. What looks like one of these and cannot be taken is a [`Finding`] with its place. A bundle about
//! several people is refused unless one of them is named: their glucose must not end up in one log.
//!
//! # Source
//! HL7 FHIR R4 (4.0.1) resources Bundle, Observation, MedicationAdministration, Patient; HL7 Continuous Glucose Monitoring
//! implementation guide 1.0.0 for the profiles and LOINC codes of readings and summary (read). LOINC codes of meters (read). UCUM.
//! The ATC codes of the WHO are from memory.
//!
//! # Example
//! ```
//! use ebbstead_log::exchange::fhir::{Bundle, Options, read};
//! use ebbstead_log::log::{Entry, Source, EntryKind};
//! use ebbstead_engine::time::Moment;
//! use ebbstead_engine::units::Glucose;
//!
//! let now = Moment::parse("2026-03-01T03:05:00+01:00")?;
//! let what = EntryKind::SensorReading { mg_dl: Glucose::from_mg_dl(104.0)? };
//! let entry = Entry::new(now, now, Source::new("sensor 7")?, what)?;
//! let mut bytes = Vec::new();
//! let mut bundle = Bundle::begin(&mut bytes, uuid::Uuid::nil(), now)?;
//! bundle.put(&entry)?;
//! assert_eq!(bundle.finish()?.entries, 1);
//! let (entries, report) = read(bytes.as_slice(), &Options::new("log.json", now))?;
//! assert_eq!((entries, report.left_out), (vec![(2, entry)], 0));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod codes;
mod read;
mod summary;
mod write;

pub use codes::KINDS;
pub use read::{Finding, FindingCode, Options, Report, ResourceFault, each, read};
pub use summary::Summary;
pub use write::{Bundle, Carried, NotCarried};
